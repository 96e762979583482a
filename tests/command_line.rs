//! The program from outside: exit codes, what stands on which stream, files that are broken, records, and whole jobs.
//!
//! Texts of whole runs stand in `tests/goldens`. `PROBEWORTHY_BLESS=1 cargo test --test command_line` writes them
//! anew; look at what `git diff` then shows.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::Arc;

use probeworthy::job::{Choice, Job};
use probeworthy::record;
use probeworthy::scenario::{default_scenario, load, point_name};
use probeworthy::vehicle::{PartKind, Vehicle};
use probeworthy::words;
use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};
use serde_json::Value;
use tempfile::TempDir;

const ROOT: &str = env!("CARGO_MANIFEST_DIR");
const ESTATE: &str = include_str!("../assets/vehicles/estate.vehicle.ron");
const FLAGSHIP: &str = include_str!("../scenarios/tailgate-ignores-its-key.scenario.ron");
/// A fault of the flagship that has to be found half way down.
const NAMED: &str = "latch-ground.open.bellows.lid-below-45";

/// What a run left behind.
struct Ran {
    code: i32,
    out: String,
    err: String,
}

impl Ran {
    /// It could not be done: nothing on standard output, and one message that holds `part`.
    fn fails_with(&self, part: &str) {
        assert_eq!(self.code, 2, "code, with {}", self.err);
        assert_eq!(self.out, "", "standard output of a run that failed with {}", self.err);
        assert!(self.err.contains(part), "no \"{part}\" in:\n{}", self.err);
        assert!(self.err.lines().count() <= 8, "not one clear message:\n{}", self.err);
    }

    fn done(self) -> Self {
        assert_eq!(self.code, 0, "code, with {}\n{}", self.out, self.err);
        self
    }

    /// Standard output as JSON, one object a line.
    fn json(&self) -> Vec<Value> {
        self.out.lines().map(|line| serde_json::from_str(line).expect(line)).collect()
    }
}

/// A folder of its own, which is also the user's home, for as long as the value lives.
struct Home(TempDir);

impl Home {
    fn new() -> Self {
        Self(tempfile::tempdir().expect("a folder for temporary files"))
    }

    fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    fn write(&self, name: &str, bytes: impl AsRef<[u8]>) -> PathBuf {
        let path = self.path(name);
        fs::create_dir_all(path.parent().expect("a folder")).expect("a folder");
        fs::write(&path, bytes).expect("a writable folder");
        path
    }

    fn read(&self, name: &str) -> String {
        fs::read_to_string(self.path(name)).expect(name)
    }

    fn run_in(&self, folder: &Path, arguments: &[&str], input: &[u8]) -> Ran {
        let mut child = Command::new(env!("CARGO_BIN_EXE_probeworthy"))
            .args(arguments)
            .current_dir(folder)
            .env("HOME", self.0.path())
            .env("XDG_DATA_HOME", self.path("data"))
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("the built program");
        // A program that ends before it has read its input closes the pipe, and that is no fault.
        child.stdin.take().expect("a pipe").write_all(input).ok();
        let output = child.wait_with_output().expect("an ended program");
        let text = |bytes| String::from_utf8(bytes).expect("UTF-8 on every stream");
        let ran = Ran {
            code: output.status.code().unwrap_or(-1),
            out: text(output.stdout),
            err: text(output.stderr),
        };
        let told = format!("{}{}", ran.out, ran.err);
        assert!(!told.contains("panicked"), "{arguments:?} panicked:\n{told}");
        assert!((0..=2).contains(&ran.code), "{arguments:?} ended with {}:\n{told}", ran.code);
        ran
    }

    fn run(&self, arguments: &[&str]) -> Ran {
        self.run_in(self.0.path(), arguments, b"")
    }

    /// Plays a script; `arguments` stand behind `desk`.
    fn play(&self, arguments: &[&str], script: &str) -> Ran {
        let all = [&["desk"], arguments, &["--script", "-"]].concat();
        self.run_in(self.0.path(), &all, script.as_bytes())
    }
}

fn root() -> &'static Path {
    Path::new(ROOT)
}

fn flagship() -> Vehicle {
    load(default_scenario()).expect("the flagship").scenario.vehicle
}

/// Compares with a golden, or writes it.
fn golden(name: &str, text: &str) {
    let path = root().join("tests/goldens").join(name);
    let set = |name: &str| std::env::var_os(name).is_some_and(|value| !value.is_empty() && value != "0");
    if set("PROBEWORTHY_BLESS") {
        assert!(
            !set("CI") || std::env::var("CI").is_ok_and(|ci| ci == "false"),
            "goldens are not written where CI is set"
        );
        fs::write(&path, text).expect("a writable golden");
        return;
    }
    let expected = fs::read_to_string(&path).unwrap_or_default().replace("\r\n", "\n");
    if text == expected {
        return;
    }
    let at = expected.lines().zip(text.lines()).take_while(|(a, b)| a == b).count();
    let line = |text: &str| text.lines().nth(at).unwrap_or("(the end)").to_owned();
    panic!(
        "{} differs from line {}:\n  expected: {}\n  found:    {}\nIf this is meant, run PROBEWORTHY_BLESS=1 cargo test --test command_line and look at git diff.",
        path.display(),
        at + 1,
        line(&expected),
        line(text)
    );
}

/// A sound scenario on the estate with this in place of its pool's one entry.
fn scenario(fault: &str) -> String {
    format!(
        "(\n    format: 1,\n    id: \"trial\",\n    title: \"Trial\",\n    vehicle: \"estate\",\n    customer: \"Shut.\",\n    trials: [KeyRelease],\n    par_minutes: 50,\n    faults: [\n        {fault}\n    ],\n)\n"
    )
}

#[test]
fn the_files_of_this_package_are_sound() {
    let ran = Home::new().run_in(root(), &["check", "scenarios", "assets"], b"").done();
    assert!(ran.out.ends_with("checked, no problem\n"), "{}", ran.out);
    assert_eq!((ran.out.lines().count(), ran.err.as_str()), (1, ""));
}

