//! Captions over the scene, at its lower edge where that leaves everything in view: what the last act brought, what is in hand, and what went wrong.

use bevy_egui::egui::accesskit::Live;
use bevy_egui::egui::{self, Align2, Color32, FontFamily, FontId, Id, Order, Pos2, Rect, pos2, vec2};
use probeworthy::bench::{Action, Lead, Seen};
use probeworthy::say;
use probeworthy::words::{self, Texts};

use super::bay::{Bay, Hand, Place};
use super::cards::meter_left;
use super::first_job::{note_area, note_below};
use super::overlay::{Place2d, laid};
use super::scenery::{Anchors, Palette};
use super::spots::SIGN;
use super::sync::point_anchor;
use super::theme::{self, BODY, LOW, colour};

/// Greatest width of the captions, and what their margins and a little room on both sides take, in points.
const WIDTH: f32 = 640.0;
const ROOM: f32 = 42.0;
/// So wide they are at least, in points.
const LEAST: f32 = 200.0;
/// From the picture on the wall to the edge of its board, in points.
const FRAME: f32 = 24.0;

/// At the top they are not laid in less width than this, but where there is no room below.
const LEAST_ABOVE: f32 = 300.0;
/// Between them and the window's edge, in points.
const EDGE: f32 = 8.0;
/// What three lines of them take, with their frame, in points.
const THREE_LINES: f32 = 84.0;

/// Where captions lie, by the middle of their upper or lower edge.
struct Strip {
    pivot: Align2,
    at: Pos2,
    width: f32,
}

impl Strip {
    /// In the room from `left` to `right`, with their middle as near to `middle` as it allows, so wide where there is room.
    fn within(pivot: Align2, y: f32, (left, right): (f32, f32), middle: f32, wide: f32) -> Self {
        let room = (right - left - ROOM).max(LEAST);
        let width = room.min(wide);
        let half = (width + ROOM) / 2.0;
        Self { pivot, at: pos2(middle.min(left + room + ROOM - half).max(left + half), y), width }
    }

    /// How many of these three lines there would cover.
    fn covers(&self, signs: &[Rect]) -> usize {
        let strip = self.pivot.anchor_size(self.at, vec2(self.width + ROOM / 2.0, THREE_LINES));
        signs.iter().filter(|sign| sign.intersects(strip)).count()
    }
}

/// Where they lie: at the lower edge, between the first job's note and the meter. Where there is no room, or a sign would lie under
/// them, at the upper edge between the job sheet and the picture on the wall, if no card lies there and they cover less.
fn lie(
    ctx: &egui::Context,
    bay: &Bay,
    place: &Place2d<'_>,
    anchors: &Anchors,
    signs: &[Rect],
    wide: f32,
) -> Strip {
    let screen = ctx.viewport_rect();
    let left = note_below(ctx, bay).map_or(screen.left(), |note| note.right());
    let right = meter_left(screen, place, anchors);
    let middle = screen.center().x - 20.0;
    let below = Strip::within(Align2::CENTER_BOTTOM, screen.bottom() - EDGE, (left, right), middle, wide);
    let note_is_above = note_area(ctx, bay).is_some() && note_below(ctx, bay).is_none();
    if bay.open.is_some() || note_is_above {
        return below;
    }
    let has_room = right - left - ROOM >= LEAST;
    let above = if place.is_far() {
        let (left, right) = upper_room(ctx, place, anchors);
        if has_room && right - left - ROOM < LEAST_ABOVE {
            return below;
        }
        Strip::within(Align2::CENTER_TOP, screen.top() + EDGE, (left, right), middle, wide)
    } else {
        // Where signs are when the eye is near changes with every look: only what is probed counts there.
        let top = laid(ctx, Id::new("near")).map_or(screen.top(), |near| near.bottom()) + EDGE;
        let above = Strip::within(Align2::CENTER_TOP, top, (screen.left(), screen.right()), middle, wide);
        let probed = probed(bay, place, anchors);
        return if !has_room || above.covers(&probed) < below.covers(&probed) { above } else { below };
    };
    if !has_room || above.covers(signs) < below.covers(signs) { above } else { below }
}

