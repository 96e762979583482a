//! Tests over all cards: no words are cut or written over each other, all stand out from what lies behind them, everything that a
//! pointer can do a key can do too, and has a name for a screen reader.

use std::sync::Arc;

use bevy::color::Srgba;
use bevy_egui::egui::accesskit::{Action, Node, Role, TreeUpdate};
use bevy_egui::egui::epaint::{ClippedShape, Shape};
use bevy_egui::egui::{self, Color32, Rect, pos2, vec2};
use probeworthy::bench::{LampSize, Tool};
use probeworthy::job::{Choice, Job, NoJournal};
use probeworthy::marks::mark_and_debrief;
use probeworthy::practice::{Done, Skill};
use probeworthy::reasoning::Inquiry;
use probeworthy::record::{Kept, Standing};
use probeworthy::scenario::{Scenario, load};
use probeworthy::vehicle::{ConnectorId, PanelId, StationId, StudId, Vehicle};
use probeworthy::words::{self, Language, Texts};

use super::bay::{Bay, Hand, Place};
use super::hand_tools::HandTool;
use super::overlay::Place2d;
use super::reading::{self, Reading};
use super::scenery::{Anchors, Gaze, Palette, View, contrast};
use super::settings::{Light, Settings};
use super::shelf::{Leaf, Shelf};
use super::worker::Trouble;
use super::{cards, first_job, sheet, theme};

/// Points of the overlay: a window at the usual size of text, and at 150 and 200 %.
const SCREENS: [(f32, f32); 3] = [(1280.0, 720.0), (853.0, 480.0), (640.0, 360.0)];
/// A scenario of each vehicle.
const SCENARIOS: [&str; 5] =
    ["tailgate-ignores-its-key", "first-fuse", "ghost-of-a-voltage", "dark-while-shut", "trailer-goes-dark"];
/// What a letter may reach beyond an edge, and what two may share, in points.
const SLACK: f32 = 1.5;

/// What is said first of words that do not lie within their card.
const CUT: &str = "cut: ";
/// Least contrast of words (WCAG 2.2, level AA: published).
const LEAST_CONTRAST: f32 = 4.5;