#[test]
fn what_cannot_be_done_ends_with_2() {
    let home = Home::new();
    home.write("latin.scenario.ron", b"(\n  id: \"caf\xe9\")");
    home.write("record.jsonl", "{}");
    let too_large = (u128::from(u64::MAX) + 1).to_string();
    let cases: &[(&[&str], &str)] = &[
        (&["desk", "tailgate-ignores-its-kye"], "hint: did you mean \"tailgate-ignores-its-key\"?"),
        (&["desk", "boot"], "there is no scenario \"boot\"\nhint: name one of tailgate-ignores-its-key"),
        (&["faults", "boot"], "there is no scenario \"boot\""),
        (&["desk", "none.scenario.ron"], "none.scenario.ron: the file cannot be read"),
        (&["desk", "."], ".: the file cannot be read"),
        (&["desk", "./"], "./: the file cannot be read"),
        (
            &["desk", "latin.scenario.ron"],
            "latin.scenario.ron:2:11: this is not UTF-8 text; save the file as UTF-8",
        ),
        (
            &["check", "latin.scenario.ron"],
            "latin.scenario.ron:2:11: this is not UTF-8 text; save the file as UTF-8",
        ),
        (&["check", "none.vehicle.ron"], "none.vehicle.ron: the file cannot be read"),
        (&["check", "data"], "data: the file cannot be read"),
        (&["desk", "--seed", "-1"], "-1"),
        (&["desk", "--seed", "seven"], "invalid value 'seven' for '--seed <N>'"),
        (&["desk", "--seed", &too_large], "for '--seed <N>'"),
        (&["desk", "--fault", "f2.blown"], "no fault \"f2.blown\""),
        (&["desk", "--record", "record.jsonl"], "record.jsonl: "),
        (&["desk", "--record", "nowhere/record.jsonl"], "nowhere/record.jsonl: "),
        (&["desk", "--record", "record.jsonl/below"], "record.jsonl/below: "),
        (&["desk", "--resume"], "no job was left unfinished\nhint: "),
        (&["desk", "--resume", "none.jsonl"], "none.jsonl: "),
        (&["desk", "--resume", "record.jsonl", "--seed", "3"], "cannot be used with"),
        (&["desk", "--script", "none.txt"], "none.txt: the file cannot be read"),
        (&["desk", "--script", "."], ".: the file cannot be read"),
        (&["knit"], "knit"),
    ];
    for (arguments, part) in cases {
        home.run(arguments).fails_with(part);
    }
    assert_eq!(home.read("record.jsonl"), "{}", "a file that was there is left as it was");
    // What is said next is to the point.
    let near = home.run(&["desk", "--fault", "f1.blow"]);
    assert!(near.err.contains("hint: did you mean \"f1.blown\"?"), "{}", near.err);
    let none = home.run(&["desk", "--resume", "none.jsonl"]);
    assert!(none.err.contains("hint: ") && !none.err.contains("can be written"), "{}", none.err);
    let negative = home.run(&["desk", "--seed", "-1"]);
    assert!(negative.err.contains("'--seed <N>'"), "{}", negative.err);
}

#[test]
fn a_name_of_the_shelf_is_itself_wherever_the_program_runs() {
    let home = Home::new();
    home.write("tailgate-ignores-its-key/note.txt", "a folder of the same name");
    home.play(&["--seed", "4", "--record", "r.jsonl"], "look").done();
    home.run(&["desk", "--resume", "r.jsonl"]).done();
}

#[test]
fn check_refuses_what_no_job_can_be_fair_on() {
    let home = Home::new();
    home.write("trial.scenario.ron", scenario("(is: FuseBlown(\"f1\"), weight: 1),"));
    // Names that commands have a meaning for, and a vehicle that does not open when it is sound.
    for (from, to, part) in [
        (
            "(id: \"cargo-lamp\", title: \"cargo lamp\", zone",
            "(id: \"key\", title: \"cargo lamp\", zone",
            "\"key\"",
        ),
        ("(id: \"brake\", title", "(id: \"pad-ground\", title", "\"pad-ground\""),
        ("\"ground-stud\"", "\"off\"", "\"off\""),
        ("(id: \"home\", title: \"claw home\"", "(id: \"ajar\", title: \"claw home\"", "\"ajar\""),
        ("works_above_volts: 6.5", "works_above_volts: 16.5", "sound"),
    ] {
        assert!(ESTATE.contains(from), "{from}");
        home.write("estate.vehicle.ron", ESTATE.replace(from, to));
        let ran = home.run(&["check", "trial.scenario.ron"]);
        assert_eq!(ran.code, 1, "{to} is let through");
        assert!(ran.out.contains(part) && ran.out.contains("\nhint: "), "{}", ran.out);
    }
}

#[test]
fn a_broken_scenario_is_told_where() {
    let home = Home::new();
    let sound = scenario("(is: FuseBlown(\"f1\"), weight: 1),");
    let whole: &[(&str, &str, &str)] = &[
        ("weight: 1", "weight: 1.5", "10:39: found the number `1.5`, expected a whole number"),
        ("par_minutes: 50", "par_minutes: \"50\"", "8:18: found a text, expected a number"),
        ("format: 1", "format: 2", "2:13: format 2 is not one that this program reads"),
        ("\"estate\"", "\"estat\"", "5:14: there is no vehicle \"estat\""),
        ("[KeyRelease]", "[]", "7:13: there is no trial"),
        (
            "par_minutes: 50,",
            "par_minutes: 50, coaching: 1,",
            "8:32: found the number `1`, expected `true` or `false`",
        ),
        ("[KeyRelease]", "[Press(\"lights\")]", "7:20: \"lights\" cannot be pressed"),
        ("(is: FuseBlown(\"f1\"), weight: 1),", "", "9:13: the pool of faults is empty"),
    ];
    let pool: &[(&str, &str)] = &[
        ("(is: FuseBlown(\"f2\"), weight: 1),", "10:14: f2.blown: with this fault the lid opens every time"),
        ("(is: FuseBlown(\"f1\"), weight: 0),", "10:39: a weight of 0 can never be drawn"),
        (
            "(is: FuseBlown(\"f1\"), weight: 1), (is: FuseBlown(\"f1\"), weight: 2),",
            "10:48: the fault \"f1.blown\" is in the pool twice",
        ),
        ("(is: FuseBlown(\"f9\"), weight: 1),", "10:24: there is no fuse \"f9\""),
        (
            "(is: Parted(conductor: \"latch-fed\", at: \"bellows\"), weight: 1),",
            "10:32: there is no conductor \"latch-fed\"",
        ),
        (
            "(is: Resistive(conductor: \"latch-feed\", at: \"bellows\", ohms: -5), weight: 1),",
            "10:70: -5 Ω is out of range",
        ),
        ("(is: Jamed, weight: 1),", "10:14: found `Jamed`, expected a kind of `Fault`"),
    ];
    let texts = whole.iter().map(|(from, to, part)| {
        assert!(sound.contains(from), "{from}");
        (sound.replacen(from, to, 1), *part)
    });
    let pools = pool.iter().map(|(fault, part)| (scenario(fault), *part));
    for (text, part) in texts.chain(pools).chain([(String::new(), "1:1: the file is empty")]) {
        home.write("trial.scenario.ron", text);
        let ran = home.run(&["check", "trial.scenario.ron"]);
        assert_eq!((ran.code, ran.err.as_str()), (1, ""), "check, expecting {part}:\n{}", ran.out);
        assert!(ran.out.starts_with(&format!("trial.scenario.ron:{part}")), "no {part} in:\n{}", ran.out);
        assert!(
            ran.out.contains("\nhint: ") && ran.out.ends_with("1 file checked, 1 problem\n"),
            "{}",
            ran.out
        );
        // What only shows in play does not keep an instructor from playing it.
        if !part.contains("every time") {
            home.run(&["desk", "trial.scenario.ron"]).fails_with(&format!("trial.scenario.ron:{part}"));
        }
    }
}

