//! Places of the drawn scene that can be touched, and what a touch does.

use std::collections::BTreeMap;

use bevy_egui::egui::{self, Id, Pos2, Rect, RichText, Sense, Stroke, WidgetInfo, WidgetType, vec2};
use probeworthy::bench::{Action, LampSize, Lead, MeterSetting, Tool};
use probeworthy::say;
use probeworthy::vehicle::{
    ConnectorId, KeyButton, Obstacle, PanelId, PartKind, Point, StationId, StudId, Vehicle, Zone,
};
use probeworthy::words;

use super::bay::{Bay, Hand, Place};
use super::hand_tools::{self, HandTool};
use super::in_hand;
use super::overlay::Place2d;
use super::plates::{self, tag, tag_size};
use super::scenery::{Anchors, Gaze, Palette, Placed, laid_anchor};
use super::signs::{Sign, USUAL, beside, push_apart};
use super::sync::{connector_anchor, tool_anchor};
use super::theme::colour;

/// What a sign takes in the drawing, in points.
pub(super) const SIGN: egui::Vec2 = egui::Vec2::new(24.0, 22.0);

/// Between the lines of two signs, with the width of the lines themselves, in points.
const BETWEEN: f32 = 8.0;

/// Height and width of what is touched, in points, at least (WCAG 2.2, 2.5.8: published).
const LEAST: f32 = 24.0;

/// What a touch does.
#[derive(Clone)]
enum Touch {
    Open(Place),
    Act(Action),
    Take(Lead),
    /// A point for what is in hand; with an empty hand the place opens.
    Point(Point, Place),
    /// A tool of the trolley is taken in hand, or laid down.
    Hold(HandTool),
}

impl Touch {
    /// What opens there.
    fn place(&self) -> Option<Place> {
        match self {
            Self::Open(place) | Self::Point(_, place) => Some(*place),
            Self::Act(_) | Self::Take(_) | Self::Hold(_) => None,
        }
    }

    /// Whether what is in hand can be put to something there.
    fn takes(&self, bay: &Bay, anchors: &Anchors) -> bool {
        let vehicle = bay.vehicle();
        match self {
            _ if !bay.hand.goes_to_a_point() => false,
            // It goes round a wire, and in the cabin round those of its connectors only.
            Self::Open(Place::Station(_)) => bay.hand == Hand::Clamp,
            Self::Open(Place::Cabin) if bay.hand == Hand::Clamp => (0..vehicle.connectors.len())
                .any(|at| connector_anchor(vehicle, anchors, ConnectorId::at(at)) == "cabin"),
            Self::Point(..) | Self::Open(Place::Key) => bay.hand != Hand::Clamp,
            Self::Open(Place::Connector(_) | Place::Cabin | Place::Front) => true,
            Self::Open(_) | Self::Act(_) | Self::Take(_) | Self::Hold(_) => false,
        }
    }

    fn sign(&self, vehicle: &Vehicle) -> Sign {
        match self {
            Self::Open(place) | Self::Point(_, place) => Sign::of_place(vehicle, *place),
            Self::Act(act) => Sign::of_act(act),
            Self::Take(_) | Self::Hold(_) => Sign::Thing,
        }
    }
}

struct Spot {
    anchor: String,
    label: String,
    touch: Touch,
    /// Its whole mark is sensitive; otherwise a small ring around its middle.
    whole: bool,
}

