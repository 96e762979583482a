//! How well what was named fits what is wrong.

use crate::fault::{Diagnosis, PlacedFault, Spot};
use crate::job::Named;
use crate::vehicle::Deviation;

/// What a diagnosis is made of: right component, kind and place.
const COMPONENT_SHARE: f64 = 0.4;
const KIND_SHARE: f64 = 0.3;
const PLACE_SHARE: f64 = 0.3;

/// How a name fits one thing that is wrong.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Fit {
    pub(super) component: bool,
    pub(super) kind: bool,
    /// From 0 to 1.
    pub(super) place: f64,
}

impl Fit {
    pub(super) fn of(named: Diagnosis, truth: Diagnosis, fault: &PlacedFault) -> Self {
        let component = fault.names_on(truth, named.component);
        Self {
            component,
            kind: component && named.kind == truth.kind,
            place: if component { place_share(named, truth, fault) } else { 0.0 },
        }
    }

    /// The share of a diagnosis that it earns, from 0 to 1.
    pub(super) fn share(self) -> f64 {
        COMPONENT_SHARE * f64::from(u8::from(self.component))
            + KIND_SHARE * f64::from(u8::from(self.kind))
            + PLACE_SHARE * self.place
    }
}

/// Names beside what they are held against: of several things that are wrong, the pair that fits best first.
pub(super) fn matched(names: &[Named], truths: &[Diagnosis], fault: &PlacedFault) -> Vec<(Named, Diagnosis)> {
    let mut names = names.to_vec();
    let mut truths = truths.to_vec();
    let mut pairs = Vec::new();
    while !names.is_empty() && !truths.is_empty() {
        let mut best = (0, 0, f64::NEG_INFINITY);
        for (at, name) in names.iter().enumerate() {
            for (of, truth) in truths.iter().enumerate() {
                let worth = Fit::of(name.diagnosis, *truth, fault).share();
                if worth > best.2 {
                    best = (at, of, worth);
                }
            }
        }
        pairs.push((names.remove(best.0), truths.remove(best.1)));
    }
    pairs
}

/// How near the named place is: right, the next station, or elsewhere.
fn place_share(named: Diagnosis, truth: Diagnosis, fault: &PlacedFault) -> f64 {
    match (named.spot, truth.spot) {
        (a, b) if a == b => 1.0,
        // Of several broken lines, any; next to the break counts as near.
        (Spot::Line(line, section), _) => {
            let broken = fault.deviations.iter().filter_map(|deviation| match *deviation {
                Deviation::LineBroken(_, row, at) if row == line => Some(at.abs_diff(section)),
                _ => None,
            });
            match broken.min() {
                Some(0) => 1.0,
                Some(1) => 0.5,
                _ => 0.0,
            }
        }
        (Spot::Station(a), Spot::Station(b)) if a.index().abs_diff(b.index()) == 1 => 0.5,
        // Crossed terminals can be named by either of their cavities.
        (Spot::Cavity(cavity), _) => {
            let either = fault.deviations.iter().any(|deviation| {
                matches!(*deviation, Deviation::Crossed { first, second, .. } if cavity == first || cavity == second)
            });
            f64::from(u8::from(either))
        }
        _ => 0.0,
    }
}
