//! A connector: its halves side by side, what can be done to a cavity, and the parts that hang on it.

use std::sync::Arc;

use bevy_egui::egui::{self, ComboBox, RichText, vec2};
use probeworthy::bench::{Action, Place as Treated, Repair, price};
use probeworthy::say;
use probeworthy::vehicle::{ConnectorId, End, Half, Mate, PartId, PartKind, Vehicle, Zone};
use probeworthy::words::lid_word;

use super::common::{act, leads_off, obstacle};
use super::face::{self, face};
use super::latch;
use super::screen;
use super::vehicle::heat_and_cold;
use crate::game::bay::{Bay, Hand};
use crate::game::hand_tools::HandTool;
use crate::game::scenery::Palette;
use crate::game::theme::SMALL;

/// What the rows of buttons on its card want, in points.
pub(super) const LEAST_WIDTH: f32 = 470.0;

/// How wide its card is where it has room, in points: two halves side by side, plugged together or not, so that nothing moves
/// under the pointer.
pub(super) fn width(bay: &Bay, id: ConnectorId) -> f32 {
    /// Between the halves, and for a scroll bar.
    const BETWEEN: f32 = 20.0;
    (2.0 * face::size(bay.vehicle(), id).x + BETWEEN).max(LEAST_WIDTH)
}

/// Whether the wires of its mate pass the lid: those of a trailer's plug do not.
fn leads_onto_the_lid(vehicle: &Vehicle, id: ConnectorId) -> bool {
    let is_mate = |end: End| matches!(end, End::Cavity(of, Half::Mate, _) if of == id);
    let wires = vehicle.conductors.iter().filter(|wire| is_mate(wire.from) || is_mate(wire.to));
    let mut stations = wires.flat_map(|wire| wire.runs.iter().filter_map(|run| run.station));
    stations.any(|station| vehicle.station(station).reach.zone == Zone::Lid)
}

/// Whether any wire ends in it: there is none at a switch that only tells whether the engine runs.
fn has_wires(vehicle: &Vehicle, id: ConnectorId) -> bool {
    let ends_here = |end: End| matches!(end, End::Cavity(of, ..) if of == id);
    vehicle.conductors.iter().any(|wire| ends_here(wire.from) || ends_here(wire.to))
}

/// What the name of a half above its face takes, in points.
const HALF_NAME: f32 = 24.0;

/// A card that has less height for its contents shows its faces first, in points.
const LOW: f32 = 330.0;

/// The ways to part the halves or put them together and to look at them, and how they stand.
fn plugging(ui: &mut egui::Ui, bay: &mut Bay, id: ConnectorId, mated: bool) {
    let t = bay.texts;
    ui.horizontal_wrapped(|ui| {
        let label = if mated { t.say("connector-unplug") } else { t.say("connector-plug") };
        act(ui, bay, label, Action::Plug(id, !mated));
        act(ui, bay, t.say("connector-look"), Action::LookAt(id));
    });
    let stands = if mated { t.say("connector-mated") } else { t.say("connector-open") };
    ui.label(RichText::new(stands).size(SMALL));
}

