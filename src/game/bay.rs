//! The job in the bay: what is open, what is in hand, and how acts go out and outcomes come back.

use std::collections::BTreeMap;
use std::sync::Arc;

use bevy::prelude::*;
use probeworthy::bench::{Action, Display, Lead, Tool, WriteUpLine};
use probeworthy::fault::{Component, FaultKind, Spot};
use probeworthy::job::{Job, Step};
use probeworthy::marks::{Debrief, Marks};
use probeworthy::reasoning::Advice;
use probeworthy::scenario::Scenario;
use probeworthy::vehicle::{ConductorId, ConnectorId, FuseId, PanelId, Point, StationId, StudId, Vehicle};
use probeworthy::words::Texts;

use super::author::Author;
use super::bookmark::Keeping;
use super::diagram;
use super::first_job::Guide;
use super::hand_tools::HandTool;
use super::naming::Sort;
use super::playing::{Before, Playing};
use super::reading::Reading;
use super::scenery::Gaze;
use super::shelf::Shelf;
use super::worker::{Reply, Trouble, Worker};

/// Something that can be opened in the bay.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Place {
    Connector(ConnectorId),
    Station(StationId),
    Stud(StudId),
    Panel(PanelId),
    Lid,
    Cabin,
    Front,
    Key,
    Body,
    FuseTray,
    Tool(Tool),
    Meter,
    Clamp,
    Recorder,
    Customer,
    Findings,
    Naming,
    Suspicions,
    Coach,
    Writing,
    HandingIn,
    Diagram,
    Shelf,
    Everything,
    Settings,
    Author,
    Help,
}

impl Place {
    /// It is of no use once the job has been handed in.
    pub(super) fn is_of_an_open_job(self) -> bool {
        matches!(self, Self::Naming | Self::Suspicions | Self::Coach | Self::Writing | Self::HandingIn)
    }
}

/// What is in hand.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Hand {
    /// Nothing.
    #[default]
    Empty,
    /// A probe of the meter.
    Probe(Lead),
    /// A tool with two clips, the first of which is on a point already.
    Clip(Tool, Option<Point>),
    /// The current clamp.
    Clamp,
    /// The recorder's two leads, the first of which, its plus, is on a point already.
    Recorder(Option<Point>),
    /// A tool that joins nothing to the circuit.
    Tool(HandTool),
}

impl Hand {
    /// Where it belongs: touched there, it is laid down again.
    pub(super) fn belongs(self) -> Option<Place> {
        match self {
            Self::Clip(tool, _) => Some(Place::Tool(tool)),
            Self::Clamp => Some(Place::Clamp),
            Self::Recorder(_) => Some(Place::Recorder),
            Self::Empty | Self::Probe(_) | Self::Tool(_) => None,
        }
    }

    /// It is put to a point.
    pub(super) fn goes_to_a_point(self) -> bool {
        !matches!(self, Self::Empty | Self::Tool(_))
    }
}

/// What the learner has entered and not yet said.
#[derive(Clone, Debug)]
pub(super) struct Draft {
    /// The fault that is being put together.
    pub(super) sort: Option<Sort>,
    pub(super) component: Option<Component>,
    pub(super) kind: Option<FaultKind>,
    pub(super) spot: Option<Spot>,
    pub(super) percent: u8,
    /// What the customer is to be told that it will cost.
    pub(super) estimate: u16,
    pub(super) write_up: [String; 3],
    /// The other of two cavities whose wires are to change places.
    pub(super) swap_with: u8,
    pub(super) cavity: Option<(ConnectorId, u8)>,
    pub(super) conductor: Option<ConductorId>,
    /// In the box, of which can be seen below what can be done with it.
    pub(super) fuse: Option<FuseId>,
    /// Taken from the tray; otherwise what the slot says.
    pub(super) fuse_rating: Option<u8>,
    /// To what angle the lid is to be held, once somebody has chosen one.
    pub(super) lid: Option<u8>,
    /// Of a heated screen: a line, and a place on it.
    pub(super) line: u8,
    pub(super) place: u8,
    /// Probes are put on without looking twice.
    pub(super) hasty: bool,
}

