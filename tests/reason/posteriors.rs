//! Posteriors and information of random networks of faults and tests, beside what a general library for Bayesian
//! networks makes of them, and scores of random forecasts beside a library for statistics: `posteriors/compare.py` writes
//! both, this answers, and the script compares.
//!
//! The files are named by PROBEWORTHY_NETWORKS and PROBEWORTHY_ANSWERS, as `.ci/run` does it. Without them only a
//! network that was worked out by hand is held to its figures.

use std::{env, fs};

use probeworthy::reasoning::score::{brier, log_score_bits};
use probeworthy::reasoning::{Column, Posterior, Problem};
use serde::{Deserialize, Serialize};

/// One fault of several, tests that depend on it, and what some of them showed.
#[derive(Deserialize)]
struct Network {
    /// By hypothesis, its prior weight.
    weights: Vec<f64>,
    /// By hypothesis, the repair that mends it.
    groups: Vec<usize>,
    /// By test and hypothesis, the probability of each outcome.
    chances: Vec<Vec<Vec<f64>>>,
    /// Tests that were made, and the outcome of each.
    seen: Vec<(usize, usize)>,
}

/// What is to be compared.
#[derive(Serialize)]
struct Answer {
    /// By hypothesis, its probability.
    posterior: Vec<f64>,
    /// What is not known of the repair, in bits.
    unknown_bits: f64,
    /// By test, what making it once more tells of the repair, in bits.
    bits: Vec<f64>,
}

/// Probabilities that were stated, and which of them came true.
#[derive(Deserialize)]
struct Forecast {
    stated: Vec<f64>,
    truth: usize,
}

/// What the script writes.
#[derive(Deserialize)]
struct Asked {
    networks: Vec<Network>,
    forecasts: Vec<Forecast>,
}

/// What it compares: of each forecast Brier's score, and the logarithmic one in bits.
#[derive(Serialize)]
struct Answered {
    networks: Vec<Answer>,
    forecasts: Vec<(f64, f64)>,
}

/// A test as reason holds it: without chance where every hypothesis has one outcome alone.
fn column(rows: &[Vec<f64>]) -> Column {
    let entries = |row: &Vec<f64>| -> Vec<(f64, u16)> {
        row.iter().copied().zip(0..).filter(|(share, _)| *share > 0.0).collect()
    };
    let rows: Vec<Vec<(f64, u16)>> = rows.iter().map(entries).collect();
    let alone: Option<Vec<u16>> =
        rows.iter().map(|row| if let [(_, class)] = row.as_slice() { Some(*class) } else { None }).collect();
    alone.map_or(Column::Chances(rows), Column::Certain)
}

fn answer(network: &Network) -> Answer {
    let mut posterior = Posterior::new(&network.weights);
    for &(test, outcome) in &network.seen {
        let likelihoods: Vec<f64> = network.chances[test].iter().map(|row| row[outcome]).collect();
        posterior.observe(&likelihoods);
    }
    let tests = network.chances.iter().map(|rows| (1.0, column(rows))).collect();
    let mut problem = Problem::of_tests(posterior.probabilities(), tests);
    problem.group.clone_from(&network.groups);
    Answer {
        posterior: posterior.probabilities(),
        unknown_bits: posterior.bits(&network.groups),
        bits: problem.worths(0).iter().map(|worth| worth.bits).collect(),
    }
}

/// Two alike, a test that is right nine times of ten and has said so once: 0.9 and 0.1 by Bayes' rule, and the next one
/// tells h(0.82) − h(0.1) of the h(0.1) that are open, with h(x) the entropy of x and 1 − x.
#[test]
fn a_network_by_hand() {
    let network = Network {
        weights: vec![1.0, 1.0],
        groups: vec![0, 1],
        chances: vec![vec![vec![0.9, 0.1], vec![0.1, 0.9]], vec![vec![1.0, 0.0], vec![0.0, 1.0]]],
        seen: vec![(0, 0)],
    };
    let found = answer(&network);
    let figures = [found.posterior, vec![found.unknown_bits], found.bits].concat();
    for (got, wanted) in figures.iter().zip([0.9, 0.1, 0.468996, 0.211081, 0.468996]) {
        assert!((got - wanted).abs() < 5e-7, "{figures:?}");
    }
}

#[test]
fn networks_that_were_written_for_comparison() {
    let (networks, answers) = match (env::var("PROBEWORTHY_NETWORKS"), env::var("PROBEWORTHY_ANSWERS")) {
        (Ok(networks), Ok(answers)) => (networks, answers),
        (Err(_), Err(_)) => return,
        _ => panic!("both PROBEWORTHY_NETWORKS and PROBEWORTHY_ANSWERS name a file, or neither does"),
    };
    let text = fs::read_to_string(networks).expect("the networks can be read");
    let asked: Asked = serde_json::from_str(&text).expect("it is as the script writes it");
    let score = |one: &Forecast| (brier(&one.stated, one.truth), log_score_bits(one.stated[one.truth]));
    let answered = Answered {
        networks: asked.networks.iter().map(answer).collect(),
        forecasts: asked.forecasts.iter().map(score).collect(),
    };
    let text = serde_json::to_string(&answered).expect("every figure is a number");
    fs::write(answers, text).expect("the answers can be written");
}
