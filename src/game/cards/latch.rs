//! The latch from the side, as it stands: the claw, the pawl that holds it, and the striker that comes into it with the lid.

use bevy_egui::egui::{
    self, Align, Align2, Id, Pos2, Rect, Sense, Shape, Stroke, Vec2, WidgetInfo, WidgetType, pos2, vec2,
};
use probeworthy::bench::Action;
use probeworthy::say;
use probeworthy::vehicle::LidPosition;
use probeworthy::words::lid_word;

use super::drawn::{Brush, Words, named, ring, touch};
use crate::game::bay::Bay;
use crate::game::scenery::Palette;
use crate::game::sync::claw_open;
use crate::game::theme::{SMALL, colour};

/// Points a millimetre, and the height of the picture in points.
const SCALE: f32 = 1.5;
const HIGH: f32 = 168.0;
/// Where the claw's pivot is in the picture, in points.
const PIVOT: Vec2 = vec2(192.0, 66.0);
/// What the plate takes to the left and to the right of the pivot, with a gap, in points.
const LEFT: f32 = 58.0;
const RIGHT: f32 = 76.0;

/// From the claw's pivot to the striker's seat in it, in millimetres: common practice, no source, as are all sizes here.
const SEAT: f32 = 17.0;
/// Half of the slot's width, and half of the striker's thickness.
const SLOT: f32 = 5.5;
const STRIKER: f32 = 4.0;
/// Where the pawl turns.
const FOOT: Vec2 = vec2(-26.0, 20.0);
/// How far the claw turns from home to open, clockwise, in degrees.
const TURN_DEGREES: f32 = 52.0;
/// How far the striker comes out of its seat: on the first catch, for each degree that the lid is up, and the farthest shown.
const CATCH: f32 = 9.0;
const A_DEGREE: f32 = 12.0;
const FARTHEST: f32 = 36.0;

/// How far the claw has turned from home, from 0 to 1, and how far the striker is out of its seat, in millimetres.
fn stands(position: LidPosition, claw_home: bool) -> (f32, f32) {
    let out = match position {
        LidPosition::Shut => 0.0,
        LidPosition::FirstCatch => CATCH,
        LidPosition::Angle(degrees) => (CATCH + A_DEGREE * f32::from(degrees)).min(FARTHEST),
    };
    (claw_open(position, claw_home), out)
}

/// The picture with its names, and the places at which the latch is worked: the lever's cable at the pawl, a tool in the claw, and a
/// screwdriver that is driven through the trim.
pub(super) fn latch(ui: &mut egui::Ui, bay: &mut Bay, palette: &Palette) {
    let Some((position, claw_home)) =
        bay.job.as_ref().map(|job| (job.scene().lid(), job.scene().claw_home()))
    else {
        return;
    };
    let t = bay.texts;
    let lid = lid_word(t, bay.vehicle());
    let told = match (position, claw_home) {
        (LidPosition::Shut, _) => say!(t, "latch-holds", lid = lid),
        (LidPosition::FirstCatch, _) => t.say("latch-first-catch").to_owned(),
        (LidPosition::Angle(_), true) => t.say("latch-closed-empty").to_owned(),
        (LidPosition::Angle(_), false) => t.say("latch-waits").to_owned(),
    };
    let (turned, out) = stands(position, claw_home);
    // As long as the lid and its claw take in the scene, and at once where nothing is to move.
    let seconds = 3.0 * ui.style().animation_time;
    let turned = ui.ctx().animate_value_with_time(Id::new("claw's turn"), turned, seconds);
    let out = ui.ctx().animate_value_with_time(Id::new("striker's way"), out, seconds);
    let (outer, response) = ui.allocate_exact_size(vec2(ui.available_width(), HIGH), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Image, true, &told));
    lever(ui, bay, palette, outer);
    draw(&ui.painter_at(outer), outer, turned, out, palette);
    for (thing, at, align, name) in [
        (vec2(0.0, -12.0), vec2(-4.0, -33.0), Align2::CENTER_BOTTOM, "latch-claw"),
        (FOOT + vec2(2.0, 0.0), vec2(-38.0, 33.0), Align2::LEFT_TOP, "latch-pawl"),
        (vec2(SEAT + STRIKER, out), vec2(SEAT + 32.0, out), Align2::LEFT_CENTER, "latch-striker"),
    ] {
        let [thing, at] = [thing, at].map(|at| outer.min + PIVOT + at * SCALE);
        named(ui, palette, thing, t.say(name), (at, align));
    }
    screwdriver(ui, bay, palette, outer);
    hook(ui, bay, palette, outer, claw_home);
    ui.label(egui::RichText::new(told).size(SMALL));
}

