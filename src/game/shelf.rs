//! The jobs on the shelf: what is best practised next, and all jobs to begin. The board shows them.

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::{Arc, LazyLock};

use bevy_egui::egui::{self, Align, Atom, Id, Layout, Rect, RichText, Sense, Stroke, StrokeKind, pos2, vec2};
use probeworthy::practice::{Done, Lesson, Next, Why, in_order, next_jobs};
use probeworthy::record::{self, Clock, Glance, Kept, Standing, SystemClock};
use probeworthy::say;
use probeworthy::scenario::{SHELF, Scenario, load};
use probeworthy::vehicle::Title;
use probeworthy::words::{self, Texts};

use super::bay::Bay;
use super::scenery::Palette;
use super::theme::{SCROLL_BAR, SMALL, button_size, colour};
use super::{board, first_job};

/// Size of a heading within the card.
pub(super) const HEADING: f32 = 16.5;
/// So many jobs are suggested.
const SUGGESTED: usize = 3;

/// The scenarios of the shelf and the learner's past, read when they are first looked at.
#[derive(Clone, Debug, Default)]
pub(super) struct Shelf {
    scenarios: Option<Vec<(&'static str, Arc<Scenario>)>>,
    past: Option<Arc<Past>>,
    /// When the records' folder was looked at last, in milliseconds since 1970 began.
    looked_ms: u64,
    /// The past of a learner who is made up: nobody's records are read.
    made_up: Option<Arc<Past>>,
    /// The leaf of the board that is open.
    pub(super) leaf: Leaf,
    /// The keyboard has been offered what is likely to be wanted first.
    pub(super) greeted: bool,
    /// Of this one the customer's words are shown.
    looked_at: Option<&'static str>,
}

/// A leaf of the board.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Leaf {
    /// Jobs that were left, and what to practise next.
    #[default]
    Next,
    /// All jobs.
    Jobs,
    /// Jobs that have been done, and how far that has brought the learner.
    Records,
}

/// What the learner's records say.
#[derive(Debug, Default)]
pub(super) struct Past {
    pub(super) done: Vec<Done>,
    next: Vec<Next>,
    lessons: Vec<Lesson>,
    /// All records, the latest first, each with its job's title.
    pub(super) kept: Vec<(Kept, Title)>,
    /// When they were read, in milliseconds since 1970 began.
    pub(super) read_ms: u64,
    /// What was seen of the folder before that.
    glance: Glance,
}

/// A record that is open elsewhere is looked at again after so many milliseconds: the job that has just been put by is, until
/// what was begun in it has been done.
const AGAIN_MS: u64 = 1000;

impl Past {
    /// Whether its folder is not any more as it was when it was read.
    fn has_changed(&self, folder: &Path) -> bool {
        let in_use = self.kept.iter().filter(|(one, _)| one.standing == Standing::InUse);
        let in_use: Vec<&Path> = in_use.map(|(one, _)| &*one.path).collect();
        let closed = in_use.iter().any(|path| !record::is_in_use(path));
        closed || Glance::at(folder) != self.glance
    }
}

impl Shelf {
    /// That of a made-up learner who has done these jobs and has these records, with one row opened, for pictures and tests. They
    /// are read an hour after the last of them was written.
    pub(super) fn of_a_learner(
        done: Vec<Done>,
        kept: Vec<(Kept, Title)>,
        looked_at: &'static str,
        leaf: Leaf,
    ) -> Self {
        let lessons = probeworthy::practice::shelf_lessons();
        let next = next_jobs(&lessons, &done, SUGGESTED);
        let last_ms = kept.iter().map(|(one, _)| one.at_ms).max().unwrap_or_default();
        let read_ms = last_ms + 3_600_000;
        let past = Past { done, next, lessons, kept, read_ms, glance: Glance::default() };
        Self { made_up: Some(Arc::new(past)), looked_at: Some(looked_at), leaf, ..Self::default() }
    }

