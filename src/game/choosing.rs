//! A list that opens, to choose from; a long one is narrowed by what is typed.

use bevy_egui::egui::{
    self, ComboBox, Id, Key, PopupCloseBehavior, Response, RichText, TextEdit, WidgetInfo, WidgetType,
};
use probeworthy::words::Texts;

use super::theme::SMALL;

const WIDTH: f32 = 360.0;
/// The highest that it opens, in points.
const HEIGHT: f32 = 330.0;
/// A list of more than so many lines is searched rather than read.
const LONG: usize = 10;

/// What somebody looks for in the list that is open.
#[derive(Clone, Default)]
struct Sought {
    text: String,
    /// The pass in which that was last asked.
    pass: u64,
    /// Whether the line is still to have the keys.
    awaits_keys: bool,
}

/// A list to choose from; true where something else has been chosen. Before there is anything to choose it cannot be opened,
/// and says what comes first.
pub(super) fn choice<T: PartialEq + Copy>(
    ui: &mut egui::Ui,
    t: Texts,
    label: Id,
    chosen: &mut Option<T>,
    all: &[(T, String)],
) -> bool {
    let before = *chosen;
    let shown = chosen.and_then(|one| all.iter().find(|(other, _)| *other == one));
    let nothing_yet = t.say(if all.is_empty() { "naming-later" } else { "naming-choose" });
    let width = WIDTH.min(ui.available_width());
    ui.add_enabled_ui(!all.is_empty(), |ui| {
        let list = ComboBox::from_id_salt(label)
            .selected_text(shown.map_or(nothing_yet, |(_, title)| title))
            .width(width)
            .height(HEIGHT)
            .popup_style(ui.style().as_ref().clone().into())
            // A click into the line in which is typed is none that chooses.
            .close_behavior(PopupCloseBehavior::CloseOnClickOutside)
            .show_ui(ui, |ui| {
                let is_long = all.len() > LONG;
                let (sought, entered) = if is_long { sought(ui, t, label) } else { (String::new(), false) };
                let mut none = true;
                for (one, title) in all.iter().filter(|(_, title)| finds(&sought, title)) {
                    let taken = entered && none;
                    none = false;
                    if ui.selectable_value(chosen, Some(*one), title).clicked() || taken {
                        *chosen = Some(*one);
                        ui.close();
                    }
                }
                if none {
                    ui.label(RichText::new(t.say("choosing-none")).size(SMALL));
                }
            });
        keep_keys(ui, label.with("open"), list.inner.is_some(), &list.response);
        list.response.labelled_by(label);
    });
    *chosen != before
}

/// Gives the keys back to what opens a list once it has closed, unless somebody else has them by then: else whoever chose by keys
/// would have to begin at the first button of the window.
fn keep_keys(ui: &egui::Ui, id: Id, open: bool, opener: &Response) {
    let was_open = ui.data_mut(|data| std::mem::replace(data.get_temp_mut_or_default::<bool>(id), open));
    if was_open && !open && ui.memory(|memory| memory.focused().is_none()) {
        opener.request_focus();
    }
}

/// Whether each word of what is sought begins a word of a title, in capitals or not.
fn finds(sought: &str, title: &str) -> bool {
    let words = |text: &str| -> Vec<String> {
        let apart = text.split(|one: char| !one.is_alphanumeric()).filter(|word| !word.is_empty());
        apart.map(str::to_lowercase).collect()
    };
    let title = words(title);
    words(sought).iter().all(|word| title.iter().any(|other| other.starts_with(word)))
}

