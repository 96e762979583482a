//! What an act brought in time, played at its own pace: a motor that runs, a lamp that flashes, a display that changes.

use std::time::Instant;

use probeworthy::bench::{Display, Heard, Moment, MotorState, Renewal, Seen};
use probeworthy::job::Step;
use probeworthy::vehicle::LidPosition;

/// A trace that is being played.
pub(super) struct Playing {
    since: Instant,
    moments: Vec<Moment>,
    /// The lid stays where it was until this many milliseconds have passed.
    lid_waits: f64,
    /// Where the lid stood before.
    pub(super) lid_before: LidPosition,
    /// What the meter's display showed before, and what it shows one after another.
    display_before: Option<Display>,
    renewals: Vec<Renewal>,
}

impl Playing {
    /// The trace of a step, if there is anything to play. Long rests are left out.
    pub(super) fn of(step: &Step, lid_before: LidPosition, display_before: Option<Display>) -> Option<Self> {
        const LONGEST: f64 = 4500.0;
        let outcome = &step.outcome;
        let mut moments: Vec<Moment> =
            outcome.trace.iter().filter(|m| m.milliseconds > 0.0).cloned().collect();
        let moves = moments.iter().any(|moment| moment.motor != MotorState::Still)
            || outcome.seen.iter().any(|seen| matches!(seen, Seen::Flash(..) | Seen::Dip(..)))
            || outcome.heard.iter().any(|heard| matches!(heard, Heard::RelayClicks));
        let length: f64 = moments.iter().map(|moment| moment.milliseconds).sum();
        if !moves || length > LONGEST {
            moments.clear();
        }
        let renewals = outcome.reading.as_ref().map(|reading| reading.during.clone()).unwrap_or_default();
        let renewals: Vec<Renewal> = renewals.into_iter().filter(|one| one.milliseconds < LONGEST).collect();
        if moments.is_empty() && renewals.is_empty() {
            return None;
        }
        let until_release = moments
            .iter()
            .rposition(|moment| moment.motor == MotorState::Running)
            .map_or(0.0, |at| moments[..=at].iter().map(|moment| moment.milliseconds).sum());
        #[expect(
            clippy::disallowed_methods,
            reason = "a trace is played in real time; nothing of the job hangs on it"
        )]
        let since = Instant::now();
        Some(Self { since, moments, lid_waits: until_release, lid_before, display_before, renewals })
    }

    fn milliseconds(&self) -> f64 {
        self.since.elapsed().as_secs_f64() * 1e3
    }

    /// All has been played.
    pub(super) fn is_over(&self) -> bool {
        let last = self.renewals.last().map_or(0.0, |renewal| renewal.milliseconds);
        self.now().is_none() && self.milliseconds() >= last
    }

    /// What the meter's display shows now, while what it showed is played.
    pub(super) fn display(&self) -> Option<Display> {
        let milliseconds = self.milliseconds();
        let shown = self.renewals.iter().rev().find(|renewal| renewal.milliseconds <= milliseconds);
        match shown {
            Some(renewal) => Some(renewal.display),
            None if self.renewals.is_empty() => None,
            None => self.display_before,
        }
    }

    /// The moment that is on now; `None` once all is over.
    pub(super) fn now(&self) -> Option<&Moment> {
        let mut left = self.milliseconds();
        self.moments.iter().find(|moment| {
            left -= moment.milliseconds;
            left < 0.0
        })
    }

    /// The lid has not been let go yet.
    pub(super) fn lid_still_waits(&self) -> bool {
        self.milliseconds() < self.lid_waits
    }
}
