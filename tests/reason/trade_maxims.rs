//! What the trade says of choosing a test, held against what reason makes of small pools. All of it is common practice, no
//! source; none of it is written into the program.

use std::sync::Arc;

use probeworthy::bench::{Action, FuseWork, Repair};
use probeworthy::job::{Choice, Job, NoJournal};
use probeworthy::reasoning::{
    Candidate, Column, Inquiry, MOST_EXPANSIONS, Move, Node, Planner, Problem, Stand, SuspectKind, Test,
    Worth,
};
use probeworthy::scenario::load;
use probeworthy::vehicle::{PartId, Point, StationId, Vehicle};
use probeworthy::words;

/// Nodes within which every plan of these pools is at its end.
const MOST_NODES: usize = 2000;
const ROUNDING: f64 = 1e-9;

/// A choice before a technician, and what reason knows of it.
struct Before {
    inquiry: Inquiry,
    stand: Stand,
    problem: Problem,
    setup: usize,
}

impl Before {
    /// The vehicle of one of these tests' pools as it comes in.
    fn anything(name: &str) -> Self {
        let file = format!("{}/tests/survey/{name}.scenario.ron", env!("CARGO_MANIFEST_DIR"));
        let scenario = match load(&file) {
            Ok(loaded) => loaded.scenario,
            Err(why) => panic!("{why}"),
        };
        let inquiry = Inquiry::new(Arc::new(scenario), 2).expect("every vehicle has an operating point");
        let stand = inquiry.outlook().menu.stands[0].clone();
        Self::at(inquiry, stand)
    }

    fn at(inquiry: Inquiry, stand: Stand) -> Self {
        let (problem, setup) = inquiry.problem(&stand);
        Self { inquiry, stand, problem, setup }
    }

    /// What is before him after some commands on the vehicle with a fault of the pool.
    fn after(self, fault: usize, commands: &[&str]) -> Self {
        let mut inquiry = self.inquiry;
        let scenario = Arc::clone(inquiry.scenario());
        let named = Choice::Named(scenario.faults[fault].id.clone());
        let mut job = Job::new(Arc::clone(&scenario), 1, named).expect("of the pool");
        for command in commands {
            let act = words::parse(&scenario.vehicle, command).expect("a command");
            let outcome = job.apply(act.clone(), &mut NoJournal).expect("it can be done").outcome.clone();
            inquiry.observe(&act, &outcome).expect("every vehicle has an operating point");
        }
        let stand = Stand::of_scene(&job.scenario().vehicle, job.scene());
        Self::at(inquiry, stand)
    }

    fn vehicle(&self) -> &Vehicle {
        &self.inquiry.scenario().vehicle
    }

    fn tests(&self) -> &[Test] {
        &self.inquiry.outlook().menu.tests
    }

    fn stand_of(&self, test: &Test) -> &Stand {
        &self.inquiry.outlook().menu.stands[test.stand]
    }

    fn part(&self, id: &str) -> PartId {
        let named = self.vehicle().parts().find(|(_, part)| part.id == id);
        named.map(|(part, _)| part).unwrap_or_else(|| panic!("the vehicle has no {id}"))
    }

    /// A test of the menu by itself, whether or not a cheaper one that tells the same stands for it.
    fn candidate(&self, at: usize) -> Candidate {
        let foreseen = &self.inquiry.outlook().foreseen[at];
        let rows = (0..self.problem.weights.len()).map(|suspect| foreseen.of(suspect).collect()).collect();
        let test = &self.tests()[at];
        let (setup, minutes) = (test.stand, test.minutes);
        Candidate { setup, minutes, column: Column::Chances(rows), stands_for: 1, origin: at }
    }

    /// The tests of the menu that are of a kind, each with its position and what it is worth.
    fn of_kind(&self, counts: impl Fn(&Test) -> bool) -> Vec<(usize, Worth)> {
        let which: Vec<usize> = (0..self.tests().len()).filter(|&at| counts(&self.tests()[at])).collect();
        assert!(!which.is_empty(), "the menu has no such test");
        let tests = which.iter().map(|&at| self.candidate(at)).collect();
        let worths = Problem { tests, ..self.problem.clone() }.worths(self.setup);
        which.into_iter().zip(worths).collect()
    }

