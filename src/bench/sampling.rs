//! What displays show of what instruments feel while an act lasts.
//!
//! A display renews itself four times a second (three to five are usual; from memory), and each of its figures is the
//! mean over the quarter second before it. What changes in between shows part-way once, and then settled.

use super::action::{Action, MeterSetting};
use super::chance::Chance;
use super::outcome::{Display, Heard, Outcome, Renewal, Seen};
use super::recorder::Recording;
use super::world::World;
use crate::bench::accuracy::FunctionError;
use crate::circuit::Waveform;

/// A display renews itself this often, in seconds; each figure is the mean over that time.
const DISPLAY_SECONDS: f64 = 0.25;
/// The hold keeps the least and the greatest mean over this time, in seconds.
const HOLD_SECONDS: f64 = 0.1;
/// The tone follows what lasts this long, in seconds.
const TONE_SECONDS: f64 = 0.05;
/// The tone is looked at so often within an act, which is a minute.
const MOST_LOOKS: u32 = 2400;
/// Figures of one act that are told; what comes after is told by where it ends.
const MOST_RENEWALS: usize = 12;

/// What each instrument feels, in V or A, where it is connected.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Felt {
    pub(super) meter: Option<f64>,
    pub(super) clamp: Option<f64>,
    pub(super) recorder: Option<f64>,
}

/// What each instrument has felt while an act lasted: points in seconds from the act's beginning.
#[derive(Clone, Debug, Default)]
pub(super) struct Tape {
    seconds: f64,
    meter: Vec<(f64, f64)>,
    clamp: Vec<(f64, f64)>,
    recorder: Vec<(f64, f64)>,
}

impl Tape {
    /// Goes on for some seconds, in which this was felt at these times since their beginning.
    pub(super) fn run(&mut self, seconds: f64, felt: impl Iterator<Item = (f64, Felt)>) {
        let from = self.seconds;
        self.seconds += seconds;
        for (at_seconds, felt) in felt {
            // The last time may pass the end by what rounding makes of it, and time must not run backwards.
            let now = (from + at_seconds).min(self.seconds);
            for (points, value) in [
                (&mut self.meter, felt.meter),
                (&mut self.clamp, felt.clamp),
                (&mut self.recorder, felt.recorder),
            ] {
                points.extend(value.map(|value| (now, value)));
            }
        }
    }
}

/// What was felt, with what had been felt before in front of it; `None` where nothing is connected.
fn waveform(points: Vec<(f64, f64)>, before: f64) -> Option<Waveform> {
    if points.is_empty() {
        return None;
    }
    Waveform::through([(0.0, before)].into_iter().chain(points).collect())
}

/// Tells what the instruments showed while an act lasted: `before` is the world as the act found it.
///
/// The displays' beat is not the hand's: where their windows begin is left to chance.
pub(super) fn tell(
    before: &World,
    world: &mut World,
    action: &Action,
    chance: &mut dyn Chance,
    outcome: &mut Outcome,
) {
    let Tape { meter, clamp, recorder, .. } = std::mem::take(&mut world.tape);
    if meter.is_empty() && clamp.is_empty() && recorder.is_empty() {
        return;
    }
    let beat = chance.fraction();
    let was = before.rest.felt;
    // A lead that has just been put on finds the meter as it is with its leads in the air.
    let meter_was = was.meter.filter(|_| before.kit.meter.is_where(&world.kit.meter));
    let meter = waveform(meter, meter_was.unwrap_or(world.kit.meter.felt_open()));
    if let Some(wave) = &meter {
        tell_meter(before, world, action, wave, beat, outcome);
    }
    let clamp_was = was.clamp.filter(|_| before.kit.clamp == world.kit.clamp);
    let clamp = waveform(clamp, clamp_was.unwrap_or(0.0));
    if let (Some(wave), Some(instrument), Some(now)) = (&clamp, world.kit.clamp, &world.rest.clamp) {
        let mut reading = now.clone();
        let show = |amps| instrument.display(amps, world.kit.errors.clamp_gain);
        reading.during = renewals(wave, beat, show);
        reading.settling = matches!(action, Action::Clamp(_));
        outcome.clamp = Some(reading);
    }
    // An instrument that another's handling leaves as it was says nothing.
    if matches!(action, Action::Clamp(_)) {
        outcome.reading = None;
    }
    if (action.handles_meter() && *action != Action::Read) || matches!(action, Action::RecorderLeads(_)) {
        outcome.clamp = outcome.clamp.take().filter(|reading| !reading.during.is_empty());
    }
    if world.kit.recorder.armed && action.triggers_recorder() {
        let recorder = waveform(recorder, was.recorder.unwrap_or(0.0));
        let zero_counts = world.kit.clamp.map_or(0.0, |clamp| clamp.zero_counts);
        let of_clamp = FunctionError { gain: world.kit.errors.clamp_gain, counts: zero_counts };
        outcome.recording =
            Some(Recording::of(recorder.as_ref(), clamp.as_ref(), (world.kit.errors.recorder, of_clamp)));
        world.kit.recorder.armed = false;
    }
}

