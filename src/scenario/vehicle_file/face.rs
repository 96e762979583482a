//! What a connector looks like on its mating side, as a vehicle file says it: how wide its blades are, how its cavities lie.

use std::collections::BTreeSet;

use super::written::{ArrangementAsWritten, ConnectorAsWritten};
use crate::vehicle::{Arrangement, BLADES_MILLIMETRES};
use crate::written::Problems;

/// How wide a connector's blades are, in mm: as written, or the narrowest that a contact of its resistance could be.
pub(super) fn blade(connector: &ConnectorAsWritten, problems: &mut Problems) -> f64 {
    if let Some(written) = &connector.blade_millimetres {
        if !BLADES_MILLIMETRES.iter().any(|(wide, _)| *wide == written.value) {
            let known: Vec<String> =
                BLADES_MILLIMETRES.iter().rev().map(|(wide, _)| wide.to_string()).collect();
            problems.add(
                written.span,
                format!("there is no blade of {} mm", written.value),
                format!("write one of {}", known.join(", ")),
            );
        }
        return written.value;
    }
    let ohms = connector.contact_milliohms.value * 1e-3;
    // What is worse than any of them is taken for the smallest.
    let could_be = BLADES_MILLIMETRES.iter().find(|(_, most)| ohms <= most * (1.0 + 1e-9));
    could_be.or(BLADES_MILLIMETRES.last()).map_or(0.0, |(wide, _)| *wide)
}

/// How a connector's cavities lie: as written, or as it is usual. A problem where one is missing, or there twice, or not one of
/// them.
pub(super) fn arrangement(connector: &ConnectorAsWritten, problems: &mut Problems) -> Arrangement {
    let cavities = connector.cavities.value;
    let Some(written) = &connector.arrangement else { return Arrangement::usual(cavities) };
    let (ArrangementAsWritten::Rows(lines) | ArrangementAsWritten::Rings(lines)) = &written.value;
    let mut placed = BTreeSet::new();
    for number in lines.iter().flatten() {
        if number.value == 0 || number.value > cavities {
            problems.add(
                number.span,
                format!("\"{}\" has no cavity {}", connector.id.value, number.value),
                format!("write a number from 1 to {cavities}"),
            );
        } else if !placed.insert(number.value) {
            problems.add(
                number.span,
                format!("cavity {} lies in two places", number.value),
                "write each cavity once",
            );
        }
    }
    if let Some(missing) = (1..=cavities).find(|cavity| !placed.contains(cavity)) {
        problems.add(
            written.span,
            format!("the arrangement leaves cavity {missing} out"),
            format!("write each number from 1 to {cavities} once"),
        );
    }
    if lines.iter().any(Vec::is_empty) {
        problems.add(
            written.span,
            "a row or circle has no cavity".to_owned(),
            "leave it out, or write its cavities",
        );
    }
    let lines = lines.iter().map(|line| line.iter().map(|number| number.value).collect()).collect();
    match &written.value {
        ArrangementAsWritten::Rows(_) => Arrangement::Rows(lines),
        ArrangementAsWritten::Rings(_) => Arrangement::Rings(lines),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::load;
    use crate::vehicle::ConnectorId;

    fn blade(scenario: &str, connector: &str) -> f64 {
        let vehicle = load(scenario).expect(scenario).scenario.vehicle;
        let at = vehicle.connectors.iter().position(|one| one.id == connector).expect(connector);
        vehicle.blade_millimetres(ConnectorId::at(at), 1)
    }

    #[test]
    fn a_blade_is_as_wide_as_its_contact_asks_or_as_it_is_written() {
        for (scenario, connector, wide) in [
            ("trailer-goes-dark", "screen-relay", 6.3),
            ("trailer-goes-dark", "module", 2.8),
            ("trailer-goes-dark", "trailer-left", 1.5),
            ("ghost-of-a-voltage", "camera", 0.64),
        ] {
            assert!((blade(scenario, connector) - wide).abs() < 1e-9, "{connector}");
        }
    }

    #[test]
    fn without_an_arrangement_cavities_lie_in_one_row_or_two() {
        let lengths =
            |cavities| Arrangement::usual(cavities).lines().iter().map(Vec::len).collect::<Vec<_>>();
        assert_eq!(lengths(4), [4]);
        assert_eq!(lengths(9), [5, 4]);
        assert_eq!(lengths(12), [6, 6]);
        assert_eq!(lengths(25), [9, 9, 7]);
        assert_eq!(lengths(60), [10; 6]);
    }
}
