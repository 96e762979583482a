//! The ripple of commutation on a motor's current.
//!
//! While a motor turns, its brushes join one bar of the commutator after another, and each time the winding between them is
//! a little less for a moment. Steps of time are far longer than that: what a trace shows of it is worked out afterwards,
//! from the angle that the motor has gone through, the winding's inductance, and how much of the motor's current each
//! quantity has in it.

use super::part::Motor;
use super::run::Sample;
use crate::circuit::LoadPoint;

/// How much the winding's resistance falls and rises about its mean, as a share (common practice, no source: some per cent
/// of ripple on a small motor of three bars).
const DEPTH: f64 = 0.06;
/// Points to a ripple, and the most that one phase gets.
const POINTS: f64 = 8.0;
const MOST_POINTS: usize = 4096;

/// A motor at the time of a sample.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bearing {
    /// Its current, in amps.
    pub(super) amps: f64,
    /// How far it has turned, in volt-seconds.
    pub(super) turned_volt_seconds: f64,
    /// Its speed, in volts.
    pub(super) speed_volts: f64,
}

/// Puts points between samples, with the ripple of a motor on what has its current in it. `ohms` is its winding as it is.
pub(super) fn with_ripple(
    samples: Vec<Sample>,
    bearings: &[Bearing],
    motor: &Motor,
    ohms: f64,
) -> Vec<Sample> {
    if motor.ripples_per_volt_second == 0.0 || samples.len() != bearings.len() {
        return samples;
    }
    let watched = share(&samples, bearings, |sample| sample.watched_amps);
    let loads: Vec<(f64, f64)> = (0..samples.first().map_or(0, |sample| sample.loads.len()))
        .map(|at| {
            (
                share(&samples, bearings, |sample| sample.loads[at].volts),
                share(&samples, bearings, |sample| sample.loads[at].amps),
            )
        })
        .collect();
    let ripples = |bearing: &Bearing| bearing.turned_volt_seconds * motor.ripples_per_volt_second;
    let mut rippled: Vec<Sample> = Vec::with_capacity(samples.len());
    for (pair, bearing) in samples.windows(2).zip(bearings.windows(2)) {
        rippled.push(pair[0].clone());
        let gone = ripples(&bearing[1]) - ripples(&bearing[0]);
        let points = libm::ceil(gone * POINTS);
        #[expect(clippy::cast_precision_loss, reason = "a few thousand at most")]
        let room = MOST_POINTS.saturating_sub(rippled.len()) as f64;
        if !(1.0..=room).contains(&points) {
            continue;
        }
        let mut at = 1.0;
        while at < points {
            let along = at / points;
            let between = |from: f64, to: f64| from + along * (to - from);
            let speed_volts = between(bearing[0].speed_volts, bearing[1].speed_volts);
            let amps = between(bearing[0].amps, bearing[1].amps);
            let turn = ripples(&bearing[0]) + along * gone;
            // R and L in series: what of the change of resistance comes through at this speed.
            let radians_per_second = core::f64::consts::TAU * motor.ripples_per_volt_second * speed_volts;
            let lag = radians_per_second * motor.winding_henries / ohms;
            let swing = DEPTH * amps / libm::sqrt(1.0 + lag * lag);
            let ripple = swing * libm::cos(core::f64::consts::TAU * (turn - libm::floor(turn)));
            rippled.push(Sample {
                at_seconds: between(pair[0].at_seconds, pair[1].at_seconds),
                loads: pair[0]
                    .loads
                    .iter()
                    .zip(&pair[1].loads)
                    .zip(&loads)
                    .map(|((from, to), (volts, amps))| LoadPoint {
                        volts: between(from.volts, to.volts) + volts * ripple,
                        amps: between(from.amps, to.amps) + amps * ripple,
                    })
                    .collect(),
                lights: pair[1].lights.clone(),
                watched_amps: between(pair[0].watched_amps, pair[1].watched_amps) + watched * ripple,
            });
            at += 1.0;
        }
    }
    rippled.extend(samples.last().cloned());
    rippled
}

/// How much a quantity moves for each amp that the motor's current moves: the slope of the line through all changes.
fn share(samples: &[Sample], bearings: &[Bearing], of: impl Fn(&Sample) -> f64) -> f64 {
    let (mut both, mut square) = (0.0, 0.0);
    for (pair, bearing) in samples.windows(2).zip(bearings.windows(2)) {
        let amps = bearing[1].amps - bearing[0].amps;
        both += amps * (of(&pair[1]) - of(&pair[0]));
        square += amps * amps;
    }
    if square > 0.0 { both / square } else { 0.0 }
}
