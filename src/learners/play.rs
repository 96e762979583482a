//! A job played by a machine learner, from the cautions to the hand-in.

use rand::Rng;
use rand_chacha::ChaCha8Rng;

use super::choice::{Chooser, Learner};
use crate::bench::{Action, FuseWork, Lead, LidTo, MeterSetting, Outcome, Precaution};
use crate::fault::{PlacedFault, Purpose, stream};
use crate::job::{Job, JobError, NoJournal, Scene};
use crate::marks::{needs_water, retests_needed};
use crate::reasoning::{Inquiry, Move, Stand, SuspectKind};
use crate::vehicle::{FuseId, KeyButton, LidPosition, Vehicle};

/// Moves after which a job is referred.
const MOST_MOVES: usize = 60;

struct Player {
    job: Job,
    /// What he holds for likely.
    inquiry: Inquiry,
    /// Share of the acts that he misreads.
    misread_share: f64,
    draws: ChaCha8Rng,
}

/// Plays a job that has not been begun to its hand-in: of each act that can show different things the learner misreads
/// this share. What he leaves to chance follows from the job's seed.
///
/// # Errors
/// [`JobError`] where an act leaves a vehicle without an operating point.
pub fn play(learner: Learner, misread_share: f64, fresh: &Inquiry, job: Job) -> Result<Job, JobError> {
    let draws = stream(job.seed(), Purpose::Learner, learner as u64);
    let mut chooser = Chooser::new(learner, fresh);
    let mut player = Player { job, inquiry: fresh.clone(), misread_share, draws };
    player.act(Action::Precaution(Precaution::ReadCautions))?;
    player.act(Action::Precaution(Precaution::EyeProtection))?;
    for _ in 0..MOST_MOVES {
        let stand = Stand::of_scene(&fresh.scenario().vehicle, player.job.scene());
        match chooser.next(&player.inquiry, &stand, &mut player.draws) {
            None => break,
            Some(next @ Move::Test(_)) => player.acts(player.inquiry.acts(&stand, next))?,
            Some(Move::Mend(group)) => {
                if player.mend(group, &stand)? {
                    player.act(Action::HandIn { refer: false })?;
                    return Ok(player.job);
                }
            }
        }
    }
    player.act(Action::HandIn { refer: true })?;
    Ok(player.job)
}

impl Player {
    fn acts(&mut self, acts: Vec<Action>) -> Result<(), JobError> {
        acts.into_iter().try_for_each(|act| self.act(act).map(drop))
    }

    fn act(&mut self, action: Action) -> Result<Outcome, JobError> {
        let scene = self.job.scene();
        let full = LidPosition::Angle(self.job.scenario().vehicle.lid.full_degrees);
        let on_lid = matches!(action, Action::Lid(_) | Action::Precaution(_)) || action.is_on_paper();
        if scene.lid() == full && !scene.propped() && !on_lid {
            self.act(Action::Precaution(Precaution::PropLid))?;
        }
        let outcome = self.job.apply(action.clone(), &mut NoJournal)?.outcome.clone();
        if action.is_on_paper() {
            return Ok(outcome);
        }
        let (chance, ticket) = (self.draws.next_u64(), self.draws.next_u64());
        // From the upper 53 bits, 0 to just below 1.
        if ((chance >> 11) as f64) < self.misread_share * (1_u64 << 53) as f64 {
            self.inquiry.misread(&action, &outcome, ticket)?;
        } else {
            self.inquiry.observe(&action, &outcome)?;
        }
        // Where the lever does not let the lid go, the latch is worked by hand.
        if action == Action::Lever && self.job.scene().lid() == LidPosition::Shut {
            self.act(Action::ForceLatch)?;
        }
        Ok(outcome)
    }

