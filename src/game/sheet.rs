//! The job sheet on its board, and the marks.

use bevy_egui::egui::{
    self, Align2, Color32, FontFamily, FontId, Id, Rect, RichText, ScrollArea, pos2, vec2,
};
use probeworthy::job::Job;
use probeworthy::marks::{Debrief, Marks};
use probeworthy::say;
use probeworthy::words::{self, Texts};

use super::bay::{Bay, Place};
use super::first_job::note_below;
use super::overlay::{Place2d, laid};
use super::scenery::{Anchors, Palette};
use super::table::Table;
use super::theme::{self, SCROLL_BAR, SMALL, TITLE, colour};
use super::{captions, cards, debrief};

/// What stands on the sheet as lines to open, each with its key.
fn to_open(t: Texts) -> [(&'static str, Place); 12] {
    [
        (t.say("sheet-customer"), Place::Customer),
        (t.say("sheet-findings"), Place::Findings),
        (t.say("sheet-diagram"), Place::Diagram),
        (t.say("sheet-suspects"), Place::Suspicions),
        (t.say("sheet-coach"), Place::Coach),
        (t.say("sheet-name"), Place::Naming),
        (t.say("sheet-write"), Place::Writing),
        (t.say("sheet-hand-in"), Place::HandingIn),
        (t.say("sheet-keys"), Place::Help),
        (t.say("sheet-jobs"), Place::Shelf),
        (t.say("sheet-settings"), Place::Settings),
        (t.say("sheet-file"), Place::Author),
    ]
}

/// Text larger than this share of the usual does not fit on the drawn sheet, and gets one of its own that scrolls.
const LARGEST_ON_THE_BOARD_PERCENT: u16 = 110;
/// Width of that sheet, its margin, and the least to the window's edge, in points: signs of the vehicle lie close beside it.
const OWN_SHEET: f32 = 126.0;
const OWN_MARGIN: f32 = 6.0;
const OWN_EDGE: f32 = 4.0;

/// Height of what can be touched on it, in points: as much as a finger needs (WCAG 2.2, 2.5.8: published).
const LINE: f32 = 24.0;
/// Height of clock and bill above, in points.
const HEAD: f32 = 26.0;

/// Clock and bill.
fn head(bay: &Bay) -> [RichText; 2] {
    let t = bay.texts;
    let (minutes, cost) = bay.job.as_ref().map_or((0.0, 0), |job| (job.minutes(), job.cost()));
    let clock = say!(t, "sheet-minutes", minutes = format!("{minutes:.1}"));
    [
        RichText::new(clock).size(TITLE).strong(),
        RichText::new(say!(t, "sheet-parts", cost = cost)).size(SMALL),
    ]
}

/// What they take side by side, in points.
fn head_width(ctx: &egui::Context, bay: &Bay) -> f32 {
    let wide = |text: RichText, size: f32| {
        let font = FontId::new(size, FontFamily::Proportional);
        let laid = ctx.fonts_mut(|fonts| {
            fonts.layout_no_wrap(text.text().to_owned(), font, Color32::PLACEHOLDER).size().x
        });
        laid.ceil()
    };
    let [clock, bill] = head(bay);
    wide(clock, TITLE) + wide(bill, SMALL) + ctx.global_style().spacing.item_spacing.x
}

/// What they take in height on a sheet of this width, in points.
fn head_rows(ctx: &egui::Context, bay: &Bay, width: f32) -> f32 {
    if head_width(ctx, bay) <= width { HEAD } else { 2.0 * HEAD }
}

/// Clock and bill where something hides them: on the job sheet, or on the plate that shows them while the eye is near.
pub(super) fn hidden_head(
    ctx: &egui::Context,
    bay: &Bay,
    is_hidden: impl Fn(Rect) -> bool,
) -> Option<String> {
    let job = bay.job.as_ref()?;
    let head = ["sheet", "near"].into_iter().find_map(|id| laid(ctx, Id::new(id)))?;
    let head = head.with_max_y(head.top() + HEAD);
    let minutes = format!("{:.1}", job.minutes());
    is_hidden(head).then(|| say!(bay.texts, "near-clock", minutes = minutes, cost = job.cost()))
}

/// As much of a height, in points, as shows the head and whole lines below it, so that none is cut.
fn whole_rows(height: f32, head: f32) -> f32 {
    /// What is seen at least.
    const LEAST: f32 = 2.0;
    head + LINE * ((height - head) / LINE).floor().max(LEAST)
}

/// What can be opened now.
fn lines_of(bay: &Bay) -> Vec<(&'static str, Place)> {
    let of_no_use = |open: &Place| bay.is_over() && open.is_of_an_open_job();
    let all = to_open(bay.texts).into_iter();
    all.filter(|(_, open)| !of_no_use(open) && bay.offers(*open)).collect()
}

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
    let rect = board.shrink2(vec2(10.0, 0.0));
    // What does not fit lies on a sheet that scrolls.
    let head = head_rows(ctx, bay, rect.width());
    let lines_high = head + LINE * lines_of(bay).len() as f32;
    let on_the_board = text_percent <= LARGEST_ON_THE_BOARD_PERCENT && lines_high <= rect.height();
    let area = egui::Area::new(Id::new("sheet")).order(egui::Order::Middle);
    if on_the_board {
        area.fixed_pos(rect.min).show(ctx, |ui| {
            theme::on_paper(ui, palette);
            lines(ui, bay, rect.width());
        });
    } else {
        // Down to what hangs on the wall below it; the captions and the first job's note stay clear.
        let note = note_below(ctx, bay).map(|note| note.top());
        let captions = captions::below(ctx);
        let below = ["clamp", "recorder"].into_iter().filter_map(|name| anchors.design(name));
        let hung = below.map(|at| place.rect(at.centre, at.size).top());
        let end = hung.chain(note).chain(captions.map(|area| area.top())).fold(f32::INFINITY, f32::min) - 8.0;
        let bottom = if end.is_finite() { end } else { board.bottom() };
        let width = OWN_SHEET.max(rect.width());
        let high = whole_rows(bottom - board.top() - 2.0 * OWN_MARGIN, head_rows(ctx, bay, width));
        let corner = pos2(board.left().min(OWN_EDGE), board.top());
        area.fixed_pos(corner).show(ctx, |ui| {
            theme::paper_frame(palette).inner_margin(OWN_MARGIN).show(ui, |ui| {
                theme::on_paper(ui, palette);
                ScrollArea::vertical().max_height(high).show(ui, |ui| lines(ui, bay, width));
            });
        });
    }
}

