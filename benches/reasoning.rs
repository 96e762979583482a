//! How long reasoning takes: what every test is worth after each step of a job, and whole surveys; how much memory that needs,
//! and how good the plan is. `cargo bench --no-default-features --bench reasoning`
//!
//! Machines differ: beside the times stands the ratio to a dense factorisation (nalgebra) that is measured by turns with
//! them.
#![allow(clippy::print_stdout, reason = "that is what it is for")]
#![allow(missing_docs, reason = "a program of its own")]

use std::hint::black_box;
use std::sync::Arc;
use std::time::Instant;

use probeworthy::job::{Choice, Job, NoJournal};
use probeworthy::reasoning::{Inquiry, MOST_EXPANSIONS, Planner, Stand, Worth};
use probeworthy::scenario::{self, Scenario};
use probeworthy::survey::Survey;

const FLAGSHIP: &str = "tailgate-ignores-its-key";
const LARGE: &str = "tests/survey/five-hundred-faults.scenario.ron";
/// Small pools, on which the plan may be exact.
const SMALL: [&str; 8] = [
    "behind-trim",
    "dear-part",
    "lid-moves-it",
    "row",
    "shared-ground",
    "six-faults",
    "ten-faults",
    "twelve-faults",
];
/// On how many threads surveys are made, as their bars say.
const THREADS: usize = 2;
/// Rounds of which the median is taken, and those of what takes seconds.
const ROUNDS: usize = 15;
const LONG_ROUNDS: usize = 3;
/// Steps of a job after which worth is measured, at most. On the large pool each takes a minute to be taken in.
const STEPS: usize = 8;
const LARGE_STEPS: usize = 2;
/// Bars.
const WORTH_MS: f64 = 16.0;
const WORTH_LARGE_MS: f64 = 100.0;
const SURVEY_MS: f64 = 1000.0;
const SURVEY_LARGE_SECONDS: f64 = 20.0;
const MEMORY_MB: f64 = 500.0;

fn main() {
    let flagship = load(FLAGSHIP);
    let inquiry = inquire(&flagship);
    let worth_ms = worths("the flagship", &inquiry, STEPS);
    drop(inquiry);

    let mut survey = None;
    let rounds: Vec<(f64, f64)> = (0..LONG_ROUNDS)
        .map(|_| {
            let (made, seconds) = surveyed(&flagship);
            survey = Some(made);
            (seconds, reference_seconds())
        })
        .collect();
    let survey = survey.expect("there was a round");
    let survey_ms = 1e3 * median(rounds.iter().map(|(ours, _)| *ours).collect());
    let reference_ratio = median(rounds.iter().map(|(ours, theirs)| ours / theirs).collect());
    tell(&survey, survey_ms * 1e-3);
    let gap_percent = survey.gap_percent();
    println!("  {reference_ratio:.2} times the dense factorisations (nalgebra)");
    let small_memory_mb = peak_memory_mb();
    println!("  memory at its peak until now: {}", megabytes(small_memory_mb));
    drop(survey);

    println!(
        "small pools: the plan against the lower bound, and the plan without a search against the exact one"
    );
    for name in SMALL {
        small(name);
    }

    let large = load(LARGE);
    let (survey, survey_large_s) = surveyed(&large);
    tell(&survey, survey_large_s);
    drop(survey);
    let memory_mb = peak_memory_mb();
    println!("  memory at its peak until now: {}", megabytes(memory_mb));
    let worth_large_ms = worths("the large pool", &inquire(&large), LARGE_STEPS);

    for (what, is, most, unit) in [
        ("worth of every test, flagship", worth_ms, WORTH_MS, "ms"),
        ("worth of every test, large pool", worth_large_ms, WORTH_LARGE_MS, "ms"),
        ("survey, flagship", survey_ms, SURVEY_MS, "ms"),
        ("survey, large pool", survey_large_s, SURVEY_LARGE_SECONDS, "s"),
        ("memory at its peak", memory_mb.unwrap_or(f64::NAN), MEMORY_MB, "MB"),
    ] {
        let verdict = if is.is_nan() {
            "not measured"
        } else if is <= most {
            "met"
        } else {
            "MISSED"
        };
        println!("bar: {what}: {is:.1} {unit}, at most {most} wanted: {verdict}");
    }
    println!(
        "figures: worth_ms={worth_ms:.2} worth500_ms={worth_large_ms:.2} survey_ms={survey_ms:.0} survey500_s={survey_large_s:.1} gap_percent={gap_percent:.1} memory_mb={:.0} reference_ratio={reference_ratio:.2}",
        memory_mb.unwrap_or(f64::NAN)
    );
}

fn load(name: &str) -> Arc<Scenario> {
    Arc::new(scenario::load(name).unwrap_or_else(|why| panic!("{why}")).scenario)
}

fn inquire(scenario: &Arc<Scenario>) -> Inquiry {
    Inquiry::new(Arc::clone(scenario), THREADS).expect("every vehicle has an operating point")
}

/// A survey as the program makes it, and its seconds.
fn surveyed(scenario: &Arc<Scenario>) -> (Survey, f64) {
    let begun = now();
    let survey = Survey::new(Arc::clone(scenario), THREADS).expect("every vehicle has an operating point");
    let seconds = begun.elapsed().as_secs_f64();
    (survey, seconds)
}

