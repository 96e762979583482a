//! Assessment papers: what is sealed stays sealed, and what was tampered with is found.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Arc, LazyLock};

use probeworthy::bench::{KitItem, Refusal};
use probeworthy::fault::draw;
use probeworthy::job::{Job, JobError};
use probeworthy::marks::mark_and_debrief;
use probeworthy::paper::{
    Candidate, Hardness, Paper, PaperError, PaperJob, PaperKey, PaperScenario, Pick, Seeds, Terms,
    minutes_by_fault, pick_seeds, random_salt,
};
use probeworthy::reasoning::Inquiry;
use probeworthy::record::{self, Clock, Keeper, Key, RecordError, SitError, Sitting, Verdict, Verifier};
use probeworthy::scenario::{Scenario, Variation, load};
use probeworthy::survey::Survey;
use probeworthy::words;
use serde_json::{Value, json};
use tempfile::TempDir;

const SMALL: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/survey/two-faults.scenario.ron");
const SIX: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/survey/six-faults.scenario.ron");
const PASSPHRASE: &str = "four words by chance";
/// Enough to show that it works; a real paper takes the hardness that RFC 9106 recommends.
const SOFT: Hardness = Hardness { memory_kib: 64, passes: 1, lanes: 1 };
const NAMES: &[&str] =
    &["Anna", "Bert", "Åsa \"Ø\" O'Neil", "../../etc", "名前 🦊", "a\\b\tc", "-", "x'; --", "Anna "];
const ACTS: &[&str] = &["cautions", "key release", "lamp 5 latch.1 body", "meter volts", "coach 1", "refer"];

static SCENARIO: LazyLock<Arc<Scenario>> =
    LazyLock::new(|| Arc::new(load(SMALL).expect("a sound file").scenario));

/// The scenario under the terms of all these papers, as reason sees it.
static FRESH: LazyLock<Inquiry> = LazyLock::new(|| {
    let scenario = terms().applied_to(Scenario::clone(&SCENARIO));
    Inquiry::new(Arc::new(scenario), 2).expect("operating points")
});

/// A folder of its own, for as long as the value lives.
struct Folder(TempDir);

impl Folder {
    fn new() -> Self {
        Self(tempfile::tempdir().expect("a folder for temporary files"))
    }

    fn write(&self, name: &str, text: &str) -> PathBuf {
        let path = self.0.path().join(name);
        fs::write(&path, text).expect("a file");
        path
    }
}

/// A clock that stands.
struct Standing(u64);

impl Clock for Standing {
    fn now_ms(&mut self) -> u64 {
        self.0
    }
}

fn terms() -> Terms {
    let job = PaperScenario { scenario: SMALL.to_owned(), scenario_hash: SCENARIO.hash() };
    Terms {
        title: "Autumn".to_owned(),
        program: "test".to_owned(),
        jobs: vec![job.clone(), job],
        seeds: Seeds::Each,
        limit_minutes: Some(60),
        attempts: 2,
        varied: false,
        instruments: vec![KitItem::Meter, KitItem::Clamp],
        salt: random_salt().expect("randomness"),
        hardness: SOFT,
    }
}

/// A paper for all names, and its key. Seeds count up.
fn set(terms: Terms) -> (Paper, PaperKey) {
    let key = PaperKey::of(PASSPHRASE, &terms.salt, terms.hardness).expect("a key");
    let mut seed = 1_000_u64;
    let candidates = NAMES.iter().map(|name| {
        let mut draws = Vec::new();
        for job in 1..=terms.jobs.len() {
            let sealed = (1..=terms.attempts).map(|attempt| {
                seed += 1;
                let job = PaperJob { terms: terms.clone(), candidate: (*name).to_owned(), job, attempt };
                key.seal(&seed.to_le_bytes(), &job.bound_to()).expect("a seal")
            });
            draws.push(sealed.collect());
        }
        Candidate { name: (*name).to_owned(), draws }
    });
    let candidates = candidates.collect();
    (Paper::new(terms, candidates, &key), key)
}

