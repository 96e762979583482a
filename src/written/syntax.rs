//! From text to a syntax tree that holds only what was written, however much else is wrong.
//!
//! The parser goes on after an error, but by guessing: it drops what stands near, skips into other
//! brackets, and then takes offence at the consequences. So each error is taken by itself. The item
//! it stands in, from one comma to the next, is blanked out, and the text is parsed again until no
//! error is left. Places stay what they were, and a group that lost an item is remembered as
//! spoiled.
//!
//! Before that, a scan pairs the brackets. It tells better than the parser where one is not closed,
//! finds the commas between the items, and keeps from the parser whatever would make it recurse
//! without a limit, or make it see other brackets than the scan does.

use ron2::ErrorKind;
use ron2::ast::parse_document_lossy;

use super::{Problem, Problems, Span, Written, shown};

/// How deep brackets may stand in one another. The parser recurses, and so does reading.
const DEEPEST: usize = 64;

/// With more syntax errors than this, the text is probably something else altogether.
const MOST: usize = 50;

/// The same for the errors of the parser, consequences and all.
const MOST_RAW: usize = 1000;

const NAMED: &str = "a field is written `name: value`, its name without quotes";

/// Reads the text's one value.
pub(super) fn read<T: Written>(text: &str, problems: &mut Problems) -> Option<T> {
    problems.spoiled.clear();
    let scan = scan(text).map_err(|problem| problems.list.push(problem)).ok()?;
    let tries = MOST - scan.strays.len();
    let mut mending = Mending { text: text.to_owned(), tokens: scan.tokens, told: Vec::new() };
    for stray in scan.strays {
        mending.remove(stray, problems);
    }
    for _ in 0..tries {
        let (document, errors) = parse_document_lossy(&mending.text);
        if errors.is_empty() {
            if document.value.is_none() && mending.text == text {
                let what = format!("the file is empty, expected {}", T::expected());
                problems.add(Span::default(), what, T::hint());
            }
            return document.value.and_then(|value| T::read(&value, problems));
        }
        drop(document);
        mending.mend(&errors, problems);
        if errors.len() > MOST_RAW {
            break;
        }
    }
    None
}

/// A piece of the text that matters to its structure.
struct Token {
    kind: Kind,
    span: Span,
}

enum Kind {
    Open,
    Close,
    Comma,
    Other,
}

struct Scan {
    tokens: Vec<Token>,
    /// What the parser is not to see, at most [`MOST`].
    strays: Vec<Problem>,
}

impl Scan {
    fn stray(&mut self, span: Span, what: &str, hint: &str) {
        if self.strays.len() < MOST {
            self.strays.push(problem(span, what, hint));
        }
    }
}

