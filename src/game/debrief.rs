//! The debrief on its sheet: the curve of what was still possible, step by step, and the plan's way beside it.

use bevy_egui::egui::{self, Color32, RichText, Sense, Shape, Stroke, vec2};
use egui_plot::{AxisHints, Line, LineStyle, MarkerShape, Plot, PlotPoints, Points};
use probeworthy::job::Job;
use probeworthy::marks::{Debrief, Marks};
use probeworthy::say;
use probeworthy::words::{self, Texts};

use super::scenery::Palette;
use super::table::Table;
use super::theme::{self, BODY, SMALL, colour};

/// Height of the curve, in points.
const CURVE_HEIGHT: f32 = 190.0;

/// The inks of the learner's line and the plan's. They differ in lightness too; the plan's line is broken besides.
fn inks(palette: &Palette) -> [Color32; 2] {
    [colour(palette, "curve-yours"), colour(palette, "curve-planned")]
}

/// A level line until each point, and then straight to it.
fn steps(points: impl Iterator<Item = (f64, f64)>) -> Vec<[f64; 2]> {
    let mut line: Vec<[f64; 2]> = Vec::new();
    for (minutes, bits) in points {
        if let Some(&[_, level]) = line.last() {
            line.push([minutes, level]);
        }
        line.push([minutes, bits]);
    }
    line
}

/// The part of a line up to a minute.
fn until(line: &[[f64; 2]], minutes: f64) -> Vec<[f64; 2]> {
    let mut part: Vec<[f64; 2]> = line.iter().copied().take_while(|[at, _]| *at <= minutes).collect();
    if let (Some(&[from, level]), Some(&[to, next])) = (part.last(), line.get(part.len()))
        && to > from
        && minutes > from
    {
        part.push([minutes, level + (next - level) * (minutes - from) / (to - from)]);
    }
    part
}

/// A figure in a table.
fn figure(text: &str) -> RichText {
    RichText::new(text).monospace()
}

/// The debrief's page.
pub(super) fn page(
    ui: &mut egui::Ui,
    t: Texts,
    job: &Job,
    marks: &Marks,
    debrief: &Debrief,
    palette: &Palette,
) {
    ui.label(RichText::new(t.say("debrief-curve")).strong());
    key(ui, t, palette);
    curve(ui, t, marks, debrief, palette);
    for line in words::debrief_legend(t) {
        ui.add(egui::Label::new(RichText::new(line).size(SMALL)).wrap());
    }
    let head = |title: &str| RichText::new(title).size(SMALL).strong();
    let heads = ["debrief-clock", "debrief-told", "debrief-expected", "debrief-left", "debrief-lost"];
    let rows = words::debrief_rows(t, job, marks);
    let figures = rows.iter().map(|row| {
        let clock = format!("{:.1}", row.clock_minutes);
        [&clock, &row.told, &row.expected, &row.left, &row.lost].map(|one| figure(one)).to_vec()
    });
    let cells: Vec<Vec<RichText>> =
        std::iter::once(heads.map(|id| head(t.say(id))).to_vec()).chain(figures).collect();
    let mut table = Table::of(ui, &cells);
    table.row(ui, &cells[0], |ui| _ = ui.label(head(t.say("debrief-done"))));
    for (cells, row) in cells[1..].iter().zip(rows) {
        table.row(ui, cells, |ui| {
            ui.spacing_mut().item_spacing.y = 3.0;
            ui.add(egui::Label::new(row.done).wrap());
            for note in row.notes {
                ui.add(egui::Label::new(RichText::new(note).italics().size(SMALL)).wrap());
            }
        });
    }
    ui.add_space(8.0);
    ui.label(RichText::new(t.say("debrief-plan-title")).strong());
    let heads = ["debrief-clock", "debrief-bits", "debrief-left"];
    let figures = debrief.plan.iter().map(|point| {
        let (clock, bits) = (format!("{:.1}", point.minutes), format!("{:.2}", point.bits.abs()));
        [&clock, &bits, &point.possible.to_string()].map(|one| figure(one)).to_vec()
    });
    let cells: Vec<Vec<RichText>> =
        std::iter::once(heads.map(|id| head(t.say(id))).to_vec()).chain(figures).collect();
    let mut table = Table::of(ui, &cells);
    table.row(ui, &cells[0], |ui| _ = ui.label(head(t.say("debrief-plan-done"))));
    for (cells, point) in cells[1..].iter().zip(&debrief.plan) {
        let done = egui::Label::new(words::waypoint(t, job, point)).wrap();
        table.row(ui, cells, |ui| _ = ui.add(done));
    }
    ui.add_space(4.0);
    ui.add(
        egui::Label::new(
            RichText::new(say!(t, "debrief-practise", what = words::practice(t, debrief.practice)))
                .size(BODY)
                .strong(),
        )
        .wrap(),
    );
}

