//! The instruments against what is known of such. Beside each check stands its source and its status: *published* (a
//! handheld meter's manual), *common practice* (no single source), or *ours* (a figure that this program chose).

use crate::common;

use common::{
    Bench, cautions, conductor, connector, fuse, least_shown, part, point, station, value, vehicle, within,
};
use probeworthy::bench::MeterSetting::{self, Amps, Diode, LowZ, Ohms, Tone, Volts};
use probeworthy::bench::{
    Action, Caution, Chance, ClampPlace, Display, FuseWork, InstrumentErrors, Kit, LampSize, Lead, LidTo,
    Outcome, Refusal, Seen, Tool, World, step,
};
use probeworthy::circuit::{Law, Load, NetworkBuilder, Node, operating_point};
use probeworthy::fault::SeededChance;
use probeworthy::vehicle::{Half, KeyButton, PhysicalState, Point, Wiring};
use proptest::prelude::*;

/// What the meter puts on a circuit on a setting.
fn load(setting: MeterSetting) -> Load {
    let wiring = Wiring::new(vehicle(), &PhysicalState::sound(vehicle()));
    let mut kit = Kit::new(InstrumentErrors::NONE);
    kit.meter.setting = setting;
    (kit.meter.red, kit.meter.black) = (Some(Point::BatteryPlus), Some(Point::Body));
    kit.loads(&wiring).0[0]
}

/// A silicon junction drops 0.5 to 0.8 V at about a milliamp one way, and takes the whole source the other way (common
/// practice).
#[test]
fn a_junction_shows_its_drop_one_way_and_over_range_the_other() {
    // 0.65 V at 1 mA, slope of emission coefficient 1.8.
    let junction = Law::Diode(probeworthy::circuit::Diode::dropping(0.65, 1e-3, 1.8 * 0.0259));
    let volts = |forward: bool| {
        let mut net = NetworkBuilder::new();
        let anode = net.node();
        let cathode = net.node();
        net.branch(anode, cathode, junction);
        net.resistor(anode, Node::GROUND, 1e9);
        net.resistor(cathode, Node::GROUND, 1e9);
        let (network, laws) = net.build().expect("no ideal sources");
        let (from, to) = if forward { (anode, cathode) } else { (cathode, anode) };
        let meter = Load { from, to, ..load(Diode) };
        operating_point(&network, &laws, &[meter]).expect("it has one").loads()[0].volts
    };
    within!(volts(true), 0.5..=0.8, "forward");
    within!(volts(false), 2.0..=2.8, "backward: above the 2 V that are shown");
    let mut bench = Bench::sound();
    bench.lay_open();
    bench.unplug("latch");
    assert_eq!(bench.figure(Diode, "latch-pins.1", "latch.2"), None, "nothing between the leads");
    within!(bench.figure(Diode, "latch-pins.1", "latch-pins.3").unwrap(), 0.0..0.01, "a motor's winding");
}

/// A low input impedance shows a ghost for what it is and leaves a feed as it is (common practice).
#[test]
fn low_impedance_pulls_a_ghost_down_and_leaves_a_feed() {
    let mut bench = Bench::faulty("latch-feed.open.bellows");
    bench.lay_open();
    bench.act(Action::CloseClaw);
    bench.unplug("latch");
    let ghost = bench.figure(Volts, "latch.1", "battery-minus").unwrap();
    let pulled = bench.figure(LowZ, "latch.1", "battery-minus").unwrap();
    within!(ghost, 0.02..2.0, "a wire that hangs on leakage, under 10 MΩ");
    within!(pulled, 0.0..0.002, "the same under 3 kΩ");
    let feed = bench.figure(LowZ, "f2.feed", "battery-minus").unwrap();
    within!(feed, 12.3..=12.7, "a feed under 3 kΩ");
}

/// The tone sounds below 50 Ω or 100 Ω by model (published; ours is 50 Ω), so that a lamp's cold filament sounds like a
/// wire; and ohms include the leads' tenth (common practice).
#[test]
fn the_tone_sounds_below_fifty_ohms() {
    let mut bench = Bench::sound();
    bench.lay_open();
    bench.act(Action::Fuse(fuse("f2"), FuseWork::Pull));
    assert!(bench.meter(Tone, "cargo-lamp.1", "cargo-lamp.2").reading.unwrap().tone);
    within!(bench.figure(Ohms, "body", "body").unwrap(), 0.099..=0.101, "the leads alone");
    let module = bench.meter(Tone, "module.3", "module.5").reading.unwrap();
    assert!(!module.tone, "{module:?}");
}