#[test]
fn a_broken_vehicle_is_told_where() {
    let home = Home::new();
    home.write("trial.scenario.ron", scenario("(is: FuseBlown(\"f1\"), weight: 1),"));
    let cases: &[(&str, &str, &str)] = &[
        (
            "via: [(at: \"module-branch\", metres: 0.2)], to: Cavity(half: \"module\", number: 1)",
            "via: [(at: \"sill-clip\", metres: 0.2), (at: \"sill-clip\", metres: 0.2)], to: Cavity(half: \"module\", number: 1)",
            "\"module-latch-feed\" passes \"sill-clip\" twice: it runs in a loop",
        ),
        (
            "metres: 0.4, to: Splice(\"splice-lid-ground\")",
            "metres: 0.4, to: Cavity(half: \"pad\", number: 2)",
            "\"pad-ground\" begins and ends in the same place",
        ),
        ("contact_milliohms: 4,", "contact_milliohms: -4,", "-4 mΩ is out of range"),
        (
            "cavities: 10, contact_milliohms: 5)",
            "cavities: 10, contact_milliohms: 5, blade_millimetres: 3)",
            "there is no blade of 3 mm",
        ),
        (
            "cavities: 10, contact_milliohms: 5)",
            "cavities: 10, contact_milliohms: 5, blade_milimetres: 2.8)",
            "blade_milimetres",
        ),
        ("Rows([[1, 2], [3, 4]])", "Rows([[1, 2], [3]])", "the arrangement leaves cavity 4 out"),
        ("Rows([[1, 2], [3, 4]])", "Rows([[1, 2], [3, 3, 4]])", "cavity 3 lies in two places"),
        ("Rows([[1, 2], [3, 4]])", "Rings([[1, 2, 5], [3, 4]])", "\"rear-left\" has no cavity 5"),
        ("Rows([[1, 2], [3, 4]])", "Rings([[1, 2, 3, 4], []])", "a row or circle has no cavity"),
        ("Rows([[1, 2], [3, 4]])", "Grid([[1, 2], [3, 4]])", "Grid"),
        ("to: FuseFeed(\"f6\")", "to: FuseFeed(\"f7\")", "there is no fuse \"f7\""),
        ("to: Eyelet(\"lid-eyelet\")", "to: Splice(\"lid-eyelet\")", "there is no splice \"lid-eyelet\""),
        (
            "metres: 0.8, to: Cavity(half: \"brake-switch\", number: 1)",
            "metres: 0.8, to: Cavity(half: \"light-switch\", number: 1)",
            "cavity 1 of \"light-switch\" already holds \"light-switch-feed\"",
        ),
        ("half: \"rear-left\", number: 3", "half: \"rear-left\", number: 5", "\"rear-left\" has no cavity 5"),
        (
            "(id: \"f2\", title: \"fuse F2",
            "(id: \"f1\", title: \"fuse F2",
            "the name \"f1\" is taken already",
        ),
        ("amps: 10, zone", "amps: ten, zone", "found the bare word `ten`, expected a whole number"),
        ("colour: \"BU/GN\"", "colour: \"blue\"", "\"blue\" is not a colour by the letters of IEC 60757"),
    ];
    for (from, to, part) in cases {
        assert!(ESTATE.contains(from), "{from}");
        home.write("estate.vehicle.ron", ESTATE.replacen(from, to, 1));
        let ran = home.run(&["check", "estate.vehicle.ron"]);
        assert_eq!((ran.code, ran.err.as_str()), (1, ""), "expecting {part}:\n{}", ran.out);
        assert!(ran.out.contains(part) && ran.out.contains("\nhint: "), "no {part} in:\n{}", ran.out);
        located(&ran.out, "estate.vehicle.ron");
        let ran = home.run(&["desk", "trial.scenario.ron"]);
        assert_eq!((ran.code, ran.out.as_str()), (2, ""));
        assert!(ran.err.contains(part), "no {part} in:\n{}", ran.err);
    }
}

/// Every problem of a report has its place, and every one a hint; returns how many there are.
fn located(report: &str, path: &str) -> usize {
    let numbers = |line: &&str| {
        let rest = line.strip_prefix(path)?.strip_prefix(':')?;
        let (row, rest) = rest.split_once(':')?;
        let (column, what) = rest.split_once(": ")?;
        Some(row.parse::<usize>().ok()? > 0 && column.parse::<usize>().ok()? > 0 && !what.is_empty())
    };
    let problems = report.lines().filter(|line| numbers(line) == Some(true)).count();
    let hints = report
        .lines()
        .filter(|line| line.strip_prefix("hint: ").is_some_and(|hint| !hint.is_empty()))
        .count();
    assert_eq!(problems, report.lines().filter(|line| line.starts_with(path)).count(), "{report}");
    assert_eq!(problems, hints, "problems and hints of:\n{report}");
    problems
}

