//! The recorder's card: its leads, its button, and the strip of paper with what it took down last.

use bevy::prelude::Vec2;
use bevy_egui::egui::{
    self, Align2, Color32, FontFamily, FontId, Pos2, RichText, Sense, Shape, Stroke, pos2, vec2,
};
use probeworthy::bench::{Action, Recording};
use probeworthy::circuit::Waveform;
use probeworthy::job::Job;
use probeworthy::say;
use probeworthy::words::{self, Texts};

use super::bay::{Bay, Hand};
use super::cards::act;
use super::scenery::{Palette, PenLine};
use super::theme::{BODY, SMALL, colour};

/// Height of a channel's field, and what is left of it for its figures.
const FIELD: f32 = 110.0;
const MARGIN: f32 = 84.0;
/// What a field shows from its lower to its upper line at least, in volts or amps.
const LEAST_SPAN: f64 = 0.05;

/// The recorder's card.
pub(super) fn recorder(ui: &mut egui::Ui, bay: &mut Bay, palette: &Palette) {
    let t = bay.texts;
    let Some(recorder) = bay.job.as_ref().map(|job| job.scene().kit().recorder) else { return };
    ui.horizontal_wrapped(|ui| match recorder.leads {
        None => {
            if ui.button(t.say("recorder-take")).clicked() {
                bay.hand = Hand::Recorder(None);
                bay.open = None;
            }
            ui.label(t.say("recorder-first-plus"));
        }
        Some((plus, minus)) => {
            let vehicle = bay.vehicle();
            let (plus, minus) = (words::point_title(t, vehicle, plus), words::point_title(t, vehicle, minus));
            ui.label(say!(t, "recorder-on", plus = plus, minus = minus));
            act(ui, bay, t.say("recorder-off"), Action::RecorderLeads(None));
        }
    });
    let label = if recorder.armed { t.say("recorder-disarm") } else { t.say("recorder-arm") };
    act(ui, bay, label, Action::Arm(!recorder.armed));
    ui.label(if recorder.armed { t.say("recorder-armed") } else { t.say("recorder-about") });
    let last = bay.job.iter().flat_map(|job| job.log().iter().rev()).find_map(|step| {
        let recording = step.outcome.recording.clone()?;
        Some((words::action_title(t, bay.vehicle(), &step.action), recording))
    });
    let Some((title, recording)) = last else { return };
    ui.separator();
    ui.label(RichText::new(say!(t, "recorder-last", act = title)).size(BODY).strong());
    paper(ui, t, &recording, palette);
    ui.label(RichText::new(words::recording(t, &recording)).size(SMALL));
}

/// What the recorder took down last, as its pens leave it on the paper in the drawing: a field for each channel, one under the
/// other.
pub(super) fn pens(job: &Job, palette: &Palette) -> Vec<PenLine> {
    /// How many columns a line has at most: more than can be told apart there.
    const COLUMNS: usize = 40;
    /// What is left free above and below a line, as a share of its field.
    const FREE: f32 = 0.12;
    let Some(recording) = job.log().iter().rev().find_map(|step| step.outcome.recording.as_ref()) else {
        return Vec::new();
    };
    let (begins, ends) = recording.span();
    let volts = recording.volts.iter().map(|wave| (wave, "pen-volts"));
    let channels: Vec<(&Waveform, &str)> =
        volts.chain(recording.amps.iter().map(|wave| (wave, "pen-amps"))).collect();
    let field = 1.0 / channels.len() as f32;
    let line = |at: usize, wave: &Waveform| {
        let (least, greatest) = recording.scale(wave);
        let span = (greatest - least).max(LEAST_SPAN);
        let mut line: Vec<Vec2> = Vec::new();
        let mut column = None;
        for &(seconds, value) in wave.points() {
            #[expect(clippy::cast_possible_truncation, reason = "places on a strip of paper")]
            let (across, up) = (
                ((seconds - begins) / (ends - begins)).clamp(0.0, 1.0) as f32,
                ((value - least) / span).clamp(0.0, 1.0) as f32,
            );
            let point = Vec2::new(across, field * (at as f32 + 1.0 - FREE - (1.0 - 2.0 * FREE) * up));
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "not below zero")]
            let here = (across * COLUMNS as f32) as usize;
            // Of a column its first point, and what goes beyond that.
            let last = line.last().copied().unwrap_or(point);
            if column != Some(here) || (point.y - last.y).abs() > 0.04 * field {
                line.push(point);
            }
            column = Some(here);
        }
        line
    };
    let pens = channels.iter().enumerate();
    pens.map(|(at, (wave, pen))| PenLine { colour: palette.rgb(pen), points: line(at, wave) }).collect()
}