/// The lever inside, with its cable to the pawl.
fn lever(ui: &egui::Ui, bay: &mut Bay, palette: &Palette, outer: Rect) {
    let at = |x: f32, y: f32| outer.min + vec2(x, y);
    let brush = Brush { painter: ui.painter(), palette };
    brush.line(&[at(34.0, 62.0), at(88.0, 70.0), outer.min + PIVOT + FOOT * SCALE], 2.5, "face-rim");
    brush.shape(&[at(4.0, 56.0), at(20.0, 52.0), at(36.0, 56.0), at(36.0, 68.0), at(4.0, 68.0)], "face-top");
    brush.block(Rect::from_min_max(at(10.0, 46.0), at(30.0, 60.0)), 5.0, "mark-red");
    let drawn =
        ring(ui, palette, at(20.0, 53.0), true).union(Rect::from_min_max(at(4.0, 44.0), at(38.0, 70.0)));
    let words = Words {
        label: bay.texts.say("lid-lever"),
        at: at(4.0, 4.0),
        align: Align::Min,
        wide: PIVOT.x - LEFT - 8.0,
    };
    if touch(ui, palette, drawn, &words, true).clicked() {
        bay.act(Action::Lever);
    }
}

/// The screwdriver that forces the pawl off through the trim.
fn screwdriver(ui: &egui::Ui, bay: &mut Bay, palette: &Palette, outer: Rect) {
    let tip = outer.min + PIVOT + FOOT * SCALE + vec2(-7.0, 4.0);
    let end = outer.min + vec2(112.0, 122.0);
    let brush = Brush { painter: ui.painter(), palette };
    let along = (tip - end).normalized();
    brush.line(&[end, tip], 4.0, "face-rim");
    brush.line(&[end - along * 18.0, end + along * 4.0], 11.0, "control-edge");
    brush.line(&[end - along * 17.0, end + along * 3.0], 8.0, "tool-grip");
    let handle = ring(ui, palette, end - along * 7.0, true);
    let drawn = handle.union(Rect::from_two_pos(end - along * 18.0, end + along * 6.0).expand(4.0));
    let words = Words {
        label: bay.texts.say("lid-force"),
        at: outer.min + vec2(4.0, 84.0),
        align: Align::Min,
        // Up to the ring about its handle.
        wide: end.x - outer.left() - 22.0,
    };
    if touch(ui, palette, drawn, &words, true).clicked() {
        bay.act(Action::ForceLatch);
    }
}

/// The tool that closes the claw as the striker would.
fn hook(ui: &egui::Ui, bay: &mut Bay, palette: &Palette, outer: Rect, claw_home: bool) {
    let at = |x: f32, y: f32| outer.min + PIVOT + vec2(x, y);
    let brush = Brush { painter: ui.painter(), palette };
    let [grip, neck, tip] = [at(RIGHT + 8.0, -19.0), at(RIGHT - 18.0, -19.0), at(RIGHT - 30.0, -8.0)];
    brush.line(&[grip, neck, tip], 4.0, "control-edge");
    brush.line(&[grip, neck, tip], 2.5, "face-rim");
    brush.line(&[grip, grip + vec2(26.0, 0.0)], 11.0, "control-edge");
    brush.line(&[grip + vec2(1.0, 0.0), grip + vec2(25.0, 0.0)], 8.0, "tool-grip");
    let handle = ring(ui, palette, grip + vec2(13.0, 0.0), !claw_home);
    let drawn = handle.union(Rect::from_two_pos(tip, grip + vec2(26.0, 0.0)).expand(3.0));
    let words = Words {
        label: bay.texts.say("lid-claw"),
        at: pos2(grip.x - 8.0, outer.top() + 2.0),
        align: Align::Min,
        wide: outer.right() - grip.x + 4.0,
    };
    if touch(ui, palette, drawn, &words, !claw_home).clicked() {
        bay.act(Action::CloseClaw);
    }
}

