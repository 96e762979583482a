//! The diagram as it is painted: in ink, with the wires in their colours, and with what the learner has marked and chosen.

use std::collections::BTreeMap;

use bevy_egui::egui::{self, Align2, Color32, FontId, Painter, Pos2, Rect, Stroke as Pen, Vec2, vec2};
use probeworthy::bench::Marking;
use probeworthy::diagram::{Diagram, Spot, Stroke, SymbolKind, Thing, Tone};
use probeworthy::vehicle::{ConductorId, Vehicle};

use crate::game::scenery::Palette;
use crate::game::theme::{colour, whole_pixels};

/// How the diagram lies on the screen.
pub(super) struct Lie {
    pub(super) rect: Rect,
    pub(super) zoom: f32,
    pub(super) corner: Vec2,
}

impl Lie {
    pub(super) fn at(&self, spot: Spot) -> Pos2 {
        #[expect(clippy::cast_possible_truncation, reason = "units of a page")]
        let spot = vec2(spot.x as f32, spot.y as f32);
        self.rect.min + (spot - self.corner) * self.zoom
    }

    pub(super) fn unit(&self, at: Pos2) -> Vec2 {
        (at - self.rect.min) / self.zoom + self.corner
    }

    fn line(&self, points: &[Spot]) -> Vec<Pos2> {
        points.iter().map(|spot| self.at(*spot)).collect()
    }
}

/// What is shown of the learner's doing.
pub(super) struct Shown<'a> {
    pub(super) marks: &'a BTreeMap<Thing, Marking>,
    pub(super) chosen: Option<Thing>,
    pub(super) under: Option<Thing>,
}

/// What the diagram is written with.
struct Inks {
    /// Lines and letters.
    plain: Color32,
    /// What is less than those.
    faint: Color32,
}

/// Paints all of it.
pub(super) fn paint(
    painter: &Painter,
    vehicle: &Vehicle,
    drawn: &Diagram,
    lie: &Lie,
    palette: &Palette,
    shown: &Shown<'_>,
) {
    let ink = Inks { plain: colour(palette, "diagram-ink"), faint: colour(palette, "diagram-faint") };
    let (boxes, others): (Vec<_>, Vec<_>) =
        drawn.symbols.iter().partition(|symbol| matches!(symbol.kind, SymbolKind::Box | SymbolKind::Outline));
    for symbol in boxes {
        symbol.strokes.iter().for_each(|one| stroke(painter, lie, one, 1.0, ink.faint));
    }
    for wire in &drawn.wires {
        let thing = Thing::Conductor(wire.conductor);
        let line = lie.line(&wire.points);
        halo(painter, &line, thing, shown, palette);
        sheath(painter, &line, vehicle, wire.conductor, lie.zoom, palette);
        if let Some(mark) = shown.marks.get(&thing) {
            let middle = line.windows(2).max_by(|a, b| {
                let length = |pair: &[Pos2]| pair[0].distance(pair[1]);
                length(a).total_cmp(&length(b))
            });
            if let Some([from, to]) = middle {
                hand_mark(painter, *from + (*to - *from) / 2.0, *mark, palette);
            }
        }
    }
    for join in &drawn.joins {
        painter.line(lie.line(&join.points), Pen::new((1.8 * lie.zoom).max(1.0), ink.plain));
    }
    for symbol in others {
        ring(
            painter,
            lie,
            symbol.thing,
            symbol.frame.left..symbol.frame.right,
            symbol.frame.top..symbol.frame.bottom,
            shown,
            palette,
        );
        symbol.strokes.iter().for_each(|one| stroke(painter, lie, one, 1.1, ink.plain));
        if let Some(mark) = shown.marks.get(&symbol.thing) {
            hand_mark(painter, lie.at(Spot::new(symbol.frame.right, symbol.frame.top)), *mark, palette);
        }
    }
    for crossing in &drawn.crossings {
        let thing = Thing::Cavity(crossing.connector, crossing.cavity);
        let frame = crossing.frame();
        ring(painter, lie, thing, frame.left..frame.right, frame.top..frame.bottom, shown, palette);
        crossing.strokes.iter().for_each(|one| stroke(painter, lie, one, 1.1, ink.plain));
        if let Some(mark) = shown.marks.get(&thing) {
            hand_mark(painter, lie.at(Spot::new(frame.right, frame.top)), *mark, palette);
        }
    }
    drawn.ticks.iter().for_each(|(_, one)| stroke(painter, lie, one, 0.9, ink.plain));
    for label in &drawn.labels {
        #[expect(clippy::cast_possible_truncation, reason = "a size in points")]
        let size = label.size as f32 * lie.zoom;
        // Below this no letter can be told from another.
        if size < 4.0 {
            continue;
        }
        let size = whole_pixels(painter, size);
        let ink = if label.tone == Tone::Name { ink.faint } else { ink.plain };
        // A label stands on its base line, and letters reach a quarter of their size below it.
        let foot = lie.at(label.spot) + vec2(0.0, 0.24 * size);
        painter.text(foot, Align2::LEFT_BOTTOM, &label.text, FontId::proportional(size), ink);
    }
}

