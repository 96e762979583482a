//! Arcs between what parts under current.
//!
//! What a winding drives on goes through an arc where its path has opened: a contact, a plug that is pulled, a fuse that has
//! blown. What a gap carried when it was whole is in the state; while an arc burns it is the arc's own current, so that
//! it goes on whatever ends a phase, until its current ends.

use super::Course;
use crate::circuit::{Branch, Electrical, Instant, Law};
use crate::vehicle::part::PartKind;
use crate::vehicle::wiring::Wiring;

/// An arc between opening contacts, or an electronic output's own clamp: what it drops, in volts, and how that grows with
/// its current, in ohms (common practice, no source: some tens of volts).
const ARC_VOLTS: f64 = 40.0;
const ARC_OHMS: f64 = 0.5;
/// Less than this is switched off without an arc, in amps.
pub(super) const ARC_AMPS: f64 = 0.02;
/// How far behind its end an arc's is found at the most, in seconds.
const FOUND_SECONDS: f64 = 1e-6;

/// An arc.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Arc {
    /// Its place among [`Wiring::gaps`].
    gap: usize,
    branch: Branch,
    sign: f64,
}

impl Arc {
    /// Its current, in amps; at zero it goes out.
    pub(super) fn amps(self, now: &Instant<'_>) -> f64 {
        self.sign * now.amps(self.branch)
    }

    /// Its volts against its current, whatever that is.
    pub(super) fn law(self) -> (Branch, Law) {
        (self.branch, Law::source(self.sign * ARC_VOLTS, ARC_OHMS))
    }
}

impl Course<'_> {
    /// The arcs across what is open now and carried current until now. Without a winding that drives it on there is none.
    pub(super) fn arcs(&self, laws: &[Law]) -> Vec<Arc> {
        if self.state.parts.iter().all(|part| part.amps.abs() <= ARC_AMPS) {
            return Vec::new();
        }
        let open = |branch: Branch, amps: f64| laws[branch.0].current(ARC_VOLTS).0 < amps.abs();
        let gaps = self.wiring.gaps().iter().zip(&self.state.carried).enumerate();
        gaps.filter(|(_, (gap, amps))| {
            amps.abs() > ARC_AMPS
                && open(gap.branch, **amps)
                && gap.relief.is_none_or(|relief| open(relief, **amps))
        })
        .map(|(at, (gap, amps))| Arc { gap: at, branch: gap.branch, sign: amps.signum() })
        .collect()
    }

    /// Puts out the arcs that nothing feeds, and says whether there were any.
    pub(super) fn put_out(&mut self, arcs: &[Arc], now: &Instant<'_>) -> bool {
        let mut any = false;
        for arc in arcs.iter().filter(|arc| arc.amps(now) <= 0.0) {
            self.state.carried[arc.gap] = 0.0;
            any = true;
        }
        any
    }

    /// Keeps in mind what can part and what it carries.
    pub(super) fn note_carried(&mut self, point: &impl Electrical) {
        let wiring: &Wiring = self.wiring;
        for (gap, carried) in wiring.gaps().iter().zip(&mut self.state.carried) {
            *carried = point.amps(gap.branch);
        }
    }

    /// What an arc that goes out leaves of a winding's current is nothing but what it was found too late by.
    pub(super) fn snuff(&mut self) {
        for (id, part) in self.vehicle.parts() {
            let henries = match &part.kind {
                PartKind::Relay(relay) => relay.coil_henries,
                kind => match kind.motor() {
                    Some(motor) => motor.winding_henries,
                    None => continue,
                },
            };
            let now = &mut self.state.parts[id.index()];
            if now.amps.abs() < 2.0 * ARC_VOLTS * FOUND_SECONDS / henries {
                now.amps = 0.0;
            }
        }
    }
}
