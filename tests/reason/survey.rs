//! Whether a job is fair, on small pools whose answers can be seen from the file.

use std::path::PathBuf;
use std::process::{Command, Output};
use std::sync::Arc;

use probeworthy::bench::Action;
use probeworthy::fault::PlacedFault;
use probeworthy::scenario::{Scenario, load};
use probeworthy::survey::{Branch, CannotConfirm, Separator, Survey, difficulty};
use probeworthy::vehicle::{ConductorId, Deviation, When};
use probeworthy::words::{survey_html, survey_json, survey_text};
use serde_json::Value;

fn file(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join(format!("tests/survey/{name}.scenario.ron"))
}

fn scenario(name: &str) -> Scenario {
    match load(&file(name).to_string_lossy()) {
        Ok(loaded) => loaded.scenario,
        Err(why) => panic!("{why}"),
    }
}

fn survey(scenario: Scenario) -> Survey {
    Survey::new(Arc::new(scenario), 2).expect("every vehicle has an operating point")
}

/// What must hold of every survey.
fn check(survey: &Survey) {
    let within = |low: f64, high: f64| low <= high + 1e-9;
    assert!(survey.lower_bound_minutes >= 0.0);
    assert!(within(survey.lower_bound_minutes, survey.expected_minutes), "a plan better than the bound");
    assert!(within(survey.expected_minutes, survey.swapper_minutes), "a plan worse than swapping parts");
    assert!(within(survey.repair_minutes, survey.swapper_minutes), "swapping cheaper than what is needed");
    assert!((1..=5).contains(&survey.difficulty));
    assert!(survey.bits >= 0.0 && survey.gap_percent() >= -1e-9);
    let rates: Vec<f64> = survey.first_tests.iter().map(|test| test.worth.rate()).collect();
    assert!(rates.is_sorted_by(|a, b| a >= b), "{rates:?}");
    shares_add_up(&survey.plan);
}

/// No more jobs go on from a branching than came to it; after a test, all of them where nothing was cut.
fn shares_add_up(branch: &Branch) {
    let after: f64 = branch.outcomes.iter().map(|one| one.probability).sum();
    assert!(after <= branch.probability + 1e-9, "{after} of {}", branch.probability);
    branch.outcomes.iter().for_each(shares_add_up);
}

#[test]
fn one_fault_needs_no_finding() {
    let survey = survey(scenario("one-fault"));
    check(&survey);
    assert_eq!(survey.difficulty, 1);
    assert!(survey.groups.is_empty() && survey.unconfirmable.is_empty());
    // Only whether anything is wrong at all could be open.
    assert!(survey.bits < 0.1, "{}", survey.bits);
    assert!((survey.expected_minutes - survey.repair_minutes).abs() < 1.0);
}

#[test]
fn two_faults_in_two_places_cost_one_bit() {
    let survey = survey(scenario("two-faults"));
    check(&survey);
    assert!((1.0..1.2).contains(&survey.bits), "{}", survey.bits);
    assert!(survey.groups.is_empty() && survey.unconfirmable.is_empty());
    assert!(survey.expected_minutes < survey.swapper_minutes);
}

#[test]
fn six_faults_can_all_be_told_apart_and_mended() {
    let survey = survey(scenario("six-faults"));
    check(&survey);
    assert!(survey.groups.is_empty(), "{:?}", survey.groups);
    assert!(survey.unconfirmable.is_empty(), "{:?}", survey.unconfirmable);
    assert!((survey.intermittent_share - 2.0 / 12.0).abs() < 1e-12);
    assert!(survey.expected_minutes < survey.swapper_minutes);
    assert!(survey.swapper_price > survey.expected_price);
    let page = survey_html(&survey);
    assert_eq!(page.matches("<details").count(), survey.plan.count());
    assert_eq!(page.matches("</details>").count(), survey.plan.count());
    for outside in ["http", "src=", "url(", "<script", "<link"] {
        assert!(!page.contains(outside), "the page asks for {outside}");
    }
}

#[test]
fn equal_faults_with_one_repair_are_no_group() {
    let survey = survey(scenario("equal-faults"));
    check(&survey);
    for group in &survey.groups {
        assert!(group.faults != [0, 1], "both are mended by pushing the plug home");
    }
    assert!(survey.bits < 1.2, "two repairs, not four: {}", survey.bits);
}

