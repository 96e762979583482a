//! How time passes on a vehicle: it may be cut into pieces, what is under way goes on, nothing is lost between events.
//! The proving van, looked at by way of its phases; what is expected is worked out beside each test.

use std::sync::LazyLock;

use probeworthy::circuit::{Law, Load, strand_melting_seconds};
use probeworthy::scenario::{Scenario, load, point_name};
use probeworthy::vehicle::{
    ConductorId, ConnectorId, Deviation, End, Event, Half, LastPoint, LidPosition, MonitorKind, OutputKind,
    PartId, PartKind, Phase, PhysicalState, Point, Pressed, Scene, ToolFuses, Vehicle, When, Wiring,
};

static PROVING: LazyLock<Scenario> = LazyLock::new(|| {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/vehicles/proving.scenario.ron");
    load(path).unwrap_or_else(|why| panic!("{why}")).scenario
});

/// A voltmeter, in ohms, and a bench battery: volts and ohms.
const METER_OHMS: f64 = 1e7;
const BENCH: (f64, f64) = (12.6, 0.05);

/// A van and what hangs on it.
#[derive(Clone)]
struct Van {
    vehicle: Vehicle,
    state: PhysicalState,
    wiring: Wiring,
    loads: Vec<Load>,
    fuses: ToolFuses,
}

impl Van {
    /// A van with this wrong, its modules awake and everything at rest.
    fn with(vehicle: Vehicle, wrong: &[Deviation]) -> Self {
        let mut state = PhysicalState::sound(&vehicle);
        for deviation in wrong {
            state.deviate(*deviation);
        }
        let wiring = Wiring::new(&vehicle, &state);
        let mut van = Self { vehicle, state, wiring, loads: Vec::new(), fuses: Vec::new() };
        van.pass(5.0);
        van
    }

    fn sound() -> Self {
        Self::with(PROVING.vehicle.clone(), &[])
    }

    fn scene<T>(&mut self, act: impl FnOnce(&mut Scene<'_>) -> T) -> T {
        let mut scene = Scene {
            vehicle: &self.vehicle,
            wiring: &self.wiring,
            loaded: None,
            state: &mut self.state,
            loads: &self.loads,
            tool_fuses: &mut self.fuses,
            last: &mut LastPoint::default(),
            watched: &[],
            fine: false,
        };
        act(&mut scene)
    }

    fn pass(&mut self, seconds: f64) -> Vec<Phase> {
        self.scene(|scene| scene.pass(seconds)).unwrap()
    }

    /// So many pieces of time.
    fn pass_in(&mut self, pieces: usize, seconds: f64) -> Vec<Phase> {
        (0..pieces).flat_map(|_| self.pass(seconds)).collect()
    }

    fn switch(&mut self, name: &str, on: bool) {
        let part = part(&self.vehicle, name);
        self.state.on[part.index()] = on;
    }

    fn load(&mut self, law: Law, from: &str, to: &str) {
        let [from, to] = [from, to].map(|name| self.wiring.node(point(&self.vehicle, name)));
        self.loads.push(Load { from, to, law, lead_ohms: 0.01 });
        self.fuses.push(None);
    }

    fn unload(&mut self) {
        self.loads.clear();
        self.fuses.clear();
    }

    fn motor(&self, name: &str) -> &probeworthy::vehicle::PartState {
        self.state.part(part(&self.vehicle, name))
    }
}

#[track_caller]
fn part(vehicle: &Vehicle, name: &str) -> PartId {
    PartId::at(
        vehicle.parts.iter().position(|part| part.id == name).unwrap_or_else(|| panic!("no part {name}")),
    )
}

#[track_caller]
fn connector(vehicle: &Vehicle, name: &str) -> ConnectorId {
    let at = vehicle.connectors.iter().position(|connector| connector.id == name);
    ConnectorId::at(at.unwrap_or_else(|| panic!("no connector {name}")))
}

#[track_caller]
fn point(vehicle: &Vehicle, name: &str) -> Point {
    let found = vehicle.points().into_iter().find(|&point| point_name(vehicle, point) == name);
    found.unwrap_or_else(|| panic!("no point {name}"))
}

/// Position of a module's output.
#[track_caller]
fn output(vehicle: &Vehicle, name: &str) -> (PartId, usize) {
    let outputs = vehicle.modules().flat_map(|(part, module)| {
        module.outputs.iter().enumerate().map(move |(at, output)| (part, at, &output.id))
    });
    let found = outputs.into_iter().find(|(.., id)| *id == name);
    found.map(|(part, at, _)| (part, at)).unwrap_or_else(|| panic!("no output {name}"))
}

#[track_caller]
fn module_mut(vehicle: &mut Vehicle) -> &mut probeworthy::vehicle::Module {
    let module = vehicle.parts.iter_mut().find_map(|part| match &mut part.kind {
        PartKind::Module(module) => Some(module),
        _ => None,
    });
    module.expect("there is a module")
}

#[track_caller]
fn input_mut<'a>(vehicle: &'a mut Vehicle, name: &str) -> &'a mut probeworthy::vehicle::Input {
    let inputs = &mut module_mut(vehicle).inputs;
    inputs.iter_mut().find(|input| input.id == name).unwrap_or_else(|| panic!("no input {name}"))
}

