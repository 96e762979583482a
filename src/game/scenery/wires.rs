//! Hanging leads, the loom and other things whose shape follows their ends.

use bevy::prelude::*;

use super::leads::{LeadTip, PenLine};
use super::palette::Palette;
use super::shape::{Shape, Tint};
use super::{LoomWire, Placed};

/// Distance between neighbouring wires of the loom.
const PITCH: f32 = 4.6;

fn solid(rgb: [f32; 3]) -> Tint {
    [rgb[0], rgb[1], rgb[2], 1.0]
}

fn shaded(rgb: [f32; 3], by: f32) -> Tint {
    let toward = if by < 0.0 { 0.0 } else { 1.0 };
    let part = |c: f32| c + (toward - c) * by.abs();
    [part(rgb[0]), part(rgb[1]), part(rgb[2]), 1.0]
}

/// Points of a quadratic curve.
pub(super) fn curve(from: Vec2, by: Vec2, to: Vec2, pieces: usize) -> Vec<Vec2> {
    (0..=pieces)
        .map(|k| {
            let t = k as f32 / pieces as f32;
            from.lerp(by, t).lerp(by.lerp(to, t), t)
        })
        .collect()
}

/// A rounded line through all `stations`, in steps of a few units.
pub(super) fn through(stations: &[Vec2]) -> Vec<Vec2> {
    let mut line = Vec::new();
    for k in 0..stations.len().saturating_sub(1) {
        let (b, c) = (stations[k], stations[k + 1]);
        let a = if k > 0 { stations[k - 1] } else { b };
        let d = stations.get(k + 2).copied().unwrap_or(c);
        let length = b.distance(c);
        // Tangents are held to the length of the piece, so that a long neighbour does not throw a loop.
        let tangent = |before: Vec2, after: Vec2| (after - before).normalize_or_zero() * length * 0.8;
        let (m, n) = (tangent(a, c), tangent(b, d));
        let steps = (length / 7.0).ceil().max(2.0) as usize;
        for step in 0..steps {
            let t = step as f32 / steps as f32;
            let (t2, t3) = (t * t, t * t * t);
            line.push(
                b * (2.0 * t3 - 3.0 * t2 + 1.0)
                    + m * (t3 - 2.0 * t2 + t)
                    + c * (3.0 * t2 - 2.0 * t3)
                    + n * (t3 - t2),
            );
        }
    }
    line.extend(stations.last());
    line
}

fn aside(line: &[Vec2], offset: f32) -> Vec<Vec2> {
    (0..line.len())
        .map(|k| {
            let before = line[k.saturating_sub(1)];
            let after = line[(k + 1).min(line.len() - 1)];
            line[k] + (after - before).normalize_or_zero().perp() * offset
        })
        .collect()
}

