//! What each stretch of a job was worth: what it could tell, what it told, and what it lost against the best choice.
//!
//! A stretch is the acts that prepare something and the one that tells or mends. Its regret is what it took, and what
//! is to be expected after each of its outcomes, less what was to be expected before it. Chance has no part in it: a
//! lucky guess costs little time and has a high regret.

use std::ops::Range;

use super::inquiry::{Inquiry, MOST_EXPANSIONS, Moment};
use super::plan::Planner;
use super::posterior::POSSIBLE_SHARE;
use super::problem::{Column, Move};
use super::score::well_spent;
use super::sorting::{
    Instrument, Leads, changes, handles_meter, is_brief, is_repair, is_test, minutes_taken, placed,
    shows_figure,
};
use super::stand::Stand;
use super::suspects::SuspectKind;
use crate::bench::Action;
use crate::circuit::Unsolved;
use crate::job::Step;
use crate::threads::in_parallel;

/// Expected information from which on an act counts as telling something, in bits.
const TELLS_BITS: f64 = 1e-3;

/// Why a stretch was charged, or was not.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Charge {
    /// A brief check that is always in place: the complaint, a setting, a fuse by sight, the battery, the meter.
    Brief,
    /// A test.
    Test,
    /// A test that could tell nothing.
    Idle,
    /// The same as before, with nothing changed in between.
    Again,
    /// A repair, and how likely it was at that moment that it was the one that is needed.
    Repair {
        /// From 0 to 1.
        odds: f64,
    },
    /// What was begun and led to no test.
    Preparation,
    /// After the fault had gone: the proof has marks of its own.
    Afterwards,
}

impl Charge {
    /// Whether regret counts.
    #[must_use]
    pub fn counts(self) -> bool {
        !matches!(self, Self::Brief | Self::Afterwards)
    }
}

/// Faults that the same repair mends, and how likely they are.
#[derive(Clone, Debug, PartialEq)]
pub struct Open {
    /// From 0 to 1.
    pub probability: f64,
    /// Positions in the pool. None: the vehicle is sound, or it is something else.
    pub faults: Vec<usize>,
}

/// What was known at a moment.
#[derive(Clone, Debug, PartialEq)]
pub struct Belief {
    /// What was not known of which repair is needed, in bits.
    pub bits: f64,
    /// How many faults were still possible.
    pub possible: usize,
    /// Groups that were still possible, likeliest first.
    pub open: Vec<Open>,
}

impl Belief {
    fn of(inquiry: &Inquiry) -> Self {
        let shares = inquiry.probabilities();
        let most = shares.iter().copied().fold(0.0, f64::max);
        let mut open: Vec<(usize, Open)> = Vec::new();
        for ((suspect, &share), &group) in
            inquiry.suspects().list().iter().zip(&shares).zip(inquiry.first_groups())
        {
            if share < POSSIBLE_SHARE * most {
                continue;
            }
            let fault = if let SuspectKind::Pool(at) = suspect.kind { Some(at) } else { None };
            // What is sound and what is not in the pool need no repair, and are two things.
            let at = open.iter().position(|(known, one)| {
                *known == group && fault.is_some() != one.faults.is_empty() && fault.is_some()
            });
            match at {
                Some(at) => {
                    open[at].1.probability += share;
                    open[at].1.faults.extend(fault);
                }
                None => {
                    open.push((group, Open { probability: share, faults: fault.into_iter().collect() }));
                }
            }
        }
        open.sort_by(|a, b| b.1.probability.total_cmp(&a.1.probability));
        Self {
            bits: inquiry.bits(),
            possible: inquiry.possible(),
            open: open.into_iter().map(|(_, open)| open).collect(),
        }
    }
}

/// A choice that would have been better.
#[derive(Clone, Debug, PartialEq)]
pub struct Better {
    /// What would have been done.
    pub acts: Vec<Action>,
    /// Whether it is a repair.
    pub mends: bool,
    /// What it was expected to tell, in bits; of a repair 0.
    pub bits: f64,
    /// What it would have taken, in minutes.
    pub minutes: f64,
}

