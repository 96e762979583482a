//! Records that somebody has laid hands on. What is changed is found, and where; what cannot be found is said in
//! `src/record/README.md`.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Arc, LazyLock};

use probeworthy::job::{Choice, Job};
use probeworthy::marks::{Debrief, Marks, mark_and_debrief};
use probeworthy::reasoning::Inquiry;
use probeworthy::record::{self, Clock, Keeper, Key, Replay, Verdict, Verifier};
use probeworthy::scenario::{Scenario, load};
use probeworthy::words;
use serde_json::{Value, json};
use tempfile::TempDir;

const SMALL: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/survey/two-faults.scenario.ron");

static SCENARIO: LazyLock<Arc<Scenario>> =
    LazyLock::new(|| Arc::new(load(SMALL).expect("a sound file").scenario));

static FRESH: LazyLock<Inquiry> =
    LazyLock::new(|| Inquiry::new(Arc::clone(&SCENARIO), 2).expect("every vehicle has an operating point"));

const ACTS: &[&str] = &[
    "cautions",
    "ask when",
    "key release",
    "lever",
    "lid up",
    "prop",
    "take lid-trim off",
    "meter volts",
    "black body",
    "red latch.1",
    "claw close",
    "key release",
    "tape bellows",
    "name latch-feed open at bellows 70%",
    "splice latch-feed bellows",
    "claw close",
    "key release",
    "hand in",
];

/// A folder of its own, for as long as the value lives.
struct Folder(TempDir);

impl Folder {
    fn new() -> Self {
        Self(tempfile::tempdir().expect("a folder for temporary files"))
    }

    fn write(&self, name: &str, lines: &[String]) -> PathBuf {
        let path = self.0.path().join(name);
        fs::write(&path, lines.iter().map(|line| format!("{line}\n")).collect::<String>()).expect("a file");
        path
    }
}

/// A clock that goes on by so many milliseconds each time it is asked.
struct Ticking(u64, u64);

impl Clock for Ticking {
    fn now_ms(&mut self) -> u64 {
        self.0 += self.1;
        self.0
    }
}

fn key() -> Key {
    Key::from_secret([7; 32])
}

fn worth(job: &Job) -> (Marks, Debrief) {
    mark_and_debrief(job, &FRESH).expect("a job that can be replayed").expect("it was handed in")
}

/// The lines of a job that was done with these acts and handed in.
fn lines_of(folder: &Folder, name: &str, seed: u64, acts: &[&str]) -> Vec<String> {
    let path = folder.0.path().join(name);
    let mut job = Job::new(Arc::clone(&SCENARIO), seed, Choice::Drawn).expect("a job");
    let recorder = record::start(&job, SMALL, folder.0.path(), Some(&path)).expect("a record");
    let year_2100_ms = 4_102_444_800_000;
    let mut recorder = recorder.signing_with(key()).going_by(Box::new(Ticking(year_2100_ms, 1500)));
    for line in acts {
        job.apply(words::parse(&SCENARIO.vehicle, line).expect(line), &mut recorder).expect(line);
    }
    if job.handed_in().is_some() {
        let (marks, debrief) = worth(&job);
        recorder.close(&job, &marks, &debrief).expect("a closing");
        assert!(!recorder.wants_closing());
    }
    drop(recorder);
    fs::read_to_string(&path).expect("the record").lines().map(str::to_owned).collect()
}

fn verdict_of(path: &Path) -> Verdict {
    Verifier::new(false, 2).verify(path).expect("a file")
}

fn verdict(folder: &Folder, lines: &[String]) -> Verdict {
    verdict_of(&folder.write("attacked.jsonl", lines))
}

#[track_caller]
fn broken(verdict: &Verdict, line: usize, part: &str) {
    assert!(!verdict.sound() && !verdict.whole(), "it is taken for sound");
    let found = verdict.breaks.iter().any(|one| one.line == line && one.what.contains(part));
    assert!(found, "no \"{part}\" at line {line} in {:#?}", verdict.breaks);
}

/// What somebody does who knows the format: all links are made anew, and the seal with a key of his own.
fn forged(lines: &[String], by: &Key) -> Vec<String> {
    let mut forged: Vec<String> = vec![lines[0].clone()];
    for line in &lines[1..] {
        let before = record::link(&forged[forged.len() - 1]);
        let mut value: Value = serde_json::from_str(line).expect(line);
        value["previous"] = json!(before);
        if value.get("seal").is_some() {
            value["seal"] = serde_json::to_value(by.seal(&before)).expect("a seal");
        }
        forged.push(value.to_string());
    }
    forged
}

