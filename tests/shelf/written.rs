//! Reading files as written: what is told of a faulty one, and that nothing makes the reader fall.

use std::fs;
use std::path::PathBuf;

use probeworthy::written::{
    At, FileError, Problems, SourceFile, Written, choice, nearest, parse, record, report,
};
use proptest::prelude::*;

record! {
    /// A file with something of everything.
    #[derive(Clone, Debug)]
    pub struct RigAsWritten {
        /// Needed.
        pub id: At<String>,
        /// Needed, with a range.
        pub ohms: At<f64>,
        /// May be left out.
        pub pins: Vec<At<u8>> = Vec::new(),
        /// May be left out.
        pub note: Option<String> = None,
        /// May be left out.
        pub lit: bool = false,
        /// May be left out.
        pub span: (f64, i64) = (0.0, 0),
        /// May be left out.
        pub faults: Vec<FaultAsWritten> = Vec::new(),
        /// May be left out.
        pub inner: Option<Box<RigAsWritten>> = None,
    }
}

choice! {
    /// A choice with every kind of variant.
    #[derive(Clone, Debug, PartialEq)]
    pub enum FaultAsWritten {
        /// With fields.
        Open {
            /// Needed.
            at: At<String>,
            /// May be left out.
            when: WhenAsWritten = WhenAsWritten::Always,
        },
        /// Alone.
        Lockout,
        /// With a value.
        LidBelow(At<f64>),
        /// A word of the syntax itself.
        None,
    }
}

choice! {
    /// A choice that holds itself.
    #[derive(Clone, Debug, PartialEq)]
    pub enum WhenAsWritten {
        /// Alone.
        Always,
        /// Any number of them.
        All(Vec<WhenAsWritten>),
        /// One of them.
        Not(Box<WhenAsWritten>),
    }
}

fn file(text: &str) -> SourceFile {
    SourceFile::new("rig.ron", text)
}

/// What is told of the text, as `line:column: what`, and whether a value came of it.
fn told<T: Written>(text: &str) -> (Vec<String>, bool) {
    let file = file(text);
    let mut problems = Problems::new();
    let value = parse::<T>(&file, &mut problems);
    let lines = problems.into_vec().into_iter().map(|problem| {
        assert!(!problem.hint.is_empty(), "no hint for: {}", problem.what);
        let (line, column) = file.line_column(problem.span.start);
        format!("{line}:{column}: {}", problem.what)
    });
    (lines.collect(), value.is_some())
}

/// The hints for the text.
fn hints(text: &str) -> Vec<String> {
    let mut problems = Problems::new();
    parse::<RigAsWritten>(&file(text), &mut problems);
    problems.into_vec().into_iter().map(|problem| problem.hint).collect()
}

