//! Going nearer to what is worked on, and back to the whole bay: by click, wheel, pinch, dragging and keys.

use bevy::prelude::Vec2;
use bevy_egui::egui::{self, Id, Key, Order, Rect, Sense, vec2};
use probeworthy::say;
use probeworthy::words::Texts;

use super::bay::{Bay, Hand, Place};
use super::cards;
use super::overlay::{Place2d, laid};
use super::scenery::{Anchors, Gaze, Palette};
use super::theme;

/// How far an arrow key looks aside, as a share of what the window shows.
const ARROW: f32 = 0.125;

/// The scene itself, which is dragged.
pub(super) fn ground() -> Id {
    Id::new("ground")
}

/// Takes what the hand does on the scene itself, where no card and no place lies over it.
pub(super) fn by_hand(ui: &egui::Ui, bay: &Bay, gaze: &mut Gaze, place: &Place2d<'_>, anchors: &Anchors) {
    let ctx = ui.ctx();
    let ground = ui.interact(ui.max_rect(), ground(), Sense::click_and_drag() - Sense::FOCUSABLE);
    if ground.dragged() && !bay.dragging {
        gaze.moved(-place.way(ground.drag_delta()));
    }
    let pointer = ctx.pointer_hover_pos();
    let on_scene =
        pointer.is_some_and(|at| ctx.layer_id_at(at).is_none_or(|layer| layer.order == Order::Background));
    if let Some(at) = pointer.filter(|_| on_scene) {
        let (wheel, pinch) = ctx.input(|input| (input.smooth_scroll_delta().y, input.zoom_delta()));
        let factor = (wheel / 240.0).exp() * pinch;
        if factor != 1.0 {
            gaze.nearer_about(place.design(at), factor);
        }
        // A double click goes nearer or back, where its first click has not gone nearer already.
        let went = Id::new("a click has just gone nearer");
        let double = ground.double_clicked();
        let done = ctx.data_mut(|data| data.remove_temp(went)).unwrap_or(false) && double;
        if ground.clicked() && !done && (double || !is_at_work(bay)) {
            if gaze.is_far() {
                gaze.nearer_to(place.design(at), Gaze::STEP * Gaze::STEP);
                ctx.data_mut(|data| data.insert_temp(went, true));
            } else if double {
                *gaze = Gaze::default();
            }
        }
    }
    if ctx.text_edit_focused() {
        return;
    }
    let pressed = |keys: &[Key]| ctx.input(|input| keys.iter().any(|key| input.key_pressed(*key)));
    if pressed(&[Key::Backspace]) {
        *gaze = Gaze::default();
    }
    // The diagram has a scale of its own.
    let focused = ctx.memory(|memory| memory.focused()).and_then(|id| ctx.read_response(id));
    if bay.open == Some(Place::Diagram) && focused.is_some_and(|one| one.layer_id.order != Order::Background)
    {
        return;
    }
    if pressed(&[Key::Plus, Key::Equals]) {
        let at = attended(ctx, bay, place, anchors);
        match at {
            Some(at) => gaze.nearer_to(at, Gaze::STEP),
            None => gaze.nearer_about(place.design(ui.max_rect().center()), Gaze::STEP),
        }
    }
    if pressed(&[Key::Minus]) {
        gaze.nearer_about(place.design(ui.max_rect().center()), 1.0 / Gaze::STEP);
    }
    // On a card, and from sign to sign, the arrows go on with what has the keyboard.
    if bay.open.is_none() && bay.reading.is_none() && ctx.memory(|memory| memory.focused().is_none()) {
        let step = ui.max_rect().size() * ARROW;
        for (key, way) in [
            (Key::ArrowLeft, vec2(-step.x, 0.0)),
            (Key::ArrowRight, vec2(step.x, 0.0)),
            (Key::ArrowUp, vec2(0.0, -step.y)),
            (Key::ArrowDown, vec2(0.0, step.y)),
        ] {
            if pressed(&[key]) {
                gaze.moved(place.way(way));
            }
        }
    }
}

