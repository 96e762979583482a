//! Tests over the whole window, as it lies over the drawn scene: everything that is laid over it can be read, reached and touched.

mod rooms;
mod told;

use std::collections::BTreeSet;
use std::sync::{Arc, LazyLock};

use bevy::prelude::{App, IntoScheduleConfigs, MinimalPlugins, Srgba, Update, Vec2, Vec3};
use bevy_egui::egui::{self, Color32, Id};
use probeworthy::bench::{Action, LampSize, Lead, LidTo, Tool};
use probeworthy::job::{Choice, Job, NoJournal};
use probeworthy::marks::mark_and_debrief;
use probeworthy::practice::{Done, Skill};
use probeworthy::reasoning::Inquiry;
use probeworthy::scenario::load;
use probeworthy::vehicle::{ConnectorId, LidPosition, PanelId, Point, StationId};
use probeworthy::words::{self, Language};

use super::author::Author;
use super::bay::{Bay, Hand, Place};
use super::checks::{CUT, Drawn, Eye, Seen};
use super::first_job::{self, Guide};
use super::hand_tools::HandTool;
use super::legible::{SCENARIOS, bay_of, begun, places, records};
use super::overlay::{self, Place2d, Scene};
use super::scenery::{self, Anchors, Gaze, Palette, SceneSet, View};
use super::settings::{Light, Settings};
use super::shelf::{Leaf, Shelf};
use super::worker::Trouble;
use super::{looking, spots, sync};

/// Sizes of the window, in pixels: the usual one, the least one, a wide one.
const WINDOW: Vec2 = Vec2::new(1280.0, 720.0);
const LEAST_WINDOW: Vec2 = Vec2::new(1024.0, 640.0);
const WIDE_WINDOW: Vec2 = Vec2::new(1720.0, 720.0);

/// How the window is set: size of text in percent, light, its own size.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Look(u16, Light, Vec2);

const LOOKS: [Look; 4] = [
    Look(100, Light::Dim, WINDOW),
    Look(150, Light::Dim, WINDOW),
    Look(200, Light::Dim, WINDOW),
    Look(100, Light::Bright, WINDOW),
];
/// The other two in the usual window.
const BRIGHT: [Look; 2] = [Look(150, Light::Bright, WINDOW), Look(200, Light::Bright, WINDOW)];
/// In windows of other sizes.
const ELSEWHERE: [Look; 2] = [Look(100, Light::Dim, LEAST_WINDOW), Look(100, Light::Dim, WIDE_WINDOW)];

/// Where signs of the lid and of what is behind it come together.
const HALF_OPEN_DEGREES: u8 = 30;

/// Frames until all stands still: text takes its size, cards find their places.
const FRAMES: u32 = 6;

/// What the overlay writes on as it is drawn, with the names of the colours from and to which it runs in the drawings.
const GROUNDS: [(&str, [&str; 2]); 3] = [
    ("meter-display", ["olive-84", "olive-75"]),
    ("plate-text", ["stone-92b", "stone-81"]),
    ("clipboard", ["stone-94", "stone-87"]),
];

/// The key's buttons in the drawing.
const KEY: [&str; 3] = ["key-lock", "key-unlock", "key-lid"];

/// A job, and where everything is in the drawing.
struct Standing {
    job: Job,
    anchors: Anchors,
}

