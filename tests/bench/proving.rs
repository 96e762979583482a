//! The proving van, on which every kind of part, output, input and rule is at work, and its pool of every kind of fault:
//! what is sound does what it should, what is faulty shows it within a few acts, and the right repair brings it back.

use std::sync::{Arc, LazyLock};

use probeworthy::bench::{
    Answer, Certain, Heard, InstrumentErrors, LoomLook, Outcome, Question, Seen, TerminalLook, TugResult,
    World, step,
};
use probeworthy::fault::{PlacedFault, SeededChance};
use probeworthy::job::{Choice, Job, NoJournal};
use probeworthy::marks::{Lesson, Part, mark};
use probeworthy::reasoning::Inquiry;
use probeworthy::scenario::{Scenario, load};
use probeworthy::survey::gives_complaint;
use probeworthy::threads;
use probeworthy::vehicle::{Conditions, Deviation, When};
use probeworthy::words;

static PROVING: LazyLock<Arc<Scenario>> = LazyLock::new(|| {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/vehicles/proving.scenario.ron");
    Arc::new(load(path).unwrap_or_else(|why| panic!("{why}")).scenario)
});

/// Reason on the proving van, for the marks.
static FRESH: LazyLock<Inquiry> = LazyLock::new(|| {
    Inquiry::new(Arc::clone(&PROVING), threads::available()).expect("every van has an operating point")
});

#[track_caller]
fn find(id: &str) -> PlacedFault {
    let known = || PROVING.faults.iter().map(|fault| fault.id.as_str()).collect::<Vec<_>>().join(", ");
    PROVING.fault(id).unwrap_or_else(|| panic!("no fault {id} in the pool; there are {}", known())).clone()
}

/// One van, and hands on it that follow commands.
#[derive(Clone)]
struct Bay {
    world: World,
    acts: u64,
}

impl Bay {
    fn with(fault: Option<&PlacedFault>) -> Self {
        let world =
            World::standing(&PROVING.vehicle, fault, InstrumentErrors::NONE, PROVING.conditions).unwrap();
        Self { world, acts: 0 }
    }

    fn sound() -> Self {
        Self::with(None)
    }

    #[track_caller]
    fn faulty(id: &str) -> Self {
        Self::with(Some(&find(id)))
    }

    /// Does what may be refused; chances fall as a seed has them.
    #[track_caller]
    fn attempt(&mut self, line: &str) -> Outcome {
        let action = words::parse(&PROVING.vehicle, line).unwrap_or_else(|error| panic!("{line}: {error}"));
        self.acts += 1;
        let outcome = step(&PROVING.vehicle, &mut self.world, &action, &mut SeededChance::new(5, self.acts))
            .unwrap_or_else(|why| panic!("{line}: {why}"));
        assert!(!format!("{outcome:?}").contains("NaN"), "{line}: {outcome:?}");
        outcome
    }

    #[track_caller]
    fn act(&mut self, line: &str) -> Outcome {
        let outcome = self.attempt(line);
        assert_eq!(outcome.refused, None, "{line}");
        outcome
    }

    /// Does one line after another, whatever is refused.
    #[track_caller]
    fn play(&mut self, lines: &str) -> Vec<(String, Outcome)> {
        lines.lines().map(str::trim).map(|line| (line.to_owned(), self.attempt(line))).collect()
    }

    /// The figure between two points, all at rest; `None` is over range.
    #[track_caller]
    fn figure(&mut self, setting: &str, red: &str, black: &str) -> Option<f64> {
        self.play("red off\nblack off");
        for line in [format!("meter {setting}"), format!("red {red}"), format!("black {black}")] {
            self.act(&line);
        }
        self.act("read").reading.expect("the meter is connected").now.value
    }

    #[track_caller]
    fn volts(&mut self, red: &str, black: &str) -> f64 {
        self.figure("volts", red, black).expect("within range")
    }

    /// What the clamp shows round a conductor, in amps.
    #[track_caller]
    fn clamped(&mut self, place: &str) -> f64 {
        self.attempt("clamp off");
        self.act(&format!("clamp {place}"));
        let shown = self.act("look").clamp.expect("the clamp is closed");
        self.act("clamp off");
        shown.now.value.expect("within range")
    }

    fn sees(&mut self, text: &str) -> bool {
        said(&self.act("look")).iter().any(|line| line == text)
    }
}

/// What an outcome lets a person see and hear, in words.
fn said(outcome: &Outcome) -> Vec<String> {
    let seen = outcome.seen.iter().map(|seen| words::seen(words::Texts::english(), &PROVING.vehicle, seen));
    let heard =
        outcome.heard.iter().map(|heard| words::heard(words::Texts::english(), &PROVING.vehicle, heard));
    seen.chain(heard).collect()
}

macro_rules! within {
    ($found:expr, $range:expr, $($of:tt)+) => {{
        let (found, range) = ($found, $range);
        assert!(range.contains(&found), "{}: {found:.4} is not in {range:?}", format_args!($($of)+));
    }};
}