    fn scenarios(&mut self) -> &[(&'static str, Arc<Scenario>)] {
        self.scenarios.get_or_insert_with(|| {
            // What comes with the program is sound: a test of the core reads all of it.
            SHELF.iter().filter_map(|one| Some((one.id, Arc::new(load(one.id).ok()?.scenario)))).collect()
        })
    }

    /// A scenario that comes with the program.
    fn find(&mut self, name: &str) -> Option<(&'static str, Arc<Scenario>)> {
        self.scenarios().iter().find(|(id, _)| *id == name).cloned()
    }

    /// The past is read anew when the shelf is looked at again.
    pub(super) fn forget_the_past(&mut self) {
        self.past = None;
    }

    /// The same where it is time to look, and something has changed since it was read. Only names, times and lengths are looked at.
    pub(super) fn look_again(&mut self, now_ms: u64) {
        let Some(past) = self.past.clone() else { return };
        let Some(folder) = record::default_folder().filter(|_| self.made_up.is_none()) else { return };
        if now_ms.saturating_sub(self.looked_ms.max(past.read_ms)) <= AGAIN_MS {
            return;
        }
        self.looked_ms = now_ms;
        if past.has_changed(&folder) {
            self.forget_the_past();
        }
    }

    pub(super) fn past(&mut self) -> Arc<Past> {
        if self.past.is_none() {
            let made_up = self.made_up.clone();
            self.past = Some(made_up.unwrap_or_else(|| Arc::new(self.read_the_past())));
        }
        self.past.clone().unwrap_or_default()
    }

    fn read_the_past(&mut self) -> Past {
        let lessons = in_order(self.scenarios().iter().map(|(_, scenario)| &**scenario));
        let folder = record::default_folder();
        // Looked at before it is read: what is written meanwhile is seen by the next look.
        let before = folder.as_deref().map(Glance::at).unwrap_or_default();
        let done = folder.as_deref().map(record::history).unwrap_or_default();
        let kept = folder.as_deref().map(record::kept).unwrap_or_default();
        let mut titles = BTreeMap::new();
        let kept = kept
            .into_iter()
            .map(|one| {
                // What is no record goes by its file's name.
                let file = one.path.file_name().map(|name| name.to_string_lossy().into_owned());
                let name = Some(one.scenario.clone()).filter(|name| !name.is_empty()).or(file);
                let name = name.unwrap_or_default();
                let title = titles.entry(name.clone()).or_insert_with(|| self.title(&name)).clone();
                (one, title)
            })
            .collect();
        let next = next_jobs(&lessons, &done, SUGGESTED);
        Past { done, next, lessons, kept, read_ms: SystemClock::default().now_ms(), glance: before }
    }

    /// What a record's scenario is called: where it is not there any more, as the record names it.
    fn title(&mut self, name: &str) -> Title {
        match self.find(name) {
            Some((_, scenario)) => scenario.title.clone(),
            None => load(name).map_or_else(|_| Title::new(name), |loaded| loaded.scenario.title),
        }
    }
}

/// How hard a scenario is, from 1 to 5, and how many minutes of work its plan expects: what its survey found, as it stands in
/// the table of the authors' guide. A survey takes seconds, and is not made while somebody waits for the window.
fn figures(id: &str) -> Option<(u8, u16)> {
    /// The tests of the shelf hold its table to what surveys find.
    const GUIDE: &str = include_str!("../../scenarios/README.md");
    /// Read once: the card asks for every row each time it is drawn.
    static TABLE: LazyLock<BTreeMap<&str, (u8, u16)>> =
        LazyLock::new(|| GUIDE.lines().filter_map(row_of_table).collect());
    TABLE.get(id).copied()
}

/// The lesson with which a beginner begins: eyes and fuses suffice.
const EASIEST: &str = "first-fuse";

/// A scenario's name, and the two figures at the end of its row.
fn row_of_table(line: &str) -> Option<(&str, (u8, u16))> {
    let (id, cells) = line.strip_prefix("| `")?.split_once("` |")?;
    let mut cells = cells.trim_end().trim_end_matches('|').rsplit('|').map(str::trim);
    let minutes = cells.next()?.parse().ok()?;
    Some((id, (cells.next()?.parse().ok()?, minutes)))
}

/// The best mark that a learner has had in a scenario.
fn best(done: &[Done], scenario: &str) -> Option<f64> {
    done.iter().filter(|job| job.scenario == scenario).map(|job| job.total).reduce(f64::max)
}

/// The lessons in the order in which they are listed: the first one first, then from the easiest to the hardest, those that are
/// equally hard as a beginner takes them.
fn listed(lessons: &[Lesson]) -> Vec<&Lesson> {
    let mut all: Vec<&Lesson> = lessons.iter().collect();
    all.sort_by_key(|lesson| {
        let (difficulty, _) = figures(&lesson.scenario).unwrap_or((u8::MAX, 0));
        (lesson.scenario != EASIEST, difficulty)
    });
    all
}

/// Why a lesson is suggested, in a sentence that tells what it is good for.
fn reason(t: Texts, lesson: &Lesson, why: Why, done: &[Done]) -> String {
    let skill = words::skill(t, lesson.skill);
    let (difficulty, minutes) = figures(&lesson.scenario).unwrap_or_default();
    let trained = done.iter().any(|job| job.skill == lesson.skill);
    match why {
        Why::New if done.is_empty() && lesson.scenario == EASIEST => {
            say!(t, "shelf-why-first", minutes = minutes)
        }
        Why::New if trained => say!(t, "shelf-why-further", skill = skill, difficulty = difficulty),
        Why::New => say!(t, "shelf-why-new", skill = skill, difficulty = difficulty),
        Why::WentBadly(jobs) => say!(t, "shelf-why-badly", skill = skill, jobs = jobs),
        Why::KeepUp(jobs) => say!(t, "shelf-why-keep-up", skill = skill, jobs = jobs),
    }
}

/// What is best practised next.
pub(super) fn practise(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    let past = bay.shelf.past();
    let mut begun = None;
    let mut shown = false;
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new(t.say("shelf-practise")).size(HEADING).strong());
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            shown = ui.button(t.say("shelf-first")).clicked();
        });
    });
    if shown {
        first_job::begin(bay);
        return;
    }
    for Next { lesson, why } in &past.next {
        let lesson = &past.lessons[*lesson];
        let Some((id, scenario)) = bay.shelf.find(&lesson.scenario) else { continue };
        ui.horizontal_top(|ui| {
            let button = begin(ui, t, &scenario);
            board::greet(bay, &button);
            if button.clicked() {
                begun = Some((Arc::clone(&scenario), id));
            }
            ui.vertical(|ui| {
                ui.spacing_mut().item_spacing.y = 1.0;
                ui.add(egui::Label::new(RichText::new(t.title(&scenario.title)).strong()).wrap());
                let why = RichText::new(reason(t, lesson, *why, &past.done)).size(SMALL);
                ui.add(egui::Label::new(why).wrap());
            });
        });
    }
    if let Some((scenario, name)) = begun {
        bay.begin_another(scenario, Some(name.to_owned()));
    }
}

