//! The tests that a vehicle offers: how it has to stand, what is done then, and what that takes.
//!
//! What is listed is what a technician's next few moves can bring about: one connector open, or the two ends of one
//! conductor; one switch on; the lid up, or shut with the load space reached from inside; one instrument.

use super::stand::{Stand, springy_switches, staying_switches};
use crate::bench::{
    Action, Certain, ClampPlace, Display, FuseWork, InstrumentErrors, LampSize, Lead, LidTo, MeterSetting,
    Outcome, Question, Seen, Tool, World, minutes, step,
};
use crate::circuit::Unsolved;
use crate::scenario::{Scenario, Trial};
use crate::vehicle::{
    ConnectorId, End, FuseId, Half, KeyButton, PartId, Point, Side, StationId, StudId, Vehicle,
};

/// A voltage that moves by less than this during a command is not worth watching, in volts.
const WORTH_WATCHING_VOLTS: f64 = 0.02;

/// One test.
#[derive(Clone, Debug, PartialEq)]
pub struct Test {
    /// How the vehicle has to stand, by position in the menu's stands.
    pub stand: usize,
    /// What is done then.
    pub acts: Vec<Action>,
    /// Minutes that those take, the way to the stand not counted.
    pub minutes: f64,
    /// A part of a sweep of the meter: settings and leads are as the acts say, and only the figure counts.
    pub(super) sweep: Option<(MeterSetting, Point, Point)>,
}

/// All tests of a scenario's vehicle.
#[derive(Clone, Debug)]
pub struct Menu {
    /// The ways to stand. The first is how the vehicle comes in.
    pub stands: Vec<Stand>,
    /// By stand, the one that it is reached from on the way.
    pub(super) parents: Vec<usize>,
    /// The tests.
    pub tests: Vec<Test>,
}

struct Writer<'a> {
    scenario: &'a Scenario,
    world: World,
    menu: Menu,
    /// Ways to stand that the sound vehicle has been tried in, and how it stands then; `None` where it cannot.
    tried: Vec<(Stand, Option<World>)>,
}

impl Menu {
    /// The menu of a scenario.
    ///
    /// # Errors
    /// [`Unsolved`] where the sound vehicle has no operating point.
    pub fn new(scenario: &Scenario) -> Result<Self, Unsolved> {
        let vehicle = &scenario.vehicle;
        let mut world = World::standing(vehicle, None, InstrumentErrors::NONE, scenario.conditions)?;
        world.keep_runs();
        let menu = Self { stands: vec![Stand::of(vehicle, &world)], parents: vec![0], tests: Vec::new() };
        let mut writer = Writer { scenario, world, menu, tried: Vec::new() };
        writer.without_hands();
        writer.fuses();
        writer.at_connectors()?;
        writer.along_conductors();
        writer.by_eye_and_hand();
        writer.in_other_conditions();
        writer.resting();
        // What a paper forbids is no test of its jobs.
        writer.menu.tests.retain(|test| !test.acts.iter().any(|act| scenario.forbids(act)));
        Ok(writer.menu)
    }
}

impl Menu {
    /// A test, act by act, from a stand: the way to its own, and what is done there.
    #[must_use]
    pub fn acts_from(&self, vehicle: &Vehicle, stand: &Stand, test: usize) -> Vec<Action> {
        let test = &self.tests[test];
        let mut acts = stand.acts_to(vehicle, &self.stands[test.stand]);
        acts.extend(test.acts.iter().cloned());
        acts
    }
}

