//! Rows of acts tried out on one vehicle, each from how it stands: what they begin with in common is played once.

use super::shows::Shows;
use super::ways::Way;
use crate::bench::{Action, Ready, World, minutes};
use crate::circuit::Unsolved;
use crate::vehicle::Vehicle;

/// One vehicle and what has been tried on it.
#[derive(Debug)]
pub(super) struct Rehearsal<'a> {
    vehicle: &'a Vehicle,
    /// The first is how it stands; each comes before those that came of it.
    scenes: Vec<Scene>,
}

/// How the vehicle stands after some acts.
#[derive(Debug)]
struct Scene {
    way: Way,
    world: World,
    /// What the acts have shown.
    shows: Shows,
    /// The same after these minutes.
    ready: Vec<(f64, Ready)>,
    /// By act, the scenes that it leads to.
    after: Vec<(Action, Vec<usize>)>,
}

impl Scene {
    fn new(way: Way, world: World, shows: Shows) -> Self {
        Self { way, world, shows, ready: Vec::new(), after: Vec::new() }
    }
}

impl<'a> Rehearsal<'a> {
    /// Nothing has been tried yet.
    pub(super) fn new(vehicle: &'a Vehicle, mut world: World) -> Self {
        world.keep_runs();
        Self { vehicle, scenes: vec![Scene::new(Way::CERTAIN, world, Shows::default())] }
    }

    /// How the vehicle stands.
    pub(super) fn world(&self) -> &World {
        &self.scenes[0].world
    }

    /// Plays some acts one after another, whichever way chance falls: how likely each way is, how the vehicle stands then,
    /// and what the acts have shown.
    ///
    /// # Errors
    /// [`Unsolved`] where the vehicle has no operating point on the way.
    pub(super) fn play(
        &mut self,
        acts: &[Action],
    ) -> Result<impl Iterator<Item = (f64, &World, &Shows)>, Unsolved> {
        let mut scenes = vec![0];
        for act in acts {
            let mut after = Vec::with_capacity(scenes.len());
            for scene in scenes {
                after.extend(self.follow(scene, act)?);
            }
            scenes = after;
        }
        Ok(scenes.into_iter().map(|at| {
            let scene = &self.scenes[at];
            (scene.way.probability, &scene.world, &scene.shows)
        }))
    }

    /// The scenes that an act leads to.
    fn follow(&mut self, scene: usize, act: &Action) -> Result<Vec<usize>, Unsolved> {
        let from = &mut self.scenes[scene];
        if let Some((_, after)) = from.after.iter().find(|(known, _)| known == act) {
            return Ok(after.clone());
        }
        let minutes = minutes(self.vehicle, &from.world, act);
        let ready = match from.ready.iter().position(|(passed, _)| *passed == minutes) {
            Some(at) => at,
            None => {
                from.ready.push((minutes, Ready::after(self.vehicle, &from.world, minutes)?));
                from.ready.len() - 1
            }
        };
        let (from, ready) = (&self.scenes[scene], &self.scenes[scene].ready[ready].1);
        let before = from.world.display();
        let came = from.way.every_further(|chance| ready.act(self.vehicle, &from.world, act, chance))?;
        let mut after = Vec::with_capacity(came.len());
        for (way, (outcome, world)) in came {
            let mut shows = self.scenes[scene].shows.clone();
            shows.add(&outcome, before);
            after.push(self.scenes.len());
            self.scenes.push(Scene::new(way, world, shows));
        }
        self.scenes[scene].after.push((act.clone(), after.clone()));
        Ok(after)
    }
}
