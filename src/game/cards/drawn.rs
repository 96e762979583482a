//! Drawn things that are touched: each is a button for the keyboard and for a screen reader, with its words beside it.

use std::sync::Arc;

use bevy_egui::egui::text::LayoutJob;
use bevy_egui::egui::{
    self, Align, Align2, FontFamily, FontId, Galley, Painter, Pos2, Rect, Response, Sense, Stroke,
    StrokeKind, Vec2, WidgetInfo, WidgetType, pos2, vec2,
};

use crate::game::scenery::Palette;
use crate::game::theme::{SMALL, colour};

/// Width and height of what is touched, in points, at least (WCAG 2.2, 2.5.8: published).
const LEAST: f32 = 24.0;
/// The ring on a place that is touched, in points.
const RING: f32 = 6.0;

/// The words of a thing: from which point they run down, to which side, and how wide their lines are at most.
pub(super) struct Words<'a> {
    pub(super) label: &'a str,
    pub(super) at: Pos2,
    pub(super) align: Align,
    pub(super) wide: f32,
}

impl Words<'_> {
    fn laid(&self, ui: &egui::Ui, palette: &Palette) -> Arc<Galley> {
        let font = FontId::new(SMALL, FontFamily::Proportional);
        let mut job = LayoutJob::simple(self.label.to_owned(), font, colour(palette, "card-text"), self.wide);
        job.halign = self.align;
        ui.painter().layout_job(job)
    }

    /// What they take.
    fn rect(&self, galley: &Galley) -> Rect {
        galley.rect.translate(self.at.to_vec2())
    }
}

/// Makes what is drawn in a rectangle, with its words, a button. What cannot be done now is pale.
pub(super) fn touch(
    ui: &egui::Ui,
    palette: &Palette,
    drawn: Rect,
    words: &Words<'_>,
    enabled: bool,
) -> Response {
    let galley = words.laid(ui, palette);
    let said = words.rect(&galley).expand(2.0);
    let least = Rect::from_center_size(drawn.center(), Vec2::splat(LEAST));
    let rect = if drawn.width().min(drawn.height()) < LEAST { drawn.union(least) } else { drawn }.union(said);
    let sense = if enabled { Sense::click() } else { Sense::hover() };
    let touched = ui.interact(rect, ui.id().with(words.label), sense);
    touched.widget_info(|| WidgetInfo::labeled(WidgetType::Button, enabled, words.label));
    let mut painter = ui.painter().clone();
    if !enabled {
        painter.multiply_opacity(ui.visuals().disabled_alpha());
    } else if touched.hovered() || touched.has_focus() {
        let name = if touched.has_focus() { "focus" } else { "accent" };
        let line = Stroke::new(2.0, colour(palette, name));
        painter.rect_stroke(rect.expand(1.0), 5.0, line, StrokeKind::Inside);
    }
    painter.galley(words.at, galley, colour(palette, "card-text"));
    touched
}

/// A ring on a place of a picture that can be touched, and what it takes. Where that cannot be done now it is thin and pale.
pub(super) fn ring(ui: &egui::Ui, palette: &Palette, at: Pos2, enabled: bool) -> Rect {
    let rect = Rect::from_center_size(at, Vec2::splat(2.0 * RING + 2.0));
    if enabled {
        ui.painter().circle_stroke(at, RING, Stroke::new(4.0, colour(palette, "sign-rim")));
        ui.painter().circle_stroke(at, RING, Stroke::new(2.0, colour(palette, "accent")));
    } else {
        ui.painter().circle_stroke(at, RING - 1.0, Stroke::new(1.0, colour(palette, "control-edge")));
    }
    rect
}

/// The name of something that is only looked at: faint, with a line to it. Where the name stands, and by which of its corners.
pub(super) fn named(ui: &egui::Ui, palette: &Palette, thing: Pos2, name: &str, (at, align): (Pos2, Align2)) {
    let faint = colour(palette, "card-faint");
    let font = FontId::new(SMALL, FontFamily::Proportional);
    let words = ui.painter().text(at, align, name, font, faint);
    let end = words.expand(2.0).clamp(thing);
    ui.painter().line_segment([end, thing], Stroke::new(1.0, faint));
    ui.painter().circle_filled(thing, 1.8, faint);
}

/// What a thing's picture takes beside its words, in points.
const PICTURE: Vec2 = vec2(34.0, 34.0);

/// A thing that lies there with its words at its right; whether it was touched.
pub(super) fn thing(
    ui: &mut egui::Ui,
    palette: &Palette,
    (label, wide): (&str, f32),
    draw: impl FnOnce(&Brush<'_>, Rect),
) -> bool {
    let said = Words { label, at: Pos2::ZERO, align: Align::Min, wide: wide - PICTURE.x - 10.0 };
    let high = said.laid(ui, palette).size().y;
    let (rect, _) = ui.allocate_exact_size(vec2(wide, high.max(PICTURE.y) + 4.0), Sense::hover());
    let picture = Rect::from_min_size(pos2(rect.left() + 2.0, rect.center().y - PICTURE.y / 2.0), PICTURE);
    draw(&Brush { painter: ui.painter(), palette }, picture);
    let at = pos2(picture.right() + 6.0, rect.center().y - high / 2.0);
    touch(ui, palette, picture, &Words { at, ..said }, true).clicked()
}

/// Draws small things in lines as thick as each other.
pub(super) struct Brush<'a> {
    pub(super) painter: &'a Painter,
    pub(super) palette: &'a Palette,
}

impl Brush<'_> {
    /// The outline of what is drawn: it is seen on a card in both rooms.
    pub(super) fn edge(&self) -> Stroke {
        Stroke::new(1.5, colour(self.palette, "control-edge"))
    }

    /// A filled shape without dents.
    pub(super) fn shape(&self, corners: &[Pos2], fill: &str) {
        let fill = colour(self.palette, fill);
        self.painter.add(egui::Shape::convex_polygon(corners.to_vec(), fill, self.edge()));
    }

    /// A rectangle with round corners.
    pub(super) fn block(&self, rect: Rect, round: f32, fill: &str) {
        self.painter.rect(rect, round, colour(self.palette, fill), self.edge(), StrokeKind::Middle);
    }

    /// A line through points.
    pub(super) fn line(&self, points: &[Pos2], wide: f32, ink: &str) {
        self.painter.line(points.to_vec(), Stroke::new(wide, colour(self.palette, ink)));
    }

    /// A filled circle.
    pub(super) fn disc(&self, at: Pos2, radius: f32, fill: &str) {
        self.painter.circle(at, radius, colour(self.palette, fill), self.edge());
    }
}
