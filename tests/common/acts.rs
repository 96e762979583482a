//! Every act on everything that a vehicle has.

use probeworthy::bench::{
    Action, ClampPlace, FuseWork, LONGEST_WAIT_MINUTES, LampSize, Lead, LidTo, Marking, MeterSetting, Place,
    Precaution, Question, Repair, Rung, Splice, Tool, WriteUpLine,
};
use probeworthy::fault::{Component, Diagnosis, FaultKind, Spot};
use probeworthy::vehicle::{
    ConductorId, ConnectorId, EyeletId, FuseId, Half, KeyButton, PanelId, PartId, PartKind, Screen, SpliceId,
    StationId, StudId, Thing, Vehicle,
};

/// Every act on everything that the vehicle has. Of pairs of points, each point once at each end.
pub(crate) fn every_action(vehicle: &Vehicle) -> Vec<Action> {
    let connectors = || (0..vehicle.connectors.len()).map(ConnectorId::at);
    let cavities = || connectors().flat_map(|id| (1..=vehicle.connector(id).cavities).map(move |n| (id, n)));
    let conductors = || (0..vehicle.conductors.len()).map(ConductorId::at);
    let stations = || (0..vehicle.stations.len()).map(StationId::at);
    let studs = || (0..vehicle.studs.len()).map(StudId::at);
    let fuses = || (0..vehicle.fuses.len()).map(FuseId::at);
    let parts = || (0..vehicle.parts.len()).map(PartId::at);
    let panels = || (0..vehicle.panels.len()).map(PanelId::at);
    let of_kind = |fits: fn(&PartKind) -> bool| parts().filter(move |&id| fits(&vehicle.part(id).kind));
    let both = [true, false];
    let points = vehicle.points();
    let mut all = vec![
        Action::Observe,
        Action::Lever,
        Action::ForceLatch,
        Action::Lid(LidTo::Shut),
        Action::Lid(LidTo::FirstCatch),
        Action::CloseClaw,
        Action::Read,
        Action::ProveMeter,
        Action::MeterFuse,
        Action::Repair(Repair::KeyCell),
        Action::Repair(Repair::Key),
        Action::Repair(Repair::Charge),
    ];
    all.extend(Question::ALL.map(Action::Ask));
    all.extend(Precaution::ALL.map(Action::Precaution));
    all.extend(Rung::ALL.map(Action::Coach));
    all.extend([KeyButton::Lock, KeyButton::Unlock, KeyButton::Release].map(Action::Key));
    all.extend(MeterSetting::ALL.map(Action::Meter));
    all.extend(both.map(Action::Lockout));
    all.extend(both.map(Action::Capture));
    all.extend(both.map(Action::Arm));
    all.extend([None, Some(ClampPlace::BatteryPlus)].map(Action::Clamp));
    all.extend(
        stations()
            .flat_map(|at| conductors().map(move |id| Action::Clamp(Some(ClampPlace::Station(id, at))))),
    );
    for (id, cavity) in cavities() {
        let halves = [Half::Loom, Half::Mate].into_iter().filter(|&half| vehicle.is_loom_half(id, half));
        all.extend(halves.map(|half| Action::Clamp(Some(ClampPlace::Cavity(id, half, cavity)))));
    }
    all.extend(both.map(|refer| Action::HandIn { refer }));
    let things = std::iter::once(Thing::Battery)
        .chain(fuses().map(Thing::Fuse))
        .chain(conductors().flat_map(|id| [Thing::Conductor(id), Thing::Body(id)]))
        .chain(conductors().flat_map(|id| stations().map(move |at| Thing::Station(id, at))))
        .chain(cavities().map(|(id, cavity)| Thing::Cavity(id, cavity)))
        .chain(connectors().map(Thing::Connector))
        .chain(parts().map(Thing::Part))
        .chain((0..vehicle.splices.len()).map(|at| Thing::Splice(SpliceId::at(at))))
        .chain((0..vehicle.eyelets.len()).map(|at| Thing::Eyelet(EyeletId::at(at))))
        .chain(studs().map(Thing::Stud));
    let markings = [Some(Marking::Good), Some(Marking::Suspect), None];
    all.extend(things.flat_map(|thing| markings.map(|marking| Action::Mark(thing, marking))));
    all.extend((2..=vehicle.lid.full_degrees).map(|degrees| Action::Lid(LidTo::Angle(degrees))));
    for id in of_kind(|kind| matches!(kind, PartKind::Switch { .. })) {
        all.extend([Action::Press(id), Action::Switch(id, true), Action::Switch(id, false)]);
    }
    for id in of_kind(|kind| matches!(kind, PartKind::Module(_))) {
        all.extend([Action::ReadMemory(id), Action::ClearMemory(id)]);
    }
    all.extend(panels().flat_map(|id| both.map(|off| Action::Panel(id, off))));
    for id in connectors() {
        all.extend([Action::Plug(id, true), Action::Plug(id, false), Action::LookAt(id)]);
        let count = vehicle.connector(id).cavities;
        let pairs = (1..=count).flat_map(|a| (1..=count).map(move |b| (a, b)));
        all.extend(pairs.map(|(a, b)| Action::Repair(Repair::SwapCavities(id, a, b))));
    }
    for (id, cavity) in cavities() {
        all.extend([Action::Tug(id, cavity), Action::Repair(Repair::Terminal(id, cavity))]);
    }
    all.extend(studs().flat_map(|id| [Action::LookAtStud(id), Action::Repair(Repair::Stud(id))]));
    all.extend(stations().flat_map(|id| [Action::OpenTape(id), Action::Flex(id)]));
    let places = stations().map(Place::Station).chain(connectors().map(Place::Connector));
    for place in places.chain(parts().map(Place::Part)) {
        all.extend([Action::Warm(place), Action::Cool(place)]);
    }
    all.extend([Action::Wet, Action::Dry]);
    all.extend([1, 2, 30, LONGEST_WAIT_MINUTES].map(Action::Wait));
    all.extend(parts().map(Action::Tap));
    for (id, screen) in vehicle.screens() {
        let sections = (1..=screen.lines).flat_map(|line| (1..=Screen::SECTIONS).map(move |at| (line, at)));
        all.extend(sections.map(|(line, at)| Action::Repair(Repair::Line(id, line, at))));
    }
    for id in fuses() {
        all.extend([FuseWork::Pull, FuseWork::Look, FuseWork::PutBack].map(|what| Action::Fuse(id, what)));
        all.extend((1..=30).map(|amps| Action::Fuse(id, FuseWork::Fit(amps))));
        all.push(Action::Repair(Repair::Clips(id)));
    }
    all.extend(parts().map(|id| Action::Repair(Repair::Part(id))));
    for (conductor, station) in conductors().flat_map(|id| stations().map(move |at| (id, at))) {
        let repair = |how| Action::Repair(Repair::Conductor(conductor, station, how));
        all.extend([Splice::Sound, Splice::Twisted].map(repair));
    }
    for lead in [Lead::Red, Lead::Black] {
        all.extend(
            points.iter().map(|&point| Action::Probe(lead, Some(point))).chain([Action::Probe(lead, None)]),
        );
        all.extend(points.iter().map(|&point| Action::ProbeHastily(lead, point)));
    }
    let tools = [
        Tool::TestLamp(LampSize::Five),
        Tool::TestLamp(LampSize::TwentyOne),
        Tool::Bridge,
        Tool::BenchBattery,
    ];
    assert_eq!(tools.as_slice(), Tool::ALL);
    for tool in tools {
        let shifted = points.iter().cycle().skip(7);
        all.extend(points.iter().zip(shifted).map(|(&from, &to)| Action::Clip(tool, Some((from, to)))));
        all.push(Action::Clip(tool, None));
    }
    let shifted = points.iter().cycle().skip(5);
    all.extend(points.iter().zip(shifted).map(|(&plus, &minus)| Action::RecorderLeads(Some((plus, minus)))));
    all.push(Action::RecorderLeads(None));
    all.extend(
        diagnoses(vehicle)
            .into_iter()
            .zip((0..=100).cycle())
            .map(|(named, share)| Action::Name(named, share)),
    );
    all.extend(
        diagnoses(vehicle)
            .into_iter()
            .zip((0..=100).cycle().skip(50))
            .map(|(marked, share)| Action::Suspect(marked, share)),
    );
    for line in WriteUpLine::ALL {
        let said =
            ["x", "latch.3 at 12 V # not 0 V", "a  wide\tgap", "Ω and °, 60 %", "off", "\"quoted\" \\ words"];
        all.extend(said.map(|said| Action::Write(line, said.to_owned())));
    }
    all
}

