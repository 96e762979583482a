//! Where all of a connector's face lies: measured in millimetres, laid out in points, one scale for every connector where text is
//! not enlarged.
//!
//! Seen into the mating side. The halves of a connector mirror each other there, as in the trade's drawings.

use bevy_egui::egui::{Pos2, Rect, Vec2, pos2, vec2};
use probeworthy::vehicle::{Arrangement, ConnectorId, Half, PartKind, Relay, Vehicle};

/// Points to a millimetre. At this the narrowest cavity is wide enough for a finger (24 points), and the widest face of the
/// shelf fits a window of 1280×720 with its other half beside it.
pub(super) const SCALE: f32 = 9.0;

/// What a finger needs, in points (WCAG 2.2, 2.5.8: published).
const FINGER: f32 = 24.0;

/// What a wall of a housing takes on each side of its cavities, in mm (common practice, no source), as all measures here that do
/// not name one.
const WALL: f32 = 2.2;
/// How far the latch's nose and the rib that keys the halves stand out of a housing, in mm.
pub(super) const NOSE: f32 = 1.4;
pub(super) const RIB: f32 = 0.9;
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
const ROUND_PIN: f32 = 1.8;

/// A label's lines, and the room that it is given, in points: the letters of two colours beside each other, or below each
/// other where cavities are narrow.
pub(super) const LINE: f32 = 16.0;
const LABEL_WIDE: f32 = 54.0;
const LABEL_NARROW: f32 = 27.0;
/// What a letter or a figure takes on a line, and a label beside its letters, in points.
const LETTER: f32 = 9.5;
const LABEL_BESIDE: f32 = 4.0;
/// Between a housing and a label outside of it, in points.
const OUTSIDE: f32 = 5.0;
/// Round everything, for the line about what has the focus and a housing's depth, in points.
const MARGIN: f32 = 5.0;

/// The metal in a cavity, in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Metal {
    /// A flat blade, or what takes it: how wide and how thick.
    Blade { wide: f32, thick: f32 },
    /// A round pin, or what takes it.
    Pin { across: f32 },
}

/// A cavity on the face. Points from the face's upper left corner.
#[derive(Clone, Debug)]
pub(super) struct Cavity {
    /// All of its own, which is touched.
    pub(super) cell: Rect,
    /// Its opening.
    pub(super) opening: Rect,
    /// What sits in it, in mm.
    pub(super) metal: Metal,
    /// Its metal stands upright.
    pub(super) upright: bool,
    /// Where its number and its wire's letters stand.
    pub(super) label: Rect,
    /// They stand on the housing, not beside it.
    pub(super) inside: bool,
    /// What a relay's terminal is called (DIN 72552).
    pub(super) terminal: Option<&'static str>,
}

impl Cavity {
    /// So far away.
    pub(super) fn moved(&self, by: Vec2) -> Self {
        Self {
            cell: self.cell.translate(by),
            opening: self.opening.translate(by),
            label: self.label.translate(by),
            ..self.clone()
        }
    }
}

/// A housing, in points from the face's upper left corner.
#[derive(Clone, Debug)]
pub(super) enum Body {
    /// With corners, its latch above.
    Block(Rect),
    /// Round: its middle, its radius.
    Round(Pos2, f32),
}

impl Body {
    /// So far away.
    pub(super) fn moved(&self, by: Vec2) -> Self {
        match *self {
            Self::Block(rect) => Self::Block(rect.translate(by)),
            Self::Round(centre, radius) => Self::Round(centre + by, radius),
        }
    }

    fn bounds(&self) -> Rect {
        match *self {
            Self::Block(rect) => rect,
            Self::Round(centre, radius) => Rect::from_center_size(centre, Vec2::splat(2.0 * radius)),
        }
    }
}

/// A connector's half as it is drawn.
#[derive(Clone, Debug)]
pub(super) struct Plan {
    /// What all of it takes, in points.
    pub(super) size: Vec2,
    /// Its housings: one, but where terminals sit by themselves.
    pub(super) bodies: Vec<Body>,
    /// By number, from 1 on.
    pub(super) cavities: Vec<Cavity>,
    /// The letters of two colours stand below each other.
    pub(super) narrow: bool,
    /// How large all of it is, as a share of the usual.
    pub(super) share: f32,
}