#[test]
fn a_fault_that_shows_nothing_is_unconfirmable() {
    let mut scenario = scenario("two-faults");
    let unseen = PlacedFault {
        id: "shows-nothing".to_owned(),
        deviations: Vec::new(),
        changes: Vec::new(),
        ..scenario.faults[0].clone()
    };
    scenario.faults.push(unseen);
    let survey = survey(scenario);
    check(&survey);
    let found: Vec<_> = survey.unconfirmable.iter().map(|one| (one.fault, one.why.clone())).collect();
    assert_eq!(found, [(2, CannotConfirm::LooksSound)]);
    assert!(survey_text(&survey).contains("no test tells it from a sound vehicle"));
}

/// One sits in a piece of wire that no repair reaches.
#[test]
fn a_fault_that_no_repair_mends_is_unconfirmable() {
    let mut scenario = scenario("two-faults");
    let conductor = scenario.vehicle.conductors.iter().position(|one| one.id == "latch-ground");
    let conductor = ConductorId::at(conductor.expect("the estate has one"));
    assert_eq!(scenario.vehicle.conductor(conductor).runs[0].station, None, "a piece that cannot be reached");
    let series = Deviation::Series { conductor, piece: 0, ohms: f64::INFINITY, when: When::Always };
    let out_of_reach =
        PlacedFault { id: "out-of-reach".to_owned(), deviations: vec![series], ..scenario.faults[0].clone() };
    scenario.faults.push(out_of_reach);
    let survey = survey(scenario);
    check(&survey);
    assert_eq!(survey.unconfirmable.len(), 1, "{:?}", survey.unconfirmable);
    assert_eq!(survey.unconfirmable[0].fault, 2);
    assert!(matches!(survey.unconfirmable[0].why, CannotConfirm::StillFails(_)));
}

/// One and the same break, once with a key cell beside it that is to be renewed although it is as good as a sound one.
#[test]
fn faults_that_show_the_same_and_need_other_repairs_are_a_group() {
    let mut scenario = scenario("two-faults");
    let mut also = scenario.faults[0].clone();
    also.id = "and-something-that-never-shows".to_owned();
    let key = &scenario.vehicle.key;
    also.deviations.push(Deviation::KeyCell(key.cell_volts, key.cell_ohms));
    scenario.faults.push(also);
    let survey = survey(scenario);
    check(&survey);
    let groups: Vec<&[usize]> = survey.groups.iter().map(|group| group.faults.as_slice()).collect();
    assert_eq!(groups, [[0, 2].as_slice()]);
}

/// A dead pad and a module that does not hear it: the meter on the pad's wire while it is pressed tells them apart, and
/// the second trial's command is watched like the first's.
#[test]
fn every_trial_is_watched() {
    let survey = survey(scenario("pad-or-module"));
    check(&survey);
    assert!(survey.groups.is_empty(), "{:?}", survey.groups);
    assert!(survey_text(&survey).contains("capture on; press pad"), "{}", survey_text(&survey));
}

/// A module that does not hear the pad, once with a small leak beside it on the cargo lamp's feed: it draws too little for
/// volts and ohms to show it, and the clamp round the battery's lead would.
#[test]
fn what_would_tell_a_group_apart_is_named() {
    let mut scenario = scenario("pad-or-module");
    let conductor = scenario.vehicle.conductors.iter().position(|one| one.id == "cargo-feed");
    let conductor = ConductorId::at(conductor.expect("the estate has one"));
    let wire = &mut scenario.vehicle.conductors[conductor.index()];
    // From the lamp, so that a new terminal there is what mends it.
    std::mem::swap(&mut wire.from, &mut wire.to);
    let mut also = scenario.faults[1].clone();
    also.id = "and-a-leak-of-the-cargo-feed".to_owned();
    also.deviations.push(Deviation::ToBody { conductor, piece: 0, ohms: 200.0, when: When::Always });
    scenario.faults.push(also);
    let survey = survey(scenario);
    check(&survey);
    let [group] = survey.groups.as_slice() else { panic!("one group, not {:?}", survey.groups) };
    assert_eq!(group.faults, [1, 2]);
    let Separator::Test(test) = &group.by else { panic!("{:?}", group.by) };
    assert!(test.iter().any(|act| matches!(act, Action::Clamp(_))), "{test:?}");
    let text = survey_text(&survey);
    assert!(text.contains("would tell: ") && text.contains("clamp battery-plus"), "{text}");
}

