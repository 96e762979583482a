//! The coach: three rungs that speak of the plan's own move, from what was seen and never from what is wrong.

use std::sync::{Arc, LazyLock};

use probeworthy::bench::{Action, Refusal, Rung};
use probeworthy::job::{Choice, Job, NoJournal};
use probeworthy::marks::{coaching_cost, mark, next_rung};
use probeworthy::reasoning::{Advice, Doubt, Inquiry, Means, Move, Stand, advice};
use probeworthy::scenario::{Scenario, load};
use probeworthy::words;

/// Moves within which the plan has to be at its end; it takes three or four.
const MOST_MOVES: usize = 20;

static SCENARIO: LazyLock<Arc<Scenario>> =
    LazyLock::new(|| Arc::new(load("tests/survey/six-faults.scenario.ron").expect("a sound file").scenario));

static FRESH: LazyLock<Inquiry> =
    LazyLock::new(|| Inquiry::new(Arc::clone(&SCENARIO), 2).expect("every vehicle has an operating point"));

fn begin(fault: &str, seed: u64) -> Job {
    Job::new(Arc::clone(&SCENARIO), seed, Choice::Named(fault.to_owned())).expect("of the pool")
}

fn act(line: &str) -> Action {
    words::parse(&SCENARIO.vehicle, line).unwrap_or_else(|error| panic!("{line}: {error}"))
}

fn play(job: &mut Job, line: &str) {
    job.apply(act(line), &mut NoJournal).unwrap_or_else(|error| panic!("{line}: {error}"));
}

/// What reason makes of a job's log.
fn inquiry(job: &Job) -> Inquiry {
    let mut inquiry = FRESH.clone();
    for step in job.log() {
        inquiry.observe(&step.action, &step.outcome).expect("every vehicle has an operating point");
    }
    inquiry
}

/// All rungs on the way to the end of a job, with each fault of the pool: they speak of the plan's move.
#[test]
fn all_rungs_speak_of_the_plans_move() {
    let vehicle = &SCENARIO.vehicle;
    let mut doubts: Vec<Doubt> = Vec::new();
    for (seed, fault) in (3..).zip(&SCENARIO.faults) {
        let mut job = begin(&fault.id, seed);
        let mut inquiry = FRESH.clone();
        let finished = (0..MOST_MOVES).any(|_| {
            let stand = Stand::of_scene(&job.scenario().vehicle, job.scene());
            let [question, kind, test] = Rung::ALL.map(|rung| advice(&inquiry, job.log(), &stand, rung));
            let first = inquiry.plan(&stand).first;
            let planned = match first {
                Some(Move::Test(test)) => inquiry.outlook().menu.acts_from(vehicle, &stand, test),
                Some(Move::Mend(group)) => inquiry.remedies()[group].acts_from(vehicle, &stand),
                None => Vec::new(),
            };
            if planned.is_empty() {
                assert_eq!([question, kind, test], [Advice::Finish, Advice::Finish, Advice::Finish]);
                return true;
            }
            let Advice::Question(doubt) = question else { panic!("{question:?}") };
            let worked =
                job.log().iter().any(|step| matches!(step.action, Action::Key(_) | Action::Press(_)));
            assert!(doubt != Doubt::Complaint || !worked, "it has been tried already");
            doubts.push(doubt);
            let Advice::Kind(means, _) = kind else { panic!("{kind:?}") };
            match (first, test) {
                (Some(Move::Test(_)), Advice::Test { acts, possible, groups, bits, minutes }) => {
                    assert_eq!(acts, planned);
                    assert!(doubt != Doubt::Enough && means != Means::Repair, "{doubt:?} {means:?}");
                    // Six faults and a sound vehicle; what a test tells is at most which of its groups it is.
                    assert!((2..=7).contains(&possible) && groups >= 2, "{possible} in {groups}");
                    assert!(bits > 0.0 && bits <= libm::log2(groups as f64) + 1e-9, "{bits} by {groups}");
                    assert!(minutes > 0.0);
                }
                (Some(Move::Mend(_)), Advice::Repair { acts, probability, minutes, .. }) => {
                    assert_eq!(acts, planned);
                    assert_eq!((doubt, means), (Doubt::Enough, Means::Repair));
                    assert!(probability > 0.0 && probability <= 1.0 && minutes > 0.0);
                }
                (first, test) => panic!("{first:?} against {test:?}"),
            }
            for act in planned {
                let outcome = job.apply(act.clone(), &mut NoJournal).expect("it can be done").outcome.clone();
                inquiry.observe(&act, &outcome).expect("every vehicle has an operating point");
            }
            false
        });
        assert!(finished, "{}: still at it", fault.id);
    }
    doubts.sort_by_key(|doubt| format!("{doubt:?}"));
    doubts.dedup();
    assert!(doubts.len() >= 3, "the question depends on the move: {doubts:?}");
}