fn changed(line: &str, from: &str, to: &str) -> String {
    assert!(line.contains(from), "no {from} in {line}");
    line.replacen(from, to, 1)
}

#[test]
fn a_record_that_nobody_touched_is_sound() {
    let folder = Folder::new();
    let lines = lines_of(&folder, "r.jsonl", 3, ACTS);
    assert_eq!(lines.len(), 1 + ACTS.len() + 2);
    let verdict = Verifier::new(true, 2).verify(&folder.0.path().join("r.jsonl")).expect("a file");
    assert!(verdict.sound() && verdict.marked, "{:#?}", verdict.breaks);
    assert_eq!(verdict.steps.len(), ACTS.len());
    assert!(verdict.steps.iter().enumerate().all(|(at, step)| *step == (at + 2, Some(true))));
    assert_eq!(verdict.key, Some(key().public()));
    // Whoever writes all of it anew, to the letter, has changed nothing but who signed.
    let verdict = self::verdict(&folder, &forged(&lines, &Key::from_secret([8; 32])));
    assert!(verdict.sound() && verdict.key != Some(key().public()), "{:#?}", verdict.breaks);
}

#[test]
fn steps_and_closing_are_the_same_to_the_byte_whenever_they_are_done() {
    let folder = Folder::new();
    let content = |lines: &[String]| -> Vec<String> {
        let of = |line: &String| {
            let value: Value = serde_json::from_str(line).expect(line);
            [&value["step"], &value["closing"]].iter().map(ToString::to_string).collect::<String>()
        };
        lines[1..].iter().map(of).collect()
    };
    let (first, second) = (lines_of(&folder, "a.jsonl", 3, ACTS), lines_of(&folder, "b.jsonl", 3, ACTS));
    assert_eq!(content(&first), content(&second));
    assert_ne!(first, second, "times and numbers are their own");
}

#[test]
fn a_changed_step_is_found() {
    let folder = Folder::new();
    let lines = lines_of(&folder, "r.jsonl", 3, ACTS);
    let at = lines.iter().position(|line| line.contains("\"meter\":{")).expect("a reading");
    let figure = |line: &str| {
        let mut value: Value = serde_json::from_str(line).expect(line);
        value["step"]["shown"]["meter"]["value"] = json!(11.9);
        value.to_string()
    };
    for change in [
        figure(&lines[at]),
        changed(&lines[at], "\"minutes\":", "\"minutes\":1"),
        changed(&lines[at], "\"act\":\"", "\"act\":\"red latch.3"),
    ] {
        let mut lines = lines.clone();
        lines[at] = change;
        broken(&verdict(&folder, &lines), at + 2, "the chain breaks here");
        // Linked and signed anew, it is still not what the model gives.
        let verdict = verdict(&folder, &forged(&lines, &key()));
        assert!(!verdict.whole() && verdict.breaks[0].line == at + 1, "{:#?}", verdict.breaks);
        assert!(verdict.breaks[0].column > 1, "{:#?}", verdict.breaks);
    }
    // Another time of the envelope changes the chain and nothing else.
    let mut later = lines.clone();
    later[at] = changed(&later[at], "\"at\":\"2100-01-01T00:00:", "\"at\":\"2100-01-01T00:00:0");
    broken(&verdict(&folder, &later), at + 1, "this is no time");
    let again = verdict(&folder, &lines);
    assert!(again.sound(), "{:#?}", again.breaks);
}

#[test]
fn a_removed_step_is_found() {
    let folder = Folder::new();
    let lines = lines_of(&folder, "r.jsonl", 3, ACTS);
    for at in 1..lines.len() {
        let mut fewer = lines.clone();
        fewer.remove(at);
        let verdict = verdict(&folder, &fewer);
        assert!(!verdict.whole(), "without line {}", at + 1);
        if at < lines.len() - 1 {
            broken(&verdict, at + 1, "the chain breaks here");
        } else {
            broken(&verdict, at + 1, "neither closed nor signed");
        }
        if at < lines.len() - 2 {
            // Linked and signed anew, the numbers still have a gap, or the closing counts otherwise.
            assert!(!self::verdict(&folder, &forged(&fewer, &key())).whole(), "without line {}", at + 1);
        }
    }
    // Cut at the end, it has not been handed in.
    for left in 1..lines.len() {
        broken(&verdict(&folder, &lines[..left]), left + 1, "neither closed nor signed");
    }
}