#[test]
fn a_sound_file_is_read() {
    let text = r##"
        // A comment, and a raw string.
        Rig(
            id: r#"the "left" lamp"#,
            ohms: 4_700,
            pins: [1, 0x0F, 255,],
            note: Some("a \"note\" over\ntwo lines"),
            lit: true,
            span: (-1.5e3, -7),
            faults: [Open(at: "latch"), Lockout, LidBelow(40), Open(at: "a", when: Not(All([Always]))), None],
            inner: (id: "é", ohms: 0.5, note: "bare", inner: None), /* and /* another */ one */
        )
    "##;
    let mut problems = Problems::new();
    let rig: RigAsWritten = parse(&file(text), &mut problems).expect("a value");
    assert!(problems.is_empty());
    assert_eq!(*rig.id, "the \"left\" lamp");
    assert_eq!(&text[rig.id.span.start..rig.id.span.end], r##"r#"the "left" lamp"#"##);
    assert_eq!(*rig.ohms, 4700.0);
    assert_eq!(rig.pins.iter().map(|pin| **pin).collect::<Vec<_>>(), [1, 15, 255]);
    assert_eq!(rig.note.as_deref(), Some("a \"note\" over\ntwo lines"));
    assert!(rig.lit);
    assert_eq!(rig.span, (-1500.0, -7));
    assert_eq!(rig.faults.len(), 5);
    assert_eq!(rig.faults[1], FaultAsWritten::Lockout);
    assert_eq!(rig.faults[4], FaultAsWritten::None);
    let FaultAsWritten::Open { when, .. } = &rig.faults[3] else { panic!("an open fault") };
    assert_eq!(*when, WhenAsWritten::Not(Box::new(WhenAsWritten::All(vec![WhenAsWritten::Always]))));
    let inner = rig.inner.expect("an inner rig");
    assert_eq!((&**inner.id, inner.note.as_deref(), inner.inner.is_none()), ("é", Some("bare"), true));
}

/// Texts of a rig, and all that is to be told of them.
const FAULTY: &[(&str, &[&str])] = &[
    // The file as a whole.
    ("", &["1:1: the file is empty, expected the fields of `Rig`"]),
    (" // nothing\n", &["1:1: the file is empty, expected the fields of `Rig`"]),
    ("5", &["1:1: found the number `5`, expected the fields of `Rig`"]),
    ("Rig", &["1:1: found the bare word `Rig`, expected the fields of `Rig`"]),
    ("[(id: 5)]", &["1:1: found a list, expected the fields of `Rig`"]),
    // The name of a record. What it holds is read if it was only misspelt.
    ("Switch(id: 5)", &["1:1: found `Switch(..)`, expected the fields of `Rig`"]),
    (
        "Rug(id: 5, ohms: 1)",
        &["1:1: found `Rug(..)`, expected the fields of `Rig`", "1:9: found the number `5`, expected a text"],
    ),
    // Fields: missing, unknown, misspelt, twice.
    ("Rig()", &["1:1: the field `id` is missing", "1:1: the field `ohms` is missing"]),
    ("(\n  id: 5,\n)", &["1:1: the field `ohms` is missing", "2:7: found the number `5`, expected a text"]),
    (
        "(\n  id: \"a\",\n  ohm: \"b\",\n  colour: 3,\n)",
        &[
            "3:3: there is no field `ohm`",
            "3:8: found a text, expected a number",
            "4:3: there is no field `colour`",
        ],
    ),
    (
        "(id: \"a\", ohms: 1, ohms: \"b\")",
        &["1:20: the field `ohms` is written twice", "1:26: found a text, expected a number"],
    ),
    // Plain values of the wrong kind.
    (
        "(id: latch, ohms: inf, note: 3, lit: yes, span: (1, 2, 3), faults: Lockout, inner: [])",
        &[
            "1:6: found the bare word `latch`, expected a text",
            "1:19: `inf` is not a number that can be used",
            "1:30: found the number `3`, expected a text",
            "1:38: found the bare word `yes`, expected `true` or `false`",
            "1:49: found 3 values in brackets, expected 2 values in brackets",
            "1:68: found the bare word `Lockout`, expected a list",
            "1:84: found a list, expected the fields of `Rig`",
        ],
    ),
    (
        "(id: (1), ohms: 1e999, note: Some(()), lit: None, pins: [256, -1, 2.5, \"x\", 7, 1i32, (id: 1)])",
        &[
            "1:6: found one value in brackets, expected a text",
            "1:17: `1e999` is not a number that can be used",
            "1:35: found empty brackets, expected a text",
            "1:45: found `None`, expected `true` or `false`",
            "1:58: found the number `256`, expected a whole number from 0 to 255",
            "1:63: found the number `-1`, expected a whole number from 0 to 255",
            "1:67: found the number `2.5`, expected a whole number from 0 to 255",
            "1:72: found a text, expected a whole number from 0 to 255",
            "1:80: found the number `1i32`, expected a whole number from 0 to 255",
            "1:86: found named fields, expected a whole number from 0 to 255",
        ],
    ),
    // Variants: misspelt, unknown, with other parts than they take.
    (
        "(id: \"a\", ohms: 1, faults: [\n  Opne(at: 3),\n  Locked,\n  5,\n  \"Lockout\",\n])",
        &[
            "2:3: found `Opne`, expected a kind of `Fault`",
            "2:12: found the number `3`, expected a text",
            "3:3: found `Locked`, expected a kind of `Fault`",
            "4:3: found the number `5`, expected a kind of `Fault`",
            "5:3: found a text, expected a kind of `Fault`",
        ],
    ),
    (
        "(id: \"a\", ohms: 1, faults: [\n  LidBelow,\n  LidBelow(1, 2),\n  LidBelow(x: 1),\n  Lockout(3),\n  Open(\"x\"),\n  Open,\n])",
        &[
            "2:3: `LidBelow` takes one value, but has no value",
            "3:3: `LidBelow` takes one value, but has 2 values",
            "4:3: `LidBelow` takes one value, but has named fields",
            "5:3: `Lockout` takes no value, but has one value",
            "6:3: `Open` takes named fields, but has one value",
            "7:3: the field `at` is missing",
        ],
    ),
    // Syntax errors, one after the other, and what is wrong beside them; never what follows from them.
    (
        "(id: latch ground, ohms: 5V, lit: 4)",
        &[
            "1:12: `ground` cannot stand here",
            "1:27: `V` cannot stand here",
            "1:35: found the number `4`, expected `true` or `false`",
        ],
    ),
    ("(id = \"a\", ohms: \"x\")", &["1:5: `=` cannot stand here", "1:18: found a text, expected a number"]),
    ("(id \"a\", ohms: \"x\")", &["1:5: `\"a\"` cannot stand here", "1:16: found a text, expected a number"]),
    (
        "(ohms: \"x\", id \"a\")",
        &["1:8: found a text, expected a number", "1:13: a `:` is missing after `id`"],
    ),
    ("(\"id\": \"a\", ohms: 4)", &["1:6: `:` cannot stand here"]),
    (
        "Rig(ohms: , id: 5)",
        &["1:11: a value is missing before this `,`", "1:17: found the number `5`, expected a text"],
    ),
    ("(id: , ohms: )", &["1:5: a value is missing here", "1:13: a value is missing here"]),
    ("(id: \"a\",, ohms: .5)", &["1:10: a value is missing before this `,`", "1:18: `.` cannot stand here"]),
    (
        "(id: \"a\"; ohms: 5, lit: 4)",
        &["1:9: `;` cannot stand here", "1:25: found the number `4`, expected `true` or `false`"],
    ),
    (
        "(id: \"a\", ohms: @(1, 2), lit: 4)",
        &["1:17: `@` cannot stand here", "1:31: found the number `4`, expected `true` or `false`"],
    ),
    (
        "(id: \"\\q\", ohms: \"\\é\")",
        &["1:7: the escape `\\q` is not known", "1:19: the escape `\\é` is not known"],
    ),
    (
        "(id: \"a\", ohms: 1, note: Some(@), pins: [1, @, \"x\"], span: (@, 1), faults: [LidBelow(@), Lockout(@), Open(@)])",
        &[
            "1:31: `@` cannot stand here",
            "1:45: `@` cannot stand here",
            "1:48: found a text, expected a whole number from 0 to 255",
            "1:61: `@` cannot stand here",
            "1:86: `@` cannot stand here",
            "1:98: `@` cannot stand here",
            "1:107: `@` cannot stand here",
        ],
    ),
    (
        "(id: \"a\", ohms: 1, note: Some, lit: 4)",
        &["1:26: `Some` is without its value", "1:37: found the number `4`, expected `true` or `false`"],
    ),
    // What stands first without a name does not make mere values of the fields after it.
    (
        "(5, id: 6, ohms: \"x\")",
        &[
            "1:2: `5` cannot stand here",
            "1:9: found the number `6`, expected a text",
            "1:18: found a text, expected a number",
        ],
    ),
    ("(id: \"a\", ohms: 1, note: Some(\"x\",))", &["1:34: this `,` cannot stand here"]),
    (
        "(id: \"a\", ohms: 1, faults: [Opn, LidBellow, Opne(), Lockuot(1)])",
        &[
            "1:29: found `Opn`, expected a kind of `Fault`",
            "1:34: found `LidBellow`, expected a kind of `Fault`",
            "1:45: found `Opne`, expected a kind of `Fault`",
            "1:53: found `Lockuot`, expected a kind of `Fault`",
        ],
    ),
    // Commas missing at line ends take nothing away.
    (
        "(\n  id: 5\n  ohms: \"x\" // the \"bulb\"\n  lit: maybe not,\n  pins: 3\n)",
        &[
            "2:7: found the number `5`, expected a text",
            "2:8: a comma is missing here",
            "3:9: found a text, expected a number",
            "3:12: a comma is missing here",
            "4:14: `not` cannot stand here",
            "5:9: found the number `3`, expected a list",
        ],
    ),
    // What the syntax has no use for.
    (
        "(id: 'latch, ground', ohms: \"x\")",
        &["1:6: single quotes have no meaning here", "1:29: found a text, expected a number"],
    ),
    ("(id: “latch”, ohms: \"x\")", &["1:6: `“` cannot stand here", "1:21: found a text, expected a number"]),
    (
        "(id: \"é\", ohms: 470 Ω, lit: 4)",
        &["1:21: `Ω` cannot stand here", "1:29: found the number `4`, expected `true` or `false`"],
    ),
    ("(id: a\"b\", ohms: r#x)", &["1:6: `a` cannot stand here", "1:18: `r#` cannot stand here"]),
    ("Rig { id: \"a\", ohms: 5 }", &["1:5: `{` has no meaning here"]),
    (
        "# (\n(id: 5, # (\n ohms: 4)",
        &[
            "1:1: `#` has no meaning here",
            "2:6: found the number `5`, expected a text",
            "2:9: `#` has no meaning here",
        ],
    ),
    // What is not closed makes all after it doubtful.
    ("(id: \"a\",\n ohms: 5, lit: 4", &["1:1: this `(` is never closed"]),
    ("(id: \"a\",\n pins: [1, 2,\n lit: 4\n)", &["2:8: this `[` is not closed before the `)` on line 4"]),
    ("(id: 5))", &["1:8: this `)` closes nothing"]),
    ("(id: \"a\",\n note: \"latch,\n inner: (id: \"5\", note: \"x\"))", &["2:8: this text is never closed"]),
    ("(id: \"latch ground, ohms: 5)", &["1:6: this text is never closed"]),
    ("(id: r#\"latch\", ohms: 5)", &["1:6: this text is never closed"]),
    ("(id: \"a\", /* /* */ ohms: 5)", &["1:11: this comment is never closed"]),
];

#[test]
fn a_faulty_file_tells_all_its_problems_once() {
    for (text, expected) in FAULTY {
        let (told, read) = told::<RigAsWritten>(text);
        assert_eq!(told, *expected, "of:\n{text}");
        assert!(!read || text.contains('#'), "a value came of:\n{text}");
    }
}

#[test]
fn a_value_is_read_although_something_follows() {
    let (told, read) = told::<FaultAsWritten>("LidBelow(3) (id: 2), 'x'");
    assert_eq!(told, ["1:13: something follows after the end", "1:22: single quotes have no meaning here"]);
    assert!(read);
}

#[test]
fn hints_name_what_to_write() {
    for (text, expected) in [
        ("(id: latch, ohms: 1)", "put it in double quotes: `\"latch\"`"),
        ("(id: \"a\")", "add `ohms: 12.5`; it takes a number"),
        ("(id: \"a\", Ohm: 1)", "did you mean `ohms`?"),
        ("(id: \"a\", ohms: 1, faults: [Open()])", "add `at: \"some text\"`; it takes a text"),
        ("(id: \"a\", ohms: 1, faults: [Opne(at: \"b\")])", "did you mean `Open`?"),
        ("(id: \"a\", ohms: 1, faults: [5])", "write one of `Open(..)`, `Lockout`, `LidBelow(..)`, `None`"),
        ("(id: \"a\", ohms: 1, faults: [LidBelow])", "write `LidBelow(12.5)`"),
        ("(id: \"a\", ohms: 1, faults: [Open(1)])", "write `Open(at: .., when: ..)`"),
        ("(id: \"a\", ohms: 1, faults: 5)", "write it like `[Open(..)]`"),
        (
            "(id: \"a\", ohms: 1, inner: 5)",
            "write it like `(id: .., ohms: .., pins: .., note: .., lit: .., span: .., faults: .., inner: ..)`",
        ),
        ("(id: \"a\", ohms: 1, pins: [300])", "write a whole number from 0 to 255"),
        ("(id: \"a\", ohms: 5 V)", "write a number without its unit, and a comma between two items"),
        ("(id: \"a\" ohms: 5)", "put a comma between two items"),
    ] {
        assert_eq!(hints(text), [expected], "of:\n{text}");
    }
    let unknown = "known here are `id`, `ohms`, `pins`, `note`, `lit`, `span`, `faults`, `inner`";
    assert_eq!(hints("(id: \"a\", ohms: 1, colour: 2)"), [unknown]);
}

#[test]
fn nesting_has_a_limit() {
    let nested = |depth| format!("{}Always{}", "Not(".repeat(depth), ")".repeat(depth));
    assert_eq!(told::<WhenAsWritten>(&nested(64)), (vec![], true));
    let (too_deep, _) = told::<WhenAsWritten>(&nested(65));
    assert_eq!(too_deep, ["1:260: brackets stand more than 64 deep in one another"]);
    for piece in ["(", "[", "A(", "Some(", "{", "[(", "\"(\"["] {
        assert_eq!(told::<WhenAsWritten>(&piece.repeat(100_000)).0.len(), 1, "of many {piece}");
    }
}

#[test]
fn hopeless_text_ends_soon() {
    for piece in ["@,", "1\n", "[1 1],", "é,", "'a',", "#\n", "a: 1,", "0x", "(,"] {
        let (told, read) = told::<WhenAsWritten>(&format!("[{}]", piece.repeat(20_000)));
        assert!(!read && (1..=51).contains(&told.len()), "{} told of many {piece}", told.len());
    }
}

#[test]
fn a_range_is_told_with_its_unit() {
    let ohms = At::unwritten(-3.0);
    let mut problems = Problems::new();
    assert!(At::unwritten(3.0).in_range(1e-6, 1e9, "Ω", "a resistance", &mut problems));
    assert!(problems.is_empty());
    assert!(!ohms.in_range(1e-6, 1e9, "Ω", "a resistance", &mut problems));
    let problem = &problems.into_vec()[0];
    assert_eq!(problem.what, "-3 Ω is out of range: a resistance must be between 0.000001 and 1000000000 Ω");
    assert_eq!(problem.hint, "write a number from 0.000001 to 1000000000");
}

#[test]
fn a_report_shows_the_place() {
    let file = file("(\r\n\tid: \"é\", ohms: \"much\",\r\n)\r\n");
    let mut problems = Problems::new();
    assert!(parse::<RigAsWritten>(&file, &mut problems).is_none());
    let problem = &problems.into_vec()[0];
    let expected = "\
rig.ron:2:17: found a text, expected a number
  |
2 |     id: \"é\", ohms: \"much\",
  |                    ^^^^^^
hint: write it like `12.5`";
    assert_eq!(report(&file, problem, false), expected);
    let coloured = report(&file, problem, true);
    assert!(coloured.starts_with("rig.ron:2:17: found a text, expected a number\n"));
    assert!(coloured.contains('\x1b'));
}

#[test]
fn a_report_keeps_to_its_lines() {
    let file = file("(id: \"a\")");
    let mut problems = Problems::new();
    problems.add(probeworthy::written::Span { start: 5, end: 99 }, "two\nlines \x1b[31m", "none\r");
    let text = report(&file, &problems.into_vec()[0], false);
    assert!(text.starts_with("rig.ron:1:6: two\\nlines \\u{1b}[31m\n"), "{text}");
    assert!(text.ends_with("hint: none\\r"), "{text}");
}

#[test]
fn the_nearest_word_is_a_near_one() {
    let known = ["ohms", "volts", "conductor", "id"];
    for (word, expected) in [
        ("ohm", Some("ohms")),
        ("OHMS", Some("ohms")),
        ("vlots", Some("volts")),
        ("conducter", Some("conductor")),
        ("connector", Some("conductor")),
        ("di", None),
        ("amps", None),
        ("", None),
    ] {
        assert_eq!(nearest(word, known.into_iter()), expected, "to {word}");
    }
}

/// A file with these bytes, for as long as the value lives.
struct Temporary(PathBuf);

impl Temporary {
    fn new(name: &str, bytes: &[u8]) -> Self {
        let path = std::env::temp_dir().join(format!("written-{}-{name}", std::process::id()));
        fs::write(&path, bytes).expect("a writable directory for temporary files");
        Self(path)
    }
}

impl Drop for Temporary {
    fn drop(&mut self) {
        fs::remove_file(&self.0).ok();
    }
}

#[test]
fn a_file_that_cannot_be_read_says_why() {
    let read = |name, bytes| {
        let file = Temporary::new(name, bytes);
        SourceFile::read(&file.0)
    };
    let marked = read("marked.ron", b"\xef\xbb\xbfLockout").expect("a byte-order mark is no fault");
    assert_eq!(marked.text, "Lockout");

    let error = read("latin.ron", b"\xef\xbb\xbf(\n \xc3\xa9\xe9").expect_err("not UTF-8");
    assert!(matches!(error, FileError::NotUtf8 { line: 2, column: 3, .. }), "{error}");
    assert!(error.to_string().ends_with("latin.ron:2:3: this is not UTF-8 text; save the file as UTF-8"));

    let error = read("large.ron", &vec![b' '; (1 << 20) + 1]).expect_err("too large");
    assert!(
        error.to_string().ends_with("the file is larger than 1 MB; take out what is not needed"),
        "{error}"
    );

    let error = SourceFile::read("/nowhere/rig.ron".as_ref()).expect_err("not there");
    assert!(error.to_string().starts_with("/nowhere/rig.ron: the file cannot be read ("), "{error}");
}

/// Reads the text, shows whatever is wrong, and checks what holds of any text.
fn survives(text: &str) {
    let file = file(text);
    let mut problems = Problems::new();
    let value = parse::<RigAsWritten>(&file, &mut problems);
    let problems = problems.into_vec();
    assert!(value.is_some() || !problems.is_empty(), "nothing came of {text:?}");
    for (number, problem) in problems.iter().enumerate() {
        assert!(problem.span.start <= problem.span.end && problem.span.end <= file.text.len());
        assert!(!problem.hint.is_empty());
        assert!(!problems[..number].contains(problem), "{problem:?} twice of {text:?}");
        let (line, column) = file.line_column(problem.span.start);
        let report = report(&file, problem, false);
        assert!(report.starts_with(&format!("rig.ron:{line}:{column}: ")), "{report}");
    }
}

/// Pieces that a text in RON is made of, and some that it should not be.
fn piece() -> impl Strategy<Value = String> {
    const PIECES: &[&str] = &[
        "(",
        ")",
        "[",
        "]",
        "{",
        "}",
        ",",
        ":",
        "\"",
        "\\",
        "'",
        "#",
        "/*",
        "*/",
        "//",
        "\n",
        "\r\n",
        " ",
        "r#\"",
        "\"#",
        "b\"",
        "br",
        "Some(",
        "None",
        "true",
        "inf",
        "-",
        "+",
        "0x",
        "1",
        "2.5",
        "1e9",
        "_",
        "=",
        ";",
        "@",
        "é",
        "\u{301}",
        "²",
        "\u{feff}",
        "\u{a0}",
        "\0",
        "id",
        "ohms: ",
        "pins: [",
        "note: ",
        "faults: [",
        "Open(",
        "LidBelow(",
        "Lockout",
        "inner: (",
        "\"a\"",
        "id: \"a\", ohms: 1, ",
    ];
    prop_oneof![4 => proptest::sample::select(PIECES).prop_map(str::to_owned), 1 => any::<String>()]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_bytes_are_survived(bytes in proptest::collection::vec(any::<u8>(), 0..200)) {
        survives(&String::from_utf8_lossy(&bytes));
    }

    #[test]
    fn any_pieces_are_survived(pieces in proptest::collection::vec(piece(), 0..40)) {
        survives(&pieces.concat());
    }

    #[test]
    fn any_change_to_a_sound_file_is_survived(
        places in proptest::collection::vec((any::<proptest::sample::Index>(), 0..4_usize, piece()), 1..5),
    ) {
        let mut text = "(\n  id: \"a\",\n  ohms: 4.5, // ohms\n  pins: [1, 2],\n  note: Some(r#\"x\"#),\n  span: (1, 2),\n  \
            faults: [Open(at: \"b\", when: Not(All([Always]))), Lockout, LidBelow(3)],\n  inner: (id: \"c\", ohms: 1),\n)"
            .to_owned();
        for (place, length, piece) in places {
            let start = text.floor_char_boundary(place.index(text.len() + 1));
            let end = text.ceil_char_boundary((start + length).min(text.len()));
            text.replace_range(start..end, &piece);
        }
        survives(&text);
    }
}