    /// The most bits a minute that a test of a kind gives.
    fn best_rate(&self, counts: impl Fn(&Test) -> bool) -> f64 {
        self.of_kind(counts).iter().map(|(_, worth)| worth.rate()).fold(0.0, f64::max)
    }

    fn planner(&self) -> Planner<'_> {
        Planner::new(&self.problem, MOST_EXPANSIONS)
    }

    /// Whether a panel that is trim, and no way into the load space, is off.
    fn trim_off(&self, stand: &Stand) -> bool {
        stand.panels_off.iter().any(|&panel| self.vehicle().panel(panel).opens.is_none())
    }

    /// How a vehicle has to stand for a move.
    fn stand_for(&self, next: Move) -> &Stand {
        match next {
            Move::Test(at) => self.stand_of(&self.tests()[self.problem.tests[at].origin]),
            Move::Mend(group) => &self.inquiry.remedies()[group].stand,
        }
    }

    /// The probability of some faults of the pool.
    fn probability(&self, faults: &[usize]) -> f64 {
        let shares = self.inquiry.probabilities();
        let list = self.inquiry.suspects().list().iter().zip(shares);
        list.filter(|(one, _)| matches!(one.kind, SuspectKind::Pool(at) if faults.contains(&at)))
            .map(|(_, share)| share)
            .sum()
    }

    fn text(&self, test: usize) -> String {
        let acts = self.inquiry.outlook().menu.acts_from(self.vehicle(), &self.stand, test);
        acts.iter().map(|act| words::text(self.vehicle(), act)).collect::<Vec<_>>().join("; ")
    }
}

/// All nodes of a plan.
fn nodes(root: &Node) -> Vec<&Node> {
    let mut all = vec![root];
    let mut at = 0;
    while at < all.len() {
        let node = all[at];
        all.extend(node.outcomes.iter().map(|(_, after)| after));
        at += 1;
    }
    all
}

/// The setting that disables a function and its fuse are looked at before any trim is taken off.
#[test]
fn setting_and_fuse_come_before_trim() {
    let before = Before::anything("behind-trim");
    let [setting, fuse] = [0, 1];
    let behind_trim = before.best_rate(|test| before.trim_off(before.stand_of(test)));
    let at_the_fuse = before.best_rate(|test| matches!(test.acts[..], [Action::Fuse(_, FuseWork::Look)]));
    let by_the_key = before.best_rate(|test| matches!(test.acts[..], [Action::Key(_)]));
    assert!(
        at_the_fuse > behind_trim && by_the_key > behind_trim,
        "{at_the_fuse} {by_the_key} {behind_trim}"
    );

    let tree = before.planner().tree(before.setup, MOST_NODES);
    let mut behind = 0;
    for node in nodes(&tree) {
        let Some(next) = node.next else { continue };
        if before.trim_off(before.stand_for(next)) {
            behind += 1;
            let open: Vec<usize> = node.left.iter().map(|(at, _)| *at).collect();
            assert!(!open.contains(&setting) && !open.contains(&fuse), "trim comes off with {open:?} open");
        }
    }
    assert!(behind > 0, "nothing is behind trim");
}

/// A load that shares a conductor with the one that fails, and follows its switch, tells more a minute than any plug that
/// is pulled: it shows that the conductor is whole as far as they share it, with nothing taken apart.
#[test]
fn a_load_that_shares_the_conductor_is_watched_first() {
    let before = Before::anything("shared-ground");
    let lights = before.part("lights");
    let rest = before.stand.clone();
    let follows = |test: &Test| {
        test.acts == [Action::Switch(lights, true)]
            && before.inquiry.outlook().menu.stands[test.stand] == rest
    };
    let watching = before.best_rate(follows);
    let unplugging = before.best_rate(|test| !before.stand_of(test).unplugged.is_empty());
    assert!(watching > 2.0 * unplugging, "{watching} against {unplugging} bits a minute");

    // It tells what they share, the stud, from what is the latch's own.
    let (at, _) = before.of_kind(follows)[0];
    let class = |suspect: usize| before.inquiry.outlook().foreseen[at].of(suspect).collect::<Vec<_>>();
    let [stud_off, stud_crusted, ground, terminal, feed] = [0, 1, 2, 3, 4].map(class);
    assert!(stud_off != ground && stud_crusted != ground && ground == terminal && ground == feed);
}

