//! The sounds of the bay, worked out sample by sample. No recording is used.
//!
//! All are mono, [`RATE`] samples a second, from -1 to 1, begin and end at rest and are the same on every run.

use std::f32::consts::TAU;

/// Samples a second.
pub(super) const RATE: u32 = 44_100;

/// A sound of the bay.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Sound {
    /// The module's chirp, once.
    Chirp,
    /// A latch motor that turns.
    MotorRuns,
    /// A latch motor that has current and does not turn.
    MotorStrains,
    /// A latch motor that jerks and stops.
    MotorTwitches,
    /// A solenoid that has current and whose plunger stays where it is.
    PlungerHums,
    /// A relay's armature.
    RelayClicks,
    /// The same, again and again.
    RelayChatters,
    /// The claw lets go.
    LatchOpens,
    /// The claw catches.
    LatchTakes,
    /// A cable goes tight.
    LeverBinds,
    /// A fuse opens.
    FusePops,
    /// A button under the thumb.
    ButtonClicks,
    /// The lid rises on its struts.
    LidRises,
    /// The lid falls into its seal.
    LidShuts,
    /// A trim's clips come out, or go in.
    Trim,
    /// A connector's halves part, or meet.
    Plug,
    /// Water on sheet metal.
    Rain,
    /// The meter's knob, a detent further.
    Knob,
}

/// Every sound, for tests.
#[cfg(test)]
pub(super) const EVERY: [Sound; 18] = [
    Sound::Chirp,
    Sound::MotorRuns,
    Sound::MotorStrains,
    Sound::MotorTwitches,
    Sound::PlungerHums,
    Sound::RelayClicks,
    Sound::RelayChatters,
    Sound::LatchOpens,
    Sound::LatchTakes,
    Sound::LeverBinds,
    Sound::FusePops,
    Sound::ButtonClicks,
    Sound::LidRises,
    Sound::LidShuts,
    Sound::Trim,
    Sound::Plug,
    Sound::Rain,
    Sound::Knob,
];

/// Works out a sound's samples.
pub(super) fn render(sound: Sound) -> Vec<f32> {
    let mut samples = match sound {
        Sound::Chirp => chirp(),
        Sound::MotorRuns => motor(0.42, 1.0),
        Sound::MotorTwitches => motor(0.07, 0.5),
        Sound::MotorStrains => strain(),
        Sound::PlungerHums => hum(0.5, 100.0, 0.3),
        Sound::RelayClicks => knock(&[(0.0, 0.5, 2900.0, 0.006), (0.004, 0.3, 5200.0, 0.004)], 0.06),
        Sound::RelayChatters => chatter(),
        Sound::LatchOpens => {
            knock(&[(0.0, 0.6, 1700.0, 0.010), (0.011, 0.8, 620.0, 0.030), (0.034, 0.3, 2400.0, 0.014)], 0.25)
        }
        Sound::LatchTakes => {
            knock(&[(0.0, 0.5, 2100.0, 0.008), (0.006, 0.9, 340.0, 0.045), (0.021, 0.5, 950.0, 0.018)], 0.3)
        }
        Sound::LeverBinds => creak(),
        Sound::FusePops => pop(),
        Sound::ButtonClicks => knock(&[(0.0, 0.3, 3600.0, 0.003), (0.055, 0.2, 4300.0, 0.003)], 0.09),
        Sound::LidRises => sigh(),
        Sound::LidShuts => {
            knock(&[(0.0, 1.0, 74.0, 0.090), (0.002, 0.7, 190.0, 0.040), (0.012, 0.5, 1100.0, 0.014)], 0.5)
        }
        Sound::Trim => {
            knock(&[(0.0, 0.5, 900.0, 0.012), (0.09, 0.4, 1050.0, 0.012), (0.15, 0.6, 760.0, 0.016)], 0.3)
        }
        Sound::Plug => knock(&[(0.0, 0.3, 2300.0, 0.005), (0.045, 0.5, 1500.0, 0.008)], 0.12),
        Sound::Rain => rain(),
        Sound::Knob => knock(&[(0.0, 0.25, 2600.0, 0.004)], 0.03),
    };
    settle(&mut samples);
    samples
}

/// The meter's continuity tone as a function of the sample's number.
pub(super) fn tone(sample: u32) -> f32 {
    let at = sample as f32 / RATE as f32;
    // A piezo disc: nearly a square wave, its upper part soft.
    let base = (TAU * 2730.0 * at).sin();
    0.16 * (base + 0.28 * (TAU * 2730.0 * 3.0 * at).sin())
}

/// Number of samples in so many seconds.
fn count(seconds: f32) -> usize {
    (seconds * RATE as f32) as usize
}

