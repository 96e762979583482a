//! A station of the loom: its run as a ribbon that can be bent by hand, what is under the tape, and what is done there.

mod look;
mod names;
mod run;

use std::ops::Range;
use std::sync::Arc;

use bevy_egui::egui::{
    self, Align2, FontFamily, FontId, Id, Pos2, Rect, RichText, Sense, Stroke, WidgetInfo, WidgetType, pos2,
    vec2,
};
use probeworthy::bench::{Action, ClampPlace, LoomLook, Place as Treated, Repair, Splice, price};
use probeworthy::say;
use probeworthy::vehicle::{ConductorId, ConnectorId, StationId, Vehicle};
use probeworthy::words::{self, Texts};

use super::bay::{Bay, Hand, Place};
use super::cards::{act, clamped_in_loom, heat_and_cold, mark, obstacle, plate_of};
use super::hand_tools::HandTool;
use super::scenery::Palette;
use super::theme::{LOW, SMALL, colour};
use look::{Bend, INWARD, Known, Mended, first_of, found, half, joined, pieces, tape};
use names::Names;
use run::{Leg, Run, Stop};

/// The card of a station.
pub(super) fn card(ui: &mut egui::Ui, bay: &mut Bay, id: StationId, palette: &Palette) {
    let t = bay.texts;
    let scenario = Arc::clone(bay.shown());
    let vehicle = &scenario.vehicle;
    if obstacle(ui, bay, vehicle.station(id).reach) {
        return;
    }
    let here: Vec<ConductorId> = conductors_at(vehicle, id);
    if !here.is_empty() {
        ribbon(ui, bay, vehicle, id, &here, palette);
    }
    // With the repair kit in hand what it is for comes first.
    let mends = bay.hand == Hand::Tool(HandTool::Repair) && !here.is_empty();
    if mends {
        mend(ui, bay, vehicle, id, &here);
        ui.separator();
    }
    let known = Known::at(ui.ctx(), bay, id);
    ui.horizontal(|ui| {
        act(ui, bay, t.say("station-flex"), Action::Flex(id));
        let label = if known.open { "station-again" } else { "station-tape" };
        act(ui, bay, t.say(label), Action::OpenTape(id));
    });
    for text in told(bay, vehicle, id, &known) {
        ui.add(egui::Label::new(RichText::new(text).italics()).wrap());
    }
    heat_and_cold(ui, bay, Treated::Station(id));
    if !mends && !here.is_empty() {
        ui.separator();
        mend(ui, bay, vehicle, id, &here);
    }
}

/// What was found at a station when it was last looked at, and what has been mended there, the latest first.
fn told(bay: &Bay, vehicle: &Vehicle, id: StationId, known: &Known) -> Vec<String> {
    let t = bay.texts;
    let seen = bay.job.iter().flat_map(|job| job.log().iter().rev()).find_map(|step| {
        (step.action == Action::OpenTape(id) && step.outcome.refused.is_none())
            .then(|| (step.minutes, words::findings(t, vehicle, step).join("; ")))
    });
    let found = seen.map(|(minutes, found)| {
        (minutes, say!(t, "station-found", minutes = format!("{minutes:.1}"), found = found))
    });
    let mended = known.mended.iter().map(|mended| {
        let minutes = format!("{:.1}", mended.minutes);
        let what = mended_title(t, vehicle, *mended);
        (mended.minutes, say!(t, "station-mended", minutes = minutes, mended = what))
    });
    let mut told: Vec<(f64, String)> = found.into_iter().chain(mended).collect();
    told.sort_by(|(one, _), (other, _)| other.total_cmp(one));
    told.into_iter().map(|(_, text)| text).collect()
}

/// How a conductor has been mended, in words.
fn mended_title(t: Texts, vehicle: &Vehicle, mended: Mended) -> String {
    let id = match mended.how {
        Splice::Sound => "loom-spliced",
        Splice::Twisted => "loom-twisted",
    };
    say!(t, id, wire = words::conductor_title(t, vehicle, mended.conductor))
}

