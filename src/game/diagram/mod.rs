//! The wiring diagram on a sheet: moved, brought nearer, touched, and marked by hand.

mod chosen;
mod paint;
mod probed;

use std::collections::BTreeMap;
use std::sync::Arc;

use bevy_egui::egui::{
    self, Align2, Color32, FontId, Key, Painter, Pos2, Rect, RichText, Sense, TextStyle, Vec2, WidgetInfo,
    WidgetType, vec2,
};
use probeworthy::diagram::{Diagram, Spot, Thing};
use probeworthy::job::Job;
use probeworthy::scenario::Scenario;
use probeworthy::vehicle::{Point, Vehicle};
use probeworthy::words::{self, Language, Texts, Topic};

use self::paint::{Lie, Shown, paint};
use super::bay::Bay;
use super::scenery::Palette;
use super::theme::{LOW, SMALL, colour, whole_pixels};

/// The sheet's size in points.
pub(super) const WIDTH: f32 = 1000.0;
const HEIGHT: f32 = 450.0;
/// What it has at least in large text, and what the lines above and below it take, in points.
const LEAST_HEIGHT: f32 = 120.0;
const BESIDE: f32 = 92.0;
/// How near it can be brought, in points for each of the diagram's units.
const NEAREST: f32 = 3.0;
/// Points for each unit at which the smallest letters, of eight units, are eleven points high.
const READABLE: f32 = 11.0 / 8.0;
/// How far one press of a key moves it, in points.
const KEY_STEP: f32 = 60.0;

/// How the sheet lies. What is marked on it is kept with the job.
#[derive(Clone, Debug, Default)]
pub(super) struct Sheet {
    /// Worked out when it is first looked at, with its own words in this language.
    drawn: Option<Box<Diagram>>,
    language: Language,
    /// Points for each unit; 0 until it has been fitted.
    zoom: f32,
    /// The sheet's upper left corner on the diagram, in units.
    corner: Vec2,
    chosen: Option<Thing>,
    /// Where the red probe was when it was last looked at; nothing where it has not been looked at since it was laid.
    red: Option<Option<Point>>,
    in_words: bool,
    /// For an instructor: what a meter would show everywhere, worked out when it is first looked at.
    readings: Option<BTreeMap<Thing, String>>,
    readings_hidden: bool,
}

impl Sheet {
    /// As it lies, to be drawn anew.
    pub(super) fn without_what_is_drawn(&self) -> Self {
        Self { drawn: None, chosen: None, readings: None, ..self.clone() }
    }

    /// How it lies: how near, its corner, and whether it is told in words.
    pub(super) fn lie(&self) -> (f32, Vec2, bool) {
        (self.zoom, self.corner, self.in_words)
    }

    /// Lays it so.
    pub(super) fn lay(&mut self, (zoom, corner, in_words): (f32, Vec2, bool)) {
        if zoom.is_finite() && zoom > 0.0 && corner.is_finite() {
            (self.zoom, self.corner) = (zoom.min(NEAREST), corner);
        }
        self.in_words = in_words;
    }

    /// Draws the vehicle's diagram, if that has not been done in this language.
    pub(super) fn look_at(&mut self, t: Texts, vehicle: &Vehicle) {
        if self.drawn.is_none() || self.language != t.language() {
            self.drawn = Some(Box::new(Diagram::of(vehicle, &words::diagram_names(t))));
            self.language = t.language();
        }
    }

    /// Whether it has been on the table in this job.
    pub(super) fn has_been_looked_at(&self) -> bool {
        self.drawn.is_some()
    }

    /// What a meter would show is not what it was.
    pub(super) fn forget_readings(&mut self) {
        self.readings = None;
    }

    fn fit(&mut self, size: Vec2) {
        let Some(drawn) = &self.drawn else { return };
        #[expect(clippy::cast_possible_truncation, reason = "units of a page")]
        let whole = vec2(drawn.width as f32, drawn.height as f32);
        self.zoom = (size.x / whole.x).min(size.y / whole.y);
        self.corner = (whole - size / self.zoom) / 2.0;
    }

