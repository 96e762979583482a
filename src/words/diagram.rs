//! The wiring diagram as a page that needs nothing else: an SVG file with real text.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::sync::LazyLock;

use serde::Deserialize;

use super::html::escaped;
use crate::diagram::{Diagram, Label, Names, Spot, Stroke, SymbolKind, Tone, Wire};
use crate::vehicle::Vehicle;
use crate::words::{Language, Texts};

const STYLE: &str = "text{font-family:Arial,Helvetica,'Liberation Sans','DejaVu Sans',sans-serif;fill:#1d2126}\
.name{fill:#5a626b}.wire{font-weight:bold}.heading{font-weight:bold}\
path,circle{fill:none;stroke:#1d2126;stroke-width:1.1;stroke-linecap:round;stroke-linejoin:round}\
.f{fill:#1d2126;stroke:none}.join{stroke-width:1.8}.rail{stroke-width:2.6}.dash{stroke-dasharray:3 2.4;stroke-width:.8}\
.outline{stroke:#7b848d;stroke-width:.9;stroke-dasharray:5 3}.box{fill:#fff;stroke-width:1.3}\
.tick{stroke-width:.9}.sheath{stroke:#23282d;stroke-width:3.6;stroke-linecap:butt}\
.core{stroke-width:2.4;stroke-linecap:butt}.tracer{stroke-dasharray:5 5}";

/// What of the palette's file is used here.
#[derive(Deserialize)]
struct Palette {
    /// Every colour that the program's code chooses, by name.
    code: BTreeMap<String, String>,
}

static PALETTE: LazyLock<Palette> = LazyLock::new(|| {
    ron::from_str(include_str!("../../assets/palette.ron"))
        .expect("tests/shelf/diagram.rs reads every colour of it")
});

/// The colour of a sheath, by the letters of IEC 60757.
fn colour(letters: &str) -> &'static str {
    PALETTE.code.get(&format!("wire-{letters}")).map_or("black", String::as_str)
}

/// The colours of a conductor: its ground, and its tracer if it has one.
fn colours(letters: &str) -> (&'static str, Option<&'static str>) {
    let mut parts = letters.split('/');
    let ground = parts.next().unwrap_or_default();
    match parts.next() {
        Some(tracer) => (colour(ground), Some(colour(tracer))),
        None if ground == "GNYE" => (colour("GN"), Some(colour("YE"))),
        None => (colour(ground), None),
    }
}

/// The diagram's own words.
#[must_use]
pub fn diagram_names(t: Texts) -> Names {
    let titles_in = (t.language() != Language::English).then(|| t.language().tag());
    Names {
        titles_in,
        battery: t.say("component-battery"),
        supply: t.say("drawn-supply"),
        ground: t.say("drawn-ground"),
        feed: t.say("drawn-feed"),
        common: t.say("drawn-common"),
        coil: t.say("drawn-coil"),
        contact: t.say("drawn-contact"),
        drive: t.say("drawn-drive"),
        ajar: t.say("drawn-ajar"),
        claw_home: t.say("drawn-claw-home"),
    }
}

/// The diagram of a vehicle as an SVG file.
#[must_use]
pub fn diagram_svg(vehicle: &Vehicle, diagram: &Diagram) -> String {
    let (width, height) = (diagram.width, diagram.height);
    let title = escaped(&diagram.title);
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width} {height}\" width=\"{width}\" \
         height=\"{height}\">\n<title>{title}: wiring diagram</title>\n<style>{STYLE}</style>\n\
         <rect width=\"100%\" height=\"100%\" fill=\"#fbfaf5\"/>\n"
    );
    let mut put = |line: String| {
        svg.push_str(&line);
        svg.push('\n');
    };
    for symbol in diagram.symbols.iter().filter(|symbol| symbol.kind == SymbolKind::Box) {
        symbol.strokes.iter().for_each(|stroke| put(stroke_svg(stroke, "box", "box")));
    }
    for symbol in diagram.symbols.iter().filter(|symbol| symbol.kind == SymbolKind::Outline) {
        symbol.strokes.iter().for_each(|stroke| put(stroke_svg(stroke, "outline", "outline")));
    }
    for wire in &diagram.wires {
        put(wire_svg(vehicle, wire));
    }
    for join in &diagram.joins {
        let class = if join.thing == crate::diagram::Thing::Battery { "rail" } else { "join" };
        put(format!("<path class=\"{class}\" d=\"{}\"/>", path(&join.points)));
    }
    for symbol in &diagram.symbols {
        if !matches!(symbol.kind, SymbolKind::Box | SymbolKind::Outline) {
            symbol.strokes.iter().for_each(|stroke| put(stroke_svg(stroke, "s", "dash")));
        }
    }
    for crossing in &diagram.crossings {
        crossing.strokes.iter().for_each(|stroke| put(stroke_svg(stroke, "s", "dash")));
    }
    diagram.ticks.iter().for_each(|(_, stroke)| put(stroke_svg(stroke, "tick", "dash")));
    diagram.labels.iter().for_each(|label| put(label_svg(label)));
    svg.push_str("</svg>\n");
    svg
}

fn path(points: &[Spot]) -> String {
    let mut path = String::new();
    for (at, point) in points.iter().enumerate() {
        let _ = write!(path, "{}{} {}", if at == 0 { "M" } else { "L" }, point.x, point.y);
    }
    path
}

fn wire_svg(vehicle: &Vehicle, wire: &Wire) -> String {
    let conductor = vehicle.conductor(wire.conductor);
    let (ground, tracer) = colours(&conductor.colour);
    let path = path(&wire.points);
    let title = escaped(conductor.title.written());
    let tracer = tracer.map_or_else(String::new, |tracer| {
        format!("<path class=\"core tracer\" stroke=\"{tracer}\" style=\"stroke:{tracer}\" d=\"{path}\"/>")
    });
    format!(
        "<g><title>{title}</title><path class=\"sheath\" d=\"{path}\"/>\
         <path class=\"core\" style=\"stroke:{ground}\" d=\"{path}\"/>{tracer}</g>"
    )
}

fn stroke_svg(stroke: &Stroke, class: &str, dashed: &str) -> String {
    match stroke {
        Stroke::Line(points) => format!("<path class=\"{class}\" d=\"{}\"/>", path(points)),
        Stroke::Dashes(points) => format!("<path class=\"{dashed}\" d=\"{}\"/>", path(points)),
        Stroke::Shape(points) => format!("<path class=\"f\" d=\"{}Z\"/>", path(points)),
        Stroke::Circle { centre, radius, filled } => format!(
            "<circle class=\"{}\" cx=\"{}\" cy=\"{}\" r=\"{radius}\"/>",
            if *filled { "f" } else { class },
            centre.x,
            centre.y
        ),
    }
}

fn label_svg(label: &Label) -> String {
    let class = match label.tone {
        Tone::Title => "title",
        Tone::Name => "name",
        Tone::Wire => "wire",
        Tone::Heading => "heading",
    };
    format!(
        "<text class=\"{class}\" x=\"{}\" y=\"{}\" font-size=\"{}\">{}</text>",
        label.spot.x,
        label.spot.y,
        label.size,
        escaped(&label.text)
    )
}
