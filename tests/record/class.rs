//! Class reports: figures against their definitions and other programs', what does not count, and what stands out.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use probeworthy::class::{COLUMNS, Class, Odd, Table, alpha, items, oddities, report};
use probeworthy::job::{Choice, Job};
use probeworthy::marks::mark_and_debrief;
use probeworthy::reasoning::Inquiry;
use probeworthy::record::{self, Keeper, Key, written_time};
use probeworthy::scenario::load;
use probeworthy::words::{self, Texts};
use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};
use serde_json::{Value, json};
use tempfile::TempDir;

const SMALL: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/survey/two-faults.scenario.ron");
const ACTS: &[&str] = &[
    "cautions",
    "key release",
    "lever",
    "lid up",
    "prop",
    "meter volts",
    "black body",
    "take lid-trim off",
    "red latch.1",
    "write cause a \"quoted\", comma | bar\nand a line",
    "tape bellows",
    "name latch-feed open at bellows 60%",
    "refer",
];
const BEGUN_MS: u64 = 1_790_000_000_000;

/// A record that was really made, line by line.
fn made(folder: &TempDir) -> Vec<Value> {
    let scenario = Arc::new(load(SMALL).expect("a sound file").scenario);
    let path = folder.path().join("made.jsonl");
    let mut job = Job::new(Arc::clone(&scenario), 4, Choice::Drawn).expect("a job");
    let mut recorder = record::start(&job, SMALL, folder.path(), Some(&path))
        .expect("a record")
        .signing_with(Key::from_secret([7; 32]));
    for line in ACTS {
        let act = if line.contains('\n') {
            probeworthy::bench::Action::Write(
                probeworthy::bench::WriteUpLine::Cause,
                line.trim_start_matches("write cause ").to_owned(),
            )
        } else {
            words::parse(&scenario.vehicle, line).expect(line)
        };
        job.apply(act, &mut recorder).expect(line);
    }
    let fresh = Inquiry::new(scenario, 2).expect("operating points");
    let (marks, debrief) = mark_and_debrief(&job, &fresh).expect("a replay").expect("it was handed in");
    recorder.close(&job, &marks, &debrief).expect("a closing");
    drop(recorder);
    let text = fs::read_to_string(&path).expect("the record");
    fs::remove_file(&path).expect("the record");
    text.lines().map(|line| serde_json::from_str(line).expect(line)).collect()
}

/// What is to be different in a record made after another.
struct Like<'a> {
    name: &'a str,
    scenario: &'a str,
    total: f64,
    seconds_a_step: u64,
    swapped: Option<(usize, usize)>,
}

/// Writes a record like another one, its chain and its seal whole.
fn write(folder: &TempDir, lines: &[Value], like: &Like<'_>) -> PathBuf {
    let mut lines = lines.to_vec();
    lines[0]["record"] = json!(record::link(&format!("{} {}", like.name, like.scenario)));
    lines[0]["scenario"] = json!(format!("{}.scenario.ron", like.scenario));
    if let Some((a, b)) = like.swapped {
        let (one, other) = (lines[a]["step"]["act"].clone(), lines[b]["step"]["act"].clone());
        lines[a]["step"]["act"] = other;
        lines[b]["step"]["act"] = one;
    }
    let (mut before, mut text) = (String::new(), String::new());
    for (at, line) in lines.iter_mut().enumerate() {
        if line.get("at").is_some() {
            line["at"] = json!(written_time(BEGUN_MS + 1000 * like.seconds_a_step * at as u64));
        }
        if at > 0 {
            line["previous"] = json!(before);
        }
        if line.get("closing").is_some() {
            line["closing"]["result"]["total"] = json!(like.total);
        }
        if line.get("seal").is_some() {
            line["seal"] = serde_json::to_value(Key::from_secret([7; 32]).seal(&before)).expect("a seal");
        }
        before = record::link(&line.to_string());
        text.push_str(&format!("{line}\n"));
    }
    let path = folder.path().join(like.scenario).join(format!("{}.jsonl", like.name));
    fs::create_dir_all(path.parent().expect("a folder")).expect("a folder");
    fs::write(&path, text).expect("a file");
    path
}

