//! What several cards have in common: buttons for acts and points, what is in the way, what is on a point, a row of a table.

use std::sync::Arc;

use bevy_egui::egui::{
    self, FontFamily, FontId, Galley, Pos2, Rect, Response, RichText, Sense, Stroke, TextStyle, Vec2,
    WidgetInfo, WidgetType, vec2,
};
use probeworthy::bench::{Action, ClampPlace, LampSize, Lead, Tool};
use probeworthy::say;
use probeworthy::vehicle::{ConductorId, Point, Reach, StationId};
use probeworthy::words::{self, Texts};

use crate::game::bay::{Bay, Hand};
use crate::game::scenery::Palette;
use crate::game::theme::{SMALL, button_size, colour};

/// A button for an act.
pub(in crate::game) fn act(ui: &mut egui::Ui, bay: &mut Bay, label: &str, action: Action) {
    act_unless(ui, bay, false, label, action);
}

/// A button for an act that changes nothing where something is so already.
pub(super) fn act_unless(ui: &mut egui::Ui, bay: &mut Bay, so: bool, label: &str, action: Action) {
    if ui.add_enabled(!so, egui::Button::new(label)).clicked() {
        bay.act(action);
    }
}

/// A row that may wrap, as high as its buttons from the beginning, so that words before them stand level with them.
pub(in crate::game) fn row<R>(ui: &mut egui::Ui, contents: impl FnOnce(&mut egui::Ui) -> R) -> R {
    let high = ui.text_style_height(&TextStyle::Button) + 2.0 * ui.spacing().button_padding.y;
    ui.scope(|ui| {
        ui.spacing_mut().interact_size.y = high;
        ui.horizontal_wrapped(contents).inner
    })
    .inner
}

/// Which of two states something is in, by word and mark, and the way to the other one: true or false where that was chosen.
/// Nothing is marked while nobody knows.
pub(super) fn on_or_off(ui: &mut egui::Ui, t: Texts, what: &str, on: Option<bool>) -> Option<bool> {
    let mut chosen = None;
    for (state, word) in [(true, t.say("state-on")), (false, t.say("state-off"))] {
        let button = ui.radio(on == Some(state), word);
        let label = say!(t, "state-of", what = what, state = word);
        button.widget_info(|| WidgetInfo::selected(WidgetType::RadioButton, true, on == Some(state), &label));
        if button.clicked() && on != Some(state) {
            chosen = Some(state);
        }
    }
    chosen
}

/// Points as buttons for what is in hand, with what is on them.
pub(super) fn point_buttons(ui: &mut egui::Ui, bay: &mut Bay, points: &[(Point, &str)]) {
    for (point, title) in points {
        row(ui, |ui| {
            if ui.add_enabled(bay.hand.goes_to_a_point(), egui::Button::new(*title)).clicked() {
                bay.put_to(*point);
            }
            for mark in marks_on(bay, *point) {
                // Each as a whole in a line.
                ui.add(egui::Label::new(mark.here).extend());
            }
        });
    }
    what_goes(ui, bay);
    leads_off(ui, bay);
}

/// A point that is drawn: what is on it is marked at a corner, and what is in hand goes to it by a touch or is dropped on it.
pub(super) fn drawn_point(
    ui: &egui::Ui,
    bay: &mut Bay,
    palette: &Palette,
    touched: Response,
    (point, label): (Point, &str),
    corner: Pos2,
) {
    for on_it in marks_on(bay, point) {
        mark(ui.painter(), palette, corner, on_it);
    }
    let dropped = bay.is_dropped_on(&touched);
    if touched.on_hover_text(label).clicked() || dropped {
        bay.put_to(point);
    }
}

/// Whether what is in hand goes to a point. The line always stands, so that nothing moves when a probe is taken.
pub(super) fn what_goes(ui: &mut egui::Ui, bay: &Bay) {
    let said = if bay.hand.goes_to_a_point() { "point-goes" } else { "point-take-first" };
    ui.label(RichText::new(bay.texts.say(said)).size(SMALL).weak());
}

