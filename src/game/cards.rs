//! The card of the thing that is open: a connector's face, a station of the loom, the cabin, naming, writing.

use std::collections::BTreeMap;
use std::path::Path;

use bevy_egui::egui::{
    self, Align2, Color32, ComboBox, FontFamily, FontId, Id, Key, Pos2, Rect, RichText, ScrollArea, Sense,
    Stroke, WidgetInfo, WidgetType, pos2, vec2,
};
use probeworthy::bench::{
    Action, ClampPlace, FuseWork, Lead, LidTo, MeterSetting, Place as Treated, Precaution, Question, Repair,
    Seen, TerminalLook, Tool, WriteUpLine, price,
};
use probeworthy::circuit::FUSE_RATINGS_AMPS;
use probeworthy::say;
use probeworthy::vehicle::{
    ConnectorId, FuseId, Half, KeyButton, LidPosition, Mate, PanelId, PartId, PartKind, Point, Reach, Screen,
    Side, StudId, Vehicle, Zone,
};
use probeworthy::words::{self, Texts};

use super::author;
use super::bay::{Bay, Hand, Place};
use super::hand_tools::{self, HandTool};
use super::overlay::Place2d;
use super::scenery::{Anchors, Gaze, Palette, Placed};
use super::settings::{self, Settings};
use super::signs::Sign;
use super::sync::{connector_anchor, short_point, tool_anchor};
use super::theme::{self, BODY, SMALL, TITLE, colour};
use super::{coach, diagram, looking, loom, naming, shelf, strip, suspicions};

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
        _ => return None,
    })
}

/// Where what is open is in the drawing.
pub(super) fn placed(bay: &Bay, anchors: &Anchors, open: Place) -> Option<Placed> {
    anchors.design(&anchor_of(bay, anchors, open)?)
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
    }
    if bay.job.is_none() {
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
    let moved = opened || has_changed_size(ctx, screen);
    let centre = placed(bay, anchors, open).map(|at| at.centre);
    let at = centre.map(|centre| place.at(centre));
    // Beside its thing, on the side with more room, and clear of the sheet, the captions and the meter.
    let (pivot, position) = match at {
        Some(at) if at.x < screen.center().x => (Align2::LEFT_TOP, pos2(at.x + 40.0, clear(at.y, screen))),
        Some(at) => (Align2::RIGHT_TOP, pos2(at.x - 40.0, clear(at.y, screen))),
        // What is worked, and the meter, stay in view beside the card.
        None if !paper => (Align2::LEFT_TOP, pos2(left_of(ctx, open, place, anchors), screen.top() + 24.0)),
        // Its top stays where it is while it grows, so that no button moves under the pointer.
        None => (
            Align2::CENTER_TOP,
            pos2(screen.center().x + if open == Place::Diagram { 85.0 } else { 20.0 }, screen.top() + 24.0),
        ),
    };
    let frame = if paper { theme::paper_frame(palette) } else { theme::card_frame(palette) };
    let id = Id::new(("card", format!("{open:?}")));
    let window = egui::Window::new("card").id(id).title_bar(false).resizable(false).pivot(pivot);
    let window = if moved { window.current_pos(position) } else { window.default_pos(position) };
    window.default_height(screen.height() - 120.0).frame(frame).show(ctx, |ui| {
        if paper {
            theme::on_paper(ui, palette);
        }
        // In large text a card is as wide as the window allows.
        ui.set_width(width(open).min(screen.width() - 60.0));
        ui.horizontal(|ui| {
            let title = capital(&title(bay.texts, bay.vehicle(), open));
            ui.label(RichText::new(title).size(TITLE).strong());
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                let close = ui.button(bay.texts.say("close"));
                if opened && !ctx.input(|input| input.pointer.any_released()) {
                    close.request_focus();
                }
                if close.clicked() {
                    bay.open = None;
                }
                if let Some(centre) = centre {
                    looking::button(ui, bay.texts, gaze, centre);
                }
            });
        });
        ui.separator();
        let height = 530_f32.min(screen.height() - 130.0);
        ScrollArea::vertical().max_height(height).auto_shrink([false, true]).show(ui, |ui| {
            contents(ui, bay, settings, open, anchors, palette);
            follow_focus(ui);
            page_by_keys(ui);
        });
    });
}

/// How wide a card is, in points.
fn width(open: Place) -> f32 {
    match open {
        Place::Diagram => diagram::WIDTH,
        Place::Shelf => 840.0,
        Place::Findings | Place::Everything | Place::Author => 720.0,
        Place::Customer
        | Place::Writing
        | Place::Naming
        | Place::Suspicions
        | Place::Coach
        | Place::HandingIn
        | Place::Settings
        | Place::Recorder => 520.0,
        Place::Help => 660.0,
        Place::Connector(_) => 680.0,
        Place::Station(_) | Place::Meter => 560.0,
        _ => 410.0,
    }
}

/// The left edge of a card that belongs to no place in the drawing: beside the job sheet where there is room up to the meter,
/// else at the window's edge. The lid's stays there, as more of the lid is seen beside it.
fn left_of(ctx: &egui::Context, open: Place, place: &Place2d<'_>, anchors: &Anchors) -> f32 {
    /// A card's margins on both sides.
    const MARGINS: f32 = 26.0;
    /// From the sheet's lines to the edge of its board and a little beyond.
    const BOARD: f32 = 24.0;
    let screen = ctx.viewport_rect();
    let sheet = ctx.memory(|memory| memory.area_rect(Id::new("sheet")));
    let meter = anchors.design("meter-display").map(|at| place.rect(at.centre, at.size).left() - BOARD);
    let beside = sheet.map_or(screen.left() + 10.0, |sheet| sheet.right() + BOARD);
    let fits = beside + width(open) + MARGINS <= meter.unwrap_or(screen.right());
    if fits && open != Place::Lid { beside } else { screen.left() + 10.0 }
}

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

/// Whether the screen is of another size than at the last frame.
fn has_changed_size(ctx: &egui::Context, screen: Rect) -> bool {
    let last = Id::new("last size of the screen");
    let before = ctx.data_mut(|data| std::mem::replace(data.get_temp_mut_or_default(last), screen.size()));
    before != screen.size()
}