/// Samples of `seconds`, each from its time in seconds.
fn over(seconds: f32, mut at: impl FnMut(f32) -> f32) -> Vec<f32> {
    (0..count(seconds)).map(|sample| at(sample as f32 / RATE as f32)).collect()
}

/// Noise that is the same each time: a linear congruential series, from -1 to 1.
struct Noise(u32);

impl Noise {
    fn next(&mut self) -> f32 {
        self.0 = self.0.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (self.0 >> 8) as f32 / 8_388_608.0 - 1.0
    }
}

/// Blows on something that rings: when (s), how hard, its pitch (Hz), how long it rings (s).
fn knock(blows: &[(f32, f32, f32, f32)], seconds: f32) -> Vec<f32> {
    let mut noise = Noise(7);
    over(seconds, |at| {
        let hiss = noise.next();
        let ring = |&(when, hard, pitch, long): &(f32, f32, f32, f32)| {
            let since = at - when;
            if since < 0.0 {
                return 0.0;
            }
            let fades = (-since / long).exp();
            let contact = (-since / 0.0015).exp() * hiss;
            hard * (fades * ((TAU * pitch * since).sin() + 0.4 * (TAU * pitch * 1.59 * since).sin()) * 0.5
                + 0.5 * contact)
        };
        blows.iter().map(ring).sum()
    })
}

fn chirp() -> Vec<f32> {
    over(0.13, |at| {
        let swell = (at / 0.012).min(1.0) * ((0.13 - at) / 0.03).clamp(0.0, 1.0);
        // The pitch rises from 1.9 to 2.6 kHz: the phase is its integral.
        let phase = TAU * (1900.0 * at + 0.5 * 5400.0 * at * at);
        0.32 * swell * (phase.sin() + 0.3 * (2.0 * phase).sin())
    })
}

/// A small motor with a gear: its pitch climbs as it comes to speed.
fn motor(seconds: f32, speed: f32) -> Vec<f32> {
    let mut noise = Noise(3);
    let mut turns = 0.0_f32;
    over(seconds, |at| {
        let revolutions = speed * 165.0 * (1.0 - (-at / 0.05).exp());
        turns += revolutions / RATE as f32;
        let swell = (at / 0.01).min(1.0) * ((seconds - at) / 0.02).clamp(0.0, 1.0);
        let whine = (TAU * turns * 11.0).sin() * 0.22 + (TAU * turns).sin() * 0.3;
        let brushes = noise.next() * 0.10 * (0.6 + 0.4 * (TAU * turns * 3.0).sin());
        swell * (whine + brushes) * 0.7
    })
}

/// A motor that stands still under current: the steel hums, the gear ticks against its stop.
fn strain() -> Vec<f32> {
    let mut noise = Noise(11);
    over(0.45, |at| {
        let swell = (at / 0.015).min(1.0) * ((0.45 - at) / 0.05).clamp(0.0, 1.0);
        let tick = (-((at * 17.0).fract() / 17.0) / 0.004).exp() * noise.next() * 0.35;
        let growl = (TAU * 58.0 * at).sin() * 0.4 + (TAU * 116.0 * at).sin() * 0.2;
        swell * (growl + tick) * 0.8
    })
}

fn hum(seconds: f32, pitch: f32, hard: f32) -> Vec<f32> {
    over(seconds, |at| {
        let swell = (at / 0.02).min(1.0) * ((seconds - at) / 0.04).clamp(0.0, 1.0);
        swell * hard * ((TAU * pitch * at).sin() + 0.5 * (TAU * 3.0 * pitch * at).sin())
    })
}

fn chatter() -> Vec<f32> {
    let once = render(Sound::RelayClicks);
    let mut samples = vec![0.0; count(0.6)];
    for (stroke, late) in [0.0, 0.004, -0.003, 0.006, 0.0, -0.005, 0.003, 0.001, -0.002].iter().enumerate() {
        let from = count(0.01 + 0.06 * stroke as f32 + late);
        for (sample, more) in samples[from..].iter_mut().zip(&once) {
            *sample += more * if stroke % 2 == 0 { 1.0 } else { 0.7 };
        }
    }
    samples
}

fn creak() -> Vec<f32> {
    let mut noise = Noise(23);
    over(0.3, |at| {
        let swell = (at / 0.05).min(1.0) * ((0.3 - at) / 0.06).clamp(0.0, 1.0);
        let slip = ((at * (90.0 - 120.0 * at)).fract() * -9.0).exp();
        swell * slip * (0.35 * (TAU * 480.0 * at).sin() + 0.25 * noise.next())
    })
}

fn pop() -> Vec<f32> {
    let mut noise = Noise(5);
    over(0.18, |at| {
        let crack = (-at / 0.004).exp() * noise.next();
        let body = (-at / 0.03).exp() * (TAU * 210.0 * at).sin();
        0.8 * crack + 0.4 * body
    })
}

