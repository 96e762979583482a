//! Faults inside of parts and modules.

use super::written::BreakAsWritten;
use super::{Placer, added, fault, named};
use crate::fault::{Component, FaultKind, PlacedFault, Spot};
use crate::scenario::range::Range;
use crate::vehicle::{Deviation, PartId, PartKind, Screen, Stuck};
use crate::written::{At, Problems};

/// A fault of a whole part.
fn of_part(id: String, part: PartId, deviation: Deviation, kind: FaultKind) -> PlacedFault {
    fault(id, vec![deviation], Vec::new(), named(Component::Part(part), kind, Spot::Whole))
}

impl Placer<'_> {
    fn latch(&self, word: &str, deviation: impl Fn(PartId) -> Deviation, kind: FaultKind) -> PlacedFault {
        let part = self.vehicle.latch().0;
        of_part(format!("{}.{word}", self.vehicle.part(part).id), part, deviation(part), kind)
    }

    pub(super) fn stiff(&self, amps: &At<f64>, problems: &mut Problems) -> PlacedFault {
        Range::STIFF_AMPS.check(amps, "a stiff mechanism's breakaway current", problems);
        self.latch("stiff", |part| Deviation::Stiff(part, amps.value), FaultKind::Stiff)
    }

    pub(super) fn jammed(&self) -> PlacedFault {
        self.latch("jammed", Deviation::Jammed, FaultKind::Jammed)
    }

    pub(super) fn latch_winding(&self, ohms: f64) -> PlacedFault {
        self.wound(self.vehicle.latch().0, ohms)
    }

    /// A winding of `ohms`, by its part's name.
    fn wound(&self, part: PartId, ohms: f64) -> PlacedFault {
        let file = self.vehicle.part(part);
        let thing = match &file.kind {
            PartKind::Latch(latch) if latch.solenoid => "solenoid",
            PartKind::Relay(_) => "coil",
            _ => "motor",
        };
        let (word, kind) =
            if ohms.is_infinite() { ("open", FaultKind::Open) } else { ("shorted", FaultKind::ShortInside) };
        of_part(format!("{}.{thing}-{word}", file.id), part, Deviation::Winding(part, ohms), kind)
    }

    pub(super) fn winding(
        &self,
        name: &At<String>,
        ohms: Option<&At<f64>>,
        problems: &mut Problems,
    ) -> Option<PlacedFault> {
        if let Some(ohms) = ohms {
            Range::WINDING_OHMS.check(ohms, "a shorted winding's resistance", problems);
        }
        let wound = |kind: &PartKind| kind.motor().is_some() || matches!(kind, PartKind::Relay(_));
        let part = self.part_of(
            name,
            "a part with a winding",
            "name a part that is a Motor, a Relay or a Latch",
            wound,
            problems,
        )?;
        let sound_ohms = match &self.vehicle.part(part).kind {
            PartKind::Relay(relay) => relay.coil_ohms,
            kind => kind.motor()?.winding_ohms,
        };
        if let Some(ohms) = ohms.filter(|ohms| ohms.value >= sound_ohms) {
            problems.add(
                ohms.span,
                format!(
                    "the sound winding of \"{}\" has {sound_ohms} Ω: {} Ω is no short",
                    name.value, ohms.value
                ),
                format!("write less than {sound_ohms}"),
            );
        }
        Some(self.wound(part, ohms.map_or(f64::INFINITY, |ohms| ohms.value)))
    }

    pub(super) fn dead_spot(
        &self,
        name: &At<String>,
        share: &At<f64>,
        problems: &mut Problems,
    ) -> Option<PlacedFault> {
        Range::SHARE.check(share, "how often brushes stop on a worn place", problems);
        let has_brushes = |kind: &PartKind| match kind {
            PartKind::Latch(latch) => !latch.solenoid,
            other => other.motor().is_some(),
        };
        let part = self.part_of(
            name,
            "a part with brushes",
            "name a part that is a Motor, or a Latch that a motor drives",
            has_brushes,
            problems,
        )?;
        let deviation = Deviation::DeadSpot(part, share.value);
        Some(of_part(format!("{}.dead-spot", name.value), part, deviation, FaultKind::Worn))
    }

    pub(super) fn part_open(&self, name: &At<String>, problems: &mut Problems) -> Option<PlacedFault> {
        let part = self.part_of(
            name,
            "a part that can be open inside",
            "name a part that is a Lamp, a Led, a Diode or a Resistor",
            |kind| matches!(kind, PartKind::Lamp { .. }) || has_two_pins(kind),
            problems,
        )?;
        let deviation = match self.vehicle.part(part).kind {
            PartKind::Lamp { .. } => Deviation::LampOpen(part),
            _ => Deviation::PartOpen(part),
        };
        Some(of_part(format!("{}.open", name.value), part, deviation, FaultKind::Open))
    }

    pub(super) fn part_shorted(
        &self,
        name: &At<String>,
        ohms: &At<f64>,
        problems: &mut Problems,
    ) -> Option<PlacedFault> {
        added(ohms, problems);
        let part = self.part_of(
            name,
            "a part that can be shorted inside",
            "name a part that is a Led, a Diode or a Resistor",
            has_two_pins,
            problems,
        )?;
        let deviation = Deviation::PartShorted(part, ohms.value);
        Some(of_part(format!("{}.shorted", name.value), part, deviation, FaultKind::ShortInside))
    }

    pub(super) fn line_broken(
        &self,
        name: &At<String>,
        breaks: &At<Vec<BreakAsWritten>>,
        problems: &mut Problems,
    ) -> Option<PlacedFault> {
        let (part, screen) = self.screen(name, problems)?;
        let mut deviations = Vec::new();
        let mut tail = String::new();
        for one in &breaks.value {
            for (number, most, what) in
                [(&one.line, screen.lines, "line"), (&one.section, Screen::SECTIONS, "section")]
            {
                if !(1..=most).contains(&number.value) {
                    problems.add(
                        number.span,
                        format!("\"{}\" has no {what} {}", name.value, number.value),
                        format!("write a number from 1 to {most}"),
                    );
                }
            }
            let deviation = Deviation::LineBroken(part, one.line.value, one.section.value);
            if deviations.contains(&deviation) {
                problems.add(one.line.span, "this section is broken twice".to_owned(), "take one out");
            }
            deviations.push(deviation);
            tail.push_str(&format!(".{}-{}", one.line.value, one.section.value));
        }
        let Some(first) = breaks.value.first() else {
            problems.add(
                breaks.span,
                "no section is broken".to_owned(),
                "write at least one, such as [(line: 2, section: 3)]",
            );
            return None;
        };
        let spot = Spot::Line(first.line.value, first.section.value);
        Some(fault(
            format!("{}.line-broken{tail}", name.value),
            deviations,
            Vec::new(),
            named(Component::Part(part), FaultKind::Open, spot),
        ))
    }

    pub(super) fn contact_burnt(
        &self,
        name: &At<String>,
        ohms: &At<f64>,
        problems: &mut Problems,
    ) -> Option<PlacedFault> {
        added(ohms, problems);
        let part = self.relay(name, problems)?;
        let deviation = Deviation::ContactBurnt(part, ohms.value);
        let id = format!("{}.contact-burnt.{}-ohm", name.value, ohms.value);
        Some(of_part(id, part, deviation, FaultKind::HighResistance))
    }

    pub(super) fn contact_welded(&self, name: &At<String>, problems: &mut Problems) -> Option<PlacedFault> {
        let part = self.relay(name, problems)?;
        let deviation = Deviation::ContactWelded(part);
        Some(of_part(format!("{}.contact-welded", name.value), part, deviation, FaultKind::StuckOn))
    }

    fn switch_part(&self, name: &At<String>, problems: &mut Problems) -> Option<PartId> {
        let fits = |kind: &PartKind| matches!(kind, PartKind::Switch { .. });
        self.part_of(name, "a switch", "name a part that is a Switch", fits, problems)
    }

    pub(super) fn filmed(
        &self,
        name: &At<String>,
        ohms: &At<f64>,
        wetting_milliamps: &At<f64>,
        problems: &mut Problems,
    ) -> Option<PlacedFault> {
        added(ohms, problems);
        Range::WETTING_MILLIAMPS.check(wetting_milliamps, "the current that breaks a film through", problems);
        let part = self.switch_part(name, problems)?;
        let wetting_amps = wetting_milliamps.value / 1000.0;
        let film = Deviation::Film { part, ohms: ohms.value, wetting_amps };
        Some(of_part(
            format!("{}.film.{}-ohm", name.value, ohms.value),
            part,
            film,
            FaultKind::HighResistance,
        ))
    }

    pub(super) fn switch(
        &self,
        name: &At<String>,
        stuck: Stuck,
        problems: &mut Problems,
    ) -> Option<PlacedFault> {
        let part = self.switch_part(name, problems)?;
        let (word, kind) = match stuck {
            Stuck::Open => ("open", FaultKind::Open),
            Stuck::Closed => ("closed", FaultKind::StuckOn),
        };
        Some(of_part(format!("{}.{word}", name.value), part, Deviation::Switch(part, stuck), kind))
    }

    pub(super) fn output_dead(
        &self,
        module: &At<String>,
        output: &At<String>,
        problems: &mut Problems,
    ) -> Option<PlacedFault> {
        let (part, at) = self.pin(module, output, true, problems)?;
        let id = format!("{}.dead.{}", module.value, output.value);
        Some(of_part(id, part, Deviation::OutputDead(part, at), FaultKind::Dead))
    }

    pub(super) fn output_stuck(
        &self,
        module: &At<String>,
        output: &At<String>,
        problems: &mut Problems,
    ) -> Option<PlacedFault> {
        let (part, at) = self.pin(module, output, true, problems)?;
        let id = format!("{}.stuck-on.{}", module.value, output.value);
        Some(of_part(id, part, Deviation::OutputStuck(part, at), FaultKind::StuckOn))
    }

    pub(super) fn input_deaf(
        &self,
        module: &At<String>,
        input: &At<String>,
        problems: &mut Problems,
    ) -> Option<PlacedFault> {
        let (part, at) = self.pin(module, input, false, problems)?;
        let id = format!("{}.deaf.{}", module.value, input.value);
        Some(of_part(id, part, Deviation::InputDeaf(part, at), FaultKind::Deaf))
    }

    pub(super) fn receiver_deaf(&self, name: &At<String>, problems: &mut Problems) -> Option<PlacedFault> {
        let part = self.module(name, problems)?;
        let id = format!("{}.deaf.key", name.value);
        Some(of_part(id, part, Deviation::ReceiverDeaf(part), FaultKind::Deaf))
    }

    pub(super) fn never_sleeps(&self, name: &At<String>, problems: &mut Problems) -> Option<PlacedFault> {
        let part = self.module(name, problems)?;
        if let PartKind::Module(module) = &self.vehicle.part(part).kind
            && module.sleeps_after_minutes.is_infinite()
        {
            problems.add(
                name.span,
                format!("\"{}\" never sleeps when it is sound either", name.value),
                "name a module with `sleeps_after_minutes`",
            );
        }
        let id = format!("{}.never-sleeps", name.value);
        Some(of_part(id, part, Deviation::NeverSleeps(part), FaultKind::StaysAwake))
    }
}

/// Whether a part is a path between two pins that can break or be bridged inside.
fn has_two_pins(kind: &PartKind) -> bool {
    matches!(kind, PartKind::Led(_) | PartKind::Diode { .. } | PartKind::Resistor { .. })
}