/// The latch's kind, to be changed.
#[track_caller]
fn latch_mut(vehicle: &mut Vehicle) -> &mut probeworthy::vehicle::Latch {
    let latch = vehicle.parts.iter_mut().find_map(|part| match &mut part.kind {
        PartKind::Latch(latch) => Some(latch),
        _ => None,
    });
    latch.expect("there is a latch")
}

/// For how long a motor turned, in seconds.
fn turned(vehicle: &Vehicle, name: &str, phases: &[Phase]) -> f64 {
    let part = part(vehicle, name);
    phases
        .iter()
        .flat_map(|phase| &phase.motors)
        .filter(|motor| motor.part == part)
        .map(|m| m.turned_seconds)
        .sum()
}

/// The least and the greatest volts that a load felt.
fn extremes(phases: &[Phase], load: usize) -> (f64, f64) {
    let volts = phases.iter().flat_map(|phase| &phase.samples).map(|sample| sample.loads[load].volts);
    volts.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), volts| (low.min(volts), high.max(volts)))
}

/// How often something happened.
fn count(phases: &[Phase], fits: impl Fn(Event) -> bool) -> usize {
    phases.iter().filter(|phase| phase.event.is_some_and(&fits)).count()
}

/// A debounce of 5 ms and an armature of 8 ms are no longer for being looked at every 2 ms.
#[test]
fn delays_go_on_from_one_piece_of_time_to_the_next() {
    let mut van = Van::sound();
    van.switch("heat", true);
    let whole = van.clone().pass(0.1);
    let pieces = van.pass_in(50, 2e-3);
    let pulls = |phases: &[Phase]| {
        let mut seconds = 0.0;
        phases.iter().find_map(|phase| {
            seconds += phase.seconds;
            matches!(phase.event, Some(Event::Relay(_))).then_some(seconds)
        })
    };
    let (whole, pieces) = (pulls(&whole).unwrap(), pulls(&pieces).expect("the relay pulls in"));
    assert!((whole - pieces).abs() < 3e-3, "{whole} s in one go, {pieces} s in pieces");
}

/// A drive that has come to its end stands there as long as it is fed, and goes its way again once it was without.
#[test]
fn a_drive_at_its_end_stays_there_while_it_is_fed() {
    let mut vehicle = PROVING.vehicle.clone();
    latch_mut(&mut vehicle).solenoid = false;
    for vehicle in [PROVING.vehicle.clone(), vehicle] {
        let mut van = Van::with(vehicle, &[]);
        van.load(Law::source(BENCH.0, BENCH.1), "latch.1", "latch.3");
        let first = van.pass(2.0);
        assert_eq!(count(&first, |event| event == Event::Released), 1);
        assert!(turned(&van.vehicle, "latch", &first) > 0.0);
        for seconds in [1e-3, 0.5, 20.0] {
            assert_eq!(turned(&van.vehicle, "latch", &van.clone().pass(seconds)), 0.0, "after {seconds} s");
            van.pass(seconds);
        }
        van.unload();
        van.pass(1.0);
        van.load(Law::source(BENCH.0, BENCH.1), "latch.1", "latch.3");
        let again = van.pass(1.0);
        assert!(turned(&van.vehicle, "latch", &again) > 0.0);
    }
}

