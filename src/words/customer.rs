//! What the customer answers: each sentence in three ways that say the same.

use super::part_title;
use crate::bench::Answer;
use crate::vehicle::{Manner, Vehicle};

/// The number of a sentence, and the ways in which it can be said; the first is the usual one.
pub(super) fn ways(vehicle: &Vehicle, answer: Answer) -> (u32, [String; Manner::WAYS]) {
    let lid = &vehicle.lid.title;
    let said = |ways: [&str; Manner::WAYS]| ways.map(str::to_owned);
    match answer {
        Answer::Always => (
            0,
            said([
                "It is always so, every time.",
                "Every time, without exception.",
                "It never does it right any more.",
            ]),
        ),
        Answer::ComesAndGoes => (
            1,
            said([
                "It comes and goes. Sometimes it opens as if nothing were wrong.",
                "Now and then it works, and I cannot say why.",
                "Not always. Some days all is well, and then it is back.",
            ]),
        ),
        Answer::AtOnce => (
            2,
            said([
                "It began from one day to the next.",
                "One day it was there, all at once.",
                "The day before it was still in order.",
            ]),
        ),
        Answer::SlowlyWorse => (
            3,
            said([
                "It has been getting worse for some weeks.",
                "It began with little, some weeks ago, and it grows.",
                "Week by week it is a little worse.",
            ]),
        ),
        Answer::WorseWhenWet => (
            4,
            said([
                "It is worse after rain.",
                "When it has rained it is worse.",
                "In wet weather it is worse than otherwise.",
            ]),
        ),
        Answer::OnlyWhenWet => (
            5,
            said([
                "It is so after rain or a wash. When all is dry, it is well.",
                "Only in the wet: after rain, or after I have washed the car. Dry, it is well.",
                "Rain does it, or the car wash. Once it has dried, nothing is wrong.",
            ]),
        ),
        Answer::WhenCold => (
            6,
            said([
                "It is so on cold mornings. Later in the day it is often well.",
                "When it is cold, in the morning. Around noon it is often gone.",
                "Cold brings it on. When the day warms up it is often well.",
            ]),
        ),
        Answer::WhenWarm => (
            7,
            said([
                "It is so when the car has stood in the sun.",
                "In the heat, after it has been parked in the sun.",
                "When the sun has been on the car, then it happens.",
            ]),
        ),
        Answer::KnockChangesIt => (
            8,
            said([
                "After a hard slam, or a knock, it may be well again, or the other way round.",
                "A slam or a knock can mend it, or bring it back.",
                "Sometimes I hit it, or slam it, and then it is the other way round.",
            ]),
        ),
        Answer::WeatherNoMatter => (
            9,
            said([
                "Wet or dry, I see no difference.",
                "The weather has nothing to do with it, as far as I can tell.",
                "Rain or sun, it is all the same.",
            ]),
        ),
        Answer::PressingHelps => (
            10,
            [
                format!("If I lean on the {lid} while I press, it sometimes lets go."),
                format!("With my weight on the {lid} while I press, it sometimes opens."),
                format!("Sometimes it helps to push against the {lid} while I press."),
            ],
        ),
        Answer::LoadNoMatter => (
            11,
            said([
                "Full or empty, it is the same.",
                "What I carry makes no difference.",
                "It is the same with load and without.",
            ]),
        ),
        Answer::WiringRepaired => (
            12,
            [
                format!("Somebody worked on the {lid}'s wiring a while ago."),
                format!("There was something with the wiring of the {lid}; that was repaired a while ago."),
                format!("Yes, a while ago somebody had the {lid}'s wires apart."),
            ],
        ),
        Answer::FuseChanged => (
            13,
            said([
                "A fuse was changed, with one from the glove box.",
                "I put in a fuse that I had in the glove box.",
                "Only a fuse, a spare one that lay in the glove box.",
            ]),
        ),
        Answer::NoWork => {
            (14, said(["Nobody has touched it.", "No, nobody.", "Nothing has been done to it, no."]))
        }
        Answer::KeyDoesNothing => (
            15,
            said([
                "The key does nothing at all: it does not even lock.",
                "With the key I can do nothing, not even lock.",
                "The key is dead: no locking, no unlocking, nothing.",
            ]),
        ),
        Answer::KeyOnlyLocks => (
            16,
            [
                format!("The key locks and unlocks, but it does not open the {lid}."),
                format!("I can lock and unlock with the key, only the {lid} does not open."),
                format!("Locking works, unlocking works. The {lid} does not answer the key."),
            ],
        ),
        Answer::KeyOpens => {
            (17, said(["With the key it does open.", "The key opens it.", "When I take the key, it opens."]))
        }
        Answer::PadOpens => (
            18,
            [
                format!("The pad on the {lid} does open it."),
                format!("With the pad on the {lid} it opens."),
                format!("When I press on the {lid}'s pad, it opens."),
            ],
        ),
        Answer::PadDoesNot => (
            19,
            [
                format!("The pad on the {lid} does not open it."),
                format!("With the pad on the {lid} it does not open."),
                format!("I can press on the {lid}'s pad as I like, it does not open."),
            ],
        ),
        Answer::LampOdd(part, fraction) if fraction < 0.02 => {
            let title = part_title(vehicle, part);
            (
                20,
                [
                    format!("The {title} stays dark."),
                    format!("The {title} does not light."),
                    format!("From the {title} there comes no light."),
                ],
            )
        }
        Answer::LampOdd(part, _) => {
            let title = part_title(vehicle, part);
            (
                21,
                [
                    format!("The {title} is dim."),
                    format!("The {title} is weaker than it should be."),
                    format!("The {title} gives little light."),
                ],
            )
        }
        Answer::StartsSlowly => (
            22,
            said([
                "The engine turns slowly when I start it.",
                "When I start, the engine turns as if it were tired.",
                "It cranks more slowly than it used to.",
            ]),
        ),
        Answer::NothingElse => (
            23,
            said([
                "Otherwise all is well, as far as I have seen.",
                "I have seen nothing else.",
                "All else is in order, I think.",
            ]),
        ),
    }
}
