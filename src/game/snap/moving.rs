//! What moves while frames are timed: as much as can move at once in a job, for as long as is asked.

use std::f32::consts::TAU;

use bevy::prelude::*;
use probeworthy::vehicle::{Part, PartKind, Vehicle};

use super::Walk;
use crate::game::bay::Bay;
use crate::game::scenery::{self, LeadEnd, LeadTip, Palette, Stage, StageLead};

/// After so many seconds the lid turns round, before it comes to rest.
const LID: f32 = 0.7;
/// Seconds in which a probe in hand is led round once.
const ROUND: f32 = 0.8;
/// How far it is led, in design units.
const REACH: f32 = 260.0;
/// After so many seconds lamps change, as direction indicators do (UN Regulation 48: 90 ± 30 flashes a minute).
const FLASH: f32 = 1.0 / 3.0;
/// So many lamps change at once: as many as one switch has.
const LAMPS: usize = 4;

/// Something that moves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Motion {
    /// The lid swings.
    Lid,
    /// Both leads of the meter swing.
    Leads,
    /// Lamps flash.
    Lamps,
    /// All of this, behind a card.
    All,
}

impl Motion {
    pub(super) const ALL: [Self; 4] = [Self::Lid, Self::Leads, Self::Lamps, Self::All];

    /// What it is called among the screens.
    pub(super) fn name(self) -> &'static str {
        match self {
            Self::Lid => "lid-moves",
            Self::Leads => "leads-swing",
            Self::Lamps => "lamps-flash",
            Self::All => "all-moves",
        }
    }

    pub(super) fn is_behind_a_card(self) -> bool {
        self == Self::All
    }

    /// Puts on the stage what is seen of it after so many seconds.
    fn show(self, stage: &mut Stage, vehicle: &Vehicle, seconds: f32, palette: &Palette) {
        let is = |one: Self| self == one || self == Self::All;
        let first_half = |half: f32| (seconds / half).floor() % 2.0 == 0.0;
        if is(Self::Lid) {
            let full = f32::from(vehicle.lid.full_degrees);
            stage.lid_degrees = if first_half(LID) { full } else { 0.0 };
        }
        if is(Self::Leads) {
            let angle = TAU * seconds / ROUND;
            let probe = |from: &str, angle: f32, colour: &str| StageLead {
                from: LeadEnd::Anchor(from.to_owned()),
                to: LeadEnd::Point(scenery::DESIGN / 2.0 + Vec2::from_angle(angle) * REACH),
                tips: [LeadTip::Plug, LeadTip::Probe],
                colour: palette.rgb(colour),
                sag: 0.16,
                clear_of: "meter",
            };
            stage.leads = vec![
                probe("meter-black", angle, "lead-black"),
                probe("meter-red", angle + TAU / 2.0, "lead-red"),
            ];
        }
        if is(Self::Lamps) {
            let light = if first_half(FLASH) { 1.0 } else { 0.0 };
            for lamp in flashing(vehicle) {
                stage.lights.insert(lamp.id.clone(), light);
            }
        }
    }
}

/// Lamps that may flash: of a cluster, which share a connector. One that lights the load space has its own, and changes with the lid.
fn flashing(vehicle: &Vehicle) -> impl Iterator<Item = &Part> {
    let lamps =
        || vehicle.parts().map(|(_, part)| part).filter(|part| matches!(part.kind, PartKind::Lamp { .. }));
    let shares = move |lamp: &&Part| lamps().filter(|other| other.connector == lamp.connector).count() > 1;
    lamps().filter(shares).take(LAMPS)
}

/// Moves what the walk says, whatever the job has on the stage.
pub(super) fn move_things(
    walk: Res<Walk>,
    bay: Res<Bay>,
    palette: Res<Palette>,
    time: Res<Time<Real>>,
    mut stage: ResMut<Stage>,
) {
    let Some(motion) = walk.shots.get(walk.at).and_then(|shot| shot.moves) else { return };
    motion.show(&mut stage, bay.vehicle(), time.elapsed_secs(), &palette);
}

#[cfg(test)]
mod tests {
    use probeworthy::scenario::load;

    use super::*;

    #[test]
    fn what_moves_never_comes_to_rest() {
        let vehicle = load("first-lamp").expect("it is on the shelf").scenario.vehicle;
        let palette = Palette::load();
        let shown = |motion: Motion, frame: u8| {
            let mut stage = Stage::default();
            motion.show(&mut stage, &vehicle, f32::from(frame) / 30.0, &palette);
            stage
        };
        // Of a hundred frames, thirty a second.
        let changes = |motion: Motion, of: &dyn Fn(&Stage, &Stage) -> bool| {
            (0..100).filter(|frame| of(&shown(motion, *frame), &shown(motion, frame + 1))).count()
        };
        for all in [false, true] {
            let motion = |one| if all { Motion::All } else { one };
            assert!(changes(motion(Motion::Lid), &|a, b| a.lid_degrees != b.lid_degrees) >= 4);
            assert_eq!(changes(motion(Motion::Leads), &|a, b| a.leads != b.leads), 100);
            assert!(changes(motion(Motion::Lamps), &|a, b| a.lights != b.lights) >= 9);
        }
        assert_eq!(shown(Motion::Lamps, 3).lights.len(), LAMPS);
        assert_eq!(shown(Motion::Lamps, 3).leads, [], "nothing else moves with them");
    }
}
