//! The cabin with its switches and fuses, the tray of fuses, and the battery in front.

use std::sync::Arc;

use bevy_egui::egui::{self, RichText, Sense, Stroke, WidgetInfo, WidgetType, vec2};
use probeworthy::bench::{Action, FuseWork, Precaution, Repair};
use probeworthy::circuit::FUSE_RATINGS_AMPS;
use probeworthy::say;
use probeworthy::vehicle::{ConnectorId, FuseId, PanelId, PartKind, Point, Side, Zone};

use super::common::{act, act_unless, leads_off, mark, marks_on, point_buttons};
use crate::game::bay::{Bay, Place};
use crate::game::hand_tools;
use crate::game::scenery::Palette;
use crate::game::theme::colour;

pub(super) fn card(ui: &mut egui::Ui, bay: &mut Bay, palette: &Palette) {
    let t = bay.texts;
    let scenario = Arc::clone(bay.shown());
    let vehicle = &scenario.vehicle;
    ui.label(RichText::new(t.say("cabin-switches")).strong());
    for (id, part) in vehicle.parts().filter(|(_, part)| part.reach.zone == Zone::Cabin) {
        let PartKind::Switch { springs_back, .. } = part.kind else { continue };
        if springs_back {
            act(ui, bay, &say!(t, "cabin-press", part = &part.title), Action::Press(id));
        } else {
            let on = bay.job.as_ref().is_some_and(|job| job.scene().switched_on()[id.index()]);
            let label = if on { "cabin-is-on" } else { "cabin-is-off" };
            act(ui, bay, &say!(t, label, part = &part.title), Action::Switch(id, !on));
        }
    }
    ui.horizontal_wrapped(|ui| {
        act(ui, bay, t.say("cabin-lever"), Action::Lever);
        for (at, panel) in vehicle.panels.iter().enumerate().filter(|(_, panel)| panel.zone == Zone::Cabin) {
            let place = Place::Panel(PanelId::at(at));
            if ui.button(say!(t, "cabin-panel", panel = &panel.title)).clicked()
                && !hand_tools::touched(bay, place)
            {
                bay.open = Some(place);
            }
        }
    });
    ui.horizontal(|ui| {
        ui.label(t.say("cabin-lockout"));
        act(ui, bay, t.say("cabin-lockout-on"), Action::Lockout(true));
        act(ui, bay, t.say("cabin-lockout-off"), Action::Lockout(false));
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
            ui.label(say!(t, "cabin-rating", fuse = &fuse.title, amps = fuse.rating_amps));
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

pub(super) fn fuse_tray(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    rating(ui, bay);
    ui.label(t.say("tray-about"));
    act(ui, bay, t.say("tray-meter-fuse"), Action::MeterFuse);
}

fn rating(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    ui.horizontal_wrapped(|ui| {
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