/// The way that a drive has gone counts on, however short the pieces of time are.
#[test]
fn a_drive_reaches_its_end_in_pieces_of_time() {
    let mut van = Van::sound();
    van.load(Law::source(BENCH.0, BENCH.1), "latch.1", "latch.3");
    let released = |phases: &[Phase]| {
        let mut seconds = 0.0;
        phases.iter().find_map(|phase| {
            seconds += phase.seconds;
            (phase.event == Some(Event::Released)).then_some(seconds)
        })
    };
    let whole = released(&van.clone().pass(1.0)).unwrap();
    let pieces = released(&van.pass_in(200, 5e-3)).expect("the latch lets go");
    assert!((whole - pieces).abs() < 0.01 * whole + 1e-4, "{whole} s in one go, {pieces} s in pieces");
}

/// A motor's latch does not let go backwards, and comes no further back than where it set out; a plunger is drawn in
/// either way.
#[test]
fn only_a_plunger_lets_go_with_its_leads_crossed() {
    for solenoid in [false, true] {
        let mut vehicle = PROVING.vehicle.clone();
        latch_mut(&mut vehicle).solenoid = solenoid;
        // Its diode would short the crossed supply.
        let mut van = Van::with(vehicle.clone(), &[Deviation::PartOpen(part(&vehicle, "latch-diode"))]);
        van.load(Law::source(-BENCH.0, BENCH.1), "latch.1", "latch.3");
        let phases = van.pass(2.0);
        assert_eq!(count(&phases, |event| event == Event::Released), usize::from(solenoid), "{solenoid}");
        assert_eq!(van.state.lid == LidPosition::Shut, !solenoid);
        if !solenoid {
            assert_eq!(turned(&vehicle, "latch", &phases), 0.0);
            // From its end it runs back.
            van.unload();
            van.load(Law::source(BENCH.0, BENCH.1), "latch.1", "latch.3");
            van.pass(2.0);
            van.unload();
            van.load(Law::source(-BENCH.0, BENCH.1), "latch.1", "latch.3");
            assert!(turned(&vehicle, "latch", &van.pass(1e-1)) > 0.0);
            assert_eq!(turned(&vehicle, "latch", &van.pass(1.0)), 0.0);
        }
    }
}

/// A module waits for the answer of an input for as long as it does not believe it: 180 ms, and the plunger's stroke takes
/// tens of milliseconds, so that a short command is over before.
#[test]
fn a_slow_input_answers_in_time() {
    let mut vehicle = PROVING.vehicle.clone();
    input_mut(&mut vehicle, "ajar").debounce_seconds = 0.18;
    let module = module_mut(&mut vehicle);
    for rule in &mut module.rules {
        if let probeworthy::vehicle::Effect::Release { seconds, .. } = &mut rule.effect {
            *seconds = 0.06;
        }
    }
    let code = module
        .monitors
        .iter()
        .find(|monitor| matches!(monitor.kind, MonitorKind::NoAnswer { .. }))
        .expect("it listens for the answer")
        .code;
    let mut van = Van::with(vehicle, &[]);
    let response =
        van.scene(|scene| scene.press(Pressed::Key(probeworthy::vehicle::KeyButton::Release))).unwrap();
    assert_eq!(count(&response.phases, |event| event == Event::Released), 1);
    let module = van.vehicle.modules().next().unwrap().0;
    assert!(!van.state.memory[module.index()].contains(&code), "{:?}", van.state.memory);
}

