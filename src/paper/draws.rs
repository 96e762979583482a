//! Which seeds a paper takes: faults of equal difficulty, within a band.

use std::collections::BTreeMap;

use crate::fault::draw;
use crate::reasoning::SuspectKind;
use crate::scenario::Scenario;
use crate::survey::{Branch, Survey};

/// Minutes of the plan within which a fault counts as of equal difficulty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Band {
    /// The least.
    pub from_minutes: f64,
    /// The most.
    pub to_minutes: f64,
}

/// Which faults of a pool a paper may draw.
#[derive(Clone, Debug)]
pub struct Pick {
    /// The band.
    pub band: Band,
    /// By fault of the pool: the minutes of the plan if it is that one.
    pub minutes: Vec<f64>,
    /// By fault: it lies within the band.
    pub within: Vec<bool>,
}

/// By fault of the pool: expected minutes of the survey's plan if it is that one, parts counted in.
#[must_use]
pub fn minutes_by_fault(survey: &Survey) -> Vec<f64> {
    let mut minutes = vec![0.0; survey.scenario.faults.len()];
    let share = |branch: &Branch| -> BTreeMap<usize, f64> {
        let pool = branch.left.iter().filter_map(|&(kind, share)| match kind {
            SuspectKind::Pool(at) => Some((at, share * branch.probability)),
            SuspectKind::Sound | SuspectKind::Outside => None,
        });
        pool.collect()
    };
    let prior = share(&survey.plan);
    let mut todo = vec![&survey.plan];
    while let Some(branch) = todo.pop() {
        // What is done here takes what is expected from here, less what is expected after it.
        let after: f64 = branch.outcomes.iter().map(|next| next.probability * next.minutes).sum();
        let here = branch.minutes - after / branch.probability.max(f64::MIN_POSITIVE);
        for (fault, weight) in share(branch) {
            if let Some(whole) = prior.get(&fault).filter(|whole| **whole > 0.0) {
                minutes[fault] += here * weight / whole;
            }
        }
        todo.extend(&branch.outcomes);
    }
    minutes
}

impl Pick {
    /// Faults within so many percent of the middle one: half of all jobs take more minutes than it, half fewer.
    #[must_use]
    pub fn new(survey: &Survey, percent: f64) -> Self {
        let minutes = minutes_by_fault(survey);
        let faults = &survey.scenario.faults;
        let mut order: Vec<usize> = (0..faults.len()).collect();
        order.sort_by(|&a, &b| minutes[a].total_cmp(&minutes[b]).then(a.cmp(&b)));
        let whole: u64 = faults.iter().map(|fault| fault.weight).sum();
        let mut below = 0;
        let middle = order.iter().find(|&&at| {
            below += faults[at].weight;
            below * 2 >= whole
        });
        let middle = middle.map_or(0.0, |&at| minutes[at]);
        let band = Band {
            from_minutes: middle * (1.0 - percent / 100.0),
            to_minutes: middle * (1.0 + percent / 100.0),
        };
        let within = minutes.iter().map(|one| (band.from_minutes..=band.to_minutes).contains(one)).collect();
        Self { band, minutes, within }
    }

    /// How many faults can be drawn.
    #[must_use]
    pub fn count(&self, scenario: &Scenario) -> usize {
        self.within
            .iter()
            .zip(&scenario.faults)
            .filter(|(within, fault)| **within && fault.weight > 0)
            .count()
    }
}

/// Draws that are made in vain before a seed is given up.
const MOST_DRAWS: usize = 1_000_000;

/// So many seeds whose faults lie within the band, no two alike; each fault by its odds.
///
/// # Errors
/// What `random` says where it gives nothing; `None` where the band holds next to nothing.
pub fn pick_seeds(
    scenario: &Scenario,
    pick: &Pick,
    count: usize,
    random: &mut dyn FnMut() -> std::io::Result<u64>,
) -> std::io::Result<Option<Vec<u64>>> {
    let mut seeds: Vec<u64> = Vec::new();
    for _ in 0..MOST_DRAWS {
        if seeds.len() == count {
            return Ok(Some(seeds));
        }
        let seed = random()?;
        let Some(drawn) = draw(&scenario.faults, seed) else { return Ok(None) };
        let at = scenario.faults.iter().position(|fault| fault.id == drawn.id);
        if at.is_some_and(|at| pick.within[at]) && !seeds.contains(&seed) {
            seeds.push(seed);
        }
    }
    Ok((seeds.len() == count).then_some(seeds))
}
