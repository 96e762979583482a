//! The commands: every act on everything that a vehicle has is written as a line that is read back as the same act, and
//! whatever else is typed is told where it went wrong.

use crate::acts;

use std::collections::BTreeSet;
use std::sync::LazyLock;

use acts::every_action;
use probeworthy::bench::Action;
use probeworthy::desk::read_script;
use probeworthy::scenario::{default_scenario, load, point_name};
use probeworthy::vehicle::Vehicle;
use probeworthy::words::{Language, Texts, action_title, parse, text};
use proptest::prelude::*;

static ESTATE: LazyLock<Vehicle> =
    LazyLock::new(|| load(default_scenario()).expect("the flagship").scenario.vehicle);

/// A vehicle with every kind of part, and with a part that bears a station's name.
static PROVING: LazyLock<Vehicle> = LazyLock::new(|| {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/vehicles/proving.scenario.ron");
    load(path).expect("the proving vehicle").scenario.vehicle
});

#[test]
fn every_act_is_read_back_as_it_was_written() {
    for (vehicle, least) in [(&*ESTATE, 9000), (&*PROVING, 7000)] {
        let all = every_action(vehicle);
        let mut lines = BTreeSet::new();
        for action in &all {
            let line = text(vehicle, action);
            assert_eq!(parse(vehicle, &line).as_ref(), Ok(action), "{line}");
            assert!(!line.contains(['\n', '\r']) && line == line.trim(), "{line:?} is one line");
            lines.insert(line);
        }
        assert_eq!(lines.len(), all.len(), "two acts are written alike");
        assert!(all.len() > least, "{} acts", all.len());
    }
}

#[test]
fn titles_of_acts_name_things_as_people_do_and_not_as_commands() {
    for vehicle in [&*ESTATE, &*PROVING] {
        let mut names: BTreeSet<String> =
            vehicle.points().into_iter().map(|point| point_name(vehicle, point)).collect();
        names.extend(vehicle.panels.iter().map(|one| one.id.clone()));
        names.extend(vehicle.stations.iter().map(|one| one.id.clone()));
        names.extend(vehicle.conductors.iter().map(|one| one.id.clone()));
        names.extend(vehicle.parts().map(|(_, one)| one.id.clone()));
        // A name that is a word may stand in a title, too.
        names.retain(|name| name.contains(['-', '.']) && name != "tell-tale");
        assert!(names.len() > 100, "{} names", names.len());
        for action in &every_action(vehicle) {
            for language in Language::ALL {
                let title = action_title(Texts::of(language), vehicle, action);
                let named = title.split([' ', ',', ':']).find(|word| names.contains(*word));
                assert_eq!(named, None, "{title:?} for `{}`", text(vehicle, action));
            }
        }
    }
}

#[test]
fn the_fault_of_every_pool_can_be_named() {
    let scenario = load(default_scenario()).expect("the flagship").scenario;
    for fault in &scenario.faults {
        let action = Action::Name(fault.diagnosis, 100);
        assert_eq!(parse(&scenario.vehicle, &text(&scenario.vehicle, &action)), Ok(action), "{}", fault.id);
    }
}

#[test]
fn a_command_may_be_written_in_other_ways() {
    for (line, same) in [
        ("  look  ", "look"),
        ("lid 80", "lid up"),
        ("Red Latch.1", "red latch.1"),
        ("unplug latch-pins", "unplug latch"),
        ("plug inline-lid", "plug inline-body"),
        ("memory\tread", "memory read module"),
        ("warm connector inline-lid", "warm connector inline-body"),
        ("cool part latch", "cool latch"),
        ("name latch-ground open at bellows", "name latch-ground open at bellows 100%"),
        ("write cause   two  words ", "write cause two  words"),
    ] {
        assert_eq!(parse(&ESTATE, line).map(|action| text(&ESTATE, &action)).as_deref(), Ok(same), "{line}");
    }
}

