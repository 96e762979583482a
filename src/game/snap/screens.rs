//! The screens by name, and what each of them shows.

use probeworthy::bench::{LampSize, Tool};
use probeworthy::vehicle::{ConnectorId, Mate, PanelId, Part, PartKind, Reach, StationId, StudId, Vehicle};

use crate::game::bay::Place;
use crate::game::shelf::Leaf;

/// A screen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Screen {
    /// The bay with no card open.
    Bay,
    /// The middle of the bay from nearer.
    Near,
    /// A card that every vehicle has.
    Card(Place),
    /// A leaf of the board, where there is no job.
    Board(Leaf),
    /// The card of a connector: the first that joins two looms, if there is one.
    Connector,
    /// The card of the connector of the vehicle's first heated screen.
    Glass,
    /// The card of a station of the loom: the one that the lid moves most.
    Station,
    /// The card of the vehicle's first stud.
    Stud,
    /// The card of the vehicle's first panel.
    Panel,
    /// The marks.
    Marks,
    /// The job step by step.
    Steps,
    /// The sheet that is there until the marks are.
    Marking,
    /// The sheet that a paper's job ends with.
    Closed,
    /// The sheet that is there where the marks cannot be worked out.
    Unmarked,
    /// A note of the first job.
    FirstNote,
    /// The first job is offered.
    FirstOffer,
}

/// What a screen is a screen of, in the order in which a walk goes through them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Stand {
    /// A job that is being worked on.
    Job,
    /// One that has been handed in.
    HandedIn,
    /// The first job, which is of a scenario of its own.
    FirstJob,
    /// No job: the first one is offered.
    Offer,
    /// No job: the board is seen.
    Board,
    /// An instructor's file.
    Author,
}

/// Every screen with its name. Those of a job that has been handed in stand after those of an open one, and the sheets without
/// marks after those with.
pub(super) const SCREENS: [(&str, Screen); 43] = [
    ("bay", Screen::Bay),
    ("near", Screen::Near),
    ("customer", Screen::Card(Place::Customer)),
    ("findings", Screen::Card(Place::Findings)),
    ("diagram", Screen::Card(Place::Diagram)),
    ("suspects", Screen::Card(Place::Suspicions)),
    ("coach", Screen::Card(Place::Coach)),
    ("naming", Screen::Card(Place::Naming)),
    ("writing", Screen::Card(Place::Writing)),
    ("hand-in", Screen::Card(Place::HandingIn)),
    ("keys", Screen::Card(Place::Help)),
    ("jobs", Screen::Card(Place::Shelf)),
    ("settings", Screen::Card(Place::Settings)),
    ("everything", Screen::Card(Place::Everything)),
    ("lid", Screen::Card(Place::Lid)),
    ("cabin", Screen::Card(Place::Cabin)),
    ("bonnet", Screen::Card(Place::Front)),
    ("key", Screen::Card(Place::Key)),
    ("body", Screen::Card(Place::Body)),
    ("meter", Screen::Card(Place::Meter)),
    ("clamp", Screen::Card(Place::Clamp)),
    ("recorder", Screen::Card(Place::Recorder)),
    ("test-lamp-5", Screen::Card(Place::Tool(Tool::TestLamp(LampSize::Five)))),
    ("test-lamp-21", Screen::Card(Place::Tool(Tool::TestLamp(LampSize::TwentyOne)))),
    ("bridge", Screen::Card(Place::Tool(Tool::Bridge))),
    ("bench-battery", Screen::Card(Place::Tool(Tool::BenchBattery))),
    ("fuses", Screen::Card(Place::FuseTray)),
    ("panel", Screen::Panel),
    ("connector", Screen::Connector),
    ("heated-screen", Screen::Glass),
    ("loom", Screen::Station),
    ("stud", Screen::Stud),
    ("marks", Screen::Marks),
    ("steps", Screen::Steps),
    ("marking", Screen::Marking),
    ("closed", Screen::Closed),
    ("unmarked", Screen::Unmarked),
    ("first-note", Screen::FirstNote),
    ("first-offer", Screen::FirstOffer),
    ("board", Screen::Board(Leaf::Next)),
    ("all-jobs", Screen::Board(Leaf::Jobs)),
    ("records", Screen::Board(Leaf::Records)),
    ("author", Screen::Card(Place::Author)),
];

/// The screen of this name.
pub(super) fn named(name: &str) -> Option<(&'static str, Screen)> {
    SCREENS.iter().find(|(known, _)| *known == name).copied()
}

impl Screen {
    pub(super) fn stand(self) -> Stand {
        match self {
            Self::Marks | Self::Steps | Self::Marking | Self::Closed | Self::Unmarked => Stand::HandedIn,
            Self::FirstNote => Stand::FirstJob,
            Self::FirstOffer => Stand::Offer,
            Self::Board(_) => Stand::Board,
            Self::Card(Place::Author) => Stand::Author,
            _ => Stand::Job,
        }
    }

