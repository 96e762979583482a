//! Places of a vehicle that the drawing has no mark for: they stand in rows on the part of the car where they are.

use bevy::prelude::*;

use super::build::Ground;
use super::drawing::Mark;
use super::hinge::Face;

/// On which part of the car something is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Region {
    Outside,
    LoadSpace,
    Lid,
}

/// A place that has to be found in the scene.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Wanted {
    /// Its own name.
    pub(crate) name: String,
    /// Other names under which a drawing may have it.
    pub(crate) or: Vec<String>,
    /// Where it is.
    pub(crate) region: Region,
}

/// Marks for what is wanted and not drawn.
pub(super) fn marks(wanted: &[Wanted], is_drawn: &dyn Fn(&str) -> bool) -> Vec<(Mark, Ground)> {
    let mut counts = [0_usize; 3];
    wanted
        .iter()
        .filter(|one| !is_drawn(&one.name) && !one.or.iter().any(|name| is_drawn(name)))
        .map(|one| {
            // Clear of what the estate's drawings show there: seat back, lamp, pad and latch.
            let (count, ground, first, step, columns) = match one.region {
                Region::Outside => {
                    (&mut counts[0], Ground::Body, Vec2::new(560.0, 850.0), Vec2::new(95.0, 48.0), 8)
                }
                Region::LoadSpace => {
                    (&mut counts[1], Ground::Body, Vec2::new(745.0, 486.0), Vec2::new(72.0, 62.0), 6)
                }
                Region::Lid => {
                    let inside = Ground::Lid(Face::Inside);
                    (&mut counts[2], inside, Vec2::new(670.0, 430.0), Vec2::new(90.0, 70.0), 6)
                }
            };
            #[expect(clippy::cast_precision_loss, reason = "a few places")]
            let by = Vec2::new((*count % columns) as f32, (*count / columns) as f32);
            *count += 1;
            let centre = first + by * step;
            (Mark { name: one.name.clone(), centre, size: Vec2::splat(24.0), group: String::new() }, ground)
        })
        .collect()
}
