//! Colours and text sizes of everything that is laid over the scene.

use std::sync::Arc;

use bevy::color::Srgba;
use bevy_egui::egui::{
    self, Color32, CornerRadius, FontFamily, FontId, Frame, Id, Margin, Order, Stroke, TextStyle, Visuals,
};
use egui_plot::AxisHints;

use super::scenery::Palette;
use super::settings::Light;

/// Text sizes in points; at 1280×720 a point is a pixel.
pub(super) const SMALL: f32 = 14.0;
pub(super) const BODY: f32 = 15.0;
pub(super) const TITLE: f32 = 18.0;

/// A window that is less high, in points, has large text: what does not have to be seen gives way there.
pub(super) const LOW: f32 = 500.0;
/// What a scroll bar takes, in points.
pub(super) const SCROLL_BAR: f32 = 8.0;
/// Of a card's corners, in points.
const CARD_RADIUS: u8 = 9;

/// A colour of the palette.
pub(super) fn colour(palette: &Palette, name: &str) -> Color32 {
    let Srgba { red, green, blue, alpha } = palette.get(name);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "from 0 to 255")]
    let byte = |share: f32| (share.clamp(0.0, 1.0) * 255.0).round() as u8;
    Color32::from_rgba_unmultiplied(byte(red), byte(green), byte(blue), byte(alpha))
}

/// What a button with these words takes, in points.
pub(super) fn button_size(ui: &egui::Ui, label: &str) -> egui::Vec2 {
    let font = TextStyle::Button.resolve(ui.style());
    let words = ui.painter().layout_no_wrap(label.to_owned(), font, Color32::PLACEHOLDER).size();
    let size = words + 2.0 * ui.spacing().button_padding;
    egui::vec2(size.x.ceil(), size.y.max(ui.spacing().interact_size.y))
}

/// An axis of a plot whose figures are all as dark as other words, or left out: by themselves they fade where they stand
/// close, and are too pale to be read.
pub(super) fn plain_axis<'a>(ui: &egui::Ui, axis: AxisHints<'a>, least_spacing: f32) -> AxisHints<'a> {
    axis.tick_label_color(ui.visuals().text_color()).label_spacing(least_spacing..=least_spacing + 0.1)
}

/// Sets text sizes, colours, and how long things take to move.
pub(super) fn dress(ctx: &egui::Context, palette: &Palette, light: Light, reduced_motion: bool) {
    ctx.global_style_mut(|style| {
        style.animation_time = if reduced_motion { 0.0 } else { 1.0 / 12.0 };
        style.text_styles = [
            (TextStyle::Small, FontId::new(SMALL, FontFamily::Proportional)),
            (TextStyle::Body, FontId::new(BODY, FontFamily::Proportional)),
            (TextStyle::Button, FontId::new(BODY, FontFamily::Proportional)),
            (TextStyle::Monospace, FontId::new(BODY, FontFamily::Monospace)),
            (TextStyle::Heading, FontId::new(TITLE, FontFamily::Proportional)),
        ]
        .into();
        let text = colour(palette, "card-text");
        style.visuals = match light {
            Light::Dim => Visuals::dark(),
            Light::Bright => Visuals::light(),
        };
        style.visuals.override_text_color = Some(text);
        style.visuals.weak_text_color = Some(colour(palette, "card-faint"));
        style.visuals.disabled_alpha = 0.65;
        style.visuals.panel_fill = colour(palette, "card");
        style.visuals.window_fill = colour(palette, "card");
        style.visuals.extreme_bg_color = colour(palette, "card-well");
        style.visuals.selection.bg_fill = colour(palette, "accent").gamma_multiply(0.38);
        let focus = Stroke::new(2.0, colour(palette, "card-focus"));
        style.visuals.selection.stroke = focus;
        for (widget, fill) in [
            (&mut style.visuals.widgets.inactive, "button"),
            (&mut style.visuals.widgets.hovered, "button-hovered"),
            (&mut style.visuals.widgets.active, "button-pressed"),
            (&mut style.visuals.widgets.open, "button"),
        ] {
            let fill = colour(palette, fill);
            widget.weak_bg_fill = fill;
            widget.bg_fill = fill;
            widget.fg_stroke.color = text;
            widget.corner_radius = CornerRadius::same(5);
        }
        style.visuals.widgets.hovered.bg_stroke = focus;
        // What can be ticked or pressed has an edge, and what can be scrolled shows it before it is touched.
        style.visuals.widgets.inactive.bg_stroke = Stroke::new(1.0, colour(palette, "control-edge"));
        // The bar says so: words that fade at the edge cannot be read.
        style.spacing.scroll.fade.strength = 0.0;
        style.spacing.scroll.dormant_handle_opacity = 0.7;
        style.spacing.scroll.dormant_background_opacity = 0.3;
        style.spacing.scroll.floating_width = 5.0;
        // Beside what is scrolled, not over its edge.
        style.spacing.scroll.floating_allocated_width = SCROLL_BAR;
        style.spacing.item_spacing = egui::vec2(8.0, 6.0);
        style.spacing.button_padding = egui::vec2(9.0, 4.0);
    });
}

/// The frame of a card: tools', connectors'.
pub(super) fn card_frame(palette: &Palette) -> Frame {
    Frame::new()
        .fill(colour(palette, "card"))
        .stroke(Stroke::new(1.5, colour(palette, "card-edge")))
        .corner_radius(CornerRadius::same(CARD_RADIUS))
        .inner_margin(Margin::same(12))
}

