//! Naming a fault: what, in what way, where, and how sure.

use std::sync::Arc;

use bevy_egui::egui::{self, Align, Color32, Id, Layout, TextStyle, vec2};
use probeworthy::bench::{Action, UNITS_AN_HOUR};
use probeworthy::fault::{Component, Diagnosis, FaultKind, Spot};
use probeworthy::marks::labour;
use probeworthy::say;
use probeworthy::vehicle::{ConductorId, ConnectorId, FuseId, PartKind, Screen, StudId, Vehicle};
use probeworthy::words::{self, Texts};

use super::bay::{Bay, Draft};
use super::choosing::choice;
use super::theme::figure;

/// Height of a row, in points.
const FIELD: f32 = 26.0;

/// What a fault can be named on, by sort.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub(super) enum Sort {
    Wire,
    Connector,
    Part,
    Fuse,
    Ground,
    Other,
}

impl Sort {
    pub(super) const ALL: [Self; 6] =
        [Self::Wire, Self::Connector, Self::Part, Self::Fuse, Self::Ground, Self::Other];

    fn title(self, t: Texts) -> &'static str {
        t.say(match self {
            Self::Wire => "naming-wire",
            Self::Connector => "naming-connector",
            Self::Part => "naming-part",
            Self::Fuse => "naming-fuse",
            Self::Ground => "naming-ground",
            Self::Other => "naming-other",
        })
    }

    /// All that is of this sort, with titles.
    pub(super) fn components(self, t: Texts, vehicle: &Vehicle) -> Vec<(Component, String)> {
        match self {
            Self::Wire => (0..vehicle.conductors.len())
                .map(ConductorId::at)
                .map(|id| (Component::Conductor(id), words::conductor_title(t, vehicle, id)))
                .collect(),
            Self::Connector => (0..vehicle.connectors.len())
                .map(ConnectorId::at)
                .map(|id| (Component::Connector(id), t.title(&vehicle.connector(id).title).to_owned()))
                .collect(),
            Self::Part => vehicle
                .parts()
                .map(|(id, part)| (Component::Part(id), t.title(&part.title).to_owned()))
                .collect(),
            Self::Fuse => (0..vehicle.fuses.len())
                .map(FuseId::at)
                .map(|id| (Component::Fuse(id), t.title(&vehicle.fuse(id).title).to_owned()))
                .collect(),
            Self::Ground => (0..vehicle.studs.len())
                .map(StudId::at)
                .map(|id| (Component::Stud(id), t.title(&vehicle.stud(id).title).to_owned()))
                .collect(),
            Self::Other => vec![
                (Component::Key, t.say("component-key").to_owned()),
                (Component::Battery, t.say("component-battery").to_owned()),
                (Component::Lockout, t.say("component-lockout").to_owned()),
            ],
        }
    }
}

