//! What brings samples to the loudspeaker.
//!
//! The system's sound library is opened while the program runs, so nothing has to be there to build it. Where none
//! answers the program stays silent and says so once in the log.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, Sender, channel};

use bevy::log::warn;
use maudio::MaudioError;
use maudio::audio::sample_rate::SampleRate;
use maudio::backend::Backend;
use maudio::context::ContextBuilder;
use maudio::device::Device;
use maudio::device::device_builder::{DeviceBuilder, DeviceBuilderOps};

use super::voices::{RATE, tone};

/// Something that can be heard.
pub(super) trait Output: Send + Sync {
    /// Plays samples once, beside what is playing already.
    fn play(&self, samples: Arc<[f32]>);
    /// Lets the meter's tone sound, or not.
    fn tone(&self, on: bool);
}

/// How long the tone takes to come and go, in samples: at once for an ear, and without a click.
const TONE_EDGE: f32 = 60.0;
/// More at once than this are not told apart; the oldest ends.
const MOST_VOICES: usize = 12;

/// Adds up what is playing. It runs on the system's sound thread and never waits.
struct Mixer {
    arriving: Receiver<Arc<[f32]>>,
    tone_on: Arc<AtomicBool>,
    tone_level: f32,
    tone_at: u32,
    playing: Vec<(Arc<[f32]>, usize)>,
}

impl Mixer {
    fn new(arriving: Receiver<Arc<[f32]>>, tone_on: Arc<AtomicBool>) -> Self {
        Self { arriving, tone_on, tone_level: 0.0, tone_at: 0, playing: Vec::new() }
    }

    fn fill(&mut self, out: &mut [f32]) {
        self.playing.extend(self.arriving.try_iter().map(|samples| (samples, 0)));
        let over = self.playing.len().saturating_sub(MOST_VOICES);
        self.playing.drain(..over);
        let wanted = if self.tone_on.load(Ordering::Relaxed) { 1.0 } else { 0.0 };
        for slot in out.iter_mut() {
            let step = (wanted - self.tone_level).clamp(-1.0 / TONE_EDGE, 1.0 / TONE_EDGE);
            self.tone_level += step;
            let mut sum = 0.0;
            if self.tone_level > 0.0 {
                sum += self.tone_level * tone(self.tone_at);
                // A second holds whole periods, so that the phase runs on.
                self.tone_at = (self.tone_at + 1) % RATE;
            }
            for (samples, at) in &mut self.playing {
                if let Some(sample) = samples.get(*at) {
                    sum += sample;
                    *at += 1;
                }
            }
            *slot = sum.clamp(-1.0, 1.0);
        }
        self.playing.retain(|(samples, at)| *at < samples.len());
    }
}

/// Outputs that somebody can hear, the usual ones of each system first. Without the list the library takes, last of
/// all, one that nobody hears.
const HEARD: [Backend; 10] = [
    Backend::Wasapi,
    Backend::DSound,
    Backend::WinMm,
    Backend::CoreAudio,
    Backend::PulseAudio,
    Backend::Alsa,
    Backend::Jack,
    Backend::Sndio,
    Backend::Audio4,
    Backend::Oss,
];

/// The system's loudspeaker.
pub(super) struct Loudspeaker {
    arriving: Sender<Arc<[f32]>>,
    tone_on: Arc<AtomicBool>,
    /// Hanging up ends the thread that holds the device.
    _line: Sender<()>,
}

impl Loudspeaker {
    /// Opens the system's standard output, on a thread of its own: asking for it may take its time.
    pub(super) fn open() -> Self {
        let (arriving, from) = channel();
        let (line, held) = channel::<()>();
        let tone_on = Arc::new(AtomicBool::new(false));
        let mixer = Mixer::new(from, Arc::clone(&tone_on));
        std::thread::spawn(move || match start(mixer) {
            // The device plays until this thread lets it go.
            Ok(_device) => _ = held.recv(),
            Err(why) => warn!("no sound is heard: no sound device answers ({why}); captions say what sounds"),
        });
        Self { arriving, tone_on, _line: line }
    }
}

fn start(mut mixer: Mixer) -> Result<Device<f32>, MaudioError> {
    // Without a card the system's library writes pages about it where the log goes.
    let backends = HEARD.into_iter().filter(|backend| *backend != Backend::Alsa || has_a_card());
    let context = ContextBuilder::new().preferred_backends(backends).build()?;
    let mut device = DeviceBuilder::playback()
        .f32()
        .context(&context)
        .playback_channels(1)
        .sample_rate(SampleRate::Sr44100)
        .with_callback(move |_, out| mixer.fill(out))?;
    device.device_start()?;
    Ok(device)
}

/// Whether Linux knows a sound card; elsewhere nobody asks.
fn has_a_card() -> bool {
    std::fs::read_to_string("/proc/asound/cards").is_ok_and(|cards| cards.contains('['))
}

impl Output for Loudspeaker {
    fn play(&self, samples: Arc<[f32]>) {
        // It fails where no device answered; that has been said once.
        _ = self.arriving.send(samples);
    }

    fn tone(&self, on: bool) {
        self.tone_on.store(on, Ordering::Relaxed);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mixer() -> (Mixer, Sender<Arc<[f32]>>, Arc<AtomicBool>) {
        let (arriving, from) = channel();
        let tone_on = Arc::new(AtomicBool::new(false));
        let mixer = Mixer::new(from, Arc::clone(&tone_on));
        (mixer, arriving, tone_on)
    }

    fn filled(mixer: &mut Mixer, samples: usize) -> Vec<f32> {
        let mut out = vec![9.0; samples];
        mixer.fill(&mut out);
        out
    }

    #[test]
    fn sounds_add_up_end_and_leave_silence() {
        let (mut mixer, arriving, _) = mixer();
        arriving.send(Arc::from([0.1_f32, 0.1, 0.1])).expect("the mixer listens");
        arriving.send(Arc::from([0.2_f32, -0.3])).expect("the mixer listens");
        let heard = filled(&mut mixer, 5);
        for (sample, wanted) in heard.iter().zip([0.3, -0.2, 0.1, 0.0, 0.0]) {
            assert!((sample - wanted).abs() < 1e-6, "{heard:?}");
        }
        assert!(mixer.playing.is_empty());
    }

    #[test]
    fn a_flood_of_sounds_stays_within_bounds() {
        let (mut mixer, arriving, _) = mixer();
        for _ in 0..100 {
            arriving.send(Arc::from(vec![0.6_f32; 400])).expect("the mixer listens");
        }
        assert!(filled(&mut mixer, 400).iter().all(|sample| sample.abs() <= 1.0));
    }

    #[test]
    fn the_tone_follows_at_once_and_without_a_step() {
        let (mut mixer, _arriving, tone_on) = mixer();
        assert!(filled(&mut mixer, 200).iter().all(|sample| *sample == 0.0));
        tone_on.store(true, Ordering::Relaxed);
        let on = filled(&mut mixer, 400);
        // Two milliseconds after the reading it is at its full strength.
        assert!(on[88..].iter().any(|sample| sample.abs() > 0.12), "{on:?}");
        assert!(on[..4].iter().all(|sample| sample.abs() < 0.02), "{on:?}");
        tone_on.store(false, Ordering::Relaxed);
        assert!(filled(&mut mixer, 400)[88..].iter().all(|sample| *sample == 0.0));
    }
}
