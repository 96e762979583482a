//! The instructor's workshop from outside: files to begin with, sheets to hand out, and what the guide says of them.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use probeworthy::fault::PlacedFault;
use probeworthy::scenario::{Range, SHELF, VEHICLES, load, load_text, scenario_forms};
use probeworthy::vehicle::{ConnectorId, Half};
use probeworthy::words::{FAULT_GUIDES, Texts, fault_title, learner_sheet};
use roxmltree::{Document, Node, ParsingOptions};
use tempfile::TempDir;

const ROOT: &str = env!("CARGO_MANIFEST_DIR");
const PROVING: &str = include_str!("../vehicles/proving.vehicle.ron");
const GUIDE: &str = include_str!("../../scenarios/README.md");

struct Ran {
    code: i32,
    out: String,
    err: String,
}

impl Ran {
    #[track_caller]
    fn done(self) -> Self {
        assert_eq!((self.code, self.err.as_str()), (0, ""), "{}", self.out);
        self
    }

    /// It could not be done: nothing on standard output, and one short message with these parts and a hint.
    #[track_caller]
    fn fails_with(&self, parts: &[&str]) {
        assert_eq!((self.code, self.out.as_str()), (2, ""), "{}", self.err);
        for part in parts.iter().chain(&["\nhint: "]) {
            assert!(self.err.contains(part), "no \"{part}\" in:\n{}", self.err);
        }
        assert!(self.err.lines().count() <= 3, "{}", self.err);
    }
}

/// A folder that is there as long as the value lives.
struct Folder(TempDir);

impl Folder {
    fn new() -> Self {
        Self(tempfile::tempdir().expect("a folder for temporary files"))
    }

    fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    fn read(&self, name: &str) -> String {
        fs::read_to_string(self.path(name)).expect(name)
    }

    fn write(&self, name: &str, text: &str) {
        let path = self.path(name);
        fs::create_dir_all(path.parent().expect("a folder")).expect("a folder");
        fs::write(path, text).expect("a writable folder");
    }

    fn run(&self, arguments: &[&str]) -> Ran {
        self.run_in(self.0.path(), arguments)
    }

    fn run_in(&self, folder: &Path, arguments: &[&str]) -> Ran {
        let output = Command::new(env!("CARGO_BIN_EXE_probeworthy"))
            .args(arguments)
            .current_dir(folder)
            .output()
            .expect("the built program");
        let text = |bytes| String::from_utf8(bytes).expect("UTF-8 on every stream");
        Ran { code: output.status.code().unwrap_or(-1), out: text(output.stdout), err: text(output.stderr) }
    }
}

/// Whether a text has this as a whole word.
fn has_word(text: &str, word: &str) -> bool {
    let part = |c: char| c.is_alphanumeric() || c == '_';
    text.match_indices(word).any(|(at, _)| {
        let before = text[..at].chars().next_back().is_some_and(part);
        let after = text[at + word.len()..].chars().next().is_some_and(part);
        !before && !after
    })
}

#[test]
fn a_new_scenario_passes_check_on_every_vehicle_and_explains_every_field() {
    let folder = Folder::new();
    folder.write("proving.vehicle.ron", PROVING);
    for vehicle in VEHICLES.iter().map(|(id, _)| *id).chain(["proving"]) {
        let name = format!("lesson-{vehicle}");
        let file = format!("{name}.scenario.ron");
        let made = folder.run(&["new", &name, "--vehicle", vehicle]).done();
        assert_eq!(made.out, format!("{file} is written\nnext: probeworthy check {file}\n"));
        assert_eq!(folder.run(&["check", &file]).done().out, "1 file checked, no problem\n");
        let text = folder.read(&file);
        for (part, forms) in scenario_forms() {
            for form in forms {
                for word in form.fields.iter().chain([&form.name]).filter(|word| !word.is_empty()) {
                    assert!(has_word(&text, word), "{vehicle}: {part}: nothing of {word}");
                }
            }
        }
        let longest = text.lines().map(|line| line.chars().count()).max();
        assert!(longest <= Some(130), "{vehicle}: a line of {longest:?}");
    }
}

