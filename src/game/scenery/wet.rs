//! Drops of water on what is wet.

use bevy::prelude::*;

use super::palette::Palette;
use super::shape::{Shape, Tint};

/// Groups of the body on which drops hang.
pub(super) const WETTED: [&str; 3] = ["shell", "lamp-clusters", "bumper"];

/// How far apart drops are, in design units.
const APART: f32 = 25.0;

/// Drops within a rectangle, from its corner nearest the origin to that opposite, wherever `is_wet` says so.
pub(super) fn drops(low: Vec2, high: Vec2, is_wet: &dyn Fn(Vec2) -> bool, palette: &Palette) -> Shape {
    let inks = ["drop", "drop-shade", "drop-light"].map(|name| palette.get(name).to_f32_array());
    let mut shape = Shape::default();
    let (columns, rows) = (((high.x - low.x) / APART) as u32, ((high.y - low.y) / APART) as u32);
    for (row, column) in (0..rows).flat_map(|row| (0..columns).map(move |column| (row, column))) {
        // Strewn about the points of a grid, and the same whenever the vehicle comes in.
        let [x, y, size, runs] = [1, 2, 3, 4].map(|what| chance(column, row, what));
        let at = low + (Vec2::new(column as f32, row as f32) + Vec2::new(x, y)) * APART;
        if is_wet(at) {
            drop(&mut shape, at, 1.9 + 2.3 * size * size, (runs > 0.86).then_some(16.0 + 40.0 * x), inks);
        }
    }
    shape
}

/// One drop; where it has run down, with the way that it came.
fn drop(shape: &mut Shape, at: Vec2, radius: f32, ran: Option<f32>, [water, shade, light]: [Tint; 3]) {
    if let Some(way) = ran {
        let side = Vec2::new(radius * 0.5, 0.0);
        let top = at - Vec2::new(0.0, way);
        let clear = [water[0], water[1], water[2], 0.0];
        let faint = [water[0], water[1], water[2], water[3] * 0.6];
        let tint = |corner: Vec2| if corner.y < at.y - way / 2.0 { clear } else { faint };
        shape.triangles(&[top, at - side, at + side], &[0, 1, 2], &tint, &|_, _| false);
    }
    let round = |middle: Vec2, radius: f32| -> [Vec2; 7] {
        std::array::from_fn(|k| {
            let angle = Vec2::from_angle(k as f32 * std::f32::consts::TAU / 7.0 - 1.2);
            middle + angle * Vec2::new(radius, radius * 1.2)
        })
    };
    let corners = |shape: &mut Shape, corners: [Vec2; 7], tint: Tint| {
        let fan: Vec<u32> = (1..6).flat_map(|k| [0, k, k + 1]).collect();
        shape.triangles(&corners, &fan, &|_| tint, &|_, _| false);
    };
    corners(shape, round(at + Vec2::new(0.5, 1.0), radius + 0.7), shade);
    corners(shape, round(at, radius), water);
    corners(shape, round(at - radius * 0.3, radius * 0.34), light);
}

/// A number from 0 to 1 that looks like chance, for a place and a purpose.
fn chance(column: u32, row: u32, what: u32) -> f32 {
    let mut mixed =
        column.wrapping_mul(0x9e37_79b1) ^ row.wrapping_mul(0x85eb_ca77) ^ what.wrapping_mul(0xc2b2_ae3d);
    for _ in 0..2 {
        mixed = (mixed ^ (mixed >> 15)).wrapping_mul(0x2c1b_3c6d);
        mixed ^= mixed >> 12;
    }
    (mixed & 0xffff) as f32 / 65_535.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn drops_hang_where_it_is_wet_and_are_the_same_every_time() {
        let palette = Palette::load();
        let left = |at: Vec2| at.x < 150.0;
        let once = drops(Vec2::ZERO, Vec2::new(300.0, 200.0), &left, &palette);
        assert!(once.positions.len() > 500, "{}", once.positions.len());
        assert!(once.positions.iter().all(|at| at.x < 158.0 && at.y > -60.0 && at.y < 210.0));
        let again = drops(Vec2::ZERO, Vec2::new(300.0, 200.0), &left, &palette);
        assert_eq!(once.positions, again.positions);
        assert!(drops(Vec2::ZERO, Vec2::new(300.0, 200.0), &|_| false, &palette).is_empty());
    }
}