/// Buttons that take probes off what they are on. Where a probe is on nothing its button's place stays free, so that nothing moves
/// under the pointer.
pub(super) fn leads_off(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    let Some((red, black)) = bay.job.as_ref().map(|job| &job.scene().kit().meter).map(|m| (m.red, m.black))
    else {
        return;
    };
    ui.horizontal_wrapped(|ui| {
        for (lead, on, label) in [
            (Lead::Red, red, t.say("point-take-red-off")),
            (Lead::Black, black, t.say("point-take-black-off")),
        ] {
            let Some(point) = on else {
                ui.allocate_exact_size(button_size(ui, label), Sense::hover());
                continue;
            };
            let about = words::point_title(t, bay.vehicle(), point);
            if ui.button(label).on_hover_text(about).clicked() {
                bay.take_off(lead);
            }
        }
    });
}

/// What is in the way, if anything is, as a line.
pub(in crate::game) fn obstacle(ui: &mut egui::Ui, bay: &Bay, reach: Reach) -> bool {
    use probeworthy::bench::Refusal;
    use probeworthy::vehicle::Obstacle;
    let Some(job) = &bay.job else { return true };
    let refusal = match job.scene().obstacle(bay.vehicle(), reach) {
        None => return false,
        Some(Obstacle::LidTooLow) => Refusal::LidTooLow,
        Some(Obstacle::LoadSpaceClosed(panel)) => Refusal::LoadSpaceClosed(panel),
        Some(Obstacle::Panel(panel)) => Refusal::BehindPanel(panel),
    };
    let why = words::refusal(bay.texts, bay.vehicle(), refusal);
    ui.label(say!(bay.texts, "point-out-of-reach", why = why));
    true
}

/// What marks something that is on a point.
#[derive(Clone, Copy, PartialEq)]
pub(in crate::game) struct Mark {
    /// What it is, short.
    name: &'static str,
    /// The same in words that say that it is there.
    pub(in crate::game) here: &'static str,
    /// The name of its colour.
    fill: &'static str,
}

/// What marks a clip of a tool: the first that is put on, or the second.
fn clip_mark(tool: Tool, first: bool) -> [&'static str; 2] {
    match (tool, first) {
        (Tool::TestLamp(LampSize::Five), _) => ["mark-lamp-5", "mark-lamp-5-here"],
        (Tool::TestLamp(LampSize::TwentyOne), _) => ["mark-lamp-21", "mark-lamp-21-here"],
        (Tool::Bridge, _) => ["mark-bridge", "mark-bridge-here"],
        (Tool::BenchBattery, true) => ["mark-battery-plus", "mark-battery-plus-here"],
        (Tool::BenchBattery, false) => ["mark-battery-minus", "mark-battery-minus-here"],
    }
}

