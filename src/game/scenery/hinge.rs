//! The tailgate's motion: a flat, thick plate that turns about the roof's rear edge, seen by a camera
//! that stands behind the car at about the height of the number plate.
//!
//! The lid is drawn as it lies when shut. A point of that drawing is carried back onto the plate, the
//! plate is turned, and the point is projected again; everything on the lid goes through
//! [`Hinge::place`], so drawings, wires and anchors stay together at every angle.

use bevy::prelude::*;

/// Middle of the car in the scene.
const MIDDLE: f32 = 895.0;
/// Height of the hinge line in the scene.
const HINGE: f32 = 294.0;
/// Height of the camera's horizon in the scene.
const HORIZON: f32 = 622.0;
/// Distance of the camera from the hinge line, in design units at the hinge's scale.
const DISTANCE: f32 = 2300.0;
/// How far the shut lid leans: its lower edge is nearer to us than the hinge.
const RAKE_DEGREES: f32 = 20.0;
/// Thickness of the lid.
const THICKNESS: f32 = 26.0;
/// The widest the lid opens, in degrees from shut.
pub(super) const WIDEST: f32 = 85.0;

/// A face of the lid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Face {
    /// Paint, glass, number plate.
    Outside,
    /// Trim, latch, loom.
    Inside,
}

/// The lid at one angle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Hinge {
    degrees: f32,
}

impl Hinge {
    /// The lid opened by `degrees` from shut.
    pub(super) fn at(degrees: f32) -> Self {
        Self { degrees }
    }

    /// Where a point of the lid's drawing appears in the scene.
    pub(super) fn place(&self, drawn: Vec2, face: Face) -> Vec2 {
        let (x, down) = on_plate(drawn);
        let (sin, cos) = (RAKE_DEGREES + self.degrees).to_radians().sin_cos();
        let inward = match face {
            Face::Outside => 0.0,
            Face::Inside => THICKNESS,
        };
        let above_camera = HORIZON - HINGE - down * cos - inward * sin;
        let depth = DISTANCE - down * sin + inward * cos;
        Vec2::new(MIDDLE + x * DISTANCE / depth, HORIZON - above_camera * DISTANCE / depth)
    }

    /// The face that we see.
    pub(super) fn shows(&self) -> Face {
        let angle = (RAKE_DEGREES + self.degrees).to_radians();
        if angle.tan() > 0.0 && angle.tan() < DISTANCE / (HORIZON - HINGE) {
            Face::Outside
        } else {
            Face::Inside
        }
    }

    /// How much light falls through the opening, from 0 (shut) to 1.
    pub(super) fn openness(&self) -> f32 {
        (self.degrees / 45.0).clamp(0.0, 1.0)
    }
}

/// A point of the drawing as a place on the plate: across from the middle, and down from the hinge.
fn on_plate(drawn: Vec2) -> (f32, f32) {
    let (sin, cos) = RAKE_DEGREES.to_radians().sin_cos();
    let above = HORIZON - drawn.y;
    let down = DISTANCE * (HORIZON - HINGE - above) / (DISTANCE * cos - above * sin);
    let depth = DISTANCE - down * sin;
    ((drawn.x - MIDDLE) * depth / DISTANCE, down)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_shut_lid_lies_as_it_is_drawn() {
        for drawn in [Vec2::new(540.0, 300.0), Vec2::new(895.0, 784.0), Vec2::new(1290.0, 560.0)] {
            let placed = Hinge::at(0.0).place(drawn, Face::Outside);
            assert!(placed.distance(drawn) < 0.01, "{drawn} was placed at {placed}");
        }
    }

    #[test]
    fn a_raised_lid_stands_above_the_roof_inside_the_picture_and_shows_its_inside() {
        let raised = Hinge::at(WIDEST);
        let edge = raised.place(Vec2::new(895.0, 784.0), Face::Outside);
        assert!(edge.y > 8.0 && edge.y < 120.0, "the raised edge is at {edge}");
        assert_eq!(raised.shows(), Face::Inside);
        assert_eq!(Hinge::at(0.0).shows(), Face::Outside);
    }
}