/// Which line is whose.
fn key(ui: &mut egui::Ui, t: Texts, palette: &Palette) {
    let [yours, planned] = inks(palette);
    ui.horizontal(|ui| {
        for (name, ink, broken) in [("debrief-you", yours, false), ("debrief-the-plan", planned, true)] {
            let (rect, _) = ui.allocate_exact_size(vec2(30.0, 14.0), Sense::hover());
            let ends = [rect.left_center(), rect.right_center()];
            let stroke = Stroke::new(2.5, ink);
            if broken {
                ui.painter().extend(Shape::dashed_line(&ends, stroke, 7.0, 4.0));
            } else {
                ui.painter().line_segment(ends, stroke);
            }
            ui.label(RichText::new(t.say(name)).size(SMALL));
            ui.add_space(12.0);
        }
    });
}

fn curve(ui: &mut egui::Ui, t: Texts, marks: &Marks, debrief: &Debrief, palette: &Palette) {
    let [ink, planned] = inks(palette);
    let account = &marks.account;
    let start = (0.0, account.before.bits);
    let yours: Vec<(f64, f64)> = std::iter::once(start)
        .chain(account.stretches.iter().map(|stretch| (stretch.clock_minutes, stretch.after.bits)))
        .collect();
    let plan: Vec<(f64, f64)> = debrief.plan.iter().map(|point| (point.minutes, point.bits)).collect();
    let end = yours.iter().chain(&plan).map(|(minutes, _)| *minutes).fold(0.0, f64::max);
    let now = end * drawn_share(ui);
    let dots = |of: &[(f64, f64)]| {
        let drawn = of.iter().filter(|(minutes, _)| *minutes <= now);
        drawn.map(|&(minutes, bits)| [minutes, bits]).collect::<PlotPoints<'_>>()
    };
    let line = |of: &[(f64, f64)]| PlotPoints::from(until(&steps(of.iter().copied()), now));
    let top = yours.iter().chain(&plan).map(|(_, bits)| *bits).fold(0.0, f64::max);
    let minutes = theme::plain_axis(ui, AxisHints::new_x().label(t.say("debrief-minutes")), 40.0);
    let bits = theme::plain_axis(ui, AxisHints::new_y().label(t.say("debrief-bits")), 18.0);
    let shown = Plot::new("curve")
        .height(CURVE_HEIGHT)
        // There is nothing on it to touch.
        .sense(Sense::hover())
        .allow_drag(false)
        .allow_zoom(false)
        .allow_scroll(false)
        .allow_boxed_zoom(false)
        // The axes stand before the lines have been drawn.
        .include_y(0.0)
        .include_y(top)
        .include_x(0.0)
        .include_x(end)
        .custom_x_axes(vec![minutes])
        .custom_y_axes(vec![bits])
        .show(ui, |plot| {
            plot.line(
                Line::new(t.say("debrief-the-plan"), line(&plan))
                    .color(planned)
                    .width(2.5)
                    .style(LineStyle::dashed_loose()),
            );
            plot.line(Line::new(t.say("debrief-you"), line(&yours)).color(ink).width(2.5));
            plot.points(
                Points::new(t.say("debrief-the-plan"), dots(&plan))
                    .color(planned)
                    .radius(3.5)
                    .shape(MarkerShape::Square),
            );
            plot.points(Points::new(t.say("debrief-you"), dots(&yours)).color(ink).radius(3.5));
        });
    let label = t.say("debrief-plot");
    shown.response.widget_info(|| egui::WidgetInfo::labeled(egui::WidgetType::Image, true, label));
}

/// How much of the curve is drawn by now: it draws itself from left to right once it is shown.
fn drawn_share(ui: &egui::Ui) -> f64 {
    const SECONDS: f64 = 2.0;
    // Where motion is to be less, all of it is there at once.
    if ui.style().animation_time == 0.0 {
        return 1.0;
    }
    let now = ui.input(|input| input.time);
    let key = ui.id().with("curve's beginning");
    // It has been away if it was not asked for lately.
    let (begun, asked): (f64, f64) = ui.data(|data| data.get_temp(key)).unwrap_or((now, now));
    let begun = if now - asked > 1.0 { now } else { begun };
    ui.data_mut(|data| data.insert_temp(key, (begun, now)));
    let share = ((now - begun) / SECONDS).min(1.0);
    if share < 1.0 {
        ui.ctx().request_repaint();
    }
    share
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_is_drawn_as_far_as_the_minute() {
        let line = steps([(0.0, 5.0), (2.0, 3.0), (6.0, 1.0)].into_iter());
        assert_eq!(until(&line, 0.0), [[0.0, 5.0]]);
        assert_eq!(until(&line, 1.0), [[0.0, 5.0], [1.0, 5.0]]);
        assert_eq!(until(&line, 4.0), [[0.0, 5.0], [2.0, 5.0], [2.0, 3.0], [4.0, 3.0]]);
        assert_eq!(until(&line, 6.0), line);
    }
}
