//! The key in the hand, large: its buttons are pressed where they lie on it; below it lies its opened half with the cell.

use bevy_egui::egui::{self, Align, Pos2, Rect, Sense, Stroke, StrokeKind, pos2, vec2};
use probeworthy::bench::{Action, Repair};
use probeworthy::say;
use probeworthy::vehicle::{KeyButton, Point};
use probeworthy::words::lid_word;

use super::common::{drawn_point, leads_off, what_goes};
use super::drawn::{Brush, Words, thing, touch};
use crate::game::bay::Bay;
use crate::game::scenery::Palette;
use crate::game::theme::colour;

/// The fob's height and half of its width, in points.
const HIGH: f32 = 96.0;
const HALF: f32 = 146.0;
/// A button on it, from one to the next, and what its words take below the fob, in points.
const BUTTON: egui::Vec2 = vec2(50.0, 58.0);
const PITCH: f32 = 92.0;
const WORDS: f32 = 42.0;
/// The opened half's height, half of its width, and the cell's radius, in points.
const OPENED: egui::Vec2 = vec2(76.0, 74.0);
const CELL: f32 = 29.0;

pub(super) fn card(ui: &mut egui::Ui, bay: &mut Bay, palette: &Palette) {
    let t = bay.texts;
    fob(ui, bay, palette);
    ui.label(t.say("key-about"));
    opened(ui, bay, palette);
    let (cell, whole) = (bay.vehicle().key.cell_price, bay.vehicle().key.price);
    let wide = (ui.available_width() - ui.spacing().item_spacing.x) / 2.0;
    ui.horizontal_top(|ui| {
        if thing(ui, palette, (&say!(t, "key-new-cell", price = cell), wide), |brush, rect| {
            coin(brush, rect.center(), 15.0);
        }) {
            bay.act(Action::Repair(Repair::KeyCell));
        }
        if thing(ui, palette, (&say!(t, "key-new", price = whole), wide), |brush, rect| {
            let body = Rect::from_center_size(rect.center() - vec2(5.0, 0.0), vec2(22.0, 16.0));
            blade(brush, body.right_center() - vec2(2.0, 0.0), 12.0);
            brush.block(body, 7.0, "battery-lid");
            for k in [-1.0, 0.0, 1.0] {
                let one = Rect::from_center_size(body.center() + vec2(k * 6.0, 0.0), vec2(4.0, 7.0));
                brush.block(one, 1.5, "face-light");
            }
        }) {
            bay.act(Action::Repair(Repair::Key));
        }
    });
    what_goes(ui, bay);
    leads_off(ui, bay);
}

/// The fob from above with its three buttons.
fn fob(ui: &mut egui::Ui, bay: &mut Bay, palette: &Palette) {
    let t = bay.texts;
    let (outer, _) = ui.allocate_exact_size(vec2(ui.available_width(), HIGH + WORDS + 6.0), Sense::hover());
    let middle = pos2(outer.center().x, outer.top() + HIGH / 2.0 + 1.0);
    let brush = Brush { painter: ui.painter(), palette };
    let body = Rect::from_center_size(middle, vec2(2.0 * HALF, HIGH));
    // What it hangs on, and the blade that folds out of it.
    let ring = pos2(body.left() - 10.0, middle.y);
    ui.painter().circle_stroke(ring, 17.0, Stroke::new(4.0, colour(palette, "face-rim")));
    blade(&brush, pos2(body.right() - 4.0, middle.y), (outer.right() - body.right()).clamp(20.0, 60.0));
    brush.block(body, 40.0, "battery-lid");
    let rim = Stroke::new(1.5, colour(palette, "face-light"));
    ui.painter().rect_stroke(body.shrink(5.0), 36.0, rim, StrokeKind::Middle);
    let release = say!(t, "key-release", lid = lid_word(t, bay.vehicle()));
    for (k, button, label, fill) in [
        (-1.0, KeyButton::Lock, t.say("key-lock"), "face-light"),
        (0.0, KeyButton::Unlock, t.say("key-unlock"), "face-light"),
        (1.0, KeyButton::Release, release.as_str(), "mark-red"),
    ] {
        let centre = middle + vec2(k * PITCH, 0.0);
        let rect = Rect::from_center_size(centre, BUTTON);
        let brush = Brush { painter: ui.painter(), palette };
        brush.block(rect, 14.0, fill);
        let from = pos2(centre.x, rect.bottom());
        brush.line(&[from, pos2(centre.x, body.bottom() + 5.0)], 1.0, "face-rim");
        sign(&brush, button, centre);
        let words =
            Words { label, at: pos2(centre.x, body.bottom() + 6.0), align: Align::Center, wide: PITCH - 8.0 };
        if touch(ui, palette, rect, &words, true).clicked() {
            bay.act(Action::Key(button));
        }
    }
}

/// What a button has on it: a padlock shut or open, or a lid that stands up.
fn sign(brush: &Brush<'_>, button: KeyButton, at: Pos2) {
    let line = |points: &[(f32, f32)]| {
        let points: Vec<Pos2> = points.iter().map(|(x, y)| at + vec2(*x, *y)).collect();
        brush.line(&points, 2.5, "mark-text");
    };
    match button {
        KeyButton::Lock | KeyButton::Unlock => {
            line(&[(-9.0, 1.0), (9.0, 1.0), (9.0, 13.0), (-9.0, 13.0), (-9.0, 1.0)]);
            let end = if button == KeyButton::Lock { 1.0 } else { -4.0 };
            line(&[(-6.0, 1.0), (-6.0, -7.0), (-3.0, -11.0), (3.0, -11.0), (6.0, -7.0), (6.0, end)]);
        }
        KeyButton::Release => {
            line(&[(8.0, 12.0), (-11.0, 12.0), (-11.0, 3.0), (-4.0, -4.0)]);
            line(&[(-4.0, -4.0), (11.0, -9.0)]);
        }
    }
}