fn draw(painter: &egui::Painter, outer: Rect, turned: f32, out: f32, palette: &Palette) {
    let at = |millimetres: Vec2| -> Pos2 { outer.min + PIVOT + millimetres * SCALE };
    let ink = Stroke::new(1.5, colour(palette, "ink"));
    let plate = colour(palette, "button");
    // The plate with the throat into which the striker comes from below.
    let throat = [SEAT - SLOT - 1.0, SEAT + SLOT + 1.0];
    let (left, right, top, mouth, bottom) = (-34.0, 44.0, -31.0, -9.0, 27.0);
    for (from, to) in [
        (vec2(left, top), vec2(right, mouth)),
        (vec2(left, mouth - 0.5), vec2(throat[0], bottom)),
        (vec2(throat[1], mouth - 0.5), vec2(right, bottom)),
    ] {
        painter.rect_filled(Rect::from_min_max(at(from), at(to)), 0.0, plate);
    }
    let edge = [
        vec2(left, top),
        vec2(right, top),
        vec2(right, bottom),
        vec2(throat[1], bottom),
        vec2(throat[1], mouth),
        vec2(throat[0], mouth),
        vec2(throat[0], bottom),
        vec2(left, bottom),
    ];
    painter.add(Shape::closed_line(edge.map(at).to_vec(), ink));
    // The striker's wire, and the foot on which it stands.
    let seat = at(vec2(SEAT, out));
    let wire = colour(palette, "face-rim");
    painter.line_segment([seat, pos2(seat.x, outer.bottom())], Stroke::new(2.4 * SCALE, wire));
    painter.circle(seat, STRIKER * SCALE, wire, ink);
    // The claw, drawn as at home: two prongs about the slot, and the hub.
    let turn = egui::emath::Rot2::from_angle(turned * TURN_DEGREES.to_radians());
    let claw = |millimetres: Vec2| at(turn * millimetres);
    let steel = colour(palette, "strut-rod");
    for side in [-1.0, 1.0] {
        let prong = [
            (-9.0, 7.0),
            (0.0, 15.0),
            (15.0, 16.0),
            (27.0, 12.0),
            (29.0, SLOT),
            (SEAT - SLOT, SLOT),
            (-9.0, 3.0),
        ];
        let prong = prong.map(|(x, y)| claw(vec2(x, side * y))).to_vec();
        painter.add(Shape::convex_polygon(prong, steel, Stroke::NONE));
    }
    painter.circle_filled(at(Vec2::ZERO), 12.0 * SCALE, steel);
    let around = [
        (-9.0, -7.0),
        (0.0, -15.0),
        (15.0, -16.0),
        (27.0, -12.0),
        (29.0, -SLOT),
        (SEAT - SLOT, -SLOT),
        (SEAT - SLOT, SLOT),
        (29.0, SLOT),
        (27.0, 12.0),
        (15.0, 16.0),
        (0.0, 15.0),
        (-9.0, 7.0),
        (-12.0, 0.0),
    ];
    painter.add(Shape::closed_line(around.map(|(x, y)| claw(vec2(x, y))).to_vec(), ink));
    painter.circle(at(Vec2::ZERO), 4.0 * SCALE, colour(palette, "strut-sheen"), ink);
    // The pawl lies in the claw's notch while it holds, and on its back while the claw is open.
    let foot = FOOT;
    let tip = vec2(-10.0, 8.0) + vec2(-3.0, 3.0) * turned;
    let pawl = Stroke::new(6.0 * SCALE, colour(palette, "ink"));
    painter.line_segment([at(foot), at(tip)], pawl);
    painter.line_segment([at(foot), at(tip)], Stroke::new(4.0 * SCALE, colour(palette, "strut-sheen")));
    painter.circle(at(foot), 4.0 * SCALE, colour(palette, "strut-sheen"), ink);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_striker_is_seated_only_where_the_latch_holds_the_lid() {
        assert_eq!(stands(LidPosition::Shut, true), (0.0, 0.0));
        let (turned, out) = stands(LidPosition::FirstCatch, true);
        assert!(turned > 0.0 && turned < 1.0 && out > 2.0 * STRIKER);
        // Closed by hand with the lid up there is nothing in it.
        for claw_home in [true, false] {
            let mut before = out;
            for degrees in 1..90 {
                let (turned, out) = stands(LidPosition::Angle(degrees), claw_home);
                assert_eq!(turned, if claw_home { 0.0 } else { 1.0 });
                assert!(out >= before && out <= FARTHEST);
                before = out;
            }
            assert!(before > 29.0 + STRIKER, "clear of the prongs");
        }
    }
}
