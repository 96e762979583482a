//! What is laid over the drawn scene: how the two lie on each other, what comes after what in a frame, the keys.

use bevy::prelude::{DetectChangesMut, Res, ResMut, Result, Vec2};
use bevy_egui::EguiContexts;
use bevy_egui::egui::{self, Id, Key, LayerId, Order, Pos2, Rect, Stroke, UiBuilder, pos2};

use super::bay::{Bay, Hand, Place};
use super::captions::{self, captions, trouble};
use super::first_job::{self, Guide};
use super::scenery::{Anchors, Gaze, Palette, View};
use super::settings::Settings;
use super::spots::spots;
use super::theme::{self, colour};
use super::{board, cards, hand_tools, in_hand, looking, plates, reading, sheet};

/// Points of the overlay at which the scene is 1280 wide: the overlay grows with the window.
const BASE_SCALE: f32 = 2.0 / 3.0;

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

    /// How many times larger than usual the text is, at least once.
    pub(super) fn large_text(&self) -> f32 {
        (self.zoom * BASE_SCALE / self.view.scale()).max(1.0)
    }

    /// Whether the whole bay is seen.
    pub(super) fn is_far(&self) -> bool {
        self.view.is_far()
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

/// Where what is laid over the scene under this name lies, if it has been shown in this frame or the last.
pub(super) fn laid(ctx: &egui::Context, id: Id) -> Option<Rect> {
    ctx.memory(|memory| {
        let mut shown = memory.areas().visible_layer_ids().into_iter();
        shown.find(|layer| layer.id == id).and_then(|layer| memory.area_rect(layer.id))
    })
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

/// Pixels a point of the overlay, with text of this size.
pub(super) fn zoom(view: &View, text_percent: u16) -> f32 {
    (view.scale() / BASE_SCALE).clamp(0.5, 4.0) * f32::from(text_percent) / 100.0
}

/// One frame of all that is laid over the scene.
pub(super) fn frame(
    ctx: &egui::Context,
    bay: &mut Bay,
    settings: &mut Settings,
    gaze: &mut Gaze,
    &Scene { view, anchors, palette }: &Scene<'_>,
) {
    let zoom = zoom(view, settings.text_percent);
    ctx.set_zoom_factor(zoom);
    theme::dress(ctx, palette, settings.light, settings.reduced_motion);
    let place = Place2d::new(view, zoom);
    *gaze = bay.wanted_eye.take().unwrap_or(*gaze);
    bay.eye = *gaze;
    bay.texts = settings.texts();
    bay.lead_end = ctx.pointer_hover_pos().map(|at| place.design(in_hand::lead_end(at)));

    let mut ui = egui::Ui::new(
        ctx.clone(),
        Id::new("scene"),
        UiBuilder::new()
            .layer_id(LayerId::new(Order::Background, Id::new("scene")))
            .max_rect(ctx.viewport_rect()),
    );
    theme::shadows(ctx, ui.painter(), palette);
    plates::plate(&ui, &place, anchors, palette);
    if bay.guide == Some(Guide::Offered) {
        first_job::keys_of_the_offer(ctx, bay);
        if bay.open == Some(Place::Settings) {
            cards::open_card(ctx, bay, settings, gaze, &place, anchors, palette);
        } else {
            first_job::offer(ctx, bay, settings, palette);
        }
        return;
    }
    keys(ctx, bay);
    looking::by_hand(&ui, bay, gaze, &place, anchors);
    if bay.is_at_the_board() {
        trouble(ctx, bay, palette);
        board::hold(bay);
        if view.is_far() {
            sheet::without_a_job(ctx, bay.texts, &place, anchors, palette);
        }
        if bay.reading.is_some() {
            reading::show(ctx, bay, palette);
        } else {
            cards::open_card(ctx, bay, settings, gaze, &place, anchors, palette);
        }
        return;
    }
    plates::meter_face(&ui, bay, &place, anchors, palette);
    plates::clamp_face(&ui, bay, &place, anchors, palette);
    leader(&ui, bay, &place, anchors, palette);
    plates::borrowed_drawing(&ui, bay, &place, anchors, palette);
    let marked = bay.is_over() && !bay.marks_aside;
    let mut signs = Vec::new();
    if !marked && bay.reading.is_none() {
        signs = spots(&mut ui, bay, gaze, &place, anchors, palette);
        plates::lead_marks(&ui, bay, &place, anchors, signs.clone(), palette);
    }
    if view.is_far() {
        sheet::clipboard(ctx, bay, settings.text_percent, &place, anchors, palette);
    } else {
        looking::near_plate(&ui, bay, gaze, &place, anchors, palette);
    }
    // On the sheet that lies there then it is said, too.
    if !(marked && bay.is_unmarked()) {
        trouble(ctx, bay, palette);
    }
    if !marked {
        captions(ctx, bay, &place, anchors, &signs, palette);
    }
    let released = ctx.input(|input| input.pointer.any_released());
    if bay.reading.is_some() {
        reading::show(ctx, bay, palette);
    } else if marked {
        sheet::marks_card(ctx, bay, palette);
    } else {
        cards::open_card(ctx, bay, settings, gaze, &place, anchors, palette);
    }
    let room = view.is_far().then(|| captions::upper_room(ctx, &place, anchors));
    first_job::note(ctx, bay, room, &signs, palette);
    in_hand::show(ctx, bay, palette);
    bay.dragging &= !released;
}

fn keys(ctx: &egui::Context, bay: &mut Bay) {
    if bay.reading.is_some() {
        if ctx.input(|input| input.key_pressed(Key::Escape)) {
            bay.lay_aside_the_record();
        }
        return;
    }
    if ctx.input(|input| input.key_pressed(Key::Escape)) {
        if bay.hand != Hand::Empty {
            bay.hand = Hand::Empty;
        } else if !egui::Popup::is_any_open(ctx) {
            bay.close();
        }
    }
    if !bay.is_over() && !bay.is_at_the_board() {
        hand_tools::by_keys(ctx, bay);
    }
    // In a line of text these move the cursor, or do nothing.
    let writing = ctx.text_edit_focused();
    let of_text = [Key::Home, Key::End, Key::Insert];
    let over = bay.is_over();
    if over && !bay.marks_aside {
        return;
    }
    for (key, place) in [
        (Key::F1, Place::Help),
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
        if writing && of_text.contains(&key) {
            continue;
        }
        if ctx.input(|input| input.key_pressed(key)) && !(over && needs_a_job) && bay.offers(place) {
            bay.toggle(place);
        }
    }
}

/// A line from the open card's thing to the middle of the screen's free side, so that the eye finds it.
fn leader(ui: &egui::Ui, bay: &Bay, place: &Place2d<'_>, anchors: &Anchors, palette: &Palette) {
    let opened = bay.open.and_then(|open| cards::placed(bay, anchors, open));
    let Some(at) = opened.filter(|at| at.visible) else { return };
    let centre = place.at(at.centre);
    let (accent, rim) = (colour(palette, "accent"), colour(palette, "ring-rim"));
    // A thing that is touched as a whole has a frame, so that what is written on it can be read.
    let whole = matches!(
        bay.open,
        Some(Place::Tool(_) | Place::Clamp | Place::Recorder | Place::Key | Place::FuseTray | Place::Meter)
    );
    if whole {
        let rect = place.rect(at.centre, at.size).expand(4.0);
        for (wide, ink) in [(5.5, rim), (2.5, accent)] {
            ui.painter().rect_stroke(rect, 8.0, Stroke::new(wide, ink), egui::StrokeKind::Middle);
        }
        return;
    }
    ui.painter().circle_stroke(centre, 15.0, Stroke::new(5.5, rim));
    ui.painter().circle_stroke(centre, 15.0, Stroke::new(2.5, accent));
}
