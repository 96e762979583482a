//! What is suggested for practice, and progress by skill. The rules are ours (common practice, no source of figures).

use std::process::Command;

use probeworthy::practice::{Done, Lesson, Next, Skill, Why, next_jobs, progress, shelf_lessons};
use probeworthy::scenario::{SHELF, load};
use proptest::prelude::*;

fn lesson(name: &str, skill: Skill, circuit: &str) -> Lesson {
    Lesson { scenario: name.to_owned(), skill, circuit: circuit.to_owned() }
}

fn lessons() -> Vec<Lesson> {
    vec![
        lesson("fuse", Skill::Feeds, "latch"),
        lesson("lamp", Skill::Feeds, "tail"),
        lesson("setting", Skill::Complaint, "latch"),
        lesson("key", Skill::Complaint, "boot"),
        lesson("dim", Skill::Load, "tail"),
        lesson("hinge", Skill::Loom, "latch"),
        lesson("relay", Skill::Modules, "screen"),
    ]
}

fn done(lessons: &[Lesson], name: &str, share: f64) -> Done {
    let lesson = lessons.iter().find(|lesson| lesson.scenario == name).expect("a lesson of the list");
    Done {
        scenario: name.to_owned(),
        skill: lesson.skill,
        finding_share: share,
        proof_share: 1.0,
        total: 100.0 * share,
    }
}

fn names<'a>(lessons: &'a [Lesson], next: &[Next]) -> Vec<&'a str> {
    next.iter().map(|one| lessons[one.lesson].scenario.as_str()).collect()
}

#[test]
fn a_beginner_starts_with_the_first_lesson_and_meets_another_skill_next() {
    let lessons = lessons();
    let next = next_jobs(&lessons, &[], 3);
    assert_eq!(names(&lessons, &next)[..2], ["fuse", "setting"]);
    assert!(next.iter().all(|one| one.why == Why::New));
}

#[test]
fn what_went_badly_comes_back_after_two_jobs_and_what_went_well_after_eight_then_sixteen() {
    let lessons = lessons();
    let first_after = |past: &[Done]| {
        let next = next_jobs(&lessons, past, 1);
        (names(&lessons, &next)[0], next[0].why)
    };
    let mut past = vec![done(&lessons, "dim", 0.3), done(&lessons, "fuse", 1.0)];
    assert_eq!(first_after(&past[..1]).1, Why::New);
    assert_eq!(first_after(&past), ("dim", Why::WentBadly(2)));
    // All lessons done well once: the oldest is due eight jobs later.
    past = lessons.iter().map(|lesson| done(&lessons, &lesson.scenario, 0.9)).collect();
    past.push(done(&lessons, "relay", 0.9));
    assert_eq!(first_after(&past), ("fuse", Why::KeepUp(8)));
    // Twice in a row well: not due again before sixteen jobs have passed.
    let twice: Vec<Done> = ["fuse", "fuse"].iter().map(|name| done(&lessons, name, 0.9)).collect();
    for (others, due) in [(15, false), (16, true)] {
        let mut past = twice.clone();
        past.extend((0..others - 1).map(|_| done(&lessons, "hinge", 0.9)));
        let only = &lessons[..1];
        let next = next_jobs(only, &past, 1);
        assert_eq!(next[0].why, Why::KeepUp(others));
        let with_one_new = [lessons[0].clone(), lessons[5].clone()];
        // "hinge" is due even later, so that the fuse comes first once it is due.
        let first = names(&with_one_new, &next_jobs(&with_one_new, &past, 1))[0].to_owned();
        assert!(!due || first == "fuse", "after {others} others {first} is suggested");
    }
}

#[test]
fn whoever_does_all_well_comes_past_every_lesson() {
    let lessons = lessons();
    let mut past: Vec<Done> = Vec::new();
    for _ in 0..lessons.len() {
        let next = next_jobs(&lessons, &past, 1);
        past.push(done(&lessons, names(&lessons, &next)[0], 0.9));
    }
    let mut seen: Vec<&str> = past.iter().map(|job| job.scenario.as_str()).collect();
    seen.sort_unstable();
    seen.dedup();
    assert_eq!(seen.len(), lessons.len());
    let in_a_row = past.windows(2).filter(|pair| pair[0].skill == pair[1].skill).count();
    assert_eq!(in_a_row, 0, "{past:?}");
}

