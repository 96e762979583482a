//! Where a panel goes that is taken off: its own drawing, smaller, laid on the floor or folded where it was.

use bevy::prelude::*;
use serde::Deserialize;

use super::shape::{Shape, Tint};

/// A panel that is off.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Aside {
    /// Its name.
    pub(super) panel: String,
    /// Where it goes.
    pub(super) goes: Goes,
}

/// Where it goes, in design units and shares of its size as drawn.
#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) enum Goes {
    /// It folds down about its lower edge. This much of its height is still seen.
    Folds(f32),
    /// It swings about its left edge. This much of its width is still seen.
    Swings(f32),
    /// It lies on something or leans against it.
    Lies {
        /// Where its middle is.
        middle: (f32, f32),
        /// How much of its width and of its height is seen.
        scale: (f32, f32),
        /// How far it leans, clockwise.
        #[serde(default)]
        turn_degrees: f32,
    },
}

impl Goes {
    /// Whether it leaves the vehicle.
    pub(super) fn leaves(self) -> bool {
        matches!(self, Self::Lies { .. })
    }

    /// The shares of width and height that are seen.
    pub(super) fn scale(self) -> Vec2 {
        match self {
            Self::Folds(share) => Vec2::new(1.0, share),
            Self::Swings(share) => Vec2::new(share, 1.0),
            Self::Lies { scale, .. } => scale.into(),
        }
    }

    /// The panel as it is seen there.
    pub(super) fn laid(self, drawn: &Shape, shadow: Tint) -> Shape {
        let (low, high) = drawn.bounds();
        let scale = self.scale();
        let (from, to, turn_degrees) = match self {
            Self::Folds(_) => (high, high, 0.0),
            Self::Swings(_) => (low, low, 0.0),
            Self::Lies { middle, turn_degrees, .. } => (low.midpoint(high), middle.into(), turn_degrees),
        };
        let turn = Vec2::from_angle(turn_degrees.to_radians());
        let place = |at: &Vec2| to + turn.rotate((*at - from) * scale);
        let mut laid = Shape {
            positions: drawn.positions.iter().map(place).collect(),
            colours: drawn.colours.clone(),
            indices: drawn.indices.clone(),
        };
        if self.leaves() {
            laid = on_its_shadow(&laid, shadow);
        }
        laid
    }
}

