//! Stretches in which things move.

use super::arcs::Arc;
use super::light::{filament_ohms, moving_lights};
use super::resting::RESTS_AMPS;
use super::{Course, Phase, Sample, across, live, sum_of};
use crate::circuit::{
    Branch, Dynamic, Electrical as _, Filament, Instant, Law, Load, LoadedNetwork, Memory, OperatingPoint,
    Snapshot, Transient, Unsolved,
};
use crate::vehicle::deviation::Deviation;
use crate::vehicle::ids::PartId;
use crate::vehicle::part::PartKind;
use crate::vehicle::ripple::{Bearing, with_ripple};
use crate::vehicle::state::PartState;
use crate::vehicle::timers::INSTANT_SECONDS;
use crate::vehicle::wiring::{Pace, coil_ohms, winding_ohms};

/// Time constant of a filament at its working point: a small lamp's, and how it grows with the watts (common practice, no
/// source: 20 ms at 5 W, some 60 ms at 21 W).
pub(super) const FILAMENT_SECONDS: f64 = 0.02;

pub(super) const FILAMENT_WATTS: f64 = 5.0;

pub(super) const FILAMENT_EXPONENT: f64 = 0.77;

/// Error of a step's solution of first order that is allowed; currents and speeds are then right to a thousandth or two.
pub(super) const TOLERANCE: f64 = 1e-2;

/// Between two looks whether anything is due or all has come to rest, in seconds: at first and at most.
pub(super) const FIRST_STRETCH_SECONDS: f64 = 2e-3;

pub(super) const LONGEST_STRETCH_SECONDS: f64 = 0.05;

/// The shortest stretch, in seconds.
pub(super) const LEAST_STRETCH_SECONDS: f64 = 1e-4;

/// What moves is quiet when it changes by no more than this share in a stretch at least this long.
pub(super) const QUIET: f64 = 1e-3;

pub(super) const QUIET_AFTER_SECONDS: f64 = 0.016;

/// Resistance against cold resistance above which a filament counts as warm.
pub(super) const WARM: f64 = 1.001;

