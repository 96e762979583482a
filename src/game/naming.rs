//! Naming a fault: what, in what way, where, and how sure.

use bevy_egui::egui::{self, ComboBox};
use probeworthy::bench::Action;
use probeworthy::fault::{Component, Diagnosis, FaultKind, Spot};
use probeworthy::marks::labour;
use probeworthy::reasoning::UNITS_AN_HOUR;
use probeworthy::vehicle::{ConductorId, ConnectorId, FuseId, PartKind, Screen, StudId, Vehicle};
use probeworthy::words;

use super::bay::{Bay, Draft};

const WIDTH: f32 = 360.0;
const HEIGHT: f32 = 260.0;

/// What a fault can be named on, by sort.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Sort {
    Wire,
    Connector,
    Part,
    Fuse,
    Ground,
    Other,
}

impl Sort {
    const ALL: [Self; 6] = [Self::Wire, Self::Connector, Self::Part, Self::Fuse, Self::Ground, Self::Other];

    fn title(self) -> &'static str {
        match self {
            Self::Wire => "a wire",
            Self::Connector => "a connector or a terminal in it",
            Self::Part => "a part or a module",
            Self::Fuse => "a fuse or its clips",
            Self::Ground => "a ground stud",
            Self::Other => "the key, the battery or a setting",
        }
    }

    /// All that is of this sort, with titles.
    fn components(self, vehicle: &Vehicle) -> Vec<(Component, String)> {
        match self {
            Self::Wire => (0..vehicle.conductors.len())
                .map(ConductorId::at)
                .map(|id| (Component::Conductor(id), words::conductor_title(vehicle, id)))
                .collect(),
            Self::Connector => (0..vehicle.connectors.len())
                .map(ConnectorId::at)
                .map(|id| (Component::Connector(id), vehicle.connector(id).title.clone()))
                .collect(),
            Self::Part => {
                vehicle.parts().map(|(id, part)| (Component::Part(id), part.title.clone())).collect()
            }
            Self::Fuse => (0..vehicle.fuses.len())
                .map(FuseId::at)
                .map(|id| (Component::Fuse(id), vehicle.fuse(id).title.clone()))
                .collect(),
            Self::Ground => (0..vehicle.studs.len())
                .map(StudId::at)
                .map(|id| (Component::Stud(id), vehicle.stud(id).title.clone()))
                .collect(),
            Self::Other => vec![
                (Component::Key, "key".to_owned()),
                (Component::Battery, "battery".to_owned()),
                (Component::Lockout, "release lockout setting".to_owned()),
            ],
        }
    }
}

/// Where on a component a fault can sit, with titles.
fn spots(vehicle: &Vehicle, component: Component) -> Vec<(Spot, String)> {
    let mut spots = vec![(Spot::Whole, "as a whole".to_owned())];
    match component {
        Component::Conductor(id) => spots.extend(
            vehicle
                .conductor(id)
                .runs
                .iter()
                .filter_map(|run| run.station)
                .map(|station| (Spot::Station(station), vehicle.station(station).title.clone())),
        ),
        Component::Connector(id) => spots
            .extend((1..=vehicle.connector(id).cavities).map(|n| (Spot::Cavity(n), format!("cavity {n}")))),
        Component::Part(id) => {
            if let PartKind::Screen(screen) = vehicle.part(id).kind {
                spots.extend(
                    (1..=screen.lines)
                        .flat_map(|line| (1..=Screen::SECTIONS).map(move |section| (line, section)))
                        .map(|(line, section)| {
                            (Spot::Line(line, section), format!("line {line}, section {section}"))
                        }),
                );
            }
        }
        Component::Fuse(_)
        | Component::Stud(_)
        | Component::Key
        | Component::Battery
        | Component::Lockout => {}
    }
    spots
}