    /// Whole where all that is written can be read so, else as near as it has to be, with what the red probe is on in the middle;
    /// without that the feed of what the customer complains of: of the upper edge where it is seen there.
    fn begin(&mut self, size: Vec2, scenario: &Scenario, probed: Option<Point>) {
        self.fit(size);
        let Some(drawn) = self.drawn.as_deref().filter(|_| self.zoom < READABLE) else { return };
        self.zoom = READABLE;
        let seen = size / self.zoom;
        if let Some(at) = probed.and_then(|point| chosen::spot(drawn, thing_at(point)?)) {
            self.bring(at, size);
            return;
        }
        #[expect(clippy::cast_possible_truncation, reason = "units of a page")]
        let feed = drawn.feed_of(&scenario.vehicle, &scenario.trials).map_or(seen / 2.0, |frame| {
            vec2((frame.left + frame.right) as f32, (frame.top + frame.bottom) as f32) / 2.0
        });
        #[expect(clippy::cast_possible_truncation, reason = "units of a page")]
        let most = (drawn.width as f32 - seen.x).max(0.0);
        let left = feed.x - seen.x / 2.0;
        // A low sheet, as in large text, shows little more than the feed itself.
        self.corner = if feed.y < 0.6 * seen.y {
            vec2(left.clamp(0.0, most), 0.0)
        } else {
            vec2(left, feed.y - seen.y / 2.0)
        };
    }

    /// Chooses a thing, and brings it into the middle if it is out of sight.
    fn choose(&mut self, thing: Thing, size: Vec2) {
        self.chosen = Some(thing);
        self.show(thing, size);
    }

    /// Brings a thing into the middle if it is out of sight.
    fn show(&mut self, thing: Thing, size: Vec2) {
        let Some(spot) = self.drawn.as_deref().and_then(|drawn| chosen::spot(drawn, thing)) else { return };
        #[expect(clippy::cast_possible_truncation, reason = "units of a page")]
        let at = vec2(spot.x as f32, spot.y as f32);
        let seen = Rect::from_min_size(self.corner.to_pos2(), size / self.zoom);
        if !seen.contains(at.to_pos2()) {
            self.bring(spot, size);
        }
    }

    /// Brings a place into the middle, or as near to it as the page's edges allow.
    fn bring(&mut self, spot: Spot, size: Vec2) {
        let Some(drawn) = &self.drawn else { return };
        #[expect(clippy::cast_possible_truncation, reason = "units of a page")]
        let (at, whole) = (vec2(spot.x as f32, spot.y as f32), vec2(drawn.width as f32, drawn.height as f32));
        let seen = size / self.zoom;
        self.corner = (at - seen / 2.0).min(whole - seen).max(Vec2::ZERO);
    }

    /// Lays it for the first look, and brings what the red probe has been put on since the last look into sight.
    fn turn_to(&mut self, red: Option<Point>, size: Vec2, scenario: &Scenario) {
        let before = self.red.replace(red);
        if self.zoom == 0.0 {
            self.begin(size, scenario, red);
        } else if let Some(thing) =
            red.filter(|_| before.is_some_and(|before| before != red)).and_then(thing_at)
        {
            self.show(thing, size);
        }
    }

    /// Brings it nearer by a factor, with one place of the sheet staying where it is.
    fn nearer(&mut self, factor: f32, about: Vec2, size: Vec2) {
        let Some(drawn) = &self.drawn else { return };
        #[expect(clippy::cast_possible_truncation, reason = "units of a page")]
        let furthest = (size.x / drawn.width as f32).min(size.y / drawn.height as f32) * 0.8;
        let zoom = (self.zoom * factor).clamp(furthest, NEAREST);
        self.corner += about / self.zoom - about / zoom;
        self.zoom = zoom;
    }
}

