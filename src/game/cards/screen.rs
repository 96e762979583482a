//! A heated screen's lines, on the drawn glass: a probe is put where a line is touched, and a break is painted over.

use std::collections::BTreeSet;

use bevy_egui::egui::{
    self, Align2, EventFilter, FontFamily, FontId, Key, Pos2, Rect, Sense, Stroke, StrokeKind, WidgetInfo,
    WidgetType, pos2, vec2,
};
use probeworthy::bench::{Action, Repair, price};
use probeworthy::job::Job;
use probeworthy::say;
use probeworthy::vehicle::{PartId, Point, Screen};

use super::common::{act, mark, marks_on, what_goes};
use super::known::known;
use crate::game::bay::Bay;
use crate::game::scenery::Palette;
use crate::game::theme::{SMALL, colour, figure};

/// From one line to the next, and what is left round the lines for the bars and above them, in points.
const PITCH: f32 = 15.0;
const ASIDE: f32 = 26.0;
const ABOVE: f32 = 16.0;

/// Where a screen's lines are drawn.
struct Glass {
    rect: Rect,
    lines: u8,
}

impl Glass {
    /// A place of a line.
    fn at(&self, line: u8, place: u8) -> Pos2 {
        let share = f32::from(place) / f32::from(Screen::SECTIONS);
        let x = egui::lerp(self.rect.left() + ASIDE..=self.rect.right() - ASIDE, share);
        pos2(x, self.rect.top() + ABOVE + f32::from(line.saturating_sub(1)) * PITCH)
    }

    /// The line and the place on it that are nearest.
    fn nearest(&self, to: Pos2) -> (u8, u8) {
        let (first, last) = (self.at(1, 0), self.at(self.lines, Screen::SECTIONS));
        let line = 1.0 + (to.y - first.y) / PITCH;
        let place = (to.x - first.x) / (last.x - first.x) * f32::from(Screen::SECTIONS);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held to what there is")]
        let held =
            |number: f32, least: u8, most: u8| number.round().clamp(f32::from(least), f32::from(most)) as u8;
        (held(line, 1, self.lines.max(1)), held(place, 0, Screen::SECTIONS))
    }
}

/// The glass, and below it the same by numbers.
pub(super) fn lines(ui: &mut egui::Ui, bay: &mut Bay, part: PartId, screen: Screen, palette: &Palette) {
    let t = bay.texts;
    bay.draft.line = bay.draft.line.clamp(1, screen.lines.max(1));
    glass(ui, bay, part, screen, palette);
    ui.horizontal_wrapped(|ui| {
        let line = egui::DragValue::new(&mut bay.draft.line).range(1..=screen.lines);
        figure(ui, |ui| ui.add(line.prefix(t.say("screen-line"))));
        let places = 0..=Screen::SECTIONS;
        let suffix = say!(t, "screen-place", sections = Screen::SECTIONS);
        let drag = figure(ui, |ui| ui.add(egui::DragValue::new(&mut bay.draft.place).range(places)));
        let after = ui.label(suffix);
        drag.labelled_by(after.id);
        let (line, place) = (bay.draft.line, bay.draft.place);
        let label = t.say("screen-put");
        if ui.add_enabled(bay.hand.goes_to_a_point(), egui::Button::new(label)).clicked() {
            bay.put_to(Point::Line(part, line, place));
        }
        let section = place.clamp(1, Screen::SECTIONS);
        let painting = Action::Repair(Repair::Line(part, line, section));
        let price = price(bay.vehicle(), &painting);
        let label = say!(t, "screen-paint", section = section, line = line, price = price);
        act(ui, bay, &label, painting);
    });
    what_goes(ui, bay);
}

fn glass(ui: &mut egui::Ui, bay: &mut Bay, part: PartId, screen: Screen, palette: &Palette) {
    let t = bay.texts;
    let high = 2.0 * ABOVE + f32::from(screen.lines.saturating_sub(1)) * PITCH;
    let (rect, touched) = ui.allocate_exact_size(vec2(ui.available_width(), high), Sense::click());
    let glass = Glass { rect, lines: screen.lines };
    if touched.has_focus() {
        by_arrows(ui, &touched, bay, screen);
    }
    // What is pointed at is marked as what is chosen by keys.
    if let Some(pointer) = touched.hover_pos() {
        (bay.draft.line, bay.draft.place) = glass.nearest(pointer);
    }
    let (line, place) = (bay.draft.line, bay.draft.place);
    let label = say!(t, "screen-glass", line = line, place = place, sections = Screen::SECTIONS);
    touched.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, &label));
    draw(ui, bay, part, &glass, palette);
    let edge = if touched.has_focus() { "housing-focus" } else { "face-rim" };
    let wide = if touched.has_focus() { 2.5 } else { 1.5 };
    ui.painter().rect_stroke(rect, 10.0, Stroke::new(wide, colour(palette, edge)), StrokeKind::Inside);
    let at = glass.at(line, place);
    let ink = colour(palette, "housing-accent");
    ui.painter().circle_stroke(at, 6.0, Stroke::new(2.0, ink));
    let dropped = bay.is_dropped_on(&touched);
    if (touched.clicked() || dropped) && bay.hand.goes_to_a_point() {
        bay.put_to(Point::Line(part, line, place));
    }
}