/// The frame of a sheet of paper.
pub(super) fn paper_frame(palette: &Palette) -> Frame {
    Frame::new()
        .fill(colour(palette, "paper"))
        .stroke(Stroke::new(1.0, colour(palette, "paper-faint")))
        .corner_radius(CornerRadius::same(3))
        .inner_margin(Margin::same(16))
}

/// Lays a soft shadow round each card that was open in the last frame, on the scene. egui's own would be painted under the whole
/// card, which takes as long as the card where there is no graphics card.
pub(super) fn shadows(ctx: &egui::Context, scene: &egui::Painter, palette: &Palette) {
    let dark = colour(palette, "card-shadow");
    let cards: Vec<egui::Rect> = ctx.memory(|memory| {
        let areas = memory.areas();
        let cards = areas.visible_layer_ids().into_iter().filter(|layer| {
            // The job sheet lies on its drawn board.
            matches!(layer.order, Order::Middle | Order::Foreground) && layer.id != Id::new("sheet")
        });
        cards.filter_map(|layer| memory.area_rect(layer.id)).collect()
    });
    for card in cards {
        scene.add(shadow(card.translate(egui::vec2(0.0, 4.0)), dark));
    }
}

/// A ring round a card, dark at its edge and fading outwards.
fn shadow(card: egui::Rect, dark: Color32) -> egui::Mesh {
    /// Points of each corner's arc.
    const STEPS: usize = 6;
    /// How far out, in points, and how dark there, as a share.
    const FADE: [(f32, f32); 4] = [(0.0, 0.51), (7.0, 0.282), (16.0, 0.086), (28.0, 0.0)];
    let radius = f32::from(CARD_RADIUS);
    let inner = card.shrink(radius);
    let corners = [inner.right_bottom(), inner.left_bottom(), inner.left_top(), inner.right_top()];
    let mut ring = egui::Mesh::default();
    for (quarter, corner) in corners.into_iter().enumerate() {
        for step in 0..=STEPS {
            let turn = quarter as f32 + step as f32 / STEPS as f32;
            let way = egui::Vec2::angled(turn * std::f32::consts::FRAC_PI_2);
            for (out, share) in FADE {
                ring.colored_vertex(corner + way * (radius + out), dark.gamma_multiply(share));
            }
        }
    }
    let (wide, around) = (FADE.len() as u32, 4 * (STEPS as u32 + 1));
    for one in 0..around {
        let (here, next) = (one * wide, (one + 1) % around * wide);
        for at in 0..wide - 1 {
            ring.add_triangle(here + at, next + at, next + at + 1);
            ring.add_triangle(here + at, next + at + 1, here + at + 1);
        }
    }
    ring
}

/// Dark text and pale controls, for what is written on paper.
pub(super) fn on_paper(ui: &mut egui::Ui, palette: &Palette) {
    let ink = colour(palette, "paper-ink");
    let visuals = ui.visuals_mut();
    visuals.override_text_color = Some(ink);
    visuals.weak_text_color = Some(colour(palette, "paper-faint"));
    visuals.extreme_bg_color = colour(palette, "paper-well");
    // What opens over a sheet is of paper, too.
    visuals.window_fill = colour(palette, "paper");
    visuals.window_stroke = Stroke::new(1.0, colour(palette, "paper-faint"));
    for (widget, fill) in [
        (&mut visuals.widgets.inactive, "paper-button"),
        (&mut visuals.widgets.hovered, "paper-button-hovered"),
        (&mut visuals.widgets.active, "paper-button-pressed"),
        (&mut visuals.widgets.open, "paper-button"),
    ] {
        let fill = colour(palette, fill);
        widget.weak_bg_fill = fill;
        widget.bg_fill = fill;
        widget.fg_stroke.color = ink;
    }
    visuals.widgets.inactive.bg_stroke = Stroke::new(1.0, colour(palette, "paper-faint").gamma_multiply(0.6));
    // The lines between parts of a sheet, alike in both rooms as the paper is.
    visuals.widgets.noninteractive.bg_stroke = visuals.widgets.inactive.bg_stroke;
    let focus = Stroke::new(2.0, colour(palette, "paper-focus"));
    visuals.selection.bg_fill = colour(palette, "paper-chosen");
    visuals.selection.stroke = focus;
    visuals.widgets.hovered.bg_stroke = focus;
}

/// Adds what has a figure to be written or dragged, so that the figure looks like a field and not like a button.
pub(super) fn figure<R>(ui: &mut egui::Ui, add: impl FnOnce(&mut egui::Ui) -> R) -> R {
    let before = Arc::clone(ui.style());
    let visuals = ui.visuals_mut();
    let well = visuals.extreme_bg_color;
    let widgets = &mut visuals.widgets;
    for widget in [&mut widgets.inactive, &mut widgets.hovered, &mut widgets.active, &mut widgets.open] {
        widget.weak_bg_fill = well;
        widget.corner_radius = CornerRadius::same(2);
    }
    let added = add(ui);
    ui.set_style(before);
    added
}

/// A size of letters that is whole pixels, no larger than this one: letters of every other size would be drawn, and kept, for
/// each step of a zoom.
pub(super) fn whole_pixels(painter: &egui::Painter, size: f32) -> f32 {
    let pixels_per_point = painter.ctx().pixels_per_point();
    (size * pixels_per_point).floor().max(1.0) / pixels_per_point
}