/// The card of the diagram.
pub(super) fn card(ui: &mut egui::Ui, bay: &mut Bay, palette: &Palette) {
    let t = bay.texts;
    let scenario = Arc::clone(bay.shown());
    let vehicle = &scenario.vehicle;
    bay.diagram.look_at(t, vehicle);
    // In large text the line above it may wrap, or gives way.
    let (wide, line) = (ui.available_width(), ui.text_style_height(&TextStyle::Small));
    let low = ui.ctx().viewport_rect().height() < LOW;
    let hint = ui.painter().layout(
        t.say("diagram-moving").to_owned(),
        TextStyle::Small.resolve(ui.style()),
        Color32::PLACEHOLDER,
        wide,
    );
    let hinted = hint.size().y + ui.spacing().item_spacing.y;
    let wrapped = if low { -hinted } else { (hint.size().y - line).max(0.0) };
    let high = (ui.clip_rect().height() - BESIDE - wrapped).clamp(LEAST_HEIGHT, HEIGHT);
    let size = vec2(WIDTH.min(wide), high);
    let red = bay.job.as_ref().and_then(|job| job.scene().kit().meter.red);
    bay.diagram.turn_to(red, size, &scenario);
    tools(ui, t, &mut bay.diagram, size, bay.author.is_some());
    if !bay.diagram.in_words && !low {
        ui.label(RichText::new(t.say("diagram-moving")).size(SMALL));
    }
    if bay.author.is_some() && bay.diagram.readings.is_none() {
        bay.diagram.readings = bay.job.as_ref().map(|job| readings(job, vehicle));
    }
    if bay.diagram.in_words {
        in_words(ui, t, vehicle);
        return;
    }
    let (rect, response) = ui.allocate_exact_size(size, Sense::click_and_drag());
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Image, true, t.say("diagram-image")));
    move_it(ui, &mut bay.diagram, &response, rect);
    let marks = bay.job.as_ref().map(|job| job.marked()).unwrap_or_default();
    let lie = Lie { rect, zoom: bay.diagram.zoom, corner: bay.diagram.corner };
    if let Some(at) = response.interact_pointer_pos().filter(|_| response.clicked()) {
        let at = lie.unit(at);
        let hit = |drawn: &Diagram| drawn.hit(f64::from(at.x), f64::from(at.y));
        bay.diagram.chosen = bay.diagram.drawn.as_deref().and_then(hit);
    }
    let sheet = &bay.diagram;
    let Some(drawn) = sheet.drawn.as_deref() else { return };
    let under = response.hover_pos().map(|at| lie.unit(at));
    let under = under.and_then(|at| drawn.hit(f64::from(at.x), f64::from(at.y)));
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 2.0, colour(palette, "diagram-paper"));
    paint(&painter, vehicle, drawn, &lie, palette, &Shown { marks: &marks, chosen: sheet.chosen, under });
    if let Some(readings) = sheet.readings.as_ref().filter(|_| !sheet.readings_hidden) {
        tags(&painter, drawn, &lie, readings, palette);
    }
    probed::show(ui, bay, drawn, &lie, palette);
    if let Some(thing) = chosen::line(ui, bay, vehicle) {
        bay.diagram.choose(thing, size);
    }
}

/// What the diagram shows of a point.
fn thing_at(point: Point) -> Option<Thing> {
    Some(match point {
        Point::Cavity(id, _, cavity) => Thing::Cavity(id, cavity),
        Point::Fuse(id, _) => Thing::Fuse(id),
        Point::Stud(id) => Thing::Stud(id),
        Point::BatteryPlus | Point::BatteryMinus => Thing::Battery,
        Point::Line(part, ..) => Thing::Part(part),
        Point::Body | Point::KeyPlus | Point::KeyMinus => return None,
    })
}

/// By thing, what a meter would show on it against the battery's minus; both sides where they differ.
fn readings(job: &Job, vehicle: &Vehicle) -> BTreeMap<Thing, String> {
    let points: Vec<(Thing, Point)> = vehicle
        .points()
        .into_iter()
        .filter(|point| !matches!(point, Point::BatteryMinus | Point::Line(..)))
        .filter_map(|point| Some((thing_at(point)?, point)))
        .collect();
    let all: Vec<Point> = points.iter().map(|(_, point)| *point).collect();
    // A circuit without an operating point has said so when the job began.
    let Ok(Some(shown)) = job.laid_open(&all) else { return BTreeMap::new() };
    let mut told: BTreeMap<Thing, String> = BTreeMap::new();
    for ((thing, _), display) in points.into_iter().zip(shown) {
        let Some(text) = display.map(|display| display.to_string()) else { continue };
        let known = told.entry(thing).or_default();
        if known.is_empty() {
            *known = text;
        } else if *known != text {
            *known = format!("{known} | {text}");
        }
    }
    told
}

