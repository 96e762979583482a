//! What a coach would say of the next step: from what was observed and how the vehicle stands, never from what is wrong.
//!
//! All three rungs speak of the same move, the first of the plan.

use std::cmp::Ordering;

use super::conductor_role::{ConductorRole, conductor_roles};
use super::inquiry::{Inquiry, MOST_EXPANSIONS};
use super::plan::Planner;
use super::problem::{Move, Problem};
use super::stand::Stand;
use super::suspects::SuspectKind;
use crate::bench::{Action, Lead, LidTo, MeterSetting, Place, Repair, Rung};
use crate::fault::{Component, FaultKind, PlacedFault, Spot};
use crate::job::Step;
use crate::vehicle::{
    ConductorId, ConnectorId, FuseId, Half, PartId, PartKind, Point, StationId, StudId, Vehicle, When, Zone,
};

/// What the coach says.
#[derive(Clone, Debug, PartialEq)]
pub enum Advice {
    /// A question to ask oneself.
    Question(Doubt),
    /// The kind of step, and where.
    Kind(Means, Option<Where>),
    /// The very test.
    Test {
        /// What is done, with the way there.
        acts: Vec<Action>,
        /// How many causes are still possible.
        possible: usize,
        /// Into how many groups it would divide them.
        groups: usize,
        /// What it is expected to tell of which repair is needed, in bits.
        bits: f64,
        /// Minutes, with the way there.
        minutes: f64,
    },
    /// The very repair.
    Repair {
        /// What is done, with the way there.
        acts: Vec<Action>,
        /// How many causes are still possible.
        possible: usize,
        /// The probability that it mends, from 0 to 1.
        probability: f64,
        /// Minutes, with the way there, putting back and a trial.
        minutes: f64,
    },
    /// Nothing is left that needs mending.
    Finish,
}

/// What is not known, and worth knowing next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Doubt {
    /// Has the complaint been seen?
    Complaint,
    /// Is it only a setting?
    Setting,
    /// Is the command not given, or not carried out?
    Command,
    /// Is it the feed or the ground?
    FeedOrGround,
    /// Is it the wiring, or what the wiring leads to?
    WiringOrPart,
    /// Is it on the body, at the hinge, or in the lid?
    Side,
    /// Does the lid's position matter, and at which angle?
    LidPosition,
    /// Does it come and go?
    ComesAndGoes,
    /// What tells apart those that are left?
    Apart,
    /// Is it certain enough to mend?
    Enough,
}

impl Doubt {
    /// Those that every fault answers one way or another.
    const OF_FAULTS: [Self; 7] = [
        Self::Setting,
        Self::LidPosition,
        Self::ComesAndGoes,
        Self::Command,
        Self::FeedOrGround,
        Self::WiringOrPart,
        Self::Side,
    ];
}

/// A part of the way from the body to the latch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Side {
    /// Before the hinge.
    Body,
    /// At the hinge.
    Hinge,
    /// Behind it.
    Lid,
}

/// A kind of step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Means {
    /// Asking the customer.
    Ask,
    /// Looking, without taking anything apart.
    Look,
    /// Working the vehicle, and looking and listening.
    Command,
    /// Working it with the lid held part-way.
    PartWay,
    /// Working it again after a knock, in the wet, or several times.
    Provoke,
    /// Reading the module's memory.
    Memory,
    /// Volts with nothing commanded.
    VoltsAtRest,
    /// Volts while the command lasts.
    VoltsCommanded,
    /// A test lamp in place of the load while the command lasts.
    Lamp,
    /// Ohms with connectors open.
    Ohms,
    /// Flexing the loom.
    Flex,
    /// Opening the loom's tape.
    Tape,
    /// Pulling gently at a wire.
    Tug,
    /// A repair.
    Repair,
}

/// Where a step is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Where {
    /// At a connector.
    Connector(ConnectorId),
    /// From one connector to another.
    Between(ConnectorId, ConnectorId),
    /// At a station of the loom.
    Station(StationId),
    /// At a fuse.
    Fuse(FuseId),
    /// At a ground stud.
    Stud(StudId),
    /// At a part.
    Part(PartId),
    /// At the battery.
    Battery,
    /// At the key.
    Key,
}