/// The loom's wires side by side along `stations`, with tape around them: bands here and there, and all round where it is wrapped.
pub(super) fn loom(
    shape: &mut Shape,
    stations: &[Vec2],
    wrapped: &[Vec2],
    wires: &[LoomWire],
    palette: &Palette,
) {
    /// Half of the length that is wrapped, as long as what is seen where it is opened, and from that to the next band.
    const HALF: f32 = 34.0;
    const CLEAR: f32 = 14.0;
    let line = through(stations);
    if line.len() < 2 || wires.is_empty() {
        return;
    }
    let across = PITCH * wires.len() as f32;
    let outline = palette.get("wire-outline").to_f32_array();
    shape.cord(&line, across + 5.0, outline);
    for (k, wire) in wires.iter().enumerate() {
        let offset = (k as f32 - (wires.len() - 1) as f32 / 2.0) * PITCH;
        let path = aside(&line, offset);
        shape.stroke(&path, false, PITCH - 0.6, &|_| solid(wire.base));
        match wire.stripe {
            Some(stripe) => shape.stroke(&path, false, 1.7, &|_| solid(stripe)),
            None => {
                shape.stroke(&aside(&line, offset - PITCH * 0.2), false, 1.1, &|_| shaded(wire.base, 0.35))
            }
        }
    }
    let (tape, sheen) = (palette.get("tape").to_f32_array(), palette.get("tape-sheen").to_f32_array());
    let mut since = 26.0;
    for k in 1..line.len() - 1 {
        since += line[k].distance(line[k - 1]);
        if since > 54.0 && wrapped.iter().all(|at| at.distance(line[k]) > HALF + CLEAR) {
            since = 0.0;
            let along = (line[k + 1] - line[k - 1]).normalize_or_zero();
            let side = along.perp() * (across / 2.0 + 3.0);
            let band = [line[k] - along * 6.0, line[k] + along * 6.0];
            let corners = [band[0] - side, band[1] - side, band[1] + side, band[0] + side];
            shape.polygon(&corners, tape);
            shape.stroke(&[band[0] - side * 0.9, band[0] + side * 0.9], false, 1.6, &|_| sheen);
            shape.stroke(&[line[k] - side * 0.9, line[k] + side * 0.9], false, 1.2, &|_| outline);
        }
    }
    for at in wrapped {
        let piece: Vec<Vec2> = line.iter().copied().filter(|one| one.distance(*at) <= HALF).collect();
        if piece.len() < 2 {
            continue;
        }
        shape.stroke(&piece, false, across + 9.0, &|_| outline);
        shape.stroke(&piece, false, across + 6.0, &|_| tape);
        // The edges of the tape's turns run aslant.
        let half = across / 2.0 + 2.0;
        let edges = (aside(&piece, -half), aside(&piece, half));
        let mut turns: Vec<[Vec2; 2]> = Vec::new();
        for k in 0..piece.len() - 1 {
            // Where it is bent sharply its inner edge runs back, and turns would lie across each other.
            let turn = [edges.0[k], edges.1[k + 1]];
            if !turns.iter().any(|other| cross(*other, turn)) {
                shape.stroke(&turn, false, 1.4, &|_| sheen);
                turns.push(turn);
            }
        }
    }
}

/// Whether two straight lines cross.
fn cross(one: [Vec2; 2], other: [Vec2; 2]) -> bool {
    let side = |of: [Vec2; 2], at: Vec2| (of[1] - of[0]).perp_dot(at - of[0]);
    let apart = |of: [Vec2; 2], ends: [Vec2; 2]| side(of, ends[0]) * side(of, ends[1]) < 0.0;
    apart(one, other) && apart(other, one)
}

/// The loom where its tape is open: its wires bulge, and a tail of tape hangs off.
pub(super) fn opened(shape: &mut Shape, at: Vec2, along: Vec2, wires: &[LoomWire], palette: &Palette) {
    /// Half of the length that is open.
    const HALF: f32 = 34.0;
    /// Half of the width over its middle, and how much wider and narrower than as taped the wires lie there and at its ends.
    const BULGE: f32 = 26.0;
    const LOOSE: [f32; 2] = [1.4, 2.2];
    const TIGHT: f32 = 0.75;
    let side = along.perp();
    let across = PITCH * wires.len().max(1) as f32;
    let bulge = (2.0 * BULGE / across).clamp(LOOSE[0], LOOSE[1]);
    let ends = [at - along * HALF, at + along * HALF];
    let outline = palette.get("wire-outline").to_f32_array();
    for (k, wire) in wires.iter().enumerate() {
        let offset = side * (k as f32 - (wires.len() - 1) as f32 / 2.0) * PITCH;
        // The middle of the curve lies half as far out as the point that draws it.
        let by = at + offset * (2.0 * bulge - TIGHT);
        let line = curve(ends[0] + offset * TIGHT, by, ends[1] + offset * TIGHT, 12);
        shape.stroke(&line, false, PITCH + 2.4, &|_| outline);
        shape.stroke(&line, false, PITCH - 0.4, &|_| solid(wire.base));
        if let Some(stripe) = wire.stripe {
            shape.stroke(&line, false, 1.7, &|_| solid(stripe));
        }
    }
    let (tape, sheen) = (palette.get("tape").to_f32_array(), palette.get("tape-sheen").to_f32_array());
    let reach = side * (across / 2.0 + 4.0);
    for (end, inward) in [(ends[0], along), (ends[1], -along)] {
        let corners = [end - reach, end + reach, end + reach + inward * 9.0, end - reach + inward * 9.0];
        shape.polygon(&corners, tape);
        shape.stroke(
            &[end - reach * 0.9 + inward * 2.0, end + reach * 0.9 + inward * 2.0],
            false,
            1.6,
            &|_| sheen,
        );
    }
    // It hangs down whichever way the loom runs.
    let from = ends[1] - along * 4.0;
    let tail = curve(from, from + Vec2::new(16.0, 8.0) + reach * 0.5, from + Vec2::new(8.0, 30.0), 8);
    shape.cord(&tail, 10.0, outline);
    shape.cord(&tail, 7.0, tape);
    shape.stroke(&tail, false, 1.6, &|_| sheen);
}

