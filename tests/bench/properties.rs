//! Whatever is done on the bench, in whatever order, gives a defined outcome: no figure that is no number, no time that
//! is none, no panic; and the same seed and acts give the same outcomes.

use crate::acts;
use crate::common;

use std::mem::discriminant;
use std::sync::LazyLock;

use acts::every_action;
use common::{Bench, cautions, point, value, within};
use probeworthy::bench::{
    Action, Caution, InstrumentErrors, Lead, LidTo, MeterSetting, Refusal, Tool, World, step,
};
use probeworthy::fault::SeededChance;
use probeworthy::scenario::{SHELF, Scenario, load};
use probeworthy::vehicle::{PanelId, Vehicle};
use proptest::prelude::*;
use proptest::sample::Index;

/// Whether an act handles an instrument, or is one of those that instruments are there for.
fn is_of_instruments(action: &Action) -> bool {
    matches!(action, Action::Meter(_) | Action::Capture(_) | Action::Probe(..) | Action::ProbeHastily(..))
        || matches!(action, Action::Clip(..) | Action::Clamp(_) | Action::RecorderLeads(_) | Action::Arm(_))
        || action.triggers_recorder()
}

/// A scenario of the shelf, and every act on its vehicle, kind by kind.
struct Shelved {
    scenario: Scenario,
    kinds: Vec<Vec<Action>>,
}

static SHELVED: LazyLock<Vec<Shelved>> = LazyLock::new(|| {
    let one = |id: &str| {
        let scenario = load(id).unwrap_or_else(|why| panic!("{why}")).scenario;
        let mut kinds: Vec<Vec<Action>> = Vec::new();
        for action in every_action(&scenario.vehicle) {
            match kinds.iter_mut().find(|kind| discriminant(&kind[0]) == discriminant(&action)) {
                Some(kind) => kind.push(action),
                None => kinds.push(vec![action]),
            }
        }
        // What is done with instruments, and what they see, more often than the rest.
        let often: Vec<Vec<Action>> =
            kinds.iter().filter(|kind| is_of_instruments(&kind[0])).cloned().collect();
        for _ in 0..3 {
            kinds.extend_from_slice(&often);
        }
        Shelved { scenario, kinds }
    };
    SHELF.iter().map(|shelved| one(shelved.id)).collect()
});

/// Opens the lid by the lever and takes everything off, so that what follows reaches more than it is refused.
fn lay_open(vehicle: &Vehicle) -> Vec<Action> {
    let up = Action::Lid(LidTo::Angle(vehicle.lid.full_degrees));
    let panels = (0..vehicle.panels.len()).map(|at| Action::Panel(PanelId::at(at), true));
    [Action::Lever, up].into_iter().chain(panels).collect()
}

/// All that came of acts, as `Debug` tells it: every digit that tells two numbers apart.
fn play(
    scenario: &Scenario,
    fault: usize,
    errors: f64,
    acts: &[Action],
    seed: u64,
) -> Result<String, String> {
    let mut world =
        World::new(&scenario.vehicle, Some(&scenario.faults[fault]), InstrumentErrors::drawn(|| errors))
            .map_err(|why| why.to_string())?;
    let mut told = String::new();
    for (at, action) in (0..).zip(acts) {
        let outcome = step(&scenario.vehicle, &mut world, action, &mut SeededChance::new(seed, at))
            .map_err(|why| format!("{action:?}: {why}"))?;
        let line = format!("{action:?}: {outcome:?}");
        let is_none = |word: &str| matches!(word, "NaN" | "inf");
        if line.split(|c: char| !c.is_ascii_alphanumeric()).any(is_none) {
            return Err(format!("a figure is no number: {line}"));
        }
        if !(outcome.minutes.is_finite() && outcome.minutes >= 0.0) {
            return Err(format!("{} minutes: {line}", outcome.minutes));
        }
        told.push_str(&line);
        told.push('\n');
    }
    Ok(told)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_acts_give_defined_outcomes_and_the_same_again(
        scenario in any::<Index>(),
        fault in any::<Index>(),
        picks in proptest::collection::vec(any::<(Index, Index)>(), 1..60),
        errors in -1.0..=1.0,
        opened in any::<bool>(),
        seed in any::<u64>(),
    ) {
        let Shelved { scenario, kinds } = scenario.get(&SHELVED);
        let mut acts = if opened { lay_open(&scenario.vehicle) } else { Vec::new() };
        acts.extend(picks.iter().map(|(kind, which)| which.get(kind.get(kinds.as_slice()).as_slice()).clone()));
        let fault = fault.index(scenario.faults.len());
        let once = play(scenario, fault, errors, &acts, seed);
        prop_assert!(once.is_ok(), "{:?}", once);
        prop_assert_eq!(once, play(scenario, fault, errors, &acts, seed));
    }
}

const SETTINGS: [MeterSetting; 6] = [
    MeterSetting::Volts,
    MeterSetting::LowZ,
    MeterSetting::Ohms,
    MeterSetting::Tone,
    MeterSetting::Diode,
    MeterSetting::Amps,
];