/// From where to where there is room at the upper edge: between the job sheet and the picture on the wall.
pub(super) fn upper_room(ctx: &egui::Context, place: &Place2d<'_>, anchors: &Anchors) -> (f32, f32) {
    let screen = ctx.viewport_rect();
    let left = laid(ctx, Id::new("sheet")).map_or(screen.left(), |sheet| sheet.right());
    let picture = anchors.design("side-view").map(|at| place.rect(at.centre, at.size).left() - FRAME);
    (left, picture.unwrap_or(screen.right()))
}

/// Where the meter's probes are, as large as signs.
fn probed(bay: &Bay, place: &Place2d<'_>, anchors: &Anchors) -> Vec<Rect> {
    let leads = bay.job.as_ref().map(|job| &job.scene().kit().meter).map(|meter| [meter.red, meter.black]);
    let points = leads.into_iter().flatten().flatten();
    let placed = points.filter_map(|point| anchors.design(&point_anchor(bay.vehicle(), anchors, point)));
    placed.map(|at| Rect::from_center_size(place.at(at.centre), SIGN)).collect()
}

/// Where they are, if they lie at the lower edge.
pub(super) fn below(ctx: &egui::Context) -> Option<Rect> {
    let lower = ctx.viewport_rect().bottom() - 2.0 * EDGE;
    laid(ctx, Id::new("captions")).filter(|area| area.bottom() > lower)
}

/// What is in hand, and what the last act brought.
pub(super) fn captions(
    ctx: &egui::Context,
    bay: &Bay,
    place: &Place2d<'_>,
    anchors: &Anchors,
    signs: &[Rect],
    palette: &Palette,
) {
    let accent = colour(palette, "caption");
    let faint = colour(palette, "card-faint");
    let t = bay.texts;
    let hand = match bay.hand {
        Hand::Empty | Hand::Tool(_) => None,
        Hand::Probe(Lead::Red) => Some(t.say("hand-red-probe").to_owned()),
        Hand::Probe(Lead::Black) => Some(t.say("hand-black-probe").to_owned()),
        Hand::Clamp => Some(match bay.misfit {
            Some(point) => say!(t, "hand-clamp-not", point = words::point_title(t, bay.vehicle(), point)),
            None => t.say("hand-clamp").to_owned(),
        }),
        Hand::Recorder(None) => Some(t.say("hand-recorder-plus").to_owned()),
        Hand::Recorder(Some(first)) => {
            let first = words::point_title(t, bay.vehicle(), first);
            Some(say!(t, "hand-recorder-minus", point = first))
        }
        Hand::Clip(tool, None) => Some(say!(t, "hand-first-clip", tool = words::tool_title(t, tool))),
        Hand::Clip(tool, Some(first)) => {
            let first = words::point_title(t, bay.vehicle(), first);
            Some(say!(t, "hand-second-clip", tool = words::tool_title(t, tool), point = first))
        }
    };
    let hand = hand.map(|what| say!(t, "caption-in-hand", what = what)).or(match bay.hand {
        Hand::Tool(tool) => Some(tool.about(t).to_owned()),
        _ => None,
    });
    let lines = lines(bay);
    let breaches: Vec<String> = bay
        .last_step()
        .into_iter()
        .flat_map(|step| step.outcome.breaches.iter().take(2))
        .map(|caution| say!(t, "caption-breach", caution = words::caution(t, *caution)))
        .collect();
    if lines.is_empty() && hand.is_none() {
        return;
    }
    // Nothing is done on the diagram that they would answer, and in large text it wants their room.
    if bay.open == Some(Place::Diagram) && ctx.viewport_rect().height() < LOW {
        return;
    }
    // No wider than their longest line.
    let wide = |text: &String| {
        let font = FontId::new(BODY, FontFamily::Proportional);
        ctx.fonts_mut(|fonts| fonts.layout_no_wrap(text.clone(), font, Color32::PLACEHOLDER).size().x)
    };
    let longest = lines.iter().chain(&breaches).chain(&hand).map(wide).fold(0.0, f32::max).ceil() + 1.0;
    let Strip { pivot, at, width } = lie(ctx, bay, place, anchors, signs, longest.clamp(LEAST, WIDTH));
    egui::Area::new(Id::new("captions"))
        .pivot(pivot)
        .fixed_pos(at)
        .order(Order::Middle)
        .interactable(false)
        .show(ctx, |ui| {
            theme::card_frame(palette).fill(colour(palette, "card").gamma_multiply(0.93)).show(ui, |ui| {
                ui.set_width(width);
                ui.spacing_mut().item_spacing.y = 2.0;
                for (at, line) in lines.iter().enumerate() {
                    let colour = if at == 0 { faint } else { accent };
                    announced(&ui.label(egui::RichText::new(line).size(BODY).color(colour)));
                }
                for breach in breaches {
                    announced(&ui.colored_label(colour(palette, "warning"), breach));
                }
                if let Some(hand) = hand {
                    announced(
                        &ui.label(egui::RichText::new(hand).size(BODY).color(colour(palette, "focus"))),
                    );
                }
            });
        });
}