/// Lines that are no command: column, what is wrong, and how to mend it.
const FAULTY: &[(&str, usize, &str, &str)] = &[
    ("", 1, "the line is empty", "type help"),
    ("   ", 1, "the line is empty", "type help"),
    ("loook", 1, "there is no command loook", "did you mean look? help lists all commands"),
    ("knit a sock", 1, "there is no command knit", "help lists all commands"),
    ("ask", 4, "something is missing here", "write: ask when | weather | load | work | else"),
    ("ask wen", 5, "there is no word called wen", "did you mean when?"),
    ("ask when now", 10, "now is too much here", "write: ask when | weather | load | work | else"),
    ("key open", 5, "there is no word called open", "there are: lock, release, unlock"),
    ("press light", 7, "there is no switch called light", "did you mean lights?"),
    ("press latch", 7, "there is no switch called latch", "there are: brake, inside-release, lights, pad"),
    ("switch lights", 14, "something is missing here", "write: switch SWITCH on | off"),
    ("switch  lights  up", 17, "there is no word called up", "there are: off, on"),
    ("lid 1", 5, "1 is no angle in degrees", "write a whole number from 2 to 80"),
    ("lid 81", 5, "81 is no angle in degrees", "write a whole number from 2 to 80"),
    (
        "lid half",
        5,
        "half is no angle in degrees (or write up, shut, catch)",
        "write a whole number from 2 to 80",
    ),
    ("take lid-trm off", 6, "there is no panel called lid-trm", "did you mean lid-trim?"),
    ("unplug lach", 8, "there is no connector called lach", "did you mean latch?"),
    ("tug latch", 5, "there is no point called latch", "did you mean latch.1?"),
    ("tug f1.feed", 5, "f1.feed is no cavity of a loom", "write one such as latch.3"),
    ("tug latch-pins.3", 5, "latch-pins.3 is no cavity of a loom", "write one such as latch.3"),
    ("tug inline-lid.3", 5, "a connector is worked on by its body half", "write inline-body.3"),
    ("tape belows", 6, "there is no station called belows", "did you mean bellows?"),
    ("meter volt", 7, "there is no word called volt", "did you mean volts?"),
    ("meter prove it", 13, "it is too much here", "write: meter off"),
    ("red latch.5", 5, "latch has no cavity 5", "write a number from 1 to 4"),
    ("red latch.0", 5, "latch has no cavity 0", "write a number from 1 to 4"),
    ("red latch.x", 5, "latch has no cavity x", "write a number from 1 to 4"),
    ("red latsch.1", 5, "there is no connector or fuse called latsch", "did you mean latch?"),
    ("red f1.side", 5, "a fuse has no side called side", "write f1.feed or f1.load"),
    ("red batery-minus", 5, "there is no point called batery-minus", "did you mean battery-minus?"),
    ("red latch.1 quickly", 13, "there is no word called quickly", "there are: hastily"),
    ("red off hastily", 9, "hastily is too much here", "write: red POINT [hastily], or red off"),
    ("clamp", 6, "something is missing here", "write: clamp CONDUCTOR STATION"),
    ("clamp latch-feed", 17, "something is missing here", "write: clamp CONDUCTOR STATION"),
    ("clamp latch-fed bellows", 7, "there is no conductor called latch-fed", "did you mean latch-feed?"),
    ("clamp latch-feed belows", 18, "there is no station called belows", "did you mean bellows?"),
    ("clamp latch-pins.3", 7, "no wire ends at latch-pins.3", "write a cavity such as latch.3"),
    ("clamp f1.load", 7, "no wire ends at f1.load", "write a cavity such as latch.3"),
    ("clamp latch.9", 7, "latch has no cavity 9", "write a number from 1 to 4"),
    ("recorder latch.1", 17, "something is missing here", "write: recorder PLUS-POINT MINUS-POINT"),
    ("recorder arm it", 14, "it is too much here", "write: recorder PLUS-POINT MINUS-POINT"),
    ("lamp 10 body body", 6, "there is no word called 10", "there are: 21, 5"),
    ("lamp 5 body", 12, "something is missing here", "write: lamp 5 | 21 POINT POINT"),
    ("bridge off body", 12, "body is too much here", "write: bridge POINT POINT"),
    ("fuse f7 pull", 6, "there is no fuse called f7", "there are: f1, f2, f3, f4, f5, f6"),
    ("fuse f1 fit 0", 13, "0 is no fuse rating in amps", "write a whole number from 1 to 30"),
    ("memory read modul", 13, "there is no module called modul", "did you mean module?"),
    (
        "splice latch-grund bellows",
        8,
        "there is no conductor called latch-grund",
        "did you mean latch-ground?",
    ),
    ("swap latch 1 5", 14, "5 is no cavity of that connector", "write a whole number from 1 to 4"),
    ("wait", 5, "something is missing here", "write: wait MINUTES"),
    ("wait 0", 6, "0 is no time in minutes", "write a whole number from 1 to 240"),
    ("wait 241", 6, "241 is no time in minutes", "write a whole number from 1 to 240"),
    ("tap lach", 5, "there is no part called lach", "did you mean latch?"),
    ("wet it", 5, "it is too much here", "write: wet"),
    ("warm belows", 6, "there is no station or part called belows", "did you mean bellows?"),
    ("cool connector belows", 16, "there is no connector called belows", "list parts, list loom"),
    ("paint screen.1.2", 7, "there is no heated screen called screen", "this vehicle has no heated screen"),
    ("red screen.1.2", 5, "there is no heated screen called screen", "this vehicle has no heated screen"),
    ("clean stud", 7, "there is no stud called stud", "there are: ground-stud"),
    ("fit key-sell", 5, "there is no part called key-sell", "did you mean key-cell?"),
    ("name", 5, "something is missing here", "write: name [connector] COMPONENT KIND"),
    ("name latch opn", 12, "there is no word called opn", "did you mean open?"),
    ("name latch-feed open at belows", 25, "there is no station called belows", "did you mean bellows?"),
    (
        "name connector latch open at 5",
        30,
        "5 is no cavity of that connector",
        "write a whole number from 1 to 4",
    ),
    ("name latch open 101%", 17, "101% is no confidence", "write a percentage from 0% to 100%, such as 80%"),
    ("name latch open 80", 17, "80 is no confidence", "write a percentage"),
    (
        "suspect latch open",
        19,
        "something is missing here",
        "write: suspect [connector] COMPONENT KIND [at STATION | CAVITY | LINE.SECTION] PERCENT%",
    ),
    ("suspect latch open 60", 20, "60 is no suspicion", "write a percentage from 0% to 100%"),
    ("suspect latch open -1%", 20, "-1% is no suspicion", "write a percentage from 0% to 100%"),
    ("mark", 5, "something is missing here", "write: mark battery | FUSE"),
    ("mark latch.3", 13, "something is missing here", "write: mark battery | FUSE"),
    ("mark latch.3 fine", 14, "there is no word called fine", "there are: good, suspect, unknown"),
    ("mark latch-pins.3 good", 6, "latch-pins.3 is no cavity of a loom", "write one such as latch.3"),
    ("mark lach good", 6, "there is no thing on the diagram called lach", "did you mean latch?"),
    ("mark splice latch good", 13, "there is no splice called latch", "there are: "),
    ("mark latch-feed at belows good", 20, "there is no station called belows", "did you mean bellows?"),
    ("suspect latch open 60% now", 24, "now is too much here", "write: suspect [connector] COMPONENT KIND"),
    ("coach", 6, "something is missing here", "write: coach 1 | 2 | 3"),
    ("coach 4", 7, "there is no word called 4", "there are: 1, 2, 3"),
    ("write cause", 12, "something is missing here", "write: write complaint | cause | correction TEXT"),
    ("hand", 5, "something is missing here", "write: hand in"),
    ("refer it", 7, "it is too much here", "write: refer"),
    ("asc — when", 1, "there is no command asc", "did you mean ask? help lists all commands"),
    ("ask — when", 5, "there is no word called —", "there are: else, load, weather, when, work"),
    ("ask when é now", 10, "é is too much here", "write: ask when"),
];

