//! A lid's motion: flat, thick plates that turn about their hinges, seen by a camera behind the vehicle.
//!
//! The lid is drawn as it lies when shut. A point of that drawing is carried back onto its plate, the
//! plate is turned, and the point is projected again; everything on the lid goes through
//! [`Hinge::place`], so drawings, wires and anchors stay together at every angle.

use bevy::prelude::*;
use serde::Deserialize;

/// From where a vehicle is seen, in design units.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Camera {
    /// Middle of the vehicle in the scene.
    pub(super) middle: f32,
    /// Height of the camera's horizon in the scene.
    pub(super) horizon: f32,
    /// Distance of the camera from the hinge, in design units at the hinge's scale.
    pub(super) distance: f32,
}

/// How a lid turns.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
pub(super) enum Lid {
    /// One plate that turns about its upper edge.
    Top {
        /// Height of the hinge line in the scene.
        hinge: f32,
        /// How far the shut lid leans: its lower edge is nearer to us than the hinge.
        rake_degrees: f32,
        /// Thickness of the lid.
        thickness: f32,
    },
    /// Two doors, each of which turns about an upright axis at its outer edge.
    Sides {
        /// Where the left door's axis is in the scene.
        left: f32,
        /// Where the right door's axis is in the scene.
        right: f32,
        /// Thickness of the doors.
        thickness: f32,
    },
}

impl Lid {
    /// Whether its numbers can be those of a lid.
    pub(super) fn makes_sense(&self) -> bool {
        match *self {
            Self::Top { rake_degrees, thickness, .. } => {
                (0.0..80.0).contains(&rake_degrees) && (0.0..200.0).contains(&thickness)
            }
            Self::Sides { left, right, thickness } => left < right && (0.0..200.0).contains(&thickness),
        }
    }
}

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
    camera: Camera,
    lid: Lid,
    degrees: f32,
}

impl Hinge {
    /// A lid opened by `degrees` from shut.
    pub(super) fn new(camera: Camera, lid: Lid, degrees: f32) -> Self {
        Self { camera, lid, degrees }
    }

    /// Where a point of the lid's drawing appears in the scene.
    pub(super) fn place(&self, drawn: Vec2, face: Face) -> Vec2 {
        self.place_by(drawn, face, drawn.x)
    }

    /// The same for a point that, of two doors, belongs to the one at this place across, as what reaches over the gap does.
    pub(super) fn place_by(&self, drawn: Vec2, face: Face, across: f32) -> Vec2 {
        let inward = |thickness: f32| match face {
            Face::Outside => 0.0,
            Face::Inside => thickness,
        };
        // Across from the middle, down from the horizon, and toward us from the hinge.
        let (across, down, toward) = match self.lid {
            Lid::Top { hinge, rake_degrees, thickness } => {
                let (x, along) = self.on_leaning_plate(drawn, hinge, rake_degrees);
                let (sin, cos) = (rake_degrees + self.degrees).to_radians().sin_cos();
                let inward = inward(thickness);
                (x, hinge - self.camera.horizon + along * cos + inward * sin, along * sin - inward * cos)
            }
            Lid::Sides { left, right, thickness } => {
                let (axis, turn) = if across < self.camera.middle { (left, 1.0) } else { (right, -1.0) };
                let (sin, cos) = self.degrees.to_radians().sin_cos();
                let (along, inward) = ((drawn.x - axis) * turn, inward(thickness));
                let x = axis - self.camera.middle + (along * cos + inward * sin) * turn;
                (x, drawn.y - self.camera.horizon, along * sin - inward * cos)
            }
        };
        let scale = self.camera.distance / (self.camera.distance - toward);
        Vec2::new(self.camera.middle + across * scale, self.camera.horizon + down * scale)
    }

    /// The face that we see.
    pub(super) fn shows(&self) -> Face {
        // The plate and the camera's way to its hinge: on which side of the plate the camera stands.
        let outside = match self.lid {
            Lid::Top { hinge, rake_degrees, .. } => {
                let (sin, cos) = (rake_degrees + self.degrees).to_radians().sin_cos();
                cos * self.camera.distance > sin * (self.camera.horizon - hinge)
            }
            Lid::Sides { left, .. } => {
                let (sin, cos) = self.degrees.to_radians().sin_cos();
                cos * self.camera.distance > sin * (self.camera.middle - left)
            }
        };
        if outside { Face::Outside } else { Face::Inside }
    }

    /// How much light falls through the opening, from 0 (shut) to 1.
    pub(super) fn openness(&self) -> f32 {
        (self.degrees / 45.0).clamp(0.0, 1.0)
    }

    /// A point of the drawing as a place on the leaning plate: across from the middle, and down from the hinge.
    fn on_leaning_plate(&self, drawn: Vec2, hinge: f32, rake_degrees: f32) -> (f32, f32) {
        let Camera { middle, horizon, distance } = self.camera;
        let (sin, cos) = rake_degrees.to_radians().sin_cos();
        let above = horizon - drawn.y;
        let down = distance * (horizon - hinge - above) / (distance * cos - above * sin);
        let depth = distance - down * sin;
        ((drawn.x - middle) * depth / distance, down)
    }
}

