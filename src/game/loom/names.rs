//! The names of a ribbon's stations below it: in one row, or where they have no room beside each other, by turns in several.

use std::sync::Arc;

use bevy_egui::egui::text::LayoutJob;
use bevy_egui::egui::{Align, Color32, FontFamily, FontId, Galley, Painter, Pos2, Rect};

use crate::game::theme::SMALL;

/// More rows than this leave no name near its station.
const MOST_ROWS: usize = 3;
/// So many lines has a name at most.
const LINES: usize = 3;
/// Between two names in a row, and between two rows, in points.
const APART: f32 = 8.0;
const BETWEEN: f32 = 4.0;

/// Where the names stand.
pub(super) struct Names {
    rows: usize,
    count: usize,
    /// From one station to the next, what is left of the first one's half of that, and what a row is high, in points.
    step: f32,
    before: f32,
    high: f32,
}

impl Names {
    /// In as few rows as leave every word whole; with so much room left of the first station's part of the ribbon.
    pub(super) fn of(painter: &Painter, titles: &[String], step: f32, before: f32) -> Self {
        let mut names = Self { rows: 1, count: titles.len(), step, before, high: 0.0 };
        while names.rows < MOST_ROWS && !names.are_whole(painter, titles) {
            names.rows += 1;
        }
        names.high = (titles.iter().enumerate())
            .map(|(place, title)| laid(painter, title, names.wide(place), Color32::PLACEHOLDER).size().y)
            .fold(0.0, f32::max);
        names
    }

    fn are_whole(&self, painter: &Painter, titles: &[String]) -> bool {
        titles.iter().enumerate().all(|(place, title)| {
            let wide = self.wide(place);
            let mut words = title.split_whitespace();
            words.all(|word| laid(painter, word, f32::INFINITY, Color32::PLACEHOLDER).size().x <= wide)
                && !laid(painter, title, wide, Color32::PLACEHOLDER).elided
        })
    }

    /// How far a name may reach to the left and to the right of its station.
    fn reach(&self, place: usize) -> (f32, f32) {
        let half = (self.rows as f32 * self.step - APART) / 2.0;
        let (left, right) = (place as f32 + 0.5, (self.count - place) as f32 - 0.5);
        (half.min(self.before + left * self.step), half.min(right * self.step))
    }

    fn wide(&self, place: usize) -> f32 {
        let (left, right) = self.reach(place);
        left + right
    }

    /// What all rows take, in points.
    pub(super) fn height(&self) -> f32 {
        self.rows as f32 * (self.high + BETWEEN)
    }

    /// The room of a name, below its station in the first row.
    pub(super) fn rect(&self, place: usize, station: Pos2) -> Rect {
        let top = station.y + (place % self.rows) as f32 * (self.high + BETWEEN);
        let (left, right) = self.reach(place);
        Rect::from_x_y_ranges(station.x - left..=station.x + right, top..=top + self.high)
    }
}

/// A name in lines no wider than this, below a line of its own for how its station stands, if there is one.
pub(super) fn laid(painter: &Painter, title: &str, wide: f32, ink: Color32) -> Arc<Galley> {
    let font = FontId::new(SMALL, FontFamily::Proportional);
    let mut job = LayoutJob::simple(title.to_owned(), font, ink, wide);
    job.halign = Align::Center;
    job.wrap.max_rows = LINES + usize::from(title.contains('\n'));
    painter.layout_job(job)
}

#[cfg(test)]
mod tests {
    use bevy_egui::egui::{self, pos2};

    use super::*;

    #[test]
    fn names_stand_apart_within_the_card_and_whole_however_near_their_stations_are() {
        let titles = [
            "clip on the rear pillar",
            "Durchführung",
            "hier, offen\nHeckklappenschließer",
            "rail",
            "a",
            "open\ncorner",
            "Halter",
        ]
        .map(str::to_owned);
        let ctx = egui::Context::default();
        let mut out = ctx.run_ui(Default::default(), |ui| {
            for step in [120.0, 71.0, 52.0] {
                let names = Names::of(ui.painter(), &titles, step, 62.0);
                let all: Vec<Rect> = (0..titles.len())
                    .map(|place| names.rect(place, pos2(62.0 + (place as f32 + 0.5) * step, 0.0)))
                    .collect();
                let whole =
                    Rect::from_x_y_ranges(0.0..=62.0 + titles.len() as f32 * step, 0.0..=names.height());
                for (at, one) in all.iter().enumerate() {
                    assert!(whole.contains_rect(*one), "{step}: {one:?} within {whole:?}");
                    for other in &all[at + 1..] {
                        assert!(!one.shrink(0.1).intersects(*other), "{step}: {one:?} and {other:?}");
                    }
                }
                for (title, rect) in titles.iter().zip(&all) {
                    let galley = laid(ui.painter(), title, rect.width(), Color32::PLACEHOLDER);
                    assert!(!galley.elided && galley.size().x <= rect.width() + 0.1, "{step}: {title}");
                }
            }
        });
        // Nothing is drawn.
        out.textures_delta.clear();
    }
}