/// Finds the tokens of the text and pairs its brackets. Fails where nothing after it can be trusted.
fn scan(text: &str) -> Result<Scan, Problem> {
    let mut scan = Scan { tokens: Vec::new(), strays: Vec::new() };
    let mut open: Vec<usize> = Vec::new();
    let mut at = 0;
    while let Some(first) = text[at..].chars().next() {
        let start = at;
        let rest = &text[at..];
        let mut kind = Kind::Other;
        at += first.len_utf8();
        match first {
            ' ' | '\t' | '\n' | '\r' | '\x0b' | '\x0c' => continue,
            '/' if rest.starts_with("//") => {
                at = line_end(text, start);
                continue;
            }
            '/' if rest.starts_with("/*") => {
                at = comment_end(text, start).ok_or_else(|| {
                    let span = Span { start, end: start + 2 };
                    problem(span, "this comment is never closed", "add `*/` where it should end")
                })?;
                continue;
            }
            ',' => kind = Kind::Comma,
            '(' | '[' | '{' => {
                kind = Kind::Open;
                open.push(start);
                let span = Span { start, end: at };
                if open.len() > DEEPEST {
                    let what = format!("brackets stand more than {DEEPEST} deep in one another");
                    return Err(problem(span, &what, "write this with fewer brackets"));
                }
                // A map is a field's value.
                let is_map = scan.tokens.last().is_some_and(|last| text[last.span.start..].starts_with(':'));
                if first == '{' && !is_map {
                    let hint = "write a record with `(` and `)`, a list with `[` and `]`";
                    scan.stray(span, "`{` has no meaning here", hint);
                }
            }
            ')' | ']' | '}' => {
                kind = Kind::Close;
                close(text, start, open.pop())?;
            }
            '"' => {
                at = string_end(text, at, None).ok_or_else(|| unclosed(text, start))?;
                // A text that goes over a line end and has another close behind it was most likely
                // never closed, so that inside and outside have changed places.
                let runs_on = text[at..].starts_with(|next: char| next == '"' || next.is_alphanumeric());
                if runs_on && text[start..at].contains('\n') {
                    return Err(unclosed(text, start));
                }
            }
            '\'' => {
                let end = text[at..].find(['\'', '\n']).map_or(text.len(), |length| at + length);
                at = if text[end..].starts_with('\'') { end + 1 } else { at };
                let what = "single quotes have no meaning here";
                scan.stray(Span { start, end: at }, what, "put text in double quotes");
            }
            '#' => {
                at = line_end(text, start);
                scan.stray(Span { start, end: at }, "`#` has no meaning here", "begin a comment with `//`");
            }
            'a'..='z' | 'A'..='Z' | '0'..='9' | '_' => {
                let length = rest.bytes().take_while(|letter| is_word(*letter)).count();
                let (word, after) = rest.split_at(length);
                at = start + length;
                let hashes = after.len() - after.trim_start_matches('#').len();
                let quoted = after[hashes..].starts_with('"');
                let raw = matches!(word, "r" | "br") && hashes <= 8;
                if quoted && raw {
                    let inside = at + hashes + 1;
                    at = string_end(text, inside, Some(hashes)).ok_or_else(|| unclosed(text, start))?;
                } else if hashes > 0 || quoted && word != "b" {
                    at += hashes;
                    let what = format!("{} cannot stand here", shown(&text[start..at]));
                    scan.stray(Span { start, end: at }, &what, "put all of a text in double quotes");
                }
            }
            first if !first.is_ascii() => {
                let length = rest.find(|c: char| c.is_ascii()).unwrap_or(rest.len());
                at = start + length;
                let what = format!("{} cannot stand here", shown(&rest[..length]));
                let hint = "put text in plain double quotes, and leave out units and signs";
                scan.stray(Span { start, end: at }, &what, hint);
            }
            _ => {}
        }
        scan.tokens.push(Token { kind, span: Span { start, end: at } });
    }
    match open.pop() {
        Some(start) => close(text, text.len(), Some(start)).map(|()| scan),
        None => Ok(scan),
    }
}

/// Whether the closing bracket at `at`, or the end of the text, fits the one that is open.
fn close(text: &str, at: usize, open: Option<usize>) -> Result<(), Problem> {
    let here = text[at..].chars().next();
    let Some(start) = open else {
        let what = format!("this `{}` closes nothing", here.unwrap_or_default());
        return Err(problem(Span { start: at, end: at + 1 }, &what, "remove it, or open it before"));
    };
    let opening = &text[start..=start];
    let closing = match opening {
        "(" => ')',
        "[" => ']',
        _ => '}',
    };
    let mut what = format!("this `{opening}` is never closed");
    let mut hint = format!("add `{closing}` where it should end");
    if let Some(found) = here {
        if found == closing {
            return Ok(());
        }
        let line = text[..at].matches('\n').count() + 1;
        what = format!("this `{opening}` is not closed before the `{found}` on line {line}");
        hint += &format!(", or remove the `{found}`");
    }
    Err(problem(Span { start, end: start + 1 }, &what, &hint))
}

fn unclosed(text: &str, start: usize) -> Problem {
    let span = Span { start, end: line_end(text, start) };
    problem(span, "this text is never closed", "add a double quote at its end")
}

fn is_word(letter: u8) -> bool {
    letter == b'_' || letter.is_ascii_alphanumeric()
}

fn line_end(text: &str, at: usize) -> usize {
    text[at..].find('\n').map_or(text.len(), |length| at + length)
}

/// Where the comment at `at` ends. Comments may stand in one another.
fn comment_end(text: &str, at: usize) -> Option<usize> {
    let mut end = at + 2;
    let mut depth = 1;
    while depth > 0 {
        end += text[end..].find(['/', '*'])?;
        let mark = text.get(end..end + 2);
        match mark {
            Some("/*") => depth += 1,
            Some("*/") => depth -= 1,
            _ => {
                end += 1;
                continue;
            }
        }
        end += 2;
    }
    Some(end)
}

