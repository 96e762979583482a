//! A scenario's file while it is being written: changed by hand in a form, and followed when it is saved elsewhere.

use std::fs;
use std::path::Path;
use std::sync::Arc;

use probeworthy::bench::{KitItem, Refusal};
use probeworthy::job::{Choice, Job, NoJournal};
use probeworthy::scenario::{Aspect, Change, LoadError, SHELF, Scenario, Watch, load_text};
use probeworthy::vehicle::Title;
use probeworthy::words;

fn read(text: &str) -> Scenario {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/one.scenario.ron");
    load_text(&path, text).unwrap_or_else(|why| panic!("{why}\n{text}")).scenario
}

/// Lines of a file that hold a comment, and what it says.
fn comments(text: &str) -> Vec<&str> {
    text.lines().filter_map(|line| line.split_once("// ")).map(|(_, comment)| comment).collect()
}

#[test]
fn every_change_of_every_scenario_is_read_again_and_keeps_the_comments() {
    for shelf in SHELF {
        let before = read(shelf.text);
        let last = before.faults.len() - 1;
        let changes = [
            Change::Title("Another \"title\"".to_owned()),
            Change::Customer("It does \"not\" work. \\ Never did.".to_owned()),
            Change::OtherWords(vec!["It \"never\" opens.".to_owned(), "Shut it stays.".to_owned()]),
            Change::Fixed(vec![Aspect::Colours, Aspect::Words]),
            Change::ParMinutes(61.5),
            Change::Locked(!before.conditions.locked),
            Change::Celsius(-7.0),
            Change::Wet(!before.conditions.wet),
            Change::Coaching(!before.coaching),
            Change::Without(vec![KitItem::Clamp, KitItem::Bench]),
            Change::MostMinutes(Some(130.5)),
            Change::Marks(0, 41.0),
            Change::Marks(5, 9.5),
            Change::Weight(last, 77),
        ];
        let text = changes.iter().fold(shelf.text.to_owned(), |text, change| {
            change.of(&text).unwrap_or_else(|| panic!("{}: {change:?}", shelf.id))
        });
        assert_eq!(comments(&text), comments(shelf.text), "{}", shelf.id);
        let after = read(&text);
        let mut expected = before.clone();
        expected.title = Title::new("Another \"title\"");
        expected.customer = Title::new("It does \"not\" work. \\ Never did.");
        expected.other_words = vec![Title::new("It \"never\" opens."), Title::new("Shut it stays.")];
        expected.fixed = vec![Aspect::Colours, Aspect::Words];
        expected.par_minutes = 61.5;
        expected.conditions.locked = !before.conditions.locked;
        expected.conditions.celsius = -7.0;
        expected.conditions.wet = !before.conditions.wet;
        expected.coaching = !before.coaching;
        expected.without = vec![KitItem::Clamp, KitItem::Bench];
        expected.most_minutes = Some(130.5);
        expected.weights.diagnosis = 41.0;
        expected.weights.safety = 9.5;
        expected.faults[last].weight = 77;
        assert_eq!(format!("{after:?}"), format!("{expected:?}"), "{}", shelf.id);
    }
}

#[test]
fn the_pool_grows_and_shrinks() {
    for shelf in SHELF {
        let before = read(shelf.text);
        let out = Change::TakeOut(0).of(shelf.text).expect("an entry");
        if before.faults.len() > 1 {
            let ids = |scenario: &Scenario| {
                scenario.faults.iter().map(|fault| fault.id.clone()).collect::<Vec<_>>()
            };
            assert_eq!(ids(&read(&out)), ids(&before)[1..], "{}", shelf.id);
        }
        let fuse = &before.vehicle.fuses[0].id;
        let entry = format!(" (is: LooseFuse(\"{fuse}\"), weight: 3), ");
        let more = Change::Add(entry).of(shelf.text).expect("a pool");
        let path = Path::new("scenarios/one.scenario.ron");
        match load_text(path, &more) {
            Ok(loaded) => assert_eq!(loaded.scenario.faults.len(), before.faults.len() + 1),
            // It may be in the pool already: then it is told where it stands.
            Err(why) => assert!(why.to_string().contains("twice"), "{}: {why}", shelf.id),
        }
        assert_eq!(comments(&more), comments(shelf.text), "{}", shelf.id);
    }
}

