//! Faults of the loom: in conductors, between them, and in connectors.

use super::when::when_of;
use super::written::{LookAsWritten, WhenAsWritten};
use super::{Placer, added, fault, named};
use crate::fault::{Change, Component, FaultKind, PlacedFault, Spot};
use crate::vehicle::{ContactLook, Deviation, Half, Mate};
use crate::written::{At, Problems};

impl Placer<'_> {
    pub(super) fn parted(
        &self,
        conductor: &At<String>,
        at: &At<String>,
        when: &WhenAsWritten,
        problems: &mut Problems,
    ) -> Option<PlacedFault> {
        let (id, station, piece) = self.piece(conductor, at, problems)?;
        let (when, tail) = when_of(when, problems);
        Some(fault(
            format!("{}.open.{}{tail}", conductor.value, at.value),
            vec![Deviation::Series { conductor: id, piece, ohms: f64::INFINITY, when }],
            Vec::new(),
            named(Component::Conductor(id), FaultKind::Open, Spot::Station(station)),
        ))
    }

    pub(super) fn resistive(
        &self,
        conductor: &At<String>,
        at: &At<String>,
        ohms: &At<f64>,
        when: &WhenAsWritten,
        problems: &mut Problems,
    ) -> Option<PlacedFault> {
        let (id, station, piece) = self.piece(conductor, at, problems)?;
        added(ohms, problems);
        let (when, tail) = when_of(when, problems);
        Some(fault(
            format!("{}.{}-ohm.{}{tail}", conductor.value, ohms.value, at.value),
            vec![Deviation::Series { conductor: id, piece, ohms: ohms.value, when }],
            Vec::new(),
            named(Component::Conductor(id), FaultKind::HighResistance, Spot::Station(station)),
        ))
    }

    /// What a short has blown already.
    fn blown(&self, fuse: Option<&At<String>>, problems: &mut Problems) -> Option<Vec<Change>> {
        match fuse {
            Some(fuse) => Some(vec![Change::FuseBlown(self.fuse(fuse, problems)?)]),
            None => Some(Vec::new()),
        }
    }

    pub(super) fn short_to_body(
        &self,
        conductor: &At<String>,
        at: &At<String>,
        ohms: &At<f64>,
        when: &WhenAsWritten,
        blown: Option<&At<String>>,
        problems: &mut Problems,
    ) -> Option<PlacedFault> {
        let (id, station, piece) = self.piece(conductor, at, problems)?;
        added(ohms, problems);
        let (when, tail) = when_of(when, problems);
        Some(fault(
            format!("{}.short.{}{tail}", conductor.value, at.value),
            vec![Deviation::ToBody { conductor: id, piece, ohms: ohms.value, when }],
            self.blown(blown, problems)?,
            named(Component::Conductor(id), FaultKind::ShortToGround, Spot::Station(station)),
        ))
    }

    pub(super) fn strands(
        &self,
        conductor: &At<String>,
        at: &At<String>,
        (left, of): (&At<u8>, &At<u8>),
        when: &WhenAsWritten,
        problems: &mut Problems,
    ) -> Option<PlacedFault> {
        let (id, station, piece) = self.piece(conductor, at, problems)?;
        if of.value < 2 {
            problems.add(
                of.span,
                format!("a conductor of {} strands has none to lose", of.value),
                "write how many strands it has, at least 2",
            );
        } else if !(1..of.value).contains(&left.value) {
            problems.add(
                left.span,
                format!("{} of {} strands cannot be what is left", left.value, of.value),
                format!("write a number from 1 to {}", of.value - 1),
            );
        }
        let (when, tail) = when_of(when, problems);
        Some(fault(
            format!("{}.strands-{}-of-{}.{}{tail}", conductor.value, left.value, of.value, at.value),
            vec![Deviation::Strands { conductor: id, piece, left: left.value, of: of.value, when }],
            Vec::new(),
            // They carry little and melt: what is found is a parted conductor.
            named(Component::Conductor(id), FaultKind::Open, Spot::Station(station)),
        ))
    }

    pub(super) fn short_between(
        &self,
        (conductor, other): (&At<String>, &At<String>),
        at: &At<String>,
        ohms: &At<f64>,
        when: &WhenAsWritten,
        blown: Option<&At<String>>,
        problems: &mut Problems,
    ) -> Option<PlacedFault> {
        let one = self.piece(conductor, at, problems);
        let two = self.piece(other, at, problems);
        added(ohms, problems);
        let (when, tail) = when_of(when, problems);
        let changes = self.blown(blown, problems);
        let ((id, station, piece), (other_id, _, other_piece)) = (one?, two?);
        if id == other_id {
            problems.add(
                other.span,
                format!("\"{}\" cannot touch itself", other.value),
                "name another conductor that passes there",
            );
        }
        Some(fault(
            format!("{}.short-to.{}.{}{tail}", conductor.value, other.value, at.value),
            vec![Deviation::Between {
                conductor: id,
                piece,
                other: other_id,
                other_piece,
                ohms: ohms.value,
                when,
            }],
            changes?,
            named(Component::Conductor(id), FaultKind::ShortBetween, Spot::Station(station)),
        ))
    }

    pub(super) fn terminal(
        &self,
        connector: &At<String>,
        cavity: &At<u8>,
        ohms: Option<&At<f64>>,
        look: LookAsWritten,
        when: &WhenAsWritten,
        problems: &mut Problems,
    ) -> Option<PlacedFault> {
        let (id, cavity_number) = self.loom_cavity(connector, cavity, problems)?;
        if let Some(ohms) = ohms {
            added(ohms, problems);
        }
        let pin = match self.vehicle.connector(id).mate {
            Mate::Pins => true,
            Mate::Loom => self.vehicle.conductor_in(id, Half::Mate, cavity_number).is_some(),
        };
        if matches!(look, LookAsWritten::Bent) && !pin {
            problems.add(
                cavity.span,
                format!("no pin stands opposite cavity {cavity_number} of \"{}\"", connector.value),
                "name a cavity in which a conductor of the other half ends",
            );
        }
        let (when, tail) = when_of(when, problems);
        let (look, word) = match look {
            LookAsWritten::PushedBack => (ContactLook::PushedBack, "pushed-back"),
            LookAsWritten::Spread => (ContactLook::Spread, "spread"),
            LookAsWritten::Corroded => (ContactLook::Corroded, "corroded"),
            LookAsWritten::Bent => (ContactLook::Bent, "bent"),
        };
        let kind = if ohms.is_some() { FaultKind::HighResistance } else { FaultKind::Open };
        let added = ohms.map_or(f64::INFINITY, |ohms| ohms.value);
        Some(fault(
            format!("{}.{word}.{cavity_number}{tail}", connector.value),
            vec![Deviation::Contact { connector: id, cavity: cavity_number, ohms: added, when, look }],
            Vec::new(),
            named(Component::Connector(id), kind, Spot::Cavity(cavity_number)),
        ))
    }

    pub(super) fn half_seated(
        &self,
        connector: &At<String>,
        cavity: &At<u8>,
        problems: &mut Problems,
    ) -> Option<PlacedFault> {
        let (id, cavity) = self.loom_cavity(connector, cavity, problems)?;
        Some(fault(
            format!("{}.half-seated.{cavity}", connector.value),
            vec![Deviation::HalfSeated { connector: id, cavity }],
            Vec::new(),
            named(Component::Connector(id), FaultKind::Loose, Spot::Whole),
        ))
    }

    pub(super) fn crossed(
        &self,
        connector: &At<String>,
        first: &At<u8>,
        second: &At<u8>,
        problems: &mut Problems,
    ) -> Option<PlacedFault> {
        let (id, a) = self.loom_cavity(connector, first, problems)?;
        let (_, b) = self.loom_cavity(connector, second, problems)?;
        if a == b {
            problems.add(
                second.span,
                "a terminal cannot be crossed with itself".to_owned(),
                "name two different cavities",
            );
        }
        Some(fault(
            format!("{}.crossed.{}-{}", connector.value, a.min(b), a.max(b)),
            vec![Deviation::Crossed { connector: id, half: Half::Loom, first: a, second: b }],
            Vec::new(),
            named(Component::Connector(id), FaultKind::Crossed, Spot::Cavity(a.min(b))),
        ))
    }
}