/// The line in which is typed what is sought: its text, and whether the first that it finds is to be taken.
fn sought(ui: &mut egui::Ui, t: Texts, label: Id) -> (String, bool) {
    let id = label.with("sought");
    let pass = ui.ctx().cumulative_pass_nr();
    let mut sought = ui.data_mut(|data| data.get_temp::<Sought>(id)).unwrap_or_default();
    // A list that opens begins anew.
    if sought.pass + 1 < pass {
        sought.text.clear();
        sought.awaits_keys = true;
    }
    let hint = t.say("choosing-find");
    let line = ui.add(TextEdit::singleline(&mut sought.text).hint_text(hint).desired_width(f32::INFINITY));
    line.widget_info(|| WidgetInfo::labeled(WidgetType::TextEdit, true, hint));
    // The click that opens a list is one beside the line, and takes the keys from it in each pass that sees the click.
    if sought.awaits_keys {
        line.request_focus();
        sought.awaits_keys = ui.input(|input| input.pointer.any_pressed() || input.pointer.any_released());
    }
    let entered =
        line.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter)) && !sought.text.is_empty();
    sought.pass = pass;
    let text = sought.text.clone();
    ui.data_mut(|data| data.insert_temp(id, sought));
    (text, entered)
}

#[cfg(test)]
mod tests {
    use egui_kittest::Harness;
    use egui_kittest::kittest::Queryable as _;

    use super::*;

    #[test]
    fn words_are_found_by_how_they_begin_in_any_order() {
        for (sought, found) in [
            ("", true),
            ("wip", true),
            ("FEED wiper", true),
            ("og", true),
            ("wiper ground", false),
            ("iper", false),
        ] {
            assert_eq!(finds(sought, "wiper feed (WH/OG)"), found, "{sought}");
        }
        assert!(finds("rückf", "Rückfahrleuchte, Plus"));
    }

    /// A long list, of which nothing is chosen.
    fn of_wires() -> Harness<'static, Option<usize>> {
        let all: Vec<(usize, String)> = (0..30).map(|k| (k, format!("wire {k} (BN)"))).collect();
        let show = move |ui: &mut egui::Ui, chosen: &mut Option<usize>| {
            let label = ui.label("Which").id;
            choice(ui, Texts::english(), label, chosen, &all);
        };
        Harness::new_ui_state(show, None)
    }

    /// Types which wire it is to be, and takes the first that is found.
    fn type_a_number(harness: &mut Harness<'_, Option<usize>>) {
        harness.event(egui::Event::Text("27".to_owned()));
        harness.run_steps(3);
        assert!(harness.query_by_label("wire 3 (BN)").is_none(), "it is narrowed");
        harness.key_press(Key::Enter);
        harness.run_steps(3);
        assert_eq!(*harness.state(), Some(27));
    }

    #[test]
    fn what_is_typed_narrows_a_long_list_and_enter_takes_the_first() {
        let mut harness = of_wires();
        let open = |harness: &mut Harness<'_, Option<usize>>| {
            harness.get_by_label("Which").focus();
            harness.run_steps(2);
            harness.get_by_role_and_label(egui::accesskit::Role::ComboBox, "Which").click();
            harness.run_steps(3);
        };
        open(&mut harness);
        assert!(harness.query_by_label("wire 3 (BN)").is_some());
        type_a_number(&mut harness);
        assert!(harness.query_by_label("wire 26 (BN)").is_none(), "the list has closed");
        open(&mut harness);
        assert!(harness.query_by_label("wire 3 (BN)").is_some(), "it begins anew");
        harness.get_by_label("wire 3 (BN)").click();
        harness.run_steps(3);
        assert_eq!(*harness.state(), Some(3));
    }

    /// Presses and releases within one frame, as it happens where frames are long.
    fn click_at_once(harness: &mut Harness<'_, Option<usize>>, at: egui::Pos2) {
        harness.event(egui::Event::PointerMoved(at));
        harness.run_steps(2);
        for pressed in [true, false] {
            let (button, modifiers) = (egui::PointerButton::Primary, egui::Modifiers::NONE);
            harness.event(egui::Event::PointerButton { pos: at, button, pressed, modifiers });
        }
        harness.run_steps(3);
    }

    #[test]
    fn a_list_that_a_click_opens_has_the_keys_and_what_opened_it_has_them_afterwards() {
        let mut harness = of_wires();
        let opener = |harness: &Harness<'_, Option<usize>>| {
            harness.get_by_role_and_label(egui::accesskit::Role::ComboBox, "Which").rect().center()
        };
        let at = opener(&harness);
        click_at_once(&mut harness, at);
        type_a_number(&mut harness);
        assert!(harness.get_by_role_and_label(egui::accesskit::Role::ComboBox, "Which").is_focused());
    }
}