/// A relay that comes over while a module takes in an input that nothing follows from is not hidden by it: the circuit
/// follows. The pad's debounce is made such that both are due at once: 5 ms until the heater's output is on, 2 ms until its
/// coil is looked at next, 8 ms for the armature; and some to either side.
#[test]
fn of_two_things_at_once_neither_is_lost() {
    let mut vehicle = PROVING.vehicle.clone();
    for part in &mut vehicle.parts {
        if let PartKind::Relay(relay) = &mut part.kind {
            relay.coil_henries = 1e-6;
        }
    }
    for milliseconds in [14.0, 14.5, 15.0, 15.5, 16.0] {
        let mut vehicle = vehicle.clone();
        input_mut(&mut vehicle, "pad").debounce_seconds = milliseconds * 1e-3;
        let mut van = Van::with(vehicle, &[]);
        van.load(Law::ohms(METER_OHMS), "rear-screen.1", "rear-screen.2");
        van.switch("heat", true);
        van.switch("pad", true);
        let phases = van.pass(0.02);
        assert_eq!(
            count(&phases, |event| matches!(event, Event::Relay(_))),
            1,
            "pad after {milliseconds} ms"
        );
        let volts = phases.last().unwrap().samples.last().unwrap().loads[0].volts;
        assert!(volts > 10.0, "pad after {milliseconds} ms: {volts} V at the screen");
    }
}

/// Pulls the wiper's plug while it turns: 2.5 A die out through an arc, in tens of microseconds (worked out: 1 mH over 40 V
/// of arc and what the motor induces), and no volts beyond the arcs' are seen, however time is cut.
#[test]
fn a_plug_that_is_pulled_draws_an_arc() {
    let mut van = Van::sound();
    van.switch("wipe", true);
    van.pass(5.0);
    assert!(van.motor("wiper").amps > 2.0);
    van.load(Law::ohms(METER_OHMS), "wiper-pins.1", "wiper-pins.2");
    let plug = connector(&van.vehicle, "wiper");
    van.state.mated[plug.index()] = false;
    let mut cut = van.clone();
    let mut phases = cut.pass_in(40, 5e-6);
    assert!(cut.motor("wiper").amps.abs() < 1e-3, "{}", cut.motor("wiper").amps);
    phases.extend(cut.pass(2.0));
    let whole = van.pass(2.0);
    for phases in [phases, whole] {
        let (low, high) = extremes(&phases, 0);
        assert!(low > -100.0 && low < -20.0 && high < 13.0, "from {low} to {high} V");
        assert!(phases.iter().all(|phase| phase.seconds > 0.0 || phase.event.is_some()));
    }
}

/// A manual switch and a blown fuse do the same; with nothing that drives current on they do not.
#[test]
fn a_blown_fuse_draws_an_arc_only_where_a_winding_drives_it() {
    let mut van = Van::sound();
    van.load(Law::ohms(METER_OHMS), "f4.feed", "f4.load");
    van.switch("brake", true);
    van.pass(2.0);
    let fuse = probeworthy::vehicle::FuseId::at(3);
    let blow = |van: &mut Van| {
        van.state.fuses[fuse.index()].fitted.as_mut().unwrap().blown = true;
        extremes(&van.pass(1.0), 0).1
    };
    let lamp = blow(&mut van.clone());
    assert!(lamp < 13.0, "a lamp: {lamp} V");
    van.switch("wipe", true);
    van.pass(5.0);
    let motor = blow(&mut van);
    assert!((30.0..60.0).contains(&motor), "a motor: {motor} V");
}

