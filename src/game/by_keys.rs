//! A whole job by the keyboard alone, and cards worked by what a screen reader is told of them.

use std::collections::BTreeSet;
use std::sync::Arc;
use std::time::Duration;

use bevy_egui::egui::{self, Event, Key};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable, by};
use probeworthy::bench::{Action, LampSize, Marking, Repair, Splice, Tool, price};
use probeworthy::diagram::Thing;
use probeworthy::say;
use probeworthy::scenario::load;
use probeworthy::vehicle::{
    ConductorId, ConnectorId, FuseId, Half, PanelId, Point, Reach, StationId, StudId, Zone,
};
use probeworthy::words;

use super::bay::{Bay, Hand, Place};
use super::first_job;
use super::hand_tools::{self, HandTool};
use super::overlay::{self, Scene};
use super::scenery::{Anchors, Gaze, Palette, View};
use super::settings::{Light, Settings};

/// The window without its scene: what the drawing shows has its place in the list of everything, too.
pub(super) struct Window {
    pub(super) bay: Bay,
    settings: Settings,
    pub(super) gaze: Gaze,
    palette: Palette,
}

fn open(scenario: &str, seed: u64) -> Harness<'static, Window> {
    let scenario = Arc::new(load(scenario).expect("it is on the shelf").scenario);
    // Without a name of the scenario no record is kept.
    let mut harness = window(Bay::new(scenario, None, seed));
    wait(&mut harness);
    harness
}

pub(super) fn window(bay: Bay) -> Harness<'static, Window> {
    let window = Window {
        bay,
        settings: Settings { reduced_motion: true, ..Settings::default() },
        gaze: Gaze::default(),
        palette: Palette::load(),
    };
    let (view, anchors) = (View::default(), Anchors::default());
    Harness::builder().with_size(egui::vec2(1280.0, 720.0)).build_ui_state(
        move |ui, window: &mut Window| {
            window.bay.catch_up();
            let scene = Scene { view: &view, anchors: &anchors, palette: &window.palette };
            overlay::frame(ui.ctx(), &mut window.bay, &mut window.settings, &mut window.gaze, &scene);
        },
        window,
    )
}

/// Until the bay is ready for the next act, and the last one has been seen to its end.
pub(super) fn wait(harness: &mut Harness<'_, Window>) {
    for _ in 0..6000 {
        harness.step();
        let bay = &harness.state().bay;
        if bay.job.is_some() && !bay.busy && bay.playing.is_none() {
            harness.run_steps(3);
            return;
        }
        std::thread::sleep(Duration::from_millis(10));
    }
    panic!("no answer within a minute");
}

pub(super) fn press(harness: &mut Harness<'_, Window>, key: Key) {
    harness.key_press(key);
    harness.run_steps(3);
}

/// What has the keyboard, as a screen reader says it.
pub(super) fn focused(harness: &Harness<'_, Window>) -> Option<String> {
    let node = harness.query_all(by().predicate(|node| node.is_focused())).next_back()?;
    let node = node.accesskit_node();
    let mut labels = node.labelled_by().filter_map(|by| by.label().or_else(|| by.value()));
    node.label().or_else(|| labels.next_back()).or_else(|| node.value())
}

/// Goes on with Tab until what has the keyboard says `label`.
fn go_to(harness: &mut Harness<'_, Window>, label: &str) {
    let mut met = BTreeSet::new();
    for _ in 0..250 {
        let here = focused(harness);
        if here.as_deref() == Some(label) {
            return;
        }
        met.insert(here.unwrap_or_default());
        press(harness, Key::Tab);
    }
    panic!("Tab does not come to {label:?}; it came to {met:?}");
}

/// Goes there and presses Enter.
pub(super) fn enter(harness: &mut Harness<'_, Window>, label: &str) {
    go_to(harness, label);
    press(harness, Key::Enter);
    wait(harness);
}

/// Opens a card by its key. What is in hand stays there.
pub(super) fn card(harness: &mut Harness<'_, Window>, key: Key, place: Place) {
    if harness.state().bay.open != Some(place) {
        press(harness, key);
    }
    assert_eq!(harness.state().bay.open, Some(place), "{key:?} opens its card");
}

/// Something from the list of everything by name.
fn by_name(harness: &mut Harness<'_, Window>, label: &str) {
    card(harness, Key::F10, Place::Everything);
    enter(harness, label);
}

/// Chooses from a list that opens.
pub(super) fn choose(harness: &mut Harness<'_, Window>, list: &str, wanted: &str) {
    go_to(harness, list);
    press(harness, Key::Enter);
    enter(harness, wanted);
}

