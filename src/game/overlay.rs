//! Everything that is laid over the drawn scene: places that can be touched, the meter's face, captions, cards.

use bevy::prelude::{DetectChangesMut, Res, ResMut, Result, Vec2};
use bevy_egui::EguiContexts;
use bevy_egui::egui::{
    self, Align2, Color32, FontFamily, FontId, Id, Key, LayerId, Order, Pos2, Rect, Sense, Stroke, UiBuilder,
    WidgetInfo, WidgetType, pos2, vec2,
};
use probeworthy::bench::{Action, LampSize, Lead, MeterSetting, Tool};
use probeworthy::say;
use probeworthy::vehicle::{
    ConnectorId, KeyButton, Obstacle, PanelId, PartKind, Point, StationId, StudId, Vehicle, Zone,
};
use probeworthy::words;

use super::bay::{Bay, Hand, Place};
use super::first_job::{self, Guide};
use super::hand_tools::{self, HandTool};
use super::scenery::{Anchors, Gaze, Palette, View, is_drawn};
use super::settings::Settings;
use super::signs::{Sign, beside};
use super::sync::{connector_anchor, short_point, tool_anchor};
use super::theme::{self, BODY, SMALL, colour};
use super::{cards, in_hand, looking, sheet};

/// Points of the overlay at which the scene is 1280 wide: the overlay grows with the window.
const BASE_SCALE: f32 = 2.0 / 3.0;
/// What a sign takes in the drawing, in points.
const SIGN: egui::Vec2 = egui::Vec2::new(24.0, 22.0);

/// How the scene's coordinates lie in the overlay.
#[derive(Clone, Copy)]
pub(super) struct Place2d<'a> {
    view: &'a View,
    /// Pixels a point.
    zoom: f32,
}

impl<'a> Place2d<'a> {
    /// The scene as it lies in the window, with so many pixels a point.
    pub(super) fn new(view: &'a View, zoom: f32) -> Self {
        Self { view, zoom }
    }

    /// A design point in the overlay's points.
    pub(super) fn at(&self, design: Vec2) -> Pos2 {
        let window = self.view.to_window(design) / self.zoom;
        pos2(window.x, window.y)
    }

    /// Where a point of the overlay lies in the drawing.
    pub(super) fn design(&self, at: Pos2) -> Vec2 {
        self.view.to_design(Vec2::new(at.x, at.y) * self.zoom)
    }

    /// A way across the overlay in the drawing's units.
    pub(super) fn way(&self, by: egui::Vec2) -> Vec2 {
        self.design(Pos2::ZERO + by) - self.design(Pos2::ZERO)
    }

    /// A design rectangle in the overlay's points.
    pub(super) fn rect(&self, centre: Vec2, size: Vec2) -> Rect {
        Rect::from_min_max(self.at(centre - size / 2.0), self.at(centre + size / 2.0))
    }
}

/// What a touch does.
#[derive(Clone)]
enum Touch {
    Open(Place),
    Act(Action),
    Take(Lead),
    /// A point for what is in hand; with an empty hand the place opens.
    Point(Point, Place),
    /// A tool of the trolley is taken in hand, or laid down.
    Hold(HandTool),
}

impl Touch {
    /// What opens there.
    fn place(&self) -> Option<Place> {
        match self {
            Self::Open(place) | Self::Point(_, place) => Some(*place),
            Self::Act(_) | Self::Take(_) | Self::Hold(_) => None,
        }
    }

    fn sign(&self, vehicle: &Vehicle) -> Sign {
        match self {
            Self::Open(place) | Self::Point(_, place) => Sign::of_place(vehicle, *place),
            Self::Act(act) => Sign::of_act(act),
            Self::Take(_) | Self::Hold(_) => Sign::Thing,
        }
    }
}

struct Spot {
    anchor: String,
    label: String,
    touch: Touch,
    /// Its whole mark is sensitive; otherwise a small ring around its middle.
    whole: bool,
}