/// A height for a card's top: a little above its thing, with room to grow downwards.
fn clear(y: f32, screen: Rect) -> f32 {
    (y - 60.0).clamp(screen.top() + 12.0, (screen.bottom() - 480.0).max(screen.top() + 12.0))
}

/// A name as a heading: with a capital letter.
fn capital(name: &str) -> String {
    let mut letters = name.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

fn title(t: Texts, vehicle: &Vehicle, open: Place) -> String {
    match open {
        Place::Connector(id) => vehicle.connector(id).title.clone(),
        Place::Station(id) => vehicle.station(id).title.clone(),
        Place::Stud(id) => vehicle.stud(id).title.clone(),
        Place::Panel(id) => vehicle.panel(id).title.clone(),
        Place::Lid => vehicle.lid.title.clone(),
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
        Place::Connector(id) => connector(ui, bay, id, palette),
        Place::Station(id) => loom::card(ui, bay, id, palette),
        Place::Stud(id) => stud(ui, bay, id),
        Place::Panel(id) => panel(ui, bay, id),
        Place::Lid => lid(ui, bay),
        Place::Cabin => cabin(ui, bay, palette),
        Place::Front => front(ui, bay),
        Place::Key => key(ui, bay),
        Place::Body => point_buttons(ui, bay, &[(Point::Body, bay.texts.say("point-bare-metal"))]),
        Place::FuseTray => fuse_tray(ui, bay),
        Place::Tool(tool) => self::tool(ui, bay, tool),
        Place::Meter => meter(ui, bay),
        Place::Clamp => clamp(ui, bay),
        Place::Recorder => strip::recorder(ui, bay, palette),
        Place::Customer => customer(ui, bay),
        Place::Findings => findings(ui, bay),
        Place::Naming => naming::card(ui, bay),
        Place::Suspicions => suspicions::card(ui, bay),
        Place::Coach => coach::card(ui, bay),
        Place::Writing => writing(ui, bay),
        Place::HandingIn => handing_in(ui, bay),
        Place::Diagram => diagram::card(ui, bay, palette),
        Place::Shelf => shelf::card(ui, bay, palette),
        Place::Everything => super::overlay::everything(ui, bay, anchors),
        Place::Settings => settings::card(ui, settings),
        Place::Author => author::card(ui, bay, palette),
        Place::Help => help(ui, bay.texts, palette),
    }
}

/// A button for an act.
pub(super) fn act(ui: &mut egui::Ui, bay: &mut Bay, label: &str, action: Action) {
    act_unless(ui, bay, false, label, action);
}

/// A button for an act that changes nothing where something is so already.
fn act_unless(ui: &mut egui::Ui, bay: &mut Bay, so: bool, label: &str, action: Action) {
    if ui.add_enabled(!so, egui::Button::new(label)).clicked() {
        bay.act(action);
    }
}

/// Points as buttons for what is in hand, with what is on them.
fn point_buttons(ui: &mut egui::Ui, bay: &mut Bay, points: &[(Point, &str)]) {
    let t = bay.texts;
    for (point, title) in points {
        ui.horizontal(|ui| {
            if ui.add_enabled(bay.hand.goes_to_a_point(), egui::Button::new(*title)).clicked() {
                bay.put_to(*point);
            }
            for (name, _) in marks_on(bay, *point) {
                ui.label(say!(t, "point-has", what = name));
            }
        });
    }
    leads_off(ui, bay);
    // The line always stands, so that nothing moves when a probe is taken.
    let said = t.say(if bay.hand.goes_to_a_point() { "point-goes" } else { "point-take-first" });
    ui.label(RichText::new(said).size(SMALL).weak());
}

/// Buttons that take probes off what they are on. They always stand, so that nothing moves under the pointer.
fn leads_off(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    let Some((red, black)) = bay.job.as_ref().map(|job| &job.scene().kit().meter).map(|m| (m.red, m.black))
    else {
        return;
    };
    ui.horizontal(|ui| {
        for (lead, on, label) in [
            (Lead::Red, red, t.say("point-take-red-off")),
            (Lead::Black, black, t.say("point-take-black-off")),
        ] {
            if ui.add_enabled(on.is_some(), egui::Button::new(label)).clicked() {
                bay.take_off(lead);
            }
        }
    });
}

/// What is in the way, if anything is, as a line.
pub(super) fn obstacle(ui: &mut egui::Ui, bay: &Bay, reach: Reach) -> bool {
    use probeworthy::bench::Refusal;
    use probeworthy::vehicle::Obstacle;
    let Some(job) = &bay.job else { return true };
    let refusal = match job.scene().obstacle(bay.vehicle(), reach) {
        None => return false,
        Some(Obstacle::LidTooLow) => Refusal::LidTooLow,
        Some(Obstacle::LoadSpaceClosed(panel)) => Refusal::LoadSpaceClosed(panel),
        Some(Obstacle::Panel(panel)) => Refusal::BehindPanel(panel),
    };
    let why = words::refusal(bay.texts, bay.vehicle(), refusal);
    ui.label(say!(bay.texts, "point-out-of-reach", why = why));
    true
}

/// What the leads and clips have on a point.
fn marks_on(bay: &Bay, point: Point) -> Vec<(&'static str, Color32)> {
    let Some(job) = &bay.job else { return Vec::new() };
    let kit = job.scene().kit();
    let t = bay.texts;
    let red = Color32::from_rgb(186, 58, 42);
    let black = Color32::from_rgb(20, 22, 24);
    let amber = Color32::from_rgb(140, 92, 20);
    let mut marks = Vec::new();
    if kit.meter.red == Some(point) {
        marks.push((t.say("lead-red"), red));
    }
    if kit.meter.black == Some(point) {
        marks.push((t.say("lead-black"), black));
    }
    let begun = match bay.hand {
        Hand::Clip(_, Some(first)) | Hand::Recorder(Some(first)) => Some(first),
        Hand::Clip(_, None)
        | Hand::Recorder(None)
        | Hand::Clamp
        | Hand::Probe(_)
        | Hand::Tool(_)
        | Hand::Empty => None,
    };
    if begun == Some(point) || kit.clips.iter().any(|clip| clip.from == point || clip.to == point) {
        marks.push((t.say("mark-clip"), amber));
    }
    if kit.recorder.leads.is_some_and(|(plus, minus)| plus == point || minus == point) {
        marks.push((t.say("mark-recorder"), amber));
    }
    let clamped = match kit.clamp.map(|clamp| clamp.place) {
        Some(ClampPlace::Cavity(connector, half, cavity)) => Some(Point::Cavity(connector, half, cavity)),
        Some(ClampPlace::BatteryPlus) => Some(Point::BatteryPlus),
        Some(ClampPlace::Station(..)) | None => None,
    };
    if clamped == Some(point) {
        marks.push((t.say("mark-clamp"), amber));
    }
    marks
}

fn connector(ui: &mut egui::Ui, bay: &mut Bay, id: ConnectorId, palette: &Palette) {
    let t = bay.texts;
    let vehicle = bay.vehicle().clone();
    let connector = vehicle.connector(id);
    let Some(mated) = bay.job.as_ref().map(|job| job.scene().mated()[id.index()]) else { return };
    let blocked = obstacle(ui, bay, connector.reach);
    if !blocked {
        ui.horizontal(|ui| {
            let label = if mated { t.say("connector-unplug") } else { t.say("connector-plug") };
            act(ui, bay, label, Action::Plug(id, !mated));
            act(ui, bay, t.say("connector-look"), Action::LookAt(id));
        });
        ui.label(
            RichText::new(if mated { t.say("connector-mated") } else { t.say("connector-open") }).size(SMALL),
        );
        let halves: &[(Half, &str)] = match (connector.mate, mated) {
            (Mate::Loom, _) => {
                &[(Half::Loom, t.say("connector-body-half")), (Half::Mate, t.say("connector-lid-half"))]
            }
            (Mate::Pins, true) => &[(Half::Loom, t.say("connector-loom-half"))],
            (Mate::Pins, false) => {
                &[(Half::Loom, t.say("connector-loom-half")), (Half::Mate, t.say("connector-own-pins"))]
            }
        };
        // Side by side, so that a wire and its going on lie on one level.
        ui.horizontal_top(|ui| {
            for (half, name) in halves {
                ui.vertical(|ui| {
                    ui.label(RichText::new(*name).size(SMALL).weak());
                    face(ui, bay, &vehicle, id, *half, palette);
                });
            }
        });
        leads_off(ui, bay);
        if let Some(cavity) = bay.draft.cavity.filter(|cavity| *cavity <= connector.cavities) {
            ui.horizontal_wrapped(|ui| {
                ui.label(say!(t, "connector-cavity-title", cavity = cavity));
                act(ui, bay, t.say("connector-tug"), Action::Tug(id, cavity));
                let renew = Action::Repair(Repair::Terminal(id, cavity));
                let label = say!(t, "connector-terminal", price = price(&vehicle, &renew));
                act(ui, bay, &label, renew);
                let mut other = bay.draft.swap.1.clamp(1, connector.cavities);
                ComboBox::from_id_salt("other cavity")
                    .selected_text(say!(t, "connector-with", cavity = other))
                    .width(70.0)
                    .show_ui(ui, |ui| {
                        for n in (1..=connector.cavities).filter(|n| *n != cavity) {
                            ui.selectable_value(&mut other, n, say!(t, "connector-with", cavity = n));
                        }
                    });
                bay.draft.swap = (cavity, other);
                act(
                    ui,
                    bay,
                    t.say("connector-swap"),
                    Action::Repair(Repair::SwapCavities(id, cavity, other)),
                );
            });
        } else {
            let said = match bay.hand {
                Hand::Tool(HandTool::Repair | HandTool::Cleaner) => "connector-which-cavity",
                _ => "connector-touch-cavity",
            };
            ui.label(RichText::new(t.say(said)).size(SMALL));
        }
    }
    heat_and_cold(ui, bay, Treated::Connector(id));
    let parts: Vec<(PartId, String, u32, f64)> = vehicle
        .parts()
        .filter(|(_, part)| part.connector == id)
        .map(|(part, file)| (part, file.title.clone(), file.price, file.fit_minutes))
        .collect();
    ui.separator();
    for (part, title, price, minutes) in parts {
        ui.horizontal_wrapped(|ui| {
            act(
                ui,
                bay,
                &say!(t, "part-fit", part = title, price = price, minutes = minutes),
                Action::Repair(Repair::Part(part)),
            );
            if matches!(vehicle.part(part).kind, PartKind::Module(_)) {
                act(ui, bay, t.say("part-read-memory"), Action::ReadMemory(part));
                act(ui, bay, t.say("part-clear-memory"), Action::ClearMemory(part));
            }
            act(ui, bay, t.say("part-tap"), Action::Tap(part));
        });
        if let PartKind::Screen(screen) = vehicle.part(part).kind {
            lines(ui, bay, part, screen);
        }
        if let PartKind::Latch(_) = vehicle.part(part).kind {
            ui.horizontal(|ui| {
                act(ui, bay, t.say("part-claw"), Action::CloseClaw);
                act(ui, bay, t.say("part-force"), Action::ForceLatch);
            });
        }
    }
}

/// A connector's face: its cavities in rows, numbered, with the wire's colour and letters and what touches it.
fn face(ui: &mut egui::Ui, bay: &mut Bay, vehicle: &Vehicle, id: ConnectorId, half: Half, palette: &Palette) {
    const CELL: f32 = 56.0;
    const GAP: f32 = 8.0;
    const IN_A_ROW: u8 = 5;
    let t = bay.texts;
    let cavities = vehicle.connector(id).cavities;
    let columns = cavities.min(if cavities > 6 { IN_A_ROW } else { 6 });
    let rows = cavities.div_ceil(columns);
    let size = vec2(f32::from(columns) * (CELL + GAP) + GAP, f32::from(rows) * (CELL + 20.0 + GAP) + GAP);
    let (outer, _) = ui.allocate_exact_size(size, Sense::hover());
    ui.painter().rect(
        outer,
        10.0,
        colour(palette, "housing"),
        Stroke::new(2.0, colour(palette, "card-edge")),
        egui::StrokeKind::Inside,
    );
    let close_look = looked_at(bay, id);
    let mut touched = None;
    for n in 0..cavities {
        let (column, row) = (n % columns, n / columns);
        let corner = outer.min
            + vec2(GAP + f32::from(column) * (CELL + GAP), GAP + f32::from(row) * (CELL + 20.0 + GAP));
        let cell = Rect::from_min_size(corner, vec2(CELL, CELL));
        let cavity = n + 1;
        let point = Point::Cavity(id, half, cavity);
        let wire = vehicle.conductor_in(id, half, cavity);
        let own_pin = half == Half::Mate && vehicle.connector(id).mate == Mate::Pins;
        let label = match wire {
            Some(wire) => {
                let wire = words::conductor_title(vehicle, wire);
                say!(t, "connector-cavity", cavity = cavity, wire = wire)
            }
            None if own_pin => say!(t, "connector-pin", cavity = cavity),
            None => say!(t, "connector-empty", cavity = cavity),
        };
        let response = ui.interact(cell, Id::new(("cavity", id, half == Half::Loom, cavity)), Sense::click());
        response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, &label));
        let painter = ui.painter();
        painter.rect_filled(cell, 6.0, Color32::from_rgb(14, 16, 19));
        let letters = wire.map(|wire| vehicle.conductor(wire).colour.clone());
        if let Some(letters) = &letters {
            let mut parts = letters.split('/');
            let ring = colour(palette, &format!("wire-{}", parts.next().unwrap_or("BK")));
            painter.rect_stroke(cell.shrink(2.0), 5.0, Stroke::new(4.0, ring), egui::StrokeKind::Inside);
            if let Some(stripe) = parts.next() {
                let stripe = colour(palette, &format!("wire-{stripe}"));
                painter.rect_stroke(
                    cell.shrink(4.0),
                    4.0,
                    Stroke::new(1.5, stripe),
                    egui::StrokeKind::Inside,
                );
            }
        }
        if letters.is_some() || own_pin {
            let looks = if half == Half::Loom { close_look.get(&cavity) } else { None };
            terminal(painter, cell.center(), looks.map_or(&[][..], Vec::as_slice));
        }
        if response.hovered() || response.has_focus() || bay.draft.cavity == Some(cavity) {
            let line =
                if response.has_focus() { colour(palette, "focus") } else { colour(palette, "accent") };
            painter.rect_stroke(cell.expand(2.0), 7.0, Stroke::new(2.0, line), egui::StrokeKind::Inside);
        }
        let text = match &letters {
            Some(letters) => format!("{cavity} {letters}"),
            None => cavity.to_string(),
        };
        painter.text(
            pos2(cell.center().x, cell.bottom() + 2.0),
            Align2::CENTER_TOP,
            text,
            FontId::new(SMALL, FontFamily::Proportional),
            colour(palette, "housing-text"),
        );
        for (at, (name, fill)) in marks_on(bay, point).into_iter().enumerate() {
            mark(painter, cell.left_top() + vec2(4.0, 4.0 + 20.0 * at as f32), name, fill);
        }
        let dropped = bay.is_dropped_on(&response);
        if response.on_hover_text(&label).clicked() || dropped {
            touched = Some((point, cavity));
        }
    }
    if let Some((point, cavity)) = touched {
        if !bay.hand.goes_to_a_point() {
            bay.draft.cavity = if bay.draft.cavity == Some(cavity) { None } else { Some(cavity) };
        } else {
            bay.put_to(point);
        }
    }
}