impl Default for Draft {
    fn default() -> Self {
        Self {
            sort: None,
            component: None,
            kind: None,
            spot: None,
            percent: 80,
            estimate: 100,
            write_up: Default::default(),
            swap_with: 1,
            cavity: None,
            conductor: None,
            fuse: None,
            fuse_rating: None,
            lid: None,
            line: 1,
            place: 4,
            hasty: false,
        }
    }
}

/// What the coach is about.
#[derive(Clone, Debug)]
pub(super) enum Coach {
    /// He has not been asked.
    Silent,
    Thinking,
    /// What he said, or why he could not, and after how many steps of the log.
    Said(usize, Box<Result<Advice, Trouble>>),
    /// What he had said before the job was left, by the tags of languages, and after how many steps.
    Told(usize, BTreeMap<String, String>),
}

impl Coach {
    /// He cannot be asked after all.
    fn give_up(&mut self) {
        if matches!(self, Self::Thinking) {
            *self = Self::Silent;
        }
    }
}

/// What the window knows of the job.
#[derive(Resource)]
pub(super) struct Bay {
    pub(super) scenario: Arc<Scenario>,
    /// How the scenario was named, for the record; without it the job is not kept.
    pub(super) scenario_name: Option<String>,
    pub(super) seed: u64,
    pub(super) worker: Option<Worker>,
    /// Where the job is kept, if it is.
    pub(super) keeping: Option<Keeping>,
    pub(super) job: Option<Arc<Job>>,
    pub(super) marks: Option<Arc<(Marks, Debrief)>>,
    /// The terms of the assessment paper whose job this is.
    pub(super) paper: Option<String>,
    /// A paper's job has been closed: its marks are not shown here.
    pub(super) closed: bool,
    /// Where the eye is, and where it is to go.
    pub(super) eye: Gaze,
    pub(super) wanted_eye: Option<Gaze>,
    pub(super) open: Option<Place>,
    pub(super) hand: Hand,
    pub(super) draft: Draft,
    pub(super) busy: bool,
    pub(super) trouble: Option<Trouble>,
    pub(super) playing: Option<Playing>,
    /// A probe is being dragged, and is put where it is let go.
    pub(super) dragging: bool,
    /// The point that the clamp in hand was held to and cannot be closed round.
    pub(super) misfit: Option<Point>,
    /// Where the lead of what is in hand at the pointer ends, in the drawing's units.
    pub(super) lead_end: Option<Vec2>,
    /// The sheet of marks shows the job step by step.
    pub(super) steps_shown: bool,
    /// The marks have been looked at and put aside.
    pub(super) marks_aside: bool,
    pub(super) coach: Coach,
    pub(super) diagram: diagram::Sheet,
    pub(super) shelf: Shelf,
    /// A record that is being read, over everything else.
    pub(super) reading: Option<Reading>,
    /// The first job's note.
    pub(super) guide: Option<Guide>,
    /// The scenario's file, where an instructor is writing it.
    pub(super) author: Option<Author>,
    /// The texts of the window's language.
    pub(super) texts: Texts,
    pub(super) waiting: Vec<Action>,
    /// The window is to be closed: what it was opened for has been done.
    pub(super) ends: bool,
}

impl Bay {
    /// Acts to be done as soon as the job stands.
    pub(super) fn begin_with(&mut self, acts: Vec<Action>) {
        self.waiting = acts;
    }

    /// Whether nothing is being done or played any more.
    pub(super) fn is_at_rest(&self) -> bool {
        self.job.is_some() && !self.busy && self.waiting.is_empty() && self.playing.is_none()
    }

    /// Takes what the worker has found out, and ends a trace that has been played.
    pub(super) fn catch_up(&mut self) {
        self.take_replies();
        if self.hand != Hand::Clamp {
            self.misfit = None;
        }
        if let Some(reading) = &mut self.reading {
            reading.catch_up();
        }
        if self.playing.as_ref().is_some_and(Playing::is_over) {
            self.playing = None;
        }
    }

