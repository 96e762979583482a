//! Two faults at once: each hides behind the other, both have to be mended, and each name counts half.

use std::sync::{Arc, LazyLock};

use probeworthy::bench::Heard;
use probeworthy::job::{Choice, Job, NoJournal};
use probeworthy::marks::{Marks, Part, mark};
use probeworthy::reasoning::Inquiry;
use probeworthy::scenario::{Scenario, load};
use probeworthy::survey::Survey;
use probeworthy::threads;
use probeworthy::words;

const BOTH: &str = "f1.blown+latch-ground.open.bellows";
const GROUND: &str = "latch-ground open at bellows";
const FUSE: &str = "f1 blown";

static SCENARIO: LazyLock<Arc<Scenario>> =
    LazyLock::new(|| Arc::new(load("tests/survey/two-at-once.scenario.ron").expect("a sound file").scenario));

static FRESH: LazyLock<Inquiry> = LazyLock::new(|| {
    Inquiry::new(Arc::clone(&SCENARIO), threads::available()).expect("every vehicle has an operating point")
});

fn play(fault: &str, lines: &[&str]) -> Job {
    let mut job = Job::new(Arc::clone(&SCENARIO), 5, Choice::Named(fault.to_owned())).expect("of the pool");
    for line in lines {
        let action = words::parse(&SCENARIO.vehicle, line).unwrap_or_else(|error| panic!("{line}: {error}"));
        let step = job.apply(action, &mut NoJournal).unwrap_or_else(|error| panic!("{line}: {error}"));
        assert_eq!(step.outcome.refused, None, "{line}");
    }
    job
}

/// Whether the last act opened the latch.
fn opened(job: &Job) -> bool {
    job.log().last().is_some_and(|step| step.outcome.heard.contains(&Heard::LatchOpens))
}

/// What proves both: the fuse looked at, and, with a good one, the break found on the loom.
const SEARCH: [&str; 6] =
    ["cautions", "key release", "fuse f1 look", "fuse f1 fit 10", "key release", "tape bellows"];

fn marks(fault: &str, rest: &[&str]) -> Marks {
    let job = play(fault, &[&SEARCH[..], rest].concat());
    mark(&job, &FRESH).expect("it can be replayed").expect("it has been handed in")
}

fn diagnosis(marks: &Marks) -> f64 {
    let line = marks.lines.iter().find(|line| line.part == Part::Diagnosis).expect("every part has its line");
    line.marks / line.out_of / marks.progress
}

/// To mend one of them is not enough, whichever it is.
#[test]
fn both_have_to_be_mended() {
    for (first, second) in
        [("fuse f1 fit 10", "splice latch-ground bellows"), ("splice latch-ground bellows", "fuse f1 fit 10")]
    {
        let one = play(BOTH, &[first, "key release"]);
        assert!(!opened(&one), "{first}: the other is still there");
        assert!(opened(&play(BOTH, &[first, second, "key release"])), "{first}, {second}");
    }
}

/// The titles of both are shown after the hand-in, and one of them alone before counts half.
#[test]
fn each_name_counts_half() {
    let mend = ["splice latch-ground bellows", "key release"];
    let with = |names: &[&str]| {
        let names: Vec<String> = names.iter().map(|name| format!("name {name}")).collect();
        let names: Vec<&str> = names.iter().map(String::as_str).collect();
        marks(BOTH, &[&names[..], &mend[..], &["hand in"]].concat())
    };
    let two = with(&[FUSE, GROUND]);
    let turned = with(&[GROUND, FUSE]);
    let one = with(&[GROUND]);
    assert!((diagnosis(&two) - diagnosis(&turned)).abs() < 0.005, "the order says nothing");
    assert!(diagnosis(&two) > 0.9, "both named, on evidence: {}", diagnosis(&two));
    assert!(
        (diagnosis(&one) - diagnosis(&two) / 2.0).abs() < 0.01,
        "{} {}",
        diagnosis(&one),
        diagnosis(&two)
    );
    // Of more names than things that are wrong, the last count.
    let late = with(&[FUSE, GROUND, "latch open", "pad open"]);
    assert!(diagnosis(&late) < 0.05, "{}", diagnosis(&late));
    // A single fault is named by the last name alone.
    let single = marks("f1.blown", &["name latch open", "name f1 blown", "key release", "hand in"]);
    let job = play(BOTH, &["hand in"]);
    let title =
        words::fault_title(words::Texts::english(), &SCENARIO.vehicle, job.truth().expect("handed in"));
    assert!(title.contains(", and "), "{title}");
    assert!(diagnosis(&single) > 0.5, "{}", diagnosis(&single));
}

/// The evidence tells two at once from either alone.
#[test]
fn evidence_tells_two_from_one() {
    for fault in
        SCENARIO.faults.iter().filter(|fault| fault.id.contains("blown") || fault.id.contains("ground"))
    {
        let job = play(&fault.id, &SEARCH);
        let mut inquiry = FRESH.clone();
        for step in job.log() {
            inquiry.observe(&step.action, &step.outcome).expect("every vehicle has an operating point");
        }
        let shares = inquiry.probabilities();
        let at = SCENARIO.faults.iter().position(|one| one.id == fault.id).expect("of the pool");
        assert!(shares[at] > 0.9, "{}: {shares:?}", fault.id);
    }
}

/// The survey can confirm it, tells it from the others, and its plan ends.
#[test]
fn the_survey_takes_it_like_any_other() {
    let survey = Survey::new(Arc::clone(&SCENARIO), threads::available())
        .expect("every vehicle has an operating point");
    assert!(survey.unconfirmable.is_empty(), "{:?}", survey.unconfirmable);
    assert!(survey.groups.is_empty(), "{:?}", survey.groups);
    assert!(
        survey.expected_minutes >= survey.lower_bound_minutes
            && survey.expected_minutes < survey.swapper_minutes
    );
}

/// One clear error, with its place and how to mend it.
#[test]
fn what_is_there_already_is_refused() {
    let text = std::fs::read_to_string("tests/survey/two-at-once.scenario.ron").expect("it is there");
    let folder = std::env::temp_dir().join(format!("two-at-once-{}", std::process::id()));
    std::fs::create_dir_all(&folder).expect("a folder");
    let path = folder.join("wrong.scenario.ron");
    let second = "and: [Parted(conductor: \"latch-ground\", at: \"bellows\")]";
    for (wrong, what) in [
        ("and: [FuseBlown(\"f1\")]", "\"f1.blown\" is there already"),
        ("and: [FuseBlown(\"f9\")]", "f9"),
        ("and: LockoutOn", "list"),
    ] {
        assert!(text.contains(second), "the second fault is there to be replaced");
        std::fs::write(&path, text.replace(second, wrong)).expect("written");
        let Err(error) = load(path.to_str().expect("plain")) else { panic!("{wrong} is taken") };
        let said = error.to_string();
        assert!(said.contains(what) && said.contains("wrong.scenario.ron:13:"), "{wrong}: {said}");
    }
    std::fs::remove_dir_all(folder).expect("it goes");
}