#[test]
fn faults_of_the_pool_train_the_skill_that_finding_them_takes() {
    let scenario = load("tailgate-ignores-its-key").expect("it is on the shelf").scenario;
    for (fault, skill) in [
        ("lockout.left-on", Skill::Complaint),
        ("key.button-dead", Skill::Complaint),
        ("latch-feed.open.bellows", Skill::Feeds),
        ("latch-ground.9-ohm.bellows", Skill::Load),
        ("latch-ground.open.bellows.flexed", Skill::Loom),
    ] {
        let placed = scenario.fault(fault).expect("a fault of the pool");
        assert_eq!(Skill::of(&scenario.vehicle, placed), skill, "{fault}");
    }
}

/// Worked by hand: .4, then .4 + .5 · (.8 - .4) = .6, then .6 + .5 · (1 - .6) = .8.
#[test]
fn the_latest_job_is_half_of_a_level() {
    let lessons = lessons();
    let past: Vec<Done> = [0.4, 0.8, 1.0].iter().map(|share| done(&lessons, "dim", *share)).collect();
    let all = progress(&past);
    let of = |skill: Skill| all.iter().find(|one| one.skill == skill).expect("every skill is there");
    assert_eq!(of(Skill::Load).jobs, 3);
    assert!((of(Skill::Load).level.expect("trained") - 0.8).abs() < 1e-12);
    assert_eq!(of(Skill::Loom).level, None);
    assert_eq!(of(Skill::Proof).jobs, 3);
}

#[test]
fn the_shelf_holds_lessons_for_every_skill() {
    let lessons = shelf_lessons();
    assert_eq!(lessons.len(), SHELF.len());
    for skill in Skill::ALL.into_iter().filter(|skill| *skill != Skill::Proof) {
        assert!(
            lessons.iter().any(|lesson| lesson.skill == skill),
            "no lesson trains {skill:?}: {lessons:?}"
        );
    }
    let next = next_jobs(&lessons, &[], 5);
    assert_eq!(lessons[next[0].lesson].scenario, "first-fuse");
    let skills =
        next.windows(2).filter(|pair| lessons[pair[0].lesson].skill == lessons[pair[1].lesson].skill);
    assert!(skills.count() <= 1, "{:?}", names(&lessons, &next));
}

/// A job that was handed in at once has gone badly; its lesson is not new any more, and the record's folder says so.
#[test]
fn the_command_goes_by_the_records_of_a_folder() {
    let folder = std::env::temp_dir().join(format!("probeworthy-practice-{}", std::process::id()));
    std::fs::create_dir_all(&folder).expect("a folder for the test");
    let script = folder.join("script");
    std::fs::write(&script, "hand in\n").expect("a script for the test");
    let run = |arguments: &[&str]| {
        let output = Command::new(env!("CARGO_BIN_EXE_probeworthy"))
            .args(arguments)
            .env("XDG_DATA_HOME", &folder)
            .output()
            .expect("the program runs");
        (output.status.success(), String::from_utf8_lossy(&output.stdout).into_owned())
    };
    let path = |name: &str| folder.join(name).to_string_lossy().into_owned();
    let (played, said) = run(&[
        "desk",
        "first-fuse",
        "--seed",
        "3",
        "--script",
        &path("script"),
        "--record",
        &path("job-1.jsonl"),
    ]);
    assert!(played, "{said}");
    let (well, text) = run(&["practice", "--records", &path("")]);
    assert!(well && text.contains("from 1 job handed in"), "{text}");
    assert!(text.contains("proof and safety             0 %, 1 job"), "{text}");
    assert!(!text.contains("first-fuse"), "it comes back after two jobs, not at once: {text}");
    let (well, _) = run(&["practice", "--records", &path("nowhere")]);
    assert!(!well);
    std::fs::remove_dir_all(&folder).expect("the test's folder can go");
}

proptest! {
    #[test]
    fn suggestions_are_lessons_of_the_list_each_once(
        past in proptest::collection::vec((0_usize..7, 0.0_f64..=1.0), 0..60),
        most in 0_usize..12,
    ) {
        let lessons = lessons();
        let past: Vec<Done> =
            past.into_iter().map(|(at, share)| done(&lessons, &lessons[at].scenario, share)).collect();
        let next = next_jobs(&lessons, &past, most);
        prop_assert_eq!(next.len(), most.min(lessons.len()));
        let mut seen: Vec<usize> = next.iter().map(|one| one.lesson).collect();
        seen.sort_unstable();
        seen.dedup();
        prop_assert_eq!(seen.len(), next.len());
        let never_tried = |at: usize| past.iter().all(|job| job.scenario != lessons[at].scenario);
        for one in &next {
            prop_assert_eq!(one.why == Why::New, never_tried(one.lesson));
        }
    }
}