/// A thing on the dark that it leaves on what it lies on.
fn on_its_shadow(thing: &Shape, shadow: Tint) -> Shape {
    let (low, high) = thing.bounds();
    let (half, middle) = ((high.x - low.x) / 2.0, low.midpoint(high).x);
    let foot = Vec2::new(middle, high.y - 3.0);
    let line: Vec<Vec2> = (0..24)
        .map(|k| Vec2::from_angle(k as f32 * std::f32::consts::TAU / 24.0))
        .map(|way| foot + way * Vec2::new(half + 6.0, 9.0))
        .collect();
    let mut shape = Shape::default();
    shape.polygon(&line, shadow);
    shape.extend(thing);
    shape
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::super::build::laid_anchor;
    use super::super::catalogue::{PROPS, Prop, VEHICLES, Vehicle};
    use super::super::drawing::Drawing;
    use super::super::figure::Figure;
    use super::super::stage::{Anchors, Stage};
    use super::super::undrawn_at;
    use super::super::view::DESIGN;
    use super::*;

    /// Every panel that a vehicle's drawings show, with its part.
    fn panels(vehicle: &Vehicle) -> Vec<(String, Shape)> {
        let parts = [vehicle.body, vehicle.lid].map(|text| Drawing::read(text).parts).into_iter().flatten();
        parts
            .filter_map(|part| {
                let name = part.name.strip_prefix("inside.").unwrap_or(&part.name);
                name.strip_prefix("panel.").map(|panel| (panel.to_owned(), part.shape.clone()))
            })
            .collect()
    }

    #[test]
    fn every_panel_that_is_drawn_goes_somewhere_when_it_is_off() {
        for vehicle in &VEHICLES {
            let figure = Figure::read(vehicle.figure).expect("a test of its own reads it");
            let drawn: BTreeSet<String> = panels(vehicle).into_iter().map(|(panel, _)| panel).collect();
            let goes: BTreeSet<String> = figure.aside.iter().map(|aside| aside.panel.clone()).collect();
            assert!(drawn.len() > 2, "{} draws few panels", vehicle.id);
            assert_eq!(drawn, goes, "{}", vehicle.id);
            assert_eq!(goes.len(), figure.aside.len(), "{}: a panel goes to two places", vehicle.id);
        }
    }

    #[test]
    fn a_panel_that_leaves_the_vehicle_has_a_place_where_it_lies_while_it_is_off() {
        for vehicle in &VEHICLES {
            let figure = Figure::read(vehicle.figure).expect("a test of its own reads it");
            let all: BTreeSet<String> = figure.aside.iter().map(|aside| aside.panel.clone()).collect();
            for panels_off in [BTreeSet::new(), all] {
                let is_off = !panels_off.is_empty();
                let app = undrawn_at(Stage {
                    vehicle: vehicle.id.to_owned(),
                    panels_off,
                    reduced_motion: true,
                    ..Stage::default()
                });
                let anchors = app.world().resource::<Anchors>();
                for aside in &figure.aside {
                    let laid = anchors.design(&laid_anchor(&aside.panel));
                    let what = format!("{}: {} {is_off}", vehicle.id, aside.panel);
                    assert_eq!(laid.map(|at| at.visible), aside.goes.leaves().then_some(is_off), "{what}");
                    // In design units, of which three are two points.
                    assert!(laid.is_none_or(|at| at.size.min_element() > 36.0), "{what} is hard to touch");
                }
            }
        }
    }

    #[test]
    fn what_is_off_is_smaller_and_lies_clear_of_the_vehicle_and_of_what_is_used() {
        // What hangs on the wall and on the vehicle, and the captions below the middle of the vehicle.
        let taken = |vehicle: &Vehicle| -> Vec<(Vec2, Vec2)> {
            let body = Drawing::read(vehicle.body);
            let hangs = |prop: &Prop| {
                let drawing = Drawing::read(prop.drawing?);
                let bounds = drawing.parts.iter().map(|part| part.shape.bounds());
                let (low, high) = bounds.fold((Vec2::MAX, Vec2::MIN), |(low, high), (one, other)| {
                    (low.min(one), high.max(other))
                });
                let at = prop.at.corner(&|name| Some(body.mark(name)?.centre), &drawing);
                Some((at + low, at + high))
            };
            let captions = (Vec2::new(430.0, 970.0), Vec2::new(1430.0, DESIGN.y));
            PROPS.iter().filter_map(hangs).chain([captions]).collect()
        };
        for vehicle in &VEHICLES {
            let figure = Figure::read(vehicle.figure).expect("a test of its own reads it");
            let shapes = panels(vehicle);
            for aside in &figure.aside {
                let what = format!("{}: {}", vehicle.id, aside.panel);
                let (_, drawn) =
                    shapes.iter().find(|(panel, _)| *panel == aside.panel).expect("the test above finds it");
                let (low, high) = drawn.bounds();
                let (there_low, there_high) = aside.goes.laid(drawn, [0.0; 4]).bounds();
                let area = |low: Vec2, high: Vec2| (high.x - low.x) * (high.y - low.y);
                assert!(area(there_low, there_high) < 0.7 * area(low, high), "{what} is as large as before");
                if !aside.goes.leaves() {
                    let stays = there_low.cmpge(low - 0.1).all() && there_high.cmple(high + 0.1).all();
                    assert!(stays, "{what} leaves the place where it folds");
                    continue;
                }
                assert!(
                    there_low.cmpgt(Vec2::splat(4.0)).all() && there_high.cmplt(DESIGN - 4.0).all(),
                    "{what}"
                );
                for (one, other) in &taken(vehicle) {
                    let apart = there_low.cmpgt(*other).any() || there_high.cmplt(*one).any();
                    assert!(apart, "{what} lies over what is at {one}");
                }
            }
        }
    }
}
