//! What is seen at a station of the ribbon: its tape, and what was found under it.

use std::sync::Arc;

use bevy_egui::egui::{self, Pos2, Rect, Stroke, pos2, vec2};
use probeworthy::bench::{Action, LoomLook, Repair, Seen, Splice};
use probeworthy::job::Job;
use probeworthy::vehicle::{ConductorId, StationId};

use crate::game::bay::Bay;
use crate::game::cards::known;
use crate::game::scenery::Palette;
use crate::game::theme::colour;

/// What is known of the conductors here: what was seen under the tape, and what has been mended since.
#[derive(Default)]
pub(super) struct Known {
    /// The tape has been opened here.
    pub(super) open: bool,
    pub(super) looks: Vec<LoomLook>,
    pub(super) mended: Vec<Mended>,
}

/// A conductor that has been mended.
#[derive(Clone, Copy)]
pub(super) struct Mended {
    pub(super) conductor: ConductorId,
    pub(super) how: Splice,
    /// When that was done.
    pub(super) minutes: f64,
}

impl Known {
    /// What is known at a station: the log is read for it once after each act.
    pub(super) fn at(ctx: &egui::Context, bay: &Bay, id: StationId) -> Arc<Self> {
        known(ctx, bay, ("station", id), |job| Self::of(job, id))
    }

    fn of(job: &Job, id: StationId) -> Self {
        let mut known = Self::default();
        let steps = job.log().iter().filter(|step| step.outcome.refused.is_none());
        for step in steps {
            for seen in &step.outcome.seen {
                if let Seen::Loom(station, looks) = seen
                    && *station == id
                {
                    known.open = true;
                    known.looks.clone_from(looks);
                }
            }
            if let Action::Repair(Repair::Conductor(conductor, station, how)) = step.action
                && station == id
            {
                // It cannot be mended with the tape shut.
                known.open = true;
                known.looks.retain(|look| !concerns(*look, conductor));
                known.mended.retain(|mended| mended.conductor != conductor);
                known.mended.push(Mended { conductor, how, minutes: step.minutes });
            }
        }
        known
    }

    /// Whether something is drawn on a conductor.
    pub(super) fn shows(&self, conductor: ConductorId) -> bool {
        self.looks.iter().any(|look| concerns(*look, conductor))
            || self.mended.iter().any(|mended| mended.conductor == conductor)
    }
}

fn concerns(look: LoomLook, conductor: ConductorId) -> bool {
    match look {
        LoomLook::Parted(one)
        | LoomLook::Corroded(one)
        | LoomLook::Chafed(one)
        | LoomLook::Frayed(one)
        | LoomLook::EarlierSplice(one) => one == conductor,
        LoomLook::ChafedTogether(one, other) | LoomLook::Crusted(one, other) => {
            one == conductor || other == conductor
        }
    }
}

/// The shape of a ribbon that is bent at one place.
#[derive(Clone, Copy)]
pub(super) struct Bend {
    pub(super) at: f32,
    pub(super) reach: f32,
    pub(super) by: f32,
}

impl Bend {
    /// How far aside it lies at a place along its run.
    pub(super) fn aside(self, x: f32) -> f32 {
        let off = ((x - self.at) / self.reach).clamp(-1.0, 1.0);
        self.by * (0.5 + 0.5 * (off * std::f32::consts::PI).cos())
    }

    pub(super) fn line(self, from: f32, to: f32, y: f32) -> Vec<Pos2> {
        const PIECES: u8 = 40;
        (0..=PIECES)
            .map(|k| {
                let x = from + (to - from) * f32::from(k) / f32::from(PIECES);
                pos2(x, y + self.aside(x))
            })
            .collect()
    }
}

/// What was found on a conductor under the tape, drawn on it.
pub(super) fn found(
    painter: &egui::Painter,
    known: &Known,
    conductor: ConductorId,
    at: Pos2,
    palette: &Palette,
) {
    let copper = colour(palette, "copper");
    let green = colour(palette, "verdigris");
    for look in known.looks.iter().filter(|look| concerns(**look, conductor)) {
        match look {
            LoomLook::Parted(_) => {
                for side in [-1.0, 1.0] {
                    for spread in [-2.5, 0.0, 2.5] {
                        let root = at + vec2(side * 7.0, spread * 0.6);
                        painter
                            .line_segment([root, root - vec2(side * 4.5, -spread)], Stroke::new(1.2, copper));
                    }
                }
            }
            LoomLook::Corroded(_) => {
                for k in -2_i8..=2 {
                    let off = vec2(f32::from(k) * 4.0, if k % 2 == 0 { -1.0 } else { 1.5 });
                    painter.circle_filled(at + off, 2.8, green);
                }
            }
            LoomLook::Chafed(_) => {
                painter.line_segment([at - vec2(9.0, 1.0), at + vec2(9.0, -1.0)], Stroke::new(3.4, copper));
            }
            LoomLook::Frayed(_) => {
                for spread in [-5.0, -3.0, 3.0, 5.0] {
                    painter.line_segment(
                        [at - vec2(6.0, 0.0), at + vec2(3.0, spread)],
                        Stroke::new(1.0, copper),
                    );
                }
                painter.line_segment([at - vec2(7.0, 0.0), at + vec2(7.0, 0.0)], Stroke::new(1.2, copper));
            }
            LoomLook::ChafedTogether(..) => {
                painter.line_segment([at - vec2(8.0, 0.0), at + vec2(8.0, 0.0)], Stroke::new(5.0, copper));
            }
            LoomLook::Crusted(..) => {
                painter.line_segment([at - vec2(7.0, 0.0), at + vec2(7.0, 0.0)], Stroke::new(7.0, green));
            }
            LoomLook::EarlierSplice(_) => sleeve(painter, at, Splice::Twisted, palette),
        }
    }
    if let Some(mended) = known.mended.iter().find(|mended| mended.conductor == conductor) {
        sleeve(painter, at, mended.how, palette);
    }
}

