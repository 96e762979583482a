//! Where the feed of what a customer complains of is drawn.

use super::potential::Climb;
use super::primitive::{Diagram, Frame, SymbolKind, Thing};
use crate::scenario::Trial;
use crate::vehicle::{FuseId, PartId, PartKind, Vehicle};

/// The fuses that feed parts, by the order of the parts: those that are reached from a part's pins against the current,
/// through conductors and contacts only.
#[must_use]
pub fn feeding_fuses(vehicle: &Vehicle, parts: &[PartId]) -> Vec<FuseId> {
    let climb = Climb::of(vehicle);
    let mut fuses = Vec::new();
    for part in parts {
        for fuse in climb.fuses_above(vehicle, *part) {
            if !fuses.contains(&fuse) {
                fuses.push(fuse);
            }
        }
    }
    fuses
}

/// What fails where a trial does: what was switched on, or the latch.
fn failing(vehicle: &Vehicle, trial: &Trial) -> Vec<PartId> {
    match trial {
        Trial::Switch(_, watch) => watch.clone(),
        Trial::Key(_) | Trial::Press(_) => {
            let latches = vehicle.parts().filter(|(_, part)| matches!(part.kind, PartKind::Latch(_)));
            latches.map(|(id, _)| id).collect()
        }
        Trial::Rest { .. } => Vec::new(),
    }
}

impl Diagram {
    /// The fuse at the head of the first circuit that a customer's trials are about, if they are about one.
    #[must_use]
    pub fn feed_of(&self, vehicle: &Vehicle, trials: &[Trial]) -> Option<Frame> {
        let parts: Vec<PartId> = trials.iter().flat_map(|trial| failing(vehicle, trial)).collect();
        let fuse = Thing::Fuse(*feeding_fuses(vehicle, &parts).first()?);
        let drawn =
            self.symbols.iter().find(|symbol| symbol.kind == SymbolKind::Fuse && symbol.thing == fuse);
        drawn.map(|symbol| symbol.frame)
    }
}