fn sit(folder: &Folder, paper: &Paper, key: &PaperKey, name: &str) -> Result<Sitting, SitError> {
    record::sit(
        (paper, &folder.0.path().join("paper.json")),
        key,
        name,
        None,
        &folder.0.path().join("records"),
    )
}

/// Does all acts that are left and closes the record; returns its file.
fn done(sitting: Sitting) -> PathBuf {
    let Sitting { mut job, recorder, .. } = sitting;
    let mut recorder = recorder.signing_with(Key::from_secret([7; 32]));
    for line in &ACTS[job.log().len()..] {
        job.apply(words::parse(&SCENARIO.vehicle, line).expect(line), &mut recorder).expect(line);
    }
    close(&job, &mut recorder);
    recorder.path().to_owned()
}

fn close(job: &Job, recorder: &mut record::Recorder) {
    assert_eq!(job.scenario().forbidden, FRESH.scenario().forbidden);
    let (marks, debrief) = mark_and_debrief(job, &FRESH).expect("a replay").expect("it was handed in");
    recorder.close(job, &marks, &debrief).expect("a closing");
}

fn verdict(verifier: &mut Verifier, path: &Path) -> Verdict {
    verifier.verify(path).expect("a file")
}

fn of(paper: &Paper, key: &PaperKey) -> Verifier {
    Verifier::new(false, 2).of_paper(paper.clone(), key.clone())
}

#[track_caller]
fn broken(verdict: &Verdict, part: &str) {
    assert!(!verdict.whole(), "it is taken for sound");
    assert!(verdict.breaks.iter().any(|one| one.what.contains(part)), "no {part} in {:#?}", verdict.breaks);
}

/// What somebody does who knows the format and has a signing key, but not the paper's: all links and the signature are
/// made anew.
fn forged(lines: &[String]) -> String {
    let mut text = String::new();
    let mut before = String::new();
    for (at, line) in lines.iter().enumerate() {
        let mut value: Value = serde_json::from_str(line).expect(line);
        let line = if at == 0 {
            line.clone()
        } else {
            value["previous"] = json!(before);
            if let Some(seal) = value.get_mut("seal") {
                let stamp = seal["stamp"].clone();
                *seal = serde_json::to_value(Key::from_secret([8; 32]).seal(&before)).expect("a seal");
                seal["stamp"] = stamp;
            }
            value.to_string()
        };
        before = record::link(&line);
        text.push_str(&line);
        text.push('\n');
    }
    text
}

fn lines(path: &Path) -> Vec<String> {
    fs::read_to_string(path).expect("a record").lines().map(str::to_owned).collect()
}

#[test]
fn a_paper_is_sat_and_its_records_are_sound() {
    let folder = Folder::new();
    let (paper, key) = set(terms());
    let mut verifier = Verifier::new(true, 2).of_paper(paper.clone(), key.clone());
    let mut files = Vec::new();
    for name in &NAMES[..3] {
        let sitting = sit(&folder, &paper, &key, name).expect(name);
        assert_eq!((sitting.paper.job, sitting.paper.attempt, sitting.resumed), (1, 1, false));
        let file = done(sitting);
        let verdict = verdict(&mut verifier, &file);
        assert!(verdict.sound() && verdict.marked, "{name}: {:#?}", verdict.breaks);
        assert!(verdict.closing.as_ref().is_some_and(|closing| closing.result().is_some()), "it is opened");
        files.push(file);
    }
    // The first job is done; next is the second, then nothing but what is asked for.
    let second = sit(&folder, &paper, &key, "Anna").expect("the second job");
    assert_eq!((second.paper.job, second.paper.attempt), (2, 1));
    done(second);
    assert!(matches!(sit(&folder, &paper, &key, "Anna"), Err(SitError::AllHandedIn)));
    let at = |which| {
        record::sit((&paper, Path::new("p")), &key, "Anna", Some(which), &folder.0.path().join("records"))
    };
    assert_eq!(at(1).map(|sitting| done(sitting).exists()).ok(), Some(true), "a second attempt");
    assert!(matches!(at(1), Err(SitError::NoAttemptLeft(1, 2))));
    assert!(matches!(at(3), Err(SitError::NoSuchJob(3, 2))));
    assert!(matches!(at(0), Err(SitError::NoSuchJob(0, 2))));
    let stranger = sit(&folder, &paper, &key, "anna");
    assert!(stranger.is_err_and(|why| why.to_string().contains("hint: did you mean \"Anna\"?")));
    // Without the paper nothing is broken, but nothing can be replayed either.
    let verdict = verdict(&mut Verifier::new(true, 2), &files[0]);
    assert!(verdict.whole() && !verdict.sound(), "{:#?}", verdict.breaks);
}