/// A number from 0 to 1, to a thousandth.
fn share(rng: &mut ChaCha8Rng) -> f64 {
    f64::from(rng.next_u32() % 1001) / 1000.0
}

/// What would have been better is told in words where its scenario can be read, and in commands where not.
#[test]
fn better_choices_are_told_in_words() {
    let folder = tempfile::tempdir().expect("a folder for temporary files");
    let lines = made(&folder);
    let commands = lines.iter().find_map(|line| line["closing"]["result"]["passed_by"][0].as_str());
    let commands = commands.expect("a better choice").to_owned();
    let told = |scenario| {
        let like = Like { name: "anna", scenario, total: 50.0, seconds_a_step: 20, swapped: None };
        page(&Class::read(&[write(&folder, &lines, &like)], None, None).expect("no table"))
    };
    let gone = told("gone");
    assert!(gone.contains(&format!("<code>{commands}</code>")), "no {commands} in:\n{gone}");
    // Tests run in the package's folder.
    let told = told("tests/survey/two-faults");
    let vehicle = load(SMALL).expect("a sound file").scenario.vehicle;
    let words = words::acts_of_commands(Texts::english(), &vehicle, &commands).expect(&commands);
    assert!(told.contains(&format!("<td>{words}</td>")), "no {words} in:\n{told}");
    assert!(!told.contains(&format!("<code>{commands}</code>")), "commands in:\n{told}");
}

fn page(class: &Class) -> String {
    let mut bytes = Vec::new();
    report(class, "A <class> & its \"page\"", &mut bytes).expect("memory");
    String::from_utf8(bytes).expect("UTF-8")
}

#[test]
fn what_a_class_earned_is_read_and_measured() {
    let folder = tempfile::tempdir().expect("a folder for temporary files");
    let lines = made(&folder);
    let mut rng = ChaCha8Rng::seed_from_u64(3);
    let mut table = Vec::new();
    let mut files = Vec::new();
    for person in 0..40 {
        let skill = share(&mut rng);
        let row: Vec<f64> = ["a", "b", "c"]
            .iter()
            .map(|scenario| {
                let total = (1000.0 * (0.6 * skill + 0.4 * share(&mut rng))).round() / 10.0;
                let name = format!("<{person}> & \"co\"");
                let like = Like { name: &name, scenario, total, seconds_a_step: 20, swapped: None };
                files.push(write(&folder, &lines, &like));
                total / 100.0
            })
            .collect();
        // One has not done all of them.
        if person == 7 {
            fs::remove_file(files.pop().expect("a file")).expect("a file");
        } else {
            table.push(row);
        }
    }
    let class = Class::read(&files, None, None).expect("no table");
    assert_eq!(
        (class.done.len(), class.items.len(), class.left_out.len()),
        (119, 3, 0),
        "{:?}",
        class.left_out
    );
    let mut read = class.persons_by_jobs();
    let by_first = |rows: &mut Vec<Vec<f64>>| rows.sort_by(|a, b| a.partial_cmp(b).expect("numbers"));
    by_first(&mut read);
    by_first(&mut table);
    assert_eq!(read, table);
    let text = page(&class);
    let told = alpha(&table).expect("it varies");
    assert!(
        text.contains(&format!("<b>{:.2} ± {:.2}</b>", told.value, told.error.expect("an error"))),
        "{text}"
    );
    roxmltree::Document::parse_with_options(
        &text,
        roxmltree::ParsingOptions { allow_dtd: true, ..Default::default() },
    )
    .expect("a page that can be read as XML");
    assert!(text.contains("&lt;7&gt; &amp; &quot;co&quot;") && !text.contains("<7>"));
}

