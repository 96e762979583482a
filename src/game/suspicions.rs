//! The suspicion sheet: what could be wrong, and how strongly the learner suspects it.

use std::sync::Arc;

use bevy_egui::egui::{self, RichText};
use probeworthy::bench::Action;
use probeworthy::fault::Diagnosis;
use probeworthy::say;
use probeworthy::words;

use super::bay::Bay;
use super::naming;
use super::theme::SMALL;

/// The card on which suspicions are marked and struck out.
pub(super) fn card(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    let scenario = Arc::clone(bay.shown());
    let vehicle = &scenario.vehicle;
    ui.label(RichText::new(t.say("suspicions-about")).size(SMALL));
    ui.add_space(4.0);
    let picked = naming::pick(ui, t, vehicle, &mut bay.draft);
    // No suspicion at all is said by striking a line out.
    let percent = bay.draft.percent;
    ui.add_space(6.0);
    let mut marked: Option<(Diagnosis, u8)> = None;
    if ui
        .add_enabled(
            picked.is_some() && percent > 0,
            egui::Button::new(say!(t, "suspicions-suspect", percent = percent)),
        )
        .clicked()
    {
        marked = picked.map(|picked| (picked, percent));
    }
    ui.separator();
    let sheet = bay.job.as_ref().map(|job| job.sheet()).unwrap_or_default();
    if sheet.is_empty() {
        ui.label(t.say("suspicions-none"));
    }
    let mut strongest = sheet.clone();
    strongest.sort_by_key(|(_, percent)| u8::MAX - percent);
    egui::Grid::new("suspected").num_columns(3).spacing([12.0, 6.0]).show(ui, |ui| {
        for (one, percent) in strongest {
            ui.label(RichText::new(format!("{percent:>3} %")).monospace());
            let title = words::diagnosis(t, vehicle, one);
            ui.add(egui::Label::new(&title).wrap());
            let out = ui.button(t.say("suspicions-strike"));
            out.widget_info(|| {
                egui::WidgetInfo::labeled(
                    egui::WidgetType::Button,
                    true,
                    say!(t, "suspicions-strike-this", fault = &title),
                )
            });
            if out.clicked() {
                marked = Some((one, 0));
            }
            ui.end_row();
        }
    });
    // Of the lines in words, the last tells what is left.
    if let Some(left) = words::suspicions(t, vehicle, &sheet).last() {
        ui.label(left);
    }
    if let Some((one, percent)) = marked {
        bay.act(Action::Suspect(one, percent));
    }
}