    /// The card that is open. Of what a vehicle has many of it is one whose card tells much; nothing where it has none.
    pub(super) fn place(self, vehicle: &Vehicle) -> Option<Place> {
        match self {
            Self::Card(place) => Some(place),
            Self::Board(_) => Some(Place::Shelf),
            Self::Connector => {
                let all = &vehicle.connectors;
                let joins = all.iter().position(|connector| connector.mate == Mate::Loom);
                let first = (!all.is_empty()).then_some(0);
                joins.or(first).map(|at| Place::Connector(ConnectorId::at(at)))
            }
            Self::Glass => {
                let is_screen = |part: &&Part| matches!(part.kind, PartKind::Screen(_));
                vehicle.parts.iter().find(is_screen).map(|part| Place::Connector(part.connector))
            }
            Self::Station => {
                let crossed = (0..vehicle.stations.len()).map(StationId::at).filter(|id| {
                    vehicle.conductors.iter().any(|conductor| conductor.piece_at(*id).is_some())
                });
                let moves = |id: &StationId| vehicle.station(*id).moves;
                crossed.max_by(|a, b| moves(a).total_cmp(&moves(b))).map(Place::Station)
            }
            Self::Stud => (!vehicle.studs.is_empty()).then(|| Place::Stud(StudId::at(0))),
            Self::Panel => (!vehicle.panels.is_empty()).then(|| Place::Panel(PanelId::at(0))),
            _ => None,
        }
    }

    /// Whether the vehicle has what is shown.
    pub(super) fn is_of(self, vehicle: &Vehicle) -> bool {
        let of_a_thing =
            matches!(self, Self::Connector | Self::Glass | Self::Station | Self::Stud | Self::Panel);
        !of_a_thing || self.place(vehicle).is_some()
    }
}

/// How a hand comes to what a card is about. In front of what is not in the vehicle's rear there is nothing.
pub(super) fn reach(vehicle: &Vehicle, place: Place) -> Option<Reach> {
    match place {
        Place::Connector(id) => Some(vehicle.connector(id).reach),
        Place::Station(id) => Some(vehicle.station(id).reach),
        Place::Stud(id) => Some(vehicle.stud(id).reach),
        // What a panel covers is behind it; it is only in its zone itself.
        Place::Panel(id) => Some(Reach { zone: vehicle.panel(id).zone, panel: None }),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use probeworthy::scenario::{SHELF, load};

    use super::*;

    #[test]
    fn every_screen_has_one_name() {
        for (at, (name, screen)) in SCREENS.iter().enumerate() {
            assert_eq!(named(name), Some((*name, *screen)), "{name} is there twice");
            assert!(SCREENS[at + 1..].iter().all(|(_, other)| other != screen), "{screen:?} is there twice");
        }
    }

    /// Every kind of card, one after another from the first. A new one does not compile until it stands here.
    fn after(place: Place) -> Option<Place> {
        Some(match place {
            Place::Connector(_) => Place::Station(StationId::at(0)),
            Place::Station(_) => Place::Stud(StudId::at(0)),
            Place::Stud(_) => Place::Panel(PanelId::at(0)),
            Place::Panel(_) => Place::Lid,
            Place::Lid => Place::Cabin,
            Place::Cabin => Place::Front,
            Place::Front => Place::Key,
            Place::Key => Place::Body,
            Place::Body => Place::FuseTray,
            Place::FuseTray => Place::Tool(Tool::TestLamp(LampSize::Five)),
            Place::Tool(Tool::TestLamp(LampSize::Five)) => Place::Tool(Tool::TestLamp(LampSize::TwentyOne)),
            Place::Tool(Tool::TestLamp(LampSize::TwentyOne)) => Place::Tool(Tool::Bridge),
            Place::Tool(Tool::Bridge) => Place::Tool(Tool::BenchBattery),
            Place::Tool(Tool::BenchBattery) => Place::Meter,
            Place::Meter => Place::Clamp,
            Place::Clamp => Place::Recorder,
            Place::Recorder => Place::Customer,
            Place::Customer => Place::Findings,
            Place::Findings => Place::Naming,
            Place::Naming => Place::Suspicions,
            Place::Suspicions => Place::Coach,
            Place::Coach => Place::Writing,
            Place::Writing => Place::HandingIn,
            Place::HandingIn => Place::Diagram,
            Place::Diagram => Place::Shelf,
            Place::Shelf => Place::Everything,
            Place::Everything => Place::Settings,
            Place::Settings => Place::Author,
            Place::Author => Place::Help,
            Place::Help => return None,
        })
    }

    #[test]
    fn every_card_of_the_window_is_a_screen() {
        let vehicle = load("first-lamp").expect("it is on the shelf").scenario.vehicle;
        let shown: Vec<Place> = SCREENS.iter().filter_map(|(_, screen)| screen.place(&vehicle)).collect();
        let all = std::iter::successors(Some(Place::Connector(ConnectorId::at(0))), |place| after(*place));
        for place in all {
            // Of several connectors one is enough.
            let is_there = match place {
                Place::Connector(_) => shown.iter().any(|one| matches!(one, Place::Connector(_))),
                Place::Station(_) => shown.iter().any(|one| matches!(one, Place::Station(_))),
                Place::Stud(_) => shown.iter().any(|one| matches!(one, Place::Stud(_))),
                Place::Panel(_) => shown.iter().any(|one| matches!(one, Place::Panel(_))),
                one => shown.contains(&one),
            };
            assert!(is_there, "no screen shows {place:?}");
        }
    }

    #[test]
    fn every_vehicle_of_the_shelf_has_what_every_screen_shows() {
        for one in SHELF {
            let vehicle = load(one.id).expect(one.id).scenario.vehicle;
            // Not every vehicle has a heated screen.
            let heated = vehicle.parts.iter().any(|part| matches!(part.kind, PartKind::Screen(_)));
            for (name, screen) in SCREENS.into_iter().filter(|(_, one)| heated || *one != Screen::Glass) {
                assert!(screen.is_of(&vehicle), "{}: the vehicle has nothing for `{name}`", one.id);
            }
        }
    }
}