/// Where the string whose inside begins at `at` ends. A raw one ends with as many `#` as it began
/// with, and knows no escapes.
fn string_end(text: &str, at: usize, raw: Option<usize>) -> Option<usize> {
    if let Some(hashes) = raw {
        let end = format!("\"{}", "#".repeat(hashes));
        return text[at..].find(&end).map(|length| at + length + end.len());
    }
    let mut escaped = false;
    let length = text[at..].find(|letter| {
        let end = letter == '"' && !escaped;
        escaped = letter == '\\' && !escaped;
        end
    })?;
    Some(at + length + 1)
}

fn problem(span: Span, what: &str, hint: &str) -> Problem {
    Problem { span, what: what.to_owned(), hint: hint.to_owned() }
}

/// What stands between two commas.
struct Item {
    /// With the comma after it.
    span: Span,
    /// The bracket that opens the group it is in.
    group: Option<usize>,
}

/// The text while its errors are taken out.
struct Mending {
    /// Always as long as it was.
    text: String,
    tokens: Vec<Token>,
    /// The beginnings of the items about which something was said. A second error there is a
    /// consequence of the first.
    told: Vec<usize>,
}

impl Mending {
    /// The number of the first token that begins at `at` or after it.
    fn token(&self, at: usize) -> usize {
        self.tokens.partition_point(|token| token.span.start < at)
    }

    /// The item around a place. A bracket stands in the item it closes, and in the one around the
    /// group it opens.
    fn item(&self, at: usize) -> Item {
        let (before, after) = self.tokens.split_at(self.token(at));
        let mut item = Item { span: Span { start: 0, end: self.text.len() }, group: None };
        let mut depth = 0;
        let mut comma = None;
        for token in before.iter().rev() {
            match token.kind {
                Kind::Close => depth += 1,
                Kind::Open if depth == 0 => {
                    item.group = Some(token.span.start);
                    item.span.start = token.span.end;
                    break;
                }
                Kind::Open => depth -= 1,
                Kind::Comma if depth == 0 => _ = comma.get_or_insert(token.span.end),
                Kind::Comma | Kind::Other => {}
            }
        }
        item.span.start = comma.unwrap_or(item.span.start);
        depth = 0;
        for token in after {
            match token.kind {
                Kind::Open => depth += 1,
                Kind::Close if depth == 0 => {
                    item.span.end = token.span.start;
                    break;
                }
                Kind::Close => depth -= 1,
                Kind::Comma if depth == 0 => {
                    item.span.end = token.span.end;
                    break;
                }
                Kind::Comma | Kind::Other => {}
            }
        }
        item
    }

    /// Takes out what the scan found.
    fn remove(&mut self, stray: Problem, problems: &mut Problems) {
        if self.text[stray.span.start..].starts_with('#') {
            // Meant as a comment, so that all around it is as it should be.
            self.blank(stray.span);
            problems.list.push(stray);
        } else if !self.is_blank(stray.span) {
            self.spoil(stray, problems);
        }
    }

    /// Takes out what the parser objects to first. Missing commas do not lead it astray, so all of
    /// them up to there are put right.
    fn mend(&mut self, errors: &[ron2::Error], problems: &mut Problems) {
        for error in errors.iter().take(MOST) {
            let Span { start, end } = error.span().into();
            let start = self.text.floor_char_boundary(start);
            let span = Span { start, end: self.text.ceil_char_boundary(end.clamp(start, self.text.len())) };
            match error.kind() {
                ErrorKind::Expected { expected, .. }
                    if expected == "comma" && self.add_comma(start, problems) =>
                {
                    continue;
                }
                ErrorKind::TrailingCharacters => {
                    let hint = "a file holds one value: remove the rest, or put it into the brackets";
                    problems.add(span, "something follows after the end", hint);
                    self.blank(Span { start, end: self.text.len() });
                }
                kind => {
                    let problem = self.unnamed(span).unwrap_or_else(|| explain(&self.text, span, kind));
                    self.spoil(problem, problems);
                }
            }
            break;
        }
    }

    /// Adds a comma that is missing at a line end before `at`, where it is surely no other error. To
    /// blank out the item would take away two of them.
    fn add_comma(&mut self, at: usize, problems: &mut Problems) -> bool {
        let number = self.token(at);
        let last = self.tokens[..number].last().map_or(0, |token| token.span.end);
        // There is nothing between if the error is within a token.
        let between = self.text.get(last..at).unwrap_or_default();
        let missing = between.starts_with([' ', '\t', '\r', '\n']) && between.contains('\n');
        if missing {
            let span = Span { start: last, end: last };
            problems.add(span, "a comma is missing here", "add `,` after the item");
            let comma = Token { kind: Kind::Comma, span: Span { start: last, end: last + 1 } };
            self.tokens.insert(number, comma);
            self.text.replace_range(last..=last, ",");
        }
        missing
    }