pub(super) fn write(harness: &mut Harness<'_, Window>, field: &str, text: &str) {
    go_to(harness, field);
    harness.event(Event::Text(text.to_owned()));
    harness.run_steps(3);
}

fn turn_wheel(harness: &mut Harness<'_, Window>, at: egui::Pos2) {
    harness.hover_at(at);
    harness.event(Event::MouseWheel {
        unit: egui::MouseWheelUnit::Line,
        delta: egui::vec2(0.0, 3.0),
        phase: egui::TouchPhase::Move,
        modifiers: egui::Modifiers::NONE,
    });
    harness.run_steps(10);
}

#[test]
fn a_whole_job_is_done_by_keys_alone() {
    let mut window = open(first_job::SCENARIO, first_job::SEED);
    let harness = &mut window;
    assert_eq!(harness.state().bay.open, Some(Place::Customer), "the customer speaks first");
    enter(harness, "I have read the cautions");
    card(harness, Key::F9, Place::Key);
    enter(harness, "Release the lid");
    by_name(harness, "meter: volts");
    by_name(harness, "under the bonnet: battery");
    enter(harness, "Put safety glasses on");
    by_name(harness, "black probe: take it");
    by_name(harness, "under the bonnet: battery");
    enter(harness, "Minus post");
    for (side, volts) in [("feed side", true), ("load side", false)] {
        by_name(harness, "red probe: take it");
        by_name(harness, "cabin: fuses, switches, lockout");
        let fuse = harness.state().bay.vehicle().fuses[0].title.written().to_owned();
        enter(harness, &format!("{fuse}, {side}"));
        let shown = harness.state().bay.meter_display().expect("it measures").to_string();
        let number: f64 = shown.split_whitespace().next().and_then(|text| text.parse().ok()).expect("volts");
        assert_eq!(number.abs() > 11.0, volts, "{side}: {shown}");
    }
    card(harness, Key::F5, Place::Naming);
    choose(harness, "What", "a fuse or its clips");
    let fuse = harness.state().bay.vehicle().fuses[0].title.written().to_owned();
    choose(harness, "Which", &fuse);
    choose(harness, "In what way", "blown");
    enter(harness, "Name it");
    card(harness, Key::F10, Place::Everything);
    for probe in ["red probe: take it", "black probe: take it"] {
        by_name(harness, probe);
        let lead = if probe.starts_with("red") { "red probe" } else { "black probe" };
        by_name(harness, &format!("{lead}: hang it back"));
    }
    by_name(harness, "cabin: fuses, switches, lockout");
    enter(harness, "Pull it");
    enter(harness, "Fit new 15 A");
    card(harness, Key::F9, Place::Key);
    enter(harness, "Release the lid");
    card(harness, Key::F8, Place::Lid);
    enter(harness, "Push it shut");
    card(harness, Key::F6, Place::Writing);
    for line in ["Complaint", "Cause"] {
        write(harness, line, "F1 blown: 12.5 V before it, 0 V behind it; renewed, opens again.");
    }
    enter(harness, "Write it down");
    // What is only typed counts, too.
    write(harness, "Correction", "F1 renewed; it opens again, 12.4 V behind it.");
    card(harness, Key::F7, Place::HandingIn);
    enter(harness, "Hand in as repaired");
    for _ in 0..3000 {
        if harness.state().bay.marks.is_some() {
            break;
        }
        harness.step();
        std::thread::sleep(Duration::from_millis(20));
    }
    let (marks, _) = harness.state().bay.marks.as_deref().expect("marks are given");
    assert!(marks.total > 80.0, "{}", marks.total);
    assert_eq!(harness.state().bay.job.as_ref().map(|job| job.write_up().len()), Some(3));
    harness.run_steps(4);
    // The sheet of marks is left by keys, too.
    go_to(harness, "Look at the car again");
    press(harness, Key::Enter);
    assert!(harness.state().bay.marks_aside);
}

