//! What a shut lid hides of the latch, seen through it: the latch, its claw as it stands, and the striker that comes into it.

use super::catalogue::layer;
use super::shape::Shape;
use super::stage::Stage;

/// The group of the striker, in `body.svg`, or in `lid.svg` on the inside where one door is latched to the other.
pub(super) const STRIKER: &str = "striker";
/// Where the striker lies: between the latch and its claw.
pub(super) const STRIKER_HEIGHT: f32 = layer::THROUGH + 0.2;
/// How much of what lies before them claw and striker cover, and how much the latch's plate, which is only to be guessed.
const SHARE: f32 = 0.85;
const PLATE_SHARE: f32 = 0.4;

/// Where a part of the lid's inside lies that is seen through the lid, if it is.
pub(super) fn height(part: &str) -> Option<f32> {
    match part {
        "latch" => Some(layer::THROUGH),
        STRIKER => Some(STRIKER_HEIGHT),
        "claw" => Some(layer::THROUGH + 0.4),
        _ => None,
    }
}

/// Whether they are seen now: from near, and from afar for as long as the lid is not shut, as they would cover its plate.
pub(super) fn is_looked_through(stage: &Stage, lid_degrees: f32) -> bool {
    stage.near || lid_degrees > 0.0
}

/// The shape of a part as it is seen through the lid.
pub(super) fn seen(part: &str, shape: &Shape) -> Shape {
    let share = if part == "latch" { PLATE_SHARE } else { SHARE };
    let colours = shape.colours.iter().map(|[red, green, blue, alpha]| [*red, *green, *blue, alpha * share]);
    Shape { colours: colours.collect(), ..shape.clone() }
}

#[cfg(test)]
mod tests {
    use bevy::prelude::Vec2;

    use super::super::catalogue::VEHICLES;
    use super::super::drawing::Drawing;
    use super::super::figure::Figure;
    use super::super::hinge::{Face, Hinge};
    use super::*;

    /// The middle of what is drawn where the lid stands at this angle, and half its size.
    fn placed(shape: &Shape, place: &dyn Fn(Vec2) -> Vec2) -> (Vec2, Vec2) {
        let (low, high) =
            Shape { positions: shape.positions.iter().map(|at| place(*at)).collect(), ..shape.clone() }
                .bounds();
        (low.midpoint(high), (high - low) / 2.0)
    }

    #[test]
    fn the_striker_stands_in_the_latch_of_every_shut_lid_and_clear_of_it_once_it_is_open() {
        for vehicle in &VEHICLES {
            let figure = Figure::read(vehicle.figure).expect("a test of its own reads it");
            let (body, lid) = (Drawing::read(vehicle.body), Drawing::read(vehicle.lid));
            let part = |drawing: &Drawing, name: &str| {
                drawing.parts.iter().find(|part| part.name == name).map(|part| part.shape.clone())
            };
            let claw = part(&lid, "inside.claw").expect("every lid has a claw");
            let on_body = part(&body, STRIKER);
            let on_lid = part(&lid, "inside.striker");
            assert!(on_body.is_some() != on_lid.is_some(), "{}: one striker", vehicle.id);
            let apart = |degrees: f32| {
                let hinge = Hinge::new(figure.camera, figure.lid, degrees);
                let (claw, half) = placed(&claw, &|at| hinge.place(at, Face::Inside));
                let (striker, other) = match (&on_body, &on_lid) {
                    (Some(striker), _) => placed(striker, &|at| at),
                    (None, Some(striker)) => {
                        let door = striker.bounds().0.x;
                        placed(striker, &|at| hinge.place_by(at, Face::Inside, door))
                    }
                    (None, None) => unreachable!("there is one"),
                };
                (claw - striker).abs() - half - other
            };
            let shut = apart(0.0).max_element();
            assert!(shut < -8.0, "{}: the striker lies {shut} from the claw of the shut lid", vehicle.id);
            let mut before = shut;
            for degrees in [15.0, 30.0, 45.0] {
                let open = apart(degrees).max_element();
                assert!(open > before, "{}: it does not leave the latch at {degrees} degrees", vehicle.id);
                before = open;
            }
            assert!(before > 20.0, "{}: still {before} apart", vehicle.id);
        }
    }
}
