//! The interface's texts: every language is complete, every text is used, every use has its text, and the window shows none
//! that is not in the files. Of the window's colours the same: all of them are in the palette, under names that are asked for.

#[path = "common/rust.rs"]
mod rust;

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use fluent_syntax::ast::{Entry, Expression, InlineExpression, Pattern, PatternElement};
use fluent_syntax::parser::parse;
use probeworthy::bench::Seen;
use probeworthy::desk::{Desk, Form, read_script};
use probeworthy::job::{Choice, Job, NoJournal};
use probeworthy::scenario::{load, load_vehicle};
use probeworthy::words::{Args, Language, Texts, seen};
use rust::{Source, sources};

/// A text: its variables, and its words as they stand in the file.
#[derive(Debug, Default, PartialEq)]
struct Text {
    variables: BTreeSet<String>,
    words: String,
}

fn expression(of: &Expression<&str>, text: &mut Text) {
    match of {
        Expression::Inline(one) => inline(one, text),
        Expression::Select { selector, variants } => {
            inline(selector, text);
            for variant in variants {
                pattern(&variant.value, text);
            }
        }
    }
}

fn inline(of: &InlineExpression<&str>, text: &mut Text) {
    match of {
        InlineExpression::VariableReference { id } => {
            text.variables.insert(id.name.to_owned());
            text.words.push_str("{}");
        }
        InlineExpression::StringLiteral { value } | InlineExpression::NumberLiteral { value } => {
            text.words.push_str(value);
        }
        InlineExpression::Placeable { expression: inner } => expression(inner, text),
        other => panic!("a text uses {other:?}, of which nothing here knows"),
    }
}

fn pattern(of: &Pattern<&str>, text: &mut Text) {
    for element in &of.elements {
        match element {
            PatternElement::TextElement { value } => text.words.push_str(value),
            PatternElement::Placeable { expression: inner } => expression(inner, text),
        }
    }
}

/// A language's texts by id.
fn texts(language: Language) -> BTreeMap<String, Text> {
    let tag = language.tag();
    let resource = parse(language.file()).unwrap_or_else(|(_, slips)| panic!("{tag}.ftl: {slips:?}"));
    let mut all = BTreeMap::new();
    for entry in &resource.body {
        match entry {
            Entry::Message(message) => {
                let id = message.id.name.to_owned();
                assert!(
                    message.attributes.is_empty(),
                    "{tag}.ftl: `{id}` has attributes, which are not shown"
                );
                let mut text = Text::default();
                pattern(
                    message.value.as_ref().unwrap_or_else(|| panic!("{tag}.ftl: `{id}` is empty")),
                    &mut text,
                );
                assert!(all.insert(id.clone(), text).is_none(), "{tag}.ftl: `{id}` is there twice");
            }
            Entry::Comment(_) | Entry::GroupComment(_) | Entry::ResourceComment(_) => {}
            Entry::Term(_) | Entry::Junk { .. } => panic!("{tag}.ftl: {entry:?}"),
        }
    }
    all
}

fn has_letters(text: &str) -> bool {
    text.chars().any(char::is_alphabetic)
}

/// Texts that may be the same in another language: what instruments show, units, and a command.
const ALIKE: [&str; 6] =
    ["sheet-minutes", "display-holds", "display-held", "author-min", "coaching-rung-price", "desk-minutes"];

