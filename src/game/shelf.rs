//! The jobs on the shelf: what is best practised next, how far the learner has come, and all jobs to begin.

use std::sync::Arc;

use bevy_egui::egui::{self, ProgressBar, RichText, Stroke};
use egui_plot::{AxisHints, Line, Plot, PlotPoints};
use probeworthy::practice::{Done, Lesson, Next, in_order, next_jobs, progress};
use probeworthy::record;
use probeworthy::say;
use probeworthy::scenario::{SHELF, Scenario, load};
use probeworthy::words::{self, Texts};

use super::bay::Bay;
use super::first_job;
use super::scenery::Palette;
use super::theme::{self, SMALL, colour};

/// Size of a heading within the card.
const HEADING: f32 = 16.5;
/// So many jobs are suggested.
const SUGGESTED: usize = 3;

/// The scenarios of the shelf and the learner's past, read when they are first looked at.
#[derive(Clone, Debug, Default)]
pub(super) struct Shelf {
    scenarios: Option<Vec<(&'static str, Arc<Scenario>)>>,
    past: Option<Past>,
}

/// What the learner's records say.
#[derive(Clone, Debug)]
struct Past {
    done: Vec<Done>,
    next: Vec<Next>,
    lessons: Vec<Lesson>,
}

impl Shelf {
    fn scenarios(&mut self) -> &[(&'static str, Arc<Scenario>)] {
        self.scenarios.get_or_insert_with(|| {
            // What comes with the program is sound: a test of the core reads all of it.
            SHELF.iter().filter_map(|one| Some((one.id, Arc::new(load(one.id).ok()?.scenario)))).collect()
        })
    }

    /// The past is read anew when the shelf is looked at again.
    pub(super) fn forget_the_past(&mut self) {
        self.past = None;
    }

    fn past(&mut self) -> &Past {
        if self.past.is_none() {
            let lessons = in_order(self.scenarios().iter().map(|(_, scenario)| &**scenario));
            let done = record::default_folder().map(|folder| record::history(&folder)).unwrap_or_default();
            let next = next_jobs(&lessons, &done, SUGGESTED);
            self.past = Some(Past { done, next, lessons });
        }
        self.past.get_or_insert_with(|| Past { done: Vec::new(), next: Vec::new(), lessons: Vec::new() })
    }
}

/// The card of the shelf.
pub(super) fn card(ui: &mut egui::Ui, bay: &mut Bay, palette: &Palette) {
    let t = bay.texts;
    if bay.job.is_some() && !bay.is_over() {
        ui.label(RichText::new(t.say("shelf-kept")).size(SMALL));
    }
    let Past { done, next, lessons } = bay.shelf.past().clone();
    let scenarios = bay.shelf.scenarios().to_vec();
    let mut begun = None;
    ui.label(RichText::new(t.say("shelf-practise")).size(HEADING).strong());
    for Next { lesson, why } in &next {
        let name = &lessons[*lesson].scenario;
        if let Some((id, scenario)) = scenarios.iter().find(|(id, _)| id == name) {
            ui.horizontal(|ui| {
                if begin(ui, t, t.say("shelf-begin"), scenario) {
                    begun = Some((Arc::clone(scenario), *id));
                }
                ui.label(&scenario.title);
                ui.label(RichText::new(words::why_next(t, *why)).size(SMALL).weak());
            });
        }
    }
    if ui.button(t.say("shelf-first")).clicked() {
        first_job::begin(bay);
        return;
    }
    ui.add_space(6.0);
    how_far(ui, t, &done, palette);
    ui.add_space(6.0);
    ui.label(RichText::new(t.say("shelf-all")).size(HEADING).strong());
    let here = bay.scenario.id.clone();
    for (id, scenario) in &scenarios {
        ui.separator();
        ui.horizontal(|ui| {
            let label = if scenario.id == here { t.say("shelf-begin-anew") } else { t.say("shelf-begin") };
            if begin(ui, t, label, scenario) {
                begun = Some((Arc::clone(scenario), *id));
            }
            ui.vertical(|ui| {
                ui.label(RichText::new(&scenario.title).strong());
                let about = say!(
                    t,
                    "shelf-about",
                    vehicle = &scenario.vehicle.title,
                    circuits = words::circuits(t, scenario)
                );
                ui.label(RichText::new(about).size(SMALL));
                ui.add(egui::Label::new(RichText::new(&scenario.customer).italics().size(SMALL)).wrap());
            });
        });
    }
    if let Some((scenario, name)) = begun {
        bay.begin_another(scenario, Some(name.to_owned()));
    }
}

/// A button that begins a job, with a name of its own for a screen reader.
fn begin(ui: &mut egui::Ui, t: Texts, label: &str, scenario: &Scenario) -> bool {
    let button = ui.button(label);
    button.widget_info(|| {
        let label = say!(t, "shelf-begin-this", begin = label, title = &scenario.title);
        egui::WidgetInfo::labeled(egui::WidgetType::Button, true, label)
    });
    button.clicked()
}

/// Levels by skill, and the marks of all jobs.
fn how_far(ui: &mut egui::Ui, t: Texts, done: &[Done], palette: &Palette) {
    ui.label(RichText::new(t.say("shelf-progress")).size(HEADING).strong());
    if done.is_empty() {
        ui.label(RichText::new(t.say("shelf-none")).size(SMALL));
        return;
    }
    let ink = colour(palette, "paper-ink");
    egui::Grid::new("levels").num_columns(3).spacing([12.0, 4.0]).show(ui, |ui| {
        for one in progress(done) {
            ui.label(words::skill(t, one.skill));
            #[expect(clippy::cast_possible_truncation, reason = "a share for a bar")]
            let share = one.level.unwrap_or(0.0) as f32;
            let bar = ProgressBar::new(share).desired_width(180.0).desired_height(12.0).corner_radius(2.0);
            ui.add(bar.fill(colour(palette, "paper-mark")));
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
