//! Stretches in which nothing moves but what turns steadily.

use std::sync::Arc;

use super::arcs::ARC_AMPS;
use super::light::filament_ohms;
use super::memories::{is_dark, is_warm};
use super::{Course, Event, Found, Phase, PhaseTrace, Sample, across};
use crate::circuit::{OperatingPoint, Snapshot};
use crate::vehicle::deviation::Deviation;
use crate::vehicle::ids::PartId;
use crate::vehicle::part::{Motor, PartKind};
use crate::vehicle::wiring::winding_ohms;

/// Relative difference below which something that moves counts as having come to rest.
const RESTS: f64 = 1e-4;
/// The same for a current near none, in amps, and a speed near none, in volts.
pub(super) const RESTS_AMPS: f64 = 1e-6;
const RESTS_VOLTS: f64 = 1e-4;
/// Share of the current at which a drive breaks away below which the spring that brings it back is stronger. From memory: it
/// overcomes the friction of a drive without current, and no more than trickles through from neighbours on the same feed.
const LETS_GO_SHARE: f64 = 0.1;

impl Course<'_> {
    /// Whether everything that moves is where `point` would leave it.
    pub(super) fn is_resting(&self, point: &OperatingPoint) -> bool {
        self.is_within(point, 1.0)
    }

    /// Whether everything that moves is within this many times what counts as rest of where `point` would leave it.
    pub(super) fn is_within(&self, point: &OperatingPoint, times: f64) -> bool {
        let near = |is: f64, aim: f64, least: f64| (is - aim).abs() <= times * (RESTS * aim.abs() + least);
        self.vehicle.parts().all(|(id, part)| {
            let now = self.state.part(id);
            match &part.kind {
                PartKind::Lamp { .. } if self.state.has(|d| *d == Deviation::LampOpen(id)) => true,
                PartKind::Lamp { filament, .. } => {
                    let aim = filament_ohms(self.wiring, point, id, filament);
                    near(now.filament_ohms.max(filament.cold_ohms()), aim, 0.0)
                        || (is_dark(filament, now.filament_ohms) && !is_warm(filament, aim))
                }
                PartKind::Relay(_) => near(now.amps, point.amps(self.wiring.winding_branch(id)), RESTS_AMPS),
                _ => part.kind.motor().is_none_or(|motor| {
                    let branch = self.wiring.winding_branch(id);
                    let amps = point.amps(branch);
                    let rests = if now.speed_volts == 0.0 {
                        self.is_held(id, amps) || amps.abs() <= self.breakaway_amps(id, motor)
                    } else {
                        near(now.speed_volts, self.speed_volts(point, id, motor), RESTS_VOLTS)
                    };
                    rests && near(now.amps, amps, RESTS_AMPS)
                }),
            }
        })
    }

    /// Puts everything that moves exactly where `point` leaves it.
    pub(super) fn settle_at(&mut self, point: &OperatingPoint) {
        for (id, part) in self.vehicle.parts() {
            match &part.kind {
                PartKind::Lamp { .. } if self.state.has(|d| *d == Deviation::LampOpen(id)) => {}
                PartKind::Lamp { filament, .. } => {
                    self.state.parts[id.index()].filament_ohms =
                        filament_ohms(self.wiring, point, id, filament);
                }
                PartKind::Relay(_) => {
                    self.state.parts[id.index()].amps = point.amps(self.wiring.winding_branch(id));
                }
                _ => {
                    if let Some(motor) = part.kind.motor() {
                        let speed_volts = self.speed_volts(point, id, motor);
                        let lets_go_amps = ARC_AMPS.max(LETS_GO_SHARE * self.breakaway_amps(id, motor));
                        let now = &mut self.state.parts[id.index()];
                        now.amps = point.amps(self.wiring.winding_branch(id));
                        if now.speed_volts != 0.0 {
                            now.speed_volts = speed_volts;
                        }
                        // A spring brings it back; what trickles through it from a neighbour does not hold it.
                        if now.speed_volts == 0.0 && now.amps.abs() < lets_go_amps {
                            now.turned_volt_seconds = 0.0;
                        }
                    }
                }
            }
        }
    }

    /// The speed that leaves the winding its share of the volts.
    fn speed_volts(&self, point: &OperatingPoint, id: PartId, motor: &Motor) -> f64 {
        let branch = self.wiring.winding_branch(id);
        let ohms = winding_ohms(self.state, id, motor);
        if ohms.is_infinite() { 0.0 } else { across(self.wiring, point, branch) - point.amps(branch) * ohms }
    }

    /// A phase in which nothing moves but what turns steadily, and what heats. Gives its seconds.
    pub(super) fn rest_phase(&mut self, found: &Arc<Found>, on: Vec<(PartId, usize)>, left: f64) -> f64 {
        let point = found.point();
        self.arm(point, &on);
        let mut seconds = left.min(self.state.delays.first_seconds());
        let mut event = None;
        let mut sooner = |at: f64, what: Event| {
            if at < seconds {
                seconds = at;
                event = Some(what);
            }
        };
        for (id, part) in self.vehicle.parts() {
            let speed_volts = self.state.part(id).speed_volts;
            if part.kind.motor().is_some() && speed_volts != 0.0 {
                sooner((self.way_left(id, speed_volts) / speed_volts.abs()).max(0.0), Event::AtEnd);
            }
        }
        let rates = self.heating(point, self.loads);
        for &(what, heat, per_second) in &rates {
            sooner(((1.0 - heat) / per_second).max(0.0), what);
        }
        for (at, seconds) in self.strands(point) {
            sooner(seconds, Event::StrandsMelted(at));
        }
        let sample = self.sample(point);
        self.turn(seconds);
        self.heat(&rates, seconds);
        self.warm(point, seconds);
        self.drain(point, seconds);
        self.state.delays.elapse(seconds);
        let event = match event {
            Some(Event::AtEnd) => Some(self.end_of_travel()),
            None => self.due(),
            event => event,
        };
        let motors = self.motors(point, &self.turning_seconds(seconds));
        self.note_carried(point);
        let samples = vec![sample.clone(), Sample { at_seconds: seconds, ..sample }];
        let own = self.wiring.network();
        let point = Snapshot::of(point, own.nodes(), own.branches(), self.loads);
        let trace = PhaseTrace::Rest(Arc::clone(found), seconds);
        self.phases.push(Phase { seconds, point, motors, on, samples, trace, event });
        self.happen(event);
        seconds
    }
}