/// What the last close look at a connector showed of its terminals, and what has been mended since left out.
fn looked_at(bay: &Bay, id: ConnectorId) -> BTreeMap<u8, Vec<TerminalLook>> {
    let mut known = BTreeMap::<u8, Vec<TerminalLook>>::new();
    let steps = bay.job.iter().flat_map(|job| job.log()).filter(|step| step.outcome.refused.is_none());
    for step in steps {
        for seen in &step.outcome.seen {
            if let Seen::Terminals(connector, mated, looks) = seen
                && *connector == id
            {
                // With the halves together only the wires are seen.
                known.retain(|_, looks| {
                    looks.retain(|look| *mated && *look != TerminalLook::WrongColour);
                    !looks.is_empty()
                });
                for (cavity, look) in looks {
                    known.entry(*cavity).or_default().push(*look);
                }
            }
        }
        match step.action {
            Action::Repair(Repair::Terminal(connector, cavity)) if connector == id => {
                known.remove(&cavity);
            }
            Action::Repair(Repair::SwapCavities(connector, one, other)) if connector == id => {
                let (first, second) = (known.remove(&one), known.remove(&other));
                known.extend(first.map(|looks| (other, looks)));
                known.extend(second.map(|looks| (one, looks)));
                for cavity in [one, other] {
                    if let Some(looks) = known.get_mut(&cavity) {
                        looks.retain(|look| *look != TerminalLook::WrongColour);
                    }
                }
            }
            _ => {}
        }
    }
    known
}