/// What the coach says on a rung after these acts, which the inquiry has observed, with the vehicle standing so.
#[must_use]
pub fn advice(inquiry: &Inquiry, log: &[Step], stand: &Stand, rung: Rung) -> Advice {
    let mut moment = inquiry.moment();
    let setup = moment.setup(inquiry, stand);
    let problem = &moment.problem;
    let Some(next) = Planner::new(problem, MOST_EXPANSIONS).plan(setup).first else {
        return Advice::Finish;
    };
    let acts = moment.acts(inquiry, stand, next);
    if acts.is_empty() {
        return Advice::Finish;
    }
    let possible = problem.weights.iter().filter(|weight| **weight > 0.0).count();
    match next {
        Move::Test(at) => {
            let test = &inquiry.outlook().menu.tests[problem.tests[at].origin];
            match rung {
                Rung::Question => Advice::Question(if is_first_trial(inquiry, log, &test.acts) {
                    Doubt::Complaint
                } else {
                    doubt(inquiry, problem, at)
                }),
                Rung::Kind => {
                    let (means, place) = kind_of_test(&test.acts);
                    Advice::Kind(means, place)
                }
                Rung::Test => {
                    let column = &problem.tests[at].column;
                    Advice::Test {
                        acts,
                        possible,
                        groups: problem.split(&problem.alive(), column).len(),
                        bits: problem.bits_of(column),
                        minutes: problem.cost(setup, next).0,
                    }
                }
            }
        }
        Move::Mend(group) => match rung {
            Rung::Question => Advice::Question(Doubt::Enough),
            Rung::Kind => Advice::Kind(Means::Repair, acts.iter().rev().find_map(place_of_act)),
            Rung::Test => {
                let of_group =
                    |(at, weight): (usize, &f64)| if problem.group[at] == group { *weight } else { 0.0 };
                let mends: f64 = problem.weights.iter().enumerate().map(of_group).sum();
                let mend = &problem.mends[group];
                Advice::Repair {
                    acts,
                    possible,
                    probability: mends / problem.weights.iter().sum::<f64>(),
                    minutes: problem.ways[setup][mend.setup] + mend.minutes,
                }
            }
        },
    }
}

/// Whether a test does no more than what the customer does, and nobody has done that yet.
fn is_first_trial(inquiry: &Inquiry, log: &[Step], acts: &[Action]) -> bool {
    let trials: Vec<Action> = inquiry.scenario().trials.iter().map(|trial| trial.act()).collect();
    acts.len() == 1 && trials.contains(&acts[0]) && !log.iter().any(|step| trials.contains(&step.action))
}

/// The question that a test says most about.
fn doubt(inquiry: &Inquiry, problem: &Problem, test: usize) -> Doubt {
    /// A test that says less than this of a question, in bits, says nothing of it.
    const NOTHING_BITS: f64 = 1e-6;
    let scenario = inquiry.scenario();
    let roles = conductor_roles(&scenario.vehicle);
    let mut best = (NOTHING_BITS, Doubt::Apart);
    for doubt in Doubt::OF_FAULTS {
        let answer = |kind: SuspectKind| match kind {
            SuspectKind::Pool(at) => answer(&scenario.vehicle, &roles, &scenario.faults[at], doubt),
            // A sound vehicle is what a setting leaves behind.
            SuspectKind::Sound | SuspectKind::Outside => usize::from(doubt == Doubt::Setting),
        };
        // The same suspects, sorted by the answer in place of the repair.
        let asked = Problem {
            weights: problem.weights.clone(),
            group: inquiry.suspects().list().iter().map(|suspect| answer(suspect.kind)).collect(),
            mends: Vec::new(),
            ways: Vec::new(),
            tests: Vec::new(),
            bets: problem.bets,
        };
        let bits = asked.bits_of(&problem.tests[test].column);
        if bits > best.0 {
            best = (bits, doubt);
        }
    }
    best.1
}