#[test]
fn check_tells_all_problems_of_a_file_at_once() {
    let home = Home::new();
    for (name, least) in [
        ("many.scenario", 40),
        ("shape.scenario", 19),
        ("many.vehicle", 50),
        ("parts.vehicle", 45),
        ("faults.scenario", 17),
    ] {
        let path = format!("tests/bad/{name}.ron");
        let ran = home.run_in(root(), &["check", &path], b"");
        assert_eq!((ran.code, ran.err.as_str()), (1, ""));
        let problems = located(&ran.out, &path);
        assert!(problems >= least, "{problems} problems in:\n{}", ran.out);
        assert!(ran.out.ends_with(&format!("1 file checked, {problems} problems\n")), "{}", ran.out);
        golden(&format!("{name}.out"), &ran.out);
    }
}

#[test]
fn check_goes_on_after_a_bad_file() {
    let home = Home::new();
    home.write("lessons/a.scenario.ron", "");
    home.write("lessons/deep/b.scenario.ron", scenario("(is: Jammed, weight: 0),"));
    home.write("lessons/c.scenario.ron", scenario("(is: Jammed, weight: 1),"));
    home.write("lessons/notes.ron", "no scenario");
    let ran = home.run(&["check", "lessons", "none.scenario.ron"]);
    assert_eq!(ran.code, 2);
    assert!(
        ran.out.contains("a.scenario.ron:1:1: ") && ran.out.contains("b.scenario.ron:10:30: "),
        "{}",
        ran.out
    );
    assert!(ran.out.ends_with("3 files checked, 2 problems\n"), "{}", ran.out);
    assert!(ran.err.starts_with("none.scenario.ron: "), "{}", ran.err);
}

#[test]
fn a_script_is_read_whole_before_it_is_played() {
    let home = Home::new();
    let lines: &[(&str, usize, &str)] = &[
        ("look", 0, ""),
        ("loook", 1, "there is no command loook\nhint: did you mean look?"),
        ("red latch.9", 5, "latch has no cavity 9\nhint: write a number from 1 to 4"),
        ("  black", 8, "something is missing here\nhint: write: black POINT [hastily], or black off"),
        ("# a comment, and an empty line", 0, ""),
        ("", 0, ""),
        ("unplug latsch # near", 8, "there is no connector called latsch\nhint: did you mean latch?"),
        ("lid up now", 8, "now is too much here\nhint: write: lid"),
        ("list pin", 6, "there is nothing to list called pin\nhint: did you mean pins?"),
        ("name latch-feed open at bellows 120%", 33, "120% is no confidence"),
        ("fuse f1 fit 31", 13, "31 is no fuse rating in amps"),
        ("key release", 0, ""),
    ];
    let text: String = lines.iter().map(|(line, ..)| format!("{line}\r\n")).collect();
    let told: String = lines
        .iter()
        .enumerate()
        .filter(|(_, (_, column, _))| *column > 0)
        .map(|(at, (_, column, part))| format!("{}:{column}: {part}", at + 1))
        .collect::<Vec<_>>()
        .join("\n");
    home.write("bad.txt", text);
    let ran = home.run(&["desk", "--script", "bad.txt", "--record", "r.jsonl"]);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    let mut rest = ran.err.as_str();
    for one in told.split('\n') {
        let at = rest.find(one).unwrap_or_else(|| panic!("no \"{one}\" in its place in:\n{}", ran.err));
        rest = &rest[at + one.len()..];
    }
    assert_eq!(
        ran.err.matches("bad.txt:").count(),
        lines.iter().filter(|(_, column, _)| *column > 0).count()
    );
    assert!(!home.path("r.jsonl").exists(), "a script with mistakes begins no record");

    home.write("latin.txt", b"look\nwrite cause \xe9");
    home.run(&["desk", "--script", "latin.txt"]).fails_with("latin.txt:2:13: this is not UTF-8 text");
    let ran = home.run_in(home.0.path(), &["desk", "--script", "-"], b"look \xff");
    ran.fails_with("standard input: this is not UTF-8 text\nhint: ");
    home.play(&[], "lok").fails_with("standard input:1:1: there is no command lok");
}

const GOOD_JOB: &str = include_str!("goldens/flagship_job.script");

#[test]
fn a_whole_job_reads_as_it_should() {
    let home = Home::new();
    let arguments =
        ["desk", "--fault", NAMED, "--seed", "4", "--script", "tests/goldens/flagship_job.script"];
    let ran = home.run_in(root(), &arguments, b"").done();
    assert_eq!(ran.err, "");
    golden("flagship_job.out", &ran.out);
    assert!(!home.path("data").exists(), "a script's job is not kept");
}

#[test]
fn every_instrument_reads_as_it_should() {
    let home = Home::new();
    let script = include_str!("goldens/instruments_job.script");
    let arguments = ["--fault", NAMED, "--seed", "4"];
    let ran = home.play(&arguments, script).done();
    golden("instruments_job.out", &ran.out);
    let json = home.play(&[&arguments[..], &["--json"]].concat(), script).done();
    assert!(json.err.contains("6,000 counts"), "the list stands aside");
    let lines = json.json();
    let recordings: Vec<&Value> =
        lines.iter().map(|line| &line["recording"]).filter(|recording| !recording.is_null()).collect();
    assert_eq!(recordings.len(), 2, "armed three times, disarmed once");
    for (recording, channel) in recordings.iter().flat_map(|one| [(one, "volts"), (one, "amps")]) {
        let points = recording[channel].as_array().expect(channel);
        let times: Vec<f64> = points.iter().map(|point| point[0].as_f64().expect("milliseconds")).collect();
        assert!(points.iter().all(|point| point[1].is_f64()), "{recording}");
        assert!(times.is_sorted(), "{times:?}");
        let span = times[times.len() - 1] - times[0];
        assert!((span - recording["milliseconds"].as_f64().expect("a number")).abs() < 1e-6, "{recording}");
    }
    let clamped = lines.iter().filter(|line| line["clamp"]["value"].is_f64()).count();
    assert!(clamped > 10 && lines.iter().any(|line| line["clamp"].is_null()), "{clamped} of {}", lines.len());
}