/// In line, in place of a pulled fuse, the meter carries the circuit's current: 0.3 to 0.45 A for a cargo lamp of 5 W.
/// The clamp round the wire shows the same without opening anything, and does not load it.
#[test]
fn the_clamp_agrees_with_a_meter_in_line_and_loads_nothing() {
    let mut bench = Bench::sound();
    bench.lay_open();
    bench.act(Action::Fuse(fuse("f2"), FuseWork::Pull));
    let in_line = bench.figure(Amps, "f2.feed", "f2.load").unwrap();
    bench.lift_leads();
    bench.act(Action::Fuse(fuse("f2"), FuseWork::PutBack));
    let drop = bench.figure(Volts, "f2.load", "cargo-lamp.1").unwrap();
    for place in [
        ClampPlace::Cavity(connector("cargo-lamp"), Half::Loom, 1),
        ClampPlace::Cavity(connector("cargo-lamp"), Half::Loom, 2),
    ] {
        let outcome = bench.attempt(&Action::Clamp(Some(place)), &mut Even);
        let shown = value(outcome.clamp.map(|reading| reading.now));
        within!(shown.abs(), in_line - 0.011..=in_line + 0.011, "amps at {place:?}");
        assert_eq!(bench.read().now.value, Some(drop), "the clamp loads nothing");
    }
    let zero = bench.act(Action::Clamp(Some(ClampPlace::Cavity(connector("latch"), Half::Loom, 1))));
    // Its zero drifts by up to 30 mA (common practice, no source).
    within!(value(zero.clamp.map(|reading| reading.now)), -0.03..=0.03, "a wire without current");
}

/// The battery's cable carries what all circuits take together, and a station the same as the wire's end.
#[test]
fn the_clamp_sees_sums_at_the_battery_and_one_wire_along_its_way() {
    let mut bench = Bench::sound();
    bench.lay_open();
    let clamp = |bench: &mut Bench, place| {
        value(bench.attempt(&Action::Clamp(Some(place)), &mut Even).clamp.map(|reading| reading.now))
    };
    let before = clamp(&mut bench, ClampPlace::BatteryPlus);
    bench.switch("brake", true);
    let after = clamp(&mut bench, ClampPlace::BatteryPlus);
    // Three stop lamps of 21 W or so at 12 V: over three amps.
    within!(after - before, 3.0..=6.5, "amps that the stop lamps take");
    let id = conductor("high-stop-feed");
    let along: Vec<f64> = vehicle()
        .conductor(id)
        .runs
        .iter()
        .filter_map(|run| run.station)
        .map(|at| clamp(&mut bench, ClampPlace::Station(id, at)))
        .collect();
    assert!(along.len() > 1 && along.iter().all(|amps| (amps - along[0]).abs() < 0.011), "{along:?}");
    within!(along[0], 0.3..=2.5, "amps of the high-level stop lamp");
    let elsewhere = Action::Clamp(Some(ClampPlace::Station(conductor("feed-f1"), station("bellows"))));
    assert_eq!(bench.attempt(&elsewhere, &mut Even).refused, Some(Refusal::ConductorNotHere));
}

/// Chances that lie in the middle: no drift, the display's beat half way.
struct Even;

impl Chance for Even {
    fn happens(&mut self, probability: f64) -> bool {
        probability > 0.5
    }

    fn fraction(&mut self) -> f64 {
        0.5
    }
}

