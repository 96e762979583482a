//! Finding one fault as a problem of choosing tests and repairs, with nothing of vehicles in it.
//!
//! Several hypotheses, one of which is true; repairs, each of which mends a group of them; set-ups, between which it
//! takes time to go; tests, each made in one set-up, whose outcome depends on the hypothesis (Raghavan, Shakeri and
//! Pattipati, IEEE Trans. SMC-A 29(2):153, 1999, with set-ups and with repairs as moves).

/// What a test shows: outcomes are classes that can be told apart, numbered from 0.
#[derive(Clone, Debug, PartialEq)]
pub enum Column {
    /// By hypothesis, the outcome.
    Certain(Vec<u16>),
    /// By hypothesis, the outcomes with their probabilities.
    Chances(Vec<Vec<(f64, u16)>>),
}

impl Column {
    /// From the outcomes of each hypothesis with their probabilities.
    #[must_use]
    pub fn of_rows(rows: Vec<Vec<(f64, u16)>>) -> Self {
        if rows.iter().all(|row| row.len() == 1) {
            Self::Certain(rows.iter().map(|row| row[0].1).collect())
        } else {
            Self::Chances(rows)
        }
    }

    /// The outcomes of a hypothesis with their probabilities.
    pub fn of(&self, hypothesis: usize) -> impl Iterator<Item = (f64, u16)> + '_ {
        let (certain, chances) = match self {
            Self::Certain(classes) => (Some((1.0, classes[hypothesis])), [].as_slice()),
            Self::Chances(rows) => (None, rows[hypothesis].as_slice()),
        };
        certain.into_iter().chain(chances.iter().copied())
    }

    /// How many outcomes there are.
    #[must_use]
    pub fn classes(&self) -> usize {
        let most = match self {
            Self::Certain(classes) => classes.iter().max().copied(),
            Self::Chances(rows) => rows.iter().flatten().map(|(_, class)| *class).max(),
        };
        most.map_or(0, |most| usize::from(most) + 1)
    }
}

/// One test.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidate {
    /// The set-up in which it is made.
    pub setup: usize,
    /// Minutes that it takes there.
    pub minutes: f64,
    /// What it shows.
    pub column: Column,
    /// Tests that show the same and take no less stand behind this one; itself included.
    pub stands_for: usize,
    /// Its position in the list that it came from.
    pub origin: usize,
}

/// What a test shows under the hypotheses with weight, its classes numbered by first appearance.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Signature {
    /// By hypothesis, the one class that it shows.
    Certain(Vec<u16>),
    /// The hypothesis, the class, and the bits of its probability.
    Chances(Vec<(u32, u16, u64)>),
}

/// No number yet.
const UNNAMED: u16 = u16::MAX;

impl Signature {
    /// The signature of a column; `None` where it shows one thing under all. `names` is room that is used again.
    fn of(column: &Column, alive: &[usize], names: &mut Vec<u16>) -> Option<Self> {
        names.clear();
        let mut count = 0;
        let mut name = |class: u16| {
            let at = usize::from(class);
            if at >= names.len() {
                names.resize(at + 1, UNNAMED);
            }
            if names[at] == UNNAMED {
                names[at] = count;
                count += 1;
            }
            names[at]
        };
        let certain = |hypothesis: usize| {
            let mut shown = column.of(hypothesis);
            let first = shown.next().filter(|(share, _)| share.to_bits() == 1.0_f64.to_bits())?;
            shown.next().is_none().then_some(first.1)
        };
        let classes: Option<Vec<u16>> = alive.iter().map(|&hypothesis| certain(hypothesis)).collect();
        let signature = match classes {
            Some(mut classes) => {
                for class in &mut classes {
                    *class = name(*class);
                }
                Self::Certain(classes)
            }
            None => {
                let rows = (0..).zip(alive).flat_map(|(row, &hypothesis)| {
                    column.of(hypothesis).map(move |(share, class)| (row, class, share.to_bits()))
                });
                Self::Chances(rows.map(|(row, class, share)| (row, name(class), share)).collect())
            }
        };
        (count > 1).then_some(signature)
    }
}

