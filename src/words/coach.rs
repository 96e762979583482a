//! What the coach says.

use super::acts::acts as listed;
use super::describe::{capital, connector_title, part_title};
use super::survey::commands;
use crate::bench::{Action, LidTo, Rung};
use crate::marks::rung_marks;
use crate::reasoning::{Advice, Doubt, Means, Where};
use crate::say;
use crate::scenario::Scenario;
use crate::vehicle::{Point, Vehicle};
use crate::words::Texts;

/// What the coach says, in a sentence or two.
#[must_use]
pub fn advice(t: Texts, scenario: &Scenario, advice: &Advice) -> String {
    worded(t, scenario, advice, &|acts| capital(&listed(t, &scenario.vehicle, acts)))
}

/// The same with acts as commands, which can be typed.
#[must_use]
pub fn advice_in_commands(t: Texts, scenario: &Scenario, advice: &Advice) -> String {
    worded(t, scenario, advice, &|acts| commands(scenario, acts))
}

/// Advice, with its acts as they are listed.
fn worded(t: Texts, scenario: &Scenario, advice: &Advice, listed: &dyn Fn(&[Action]) -> String) -> String {
    let vehicle = &scenario.vehicle;
    match advice {
        Advice::Question(doubt) => question(t, *doubt).to_owned(),
        Advice::Kind(means, None) => say!(t, "advice-kind", kind = kind(t, *means)),
        Advice::Kind(means, Some(place)) => {
            say!(t, "advice-kind-where", kind = kind(t, *means), place = where_at(t, vehicle, *place))
        }
        Advice::Test { acts, possible, groups, bits, minutes } => say!(
            t,
            "advice-test",
            acts = listed(acts),
            causes = say!(t, "advice-causes", count = *possible),
            groups = say!(t, "advice-groups", count = *groups),
            bits = format!("{bits:.2}"),
            minutes = format!("{minutes:.1}"),
            precautions = precautions(t, scenario, acts)
        ),
        Advice::Repair { acts, possible, probability, minutes } => say!(
            t,
            "advice-repair",
            acts = listed(acts),
            causes = say!(t, "advice-causes", count = *possible),
            percent = format!("{:.0}", probability * 100.0),
            minutes = format!("{minutes:.1}"),
            precautions = precautions(t, scenario, acts)
        ),
        Advice::Finish => t.say("advice-finish").to_owned(),
    }
}

/// What the coach costs, with the next rung that says more, and what it has cost so far.
#[must_use]
pub fn coaching_price(t: Texts, next: Option<Rung>, cost: f64) -> String {
    let price = |rung: Rung| marks(t, rung_marks(rung));
    let next = match next {
        Some(rung) => {
            say!(t, "coaching-next", number = rung.number(), says = says(t, rung), marks = price(rung))
        }
        None => t.say("coaching-all-said").to_owned(),
    };
    let prices: Vec<String> = Rung::ALL
        .iter()
        .map(|&rung| say!(t, "coaching-rung-price", number = rung.number(), marks = price(rung)))
        .collect();
    say!(t, "coaching-price", next = next, prices = prices.join("; "), cost = marks(t, cost))
}

/// What a rung gives.
fn says(t: Texts, rung: Rung) -> &'static str {
    t.say(match rung {
        Rung::Question => "rung-question",
        Rung::Kind => "rung-kind",
        Rung::Test => "rung-test",
    })
}

/// A rung to ask for, with its price; or that it has been given.
#[must_use]
pub fn rung(t: Texts, rung: Rung, given: bool) -> String {
    let price = if given { t.say("rung-given").to_owned() } else { marks(t, rung_marks(rung)) };
    say!(t, "rung-button", number = rung.number(), says = says(t, rung), price = price)
}

/// What the coach has cost so far.
#[must_use]
pub fn coached_so_far(t: Texts, cost: f64) -> String {
    say!(t, "coached-so-far", marks = marks(t, cost))
}

/// Whole marks: what a rung costs is a whole number of them.
fn marks(t: Texts, marks: f64) -> String {
    say!(t, "marks-count", count = marks.round())
}

pub(super) fn counted(count: usize, what: &str) -> String {
    if count == 1 { format!("1 {what}") } else { format!("{count} {what}s") }
}

fn question(t: Texts, doubt: Doubt) -> &'static str {
    t.say(match doubt {
        Doubt::Complaint => "doubt-complaint",
        Doubt::Setting => "doubt-setting",
        Doubt::Command => "doubt-command",
        Doubt::FeedOrGround => "doubt-feed-or-ground",
        Doubt::WiringOrPart => "doubt-wiring-or-part",
        Doubt::Side => "doubt-side",
        Doubt::LidPosition => "doubt-lid-position",
        Doubt::ComesAndGoes => "doubt-comes-and-goes",
        Doubt::Apart => "doubt-apart",
        Doubt::Enough => "doubt-enough",
    })
}

fn kind(t: Texts, means: Means) -> &'static str {
    t.say(match means {
        Means::Ask => "means-ask",
        Means::Look => "means-look",
        Means::Command => "means-command",
        Means::PartWay => "means-part-way",
        Means::Provoke => "means-provoke",
        Means::Memory => "means-memory",
        Means::VoltsAtRest => "means-volts-at-rest",
        Means::VoltsCommanded => "means-volts-commanded",
        Means::Lamp => "means-lamp",
        Means::Ohms => "means-ohms",
        Means::Flex => "means-flex",
        Means::Tape => "means-tape",
        Means::Tug => "means-tug",
        Means::Repair => "means-repair",
    })
}

fn where_at(t: Texts, vehicle: &Vehicle, place: Where) -> String {
    match place {
        Where::Connector(id) => say!(t, "where-at-the", what = connector_title(t, vehicle, id)),
        Where::Between(one, other) => {
            let (one, other) = (connector_title(t, vehicle, one), connector_title(t, vehicle, other));
            say!(t, "where-between", one = one, other = other)
        }
        Where::Station(id) => say!(t, "where-at-the", what = t.title(&vehicle.station(id).title)),
        Where::Fuse(id) => say!(t, "where-at", what = t.title(&vehicle.fuse(id).title)),
        Where::Stud(id) => say!(t, "where-at-the", what = t.title(&vehicle.stud(id).title)),
        Where::Part(id) => say!(t, "where-at-the", what = part_title(t, vehicle, id)),
        Where::Battery => t.say("where-battery").to_owned(),
        Where::Key => t.say("where-key").to_owned(),
    }
}

/// The precautions that acts call for.
fn precautions(t: Texts, scenario: &Scenario, acts: &[Action]) -> &'static str {
    let up = Action::Lid(LidTo::Angle(scenario.vehicle.lid.full_degrees));
    let raises = acts.contains(&up);
    let at_battery = acts.iter().any(|act| {
        matches!(act, Action::Probe(_, Some(Point::BatteryPlus | Point::BatteryMinus)) | Action::ProveMeter)
    });
    match (raises, at_battery) {
        (true, true) => t.say("advice-prop-and-glasses"),
        (true, false) => t.say("advice-prop"),
        (false, true) => t.say("advice-glasses"),
        (false, false) => "",
    }
}