/// Twelve persons, four items, drawn by numpy 2 (`default_rng(7)`). Alpha by pingouin 0.7.0 (`cronbach_alpha`), means, errors and
/// correlations by pandas 3.1.1 and scipy 1.17.1 (`sem`, `pearsonr` with the sum of the others). Alpha's standard error is
/// 0.372140 divided by the root of the number of persons where twenty thousand samples of 400 normal persons with this table's
/// covariances are drawn with numpy.
#[test]
fn figures_are_those_of_other_programs() {
    let table: Vec<Vec<f64>> = [
        [51.1, 40.7, 49.7, 57.0],
        [40.1, 49.0, 34.6, 40.7],
        [28.3, 44.4, 34.0, 49.4],
        [40.9, 37.4, 14.1, 33.9],
        [44.1, 45.7, 29.2, 39.8],
        [28.3, 30.0, 48.7, 30.0],
        [50.4, 59.6, 44.9, 49.6],
        [67.2, 66.7, 53.8, 66.8],
        [57.7, 28.6, 52.7, 45.3],
        [36.1, 62.6, 50.2, 30.6],
        [56.6, 61.6, 54.0, 62.7],
        [53.6, 61.0, 68.7, 47.5],
    ]
    .iter()
    .map(|row| row.to_vec())
    .collect();
    let near = |found: f64, expected: f64, within: f64| (found / expected - 1.0).abs() < within;
    let found = alpha(&table).expect("it varies");
    assert!(near(found.value, 0.7792182730078088, 1e-12), "{found:?}");
    let drawn = 0.372140 / 12.0_f64.sqrt();
    assert!(near(found.error.expect("an error"), drawn, 0.02), "{found:?} beside {drawn}");
    let expected = [
        (46.2, 3.4710490947524524, 0.6820847444673124),
        (48.94166666666667, 3.8197941070432084, 0.5035002654238239),
        (44.55, 4.150054764151258, 0.5101725892444836),
        (46.10833333333333, 3.4440871230430727, 0.6697606536888788),
    ];
    for (item, (mean, error, discrimination)) in items(&table).iter().zip(expected) {
        assert!(near(item.difficulty.value, mean, 1e-12), "{item:?}");
        assert!(near(item.difficulty.error.expect("an error"), error, 1e-12), "{item:?}");
        let found = item.discrimination.expect("it varies");
        assert!(near(found.value, discrimination, 1e-12), "{item:?}");
        let usual = (1.0 - discrimination * discrimination) / 11.0_f64.sqrt();
        assert!(near(found.error.expect("an error"), usual, 1e-12), "{item:?}");
    }
}

#[test]
fn what_does_not_count_is_left_out_with_its_reason() {
    let folder = tempfile::tempdir().expect("a folder for temporary files");
    let lines = made(&folder);
    let like = |name| Like { name, scenario: "a", total: 50.0, seconds_a_step: 20, swapped: None };
    let sound = write(&folder, &lines, &like("sound"));
    let text = fs::read_to_string(&sound).expect("a record");
    let other = |name: &str, text: &str| {
        let path = folder.path().join(name);
        fs::write(&path, text).expect("a file");
        path
    };
    let fewer: String = text.lines().take(6).map(|line| format!("{line}\n")).collect();
    let files = [
        sound,
        other("changed.jsonl", &text.replacen("\"total\":50.0", "\"total\":90.0", 1)),
        other("copy.jsonl", &text),
        other("left.jsonl", &fewer),
        other("empty.jsonl", ""),
        other("else.jsonl", "{\"a\":1}\n"),
        folder.path().join("none.jsonl"),
    ];
    let class = Class::read(&files, None, None).expect("no table");
    assert_eq!(class.done.len(), 1);
    let reasons: Vec<&str> = class.left_out.iter().map(|one| one.why.as_str()).collect();
    for (why, part) in reasons.iter().zip([
        "the chain breaks here",
        "a copy of another",
        "not handed in",
        "the record is empty",
        "this is not the head of a record",
        "none.jsonl",
    ]) {
        assert!(why.contains(part), "{part}: {why}");
    }
    assert_eq!(reasons.len(), 6);
    assert!(page(&class).contains("Files that do not count"));
    assert!(page(&Class::read(&[], None, None).expect("no table")).contains("0 records"));
}