/// Where on a component a fault can sit, with titles.
pub(super) fn spots(t: Texts, vehicle: &Vehicle, component: Component) -> Vec<(Spot, String)> {
    let mut spots = vec![(Spot::Whole, t.say("naming-as-a-whole").to_owned())];
    match component {
        Component::Conductor(id) => {
            spots.extend(
                vehicle.conductor(id).runs.iter().filter_map(|run| run.station).map(|station| {
                    (Spot::Station(station), t.title(&vehicle.station(station).title).to_owned())
                }),
            )
        }
        Component::Connector(id) => spots.extend(
            (1..=vehicle.connector(id).cavities)
                .map(|n| (Spot::Cavity(n), say!(t, "naming-cavity", cavity = n))),
        ),
        Component::Part(id) => {
            if let PartKind::Screen(screen) = vehicle.part(id).kind {
                spots.extend(
                    (1..=screen.lines)
                        .flat_map(|line| (1..=Screen::SECTIONS).map(move |section| (line, section)))
                        .map(|(line, section)| {
                            (
                                Spot::Line(line, section),
                                say!(t, "naming-line", line = line, section = section),
                            )
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

/// A row of a form: its name in a column of its own, level with what stands beside it.
fn row(ui: &mut egui::Ui, column: f32, name: &str, field: impl FnOnce(&mut egui::Ui, Id)) {
    ui.horizontal(|ui| {
        // A list or a slider stands in a row of its own, which is to be as high.
        ui.spacing_mut().interact_size.y = FIELD;
        let size = vec2(column, FIELD);
        let layout = Layout::left_to_right(Align::Center);
        let label = ui.allocate_ui_with_layout(size, layout, |ui| {
            ui.set_min_size(size);
            ui.label(name).id
        });
        field(ui, label.inner);
    });
}

/// How wide the column of names is: as the widest of them.
fn column(ui: &egui::Ui, t: Texts) -> f32 {
    let font = TextStyle::Body.resolve(ui.style());
    let names =
        ["naming-what", "naming-which", "naming-way", "naming-where", "naming-sure", "estimate-in-all"];
    let wide = |name: &'static str| {
        let name = t.say(name).to_owned();
        ui.painter().layout_no_wrap(name, font.clone(), Color32::PLACEHOLDER).size().x
    };
    names.into_iter().map(wide).fold(0.0, f32::max) + 8.0
}

/// Lists from which a fault is put together, and how sure somebody is of it; `None` until all has been chosen.
pub(super) fn pick(ui: &mut egui::Ui, t: Texts, vehicle: &Vehicle, draft: &mut Draft) -> Option<Diagnosis> {
    let column = column(ui, t);
    let sorts: Vec<(Sort, String)> = Sort::ALL
        .into_iter()
        .filter(|sort| !sort.components(t, vehicle).is_empty())
        .map(|sort| (sort, sort.title(t).to_owned()))
        .collect();
    row(ui, column, t.say("naming-what"), |ui, label| {
        if choice(ui, t, label, &mut draft.sort, &sorts) {
            draft.component = None;
            draft.spot = None;
        }
    });
    let components = draft.sort.map(|sort| sort.components(t, vehicle)).unwrap_or_default();
    // Nothing is chosen for the learner but what leaves no choice.
    let only = (components.len() == 1).then(|| components[0].0);
    draft.component = draft.component.or(only);
    row(ui, column, t.say("naming-which"), |ui, label| {
        if choice(ui, t, label, &mut draft.component, &components) {
            draft.spot = None;
        }
    });
    let kinds = FaultKind::ALL.map(|kind| (kind, words::kind_title(t, kind).to_owned()));
    // In what way follows what it is, as somebody would say it.
    let kinds = if draft.component.is_some() { &kinds[..] } else { &[] };
    row(ui, column, t.say("naming-way"), |ui, label| _ = choice(ui, t, label, &mut draft.kind, kinds));
    let places = draft.component.map(|component| spots(t, vehicle, component)).unwrap_or_default();
    if places.len() == 1 {
        draft.spot = Some(places[0].0);
    }
    row(ui, column, t.say("naming-where"), |ui, label| _ = choice(ui, t, label, &mut draft.spot, &places));
    row(ui, column, t.say("naming-sure"), |ui, label| {
        let slider = egui::Slider::new(&mut draft.percent, 0..=100).suffix(" %");
        figure(ui, |ui| ui.add(slider)).labelled_by(label);
    });
    Some(Diagnosis { component: draft.component?, kind: draft.kind?, spot: draft.spot? })
}

/// The card on which the fault is named.
pub(super) fn card(ui: &mut egui::Ui, bay: &mut Bay) {
    let scenario = Arc::clone(bay.shown());
    let vehicle = &scenario.vehicle;
    let t = bay.texts;
    let picked = pick(ui, t, vehicle, &mut bay.draft);
    let percent = bay.draft.percent;
    ui.add_space(6.0);
    if ui.add_enabled(picked.is_some(), egui::Button::new(t.say("naming-name"))).clicked()
        && let Some(diagnosis) = picked
    {
        bay.act(Action::Name(diagnosis, percent));
    }
    if let Some((named, percent)) = bay.job.as_ref().and_then(|job| job.named()) {
        let fault = words::diagnosis(t, vehicle, named);
        ui.label(say!(t, "naming-so-far", fault = fault, percent = percent));
    }
    ui.separator();
    estimate(ui, bay);
}

/// What it will cost, before anything is mended.
fn estimate(ui: &mut egui::Ui, bay: &mut Bay) {
    let minutes = bay.job.as_ref().map_or(0.0, |job| job.minutes());
    let so_far = labour(minutes) + bay.job.as_ref().map_or(0, |job| job.cost());
    let t = bay.texts;
    ui.label(say!(t, "estimate-about", so_far = so_far, hour = format!("{UNITS_AN_HOUR:.0}")));
    let column = column(ui, t);
    row(ui, column, t.say("estimate-in-all"), |ui, label| {
        let units = egui::DragValue::new(&mut bay.draft.estimate).range(1..=u16::MAX);
        figure(ui, |ui| ui.add(units.suffix(t.say("estimate-unit")))).labelled_by(label);
        if ui.button(t.say("estimate-tell")).clicked() {
            bay.act(Action::Estimate(bay.draft.estimate));
        }
    });
    if let Some(units) = bay.job.as_ref().and_then(|job| job.estimate()) {
        ui.label(say!(t, "estimate-agreed", units = units));
    }
}
