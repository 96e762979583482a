//! What is written on the drawn scene: the displays, the number plate, and small plates that name things.

use std::sync::Arc;

use bevy::prelude::Vec2;
use bevy_egui::egui::{
    self, Align2, Color32, FontFamily, FontId, Galley, Id, Pos2, Rect, Sense, Stroke, WidgetInfo, WidgetType,
    vec2,
};
use probeworthy::bench::MeterSetting;
use probeworthy::say;
use probeworthy::words;

use super::bay::Bay;
use super::cards::card_id;
use super::overlay::{Place2d, laid};
use super::scenery::{Anchors, Palette, is_drawn};
use super::signs::{apart, clear_of, near, passes};
use super::spots::SIGN;
use super::theme::{self, SMALL, colour};

/// The number plate's letters: invented, like the car.
pub(super) fn plate(ui: &egui::Ui, place: &Place2d<'_>, anchors: &Anchors, palette: &Palette) {
    if let Some(at) = anchors.design("plate-text").filter(|at| at.visible) {
        let rect = place.rect(at.centre, at.size);
        // On a door that is turned the plate is narrow.
        let size = (rect.height() * 0.72).min(rect.width() / 5.2).min(40.0);
        // Too small to be read they would stand over its edges.
        if size < 4.0 {
            return;
        }
        let size = theme::whole_pixels(ui.painter(), size);
        let font = FontId::new(size, FontFamily::Monospace);
        ui.painter().text(
            rect.center(),
            Align2::CENTER_CENTER,
            "TRN 0412",
            font,
            colour(palette, "plate-ink"),
        );
    }
}

/// The meter's display and the words around its switch.
pub(super) fn meter_face(
    ui: &egui::Ui,
    bay: &Bay,
    place: &Place2d<'_>,
    anchors: &Anchors,
    palette: &Palette,
) {
    let Some(job) = &bay.job else { return };
    let t = bay.texts;
    let meter = &job.scene().kit().meter;
    let Some(at) = anchors.design("meter-display") else { return };
    let rect = place.rect(at.centre, at.size);
    let ink = colour(palette, "display-ink");
    let reading = job.scene().rest().reading.clone();
    let big = bay.meter_display().map(|display| display.to_string()).unwrap_or_default();
    let painter = ui.painter().with_clip_rect(rect);
    let size = fit(&painter, &big, rect.width() - 10.0, 30.0);
    let font = FontId::new(size, FontFamily::Monospace);
    painter.text(rect.right_bottom() - vec2(6.0, 2.0), Align2::RIGHT_BOTTOM, &big, font, ink);
    let mut notes = Vec::new();
    if meter.setting != MeterSetting::Off {
        if meter.capture {
            let held = reading.as_ref().and_then(|reading| reading.held);
            notes.push(held.map_or(t.say("display-holds").to_owned(), |(least, greatest)| {
                say!(t, "display-held", least = least.to_string(), greatest = greatest.to_string())
            }));
        }
        if bay.meter_tone() {
            notes.push(t.say("display-tone").to_owned());
        }
    }
    let notes = notes.join("  ");
    let wide =
        painter.layout_no_wrap(notes.clone(), FontId::new(SMALL, FontFamily::Proportional), ink).size().x;
    let size = SMALL * ((rect.width() - 10.0) / wide.max(1.0)).min(1.0);
    let size = theme::whole_pixels(&painter, size);
    let font = FontId::new(size, FontFamily::Proportional);
    painter.text(rect.left_top() + vec2(6.0, 2.0), Align2::LEFT_TOP, &notes, font, ink);
    let shown = if big.is_empty() {
        t.say("spot-meter-off").to_owned()
    } else {
        say!(t, "near-meter", reading = big)
    };
    let shown = if notes.is_empty() { shown } else { say!(t, "display-with", reading = shown, more = notes) };
    told(ui, Id::new("on the meter"), rect, &shown);
}

/// Tells a screen reader what is painted somewhere.
fn told(ui: &egui::Ui, id: Id, rect: Rect, text: &str) {
    let painted = ui.interact(rect, id, Sense::hover());
    painted.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, text));
}

