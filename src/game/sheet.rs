//! The job sheet on its board, and the marks.

use bevy_egui::egui::{self, Align2, Id, RichText, ScrollArea};
use probeworthy::job::Job;
use probeworthy::marks::Marks;
use probeworthy::words;

use super::bay::{Bay, Place};
use super::overlay::Place2d;
use super::scenery::{Anchors, Palette};
use super::theme::{self, SMALL, TITLE};
use super::{cards, debrief};

/// What stands on the sheet as lines to open.
const LINES: [(&str, &str, Place); 12] = [
    ("Customer", "F2", Place::Customer),
    ("Findings", "F3", Place::Findings),
    ("Diagram", "F4", Place::Diagram),
    ("Suspects", "F11", Place::Suspicions),
    ("Coach", "F12", Place::Coach),
    ("Name fault", "F5", Place::Naming),
    ("Write up", "F6", Place::Writing),
    ("Hand in", "F7", Place::HandingIn),
    ("Keys", "F1", Place::Help),
    ("Jobs", "Home", Place::Shelf),
    ("Settings", "End", Place::Settings),
    ("File", "Insert", Place::Author),
];

/// Text larger than this share of the usual does not fit on the drawn sheet, and gets one of its own that scrolls.
const LARGEST_ON_THE_BOARD_PERCENT: u16 = 110;
/// Width of that sheet, in points.
const OWN_SHEET: f32 = 138.0;

/// The sheet: clock, bill, what has been named, and its lines.
pub(super) fn clipboard(
    ctx: &egui::Context,
    bay: &mut Bay,
    text_percent: u16,
    place: &Place2d<'_>,
    anchors: &Anchors,
    palette: &Palette,
) {
    let Some(at) = anchors.design("clipboard") else { return };
    let board = place.rect(at.centre, at.size);
    let rect = board.shrink(10.0);
    let on_the_board = text_percent <= LARGEST_ON_THE_BOARD_PERCENT;
    let area = egui::Area::new(Id::new("sheet")).order(egui::Order::Middle);
    if on_the_board {
        area.fixed_pos(rect.min).show(ctx, |ui| lines(ui, bay, rect.width(), palette));
    } else {
        area.fixed_pos(board.min).show(ctx, |ui| {
            theme::paper_frame(palette).inner_margin(6.0).show(ui, |ui| {
                ScrollArea::vertical()
                    .max_height(board.height() - 12.0)
                    .show(ui, |ui| lines(ui, bay, OWN_SHEET.max(rect.width()), palette));
            });
        });
    }
}

/// What stands on the sheet.
fn lines(ui: &mut egui::Ui, bay: &mut Bay, width: f32, palette: &Palette) {
    theme::on_paper(ui, palette);
    ui.set_width(width);
    ui.spacing_mut().item_spacing.y = 1.0;
    ui.spacing_mut().button_padding.y = 0.0;
    let (minutes, cost) = bay.job.as_ref().map_or((0.0, 0), |job| (job.minutes(), job.cost()));
    ui.horizontal(|ui| {
        ui.label(RichText::new(format!("{minutes:.1} min")).size(TITLE).strong());
        ui.label(RichText::new(format!("parts {cost}")).size(SMALL));
    });
    let handed_in = bay.is_over();
    for (title, key, open) in LINES {
        if (handed_in && open.is_of_an_open_job()) || !bay.offers(open) {
            continue;
        }
        let chosen = bay.open == Some(open);
        let text = RichText::new(format!("{title}  ({key})")).size(SMALL);
        let response = ui.add_sized([width, 19.0], egui::Button::selectable(chosen, text).wrap());
        if response.clicked() {
            bay.open = if chosen { None } else { Some(open) };
        }
    }
    if handed_in {
        let marks = egui::Button::new(RichText::new("Marks").size(SMALL));
        if ui.add_sized([width, 24.0], marks).clicked() {
            bay.marks_aside = false;
        }
    }
}

/// Room beside a sheet in the middle, its own margin and the window's, in points.
const EDGE: f32 = 30.0;
/// How far right of the middle it lies, clear of the job sheet.
const ASIDE: f32 = 60.0;