/// With the `//` taken away, every kind that the comments show is a fault of this very vehicle; and on the proving
/// vehicle, which has a part of every kind, all kinds are shown so.
#[test]
fn what_a_new_scenario_shows_in_comments_can_be_written() {
    let folder = Folder::new();
    folder.write("proving.vehicle.ron", PROVING);
    let kinds = scenario_forms().into_iter().find(|(part, _)| *part == "fault").expect("faults").1;
    for vehicle in VEHICLES.iter().map(|(id, _)| *id).chain(["proving"]) {
        let file = format!("{vehicle}.scenario.ron");
        folder.run(&["new", &file, "--vehicle", vehicle]).done();
        let text = folder.read(&file);
        let shown: Vec<&str> =
            text.lines().filter_map(|line| line.trim().strip_prefix("//     (is: ")).collect();
        let missing = kinds.iter().filter(|kind| !shown.iter().any(|one| begins_with_word(one, kind.name)));
        let missing: Vec<&str> = missing.map(|kind| kind.name).collect();
        assert!(vehicle != "proving" || missing.is_empty(), "{missing:?}");
        for kind in missing {
            assert!(text.contains(&format!("//     {kind}(")), "{vehicle}: nothing of {kind}");
        }
        // Each alone, for some of them are also what the pool begins with.
        let (head, _) = text.split_once("faults: [").expect("a pool");
        for one in shown {
            let written = format!("{head}faults: [(is: {one}])");
            let loaded = load_text(&folder.path(&file), &written);
            assert!(
                loaded.is_ok(),
                "{vehicle}: {one}: {}",
                loaded.err().map_or(String::new(), |why| why.to_string())
            );
        }
    }
}

fn begins_with_word(text: &str, word: &str) -> bool {
    text.strip_prefix(word).is_some_and(|rest| !rest.starts_with(|c: char| c.is_alphanumeric()))
}

/// The ranges that the starter and the guide state are those that `check` holds numbers to.
#[test]
fn stated_ranges_are_those_that_are_checked() {
    let folder = Folder::new();
    folder.run(&["new", "lesson"]).done();
    let text = folder.read("lesson.scenario.ron");
    let path = folder.path("lesson.scenario.ron");
    for (field, range) in
        [("par_minutes", Range::PAR_MINUTES), ("celsius", Range::CELSIUS), ("safety", Range::WEIGHT_OF_MARKS)]
    {
        assert!(text.contains(&range.to_string()), "{field}: {range}");
        assert!(
            GUIDE.contains(&format!("`{field}`")) && GUIDE.contains(&range.to_string()),
            "{field}: {range}"
        );
        // Its first place on a line of its own, or within the marks: comments name fields, too.
        let written = if field == "safety" { ", safety: " } else { &format!("\n    {field}: ") };
        let (before, after) = text.split_once(written).expect(field);
        let tail = &after[after.find([',', ')']).expect("an end")..];
        let with = |value: f64| load_text(&path, &format!("{before}{written}{value}{tail}"));
        for good in [range.low, range.high] {
            assert!(with(good).is_ok(), "{field}: {good}: {:?}", with(good).err().map(|why| why.to_string()));
        }
        for bad in [range.low - 0.5, range.high + 0.5] {
            let why = with(bad).expect_err("out of range").to_string();
            assert!(why.contains("is out of range"), "{field}: {bad}: {why}");
        }
    }
    for guide in FAULT_GUIDES {
        let row = GUIDE.lines().find(|line| line.starts_with(&format!("| `{}`", guide.kind)));
        let row = row.unwrap_or_else(|| panic!("no row for {}", guide.kind));
        for (field, range) in guide.ranges {
            assert!(row.contains(&range.to_string()), "{} {field}: {range} is not in\n{row}", guide.kind);
        }
    }
}