/// All places that can be touched now, in an order that a hand would take: car, then tools.
fn all_spots(bay: &Bay, anchors: &Anchors) -> Vec<Spot> {
    let t = bay.texts;
    let vehicle = bay.vehicle();
    let mut spots = Vec::new();
    let mut add = |anchor: &str, label: String, touch: Touch, whole: bool| {
        spots.push(Spot { anchor: anchor.to_owned(), label, touch, whole });
    };
    // Outside while it is down, on the inside once it is up: one of the two is in view.
    add("lid-handle", say!(t, "spot-lid", lid = t.title(&vehicle.lid.title)), Touch::Open(Place::Lid), false);
    add(
        "lid-strut-right",
        say!(t, "spot-lid", lid = t.title(&vehicle.lid.title)),
        Touch::Open(Place::Lid),
        false,
    );
    for (id, part) in vehicle.parts() {
        if let PartKind::Switch { springs_back: true, .. } = part.kind
            && matches!(part.reach.zone, Zone::Outside | Zone::Lid)
        {
            add(
                &part.id,
                say!(t, "spot-press", part = t.title(&part.title)),
                Touch::Act(Action::Press(id)),
                false,
            );
        }
    }
    add("lever", t.say("spot-lever").to_owned(), Touch::Act(Action::Lever), false);
    for (at, panel) in vehicle.panels.iter().enumerate() {
        let (id, title) = (PanelId::at(at), t.title(&panel.title));
        add(&panel.id, title.to_owned(), Touch::Open(Place::Panel(id)), false);
        // Off, and laid aside, it is put back where it lies.
        if bay.is_off(id) && anchors.design(&laid_anchor(&panel.id)).is_some() {
            let back = say!(t, "panel-back", minutes = panel.on_minutes);
            let label = say!(t, "tool-would", place = title, act = back);
            add(&laid_anchor(&panel.id), label, Touch::Act(Action::Panel(id, false)), true);
        }
    }
    for (at, stud) in vehicle.studs.iter().enumerate() {
        let id = StudId::at(at);
        add(&stud.id, t.title(&stud.title).to_owned(), Touch::Point(Point::Stud(id), Place::Stud(id)), false);
    }
    add("body-metal", t.say("point-body").to_owned(), Touch::Point(Point::Body, Place::Body), false);
    for (at, connector) in vehicle.connectors.iter().enumerate() {
        let id = ConnectorId::at(at);
        let anchor = connector_anchor(vehicle, anchors, id);
        if anchor != "cabin" {
            add(&anchor, t.title(&connector.title).to_owned(), Touch::Open(Place::Connector(id)), false);
        }
    }
    for (at, station) in vehicle.stations.iter().enumerate() {
        add(
            &station.id,
            say!(t, "spot-loom", station = t.title(&station.title)),
            Touch::Open(Place::Station(StationId::at(at))),
            false,
        );
    }
    for fuse in vehicle.fuses.iter().filter(|fuse| !matches!(fuse.reach.zone, Zone::Cabin | Zone::Front)) {
        add(&fuse.id, t.title(&fuse.title).to_owned(), Touch::Open(Place::Cabin), false);
    }
    add("cabin", t.say("spot-cabin").to_owned(), Touch::Open(Place::Cabin), true);
    add("front", t.say("spot-front").to_owned(), Touch::Open(Place::Front), true);
    // Its buttons lie on it, and are touched where they are.
    add("key", t.say("spot-key").to_owned(), Touch::Open(Place::Key), true);
    for (anchor, button, label) in [
        ("key-lock", KeyButton::Lock, t.say("spot-key-lock")),
        ("key-unlock", KeyButton::Unlock, t.say("spot-key-unlock")),
        ("key-lid", KeyButton::Release, &say!(t, "spot-key-release", lid = words::lid_word(t, vehicle))),
    ] {
        add(anchor, label.to_owned(), Touch::Act(Action::Key(button)), true);
    }
    for (anchor, setting, label) in [
        ("meter-off", MeterSetting::Off, t.say("spot-meter-off")),
        ("meter-volts", MeterSetting::Volts, t.say("spot-meter-volts")),
        ("meter-low-z", MeterSetting::LowZ, t.say("spot-meter-low-z")),
        ("meter-ohms", MeterSetting::Ohms, t.say("spot-meter-ohms")),
        ("meter-tone", MeterSetting::Tone, t.say("spot-meter-tone")),
        ("meter-diode", MeterSetting::Diode, t.say("spot-meter-diode")),
        ("meter-amps", MeterSetting::Amps, t.say("spot-meter-amps")),
    ] {
        add(anchor, label.to_owned(), Touch::Act(Action::Meter(setting)), true);
    }
    let capture = bay.job.as_ref().is_some_and(|job| job.scene().kit().meter.capture);
    add("meter-capture", t.say("spot-meter-capture").to_owned(), Touch::Act(Action::Capture(!capture)), true);
    for (anchor, lead, take, back) in [
        ("meter-red", Lead::Red, "spot-red-take", "spot-red-back"),
        ("meter-black", Lead::Black, "spot-black-take", "spot-black-back"),
    ] {
        let label = t.say(if bay.hand == Hand::Probe(lead) { back } else { take });
        add(anchor, label.to_owned(), Touch::Take(lead), false);
    }
    // Where something in hand belongs, it is laid down.
    let back = |place: Place, title: &str| {
        if bay.hand.belongs() == Some(place) {
            say!(t, "spot-lay-down", tool = title)
        } else {
            title.to_owned()
        }
    };
    for tool in [
        Tool::TestLamp(LampSize::Five),
        Tool::TestLamp(LampSize::TwentyOne),
        Tool::Bridge,
        Tool::BenchBattery,
    ] {
        let place = Place::Tool(tool);
        add(tool_anchor(tool), back(place, words::tool_title(t, tool)), Touch::Open(place), true);
    }
    add("meter-display", t.say("spot-meter").to_owned(), Touch::Open(Place::Meter), true);
    add("clamp", back(Place::Clamp, t.say("spot-clamp")), Touch::Open(Place::Clamp), true);
    add("recorder", back(Place::Recorder, t.say("spot-recorder")), Touch::Open(Place::Recorder), true);
    add("fuse-tray", t.say("spot-fuse-tray").to_owned(), Touch::Open(Place::FuseTray), true);
    for tool in HandTool::ALL {
        add(tool.anchor(), tool.label(t, bay.hand).to_owned(), Touch::Hold(tool), true);
    }
    spots
}