/// What the answer to a question is if this is the fault: a number for each answer.
fn answer(vehicle: &Vehicle, roles: &[ConductorRole], fault: &PlacedFault, doubt: Doubt) -> usize {
    let when = |fits: fn(When) -> bool| fault.deviations.iter().any(|one| fits(one.when()));
    let conductor = conductor_of(vehicle, fault);
    let role = match fault.diagnosis.component {
        Component::Stud(_) => ConductorRole::Ground,
        Component::Fuse(_) => ConductorRole::Feed,
        _ => conductor.map_or(ConductorRole::Other, |id| roles[id.index()]),
    };
    let yes = match doubt {
        Doubt::Setting => fault.diagnosis.kind == FaultKind::SettingLeftOn,
        Doubt::LidPosition => return lid_dependence(fault),
        Doubt::ComesAndGoes => when(|when| {
            let steady = matches!(when, When::Always | When::LidBelow(_) | When::LidAbove(_));
            !steady && !matches!(when, When::LidBetween(..))
        }),
        Doubt::Command => match fault.diagnosis.component {
            Component::Key | Component::Lockout => true,
            Component::Part(id) => {
                matches!(vehicle.part(id).kind, PartKind::Module(_) | PartKind::Switch { .. })
            }
            _ => role == ConductorRole::Signal,
        },
        Doubt::FeedOrGround => {
            return match role {
                ConductorRole::Feed => 1,
                ConductorRole::Ground => 2,
                ConductorRole::Signal | ConductorRole::Other => 0,
            };
        }
        Doubt::WiringOrPart => matches!(
            fault.diagnosis.component,
            Component::Part(_) | Component::Key | Component::Battery | Component::Lockout
        ),
        Doubt::Side => return side_of(vehicle, fault) as usize,
        Doubt::Complaint | Doubt::Apart | Doubt::Enough => false,
    };
    usize::from(yes)
}

/// At which angle of the lid a fault comes or goes: a number for each; 0 where the lid's position does not matter.
fn lid_dependence(fault: &PlacedFault) -> usize {
    const APART: usize = 1000;
    // Angles are written in whole degrees up to some 180; what is finer is the same to a hand.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "from 0 to 180")]
    let degrees = |angle: f64| libm::rint(angle) as usize;
    let of = |when: When| match when {
        When::LidBelow(angle) => Some(1 + degrees(angle)),
        When::LidAbove(angle) => Some(APART + degrees(angle)),
        When::LidBetween(low, high) => Some(APART * (2 + degrees(low)) + degrees(high)),
        _ => None,
    };
    fault.deviations.iter().find_map(|one| of(one.when())).unwrap_or(0)
}

/// The conductor that a fault is on or at the end of.
fn conductor_of(vehicle: &Vehicle, fault: &PlacedFault) -> Option<ConductorId> {
    match (fault.diagnosis.component, fault.diagnosis.spot) {
        (Component::Conductor(id), _) => Some(id),
        (Component::Connector(id), Spot::Cavity(cavity)) => vehicle.conductor_in(id, Half::Loom, cavity),
        _ => None,
    }
}

/// Where a fault sits on the way from the body to the latch.
fn side_of(vehicle: &Vehicle, fault: &PlacedFault) -> Side {
    // The loom moves most at the hinge.
    let stations = vehicle.stations.iter().enumerate();
    let hinge = stations.max_by(|(_, a), (_, b)| a.moves.total_cmp(&b.moves)).map(|(at, _)| at);
    let reach = match (fault.diagnosis.component, fault.diagnosis.spot) {
        (_, Spot::Station(id)) => {
            return match Some(id.index()).cmp(&hinge) {
                Ordering::Less => Side::Body,
                Ordering::Equal => Side::Hinge,
                Ordering::Greater => Side::Lid,
            };
        }
        (Component::Connector(id), _) => vehicle.connector(id).reach,
        (Component::Part(id), _) => vehicle.part(id).reach,
        (Component::Stud(id), _) => vehicle.stud(id).reach,
        _ => return Side::Body,
    };
    if reach.zone == Zone::Lid { Side::Lid } else { Side::Body }
}