#[test]
fn every_name_has_a_file_of_its_own() {
    let folder = Folder::new();
    let (paper, key) = set(terms());
    let mut files = Vec::new();
    for name in NAMES {
        let sitting = sit(&folder, &paper, &key, name).expect(name);
        let file = sitting.recorder.path().to_owned();
        assert_eq!(file.parent(), Some(folder.0.path().join("records").as_path()), "{name}");
        let plain = |letter: char| letter.is_ascii_alphanumeric() || "-.".contains(letter);
        assert!(file.file_name().is_some_and(|name| name.to_string_lossy().chars().all(plain)), "{file:?}");
        drop(sitting);
        let again = sit(&folder, &paper, &key, name).expect(name);
        assert!(again.resumed && again.recorder.path() == file, "{name}");
        files.push(file);
    }
    files.sort();
    files.dedup();
    assert_eq!(files.len(), NAMES.len());
}

#[test]
fn the_draw_is_in_no_file_and_a_job_is_resumed_only_with_the_passphrase() {
    let folder = Folder::new();
    let (paper, key) = set(terms());
    let Sitting { mut job, mut recorder, .. } = sit(&folder, &paper, &key, "Anna").expect("a job");
    for line in &ACTS[..4] {
        job.apply(words::parse(&SCENARIO.vehicle, line).expect(line), &mut recorder).expect(line);
    }
    let (file, seed) = (recorder.path().to_owned(), job.seed());
    assert_eq!(seed, 1_001);
    drop(recorder);
    let fault = draw(&SCENARIO.faults, seed).expect("a fault");
    let title = words::diagnosis(words::Texts::english(), &SCENARIO.vehicle, fault.diagnosis);
    let file_again = {
        assert!(matches!(record::resume(&file), Err(RecordError::Sealed { .. })));
        assert!(matches!(record::replayed(&file, None), Err(RecordError::Sealed { .. })));
        let other = PaperKey::of("another", &paper.terms.salt, SOFT).expect("a key");
        assert!(sit(&folder, &paper, &other, "Anna").is_err());
        let again = sit(&folder, &paper, &key, "Anna").expect("with the passphrase");
        assert!(again.resumed && again.job.log().len() == 4 && again.job.seed() == seed);
        done(again)
    };
    assert_eq!(file_again, file);
    // Among practice jobs it is not listed, closed or not, and even there it is not looked at without the key.
    let jobs = folder.0.path().join("jobs");
    fs::create_dir(&jobs).expect("a folder");
    let whole = fs::read_to_string(&file).expect("the record");
    let left: String = whole.lines().take(3).map(|line| format!("{line}\n")).collect();
    for text in [&whole, &left] {
        let copy = jobs.join("job-0001.jsonl");
        fs::write(&copy, text).expect("a copy");
        assert_eq!(record::kept(&jobs), []);
        assert_eq!(record::last_unfinished(&jobs), None);
        assert!(record::history(&jobs).is_empty());
        assert!(matches!(record::replayed(&copy, None), Err(RecordError::Sealed { .. })));
    }
    // Not even after the hand-in: others may still have to sit it.
    let bytes: String = seed.to_le_bytes().iter().map(|byte| format!("{byte:02x}")).collect();
    for text in [fs::read_to_string(&file).expect("the record"), paper.text()] {
        for secret in [fault.id.as_str(), &title, "\"seed\"", &bytes, "\"total\""] {
            assert!(!text.contains(secret), "{secret} in\n{text}");
        }
        // As a number: its four digits may stand in a hash by chance.
        let mut words = text.split(|c: char| !c.is_ascii_alphanumeric());
        assert!(words.all(|word| word != "1001"), "1001 in\n{text}");
    }
}