/// Where something else takes the current over, or nothing has opened, there is no arc: an output that is stuck, one whose
/// other half brakes, a relay's contact that is welded. An output that shuts itself down has one, by its own clamp.
#[test]
fn arcs_are_drawn_where_current_has_lost_its_path() {
    let wiper = output(&PROVING.vehicle, "wiper");
    let least = |wrong: &[Deviation]| {
        let mut van = Van::with(PROVING.vehicle.clone(), wrong);
        van.load(Law::ohms(METER_OHMS), "module.13", "module.2");
        van.switch("wipe", true);
        van.pass(5.0);
        van.switch("wipe", false);
        let phases = van.pass(2.0);
        assert!(phases.iter().all(|phase| phase.seconds > 0.0 || phase.event.is_some()));
        extremes(&phases, 0).0
    };
    let stuck = least(&[Deviation::OutputStuck(wiper.0, wiper.1)]);
    assert!(stuck > 11.0, "stuck: {stuck} V");
    let brakes = least(&[]);
    assert!(brakes > -1.0, "braked: {brakes} V");

    let mut vehicle = PROVING.vehicle.clone();
    if let OutputKind::HalfBridge { driver, .. } = &mut module_mut(&mut vehicle).outputs[wiper.1].kind {
        (driver.limit_amps, driver.shuts_down_seconds) = (8.0, 0.05);
    }
    let mut van = Van::with(vehicle.clone(), &[Deviation::Jammed(part(&vehicle, "wiper"))]);
    van.load(Law::ohms(METER_OHMS), "module.13", "module.2");
    van.switch("wipe", true);
    let phases = van.pass(2.0);
    assert_eq!(count(&phases, |event| event == Event::ShutDown(wiper.0, wiper.1)), 1);
    let (low, _) = extremes(&phases, 0);
    assert!((-40.0..-20.0).contains(&low), "shut down: {low} V");
}

/// The seconds until an event in a row of pieces of time; `None` where it does not come.
fn when(van: &mut Van, pieces: usize, seconds: f64, fits: impl Fn(Event) -> bool) -> Option<f64> {
    let mut spent = 0.0;
    for phase in van.pass_in(pieces, seconds) {
        spent += phase.seconds;
        if phase.event.is_some_and(&fits) {
            return Some(spent);
        }
    }
    None
}

/// A van whose screen draws some 135 % of the fuse that is in: it opens after some twenty seconds, by the geometric
/// mean of ISO 8820-3's limits (published, a maker's datasheet), whether it is looked at meanwhile or not; and it forgets
/// while it is without current.
#[test]
fn a_fuse_keeps_its_heat_and_cools() {
    let mut van = Van::sound();
    van.state.fuses[2].fitted = Some(probeworthy::vehicle::FuseBody::new(14));
    van.switch("heat", true);
    let blows = |event: Event| matches!(event, Event::FuseBlown(_));
    let whole = when(&mut van.clone(), 1, 600.0, blows).expect("it opens");
    assert!((10.0..60.0).contains(&whole), "{whole} s");
    let pieces = when(&mut van.clone(), 400, 1.0, blows).expect("it opens");
    // In one go its current is taken to stay; in pieces the battery is seen to fall.
    assert!((whole - pieces).abs() < 0.1 * whole, "{whole} s in one go, {pieces} s in pieces");
    van.pass(0.8 * whole);
    let warm = when(&mut van.clone(), 1, 600.0, blows).expect("it opens");
    assert!((0.15 * whole..0.25 * whole).contains(&warm), "{warm} s of {whole} s are left");
    van.switch("heat", false);
    van.pass(120.0);
    van.switch("heat", true);
    let cooled = when(&mut van, 1, 600.0, blows).expect("it opens");
    assert!(cooled > 0.9 * whole, "{cooled} s of {whole} s once it has cooled");
}

/// One of 56 strands of the screen's feed.
fn last_strand(vehicle: &Vehicle, when: When) -> Deviation {
    let at =
        vehicle.conductors.iter().position(|one| one.id == "screen-feed").expect("the screen has a feed");
    Deviation::Strands { conductor: ConductorId::at(at), piece: 1, left: 1, of: 56, when }
}

/// A last strand takes its second or two (worked out: 20 A by Preece's and Onderdonk's formulas, from memory), whether
/// something else moves meanwhile or not.
#[test]
fn last_strands_melt_while_something_moves() {
    let mut vehicle = PROVING.vehicle.clone();
    for part in &mut vehicle.parts {
        if let PartKind::Motor { motor, .. } = &mut part.kind {
            motor.spin_up_seconds = 20.0;
        }
    }
    let melts = |wipes: bool| {
        let mut van = Van::with(vehicle.clone(), &[last_strand(&vehicle, When::Always)]);
        van.switch("wipe", wipes);
        van.switch("heat", true);
        when(&mut van, 1, 60.0, |event| matches!(event, Event::StrandsMelted(_))).expect("it melts")
    };
    let (rests, moves) = (melts(false), melts(true));
    assert!((0.5..5.0).contains(&rests) && (rests - moves).abs() < 0.1 * rests, "{rests} s and {moves} s");
}