/// A sheet of paper in the middle, right of the job sheet.
fn paper(
    ctx: &egui::Context,
    id: &'static str,
    width: f32,
    palette: &Palette,
    contents: impl FnOnce(&mut egui::Ui),
) {
    let screen = ctx.viewport_rect();
    let height = screen.height() - 2.0 * EDGE;
    // In large text it is as wide as the window allows, in the middle of it, and scrolls.
    let room = screen.width() - 2.0 * EDGE;
    let aside = if width + 2.0 * ASIDE < room { ASIDE } else { 0.0 };
    egui::Window::new(id)
        .title_bar(false)
        .resizable(false)
        .movable(false)
        .anchor(Align2::CENTER_CENTER, [aside, 0.0])
        .frame(theme::paper_frame(palette))
        .show(ctx, |ui| {
            theme::on_paper(ui, palette);
            ui.set_width(width.min(room));
            let area = ScrollArea::vertical().id_salt(id).max_height(height).min_scrolled_height(height);
            area.show(ui, |ui| {
                contents(ui);
                cards::follow_focus(ui);
            });
        });
}

/// The marks, on a sheet of their own.
pub(super) fn marks_card(ctx: &egui::Context, bay: &mut Bay, palette: &Palette) {
    let Some(job) = bay.job.clone() else { return };
    let Some(worked_out) = bay.marks.clone() else {
        if bay.closed {
            closed_card(ctx, bay, palette);
        } else {
            waiting_card(ctx, palette);
        }
        return;
    };
    let (marks, debrief) = &*worked_out;
    let width = if bay.steps_shown { 900.0 } else { 760.0 };
    paper(ctx, "marks", width, palette, |ui| {
        ui.label(RichText::new(&job.scenario().title).size(TITLE + 4.0).strong());
        if bay.steps_shown {
            debrief::page(ui, &job, marks, debrief);
        } else {
            marks_page(ui, &job, marks);
        }
        ui.add_space(8.0);
        ui.horizontal(|ui| {
            let other = if bay.steps_shown { "Marks" } else { "Step by step" };
            if ui.button(other).clicked() {
                bay.steps_shown = !bay.steps_shown;
            }
            if ui.button("Another job").clicked() {
                bay.next_job();
            }
            if ui.button("Other jobs").clicked() {
                bay.marks_aside = true;
                bay.open = Some(Place::Shelf);
            }
            if ui.button("Look at the car again").clicked() {
                bay.marks_aside = true;
            }
        });
    });
}

fn marks_page(ui: &mut egui::Ui, job: &Job, marks: &Marks) {
    let vehicle = &job.scenario().vehicle;
    if let Some(fault) = job.truth() {
        ui.label(format!("The fault was: {}", words::fault_title(vehicle, fault)));
    }
    if let Some((named, percent)) = job.named() {
        ui.label(format!("You named: {} ({percent} %)", words::diagnosis(vehicle, named)));
    }
    ui.add_space(8.0);
    ScrollArea::vertical().max_height(430.0).show(ui, |ui| {
        cards::page_by_keys(ui);
        egui::Grid::new("marks").num_columns(3).spacing([16.0, 8.0]).striped(true).show(ui, |ui| {
            for line in &marks.lines {
                ui.label(RichText::new(words::part_of_marks(line.part)).strong());
                let figure = format!("{:.1} of {:.1}", line.marks, line.out_of);
                ui.label(RichText::new(figure).monospace());
                ui.add(egui::Label::new(words::why(line)).wrap());
                ui.end_row();
            }
        });
    });
    for left in words::not_put_back(job) {
        ui.label(format!("Not put back: {left}."));
    }
    if let Some(cap) = words::cap(marks) {
        ui.colored_label(egui::Color32::from_rgb(160, 40, 20), cap);
    }
    ui.add_space(6.0);
    ui.label(RichText::new(format!("Total {:.1} of 100", marks.total)).size(TITLE + 6.0).strong());
    for line in words::afterwards(marks) {
        ui.label(line);
    }
}

/// After a paper's job: its marks are not shown.
fn closed_card(ctx: &egui::Context, bay: &mut Bay, palette: &Palette) {
    paper(ctx, "closed", 460.0, palette, |ui| {
        ui.label(RichText::new("Handed in").size(TITLE + 4.0).strong());
        ui.label("The record is closed and sealed. What it was worth is told by whoever set the paper.");
        ui.label("Close the window; the next job of the paper begins when you sit down to it again.");
        if ui.button("Look at the car again").clicked() {
            bay.marks_aside = true;
        }
    });
}

/// While the marks are being worked out.
fn waiting_card(ctx: &egui::Context, palette: &Palette) {
    paper(ctx, "marks to come", 420.0, palette, |ui| {
        ui.label(RichText::new("Handed in").size(TITLE + 4.0).strong());
        ui.horizontal(|ui| {
            ui.add(egui::Spinner::new());
            ui.label("Every step is weighed against what else could have been done.");
        });
    });
}