#[test]
fn the_eye_goes_nearer_and_back_by_keys_and_by_wheel() {
    let mut window = open(first_job::SCENARIO, first_job::SEED);
    let harness = &mut window;
    press(harness, Key::Escape);
    assert!(harness.state().gaze.is_far());
    for _ in 0..3 {
        press(harness, Key::Plus);
    }
    let near = harness.state().gaze;
    assert!(!near.is_far());
    // The arrows look elsewhere, but not behind a card, and not while they go from sign to sign.
    press(harness, Key::ArrowRight);
    let aside = harness.state().gaze;
    assert!(aside != near, "an arrow looks elsewhere");
    press(harness, Key::ArrowLeft);
    assert_ne!(harness.state().gaze, aside, "and another one back");
    let near = harness.state().gaze;
    press(harness, Key::F1);
    press(harness, Key::ArrowRight);
    assert_eq!(harness.state().gaze, near);
    press(harness, Key::Escape);
    assert_eq!(harness.state().bay.open, None);
    press(harness, Key::Minus);
    assert!(!harness.state().gaze.is_far() && harness.state().gaze != near);
    press(harness, Key::Backspace);
    assert!(harness.state().gaze.is_far(), "one key goes back to the whole bay");
    turn_wheel(harness, egui::pos2(600.0, 300.0));
    assert!(!harness.state().gaze.is_far());
    // A wheel over a card scrolls the card.
    press(harness, Key::Backspace);
    press(harness, Key::F1);
    let card = harness.get_by_label("Close").rect().center();
    turn_wheel(harness, card);
    assert!(harness.state().gaze.is_far());
    // A click beside an open card may have been meant for it; with none open it goes nearer, and a double click not back at once.
    let beside = egui::pos2(30.0, 600.0);
    click(harness, beside);
    assert!(harness.state().gaze.is_far());
    press(harness, Key::Escape);
    click(harness, beside);
    let near = harness.state().gaze;
    assert!(!near.is_far(), "a click goes nearer");
    click(harness, beside);
    assert_eq!(harness.state().gaze, near, "its second click stays there");
    // So long after, it is another click.
    harness.run_steps(60);
    click(harness, beside);
    assert_eq!(harness.state().gaze, near, "from near a single click stays there");
    click(harness, beside);
    assert!(harness.state().gaze.is_far(), "a double click goes back");
}

/// Presses and lets go of the pointer's first button, all in one step: that takes a quarter of a second, and two clicks within
/// 0.3 s are a double click.
fn click(harness: &mut Harness<'_, Window>, pos: egui::Pos2) {
    let button = |pressed| {
        let (button, modifiers) = (egui::PointerButton::Primary, egui::Modifiers::NONE);
        egui::Event::PointerButton { pos, button, pressed, modifiers }
    };
    harness.input_mut().events.extend([egui::Event::PointerMoved(pos), button(true), button(false)]);
    harness.step();
}

#[test]
fn cards_are_worked_by_what_a_screen_reader_is_told() {
    let mut window = open("dark-while-shut", 3);
    let harness = &mut window;
    // Settings: what is ticked there holds.
    card(harness, Key::End, Place::Settings);
    let sound = harness.state().settings.sound;
    harness.get_by_label_contains("Sound.").click();
    harness.run_steps(3);
    assert_ne!(harness.state().settings.sound, sound);
    harness.get_by_label_contains("Bright room").click();
    harness.run_steps(3);
    assert_eq!(harness.state().settings.light, Light::Bright);
    // A station of the loom: bent on its ribbon, and the next one reached along it.
    let station = StationId::at(1);
    harness.state_mut().bay.open = Some(Place::Station(station));
    harness.run_steps(3);
    let vehicle = harness.state().bay.vehicle().clone();
    let acts =
        |harness: &Harness<'_, Window>| harness.state().bay.job.as_ref().map_or(0, |job| job.log().len());
    let before = acts(harness);
    let ribbon = harness
        .get_by_label(&format!("loom at {}: bend it", vehicle.station(station).title.written()))
        .rect();
    let middle = ribbon.center();
    harness.drag_at(middle);
    harness.run_steps(2);
    for k in 1..=8_u8 {
        harness.hover_at(middle + egui::vec2(0.0, 3.0 * f32::from(k)));
        harness.run_steps(1);
    }
    harness.drop_at(middle + egui::vec2(0.0, 24.0));
    wait(harness);
    assert_eq!(acts(harness), before + 1, "one pull is one act");
    let log = harness.state().bay.job.as_ref().map(|job| job.log().to_vec()).unwrap_or_default();
    assert_eq!(log.last().map(|step| step.action.clone()), Some(Action::Flex(station)));
    let along = harness.query_all_by_label_contains("along the loom to").next().expect("another station");
    along.click();
    harness.run_steps(3);
    assert!(matches!(harness.state().bay.open, Some(Place::Station(other)) if other != station));
}