/// Where the damage is not there all strands carry and none gets hot; what has melted is parted in any weather.
#[test]
fn strands_heat_while_they_are_alone_and_stay_parted() {
    let vehicle = &PROVING.vehicle;
    let mut van = Van::with(vehicle.clone(), &[last_strand(vehicle, When::Wet)]);
    van.switch("heat", true);
    van.pass(60.0);
    assert!(van.state.deviations[0].heat < 0.01, "{:?}", van.state.deviations);
    van.state.make_wet(true);
    assert!(when(&mut van, 1, 60.0, |event| matches!(event, Event::StrandsMelted(_))).is_some());
    van.state.make_wet(false);
    assert!(van.state.deviations[0].present, "{:?}", van.state.deviations);
    assert_eq!(strand_melting_seconds(0.07, 0.0, 1.0), 0.0, "what has had its heat melts");
}

/// Position of a conductor.
#[track_caller]
fn wire(vehicle: &Vehicle, name: &str) -> ConductorId {
    let at = vehicle.conductors.iter().position(|one| one.id == name);
    ConductorId::at(at.unwrap_or_else(|| panic!("no conductor {name}")))
}

/// Brushes that come to stand off the commutator while the motor turns leave it no current and no speed.
#[test]
fn a_winding_that_breaks_carries_nothing_on() {
    let vehicle = &PROVING.vehicle;
    let wiper = part(vehicle, "wiper");
    let mut van = Van::with(vehicle.clone(), &[Deviation::DeadSpot(wiper, 0.5)]);
    van.switch("wipe", true);
    van.pass(5.0);
    assert!(van.motor("wiper").amps > 2.0);
    van.state.deviations[0].present = true;
    let phases = van.pass(1.0);
    assert_eq!((van.motor("wiper").amps, van.motor("wiper").speed_volts), (0.0, 0.0));
    assert_eq!(turned(vehicle, "wiper", &phases), 0.0);
}

/// While a relay's working contact bounces its resting contact stays apart.
#[test]
fn a_bouncing_contact_does_not_touch_the_other() {
    let mut vehicle = PROVING.vehicle.clone();
    for part in &mut vehicle.parts {
        if let PartKind::Relay(relay) = &mut part.kind {
            relay.bounce_seconds = 8e-3;
        }
    }
    let mut van = Van::with(vehicle, &[]);
    van.load(Law::ohms(METER_OHMS), "screen-relay.5", "module.2");
    van.load(Law::ohms(METER_OHMS), "screen-relay.4", "module.2");
    van.switch("heat", true);
    let phases = van.pass(0.5);
    let over =
        phases.iter().position(|phase| matches!(phase.event, Some(Event::Relay(_)))).expect("it pulls in");
    let (_, resting) = extremes(&phases[over + 1..], 0);
    assert!(resting < 1.0, "{resting} V at the resting contact");
    let apart = extremes(&phases[over + 2..], 1).0;
    assert!(apart < 1.0, "the working contact bounces apart: {apart} V");
}

/// A half-bridge without a supply does not brake: nothing pulls its pin to ground.
#[test]
fn a_brake_takes_a_supply() {
    let held = |blown: bool| {
        let mut van = Van::sound();
        van.state.fuses[1].fitted.as_mut().unwrap().blown = blown;
        van.pass(1.0);
        van.load(Law::ohms(100.0), "battery-plus", "module.13");
        // The motor's own way to ground is not what is asked for.
        let plug = connector(&van.vehicle, "wiper");
        van.state.mated[plug.index()] = false;
        van.pass(1.0).last().unwrap().samples[1].loads[0].volts
    };
    assert!(held(false) > 12.0, "{} V", held(false));
    assert!(held(true) < 1.0, "{} V", held(true));
}