/// A terminal from its mating face, as it looked when it was looked at closely.
fn terminal(painter: &egui::Painter, centre: Pos2, looks: &[TerminalLook]) {
    let brass = Color32::from_rgb(201, 162, 66);
    let has = |look| looks.contains(&look);
    if has(TerminalLook::PushedBack) {
        // Deep in its cavity: small, dark, and a shadow round it.
        let blade = Rect::from_center_size(centre, vec2(6.0, 13.0));
        painter.rect_filled(blade, 2.0, Color32::from_rgb(92, 74, 32));
        let hole = blade.expand2(vec2(5.0, 6.0));
        let shade = Stroke::new(2.0, Color32::from_gray(62));
        painter.rect_stroke(hole, 4.0, shade, egui::StrokeKind::Inside);
    } else if has(TerminalLook::Spread) {
        for side in [-1.0, 1.0] {
            let half = [centre + vec2(side * 3.0, 10.0), centre + vec2(side * 8.0, -10.0)];
            painter.line_segment(half, Stroke::new(4.0, brass));
        }
    } else {
        painter.rect_filled(Rect::from_center_size(centre, vec2(9.0, 20.0)), 2.0, brass);
    }
    if has(TerminalLook::Corroded) {
        let green = Color32::from_rgb(72, 160, 122);
        for (x, y, size) in
            [(-4.0, -8.0, 3.5), (3.0, -4.0, 4.0), (-3.0, 1.0, 4.5), (4.0, 5.0, 3.0), (-2.0, 9.0, 3.5)]
        {
            painter.circle_filled(centre + vec2(x, y), size, green);
        }
    }
    if has(TerminalLook::WrongColour) {
        let font = FontId::new(SMALL, FontFamily::Proportional);
        let corner = centre + vec2(16.0, 16.0);
        painter.circle_filled(corner, 8.0, Color32::from_rgb(160, 60, 30));
        painter.text(corner, Align2::CENTER_CENTER, "?", font, Color32::WHITE);
    }
}