#[test]
fn json_is_one_object_a_step_and_nothing_else() {
    let home = Home::new();
    let arguments = ["--fault", NAMED, "--seed", "4", "--json"];
    let ran = home.play(&arguments, &format!("help\nlist pins\n{GOOD_JOB}")).done();
    assert!(ran.err.contains("Commands") && ran.err.contains("JOB SHEET"), "lists and sheet stand aside");
    let small = survey_file("six-faults");
    let again = || home.play(&[&[small.as_str()], &arguments[..]].concat(), GOOD_JOB).done().out;
    assert_eq!(again(), again(), "the same job, byte by byte");
    let mut lines = ran.json();
    let result = lines.pop().expect("a result");
    let mut minutes = 0.0;
    for (at, line) in lines.iter().enumerate() {
        for (key, fits) in [
            ("step", line["step"] == at + 1),
            ("action", line["action"].is_string()),
            ("minutes", line["minutes"].as_f64().is_some_and(|now| now >= minutes)),
            ("seen", line["seen"].is_array()),
            ("heard", line["heard"].is_array()),
            ("reading", line["reading"].is_null() || line["reading"]["text"].is_string()),
            ("cautions", line["cautions"].is_array()),
            ("breaches", line["breaches"].is_array()),
            ("refused", line["refused"].is_null()),
        ] {
            assert!(line.get(key).is_some() && fits, "{key} of {line}");
        }
        minutes = line["minutes"].as_f64().unwrap_or_default();
    }
    assert_eq!(lines.last().expect("steps")["action"], "hand in");
    assert_eq!(result["fault"]["id"], NAMED);
    assert_eq!(result["minutes"], minutes);
    // The same marks as the text of the same job has.
    let text = fs::read_to_string(root().join("tests/goldens/flagship_job.out")).expect("a golden");
    let total = format!("{:>5.1} of 100   Total", sum_of_marks(&result));
    assert!(text.contains(&total), "{total}: {result}");
}

#[test]
fn suspicions_are_kept_on_the_sheet_and_scored_at_the_end() {
    let home = Home::new();
    let text = fs::read_to_string(root().join("tests/survey/six-faults.scenario.ron")).expect("a scenario");
    home.write("six-faults.scenario.ron", &text);
    let arguments = ["six-faults.scenario.ron", "--fault", NAMED, "--seed", "4"];
    let marked = "suspect latch-ground open at bellows 70%\nsuspect latch open 20%\n";
    let text = home.play(&arguments, &format!("{marked}sheet\nhand in")).done().out;
    let told = [
        "suspected: latch and pad ground (BN): open, at the bellows over the hinge (70 %)\n",
        "left for something else: 10 %\n",
        "Your suspicion sheet gave the true fault 70 %: a Brier score of 0.14 (0 is best, 2 worst) and 0.5 bits of surprise",
    ];
    for part in told {
        assert!(text.contains(part), "no {part:?} in\n{text}");
    }
    // What is over 100 % is told at once, and scaled.
    let over = format!("{marked}suspect key flat 50%\nhand in");
    let text = home.play(&arguments, &over).done().out;
    assert!(text.contains("the suspicion sheet holds 140 % in all"), "{text}");
    assert!(text.contains("gave the true fault 50 %"), "{text}");
    let json = home.play(&[&arguments[..], &["--json"]].concat(), &over).done();
    assert!(json.err.contains("holds 140 % in all"), "what is no step stands aside: {}", json.err);
    let result = json.json().pop().expect("a result");
    assert_eq!(result["sheet"]["surprise_bits"], 1.0, "{result}");
    // Without a line there is no score.
    let json = home.play(&[&arguments[..], &["--json"]].concat(), "hand in").done().json();
    assert!(json[1]["sheet"].is_null());
}

#[test]
fn the_coach_is_heard_and_told_the_price_of() {
    let home = Home::new();
    let text = fs::read_to_string(root().join("tests/survey/six-faults.scenario.ron")).expect("a scenario");
    home.write("six-faults.scenario.ron", &text);
    let arguments = ["six-faults.scenario.ron", "--fault", "latch-feed.open.bellows", "--seed", "4"];
    let script = "coach\ncoach 1\ncoach\ncoach 2\ncoach 3\ncoach\nkey release\ncoach 3\nhand in";
    let out = home.play(&arguments, script).done().out;
    let mut rest = out.as_str();
    for part in [
        "the next rung is coach 1, a question to ask yourself: it costs 1 mark (all rungs: ",
        "> coach 1\n  the coach is thinking\n  coach: ",
        "[0.0 min]\n",
        "the next rung is coach 2, the kind of test, and where: it costs 2 marks",
        "> coach 2\n",
        "> coach 3\n",
        "causes are still possible; this would sort them into ",
        "the coach has said all that it can",
        "so far: 7 marks",
        "> key release\n",
        "> coach 3\n",
        "  coach: ",
        "[0.2 min]\n",
    ] {
        let at = rest.find(part).unwrap_or_else(|| panic!("no {part:?} in its place in\n{out}"));
        rest = &rest[at + part.len()..];
    }
    let json = home.play(&[&arguments[..], &["--json"]].concat(), script).done();
    assert!(json.err.contains("the next rung is coach 1") && json.err.contains("thinking"), "{}", json.err);
    for line in &json.json()[..6] {
        let asked = line["action"].as_str().is_some_and(|act| act.starts_with("coach"));
        assert_eq!(line.get("advice").is_some_and(Value::is_string), asked, "{line}");
    }
    // Without a coach nothing is said.
    home.write("six-faults.scenario.ron", text.replace("par_minutes:", "coaching: false, par_minutes:"));
    let out = home.play(&arguments, "coach\ncoach 3\nhand in").done().out;
    assert_eq!(out.matches("this scenario has no coach").count(), 2, "{out}");
    assert!(!out.contains("thinking"), "{out}");
}

/// The total of a result, of which the parts and the cap are to be the sum.
fn sum_of_marks(result: &Value) -> f64 {
    let marks = result["marks"].as_object().expect("marks");
    let mut sum = 0.0;
    for part in ["diagnosis", "reasoning", "parts", "time", "proof", "safety"] {
        let line = &marks[part];
        assert!(line["why"].as_str().is_some_and(|why| !why.is_empty()), "{part} says why");
        let (got, out_of) = (line["marks"].as_f64().unwrap_or(0.0), line["out_of"].as_f64().expect("out of"));
        assert!((0.0..=out_of).contains(&got), "{part}: {line}");
        sum += got;
    }
    sum += marks.get("capped").map_or(0.0, |line| line["marks"].as_f64().expect("a figure"));
    let total = marks["total"].as_f64().expect("a total");
    assert!((sum - total).abs() < 0.05, "{sum} against {total} in {result}");
    total
}

