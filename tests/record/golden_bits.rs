//! The bits of two hundred jobs: the same scenario, seed and acts give the same outcomes, to the last bit, on every
//! machine and with any number of threads.

use std::sync::Arc;

use blake3::{Hash, Hasher};
use probeworthy::bench::{
    Action, FuseWork, LampSize, Lead, LidTo, MeterSetting, Precaution, Question, Repair, Splice, Tool,
};
use probeworthy::circuit::FUSE_RATINGS_AMPS;
use probeworthy::job::{Choice, Job, NoJournal};
use probeworthy::record::{OUTCOMES, SHOWN, Shown};
use probeworthy::scenario::{SHELF, Scenario, load};
use probeworthy::vehicle::{
    ConductorId, ConnectorId, FuseId, KeyButton, PanelId, PartId, PartKind, Point, StationId, StudId, Vehicle,
};
use rand::{Rng, SeedableRng};
use rand_chacha::ChaCha8Rng;

/// One job for each seed.
const SEEDS: std::ops::RangeInclusive<u64> = 1..=200;
/// Acts of each job after those that open the vehicle up and connect the meter.
const ACTS: usize = 15;

/// A walk through a job: the same for the same seed.
struct Walk<'a> {
    vehicle: &'a Vehicle,
    rng: ChaCha8Rng,
}

impl Walk<'_> {
    fn below(&mut self, limit: usize) -> usize {
        (self.rng.next_u64() % limit as u64) as usize
    }

    fn one<T: Clone>(&mut self, of: &[T]) -> T {
        of[self.below(of.len())].clone()
    }

    fn coin(&mut self) -> bool {
        self.below(2) == 0
    }

    fn part(&mut self, fits: impl Fn(&PartKind) -> bool) -> PartId {
        let fitting: Vec<PartId> =
            self.vehicle.parts().filter(|(_, part)| fits(&part.kind)).map(|(id, _)| id).collect();
        self.one(&fitting)
    }

    fn panel(&mut self) -> PanelId {
        PanelId::at(self.below(self.vehicle.panels.len()))
    }

    fn connector(&mut self) -> ConnectorId {
        ConnectorId::at(self.below(self.vehicle.connectors.len()))
    }

    fn station(&mut self) -> StationId {
        StationId::at(self.below(self.vehicle.stations.len()))
    }

    fn fuse(&mut self) -> FuseId {
        FuseId::at(self.below(self.vehicle.fuses.len()))
    }

    /// What opens the vehicle up and connects the meter, so that most of what follows can be done.
    fn opening(&mut self) -> Vec<Action> {
        let points = self.vehicle.points();
        vec![
            Action::Precaution(Precaution::ReadCautions),
            Action::Ask(self.one(&Question::ALL)),
            Action::Key(KeyButton::Release),
            Action::Lever,
            Action::Lid(LidTo::Angle(self.vehicle.lid.full_degrees)),
            Action::Precaution(Precaution::PropLid),
            Action::Panel(self.panel(), true),
            Action::Panel(self.panel(), true),
            Action::Meter(self.one(&MeterSetting::ALL[1..])),
            Action::Probe(Lead::Black, Some(Point::Body)),
            Action::Probe(Lead::Red, Some(self.one(&points))),
        ]
    }

    fn act(&mut self) -> Action {
        let points = self.vehicle.points();
        match self.below(32) {
            0..6 => Action::Probe(Lead::Red, Some(self.one(&points))),
            6..8 => Action::Probe(Lead::Black, Some(self.one(&points))),
            8..11 => Action::Meter(self.one(&MeterSetting::ALL[1..])),
            11 => Action::Capture(self.coin()),
            12 => Action::Read,
            13..16 => {
                let tool = self.one(&Tool::ALL);
                Action::Clip(tool, Some((self.one(&points), self.one(&points))))
            }
            16 => Action::Clip(Tool::TestLamp(self.one(&[LampSize::Five, LampSize::TwentyOne])), None),
            17..19 => Action::Key(self.one(&KeyButton::ALL)),
            19 => {
                Action::Press(self.part(|kind| matches!(kind, PartKind::Switch { springs_back: true, .. })))
            }
            20 => {
                let part = self.part(|kind| matches!(kind, PartKind::Switch { springs_back: false, .. }));
                Action::Switch(part, self.coin())
            }
            21..23 => {
                let angle = LidTo::Angle(u8::try_from(5 + self.below(70)).expect("an angle"));
                Action::Lid(self.one(&[LidTo::Shut, LidTo::FirstCatch, angle, angle]))
            }
            23 => self.one(&[Action::Lever, Action::CloseClaw, Action::Observe, Action::ProveMeter]),
            24 => Action::Panel(self.panel(), self.coin()),
            25 => Action::Plug(self.connector(), self.coin()),
            26 => Action::Flex(self.station()),
            27 => Action::LookAt(self.connector()),
            28 => Action::OpenTape(self.station()),
            29 => {
                let work = [
                    FuseWork::Pull,
                    FuseWork::Look,
                    FuseWork::PutBack,
                    FuseWork::Fit(self.one(&FUSE_RATINGS_AMPS)),
                ];
                Action::Fuse(self.fuse(), self.one(&work))
            }
            30 => Action::ReadMemory(self.part(|kind| matches!(kind, PartKind::Module(_)))),
            _ => {
                let conductor = ConductorId::at(self.below(self.vehicle.conductors.len()));
                let stud = StudId::at(self.below(self.vehicle.studs.len()));
                let splice =
                    Repair::Conductor(conductor, self.station(), self.one(&[Splice::Sound, Splice::Twisted]));
                Action::Repair(self.one(&[splice, Repair::Stud(stud), Repair::KeyCell, Repair::Charge]))
            }
        }
    }
}

