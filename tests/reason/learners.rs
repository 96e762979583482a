//! Whether the marks for reasoning rank machine learners of known skill as the minutes that they take do.

use std::process::Command;
use std::sync::Arc;

use probeworthy::learners::{
    JOBS_IN_A_SET, Jobs, Learner, Plan, SETS, Sample, Standing, Validity, effect_size, ranked_rightly,
};
use probeworthy::marks::Part;
use probeworthy::scenario::load;

/// Share of the minutes from which on a difference in skill has to show in the marks.
const FELT_SHARE: f64 = 0.1;
const LEAST_EFFECT: f64 = 0.8;
const LEAST_RIGHT: f64 = 0.95;

fn validity(name: &str, misread_share: f64) -> Validity {
    let file = format!("tests/survey/{name}.scenario.ron");
    let scenario = Arc::new(load(&file).expect("a sound file").scenario);
    let plan = Plan { jobs: Jobs::EachFault, seed: 1, misread_share, threads: 2 };
    Validity::of(scenario, plan).expect("every vehicle has an operating point")
}

fn of(validity: &Validity, learner: Learner) -> &Standing {
    validity.standing(learner).expect("every learner has played")
}

fn marks(standing: &Standing) -> Sample {
    standing.part(Part::Reasoning)
}

/// Whoever of two takes fewer minutes, if they differ by enough, has to be marked better.
fn check(name: &str, one: &Standing, other: &Standing) {
    let (slower, faster) =
        if one.minutes().mean() > other.minutes().mean() { (one, other) } else { (other, one) };
    let saved = 1.0 - faster.minutes().mean() / slower.minutes().mean();
    if saved <= FELT_SHARE {
        return;
    }
    let effect = effect_size(&marks(slower), &marks(faster));
    let right = ranked_rightly(&marks(slower), &marks(faster), JOBS_IN_A_SET, SETS, 1);
    assert!(
        effect > LEAST_EFFECT && right >= LEAST_RIGHT,
        "{name}: {:?} saves {saved:.2} of the minutes of {:?}; effect size {effect:.2}, ranked rightly {right:.3}",
        faster.learner,
        slower.learner
    );
}

/// Any two learners, neighbours or not.
fn check_all(name: &str, validity: &Validity) {
    for (at, &learner) in Learner::ALL.iter().enumerate() {
        for &other in &Learner::ALL[at + 1..] {
            check(name, of(validity, learner), of(validity, other));
        }
    }
}

/// Luck shortens a job and marks it no better: the quickest job of one who swaps parts is marked below what one who tests
/// gets on average, and every job of his below the same job of one who chooses well.
fn check_luck(name: &str, validity: &Validity) {
    let swapper = of(validity, Learner::Swapper);
    let pairs = marks(swapper).jobs.into_iter().zip(marks(of(validity, Learner::Greedy)).jobs);
    let halver = marks(of(validity, Learner::Halver)).mean();
    let shortest = swapper.jobs.iter().map(|job| job.minutes).fold(f64::INFINITY, f64::min);
    for (((swapped, _), (tested, _)), job) in pairs.zip(&swapper.jobs) {
        let fault = &validity.scenario.faults[job.fault].id;
        assert!(swapped < tested, "{name}, {fault}: swapped {swapped}, tested {tested}");
        assert!(
            job.minutes > shortest || swapped < halver,
            "{name}, {fault}: swapped in {:.1} minutes {swapped}, tested on average {halver}",
            job.minutes
        );
    }
}

/// The learners are of the skill that they are said to be of, and the marks rank them so. Where a tenth of what is shown is
/// misread nobody is marked better for it, and one who follows the plan is still ranked above one who swaps parts. The
/// others are not compared then: a single misreading can cost them more than all their choices, and one job of each fault
/// is too few to tell their minutes apart.
fn check_scenario(name: &str) {
    let clear = validity(name, 0.0);
    let minutes = |learner| of(&clear, learner).minutes().mean();
    assert!(minutes(Learner::Random) > minutes(Learner::Swapper), "{name}");
    for learner in [Learner::Walker, Learner::Halver, Learner::Greedy, Learner::Planner] {
        assert!(minutes(Learner::Swapper) > minutes(learner), "{name}: {learner:?}");
    }
    check_all(name, &clear);
    check_luck(name, &clear);
    let blurred = validity(name, 0.1);
    check(name, of(&blurred, Learner::Swapper), of(&blurred, Learner::Planner));
    for learner in Learner::ALL {
        let (clear, blurred) = (marks(of(&clear, learner)).mean(), marks(of(&blurred, learner)).mean());
        assert!(blurred <= clear + 1e-9, "{name}: {learner:?} {blurred} misreading, {clear} without");
    }
}

/// One pool in plain runs; all three under CI, where the minutes that they take are spent once.
#[test]
fn pools_rank_the_learners() {
    let all = std::env::var_os("CI").is_some();
    let pools: &[&str] = if all { &["six-faults", "ten-faults", "twelve-faults"] } else { &["six-faults"] };
    for name in pools {
        check_scenario(name);
    }
}

/// Weights 1 and 3 are one job and three alike: mean 3/4; variance 3/16 · 2; √(2 · (9/16 + 9/16))/4 the standard error.
#[test]
fn figures_of_a_sample_are_as_worked_by_hand() {
    let sample = Sample { jobs: vec![(0.0, 1), (1.0, 3)] };
    assert!((sample.mean() - 0.75).abs() < 1e-12);
    assert!((sample.variance() - 0.375).abs() < 1e-12);
    assert!((sample.standard_error() - 0.375).abs() < 1e-12);
    let even = |figures: [f64; 3]| Sample { jobs: figures.map(|figure| (figure, 1)).to_vec() };
    // Variances of 1 each, means 2 apart.
    let (low, high) = (even([1.0, 2.0, 3.0]), even([3.0, 4.0, 5.0]));
    assert!((effect_size(&low, &high) - 2.0).abs() < 1e-12);
    let (right, wrong) = (ranked_rightly(&low, &high, 10, 500, 7), ranked_rightly(&high, &low, 10, 500, 7));
    assert!(right > 0.99 && wrong < 0.01, "{right} {wrong}");
}

#[test]
fn the_command_prints_the_same_on_any_number_of_threads() {
    let run = |threads: &str| {
        let command = ["validity", "tests/survey/two-faults.scenario.ron", "--json", "--misread", "0.2"];
        let output = Command::new(env!("CARGO_BIN_EXE_probeworthy"))
            .args(command)
            .args(["--threads", threads])
            .output()
            .expect("the program runs");
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        String::from_utf8(output.stdout).expect("it is text")
    };
    let one = run("1");
    let value: serde_json::Value = serde_json::from_str(&one).expect("one object");
    assert_eq!(value["learners"].as_array().map(Vec::len), Some(Learner::ALL.len()));
    assert_eq!(one, run("3"));
}
