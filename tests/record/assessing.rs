//! Records and papers from outside: killed programs, a full disk, several programs at once, old records, and the
//! commands verify, explain and paper.

use std::fs;
use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use probeworthy::record::{self, Verifier};
use probeworthy::scenario::load;
use probeworthy::words;
use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};
use serde_json::{Value, json};
use tempfile::TempDir;

const SMALL: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/survey/two-faults.scenario.ron");
/// What a learner does, over and over, without handing in.
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
    "flex bellows",
    "write cause \"no volts\" at latch.1 — 0.02 V",
    "look",
    "press pad",
    "red off",
    "lid up",
];

/// A folder of its own, which is also the user's home, for as long as the value lives.
struct Home(TempDir);

struct Ran {
    code: i32,
    out: String,
    err: String,
}

impl Home {
    fn new() -> Self {
        Self(tempfile::tempdir().expect("a folder for temporary files"))
    }

    fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    fn write(&self, name: &str, text: &str) {
        fs::write(self.path(name), text).expect("a writable folder");
    }

    fn read(&self, name: &str) -> String {
        fs::read_to_string(self.path(name)).expect(name)
    }

    fn child(&self, program: &[&str], arguments: &[&str]) -> Child {
        let mut command = Command::new(program[0]);
        command.args(&program[1..]).args(arguments).current_dir(self.0.path());
        command.env("HOME", self.0.path()).env("XDG_DATA_HOME", self.path("data"));
        command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
        command.spawn().expect("the built program")
    }

    fn run_by(&self, program: &[&str], arguments: &[&str], input: &str) -> Ran {
        let mut child = self.child(program, arguments);
        // A program that ends before it has read its input closes the pipe, and that is no fault.
        child.stdin.take().expect("a pipe").write_all(input.as_bytes()).ok();
        let output = child.wait_with_output().expect("an ended program");
        let text = |bytes| String::from_utf8(bytes).expect("UTF-8 on every stream");
        let (out, err) = (text(output.stdout), text(output.stderr));
        assert!(!out.contains("panicked") && !err.contains("panicked"), "{arguments:?}:\n{out}{err}");
        Ran { code: output.status.code().unwrap_or(-1), out, err }
    }

    #[track_caller]
    fn run(&self, code: i32, arguments: &[&str], input: &str) -> Ran {
        let ran = self.run_by(&[env!("CARGO_BIN_EXE_probeworthy")], arguments, input);
        assert_eq!(ran.code, code, "{arguments:?}:\n{}{}", ran.out, ran.err);
        ran
    }
}

/// Act and minutes of each step of a record.
fn recorded(path: &Path) -> Vec<(String, f64)> {
    let text = fs::read_to_string(path).unwrap_or_default();
    let step = |line: &str| {
        let value: Value = serde_json::from_str(line).ok()?;
        let step = value.get("step")?;
        Some((step["act"].as_str()?.to_owned(), step["minutes"].as_f64()?))
    };
    text.lines().filter_map(step).collect()
}

/// Act and minutes of each step that was shown whole.
fn shown(out: &str) -> Vec<(String, f64)> {
    let whole = out.rfind('\n').map_or("", |end| &out[..end]);
    let step = |line: &str| {
        let value: Value = serde_json::from_str(line).expect(line);
        (value["action"].as_str().expect(line).to_owned(), value["minutes"].as_f64().expect(line))
    };
    whole.lines().map(step).collect()
}