/// The clamp's display, on the clamp.
pub(super) fn clamp_face(
    ui: &egui::Ui,
    bay: &Bay,
    place: &Place2d<'_>,
    anchors: &Anchors,
    palette: &Palette,
) {
    let clamp = bay.job.as_ref().and_then(|job| job.scene().rest().clamp.clone());
    let (Some(clamp), Some(at)) = (clamp, anchors.design("clamp-display")) else { return };
    // Out of view it would be held at the window's edge.
    if !ui.max_rect().contains(place.at(at.centre)) {
        return;
    }
    let shown = tag(ui, place.at(at.centre), &clamp.now.to_string(), palette, false);
    told(
        ui,
        Id::new("on the clamp"),
        shown,
        &say!(bay.texts, "caption-clamp", reading = clamp.now.to_string()),
    );
}

/// The largest size up to `most` at which monospaced text is no wider than `width`.
fn fit(painter: &egui::Painter, text: &str, width: f32, most: f32) -> f32 {
    let font = FontId::new(most, FontFamily::Monospace);
    let wide = painter.layout_no_wrap(text.to_owned(), font, Color32::PLACEHOLDER).size().x;
    theme::whole_pixels(painter, if wide > width { most * width / wide } else { most })
}

/// Says what the car is, where the drawing is another's.
pub(super) fn borrowed_drawing(
    ui: &egui::Ui,
    bay: &Bay,
    place: &Place2d<'_>,
    anchors: &Anchors,
    palette: &Palette,
) {
    let vehicle = bay.vehicle();
    let Some(at) = anchors.design("side-view").filter(|_| !is_drawn(&vehicle.id)) else { return };
    let below = place.at(at.centre + Vec2::new(0.0, at.size.y / 2.0)) + vec2(0.0, 22.0);
    tag(ui, below, bay.texts.title(&vehicle.title), palette, true);
    tag(ui, below + vec2(0.0, 26.0), bay.texts.say("spot-borrowed"), palette, false);
}

/// Names what the meter's leads are on, beside it and over no sign, nor under the sheet or the captions. Where there is no room for
/// that near it, only the lead is named, and what lies under a card, the sheet or the captions is not named at all.
pub(super) fn lead_marks(
    ui: &egui::Ui,
    bay: &Bay,
    place: &Place2d<'_>,
    anchors: &Anchors,
    mut taken: Vec<Rect>,
    palette: &Palette,
) {
    /// How far from its probe a mark may be, and from where on a line joins the two, in points.
    const FAR: f32 = 90.0;
    const JOINED: f32 = 16.0;
    let Some(job) = &bay.job else { return };
    let mut marked: Vec<Rect> = Vec::new();
    let t = bay.texts;
    let vehicle = bay.vehicle();
    let meter = &job.scene().kit().meter;
    let screen = ui.max_rect();
    let card = bay.open.and_then(|open| laid(ui.ctx(), card_id(open)));
    let covered: Vec<Rect> = laid_over(ui.ctx()).chain(card).collect();
    let leads = [
        (meter.red, t.say("lead-red"), Id::new("red lead's mark")),
        (meter.black, t.say("lead-black"), Id::new("black lead's mark")),
    ];
    let leads: Vec<(String, &str, Id, Rect)> = leads
        .into_iter()
        .filter_map(|(point, name, id)| {
            let point = point?;
            let at = place.at(anchors.design(&super::sync::point_anchor(vehicle, anchors, point))?.centre);
            let is_seen = screen.contains(at) && !covered.iter().any(|area| area.contains(at));
            let text = say!(t, "spot-lead", lead = name, point = words::point_title(t, vehicle, point));
            is_seen.then(|| (text, name, id, Rect::from_center_size(at, SIGN)))
        })
        .collect();
    taken.retain(|one| !leads.iter().any(|(.., probe)| one.contains(probe.center())));
    taken.extend(leads.iter().map(|(.., probe)| *probe));
    let written: Vec<Rect> = written(ui, place, anchors).into_iter().chain(card).collect();
    let screen = screen.shrink(4.0);
    for (text, name, id, probe) in leads {
        let others: Vec<Rect> = taken.iter().filter(|one| **one != probe).copied().collect();
        let clear: Vec<Rect> = written.iter().chain(&marked).copied().collect();
        let all: Vec<Rect> = others.iter().chain(&clear).copied().collect();
        // Nor does the line to it lie over a sign.
        let reach = |rect: &Rect| passes(rect.clamp(probe.center()), probe.center(), &all);
        let found = [text.as_str(), name].into_iter().find_map(|words| {
            let rect = clear_of(probe, tag_size(ui, words), &all, screen, FAR).filter(reach)?;
            Some((words, rect))
        });
        let (words, rect) =
            found.unwrap_or_else(|| (name, near(probe, tag_size(ui, name), (&others, &clear), screen, FAR)));
        // Half under an open card it could not be read.
        if card.is_some_and(|card| card.intersects(rect)) {
            continue;
        }
        if apart(rect, probe) > JOINED {
            let way = [rect.clamp(probe.center()), probe.center()];
            for (wide, ink) in [(3.5, "sign-rim"), (1.5, "card-edge")] {
                ui.painter().line_segment(way, Stroke::new(wide, colour(palette, ink)));
            }
        }
        marked.push(rect);
        told(ui, id, tag(ui, rect.center(), words, palette, false), &text);
        taken.push(rect);
    }
    ui.data_mut(|data| data.insert_temp(marks(), marked));
}