/// A list to choose from; true where something else has been chosen.
fn choice<T: PartialEq + Copy>(
    ui: &mut egui::Ui,
    label: &str,
    chosen: &mut Option<T>,
    all: &[(T, String)],
) -> bool {
    let before = *chosen;
    let shown = chosen.and_then(|one| all.iter().find(|(other, _)| *other == one));
    let label = ui.label(label);
    ComboBox::from_id_salt(label.id)
        .selected_text(shown.map_or("choose", |(_, title)| title))
        .width(WIDTH)
        .height(HEIGHT)
        .popup_style(ui.style().as_ref().clone().into())
        .show_ui(ui, |ui| {
            for (one, title) in all {
                ui.selectable_value(chosen, Some(*one), title);
            }
        })
        .response
        .labelled_by(label.id);
    ui.end_row();
    *chosen != before
}

/// Lists from which a fault is put together, and how sure somebody is of it; `None` until all has been chosen.
pub(super) fn pick(ui: &mut egui::Ui, vehicle: &Vehicle, draft: &mut Draft) -> Option<Diagnosis> {
    egui::Grid::new("picking").num_columns(2).spacing([12.0, 8.0]).show(ui, |ui| {
        let sorts: Vec<(Sort, String)> = Sort::ALL
            .into_iter()
            .filter(|sort| !sort.components(vehicle).is_empty())
            .map(|sort| (sort, sort.title().to_owned()))
            .collect();
        if choice(ui, "What", &mut draft.sort, &sorts) {
            draft.component = None;
            draft.spot = None;
        }
        let components = draft.sort.map(|sort| sort.components(vehicle)).unwrap_or_default();
        // Nothing is chosen for the learner but what leaves no choice.
        let only = (components.len() == 1).then(|| components[0].0);
        draft.component = draft.component.or(only);
        if choice(ui, "Which", &mut draft.component, &components) {
            draft.spot = None;
        }
        let kinds = FaultKind::ALL.map(|kind| (kind, words::kind_title(kind).to_owned()));
        choice(ui, "In what way", &mut draft.kind, &kinds);
        let places = draft.component.map(|component| spots(vehicle, component)).unwrap_or_default();
        if places.len() == 1 {
            draft.spot = Some(places[0].0);
        }
        choice(ui, "Where", &mut draft.spot, &places);
        let sure = ui.label("How sure");
        ui.add(egui::Slider::new(&mut draft.percent, 0..=100).suffix(" %")).labelled_by(sure.id);
        ui.end_row();
    });
    Some(Diagnosis { component: draft.component?, kind: draft.kind?, spot: draft.spot? })
}

/// The card on which the fault is named.
pub(super) fn card(ui: &mut egui::Ui, bay: &mut Bay) {
    let vehicle = bay.vehicle().clone();
    let picked = pick(ui, &vehicle, &mut bay.draft);
    let percent = bay.draft.percent;
    ui.add_space(6.0);
    if ui.add_enabled(picked.is_some(), egui::Button::new("Name it")).clicked()
        && let Some(diagnosis) = picked
    {
        bay.act(Action::Name(diagnosis, percent));
    }
    if let Some((named, percent)) = bay.job.as_ref().and_then(|job| job.named()) {
        ui.label(format!(
            "Named so far: {} ({percent} %). The last name counts.",
            words::diagnosis(&vehicle, named)
        ));
    }
    ui.separator();
    estimate(ui, bay);
}

/// What it will cost, before anything is mended.
fn estimate(ui: &mut egui::Ui, bay: &mut Bay) {
    let minutes = bay.job.as_ref().map_or(0.0, |job| job.minutes());
    let so_far = labour(minutes) + bay.job.as_ref().map_or(0, |job| job.cost());
    ui.label(format!(
        "The customer wants to know what it will cost before anything is mended. By now it is {so_far}; an hour is {UNITS_AN_HOUR:.0}, parts come on top."
    ));
    ui.horizontal(|ui| {
        let label = ui.label("In all");
        let units = egui::DragValue::new(&mut bay.draft.estimate).range(1..=u16::MAX);
        ui.add(units).labelled_by(label.id);
        if ui.button("Tell the customer").clicked() {
            bay.act(Action::Estimate(bay.draft.estimate));
        }
    });
    if let Some(units) = bay.job.as_ref().and_then(|job| job.estimate()) {
        ui.label(format!("The customer has agreed to {units}. The last word counts."));
    }
}
