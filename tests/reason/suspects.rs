//! Every suspect has a vehicle of its own, to which all is done that the learner does: the true one always explains what
//! is observed.

use std::sync::Arc;

use probeworthy::bench::{Action, FuseWork};
use probeworthy::job::{Choice, Job, NoJournal};
use probeworthy::reasoning::{Inquiry, LAPSE, Menu, Stand, SuspectKind, Suspects};
use probeworthy::scenario::load;
use probeworthy::vehicle::{FuseId, KeyButton};

/// Plays the menu's tests one after another, from wherever the last one left the vehicle, on a job with each fault of
/// the pool: whatever shows, the fault that is there has foreseen it.
#[test]
fn the_true_fault_always_explains_what_is_observed() {
    let scenario = Arc::new(load("tailgate-ignores-its-key").expect("the shelf is sound").scenario);
    let menu = Menu::new(&scenario).expect("the sound vehicle has an operating point");
    let (fresh, _) = Suspects::new(&scenario, 2).expect("every vehicle has an operating point");
    for (at, fault) in scenario.faults.iter().enumerate() {
        let seed = at as u64 + 7;
        let mut job =
            Job::new(Arc::clone(&scenario), seed, Choice::Named(fault.id.clone())).expect("of the pool");
        let mut suspects = fresh.only(&[SuspectKind::Pool(at), SuspectKind::Sound]);
        // A stride that is prime to the menu's length visits other tests for each fault.
        for round in 0..6 {
            let test = &menu.tests[(at * 31 + round * 97) % menu.tests.len()];
            let stand = Stand::of_scene(&scenario.vehicle, job.scene());
            let mut acts: Vec<Action> = stand.acts_to(&scenario.vehicle, &menu.stands[test.stand]);
            acts.extend(test.acts.iter().cloned());
            for act in acts {
                let step = job.apply(act.clone(), &mut NoJournal).expect("the act can be done").clone();
                let weighed =
                    suspects.observe(&scenario, &act, &step.outcome).expect("has an operating point");
                assert!(
                    weighed.likelihoods[0] > LAPSE,
                    "{}: {act:?} showed {:?} {:?} {:?}, which its own fault has not foreseen",
                    fault.id,
                    step.outcome.seen,
                    step.outcome.heard,
                    step.outcome.reading
                );
            }
        }
    }
}

/// Who misreads believes in what another suspect foretold; what then happens on the suspects' vehicles is the same.
#[test]
fn a_misreading_misleads_belief_and_moves_no_vehicle() {
    let scenario = Arc::new(load("tests/survey/six-faults.scenario.ron").expect("a sound file").scenario);
    let fresh = Inquiry::new(Arc::clone(&scenario), 2).expect("every vehicle has an operating point");
    let (at, blown) =
        (0..).zip(&scenario.faults).find(|(_, fault)| fault.id == "f1.blown").expect("it is in the pool");
    let mut job = Job::new(Arc::clone(&scenario), 1, Choice::Named(blown.id.clone())).expect("of the pool");
    let (mut right, mut wrong) = (fresh.clone(), fresh);
    for (act, misread) in
        [(Action::Fuse(FuseId::at(0), FuseWork::Look), true), (Action::Key(KeyButton::Release), false)]
    {
        let outcome = job.apply(act.clone(), &mut NoJournal).expect("it can be done").outcome.clone();
        right.observe(&act, &outcome).expect("every vehicle has an operating point");
        let weighed = if misread { wrong.misread(&act, &outcome, 0) } else { wrong.observe(&act, &outcome) };
        weighed.expect("every vehicle has an operating point");
    }
    let (right_share, wrong_share) = (right.probabilities()[at], wrong.probabilities()[at]);
    assert!(right_share > 0.9 && wrong_share < 0.1, "{right_share} {wrong_share}");
    let states = |inquiry: &Inquiry| -> Vec<_> {
        inquiry.suspects().list().iter().map(|suspect| suspect.state().cloned()).collect()
    };
    assert!(states(&right) == states(&wrong));
}