#[test]
fn a_new_scenario_goes_where_it_is_told_and_over_nothing() {
    let folder = Folder::new();
    fs::create_dir(folder.path("lessons")).expect("a folder");
    folder.run(&["new", "lessons/first.scenario.ron", "--vehicle", "van"]).done();
    folder.run(&["new", "lessons/second", "--vehicle", "tow"]).done();
    assert_eq!(folder.run(&["check", "lessons"]).done().out, "2 files checked, no problem\n");
    let before = folder.read("lessons/first.scenario.ron");
    for again in ["lessons/first", "lessons/first.scenario.ron"] {
        folder.run(&["new", again]).fails_with(&["lessons/first.scenario.ron: there is such a file already"]);
    }
    assert_eq!(folder.read("lessons/first.scenario.ron"), before);
    folder.run(&["new", "none/first"]).fails_with(&["none/first.scenario.ron: the file cannot be written"]);
    for bad in ["First", "my lesson", "", "lessons/", "a.ron", "ä"] {
        folder.run(&["new", bad]).fails_with(&["cannot be a scenario's name"]);
    }
    folder
        .run(&["new", "x", "--vehicle", "estat"])
        .fails_with(&["no vehicle \"estat\"", "did you mean \"estate\"?"]);
    folder.run(&["new", "x", "--vehicle", "lorry"]).fails_with(&["no vehicle \"lorry\"", "saloon"]);
    folder.write("bad.vehicle.ron", "(");
    let broken = folder.run(&["new", "x", "--vehicle", "bad"]);
    assert_eq!((broken.code, broken.out.as_str()), (2, ""));
    assert!(broken.err.starts_with("bad.vehicle.ron:1:"), "{}", broken.err);
    let left: Vec<_> = fs::read_dir(folder.0.path())
        .expect("a folder")
        .map(|entry| entry.expect("an entry").file_name())
        .collect();
    assert_eq!(left.len(), 2, "{left:?}");
}

/// A page as a tree of elements: a reader of XML is stricter than any browser.
fn tree(page: &str) -> Document<'_> {
    let options = ParsingOptions { allow_dtd: true, ..ParsingOptions::default() };
    Document::parse_with_options(page, options).unwrap_or_else(|why| panic!("{why} in\n{page}"))
}

fn text(node: Node<'_, '_>) -> String {
    node.descendants().filter_map(|one| one.is_text().then(|| one.text()).flatten()).collect()
}

/// It asks for nothing from outside, and can be printed: dark on white, on A4.
fn stands_alone(page: &str) {
    let document = tree(page);
    for node in document.descendants().filter(Node::is_element) {
        let name = node.tag_name().name();
        assert!(!["script", "link", "img", "iframe", "object", "image", "use"].contains(&name), "{name}");
        for attribute in node.attributes() {
            let (name, value) = (attribute.name(), attribute.value());
            assert!(!["src", "href", "data", "srcset"].contains(&name), "{name}");
            assert!(!value.contains("url(") && !value.contains("//"), "{name}: {value}");
        }
    }
    let style: String = document.descendants().filter(|node| node.has_tag_name("style")).map(text).collect();
    for outside in ["url(", "@import", "http"] {
        assert!(!style.contains(outside), "{outside}");
    }
    for printed in ["@media print", "size:A4", "break-before:page", "background:#fff"] {
        assert!(style.contains(printed), "{printed}");
    }
    // A part that is folded in cannot be opened on paper.
    let folded =
        document.descendants().filter(|node| node.has_tag_name("details") && !node.has_attribute("open"));
    assert_eq!(folded.count(), 0);
}