/// The ribbed rubber tube that leads the loom over the hinge.
pub(super) fn bellows(shape: &mut Shape, line: &[Vec2], palette: &Palette) {
    let ink = palette.get("ink").to_f32_array();
    let rubber = palette.get("bellows").to_f32_array();
    let fold = palette.get("bellows-fold").to_f32_array();
    let sheen = palette.get("bellows-sheen").to_f32_array();
    // So that it is seen before what is dark as well.
    let edge = palette.get("bellows-edge").to_f32_array();
    let wave = |k: usize| if k.is_multiple_of(2) { 1.0 } else { 0.8 };
    shape.ribbon(line, false, &|k| 34.0 * wave(k), &|_| ink);
    shape.ribbon(line, false, &|k| 31.0 * wave(k), &|_| edge);
    shape.ribbon(line, false, &|k| 27.0 * wave(k), &|_| rubber);
    for k in 0..line.len() {
        let before = line[k.saturating_sub(1)];
        let after = line[(k + 1).min(line.len() - 1)];
        let side = (after - before).normalize_or_zero().perp() * 14.0 * wave(k);
        if k % 2 == 0 {
            shape.stroke(&[line[k] - side * 0.8, line[k] + side * 0.5], false, 2.4, &|_| sheen);
        } else {
            shape.stroke(&[line[k] - side, line[k] + side], false, 2.2, &|_| fold);
        }
    }
    // The collars that snap into the sheet metal at both ends.
    for (end, next) in [(0, 1), (line.len() - 1, line.len() - 2)] {
        let along = (line[next] - line[end]).normalize_or_zero();
        let side = along.perp() * 20.0;
        let corners = [
            line[end] - along * 4.0 - side,
            line[end] + along * 5.0 - side,
            line[end] + along * 5.0 + side,
            line[end] - along * 4.0 + side,
        ];
        shape.polygon(&corners, ink);
        let inner = corners.map(|corner| line[end].lerp(corner, 0.78));
        shape.polygon(&inner, rubber);
    }
}

/// A gas strut between its ball joints.
pub(super) fn strut(shape: &mut Shape, body: Vec2, lid: Vec2, palette: &Palette) {
    let ink = palette.get("ink").to_f32_array();
    let joint = body.lerp(lid, 0.56);
    let lit = (lid - body).normalize_or_zero().perp();
    shape.cord(&[body.lerp(lid, 0.5), lid], 9.0, ink);
    shape.cord(&[body.lerp(lid, 0.5), lid], 5.0, palette.get("strut-rod").to_f32_array());
    shape.cord(&[body, joint], 17.0, ink);
    shape.cord(&[body, joint], 12.0, palette.get("strut").to_f32_array());
    shape.cord(
        &[body.lerp(joint, 0.05) + lit * 2.6, joint.lerp(body, 0.05) + lit * 2.6],
        2.4,
        palette.get("strut-sheen").to_f32_array(),
    );
    for end in [body, lid] {
        shape.disc(end, 9.0, ink);
        shape.disc(end, 6.0, palette.get("strut-sheen").to_f32_array());
        shape.disc(end - Vec2::splat(1.6), 2.2, palette.get("strut-rod").to_f32_array());
    }
}

