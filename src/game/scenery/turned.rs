//! Parts of the lid that turn about a mark in the plane of its drawing: what a motor sweeps over the glass, and the latch's claw.

use bevy::prelude::*;
use bevy::window::RequestRedraw;

use super::backdrop::{self, Stale};
use super::build::{Layout, OnLid};
use super::stage::{Anchors, Stage};
use super::sway::even_steps;

/// Up to what angle the latch holds the lid, and from what angle down the striker turns the claw.
const CATCH_DEGREES: f32 = 1.0;
const MEETS_DEGREES: f32 = 2.5;
/// Ways to and fro of a wiper in a minute.
const SWEEPS_A_MINUTE: f32 = 45.0;

/// A part that turns.
#[derive(Component)]
pub(super) struct Turned {
    /// Its corners as drawn.
    drawn: Vec<Vec2>,
    /// What it turns about.
    pivot: Vec2,
    /// From one end of its way, where it is drawn, to the other, clockwise.
    degrees: f32,
    drive: Drive,
    /// The angle at which it is drawn now, and whether that is over the picture of what stands still.
    shown_degrees: f32,
    on_top: bool,
}

/// What turns it.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Drive {
    /// The motor of this name, to and fro.
    Motor(String, Course),
    /// The latch's claw: home where it is drawn, open at the other end of its way, halfway on its first catch.
    Latch(Snap),
}

impl Drive {
    /// A motor that has not turned yet.
    pub(super) fn motor(name: &str) -> Self {
        Self::Motor(name.to_owned(), Course::default())
    }

    /// A latch as it stands.
    pub(super) fn latch(open: f32) -> Self {
        Self::Latch(Snap { share: open, speed: 0.0 })
    }

    /// Some seconds later: how far along its way it is, and whether it moves.
    fn follow(&mut self, stage: &Stage, lid_degrees: f32, seconds: f32) -> (f32, bool) {
        match self {
            Self::Motor(name, course) => {
                let turns = stage.turning.contains(name);
                *course = course.after(turns, stage.reduced_motion, seconds);
                (course.share(), turns && !stage.reduced_motion)
            }
            // The striker turns it, once the lid comes down to that.
            Self::Latch(snap) if stage.lid_degrees <= CATCH_DEGREES && lid_degrees > MEETS_DEGREES => {
                (snap.share, false)
            }
            Self::Latch(snap) => {
                let moves = snap.follow(stage.latch_claw_open, stage.reduced_motion, seconds);
                (snap.share, moves)
            }
        }
    }

    /// Whether it moves for as long as the job stands as it does.
    fn lasts(&self) -> bool {
        matches!(self, Self::Motor(..))
    }
}

impl Turned {
    /// A part as it is drawn.
    pub(super) fn new(drive: Drive, drawn: Vec<Vec2>, pivot: Vec2, degrees: f32) -> Self {
        Self { drawn, pivot, degrees, drive, shown_degrees: 0.0, on_top: false }
    }

    /// Its corners when it is turned by so much.
    fn turned(&self, degrees: f32) -> Vec<Vec2> {
        let turn = Vec2::from_angle(degrees.to_radians());
        self.drawn.iter().map(|at| self.pivot + turn.rotate(*at - self.pivot)).collect()
    }
}

/// How much of a way to and fro is done, from 0 to 1.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Course(f32);

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

/// What a spring throws from one stop to the other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Snap {
    /// How far along its way it is, from 0 to 1.
    share: f32,
    speed: f32,
}