#[test]
fn marks_sum_to_their_total_in_every_kind_of_job() {
    let home = Home::new();
    let amps = "glasses\nmeter amps\nred battery-plus\nblack battery-minus\n";
    for (script, at_most) in [
        ("hand in".to_owned(), 20.0),
        ("refer".to_owned(), 20.0),
        ("look\nlever\nlid up\ncautions\nname latch open 50%\nfit module\nrefer".to_owned(), 60.0),
        (format!("{amps}{GOOD_JOB}"), 60.0),
    ] {
        // Marks take their time on a large pool; what they are made of is the same on a small one.
        let small = survey_file("six-faults");
        let ran = home.play(&[&small, "--fault", NAMED, "--seed", "4", "--json"], &script).done();
        let total = sum_of_marks(ran.json().last().expect("a result"));
        assert!((0.0..=at_most).contains(&total), "{total} for\n{script}");
    }
}

#[test]
fn what_cannot_be_done_in_a_job_is_an_outcome() {
    let ran =
        Home::new().play(&["--seed", "4", "--json"], "red latch.3\nlid up\nplug latch\nquit\nlook").done();
    let lines = ran.json();
    assert_eq!((lines.len(), ran.err.as_str()), (3, ""), "quit ends the sitting: {}", ran.out);
    for line in &lines {
        assert!(line["refused"].as_str().is_some_and(|why| why.len() > 3), "{line}");
    }
    let text = Home::new().play(&["--seed", "4"], "red latch.3").done().out;
    assert!(text.contains("not possible: ") && text.ends_with("The job is left unfinished.\n"), "{text}");
}

#[test]
fn seeds_draw_different_faults_and_the_same_again() {
    let home = Home::new();
    let fault = |seed: u64| {
        let scenario = survey_file("twelve-faults");
        let ran = home.play(&[&scenario, "--json", "--seed", &seed.to_string()], "ask else\nhand in").done();
        ran.json()[2]["fault"]["id"].as_str().expect("a fault").to_owned()
    };
    let drawn: Vec<String> = (0..9).chain([u64::MAX]).map(fault).collect();
    let mut different = drawn.clone();
    different.sort();
    different.dedup();
    assert!(different.len() >= 5, "{drawn:?}");
    assert_eq!(drawn[3], fault(3));
}

#[test]
fn nothing_names_the_fault_before_the_hand_in() {
    const LOOKS: &str = "help\nlist pins\nlist places\nlist loom\nlist fuses\nlist parts\nlist points\nlist kinds\n\
        list diagram\ncautions\nask when\nask weather\nask load\nask work\nask else\nlook\nkey release\npress pad\n\
        memory read\nfuse f1 look\nlever\nlid up\ntake lid-trim off\ninspect latch\ntape bellows\nlook\nsheet\n\
        red nowhere.1x\n";
    let home = Home::new();
    let scenario = load(default_scenario()).expect("the flagship").scenario;
    // Every fault under CI, every third in plain runs.
    let step = if std::env::var_os("CI").is_some() { 1 } else { 3 };
    for (at, fault) in scenario.faults.iter().enumerate().step_by(step) {
        let record = format!("{at}.jsonl");
        let form: &[&str] = if at % 2 == 0 { &["--json"] } else { &[] };
        let arguments = [&["desk", "--fault", &fault.id, "--seed", "9", "--record", &record], form].concat();
        // The coach needs seconds to think; what he may know is held by tests/reason/coach.rs for the whole of a pool.
        let coached = if at == 0 { "suspect key flat 20%\ncoach 1\ncoach 2\ncoach 3\n" } else { "" };
        let ran = home.run_in(home.0.path(), &arguments, format!("{LOOKS}{coached}").as_bytes()).done();
        let title = words::diagnosis(words::Texts::english(), &scenario.vehicle, fault.diagnosis);
        assert!(ran.out.len() > 1000 && ran.err.contains("nowhere"), "the looks were looked: {}", ran.err);
        for (what, text) in [("output", &ran.out), ("error", &ran.err), ("record", &home.read(&record))] {
            for secret in [&fault.id, &title] {
                assert!(!text.contains(secret.as_str()), "{what} tells \"{secret}\":\n{text}");
            }
        }
    }
}

#[test]
fn a_record_is_gone_on_with() {
    let home = Home::new();
    let lines: Vec<&str> =
        GOOD_JOB.lines().filter(|line| !line.is_empty() && !line.starts_with('#')).collect();
    let (first, second) = lines.split_at(31);
    let small = survey_file("six-faults");
    let arguments = [&small, "--fault", NAMED, "--seed", "4", "--json"];
    let whole = home.play(&arguments, GOOD_JOB).done().out;
    let begun = home.play(&[&arguments[..], &["--record", "r.jsonl"]].concat(), &first.join("\n"));
    // A crash has cut the line of an act that was not shown.
    let kept = home.read("r.jsonl");
    home.write("r.jsonl", format!("{kept}{{\"step\":32,\"minu"));
    let rest = home.play(&["--resume", "r.jsonl", "--json"], &second.join("\n")).done().out;
    assert_eq!(format!("{}{rest}", begun.done().out), whole);
    assert!(home.read("r.jsonl").starts_with(&kept));
    // What has been handed in stays handed in: its marks are shown once more, and nothing further is done.
    let ran = home.play(&["--resume", "r.jsonl", "--json"], "look").done();
    assert!(ran.json()[0]["marks"]["total"].is_number());
    assert!(ran.json()[1]["refused"].is_string());
}

#[test]
fn a_typed_job_is_kept_and_resumed_without_its_name() {
    let home = Home::new();
    let typed = |arguments: &[&str], text: &str| home.run_in(home.0.path(), arguments, text.as_bytes());
    let small = survey_file("six-faults");
    typed(&["desk", &small, "--seed", "4"], "").done();
    typed(&["desk", "--resume"], "").fails_with("no job was left unfinished");
    let ran = typed(&["desk", &small, "--seed", "4"], "look\nloook\n\nfuse f1 look\n").done();
    assert_eq!(
        ran.err,
        "column 1: there is no command loook\nhint: did you mean look? help lists all commands\n"
    );
    let text = typed(&["desk", "--resume"], "quit\n").done().out;
    assert!(text.contains("Resumed after 2 steps, at 1.3 minutes."), "{text}");
    typed(&["desk", "--resume"], "hand in\n").done();
    typed(&["desk", "--resume"], "").fails_with("no job was left unfinished");
    typed(&["desk", "--seed", "4", "--no-record"], "look\n").done();
    typed(&["desk", "--resume"], "").fails_with("no job was left unfinished");

    fs::remove_dir_all(home.path("data")).expect("a data folder");
    home.write("data", "a file where a folder should be");
    typed(&["desk", "--seed", "4"], "look\n").fails_with("hint: ");
}

