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
const FIELD: f32 = 120.0;
const MARGIN: f32 = 84.0;
/// Above and below a field's lines, for what marks where the line is cut.
const EDGE: f32 = 16.0;
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

/// Where a line goes furthest beyond what its field shows, upwards and downwards: when, and to what.
fn cut(wave: &Waveform, (least, greatest): (f64, f64)) -> Vec<(f64, f64)> {
    /// What cannot be told from the field's edge, as a share of the field.
    const AT_THE_EDGE: f64 = 0.02;
    let edge = AT_THE_EDGE * (greatest - least);
    let points = || wave.points().iter().copied();
    let highest = points().max_by(|one, other| one.1.total_cmp(&other.1));
    let lowest = points().min_by(|one, other| one.1.total_cmp(&other.1));
    let above = highest.filter(|(_, value)| *value > greatest + edge);
    let below = lowest.filter(|(_, value)| *value < least - edge);
    above.into_iter().chain(below).collect()
}

fn milliseconds(seconds: f64) -> String {
    format!("{:.0} ms", seconds * 1e3)
}

/// How heavy a line of the paper is: that of nothing, or of the act, stands out.
fn weight(value: f64) -> f32 {
    if value == 0.0 { 1.6 } else { 0.5 }
}

/// The values between two that a scale is read by: steps of one, two or five of a power of ten, and as many steps as this at most.
fn round_values(least: f64, greatest: f64, steps: f64) -> Vec<f64> {
    let rough = (greatest - least) / steps;
    let power = libm::pow(10.0, libm::floor(libm::log10(rough)));
    let step = [1.0, 2.0, 5.0].map(|times| times * power).into_iter().find(|step| *step >= rough);
    let step = step.unwrap_or(10.0 * power);
    let first = libm::ceil(least / step);
    (0_u32..).map(|at| (first + f64::from(at)) * step).take_while(|value| *value <= greatest).collect()
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
    let well = colour(palette, "paper-well");
    painter.rect_filled(outer, 2.0, well);
    let (left, right) = (outer.left() + MARGIN, outer.right() - 8.0);
    #[expect(clippy::cast_possible_truncation, reason = "places on a strip of paper")]
    let across = |seconds: f64| left + (right - left) * ((seconds - begins) / (ends - begins)) as f32;
    // Below each line stands its time, with half as much room again beside it.
    let widest = painter.layout_no_wrap(milliseconds(-0.888), font.clone(), ink).size().x;
    let beside = ((right - left) / (1.5 * widest)).max(2.0);
    let foot = outer.bottom() - 2.0;
    for seconds in round_values(begins, ends, f64::from(beside)) {
        let x = across(seconds);
        let line = Stroke::new(weight(seconds), faint);
        painter.line_segment([pos2(x, outer.top()), pos2(x, outer.bottom() - 20.0)], line);
        let words = painter.layout_no_wrap(milliseconds(seconds), font.clone(), ink);
        let at = (x - words.size().x / 2.0).clamp(outer.left() + 2.0, outer.right() - words.size().x - 2.0);
        painter.galley(pos2(at, foot - words.size().y), words, ink);
    }
    for (at, (wave, unit, pen)) in channels.into_iter().enumerate() {
        let top = outer.top() + FIELD * at as f32 + EDGE;
        let bottom = top + FIELD - 2.0 * EDGE;
        let (least, greatest) = recording.scale(wave);
        let greatest = greatest.max(least + LEAST_SPAN);
        let span = greatest - least;
        #[expect(clippy::cast_possible_truncation, reason = "places on a strip of paper")]
        let up = |value: f64| bottom - (bottom - top) * ((value - least) / span).clamp(0.0, 1.0) as f32;
        for value in round_values(least, greatest, 4.0) {
            let y = up(value);
            painter.line_segment([pos2(left, y), pos2(right, y)], Stroke::new(weight(value), faint));
            let figure = words::recorder_figure(value, (least, greatest), unit);
            painter.text(pos2(left - 6.0, y), Align2::RIGHT_CENTER, figure, font.clone(), ink);
        }
        let points: Vec<Pos2> =
            wave.points().iter().map(|&(seconds, value)| pos2(across(seconds), up(value))).collect();
        painter.add(Shape::line(points, Stroke::new(1.8, pen)));
        for (seconds, value) in cut(wave, (least, greatest)) {
            let (y, out) = if value > greatest { (top, -1.0) } else { (bottom, 1.0) };
            let x = across(seconds);
            let arrow = [vec2(-4.0, out), vec2(4.0, out), vec2(0.0, 9.0 * out)].map(|by| pos2(x, y) + by);
            painter.add(Shape::convex_polygon(arrow.to_vec(), pen, Stroke::NONE));
            let figure = words::recorder_figure(value, (least, greatest), unit);
            let (beside, align) = if x < (left + right) / 2.0 {
                (8.0, Align2::LEFT_CENTER)
            } else {
                (-8.0, Align2::RIGHT_CENTER)
            };
            // The sheet's lines behind it give way to the figure, those of the pen do not.
            let under = painter.add(Shape::Noop);
            let words = painter.text(pos2(x + beside, y + 8.0 * out), align, figure, font.clone(), ink);
            let beyond = if out < 0.0 {
                words.with_max_y(words.bottom().min(y - 1.0))
            } else {
                words.with_min_y(words.top().max(y + 1.0))
            };
            painter.set(under, Shape::rect_filled(beyond.expand2(vec2(2.0, 0.0)), 0.0, well));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_scale_is_read_by_round_values() {
        assert_eq!(round_values(-4.0, 12.3, 4.0), [0.0, 5.0, 10.0]);
        assert_eq!(round_values(0.0, 8.0, 4.0), [0.0, 2.0, 4.0, 6.0, 8.0]);
        assert_eq!(round_values(12.31, 12.36, 4.0), [12.32, 12.34, 12.36]);
        for span in [0.05, 0.3, 1.0, 7.0, 9.99, 46.0, 830.0] {
            let values = round_values(-0.3 * span, 0.7 * span, 4.0);
            assert!((2..=5).contains(&values.len()) && values.contains(&0.0), "{span}: {values:?}");
        }
    }

    #[test]
    fn a_line_is_cut_where_it_goes_beyond_its_field() {
        let wave = Waveform::through(vec![(0.0, 12.0), (0.1, 12.1), (0.2, -32.0), (0.3, 0.0), (0.4, 14.0)])
            .expect("points in time");
        assert_eq!(cut(&wave, (-32.0, 14.0)), []);
        assert_eq!(cut(&wave, (-4.0, 13.9)), [(0.2, -32.0)]);
        assert_eq!(cut(&wave, (-4.0, 12.1)), [(0.4, 14.0), (0.2, -32.0)]);
    }
}