/// Readings as tags on what they are of.
fn tags(
    painter: &Painter,
    drawn: &Diagram,
    lie: &Lie,
    readings: &BTreeMap<Thing, String>,
    palette: &Palette,
) {
    let size = whole_pixels(painter, (7.5 * lie.zoom).clamp(7.0, 15.0));
    let tag = |thing: Thing, at: Pos2| {
        let Some(text) = readings.get(&thing) else { return };
        let ink = colour(palette, "paper-ink");
        let galley = painter.layout_no_wrap(text.clone(), FontId::monospace(size), ink);
        let rect = Align2::CENTER_CENTER.anchor_size(at, galley.size());
        painter.rect_filled(rect.expand(2.0), 2.0, colour(palette, "paper-tag"));
        painter.galley(rect.min, galley, ink);
    };
    for crossing in &drawn.crossings {
        let frame = crossing.frame();
        let middle = Spot::new((frame.left + frame.right) / 2.0, (frame.top + frame.bottom) / 2.0);
        tag(Thing::Cavity(crossing.connector, crossing.cavity), lie.at(middle));
    }
    for symbol in &drawn.symbols {
        let frame = &symbol.frame;
        tag(
            symbol.thing,
            lie.at(Spot::new((frame.left + frame.right) / 2.0, (frame.top + frame.bottom) / 2.0)),
        );
    }
}

/// Buttons over the sheet.
fn tools(ui: &mut egui::Ui, t: Texts, sheet: &mut Sheet, size: Vec2, instructor: bool) {
    ui.horizontal_wrapped(|ui| {
        let other = if sheet.in_words { t.say("diagram-drawn") } else { t.say("diagram-in-words") };
        if ui.button(other).clicked() {
            sheet.in_words = !sheet.in_words;
        }
        if sheet.in_words {
            return;
        }
        for (label, factor) in [(t.say("diagram-nearer"), 1.4), (t.say("diagram-further"), 1.0 / 1.4)] {
            if ui.button(label).clicked() {
                sheet.nearer(factor, size / 2.0, size);
            }
        }
        if ui.button(t.say("diagram-whole")).clicked() {
            sheet.fit(size);
        }
        if instructor {
            let mut shown = !sheet.readings_hidden;
            ui.checkbox(&mut shown, t.say("diagram-readings"));
            sheet.readings_hidden = !shown;
        }
    });
}

/// The same in words.
fn in_words(ui: &mut egui::Ui, t: Texts, vehicle: &Vehicle) {
    for (title, topic) in [
        (t.say("diagram-pins"), Topic::Pins),
        (t.say("diagram-conductors"), Topic::Diagram),
        (t.say("diagram-loom"), Topic::Loom),
        (t.say("diagram-places"), Topic::Places),
        (t.say("diagram-instruments"), Topic::Instruments),
    ] {
        egui::CollapsingHeader::new(RichText::new(title).strong()).default_open(topic == Topic::Pins).show(
            ui,
            |ui| {
                let text = RichText::new(words::names_here(t, vehicle, topic)).monospace().size(SMALL);
                ui.add(egui::Label::new(text).wrap());
            },
        );
    }
}

/// Moves the sheet by what pointer, wheel and keys ask for.
fn move_it(ui: &egui::Ui, sheet: &mut Sheet, response: &egui::Response, rect: Rect) {
    if response.dragged() {
        sheet.corner -= response.drag_delta() / sheet.zoom;
    }
    if response.clicked() {
        response.request_focus();
    }
    if let Some(at) = response.hover_pos() {
        let (wheel, pinch) = ui.input(|input| (input.smooth_scroll_delta.y, input.zoom_delta()));
        let factor = pinch * (wheel / 300.0).exp2();
        if (factor - 1.0).abs() > 1e-4 {
            sheet.nearer(factor, at - rect.min, rect.size());
        }
    }
    if response.has_focus() {
        ui.memory_mut(|memory| {
            memory.set_focus_lock_filter(
                response.id,
                egui::EventFilter { horizontal_arrows: true, vertical_arrows: true, ..Default::default() },
            );
        });
        for (key, step) in [
            (Key::ArrowLeft, vec2(-1.0, 0.0)),
            (Key::ArrowRight, vec2(1.0, 0.0)),
            (Key::ArrowUp, vec2(0.0, -1.0)),
            (Key::ArrowDown, vec2(0.0, 1.0)),
        ] {
            if ui.input(|input| input.key_pressed(key)) {
                sheet.corner += step * KEY_STEP / sheet.zoom;
            }
        }
        for (keys, factor) in [([Key::Plus, Key::Equals], 1.25), ([Key::Minus, Key::Minus], 0.8)] {
            if ui.input(|input| keys.into_iter().any(|key| input.key_pressed(key))) {
                sheet.nearer(factor, rect.size() / 2.0, rect.size());
            }
        }
    }
}