/// The kind of a test, by what is done, and where it is made.
fn kind_of_test(acts: &[Action]) -> (Means, Option<Where>) {
    let lead = |which: Lead| {
        acts.iter().find_map(|act| match act {
            Action::Probe(lead, Some(point)) if *lead == which => place_of_point(*point),
            _ => None,
        })
    };
    let setting =
        acts.iter().find_map(|act| if let Action::Meter(setting) = act { Some(*setting) } else { None });
    let worked = acts.iter().filter(|act| matches!(act, Action::Key(_) | Action::Press(_))).count();
    let place = acts.iter().find_map(place_of_act);
    let has = |fits: fn(&Action) -> bool| acts.iter().any(fits);
    if has(|act| matches!(act, Action::Flex(_))) {
        let station = acts.iter().find(|act| matches!(act, Action::Flex(_))).and_then(place_of_act);
        return (Means::Flex, station);
    }
    match setting {
        Some(MeterSetting::Volts | MeterSetting::LowZ) if worked > 0 => {
            return (Means::VoltsCommanded, lead(Lead::Red));
        }
        Some(MeterSetting::Volts | MeterSetting::LowZ) => return (Means::VoltsAtRest, lead(Lead::Red)),
        Some(_) => {
            let ends = match (lead(Lead::Black), lead(Lead::Red)) {
                (Some(Where::Connector(one)), Some(Where::Connector(other))) if one != other => {
                    Some(Where::Between(one, other))
                }
                (_, red) => red,
            };
            return (Means::Ohms, ends);
        }
        None => {}
    }
    let means = if has(|act| matches!(act, Action::Clip(..))) {
        Means::Lamp
    } else if has(|act| matches!(act, Action::Ask(_))) {
        Means::Ask
    } else if has(|act| matches!(act, Action::OpenTape(_))) {
        Means::Tape
    } else if has(|act| matches!(act, Action::Tug(..))) {
        Means::Tug
    } else if has(|act| matches!(act, Action::ReadMemory(_))) {
        Means::Memory
    } else if has(|act| matches!(act, Action::Tap(_) | Action::Wet | Action::Dry)) || worked > 1 {
        Means::Provoke
    } else if has(|act| matches!(act, Action::Lid(LidTo::Angle(_)))) && worked > 0 {
        Means::PartWay
    } else if has(|act| {
        matches!(act, Action::Observe | Action::LookAt(_) | Action::LookAtStud(_) | Action::Fuse(..))
    }) {
        Means::Look
    } else {
        Means::Command
    };
    (means, place)
}

/// Where an act is done, where that says something.
fn place_of_act(act: &Action) -> Option<Where> {
    match *act {
        Action::Press(part) | Action::Switch(part, _) | Action::ReadMemory(part) | Action::Tap(part) => {
            Some(Where::Part(part))
        }
        Action::Key(_) => Some(Where::Key),
        Action::LookAt(id) | Action::Tug(id, _) | Action::Plug(id, _) => Some(Where::Connector(id)),
        Action::LookAtStud(id) => Some(Where::Stud(id)),
        Action::OpenTape(id) | Action::Flex(id) => Some(Where::Station(id)),
        Action::Fuse(id, _) => Some(Where::Fuse(id)),
        Action::Clip(_, Some((from, _))) => place_of_point(from),
        Action::Warm(Place::Station(id)) | Action::Cool(Place::Station(id)) => Some(Where::Station(id)),
        Action::Repair(repair) => match repair {
            Repair::Conductor(_, station, _) => Some(Where::Station(station)),
            Repair::Terminal(id, _) | Repair::SwapCavities(id, ..) => Some(Where::Connector(id)),
            Repair::Stud(id) => Some(Where::Stud(id)),
            Repair::Clips(id) => Some(Where::Fuse(id)),
            Repair::Line(id, ..) | Repair::Part(id) => Some(Where::Part(id)),
            Repair::KeyCell | Repair::Key => Some(Where::Key),
            Repair::Charge => Some(Where::Battery),
        },
        _ => None,
    }
}

fn place_of_point(point: Point) -> Option<Where> {
    match point {
        Point::Cavity(id, ..) => Some(Where::Connector(id)),
        Point::Fuse(id, _) => Some(Where::Fuse(id)),
        Point::Stud(id) => Some(Where::Stud(id)),
        Point::Line(id, ..) => Some(Where::Part(id)),
        Point::BatteryPlus | Point::BatteryMinus => Some(Where::Battery),
        Point::KeyPlus | Point::KeyMinus => Some(Where::Key),
        Point::Body => None,
    }
}