/// What is shown of them, where it is in the drawing, and whether it is where something in hand belongs.
fn shown(bay: &Bay, anchors: &Anchors) -> Vec<(Spot, Placed, bool)> {
    let all = all_spots(bay, anchors).into_iter();
    all.filter_map(|spot| {
        // Where a tool in hand hangs otherwise, it is laid down again.
        let held = matches!(spot.touch, Touch::Hold(tool) if bay.hand == Hand::Tool(tool))
            || (bay.hand.belongs().is_some() && bay.hand.belongs() == spot.touch.place());
        let at = anchors.design(&spot.anchor).filter(|at| at.visible || held)?;
        (!is_covered(bay, &spot.touch)).then_some((spot, at, held))
    })
    .collect()
}

/// Shows the places that can be touched, takes touches, and tells where the signs are.
pub(super) fn spots(
    ui: &mut egui::Ui,
    bay: &mut Bay,
    gaze: &mut Gaze,
    place: &Place2d<'_>,
    anchors: &Anchors,
    palette: &Palette,
) -> Vec<Rect> {
    let accent = colour(palette, "accent");
    let focus = colour(palette, "focus");
    let mut touched = None;
    let mut named: Option<(Rect, String)> = None;
    let mut signs = Vec::new();
    let shown = shown(bay, anchors);
    // In large text signs grow less than words, as the places that they mark do not grow at all.
    let [usual, largest] = [USUAL, 11.0].map(|radius| radius / place.large_text().sqrt());
    let mut middles: Vec<Pos2> =
        shown.iter().filter(|(spot, ..)| !spot.whole).map(|(_, at, _)| place.at(at.centre)).collect();
    push_apart(&mut middles, 2.0 * usual + BETWEEN);
    let mut middles = middles.into_iter();
    for (spot, at, held) in shown {
        let whole = spot.whole.then(|| place.at(at.centre));
        let Some(centre) = whole.or_else(|| middles.next()) else { continue };
        let rect = if spot.whole {
            let drawn = place.rect(at.centre, at.size).expand(1.0);
            // The key's buttons lie too close; its card has them larger.
            let close = matches!(spot.touch, Touch::Act(Action::Key(_)));
            if close { drawn } else { drawn.union(Rect::from_center_size(centre, vec2(LEAST, LEAST))) }
        } else {
            Rect::from_center_size(centre, vec2(26.0, 26.0))
        };
        let sense =
            if matches!(spot.touch, Touch::Take(_)) { Sense::click_and_drag() } else { Sense::click() };
        // The keyboard goes to an open card, not to what lies behind it; the pointer still reaches what it sees.
        let sense = if bay.open.is_some() { sense.difference(Sense::FOCUSABLE) } else { sense };
        let response = ui.interact(rect, id_of(&spot), sense);
        response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, &spot.label));
        let lit = response.hovered() || response.has_focus();
        if response.gained_focus() {
            gaze.bring_into_view(at.centre);
        }
        let sign = spot.touch.sign(bay.vehicle());
        let work = match bay.hand {
            Hand::Tool(tool) => spot.touch.place().and_then(|place| tool.would(bay, place)),
            _ => None,
        };
        let takes_lead = spot.touch.takes(bay, anchors);
        let line = if response.has_focus() { focus } else { accent };
        if spot.whole {
            if lit || takes_lead || held {
                ui.painter().rect_stroke(
                    rect.expand(2.0),
                    6.0,
                    Stroke::new(2.0, line),
                    egui::StrokeKind::Outside,
                );
            }
        } else {
            let wanted = takes_lead || work.is_some();
            let radius = if lit { largest } else { usual };
            // A rim sets it off from what lies behind, bright or dark. Both are opaque: where two of a sign's lines meet nothing
            // shows through.
            let rim = colour(palette, "sign-rim");
            let line = if lit || wanted { line } else { rim.lerp_to_gamma(line, 0.85) };
            sign.draw(ui.painter(), centre, radius, line, rim);
            if wanted {
                ui.painter().circle_filled(centre, 3.0, accent);
            }
            signs.push(Rect::from_center_size(centre, SIGN));
        }
        let is_open = spot.touch.place().is_some_and(|place| bay.open == Some(place));
        if lit && !is_open {
            let label = match work {
                Some(work) => say!(bay.texts, "tool-would", place = &spot.label, act = work),
                None => spot.label.clone(),
            };
            named = Some((rect, label));
        }
        if let Touch::Take(lead) = spot.touch
            && response.drag_started()
        {
            bay.hand = Hand::Probe(lead);
            bay.dragging = true;
        }
        if response.clicked() || (takes_lead && bay.is_dropped_on(&response)) {
            touched = Some(spot.touch);
        }
    }
    if let Some((rect, label)) = named {
        let mut others: Vec<Rect> = signs.iter().filter(|one| !one.intersects(rect)).copied().collect();
        others.extend(in_hand::covers(ui.ctx(), bay));
        others.extend(plates::written(ui, place, anchors));
        others.extend(plates::marked(ui));
        let words = beside(rect, tag_size(ui, &label), &others, ui.max_rect().shrink(4.0));
        // Where nothing is free it lies over the sheet's or the captions' edge, not under it.
        let over = egui::LayerId::new(egui::Order::Foreground, Id::new("named"));
        ui.scope_builder(egui::UiBuilder::new().layer_id(over).max_rect(ui.max_rect()), |ui| {
            tag(ui, words.center(), &label, palette, true)
        });
    }
    if let Some(touch) = touched {
        do_touch(bay, touch);
    }
    signs
}

