//! The board by keys and by what a screen reader is told: a job is left and gone on with exactly there, records are opened.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use bevy_egui::egui::Key;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use probeworthy::bench::{Action, Tool};
use probeworthy::fault::{FaultKind, Spot};
use probeworthy::job::{Choice, Job};
use probeworthy::marks::mark_and_debrief;
use probeworthy::reasoning::Inquiry;
use probeworthy::record::{self, Keeper, Key as SigningKey, Standing};
use probeworthy::scenario::{Scenario, load};
use probeworthy::vehicle::{Point, Title};
use probeworthy::words;
use tempfile::TempDir;

use super::bay::{Bay, Hand, Place};
use super::by_keys::{Window, choose, enter, focused, press, wait, window};
use super::coach;
use super::first_job::{self, Guide};
use super::scenery::Gaze;
use super::shelf::{Leaf, Shelf};

const SCENARIO: &str = first_job::SCENARIO;

fn scenario() -> Arc<Scenario> {
    Arc::new(load(SCENARIO).expect("it is on the shelf").scenario)
}

/// Records these acts in a folder, and leaves the job or, if it has been handed in, closes the record.
fn recorded(folder: &Path, acts: &[&str]) -> (PathBuf, Option<f64>) {
    let scenario = scenario();
    let mut job = Job::new(Arc::clone(&scenario), first_job::SEED, Choice::Drawn).expect("a job");
    let recorder = record::start(&job, SCENARIO, folder, None).expect("a record");
    let mut recorder = recorder.signing_with(SigningKey::from_secret([7; 32]));
    for act in acts {
        let act = words::parse(&scenario.vehicle, act).expect(act);
        job.apply(act, &mut recorder).expect("an operating point");
    }
    let path = recorder.path().to_owned();
    if job.handed_in().is_none() {
        return (path, None);
    }
    let fresh = Inquiry::new(scenario, 2).expect("operating points");
    let (marks, debrief) = mark_and_debrief(&job, &fresh).expect("it can be replayed").expect("handed in");
    recorder.close(&job, &marks, &debrief).expect("it can be written");
    (path, Some(marks.total))
}

/// What stands in this folder, as the board has it.
fn shelf(folder: &Path, leaf: Leaf) -> Shelf {
    let kept = record::kept(folder).into_iter().map(|one| (one, Title::new("The first job"))).collect();
    Shelf::of_a_learner(Vec::new(), kept, SCENARIO, leaf)
}

fn at_the_board(folder: &Path, leaf: Leaf) -> Harness<'static, Window> {
    let mut bay = Bay::at_the_board(scenario());
    bay.shelf = shelf(folder, leaf);
    let mut harness = window(bay);
    settle(&mut harness, folder, leaf);
    harness
}

/// The board is seen; what this machine has kept is not what is looked at.
fn settle(harness: &mut Harness<'static, Window>, folder: &Path, leaf: Leaf) {
    harness.run_steps(2);
    harness.state_mut().bay.shelf = shelf(folder, leaf);
    harness.run_steps(3);
}

fn until(harness: &mut Harness<'_, Window>, what: &str, holds: impl Fn(&Window) -> bool) {
    for _ in 0..6000 {
        harness.step();
        if holds(harness.state()) {
            harness.run_steps(3);
            return;
        }
        std::thread::sleep(Duration::from_millis(10));
    }
    panic!("not within a minute: {what}");
}

fn folder() -> TempDir {
    tempfile::tempdir().expect("a folder for temporary files")
}