#[cfg(test)]
mod tests {
    use super::{Doubt, Means, answer, conductor_roles, kind_of_test, place_of_act};
    use crate::bench::Action;
    use crate::scenario::{Scenario, load};
    use crate::words;

    fn flagship() -> Scenario {
        load("tailgate-ignores-its-key").expect("the shelf is sound").scenario
    }

    /// Commands of a test, its kind, and a command that is done at the same place.
    #[test]
    fn a_tests_kind_and_place_follow_from_its_acts() {
        let scenario = flagship();
        let act = |line: &str| -> Action {
            words::parse(&scenario.vehicle, line).unwrap_or_else(|error| panic!("{line}: {error}"))
        };
        for (lines, means, place) in [
            ("ask when", Means::Ask, None),
            ("look", Means::Look, None),
            ("key lock", Means::Command, Some("key lock")),
            ("press pad", Means::Command, Some("press pad")),
            ("claw close; key release", Means::Command, Some("key release")),
            ("lid 26; key release", Means::PartWay, Some("key release")),
            ("wet; key release", Means::Provoke, Some("key release")),
            ("tap latch; key release", Means::Provoke, Some("tap latch")),
            ("key release; key release; key release", Means::Provoke, Some("key release")),
            ("memory read", Means::Memory, Some("memory read")),
            ("meter volts; black body; red f1.load", Means::VoltsAtRest, Some("fuse f1 look")),
            ("meter volts; black battery-minus; red battery-plus", Means::VoltsAtRest, Some("charge")),
            (
                "meter volts; black body; red latch.1; capture on; key release",
                Means::VoltsCommanded,
                Some("inspect latch"),
            ),
            ("lamp 21 latch.1 latch.3; key release", Means::Lamp, Some("inspect latch")),
            ("meter ohms; black latch-pins.1; red latch-pins.3", Means::Ohms, Some("inspect latch")),
            ("meter tone; black module.1; red latch.1; flex bellows", Means::Flex, Some("flex bellows")),
            ("tape bellows", Means::Tape, Some("flex bellows")),
            ("tug latch.1", Means::Tug, Some("inspect latch")),
            ("inspect ground-stud", Means::Look, Some("clean ground-stud")),
            ("fuse f1 look", Means::Look, Some("clips f1")),
        ] {
            let acts: Vec<Action> = lines.split("; ").map(act).collect();
            let same = place.and_then(|line| place_of_act(&act(line)));
            assert_eq!(kind_of_test(&acts), (means, same), "{lines}");
        }
    }

    /// What the answers would be, fault by fault: setting, lid (one more than
    /// the angle below which it is so), comes and goes, command, feed (1) or ground (2), part, and
    /// at the hinge (1) or in the lid (2).
    #[test]
    fn each_fault_gives_its_answers() {
        let scenario = flagship();
        let roles = conductor_roles(&scenario.vehicle);
        for (id, answers) in [
            ("lockout.left-on", [1, 0, 0, 1, 0, 1, 0]),
            ("latch-ground.open.bellows.lid-below-45", [0, 46, 0, 0, 2, 0, 1]),
            ("latch-feed.open.body-grommet.flexed", [0, 0, 1, 0, 1, 0, 0]),
            ("latch.motor-open", [0, 0, 0, 0, 0, 1, 2]),
            ("latch.crossed.1-2", [0, 0, 0, 0, 1, 0, 2]),
            ("pad.open", [0, 0, 0, 1, 0, 1, 2]),
            ("f1.blown", [0, 0, 0, 0, 1, 0, 0]),
            ("key.cell-flat", [0, 0, 0, 1, 0, 1, 0]),
        ] {
            let fault = scenario.fault(id).unwrap_or_else(|| panic!("no {id} in the pool"));
            let found = Doubt::OF_FAULTS.map(|doubt| answer(&scenario.vehicle, &roles, fault, doubt));
            assert_eq!(found, answers, "{id}");
        }
    }
}