/// Which conductor, and what is done to it, with what that takes.
fn mend(ui: &mut egui::Ui, bay: &mut Bay, vehicle: &Vehicle, id: StationId, here: &[ConductorId]) {
    let t = bay.texts;
    ui.label(t.say("station-conductors"));
    for conductor in here {
        ui.radio_value(
            &mut bay.draft.conductor,
            Some(*conductor),
            words::conductor_title(t, vehicle, *conductor),
        );
    }
    // None is chosen beforehand: a splice in a sound wire takes as long as one in the faulty.
    let Some(chosen) = bay.draft.conductor.filter(|conductor| here.contains(conductor)) else {
        ui.label(RichText::new(t.say("station-choose")).size(SMALL));
        return;
    };
    ui.horizontal_wrapped(|ui| {
        for (label, how) in [("station-splice", Splice::Sound), ("station-twist", Splice::Twisted)] {
            let mending = Action::Repair(Repair::Conductor(chosen, id, how));
            let label = say!(t, label, price = price(vehicle, &mending));
            act(ui, bay, &label, mending);
        }
        if ui.button(t.say("station-clamp")).clicked() {
            bay.close_clamp(Some(ClampPlace::Station(chosen, id)));
        }
    });
}

/// The conductors that run through a station, in the order of the vehicle's file.
fn conductors_at(vehicle: &Vehicle, id: StationId) -> Vec<ConductorId> {
    (0..vehicle.conductors.len())
        .map(ConductorId::at)
        .filter(|conductor| vehicle.conductor(*conductor).piece_at(id).is_some())
        .collect()
}

/// Room at the left for the wires' colours, in points.
const GUTTER: f32 = 62.0;
/// Between the end of a ribbon and the bar that scrolls its card, in points.
const EDGE: f32 = 10.0;

/// How the ribbon is laid: with all that the run passes, or where the window is low the part of it about the station, closer
/// together, so that its names are in sight, too.
#[derive(Clone, Copy)]
struct Lie {
    /// How far it gives, in points.
    give: f32,
    /// From one conductor to the next, in points.
    pitch: f32,
    /// What a line above it takes, in points.
    head: f32,
    /// So much of what the run passes is shown at most.
    stops: usize,
}

impl Lie {
    fn of(ui: &egui::Ui) -> Self {
        if ui.ctx().viewport_rect().height() < LOW {
            Self { give: 7.0, pitch: 13.0, head: 0.0, stops: 5 }
        } else {
            Self { give: 26.0, pitch: 17.0, head: 4.0, stops: usize::MAX }
        }
    }

    /// The places that are shown of so many, with the own one as near to the middle as it can be.
    fn seen(self, own: usize, count: usize) -> Range<usize> {
        let first = own.saturating_sub(self.stops / 2).min(count.saturating_sub(self.stops));
        first..count.min(first.saturating_add(self.stops))
    }
}

