//! The board: jobs that were left, what to practise next, all jobs, what has been done, and the way to the settings. It is what
//! is seen where there is no job, and a card while there is one.

use std::path::Path;

use bevy_egui::egui::{self, Align, Button, Layout, Response, RichText, WidgetInfo, WidgetType};
use probeworthy::record::{self, Clock, Kept, Standing, SystemClock, written_time};
use probeworthy::say;
use probeworthy::words::Texts;

use super::bay::{Bay, Place};
use super::progress;
use super::reading::Reading;
use super::scenery::Palette;
use super::shelf::{self, HEADING, Leaf};
use super::theme::SMALL;
use super::worker::Trouble;

/// Where there is no job, nothing is open but the board and what belongs to no job.
pub(super) fn hold(bay: &mut Bay) {
    if !bay.open.is_some_and(|open| bay.offers(open)) {
        bay.open = Some(Place::Shelf);
    }
}

/// The keyboard comes to this button first, once the board is seen; to the first that says so.
pub(super) fn greet(bay: &mut Bay, button: &Response) {
    if bay.is_at_the_board() && !std::mem::replace(&mut bay.shelf.greeted, true) {
        button.request_focus();
    }
}

/// What stays in place over all that scrolls on the board: its leaves, the way to the settings, and the columns' heads.
pub(super) fn head(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    ui.horizontal_wrapped(|ui| {
        for (leaf, id) in
            [(Leaf::Next, "board-next"), (Leaf::Jobs, "board-jobs"), (Leaf::Records, "board-records")]
        {
            let chosen = bay.shelf.leaf == leaf;
            if ui.add(Button::selectable(chosen, t.say(id)).frame_when_inactive(true)).clicked() {
                bay.shelf.leaf = leaf;
            }
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            if ui.button(t.say("board-settings")).clicked() {
                bay.open = Some(Place::Settings);
            }
        });
    });
    if bay.shelf.leaf == Leaf::Jobs {
        shelf::head(ui, t);
    }
}

/// The card of the board.
pub(super) fn card(ui: &mut egui::Ui, bay: &mut Bay, palette: &Palette) {
    look_again(bay);
    match bay.shelf.leaf {
        Leaf::Next => {
            in_hand(ui, bay);
            left(ui, bay);
            shelf::practise(ui, bay);
        }
        Leaf::Jobs => shelf::all(ui, bay, palette),
        Leaf::Records => {
            records(ui, bay);
            ui.add_space(8.0);
            progress::how_far(ui, bay, palette);
        }
    }
}

/// Looks at the records again while one of them is open elsewhere, and reads them again if anything has changed.
fn look_again(bay: &mut Bay) {
    let past = bay.shelf.past();
    let own = bay.record();
    let elsewhere =
        past.kept.iter().any(|(one, _)| one.standing == Standing::InUse && Some(&*one.path) != own);
    if elsewhere {
        bay.shelf.look_again(SystemClock::default().now_ms());
    }
}

/// The job in hand, and the way to leave it.
fn in_hand(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    let Some(job) = bay.job.as_ref().filter(|job| job.handed_in().is_none()) else { return };
    let said = match bay.record() {
        Some(_) => say!(t, "board-in-hand", title = t.title(&job.scenario().title)),
        None => say!(t, "board-in-hand-not-kept", title = t.title(&job.scenario().title)),
    };
    ui.add(egui::Label::new(RichText::new(said)).wrap());
    let mut leaves = false;
    ui.horizontal_wrapped(|ui| {
        if ui.button(t.say("board-back")).clicked() {
            bay.close();
        }
        leaves = ui.button(t.say("board-leave")).clicked();
    });
    ui.separator();
    if leaves {
        bay.leave();
    }
}

