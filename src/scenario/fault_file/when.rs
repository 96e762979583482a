//! When a fault is there: as written, then checked.

use super::written::WhenAsWritten;
use crate::scenario::range::Range;
use crate::vehicle::When;
use crate::written::{At, Problems};

/// When, and how it reads in the fault's name.
pub(super) fn when_of(when: &WhenAsWritten, problems: &mut Problems) -> (When, String) {
    let mut angle = |angle: &At<f64>| Range::LID_DEGREES.check(angle, "a lid's angle", problems);
    match when {
        WhenAsWritten::Always => (When::Always, String::new()),
        WhenAsWritten::LidBelow(edge) => {
            angle(edge);
            (When::LidBelow(edge.value), format!(".lid-below-{}", edge.value))
        }
        WhenAsWritten::LidAbove(edge) => {
            angle(edge);
            (When::LidAbove(edge.value), format!(".lid-above-{}", edge.value))
        }
        WhenAsWritten::LidBetween { low, high } => {
            angle(low);
            angle(high);
            if low.value >= high.value {
                problems.add(
                    high.span,
                    format!("{}° is not above {}°", high.value, low.value),
                    "write the lower angle first",
                );
            }
            (When::LidBetween(low.value, high.value), format!(".lid-{}-to-{}", low.value, high.value))
        }
        WhenAsWritten::Flexed(share) => {
            Range::SHARE.check(share, "how often a flexed loom shows its break", problems);
            (When::Flexed(share.value), ".flexed".to_owned())
        }
        WhenAsWritten::Shaken(share) => {
            Range::SHARE.check(share, "how often a slammed lid leaves it so", problems);
            (When::Shaken(share.value), ".shaken".to_owned())
        }
        WhenAsWritten::ColderThan(edge) => {
            Range::COLDER_CELSIUS.check(edge, "a temperature", problems);
            (When::ColderThan(edge.value), format!(".colder-than-{}", edge.value))
        }
        WhenAsWritten::WarmerThan(edge) => {
            Range::WARMER_CELSIUS.check(edge, "a temperature", problems);
            (When::WarmerThan(edge.value), format!(".warmer-than-{}", edge.value))
        }
        WhenAsWritten::Wet => (When::Wet, ".wet".to_owned()),
    }
}