/// A stretch of a job.
#[derive(Clone, Debug, PartialEq)]
pub struct Stretch {
    /// Positions of its acts in the log; those in between that are no part of it are included.
    pub acts: Range<usize>,
    /// Minutes on the clock at its end.
    pub clock_minutes: f64,
    /// What it took that counts, in minutes: what parts cost counts as time, acts of safety and brief checks do not count.
    pub minutes: f64,
    /// Why it was charged, or was not.
    pub charge: Charge,
    /// What it could be expected to tell, in bits.
    pub expected_bits: f64,
    /// What it told: what was unknown before, less what was unknown after. Below 0 where it surprised.
    pub told_bits: f64,
    /// Expected minutes lost against the best choice; 0 where it does not count.
    pub regret_minutes: f64,
    /// The better choice, if regret is felt.
    pub better: Option<Better>,
    /// What was known at its end.
    pub after: Belief,
}

/// What a whole job was worth.
#[derive(Clone, Debug, PartialEq)]
pub struct Account {
    /// Minutes to a proven repair that were to be expected at the beginning.
    pub planned_minutes: f64,
    /// No way takes less.
    pub lower_bound_minutes: f64,
    /// The plan at the beginning is exact.
    pub exact: bool,
    /// What was known at the beginning.
    pub before: Belief,
    /// Stretch by stretch.
    pub stretches: Vec<Stretch>,
    /// Each naming: the act's position, and how likely the evidence had made what was named.
    pub namings: Vec<(usize, f64)>,
}

/// Regret below this is not spoken of, in minutes.
const FELT_MINUTES: f64 = 0.5;

/// A stretch that has ended, before its regret is known.
struct Ended {
    stretch: Stretch,
    /// The choice before it, the set-up in which it began and the one in which it ended; `None` where nothing is charged.
    choice: Option<(Moment, usize, usize)>,
    stand: Stand,
    column: Column,
    /// The choice after it with the weights of before, and its set-up, where what mends or what shows has changed.
    changed: Option<(Moment, usize)>,
}

/// Acts that have prepared something.
struct Begun {
    first: usize,
    minutes: f64,
    /// Those of them in which nothing but the meter was handled.
    meter_minutes: f64,
    moment: Moment,
    setup: usize,
    stand: Stand,
    bits: f64,
    generation: u32,
    /// Which instrument shows something that nobody has used yet.
    placed: Option<Instrument>,
}

impl Account {
    /// What the acts of a job were worth. `fresh` knows of none of them; `stands` are how the vehicle stood before each
    /// and at the end. From after `settled` on nothing is charged: with that act the fault had gone.
    ///
    /// # Errors
    /// [`Unsolved`] where a suspect's vehicle has no operating point.
    pub fn of(
        fresh: &Inquiry,
        log: &[Step],
        stands: &[Stand],
        settled: Option<usize>,
    ) -> Result<Self, Unsolved> {
        let mut reader = Reader {
            inquiry: fresh.clone(),
            log,
            stands,
            settled,
            leads: Leads::PUT_AWAY,
            begun: None,
            ended: Vec::new(),
            namings: Vec::new(),
        };
        let before = Belief::of(fresh);
        let mut moment = fresh.moment();
        let setup = moment.setup(fresh, &stands[0]);
        let plan = Planner::new(&moment.problem, MOST_EXPANSIONS).plan(setup);
        for at in 0..log.len() {
            reader.read(at)?;
        }
        reader.end(log.len(), Charge::Preparation, None);
        let inquiry = &reader.inquiry;
        let threads = inquiry.suspects().threads;
        let charged = in_parallel(&reader.ended, threads, |one| Ok::<_, Unsolved>(charge(inquiry, one)))?;
        let stretches = reader.ended.iter().zip(charged).map(|(one, (regret_minutes, better))| Stretch {
            regret_minutes,
            better,
            ..one.stretch.clone()
        });
        Ok(Self {
            planned_minutes: plan.minutes,
            lower_bound_minutes: plan.lower_bound,
            exact: plan.exact,
            before,
            stretches: stretches.collect(),
            namings: reader.namings,
        })
    }

    /// All that was lost by choice, in minutes.
    #[must_use]
    pub fn regret_minutes(&self) -> f64 {
        // The sum of nothing is −0, and would be shown so.
        self.stretches.iter().map(|stretch| stretch.regret_minutes).sum::<f64>() + 0.0
    }

    /// All that the choices took which are charged, in minutes.
    #[must_use]
    pub fn spent_minutes(&self) -> f64 {
        let counts = self.stretches.iter().filter(|stretch| stretch.charge.counts());
        counts.map(|stretch| stretch.minutes).sum::<f64>() + 0.0
    }

    /// Share of what the choices took that they did not lose.
    #[must_use]
    pub fn well_spent(&self) -> f64 {
        well_spent(self.planned_minutes, self.spent_minutes(), &[self.regret_minutes()])
    }
}