/// A lamp of diodes whose current goes past its string is dark.
#[test]
fn a_shorted_lamp_of_diodes_gives_no_light() {
    let vehicle = &PROVING.vehicle;
    let lamp = part(vehicle, "high-stop");
    let light = |wrong: &[Deviation]| {
        let mut van = Van::with(vehicle.clone(), wrong);
        van.switch("brake", true);
        let phases = van.pass(1.0);
        let at = vehicle.lamps().position(|one| one == lamp).unwrap();
        let amps = phases.last().unwrap().samples.iter().map(|sample| sample.lights[at]);
        amps.fold(0.0, f64::max)
    };
    assert!(light(&[]) > 0.5);
    assert_eq!(light(&[Deviation::PartShorted(lamp, 30.0)]), 0.0);
}

/// A body joint has its resistance at whichever end of a conductor it is.
#[test]
fn a_body_joint_counts_at_either_end() {
    let drop = |turn: bool| {
        let mut vehicle = PROVING.vehicle.clone();
        let ground = wire(&vehicle, "module-ground");
        let conductor = &mut vehicle.conductors[ground.index()];
        if turn {
            std::mem::swap(&mut conductor.from, &mut conductor.to);
        }
        let mut van = Van::with(vehicle, &[]);
        van.load(Law::ohms(1.0), "battery-plus", "module.2");
        van.load(Law::ohms(METER_OHMS), "module.2", "body");
        van.pass(1.0).last().unwrap().samples[1].loads[1].volts
    };
    let (there, back) = (drop(false), drop(true));
    assert!((there - back).abs() < 1e-9 && there > 0.02, "{there} V and {back} V");
}

/// The less is in a battery, the more it gives way under load.
#[test]
fn an_empty_battery_gives_way() {
    let sag = |charge: f64| {
        let mut van = Van::sound();
        van.state.charge = charge;
        van.load(Law::ohms(METER_OHMS), "battery-plus", "battery-minus");
        let without = van.pass(1e-3).last().unwrap().samples[1].loads[0].volts;
        van.switch("heat", true);
        without - van.pass(1.0).last().unwrap().samples[1].loads[0].volts
    };
    let (full, empty) = (sag(0.9), sag(0.02));
    assert!((0.05..0.2).contains(&full) && empty > 2.0 * full, "{full} V full, {empty} V empty");
}

/// An input that is pulled down is where it rests before anybody has looked: what it holds on stays off.
#[test]
fn an_input_that_is_pulled_down_rests_at_first() {
    let vehicle = &PROVING.vehicle;
    let stop = output(vehicle, "stop");
    let mut state = PhysicalState::sound(vehicle);
    let wiring = Wiring::new(vehicle, &state);
    let mut scene = Scene {
        vehicle,
        wiring: &wiring,
        loaded: None,
        state: &mut state,
        loads: &[],
        tool_fuses: &mut Vec::new(),
        last: &mut LastPoint::default(),
        watched: &[],
        fine: false,
    };
    let phases = scene.pass(5.0).unwrap();
    assert!(phases.iter().all(|phase| !phase.on.contains(&stop)));
}

/// A module that loses its supply as the lid springs up does not remember that nothing answered.
#[test]
fn a_module_without_supply_remembers_nothing() {
    let vehicle = &PROVING.vehicle;
    let parts = |when: When| Deviation::Series {
        conductor: wire(vehicle, "module-supply"),
        piece: 0,
        ohms: f64::INFINITY,
        when,
    };
    let mut van = Van::with(vehicle.clone(), &[parts(When::LidAbove(3.0))]);
    let key = Pressed::Key(probeworthy::vehicle::KeyButton::Release);
    let response = van.scene(|scene| scene.press(key)).unwrap();
    assert_eq!(count(&response.phases, |event| event == Event::Released), 1);
    let module = vehicle.modules().next().unwrap().0;
    assert!(!van.state.part(module).works);
    assert!(van.state.memory[module.index()].is_empty(), "{:?}", van.state.memory);
}