/// The signs that can be shown now, by their ids, with their names and where they are, for tests.
#[cfg(test)]
pub(super) fn named(bay: &Bay, anchors: &Anchors) -> Vec<(Id, String, Option<Placed>)> {
    let spots = all_spots(bay, anchors).into_iter();
    spots.map(|spot| (id_of(&spot), spot.label, anchors.design(&spot.anchor))).collect()
}

fn id_of(spot: &Spot) -> Id {
    Id::new(("spot", &spot.anchor))
}

/// Whether a panel still covers what a touch would open: the drawing shows the panel there.
fn is_covered(bay: &Bay, touch: &Touch) -> bool {
    let vehicle = bay.vehicle();
    let reach = match *touch {
        Touch::Open(Place::Connector(id)) => vehicle.connector(id).reach,
        Touch::Open(Place::Station(id)) => vehicle.station(id).reach,
        Touch::Point(_, Place::Stud(id)) => vehicle.stud(id).reach,
        _ => return false,
    };
    let obstacle = bay.job.as_ref().and_then(|job| job.scene().obstacle(vehicle, reach));
    matches!(obstacle, Some(Obstacle::Panel(_)))
}

fn do_touch(bay: &mut Bay, touch: Touch) {
    if touch.place().is_some_and(|place| hand_tools::touched(bay, place)) {
        return;
    }
    match touch {
        Touch::Hold(tool) => hand_tools::take(bay, tool),
        Touch::Open(open) if bay.hand.belongs() == Some(open) => bay.hand = Hand::Empty,
        Touch::Open(open) => bay.open = if bay.open == Some(open) { None } else { Some(open) },
        Touch::Act(action) => bay.act(action),
        // In hand already: back to the meter with it.
        Touch::Take(lead) if bay.hand == Hand::Probe(lead) => {
            bay.hand = Hand::Empty;
            bay.take_off(lead);
        }
        Touch::Take(lead) => bay.hand = Hand::Probe(lead),
        Touch::Point(point, _) if bay.hand.goes_to_a_point() => bay.put_to(point),
        Touch::Point(_, open) => bay.open = Some(open),
    }
}

