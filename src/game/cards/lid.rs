//! The lid from its side: how far it stands open, where it can be brought to, what holds it; below it the latch, and what is done
//! to the whole rear.

use bevy_egui::egui::{self, Align, Id, Pos2, Rect, RichText, Sense, Stroke, Vec2, pos2, vec2};
use probeworthy::bench::{Action, LidTo, Precaution};
use probeworthy::say;
use probeworthy::vehicle::LidPosition;

use super::common::{act, row};
use super::drawn::{Brush, Words, ring, thing, touch};
use super::latch;
use crate::game::bay::Bay;
use crate::game::scenery::Palette;
use crate::game::theme::{SMALL, colour, figure};

/// The least angle at which a hand holds the lid.
const LEAST_DEGREES: u8 = 2;

/// Where it is hinged, from the left of the picture, and how long it is, in points.
const HINGE: f32 = 128.0;
const LONG: f32 = 100.0;
/// How far it leans when shut, and how far open it is drawn on its first catch, in degrees.
const LEANS_DEGREES: f32 = 15.0;
const CATCH_DEGREES: f32 = 10.0;
/// From where on the way of its edge is drawn, in degrees.
const WAY_FROM_DEGREES: f32 = 30.0;
/// What the picture takes above its highest point and below the hinge, in points.
const ABOVE: f32 = 14.0;
const BELOW: f32 = 128.0;

pub(super) fn card(ui: &mut egui::Ui, bay: &mut Bay, palette: &Palette) {
    let Some((position, claw, propped)) =
        bay.job.as_ref().map(|job| (job.scene().lid(), job.scene().claw_home(), job.scene().propped()))
    else {
        return;
    };
    let t = bay.texts;
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
    swing(ui, bay, palette, position, propped);
    let full = bay.vehicle().lid.full_degrees;
    row(ui, |ui| {
        let mut angle = wanted_degrees(bay, position);
        let slider = egui::Slider::new(&mut angle, LEAST_DEGREES..=full).suffix("°").text(t.say("lid-angle"));
        if figure(ui, |ui| ui.add(slider)).changed() {
            bay.draft.lid = Some(angle);
        }
        act(ui, bay, t.say("lid-hold"), Action::Lid(LidTo::Angle(angle)));
    });
    ui.separator();
    latch::latch(ui, bay, palette);
    ui.separator();
    rear(ui, bay, palette);
}

/// To what angle it is to be held: where it is, until somebody has chosen another; from shut, as far as it opens.
fn wanted_degrees(bay: &Bay, position: LidPosition) -> u8 {
    let full = bay.vehicle().lid.full_degrees;
    let own = if let LidPosition::Angle(degrees) = position { degrees } else { full };
    bay.draft.lid.unwrap_or(own).clamp(LEAST_DEGREES.min(full), full)
}

/// From the hinge along a lid that is so far open.
fn along(degrees: f32) -> Vec2 {
    let (sin, cos) = (LEANS_DEGREES + degrees).to_radians().sin_cos();
    vec2(sin, cos)
}

/// How far open a lid is that points from its hinge to there.
fn degrees_toward(way: Vec2) -> f32 {
    way.x.atan2(way.y).to_degrees() - LEANS_DEGREES
}

