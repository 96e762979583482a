//! What marks are given for, and what they are not: by the text of whole jobs on the flagship scenario.

use std::sync::{Arc, LazyLock};

use probeworthy::job::{Choice, Job, NoJournal};
use probeworthy::marks::{Comeback, Lesson, Line, Marks, Part, mark};
use probeworthy::reasoning::Inquiry;
use probeworthy::scenario::{Scenario, load};
use probeworthy::threads;
use probeworthy::words;

static FRESH: LazyLock<Inquiry> = LazyLock::new(|| {
    let scenario = load("tailgate-ignores-its-key").expect("the shelf is sound").scenario;
    Inquiry::new(Arc::new(scenario), threads::available()).expect("every vehicle has an operating point")
});

fn scenario() -> Arc<Scenario> {
    Arc::clone(FRESH.scenario())
}

/// Plays commands, one a line, on a fault of the pool.
fn play(fault: &str, commands: &str) -> Marks {
    play_on(&FRESH, fault, commands)
}

fn play_on(fresh: &Inquiry, fault: &str, commands: &str) -> Marks {
    let scenario = Arc::clone(fresh.scenario());
    let mut job =
        Job::new(Arc::clone(&scenario), 4, Choice::Named(fault.to_owned())).expect("it is in the pool");
    for line in commands.lines().map(str::trim).filter(|line| !line.is_empty()) {
        let action = words::parse(&scenario.vehicle, line).unwrap_or_else(|error| panic!("{line}: {error}"));
        job.apply(action, &mut NoJournal).unwrap_or_else(|error| panic!("{line}: {error}"));
    }
    mark(&job, fresh).expect("it can be replayed").expect("it has been handed in")
}

/// What is counted as not put back is named, thing by thing.
#[test]
fn what_was_left_about_is_named() {
    let scenario = scenario();
    let commands = "lever\nlid up\ntake lid-trim off\nunplug latch\nfuse f1 pull\nswitch lights on\nmeter volts\nred body\n\
        lamp 5 body battery-minus\nclamp battery-plus\nlockout on\nhand in";
    let choice = Choice::Named("latch-feed.open.bellows".to_owned());
    let mut job = Job::new(Arc::clone(&scenario), 4, choice).expect("it is in the pool");
    for line in commands.lines() {
        let action = words::parse(&scenario.vehicle, line).unwrap_or_else(|error| panic!("{line}: {error}"));
        let step = job.apply(action, &mut NoJournal).unwrap_or_else(|error| panic!("{line}: {error}"));
        assert_eq!(step.outcome.refused, None, "{line}");
    }
    let marks = mark(&job, &FRESH).expect("it can be replayed").expect("it has been handed in");
    let counted = marks.lines.iter().flat_map(|line| &line.lessons).find_map(|lesson| match lesson {
        Lesson::PutBack { left } => Some(*left),
        _ => None,
    });
    let named = words::not_put_back(words::Texts::english(), &job);
    assert_eq!(counted, Some(named.len()), "{named:?}");
    assert_eq!(named.len(), 9, "{named:?}");
}

fn line(marks: &Marks, part: Part) -> &Line {
    marks.lines.iter().find(|line| line.part == part).expect("every part has its line")
}

fn share(marks: &Marks, part: Part) -> f64 {
    let line = line(marks, part);
    line.marks / line.out_of
}

/// Doing nothing earns nothing; neither does a name without evidence.
#[test]
fn nothing_done_earns_nothing() {
    assert_eq!(play("latch.motor-open", "hand in").total, 0.0);
    let named = play("latch.motor-open", "name latch open\nhand in");
    assert_eq!(named.progress, 0.0, "a name with nothing behind it is no progress");
}

/// To undo one's own change is no repair.
#[test]
fn undoing_ones_own_change_mends_nothing() {
    for change in ["lockout on\nlockout off", "fuse f1 fit 5\nfuse f1 fit 10", "fuse f1 pull\nfuse f1 back"] {
        let marks = play(
            "latch-feed.open.bellows",
            &format!("cautions\nkey release\n{change}\nkey release\nname pad open\nhand in"),
        );
        assert!(marks.progress < 0.5, "{change}: {}", marks.progress);
        assert!(share(&marks, Part::Proof) < 0.2, "{change}");
    }
}

