//! The trolley's tools that join nothing to the circuit: the trim tool, the repair kit and the contact cleaner. With one in
//! hand a touch does, or offers, what its card has too.

use bevy_egui::egui::{Context, Key};
use probeworthy::bench::Action;
use probeworthy::say;
use probeworthy::words::Texts;

use super::bay::{Bay, Hand, Place};

/// One of them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum HandTool {
    /// Takes panels off and puts them back, and opens the loom's tape.
    Trim,
    /// Solder, sleeves and crimping pliers.
    Repair,
    /// Cleans terminals and studs.
    Cleaner,
}

impl HandTool {
    /// All of them.
    pub(super) const ALL: [Self; 3] = [Self::Trim, Self::Repair, Self::Cleaner];

    /// The key that takes it in hand and lays it down.
    pub(super) fn key(self) -> Key {
        match self {
            Self::Trim => Key::Num1,
            Self::Repair => Key::Num2,
            Self::Cleaner => Key::Num3,
        }
    }

    /// The drawing's name of it.
    pub(super) fn anchor(self) -> &'static str {
        match self {
            Self::Trim => "trim-tool",
            Self::Repair => "repair-kit",
            Self::Cleaner => "cleaner",
        }
    }

    /// What a touch on the tool itself does, in words.
    pub(super) fn label(self, t: Texts, hand: Hand) -> &'static str {
        let held = hand == Hand::Tool(self);
        t.say(match (self, held) {
            (Self::Trim, false) => "spot-trim-take",
            (Self::Trim, true) => "spot-trim-back",
            (Self::Repair, false) => "spot-repair-take",
            (Self::Repair, true) => "spot-repair-back",
            (Self::Cleaner, false) => "spot-cleaner-take",
            (Self::Cleaner, true) => "spot-cleaner-back",
        })
    }

    /// What it does in hand.
    pub(super) fn about(self, t: Texts) -> &'static str {
        t.say(match self {
            Self::Trim => "hand-trim",
            Self::Repair => "hand-repair",
            Self::Cleaner => "hand-cleaner",
        })
    }

    /// Whether something is its work.
    pub(super) fn works_on(self, place: Place) -> bool {
        match self {
            Self::Trim => matches!(place, Place::Panel(_) | Place::Station(_)),
            Self::Repair => matches!(place, Place::Station(_) | Place::Connector(_)),
            Self::Cleaner => matches!(place, Place::Connector(_) | Place::Stud(_)),
        }
    }

    /// The act that a touch there is. What mends something is only offered: which one it is to be the learner says on the card.
    fn act(self, bay: &Bay, place: Place) -> Option<Action> {
        match (self, place) {
            (Self::Trim, Place::Panel(id)) => Some(Action::Panel(id, !bay.is_off(id))),
            (Self::Trim, Place::Station(id)) => Some(Action::OpenTape(id)),
            (Self::Trim | Self::Repair | Self::Cleaner, _) => None,
        }
    }

    /// What a touch there does, in words, with its minutes; nothing where it is not its work.
    pub(super) fn would(self, bay: &Bay, place: Place) -> Option<String> {
        let (t, vehicle) = (bay.texts, bay.vehicle());
        if !self.works_on(place) {
            return None;
        }
        Some(match (self, place) {
            (Self::Trim, Place::Panel(id)) if bay.is_off(id) => {
                say!(t, "panel-back", minutes = vehicle.panel(id).on_minutes)
            }
            (Self::Trim, Place::Panel(id)) => say!(t, "panel-off", minutes = vehicle.panel(id).off_minutes),
            (Self::Trim, _) => t.say("station-tape").to_owned(),
            (Self::Repair, _) => t.say("tool-repair-here").to_owned(),
            (Self::Cleaner, _) => t.say("tool-clean-here").to_owned(),
        })
    }

    /// Touches something with it. False where that is not its work.
    fn touch(self, bay: &mut Bay, place: Place) -> bool {
        if !self.works_on(place) {
            return false;
        }
        if let Some(act) = self.act(bay, place) {
            bay.act(act);
        }
        // A panel shows by itself what has become of it. All else is seen, or chosen, on the card.
        if !matches!(place, Place::Panel(_)) {
            bay.open = Some(place);
        }
        true
    }
}

/// Takes it in hand, or lays it down.
pub(super) fn take(bay: &mut Bay, tool: HandTool) {
    bay.hand = if bay.hand == Hand::Tool(tool) { Hand::Empty } else { Hand::Tool(tool) };
}

/// Takes what a key asks for.
pub(super) fn by_keys(ctx: &Context, bay: &mut Bay) {
    if ctx.text_edit_focused() {
        return;
    }
    for tool in HandTool::ALL {
        if ctx.input(|input| input.modifiers.is_none() && input.key_pressed(tool.key())) {
            take(bay, tool);
        }
    }
}

/// Does to something what the tool in hand does there.
pub(super) fn touched(bay: &mut Bay, place: Place) -> bool {
    match bay.hand {
        Hand::Tool(tool) => tool.touch(bay, place),
        Hand::Empty | Hand::Probe(_) | Hand::Clip(..) | Hand::Clamp | Hand::Recorder(_) => false,
    }
}