/// Where a paper varies its jobs, each draw decides the variation, and a record in any other is refused.
#[test]
fn a_varied_paper_holds_everybody_to_the_variation_of_their_draw() {
    let folder = Folder::new();
    let (paper, key) = set(Terms { varied: true, ..terms() });
    let Sitting { mut job, mut recorder, .. } = sit(&folder, &paper, &key, "Anna").expect("a job");
    let variation = Variation::of_seed(job.seed());
    assert_eq!(job.scenario().variation(), Some(variation));
    assert_eq!(job.scenario().forbidden, FRESH.scenario().forbidden);
    for line in &ACTS[..4] {
        job.apply(words::parse(&job.scenario().vehicle.clone(), line).expect(line), &mut recorder)
            .expect(line);
    }
    let file = recorder.path().to_owned();
    drop(recorder);
    let again = sit(&folder, &paper, &key, "Anna").expect("the same job");
    assert!(again.resumed && again.job.scenario().hash() == job.scenario().hash());
    drop(again);
    let text = fs::read_to_string(&file).expect("the record");
    let head: serde_json::Value = serde_json::from_str(text.lines().next().expect("a head")).expect("JSON");
    assert_eq!(head["variation"]["number"], variation.number());
    assert_eq!(head["scenario_hash"], SCENARIO.hash());
    let varied = format!("\"variation\":{},", head["variation"]);
    assert!(text.contains(&varied));
    let number = |number: u16| {
        text.replace(&format!("\"number\":{}", variation.number()), &format!("\"number\":{number}"))
    };
    for other in [text.replace(&varied, ""), number(variation.number() % Variation::COUNT + 1), number(0)] {
        fs::write(&file, &other).expect("a record");
        let why = record::replayed(&file, Some(&key)).expect_err("another variation").to_string();
        assert!(why.contains("another variation than the paper's draw gives"), "{why}");
    }
    // A paper that varies nothing is written as papers always were.
    assert!(!serde_json::to_string(&terms()).expect("JSON").contains("varied"));
}

#[test]
fn what_a_paper_forbids_is_refused() {
    let folder = Folder::new();
    let (paper, key) = set(terms());
    let file = done(sit(&folder, &paper, &key, "Bert").expect("a job"));
    let (job, _) = record::replayed(&file, Some(&key)).expect("a record");
    let refused: Vec<_> = job.log().iter().map(|step| step.outcome.refused).collect();
    assert_eq!(refused, [None, None, Some(Refusal::NotAllowed), None, Some(Refusal::NoCoach), None]);
    // Nor does the plan use it.
    let menu = &FRESH.outlook().menu;
    let taken =
        |item| menu.tests.iter().filter(|test| test.acts.iter().any(|act| act.takes() == Some(item))).count();
    assert_eq!((taken(KitItem::Lamp), taken(KitItem::Bridge)), (0, 0));
    assert!(taken(KitItem::Meter) > 10);
}

