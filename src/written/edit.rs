//! Values changed where they stand: all that an author has written around them, comments too, stays as it is.

use ron2::ast::{StructBody, StructField, parse_document_lossy};

use super::{Expr, Span};

/// One step on the way to a value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step<'a> {
    /// A field of a record.
    Field(&'a str),
    /// An item of a list, from 0.
    Item(usize),
}

/// The text with a value written anew, as RON. A field that is left out is added after those that are there, with all that
/// the way to it lacks. `None` where the text cannot be read or has no such place.
#[must_use]
pub fn with_value(text: &str, way: &[Step<'_>], value: &str) -> Option<String> {
    edited(text, |whole| change(text, whole, way, value))
}

/// The text with one more item at the end of a list. `None` as for [`with_value`].
#[must_use]
pub fn with_item(text: &str, way: &[Step<'_>], item: &str) -> Option<String> {
    edited(text, |whole| {
        let Expr::Seq(list) = find(whole, way)? else { return None };
        let last = list.items.last().map(|one| (Span::of(&one.expr), one.comma.as_ref().map(Span::from)));
        Some(added(text, (&list.open_bracket).into(), last, item))
    })
}

/// The text without an item of a list. Comments stay, those on its line too. `None` as for [`with_value`].
#[must_use]
pub fn without_item(text: &str, way: &[Step<'_>], at: usize) -> Option<String> {
    edited(text, |whole| {
        let Expr::Seq(list) = find(whole, way)? else { return None };
        let item = list.items.get(at)?;
        let start = Span::of(&item.expr).start;
        let end = item.comma.as_ref().map_or(Span::of(&item.expr).end, |comma| Span::from(comma).end);
        // A line that holds nothing else goes as a whole.
        let line = text[..start].rfind('\n').map_or(0, |at| at + 1);
        let next = text[end..].find('\n').map_or(text.len(), |at| end + at + 1);
        let alone = text[line..start].trim().is_empty() && text[end..next].trim().is_empty();
        let span = if alone { Span { start: line, end: next } } else { Span { start, end } };
        Some(vec![(span, String::new())])
    })
}

/// What is written instead of what, in any order; spans do not overlap.
type Changes = Vec<(Span, String)>;

fn edited(text: &str, changes: impl FnOnce(&Expr<'_>) -> Option<Changes>) -> Option<String> {
    let (document, errors) = parse_document_lossy(text);
    if !errors.is_empty() {
        return None;
    }
    let mut changes = changes(document.value.as_ref()?)?;
    changes.sort_by_key(|(span, _)| std::cmp::Reverse(span.start));
    let mut edited = text.to_owned();
    for (span, new) in changes {
        edited.replace_range(span.start..span.end, &new);
    }
    Some(edited)
}

/// A record's opening bracket and fields.
fn fields<'e>(expr: &'e Expr<'e>) -> Option<(Span, &'e [StructField<'e>])> {
    match expr {
        Expr::AnonStruct(record) => Some(((&record.open_paren).into(), &record.fields)),
        Expr::Struct(record) => match record.body.as_ref()? {
            StructBody::Fields(body) => Some(((&body.open_brace).into(), &body.fields)),
            StructBody::Tuple(_) => None,
        },
        // `()`: its bracket is the first byte.
        Expr::Unit(unit) => {
            let start = Span::from(&unit.span).start;
            Some((Span { start, end: start + 1 }, &[]))
        }
        _ => None,
    }
}

fn find<'e>(expr: &'e Expr<'e>, way: &[Step<'_>]) -> Option<&'e Expr<'e>> {
    let Some((first, rest)) = way.split_first() else { return Some(expr) };
    let next = match (*first, expr) {
        (Step::Field(name), _) => &fields(expr)?.1.iter().find(|field| field.name.name == name)?.value,
        (Step::Item(at), Expr::Seq(list)) => &list.items.get(at)?.expr,
        (Step::Item(_), _) => return None,
    };
    find(next, rest)
}

fn change(text: &str, expr: &Expr<'_>, way: &[Step<'_>], value: &str) -> Option<Changes> {
    let Some((first, rest)) = way.split_first() else {
        return Some(vec![(Span::of(expr), value.to_owned())]);
    };
    if let Some(next) = find(expr, &[*first]) {
        return change(text, next, rest, value);
    }
    let Step::Field(name) = *first else { return None };
    let (bracket, known) = fields(expr)?;
    let last = known.last().map(|one| (Span::of(&one.value), one.comma.as_ref().map(Span::from)));
    Some(added(text, bracket, last, &format!("{name}: {}", wrapped(rest, value)?)))
}

/// A value with the records around it that are not there yet.
fn wrapped(way: &[Step<'_>], value: &str) -> Option<String> {
    match way.split_first() {
        None => Some(value.to_owned()),
        Some((Step::Field(name), rest)) => Some(format!("({name}: {})", wrapped(rest, value)?)),
        Some((Step::Item(_), _)) => None,
    }
}

/// Adds to a group of things with commas between them: below its last, where that ends a line, else behind it.
fn added(text: &str, bracket: Span, last: Option<(Span, Option<Span>)>, new: &str) -> Changes {
    let at = |place: usize, new: String| (Span { start: place, end: place }, new);
    let Some((last, comma)) = last else { return vec![at(bracket.end, new.to_owned())] };
    let after = comma.map_or(last.end, |comma| comma.end);
    let line_end = text[after..].find('\n').map(|end| after + end);
    let rest = line_end.map(|end| text[after..end].trim());
    let mut changes = Vec::new();
    if comma.is_none() {
        changes.push(at(last.end, ",".to_owned()));
    }
    match (line_end, rest) {
        (Some(end), Some(rest)) if rest.is_empty() || rest.starts_with("//") => {
            let line = text[..last.start].rfind('\n').map_or(0, |start| start + 1);
            let indent: String = text[line..].chars().take_while(|letter| " \t".contains(*letter)).collect();
            // Of a line's end in two letters the first belongs to it.
            let (end, line_end) = if text[..end].ends_with('\r') { (end - 1, "\r\n") } else { (end, "\n") };
            changes.push(at(end, format!("{line_end}{indent}{new},")));
        }
        _ => changes.push(at(after, format!(" {new}"))),
    }
    // Both at one place: they stand in the order in which they were made.
    if let [(first, comma), (second, _)] = &changes[..]
        && first.start == second.start
    {
        let both = format!("{comma}{}", changes[1].1);
        return vec![at(first.start, both)];
    }
    changes
}

#[cfg(test)]
mod tests {
    use super::*;
    use Step::{Field, Item};

    const TEXT: &str = "// head\n(\n    id: \"a\", // its name\n    marks: (time: 5),\n    faults: [\n        (is: A, weight: 1), // first\n        // between\n        (is: B, weight: 2)\n    ] // end\n)\n";

    fn set(way: &[Step<'_>], value: &str) -> String {
        with_value(TEXT, way, value).expect("a place")
    }

    #[test]
    fn a_value_is_changed_where_it_stands() {
        assert_eq!(set(&[Field("id")], "\"b\""), TEXT.replace("\"a\"", "\"b\""));
        assert_eq!(
            set(&[Field("faults"), Item(1), Field("weight")], "7"),
            TEXT.replace("weight: 2", "weight: 7")
        );
        assert_eq!(with_value(TEXT, &[Field("faults"), Item(2), Field("weight")], "7"), None);
        assert_eq!(with_value("(id: ", &[Field("id")], "1"), None);
    }

    #[test]
    fn a_field_that_was_left_out_is_added() {
        assert_eq!(set(&[Field("wet")], "true"), TEXT.replace("] // end", "], // end\n    wet: true,"));
        assert_eq!(
            set(&[Field("marks"), Field("proof")], "3"),
            TEXT.replace("(time: 5)", "(time: 5, proof: 3)")
        );
        assert_eq!(
            with_value("()", &[Field("marks"), Field("proof")], "3").as_deref(),
            Some("(marks: (proof: 3))")
        );
        assert_eq!(
            with_value("(\r\n  a: 1,\r\n)", &[Field("b")], "2").as_deref(),
            Some("(\r\n  a: 1,\r\n  b: 2,\r\n)")
        );
    }

    #[test]
    fn items_come_and_go() {
        let faults = [Field("faults")];
        assert_eq!(
            with_item(TEXT, &faults, "(is: C, weight: 3)").expect("a list"),
            TEXT.replace("(is: B, weight: 2)", "(is: B, weight: 2),\n        (is: C, weight: 3),")
        );
        assert_eq!(
            without_item(TEXT, &faults, 1).expect("a list"),
            TEXT.replace("        (is: B, weight: 2)\n", "")
        );
        assert_eq!(
            without_item(TEXT, &faults, 0).expect("a list"),
            TEXT.replace("(is: A, weight: 1), // first", " // first")
        );
        assert_eq!(with_item("(a: [])", &[Field("a")], "1").as_deref(), Some("(a: [1])"));
    }
}