#[cfg(test)]
mod tests {
    use super::super::catalogue::VEHICLES;
    use super::super::drawing::Drawing;
    use super::super::figure::Figure;
    use super::super::view::DESIGN;
    use super::*;

    /// Every vehicle with its lid at an angle, and the edges of its lid as drawn.
    fn lids(degrees: impl Fn(&Figure) -> f32) -> Vec<(&'static str, Hinge, Vec<Vec2>)> {
        VEHICLES
            .iter()
            .map(|vehicle| {
                let figure = Figure::read(vehicle.figure).expect("a test of its own reads it");
                let lid = Drawing::read(vehicle.lid);
                let edge: Vec<Vec2> = lid.outlines().flat_map(|part| part.outline.clone()).collect();
                assert!(edge.len() > 7, "{} draws no outline of its lid", vehicle.id);
                (vehicle.id, Hinge::new(figure.camera, figure.lid, degrees(&figure)), edge)
            })
            .collect()
    }

    #[test]
    fn every_shut_lid_lies_as_it_is_drawn_and_shows_its_outside() {
        for (id, hinge, edge) in lids(|_| 0.0) {
            assert_eq!(hinge.shows(), Face::Outside, "{id}");
            for drawn in edge {
                let placed = hinge.place(drawn, Face::Outside);
                assert!(placed.distance(drawn) < 0.01, "{id}: {drawn} was placed at {placed}");
            }
        }
    }

    #[test]
    fn every_open_lid_shows_its_inside_and_stays_in_the_picture() {
        for (id, hinge, edge) in lids(|figure| figure.widest_degrees) {
            assert_eq!(hinge.shows(), Face::Inside, "{id}");
            for at in edge.into_iter().map(|drawn| hinge.place(drawn, Face::Inside)) {
                let inside = at.x > 8.0 && at.x < DESIGN.x - 8.0 && at.y > 8.0 && at.y < DESIGN.y - 8.0;
                assert!(inside, "{id}: the open lid reaches {at}");
            }
        }
    }

    #[test]
    fn every_lid_opens_far_enough_to_uncover_half_of_what_it_covered() {
        let span = |line: &[Vec2]| {
            let low = line.iter().copied().reduce(Vec2::min).unwrap_or_default();
            (low, line.iter().copied().reduce(Vec2::max).unwrap_or_default())
        };
        for (id, hinge, edge) in lids(|figure| figure.widest_degrees) {
            let (low, high) = span(&edge);
            let middle = low.midpoint(high);
            let open: Vec<Vec2> = edge.iter().map(|drawn| hinge.place(*drawn, Face::Inside)).collect();
            // A tailgate has gone above the middle of the opening, doors have gone to its sides.
            let clear = match hinge.lid {
                Lid::Top { .. } => open.iter().all(|at| at.y < middle.y),
                Lid::Sides { .. } => open.iter().all(|at| (at.x - middle.x).abs() > (high.x - low.x) * 0.25),
            };
            assert!(clear, "{id}: the open lid still hides its opening");
        }
    }

    /// What lies across the gap would be drawn out between the open doors.
    #[test]
    fn nothing_of_two_doors_lies_across_the_gap_between_them() {
        for vehicle in &VEHICLES {
            let figure = Figure::read(vehicle.figure).expect("a test of its own reads it");
            let Lid::Sides { .. } = figure.lid else { continue };
            let middle = figure.camera.middle;
            // The striker is meant to reach over.
            let parts = Drawing::read(vehicle.lid).parts.into_iter();
            for part in parts.filter(|part| part.name != "inside.striker") {
                for triangle in part.shape.indices.chunks_exact(3) {
                    let left =
                        triangle.iter().filter(|k| part.shape.positions[**k as usize].x < middle).count();
                    assert!(left == 0 || left == 3, "{}: `{}` lies across the gap", vehicle.id, part.name);
                }
            }
        }
    }

    #[test]
    fn doors_mirror_each_other_and_keep_their_axes_in_place() {
        let camera = Camera { middle: 900.0, horizon: 600.0, distance: 4000.0 };
        let lid = Lid::Sides { left: 500.0, right: 1300.0, thickness: 30.0 };
        for degrees in [0.0, 40.0, 90.0, 110.0] {
            let hinge = Hinge::new(camera, lid, degrees);
            for (x, y) in [(520.0, 200.0), (700.0, 500.0), (890.0, 800.0)] {
                for face in [Face::Outside, Face::Inside] {
                    let one = hinge.place(Vec2::new(x, y), face);
                    let other = hinge.place(Vec2::new(1800.0 - x, y), face);
                    assert!((one.x + other.x - 1800.0).abs() < 0.01 && (one.y - other.y).abs() < 0.01);
                }
            }
            let axis = Vec2::new(500.0, 333.0);
            assert!(hinge.place(axis, Face::Outside).distance(axis) < 0.01);
        }
    }
}