#[test]
fn when_the_time_is_up_only_the_hand_in_is_left() {
    let folder = Folder::new();
    let (paper, key) = set(terms());
    let Sitting { mut job, recorder, .. } = sit(&folder, &paper, &key, "Anna").expect("a job");
    let file = recorder.path().to_owned();
    let begun = record::read_time(
        serde_json::from_str::<Value>(&lines(&file)[0]).expect("a head")["at"].as_str().expect("a time"),
    )
    .expect("a time");
    let act = |line: &str| words::parse(&SCENARIO.vehicle, line).expect(line);
    let mut recorder = recorder.going_by(Box::new(Standing(begun + 60 * 60_000)));
    job.apply(act("look"), &mut recorder).expect("the last moment");
    let mut recorder = recorder.going_by(Box::new(Standing(begun + 60 * 60_000 + 1)));
    let late = job.apply(act("look"), &mut recorder).expect_err("too late");
    assert!(matches!(&late, JobError::Journal(why) if why.kind() == std::io::ErrorKind::TimedOut));
    assert!(late.to_string().contains("time of this paper is up") && recorder.allows_only_hand_in());
    assert_eq!((job.log().len(), lines(&file).len()), (1, 2), "nothing was done and nothing written");
    drop(recorder);
    // The limit counts from the beginning, whether the job was left meanwhile or not.
    let Sitting { mut job, recorder, .. } =
        sit(&folder, &paper, &key, "Anna").expect_err("the clock").into_job(&folder, &paper, &key);
    let mut recorder = recorder.going_by(Box::new(Standing(begun + 61 * 60_000)));
    assert!(job.apply(act("look"), &mut recorder).is_err());
    job.apply(act("refer"), &mut recorder).expect("the hand-in");
    close(&job, &mut recorder);
    drop(recorder);
    let sound = verdict(&mut of(&paper, &key), &file);
    assert!(sound.sound(), "{:#?}", sound.breaks);
}

/// The last line of the record was written by a clock an hour ahead: the machine's own seems to have been set back.
trait ClockBehind {
    fn into_job(self, folder: &Folder, paper: &Paper, key: &PaperKey) -> Sitting;
}

impl ClockBehind for SitError {
    fn into_job(self, folder: &Folder, paper: &Paper, key: &PaperKey) -> Sitting {
        let Self::ClockSetBack(path, at) = self else { panic!("{self}") };
        let mut text = lines(&path);
        // Set right again: the same record, as if it had been begun and gone on with an hour and a half ago.
        assert!(text[1].contains(&at));
        text.truncate(1);
        fs::write(&path, format!("{}\n", text[0])).expect("the record");
        sit(folder, paper, key, "Anna").expect("a clock that is right")
    }
}

#[test]
fn a_forged_time_after_the_limit_is_found() {
    let folder = Folder::new();
    let (paper, key) = set(terms());
    let file = done(sit(&folder, &paper, &key, "Anna").expect("a job"));
    let mut lines = lines(&file);
    // The head says that it was begun a day before: then all of it was too late.
    let mut head: Value = serde_json::from_str(&lines[0]).expect("a head");
    head["at"] = json!("2020-01-01T00:00:00.000Z");
    let order = ["probeworthy_record", "record", "scenario", "scenario_hash"];
    assert!(order.iter().all(|key| head.get(key).is_some()));
    lines[0] = head.to_string();
    let path = folder.write("late.jsonl", &forged(&lines));
    broken(&verdict(&mut of(&paper, &key), &path), "after the time of the paper was up");
}