struct Reader<'a> {
    inquiry: Inquiry,
    log: &'a [Step],
    stands: &'a [Stand],
    settled: Option<usize>,
    leads: Leads,
    begun: Option<Begun>,
    ended: Vec<Ended>,
    namings: Vec<(usize, f64)>,
}

impl Reader<'_> {
    fn read(&mut self, at: usize) -> Result<(), Unsolved> {
        let step = &self.log[at];
        if let Action::Name(diagnosis, _) = &step.action
            && step.outcome.refused.is_none()
        {
            self.namings.push((at, self.inquiry.evidence_for(diagnosis)));
        }
        if step.action.is_on_paper() {
            return Ok(());
        }
        if self.settled.is_some_and(|settled| at > settled) {
            return self.read_afterwards(at);
        }
        let instrument = placed(&step.action);
        if let (Some(instrument), Some(begun)) = (instrument, &self.begun)
            && begun.placed == Some(instrument)
            && step.outcome.reading.is_some()
        {
            // It has shown something that told nothing, and goes elsewhere without having been used.
            self.end(at, Charge::Idle, None);
        }
        if self.begun.is_none() {
            let mut moment = self.inquiry.moment();
            let setup = moment.setup(&self.inquiry, &self.stands[at]);
            self.begun = Some(Begun {
                first: at,
                minutes: 0.0,
                meter_minutes: 0.0,
                moment,
                setup,
                stand: self.stands[at].clone(),
                bits: self.inquiry.bits(),
                generation: self.inquiry.generation(),
                placed: None,
            });
        }
        let weighed = self.inquiry.observe(&step.action, &step.outcome)?;
        if step.outcome.refused.is_none() {
            self.leads.follow(&step.action);
        }
        let brief = is_brief(self.inquiry.scenario(), self.leads, step);
        let again = (brief || is_test(&step.action)) && self.was_done(at);
        let forced = step.action == Action::ForceLatch && self.lever_failed(at);
        let Some(begun) = &mut self.begun else { return Ok(()) };
        let expected_bits = begun.moment.problem.bits_of(&weighed.column);
        let tells = expected_bits >= TELLS_BITS;
        if brief && !again {
            // The check is free; what was opened for it is not.
            if handles_meter(&step.action) {
                begun.minutes -= begun.meter_minutes;
                begun.meter_minutes = 0.0;
            }
        } else if !forced {
            let minutes = minutes_taken(step);
            begun.minutes += minutes;
            begun.meter_minutes += if handles_meter(&step.action) { minutes } else { 0.0 };
        }
        let free = begun.minutes <= 0.0;
        let shows = shows_figure(&step.outcome);
        if let Some(instrument) = instrument {
            begun.placed = (shows && !tells).then_some(instrument);
        }
        let told = Some((expected_bits, weighed.column));
        if is_repair(&step.action) && step.outcome.refused.is_none() {
            let odds = self.odds_of_last();
            if odds.is_some() || matches!(step.action, Action::Repair(_)) {
                self.end(at + 1, Charge::Repair { odds: odds.unwrap_or(0.0) }, told);
            }
        } else if self.settled == Some(at) {
            self.end(at + 1, Charge::Repair { odds: self.odds_of_last().unwrap_or(0.0) }, told);
        } else if again {
            self.end(at + 1, Charge::Again, told);
        } else if brief && free {
            self.end(at + 1, Charge::Brief, told);
        } else if tells {
            self.end(at + 1, Charge::Test, told);
        } else if is_test(&step.action) && !brief {
            self.end(at + 1, Charge::Idle, told);
        }
        Ok(())
    }

    /// An act after the fault has gone: no choice is charged, and all that follows the repair is told as one.
    fn read_afterwards(&mut self, at: usize) -> Result<(), Unsolved> {
        let step = &self.log[at];
        let (before, bits) = (self.inquiry.odds_alone(), self.inquiry.bits());
        let weighed = self.inquiry.observe(&step.action, &step.outcome)?;
        let after = Belief::of(&self.inquiry);
        let mut stretch = Stretch {
            acts: at..at + 1,
            clock_minutes: step.minutes,
            minutes: minutes_taken(step),
            charge: Charge::Afterwards,
            expected_bits: before.bits_of(&weighed.column),
            told_bits: bits - after.bits,
            regret_minutes: 0.0,
            better: None,
            after,
        };
        match self.ended.last_mut().filter(|last| last.stretch.charge == Charge::Afterwards) {
            Some(last) => {
                stretch.acts.start = last.stretch.acts.start;
                stretch.minutes += last.stretch.minutes;
                stretch.expected_bits += last.stretch.expected_bits;
                stretch.told_bits += last.stretch.told_bits;
                last.stretch = stretch;
            }
            None => self.ended.push(Ended {
                stretch,
                choice: None,
                stand: self.stands[at].clone(),
                column: weighed.column,
                changed: None,
            }),
        }
        Ok(())
    }

    /// How likely those were of which the acts of the present stretch have mended something; `None` where they have of
    /// none.
    fn odds_of_last(&self) -> Option<f64> {
        let begun = self.begun.as_ref()?;
        let weights = &begun.moment.problem.weights;
        let total: f64 = weights.iter().sum();
        let mended = |at: usize| {
            let before = begun.moment.work_on(begun.moment.problem.group[at]);
            before > 0 && self.inquiry.work_on(at) < before
        };
        let weight: f64 = (0..weights.len()).filter(|&at| mended(at)).map(|at| weights[at]).sum();
        (weight > 0.0).then(|| weight / total)
    }

    /// Whether the lever was pulled before and the lid stayed shut: then there is no way but to force the latch.
    fn lever_failed(&self, at: usize) -> bool {
        self.log[..at]
            .iter()
            .zip(&self.stands[1..])
            .any(|(step, after)| step.action == Action::Lever && !after.lid_is_loose())
    }

    /// Whether the same was done before, the vehicle and all instruments being as they are.
    fn was_done(&self, at: usize) -> bool {
        let action = &self.log[at].action;
        let since =
            self.log[..at].iter().rposition(|step| step.outcome.refused.is_none() && step.action == *action);
        since.is_some_and(|since| {
            self.stands[since] == self.stands[at]
                && self.log[since + 1..at].iter().all(|step| {
                    step.action.is_on_paper() || !changes(&step.action) || step.outcome.refused.is_some()
                })
        })
    }

    fn end(&mut self, until: usize, charge: Charge, told: Option<(f64, Column)>) {
        let Some(mut begun) = self.begun.take() else { return };
        let (expected_bits, column) =
            told.unwrap_or_else(|| (0.0, Column::Certain(vec![0; begun.moment.problem.weights.len()])));
        let after = Belief::of(&self.inquiry);
        let bits_before = begun.bits;
        let stretch = Stretch {
            acts: begun.first..until,
            clock_minutes: self.log[until - 1].minutes,
            minutes: begun.minutes,
            charge,
            expected_bits,
            told_bits: bits_before - after.bits,
            regret_minutes: 0.0,
            better: None,
            after,
        };
        let changed = (charge.counts() && begun.generation != self.inquiry.generation()).then(|| {
            let mut moment = self.inquiry.moment_of(begun.moment.problem.weights.clone());
            let setup = moment.setup(&self.inquiry, &self.stands[until]);
            (moment, setup)
        });
        let choice = charge.counts().then(|| {
            let after = begun.moment.setup(&self.inquiry, &self.stands[until]);
            (begun.moment, begun.setup, after)
        });
        self.ended.push(Ended { stretch, choice, stand: begun.stand, column, changed });
    }
}

/// Regret of a stretch, and the better choice if it is felt.
fn charge(inquiry: &Inquiry, one: &Ended) -> (f64, Option<Better>) {
    let Some((moment, setup, after)) = &one.choice else { return (0.0, None) };
    let mut planner = Planner::new(&moment.problem, MOST_EXPANSIONS);
    let plan = planner.plan(*setup);
    let to_come = match &one.changed {
        None => planner.minutes_after(*setup, &one.column, *after),
        Some((moment, setup)) => {
            let mut planner = Planner::new(&moment.problem, MOST_EXPANSIONS);
            planner.minutes_after(*setup, &one.column, *setup)
        }
    };
    let regret = (one.stretch.minutes + to_come - plan.minutes).max(0.0);
    let better = plan.first.filter(|_| regret >= FELT_MINUTES).map(|next| Better {
        acts: moment.acts(inquiry, &one.stand, next),
        mends: matches!(next, Move::Mend(_)),
        bits: match next {
            Move::Test(at) => moment.problem.bits_of(&moment.problem.tests[at].column),
            Move::Mend(_) => 0.0,
        },
        minutes: moment.problem.cost(*setup, next).0,
    });
    (regret, better)
}
