//! A pool's faults: as written, then placed on the vehicle.

mod inside;
mod look;
mod loom;
mod when;
mod written;

use super::range::Range;
use super::vehicle_file::{self, VehicleNames};
use crate::fault::{Change, Component, Diagnosis, FaultKind, PlacedFault, Spot};
use crate::vehicle::{Deviation, EyeletId, KeyButton, Stuck, Vehicle};
use crate::written::{At, Form, Problems, Written};
use written::{BreakAsWritten, FaultAsWritten, LookAsWritten, WhenAsWritten};

pub(super) use written::PoolEntryAsWritten;

/// What can be written in a pool, and what each form is a part of.
pub(super) fn forms() -> Vec<(&'static str, Vec<Form>)> {
    vec![
        ("entry", PoolEntryAsWritten::forms()),
        ("fault", FaultAsWritten::forms()),
        ("look", LookAsWritten::forms()),
        ("break", BreakAsWritten::forms()),
        ("when", WhenAsWritten::forms()),
    ]
}

/// Places a fault on its vehicle. `None` where there are problems.
pub(super) fn place(
    vehicle: &Vehicle,
    names: &VehicleNames,
    entry: &PoolEntryAsWritten,
    problems: &mut Problems,
) -> Option<PlacedFault> {
    let before = problems.len();
    if entry.weight.value == 0 {
        problems.add(
            entry.weight.span,
            "a weight of 0 can never be drawn".to_owned(),
            "write a whole number from 1 on, or take the entry out",
        );
    }
    let placer = Placer { vehicle, names };
    let mut placed = placer.place(&entry.is.value, problems)?;
    for written in &entry.and.value {
        let other = placer.place(&written.value, problems)?;
        let twice = placed.diagnoses().any(|one| one == other.diagnosis)
            || placed.deviations.iter().any(|one| other.deviations.contains(one));
        if twice {
            problems.add(
                written.span,
                format!("\"{}\" is there already, or a part of it is", other.id),
                "write another fault, or take it out",
            );
            continue;
        }
        placed.id = format!("{}+{}", placed.id, other.id);
        placed.deviations.extend(other.deviations);
        for change in other.changes {
            if !placed.changes.contains(&change) {
                placed.changes.push(change);
            }
        }
        placed.also.push(other.diagnosis);
    }
    (problems.len() == before).then(|| PlacedFault { weight: u64::from(entry.weight.value), ..placed })
}

struct Placer<'a> {
    vehicle: &'a Vehicle,
    names: &'a VehicleNames,
}

/// A fault without its weight.
fn fault(id: String, deviations: Vec<Deviation>, changes: Vec<Change>, diagnosis: Diagnosis) -> PlacedFault {
    PlacedFault { id, deviations, changes, diagnosis, also: Vec::new(), weight: 0 }
}

fn named(component: Component, kind: FaultKind, spot: Spot) -> Diagnosis {
    Diagnosis { component, kind, spot }
}

