//! Brings the bay to where a screen is seen: begins the job, does what is in front of a thing, hands in.

use std::path::PathBuf;
use std::sync::Arc;

use probeworthy::bench::{Action, Lead, LidTo, MeterSetting, Precaution};
use probeworthy::job::Job;
use probeworthy::practice::{Done, Lesson, shelf_lessons};
use probeworthy::record::{Kept, Standing};
use probeworthy::scenario::{Loaded, Scenario, load, load_text};
use probeworthy::vehicle::{FuseId, KeyButton, LidPosition, Obstacle, Point, Reach, Side, Title, Vehicle};
use probeworthy::words::Texts;

use super::screens::{Screen, Stand, reach};
use super::{NotShown, Source};
use crate::game::author::Author;
use crate::game::bay::{Bay, Place};
use crate::game::first_job;
use crate::game::shelf::{Leaf, Shelf};
use crate::game::worker::Trouble;

/// Acts that are done at most so that something can be reached: a panel is behind a lid, and both want care.
const MOST_ACTS: u8 = 12;
/// Fuses that are measured before a job without a script is handed in.
const MEASURED: usize = 3;
/// What somebody may have done who is half way through the shelf: scenario, share of the marks for finding, and the total.
const LEARNER: [(&str, f64, f64); 8] = [
    ("first-fuse", 0.72, 68.0),
    ("first-lamp", 0.81, 77.0),
    ("same-words-twice", 0.46, 52.0),
    ("one-dead-button", 0.58, 61.0),
    ("no-brake-lights", 0.77, 74.0),
    ("volts-but-no-light", 0.39, 48.0),
    ("volts-but-no-light", 0.84, 81.0),
    ("plates-fade", 0.88, 86.0),
];
/// The job that this somebody has left, and when its record was last written, in milliseconds since 1970 began.
const LEFT: &str = "plates-fade";
const LEFT_MS: u64 = 1_767_276_000_000;
/// How many records there are.
const KEPT: usize = 4;
/// From one job to the next, in milliseconds: a day.
const DAY_MS: u64 = 86_400_000;
/// The job of the list whose words are shown.
const LOOKED_AT: &str = "same-words-twice";

/// How far a screen is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Progress {
    /// Something is still being begun, done or worked out.
    Waits,
    /// It is what is seen.
    Shown,
}

/// Brings one screen after another about.
pub(super) struct Staging {
    scenario: Arc<Scenario>,
    seed: u64,
    /// Done before the first screen of a job is shown, up to the hand-in.
    acts: Vec<Action>,
    hand_in: Option<Action>,
    /// The file, for the instructor's sheet.
    loaded: Loaded,
    /// What the bay holds now.
    stand: Option<Stand>,
    /// The screen that is seen, once it is.
    held: Option<Screen>,
    /// How often something has been taken out of the way of what is shown.
    cleared: u8,
}

impl Staging {
    pub(super) fn new(source: Source) -> Self {
        let Source { scenario, loaded, seed, mut acts } = source;
        let is_hand_in = |act: &Action| matches!(act, Action::HandIn { .. });
        let hand_in = acts.iter().position(is_hand_in).map(|at| acts.split_off(at).swap_remove(0));
        Self { scenario, seed, acts, hand_in, loaded, stand: None, held: None, cleared: 0 }
    }

    /// The vehicle of the job.
    pub(super) fn vehicle(&self) -> &Vehicle {
        &self.scenario.vehicle
    }

    /// The bay in which a screen will be seen.
    ///
    /// # Errors
    /// [`NotShown::Job`] where the file cannot be read again.
    pub(super) fn bay(&mut self, screen: Screen) -> Result<Bay, NotShown> {
        let stand = screen.stand();
        let scenario = Arc::clone(&self.scenario);
        let bay = match stand {
            Stand::Job | Stand::HandedIn => {
                let mut bay = Bay::new(scenario, None, self.seed);
                bay.begin_with(self.acts.clone());
                bay
            }
            Stand::FirstJob => {
                let mut bay = Bay::before_the_first(scenario);
                first_job::begin_unkept(&mut bay);
                bay.begin_with(vec![
                    Action::Precaution(Precaution::ReadCautions),
                    Action::Key(KeyButton::Release),
                ]);
                bay
            }
            Stand::Offer => Bay::before_the_first(scenario),
            Stand::Board => Bay::at_the_board(scenario),
            Stand::Author => {
                let file = &self.loaded.file;
                let loaded =
                    load_text(&file.path, &file.text).map_err(|why| NotShown::Job(why.to_string()))?;
                Bay::of_author(Author::new(loaded))
            }
        };
        self.stand = Some(stand);
        self.held = None;
        self.cleared = 0;
        Ok(bay)
    }