/// Both leads on one point: no volts, no amps, and of ohms the leads' own tenth (ours, from common practice).
#[test]
fn both_leads_on_one_point_show_the_leads_and_nothing_else() {
    let mut bench = Bench::sound();
    bench.lay_open();
    for at in ["latch.1", "f2.load", "body", "ground-stud", "key-plus", "battery-plus"] {
        for setting in SETTINGS {
            let outcome = bench.meter(setting, at, at);
            let reading = outcome.reading.clone().expect("both leads are on");
            let right = if matches!(setting, MeterSetting::Ohms | MeterSetting::Tone) { 0.1 } else { 0.0 };
            assert_eq!(reading.now.value, Some(right), "{setting:?} at {at}: {outcome:?}");
            assert_eq!(reading.tone, setting == MeterSetting::Tone, "{outcome:?}");
            for caution in [Caution::OhmsOnLive, Caution::AmpsAcrossSource] {
                assert!(!cautions(&outcome, caution), "{setting:?} at {at}: {outcome:?}");
            }
        }
    }
}

/// Bridges, lamps and a second meter that close loops with the meter: every setting still shows something.
#[test]
fn loops_of_tools_leave_every_setting_a_reading() {
    let mut bench = Bench::sound();
    bench.lay_open();
    bench.clip(Tool::Bridge, "latch.1", "latch.3");
    bench.clip(Tool::BenchBattery, "inline-body.1", "inline-body.3");
    for size in [probeworthy::bench::LampSize::Five, probeworthy::bench::LampSize::TwentyOne] {
        bench.clip(Tool::TestLamp(size), "latch.3", "latch.1");
    }
    bench.act(Action::RecorderLeads(Some((point("latch.1"), point("latch.3")))));
    for setting in SETTINGS {
        for (red, black) in [("latch.1", "latch.3"), ("latch.3", "latch.1"), ("latch.1", "latch.1")] {
            let outcome = bench.meter(setting, red, black);
            assert!(outcome.reading.is_some(), "{setting:?} from {red} to {black}: {outcome:?}");
        }
    }
}

/// A meter and the recorder on the same two points: each is the other's load, and both show the same.
#[test]
fn two_meters_on_the_same_points_agree() {
    let mut bench = Bench::sound();
    bench.lay_open();
    bench.act(Action::CloseClaw);
    bench.act(Action::RecorderLeads(Some((point("latch.1"), point("latch.3")))));
    bench.meter(MeterSetting::Volts, "latch.1", "latch.3");
    bench.act(Action::Capture(true));
    bench.act(Action::Arm(true));
    let outcome = bench.release();
    let recording = outcome.recording.as_ref().expect("the recorder was armed");
    let volts = recording.volts.as_ref().expect("its leads are on");
    let (least, greatest) = volts.extreme_means(0.1, volts.begins(), volts.ends() - 0.1);
    let held = outcome.reading.as_ref().and_then(|reading| reading.held).expect("capture is on");
    within!(value(Some(held.0)), least - 0.01..=least + 0.01, "the least of both");
    within!(value(Some(held.1)), greatest - 0.01..=greatest + 0.01, "the greatest of both");
}

/// What cannot be is refused in one way, and changes nothing.
#[test]
fn what_cannot_be_connected_is_refused() {
    let mut bench = Bench::sound();
    let refused = |bench: &mut Bench, action: Action| {
        let before = format!("{:?}", bench.world.kit);
        let outcome = bench.attempt(&action, &mut probeworthy::bench::Certain);
        assert_eq!(before, format!("{:?}", bench.world.kit), "{action:?}");
        outcome.refused
    };
    let body = point("body");
    bench.lay_open();
    for (action, why) in [
        (Action::RecorderLeads(Some((body, body))), Refusal::SamePoint),
        (Action::RecorderLeads(None), Refusal::AlreadySo),
        (Action::Clamp(None), Refusal::AlreadySo),
        (Action::Arm(false), Refusal::AlreadySo),
        (Action::Arm(true), Refusal::RecorderNotReady),
        (Action::Clip(Tool::Bridge, Some((body, body))), Refusal::SamePoint),
        (Action::Read, Refusal::MeterNotReady),
        (Action::Probe(Lead::Red, Some(point("latch-pins.3"))), Refusal::Mated),
        (Action::ProbeHastily(Lead::Red, point("latch-pins.3")), Refusal::Mated),
    ] {
        assert_eq!(refused(&mut bench, action.clone()), Some(why), "{action:?}");
    }
}

/// Ohms, tone and diode on a live circuit: warned of, and whatever is shown is a figure or the over-range sign.
#[test]
fn a_source_of_the_meters_own_on_a_live_circuit_is_warned_of() {
    let mut bench = Bench::sound();
    bench.lay_open();
    for setting in [MeterSetting::Ohms, MeterSetting::Tone, MeterSetting::Diode] {
        let outcome = bench.meter(setting, "battery-plus", "battery-minus");
        assert!(cautions(&outcome, Caution::OhmsOnLive), "{outcome:?}");
        let shown = outcome.reading.expect("both leads are on").now.value;
        assert!(shown.is_none_or(f64::is_finite), "{setting:?}: {shown:?}");
    }
}
