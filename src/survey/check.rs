//! What is wrong with a scenario's file that can be read.

use super::complaint::{ShutWhenSound, Trials};
use crate::bench::{InstrumentErrors, World, minutes};
use crate::reasoning::{Remedy, Stand};
use crate::scenario::{Loaded, Scenario};
use crate::written::Problem;

/// What is there in a language by half; a par that nobody can reach; and a vehicle that fails its trials when it is sound, or else faults of the pool that
/// cannot give the complaint: found out by running each.
#[must_use]
pub fn pool_problems(loaded: &Loaded) -> Vec<Problem> {
    let scenario = &loaded.scenario;
    let mut problems = loaded.half_translated.clone();
    problems.extend(unreachable_par(loaded));
    let sound = Trials::of(scenario).map_err(ShutWhenSound::Unsolved);
    let sound = sound.and_then(|trials| trials.succeed_when_sound().map(|()| trials));
    let trials = match sound {
        Ok(trials) => trials,
        Err(why) => {
            problems.push(Problem {
                span: loaded.trials_span,
                what: why.to_string(),
                hint: "play a job on it with the lid shut and find out why, or take the trial out".to_owned(),
            });
            return in_order(problems);
        }
    };
    let told = scenario.faults.iter().zip(&loaded.fault_spans).filter_map(|(fault, span)| {
        let why = trials.give(fault).err()?;
        Some(Problem {
            span: *span,
            what: format!("{}: {why}", fault.id),
            hint: "take it out of the pool, or make it worse until a trial fails".to_owned(),
        })
    });
    problems.extend(told);
    in_order(problems)
}

fn in_order(mut problems: Vec<Problem>) -> Vec<Problem> {
    problems.sort_by_key(|problem| problem.span.start);
    problems
}

/// A par below what the repairs take, had one known every fault beforehand.
fn unreachable_par(loaded: &Loaded) -> Option<Problem> {
    let par = loaded.scenario.par_minutes;
    let repairs = repair_minutes(&loaded.scenario);
    (par < repairs).then(|| Problem {
        span: loaded.par_span,
        what: format!("nobody can reach a par of {par} min: the repairs alone take {repairs:.1} min on average"),
        hint: format!(
            "write at least {:.0}; half as much again as the plan's minutes, which `probeworthy survey` tells, is a good par",
            repairs.ceil()
        ),
    })
}

/// Minutes of the repairs alone, had one known the fault: on average over the pool.
#[must_use]
pub fn repair_minutes(scenario: &Scenario) -> f64 {
    let vehicle = &scenario.vehicle;
    let errors = InstrumentErrors::NONE;
    let Ok(sound) = World::standing(vehicle, None, errors, scenario.conditions) else { return 0.0 };
    let mut whole = 0.0;
    let mut total = 0.0;
    for fault in &scenario.faults {
        let remedy = Remedy::of(vehicle, Some(fault), &fault.stands(vehicle));
        let acts = remedy.acts_from(vehicle, &Stand::default());
        let taken: f64 = acts.iter().map(|act| minutes(vehicle, &sound, act)).sum();
        whole += fault.weight as f64 * taken;
        total += fault.weight as f64;
    }
    if total > 0.0 { whole / total } else { 0.0 }
}
