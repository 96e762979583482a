//! How a job gets into the bay: a new one, one that was left, one of a paper, one that an instructor shows. And how the bay gets
//! to the board, on which there is none.

use std::path::PathBuf;
use std::sync::Arc;

use probeworthy::record::Sitting;
use probeworthy::scenario::{Scenario, load};
use probeworthy::words::Texts;

use super::author::Author;
use super::bay::{Bay, Coach, Draft, Hand, Place};
use super::diagram;
use super::first_job::{self, Guide};
use super::scenery::Gaze;
use super::shelf::{Leaf, Shelf};
use super::worker::{Beginning, Worker};

impl Bay {
    /// A new job.
    pub(super) fn new(scenario: Arc<Scenario>, scenario_name: Option<String>, seed: u64) -> Self {
        let scenario = Arc::new(scenario.for_seed(seed));
        let mut bay = Self::empty(scenario, scenario_name, seed);
        bay.begin(Beginning::New(Arc::clone(&bay.scenario), bay.scenario_name.clone(), seed));
        bay
    }

    /// No job: the board is seen, and this scenario's vehicle behind it.
    pub(super) fn at_the_board(scenario: Arc<Scenario>) -> Self {
        Self { open: Some(Place::Shelf), ..Self::empty(scenario, None, 0) }
    }

    /// Before the first job, which is offered, with its vehicle. Behind it is the board.
    pub(super) fn before_the_first(scenario: Arc<Scenario>) -> Self {
        let scenario = load(first_job::SCENARIO).map_or(scenario, |loaded| Arc::new(loaded.scenario));
        Self { guide: Some(Guide::Offered), ..Self::at_the_board(scenario) }
    }

    /// Nothing has begun, for tests.
    #[cfg(test)]
    pub(super) fn waiting(scenario: Arc<Scenario>) -> Self {
        Self::empty(scenario, None, 0)
    }

    fn empty(scenario: Arc<Scenario>, scenario_name: Option<String>, seed: u64) -> Self {
        Self {
            scenario,
            scenario_name,
            seed,
            worker: None,
            keeping: None,
            job: None,
            marks: None,
            paper: None,
            closed: false,
            eye: Gaze::default(),
            // Each begins with the whole bay.
            wanted_eye: Some(Gaze::default()),
            open: Some(Place::Customer),
            hand: Hand::Empty,
            draft: Draft::default(),
            busy: false,
            trouble: None,
            playing: None,
            dragging: false,
            misfit: None,
            lead_end: None,
            marks_aside: false,
            steps_shown: false,
            coach: Coach::Silent,
            diagram: diagram::Sheet::default(),
            shelf: Shelf::default(),
            reading: None,
            guide: None,
            author: None,
            texts: Texts::english(),
            waiting: Vec::new(),
            ends: false,
        }
    }

    /// A job of an assessment paper, under these terms.
    pub(super) fn of_paper(sitting: Box<Sitting>, terms: String) -> Self {
        let scenario = Arc::clone(sitting.job.scenario());
        let mut bay = Self { paper: Some(terms), ..Self::empty(scenario, None, sitting.job.seed()) };
        bay.begin(Beginning::OfPaper(sitting));
        bay
    }

    /// A scenario that an instructor is writing.
    pub(super) fn of_author(author: Author) -> Self {
        let (scenario, _) = author.shown();
        let mut bay =
            Self { author: Some(author), open: Some(Place::Author), ..Self::empty(scenario, None, 0) };
        bay.show_anew();
        bay
    }

    /// Begins anew with what the instructor's sheet says, and the fault that it names.
    pub(super) fn show_anew(&mut self) {
        let Some(author) = self.author.take() else { return };
        let (scenario, fault) = author.shown();
        // What is open may be of a part that is not there any more.
        let open = self.open.filter(|open| matches!(open, Place::Author | Place::Diagram | Place::Customer));
        let zoomed = self.diagram.without_what_is_drawn();
        *self = Self {
            author: Some(author),
            open,
            diagram: zoomed,
            texts: self.texts,
            // What is looked at is what is being written about.
            wanted_eye: None,
            ..Self::empty(Arc::clone(&scenario), None, self.seed)
        };
        self.begin(Beginning::Shown(scenario, fault, self.seed));
    }

    fn begin(&mut self, beginning: Beginning) {
        self.worker = Some(Worker::start(beginning));
        self.busy = true;
    }

    /// Begins another job of the same scenario.
    pub(super) fn next_job(&mut self) {
        self.begin_another(Arc::clone(&self.scenario), self.scenario_name.clone());
    }

    /// Begins a job of a scenario.
    pub(super) fn begin_another(&mut self, scenario: Arc<Scenario>, name: Option<String>) {
        use std::hash::{BuildHasher, Hasher, RandomState};
        if self.author.is_some() {
            self.show_anew();
            return;
        }
        let seed = RandomState::new().build_hasher().finish() % 1_000_000;
        self.begin_with_seed(scenario, name, seed);
    }

    /// Begins the job of a scenario that a seed draws.
    pub(super) fn begin_with_seed(&mut self, scenario: Arc<Scenario>, name: Option<String>, seed: u64) {
        // Another seed varies it anew.
        let written = Arc::new(scenario.written().clone());
        self.exchange(Self::new(written, name, seed));
    }

    /// Goes on with a job that was left, from its record.
    pub(super) fn go_on(&mut self, record: PathBuf) {
        let mut next = Self { open: None, ..Self::empty(Arc::clone(&self.scenario), None, 0) };
        next.begin(Beginning::Resume(record));
        self.exchange(next);
    }

    /// Puts the job by, and goes to the board. Its record has every act, so that it can be gone on with.
    pub(super) fn leave(&mut self) {
        self.exchange(Self::at_the_board(Arc::clone(&self.scenario)));
        self.shelf.forget_the_past();
        (self.shelf.leaf, self.shelf.greeted) = (Leaf::Next, false);
    }

    /// Another job, or none, takes the place of what is here. What has been read for the board is kept.
    fn exchange(&mut self, next: Self) {
        self.keep_the_place();
        let shelf = std::mem::take(&mut self.shelf);
        *self = Self { shelf, texts: self.texts, ..next };
    }

    /// There is no job, none is being begun, and this window is not one for a single job.
    pub(super) fn is_at_the_board(&self) -> bool {
        self.job.is_none() && self.worker.is_none() && self.guide.is_none() && self.has_a_board()
    }

    /// Other jobs can be begun here: a paper has none beside it, and of an instructor the file is what is played.
    pub(super) fn has_a_board(&self) -> bool {
        self.paper.is_none() && self.author.is_none()
    }

    /// Whether another job may follow: a paper's is the only one.
    pub(super) fn may_begin_another(&self) -> bool {
        self.paper.is_none()
    }

    /// Nothing is being played, and nothing can be chosen: the job could not be begun, or has broken off.
    pub(super) fn is_stranded(&self) -> bool {
        self.worker.is_none() && !self.is_at_the_board()
    }
}