/// What stands on it where there is no job.
pub(super) fn without_a_job(
    ctx: &egui::Context,
    t: Texts,
    place: &Place2d<'_>,
    anchors: &Anchors,
    palette: &Palette,
) {
    let Some(at) = anchors.design("clipboard") else { return };
    let rect = place.rect(at.centre, at.size).shrink2(vec2(10.0, 0.0));
    egui::Area::new(Id::new("sheet")).order(egui::Order::Background).fixed_pos(rect.min).show(ctx, |ui| {
        theme::on_paper(ui, palette);
        ui.set_width(rect.width());
        ui.vertical_centered(|ui| {
            ui.label(RichText::new(t.say("sheet-no-job")).size(SMALL).strong());
            ui.label(RichText::new(t.say("sheet-no-job-about")).size(SMALL));
        });
    });
}

/// What stands on the sheet.
fn lines(ui: &mut egui::Ui, bay: &mut Bay, width: f32) {
    let t = bay.texts;
    ui.set_width(width);
    ui.spacing_mut().item_spacing.y = 0.0;
    ui.spacing_mut().button_padding.y = 0.0;
    ui.horizontal_wrapped(|ui| {
        for text in head(bay) {
            ui.label(text);
        }
    });
    for (title, open) in lines_of(bay) {
        let chosen = bay.open == Some(open);
        let text = RichText::new(title).size(SMALL);
        let response = ui.add_sized([width, LINE], egui::Button::selectable(chosen, text).wrap());
        if response.clicked() {
            bay.open = if chosen { None } else { Some(open) };
            // A card is seen where the sheet of marks lay.
            bay.marks_aside |= bay.is_over();
        }
    }
    // While that sheet lies there it is no way to anything, and partly hidden.
    if bay.is_over() && bay.marks_aside {
        let said = t.say(if bay.closed { "marks-handed-in" } else { "sheet-marks" });
        let marks = egui::Button::new(RichText::new(said).size(SMALL));
        if ui.add_sized([width, LINE], marks).clicked() {
            bay.marks_aside = false;
        }
    }
}

/// Room beside a sheet in the middle, its own margin and the window's, in points.
const EDGE: f32 = 30.0;
/// What its frame adds to its width, on both sides, in points.
const FRAME: f32 = 34.0;

/// How wide a sheet is that wants this much, and how far right of the middle it lies. It leaves the job sheet in view where there
/// is room for that, and gives up some of its own width for it.
fn fitted(screen: Rect, wanted: f32, job_sheet: Option<Rect>) -> (f32, f32) {
    /// The share of its width that it keeps at least.
    const KEPT: f32 = 0.75;
    let room = screen.width() - 2.0 * EDGE - SCROLL_BAR;
    let beside = |sheet: Rect| (screen.right() - EDGE / 2.0 - FRAME - sheet.right() - cards::BOARD).floor();
    let beside = job_sheet.map_or(room, beside);
    let width = wanted.min(room);
    let width = if beside >= KEPT * wanted { width.min(beside) } else { width };
    (width, aside(screen, width, job_sheet))
}

