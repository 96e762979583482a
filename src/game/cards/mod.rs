//! The card of the thing that is open: where it lies, its frame and title, and who fills it.

mod battery;
mod cabin;
mod common;
mod connector;
mod drawn;
mod face;
mod fuse_box;
mod help;
mod instruments;
mod key;
mod known;
mod latch;
mod lid;
mod papers;
mod position;
mod screen;
mod vehicle;

use bevy_egui::egui::{self, Color32, FontFamily, FontId, Id, Key, Rect, RichText, ScrollArea, vec2};
use probeworthy::vehicle::Vehicle;
use probeworthy::words::{self, Texts};

use self::position::{Around, EDGE, LEAST_STATION_WIDTH, MARGINS, grows, position, width};
use super::author;
use super::bay::{Bay, Place};
use super::first_job::note_below;
use super::overlay::{Place2d, laid};
use super::scenery::{Anchors, Gaze, Palette, Placed};
use super::settings::{self, Settings};
use super::sync::{connector_anchor, tool_anchor};
use super::theme::{self, BODY, TITLE};
use super::{board, captions, coach, diagram, looking, loom, naming, sheet, spots, strip, suspicions};

pub(super) use common::{Mark, act, clamped_in_loom, mark, marks, obstacle, plate_of, row};
pub(super) use known::known;
pub(super) use position::{BOARD, meter_left};
pub(super) use vehicle::heat_and_cold;

/// The drawing's anchor of what is open.
fn anchor_of(bay: &Bay, anchors: &Anchors, open: Place) -> Option<String> {
    let vehicle = bay.vehicle();
    Some(match open {
        Place::Connector(id) => connector_anchor(vehicle, anchors, id),
        Place::Station(id) => vehicle.station(id).id.clone(),
        Place::Stud(id) => vehicle.stud(id).id.clone(),
        Place::Panel(id) => vehicle.panel(id).id.clone(),
        Place::Body => "body-metal".to_owned(),
        Place::Tool(tool) => tool_anchor(tool).to_owned(),
        Place::Clamp => "clamp".to_owned(),
        Place::Recorder => "recorder".to_owned(),
        Place::Key => "key".to_owned(),
        Place::FuseTray => "fuse-tray".to_owned(),
        _ => return None,
    })
}

/// Where what is open is in the drawing.
pub(super) fn placed(bay: &Bay, anchors: &Anchors, open: Place) -> Option<Placed> {
    anchors.design(&anchor_of(bay, anchors, open)?)
}

/// The name under which a card is laid over the scene.
pub(super) fn card_id(open: Place) -> Id {
    Id::new(("card", format!("{open:?}")))
}

