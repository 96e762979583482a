//! The job on a thread of its own: acts go in, and come back done and on disk. The window never waits for either.

use std::path::PathBuf;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::sync::{Arc, Mutex};

use probeworthy::bench::Action;
use probeworthy::job::{Choice, Job, JobError, Journal, NoJournal};
use probeworthy::marks::{Marks, mark};
use probeworthy::record;
use probeworthy::scenario::Scenario;

/// How a job is to begin.
#[derive(Clone, Debug)]
pub(super) enum Beginning {
    /// A new one, with this seed.
    New(Arc<Scenario>, String, u64),
    /// The one in this record.
    Resume(PathBuf),
}

/// What comes back from the worker.
pub(super) enum Reply {
    /// The job as it now stands; after the hand-in, with its marks.
    Job(Box<Job>, Option<Marks>),
    /// Something to tell the learner; the job is as it was.
    Trouble(String),
    /// The job could not be begun or resumed.
    Failed(String),
}

/// The other end of the worker's thread.
pub(super) struct Worker {
    acts: Sender<Action>,
    replies: Mutex<Receiver<Reply>>,
}

impl Worker {
    /// Begins a job.
    pub(super) fn start(beginning: Beginning) -> Self {
        let (acts, inbox) = channel();
        let (outbox, replies) = channel();
        std::thread::spawn(move || work(beginning, &inbox, &outbox));
        Self { acts, replies: Mutex::new(replies) }
    }

    /// Asks for an act.
    pub(super) fn act(&self, action: Action) {
        // Where the worker has gone, its last reply says why.
        let _ = self.acts.send(action);
    }

    /// What has come back since.
    pub(super) fn reply(&self) -> Option<Reply> {
        self.replies.lock().ok()?.try_recv().ok()
    }
}

fn work(beginning: Beginning, inbox: &Receiver<Action>, outbox: &Sender<Reply>) {
    let (mut job, mut journal) = match begin(beginning, outbox) {
        Ok(begun) => begun,
        Err(why) => {
            let _ = outbox.send(Reply::Failed(why));
            return;
        }
    };
    if outbox.send(standing(&job)).is_err() {
        return;
    }
    for action in inbox {
        let reply = match job.apply(action, journal.as_mut()) {
            Ok(_) => standing(&job),
            Err(error @ (JobError::Journal(_) | JobError::Unsolved(_))) => Reply::Trouble(error.to_string()),
            Err(error) => Reply::Failed(error.to_string()),
        };
        if outbox.send(reply).is_err() {
            return;
        }
    }
}

fn standing(job: &Job) -> Reply {
    match mark(job) {
        Ok(marks) => Reply::Job(Box::new(job.clone()), marks),
        Err(error) => Reply::Failed(error.to_string()),
    }
}

fn begin(beginning: Beginning, outbox: &Sender<Reply>) -> Result<(Job, Box<dyn Journal>), String> {
    match beginning {
        Beginning::Resume(path) => {
            let (job, recorder, _) = record::resume(&path).map_err(|why| why.to_string())?;
            Ok((job, Box::new(recorder)))
        }
        Beginning::New(scenario, name, seed) => {
            let job = Job::new(scenario, seed, Choice::Drawn).map_err(|why| why.to_string())?;
            let recorder = match record::default_folder() {
                Some(folder) => record::start(&job, &name, &folder, None).map_err(|why| why.to_string()),
                None => Err("there is no folder for your data".to_owned()),
            };
            match recorder {
                Ok(recorder) => Ok((job, Box::new(recorder))),
                Err(why) => {
                    let _ = outbox.send(Reply::Trouble(format!("This job will not be kept: {why}")));
                    Ok((job, Box::new(NoJournal)))
                }
            }
        }
    }
}