/// A low-side output pulls a relay in, whose contact feeds a solenoid: the lid opens by key and pad, unless the module
/// refuses.
#[test]
fn the_sound_van_opens_by_key_and_pad() {
    let mut bay = Bay::sound();
    let opens = |outcome: &Outcome| {
        outcome.heard.contains(&Heard::Chirps(1)) && outcome.seen.contains(&Seen::LidReleased)
    };
    assert!(opens(&bay.act("key release")));
    bay.act("lid shut");
    assert!(opens(&bay.act("press pad")));
    bay.act("lid shut");
    let flash = bay.act("key lock");
    assert!(said(&flash).contains(&"indicator lamp lights up for a moment: bright".to_owned()), "{flash:?}");
    let refused = bay.act("press pad");
    assert!(refused.heard.contains(&Heard::Chirps(2)) && !opens(&refused), "{refused:?}");
    assert!(opens(&bay.act("key release")));
    assert!(bay.act("memory read module").seen.contains(&Seen::Blinks(Vec::new())));
    bay.act("take bulkhead off");
    // An output to ground is off: its load pulls the pin up (worked out).
    within!(bay.volts("module.10", "module.2"), 12.3..=12.7, "latch relay's output at rest");
}

/// Lamps, by a switch, by an electronic output, and by an output with a bias that finds its load.
#[test]
fn the_sound_van_lights_its_lamps() {
    let mut bay = Bay::sound();
    for lamp in ["stop lamp", "high-level stop lamp", "cargo lamp"] {
        assert!(bay.sees(&format!("{lamp}: dark")), "{lamp}");
    }
    let lit = said(&bay.act("switch brake on"));
    assert!(
        lit.contains(&"stop lamp: bright".to_owned())
            && lit.contains(&"high-level stop lamp: bright".to_owned()),
        "{lit:?}"
    );
    // Behind 120 mΩ at 25 °C (ours) with a quarter of an ampere: some hundredths of a volt (worked out).
    bay.act("take bulkhead off");
    within!(bay.volts("module.3", "module.12"), 0.01..=0.06, "drop of the electronic output");
    within!(bay.clamped("high-stop-feed-body sill"), 0.2..=0.25, "the lamp of diodes");
    bay.act("switch brake off");
    // Off, it leaks 3 µA at most (published, a maker's sheets), which its bleed of 47 kΩ turns into a seventh of a volt.
    within!(bay.volts("module.12", "module.2"), 0.1..=0.16, "high-level stop lamp's output at rest");
    // A bias of 10 kΩ against a cold filament is next to nothing.
    within!(bay.volts("module.15", "module.2"), 0.0..=0.01, "cargo lamp's output at rest");
    assert!(said(&bay.act("key release")).contains(&"cargo lamp: bright".to_owned()));
    bay.act("lid shut");
    bay.act("unplug cargo-lamp");
    // Without its load it shows the supply, less what the meter draws through 10 kΩ (worked out).
    within!(bay.volts("module.15", "module.2"), 12.2..=12.6, "cargo lamp's output without its lamp");
    assert!(bay.act("memory read module").seen.contains(&Seen::Blinks(vec![10])));
}

/// A relay's working contact feeds the screen, its resting contact a lamp. About 20 A in all, and half the supply at the
/// middle of a line (published, a meter maker's application note); a contact drops 50 to 100 mV at 10 A, so 100 to 200 mV
/// at 20 (published, makers' sheets).
#[test]
fn the_sound_van_clears_its_screen() {
    let mut bay = Bay::sound();
    assert!(bay.sees("tell-tale, screen off: bright"));
    bay.act("take bulkhead off");
    let said = said(&bay.act("switch heat on"));
    for text in
        ["heated screen: the mist clears before every line", "tell-tale, screen off: dark", "a relay clicks"]
    {
        assert!(said.iter().any(|one| one == text), "{text}: {said:?}");
    }
    within!(bay.clamped("screen-feed sill"), 18.0..=21.0, "the screen's current");
    within!(bay.volts("rear-screen.1", "rear-screen.2"), 11.0..=12.4, "at the screen");
    for line in [1, 4, 10] {
        // Measured afresh for each line: at 20 A the battery falls meanwhile.
        let bar = bay.volts(&format!("rear-screen.{line}.0"), "rear-screen.2");
        let half = bay.volts(&format!("rear-screen.{line}.4"), "rear-screen.2");
        within!(half / bar, 0.49..=0.51, "the middle of line {line}");
    }
    within!(bay.volts("screen-relay.3", "screen-relay.4"), 0.08..=0.2, "drop of the relay's contact");
    // The output's 0.3 Ω carries the coil's tenth of an ampere (worked out).
    within!(bay.volts("module.11", "module.2"), 0.02..=0.06, "screen relay's output");
    bay.act("switch heat off");
    assert!(bay.sees("heated screen: no line gets warm"));
}