impl Course<'_> {
    /// A phase in which things move, until something switches or all has come to rest. Gives its seconds.
    /// `rest` is where it all would come to rest.
    pub(super) fn moving_phase(
        &mut self,
        rest: &OperatingPoint,
        on: Vec<(PartId, usize)>,
        arcs: &[Arc],
        left: f64,
    ) -> Result<f64, Unsolved> {
        let live = live(self.loads, self.tool_fuses);
        let mut laws = self.wiring.laws(self.vehicle, self.state, &on, Pace::Instant);
        for load in &live {
            laws.extend([Law::ohms(load.lead_ohms), load.law]);
        }
        for arc in arcs {
            let (branch, law) = arc.law();
            laws[branch.0] = law;
        }
        let (parts, dynamics) = self.dynamics(rest);
        let network = self.loaded.map_or(self.wiring.network(), LoadedNetwork::network);
        let mut transient = Transient::new(network, &laws, &dynamics)?;
        transient.set_tolerance(TOLERANCE);
        for (part, (branch, ..)) in parts.iter().zip(&dynamics) {
            if self.vehicle.part(*part).kind.motor().is_some() {
                transient.set_held(*branch, self.is_held(*part, rest.amps(*branch)))?;
            }
        }
        if self.put_out(arcs, &transient.now()) {
            return Ok(0.0);
        }
        let mut samples = Vec::new();
        // The motor that turns, if samples are wanted fine: at each of them, where it stands.
        let mut bearings: Vec<Vec<Bearing>> = vec![Vec::new(); if self.fine { parts.len() } else { 0 }];
        let turned_before: Vec<f64> = self.state.parts.iter().map(|part| part.turned_volt_seconds).collect();
        let mut turned_seconds = vec![0.0; self.vehicle.parts.len()];
        let mut stretch = FIRST_STRETCH_SECONDS;
        let mut spent = 0.0;
        let mut event = None;
        while event.is_none() && left - spent > INSTANT_SECONDS {
            let rates = self.heating(&transient.now(), &live);
            self.arm(&transient.now(), &on);
            let mut most = stretch.min(left - spent).min(self.state.delays.first_seconds());
            for &(_, heat, per_second) in &rates {
                // Never less than what a step can resolve: a current that grows brings its fuse nearer meanwhile.
                most = most.min(((1.0 - heat) / per_second).max(LEAST_STRETCH_SECONDS));
            }
            for (_, seconds) in self.strands(&transient.now()) {
                most = most.min(seconds.max(LEAST_STRETCH_SECONDS));
            }
            let before = self.state.parts.clone();
            let way: Vec<f64> =
                dynamics.iter().map(|(branch, ..)| turned(&transient.now(), *branch)).collect();
            let ends = self.ends_of_travel(&parts, &dynamics, &way);
            if ends.iter().any(|end| end(&transient.now()) <= 0.0) {
                event = Some(self.end_of_travel());
                break;
            }
            let arcs_left: Vec<_> = arcs.iter().map(|arc| move |now: &Instant<'_>| arc.amps(now)).collect();
            let ends = ends.iter().map(|end| end as &dyn Fn(&Instant<'_>) -> f64);
            let gone_out = arcs_left.iter().map(|left| left as &dyn Fn(&Instant<'_>) -> f64);
            let events: Vec<&dyn Fn(&Instant<'_>) -> f64> = gone_out.chain(ends).collect();
            let start = transient.now().seconds;
            let mut last_seconds = start;
            let hit = transient.advance_seen(most, &events, &mut |now| {
                for (&part, &(branch, ..)) in parts.iter().zip(&dynamics) {
                    if now.memory(branch).is_some_and(|memory| memory.speed_volts != 0.0) {
                        turned_seconds[part.index()] += now.seconds - last_seconds;
                    }
                }
                last_seconds = now.seconds;
                for (bearings, &(branch, ..)) in bearings.iter_mut().zip(&dynamics) {
                    let memory = now.memory(branch).unwrap_or_default();
                    bearings.push(Bearing {
                        amps: memory.amps,
                        turned_volt_seconds: memory.turned_volt_seconds.abs(),
                        speed_volts: memory.speed_volts.abs(),
                    });
                }
                samples.push(self.moving_sample(now, &live, spent + (now.seconds - start)));
            })?;
            // Steps sum to what was asked for but for rounding.
            let seconds = if hit.is_some() { transient.now().seconds - start } else { most };
            for (at, (&part, (branch, ..))) in parts.iter().zip(&dynamics).enumerate() {
                let Some(memory) = transient.now().memory(*branch) else { continue };
                let now = &mut self.state.parts[part.index()];
                (now.amps, now.speed_volts) = (memory.amps, memory.speed_volts);
                now.filament_ohms = memory.ohms;
                self.go_on(part, memory.turned_volt_seconds - way[at]);
            }
            self.heat(&rates, seconds);
            self.warm(&transient.now(), seconds);
            self.drain(&transient.now(), seconds);
            self.state.delays.elapse(seconds);
            spent += seconds;
            let arc_is_out = hit.is_some_and(|at| at < arcs.len());
            if arc_is_out {
                self.snuff();
            }
            self.arm(&transient.now(), &on);
            if arc_is_out || self.warms_unforeseen(&transient.now(), &parts) {
                break;
            }
            event = hit
                .map(|_| self.end_of_travel())
                .or_else(|| self.blown(&rates))
                .or_else(|| self.melted())
                .or_else(|| self.due());
            // What a module takes in switches nothing until it acts upon it.
            event = event.filter(|event| !event.is_taken_in() || self.notices || self.on() != on);
            if event.is_none() && stretch >= QUIET_AFTER_SECONDS && self.is_quiet(&before) {
                let rest = self.rest(&on)?;
                if self.is_resting(&rest) {
                    break;
                }
            }
            stretch = (2.0 * stretch).min(LONGEST_STRETCH_SECONDS);
        }
        for ((&part, bearings), &(_, dynamic, _)) in parts.iter().zip(&mut bearings).zip(&dynamics) {
            let motor = self.vehicle.part(part).kind.motor();
            if let (Some(motor), Dynamic::Motor { ohms, .. }) = (motor, dynamic)
                && turned_seconds[part.index()] > 0.0
            {
                for bearing in &mut *bearings {
                    bearing.turned_volt_seconds += turned_before[part.index()].abs();
                }
                samples = with_ripple(samples, bearings, motor, ohms);
                break;
            }
        }
        // What has no length has an end all the same.
        while samples.len() < 2 {
            samples.push(self.moving_sample(&transient.now(), &live, spent));
        }
        let own = self.wiring.network();
        let point = Snapshot::of(&transient.now(), own.nodes(), own.branches(), &live);
        self.note_carried(&point);
        self.put_out(arcs, &transient.now());
        let motors = self.motors(&point, &turned_seconds);
        self.phases.push(Phase { seconds: spent, point, motors, on, samples, event });
        self.happen(event);
        Ok(spent)
    }

    fn moving_sample(&self, now: &Instant<'_>, live: &[Load], at_seconds: f64) -> Sample {
        Sample {
            at_seconds,
            loads: now.loads(self.wiring.network().branches(), live),
            lights: moving_lights(self.vehicle, self.wiring, self.state, now),
            watched_amps: sum_of(self.watched, now),
        }
    }

    /// For each drive that moves towards an end of its way, or may: how far it still has to go, in volt-seconds.
    fn ends_of_travel(
        &self,
        parts: &[PartId],
        dynamics: &[(Branch, Dynamic, Memory)],
        way: &[f64],
    ) -> Vec<impl Fn(&Instant) -> f64 + use<>> {
        let mut ends = Vec::new();
        for ((&part, &(branch, ..)), &way) in parts.iter().zip(dynamics).zip(way) {
            let PartKind::Latch(latch) = &self.vehicle.part(part).kind else { continue };
            let plunges = latch.solenoid;
            let speed_volts = self.state.part(part).speed_volts;
            for sign in if plunges { &[1.0][..] } else { &[1.0, -1.0] } {
                let left = self.way_left(part, *sign);
                let towards = if plunges { speed_volts.abs() } else { sign * speed_volts };
                if left > 0.0 || towards > 0.0 {
                    ends.push(move |now: &Instant| {
                        let gone = turned(now, branch) - way;
                        left - if plunges { gone.abs() } else { sign * gone }
                    });
                }
            }
        }
        ends
    }

    /// Whether a lamp that was taken for cold has got so much voltage that it will not stay so; it is followed from then on.
    fn warms_unforeseen(&mut self, now: &Instant<'_>, warming: &[PartId]) -> bool {
        let mut any = false;
        for (id, part) in self.vehicle.parts().filter(|(id, _)| !warming.contains(id)) {
            let PartKind::Lamp { filament, .. } = &part.kind else { continue };
            let volts = across(self.wiring, now, self.wiring.lamp_branch(id));
            if is_warm(filament, filament.ohms(volts)) && !self.state.has(|d| *d == Deviation::LampOpen(id)) {
                self.flickers[id.index()] = true;
                any = true;
            }
        }
        any
    }

    /// Whether what moves has hardly moved since `before`.
    pub(super) fn is_quiet(&self, before: &[PartState]) -> bool {
        let near = |a: f64, b: f64| (a - b).abs() <= QUIET * a.abs().max(b.abs()) + RESTS_AMPS;
        before.iter().zip(&self.state.parts).all(|(was, is)| {
            near(was.amps, is.amps)
                && near(was.speed_volts, is.speed_volts)
                && near(was.filament_ohms, is.filament_ohms)
        })
    }

    /// What has a memory of its own, and how it stands. A lamp that is cold and stays so needs none.
    pub(super) fn dynamics(&self, rest: &OperatingPoint) -> (Vec<PartId>, Vec<(Branch, Dynamic, Memory)>) {
        let mut parts = Vec::new();
        let mut dynamics = Vec::new();
        for (id, part) in self.vehicle.parts() {
            let now = self.state.part(id);
            let mut add = |branch: Branch, dynamic: Dynamic| {
                let memory = Memory {
                    amps: now.amps,
                    speed_volts: now.speed_volts,
                    turned_volt_seconds: 0.0,
                    ohms: now.filament_ohms,
                };
                parts.push(id);
                dynamics.push((branch, dynamic, memory));
            };
            match &part.kind {
                PartKind::Lamp { filament, .. } if !self.state.has(|d| *d == Deviation::LampOpen(id)) => {
                    let now_warm = is_warm(filament, now.filament_ohms);
                    let follow = now_warm || self.flickers[id.index()];
                    if !follow && !is_warm(filament, filament_ohms(self.wiring, rest, id, filament)) {
                        continue;
                    }
                    let seconds = FILAMENT_SECONDS
                        * libm::pow(filament.rated_watts / FILAMENT_WATTS, FILAMENT_EXPONENT);
                    add(self.wiring.lamp_branch(id), Dynamic::Bulb { filament: *filament, seconds });
                }
                PartKind::Relay(relay) => {
                    let ohms = coil_ohms(self.state, id, relay);
                    if ohms.is_finite() {
                        let coil = Dynamic::Coil { ohms, henries: relay.coil_henries };
                        add(self.wiring.winding_branch(id), coil);
                    }
                }
                kind => {
                    let Some(motor) = kind.motor() else { continue };
                    let ohms = winding_ohms(self.state, id, motor);
                    if ohms.is_finite() {
                        let motor = Dynamic::Motor {
                            ohms,
                            henries: motor.winding_henries,
                            inertia_farads: motor.inertia_farads(),
                            breakaway_amps: self.breakaway_amps(id, motor),
                            idle_amps: motor.idle_amps,
                            slope_siemens: motor.slope_siemens,
                        };
                        add(self.wiring.winding_branch(id), motor);
                    }
                }
            }
        }
        (parts, dynamics)
    }
}

/// The way that a motor has gone in a transient, in volt-seconds.
pub(super) fn turned(now: &Instant<'_>, branch: Branch) -> f64 {
    now.memory(branch).map_or(0.0, |memory| memory.turned_volt_seconds)
}

/// Whether a filament has left its cold resistance.
pub(super) fn is_warm(filament: &Filament, ohms: f64) -> bool {
    ohms > WARM * filament.cold_ohms()
}
