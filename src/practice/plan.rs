//! What to practise next.
//!
//! Three rules, common practice in teaching and without a source of figures: what went badly comes back soon and what
//! went well after ever longer gaps; new lessons come in their order; and two jobs in a row do not train the same skill
//! where it can be helped, but look alike from outside, so that the complaint does not give the kind of fault away.

use super::skill::Skill;

/// A job that a learner has handed in.
#[derive(Clone, Debug, PartialEq)]
pub struct Done {
    /// The scenario's name.
    pub scenario: String,
    /// The skill that its fault took.
    pub skill: Skill,
    /// Share of the marks for diagnosis and reasoning, 0 to 1.
    pub finding_share: f64,
    /// Share of the marks for proof of repair and safe work, 0 to 1.
    pub proof_share: f64,
    /// The total, 0 to 100.
    pub total: f64,
}

/// A lesson that can be practised: a scenario of the shelf.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lesson {
    /// The scenario's name.
    pub scenario: String,
    /// The skill that most of its faults take, by their odds.
    pub skill: Skill,
    /// What fails, as the customer sees it: lessons of one circuit look alike.
    pub circuit: String,
}

/// Why a lesson is suggested.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Why {
    /// It has not been tried.
    New,
    /// It went badly, so many jobs ago.
    WentBadly(usize),
    /// It went well, so many jobs ago.
    KeepUp(usize),
}

/// A suggestion.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Next {
    /// The lesson, by its place in the list that was given.
    pub lesson: usize,
    /// Why.
    pub why: Why,
}

/// Below this share of the marks for finding a fault a job has gone badly, and from it on fairly well.
const BADLY: f64 = 0.6;
/// From this share on it has gone well.
const WELL: f64 = 0.8;
/// Jobs until a lesson comes back: after it has gone badly, fairly well, and well for the first time.
const GAPS: [usize; 3] = [2, 4, 8];

/// How a lesson went when it was last done.
struct Past {
    jobs_ago: usize,
    gap: usize,
    badly: bool,
}

/// What was done of a lesson, the gap doubling with every time in a row that it has gone well.
fn past(lesson: &Lesson, done: &[Done]) -> Option<Past> {
    let times: Vec<(usize, f64)> = done
        .iter()
        .enumerate()
        .filter(|(_, job)| job.scenario == lesson.scenario)
        .map(|(at, job)| (done.len() - at, job.finding_share))
        .collect();
    let &(jobs_ago, share) = times.last()?;
    let well_in_a_row = times.iter().rev().take_while(|(_, share)| *share >= WELL).count();
    let gap = match well_in_a_row {
        0 if share < BADLY => GAPS[0],
        0 => GAPS[1],
        times => GAPS[2] << (times - 1).min(6),
    };
    Some(Past { jobs_ago, gap, badly: share < BADLY })
}

/// The next jobs to practise, at most `most`, the first to be done first. `lessons` stand in the order in which a
/// beginner takes them; `done` has the oldest first.
#[must_use]
pub fn next_jobs(lessons: &[Lesson], done: &[Done], most: usize) -> Vec<Next> {
    /// How urgent: what is due after it went badly, then new lessons, then what is due, then the rest.
    fn rank(past: Option<&Past>) -> u8 {
        match past {
            Some(past) if past.badly && past.jobs_ago >= past.gap => 0,
            None => 1,
            Some(past) if past.jobs_ago >= past.gap => 2,
            Some(_) => 3,
        }
    }
    let pasts: Vec<Option<Past>> = lessons.iter().map(|lesson| past(lesson, done)).collect();
    let mut left: Vec<usize> = (0..lessons.len()).collect();
    // The sort is stable: new lessons keep their order.
    left.sort_by_key(|&at| {
        let past = pasts[at].as_ref();
        let waits = past.map_or(0, |past| past.jobs_ago.saturating_sub(past.gap));
        (rank(past), usize::MAX - waits)
    });
    let mut skill_before = done.last().map(|job| job.skill);
    let mut circuit_before = done
        .last()
        .and_then(|job| lessons.iter().find(|lesson| lesson.scenario == job.scenario))
        .map(|lesson| lesson.circuit.as_str());
    let mut next = Vec::new();
    while next.len() < most && !left.is_empty() {
        // So far ahead of its turn a lesson may be taken for the sake of the mixture.
        const AHEAD: usize = 4;
        let among = left.len().min(AHEAD);
        let first_rank = rank(pasts[left[0]].as_ref());
        let chosen = (0..among)
            .filter(|&at| rank(pasts[left[at]].as_ref()) == first_rank)
            .min_by_key(|&at| {
                let lesson = &lessons[left[at]];
                let same_skill = skill_before == Some(lesson.skill);
                let looks_alike = circuit_before == Some(lesson.circuit.as_str());
                (same_skill, !looks_alike, at)
            })
            .unwrap_or(0);
        let lesson = left.remove(chosen);
        skill_before = Some(lessons[lesson].skill);
        circuit_before = Some(&lessons[lesson].circuit);
        let why = match &pasts[lesson] {
            None => Why::New,
            Some(past) if past.badly => Why::WentBadly(past.jobs_ago),
            Some(past) => Why::KeepUp(past.jobs_ago),
        };
        next.push(Next { lesson, why });
    }
    next
}