    /// Names what a repair mends, does it, and tells whether it has been proven.
    fn mend(&mut self, group: usize, stand: &Stand) -> Result<bool, JobError> {
        let acts = self.inquiry.acts(stand, Move::Mend(group));
        let meant = self.likeliest(group);
        if let Some(fault) = meant.as_ref().filter(|_| !acts.is_empty()) {
            for diagnosis in fault.diagnoses() {
                let percent = libm::rint(100.0 * self.inquiry.evidence_for(&diagnosis)).clamp(0.0, 100.0);
                #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "from 0 to 100")]
                let percent = percent as u8;
                self.act(Action::Name(diagnosis, percent))?;
            }
        }
        self.acts(acts)?;
        self.proves(meant.as_ref())
    }

    /// The likeliest fault of a group.
    fn likeliest(&self, group: usize) -> Option<PlacedFault> {
        let shares = self.inquiry.probabilities();
        let list = self.inquiry.suspects().list().iter().enumerate();
        let of_group = list.filter(|(at, _)| self.inquiry.groups()[*at] == group);
        let pool = of_group.filter_map(|(at, suspect)| match suspect.kind {
            SuspectKind::Pool(fault) => Some((shares[at], fault)),
            SuspectKind::Sound | SuspectKind::Outside => None,
        });
        let likeliest = pool.max_by(|a, b| a.0.total_cmp(&b.0).then(b.1.cmp(&a.1)));
        likeliest.map(|(_, fault)| self.job.scenario().faults[fault].clone())
    }

    /// Puts everything back and tries the complaint from a shut lid, as often as the fault that is held for mended
    /// needs; where it has gone, the neighbours too.
    fn proves(&mut self, mended: Option<&PlacedFault>) -> Result<bool, JobError> {
        let acts = put_back(&self.job.scenario().vehicle, self.job.scene());
        self.acts(acts)?;
        if mended.is_some_and(needs_water) {
            self.act(Action::Wet)?;
        }
        let scenario = self.job.scenario().clone();
        for _ in 0..mended.map_or(1, retests_needed) {
            for trial in &scenario.trials {
                if self.job.scene().lid() != LidPosition::Shut {
                    return Ok(false);
                }
                self.acts(trial.acts())?;
                if self.job.scene().complains(&scenario, trial)? {
                    return Ok(false);
                }
                self.act(trial.undo().unwrap_or(Action::Lid(LidTo::Shut)))?;
            }
        }
        self.act(Action::Key(KeyButton::Lock))?;
        self.act(Action::Key(KeyButton::Unlock))?;
        Ok(true)
    }
}

/// What has to be done so that everything is as it should be.
fn put_back(vehicle: &Vehicle, scene: Scene<'_>) -> Vec<Action> {
    let (kit, stand) = (scene.kit(), Stand::of_scene(vehicle, scene));
    let mut acts = Vec::new();
    let on = |lead: Lead| if lead == Lead::Red { kit.meter.red } else { kit.meter.black };
    let leads = [Lead::Red, Lead::Black].into_iter().filter(|&lead| on(lead).is_some());
    acts.extend(leads.map(|lead| Action::Probe(lead, None)));
    acts.extend(kit.clips.iter().map(|clip| Action::Clip(clip.tool, None)));
    if kit.meter.setting != MeterSetting::Off {
        acts.push(Action::Meter(MeterSetting::Off));
    }
    let empty = scene.fuses_fitted().into_iter().enumerate().filter(|(_, fitted)| !fitted);
    acts.extend(empty.map(|(fuse, _)| Action::Fuse(FuseId::at(fuse), FuseWork::PutBack)));
    let bare = Stand { unplugged: Vec::new(), on: Vec::new(), ..stand.clone() };
    acts.extend(stand.acts_to(vehicle, &bare));
    acts.extend(stand.panels_off.iter().map(|&panel| Action::Panel(panel, false)));
    if scene.lid() != LidPosition::Shut {
        // A claw that was closed while the lid was up would keep it from shutting.
        acts.extend(scene.claw_home().then_some(Action::Lever));
        acts.push(Action::Lid(LidTo::Shut));
    }
    acts
}
