//! Places of the vehicle that are no connector: its panels, studs, bare metal.

use bevy_egui::egui;
use probeworthy::bench::{Action, Place as Treated, Repair};
use probeworthy::say;
use probeworthy::vehicle::{PanelId, Point, Reach, StudId};

use super::common::{act, obstacle, point_buttons};
use crate::game::bay::Bay;

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