/// Plays one job, and hashes every outcome: its bits, and how a record has it. Numbers are written in the shortest form
/// that gives back all their bits.
fn play(scenarios: &[Arc<Scenario>], seed: u64) -> [Hash; 2] {
    let scenario = &scenarios[seed as usize % scenarios.len()];
    let mut walk = Walk { vehicle: &scenario.vehicle, rng: ChaCha8Rng::seed_from_u64(seed) };
    let mut job = Job::new(Arc::clone(scenario), seed, Choice::Drawn).expect("the shelf is sound");
    let mut acts = walk.opening();
    acts.extend((0..ACTS).map(|_| walk.act()));
    let mut hashers = [Hasher::new(), Hasher::new()];
    for action in acts {
        let step = match job.apply(action.clone(), &mut NoJournal) {
            Ok(step) => step,
            Err(why) => panic!("seed {seed}, {action:?}: {why}"),
        };
        hashers[0].update(format!("{:?}\n", step.outcome).as_bytes());
        let shown = serde_json::to_string(&Shown::of(&scenario.vehicle, &step.outcome)).expect("plain data");
        hashers[1].update(format!("{} {shown}\n", step.minutes).as_bytes());
    }
    hashers.map(|hasher| hasher.finalize())
}

/// Plays all jobs on so many threads, and hashes their hashes in the order of their seeds.
fn play_all(scenarios: &[Arc<Scenario>], threads: u64) -> [Hash; 2] {
    let share = |first: u64| {
        move || {
            SEEDS
                .skip(first as usize)
                .step_by(threads as usize)
                .map(|seed| (seed, play(scenarios, seed)))
                .collect::<Vec<_>>()
        }
    };
    let mut hashes: Vec<(u64, [Hash; 2])> = std::thread::scope(|scope| {
        let running: Vec<_> = (0..threads).map(|first| scope.spawn(share(first))).collect();
        running.into_iter().flat_map(|thread| thread.join().expect("a job panicked")).collect()
    });
    hashes.sort_by_key(|(seed, _)| *seed);
    [0, 1].map(|which| {
        let mut hasher = Hasher::new();
        for (_, both) in &hashes {
            hasher.update(both[which].as_bytes());
        }
        hasher.finalize()
    })
}

#[test]
fn two_hundred_jobs_have_the_same_bits_as_ever_on_one_thread_and_on_two() {
    let scenarios: Vec<Arc<Scenario>> =
        SHELF.iter().map(|shelf| Arc::new(load(shelf.id).expect("the shelf is sound").scenario)).collect();
    let [one, two] = [1, 2].map(|threads| play_all(&scenarios, threads));
    assert_eq!(one, two, "one thread and two give other bits: something depends on what runs beside it");
    let [outcomes, shown] = one.map(|hash| hash.to_hex());
    assert!(
        outcomes.as_str() == OUTCOMES && shown.as_str() == SHOWN,
        "the outcomes of {} jobs, or how a record has them, have changed, and now hash to\n\n    {outcomes} (OUTCOMES)\n    \
         {shown} (SHOWN)\n\nWas the model, a vehicle, a scenario, what an outcome tells or its wording changed on purpose? \
         Then put that into src/record/model.rs, and say in the commit what has changed: records of before can then be \
         replayed only by the program that made them. Was it not? Then leave the lines as they are, and find what has come \
         to depend on something other than scenario, seed and acts: the order of a map, a sum in another order, a clock, a \
         function of the platform's own.",
        SEEDS.count(),
    );
}