/// The display renews itself four times a second (three to five are usual; from memory): a lead that is put on in the
/// middle of a renewal shows half, then all.
#[test]
fn a_display_settles_after_a_lead_is_put_on() {
    let mut bench = Bench::sound();
    bench.act(Action::Meter(Volts));
    bench.act(Action::Probe(Lead::Black, Some(point("battery-minus"))));
    let outcome = bench.attempt(&Action::Probe(Lead::Red, Some(point("battery-plus"))), &mut Even);
    let reading = outcome.reading.expect("both leads are on");
    let settled = value(Some(reading.now));
    let shown: Vec<(f64, f64)> =
        reading.during.iter().map(|renewal| (renewal.milliseconds, value(Some(renewal.display)))).collect();
    assert_eq!(shown.len(), 2, "{shown:?}");
    assert_eq!((shown[0].0, shown[1].0), (125.0, 375.0), "ms");
    within!(shown[0].1, 0.49 * settled..=0.51 * settled, "part-way");
    assert_eq!(shown[1].1, settled);
    assert!(reading.settling, "{reading:?}");
}

/// A hold keeps what a display misses: means over a tenth of a second (ours, within what such meters do).
#[test]
fn the_hold_keeps_the_least_and_the_greatest() {
    let mut bench = Bench::sound();
    bench.lay_open();
    bench.act(Action::CloseClaw);
    bench.meter(Volts, "latch.1", "latch.3");
    bench.act(Action::Capture(true));
    let (least, greatest) = bench.release().reading.unwrap().held.expect("capture is on");
    within!(value(Some(greatest)), 11.0..=12.6, "the command");
    // A winding's kick, of some millivolt-seconds, is in the least.
    within!(value(Some(least)), -0.3..=0.01, "what was before and after it");
    // The battery sags under the command, which only the least shows.
    bench.act(Action::CloseClaw);
    bench.meter(Volts, "battery-plus", "battery-minus");
    let rest = value(bench.read().now.into());
    let outcome = bench.release();
    let (least, greatest) = outcome.reading.as_ref().unwrap().held.expect("capture is on");
    assert!(value(Some(least)) < rest - 0.01 && value(Some(greatest)) <= rest + 0.01, "{outcome:?}");
    assert!(least_shown(&outcome) >= value(Some(least)), "a display averages longer: {outcome:?}");
}

/// The key's release, as the recorder sees it at the latch: feed for the command's time, and the motor's current.
#[test]
fn the_recorder_takes_down_one_act() {
    let mut bench = Bench::sound();
    bench.lay_open();
    bench.act(Action::CloseClaw);
    bench.act(Action::RecorderLeads(Some((point("latch.1"), point("latch.3")))));
    bench.attempt(&Action::Clamp(Some(ClampPlace::Cavity(connector("latch"), Half::Loom, 1))), &mut Even);
    bench.act(Action::Arm(true));
    assert_eq!(bench.act(Action::Observe).recording, None, "looking does nothing in time");
    let recording = bench.release().recording.expect("it was armed");
    let (begins, ends) = recording.span();
    let (volts, amps) = (recording.volts.expect("leads are on"), recording.amps.expect("the clamp is on"));
    assert_eq!((volts.begins(), volts.ends()), (begins, ends));
    let (least, greatest) = volts.extremes(begins, ends);
    within!(greatest, 11.0..=12.6, "volts of the command");
    // The winding kicks when the contact opens; the recorder takes down what it can.
    within!(least, -60.0..=0.1, "volts of the rest and of the winding's kick");
    within!(volts.at(begins), -0.1..=0.1, "volts of the rest");
    let (_, stall) = amps.extremes(begins, ends);
    within!(stall, 1.0..=20.0, "amps of the motor as it starts");
    within!(amps.at(begins), -0.02..=0.02, "amps before the command");
    within!(ends - begins, 0.2..=5.05, "seconds");
    assert_eq!(bench.key(KeyButton::Lock).recording, None, "it takes down one act");
}

