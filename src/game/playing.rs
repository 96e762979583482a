//! What an act brought in time, played at its own pace: a motor that runs, a lamp that flashes, a display that changes.

use std::collections::BTreeSet;
use std::time::Instant;

use probeworthy::bench::{Display, Heard, Moment, MotorState, Renewal, Seen};
use probeworthy::job::Step;
use probeworthy::vehicle::{LidPosition, PartId};

/// How things stood before an act.
pub(super) struct Before {
    pub(super) lid: LidPosition,
    pub(super) claw_home: bool,
    pub(super) display: Option<Display>,
    pub(super) tone: bool,
}

/// A trace that is being played.
pub(super) struct Playing {
    since: Instant,
    moments: Vec<Moment>,
    /// Lamps that would flash faster than is shown.
    flickering: BTreeSet<PartId>,
    /// The lid stays where it was until this many milliseconds have passed.
    lid_waits: f64,
    /// Where the lid stood before.
    pub(super) lid_before: LidPosition,
    /// Whether the latch's claw was home before.
    pub(super) claw_before: bool,
    /// What the meter's display showed before, and what it shows one after another.
    display_before: Option<Display>,
    renewals: Vec<Renewal>,
    /// Whether the meter sounded its tone before, and when that changes, in milliseconds.
    tone_before: bool,
    tone_changes: Vec<f64>,
}