/// As long as two jobs with different faults and errors of the meter have shown the same, the coach says the same.
#[test]
fn the_coach_knows_no_more_than_was_seen() {
    let mut jobs = [begin("latch-feed.open.bellows", 5), begin("latch.motor-open", 77)];
    for line in ["key release", "lever", "fuse f1 look", "lid up"] {
        for job in &mut jobs {
            play(job, line);
        }
        let shown = jobs.each_ref().map(|job| {
            let outcome = &job.log().last().expect("an act").outcome;
            let seen =
                outcome.seen.iter().map(|one| words::seen(words::Texts::english(), &SCENARIO.vehicle, one));
            let heard =
                outcome.heard.iter().map(|one| words::heard(words::Texts::english(), &SCENARIO.vehicle, one));
            (seen.chain(heard).collect::<Vec<_>>(), outcome.refused)
        });
        assert_eq!(shown[0], shown[1], "{line} tells them apart");
        let said = jobs.each_ref().map(|job| {
            let inquiry = inquiry(job);
            Rung::ALL.map(|rung| {
                advice(&inquiry, job.log(), &Stand::of_scene(&job.scenario().vehicle, job.scene()), rung)
            })
        });
        assert_eq!(said[0], said[1], "after {line}");
    }
}

/// What a job is worth does not depend on what was marked on the suspicion sheet meanwhile.
#[test]
fn the_sheet_earns_and_costs_nothing() {
    let acts = [
        "cautions",
        "key release",
        "lever",
        "tape bellows",
        "name latch-feed open at bellows",
        "splice latch-feed bellows",
        "lid shut",
        "key release",
        "hand in",
    ];
    let [plain, marked] = [false, true].map(|marks| {
        let mut job = begin("latch-feed.open.bellows", 5);
        for line in acts {
            if marks {
                play(&mut job, "suspect latch-feed open at bellows 40%");
                play(&mut job, "suspect latch open 20%");
            }
            play(&mut job, line);
        }
        let marks = mark(&job, &FRESH).expect("it can be replayed").expect("it has been handed in");
        (marks.total, marks.account.regret_minutes(), format!("{:?}", marks.lines))
    });
    assert_eq!(plain, marked);
    assert!(plain.0 > 60.0, "the job was a good one: {}", plain.2);
}

#[test]
fn a_rung_costs_once_until_something_is_done() {
    let mut job = begin("f1.blown", 1);
    let mut told = Vec::new();
    for line in [
        "coach 1",
        "coach 1",
        "suspect f1 blown 30%",
        "coach 2",
        "coach 1",
        "look",
        "coach 3",
        "coach 2",
        "key release",
        "coach 1",
        "hand in",
        "coach 3",
    ] {
        play(&mut job, line);
        told.push((coaching_cost(&job), next_rung(&job).map(Rung::number)));
    }
    let (one, two, three) = (Some(1), Some(2), Some(3));
    assert_eq!(
        told,
        [
            (1.0, two),
            (1.0, two),
            (1.0, two),
            (3.0, three),
            (3.0, three),
            (3.0, one),
            (7.0, None),
            (7.0, None),
            (7.0, one),
            (8.0, two),
            (8.0, one),
            (8.0, one),
        ]
    );
    assert_eq!(job.log().last().map(|step| step.outcome.refused), Some(Some(Refusal::HandedIn)));
    assert!(job.log().iter().filter(|step| step.action.is_aside()).all(|step| step.outcome.minutes == 0.0));
}

#[test]
fn a_scenario_may_have_no_coach() {
    let alone = Scenario { coaching: false, ..(**SCENARIO).clone() };
    let mut job = Job::new(Arc::new(alone), 1, Choice::Drawn).expect("a job");
    let step = job.apply(Action::Coach(Rung::Test), &mut NoJournal).expect("a step").clone();
    assert_eq!(step.outcome.refused, Some(Refusal::NoCoach));
    assert_eq!((coaching_cost(&job), step.minutes), (0.0, 0.0));
}
