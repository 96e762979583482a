//! A connector's face as it is drawn: cavities, wires, and terminals as they looked when they were looked at.

use std::collections::BTreeMap;

use bevy_egui::egui::{
    self, Align2, FontFamily, FontId, Id, Pos2, Rect, Sense, Stroke, WidgetInfo, WidgetType, pos2, vec2,
};
use probeworthy::bench::{Action, Repair, Seen, TerminalLook};
use probeworthy::say;
use probeworthy::vehicle::{ConnectorId, Half, Mate, Point, Vehicle};
use probeworthy::words;

use super::common::{mark, marks_on};
use crate::game::bay::Bay;
use crate::game::scenery::Palette;
use crate::game::theme::{SMALL, colour};

/// Width of a cavity, and between two of them, in points.
const CELL: f32 = 56.0;
const GAP: f32 = 8.0;

/// How many cavities lie side by side: more than four lie in two rows, more than ten in rows of five.
fn columns(cavities: u8) -> u8 {
    if cavities > 4 { cavities.div_ceil(2).min(5) } else { cavities }
}

/// What a face of so many cavities takes, in points.
pub(super) fn size(cavities: u8) -> egui::Vec2 {
    let rows = cavities.div_ceil(columns(cavities));
    vec2(f32::from(columns(cavities)) * (CELL + GAP) + GAP, f32::from(rows) * (CELL + 20.0 + GAP) + GAP)
}

/// A connector's face: its cavities in rows, numbered, with the wire's colour and letters and what touches it.
pub(super) fn face(
    ui: &mut egui::Ui,
    bay: &mut Bay,
    vehicle: &Vehicle,
    id: ConnectorId,
    half: Half,
    palette: &Palette,
) {
    let t = bay.texts;
    let cavities = vehicle.connector(id).cavities;
    let columns = columns(cavities);
    let (outer, _) = ui.allocate_exact_size(size(cavities), Sense::hover());
    ui.painter().rect(
        outer,
        10.0,
        colour(palette, "housing"),
        Stroke::new(2.0, colour(palette, "card-edge")),
        egui::StrokeKind::Inside,
    );
    let close_look = looked_at(bay, id);
    let mut touched = None;
    for n in 0..cavities {
        let (column, row) = (n % columns, n / columns);
        let corner = outer.min
            + vec2(GAP + f32::from(column) * (CELL + GAP), GAP + f32::from(row) * (CELL + 20.0 + GAP));
        let cell = Rect::from_min_size(corner, vec2(CELL, CELL));
        let cavity = n + 1;
        let point = Point::Cavity(id, half, cavity);
        let wire = vehicle.conductor_in(id, half, cavity);
        let own_pin = half == Half::Mate && vehicle.connector(id).mate == Mate::Pins;
        let label = match wire {
            Some(wire) => {
                let wire = words::conductor_title(vehicle, wire);
                say!(t, "connector-cavity", cavity = cavity, wire = wire)
            }
            None if own_pin => say!(t, "connector-pin", cavity = cavity),
            None => say!(t, "connector-empty", cavity = cavity),
        };
        // What is drawn on it, in words.
        let marks = marks_on(bay, point);
        let looks = if half == Half::Loom { close_look.get(&cavity) } else { None };
        let on_it = marks.iter().map(|(name, _)| say!(t, "point-has", what = *name));
        let seen = looks.into_iter().flatten().map(|look| words::terminal_look(t, *look).to_owned());
        let label = on_it
            .chain(seen)
            .fold(label, |so_far, more| say!(t, "connector-cavity-more", cavity = so_far, more = more));
        let response = ui.interact(cell, Id::new(("cavity", id, half == Half::Loom, cavity)), Sense::click());
        response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, &label));
        let painter = ui.painter();
        painter.rect_filled(cell, 6.0, colour(palette, "cavity"));
        let letters = wire.map(|wire| vehicle.conductor(wire).colour.clone());
        if let Some(letters) = &letters {
            let mut parts = letters.split('/');
            let ring = colour(palette, &format!("wire-{}", parts.next().unwrap_or("BK")));
            painter.rect_stroke(cell.shrink(2.0), 5.0, Stroke::new(4.0, ring), egui::StrokeKind::Inside);
            if let Some(stripe) = parts.next() {
                let stripe = colour(palette, &format!("wire-{stripe}"));
                painter.rect_stroke(
                    cell.shrink(4.0),
                    4.0,
                    Stroke::new(1.5, stripe),
                    egui::StrokeKind::Inside,
                );
            }
        }
        if letters.is_some() || own_pin {
            terminal(painter, palette, cell.center(), looks.map_or(&[][..], Vec::as_slice));
        }
        if response.hovered() || response.has_focus() || bay.draft.cavity == Some((id, cavity)) {
            let line =
                if response.has_focus() { colour(palette, "focus") } else { colour(palette, "accent") };
            painter.rect_stroke(cell.expand(2.0), 7.0, Stroke::new(2.0, line), egui::StrokeKind::Inside);
        }
        let text = match &letters {
            Some(letters) => format!("{cavity} {letters}"),
            None => cavity.to_string(),
        };
        painter.text(
            pos2(cell.center().x, cell.bottom() + 2.0),
            Align2::CENTER_TOP,
            text,
            FontId::new(SMALL, FontFamily::Proportional),
            colour(palette, "housing-text"),
        );
        for (at, (name, fill)) in marks.into_iter().enumerate() {
            mark(painter, palette, cell.left_top() + vec2(4.0, 4.0 + 20.0 * at as f32), name, fill);
        }
        let dropped = bay.is_dropped_on(&response);
        if response.on_hover_text(&label).clicked() || dropped {
            touched = Some((point, cavity));
        }
    }
    if let Some((point, cavity)) = touched {
        if !bay.hand.goes_to_a_point() {
            let here = Some((id, cavity));
            bay.draft.cavity = if bay.draft.cavity == here { None } else { here };
        } else {
            bay.put_to(point);
        }
    }
}

