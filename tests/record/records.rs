//! Records: a job that was left at any point is gone on with as if it had not been, and nothing that was shown is lost.

use std::collections::BTreeSet;
use std::fs;
use std::io;
use std::path::PathBuf;
use std::sync::{Arc, LazyLock};

use probeworthy::bench::{Action, WriteUpLine};
use probeworthy::job::{Choice, Entry, Job, JobError, Journal, NoJournal, Step};
use probeworthy::marks::mark_and_debrief;
use probeworthy::reasoning::Inquiry;
use probeworthy::record::{self, Keeper, Key, RecordError, Standing};
use probeworthy::scenario::{Scenario, default_scenario, load};
use probeworthy::vehicle::Vehicle;
use probeworthy::words;
use tempfile::TempDir;

static SCENARIO: LazyLock<Arc<Scenario>> =
    LazyLock::new(|| Arc::new(load(default_scenario()).expect("the flagship").scenario));

/// A fault that comes and goes, so that chance is drawn in many steps.
const FAULT: &str = "latch-feed.open.body-grommet.flexed";
const ACTS: &[&str] = &[
    "cautions",
    "ask else",
    "key release",
    "press pad",
    "lever",
    "lid up",
    "prop",
    "take lid-trim off",
    "meter volts",
    "capture on",
    "black body",
    "red latch.1",
    "claw close",
    "key release",
    "flex body-grommet",
    "lamp 21 latch.1 latch.3",
    "red latch.9",
    "fuse f1 pull",
    "key release",
    "fuse f1 back",
    "unplug latch",
    "name latch-feed open at body-grommet 60%",
    "suspect latch-feed open at body-grommet 60%",
    "suspect latch open 50%",
    "coach 2",
    "suspect latch open 0%",
    "write cause no volts at latch.1: 0.02 V — \"seen\" \\ twice",
    "plug latch",
    "plug latch",
    "lid 30",
    "flex body-grommet",
    "splice latch-feed body-grommet",
    "key release",
    "memory read",
    "hand in",
    "look",
];

fn job(choice: &Choice) -> Job {
    Job::new(Arc::clone(&SCENARIO), 11, choice.clone()).expect("a job")
}

fn named() -> Choice {
    Choice::Named(FAULT.to_owned())
}

/// The acts, but for those that are none on purpose.
fn acts() -> Vec<Action> {
    ACTS.iter().filter_map(|line| words::parse(&SCENARIO.vehicle, line).ok()).collect()
}

/// All that can be told of a job from outside.
fn state(job: &Job) -> String {
    let scene = job.scene();
    format!(
        "{:?} {:?} {:?} {} {} {:?} {:?} {:?} {:?} {} {} {:?} {:?} {:?} {:?}",
        scene.rest(),
        scene.kit(),
        scene.lid(),
        scene.claw_home(),
        scene.propped(),
        scene.panels_off(),
        scene.mated(),
        scene.switched_on(),
        scene.fuses_fitted(),
        job.minutes(),
        job.cost(),
        job.named(),
        job.sheet(),
        job.write_up(),
        job.handed_in(),
    )
}

/// What was told of the steps.
fn told(steps: &[Step]) -> Vec<String> {
    steps.iter().map(|step| format!("{step:?}")).collect()
}

/// A folder of its own, for as long as the value lives.
struct Folder(TempDir);

impl Folder {
    fn new() -> Self {
        Self(tempfile::tempdir().expect("a folder for temporary files"))
    }

    fn file(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }
}

/// Records these acts in a file, and leaves it.
fn recorded(folder: &Folder, name: &str, choice: &Choice, acts: &[Action]) -> (PathBuf, Job) {
    let path = folder.file(name);
    let mut job = job(choice);
    let mut recorder =
        record::start(&job, default_scenario(), folder.0.path(), Some(&path)).expect("a record");
    for action in acts {
        job.apply(action.clone(), &mut recorder).expect("an act");
    }
    (path, job)
}

#[test]
fn a_job_left_at_any_step_goes_on_as_if_it_had_not_been() {
    let folder = Folder::new();
    let acts = acts();
    assert_eq!(acts.len(), ACTS.len() - 1);
    for (choice, every) in [(named(), 1), (Choice::Drawn, 6)] {
        let mut whole = job(&choice);
        let mut states = vec![state(&whole)];
        for action in &acts {
            whole.apply(action.clone(), &mut NoJournal).expect("an act");
            states.push(state(&whole));
        }
        let expected = told(whole.log());
        for left in (0..=acts.len()).step_by(every) {
            let (path, _) = recorded(&folder, &format!("{left}-{choice:?}.jsonl"), &choice, &acts[..left]);
            let (mut again, mut recorder, header) = record::resume(&path).expect("a sound record");
            assert_eq!(header.scenario, default_scenario());
            assert_eq!(state(&again), states[left], "left after {left}");
            for action in &acts[left..] {
                again.apply(action.clone(), &mut recorder).expect("an act");
            }
            assert_eq!(told(again.log()), expected, "left after {left}");
            drop(recorder);
            // And what was written after it had been resumed is sound as well.
            let (last, ..) = record::resume(&path).expect("a sound record");
            assert_eq!(state(&last), states[acts.len()], "left after {left}");
        }
    }
}

