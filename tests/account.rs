//! What each stretch of a job was worth, over scenarios with few faults.

use std::sync::{Arc, LazyLock};

use probeworthy::job::{Choice, Job, NoJournal};
use probeworthy::reasoning::{Account, Charge, Inquiry, Move, Stand};
use probeworthy::scenario::{Scenario, load};
use probeworthy::words;

static SIX: LazyLock<(Arc<Scenario>, Inquiry)> = LazyLock::new(|| {
    let scenario = Arc::new(load("tests/survey/six-faults.scenario.ron").expect("a sound file").scenario);
    let inquiry = Inquiry::new(Arc::clone(&scenario), 2).expect("every vehicle has an operating point");
    (scenario, inquiry)
});

/// A job played from lines, and how the vehicle stood before each act and at the end.
fn play(fault: &str, lines: &str) -> (Job, Vec<Stand>) {
    let mut job = Job::new(Arc::clone(&SIX.0), 3, Choice::Named(fault.to_owned())).expect("of the pool");
    let mut stands = vec![Stand::of_scene(job.scene())];
    for line in lines.lines().map(str::trim).filter(|line| !line.is_empty()) {
        let action = words::parse(&SIX.0.vehicle, line).unwrap_or_else(|error| panic!("{line}: {error}"));
        job.apply(action, &mut NoJournal).unwrap_or_else(|error| panic!("{line}: {error}"));
        stands.push(Stand::of_scene(job.scene()));
    }
    (job, stands)
}

fn account(fault: &str, lines: &str, settled: Option<usize>) -> Account {
    let (job, stands) = play(fault, lines);
    let account =
        Account::of(&SIX.1, job.log(), &stands, settled).expect("every vehicle has an operating point");
    for one in &account.stretches {
        println!(
            "{:?} {:?} {:.1} min, expected {:.3} told {:.3} regret {:.2} possible {} bits {:.2} better {:?}",
            job.log()[one.acts.clone()]
                .iter()
                .map(|s| words::text(&SIX.0.vehicle, &s.action))
                .collect::<Vec<_>>(),
            one.charge,
            one.minutes,
            one.expected_bits,
            one.told_bits,
            one.regret_minutes,
            one.after.possible,
            one.after.bits,
            one.better.as_ref().map(|b| b
                .acts
                .iter()
                .map(|a| words::text(&SIX.0.vehicle, a))
                .collect::<Vec<_>>())
        );
    }
    println!(
        "planned {} bound {} exact {} regret {}",
        account.planned_minutes,
        account.lower_bound_minutes,
        account.exact,
        account.regret_minutes()
    );
    account
}

#[test]
fn look() {
    let s = &SIX.0;
    for f in &s.faults {
        println!("{} {}", f.id, f.weight);
    }
    account(
        &s.faults[0].id,
        "cautions\nkey release\nfuse f1 look\nlever\nlid up\nprop\ntake lid-trim off\nmeter volts\nblack body\nred latch.1\ncapture on\nkey release\nkey release\nunplug latch\nfit latch\nlid shut\nkey release",
        None,
    );
}