/// Whether nothing is in the way to it.
fn within_reach(harness: &Harness<'_, Window>, reach: Reach) -> bool {
    let bay = &harness.state().bay;
    bay.job.as_ref().is_some_and(|job| job.scene().obstacle(bay.vehicle(), reach).is_none())
}

#[test]
fn the_trolleys_tools_are_taken_and_worked_by_keys_alone() {
    let mut window = open("tailgate-ignores-its-key", 7);
    let harness = &mut window;
    enter(harness, "I have read the cautions");
    press(harness, Key::Escape);
    let t = harness.state().bay.texts;
    let log = |harness: &Harness<'_, Window>| -> Vec<Action> {
        let job = harness.state().bay.job.as_ref();
        job.map(|job| job.log().iter().map(|step| step.action.clone()).collect()).unwrap_or_default()
    };
    // Every tool has a key that takes it and lays it down, a line among the keys, and a name in the list of everything.
    let keys = t.say("help-keys-5");
    for (tool, digit) in HandTool::ALL.into_iter().zip(["1", "2", "3"]) {
        assert_eq!(tool.key().name(), digit);
        assert!(keys.contains(&format!("{digit} ")), "{keys}");
        assert!(tool.label(t, Hand::Empty).contains(&format!("({digit})")));
        press(harness, tool.key());
        assert_eq!(harness.state().bay.hand, Hand::Tool(tool));
        assert!(tool.label(t, harness.state().bay.hand).contains(&format!("({digit})")));
        press(harness, tool.key());
        assert_eq!(harness.state().bay.hand, Hand::Empty);
        by_name(harness, tool.label(t, Hand::Empty));
        assert_eq!(harness.state().bay.hand, Hand::Tool(tool));
        press(harness, Key::Escape);
        assert_eq!(harness.state().bay.hand, Hand::Empty);
    }
    let vehicle = harness.state().bay.vehicle().clone();
    // The trim tool: a panel off and back again, and the tape of a place of the loom.
    let seat =
        PanelId::at(vehicle.panels.iter().position(|panel| panel.zone == Zone::Cabin).expect("a seat"));
    press(harness, HandTool::Trim.key());
    for off in [true, false, true] {
        by_name(harness, t.title(&vehicle.panel(seat).title));
        assert_eq!(log(harness).last(), Some(&Action::Panel(seat, off)));
        assert_eq!(harness.state().bay.is_off(seat), off);
    }
    let lever = t.say("spot-lever");
    by_name(harness, lever);
    let open_lid = words::parse(&vehicle, "lid up").expect("a command");
    harness.state_mut().bay.act(open_lid);
    wait(harness);
    let place = (0..vehicle.stations.len())
        .map(StationId::at)
        .find(|id| {
            let passes = vehicle.conductors.iter().any(|one| one.piece_at(*id).is_some());
            within_reach(harness, vehicle.station(*id).reach) && passes
        })
        .expect("a place within reach");
    let named = say!(t, "spot-loom", station = t.title(&vehicle.station(place).title));
    by_name(harness, &named);
    assert_eq!(log(harness).last(), Some(&Action::OpenTape(place)));
    assert_eq!(harness.state().bay.open, Some(Place::Station(place)), "what is under the tape is seen");
    // The repair kit opens the choice, and does nothing by itself.
    press(harness, HandTool::Repair.key());
    let before = log(harness).len();
    by_name(harness, &named);
    assert_eq!(harness.state().bay.open, Some(Place::Station(place)));
    assert_eq!(log(harness).len(), before, "nobody has said what is to be mended");
    let wire = (0..vehicle.conductors.len())
        .map(ConductorId::at)
        .find(|id| vehicle.conductor(*id).piece_at(place).is_some())
        .expect("a wire");
    enter(harness, &words::conductor_title(t, &vehicle, wire));
    let mending = Action::Repair(Repair::Conductor(wire, place, Splice::Sound));
    let label = say!(t, "station-splice", price = price(&vehicle, &mending));
    assert!(label.contains("units") && label.contains("min"), "it is priced: {label}");
    enter(harness, &label);
    assert_eq!(log(harness).last(), Some(&mending));
    // The cleaner offers a stud's cleaning, once the trim tool has laid it open.
    press(harness, HandTool::Trim.key());
    let stud = StudId::at(0);
    let trim = vehicle.stud(stud).reach.panel.expect("it lies behind a panel");
    by_name(harness, t.title(&vehicle.panel(trim).title));
    press(harness, HandTool::Cleaner.key());
    let before = log(harness).len();
    by_name(harness, t.title(&vehicle.stud(stud).title));
    assert_eq!(harness.state().bay.open, Some(Place::Stud(stud)));
    assert_eq!(log(harness).len(), before);
    enter(harness, t.say("stud-clean"));
    assert_eq!(log(harness).last(), Some(&Action::Repair(Repair::Stud(stud))));
    // And a connector's terminals; where connectors lie only the drawing knows, of which there is none here.
    let plug = (0..vehicle.connectors.len())
        .map(ConnectorId::at)
        .find(|id| {
            let wired = vehicle.conductor_in(*id, Half::Loom, 1).is_some();
            within_reach(harness, vehicle.connector(*id).reach) && wired
        })
        .expect("a connector within reach");
    assert!(hand_tools::touched(&mut harness.state_mut().bay, Place::Connector(plug)));
    harness.run_steps(3);
    assert_eq!(harness.state().bay.open, Some(Place::Connector(plug)));
    enter(harness, t.say("connector-unplug"));
    let wire = vehicle.conductor_in(plug, Half::Loom, 1).expect("a wire");
    let wire = words::conductor_title(t, &vehicle, wire);
    enter(harness, &say!(t, "connector-cavity", cavity = 1, wire = wire));
    let cleaning = Action::Repair(Repair::Terminal(plug, 1));
    enter(harness, &say!(t, "connector-terminal", price = price(&vehicle, &cleaning)));
    assert_eq!(log(harness).last(), Some(&cleaning));
    // Nothing of all this was refused.
    let refused: Vec<_> = harness
        .state()
        .bay
        .job
        .iter()
        .flat_map(|job| job.log())
        .filter(|step| step.outcome.refused.is_some())
        .map(|step| step.action.clone())
        .collect();
    assert!(refused.is_empty(), "{refused:?}");
}

