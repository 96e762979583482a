//! Blade fuses: how long they carry how much, and what they add to a circuit.

use std::sync::OnceLock;

use super::element::WarmFuse;

/// The ratings that are kept in the box, in amps (ISO 8820-3 has 7.5 A as well; no vehicle here uses it).
pub const FUSE_RATINGS_AMPS: [u8; 10] = [1, 2, 3, 4, 5, 10, 15, 20, 25, 30];

/// Current over rating, and seconds until the fuse opens: for each overload, the geometric mean of the limits of
/// ISO 8820-3 as a maker's datasheet gives them (110 % holds for 100 hours or more).
const CURVE: [(f64, f64); 6] =
    [(1.10, 720_000.0), (1.35, 21.2), (1.60, 3.54), (2.00, 0.866), (3.50, 0.2), (6.00, 0.06)];

/// How long a blade fuse of `rating_amps` carries a steady `amps` from cold, in seconds.
///
/// Straight lines between the points of the curve on logarithmic scales; beyond the last one, constant I²t.
/// Below 110 % of the rating: for ever.
#[must_use]
pub fn opening_seconds(rating_amps: f64, amps: f64) -> f64 {
    let overload = amps.abs() / rating_amps;
    if overload < CURVE[0].0 {
        return f64::INFINITY;
    }
    for pair in CURVE.windows(2) {
        let [(low, slow), (high, fast)] = [pair[0], pair[1]];
        if overload <= high {
            let along = (libm::log(overload) - libm::log(low)) / (libm::log(high) - libm::log(low));
            return libm::exp(libm::log(slow) + along * (libm::log(fast) - libm::log(slow)));
        }
    }
    let (last, seconds) = CURVE[CURVE.len() - 1];
    seconds * (last / overload) * (last / overload)
}

/// A blade fuse's resistance when cold, in ohms: a curve through the published 10 A (7.7 mΩ) and 20 A (3.38 mΩ) parts.
#[must_use]
pub fn cold_resistance_ohms(rating_amps: f64) -> f64 {
    let by_curve = |rating_amps: f64| {
        const AT_TEN_OHMS: f64 = 7.7e-3;
        const EXPONENT: f64 = 1.188;
        AT_TEN_OHMS * libm::pow(10.0 / rating_amps, EXPONENT)
    };
    // Asked for at every step of time: those in the box are worked out once.
    static IN_THE_BOX: OnceLock<[f64; FUSE_RATINGS_AMPS.len()]> = OnceLock::new();
    let known = FUSE_RATINGS_AMPS.iter().position(|&rating| f64::from(rating) == rating_amps);
    match known {
        Some(at) => {
            IN_THE_BOX.get_or_init(|| FUSE_RATINGS_AMPS.map(|rating| by_curve(f64::from(rating))))[at]
        }
        None => by_curve(rating_amps),
    }
}

/// A blade fuse at the heat of its current. At its rating it drops about 100 mV, whatever the rating (makers' datasheets,
/// second-hand).
#[must_use]
pub fn warm_fuse(rating_amps: f64) -> WarmFuse {
    const AT_RATING_VOLTS: f64 = 0.1;
    // The curve of cold resistances lies above 100 mV at the smallest ratings.
    const LEAST_GROWTH: f64 = 0.05;
    let cold_ohms = cold_resistance_ohms(rating_amps);
    WarmFuse {
        cold_ohms,
        rating_amps,
        growth: (AT_RATING_VOLTS / (cold_ohms * rating_amps) - 1.0).max(LEAST_GROWTH),
    }
}
