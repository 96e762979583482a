//! The job on a thread of its own: acts go in, and come back done and on disk. The window never waits for either.

use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, Sender, TryRecvError, channel};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread::JoinHandle;

use probeworthy::bench::{Action, Rung};
use probeworthy::circuit::Unsolved;
use probeworthy::job::{Choice, Job, JobError, NoJournal};
use probeworthy::marks::{Debrief, Marks, mark_and_debrief};
use probeworthy::reasoning::{Advice, Advisor, Inquiry};
use probeworthy::record::{self, Keeper};
use probeworthy::say;
use probeworthy::scenario::Scenario;
use probeworthy::words::Texts;
use thread_priority::{ThreadPriority, ThreadPriorityValue};

use super::bookmark::Keeping;
use super::memory;

/// The priority at which is worked out what could be wrong, of 0 to 99: a sixth of a processor that somebody else wants too (on Linux a
/// niceness of 7). At the lowest, marks would come late on a machine that is busy with something else.
const BEHIND_THE_WINDOW: u8 = 30;

/// How a job is to begin.
#[derive(Debug)]
pub(super) enum Beginning {
    /// A new one, with this seed; it is kept under the scenario's name, if there is one.
    New(Arc<Scenario>, Option<String>, u64),
    /// One that an instructor shows, with this fault; it is not kept.
    Shown(Arc<Scenario>, String, u64),
    /// The one in this record is gone on with.
    Resume(PathBuf),
    /// The one in this record, which has been handed in, is looked at.
    Look(PathBuf),
    /// One of an assessment paper, with its record.
    OfPaper(Box<record::Sitting>),
}

/// What comes back from the worker.
pub(super) enum Reply {
    /// The job is kept here, under this name of its scenario; a paper's has none.
    Kept(Box<Keeping>, Option<String>),
    /// The job as it now stands; after the hand-in, once more with its marks as soon as they are known.
    Job(Arc<Job>, Option<Arc<(Marks, Debrief)>>),
    /// A job of a paper that has been handed in and closed: what it was worth is for whoever set the paper.
    Closed(Arc<Job>),
    /// What the coach says, and after how many steps of the log.
    Advice(usize, Box<Result<Advice, Trouble>>),
    /// Something to tell the learner; the job is as it was.
    Trouble(Trouble),
    /// The job could not be begun or resumed, or its marks not be worked out.
    Failed(Trouble),
    /// Nobody works any more.
    Gone,
}

/// Something that went wrong, to be told in the window's language.
#[derive(Clone, Debug)]
pub(super) enum Trouble {
    /// The time of an assessment paper is up.
    TimeUp,
    /// What the steps are worth cannot be worked out, and the coach has nothing to go by.
    NotWorkedOut,
    /// The marks were not kept, for this reason.
    MarksNotKept(String),
    /// What was worked out behind the window has come to an unforeseen end.
    Ended,
    /// A record was to be looked at whose job goes on.
    NotHandedIn,
    /// There is no folder in which the job could be kept.
    NoFolder,
    /// The job is not kept, for this reason.
    JobNotKept(String),
    /// Something that a file, a system or the model has said, in its words.
    Other(String),
}

impl Trouble {
    fn other(why: impl ToString) -> Self {
        Self::Other(why.to_string())
    }

    /// What is to be told.
    pub(super) fn told(&self, t: Texts) -> String {
        match self {
            Self::TimeUp => t.say("trouble-time-up").to_owned(),
            Self::NotWorkedOut => t.say("trouble-not-worked-out").to_owned(),
            Self::Ended => t.say("trouble-ended").to_owned(),
            Self::NotHandedIn => t.say("trouble-not-handed-in").to_owned(),
            Self::MarksNotKept(why) => say!(t, "trouble-marks-not-kept", why = why),
            Self::NoFolder => say!(t, "trouble-job-not-kept", why = t.say("trouble-no-folder")),
            Self::JobNotKept(why) => say!(t, "trouble-job-not-kept", why = why),
            Self::Other(why) => why.clone(),
        }
    }
}

/// What the worker is asked for.
enum Asked {
    Act(Action),
    /// What the coach says on this rung after so many steps of the log. He has been asked already.
    Again(usize, Rung),
}

/// The other end of the worker's thread.
pub(super) struct Worker {
    asked: Sender<Asked>,
    replies: Mutex<Receiver<Reply>>,
}

impl Worker {
    /// Begins a job.
    pub(super) fn start(beginning: Beginning) -> Self {
        let (asked, inbox) = channel();
        let (outbox, replies) = channel();
        std::thread::spawn(move || work(beginning, &inbox, &outbox));
        Self { asked, replies: Mutex::new(replies) }
    }