/// A blade with its teeth, from where it comes out to its tip.
fn blade(brush: &Brush<'_>, from: Pos2, long: f32) {
    let half = (long * 0.16).clamp(2.5, 8.0);
    let corners = [
        from - vec2(0.0, half),
        from + vec2(long - half, -half),
        from + vec2(long, 0.0),
        from + vec2(long - half, half),
        from + vec2(0.0, half),
    ];
    brush.shape(&corners, "battery-post");
    let teeth: Vec<Pos2> = (0_u8..6)
        .map(|k| from + vec2(long * (0.2 + 0.12 * f32::from(k)), half * if k % 2 == 0 { 0.2 } else { 0.8 }))
        .collect();
    brush.line(&teeth, 1.5, "face-light");
}

/// A coin cell from its plus side.
fn coin(brush: &Brush<'_>, at: Pos2, radius: f32) {
    brush.disc(at, radius, "battery-post");
    brush.painter.circle_stroke(at, radius * 0.84, Stroke::new(1.0, colour(brush.palette, "face-light")));
    let arm = radius * 0.3;
    brush.line(&[at - vec2(arm, 0.0), at + vec2(arm, 0.0)], 2.0, "face-shade");
    brush.line(&[at - vec2(0.0, arm), at + vec2(0.0, arm)], 2.0, "face-shade");
}

/// The opened half: the cell lies in it between its two contacts, which are measured at.
fn opened(ui: &mut egui::Ui, bay: &mut Bay, palette: &Palette) {
    let t = bay.texts;
    let (outer, _) = ui.allocate_exact_size(vec2(ui.available_width(), OPENED.y + 6.0), Sense::hover());
    let middle = pos2(outer.center().x, outer.center().y);
    let brush = Brush { painter: ui.painter(), palette };
    let shell = Rect::from_center_size(middle, vec2(2.0 * OPENED.x, OPENED.y));
    brush.block(shell, 30.0, "battery-lid");
    brush.block(shell.shrink(6.0), 26.0, "face-shade");
    coin(&brush, middle, CELL);
    for (point, id, side) in [(Point::KeyMinus, "key-minus", -1.0), (Point::KeyPlus, "key-plus", 1.0)] {
        let label = t.say(id);
        // A spring of sheet metal that lies on the cell's edge.
        let tip = middle + vec2(side * (CELL - 5.0), 0.0);
        let foot = middle + vec2(side * (OPENED.x - 12.0), 0.0);
        let brush = Brush { painter: ui.painter(), palette };
        let half = vec2(0.0, 7.0);
        brush.shape(&[tip - half * 0.6, foot - half, foot + half, tip + half * 0.6], "brass");
        let drawn = Rect::from_two_pos(tip - vec2(0.0, 12.0), foot + vec2(0.0, 12.0));
        let edge = middle.x + side * (OPENED.x + 6.0);
        let room = if side < 0.0 { edge - outer.left() } else { outer.right() - edge } - 4.0;
        let align = if side < 0.0 { Align::Max } else { Align::Min };
        let words = Words { label, at: pos2(edge, middle.y - 17.0), align, wide: room };
        let touched = touch(ui, palette, drawn, &words, bay.hand.goes_to_a_point());
        drawn_point(ui, bay, palette, touched, (point, label), drawn.left_top());
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use egui_kittest::kittest::Queryable;
    use probeworthy::bench::Lead;
    use probeworthy::scenario::load;

    use super::*;
    use crate::game::bay::{Hand, Place};
    use crate::game::by_keys::{wait, window};

    #[test]
    fn the_drawn_keys_buttons_are_pressed_and_its_cell_is_measured_by_touch() {
        let scenario = load("first-fuse").expect("it is on the shelf").scenario;
        let mut harness = window(Bay::new(Arc::new(scenario), None, 1));
        let harness = &mut harness;
        wait(harness);
        harness.state_mut().bay.open = Some(Place::Key);
        harness.run_steps(3);
        for (label, button) in [("Lock", KeyButton::Lock), ("Unlock", KeyButton::Unlock)] {
            harness.get_by_label(label).click();
            wait(harness);
            let job = harness.state().bay.job.as_ref().expect("a job");
            assert_eq!(job.log().last().expect("a step").action, Action::Key(button));
        }
        let kit = |harness: &egui_kittest::Harness<'_, crate::game::by_keys::Window>| {
            harness.state().bay.job.as_ref().expect("a job").scene().kit().meter.red
        };
        for (label, point) in
            [("Plus contact of the cell", Point::KeyPlus), ("Minus contact of the cell", Point::KeyMinus)]
        {
            harness.state_mut().bay.hand = Hand::Probe(Lead::Red);
            harness.run_steps(2);
            harness.get_by_label(label).click();
            wait(harness);
            assert_eq!(kit(harness), Some(point));
        }
    }
}
