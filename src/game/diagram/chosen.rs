//! What has been chosen on the diagram, by touch or by name.

use bevy_egui::egui::{self, Color32, ComboBox, FontFamily, FontId, RichText};
use probeworthy::bench::{Action, Marking};
use probeworthy::diagram::{Diagram, Spot, Thing};
use probeworthy::vehicle::{PartKind, Vehicle, Zone};
use probeworthy::words::{self, Texts};

use crate::game::bay::{Bay, Place};
use crate::game::theme::SMALL;

/// All that can be touched, by title.
fn things(t: Texts, vehicle: &Vehicle, drawn: &Diagram) -> Vec<(String, Thing)> {
    let wires = drawn.wires.iter().map(|wire| Thing::Conductor(wire.conductor));
    let cavities = drawn.crossings.iter().map(|crossing| Thing::Cavity(crossing.connector, crossing.cavity));
    let mut things: Vec<(String, Thing)> = drawn
        .symbols
        .iter()
        .map(|symbol| symbol.thing)
        .chain(cavities)
        .chain(wires)
        .map(|thing| (words::thing_title(t, vehicle, thing), thing))
        .collect();
    things.sort();
    things.dedup();
    things
}

/// Where a thing is drawn.
pub(super) fn spot(drawn: &Diagram, thing: Thing) -> Option<Spot> {
    let symbol = drawn.symbols.iter().find(|symbol| symbol.thing == thing).map(|symbol| symbol.frame);
    let crossing = || {
        let it = drawn
            .crossings
            .iter()
            .find(|crossing| Thing::Cavity(crossing.connector, crossing.cavity) == thing);
        it.map(|crossing| crossing.frame())
    };
    let wire = || {
        let wire = drawn.wires.iter().find(|wire| Thing::Conductor(wire.conductor) == thing)?;
        wire.points.get(wire.points.len() / 2).copied()
    };
    let frame = symbol.or_else(crossing);
    frame
        .map(|frame| Spot::new((frame.left + frame.right) / 2.0, (frame.top + frame.bottom) / 2.0))
        .or_else(wire)
}

/// What has been chosen: what it is, where it is on the vehicle, and how it is marked; with a list of names, the keyboard's
/// way to touch the sheet. Gives what was chosen there.
pub(super) fn line(ui: &mut egui::Ui, bay: &mut Bay, vehicle: &Vehicle) -> Option<Thing> {
    let t = bay.texts;
    let now = bay.diagram.chosen;
    let mut named = None;
    ui.horizontal_wrapped(|ui| {
        let drawn = bay.diagram.drawn.as_deref();
        let list = ComboBox::from_id_salt("diagram-by-name").selected_text(t.say("diagram-by-name"));
        list.show_ui(ui, |ui| {
            for (title, thing) in drawn.map(|drawn| things(t, vehicle, drawn)).unwrap_or_default() {
                if ui.selectable_label(now == Some(thing), title).clicked() {
                    named = Some(thing);
                }
            }
        });
        let Some(thing) = now else {
            // Beside the list, or below it where it would wrap into it.
            let (said, font) = (t.say("diagram-touch"), FontId::new(SMALL, FontFamily::Proportional));
            let wide = ui.painter().layout_no_wrap(said.to_owned(), font, Color32::PLACEHOLDER).size().x;
            if wide > ui.available_size_before_wrap().x {
                ui.end_row();
            }
            ui.label(RichText::new(said).size(SMALL));
            return;
        };
        ui.label(RichText::new(words::thing_title(t, vehicle, thing)).strong());
        let marked = bay.job.as_ref().and_then(|job| job.marked().get(&thing).copied());
        for (label, mark) in [
            (t.say("diagram-good"), Some(Marking::Good)),
            (t.say("diagram-suspect"), Some(Marking::Suspect)),
            (t.say("diagram-unknown"), None),
        ] {
            if ui.selectable_label(marked == mark, label).clicked() && marked != mark {
                bay.act(Action::Mark(thing, mark));
            }
        }
        if let Some(place) = place(vehicle, thing)
            && ui.button(t.say("diagram-show")).clicked()
        {
            bay.open = Some(place);
        }
    });
    named
}

/// The card of the place where a thing is worked on.
fn place(vehicle: &Vehicle, thing: Thing) -> Option<Place> {
    match thing {
        Thing::Battery => Some(Place::Front),
        Thing::Fuse(id) => (vehicle.fuse(id).reach.zone == Zone::Cabin).then_some(Place::Cabin),
        Thing::Station(_, station) => Some(Place::Station(station)),
        Thing::Cavity(id, _) | Thing::Connector(id) => Some(Place::Connector(id)),
        Thing::Part(id) => match vehicle.part(id).kind {
            PartKind::Switch { .. } if vehicle.part(id).reach.zone == Zone::Cabin => Some(Place::Cabin),
            _ => Some(Place::Connector(vehicle.part(id).connector)),
        },
        Thing::Eyelet(id) => Some(Place::Stud(vehicle.eyelets[id.index()].stud)),
        Thing::Stud(id) => Some(Place::Stud(id)),
        Thing::Conductor(_) | Thing::Splice(_) | Thing::Body(_) => None,
    }
}
