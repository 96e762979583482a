//! What happens in time, against ngspice: coils, motors and warming filaments on a feed that is switched on and off
//! again.
//!
//! How circuits are written for it stands in `common/netlist.rs`. Without ngspice these tests say that they were skipped;
//! with `CI` set in the environment they fail instead, and compare more.
#![expect(clippy::print_stdout, reason = "how much was compared, and how well it agrees, is worth telling")]

use crate::draw;
use crate::netlist;

use draw::Draw;
use netlist::{Analysis, Deck, Netlist, can_compare, name, run};
use probeworthy::circuit::{
    Branch, Diode, Dynamic, Filament, Instant, Law, Memory, Network, NetworkBuilder, Node, Transient,
};

/// What a current or a speed may differ by: this share of it, and where it is small, this share of its greatest.
const SHARE: f64 = 5e-3;
const SHARE_OF_GREATEST: f64 = 5e-4;
/// Tolerances of ngspice in time, and its method: one that does not ring where a coil is switched off.
const OPTIONS: &str =
    "option method=gear reltol=1e-6 abstol=1e-7 vntol=1e-5 chgtol=1e-13 trtol=1 itl4=100 pivrel=1e-3";
/// Points of ngspice's at least, and its first step as a share of the whole.
const POINTS: f64 = 4000.0;
const FIRST_STEP: f64 = 1e-6;

/// What is followed in time.
#[derive(Clone, Copy, Debug, PartialEq)]
enum What {
    Amps,
    SpeedVolts,
    Ohms,
}

impl What {
    fn of(self, now: &Instant, branch: Branch) -> f64 {
        let memory = now.memory(branch).expect("it is asked of what has a memory");
        match self {
            Self::Amps => now.amps(branch),
            Self::SpeedVolts => memory.speed_volts,
            Self::Ohms => memory.ohms,
        }
    }
}

/// A feed from the battery by a switch and a wire to one or two parts, back by a ground wire, and what keeps the voltage
/// down when the switch opens.
struct Feed {
    network: Network,
    laws: Vec<Law>,
    parts: Vec<(Branch, Dynamic, Memory)>,
    switch: Branch,
    open: Law,
    closed_seconds: f64,
    open_seconds: f64,
    /// What is compared.
    followed: Vec<(Branch, What)>,
    deck: Deck,
}

impl Feed {
    fn new(seed: u64) -> Self {
        let mut draw = Draw::new(seed);
        let mut builder = NetworkBuilder::new();
        let [battery, fed, plus, minus] = [0; 4].map(|_| builder.node());
        let supply = Law::source(draw.between(9.0, 14.5), draw.between(0.005, 0.1));
        builder.branch(battery, Node::GROUND, supply);
        let (closed_ohms, open_ohms) = (draw.decades(-2.5, -1.0), 1e9);
        let switch = builder.branch(battery, fed, Law::ohms(closed_ohms));
        builder.branch(fed, plus, Law::ohms(draw.decades(-2.0, 0.3)));
        builder.branch(minus, Node::GROUND, Law::ohms(draw.decades(-2.0, -0.3)));
        if draw.below(3) == 0 {
            let lamp = Filament { rated_volts: 13.5, rated_watts: draw.one(&[5.0, 21.0]) };
            builder.branch(fed, Node::GROUND, Law::Filament(lamp));
        }
        // A resistor, a junction, or no more than the arc across the opening contacts leaves.
        match draw.below(3) {
            0 => {
                builder.branch(plus, minus, Law::ohms(draw.between(50.0, 500.0)));
            }
            1 => {
                let diode = Diode::dropping(draw.between(0.5, 1.0), 1.0, draw.between(0.0259, 0.0517));
                builder.branch(minus, plus, Law::Diode(diode));
                builder.branch(plus, minus, Law::ohms(10e3));
            }
            _ => {
                builder.branch(plus, minus, Law::ohms(draw.decades(3.0, 4.0)));
            }
        }
        let mut parts = Vec::new();
        let mut slowest = 0.0_f64;
        for at in 0..1 + draw.below(2) {
            let (dynamic, seconds) = part(&mut draw, at == 0);
            let branch = builder.branch(plus, minus, Law::OPEN);
            parts.push((branch, dynamic, Memory::default()));
            slowest = slowest.max(seconds);
        }
        let closed_seconds = slowest * draw.between(0.5, 3.0);
        let open_seconds = slowest * draw.between(0.3, 2.0);
        let (network, laws) = builder.build().expect("there are no ideal sources");

        let mut netlist = Netlist::default();
        let (mut followed, mut vectors) = (Vec::new(), vec!["time".to_owned()]);
        for (at, law) in laws.iter().enumerate() {
            let (from, to) = network.ends(Branch(at));
            let (from, to) = (name(from), name(to));
            if Branch(at) == switch {
                netlist.switch(&from, &to, [closed_ohms, open_ohms], closed_seconds);
                continue;
            }
            let Some(&(branch, dynamic, _)) = parts.iter().find(|(branch, ..)| *branch == Branch(at)) else {
                netlist.law(&from, &to, law);
                continue;
            };
            let mut follow = |what: What, vector: String| {
                followed.push((branch, what));
                vectors.push(vector);
            };
            match dynamic {
                Dynamic::Coil { ohms, henries } => {
                    follow(What::Amps, netlist.coil(&from, &to, ohms, henries));
                }
                Dynamic::Motor { ohms, henries, inertia_farads, idle_amps, slope_siemens, .. } => {
                    let turning = [ohms, henries, inertia_farads];
                    let [amps, speed] = netlist.motor(&from, &to, turning, [idle_amps, slope_siemens]);
                    follow(What::Amps, amps);
                    follow(What::SpeedVolts, speed);
                }
                Dynamic::Bulb { filament, seconds } => {
                    follow(What::Ohms, netlist.bulb(&from, &to, &filament, seconds));
                }
            }
        }
        let whole = closed_seconds + open_seconds;
        let (first, most) = (whole * FIRST_STEP, whole / POINTS);
        let command = format!("tran {first:e} {whole:e} 0 {most:e} uic");
        let analyses = vec![Analysis { before: vec![OPTIONS.to_owned()], command, vectors }];
        Self {
            network,
            laws,
            parts,
            switch,
            open: Law::ohms(open_ohms),
            closed_seconds,
            open_seconds,
            followed,
            deck: Deck { netlist, analyses },
        }
    }

