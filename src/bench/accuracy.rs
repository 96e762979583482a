//! How far an instrument may be off, and how far off the one of a job is.

use super::action::MeterSetting;

/// What a function of an instrument may be off at most: ±(a share of the reading + counts of its last digit).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Accuracy {
    /// Share of the reading.
    pub share: f64,
    /// Counts of the last digit of the range in use.
    pub counts: f64,
}

/// Volts, amps, diode test: common practice of handheld meters of 6,000 counts, no source.
const VOLTS: Accuracy = Accuracy { share: 0.005, counts: 2.0 };
const LOW_Z: Accuracy = Accuracy { share: 0.02, counts: 3.0 };
const AMPS: Accuracy = Accuracy { share: 0.01, counts: 3.0 };
const DIODE: Accuracy = Accuracy { share: 0.01, counts: 2.0 };
/// Ohms: a handheld meter's manual (published).
const OHMS: Accuracy = Accuracy { share: 0.008, counts: 2.0 };
/// The recorder's volts, at 10 mV a count (common practice, no source).
pub(super) const RECORDER: Accuracy = Accuracy { share: 0.01, counts: 2.0 };

impl Accuracy {
    /// The clamp's: its zero drifts by up to 30 mA at 10 mA a count (common practice, no source).
    pub const CLAMP: Self = Self { share: 0.02, counts: 3.0 };
}

impl MeterSetting {
    /// What the meter may be off at most on this setting; nothing where it is off.
    #[must_use]
    pub fn accuracy(self) -> Accuracy {
        match self {
            Self::Off => Accuracy { share: 0.0, counts: 0.0 },
            Self::Volts => VOLTS,
            Self::LowZ => LOW_Z,
            Self::Ohms | Self::Tone => OHMS,
            Self::Diode => DIODE,
            Self::Amps => AMPS,
        }
    }
}

/// What one function of one instrument is off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct FunctionError {
    /// Share of the reading.
    pub(super) gain: f64,
    /// Counts of the last digit, before the display rounds.
    pub(super) counts: f64,
}

impl FunctionError {
    const NONE: Self = Self { gain: 0.0, counts: 0.0 };

    /// Somewhere within an accuracy; `draw` gives numbers from −1 to 1. Half a count is left for the display's rounding.
    pub(super) fn drawn(accuracy: Accuracy, draw: &mut dyn FnMut() -> f64) -> Self {
        Self { gain: draw() * accuracy.share, counts: draw() * (accuracy.counts - 0.5) }
    }
}

/// What the instruments of a job are off, function by function: the same for the whole job.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InstrumentErrors {
    volts: FunctionError,
    low_z: FunctionError,
    ohms: FunctionError,
    diode: FunctionError,
    amps: FunctionError,
    pub(super) clamp_gain: f64,
    pub(super) recorder: FunctionError,
}

impl InstrumentErrors {
    /// Instruments that are right.
    pub const NONE: Self = Self {
        volts: FunctionError::NONE,
        low_z: FunctionError::NONE,
        ohms: FunctionError::NONE,
        diode: FunctionError::NONE,
        amps: FunctionError::NONE,
        clamp_gain: 0.0,
        recorder: FunctionError::NONE,
    };

    /// Instruments within their accuracy; `draw` gives numbers from −1 to 1.
    #[must_use]
    pub fn drawn(mut draw: impl FnMut() -> f64) -> Self {
        let mut function = |accuracy| FunctionError::drawn(accuracy, &mut draw);
        Self {
            volts: function(VOLTS),
            low_z: function(LOW_Z),
            ohms: function(OHMS),
            diode: function(DIODE),
            amps: function(AMPS),
            recorder: function(RECORDER),
            clamp_gain: draw() * Accuracy::CLAMP.share,
        }
    }

    /// Those of one setting of the meter.
    pub(super) fn of(&self, setting: MeterSetting) -> FunctionError {
        match setting {
            MeterSetting::Off => FunctionError::NONE,
            MeterSetting::Volts => self.volts,
            MeterSetting::LowZ => self.low_z,
            MeterSetting::Ohms | MeterSetting::Tone => self.ohms,
            MeterSetting::Diode => self.diode,
            MeterSetting::Amps => self.amps,
        }
    }
}
