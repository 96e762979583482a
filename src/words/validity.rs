//! What the marks make of machine learners, in words and for a program.

use std::fmt::Write;

use serde::Serialize;

use super::marking::{part_key, part_of_marks};
use super::texts::Texts;
use crate::learners::{JOBS_IN_A_SET, Learner, Neighbours, Plan, Sample, Standing, Validity};
use crate::marks::Part;

/// Writing to a string does not fail.
const NEVER: &str = "a string takes what it is given";

/// What a machine learner is called.
#[must_use]
pub fn learner(learner: Learner) -> &'static str {
    match learner {
        Learner::Random => "random",
        Learner::Swapper => "swapper",
        Learner::Walker => "walker",
        Learner::Halver => "halver",
        Learner::Greedy => "greedy",
        Learner::Planner => "planner",
    }
}

/// How a machine learner goes about it.
#[must_use]
pub fn learner_way(learner: Learner) -> &'static str {
    match learner {
        Learner::Random => "tests at random, then mends at random, whatever was seen",
        Learner::Swapper => "mends one thing after another by odds against cost",
        Learner::Walker => "tests along the wire",
        Learner::Halver => "makes the test that tells most, whatever it costs",
        Learner::Greedy => "makes the test that tells most for its time",
        Learner::Planner => "follows the plan",
    }
}

fn mean_and_error(sample: &Sample) -> String {
    let error = sample.standard_error();
    if error.is_nan() {
        return format!("{:.1}", sample.mean());
    }
    format!("{:.1} ± {error:.1}", sample.mean())
}

/// The share of jobs, by weight, that were handed in as mended, in percent.
fn mended_percent(standing: &Standing) -> f64 {
    100.0 * standing.sample(|job| f64::from(u8::from(job.mended))).mean()
}

/// What the marks make of the learners, as text.
#[must_use]
pub fn validity_text(validity: &Validity, plan: &Plan) -> String {
    let mut text = format!("{}\n", validity.scenario.title.written());
    let jobs = validity.standings.first().map_or(0, |standing| standing.jobs.len());
    let each = if jobs == 1 { "1 job".to_owned() } else { format!("{jobs} jobs") };
    writeln!(
        text,
        "{each} for each learner, seed {}; {:.0} % of the acts misread\n",
        plan.seed,
        100.0 * plan.misread_share
    )
    .expect(NEVER);
    for one in Learner::ALL {
        writeln!(text, "{:<10}{}", learner(one), learner_way(one)).expect(NEVER);
    }
    text.push_str("\nMarks by part in percent, with the standard error of the mean\n");
    write!(text, "{:<10}{:>8}", "", "mended").expect(NEVER);
    for part in Part::ALL {
        write!(text, "{:>14}", part_key(part)).expect(NEVER);
    }
    writeln!(text, "{:>14}{:>16}{:>16}", "total", "minutes", "lost").expect(NEVER);
    for standing in &validity.standings {
        write!(text, "{:<10}{:>6.0} %", learner(standing.learner), mended_percent(standing)).expect(NEVER);
        for part in Part::ALL {
            write!(text, "{:>14}", mean_and_error(&standing.part(part))).expect(NEVER);
        }
        writeln!(
            text,
            "{:>14}{:>16}{:>16}",
            mean_and_error(&standing.sample(|job| job.total)),
            mean_and_error(&standing.minutes()),
            mean_and_error(&standing.sample(|job| job.lost_minutes))
        )
        .expect(NEVER);
    }
    text.push_str(
        "\nMinutes are those on the clock; parts are counted in. Lost: expected minutes lost by choice.\n",
    );
    writeln!(
        text,
        "\n{}, in the order of the minutes that they take",
        part_of_marks(Texts::english(), Part::Reasoning)
    )
    .expect(NEVER);
    for pair in &validity.neighbours {
        writeln!(
            text,
            "  {:<8} after {:<8} {:>5.1} % fewer minutes; effect size {}; {JOBS_IN_A_SET} jobs rank them rightly in {:.1} % of the sets",
            learner(pair.faster),
            learner(pair.slower),
            100.0 * pair.saved_share,
            effect(pair.effect_size),
            100.0 * pair.ranked_rightly
        )
        .expect(NEVER);
    }
    text
}

fn effect(size: f64) -> String {
    if size.is_infinite() { "without bounds".to_owned() } else { format!("{size:.2}") }
}

#[derive(Serialize)]
struct ValidityLine<'a> {
    scenario: &'a str,
    seed: u64,
    misread_share: f64,
    learners: Vec<LearnerValue>,
    neighbours: Vec<NeighboursValue>,
}

/// A mean and its standard error, which is null below two jobs.
#[derive(Serialize)]
struct MeanValue {
    mean: f64,
    standard_error: Option<f64>,
}

#[derive(Serialize)]
struct PartValue {
    part: &'static str,
    #[serde(flatten)]
    percent: MeanValue,
}

#[derive(Serialize)]
struct LearnerValue {
    learner: &'static str,
    jobs: usize,
    mended_percent: f64,
    parts: Vec<PartValue>,
    total: MeanValue,
    minutes: MeanValue,
    lost_minutes: MeanValue,
}

#[derive(Serialize)]
struct NeighboursValue {
    slower: &'static str,
    faster: &'static str,
    saved_share: f64,
    /// Null where neither has any spread.
    effect_size: Option<f64>,
    ranked_rightly: f64,
}

/// What the marks make of the learners, as one line of JSON.
///
/// # Errors
/// What the writer says; there is nothing in it that JSON cannot hold.
pub fn validity_json(validity: &Validity, plan: &Plan) -> serde_json::Result<String> {
    let mean = |sample: &Sample| MeanValue {
        mean: sample.mean(),
        standard_error: Some(sample.standard_error()).filter(|error| error.is_finite()),
    };
    let of_learner = |standing: &Standing| LearnerValue {
        learner: learner(standing.learner),
        jobs: standing.jobs.len(),
        mended_percent: mended_percent(standing),
        parts: Part::ALL
            .iter()
            .map(|&part| PartValue { part: part_key(part), percent: mean(&standing.part(part)) })
            .collect(),
        total: mean(&standing.sample(|job| job.total)),
        minutes: mean(&standing.minutes()),
        lost_minutes: mean(&standing.sample(|job| job.lost_minutes)),
    };
    let of_pair = |pair: &Neighbours| NeighboursValue {
        slower: learner(pair.slower),
        faster: learner(pair.faster),
        saved_share: pair.saved_share,
        effect_size: Some(pair.effect_size).filter(|size| size.is_finite()),
        ranked_rightly: pair.ranked_rightly,
    };
    serde_json::to_string(&ValidityLine {
        scenario: &validity.scenario.id,
        seed: plan.seed,
        misread_share: plan.misread_share,
        learners: validity.standings.iter().map(of_learner).collect(),
        neighbours: validity.neighbours.iter().map(of_pair).collect(),
    })
}