/// A regulator holds 13.5 to 14.7 V (from memory), and what the battery has lost comes back.
#[test]
fn the_sound_van_charges() {
    let mut bay = Bay::sound();
    bay.act("switch heat on");
    bay.act("wait 60");
    bay.act("switch heat off");
    let drained = bay.volts("battery-plus", "battery-minus");
    within!(drained, 12.0..=12.45, "after an hour of the screen");
    bay.act("switch engine on");
    within!(bay.volts("battery-plus", "battery-minus"), 13.5..=14.7, "while the engine runs");
    bay.act("wait 30");
    bay.act("switch engine off");
    within!(bay.volts("battery-plus", "battery-minus"), drained + 0.1..=12.65, "afterwards");
}

/// A half-bridge turns its motor and brakes it to ground.
#[test]
fn the_sound_van_wipes() {
    let mut bay = Bay::sound();
    assert!(said(&bay.act("switch wipe on")).contains(&"wiper motor turns".to_owned()));
    bay.act("take bulkhead off");
    // Idle current and what speed adds: 1.5 A and 0.1 S times some 10 V (worked out).
    within!(bay.clamped("wiper-feed-body sill"), 2.2..=2.9, "the wiper's current");
    assert!(said(&bay.act("switch wipe off")).contains(&"wiper motor stands still".to_owned()));
    // At rest the output holds its pin to ground, so that a lamp from the feed lights; others leave it dark.
    let mut lamp = |pin: &str| {
        let seen = bay.act(&format!("lamp 5 module.1 {pin}")).seen;
        bay.act("lamp 5 off");
        seen.into_iter().find_map(|seen| if let Seen::TestLamp(_, light) = seen { Some(light) } else { None })
    };
    within!(lamp("module.13").unwrap(), 0.9..=1.1, "test lamp on the braking output");
    within!(lamp("module.14").unwrap(), 0.0..=0.9, "test lamp on the relay's contact, by way of its lamp");
    assert!(bay.act("memory read module").seen.contains(&Seen::Blinks(Vec::new())));
}

/// What an output does at rest decides what is fed back: with the lid's common ground lost, the latch finds its way to
/// ground through the wiper and the output that brakes it (worked out).
#[test]
fn a_braking_output_lends_its_ground() {
    let mut bay = Bay::faulty("lid-ground.open.hinge.lid-below-40");
    assert!(bay.act("key release").seen.contains(&Seen::LidReleased));
    bay.play("lid up\ntake lid-trim off");
    bay.act("unplug wiper");
    bay.act("lid shut");
    assert!(!bay.act("key release").seen.contains(&Seen::LidReleased), "without the wiper it has no way");
}

/// A module draws its current until it falls asleep (15 minutes and 240 Ω, 12 kΩ: ours). An input's pull-up goes on
/// wetting a closed contact: 1 kΩ, so 12.6 mA.
#[test]
fn the_sound_module_falls_asleep() {
    let mut bay = Bay::sound();
    bay.play("fuse f2 pull\nmeter amps\nred f2.feed\nblack f2.load");
    let amps = |outcome: Outcome| outcome.reading.expect("connected").now.value.expect("within range");
    within!(amps(bay.act("read")), 0.06..=0.08, "awake");
    within!(amps(bay.act("wait 20")), 0.012..=0.02, "asleep");
    // Whoever asks it for something wakes it.
    bay.act("key lock");
    within!(amps(bay.act("read")), 0.06..=0.08, "awake again");
}

/// What a driver tries, each from a shut lid to a shut lid.
const OPEN: &str = "look
    key lock
    key unlock
    key release
    lever
    lid shut
    look
    press pad
    lever
    lid shut";
const LIGHT: &str = "lever
    switch brake on
    look
    switch brake off
    memory read module
    lid shut";
const CLEAR: &str = "look
    switch heat on
    look
    switch heat off
    look";
const WIPE: &str = "lever
    lid up
    switch wipe on
    switch wipe off
    lid shut";