/// Every vehicle, worked on and drawn once for all tests here.
static STANDINGS: LazyLock<Vec<(&'static str, [Standing; 4])>> =
    LazyLock::new(|| SCENARIOS.into_iter().map(|name| (name, standings(name))).collect());

/// A vehicle with its lid shut, with it up and all tools on it, with its panels off, and so with the lid half open.
fn standings(name: &str) -> [Standing; 4] {
    let scenario = Arc::new(load(name).expect("it is on the shelf").scenario);
    let vehicle = &scenario.vehicle;
    let mut shut = Job::new(Arc::clone(&scenario), 7, Choice::Drawn).expect("a job");
    for act in ["cautions", "meter volts", "black battery-minus", "red f1.load"] {
        done(&mut shut, words::parse(vehicle, act).expect(act));
    }
    let mut up = begun(name);
    let ends = Some((Point::BatteryPlus, Point::Body));
    for act in [
        Action::Capture(true),
        Action::Clip(Tool::TestLamp(LampSize::TwentyOne), ends),
        Action::RecorderLeads(ends),
    ] {
        done(&mut up, act);
    }
    let mut bare = up.clone();
    (0..vehicle.panels.len()).for_each(|at| done(&mut bare, Action::Panel(PanelId::at(at), true)));
    for at in 0..vehicle.connectors.len().min(3) {
        let id = ConnectorId::at(at);
        done(&mut bare, Action::Plug(id, false));
        done(&mut bare, Action::LookAt(id));
    }
    (0..vehicle.stations.len().min(3)).for_each(|at| done(&mut bare, Action::OpenTape(StationId::at(at))));
    let mut half = bare.clone();
    done(&mut half, Action::Lid(LidTo::Angle(HALF_OPEN_DEGREES)));
    assert_eq!(half.scene().lid(), LidPosition::Angle(HALF_OPEN_DEGREES));
    let mut app = App::new();
    app.add_plugins((MinimalPlugins, scenery::undrawn))
        .insert_resource(Settings { reduced_motion: true, ..Settings::default() })
        .insert_resource(bay_of(&shut))
        .add_systems(Update, sync::set_stage.before(SceneSet));
    [shut, up, bare, half].map(|job| {
        app.insert_resource(bay_of(&job));
        (0..4).for_each(|_| app.update());
        let anchors = app.world().resource::<Anchors>().clone();
        assert!(anchors.design("meter-display").is_some_and(|at| at.visible), "the scene is not built");
        Standing { job, anchors }
    })
}

/// Does something, if it can be done.
fn done(job: &mut Job, act: Action) {
    job.apply(act, &mut NoJournal).expect("an operating point");
}

/// How somebody looks at a bay.
struct Window<'a> {
    bay: Bay,
    anchors: &'a Anchors,
    size: Vec2,
    settings: Settings,
    gaze: Gaze,
    eye: &'a mut Eye,
}

/// Looks in one way at one bay after the other.
struct Viewer {
    language: Language,
    look: Look,
    eye: Eye,
}

impl Viewer {
    fn new(language: Language, look: Look) -> Self {
        let points = look.2 / overlay::zoom(&View::looking(look.2, Gaze::default()), look.0);
        Self { language, look, eye: Eye::new((points.x, points.y), look.1) }
    }

    fn window<'a>(&'a mut self, bay: Bay, anchors: &'a Anchors) -> Window<'a> {
        self.eye.forget();
        let settings = Settings {
            text_percent: self.look.0,
            light: self.look.1,
            language: Some(self.language),
            reduced_motion: true,
            ..Settings::default()
        };
        Window { bay, anchors, size: self.look.2, settings, gaze: Gaze::default(), eye: &mut self.eye }
    }
}

impl Window<'_> {
    fn view(&self) -> View {
        View::looking(self.size, self.gaze)
    }

    fn zoom(&self) -> f32 {
        overlay::zoom(&self.view(), self.settings.text_percent)
    }

    fn look(&mut self, frames: u32, pointer: Option<egui::Pos2>) -> Seen {
        let Self { bay, anchors, size, settings, gaze, eye } = self;
        eye.look(frames, pointer, |ctx, palette| {
            if bay.open == Some(Place::Shelf) {
                // As somebody has just come to it, so that nothing is read from this machine.
                ctx.data_mut(|data| data.insert_temp(Id::new("last open card"), bay.open));
            }
            let view = View::looking(*size, *gaze);
            overlay::frame(ctx, bay, settings, gaze, &Scene { view: &view, anchors, palette });
        })
    }

    /// The grounds on which the overlay writes without one of its own.
    fn drawn(&self) -> Vec<Drawn> {
        let view = self.view();
        let place = Place2d::new(&view, self.zoom());
        let mut palette = Palette::load();
        palette.set_bright(self.settings.light == Light::Bright);
        let visible = |name: &str| self.anchors.design(name).filter(|at| at.visible);
        let grounds = GROUNDS.iter().filter_map(|(name, colours)| Some((visible(name)?, colours)));
        let ground = |(at, colours): (scenery::Placed, &[&str; 2])| Drawn {
            rect: place.rect(at.centre, at.size),
            colours: colours.iter().map(|name| lit(name, palette.light())).collect(),
        };
        grounds.map(ground).collect()
    }

    /// What other tests see that keys do: to look elsewhere, and signs that lie behind an open card.
    fn aside(&self) -> BTreeSet<egui::accesskit::NodeId> {
        let behind = self.bay.open.is_some().then(|| spots::named(&self.bay, self.anchors));
        let signs = behind.into_iter().flatten().map(|(id, ..)| id);
        signs.chain([looking::ground()]).map(|id| id.accesskit_id()).collect()
    }

    /// What is wrong once all stands still.
    fn wrong(&mut self) -> Vec<String> {
        let seen = self.look(FRAMES, None);
        seen.wrong(&self.drawn(), &self.aside())
    }
}