/// What leads and clips are on, with the names of their marks and of the marks' colour, the meter's first.
fn put(bay: &Bay) -> Vec<(Point, [&'static str; 2], &'static str)> {
    let Some(job) = &bay.job else { return Vec::new() };
    let kit = job.scene().kit();
    let mut put = Vec::new();
    let mut add = |point: Option<Point>, names: [&'static str; 2], fill: &'static str| {
        // Both clips of a lamp on one point are told once.
        if let Some(one) = point.map(|point| (point, names, fill)).filter(|one| !put.contains(one)) {
            put.push(one);
        }
    };
    add(kit.meter.red, ["lead-red", "lead-red-here"], "mark-red");
    add(kit.meter.black, ["lead-black", "lead-black-here"], "mark-black");
    for clip in &kit.clips {
        add(Some(clip.from), clip_mark(clip.tool, true), "mark-amber");
        add(Some(clip.to), clip_mark(clip.tool, false), "mark-amber");
    }
    if let Hand::Clip(tool, first) = bay.hand {
        add(first, clip_mark(tool, true), "mark-amber");
    }
    let begun = if let Hand::Recorder(first) = bay.hand { first } else { None };
    let (plus, minus) = kit.recorder.leads.unzip();
    add(begun.or(plus), ["mark-recorder-plus", "mark-recorder-plus-here"], "mark-amber");
    add(minus, ["mark-recorder-minus", "mark-recorder-minus-here"], "mark-amber");
    let clamped = match kit.clamp.map(|clamp| clamp.place) {
        Some(ClampPlace::Cavity(connector, half, cavity)) => Some(Point::Cavity(connector, half, cavity)),
        Some(ClampPlace::BatteryPlus) => Some(Point::BatteryPlus),
        // There is no point there: see `clamped_in_loom`.
        Some(ClampPlace::Station(..)) | None => None,
    };
    add(clamped, CLAMP, "mark-amber");
    put
}

/// What marks the clamp.
const CLAMP: [&str; 2] = ["mark-clamp", "mark-clamp-here"];

/// The conductor that is parted from the loom at a station and has the clamp round it, with the clamp's mark.
pub(in crate::game) fn clamped_in_loom(bay: &Bay) -> Option<(ConductorId, StationId, Mark)> {
    let clamp = bay.job.as_ref()?.scene().kit().clamp?;
    let ClampPlace::Station(conductor, station) = clamp.place else { return None };
    Some((conductor, station, Mark::of(bay.texts, CLAMP, "mark-amber")))
}

impl Mark {
    fn of(t: Texts, [name, here]: [&'static str; 2], fill: &'static str) -> Self {
        Self { name: t.say(name), here: t.say(here), fill }
    }
}

/// What leads and clips are on, each with its mark, the meter's first.
pub(in crate::game) fn marks(bay: &Bay) -> Vec<(Point, Mark)> {
    put(bay).into_iter().map(|(point, names, fill)| (point, Mark::of(bay.texts, names, fill))).collect()
}

/// What the leads and clips have on a point.
pub(super) fn marks_on(bay: &Bay, point: Point) -> Vec<Mark> {
    let here = put(bay).into_iter().filter(|(on, ..)| *on == point);
    here.map(|(_, names, fill)| Mark::of(bay.texts, names, fill)).collect()
}

/// The name of a mark as its plate has it, and what the plate takes.
pub(in crate::game) fn plate_of(
    painter: &egui::Painter,
    palette: &Palette,
    on_it: Mark,
) -> (Arc<Galley>, Vec2) {
    let font = FontId::new(SMALL, FontFamily::Proportional);
    let galley = painter.layout_no_wrap(on_it.name.to_owned(), font, colour(palette, "mark-text"));
    let size = galley.size() + vec2(6.0, 1.0);
    (galley, size)
}

/// The plate of a mark, with its upper left corner there.
pub(in crate::game) fn mark(painter: &egui::Painter, palette: &Palette, corner: Pos2, on_it: Mark) {
    let (galley, size) = plate_of(painter, palette, on_it);
    let rect = Rect::from_min_size(corner, size);
    painter.rect(
        rect,
        3.0,
        colour(palette, on_it.fill),
        Stroke::new(1.0, colour(palette, "mark-edge")),
        egui::StrokeKind::Inside,
    );
    painter.galley(corner + vec2(3.0, 0.0), galley, colour(palette, "mark-text"));
}

/// A row of a table: columns as wide as is said, and one that takes what is left. Words wrap within them.
pub(super) fn columns(ui: &mut egui::Ui, row: &[(Option<f32>, RichText)]) {
    /// What the column that gives has at least, in points.
    const LEAST: f32 = 120.0;
    ui.horizontal_top(|ui| {
        let gaps = ui.spacing().item_spacing.x * (row.len() - 1) as f32;
        let fixed: f32 = row.iter().filter_map(|(width, _)| *width).sum();
        let rest = (ui.available_width() - fixed - gaps).max(LEAST);
        for (width, text) in row {
            ui.vertical(|ui| {
                ui.set_width(width.unwrap_or(rest));
                ui.add(egui::Label::new(text.clone()).wrap());
            });
        }
    });
}
