//! Marks: what a job that has been handed in is worth, part by part.
//!
//! Reasoning is marked by regret, and a diagnosis by what the evidence in hand made of it: luck has no part in either.
//! Everything but safety is scaled by how far the job got.

mod afterwards;
mod calibration;
mod coaching;
mod debrief;
mod left;
mod lessons;
mod naming;

use crate::bench::{Action, Caution, Heard, Precaution, Repair, Seen, World, WriteUpLine};
use crate::fault::{Diagnosis, PlacedFault};
use crate::job::{Job, JobError, Step};
use crate::reasoning::score::tries_to_show;
use crate::reasoning::{Account, Charge, Inquiry, Stand};
use crate::scenario::{Scenario, Trial};
use crate::survey::fails;
use crate::vehicle::{Deviation, LidPosition, Vehicle, When};

pub use afterwards::{Afterwards, Comeback, labour};
pub use calibration::{Calibration, calibration};
pub use coaching::{coaching_cost, next_rung, rung_marks};
pub use debrief::{Debrief, Practice, Waypoint, mark_and_debrief};
pub use left::{Left, left_about};
pub use lessons::{Lesson, SOMEWHERE, SafetyPoint};

use naming::{Fit, matched};

/// The total that a job with a dangerous act cannot pass.
pub const DANGER_CAP: f64 = 60.0;
/// Time is full up to this many times the par, and nothing from the second on.
const TIME_FULL: f64 = 1.3;
const TIME_NONE: f64 = 3.0;
/// A good part of this price, fitted for nothing, takes all marks for parts.
const WASTE_LIMIT: f64 = 150.0;
/// A needless repair that costs no part counts as this much.
const NEEDLESS_WORK: f64 = 20.0;
/// A miss of an intermittent fault is to be less likely than this.
const MISS: f64 = 0.05;
/// A diagnosis counts in full from this probability on, by the evidence in hand when it was named (ours, no source).
pub const EVIDENCE_FULL: f64 = 0.9;
/// A repair whose odds were below this was made on a hunch, and a diagnosis below it was named too early (ours, no source).
const HUNCH: f64 = 0.5;
/// What an honest referral without a name earns of the diagnosis.
const REFERRED_SHARE: f64 = 0.4;
/// Steps with a finding from which on a referral counts as well prepared.
const REFERRAL_FINDINGS: usize = 8;

/// A part of the marks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// Right diagnosis, held by evidence.
    Diagnosis,
    /// Reasoning.
    Reasoning,
    /// Parts not wasted.
    Parts,
    /// Time.
    Time,
    /// Proof of repair.
    Proof,
    /// Safe work and write-up.
    Safety,
}

impl Part {
    /// All parts, in the order of the marks' lines.
    pub const ALL: [Self; 6] =
        [Self::Diagnosis, Self::Reasoning, Self::Parts, Self::Time, Self::Proof, Self::Safety];
}

/// A part's marks and why.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Which part.
    pub part: Part,
    /// Out of how many.
    pub out_of: f64,
    /// How many.
    pub marks: f64,
    /// Why.
    pub lessons: Vec<Lesson>,
}

/// The marks of a job.
#[derive(Clone, Debug, PartialEq)]
pub struct Marks {
    /// Its parts, which sum to the total but for the cap.
    pub lines: Vec<Line>,
    /// What a dangerous act takes off, and which it was.
    pub capped: Option<(f64, Caution)>,
    /// How far the job got, 0 to 1.
    pub progress: f64,
    /// Where it was referred, what parts, time and proof count by: the share of the diagnosis, 0 to 1.
    pub by_diagnosis: Option<f64>,
    /// The total, 0 to 100.
    pub total: f64,
    /// What each stretch of the job was worth.
    pub account: Account,
    /// The bill, and whether the customer comes back.
    pub afterwards: Afterwards,
}

