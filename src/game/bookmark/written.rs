//! The bookmark as it is written, and what of it leads somewhere when it is read.

use std::collections::BTreeMap;

use probeworthy::fault::FaultKind;
use probeworthy::job::Job;
use probeworthy::vehicle::Vehicle;
use probeworthy::words::{self, Language, Texts};
use serde::{Deserialize, Serialize};

use super::names;
use crate::game::bay::{Bay, Coach, Draft};
use crate::game::first_job::Guide;
use crate::game::naming::Sort;

/// The version of the format.
const FORMAT: u32 = 1;

/// What the window alone knows of a job.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Bookmark {
    /// Version of the format.
    probeworthy_bookmark: u32,
    /// Which record it belongs to.
    record: String,
    /// How many acts the record had.
    pub(super) acts: usize,
    /// Where the eye is: across, down, and how many times nearer than the whole bay.
    pub(super) eye: (f32, f32, f32),
    /// The card that is open.
    pub(super) open: Option<String>,
    /// What is in hand, and the point on which its first lead is.
    pub(super) hand: Option<(String, Option<String>)>,
    pub(super) entered: Entered,
    pub(super) coach: Option<Told>,
    /// The step of the first job's note.
    pub(super) step: Option<usize>,
    pub(super) diagram: Table,
}

/// What has been entered and not yet said.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Entered {
    /// The fault that is being put together.
    sort: Option<Sort>,
    component: Option<String>,
    kind: Option<FaultKind>,
    spot: Option<String>,
    percent: u8,
    estimate: u16,
    /// Complaint, cause, correction.
    write_up: [String; 3],
    swap_with: u8,
    /// Of which connector, and which.
    cavity: Option<(String, u8)>,
    conductor: Option<String>,
    #[serde(default)]
    fuse: Option<String>,
    fuse_amps: Option<u8>,
    /// Nought where none has been chosen.
    lid_degrees: u8,
    /// Of a heated screen: a line, and a place on it.
    line: (u8, u8),
    hasty: bool,
}

/// What the coach said, in each language by its tag, and after how many acts.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Told {
    pub(super) acts: usize,
    pub(super) words: BTreeMap<String, String>,
}

/// How the wiring diagram lies on the table.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Table {
    /// It has been on it in this job.
    pub(super) seen: bool,
    /// Points for each unit; 0 where it has not been fitted.
    pub(super) zoom: f32,
    pub(super) corner: (f32, f32),
    pub(super) in_words: bool,
}

impl Entered {
    fn of(vehicle: &Vehicle, draft: &Draft) -> Self {
        let component = draft
            .sort
            .zip(draft.component)
            .and_then(|(sort, component)| names::name_of(names::components(vehicle, sort), &component));
        let spot = draft
            .component
            .zip(draft.spot)
            .and_then(|(component, spot)| names::name_of(names::spots(vehicle, component), &spot));
        Self {
            sort: draft.sort,
            component,
            kind: draft.kind,
            spot,
            percent: draft.percent,
            estimate: draft.estimate,
            write_up: draft.write_up.clone(),
            swap_with: draft.swap_with,
            cavity: draft.cavity.map(|(id, cavity)| (vehicle.connector(id).id.clone(), cavity)),
            conductor: draft.conductor.and_then(|id| names::name_of(names::conductors(vehicle), &id)),
            fuse: draft.fuse.and_then(|id| names::name_of(names::fuses(vehicle), &id)),
            fuse_amps: draft.fuse_rating,
            lid_degrees: draft.lid.unwrap_or_default(),
            line: (draft.line, draft.place),
            hasty: draft.hasty,
        }
    }

    /// The same in the window.
    pub(super) fn draft(&self, vehicle: &Vehicle) -> Draft {
        let component = self
            .sort
            .zip(self.component.as_deref())
            .and_then(|(sort, name)| names::named(names::components(vehicle, sort), name));
        let spot = component
            .zip(self.spot.as_deref())
            .and_then(|(component, name)| names::named(names::spots(vehicle, component), name));
        Draft {
            sort: self.sort,
            component,
            kind: self.kind,
            spot,
            percent: self.percent.min(100),
            estimate: self.estimate.max(1),
            write_up: self.write_up.clone(),
            swap_with: self.swap_with,
            cavity: self.cavity.as_ref().and_then(|(name, cavity)| names::cavity(vehicle, name, *cavity)),
            conductor: self
                .conductor
                .as_deref()
                .and_then(|name| names::named(names::conductors(vehicle), name)),
            fuse: self.fuse.as_deref().and_then(|name| names::named(names::fuses(vehicle), name)),
            fuse_rating: self.fuse_amps,
            lid: Some(self.lid_degrees).filter(|degrees| *degrees > 0),
            line: self.line.0,
            place: self.line.1,
            hasty: self.hasty,
        }
    }
}