/// The arrow keys go from place to place, and Enter puts there what is in hand.
fn by_arrows(ui: &egui::Ui, touched: &egui::Response, bay: &mut Bay, screen: Screen) {
    let arrows = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(touched.id, arrows));
    let pressed = |key| ui.input(|input| input.key_pressed(key));
    let (line, place) = (&mut bay.draft.line, &mut bay.draft.place);
    if pressed(Key::ArrowUp) {
        *line = line.saturating_sub(1).max(1);
    }
    if pressed(Key::ArrowDown) {
        *line = (*line + 1).min(screen.lines.max(1));
    }
    if pressed(Key::ArrowLeft) {
        *place = place.saturating_sub(1);
    }
    if pressed(Key::ArrowRight) {
        *place = (*place + 1).min(Screen::SECTIONS);
    }
}

/// The sections of a screen's lines that have been painted over, each with its line.
fn painted_over(job: &Job, part: PartId) -> BTreeSet<(u8, u8)> {
    let steps = job.log().iter().filter(|step| step.outcome.refused.is_none());
    steps
        .filter_map(|step| match step.action {
            Action::Repair(Repair::Line(of, line, section)) if of == part => Some((line, section)),
            _ => None,
        })
        .collect()
}

/// The glass with its two bars, its lines, what has been painted over, and what is on it.
fn draw(ui: &egui::Ui, bay: &Bay, part: PartId, glass: &Glass, palette: &Palette) {
    let ink = |name| colour(palette, name);
    let painter = ui.painter();
    painter.rect_filled(glass.rect, 10.0, ink("housing"));
    let (first, last) = (glass.at(1, 0), glass.at(glass.lines, Screen::SECTIONS));
    let letters = ink("housing-text");
    for (x, sign) in [(first.x, "+"), (last.x, "\u{2212}")] {
        painter
            .line_segment([pos2(x, first.y - 6.0), pos2(x, last.y + 6.0)], Stroke::new(5.0, ink("copper")));
        let outward = if x == first.x { -12.0 } else { 12.0 };
        let font = FontId::new(SMALL, FontFamily::Proportional);
        let at = pos2(x + outward, glass.rect.center().y);
        painter.text(at, Align2::CENTER_CENTER, sign, font, letters);
    }
    for line in 1..=glass.lines {
        let ends = [glass.at(line, 0), glass.at(line, Screen::SECTIONS)];
        painter.line_segment(ends, Stroke::new(1.8, ink("copper")));
        for place in 1..Screen::SECTIONS {
            let at = glass.at(line, place);
            painter.line_segment([at - vec2(0.0, 2.0), at + vec2(0.0, 2.0)], Stroke::new(1.0, ink("copper")));
        }
    }
    for &(line, section) in known(ui.ctx(), bay, ("painted", part), |job| painted_over(job, part)).iter() {
        let ends = [glass.at(line, section.saturating_sub(1)), glass.at(line, section)];
        painter.line_segment(ends, Stroke::new(5.0, ink("battery-post")));
    }
    for line in 1..=glass.lines {
        for place in 0..=Screen::SECTIONS {
            let at = glass.at(line, place);
            for on_it in marks_on(bay, Point::Line(part, line, place)) {
                painter.circle_filled(at, 4.0, ink("letters-pale"));
                mark(painter, palette, at + vec2(5.0, -16.0), on_it);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use egui_kittest::kittest::Queryable;
    use probeworthy::bench::{Lead, LidTo};
    use probeworthy::scenario::load;
    use probeworthy::vehicle::PartKind;

    use super::*;
    use crate::game::bay::{Hand, Place};
    use crate::game::by_keys::{press, wait, window};

    #[test]
    fn a_probe_is_put_on_the_glass_by_arrow_keys() {
        let scenario = load("screen-stays-cold").expect("it is on the shelf").scenario;
        let screen = scenario.vehicle.parts().find(|(_, part)| matches!(part.kind, PartKind::Screen(_)));
        let (part, connector) = screen.map(|(id, part)| (id, part.connector)).expect("it has a screen");
        let full = scenario.vehicle.lid.full_degrees;
        let mut harness = window(Bay::new(Arc::new(scenario), None, 1));
        let harness = &mut harness;
        wait(harness);
        for act in [Action::Lever, Action::Lid(LidTo::Angle(full))] {
            harness.state_mut().bay.act(act);
            wait(harness);
        }
        let bay = &mut harness.state_mut().bay;
        (bay.open, bay.hand) = (Some(Place::Connector(connector)), Hand::Probe(Lead::Red));
        harness.run_steps(3);
        harness.get_by_label_contains("from the fed bar: touch it").focus();
        harness.run_steps(2);
        for key in [Key::ArrowDown, Key::ArrowDown, Key::ArrowRight, Key::ArrowUp, Key::Enter] {
            press(harness, key);
        }
        wait(harness);
        let job = harness.state().bay.job.as_ref().expect("a job");
        assert_eq!(job.scene().kit().meter.red, Some(Point::Line(part, 2, 5)));
    }

    #[test]
    fn what_is_touched_on_the_glass_is_what_is_drawn_there() {
        let rect = Rect::from_min_size(pos2(10.0, 20.0), vec2(420.0, 180.0));
        let glass = Glass { rect, lines: 10 };
        for line in 1..=10 {
            for place in 0..=Screen::SECTIONS {
                let at = glass.at(line, place);
                assert!(rect.contains(at));
                assert_eq!(glass.nearest(at + vec2(9.0, -5.0)), (line, place));
            }
        }
        assert_eq!(glass.nearest(rect.left_top() - vec2(50.0, 50.0)), (1, 0));
        assert_eq!(glass.nearest(rect.right_bottom() + vec2(50.0, 50.0)), (10, Screen::SECTIONS));
    }
}