/// Gas passes through a strut's piston.
fn sigh() -> Vec<f32> {
    let mut noise = Noise(17);
    let mut smooth = 0.0_f32;
    over(1.1, |at| {
        let swell = (at / 0.12).min(1.0) * ((1.1 - at) / 0.5).clamp(0.0, 1.0);
        smooth += (noise.next() - smooth) * 0.16;
        0.55 * swell * smooth
    })
}

fn rain() -> Vec<f32> {
    let mut noise = Noise(41);
    let mut smooth = 0.0_f32;
    let mut drop = 0.0_f32;
    let mut pitch = 0.0_f32;
    let mut since = 0.0_f32;
    over(2.4, |at| {
        let swell = (at / 0.5).min(1.0) * ((2.4 - at) / 0.8).clamp(0.0, 1.0);
        let white = noise.next();
        smooth += (white - smooth) * 0.45;
        // Now and then a drop rings on the sheet metal.
        if white > 0.9992 {
            drop = 0.5;
            since = 0.0;
            pitch = 900.0 + 1400.0 * noise.next().abs();
        }
        since += 1.0 / RATE as f32;
        drop *= 1.0 - 1.0 / (0.012 * RATE as f32);
        swell * (0.22 * smooth + drop * (TAU * pitch * since).sin() * 0.5)
    })
}

/// Takes the steps off both ends, so that no loudspeaker clicks, and keeps the loudest sample below the limit.
fn settle(samples: &mut [f32]) {
    let edge = count(0.001).min(samples.len() / 2);
    let length = samples.len();
    for at in 0..edge {
        let share = at as f32 / edge as f32;
        samples[at] *= share;
        samples[length - 1 - at] *= share;
    }
    let loudest = samples.iter().fold(0.0_f32, |loudest, sample| loudest.max(sample.abs()));
    if loudest > LOUDEST {
        for sample in samples {
            *sample *= LOUDEST / loudest;
        }
    }
}

/// Several sounds at once stay below what an output can take.
const LOUDEST: f32 = 0.6;

#[cfg(test)]
mod tests {
    use super::*;

    /// Mean power of a part of a sound that is heard at `pitch` (Hz), by its Fourier sum.
    fn power_at(samples: &[f32], pitch: f32) -> f32 {
        let (mut real, mut imaginary) = (0.0_f32, 0.0_f32);
        for (at, sample) in samples.iter().enumerate() {
            let (sin, cos) = (TAU * pitch * at as f32 / RATE as f32).sin_cos();
            real += sample * cos;
            imaginary += sample * sin;
        }
        (real * real + imaginary * imaginary) / (samples.len() * samples.len()) as f32
    }

    #[test]
    fn every_sound_is_heard_begins_and_ends_at_rest_and_stays_within_bounds() {
        for sound in EVERY {
            let samples = render(sound);
            let power = samples.iter().map(|sample| sample * sample).sum::<f32>() / samples.len() as f32;
            assert!(power > 1e-5, "{sound:?} is silent: {power}");
            assert!(samples.iter().all(|sample| sample.abs() <= LOUDEST + 1e-3), "{sound:?} is too loud");
            assert!(samples[0].abs() < 1e-3, "{sound:?} begins with a step");
            assert!(samples[samples.len() - 1].abs() < 1e-3, "{sound:?} ends with a step");
            assert!(samples.len() < 3 * RATE as usize, "{sound:?} lasts {}", samples.len());
            assert_eq!(samples, render(sound), "{sound:?} differs from run to run");
        }
    }

    #[test]
    fn no_two_sounds_are_alike() {
        for (at, one) in EVERY.iter().enumerate() {
            for other in &EVERY[at + 1..] {
                assert_ne!(render(*one), render(*other), "{one:?} and {other:?}");
            }
        }
    }

    #[test]
    fn a_motor_that_turns_whines_and_one_that_strains_hums() {
        let (runs, strains) = (render(Sound::MotorRuns), render(Sound::MotorStrains));
        assert!(power_at(&strains, 58.0) > 10.0 * power_at(&runs, 58.0));
        let late = &runs[runs.len() / 2..];
        let whine: f32 = (1500..2000).step_by(5).map(|pitch| power_at(late, pitch as f32)).sum();
        let in_strain: f32 = (1500..2000).step_by(5).map(|pitch| power_at(&strains, pitch as f32)).sum();
        assert!(whine > 3.0 * in_strain, "{whine} against {in_strain}");
    }

    #[test]
    fn the_tone_is_one_pitch() {
        let samples: Vec<f32> = (0..RATE / 4).map(tone).collect();
        assert!(power_at(&samples, 2730.0) > 100.0 * power_at(&samples, 2400.0));
    }
}
