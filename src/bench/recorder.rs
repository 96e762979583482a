//! The recorder: volts by two leads of its own and amps by the clamp, over the time of one act.

use super::accuracy::FunctionError;
use super::clamp::CLAMP_MOST_AMPS;
use crate::circuit::{Law, Load, Waveform};
use crate::vehicle::{Point, Wiring};

/// Input resistance, in ohms, as of a meter on volts.
const INPUT_OHMS: f64 = 10e6;
/// Both its leads together, in ohms.
const LEADS_OHMS: f64 = 0.1;
/// The greatest voltage that it can take down, in volts either way.
const MOST_VOLTS: f64 = 60.0;
/// What a count of its volts and of the clamp's amps is worth.
const VOLTS_COUNT: f64 = 0.01;
const AMPS_COUNT: f64 = 0.01;
/// It begins this long before the act, in seconds, goes on for a fifth longer than something moves, and holds this much.
const BEFORE_SECONDS: f64 = 0.05;
const AFTER_SHARE: f64 = 0.2;
const LEAST_SECONDS: f64 = 0.2;
const MOST_SECONDS: f64 = 5.0;
/// What lasts no longer than this does not set a strip's scale, in seconds.
const SHORT_SECONDS: f64 = 1e-3;
/// What moves by less than this, in V or A, is still.
const STILL: f64 = 0.02;

/// The recorder's leads, and whether it waits for something.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Recorder {
    /// Where its two leads are, plus first.
    pub leads: Option<(Point, Point)>,
    /// It records the next act that does something in time.
    pub armed: bool,
}

/// What the recorder took down of one act. Time 0 is the act's beginning.
#[derive(Clone, Debug, PartialEq)]
pub struct Recording {
    /// Volts between its leads, if they were on something.
    pub volts: Option<Waveform>,
    /// Amps in the clamp, if it was closed round something.
    pub amps: Option<Waveform>,
}

impl Recorder {
    pub(super) fn load(&self, wiring: &Wiring) -> Option<Load> {
        let (plus, minus) = self.leads?;
        let (from, to) = (wiring.node(plus), wiring.node(minus));
        Some(Load { from, to, law: Law::ohms(INPUT_OHMS), lead_ohms: LEADS_OHMS })
    }
}

impl Recording {
    /// What the recorder makes of what it and the clamp felt; `errors` are its own and the clamp's.
    pub(super) fn of(
        volts: Option<&Waveform>,
        amps: Option<&Waveform>,
        errors: (FunctionError, FunctionError),
    ) -> Self {
        let moves = |wave: &Waveform| {
            let last = wave.at(wave.ends());
            let moving = wave.points().iter().rposition(|(_, value)| (value - last).abs() > STILL);
            moving.map_or(0.0, |at| wave.points()[(at + 1).min(wave.points().len() - 1)].0)
        };
        let moving = volts.map_or(0.0, moves).max(amps.map_or(0.0, moves));
        let end = (moving * (1.0 + AFTER_SHARE)).clamp(LEAST_SECONDS, MOST_SECONDS);
        let taken = |wave: &Waveform, error: FunctionError, count: f64, most: f64| {
            wave.part(-BEFORE_SECONDS, end)
                .map(|value| (value * (1.0 + error.gain) + error.counts * count).clamp(-most, most))
        };
        Self {
            volts: volts.map(|wave| taken(wave, errors.0, VOLTS_COUNT, MOST_VOLTS)),
            amps: amps.map(|wave| taken(wave, errors.1, AMPS_COUNT, CLAMP_MOST_AMPS)),
        }
    }

    /// The least and the greatest of one of its channels that lasts for a millisecond: what a strip is scaled to. What is
    /// shorter, such as the kick of a winding, runs to the strip's edge.
    #[must_use]
    pub fn scale(&self, channel: &Waveform) -> (f64, f64) {
        let (begins, ends) = self.span();
        channel.extreme_means(SHORT_SECONDS, begins, ends - SHORT_SECONDS)
    }

    /// When it begins and ends, in seconds from the act's beginning.
    #[must_use]
    pub fn span(&self) -> (f64, f64) {
        let waves = self.volts.iter().chain(&self.amps);
        waves.fold((-BEFORE_SECONDS, 0.0), |(begins, ends), wave| {
            (begins.min(wave.begins()), f64::max(ends, wave.ends()))
        })
    }
}
