//! How long scenario and vehicle files take to read and check, and the largest wiring diagram to lay out, on one core.
//! `cargo bench --no-default-features --bench loading`
//!
//! Machines differ and are noisy: beside every time stands its ratio to a reference that is measured by turns with it, a
//! dense Cholesky factorisation of 240 rows (nalgebra).
#![allow(clippy::print_stdout, reason = "that is what it is for")]
#![allow(missing_docs, reason = "a program of its own")]

use std::hint::black_box;
use std::path::{Path, PathBuf};
use std::time::Instant;

use nalgebra::{Cholesky, DMatrix};
use probeworthy::diagram::Diagram;
use probeworthy::scenario::{SHELF, VEHICLES, check_file, load_vehicle};
use probeworthy::survey::pool_problems;
use probeworthy::words::{Texts, diagram_names, diagram_svg};

/// Rounds of which the median is taken.
const ROUNDS: usize = 5;
/// Rows of the reference.
const ROWS: usize = 240;
/// Bars, in seconds.
const SHELF_BAR: f64 = 1.0;
const SCENARIO_BAR: f64 = 0.02;
const DIAGRAM_BAR: f64 = 0.1;

fn main() {
    let reference = Reference::new();
    println!(
        "the reference, a dense Cholesky of {ROWS} rows (nalgebra): {:.3} ms",
        1e3 * reference.seconds()
    );

    let vehicles = Path::new("assets/vehicles");
    for (id, _) in VEHICLES {
        let path = vehicles.join(format!("{id}.vehicle.ron"));
        let (seconds, ratio) = reference.beside(|| check(&path));
        tell(&format!("{id}: reading and checking the vehicle"), seconds, ratio);
    }
    let files: Vec<PathBuf> = SHELF.iter().map(|shelf| Path::new("scenarios").join(shelf.file)).collect();
    let mut slowest = ("", 0.0_f64);
    let mut over = 0;
    for (shelf, path) in SHELF.iter().zip(&files) {
        let (seconds, ratio) = reference.beside(|| check(path));
        tell(&format!("{}: reading, checking and playing its pool", shelf.id), seconds, ratio);
        over += usize::from(seconds > SCENARIO_BAR);
        if seconds > slowest.1 {
            slowest = (shelf.id, seconds);
        }
    }
    let (shelf, shelf_ratio) = reference.beside(|| {
        files.iter().for_each(|path| check(path));
        VEHICLES.iter().for_each(|(id, _)| check(&vehicles.join(format!("{id}.vehicle.ron"))));
    });
    tell("the whole shelf", shelf, shelf_ratio);

    let all = VEHICLES.iter().map(|(id, _)| load_vehicle(id).expect("a vehicle of the shelf"));
    let largest = all.max_by_key(|vehicle| vehicle.conductors.len()).expect("there are vehicles");
    let (diagram, diagram_ratio) = reference.beside(|| {
        black_box(diagram_svg(&largest, &Diagram::of(&largest, &diagram_names(Texts::english()))));
    });
    tell(
        &format!("{}: its diagram, {} conductors", largest.id, largest.conductors.len()),
        diagram,
        diagram_ratio,
    );

    for (what, seconds, bar) in [
        ("the whole shelf", shelf, SHELF_BAR),
        (slowest.0, slowest.1, SCENARIO_BAR),
        ("the largest diagram", diagram, DIAGRAM_BAR),
    ] {
        let verdict = if seconds <= bar { "met" } else { "MISSED" };
        println!("bar: {what}: {:.1} ms, at most {:.0} wanted: {verdict}", 1e3 * seconds, 1e3 * bar);
    }
    println!(
        "figures: shelf_ms={:.1} shelf_ratio={shelf_ratio:.0} scenarios_over_bar={over} of {} diagram_ms={:.1} diagram_ratio={diagram_ratio:.1}",
        1e3 * shelf,
        SHELF.len(),
        1e3 * diagram
    );
}

/// Reads and checks a file as `probeworthy check` does.
fn check(path: &Path) {
    let loaded = check_file(path).unwrap_or_else(|why| panic!("{why}"));
    if let Some(loaded) = loaded {
        let problems = pool_problems(&loaded);
        assert!(problems.is_empty(), "{}: {problems:?}", path.display());
    }
}

fn tell(what: &str, seconds: f64, ratio: f64) {
    println!("  {what}: {:.2} ms, {ratio:.1} references", 1e3 * seconds);
}

/// What everything is measured beside.
struct Reference(DMatrix<f64>);

impl Reference {
    fn new() -> Self {
        // A loom in a row, grounded everywhere a little: positive definite.
        let entry = |row: usize, column: usize| match row.abs_diff(column) {
            0 => 4.0,
            apart => -1.0 / (apart * apart) as f64,
        };
        Self(DMatrix::from_fn(ROWS, ROWS, entry))
    }

    fn seconds(&self) -> f64 {
        const TIMES: usize = 5;
        let begun = now();
        for _ in 0..TIMES {
            black_box(Cholesky::new(black_box(self.0.clone())).expect("it is positive definite"));
        }
        begun.elapsed().as_secs_f64() / TIMES as f64
    }

    /// By turns with the reference, so that a busy machine slows both: the median time, and the median ratio.
    fn beside(&self, work: impl Fn()) -> (f64, f64) {
        let rounds: Vec<(f64, f64)> = (0..ROUNDS)
            .map(|_| {
                let begun = now();
                work();
                (begun.elapsed().as_secs_f64(), self.seconds())
            })
            .collect();
        (
            median(rounds.iter().map(|(ours, _)| *ours).collect()),
            median(rounds.iter().map(|(ours, reference)| ours / reference).collect()),
        )
    }
}

fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}

#[expect(clippy::disallowed_methods, reason = "a bench is there to look at the clock")]
fn now() -> Instant {
    Instant::now()
}
