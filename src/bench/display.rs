//! A number as a handheld instrument of 6,000 counts shows it.

use super::accuracy::FunctionError;
use super::action::MeterSetting;
use super::outcome::{Display, Scale, Unit};

/// A range: up to which figure it is used, the factor of its unit, and its digits behind the point.
#[derive(Clone, Copy)]
struct Range {
    below: f64,
    scale: Scale,
    decimals: u8,
}

const fn range(below: f64, scale: Scale, decimals: u8) -> Range {
    Range { below, scale, decimals }
}

const VOLTS: &[Range] = &[range(6.0, Scale::One, 3), range(60.0, Scale::One, 2)];
const AMPS: &[Range] = &[range(6.0, Scale::One, 3), range(20.0, Scale::One, 2)];
const OHMS: &[Range] = &[
    range(600.0, Scale::One, 1),
    range(6e3, Scale::Kilo, 3),
    range(60e3, Scale::Kilo, 2),
    range(600e3, Scale::Kilo, 1),
    range(6e6, Scale::Mega, 3),
    range(40e6, Scale::Mega, 2),
];
/// A junction's drop is shown up to 2 V (common practice, no source).
const DIODE: &[Range] = &[range(2.0, Scale::One, 3)];
/// The clamp's one range: 60 A at 10 mA a count.
const CLAMP: &[Range] = &[range(60.0, Scale::One, 2)];

/// A figure of the meter's (V, A or Ω; `None` where there is nothing to show) in the range that fits, with what the
/// meter is off.
pub(super) fn shown(setting: MeterSetting, figure: Option<f64>, error: FunctionError) -> Display {
    let (unit, ranges) = match setting {
        MeterSetting::Off | MeterSetting::Volts | MeterSetting::LowZ => (Unit::Volt, VOLTS),
        MeterSetting::Diode => (Unit::Volt, DIODE),
        MeterSetting::Ohms | MeterSetting::Tone => (Unit::Ohm, OHMS),
        MeterSetting::Amps => (Unit::Amp, AMPS),
    };
    in_range(unit, ranges, figure, error)
}

/// Amps on the clamp's display.
pub(super) fn shown_by_clamp(amps: f64, error: FunctionError) -> Display {
    in_range(Unit::Amp, CLAMP, Some(amps), error)
}

fn in_range(unit: Unit, ranges: &[Range], figure: Option<f64>, error: FunctionError) -> Display {
    let last = ranges[ranges.len() - 1];
    let over = Display { value: None, unit, decimals: last.decimals, scale: last.scale };
    let Some(figure) = figure.filter(|figure| figure.is_finite()) else { return over };
    for &Range { below, scale, decimals } in ranges {
        let count = scale.factor() / libm::pow(10.0, f64::from(decimals));
        let rounded = libm::rint(figure * (1.0 + error.gain) / count + error.counts) * count;
        if rounded.abs() < below {
            // Adding zero turns a rounded −0 into 0.
            return Display { value: Some(rounded + 0.0), unit, decimals, scale };
        }
    }
    over
}

impl Scale {
    /// The factor in front of the unit.
    #[must_use]
    pub fn factor(self) -> f64 {
        match self {
            Self::Milli => 1e-3,
            Self::One => 1.0,
            Self::Kilo => 1e3,
            Self::Mega => 1e6,
        }
    }

    /// Its letter.
    #[must_use]
    pub fn letter(self) -> &'static str {
        match self {
            Self::Milli => "m",
            Self::One => "",
            Self::Kilo => "k",
            Self::Mega => "M",
        }
    }
}

impl Unit {
    /// Its sign.
    #[must_use]
    pub fn sign(self) -> &'static str {
        match self {
            Self::Volt => "V",
            Self::Amp => "A",
            Self::Ohm => "Ω",
        }
    }
}

impl Display {
    /// What its last digit is worth, in the unit itself.
    #[must_use]
    pub fn count(&self) -> f64 {
        self.scale.factor() / libm::pow(10.0, f64::from(self.decimals))
    }
}

impl std::fmt::Display for Display {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let (letter, sign) = (self.scale.letter(), self.unit.sign());
        match self.value {
            Some(value) => {
                write!(f, "{:.*} {letter}{sign}", usize::from(self.decimals), value / self.scale.factor())
            }
            None => write!(f, "OL"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::accuracy::FunctionError;
    use super::super::action::MeterSetting;
    use super::shown;

    /// Whatever is drawn, what is shown stays within ±(share of the reading + counts), the display's rounding included.
    #[test]
    fn no_display_leaves_its_accuracy() {
        let edges = [-1.0, -0.4, 0.0, 0.7, 1.0];
        for setting in MeterSetting::ALL.into_iter().filter(|setting| *setting != MeterSetting::Off) {
            let accuracy = setting.accuracy();
            for step in 0..4000 {
                // From a millionth to tens of millions, either way, with no round numbers among them.
                let size = libm::pow(10.0, f64::from(step) / 4000.0 * 13.0 - 6.0);
                for figure in [size, -size] {
                    for (gain, counts) in edges.iter().flat_map(|gain| edges.map(|counts| (*gain, counts))) {
                        let mut draws = [gain, counts].into_iter();
                        let error = FunctionError::drawn(accuracy, &mut || draws.next().unwrap_or(0.0));
                        let display = shown(setting, Some(figure), error);
                        let Some(value) = display.value else { continue };
                        let band = accuracy.share * size + accuracy.counts * display.count();
                        assert!(
                            (value - figure).abs() <= band * (1.0 + 1e-9),
                            "{setting:?}: {display} for {figure}, off by {error:?}"
                        );
                        let most = display.count() * 6000.0;
                        assert!(value.abs() < most, "{setting:?}: {display} has more than 6,000 counts");
                    }
                }
            }
        }
    }
}