/// How far right of the middle a sheet lies: as far as it has to be to leave the job sheet in view, where there is room for that.
fn aside(screen: Rect, width: f32, job_sheet: Option<Rect>) -> f32 {
    let half = (width + FRAME) / 2.0;
    let over = job_sheet.map_or(0.0, |sheet| sheet.right() + cards::BOARD - (screen.center().x - half));
    // In large text it is as wide as the window allows, in the middle of it.
    if screen.center().x + half + over.max(0.0) <= screen.right() - EDGE / 2.0 { over.max(0.0) } else { 0.0 }
}

/// A sheet of paper in the middle, beside the job sheet, of what is handed to both of its parts: a head that stays in place, and
/// contents that scroll below it.
pub(super) fn paper<Of: ?Sized>(
    ctx: &egui::Context,
    (id, width): (&'static str, f32),
    palette: &Palette,
    of: &mut Of,
    head: impl FnOnce(&mut egui::Ui, &mut Of),
    contents: impl FnOnce(&mut egui::Ui, &mut Of),
) {
    let screen = ctx.viewport_rect();
    let height = screen.height() - 2.0 * EDGE;
    let (width, aside) = fitted(screen, width, laid(ctx, Id::new("sheet")));
    egui::Window::new(id)
        .title_bar(false)
        .resizable(false)
        .movable(false)
        .anchor(Align2::CENTER_CENTER, [aside, 0.0])
        .frame(theme::paper_frame(palette))
        .show(ctx, |ui| {
            theme::on_paper(ui, palette);
            ui.set_width(width);
            let top = ui.cursor().top();
            head(ui, of);
            let height = height - (ui.cursor().top() - top);
            let area = ScrollArea::vertical().id_salt(id).max_height(height).min_scrolled_height(height);
            area.show(ui, |ui| {
                cards::page_by_keys(ui);
                contents(ui, of);
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
        } else if bay.awaits_marks() {
            waiting_card(ctx, bay.texts, palette);
        } else {
            unmarked_card(ctx, bay, palette);
        }
        return;
    };
    let t = bay.texts;
    let head = |ui: &mut egui::Ui, bay: &mut Bay| {
        ui.label(RichText::new(t.title(&job.scenario().title)).size(TITLE + 4.0).strong());
        ui.horizontal_wrapped(|ui| {
            turn(ui, t, &mut bay.steps_shown);
            ways_on(ui, bay);
        });
    };
    paper(ctx, ("marks", width(bay.steps_shown)), palette, bay, head, |ui, bay| {
        marked(ui, t, &job, &worked_out, bay.steps_shown, palette);
    });
}

/// What can follow a job.
fn ways_on(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    if bay.may_begin_another() && ui.button(t.say("marks-another")).clicked() {
        bay.next_job();
    }
    if bay.offers(Place::Shelf) && ui.button(t.say("marks-others")).clicked() {
        bay.marks_aside = true;
        bay.open = Some(Place::Shelf);
    }
    if ui.button(t.say("marks-car")).clicked() {
        bay.marks_aside = true;
    }
}

/// How wide the sheet is that shows marks, or steps.
pub(super) fn width(steps_shown: bool) -> f32 {
    if steps_shown { 900.0 } else { 760.0 }
}

/// What a job was worth: its marks, or its steps.
pub(super) fn marked(
    ui: &mut egui::Ui,
    t: Texts,
    job: &Job,
    (marks, debrief): &(Marks, Debrief),
    steps_shown: bool,
    palette: &Palette,
) {
    if steps_shown {
        debrief::page(ui, t, job, marks, debrief, palette);
    } else {
        marks_page(ui, t, job, marks, palette);
    }
}

/// From marks to steps, and back.
pub(super) fn turn(ui: &mut egui::Ui, t: Texts, steps_shown: &mut bool) {
    let other = if *steps_shown { t.say("marks-marks") } else { t.say("marks-steps") };
    if ui.button(other).clicked() {
        *steps_shown = !*steps_shown;
    }
}

fn marks_page(ui: &mut egui::Ui, t: Texts, job: &Job, marks: &Marks, palette: &Palette) {
    let vehicle = &job.scenario().vehicle;
    if let Some(fault) = job.truth() {
        ui.label(say!(t, "marks-truth", fault = words::fault_title(t, vehicle, fault)));
    }
    if let Some((named, percent)) = job.named() {
        let fault = words::diagnosis(t, vehicle, named);
        ui.label(say!(t, "marks-named", fault = fault, percent = percent));
    }
    let total = say!(t, "marks-total", marks = format!("{:.1}", marks.total));
    ui.label(RichText::new(total).size(TITLE + 6.0).strong());
    if marks.progress < 1.0 {
        ui.label(say!(t, "marks-scaled", percent = format!("{:.0}", marks.progress * 100.0)));
    }
    if let Some(line) = words::referral(t, marks) {
        ui.label(line);
    }
    ui.add_space(8.0);
    let parts = marks.lines.iter().map(|line| {
        let (marks, most) = (format!("{:>4.1}", line.marks), format!("{:.1}", line.out_of));
        let figure = say!(t, "marks-of", marks = marks, most = most);
        vec![RichText::new(words::part_of_marks(t, line.part)).strong(), RichText::new(figure).monospace()]
    });
    let parts: Vec<Vec<RichText>> = parts.collect();
    let mut table = Table::of(ui, &parts);
    for (cells, line) in parts.iter().zip(&marks.lines) {
        table.row(ui, cells, |ui| _ = ui.add(egui::Label::new(words::why(t, line)).wrap()));
    }
    for left in words::not_put_back(t, job) {
        ui.label(say!(t, "hand-in-left", what = left));
    }
    if let Some(cap) = words::cap(t, marks) {
        ui.colored_label(colour(palette, "paper-warning"), cap);
    }
    ui.add_space(6.0);
    for line in words::afterwards(t, marks) {
        ui.label(line);
    }
}

/// The head of a sheet without marks.
fn handed_in<Of>(t: Texts) -> impl FnOnce(&mut egui::Ui, &mut Of) {
    move |ui, _| _ = ui.label(RichText::new(t.say("marks-handed-in")).size(TITLE + 4.0).strong())
}

/// After a paper's job: its marks are not shown.
fn closed_card(ctx: &egui::Context, bay: &mut Bay, palette: &Palette) {
    let t = bay.texts;
    paper(ctx, ("closed", 460.0), palette, bay, handed_in(t), |ui, bay| {
        ui.label(t.say("marks-closed"));
        ui.label(t.say("marks-close-window"));
        ui.horizontal_wrapped(|ui| {
            bay.ends |= ui.button(t.say("marks-end")).clicked();
            if ui.button(t.say("marks-car")).clicked() {
                bay.marks_aside = true;
            }
        });
    });
}

/// The marks could not be worked out; why stands above.
fn unmarked_card(ctx: &egui::Context, bay: &mut Bay, palette: &Palette) {
    paper(ctx, ("unmarked", 460.0), palette, bay, handed_in(bay.texts), |ui, bay| {
        if let Some(trouble) = &bay.trouble {
            ui.label(trouble.told(bay.texts));
        }
        ui.label(bay.texts.say("marks-none"));
        ui.horizontal_wrapped(|ui| ways_on(ui, bay));
    });
}

/// While the marks are being worked out.
fn waiting_card(ctx: &egui::Context, t: Texts, palette: &Palette) {
    paper(ctx, ("marks to come", 420.0), palette, &mut (), handed_in(t), |ui, ()| {
        // Nothing turns here: what is drawn takes the time of what is worked out.
        ui.label(t.say("marks-weighing"));
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    const SCREEN: Rect = Rect { min: pos2(0.0, 0.0), max: pos2(1280.0, 720.0) };

    #[test]
    fn a_sheet_lies_in_the_middle_and_beside_the_job_sheet_where_it_is_wide() {
        let sheet = Some(Rect::from_min_max(pos2(26.0, 36.0), pos2(184.0, 340.0)));
        for narrow in [420.0, 460.0, 760.0] {
            assert_eq!(aside(SCREEN, narrow, sheet), 0.0, "{narrow}");
        }
        let by = aside(SCREEN, 900.0, sheet);
        assert!(by > 0.0 && 640.0 + by - (900.0 + FRAME) / 2.0 >= 184.0, "{by}");
        assert_eq!(aside(SCREEN, 900.0, None), 0.0);
        // Where there is no room for both it stays in the middle.
        let large = Rect::from_min_max(pos2(0.0, 0.0), pos2(640.0, 360.0));
        assert_eq!(aside(large, 572.0, sheet), 0.0);
    }

    #[test]
    fn no_line_of_the_scrolled_sheet_is_cut() {
        for height in [30.0, 151.0, 200.0, 333.0] {
            let high = whole_rows(height, HEAD);
            assert!(high <= height.max(HEAD + 2.0 * LINE), "{height}: {high}");
            assert_eq!((high - HEAD) % LINE, 0.0, "{height}: {high}");
        }
    }
}