/// Jobs that were left, all of them.
fn left(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    let past = bay.shelf.past();
    let own = bay.record().map(Path::to_owned);
    let waits = |one: &Kept| {
        matches!(one.standing, Standing::Left | Standing::InUse) && own.as_ref() != Some(&one.path)
    };
    let mut all = past.kept.iter().filter(|(one, _)| waits(one)).peekable();
    if all.peek().is_none() {
        return;
    }
    let (mut chosen, mut away) = (None, None);
    ui.label(RichText::new(t.say("board-left")).size(HEADING).strong());
    for (one, title) in all {
        let title = t.title(title);
        let when = ago(t, past.read_ms.saturating_sub(one.at_ms));
        let free = one.standing == Standing::Left;
        ui.horizontal_top(|ui| {
            let go_on = ui.add_enabled(free, Button::new(t.say("board-go-on")));
            go_on.widget_info(|| {
                let label = say!(t, "board-go-on-with", title = title, when = &when);
                WidgetInfo::labeled(WidgetType::Button, free, label)
            });
            if free {
                greet(bay, &go_on);
            }
            if go_on.clicked() {
                chosen = Some(one.path.clone());
            }
            let put_away = ui.add_enabled(free, Button::new(t.say("board-put-away")));
            put_away.widget_info(|| {
                let label = say!(t, "board-put-away-this", title = title, when = &when);
                WidgetInfo::labeled(WidgetType::Button, free, label)
            });
            if put_away.on_hover_text(t.say("board-put-away-about")).clicked() {
                away = Some(one.path.clone());
            }
            ui.vertical(|ui| {
                ui.spacing_mut().item_spacing.y = 1.0;
                ui.add(egui::Label::new(RichText::new(title).strong()).wrap());
                let minutes = format!("{:.1}", one.minutes);
                let told = match free {
                    true => say!(t, "board-left-when", when = when, minutes = minutes),
                    false => t.say("board-in-use").to_owned(),
                };
                ui.add(egui::Label::new(RichText::new(told).size(SMALL)).wrap());
            });
        });
    }
    ui.separator();
    if let Some(record) = chosen {
        bay.go_on(record);
    } else if let Some(record) = away {
        if let Err(why) = record::put_away(&record) {
            bay.trouble = Some(Trouble::Other(why.to_string()));
        }
        bay.shelf.forget_the_past();
    }
}

/// Jobs that have been handed in, the latest first.
fn records(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    let past = bay.shelf.past();
    let mut all = past.kept.iter().filter(|(one, _)| is_done(one)).peekable();
    ui.label(RichText::new(t.say("board-done")).size(HEADING).strong());
    if all.peek().is_none() {
        ui.label(RichText::new(t.say("shelf-none")).size(SMALL));
        return;
    }
    let mut chosen = None;
    for (one, title) in all {
        let title = t.title(title);
        let told = told(t, one);
        ui.horizontal_top(|ui| {
            let open = ui.button(t.say("board-open"));
            open.widget_info(|| {
                let label = say!(t, "board-open-this", title = title, told = &told);
                WidgetInfo::labeled(WidgetType::Button, true, label)
            });
            if open.clicked() {
                chosen = Some(Reading::of(one, title));
            }
            ui.vertical(|ui| {
                ui.spacing_mut().item_spacing.y = 1.0;
                ui.add(egui::Label::new(RichText::new(title).strong()).wrap());
                ui.add(egui::Label::new(RichText::new(&told).size(SMALL)).wrap());
            });
        });
    }
    bay.reading = chosen.or(bay.reading.take());
}

fn is_done(one: &Kept) -> bool {
    !matches!(one.standing, Standing::Left | Standing::InUse)
}

/// What a list says of a record below its title.
fn told(t: Texts, one: &Kept) -> String {
    let date = date(one.at_ms);
    match &one.standing {
        Standing::Marked(total) => say!(t, "board-marked", date = date, total = format!("{total:.0}")),
        Standing::Unreadable(why) => say!(t, "board-unreadable", why = why),
        _ => say!(t, "board-unmarked", date = date),
    }
}

/// The day of a time, as it is written everywhere.
fn date(at_ms: u64) -> String {
    /// Letters of year, month and day.
    const DAY: usize = 10;
    written_time(at_ms).chars().take(DAY).collect()
}

/// How long ago something was, in words.
fn ago(t: Texts, ms: u64) -> String {
    const MINUTE_MS: u64 = 60_000;
    const HOUR_MS: u64 = 60 * MINUTE_MS;
    const DAY_MS: u64 = 24 * HOUR_MS;
    match ms {
        0..MINUTE_MS => t.say("ago-now").to_owned(),
        MINUTE_MS..HOUR_MS => say!(t, "ago-minutes", count = ms / MINUTE_MS),
        HOUR_MS..DAY_MS => say!(t, "ago-hours", count = ms / HOUR_MS),
        _ => say!(t, "ago-days", count = ms / DAY_MS),
    }
}

#[cfg(test)]
mod tests {
    use probeworthy::words::Language;

    use super::*;

    #[test]
    fn how_long_ago_is_told_in_whole_minutes_hours_and_days() {
        let t = Texts::of(Language::English);
        for (ms, said) in [
            (0, "just now"),
            (59_999, "just now"),
            (60_000, "a minute ago"),
            (3_599_999, "59 minutes ago"),
            (3_600_000, "an hour ago"),
            (86_399_999, "23 hours ago"),
            (86_400_000, "a day ago"),
            (8_640_000_000, "100 days ago"),
        ] {
            assert_eq!(ago(t, ms), said);
        }
        assert_eq!(date(951_868_799_999), "2000-02-29");
    }
}