    /// Brings the bay nearer to a screen, or holds it there. It is asked once a frame.
    ///
    /// # Errors
    /// [`NotShown::Job`] where the job does not begin or an act cannot be done.
    pub(super) fn bring(&mut self, bay: &mut Bay, screen: Screen) -> Result<Progress, NotShown> {
        let stand = screen.stand();
        let goes_on = stand == Stand::HandedIn && self.stand == Some(Stand::Job);
        if self.stand != Some(stand) && !goes_on {
            *bay = self.bay(screen)?;
        }
        self.stand = Some(stand);
        // A screen may be of trouble itself.
        if let Some(trouble) = bay.trouble.as_ref().filter(|_| self.held.is_none()) {
            return Err(NotShown::Job(trouble.told(Texts::english())));
        }
        let without_a_job = matches!(stand, Stand::Offer | Stand::Board);
        if !without_a_job && !bay.is_at_rest() {
            return Ok(Progress::Waits);
        }
        if stand == Stand::HandedIn && !bay.is_over() {
            self.hand_in(bay);
            return Ok(Progress::Waits);
        }
        let marked = matches!(screen, Screen::Marks | Screen::Steps);
        let tried_out = bay.author.as_ref().is_none_or(Author::has_tried_all);
        if (marked && bay.marks.is_none()) || !tried_out {
            return Ok(Progress::Waits);
        }
        let place = screen.place(bay.vehicle());
        if let Some(act) = place.and_then(|place| self.in_the_way(bay, place)) {
            self.cleared += 1;
            bay.act(act);
            return Ok(Progress::Waits);
        }
        if self.held != Some(screen) {
            self.held = Some(screen);
            set_out(bay, screen);
        }
        bay.open = place;
        Ok(Progress::Shown)
    }

    /// The next screen is another one.
    pub(super) fn next(&mut self) {
        self.held = None;
        self.cleared = 0;
    }

    /// Hands the job in as the script does; where it does not, as somebody would who has found nothing yet. Without any script
    /// something is measured first, so that there are steps to be seen.
    fn hand_in(&self, bay: &mut Bay) {
        if self.acts.is_empty() && self.hand_in.is_none() {
            for act in honest(self.vehicle()) {
                bay.act(act);
            }
        }
        let unnamed = bay.job.as_ref().is_some_and(|job| job.named().is_none());
        bay.act(self.hand_in.clone().unwrap_or(Action::HandIn { refer: unnamed }));
    }

    /// What is done next to come to what a card is about.
    fn in_the_way(&self, bay: &Bay, place: Place) -> Option<Action> {
        let job = bay.job.as_ref().filter(|_| self.cleared < MOST_ACTS)?;
        let reach = reach(bay.vehicle(), place)?;
        next_to_reach(job, reach)
    }
}

/// What a screen shows beside an open card.
fn set_out(bay: &mut Bay, screen: Screen) {
    bay.steps_shown = screen == Screen::Steps;
    bay.closed = screen == Screen::Closed;
    match screen {
        // The learner's own records are not read: the same picture comes of it everywhere.
        Screen::Card(Place::Shelf) => bay.shelf = made_up(Leaf::Next),
        Screen::Board(leaf) => bay.shelf = made_up(leaf),
        Screen::Marking => bay.take_marks_away(true),
        Screen::Closed => {
            bay.take_marks_away(false);
            // Its terms are on the customer's card, which is not shown with it.
            bay.paper.get_or_insert_default();
        }
        Screen::Unmarked => {
            bay.take_marks_away(false);
            bay.paper = None;
            bay.trouble = Some(Trouble::NotWorkedOut);
        }
        _ => {}
    }
}

/// The board of somebody who has practised.
fn made_up(leaf: Leaf) -> Shelf {
    Shelf::of_a_learner(learner(&shelf_lessons()), records(), LOOKED_AT, leaf)
}