/// A wire from one end to the other, in pieces where it has parted at these places, which follow each other.
pub(super) fn pieces(from: f32, to: f32, parted_at: impl IntoIterator<Item = f32>) -> Vec<(f32, f32)> {
    /// Half of what is between two pieces, in points.
    const GAP: f32 = 7.0;
    let mut pieces = Vec::new();
    let mut begins = from;
    for x in parted_at {
        pieces.push((begins, x - GAP));
        begins = x + GAP;
    }
    pieces.push((begins, to));
    pieces
}

/// How far before the end of a conductor the dot lies that says that it ends in a splice, in points.
pub(super) const INWARD: f32 = 3.0;

/// The dot where a conductor ends in a splice, as the diagram has it.
pub(super) fn joined(painter: &egui::Painter, at: Pos2, palette: &Palette) {
    painter.circle_filled(at, 5.0, colour(palette, "card-text"));
}

/// The conductor with which something is told that concerns two.
pub(super) fn first_of(look: LoomLook) -> ConductorId {
    match look {
        LoomLook::Parted(one)
        | LoomLook::Corroded(one)
        | LoomLook::Chafed(one)
        | LoomLook::Frayed(one)
        | LoomLook::EarlierSplice(one)
        | LoomLook::ChafedTogether(one, _)
        | LoomLook::Crusted(one, _) => one,
    }
}

/// A heat-shrunk sleeve, or a lump of tape.
fn sleeve(painter: &egui::Painter, at: Pos2, how: Splice, palette: &Palette) {
    let (size, round, fill) = match how {
        Splice::Sound => (vec2(34.0, 11.0), 4.0, "tape-sheen"),
        Splice::Twisted => (vec2(20.0, 12.0), 2.0, "tape"),
    };
    let rect = Rect::from_center_size(at, size);
    // Without an edge that is seen it would be taken for a gap.
    let edge = Stroke::new(1.5, colour(palette, "wire-rim"));
    painter.rect(rect, round, colour(palette, fill), edge, egui::StrokeKind::Inside);
    let line = Stroke::new(1.0, colour(palette, "tape-edge"));
    if how == Splice::Twisted {
        for x in [-5.0, 0.0, 5.0] {
            painter.line_segment([at + vec2(x - 2.0, 5.0), at + vec2(x + 2.0, -5.0)], line);
        }
    }
}

/// Half of what a station's tape takes of the ribbon, in points, where the next one is a step away. Where one looks under it, it
/// is as wide as its neighbours leave it.
pub(super) fn half(step: f32, looked_at: bool) -> f32 {
    (step * if looked_at { 0.62 } else { 0.3 }).min(46.0)
}

/// The tape round the wires at a station, cut open where somebody has looked.
pub(super) fn tape(
    painter: &egui::Painter,
    open: bool,
    bend: Bend,
    band: Rect,
    (own, half): (f32, f32),
    palette: &Palette,
) {
    let (fill, sheen) = (colour(palette, "tape"), colour(palette, "tape-edge"));
    let left = half - (half * 0.35).min(8.0);
    let turns: [(f32, f32); 2] =
        if open { [(-half, -left), (left, half)] } else { [(-half, 0.0), (0.0, half)] };
    for (from, to) in turns {
        let upper = bend.line(own + from, own + to, band.top() - 3.0);
        let lower = bend.line(own + from, own + to, band.bottom() + 3.0);
        // As one strip: a polygon for each step of ten tapes took a quarter of a frame.
        let mut strip = egui::Mesh::default();
        for (up, down) in upper.iter().zip(&lower) {
            let next = u32::try_from(strip.vertices.len()).unwrap_or_default();
            strip.colored_vertex(*up, fill);
            strip.colored_vertex(*down, fill);
            if next > 1 {
                strip.add_triangle(next - 2, next - 1, next);
                strip.add_triangle(next - 1, next, next + 1);
            }
        }
        painter.add(strip);
        painter.line(upper.clone(), Stroke::new(1.5, sheen));
        painter.line(lower.clone(), Stroke::new(1.5, sheen));
        // Its ends, so that it is seen on a dark card, too.
        for end in [0, upper.len() - 1] {
            painter.line_segment([upper[end], lower[end]], Stroke::new(1.5, sheen));
        }
        for k in 0..upper.len() - 1 {
            // The edges of the tape's turns run aslant.
            if k % 8 == 0 {
                let down = lower[(k + 6).min(lower.len() - 1)];
                painter.line_segment([upper[k], down], Stroke::new(1.0, sheen));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_wire_has_a_piece_more_than_the_places_at_which_it_has_parted() {
        assert_eq!(pieces(0.0, 100.0, []), [(0.0, 100.0)]);
        assert_eq!(pieces(0.0, 100.0, [50.0]), [(0.0, 43.0), (57.0, 100.0)]);
        assert_eq!(pieces(0.0, 100.0, [20.0, 80.0]), [(0.0, 13.0), (27.0, 73.0), (87.0, 100.0)]);
    }
}