#[test]
fn what_stands_out_is_told() {
    let folder = tempfile::tempdir().expect("a folder for temporary files");
    let lines = made(&folder);
    // Every one goes another way, but for two.
    let mut files: Vec<PathBuf> = (2..9)
        .map(|at| {
            let (name, swapped) = (format!("own-{at}"), Some((at, at + 3)));
            write(
                &folder,
                &lines,
                &Like { name: &name, scenario: "a", total: 50.0, seconds_a_step: 20, swapped },
            )
        })
        .collect();
    let like =
        |name, seconds_a_step| Like { name, scenario: "a", total: 50.0, seconds_a_step, swapped: None };
    files.push(write(&folder, &lines, &like("first", 20)));
    files.push(write(&folder, &lines, &like("second", 4)));
    // The same way through another job is no copy.
    files.push(write(&folder, &lines, &Like { scenario: "b", ..like("third", 20) }));
    let class = Class::read(&files, None, None).expect("no table");
    let found = oddities(&class);
    let same: Vec<_> = found.iter().filter(|one| matches!(one.odd, Odd::SameWay(_))).collect();
    assert!(same.len() == 1 && same[0].of == 8 && same[0].odd == Odd::SameWay(7), "{found:?}");
    let fast: Vec<usize> =
        found.iter().filter(|one| matches!(one.odd, Odd::Fast(..))).map(|one| one.of).collect();
    assert_eq!(fast, [8], "{found:?}");
    let text = page(&class);
    assert!(text.contains("second, a: the same acts in the same order as first, a"), "{text}");
    assert!(class.anybody_did(0, "key release") && !class.anybody_did(0, "key lock"));
}

#[test]
fn the_table_has_every_step_and_is_read_back() {
    let folder = tempfile::tempdir().expect("a folder for temporary files");
    let lines = made(&folder);
    let like = |name| Like { name, scenario: "a", total: 50.0, seconds_a_step: 20, swapped: None };
    let files = [write(&folder, &lines, &like("one")), write(&folder, &lines, &like("two, \"three\""))];
    let mut bytes = Vec::new();
    let mut table = Table::new(&mut bytes).expect("memory");
    Class::read(&files, None, Some(&mut table)).expect("memory");
    table.end().expect("memory");
    let mut reader = csv::Reader::from_reader(bytes.as_slice());
    assert_eq!(reader.headers().expect("a first row").iter().collect::<Vec<_>>(), COLUMNS);
    let rows: Vec<csv::StringRecord> = reader.records().collect::<Result<_, _>>().expect("a table");
    assert_eq!(rows.len(), 2 * ACTS.len());
    let column = |name: &str| COLUMNS.iter().position(|column| *column == name).expect(name);
    for (row, line) in rows.iter().zip(lines[1..=ACTS.len()].iter().cycle()) {
        let step = &line["step"];
        assert_eq!(row[column("act")], *step["act"].as_str().expect("an act"));
        assert_eq!(row[column("step")].parse::<u64>().ok(), step["number"].as_u64());
        assert_eq!(row[column("minutes")].parse::<f64>().ok(), step["minutes"].as_f64());
        let value = step["shown"]["meter"]["value"].as_f64();
        assert_eq!(row[column("meter_value")].parse::<f64>().ok(), value);
        assert!(record::read_time(&row[column("at")]).is_some());
    }
    assert!(rows.iter().any(|row| !row[column("meter_value")].is_empty()));
    // A table that cannot be written ends the reading.
    struct Full;
    impl std::io::Write for Full {
        fn write(&mut self, _: &[u8]) -> std::io::Result<usize> {
            Err(std::io::Error::new(std::io::ErrorKind::StorageFull, "full"))
        }
        fn flush(&mut self) -> std::io::Result<()> {
            Ok(())
        }
    }
    let mut full = Table::new(Full).expect("it is buffered");
    let many: Vec<PathBuf> = files.iter().cycle().take(60).cloned().collect();
    assert!(Class::read(&many, None, Some(&mut full)).is_err() || full.end().is_err());
    assert!(Path::new(&files[0]).exists());
}