#[test]
fn nothing_but_the_board_is_open_where_there_is_no_job() {
    let folder = folder();
    let mut harness = at_the_board(folder.path(), Leaf::Next);
    assert!(harness.state().bay.is_at_the_board());
    assert!(focused(&harness).is_some_and(|label| label.starts_with("Begin: ")), "{:?}", focused(&harness));
    for key in [Key::Escape, Key::F2, Key::F5, Key::F12, Key::Home, Key::Num1] {
        press(&mut harness, key);
        assert_eq!(harness.state().bay.open, Some(Place::Shelf), "{key:?}");
        assert_eq!(harness.state().bay.hand, Hand::Empty, "{key:?}");
    }
    for (key, place) in [(Key::End, Place::Settings), (Key::F1, Place::Help)] {
        press(&mut harness, key);
        assert_eq!(harness.state().bay.open, Some(place));
        press(&mut harness, Key::Escape);
        assert_eq!(harness.state().bay.open, Some(Place::Shelf));
        let label = focused(&harness).unwrap_or_default();
        assert!(
            label.starts_with("Begin: ") || label.starts_with("Go on: "),
            "the keyboard is back: {label}"
        );
    }
    harness.get_by_label("Settings").click();
    harness.run_steps(3);
    assert_eq!(harness.state().bay.open, Some(Place::Settings));
    enter_close(&mut harness);
    assert_eq!(harness.state().bay.open, Some(Place::Shelf));
}

fn enter_close(harness: &mut Harness<'_, Window>) {
    harness.get_by_label("Close").click();
    harness.run_steps(3);
}

#[test]
fn a_job_that_was_left_is_there_again_exactly_as_it_was_left() {
    let folder = folder();
    let acts = ["cautions", "key release", "meter volts"];
    let (record, _) = recorded(folder.path(), &acts);
    let bookmark = record.with_extension("ron");
    let mut harness = at_the_board(folder.path(), Leaf::Next);
    let go_on = "Go on: The first job, an hour ago";
    assert_eq!(focused(&harness).as_deref(), Some(go_on), "the keyboard is there already");
    press(&mut harness, Key::Enter);
    wait(&mut harness);
    let vehicle = harness.state().bay.vehicle().clone();
    let log =
        |harness: &Harness<'_, Window>| harness.state().bay.job.as_ref().map_or(0, |job| job.log().len());
    assert_eq!(log(&harness), acts.len());
    assert_eq!(harness.state().bay.record(), Some(&*record));

    // What no record knows: a name half put together, words half written, a lead half clipped, a look from near.
    press(&mut harness, Key::F5);
    choose(&mut harness, "What", "a fuse or its clips");
    choose(&mut harness, "Which", vehicle.fuses[0].title.written());
    choose(&mut harness, "In what way", "blown");
    let state = harness.state_mut();
    let near = Gaze::of_told((700.0, 400.0, 2.5)).expect("figures");
    state.gaze = near;
    state.bay.guide = Some(Guide::Step(4));
    state.bay.draft.percent = 35;
    state.bay.draft.estimate = 245;
    state.bay.draft.hasty = true;
    state.bay.draft.write_up[1] = "F1, „durchgebrannt\"\nand so on".to_owned();
    state.bay.hand = Hand::Clip(Tool::Bridge, Some(Point::BatteryMinus));
    harness.run_steps(3);
    let before = {
        let bay = &harness.state().bay;
        (bay.open, bay.hand, format!("{:?}", bay.draft), bay.guide)
    };
    assert_eq!(before.0, Some(Place::Naming));

    // The same whether the window is closed, or the job is left by its button.
    for by_button in [false, true] {
        if by_button {
            press(&mut harness, Key::Home);
            harness.state_mut().bay.shelf = shelf(folder.path(), Leaf::Next);
            harness.run_steps(3);
            harness.get_by_label("Leave this job").click();
            harness.run_steps(2);
            assert!(harness.state().bay.is_at_the_board());
        } else {
            harness.state_mut().bay.keep_the_place();
        }
        drop(harness);
        let text = std::fs::read_to_string(&bookmark).expect("a bookmark lies beside the record");
        let fault = load(SCENARIO).expect("on the shelf").scenario.for_seed(first_job::SEED);
        let fault = probeworthy::fault::draw(&fault.faults, first_job::SEED).expect("a fault").id.clone();
        assert!(!text.contains(&fault), "the fault is told: {text}");
        // The worker lets go of the record as soon as it is asked for nothing more.
        let free = (0..500).any(|_| {
            std::thread::sleep(Duration::from_millis(20));
            record::kept(folder.path()).iter().all(|one| one.standing == Standing::Left)
        });
        assert!(free, "the record is let go");
        harness = at_the_board(folder.path(), Leaf::Next);
        press(&mut harness, Key::Enter);
        wait(&mut harness);
        let state = harness.state();
        let bay = &state.bay;
        assert_eq!(log(&harness), acts.len(), "nothing was done by it");
        // The board is a card like others: what was open before it is not.
        let open = if by_button { None } else { before.0 };
        assert_eq!(
            (bay.open, bay.hand, format!("{:?}", bay.draft), bay.guide),
            (open, before.1, before.2.clone(), before.3)
        );
        assert_eq!(state.gaze, near);
        assert_eq!(bay.draft.kind, Some(FaultKind::Blown));
        assert_eq!(bay.draft.spot, Some(Spot::Whole));
    }

    // Once it has been handed in, there is nothing to come back to.
    let hand_in = words::parse(&vehicle, "hand in").expect("a command");
    harness.state_mut().bay.act(hand_in);
    until(&mut harness, "handed in", |window| window.bay.is_over());
    harness.state_mut().bay.keep_the_place();
    assert!(!bookmark.exists());
}

