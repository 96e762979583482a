//! A connector's face as it is drawn, to one scale: its housing, its cavities, their wires, and terminals as they looked when they
//! were looked at.

mod cavities;
mod drawn;
mod plan;

use std::collections::BTreeMap;

use bevy_egui::egui::{
    self, Align2, Color32, FontFamily, FontId, Id, RichText, Sense, Stroke, WidgetInfo, WidgetType, pos2,
    vec2,
};
use probeworthy::bench::{Action, Repair, Seen, TerminalLook};
use probeworthy::job::Job;
use probeworthy::say;
use probeworthy::vehicle::{ConnectorId, Half, Mate, Point, Vehicle, Zone};
use probeworthy::words;

use super::common::{mark, marks_on};
use super::known::known;
use crate::game::bay::Bay;
use crate::game::scenery::Palette;
use crate::game::theme::{SMALL, colour, whole_pixels};
use drawn::{Brush, Kind};
use plan::{Cavity, LINE, Plan};

/// What a connector's face takes, in points.
pub(super) fn size(vehicle: &Vehicle, id: ConnectorId) -> egui::Vec2 {
    Plan::of(vehicle, id, Half::Loom).size
}

/// The share of its usual size at which a connector's face fits this room. Its letters are hardly smaller than they are where
/// text is not enlarged: a little to fit its width, and no smaller for its height, as what is too high scrolls.
pub(super) fn share(vehicle: &Vehicle, id: ConnectorId, room: egui::Vec2, text_percent: u16) -> f32 {
    /// Of the usual, at which letters can still be read.
    const LEAST: f32 = 0.8;
    let plan = Plan::of(vehicle, id, Half::Loom);
    let usual = 100.0 / f32::from(text_percent);
    let across = plan.clone().fitted(vec2(room.x, f32::INFINITY), usual.min(LEAST)).share;
    across.min(plan.fitted(vec2(f32::INFINITY, room.y), usual).share)
}

/// How long 5 mm is on faces of this share of the usual size, and from where they are seen: both halves, or the one there is.
pub(super) fn scale(ui: &mut egui::Ui, bay: &Bay, share: f32, both: bool, palette: &Palette) {
    ui.horizontal_wrapped(|ui| {
        let long = drawn::five_millimetres(share);
        let (rect, _) = ui.allocate_exact_size(vec2(long + 4.0, 16.0), Sense::hover());
        drawn::bar(ui.painter(), rect.left_center() + vec2(2.0, 0.0), long, palette);
        let words = if both { "connector-scale" } else { "connector-scale-one" };
        ui.label(RichText::new(bay.texts.say(words)).size(SMALL));
    });
}