/// Minutes of search, times probability, until one of the lengths of a row is left: `which` says where to measure next
/// among the lengths that are left, at the end of which of them.
fn search_minutes(
    lengths: std::ops::Range<usize>,
    share: f64,
    minutes: f64,
    which: &dyn Fn(usize) -> usize,
) -> f64 {
    if lengths.len() <= 1 {
        return 0.0;
    }
    let cut = lengths.start + which(lengths.len());
    let here = share * lengths.len() as f64 * minutes;
    here + search_minutes(lengths.start..cut, share, minutes, which)
        + search_minutes(cut..lengths.end, share, minutes, which)
}

/// A long conductor is halved, not walked along from one end, where a measurement takes as long at each place.
#[test]
fn a_long_conductor_is_halved() {
    const LENGTHS: usize = 8;
    let before = Before::anything("row");
    let vehicle = before.vehicle();
    let volts_at = |joint: usize| {
        let id = format!("joint-{joint}");
        let connector = vehicle.connectors.iter().position(|one| one.id == id).expect("seven of them");
        let on_it = |act: &Action| matches!(act, Action::Probe(_, Some(Point::Cavity(at, _, _))) if at.index() == connector);
        let found = before.of_kind(|test| {
            test.acts.len() == 3 && test.acts.iter().any(on_it) && before.stand_of(test) == &before.stand
        });
        found[0].1
    };
    let joints: Vec<Worth> = (1..LENGTHS).map(volts_at).collect();
    for joint in &joints {
        assert!((joint.minutes - joints[0].minutes).abs() < ROUNDING, "as long at each: {joints:?}");
    }
    // The nearer to the middle, the more it tells.
    let bits: Vec<f64> = joints.iter().map(|joint| joint.bits).collect();
    assert!(
        bits[..4].is_sorted() && bits[3..].is_sorted_by(|a, b| a >= b) && bits[3] > 1.5 * bits[0],
        "{bits:?}"
    );

    // Its own plan measures three times, each time in the middle of what is left.
    let mut planner = before.planner();
    let tree = planner.tree(before.setup, MOST_NODES);
    let broken = |node: &Node| node.left.iter().filter(|(at, _)| *at < LENGTHS).count();
    for node in nodes(&tree).into_iter().filter(|node| broken(node) > 1) {
        assert!(matches!(node.next, Some(Move::Test(_))), "{node:?}");
        let halves: Vec<usize> = node.outcomes.iter().map(|(_, after)| broken(after)).collect();
        assert_eq!(halves, [broken(node) / 2; 2], "{node:?}");
    }
    let found: f64 = nodes(&tree).iter().filter(|node| broken(node) > 1).map(|node| node.probability).sum();
    assert!(found > 2.9, "three measurements for nearly all: {found}");

    let (share, minutes) = (1.0 / LENGTHS as f64, joints[0].minutes);
    let walking = search_minutes(0..LENGTHS, share, minutes, &|_| 1);
    let halving = search_minutes(0..LENGTHS, share, minutes, &|left| left / 2);
    // By hand: 3 measurements, and (1 + 2 + .. + 7 + 7)/8.
    assert!((halving - 3.0 * minutes).abs() < ROUNDING && (walking - 4.375 * minutes).abs() < ROUNDING);
    let repair: f64 = before.problem.cost(before.setup, Move::Mend(before.inquiry.groups()[0])).0;
    let plan = planner.plan(before.setup).minutes;
    assert!(
        plan <= halving + repair && halving + repair < walking + repair,
        "{plan} {halving} {walking} {repair}"
    );
}

