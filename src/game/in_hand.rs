//! What is in hand, drawn at the pointer over everything else, so that it shows what a touch will do.

use bevy_egui::egui::{
    self, Align2, Color32, CursorIcon, FontFamily, FontId, Id, LayerId, Order, Pos2, Rect, Shape, Stroke,
    Vec2, vec2,
};
use probeworthy::bench::{Lead, Tool};

use super::bay::{Bay, Hand};
use super::hand_tools::HandTool;
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

/// What it covers, if there is anything in hand.
pub(super) fn covers(ctx: &egui::Context, bay: &Bay) -> Option<Rect> {
    let tip = ctx.pointer_hover_pos().filter(|_| bay.hand != Hand::Empty)?;
    Some(Rect::from_two_pos(tip + ALONG * 8.0, tip + ALONG * TAIL).expand(10.0))
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
        Hand::Tool(HandTool::Trim) => trim_tool(&painter, tip, palette),
        Hand::Tool(HandTool::Repair) => pliers(&painter, tip, palette),
        Hand::Tool(HandTool::Cleaner) => spray_can(&painter, tip, palette),
    }
}

/// A lever with a forked tip.
fn trim_tool(painter: &egui::Painter, tip: Pos2, palette: &Palette) {
    let outline = Stroke::new(1.5, colour(palette, "wire-outline"));
    let metal = colour(palette, "probe-needle");
    let at = |along: f32, across: f32| tip + ALONG * along + ACROSS * across;
    for side in [-1.0, 1.0] {
        let prong = vec![
            at(-2.0, side * 7.0),
            at(1.0, side * 3.5),
            at(12.0, side * 1.0),
            at(16.0, 0.0),
            at(16.0, side * 5.5),
        ];
        painter.add(Shape::convex_polygon(prong, metal, outline));
    }
    let blade = vec![at(15.0, -5.0), at(34.0, -3.5), at(34.0, 3.5), at(15.0, 5.0)];
    painter.add(Shape::convex_polygon(blade, metal, outline));
    let grip =
        vec![at(32.0, -6.0), at(74.0, -6.5), at(79.0, -3.0), at(79.0, 3.0), at(74.0, 6.5), at(32.0, 6.0)];
    painter.add(Shape::convex_polygon(grip, colour(palette, "tool-grip"), outline));
    for along in [42.0, 48.0, 54.0, 60.0] {
        painter.line_segment([at(along, -4.0), at(along, 4.0)], Stroke::new(1.5, outline.color));
    }
}

/// Crimping pliers with a sleeve between their jaws.
fn pliers(painter: &egui::Painter, tip: Pos2, palette: &Palette) {
    let outline = Stroke::new(1.5, colour(palette, "wire-outline"));
    let at = |along: f32, across: f32| tip + ALONG * along + ACROSS * across;
    for side in [-1.0, 1.0] {
        let jaw = vec![at(-3.0, side * 2.5), at(4.0, side * 8.0), at(24.0, side * 7.0), at(24.0, 0.0)];
        painter.add(Shape::convex_polygon(jaw, colour(palette, "strut-sheen"), outline));
    }
    let sleeve = vec![at(-1.0, -10.0), at(7.0, -10.0), at(7.0, 10.0), at(-1.0, 10.0)];
    painter.add(Shape::convex_polygon(sleeve, colour(palette, "wire-BU"), outline));
    painter.line_segment([at(3.0, -17.0), at(3.0, -10.0)], Stroke::new(3.0, colour(palette, "wire-RD")));
    painter.line_segment([at(3.0, 10.0), at(3.0, 17.0)], Stroke::new(3.0, colour(palette, "wire-RD")));
    for side in [-1.0, 1.0] {
        let handle = vec![
            at(22.0, side * 1.0),
            at(26.0, side * 6.0),
            at(70.0, side * 12.0),
            at(74.0, side * 8.0),
            at(70.0, side * 6.0),
        ];
        painter.add(Shape::convex_polygon(handle, colour(palette, "lead-red"), outline));
    }
    painter.circle(at(24.0, 0.0), 4.0, colour(palette, "probe-needle"), outline);
}

/// A spray can, its thin tube at the tip.
fn spray_can(painter: &egui::Painter, tip: Pos2, palette: &Palette) {
    let outline = Stroke::new(1.5, colour(palette, "wire-outline"));
    let at = |along: f32, across: f32| tip + ALONG * along + ACROSS * across;
    painter.line_segment([tip, at(34.0, 0.0)], Stroke::new(4.5, outline.color));
    painter.line_segment([tip, at(34.0, 0.0)], Stroke::new(2.5, colour(palette, "wire-OG")));
    // It stands upright, whatever way the tube points.
    let top = at(34.0, 0.0);
    let rect = |x: f32, y: f32, wide: f32, high: f32| Rect::from_min_size(top + vec2(x, y), vec2(wide, high));
    let inside = egui::StrokeKind::Middle;
    painter.rect(rect(-4.0, -5.0, 10.0, 9.0), 2.0, colour(palette, "lead-red"), outline, inside);
    painter.rect(rect(-5.0, 4.0, 13.0, 7.0), 2.0, colour(palette, "strut-sheen"), outline, inside);
    painter.rect(rect(-10.0, 11.0, 24.0, 42.0), 5.0, colour(palette, "wire-TQ"), outline, inside);
    painter.rect(rect(-10.0, 22.0, 24.0, 18.0), 0.0, colour(palette, "paper"), outline, inside);
    painter.circle_filled(top + vec2(2.0, 31.0), 4.5, colour(palette, "wire-BU"));
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
    label(painter, at(55.0, 0.0), sign, fill, palette);
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
    label(painter, at(38.0, 0.0), sign, fill, palette);
}

/// A ring of two jaws with a grip, and the arrow that tells which way the current counts.
fn clamp(painter: &egui::Painter, tip: Pos2, palette: &Palette) {
    let outline = colour(palette, "wire-outline");
    let metal = colour(palette, "clamp-jaws");
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

/// Which one it is, in letters that stand out from what it is made of.
fn label(painter: &egui::Painter, at: Pos2, sign: &str, fill: Color32, palette: &Palette) {
    let [red, green, blue, _] = fill.to_array().map(u32::from);
    let ink = if 3 * red + 6 * green + blue > 1200 { "letters-dark" } else { "letters-pale" };
    let font = FontId::new(SMALL, FontFamily::Proportional);
    painter.text(at + vec2(0.0, -0.5), Align2::CENTER_CENTER, sign, font, colour(palette, ink));
}
