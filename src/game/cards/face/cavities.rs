//! Where a connector's cavities lie on its face, in millimetres from its middle: in rows, on circles, or as a relay's blades do.

use bevy_egui::egui::{Pos2, Vec2, pos2, vec2};
use probeworthy::vehicle::{Arrangement, ConnectorId, Half, PartKind, Relay, Vehicle};

use super::plan::{LABEL_WIDE, LINE, SCALE, WALL};

/// Between the housings of terminals that sit by themselves, in mm.
const APART: f32 = 3.0;
/// What lies in a relay's socket between two openings at least, in mm: in the middle a label finds room.
const CROSS_GAP: f32 = 2.0;
const CROSS_HEAD: f32 = 8.0;
/// Between neighbours on a trailer socket's inner circle, and from it to the next one, in mm (from memory of sockets to
/// ISO 11446, whose drawing is not at hand).
const RING_NEIGHBOURS: f32 = 8.8;
const RING_STEP: f32 = 6.2;
const RING_LEAST_NEIGHBOURS: f32 = 6.0;
/// A round pin is no thicker than this, and its cavity so much wider, in mm.
const MOST_PIN: f32 = 2.2;
pub(super) const ROUND_PIN: f32 = 1.8;

/// What a letter or a figure takes on a line, and a label beside its letters, in points.
const LETTER: f32 = 9.5;
const LABEL_BESIDE: f32 = 4.0;
/// The metal in a cavity, in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Metal {
    /// A flat blade, or what takes it: how wide and how thick.
    Blade { wide: f32, thick: f32 },
    /// A round pin, or what takes it.
    Pin { across: f32 },
}

/// How much of its own a cavity with such a blade has, and how large its opening is, in mm: along the blade's width and across it.
pub(super) fn room(blade: f32) -> (Vec2, Vec2) {
    if blade > 5.0 {
        (vec2(10.0, 6.5), vec2(8.6, 4.2))
    } else if blade > 2.0 {
        (vec2(7.0, 6.2), vec2(5.6, 4.8))
    } else if blade > 1.0 {
        (vec2(6.0, 5.6), vec2(4.4, 4.2))
    } else {
        (vec2(3.0, 3.4), vec2(2.5, 2.6))
    }
}

/// How thick a blade of such a width is, in mm.
fn thickness(blade: f32) -> f32 {
    if blade > 2.0 {
        0.8
    } else if blade > 1.0 {
        0.6
    } else {
        0.64
    }
}

/// Where a label stands.
#[derive(Clone, Copy)]
pub(super) enum Side {
    Above,
    Below,
    /// On the housing, below or above its cavity.
    Under,
    Over,
    /// Outwards from the middle.
    Outwards,
}

/// A cavity while the face is laid out, in mm from its middle.
pub(super) struct Laid {
    pub(super) number: u8,
    pub(super) at: Pos2,
    pub(super) cell: Vec2,
    pub(super) opening: Vec2,
    pub(super) metal: Metal,
    pub(super) upright: bool,
    pub(super) side: Side,
    pub(super) terminal: Option<&'static str>,
    /// How wide its number and its wire's letters are, in points.
    pub(super) wide: f32,
}

impl Laid {
    fn new(vehicle: &Vehicle, id: ConnectorId, number: u8) -> Self {
        #[expect(clippy::cast_possible_truncation, reason = "a drawing")]
        let wide = vehicle.blade_millimetres(id, number) as f32;
        let (cell, opening) = room(wide);
        let metal = Metal::Blade { wide, thick: thickness(wide) };
        let at = Pos2::ZERO;
        let side = Side::Below;
        let wide = label_width(vehicle, id, number);
        Self { number, at, cell, opening, metal, upright: false, side, terminal: None, wide }
    }

    fn turned(mut self) -> Self {
        (self.cell, self.opening, self.upright) =
            (vec2(self.cell.y, self.cell.x), vec2(self.opening.y, self.opening.x), true);
        self
    }
}

/// How wide a cavity's number and its wires' letters are on either half, in points.
fn label_width(vehicle: &Vehicle, id: ConnectorId, number: u8) -> f32 {
    let wires = [Half::Loom, Half::Mate].map(|half| vehicle.conductor_in(id, half, number));
    let letters = wires.into_iter().flatten().map(|wire| vehicle.conductor(wire).colour.chars().count());
    let longest = letters.chain([number.to_string().len()]).max().unwrap_or_default();
    (longest as f32 * LETTER + LABEL_BESIDE).min(LABEL_WIDE)
}

/// What a connector's cavities sit in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Housing {
    /// One with corners.
    Block,
    /// One that is round.
    Round,
    /// One for each of them.
    OfEach,
}

/// A connector's cavities by number, as its loom half is seen.
pub(super) fn laid(vehicle: &Vehicle, id: ConnectorId) -> (Vec<Laid>, Housing) {
    let connector = vehicle.connector(id);
    let parts: Vec<&PartKind> =
        vehicle.parts.iter().filter(|part| part.connector == id).map(|part| &part.kind).collect();
    let (mut laid, housing) = match (&connector.arrangement, parts.as_slice()) {
        (_, [PartKind::Relay(relay)]) if is_cross(relay, connector.cavities) => {
            (cross(vehicle, id, relay), Housing::Block)
        }
        (Arrangement::Rows(rows), [PartKind::Screen(_)]) => {
            (in_rows(vehicle, id, rows, 2.0 * WALL + APART), Housing::OfEach)
        }
        (Arrangement::Rows(rows), _) => (in_rows(vehicle, id, rows, 0.0), Housing::Block),
        (Arrangement::Rings(rings), _) => (on_rings(vehicle, id, rings), Housing::Round),
    };
    laid.sort_by_key(|one| one.number);
    (laid, housing)
}

