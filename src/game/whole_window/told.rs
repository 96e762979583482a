//! What is painted and no widget is told to a screen reader.

use probeworthy::bench::{Action, Lead, Repair, Splice};
use probeworthy::vehicle::{ConductorId, ConnectorId, Half, Point, StationId};
use probeworthy::words::{self, Language};

use super::super::bay::Place;
use super::super::legible::bay_of;
use super::{FRAMES, LOOKS, STANDINGS, Viewer, done};

#[test]
fn what_is_painted_is_told() {
    let (_, [_, up, bare, _]) = &STANDINGS[0];
    let mut viewer = Viewer::new(Language::English, LOOKS[0]);
    let mut window = viewer.window(bay_of(&up.job), &up.anchors);
    window.bay.open = None;
    let shown = window.bay.meter_display().expect("it measures").to_string();
    let seen = window.look(FRAMES, None);
    assert!(seen.tells_of(&format!("meter: {shown}")), "the display");
    assert!(seen.tells_of("black: "), "where a lead is");
    assert!(!seen.announced().is_empty(), "what the last act brought");
    // A probe on a cavity.
    let vehicle = &bare.job.scenario().vehicle;
    let mut job = bare.job.clone();
    let cavity = Point::Cavity(ConnectorId::at(0), Half::Loom, 1);
    done(&mut job, Action::Probe(Lead::Red, Some(cavity)));
    assert_eq!(job.scene().kit().meter.red, Some(cavity));
    let mut window = viewer.window(bay_of(&job), &bare.anchors);
    window.bay.open = Some(Place::Connector(ConnectorId::at(0)));
    let seen = window.look(FRAMES, None);
    assert!(
        seen.buttons().iter().any(|name| name.starts_with("cavity 1") && name.ends_with("red lead here"))
    );
    // A wire that has been mended.
    let station = StationId::at(0);
    let passes = |id: &ConductorId| vehicle.conductor(*id).piece_at(station).is_some();
    let wire = (0..vehicle.conductors.len()).map(ConductorId::at).find(passes).expect("a wire passes there");
    let mending = Repair::Conductor(wire, station, Splice::Sound);
    done(&mut job, Action::Repair(mending));
    let mut window = viewer.window(bay_of(&job), &bare.anchors);
    window.bay.open = Some(Place::Station(station));
    let told = format!(
        "{} has been spliced and sleeved here",
        words::conductor_title(words::Texts::english(), vehicle, wire)
    );
    assert!(window.look(FRAMES, None).tells_of(&told), "{told}");
}