/// What went wrong, until it has been read.
pub(super) fn trouble(ctx: &egui::Context, bay: &mut Bay, palette: &Palette) {
    let Some(trouble) = bay.trouble.clone() else { return };
    let t = bay.texts;
    // Over an open card, too.
    let area = egui::Area::new(Id::new("trouble")).order(Order::Foreground);
    area.anchor(Align2::CENTER_TOP, [0.0, 56.0]).show(ctx, |ui| {
        theme::card_frame(palette).show(ui, |ui| {
            ui.set_max_width((ctx.viewport_rect().width() - ROOM).min(620.0));
            announced(&ui.colored_label(colour(palette, "warning"), trouble.told(t)));
            ui.horizontal(|ui| {
                if bay.is_stranded()
                    && bay.may_begin_another()
                    && ui.button(t.say("trouble-another")).clicked()
                {
                    bay.next_job();
                }
                if ui.button(t.say("trouble-understood")).clicked() {
                    bay.trouble = None;
                }
            });
        });
    });
}

/// Has a screen reader say this when it changes, once it has said what it is saying.
fn announced(label: &egui::Response) {
    label.ctx.accesskit_node_builder(label.id, |node| node.set_live(Live::Polite));
}

/// What the last act brought, in lines.
fn lines(bay: &Bay) -> Vec<String> {
    let Some(step) = bay.last_step() else { return Vec::new() };
    let t = bay.texts;
    let vehicle = bay.vehicle();
    let outcome = &step.outcome;
    let mut lines = vec![words::capital(&words::action_title(t, vehicle, &step.action))];
    if let Some(why) = outcome.refused {
        lines.push(say!(t, "caption-refused", why = words::refusal(t, vehicle, why)));
    }
    let heard = outcome.heard.iter().map(|heard| words::heard(t, vehicle, heard));
    lines.extend(in_one(t, "caption-heard", heard));
    let readings = outcome.reading.iter();
    lines.extend(readings.map(|one| say!(t, "caption-meter", reading = words::reading(t, one))));
    let clamp = outcome.clamp.iter();
    lines.extend(clamp.map(|one| say!(t, "caption-clamp", reading = words::clamp_reading(t, one))));
    let recording = outcome.recording.iter();
    lines.extend(recording.map(|one| say!(t, "caption-recorder", reading = words::recording(t, one))));
    let looked = matches!(step.action, Action::Observe);
    let seen = outcome
        .seen
        .iter()
        .filter(|seen| !looked || !matches!(seen, Seen::Lamp(_, light) if *light < 0.004))
        .map(|seen| words::seen(t, vehicle, seen));
    let dark = looked.then(|| t.say("caption-others-dark").to_owned());
    lines.extend(in_one(t, "caption-seen", seen.chain(dark)));
    lines
}

/// Several things in one caption with this id, as far as it stays short enough to be read at a glance.
fn in_one(t: Texts, id: &'static str, things: impl Iterator<Item = String>) -> Option<String> {
    const LONGEST: usize = 300;
    let mut line = String::new();
    for thing in things {
        if line.len() + thing.len() > LONGEST && !line.is_empty() {
            line += "; ";
            line += t.say("caption-more");
            break;
        }
        if !line.is_empty() {
            line += "; ";
        }
        line += &thing;
    }
    (!line.is_empty()).then(|| say!(t, id, what = line))
}