/// The rod that holds a lid up or a door open, from its rubber foot on the body to the fork that grips the lid.
pub(super) fn prop(shape: &mut Shape, foot: Vec2, head: Vec2, palette: &Palette) {
    let ink = palette.get("ink").to_f32_array();
    let rubber = palette.get("bellows").to_f32_array();
    let rod = palette.get("prop").to_f32_array();
    let up = (head - foot).normalize_or_zero();
    let side = up.perp();
    shape.cord(&[foot, head], 12.0, ink);
    shape.cord(&[foot, head], 7.5, rod);
    shape.cord(
        &[foot + up * 20.0 + side * 1.8, head - up * 20.0 + side * 1.8],
        1.8,
        palette.get("prop-sheen").to_f32_array(),
    );
    // Drawn out to its length and held by a collar.
    let middle = foot.lerp(head, 0.48);
    shape.cord(&[middle, middle + up * 18.0], 17.0, ink);
    shape.cord(&[middle + up, middle + up * 17.0], 12.0, rubber);
    shape.cord(&[foot, foot + up * 16.0], 19.0, ink);
    shape.cord(&[foot + up, foot + up * 15.0], 14.0, rubber);
    for lean in [-1.0, 1.0] {
        let fork =
            [head - up * 14.0, head - up * 6.0 + side * 8.0 * lean, head + up * 5.0 + side * 9.0 * lean];
        shape.cord(&fork, 9.5, ink);
        shape.cord(&fork, 5.5, rubber);
    }
}

/// A bent arm of steel that carries a lid, with the loom's cloth sleeve along it or without.
pub(super) fn arm(shape: &mut Shape, line: &[Vec2], sleeved: bool, palette: &Palette) {
    let ink = palette.get("ink").to_f32_array();
    shape.ribbon(line, false, &|_| 21.0, &|_| ink);
    shape.ribbon(line, false, &|_| 15.0, &|_| palette.get("strut").to_f32_array());
    let lit = aside(line, 4.0);
    shape.ribbon(&lit, false, &|_| 3.0, &|_| palette.get("strut-sheen").to_f32_array());
    if sleeved {
        let sleeve = aside(line, -9.0);
        shape.ribbon(&sleeve, false, &|_| 17.0, &|_| ink);
        shape.ribbon(&sleeve, false, &|_| 12.5, &|_| palette.get("tape").to_f32_array());
        for k in 1..sleeve.len() {
            // The weave of the cloth.
            let along = (sleeve[k] - sleeve[k - 1]).normalize_or_zero();
            let side = along.perp() * 5.6;
            let middle = sleeve[k].midpoint(sleeve[k - 1]);
            shape.stroke(&[middle - side - along * 3.0, middle + side + along * 3.0], false, 1.6, &|_| {
                palette.get("tape-sheen").to_f32_array()
            });
        }
    }
    for end in [line.first(), line.last()].into_iter().flatten() {
        shape.disc(*end, 11.0, ink);
        shape.disc(*end, 7.5, palette.get("strut-sheen").to_f32_array());
        shape.disc(*end, 3.0, ink);
    }
}

/// The line of a lead that hangs between two ends: how deep, as a share of the way between them, and how far its middle has
/// swung; of both only a share where it is held up.
pub(super) fn hanging(from: Vec2, to: Vec2, (sag, off): (f32, Vec2), share: f32) -> Vec<Vec2> {
    let hang = (from.distance(to) * sag + 14.0) * share;
    // The middle of the curve lies half as far out as the point that draws it.
    let by = from.midpoint(to) + (Vec2::new(0.0, hang) + off * share) * 2.0;
    curve(from, by, to, pieces(from.distance(to) + hang))
}

/// The same for a lead that comes out of a thing's lower part: it hangs down from there and goes round the thing, so that its
/// face can be read.
pub(super) fn round(from: Vec2, to: Vec2, (sag, off): (f32, Vec2), thing: Placed) -> Vec<Vec2> {
    /// How far beside the thing the lead is drawn, and how far below where it comes out.
    const BESIDE: f32 = 46.0;
    const BELOW: f32 = 130.0;
    /// Farther beside what goes straight up, so that it comes back from there: up to so much, from this far away.
    const WIDER: f32 = 230.0;
    const NEAR: f32 = 260.0;
    let side = if to.x < thing.centre.x { -1.0 } else { 1.0 };
    let edge = thing.centre.x + side * thing.size.x / 2.0;
    let straight = (1.0 - (to.x - edge) * side / NEAR).clamp(0.0, 1.0);
    let above = ((from.y - to.y) / thing.size.y).clamp(0.0, 1.0);
    let out = (edge - from.x) * 4.0 / 3.0 + side * (BESIDE + WIDER * straight * above);
    let hang = from.distance(to) * sag * 0.6;
    let one = from + Vec2::new(out, BELOW) + off;
    let two = to.lerp(from, 0.3) + Vec2::new(side * WIDER * straight * above, hang) + off;
    let pieces = pieces(from.distance(to) + out.abs() + hang);
    (0..=pieces)
        .map(|k| {
            let t = k as f32 / pieces as f32;
            let (a, b, c) = (from.lerp(one, t), one.lerp(two, t), two.lerp(to, t));
            a.lerp(b, t).lerp(b.lerp(c, t), t)
        })
        .collect()
}