/// Killed at any moment, a job goes on after the last step that was shown.
#[test]
fn a_program_that_is_killed_loses_nothing_that_was_shown() {
    let home = Home::new();
    let runs = if std::env::var_os("CI").is_some() { 200 } else { 10 };
    let mut rng = ChaCha8Rng::seed_from_u64(9);
    let (mut jobs, mut left, mut cut) = (0, 0, 0);
    let mut file = home.path("job-0.jsonl");
    for run in 0..runs {
        let before = recorded(&file);
        let name = file.display().to_string();
        let begin = ["desk", SMALL, "--seed", "4", "--json", "--record", &name];
        let go_on = ["desk", "--json", "--resume", &name];
        let arguments = if file.exists() { &go_on[..] } else { &begin[..] };
        let mut child = home.child(&[env!("CARGO_BIN_EXE_probeworthy")], arguments);
        let todo: String =
            (before.len()..before.len() + 200).map(|at| format!("{}\n", ACTS[at % ACTS.len()])).collect();
        let mut input = child.stdin.take().expect("a pipe");
        let writer = std::thread::spawn(move || {
            input.write_all(todo.as_bytes()).ok();
            // The pipe stays open: the program is killed and does not end by itself.
            input
        });
        let mut output = child.stdout.take().expect("a pipe");
        let reader = std::thread::spawn(move || {
            let mut out = Vec::new();
            output.read_to_end(&mut out).ok();
            String::from_utf8_lossy(&out).into_owned()
        });
        std::thread::sleep(Duration::from_millis(u64::from(rng.next_u32() % 250)));
        child.kill().expect("a child");
        child.wait().expect("a child");
        let out = reader.join().expect("what was shown");
        drop(writer.join());
        let (shown, after) = (shown(&out), recorded(&file));
        assert!(
            (shown.len()..=shown.len() + 1).contains(&(after.len() - before.len())),
            "run {run}: {} shown, {} recorded",
            shown.len(),
            after.len() - before.len()
        );
        assert_eq!(after[..before.len()], before, "run {run}");
        for (told, kept) in shown.iter().zip(&after[before.len()..]) {
            // The desk rounds minutes.
            assert!(told.0 == kept.0 && (told.1 - kept.1).abs() < 0.006, "run {run}: {told:?}, {kept:?}");
        }
        left += usize::from(!shown.is_empty());
        cut += usize::from(fs::read(&file).is_ok_and(|bytes| bytes.last() != Some(&b'\n')));
        // A file in which not even the head was whole holds nothing to go on with; a long job has been killed enough.
        if fs::read(&file).is_ok_and(|bytes| !bytes.contains(&b'\n')) || after.len() > 150 {
            jobs += 1;
            file = home.path(&format!("job-{jobs}.jsonl"));
        }
    }
    assert!(left > runs / 8, "only {left} of {runs} were killed after something was shown ({cut} in a line)");
    for at in 0..=jobs {
        let file = home.path(&format!("job-{at}.jsonl"));
        if recorded(&file).is_empty() {
            continue;
        }
        let steps = recorded(&file).len();
        home.run(0, &["desk", "--json", "--resume", &file.display().to_string()], "look\n");
        assert_eq!(recorded(&file).len(), steps + 1);
        let verdict = Verifier::new(false, 1).verify(&file).expect("a record");
        assert!(verdict.steps.iter().all(|(_, agrees)| *agrees == Some(true)));
        assert!(
            verdict.breaks.len() == 1 && verdict.breaks[0].what.contains("not handed in"),
            "{:?}",
            verdict.breaks
        );
    }
}

#[test]
fn a_hand_in_that_is_killed_is_closed_later() {
    let home = Home::new();
    for (at, milliseconds) in [0, 60, 200].into_iter().enumerate() {
        let name = format!("r{at}.jsonl");
        home.run(0, &["desk", SMALL, "--seed", "4", "--json", "--record", &name], "look\nkey release\n");
        let mut child =
            home.child(&[env!("CARGO_BIN_EXE_probeworthy")], &["desk", "--resume", &name, "--json"]);
        let mut input = child.stdin.take().expect("a pipe");
        input.write_all(b"refer\n").expect("a pipe");
        while recorded(&home.path(&name)).len() < 3 {
            std::thread::sleep(Duration::from_millis(5));
        }
        std::thread::sleep(Duration::from_millis(milliseconds));
        child.kill().expect("a child");
        child.wait().expect("a child");
        home.run(0, &["desk", "--resume", &name, "--json"], "");
        assert_eq!(home.read("data/probeworthy/signing-key").trim_end().len(), 64);
        let text = home.run(0, &["verify", &name], "").out;
        assert!(
            text.contains(": sound\n") && text.contains("3 of 3 steps show what the model gives"),
            "{text}"
        );
    }
}

/// A limit on the size of files stands for a full disk: the system refuses to write more, in the middle of a line.
#[cfg(unix)]
#[test]
fn a_full_disk_is_told_and_loses_nothing() {
    let home = Home::new();
    let script: String = ACTS.iter().cycle().take(60).map(|line| format!("{line}\n")).collect();
    let limited =
        ["sh", "-c", "trap '' XFSZ; ulimit -f 9; exec \"$@\"", "sh", env!("CARGO_BIN_EXE_probeworthy")];
    let ran =
        home.run_by(&limited, &["desk", SMALL, "--seed", "4", "--json", "--record", "r.jsonl"], &script);
    assert_eq!(ran.code, 2, "{}", ran.err);
    assert!(ran.err.contains("the act was not done, since it could not be saved: "), "{}", ran.err);
    assert_eq!(ran.err.lines().count(), 1, "{}", ran.err);
    let (shown, kept) = (shown(&ran.out), recorded(&home.path("r.jsonl")));
    assert!(shown.len() > 3 && shown.len() < 60 && shown.len() == kept.len(), "{} shown", shown.len());
    assert!(home.read("r.jsonl").ends_with("}\n"), "no half of a line is left");
    // Without room not even the head can be written, and that is told as well.
    let none =
        ["sh", "-c", "trap '' XFSZ; ulimit -f 0; exec \"$@\"", "sh", env!("CARGO_BIN_EXE_probeworthy")];
    let ran = home.run_by(&none, &["desk", SMALL, "--record", "none.jsonl"], "look\n");
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    assert!(ran.err.contains("none.jsonl: ") && ran.err.contains("\nhint: "), "{}", ran.err);
    // With room again it goes on.
    home.run(0, &["desk", "--resume", "r.jsonl", "--json"], &format!("{script}refer\n"));
    home.run(0, &["verify", "--no-marks", "r.jsonl"], "");
}

