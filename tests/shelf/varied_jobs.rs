//! Varied jobs from outside: played, kept, gone on with, verified, explained and printed.

use std::fs;
use std::io::Write;
use std::process::{Command, Stdio};

use probeworthy::record;
use probeworthy::scenario::{Variation, load};
use probeworthy::vehicle::Half;
use serde_json::Value;
use tempfile::TempDir;

const SMALL: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/survey/six-faults.scenario.ron");
/// A job from the front door to the hand-in; it names no cavity.
const JOB: &str = "look\nask when\nask else\nkey release\nlid up\nsheet\nhand in\n";

/// A folder of its own, which is also the user's home, for as long as the value lives.
struct Home(TempDir);

impl Home {
    fn new() -> Self {
        Self(tempfile::tempdir().expect("a folder for temporary files"))
    }

    /// What the program said, and with which code it ended.
    fn ran(&self, arguments: &[&str], input: &str) -> (i32, String) {
        let mut command = Command::new(env!("CARGO_BIN_EXE_probeworthy"));
        command.args(arguments).current_dir(self.0.path());
        command.env("HOME", self.0.path()).env("XDG_DATA_HOME", self.0.path().join("data"));
        command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
        let mut child = command.spawn().expect("the built program");
        // A program that ends before it has read its input closes the pipe, and that is no fault.
        child.stdin.take().expect("a pipe").write_all(input.as_bytes()).ok();
        let output = child.wait_with_output().expect("an ended program");
        let said = [output.stdout, output.stderr].map(|bytes| String::from_utf8(bytes).expect("UTF-8"));
        assert!(!said[1].contains("panicked"), "{arguments:?}: {}", said[1]);
        (output.status.code().unwrap_or(-1), said.concat())
    }

    #[track_caller]
    fn done(&self, arguments: &[&str], input: &str) -> String {
        let (code, said) = self.ran(arguments, input);
        assert_eq!(code, 0, "{arguments:?}: {said}");
        said
    }

    fn read(&self, name: &str) -> String {
        fs::read_to_string(self.0.path().join(name)).expect(name)
    }

    fn head(&self, name: &str) -> Value {
        serde_json::from_str(self.read(name).lines().next().expect("a head")).expect("JSON")
    }
}

#[test]
fn a_varied_job_is_kept_resumed_verified_and_explained() {
    let home = Home::new();
    let script = ["--script", "-", "--record", "r.jsonl"];
    let begun = home.done(&[&["desk", SMALL, "--seed", "4"], &script[..]].concat(), "look\nask when\n");
    let variation = Variation::of_seed(4);
    assert!(begun.contains(&format!("Variation {variation} of this scenario.")), "{begun}");
    let varied = load(SMALL).expect("a sound file").scenario.for_seed(4);
    assert!(begun.contains(varied.customer.written()), "{begun}");
    let head = home.head("r.jsonl");
    assert_eq!(head["variation"]["number"], variation.number());
    assert_eq!(head["variation"]["scenario_hash"], varied.hash());
    assert_eq!(head["scenario_hash"], varied.written().hash());

    let (job, _) = record::replayed(&home.0.path().join("r.jsonl"), None).expect("a record");
    assert_eq!(job.scenario().hash(), varied.hash());
    home.done(&["desk", "--resume", "r.jsonl", "--script", "-"], "key release\nhand in\n");
    let verified = home.done(&["verify", "r.jsonl"], "");
    assert!(verified.contains("r.jsonl"), "{verified}");
    home.done(&["explain", "r.jsonl"], "");
    home.done(&["debrief", "r.jsonl"], "");
    home.done(&["practice", "--records", "."], "");

    // Another number, or another hash, is not what was played.
    let text = home.read("r.jsonl");
    let number = format!("\"number\":{}", variation.number());
    assert!(text.contains(&number));
    fs::write(home.0.path().join("n.jsonl"), text.replace(&number, "\"number\":1")).expect("a file");
    let (code, said) = home.ran(&["desk", "--resume", "n.jsonl"], "");
    assert!(code == 2 && said.contains("variation 1 of its scenario is not what it was"), "{said}");
    let (code, said) = home.ran(&["verify", "n.jsonl"], "");
    assert!(code == 1 && said.contains("the chain breaks here"), "{said}");
    fs::write(home.0.path().join("z.jsonl"), text.replace(&number, "\"number\":0")).expect("a file");
    let (code, said) = home.ran(&["desk", "--resume", "z.jsonl"], "");
    assert!(code == 2 && said.contains("z.jsonl:1:1: there is no such variation"), "{said}");
}

