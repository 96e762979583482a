//! What current heats and drains while it flows: fuses, last strands, the battery.

use super::{Course, Event};
use crate::circuit::{Electrical, Load, opening_seconds, strand_heat, strand_melting_seconds, warm_fuse};
use crate::vehicle::deviation::Deviation;
use crate::vehicle::ids::FuseId;
use crate::vehicle::state::{Deviated, FuseBody};

/// Time constant of a blade fuse's warming, in seconds (common practice, no source).
const FUSE_WARMS_SECONDS: f64 = 1.0;
/// Time constant with which a fuse that has been overloaded forgets it (common practice, no source).
const FUSE_COOLS_SECONDS: f64 = 20.0;

impl Course<'_> {
    /// Fuses under way to opening: what happens, how far, and how fast.
    pub(super) fn heating(&self, point: &impl Electrical, loads: &[Load]) -> Vec<(Event, f64, f64)> {
        let mut rates = Vec::new();
        let mut add = |event: Event, fuse: &FuseBody, amps: f64| {
            let holds = opening_seconds(f64::from(fuse.rating_amps), amps);
            if !fuse.blown && holds.is_finite() {
                rates.push((event, fuse.heat, 1.0 / holds));
            }
        };
        for (at, slot) in self.state.fuses.iter().enumerate() {
            let id = FuseId::at(at);
            if let Some(fuse) = &slot.fitted {
                add(Event::FuseBlown(id), fuse, point.amps(self.wiring.fuse_branch(id)));
            }
        }
        if self.tool_fuses.iter().any(Option::is_some) {
            let felt = point.loads(self.wiring.network().branches(), loads);
            for (at, (fuse, felt)) in self.tool_fuses.iter().zip(felt).enumerate() {
                if let Some(fuse) = fuse {
                    add(Event::ToolFuseBlown(at), fuse, felt.amps);
                }
            }
        }
        rates
    }

    /// Fuses under way to opening come nearer to it; the others cool.
    pub(super) fn heat(&mut self, rates: &[(Event, f64, f64)], seconds: f64) {
        let left = libm::exp(-seconds / FUSE_COOLS_SECONDS);
        let overloaded = |what: Event| rates.iter().any(|(event, ..)| *event == what);
        for (at, slot) in self.state.fuses.iter_mut().enumerate() {
            let fitted = slot.fitted.iter_mut().filter(|_| !overloaded(Event::FuseBlown(FuseId::at(at))));
            for fuse in fitted.chain(&mut slot.pulled) {
                fuse.heat *= left;
            }
        }
        for (at, fuse) in self.tool_fuses.iter_mut().enumerate() {
            if let Some(fuse) = fuse
                && !overloaded(Event::ToolFuseBlown(at))
            {
                fuse.heat *= left;
            }
        }
        for &(event, _, per_second) in rates {
            let fuse = match event {
                Event::FuseBlown(id) => self.state.fuses[id.index()].fitted.as_mut(),
                Event::ToolFuseBlown(at) => self.tool_fuses[at].as_mut(),
                _ => None,
            };
            if let Some(fuse) = fuse {
                fuse.heat += seconds * per_second;
            }
        }
    }

    /// A fuse that has had its time.
    pub(super) fn blown(&self, rates: &[(Event, f64, f64)]) -> Option<Event> {
        rates.iter().map(|(event, ..)| *event).find(|event| match *event {
            Event::FuseBlown(id) => self.state.slot(id).fitted.is_some_and(|fuse| fuse.heat >= 1.0),
            Event::ToolFuseBlown(at) => self.tool_fuses[at].is_some_and(|fuse| fuse.heat >= 1.0),
            _ => false,
        })
    }

    /// Conductors' last strands, and how long they still carry what they carry, in seconds.
    pub(super) fn strands(&self, point: &impl Electrical) -> Vec<(usize, f64)> {
        self.state
            .deviations
            .iter()
            .enumerate()
            .filter_map(|(at, one)| {
                let (square_millimetres, amps) = self.strand(point, one)?;
                Some((at, strand_melting_seconds(square_millimetres, amps, one.heat)))
            })
            .collect()
    }

    /// A strand's cross-section and its current, in mm² and amps, where only some are left. While the damage is not there
    /// all of them carry.
    fn strand(&self, point: &impl Electrical, one: &Deviated) -> Option<(f64, f64)> {
        let Deviation::Strands { conductor, piece, left, of, .. } = one.deviation else { return None };
        let carry = if one.present { left } else { of };
        let amps = point.amps(self.wiring.piece_branch(conductor, piece)) / f64::from(carry);
        Some((self.vehicle.conductor(conductor).square_millimetres / f64::from(of), amps))
    }

    /// Last strands that have had their time.
    pub(super) fn melted(&self) -> Option<Event> {
        let melts = |one: &Deviated| one.heat >= 1.0 && matches!(one.deviation, Deviation::Strands { .. });
        self.state.deviations.iter().position(melts).map(Event::StrandsMelted)
    }

    /// Fuses take the heat of their current, and strands.
    pub(super) fn warm(&mut self, point: &impl Electrical, seconds: f64) {
        let share = -libm::expm1(-seconds / FUSE_WARMS_SECONDS);
        for at in 0..self.state.fuses.len() {
            let amps = point.amps(self.wiring.fuse_branch(FuseId::at(at)));
            if let Some(fuse) = &mut self.state.fuses[at].fitted {
                let law = warm_fuse(f64::from(fuse.rating_amps));
                let load = amps / law.rating_amps;
                fuse.warmth += share * (law.growth * load * load - fuse.warmth);
            }
            if let Some(fuse) = &mut self.state.fuses[at].pulled {
                fuse.warmth -= share * fuse.warmth;
            }
        }
        for at in 0..self.state.deviations.len() {
            if let Some((area, amps)) = self.strand(point, &self.state.deviations[at]) {
                let one = &mut self.state.deviations[at];
                one.heat = strand_heat(area, amps, one.heat, seconds);
            }
        }
    }

    /// What the battery gives or takes.
    pub(super) fn drain(&mut self, point: &impl Electrical, seconds: f64) {
        let amps = point.amps(self.wiring.battery_branch());
        let charge = self.state.charge + amps * seconds / 3600.0 / self.vehicle.battery.amp_hours;
        self.state.charge = charge.clamp(0.0, 1.0);
    }

    /// What time uses up: the battery's charge, and by fuse slot the heat of the fuse in it.
    pub(super) fn spent_so_far(&self) -> (f64, Vec<f64>) {
        let heats = self.state.fuses.iter().map(|slot| slot.fitted.map_or(0.0, |fuse| fuse.heat));
        (self.state.charge, heats.collect())
    }

    /// Uses up this many times more of what has been used up since it was so.
    pub(super) fn carry_on(&mut self, since: &(f64, Vec<f64>), times: f64) {
        let charge = self.state.charge + (self.state.charge - since.0) * times;
        self.state.charge = charge.clamp(0.0, 1.0);
        for (slot, since) in self.state.fuses.iter_mut().zip(&since.1) {
            if let Some(fuse) = &mut slot.fitted {
                fuse.heat = (fuse.heat + (fuse.heat - since) * times).clamp(0.0, 1.0);
            }
        }
    }
}
