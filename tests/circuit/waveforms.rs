//! Waveforms: whatever is asked of random ones agrees with what their definition gives by sums of many thin slices.

use probeworthy::circuit::Waveform;
use proptest::prelude::*;

/// Random points with equal times among them, so that there are jumps.
fn waveform() -> impl Strategy<Value = Waveform> {
    let step = prop_oneof![1 => Just(0.0), 3 => 1e-4..2.0];
    proptest::collection::vec((step, -50.0..50.0), 1..20).prop_map(|steps| {
        let mut seconds = -1.0;
        let points = steps.into_iter().map(|(step, value)| {
            seconds += step;
            (seconds, value)
        });
        Waveform::through(points.collect()).expect("times ascend")
    })
}

/// The mean by the middle values of thin slices: right but for what lies within a slice of a jump.
fn sliced_mean(wave: &Waveform, from: f64, to: f64) -> f64 {
    const SLICES: usize = 4000;
    let slice = (to - from) / SLICES as f64;
    (0..SLICES).map(|at| wave.at(from + (at as f64 + 0.5) * slice)).sum::<f64>() / SLICES as f64
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn means_agree_with_sums_of_slices(wave in waveform(), from in -3.0..20.0, length in 1e-3..10.0) {
        let mean = wave.mean(from, from + length);
        // Twenty jumps of at most 100, each wrong by at most half a slice.
        prop_assert!((mean - sliced_mean(&wave, from, from + length)).abs() <= 20.0 * 100.0 / 4000.0);
        let (least, greatest) = wave.extremes(from, from + length);
        prop_assert!((least..=greatest).contains(&mean), "{least} {mean} {greatest}");
    }

    #[test]
    fn integrals_of_parts_add_up(wave in waveform(), from in -3.0..20.0, first in 0.0..5.0, second in 0.0..5.0) {
        let (middle, to) = (from + first, from + first + second);
        let parts = wave.integral(from, middle) + wave.integral(middle, to);
        prop_assert!((parts - wave.integral(from, to)).abs() < 1e-9);
    }

    #[test]
    fn no_window_has_a_mean_beyond_the_extreme_ones(
        wave in waveform(), window in 1e-2..3.0, from in -3.0..10.0, length in 0.0..10.0
    ) {
        let to = from + length;
        let (least, greatest) = wave.extreme_means(window, from, to);
        let mut nearest = (f64::INFINITY, f64::INFINITY);
        for at in 0..=500 {
            let begin = from + length * f64::from(at) / 500.0;
            let mean = wave.mean(begin, begin + window);
            prop_assert!((least - 1e-9..=greatest + 1e-9).contains(&mean), "at {begin}: {mean}");
            nearest = (nearest.0.min(mean - least), nearest.1.min(greatest - mean));
        }
        // And the extremes are really met: between two of 501 beginnings the mean moves by at most this.
        let most = 100.0 * (length / 500.0) / window;
        prop_assert!(nearest.0 <= most + 1e-9 && nearest.1 <= most + 1e-9, "{nearest:?}, at most {most}");
    }

    #[test]
    fn a_part_is_the_same_between_its_ends(wave in waveform(), from in -3.0..10.0, length in 1e-3..10.0) {
        let part = wave.part(from, from + length);
        prop_assert_eq!((part.begins(), part.ends()), (from, from + length));
        for at in 0..50 {
            let seconds = from + length * f64::from(at) / 50.0;
            prop_assert!((part.at(seconds) - wave.at(seconds)).abs() < 1e-9, "at {}", seconds);
        }
        let value = wave.at(wave.settles());
        prop_assert_eq!(wave.extremes(wave.settles(), wave.ends() + 1.0), (value, value));
    }
}