/// Shows what is open.
pub(super) fn open_card(
    ctx: &egui::Context,
    bay: &mut Bay,
    settings: &mut Settings,
    gaze: &mut Gaze,
    place: &Place2d<'_>,
    anchors: &Anchors,
    palette: &Palette,
) {
    let opened = has_just_opened(ctx, bay.open);
    let Some(open) = bay.open else { return };
    if opened && open == Place::Shelf {
        bay.shelf.forget_the_past();
        bay.shelf.greeted = false;
    }
    // The first job may be offered, too: the settings can be opened before it.
    if bay.job.is_none() && !bay.is_at_the_board() && open != Place::Settings {
        return;
    }
    let paper = matches!(
        open,
        Place::Customer
            | Place::Findings
            | Place::Naming
            | Place::Suspicions
            | Place::Coach
            | Place::Writing
            | Place::HandingIn
            | Place::Diagram
            | Place::Shelf
            | Place::Help
            | Place::Settings
            | Place::Author
            | Place::Everything
            | Place::Recorder
    );
    let screen = ctx.viewport_rect();
    // In a window of another size, or with text of another size, a card finds its place anew.
    let moved = is_put_anew(ctx, opened || has_changed_size(ctx, screen));
    let placed = placed(bay, anchors, open);
    let centre = placed.map(|at| at.centre);
    let at = centre.map(|centre| place.at(centre));
    // In large text a card is as wide as the window allows.
    let width = width(bay, open).min(screen.width() - 60.0);
    let meter = meter_left(screen, place, anchors);
    let sheet = ctx.memory(|memory| memory.area_rect(Id::new("sheet")));
    let bottom = captions::below(ctx).map_or(screen.bottom(), |captions| captions.top()) - EDGE;
    let unseen = card_id(open).with("unseen");
    let high = laid(ctx, card_id(open))
        .map(|card| card.height() + ctx.data(|data| data.get_temp(unseen).unwrap_or(0.0_f32)));
    let thing = placed.map_or(0.0, |at| place.rect(at.centre, at.size).height());
    let around = Around { screen, meter, sheet, bottom, high, thing };
    // The meter's own, and those on which is probed, leave its display in view.
    let width = match open {
        Place::Meter => width.min(meter - MARGINS - 2.0 * EDGE),
        Place::Connector(_) => width.min(around.room()),
        Place::Station(_) => width.min(around.room().max(LEAST_STATION_WIDTH)),
        _ if paper || grows(open) => width,
        _ => around.up_to_the_meter(at.map_or(width, |at| around.narrowed(at, width))),
    };
    let (pivot, position) = position(at, (open, paper), width, &around);
    let frame = if paper { theme::paper_frame(palette) } else { theme::card_frame(palette) };
    let id = card_id(open);
    // Where something is done, or the readings are wanted to follow what stands there.
    let worked = !paper || matches!(open, Place::Diagram | Place::Everything | Place::Recorder);
    let mut shown = if worked { readings_under(ctx, id, bay, place, anchors) } else { Vec::new() };
    let card = laid(ctx, id);
    let clock = sheet::hidden_head(ctx, bay, |head| card.is_some_and(|card| card.intersects(head)));
    shown.splice(0..0, clock);
    let shown = shown.join("   ");
    // Beside the title, or on a line of its own where that is too long.
    let wide = |text: &str| {
        let font = FontId::new(BODY, FontFamily::Proportional);
        ctx.fonts_mut(|fonts| fonts.layout_no_wrap(text.to_owned(), font, Color32::PLACEHOLDER).size().x)
    };
    let is_beside = centre.is_none() && !shown.is_empty() && wide(&shown) + BESIDE <= width;
    let window = egui::Window::new("card").id(id).title_bar(false).pivot(pivot);
    let window = if moved { window.current_pos(position) } else { window.default_pos(position) };
    // As high as what it holds: one that asked for more would be moved up from its thing.
    window.auto_sized().frame(frame).show(ctx, |ui| {
        if paper {
            theme::on_paper(ui, palette);
        }
        ui.set_width(width);
        ui.horizontal(|ui| {
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                // Without a job there is nothing behind the board.
                if open != Place::Shelf || !bay.is_at_the_board() {
                    let close = ui.button(bay.texts.say("close"));
                    if opened && !ctx.input(|input| input.pointer.any_released()) {
                        close.request_focus();
                    }
                    if close.clicked() {
                        bay.close();
                    }
                }
                if let Some(centre) = centre {
                    looking::button(ui, bay.texts, gaze, centre);
                }
                if is_beside {
                    ui.label(&shown);
                }
                // A long one wraps before the buttons.
                ui.with_layout(egui::Layout::left_to_right(egui::Align::Center), |ui| {
                    let title = words::capital(&title(bay.texts, bay.vehicle(), open));
                    ui.add(egui::Label::new(RichText::new(title).size(TITLE).strong()).wrap());
                });
            });
        });
        if !shown.is_empty() && !is_beside {
            ui.label(&shown);
        }
        match open {
            Place::Shelf => board::head(ui, bay),
            Place::Author => author::head(ui, bay),
            _ => {}
        }
        ui.separator();
        // What answers in the captions leaves them in view.
        let most = match open {
            Place::Help | Place::Shelf | Place::Findings | Place::Settings | Place::Author | Place::Lid => {
                590.0
            }
            _ => 530.0_f32,
        };
        // A card ends above what lies below it: the captions, and the first job's note.
        let across = egui::Rangef::new(ui.cursor().left(), ui.cursor().left() + width);
        let below = captions::below(ctx).into_iter().chain(note_below(ctx, bay));
        let under = below.filter(|area| area.x_range().intersects(across));
        let end = under.map(|area| area.top()).fold(screen.bottom(), f32::min) - 20.0;
        let below = (end - ui.cursor().top()).max(LEAST_HEIGHT);
        let foot = if open == Place::Author { author::FOOT } else { 0.0 };
        let height = most.min(below) - foot;
        let area = ScrollArea::vertical().max_height(height).auto_shrink([false, true]);
        let scrolled = area.show(ui, |ui| {
            contents(ui, bay, settings, open, anchors, palette);
            follow_focus(ui);
            page_by_keys(ui);
        });
        let out_of_sight = (scrolled.content_size.y - scrolled.inner_rect.height()).max(0.0);
        ui.data_mut(|data| data.insert_temp(unseen, out_of_sight));
        if open == Place::Author {
            author::foot(ui, bay);
        }
    });
}

