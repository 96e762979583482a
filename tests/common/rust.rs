//! Literals in Rust source, and where they are given: as much of the language as this tree uses.

use std::fs;
use std::path::{Path, PathBuf};

/// A file without its comments and its tests.
pub(crate) struct Source {
    /// Where it is.
    pub(crate) path: PathBuf,
    /// Its code.
    pub(crate) code: String,
}

/// Every source below a folder.
pub(crate) fn sources(folder: &Path) -> Vec<Source> {
    let mut all = Vec::new();
    let mut entries: Vec<PathBuf> =
        fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").path()).collect();
    entries.sort();
    for path in entries {
        if path.is_dir() {
            all.extend(sources(&path));
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            let text = fs::read_to_string(&path).expect("a source");
            let code = text.split("#[cfg(test)]\nmod tests").next().unwrap_or_default();
            all.push(Source { code: without_comments(code), path });
        }
    }
    assert!(!all.is_empty(), "{} has no sources", folder.display());
    all
}

/// The end of a literal that begins at this quotation mark: one past its last byte.
fn end_of_literal(code: &[u8], begin: usize) -> usize {
    let mut at = begin + 1;
    while at < code.len() && code[at] != b'"' {
        at += if code[at] == b'\\' { 2 } else { 1 };
    }
    at + 1
}

/// Whether a quotation mark here begins a literal, and is not itself a character: `'"'`.
fn begins_literal(code: &[u8], at: usize) -> bool {
    code[at] == b'"' && !(at > 0 && code[at - 1] == b'\'' && code.get(at + 1) == Some(&b'\''))
}

fn without_comments(code: &str) -> String {
    let bytes = code.as_bytes();
    let mut kept = Vec::with_capacity(bytes.len());
    let mut at = 0;
    while at < bytes.len() {
        if begins_literal(bytes, at) {
            let end = end_of_literal(bytes, at).min(bytes.len());
            kept.extend_from_slice(&bytes[at..end]);
            at = end;
        } else if bytes[at..].starts_with(b"//") {
            at += bytes[at..].iter().position(|byte| *byte == b'\n').unwrap_or(bytes.len() - at);
        } else {
            kept.push(bytes[at]);
            at += 1;
        }
    }
    String::from_utf8(kept).expect("whole characters were left out")
}

/// Every literal, with where it begins.
pub(crate) fn literals(code: &str) -> Vec<(usize, String)> {
    let bytes = code.as_bytes();
    let mut all = Vec::new();
    let mut at = 0;
    while at < bytes.len() {
        if begins_literal(bytes, at) {
            let end = end_of_literal(bytes, at);
            all.push((at, code[at + 1..end - 1].to_owned()));
            at = end;
        } else {
            at += 1;
        }
    }
    all
}

/// The end of what stands in brackets, from the opening one: the place of the closing one.
fn closing(code: &[u8], open: usize) -> usize {
    let mut depth = 0_usize;
    let mut at = open;
    while at < code.len() {
        if begins_literal(code, at) {
            at = end_of_literal(code, at);
            continue;
        }
        match code[at] {
            b'(' | b'[' | b'{' => depth += 1,
            b')' | b']' | b'}' => {
                depth -= 1;
                if depth == 0 {
                    return at;
                }
            }
            _ => {}
        }
        at += 1;
    }
    code.len()
}

/// What is given to each call of this name, `name(` as it stands.
fn given<'a>(code: &'a str, name: &str) -> Vec<&'a str> {
    let before = |at: usize| code[..at].chars().next_back();
    code.match_indices(name)
        // The end of a longer name is another name.
        .filter(|(at, _)| {
            name.starts_with('.') || !before(*at).is_some_and(|c| c.is_alphanumeric() || c == '_')
        })
        .filter(|(at, _)| !code[..*at].ends_with("fn "))
        .map(|(at, _)| {
            let open = at + name.len() - 1;
            &code[open + 1..closing(code.as_bytes(), open)]
        })
        .collect()
}

/// The ids that are asked for where a text is said.
pub(crate) fn said(code: &str) -> Vec<String> {
    // The desk says things of its own by a method of this name.
    let of_texts = code.replace("self.say(", "self.print(");
    let plain = given(&of_texts, ".say(");
    let worded = given(code, "say!(").into_iter().map(|all| {
        let bytes = all.as_bytes();
        let mut commas = Vec::new();
        let mut at = 0;
        while at < bytes.len() && commas.len() < 2 {
            at = match bytes[at] {
                _ if begins_literal(bytes, at) => end_of_literal(bytes, at),
                b'(' | b'[' | b'{' => closing(bytes, at) + 1,
                b',' => {
                    commas.push(at);
                    at + 1
                }
                _ => at + 1,
            };
        }
        let end = commas.get(1).copied().unwrap_or(all.len());
        &all[commas.first().map_or(0, |comma| comma + 1)..end]
    });
    plain.into_iter().chain(worded).flat_map(literals).map(|(_, id)| id).collect()
}

/// Calls whose words are shown or read out.
const SHOWS: [&str; 28] = [
    "label(",
    "colored_label(",
    "heading(",
    "button(",
    "small_button(",
    "checkbox(",
    "radio(",
    "radio_value(",
    "selectable_label(",
    "selectable_value(",
    "selectable(",
    "hyperlink(",
    "on_hover_text(",
    "on_disabled_hover_text(",
    "hint_text(",
    "selected_text(",
    "RichText::new(",
    "Button::new(",
    "Label::new(",
    "CollapsingHeader::new(",
    "WidgetInfo::labeled(",
    "x_axis_label(",
    "y_axis_label(",
    "Line::new(",
    "Points::new(",
    "prefix(",
    "suffix(",
    "act(",
];
/// More of them, by what is in this window's own code.
const SHOWS_HERE: [&str; 8] =
    ["act_unless(", "tag(", ".text(", "layout_no_wrap(", "named(", "begin(", "choice(", "format!("];