/// Draws the overlay and collects what the learner does.
pub(super) fn overlay(
    mut contexts: EguiContexts,
    mut bay: ResMut<Bay>,
    mut settings: ResMut<Settings>,
    view: Res<View>,
    anchors: Res<Anchors>,
    palette: Res<Palette>,
    mut gaze: ResMut<Gaze>,
) -> Result {
    let ctx = contexts.ctx_mut()?.clone();
    let mut wanted = settings.clone();
    let mut look = *gaze;
    frame(
        &ctx,
        &mut bay,
        &mut wanted,
        &mut look,
        &Scene { view: &view, anchors: &anchors, palette: &palette },
    );
    settings.set_if_neq(wanted);
    gaze.set_if_neq(look);
    Ok(())
}

/// The drawn scene as it lies in the window.
pub(super) struct Scene<'a> {
    pub(super) view: &'a View,
    pub(super) anchors: &'a Anchors,
    pub(super) palette: &'a Palette,
}

/// One frame of all that is laid over the scene.
pub(super) fn frame(
    ctx: &egui::Context,
    bay: &mut Bay,
    settings: &mut Settings,
    gaze: &mut Gaze,
    &Scene { view, anchors, palette }: &Scene<'_>,
) {
    let zoom = (view.scale() / BASE_SCALE).clamp(0.5, 4.0) * f32::from(settings.text_percent) / 100.0;
    ctx.set_zoom_factor(zoom);
    theme::dress(ctx, palette, settings.light, settings.reduced_motion);
    let place = Place2d::new(view, zoom);
    bay.texts = settings.texts();
    bay.lead_end = ctx.pointer_hover_pos().map(|at| place.design(in_hand::lead_end(at)));

    if let Some(path) = bay.left.clone() {
        cards::left_job(ctx, bay, palette, &path);
        return;
    }
    if bay.guide == Some(Guide::Offered) {
        first_job::note(ctx, bay, palette);
        return;
    }
    keys(ctx, bay);
    let mut ui = egui::Ui::new(
        ctx.clone(),
        Id::new("scene"),
        UiBuilder::new()
            .layer_id(LayerId::new(Order::Background, Id::new("scene")))
            .max_rect(ctx.viewport_rect()),
    );
    looking::by_hand(&ui, bay, gaze, &place, anchors);
    plate(&ui, &place, anchors, palette);
    meter_face(&ui, bay, &place, anchors, palette);
    clamp_face(&ui, bay, &place, anchors, palette);
    leader(&ui, bay, &place, anchors, palette);
    borrowed_drawing(&ui, bay, &place, anchors, palette);
    let marked = bay.is_over() && !bay.marks_aside;
    if !marked {
        let signs = spots(&mut ui, bay, gaze, &place, anchors, palette);
        lead_marks(&ui, bay, &place, anchors, signs, palette);
    }
    if view.is_far() {
        sheet::clipboard(ctx, bay, settings.text_percent, &place, anchors, palette);
    } else {
        looking::near_plate(&ui, bay, gaze, &place, anchors, palette);
    }
    captions(ctx, bay, palette);
    let released = ctx.input(|input| input.pointer.any_released());
    if marked {
        sheet::marks_card(ctx, bay, palette);
    } else {
        cards::open_card(ctx, bay, settings, gaze, &place, anchors, palette);
    }
    first_job::note(ctx, bay, palette);
    in_hand::show(ctx, bay, palette);
    bay.dragging &= !released;
}

fn keys(ctx: &egui::Context, bay: &mut Bay) {
    if ctx.input(|input| input.key_pressed(Key::Escape)) {
        if bay.hand != Hand::Empty {
            bay.hand = Hand::Empty;
        } else if !egui::Popup::is_any_open(ctx) {
            bay.open = None;
        }
    }
    if !bay.is_over() {
        hand_tools::by_keys(ctx, bay);
    }
    if ctx.egui_wants_keyboard_input() && ctx.memory(|memory| memory.focused().is_some()) {
        // A text field, a slider or a list has the keyboard; Tab and arrows go there.
        let typing =
            ctx.input(|input| input.events.iter().any(|event| matches!(event, egui::Event::Text(_))));
        if typing {
            return;
        }
    }
    let over = bay.is_over();
    if over && !bay.marks_aside {
        return;
    }
    if ctx.input(|input| input.key_pressed(Key::F1)) {
        bay.open = if bay.open == Some(Place::Help) { None } else { Some(Place::Help) };
    }
    for (key, place) in [
        (Key::F2, Place::Customer),
        (Key::F3, Place::Findings),
        (Key::F4, Place::Diagram),
        (Key::F5, Place::Naming),
        (Key::F6, Place::Writing),
        (Key::F7, Place::HandingIn),
        (Key::F8, Place::Lid),
        (Key::F9, Place::Key),
        (Key::F10, Place::Everything),
        (Key::F11, Place::Suspicions),
        (Key::F12, Place::Coach),
        (Key::Home, Place::Shelf),
        (Key::End, Place::Settings),
        (Key::Insert, Place::Author),
    ] {
        let needs_a_job = place.is_of_an_open_job();
        if ctx.input(|input| input.key_pressed(key)) && !(over && needs_a_job) && bay.offers(place) {
            bay.open = if bay.open == Some(place) { None } else { Some(place) };
        }
    }
}

