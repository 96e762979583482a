//! What is heard in the bay. Every sound has its caption: what an act brought stands in words at the lower edge.

mod device;
mod voices;

use std::collections::BTreeMap;
use std::sync::Arc;

use bevy::prelude::*;
use probeworthy::bench::{Action, Heard, LidTo};
use probeworthy::job::Step;

use self::device::{Loudspeaker, Output};
use self::voices::{RATE, Sound, render};
use super::bay::Bay;
use super::settings::Settings;

/// The loudspeaker, and how much of the job has been heard.
#[derive(Resource)]
pub(super) struct Sounds {
    output: Option<Box<dyn Output>>,
    rendered: BTreeMap<Sound, Arc<[f32]>>,
    steps: Option<usize>,
    tone: bool,
}

impl Sounds {
    /// No device is asked for before the first sound is wanted.
    pub(super) fn new() -> Self {
        Self { output: None, rendered: BTreeMap::new(), steps: None, tone: false }
    }

    /// One after another, each a little before the one before has died away.
    fn play(&mut self, sounds: &[Sound]) {
        const OVERLAP: f32 = 0.85;
        let mut from = 0;
        for sound in sounds {
            let samples = self.rendered.entry(*sound).or_insert_with(|| render(*sound).into());
            let samples = Arc::clone(samples);
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                clippy::cast_precision_loss,
                reason = "a few seconds of samples"
            )]
            let long = (samples.len() as f32 * OVERLAP) as usize;
            let shifted: Arc<[f32]> =
                if from == 0 { samples } else { [vec![0.0; from].as_slice(), &samples].concat().into() };
            if let Some(output) = &self.output {
                output.play(shifted);
            }
            from = (from + long).min(LONGEST);
        }
    }
}

/// What comes later than this is not waited for.
const LONGEST: usize = 6 * RATE as usize;

/// Lets the last act be heard, and the meter's tone as long as the meter gives it.
pub(super) fn follow(bay: Res<Bay>, settings: Res<Settings>, mut sounds: ResMut<Sounds>) {
    let steps = bay.job.as_ref().map(|job| job.log().len());
    let before = std::mem::replace(&mut sounds.steps, steps);
    if !settings.sound {
        if sounds.output.take().is_some() {
            sounds.tone = false;
        }
        return;
    }
    if sounds.output.is_none() {
        sounds.output = Some(Box::new(Loudspeaker::open()));
    }
    // A job that is resumed brings many steps at once: they are past.
    let one_more = matches!((before, steps), (Some(before), Some(steps)) if steps == before + 1);
    if let Some(step) = bay.last_step().filter(|_| one_more) {
        sounds.play(&sounds_of(step));
    }
    let tone = bay.meter_tone();
    if tone != sounds.tone {
        sounds.tone = tone;
        if let Some(output) = &sounds.output {
            output.tone(tone);
        }
    }
}

/// What a step sounds like: first what the hand does, then what the vehicle does.
fn sounds_of(step: &Step) -> Vec<Sound> {
    let mut sounds = Vec::new();
    if step.outcome.refused.is_none() {
        sounds.extend(hand(&step.action));
    }
    for heard in &step.outcome.heard {
        match heard {
            Heard::Chirps(count) => sounds.extend((0..*count).map(|_| Sound::Chirp)),
            Heard::MotorRuns => sounds.push(Sound::MotorRuns),
            Heard::MotorStrains => sounds.push(Sound::MotorStrains),
            Heard::MotorTwitches => sounds.push(Sound::MotorTwitches),
            Heard::PlungerHums => sounds.push(Sound::PlungerHums),
            Heard::RelayClicks => sounds.push(Sound::RelayClicks),
            Heard::RelayChatters => sounds.push(Sound::RelayChatters),
            Heard::LatchOpens => sounds.push(Sound::LatchOpens),
            Heard::LatchTakes => sounds.push(Sound::LatchTakes),
            Heard::LeverBinds => sounds.push(Sound::LeverBinds),
            Heard::FusePops => sounds.push(Sound::FusePops),
            Heard::ButtonClicks(_) => sounds.push(Sound::ButtonClicks),
            // The tone goes by the reading, and the customer has no voice of ours.
            Heard::Tone | Heard::ToneBreaks | Heard::Customer(..) => {}
        }
    }
    sounds
}