#[test]
fn a_kill_loses_no_act_whose_line_was_whole() {
    let folder = Folder::new();
    let acts = acts();
    let (path, _) = recorded(&folder, "whole.jsonl", &named(), &acts[..14]);
    let bytes = fs::read(&path).expect("the record");
    let ends: Vec<usize> =
        bytes.iter().enumerate().filter(|(_, byte)| **byte == b'\n').map(|(at, _)| at + 1).collect();
    let second_last = ends[ends.len() - 3];
    let cut = folder.file("cut.jsonl");
    let header = ends[0];
    let early = (0..=header).step_by(7).chain([header - 1, header]);
    // Near the ends of lines every place, elsewhere some of them.
    let near = |length: &usize| ends.iter().any(|end| end.abs_diff(*length) < 4) || length.is_multiple_of(23);
    for length in early.chain((second_last..=bytes.len()).filter(near)) {
        fs::write(&cut, &bytes[..length]).expect("a file");
        let whole = ends.iter().filter(|end| **end <= length).count();
        match record::resume(&cut) {
            Ok((mut job, mut recorder, _)) => {
                assert_eq!(job.log().len() + 1, whole, "cut at {length}");
                job.apply(acts[0].clone(), &mut recorder).expect("an act after the cut");
                drop(recorder);
                let (again, ..) = record::resume(&cut).expect("a record that was gone on with");
                assert_eq!(told(again.log()), told(job.log()), "cut at {length}");
            }
            Err(error) => {
                assert_eq!(whole, 0, "cut at {length}: {error}");
                assert!(error.to_string().contains("cut.jsonl:1:1: the record is empty\nhint: "), "{error}");
                assert_eq!(
                    fs::read(&cut).expect("the record"),
                    &bytes[..length],
                    "a refused record is left as it was"
                );
            }
        }
    }
}

#[test]
fn damage_before_the_end_is_told_and_not_mended() {
    let folder = Folder::new();
    let (path, _) = recorded(&folder, "whole.jsonl", &named(), &acts()[..6]);
    let bytes = fs::read(&path).expect("the record");
    let last = bytes[..bytes.len() - 1].iter().rposition(|byte| *byte == b'\n').expect("lines") + 1;
    let (_, sound, _) = record::resume(&path).expect("a sound record");
    drop(sound);
    let hurt = folder.file("hurt.jsonl");
    for at in (0..last).step_by(7) {
        let mut bytes = bytes.clone();
        bytes[at] ^= 0x08;
        fs::write(&hurt, &bytes).expect("a file");
        match record::resume(&hurt) {
            Ok(_) => panic!("byte {at} makes no difference"),
            Err(error) => {
                assert!(!error.to_string().is_empty());
                assert_eq!(fs::read(&hurt).expect("the record"), bytes, "a refused record is left as it was");
            }
        }
    }
}

#[test]
fn one_record_has_one_writer() {
    let folder = Folder::new();
    let path = folder.file("r.jsonl");
    let started =
        record::start(&job(&named()), default_scenario(), folder.0.path(), Some(&path)).expect("a record");
    assert!(matches!(record::resume(&path), Err(RecordError::InUse(at)) if at == path));
    drop(started);
    let (_, resumed, _) = record::resume(&path).expect("free again");
    assert!(matches!(record::resume(&path), Err(RecordError::InUse(_))));
    drop(resumed);
    assert!(record::resume(&path).is_ok());
    let again = record::start(&job(&named()), default_scenario(), folder.0.path(), Some(&path));
    assert!(matches!(again, Err(RecordError::Io { why, .. }) if why.kind() == io::ErrorKind::AlreadyExists));
}

