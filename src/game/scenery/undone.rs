//! What has been taken apart, drawn over the place where it was together: connectors, and the loom where its tape is open.

use bevy::prelude::*;

use super::LoomWire;
use super::build::{Ground, Layout};
use super::catalogue::UNDONE;
use super::drawing::Drawing;
use super::palette::Palette;
use super::shape::Shape;
use super::stage::{Anchors, Stage};
use super::wires;

/// A place of the loom whose tape has been opened.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Opened {
    /// The place.
    pub station: String,
    /// The wires that are seen there.
    pub wires: Vec<LoomWire>,
}

/// The wires that are seen where a cable is opened that is no more than a line in the drawings.
const CABLE: usize = 3;

/// On what something is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum On {
    /// In the scene, wherever the lid is.
    Body,
    /// On the lid's drawing, which turns with it.
    Lid,
}

/// Draws what is apart and can be seen: that on the lid as the lid lies when shut.
pub(super) fn draw(
    shape: &mut Shape,
    on: On,
    stage: &Stage,
    layout: &Layout,
    anchors: &Anchors,
    palette: &Palette,
) {
    let here = |name: &str| {
        let seen = anchors.design(name).is_some_and(|placed| placed.visible);
        spot(name, layout, anchors).filter(|(ground, _)| seen && *ground == on).map(|(_, at)| at)
    };
    for (connector, place) in &stage.unplugged {
        let apart = format!("{connector}-apart");
        let name = if anchors.design(&apart).is_some() { &apart } else { place };
        if let Some(at) = here(name) {
            shape.extend(&layout.apart.moved(at));
        }
    }
    for opened in &stage.opened {
        if let Some(at) = here(&opened.station) {
            // Elsewhere than on the loom as it is drawn runs a thin cable.
            let along = direction(&opened.station, layout, anchors);
            let seen = if along.is_some() { opened.wires.len() } else { opened.wires.len().min(CABLE) };
            wires::opened(shape, at, along.unwrap_or(Vec2::X), &opened.wires[..seen], palette);
        }
    }
}

/// The two halves of a connector that is unplugged, around the middle between them.
pub(super) fn apart() -> Shape {
    let drawing = Drawing::read(UNDONE);
    let middle = drawing.mark("apart").map_or(Vec2::ZERO, |mark| mark.centre);
    let part = drawing.parts.iter().find(|part| part.name == "apart");
    part.map(|part| part.shape.moved(-middle)).unwrap_or_default()
}

/// A place, on the lid's drawing or in the scene.
fn spot(name: &str, layout: &Layout, anchors: &Anchors) -> Option<(On, Vec2)> {
    let fixed = layout.fixed.iter().find(|fixed| fixed.mark.name == name);
    match fixed {
        Some(fixed) if matches!(fixed.ground, Ground::Lid(_)) => Some((On::Lid, fixed.mark.centre)),
        _ => anchors.design(name).map(|placed| (On::Body, placed.centre)),
    }
}

/// In which direction the loom runs through one of its places, where it is drawn there.
fn direction(station: &str, layout: &Layout, anchors: &Anchors) -> Option<Vec2> {
    let figure = layout.figure.as_ref()?;
    let between = |one: &String, other: &String| {
        let ends = (spot(one, layout, anchors), spot(other, layout, anchors));
        if let (Some((_, one)), Some((_, other))) = ends { other - one } else { Vec2::ZERO }
    };
    let through = [&figure.body_loom.through, &figure.lid_loom.through].into_iter().find_map(|way| {
        let at = way.iter().position(|name| name == station)?;
        Some(between(&way[at.saturating_sub(1)], &way[(at + 1).min(way.len() - 1)]))
    });
    let over = || {
        let link = figure.links.iter().find(|link| link.place.as_deref() == Some(station))?;
        let ends = (anchors.design(&link.body)?, anchors.design(&link.lid)?);
        Some(ends.1.centre - ends.0.centre)
    };
    through.or_else(over).and_then(Vec2::try_normalize)
}

#[cfg(test)]
mod tests {
    use super::super::catalogue::VEHICLES;
    use super::*;

    #[test]
    fn the_halves_of_a_connector_lie_on_both_sides_of_its_place() {
        let apart = apart();
        let (low, high) = apart.bounds();
        assert!(low.x < -30.0 && high.x > 30.0, "{low} to {high}: a sign would cover them");
        assert!(
            low.cmpgt(Vec2::splat(-50.0)).all() && high.cmplt(Vec2::splat(50.0)).all(),
            "{low} to {high}"
        );
        let middle = apart.positions.iter().filter(|at| at.x.abs() < 6.0).count();
        assert_eq!(middle, 0, "something joins them");
        assert!(Drawing::read(UNDONE).mark("apart").is_some());
    }

    #[test]
    fn what_is_apart_stays_within_the_scene() {
        for vehicle in &VEHICLES {
            for text in [vehicle.body, vehicle.lid] {
                for mark in Drawing::read(text).marks.iter().filter(|mark| mark.name.ends_with("-apart")) {
                    let (low, high) = apart().moved(mark.centre).bounds();
                    let inside = low.cmpgt(Vec2::ZERO).all() && high.cmplt(super::super::view::DESIGN).all();
                    assert!(inside, "{}: {}", vehicle.id, mark.name);
                }
            }
        }
    }
}
