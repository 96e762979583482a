//! Drawings name the colours that they are painted with, and carry beside each name what it is, so that any editor shows it.
//!
//! A shape's class names them: `fill-steel-27` for what fills it, `stroke-` and a name for its line, `stop-` for a stop of a
//! gradient. What the palette has under the name takes the place of what the attribute says, in the text, before it is read: a
//! style sheet of all names would be held against every shape, which takes longer than reading the drawing.

use std::ops::Range;

use super::palette::drawn;

/// How a class begins that names a colour, and the attribute that it is for.
const PAINTS: [(&str, &str); 3] = [("fill-", "fill"), ("stroke-", "stroke"), ("stop-", "stop-color")];

/// A drawing in the colours of the palette.
pub(super) fn coloured(drawing: &str) -> String {
    let mut coloured = String::with_capacity(drawing.len());
    let mut copied = 0;
    for tag in tags(drawing) {
        let mut values: Vec<(Range<usize>, &str)> =
            named(&drawing[tag.clone()]).filter_map(|(value, name)| Some((value, drawn(name)?))).collect();
        values.sort_by_key(|(value, _)| value.start);
        for (value, hex) in values {
            coloured.push_str(&drawing[copied..tag.start + value.start]);
            coloured.push_str(hex);
            copied = tag.start + value.end;
        }
    }
    coloured.push_str(&drawing[copied..]);
    coloured
}

/// Where each element's tag stands, without its brackets.
fn tags(drawing: &str) -> impl Iterator<Item = Range<usize>> {
    drawing.match_indices('<').filter_map(|(at, _)| {
        let tag = at + 1;
        Some(tag..tag + drawing[tag..].find('>')?)
    })
}

/// Where the value of an attribute stands in a tag.
fn value(tag: &str, attribute: &str) -> Option<Range<usize>> {
    // From the end, as the way of a line comes first and is long.
    let begin = tag.rmatch_indices(attribute).find_map(|(at, _)| {
        let rest = tag[at + attribute.len()..].strip_prefix("=\"")?;
        tag[..at].ends_with(char::is_whitespace).then_some(tag.len() - rest.len())
    })?;
    Some(begin..begin + tag[begin..].find('"')?)
}

/// The values in a tag for which its class names a colour, each with the name.
fn named(tag: &str) -> impl Iterator<Item = (Range<usize>, &str)> {
    let classes = value(tag, "class").map_or("", |classes| &tag[classes]);
    classes.split_whitespace().filter_map(move |class| {
        PAINTS
            .into_iter()
            .find_map(|(begin, attribute)| Some((value(tag, attribute)?, class.strip_prefix(begin)?)))
    })
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;
    use std::fs;
    use std::path::{Path, PathBuf};

    use super::super::catalogue::VEHICLES;
    use super::super::figure::Figure;
    use super::super::palette::{drawn, drawn_names};
    use super::*;

    /// The files of all drawings.
    fn files(folder: &Path) -> Vec<PathBuf> {
        let entries = fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").path());
        entries
            .flat_map(|path| {
                let is_drawing = path.extension().is_some_and(|ending| ending == "svg");
                if path.is_dir() { files(&path) } else { is_drawing.then_some(path).into_iter().collect() }
            })
            .collect()
    }

    fn drawings() -> Vec<(PathBuf, String)> {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("assets/drawings");
        let read = |path: PathBuf| {
            let text = fs::read_to_string(&path).expect("a drawing");
            (path, text)
        };
        files(&folder).into_iter().map(read).collect()
    }

    /// What is painted and is no colour of its own.
    fn is_no_colour(paint: &str) -> bool {
        paint == "none" || paint.starts_with("url(#")
    }

    #[test]
    fn every_colour_that_a_drawing_paints_is_named() {
        let mut wrong = Vec::new();
        let figures = VEHICLES.iter().map(|vehicle| Figure::read(vehicle.figure).expect("a figure"));
        let mut used: BTreeSet<String> =
            figures.flat_map(|figure| figure.rim.names().map(ToOwned::to_owned)).collect();
        let all = drawings();
        assert!(all.len() > 25, "{} drawings", all.len());
        for (path, text) in &all {
            for tag in tags(text).map(|tag| &text[tag]) {
                // Marks are never painted.
                if tag.starts_with(['/', '!', '?'])
                    || value(tag, "id").is_some_and(|id| tag[id].starts_with("at."))
                {
                    continue;
                }
                let names: Vec<_> = named(tag).collect();
                for (_, attribute) in PAINTS {
                    let Some(paint) = value(tag, attribute) else { continue };
                    let name = names.iter().find(|(value, _)| *value == paint).map(|(_, name)| *name);
                    let known = name.is_some_and(|name| drawn(name).is_some());
                    if !known && !is_no_colour(&tag[paint.clone()]) {
                        wrong.push(format!("{}: {attribute} {} in <{tag}>", path.display(), &tag[paint]));
                    }
                }
                // A colour that is not said is black, and one in a style is found by nobody.
                let paints = ["path", "rect", "circle", "ellipse", "line", "polyline", "polygon", "stop"];
                let element = tag.split_whitespace().next().unwrap_or_default();
                let says = if element == "stop" { "stop-color" } else { "fill" };
                if paints.contains(&element) && value(tag, says).is_none() || value(tag, "style").is_some() {
                    wrong.push(format!("{}: no {says}, or a style, in <{tag}>", path.display()));
                }
                used.extend(names.into_iter().map(|(_, name)| name.to_owned()));
            }
        }
        wrong.extend(
            drawn_names().filter(|name| !used.contains(*name)).map(|name| format!("{name} is used nowhere")),
        );
        assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    }

    #[test]
    fn drawings_carry_the_colours_that_they_name() {
        let mut drifted = Vec::new();
        for (path, text) in drawings() {
            let coloured = coloured(&text);
            if coloured == text {
                continue;
            }
            if std::env::var_os("PROBEWORTHY_BLESS").is_some() {
                fs::write(&path, coloured).expect("the drawing is written");
            } else {
                drifted.push(path.display().to_string());
            }
        }
        assert!(drifted.is_empty(), "{}\nPROBEWORTHY_BLESS=1 writes them anew", drifted.join("\n"));
    }

    #[test]
    fn the_palette_takes_the_place_of_what_a_drawing_says() {
        let name = drawn_names().next().expect("a colour");
        let hex = drawn(name).expect("it is known");
        let text = format!(
            "<g id=\"fill\"><path fill=\"#123\" class=\"stroke-{name} fill-{name}\" stroke-width=\"2\" stroke=\"#456\"/>\
             <stop class=\"stop-{name}\" stop-color=\"#789\"/><path class=\"fill-nothing\" fill=\"#abc\"/></g>"
        );
        let said = text.replace("#123", hex).replace("#456", hex).replace("#789", hex);
        assert_eq!(coloured(&text), said);
    }
}