/// Marks a job. `None` before it has been handed in. `fresh` is the job's scenario as reason sees it before any act.
///
/// # Errors
/// [`JobError`] where the job cannot be replayed.
pub fn mark(job: &Job, fresh: &Inquiry) -> Result<Option<Marks>, JobError> {
    let (Some(worlds), Some(fault), Some(referred)) = (job.replay()?, job.truth(), job.handed_in()) else {
        return Ok(None);
    };
    let look = Look { job, fault, worlds: &worlds, referred };
    let stands: Vec<Stand> = worlds.iter().map(|world| Stand::of(look.vehicle(), world)).collect();
    let account = Account::of(fresh, job.log(), &stands, look.settled())?;
    let weights = &job.scenario().weights;
    let progress = look.progress();
    let all =
        [weights.diagnosis, weights.reasoning, weights.parts, weights.time, weights.proof, weights.safety];
    let scale = 100.0 / all.iter().sum::<f64>();
    let heaviest = all.iter().copied().fold(0.0, f64::max);
    // Rounded parts need not sum to 100: what is over or short is the heaviest part's.
    let rounded: f64 = all.iter().map(|weight| tenth(weight * scale)).sum();
    let mut rest = Some(100.0 - rounded);
    let coached = coaching_cost(job);
    let mut line = |part: Part, weight: f64, share: f64, by_progress: bool, lessons: Vec<Lesson>| {
        let mut out_of = tenth(weight * scale);
        if weight == heaviest {
            out_of = tenth(out_of + rest.take().unwrap_or(0.0));
        }
        let share = if by_progress { share * progress } else { share };
        let earned = tenth(out_of * share.clamp(0.0, 1.0));
        let off = if part == Part::Reasoning { coached } else { 0.0 };
        Line { part, out_of, marks: tenth((earned - off).max(0.0)), lessons }
    };
    let (diagnosis, why_diagnosis) = look.diagnosis(&account);
    let (reasoning, why_reasoning) = look.reasoning(&account);
    let (parts, why_parts) = look.parts();
    let (time, why_time) = look.time();
    let (proof, why_proof) = look.proof();
    let (safety, why_safety) = look.safety(progress);
    // A referral is worth what it found: nothing was mended, so little can be said of parts, time and proof.
    let (parts, time, proof) = if referred {
        (parts * diagnosis, time * diagnosis, proof * diagnosis)
    } else {
        (parts, time, proof)
    };
    let lines = vec![
        line(Part::Diagnosis, weights.diagnosis, diagnosis, true, why_diagnosis),
        line(Part::Reasoning, weights.reasoning, reasoning, true, why_reasoning),
        line(Part::Parts, weights.parts, parts, true, why_parts),
        line(Part::Time, weights.time, time, true, why_time),
        line(Part::Proof, weights.proof, proof, true, why_proof),
        line(Part::Safety, weights.safety, safety, false, why_safety),
    ];
    let sum = tenth(lines.iter().map(|line| line.marks).sum());
    let danger = job
        .log()
        .iter()
        .flat_map(|step| &step.outcome.breaches)
        .find(|caution| matches!(caution, Caution::AmpsAcrossSource));
    let capped = danger.filter(|_| sum > DANGER_CAP).map(|caution| (tenth(sum - DANGER_CAP), *caution));
    let total = if capped.is_some() { DANGER_CAP } else { sum };
    let afterwards = afterwards::afterwards(job, look.end(), referred, look.wrong(look.end()) > 0)?;
    let by_diagnosis = referred.then_some(diagnosis);
    Ok(Some(Marks { lines, capped, progress, by_diagnosis, total, account, afterwards }))
}

/// Whether a repair was likelier wrong than right when it was made.
fn is_hunch(charge: Charge) -> bool {
    matches!(charge, Charge::Repair { odds } if odds < HUNCH)
}

/// Rounded to a tenth, so that what is shown sums to what is shown.
fn tenth(marks: f64) -> f64 {
    libm::rint(marks * 10.0) / 10.0
}

