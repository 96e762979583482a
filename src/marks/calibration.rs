//! How well a learner weighed what he suspected: scores of the suspicion sheet against the truth. They earn no marks.

use super::naming::Fit;
use crate::fault::{Diagnosis, PlacedFault};
use crate::reasoning::score::{brier, log_score_bits};

/// How well a suspicion sheet was weighed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Calibration {
    /// The truth has a line of its own; if not, it counts as something else.
    pub on_a_line: bool,
    /// The share that was given to the truth, from 0 to 1.
    pub given: f64,
    /// Brier's score: 0 is best, 2 worst.
    pub brier: f64,
    /// The logarithmic score, −log2 of the share, in bits; a share under a hundredth counts as one.
    pub surprise_bits: f64,
}

/// Scores a sheet of suspicions in percent. What is left of 100 % is 'something else'; what is over is scaled to 100 %.
/// Lines that mean the truth, by the rule of naming, count as one. `None` for an empty sheet.
#[must_use]
pub fn calibration(sheet: &[(Diagnosis, u8)], truth: &PlacedFault) -> Option<Calibration> {
    if sheet.is_empty() {
        return None;
    }
    let whole: f64 = sheet.iter().map(|(_, percent)| f64::from(*percent)).sum::<f64>().max(100.0);
    let share = |percent: u8| f64::from(percent) / whole;
    let (meant, others): (Vec<_>, Vec<_>) = sheet.iter().partition(|(marked, _)| means(*marked, truth));
    let on_a_line = !meant.is_empty();
    let rest = 1.0 - sheet.iter().map(|(_, percent)| share(*percent)).sum::<f64>();
    let given =
        if on_a_line { meant.iter().map(|(_, percent)| share(*percent)).sum() } else { rest.max(0.0) };
    let mut stated = vec![given];
    stated.extend(others.iter().map(|(_, percent)| share(*percent)));
    if on_a_line {
        stated.push(rest.max(0.0));
    }
    Some(Calibration { on_a_line, given, brier: brier(&stated, 0), surprise_bits: log_score_bits(given) })
}

/// Whether a line means the truth, or one of the things that are wrong: component, kind and place.
fn means(marked: Diagnosis, truth: &PlacedFault) -> bool {
    truth.diagnoses().any(|one| {
        let fit = Fit::of(marked, one, truth);
        fit.component && fit.kind && fit.place >= 1.0
    })
}

#[cfg(test)]
mod tests {
    use super::calibration;
    use crate::fault::{Component, Diagnosis, FaultKind, PlacedFault, Spot};
    use crate::vehicle::{ConductorId, ConnectorId, Deviation, Half, StationId, When};

    /// What a tenth that comes true scores: printed as 3.3219 bits.
    const OF_A_TENTH_BITS: f64 = std::f64::consts::LOG2_10;

    fn open(conductor: usize, station: usize) -> Diagnosis {
        Diagnosis {
            component: Component::Conductor(ConductorId::at(conductor)),
            kind: FaultKind::Open,
            spot: Spot::Station(StationId::at(station)),
        }
    }

    fn placed(diagnosis: Diagnosis, deviations: Vec<Deviation>) -> PlacedFault {
        PlacedFault {
            id: "fault".to_owned(),
            deviations,
            changes: Vec::new(),
            diagnosis,
            also: Vec::new(),
            weight: 1,
        }
    }

    fn scores(sheet: &[(Diagnosis, u8)], truth: Diagnosis) -> (f64, f64) {
        let scored = calibration(sheet, &placed(truth, Vec::new())).expect("a line is on the sheet");
        (scored.brier, scored.surprise_bits)
    }

    #[track_caller]
    fn near(found: (f64, f64), brier: f64, bits: f64) {
        assert!((found.0 - brier).abs() < 1e-12 && (found.1 - bits).abs() < 5e-5, "{found:?}");
    }

    /// Shares of .7, .2 and .1 score .14, 1.14 and 1.34, and .5146, 2.3219 and 3.3219 bits, by which of them is true
    /// (worked out with another program from the definitions in Gneiting and Raftery, JASA 102:359, 2007).
    #[test]
    fn worked_figures_by_which_line_is_true() {
        let sheet = [(open(0, 0), 70), (open(1, 0), 20)];
        near(scores(&sheet, open(0, 0)), 0.14, 0.5146);
        near(scores(&sheet, open(1, 0)), 1.14, 2.3219);
        near(scores(&sheet, open(2, 0)), 1.34, OF_A_TENTH_BITS);
    }

    #[test]
    fn kind_and_place_have_to_be_right_as_in_naming() {
        let sheet = [(open(0, 0), 70), (open(0, 1), 20)];
        near(scores(&sheet, open(0, 1)), 1.14, 2.3219);
        let other_kind = Diagnosis { kind: FaultKind::HighResistance, ..open(0, 0) };
        near(scores(&sheet, other_kind), 1.34, OF_A_TENTH_BITS);
    }

    #[test]
    fn more_than_a_hundred_percent_is_scaled() {
        let whole = [(open(0, 0), 100), (open(1, 0), 100)];
        near(scores(&whole, open(0, 0)), 0.5, 1.0);
        // Nothing is left for something else: a hundredth is what counts, or no score would be finite.
        near(scores(&whole, open(2, 0)), 0.5 + 1.0, 6.6439);
    }

    /// A short between two conductors may stand on either; crossed terminals at either cavity.
    #[test]
    fn two_lines_that_mean_the_same_count_as_one() {
        let short = |conductor| Diagnosis { kind: FaultKind::ShortBetween, ..open(conductor, 0) };
        let (conductor, other) = (ConductorId::at(0), ConductorId::at(1));
        let deviation =
            Deviation::Between { conductor, other, piece: 0, other_piece: 0, ohms: 0.1, when: When::Always };
        let truth = placed(short(0), vec![deviation]);
        let split = calibration(&[(short(0), 40), (short(1), 30), (short(2), 20)], &truth);
        let one = calibration(&[(short(1), 70), (short(2), 20)], &truth);
        assert!(split.is_some() && split.map(|one| one.on_a_line) == Some(true));
        let (split, one) = (split.expect("lines"), one.expect("lines"));
        near((split.brier, split.surprise_bits), one.brier, 0.5146);
        let at = |cavity| Diagnosis {
            component: Component::Connector(ConnectorId::at(0)),
            kind: FaultKind::Crossed,
            spot: Spot::Cavity(cavity),
        };
        let connector = ConnectorId::at(0);
        let crossed = Deviation::Crossed { connector, half: Half::Loom, first: 1, second: 2 };
        let truth = placed(at(1), vec![crossed]);
        assert!(calibration(&[(at(2), 80)], &truth).expect("a line").on_a_line);
        assert!(!calibration(&[(at(3), 80)], &truth).expect("a line").on_a_line);
    }

    #[test]
    fn an_empty_sheet_has_no_score() {
        assert_eq!(calibration(&[], &placed(open(0, 0), Vec::new())), None);
    }
}
