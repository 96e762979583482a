//! What each stretch of a job was worth, and what the marks make of it, over a scenario with few faults.

use std::collections::BTreeMap;
use std::sync::{Arc, LazyLock};

use probeworthy::job::{Choice, Job, NoJournal};
use probeworthy::learners::{self, Learner};
use probeworthy::marks::{Debrief, Marks, Part, mark};
use probeworthy::reasoning::{Charge, Inquiry, Stand};
use probeworthy::scenario::{Scenario, load};
use probeworthy::words;

static SIX: LazyLock<(Arc<Scenario>, Inquiry)> = LazyLock::new(|| {
    let scenario = Arc::new(load("tests/survey/six-faults.scenario.ron").expect("a sound file").scenario);
    let inquiry = Inquiry::new(Arc::clone(&scenario), 2).expect("every vehicle has an operating point");
    (scenario, inquiry)
});

const FEED: &str = "latch-feed.open.bellows";
/// What closes a job after a repair.
const CLOSE: &str = "red off\nblack off\nmeter off\nput lid-trim back\nlid shut\nkey release\nhand in";

fn begin(fault: &str) -> Job {
    Job::new(Arc::clone(&SIX.0), 3, Choice::Named(fault.to_owned())).expect("of the pool")
}

fn play(job: &mut Job, lines: &str) {
    for line in lines.lines() {
        let action = words::parse(&SIX.0.vehicle, line).unwrap_or_else(|error| panic!("{line}: {error}"));
        job.apply(action, &mut NoJournal).unwrap_or_else(|error| panic!("{line}: {error}"));
    }
}

fn marks(job: &Job) -> Marks {
    mark(job, &SIX.1).expect("it can be replayed").expect("it has been handed in")
}

fn played(fault: &str, lines: &str) -> Marks {
    let mut job = begin(fault);
    play(&mut job, lines);
    marks(&job)
}

fn share(marks: &Marks, part: Part) -> f64 {
    let line = marks.lines.iter().find(|line| line.part == part).expect("every part has its line");
    line.marks / line.out_of
}

fn charges(marks: &Marks) -> Vec<Charge> {
    marks.account.stretches.iter().map(|stretch| stretch.charge).collect()
}

/// Does what the plan says until nothing is left to be done.
fn follow_the_plan(job: &mut Job) {
    let mut inquiry = SIX.1.clone();
    for step in job.log() {
        inquiry.observe(&step.action, &step.outcome).expect("every vehicle has an operating point");
    }
    for _ in 0..20 {
        let stand = Stand::of_scene(&SIX.0.vehicle, job.scene());
        let Some(next) = inquiry.plan(&stand).first else { break };
        let acts = inquiry.acts(&stand, next);
        for act in &acts {
            let outcome = job.apply(act.clone(), &mut NoJournal).expect("it can be done").outcome.clone();
            inquiry.observe(act, &outcome).expect("every vehicle has an operating point");
        }
        if acts.is_empty() {
            break;
        }
    }
}

/// Regret of the plan's own choice is 0: whoever follows it, whatever is wrong, loses nothing.
#[test]
fn who_follows_the_plan_loses_nothing() {
    for fault in &SIX.0.faults {
        let mut job = begin(&fault.id);
        follow_the_plan(&mut job);
        play(&mut job, "name latch open\nhand in");
        let marks = marks(&job);
        assert!(marks.account.exact);
        for stretch in &marks.account.stretches {
            let done: Vec<String> =
                job.log().iter().map(|step| words::text(&SIX.0.vehicle, &step.action)).collect();
            assert!(stretch.regret_minutes <= 0.1, "{} {done:?}: {stretch:#?}", fault.id);
        }
    }
}

/// A part that was fitted first and happened to be the right one is a hunch all the same.
#[test]
fn luck_lifts_no_reasoning() {
    let lucky = played(
        "latch.motor-open",
        &format!(
            "cautions\nlever\nlid up\nprop\ntake lid-trim off\nunplug latch\nfit latch\nplug latch\nname latch open 90%\n{CLOSE}"
        ),
    );
    let tested = played(
        FEED,
        &format!(
            "cautions\nkey release\nfuse f1 look\nlever\nlid up\nprop\ntape bellows\nname latch-feed open at bellows 95%\nsplice latch-feed bellows\n{CLOSE}"
        ),
    );
    assert!(charges(&lucky).iter().any(|charge| matches!(charge, Charge::Repair { odds } if *odds < 0.5)));
    assert_eq!(share(&lucky, Part::Proof), share(&tested, Part::Proof), "both are mended");
    assert!(share(&lucky, Part::Reasoning) < 0.5 * share(&tested, Part::Reasoning), "{:?}", lucky.lines);
    assert!(share(&tested, Part::Reasoning) > 0.8, "{:?}", tested.lines);
}

