//! What the window knows of a vehicle, by the names that its file gives: a name that is not there leads nowhere.

use probeworthy::bench::{Lead, Tool};
use probeworthy::fault::{Component, Spot};
use probeworthy::scenario::point_name;
use probeworthy::vehicle::{ConductorId, ConnectorId, FuseId, PanelId, Point, StationId, StudId, Vehicle};
use probeworthy::words::Texts;

use crate::game::bay::{Hand, Place};
use crate::game::hand_tools::HandTool;
use crate::game::naming::{self, Sort};
use crate::game::sync::tool_anchor;

/// Places that are no part of a vehicle's file. The board is none of a job, and an instructor's sheet is of no record.
const PLAIN: [(&str, Place); 20] = [
    ("lid", Place::Lid),
    ("cabin", Place::Cabin),
    ("bonnet", Place::Front),
    ("key", Place::Key),
    ("body", Place::Body),
    ("fuse-tray", Place::FuseTray),
    ("meter", Place::Meter),
    ("clamp", Place::Clamp),
    ("recorder", Place::Recorder),
    ("customer", Place::Customer),
    ("findings", Place::Findings),
    ("naming", Place::Naming),
    ("suspicions", Place::Suspicions),
    ("coach", Place::Coach),
    ("writing", Place::Writing),
    ("handing-in", Place::HandingIn),
    ("diagram", Place::Diagram),
    ("everything", Place::Everything),
    ("settings", Place::Settings),
    ("help", Place::Help),
];

/// The name of one of a sort.
fn one_of(sort: &str, one: &str) -> String {
    [sort, one].join("/")
}

/// All places of a vehicle with their names.
pub(super) fn places(vehicle: &Vehicle) -> impl Iterator<Item = (String, Place)> {
    let connectors = vehicle.connectors.iter().enumerate().map(|(at, one)| {
        let place = Place::Connector(ConnectorId::at(at));
        (one_of("connector", &one.id), place)
    });
    let stations = vehicle.stations.iter().enumerate().map(|(at, one)| {
        let place = Place::Station(StationId::at(at));
        (one_of("station", &one.id), place)
    });
    let studs = vehicle.studs.iter().enumerate().map(|(at, one)| {
        let place = Place::Stud(StudId::at(at));
        (one_of("stud", &one.id), place)
    });
    let panels = vehicle.panels.iter().enumerate().map(|(at, one)| {
        let place = Place::Panel(PanelId::at(at));
        (one_of("panel", &one.id), place)
    });
    let tools = Tool::ALL.into_iter().map(|tool| (one_of("tool", tool_anchor(tool)), Place::Tool(tool)));
    let plain = PLAIN.into_iter().map(|(name, place)| (name.to_owned(), place));
    plain.chain(connectors).chain(stations).chain(studs).chain(panels).chain(tools)
}

fn point_named(vehicle: &Vehicle, name: &str) -> Option<Point> {
    vehicle.points().into_iter().find(|point| point_name(vehicle, *point) == name)
}

/// What is in hand, and the point on which its first lead is.
pub(super) fn of_hand(vehicle: &Vehicle, hand: Hand) -> Option<(String, Option<String>)> {
    let (name, first) = match hand {
        Hand::Empty => return None,
        Hand::Probe(Lead::Red) => ("red-probe", None),
        Hand::Probe(Lead::Black) => ("black-probe", None),
        Hand::Clamp => ("clamp", None),
        Hand::Recorder(first) => ("recorder", first),
        Hand::Clip(tool, first) => (tool_anchor(tool), first),
        Hand::Tool(tool) => (tool.anchor(), None),
    };
    Some((name.to_owned(), first.map(|point| point_name(vehicle, point))))
}

/// The same read back.
pub(super) fn hand(vehicle: &Vehicle, name: &str, first: Option<&str>) -> Option<Hand> {
    let first = match first {
        Some(name) => Some(point_named(vehicle, name)?),
        None => None,
    };
    let clip = Tool::ALL.into_iter().find(|tool| tool_anchor(*tool) == name);
    let tool = HandTool::ALL.into_iter().find(|tool| tool.anchor() == name);
    match name {
        "red-probe" => Some(Hand::Probe(Lead::Red)),
        "black-probe" => Some(Hand::Probe(Lead::Black)),
        "clamp" => Some(Hand::Clamp),
        "recorder" => Some(Hand::Recorder(first)),
        _ => clip.map(|tool| Hand::Clip(tool, first)).or(tool.map(Hand::Tool)),
    }
}

/// What a fault can be named on, with names.
pub(super) fn components(vehicle: &Vehicle, sort: Sort) -> Vec<(String, Component)> {
    let all = sort.components(Texts::english(), vehicle).into_iter();
    all.map(|(component, _)| (component_name(vehicle, component), component)).collect()
}

fn component_name(vehicle: &Vehicle, component: Component) -> String {
    match component {
        Component::Conductor(id) => vehicle.conductor(id).id.clone(),
        Component::Connector(id) => vehicle.connector(id).id.clone(),
        Component::Part(id) => vehicle.part(id).id.clone(),
        Component::Fuse(id) => vehicle.fuse(id).id.clone(),
        Component::Stud(id) => vehicle.stud(id).id.clone(),
        Component::Key => "key".to_owned(),
        Component::Battery => "battery".to_owned(),
        Component::Lockout => "lockout".to_owned(),
    }
}

/// Where on a component a fault can sit, with names.
pub(super) fn spots(vehicle: &Vehicle, component: Component) -> Vec<(String, Spot)> {
    let name = |spot| match spot {
        Spot::Whole => "whole".to_owned(),
        Spot::Station(id) => one_of("station", &vehicle.station(id).id),
        Spot::Cavity(cavity) => one_of("cavity", &cavity.to_string()),
        Spot::Line(line, section) => one_of("line", &[line, section].map(|one| one.to_string()).join(".")),
    };
    let all = naming::spots(Texts::english(), vehicle, component).into_iter();
    all.map(|(spot, _)| (name(spot), spot)).collect()
}

/// A cavity of a connector that has this name.
pub(super) fn cavity(vehicle: &Vehicle, name: &str, cavity: u8) -> Option<(ConnectorId, u8)> {
    let at = vehicle.connectors.iter().position(|one| one.id == name)?;
    (1..=vehicle.connectors[at].cavities).contains(&cavity).then_some((ConnectorId::at(at), cavity))
}

/// Conductors with their names.
pub(super) fn conductors(vehicle: &Vehicle) -> impl Iterator<Item = (String, ConductorId)> {
    vehicle.conductors.iter().enumerate().map(|(at, one)| (one.id.clone(), ConductorId::at(at)))
}

/// The fuses with their names.
pub(super) fn fuses(vehicle: &Vehicle) -> impl Iterator<Item = (String, FuseId)> {
    vehicle.fuses.iter().enumerate().map(|(at, one)| (one.id.clone(), FuseId::at(at)))
}

/// The name of something in such a list.
pub(super) fn name_of<T: PartialEq>(
    all: impl IntoIterator<Item = (String, T)>,
    sought: &T,
) -> Option<String> {
    all.into_iter().find(|(_, one)| one == sought).map(|(name, _)| name)
}

/// What has this name in such a list.
pub(super) fn named<T>(all: impl IntoIterator<Item = (String, T)>, sought: &str) -> Option<T> {
    all.into_iter().find(|(name, _)| name == sought).map(|(_, one)| one)
}