#[test]
fn a_line_that_is_no_command_is_told_where_and_why() {
    for (line, column, what, hint) in FAULTY {
        let error = parse(&ESTATE, line).expect_err(line);
        assert_eq!(error.column, *column, "column of {line:?}: {error}");
        assert!(error.what.starts_with(what), "of {line:?}: {error}");
        assert!(error.hint.starts_with(hint), "of {line:?}: {error}");
    }
}

/// A heated screen's lines are told apart from its connector's cavities, and their errors say how many there are.
#[test]
fn places_of_a_heated_screen_are_told() {
    for (line, column, what, hint) in [
        (
            "red rear-screen.11.2",
            5,
            "rear-screen has no line and place 11.2",
            "write LINE.PLACE, lines from 1 to 10, places from 0 to 8",
        ),
        ("red rear-screen.1.9", 5, "rear-screen has no line and place 1.9", "write LINE.PLACE"),
        ("red rear-scren.1.2", 5, "there is no heated screen called rear-scren", "did you mean rear-screen?"),
        ("paint rear-screen", 7, "rear-screen says no line and section", "write one such as rear-screen.1.1"),
        (
            "paint rear-screen.1.0",
            7,
            "rear-screen has no line and section 1.0",
            "write LINE.SECTION, lines from 1 to 10, sections from 1 to 8",
        ),
        ("paint latch.1.1", 7, "there is no heated screen called latch", "there are: rear-screen"),
        ("name rear-screen open at 0.1", 26, "rear-screen has no line and section 0.1", "write LINE.SECTION"),
    ] {
        let error = parse(&PROVING, line).expect_err(line);
        assert_eq!(error.column, column, "column of {line:?}: {error}");
        assert_eq!(error.what, what, "of {line:?}");
        assert!(error.hint.starts_with(hint), "of {line:?}: {error}");
    }
    for line in ["red rear-screen.10.8", "black rear-screen.1", "paint rear-screen.3.8", "warm part camera"] {
        assert_eq!(parse(&PROVING, line).map(|action| text(&PROVING, &action)).as_deref(), Ok(line));
    }
}