/// The number plate's letters: invented, like the car.
fn plate(ui: &egui::Ui, place: &Place2d<'_>, anchors: &Anchors, palette: &Palette) {
    if let Some(at) = anchors.design("plate-text").filter(|at| at.visible) {
        let rect = place.rect(at.centre, at.size);
        // On a door that is turned the plate is narrow.
        let size = (rect.height() * 0.72).min(rect.width() / 5.2).clamp(4.0, 40.0);
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
fn meter_face(ui: &egui::Ui, bay: &Bay, place: &Place2d<'_>, anchors: &Anchors, palette: &Palette) {
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
        if reading.as_ref().is_some_and(|reading| reading.tone) {
            notes.push(t.say("display-tone").to_owned());
        }
    }
    let notes = notes.join("  ");
    let wide =
        painter.layout_no_wrap(notes.clone(), FontId::new(SMALL, FontFamily::Proportional), ink).size().x;
    let size = SMALL * ((rect.width() - 10.0) / wide.max(1.0)).min(1.0);
    let font = FontId::new(size, FontFamily::Proportional);
    painter.text(rect.left_top() + vec2(6.0, 2.0), Align2::LEFT_TOP, notes, font, ink);
}

/// The clamp's display, on the clamp.
fn clamp_face(ui: &egui::Ui, bay: &Bay, place: &Place2d<'_>, anchors: &Anchors, palette: &Palette) {
    let clamp = bay.job.as_ref().and_then(|job| job.scene().rest().clamp.clone());
    let (Some(clamp), Some(at)) = (clamp, anchors.design("clamp-display")) else { return };
    tag(ui, place.at(at.centre), &clamp.now.to_string(), palette, false);
}

/// The largest size up to `most` at which monospaced text is no wider than `width`.
fn fit(painter: &egui::Painter, text: &str, width: f32, most: f32) -> f32 {
    let font = FontId::new(most, FontFamily::Monospace);
    let wide = painter.layout_no_wrap(text.to_owned(), font, Color32::BLACK).size().x;
    if wide > width { most * width / wide } else { most }
}

/// Says what the car is, where the drawing is another's.
fn borrowed_drawing(ui: &egui::Ui, bay: &Bay, place: &Place2d<'_>, anchors: &Anchors, palette: &Palette) {
    let vehicle = bay.vehicle();
    let Some(at) = anchors.design("side-view").filter(|_| !is_drawn(&vehicle.id)) else { return };
    let below = place.at(at.centre + Vec2::new(0.0, at.size.y / 2.0)) + vec2(0.0, 22.0);
    tag(ui, below, &vehicle.title, palette, true);
    tag(ui, below + vec2(0.0, 26.0), bay.texts.say("spot-borrowed"), palette, false);
}

/// A line from the open card's thing to the middle of the screen's free side, so that the eye finds it.
fn leader(ui: &egui::Ui, bay: &Bay, place: &Place2d<'_>, anchors: &Anchors, palette: &Palette) {
    let opened = bay.open.and_then(|open| cards::placed(bay, anchors, open));
    let Some(at) = opened.filter(|at| at.visible) else { return };
    let centre = place.at(at.centre);
    let accent = colour(palette, "accent");
    ui.painter().circle_stroke(centre, 15.0, Stroke::new(2.5, accent));
}

/// Names what the meter's leads are on, beside it and over no sign, nor under the sheet or the captions.
fn lead_marks(
    ui: &egui::Ui,
    bay: &Bay,
    place: &Place2d<'_>,
    anchors: &Anchors,
    mut taken: Vec<Rect>,
    palette: &Palette,
) {
    let Some(job) = &bay.job else { return };
    taken.extend(
        ["sheet", "captions"].iter().filter_map(|area| ui.memory(|memory| memory.area_rect(Id::new(*area)))),
    );
    let t = bay.texts;
    let vehicle = bay.vehicle();
    let meter = &job.scene().kit().meter;
    for (point, name) in [(meter.red, t.say("lead-red")), (meter.black, t.say("lead-black"))] {
        let Some(point) = point else { continue };
        let anchor = super::sync::point_anchor(vehicle, anchors, point);
        let Some(at) = anchors.design(&anchor) else { continue };
        if !ui.max_rect().contains(place.at(at.centre)) {
            continue;
        }
        let text = say!(t, "spot-lead", lead = name, point = short_point(t, vehicle, point));
        let named = Rect::from_center_size(place.at(at.centre), SIGN);
        taken.retain(|one| !one.contains(named.center()));
        let rect = beside(named, tag_size(ui, &text), &taken, ui.max_rect().shrink(4.0));
        tag(ui, rect.center(), &text, palette, false);
        taken.push(rect);
        taken.push(named);
    }
}

/// What the words of a plate take.
fn tag_size(ui: &egui::Ui, text: &str) -> egui::Vec2 {
    let font = FontId::new(SMALL, FontFamily::Proportional);
    ui.painter().layout_no_wrap(text.to_owned(), font, Color32::WHITE).size() + vec2(12.0, 6.0)
}

/// A small dark plate with text, kept inside the window.
fn tag(ui: &egui::Ui, centre: Pos2, text: &str, palette: &Palette, lit: bool) {
    let font = FontId::new(SMALL, FontFamily::Proportional);
    let galley = ui.painter().layout_no_wrap(text.to_owned(), font, colour(palette, "card-text"));
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
}

/// All places that can be touched now, in an order that a hand would take: car, then tools.
fn all_spots(bay: &Bay, anchors: &Anchors) -> Vec<Spot> {
    let t = bay.texts;
    let vehicle = bay.vehicle();
    let mut spots = Vec::new();
    let mut add = |anchor: &str, label: String, touch: Touch, whole: bool| {
        spots.push(Spot { anchor: anchor.to_owned(), label, touch, whole });
    };
    // Outside while it is down, on the inside once it is up: one of the two is in view.
    add("lid-handle", say!(t, "spot-lid", lid = &vehicle.lid.title), Touch::Open(Place::Lid), false);
    add("lid-strut-right", say!(t, "spot-lid", lid = &vehicle.lid.title), Touch::Open(Place::Lid), false);
    for (id, part) in vehicle.parts() {
        if let PartKind::Switch { springs_back: true, .. } = part.kind
            && matches!(part.reach.zone, Zone::Outside | Zone::Lid)
        {
            add(&part.id, say!(t, "spot-press", part = &part.title), Touch::Act(Action::Press(id)), false);
        }
    }
    add("lever", t.say("spot-lever").to_owned(), Touch::Act(Action::Lever), false);
    for (at, panel) in vehicle.panels.iter().enumerate() {
        add(&panel.id, panel.title.clone(), Touch::Open(Place::Panel(PanelId::at(at))), false);
    }
    for (at, stud) in vehicle.studs.iter().enumerate() {
        let id = StudId::at(at);
        add(&stud.id, stud.title.clone(), Touch::Point(Point::Stud(id), Place::Stud(id)), false);
    }
    add("body-metal", t.say("point-body").to_owned(), Touch::Point(Point::Body, Place::Body), false);
    for (at, connector) in vehicle.connectors.iter().enumerate() {
        let id = ConnectorId::at(at);
        let anchor = connector_anchor(vehicle, anchors, id);
        if anchor != "cabin" {
            add(&anchor, connector.title.clone(), Touch::Open(Place::Connector(id)), false);
        }
    }
    for (at, station) in vehicle.stations.iter().enumerate() {
        add(
            &station.id,
            say!(t, "spot-loom", station = &station.title),
            Touch::Open(Place::Station(StationId::at(at))),
            false,
        );
    }
    for fuse in vehicle.fuses.iter().filter(|fuse| !matches!(fuse.reach.zone, Zone::Cabin | Zone::Front)) {
        add(&fuse.id, fuse.title.clone(), Touch::Open(Place::Cabin), false);
    }
    add("cabin", t.say("spot-cabin").to_owned(), Touch::Open(Place::Cabin), true);
    add("front", t.say("spot-front").to_owned(), Touch::Open(Place::Front), true);
    for (anchor, button, label) in [
        ("key-lock", KeyButton::Lock, t.say("spot-key-lock")),
        ("key-unlock", KeyButton::Unlock, t.say("spot-key-unlock")),
        ("key-lid", KeyButton::Release, t.say("spot-key-release")),
    ] {
        add(anchor, label.to_owned(), Touch::Act(Action::Key(button)), true);
    }
    add("key", t.say("spot-key").to_owned(), Touch::Open(Place::Key), false);
    for (anchor, setting, label) in [
        ("meter-off", MeterSetting::Off, t.say("spot-meter-off")),
        ("meter-volts", MeterSetting::Volts, t.say("spot-meter-volts")),
        ("meter-low-z", MeterSetting::LowZ, t.say("spot-meter-low-z")),
        ("meter-ohms", MeterSetting::Ohms, t.say("spot-meter-ohms")),
        ("meter-tone", MeterSetting::Tone, t.say("spot-meter-tone")),
        ("meter-diode", MeterSetting::Diode, t.say("spot-meter-diode")),
        ("meter-amps", MeterSetting::Amps, t.say("spot-meter-amps")),
    ] {
        add(anchor, label.to_owned(), Touch::Act(Action::Meter(setting)), true);
    }
    let capture = bay.job.as_ref().is_some_and(|job| job.scene().kit().meter.capture);
    add("meter-capture", t.say("spot-meter-capture").to_owned(), Touch::Act(Action::Capture(!capture)), true);
    for (anchor, lead, take, back) in [
        ("meter-red", Lead::Red, "spot-red-take", "spot-red-back"),
        ("meter-black", Lead::Black, "spot-black-take", "spot-black-back"),
    ] {
        let label = t.say(if bay.hand == Hand::Probe(lead) { back } else { take });
        add(anchor, label.to_owned(), Touch::Take(lead), false);
    }
    for tool in [
        Tool::TestLamp(LampSize::Five),
        Tool::TestLamp(LampSize::TwentyOne),
        Tool::Bridge,
        Tool::BenchBattery,
    ] {
        add(tool_anchor(tool), words::tool_title(t, tool).to_owned(), Touch::Open(Place::Tool(tool)), true);
    }
    add("meter-display", t.say("spot-meter").to_owned(), Touch::Open(Place::Meter), true);
    add("clamp", t.say("spot-clamp").to_owned(), Touch::Open(Place::Clamp), true);
    add("recorder", t.say("spot-recorder").to_owned(), Touch::Open(Place::Recorder), true);
    add("fuse-tray", t.say("spot-fuse-tray").to_owned(), Touch::Open(Place::FuseTray), true);
    for tool in HandTool::ALL {
        add(tool.anchor(), tool.label(t, bay.hand).to_owned(), Touch::Hold(tool), true);
    }
    spots
}

/// Shows the places that can be touched, takes touches, and tells where the signs are.
fn spots(
    ui: &mut egui::Ui,
    bay: &mut Bay,
    gaze: &mut Gaze,
    place: &Place2d<'_>,
    anchors: &Anchors,
    palette: &Palette,
) -> Vec<Rect> {
    let accent = colour(palette, "accent");
    let focus = colour(palette, "focus");
    let in_hand = bay.hand.goes_to_a_point();
    let mut touched = None;
    let mut named: Option<(Rect, String)> = None;
    let mut signs = Vec::new();
    for spot in all_spots(bay, anchors) {
        // Where a tool in hand hangs otherwise, it is laid down again.
        let held = matches!(spot.touch, Touch::Hold(tool) if bay.hand == Hand::Tool(tool));
        let Some(at) = anchors.design(&spot.anchor).filter(|at| at.visible || held) else { continue };
        if is_covered(bay, &spot.touch) {
            continue;
        }
        let centre = place.at(at.centre);
        let rect = if spot.whole {
            place.rect(at.centre, at.size).expand(1.0)
        } else {
            Rect::from_center_size(centre, vec2(26.0, 26.0))
        };
        let sense =
            if matches!(spot.touch, Touch::Take(_)) { Sense::click_and_drag() } else { Sense::click() };
        // The keyboard goes to an open card, not to what lies behind it; the pointer still reaches what it sees.
        let sense = if bay.open.is_some() { sense.difference(Sense::FOCUSABLE) } else { sense };
        let response = ui.interact(rect, Id::new(("spot", &spot.anchor)), sense);
        response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, &spot.label));
        let lit = response.hovered() || response.has_focus();
        if response.gained_focus() {
            gaze.bring_into_view(at.centre);
        }
        let sign = spot.touch.sign(bay.vehicle());
        let work = match bay.hand {
            Hand::Tool(tool) => spot.touch.place().and_then(|place| tool.would(bay, place)),
            _ => None,
        };
        let takes_lead = in_hand
            && matches!(
                spot.touch,
                Touch::Point(..)
                    | Touch::Open(Place::Connector(_) | Place::Cabin | Place::Front | Place::Key)
            );
        let line = if response.has_focus() { focus } else { accent };
        if spot.whole {
            if lit || takes_lead || held {
                ui.painter().rect_stroke(
                    rect.expand(2.0),
                    6.0,
                    Stroke::new(2.0, line),
                    egui::StrokeKind::Outside,
                );
            }
        } else {
            let wanted = takes_lead || work.is_some();
            let radius = if lit { 11.0 } else { 7.5 };
            let alpha = if lit || wanted { 1.0 } else { 0.85 };
            // A rim sets it off from what lies behind, bright or dark.
            let rim = if palette.is_bright() {
                Color32::from_white_alpha(235)
            } else {
                Color32::from_black_alpha(120)
            };
            sign.draw(ui.painter(), centre, radius, line.gamma_multiply(alpha), rim);
            if wanted {
                ui.painter().circle_filled(centre, 3.0, accent);
            }
            signs.push(Rect::from_center_size(centre, SIGN));
        }
        let is_open = spot.touch.place().is_some_and(|place| bay.open == Some(place));
        if lit && !is_open {
            let label = match work {
                Some(work) => say!(bay.texts, "tool-would", place = &spot.label, act = work),
                None => spot.label.clone(),
            };
            named = Some((rect, label));
        }
        if let Touch::Take(lead) = spot.touch
            && response.drag_started()
        {
            bay.hand = Hand::Probe(lead);
            bay.dragging = true;
        }
        if response.clicked() || (takes_lead && bay.is_dropped_on(&response)) {
            touched = Some(spot.touch);
        }
    }
    if let Some((rect, label)) = named {
        let mut others: Vec<Rect> = signs.iter().filter(|one| !one.intersects(rect)).copied().collect();
        others.extend(in_hand::covers(ui.ctx(), bay));
        let words = beside(rect, tag_size(ui, &label), &others, ui.max_rect().shrink(4.0));
        tag(ui, words.center(), &label, palette, true);
    }
    if let Some(touch) = touched {
        do_touch(bay, touch);
    }
    signs
}

