//! What each conductor is there for: which side of a circuit it is on, as far as wires, splices and connectors join it.

use std::collections::BTreeMap;

use crate::vehicle::{End, Half, Mate, OutputKind, PartKind, Vehicle};

/// What a conductor is there for. Where several fit, the first counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum ConductorRole {
    /// It leads to ground.
    Ground,
    /// It comes from the battery, a fuse, a relay's contact or a module's output, directly or by way of a switch.
    Feed,
    /// It leads to a module's input.
    Signal,
    /// Something else.
    Other,
}

/// By conductor, its role.
pub(super) fn conductor_roles(vehicle: &Vehicle) -> Vec<ConductorRole> {
    // Each conductor begins as a net of its own; those that meet take the lower number until nothing changes.
    let mut net: Vec<usize> = (0..vehicle.conductors.len()).collect();
    loop {
        let mut lowest: BTreeMap<End, usize> = BTreeMap::new();
        for (conductor, &number) in vehicle.conductors.iter().zip(&net) {
            for end in [conductor.from, conductor.to].into_iter().filter_map(|end| meeting(vehicle, end)) {
                let known = lowest.entry(end).or_insert(number);
                *known = (*known).min(number);
            }
        }
        let mut changed = false;
        for (conductor, number) in vehicle.conductors.iter().zip(&mut net) {
            for end in [conductor.from, conductor.to].into_iter().filter_map(|end| meeting(vehicle, end)) {
                let least = lowest.get(&end).copied().unwrap_or(*number);
                changed |= least < *number;
                *number = least.min(*number);
            }
        }
        if !changed {
            break;
        }
    }
    let mut roles = vec![ConductorRole::Other; vehicle.conductors.len()];
    for (conductor, &number) in vehicle.conductors.iter().zip(&net) {
        for end in [conductor.from, conductor.to] {
            roles[number] = roles[number].min(role_of_end(vehicle, end));
        }
    }
    // What is fed by way of a switch is fed.
    let net_at =
        |connector, cavity| vehicle.conductor_in(connector, Half::Loom, cavity).map(|id| net[id.index()]);
    let ways: Vec<(usize, usize)> = (vehicle.parts.iter())
        .filter_map(|part| match part.kind {
            PartKind::Switch { pins: (a, b), .. } => {
                Some((net_at(part.connector, a)?, net_at(part.connector, b)?))
            }
            _ => None,
        })
        .flat_map(|(a, b)| [(a, b), (b, a)])
        .collect();
    while let Some((_, fed)) = ways
        .iter()
        .find(|(from, to)| roles[*from] == ConductorRole::Feed && roles[*to] == ConductorRole::Other)
    {
        roles[*fed] = ConductorRole::Feed;
    }
    net.into_iter().map(|number| roles[number]).collect()
}

/// Where an end meets others; `None` where it meets nothing but a part, a fuse, or ground.
fn meeting(vehicle: &Vehicle, end: End) -> Option<End> {
    match end {
        End::Splice(_) => Some(end),
        End::Cavity(connector, _, cavity) if vehicle.connector(connector).mate == Mate::Loom => {
            Some(End::Cavity(connector, Half::Loom, cavity))
        }
        _ => None,
    }
}

/// The role that an end gives.
fn role_of_end(vehicle: &Vehicle, end: End) -> ConductorRole {
    let (connector, cavity) = match end {
        End::Eyelet(_) | End::Body => return ConductorRole::Ground,
        End::Fuse(..) | End::BatteryPlus => return ConductorRole::Feed,
        End::Splice(_) => return ConductorRole::Other,
        End::Cavity(connector, _, cavity) => (connector, cavity),
    };
    let of_part = |kind: &PartKind| match kind {
        PartKind::Module(module) => {
            let input = module.inputs.iter().any(|input| input.pin == cavity);
            let output = module.outputs.iter().find(|output| output.pin == cavity);
            match output {
                Some(output) if matches!(output.kind, OutputKind::LowSide(_)) => ConductorRole::Ground,
                Some(_) => ConductorRole::Feed,
                None if input => ConductorRole::Signal,
                None => ConductorRole::Other,
            }
        }
        PartKind::Relay(relay)
            if [Some(relay.common), relay.normally_open, relay.normally_closed].contains(&Some(cavity)) =>
        {
            ConductorRole::Feed
        }
        _ => ConductorRole::Other,
    };
    let here = vehicle.parts.iter().filter(|part| part.connector == connector);
    here.map(|part| of_part(&part.kind)).min().unwrap_or(ConductorRole::Other)
}

#[cfg(test)]
mod tests {
    use super::ConductorRole::{Feed, Ground, Other, Signal};
    use super::conductor_roles;
    use crate::scenario::load;

    #[test]
    fn conductors_of_the_estate_have_their_roles() {
        let vehicle = load("tailgate-ignores-its-key").expect("the shelf is sound").scenario.vehicle;
        let roles = conductor_roles(&vehicle);
        for (name, role) in [
            ("latch-feed", Feed),
            ("latch-feed-body", Feed),
            ("latch-ground", Ground),
            ("pad-ground", Ground),
            ("pad-signal", Signal),
            ("ajar", Signal),
            ("cargo-return", Signal),
            ("tail-left-feed", Feed),
        ] {
            let at = vehicle.conductors.iter().position(|one| one.id == name).expect(name);
            assert_eq!(roles[at], role, "{name}");
        }
        let others: Vec<&str> = (vehicle.conductors.iter().zip(&roles))
            .filter(|(_, role)| **role == Other)
            .map(|(one, _)| one.id.as_str())
            .collect();
        assert!(others.is_empty(), "all of them lead somewhere: {others:?}");
    }
}