/// Who probes in haste may land next door, and finds out only by looking (how often: ours).
#[test]
fn a_hasty_lead_may_slip_and_a_look_tells_where_it_is() {
    let hasty = Action::ProbeHastily(Lead::Red, point("latch.2"));
    let on = |outcome: &Outcome| {
        outcome.seen.iter().find_map(|seen| match seen {
            Seen::Probe(Lead::Red, at) => Some(*at),
            _ => None,
        })
    };
    let mut bench = Bench::sound();
    bench.lay_open();
    bench.act(Action::Meter(Volts));
    let mut slips = 0;
    const TRIES: u64 = 400;
    for seed in 0..TRIES {
        let outcome = bench.attempt(&hasty, &mut SeededChance::new(seed, 1));
        assert!(outcome.refused.is_none() && on(&outcome).is_none(), "it does not say so: {outcome:?}");
        assert_eq!(bench.world.kit.meter.red, Some(point("latch.2")), "as far as is known");
        let found = on(&bench.act(Action::Observe)).expect("the probe is on something");
        assert_eq!(bench.world.kit.meter.red, Some(found), "from then on it is known");
        assert!(["latch.1", "latch.2", "latch.3"].map(point).contains(&found), "{found:?}");
        slips += u64::from(found != point("latch.2"));
    }
    // 15 % of 400 is 60, give or take 7.
    within!(slips, 35..=85, "slips of {TRIES}");
    let careful = Action::Probe(Lead::Red, Some(point("latch.2")));
    let slow = bench.act(careful.clone()).minutes;
    assert_eq!(on(&bench.act(Action::Observe)), Some(point("latch.2")));
    let quick = bench.attempt(&hasty, &mut Even).minutes;
    within!(quick, 0.33 * slow..=0.34 * slow, "minutes in haste");
    // A stud has no neighbour.
    bench.act(Action::ProbeHastily(Lead::Black, point("ground-stud")));
    assert!(bench.act(Action::Observe).seen.contains(&Seen::Probe(Lead::Black, point("ground-stud"))));
}

/// The reading after a slip is the neighbour's: nothing is made up.
#[test]
fn a_lead_that_slipped_reads_where_it_is() {
    let mut bench = Bench::sound();
    bench.lay_open();
    let beside = bench.figure(Volts, "module.3", "battery-minus").unwrap();
    let at = bench.figure(Volts, "module.4", "battery-minus").unwrap();
    assert!((beside - at).abs() > 10.0, "supply {beside} V and ground {at} V");
    bench.act(Action::Probe(Lead::Black, Some(point("battery-minus"))));
    // Chance against whoever acts: it slips, and to the side of the higher number.
    let outcome = bench.act(Action::ProbeHastily(Lead::Red, point("module.2")));
    let reading = value(outcome.reading.map(|reading| reading.now));
    let seen = bench.act(Action::Observe).seen;
    let on = seen.iter().find_map(|seen| match seen {
        Seen::Probe(Lead::Red, on) => Some(*on),
        _ => None,
    });
    assert_ne!(on, Some(point("module.2")), "{seen:?}");
    // Proving the meter takes both leads to the battery, and puts them back where they were.
    bench.act(Action::ProbeHastily(Lead::Red, point("module.2")));
    let proof = bench.act(Action::ProveMeter).reading;
    within!(value(proof.map(|reading| reading.now)), 12.4..=12.7, "volts of the battery");
    assert_eq!(bench.read().now.value, Some(reading), "a look moves nothing");
    bench.act(Action::Probe(Lead::Red, on));
    assert_eq!(bench.read().now.value, Some(reading), "the neighbour reads so of itself");
}

/// A tip forced into the front of a small terminal spreads it (common practice): called for at an open connector's
/// springs, gone against in haste, and not at a mated one or at bare pins.
#[test]
fn front_probing_small_terminals_is_cautioned() {
    let mut bench = Bench::sound();
    bench.lay_open();
    let behind = bench.act(Action::Probe(Lead::Red, Some(point("latch.1"))));
    assert!(!cautions(&behind, Caution::SpreadTerminals), "{behind:?}");
    bench.unplug("latch");
    let front = bench.act(Action::Probe(Lead::Red, Some(point("latch.1"))));
    assert!(cautions(&front, Caution::SpreadTerminals), "{front:?}");
    assert!(!front.breaches.contains(&Caution::SpreadTerminals), "{front:?}");
    assert!(front.minutes > behind.minutes, "a tip of the right size is chosen first");
    let hasty = bench.act(Action::ProbeHastily(Lead::Red, point("latch.1")));
    assert!(hasty.breaches.contains(&Caution::SpreadTerminals), "{hasty:?}");
    let pins = bench.act(Action::Probe(Lead::Red, Some(point("latch-pins.1"))));
    assert!(!cautions(&pins, Caution::SpreadTerminals), "{pins:?}");
}