impl Snap {
    /// Some seconds later, thrown to the stop where it is wanted. Says whether it moves.
    fn follow(&mut self, wanted: f32, reduced_motion: bool, seconds: f32) -> bool {
        // A quarter of a second from stop to stop.
        const STIFFNESS: f32 = 320.0;
        const DAMPING: f32 = 22.0;
        let still = (self.share - wanted).abs() < 0.01 && self.speed.abs() < 0.2;
        if reduced_motion || still {
            *self = Self { share: wanted, speed: 0.0 };
            return false;
        }
        for step in even_steps(seconds) {
            self.speed += ((wanted - self.share) * STIFFNESS - self.speed * DAMPING) * step;
            self.share += self.speed * step;
            if !(0.0..=1.0).contains(&self.share) {
                // It meets its stop.
                self.share = self.share.clamp(0.0, 1.0);
                self.speed *= -0.2;
            }
        }
        true
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

/// Turns what turns, over the picture of what stands still.
pub(super) fn turn(
    time: Res<Time>,
    stage: Res<Stage>,
    anchors: Res<Anchors>,
    layout: Res<Layout>,
    mut motion: ResMut<Motion>,
    mut stale: ResMut<Stale>,
    mut commands: Commands,
    mut meshes: ResMut<Assets<Mesh>>,
    mut redraw: MessageWriter<RequestRedraw>,
    mut parts: Query<(Entity, &mut Turned, &mut OnLid, &Mesh2d)>,
) {
    motion.0 = false;
    let Some(lid) = layout.lid(anchors.lid_degrees) else { return };
    for (entity, mut part, mut on_lid, mesh) in &mut parts {
        let (share, moves) = part.drive.follow(&stage, anchors.lid_degrees, time.delta_secs());
        let seen = on_lid.is_seen(lid.shows());
        if moves && seen {
            if part.drive.lasts() {
                motion.0 = true;
            } else {
                redraw.write(RequestRedraw);
            }
        }
        let degrees = share * part.degrees;
        if part.shown_degrees != degrees {
            part.shown_degrees = degrees;
            on_lid.shape.positions = part.turned(degrees);
            if seen && let Some(mut mesh) = meshes.get_mut(&mesh.0) {
                *mesh = on_lid.shape.mesh(&|at| on_lid.place(&lid, at));
            }
            if !part.on_top {
                stale.mark();
            }
        }
        let on_top = moves || anchors.lid_on_top;
        if part.on_top != on_top {
            part.on_top = on_top;
            commands.entity(entity).insert(backdrop::layer(on_top));
            stale.mark();
        }
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;
    use std::time::Duration;

    use bevy::camera::visibility::RenderLayers;

    use super::super::catalogue::VEHICLES;
    use super::super::drawing::Drawing;
    use super::super::figure::Figure;
    use super::super::hinge::Face;
    use super::super::shape::encloses;
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
    fn a_claw_is_thrown_home_within_a_third_of_a_second_and_at_once_without_motion() {
        for frames in [8, 30, 120] {
            let mut snap = Snap { share: 1.0, speed: 0.0 };
            let mut before = 1.0;
            for _ in 0..frames {
                let moves = snap.follow(0.0, false, 0.4 / frames as f32);
                assert!((0.0..=1.0).contains(&snap.share), "{frames} frames: {snap:?}");
                assert!(moves || snap.share == 0.0);
                before = snap.share.min(before);
            }
            assert!(before < 0.02 && snap.share < 0.1, "{frames} frames: {snap:?}");
            for _ in 0..frames {
                snap.follow(0.0, false, 0.4 / frames as f32);
            }
            assert_eq!(snap, Snap { share: 0.0, speed: 0.0 }, "{frames} frames: it comes to rest");
        }
        let mut snap = Snap { share: 0.0, speed: 0.0 };
        assert!(!snap.follow(1.0, true, 0.01));
        assert_eq!(snap.share, 1.0);
    }

    /// The window's pace and the layers follow what is seen to move.
    #[test]
    fn a_wiper_that_is_seen_to_wipe_keeps_the_pace_up_and_lies_over_what_stands_still() {
        let mut app = App::new();
        let hatch = VEHICLES.iter().find(|vehicle| vehicle.id == "hatch").expect("it is drawn");
        let figure = Figure::read(hatch.figure).expect("a test of its own reads it");
        let lid = Drawing::read(hatch.lid);
        let wiper = lid.parts.iter().find(|part| part.name == "outside.sweeps.wiper").expect("it is drawn");
        let mark = |name: &str| Some(lid.mark(name)?.centre);
        let turned = figure.turned("sweeps.wiper", &wiper.shape, &mark, 0.0).expect("it turns");
        app.init_resource::<Layout>()
            .init_resource::<Time>()
            .init_resource::<Stage>()
            .init_resource::<Anchors>()
            .init_resource::<Motion>()
            .init_resource::<Stale>()
            .init_resource::<Assets<Mesh>>()
            .add_message::<RequestRedraw>()
            .add_systems(Update, turn);
        app.world_mut().resource_mut::<Layout>().figure = Some(Arc::new(figure));
        let on_lid = OnLid::on(Face::Outside, wiper.shape.clone());
        let wiper = app.world_mut().spawn((turned, on_lid, Mesh2d::default(), backdrop::layer(false))).id();
        let drawn = |app: &App| app.world().get::<OnLid>(wiper).expect("it is there").shape.positions.clone();
        let frame = |app: &mut App, change: &dyn Fn(&mut Stage, &mut Anchors)| {
            app.world_mut().resource_mut::<Time>().advance_by(Duration::from_millis(33));
            let world = app.world_mut();
            world.resource_scope(|world, mut stage: Mut<Stage>| {
                change(&mut stage, &mut world.resource_mut::<Anchors>());
            });
            app.update();
            let on_top = app.world().get::<RenderLayers>(wiper) == Some(&backdrop::layer(true));
            (app.world().resource::<Motion>().goes_on(), on_top)
        };
        let parked = drawn(&app);
        assert_eq!(frame(&mut app, &|_, _| {}), (false, false));
        assert_eq!(drawn(&app), parked);
        assert_eq!(frame(&mut app, &|stage, _| _ = stage.turning.insert("wiper".to_owned())), (true, true));
        for _ in 0..9 {
            assert_eq!(frame(&mut app, &|_, _| {}), (true, true));
        }
        let on_its_way = drawn(&app);
        assert_ne!(on_its_way, parked);
        // The open lid hides it: it wipes on, and nothing is drawn for that.
        assert_eq!(frame(&mut app, &|_, anchors| anchors.lid_degrees = 75.0), (false, true));
        assert_eq!(frame(&mut app, &|_, anchors| anchors.lid_degrees = 0.0), (true, true));
        assert_ne!(drawn(&app), on_its_way);
        let before = drawn(&app);
        assert_eq!(frame(&mut app, &|stage, _| stage.turning.clear()), (false, false));
        assert_eq!(drawn(&app), before, "it stays where it stopped");
        assert_eq!(frame(&mut app, &|stage, _| stage.reduced_motion = true), (false, false));
        assert_eq!(drawn(&app), parked);
        assert_eq!(frame(&mut app, &|stage, _| _ = stage.turning.insert("wiper".to_owned())), (false, false));
        let middle = drawn(&app);
        assert_ne!(middle, parked);
        assert_eq!(frame(&mut app, &|_, _| {}), (false, false));
        assert_eq!(drawn(&app), middle);
    }

    /// Every part of every vehicle that turns, where it is drawn, with its vehicle and with the edge of the lid or door it is on.
    fn all_turned() -> Vec<(String, Turned, Vec<Vec2>)> {
        let mut all = Vec::new();
        for vehicle in &VEHICLES {
            let figure = Figure::read(vehicle.figure).expect("a test of its own reads it");
            let lid = Drawing::read(vehicle.lid);
            for part in &lid.parts {
                let name = &part.name;
                let short = name.trim_start_matches("outside.").trim_start_matches("inside.");
                let Some(turned) =
                    figure.turned(short, &part.shape, &|name| Some(lid.mark(name)?.centre), 0.0)
                else {
                    continue;
                };
                let edge = lid.outlines().find(|edge| encloses(&edge.outline, turned.pivot));
                let edge = edge.map(|edge| edge.outline.clone()).expect("the pivot is on the lid");
                all.push((format!("{}: {name}", vehicle.id), turned, edge));
            }
        }
        all
    }

    #[test]
    fn what_turns_begins_at_its_pivot_and_stays_on_its_lid() {
        let all = all_turned();
        for (what, part, edge) in &all {
            let nearest = part.drawn.iter().map(|at| at.distance(part.pivot)).fold(f32::INFINITY, f32::min);
            assert!(nearest < 8.0, "{what} does not reach its pivot");
            for step in 0..=20 {
                let degrees = part.degrees * step as f32 / 20.0;
                for at in part.turned(degrees) {
                    assert!(encloses(edge, at), "{what} reaches {at} at {degrees} degrees");
                }
            }
        }
        let motors = all.iter().filter(|(_, part, _)| part.drive.lasts()).count();
        assert!(motors > 2, "wipers have gone");
        assert_eq!(all.len() - motors, VEHICLES.len(), "a claw for each vehicle");
    }
}