/// The records that this somebody has kept, the latest first: so few that what they add up to is seen below them.
fn records() -> Vec<(Kept, Title)> {
    let marked = LEARNER.iter().rev().map(|&(scenario, _, total)| (scenario, Standing::Marked(total)));
    let all = std::iter::once((LEFT, Standing::Left)).chain(marked).zip(0_u32..);
    all.take(KEPT)
        .filter_map(|((scenario, standing), days)| {
            let title = load(scenario).ok()?.scenario.title;
            let kept = Kept {
                path: PathBuf::from(scenario),
                scenario: scenario.to_owned(),
                at_ms: LEFT_MS - u64::from(days) * DAY_MS,
                minutes: 14.5 + f64::from(days),
                standing,
            };
            Some((kept, title))
        })
        .collect()
}

/// Somebody who has practised.
fn learner(lessons: &[Lesson]) -> Vec<Done> {
    let done = LEARNER.iter().filter_map(|&(scenario, finding_share, total)| {
        let lesson = lessons.iter().find(|lesson| lesson.scenario == scenario)?;
        let (scenario, skill) = (scenario.to_owned(), lesson.skill);
        Some(Done { scenario, skill, finding_share, proof_share: total / 100.0, total })
    });
    done.collect()
}

/// A short job on any vehicle: care is taken, the key tried, and some fuses are measured.
fn honest(vehicle: &Vehicle) -> Vec<Action> {
    let mut acts = vec![
        Action::Precaution(Precaution::ReadCautions),
        Action::Precaution(Precaution::EyeProtection),
        Action::Key(KeyButton::Release),
        Action::Meter(MeterSetting::Volts),
        Action::Probe(Lead::Black, Some(Point::BatteryMinus)),
    ];
    let fuses = (0..vehicle.fuses.len().min(MEASURED)).map(FuseId::at);
    acts.extend(fuses.map(|fuse| Action::Probe(Lead::Red, Some(Point::Fuse(fuse, Side::Load)))));
    acts.extend([Lead::Red, Lead::Black].map(|lead| Action::Probe(lead, None)));
    acts
}

/// What is done next, with care, so that something can be reached; nothing once it can be, or where nothing helps.
fn next_to_reach(job: &Job, reach: Reach) -> Option<Action> {
    let scene = job.scene();
    let vehicle = &job.scenario().vehicle;
    let obstacle = scene.obstacle(vehicle, reach)?;
    let done = |act: &Action| job.log().iter().any(|step| step.action == *act);
    let care = [Precaution::ReadCautions, Precaution::EyeProtection].map(Action::Precaution);
    if let Some(act) = care.into_iter().find(|act| !done(act)) {
        return Some(act);
    }
    let is_up = matches!(scene.lid(), LidPosition::Angle(_));
    match obstacle {
        Obstacle::LidTooLow | Obstacle::LoadSpaceClosed(_) if is_up => {
            Some(Action::Lid(LidTo::Angle(vehicle.lid.full_degrees)))
        }
        // By the lever. Where that does not pull, by hand, or another way in.
        Obstacle::LidTooLow => [Action::Lever, Action::ForceLatch].into_iter().find(|act| !done(act)),
        Obstacle::LoadSpaceClosed(_) if !done(&Action::Lever) => Some(Action::Lever),
        Obstacle::Panel(_) if is_up && !scene.propped() => Some(Action::Precaution(Precaution::PropLid)),
        Obstacle::Panel(panel) | Obstacle::LoadSpaceClosed(panel) => Some(Action::Panel(panel, true)),
    }
}

#[cfg(test)]
mod tests {
    use std::time::Duration;

    use probeworthy::job::{Choice, NoJournal};
    use probeworthy::scenario::SHELF;

    use super::super::screens::{SCREENS, named};
    use super::*;
    use crate::game::first_job::Guide;

    fn source(name: &str) -> Source {
        let loaded = load(name).expect("it is on the shelf");
        Source { scenario: Arc::new(loaded.scenario.all_fixed()), loaded, seed: 1, acts: Vec::new() }
    }

    /// Until the screen is seen, as the frames of a window would.
    fn brought(staging: &mut Staging, bay: &mut Bay, screen: Screen) -> Result<(), NotShown> {
        staging.next();
        for _ in 0..12_000 {
            bay.catch_up();
            if staging.bring(bay, screen)? == Progress::Shown {
                return Ok(());
            }
            std::thread::sleep(Duration::from_millis(5));
        }
        panic!("{screen:?} is not seen within a minute");
    }