/// What a drawing names by this name, as the room lights it.
fn lit(name: &str, light: Vec3) -> Color32 {
    let Srgba { red, green, blue, .. } = scenery::drawn_colour(name);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "from 0 to 255")]
    let [red, green, blue] =
        (Vec3::new(red, green, blue) * light).to_array().map(|part| (part * 255.0).min(255.0) as u8);
    Color32::from_rgb(red, green, blue)
}

/// What was found, by where it was.
#[derive(Default)]
struct Found(Vec<String>);

impl Found {
    fn add(&mut self, place: &str, language: Language, look: Look, wrong: Vec<String>) {
        self.0.extend(wrong.into_iter().map(|what| format!("{place}, {language:?}, {look:?}: {what}")));
    }

    fn must_be_none(self) {
        assert!(self.0.is_empty(), "{}\n{} in all", self.0.join("\n"), self.0.len());
    }
}

#[test]
fn the_bay_can_be_read_touched_and_worked_by_keys() {
    the_bay(Language::English);
}

#[test]
fn the_bay_can_be_read_touched_and_worked_by_keys_in_german() {
    the_bay(Language::German);
}

/// Every vehicle with no card open, near and far, and whatever the pointer is on.
fn the_bay(language: Language) {
    let mut found = Found::default();
    for look in LOOKS.into_iter().chain(BRIGHT).chain(ELSEWHERE) {
        let mut viewer = Viewer::new(language, look);
        let standings = STANDINGS.iter().flat_map(|(name, all)| all.iter().map(move |one| (*name, one)));
        for (stand, (name, Standing { job, anchors })) in standings.enumerate() {
            let place = format!("{name}, standing {}", stand % 4);
            let mut bay = bay_of(job);
            bay.open = None;
            let mut window = viewer.window(bay, anchors);
            let seen = window.look(FRAMES, None);
            found.add(&place, language, look, seen.wrong(&window.drawn(), &window.aside()));
            let mut aside = window.aside();
            // The key's card has its buttons larger.
            aside.extend(KEY.map(|button| Id::new(("spot", button)).accesskit_id()));
            found.add(&place, language, look, seen.small(&aside));
            let signs = spots::named(&window.bay, anchors);
            // Whatever the pointer is on is named.
            if look.1 == Light::Dim && look.2 == WINDOW {
                let (view, zoom) = (window.view(), window.zoom());
                for (_, label, at) in &signs {
                    let Some(at) = at.filter(|at| at.visible) else { continue };
                    let seen = window.look(2, Some(Place2d::new(&view, zoom).at(at.centre)));
                    let wrong = seen.wrong(&window.drawn(), &window.aside());
                    found.add(&format!("{place}, pointer on {label}"), language, look, wrong);
                }
            }
            // What the drawing shows is in the list of everything, too.
            window.bay.open = Some(Place::Everything);
            let listed = window.look(FRAMES, None);
            for (_, label, _) in signs {
                assert!(
                    listed.buttons().contains(label.as_str()),
                    "{label:?} is not in the list of everything"
                );
            }
            for near in ["meter-display", "lid-handle", "plate-text", "body-metal"] {
                let Some(at) = anchors.design(near).filter(|_| LOOKS.contains(&look)) else { continue };
                let mut bay = bay_of(job);
                bay.open = None;
                let mut window = viewer.window(bay, anchors);
                window.gaze.nearer_to(at.centre, Gaze::STEP * Gaze::STEP);
                found.add(&format!("{place}, near {near}"), language, look, window.wrong());
            }
        }
    }
    found.must_be_none();
}