fn mark(painter: &egui::Painter, corner: Pos2, name: &str, fill: Color32) {
    let galley =
        painter.layout_no_wrap(name.to_owned(), FontId::new(SMALL, FontFamily::Proportional), Color32::WHITE);
    let rect = Rect::from_min_size(corner, galley.size() + vec2(6.0, 1.0));
    painter.rect(rect, 3.0, fill, Stroke::new(1.0, Color32::from_gray(180)), egui::StrokeKind::Inside);
    painter.galley(corner + vec2(3.0, 0.0), galley, Color32::WHITE);
}

/// The lines of a heated screen: where a probe can be put, and where a break can be painted over.
fn lines(ui: &mut egui::Ui, bay: &mut Bay, part: PartId, screen: Screen) {
    let t = bay.texts;
    ui.horizontal_wrapped(|ui| {
        ui.add(
            egui::DragValue::new(&mut bay.draft.line).range(1..=screen.lines).prefix(t.say("screen-line")),
        );
        let places = 0..=Screen::SECTIONS;
        let suffix = say!(t, "screen-place", sections = Screen::SECTIONS);
        ui.add(egui::DragValue::new(&mut bay.draft.place).range(places).suffix(suffix));
        let (line, place) = (bay.draft.line, bay.draft.place);
        let label = t.say("screen-put");
        if ui.add_enabled(bay.hand.goes_to_a_point(), egui::Button::new(label)).clicked() {
            bay.put_to(Point::Line(part, line, place));
        }
        let section = place.clamp(1, Screen::SECTIONS);
        let label = say!(t, "screen-paint", section = section, line = line);
        act(ui, bay, &label, Action::Repair(Repair::Line(part, line, section)));
    });
}

/// A heat gun and cold spray at a place.
pub(super) fn heat_and_cold(ui: &mut egui::Ui, bay: &mut Bay, place: Treated) {
    let t = bay.texts;
    ui.horizontal(|ui| {
        act(ui, bay, t.say("place-warm"), Action::Warm(place));
        act(ui, bay, t.say("place-cool"), Action::Cool(place));
    });
}

fn stud(ui: &mut egui::Ui, bay: &mut Bay, id: StudId) {
    let t = bay.texts;
    let reach = bay.vehicle().stud(id).reach;
    if obstacle(ui, bay, reach) {
        return;
    }
    act(ui, bay, t.say("stud-look"), Action::LookAtStud(id));
    act(ui, bay, t.say("stud-clean"), Action::Repair(Repair::Stud(id)));
    point_buttons(ui, bay, &[(Point::Stud(id), t.say("stud-thread"))]);
}

fn panel(ui: &mut egui::Ui, bay: &mut Bay, id: PanelId) {
    let t = bay.texts;
    let file = bay.vehicle().panel(id).clone();
    let off = bay.is_off(id);
    if obstacle(ui, bay, Reach { zone: file.zone, panel: None }) {
        return;
    }
    if off {
        act(ui, bay, &say!(t, "panel-back", minutes = file.on_minutes), Action::Panel(id, false));
    } else {
        act(ui, bay, &say!(t, "panel-off", minutes = file.off_minutes), Action::Panel(id, true));
    }
}

fn lid(ui: &mut egui::Ui, bay: &mut Bay) {
    let Some((position, claw, propped)) =
        bay.job.as_ref().map(|job| (job.scene().lid(), job.scene().claw_home(), job.scene().propped()))
    else {
        return;
    };
    let t = bay.texts;
    let full = bay.vehicle().lid.full_degrees;
    let state = match position {
        LidPosition::Shut => t.say("lid-shut").to_owned(),
        LidPosition::FirstCatch => t.say("lid-first-catch").to_owned(),
        LidPosition::Angle(degrees) => {
            let id = match (claw, propped) {
                (false, true) => "lid-at-open-propped",
                (false, false) => "lid-at-open-unpropped",
                (true, true) => "lid-at-closed-propped",
                (true, false) => "lid-at-closed-unpropped",
            };
            say!(t, id, degrees = degrees)
        }
    };
    ui.label(state);
    ui.horizontal_wrapped(|ui| {
        let up = position == LidPosition::Angle(full);
        act_unless(ui, bay, up, t.say("lid-open-fully"), Action::Lid(LidTo::Angle(full)));
        act_unless(ui, bay, position == LidPosition::Shut, t.say("lid-push-shut"), Action::Lid(LidTo::Shut));
        let caught = position == LidPosition::FirstCatch;
        act_unless(ui, bay, caught, t.say("lid-let-down"), Action::Lid(LidTo::FirstCatch));
    });
    ui.horizontal(|ui| {
        ui.add(egui::Slider::new(&mut bay.draft.lid, 2..=full).suffix("°").text(t.say("lid-angle")));
        let angle = bay.draft.lid;
        act(ui, bay, t.say("lid-hold"), Action::Lid(LidTo::Angle(angle)));
    });
    ui.horizontal_wrapped(|ui| {
        let shut = !matches!(position, LidPosition::Angle(_));
        act_unless(ui, bay, propped || shut, t.say("lid-prop"), Action::Precaution(Precaution::PropLid));
        act_unless(ui, bay, claw, t.say("lid-claw"), Action::CloseClaw);
        act(ui, bay, t.say("lid-lever"), Action::Lever);
        act(ui, bay, t.say("lid-force"), Action::ForceLatch);
        act(ui, bay, t.say("lid-look"), Action::Observe);
    });
    ui.horizontal_wrapped(|ui| {
        act(ui, bay, t.say("lid-wet"), Action::Wet);
        act(ui, bay, t.say("lid-dry"), Action::Dry);
        for minutes in [5, 15, 60] {
            act(ui, bay, &say!(t, "lid-wait", minutes = minutes), Action::Wait(minutes));
        }
    });
}

