//! One job as reason sees it: whoever follows the plan and holds what shows against it comes to the repair that is needed.

use std::sync::Arc;

use probeworthy::bench::Action;
use probeworthy::job::{Choice, Job, NoJournal};
use probeworthy::reasoning::{Inquiry, Move, Stand, SuspectKind};
use probeworthy::scenario::load;

/// Moves within which the plan has to be at its end; it takes three or four.
const MOST_MOVES: usize = 20;

fn apply(job: &mut Job, inquiry: &mut Inquiry, acts: Vec<Action>) {
    for act in acts {
        let outcome = job.apply(act.clone(), &mut NoJournal).expect("the act can be done").outcome.clone();
        inquiry.observe(&act, &outcome).expect("every vehicle has an operating point");
    }
}

#[test]
fn the_plan_leads_to_the_repair_that_is_needed() {
    let file = "tests/survey/six-faults.scenario.ron";
    let scenario = Arc::new(load(file).expect("a sound file").scenario);
    let vehicle = &scenario.vehicle;
    let fresh = Inquiry::new(Arc::clone(&scenario), 2).expect("every vehicle has an operating point");
    for (at, fault) in scenario.faults.iter().enumerate() {
        let named = Choice::Named(fault.id.clone());
        let mut job = Job::new(Arc::clone(&scenario), at as u64, named).expect("of the pool");
        let mut inquiry = fresh.clone();
        let suspect = inquiry.suspects().list().iter().position(|one| one.kind == SuspectKind::Pool(at));
        let needed = inquiry.groups()[suspect.expect("a suspect for every fault")];
        let before = (inquiry.bits(), inquiry.probability_of(&fault.diagnosis));
        let mended = (0..MOST_MOVES).any(|_| {
            let stand = Stand::of_scene(vehicle, job.scene());
            match inquiry.plan(&stand).first {
                Some(Move::Mend(group)) if group == needed => true,
                Some(Move::Mend(group)) => {
                    let acts = inquiry.remedies()[group].acts_from(vehicle, &stand);
                    apply(&mut job, &mut inquiry, acts);
                    false
                }
                Some(Move::Test(test)) => {
                    let acts = inquiry.outlook().menu.acts_from(vehicle, &stand, test);
                    apply(&mut job, &mut inquiry, acts);
                    false
                }
                None => false,
            }
        });
        let now = inquiry.probability_of(&fault.diagnosis);
        assert!(mended, "{}: not mended, thought {now} likely", fault.id);
        assert!(now > before.1 && inquiry.bits() < before.0, "{}: {} then {now}", fault.id, before.1);
        assert!(inquiry.possible() < scenario.faults.len(), "{}: nothing was ruled out", fault.id);
    }
}