/// Whether a panel still covers what a touch would open: the drawing shows the panel there.
fn is_covered(bay: &Bay, touch: &Touch) -> bool {
    let vehicle = bay.vehicle();
    let reach = match *touch {
        Touch::Open(Place::Connector(id)) => vehicle.connector(id).reach,
        Touch::Open(Place::Station(id)) => vehicle.station(id).reach,
        Touch::Point(_, Place::Stud(id)) => vehicle.stud(id).reach,
        _ => return false,
    };
    let obstacle = bay.job.as_ref().and_then(|job| job.scene().obstacle(vehicle, reach));
    matches!(obstacle, Some(Obstacle::Panel(_)))
}

fn do_touch(bay: &mut Bay, touch: Touch) {
    if touch.place().is_some_and(|place| hand_tools::touched(bay, place)) {
        return;
    }
    match touch {
        Touch::Hold(tool) => hand_tools::take(bay, tool),
        Touch::Open(open) => bay.open = if bay.open == Some(open) { None } else { Some(open) },
        Touch::Act(action) => bay.act(action),
        // In hand already: back to the meter with it.
        Touch::Take(lead) if bay.hand == Hand::Probe(lead) => {
            bay.hand = Hand::Empty;
            bay.take_off(lead);
        }
        Touch::Take(lead) => bay.hand = Hand::Probe(lead),
        Touch::Point(point, _) if bay.hand.goes_to_a_point() => bay.put_to(point),
        Touch::Point(_, open) => bay.open = Some(open),
    }
}