fn tell(survey: &Survey, seconds: f64) {
    println!(
        "survey of {}: {} faults, {} tests, {} of them tell something and differ, {} figures and acts worked out",
        survey.scenario.id,
        survey.scenario.faults.len(),
        survey.tests,
        survey.telling_tests,
        survey.readings
    );
    println!("  {seconds:.2} s on {THREADS} threads");
    println!(
        "  plan {:.2} min{}, lower bound {:.2} min, gap {:.1} %",
        survey.expected_minutes,
        if survey.exact { ", exact" } else { "" },
        survey.lower_bound_minutes,
        survey.gap_percent()
    );
}

/// Plays a job and measures after each step what it takes to know the worth of every test, on one core; the longest, in
/// milliseconds. Whoever plays it takes the test with the most bits a minute.
fn worths(what: &str, fresh: &Inquiry, steps: usize) -> f64 {
    let scenario = fresh.scenario();
    let vehicle = &scenario.vehicle;
    println!("worth of every available test, {what}, after each step of a job:");
    let choice = Choice::Named(scenario.faults[0].id.clone());
    let mut job = Job::new(Arc::clone(scenario), 1, choice).expect("it is of the pool");
    let mut inquiry = fresh.clone();
    let mut longest: f64 = 0.0;
    for step in 0..steps {
        let stand = Stand::of_scene(vehicle, job.scene());
        let milliseconds = median(
            (0..ROUNDS)
                .map(|_| {
                    let begun = now();
                    let (problem, setup) = inquiry.problem(&stand);
                    black_box(problem.worths(setup));
                    1e3 * begun.elapsed().as_secs_f64()
                })
                .collect(),
        );
        longest = longest.max(milliseconds);
        let (problem, setup) = inquiry.problem(&stand);
        let worths = problem.worths(setup);
        println!(
            "  step {step}: {} suspects possible, {} tests, {} columns: {milliseconds:.2} ms",
            inquiry.possible(),
            inquiry.outlook().menu.tests.len(),
            problem.tests.len()
        );
        let best = (0..worths.len()).max_by(|&a, &b| rate(&worths[a]).total_cmp(&rate(&worths[b])));
        let Some(best) = best.filter(|&at| worths[at].bits > 1e-6) else { break };
        let begun = now();
        let acts = inquiry.outlook().menu.acts_from(vehicle, &stand, problem.tests[best].origin);
        let count = acts.len();
        for act in acts {
            let done = job.apply(act.clone(), &mut NoJournal).expect("the act can be done");
            let outcome = done.outcome.clone();
            inquiry.observe(&act, &outcome).expect("every vehicle has an operating point");
        }
        let seconds = begun.elapsed().as_secs_f64();
        println!("    {count} acts done and taken in, {:.0} ms on {THREADS} threads", 1e3 * seconds);
    }
    longest
}

fn rate(worth: &Worth) -> f64 {
    if worth.bits > 1e-6 { worth.rate() } else { 0.0 }
}

/// A small pool's plan.
fn small(name: &str) {
    let scenario = load(&format!("tests/survey/{name}.scenario.ron"));
    let inquiry = inquire(&scenario);
    let (problem, setup) = inquiry.problem(&inquiry.outlook().menu.stands[0]);
    let plan = Planner::new(&problem, MOST_EXPANSIONS).plan(setup);
    let rolled = Planner::new(&problem, 0).plan(setup);
    let gap = |minutes: f64, least: f64| 100.0 * (minutes - least) / least.max(f64::MIN_POSITIVE);
    let to_exact = if plan.exact {
        format!(", without a search {:.2} % over it", gap(rolled.minutes, plan.minutes))
    } else {
        String::new()
    };
    println!(
        "  {name}: {} faults, {} columns: {} {:.2} min, {:.1} % over the bound{to_exact}",
        scenario.faults.len(),
        problem.tests.len(),
        if plan.exact { "exact" } else { "found" },
        plan.minutes,
        gap(plan.minutes, plan.lower_bound)
    );
}

/// Seconds of a fixed amount of dense factorisation.
fn reference_seconds() -> f64 {
    const SIZE: usize = 240;
    const TIMES: usize = 400;
    // A chain of conductances, each node with one to ground, and some that reach far.
    let mut matrix = nalgebra::DMatrix::<f64>::zeros(SIZE, SIZE);
    for at in 0..SIZE {
        matrix[(at, at)] += 0.5;
        for (other, siemens) in [((at + 1) % SIZE, 3.0), ((at * 7 + 11) % SIZE, 0.25)] {
            if other != at {
                matrix[(at, at)] += siemens;
                matrix[(other, other)] += siemens;
                matrix[(at, other)] -= siemens;
                matrix[(other, at)] -= siemens;
            }
        }
    }
    let begun = now();
    for _ in 0..TIMES {
        let factor = nalgebra::Cholesky::new(black_box(matrix.clone())).expect("positive definite");
        black_box(factor.l_dirty());
    }
    begun.elapsed().as_secs_f64()
}

/// The most memory that the process has had, in megabytes; where the system tells.
fn peak_memory_mb() -> Option<f64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    let kilobytes: f64 = line.trim().strip_suffix("kB")?.trim().parse().ok()?;
    Some(kilobytes / 1024.0)
}

fn megabytes(memory: Option<f64>) -> String {
    memory.map_or_else(|| "not told by this system".to_owned(), |mb| format!("{mb:.0} MB"))
}

fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}

#[expect(clippy::disallowed_methods, reason = "a bench is there to look at the clock")]
fn now() -> Instant {
    Instant::now()
}
