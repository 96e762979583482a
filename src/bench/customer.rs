//! What the customer can tell: worked out from how the vehicle stood when it came in, in a layman's words and no more.

use std::sync::Arc;

use super::accuracy::InstrumentErrors;
use super::action::Question;
use super::chance::Chance;
use super::looks::WEAK;
use super::outcome::Answer;
use super::shared::Day;
use super::step::step;
use super::world::World;
use super::{Action, Seen};
use crate::circuit::Unsolved;
use crate::vehicle::{
    Conditions, ContactLook, Deviation, KeyButton, LidPosition, PartKind, Vehicle, When, Zone,
};

pub(super) fn answer(
    vehicle: &Vehicle,
    world: &World,
    question: Question,
    chance: &mut dyn Chance,
) -> Result<Vec<Answer>, Unsolved> {
    let deviations: Vec<&Deviation> = world.arrived.deviations.iter().map(|one| &one.deviation).collect();
    let any = |fits: &dyn Fn(&Deviation) -> bool| deviations.iter().any(|deviation| fits(deviation));
    let corroded = any(&|d| {
        matches!(
            d,
            Deviation::Contact { look: ContactLook::Corroded, .. } | Deviation::Stud { loose: false, .. }
        ) || matches!(d, Deviation::Series { ohms, .. } if ohms.is_finite())
    });
    let settles_anew = any(&|d| matches!(d.when(), When::Shaken(_) | When::Turned(_)));
    Ok(match question {
        Question::When => {
            // What depends on the lid alone is always so for somebody who stands before a shut one.
            let comes_and_goes = any(&|d| {
                matches!(
                    d.when(),
                    When::Flexed(_)
                        | When::LidBetween(..)
                        | When::Shaken(_)
                        | When::Turned(_)
                        | When::ColderThan(_)
                        | When::WarmerThan(_)
                        | When::Wet
                )
            });
            let slowly = corroded || any(&|d| matches!(d, Deviation::Stiff(..) | Deviation::Battery(..)));
            let first = if comes_and_goes { Answer::ComesAndGoes } else { Answer::Always };
            let mut said = vec![first, if slowly { Answer::SlowlyWorse } else { Answer::AtOnce }];
            said.extend(settles_anew.then_some(Answer::KnockChangesIt));
            said
        }
        Question::Weather => vec![if any(&|d| d.when() == When::Wet) {
            Answer::OnlyWhenWet
        } else if any(&|d| matches!(d.when(), When::ColderThan(_))) {
            Answer::WhenCold
        } else if any(&|d| matches!(d.when(), When::WarmerThan(_))) {
            Answer::WhenWarm
        } else if corroded {
            Answer::WorseWhenWet
        } else {
            Answer::WeatherNoMatter
        }],
        Question::Load => {
            let stiff = any(&|d| matches!(d, Deviation::Stiff(..)));
            vec![if stiff { Answer::PressingHelps } else { Answer::LoadNoMatter }]
        }
        Question::EarlierWork => {
            let wiring = any(&|d| matches!(d, Deviation::Crossed { .. } | Deviation::HalfSeated { .. }));
            let fuse = world
                .arrived
                .fuses
                .iter()
                .zip(&vehicle.fuses)
                .any(|(slot, file)| slot.fitted.is_some_and(|fuse| fuse.rating_amps != file.rating_amps));
            match (wiring, fuse) {
                (true, _) => vec![Answer::WiringRepaired],
                (_, true) => vec![Answer::FuseChanged],
                _ => vec![Answer::NoWork],
            }
        }
        Question::AnythingElse => anything_else(vehicle, world, chance)?,
    })
}

/// Plays through what a customer does every day, on the vehicle as it came in and on a sound one.
fn anything_else(vehicle: &Vehicle, world: &World, chance: &mut dyn Chance) -> Result<Vec<Answer>, Unsolved> {
    let arrived = &world.arrived;
    let conditions = Conditions { locked: arrived.locked, celsius: arrived.celsius, wet: arrived.wet };
    // Nothing has been seen of it yet, so that what is low already is not taken for a press.
    let mut fresh = world.unseen(vehicle, Arc::clone(&world.arrived));
    fresh.settle(vehicle)?;

    let mut answers = Vec::new();
    let mut trial = fresh.clone();
    let lock = step(vehicle, &mut trial, &Action::Key(KeyButton::Lock), chance)?;
    let flashes = lock.seen.iter().any(|seen| matches!(seen, Seen::Flash(..)));
    let mut trial = fresh.clone();
    step(vehicle, &mut trial, &Action::Key(KeyButton::Release), chance)?;
    answers.push(match (is_open(&trial), flashes) {
        (true, _) => Answer::KeyOpens,
        (false, true) => Answer::KeyOnlyLocks,
        (false, false) => Answer::KeyDoesNothing,
    });
    let outside = vehicle.parts().find(|(_, part)| {
        matches!(part.kind, PartKind::Switch { springs_back: true, .. })
            && matches!(part.reach.zone, Zone::Outside | Zone::Lid)
    });
    if let Some((pad, _)) = outside {
        let mut trial = fresh.clone();
        step(vehicle, &mut trial, &Action::Press(pad), chance)?;
        answers.push(if is_open(&trial) { Answer::PadOpens } else { Answer::PadDoesNot });
    }
    let good = world.shared.day(conditions, || {
        let sound = world.beside(vehicle, None, InstrumentErrors::NONE, conditions)?;
        day(vehicle, &sound)
    })?;
    let parts = || fresh.rest.lights.iter().map(|(part, _)| *part);
    for (good, lights) in good.iter().zip(day(vehicle, &fresh)?) {
        for ((part, &good), light) in parts().zip(good).zip(lights) {
            let odd = good > 0.05 && light < WEAK * good;
            let told =
                answers.iter().any(|answer| matches!(answer, Answer::LampOdd(which, _) if *which == part));
            if odd && !told {
                answers.push(Answer::LampOdd(part, light));
            }
        }
    }
    if world.arrived.has(|deviation| matches!(deviation, Deviation::Battery(..))) {
        answers.push(Answer::StartsSlowly);
    }
    if !answers.iter().any(|answer| matches!(answer, Answer::LampOdd(..) | Answer::StartsSlowly)) {
        answers.push(Answer::NothingElse);
    }
    Ok(answers)
}

/// Lamps as a day shows them: with one switch on at a time and the lid shut, and with none and the lid up.
fn day(vehicle: &Vehicle, world: &World) -> Result<Day, Unsolved> {
    let switches =
        vehicle.parts().filter(|(_, part)| matches!(part.kind, PartKind::Switch { springs_back: false, .. }));
    let ways = switches.map(|(part, _)| Some(part)).chain([None]);
    ways.map(|switch| {
        let mut one = world.clone();
        if let Some(part) = switch {
            one.state.on[part.index()] = true;
        } else {
            one.state.claw_home = false;
            one.state.move_lid(LidPosition::Angle(vehicle.lid.full_degrees));
        }
        one.settle(vehicle)?;
        Ok(one.rest.lights.iter().map(|(_, light)| *light).collect())
    })
    .collect()
}

fn is_open(world: &World) -> bool {
    !matches!(world.state.lid, LidPosition::Shut | LidPosition::FirstCatch)
}
