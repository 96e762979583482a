//! Tests over sheets by themselves: no words are cut or written over each other, all stand out from what lies behind them, everything that a
//! pointer can do a key can do too, and has a name for a screen reader.

use std::collections::BTreeSet;
use std::sync::Arc;

use bevy_egui::egui;
use probeworthy::bench::{LampSize, Tool};
use probeworthy::job::{Choice, Job, NoJournal};
use probeworthy::marks::mark_and_debrief;
use probeworthy::practice::{Done, Skill};
use probeworthy::reasoning::Inquiry;
use probeworthy::record::{Kept, Standing};
use probeworthy::scenario::{Scenario, load};
use probeworthy::vehicle::{ConnectorId, PanelId, StationId, StudId, Title, Vehicle};
use probeworthy::words::{self, Language, Texts};

use super::bay::{Bay, Place};
use super::checks::Eye;
use super::overlay::Place2d;
use super::reading::{self, Reading};
use super::scenery::{Anchors, Gaze, Palette, View};
use super::settings::{Light, Settings};
use super::shelf::{Leaf, Shelf};
use super::worker::Trouble;
use super::{cards, first_job, sheet};

/// Points of the overlay: a window at the usual size of text, and at 150 and 200 %.
const SCREENS: [(f32, f32); 3] = [(1280.0, 720.0), (853.0, 480.0), (640.0, 360.0)];
/// A scenario of each vehicle.
pub(super) const SCENARIOS: [&str; 5] =
    ["tailgate-ignores-its-key", "first-fuse", "ghost-of-a-voltage", "dark-while-shut", "trailer-goes-dark"];

/// A job in which something has been done.
pub(super) fn begun(name: &str) -> Job {
    let scenario: Arc<Scenario> = Arc::new(load(name).expect("it is on the shelf").scenario);
    let mut job = Job::new(Arc::clone(&scenario), 7, Choice::Drawn).expect("a job");
    for act in
        ["cautions", "key release", "lever", "lid up", "meter volts", "black battery-minus", "red f1.load"]
    {
        let act = words::parse(&scenario.vehicle, act).expect(act);
        job.apply(act, &mut NoJournal).expect("an operating point");
    }
    job
}

pub(super) fn bay_of(job: &Job) -> Bay {
    let mut bay = Bay::waiting(Arc::clone(job.scenario()));
    bay.job = Some(Arc::new(job.clone()));
    bay
}

/// Everything that can be open on a vehicle.
pub(super) fn places(vehicle: &Vehicle) -> Vec<Place> {
    let mut all: Vec<Place> =
        (0..vehicle.connectors.len()).map(|at| Place::Connector(ConnectorId::at(at))).collect();
    all.extend((0..vehicle.stations.len()).map(|at| Place::Station(StationId::at(at))));
    all.extend((0..vehicle.studs.len()).map(|at| Place::Stud(StudId::at(at))));
    all.extend((0..vehicle.panels.len()).map(|at| Place::Panel(PanelId::at(at))));
    all.extend([
        Place::Lid,
        Place::Cabin,
        Place::Front,
        Place::Key,
        Place::Body,
        Place::FuseTray,
        Place::Tool(Tool::TestLamp(LampSize::Five)),
        Place::Tool(Tool::Bridge),
        Place::Tool(Tool::BenchBattery),
        Place::Meter,
        Place::Clamp,
        Place::Recorder,
        Place::Customer,
        Place::Findings,
        Place::Naming,
        Place::Suspicions,
        Place::Coach,
        Place::Writing,
        Place::HandingIn,
        Place::Settings,
        Place::Help,
        Place::Diagram,
    ]);
    all
}

/// Shows something until it stands still, and says what is wrong with it.
fn shown(size: (f32, f32), light: Light, show: impl FnMut(&egui::Context, &Palette)) -> Vec<String> {
    Eye::new(size, light).look(6, None, show).wrong(&[], &BTreeSet::new())
}

/// A record of the board that stands so.
fn kept(number: u32, standing: Standing) -> (Kept, Title) {
    let path = format!("/home/somebody/.local/share/probeworthy/jobs/job-{number:04}.jsonl").into();
    let title = Title::new("A tailgate that ignores its key, and a title that is as long as any");
    let scenario = "tailgate-ignores-its-key".to_owned();
    (Kept { path, scenario, at_ms: 1_700_000_000_000, minutes: 12.5, standing }, title)
}

/// A record of each kind, as the board lists them.
pub(super) fn records() -> Vec<(Kept, Title)> {
    [
        Standing::Left,
        Standing::InUse,
        Standing::Unmarked,
        Standing::Marked(71.4),
        Standing::Unreadable("this is not the head of a record: expected value".to_owned()),
    ]
    .into_iter()
    .zip(1..)
    .map(|(standing, number)| kept(number, standing))
    .collect()
}