#[test]
fn every_language_has_every_text_with_the_same_variables() {
    let english = texts(Language::English);
    assert!(english.len() > 900, "{} texts", english.len());
    for language in Language::ALL {
        let tag = language.tag();
        let other = texts(language);
        let mut wrong = Vec::new();
        for (id, text) in &english {
            let Some(there) = other.get(id) else {
                wrong.push(format!("{tag}.ftl has no `{id}`"));
                continue;
            };
            if text.variables != there.variables {
                wrong.push(format!(
                    "`{id}` has the variables {:?} in English and {:?} in {tag}",
                    text.variables, there.variables
                ));
            }
            if there.words.trim().is_empty() {
                wrong.push(format!("{tag}.ftl: `{id}` says nothing"));
            }
            let same = language != Language::English && text.words == there.words;
            // What is only made of variables and signs may be written alike.
            let worded = text.words.split(|c: char| !c.is_alphabetic()).any(|word| word.chars().count() > 2);
            if same && worded && !ALIKE.contains(&id.as_str()) {
                wrong.push(format!("{tag}.ftl: `{id}` is still English: {:?}", there.words));
            }
        }
        wrong.extend(
            other
                .keys()
                .filter(|id| !english.contains_key(*id))
                .map(|id| format!("{tag}.ftl has `{id}`, English has not")),
        );
        assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    }
    for id in ALIKE {
        assert!(english.contains_key(id), "`{id}` is not there any more");
    }
}

#[test]
fn every_text_can_be_worded_with_words_and_with_any_number() {
    let leak = |text: &str| -> &'static str { Box::leak(text.to_owned().into_boxed_str()) };
    for language in Language::ALL {
        let known = Texts::of(language);
        for (id, text) in texts(language) {
            let id = leak(&id);
            if text.variables.is_empty() {
                assert!(!known.say(id).is_empty(), "{id}");
                continue;
            }
            let names: Vec<&'static str> = text.variables.iter().map(|name| leak(name)).collect();
            for count in [0_u32, 1, 2, 5, 21] {
                let (mut words, mut numbers) = (Args::new(), Args::new());
                for name in &names {
                    words.set(name, format!("<{count}>"));
                    numbers.set(name, count);
                }
                // Each names its slips by an assertion of its own; marks of direction would be boxes on the screen.
                for said in [known.say_with(id, &words), known.say_with(id, &numbers)] {
                    assert!(!said.contains(['\u{2068}', '\u{2069}', '{']), "{id}: {said:?}");
                }
            }
        }
    }
}

#[test]
fn forms_follow_the_number_and_blanks_stay() {
    let say = |language: Language, count: u32| {
        let mut args = Args::new();
        args.set("count", count);
        Texts::of(language).say_with("advice-causes", &args)
    };
    assert_eq!(say(Language::English, 1), "One cause is still possible");
    assert_eq!(say(Language::English, 3), "3 causes are still possible");
    assert_eq!(say(Language::German, 1), "Eine Ursache ist noch möglich");
    assert_eq!(say(Language::German, 3), "3 Ursachen sind noch möglich");
    assert_eq!(Texts::english().say("screen-line"), "line ");
    assert_eq!(Language::German.own_name(), "Deutsch");
}

/// German is written without addressing anybody: with infinitives.
#[test]
fn german_addresses_nobody_as_a_friend() {
    for (id, text) in texts(Language::German) {
        let words = text.words.to_lowercase();
        let friend = words
            .split(|c: char| !c.is_alphabetic())
            .find(|word| ["du", "dein", "deine", "deinen", "deinem", "deiner", "dich", "dir"].contains(word));
        assert_eq!(friend, None, "{id}: {}", text.words);
    }
}

fn tree() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("src")
}

/// Files in which every literal of an id's shape is an id.
const ONLY_IDS: [&str; 10] = [
    "words/acts.rs",
    "words/coach.rs",
    "words/customer.rs",
    "words/debrief/mod.rs",
    "words/describe.rs",
    "words/findings.rs",
    "words/instruments.rs",
    "words/marking.rs",
    "words/practising.rs",
    "words/suspicions.rs",
];

fn is_like_an_id(text: &str) -> bool {
    text.contains('-') && text.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-')
}

