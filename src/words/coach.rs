//! What the coach says.

use super::describe::{connector_title, part_title};
use super::survey::commands;
use crate::bench::{Action, LidTo, Rung};
use crate::marks::rung_marks;
use crate::reasoning::{Advice, Doubt, Means, Where};
use crate::scenario::Scenario;
use crate::vehicle::{Point, Vehicle};

/// What the coach says, in a sentence or two.
#[must_use]
pub fn advice(scenario: &Scenario, advice: &Advice) -> String {
    match advice {
        Advice::Question(doubt) => question(*doubt).to_owned(),
        Advice::Kind(means, place) => {
            let place = place.map_or_else(String::new, |place| format!(": {}", where_at(&scenario.vehicle, place)));
            format!("{}{place}.", kind(*means))
        }
        Advice::Test { acts, possible, groups, bits, minutes } => format!(
            "{}. {}; this would sort them into {} and is expected to tell {bits:.2} bits, for {minutes:.1} minutes.{}",
            commands(scenario, acts),
            causes(*possible),
            counted(*groups, "group"),
            precautions(scenario, acts)
        ),
        Advice::Repair { acts, possible, probability, minutes } => format!(
            "{}. {}; that this mends it is {:.0} % likely, and no test is worth its time before it: {minutes:.1} minutes with putting back and a trial.{}",
            commands(scenario, acts),
            causes(*possible),
            probability * 100.0,
            precautions(scenario, acts)
        ),
        Advice::Finish => {
            "As far as what was seen tells, nothing is left that needs mending. Prove that the complaint is gone, put everything back, write it up, hand in."
                .to_owned()
        }
    }
}

/// What the coach costs, with the next rung that says more, and what it has cost so far.
#[must_use]
pub fn coaching_price(next: Option<Rung>, cost: f64) -> String {
    let next = match next {
        Some(rung) => {
            let says = says(rung);
            let number = rung.number();
            format!("the next rung is coach {number}, {says}: it costs {}", marks(rung_marks(rung)))
        }
        None => "the coach has said all that it can; it costs nothing more until something has been done"
            .to_owned(),
    };
    let prices: Vec<String> = Rung::ALL
        .iter()
        .map(|rung| format!("coach {}, {}", rung.number(), marks(rung_marks(*rung))))
        .collect();
    format!("{next} (all rungs: {}; so far: {})", prices.join("; "), marks(cost))
}

/// What a rung gives.
fn says(rung: Rung) -> &'static str {
    match rung {
        Rung::Question => "a question to ask yourself",
        Rung::Kind => "the kind of test, and where",
        Rung::Test => "the very test, and why",
    }
}

/// A rung to ask for, with its price; or that it has been given.
#[must_use]
pub fn rung(rung: Rung, given: bool) -> String {
    let price = if given { "given".to_owned() } else { marks(rung_marks(rung)) };
    format!("{}. {} ({price})", rung.number(), says(rung))
}

/// What the coach has cost so far.
#[must_use]
pub fn coached_so_far(cost: f64) -> String {
    format!("The coach has taken {} off so far.", marks(cost))
}

fn marks(marks: f64) -> String {
    if marks == 1.0 { "1 mark".to_owned() } else { format!("{marks:.0} marks") }
}

pub(super) fn counted(count: usize, what: &str) -> String {
    if count == 1 { format!("1 {what}") } else { format!("{count} {what}s") }
}

fn causes(count: usize) -> String {
    if count == 1 {
        "One cause is still possible".to_owned()
    } else {
        format!("{count} causes are still possible")
    }
}

fn question(doubt: Doubt) -> &'static str {
    match doubt {
        Doubt::Complaint => "Have you seen and heard the complaint for yourself, as the customer has it?",
        Doubt::Setting => "Is anything broken at all, or is a setting in the way?",
        Doubt::Command => "Is the command not given, or is it given and not carried out?",
        Doubt::FeedOrGround => "Is it the feed that is missing, or the ground?",
        Doubt::WiringOrPart => "Is it the wiring, or what the wiring leads to?",
        Doubt::Side => "Is it on the body, at the hinge, or in the lid? Which connector would tell you?",
        Doubt::LidPosition => "Does it matter where the lid stands? At which angle does it change?",
        Doubt::ComesAndGoes => "Is it always so, or does it come and go? What would bring it back?",
        Doubt::Apart => "What would look different if one of those that are left were true and not another?",
        Doubt::Enough => {
            "Is it certain enough to mend? What would a wrong repair cost, and what would one more test tell?"
        }
    }
}

fn kind(means: Means) -> &'static str {
    match means {
        Means::Ask => "Ask the customer",
        Means::Look => "Look closely",
        Means::Command => "Work it, look and listen",
        Means::PartWay => "Work it with the lid held part-way, look and listen",
        Means::Provoke => "Bring it about: work it after a knock, in the wet, or several times",
        Means::Memory => "Read what the module remembers",
        Means::VoltsAtRest => "Measure volts with nothing commanded",
        Means::VoltsCommanded => "Measure volts while the command lasts, with capture on",
        Means::Lamp => "Put a test lamp in place of the load and give the command",
        Means::Ohms => "Measure ohms with the connector open",
        Means::Flex => "Flex the loom and watch the meter",
        Means::Tape => "Open the tape and look at the wires",
        Means::Tug => "Pull gently at a wire",
        Means::Repair => "It is time to mend something",
    }
}

fn where_at(vehicle: &Vehicle, place: Where) -> String {
    match place {
        Where::Connector(id) => format!("at the {}", connector_title(vehicle, id)),
        Where::Between(one, other) => {
            format!("from the {} to the {}", connector_title(vehicle, one), connector_title(vehicle, other))
        }
        Where::Station(id) => format!("at the {}", vehicle.station(id).title),
        Where::Fuse(id) => format!("at {}", vehicle.fuse(id).title),
        Where::Stud(id) => format!("at the {}", vehicle.stud(id).title),
        Where::Part(id) => format!("at the {}", part_title(vehicle, id)),
        Where::Battery => "at the battery".to_owned(),
        Where::Key => "with the key".to_owned(),
    }
}

/// The precautions that acts call for.
fn precautions(scenario: &Scenario, acts: &[Action]) -> String {
    let up = Action::Lid(LidTo::Angle(scenario.vehicle.lid.full_degrees));
    let raises = acts.contains(&up);
    let at_battery = acts.iter().any(|act| {
        matches!(act, Action::Probe(_, Some(Point::BatteryPlus | Point::BatteryMinus)) | Action::ProveMeter)
    });
    match (raises, at_battery) {
        (true, true) => " Prop the lid once it is up, and wear glasses at the battery.".to_owned(),
        (true, false) => " Prop the lid once it is up.".to_owned(),
        (false, true) => " Wear glasses at the battery.".to_owned(),
        (false, false) => String::new(),
    }
}
