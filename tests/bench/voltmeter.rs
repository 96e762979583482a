//! A voltmeter of ten megohms moves nothing that has a memory: it is put on what time leaves behind. How much that differs
//! from a meter that hangs on the circuit all the while, and that it loads what hangs on megohms all the same.

use std::collections::BTreeSet;

use probeworthy::bench::{Action, Certain, InstrumentErrors, Lead, LidTo, MeterSetting, World, step};
use probeworthy::circuit::{Law, Load, LoadPoint, Waveform};
use probeworthy::fault::PlacedFault;
use probeworthy::scenario::{SHELF, Scenario, load};
use probeworthy::vehicle::{
    KeyButton, LastPoint, Phase, PhysicalState, Point, Pressed, Scene, ToolFuses, Vehicle, Wiring,
};

/// The meter (`bench/meter.rs`), in ohms.
const METER_OHMS: f64 = 10e6;
const LEADS_OHMS: f64 = 0.1;
/// What the two ways may differ by: a share of the reading, and volts. A meter shows a count of a millivolt on its lowest range.
const APART: (f64, f64) = (1e-5, 50e-6);
/// For so long after something has switched, in seconds, windings drive on what they carried; the microampere of the meter is
/// a part of that which is missing then, and where there was no more than that, all of it. What the display makes of such a spike
/// is held against this: a share of its mean, and volts, over the time in seconds that the least and the greatest are means of.
const SPIKES_SECONDS: f64 = 5e-3;
const MEANS_APART: (f64, f64) = (1e-5, 2e-3);
const MEAN_SECONDS: f64 = 0.1;
/// Where a converter saturates, in volts (`bench/meter.rs`).
const SATURATES_VOLTS: f64 = 66.0;
/// So many faults of each pool are tried, and every so manyth point.
const FAULTS: usize = 2;
const EVERY: usize = 17;

fn meter(wiring: &Wiring, red: Point, black: Point) -> Load {
    Load { from: wiring.node(red), to: wiring.node(black), law: Law::ohms(METER_OHMS), lead_ohms: LEADS_OHMS }
}

/// A button pressed on a vehicle in this state with these loads on it.
fn press(vehicle: &Vehicle, wiring: &Wiring, state: &PhysicalState, loads: &[Load]) -> Vec<Phase> {
    let mut state = state.clone();
    let mut fuses: ToolFuses = vec![None; loads.len()];
    let mut scene = Scene {
        vehicle,
        wiring,
        loaded: None,
        state: &mut state,
        loads,
        tool_fuses: &mut fuses,
        last: &mut LastPoint::default(),
        watched: &[],
        fine: false,
    };
    scene.pass(20.0).expect("it has an operating point");
    scene.press(Pressed::Key(KeyButton::Release)).expect("it has an operating point").phases
}

/// What a fault's vehicle looks like with the lid up or shut.
fn stands(scenario: &Scenario, fault: Option<&PlacedFault>, up: bool) -> PhysicalState {
    let vehicle = &scenario.vehicle;
    let errors = InstrumentErrors::NONE;
    let mut world = World::standing(vehicle, fault, errors, scenario.conditions).expect("it has one");
    if up {
        for act in [Action::Lever, Action::Lid(LidTo::Angle(vehicle.lid.full_degrees))] {
            step(vehicle, &mut world, &act, &mut Certain).expect("it has one");
        }
    }
    world.state
}

fn seconds(phases: &[Phase]) -> Vec<f64> {
    phases.iter().flat_map(|phase| phase.samples.iter().map(|sample| sample.at_seconds)).collect()
}

/// On every vehicle of the shelf, sound and with faults of its pool: at each instant but spikes they read the
/// same within [`APART`], and on average with spikes within [`MEANS_APART`]; nearly always both step through the same instants.
#[test]
fn a_voltmeter_reads_what_one_that_loads_the_circuit_all_the_while_reads() {
    let (mut alike, mut all, mut instants, mut lively) = (0, 0, 0, 0);
    let mut done = BTreeSet::new();
    for shelf in SHELF {
        let scenario = load(shelf.id).expect("the shelf is sound").scenario;
        let vehicle = &scenario.vehicle;
        let step_by = (scenario.faults.len() / FAULTS).max(1);
        let faults = scenario.faults.iter().step_by(step_by).map(Some).chain([None]);
        for (turn, fault) in faults.enumerate() {
            let state = stands(&scenario, fault, turn % 2 == 0);
            let wiring = Wiring::new(vehicle, &state);
            let bare = press(vehicle, &wiring, &state, &[]);
            let mut tried = vehicle.points();
            tried.retain(|point| !matches!(point, Point::BatteryMinus | Point::KeyPlus | Point::KeyMinus));
            for &red in tried.iter().skip(turn % EVERY).step_by(EVERY) {
                let load = meter(&wiring, red, Point::BatteryMinus);
                let loaded = press(vehicle, &wiring, &state, &[load]);
                all += 1;
                done.insert(shelf.id);
                if seconds(&loaded).len() != seconds(&bare).len()
                    || seconds(&loaded).iter().zip(seconds(&bare)).any(|(a, b)| (a - b).abs() > 1e-9)
                {
                    continue;
                }
                alike += 1;
                let mut ways: [Vec<(f64, f64)>; 2] = [Vec::new(), Vec::new()];
                let mut from = 0.0;
                for (bare, loaded) in bare.iter().zip(&loaded) {
                    let felt = bare.feel(&wiring, None, &load).expect("there is a reading");
                    assert_eq!(felt.len(), loaded.samples.len());
                    for ((at, felt), sample) in felt.iter().zip(&loaded.samples) {
                        let whole = sample.loads[0].volts;
                        instants += 1;
                        lively += usize::from(whole.abs() > 0.1);
                        let clamped = |volts: f64| volts.clamp(-SATURATES_VOLTS, SATURATES_VOLTS);
                        ways[0].push((from + at, clamped(felt.volts)));
                        ways[1].push((from + at, clamped(whole)));
                        let apart = (felt.volts - whole).abs();
                        assert!(
                            *at < SPIKES_SECONDS || apart <= APART.0 * whole.abs() + APART.1,
                            "{} {:?} {red:?} at {at} s: {} V, with the meter all the while {whole} V",
                            shelf.id,
                            fault.map(|fault| &fault.id),
                            felt.volts,
                        );
                    }
                    from += bare.seconds;
                }
                let [felt, whole] = ways.map(|points| Waveform::through(points).expect("time goes on"));
                let mut begins = 0.0;
                while begins + MEAN_SECONDS < felt.ends() {
                    let mean = |wave: &Waveform| wave.mean(begins, begins + MEAN_SECONDS);
                    let (felt, whole) = (mean(&felt), mean(&whole));
                    assert!(
                        (felt - whole).abs() <= MEANS_APART.0 * whole.abs() + MEANS_APART.1,
                        "{} {:?} {red:?} from {begins} s: {felt} V on average, with the meter all the while {whole} V",
                        shelf.id,
                        fault.map(|fault| &fault.id),
                    );
                    begins += 0.25 * MEAN_SECONDS;
                }
            }
        }
    }
    assert_eq!(done.len(), SHELF.len());
    assert!(alike * 10 >= all * 9, "only {alike} of {all} step alike");
    assert!(lively * 5 > instants && instants > 20_000, "{lively} of {instants} instants have volts");
}

