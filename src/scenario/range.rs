//! What the numbers of a scenario file may be: one table for the check, for the starter file and for the guide.

use std::fmt::{Display, Formatter, Result};

use crate::bench::LONGEST_WAIT_MINUTES;
use crate::written::{At, Problems};

/// The numbers that a field takes, both ends among them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range {
    /// The least.
    pub low: f64,
    /// The most.
    pub high: f64,
    /// Its unit; empty where it has none.
    pub unit: &'static str,
}

const fn range(low: f64, high: f64, unit: &'static str) -> Range {
    Range { low, high, unit }
}

impl Range {
    /// Minutes of a good technician.
    pub const PAR_MINUTES: Self = range(1.0, 1000.0, "min");
    /// Minutes on the job's clock after which it can only be handed in.
    pub const MOST_MINUTES: Self = range(1.0, 3000.0, "min");
    /// How warm the yard is.
    pub const CELSIUS: Self = range(-30.0, 50.0, "°C");
    /// A weight of the marks.
    pub const WEIGHT_OF_MARKS: Self = range(0.0, 1000.0, "");
    /// How long a vehicle rests in a trial.
    pub const REST_MINUTES: Self = range(1.0, LONGEST_WAIT_MINUTES as f64, "min");
    /// What it may draw then; a clamp shows whole steps of 10 mA.
    pub const REST_MILLIAMPS: Self = range(10.0, 10_000.0, "mA");
    /// A resistance that a fault adds, or of the path that it makes.
    pub const FAULT_OHMS: Self = range(1e-3, 1e7, "Ω");
    /// What is left of the latch's winding.
    pub const MOTOR_OHMS: Self = range(0.001, 10.0, "Ω");
    /// What is left of any winding.
    pub const WINDING_OHMS: Self = range(0.001, 1000.0, "Ω");
    /// How often something that comes and goes is there.
    pub const SHARE: Self = range(0.01, 1.0, "");
    /// What a stiff mechanism needs to move.
    pub const STIFF_AMPS: Self = range(0.1, 100.0, "A");
    /// What breaks a film through.
    pub const WETTING_MILLIAMPS: Self = range(0.1, 1000.0, "mA");
    /// A worn key cell without load.
    pub const CELL_VOLTS: Self = range(0.0, 12.0, "V");
    /// Inside a worn key cell.
    pub const CELL_OHMS: Self = range(0.1, 1e5, "Ω");
    /// A low battery without load.
    pub const BATTERY_VOLTS: Self = range(1.0, 14.0, "V");
    /// Inside a low battery.
    pub const BATTERY_OHMS: Self = range(1e-4, 100.0, "Ω");
    /// A lid's angle.
    pub const LID_DEGREES: Self = range(0.0, 120.0, "°");
    /// Below which a place is cold.
    pub const COLDER_CELSIUS: Self = range(-40.0, 60.0, "°C");
    /// Above which a place is warm.
    pub const WARMER_CELSIUS: Self = range(-20.0, 100.0, "°C");

    /// A problem where the number lies outside; `what` says what it is, with its article.
    pub(super) fn check(self, value: &At<f64>, what: &str, problems: &mut Problems) {
        let _: bool = value.in_range(self.low, self.high, self.unit, what, problems);
    }
}

impl Display for Range {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        let gap = if self.unit.is_empty() || self.unit == "°" { "" } else { " " };
        write!(f, "{} to {}{gap}{}", self.low, self.high, self.unit)
    }
}
