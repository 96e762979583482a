//! Coloured triangles: filled outlines, strokes and ribbons with soft edges, ready to become a mesh.
//!
//! Edges are feathered by a strip that fades to nothing, so no multisampling is needed: that halves
//! the work of a machine which renders in software.

use std::collections::BTreeMap;

use bevy::asset::RenderAssetUsages;
use bevy::mesh::{Indices, PrimitiveTopology};
use bevy::prelude::*;

/// Width over which an edge fades, in design units (at 1280×720 a pixel is 1.5 of them).
const FEATHER: f32 = 1.3;
/// How far a mitre may reach, as a multiple of half the stroke's width.
const MITRE_LIMIT: f32 = 2.2;

/// A colour with alpha, sRGB encoded, each part from 0 to 1.
pub(super) type Tint = [f32; 4];

/// Triangles with a colour at each corner, in the coordinates of a drawing (y down).
#[derive(Clone, Default)]
pub(super) struct Shape {
    /// Corners.
    pub(super) positions: Vec<Vec2>,
    /// One colour a corner, sRGB encoded.
    pub(super) colours: Vec<Tint>,
    /// Three a triangle, painted in order.
    pub(super) indices: Vec<u32>,
}

impl Shape {
    /// True when there is nothing to draw.
    pub(super) fn is_empty(&self) -> bool {
        self.indices.is_empty()
    }

    /// The corner of the rectangle around it that is nearest the origin of its drawing, and that opposite.
    pub(super) fn bounds(&self) -> (Vec2, Vec2) {
        let points = || self.positions.iter().copied();
        (points().reduce(Vec2::min).unwrap_or_default(), points().reduce(Vec2::max).unwrap_or_default())
    }

    /// Whether it is painted at a point.
    pub(super) fn covers(&self, at: Vec2) -> bool {
        self.indices.chunks_exact(3).any(|corners| {
            let [a, b, c] = [0, 1, 2].map(|k| self.positions[corners[k] as usize]);
            let sides = [(b - a).perp_dot(at - a), (c - b).perp_dot(at - b), (a - c).perp_dot(at - c)];
            sides.iter().all(|side| *side > 0.0) || sides.iter().all(|side| *side < 0.0)
        })
    }

    /// The same shape elsewhere.
    pub(super) fn moved(&self, by: Vec2) -> Self {
        let positions = self.positions.iter().map(|at| *at + by).collect();
        Self { positions, ..self.clone() }
    }

    /// Adds another shape, painted after this one.
    pub(super) fn extend(&mut self, other: &Self) {
        let first = self.positions.len() as u32;
        self.positions.extend(&other.positions);
        self.colours.extend(&other.colours);
        self.indices.extend(other.indices.iter().map(|corner| first + corner));
    }

    /// Adds a corner and returns its number.
    fn corner(&mut self, at: Vec2, tint: Tint) -> u32 {
        self.positions.push(at);
        self.colours.push(tint);
        (self.positions.len() - 1) as u32
    }