/// Calls whose literals are names of colours, places and ids, or texts from the files.
const NAMES: [&str; 16] = [
    ".say(",
    "say!(",
    "colour(",
    "Id::new(",
    "from_id_salt(",
    "id_salt(",
    ".design(",
    "assert!(",
    "warn!(",
    "panic!(",
    "expect(",
    "Window::new(",
    "Plot::new(",
    ".get(",
    ".rgb(",
    "palette.color(",
];

/// The code with blanks for what only names something.
fn bare(code: &str) -> String {
    let mut bare = code.as_bytes().to_vec();
    for name in NAMES {
        let begins: Vec<usize> = code.match_indices(name).map(|(at, _)| at + name.len() - 1).collect();
        for open in begins {
            let end = closing(code.as_bytes(), open);
            bare[open + 1..end].fill(b' ');
        }
    }
    String::from_utf8(bare).expect("whole spans were blanked")
}

/// Literals that are shown: given to what shows something, or of several words wherever they stand.
pub(crate) fn shown(code: &str) -> Vec<String> {
    let bare = bare(code);
    let mut all = Vec::new();
    for name in SHOWS.into_iter().chain(SHOWS_HERE) {
        all.extend(given(&bare, name).into_iter().flat_map(literals).map(|(_, text)| text));
    }
    // A lint's reason is for whoever reads the code.
    let elsewhere = literals(&bare).into_iter().filter(|(at, _)| !bare[..*at].ends_with("reason = "));
    all.extend(elsewhere.map(|(_, text)| text).filter(|text| has_words(text)));
    all.sort();
    all.dedup();
    all
}

/// Whether two words follow one another.
fn has_words(text: &str) -> bool {
    let text = without_placeholders(text);
    let words: Vec<&str> = text.split(' ').collect();
    let is_word = |word: &str| word.chars().filter(|c| c.is_alphabetic()).count() > 1;
    words.windows(2).any(|pair| is_word(pair[0]) && is_word(pair[1]))
}

/// A literal of `format!` without what stands in braces, and without escapes.
pub(crate) fn without_placeholders(text: &str) -> String {
    let mut kept = String::new();
    let mut depth = 0_usize;
    let mut chars = text.chars();
    while let Some(c) = chars.next() {
        match c {
            '\\' => _ = chars.next(),
            '{' => depth += 1,
            '}' => depth = depth.saturating_sub(1),
            c if depth == 0 => kept.push(c),
            _ => {}
        }
    }
    kept
}

/// Calls that make a colour of figures or of a word.
const MAKES_COLOUR: [&str; 20] = [
    "from_rgb(",
    "from_gray(",
    "from_black_alpha(",
    "from_white_alpha(",
    "from_rgba_unmultiplied(",
    "from_rgba_premultiplied(",
    "hex_color!(",
    "Srgba::new(",
    "Srgba::rgb(",
    "Srgba::rgb_u8(",
    "Srgba::rgba_u8(",
    "Srgba::hex(",
    "Color::srgb(",
    "Color::srgba(",
    "Color::srgb_u8(",
    "Color::srgba_u8(",
    "Color::linear_rgb(",
    "Color::hsl(",
    "LinearRgba::new(",
    "LinearRgba::rgb(",
];

/// Colours that the code writes itself: by figures, by a hexadecimal literal, or by a name of somebody else's.
pub(crate) fn colours_written(code: &str) -> Vec<String> {
    let mut all = Vec::new();
    for name in MAKES_COLOUR {
        let written =
            |argument: &&str| argument.trim_start().starts_with(|c: char| c.is_ascii_digit() || c == '"');
        all.extend(given(code, name).into_iter().filter(written).map(|given| format!("{name}{given})")));
    }
    let is_hex = |text: &&(usize, String)| {
        text.1.strip_prefix('#').is_some_and(|hex| {
            [3, 4, 6, 8].contains(&hex.len()) && hex.chars().all(|digit| digit.is_ascii_hexdigit())
        })
    };
    all.extend(literals(code).iter().filter(is_hex).map(|(_, text)| text.clone()));
    for of in ["Color32::", "Color::", "Srgba::", "LinearRgba::"] {
        let names = code.match_indices(of).map(|(at, _)| {
            let rest = &code[at + of.len()..];
            &rest[..rest.find(|c: char| !(c.is_ascii_uppercase() || c == '_')).unwrap_or(rest.len())]
        });
        // No colour, and what stands for the colour of whoever paints.
        let painted =
            names.filter(|name| name.len() > 1 && !["NONE", "TRANSPARENT", "PLACEHOLDER"].contains(name));
        all.extend(painted.map(|name| format!("{of}{name}")));
    }
    all
}

/// Names of colours that are asked for where they stand.
pub(crate) fn colours_asked(code: &str) -> Vec<String> {
    let asked = ["colour(", ".rgb(", "palette.get("].into_iter().flat_map(|name| given(code, name));
    // What is put together of pieces is no name yet.
    asked.filter(|given| !given.contains("format!")).flat_map(literals).map(|(_, name)| name).collect()
}