/// A fault, acts that show it to whoever knows the sound van, and what mends it once all is laid open.
const SHOWN: &[(&str, &str, &str)] = &[
    ("latch-feed.open.hinge", OPEN, "splice latch-feed hinge"),
    (
        "lid-ground.open.hinge.lid-below-40",
        "switch wipe on\nlook\nswitch wipe off\nlook",
        "splice lid-ground hinge",
    ),
    ("wiper-feed.open.hinge.lid-above-40", WIPE, "splice wiper-feed hinge"),
    (
        "high-stop-feed.open.hinge.flexed",
        "lever\nlid up\nswitch brake on\nflex hinge\nflex hinge\nflex hinge\nswitch brake off\nlid shut",
        "splice high-stop-feed hinge",
    ),
    (
        "latch-feed-body.open.sill.wet",
        "wet\nkey release\nlid shut\ndry\nkey release\nlid shut",
        "splice latch-feed-body sill",
    ),
    ("pad-signal.open.lid-corner.colder-than-8", OPEN, "splice pad-signal lid-corner"),
    (
        "camera-feed.open.camera.warmer-than-40",
        "lever\nlid up\nmeter volts\nred camera-plug.1\nblack camera-plug.2\nwarm camera\nread\nwait 30\nred off\nblack off\nlid shut",
        "splice camera-feed camera",
    ),
    ("latch-feed.4-ohm.lid-corner", OPEN, "splice latch-feed lid-corner"),
    ("latch-feed.short.hinge.lid-0-to-30", OPEN, "splice latch-feed hinge\nfuse f1 fit 15"),
    ("screen-feed.strands-1-of-56.sill", CLEAR, "splice screen-feed sill"),
    ("pad-signal.short-to.lid-ground.hinge", OPEN, "splice pad-signal hinge"),
    (
        "camera-feed.short-to.ajar.hinge.wet",
        // With the camera's fuse out, the ajar input's pull-up reaches the camera through the crust.
        "wet\nfuse f5 pull\nmeter volts\nred f5.load\nblack f4.load\nread\nred off\nblack off\nfuse f5 back\ntake bulkhead off\nput bulkhead back",
        "splice ajar hinge",
    ),
    ("wiper-feed.short-to.lid-ground.hinge", LIGHT, "splice lid-ground hinge\nfuse f4 fit 15"),
    (
        "latch.pushed-back.3.shaken",
        "lever\nlid shut\nkey release\nlever\nlid shut\nkey release\nlever\nlid shut\nkey release\nlever\nlid shut\nkey release\nlever\nlid shut",
        "unplug latch\nterminal latch.3\nplug latch",
    ),
    ("wiper.corroded.1", WIPE, "unplug wiper\nterminal wiper.1\nplug wiper"),
    (
        "camera-plug.bent.1",
        "lever\nlid up\nunplug camera-plug\ninspect camera-plug\nplug camera-plug\nlid shut",
        "unplug camera-plug\nterminal camera-plug.1\nplug camera-plug",
    ),
    ("high-stop.half-seated.1", LIGHT, "unplug high-stop\nplug high-stop"),
    ("latch.crossed.2-4", OPEN, "unplug latch\nswap latch 2 4\nplug latch"),
    ("f5.blown", LIGHT, "fuse f5 fit 10"),
    ("f1.wrong.3-amp", OPEN, "fuse f1 fit 15"),
    ("f3.loose", CLEAR, "fuse f3 pull\nclips f3\nfuse f3 back"),
    ("stud.corroded.6-ohm", WIPE, "clean stud"),
    ("latch.solenoid-open", OPEN, "fit latch"),
    ("latch.solenoid-shorted", OPEN, "fit latch\nfuse f1 fit 15"),
    ("latch-relay.coil-open", OPEN, "fit latch-relay"),
    ("screen-relay.coil-shorted", CLEAR, "fit screen-relay"),
    ("wiper.motor-open", WIPE, "fit wiper"),
    (
        "wiper.dead-spot",
        "lever\nlid up\nswitch wipe on\nswitch wipe off\nswitch wipe on\nswitch wipe off\nswitch wipe on\nswitch wipe off\nswitch wipe on\nswitch wipe off\nlid shut",
        "fit wiper",
    ),
    ("latch.stiff", OPEN, "fit latch"),
    ("latch.jammed", OPEN, "force latch\nlid up\ntake lid-trim off\nfit latch"),
    ("stop.open", LIGHT, "fit stop"),
    ("cargo-lamp.open", LIGHT, "fit cargo-lamp"),
    ("high-stop.open", LIGHT, "fit high-stop"),
    (
        "latch-diode.open",
        "lever\nlid up\ntake lid-trim off\nunplug latch-diode\nmeter ohms\nred latch-diode-pins.1\nblack latch-diode-pins.2\nread\nred off\nblack off\nplug latch-diode\nput lid-trim back\nlid shut",
        "fit latch-diode",
    ),
    (
        "camera.open",
        "lever\nlid up\nunplug camera-plug\nmeter ohms\nred camera-plug-pins.1\nblack camera-plug-pins.2\nread\nred off\nblack off\nplug camera-plug\nlid shut",
        "fit camera",
    ),
    ("latch-diode.shorted", OPEN, "fit latch-diode\nfuse f1 fit 15"),
    ("high-stop.shorted", LIGHT, "fit high-stop"),
    ("rear-screen.line-broken.2-3", CLEAR, "paint rear-screen.2.3"),
    ("rear-screen.line-broken.5-8.6-1", CLEAR, "paint rear-screen.5.8\npaint rear-screen.6.1"),
    ("latch-relay.contact-burnt.5-ohm", OPEN, "fit latch-relay"),
    ("screen-relay.contact-welded", CLEAR, "fit screen-relay"),
    ("pad.open", OPEN, "fit pad"),
    ("pad.film.20000-ohm", OPEN, "fit pad"),
    ("heat.closed", CLEAR, "fit heat"),
    ("module.dead.latch", OPEN, "fit module"),
    ("module.stuck-on.screen", CLEAR, "fit module"),
    ("module.deaf.brake", LIGHT, "fit module"),
    ("module.deaf.key", OPEN, "fit module"),
    (
        "module.never-sleeps",
        "fuse f2 pull\nmeter amps\nred f2.feed\nblack f2.load\nwait 20\nread\nred off\nblack off\nfuse f2 back",
        "fit module",
    ),
    ("key.cell-flat", OPEN, "fit key-cell"),
    ("key.button-dead", OPEN, "fit key"),
    ("battery.low.10.4-volt", OPEN, "charge"),
    ("lockout.left-on", OPEN, "lockout off"),
];