fn tell_meter(
    before: &World,
    world: &mut World,
    action: &Action,
    wave: &Waveform,
    beat: f64,
    outcome: &mut Outcome,
) {
    let error = world.kit.meter_error();
    let meter = &mut world.kit.meter;
    if meter.capture && !action.handles_meter() {
        let (least, greatest) = wave.extreme_means(HOLD_SECONDS, -HOLD_SECONDS, wave.settles());
        let held = meter.held.map_or((least, greatest), |(low, high)| (low.min(least), high.max(greatest)));
        meter.held = Some(held);
    }
    let meter = &world.kit.meter;
    let show = |felt| meter.display(felt, error);
    let Some(rest) = &mut world.rest.reading else { return };
    if let Some((least, greatest)) = meter.held.filter(|_| meter.capture) {
        rest.held = Some((show(least), show(greatest)));
    }
    if let Some(reading) = &mut outcome.reading {
        reading.held = rest.held;
        reading.during = renewals(wave, beat, show);
        reading.settling = action.handles_meter();
    }
    if matches!(action, Action::Flex(_) | Action::Lid(_)) {
        let (least, greatest) = wave.extreme_means(DISPLAY_SECONDS, -DISPLAY_SECONDS, wave.settles());
        let (least, greatest) = (show(least), show(greatest));
        if moved(least, greatest) {
            outcome.seen.push(Seen::ReadingMoved(least, greatest));
        }
    }
    let rested = before.rest.reading.as_ref().is_some_and(|reading| reading.tone);
    if meter.setting == MeterSetting::Tone && !action.handles_meter() {
        let (least, greatest) = wave.extreme_means(TONE_SECONDS, 0.0, wave.settles());
        let breaks = [least, greatest].iter().any(|felt| meter.sounds(*felt) != rested);
        if breaks && rested == rest.tone {
            outcome.heard.push(Heard::ToneBreaks);
        }
        if let Some(reading) = outcome.reading.as_mut().filter(|_| breaks) {
            reading.tone_changes = tone_changes(wave, rested, |felt| meter.sounds(felt));
        }
    }
}

/// When a tone that did or did not sound before begins and ends, in milliseconds: it goes by the mean over the time that it
/// takes to follow, looked at twice in each.
fn tone_changes(wave: &Waveform, rested: bool, sounds: impl Fn(f64) -> bool) -> Vec<f64> {
    let mut changes = Vec::new();
    let mut on = rested;
    let looks = (0_u32..MOST_LOOKS).map(|look| f64::from(look) * TONE_SECONDS / 2.0);
    for begins in looks.take_while(|begins| *begins <= wave.settles() + TONE_SECONDS) {
        if sounds(wave.mean(begins, begins + TONE_SECONDS)) != on {
            on = !on;
            changes.push((begins + TONE_SECONDS) * 1e3);
        }
    }
    changes
}

/// Whether a reader of the display sees that it moved between two figures.
fn moved(least: Display, greatest: Display) -> bool {
    /// A share of the figure, and so much in V, A or Ω.
    const NOTICED: (f64, f64) = (0.02, 0.01);
    match (least.value, greatest.value) {
        (Some(low), Some(high)) => (high - low).abs() > NOTICED.0 * high.abs().max(low.abs()) + NOTICED.1,
        (None, None) => false,
        _ => true,
    }
}

/// The figures that a display shows one after another, up to the one at which it stays.
fn renewals(wave: &Waveform, beat: f64, show: impl Fn(f64) -> Display) -> Vec<Renewal> {
    let mut shown: Vec<Renewal> = Vec::new();
    let mut last = show(wave.points()[0].1);
    let mut begins = (beat - 1.0) * DISPLAY_SECONDS;
    while begins < wave.settles() + DISPLAY_SECONDS {
        let ends = begins + DISPLAY_SECONDS;
        let display = show(wave.mean(begins, ends));
        if display != last {
            shown.push(Renewal { milliseconds: ends * 1e3, display });
            last = display;
        }
        begins = ends;
    }
    if shown.len() > MOST_RENEWALS {
        let end = shown[shown.len() - 1];
        shown.truncate(MOST_RENEWALS - 1);
        shown.push(end);
    }
    shown
}