#[test]
fn records_of_a_folder_are_numbered_and_the_last_unfinished_is_found() {
    let folder = Folder::new();
    let jobs = folder.file("jobs");
    let begin = |acts: &[&str]| {
        let mut job = job(&named());
        let mut recorder = record::start(&job, default_scenario(), &jobs, None).expect("a record");
        for line in acts {
            job.apply(words::parse(&SCENARIO.vehicle, line).expect(line), &mut recorder).expect(line);
        }
        recorder
    };
    assert_eq!(record::last_unfinished(&jobs), None);
    let names = [&["look"][..], &["look", "ask when"], &[], &["look", "hand in"], &["look", "refer"]]
        .map(|acts| begin(acts).path().file_name().expect("a name").to_string_lossy().into_owned());
    assert_eq!(
        names,
        ["job-0001.jsonl", "job-0002.jsonl", "job-0003.jsonl", "job-0004.jsonl", "job-0005.jsonl"]
    );
    assert_eq!(record::last_unfinished(&jobs), Some(jobs.join("job-0002.jsonl")));
    // A gap is not filled: the last is the last.
    fs::remove_file(jobs.join("job-0003.jsonl")).expect("a record");
    let open = begin(&["look"]);
    assert_eq!(open.path(), jobs.join("job-0006.jsonl"));
    assert_eq!(
        record::last_unfinished(&jobs),
        Some(jobs.join("job-0002.jsonl")),
        "what is open elsewhere is not offered"
    );
    drop(open);
    assert_eq!(record::last_unfinished(&jobs), Some(jobs.join("job-0006.jsonl")));
}

#[test]
fn what_is_put_away_is_in_no_list_and_as_whole_as_before() {
    let folder = Folder::new();
    let jobs = folder.file("jobs");
    let begin = || {
        let mut job = job(&named());
        let mut recorder = record::start(&job, default_scenario(), &jobs, None).expect("a record");
        job.apply(words::parse(&SCENARIO.vehicle, "look").expect("a command"), &mut recorder).expect("done");
        recorder.path().to_owned()
    };
    let (one, other) = (begin(), begin());
    fs::write(one.with_extension("ron"), "a bookmark").expect("a file");
    let text = fs::read_to_string(&one).expect("a record");
    let away = record::put_away(&one).expect("it can be moved");
    assert_eq!(away, jobs.join("put-away").join("job-0001.jsonl"));
    assert_eq!(fs::read_to_string(&away).expect("it is there"), text);
    assert!(away.with_extension("ron").is_file() && !one.with_extension("ron").exists());
    let paths = |jobs| record::kept(jobs).into_iter().map(|one| one.path).collect::<Vec<_>>();
    assert_eq!(paths(&jobs), std::slice::from_ref(&other));
    // Another one of that number finds a name of its own there.
    fs::copy(&away, &one).expect("it is moved back, as a copy");
    assert_eq!(paths(&jobs).len(), 2);
    let again = record::put_away(&one).expect("it can be moved");
    assert_eq!(again, jobs.join("put-away").join("job-0001-2.jsonl"));
    assert_eq!(fs::read_to_string(&away).expect("it is there"), text);
    assert!(record::put_away(&one).is_err(), "it has gone already");
    assert_eq!(record::last_unfinished(&jobs), Some(other));
}

#[test]
fn a_folder_tells_how_each_of_its_records_stands() {
    let folder = Folder::new();
    let jobs = folder.file("jobs");
    let begin = |acts: &[&str]| {
        let mut job = job(&named());
        let recorder = record::start(&job, default_scenario(), &jobs, None).expect("a record");
        let mut recorder = recorder.signing_with(Key::from_secret([1; 32]));
        for line in acts {
            job.apply(words::parse(&SCENARIO.vehicle, line).expect(line), &mut recorder).expect(line);
        }
        (job, recorder)
    };
    assert!(record::kept(&jobs).is_empty(), "there is no such folder yet");
    drop(begin(&[]));
    drop(begin(&["look", "ask when"]));
    let (_, open) = begin(&["look"]);
    drop(begin(&["look", "refer"]));
    let (job, mut recorder) = begin(&["look", "hand in"]);
    let fresh = Inquiry::new(Arc::clone(&SCENARIO), 2).expect("operating points");
    let (marks, debrief) = mark_and_debrief(&job, &fresh).expect("it can be replayed").expect("handed in");
    recorder.close(&job, &marks, &debrief).expect("it is closed");
    drop(recorder);
    fs::write(jobs.join("job-0006.jsonl"), "hello\n").expect("a file");
    fs::write(jobs.join("job-0007.jsonl"), [0xff, 0xfe]).expect("a file");
    fs::write(jobs.join("job-0008.jsonl"), "").expect("a file");
    let kept = record::kept(&jobs);
    assert!(kept.is_sorted_by_key(|one| u64::MAX - one.at_ms), "the latest first");
    let of = |number: u32| kept.iter().find(|one| one.path == jobs.join(format!("job-{number:04}.jsonl")));
    let standing = |number| of(number).map(|one| one.standing.clone());
    assert_eq!(standing(1), None, "nothing has been done in it");
    assert_eq!(standing(2), Some(Standing::Left));
    assert_eq!(standing(3), Some(Standing::InUse));
    assert_eq!(standing(4), Some(Standing::Unmarked));
    assert_eq!(standing(5), Some(Standing::Marked(marks.total)));
    assert!(
        matches!(standing(6), Some(Standing::Unreadable(why)) if why.contains("not the head of a record"))
    );
    assert!(matches!(standing(7), Some(Standing::Unreadable(_))));
    assert_eq!(standing(8), None, "nothing was ever whole in it");
    for number in 2..=5 {
        let one = of(number).expect("it is listed");
        assert_eq!(one.scenario, default_scenario());
        assert!(one.minutes > 0.0 && one.at_ms > 1_500_000_000_000, "{one:?}");
    }
    drop(open);
    assert_eq!(record::kept(&jobs).iter().filter(|one| one.standing == Standing::Left).count(), 2);
    // Each is told from all others, also by whoever has only its first line.
    let identities: BTreeSet<_> =
        (1..=5).map(|number| record::identity(&jobs.join(format!("job-{number:04}.jsonl")))).collect();
    assert_eq!(identities.len(), 5);
    assert!(!identities.contains(&None));
    assert_eq!(record::identity(&jobs.join("job-0008.jsonl")), None);
    assert_eq!(record::identity(&jobs.join("none.jsonl")), None);
}

