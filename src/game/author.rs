//! The instructor's sheet: a scenario's file beside the bay. What is saved elsewhere is followed at once; what is changed here
//! keeps the author's comments; any fault can be tried with the answer in view.

use std::sync::Arc;
use std::thread::JoinHandle;
use std::time::Duration;

use bevy::prelude::{Real, Res, ResMut, Time};
use bevy_egui::egui::{self, DragValue, RichText, ScrollArea, TextEdit, WidgetInfo, WidgetType};
use probeworthy::bench::KitItem;
use probeworthy::say;
use probeworthy::scenario::{Aspect, Change, Loaded, Range, Scenario, Watch, load_text};
use probeworthy::survey::pool_problems;
use probeworthy::words::{self, Texts};
use probeworthy::written::report;

use super::bay::Bay;
use super::replaced;
use super::scenery::Palette;
use super::theme::{SMALL, colour};

/// How often the files are looked at.
const LOOK: Duration = Duration::from_millis(250);
/// Height of the list of faults, in points.
const LIST: f32 = 150.0;
/// Height of what stands below the form, in points.
const BUTTONS: f32 = 64.0;
/// Height of one of its rows.
const ROW: f32 = 22.0;

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
        self.title.clone_from(&self.scenario.title);
        self.customer.clone_from(&self.scenario.customer);
        self.other_words = self.scenario.other_words.join("\n");
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

/// The card of the instructor's sheet.
pub(super) fn card(ui: &mut egui::Ui, bay: &mut Bay, palette: &Palette) {
    let t = bay.texts;
    let Some(author) = &mut bay.author else { return };
    state(ui, t, author, palette);
    ui.separator();
    let mut anew = false;
    // The buttons below stay in view, however much is wrong above.
    let height = (ui.available_height() - BUTTONS).max(LIST);
    ScrollArea::vertical().max_height(height).show(ui, |ui| {
        anew = pool(ui, t, author);
        ui.add_space(6.0);
        form(ui, t, author);
    });
    ui.separator();
    ui.horizontal_wrapped(|ui| {
        let unsaved = author.is_unsaved();
        if ui.add_enabled(unsaved, egui::Button::new(t.say("author-save"))).clicked() {
            author.save();
        }
        if ui.add_enabled(unsaved, egui::Button::new(t.say("author-undo"))).clicked() {
            author.put_back();
            anew = true;
        }
        ui.label(RichText::new(t.say("author-comments")).size(SMALL));
    });
    if let Some(slip) = &author.slip {
        let slip = match slip {
            Slip::InTheFile => t.say("author-slip").to_owned(),
            Slip::NotSaved(why) => {
                say!(t, "author-not-saved", path = author.watch.path().display().to_string(), why = why)
            }
            Slip::Told(why) => why.clone(),
        };
        trouble(ui, &slip, palette);
    }
    if anew {
        bay.show_anew();
    }
}

/// How the file stands.
fn state(ui: &mut egui::Ui, t: Texts, author: &Author, palette: &Palette) {
    ui.label(RichText::new(author.watch.path().display().to_string()).monospace().size(SMALL));
    if let Some(problems) = &author.problems {
        ui.label(t.say("author-broken"));
        trouble(ui, problems, palette);
        return;
    }
    let told = match (&author.tried_out, author.parted) {
        (_, true) => t.say("author-parted"),
        (None, _) => t.say("author-trying"),
        (Some(told), _) if told.is_empty() => t.say("author-sound"),
        (Some(_), _) => t.say("author-found"),
    };
    ui.label(told);
    if let Some(told) = author.tried_out.as_deref().filter(|told| !told.is_empty()) {
        trouble(ui, told, palette);
    }
}

/// Problems as they are reported in a terminal.
fn trouble(ui: &mut egui::Ui, text: &str, palette: &Palette) {
    ScrollArea::both().id_salt("problems").max_height(120.0).show(ui, |ui| {
        let text =
            RichText::new(text.trim_end()).monospace().size(SMALL).color(colour(palette, "paper-warning"));
        ui.add(egui::Label::new(text).extend());
    });
}

