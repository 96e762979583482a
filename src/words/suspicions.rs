//! The suspicion sheet in words.

use super::describe::diagnosis;
use crate::fault::Diagnosis;
use crate::say;
use crate::vehicle::Vehicle;
use crate::words::Texts;

/// The lines of a suspicion sheet, strongest first, and what is left for something else.
#[must_use]
pub fn suspicions(t: Texts, vehicle: &Vehicle, sheet: &[(Diagnosis, u8)]) -> Vec<String> {
    let mut sorted = sheet.to_vec();
    sorted.sort_by_key(|(_, percent)| u8::MAX - percent);
    let mut lines: Vec<String> = sorted
        .iter()
        .map(|(marked, percent)| {
            say!(t, "suspected", fault = diagnosis(t, vehicle, *marked), percent = *percent)
        })
        .collect();
    if !sheet.is_empty() {
        let rest = 100_u32.saturating_sub(total(sheet));
        lines.push(overfull(t, sheet).unwrap_or_else(|| say!(t, "suspected-rest", percent = rest)));
    }
    lines
}

/// What is said where a sheet holds more than 100 %.
#[must_use]
pub fn overfull(t: Texts, sheet: &[(Diagnosis, u8)]) -> Option<String> {
    let total = total(sheet);
    (total > 100).then(|| say!(t, "suspected-overfull", percent = total))
}

fn total(sheet: &[(Diagnosis, u8)]) -> u32 {
    sheet.iter().map(|(_, percent)| u32::from(*percent)).sum()
}
