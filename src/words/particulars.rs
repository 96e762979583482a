//! The faults of a pool, told apart: those of one name by when they are there, and by how bad they are.

use std::collections::BTreeMap;

use super::describe::fault_title;
use crate::fault::PlacedFault;
use crate::say;
use crate::vehicle::{Deviation, Vehicle, When};
use crate::words::Texts;

/// What the faults of a pool are called, in their order. Where several would read alike, each says when it is there too, and
/// where that does not part them, how bad it is; its name in the file is what is left.
#[must_use]
pub fn fault_titles_apart(t: Texts, vehicle: &Vehicle, faults: &[PlacedFault]) -> Vec<String> {
    let mut titles: Vec<String> = faults.iter().map(|fault| fault_title(t, vehicle, fault)).collect();
    for more in [all_whens, all_measures, its_id] {
        let mut alike = BTreeMap::<String, usize>::new();
        for title in &titles {
            *alike.entry(title.clone()).or_default() += 1;
        }
        for (title, fault) in titles.iter_mut().zip(faults) {
            let more = if alike[title.as_str()] > 1 { more(t, fault) } else { Vec::new() };
            for what in more {
                *title = say!(t, "fault-with", fault = &*title, what = what);
            }
        }
    }
    titles
}

fn all_whens(t: Texts, fault: &PlacedFault) -> Vec<String> {
    each(fault, |deviation| when(t, deviation.when()))
}

fn all_measures(t: Texts, fault: &PlacedFault) -> Vec<String> {
    each(fault, |deviation| measure(t, deviation))
}

fn its_id(_: Texts, fault: &PlacedFault) -> Vec<String> {
    vec![fault.id.clone()]
}

/// What is said of its deviations, each thing once.
fn each(fault: &PlacedFault, said: impl Fn(&Deviation) -> Option<String>) -> Vec<String> {
    let mut all: Vec<String> = fault.deviations.iter().filter_map(said).collect();
    all.dedup();
    all
}

/// When something is there, if it is not always.
fn when(t: Texts, when: When) -> Option<String> {
    let percent = |share: f64| format!("{:.0}", 100.0 * share);
    Some(match when {
        When::Always => return None,
        When::LidBelow(degrees) => say!(t, "fault-lid-below", degrees = degrees),
        When::LidAbove(degrees) => say!(t, "fault-lid-above", degrees = degrees),
        When::LidBetween(low, high) => say!(t, "fault-lid-between", low = low, high = high),
        When::Flexed(share) => say!(t, "fault-flexed", percent = percent(share)),
        When::Shaken(share) => say!(t, "fault-shaken", percent = percent(share)),
        When::Turned(share) => say!(t, "fault-turned", percent = percent(share)),
        When::ColderThan(celsius) => say!(t, "fault-colder", celsius = celsius),
        When::WarmerThan(celsius) => say!(t, "fault-warmer", celsius = celsius),
        When::Wet => t.say("fault-wet").to_owned(),
    })
}

/// How bad something is, if there is a measure for it.
fn measure(t: Texts, deviation: &Deviation) -> Option<String> {
    let ohms = match *deviation {
        Deviation::Series { ohms, .. }
        | Deviation::ToBody { ohms, .. }
        | Deviation::Between { ohms, .. }
        | Deviation::Contact { ohms, .. }
        | Deviation::Clips { ohms, .. }
        | Deviation::Stud { ohms, .. }
        | Deviation::Film { ohms, .. }
        | Deviation::Winding(_, ohms)
        | Deviation::PartShorted(_, ohms)
        | Deviation::ContactBurnt(_, ohms) => ohms,
        Deviation::Strands { left, of, .. } => {
            return Some(say!(t, "fault-strands", left = left, of = of));
        }
        Deviation::Stiff(_, amps) => return Some(say!(t, "fault-amps", amps = amps)),
        Deviation::KeyCell(volts, _) | Deviation::Battery(volts, _) => {
            return Some(say!(t, "fault-volts", volts = volts));
        }
        _ => return None,
    };
    ohms.is_finite().then(|| say!(t, "fault-ohms", ohms = ohms))
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::scenario::{SHELF, load};
    use crate::words::Language;

    #[test]
    fn no_two_faults_of_a_pool_read_alike_and_what_has_a_name_of_its_own_has_no_more() {
        for one in SHELF {
            let scenario = load(one.id).expect(one.id).scenario;
            for t in Language::ALL.map(Texts::of) {
                let titles = fault_titles_apart(t, &scenario.vehicle, &scenario.faults);
                let all: BTreeSet<&String> = titles.iter().collect();
                assert_eq!(all.len(), titles.len(), "{}: {titles:#?}", one.id);
                let plain: Vec<String> =
                    scenario.faults.iter().map(|fault| fault_title(t, &scenario.vehicle, fault)).collect();
                for (title, own) in titles.iter().zip(&plain) {
                    let alike = plain.iter().filter(|other| *other == own).count();
                    // Of those alike, one that is always there may keep its plain name.
                    assert!(title == own || alike > 1, "{}: {title}", one.id);
                }
            }
        }
    }
}