fn cabin(ui: &mut egui::Ui, bay: &mut Bay, palette: &Palette) {
    let t = bay.texts;
    let vehicle = bay.vehicle().clone();
    ui.label(RichText::new(t.say("cabin-switches")).strong());
    for (id, part) in vehicle.parts().filter(|(_, part)| part.reach.zone == Zone::Cabin) {
        let PartKind::Switch { springs_back, .. } = part.kind else { continue };
        if springs_back {
            act(ui, bay, &say!(t, "cabin-press", part = &part.title), Action::Press(id));
        } else {
            let on = bay.job.as_ref().is_some_and(|job| job.scene().switched_on()[id.index()]);
            let label = if on { "cabin-is-on" } else { "cabin-is-off" };
            act(ui, bay, &say!(t, label, part = &part.title), Action::Switch(id, !on));
        }
    }
    ui.horizontal_wrapped(|ui| {
        act(ui, bay, t.say("cabin-lever"), Action::Lever);
        for (at, panel) in vehicle.panels.iter().enumerate().filter(|(_, panel)| panel.zone == Zone::Cabin) {
            let place = Place::Panel(PanelId::at(at));
            if ui.button(say!(t, "cabin-panel", panel = &panel.title)).clicked()
                && !hand_tools::touched(bay, place)
            {
                bay.open = Some(place);
            }
        }
    });
    ui.horizontal(|ui| {
        ui.label(t.say("cabin-lockout"));
        act(ui, bay, t.say("cabin-lockout-on"), Action::Lockout(true));
        act(ui, bay, t.say("cabin-lockout-off"), Action::Lockout(false));
    });
    ui.separator();
    ui.label(RichText::new(t.say("cabin-fuses")).strong());
    let fitted = bay.job.as_ref().map(|job| job.scene().fuses_fitted()).unwrap_or_default();
    for (at, fuse) in vehicle.fuses.iter().enumerate() {
        let id = FuseId::at(at);
        ui.horizontal(|ui| {
            for side in [Side::Feed, Side::Load] {
                let point = Point::Fuse(id, side);
                let (rect, response) = ui.allocate_exact_size(vec2(30.0, 24.0), Sense::click());
                let label = if side == Side::Feed { "cabin-feed-side" } else { "cabin-load-side" };
                let label = say!(t, label, fuse = &fuse.title);
                response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, &label));
                let line =
                    if response.has_focus() { colour(palette, "focus") } else { colour(palette, "accent") };
                ui.painter().rect_filled(rect, 4.0, Color32::from_rgb(14, 16, 19));
                ui.painter().rect_filled(rect.shrink2(vec2(9.0, 4.0)), 2.0, Color32::from_rgb(201, 162, 66));
                if response.hovered() || response.has_focus() {
                    ui.painter().rect_stroke(rect, 4.0, Stroke::new(2.0, line), egui::StrokeKind::Inside);
                }
                for (name, fill) in marks_on(bay, point) {
                    mark(ui.painter(), rect.left_top() - vec2(0.0, 2.0), name, fill);
                }
                let dropped = bay.is_dropped_on(&response);
                if response.on_hover_text(&label).clicked() || dropped {
                    bay.put_to(point);
                }
            }
            ui.label(say!(t, "cabin-rating", fuse = &fuse.title, amps = fuse.rating_amps));
        });
        ui.horizontal(|ui| {
            ui.add_space(72.0);
            if fitted.get(at).copied().unwrap_or(false) {
                act(ui, bay, t.say("fuse-look"), Action::Fuse(id, FuseWork::Look));
                act(ui, bay, t.say("fuse-pull"), Action::Fuse(id, FuseWork::Pull));
            } else {
                act(ui, bay, t.say("fuse-put-back"), Action::Fuse(id, FuseWork::PutBack));
                act(ui, bay, t.say("fuse-clips"), Action::Repair(Repair::Clips(id)));
            }
            // What belongs there, unless another was taken from the tray.
            let rating = bay.draft.fuse_rating.unwrap_or(fuse.rating_amps);
            act(ui, bay, &say!(t, "fuse-fit", amps = rating), Action::Fuse(id, FuseWork::Fit(rating)));
        });
    }
    rating(ui, bay);
    leads_off(ui, bay);
    ui.separator();
    for (at, file) in vehicle.connectors.iter().enumerate() {
        if file.reach.zone == Zone::Cabin
            && ui.button(say!(t, "cabin-open", connector = &file.title)).clicked()
        {
            bay.open = Some(Place::Connector(ConnectorId::at(at)));
        }
    }
}

fn rating(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    ui.horizontal_wrapped(|ui| {
        ui.label(t.say("fuse-new"));
        ui.selectable_value(&mut bay.draft.fuse_rating, None, t.say("fuse-as-slot"));
        for amps in FUSE_RATINGS_AMPS {
            ui.selectable_value(&mut bay.draft.fuse_rating, Some(amps), say!(t, "fuse-amps", amps = amps));
        }
    });
}

fn front(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    ui.label(t.say("front-eyes"));
    ui.horizontal_wrapped(|ui| {
        let glasses = bay.job.as_ref().is_some_and(|job| job.scene().kit().glasses);
        let label = if glasses { t.say("front-glasses-on") } else { t.say("front-put-glasses-on") };
        act_unless(ui, bay, glasses, label, Action::Precaution(Precaution::EyeProtection));
        act(ui, bay, t.say("front-prove-meter"), Action::ProveMeter);
        act(ui, bay, t.say("front-charge"), Action::Repair(Repair::Charge));
    });
    point_buttons(
        ui,
        bay,
        &[(Point::BatteryPlus, t.say("front-plus")), (Point::BatteryMinus, t.say("front-minus"))],
    );
}