    /// What the meter's display shows now, of a trace that is being played too.
    pub(super) fn meter_display(&self) -> Option<Display> {
        let scene = self.job.as_ref()?.scene();
        let live = self.playing.as_ref().and_then(Playing::display);
        match (live, &scene.rest().reading) {
            (Some(display), Some(_)) => Some(display),
            (_, Some(reading)) => Some(reading.now),
            (_, None) => scene.kit().idle_display(),
        }
    }

    /// Whether the meter sounds its tone now, of a trace that is being played too.
    pub(super) fn meter_tone(&self) -> bool {
        let Some(job) = self.job.as_ref().filter(|job| job.handed_in().is_none()) else { return false };
        let rested = || job.scene().rest().reading.as_ref().is_some_and(|reading| reading.tone);
        self.playing.as_ref().and_then(Playing::tone).unwrap_or_else(rested)
    }

    /// Whether something is being begun, done, played or dragged. What is thought over wants the time that pictures would take.
    pub(super) fn goes_on(&self) -> bool {
        self.busy || self.playing.is_some() || !self.waiting.is_empty() || self.dragging
    }

    /// Whether it has been handed in, and its marks could not be worked out.
    pub(super) fn is_unmarked(&self) -> bool {
        self.is_over() && self.marks.is_none() && !self.closed && !self.awaits_marks()
    }

    /// Whether its marks are still being worked out.
    pub(super) fn awaits_marks(&self) -> bool {
        self.is_over() && self.marks.is_none() && !self.closed && self.worker.is_some()
    }

    /// Takes the marks away, for pictures of what is there while they are awaited, or of what is there instead.
    pub(super) fn take_marks_away(&mut self, awaited: bool) {
        self.marks = None;
        self.worker = awaited.then(Worker::silent);
    }

    /// The scenario that is seen: of the job, and before there is one, of the job that will be.
    pub(super) fn shown(&self) -> &Arc<Scenario> {
        self.job.as_ref().map_or(&self.scenario, |job| job.scenario())
    }

    pub(super) fn vehicle(&self) -> &Vehicle {
        &self.shown().vehicle
    }

    /// Whether a panel is off, or a seat folded.
    pub(super) fn is_off(&self, panel: PanelId) -> bool {
        self.job.as_ref().is_some_and(|job| job.scene().panels_off()[panel.index()])
    }

    pub(super) fn last_step(&self) -> Option<&Step> {
        self.job.as_ref()?.log().last()
    }

    /// Asks for an act. Acts asked for while another is being done follow it.
    pub(super) fn act(&mut self, action: Action) {
        if self.job.as_ref().is_none_or(|job| job.handed_in().is_some()) {
            return;
        }
        self.trouble = None;
        self.waiting.push(action);
        self.send();
    }

    /// Asks the coach to say again what he has been asked already.
    pub(super) fn hear_again(&mut self) {
        if let (Some((acts, rung)), Some(worker)) = (self.unheard(), &self.worker) {
            worker.hear_again(acts, rung);
            self.coach = Coach::Thinking;
        }
    }

    fn send(&mut self) {
        if self.busy || self.waiting.is_empty() {
            return;
        }
        if let Some(worker) = &self.worker {
            worker.act(self.waiting.remove(0));
            self.busy = true;
        }
    }

    /// Whether this can be opened here at all: a paper has no coach, and no other jobs beside it; only an instructor has his
    /// sheet.
    pub(super) fn offers(&self, place: Place) -> bool {
        match place {
            Place::Author => self.author.is_some(),
            Place::Shelf => self.has_a_board(),
            Place::Settings | Place::Help => true,
            Place::Coach => self.paper.is_none() && !self.is_at_the_board(),
            _ => !self.is_at_the_board(),
        }
    }

