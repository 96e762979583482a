//! A lead-acid battery of 12 V: its open-circuit voltage by charge, and its inner resistance in the cold.

/// Charge and open-circuit voltage (trade figures, second-hand; within a tenth of a volt).
const OPEN_VOLTS: [(f64, f64); 5] = [(0.0, 11.89), (0.25, 12.06), (0.5, 12.24), (0.75, 12.45), (1.0, 12.65)];
/// How much more inner resistance for each degree below 20 °C, as a fraction: double at −20 °C (common practice, no
/// source).
const COLD_PER_DEGREE: f64 = 0.025;
/// Charge below which it grows as well, and how many times it has grown when the battery is empty: the acid is next to water
/// then (common practice, no source).
const FULL_ENOUGH: f64 = 0.9;
const EMPTY_FACTOR: f64 = 3.0;

/// Voltage without load at `charge`, 0 to 1, in volts.
#[must_use]
pub fn battery_open_volts(charge: f64) -> f64 {
    let charge = charge.clamp(0.0, 1.0);
    let pair = OPEN_VOLTS.windows(2).find(|pair| charge <= pair[1].0).unwrap_or(&OPEN_VOLTS[3..]);
    let [(low, from), (high, to)] = [pair[0], pair[1]];
    from + (charge - low) / (high - low) * (to - from)
}

/// Inner resistance at `charge`, 0 to 1, as a multiple of that of a battery that is full or nearly so.
#[must_use]
pub fn battery_empty_factor(charge: f64) -> f64 {
    let missing = ((FULL_ENOUGH - charge) / FULL_ENOUGH).clamp(0.0, 1.0);
    1.0 + (EMPTY_FACTOR - 1.0) * missing * missing
}

/// Inner resistance at `celsius`, as a multiple of that at 20 °C.
#[must_use]
pub fn battery_cold_factor(celsius: f64) -> f64 {
    1.0 + COLD_PER_DEGREE * (20.0 - celsius).max(0.0)
}