#[test]
fn records_of_others_and_of_other_papers_are_found() {
    let folder = Folder::new();
    let (paper, key) = set(terms());
    let (other, other_key) = set(Terms { title: "Spring".to_owned(), ..terms() });
    let file = done(sit(&folder, &paper, &key, "Anna").expect("a job"));
    broken(&verdict(&mut of(&other, &other_key), &file), "this belongs to another paper, \"Autumn\"");
    // Anna's record under Bert's name: with the chain as it was, and with all made anew.
    let own = lines(&file);
    let mut stolen = own.clone();
    stolen[0] = stolen[0].replace("\"candidate\":\"Anna\"", "\"candidate\":\"Bert\"");
    let naive =
        folder.write("naive.jsonl", &stolen.iter().map(|line| format!("{line}\n")).collect::<String>());
    broken(&verdict(&mut Verifier::new(false, 2), &naive), "the chain breaks here");
    let path = folder.write("stolen.jsonl", &forged(&stolen));
    let found = verdict(&mut of(&paper, &key), &path);
    broken(&found, "this is not the draw of that candidate");
    broken(&found, "the draw does not open");
    broken(&found, "stamp does not fit");
    broken(&found, "the result does not open");
    // With Bert's own sealed draw in it, it is still not what the model gives or not stamped.
    let mut dressed = stolen.clone();
    dressed[0] = dressed[0].replace(
        serde_json::from_str::<Value>(&own[0]).expect("a head")["draw"].as_str().expect("a draw"),
        &paper.candidate("Bert").expect("Bert").draws[0][0],
    );
    let path = folder.write("dressed.jsonl", &forged(&dressed));
    broken(&verdict(&mut of(&paper, &key), &path), "stamp does not fit");
    // A name that the paper does not know, and a job for practice.
    stolen[0] = stolen[0].replace("\"candidate\":\"Bert\"", "\"candidate\":\"Carl\"");
    let path = folder.write("carl.jsonl", &forged(&stolen));
    broken(&verdict(&mut of(&paper, &key), &path), "the paper knows no candidate \"Carl\"");
    let job = Job::new(Arc::clone(&SCENARIO), 1, probeworthy::job::Choice::Drawn).expect("a job");
    let practice = folder.0.path().join("practice.jsonl");
    drop(record::start(&job, SMALL, folder.0.path(), Some(&practice)).expect("a record"));
    broken(&verdict(&mut of(&paper, &key), &practice), "it belongs to no paper");
}

#[test]
fn a_step_that_was_changed_and_signed_anew_lacks_the_papers_stamp() {
    let folder = Folder::new();
    let (paper, key) = set(terms());
    let file = done(sit(&folder, &paper, &key, "Anna").expect("a job"));
    let own = lines(&file);
    // An aside that changes nothing the model gives: the coach was never asked, and the numbers fit again.
    let mut fewer = own.clone();
    fewer.remove(5);
    fewer[5] = fewer[5].replace("\"number\":6", "\"number\":5");
    fewer[6] = fewer[6].replace("\"steps\":6", "\"steps\":5");
    let found = verdict(&mut of(&paper, &key), &folder.write("fewer.jsonl", &forged(&fewer)));
    assert_eq!(found.breaks.len(), 1, "{:#?}", found.breaks);
    broken(&found, "what closed this record did not have the paper's key");
    // Whoever leaves the stamp away has no luck either, even where nobody has the passphrase.
    let mut bare = own.clone();
    let last = bare.len() - 1;
    let mut seal: Value = serde_json::from_str(&bare[last]).expect("a seal");
    seal["seal"].as_object_mut().expect("a seal").remove("stamp");
    bare[last] = seal.to_string();
    let path = folder.write("bare.jsonl", &bare.iter().map(|line| format!("{line}\n")).collect::<String>());
    broken(&verdict(&mut of(&paper, &key), &path), "stamp does not fit");
    broken(&verdict(&mut Verifier::new(false, 2), &path), "stamp does not fit");
}

#[test]
fn two_attempts_are_not_handed_in_as_one() {
    let folder = Folder::new();
    let (paper, key) = set(terms());
    let which =
        |which| record::sit((&paper, Path::new("p")), &key, "Anna", which, &folder.0.path().join("records"));
    let first = done(which(Some(1)).expect("the first attempt"));
    let second = done(which(Some(1)).expect("the second attempt"));
    let (first_lines, second_lines) = (lines(&first), lines(&second));
    let both = [&first_lines[..4], &second_lines[4..]].concat();
    let path = folder.write("both.jsonl", &forged(&both));
    broken(&verdict(&mut of(&paper, &key), &path), "stamp does not fit");
    let text: String = both.iter().map(|line| format!("{line}\n")).collect();
    broken(&verdict(&mut of(&paper, &key), &folder.write("plain.jsonl", &text)), "the chain breaks here");
    // The second as the first, and a third that the paper does not allow.
    for (to, part) in [("\"attempt\":1", "this is not the draw"), ("\"attempt\":3", "allows no such attempt")]
    {
        let mut renamed = second_lines.clone();
        renamed[0] = renamed[0].replace("\"attempt\":2", to);
        let path = folder.write("renamed.jsonl", &forged(&renamed));
        broken(&verdict(&mut of(&paper, &key), &path), part);
    }
    // The first attempt once more in a fresh folder: each record is sound, and both together are one too many.
    let again = record::sit((&paper, Path::new("p")), &key, "Anna", Some(1), &folder.0.path().join("fresh"));
    let again = done(again.expect("nobody knows of the first"));
    let mut verifier = of(&paper, &key);
    assert!(verdict(&mut verifier, &first).sound() && verdict(&mut verifier, &second).sound());
    broken(&verdict(&mut verifier, &again), "the same attempt of the same candidate as ");
}