#[test]
fn a_learners_sheet_holds_the_wiring_and_nothing_of_the_answer() {
    let mut seen: Vec<String> = Vec::new();
    for shelf in SHELF {
        let mut scenario = load(shelf.id).expect("on the shelf").scenario;
        let page = learner_sheet(&scenario);
        for fault in &scenario.faults {
            let title = fault_title(Texts::english(), &scenario.vehicle, fault);
            assert!(!page.contains(&fault.id), "{}: {}", shelf.id, fault.id);
            assert!(!page.contains(&title), "{}: {title}", shelf.id);
        }
        if seen.contains(&scenario.vehicle.id) {
            continue;
        }
        seen.push(scenario.vehicle.id.clone());
        // Not a letter of it hangs on the pool.
        let pool: Vec<PlacedFault> = std::mem::take(&mut scenario.faults);
        assert_eq!(page, learner_sheet(&scenario), "{}: {} faults", shelf.id, pool.len());
        let vehicle = &scenario.vehicle;
        stands_alone(&page);
        let document = tree(&page);
        let whole = text(document.root());
        assert!(whole.contains(scenario.customer.written()) && whole.contains(scenario.title.written()));
        assert_eq!(document.descendants().filter(|node| node.tag_name().name() == "svg").count(), 1);
        for (at, connector) in vehicle.connectors.iter().enumerate() {
            let id = ConnectorId::at(at);
            let section = document
                .descendants()
                .find(|node| node.has_tag_name("h3") && text(*node).ends_with(&format!(" {}", connector.id)))
                .and_then(|node| node.parent())
                .unwrap_or_else(|| panic!("{}: no {}", vehicle.id, connector.id));
            let rows: Vec<Vec<String>> = section
                .descendants()
                .filter(|node| node.has_tag_name("tbody"))
                .flat_map(|body| body.children().filter(|node| node.has_tag_name("tr")))
                .map(|row| row.children().filter(Node::is_element).map(text).collect())
                .collect();
            assert_eq!(rows.len(), usize::from(connector.cavities), "{}: {}", vehicle.id, connector.id);
            for (row, cavity) in rows.iter().zip(1..) {
                assert_eq!(row[0], cavity.to_string());
                for (half, from) in [(Half::Loom, 1), (Half::Mate, 5)] {
                    let Some(wire) = vehicle.conductor_in(id, half, cavity) else { continue };
                    let wire = vehicle.conductor(wire);
                    let told = [
                        wire.title.written().to_owned(),
                        wire.colour.clone(),
                        wire.square_millimetres.to_string(),
                    ];
                    assert_eq!(row[from..from + 3], told, "{}: {} {cavity}", vehicle.id, connector.id);
                    assert!(!row[from + 3].is_empty());
                }
            }
        }
    }
    assert_eq!(seen.len(), VEHICLES.len());
}

#[test]
fn a_handout_is_two_sheets_and_goes_over_nothing_unasked() {
    let folder = Folder::new();
    let told = folder.run(&["handout", "first-fuse", "--out", "fuse.html"]).done();
    assert_eq!(told.out, "fuse.html for learners\nfuse-instructor.html for you\n");
    let scenario = load("first-fuse").expect("on the shelf").scenario;
    assert_eq!(folder.read("fuse.html"), learner_sheet(&scenario));
    let page = folder.read("fuse-instructor.html");
    stands_alone(&page);
    let document = tree(&page);
    let whole = text(document.root());
    assert!(whole.contains("Difficulty 1 of 5; a good plan expects"), "{whole}");
    assert!(page.contains("<h2>Plan</h2>") && page.contains("<details"), "{page}");
    let rows: Vec<Vec<String>> = document
        .descendants()
        .filter(|node| node.has_tag_name("tr"))
        .map(|row| row.children().filter(Node::is_element).map(text).collect())
        .collect();
    for fault in &scenario.faults {
        let title = fault_title(Texts::english(), &scenario.vehicle, fault);
        let row = rows.iter().find(|row| row.get(2) == Some(&fault.id)).expect(&fault.id);
        assert_eq!((row[1].as_str(), row[3].as_str()), (fault.weight.to_string().as_str(), title.as_str()));
        assert!(!row[4].is_empty(), "what mends {}", fault.id);
        // The first column is the first trial: what a job of this fault shows.
        let signature = rows.iter().find(|row| row.first() == Some(&fault.id)).expect(&fault.id);
        folder.write("trial.txt", "key release\n");
        let desk = folder
            .run(&["desk", "first-fuse", "--fault", &fault.id, "--script", "trial.txt", "--no-record"])
            .done();
        let shown: Vec<&str> = desk
            .out
            .lines()
            .filter_map(|line| line.strip_prefix("  heard: ").or_else(|| line.strip_prefix("  seen: ")))
            .collect();
        assert_eq!(
            signature[1],
            if shown.is_empty() { "nothing".to_owned() } else { shown.join("; ") },
            "{}",
            fault.id
        );
    }
    folder
        .run(&["handout", "first-fuse", "--out", "fuse.html"])
        .fails_with(&["fuse.html: there is such a file", "--replace"]);
    fs::remove_file(folder.path("fuse.html")).expect("it is there");
    folder
        .run(&["handout", "first-fuse", "--out", "fuse.html"])
        .fails_with(&["fuse-instructor.html: there is such a file", "--replace"]);
    assert!(!folder.path("fuse.html").exists());
    folder.run(&["handout", "first-fuse", "--out", "fuse.html", "--replace"]).done();
    assert!(folder.path("fuse.html").exists());
    folder
        .run(&["handout", "first-fuse", "--out", "fuse.pdf"])
        .fails_with(&["fuse.pdf: a sheet is a page", ".html"]);
    folder.run(&["handout", "first-fus", "--out", "x.html"]).fails_with(&["did you mean \"first-fuse\"?"]);
    folder.run(&["handout", "first-fuse", "--out", "none/x.html"]).fails_with(&["x-instructor.html: "]);
}