/// The heads of the list of all jobs, which stay over it while it scrolls.
pub(super) fn head(ui: &mut egui::Ui, t: Texts) {
    ui.label(RichText::new(t.say("shelf-all")).size(HEADING).strong());
    ui.scope(|ui| {
        // The list has a scroll bar beside it.
        ui.set_max_width(ui.available_width() - SCROLL_BAR);
        Columns::of(ui, t).head(ui, t);
    });
}

/// All jobs.
pub(super) fn all(ui: &mut egui::Ui, bay: &mut Bay, palette: &Palette) {
    let t = bay.texts;
    let past = bay.shelf.past();
    let mut begun = None;
    let columns = Columns::of(ui, t);
    for lesson in listed(&past.lessons) {
        let Some((id, scenario)) = bay.shelf.find(&lesson.scenario) else { continue };
        let open = bay.shelf.looked_at == Some(id);
        let one = Listed { lesson, scenario: &scenario, open, best: best(&past.done, id) };
        let row = columns.row(ui, t, &one, palette);
        if row.begun {
            begun = Some((Arc::clone(&scenario), id));
        }
        if row.looked_at {
            bay.shelf.looked_at = if open { None } else { Some(id) };
        }
    }
    if let Some((scenario, name)) = begun {
        bay.begin_another(scenario, Some(name.to_owned()));
    }
}

/// Widths of the list's columns, in points. In a narrow card the figures stand below the title.
struct Columns {
    begin: f32,
    title: f32,
    figures: Option<[f32; 4]>,
}

/// A job of the list.
struct Listed<'a> {
    lesson: &'a Lesson,
    scenario: &'a Scenario,
    /// The customer's words are shown.
    open: bool,
    best: Option<f64>,
}

/// What was done to a row.
struct Row {
    begun: bool,
    looked_at: bool,
}

impl Columns {
    /// Difficulty, minutes, skill and best mark.
    const FIGURES: [f32; 4] = [120.0, 58.0, 210.0, 72.0];
    /// The card is narrower where text is large.
    const NARROW: f32 = 740.0;