/// A line on a sheet of paper.
pub(super) fn written(shape: &mut Shape, line: &PenLine, paper: Option<Placed>) {
    let Some(paper) = paper else { return };
    let corner = paper.centre - paper.size / 2.0;
    let points: Vec<Vec2> = line.points.iter().map(|at| corner + *at * paper.size).collect();
    if points.len() > 1 {
        shape.stroke(&points, false, 2.0, &|_| solid(line.colour));
    }
}

/// In how many pieces a lead of about this length looks round.
fn pieces(length: f32) -> usize {
    (length / 14.0).clamp(12.0, 90.0) as usize
}

/// A lead along a line, with what it ends in.
pub(super) fn lead(
    shape: &mut Shape,
    line: &[Vec2],
    colour: [f32; 3],
    tips: [LeadTip; 2],
    palette: &Palette,
) {
    let (Some(&from), Some(&to)) = (line.first(), line.last()) else { return };
    shape.cord(line, 9.0, palette.get("wire-outline").to_f32_array());
    shape.cord(line, 5.6, solid(colour));
    let sheen: Vec<Vec2> = line.iter().map(|at| *at + Vec2::new(-0.8, -1.3)).collect();
    shape.cord(&sheen, 1.5, shaded(colour, 0.5));
    for (tip, at, next) in [(tips[0], from, line[2]), (tips[1], to, line[line.len() - 3])] {
        end_of_lead(shape, tip, at, (next - at).normalize_or_zero(), colour, palette);
    }
}

/// What a lead ends in: `at` is the place it touches, `away` the direction in which the lead leaves.
fn end_of_lead(shape: &mut Shape, tip: LeadTip, at: Vec2, away: Vec2, colour: [f32; 3], palette: &Palette) {
    let ink = palette.get("ink").to_f32_array();
    let needle = palette.get("probe-needle").to_f32_array();
    let grip = palette.get("probe-grip").to_f32_array();
    match tip {
        LeadTip::Plain => {}
        LeadTip::Plug => {
            shape.disc(at, 10.0, ink);
            shape.disc(at, 7.2, solid(colour));
            shape.disc(at - Vec2::splat(2.0), 2.4, shaded(colour, 0.5));
        }
        LeadTip::Probe => {
            let side = away.perp();
            shape.cord(&[at, at + away * 22.0], 6.5, ink);
            shape.cord(&[at, at + away * 22.0], 2.8, needle);
            shape.cord(&[at + away * 18.0, at + away * 60.0], 17.0, ink);
            shape.cord(&[at + away * 19.0, at + away * 59.0], 11.5, grip);
            shape.stroke(
                &[at + away * 22.0 - side * 8.0, at + away * 22.0 + side * 8.0],
                false,
                5.5,
                &|_| solid(colour),
            );
            shape.cord(&[at + away * 30.0 + side * 2.4, at + away * 54.0 + side * 2.4], 2.4, solid(colour));
        }
        LeadTip::Clip => {
            let side = away.perp();
            for lean in [-1.0, 1.0] {
                let jaw = [
                    at,
                    at + away * 14.0 + side * 7.0 * lean,
                    at + away * 26.0 + side * 3.0 * lean,
                    at + away * 46.0 + side * 9.0 * lean,
                ];
                shape.cord(&jaw, 9.0, ink);
                shape.cord(&jaw[..3], 4.4, needle);
                shape.cord(&jaw[2..], 5.6, solid(colour));
            }
            shape.disc(at + away * 26.0, 4.4, ink);
        }
        LeadTip::Jaws => jaws(shape, at, away, palette),
    }
}

