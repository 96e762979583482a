//! The cabin with its switches and fuses, the tray of fuses, and the battery in front.

use std::sync::Arc;

use bevy_egui::egui::{self, RichText, Sense, Stroke, WidgetInfo, WidgetType, vec2};
use probeworthy::bench::{Action, FuseWork, Precaution, Refusal, Repair};
use probeworthy::circuit::FUSE_RATINGS_AMPS;
use probeworthy::job::Job;
use probeworthy::say;
use probeworthy::vehicle::{ConnectorId, FuseId, PanelId, PartId, PartKind, Point, Side, Vehicle, Zone};
use probeworthy::words::capital;

use super::common::{act, act_unless, leads_off, mark, marks_on, on_or_off, point_buttons, row};
use crate::game::bay::{Bay, Place};
use crate::game::hand_tools;
use crate::game::scenery::Palette;
use crate::game::theme::{SMALL, colour};

pub(super) fn card(ui: &mut egui::Ui, bay: &mut Bay, palette: &Palette) {
    let t = bay.texts;
    let scenario = Arc::clone(bay.shown());
    let vehicle = &scenario.vehicle;
    ui.label(RichText::new(t.say("cabin-switches")).strong());
    for (id, part) in vehicle.parts().filter(|(_, part)| part.reach.zone == Zone::Cabin) {
        let PartKind::Switch { springs_back, .. } = part.kind else { continue };
        if springs_back {
            act(ui, bay, &say!(t, "cabin-press", part = &part.title), Action::Press(id));
        }
    }
    switches(ui, bay, vehicle);
    ui.horizontal_wrapped(|ui| {
        act(ui, bay, t.say("cabin-lever"), Action::Lever);
        for (at, panel) in vehicle.panels.iter().enumerate().filter(|(_, panel)| panel.zone == Zone::Cabin) {
            let place = Place::Panel(PanelId::at(at));
            if ui.button(capital(&say!(t, "cabin-panel", panel = &panel.title))).clicked()
                && !hand_tools::touched(bay, place)
            {
                bay.open = Some(place);
            }
        }
    });
    ui.separator();
    ui.label(RichText::new(t.say("cabin-fuses")).strong());
    let fitted = bay.job.as_ref().map(|job| job.scene().fuses_fitted()).unwrap_or_default();
    for (at, fuse) in vehicle.fuses.iter().enumerate() {
        let id = FuseId::at(at);
        ui.horizontal(|ui| {
            for side in [Side::Feed, Side::Load] {
                let point = Point::Fuse(id, side);
                let (rect, response) = ui.allocate_exact_size(vec2(30.0, 24.0), Sense::click());
                let label = if side == Side::Feed { "cabin-feed-side" } else { "cabin-load-side" };
                let label = say!(t, label, fuse = &fuse.title);
                response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, &label));
                let line =
                    if response.has_focus() { colour(palette, "focus") } else { colour(palette, "accent") };
                ui.painter().rect_filled(rect, 4.0, colour(palette, "cavity"));
                ui.painter().rect_filled(rect.shrink2(vec2(9.0, 4.0)), 2.0, colour(palette, "brass"));
                if response.hovered() || response.has_focus() {
                    ui.painter().rect_stroke(rect, 4.0, Stroke::new(2.0, line), egui::StrokeKind::Inside);
                }
                for (name, fill) in marks_on(bay, point) {
                    mark(ui.painter(), palette, rect.left_top() - vec2(0.0, 2.0), name, fill);
                }
                let dropped = bay.is_dropped_on(&response);
                if response.on_hover_text(&label).clicked() || dropped {
                    bay.put_to(point);
                }
            }
            let label = say!(t, "cabin-rating", fuse = &fuse.title, amps = fuse.rating_amps);
            ui.label(capital(&label));
        });
        ui.horizontal(|ui| {
            ui.add_space(72.0);
            if fitted.get(at).copied().unwrap_or(false) {
                act(ui, bay, t.say("fuse-look"), Action::Fuse(id, FuseWork::Look));
                act(ui, bay, t.say("fuse-pull"), Action::Fuse(id, FuseWork::Pull));
            } else {
                act(ui, bay, t.say("fuse-put-back"), Action::Fuse(id, FuseWork::PutBack));
                act(ui, bay, t.say("fuse-clips"), Action::Repair(Repair::Clips(id)));
            }
            // What belongs there, unless another was taken from the tray.
            let rating = bay.draft.fuse_rating.unwrap_or(fuse.rating_amps);
            act(ui, bay, &say!(t, "fuse-fit", amps = rating), Action::Fuse(id, FuseWork::Fit(rating)));
        });
    }
    rating(ui, bay);
    leads_off(ui, bay);
    ui.separator();
    for (at, file) in vehicle.connectors.iter().enumerate() {
        if file.reach.zone == Zone::Cabin
            && ui.button(say!(t, "cabin-open", connector = &file.title)).clicked()
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
            ui.label(capital(&part.title));
            wanted =
                on_or_off(ui, t, &part.title, Some(on)).map(|on| Action::Switch(id, on)).or(wanted.take());
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

pub(super) fn fuse_tray(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    rating(ui, bay);
    ui.label(t.say("tray-about"));
    act(ui, bay, t.say("tray-meter-fuse"), Action::MeterFuse);
}

fn rating(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    row(ui, |ui| {
        ui.label(t.say("fuse-new"));
        let ratings = FUSE_RATINGS_AMPS.map(|amps| (Some(amps), say!(t, "fuse-amps", amps = amps)));
        for (rating, label) in [(None, t.say("fuse-as-slot").to_owned())].into_iter().chain(ratings) {
            let chosen = bay.draft.fuse_rating == rating;
            if ui.add(egui::Button::selectable(chosen, label).frame_when_inactive(true)).clicked() {
                bay.draft.fuse_rating = rating;
            }
        }
    });
}

pub(super) fn front(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    ui.label(t.say("front-eyes"));
    ui.horizontal_wrapped(|ui| {
        let glasses = bay.job.as_ref().is_some_and(|job| job.scene().kit().glasses);
        let label = if glasses { t.say("front-glasses-on") } else { t.say("front-put-glasses-on") };
        act_unless(ui, bay, glasses, label, Action::Precaution(Precaution::EyeProtection));
        act(ui, bay, t.say("front-prove-meter"), Action::ProveMeter);
        act(ui, bay, t.say("front-charge"), Action::Repair(Repair::Charge));
    });
    point_buttons(
        ui,
        bay,
        &[(Point::BatteryPlus, t.say("front-plus")), (Point::BatteryMinus, t.say("front-minus"))],
    );
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
            harness.get_by_label(label).click();
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