    fn of(ui: &egui::Ui, t: Texts) -> Self {
        let begin = button_size(ui, t.say("shelf-begin")).x + 4.0;
        let gap = ui.spacing().item_spacing.x;
        let all = ui.available_width();
        let figures = (all >= Self::NARROW).then_some(Self::FIGURES);
        let taken = begin + gap + figures.map_or(0.0, |all| all.iter().map(|one| one + gap).sum());
        Self { begin, title: (all - taken).max(120.0), figures }
    }

    fn head(&self, ui: &mut egui::Ui, t: Texts) {
        let Some(figures) = self.figures else { return };
        ui.horizontal(|ui| {
            let heads =
                ["shelf-difficulty", "shelf-minutes", "shelf-skill", "shelf-best"].map(|id| t.say(id));
            cell(ui, self.begin, |_| {});
            cell(ui, self.title, |ui| {
                ui.horizontal(|ui| {
                    // As far in as the titles are, which can be pressed.
                    ui.add_space(ui.spacing().button_padding.x + ARROW.x + ui.spacing().icon_spacing);
                    ui.label(RichText::new(t.say("shelf-title")).size(SMALL));
                });
            });
            for (width, head) in figures.into_iter().zip(heads) {
                cell(ui, width, |ui| _ = ui.label(RichText::new(head).size(SMALL)));
            }
        });
    }

    fn row(&self, ui: &mut egui::Ui, t: Texts, one: &Listed<'_>, palette: &Palette) -> Row {
        let &Listed { lesson, scenario, open, best } = one;
        let (difficulty, minutes) = figures(&lesson.scenario).unwrap_or_default();
        let skill = words::skill(t, lesson.skill);
        let best = best.map_or_else(|| t.say("shelf-no-mark").to_owned(), |best| format!("{best:.0}"));
        let mut row = Row { begun: false, looked_at: false };
        ui.horizontal_top(|ui| {
            cell(ui, self.begin, |ui| {
                row.begun = begin(ui, t, scenario).clicked();
            });
            cell(ui, self.title, |ui| {
                row.looked_at = title(ui, t.title(&scenario.title), open);
                if self.figures.is_none() {
                    ui.horizontal_wrapped(|ui| {
                        steps(ui, difficulty, palette);
                        let figures = say!(
                            t,
                            "shelf-figures",
                            difficulty = difficulty,
                            minutes = minutes,
                            skill = skill,
                            best = &best
                        );
                        ui.label(RichText::new(figures).size(SMALL));
                    });
                }
                if open {
                    let about = say!(
                        t,
                        "shelf-about",
                        vehicle = t.title(&scenario.vehicle.title),
                        circuits = words::circuits(t, scenario)
                    );
                    ui.add(egui::Label::new(RichText::new(about).size(SMALL)).wrap());
                    let words = say!(t, "customer-says", words = t.title(&scenario.customer));
                    ui.add(egui::Label::new(RichText::new(words).italics().size(SMALL)).wrap());
                }
            });
            let Some([hard, long, what, mark]) = self.figures else { return };
            // Level with the title.
            let high = ui.spacing().button_padding.y;
            let level = |ui: &mut egui::Ui| ui.add_space(high);
            let small = |text: String| egui::Label::new(RichText::new(text).size(SMALL)).wrap();
            cell(ui, hard, |ui| {
                level(ui);
                ui.horizontal(|ui| {
                    steps(ui, difficulty, palette);
                    ui.label(RichText::new(say!(t, "shelf-of-five", difficulty = difficulty)).size(SMALL));
                });
            });
            cell(ui, long, |ui| {
                level(ui);
                ui.add(small(say!(t, "sheet-minutes", minutes = minutes)));
            });
            cell(ui, what, |ui| {
                level(ui);
                ui.add(small(skill.to_owned()));
            });
            cell(ui, mark, |ui| {
                level(ui);
                ui.add(small(best.clone()));
            });
        });
        row
    }
}

/// What the arrow before a title takes, in points.
const ARROW: egui::Vec2 = vec2(9.0, 9.0);