#[test]
fn every_card_can_be_read_and_worked_over_the_bay() {
    every_card(Language::English);
}

#[test]
fn every_card_can_be_read_and_worked_over_the_bay_in_german() {
    every_card(Language::German);
}

/// Every card of every vehicle, as it lies over the bay.
fn every_card(language: Language) {
    let mut found = Found::default();
    for look in LOOKS.into_iter().chain(ELSEWHERE) {
        let mut viewer = Viewer::new(language, look);
        for (name, [_, up, bare, _]) in STANDINGS.iter() {
            let mut all = places(&up.job.scenario().vehicle);
            all.extend([Place::Tool(Tool::TestLamp(LampSize::TwentyOne)), Place::Everything]);
            let empty = all.iter().map(|place| (*place, Hand::Empty));
            // With a tool in hand a card may say something else.
            let tools = HandTool::ALL.into_iter().flat_map(|tool| {
                let works = all.iter().copied().filter(move |place| tool.works_on(*place));
                works.take(2).map(move |place| (place, Hand::Tool(tool)))
            });
            for (place, hand) in empty.chain(tools) {
                // What lies behind a panel has more on its card once that is off.
                let of_the_rear = matches!(place, Place::Connector(_) | Place::Station(_) | Place::Stud(_));
                let stand = if of_the_rear { bare } else { up };
                let mut bay = bay_of(&stand.job);
                (bay.open, bay.hand) = (Some(place), hand);
                let mut wrong = viewer.window(bay, &stand.anchors).wrong();
                if place == Place::Diagram {
                    // Its sheet is moved, and cut where the card ends.
                    wrong.retain(|what| !what.starts_with(CUT));
                }
                found.add(&format!("{name}, {place:?}, {hand:?}"), language, look, wrong);
            }
        }
    }
    found.must_be_none();
}

#[test]
fn what_comes_before_between_and_after_can_be_read_and_worked() {
    rare_screens(Language::English);
}

#[test]
fn what_comes_before_between_and_after_can_be_read_and_worked_in_german() {
    rare_screens(Language::German);
}

/// A learner's jobs: enough that their marks are drawn.
fn learner(leaf: Leaf) -> Shelf {
    let skills = [Skill::Feeds, Skill::Feeds, Skill::Load, Skill::Feeds];
    let done = skills.into_iter().zip([61.0, 88.0, 12.5, 97.0]).map(|(skill, total)| Done {
        scenario: "first-fuse".to_owned(),
        skill,
        finding_share: total / 100.0,
        proof_share: 0.8,
        total,
    });
    Shelf::of_a_learner(done.collect(), records(), "tailgate-ignores-its-key", leaf)
}

/// Why something went wrong, as short and as long as it may be told.
fn troubles() -> [Trouble; 5] {
    let full = "/home/somebody/.local/share/probeworthy/jobs/job-0123.jsonl: no space is left on the device (os error 28)";
    let broken = "/home/somebody/.local/share/probeworthy/jobs/job-0123.jsonl:7:1: the chain breaks here: what stands before \
                  this line is not what stood there";
    [
        Trouble::TimeUp,
        Trouble::NotWorkedOut,
        Trouble::Ended,
        Trouble::JobNotKept(full.to_owned()),
        Trouble::Other(broken.to_owned()),
    ]
}

/// A screen's name, and what opens it.
type Opened = (String, Box<dyn Fn() -> Bay>);