/// What the displays show that this card or the captions hide, as they lay in the last frame. A card that the line makes higher
/// still hides what it hid, so that the line does not come and go.
fn readings_under(
    ctx: &egui::Context,
    card: Id,
    bay: &Bay,
    place: &Place2d<'_>,
    anchors: &Anchors,
) -> Vec<String> {
    /// What the line takes, in points.
    const LINE: f32 = 30.0;
    let covers = [card, Id::new("captions")].map(|id| laid(ctx, id));
    let covers = covers.map(|area| area.map(|area| area.expand2(vec2(0.0, LINE))));
    looking::hidden_readings(bay, place, anchors, |display| {
        covers.iter().flatten().any(|cover| cover.intersects(display))
    })
}

/// What a title takes with the button beside it, in points.
const BESIDE: f32 = 220.0;
/// What a card has for its contents at least, in points.
const LEAST_HEIGHT: f32 = 150.0;

/// Scrolls to what the keyboard has just come to, if it lies in this card.
pub(super) fn follow_focus(ui: &egui::Ui) {
    let last = Id::new("last focus");
    let focused = ui.memory(|memory| memory.focused());
    let before = ui.data_mut(|data| std::mem::replace(data.get_temp_mut_or_default(last), focused));
    let reached = focused.filter(|_| before != focused).and_then(|id| ui.ctx().read_response(id));
    if let Some(reached) = reached.filter(|reached| reached.layer_id == ui.layer_id()) {
        ui.scroll_to_rect(reached.rect, None);
    }
}

/// Scrolls what is longer than its card by the keys for pages.
pub(super) fn page_by_keys(ui: &egui::Ui) {
    let page = ui.clip_rect().height() * 0.85;
    for (key, delta) in [(Key::PageDown, -page), (Key::PageUp, page)] {
        if ui.input(|input| input.key_pressed(key)) {
            ui.scroll_with_delta(vec2(0.0, delta));
        }
    }
}

/// Whether another card is open than at the last frame.
fn has_just_opened(ctx: &egui::Context, open: Option<Place>) -> bool {
    let last = Id::new("last open card");
    let before = ctx.data_mut(|data| std::mem::replace(data.get_temp_mut_or_default(last), open));
    open.is_some() && before != open
}

/// Whether a card is put where it belongs: when that is new, and for some frames after that, as only then it is known how large
/// it is, what it hides, and how large it is with what is said of that.
fn is_put_anew(ctx: &egui::Context, new: bool) -> bool {
    const FRAMES: u8 = 3;
    ctx.data_mut(|data| {
        let left: &mut u8 = data.get_temp_mut_or_default(Id::new("frames in which a card is put yet"));
        let put = new || *left > 0;
        *left = if new { FRAMES } else { left.saturating_sub(1) };
        put
    })
}