/// Every place by name, those behind something too: for the keyboard, and for what the drawing hides just now.
pub(super) fn everything(ui: &mut egui::Ui, bay: &mut Bay, anchors: &Anchors) {
    let mut touched = None;
    ui.horizontal_wrapped(|ui| {
        for spot in all_spots(bay, anchors).into_iter().filter(|spot| spot.anchor != "lid-strut-right") {
            if ui.button(&spot.label).clicked() {
                touched = Some(spot.touch);
            }
        }
    });
    if let Some(touch) = touched {
        do_touch(bay, touch);
    }
}

/// What is in hand, what the last act brought, and what went wrong.
fn captions(ctx: &egui::Context, bay: &mut Bay, palette: &Palette) {
    let accent = colour(palette, "caption");
    let faint = colour(palette, "card-faint");
    let t = bay.texts;
    let hand = match bay.hand {
        Hand::Empty | Hand::Tool(_) => None,
        Hand::Probe(Lead::Red) => Some(t.say("hand-red-probe").to_owned()),
        Hand::Probe(Lead::Black) => Some(t.say("hand-black-probe").to_owned()),
        Hand::Clamp => Some(t.say("hand-clamp").to_owned()),
        Hand::Recorder(None) => Some(t.say("hand-recorder-plus").to_owned()),
        Hand::Recorder(Some(first)) => {
            let first = short_point(t, bay.vehicle(), first);
            Some(say!(t, "hand-recorder-minus", point = first))
        }
        Hand::Clip(tool, None) => Some(say!(t, "hand-first-clip", tool = words::tool_title(t, tool))),
        Hand::Clip(tool, Some(first)) => {
            let first = short_point(t, bay.vehicle(), first);
            Some(say!(t, "hand-second-clip", tool = words::tool_title(t, tool), point = first))
        }
    };
    if let Some(trouble) = bay.trouble.clone() {
        egui::Area::new(Id::new("trouble")).anchor(Align2::CENTER_TOP, [0.0, 56.0]).show(ctx, |ui| {
            theme::card_frame(palette).show(ui, |ui| {
                ui.set_max_width(620.0);
                ui.colored_label(colour(palette, "warning"), trouble.told(t));
                ui.horizontal(|ui| {
                    if bay.is_stranded() && ui.button(t.say("trouble-another")).clicked() {
                        bay.next_job();
                    }
                    if ui.button(t.say("trouble-understood")).clicked() {
                        bay.trouble = None;
                    }
                });
            });
        });
    }
    let hand = hand.map(|what| say!(t, "caption-in-hand", what = what)).or(match bay.hand {
        Hand::Tool(tool) => Some(tool.about(t).to_owned()),
        _ => None,
    });
    let lines = bay.captions();
    let breaches: Vec<&str> = bay
        .last_step()
        .map(|step| step.outcome.breaches.iter().map(|caution| words::caution(t, *caution)).collect())
        .unwrap_or_default();
    if lines.is_empty() && hand.is_none() {
        return;
    }
    egui::Area::new(Id::new("captions"))
        .anchor(Align2::CENTER_BOTTOM, [-20.0, -8.0])
        .order(Order::Middle)
        .interactable(false)
        .show(ctx, |ui| {
            theme::card_frame(palette).fill(colour(palette, "card").gamma_multiply(0.93)).show(ui, |ui| {
                // In large text as wide as the window allows.
                ui.set_width((ctx.viewport_rect().width() - 70.0).min(640.0));
                ui.spacing_mut().item_spacing.y = 2.0;
                for (at, line) in lines.iter().enumerate() {
                    let colour = if at == 0 { faint } else { accent };
                    ui.label(egui::RichText::new(line).size(BODY).color(colour));
                }
                for text in breaches.into_iter().take(2) {
                    ui.colored_label(colour(palette, "warning"), say!(t, "caption-breach", caution = text));
                }
                if let Some(hand) = hand {
                    ui.label(egui::RichText::new(hand).size(BODY).color(colour(palette, "focus")));
                }
            });
        });
}