#[test]
fn programs_that_begin_at_once_in_one_folder_keep_apart() {
    let home = Home::new();
    let mut children: Vec<Child> = (0..6)
        .map(|_| home.child(&[env!("CARGO_BIN_EXE_probeworthy")], &["desk", SMALL, "--seed", "4"]))
        .collect();
    for child in &mut children {
        child.stdin.take().expect("a pipe").write_all(b"look\n").expect("a pipe");
    }
    for child in children {
        let output = child.wait_with_output().expect("an ended program");
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    }
    let names: Vec<String> = (1..=6).map(|at| format!("data/probeworthy/jobs/job-{at:04}.jsonl")).collect();
    let all: Vec<&str> =
        [&["verify", "--no-marks"][..], &names.iter().map(String::as_str).collect::<Vec<_>>()].concat();
    let out = home.run(1, &all, "").out;
    assert_eq!(out.matches("  1 of 1 steps show what the model gives\n").count(), 6, "{out}");
}

/// A record as version 0.1.0 wrote it in format 2.
#[test]
fn an_old_record_is_resumed_and_explained_and_there_is_nothing_to_verify() {
    let home = Home::new();
    home.run(
        0,
        &["desk", SMALL, "--seed", "4", "--json", "--record", "new.jsonl"],
        "look\nkey release\nlever\n",
    );
    let head: Value =
        serde_json::from_str(home.read("new.jsonl").lines().next().expect("a head")).expect("a head");
    let mut old = format!(
        "{{\"probeworthy_record\":2,\"scenario\":{},\"scenario_hash\":{},\"program\":\"0.1.0\",\"draw\":{}}}\n",
        head["scenario"], head["scenario_hash"], head["draw"]
    );
    for (at, (act, minutes)) in recorded(&home.path("new.jsonl")).iter().enumerate() {
        old.push_str(&format!("{}\n", json!({"step": at + 1, "minutes": minutes, "action": act})));
    }
    home.write("old.jsonl", &old);
    home.run(0, &["desk", "--resume", "old.jsonl", "--json"], "name latch-feed open at bellows 60%\nrefer\n");
    let text = home.read("old.jsonl");
    assert!(text.starts_with(&old) && text.lines().count() == 6, "it stays in its format:\n{text}");
    assert!(home.run(0, &["explain", "old.jsonl"], "").out.contains("You referred the job"));
    home.run(0, &["debrief", "old.jsonl"], "");
    let out = home.run(1, &["verify", "old.jsonl"], "").out;
    assert!(out.contains("NOT SOUND") && out.contains("format 2 has no chain"), "{out}");
}

const GOOD: &str = "cautions\nglasses\nkey release\npress pad\nfuse f1 look\nlever\nlid up\nprop\ntake lid-trim off\ntape bellows\n\
    name latch-feed open at bellows 60%\nsplice latch-feed bellows\nput lid-trim back\nlid shut\nkey release\nlid shut\nhand in\n";