#[test]
fn reordered_steps_are_found() {
    let folder = Folder::new();
    let lines = lines_of(&folder, "r.jsonl", 3, ACTS);
    for at in 1..lines.len() - 1 {
        let mut swapped = lines.clone();
        swapped.swap(at, at + 1);
        broken(&verdict(&folder, &swapped), at + 1, "the chain breaks here");
        assert!(!verdict(&folder, &forged(&swapped, &key())).whole(), "lines {} and {}", at + 1, at + 2);
    }
}

#[test]
fn merged_records_are_found() {
    let folder = Folder::new();
    let (one, two) = (lines_of(&folder, "a.jsonl", 3, ACTS), lines_of(&folder, "b.jsonl", 4, ACTS));
    // One whole behind the other: two attempts handed in as one.
    let both = [one.clone(), two.clone()].concat();
    broken(&verdict(&folder, &both), one.len() + 1, "this is not a line of a record");
    let both = [&one[..], &two[1..]].concat();
    broken(&verdict(&folder, &both), one.len() + 1, "the chain breaks here");
    broken(&verdict(&folder, &forged(&both, &key())), one.len() + 1, "a step after the closing");
    // The beginning of one and the end of the other.
    for at in 1..one.len() {
        let merged = [&one[..at], &two[at..]].concat();
        broken(&verdict(&folder, &merged), at + 1, "the chain breaks here");
    }
    // Two heads that were drawn alike are two records all the same.
    let twin = lines_of(&folder, "c.jsonl", 3, ACTS);
    let merged = [&one[..6], &twin[6..]].concat();
    broken(&verdict(&folder, &merged), 7, "the chain breaks here");
}

#[test]
fn time_that_runs_backwards_is_found() {
    let folder = Folder::new();
    let lines = lines_of(&folder, "r.jsonl", 3, ACTS);
    let at = |line: &str| serde_json::from_str::<Value>(line).expect(line)["at"].as_str().map(str::to_owned);
    let mut back = lines.clone();
    let (fifth, sixth) = (at(&lines[5]).expect("a time"), at(&lines[6]).expect("a time"));
    back[5] = changed(&back[5], &fifth, &sixth);
    back[6] = changed(&back[6], &sixth, &fifth);
    broken(&verdict(&folder, &forged(&back, &key())), 7, "time runs backwards");
    // A clock that is set back while the job is left does not make a record that runs backwards.
    let path = folder.0.path().join("left.jsonl");
    lines_of(&folder, "left.jsonl", 3, &ACTS[..5]);
    let (mut job, recorder, _) = record::resume(&path).expect("a record that was left");
    let mut recorder = recorder.signing_with(key()).going_by(Box::new(Ticking(0, 0)));
    for line in &ACTS[5..] {
        job.apply(words::parse(&SCENARIO.vehicle, line).expect(line), &mut recorder).expect(line);
    }
    let (marks, debrief) = worth(&job);
    recorder.close(&job, &marks, &debrief).expect("a closing");
    drop(recorder);
    assert!(verdict_of(&path).sound(), "{:#?}", verdict_of(&path).breaks);
}

#[test]
fn a_replayed_hand_in_is_found() {
    let folder = Folder::new();
    let lines = lines_of(&folder, "r.jsonl", 3, ACTS);
    let (first, copy) = (folder.write("anna.jsonl", &lines), folder.write("bert.jsonl", &lines));
    let mut verifier = Verifier::new(false, 2);
    assert!(verifier.verify(&first).expect("a file").sound());
    broken(&verifier.verify(&copy).expect("a file"), 1, "handed in twice");
    // The closing of one record under the steps of another.
    let fewer = lines_of(&folder, "s.jsonl", 3, &[&ACTS[..13], &["hand in"]].concat());
    let replayed = [&fewer[..fewer.len() - 2], &lines[lines.len() - 2..]].concat();
    broken(&verdict(&folder, &replayed), fewer.len() - 1, "the chain breaks here");
    broken(&verdict(&folder, &forged(&replayed, &key())), fewer.len() - 1, "closed after");
}

#[test]
fn better_marks_than_were_earned_are_found() {
    let folder = Folder::new();
    let mut lines = lines_of(&folder, "r.jsonl", 3, ACTS);
    let closing = lines.len() - 2;
    let mut value: Value = serde_json::from_str(&lines[closing]).expect("a closing");
    value["closing"]["result"]["total"] = json!(100.0);
    lines[closing] = value.to_string();
    let path = folder.write("forged.jsonl", &forged(&lines, &key()));
    assert!(verdict_of(&path).sound(), "without marks being worked out anew they are believed");
    let verdict = Verifier::new(true, 2).verify(&path).expect("a file");
    broken(&verdict, closing + 1, "the record has 100 marks, the model gives ");
}

