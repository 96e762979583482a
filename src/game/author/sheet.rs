//! What is shown of the file and changed in it: its card, in two leaves, and the buttons below them.

use std::sync::Arc;

use bevy_egui::egui::{self, DragValue, RichText, TextEdit, WidgetInfo, WidgetType};
use probeworthy::bench::KitItem;
use probeworthy::say;
use probeworthy::scenario::{Aspect, Change, Range};
use probeworthy::vehicle::Title;
use probeworthy::words::{self, Texts};

use super::{Author, Slip};
use crate::game::bay::Bay;
use crate::game::scenery::Palette;
use crate::game::theme::{SMALL, button_size, colour, figure};

/// Height of what stands below all that scrolls, in points.
pub(in crate::game) const FOOT: f32 = 44.0;
/// Height of what is worked in a row of the pool, and how far below its top words stand level with that, in points.
const ROW: f32 = 24.0;
const LEVEL: f32 = 3.0;
/// How wide the columns of weights and shares are, and how high their heads, in points.
const WEIGHT: f32 = 60.0;
const SHARE: f32 = 60.0;
const HEAD: f32 = 18.0;
/// What a field takes beside its words, in points.
const FIELD_EDGE: f32 = 10.0;
/// On a card that is narrower, in points, a fault stands above what can be done with it.
const NARROW: f32 = 640.0;

/// A leaf of the sheet.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Leaf {
    /// The faults and their weights.
    #[default]
    Pool,
    /// What is said, how it stands and how it is marked.
    Words,
}

/// What stays in place over all that scrolls on the instructor's sheet: its leaves.
pub(in crate::game) fn head(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    let Some(author) = &mut bay.author else { return };
    ui.horizontal_wrapped(|ui| {
        for (leaf, id) in [(Leaf::Pool, "author-pool"), (Leaf::Words, "author-words")] {
            let chosen = author.leaf == leaf;
            if ui.add(egui::Button::selectable(chosen, t.say(id)).frame_when_inactive(true)).clicked() {
                author.leaf = leaf;
            }
        }
    });
}

/// The card of the instructor's sheet.
pub(in crate::game) fn card(ui: &mut egui::Ui, bay: &mut Bay, palette: &Palette) {
    let t = bay.texts;
    let Some(author) = &mut bay.author else { return };
    state(ui, t, author, palette);
    ui.separator();
    let anew = match author.leaf {
        Leaf::Pool => pool(ui, t, author),
        Leaf::Words => {
            form(ui, t, author);
            false
        }
    };
    if anew {
        bay.show_anew();
    }
}

/// What stands below all that scrolls: the buttons that write the file or put it back.
pub(in crate::game) fn foot(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    let Some(author) = &mut bay.author else { return };
    let mut anew = false;
    ui.separator();
    ui.horizontal(|ui| {
        let unsaved = author.is_unsaved();
        if ui.add_enabled(unsaved, egui::Button::new(t.say("author-save"))).clicked() {
            author.save();
        }
        if ui.add_enabled(unsaved, egui::Button::new(t.say("author-undo"))).clicked() {
            author.put_back();
            anew = true;
        }
    });
    if anew {
        bay.show_anew();
    }
}

