//! The cabin with its switches and fuses, and the tray of fuses.

use std::sync::Arc;

use bevy_egui::egui::{self, RichText};
use probeworthy::bench::{Action, Refusal, Repair};
use probeworthy::job::Job;
use probeworthy::say;
use probeworthy::vehicle::{ConnectorId, PanelId, PartId, PartKind, Vehicle, Zone};
use probeworthy::words::capital;

use super::common::{act, leads_off, on_or_off};
use super::fuse_box::{fuse_box, new_fuses};
use crate::game::bay::{Bay, Place};
use crate::game::hand_tools;
use crate::game::scenery::Palette;
use crate::game::theme::SMALL;

pub(super) fn card(ui: &mut egui::Ui, bay: &mut Bay, palette: &Palette) {
    let t = bay.texts;
    let scenario = Arc::clone(bay.shown());
    let vehicle = &scenario.vehicle;
    fuse_box(ui, bay, palette);
    new_fuses(ui, bay, palette);
    leads_off(ui, bay);
    ui.separator();
    ui.label(RichText::new(t.say("cabin-switches")).strong());
    for (id, part) in vehicle.parts().filter(|(_, part)| part.reach.zone == Zone::Cabin) {
        let PartKind::Switch { springs_back, .. } = part.kind else { continue };
        if springs_back {
            act(ui, bay, &say!(t, "cabin-press", part = t.title(&part.title)), Action::Press(id));
        }
    }
    switches(ui, bay, vehicle);
    ui.horizontal_wrapped(|ui| {
        act(ui, bay, t.say("cabin-lever"), Action::Lever);
        for (at, panel) in vehicle.panels.iter().enumerate().filter(|(_, panel)| panel.zone == Zone::Cabin) {
            let place = Place::Panel(PanelId::at(at));
            if ui.button(capital(&say!(t, "cabin-panel", panel = t.title(&panel.title)))).clicked()
                && !hand_tools::touched(bay, place)
            {
                bay.open = Some(place);
            }
        }
    });
    ui.separator();
    for (at, file) in vehicle.connectors.iter().enumerate() {
        if file.reach.zone == Zone::Cabin
            && ui.button(say!(t, "cabin-open", connector = t.title(&file.title))).clicked()
        {
            bay.open = Some(Place::Connector(ConnectorId::at(at)));
        }
    }
}

/// What stays as it is put, a line each: the switches, and the setting that locks the release out.
fn switches(ui: &mut egui::Ui, bay: &mut Bay, vehicle: &Vehicle) {
    let t = bay.texts;
    let mut wanted = None;
    egui::Grid::new("switches").num_columns(4).min_row_height(24.0).show(ui, |ui| {
        for (id, part) in vehicle.parts().filter(|(_, part)| part.reach.zone == Zone::Cabin) {
            let PartKind::Switch { springs_back: false, .. } = part.kind else { continue };
            let on = bay.job.as_ref().is_some_and(|job| job.scene().switched_on()[id.index()]);
            ui.label(capital(t.title(&part.title)));
            wanted = on_or_off(ui, t, t.title(&part.title), Some(on))
                .map(|on| Action::Switch(id, on))
                .or(wanted.take());
            ui.end_row();
        }
        let known = bay.job.as_ref().and_then(|job| lockout(job));
        ui.label(t.say("cabin-lockout"));
        wanted = on_or_off(ui, t, t.say("cabin-lockout"), known).map(Action::Lockout).or(wanted.take());
        if known.is_none() {
            ui.label(RichText::new(t.say("cabin-lockout-untried")).size(SMALL));
        }
        ui.end_row();
    });
    if let Some(act) = wanted {
        bay.act(act);
    }
}

/// How the release lockout stands, as far as this job has told: it may have been left on, and is found out by setting it.
fn lockout(job: &Job) -> Option<bool> {
    let module = |part: PartId| matches!(job.scenario().vehicle.part(part).kind, PartKind::Module(_));
    job.log().iter().rev().find_map(|step| match (&step.action, &step.outcome.refused) {
        (Action::Lockout(on), None | Some(Refusal::AlreadySo)) => Some(*on),
        // A new module comes with nothing locked out.
        (Action::Repair(Repair::Part(part)), None) if module(*part) => Some(false),
        _ => None,
    })
}

pub(super) fn fuse_tray(ui: &mut egui::Ui, bay: &mut Bay, palette: &Palette) {
    let t = bay.texts;
    new_fuses(ui, bay, palette);
    ui.label(t.say("tray-about"));
    act(ui, bay, t.say("tray-meter-fuse"), Action::MeterFuse);
}

#[cfg(test)]
mod tests {
    use egui_kittest::kittest::Queryable;
    use probeworthy::bench::Action;
    use probeworthy::scenario::load;

    use super::*;
    use crate::game::by_keys::{wait, window};

    #[test]
    fn switches_are_worked_and_the_lockout_is_known_once_it_has_been_set() {
        let scenario = load("dark-while-shut").expect("it is on the shelf").scenario;
        let mut harness = window(Bay::new(Arc::new(scenario), None, 3));
        let harness = &mut harness;
        wait(harness);
        harness.state_mut().bay.open = Some(Place::Cabin);
        harness.run_steps(3);
        for (label, act, known) in [
            ("light switch: On", None, false),
            ("Release lockout: Off", Some(Action::Lockout(false)), true),
            ("Release lockout: On", Some(Action::Lockout(true)), true),
        ] {
            // It may lie below what the card shows.
            harness.get_by_label(label).click_accesskit();
            wait(harness);
            harness.run_steps(2);
            let last = harness.state().bay.job.as_ref().and_then(|job| job.log().last().cloned());
            let last = last.expect("something was done").action;
            assert!(
                act.map_or(matches!(last, Action::Switch(_, true)), |act| act == last),
                "{label}: {last:?}"
            );
            assert_eq!(harness.query_by_label("Not tried yet").is_none(), known, "{label}");
        }
    }
}