/// Before a dear part is fitted, one test more that can speak against it is never bad.
#[test]
fn a_dear_part_is_confirmed_first() {
    let before = Before::anything("dear-part");
    let dear = before.inquiry.groups()[0];
    let plan = before.planner().plan(before.setup);
    let bet = before.planner().minutes_of(before.setup, Move::Mend(dear));
    assert!(before.problem.weights[0] > 0.8, "the part is by far the likeliest");
    assert!(
        matches!(plan.first, Some(Move::Test(_))) && bet > plan.minutes + 30.0,
        "{plan:?}, the bet {bet}"
    );

    // No test that is to be had makes the plan worse, and without any there is the bet alone.
    for left_out in 0..before.problem.tests.len() {
        let mut without = before.problem.clone();
        without.tests.remove(left_out);
        let minutes = Planner::new(&without, MOST_EXPANSIONS).plan(before.setup).minutes;
        assert!(plan.minutes <= minutes + ROUNDING, "better without {left_out}");
    }
    let without = Problem { tests: Vec::new(), ..before.problem.clone() };
    let minutes = Planner::new(&without, MOST_EXPANSIONS).plan(before.setup).minutes;
    assert!(minutes > plan.minutes + 30.0, "{minutes} without tests, {} with them", plan.minutes);

    // Once it is all but certain, confirming it at its own pins is lost time, but no more than it takes.
    let after = before.after(0, &["key release", "lever", "lid up", "press pad"]);
    assert!(after.probability(&[0]) > 0.9, "{}", after.probability(&[0]));
    let plan = after.planner().plan(after.setup);
    for (at, worth) in after.of_kind(|test| test.acts.iter().any(|act| matches!(act, Action::Probe(..)))) {
        let mut with = after.problem.clone();
        with.tests.push(after.candidate(at));
        let test = Move::Test(with.tests.len() - 1);
        let regret = Planner::new(&with, MOST_EXPANSIONS).minutes_of(after.setup, test) - plan.minutes;
        let back = with.ways[with.tests[with.tests.len() - 1].setup][after.setup];
        assert!(
            regret <= worth.minutes + back + ROUNDING,
            "{}: {regret} of {}",
            after.text(at),
            worth.minutes
        );
        assert!(regret < 0.1 * plan.minutes, "{}: {regret} of {}", after.text(at), plan.minutes);
    }
}

/// Where the symptom heeds the lid's position, the hinge is the next place to look.
#[test]
fn the_hinge_comes_next_where_the_lid_moves_the_symptom() {
    let before = Before::anything("lid-moves-it");
    let at_the_hinge = [0, 1, 2, 3];
    assert!(before.probability(&at_the_hinge) < 0.2, "nothing speaks for the hinge at first");
    // Shut it stays shut; up, with the claw closed by hand, the same key opens it.
    let after = before.after(1, &["key release", "lever", "lid up", "claw close", "key release"]);
    assert!(after.probability(&at_the_hinge) > 0.9, "{}", after.probability(&at_the_hinge));

    let hinge = |station: StationId| after.vehicle().station(station).moves >= 0.4;
    let place = |test: &Test| {
        test.acts.iter().find_map(|act| match act {
            Action::OpenTape(station) | Action::Flex(station) => Some(*station),
            _ => None,
        })
    };
    let there = after.best_rate(|test| place(test).is_some_and(hinge));
    let elsewhere = after.best_rate(|test| place(test).is_some_and(|station| !hinge(station)));
    let unplugged =
        after.best_rate(|test| !after.stand_of(test).unplugged.is_empty() && place(test).is_none());
    assert!(there > 2.0 * elsewhere && there > 2.0 * unplugged, "{there} {elsewhere} {unplugged}");

    // The plan moves the lid or goes to the hinge, and what it mends first is there in nearly all jobs.
    let tree = after.planner().tree(after.setup, MOST_NODES);
    let first = tree.next.expect("something is to be done");
    assert!(!after.trim_off(after.stand_for(first)), "{first:?}");
    let mends = |node: &&Node| match node.next {
        Some(Move::Mend(group)) => after.inquiry.remedies()[group]
            .acts
            .iter()
            .any(|act| matches!(act, Action::Repair(Repair::Conductor(_, station, _)) if hinge(*station))),
        _ => false,
    };
    let mended: f64 = nodes(&tree).into_iter().filter(mends).map(|node| node.probability).sum();
    assert!(mended > 0.9, "{mended}");
}