    /// Adds triangles given by `corners` and `indices`, coloured by `tint_at`. Triangles are cut until
    /// `too_long` is false for every edge, so that a gradient's bend shows.
    pub(super) fn triangles(
        &mut self,
        corners: &[Vec2],
        indices: &[u32],
        tint_at: &dyn Fn(Vec2) -> Tint,
        too_long: &dyn Fn(Vec2, Vec2) -> bool,
    ) {
        let first: Vec<u32> = corners.iter().map(|&corner| self.corner(corner, tint_at(corner))).collect();
        let mut middles: BTreeMap<(u32, u32), u32> = BTreeMap::new();
        for triangle in indices.chunks_exact(3) {
            let mut waiting = vec![([0, 1, 2].map(|k| first[triangle[k] as usize]), 0)];
            while let Some((corner, depth)) = waiting.pop() {
                let at = corner.map(|c| self.positions[c as usize]);
                // Whether an edge is cut depends on the edge alone, so neighbours agree and no crack opens.
                let longest = [(0, 1, 2), (1, 2, 0), (2, 0, 1)]
                    .into_iter()
                    .filter(|&(a, b, _)| depth < 16 && too_long(at[a], at[b]))
                    .max_by(|l, r| {
                        at[l.0].distance_squared(at[l.1]).total_cmp(&at[r.0].distance_squared(at[r.1]))
                    });
                let Some((a, b, c)) = longest else {
                    self.indices.extend(corner);
                    continue;
                };
                let key = (corner[a].min(corner[b]), corner[a].max(corner[b]));
                let middle = *middles.entry(key).or_insert_with(|| {
                    let centre = at[a].midpoint(at[b]);
                    self.positions.push(centre);
                    self.colours.push(tint_at(centre));
                    (self.positions.len() - 1) as u32
                });
                waiting.push(([corner[a], middle, corner[c]], depth + 1));
                waiting.push(([middle, corner[b], corner[c]], depth + 1));
            }
        }
    }

    /// Adds the soft rim of a filled, opaque outline.
    pub(super) fn soft_rim(&mut self, line: &[Vec2], tint_at: &dyn Fn(Vec2) -> Tint) {
        self.sweep(line, true, &|_| [(-FEATHER * 0.6, 0.0), (0.0, 1.0), (FEATHER * 0.6, 0.0)], tint_at);
    }

    /// Adds a stroke of the given width along `line`.
    pub(super) fn stroke(&mut self, line: &[Vec2], closed: bool, width: f32, tint_at: &dyn Fn(Vec2) -> Tint) {
        self.ribbon(line, closed, &|_| width, tint_at);
    }

    /// Adds a stroke with round ends.
    pub(super) fn cord(&mut self, line: &[Vec2], width: f32, tint: Tint) {
        let (Some(&first), Some(&last)) = (line.first(), line.last()) else { return };
        if line.len() < 2 {
            return;
        }
        let back = (first - line[1]).normalize_or_zero();
        let on = (last - line[line.len() - 2]).normalize_or_zero();
        let half = width / 2.0;
        let ends = [(1.0, 0.15), (0.86, 0.52), (0.5, 0.87), (0.0, 1.0)];
        let mut points: Vec<Vec2> = ends.iter().map(|(out, _)| first + back * half * *out).collect();
        points.extend(&line[1..line.len() - 1]);
        points.extend(ends.iter().rev().map(|(out, _)| last + on * half * *out));
        let count = points.len();
        let width_at = |i: usize| {
            let from_end = i.min(count - 1 - i);
            width * ends.get(from_end).map_or(1.0, |(_, wide)| *wide)
        };
        self.ribbon(&points, false, &width_at, &|_| tint);
    }

    /// Adds a stroke whose width is asked for at each point.
    pub(super) fn ribbon(
        &mut self,
        line: &[Vec2],
        closed: bool,
        width_at: &dyn Fn(usize) -> f32,
        tint_at: &dyn Fn(Vec2) -> Tint,
    ) {
        let profile = |i: usize| {
            let half = width_at(i) / 2.0;
            let soft = FEATHER / 2.0;
            // A line thinner than its own feather keeps its width and grows faint instead.
            let strength = (half / soft).min(1.0);
            let inner = (half - soft).max(0.02);
            [
                (-half - soft, 0.0),
                (-inner, strength),
                (inner, strength),
                (half.max(soft) + soft * strength, 0.0),
            ]
        };
        self.sweep(line, closed, &profile, tint_at);
    }

