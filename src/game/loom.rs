//! A station of the loom: its run as a ribbon that can be bent by hand, what is under the tape, and what is done there.

mod names;

use std::sync::Arc;

use bevy_egui::egui::{
    self, Align2, FontFamily, FontId, Id, Pos2, Rect, RichText, Sense, Stroke, WidgetInfo, WidgetType, pos2,
    vec2,
};
use probeworthy::bench::{Action, ClampPlace, LoomLook, Place as Treated, Repair, Seen, Splice, price};
use probeworthy::say;
use probeworthy::vehicle::{ConductorId, StationId, Vehicle};
use probeworthy::words::{self, Texts};

use super::bay::{Bay, Hand, Place};
use super::cards::{act, heat_and_cold, obstacle};
use super::hand_tools::HandTool;
use super::scenery::Palette;
use super::theme::{SMALL, colour};
use names::Names;

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
    ui.horizontal(|ui| {
        act(ui, bay, t.say("station-flex"), Action::Flex(id));
        act(ui, bay, t.say("station-tape"), Action::OpenTape(id));
    });
    let seen = bay.job.iter().flat_map(|job| job.log().iter().rev()).find_map(|step| {
        (step.action == Action::OpenTape(id) && step.outcome.refused.is_none())
            .then(|| (step.minutes, words::findings(t, vehicle, step).join("; ")))
    });
    if let Some((minutes, found)) = seen {
        let text = say!(t, "station-found", minutes = format!("{minutes:.1}"), found = found);
        ui.add(egui::Label::new(RichText::new(text).italics()).wrap());
    }
    heat_and_cold(ui, bay, Treated::Station(id));
    if !mends && !here.is_empty() {
        ui.separator();
        mend(ui, bay, vehicle, id, &here);
    }
}