#[test]
fn every_text_is_used_and_every_use_has_its_text() {
    let english = texts(Language::English);
    let mut named = BTreeSet::new();
    let mut wrong = Vec::new();
    for Source { path, code } in sources(&tree()) {
        let at = path.to_string_lossy().replace('\\', "/");
        named.extend(rust::literals(&code).into_iter().map(|(_, text)| text));
        if at.ends_with("words/texts.rs") {
            continue;
        }
        let mut asked: Vec<String> = rust::said(&code);
        if ONLY_IDS.iter().any(|one| at.ends_with(one)) {
            asked.extend(
                rust::literals(&code).into_iter().map(|(_, text)| text).filter(|text| is_like_an_id(text)),
            );
        }
        wrong.extend(
            asked
                .iter()
                .filter(|id| !english.contains_key(*id))
                .map(|id| format!("{at} asks for `{id}`, which is not there")),
        );
    }
    wrong
        .extend(english.keys().filter(|id| !named.contains(*id)).map(|id| format!("`{id}` is used nowhere")));
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// What the window may show or make of literals that is in no file, and why.
const SHOWN: [(&str, &str); 13] = [
    ("TRN 0412", "a number plate"),
    ("/tmp/.X11-unix/X{number}", "a socket's file"),
    ("lid-{}-plug", "a place in a drawing"),
    ("{:.0} ms", "a figure with its unit"),
    ("marks to come", "an id"),
    ("curve's beginning", "an id"),
    ("median ms", "what `probeworthy frames` prints"),
    ("start to first job: {:.2} s", "what `probeworthy frames` prints"),
    ("memory at most: {most:.0} MB", "what `probeworthy frames` prints"),
    (NO_DISPLAY, "said in the terminal: there is no window"),
    (NO_GRAPHICS, "said in the terminal: there is no window"),
    (ENDED, "said in the terminal: there is no window any more"),
    (
        "(is: Parted(conductor: \\\"latch-feed\\\", at: \\\"bellows\\\"), weight: 1)",
        "an example of what is written in a scenario's file",
    ),
];
const NO_DISPLAY: &str =
    "no display answers, so no window can be opened; `probeworthy desk` plays the same job in a terminal";
const NO_GRAPHICS: &str = concat!(
    "no graphics driver was found that can draw the window (Vulkan or OpenGL, hardware or software); \\\n",
    "                 `probeworthy desk` plays the same job in a terminal"
);
const ENDED: &str = "the window was closed by an error; `probeworthy desk` plays the same job in a terminal";

#[test]
fn the_window_shows_nothing_that_is_in_no_file() {
    let mut wrong = Vec::new();
    let mut met = BTreeSet::new();
    for Source { path, code } in sources(&tree().join("game")) {
        // Tests, as files of their own; and what is said of a drawing that is not as it should be, to whoever draws.
        let at = path.to_string_lossy();
        let tests = ["legible.rs", "by_keys.rs", "checks.rs", "whole_window.rs", "told.rs", "rooms.rs"];
        if tests.iter().any(|test| at.ends_with(test)) || at.contains("scenery") {
            continue;
        }
        for literal in rust::shown(&code) {
            if !has_letters(&rust::without_placeholders(&literal)) {
                continue;
            }
            if let Some((known, _)) = SHOWN.iter().find(|(known, _)| *known == literal) {
                met.insert(*known);
            } else {
                wrong.push(format!("{} shows {literal:?}", path.display()));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    let gone: Vec<_> = SHOWN.iter().filter(|(known, _)| !met.contains(known)).collect();
    assert!(gone.is_empty(), "no more shown: {gone:?}");
}

/// Colours that may stand in the window's code, and where.
const PAINTED: [(&str, &str); 3] = [
    // Stands for a name that is not in the palette.
    ("scenery/palette.rs", "Srgba::rgb(1.0, 0.0, 1.0)"),
    // What a test holds against letters on no ground.
    ("checks.rs", "Color32::BLACK"),
    ("checks.rs", "Color32::WHITE"),
];

#[test]
fn the_window_writes_no_colour_of_its_own() {
    let mut wrong = Vec::new();
    for Source { path, code } in sources(&tree().join("game")) {
        let known = |colour: &&String| {
            PAINTED.iter().any(|(file, known)| path.ends_with(file) && *known == colour.as_str())
        };
        let written = rust::colours_written(&code);
        wrong.extend(
            written
                .iter()
                .filter(|colour| !known(colour))
                .map(|colour| format!("{}: {colour} belongs in assets/palette.ron", path.display())),
        );
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    let found = rust::colours_written("a(Color32::from_rgb(14, 16, 19), \"#0e1013\", egui::Color32::RED)");
    assert_eq!(found, ["from_rgb(14, 16, 19)", "#0e1013", "Color32::RED"]);
}

/// The palette, as far as the code asks for it.
#[derive(serde::Deserialize)]
struct Palette {
    code: BTreeMap<String, String>,
}

#[test]
fn every_colour_is_used_and_every_use_has_its_colour() {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("assets/palette.ron");
    let text = std::fs::read_to_string(file).expect("the palette");
    let Palette { code: known } = ron::from_str(&text).expect("a palette");
    let mut named = BTreeSet::new();
    let mut wrong = Vec::new();
    for Source { path, code } in sources(&tree().join("game")) {
        named.extend(rust::literals(&code).into_iter().map(|(_, text)| text));
        wrong.extend(
            rust::colours_asked(&code)
                .into_iter()
                .filter(|name| !known.contains_key(name))
                .map(|name| format!("{} asks for `{name}`, which is not in the palette", path.display())),
        );
    }
    let is_used = |name: &str| {
        // Sheaths go by the letters of a vehicle's wires.
        name.starts_with("wire-") || named.contains(name)
    };
    for name in known.keys() {
        let plain = name.strip_prefix("bright-").unwrap_or(name);
        if !known.contains_key(plain) {
            wrong.push(format!("`{name}` brightens nothing"));
        }
        if !is_used(plain) {
            wrong.push(format!("`{name}` is used nowhere"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// What the desk says in a language while this is done, up to the marks.
fn at_the_desk(language: Language, form: Form) -> String {
    let scenario = Arc::new(load("first-lamp").expect("it is on the shelf").scenario);
    let script = "cautions\nask when\nkey release\nlook\nglasses\nmeter volts\nblack battery-minus\nred f1.load\n\
                  sheet\ncoach\ncoach 3\nhand in\n";
    let requests = read_script(&scenario.vehicle, script).expect("a script");
    let job = Job::new(scenario, 7, Choice::Drawn).expect("a job");
    let (mut out, mut aside, mut journal) = (Vec::new(), Vec::new(), NoJournal);
    let mut desk = Desk::new(job, &mut journal, form, &mut out, &mut aside).speaking(Texts::of(language));
    desk.greet().and_then(|()| desk.play(requests)).expect("it is played");
    String::from_utf8(out).expect("text")
}

#[test]
fn the_desk_speaks_a_language_and_its_data_stay_english() {
    let (english, german) =
        (at_the_desk(Language::English, Form::Text), at_the_desk(Language::German, Form::Text));
    for (here, there) in [
        ("The customer: ", "Der Kunde: "),
        ("  heard: ", "  gehört: "),
        ("  seen: ", "  gesehen: "),
        ("  coach: ", "  Trainer: "),
        ("  caution: ", "  Hinweis: "),
        ("JOB SHEET", "AUFTRAGSBLATT"),
        ("MARKS", "PUNKTE"),
        ("Practise next: ", "Als Nächstes üben: "),
    ] {
        assert!(english.contains(here) && !english.contains(there), "{here:?} in {english}");
        assert!(german.contains(there) && !german.contains(here), "{there:?} in {german}");
    }
    // What can be typed stays what can be typed.
    assert!(german.contains("> red f1.load\n"), "{german}");
    assert_eq!(at_the_desk(Language::German, Form::Json), at_the_desk(Language::English, Form::Json));
}

#[test]
fn what_is_seen_of_rear_doors_is_of_a_door() {
    for (vehicle, english, german) in [
        ("van", "the rear door is shut", "die Hecktür ist zu"),
        ("saloon", "the lid is shut", "die Klappe ist zu"),
    ] {
        let vehicle = load_vehicle(vehicle).expect("on the shelf");
        for (language, said) in [(Language::English, english), (Language::German, german)] {
            assert_eq!(seen(Texts::of(language), &vehicle, &Seen::LidShut), said);
        }
    }
}