/// Whether a click beside everything may have been meant for a card, or for where to put what is in hand.
fn is_at_work(bay: &Bay) -> bool {
    bay.open.is_some() || bay.reading.is_some() || bay.hand != Hand::Empty
}

/// Where in the drawing the learner is busy: the thing whose card is open, what has the keyboard, or the pointer.
fn attended(ctx: &egui::Context, bay: &Bay, place: &Place2d<'_>, anchors: &Anchors) -> Option<Vec2> {
    let opened = bay.open.and_then(|open| cards::placed(bay, anchors, open)).map(|at| at.centre);
    let focused = || {
        let spot = ctx.memory(|memory| memory.focused()).and_then(|id| ctx.read_response(id))?;
        (spot.layer_id.order == Order::Background).then(|| place.design(spot.rect.center()))
    };
    opened.or_else(focused).or_else(|| ctx.pointer_hover_pos().map(|at| place.design(at)))
}

/// On the card of a thing: the eye goes to it, or back to the whole bay.
pub(super) fn button(ui: &mut egui::Ui, t: Texts, gaze: &mut Gaze, at: Vec2) {
    if gaze.is_far() {
        if ui.button(t.say("near-go")).on_hover_text(t.say("near-go-key")).clicked() {
            gaze.nearer_to(at, Gaze::STEP * Gaze::STEP);
        }
    } else if ui.button(t.say("near-whole")).on_hover_text(t.say("near-whole-key")).clicked() {
        *gaze = Gaze::default();
    }
}

/// What the displays show that are hidden, the meter's first.
pub(super) fn hidden_readings(
    bay: &Bay,
    place: &Place2d<'_>,
    anchors: &Anchors,
    is_hidden: impl Fn(Rect) -> bool,
) -> Vec<String> {
    let t = bay.texts;
    let hidden =
        |name: &str| anchors.design(name).is_some_and(|at| is_hidden(place.rect(at.centre, at.size)));
    let meter = bay.meter_display().filter(|_| hidden("meter-display"));
    let meter = meter.map(|shown| say!(t, "near-meter", reading = shown.to_string()));
    let clamp = bay.job.as_ref().and_then(|job| job.scene().rest().clamp.as_ref());
    let clamp = clamp.filter(|_| hidden("clamp-display"));
    let clamp = clamp.map(|clamp| say!(t, "near-clamp", reading = clamp.now.to_string()));
    meter.into_iter().chain(clamp).collect()
}

/// While the eye is near: the way back, and what stands on the sheet, the meter and the clamp, which may be out of sight.
pub(super) fn near_plate(
    ui: &egui::Ui,
    bay: &Bay,
    gaze: &mut Gaze,
    place: &Place2d<'_>,
    anchors: &Anchors,
    palette: &Palette,
) {
    let t = bay.texts;
    let captions = laid(ui.ctx(), Id::new("captions"));
    let readings = hidden_readings(bay, place, anchors, |display| {
        captions.is_some_and(|captions| captions.intersects(display)) || !ui.max_rect().contains_rect(display)
    });
    egui::Area::new(Id::new("near"))
        .order(Order::Middle)
        .fixed_pos(ui.max_rect().min + vec2(10.0, 10.0))
        .show(ui.ctx(), |ui| {
            theme::card_frame(palette).inner_margin(6.0).show(ui, |ui| {
                ui.horizontal(|ui| {
                    if ui.button(t.say("near-whole-with-key")).clicked() {
                        *gaze = Gaze::default();
                    }
                    if let Some(job) = &bay.job {
                        let minutes = format!("{:.1}", job.minutes());
                        ui.label(say!(t, "near-clock", minutes = minutes, cost = job.cost()));
                    }
                    for reading in readings {
                        ui.separator();
                        ui.label(reading);
                    }
                });
            });
        });
}