    /// Lays aside what is open. Where there is no job, the board is what is seen then.
    pub(super) fn close(&mut self) {
        self.open = self.is_at_the_board().then_some(Place::Shelf);
    }

    /// Opens something, or closes it if it is what is open.
    pub(super) fn toggle(&mut self, place: Place) {
        if self.open == Some(place) {
            self.close();
        } else {
            self.open = Some(place);
        }
    }

    /// The job has been handed in, whether or not its marks are known yet.
    pub(super) fn is_over(&self) -> bool {
        self.job.as_ref().is_some_and(|job| job.handed_in().is_some())
    }

    /// Nothing more can be done, for this reason.
    fn fail(&mut self, why: Trouble) {
        self.coach = Coach::Silent;
        self.busy = false;
        self.trouble = Some(why);
        self.worker = None;
        self.waiting.clear();
    }

    /// Takes in what the worker has done.
    fn take_replies(&mut self) {
        let Some(reply) = self.worker.as_ref().and_then(Worker::reply) else { return };
        match reply {
            Reply::Job(job, marks) => {
                self.busy = false;
                let before = self.job.as_ref().map(|job| {
                    let scene = job.scene();
                    let reading = scene.rest().reading.as_ref();
                    let display = reading.map(|reading| reading.now).or_else(|| scene.kit().idle_display());
                    let tone = reading.is_some_and(|reading| reading.tone);
                    (
                        job.log().len(),
                        Before { lid: scene.lid(), claw_home: scene.claw_home(), display, tone },
                    )
                });
                if let (Some((steps, before)), Some(step)) = (before, job.log().last())
                    && job.log().len() > steps
                {
                    self.playing = Playing::of(step, &before);
                    if step.outcome.recording.is_some() {
                        self.open = Some(Place::Recorder);
                    }
                }
                let stands_first = self.job.is_none();
                if stands_first {
                    // A resumed job brings its own scenario, varied in its own way, and what has been written.
                    if !Arc::ptr_eq(&self.scenario, job.scenario()) {
                        // What was touched meanwhile was of the vehicle that stood there.
                        self.open = None;
                        self.hand = Hand::Empty;
                    }
                    self.scenario = Arc::clone(job.scenario());
                    self.diagram = self.diagram.without_what_is_drawn();
                    let write_up = job.write_up();
                    for (draft, line) in self.draft.write_up.iter_mut().zip(WriteUpLine::ALL) {
                        write_up.get(&line).copied().unwrap_or_default().clone_into(draft);
                    }
                }
                let refused =
                    |step: &Step| matches!(step.action, Action::Coach(_)) && step.outcome.refused.is_some();
                if job.log().last().is_some_and(refused) {
                    self.coach.give_up();
                }
                if job.handed_in().is_some() && marks.is_none() {
                    self.open = None;
                    self.hand = Hand::Empty;
                    // What was asked for behind the hand-in is not done any more.
                    self.waiting.clear();
                }
                self.job = Some(job);
                self.diagram.forget_readings();
                self.marks = marks;
                if stands_first {
                    self.find_the_place();
                }
            }
            Reply::Kept(keeping, name) => {
                self.keeping = Some(*keeping);
                self.scenario_name = name;
            }
            Reply::Closed(job) => {
                self.busy = false;
                self.job = Some(job);
                self.closed = true;
            }
            Reply::Advice(steps, said) => self.coach = Coach::Said(steps, said),
            Reply::Trouble(what) => {
                // A job that cannot be kept still begins: its first standing follows.
                self.busy = self.job.is_none();
                self.coach.give_up();
                self.trouble = Some(what);
            }
            Reply::Failed(what) => self.fail(what),
            Reply::Gone => {
                if self.busy || self.awaits_marks() || matches!(self.coach, Coach::Thinking) {
                    self.fail(Trouble::Ended);
                }
            }
        }
        self.send();
    }
}

/// Takes in what the worker has done, and ends traces that are over.
pub(super) fn follow_worker(mut bay: ResMut<Bay>) {
    bay.catch_up();
}