/// Every screen that is seldom seen.
fn rare(up: &Job, over: &Job) -> Vec<Opened> {
    let mut all: Vec<Opened> = Vec::new();
    let mut add = |what: String, job: &Job, change: Box<dyn Fn(&mut Bay)>| {
        let job = job.clone();
        let open = move || {
            let mut bay = bay_of(&job);
            bay.open = None;
            change(&mut bay);
            bay
        };
        all.push((what, Box::new(open)));
    };
    let fresh = Arc::new(load(first_job::SCENARIO).expect("it is on the shelf").scenario);
    let fresh = Job::new(fresh, first_job::SEED, Choice::Drawn).expect("a job");
    let steps = (0..first_job::STEPS.len()).map(Guide::Step);
    for guide in steps.chain([Guide::Offered]) {
        add(format!("{guide:?} of the first job"), &fresh, Box::new(move |bay| bay.guide = Some(guide)));
    }
    for trouble in troubles() {
        let what = format!("{trouble:?}");
        add(what, up, Box::new(move |bay| bay.trouble = Some(trouble.clone())));
    }
    let first = Some(Point::BatteryPlus);
    for hand in [
        Hand::Probe(Lead::Red),
        Hand::Probe(Lead::Black),
        Hand::Clip(Tool::TestLamp(LampSize::TwentyOne), None),
        Hand::Clip(Tool::TestLamp(LampSize::TwentyOne), first),
        Hand::Clip(Tool::Bridge, None),
        Hand::Clamp,
        Hand::Recorder(None),
        Hand::Recorder(first),
        Hand::Tool(HandTool::Trim),
        Hand::Tool(HandTool::Repair),
        Hand::Tool(HandTool::Cleaner),
    ] {
        for open in [None, Some(Place::Cabin)] {
            let change = move |bay: &mut Bay| (bay.hand, bay.open) = (hand, open);
            add(format!("{hand:?} in hand, {open:?}"), up, Box::new(change));
        }
    }
    for leaf in [Leaf::Next, Leaf::Jobs, Leaf::Records] {
        for in_job in [true, false] {
            let change = move |bay: &mut Bay| {
                if !in_job {
                    *bay = Bay::waiting(Arc::clone(bay.shown()));
                }
                (bay.shelf, bay.open) = (learner(leaf), Some(Place::Shelf));
            };
            add(format!("the board, in a job {in_job}"), up, Box::new(change));
        }
    }
    let file = |bay: &mut Bay| {
        bay.author = Some(Author::new(load("tailgate-ignores-its-key").expect("it is on the shelf")));
        bay.open = Some(Place::Author);
    };
    add("the scenario's file".to_owned(), up, Box::new(file));
    add("handed in, no marks".to_owned(), over, Box::new(|_| {}));
    add("handed in, closed".to_owned(), over, Box::new(|bay| bay.closed = true));
    add("handed in, put aside".to_owned(), over, Box::new(|bay| bay.marks_aside = true));
    let fresh = Inquiry::new(Arc::clone(over.scenario()), 2).expect("operating points");
    let marked = mark_and_debrief(over, &fresh).expect("it can be replayed").expect("it was handed in");
    let marked = Arc::new(marked);
    for steps in [false, true] {
        let marked = Arc::clone(&marked);
        let change = move |bay: &mut Bay| (bay.marks, bay.steps_shown) = (Some(Arc::clone(&marked)), steps);
        add(format!("marks, steps {steps}"), over, Box::new(change));
    }
    let over = over.clone();
    let weighed = move || {
        // Somebody works them out.
        let mut waits = Bay::new(Arc::new(over.scenario().written().clone()), None, over.seed());
        (waits.job, waits.open) = (Some(Arc::new(over.clone())), None);
        waits
    };
    all.push(("handed in, being weighed".to_owned(), Box::new(weighed)));
    all
}

fn rare_screens(language: Language) {
    let mut found = Found::default();
    let (_, [_, up, ..]) = &STANDINGS[0];
    let mut over = up.job.clone();
    done(&mut over, Action::HandIn { refer: false });
    let all = rare(&up.job, &over);
    for look in LOOKS.into_iter().chain(BRIGHT).chain(ELSEWHERE) {
        let mut viewer = Viewer::new(language, look);
        for (what, open) in &all {
            let bay = open();
            let in_hand = bay.hand != Hand::Empty;
            let mut window = viewer.window(bay, &up.anchors);
            // What is in hand is drawn at the pointer.
            let view = window.view();
            let at = up.anchors.design("body-metal").expect("it is drawn").centre;
            let pointer = in_hand.then(|| Place2d::new(&view, window.zoom()).at(at));
            let seen = window.look(FRAMES, pointer);
            found.add(what, language, look, seen.wrong(&window.drawn(), &window.aside()));
        }
    }
    found.must_be_none();
}