    /// What stands first among named fields without being one, if that is why the parser objects to a
    /// `:`. It has then taken all of them for mere values.
    fn unnamed(&self, colon: Span) -> Option<Problem> {
        let item = self.item(colon.start);
        let [name] = &self.tokens[self.token(item.span.start)..self.token(colon.start)] else { return None };
        let is_name = self.text[name.span.start..name.span.end].bytes().all(is_word);
        let is_field = is_name && self.text[colon.start..].starts_with(':');
        let open = item.group.filter(|open| is_field && self.text[*open..].starts_with('('))?;
        let mut inside = self.tokens[self.token(open + 1)..].iter();
        let first = inside.find(|token| !self.is_blank(token.span))?.span;
        let what = format!("{} cannot stand here", shown(&self.text[first.start..first.end]));
        (first.start < item.span.start).then(|| problem(first, &what, NAMED))
    }

    /// Takes out the item around a problem, and tells the problem unless it is a consequence.
    fn spoil(&mut self, problem: Problem, problems: &mut Problems) {
        let mut item = self.item(problem.span.start);
        let emptied =
            self.is_blank(item.span) && item.group.is_some_and(|open| problems.spoiled.contains(&open));
        if !emptied && !self.told.contains(&item.span.start) {
            self.told.push(item.span.start);
            problems.list.push(problem);
        }
        problems.spoiled.extend(item.group);
        // Where nothing is left to be taken out, it is the group around it that cannot be so.
        while let Some(open) = item.group
            && self.is_blank(item.span)
        {
            item = self.item(open);
            problems.spoiled.extend(item.group);
        }
        self.blank(item.span);
    }

    fn is_blank(&self, span: Span) -> bool {
        self.text[span.start..span.end].trim_ascii().is_empty()
    }

    fn blank(&mut self, span: Span) {
        self.text.replace_range(span.start..span.end, &" ".repeat(span.end - span.start));
    }
}

/// What the parser objects to, in words that help.
fn explain(text: &str, span: Span, kind: &ErrorKind) -> Problem {
    let piece = shown(&text[span.start..span.end]);
    let expected = match kind {
        ErrorKind::Expected { expected, .. } => expected,
        ErrorKind::InvalidEscape(_) => {
            let hint = r#"write `\\` for a backslash, `\"` for a quote, `\n` for a new line"#;
            return problem(span, &format!("the escape {piece} is not known"), hint);
        }
        _ => "",
    };
    let before = text[..span.start].trim_end().chars().next_back().unwrap_or_default();
    let here = text[span.start..].chars().next().unwrap_or_default();
    let (what, hint) = match (expected, here) {
        ("closing `)`", ',') => {
            ("this `,` cannot stand here".to_owned(), "remove it: `Some` takes one value")
        }
        (_, ',' | ')' | ']') => (
            format!("a value is missing before this `{here}`"),
            "write a value, or remove what is left of it",
        ),
        ("value", _) => ("a value is missing here".to_owned(), NAMED),
        ("`:` after map key", _) => (format!("a `:` is missing after {piece}"), NAMED),
        ("`Some` or `None`", _) => {
            ("`Some` is without its value".to_owned(), "write `Some(value)`, or the value by itself")
        }
        _ => {
            let hint = match here {
                ':' | '=' => NAMED,
                '.' => "a number has a digit on both sides of its point, as in `0.5`",
                ';' => "put a comma between two items",
                _ if expected == "identifier" => NAMED,
                'a'..='z' | 'A'..='Z' if before.is_ascii_digit() => {
                    "write a number without its unit, and a comma between two items"
                }
                _ if before.is_ascii_alphabetic() => {
                    "put double quotes around text, and `:` after a field's name"
                }
                '"' | '(' | '[' | '0'..='9' | 'a'..='z' | 'A'..='Z' => "put a comma between two items",
                _ => "remove it, or put text in double quotes",
            };
            (format!("{piece} cannot stand here"), hint)
        }
    };
    problem(span, &what, hint)
}