/// Lays everything open, mends, closes everything, and begins a new memory.
fn mending(repair: &str) -> String {
    format!(
        "glasses\ntake bulkhead off\nlever\nlid up\ntake lid-trim off\n{repair}\nput lid-trim back\nput bulkhead back\nlid shut\nmemory clear module"
    )
}

/// Whether two outcomes look, sound and read alike: the same words, and figures within a twentieth.
fn alike(a: &Outcome, b: &Outcome) -> bool {
    let figure = |outcome: &Outcome| outcome.reading.as_ref().map(|reading| reading.now.value);
    let near = match (figure(a), figure(b)) {
        (Some(Some(a)), Some(Some(b))) => (a - b).abs() <= 0.05 * a.abs().max(b.abs()) + 0.02,
        (a, b) => a == b,
    };
    // What the reading passed through, and whether the rear is still wet, belongs to the moment.
    let words = |outcome: &Outcome| {
        let mut said = said(outcome);
        said.retain(|one| !one.starts_with("the reading moves") && !one.starts_with("the rear of the car"));
        said
    };
    near && a.refused == b.refused && words(a) == words(b)
}

/// The first act that tells two rows of outcomes apart.
fn first_difference(a: &[(String, Outcome)], b: &[(String, Outcome)]) -> Option<String> {
    let different = a.iter().zip(b).find(|((_, a), (_, b))| !alike(a, b));
    different.map(|((line, a), (_, b))| {
        let text = |outcome: &Outcome| {
            format!("{:?}, reading {:?}", said(outcome), outcome.reading.as_ref().map(|r| r.now))
        };
        format!("{line}\n  {}\n  {}", text(a), text(b))
    })
}

#[test]
fn every_fault_of_the_pool_is_in_the_list() {
    let listed: Vec<&str> = SHOWN.iter().map(|(id, ..)| *id).collect();
    let pool: Vec<&str> = PROVING.faults.iter().map(|fault| fault.id.as_str()).collect();
    assert_eq!(listed, pool);
}

/// Plays acts from their beginning, with the chances of a beginning.
fn begin(bay: &mut Bay, acts: &str) -> Vec<(String, Outcome)> {
    bay.acts = 0;
    bay.play(acts)
}