#[test]
fn a_finished_record_is_verified_and_explained() {
    let home = Home::new();
    home.run(0, &["desk", SMALL, "--seed", "4", "--script", "-", "--record", "r.jsonl"], GOOD);
    let out = home.run(0, &["verify", "--steps", "r.jsonl"], "").out;
    assert!(out.starts_with("r.jsonl: sound\n") && out.contains("(worked out anew)"), "{out}");
    assert_eq!(out.matches(": as the model gives it\n").count(), GOOD.lines().count(), "{out}");
    let told = home.run(0, &["explain", "r.jsonl"], "").out;
    for part in
        ["What was wrong: ", "You named: ", "What went well", "How you narrowed it down", "Practise next: "]
    {
        assert!(told.contains(part), "no {part} in\n{told}");
    }
    // What was changed is told with its place, and nothing is explained of it.
    let text = home.read("r.jsonl").replacen("\"act\":\"press pad\"", "\"act\":\"look\"", 1);
    home.write("changed.jsonl", &text);
    let out = home.run(1, &["verify", "changed.jsonl", "r.jsonl"], "").out;
    assert!(out.contains("changed.jsonl: NOT SOUND") && out.contains("\nchanged.jsonl:6:"), "{out}");
    assert!(out.contains("r.jsonl: NOT SOUND") && out.contains("the same record as changed.jsonl"), "{out}");
    assert!(home.run(2, &["explain", "changed.jsonl"], "").err.contains("changed.jsonl:5:"));
    home.run(0, &["desk", SMALL, "--seed", "4", "--record", "left.jsonl"], "look\n");
    assert!(home.run(2, &["explain", "left.jsonl"], "").err.contains("has not been handed in\nhint: "));
    assert!(home.run(1, &["verify", "left.jsonl"], "").out.contains("left.jsonl:3:1: it ends here"));
    home.run(2, &["verify", "none.jsonl"], "");
    let text = home.read("r.jsonl").replacen(&record::model_hash(), &"0".repeat(64), 1);
    let first = text.lines().next().expect("a head").to_owned();
    let mut before = record::link(&first);
    let mut other = format!("{first}\n");
    for line in text.lines().skip(1) {
        let mut value: Value = serde_json::from_str(line).expect(line);
        value["previous"] = json!(before);
        if value.get("seal").is_some() {
            value["seal"] =
                serde_json::to_value(record::Key::from_secret([1; 32]).seal(&before)).expect("a seal");
        }
        before = record::link(&value.to_string());
        other.push_str(&format!("{value}\n"));
    }
    home.write("other.jsonl", &other);
    let out = home.run(2, &["verify", "other.jsonl"], "").out;
    assert!(out.contains("other.jsonl: chain whole, not replayable here\n"), "{out}");
    assert!(home.run(2, &["desk", "--resume", "other.jsonl"], "").err.contains("another model of vehicles"));
}