/// Which conductor, and what is done to it, with what that takes.
fn mend(ui: &mut egui::Ui, bay: &mut Bay, vehicle: &Vehicle, id: StationId, here: &[ConductorId]) {
    let t = bay.texts;
    ui.label(t.say("station-conductors"));
    for conductor in here {
        ui.radio_value(
            &mut bay.draft.conductor,
            Some(*conductor),
            words::conductor_title(vehicle, *conductor),
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

/// The stations of the stretch of loom to which a station belongs: those through which one of its conductors runs.
fn stretch(vehicle: &Vehicle, here: &[ConductorId]) -> Vec<StationId> {
    (0..vehicle.stations.len())
        .map(StationId::at)
        .filter(|id| here.iter().any(|conductor| vehicle.conductor(*conductor).piece_at(*id).is_some()))
        .collect()
}

/// What is known of the conductors here: what was seen under the tape, and what has been mended since.
#[derive(Default)]
struct Known {
    /// The tape has been opened here.
    open: bool,
    looks: Vec<LoomLook>,
    mended: Vec<(ConductorId, Splice)>,
}

impl Known {
    fn of(bay: &Bay, id: StationId) -> Self {
        let mut known = Self::default();
        let steps = bay.job.iter().flat_map(|job| job.log()).filter(|step| step.outcome.refused.is_none());
        for step in steps {
            for seen in &step.outcome.seen {
                if let Seen::Loom(station, looks) = seen
                    && *station == id
                {
                    known.open = true;
                    known.looks.clone_from(looks);
                }
            }
            if let Action::Repair(Repair::Conductor(conductor, station, how)) = step.action
                && station == id
            {
                // It cannot be mended with the tape shut.
                known.open = true;
                known.looks.retain(|look| !concerns(*look, conductor));
                known.mended.retain(|(mended, _)| *mended != conductor);
                known.mended.push((conductor, how));
            }
        }
        known
    }
}

fn concerns(look: LoomLook, conductor: ConductorId) -> bool {
    match look {
        LoomLook::Parted(one)
        | LoomLook::Corroded(one)
        | LoomLook::Chafed(one)
        | LoomLook::Frayed(one)
        | LoomLook::EarlierSplice(one) => one == conductor,
        LoomLook::ChafedTogether(one, other) | LoomLook::Crusted(one, other) => {
            one == conductor || other == conductor
        }
    }
}

/// How far the ribbon gives, in points.
const GIVE: f32 = 26.0;
/// From one conductor to the next, in points.
const PITCH: f32 = 17.0;
/// Room at the left for the wires' colours, in points.
const GUTTER: f32 = 62.0;

/// The shape of a ribbon that is bent at one place.
#[derive(Clone, Copy)]
struct Bend {
    at: f32,
    reach: f32,
    by: f32,
}

impl Bend {
    /// How far aside it lies at a place along its run.
    fn aside(self, x: f32) -> f32 {
        let off = ((x - self.at) / self.reach).clamp(-1.0, 1.0);
        self.by * (0.5 + 0.5 * (off * std::f32::consts::PI).cos())
    }

    fn line(self, from: f32, to: f32, y: f32) -> Vec<Pos2> {
        const PIECES: u8 = 40;
        (0..=PIECES)
            .map(|k| {
                let x = from + (to - from) * f32::from(k) / f32::from(PIECES);
                pos2(x, y + self.aside(x))
            })
            .collect()
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
    let stretch = stretch(vehicle, here);
    let known = Known::of(bay, id);
    #[expect(clippy::cast_precision_loss, reason = "a handful of wires and stations")]
    let (wires, stops) = (here.len() as f32, stretch.len() as f32);
    let step = (ui.available_width() - GUTTER) / stops;
    let titles: Vec<&str> = stretch.iter().map(|station| &*vehicle.station(*station).title).collect();
    let names = Names::of(ui.painter(), &titles, step, GUTTER);
    let height = wires * PITCH + 2.0 * GIVE + 8.0 + names.height();
    let (area, _) = ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::hover());
    let band = Rect::from_min_max(
        area.min + vec2(0.0, GIVE + 4.0),
        pos2(area.right(), area.top() + GIVE + 4.0 + wires * PITCH),
    );
    let at = |place: usize| {
        #[expect(clippy::cast_precision_loss, reason = "a handful of stations")]
        let place = place as f32;
        area.left() + GUTTER + (place + 0.5) * step
    };
    let Some(own) = stretch.iter().position(|station| *station == id) else { return };

    let handle =
        ui.interact(band.expand2(vec2(0.0, GIVE)), Id::new(("ribbon", id.index())), Sense::click_and_drag());
    handle.widget_info(|| {
        let label = say!(t, "loom-bend", station = &vehicle.station(id).title);
        WidgetInfo::labeled(WidgetType::Button, true, label)
    });
    let bent = bent_by(ui, bay, id, &handle);
    let bend = Bend { at: at(own), reach: (step * 1.1).max(90.0), by: bent };
    let painter = ui.painter().with_clip_rect(area.intersect(ui.clip_rect()));

    for (row, conductor) in here.iter().enumerate() {
        #[expect(clippy::cast_precision_loss, reason = "a handful of wires")]
        let y = band.top() + (row as f32 + 0.5) * PITCH;
        let wire = vehicle.conductor(*conductor);
        let through: Vec<usize> =
            (0..stretch.len()).filter(|k| wire.piece_at(stretch[*k]).is_some()).collect();
        let (Some(first), Some(last)) = (through.first(), through.last()) else { continue };
        let (from, to) = (at(*first) - step * 0.5, at(*last) + step * 0.5);
        let mut letters = wire.colour.split('/');
        let base = colour(palette, &format!("wire-{}", letters.next().unwrap_or("BK")));
        let chosen = bay.draft.conductor == Some(*conductor);
        let rim = colour(palette, if chosen { "focus" } else { "wire-rim" });
        let parted = known.looks.contains(&LoomLook::Parted(*conductor));
        let gap = if parted { 7.0 } else { 0.0 };
        let pieces = if parted { vec![(from, at(own) - gap), (at(own) + gap, to)] } else { vec![(from, to)] };
        for (from, to) in pieces {
            // A dark sheath would be lost on a dark card, and a pale one on a pale card.
            painter.line(bend.line(from, to, y), Stroke::new(if chosen { 10.0 } else { 8.0 }, rim));
            painter.line(bend.line(from, to, y), Stroke::new(6.0, base));
            if let Some(stripe) = letters.clone().next() {
                let stripe = colour(palette, &format!("wire-{stripe}"));
                painter.line(bend.line(from, to, y), Stroke::new(1.8, stripe));
            }
        }
        painter.text(
            pos2(area.left() + GUTTER - 8.0, y),
            Align2::RIGHT_CENTER,
            &wire.colour,
            FontId::new(SMALL, FontFamily::Proportional),
            colour(palette, if chosen { "accent" } else { "card-text" }),
        );
        let place = pos2(at(own), y + bend.aside(at(own)));
        found(&painter, &known, *conductor, place, palette);
        tell(ui, t, vehicle, &known, (*conductor, id), place);
    }
    tape(&painter, &known, bend, band, (at(own), step), palette);
    let text = colour(palette, "card-text");
    let mut goes_to = None;
    for (place, station) in stretch.iter().enumerate() {
        let name = titles[place];
        let rect = names.rect(place, pos2(at(place), band.bottom() + GIVE - 4.0));
        let ink = if *station == id { colour(palette, "accent") } else { text };
        let galley = names::laid(&painter, name, rect.width(), ink);
        painter.line_segment(
            [pos2(at(place), band.bottom() + 2.0), pos2(at(place), rect.top() - 2.0)],
            Stroke::new(1.0, colour(palette, "card-faint")),
        );
        // At its line, but where it would reach out.
        let half = galley.size().x / 2.0;
        let middle = at(place).min(rect.right() - half).max(rect.left() + half);
        painter.galley(pos2(middle, rect.top()), galley, text);
        if *station != id {
            let there = ui.interact(rect, Id::new(("to station", station.index())), Sense::click());
            there.widget_info(|| {
                WidgetInfo::labeled(WidgetType::Link, true, say!(t, "loom-along", station = name))
            });
            if there.hovered() || there.has_focus() {
                let line = colour(palette, if there.has_focus() { "focus" } else { "accent" });
                let stroke = Stroke::new(1.5, line);
                painter.rect_stroke(rect, 4.0, stroke, egui::StrokeKind::Inside);
            }
            if there.clicked() {
                goes_to = Some(*station);
            }
        }
    }
    if handle.has_focus() {
        let line = Stroke::new(2.0, colour(palette, "focus"));
        painter.rect_stroke(band.expand2(vec2(0.0, 6.0)), 6.0, line, egui::StrokeKind::Inside);
    }
    let pointer = handle.interact_pointer_pos();
    if handle.clicked() && pointer.is_none() {
        // By key: there is no place on it that is touched.
        bay.act(Action::Flex(id));
    } else if let Some(pointer) = pointer.filter(|_| handle.clicked()) {
        let row = (pointer.y - bend.aside(pointer.x) - band.top()) / PITCH;
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held to the rows")]
        let row = row.clamp(0.0, wires - 1.0) as usize;
        bay.draft.conductor = Some(here[row]);
    }
    let hint = say!(t, "loom-wires", count = here.len());
    painter.text(
        area.left_top(),
        Align2::LEFT_TOP,
        hint,
        FontId::new(SMALL, FontFamily::Proportional),
        colour(palette, "card-faint"),
    );
    if let Some(station) = goes_to {
        bay.open = Some(Place::Station(station));
    }
}

/// How far the hand bends the loom now. Once in each pull it counts as flexing.
fn bent_by(ui: &egui::Ui, bay: &mut Bay, id: StationId, handle: &egui::Response) -> f32 {
    let key = Id::new(("bent", id.index()));
    let (mut pulled, mut done): (f32, bool) = ui.data(|data| data.get_temp(key)).unwrap_or_default();
    if handle.dragged() {
        pulled = (pulled + handle.drag_delta().y).clamp(-GIVE, GIVE);
        if !done && pulled.abs() > GIVE * 0.6 {
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

/// What was found on a conductor under the tape, drawn on it.
fn found(painter: &egui::Painter, known: &Known, conductor: ConductorId, at: Pos2, palette: &Palette) {
    let copper = colour(palette, "copper");
    let green = colour(palette, "verdigris");
    for look in known.looks.iter().filter(|look| concerns(**look, conductor)) {
        match look {
            LoomLook::Parted(_) => {
                for side in [-1.0, 1.0] {
                    for spread in [-2.5, 0.0, 2.5] {
                        let root = at + vec2(side * 7.0, spread * 0.6);
                        painter
                            .line_segment([root, root - vec2(side * 4.5, -spread)], Stroke::new(1.2, copper));
                    }
                }
            }
            LoomLook::Corroded(_) => {
                for k in -2_i8..=2 {
                    let off = vec2(f32::from(k) * 4.0, if k % 2 == 0 { -1.0 } else { 1.5 });
                    painter.circle_filled(at + off, 2.8, green);
                }
            }
            LoomLook::Chafed(_) => {
                painter.line_segment([at - vec2(9.0, 1.0), at + vec2(9.0, -1.0)], Stroke::new(3.4, copper));
            }
            LoomLook::Frayed(_) => {
                for spread in [-5.0, -3.0, 3.0, 5.0] {
                    painter.line_segment(
                        [at - vec2(6.0, 0.0), at + vec2(3.0, spread)],
                        Stroke::new(1.0, copper),
                    );
                }
                painter.line_segment([at - vec2(7.0, 0.0), at + vec2(7.0, 0.0)], Stroke::new(1.2, copper));
            }
            LoomLook::ChafedTogether(..) => {
                painter.line_segment([at - vec2(8.0, 0.0), at + vec2(8.0, 0.0)], Stroke::new(5.0, copper));
            }
            LoomLook::Crusted(..) => {
                painter.line_segment([at - vec2(7.0, 0.0), at + vec2(7.0, 0.0)], Stroke::new(7.0, green));
            }
            LoomLook::EarlierSplice(_) => sleeve(painter, at, Splice::Twisted, palette),
        }
    }
    if let Some((_, how)) = known.mended.iter().find(|(mended, _)| *mended == conductor) {
        sleeve(painter, at, *how, palette);
    }
}

/// Tells a screen reader what is drawn on a conductor.
fn tell(
    ui: &egui::Ui,
    t: Texts,
    vehicle: &Vehicle,
    known: &Known,
    (conductor, station): (ConductorId, StationId),
    at: Pos2,
) {
    let looks = known.looks.iter().filter(|look| first_of(**look) == conductor);
    let looks = looks.map(|look| words::loom_look(t, vehicle, *look));
    let mended = known.mended.iter().filter(|(mended, _)| *mended == conductor).map(|(_, how)| {
        let id = match how {
            Splice::Sound => "loom-spliced",
            Splice::Twisted => "loom-twisted",
        };
        say!(t, id, wire = words::conductor_title(vehicle, conductor))
    });
    for (at_once, told) in looks.chain(mended).enumerate() {
        let id = Id::new(("found on the loom", station.index(), conductor.index(), at_once));
        let found = ui.interact(Rect::from_center_size(at, vec2(34.0, PITCH)), id, Sense::hover());
        found.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, &told));
    }
}

/// The conductor with which something is told that concerns two.
fn first_of(look: LoomLook) -> ConductorId {
    match look {
        LoomLook::Parted(one)
        | LoomLook::Corroded(one)
        | LoomLook::Chafed(one)
        | LoomLook::Frayed(one)
        | LoomLook::EarlierSplice(one)
        | LoomLook::ChafedTogether(one, _)
        | LoomLook::Crusted(one, _) => one,
    }
}

/// A heat-shrunk sleeve, or a lump of tape.
fn sleeve(painter: &egui::Painter, at: Pos2, how: Splice, palette: &Palette) {
    let (size, round) = match how {
        Splice::Sound => (vec2(34.0, 9.0), 4.0),
        Splice::Twisted => (vec2(20.0, 12.0), 2.0),
    };
    let rect = Rect::from_center_size(at, size);
    let line = Stroke::new(1.0, colour(palette, "tape-sheen"));
    painter.rect(rect, round, colour(palette, "tape"), line, egui::StrokeKind::Inside);
    if how == Splice::Twisted {
        for x in [-5.0, 0.0, 5.0] {
            painter.line_segment([at + vec2(x - 2.0, 5.0), at + vec2(x + 2.0, -5.0)], line);
        }
    }
}

/// The tape round the wires, cut open at the station where somebody has looked.
fn tape(
    painter: &egui::Painter,
    known: &Known,
    bend: Bend,
    band: Rect,
    (own, step): (f32, f32),
    palette: &Palette,
) {
    let (fill, sheen) = (colour(palette, "tape"), colour(palette, "tape-sheen"));
    let half = (step * 0.34).min(46.0);
    let turns: [(f32, f32); 2] =
        if known.open { [(-half, -half + 10.0), (half - 10.0, half)] } else { [(-half, 0.0), (0.0, half)] };
    for (from, to) in turns {
        let upper = bend.line(own + from, own + to, band.top() - 3.0);
        let lower = bend.line(own + from, own + to, band.bottom() + 3.0);
        for (up, down) in upper.windows(2).zip(lower.windows(2)) {
            let patch = vec![up[0], up[1], down[1], down[0]];
            painter.add(egui::Shape::convex_polygon(patch, fill, Stroke::new(0.5, fill)));
        }
        painter.line(upper.clone(), Stroke::new(1.5, sheen));
        painter.line(lower.clone(), Stroke::new(1.5, sheen));
        for k in 0..upper.len() - 1 {
            // The edges of the tape's turns run aslant.
            if k % 8 == 0 {
                let down = lower[(k + 6).min(lower.len() - 1)];
                painter.line_segment([upper[k], down], Stroke::new(1.0, sheen));
            }
        }
    }
}
