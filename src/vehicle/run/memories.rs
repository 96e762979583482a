//! What has a memory of its own: windings, and filaments that warm.

use super::light::filament_ohms;
use super::{Course, across};
use crate::circuit::{Branch, Dynamic, Filament, Instant, Memory, OperatingPoint};
use crate::vehicle::deviation::Deviation;
use crate::vehicle::ids::PartId;
use crate::vehicle::part::PartKind;
use crate::vehicle::wiring::{coil_ohms, winding_ohms};

/// Time constant of a filament at its working point: a small lamp's, and how it grows with the watts (common practice, no
/// source: 20 ms at 5 W, some 60 ms at 21 W).
const FILAMENT_SECONDS: f64 = 0.02;
const FILAMENT_WATTS: f64 = 5.0;
const FILAMENT_EXPONENT: f64 = 0.77;
/// Resistance against cold resistance above which a filament counts as warm.
const WARM: f64 = 1.001;

impl Course<'_> {
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

    /// Whether a lamp that was taken for cold has got so much voltage that it will not stay so; it is followed from then on.
    pub(super) fn warms_unforeseen(&mut self, now: &Instant<'_>, warming: &[PartId]) -> bool {
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
}

/// Light below which a filament has gone out for every eye, as a fraction of its rated light. What heat it has left then
/// counts for nothing once all else has come to rest: no act begins so soon after another that it would be felt.
const DARK: f64 = 1e-6;

/// Whether a filament gives no light any more.
pub(super) fn is_dark(filament: &Filament, ohms: f64) -> bool {
    filament.light_of_ohms(ohms) < DARK
}

/// Whether a filament has left its cold resistance.
pub(super) fn is_warm(filament: &Filament, ohms: f64) -> bool {
    ohms > WARM * filament.cold_ohms()
}
