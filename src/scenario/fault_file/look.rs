//! What a pool's faults sit in, looked up by name.

use super::Placer;
use crate::scenario::vehicle_file;
use crate::vehicle::{ConductorId, ConnectorId, FuseId, Half, PartId, PartKind, Screen, StationId};
use crate::written::{At, Problems};

impl Placer<'_> {
    /// A part of a kind; a problem where it is none: `what` says what it should be, with its article.
    pub(super) fn part_of(
        &self,
        name: &At<String>,
        what: &str,
        hint: &str,
        fits: impl Fn(&PartKind) -> bool,
        problems: &mut Problems,
    ) -> Option<PartId> {
        let part = vehicle_file::part_id(self.names, name, problems)?;
        if fits(&self.vehicle.part(part).kind) {
            return Some(part);
        }
        problems.add(name.span, format!("\"{}\" is not {what}", name.value), hint);
        None
    }

    pub(super) fn module(&self, name: &At<String>, problems: &mut Problems) -> Option<PartId> {
        let fits = |kind: &PartKind| matches!(kind, PartKind::Module(_));
        self.part_of(name, "a module", "name a part that is a Module", fits, problems)
    }

    pub(super) fn relay(&self, name: &At<String>, problems: &mut Problems) -> Option<PartId> {
        let fits = |kind: &PartKind| matches!(kind, PartKind::Relay(_));
        let part = self.part_of(name, "a relay", "name a part that is a Relay", fits, problems)?;
        match &self.vehicle.part(part).kind {
            PartKind::Relay(relay) if relay.normally_open.is_none() => {
                problems.add(
                    name.span,
                    format!("\"{}\" has no working contact", name.value),
                    "name a relay with `normally_open`",
                );
                None
            }
            _ => Some(part),
        }
    }

    pub(super) fn screen(&self, name: &At<String>, problems: &mut Problems) -> Option<(PartId, &Screen)> {
        let fits = |kind: &PartKind| matches!(kind, PartKind::Screen(_));
        let part = self.part_of(name, "a heated screen", "name a part that is a Screen", fits, problems)?;
        match &self.vehicle.part(part).kind {
            PartKind::Screen(screen) => Some((part, screen)),
            _ => None,
        }
    }

    /// An output or input of a module.
    pub(super) fn pin(
        &self,
        module: &At<String>,
        pin: &At<String>,
        output: bool,
        problems: &mut Problems,
    ) -> Option<(PartId, usize)> {
        let part = self.module(module, problems)?;
        let PartKind::Module(file) = &self.vehicle.part(part).kind else { return None };
        let names = if output {
            vehicle_file::Names::new("output", file.outputs.iter().map(|x| x.id.as_str()))
        } else {
            vehicle_file::Names::new("input", file.inputs.iter().map(|x| x.id.as_str()))
        };
        Some((part, names.find(pin, problems)?))
    }

    pub(super) fn fuse(&self, name: &At<String>, problems: &mut Problems) -> Option<FuseId> {
        self.names.fuses.find(name, problems).map(FuseId::at)
    }

    pub(super) fn piece(
        &self,
        conductor: &At<String>,
        at: &At<String>,
        problems: &mut Problems,
    ) -> Option<(ConductorId, StationId, usize)> {
        let id = self.names.conductors.find(conductor, problems).map(ConductorId::at);
        let station = self.names.stations.find(at, problems).map(StationId::at);
        let (id, station) = (id?, station?);
        let file = self.vehicle.conductor(id);
        let Some(piece) = file.piece_at(station) else {
            let passed: Vec<&str> = file
                .runs
                .iter()
                .filter_map(|run| run.station)
                .map(|station| self.vehicle.station(station).id.as_str())
                .collect();
            problems.add(
                at.span,
                format!("\"{}\" does not pass \"{}\"", conductor.value, at.value),
                if passed.is_empty() {
                    "it passes no station: put the fault on its connector or fuse".to_owned()
                } else {
                    format!("it passes: {}", passed.join(", "))
                },
            );
            return None;
        };
        Some((id, station, piece))
    }

    pub(super) fn loom_cavity(
        &self,
        connector: &At<String>,
        number: &At<u8>,
        problems: &mut Problems,
    ) -> Option<(ConnectorId, u8)> {
        let cavities = |position: usize| self.vehicle.connectors[position].cavities;
        let (id, half, cavity) = vehicle_file::cavity(cavities, self.names, connector, number, problems)?;
        if half == Half::Mate {
            problems.add(
                connector.span,
                format!("\"{}\" is the other half", connector.value),
                format!("name the connector by its loom half, \"{}\"", self.vehicle.connector(id).id),
            );
            return None;
        }
        if self.vehicle.conductor_in(id, Half::Loom, cavity).is_none() {
            problems.add(
                number.span,
                format!("no conductor ends in cavity {cavity} of \"{}\"", connector.value),
                "name a cavity that holds a terminal",
            );
            return None;
        }
        Some((id, cavity))
    }
}