/// A swap costs the same whether it mended or not: what chance made of it comes after it.
#[test]
fn a_swap_is_charged_alike_right_or_wrong() {
    // By what had been done and what the evidence then made of the swap: the regret, and whether it mended.
    let mut charged: BTreeMap<String, Vec<(f64, bool)>> = BTreeMap::new();
    for fault in &SIX.0.faults {
        let job = learners::play(Learner::Swapper, 0.0, &SIX.1, begin(&fault.id)).expect("it can be played");
        let account = marks(&job).account;
        let last = account.stretches.iter().rposition(|one| matches!(one.charge, Charge::Repair { .. }));
        for (at, stretch) in account.stretches.iter().enumerate() {
            let Charge::Repair { odds } = stretch.charge else { continue };
            let done: Vec<String> = job.log()[..stretch.acts.end]
                .iter()
                .map(|step| words::text(&SIX.0.vehicle, &step.action))
                .collect();
            let key = format!("{odds:.9} {done:?}");
            charged.entry(key).or_default().push((stretch.regret_minutes, Some(at) == last));
        }
    }
    let both = charged.values().filter(|all| all.iter().any(|one| one.1) && all.iter().any(|one| !one.1));
    let both: Vec<_> = both.collect();
    assert!(!both.is_empty(), "no swap was right in one job and wrong in another");
    for all in both {
        assert!(all.iter().all(|one| (one.0 - all[0].0).abs() < 1e-9), "{all:?}");
        assert!(all[0].0 > 0.5, "a swap before the evidence holds it loses something: {all:?}");
    }
}

/// Who swaps first and then follows the plan is marked no better where the swap was right than where it was wrong, as far
/// as what was seen before the swap made it as likely.
#[test]
fn a_lucky_swap_is_marked_no_better() {
    let swap = "lever\nlid up\nprop\ntake lid-trim off\nfit latch";
    let swapped = |fault: &str| {
        let mut job = begin(fault);
        play(&mut job, swap);
        follow_the_plan(&mut job);
        play(&mut job, "hand in");
        let account = marks(&job).account;
        let odds = account.stretches.iter().find_map(|one| match one.charge {
            Charge::Repair { odds } => Some(odds),
            _ => None,
        });
        (odds.expect("the swap is charged"), account.well_spent())
    };
    let (odds, lucky) = swapped("latch.motor-open");
    let mut alike = 0;
    for fault in SIX.0.faults.iter().filter(|fault| fault.id != "latch.motor-open") {
        let (here, unlucky) = swapped(&fault.id);
        if (here - odds).abs() < 1e-9 {
            alike += 1;
            assert!(lucky < unlucky, "{}: {unlucky}, lucky {lucky}", fault.id);
        } else {
            // What was seen with the lid up had spoken against the latch.
            assert!(here < odds, "{}: odds {here}", fault.id);
        }
    }
    assert!(alike >= 2, "too few jobs in which as much spoke for the swap");
    assert!(lucky < 0.25, "{lucky}");
}

/// A name that the evidence does not hold earns little, right or wrong.
#[test]
fn a_lucky_name_earns_little() {
    let (early, held) = (
        format!(
            "cautions\nkey release\nname latch-feed open at bellows 90%\nlever\nlid up\nprop\nsplice latch-feed bellows\n{CLOSE}"
        ),
        format!(
            "cautions\nkey release\nfuse f1 look\nlever\nlid up\nprop\ntape bellows\nname latch-feed open at bellows 90%\nsplice latch-feed bellows\n{CLOSE}"
        ),
    );
    let (early, held) = (played(FEED, &early), played(FEED, &held));
    assert!(early.account.namings[0].1 < 0.6 && held.account.namings[0].1 > 0.9);
    assert!(share(&early, Part::Diagnosis) < 0.65 * share(&held, Part::Diagnosis));
    assert_eq!(share(&held, Part::Diagnosis), 1.0);
}