/// A job in which something has been done.
fn begun(name: &str) -> Job {
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

fn bay_of(job: &Job) -> Bay {
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

/// Words that are shown: what they are, where, what of that can be seen, and how far they stand out from what lies behind
/// them.
struct Written {
    words: String,
    rect: Rect,
    clip: Rect,
    contrast: f32,
}

/// A rectangle that is filled, and what of it can be seen.
struct Ground {
    rect: Rect,
    fill: Color32,
}

/// A colour as it appears over another.
fn over(colour: Color32, below: Color32) -> Color32 {
    below.blend(colour)
}

fn contrast_of(words: Color32, ground: Color32) -> f32 {
    let plain = |colour: Color32| Srgba::rgb_u8(colour.r(), colour.g(), colour.b());
    contrast(plain(over(words, ground)), plain(ground))
}

fn collect(shape: &Shape, clip: Rect, grounds: &mut Vec<Ground>, found: &mut Vec<Written>) {
    match shape {
        Shape::Vec(shapes) => shapes.iter().for_each(|shape| collect(shape, clip, grounds, found)),
        Shape::Rect(one) => {
            grounds.push(Ground { rect: one.rect.intersect(clip), fill: one.fill });
        }
        Shape::Text(text) => {
            let words = text.galley.text().trim().to_owned();
            if !words.is_empty() {
                // The letters themselves, without the room that a line keeps.
                let rect = text.galley.mesh_bounds.translate(text.pos.to_vec2());
                let seen = rect.intersect(clip).center();
                let ground = grounds
                    .iter()
                    .filter(|ground| ground.rect.contains(seen))
                    .fold(Color32::BLACK, |below, ground| over(ground.fill, below));
                let least = text.galley.job.sections.iter().map(|section| {
                    let own = section.format.color;
                    let own = if own == Color32::PLACEHOLDER { text.fallback_color } else { own };
                    contrast_of(text.override_text_color.unwrap_or(own), ground)
                });
                // What cannot be worked just now may be pale (WCAG 2.2, 1.4.3: published).
                let contrast =
                    if text.opacity_factor < 1.0 { f32::MAX } else { least.fold(f32::MAX, f32::min) };
                found.push(Written { words, rect, clip, contrast });
            }
        }
        _ => {}
    }
}

fn written(shapes: &[ClippedShape]) -> Vec<Written> {
    let (mut grounds, mut found) = (Vec::new(), Vec::new());
    for one in shapes {
        collect(&one.shape, one.clip_rect, &mut grounds, &mut found);
    }
    found
}

/// What is wrong with words on a screen.
fn illegible(found: &[Written], screen: Rect) -> Vec<String> {
    let mut wrong = Vec::new();
    // Words that scroll are cut at the edge of what scrolls, above and below, and nowhere else.
    let seen: Vec<(&Written, Rect)> = found
        .iter()
        .map(|one| (one, one.rect.intersect(one.clip)))
        .filter(|(_, rect)| rect.is_positive())
        .collect();
    for (one, _) in &seen {
        if one.contrast < LEAST_CONTRAST {
            wrong.push(format!("pale: {:?}, contrast {:.1}", one.words, one.contrast));
        }
        let across = one.clip.x_range().intersection(screen.x_range());
        if one.rect.left() < across.min - SLACK || one.rect.right() > across.max + SLACK {
            wrong.push(format!("{CUT}{:?} at {:?} within {:?}", one.words, one.rect, across));
        }
    }
    for (at, (one, here)) in seen.iter().enumerate() {
        for (other, there) in &seen[at + 1..] {
            let both = here.intersect(*there);
            if both.width() > SLACK && both.height() > SLACK && one.words != other.words {
                wrong.push(format!("over each other: {:?} and {:?} at {both:?}", one.words, other.words));
            }
        }
    }
    wrong
}

/// What a key cannot do, and what has no name, as a screen reader is told.
fn unreachable(tree: &TreeUpdate) -> Vec<String> {
    let mut wrong = Vec::new();
    // Of a label the words can be marked, and that is all; a window comes to the front; what scrolls follows Tab and the keys
    // for pages.
    let others = [Role::Label, Role::Window, Role::ScrollBar];
    let worked = |node: &Node| node.supports_action(Action::Click) && !others.contains(&node.role());
    for (_, node) in tree.nodes.iter().filter(|(_, node)| worked(node)) {
        let told = || format!("{:?} {:?} at {:?}", node.role(), node.label(), node.bounds());
        if !node.supports_action(Action::Focus) && !node.is_disabled() {
            wrong.push(format!("no key reaches {}", told()));
        }
        let says = |text: Option<&str>| text.is_some_and(|text| !text.trim().is_empty());
        let named = says(node.label()) || says(node.value()) || !node.labelled_by().is_empty();
        if !named {
            wrong.push(format!("no name: {}", told()));
        }
    }
    wrong
}

/// Shows something until it stands still, and says what is wrong with it.
fn shown(size: (f32, f32), light: Light, mut show: impl FnMut(&egui::Context, &Palette)) -> Vec<String> {
    let ctx = egui::Context::default();
    let mut palette = Palette::load();
    palette.set_bright(light == Light::Bright);
    theme::dress(&ctx, &palette, light, true);
    let screen = Rect::from_min_size(pos2(0.0, 0.0), vec2(size.0, size.1));
    ctx.enable_accesskit();
    let (mut shapes, mut tree) = (Vec::new(), None);
    for frame in 0..6 {
        let input = egui::RawInput {
            screen_rect: Some(screen),
            time: Some(f64::from(frame) * 0.5),
            ..Default::default()
        };
        let mut out = ctx.run_ui(input, |ui| show(ui.ctx(), &palette));
        // Nothing is drawn.
        out.textures_delta.clear();
        shapes = std::mem::take(&mut out.shapes);
        tree = out.platform_output.accesskit_update.take();
    }
    let mut wrong = illegible(&written(&shapes), screen);
    let layers = ctx.memory(|memory| memory.layer_ids().collect::<Vec<_>>());
    for area in layers.into_iter().filter_map(|layer| ctx.memory(|memory| memory.area_rect(layer.id))) {
        if !screen.expand(SLACK).contains_rect(area) {
            wrong.push(format!("a card reaches out of the window: {area:?}"));
        }
    }
    let tree = tree.expect("a tree for screen readers");
    assert!(tree.nodes.iter().any(|(_, node)| node.supports_action(Action::Click)), "nothing can be worked");
    wrong.extend(unreachable(&tree));
    wrong
}

#[test]
fn every_card_can_be_read_and_worked_by_keys() {
    every_card(Language::English);
}

#[test]
fn every_card_can_be_read_and_worked_by_keys_in_german() {
    every_card(Language::German);
}

fn every_card(language: Language) {
    let view = View::default();
    let anchors = Anchors::default();
    let mut wrong = Vec::new();
    for name in SCENARIOS {
        let job = begun(name);
        let empty = places(&job.scenario().vehicle).into_iter().map(|place| (place, Hand::Empty));
        // With a tool in hand a card may say something else.
        let tools = HandTool::ALL.into_iter().flat_map(|tool| {
            let works = move |place: &Place| tool.works_on(*place);
            let first = places(&job.scenario().vehicle).into_iter().filter(works).take(2);
            first.map(move |place| (place, Hand::Tool(tool)))
        });
        for (place, hand) in empty.chain(tools) {
            let dim = SCREENS.map(|size| (size, Light::Dim));
            for (size, light) in dim.into_iter().chain([(SCREENS[0], Light::Bright)]) {
                let mut bay = bay_of(&job);
                bay.open = Some(place);
                bay.hand = hand;
                bay.texts = Texts::of(language);
                let mut settings = Settings { language: Some(language), ..Settings::default() };
                let place2d = Place2d::new(&view, 1.0);
                let mut gaze = Gaze::default();
                let mut found = shown(size, light, |ctx, palette| {
                    cards::open_card(ctx, &mut bay, &mut settings, &mut gaze, &place2d, &anchors, palette);
                });
                if place == Place::Diagram {
                    // Its sheet is moved, and cut where the card ends.
                    found.retain(|what| !what.starts_with(CUT));
                }
                wrong.extend(
                    found.into_iter().map(|what| format!("{name}, {place:?}, {size:?}, {light:?}: {what}")),
                );
            }
        }
    }
    assert!(wrong.is_empty(), "{}\n{} in all", wrong.join("\n"), wrong.len());
}

/// A record of the board that stands so.
fn kept(number: u32, standing: Standing) -> (Kept, String) {
    let path = format!("/home/somebody/.local/share/probeworthy/jobs/job-{number:04}.jsonl").into();
    let title = "A tailgate that ignores its key, and a title that is as long as any".to_owned();
    let scenario = "tailgate-ignores-its-key".to_owned();
    (Kept { path, scenario, at_ms: 1_700_000_000_000, minutes: 12.5, standing }, title)
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
    let all: Vec<_> = [
        Standing::Left,
        Standing::InUse,
        Standing::Unmarked,
        Standing::Marked(71.4),
        Standing::Unreadable("this is not the head of a record: expected value".to_owned()),
    ]
    .into_iter()
    .zip(1..)
    .map(|(standing, number)| kept(number, standing))
    .collect();
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
                bay.reading = Some(Reading::shown(&record, &title, read, steps));
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
            first_job::note(ctx, &mut bay, palette);
        }));
    }
    assert!(wrong.is_empty(), "{}\n{} in all", wrong.join("\n"), wrong.len());
}