/// Draws the run from station to station. Bent by dragging, the loom is flexed; a touch on a conductor chooses it, and
/// one on another station goes there.
fn ribbon(
    ui: &mut egui::Ui,
    bay: &mut Bay,
    vehicle: &Vehicle,
    id: StationId,
    here: &[ConductorId],
    palette: &Palette,
) {
    let t = bay.texts;
    let run = Run::of(vehicle, here);
    let Some(own) = run.stops.iter().position(|stop| *stop == Stop::Station(id)) else { return };
    let lie = Lie::of(ui);
    let Lie { give, pitch, head, .. } = lie;
    let seen = lie.seen(own, run.stops.len());
    #[expect(clippy::cast_precision_loss, reason = "a handful of wires and stops")]
    let (wires, stops) = (here.len() as f32, seen.len() as f32);
    let width = ui.available_width() - EDGE;
    let step = (width - GUTTER) / stops;
    let known: Vec<Arc<Known>> = run.stops[seen.clone()]
        .iter()
        .map(|stop| match stop {
            Stop::Station(station) => Known::at(ui.ctx(), bay, *station),
            Stop::Connector(_) => Arc::default(),
        })
        .collect();
    let open: Vec<bool> = known.iter().map(|known| known.open).collect();
    let titles: Vec<&str> = run.stops[seen.clone()].iter().map(|stop| stop.title(t, vehicle)).collect();
    // Above its name stands where one is, and what is open.
    let named: Vec<String> = titles
        .iter()
        .zip(&open)
        .zip(seen.clone())
        .map(|((title, open), place)| match (place == own, *open) {
            (true, true) => format!("{}\n{title}", t.say("loom-here-open")),
            (true, false) => format!("{}\n{title}", t.say("loom-here")),
            (false, true) => format!("{}\n{title}", t.say("loom-open")),
            (false, false) => (*title).to_owned(),
        })
        .collect();
    let names = Names::of(ui.painter(), &named, step, GUTTER);
    let height = wires * pitch + 2.0 * (give + head) + names.height();
    let (area, _) = ui.allocate_exact_size(vec2(width, height), Sense::hover());
    let band = Rect::from_min_max(
        area.min + vec2(0.0, give + head),
        pos2(area.right(), area.top() + give + head + wires * pitch),
    );
    let at = |place: usize| {
        #[expect(clippy::cast_precision_loss, reason = "a handful of stops")]
        let place = place as f32 - seen.start as f32;
        area.left() + GUTTER + (place + 0.5) * step
    };

    let handle =
        ui.interact(band.expand2(vec2(0.0, give)), Id::new(("ribbon", id.index())), Sense::click_and_drag());
    handle.widget_info(|| {
        let label = say!(t, "loom-bend", station = t.title(&vehicle.station(id).title));
        WidgetInfo::labeled(WidgetType::Button, true, label)
    });
    let bent = bent_by(ui, bay, (id, give), &handle);
    let bend = Bend { at: at(own), reach: (step * 1.1).max(90.0), by: bent };
    let painter = ui.painter().with_clip_rect(area.intersect(ui.clip_rect()));
    // What lies before the first place that is shown does not run into the wires' colours.
    let mut of_wires = painter.clone();
    of_wires.shrink_clip_rect(Rect::everything_right_of(area.left() + GUTTER - 4.0));

    let clamp = clamped_in_loom(bay);
    // Where the plate of the clamp lies, if it is in sight.
    let mut clamped = None;
    for (row, (conductor, legs)) in here.iter().zip(&run.rows).enumerate() {
        #[expect(clippy::cast_precision_loss, reason = "a handful of wires")]
        let y = band.top() + (row as f32 + 0.5) * pitch;
        let chosen = bay.draft.conductor == Some(*conductor);
        for leg in legs {
            let plugged = |place: usize| matches!(run.stops[place], Stop::Connector(_));
            // What goes on to a part goes on beyond its last station.
            let from = at(leg.first) - if plugged(leg.first) { 0.0 } else { step * 0.5 };
            let to = at(leg.last) + if plugged(leg.last) { 0.0 } else { step * 0.5 };
            let on = |x: f32| pos2(x, y + bend.aside(x));
            let is_parted =
                |(_, known): &(usize, &Arc<Known>)| known.looks.contains(&LoomLook::Parted(leg.conductor));
            let parted = seen.clone().zip(&known).filter(is_parted).map(|(place, _)| at(place));
            let letters = &vehicle.conductor(leg.conductor).colour;
            for (from, to) in pieces(from, to, parted) {
                sheath(&of_wires, &bend.line(from, to, y), letters, chosen, palette);
            }
            for (x, spliced) in [from + INWARD, to - INWARD].into_iter().zip(leg.spliced) {
                if spliced {
                    joined(&of_wires, on(x), palette);
                }
            }
            for (place, known) in seen.clone().zip(&known) {
                let Stop::Station(station) = run.stops[place] else { continue };
                let middle = on(at(place));
                found(&painter, known, leg.conductor, middle, palette);
                let about = Rect::from_center_size(middle, vec2(34.0, pitch));
                tell(ui, t, vehicle, known, (leg.conductor, station), about);
                if let Some((conductor, at_station, on_it)) = clamp
                    && (conductor, at_station) == (leg.conductor, station)
                {
                    // What was found there is not hidden by it.
                    let aside = if known.shows(conductor) { 20.0 } else { 0.0 };
                    clamped = Some((middle + vec2(aside, 0.0), aside > 0.0, on_it));
                }
            }
        }
        painter.text(
            pos2(area.left() + GUTTER - 8.0, y),
            Align2::RIGHT_CENTER,
            &vehicle.conductor(*conductor).colour,
            FontId::new(SMALL, FontFamily::Proportional),
            colour(palette, if chosen { "accent" } else { "card-text" }),
        );
    }
    let mated = |id: ConnectorId| bay.job.as_ref().is_none_or(|job| job.scene().mated()[id.index()]);
    let mut joints = Vec::new();
    for (place, open) in seen.clone().zip(&open) {
        let rows = rows_at(&run, place, band, pitch);
        match &run.stops[place] {
            Stop::Station(_) => {
                let half = half(step, *open && place == own);
                tape(&painter, *open, bend, rows, (at(place), half), palette);
                if place == own {
                    let about = Rect::from_x_y_ranges(at(place) - half..=at(place) + half, rows.y_range());
                    let about = about.translate(vec2(0.0, bend.aside(at(place))));
                    let about = about.expand2(vec2(4.0, 8.0_f32.min(give - 1.0)));
                    let line = Stroke::new(2.0, colour(palette, "accent"));
                    painter.rect_stroke(about, 5.0, line, egui::StrokeKind::Inside);
                }
            }
            Stop::Connector(connector) => {
                let rows = rows.translate(vec2(0.0, bend.aside(at(place))));
                let rect = halves(&painter, at(place), rows, step, mated(*connector), palette);
                joints.push((rect, *connector));
            }
        }
    }
    if let Some((place, aside, on_it)) = clamped {
        let (_, size) = plate_of(&painter, palette, on_it);
        let anchor = if aside { Align2::LEFT_CENTER } else { Align2::CENTER_CENTER };
        let plate = anchor.anchor_size(place, size);
        mark(&painter, palette, plate.min, on_it);
        let label = ui.interact(plate, Id::new(("clamp on the loom", id.index())), Sense::hover());
        label.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, on_it.here));
    }
    let text = colour(palette, "card-text");
    let mut goes_to = None;
    for (shown, place) in seen.clone().enumerate() {
        let stop = run.stops[place];
        let rect = names.rect(shown, pos2(at(place), band.bottom() + give - head));
        let is_own = place == own;
        let ink = if is_own { colour(palette, "accent") } else { text };
        let galley = names::laid(&painter, &named[shown], rect.width(), ink);
        // Below what the own one's frame takes, too.
        let below = if is_own { 8.0_f32.min(give - 1.0) } else { 4.0 };
        let ends = rect.top() - 2.0;
        let begins = rows_at(&run, place, band, pitch).bottom() + bend.aside(at(place)) + below;
        painter.line_segment(
            [pos2(at(place), begins.min(ends)), pos2(at(place), ends)],
            Stroke::new(1.0, colour(palette, "card-faint")),
        );
        // At its line, but where it would reach out.
        let half = galley.size().x / 2.0;
        let middle = at(place).min(rect.right() - half).max(rect.left() + half);
        painter.galley(pos2(middle, rect.top()), galley, text);
        if !is_own {
            let there = ui.interact(rect, Id::new(("to stop", stop)), Sense::click());
            there.widget_info(|| {
                let along = if open[shown] { "loom-along-open" } else { "loom-along" };
                WidgetInfo::labeled(WidgetType::Link, true, say!(t, along, station = titles[shown]))
            });
            if there.hovered() || there.has_focus() {
                let line = colour(palette, if there.has_focus() { "focus" } else { "accent" });
                let stroke = Stroke::new(1.5, line);
                painter.rect_stroke(rect, 4.0, stroke, egui::StrokeKind::Inside);
            }
            if there.clicked() {
                goes_to = Some(place_of(stop));
            }
        }
    }
    // The connector itself is touched, too, on the ribbon that lies there.
    let on_joint = |at: Pos2| joints.iter().find(|(rect, _)| rect.contains(at));
    if let Some((rect, _)) = handle.hover_pos().and_then(on_joint) {
        let stroke = Stroke::new(2.0, colour(palette, "accent"));
        painter.rect_stroke(rect.expand(2.0), 4.0, stroke, egui::StrokeKind::Inside);
    }
    if handle.has_focus() {
        let line = Stroke::new(2.0, colour(palette, "focus"));
        painter.rect_stroke(band.expand2(vec2(0.0, 6.0)), 6.0, line, egui::StrokeKind::Inside);
    }
    let pointer = handle.interact_pointer_pos();
    if handle.clicked() && pointer.is_none() {
        // By key: there is no place on it that is touched.
        bay.act(Action::Flex(id));
    } else if let Some((_, joint)) = pointer.filter(|_| handle.clicked()).and_then(on_joint) {
        goes_to = Some(Place::Connector(*joint));
    } else if let Some(pointer) = pointer.filter(|_| handle.clicked()) {
        let row = (pointer.y - bend.aside(pointer.x) - band.top()) / pitch;
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held to the rows")]
        let row = row.clamp(0.0, wires - 1.0) as usize;
        bay.draft.conductor = Some(here[row]);
    }
    if head > 0.0 {
        let hint = say!(t, "loom-wires", count = here.len());
        painter.text(
            area.left_top(),
            Align2::LEFT_TOP,
            hint,
            FontId::new(SMALL, FontFamily::Proportional),
            colour(palette, "card-faint"),
        );
    }
    if goes_to.is_some() {
        bay.open = goes_to;
    }
}