#[test]
fn a_paper_is_set_sat_and_opened() {
    let home = Home::new();
    home.write("pass", "words that nobody guesses\n");
    home.write("wrong", "words that somebody guesses\n");
    home.write("names", "Åsa \"Ø\" O'Neil\n\n名前 🦊\n../x\n");
    let out = home
        .run(
            0,
            &[
                "paper",
                "new",
                "--out",
                "p.json",
                "--title",
                "Autumn",
                "--scenario",
                SMALL,
                "--names",
                "names",
                "--candidate",
                "Anna",
                "--numbered",
                "2",
                "--minutes",
                "90",
                "--instruments",
                "meter, lamp",
                "--passphrase",
                "pass",
            ],
            "",
        )
        .out;
    assert!(out.contains("faults can be drawn") && out.contains("for 6 candidates"), "{out}");
    let shown = home.run(0, &["paper", "show", "p.json"], "").out;
    assert!(
        shown.contains("90 real minutes for each job; 1 attempt; allowed: meter, lamp; no coach"),
        "{shown}"
    );
    assert!(
        shown.contains("candidate 名前 🦊\n")
            && shown.contains("candidate 2\n")
            && !shown.contains("attempt 1:")
    );
    let answers = home.run(0, &["paper", "show", "p.json", "--answers", "--passphrase", "pass"], "").out;
    assert_eq!(answers.matches("job 1, attempt 1: ").count(), 6, "{answers}");
    home.run(2, &["paper", "show", "p.json", "--answers", "--passphrase", "wrong"], "");
    for (arguments, part) in [
        (
            &["paper", "new", "--out", "p.json", "--numbered", "1", "--passphrase", "pass"][..],
            "there is such a file already",
        ),
        (
            &["paper", "new", "--out", "q.json", "--scenario", SMALL, "--passphrase", "pass"],
            "nobody is to sit this paper",
        ),
        (
            &[
                "paper",
                "new",
                "--out",
                "q.json",
                "--candidate",
                "A",
                "--candidate",
                "A",
                "--passphrase",
                "pass",
            ],
            "named twice",
        ),
        (
            &["paper", "new", "--out", "q.json", "--numbered", "1", "--passphrase", "none"],
            "the passphrase cannot be read",
        ),
        (
            &["paper", "new", "--out", "q.json", "--numbered", "1", "--scenario", SMALL, "--passphrase", "-"],
            "too short",
        ),
        (
            &[
                "paper",
                "new",
                "--out",
                "q.json",
                "--numbered",
                "1",
                "--instruments",
                "hammer",
                "--passphrase",
                "pass",
            ],
            "there is no instrument \"hammer\"",
        ),
        (&["paper", "sit", "p.json", "--as", "Ana", "--passphrase", "pass"], "did you mean \"Anna\"?"),
        (
            &["paper", "sit", "p.json", "--as", "Anna", "--passphrase", "wrong"],
            "this passphrase does not open the paper",
        ),
        (
            &["paper", "sit", "p.json", "--as", "Anna", "--job", "2", "--passphrase", "pass"],
            "the paper has no job 2",
        ),
        (&["paper", "sit", "pass", "--as", "Anna", "--passphrase", "pass"], "pass:1:1: this is no paper"),
    ] {
        let ran = home.run(2, arguments, "short\n");
        assert!(ran.err.contains(part) && ran.err.contains("hint: "), "{arguments:?}: {}", ran.err);
        assert_eq!(ran.out, "");
    }
    assert!(!home.path("q.json").exists());

    // Anna: the passphrase and the acts both come by standard input. She leaves, and goes on.
    let sit = ["paper", "sit", "p.json", "--as", "Anna", "--records", "handed-in", "--passphrase", "-"];
    let begun = home.run(0, &sit, "words that nobody guesses\nlook\nclamp latch.1\ncoach 1\n");
    assert!(begun.out.contains("Autumn: job 1 of 1, attempt 1 of 1, candidate Anna"), "{}", begun.out);
    assert!(
        begun.out.contains("that instrument is not allowed in this job") && begun.out.contains("no coach"),
        "{}",
        begun.out
    );
    let file =
        begun.err.lines().find_map(|line| line.strip_prefix("the record: ")).expect("a file").to_owned();
    let left = home.run(2, &["desk", "--resume", &file], "").err;
    assert!(left.contains("belongs to a paper") && left.contains("hint: "), "{left}");
    let rest = home.run(0, &sit, &format!("words that nobody guesses\n{GOOD}"));
    assert!(
        rest.out.contains("Resumed after 3 steps") && rest.out.contains("What it was worth is sealed"),
        "{}",
        rest.out
    );
    home.run(2, &sit, "words that nobody guesses\n");

    // Nothing that she sees or keeps names the fault.
    let small = load(SMALL).expect("a sound file").scenario;
    let text = home.read(&file);
    for fault in &small.faults {
        let title = words::diagnosis(words::Texts::english(), &small.vehicle, fault.diagnosis);
        for (what, told) in
            [("output", &begun.out), ("rest", &rest.out), ("record", &text), ("paper", &home.read("p.json"))]
        {
            assert!(!told.contains(&fault.id), "{what} names {}", fault.id);
            // She has named one of them herself.
            let own = title == "Latch feed: open at bellows" || told.contains("named\":[{\"fault\":");
            assert!(own || !told.contains(&title), "{what} names {title}");
        }
    }
    // Whoever set the paper opens it.
    let of_paper = ["--paper", "p.json", "--passphrase", "pass"];
    let out = home.run(0, &[&["verify", &file][..], &of_paper].concat(), "").out;
    assert!(out.contains(": sound\n") && out.contains("paper \"Autumn\", candidate Anna"), "{out}");
    let out = home.run(2, &["verify", &file], "").out;
    assert!(out.contains("chain whole, not replayable here") && out.contains("its draw is sealed"), "{out}");
    let told = home.run(0, &[&["explain", &file][..], &of_paper].concat(), "").out;
    assert!(told.contains("What was wrong: "), "{told}");
    assert!(home.run(2, &["explain", &file], "").err.contains("belongs to a paper"));

    // A name with any letters, by a script; a mistake in it uses up no attempt.
    let strange = [
        "paper",
        "sit",
        "p.json",
        "--as",
        "Åsa \"Ø\" O'Neil",
        "--passphrase",
        "pass",
        "--script",
        "-",
        "--json",
    ];
    assert!(home.run(2, &strange, "loook\n").err.contains("standard input:1:1: "));
    let ran = home.run(0, &strange, "look\nrefer\n");
    let steps: Vec<Value> = ran.out.lines().map(|line| serde_json::from_str(line).expect(line)).collect();
    assert_eq!(steps.len(), 2, "no marks among the data: {}", ran.out);
    let file = ran.err.lines().find_map(|line| line.strip_prefix("the record: ")).expect("a file").to_owned();
    assert!(file.starts_with(&home.path("data/probeworthy/papers").display().to_string()), "{file}");
    home.run(0, &[&["verify", "--no-marks", &file][..], &of_paper].concat(), "");
}
