//! Films on contacts: what a current breaks through, and what grows again when they part.

use super::{Course, across};
use crate::circuit::Unsolved;
use crate::vehicle::ids::PartId;
use crate::vehicle::part::PartKind;
use crate::vehicle::wiring::Pace;

/// Below this across it no film breaks, in volts (common practice, no source: an ohmmeter does not clean what it measures).
const BREAKS_ABOVE_VOLTS: f64 = 3.0;

impl Course<'_> {
    /// Breaks those films through that have enough volts across them where enough current follows, and lets those grow again
    /// whose contacts are apart.
    pub(super) fn wet_films(&mut self, on: &[(PartId, usize)]) -> Result<(), Unsolved> {
        for (id, part) in self.vehicle.parts() {
            let PartKind::Switch { .. } = part.kind else { continue };
            let Some((_, wetting_amps)) = self.state.film(id) else { continue };
            if !self.state.is_on(id) {
                self.state.parts[id.index()].wetted = false;
            } else if !self.state.part(id).wetted {
                let branch = self.wiring.switch_branch(id);
                let filmed = self.point(self.wiring.laws(self.vehicle, self.state, on, Pace::Rest))?;
                if across(self.wiring, filmed.point(), branch).abs() < BREAKS_ABOVE_VOLTS {
                    continue;
                }
                self.state.parts[id.index()].wetted = true;
                let broken = self.point(self.wiring.laws(self.vehicle, self.state, on, Pace::Rest))?;
                self.state.parts[id.index()].wetted = broken.point().amps(branch).abs() >= wetting_amps;
            }
        }
        Ok(())
    }
}