struct Look<'a> {
    job: &'a Job,
    fault: &'a PlacedFault,
    /// Before each act, and at the end.
    worlds: &'a [World],
    referred: bool,
}

impl Look<'_> {
    fn scenario(&self) -> &Scenario {
        self.job.scenario()
    }

    fn vehicle(&self) -> &Vehicle {
        &self.scenario().vehicle
    }

    /// Acts that were done, with their position.
    fn done(&self) -> impl Iterator<Item = (usize, &Step)> {
        self.job.log().iter().enumerate().filter(|(_, step)| step.outcome.refused.is_none())
    }

    fn end(&self) -> &World {
        &self.worlds[self.worlds.len() - 1]
    }

    /// Whether an act took something of the fault away: less is wrong after it than ever before. To undo one's own
    /// change is no repair.
    fn mended(&self, at: usize) -> bool {
        let least = self.worlds[..=at].iter().map(|world| self.wrong(world)).min();
        least.is_some_and(|least| self.wrong(&self.worlds[at + 1]) < least)
    }

    /// How much is wrong: deviations, fuses that do not carry, a lockout left on.
    fn wrong(&self, world: &World) -> usize {
        let fuses = world.state.fuses.iter().zip(&self.vehicle().fuses).filter(|(slot, file)| {
            !slot.fitted.is_some_and(|fuse| !fuse.blown && fuse.rating_amps == file.rating_amps)
                && slot.pulled.is_none_or(|fuse| fuse.blown)
        });
        let deviations = world.state.deviations.iter().filter(|one| !is_poor(&one.deviation));
        deviations.count() + fuses.count() + usize::from(world.state.lockout)
    }

    /// Twisted joints: they work, and will come back.
    fn poor_joints(&self) -> usize {
        self.end().state.deviations.iter().filter(|one| is_poor(&one.deviation)).count()
    }

    /// The position of the last act that took something of the fault away.
    fn last_mend(&self) -> Option<usize> {
        self.done().filter(|(at, _)| self.mended(*at)).map(|(at, _)| at).last()
    }

    /// The act with which the fault had gone for good.
    fn settled(&self) -> Option<usize> {
        let whole = self.wrong(self.end()) == 0 && self.poor_joints() == 0;
        self.last_mend().filter(|_| whole)
    }

    /// How far the job got: named, mended (or referred with findings), proven.
    fn progress(&self) -> f64 {
        let named = self.job.named().is_some() && self.done().any(|(_, step)| is_finding(step));
        if self.referred {
            let mut findings: Vec<&Action> = Vec::new();
            for (_, step) in self.done().filter(|(_, step)| is_finding(step)) {
                if !findings.contains(&&step.action) {
                    findings.push(&step.action);
                }
            }
            return findings.len().min(REFERRAL_FINDINGS) as f64 / REFERRAL_FINDINGS as f64;
        }
        let mended = self.last_mend().is_some();
        let retested = self.last_mend().is_some_and(|mend| self.trials_after(mend).any(|(_, opened)| opened));
        let steps = [named, mended, retested].into_iter().filter(|done| *done).count();
        steps as f64 / 3.0
    }

    fn reasoning(&self, account: &Account) -> (f64, Vec<Lesson>) {
        let count = |fits: &dyn Fn(Charge) -> bool| {
            account.stretches.iter().filter(|stretch| fits(stretch.charge)).count()
        };
        let lesson = Lesson::Reasoned {
            spent_minutes: account.spent_minutes(),
            lost_minutes: account.regret_minutes(),
            idle: count(&|charge| charge == Charge::Idle),
            again: count(&|charge| charge == Charge::Again),
            hunches: count(&is_hunch),
        };
        let coached = coaching_cost(self.job);
        let lessons =
            if coached > 0.0 { vec![lesson, Lesson::Coached { marks: coached }] } else { vec![lesson] };
        (account.well_spent(), lessons)
    }

    fn diagnosis(&self, account: &Account) -> (f64, Vec<Lesson>) {
        let truths: Vec<Diagnosis> = self.fault.diagnoses().collect();
        let names = self.job.names(truths.len());
        if names.is_empty() {
            let share = if self.referred { REFERRED_SHARE } else { 0.0 };
            return (share, vec![if self.referred { Lesson::Referred } else { Lesson::NothingNamed }]);
        }
        let mut share = 0.0;
        let mut lessons = Vec::new();
        for (name, truth) in matched(&names, &truths, self.fault) {
            let fit = Fit::of(name.diagnosis, truth, self.fault);
            let held = account.namings.iter().find(|(at, _)| *at == name.step).map_or(0.0, |(_, held)| *held);
            share += fit.share() * (held / EVIDENCE_FULL).min(1.0) / truths.len() as f64;
            let Fit { component, kind, place } = fit;
            let percent = name.percent;
            lessons.extend([
                Lesson::Named { component, kind, place: place >= 1.0, near: place > 0.0, percent },
                Lesson::Evidence { probability: held, early: held < HUNCH },
            ]);
        }
        if truths.len() > 1 {
            lessons.push(Lesson::SeveralAtOnce { wrong: truths.len(), named: names.len() });
        }
        (share, lessons)
    }

    fn parts(&self) -> (f64, Vec<Lesson>) {
        let mut wasted = 0.0;
        let mut needless = 0;
        for (at, step) in self.done() {
            let Action::Repair(repair) = &step.action else { continue };
            if self.mended(at) {
                wasted += self.dearer_than_needed(at, *repair);
                continue;
            }
            needless += 1;
            wasted += match repair {
                Repair::Part(_) | Repair::Key | Repair::KeyCell => {
                    f64::from(step.outcome.cost).max(NEEDLESS_WORK / 2.0)
                }
                _ => NEEDLESS_WORK,
            };
        }
        (1.0 - wasted / WASTE_LIMIT, vec![Lesson::Parts { needless, cost: self.job.cost() }])
    }

    /// What a repair that mended cost above the cheapest that would have.
    fn dearer_than_needed(&self, at: usize, repair: Repair) -> f64 {
        let (before, after) = (&self.worlds[at].state, &self.worlds[at + 1].state);
        let gone = before.deviations.iter().map(|one| &one.deviation);
        let mut gone = gone.filter(|was| !after.deviations.iter().any(|one| one.deviation == **was));
        let cost = f64::from(self.job.log()[at].outcome.cost);
        match repair {
            // Plugging together, or a setting, would have done.
            Repair::Part(_) if gone.all(|was| matches!(was, Deviation::HalfSeated { .. })) => cost,
            Repair::Key if gone.all(|was| matches!(was, Deviation::KeyCell(..))) => {
                cost - f64::from(self.vehicle().key.cell_price)
            }
            _ => 0.0,
        }
    }

    fn time(&self) -> (f64, Vec<Lesson>) {
        let safe: f64 = self
            .done()
            .filter(|(_, s)| matches!(s.action, Action::Precaution(_)))
            .map(|(_, s)| s.outcome.minutes)
            .sum();
        let minutes = self.job.minutes() - safe;
        let par = self.scenario().par_minutes;
        let over = minutes / par;
        // What was saved below the time that is full makes up for nothing else.
        let share = (TIME_NONE - over) / (TIME_NONE - TIME_FULL);
        (share.clamp(0.0, 1.0), vec![Lesson::Time { minutes, par }])
    }

    /// Trials of the complaint after an act, with the lid shut: position, and whether all was well. Only such as fail
    /// with this fault prove anything, and one that the module refuses as it should proves nothing. Whoever shuts the lid over
    /// what is switched on sees it work as well as one who switches it on then.
    fn trials_after(&self, after: usize) -> impl Iterator<Item = (usize, bool)> {
        let failing: Vec<Trial> = self
            .scenario()
            .trials
            .iter()
            .filter(|trial| fails(self.scenario(), self.fault, trial).unwrap_or(true))
            .cloned()
            .collect();
        self.done().filter(move |(at, _)| *at > after).filter_map(move |(at, step)| {
            let (before, after) = (&self.worlds[at], &self.worlds[at + 1]);
            let is_shut = |world: &World| world.state.lid == LidPosition::Shut;
            let shuts = !is_shut(before) && is_shut(after);
            let trial = failing.iter().find(|trial| match (trial, &step.action) {
                (Trial::Key(button), Action::Key(pressed)) => button == pressed,
                (Trial::Press(part), Action::Press(pressed)) => part == pressed,
                (Trial::Switch(part, _), Action::Switch(turned, true)) => part == turned,
                (Trial::Switch(part, _), _) => shuts && after.state.is_on(*part),
                // Whatever was done: what counts is that it has been quiet for long enough, and the clamp shows it.
                (Trial::Rest { minutes, .. }, _) => {
                    step.outcome.clamp.is_some() && after.state.quiet_minutes >= f64::from(*minutes)
                }
                _ => false,
            })?;
            let state = &before.state;
            let refused = step.outcome.heard.contains(&Heard::Chirps(2)) && (state.locked || state.lockout);
            let counts = !refused && (shuts || is_shut(before)) && (state.wet || !needs_water(self.fault));
            counts.then(|| (at, !self.scenario().complaint_shows(trial, before, after).unwrap_or(true)))
        })
    }

    fn proof(&self) -> (f64, Vec<Lesson>) {
        let mut lessons = Vec::new();
        let mut share = 0.0;
        if let Some(mend) = self.last_mend() {
            let trials: Vec<bool> = self.trials_after(mend).map(|(_, opened)| opened).collect();
            let needed = retests_needed(self.fault);
            // What failed in between was a step on the way; what counts is how it ended.
            let good = trials.iter().rev().take_while(|opened| **opened).count();
            let failed = usize::from(trials.last() == Some(&false));
            let wrong_left = self.wrong(self.end()) > 0;
            if !wrong_left && self.poor_joints() == 0 {
                share += 0.5 * (good as f64 / needed as f64).min(1.0);
            }
            lessons.push(if trials.is_empty() && !wrong_left && needs_water(self.fault) {
                Lesson::RetestedDry
            } else {
                Lesson::Retested { good, failed, needed, wrong_left }
            });
            if self.poor_joints() > 0 {
                lessons.push(Lesson::PoorJoint);
            }
            let checked = self.done().filter(|(at, _)| *at > mend).any(|(_, step)| {
                let flashed = step.outcome.seen.iter().any(|seen| matches!(seen, Seen::Flash(..)));
                let complaint = self.scenario().trials.iter().any(|trial| trial.act() == step.action);
                (matches!(step.action, Action::Switch(_, true)) && !complaint) || flashed
            });
            if checked {
                share += 0.25;
            }
            lessons.push(Lesson::Neighbours(checked));
        } else {
            lessons.push(Lesson::NothingMended);
        }
        let left = left_about(self.job).len();
        if left == 0 {
            share += 0.25;
        }
        lessons.push(Lesson::PutBack { left });
        (share, lessons)
    }

    /// Points for acts and not for ticks.
    fn safety(&self, progress: f64) -> (f64, Vec<Lesson>) {
        const POINTS: f64 = 8.5;
        let mut points = 0.0;
        let mut lessons = Vec::new();
        let mut lesson = |worth: f64, lesson: Lesson| {
            if matches!(lesson, Lesson::Safety(_, true)) {
                points += worth;
            }
            lessons.push(lesson);
        };
        let read = self.done().any(|(_, step)| step.action == Action::Precaution(Precaution::ReadCautions));
        lesson(1.0, Lesson::Safety(SafetyPoint::CautionsRead, read));
        for (worth, caution, what) in [
            (1.0, Caution::Eyes, SafetyPoint::Eyes),
            (1.0, Caution::Lid, SafetyPoint::Lid),
            (0.5, Caution::OhmsOnLive, SafetyPoint::OhmsOnLive),
            (0.5, Caution::AmpsAcrossSource, SafetyPoint::Amps),
            (0.5, Caution::FuseTooLarge, SafetyPoint::Fuse),
        ] {
            let breached = self.done().any(|(_, step)| step.outcome.breaches.contains(&caution));
            // Where nothing called for it, it is earned by a job that got somewhere.
            let too_little = !breached && progress < SOMEWHERE;
            let said = if too_little { Lesson::TooLittleDone(what) } else { Lesson::Safety(what, !breached) };
            lesson(worth, said);
        }
        let write_up = self.job.write_up();
        for line in WriteUpLine::ALL {
            let text = write_up.get(&line).map_or("", |text| text.trim());
            let wrote = text.split_whitespace().count() >= 3;
            lesson(1.0, Lesson::Safety(SafetyPoint::Wrote(line), wrote));
            if line != WriteUpLine::Complaint {
                lesson(0.5, Lesson::Safety(SafetyPoint::Figure(line), has_reading(text)));
            }
        }
        (points / POINTS, lessons)
    }
}