/// A front-probed connector is open, so that what hung on it loads nothing: a bad ground passes there without load and
/// fails back-probed (common practice).
#[test]
fn a_feed_is_proven_under_load_only_from_behind() {
    let mut bench = Bench::sound();
    bench.lay_open();
    let behind = bench.figure(Volts, "f2.load", "cargo-lamp.1").unwrap();
    bench.unplug("cargo-lamp");
    let front = bench.figure(Volts, "f2.load", "cargo-lamp.1").unwrap();
    assert!(behind > 0.01 && front.abs() < 0.001, "{behind} V under load, {front} V without");
}

/// The points between which every setting is tried for its accuracy.
const PAIRS: [(&str, &str); 6] = [
    ("battery-plus", "battery-minus"),
    ("f2.load", "cargo-lamp.1"),
    ("cargo-lamp.1", "cargo-lamp.2"),
    ("key-plus", "key-minus"),
    ("module.3", "module.5"),
    ("latch.2", "body"),
];

fn shown(errors: InstrumentErrors, setting: MeterSetting, red: &str, black: &str) -> Display {
    let mut world = World::new(vehicle(), None, errors).expect("a sound vehicle");
    let up = LidTo::Angle(vehicle().lid.full_degrees);
    let panels = (0..vehicle().panels.len()).map(probeworthy::vehicle::PanelId::at);
    let acts = [Action::Lever, Action::Lid(up)]
        .into_iter()
        .chain(panels.map(|panel| Action::Panel(panel, true)))
        .chain([
            Action::Meter(setting),
            Action::Probe(Lead::Red, Some(point(red))),
            Action::Probe(Lead::Black, Some(point(black))),
        ]);
    let mut reading = None;
    for action in acts {
        let outcome = step(vehicle(), &mut world, &action, &mut Even).expect("it has an operating point");
        reading = outcome.reading;
    }
    reading.expect("both leads are on").now
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..ProptestConfig::default() })]

    /// ±(share of the reading + counts): ohms .8 % + 2 (published), the others common practice.
    #[test]
    fn no_reading_leaves_its_accuracy(
        draws in proptest::collection::vec(-1.0..=1.0, 13),
        at in 0..PAIRS.len(),
        setting in proptest::sample::select(vec![Volts, LowZ, Ohms, Diode]),
    ) {
        let mut draws = draws.into_iter();
        let errors = InstrumentErrors::drawn(|| draws.next().expect("a draw for each function's gain and offset"));
        let (red, black) = PAIRS[at];
        let (right, off) = (shown(InstrumentErrors::NONE, setting, red, black), shown(errors, setting, red, black));
        let accuracy = setting.accuracy();
        if let (Some(right_value), Some(value)) = (right.value, off.value) {
            // The right one is itself rounded to half a count.
            let count = right.count().max(off.count());
            let band = accuracy.share * right_value.abs() + (accuracy.counts + 0.5) * count;
            prop_assert!((value - right_value).abs() <= band, "{off} where {right} is right, {setting:?}");
        } else {
            prop_assert!(right.value.is_none() == off.value.is_none(), "{off} where {right} is right");
        }
    }
}

/// A 21 W lamp, the bridge and the bench battery are unchanged by the recorder and the clamp beside them.
#[test]
fn companions_leave_the_tools_as_they_are() {
    let mut bench = Bench::sound();
    bench.lay_open();
    let alone = bench.test_lamp(LampSize::TwentyOne, "f2.load", "body").0;
    bench.act(Action::RecorderLeads(Some((point("f2.load"), point("body")))));
    bench.act(Action::Clamp(Some(ClampPlace::BatteryPlus)));
    let beside = bench.test_lamp(LampSize::TwentyOne, "f2.load", "body").0;
    within!(beside, alone - 1e-3..=alone + 1e-3, "light beside the recorder");
    // A blown fuse is still told of the right tool.
    let outcome = bench.clip(Tool::Bridge, "battery-plus", "body");
    assert!(outcome.seen.contains(&Seen::InstrumentFuseBlown(Some(Tool::Bridge))), "{outcome:?}");
    assert!(bench.attempt(&Action::Press(part("pad")), &mut Even).refused.is_none());
}