    /// One who never answers, for pictures of what is there until somebody does.
    pub(super) fn silent() -> Self {
        let (asked, inbox) = channel::<Asked>();
        let (outbox, replies) = channel();
        std::thread::spawn(move || {
            // Gone is only whoever lets go of this.
            let _open: Sender<Reply> = outbox;
            inbox.iter().for_each(drop);
        });
        Self { asked, replies: Mutex::new(replies) }
    }

    /// Asks for an act.
    pub(super) fn act(&self, action: Action) {
        // Where the worker has gone, its last reply says why.
        let _ = self.asked.send(Asked::Act(action));
    }

    /// Asks to hear the coach again.
    pub(super) fn hear_again(&self, steps: usize, rung: Rung) {
        let _ = self.asked.send(Asked::Again(steps, rung));
    }

    /// What has come back since.
    pub(super) fn reply(&self) -> Option<Reply> {
        match self.replies.lock().ok()?.try_recv() {
            Ok(reply) => Some(reply),
            Err(TryRecvError::Empty) => None,
            Err(TryRecvError::Disconnected) => Some(Reply::Gone),
        }
    }
}

fn work(beginning: Beginning, inbox: &Receiver<Asked>, outbox: &Sender<Reply>) {
    let (mut job, mut journal) = match begin(beginning, outbox) {
        Ok(begun) => begun,
        Err(why) => {
            let _ = outbox.send(Reply::Failed(why));
            return;
        }
    };
    // One thread of the machine thinks while the learner works; the others draw.
    let scenario = Arc::clone(job.scenario());
    let mut reason = Reason::Asleep(scenario);
    // An instructor tries one fault after another, and hands in hardly any.
    if matches!(job.choice(), Choice::Drawn) {
        reason.wake();
    }
    if outbox.send(standing(&job)).is_err() {
        return;
    }
    if job.handed_in().is_some() {
        report(&job, journal.as_mut(), reason, outbox);
        return;
    }
    for asked in inbox {
        let action = match asked {
            Asked::Act(action) => action,
            Asked::Again(steps, rung) => {
                let said = again(&job, steps, rung, &mut reason);
                if outbox.send(Reply::Advice(steps, Box::new(said))).is_err() {
                    return;
                }
                continue;
            }
        };
        if journal.allows_only_hand_in() && !matches!(action, Action::HandIn { .. }) {
            if outbox.send(Reply::Trouble(Trouble::TimeUp)).is_err() {
                return;
            }
            continue;
        }
        let rung = if let Action::Coach(rung) = action { Some(rung) } else { None };
        let mut advice = None;
        let reply = match job.apply(action, &mut *journal) {
            Ok(step) => {
                advice = rung.filter(|_| step.outcome.refused.is_none());
                standing(&job)
            }
            Err(error @ (JobError::Journal(_) | JobError::Unsolved(_))) => {
                Reply::Trouble(Trouble::other(error))
            }
            Err(error) => Reply::Failed(Trouble::other(error)),
        };
        if outbox.send(reply).is_err() {
            return;
        }
        if job.handed_in().is_some() {
            report(&job, journal.as_mut(), reason, outbox);
            return;
        }
        if let Some(rung) = advice {
            let said =
                reason.advisor().and_then(|advisor| advisor.advice(&job, rung).map_err(Trouble::other));
            if outbox.send(Reply::Advice(job.log().len(), Box::new(said))).is_err() {
                return;
            }
        }
    }
}

/// What the coach said after so many steps.
fn again(job: &Job, steps: usize, rung: Rung, reason: &mut Reason) -> Result<Advice, Trouble> {
    let scenario = Arc::clone(job.scenario());
    let mut then = Job::new(scenario, job.seed(), job.choice().clone()).map_err(Trouble::other)?;
    for step in job.log().iter().take(steps) {
        then.apply(step.action.clone(), &mut NoJournal).map_err(Trouble::other)?;
    }
    reason.advisor()?.advice(&then, rung).map_err(Trouble::other)
}

fn standing(job: &Job) -> Reply {
    Reply::Job(Arc::new(job.clone()), None)
}

/// The scenario as reason sees it before any act.
enum Reason {
    /// Nobody has asked yet.
    Asleep(Arc<Scenario>),
    Thinking(Thought),
    Ready(Box<Advisor>),
    Gone,
}

/// Something that is being thought over on a thread of its own, as long as somebody waits for it.
struct Thought {
    thread: JoinHandle<Result<Option<Inquiry>, Unsolved>>,
    _wanted: Arc<()>,
}

/// Held while something is thought over: whoever looks at one job after another keeps no more than one thread busy.
static ONE_THOUGHT_AT_A_TIME: Mutex<()> = Mutex::new(());