impl Told {
    fn of(coach: &Coach, job: &Job) -> Option<Self> {
        match coach {
            Coach::Silent | Coach::Thinking => None,
            Coach::Said(acts, said) => {
                let advice = said.as_ref().as_ref().ok()?;
                let worded = |language| words::advice(Texts::of(language), job.scenario(), advice);
                let words = Language::ALL.map(|language| (language.tag().to_owned(), worded(language)));
                Some(Self { acts: *acts, words: words.into() })
            }
            Coach::Told(acts, words) => Some(Self { acts: *acts, words: words.clone() }),
        }
    }
}

impl Bookmark {
    /// That of a job in the bay.
    pub(super) fn of(bay: &Bay, job: &Job, record: &str) -> Self {
        let vehicle = &job.scenario().vehicle;
        let (zoom, corner, in_words) = bay.diagram.lie();
        Self {
            probeworthy_bookmark: FORMAT,
            record: record.to_owned(),
            acts: job.log().len(),
            eye: bay.eye.told(),
            open: bay.open.and_then(|open| names::name_of(names::places(vehicle), &open)),
            hand: names::of_hand(vehicle, bay.hand),
            entered: Entered::of(vehicle, &bay.draft),
            coach: Told::of(&bay.coach, job),
            step: match bay.guide {
                Some(Guide::Step(at)) => Some(at),
                _ => None,
            },
            diagram: Table {
                seen: bay.diagram.has_been_looked_at(),
                zoom,
                corner: (corner.x, corner.y),
                in_words,
            },
        }
    }

    /// As it stands in its file.
    pub(super) fn text(&self) -> Result<String, ron::Error> {
        ron::ser::to_string_pretty(self, ron::ser::PrettyConfig::default())
    }

    /// Reads a text that belongs to a record.
    pub(super) fn read(text: &str, record: &str) -> Result<Self, Unread> {
        let read: Self = ron::from_str(text).map_err(|why| Unread::Slip(why.to_string()))?;
        match (read.probeworthy_bookmark, read.record == record) {
            (FORMAT, true) => Ok(read),
            (FORMAT, false) => Err(Unread::OfAnotherRecord),
            (other, _) => Err(Unread::OtherFormat(other)),
        }
    }
}

