//! How the acts of a job are sorted: what prepares, what tests, what mends, and what is always in place.

use super::inquiry::price_minutes;
use crate::bench::{Action, FuseWork, LampSize, Lead, MeterSetting, Outcome, Seen, Tool};
use crate::job::Step;
use crate::scenario::Scenario;
use crate::vehicle::Point;

/// What shows something of the place where it is put.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Instrument {
    Probe(Lead),
    Lamp(LampSize),
    Bridge,
    BenchBattery,
    Clamp,
    Recorder,
}

/// Where the meter's leads are, and what it is set to.
#[derive(Clone, Copy, Debug)]
pub(super) struct Leads {
    setting: MeterSetting,
    red: Option<Point>,
    black: Option<Point>,
}

impl Leads {
    /// As a job begins.
    pub(super) const PUT_AWAY: Self = Self { setting: MeterSetting::Off, red: None, black: None };

    /// Follows an act that was done.
    pub(super) fn follow(&mut self, action: &Action) {
        let mut put = |lead: Lead, point: Option<Point>| match lead {
            Lead::Red => self.red = point,
            Lead::Black => self.black = point,
        };
        match *action {
            Action::Meter(setting) => self.setting = setting,
            Action::Probe(lead, point) => put(lead, point),
            Action::ProbeHastily(lead, point) => put(lead, Some(point)),
            _ => {}
        }
    }

    /// Whether the meter shows the volts between the battery's posts.
    fn on_battery(self) -> bool {
        let posts = [self.red, self.black];
        self.setting == MeterSetting::Volts
            && posts.contains(&Some(Point::BatteryPlus))
            && posts.contains(&Some(Point::BatteryMinus))
    }
}

/// What an act took, in minutes; what parts cost counts as time, and acts of safety count for nothing.
pub(super) fn minutes_taken(step: &Step) -> f64 {
    if matches!(step.action, Action::Precaution(_)) || step.outcome.refused.is_some() {
        return 0.0;
    }
    step.outcome.minutes + price_minutes(f64::from(step.outcome.cost))
}

/// Which instrument an act puts somewhere.
pub(super) fn placed(action: &Action) -> Option<Instrument> {
    match action {
        Action::Probe(lead, _) | Action::ProbeHastily(lead, _) => Some(Instrument::Probe(*lead)),
        Action::Clip(Tool::TestLamp(size), _) => Some(Instrument::Lamp(*size)),
        Action::Clip(Tool::Bridge, _) => Some(Instrument::Bridge),
        Action::Clip(Tool::BenchBattery, _) => Some(Instrument::BenchBattery),
        Action::Clamp(_) => Some(Instrument::Clamp),
        Action::RecorderLeads(_) => Some(Instrument::Recorder),
        _ => None,
    }
}

/// Whether an outcome holds what an instrument shows.
pub(super) fn shows_figure(outcome: &Outcome) -> bool {
    outcome.reading.is_some()
        || outcome.clamp.is_some()
        || outcome.seen.iter().any(|seen| matches!(seen, Seen::TestLamp(..)))
}

/// What mends, or may.
pub(super) fn is_repair(action: &Action) -> bool {
    matches!(
        action,
        Action::Repair(_)
            | Action::Fuse(_, FuseWork::Fit(_))
            | Action::Lockout(false)
            | Action::Switch(_, false)
            | Action::Plug(_, true)
    )
}

/// Whether nothing is handled but the meter's knob and leads.
pub(super) fn handles_meter(action: &Action) -> bool {
    matches!(action, Action::Meter(_) | Action::Probe(..) | Action::ProbeHastily(..) | Action::Read)
}

/// Brief checks that are always in place: the complaint as it was made, as long as no instrument makes more of it, what
/// the customer says, settings, a fuse by sight, the battery's volts, the meter on a known source.
pub(super) fn is_brief(scenario: &Scenario, leads: Leads, step: &Step) -> bool {
    let figure = shows_figure(&step.outcome);
    match &step.action {
        Action::Ask(_) | Action::Observe | Action::ProveMeter | Action::Fuse(_, FuseWork::Look) => true,
        Action::Key(_) | Action::Press(_) => {
            !figure && scenario.trials.iter().any(|trial| trial.act() == step.action)
        }
        action => figure && handles_meter(action) && leads.on_battery(),
    }
}

/// What is done to learn something, and not to prepare it.
pub(super) fn is_test(action: &Action) -> bool {
    matches!(
        action,
        Action::Key(_)
            | Action::Press(_)
            | Action::LookAt(_)
            | Action::LookAtStud(_)
            | Action::OpenTape(_)
            | Action::Flex(_)
            | Action::Tug(..)
            | Action::ReadMemory(_)
            | Action::Read
    )
}

/// Whether an act changes anything that a later one could show.
pub(super) fn changes(action: &Action) -> bool {
    !matches!(
        action,
        Action::Ask(_)
            | Action::Observe
            | Action::Read
            | Action::LookAtStud(_)
            | Action::LookAt(_)
            | Action::ReadMemory(_)
            | Action::Fuse(_, FuseWork::Look)
            | Action::Precaution(_)
    )
}