/// A retest proves something only by what failed before: the key, where only the pad was at fault, proves nothing.
#[test]
fn only_a_trial_that_failed_proves_the_repair() {
    let mend =
        "cautions\nkey release\nlid up\nprop\ntake lid-trim off\nfit pad\nput lid-trim back\nlid shut\n";
    let end = "lid shut\nkey lock\nkey unlock\nname pad open\nhand in";
    let by_key = play("pad.open", &format!("{mend}key release\n{end}"));
    let by_pad = play("pad.open", &format!("{mend}press pad\n{end}"));
    assert!(share(&by_key, Part::Proof) < 0.6, "{:?}", line(&by_key, Part::Proof));
    assert!(share(&by_pad, Part::Proof) > 0.7, "{:?}", line(&by_pad, Part::Proof));
}

/// What is seen to work when the lid is shut over it proves as much as what is switched on with the lid shut, and what works
/// with the lid open only proves nothing.
#[test]
fn a_lid_shut_over_what_is_switched_on_is_a_retest() {
    let scenario = load("wiper-gave-up").expect("the shelf is sound").scenario;
    let fresh = Inquiry::new(Arc::new(scenario), threads::available()).expect("it has an operating point");
    let job = |before: &str, after: &str| {
        let commands = format!(
            "cautions\npress pad\nlid up\nprop\n{before}\ntape sleeve\nsplice wiper-feed sleeve\n{after}\n\
             name wiper-feed open at sleeve\nhand in"
        );
        let marks = play_on(&fresh, "wiper-feed.open.sleeve", &commands);
        (share(&marks, Part::Proof), marks.progress)
    };
    let (switched_first, whole) = job("switch wipe on", "lid shut\nswitch wipe off");
    let (shut_first, _) = job("", "lid shut\nswitch wipe on\nswitch wipe off");
    assert_eq!((switched_first, whole), (shut_first, 1.0));
    let (open, part) = job("", "switch wipe on\nswitch wipe off\nlid shut");
    assert!(open < switched_first && part < 1.0, "{open}, {part}");
}

/// A dear part that happens to mend costs marks where a cheap act would have done.
#[test]
fn a_dear_part_for_a_cheap_fault_is_waste() {
    let end = "key release\nlid shut\nkey lock\nkey unlock\nname key flat\nhand in";
    let dear = play("key.cell-flat", &format!("key release\nfit key\n{end}"));
    let cheap = play("key.cell-flat", &format!("key release\nfit key-cell\n{end}"));
    assert!(share(&dear, Part::Parts) < 0.2, "{:?}", line(&dear, Part::Parts));
    assert!(share(&cheap, Part::Parts) > 0.99, "{:?}", line(&cheap, Part::Parts));
}

/// A twisted joint works, and is no proof that it will.
#[test]
fn a_twisted_joint_is_not_proven() {
    let job = |how: &str| {
        play(
            "latch-feed.open.bellows",
            &format!(
                "key release\nlever\ntape bellows\n{how} latch-feed bellows\nlid shut\nkey release\nlid shut\nkey lock\n\
                 key unlock\nname latch-feed open at bellows\nhand in"
            ),
        )
    };
    let (twisted, spliced) = (job("twist"), job("splice"));
    assert!(share(&twisted, Part::Proof) < 0.6 && share(&spliced, Part::Proof) > 0.9);
    assert!(share(&twisted, Part::Parts) > 0.99, "it did mend something: {:?}", line(&twisted, Part::Parts));
}

/// Crossed terminals can be named by either of their cavities.
#[test]
fn crossed_terminals_are_named_by_either_cavity() {
    for (cavity, place) in [(1, 1.0), (2, 1.0), (4, 0.7)] {
        let marks = play(
            "latch.crossed.1-2",
            &format!(
                "key release\nlever\nlid up\nprop\ntake lid-trim off\nunplug latch\ninspect latch\nswap latch 1 2\n\
                 plug latch\nput lid-trim back\nlid shut\nkey release\nname connector latch crossed at {cavity}\nhand in"
            ),
        );
        let got = share(&marks, Part::Diagnosis);
        assert!((got - place).abs() < 0.01, "cavity {cavity}: {got}");
    }
}