#[test]
fn a_record_that_cannot_be_trusted_is_refused() {
    let home = Home::new();
    home.write("own.scenario.ron", FLAGSHIP);
    home.play(&["own.scenario.ron", "--seed", "4", "--record", "r.jsonl"], "look\nfuse f1 look\nkey release")
        .done();
    let sound = home.read("r.jsonl");
    let lines: Vec<&str> = sound.lines().collect();
    let dropped = [lines[0], lines[1], lines[3], ""].join("\n");
    for (text, part) in [
        (String::new(), "r.jsonl:1:1: the record is empty"),
        ("{}\n".to_owned(), "r.jsonl:1:2: this is not the head of a record"),
        (sound.replace("\"probeworthy_record\":3", "\"probeworthy_record\":1"), "r.jsonl:1:23: format 1 "),
        (sound.replace("\"draw\":\"", "\"draw\":\"zz"), "r.jsonl:1:1: the draw cannot be read"),
        (sound.replace("\"fuse f1 look\"", "\"fuse f1 lick\""), "r.jsonl:3:41: there is no word called lick"),
        (sound.replace("\"fuse f1 look\"", "\"look\""), "the model gives "),
        (sound.replace("\"fuse f1 look\"", "\"fuse f2 look\""), "the model gives "),
        (sound.replace("\"fuse f1", "fuse f1"), "r.jsonl:3:42: this is not a line of a record"),
        (dropped, "the chain breaks here"),
        (
            lines[..2].iter().chain(&lines[1..]).map(|line| format!("{line}\n")).collect(),
            "the chain breaks here",
        ),
    ] {
        assert_ne!(text, sound, "{part}");
        home.write("r.jsonl", &text);
        home.run(&["desk", "--resume", "r.jsonl"]).fails_with(part);
        assert_eq!(home.read("r.jsonl"), text, "a record that is refused is left as it was");
    }
    home.write("r.jsonl", b"\xff\n");
    home.run(&["desk", "--resume", "r.jsonl"]).fails_with("this is not UTF-8 text");

    home.write("r.jsonl", &sound);
    home.write("own.scenario.ron", format!("// Another comment.\n{FLAGSHIP}"));
    home.run(&["desk", "--resume", "r.jsonl"]).done();
    home.write("own.scenario.ron", FLAGSHIP.replace("par_minutes: 55", "par_minutes: 54"));
    home.run(&["desk", "--resume", "r.jsonl"]).fails_with("has changed since this job began\nhint: ");
    fs::remove_file(home.path("own.scenario.ron")).expect("the scenario");
    home.run(&["desk", "--resume", "r.jsonl"]).fails_with("own.scenario.ron: the file cannot be read");
}

#[test]
fn a_record_that_is_open_elsewhere_is_left_alone() {
    let home = Home::new();
    let path = home.path("r.jsonl");
    let scenario = Arc::new(load(default_scenario()).expect("the flagship").scenario);
    let job = Job::new(scenario, 4, Choice::Drawn).expect("a job");
    let recorder = record::start(&job, default_scenario(), home.0.path(), Some(&path)).expect("a record");
    home.run(&["desk", "--resume", "r.jsonl"]).fails_with("this job is open in another window\nhint: ");
    drop(recorder);
    home.run(&["desk", "--resume", "r.jsonl"]).done();
}

/// Commands with the kinds of their names in capitals.
const COMMANDS: &[&str] = &[
    "ask when",
    "ask weather",
    "ask load",
    "ask work",
    "ask else",
    "cautions",
    "glasses",
    "prop",
    "look",
    "key lock",
    "key unlock",
    "key release",
    "press SWITCH",
    "switch SWITCH on",
    "switch SWITCH off",
    "lever",
    "force latch",
    "lockout on",
    "lockout off",
    "lid up",
    "lid shut",
    "lid catch",
    "lid DEGREES",
    "claw close",
    "take PANEL off",
    "put PANEL back",
    "unplug CONNECTOR",
    "plug CONNECTOR",
    "inspect CONNECTOR",
    "inspect STUD",
    "tug CAVITY",
    "tape STATION",
    "flex STATION",
    "meter off",
    "meter volts",
    "meter ohms",
    "meter tone",
    "meter amps",
    "meter prove",
    "meter fuse",
    "capture on",
    "capture off",
    "red POINT",
    "red off",
    "black POINT",
    "black off",
    "read",
    "lamp 5 POINT POINT",
    "lamp 5 off",
    "lamp 21 POINT POINT",
    "lamp 21 off",
    "bridge POINT POINT",
    "bridge off",
    "bench POINT POINT",
    "bench off",
    "fuse FUSE pull",
    "fuse FUSE look",
    "fuse FUSE back",
    "fuse FUSE fit AMPS",
    "memory read",
    "memory clear MODULE",
    "splice CONDUCTOR STATION",
    "twist CONDUCTOR STATION",
    "terminal CAVITY",
    "swap CONNECTOR 1 2",
    "clean STUD",
    "clips FUSE",
    "fit PART",
    "fit key",
    "fit key-cell",
    "charge",
    "name CONDUCTOR open at STATION 70%",
    "name connector CONNECTOR loose",
    "name battery flat",
    "write cause FUSE was 12 V",
    "sheet",
    "list pins",
];
/// What a learner does most, and what lets the rest be reached.
const OFTEN: &[&str] = &[
    "key release",
    "lever",
    "lid up",
    "lid shut",
    "take PANEL off",
    "unplug CONNECTOR",
    "plug CONNECTOR",
    "red POINT",
    "black POINT",
    "meter volts",
    "meter ohms",
    "read",
    "prop",
];