#[test]
fn no_bit_of_a_paper_can_be_changed() {
    let folder = Folder::new();
    let (paper, _) = set(terms());
    let text = paper.text();
    let path = folder.0.path().join("paper.json");
    let usable = |bytes: &[u8]| -> bool {
        fs::write(&path, bytes).expect("a file");
        Paper::read(&path).is_ok_and(|paper| paper.open(PASSPHRASE, &path).is_ok())
    };
    assert!(usable(text.as_bytes()));
    for at in 0..text.len() {
        let mut bytes = text.clone().into_bytes();
        bytes[at] ^= 1 << (at % 8);
        assert!(!usable(&bytes), "bit {} of byte {at} makes no difference", at % 8);
    }
    fs::write(&path, &text[..text.len() - 2]).expect("a file");
    let why = Paper::read(&path).expect_err("cut off");
    assert!(matches!(&why, PaperError::Changed { line, .. } if *line > 1), "{why}");
}

#[test]
fn a_paper_that_was_made_anew_does_not_open() {
    let (paper, key) = set(terms());
    let stranger = PaperKey::of("another passphrase", &paper.terms.salt, SOFT).expect("a key");
    let at = Path::new("paper.json");
    let refused = |paper: &Paper| matches!(paper.open(PASSPHRASE, at), Err(PaperError::Passphrase(_)));
    // More time, a friend's draw, one candidate fewer: hash and stamp by a key of one's own.
    let longer = Terms { limit_minutes: None, ..paper.terms.clone() };
    assert!(refused(&Paper::new(longer.clone(), paper.candidates.clone(), &stranger)));
    let mut swapped = paper.candidates.clone();
    swapped[0].draws = paper.candidates[1].draws.clone();
    assert!(refused(&Paper::new(paper.terms.clone(), swapped.clone(), &stranger)));
    assert!(refused(&Paper::new(paper.terms.clone(), paper.candidates[1..].to_vec(), &stranger)));
    // Even whoever could stamp: draws open for their paper, candidate, job and attempt only.
    let job = |terms: &Terms, candidate: &str, job, attempt| PaperJob {
        terms: terms.clone(),
        candidate: candidate.to_owned(),
        job,
        attempt,
    };
    let sealed = &paper.candidates[0].draws[0][0];
    assert_eq!(Paper::seed(&key, &job(&paper.terms, "Anna", 1, 1), sealed), Some(1_001));
    for other in [
        job(&longer, "Anna", 1, 1),
        job(&paper.terms, "Bert", 1, 1),
        job(&paper.terms, "Anna", 2, 1),
        job(&paper.terms, "Anna", 1, 2),
    ] {
        assert_eq!(Paper::seed(&key, &other, sealed), None);
    }
    assert_eq!(Paper::seed(&stranger, &job(&paper.terms, "Anna", 1, 1), sealed), None);
    for wrong in ["", "four words by chanc", "Four words by chance", "four words by chance "] {
        assert!(matches!(paper.open(wrong, at), Err(PaperError::Passphrase(_))), "{wrong}");
    }
    assert!(paper.open(PASSPHRASE, at).is_ok());
}