/// Amps across the battery's posts is a dangerous act and caps the total; in line, in place of a fuse, it is none.
#[test]
fn amps_across_a_source_caps_and_in_line_does_not() {
    let across = play(
        "key.cell-flat",
        "cautions\nglasses\nmeter amps\nred battery-plus\nblack battery-minus\nred off\nblack off\nkey release\n\
         fit key-cell\nkey release\nlid shut\nkey lock\nkey unlock\nwrite complaint The key does nothing\n\
         write cause Cell 2.9 V, 1.1 V under load\nwrite correction New cell, 3.0 V\nname key flat\nhand in",
    );
    assert!(across.capped.is_some() && across.total <= 60.0, "{across:?}");
    let in_line = play(
        "latch-feed.short.bellows",
        "cautions\nfuse f1 pull\nmeter amps\nred f1.feed\nblack f1.load\nkey release\nhand in",
    );
    assert!(in_line.capped.is_none());
}

/// A line of the write-up holds a reading where a number has its unit behind it.
#[test]
fn a_reading_is_a_number_with_its_unit() {
    let job = |cause: &str| {
        let marks = play(
            "key.cell-flat",
            &format!("key release\nfit key-cell\nwrite cause {cause}\nname key flat\nhand in"),
        );
        line(&marks, Part::Safety).marks
    };
    assert!(job("the cell gives 1.1 V under load") > job("the cell was 1 Year old"));
    assert!(job("plug to stud OL with the lid low") > job("Added 1 splice to the loom"));
}

/// Of a referral parts, time and proof count by the diagnosis and by how far the job got; who hands the vehicle on at once has
/// saved no time by it.
#[test]
fn a_quick_referral_earns_no_more_time_than_its_diagnosis_is_worth() {
    let marks = play("latch-feed.open.bellows", "key release\nname latch-feed open at bellows 60%\nrefer");
    let share = marks.by_diagnosis.expect("a referral");
    assert!(share > 0.0, "{marks:?}");
    let line = marks.lines.iter().find(|line| line.part == Part::Time).expect("it has its line");
    // Marks are rounded to tenths.
    let most = line.out_of * share * marks.progress + 0.05;
    assert!(line.marks <= most, "{} of at most {most}", line.marks);
}

/// The bill is labour and parts; the customer comes back for what was not mended, for a joint that was only twisted, and for
/// what is lying about.
#[test]
fn the_bill_is_made_out_and_poor_work_comes_back() {
    let sound = "lever\nlid up\nprop\ntape bellows\nsplice latch-feed bellows\n";
    let end = "lid shut\nhand in";
    // To a sum out of all reason nobody agrees; what was agreed before stands.
    let estimates = "estimate 60\nestimate 200\nestimate 5000\n";
    let whole = play("latch-feed.open.bellows", &format!("{estimates}{sound}{end}")).afterwards;
    assert_eq!((whole.estimate, &whole.comebacks[..]), (Some(200), &[][..]));
    assert_eq!(whole.total(), whole.labour + whole.parts);
    assert!(whole.labour >= 20 && whole.parts > 0, "{whole:?}");

    let comebacks = |commands: &str| play("latch-feed.open.bellows", commands).afterwards.comebacks;
    assert_eq!(comebacks("key release\nhand in"), [Comeback::Same]);
    assert_eq!(comebacks("key release\nrefer"), []);
    let twisted = sound.replace("splice", "twist");
    assert_eq!(comebacks(&format!("{twisted}{end}")), [Comeback::Joint]);
    let about = sound.replace("tape", "take lid-trim off\ntape");
    assert_eq!(comebacks(&format!("{about}{end}")), [Comeback::Left]);
    // A pad does nothing on a vehicle that was handed back locked; he unlocks it first.
    assert_eq!(comebacks(&format!("{sound}lid shut\nkey release\nlid shut\nkey lock\nhand in")), []);
    // A plug that was not put back is why it still does not open.
    let unplugged = sound.replace("tape", "take lid-trim off\nunplug latch\ntape");
    assert_eq!(comebacks(&format!("{unplugged}{end}")), [Comeback::Same, Comeback::Left]);
}