    #[test]
    fn one_screen_after_another_is_brought_about() {
        let mut staging = Staging::new(source("first-lamp"));
        let mut bay = staging.bay(Screen::Bay).expect("a bay");
        for (name, screen) in SCREENS {
            brought(&mut staging, &mut bay, screen).unwrap_or_else(|why| panic!("{name}: {why:?}"));
            assert_eq!(bay.open, screen.place(bay.vehicle()), "{name}");
            let marked = screen.stand() == Stand::HandedIn;
            assert_eq!(
                bay.is_over(),
                marked,
                "{name} is of a job that has been handed in, or of an open one"
            );
            assert_eq!(bay.marks.is_some(), matches!(screen, Screen::Marks | Screen::Steps), "{name}");
            assert_eq!(bay.closed, screen == Screen::Closed, "{name}");
            assert_eq!(bay.is_at_the_board(), screen.stand() == Stand::Board, "{name}");
            assert_eq!(bay.author.is_some(), screen == Screen::Card(Place::Author), "{name}");
            let offered = bay.guide == Some(Guide::Offered);
            assert_eq!(offered, screen == Screen::FirstOffer, "{name}");
            assert_eq!(bay.guide.is_some() && !offered, screen == Screen::FirstNote, "{name}");
            assert!(bay.scenario_name.is_none(), "{name}: no job is kept");
            let reach = bay.open.and_then(|place| reach(bay.vehicle(), place));
            if let (Some(job), Some(reach)) = (&bay.job, reach) {
                assert_eq!(job.scene().obstacle(bay.vehicle(), reach), None, "{name} is within reach");
            }
        }
    }

    #[test]
    fn a_script_that_hands_in_does_so_only_for_the_screens_after_it() {
        let mut source = source("first-lamp");
        let hand_in = Action::HandIn { refer: false };
        source.acts = vec![Action::Observe, hand_in.clone(), Action::Observe];
        let mut staging = Staging::new(source);
        let mut bay = staging.bay(Screen::Bay).expect("a bay");
        let acts = |bay: &Bay| {
            bay.job.iter().flat_map(|job| job.log()).map(|step| step.action.clone()).collect::<Vec<_>>()
        };
        brought(&mut staging, &mut bay, Screen::Card(Place::HandingIn)).expect("an open job");
        assert_eq!(acts(&bay), [Action::Observe]);
        brought(&mut staging, &mut bay, Screen::Marking).expect("a job that was handed in");
        assert_eq!(acts(&bay), [Action::Observe, hand_in]);
    }

    #[test]
    fn a_job_that_cannot_begin_is_told() {
        for name in ["bay", "marks"] {
            let (_, screen) = named(name).expect("a screen");
            let mut source = source("first-lamp");
            Arc::make_mut(&mut source.scenario).faults.clear();
            let mut staging = Staging::new(source);
            let mut bay = staging.bay(screen).expect("a bay");
            let told = brought(&mut staging, &mut bay, screen);
            assert!(matches!(&told, Err(NotShown::Job(why)) if why.contains("pool")), "{name}: {told:?}");
        }
    }

    #[test]
    fn what_is_shown_of_every_vehicle_can_be_reached() {
        for one in SHELF {
            let scenario = Arc::new(load(one.id).expect(one.id).scenario);
            let mut job = Job::new(Arc::clone(&scenario), 1, Choice::Drawn).expect("a job");
            for (name, screen) in SCREENS {
                let place = screen.place(&scenario.vehicle);
                let Some(reach) = place.and_then(|place| reach(&scenario.vehicle, place)) else { continue };
                let mut acts = 0;
                while let Some(act) = next_to_reach(&job, reach) {
                    job.apply(act, &mut NoJournal).expect("an operating point");
                    acts += 1;
                    assert!(acts <= MOST_ACTS, "{}, {name}: {:?}", one.id, job.log());
                }
                assert_eq!(job.scene().obstacle(&scenario.vehicle, reach), None, "{}, {name}", one.id);
                let breach = job.log().iter().find(|step| !step.outcome.breaches.is_empty());
                assert!(breach.is_none(), "{}, {name}: {breach:?}", one.id);
            }
        }
    }

    #[test]
    fn the_invented_learner_has_done_jobs_of_the_shelf() {
        assert_eq!(learner(&shelf_lessons()).len(), LEARNER.len());
        assert_eq!(records().len(), KEPT);
        assert!(SHELF.iter().any(|one| one.id == LOOKED_AT));
    }
}