#[test]
fn what_the_coach_has_said_is_there_again_and_what_he_was_asked_is_answered_for_nothing() {
    let folder = folder();
    // He was asked, and the window was closed before he spoke.
    recorded(folder.path(), &["cautions", "key release", "coach 1"]);
    let mut harness = at_the_board(folder.path(), Leaf::Next);
    press(&mut harness, Key::Enter);
    wait(&mut harness);
    let log = |harness: &Harness<'_, Window>| -> Vec<Action> {
        let job = harness.state().bay.job.as_ref();
        job.map(|job| job.log().iter().map(|step| step.action.clone()).collect()).unwrap_or_default()
    };
    let before = log(&harness);
    press(&mut harness, Key::F12);
    enter(&mut harness, "Hear again what he said last, for nothing");
    until(&mut harness, "he speaks", |window| {
        window.bay.unheard().is_none() && coach::said(&window.bay).is_some()
    });
    assert_eq!(log(&harness), before, "nobody has asked him anew");
    let said = |harness: &Harness<'_, Window>| coach::said(&harness.state().bay);
    let first = said(&harness).expect("he has spoken");
    harness.state_mut().bay.keep_the_place();
    drop(harness);
    let free = (0..1500).any(|_| {
        std::thread::sleep(Duration::from_millis(20));
        record::kept(folder.path()).iter().all(|one| one.standing == Standing::Left)
    });
    assert!(free, "the record is let go");
    let mut harness = at_the_board(folder.path(), Leaf::Next);
    press(&mut harness, Key::Enter);
    wait(&mut harness);
    assert_eq!(harness.state().bay.open, Some(Place::Coach));
    assert_eq!(said(&harness), Some(first));
    assert_eq!(harness.state().bay.unheard(), None);
}

#[test]
fn a_record_is_opened_to_its_marks_and_steps_and_a_broken_one_says_so() {
    let folder = folder();
    let acts = [
        "cautions",
        "key release",
        "glasses",
        "meter volts",
        "black battery-minus",
        "red f1.load",
        "hand in",
    ];
    let (sound, total) = recorded(folder.path(), &acts);
    let text = std::fs::read_to_string(&sound).expect("a record");
    let broken = text.replacen("\"act\":\"glasses\"", "\"act\":\"look\"", 1);
    assert_ne!(broken, text);
    for (name, text) in [("job-0002.jsonl", &*broken), ("job-0003.jsonl", "no record\n")] {
        std::fs::write(folder.path().join(name), text).expect("a file");
    }
    let mut harness = at_the_board(folder.path(), Leaf::Next);
    harness.get_by_label("Records").click();
    harness.run_steps(3);
    let labels = record::kept(folder.path());
    assert_eq!(labels.len(), 3);
    let total = total.expect("it was marked");
    for one in &labels {
        // All three have the same title here, and are told apart by where they stand.
        let at = labels.iter().position(|other| other.path == one.path).expect("it is there");
        let open: Vec<_> = harness.query_all_by_label_contains("Open: ").collect();
        assert_eq!(open.len(), labels.len());
        open[at].click();
        harness.run_steps(3);
        until(&mut harness, "it has been read", |window| {
            let reading = window.bay.reading.as_ref();
            reading.is_some_and(|reading| reading.marks().is_some() || reading.trouble().is_some())
        });
        let reading = harness.state().bay.reading.as_ref().expect("a record is open");
        if one.path == sound {
            assert_eq!(reading.marks().map(|marks| marks.total), Some(total));
            assert!(reading.trouble().is_none(), "{:?}", reading.trouble());
            harness.get_by_label("Step by step").click();
            harness.run_steps(3);
            assert!(harness.query_by_label("Marks").is_some(), "the way back from the steps");
        } else {
            assert!(reading.marks().is_none());
            assert!(harness.query_by_label_contains("This record cannot be shown").is_some());
        }
        press(&mut harness, Key::Escape);
        assert!(harness.state().bay.reading.is_none());
        assert!(harness.state().bay.is_at_the_board());
        settle(&mut harness, folder.path(), Leaf::Records);
    }
    for (name, text) in
        [("job-0001.jsonl", &*text), ("job-0002.jsonl", &*broken), ("job-0003.jsonl", "no record\n")]
    {
        assert_eq!(std::fs::read_to_string(folder.path().join(name)).expect("it is there"), text);
    }
}