#[test]
fn a_misspelt_name_is_told_the_right_one() {
    let near = |name: &str| name[..name.len() - 1].to_owned();
    let tables: [(&str, Vec<&str>); 6] = [
        ("tape", ESTATE.stations.iter().map(|x| x.id.as_str()).collect()),
        ("take", ESTATE.panels.iter().map(|x| x.id.as_str()).collect()),
        ("fit", ESTATE.parts.iter().map(|x| x.id.as_str()).collect()),
        ("unplug", ESTATE.connectors.iter().map(|x| x.id.as_str()).collect()),
        ("clean", ESTATE.studs.iter().map(|x| x.id.as_str()).collect()),
        ("twist", ESTATE.conductors.iter().map(|x| x.id.as_str()).collect()),
    ];
    for (command, names) in tables {
        for name in names.iter().filter(|name| !names.contains(&near(name).as_str()) && name.len() > 3) {
            let error = parse(&ESTATE, &format!("{command} {}", near(name))).expect_err(name);
            // Where two names differ in their last letter only, either is as near.
            let told = error.hint.strip_prefix("did you mean ").and_then(|hint| hint.strip_suffix('?'));
            assert_eq!(told.map(near), Some(near(name)), "{command} {name}: {error}");
            assert_eq!(error.column, command.len() + 2);
        }
    }
}

#[test]
fn every_mistake_of_a_script_is_told_with_its_line() {
    let script = "look\n# knit\n\n  loook # near\nlist pins\nlist pin\nlist\nsheet\nhelp me\nquit\nwrite cause # is kept\n";
    let errors = read_script(&ESTATE, script).expect_err("four mistakes");
    let places: Vec<(usize, usize)> = errors.iter().map(|one| (one.line, one.error.column)).collect();
    assert_eq!(places, [(4, 3), (6, 6), (7, 5), (9, 6)]);
    assert!(errors.iter().all(|one| !one.error.hint.is_empty()));
    let error = read_script(&ESTATE, "list pins loom").expect_err("too much").remove(0);
    assert_eq!((error.error.column, error.error.what.as_str()), (11, "loom is too much here"));
}

/// Words that commands are made of, and some that they are not.
fn word() -> impl Strategy<Value = String> {
    const WORDS: &[&str] = &[
        "ask",
        "red",
        "black",
        "lamp",
        "5",
        "21",
        "bridge",
        "fuse",
        "f1",
        "fit",
        "name",
        "connector",
        "latch",
        "latch.3",
        "latch-pins.3",
        "f1.feed",
        "f1.",
        ".",
        ".3",
        "latch.",
        "latch.999",
        "at",
        "open",
        "80%",
        "%",
        "-1",
        "+5",
        "swap",
        "clamp",
        "recorder",
        "arm",
        "hastily",
        "write",
        "cause",
        "list",
        "help",
        "?",
        "#",
        "#red",
        "off",
        "lid",
        "memory",
        "read",
        "inspect",
        "ground-stud",
        "\u{a0}",
        "\u{2003}",
        "\u{301}",
        "é.é",
        "\0",
        "\r",
        "\n",
        "",
    ];
    prop_oneof![6 => proptest::sample::select(WORDS).prop_map(str::to_owned), 1 => any::<String>()]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 4000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_line_is_read_or_told(words in proptest::collection::vec(word(), 0..8), gap in "[ \t]{0,2}") {
        let line = words.join(&format!("{gap} "));
        match parse(&ESTATE, &line) {
            Ok(action) => prop_assert_eq!(parse(&ESTATE, &text(&ESTATE, &action)), Ok(action)),
            Err(error) => {
                prop_assert!((1..=line.chars().count() + 1).contains(&error.column), "{:?}: {error}", line);
                prop_assert!(!error.what.is_empty() && !error.hint.is_empty());
            }
        }
        for error in read_script(&ESTATE, &line).err().unwrap_or_default() {
            let of = line.lines().nth(error.line - 1).expect("a line of the script");
            prop_assert!((1..=of.chars().count() + 1).contains(&error.error.column), "{:?}: {}", of, error.error);
        }
    }

    #[test]
    fn any_act_is_told_in_one_line(at in any::<proptest::sample::Index>(), cut in any::<proptest::sample::Index>()) {
        static ALL: LazyLock<Vec<String>> =
            LazyLock::new(|| every_action(&ESTATE).iter().map(|action| text(&ESTATE, action)).collect());
        // Whatever is left of a command is a command, or is told.
        let line = at.get(&ALL);
        let cut = line.floor_char_boundary(cut.index(line.len()));
        if let Err(error) = parse(&ESTATE, &line[..cut]) {
            prop_assert!((1..=cut + 1).contains(&error.column) && !error.hint.is_empty(), "{:?}: {error}", &line[..cut]);
        }
    }
}