/// A job's title, which opens and shuts what is said of it, with an arrow that says so: true where it was pressed.
fn title(ui: &mut egui::Ui, title: &str, open: bool) -> bool {
    let arrow = Id::new("arrow");
    let gap = ui.spacing().icon_spacing;
    let atoms = (Atom::custom(arrow, ARROW), RichText::new(title).strong());
    let shown = egui::Button::selectable(open, atoms).gap(gap).wrap().atom_ui(ui);
    if let Some(rect) = shown.rect(arrow) {
        let arrow = shown.response.clone().with_new_rect(rect);
        egui::collapsing_header::paint_default_icon(ui, if open { 1.0 } else { 0.0 }, &arrow);
    }
    shown.response.clicked()
}

/// A cell of a row as wide as its column.
fn cell(ui: &mut egui::Ui, width: f32, contents: impl FnOnce(&mut egui::Ui)) {
    ui.vertical(|ui| {
        ui.set_width(width);
        ui.spacing_mut().item_spacing.y = 2.0;
        contents(ui);
    });
}

/// How hard it is as so many of five steps.
fn steps(ui: &mut egui::Ui, difficulty: u8, palette: &Palette) {
    const HIGH: f32 = 14.0;
    let (rect, _) = ui.allocate_exact_size(vec2(44.0, HIGH), Sense::hover());
    let ink = colour(palette, "paper-ink");
    for step in 0..5_u8 {
        let high = 4.0 + 2.5 * f32::from(step);
        let corner = pos2(rect.left() + 9.0 * f32::from(step), rect.bottom() - high);
        let bar = Rect::from_min_size(corner, vec2(6.0, high));
        if step < difficulty {
            ui.painter().rect_filled(bar, 1.0, ink);
        } else {
            ui.painter().rect_stroke(bar, 1.0, Stroke::new(1.0, ink), StrokeKind::Inside);
        }
    }
}

/// A button that begins a job, with a name of its own for a screen reader.
fn begin(ui: &mut egui::Ui, t: Texts, scenario: &Scenario) -> egui::Response {
    let label = t.say("shelf-begin");
    let button = ui.button(label);
    button.widget_info(|| {
        let label = say!(t, "shelf-begin-this", begin = label, title = t.title(&scenario.title));
        egui::WidgetInfo::labeled(egui::WidgetType::Button, true, label)
    });
    button
}

#[cfg(test)]
mod tests {
    use probeworthy::practice::{Skill, shelf_lessons};
    use probeworthy::words::Language;

    use super::*;

    #[test]
    fn every_job_of_the_shelf_has_its_difficulty_and_minutes() {
        for one in SHELF {
            let (difficulty, minutes) = figures(one.id).unwrap_or_else(|| panic!("{} has none", one.id));
            assert!((1..=5).contains(&difficulty), "{}: difficulty {difficulty}", one.id);
            assert!((1..=120).contains(&minutes), "{}: {minutes} min", one.id);
        }
        assert_eq!(figures("first"), None, "a part of a name is no name");
    }

    #[test]
    fn the_list_begins_with_the_first_lesson_and_ends_with_the_hardest_job() {
        let lessons = shelf_lessons();
        let listed = listed(&lessons);
        assert_eq!(listed.len(), SHELF.len());
        assert_eq!(listed[0].scenario, EASIEST);
        let hard: Vec<u8> =
            listed.iter().map(|lesson| figures(&lesson.scenario).expect("figures").0).collect();
        assert!(hard.is_sorted(), "{hard:?}");
    }

    #[test]
    fn every_suggestion_says_in_a_sentence_what_it_is_good_for() {
        let lessons = shelf_lessons();
        let did = |scenario: &str, skill: Skill, finding_share: f64| Done {
            scenario: scenario.to_owned(),
            skill,
            finding_share,
            proof_share: 1.0,
            total: 100.0 * finding_share,
        };
        let badly = did(EASIEST, Skill::Feeds, 0.2);
        let well = did(EASIEST, Skill::Feeds, 0.9);
        for t in Language::ALL.map(Texts::of) {
            for done in [vec![], vec![badly.clone()], vec![badly.clone(), well.clone(), well.clone()]] {
                for Next { lesson, why } in next_jobs(&lessons, &done, SUGGESTED) {
                    let said = reason(t, &lessons[lesson], why, &done);
                    assert!(said.ends_with('.') && said.split(' ').count() > 6, "{said}");
                }
            }
            assert_eq!(best(&[badly.clone(), well.clone()], EASIEST), Some(90.0));
            assert_eq!(best(std::slice::from_ref(&badly), "first-lamp"), None);
        }
    }
}