/// Whatever the meter looks at, a press leaves the vehicle in the same state, to the bit; and it does not matter what else
/// has been looked at meanwhile.
#[test]
fn what_a_voltmeter_looks_at_changes_nothing() {
    let scenario = load("tailgate-ignores-its-key").expect("the shelf is sound").scenario;
    let vehicle = &scenario.vehicle;
    let fault = &scenario.faults[0];
    let errors = InstrumentErrors::NONE;
    let mut world = World::standing(vehicle, Some(fault), errors, scenario.conditions).expect("it has one");
    let act = |world: &mut World, action: Action| {
        step(vehicle, world, &action, &mut Certain).expect("it has an operating point")
    };
    act(&mut world, Action::Lever);
    act(&mut world, Action::Lid(LidTo::Angle(vehicle.lid.full_degrees)));
    act(&mut world, Action::Meter(MeterSetting::Volts));
    act(&mut world, Action::Probe(Lead::Black, Some(Point::Body)));
    let mut ends: Vec<(PhysicalState, usize)> = Vec::new();
    let mut shown = BTreeSet::new();
    for red in vehicle.points() {
        let mut tried = world.clone();
        let probe = act(&mut tried, Action::Probe(Lead::Red, Some(red)));
        if probe.refused.is_some() || probe.minutes != 0.3 {
            continue;
        }
        act(&mut tried, Action::Capture(true));
        let press = act(&mut tried, Action::Key(KeyButton::Release));
        shown.insert(format!("{:?}", press.reading.and_then(|reading| reading.held)));
        match ends.iter_mut().find(|(state, _)| *state == tried.state) {
            Some((_, count)) => *count += 1,
            None => ends.push((tried.state, 1)),
        }
    }
    assert_eq!(ends.len(), 1, "the state depends on where the meter is");
    assert!(ends[0].1 > 10 && shown.len() > 5, "{} places, {} readings", ends[0].1, shown.len());
}

/// A wire that hangs on nothing but stray paths shows a ghost that the meter itself pulls down: a divider of the stray
/// resistance to a feed beside it, that to the body, and the meter. Worked out by hand from the reading without and with it.
#[test]
fn a_floating_wire_is_loaded_at_every_instant() {
    let mut floating = 0;
    for shelf in SHELF {
        let scenario = load(shelf.id).expect("the shelf is sound").scenario;
        let vehicle = &scenario.vehicle;
        let mut state = stands(&scenario, None, true);
        // All connectors apart: whole wires hang in the air.
        state.mated.iter_mut().for_each(|mated| *mated = false);
        let wiring = Wiring::new(vehicle, &state);
        let phases = press(vehicle, &wiring, &state, &[]);
        for point in vehicle.points() {
            let looks = |ohms: f64| -> Vec<LoadPoint> {
                let load = Load { law: Law::ohms(ohms), ..meter(&wiring, point, Point::BatteryMinus) };
                let felt =
                    phases.iter().flat_map(|phase| phase.feel(&wiring, None, &load).expect("there is one"));
                felt.map(|(_, felt)| felt).collect()
            };
            if matches!(point, Point::KeyPlus | Point::KeyMinus | Point::BatteryMinus) {
                continue;
            }
            let (light, heavy, heavier) = (looks(1e14), looks(METER_OHMS), looks(0.5 * METER_OHMS));
            for ((light, heavy), heavier) in light.iter().zip(&heavy).zip(&heavier) {
                // Two readings tell the port; the third has to lie on its line.
                let ohms = (light.volts - heavy.volts) / heavy.amps;
                if heavy.amps.abs() > 1e-15 && ohms > 1e7 {
                    floating += 1;
                    let expected = light.volts * 0.5 * METER_OHMS / (0.5 * METER_OHMS + ohms + LEADS_OHMS);
                    let apart = (heavier.volts - expected).abs();
                    assert!(apart <= 1e-4 * expected.abs() + 1e-9, "{point:?}: {} {expected}", heavier.volts);
                    assert!(heavy.volts.abs() < 0.55 * light.volts.abs());
                }
            }
        }
    }
    assert!(floating > 1000, "{floating}");
}