/// Why a bookmark is left out.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Unread {
    /// The system does not give it.
    NotGiven(String),
    /// It is longer than any.
    TooLong,
    /// It is not written as one is.
    Slip(String),
    /// It belongs to another record.
    OfAnotherRecord,
    /// It is of a format that this program does not read.
    OtherFormat(u32),
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;
    use std::path::PathBuf;
    use std::sync::Arc;

    use probeworthy::bench::{Lead, Rung, Tool};
    use probeworthy::fault::{Component, Spot};
    use probeworthy::job::{Choice, NoJournal};
    use probeworthy::scenario::{Scenario, load};
    use probeworthy::vehicle::{ConductorId, ConnectorId, FuseId, Point};

    use super::*;
    use crate::game::bay::{Hand, Place};
    use crate::game::bookmark::Keeping;
    use crate::game::first_job;
    use crate::game::hand_tools::HandTool;
    use crate::game::legible;
    use crate::game::scenery::Gaze;

    /// A scenario of each vehicle.
    const SCENARIOS: [&str; 5] = [
        "tailgate-ignores-its-key",
        "first-fuse",
        "ghost-of-a-voltage",
        "dark-while-shut",
        "trailer-goes-dark",
    ];

    fn scenario(name: &str) -> Arc<Scenario> {
        Arc::new(load(name).expect("it is on the shelf").scenario)
    }

    /// A job in which something has been done, kept beside nothing.
    fn bay(scenario: &Arc<Scenario>, found: Option<Bookmark>) -> Bay {
        let mut job = Job::new(Arc::clone(scenario), 7, Choice::Drawn).expect("a job");
        for act in ["cautions", "coach 1"] {
            let act = words::parse(&scenario.vehicle, act).expect(act);
            job.apply(act, &mut NoJournal).expect("an operating point");
        }
        let mut bay = Bay::waiting(Arc::clone(scenario));
        bay.job = Some(Arc::new(job));
        let record = PathBuf::from("/nowhere/job-0001.jsonl");
        bay.keeping =
            Some(Keeping { record, identity: "one".to_owned(), found, written: None, failed: false });
        bay
    }

    fn bookmark(bay: &Bay) -> Bookmark {
        Bookmark::of(bay, bay.job.as_deref().expect("a job"), "one")
    }

    /// The same bookmark after it has been written, read, and put back into the bay.
    fn again(scenario: &Arc<Scenario>, written: &Bookmark) -> Bookmark {
        let text = written.text().expect("it can be written");
        let read = Bookmark::read(&text, "one").expect("it can be read");
        assert_eq!(&read, written);
        let mut bay = bay(scenario, Some(read));
        bay.scenario_name = Some(first_job::SCENARIO.to_owned());
        bay.find_the_place();
        bay.eye = bay.wanted_eye.expect("the eye goes there");
        bookmark(&bay)
    }

    #[test]
    fn every_card_and_whatever_is_in_hand_is_found_again_on_every_vehicle() {
        for scenario in SCENARIOS.map(scenario) {
            let vehicle = &scenario.vehicle;
            let known: Vec<(String, Place)> = names::places(vehicle).collect();
            let names: BTreeSet<&String> = known.iter().map(|(name, _)| name).collect();
            assert_eq!(names.len(), known.len(), "a name is there twice");
            for place in legible::places(vehicle) {
                let name = names::name_of(known.clone(), &place);
                let name = name.unwrap_or_else(|| panic!("{place:?} has no name"));
                assert_eq!(names::named(known.clone(), &name), Some(place));
            }
            let points = || vehicle.points().into_iter().map(Some).chain([None]);
            let clips = Tool::ALL.into_iter().flat_map(|tool| points().map(move |at| Hand::Clip(tool, at)));
            let hands = [Hand::Probe(Lead::Red), Hand::Probe(Lead::Black), Hand::Clamp]
                .into_iter()
                .chain(HandTool::ALL.map(Hand::Tool))
                .chain(points().map(Hand::Recorder))
                .chain(clips);
            for hand in hands {
                let (name, first) = names::of_hand(vehicle, hand).expect("it is not empty");
                assert_eq!(names::hand(vehicle, &name, first.as_deref()), Some(hand), "{name} {first:?}");
            }
            // Whatever can be named, half or whole.
            for (sort, component, spot) in Sort::ALL.into_iter().flat_map(|sort| {
                names::components(vehicle, sort).into_iter().flat_map(move |(_, component)| {
                    let spots = names::spots(vehicle, component).into_iter().map(|(_, spot)| Some(spot));
                    spots.chain([None]).map(move |spot| (sort, component, spot))
                })
            }) {
                let draft = Draft { sort: Some(sort), component: Some(component), spot, ..Draft::default() };
                let found = Entered::of(vehicle, &draft).draft(vehicle);
                assert_eq!(
                    (found.sort, found.component, found.spot),
                    (Some(sort), Some(component), spot),
                    "{component:?} {spot:?}"
                );
            }
        }
    }

    #[test]
    fn what_is_written_is_there_again() {
        let scenario = scenario(first_job::SCENARIO);
        let mut full = bay(&scenario, None);
        full.eye = Gaze::of_told((700.0, 500.0, 3.0)).expect("figures");
        full.open = Some(Place::Writing);
        full.hand = Hand::Recorder(Some(Point::Body));
        full.guide = Some(Guide::Step(3));
        let words =
            [("en", "Measure."), ("de", "Messen.")].map(|(tag, said)| (tag.to_owned(), said.to_owned()));
        full.coach = Coach::Told(2, words.into());
        full.diagram.lay((1.5, bevy_egui::egui::vec2(12.0, -3.0), true));
        full.diagram.look_at(full.texts, &scenario.vehicle);
        full.draft = Draft {
            sort: Some(Sort::Wire),
            component: Some(Component::Conductor(ConductorId::at(0))),
            kind: Some(FaultKind::HighResistance),
            spot: Some(Spot::Whole),
            percent: 0,
            estimate: 65_535,
            write_up: ["\"quoted\"".to_owned(), "two\nlines".to_owned(), "Prüfspitze, 12 V, \\".to_owned()],
            swap_with: 3,
            cavity: Some((ConnectorId::at(0), 1)),
            conductor: Some(ConductorId::at(1)),
            fuse: Some(FuseId::at(1)),
            fuse_rating: Some(15),
            lid: Some(33),
            line: 2,
            place: 3,
            hasty: true,
        };
        let written = bookmark(&full);
        assert_eq!(again(&scenario, &written), written);
        // An empty bay, too.
        let mut bare = bay(&scenario, None);
        bare.open = None;
        let bare = bookmark(&bare);
        assert_eq!(again(&scenario, &bare), bare);
    }

    #[test]
    fn what_is_no_bookmark_of_this_record_is_refused_and_names_that_lead_nowhere_are_left_out() {
        let scenario = scenario(first_job::SCENARIO);
        let sound = bookmark(&bay(&scenario, None)).text().expect("it can be written");
        assert!(Bookmark::read(&sound, "one").is_ok());
        assert_eq!(Bookmark::read(&sound, "other"), Err(Unread::OfAnotherRecord));
        let older = sound.replace("probeworthy_bookmark: 1", "probeworthy_bookmark: 0");
        let newer = sound.replace("probeworthy_bookmark: 1", "probeworthy_bookmark: 2");
        let more = sound.replace("probeworthy_bookmark: 1", "probeworthy_bookmark: 1, more: 3");
        for text in
            ["", "hello", "(", "{\"probeworthy_record\":3}", &older, &newer, &more, &sound[..sound.len() / 2]]
        {
            assert!(Bookmark::read(text, "one").is_err(), "{text}");
        }
        let strange = Bookmark {
            probeworthy_bookmark: FORMAT,
            record: "one".to_owned(),
            acts: usize::MAX,
            eye: (f32::NAN, 0.0, f32::INFINITY),
            open: Some("connector/no-such".to_owned()),
            hand: Some(("bridge".to_owned(), Some("no-such.3".to_owned()))),
            entered: Entered {
                sort: Some(Sort::Part),
                component: Some("no-such".to_owned()),
                spot: Some("cavity/250".to_owned()),
                percent: 250,
                cavity: Some((scenario.vehicle.connectors[0].id.clone(), 250)),
                conductor: Some("no-such".to_owned()),
                ..Entered::default()
            },
            coach: Some(Told { acts: 900, words: [("en".to_owned(), "?".to_owned())].into() }),
            step: Some(900),
            diagram: Table { zoom: f32::NAN, corner: (f32::INFINITY, 0.0), ..Table::default() },
        };
        let text = strange.text().expect("it can be written");
        let mut bay = bay(&scenario, Some(Bookmark::read(&text, "one").expect("it can be read")));
        bay.scenario_name = Some(first_job::SCENARIO.to_owned());
        bay.find_the_place();
        assert_eq!((bay.wanted_eye, bay.open, bay.hand, bay.guide), (None, None, Hand::Empty, None));
        assert_eq!((bay.draft.component, bay.draft.spot, bay.draft.cavity), (None, None, None));
        assert_eq!(bay.draft.percent, 100);
        assert!(matches!(bay.coach, Coach::Silent));
        assert_eq!(bay.diagram.lie().0, 0.0, "it is fitted when it is looked at");
    }

    #[test]
    fn a_line_that_was_written_down_since_is_not_put_back() {
        let scenario = scenario(first_job::SCENARIO);
        let mut before = bay(&scenario, None);
        before.draft.write_up = ["a".to_owned(), "b".to_owned(), String::new()];
        let found = bookmark(&before);
        let mut later = bay(&scenario, Some(found));
        let mut job = Job::clone(later.job.as_deref().expect("a job"));
        let act = words::parse(&scenario.vehicle, "write cause blown").expect("a command");
        job.apply(act, &mut NoJournal).expect("an operating point");
        later.job = Some(Arc::new(job));
        later.draft.write_up = [String::new(), "blown".to_owned(), String::new()];
        later.find_the_place();
        assert_eq!(later.draft.write_up, ["a".to_owned(), "blown".to_owned(), String::new()]);
    }

    #[test]
    fn a_paper_gets_back_no_coach_and_no_board() {
        let scenario = scenario(first_job::SCENARIO);
        let mut full = bay(&scenario, None);
        full.open = Some(Place::Coach);
        full.coach = Coach::Told(2, [("en".to_owned(), "Measure.".to_owned())].into());
        let mut sat = bay(&scenario, Some(bookmark(&full)));
        sat.paper = Some("terms".to_owned());
        sat.find_the_place();
        assert_eq!(sat.open, None);
        assert!(matches!(sat.coach, Coach::Silent));
        assert!(!sat.has_a_board() && !sat.offers(Place::Shelf) && !sat.is_at_the_board());
    }

    #[test]
    fn an_unheard_word_of_the_coach_is_known_from_the_log() {
        let scenario = scenario(first_job::SCENARIO);
        let mut bay = bay(&scenario, None);
        assert_eq!(bay.unheard(), Some((2, Rung::Question)));
        bay.coach = Coach::Thinking;
        assert_eq!(bay.unheard(), None);
        bay.coach = Coach::Told(2, BTreeMap::new());
        assert_eq!(bay.unheard(), None);
    }
}