/// How much of its own a cavity with such a blade has, and how large its opening is, in mm: along the blade's width and across it.
fn room(blade: f32) -> (Vec2, Vec2) {
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
enum Side {
    Above,
    Below,
    /// On the housing, below or above its cavity.
    Under,
    Over,
    /// Outwards from the middle.
    Outwards,
}

/// A cavity while the face is laid out, in mm from its middle.
struct Laid {
    number: u8,
    at: Pos2,
    cell: Vec2,
    opening: Vec2,
    metal: Metal,
    upright: bool,
    side: Side,
    terminal: Option<&'static str>,
    /// How wide its number and its wire's letters are, in points.
    wide: f32,
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

impl Plan {
    /// The face of a connector's half.
    pub(super) fn of(vehicle: &Vehicle, id: ConnectorId, half: Half) -> Self {
        let parts: Vec<&PartKind> =
            vehicle.parts.iter().filter(|part| part.connector == id).map(|part| &part.kind).collect();
        let mut round = false;
        let mut alone = false;
        let mut laid = match (&vehicle.connector(id).arrangement, parts.as_slice()) {
            (_, [PartKind::Relay(relay)]) if is_cross(relay, vehicle.connector(id).cavities) => {
                cross(vehicle, id, relay)
            }
            (Arrangement::Rows(rows), [PartKind::Screen(_)]) => {
                alone = true;
                in_rows(vehicle, id, rows, 2.0 * WALL + APART)
            }
            (Arrangement::Rows(rows), _) => in_rows(vehicle, id, rows, 0.0),
            (Arrangement::Rings(rings), _) => {
                round = true;
                on_rings(vehicle, id, rings)
            }
        };
        laid.sort_by_key(|one| one.number);
        if half == Half::Mate {
            laid.iter_mut().for_each(|one| one.at.x = -one.at.x);
        }
        Self::laid_out(&laid, round, alone)
    }

    fn laid_out(laid: &[Laid], round: bool, alone: bool) -> Self {
        let narrow =
            !round && laid.iter().any(|one| one.cell.x * SCALE < LABEL_WIDE && one.terminal.is_none());
        let label = if narrow { vec2(LABEL_NARROW, 3.0 * LINE) } else { vec2(LABEL_WIDE, 2.0 * LINE) };
        let cells: Vec<Rect> = laid
            .iter()
            .map(|one| Rect::from_center_size((one.at.to_vec2() * SCALE).to_pos2(), one.cell * SCALE))
            .collect();
        let inside: Vec<Option<Rect>> = laid
            .iter()
            .map(|one| {
                let opening =
                    Rect::from_center_size((one.at.to_vec2() * SCALE).to_pos2(), one.opening * SCALE);
                match one.side {
                    Side::Under => Some(opening.bottom() + 2.0),
                    Side::Over => Some(opening.top() - 2.0 - label.y),
                    Side::Above | Side::Below | Side::Outwards => None,
                }
                .map(|top| Rect::from_min_size(pos2(opening.center().x - label.x / 2.0, top), label))
            })
            .collect();
        let all = |from: &[Rect]| from.iter().fold(Rect::NOTHING, |all, one| all.union(*one));
        let taken: Vec<Rect> = cells.iter().copied().chain(inside.iter().flatten().copied()).collect();
        let bodies: Vec<Body> = if round {
            let reach = laid.iter().map(|one| one.at.to_vec2().length() + one.opening.x / 2.0);
            let radius = reach.fold(0.0, f32::max) + WALL;
            vec![Body::Round(Pos2::ZERO, radius * SCALE)]
        } else if alone {
            cells.iter().map(|cell| Body::Block(cell.expand(WALL * SCALE))).collect()
        } else {
            vec![Body::Block(all(&taken).expand(WALL * SCALE))]
        };
        let housing = bodies.iter().fold(Rect::NOTHING, |all, body| all.union(body.bounds()));
        let labels: Vec<Rect> = laid
            .iter()
            .zip(&inside)
            .map(|(one, inside)| {
                let x = one.at.x * SCALE - label.x / 2.0;
                let beyond = match one.side {
                    Side::Above => pos2(x, housing.top() - NOSE * SCALE - OUTSIDE - label.y),
                    Side::Outwards => {
                        let label = vec2(one.wide, label.y);
                        let out = one.at.to_vec2().normalized();
                        let half = (out.x * label.x).abs() / 2.0 + (out.y * label.y).abs() / 2.0;
                        let nose = if out.y < -0.9 { NOSE * SCALE } else { 0.0 };
                        let middle = out * (housing.width() / 2.0 + OUTSIDE + nose + half);
                        return Rect::from_center_size(middle.to_pos2(), label);
                    }
                    Side::Below | Side::Under | Side::Over => pos2(x, housing.bottom() + OUTSIDE),
                };
                inside.unwrap_or(Rect::from_min_size(beyond, label))
            })
            .collect();
        let nose = vec2(RIB, NOSE) * SCALE;
        let drawn = housing.expand2(nose).union(all(&labels)).expand(MARGIN);
        let shift = -drawn.min.to_vec2();
        let cavities = laid.iter().zip(cells).zip(labels.into_iter().zip(inside)).map(
            |((one, cell), (label, inside))| Cavity {
                cell: cell.translate(shift),
                opening: Rect::from_center_size(cell.center() + shift, one.opening * SCALE),
                metal: one.metal,
                upright: one.upright,
                label: label.translate(shift),
                inside: inside.is_some(),
                terminal: one.terminal,
            },
        );
        Self {
            size: drawn.size(),
            bodies: bodies.iter().map(|body| body.moved(shift)).collect(),
            cavities: cavities.collect(),
            narrow,
            share: 1.0,
        }
    }

    /// The same face as small as it has to be to fit this room, but no smaller than `least` of the usual, nor than a finger can
    /// touch.
    pub(super) fn fitted(self, room: Vec2, least: f32) -> Self {
        let narrowest =
            self.cavities.iter().map(|one| one.cell.size().min_elem()).fold(f32::INFINITY, f32::min);
        let least = least.max(FINGER / narrowest);
        let share = (room / self.size).min_elem().max(least).min(1.0);
        let small = |rect: Rect| {
            Rect::from_min_max((rect.min.to_vec2() * share).to_pos2(), (rect.max.to_vec2() * share).to_pos2())
        };
        let bodies = self.bodies.iter().map(|body| match *body {
            Body::Block(rect) => Body::Block(small(rect)),
            Body::Round(centre, radius) => Body::Round((centre.to_vec2() * share).to_pos2(), radius * share),
        });
        let cavities = self.cavities.iter().map(|one| Cavity {
            cell: small(one.cell),
            opening: small(one.opening),
            label: small(one.label),
            ..one.clone()
        });
        Self {
            size: self.size * share,
            bodies: bodies.collect(),
            cavities: cavities.collect(),
            share: self.share * share,
            ..self
        }
    }
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::game::legible::SCENARIOS;
    use probeworthy::scenario::load;

    fn plans() -> Vec<(String, Vehicle, ConnectorId, Plan, Plan)> {
        let vehicles = SCENARIOS.map(|name| load(name).expect(name).scenario.vehicle);
        let all = vehicles.into_iter().flat_map(|vehicle| {
            (0..vehicle.connectors.len()).map(ConnectorId::at).map(move |id| {
                let [loom, mate] = [Half::Loom, Half::Mate].map(|half| Plan::of(&vehicle, id, half));
                (format!("{} {}", vehicle.id, vehicle.connector(id).id), vehicle.clone(), id, loom, mate)
            })
        });
        all.collect()
    }

    fn apart(one: Rect, other: Rect) -> bool {
        let both = one.intersect(other);
        both.width() < 0.01 || both.height() < 0.01
    }

    #[test]
    fn cavities_lie_in_their_housing_and_apart_and_can_be_touched() {
        for (name, vehicle, id, loom, mate) in plans() {
            for plan in [loom, mate] {
                assert_eq!(plan.cavities.len(), usize::from(vehicle.connector(id).cavities), "{name}");
                let sheet = Rect::from_min_size(Pos2::ZERO, plan.size);
                for (at, one) in plan.cavities.iter().enumerate() {
                    let housed = plan.bodies.iter().any(|body| match *body {
                        Body::Block(rect) => rect.contains_rect(one.cell),
                        Body::Round(centre, radius) => {
                            centre.distance(one.opening.center()) + one.opening.width() / 2.0 < radius
                        }
                    });
                    assert!(housed && one.cell.contains_rect(one.opening), "{name} {}", at + 1);
                    assert!(one.cell.width() >= FINGER && one.cell.height() >= FINGER, "{name} {}", at + 1);
                    assert!(sheet.contains_rect(one.label), "{name} {}: {:?}", at + 1, one.label);
                    for (next, other) in plan.cavities.iter().enumerate().skip(at + 1) {
                        assert!(apart(one.cell, other.cell), "{name} {} and {}", at + 1, next + 1);
                        assert!(apart(one.label, other.label), "{name}: labels {} and {}", at + 1, next + 1);
                    }
                    for (next, other) in plan.cavities.iter().enumerate() {
                        let round = matches!(other.metal, Metal::Pin { .. });
                        let reach = other.opening.width() / 2.0;
                        let clear = round && one.label.distance_to_pos(other.opening.center()) >= reach;
                        assert!(
                            clear || apart(one.label, other.opening),
                            "{name}: label {} over cavity {}",
                            at + 1,
                            next + 1
                        );
                    }
                }
            }
        }
    }

    #[test]
    fn what_is_drawn_is_its_millimetres_times_one_scale() {
        for (name, vehicle, id, loom, _) in plans() {
            for (number, one) in (1..).zip(&loom.cavities) {
                let blade = vehicle.blade_millimetres(id, number);
                let (_, opening) = room(blade as f32);
                match one.metal {
                    Metal::Blade { wide, .. } => {
                        assert!((f64::from(wide) - blade).abs() < 1e-6, "{name} {number}");
                        let along = if one.upright { one.opening.height() } else { one.opening.width() };
                        assert!((along - opening.x * SCALE).abs() < 1e-3, "{name} {number}: {along}");
                        assert!(along > wide * SCALE, "{name} {number}");
                    }
                    Metal::Pin { across } => {
                        assert!(
                            (one.opening.width() - (across + ROUND_PIN) * SCALE).abs() < 1e-3,
                            "{name} {number}"
                        );
                    }
                }
            }
        }
    }

    #[test]
    fn the_halves_mirror_each_other() {
        for (name, _, _, loom, mate) in plans() {
            assert!((loom.size - mate.size).length() < 0.01, "{name}: {:?} {:?}", loom.size, mate.size);
            for (number, (one, other)) in (1..).zip(loom.cavities.iter().zip(&mate.cavities)) {
                let mirrored = loom.size.x - one.cell.center().x;
                assert!((mirrored - other.cell.center().x).abs() < 0.01, "{name} {number}");
                assert!((one.cell.center().y - other.cell.center().y).abs() < 0.01, "{name} {number}");
            }
        }
    }

    #[test]
    fn the_trailer_socket_has_eight_contacts_round_five() {
        // ISO 11446, from memory: 1 to 8 on the outer circle, 9 to 13 within it, in the order of their numbers.
        let (_, _, _, socket, _) =
            plans().into_iter().find(|(name, ..)| name == "tow socket").expect("it is there");
        let [Body::Round(centre, _)] = socket.bodies[..] else { panic!("it is round") };
        let from = |number: usize| socket.cavities[number - 1].cell.center() - centre;
        let outer: Vec<f32> = (1..=8).map(|number| from(number).length()).collect();
        let inner: Vec<f32> = (9..=13).map(|number| from(number).length()).collect();
        for (circle, radius) in [(&outer, outer[0]), (&inner, inner[0])] {
            assert!(circle.iter().all(|one| (one - radius).abs() < 0.1), "{circle:?}");
        }
        assert!(outer[0] > inner[0] + 4.0 * SCALE);
        for (first, last) in [(1, 8), (9, 13)] {
            for number in first..last {
                let (one, next) = (from(number), from(number + 1));
                assert!(one.x * next.y - one.y * next.x > 0.0, "{number} is not followed clockwise");
            }
        }
    }

    #[test]
    fn a_relays_socket_is_a_cross() {
        let (_, _, _, socket, _) =
            plans().into_iter().find(|(name, ..)| name == "hatch screen-relay").expect("it is there");
        let of =
            |terminal| socket.cavities.iter().find(|one| one.terminal == Some(terminal)).expect(terminal);
        let (coil, other, common, open) = (of("86"), of("85"), of("30"), of("87"));
        assert!(coil.upright && other.upright && common.upright && !open.upright);
        assert!(open.cell.bottom() < coil.cell.center().y && common.cell.top() > coil.cell.center().y);
        assert!(other.cell.right() < open.cell.center().x && coil.cell.left() > open.cell.center().x);
    }

    #[test]
    fn a_face_shrinks_to_its_room_as_far_as_a_finger_allows() {
        for (name, _, _, loom, _) in plans() {
            let whole = loom.clone().fitted(loom.size, 0.5);
            assert_eq!(whole.size, loom.size, "{name}");
            let least = loom.clone().fitted(Vec2::splat(10.0), 0.5);
            assert!((0.5..=1.0).contains(&least.share), "{name}: {}", least.share);
            for (one, usual) in least.cavities.iter().zip(&loom.cavities) {
                assert!(one.cell.size().min_elem() >= FINGER - 0.01, "{name}: {:?}", one.cell);
                assert!((one.opening.width() - usual.opening.width() * least.share).abs() < 0.01, "{name}");
            }
        }
        let (_, _, _, socket, _) =
            plans().into_iter().find(|(name, ..)| name == "tow socket").expect("it is there");
        // Round sockets are the highest, and give most.
        assert!(socket.fitted(Vec2::splat(200.0), 0.5).size.y < 300.0);
    }

    #[test]
    fn two_faces_stand_beside_each_other_in_the_smallest_window() {
        for (name, _, _, loom, mate) in plans() {
            assert!(loom.size.x + mate.size.x + 40.0 < 1280.0 - 60.0, "{name}: {}", loom.size.x);
            // At twice the size of text they stand below each other.
            assert!(loom.size.x + 30.0 < 640.0 - 60.0, "{name}: {}", loom.size.x);
        }
    }
}