/// Keeps acts until it fails.
struct Failing(usize);

impl Journal for Failing {
    fn append(&mut self, _: &Vehicle, _: &Entry<'_>) -> io::Result<()> {
        match self.0.checked_sub(1) {
            Some(left) => {
                self.0 = left;
                Ok(())
            }
            None => Err(io::Error::new(io::ErrorKind::StorageFull, "the disk is full")),
        }
    }
}

#[test]
fn an_act_that_cannot_be_kept_is_not_done() {
    let acts = acts();
    let mut whole = job(&named());
    for (at, action) in acts.iter().enumerate() {
        let before = state(&whole);
        let error = whole.apply(action.clone(), &mut Failing(0)).expect_err("a full disk");
        assert!(matches!(&error, JobError::Journal(why) if why.kind() == io::ErrorKind::StorageFull));
        assert!(error.to_string().contains("could not be saved: the disk is full"), "{error}");
        assert_eq!((state(&whole), whole.log().len()), (before, at), "after a failed {action:?}");
        whole.apply(action.clone(), &mut Failing(1)).expect("room for one");
    }
    let mut straight = job(&named());
    for action in &acts {
        straight.apply(action.clone(), &mut NoJournal).expect("an act");
    }
    assert_eq!(told(whole.log()), told(straight.log()), "chance is not drawn anew after a failure");
}

#[test]
fn a_record_does_not_name_its_fault() {
    let folder = Folder::new();
    for fault in &SCENARIO.faults {
        let choice = Choice::Named(fault.id.clone());
        let (path, _) = recorded(&folder, &format!("{}.jsonl", fault.id), &choice, &acts()[..9]);
        let text = fs::read_to_string(&path).expect("the record");
        let title = words::diagnosis(words::Texts::english(), &SCENARIO.vehicle, fault.diagnosis);
        let hex: String = fault.id.bytes().map(|byte| format!("{byte:02x}")).collect();
        for secret in [&fault.id, &title, &hex] {
            assert!(!text.contains(secret.as_str()), "{secret} in\n{text}");
        }
        let (mut again, mut recorder, _) = record::resume(&path).expect("a sound record");
        again.apply(Action::HandIn { refer: true }, &mut recorder).expect("the hand-in");
        assert_eq!(again.truth().map(|truth| &truth.id), Some(&fault.id));
    }
}

#[test]
fn whatever_is_written_up_is_kept() {
    let folder = Folder::new();
    let said = [
        "plain",
        "",
        " ",
        "  wide  ",
        "two\nlines",
        "tab\tand \\ \" 'quotes'",
        "é Ω — 😀",
        "\u{1b}[31m",
        "# 12 V",
    ];
    let acts: Vec<Action> =
        said.iter().map(|said| Action::Write(WriteUpLine::Cause, (*said).to_owned())).collect();
    for (at, action) in acts.iter().enumerate() {
        let (path, job) = recorded(&folder, &format!("{at}.jsonl"), &named(), std::slice::from_ref(action));
        let text = fs::read_to_string(&path).expect("the record");
        assert_eq!(text.lines().count(), 2, "one line an act");
        let (again, ..) =
            record::resume(&path).unwrap_or_else(|error| panic!("after writing {:?}: {error}", said[at]));
        let trimmed =
            |job: &Job| job.write_up().values().map(|text| text.trim().to_owned()).collect::<Vec<_>>();
        assert_eq!(trimmed(&again), trimmed(&job));
    }
}