/// How the file stands, and what was not taken.
fn state(ui: &mut egui::Ui, t: Texts, author: &Author, palette: &Palette) {
    let path = author.watch.path().display().to_string();
    ui.add(egui::Label::new(RichText::new(&path).monospace().size(SMALL)).wrap());
    if let Some(problems) = &author.problems {
        ui.label(t.say("author-broken"));
        trouble(ui, problems, palette);
    } else {
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
    ui.label(RichText::new(t.say("author-comments")).size(SMALL));
    let slip = author.slip.as_ref().map(|slip| match slip {
        Slip::InTheFile => t.say("author-slip").to_owned(),
        Slip::NotSaved(why) => say!(t, "author-not-saved", path = &path, why = why),
        Slip::Told(why) => why.clone(),
    });
    let told = slip.as_ref().map(|slip| trouble(ui, slip, palette));
    // It is seen where a change was made further below, too.
    let id = egui::Id::new("the author's last slip");
    let before = ui.data_mut(|data| std::mem::replace(data.get_temp_mut_or_default(id), slip.clone()));
    if let Some(told) = told.filter(|_| before != slip) {
        told.scroll_to_me(None);
    }
}

/// Problems as they are reported in a terminal; in lines that wrap.
fn trouble(ui: &mut egui::Ui, text: &str, palette: &Palette) -> egui::Response {
    let text = RichText::new(text.trim_end()).monospace().size(SMALL).color(colour(palette, "paper-warning"));
    ui.add(egui::Label::new(text).wrap())
}

/// The pool: true where another fault is to be shown.
fn pool(ui: &mut egui::Ui, t: Texts, author: &mut Author) -> bool {
    let vehicle = &author.scenario.vehicle;
    let all: u64 = author.scenario.faults.iter().map(|fault| fault.weight).sum();
    let titles = words::fault_titles_apart(t, vehicle, &author.scenario.faults);
    let rows: Vec<(String, String, u64)> = author
        .scenario
        .faults
        .iter()
        .zip(titles)
        .map(|(fault, title)| (fault.id.clone(), title, fault.weight))
        .collect();
    let mut change = None;
    let mut try_it = None;
    ui.horizontal_wrapped(|ui| {
        let hint = "(is: Parted(conductor: \"latch-feed\", at: \"bellows\"), weight: 1)";
        let add = button_size(ui, t.say("author-add")).x + ui.spacing().item_spacing.x;
        let wide = (ui.available_width() - add - FIELD_EDGE).max(0.0);
        let field = TextEdit::singleline(&mut author.entry).hint_text(hint).desired_width(wide);
        named(&ui.add(field.font(egui::TextStyle::Monospace)), t.say("author-one-more").to_owned());
        if ui.add_enabled(!author.entry.trim().is_empty(), egui::Button::new(t.say("author-add"))).clicked() {
            change = Some(Change::Add(author.entry.clone()));
        }
    });
    let shown = button_size(ui, t.say("author-here")).x.max(button_size(ui, t.say("author-try")).x);
    let narrow = ui.available_width() < NARROW;
    ui.horizontal(|ui| {
        let head = |title: &str| egui::Label::new(RichText::new(title).size(SMALL).strong());
        ui.add_space(shown + ui.spacing().item_spacing.x);
        ui.add_sized([WEIGHT, HEAD], head(t.say("author-weight")));
        ui.add_sized([SHARE, HEAD], head(t.say("author-share")));
        if !narrow {
            ui.add_space(button_size(ui, t.say("author-take-out")).x + ui.spacing().item_spacing.x);
            ui.add(head(t.say("author-fault")));
        }
    });
    for (at, (id, title, weight)) in rows.iter().enumerate() {
        let mut buttons = |ui: &mut egui::Ui| {
            let here = *id == author.fault;
            let text = if here { t.say("author-here") } else { t.say("author-try") };
            let button =
                ui.add_sized([shown, ROW], egui::Button::selectable(here, text).frame_when_inactive(true));
            named(&button, say!(t, "author-try-this", fault = title));
            if button.clicked() {
                try_it = Some(id.clone());
            }
            let mut new = *weight;
            let drag = DragValue::new(&mut new).range(1..=1_000_000).speed(0.1);
            let drag = figure(ui, |ui| ui.add_sized([WEIGHT, ROW], drag));
            named(&drag, say!(t, "author-weight-of", fault = title));
            if new != *weight {
                change = u32::try_from(new).ok().map(|new| Change::Weight(at, new));
            }
            #[expect(clippy::cast_precision_loss, reason = "a share in percent")]
            let share = 100.0 * *weight as f64 / all.max(1) as f64;
            let share = RichText::new(format!("{share:>5.1} %")).monospace().size(SMALL);
            ui.add_sized([SHARE, ROW], egui::Label::new(share));
            let out = ui.add_enabled(rows.len() > 1, egui::Button::new(t.say("author-take-out")));
            named(&out, say!(t, "author-take-out-this", fault = title));
            if out.clicked() {
                change = Some(Change::TakeOut(at));
            }
        };
        let title = egui::Label::new(RichText::new(title).size(SMALL)).wrap();
        if narrow {
            ui.add(title);
            ui.horizontal(buttons);
        } else {
            ui.horizontal(|ui| {
                buttons(ui);
                ui.vertical(|ui| {
                    // Level with the buttons where it is one line.
                    ui.add_space(LEVEL);
                    ui.add(title);
                });
            });
        }
    }
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
    if text(ui, &mut author.title, 1, t.say("author-title"), quiet)
        && author.title != scenario.title.written()
    {
        change = Some(Change::Title(author.title.clone()));
    }
    ui.label(RichText::new(t.say("author-customer")).strong());
    if text(ui, &mut author.customer, 3, t.say("author-customer"), quiet)
        && author.customer != scenario.customer.written()
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
        if !all.iter().eq(scenario.other_words.iter().map(Title::written)) {
            change = Some(Change::OtherWords(all));
        }
    }
    ui.add(egui::Label::new(RichText::new(t.say("author-words-elsewhere")).size(SMALL)).wrap());
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
    named(&figure(ui, |ui| ui.add(drag)), label.to_owned());
    #[expect(clippy::float_cmp, reason = "untouched it is the same number")]
    let changed = new != now;
    changed.then_some(new)
}

/// Gives a widget a name of its own for a screen reader.
fn named(response: &egui::Response, label: String) {
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Other, true, label.clone()));
}
