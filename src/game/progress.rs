//! How far the learner has come: levels by skill, and the marks of all jobs.

use bevy_egui::egui::{self, ProgressBar, RichText, Sense, Stroke, StrokeKind, vec2};
use egui_plot::{AxisHints, Line, Plot, PlotPoints};
use probeworthy::practice::progress;
use probeworthy::say;
use probeworthy::words;

use super::bay::Bay;
use super::scenery::Palette;
use super::shelf::HEADING;
use super::theme::{self, SMALL, colour};

/// A level as a bar, or its empty track while there is none: a bar of nothing would be a stub.
fn level_bar(ui: &mut egui::Ui, level: Option<f64>, palette: &Palette) {
    const SIZE: egui::Vec2 = vec2(180.0, 12.0);
    const ROUND: f32 = 2.0;
    match level {
        Some(level) => {
            #[expect(clippy::cast_possible_truncation, reason = "a share for a bar")]
            let bar = ProgressBar::new(level as f32).desired_width(SIZE.x).desired_height(SIZE.y);
            ui.add(bar.corner_radius(ROUND).fill(colour(palette, "paper-mark")));
        }
        None => {
            let (track, _) = ui.allocate_exact_size(SIZE, Sense::hover());
            let line = Stroke::new(1.0, colour(palette, "paper-faint"));
            ui.painter().rect(track, ROUND, colour(palette, "paper-well"), line, StrokeKind::Inside);
        }
    }
}

/// Levels by skill, and the marks of all jobs.
pub(super) fn how_far(ui: &mut egui::Ui, bay: &mut Bay, palette: &Palette) {
    let t = bay.texts;
    let past = bay.shelf.past();
    let done = &past.done;
    ui.label(RichText::new(t.say("shelf-progress")).size(HEADING).strong());
    if done.is_empty() {
        ui.label(RichText::new(t.say("shelf-none")).size(SMALL));
        return;
    }
    ui.add(egui::Label::new(RichText::new(t.say("shelf-progress-about")).size(SMALL)).wrap());
    let ink = colour(palette, "paper-ink");
    egui::Grid::new("levels").num_columns(3).spacing([12.0, 4.0]).show(ui, |ui| {
        for one in progress(done) {
            ui.label(words::skill(t, one.skill));
            level_bar(ui, one.level, palette);
            ui.label(RichText::new(words::level(t, &one)).size(SMALL));
            ui.end_row();
        }
    });
    if done.len() < 2 {
        return;
    }
    #[expect(clippy::cast_precision_loss, reason = "a few hundred jobs")]
    let points: Vec<[f64; 2]> =
        done.iter().enumerate().map(|(at, job)| [at as f64 + 1.0, job.total]).collect();
    ui.label(RichText::new(t.say("shelf-marks")).size(SMALL));
    let totals: Vec<String> = done.iter().map(|job| format!("{:.0}", job.total)).collect();
    let shown = Plot::new("marks of all jobs")
        .height(110.0)
        .allow_drag(false)
        .allow_zoom(false)
        .allow_scroll(false)
        // There is nothing on it to touch.
        .sense(Sense::hover())
        .show_x(false)
        .include_y(0.0)
        .include_y(100.0)
        .custom_x_axes(vec![theme::plain_axis(ui, AxisHints::new_x(), 40.0)])
        .custom_y_axes(vec![theme::plain_axis(ui, AxisHints::new_y(), 18.0)])
        .show(ui, |plot| {
            plot.line(
                Line::new(t.say("shelf-marks"), PlotPoints::from(points.clone()))
                    .stroke(Stroke::new(2.0, ink)),
            );
            plot.points(
                egui_plot::Points::new(t.say("shelf-marks"), PlotPoints::from(points)).radius(3.5).color(ink),
            );
        });
    let label = say!(t, "shelf-plot", marks = totals.join(", "));
    shown.response.widget_info(|| egui::WidgetInfo::labeled(egui::WidgetType::Image, true, &label));
}
