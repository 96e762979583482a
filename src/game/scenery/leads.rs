//! What instruments bring into the scene: leads that hang between two ends, and their way past what is read; lines on paper.

use bevy::prelude::*;

use super::Placed;
use super::wires;

/// A lead that hangs between two ends.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct StageLead {
    /// One end.
    pub from: LeadEnd,
    /// The other end.
    pub to: LeadEnd,
    /// What the ends are: `[from, to]`.
    pub tips: [LeadTip; 2],
    /// Colour of the sheath, red, green and blue from 0 to 1.
    pub colour: [f32; 3],
    /// How deep it hangs, as a share of the distance between its ends; 0.15 looks natural.
    pub sag: f32,
    /// The anchor of what it does not hang across, as it is read.
    pub clear_of: &'static str,
}

/// Where a lead ends.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum LeadEnd {
    /// At the anchor of this name, wherever it moves. While the anchor does not exist the lead is not drawn.
    Anchor(String),
    /// At a point in design units.
    Point(Vec2),
}

/// What a lead ends in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum LeadTip {
    /// The bare lead.
    #[default]
    Plain,
    /// A plug seen from its back, as in a meter's socket.
    Plug,
    /// A needle probe standing on the place.
    Probe,
    /// A crocodile clip.
    Clip,
    /// The jaws of a current clamp, closed round the place.
    Jaws,
}

/// What a pen of the recorder left on its paper.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct PenLine {
    /// Its ink, red, green and blue from 0 to 1.
    pub colour: [f32; 3],
    /// Where it went, from 0 to 1 across and down.
    pub points: Vec<Vec2>,
}

/// How wide the frame is about what is read: a lead may lie on it, and a tool may begin behind it.
const FRAME: f32 = 8.0;

/// How near a lead comes to what it does not hang across.
const CLEAR: f32 = 20.0;

/// The lowest that a lead is led round below something, in design units: within the picture.
const LOWEST: f32 = 1064.0;

/// The line of a lead: how deep it hangs, as a share of the way between its ends, how far its middle has swung, and what it is
/// led round so that it can be read.
pub(super) fn line(from: Vec2, to: Vec2, (sag, off): (f32, Vec2), thing: Option<Placed>) -> Vec<Vec2> {
    match thing {
        Some(thing) if beside(from, thing) <= 0.0 => wires::round(from, to, (sag, off), thing),
        Some(thing) => past(from, to, (sag, off), thing),
        None => wires::hanging(from, to, (sag, off), 1.0),
    }
}

/// How far a place is from what is read of a thing, within its frame: below zero inside.
fn beside(at: Vec2, thing: Placed) -> f32 {
    ((at - thing.centre).abs() - thing.size / 2.0).max_element() + FRAME
}

/// The line of a lead that comes from elsewhere: it hangs as it does everywhere where that leaves the thing free, else less
/// deep, and where even a straight line would cross the thing it is laid round it.
fn past(from: Vec2, to: Vec2, (sag, off): (f32, Vec2), thing: Placed) -> Vec<Vec2> {
    let hanging = |share: f32| wires::hanging(from, to, (sag, off), share);
    // A place close to the thing leaves less room; one on it, none.
    let clear = CLEAR.min(beside(from, thing)).min(beside(to, thing)) * 0.98;
    // What is laid along its edge is that far away but for rounding.
    let enters = |at: &Vec2| beside(*at, thing) < clear - 0.1;
    let is_free = |line: &[Vec2]| !line.iter().any(enters);
    let whole = hanging(1.0);
    if clear <= 0.0 || is_free(&whole) {
        return whole;
    }
    if is_free(&hanging(0.0)) {
        let (mut free, mut not) = (0.0, 1.0);
        for _ in 0..7 {
            let middle = (free + not) / 2.0;
            if is_free(&hanging(middle)) {
                free = middle;
            } else {
                not = middle;
            }
        }
        return hanging(free);
    }
    let corner = |x: f32, y: f32| thing.centre + Vec2::new(x, y) * (thing.size / 2.0 - FRAME + CLEAR);
    let along = if from.x > thing.centre.x { -1.0 } else { 1.0 };
    let ways = [-1.0, 1.0].into_iter().flat_map(|y| {
        let (first, last) = (corner(-along, y), corner(along, y));
        [vec![from, first, to], vec![from, last, to], vec![from, first, last, to]]
    });
    let straight = |way: &[Vec2]| {
        way.windows(2).all(|two| is_free(&wires::curve(two[0], two[0].midpoint(two[1]), two[1], 48)))
    };
    let length = |way: &[Vec2]| way.windows(2).map(|two| two[0].distance(two[1])).sum::<f32>();
    let shortest = ways
        .filter(|way| way[1..way.len() - 1].iter().all(|at| at.y < LOWEST) && straight(way))
        .min_by(|a, b| length(a).total_cmp(&length(b)));
    let Some(way) = shortest else { return whole };
    let mut laid = Vec::new();
    for two in way.windows(2) {
        let held = two[0] != from && two[1] != to;
        // Where it hangs freely it hangs, less than over the whole way, as it is pulled over an edge.
        let loose = wires::hanging(two[0], two[1], (sag * 0.5, off * 0.5), if held { 0.0 } else { 1.0 });
        let piece =
            if is_free(&loose) { loose } else { wires::hanging(two[0], two[1], (0.0, Vec2::ZERO), 0.0) };
        laid.extend_from_slice(&piece[usize::from(!laid.is_empty())..]);
    }
    // An edge bends it, and makes no corner in it.
    for _ in 0..4 {
        let before = laid.clone();
        for (at, three) in laid[1..].iter_mut().zip(before.windows(3)) {
            *at = three[1] * 0.5 + (three[0] + three[2]) * 0.25;
        }
    }
    laid
}

#[cfg(test)]
mod tests {
    use super::super::catalogue::VEHICLES;
    use super::super::stage::{Anchors, Stage};
    use super::super::{catalogue, undrawn_at};
    use super::*;

    #[test]
    fn no_lead_hangs_across_the_meter_on_any_vehicle() {
        let tools = [
            "test-lamp-5-red",
            "test-lamp-5-black",
            "test-lamp-21-red",
            "test-lamp-21-black",
            "bridge-one",
            "bridge-other",
            "battery-red",
            "battery-black",
            "recorder-red",
            "recorder-black",
            "clamp-cord",
        ];
        let mut leads = 0;
        for vehicle in &VEHICLES {
            for lid_degrees in [0.0, 40.0, catalogue::widest_degrees(vehicle.id)] {
                let app = undrawn_at(Stage {
                    vehicle: vehicle.id.to_owned(),
                    lid_degrees,
                    reduced_motion: true,
                    ..Stage::default()
                });
                let anchors = app.world().resource::<Anchors>();
                let meter = anchors.design("meter").expect("the meter");
                for name in catalogue::drawn_names(vehicle.id) {
                    let Some(at) = anchors.design(&name).filter(|at| at.visible) else { continue };
                    for tool in tools {
                        let from = anchors.design(tool).expect(tool).centre;
                        let line = line(from, at.centre, (0.2, Vec2::ZERO), Some(meter));
                        let over = line.iter().find(|at| beside(**at, meter) < 0.0);
                        assert_eq!(over, None, "{}: from {tool} to {name} at {lid_degrees}", vehicle.id);
                        assert_eq!((line.first(), line.last()), (Some(&from), Some(&at.centre)));
                        leads += 1;
                    }
                }
            }
        }
        assert!(leads > 3000, "{leads}");
    }
}
