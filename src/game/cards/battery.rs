//! The battery in front, with its two posts.

use bevy_egui::egui::{
    self, Align2, FontFamily, FontId, Rect, Sense, Stroke, StrokeKind, Vec2, WidgetInfo, WidgetType, pos2,
    vec2,
};
use probeworthy::bench::{Action, Precaution, Repair};
use probeworthy::vehicle::Point;

use super::common::{act, act_unless, drawn_point, leads_off, what_goes};
use crate::game::bay::Bay;
use crate::game::scenery::Palette;
use crate::game::theme::{TITLE, colour};

/// The picture, and a post with its clamp, in points.
const SIZE: Vec2 = vec2(300.0, 140.0);
const POST: Vec2 = vec2(56.0, 42.0);

pub(super) fn front(ui: &mut egui::Ui, bay: &mut Bay, palette: &Palette) {
    let t = bay.texts;
    ui.label(t.say("front-eyes"));
    ui.horizontal_wrapped(|ui| {
        let glasses = bay.job.as_ref().is_some_and(|job| job.scene().kit().glasses);
        let label = if glasses { t.say("front-glasses-on") } else { t.say("front-put-glasses-on") };
        act_unless(ui, bay, glasses, label, Action::Precaution(Precaution::EyeProtection));
        act(ui, bay, t.say("front-prove-meter"), Action::ProveMeter);
        act(ui, bay, t.say("front-charge"), Action::Repair(Repair::Charge));
    });
    battery(ui, bay, palette);
    what_goes(ui, bay);
    leads_off(ui, bay);
}

/// The battery from the side; its posts are touched.
fn battery(ui: &mut egui::Ui, bay: &mut Bay, palette: &Palette) {
    let t = bay.texts;
    let (outer, _) = ui.allocate_exact_size(SIZE, Sense::hover());
    let ink = |name| colour(palette, name);
    let (edge, written) = (Stroke::new(2.0, ink("face-edge")), ink("housing-text"));
    let case = Rect::from_min_max(outer.min + vec2(8.0, 54.0), outer.max);
    let lid = Rect::from_min_max(case.min - vec2(4.0, 4.0), pos2(case.right() + 4.0, case.top() + 18.0));
    // Pale, so that it is seen on a dark card.
    let rim = Stroke::new(1.5, ink("face-rim"));
    ui.painter().rect(case, 6.0, ink("battery-case"), rim, StrokeKind::Inside);
    ui.painter().rect(lid, 5.0, ink("battery-lid"), rim, StrokeKind::Inside);
    for share in [0.25, 0.5, 0.75] {
        let at = pos2(egui::lerp(case.left()..=case.right(), share), lid.center().y);
        ui.painter().circle(at, 6.0, ink("battery-case"), edge);
    }
    let font = FontId::new(TITLE, FontFamily::Proportional);
    let on_case = pos2(case.center().x, egui::lerp(lid.bottom()..=case.bottom(), 0.5));
    ui.painter().text(on_case, Align2::CENTER_CENTER, t.say("front-volts"), font.clone(), written);
    let posts = [
        (Point::BatteryMinus, "front-minus", "battery-minus", "\u{2212}", outer.left() + 22.0),
        (Point::BatteryPlus, "front-plus", "battery-plus", "+", outer.right() - 22.0 - POST.x),
    ];
    for (point, label, ring, sign, x) in posts {
        let rect = Rect::from_min_size(pos2(x, outer.top() + 12.0), POST);
        let touched = ui.interact(rect, ui.id().with(label), Sense::click());
        let goes = bay.hand.goes_to_a_point();
        touched.widget_info(|| WidgetInfo::labeled(WidgetType::Button, goes, t.say(label)));
        let post = Rect::from_min_max(rect.min + vec2(14.0, 0.0), rect.max - vec2(14.0, 0.0));
        ui.painter().rect(post, 4.0, ink("battery-post"), edge, StrokeKind::Inside);
        let clamp = Rect::from_min_max(pos2(rect.left(), rect.bottom() - 18.0), rect.max);
        ui.painter().rect(clamp, 5.0, ink(ring), edge, StrokeKind::Inside);
        let below = pos2(rect.center().x, on_case.y);
        ui.painter().text(below, Align2::CENTER_CENTER, sign, font.clone(), written);
        if touched.hovered() || touched.has_focus() {
            let line = Stroke::new(2.0, ink("focus"));
            ui.painter().rect_stroke(rect.expand(3.0), 6.0, line, StrokeKind::Inside);
        }
        drawn_point(ui, bay, palette, touched, (point, t.say(label)), rect.left_top() - vec2(2.0, 8.0));
    }
}