    /// Sweeps a cross-section (offset to the side, share of the alpha) along a line.
    fn sweep<const N: usize>(
        &mut self,
        line: &[Vec2],
        closed: bool,
        profile: &dyn Fn(usize) -> [(f32, f32); N],
        tint_at: &dyn Fn(Vec2) -> Tint,
    ) {
        let mut points: Vec<(usize, Vec2)> = Vec::with_capacity(line.len());
        for (i, &point) in line.iter().enumerate() {
            if points.last().is_none_or(|(_, before)| before.distance_squared(point) > 1e-4) {
                points.push((i, point));
            }
        }
        if closed && points.len() > 2 && points[0].1.distance_squared(points[points.len() - 1].1) < 1e-4 {
            points.pop();
        }
        let count = points.len();
        if count < 2 {
            return;
        }
        let start = self.positions.len() as u32;
        for k in 0..count {
            let (i, here) = points[k];
            let before = if k > 0 { Some(points[k - 1].1) } else { closed.then(|| points[count - 1].1) };
            let after = if k + 1 < count { Some(points[k + 1].1) } else { closed.then(|| points[0].1) };
            let into = before.map(|p| (here - p).normalize_or_zero());
            let out = after.map(|p| (p - here).normalize_or_zero());
            let (into, out) = (into.or(out).unwrap_or(Vec2::X), out.or(into).unwrap_or(Vec2::X));
            let along = (into + out).try_normalize().unwrap_or(out);
            let side = along.perp();
            let reach = (1.0 / side.dot(out.perp()).abs().max(0.05)).min(MITRE_LIMIT);
            let tint = tint_at(here);
            for (offset, share) in profile(i) {
                self.corner(here + side * offset * reach, [tint[0], tint[1], tint[2], tint[3] * share]);
            }
        }
        let wide = N as u32;
        let spans = if closed { count } else { count - 1 } as u32;
        for k in 0..spans {
            let (a, b) = (start + k * wide, start + ((k + 1) % count as u32) * wide);
            for j in 0..wide - 1 {
                self.indices.extend([a + j, b + j, b + j + 1, a + j, b + j + 1, a + j + 1]);
            }
        }
    }

    /// Adds a convex polygon with a soft rim.
    pub(super) fn polygon(&mut self, corners: &[Vec2], tint: Tint) {
        let indices: Vec<u32> =
            (1..corners.len().saturating_sub(1) as u32).flat_map(|k| [0, k, k + 1]).collect();
        self.triangles(corners, &indices, &|_| tint, &|_, _| false);
        self.soft_rim(corners, &|_| tint);
    }

    /// Adds a disc with a soft rim.
    pub(super) fn disc(&mut self, centre: Vec2, radius: f32, tint: Tint) {
        let corners: Vec<Vec2> = (0..20)
            .map(|k| centre + Vec2::from_angle(k as f32 * std::f32::consts::TAU / 20.0) * radius)
            .collect();
        self.polygon(&corners, tint);
    }

    /// A mesh of this shape with each corner moved by `place`; the mesh's y runs up. Once it is drawn nobody here can read it
    /// any more: what moves is made anew from its shape.
    pub(super) fn mesh(&self, place: &dyn Fn(Vec2) -> Vec2) -> Mesh {
        let mut mesh = Mesh::new(PrimitiveTopology::TriangleList, RenderAssetUsages::RENDER_WORLD);
        mesh.insert_attribute(Mesh::ATTRIBUTE_POSITION, self.placed(place));
        mesh.insert_attribute(Mesh::ATTRIBUTE_COLOR, self.colours.clone());
        mesh.insert_indices(Indices::U32(self.indices.clone()));
        mesh
    }

    fn placed(&self, place: &dyn Fn(Vec2) -> Vec2) -> Vec<[f32; 3]> {
        self.positions
            .iter()
            .map(|&at| {
                let at = place(at);
                [at.x, -at.y, 0.0]
            })
            .collect()
    }
}

/// Whether a closed line goes around a point.
pub(super) fn encloses(line: &[Vec2], at: Vec2) -> bool {
    let mut inside = false;
    for k in 0..line.len() {
        let (a, b) = (line[k], line[(k + 1) % line.len()]);
        if (a.y > at.y) != (b.y > at.y) && at.x < (b.x - a.x) * (at.y - a.y) / (b.y - a.y) + a.x {
            inside = !inside;
        }
    }
    inside
}
