//! The instructor's sheet: a scenario's file beside the bay. What is saved elsewhere is followed at once; what is changed here
//! keeps the author's comments; any fault can be tried with the answer in view.

mod sheet;

use std::sync::Arc;
use std::thread::JoinHandle;
use std::time::Duration;

use bevy::prelude::{Real, Res, ResMut, Time};
use probeworthy::scenario::{Change, Loaded, Scenario, Watch, load_text};
use probeworthy::survey::pool_problems;
use probeworthy::vehicle::Title;
use probeworthy::written::report;

use self::sheet::Leaf;
pub(super) use self::sheet::{FOOT, card, foot, head};
use super::bay::Bay;
use super::replaced;

/// How often the files are looked at.
const LOOK: Duration = Duration::from_millis(250);
/// A file that is being written.
pub(super) struct Author {
    watch: Watch,
    /// When it is looked at next, since the program began.
    next_look: Duration,
    /// The file's text as it was last read.
    saved: String,
    /// The text that was last taken from it, or written to it from here.
    base: String,
    /// The same with what has been changed here.
    text: String,
    /// What the text says.
    scenario: Arc<Scenario>,
    /// What is wrong with the file, with places and hints.
    problems: Option<String>,
    /// What trials tell of it, and on their way.
    tried_out: Option<String>,
    on_trial: Option<JoinHandle<String>>,
    /// The file was saved elsewhere while something was changed here.
    parted: bool,
    /// The fault that is there now.
    fault: String,
    title: String,
    customer: String,
    /// A line for each.
    other_words: String,
    entry: String,
    /// Why a change was not taken.
    slip: Option<Slip>,
    leaf: Leaf,
}

/// Why a change was not taken or the file not written.
enum Slip {
    /// The file itself has a slip.
    InTheFile,
    /// The file was not written, for this reason.
    NotSaved(String),
    /// In words, as a terminal has them.
    Told(String),
}

impl Author {
    /// Begins with a file that has been read.
    pub(super) fn new(loaded: Loaded) -> Self {
        let mut watch = Watch::new(&loaded.file.path);
        // What has been read is no news.
        let _ = watch.look();
        let text = loaded.file.text.clone();
        let mut author = Self {
            watch,
            next_look: Duration::ZERO,
            saved: text.clone(),
            base: text.clone(),
            text,
            scenario: Arc::new(loaded.scenario.clone()),
            problems: None,
            tried_out: None,
            on_trial: None,
            parted: false,
            fault: String::new(),
            title: String::new(),
            customer: String::new(),
            other_words: String::new(),
            entry: String::new(),
            slip: None,
            leaf: Leaf::default(),
        };
        author.fault = author.first_fault();
        author.fill_in();
        author.try_out(loaded);
        author
    }

    /// The scenario, and the fault that is to be shown on it.
    pub(super) fn shown(&self) -> (Arc<Scenario>, String) {
        (Arc::clone(&self.scenario), self.fault.clone())
    }

    fn first_fault(&self) -> String {
        self.scenario.faults.first().map(|fault| fault.id.clone()).unwrap_or_default()
    }

    fn fill_in(&mut self) {
        self.scenario.title.written().clone_into(&mut self.title);
        self.scenario.customer.written().clone_into(&mut self.customer);
        let others: Vec<&str> = self.scenario.other_words.iter().map(Title::written).collect();
        self.other_words = others.join("\n");
    }

    fn is_unsaved(&self) -> bool {
        self.text != self.base
    }

    /// Whether all trials have been played.
    pub(super) fn has_tried_all(&self) -> bool {
        self.on_trial.as_ref().is_none_or(JoinHandle::is_finished)
    }

    /// Plays the trials of every fault, on a thread of their own.
    fn try_out(&mut self, loaded: Loaded) {
        self.tried_out = None;
        self.on_trial = Some(std::thread::spawn(move || {
            let problems: Vec<String> =
                pool_problems(&loaded).iter().map(|one| report(&loaded.file, one, false)).collect();
            problems.join("\n")
        }));
    }

    /// Looks at the files when it is time. True where the bay has to begin anew with what is in them.
    fn follow(&mut self, now: Duration) -> bool {
        if let Some(trial) = self.on_trial.take_if(|trial| trial.is_finished()) {
            self.tried_out = trial.join().ok();
        }
        if now < self.next_look {
            return false;
        }
        self.next_look = now + LOOK;
        let Some(found) = self.watch.look() else { return false };
        if let Some(text) = self.watch.text() {
            text.clone_into(&mut self.saved);
        }
        // Saved from here, the two are the same again.
        if self.text == self.saved {
            self.base.clone_from(&self.saved);
        }
        self.parted = self.is_unsaved();
        match found {
            Ok(loaded) => {
                self.problems = None;
                if !self.parted {
                    self.take(loaded);
                    return true;
                }
                false
            }
            Err(why) => {
                self.problems = Some(why.to_string());
                false
            }
        }
    }

    /// Takes what has been read for what is shown here.
    fn take(&mut self, loaded: Loaded) {
        loaded.file.text.clone_into(&mut self.text);
        self.base.clone_from(&self.text);
        self.scenario = Arc::new(loaded.scenario.clone());
        if self.scenario.fault(&self.fault).is_none() {
            self.fault = self.first_fault();
        }
        self.slip = None;
        self.fill_in();
        self.try_out(loaded);
    }

    /// Makes a change, unless the file could not be read with it.
    fn change(&mut self, change: &Change) -> bool {
        let Some(text) = change.of(&self.text) else {
            self.slip = Some(Slip::InTheFile);
            return false;
        };
        if text == self.text {
            return true;
        }
        match load_text(self.watch.path(), &text) {
            Ok(loaded) => {
                self.text = text;
                self.scenario = Arc::new(loaded.scenario);
                self.slip = None;
                true
            }
            Err(why) => {
                self.slip = Some(Slip::Told(why.to_string()));
                false
            }
        }
    }

    /// Writes the file; the next look finds it changed.
    fn save(&mut self) {
        match replaced::write(self.watch.path(), &self.text) {
            Ok(()) => {
                self.parted = false;
                self.base.clone_from(&self.text);
                self.next_look = Duration::ZERO;
            }
            Err(why) => self.slip = Some(Slip::NotSaved(why.to_string())),
        }
    }

    /// Takes the file's text again.
    fn put_back(&mut self) {
        match load_text(self.watch.path(), &self.saved) {
            Ok(loaded) => {
                self.parted = false;
                self.take(loaded);
            }
            Err(why) => self.slip = Some(Slip::Told(why.to_string())),
        }
    }
}

/// Follows the file.
pub(super) fn follow(mut bay: ResMut<Bay>, time: Res<Time<Real>>) {
    if bay.author.is_none() {
        return;
    }
    if bay.author.as_mut().is_some_and(|author| author.follow(time.elapsed())) {
        bay.show_anew();
    }
}