#[test]
fn every_fault_shows_and_its_repair_brings_the_van_back() {
    let mut sound: Vec<(&str, Vec<(String, Outcome)>)> = Vec::new();
    let mut wrong = Vec::new();
    for (id, acts, repair) in SHOWN {
        if !sound.iter().any(|(known, _)| known == acts) {
            sound.push((acts, begin(&mut Bay::sound(), acts)));
        }
        let good = &sound.iter().find(|(known, _)| known == acts).expect("it has been played").1;
        let mut bay = Bay::faulty(id);
        if first_difference(good, &begin(&mut bay, acts)).is_none() {
            wrong.push(format!("{id} does not show"));
        }
        for (line, outcome) in bay.play(&mending(repair)) {
            // What laying open finds done already.
            let may = ["lever", "lid up", "take", "lid shut"].iter().any(|word| line.starts_with(word));
            if outcome.refused.is_some() && !may {
                wrong.push(format!("{id}: {line} is refused, {:?}", outcome.refused));
            }
        }
        let left: Vec<_> = bay.world.state.deviations.iter().map(|one| one.deviation).collect();
        if !left.is_empty() {
            wrong.push(format!("{id} leaves {left:?}"));
        }
        if let Some(what) = first_difference(good, &begin(&mut bay, acts)) {
            wrong.push(format!("{id} is not mended: {what}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The same acts with the same chances give the same, to the bit.
#[test]
fn the_same_acts_give_the_same() {
    for id in ["wiper.dead-spot", "screen-feed.strands-1-of-56.sill", "high-stop-feed.open.hinge.flexed"] {
        let play = || [OPEN, LIGHT, CLEAR, WIPE].map(|acts| format!("{:?}", Bay::faulty(id).play(acts)));
        assert!(play() == play(), "{id}");
    }
}

/// What is wrong with a conductor looks as it should when the tape is open, on whichever conductor one looks.
#[test]
fn the_loom_shows_what_is_wrong_with_it() {
    let look = |id: &str, station: &str| {
        let mut bay = Bay::faulty(id);
        bay.play("take bulkhead off\nlever\nlid up");
        let seen = bay.act(&format!("tape {station}")).seen;
        seen.into_iter()
            .find_map(|seen| if let Seen::Loom(_, looks) = seen { Some(looks) } else { None })
            .unwrap()
    };
    assert!(matches!(look("screen-feed.strands-1-of-56.sill", "sill")[..], [LoomLook::Frayed(_)]));
    assert!(matches!(
        look("wiper-feed.short-to.lid-ground.hinge", "hinge")[..],
        [LoomLook::ChafedTogether(..)]
    ));
    assert!(matches!(look("camera-feed.short-to.ajar.hinge.wet", "hinge")[..], [LoomLook::Crusted(..)]));
}

/// Strands that melt leave a parted conductor (one of 56 strands of 4 mm² melts at about 13 A by Preece's rule, from
/// memory; the screen takes some 20).
#[test]
fn last_strands_carry_little_and_melt() {
    let mut bay = Bay::faulty("screen-feed.strands-1-of-56.sill");
    bay.act("take bulkhead off");
    within!(bay.figure("ohms", "screen-relay.4", "rear-screen.1").unwrap(), 0.0..=1.0, "one strand");
    bay.play("red off\nblack off\nswitch heat on");
    assert!(bay.sees("heated screen: no line gets warm"));
    bay.act("switch heat off");
    assert_eq!(bay.figure("tone", "screen-relay.4", "rear-screen.1"), None, "it has parted");
}

/// Beside a break of a line the lead finds full supply on the fed side and none on the other (published, a meter maker's
/// application note); paint mends its own section only.
#[test]
fn a_break_of_a_line_is_found_at_the_step() {
    let mut bay = Bay::faulty("rear-screen.line-broken.2-3");
    bay.play("take bulkhead off\nswitch heat on");
    let full = bay.volts("rear-screen.1", "rear-screen.2");
    within!(bay.volts("rear-screen.2.2", "rear-screen.2") / full, 0.97..=1.01, "before the break");
    within!(bay.volts("rear-screen.2.3", "rear-screen.2") / full, -0.01..=0.01, "behind the break");
    bay.act("paint rear-screen.2.4");
    within!(
        bay.volts("rear-screen.2.3", "rear-screen.2") / full,
        -0.01..=0.01,
        "with the next section painted"
    );
    bay.act("paint rear-screen.2.3");
    within!(bay.volts("rear-screen.2.4", "rear-screen.2") / full, 0.48..=0.52, "mended");
}

/// A pin that stands aside is seen with the halves apart only. Its wire holds, plugging together does not straighten it, and a
/// new part brings straight pins.
#[test]
fn a_bent_pin_is_seen_and_stays_bent_until_it_is_mended() {
    let looks = |outcome: &Outcome| -> Vec<(u8, TerminalLook)> {
        let seen = outcome.seen.iter().find_map(|seen| match seen {
            Seen::Terminals(_, _, looks) => Some(looks.clone()),
            _ => None,
        });
        seen.expect("a connector that has been looked at")
    };
    let bent = [(1, TerminalLook::Bent)];
    let mut bay = Bay::faulty("camera-plug.bent.1");
    for line in ["lever", "lid up"] {
        bay.act(line);
    }
    assert!(looks(&bay.act("inspect camera-plug")).is_empty(), "mated");
    let tugged = bay.act("tug camera-plug.1").seen;
    assert!(matches!(tugged[..], [Seen::Tugged(_, 1, TugResult::Holds)]), "{tugged:?}");
    bay.act("unplug camera-plug");
    assert_eq!(looks(&bay.act("inspect camera-plug")), bent);
    bay.act("plug camera-plug");
    bay.act("unplug camera-plug");
    assert_eq!(looks(&bay.act("inspect camera-plug")), bent, "plugged together once more");
    for mending in ["terminal camera-plug.1", "fit camera"] {
        let mut mended = bay.clone();
        mended.act(mending);
        assert!(looks(&mended.act("inspect camera-plug")).is_empty(), "{mending}");
    }
    bay.act("terminal camera-plug.2");
    assert_eq!(looks(&bay.act("inspect camera-plug")), bent, "another cavity");
}

/// What the customer says of the weather and of knocks follows from what is wrong.
#[test]
fn the_customer_tells_of_weather_and_knocks() {
    for (id, question, answer) in [
        ("latch-feed-body.open.sill.wet", Question::Weather, Answer::OnlyWhenWet),
        ("pad-signal.open.lid-corner.colder-than-8", Question::Weather, Answer::WhenCold),
        ("camera-feed.open.camera.warmer-than-40", Question::Weather, Answer::WhenWarm),
        ("latch-feed.open.hinge", Question::Weather, Answer::WeatherNoMatter),
        ("latch.pushed-back.3.shaken", Question::When, Answer::KnockChangesIt),
        ("latch.pushed-back.3.shaken", Question::When, Answer::ComesAndGoes),
        ("wiper.dead-spot", Question::When, Answer::KnockChangesIt),
    ] {
        let line = if question == Question::When { "ask when" } else { "ask weather" };
        let heard = Bay::faulty(id).act(line).heard;
        let told = heard
            .iter()
            .any(|heard| matches!(heard, Heard::Customer(_, answers) if answers.contains(&answer)));
        assert!(told, "{id}: {heard:?}");
    }
}

/// A filmed contact passes next to nothing of what its input gives, and all of a test lamp's current; when it has parted,
/// the film is there again (wetting current: common practice, no source).
#[test]
fn a_film_breaks_under_enough_current_until_the_contacts_part() {
    let opens = |outcome: &Outcome| outcome.heard.contains(&Heard::LatchOpens);
    let mut bay = Bay::faulty("pad.film.20000-ohm");
    bay.play("lever\nlid up\nprop\ntake lid-trim off\nclaw close");
    assert!(!opens(&bay.act("press pad")));
    bay.act("lamp 21 pad.1 f1.feed");
    assert!(opens(&bay.act("press pad")));
    bay.play("lamp 21 off\nclaw close");
    assert!(!opens(&bay.act("press pad")));
    // 13 mA is what the input gives: a film that needs less does no harm.
    let mut thin = find("pad.film.20000-ohm");
    thin.deviations = match thin.deviations[0] {
        Deviation::Film { part, ohms, .. } => vec![Deviation::Film { part, ohms, wetting_amps: 0.01 }],
        other => panic!("{other:?}"),
    };
    let mut bay = Bay::with(Some(&thin));
    bay.play("lever\nlid up\nprop\ntake lid-trim off\nclaw close");
    assert!(opens(&bay.act("press pad")));
}

/// Whether a fault can give the complaint depends on the conditions in which the van comes in.
#[test]
fn a_complaint_is_looked_for_in_the_scenarios_conditions() {
    let mild = Scenario { conditions: Conditions::default(), ..(**PROVING).clone() };
    for id in ["latch-feed-body.open.sill.wet", "pad-signal.open.lid-corner.colder-than-8"] {
        assert!(gives_complaint(&PROVING, &find(id)).is_ok(), "{id}");
        assert!(gives_complaint(&mild, &find(id)).is_err(), "{id}");
    }
    for id in ["latch.pushed-back.3.shaken", "latch-diode.shorted", "latch-relay.contact-burnt.5-ohm"] {
        assert!(gives_complaint(&mild, &find(id)).is_ok(), "{id}");
    }
    for id in ["rear-screen.line-broken.2-3", "camera-feed.open.camera.warmer-than-40"] {
        assert!(gives_complaint(&PROVING, &find(id)).is_err(), "{id}");
    }
}

/// A wet van dries by itself within an hour; what is warmed or cooled comes back sooner.
#[test]
fn water_dries_and_places_come_back() {
    let mut bay = Bay::faulty("camera-feed.open.camera.warmer-than-40");
    assert!(bay.world.state.wet);
    assert!(bay.act("wait 61").seen.contains(&Seen::Wet(false)));
    assert!(!bay.world.state.wet && !bay.sees("the rear of the car is wet"));
    assert!(bay.act("wet").seen.contains(&Seen::Wet(true)));
    bay.play("lever\nlid up");
    let present = |bay: &Bay| bay.world.state.deviations[0].present;
    for place in ["camera", "hinge"] {
        bay.act(&format!("warm {place}"));
        assert_eq!(present(&bay), place == "camera", "{place}");
        bay.act("wait 30");
        assert!(!present(&bay));
    }
    bay.act("warm camera");
    bay.act("cool camera");
    assert!(!present(&bay));
}

/// A fault that needs water is proven mended only in the wet.
#[test]
fn a_dry_retest_of_a_wet_fault_proves_nothing() {
    let play = |retest: &str| {
        let fault = "latch-feed-body.open.sill.wet".to_owned();
        let mut job = Job::new(Arc::clone(&PROVING), 4, Choice::Named(fault)).unwrap();
        let lines = format!(
            "cautions\nkey release\ntake bulkhead off\nsplice latch-feed-body sill\nput bulkhead back\n{retest}\nkey release\nlid shut\nkey lock\nname latch-feed-body open at sill\nhand in"
        );
        for line in lines.lines() {
            let action =
                words::parse(&PROVING.vehicle, line).unwrap_or_else(|error| panic!("{line}: {error}"));
            job.apply(action, &mut NoJournal).unwrap();
        }
        let marks = mark(&job, &FRESH).unwrap().unwrap();
        let line = marks.lines.into_iter().find(|line| line.part == Part::Proof).unwrap();
        (line.marks / line.out_of, line.lessons)
    };
    let (dry, why) = play("dry");
    assert!(dry < 0.6 && why.contains(&Lesson::RetestedDry), "{dry}: {why:?}");
    let (wet, why) = play("wet");
    assert!(wet > 0.9 && !why.contains(&Lesson::RetestedDry), "{wet}: {why:?}");
}

/// Of two conductors that touch either is the right name, and of broken lines any.
#[test]
fn either_of_two_conductors_can_be_named() {
    use probeworthy::fault::Component;
    use probeworthy::vehicle::ConductorId;
    let conductor = |name: &str| {
        let at = PROVING.vehicle.conductors.iter().position(|one| one.id == name).unwrap();
        Component::Conductor(ConductorId::at(at))
    };
    let fault = find("wiper-feed.short-to.lid-ground.hinge");
    assert!(fault.sits_on(conductor("wiper-feed")) && fault.sits_on(conductor("lid-ground")));
    assert!(!fault.sits_on(conductor("latch-feed")));
}

/// With chance against whoever acts a knock leaves the fault there; with chance for him it may go.
#[test]
fn a_knock_settles_a_worn_place_anew() {
    let mut bay = Bay::faulty("wiper.dead-spot");
    bay.play("lever\nlid up\ntake lid-trim off");
    let tap = words::parse(&PROVING.vehicle, "tap wiper").unwrap();
    step(&PROVING.vehicle, &mut bay.world, &tap, &mut Certain).unwrap();
    assert!(bay.world.state.deviations[0].present);
    let gone = (0..20).any(|_| {
        bay.act("tap wiper");
        !bay.world.state.deviations[0].present
    });
    assert!(gone);
    let before = bay.world.state.deviations[0].present;
    bay.act("tap camera");
    assert_eq!(bay.world.state.deviations[0].present, before, "a knock elsewhere does nothing");
}

/// Every break that touches when it likes settles anew when the lid has sprung up, by whatever it was let go.
#[test]
fn the_loom_settles_when_the_lid_has_sprung_up() {
    for line in ["lever", "force latch", "key release", "press pad"] {
        let mut bay = Bay::faulty("high-stop-feed.open.hinge.flexed");
        let action = words::parse(&PROVING.vehicle, line).unwrap();
        let outcome = step(&PROVING.vehicle, &mut bay.world, &action, &mut Certain).unwrap();
        assert!(outcome.seen.contains(&Seen::LidReleased), "{line}: {outcome:?}");
        assert!(bay.world.state.deviations[0].present, "{line}");
    }
}

/// Brushes come to stand anew whatever has turned the motor.
#[test]
fn a_motor_turned_from_outside_stands_anew() {
    let mut bay = Bay::faulty("wiper.dead-spot");
    bay.play("lever\nlid up\ntake lid-trim off");
    bay.world.state.deviations[0].present = false;
    bay.act("unplug wiper");
    for line in ["bench wiper-pins.1 wiper-pins.2", "bench off"] {
        assert!(!bay.world.state.deviations[0].present, "{line}");
        let action = words::parse(&PROVING.vehicle, line).unwrap();
        let outcome = step(&PROVING.vehicle, &mut bay.world, &action, &mut Certain).unwrap();
        assert_eq!(outcome.refused, None, "{line}");
    }
    assert!(bay.world.state.deviations[0].present);
}

/// A new latch has not been drawn: it goes its way on the supply that is there.
#[test]
fn a_new_part_begins_anew() {
    let mut bay = Bay::sound();
    bay.play("lever\nlid up\ntake lid-trim off");
    bay.act("unplug latch");
    let drawn = bay.act("bench latch-pins.1 latch-pins.3");
    assert!(!drawn.heard.contains(&Heard::LatchOpens));
    bay.act("claw close");
    assert!(!bay.act("look").heard.contains(&Heard::LatchOpens));
    assert!(bay.act("fit latch").heard.contains(&Heard::LatchOpens));
}

/// A module falls asleep in its time, however long one waits in one go.
#[test]
fn a_long_wait_is_as_long_as_its_pieces() {
    let charge = |acts: &str| {
        let mut bay = Bay::sound();
        bay.play(acts);
        bay.world.state.charge
    };
    let (whole, pieces) = (charge("wait 60"), charge("wait 20\nwait 20\nwait 20"));
    // Each act ends with 20 s in which all comes to rest, at some 0.4 A of 50 Ah; awake it is 50 mA more for 45 minutes.
    assert!((whole - pieces).abs() < 2e-4, "{whole} and {pieces}");
}

/// A van whose pad's wire touches the lid's ground now and then.
fn touching(when: When) -> Bay {
    let mut fault = find("pad-signal.short-to.lid-ground.hinge");
    for deviation in &mut fault.deviations {
        if let Deviation::Between { when: now, .. } = deviation {
            *now = when;
        }
    }
    Bay::with(Some(&fault))
}

/// An input that is pulled while the loom is flexed or the lid moves asks its module as a press does.
#[test]
fn a_module_is_asked_by_a_flex_and_on_the_lids_way() {
    let mut bay = touching(When::LidBetween(30.0, 45.0));
    bay.act("lever");
    let heard = bay.act("lid up").heard;
    assert!(heard.contains(&Heard::Chirps(1)), "on the lid's way: {heard:?}");

    let mut bay = touching(When::Flexed(0.9));
    let flex = words::parse(&PROVING.vehicle, "flex hinge").unwrap();
    let outcome = step(&PROVING.vehicle, &mut bay.world, &flex, &mut Certain).unwrap();
    assert!(outcome.heard.contains(&Heard::Chirps(1)), "flexed: {outcome:?}");
    assert!(outcome.seen.contains(&Seen::LidReleased), "flexed: {outcome:?}");
}