impl Thought {
    fn of(scenario: Arc<Scenario>) -> Self {
        let wanted = Arc::new(());
        let still_wanted = Arc::downgrade(&wanted);
        let thread = std::thread::spawn(move || {
            // On a small machine the window has little of its time to spare. Where that is refused, all are equal.
            if let Ok(behind) = ThreadPriorityValue::try_from(BEHIND_THE_WINDOW) {
                let _ = thread_priority::set_current_thread_priority(ThreadPriority::Crossplatform(behind));
            }
            let _one = ONE_THOUGHT_AT_A_TIME.lock().unwrap_or_else(PoisonError::into_inner);
            if still_wanted.strong_count() == 0 {
                return Ok(None);
            }
            let inquiry = Inquiry::new(scenario, 1);
            memory::give_back();
            inquiry.map(Some)
        });
        Self { thread, _wanted: wanted }
    }
}

impl Reason {
    /// Begins to think, unless that has been done.
    fn wake(&mut self) {
        if let Self::Asleep(scenario) = self {
            *self = Self::Thinking(Thought::of(Arc::clone(scenario)));
        }
    }

    fn advisor(&mut self) -> Result<&mut Advisor, Trouble> {
        self.wake();
        if let Self::Thinking(_) = self
            && let Self::Thinking(thought) = std::mem::replace(self, Self::Gone)
        {
            let fresh = thought.thread.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic));
            let fresh = fresh.map_err(Trouble::other)?.ok_or(Trouble::NotWorkedOut)?;
            *self = Self::Ready(Box::new(Advisor::knowing(fresh)));
        }
        match self {
            Self::Ready(advisor) => Ok(advisor),
            _ => Err(Trouble::NotWorkedOut),
        }
    }
}

/// Keeps and sends the marks of a job that has been handed in. What the coach knew of it is let go.
fn report(job: &Job, journal: &mut dyn Keeper, mut reason: Reason, outbox: &Sender<Reply>) {
    // What the cards of the job took goes back before the marks take as much.
    memory::give_back();
    let worked_out = reason.advisor().and_then(|advisor| {
        let fresh = std::mem::take(advisor).into_fresh(job).map_err(Trouble::other)?;
        mark_and_debrief(job, &fresh).map_err(Trouble::other)
    });
    memory::give_back();
    if let Ok(Some((marks, debrief))) = &worked_out
        && let Err(why) = journal.close(job, marks, debrief)
    {
        let _ = outbox.send(Reply::Trouble(Trouble::MarksNotKept(why.to_string())));
    }
    let reply = match worked_out {
        Ok(_) if !journal.shows_result() => Reply::Closed(Arc::new(job.clone())),
        Ok(worked_out) => Reply::Job(Arc::new(job.clone()), worked_out.map(Arc::new)),
        Err(why) => Reply::Failed(why),
    };
    let _ = outbox.send(reply);
}

fn begin(beginning: Beginning, outbox: &Sender<Reply>) -> Result<(Job, Box<dyn Keeper>), Trouble> {
    let tell = |record: &Path, name| {
        // Where nobody listens any more, that is found out with the job.
        let _ = outbox.send(Reply::Kept(Box::new(Keeping::beside(record)), name));
    };
    match beginning {
        Beginning::Resume(path) => {
            let (job, recorder, header) = record::resume(&path).map_err(Trouble::other)?;
            tell(&path, Some(header.scenario));
            Ok((job, Box::new(recorder)))
        }
        Beginning::Look(path) => {
            let (job, _) = record::replayed(&path, None).map_err(Trouble::other)?;
            if job.handed_in().is_none() {
                return Err(Trouble::NotHandedIn);
            }
            Ok((job, Box::new(NoJournal)))
        }
        Beginning::Shown(scenario, fault, seed) => {
            let job = Job::new(scenario, seed, Choice::Named(fault)).map_err(Trouble::other)?;
            Ok((job, Box::new(NoJournal)))
        }
        Beginning::OfPaper(sitting) => {
            tell(sitting.recorder.path(), None);
            Ok((sitting.job, Box::new(sitting.recorder)))
        }
        Beginning::New(scenario, name, seed) => {
            let job = Job::new(scenario, seed, Choice::Drawn).map_err(Trouble::other)?;
            let Some(name) = name else { return Ok((job, Box::new(NoJournal))) };
            let recorder = match record::default_folder() {
                Some(folder) => record::start(&job, &name, &folder, None)
                    .map_err(|why| Trouble::JobNotKept(why.to_string())),
                None => Err(Trouble::NoFolder),
            };
            match recorder {
                Ok(recorder) => {
                    tell(recorder.path(), Some(name));
                    Ok((job, Box::new(recorder)))
                }
                Err(why) => {
                    let _ = outbox.send(Reply::Trouble(why));
                    Ok((job, Box::new(NoJournal)))
                }
            }
        }
    }
}