/// A conductor in its colours.
fn sheath(
    painter: &Painter,
    line: &[Pos2],
    vehicle: &Vehicle,
    conductor: ConductorId,
    zoom: f32,
    palette: &Palette,
) {
    let ink = colour(palette, "diagram-ink");
    let letters = vehicle.conductor(conductor).colour.to_string();
    let mut colours = letters.split('/').map(|one| colour(palette, &format!("wire-{one}")));
    let (base, stripe) = (colours.next().unwrap_or(ink), colours.next());
    painter.line(line.to_vec(), Pen::new((3.6 * zoom).max(2.2), ink));
    painter.line(line.to_vec(), Pen::new((2.4 * zoom).max(1.2), base));
    if let Some(stripe) = stripe {
        let dash = 5.0 * zoom.max(0.6);
        painter.extend(egui::Shape::dashed_line(line, Pen::new((2.4 * zoom).max(1.2), stripe), dash, dash));
    }
}

/// What lies behind a line that is chosen or under the pointer.
fn halo(painter: &Painter, line: &[Pos2], thing: Thing, shown: &Shown<'_>, palette: &Palette) {
    if shown.chosen == Some(thing) || shown.under == Some(thing) {
        let strength = if shown.chosen == Some(thing) { 0.9 } else { 0.45 };
        painter.line(line.to_vec(), Pen::new(9.0, colour(palette, "accent").gamma_multiply(strength)));
    }
}

/// What lies around a symbol that is chosen or under the pointer.
fn ring(
    painter: &Painter,
    lie: &Lie,
    thing: Thing,
    across: std::ops::Range<f64>,
    down: std::ops::Range<f64>,
    shown: &Shown<'_>,
    palette: &Palette,
) {
    if shown.chosen == Some(thing) || shown.under == Some(thing) {
        let strength = if shown.chosen == Some(thing) { 0.9 } else { 0.45 };
        let rect = Rect::from_min_max(
            lie.at(Spot::new(across.start, down.start)),
            lie.at(Spot::new(across.end, down.end)),
        );
        painter.rect_filled(rect.expand(4.0), 4.0, colour(palette, "accent").gamma_multiply(strength));
    }
}

/// A mark by hand: a tick on what is proven good, a question mark on what is suspect.
fn hand_mark(painter: &Painter, at: Pos2, mark: Marking, palette: &Palette) {
    let ground = colour(palette, "diagram-mark");
    match mark {
        Marking::Good => {
            let line = vec![at + vec2(-7.0, 0.0), at + vec2(-2.0, 6.0), at + vec2(8.0, -8.0)];
            painter.line(line.clone(), Pen::new(5.0, ground));
            painter.line(line, Pen::new(3.0, colour(palette, "diagram-good")));
        }
        Marking::Suspect => {
            let suspect = colour(palette, "diagram-suspect");
            painter.circle(at, 9.0, ground, Pen::new(2.0, suspect));
            painter.text(at, Align2::CENTER_CENTER, "?", FontId::proportional(15.0), suspect);
        }
    }
}

fn stroke(painter: &Painter, lie: &Lie, stroke: &Stroke, width: f32, ink: Color32) {
    let pen = Pen::new((width * lie.zoom).max(0.8), ink);
    match stroke {
        Stroke::Line(points) => {
            painter.line(lie.line(points), pen);
        }
        Stroke::Dashes(points) => {
            let dash = 3.0 * lie.zoom.max(0.6);
            painter.extend(egui::Shape::dashed_line(&lie.line(points), pen, dash, dash));
        }
        Stroke::Shape(points) => {
            painter.add(egui::Shape::convex_polygon(lie.line(points), ink, Pen::NONE));
        }
        Stroke::Circle { centre, radius, filled } => {
            #[expect(clippy::cast_possible_truncation, reason = "units of a page")]
            let radius = *radius as f32 * lie.zoom;
            if *filled {
                painter.circle_filled(lie.at(*centre), radius, ink);
            } else {
                painter.circle_stroke(lie.at(*centre), radius, pen);
            }
        }
    }
}
