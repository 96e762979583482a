//! What mends each suspect: faults that the same work mends count as one when it comes to choosing.

use super::stand::Stand;
use crate::bench::{Action, FuseWork, Repair, Splice};
use crate::fault::{Change, PlacedFault};
use crate::vehicle::{Deviation, End, FuseId, Half, PhysicalState, Reach, Vehicle};

/// What mends a fault, and how the vehicle has to stand for it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Remedy {
    /// How the vehicle has to stand.
    pub stand: Stand,
    /// What is done then, in order. Empty where nothing has to be mended.
    pub acts: Vec<Action>,
}

impl Remedy {
    /// What mends all that is still wrong with a vehicle that has this fault, or none.
    #[must_use]
    pub fn of(vehicle: &Vehicle, fault: Option<&PlacedFault>, state: &PhysicalState) -> Self {
        let mut remedy = Self::default();
        for one in &state.deviations {
            remedy.mend(vehicle, &one.deviation);
        }
        for (at, (slot, file)) in state.fuses.iter().zip(&vehicle.fuses).enumerate() {
            let unfit = |body: crate::vehicle::FuseBody| body.blown || body.rating_amps != file.rating_amps;
            if slot.fitted.or(slot.pulled).is_some_and(unfit) {
                remedy.reach(vehicle, file.reach);
                remedy.add(Action::Fuse(FuseId::at(at), FuseWork::Fit(file.rating_amps)));
            }
        }
        if state.lockout {
            remedy.add(Action::Lockout(false));
        }
        for change in fault.into_iter().flat_map(|fault| &fault.changes) {
            if let Change::LeftOn(part) = *change
                && state.is_on(part)
            {
                remedy.add(Action::Switch(part, false));
            }
        }
        remedy
    }

    /// What is done, act by act, from a stand: the way there, and the work. Nothing where nothing has to be mended.
    #[must_use]
    pub fn acts_from(&self, vehicle: &Vehicle, stand: &Stand) -> Vec<Action> {
        if self.acts.is_empty() {
            return Vec::new();
        }
        let mut acts = stand.acts_to(vehicle, &self.stand);
        acts.extend(self.acts.iter().cloned());
        acts
    }

    fn reach(&mut self, vehicle: &Vehicle, reach: Reach) {
        self.stand = self.stand.reaching(vehicle, reach, false);
    }

    fn add(&mut self, act: Action) {
        if !self.acts.contains(&act) {
            self.acts.push(act);
        }
    }

    fn repair(&mut self, repair: Repair) {
        self.add(Action::Repair(repair));
    }

    fn mend(&mut self, vehicle: &Vehicle, deviation: &Deviation) {
        match *deviation {
            Deviation::Series { conductor, piece, .. }
            | Deviation::Twisted { conductor, piece }
            | Deviation::ToBody { conductor, piece, .. }
            | Deviation::Strands { conductor, piece, .. }
            | Deviation::Between { conductor, piece, .. } => {
                let file = vehicle.conductor(conductor);
                if let Some(station) = file.runs[piece].station {
                    self.reach(vehicle, vehicle.station(station).reach);
                    self.repair(Repair::Conductor(conductor, station, Splice::Sound));
                } else if let End::Cavity(connector, Half::Loom, cavity) = file.from {
                    self.open(vehicle, connector);
                    self.repair(Repair::Terminal(connector, cavity));
                }
            }
            Deviation::Contact { connector, cavity, .. } => {
                self.open(vehicle, connector);
                self.repair(Repair::Terminal(connector, cavity));
            }
            Deviation::HalfSeated { connector, .. } => {
                self.reach(vehicle, vehicle.connector(connector).reach);
                self.add(Action::Plug(connector, false));
                self.add(Action::Plug(connector, true));
            }
            Deviation::Crossed { connector, first, second, .. } => {
                self.open(vehicle, connector);
                self.repair(Repair::SwapCavities(connector, first, second));
            }
            Deviation::Clips { fuse, .. } => {
                self.reach(vehicle, vehicle.fuse(fuse).reach);
                self.add(Action::Fuse(fuse, FuseWork::Pull));
                self.repair(Repair::Clips(fuse));
                self.add(Action::Fuse(fuse, FuseWork::PutBack));
            }
            Deviation::Stud { eyelet, .. } => {
                let stud = vehicle.eyelets[eyelet.index()].stud;
                self.reach(vehicle, vehicle.stud(stud).reach);
                self.repair(Repair::Stud(stud));
            }
            Deviation::LineBroken(part, line, section) => {
                self.reach(vehicle, Reach { panel: None, ..vehicle.part(part).reach });
                self.repair(Repair::Line(part, line, section));
            }
            Deviation::KeyCell(..) => self.repair(Repair::KeyCell),
            Deviation::KeyButton(_) => self.repair(Repair::Key),
            Deviation::Battery(..) => {
                self.reach(vehicle, vehicle.battery.reach);
                self.repair(Repair::Charge);
            }
            Deviation::LeverOff => self.part(vehicle, vehicle.latch().0),
            Deviation::LampOpen(part)
            | Deviation::Switch(part, _)
            | Deviation::Film { part, .. }
            | Deviation::AjarSwitch(part, _)
            | Deviation::Winding(part, _)
            | Deviation::DeadSpot(part, _)
            | Deviation::Stiff(part, _)
            | Deviation::Jammed(part)
            | Deviation::PartOpen(part)
            | Deviation::PartShorted(part, _)
            | Deviation::ContactBurnt(part, _)
            | Deviation::ContactWelded(part)
            | Deviation::OutputDead(part, _)
            | Deviation::OutputStuck(part, _)
            | Deviation::NeverSleeps(part)
            | Deviation::InputDeaf(part, _)
            | Deviation::ReceiverDeaf(part) => self.part(vehicle, part),
        }
    }

    fn part(&mut self, vehicle: &Vehicle, part: crate::vehicle::PartId) {
        self.reach(vehicle, vehicle.part(part).reach);
        self.repair(Repair::Part(part));
    }

    fn open(&mut self, vehicle: &Vehicle, connector: crate::vehicle::ConnectorId) {
        self.reach(vehicle, vehicle.connector(connector).reach);
        self.stand = self.stand.without(connector);
    }
}