/// What opens at a stop.
fn place_of(stop: Stop) -> Place {
    match stop {
        Stop::Station(id) => Place::Station(id),
        Stop::Connector(id) => Place::Connector(id),
    }
}

/// What the wires that pass a stop take of the ribbon.
fn rows_at(run: &Run, place: usize, band: Rect, pitch: f32) -> Rect {
    let passes = |legs: &&Vec<Leg>| legs.iter().any(|leg| (leg.first..=leg.last).contains(&place));
    let first = run.rows.iter().position(|legs| passes(&legs)).unwrap_or_default();
    let last = run.rows.iter().rposition(|legs| passes(&legs)).unwrap_or_default();
    #[expect(clippy::cast_precision_loss, reason = "a handful of wires")]
    let (top, bottom) = (first as f32 * pitch, (last + 1) as f32 * pitch);
    Rect::from_x_y_ranges(band.x_range(), band.top() + top..=band.top() + bottom)
}

/// A piece of a wire with its sheath's colours.
fn sheath(painter: &egui::Painter, line: &[Pos2], letters: &str, chosen: bool, palette: &Palette) {
    let mut letters = letters.split('/');
    let base = colour(palette, &format!("wire-{}", letters.next().unwrap_or("BK")));
    // A dark sheath would be lost on a dark card, and a pale one on a pale card.
    let rim = colour(palette, if chosen { "focus" } else { "wire-rim" });
    painter.line(line.to_vec(), Stroke::new(if chosen { 10.0 } else { 8.0 }, rim));
    painter.line(line.to_vec(), Stroke::new(6.0, base));
    if let Some(stripe) = letters.next() {
        let stripe = colour(palette, &format!("wire-{stripe}"));
        painter.line(line.to_vec(), Stroke::new(1.8, stripe));
    }
}

