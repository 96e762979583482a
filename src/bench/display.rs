//! A number as a handheld meter of 6,000 counts shows it.

use super::action::MeterSetting;
use super::outcome::{Display, Scale, Unit};

/// Counts of the display.
const COUNTS: f64 = 6000.0;

/// Shows a figure (V, A or Ω; `None` where there is nothing to show) in the range that fits.
#[must_use]
pub fn shown(setting: MeterSetting, figure: Option<f64>) -> Display {
    let unit = match setting {
        MeterSetting::Amps => Unit::Amp,
        MeterSetting::Ohms | MeterSetting::Tone => Unit::Ohm,
        MeterSetting::Volts | MeterSetting::Off => Unit::Volt,
    };
    // Ranges: greatest figure, factor of the unit, digits behind the point.
    let ranges: &[(f64, Scale, u8)] = match unit {
        Unit::Volt => &[(6.0, Scale::One, 3), (60.0, Scale::One, 2)],
        Unit::Amp => &[(6.0, Scale::One, 3), (20.0, Scale::One, 2)],
        Unit::Ohm => &[
            (600.0, Scale::One, 1),
            (6e3, Scale::Kilo, 3),
            (60e3, Scale::Kilo, 2),
            (600e3, Scale::Kilo, 1),
            (6e6, Scale::Mega, 3),
            (40e6, Scale::Mega, 2),
        ],
    };
    let last = ranges[ranges.len() - 1];
    let over = Display { value: None, unit, decimals: last.2, scale: last.1 };
    let Some(figure) = figure.filter(|figure| figure.is_finite()) else { return over };
    for &(greatest, scale, decimals) in ranges {
        let step = greatest_step(greatest, scale, decimals);
        let rounded = libm::rint(figure / step) * step;
        if rounded.abs() < greatest {
            // Adding zero turns a rounded −0 into 0.
            return Display { value: Some(rounded + 0.0), unit, decimals, scale };
        }
    }
    over
}

/// The last digit's worth in a range.
fn greatest_step(greatest: f64, scale: Scale, decimals: u8) -> f64 {
    let step = scale.factor() / libm::pow(10.0, f64::from(decimals));
    debug_assert!(greatest / step <= COUNTS * 10.0);
    step
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