#[test]
fn no_byte_of_a_record_can_be_changed() {
    let folder = Folder::new();
    let lines = lines_of(&folder, "r.jsonl", 3, &["look", "key release", "hand in"]);
    let bytes = fs::read(folder.0.path().join("r.jsonl")).expect("the record");
    assert_eq!(lines.len(), 6);
    let path = folder.0.path().join("hurt.jsonl");
    // Each line is hundreds of bytes long: every seventh byte, and another bit each time.
    for at in (0..bytes.len()).step_by(7) {
        let mut hurt = bytes.clone();
        hurt[at] ^= 1 << (at % 8);
        fs::write(&path, &hurt).expect("a file");
        assert!(!verdict_of(&path).whole(), "bit {} of byte {at} makes no difference", at % 8);
    }
}

#[test]
fn another_model_or_scenario_is_told_apart_from_a_break() {
    let folder = Folder::new();
    let lines = lines_of(&folder, "r.jsonl", 3, ACTS);
    for (from, to, why) in [
        (record::model_hash(), "0".repeat(64), "another model"),
        (SCENARIO.hash(), "0".repeat(64), "is not the one that it was made with"),
        (SMALL.to_owned(), "nowhere.scenario.ron".to_owned(), "the file cannot be read"),
    ] {
        let mut other = lines.clone();
        other[0] = changed(&other[0], &from, &to);
        let verdict = verdict(&folder, &forged(&other, &key()));
        assert!(verdict.whole() && !verdict.sound(), "{:#?}", verdict.breaks);
        assert!(
            matches!(&verdict.replay, Replay::NotHere(told) if told.contains(why)),
            "{:?}",
            verdict.replay
        );
        let text = record::verdict_text(&verdict, false);
        assert!(text.contains("chain whole, not replayable here") && text.contains(why), "{text}");
    }
}

/// From the vectors that the authors of BLAKE3 publish (`test_vectors/test_vectors.json` in their repository; input byte
/// i is i mod 251) and, for "abc", from memory.
#[test]
fn hashes_are_those_of_the_published_vectors() {
    let input = |length: usize| -> Vec<u8> { (0..length).map(|at| (at % 251) as u8).collect() };
    for (length, hash) in [
        (0, "af1349b9f5f9a1a6a0404dea36dcc9499bcb25c9adc112b7cc9a93cae41f3262"),
        (1, "2d3adedff11b61f14c886e35afa036736dcd87a74d27b5c1510225d0f592e213"),
        (1024, "42214739f095a406f3fc83deb889744ac00df831c10daa55189b5d121c855af7"),
    ] {
        assert_eq!(blake3::hash(&input(length)).to_hex().as_str(), hash, "of {length} bytes");
    }
    assert_eq!(record::link(""), "af1349b9f5f9a1a6a0404dea36dcc9499bcb25c9adc112b7cc9a93cae41f3262");
    assert_eq!(record::link("abc"), "6437b3ac38465133ffb63b75273a8db548c558465d79db03fd359c6cd5bd9d85");
}

/// RFC 8032, section 7.1, tests 1 to 3.
#[test]
fn signatures_are_those_of_the_published_vectors() {
    use ed25519_dalek::{Signature, Signer, SigningKey};
    let bytes = |hex: &str| -> Vec<u8> {
        (0..hex.len()).step_by(2).map(|at| u8::from_str_radix(&hex[at..at + 2], 16).expect(hex)).collect()
    };
    for (secret, public, message, signature) in [
        (
            "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
            "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a",
            "",
            "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b",
        ),
        (
            "4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
            "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c",
            "72",
            "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00",
        ),
        (
            "c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7",
            "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025",
            "af82",
            "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a",
        ),
    ] {
        let secret: [u8; 32] = bytes(secret).try_into().expect("32 bytes");
        let signing = SigningKey::from_bytes(&secret);
        assert_eq!(signing.verifying_key().as_bytes().to_vec(), bytes(public));
        assert_eq!(Key::from_secret(secret).public(), public);
        let made = signing.sign(&bytes(message));
        assert_eq!(made.to_bytes().to_vec(), bytes(signature));
        let read = Signature::from_slice(&bytes(signature)).expect("64 bytes");
        assert!(signing.verifying_key().verify_strict(&bytes(message), &read).is_ok());
        assert!(signing.verifying_key().verify_strict(b"else", &read).is_err());
    }
}