/// Compares with a golden, or writes it.
#[track_caller]
fn golden(name: &str, text: &str) {
    let path = Path::new(ROOT).join("tests/goldens").join(name);
    if std::env::var_os("PROBEWORTHY_BLESS").is_some() {
        fs::write(&path, text).expect("a writable folder");
    }
    let known = fs::read_to_string(&path).unwrap_or_default();
    assert_eq!(known.replace("\r\n", "\n"), text, "{name}; PROBEWORTHY_BLESS=1 writes it anew");
}

/// Files that read well and make no sense: each mistake with its place and a hint, all at once.
#[test]
fn check_tells_what_makes_no_sense() {
    let folder = Folder::new();
    let vehicle = [
        "no conductor ends in the splice \"splice-unused\"",
        "only one conductor ends in the splice \"splice-of-one\"",
        "the fuse \"f3\" is fed by nothing",
        "the fuse \"f4\" feeds nothing",
        "the fuse \"f1\" of 10 A is smaller than its load of 11.1 A: cargo-lamp 11.1",
        "\"latch-supply\" of 0.35 mm² is too thin for the fuse \"f1\" of 10 A",
        "a short at the end of \"module-supply\" carries 4 A: too little to blow the fuse \"f2\" of 5 A",
        "\"to-no-wire\" ends nowhere: nothing is behind cavity 6 of \"joint-body\"",
        "\"to-no-pin\" ends nowhere: nothing is behind cavity 3 of \"lamp\"",
        "\"deutsch\" is no language's tag",
        "nothing here is called \"body module\"",
        "the translation is empty",
        "nothing here is called \"no such thing\"",
    ];
    let scenario = [
        "nobody can reach a par of 3 min",
        "plate-left.open: with this fault the lid opens every time",
        "latch-ground.0.02-ohm.bellows: with this fault the lid opens every time",
    ];
    for (name, told) in [("sense.vehicle", &vehicle[..]), ("sense.scenario", &scenario[..])] {
        let path = format!("tests/bad/{name}.ron");
        let ran = folder.run_in(Path::new(ROOT), &["check", &path]);
        assert_eq!((ran.code, ran.err.as_str()), (1, ""), "{}", ran.out);
        for what in told {
            let line = ran.out.lines().find(|line| line.contains(what));
            let line = line.unwrap_or_else(|| panic!("no \"{what}\" in\n{}", ran.out));
            let place: Vec<&str> = line.split(':').take(3).collect();
            assert!(place[0] == path && place[1..].iter().all(|at| at.parse::<u32>().is_ok()), "{line}");
        }
        assert_eq!(ran.out.matches("\nhint: ").count(), told.len(), "{}", ran.out);
        assert!(ran.out.ends_with(&format!("1 file checked, {} problems\n", told.len())), "{}", ran.out);
        golden(&format!("{name}.out"), &ran.out);
    }
}

/// On the edge of each rule: what a wire, a fuse and a par may just be passes, and a little less does not.
#[test]
fn rules_of_sense_begin_where_they_say() {
    let folder = Folder::new();
    let guide = include_str!("../../assets/vehicles/README.md").replace("\r\n", "\n");
    let small = guide.split("```ron\n").nth(1).and_then(|rest| rest.split("```").next()).expect("a vehicle");
    let with = |from: &str, to: &str| {
        assert!(small.contains(from), "{from}");
        folder.write("small.vehicle.ron", &small.replace(from, to));
        folder.run(&["check", "small.vehicle.ron"]).code
    };
    // I²t at twice 10 A for 5 s against (115 A√s/mm² × A)²: 0.389 mm².
    let supply = "colour: \"RD/WH\", square_millimetres: ";
    assert_eq!(with(&format!("{supply}1.5"), &format!("{supply}0.39")), 0);
    assert_eq!(with(&format!("{supply}1.5"), &format!("{supply}0.38")), 1);
    // 10 A at 13.5 V are 135 W.
    assert_eq!(with("Lamp(watts: 5,", "Lamp(watts: 134.9,"), 0);
    assert_eq!(with("Lamp(watts: 5,", "Lamp(watts: 135.1,"), 1);
    // Twice 5 A of 12 V leave 1.2 Ω; 6 mΩ are the battery's and 6.5 the feed's: 51.6 m of 0.75 mm².
    let metres = "from: FuseLoad(\"f2\"), metres: ";
    assert_eq!(with(&format!("{metres}3"), &format!("{metres}51.5")), 0);
    assert_eq!(with(&format!("{metres}3"), &format!("{metres}51.8")), 1);
}