/// The pool: true where another fault is to be shown.
fn pool(ui: &mut egui::Ui, t: Texts, author: &mut Author) -> bool {
    ui.label(RichText::new(t.say("author-pool")).strong());
    let vehicle = &author.scenario.vehicle;
    let all: u64 = author.scenario.faults.iter().map(|fault| fault.weight).sum();
    let rows: Vec<(String, String, u64)> = author
        .scenario
        .faults
        .iter()
        .map(|fault| (fault.id.clone(), words::fault_title(t, vehicle, fault), fault.weight))
        .collect();
    let mut change = None;
    let mut try_it = None;
    ScrollArea::vertical().id_salt("pool").max_height(LIST).show(ui, |ui| {
        for (at, (id, title, weight)) in rows.iter().enumerate() {
            ui.horizontal(|ui| {
                let here = *id == author.fault;
                let text = if here { t.say("author-here") } else { t.say("author-try") };
                let button = ui.add_sized([60.0, ROW], egui::Button::selectable(here, text));
                named(&button, say!(t, "author-try-this", fault = title));
                if button.clicked() {
                    try_it = Some(id.clone());
                }
                let mut new = *weight;
                let drag = DragValue::new(&mut new).range(1..=1_000_000).speed(0.1);
                let drag = ui.add_sized([52.0, ROW], drag);
                named(&drag, say!(t, "author-weight-of", fault = title));
                if new != *weight {
                    change = u32::try_from(new).ok().map(|new| Change::Weight(at, new));
                }
                #[expect(clippy::cast_precision_loss, reason = "a share in percent")]
                let share = 100.0 * *weight as f64 / all.max(1) as f64;
                let share = RichText::new(format!("{share:>5.1} %")).monospace().size(SMALL);
                ui.add_sized([56.0, ROW], egui::Label::new(share));
                let out = ui.add_enabled(rows.len() > 1, egui::Button::new(t.say("author-take-out")));
                named(&out, say!(t, "author-take-out-this", fault = title));
                if out.clicked() {
                    change = Some(Change::TakeOut(at));
                }
                ui.add(egui::Label::new(RichText::new(title).size(SMALL)).truncate()).on_hover_text(title);
            });
        }
    });
    ui.horizontal_wrapped(|ui| {
        let hint = "(is: Parted(conductor: \"latch-feed\", at: \"bellows\"), weight: 1)";
        let wide = ui.available_width() - 90.0;
        let field = TextEdit::singleline(&mut author.entry).hint_text(hint).desired_width(wide);
        named(&ui.add(field.font(egui::TextStyle::Monospace)), t.say("author-one-more").to_owned());
        if ui.add_enabled(!author.entry.trim().is_empty(), egui::Button::new(t.say("author-add"))).clicked() {
            change = Some(Change::Add(author.entry.clone()));
        }
    });
    if let Some(change) = change
        && author.change(&change)
        && matches!(change, Change::Add(_))
    {
        author.entry.clear();
    }
    if let Some(id) = try_it {
        author.fault = id;
        return true;
    }
    false
}