fn key(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    let (cell, whole) = (bay.vehicle().key.cell_price, bay.vehicle().key.price);
    ui.horizontal(|ui| {
        for (button, label) in [
            (KeyButton::Lock, t.say("key-lock")),
            (KeyButton::Unlock, t.say("key-unlock")),
            (KeyButton::Release, t.say("key-release")),
        ] {
            act(ui, bay, label, Action::Key(button));
        }
    });
    ui.label(t.say("key-about"));
    act(ui, bay, &say!(t, "key-new-cell", price = cell), Action::Repair(Repair::KeyCell));
    act(ui, bay, &say!(t, "key-new", price = whole), Action::Repair(Repair::Key));
    let contacts = [(Point::KeyPlus, t.say("key-plus")), (Point::KeyMinus, t.say("key-minus"))];
    point_buttons(ui, bay, &contacts);
}

fn fuse_tray(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    rating(ui, bay);
    ui.label(t.say("tray-about"));
    act(ui, bay, t.say("tray-meter-fuse"), Action::MeterFuse);
}

fn tool(ui: &mut egui::Ui, bay: &mut Bay, tool: Tool) {
    let t = bay.texts;
    let clip = bay.job.as_ref().and_then(|job| job.scene().kit().clip(tool).copied());
    match clip {
        None => {
            if ui.button(t.say("tool-take")).clicked() {
                bay.hand = Hand::Clip(tool, None);
                bay.open = None;
            }
            if tool == Tool::BenchBattery {
                ui.label(t.say("tool-first-plus"));
            }
        }
        Some(clip) => {
            let vehicle = bay.vehicle();
            let (from, to) = (short_point(t, vehicle, clip.from), short_point(t, vehicle, clip.to));
            ui.label(say!(t, "tool-on", from = from, to = to));
            if clip.fuse.is_some_and(|fuse| fuse.blown) {
                ui.label(t.say("tool-blown"));
            }
            act(ui, bay, t.say("tool-off"), Action::Clip(tool, None));
        }
    }
}

fn meter(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    let Some((setting, capture)) =
        bay.job.as_ref().map(|job| &job.scene().kit().meter).map(|meter| (meter.setting, meter.capture))
    else {
        return;
    };
    ui.horizontal_wrapped(|ui| {
        for one in MeterSetting::ALL {
            let button = egui::Button::selectable(one == setting, words::setting_title(t, one));
            if ui.add(button).clicked() && one != setting {
                bay.act(Action::Meter(one));
            }
        }
    });
    let label = if capture { t.say("meter-let-go") } else { t.say("meter-hold") };
    act(ui, bay, label, Action::Capture(!capture));
    // A box of its own, so that the words beside it wrap.
    ui.horizontal_wrapped(|ui| ui.checkbox(&mut bay.draft.hasty, t.say("meter-hasty")));
    act(ui, bay, t.say("meter-where"), Action::Observe);
    leads_off(ui, bay);
    /// Columns for a setting's name and for what it may be off, in points.
    const SETTING: f32 = 138.0;
    const OFF: f32 = 84.0;
    ui.separator();
    ui.label(RichText::new(words::meter_about(t)).size(SMALL));
    for (title, about, off) in words::meter_settings(t) {
        let small = |text: &str| RichText::new(text).size(SMALL);
        columns(
            ui,
            &[(Some(SETTING), small(title).strong()), (None, small(about)), (Some(OFF), small(&off))],
        );
    }
    for note in words::instrument_notes(t) {
        ui.add_space(4.0);
        // The lines are those of a terminal.
        let flowing = note.split_whitespace().collect::<Vec<_>>().join(" ");
        ui.add(egui::Label::new(RichText::new(flowing).size(SMALL)).wrap());
    }
}

/// A row of a table: columns as wide as is said, and one that takes what is left. Words wrap within them.
fn columns(ui: &mut egui::Ui, row: &[(Option<f32>, RichText)]) {
    /// What the column that gives has at least, in points.
    const LEAST: f32 = 120.0;
    ui.horizontal_top(|ui| {
        let gaps = ui.spacing().item_spacing.x * (row.len() - 1) as f32;
        let fixed: f32 = row.iter().filter_map(|(width, _)| *width).sum();
        let rest = (ui.available_width() - fixed - gaps).max(LEAST);
        for (width, text) in row {
            ui.vertical(|ui| {
                ui.set_width(width.unwrap_or(rest));
                ui.add(egui::Label::new(text.clone()).wrap());
            });
        }
    });
}

fn clamp(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    let on = bay.job.as_ref().and_then(|job| job.scene().kit().clamp);
    match on {
        None => {
            if ui.button(t.say("tool-take")).clicked() {
                bay.hand = Hand::Clamp;
                bay.open = None;
            }
            ui.label(t.say("clamp-goes"));
            ui.label(t.say("clamp-station"));
        }
        Some(clamp) => {
            let place = words::clamp_place_title(t, bay.vehicle(), clamp.place);
            ui.label(say!(t, "clamp-round", what = place));
            if let Some(reading) = bay.job.as_ref().and_then(|job| job.scene().rest().clamp.clone()) {
                ui.label(RichText::new(reading.now.to_string()).size(TITLE).monospace());
            }
            act(ui, bay, t.say("tool-off"), Action::Clamp(None));
        }
    }
}

fn customer(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    if let Some(terms) = &bay.paper {
        ui.label(RichText::new(terms).size(SMALL));
        ui.separator();
    }
    let words = say!(t, "customer-says", words = &bay.scenario.customer);
    ui.label(RichText::new(words).size(BODY + 1.0).italics());
    for limit in words::limits(t, &bay.scenario) {
        ui.label(limit);
    }
    ui.add_space(6.0);
    let read = bay.job.as_ref().is_some_and(|job| job.scene().kit().cautions_read);
    if !read {
        ui.label(RichText::new(t.say("customer-before")).strong());
        use probeworthy::bench::Caution;
        for caution in [
            Caution::MakersProcedure,
            Caution::Restraint,
            Caution::Eyes,
            Caution::Lid,
            Caution::NobodyInside,
            Caution::NoPiercing,
            Caution::SpreadTerminals,
            Caution::FusedOnly,
        ] {
            ui.label(format!("•  {}", words::caution(t, caution)));
        }
        act(ui, bay, t.say("customer-read"), Action::Precaution(Precaution::ReadCautions));
        ui.separator();
    }
    ui.label(RichText::new(t.say("customer-ask")).strong());
    for question in Question::ALL {
        let said: Vec<String> = bay
            .job
            .iter()
            .flat_map(|job| job.log())
            .filter(|step| step.action == Action::Ask(question))
            .flat_map(|step| step.outcome.heard.iter().map(|heard| words::heard(t, bay.vehicle(), heard)))
            .collect();
        let title = words::question(t, question);
        match said.last() {
            // Asked again he would say the same: the button makes way for the answer.
            Some(answer) => {
                ui.label(RichText::new(title).size(SMALL));
                ui.add(egui::Label::new(RichText::new(answer).italics()).wrap());
            }
            None => act(ui, bay, title, Action::Ask(question)),
        }
    }
}