    /// What the model finds at each of its own steps: the time, and what is followed.
    fn play(&self) -> Vec<(f64, Vec<f64>)> {
        let mut circuit = Transient::new(&self.network, &self.laws, &self.parts).expect("it can begin");
        let mut points = Vec::new();
        let mut see = |now: &Instant| {
            let values = self.followed.iter().map(|(branch, what)| what.of(now, *branch)).collect();
            points.push((now.seconds, values));
        };
        circuit.advance_seen(self.closed_seconds, &[], &mut see).expect("the feed can be on");
        circuit.set_law(self.switch, self.open).expect("the switch can open");
        circuit.advance_seen(self.open_seconds, &[], &mut see).expect("the feed can be off");
        points
    }
}

/// A part and the time in which it does most of what it does. The first of a feed is a coil or a motor.
fn part(draw: &mut Draw, first: bool) -> (Dynamic, f64) {
    match draw.below(if first { 3 } else { 4 }) {
        // A relay's or a solenoid's coil.
        0 => {
            let (ohms, henries) = (draw.decades(0.3, 2.3), draw.decades(-3.0, -0.3));
            (Dynamic::Coil { ohms, henries }, henries / ohms)
        }
        // A motor; it breaks away where its dry friction is overcome, which is where ngspice's does.
        1 | 2 => {
            let (ohms, henries) = (draw.between(0.3, 4.0), draw.decades(-4.0, -2.3));
            let (inertia_farads, idle_amps) = (draw.decades(-2.5, -0.5), draw.between(0.1, 1.0));
            let slope_siemens = draw.between(0.0, 0.2);
            let motor = Dynamic::Motor {
                ohms,
                henries,
                inertia_farads,
                breakaway_amps: idle_amps,
                idle_amps,
                slope_siemens,
            };
            (motor, (ohms + 0.5) * inertia_farads)
        }
        _ => {
            let (watts, seconds) = draw.one(&[(5.0, 0.02), (21.0, 0.06)]);
            let filament = Filament { rated_volts: 13.5, rated_watts: watts };
            (Dynamic::Bulb { filament, seconds }, seconds)
        }
    }
}

/// The value at an instant, on a straight line between two points of ngspice's.
fn at_instant(seconds: f64, times: &[f64], values: &[f64]) -> f64 {
    let next = times.partition_point(|time| *time <= seconds).clamp(1, times.len() - 1);
    let [(from, low), (to, high)] = [next - 1, next].map(|at| (times[at], values[at]));
    low + (high - low) * (seconds - from) / (to - from)
}

/// Random feeds, on and off again: currents, speeds and resistances at every step of the model's own within .5 % of
/// ngspice.
#[test]
fn ngspice_agrees_about_feeds_that_are_switched_on_and_off() {
    if !can_compare() {
        return;
    }
    let seeds = 1..=if std::env::var_os("CI").is_some() { 300 } else { 60 };
    let feeds: Vec<Feed> = seeds.clone().map(Feed::new).collect();
    let decks: Vec<Deck> = feeds.iter().map(|feed| feed.deck.clone()).collect();
    let (mut compared, mut worst, mut unsolved) = (0, 0.0_f64, 0);
    let mut wrong = Vec::new();
    for ((seed, feed), answer) in seeds.zip(&feeds).zip(run(&decks)) {
        let Some(vectors) = &answer[0] else {
            unsolved += 1;
            continue;
        };
        let (times, values) = vectors.split_first().expect("time comes first");
        // Where it gives up on the way, it still writes what it has.
        let end = feed.closed_seconds + feed.open_seconds;
        if times.last().is_none_or(|last| *last < 0.999_999 * end) {
            unsolved += 1;
            continue;
        }
        for (seconds, found) in feed.play() {
            for (at, found) in found.into_iter().enumerate() {
                let reference = at_instant(seconds, times, &values[at]);
                let greatest = values[at].iter().fold(0.0, |most, value| f64::max(most, value.abs()));
                let allowed = (SHARE * reference.abs()).max(SHARE_OF_GREATEST * greatest);
                let apart = (found - reference).abs() / allowed;
                if apart > 1.0 {
                    wrong.push(format!(
                        "feed {seed}, {:?} at {seconds:e} s: {found:e}, ngspice has {reference:e}",
                        feed.followed[at]
                    ));
                }
                worst = worst.max(apart);
                compared += 1;
            }
        }
    }
    println!(
        "{} feeds, {compared} numbers; {unsolved} that ngspice did not solve; worst {worst:.2} of what is allowed",
        feeds.len()
    );
    let first = &wrong[..wrong.len().min(20)];
    assert!(first.is_empty(), "{} differ, among them:\n{}", wrong.len(), first.join("\n"));
    assert!(unsolved * 100 <= feeds.len(), "ngspice did not solve {unsolved} of {} feeds", feeds.len());
}
