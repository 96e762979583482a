//! Places of the vehicle that are no connector: its panels, studs, bare metal, the lines of a screen.

use bevy_egui::egui;
use probeworthy::bench::{Action, Place as Treated, Repair};
use probeworthy::say;
use probeworthy::vehicle::{PanelId, PartId, Point, Reach, Screen, StudId};

use super::common::{act, obstacle, point_buttons};
use crate::game::bay::Bay;
use crate::game::theme::figure;

pub(super) fn panel(ui: &mut egui::Ui, bay: &mut Bay, id: PanelId) {
    let t = bay.texts;
    let file = bay.vehicle().panel(id).clone();
    let off = bay.is_off(id);
    if obstacle(ui, bay, Reach { zone: file.zone, panel: None }) {
        return;
    }
    if off {
        act(ui, bay, &say!(t, "panel-back", minutes = file.on_minutes), Action::Panel(id, false));
    } else {
        act(ui, bay, &say!(t, "panel-off", minutes = file.off_minutes), Action::Panel(id, true));
    }
}

pub(super) fn stud(ui: &mut egui::Ui, bay: &mut Bay, id: StudId) {
    let t = bay.texts;
    let reach = bay.vehicle().stud(id).reach;
    if obstacle(ui, bay, reach) {
        return;
    }
    act(ui, bay, t.say("stud-look"), Action::LookAtStud(id));
    act(ui, bay, t.say("stud-clean"), Action::Repair(Repair::Stud(id)));
    point_buttons(ui, bay, &[(Point::Stud(id), t.say("stud-thread"))]);
}

/// Bare metal of the body.
pub(super) fn body(ui: &mut egui::Ui, bay: &mut Bay) {
    point_buttons(ui, bay, &[(Point::Body, bay.texts.say("point-bare-metal"))]);
}

/// A heat gun and cold spray at a place.
pub(in crate::game) fn heat_and_cold(ui: &mut egui::Ui, bay: &mut Bay, place: Treated) {
    let t = bay.texts;
    ui.horizontal_wrapped(|ui| {
        act(ui, bay, t.say("place-warm"), Action::Warm(place));
        act(ui, bay, t.say("place-cool"), Action::Cool(place));
    });
}

/// The lines of a heated screen: where a probe can be put, and where a break can be painted over.
pub(super) fn lines(ui: &mut egui::Ui, bay: &mut Bay, part: PartId, screen: Screen) {
    let t = bay.texts;
    ui.horizontal_wrapped(|ui| {
        let line = egui::DragValue::new(&mut bay.draft.line).range(1..=screen.lines);
        figure(ui, |ui| ui.add(line.prefix(t.say("screen-line"))));
        let places = 0..=Screen::SECTIONS;
        let suffix = say!(t, "screen-place", sections = Screen::SECTIONS);
        let drag = figure(ui, |ui| ui.add(egui::DragValue::new(&mut bay.draft.place).range(places)));
        let after = ui.label(suffix);
        drag.labelled_by(after.id);
        let (line, place) = (bay.draft.line, bay.draft.place);
        let label = t.say("screen-put");
        if ui.add_enabled(bay.hand.goes_to_a_point(), egui::Button::new(label)).clicked() {
            bay.put_to(Point::Line(part, line, place));
        }
        let section = place.clamp(1, Screen::SECTIONS);
        let label = say!(t, "screen-paint", section = section, line = line);
        act(ui, bay, &label, Action::Repair(Repair::Line(part, line, section)));
    });
}