/// Whether the screen is of another size than at the last frame.
fn has_changed_size(ctx: &egui::Context, screen: Rect) -> bool {
    let last = Id::new("last size of the screen");
    let before = ctx.data_mut(|data| std::mem::replace(data.get_temp_mut_or_default(last), screen.size()));
    before != screen.size()
}

fn title(t: Texts, vehicle: &Vehicle, open: Place) -> String {
    match open {
        Place::Connector(id) => t.title(&vehicle.connector(id).title).to_owned(),
        Place::Station(id) => t.title(&vehicle.station(id).title).to_owned(),
        Place::Stud(id) => t.title(&vehicle.stud(id).title).to_owned(),
        Place::Panel(id) => t.title(&vehicle.panel(id).title).to_owned(),
        Place::Lid => t.title(&vehicle.lid.title).to_owned(),
        Place::Cabin => t.say("card-cabin").to_owned(),
        Place::Front => t.say("card-front").to_owned(),
        Place::Key => t.say("card-key").to_owned(),
        Place::Body => t.say("point-body").to_owned(),
        Place::FuseTray => t.say("card-fuse-tray").to_owned(),
        Place::Tool(tool) => words::tool_title(t, tool).to_owned(),
        Place::Meter => t.say("card-meter").to_owned(),
        Place::Clamp => t.say("card-clamp").to_owned(),
        Place::Recorder => t.say("card-recorder").to_owned(),
        Place::Customer => t.say("card-customer").to_owned(),
        Place::Findings => t.say("card-findings").to_owned(),
        Place::Naming => t.say("card-naming").to_owned(),
        Place::Suspicions => t.say("card-suspicions").to_owned(),
        Place::Coach => t.say("card-coach").to_owned(),
        Place::Writing => t.say("card-writing").to_owned(),
        Place::HandingIn => t.say("card-handing-in").to_owned(),
        Place::Diagram => t.say("card-diagram").to_owned(),
        Place::Shelf => t.say("card-shelf").to_owned(),
        Place::Everything => t.say("card-everything").to_owned(),
        Place::Settings => t.say("card-settings").to_owned(),
        Place::Author => t.say("card-author").to_owned(),
        Place::Help => t.say("card-help").to_owned(),
    }
}

fn contents(
    ui: &mut egui::Ui,
    bay: &mut Bay,
    settings: &mut Settings,
    open: Place,
    anchors: &Anchors,
    palette: &Palette,
) {
    match open {
        Place::Connector(id) => connector::card(ui, bay, id, settings.text_percent, palette),
        Place::Station(id) => loom::card(ui, bay, id, palette),
        Place::Stud(id) => vehicle::stud(ui, bay, id),
        Place::Panel(id) => vehicle::panel(ui, bay, id),
        Place::Lid => lid::card(ui, bay, palette),
        Place::Cabin => cabin::card(ui, bay, palette),
        Place::Front => battery::front(ui, bay, palette),
        Place::Key => key::card(ui, bay, palette),
        Place::Body => vehicle::body(ui, bay),
        Place::FuseTray => cabin::fuse_tray(ui, bay, palette),
        Place::Tool(tool) => instruments::tool(ui, bay, tool),
        Place::Meter => instruments::meter(ui, bay),
        Place::Clamp => instruments::clamp(ui, bay),
        Place::Recorder => strip::recorder(ui, bay, palette),
        Place::Customer => papers::customer(ui, bay),
        Place::Findings => papers::findings(ui, bay),
        Place::Naming => naming::card(ui, bay),
        Place::Suspicions => suspicions::card(ui, bay),
        Place::Coach => coach::card(ui, bay),
        Place::Writing => papers::writing(ui, bay),
        Place::HandingIn => papers::handing_in(ui, bay),
        Place::Diagram => diagram::card(ui, bay, palette),
        Place::Shelf => board::card(ui, bay, palette),
        Place::Everything => spots::everything(ui, bay, anchors),
        Place::Settings => settings::card(ui, settings),
        Place::Author => author::card(ui, bay, palette),
        Place::Help => help::card(ui, bay.texts, palette),
    }
}
