//! What is in hand, drawn at the pointer over everything else, so that it shows what a touch will do.

use bevy_egui::egui::{
    self, Align2, Color32, CursorIcon, FontFamily, FontId, Id, LayerId, Order, Pos2, Shape, Stroke, Vec2,
    vec2,
};
use probeworthy::bench::{Lead, Tool};

use super::bay::{Bay, Hand};
use super::scenery::Palette;
use super::theme::{SMALL, colour};

/// From the tip along the tool, and across it: it comes from the upper right, as in a right hand.
const ALONG: Vec2 = Vec2::new(0.56, -0.83);
const ACROSS: Vec2 = Vec2::new(0.83, 0.56);

/// Where its lead leaves it, from the tip, in points.
const TAIL: f32 = 60.0;

/// Where the lead of what is in hand ends, with the tip at the pointer.
pub(super) fn lead_end(tip: Pos2) -> Pos2 {
    tip + ALONG * TAIL
}

/// Draws it.
pub(super) fn show(ctx: &egui::Context, bay: &Bay, palette: &Palette) {
    let Some(tip) = ctx.pointer_hover_pos().filter(|_| bay.hand != Hand::Empty) else { return };
    ctx.set_cursor_icon(CursorIcon::Crosshair);
    let painter = ctx.layer_painter(LayerId::new(Order::Tooltip, Id::new("in hand")));
    let (red, black) = (colour(palette, "lead-red"), colour(palette, "lead-black"));
    match bay.hand {
        Hand::Empty => {}
        Hand::Probe(Lead::Red) => probe(&painter, tip, red, "+", palette),
        Hand::Probe(Lead::Black) => probe(&painter, tip, black, "−", palette),
        Hand::Clip(Tool::Bridge, first) => {
            let sign = if first.is_none() { "1" } else { "2" };
            clip(&painter, tip, colour(palette, "lead-bridge"), sign, palette);
        }
        Hand::Clip(_, None) | Hand::Recorder(None) => clip(&painter, tip, red, "+", palette),
        Hand::Clip(_, Some(_)) | Hand::Recorder(Some(_)) => clip(&painter, tip, black, "−", palette),
        Hand::Clamp => clamp(&painter, tip, palette),
    }
}

/// A needle with a long grip, and which of the two it is.
fn probe(painter: &egui::Painter, tip: Pos2, fill: Color32, sign: &str, palette: &Palette) {
    let outline = Stroke::new(1.5, colour(palette, "wire-outline"));
    let at = |along: f32, across: f32| tip + ALONG * along + ACROSS * across;
    painter.line_segment([tip, at(17.0, 0.0)], Stroke::new(4.0, outline.color));
    painter.line_segment([tip, at(17.0, 0.0)], Stroke::new(2.0, colour(palette, "probe-needle")));
    let grip =
        vec![at(22.0, -4.5), at(62.0, -5.5), at(66.0, -3.0), at(66.0, 3.0), at(62.0, 5.5), at(22.0, 4.5)];
    painter.add(Shape::convex_polygon(grip, fill, outline));
    let guard =
        vec![at(15.0, -2.5), at(21.0, -7.0), at(24.0, -7.0), at(24.0, 7.0), at(21.0, 7.0), at(15.0, 2.5)];
    painter.add(Shape::convex_polygon(guard, fill, outline));
    for along in [32.0, 37.0, 42.0] {
        painter.line_segment([at(along, -4.5), at(along, 4.5)], Stroke::new(1.0, outline.color));
    }
    label(painter, at(55.0, 0.0), sign);
}

/// A crocodile clip, its jaws a little open.
fn clip(painter: &egui::Painter, tip: Pos2, fill: Color32, sign: &str, palette: &Palette) {
    let outline = Stroke::new(1.5, colour(palette, "wire-outline"));
    let metal = colour(palette, "probe-needle");
    let at = |along: f32, across: f32| tip + ALONG * along + ACROSS * across;
    for side in [-1.0, 1.0] {
        let jaw = vec![at(-2.0, side * 3.0), at(20.0, side * 7.0), at(22.0, side * 1.5), at(4.0, side * 1.0)];
        painter.add(Shape::convex_polygon(jaw, metal, outline));
    }
    let boot = vec![at(18.0, -8.0), at(50.0, -6.0), at(54.0, 0.0), at(50.0, 6.0), at(18.0, 8.0)];
    painter.add(Shape::convex_polygon(boot, fill, outline));
    label(painter, at(38.0, 0.0), sign);
}

/// A ring of two jaws with a grip, and the arrow that tells which way the current counts.
fn clamp(painter: &egui::Painter, tip: Pos2, palette: &Palette) {
    let outline = colour(palette, "wire-outline");
    let metal = colour(palette, "strut-sheen");
    let at = |along: f32, across: f32| tip + ALONG * along + ACROSS * across;
    for (width, line) in [(9.0, outline), (6.0, metal)] {
        for side in [-1.0, 1.0] {
            let jaw = (0..=12_u8).map(|k| {
                let turn = 0.25 + f32::from(k) / 12.0 * 2.6;
                at(2.0 - 15.0 * turn.cos(), side * 15.0 * turn.sin())
            });
            painter.line(jaw.collect(), Stroke::new(width, line));
        }
    }
    let grip = vec![at(16.0, -7.0), at(54.0, -8.0), at(58.0, 0.0), at(54.0, 8.0), at(16.0, 7.0)];
    painter.add(Shape::convex_polygon(grip, colour(palette, "probe-grip"), Stroke::new(1.5, outline)));
    painter.arrow(at(46.0, 0.0), -ALONG * 22.0, Stroke::new(2.0, colour(palette, "accent")));
}

fn label(painter: &egui::Painter, at: Pos2, sign: &str) {
    let font = FontId::new(SMALL, FontFamily::Proportional);
    painter.text(at + vec2(0.0, -0.5), Align2::CENTER_CENTER, sign, font, Color32::WHITE);
}