/// The lid about its hinge. Its edge is dragged to an angle; the places to which it goes by itself, and its prop, are touched.
fn swing(ui: &mut egui::Ui, bay: &mut Bay, palette: &Palette, position: LidPosition, propped: bool) {
    let t = bay.texts;
    let (full, is_door) = (bay.vehicle().lid.full_degrees, bay.vehicle().lid.is_door);
    if is_door {
        ui.label(RichText::new(t.say("lid-from-above")).size(SMALL));
    }
    let widest = f32::from(full);
    let above = (-along(widest).y * LONG).max(0.0) + ABOVE;
    let (outer, _) = ui.allocate_exact_size(vec2(ui.available_width(), above + BELOW), Sense::hover());
    let hinge = outer.min + vec2(HINGE, above);
    let drawn_degrees = match position {
        LidPosition::Shut => 0.0,
        LidPosition::FirstCatch => CATCH_DEGREES,
        LidPosition::Angle(degrees) => f32::from(degrees).max(CATCH_DEGREES),
    };
    // As long as it takes in the scene.
    let seconds = 6.0 * ui.style().animation_time;
    let stands = ui.ctx().animate_value_with_time(Id::new("lid's angle"), drawn_degrees, seconds);
    let tip = |degrees: f32| hinge + along(degrees) * LONG;
    let brush = Brush { painter: ui.painter(), palette };
    body(&brush, outer, hinge);
    // The way that its edge takes.
    for k in 0_u8..=20 {
        // From above the words of its first catch.
        let at = tip(egui::lerp(WAY_FROM_DEGREES..=widest, f32::from(k) / 20.0));
        ui.painter().circle_filled(at, 1.2, colour(palette, "control-edge"));
    }
    let wanted = f32::from(wanted_degrees(bay, position));
    if bay.draft.lid.is_some() {
        let faint = colour(palette, "accent").gamma_multiply(0.5);
        ui.painter().line_segment([hinge, tip(wanted)], Stroke::new(3.0, faint));
    }
    let middle = hinge + along(stands) * LONG * 0.7;
    // It stands on the sill.
    let foot = pos2(hinge.x - 8.0, sill(hinge).y - 1.0);
    let rod = if propped { [foot, middle] } else { [foot, foot - vec2(0.0, 46.0)] };
    brush.line(&rod, 5.0, "control-edge");
    brush.line(&rod, 3.0, "prop");
    plate(&brush, hinge, stands);
    hold(ui, bay, tip(stands), hinge);

    let is_down = !matches!(position, LidPosition::Angle(_));
    let right = outer.right();
    let (open, caught, shut) =
        (tip(widest), tip(CATCH_DEGREES + 2.0) - vec2(0.0, 8.0), tip(0.0) + vec2(4.0, 14.0));
    for (at, down, so, label, to) in [
        (open, -9.0, position == LidPosition::Angle(full), "lid-open-fully", LidTo::Angle(full)),
        // It comes onto its first catch from above only.
        (caught, -9.0, is_down, "lid-let-down", LidTo::FirstCatch),
        (shut, -7.0, position == LidPosition::Shut, "lid-push-shut", LidTo::Shut),
    ] {
        // Beside what the lid passes when it is low.
        let x = (at.x + 14.0).max(hinge.x + LONG * 0.95);
        if x > at.x + 15.0 {
            let (from, to) = (at + vec2(8.0, 0.0), pos2(x - 3.0, at.y));
            ui.painter().line_segment([from, to], Stroke::new(1.0, colour(palette, "control-edge")));
        }
        let words =
            Words { label: t.say(label), at: pos2(x, at.y + down), align: Align::Min, wide: right - x - 4.0 };
        let drawn = ring(ui, palette, at, !so);
        if touch(ui, palette, drawn, &words, !so).clicked() {
            bay.draft.lid = None;
            bay.act(Action::Lid(to));
        }
    }
    let may = !propped && !is_down;
    let at = foot - vec2(16.0, 46.0);
    let words = Words {
        label: t.say(if is_door { "lid-secure" } else { "lid-prop" }),
        at,
        align: Align::Max,
        wide: HINGE - 34.0,
    };
    let drawn = ring(ui, palette, foot + (rod[1] - rod[0]).normalized() * 38.0, may);
    if touch(ui, palette, drawn, &words, may).clicked() {
        bay.act(Action::Precaution(Precaution::PropLid));
    }
}

/// The edge of the sill.
fn sill(hinge: Pos2) -> Pos2 {
    hinge + along(0.0) * LONG + vec2(2.0, 7.0)
}

/// What stands still: the edge of the roof or of the side wall, the sill with the striker.
fn body(brush: &Brush<'_>, outer: Rect, hinge: Pos2) {
    let low = sill(hinge);
    let left = outer.left() + 6.0;
    let upper = [
        pos2(left, hinge.y - 5.0),
        hinge - vec2(6.0, 5.0),
        hinge + vec2(-2.0, 4.0),
        pos2(left, hinge.y + 5.0),
    ];
    brush.shape(&upper, "face-top");
    let lower = [pos2(left, low.y), low, low + vec2(-4.0, 14.0), pos2(left, low.y + 14.0)];
    brush.shape(&lower, "face-top");
    brush.line(&[low - vec2(5.0, 0.0), low - vec2(5.0, 9.0)], 4.0, "face-rim");
}

/// The lid as a plate, with its latch at its edge.
fn plate(brush: &Brush<'_>, hinge: Pos2, degrees: f32) {
    let along = along(degrees);
    let out = vec2(along.y, -along.x);
    let end = hinge + along * LONG;
    brush.shape(&[hinge - out, hinge + out * 8.0, end + out * 5.0, end - out], "battery-lid");
    let edge = end - along * 12.0;
    brush.shape(&[edge - out * 7.0, edge, end, end - out * 7.0], "strut-rod");
    brush.disc(hinge, 4.5, "strut-sheen");
}

/// The edge in the hand: it is let go where the lid is to be held.
fn hold(ui: &egui::Ui, bay: &mut Bay, tip: Pos2, hinge: Pos2) {
    let grip = ui.interact(
        Rect::from_center_size(tip, Vec2::splat(34.0)),
        Id::new("edge of the lid"),
        // The slider is the keyboard's way.
        Sense::DRAG,
    );
    if let Some(pointer) = grip.interact_pointer_pos().filter(|_| grip.dragged() || grip.drag_stopped()) {
        let full = bay.vehicle().lid.full_degrees;
        let way = degrees_toward(pointer - hinge).clamp(f32::from(LEAST_DEGREES.min(full)), f32::from(full));
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held to a lid's angles")]
        let degrees = way.round() as u8;
        bay.draft.lid = Some(degrees);
        if grip.drag_stopped() {
            bay.act(Action::Lid(LidTo::Angle(degrees)));
        }
    }
    if grip.hovered() || grip.dragged() {
        ui.ctx().set_cursor_icon(egui::CursorIcon::Grab);
    }
}