#[test]
fn a_job_that_cannot_be_gone_on_with_says_why_on_the_board() {
    let folder = folder();
    let (path, _) = recorded(folder.path(), &["cautions", "key release", "look"]);
    let text = std::fs::read_to_string(&path).expect("a record");
    let broken = text.replacen("\"act\":\"key release\"", "\"act\":\"key lock\"", 1);
    std::fs::write(&path, &broken).expect("a record");
    let mut harness = at_the_board(folder.path(), Leaf::Next);
    press(&mut harness, Key::Enter);
    until(&mut harness, "why not", |window| window.bay.trouble.is_some());
    assert!(harness.state().bay.is_at_the_board());
    assert!(harness.query_by_label_contains("job-0001.jsonl:3").is_some());
    harness.get_by_label("Understood").click();
    harness.run_steps(3);
    assert!(harness.state().bay.trouble.is_none());
    assert_eq!(harness.state().bay.open, Some(Place::Shelf));
    assert_eq!(std::fs::read_to_string(&path).expect("a record"), broken, "nothing is lost");
}

#[test]
fn a_job_that_was_left_can_be_put_away() {
    let folder = folder();
    let (path, _) = recorded(folder.path(), &["cautions", "look"]);
    let mut harness = at_the_board(folder.path(), Leaf::Next);
    harness.get_by_label("Put away: The first job, an hour ago").click();
    harness.run_steps(3);
    assert!(!path.exists() && folder.path().join("put-away").join("job-0001.jsonl").is_file());
    // What the board then reads is the learner's own folder; here it is this one.
    harness.state_mut().bay.shelf = shelf(folder.path(), Leaf::Next);
    harness.run_steps(3);
    assert!(harness.query_by_label_contains("Go on: The first job").is_none(), "it is still listed");
}

#[test]
fn the_eye_begins_each_job_with_the_whole_bay() {
    let folder = folder();
    recorded(folder.path(), &["cautions"]);
    let mut harness = at_the_board(folder.path(), Leaf::Next);
    harness.state_mut().gaze = Gaze::of_told((300.0, 300.0, 4.0)).expect("figures");
    press(&mut harness, Key::Enter);
    wait(&mut harness);
    assert_eq!(harness.state().gaze, Gaze::default());
}

#[test]
fn from_the_offer_of_the_first_job_the_settings_are_a_key_away_and_esc_leads_back() {
    let mut harness = window(Bay::before_the_first(scenario()));
    harness.run_steps(3);
    for leave in [Key::Escape, Key::End] {
        press(&mut harness, Key::End);
        assert_eq!(harness.state().bay.open, Some(Place::Settings));
        assert!(harness.query_by_label("Dim room").is_some(), "the card is seen");
        press(&mut harness, leave);
        assert_ne!(harness.state().bay.open, Some(Place::Settings));
        assert_eq!(harness.state().bay.guide, Some(Guide::Offered));
        assert!(harness.query_by_label("Show me").is_some(), "the offer is seen");
    }
    harness.get_by_label("Settings (End)").click();
    harness.run_steps(3);
    assert_eq!(harness.state().bay.open, Some(Place::Settings));
}
