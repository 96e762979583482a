//! Captions under the scene: what the last act brought, what is in hand, and what went wrong.

use bevy_egui::egui::accesskit::Live;
use bevy_egui::egui::{self, Align2, Id, Order, pos2};
use probeworthy::bench::{Action, Lead, Seen};
use probeworthy::say;
use probeworthy::words::{self, Texts};

use super::bay::{Bay, Hand};
use super::cards::meter_left;
use super::first_job::note_area;
use super::overlay::Place2d;
use super::scenery::{Anchors, Palette};
use super::theme::{self, BODY, colour};

/// Width of the captions, and what their margins and a little room on both sides take, in points.
const WIDTH: f32 = 640.0;
const ROOM: f32 = 42.0;
/// Where neither leaves more, they are this wide, in points.
const LEAST: f32 = 200.0;

/// What is in hand, and what the last act brought.
pub(super) fn captions(
    ctx: &egui::Context,
    bay: &Bay,
    place: &Place2d<'_>,
    anchors: &Anchors,
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
    let breaches: Vec<&str> = bay
        .last_step()
        .map(|step| step.outcome.breaches.iter().map(|caution| words::caution(t, *caution)).collect())
        .unwrap_or_default();
    if lines.is_empty() && hand.is_none() {
        return;
    }
    // In large text as wide as the window allows, between the first job's note and the meter.
    let screen = ctx.viewport_rect();
    let left = note_area(ctx, bay).map_or(screen.left(), |note| note.right());
    let room = (meter_left(screen, place, anchors) - left - ROOM).max(LEAST);
    let width = room.min(WIDTH);
    let half = (width + ROOM) / 2.0;
    let middle = (screen.center().x - 20.0).min(left + room + ROOM - half).max(left + half);
    egui::Area::new(Id::new("captions"))
        .pivot(Align2::CENTER_BOTTOM)
        .fixed_pos(pos2(middle, screen.bottom() - 8.0))
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
                for text in breaches.into_iter().take(2) {
                    let breach = say!(t, "caption-breach", caution = text);
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