/// What the learner's own hand is heard to do.
fn hand(action: &Action) -> Option<Sound> {
    match action {
        Action::Lid(LidTo::Shut | LidTo::FirstCatch) => Some(Sound::LidShuts),
        Action::Lid(_) => Some(Sound::LidRises),
        Action::Panel(..) => Some(Sound::Trim),
        Action::Plug(..) | Action::Fuse(..) => Some(Sound::Plug),
        Action::Meter(_) => Some(Sound::Knob),
        Action::Press(_) | Action::Switch(..) => Some(Sound::ButtonClicks),
        Action::Wet => Some(Sound::Rain),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use probeworthy::bench::{FuseWork, MeterSetting, Outcome, Question, Refusal};
    use probeworthy::scenario::load;
    use probeworthy::vehicle::{ConnectorId, FuseId, KeyButton, PanelId, PartId};
    use probeworthy::words::{self, Language, Texts};

    use super::voices::EVERY;
    use super::*;

    fn step(action: Action, heard: Vec<Heard>, refused: Option<Refusal>) -> Step {
        Step { action, outcome: Outcome { heard, refused, ..Outcome::default() }, minutes: 0.0 }
    }

    /// All that can be heard of a vehicle and of the meter.
    fn every_heard() -> Vec<Heard> {
        let all = vec![
            Heard::Chirps(1),
            Heard::MotorRuns,
            Heard::MotorStrains,
            Heard::MotorTwitches,
            Heard::PlungerHums,
            Heard::RelayClicks,
            Heard::RelayChatters,
            Heard::LatchOpens,
            Heard::LeverBinds,
            Heard::LatchTakes,
            Heard::Tone,
            Heard::ToneBreaks,
            Heard::FusePops,
            Heard::Customer(Question::ALL[0], Vec::new()),
            Heard::ButtonClicks(KeyButton::ALL[0]),
        ];
        for one in &all {
            // Whoever adds one is led here, and adds it above.
            match one {
                Heard::Chirps(_)
                | Heard::MotorRuns
                | Heard::MotorStrains
                | Heard::MotorTwitches
                | Heard::PlungerHums
                | Heard::RelayClicks
                | Heard::RelayChatters
                | Heard::LatchOpens
                | Heard::LeverBinds
                | Heard::LatchTakes
                | Heard::Tone
                | Heard::ToneBreaks
                | Heard::FusePops
                | Heard::Customer(..)
                | Heard::ButtonClicks(_) => {}
            }
        }
        all
    }

    #[test]
    fn all_that_is_heard_sounds_and_stands_in_words() {
        let scenario = load("tailgate-ignores-its-key").expect("it is on the shelf").scenario;
        for heard in every_heard() {
            let sounds = sounds_of(&step(Action::Observe, vec![heard.clone()], None));
            let of_its_own = matches!(heard, Heard::Tone | Heard::ToneBreaks | Heard::Customer(..));
            assert_eq!(sounds.len(), usize::from(!of_its_own), "{heard:?}");
            for language in Language::ALL {
                let words = words::heard(Texts::of(language), &scenario.vehicle, &heard);
                assert!(!words.trim().is_empty(), "{heard:?} has no caption in {language:?}");
            }
        }
        assert_eq!(sounds_of(&step(Action::Observe, vec![Heard::Chirps(3)], None)), [Sound::Chirp; 3]);
    }

    #[test]
    fn every_sound_is_of_an_act_or_of_something_heard() {
        let acts = [
            Action::Lid(LidTo::Shut),
            Action::Lid(LidTo::Angle(60)),
            Action::Panel(PanelId::at(0), true),
            Action::Plug(ConnectorId::at(0), false),
            Action::Fuse(FuseId::at(0), FuseWork::Pull),
            Action::Meter(MeterSetting::Volts),
            Action::Press(PartId::at(0)),
            Action::Wet,
        ];
        let by_hand = acts.clone().map(|action| sounds_of(&step(action, Vec::new(), None)));
        let by_vehicle = sounds_of(&step(Action::Observe, every_heard(), None));
        let made: BTreeSet<Sound> = by_hand.into_iter().flatten().chain(by_vehicle).collect();
        assert_eq!(made, BTreeSet::from(EVERY), "a sound that nothing makes, or the other way round");
        for action in acts {
            let refused = step(action.clone(), Vec::new(), Some(Refusal::AlreadySo));
            assert!(sounds_of(&refused).is_empty(), "{action:?} is heard though it was not done");
        }
    }
}