/// Cavities in rows, each row in the middle; so much apart beside each other. Rows of one length stand in columns.
fn in_rows(vehicle: &Vehicle, id: ConnectorId, rows: &[Vec<u8>], apart: f32) -> Vec<Laid> {
    let rows: Vec<Vec<Laid>> =
        rows.iter().map(|row| row.iter().map(|number| Laid::new(vehicle, id, *number)).collect()).collect();
    let alike = rows.iter().all(|row| row.len() == rows[0].len());
    let widths: Vec<Vec<f32>> = rows
        .iter()
        .map(|row| {
            let wide = |(column, one): (usize, &Laid)| {
                let others = rows.iter().map(|row| row.get(column).map_or(0.0, |one| one.cell.x));
                if alike { others.fold(0.0, f32::max) } else { one.cell.x }
            };
            row.iter().enumerate().map(wide).collect()
        })
        .collect();
    let last = rows.len() - 1;
    let mut top = 0.0;
    let mut all = Vec::new();
    for (at, (row, widths)) in rows.into_iter().zip(widths).enumerate() {
        let high = row.iter().map(|one| one.cell.y).fold(0.0, f32::max);
        let gaps = apart * (row.len() - 1) as f32;
        let mut left = -(widths.iter().sum::<f32>() + gaps) / 2.0;
        for (mut one, wide) in row.into_iter().zip(widths) {
            one.at = pos2(left + wide / 2.0, top + high / 2.0);
            one.side = match at {
                _ if at == last => Side::Below,
                0 => Side::Above,
                _ => Side::Under,
            };
            left += wide + apart;
            all.push(one);
        }
        top += high;
        if at > 0 && at < last {
            // What stands on the housing between two rows.
            top += 3.0 * LINE / SCALE;
        }
    }
    all
}

/// Cavities on circles, the outermost first, each clockwise from the top as the loom's half is seen.
fn on_rings(vehicle: &Vehicle, id: ConnectorId, rings: &[Vec<u8>]) -> Vec<Laid> {
    let mut all = Vec::new();
    let mut radius = None::<f32>;
    for (at, ring) in rings.iter().enumerate().rev() {
        let count = ring.len() as f32;
        let around =
            |neighbours: f32| if ring.len() > 1 { count * neighbours / std::f32::consts::TAU } else { 0.0 };
        let here = radius.map_or_else(
            || around(RING_NEIGHBOURS),
            |within| (within + RING_STEP).max(around(RING_LEAST_NEIGHBOURS)),
        );
        radius = Some(here);
        for (place, number) in ring.iter().enumerate() {
            let angle = std::f32::consts::TAU * (place as f32 / count - 0.25);
            let mut one = Laid::new(vehicle, id, *number);
            let Metal::Blade { wide, .. } = one.metal else { continue };
            one.at = (Vec2::angled(angle) * here).to_pos2();
            // A pin has about as much metal as a blade, in less width.
            let across = wide.min(MOST_PIN);
            (one.metal, one.opening) = (Metal::Pin { across }, Vec2::splat(across + ROUND_PIN));
            one.cell = Vec2::splat(across + ROUND_PIN + 0.6);
            one.side = if at == 0 { Side::Outwards } else { Side::Under };
            all.push(one);
        }
    }
    all
}

/// Whether a relay's pins are all that its socket has, so that they can lie as they do in relays.
fn is_cross(relay: &Relay, cavities: u8) -> bool {
    relay_pins(relay).len() == usize::from(cavities)
}

fn relay_pins(relay: &Relay) -> Vec<(u8, &'static str)> {
    let fixed = [(relay.coil.0, "86"), (relay.coil.1, "85"), (relay.common, "30")];
    let open = relay.normally_open.map(|pin| (pin, "87"));
    fixed.into_iter().chain(open).chain(relay.normally_closed.map(|pin| (pin, "87a"))).collect()
}

/// A relay's socket: the coil's blades upright at the sides, 87 across at the head, 30 upright at the foot, 87a across in the
/// middle (common practice, no source).
fn cross(vehicle: &Vehicle, id: ConnectorId, relay: &Relay) -> Vec<Laid> {
    relay_pins(relay)
        .into_iter()
        .map(|(number, terminal)| {
            let one = Laid::new(vehicle, id, number);
            let (long, short) = (one.opening.x, one.opening.y);
            let aside = long / 2.0 + CROSS_GAP + short / 2.0;
            let (mut one, at, side) = match terminal {
                "86" => (one.turned(), pos2(aside, 0.0), Side::Under),
                "85" => (one.turned(), pos2(-aside, 0.0), Side::Under),
                "30" => (one.turned(), pos2(0.0, short / 2.0 + CROSS_GAP + long / 2.0), Side::Below),
                "87" => (one, pos2(0.0, -CROSS_HEAD), Side::Above),
                _ => (one, Pos2::ZERO, Side::Over),
            };
            // Cells lie closer than those of rows would: no more than their openings and a thin wall.
            one.cell = one.opening + Vec2::splat(CROSS_GAP.min(1.2));
            (one.at, one.side, one.terminal) = (at, side, Some(terminal));
            one
        })
        .collect()
}
