//! What the customer answers: each sentence in three ways that say the same.

use super::describe::part_title;
use crate::bench::Answer;
use crate::say;
use crate::vehicle::{Manner, Vehicle};
use crate::words::Texts;

/// The number of a sentence, and the texts' ids of the ways in which it can be said; the first is the usual one.
fn ways(answer: Answer) -> (u32, [&'static str; Manner::WAYS]) {
    match answer {
        Answer::Always => (0, ["answer-always-1", "answer-always-2", "answer-always-3"]),
        Answer::ComesAndGoes => (1, ["answer-comes-1", "answer-comes-2", "answer-comes-3"]),
        Answer::AtOnce => (2, ["answer-at-once-1", "answer-at-once-2", "answer-at-once-3"]),
        Answer::SlowlyWorse => (3, ["answer-slowly-1", "answer-slowly-2", "answer-slowly-3"]),
        Answer::WorseWhenWet => (4, ["answer-worse-wet-1", "answer-worse-wet-2", "answer-worse-wet-3"]),
        Answer::OnlyWhenWet => (5, ["answer-only-wet-1", "answer-only-wet-2", "answer-only-wet-3"]),
        Answer::WhenCold => (6, ["answer-cold-1", "answer-cold-2", "answer-cold-3"]),
        Answer::WhenWarm => (7, ["answer-warm-1", "answer-warm-2", "answer-warm-3"]),
        Answer::KnockChangesIt => (8, ["answer-knock-1", "answer-knock-2", "answer-knock-3"]),
        Answer::WeatherNoMatter => {
            (9, ["answer-weather-no-matter-1", "answer-weather-no-matter-2", "answer-weather-no-matter-3"])
        }
        Answer::PressingHelps => (10, ["answer-pressing-1", "answer-pressing-2", "answer-pressing-3"]),
        Answer::LoadNoMatter => {
            (11, ["answer-load-no-matter-1", "answer-load-no-matter-2", "answer-load-no-matter-3"])
        }
        Answer::WiringRepaired => {
            (12, ["answer-wiring-repaired-1", "answer-wiring-repaired-2", "answer-wiring-repaired-3"])
        }
        Answer::FuseChanged => {
            (13, ["answer-fuse-changed-1", "answer-fuse-changed-2", "answer-fuse-changed-3"])
        }
        Answer::NoWork => (14, ["answer-no-work-1", "answer-no-work-2", "answer-no-work-3"]),
        Answer::KeyDoesNothing => {
            (15, ["answer-key-nothing-1", "answer-key-nothing-2", "answer-key-nothing-3"])
        }
        Answer::KeyOnlyLocks => (16, ["answer-key-locks-1", "answer-key-locks-2", "answer-key-locks-3"]),
        Answer::KeyOpens => (17, ["answer-key-opens-1", "answer-key-opens-2", "answer-key-opens-3"]),
        Answer::PadOpens => (18, ["answer-pad-opens-1", "answer-pad-opens-2", "answer-pad-opens-3"]),
        Answer::PadDoesNot => (19, ["answer-pad-not-1", "answer-pad-not-2", "answer-pad-not-3"]),
        Answer::LampOdd(_, fraction) if fraction < 0.02 => {
            (20, ["answer-lamp-dark-1", "answer-lamp-dark-2", "answer-lamp-dark-3"])
        }
        Answer::LampOdd(..) => (21, ["answer-lamp-dim-1", "answer-lamp-dim-2", "answer-lamp-dim-3"]),
        Answer::StartsSlowly => {
            (22, ["answer-starts-slowly-1", "answer-starts-slowly-2", "answer-starts-slowly-3"])
        }
        Answer::NothingElse => {
            (23, ["answer-nothing-else-1", "answer-nothing-else-2", "answer-nothing-else-3"])
        }
    }
}

/// A sentence as this vehicle's customer puts it.
pub(super) fn said(t: Texts, vehicle: &Vehicle, answer: Answer) -> String {
    let (sentence, ways) = ways(answer);
    let [first, second, third] = ways;
    let id = match vehicle.manner.way(sentence) {
        0 => first,
        1 => second,
        _ => third,
    };
    match answer {
        Answer::PressingHelps
        | Answer::WiringRepaired
        | Answer::KeyOnlyLocks
        | Answer::PadOpens
        | Answer::PadDoesNot => say!(t, id, lid = t.title(&vehicle.lid.title)),
        Answer::LampOdd(part, _) => say!(t, id, lamp = part_title(t, vehicle, part)),
        Answer::Always
        | Answer::ComesAndGoes
        | Answer::AtOnce
        | Answer::SlowlyWorse
        | Answer::WorseWhenWet
        | Answer::OnlyWhenWet
        | Answer::WhenCold
        | Answer::WhenWarm
        | Answer::KnockChangesIt
        | Answer::WeatherNoMatter
        | Answer::LoadNoMatter
        | Answer::FuseChanged
        | Answer::NoWork
        | Answer::KeyDoesNothing
        | Answer::KeyOpens
        | Answer::StartsSlowly
        | Answer::NothingElse => t.say(id).to_owned(),
    }
}