/// What is said, how it stands and how it is marked.
fn form(ui: &mut egui::Ui, t: Texts, author: &mut Author) {
    let scenario = Arc::clone(&author.scenario);
    let quiet = author.slip.is_none();
    let mut change = None;
    ui.label(RichText::new(t.say("author-title")).strong());
    if text(ui, &mut author.title, 1, t.say("author-title"), quiet) && author.title != scenario.title {
        change = Some(Change::Title(author.title.clone()));
    }
    ui.label(RichText::new(t.say("author-customer")).strong());
    if text(ui, &mut author.customer, 3, t.say("author-customer"), quiet)
        && author.customer != scenario.customer
    {
        change = Some(Change::Customer(author.customer.clone()));
    }
    ui.label(RichText::new(t.say("author-other-words")).strong());
    if lines(ui, &mut author.other_words, 3, t.say("author-other-words"), quiet) {
        let all: Vec<String> = author
            .other_words
            .lines()
            .map(str::trim)
            .filter(|line| !line.is_empty())
            .map(str::to_owned)
            .collect();
        if all != scenario.other_words {
            change = Some(Change::OtherWords(all));
        }
    }
    ui.horizontal_wrapped(|ui| {
        ui.label(t.say("author-varies"));
        for (aspect, id) in [
            (Aspect::Cavities, "author-varies-cavities"),
            (Aspect::Colours, "author-varies-colours"),
            (Aspect::Stations, "author-varies-stations"),
            (Aspect::Words, "author-varies-words"),
        ] {
            let mut varies = !scenario.fixed.contains(&aspect);
            if ui.checkbox(&mut varies, t.say(id)).changed() {
                let fixed = Aspect::ALL
                    .into_iter()
                    .filter(|one| if *one == aspect { !varies } else { scenario.fixed.contains(one) });
                change = Some(Change::Fixed(fixed.collect()));
            }
        }
    });
    ui.horizontal_wrapped(|ui| {
        ui.label(t.say("author-par"));
        let par = number(
            ui,
            scenario.par_minutes,
            Range::PAR_MINUTES,
            t.say("author-min"),
            t.say("author-par-name"),
        );
        change = change.take().or(par.map(Change::ParMinutes));
        ui.label(t.say("author-yard"));
        let celsius = number(ui, scenario.conditions.celsius, Range::CELSIUS, " °C", t.say("author-celsius"));
        change = change.take().or(celsius.map(Change::Celsius));
        for (label, now, make) in [
            (t.say("author-locked"), scenario.conditions.locked, Change::Locked as fn(bool) -> Change),
            (t.say("author-wet"), scenario.conditions.wet, Change::Wet),
            (t.say("author-coach"), scenario.coaching, Change::Coaching),
        ] {
            let mut new = now;
            if ui.checkbox(&mut new, label).changed() {
                change = Some(make(new));
            }
        }
    });
    ui.horizontal_wrapped(|ui| {
        ui.label(t.say("author-kit"));
        for item in KitItem::ALL {
            let mut allowed = !scenario.without.contains(&item);
            if ui.checkbox(&mut allowed, words::kit_title(t, item)).changed() {
                let without = KitItem::ALL
                    .into_iter()
                    .filter(|one| if *one == item { !allowed } else { scenario.without.contains(one) });
                change = Some(Change::Without(without.collect()));
            }
        }
    });
    ui.horizontal_wrapped(|ui| {
        let mut limited = scenario.most_minutes.is_some();
        if ui.checkbox(&mut limited, t.say("author-limited")).changed() {
            change = Some(Change::MostMinutes(limited.then_some(2.0 * scenario.par_minutes)));
        }
        if let Some(most) = scenario.most_minutes {
            let new = number(ui, most, Range::MOST_MINUTES, t.say("author-min"), t.say("author-limit-name"));
            change = change.take().or(new.map(|new| Change::MostMinutes(Some(new))));
            ui.label(t.say("author-limit"));
        }
    });
    ui.label(RichText::new(t.say("author-marks")).strong());
    let weights = scenario.weights;
    let now =
        [weights.diagnosis, weights.reasoning, weights.parts, weights.time, weights.proof, weights.safety];
    ui.horizontal_wrapped(|ui| {
        for (at, (id, now)) in WEIGHTS.into_iter().zip(now).enumerate() {
            let name = t.say(id);
            ui.label(name);
            let new =
                number(ui, now, Range::WEIGHT_OF_MARKS, "", &say!(t, "author-weight-name", part = name));
            change = change.take().or(new.map(|new| Change::Marks(at, new)));
        }
    });
    if let Some(change) = change {
        author.change(&change);
    }
}

/// The texts' ids of what is weighed, in the order of [`Change::Marks`].
const WEIGHTS: [&str; 6] = [
    "author-weight-diagnosis",
    "author-weight-reasoning",
    "author-weight-parts",
    "author-weight-time",
    "author-weight-proof",
    "author-weight-safety",
];

/// A text that is taken when the keyboard leaves it. It wraps, but is one line in the file.
fn text(ui: &mut egui::Ui, text: &mut String, rows: usize, label: &str, quiet: bool) -> bool {
    let taken = lines(ui, text, rows, label, quiet);
    if text.contains('\n') {
        *text = text.replace('\n', " ");
    }
    taken
}

/// Lines that are taken when the keyboard leaves them.
fn lines(ui: &mut egui::Ui, text: &mut String, rows: usize, label: &str, quiet: bool) -> bool {
    let field = TextEdit::multiline(text).desired_rows(rows).desired_width(f32::INFINITY);
    let response = ui.add(field);
    named(&response, label.to_owned());
    // A card that is closed takes the keyboard away without a word: then it is taken when the card is opened again, unless
    // something was wrong with it.
    response.lost_focus() || (quiet && !response.has_focus())
}

/// A number within a range: the new one where it was changed.
fn number(ui: &mut egui::Ui, now: f64, range: Range, suffix: &str, label: &str) -> Option<f64> {
    let mut new = now;
    let drag =
        DragValue::new(&mut new).range(range.low..=range.high).speed(0.25).max_decimals(1).suffix(suffix);
    named(&ui.add(drag), label.to_owned());
    #[expect(clippy::float_cmp, reason = "untouched it is the same number")]
    let changed = new != now;
    changed.then_some(new)
}

/// Gives a widget a name of its own for a screen reader.
fn named(response: &egui::Response, label: String) {
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Other, true, label.clone()));
}