/// Where the leads' marks are kept from frame to frame.
fn marks() -> Id {
    Id::new("where the leads are named")
}

/// Where the leads were named in the last frame.
pub(super) fn marked(ui: &egui::Ui) -> Vec<Rect> {
    ui.data(|data| data.get_temp(marks())).unwrap_or_default()
}

/// What no words may lie over or under: what is written in the drawing, the sheet, and what lies over the scene.
pub(super) fn written(ui: &egui::Ui, place: &Place2d<'_>, anchors: &Anchors) -> Vec<Rect> {
    let drawn = ["meter-display", "plate-text"].into_iter().filter_map(|name| anchors.design(name));
    let drawn = drawn.filter(|at| at.visible).map(|at| place.rect(at.centre, at.size));
    laid_over(ui.ctx()).chain(drawn).collect()
}

/// What always lies over the scene, where it does.
fn laid_over(ctx: &egui::Context) -> impl Iterator<Item = Rect> {
    let these = [Id::new("sheet"), Id::new("captions"), Id::new("near"), Id::new("first job")];
    these.into_iter().filter_map(|id| laid(ctx, id))
}

/// The words of a plate, in lines where they are long.
fn tag_words(ui: &egui::Ui, text: &str, ink: Color32) -> Arc<Galley> {
    /// How wide a line is at most, in points.
    const LONGEST: f32 = 280.0;
    let font = FontId::new(SMALL, FontFamily::Proportional);
    ui.painter().layout(text.to_owned(), font, ink, LONGEST)
}

/// What the words of a plate take.
pub(super) fn tag_size(ui: &egui::Ui, text: &str) -> egui::Vec2 {
    tag_words(ui, text, Color32::PLACEHOLDER).size() + vec2(12.0, 6.0)
}

/// A small dark plate with text, kept inside the window, and where that is.
pub(super) fn tag(ui: &egui::Ui, centre: Pos2, text: &str, palette: &Palette, lit: bool) -> Rect {
    let galley = tag_words(ui, text, colour(palette, "card-text"));
    let screen = ui.max_rect().shrink(4.0);
    let size = galley.size() + vec2(12.0, 6.0);
    let mut rect = Rect::from_center_size(centre, size);
    rect = rect.translate(vec2((screen.left() - rect.left()).max(0.0), (screen.top() - rect.top()).max(0.0)));
    rect = rect.translate(vec2(
        (screen.right() - rect.right()).min(0.0),
        (screen.bottom() - rect.bottom()).min(0.0),
    ));
    let edge = if lit { colour(palette, "accent") } else { colour(palette, "card-edge") };
    ui.painter().rect(
        rect,
        5.0,
        colour(palette, "card").gamma_multiply(0.94),
        Stroke::new(1.0, edge),
        egui::StrokeKind::Inside,
    );
    ui.painter().galley(rect.min + vec2(6.0, 3.0), galley, colour(palette, "card-text"));
    rect
}