/// What mends a group of hypotheses.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mend {
    /// The set-up in which it is done. Afterwards the first set-up is there again.
    pub setup: usize,
    /// Minutes that it takes there, proof included.
    pub minutes: f64,
    /// What its parts cost, in minutes of work.
    pub price_minutes: f64,
}

/// Finding one fault.
#[derive(Clone, Debug, PartialEq)]
pub struct Problem {
    /// By hypothesis, its weight. Those of no weight are left out of account.
    pub weights: Vec<f64>,
    /// By hypothesis, which repair mends it.
    pub group: Vec<usize>,
    /// The repairs.
    pub mends: Vec<Mend>,
    /// Minutes from one set-up to another, row by row.
    pub ways: Vec<Vec<f64>>,
    /// The tests.
    pub tests: Vec<Candidate>,
    /// Whether something may be mended that is not yet certain; if not, tests go on until one group is left, or until
    /// no test tells more.
    pub bets: bool,
}

/// What is done next.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Move {
    /// A test, by position.
    Test(usize),
    /// A repair, by position.
    Mend(usize),
}

impl Problem {
    /// A problem of tests alone: all of them in one set-up, each hypothesis its own group, repairs free.
    #[must_use]
    pub fn of_tests(weights: Vec<f64>, tests: Vec<(f64, Column)>) -> Self {
        let count = weights.len();
        Self {
            weights,
            group: (0..count).collect(),
            mends: vec![Mend { setup: 0, minutes: 0.0, price_minutes: 0.0 }; count],
            ways: vec![vec![0.0]],
            tests: tests
                .into_iter()
                .enumerate()
                .map(|(origin, (minutes, column))| Candidate {
                    setup: 0,
                    minutes,
                    column,
                    stands_for: 1,
                    origin,
                })
                .collect(),
            bets: false,
        }
    }

    /// Leaves of tests in the same set-up that show the same under every hypothesis with weight only the cheapest, and
    /// of those that show one thing under all of them none.
    pub fn collapse(&mut self) {
        let alive: Vec<usize> = (0..self.weights.len()).filter(|&at| self.weights[at] > 0.0).collect();
        let mut names = Vec::new();
        let mut keyed: Vec<(Signature, Candidate)> = std::mem::take(&mut self.tests)
            .into_iter()
            .filter_map(|test| Some((Signature::of(&test.column, &alive, &mut names)?, test)))
            .collect();
        keyed.sort_by(|(a, one), (b, other)| {
            (one.setup, a)
                .cmp(&(other.setup, b))
                .then(one.minutes.total_cmp(&other.minutes))
                .then(one.origin.cmp(&other.origin))
        });
        let mut kept: Vec<(Signature, Candidate)> = Vec::with_capacity(keyed.len());
        for (signature, test) in keyed {
            match kept.last_mut() {
                Some((known, cheapest)) if cheapest.setup == test.setup && *known == signature => {
                    cheapest.stands_for += test.stands_for;
                }
                _ => kept.push((signature, test)),
            }
        }
        self.tests = kept.into_iter().map(|(_, test)| test).collect();
        self.tests.sort_by_key(|test| test.origin);
    }

    /// Minutes of a move from a set-up, and the set-up afterwards.
    #[must_use]
    pub fn cost(&self, setup: usize, next: Move) -> (f64, usize) {
        match next {
            Move::Test(at) => {
                let test = &self.tests[at];
                (self.ways[setup][test.setup] + test.minutes, test.setup)
            }
            Move::Mend(at) => {
                let mend = &self.mends[at];
                (self.ways[setup][mend.setup] + mend.minutes + mend.price_minutes, 0)
            }
        }
    }
}