impl Writer<'_> {
    fn vehicle(&self) -> &Vehicle {
        &self.scenario.vehicle
    }

    fn rest(&self) -> Stand {
        self.menu.stands[0].clone()
    }

    /// The position of a stand, after those from which it is reached.
    fn stand(&mut self, stand: &Stand) -> usize {
        if let Some(at) = self.menu.stands.iter().position(|known| known == stand) {
            return at;
        }
        // The nearest that has less open: what it adds is all that has to be done.
        let fewer = |known: &Stand| {
            known.on.iter().all(|id| stand.on.contains(id))
                && known.unplugged.iter().all(|id| stand.unplugged.contains(id))
                && known.panels_off.iter().all(|id| stand.panels_off.contains(id))
                && (known.lid_up == stand.lid_up || !known.lid_up)
        };
        let vehicle = &self.scenario.vehicle;
        let parent = (0..self.menu.stands.len())
            .filter(|&at| fewer(&self.menu.stands[at]))
            .min_by_key(|&at| {
                // To switch something on takes the most work of all: time passes until it has come to rest.
                let known = &self.menu.stands[at];
                (stand.on.len() - known.on.len(), known.acts_to(vehicle, stand).len())
            })
            .unwrap_or(0);
        self.menu.stands.push(stand.clone());
        self.menu.parents.push(parent);
        self.menu.stands.len() - 1
    }

    fn test(&mut self, stand: &Stand, acts: Vec<Action>) {
        let stand = self.stand(stand);
        let minutes = acts.iter().map(|act| minutes(&self.scenario.vehicle, &self.world, act)).sum();
        self.menu.tests.push(Test { stand, acts, minutes, sweep: None });
    }

    fn sweep(&mut self, stand: &Stand, setting: MeterSetting, black: Point, red: Point) {
        self.test(stand, connect(setting, black, red));
        if let Some(test) = self.menu.tests.last_mut() {
            test.sweep = Some((setting, black, red));
        }
    }

    /// Where the black lead goes for volts: bare metal, or the battery's post while the load space is closed.
    fn black(&self, stand: &Stand) -> Point {
        let opened = stand.panels_off.iter().any(|&panel| self.vehicle().panel(panel).opens.is_some());
        if stand.lid_up || opened { Point::Body } else { Point::BatteryMinus }
    }

    /// Asking, looking, listening, pressing.
    fn without_hands(&mut self) {
        let rest = self.rest();
        let vehicle = &self.scenario.vehicle;
        let modules: Vec<PartId> = vehicle.modules().map(|(part, _)| part).collect();
        let (springy, staying) = (springy_switches(vehicle), staying_switches(vehicle));
        let full = vehicle.lid.full_degrees;
        for question in Question::ALL {
            self.test(&rest, vec![Action::Ask(question)]);
        }
        self.test(&rest, vec![Action::Observe]);
        for button in [KeyButton::Release, KeyButton::Lock, KeyButton::Unlock] {
            self.test(&rest, vec![Action::Key(button)]);
        }
        self.test(&rest, vec![Action::Lever, Action::Lid(LidTo::Angle(full))]);
        let up = Stand { lid_up: true, ..rest.clone() };
        for stand in [&rest, &up] {
            for &part in &springy {
                self.test(stand, vec![Action::Press(part)]);
            }
            for &part in &staying {
                self.test(stand, vec![Action::Switch(part, true)]);
            }
        }
        self.test(&up, vec![Action::CloseClaw, Action::Key(KeyButton::Release)]);
        self.test(&up, vec![Action::Lid(LidTo::Angle(full / 3)), Action::Key(KeyButton::Release)]);
        for part in modules {
            self.test(&rest, vec![Action::ReadMemory(part)]);
        }
        self.sweep(&rest, MeterSetting::Volts, Point::BatteryMinus, Point::BatteryPlus);
        self.sweep(&rest, MeterSetting::Volts, Point::KeyMinus, Point::KeyPlus);
    }

    fn fuses(&mut self) {
        for at in 0..self.vehicle().fuses.len() {
            let fuse = FuseId::at(at);
            let stand = self.rest().reaching(self.vehicle(), self.vehicle().fuse(fuse).reach, true);
            self.test(&stand, vec![Action::Fuse(fuse, FuseWork::Look)]);
            let black = self.black(&stand);
            for side in [Side::Feed, Side::Load] {
                self.sweep(&stand, MeterSetting::Volts, black, Point::Fuse(fuse, side));
            }
        }
        for at in 0..self.vehicle().studs.len() {
            let stud = StudId::at(at);
            let stand = self.rest().reaching(self.vehicle(), self.vehicle().stud(stud).reach, false);
            self.test(&stand, vec![Action::LookAtStud(stud)]);
        }
    }

    /// Cavities that a wire ends in, of the halves that can be probed.
    fn cavities(&self, connector: ConnectorId) -> Vec<Point> {
        let vehicle = self.vehicle();
        [Half::Loom, Half::Mate]
            .into_iter()
            .flat_map(|half| (1..=vehicle.connector(connector).cavities).map(move |cavity| (half, cavity)))
            .filter(|&(half, cavity)| vehicle.conductor_in(connector, half, cavity).is_some())
            .map(|(half, cavity)| Point::Cavity(connector, half, cavity))
            .collect()
    }

    /// Volts at rest, with each switch on, and while the complaint's command lasts; the same unplugged, and a lamp as load.
    fn at_connectors(&mut self) -> Result<(), Unsolved> {
        let commands = self.commands();
        let switches = staying_switches(self.vehicle());
        for at in 0..self.vehicle().connectors.len() {
            let connector = ConnectorId::at(at);
            let reach = self.vehicle().connector(connector).reach;
            let points = self.cavities(connector);
            let mut stands = vec![self.rest().reaching(self.vehicle(), reach, false)];
            let inside = self.rest().reaching(self.vehicle(), reach, true);
            if !stands.contains(&inside) {
                stands.push(inside);
            }
            for stand in &stands {
                let black = self.black(stand);
                for &point in &points {
                    self.sweep(stand, MeterSetting::Volts, black, point);
                }
            }
            self.lit(&stands[0], &switches, &points)?;
            let watched = stands[stands.len() - 1].clone();
            let black = self.black(&watched);
            // What a switch that stays does is measured at rest.
            for command in commands.iter().filter(|command| !matches!(command, Action::Switch(..))) {
                for &point in &points {
                    self.watch(&watched, command, black, point)?;
                }
            }
            let open = stands[0].without(connector);
            let black = self.black(&open);
            self.test(&open, vec![Action::LookAt(connector)]);
            for &point in &points {
                self.sweep(&open, MeterSetting::Volts, black, point);
                self.sweep(&open, MeterSetting::Ohms, black, point);
            }
            self.across_pins(&open, connector)?;
            for command in &commands {
                self.lamp_across(&open, connector, command)?;
            }
        }
        Ok(())
    }

    /// The commands of the complaint.
    fn commands(&self) -> Vec<Action> {
        let mut commands = Vec::new();
        for trial in self.scenario.trials.iter().filter(|trial| !matches!(trial, Trial::Rest { .. })) {
            let command = trial.act();
            if !commands.contains(&command) {
                commands.push(command);
            }
        }
        commands
    }

    /// What a vehicle draws that is left standing: in all, without one circuit, and through each fuse.
    fn resting(&mut self) {
        let rest = self.rest();
        let clamp = Action::Clamp(Some(ClampPlace::BatteryPlus));
        let waits: Vec<Action> = self
            .scenario
            .trials
            .iter()
            .filter(|trial| matches!(trial, Trial::Rest { .. }))
            .map(Trial::act)
            .collect();
        for wait in waits {
            self.test(&rest, vec![clamp.clone()]);
            self.test(&rest, vec![clamp.clone(), wait.clone()]);
            for at in 0..self.vehicle().fuses.len() {
                let fuse = FuseId::at(at);
                let stand = self.rest().reaching(self.vehicle(), self.vehicle().fuse(fuse).reach, true);
                let (black, red) = (Point::Fuse(fuse, Side::Load), Point::Fuse(fuse, Side::Feed));
                self.sweep(&stand, MeterSetting::Volts, black, red);
                let pull = Action::Fuse(fuse, FuseWork::Pull);
                self.test(&stand, vec![clamp.clone(), pull.clone()]);
                self.test(&stand, vec![clamp.clone(), pull, wait.clone()]);
            }
        }
    }

    /// The meter holding the least and the greatest on a point while a command lasts, where something moves there on a
    /// sound vehicle.
    fn watch(&mut self, stand: &Stand, command: &Action, black: Point, red: Point) -> Result<(), Unsolved> {
        let mut acts = connect(MeterSetting::Volts, black, red);
        acts.extend([Action::Capture(true), command.clone()]);
        let held =
            self.play(stand, &acts)?.and_then(|outcome| outcome.reading).and_then(|reading| reading.held);
        let moves = held.is_some_and(|(least, greatest)| {
            let swing = greatest.value.unwrap_or(f64::INFINITY) - least.value.unwrap_or(0.0);
            swing > WORTH_WATCHING_VOLTS
        });
        if moves {
            self.test(stand, acts);
        }
        Ok(())
    }

    /// Volts with a switch on, where that moves them on a sound vehicle.
    fn lit(&mut self, stand: &Stand, switches: &[PartId], points: &[Point]) -> Result<(), Unsolved> {
        let black = self.black(stand);
        let Some(dark) = self.standing(stand)? else { return Ok(()) };
        let dark = dark.sweep(self.vehicle(), MeterSetting::Volts, black, points)?;
        for &part in switches {
            let lit = Stand { on: vec![part], ..stand.clone() };
            let Some(world) = self.standing(&lit)? else { continue };
            let figures = world.sweep(self.vehicle(), MeterSetting::Volts, black, points)?;
            for ((&point, was), is) in points.iter().zip(&dark).zip(figures) {
                let volts = |display: Option<Display>| display.and_then(|one| one.value).unwrap_or(0.0);
                if (volts(*was) - volts(is)).abs() > WORTH_WATCHING_VOLTS {
                    self.sweep(&lit, MeterSetting::Volts, black, point);
                }
            }
        }
        Ok(())
    }

    /// Ohms across each pair of a part's pins between which a sound part has a path.
    fn across_pins(&mut self, open: &Stand, connector: ConnectorId) -> Result<(), Unsolved> {
        const NO_PATH_OHMS: f64 = 1e6;
        if self.vehicle().is_loom_half(connector, Half::Mate) {
            return Ok(());
        }
        let count = self.vehicle().connector(connector).cavities;
        let Some(world) = self.standing(open)? else { return Ok(()) };
        for first in 1..=count {
            let black = Point::Cavity(connector, Half::Mate, first);
            let others: Vec<Point> =
                (first + 1..=count).map(|n| Point::Cavity(connector, Half::Mate, n)).collect();
            let figures = world.sweep(self.vehicle(), MeterSetting::Ohms, black, &others)?;
            for (red, figure) in others.into_iter().zip(figures) {
                let path = figure.and_then(|display| display.value).is_some_and(|ohms| ohms < NO_PATH_OHMS);
                if path {
                    self.sweep(open, MeterSetting::Ohms, black, red);
                }
            }
        }
        Ok(())
    }

    /// A 21 W lamp in place of the load, from each cavity to each other one, where it is the command that lights it on
    /// a sound vehicle.
    fn lamp_across(
        &mut self,
        open: &Stand,
        connector: ConnectorId,
        command: &Action,
    ) -> Result<(), Unsolved> {
        const LIT: f64 = 0.1;
        if self.vehicle().is_loom_half(connector, Half::Mate) {
            return Ok(());
        }
        let lamp = Tool::TestLamp(LampSize::TwentyOne);
        let points: Vec<Point> = self.cavities(connector);
        let body = self.black(open);
        for (at, &from) in points.iter().enumerate() {
            for to in points[at + 1..].iter().copied().chain([body]) {
                let clip = Action::Clip(lamp, Some((from, to)));
                let acts = vec![clip.clone(), command.clone()];
                let brightest = |outcome: Option<Outcome>| {
                    let seen = outcome.into_iter().flat_map(|outcome| outcome.seen);
                    seen.filter_map(
                        |seen| if let Seen::TestLamp(_, light) = seen { Some(light) } else { None },
                    )
                    .fold(0.0, f64::max)
                };
                let Some(mut world) = self.standing(open)? else { continue };
                let before = brightest(self.play_on(&mut world, &[clip])?);
                let lit =
                    before < LIT && brightest(self.play_on(&mut world, std::slice::from_ref(command))?) > LIT;
                if lit {
                    self.test(open, acts);
                }
            }
        }
        Ok(())
    }

    /// Each conductor end to end with both its connectors open: ohms, and the tone while each station is flexed.
    fn along_conductors(&mut self) {
        for at in 0..self.vehicle().conductors.len() {
            let conductor = &self.scenario.vehicle.conductors[at];
            let (End::Cavity(one, half_one, from), End::Cavity(other, half_other, to)) =
                (conductor.from, conductor.to)
            else {
                continue;
            };
            if one == other {
                continue;
            }
            let stations: Vec<StationId> = conductor.runs.iter().filter_map(|run| run.station).collect();
            let reach = |id: ConnectorId| self.vehicle().connector(id).reach;
            let stand = self.rest().reaching(self.vehicle(), reach(one), false);
            let stand = stand.reaching(self.vehicle(), reach(other), false).without(one).without(other);
            let (black, red) = (Point::Cavity(one, half_one, from), Point::Cavity(other, half_other, to));
            self.sweep(&stand, MeterSetting::Ohms, black, red);
            for station in stations {
                let reached = stand.reaching(self.vehicle(), self.vehicle().station(station).reach, false);
                let mut acts = connect(MeterSetting::Tone, black, red);
                acts.push(Action::Flex(station));
                self.test(&reached, acts);
            }
        }
    }

    /// Opening the tape, tugging, looking at what is mated.
    fn by_eye_and_hand(&mut self) {
        for at in 0..self.vehicle().stations.len() {
            let station = StationId::at(at);
            let stand = self.rest().reaching(self.vehicle(), self.vehicle().station(station).reach, false);
            self.test(&stand, vec![Action::OpenTape(station)]);
        }
        for at in 0..self.vehicle().connectors.len() {
            let connector = ConnectorId::at(at);
            let stand =
                self.rest().reaching(self.vehicle(), self.vehicle().connector(connector).reach, false);
            self.test(&stand, vec![Action::LookAt(connector)]);
            for point in self.cavities(connector) {
                if let Point::Cavity(_, Half::Loom, cavity) = point {
                    self.test(&stand, vec![Action::Tug(connector, cavity)]);
                }
            }
        }
    }

    /// The complaint's command after a knock and after rain, where the pool has faults that heed them.
    fn in_other_conditions(&mut self) {
        use crate::vehicle::When;
        let rest = self.rest();
        let heeds = |fits: &dyn Fn(When) -> bool| {
            self.scenario.faults.iter().flat_map(|fault| &fault.deviations).any(|one| fits(one.when()))
        };
        let (knock, water) = (
            heeds(&|when| matches!(when, When::Shaken(_) | When::Turned(_))),
            heeds(&|when| when == When::Wet),
        );
        let latch = self.vehicle().latch().0;
        for command in self.commands() {
            if knock && let Some(Trial::Switch(_, watched)) = self.scenario.trials.first() {
                for part in watched.clone() {
                    let reach = self.vehicle().part(part).reach;
                    let stand = self.rest().reaching(self.vehicle(), reach, false);
                    self.test(&stand, vec![command.clone(), Action::Tap(part)]);
                }
            } else if knock {
                let reach = self.vehicle().part(latch).reach;
                let stand = self.rest().reaching(self.vehicle(), reach, false);
                self.test(&stand, vec![Action::Tap(latch), command.clone()]);
                self.test(&rest, vec![command.clone(), command.clone(), command.clone()]);
            }
            if water {
                self.test(&rest, vec![Action::Wet, command.clone()]);
                self.test(&rest, vec![Action::Dry, command]);
            }
        }
    }

    /// The sound vehicle, made to stand so; `None` where it cannot.
    fn standing(&mut self, stand: &Stand) -> Result<Option<World>, Unsolved> {
        if let Some((_, world)) = self.tried.iter().find(|(known, _)| known == stand) {
            return Ok(world.clone());
        }
        let vehicle = &self.scenario.vehicle;
        let mut world = self.world.clone();
        let acts = Stand::of(vehicle, &world).acts_to(vehicle, stand);
        let world = self.play_on(&mut world, &acts)?.is_some().then_some(world);
        self.tried.push((stand.clone(), world.clone()));
        Ok(world)
    }

    /// What the last of some acts brings on the sound vehicle.
    fn play(&mut self, stand: &Stand, acts: &[Action]) -> Result<Option<Outcome>, Unsolved> {
        let Some(mut world) = self.standing(stand)? else { return Ok(None) };
        self.play_on(&mut world, acts)
    }

    /// Does some acts, and tells what the last of them brings; `None` where one cannot be done.
    fn play_on(&self, world: &mut World, acts: &[Action]) -> Result<Option<Outcome>, Unsolved> {
        let mut last = Outcome::default();
        for act in acts {
            last = step(&self.scenario.vehicle, world, act, &mut Certain)?;
            if last.refused.is_some() {
                return Ok(None);
            }
        }
        Ok(Some(last))
    }
}

/// What it takes to have the meter on two points.
fn connect(setting: MeterSetting, black: Point, red: Point) -> Vec<Action> {
    vec![Action::Meter(setting), Action::Probe(Lead::Black, Some(black)), Action::Probe(Lead::Red, Some(red))]
}