/// However often a motor's current ripples, a phase has only so many points.
#[test]
fn ripple_is_bounded() {
    let mut vehicle = PROVING.vehicle.clone();
    for part in &mut vehicle.parts {
        if let PartKind::Motor { motor, .. } = &mut part.kind {
            motor.ripples_per_volt_second = 1e5;
        }
    }
    let mut van = Van::with(vehicle, &[]);
    van.switch("wipe", true);
    let phases = van
        .scene(|scene| {
            scene.fine = true;
            scene.pass(5.0)
        })
        .unwrap();
    let most = phases.iter().map(|phase| phase.samples.len()).max().unwrap();
    assert!((2000..6000).contains(&most), "{most} points");
}

/// A relay that feeds its own coil by its resting contact chatters; a minute of it drains the battery as ten times six
/// seconds do.
#[test]
fn a_chatter_takes_its_time() {
    let mut vehicle = PROVING.vehicle.clone();
    let feed = wire(&vehicle, "screen-coil-feed");
    let relay = connector(&vehicle, "screen-relay");
    vehicle.conductors[feed.index()].from = End::Cavity(relay, Half::Loom, 5);
    let van = Van::with(vehicle, &[]);
    let drained = |pieces: usize, seconds: f64| {
        let mut van = van.clone();
        van.switch("heat", true);
        van.pass(0.1);
        let before = van.state.charge;
        let phases = van.pass_in(pieces, seconds);
        assert!(count(&phases, |event| matches!(event, Event::Relay(_))) > 100);
        before - van.state.charge
    };
    let (whole, pieces) = (drained(1, 60.0), drained(10, 6.0));
    assert!((whole - pieces).abs() < 0.05 * pieces, "{whole} in one go, {pieces} in pieces");
}

/// A lamp beside a winding of next to no resistance lights only until the winding carries what the supply gives (worked
/// out: 50 mH over some 2.5 Ω): that is one phase, not one for every look.
#[test]
fn a_lamp_that_lights_for_a_moment_is_followed() {
    let mut vehicle = PROVING.vehicle.clone();
    let motor = &mut latch_mut(&mut vehicle).motor;
    (motor.winding_ohms, motor.winding_henries) = (0.05, 0.05);
    let mut van = Van::with(vehicle, &[]);
    van.load(Law::ohms(60.0), "battery-plus", "latch.1");
    van.load(Law::ohms(0.01), "cargo-lamp.1", "latch.1");
    let phases = van.pass(0.5);
    let at = van.vehicle.lamps().position(|one| one == part(&van.vehicle, "cargo-lamp")).unwrap();
    let volts = phases.iter().flat_map(|phase| &phase.samples).map(|sample| sample.loads[0].volts);
    assert!(volts.fold(f64::INFINITY, f64::min) < 12.3, "the lamp had a quarter of a volt");
    assert!(phases.last().unwrap().samples[0].lights[at] < 1e-6);
    assert!(phases.len() <= 4, "{} phases", phases.len());
}

/// A brake that loses its supply while the motor still turns lets go at once, through an arc of its own.
#[test]
fn a_brake_that_loses_its_supply_lets_go() {
    let mut van = Van::sound();
    van.load(Law::ohms(METER_OHMS), "module.13", "module.2");
    van.switch("wipe", true);
    van.pass(5.0);
    van.switch("wipe", false);
    // 20 ms until the module takes it in.
    van.pass(0.024);
    assert!(van.motor("wiper").amps < -1.0, "it is braked: {} A", van.motor("wiper").amps);
    van.state.fuses[1].fitted.as_mut().unwrap().blown = true;
    let phases = van.pass(0.05);
    let (low, high) = extremes(&phases, 0);
    assert!(low > -1.0 && (20.0..60.0).contains(&high), "from {low} to {high} V");
    assert!(van.motor("wiper").amps.abs() < 0.01, "{} A", van.motor("wiper").amps);
    assert!(van.motor("wiper").speed_volts > 0.0, "it runs out unbraked");
}
