//! What a motor sweeps over the glass: it goes to and fro about a mark while the motor turns, and stays where it is when that stops.

use bevy::prelude::*;

use super::backdrop::{self, Stale};
use super::build::{Layout, OnLid};
use super::stage::{Anchors, Stage};

/// Ways to and fro in a minute.
const SWEEPS_A_MINUTE: f32 = 45.0;

/// A part of the lid that is swept.
#[derive(Component)]
pub(super) struct Swept {
    /// The motor that sweeps it.
    pub(super) motor: String,
    /// Its corners as drawn, at one end of its way.
    pub(super) drawn: Vec<Vec2>,
    /// What it turns about.
    pub(super) pivot: Vec2,
    /// From one end of its way to the other, clockwise.
    pub(super) degrees: f32,
    course: Course,
    /// The angle at which it is drawn now, and whether that is over the picture of what stands still.
    shown_degrees: f32,
    on_top: bool,
}

impl Swept {
    /// Parked as it is drawn.
    pub(super) fn parked(motor: &str, drawn: Vec<Vec2>, pivot: Vec2, degrees: f32) -> Self {
        let motor = motor.to_owned();
        Self { motor, drawn, pivot, degrees, course: Course::default(), shown_degrees: 0.0, on_top: false }
    }

    /// Its corners when it is turned by so much.
    fn turned(&self, degrees: f32) -> Vec<Vec2> {
        let turn = Vec2::from_angle(degrees.to_radians());
        self.drawn.iter().map(|at| self.pivot + turn.rotate(*at - self.pivot)).collect()
    }
}

/// How much of a way to and fro is done, from 0 to 1.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Course(f32);

impl Course {
    /// Some seconds later. Whoever wants no motion sees it in the middle of its way while the motor turns, and else parked.
    fn after(self, turns: bool, reduced_motion: bool, seconds: f32) -> Self {
        match (turns, reduced_motion) {
            (true, false) => Self((self.0 + seconds * SWEEPS_A_MINUTE / 60.0).fract()),
            (false, false) => self,
            (true, true) => Self(0.25),
            (false, true) => Self(0.0),
        }
    }

    /// How far along its way it is: a crank moves it, so that it slows down towards both ends.
    fn share(self) -> f32 {
        0.5 - 0.5 * (self.0 * std::f32::consts::TAU).cos()
    }
}

/// Whether something that is seen moves for as long as the job stands as it does.
#[derive(Resource, Default)]
pub(crate) struct Motion(bool);

impl Motion {
    /// Something does.
    pub(crate) fn goes_on(&self) -> bool {
        self.0
    }
}

/// Sweeps what its motor turns, over the picture of what stands still.
pub(super) fn sweep(
    time: Res<Time>,
    stage: Res<Stage>,
    anchors: Res<Anchors>,
    layout: Res<Layout>,
    mut motion: ResMut<Motion>,
    mut stale: ResMut<Stale>,
    mut commands: Commands,
    mut meshes: ResMut<Assets<Mesh>>,
    mut parts: Query<(Entity, &mut Swept, &mut OnLid, &Mesh2d)>,
) {
    motion.0 = false;
    let Some(lid) = layout.lid(anchors.lid_degrees) else { return };
    for (entity, mut swept, mut on_lid, mesh) in &mut parts {
        let turns = stage.turning.contains(&swept.motor);
        let moves = turns && !stage.reduced_motion;
        let seen = on_lid.face == lid.shows();
        motion.0 |= moves && seen;
        swept.course = swept.course.after(turns, stage.reduced_motion, time.delta_secs());
        let degrees = swept.course.share() * swept.degrees;
        if swept.shown_degrees != degrees {
            swept.shown_degrees = degrees;
            on_lid.shape.positions = swept.turned(degrees);
            if seen && let Some(mut mesh) = meshes.get_mut(&mesh.0) {
                *mesh = on_lid.shape.mesh(&|at| lid.place(at, on_lid.face));
            }
            if !swept.on_top {
                stale.mark();
            }
        }
        let on_top = moves || anchors.lid_moving;
        if swept.on_top != on_top {
            swept.on_top = on_top;
            commands.entity(entity).insert(backdrop::layer(on_top));
            stale.mark();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::catalogue::VEHICLES;
    use super::super::drawing::Drawing;
    use super::super::figure::Figure;
    use super::*;

    #[test]
    fn a_wiper_takes_the_same_time_to_and_fro_at_any_frame_rate_and_stays_where_it_stops() {
        for frames in [10, 30, 144] {
            let mut course = Course::default();
            let mut farthest = 0.0_f32;
            // Two thirds of a second bring it across, as many back.
            for frame in 0..frames {
                course = course.after(true, false, 4.0 / 3.0 / frames as f32);
                farthest = farthest.max(course.share());
                if frame + 1 == frames / 2 {
                    assert!(course.share() > 0.999, "{frames} frames: {course:?}");
                }
            }
            assert!(farthest > 0.99 && course.share() < 0.001, "{frames} frames: {course:?}");
        }
        let stopped = Course(0.4).after(false, false, 10.0);
        assert_eq!(stopped, Course(0.4));
        assert_eq!(stopped.after(true, false, 0.0), stopped, "and it goes on from there");
    }

    #[test]
    fn without_motion_it_stands_in_the_middle_of_its_way_or_is_parked() {
        let half = Course(0.7).after(true, true, 0.1);
        assert!((half.share() - 0.5).abs() < 1e-6);
        assert_eq!(half.after(true, true, 5.0), half);
        assert_eq!(half.after(false, true, 0.1).share(), 0.0);
    }

    #[test]
    fn what_is_swept_begins_at_its_pivot_and_stays_on_its_lid() {
        let mut swept_on = 0;
        for vehicle in &VEHICLES {
            let figure = Figure::read(vehicle.figure).expect("a test of its own reads it");
            let lid = Drawing::read(vehicle.lid);
            for sweep in &figure.sweeps {
                swept_on += 1;
                let pivot =
                    lid.mark(&sweep.pivot).map(|mark| mark.centre).expect("a test of its own finds it");
                let name = format!("outside.sweeps.{}", sweep.motor);
                let part = lid.parts.iter().find(|part| part.name == name).expect("so it does");
                let nearest = |to: Vec2| {
                    part.shape.positions.iter().map(|at| at.distance(to)).fold(f32::INFINITY, f32::min)
                };
                assert!(nearest(pivot) < 8.0, "{}: what is swept does not reach its pivot", vehicle.id);
                let swept = Swept::parked(&sweep.motor, part.shape.positions.clone(), pivot, sweep.degrees);
                // On the door or lid on which its pivot is.
                let edge = lid.outlines().find(|edge| super::super::stage::encloses(&edge.outline, pivot));
                let edge = edge.map(|edge| &edge.outline).expect("the pivot is on the lid");
                for step in 0..=20 {
                    let degrees = sweep.degrees * step as f32 / 20.0;
                    for at in swept.turned(degrees) {
                        let on = super::super::stage::encloses(edge, at);
                        assert!(on, "{}: at {degrees} degrees it reaches {at}", vehicle.id);
                    }
                }
            }
        }
        assert!(swept_on > 2, "wipers have gone");
    }
}
