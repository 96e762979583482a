//! The suspicion sheet: what a learner suspects is marked at any time, and changes nothing but the sheet.

use std::sync::{Arc, LazyLock};

use probeworthy::bench::{Action, Marking, Refusal};
use probeworthy::fault::Diagnosis;
use probeworthy::job::{Choice, Job, NoJournal};
use probeworthy::record;
use probeworthy::scenario::{Scenario, default_scenario, load};
use probeworthy::words;

static SCENARIO: LazyLock<Arc<Scenario>> =
    LazyLock::new(|| Arc::new(load(default_scenario()).expect("the flagship").scenario));

/// A fault that comes and goes, so that chance has its say in many steps.
const FAULT: &str = "latch-feed.open.body-grommet.flexed";

fn act(line: &str) -> Action {
    words::parse(&SCENARIO.vehicle, line).unwrap_or_else(|error| panic!("{line}: {error}"))
}

fn marked(line: &str) -> (Diagnosis, u8) {
    match act(&format!("suspect {line}")) {
        Action::Suspect(marked, percent) => (marked, percent),
        other => panic!("{line}: {other:?}"),
    }
}

fn play(lines: &[&str]) -> Job {
    let mut job = Job::new(Arc::clone(&SCENARIO), 11, Choice::Named(FAULT.to_owned())).expect("of the pool");
    for line in lines {
        job.apply(act(line), &mut NoJournal).unwrap_or_else(|error| panic!("{line}: {error}"));
    }
    job
}

#[test]
fn the_sheet_holds_each_line_as_it_was_last_marked() {
    let job = play(&[
        "suspect latch-feed open at bellows 60%",
        "suspect latch open 20%",
        "look",
        "suspect key flat 5%",
        "suspect latch-feed open at bellows 35%",
        "suspect latch open 0%",
        "suspect pad open 0%",
    ]);
    assert_eq!(job.sheet(), [marked("latch-feed open at bellows 35%"), marked("key flat 5%")]);
}

/// With and without lines of the sheet between them, acts bring the same at the same minute, chance included.
#[test]
fn marking_changes_nothing_but_the_sheet() {
    let acts = [
        "key release",
        "lever",
        "lid up",
        "meter volts",
        "black body",
        "red battery-plus hastily",
        "flex body-grommet",
        "key release",
        "flex body-grommet",
        "lid shut",
        "key release",
        "flex body-grommet",
        "key release",
    ];
    let plain = play(&acts);
    let mut lines = Vec::new();
    for act in acts {
        lines.extend(["suspect latch open 30%", "mark latch-feed suspect", act, "suspect latch open 10%"]);
    }
    let marked = play(&lines);
    let acts_of = |job: &Job| -> Vec<String> {
        let steps = job.log().iter().filter(|step| !step.action.is_aside());
        steps.map(|step| format!("{step:?}")).collect()
    };
    assert_eq!(acts_of(&plain), acts_of(&marked));
    assert!(marked.log().iter().filter(|step| step.action.is_aside()).all(|step| {
        step.outcome.minutes == 0.0 && step.outcome.cost == 0 && step.outcome.refused.is_none()
    }));
    assert_eq!(format!("{:?}", plain.scene().rest()), format!("{:?}", marked.scene().rest()));
    let mut ends = [plain, marked];
    let worlds = ends.each_mut().map(|job| {
        job.apply(act("hand in"), &mut NoJournal).expect("handed in");
        let worlds = job.replay().expect("it can be replayed").expect("handed in");
        format!("{:?}", worlds.last().expect("an end"))
    });
    assert_eq!(worlds[0], worlds[1], "a replay ends where the job did");
}

#[test]
fn nothing_is_marked_after_the_hand_in() {
    let mut job = play(&["suspect latch open 30%", "hand in"]);
    let step = job.apply(act("suspect latch open 90%"), &mut NoJournal).expect("a step");
    assert_eq!(step.outcome.refused, Some(Refusal::HandedIn));
    assert_eq!(job.sheet(), [marked("latch open 30%")]);
}

/// What is marked on the wiring diagram is kept with the job, as it was last marked.
#[test]
fn marks_on_the_diagram_are_in_the_record_and_come_back_with_it() {
    let file = std::env::temp_dir().join(format!("marks-{}.jsonl", std::process::id()));
    let mut job = play(&[]);
    let mut recorder =
        record::start(&job, default_scenario(), &std::env::temp_dir(), Some(&file)).expect("a record");
    let lines = [
        "mark latch-feed suspect",
        "mark latch-feed at bellows suspect",
        "mark latch.3 good",
        "mark f1 suspect",
        "mark splice splice-lid-ground good",
        "mark latch-feed good",
        "mark f1 unknown",
        "mark pad unknown",
    ];
    for line in lines {
        job.apply(act(line), &mut recorder).unwrap_or_else(|error| panic!("{line}: {error}"));
    }
    let thing = |line: &str| match act(line) {
        Action::Mark(thing, _) => thing,
        other => panic!("{line}: {other:?}"),
    };
    let expected = [
        (thing("mark latch-feed good"), Marking::Good),
        (thing("mark latch-feed at bellows suspect"), Marking::Suspect),
        (thing("mark latch.3 good"), Marking::Good),
        (thing("mark splice splice-lid-ground good"), Marking::Good),
    ];
    assert_eq!(job.marked(), expected.into_iter().collect());
    assert_eq!(job.minutes(), 0.0);
    drop(recorder);
    let (mut resumed, mut recorder, _) = record::resume(&file).expect("the record");
    assert_eq!(resumed.marked(), job.marked());
    // After the hand-in the sheet stays as it was.
    resumed.apply(act("hand in"), &mut recorder).expect("a step");
    resumed.apply(act("mark latch-feed unknown"), &mut recorder).expect("a step");
    assert_eq!(resumed.marked(), job.marked());
    std::fs::remove_file(&file).expect("the test's file can go");
}