impl Playing {
    /// The trace of a step, if there is anything to play. Long rests are left out.
    pub(super) fn of(step: &Step, before: &Before) -> Option<Self> {
        const LONGEST: f64 = 4500.0;
        const REST: f64 = 1000.0;
        let outcome = &step.outcome;
        let mut moments: Vec<Moment> =
            outcome.trace.iter().filter(|m| m.milliseconds > 0.0).cloned().collect();
        // What it comes to in the end is seen when all has been played.
        if moments.last().is_some_and(|last| last.milliseconds > REST) {
            moments.pop();
        }
        let seen = |seen: &Seen| matches!(seen, Seen::Flash(..) | Seen::Dip(..) | Seen::Turning(..));
        let moves = moments.iter().any(|moment| moment.motor != MotorState::Still)
            || outcome.seen.iter().any(seen)
            || outcome.heard.iter().any(|heard| matches!(heard, Heard::RelayClicks))
            || moments.windows(2).any(|two| two[0].turning != two[1].turning);
        let length: f64 = moments.iter().map(|moment| moment.milliseconds).sum();
        if !moves || length > LONGEST {
            moments.clear();
        }
        let renewals = outcome.reading.as_ref().map(|reading| reading.during.clone()).unwrap_or_default();
        let renewals: Vec<Renewal> = renewals.into_iter().filter(|one| one.milliseconds < LONGEST).collect();
        let mut tone_changes =
            outcome.reading.as_ref().map(|reading| reading.tone_changes.clone()).unwrap_or_default();
        tone_changes.retain(|milliseconds| *milliseconds < LONGEST);
        if moments.is_empty() && renewals.is_empty() && tone_changes.is_empty() {
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
        Some(Self {
            since,
            flickering: flickering(&moments),
            moments,
            lid_waits: until_release,
            lid_before: before.lid,
            claw_before: before.claw_home,
            display_before: before.display,
            renewals,
            tone_before: before.tone,
            tone_changes,
        })
    }

    fn milliseconds(&self) -> f64 {
        self.since.elapsed().as_secs_f64() * 1e3
    }

    /// All has been played.
    pub(super) fn is_over(&self) -> bool {
        let last = self.renewals.last().map_or(0.0, |renewal| renewal.milliseconds);
        let last = self.tone_changes.last().copied().unwrap_or_default().max(last);
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

    /// Whether the meter sounds its tone now, where it came and went; a lead that has just been put on is heard at once.
    pub(super) fn tone(&self) -> Option<bool> {
        let milliseconds = self.milliseconds();
        let changed = self.tone_changes.iter().filter(|change| **change <= milliseconds).count();
        (!self.tone_changes.is_empty()).then_some(self.tone_before != (changed % 2 == 1))
    }

    /// The light of every lamp now; `None` once all is over.
    pub(super) fn lights(&self) -> Option<Vec<(PartId, f64)>> {
        let now = self.now()?;
        let smoothed = |part| light(&self.moments, part, self.milliseconds());
        let light = |(part, light): &(PartId, f64)| {
            (*part, if self.flickering.contains(part) { smoothed(*part) } else { *light })
        };
        Some(now.lights.iter().map(light).collect())
    }

    /// The motors beside the latch's that turn now; `None` once all is over.
    pub(super) fn turning(&self) -> Option<&[PartId]> {
        self.now().map(|moment| moment.turning.as_slice())
    }

    /// The moment that is on now; `None` once all is over.
    fn now(&self) -> Option<&Moment> {
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

/// Flashes within a second that nobody is shown more of (WCAG 2.2, success criterion 2.3.1), and the share of a lamp's light
/// from which on a change counts (the same: a tenth of the greatest luminance).
const MOST_FLASHES: usize = 3;
const COUNTS: f64 = 0.1;
/// Light that would flash faster is shown as its mean over this time before and after, in milliseconds, with less weight the
/// farther away: what flashes three times a second is left with a twentieth of its changes.
const SMOOTHED_MILLISECONDS: f64 = 500.0;

/// When the light of a lamp turns from rising to falling or back by what counts, in milliseconds.
fn turns(lights: impl Iterator<Item = (f64, f64)>) -> Vec<f64> {
    let mut turns = Vec::new();
    let mut extreme: Option<f64> = None;
    let mut rising = None;
    for (at, light) in lights {
        let Some(far) = extreme else {
            extreme = Some(light);
            continue;
        };
        let up = light > far;
        if rising == Some(up) {
            extreme = Some(light);
        } else if (light - far).abs() >= COUNTS {
            turns.push(at);
            rising = Some(up);
            extreme = Some(light);
        }
    }
    turns
}

/// Whether light with these turns flashes more often within a second than is shown: a flash is two turns.
fn is_too_fast(turns: &[f64]) -> bool {
    turns.windows(2 * MOST_FLASHES + 1).any(|some| some[some.len() - 1] - some[0] <= 1000.0)
}

/// A lamp's light at the beginning of each moment, in milliseconds and a share.
fn course(moments: &[Moment], part: PartId) -> impl Iterator<Item = (f64, f64)> {
    let mut begins = 0.0;
    moments.iter().filter_map(move |moment| {
        let at = begins;
        begins += moment.milliseconds;
        moment.lights.iter().find(|(lamp, _)| *lamp == part).map(|(_, light)| (at, *light))
    })
}

/// The lamps that would flash too fast.
fn flickering(moments: &[Moment]) -> BTreeSet<PartId> {
    let lamps = moments.first().into_iter().flat_map(|moment| &moment.lights).map(|(part, _)| *part);
    lamps.filter(|part| is_too_fast(&turns(course(moments, *part)))).collect()
}

/// The mean of a lamp's light about a time, as far as the moments reach.
fn light(moments: &[Moment], part: PartId, milliseconds: f64) -> f64 {
    // The integral of a weight that falls from 1 at the time itself to 0 on both sides.
    let up_to = |at: f64| {
        let away = ((at - milliseconds) / SMOOTHED_MILLISECONDS).clamp(-1.0, 1.0);
        away - away * away.abs() / 2.0
    };
    let (mut sum, mut weights) = (0.0, 0.0);
    for ((at, light), moment) in course(moments, part).zip(moments) {
        let weight = up_to(at + moment.milliseconds) - up_to(at);
        sum += light * weight;
        weights += weight;
    }
    if weights > 0.0 { sum / weights } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use probeworthy::bench::Action;
    use probeworthy::job::{Choice, Job, NoJournal};
    use probeworthy::scenario::load;

    use super::*;

    fn square(hertz: f64, seconds: f64) -> Vec<Moment> {
        let half = 500.0 / hertz;
        let mut at = 0.0;
        let mut moments = Vec::new();
        while at < seconds * 1e3 {
            let light = if moments.len() % 2 == 0 { 1.0 } else { 0.0 };
            moments.push(Moment {
                milliseconds: half,
                motor: MotorState::Still,
                lights: vec![(PartId::at(0), light)],
                turning: Vec::new(),
            });
            at += half;
        }
        moments
    }

    #[test]
    fn what_would_flash_faster_than_three_times_a_second_is_shown_as_its_mean() {
        for hertz in [3.6, 5.0, 7.0, 10.0, 25.0, 60.0] {
            let moments = square(hertz, 4.0);
            assert!(flickering(&moments).contains(&PartId::at(0)), "{hertz} Hz passes for slow");
            let frames = (0..240).map(|frame| f64::from(frame) * 1e3 / 60.0);
            let shown = frames.map(|at| (at, light(&moments, PartId::at(0), at)));
            let turns = turns(shown);
            assert!(!is_too_fast(&turns), "{hertz} Hz still flashes: {turns:?}");
        }
    }

    #[test]
    fn a_direction_indicator_blinks_as_it_is() {
        // One to two times a second (UN Regulation 48: 90 ± 30 a minute).
        for hertz in [1.0, 1.5, 2.0] {
            assert!(flickering(&square(hertz, 4.0)).is_empty(), "{hertz} Hz is smoothed");
        }
    }

    #[test]
    fn small_changes_of_light_are_no_flashes() {
        let mut moments = square(20.0, 2.0);
        for moment in &mut moments {
            moment.lights[0].1 = 0.9 + 0.09 * moment.lights[0].1;
        }
        assert!(flickering(&moments).is_empty());
    }

    #[test]
    fn a_wiper_is_played_from_when_it_begins_to_turn_until_it_stands_still() {
        let scenario = Arc::new(load("volts-but-no-light").expect("it is on the shelf").scenario);
        let mut job = Job::new(Arc::clone(&scenario), 7, Choice::Drawn).expect("a job");
        let part =
            |name: &str| scenario.vehicle.parts().find(|(_, part)| part.id == name).expect("it has one").0;
        let before =
            Before { lid: job.scene().lid(), claw_home: job.scene().claw_home(), display: None, tone: false };
        let mut switch = |name: &str, on: bool| {
            let step = job.apply(Action::Switch(part(name), on), &mut NoJournal).expect("it is done");
            let turning = Playing::of(step, &before).map(|playing| playing.moments).unwrap_or_default();
            turning.into_iter().map(|moment| moment.turning).collect::<Vec<_>>()
        };
        switch("engine", true);
        let begins = switch("wipe", true);
        assert_eq!(begins.last(), Some(&vec![part("wiper")]), "{begins:?}");
        // It runs down before it stands still.
        assert!(!switch("wipe", false).is_empty());
        assert!(job.scene().rest().turning.iter().all(|(_, turns)| !turns));
    }
}
