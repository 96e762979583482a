//! Where all of a connector's face lies: measured in millimetres, laid out in points, one scale for every connector where text is
//! not enlarged.
//!
//! Seen into the mating side. The halves of a connector mirror each other there, as in the trade's drawings.

use bevy_egui::egui::{Pos2, Rect, Vec2, pos2, vec2};
use probeworthy::vehicle::{ConnectorId, Half, Vehicle};

use super::cavities::{Housing, Laid, Metal, Side, laid};

/// Points to a millimetre. At this the narrowest cavity is wide enough for a finger (24 points), and the widest face of the
/// shelf fits a window of 1280×720 with its other half beside it.
pub(super) const SCALE: f32 = 9.0;

/// What a finger needs, in points (WCAG 2.2, 2.5.8: published).
const FINGER: f32 = 24.0;

/// What a wall of a housing takes on each side of its cavities, in mm (common practice, no source), as all measures here that do
/// not name one.
pub(super) const WALL: f32 = 2.2;
/// How far the latch's nose and the rib that keys the halves stand out of a housing, in mm.
pub(super) const NOSE: f32 = 1.4;
pub(super) const RIB: f32 = 0.9;

/// A label's lines, and the room that it is given, in points: the letters of two colours beside each other, or below each
/// other where cavities are narrow.
pub(super) const LINE: f32 = 16.0;
pub(super) const LABEL_WIDE: f32 = 54.0;
const LABEL_NARROW: f32 = 27.0;
/// Between a housing and a label outside of it, in points.
const OUTSIDE: f32 = 5.0;
/// Round everything, for the line about what has the focus and a housing's depth, in points.
const MARGIN: f32 = 5.0;

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

impl Plan {
    /// The face of a connector's half.
    pub(super) fn of(vehicle: &Vehicle, id: ConnectorId, half: Half) -> Self {
        let (mut laid, housing) = laid(vehicle, id);
        if half == Half::Mate {
            laid.iter_mut().for_each(|one| one.at.x = -one.at.x);
        }
        Self::laid_out(&laid, housing)
    }

    fn laid_out(laid: &[Laid], housing: Housing) -> Self {
        let narrow = housing != Housing::Round
            && laid.iter().any(|one| one.cell.x * SCALE < LABEL_WIDE && one.terminal.is_none());
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
        let bodies: Vec<Body> = match housing {
            Housing::Round => {
                let reach = laid.iter().map(|one| one.at.to_vec2().length() + one.opening.x / 2.0);
                let radius = reach.fold(0.0, f32::max) + WALL;
                vec![Body::Round(Pos2::ZERO, radius * SCALE)]
            }
            Housing::OfEach => cells.iter().map(|cell| Body::Block(cell.expand(WALL * SCALE))).collect(),
            Housing::Block => vec![Body::Block(all(&taken).expand(WALL * SCALE))],
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

#[cfg(test)]
mod tests {
    use super::super::cavities::{ROUND_PIN, room};
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