fn findings(ui: &mut egui::Ui, bay: &Bay) {
    let t = bay.texts;
    let Some(job) = &bay.job else { return };
    let vehicle = bay.vehicle();
    if job.log().is_empty() {
        ui.label(t.say("findings-none"));
    }
    const MINUTES: f32 = 56.0;
    const ACT: f32 = 190.0;
    for step in job.log().iter().rev() {
        let mut found = words::findings(t, vehicle, step);
        if let Action::Write(_, text) = &step.action {
            found.push(text.clone());
        }
        columns(
            ui,
            &[
                (Some(MINUTES), RichText::new(format!("{:.1}", step.minutes)).monospace()),
                (Some(ACT), RichText::new(words::action_title(t, vehicle, &step.action)).strong()),
                (None, RichText::new(found.join("; "))),
            ],
        );
        ui.separator();
    }
}

fn writing(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    ui.label(t.say("writing-about"));
    for (at, line) in WriteUpLine::ALL.into_iter().enumerate() {
        let title = ui.label(RichText::new(words::write_up_title(t, line)).strong());
        let field = egui::TextEdit::multiline(&mut bay.draft.write_up[at]).desired_rows(2);
        ui.add(field.desired_width(f32::INFINITY)).labelled_by(title.id);
    }
    if ui.button(t.say("writing-write")).clicked() {
        let written: Vec<(WriteUpLine, String)> = bay
            .job
            .iter()
            .flat_map(|job| job.write_up())
            .map(|(line, text)| (line, text.to_owned()))
            .collect();
        for (at, line) in WriteUpLine::ALL.into_iter().enumerate() {
            let text = bay.draft.write_up[at].split_whitespace().collect::<Vec<_>>().join(" ");
            let same = written.iter().any(|(which, old)| *which == line && *old == text);
            let never = text.is_empty() && !written.iter().any(|(which, _)| *which == line);
            if !same && !never {
                bay.act(Action::Write(line, text));
            }
        }
    }
    let count = bay.job.as_ref().map_or(0, |job| job.write_up().len());
    ui.label(say!(t, "writing-count", count = count));
}

fn handing_in(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    ui.label(if bay.paper.is_some() { t.say("hand-in-about-paper") } else { t.say("hand-in-about") });
    let named = bay.job.as_ref().and_then(|job| job.named());
    match named {
        Some((named, percent)) => {
            let fault = words::diagnosis(t, bay.vehicle(), named);
            ui.label(say!(t, "hand-in-named", fault = fault, percent = percent))
        }
        None => ui.label(t.say("hand-in-unnamed")),
    };
    let lines = bay.job.as_ref().map_or(0, |job| job.write_up().len());
    ui.label(say!(t, "hand-in-lines", count = lines));
    for left in bay.job.iter().flat_map(|job| words::not_put_back(t, job)) {
        ui.label(say!(t, "hand-in-left", what = left));
    }
    let told = bay.job.as_ref().and_then(|job| job.estimate());
    ui.label(match told {
        Some(units) => say!(t, "hand-in-agreed", units = units),
        None => t.say("hand-in-untold").to_owned(),
    });
    ui.add_space(6.0);
    act(ui, bay, t.say("hand-in-repaired"), Action::HandIn { refer: false });
    act(ui, bay, t.say("hand-in-refer"), Action::HandIn { refer: true });
}

fn help(ui: &mut egui::Ui, t: Texts, palette: &Palette) {
    ui.label(t.say("help-touch"));
    // Each sign with what it marks.
    let ink = colour(palette, "paper-ink");
    egui::Grid::new("signs").num_columns(6).min_col_width(24.0).spacing([6.0, 2.0]).show(ui, |ui| {
        for row in Sign::KINDS.chunks(3) {
            for sign in row {
                let (rect, _) = ui.allocate_exact_size(vec2(24.0, 22.0), Sense::hover());
                sign.draw(ui.painter(), rect.center(), 7.5, ink, Color32::TRANSPARENT);
                ui.label(sign.title(t));
            }
            ui.end_row();
        }
    });
    for line in [
        t.say("help-probe"),
        t.say("help-tools"),
        t.say("help-hand-tools"),
        t.say("help-recorder"),
        t.say("help-lid"),
        t.say("help-minutes"),
        "",
        t.say("help-tab"),
        t.say("help-esc"),
        t.say("help-nearer"),
        t.say("help-keys-1"),
        t.say("help-keys-2"),
        t.say("help-keys-3"),
        t.say("help-keys-4"),
        t.say("help-keys-5"),
    ] {
        ui.label(line);
    }
}

/// A job was left unfinished: go on, or begin anew.
pub(super) fn left_job(ctx: &egui::Context, bay: &mut Bay, palette: &Palette, path: &Path) {
    let t = bay.texts;
    egui::Window::new("left")
        .title_bar(false)
        .resizable(false)
        .movable(false)
        .anchor(Align2::CENTER_CENTER, [0.0, 0.0])
        .frame(theme::paper_frame(palette))
        .show(ctx, |ui| {
            theme::on_paper(ui, palette);
            ui.set_width(420.0);
            ui.label(RichText::new(t.say("left-title")).size(TITLE).strong());
            ui.label(say!(t, "left-kept", path = path.display().to_string()));
            ui.add_space(8.0);
            ui.horizontal(|ui| {
                let go_on = ui.button(t.say("left-go-on"));
                if ctx.memory(|memory| memory.focused().is_none()) {
                    go_on.request_focus();
                }
                if go_on.clicked() {
                    bay.choose(true);
                }
                if ui.button(t.say("left-another")).clicked() {
                    bay.choose(false);
                }
            });
        });
}