/// The two halves of a connector about the wires, drawn apart while it is unplugged; where they lie.
fn halves(painter: &egui::Painter, x: f32, rows: Rect, step: f32, mated: bool, palette: &Palette) -> Rect {
    let half = (step * 0.32).min(20.0);
    let apart = if mated { 0.0 } else { (step * 0.12).min(7.0) };
    let edge = Stroke::new(1.5, colour(palette, "face-rim"));
    let (top, bottom) = (rows.top() - 4.0, rows.bottom() + 4.0);
    if !mated {
        let between = Rect::from_x_y_ranges(x - apart..=x + apart, top..=bottom);
        painter.rect_filled(between, 0.0, colour(palette, "card"));
    }
    for (from, to, fill) in
        [(x - half - apart, x - apart, "housing"), (x + apart, x + half + apart, "face-top")]
    {
        let rect = Rect::from_x_y_ranges(from..=to, top..=bottom);
        painter.rect(rect, 3.0, colour(palette, fill), edge, egui::StrokeKind::Inside);
    }
    Rect::from_x_y_ranges(x - half - apart..=x + half + apart, top..=bottom)
}

/// How far the hand bends the loom now, which gives so much. Once in each pull it counts as flexing.
fn bent_by(ui: &egui::Ui, bay: &mut Bay, (id, give): (StationId, f32), handle: &egui::Response) -> f32 {
    let key = Id::new(("bent", id.index()));
    let (mut pulled, mut done): (f32, bool) = ui.data(|data| data.get_temp(key)).unwrap_or_default();
    if handle.dragged() {
        pulled = (pulled + handle.drag_delta().y).clamp(-give, give);
        if !done && pulled.abs() > give * 0.6 {
            done = true;
            bay.act(Action::Flex(id));
        }
    } else {
        (pulled, done) = (0.0, false);
    }
    ui.data_mut(|data| data.insert_temp(key, (pulled, done)));
    // It follows the hand at once and springs back by itself.
    let time = if handle.dragged() { 0.0 } else { 0.25 };
    ui.ctx().animate_value_with_time(key.with("shown"), pulled, time)
}

/// Tells a screen reader what is drawn on a conductor.
fn tell(
    ui: &egui::Ui,
    t: Texts,
    vehicle: &Vehicle,
    known: &Known,
    (conductor, station): (ConductorId, StationId),
    at: Rect,
) {
    let looks = known.looks.iter().filter(|look| first_of(**look) == conductor);
    let looks = looks.map(|look| words::loom_look(t, vehicle, *look));
    let mended = known.mended.iter().filter(|mended| mended.conductor == conductor);
    let mended = mended.map(|mended| mended_title(t, vehicle, *mended));
    for (at_once, told) in looks.chain(mended).enumerate() {
        let id = Id::new(("found on the loom", station.index(), conductor.index(), at_once));
        let found = ui.interact(at, id, Sense::hover());
        found.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, &told));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_low_window_shows_the_part_of_the_run_about_the_station() {
        let low = Lie { give: 7.0, pitch: 13.0, head: 0.0, stops: 5 };
        for (own, count, seen) in
            [(0, 10, 0..5), (1, 10, 0..5), (4, 10, 2..7), (9, 10, 5..10), (2, 3, 0..3), (0, 1, 0..1)]
        {
            assert_eq!(low.seen(own, count), seen, "{own} of {count}");
            let all = Lie { stops: usize::MAX, ..low };
            assert_eq!(all.seen(own, count), 0..count);
        }
    }
}
