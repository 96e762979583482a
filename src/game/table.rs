//! Tables of figures and words: what stands in a row begins level with the first line of the words beside it.

use bevy_egui::egui::{self, RichText, Shape, TextStyle, TextWrapMode, WidgetText, vec2};

/// Between two columns, in points.
const BETWEEN: f32 = 14.0;
/// What the words at the end of a row have at least, in points.
const LEAST: f32 = 120.0;

/// A table whose rows end in words, which wrap.
pub(super) struct Table {
    /// How wide the columns before the words are, in points.
    columns: Vec<f32>,
    /// Rows so far: every other one has another ground.
    rows: usize,
}

impl Table {
    /// Columns as wide as the widest of what stands in them.
    pub(super) fn of(ui: &egui::Ui, rows: &[Vec<RichText>]) -> Self {
        let mut columns = Vec::new();
        for row in rows {
            columns.resize(columns.len().max(row.len()), 0.0_f32);
            for (column, cell) in columns.iter_mut().zip(row) {
                let text = WidgetText::from(cell.clone());
                let laid = text.into_galley(ui, Some(TextWrapMode::Extend), f32::INFINITY, TextStyle::Body);
                *column = column.max(laid.size().x.ceil());
            }
        }
        Self { columns, rows: 0 }
    }

    /// One row: its cells, and the words at its end.
    pub(super) fn row(&mut self, ui: &mut egui::Ui, cells: &[RichText], words: impl FnOnce(&mut egui::Ui)) {
        let under = ui.painter().add(Shape::Noop);
        let row = ui.scope(|ui| {
            ui.spacing_mut().item_spacing.x = BETWEEN;
            ui.horizontal_top(|ui| {
                for (cell, width) in cells.iter().zip(&self.columns) {
                    ui.vertical(|ui| {
                        ui.set_width(*width);
                        ui.add(egui::Label::new(cell.clone()).extend());
                    });
                }
                let rest = ui.available_width().max(LEAST);
                ui.vertical(|ui| {
                    ui.set_width(rest);
                    ui.spacing_mut().item_spacing.x = 0.0;
                    words(ui);
                });
            });
        });
        if self.rows % 2 == 1 {
            let around = vec2(2.0, ui.spacing().item_spacing.y / 2.0);
            let rect = row.response.rect.expand2(around);
            ui.painter().set(under, Shape::rect_filled(rect, 2.0, ui.visuals().faint_bg_color));
        }
        self.rows += 1;
    }
}
