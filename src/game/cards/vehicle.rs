//! Places of the vehicle that are no connector: its lid, panels, studs, bare metal, the lines of a screen, its key.

use bevy_egui::egui;
use probeworthy::bench::{Action, LidTo, Place as Treated, Precaution, Repair};
use probeworthy::say;
use probeworthy::vehicle::{KeyButton, LidPosition, PanelId, PartId, Point, Reach, Screen, StudId};
use probeworthy::words::lid_word;

use super::common::{act, act_unless, obstacle, point_buttons, row};
use crate::game::bay::Bay;
use crate::game::theme::figure;

/// The least angle at which a hand holds the lid.
const LEAST_DEGREES: u8 = 2;

pub(super) fn lid(ui: &mut egui::Ui, bay: &mut Bay) {
    let Some((position, claw, propped)) =
        bay.job.as_ref().map(|job| (job.scene().lid(), job.scene().claw_home(), job.scene().propped()))
    else {
        return;
    };
    let t = bay.texts;
    let full = bay.vehicle().lid.full_degrees;
    let state = match position {
        LidPosition::Shut => t.say("lid-shut").to_owned(),
        LidPosition::FirstCatch => t.say("lid-first-catch").to_owned(),
        LidPosition::Angle(degrees) => {
            let id = match (claw, propped) {
                (false, true) => "lid-at-open-propped",
                (false, false) => "lid-at-open-unpropped",
                (true, true) => "lid-at-closed-propped",
                (true, false) => "lid-at-closed-unpropped",
            };
            say!(t, id, degrees = degrees)
        }
    };
    ui.label(state);
    let wet = bay.job.as_ref().is_some_and(|job| job.scene().wet());
    if wet {
        ui.label(t.say("lid-is-wet"));
    }
    ui.horizontal_wrapped(|ui| {
        let up = position == LidPosition::Angle(full);
        act_unless(ui, bay, up, t.say("lid-open-fully"), Action::Lid(LidTo::Angle(full)));
        act_unless(ui, bay, position == LidPosition::Shut, t.say("lid-push-shut"), Action::Lid(LidTo::Shut));
        let caught = position == LidPosition::FirstCatch;
        act_unless(ui, bay, caught, t.say("lid-let-down"), Action::Lid(LidTo::FirstCatch));
    });
    row(ui, |ui| {
        // Where the lid is, until it is to be held elsewhere; from shut, as far as it opens.
        let own = if let LidPosition::Angle(degrees) = position { degrees } else { full };
        let mut angle = bay.draft.lid.unwrap_or(own).clamp(LEAST_DEGREES.min(full), full);
        let slider = egui::Slider::new(&mut angle, LEAST_DEGREES..=full).suffix("°").text(t.say("lid-angle"));
        if figure(ui, |ui| ui.add(slider)).changed() {
            bay.draft.lid = Some(angle);
        }
        act(ui, bay, t.say("lid-hold"), Action::Lid(LidTo::Angle(angle)));
    });
    ui.horizontal_wrapped(|ui| {
        let shut = !matches!(position, LidPosition::Angle(_));
        act_unless(ui, bay, propped || shut, t.say("lid-prop"), Action::Precaution(Precaution::PropLid));
        act_unless(ui, bay, claw, t.say("lid-claw"), Action::CloseClaw);
        act(ui, bay, t.say("lid-lever"), Action::Lever);
        act(ui, bay, t.say("lid-force"), Action::ForceLatch);
        act(ui, bay, t.say("lid-look"), Action::Observe);
    });
    ui.horizontal_wrapped(|ui| {
        act(ui, bay, t.say("lid-wet"), Action::Wet);
        act(ui, bay, t.say("lid-dry"), Action::Dry);
        for minutes in [5, 15, 60] {
            act(ui, bay, &say!(t, "lid-wait", minutes = minutes), Action::Wait(minutes));
        }
    });
}

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

pub(super) fn key(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    let (cell, whole) = (bay.vehicle().key.cell_price, bay.vehicle().key.price);
    let release = say!(t, "key-release", lid = lid_word(t, bay.vehicle()));
    ui.horizontal(|ui| {
        for (button, label) in [
            (KeyButton::Lock, t.say("key-lock")),
            (KeyButton::Unlock, t.say("key-unlock")),
            (KeyButton::Release, &release),
        ] {
            act(ui, bay, label, Action::Key(button));
        }
    });
    ui.label(t.say("key-about"));
    act(ui, bay, &say!(t, "key-new-cell", price = cell), Action::Repair(Repair::KeyCell));
    act(ui, bay, &say!(t, "key-new", price = whole), Action::Repair(Repair::Key));
    let contacts = [(Point::KeyPlus, t.say("key-plus")), (Point::KeyMinus, t.say("key-minus"))];
    point_buttons(ui, bay, &contacts);
}