/// What is done to the whole rear, by what lies there for it.
fn rear(ui: &mut egui::Ui, bay: &mut Bay, palette: &Palette) {
    let t = bay.texts;
    let wide = (ui.available_width() - 2.0 * ui.spacing().item_spacing.x) / 3.0;
    ui.horizontal_top(|ui| {
        if thing(ui, palette, (t.say("lid-look"), wide), eye) {
            bay.act(Action::Observe);
        }
        if thing(ui, palette, (t.say("lid-wet"), wide), spray) {
            bay.act(Action::Wet);
        }
        if thing(ui, palette, (t.say("lid-dry"), wide), blower) {
            bay.act(Action::Dry);
        }
    });
    ui.horizontal_top(|ui| {
        for minutes in [5, 15, 60] {
            let label = say!(t, "lid-wait", minutes = minutes);
            if thing(ui, palette, (&label, wide), |brush, rect| clock(brush, rect, minutes)) {
                bay.act(Action::Wait(minutes));
            }
        }
    });
}

/// An eye.
fn eye(brush: &Brush<'_>, rect: Rect) {
    let at = rect.center();
    let arc = |bow: f32| -> Vec<Pos2> {
        (0_u8..=12)
            .map(|k| {
                let x = f32::from(k) / 6.0 - 1.0;
                at + vec2(x * 15.0, bow * (1.0 - x * x))
            })
            .collect()
    };
    let mut outline = arc(-10.0);
    outline.extend(arc(10.0).into_iter().rev());
    brush.shape(&outline, "letters-pale");
    brush.disc(at, 6.5, "face-top");
    brush.painter.circle_filled(at + vec2(-2.0, -2.0), 1.8, colour(brush.palette, "letters-pale"));
}

/// A spray bottle.
fn spray(brush: &Brush<'_>, rect: Rect) {
    let at = |x: f32, y: f32| rect.min + vec2(x, y);
    brush.shape(
        &[at(12.0, 15.0), at(20.0, 15.0), at(25.0, 22.0), at(25.0, 32.0), at(7.0, 32.0), at(7.0, 22.0)],
        "fuse-blue",
    );
    brush.block(Rect::from_min_max(at(12.0, 9.0), at(20.0, 15.0)), 1.0, "face-rim");
    brush.shape(&[at(8.0, 3.0), at(22.0, 3.0), at(22.0, 9.0), at(8.0, 9.0)], "mark-red");
    brush.line(&[at(9.0, 9.0), at(7.0, 14.0)], 2.5, "mark-red");
    for (x, y) in [(3.0, 2.0), (1.0, 6.0), (4.0, 9.0)] {
        brush.painter.circle_filled(at(x, y), 1.5, colour(brush.palette, "fuse-blue"));
    }
}

/// An air gun.
fn blower(brush: &Brush<'_>, rect: Rect) {
    let at = |x: f32, y: f32| rect.min + vec2(x, y);
    brush.shape(&[at(19.0, 14.0), at(27.0, 14.0), at(30.0, 32.0), at(22.0, 32.0)], "face-top");
    brush.block(Rect::from_min_max(at(12.0, 6.0), at(30.0, 17.0)), 4.0, "fuse-yellow");
    brush.block(Rect::from_min_max(at(7.0, 9.0), at(13.0, 14.0)), 1.0, "face-rim");
    for y in [7.0, 11.5, 16.0] {
        brush.line(&[at(0.0, y), at(5.0, 11.5 + (y - 11.5) * 0.6)], 1.5, "control-edge");
    }
}

/// A clock on which so many minutes of the hour are marked.
fn clock(brush: &Brush<'_>, rect: Rect, minutes: u8) {
    let at = rect.center();
    brush.disc(at, 14.0, "letters-pale");
    let share = f32::from(minutes.min(60)) / 60.0;
    let pieces = (share * 36.0).ceil().max(1.0);
    let turn = |k: f32| at + Vec2::angled((k / pieces * share - 0.25) * std::f32::consts::TAU) * 12.0;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "at most three dozen")]
    for k in 0..pieces as u8 {
        let fill = colour(brush.palette, "fuse-blue");
        let piece = vec![at, turn(f32::from(k)), turn(f32::from(k) + 1.0)];
        brush.painter.add(egui::Shape::convex_polygon(piece, fill, Stroke::new(0.5, fill)));
    }
    brush.line(&[at, at - vec2(0.0, 10.0)], 2.0, "letters-dark");
    brush.line(&[at, turn(pieces)], 2.0, "letters-dark");
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_angle_to_which_the_edge_is_dragged_is_the_one_at_which_it_is_drawn() {
        for degrees in [0.0_f32, 12.0, 45.0, 80.0, 110.0] {
            assert!((degrees_toward(along(degrees) * LONG) - degrees).abs() < 1e-3, "{degrees}");
        }
    }
}