/// Whether a fault shows only in the wet, so that a dry retest proves nothing.
#[must_use]
pub fn needs_water(fault: &PlacedFault) -> bool {
    fault.deviations.iter().any(|deviation| deviation.when() == When::Wet)
}

/// How often the complaint has to be retested so that this fault would show with 95 %, if it comes and goes.
#[must_use]
pub fn retests_needed(fault: &PlacedFault) -> usize {
    let rarest = fault.deviations.iter().filter_map(|deviation| match deviation.when() {
        When::Flexed(share) | When::Shaken(share) | When::Turned(share) => Some(share),
        _ => None,
    });
    rarest.fold(1, |needed, share| needed.max(tries_to_show(share, MISS)))
}

/// Whether a text holds a reading: a number with its unit behind it, or what a meter shows without one.
fn has_reading(text: &str) -> bool {
    const UNITS: [&str; 14] =
        ["V", "mV", "volt", "A", "mA", "amp", "Ω", "kΩ", "MΩ", "ohm", "W", "OL", "°", "%"];
    let after_a_number = text.char_indices().filter(|(_, c)| c.is_ascii_digit()).any(|(at, _)| {
        let rest = text[at + 1..].trim_start_matches(|c: char| c.is_ascii_digit() || c == '.' || c == ',');
        UNITS.iter().any(|unit| {
            let found = rest.trim_start().strip_prefix(unit);
            // A unit and not the beginning of a word.
            found.is_some_and(|tail| unit.len() > 2 || !tail.starts_with(char::is_alphanumeric))
        })
    });
    after_a_number || text.split(|c: char| !c.is_alphanumeric()).any(|word| matches!(word, "OL" | "tone"))
}

/// Whether a joint works, and will come back.
fn is_poor(deviation: &Deviation) -> bool {
    matches!(deviation, Deviation::Twisted { .. })
}

/// Whether an act brought evidence that a reader of a referral can use.
fn is_finding(step: &Step) -> bool {
    match step.action {
        Action::LookAt(_)
        | Action::LookAtStud(_)
        | Action::OpenTape(_)
        | Action::Flex(_)
        | Action::Tug(..)
        | Action::Fuse(..)
        | Action::ReadMemory(_)
        | Action::Key(_)
        | Action::Press(_)
        | Action::Clip(_, Some(_)) => true,
        Action::ProveMeter => false,
        _ => step.outcome.reading.is_some() || step.outcome.clamp.is_some(),
    }
}