#[test]
fn what_cannot_be_read_is_left_alone() {
    assert_eq!(Change::Wet(true).of("(id: \"a\""), None);
    assert_eq!(Change::Weight(0, 1).of("(id: \"a\")"), None);
    assert_eq!(Change::TakeOut(1).of("(faults: [()])"), None);
}

#[test]
fn a_file_is_followed_through_slips_and_with_its_vehicle() {
    let folder = tempfile::tempdir().expect("a folder for temporary files");
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let vehicle = folder.path().join("mine.vehicle.ron");
    let vehicle_text = fs::read_to_string(root.join("assets/vehicles/estate.vehicle.ron"))
        .expect("a vehicle")
        .replacen("\"estate\"", "\"mine\"", 1);
    fs::write(&vehicle, &vehicle_text).expect("a file");
    let text = SHELF[0].text.replacen("\"estate\"", "\"mine\"", 1);
    let path = folder.path().join("one.scenario.ron");
    fs::write(&path, &text).expect("a file");

    let mut watch = Watch::new(&path);
    let first = watch.look().expect("the first look finds it new").expect("it is sound");
    assert_eq!(first.vehicle_file.as_deref(), Some(vehicle.as_path()));
    assert!(watch.look().is_none());

    fs::write(&path, text.replacen("par_minutes: ", "par_minutes: x", 1)).expect("a file");
    match watch.look().expect("it has changed") {
        Err(LoadError::Problems(files)) => assert!(!files[0].problems.is_empty()),
        other => panic!("{other:?}"),
    }
    assert!(watch.look().is_none());

    fs::write(&path, &text).expect("a file");
    assert!(watch.look().expect("it has changed").is_ok());

    fs::write(&vehicle, vehicle_text.replace("\"Maren ", "\"My Maren ")).expect("a file");
    let changed = watch.look().expect("the vehicle has changed").expect("it is sound");
    assert!(
        changed.scenario.vehicle.title.written().starts_with("My "),
        "{:?}",
        changed.scenario.vehicle.title
    );

    fs::write(&vehicle, "(").expect("a file");
    assert!(watch.look().expect("the vehicle has changed").is_err());
    fs::write(&vehicle, &vehicle_text).expect("a file");
    assert!(watch.look().expect("the vehicle is sound again").is_ok());

    fs::remove_file(&path).expect("a file");
    assert!(matches!(watch.look(), Some(Err(LoadError::File(_)))));
    assert!(watch.look().is_none());
}

#[test]
fn what_a_file_forbids_is_refused_and_after_its_minutes_only_the_hand_in_is_left() {
    let text =
        [Change::Without(vec![KitItem::Lamp]), Change::ParMinutes(20.0), Change::MostMinutes(Some(30.0))]
            .iter()
            .try_fold(SHELF[1].text.to_owned(), |text, change| change.of(&text))
            .expect("a sound file");
    let scenario = Arc::new(read(&text));
    assert_ne!(scenario.hash(), read(SHELF[1].text).hash());
    let mut job = Job::new(Arc::clone(&scenario), 3, Choice::Drawn).expect("a job");
    let mut refused = |line: &str| {
        let act = words::parse(&scenario.vehicle, line).expect(line);
        job.apply(act, &mut NoJournal).expect("an operating point").outcome.refused
    };
    assert_eq!(refused("lamp 5 battery-plus battery-minus"), Some(Refusal::NotAllowed));
    assert_eq!(refused("meter volts"), None);
    assert_eq!(refused("wait 30"), None);
    assert_eq!(refused("key release"), Some(Refusal::TimeUp));
    assert_eq!(refused("name f1 blown"), Some(Refusal::TimeUp));
    assert_eq!(refused("hand in"), None);
    let short = Change::MostMinutes(Some(19.0)).of(&text).expect("a sound file");
    let why = load_text(Path::new("a.scenario.ron"), &short).expect_err("less than the par").to_string();
    assert!(why.contains("its par is 20"), "{why}");
}