#[test]
fn the_diagram_is_chosen_from_and_marked_by_keys_alone() {
    let mut window = open(first_job::SCENARIO, first_job::SEED);
    let harness = &mut window;
    let t = harness.state().bay.texts;
    card(harness, Key::F4, Place::Diagram);
    let vehicle = harness.state().bay.vehicle().clone();
    let fuse = FuseId::at(0);
    choose(harness, t.say("diagram-by-name"), t.title(&vehicle.fuse(fuse).title));
    enter(harness, t.say("diagram-suspect"));
    let job = harness.state().bay.job.as_ref().expect("it has begun");
    assert_eq!(job.marked().get(&Thing::Fuse(fuse)), Some(&Marking::Suspect));
    enter(harness, t.say("diagram-show"));
    assert_eq!(harness.state().bay.open, Some(Place::Cabin), "where the fuse is");
}

#[test]
fn a_line_of_text_keeps_the_keys_that_move_its_cursor() {
    let mut window = open(first_job::SCENARIO, first_job::SEED);
    let harness = &mut window;
    card(harness, Key::F6, Place::Writing);
    let field = harness.state().bay.texts.say("write-up-complaint");
    write(harness, field, "lamp dead");
    for key in [Key::Home, Key::End, Key::Insert, Key::Num1, Key::Plus, Key::Backspace] {
        press(harness, key);
        let bay = &harness.state().bay;
        assert_eq!(bay.open, Some(Place::Writing), "{key:?} leaves the card");
        assert_eq!(bay.hand, Hand::Empty, "{key:?} takes a tool");
        assert!(harness.state().gaze.is_far(), "{key:?} moves the eye");
    }
}

#[test]
fn what_is_in_hand_is_laid_down_where_it_belongs() {
    let mut window = open(first_job::SCENARIO, first_job::SEED);
    let harness = &mut window;
    press(harness, Key::Escape);
    let t = harness.state().bay.texts;
    let lamp = Tool::TestLamp(LampSize::TwentyOne);
    let lamp_title = words::tool_title(t, lamp);
    for (hand, title) in [
        (Hand::Clip(lamp, None), lamp_title),
        (Hand::Clip(lamp, Some(Point::Body)), lamp_title),
        (Hand::Clamp, t.say("spot-clamp")),
        (Hand::Recorder(Some(Point::BatteryPlus)), t.say("spot-recorder")),
    ] {
        harness.state_mut().bay.hand = hand;
        by_name(harness, &say!(t, "spot-lay-down", tool = title));
        assert_eq!(harness.state().bay.hand, Hand::Empty, "{hand:?}");
        assert_eq!(
            harness.state().bay.open,
            Some(Place::Everything),
            "{hand:?} is laid down and nothing else"
        );
    }
}