/// Every component in every way, at every place that it can have.
fn diagnoses(vehicle: &Vehicle) -> Vec<Diagnosis> {
    let stations = (0..vehicle.stations.len()).map(|at| Spot::Station(StationId::at(at)));
    let along: Vec<Spot> = stations.chain([Spot::Whole]).collect();
    let mut placed: Vec<(Component, Spot)> = Vec::new();
    for at in 0..vehicle.conductors.len() {
        placed.extend(along.iter().map(|&spot| (Component::Conductor(ConductorId::at(at)), spot)));
    }
    for (at, connector) in vehicle.connectors.iter().enumerate() {
        let spots = (1..=connector.cavities).map(Spot::Cavity).chain([Spot::Whole]);
        placed.extend(spots.map(|spot| (Component::Connector(ConnectorId::at(at)), spot)));
    }
    for (id, screen) in vehicle.screens() {
        let spots =
            (1..=screen.lines).flat_map(|line| (1..=Screen::SECTIONS).map(move |at| Spot::Line(line, at)));
        placed.extend(spots.map(|spot| (Component::Part(id), spot)));
    }
    let whole = (0..vehicle.parts.len()).map(|at| Component::Part(PartId::at(at)));
    let whole = whole.chain((0..vehicle.fuses.len()).map(|at| Component::Fuse(FuseId::at(at))));
    let whole = whole.chain((0..vehicle.studs.len()).map(|at| Component::Stud(StudId::at(at))));
    let whole = whole.chain([Component::Key, Component::Battery, Component::Lockout]);
    placed.extend(whole.map(|component| (component, Spot::Whole)));
    let kinds = |(component, spot)| FaultKind::ALL.map(|kind| Diagnosis { component, kind, spot });
    placed.into_iter().flat_map(kinds).collect()
}
