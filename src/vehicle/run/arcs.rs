//! Arcs between contacts that open under current.

use super::Course;
use crate::circuit::Electrical;
use crate::vehicle::ids::PartId;

/// An arc between opening contacts, or an electronic output's own clamp: what it drops, and how that grows with its current
/// (common practice, no source: some tens of volts). Less than this is switched off without one, in amps.
pub(super) const ARC_VOLTS: f64 = 40.0;

pub(super) const ARC_OHMS: f64 = 0.5;

pub(super) const ARC_AMPS: f64 = 0.02;

impl Course<'_> {
    /// What an output that is on no longer has fed goes on for a moment through an arc.
    pub(super) fn draw_arcs(&mut self, on: &[(PartId, usize)]) {
        for (part, module) in self.vehicle.modules() {
            for output in 0..module.outputs.len() {
                let carried = self.state.part(part).carries[output];
                if !on.contains(&(part, output)) && carried.abs() > ARC_AMPS {
                    self.arcs.push((self.wiring.output_branch(part, output), carried.signum()));
                    self.state.parts[part.index()].carries[output] = 0.0;
                }
            }
        }
    }

    /// Keeps in mind what outputs carry that are on.
    pub(super) fn note_carried(&mut self, point: &impl Electrical, on: &[(PartId, usize)]) {
        for &(part, output) in on {
            self.state.parts[part.index()].carries[output] =
                point.amps(self.wiring.output_branch(part, output));
        }
    }

    /// What an arc that goes out leaves of a motor's current is nothing.
    pub(super) fn snuff(&mut self, parts: &[PartId]) {
        for &part in parts {
            let now = &mut self.state.parts[part.index()];
            if self.vehicle.part(part).kind.motor().is_some() && now.amps.abs() < ARC_AMPS {
                now.amps = 0.0;
            }
        }
    }

    pub(super) fn note_contact(&mut self, point: &impl Electrical, id: PartId) {
        let contact = self.wiring.working_contact(id);
        self.contact_amps[id.index()] = contact.map_or(0.0, |branch| point.amps(branch));
    }
}