impl Placer<'_> {
    fn place(&self, written: &FaultAsWritten, problems: &mut Problems) -> Option<PlacedFault> {
        match written {
            FaultAsWritten::Parted { conductor, at, when } => self.parted(conductor, at, when, problems),
            FaultAsWritten::Resistive { conductor, at, ohms, when } => {
                self.resistive(conductor, at, ohms, when, problems)
            }
            FaultAsWritten::ShortToBody { conductor, at, ohms, when, blown } => {
                self.short_to_body(conductor, at, ohms, when, blown.as_ref(), problems)
            }
            FaultAsWritten::Strands { conductor, at, left, of, when } => {
                self.strands(conductor, at, (left, of), when, problems)
            }
            FaultAsWritten::ShortBetween { conductor, other, at, ohms, when, blown } => {
                self.short_between((conductor, other), at, ohms, when, blown.as_ref(), problems)
            }
            FaultAsWritten::Terminal { connector, cavity, ohms, look, when } => {
                self.terminal(connector, cavity, ohms.as_ref(), *look, when, problems)
            }
            FaultAsWritten::HalfSeated { connector, cavity } => self.half_seated(connector, cavity, problems),
            FaultAsWritten::Crossed { connector, first, second } => {
                self.crossed(connector, first, second, problems)
            }
            FaultAsWritten::MotorOpen => Some(self.latch_winding(f64::INFINITY)),
            FaultAsWritten::MotorShorted(ohms) => {
                Range::MOTOR_OHMS.check(ohms, "a shorted winding's resistance", problems);
                Some(self.latch_winding(ohms.value))
            }
            FaultAsWritten::WindingOpen(part) => self.winding(part, None, problems),
            FaultAsWritten::WindingShorted { part, ohms } => self.winding(part, Some(ohms), problems),
            FaultAsWritten::DeadSpot { part, share } => self.dead_spot(part, share, problems),
            FaultAsWritten::Stiff(amps) => Some(self.stiff(amps, problems)),
            FaultAsWritten::Jammed => Some(self.jammed()),
            FaultAsWritten::PartOpen(part) => self.part_open(part, problems),
            FaultAsWritten::PartShorted { part, ohms } => self.part_shorted(part, ohms, problems),
            FaultAsWritten::LineBroken { screen, breaks } => self.line_broken(screen, breaks, problems),
            FaultAsWritten::ContactBurnt { relay, ohms } => self.contact_burnt(relay, ohms, problems),
            FaultAsWritten::ContactWelded(relay) => self.contact_welded(relay, problems),
            FaultAsWritten::Filmed { switch, ohms, wetting_milliamps } => {
                self.filmed(switch, ohms, wetting_milliamps, problems)
            }
            FaultAsWritten::SwitchOpen(name) => self.switch(name, Stuck::Open, problems),
            FaultAsWritten::SwitchClosed(name) => self.switch(name, Stuck::Closed, problems),
            FaultAsWritten::OutputDead { module, output } => self.output_dead(module, output, problems),
            FaultAsWritten::OutputStuck { module, output } => self.output_stuck(module, output, problems),
            FaultAsWritten::InputDeaf { module, input } => self.input_deaf(module, input, problems),
            FaultAsWritten::ReceiverDeaf(name) => self.receiver_deaf(name, problems),
            FaultAsWritten::NeverSleeps(name) => self.never_sleeps(name, problems),
            FaultAsWritten::FuseBlown(name) => {
                let fuse = self.fuse(name, problems)?;
                Some(fault(
                    format!("{}.blown", name.value),
                    Vec::new(),
                    vec![Change::FuseBlown(fuse)],
                    named(Component::Fuse(fuse), FaultKind::Blown, Spot::Whole),
                ))
            }
            FaultAsWritten::WrongFuse { fuse: name, amps } => {
                let fuse = self.fuse(name, problems)?;
                vehicle_file::rating(amps, problems);
                if amps.value >= self.vehicle.fuse(fuse).rating_amps {
                    problems.add(
                        amps.span,
                        format!("a fuse of {} A in \"{}\" would not blow", amps.value, name.value),
                        format!("write a rating below {} A", self.vehicle.fuse(fuse).rating_amps),
                    );
                }
                Some(fault(
                    format!("{}.wrong.{}-amp", name.value, amps.value),
                    Vec::new(),
                    vec![Change::FuseRating(fuse, amps.value), Change::FuseBlown(fuse)],
                    named(Component::Fuse(fuse), FaultKind::WrongPart, Spot::Whole),
                ))
            }
            FaultAsWritten::LooseFuse(name) => {
                let fuse = self.fuse(name, problems)?;
                Some(fault(
                    format!("{}.loose", name.value),
                    vec![Deviation::Clips { fuse, ohms: f64::INFINITY }],
                    Vec::new(),
                    named(Component::Fuse(fuse), FaultKind::Loose, Spot::Whole),
                ))
            }
            FaultAsWritten::Stud { eyelet: name, ohms, loose } => {
                let at = self.names.eyelets.find(name, problems)?;
                let stud = self.vehicle.eyelets[at].stud;
                if let Some(ohms) = ohms {
                    added(ohms, problems);
                }
                let (word, kind) = match (loose, ohms) {
                    (_, None) => ("off", FaultKind::Open),
                    (true, Some(_)) => ("loose", FaultKind::Loose),
                    (false, Some(_)) => ("corroded", FaultKind::HighResistance),
                };
                let added = ohms.as_ref().map_or(f64::INFINITY, |ohms| ohms.value);
                let deviation = Deviation::Stud { eyelet: EyeletId::at(at), ohms: added, loose: *loose };
                let tail = ohms.as_ref().map_or(String::new(), |ohms| format!(".{}-ohm", ohms.value));
                Some(fault(
                    format!("{}.{word}{tail}", self.vehicle.stud(stud).id),
                    vec![deviation],
                    Vec::new(),
                    named(Component::Stud(stud), kind, Spot::Whole),
                ))
            }
            FaultAsWritten::KeyCellFlat { volts, ohms } => {
                Range::CELL_VOLTS.check(volts, "a worn cell's voltage", problems);
                Range::CELL_OHMS.check(ohms, "a worn cell's inner resistance", problems);
                Some(fault(
                    "key.cell-flat".to_owned(),
                    vec![Deviation::KeyCell(volts.value, ohms.value)],
                    Vec::new(),
                    named(Component::Key, FaultKind::Flat, Spot::Whole),
                ))
            }
            FaultAsWritten::KeyButtonDead => Some(fault(
                "key.button-dead".to_owned(),
                vec![Deviation::KeyButton(KeyButton::Release)],
                Vec::new(),
                named(Component::Key, FaultKind::Dead, Spot::Whole),
            )),
            FaultAsWritten::BatteryLow { volts, ohms } => {
                Range::BATTERY_VOLTS.check(volts, "a low battery's voltage", problems);
                Range::BATTERY_OHMS.check(ohms, "a low battery's inner resistance", problems);
                Some(fault(
                    format!("battery.low.{}-volt", volts.value),
                    vec![Deviation::Battery(volts.value, ohms.value)],
                    Vec::new(),
                    named(Component::Battery, FaultKind::Flat, Spot::Whole),
                ))
            }
            FaultAsWritten::LockoutOn => Some(fault(
                "lockout.left-on".to_owned(),
                Vec::new(),
                vec![Change::Lockout],
                named(Component::Lockout, FaultKind::SettingLeftOn, Spot::Whole),
            )),
        }
    }
}

/// A resistance that a fault adds.
fn added(ohms: &At<f64>, problems: &mut Problems) {
    Range::FAULT_OHMS.check(ohms, "the resistance of a fault", problems);
}