/// What a place belongs to, in the list of everything by name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Group {
    Vehicle,
    Loom,
    Meter,
    Tools,
}

impl Group {
    fn of(touch: &Touch) -> Self {
        match touch {
            Touch::Open(Place::Station(_)) => Self::Loom,
            Touch::Open(Place::Meter)
            | Touch::Take(_)
            | Touch::Act(Action::Meter(_) | Action::Capture(_)) => Self::Meter,
            Touch::Hold(_)
            | Touch::Open(Place::Tool(_) | Place::FuseTray | Place::Clamp | Place::Recorder | Place::Key)
            | Touch::Act(Action::Key(_)) => Self::Tools,
            _ => Self::Vehicle,
        }
    }

    fn title(self) -> &'static str {
        match self {
            Self::Vehicle => "group-vehicle",
            Self::Loom => "group-loom",
            Self::Meter => "group-meter",
            Self::Tools => "group-tools",
        }
    }
}

/// Every place by name, those behind something too: for the keyboard, and for what the drawing hides just now.
pub(super) fn everything(ui: &mut egui::Ui, bay: &mut Bay, anchors: &Anchors) {
    let t = bay.texts;
    let mut touched = None;
    let mut groups = BTreeMap::<Group, Vec<Spot>>::new();
    for spot in all_spots(bay, anchors).into_iter().filter(|spot| spot.anchor != "lid-strut-right") {
        groups.entry(Group::of(&spot.touch)).or_default().push(spot);
    }
    for (group, spots) in groups {
        ui.label(RichText::new(t.say(group.title())).strong());
        ui.horizontal_wrapped(|ui| {
            for spot in spots {
                if ui.button(&spot.label).clicked() {
                    touched = Some(spot.touch);
                }
            }
        });
        ui.add_space(4.0);
    }
    if let Some(touch) = touched {
        do_touch(bay, touch);
    }
}

#[cfg(test)]
mod tests {
    use probeworthy::job::NoJournal;

    use super::*;
    use crate::game::legible::{bay_of, begun};

    #[test]
    fn a_panel_is_put_back_where_it_lies_while_it_is_off() {
        let mut job = begun("tailgate-ignores-its-key");
        let vehicle = job.scenario().vehicle.clone();
        let off = vehicle.panels.iter().position(|panel| panel.id == "lid-trim").expect("it has one");
        let anchors = Anchors::of(vehicle.panels.iter().map(|panel| laid_anchor(&panel.id)));
        let puts_back = |bay: &Bay| {
            let all = all_spots(bay, &anchors).into_iter();
            let acts = all.filter_map(|spot| if let Touch::Act(act) = spot.touch { Some(act) } else { None });
            acts.filter(|act| matches!(act, Action::Panel(..))).collect::<Vec<Action>>()
        };
        assert_eq!(puts_back(&bay_of(&job)), []);
        for act in ["prop", "take lid-trim off"] {
            let act = words::parse(&vehicle, act).expect(act);
            job.apply(act, &mut NoJournal).expect("an operating point");
        }
        assert_eq!(puts_back(&bay_of(&job)), [Action::Panel(PanelId::at(off), false)]);
    }
}