/// What the last close look at a connector showed of its terminals, and what has been mended since left out.
fn looked_at(bay: &Bay, id: ConnectorId) -> BTreeMap<u8, Vec<TerminalLook>> {
    let mut known = BTreeMap::<u8, Vec<TerminalLook>>::new();
    let steps = bay.job.iter().flat_map(|job| job.log()).filter(|step| step.outcome.refused.is_none());
    for step in steps {
        for seen in &step.outcome.seen {
            if let Seen::Terminals(connector, mated, looks) = seen
                && *connector == id
            {
                // With the halves together only the wires are seen.
                known.retain(|_, looks| {
                    looks.retain(|look| *mated && *look != TerminalLook::WrongColour);
                    !looks.is_empty()
                });
                for (cavity, look) in looks {
                    known.entry(*cavity).or_default().push(*look);
                }
            }
        }
        match step.action {
            Action::Repair(Repair::Terminal(connector, cavity)) if connector == id => {
                known.remove(&cavity);
            }
            Action::Repair(Repair::SwapCavities(connector, one, other)) if connector == id => {
                let (first, second) = (known.remove(&one), known.remove(&other));
                known.extend(first.map(|looks| (other, looks)));
                known.extend(second.map(|looks| (one, looks)));
                for cavity in [one, other] {
                    if let Some(looks) = known.get_mut(&cavity) {
                        looks.retain(|look| *look != TerminalLook::WrongColour);
                    }
                }
            }
            _ => {}
        }
    }
    known
}

/// A terminal from its mating face, as it looked when it was looked at closely.
fn terminal(painter: &egui::Painter, palette: &Palette, centre: Pos2, looks: &[TerminalLook]) {
    let brass = colour(palette, "brass");
    let has = |look| looks.contains(&look);
    if has(TerminalLook::PushedBack) {
        // Deep in its cavity: small, dark, and a shadow round it.
        let blade = Rect::from_center_size(centre, vec2(6.0, 13.0));
        painter.rect_filled(blade, 2.0, colour(palette, "brass-deep"));
        let hole = blade.expand2(vec2(5.0, 6.0));
        let shade = Stroke::new(2.0, colour(palette, "cavity-edge"));
        painter.rect_stroke(hole, 4.0, shade, egui::StrokeKind::Inside);
    } else if has(TerminalLook::Spread) {
        for side in [-1.0, 1.0] {
            let half = [centre + vec2(side * 3.0, 10.0), centre + vec2(side * 8.0, -10.0)];
            painter.line_segment(half, Stroke::new(4.0, brass));
        }
    } else {
        painter.rect_filled(Rect::from_center_size(centre, vec2(9.0, 20.0)), 2.0, brass);
    }
    if has(TerminalLook::Corroded) {
        let green = colour(palette, "verdigris");
        for (x, y, size) in
            [(-4.0, -8.0, 3.5), (3.0, -4.0, 4.0), (-3.0, 1.0, 4.5), (4.0, 5.0, 3.0), (-2.0, 9.0, 3.5)]
        {
            painter.circle_filled(centre + vec2(x, y), size, green);
        }
    }
    if has(TerminalLook::WrongColour) {
        let font = FontId::new(SMALL, FontFamily::Proportional);
        let corner = centre + vec2(16.0, 16.0);
        painter.circle_filled(corner, 8.0, colour(palette, "wrong-wire"));
        painter.text(corner, Align2::CENTER_CENTER, "?", font, colour(palette, "mark-text"));
    }
}