/// Records from before there were variations name none, and are what the file has.
#[test]
fn a_job_as_written_leaves_a_record_as_they_always_were() {
    let home = Home::new();
    let script = ["--script", "-", "--record"];
    let first = home
        .done(&[&["desk", SMALL, "--seed", "4", "--as-written"], &script[..], &["r.jsonl"]].concat(), JOB);
    assert!(!first.contains("Variation"), "{first}");
    let head = home.head("r.jsonl");
    let keys: Vec<&String> = head.as_object().expect("an object").keys().collect();
    assert!(!keys.iter().any(|key| *key == "variation"), "{keys:?}");
    let written = load(SMALL).expect("a sound file").scenario;
    assert_eq!(head["scenario_hash"], written.hash());
    home.done(&["verify", "r.jsonl"], "");
    let (job, _) = record::replayed(&home.0.path().join("r.jsonl"), None).expect("a record");
    assert_eq!(job.scenario().variation(), None);

    // A fault that is named sits where its name says; in a variation that is named, too.
    let named = |more: &[&str], name: &str| {
        let fault = written.faults[0].id.as_str();
        let begun = [&["desk", SMALL, "--seed", "4", "--fault", fault], more, &script[..], &[name]].concat();
        home.done(&begun, "look\n");
        home.head(name)["variation"]["number"].as_u64()
    };
    assert_eq!(named(&[], "f.jsonl"), None);
    assert_eq!(named(&["--variation", "17"], "v.jsonl"), Some(17));
}

#[test]
fn what_is_fixed_in_the_file_is_fixed_wherever_it_is_played() {
    let home = Home::new();
    let text = fs::read_to_string(SMALL).expect("a scenario");
    let own = text.replacen("    trials:", "    fixed: [Everything],\n    trials:", 1).replacen(
        "six-faults",
        "own",
        1,
    );
    fs::write(home.0.path().join("own.scenario.ron"), own).expect("a file");
    let said = home
        .done(&["desk", "own.scenario.ron", "--seed", "4", "--script", "-", "--record", "r.jsonl"], "look\n");
    assert!(!said.contains("Variation"), "{said}");
    assert!(home.head("r.jsonl").get("variation").is_none());
    home.done(&["handout", "own.scenario.ron", "--seed", "4", "--out", "own.html"], "");
    assert!(!home.read("own.html").contains("in others cavities"), "every job is as this sheet has it");
}

#[test]
fn sheets_and_diagrams_are_of_the_job() {
    let home = Home::new();
    let scenario = load("first-fuse").expect("a sound file").scenario;
    let varied = scenario.for_seed(7);
    home.done(&["handout", "first-fuse", "--seed", "7", "--out", "seed.html"], "");
    let number = Variation::of_seed(7).number().to_string();
    home.done(&["handout", "first-fuse", "--variation", &number, "--out", "number.html"], "");
    assert_eq!(home.read("seed.html"), home.read("number.html"));
    home.done(&["handout", "first-fuse", "--out", "file.html"], "");
    assert_ne!(home.read("seed.html"), home.read("file.html"));
    assert!(home.read("seed.html").contains(&format!("--variation {number}")));
    assert!(home.read("file.html").contains("--as-written"));
    assert!(
        home.read("seed-instructor.html").contains(&format!("desk first-fuse --variation {number} --seed 7"))
    );
    // The wire of the module's first cavity stands in the sheet's table with its colour.
    let vehicle = &varied.vehicle;
    let module = vehicle.connectors.iter().position(|one| one.id == "module").expect("a module");
    let wire =
        vehicle.conductor_in(probeworthy::vehicle::ConnectorId::at(module), Half::Loom, 1).expect("a wire");
    let row = format!(
        "<td>1</td><td>{}</td><td>{}</td>",
        vehicle.conductor(wire).title.written(),
        vehicle.conductor(wire).colour
    );
    assert!(home.read("seed.html").contains(&row), "{row}");

    let diagram = |more: &[&str]| home.done(&[&["diagram", "first-fuse"], more].concat(), "");
    assert_eq!(diagram(&["--seed", "7"]), diagram(&["--variation", &number]));
    assert_ne!(diagram(&["--seed", "7"]), diagram(&[]));
}

#[test]
fn what_cannot_be_asked_for_together_is_refused() {
    let home = Home::new();
    for arguments in [
        ["--as-written", "--variation", "3"],
        ["--variation", "0", "--json"],
        ["--variation", "10000", "--json"],
        ["--resume", "--variation", "3"],
    ] {
        let (code, said) = home.ran(&[&["desk"], &arguments[..]].concat(), "");
        assert_eq!(code, 2, "{arguments:?}: {said}");
    }
    assert_eq!(home.ran(&["survey", "--seed", "3", "--variation", "3"], "").0, 2);
}