/// A connector's face, seen into its mating side: its cavities, numbered, with the wire's colour and letters and what touches
/// them.
pub(super) fn face(
    ui: &mut egui::Ui,
    bay: &mut Bay,
    vehicle: &Vehicle,
    (id, half): (ConnectorId, Half),
    share: f32,
    palette: &Palette,
) {
    let t = bay.texts;
    let connector = vehicle.connector(id);
    let plan = Plan::of(vehicle, id, half).fitted(egui::Vec2::ZERO, share);
    let (outer, _) = ui.allocate_exact_size(plan.size, Sense::hover());
    let painter = ui.painter().clone();
    // Pins are on the side that is not fed, so that nothing live stands bare when the halves are apart.
    let kind =
        Kind { pins: half == Half::Mate, wet: matches!(connector.reach.zone, Zone::Lid | Zone::Outside) };
    let brush = Brush { painter: &painter, palette, kind, share: plan.share };
    let shift = outer.min.to_vec2();
    for body in &plan.bodies {
        brush.body(&body.moved(shift));
    }
    let close_look = known(ui.ctx(), bay, ("terminals", id), |job| looked_at(job, id));
    let mut touched = None;
    for (cavity, place) in (1..).zip(&plan.cavities) {
        let place = place.moved(shift);
        let point = Point::Cavity(id, half, cavity);
        let wire = vehicle.conductor_in(id, half, cavity);
        let own_pin = half == Half::Mate && connector.mate == Mate::Pins;
        let label = match wire {
            Some(wire) => {
                let wire = words::conductor_title(t, vehicle, wire);
                say!(t, "connector-cavity", cavity = cavity, wire = wire)
            }
            None if own_pin => say!(t, "connector-pin", cavity = cavity),
            None => say!(t, "connector-empty", cavity = cavity),
        };
        // What is drawn on it, in words.
        let marks = marks_on(bay, point);
        let looks: Vec<TerminalLook> = close_look
            .get(&cavity)
            .into_iter()
            .flatten()
            .copied()
            .filter(|look| shows(half, *look))
            .collect();
        let on_it = marks.iter().map(|mark| mark.here.to_owned());
        let seen = looks.iter().map(|look| match look {
            TerminalLook::Bent => t.say("connector-pin-bent").to_owned(),
            look => words::terminal_look(t, *look).to_owned(),
        });
        let label = on_it
            .chain(seen)
            .fold(label, |so_far, more| say!(t, "connector-cavity-more", cavity = so_far, more = more));
        let response =
            ui.interact(place.cell, Id::new(("cavity", id, half == Half::Loom, cavity)), Sense::click());
        response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, &label));
        brush.hole(&place);
        let letters = wire.map(|wire| vehicle.conductor(wire).colour.clone());
        if let Some(letters) = &letters {
            brush.ring(&place, letters);
            if kind.wet {
                brush.seal(&place, looks.contains(&TerminalLook::Corroded));
            }
        }
        if letters.is_some() || own_pin {
            brush.metal(&place, &looks);
        }
        if response.hovered() || response.has_focus() || bay.draft.cavity == Some((id, cavity)) {
            let line =
                if response.has_focus() { colour(palette, "focus") } else { colour(palette, "accent") };
            painter.rect_stroke(
                place.opening.expand(4.0),
                7.0,
                Stroke::new(2.0, line),
                egui::StrokeKind::Inside,
            );
        }
        caption(&painter, &place, (cavity, letters.as_deref()), (plan.narrow, plan.share), palette);
        for (at, on_it) in marks.into_iter().enumerate() {
            mark(&painter, palette, place.cell.left_top() + vec2(2.0, 2.0 + 20.0 * at as f32), on_it);
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

/// A cavity's number and its wire's letters, with a line to their cavity where they stand beside the housing.
fn caption(
    painter: &egui::Painter,
    place: &Cavity,
    (cavity, letters): (u8, Option<&str>),
    (narrow, share): (bool, f32),
    palette: &Palette,
) {
    let number = match place.terminal {
        Some(terminal) => format!("{cavity} ({terminal})"),
        None => cavity.to_string(),
    };
    let colours = letters.map(|letters| {
        if narrow && letters.contains('/') { letters.replace('/', "\n") } else { letters.to_owned() }
    });
    let text = match &colours {
        Some(letters) => format!("{number}\n{letters}"),
        None => number,
    };
    let label = place.label;
    // Beside the housing next to it, however many lines it has.
    let above = label.center().y < place.opening.center().y;
    let aside = (label.center().x - place.opening.center().x).abs() > place.opening.width();
    let (at, align) = match (above, aside) {
        (true, false) => (label.center_bottom(), Align2::CENTER_BOTTOM),
        (false, false) => (label.center_top(), Align2::CENTER_TOP),
        (_, true) => (label.center(), Align2::CENTER_CENTER),
    };
    let ink = if place.inside { "housing-text" } else { "card-text" };
    let galley = {
        let font = FontId::new(whole_pixels(painter, SMALL * share), FontFamily::Proportional);
        let mut job = egui::text::LayoutJob::simple(text, font, colour(palette, ink), f32::INFINITY);
        job.halign = egui::Align::Center;
        job.sections.iter_mut().for_each(|section| section.format.line_height = Some(LINE * share));
        painter.layout_job(job)
    };
    let rect = align.anchor_size(at, galley.size());
    painter.galley(pos2(rect.center().x, rect.top()), galley, Color32::PLACEHOLDER);
    if !place.inside {
        let thin = Stroke::new(1.0, colour(palette, "face-leader"));
        let end = label.clamp(place.opening.center());
        let way = place.opening.center() - end;
        let from_opening = if aside || way.y.abs() < 1.0 {
            place.opening.width() / 2.0 / way.length().max(1.0)
        } else {
            place.opening.height() / 2.0 / way.y.abs()
        };
        painter.line_segment([end, place.opening.center() - way * (from_opening + 0.02).min(1.0)], thin);
    }
}

/// Whether a half shows that look of a contact: the pins are the other half's, all else is the loom's.
fn shows(half: Half, look: TerminalLook) -> bool {
    (half == Half::Mate) == (look == TerminalLook::Bent)
}

/// What the last close look at a connector showed of its terminals, and what has been mended since left out.
fn looked_at(job: &Job, id: ConnectorId) -> BTreeMap<u8, Vec<TerminalLook>> {
    let mut known = BTreeMap::<u8, Vec<TerminalLook>>::new();
    for step in job.log().iter().filter(|step| step.outcome.refused.is_none()) {
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
                // The terminals change places with what was seen of them, the pins opposite stay.
                let looks = [(one, other), (other, one)].map(|(from, to)| (from, to, known.remove(&from)));
                for (from, to, looks) in looks {
                    for look in looks.into_iter().flatten().filter(|look| *look != TerminalLook::WrongColour)
                    {
                        let at = if shows(Half::Mate, look) { from } else { to };
                        known.entry(at).or_default().push(look);
                    }
                }
            }
            _ => {}
        }
    }
    known
}