pub(super) fn card(ui: &mut egui::Ui, bay: &mut Bay, id: ConnectorId, text_percent: u16, palette: &Palette) {
    let t = bay.texts;
    let scenario = Arc::clone(bay.shown());
    let vehicle = &scenario.vehicle;
    let connector = vehicle.connector(id);
    let Some(mated) = bay.job.as_ref().map(|job| job.scene().mated()[id.index()]) else { return };
    let blocked = obstacle(ui, bay, connector.reach);
    // A screen is what its tabs are looked at for: its glass comes first.
    for (id, part) in vehicle.parts().filter(|(_, part)| part.connector == id) {
        if let PartKind::Screen(lines) = part.kind {
            screen::lines(ui, bay, id, lines, palette);
            ui.separator();
        }
    }
    let wired = has_wires(vehicle, id);
    if !wired {
        ui.label(t.say("connector-no-wires"));
    }
    if !blocked && wired {
        // Where there is little room the faces come first.
        let low = ui.clip_rect().height() < LOW;
        if !low {
            plugging(ui, bay, id, mated);
        }
        let on_lid = say!(t, "connector-lid-half", lid = lid_word(t, vehicle));
        let halves: &[(Half, &str)] = match (connector.mate, mated) {
            (Mate::Loom, _) if leads_onto_the_lid(vehicle, id) => {
                &[(Half::Loom, t.say("connector-body-half")), (Half::Mate, &on_lid)]
            }
            (Mate::Loom, _) => {
                &[(Half::Loom, t.title(&connector.title)), (Half::Mate, t.title(&connector.mate_title))]
            }
            (Mate::Pins, true) => &[(Half::Loom, t.say("connector-loom-half"))],
            (Mate::Pins, false) => {
                &[(Half::Loom, t.say("connector-loom-half")), (Half::Mate, t.say("connector-own-pins"))]
            }
        };
        // Side by side, so that a wire and its going on lie on one level; below each other where they have no room. A face is as
        // small as it has to be to be seen whole, within limits.
        let (all, count) = (ui.available_width(), halves.len() as f32);
        let gaps = ui.spacing().item_spacing.x * (count - 1.0);
        let high = ui.clip_rect().height() - HALF_NAME;
        let share_in = |wide: f32| face::share(vehicle, id, vec2(wide, high), text_percent);
        let beside = share_in((all - gaps) / count);
        // Halves that are as wide as their room fit it, however the sum is rounded.
        let fits = face::size(vehicle, id).x * beside * count + gaps <= all + 0.5;
        let share = if fits { beside } else { share_in(all) };
        let side = if fits {
            egui::Layout::left_to_right(egui::Align::Min)
        } else {
            egui::Layout::top_down(egui::Align::Min)
        };
        ui.with_layout(side, |ui| {
            for (half, name) in halves {
                ui.vertical(|ui| {
                    ui.label(RichText::new(*name).size(SMALL).weak());
                    face(ui, bay, vehicle, (id, *half), share, palette);
                });
            }
        });
        face::scale(ui, bay, share, halves.len() > 1, palette);
        leads_off(ui, bay);
        if low {
            plugging(ui, bay, id, mated);
        }
        if let Some((_, cavity)) = bay.draft.cavity.filter(|(of, _)| *of == id) {
            ui.horizontal_wrapped(|ui| {
                ui.label(say!(t, "connector-cavity-title", cavity = cavity));
                act(ui, bay, t.say("connector-tug"), Action::Tug(id, cavity));
                let renew = Action::Repair(Repair::Terminal(id, cavity));
                let label = say!(t, "connector-terminal", price = price(vehicle, &renew));
                act(ui, bay, &label, renew);
                let mut others = (1..=connector.cavities).filter(|other| *other != cavity);
                let first = others.next().unwrap_or(cavity);
                let kept = Some(bay.draft.swap_with).filter(|with| others.any(|other| other == *with));
                let mut other = kept.unwrap_or(first);
                ComboBox::from_id_salt("other cavity")
                    .selected_text(say!(t, "connector-with", cavity = other))
                    .width(70.0)
                    .show_ui(ui, |ui| {
                        for n in (1..=connector.cavities).filter(|n| *n != cavity) {
                            ui.selectable_value(&mut other, n, say!(t, "connector-with", cavity = n));
                        }
                    });
                bay.draft.swap_with = other;
                act(
                    ui,
                    bay,
                    t.say("connector-swap"),
                    Action::Repair(Repair::SwapCavities(id, cavity, other)),
                );
            });
        } else {
            let said = match bay.hand {
                Hand::Tool(HandTool::Repair | HandTool::Cleaner) => "connector-which-cavity",
                _ => "connector-touch-cavity",
            };
            ui.label(RichText::new(t.say(said)).size(SMALL));
        }
    }
    if wired {
        heat_and_cold(ui, bay, Treated::Connector(id));
    }
    let parts: Vec<(PartId, String, u32, f64)> = vehicle
        .parts()
        .filter(|(_, part)| part.connector == id)
        .map(|(part, file)| (part, t.title(&file.title).to_owned(), file.price, file.fit_minutes))
        .collect();
    if !parts.is_empty() {
        ui.separator();
    }
    for (part, title, price, minutes) in parts {
        ui.horizontal_wrapped(|ui| {
            act(
                ui,
                bay,
                &say!(t, "part-fit", part = title, price = price, minutes = minutes),
                Action::Repair(Repair::Part(part)),
            );
            if matches!(vehicle.part(part).kind, PartKind::Module(_)) {
                act(ui, bay, t.say("part-read-memory"), Action::ReadMemory(part));
                act(ui, bay, t.say("part-clear-memory"), Action::ClearMemory(part));
            }
            act(ui, bay, t.say("part-tap"), Action::Tap(part));
        });
        if let PartKind::Latch(_) = vehicle.part(part).kind {
            latch::latch(ui, bay, palette);
        }
    }
}
