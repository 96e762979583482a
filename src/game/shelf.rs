//! The jobs on the shelf: any of them can be begun from here.

use std::sync::Arc;

use bevy_egui::egui::{self, RichText};
use probeworthy::scenario::{SHELF, Scenario, load};
use probeworthy::words;

use super::bay::Bay;
use super::theme::SMALL;

/// The scenarios of the shelf, read when they are first looked at.
#[derive(Clone, Debug, Default)]
pub(super) struct Shelf(Option<Vec<(&'static str, Arc<Scenario>)>>);

impl Shelf {
    fn scenarios(&mut self) -> &[(&'static str, Arc<Scenario>)] {
        self.0.get_or_insert_with(|| {
            // What comes with the program is sound: a test of the core reads all of it.
            SHELF.iter().filter_map(|one| Some((one.id, Arc::new(load(one.id).ok()?.scenario)))).collect()
        })
    }
}

/// The card of the shelf.
pub(super) fn card(ui: &mut egui::Ui, bay: &mut Bay) {
    if bay.job.is_some() && !bay.is_over() {
        ui.label(
            RichText::new("The job in hand is kept as it stands; `probeworthy desk --resume` or the next start goes on with it.")
                .size(SMALL),
        );
    }
    let here = bay.scenario.id.clone();
    let mut begun = None;
    for (id, scenario) in bay.shelf.scenarios() {
        ui.separator();
        ui.horizontal(|ui| {
            let label = if scenario.id == here { "Begin anew" } else { "Begin" };
            let button = ui.button(label);
            button.widget_info(|| {
                let label = format!("{label}: {}", scenario.title);
                egui::WidgetInfo::labeled(egui::WidgetType::Button, true, label)
            });
            if button.clicked() {
                begun = Some((Arc::clone(scenario), (*id).to_owned()));
            }
            ui.vertical(|ui| {
                ui.label(RichText::new(&scenario.title).strong());
                ui.label(
                    RichText::new(format!("{}; {}", scenario.vehicle.title, words::circuits(scenario)))
                        .size(SMALL),
                );
                ui.add(egui::Label::new(RichText::new(&scenario.customer).italics().size(SMALL)).wrap());
            });
        });
    }
    if let Some((scenario, name)) = begun {
        bay.begin_another(scenario, name);
    }
}
