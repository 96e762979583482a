//! The suspicion sheet in words.

use super::describe::diagnosis;
use crate::fault::Diagnosis;
use crate::vehicle::Vehicle;

/// The lines of a suspicion sheet, strongest first, and what is left for something else.
#[must_use]
pub fn suspicions(vehicle: &Vehicle, sheet: &[(Diagnosis, u8)]) -> Vec<String> {
    let mut sorted = sheet.to_vec();
    sorted.sort_by_key(|(_, percent)| u8::MAX - percent);
    let mut lines: Vec<String> = sorted
        .iter()
        .map(|(marked, percent)| format!("suspected: {} ({percent} %)", diagnosis(vehicle, *marked)))
        .collect();
    if !sheet.is_empty() {
        let rest = 100_u32.saturating_sub(total(sheet));
        lines.push(overfull(sheet).unwrap_or_else(|| format!("left for something else: {rest} %")));
    }
    lines
}

/// What is said where a sheet holds more than 100 %.
#[must_use]
pub fn overfull(sheet: &[(Diagnosis, u8)]) -> Option<String> {
    let total = total(sheet);
    (total > 100).then(|| {
        format!("the suspicion sheet holds {total} % in all: for the score it is scaled to 100 %, and nothing is left for something else")
    })
}

fn total(sheet: &[(Diagnosis, u8)]) -> u32 {
    sheet.iter().map(|(_, percent)| u32::from(*percent)).sum()
}
