//! Records that are worth a talk. They prove nothing: two who follow the same plan on the same fault do the same.

use std::collections::BTreeMap;

use super::gather::{Class, Done};

/// With fewer steps nothing is said of a way or of a pace.
const LEAST_STEPS: usize = 8;
/// A pace of less than this share of the class's median is odd (ours, no source).
const FAST_SHARE: f64 = 0.25;
/// Of a sketch's numbers so many are taken together to find what may be alike.
const BAND: usize = 4;
/// Of a sketch's numbers at least so many are the same in ways that are nearly the same.
const NEARLY: usize = 15;
/// So many records of a bucket are compared with each further one.
const MOST_COMPARED: usize = 50;

/// What is odd.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Odd {
    /// So many seconds a step, where half of the class took more than the second figure.
    Fast(f64, f64),
    /// The same acts in the same order as in that other record.
    SameWay(usize),
    /// Nearly the same acts in nearly the same order as in that other record.
    NearlySameWay(usize),
}

/// An odd record.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Oddity {
    /// Which of those that were done.
    pub of: usize,
    /// What is odd.
    pub odd: Odd,
}

fn pace(done: &Done) -> f64 {
    done.real_ms as f64 / 1000.0 / done.steps.max(1) as f64
}

/// What is odd in a class, in the order of the records.
#[must_use]
pub fn oddities(class: &Class) -> Vec<Oddity> {
    let done = &class.done;
    let long = |at: &usize| done[*at].steps >= LEAST_STEPS;
    let mut odd = Vec::new();
    for item in 0..class.items.len() {
        let of_item: Vec<usize> =
            (0..done.len()).filter(|&at| done[at].item == item).filter(|at| long(at)).collect();
        let mut paces: Vec<f64> = of_item.iter().map(|&at| pace(&done[at])).collect();
        paces.sort_by(f64::total_cmp);
        if let Some(&median) = paces.get(paces.len() / 2).filter(|_| paces.len() >= 3) {
            for &at in of_item.iter().filter(|&&at| pace(&done[at]) < FAST_SHARE * median) {
                odd.push(Oddity { of: at, odd: Odd::Fast(pace(&done[at]), median) });
            }
        }
        let mut ways: BTreeMap<u64, usize> = BTreeMap::new();
        let mut buckets: BTreeMap<(usize, [u32; BAND]), Vec<usize>> = BTreeMap::new();
        for &at in &of_item {
            let this = &done[at];
            match ways.get(&this.way) {
                Some(&other) if done[other].candidate != this.candidate => {
                    odd.push(Oddity { of: at, odd: Odd::SameWay(other) });
                    continue;
                }
                Some(_) => continue,
                None => {
                    ways.insert(this.way, at);
                }
            }
            if let Some(other) = nearly(done, &mut buckets, at) {
                odd.push(Oddity { of: at, odd: Odd::NearlySameWay(other) });
            }
        }
    }
    odd.sort_by_key(|one| one.of);
    odd
}

/// An earlier record of somebody else with nearly the same way; this one is put beside them.
fn nearly(
    done: &[Done],
    buckets: &mut BTreeMap<(usize, [u32; BAND]), Vec<usize>>,
    at: usize,
) -> Option<usize> {
    let this = &done[at];
    let mut found = None;
    for (band, numbers) in this.sketch.as_chunks::<BAND>().0.iter().enumerate() {
        let bucket = buckets.entry((band, *numbers)).or_default();
        let alike = |other: &&usize| {
            let other = &done[**other];
            let same = this.sketch.iter().zip(&other.sketch).filter(|(a, b)| a == b).count();
            same >= NEARLY && other.candidate != this.candidate
        };
        found = found.or_else(|| bucket.iter().rev().take(MOST_COMPARED).find(alike).copied());
        bucket.push(at);
    }
    found
}