#[test]
fn draws_are_of_equal_difficulty() {
    let scenario = Arc::new(load(SIX).expect("a sound file").scenario);
    let survey = Survey::new(Arc::clone(&scenario), 2).expect("a survey");
    let minutes = minutes_by_fault(&survey);
    // The plan's minutes are the mean of what it takes for each fault, for what the survey takes into account.
    let weights: Vec<f64> = scenario.faults.iter().map(|fault| fault.weight as f64).collect();
    let mean = weights.iter().zip(&minutes).map(|(weight, one)| weight * one).sum::<f64>()
        / weights.iter().sum::<f64>();
    assert!((mean / survey.expected_minutes - 1.0).abs() < 0.1, "{mean} beside {}", survey.expected_minutes);
    assert!(minutes.iter().all(|one| *one > 0.0), "{minutes:?}");
    let mut next = 0;
    let mut count_up = || {
        next += 1;
        Ok(next)
    };
    for percent in [1.0, 20.0, 60.0, 1000.0] {
        let pick = Pick::new(&survey, percent);
        assert!(pick.count(&scenario) >= 1, "the middle one is always within");
        let seeds = pick_seeds(&scenario, &pick, 40, &mut count_up).expect("numbers").expect("seeds");
        assert_eq!(seeds.len(), 40);
        for seed in seeds {
            let fault = draw(&scenario.faults, seed).expect("a fault");
            let at = scenario.faults.iter().position(|one| one.id == fault.id).expect("of the pool");
            assert!((pick.band.from_minutes..=pick.band.to_minutes).contains(&minutes[at]), "{percent} %");
        }
    }
    assert_eq!(Pick::new(&survey, 1000.0).count(&scenario), scenario.faults.len());
}

fn bytes(hex: &str) -> Vec<u8> {
    (0..hex.len()).step_by(2).map(|at| u8::from_str_radix(&hex[at..at + 2], 16).expect(hex)).collect()
}

/// RFC 9106, section 5.3.
#[test]
fn keys_are_made_as_the_published_vector_has_it() {
    use argon2::{Algorithm, Argon2, AssociatedData, ParamsBuilder, Version};
    let parameters = ParamsBuilder::new()
        .m_cost(32)
        .t_cost(3)
        .p_cost(4)
        .data(AssociatedData::new(&[4; 12]).expect("12 bytes"))
        .build()
        .expect("parameters");
    let argon2 =
        Argon2::new_with_secret(&[3; 8], Algorithm::Argon2id, Version::V0x13, parameters).expect("a secret");
    let mut tag = [0; 32];
    argon2.hash_password_into(&[1; 32], &[2; 16], &mut tag).expect("a tag");
    assert_eq!(tag.to_vec(), bytes("0d640df58d78766c08c037a34a8b53c9d01ef0452d75b65eb52520e96b01e659"));
}

/// draft-irtf-cfrg-xchacha-03, appendix A.3.1.
#[test]
fn seals_are_made_as_the_published_vector_has_it() {
    use chacha20poly1305::aead::{Aead, KeyInit, Payload};
    use chacha20poly1305::{XChaCha20Poly1305, XNonce};
    let key: [u8; 32] = std::array::from_fn(|at| 0x80 + u8::try_from(at).expect("a byte"));
    let nonce: [u8; 24] = std::array::from_fn(|at| 0x40 + u8::try_from(at).expect("a byte"));
    let message = b"Ladies and Gentlemen of the class of '99: If I could offer you only one tip for the future, sunscreen would be it.";
    let sealed = XChaCha20Poly1305::new(&key.into())
        .encrypt(&XNonce::from(nonce), Payload { msg: message, aad: &bytes("50515253c0c1c2c3c4c5c6c7") })
        .expect("a seal");
    let expected = "bd6d179d3e83d43b9576579493c0e939572a1700252bfaccbed2902c21396cbb\
        731c7f1b0b4aa6440bf3a82f4eda7e39ae64c6708c54c216cb96b72e1213b452\
        2f8c9ba40db5d945b11b69b982c1bb9e3f3fac2bc369488f76b2383565d3fff9\
        21f9664c97637da9768812f615c68b13b52e\
        c0875924c1c7987947deafd8780acf49";
    assert_eq!(sealed, bytes(expected));
}