/// Brief checks and acts of safety are free; the same again with nothing changed is not.
#[test]
fn what_is_free_and_what_is_not() {
    let marks =
        played(FEED, "cautions\nglasses\nask when\nkey release\nfuse f1 look\nlook\nmeter prove\nhand in");
    assert!(charges(&marks).iter().all(|charge| *charge == Charge::Brief), "{:?}", charges(&marks));
    assert_eq!(marks.account.regret_minutes(), 0.0);
    let marks = played(FEED, "key release\nkey release\nkey release\nhand in");
    assert_eq!(charges(&marks), [Charge::Brief, Charge::Again, Charge::Again]);
    assert!((marks.account.regret_minutes() - 0.4).abs() < 1e-9, "{}", marks.account.regret_minutes());
    // A press that a meter watches is another test.
    let marks = played(
        FEED,
        "lever\nlid up\nprop\ntake lid-trim off\nmeter volts\nblack body\nred latch.1\ncapture on\nkey release\nhand in",
    );
    assert_eq!(charges(&marks), [Charge::Test, Charge::Test], "{:#?}", marks.account.stretches);
}

/// To force a latch is charged where the lever has opened it before.
#[test]
fn a_latch_is_forced_for_nothing_that_the_lever_opens() {
    let marks = played(FEED, "lever\nlid shut\nforce latch\nhand in");
    let regret = marks.account.regret_minutes();
    assert!(regret > 20.0, "{regret} {:?}", charges(&marks));
}

/// Nothing done, handed in at once, and a hundred tests: marks in every case, parts that sum to the total.
#[test]
fn strange_jobs_are_marked_sensibly() {
    let hundred = "key release\n".repeat(100) + "hand in";
    for lines in ["hand in", "refer", "name latch open\nhand in", &hundred] {
        let marks = played(FEED, lines);
        let sum: f64 = marks.lines.iter().map(|line| line.marks).sum();
        assert!(
            (sum - marks.total).abs() < 1e-9 && (0.0..=35.0).contains(&marks.total),
            "{lines}: {marks:?}"
        );
        let why = marks.lines.iter().map(|one| words::why(words::Texts::english(), one)).collect::<Vec<_>>();
        assert!(why.iter().all(|why| !why.is_empty() && !why.contains("NaN")), "{why:?}");
    }
    assert_eq!(played(FEED, "hand in").total, 0.0);
}

/// The debrief goes the plan's way to the same fault, and its page is whole.
#[test]
fn the_debrief_holds_both_ways() {
    let mut job = begin(FEED);
    play(
        &mut job,
        &format!(
            "key release\nlever\nlid up\nprop\ntape bellows\nname latch-feed open at bellows\nsplice latch-feed bellows\n{CLOSE}"
        ),
    );
    let marks = marks(&job);
    let debrief = Debrief::of(&job, &SIX.1, &marks).expect("the plan can be followed").expect("handed in");
    let last = debrief.plan.last().expect("a beginning at least");
    assert!(last.mends && last.bits < debrief.plan[0].bits, "{:?}", debrief.plan);
    let text = words::debrief_text(words::Texts::english(), &job, &marks, &debrief);
    let page = words::debrief_html(&job, &marks, &debrief);
    for words in [
        "open the tape at the bellows over the hinge",
        "Splice latch feed (GN/RD) at the bellows over the hinge",
        "Practise next",
    ] {
        assert!(text.contains(words) && page.contains(words), "{words}\n{text}");
    }
    // What a browser reads as one tree of elements: every `<td>` and `<path>` in its place.
    let body = page.split_once("<body>").expect("a body").1;
    for tag in ["table", "tr", "td", "ul", "li", "details", "svg", "text", "code"] {
        let (open, close) = (
            body.matches(&format!("<{tag}>")).count() + body.matches(&format!("<{tag} ")).count(),
            body.matches(&format!("</{tag}>")).count(),
        );
        assert_eq!(open, close, "{tag}");
    }
    assert!(!page.contains("http"), "nothing from outside");
}

/// The marks are the same on any number of threads.
#[test]
fn threads_change_no_mark() {
    let lines = format!(
        "cautions\nkey release\nfuse f1 look\nlever\nlid up\nprop\ntape bellows\nunplug latch\nfit latch\nname latch open\n{CLOSE}"
    );
    let mut job = begin(FEED);
    play(&mut job, &lines);
    let alone = Inquiry::new(Arc::clone(&SIX.0), 1).expect("every vehicle has an operating point");
    assert_eq!(mark(&job, &alone).expect("it can be replayed"), Some(marks(&job)));
}