#[test]
fn no_weights_at_all_give_a_sensible_survey() {
    let mut scenario = scenario("two-faults");
    for fault in &mut scenario.faults {
        fault.weight = 0;
    }
    let survey = survey(scenario);
    check(&survey);
    for figure in [survey.expected_minutes, survey.swapper_minutes, survey.lower_bound_minutes, survey.bits] {
        assert!(figure.is_finite());
    }
    assert!(!survey_text(&survey).contains("NaN"));
    survey_json(&survey, 0).expect("JSON holds every figure");
}

#[test]
fn threads_change_no_digit() {
    let of = |threads| {
        let survey = Survey::new(Arc::new(scenario("six-faults")), threads).expect("can be surveyed");
        (survey_json(&survey, 0).expect("JSON"), survey_text(&survey), survey_html(&survey))
    };
    assert_eq!(of(1), of(2));
}

#[test]
fn difficulty_follows_its_formula() {
    assert_eq!(difficulty(0.0, 0.0, 0.0), 1);
    assert_eq!(difficulty(-3.0, 0.0, 0.0), 1);
    assert_eq!(difficulty(10.0, 2.5, 0.0), 3);
    assert_eq!(difficulty(9.9, 0.0, 0.0), 1);
    assert_eq!(difficulty(10.0, 2.5, 0.5), 4);
    assert_eq!(difficulty(500.0, 8.0, 1.0), 5);
}

fn run(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_probeworthy")).args(arguments).output().expect("the program starts")
}

#[test]
fn the_program_surveys_a_file() {
    let page = std::env::temp_dir().join(format!("survey-{}.html", std::process::id()));
    let scenario = file("two-faults");
    let (scenario, page_name) = (scenario.to_string_lossy(), page.to_string_lossy());
    let ran = run(&["survey", &scenario, "--json", "--threads", "1", "--html", &page_name]);
    assert!(ran.status.success(), "{}", String::from_utf8_lossy(&ran.stderr));
    let line: Value = serde_json::from_slice(&ran.stdout).expect("one JSON object");
    for key in [
        "faults",
        "tests",
        "groups",
        "unconfirmable",
        "expected_minutes",
        "lower_bound_minutes",
        "swapper_minutes",
        "difficulty",
        "readings",
        "elapsed_ms",
    ] {
        assert!(!line[key].is_null(), "no {key} in {line}");
    }
    assert_eq!(line["faults"], 2);
    assert!(std::fs::read_to_string(&page).expect("a page").contains("<h1>Two faults</h1>"));
    std::fs::remove_file(&page).expect("it was written here");
}

/// The pool on which the bench of reasoning works: the program itself finds nothing wrong with it.
#[test]
fn the_large_pool_is_sound() {
    assert_eq!(scenario("five-hundred-faults").faults.len(), 500);
    let name = file("five-hundred-faults");
    let ran = run(&["check", &name.to_string_lossy()]);
    let told = String::from_utf8_lossy(&ran.stdout);
    assert!(ran.status.success() && told.contains("1 file checked, no problem"), "{told}");
}

#[test]
fn what_cannot_be_surveyed_gives_one_message() {
    let bad = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/bad/shape.scenario.ron");
    let bad = bad.to_string_lossy();
    let zero = std::env::temp_dir().join(format!("zero-{}.scenario.ron", std::process::id()));
    let text = std::fs::read_to_string(file("one-fault")).expect("a file of these tests");
    std::fs::write(&zero, text.replace("weight: 1", "weight: 0")).expect("a writable folder");
    let zero_name = zero.to_string_lossy();
    for (arguments, part) in [
        (vec!["survey", "no-such-job"], "there is no scenario"),
        (vec!["survey", &bad], "shape.scenario.ron"),
        (vec!["survey", &zero_name], "a weight of 0 can never be drawn"),
        (vec!["survey", "--threads", "0"], "--threads"),
    ] {
        let ran = run(&arguments);
        let message = String::from_utf8_lossy(&ran.stderr);
        assert_eq!(ran.status.code(), Some(2), "{arguments:?}: {message}");
        assert!(ran.stdout.is_empty() && message.contains(part), "{arguments:?}: {message}");
        assert!(!message.contains("panicked"), "{message}");
    }
    std::fs::remove_file(&zero).expect("it was written here");
}