#[test]
fn the_board_can_be_read_and_worked_by_keys() {
    let job = begun("first-lamp");
    let done = vec![Done {
        scenario: "first-fuse".to_owned(),
        skill: Skill::Feeds,
        finding_share: 0.5,
        proof_share: 0.8,
        total: 61.0,
    }];
    let all = records();
    let mut wrong = Vec::new();
    let leaves = [Leaf::Next, Leaf::Jobs, Leaf::Records].map(|leaf| (leaf, true));
    let dim = SCREENS.map(|size| (size, Light::Dim));
    for language in Language::ALL {
        for (leaf, in_job) in leaves.into_iter().chain([(Leaf::Next, false)]) {
            for (size, light) in dim.into_iter().chain([(SCREENS[0], Light::Bright)]) {
                let mut bay = if in_job { bay_of(&job) } else { Bay::waiting(Arc::clone(job.scenario())) };
                bay.texts = Texts::of(language);
                bay.open = Some(Place::Shelf);
                bay.shelf = Shelf::of_a_learner(done.clone(), all.clone(), "tailgate-ignores-its-key", leaf);
                let (view, anchors) = (View::default(), Anchors::default());
                let mut settings = Settings { language: Some(language), ..Settings::default() };
                let mut gaze = Gaze::default();
                let found = shown(size, light, |ctx, palette| {
                    // As somebody has just come to it, so that nothing is read from this machine.
                    ctx.data_mut(|data| data.insert_temp(egui::Id::new("last open card"), bay.open));
                    let place = Place2d::new(&view, 1.0);
                    cards::open_card(ctx, &mut bay, &mut settings, &mut gaze, &place, &anchors, palette);
                });
                wrong.extend(
                    found
                        .into_iter()
                        .map(|what| format!("{language:?}, {leaf:?}, {in_job}, {size:?}, {light:?}: {what}")),
                );
            }
        }
    }
    assert!(wrong.is_empty(), "{}\n{} in all", wrong.join("\n"), wrong.len());
}

/// Why a record is not shown.
fn cannot() -> Trouble {
    let why = "/home/somebody/.local/share/probeworthy/jobs/job-0001.jsonl:7:1: the chain breaks here: what stands before this \
               line is not what stood there when it was written\nhint: a record is changed by no hand; begin the job anew";
    Trouble::Other(why.to_owned())
}

#[test]
fn marks_steps_and_notes_can_be_read_and_worked_by_keys() {
    let mut job = begun("first-lamp");
    let hand_in = words::parse(&job.scenario().vehicle, "hand in").expect("a command");
    job.apply(hand_in, &mut NoJournal).expect("an operating point");
    let fresh = Inquiry::new(Arc::clone(job.scenario()), 2).expect("operating points");
    let marked = mark_and_debrief(&job, &fresh).expect("it can be replayed").expect("it was handed in");
    let mut bay = bay_of(&job);
    bay.marks = Some(Arc::new(marked));
    let mut wrong = Vec::new();
    let languages = Language::ALL.into_iter();
    for (language, size) in languages.flat_map(|language| SCREENS.map(|size| (language, size))) {
        bay.texts = Texts::of(language);
        for steps in [false, true] {
            bay.steps_shown = steps;
            wrong.extend(shown(size, Light::Dim, |ctx, palette| sheet::marks_card(ctx, &mut bay, palette)));
            let (record, title) = kept(1, Standing::Marked(71.4));
            for read in [bay.marks.clone().map(|marks| Ok((job.clone(), marks))), None, Some(Err(cannot()))] {
                bay.reading = Some(Reading::shown(&record, title.written(), read, steps));
                wrong.extend(shown(size, Light::Dim, |ctx, palette| reading::show(ctx, &mut bay, palette)));
            }
            bay.reading = None;
        }
    }
    // Nothing has been done, so that no step is left at once.
    let scenario = Arc::new(load(first_job::SCENARIO).expect("it is on the shelf").scenario);
    let job = Job::new(scenario, first_job::SEED, Choice::Drawn).expect("a job");
    let steps = 0..first_job::STEPS.len();
    for (at, language) in steps.flat_map(|at| Language::ALL.map(|language| (at, language))) {
        let mut bay = bay_of(&job);
        bay.texts = Texts::of(language);
        wrong.extend(shown(SCREENS[0], Light::Dim, |ctx, palette| {
            bay.guide = Some(first_job::Guide::Step(at));
            first_job::note(ctx, &mut bay, None, &[], palette);
        }));
    }
    assert!(wrong.is_empty(), "{}\n{} in all", wrong.join("\n"), wrong.len());
}