/// The jaws of a current clamp round what is at `at`, seen from their side, and their grip.
fn jaws(shape: &mut Shape, at: Vec2, away: Vec2, palette: &Palette) {
    /// Of the ring's middle line, and from its middle to where it is hinged.
    const RADIUS: f32 = 17.0;
    const HINGE: f32 = 19.0;
    let ink = palette.get("ink").to_f32_array();
    let grip = palette.get("probe-grip").to_f32_array();
    let colour = palette.rgb("clamp-jaws");
    let side = away.perp();
    for (wide, tint) in [(12.5, ink), (8.0, solid(colour))] {
        for lean in [-1.0, 1.0] {
            // From where the jaws meet, round to the hinge.
            let jaw: Vec<Vec2> = (0..=14)
                .map(|k| {
                    let (sin, cos) = (0.09 + k as f32 / 14.0 * 2.75).sin_cos();
                    at - away * RADIUS * cos + side * RADIUS * sin * lean
                })
                .collect();
            shape.cord(&jaw, wide, tint);
        }
    }
    let lit: Vec<Vec2> = (3..=10)
        .map(|k| {
            let (sin, cos) = (k as f32 / 14.0 * 2.75).sin_cos();
            at - away * (RADIUS + 1.8) * cos + side * (RADIUS + 1.8) * sin
        })
        .collect();
    shape.cord(&lit, 1.8, shaded(colour, 0.4));
    shape.cord(&[at + away * HINGE, at + away * 56.0], 21.0, ink);
    shape.cord(&[at + away * (HINGE + 1.0), at + away * 55.0], 15.0, grip);
    // The lever that opens them.
    let lever = [at + away * 24.0 + side * 9.0, at + away * 42.0 + side * 13.0];
    shape.cord(&lever, 8.0, ink);
    shape.cord(&lever, 4.4, solid(palette.rgb("lead-red")));
    shape.disc(at + away * HINGE, 4.0, ink);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_cross_only_where_each_has_its_ends_on_both_sides_of_the_other() {
        let line = |ends: [f32; 4]| [Vec2::new(ends[0], ends[1]), Vec2::new(ends[2], ends[3])];
        let one = line([0.0, 0.0, 10.0, 10.0]);
        assert!(cross(one, line([0.0, 10.0, 10.0, 0.0])));
        for other in [[0.0, 1.0, 10.0, 11.0], [20.0, 0.0, 11.0, 20.0], [0.0, 10.0, 4.0, 6.0]].map(line) {
            assert!(!cross(one, other) && !cross(other, one), "{other:?}");
        }
    }

    #[test]
    fn a_lead_leaves_what_is_read_free_wherever_it_goes() {
        let thing = Placed { centre: Vec2::new(1424.0, 930.0), size: Vec2::new(200.0, 296.0), visible: true };
        // The upper three quarters of its face: below them are the sockets.
        let low = thing.centre - thing.size / 2.0;
        let high = thing.centre + thing.size * Vec2::new(0.5, 0.25);
        for socket in [-36.0, 15.0] {
            let from = thing.centre + Vec2::new(socket, thing.size.y * 0.39);
            for across in 0..48 {
                for down in 0..25 {
                    let to = Vec2::new(across as f32 * 40.0, down as f32 * 40.0);
                    if to.cmpge(low - 40.0).all() && to.cmple(high + 40.0).all() {
                        continue;
                    }
                    let line = round(from, to, (0.16, Vec2::ZERO), thing);
                    let over = line.iter().find(|at| at.cmpgt(low).all() && at.cmplt(high).all());
                    assert_eq!(over, None, "from {from} to {to}");
                    assert_eq!((line[0], line[line.len() - 1]), (from, to));
                }
            }
        }
    }

    #[test]
    fn a_rounded_line_passes_through_its_stations_without_straying_far() {
        let stations =
            [Vec2::new(0.0, 0.0), Vec2::new(100.0, 0.0), Vec2::new(100.0, 200.0), Vec2::new(300.0, 200.0)];
        let line = through(&stations);
        for station in stations {
            assert!(line.iter().any(|at| at.distance(station) < 0.01), "the line misses {station}");
        }
        assert!(line.iter().all(|at| at.x > -30.0 && at.x < 330.0 && at.y > -40.0 && at.y < 240.0));
    }
}