/// The strip: a field for each channel, one under the other, over the same time.
fn paper(ui: &mut egui::Ui, t: Texts, recording: &Recording, palette: &Palette) {
    let (begins, ends) = recording.span();
    let red = colour(palette, "pen-volts");
    let blue = colour(palette, "pen-amps");
    let volts = recording.volts.iter().map(|wave| (wave, "V", red));
    let channels: Vec<(&Waveform, &str, Color32)> =
        volts.chain(recording.amps.iter().map(|wave| (wave, "A", blue))).collect();
    let width = ui.available_width();
    let height = FIELD * channels.len() as f32 + 20.0;
    let (outer, response) = ui.allocate_exact_size(vec2(width, height), Sense::hover());
    let text = words::recording(t, recording);
    response.widget_info(|| egui::WidgetInfo::labeled(egui::WidgetType::Label, true, &text));
    let painter = ui.painter().with_clip_rect(outer);
    let ink = colour(palette, "paper-ink");
    let faint = colour(palette, "paper-faint");
    let font = FontId::new(SMALL, FontFamily::Monospace);
    painter.rect_filled(outer, 2.0, colour(palette, "paper-well"));
    let (left, right) = (outer.left() + MARGIN, outer.right() - 8.0);
    #[expect(clippy::cast_possible_truncation, reason = "places on a strip of paper")]
    let across = |seconds: f64| left + (right - left) * ((seconds - begins) / (ends - begins)) as f32;
    for line in 0..=10 {
        let x = left + (right - left) * line as f32 / 10.0;
        painter.line_segment([pos2(x, outer.top()), pos2(x, outer.bottom() - 20.0)], Stroke::new(0.5, faint));
    }
    for (at, (wave, unit, pen)) in channels.into_iter().enumerate() {
        let top = outer.top() + FIELD * at as f32 + 10.0;
        let bottom = top + FIELD - 20.0;
        let (least, greatest) = recording.scale(wave);
        let greatest = greatest.max(least + LEAST_SPAN);
        let span = greatest - least;
        #[expect(clippy::cast_possible_truncation, reason = "places on a strip of paper")]
        let up = |value: f64| bottom - (bottom - top) * ((value - least) / span).clamp(0.0, 1.0) as f32;
        for line in 0..=4 {
            let y = top + (bottom - top) * line as f32 / 4.0;
            painter.line_segment([pos2(left, y), pos2(right, y)], Stroke::new(0.5, faint));
        }
        let points: Vec<Pos2> =
            wave.points().iter().map(|&(seconds, value)| pos2(across(seconds), up(value))).collect();
        painter.add(Shape::line(points, Stroke::new(1.8, pen)));
        for (value, y) in [(greatest, top), (least, bottom)] {
            let figure = words::recorder_figure(value, (least, greatest), unit);
            painter.text(pos2(left - 6.0, y), Align2::RIGHT_CENTER, figure, font.clone(), ink);
        }
    }
    let foot = outer.bottom() - 2.0;
    for (x, anchor, seconds) in [(left, Align2::LEFT_BOTTOM, begins), (right, Align2::RIGHT_BOTTOM, ends)] {
        painter.text(pos2(x, foot), anchor, format!("{:.0} ms", seconds * 1e3), font.clone(), ink);
    }
}