/// The lesson in the guide, step by step: its commands as they stand there, its file, its figures and its report.
#[test]
fn the_lesson_in_the_guide_goes_as_it_says() {
    let guide = GUIDE.replace("\r\n", "\n");
    let begins = guide.find("## A lesson in fifteen minutes").expect("the lesson");
    let lesson = &guide[begins..guide.find("## Every field").expect("the next chapter")];
    let file = lesson.split("```ron\n").nth(1).and_then(|rest| rest.split("```").next()).expect("its file");
    let folder = Folder::new();
    let path = "lessons/weak-ground.scenario.ron";
    let mut count = 0;
    for line in
        lesson.lines().filter_map(|line| line.strip_prefix("       ")).filter(|line| !line.starts_with(' '))
    {
        count += 1;
        if let Some(made) = line.strip_prefix("mkdir ") {
            fs::create_dir(folder.path(made)).expect("a folder");
            continue;
        }
        let line = line.strip_prefix("cargo run --release -- ").unwrap_or_else(|| panic!("{line}"));
        let arguments: Vec<&str> = line.split(' ').collect();
        if arguments[0] == "desk" {
            // What is typed there comes from a file here.
            folder.write("typed.txt", "list pins\nkey release\nhand in\n");
            let all = [&arguments[..], &["--script", "typed.txt", "--no-record"]].concat();
            assert!(folder.run(&all).done().out.contains("The fault was"));
            continue;
        }
        if arguments[0] == "author" {
            // It opens a window, where there is one; what it opens is there.
            assert!(arguments[1..] == [path] && folder.path(path).exists(), "{line}");
            continue;
        }
        let out = folder.run(&arguments).done().out;
        match arguments[0] {
            // Step 3 follows: the file as it is to be.
            "new" => folder.write(path, file),
            "check" => assert!(lesson.contains(out.trim()), "{out}"),
            "faults" => assert!(out.contains("latch-ground.9-ohm.bellows"), "{out}"),
            "survey" => {
                assert_eq!(out.matches("\n  none\n").count(), 2, "{out}");
                let plan = out.lines().find_map(|line| line.strip_prefix("plan ")).expect("a plan");
                let plan: f64 =
                    plan.split_whitespace().next().and_then(|one| one.parse().ok()).expect("minutes");
                assert!(lesson.contains(&format!("takes {plan:.0} minutes")), "{plan}");
                let par = (1.5 * plan).round();
                assert!(
                    file.contains(&format!("par_minutes: {par},"))
                        && lesson.contains(&format!("{par}, is the par"))
                );
            }
            "handout" => {
                for sheet in out.lines().filter_map(|line| line.split(' ').next()) {
                    assert!(lesson.contains(&format!("`{sheet}`")) && folder.path(sheet).exists(), "{sheet}");
                }
            }
            other => panic!("the lesson has a command {other}"),
        }
    }
    assert_eq!(count, 8, "commands of the lesson");

    // The slip that "How to read a report" shows.
    let shown = &guide[guide.find("## How to read a report").expect("the last chapter")..];
    let shown: Vec<&str> = shown.lines().filter_map(|line| line.strip_prefix("    ")).collect();
    folder.write(path, &file.replacen("\"latch-ground\"", "\"latch-grund\"", 1));
    let told = folder.run(&["check", path]);
    assert_eq!(told.code, 1);
    let told: Vec<&str> = told.out.lines().collect();
    assert_eq!(shown[..], told[..shown.len()]);
}