/// Draws commands of a vehicle.
struct Monkey {
    rng: ChaCha8Rng,
    names: Vec<(&'static str, Vec<String>)>,
}

impl Monkey {
    fn new(vehicle: &Vehicle, seed: u64) -> Self {
        let switches = |at: &&probeworthy::vehicle::Part| matches!(at.kind, PartKind::Switch { .. });
        let modules = |at: &&probeworthy::vehicle::Part| matches!(at.kind, PartKind::Module(_));
        let loom =
            vehicle.connectors.iter().flat_map(|x| (1..=x.cavities).map(move |n| format!("{}.{n}", x.id)));
        let points = vehicle.points().into_iter().map(|point| point_name(vehicle, point));
        let names = vec![
            ("SWITCH", vehicle.parts.iter().filter(switches).map(|x| x.id.clone()).collect()),
            ("MODULE", vehicle.parts.iter().filter(modules).map(|x| x.id.clone()).collect()),
            ("PART", vehicle.parts.iter().map(|x| x.id.clone()).collect()),
            ("PANEL", vehicle.panels.iter().map(|x| x.id.clone()).collect()),
            ("CONNECTOR", vehicle.connectors.iter().map(|x| x.id.clone()).collect()),
            ("CAVITY", loom.collect()),
            ("STUD", vehicle.studs.iter().map(|x| x.id.clone()).collect()),
            ("STATION", vehicle.stations.iter().map(|x| x.id.clone()).collect()),
            ("FUSE", vehicle.fuses.iter().map(|x| x.id.clone()).collect()),
            ("CONDUCTOR", vehicle.conductors.iter().map(|x| x.id.clone()).collect()),
            ("POINT", points.collect()),
            ("DEGREES", (2..=vehicle.lid.full_degrees).map(|x| x.to_string()).collect()),
            ("AMPS", (1..=30).map(|x| x.to_string()).collect()),
        ];
        Self { rng: ChaCha8Rng::seed_from_u64(seed), names }
    }

    fn pick<'a, T>(rng: &mut ChaCha8Rng, from: &'a [T]) -> &'a T {
        &from[usize::try_from(rng.next_u32()).expect("32 bits") % from.len()]
    }

    fn line(&mut self) -> String {
        let table = if self.rng.next_u32() % 5 < 2 { OFTEN } else { COMMANDS };
        let words = Self::pick(&mut self.rng, table).split(' ').map(|word| {
            match self.names.iter().find(|(kind, _)| *kind == word) {
                Some((_, names)) => Self::pick(&mut self.rng, names).clone(),
                None => word.to_owned(),
            }
        });
        words.collect::<Vec<_>>().join(" ")
    }
}

/// The path of a scenario with few faults.
fn survey_file(name: &str) -> String {
    root().join(format!("tests/survey/{name}.scenario.ron")).display().to_string()
}

#[test]
fn whatever_is_done_is_survived() {
    let home = Home::new();
    let vehicle = flagship();
    // Enough for a plain run; all of them where everything is to be held.
    let jobs = if std::env::var_os("CI").is_some() { 60 } else { 33 };
    for at in 0..jobs {
        let seed = at;
        let mut monkey = Monkey::new(&vehicle, seed);
        let mut script: Vec<String> = (0..60).map(|_| monkey.line()).collect();
        script.push(if seed % 2 == 0 { "hand in" } else { "refer" }.to_owned());
        let script = script.join("\n");
        // Marks take their time on a large pool; what can be done is the same on all of these.
        let (few, one) = (survey_file("six-faults"), survey_file("one-fault"));
        let scenario = match seed {
            31 => default_scenario(),
            seed if seed % 3 == 0 => &few,
            _ => &one,
        };
        let seed = seed.to_string();
        let ran = home.play(&[scenario, "--seed", &seed, "--json"], &script).done();
        let lines = ran.json();
        let (result, steps) = lines.split_last().expect("a result");
        let acts = script.lines().filter(|line| !line.starts_with("list") && *line != "sheet").count();
        assert_eq!(steps.len(), acts, "every act has its object\n{}", ran.err);
        sum_of_marks(result);
        for step in steps {
            let unit = &step["reading"]["unit"];
            assert!(step["minutes"].is_f64() && (step["reading"].is_null() || unit.is_string()), "{step}");
            // Only what ohms show can be over range; null on another setting would be a figure that is none.
            assert!(
                !step["reading"]["value"].is_null() || step["reading"].is_null() || unit == "Ω",
                "{step}"
            );
        }
        // Text is made of the same outcomes: every fifth job is told as text too.
        let text = match at % 5 {
            0 => home.play(&[scenario, "--seed", &seed], &script).done().out,
            _ => String::new(),
        };
        for none in ["NaN", "nan ", "inf "] {
            assert!(!text.contains(none) && !ran.out.contains(none), "{none} with seed {seed} in\n{text}");
        }
    }
}

#[test]
fn what_the_guides_show_is_sound() {
    for guide in ["scenarios/README.md", "assets/vehicles/README.md"] {
        let text = fs::read_to_string(root().join(guide)).expect(guide).replace("\r\n", "\n");
        let home = Home::new();
        let mut count = 0;
        for block in text.split("```ron\n").skip(1) {
            let block = block.split("```").next().unwrap_or_default();
            let Some(name) = block.lines().next().and_then(|line| line.strip_prefix("// ")) else { continue };
            home.write(&format!("files/{name}"), block);
            count += 1;
        }
        assert!(count >= 2, "{count} files in {guide}");
        let ran = home.run(&["check", "files"]);
        assert_eq!((ran.code, ran.out), (0, format!("{count} files checked, no problem\n")), "{guide}");
    }
}

#[test]
fn the_guide_shows_every_kind_of_fault() {
    let guide = fs::read_to_string(root().join("scenarios/README.md")).expect("the guide");
    // The kinds that can be written are those that the hint for none of them names.
    let home = Home::new();
    home.write("trial.scenario.ron", scenario("(is: 5, weight: 1),"));
    let told = home.run(&["check", "trial.scenario.ron"]).out;
    let hint = told.lines().find_map(|line| line.strip_prefix("hint: write one of ")).expect("a hint");
    let kinds: Vec<&str> =
        hint.split(", ").map(|kind| kind.trim_matches('`').trim_end_matches("(..)")).collect();
    assert!(kinds.len() >= 35, "{kinds:?}");
    for kind in kinds {
        assert!(guide.contains(&format!("(is: {kind}")), "no example of {kind}");
        assert!(guide.contains(&format!("| `{kind}`")), "no row for {kind}");
    }
}
