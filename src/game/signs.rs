//! The signs that mark what can be touched in the drawing: a shape for each kind of thing, and where words beside one lie so
//! that they cover no other.

use bevy_egui::egui::{Color32, Painter, Pos2, Rect, Shape, Stroke, StrokeKind, Vec2, pos2, vec2};
use probeworthy::bench::Action;
use probeworthy::vehicle::{PartKind, Vehicle};
use probeworthy::words::Texts;

use super::bay::Place;

/// The radius of a sign at the usual size of text, in points.
pub(super) const USUAL: f32 = 7.5;

/// What kind of thing a sign marks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Sign {
    /// A connector: a plug with two pins.
    Connector,
    /// The connector of a lamp: a circle with a cross, as a lamp is drawn in a diagram.
    Lamp,
    /// A station of the loom: a diamond.
    Loom,
    /// A panel or a seat: a plate with a corner turned up.
    Panel,
    /// A stud: a nut.
    Stud,
    /// Bare metal of the body: a triangle on its tip.
    Metal,
    /// What the hand pulls or lifts: a long grip.
    Handle,
    /// What is pressed: a dot in a circle.
    Button,
    /// A fuse: an oblong with a wire through it, as a fuse is drawn in a diagram.
    Fuse,
    /// Anything else: a circle.
    Thing,
}

impl Sign {
    /// All of them, those of kinds of things on the vehicle first.
    pub(super) const KINDS: [Self; 10] = [
        Self::Connector,
        Self::Lamp,
        Self::Loom,
        Self::Panel,
        Self::Stud,
        Self::Metal,
        Self::Handle,
        Self::Button,
        Self::Fuse,
        Self::Thing,
    ];

    /// The sign of what opens there.
    pub(super) fn of_place(vehicle: &Vehicle, place: Place) -> Self {
        match place {
            Place::Connector(id) => {
                let lamp = vehicle.parts().any(|(_, part)| {
                    part.connector == id && matches!(part.kind, PartKind::Lamp { .. } | PartKind::Led(_))
                });
                if lamp { Self::Lamp } else { Self::Connector }
            }
            Place::Station(_) => Self::Loom,
            Place::Panel(_) => Self::Panel,
            Place::Stud(_) => Self::Stud,
            Place::Body => Self::Metal,
            Place::Lid => Self::Handle,
            // A fuse outside of the cabin; the cabin itself has a whole field.
            Place::Cabin => Self::Fuse,
            _ => Self::Thing,
        }
    }

    /// The sign of what is done by a touch there.
    pub(super) fn of_act(act: &Action) -> Self {
        match act {
            Action::Press(_) => Self::Button,
            Action::Lever => Self::Handle,
            _ => Self::Thing,
        }
    }

    /// What it marks.
    pub(super) fn title(self, t: Texts) -> &'static str {
        t.say(match self {
            Self::Connector => "sign-connector",
            Self::Lamp => "sign-lamp",
            Self::Loom => "sign-loom",
            Self::Panel => "sign-panel",
            Self::Stud => "sign-stud",
            Self::Metal => "sign-metal",
            Self::Handle => "sign-handle",
            Self::Button => "sign-button",
            Self::Fuse => "sign-fuse",
            Self::Thing => "sign-thing",
        })
    }

    /// Draws it around a point, with a rim that sets it off from what lies behind. Where it is small its lines are thin, so that
    /// there is room between them.
    pub(super) fn draw(self, painter: &Painter, at: Pos2, radius: f32, line: Color32, rim: Color32) {
        let share = (radius / USUAL).min(1.0);
        self.strokes(painter, at, radius, Stroke::new(5.0 * share, rim));
        self.strokes(painter, at, radius, Stroke::new(2.2 * share, line));
    }

    fn strokes(self, painter: &Painter, at: Pos2, r: f32, stroke: Stroke) {
        let closed = |corners: &[(f32, f32)]| {
            let corners = corners.iter().map(|(x, y)| at + vec2(*x, *y) * r).collect();
            painter.add(Shape::closed_line(corners, stroke));
        };
        let line = |from: (f32, f32), to: (f32, f32)| {
            painter.line_segment([at + vec2(from.0, from.1) * r, at + vec2(to.0, to.1) * r], stroke);
        };
        let plate = |half: Vec2, round: f32| {
            let rect = Rect::from_center_size(at, half * 2.0 * r);
            painter.rect_stroke(rect, round * r, stroke, StrokeKind::Middle);
        };
        match self {
            Self::Connector => {
                closed(&[(-0.9, -0.35), (0.9, -0.35), (0.9, 0.95), (-0.9, 0.95)]);
                line((-0.4, -0.35), (-0.4, -1.05));
                line((0.4, -0.35), (0.4, -1.05));
            }
            Self::Lamp => {
                painter.circle_stroke(at, r, stroke);
                line((-0.7, -0.7), (0.7, 0.7));
                line((-0.7, 0.7), (0.7, -0.7));
            }
            Self::Loom => closed(&[(0.0, -1.15), (1.15, 0.0), (0.0, 1.15), (-1.15, 0.0)]),
            Self::Panel => {
                closed(&[(-1.2, -0.85), (1.2, -0.85), (1.2, 0.15), (0.5, 0.85), (-1.2, 0.85)]);
                let corner = [(0.5, 0.85), (0.45, 0.15), (1.2, 0.15)];
                painter.line(corner.map(|(x, y)| at + vec2(x, y) * r).to_vec(), stroke);
            }
            Self::Stud => {
                closed(&[
                    (-1.1, 0.0),
                    (-0.55, -0.95),
                    (0.55, -0.95),
                    (1.1, 0.0),
                    (0.55, 0.95),
                    (-0.55, 0.95),
                ]);
            }
            Self::Metal => closed(&[(-1.1, -0.8), (1.1, -0.8), (0.0, 1.1)]),
            Self::Handle => plate(vec2(1.4, 0.55), 0.55),
            Self::Button => {
                painter.circle_stroke(at, r, stroke);
                painter.circle_stroke(at, r * 0.2, stroke);
            }
            Self::Fuse => {
                // Narrow, as several stand side by side.
                plate(vec2(0.85, 0.5), 0.15);
                line((-1.2, 0.0), (1.2, 0.0));
            }
            Self::Thing => _ = painter.circle_stroke(at, r, stroke),
        }
    }
}

/// Moves signs that lie closer than this, in points, away from each other, each as far as the other.
pub(super) fn push_apart(signs: &mut [Pos2], least: f32) {
    /// Those of a crowd go on pushing each other; after so many rounds they have found their places.
    const ROUNDS: usize = 24;
    for _ in 0..ROUNDS {
        let mut moved = false;
        for one in 0..signs.len() {
            for other in one + 1..signs.len() {
                let way = signs[other] - signs[one];
                let lacks = least - way.length();
                // What is left is too little to be seen.
                if lacks < 0.01 {
                    continue;
                }
                // One on the other they go aside.
                let by = if way.length() < 0.1 { Vec2::RIGHT } else { way.normalized() } * (lacks / 2.0);
                signs[one] -= by;
                signs[other] += by;
                moved = true;
            }
        }
        if !moved {
            break;
        }
    }
}

/// From what is named to its words, in points.
const GAP: f32 = 5.0;

/// A place for words of this size beside what they name: the first of the sides, in this order, at which they lie within the
/// screen and cover none of `others`; where there is none, the nearest that covers nothing, or that which covers least.
pub(super) fn beside(named: Rect, size: Vec2, others: &[Rect], screen: Rect) -> Rect {
    close_by(named, size, others, screen)
        .unwrap_or_else(|least| free(named, size, others, screen).or(least).unwrap_or(named))
}

/// The same for words that are to stay near what they name: where they would have to go farther than this from it, they rather
/// cover some of `others`, but none of what is `written`.
pub(super) fn near(
    named: Rect,
    size: Vec2,
    (others, written): (&[Rect], &[Rect]),
    screen: Rect,
    farthest: f32,
) -> Rect {
    let all: Vec<Rect> = others.iter().chain(written).copied().collect();
    let found = [all.as_slice(), written]
        .into_iter()
        .find_map(|others| clear_of(named, size, others, screen, farthest));
    found.unwrap_or_else(|| beside(named, size, &all, screen))
}

/// A place for words that cover nothing and are no farther than this from what they name, if there is one.
pub(super) fn clear_of(
    named: Rect,
    size: Vec2,
    others: &[Rect],
    screen: Rect,
    farthest: f32,
) -> Option<Rect> {
    let is_near = |rect: &Rect| apart(*rect, named) <= farthest;
    let room = screen.intersect(named.expand2(size + Vec2::splat(farthest)));
    let close = close_by(named, size, others, screen).ok().filter(is_near);
    close.or_else(|| free(named, size, others, room).filter(is_near))
}

/// Whether a straight line from one point to another passes none of these.
pub(super) fn passes(from: Pos2, to: Pos2, others: &[Rect]) -> bool {
    const STEPS: u8 = 16;
    let way = (0..=STEPS).map(|k| from.lerp(to, f32::from(k) / f32::from(STEPS)));
    way.into_iter().all(|at| !others.iter().any(|one| one.contains(at)))
}

/// How far two rectangles are from each other.
pub(super) fn apart(one: Rect, other: Rect) -> f32 {
    let gap = |low: f32, high: f32, from: f32, to: f32| (low - to).max(from - high).max(0.0);
    let across = gap(one.left(), one.right(), other.left(), other.right());
    across.hypot(gap(one.top(), one.bottom(), other.top(), other.bottom()))
}

/// The first of the places close by that cover nothing, or else that which covers least.
fn close_by(named: Rect, size: Vec2, others: &[Rect], screen: Rect) -> Result<Rect, Option<Rect>> {
    let mut best: Option<(f32, Rect)> = None;
    for steps in [0.0, 1.0, 2.0, 3.0, 4.0] {
        let (x, y) = (
            (named.width() + size.x) / 2.0 + GAP + steps * 14.0,
            (named.height() + size.y) / 2.0 + GAP + steps * (size.y + 2.0),
        );
        let (half, level) = (size.x * 0.5, size.y * 0.5);
        let sides = [
            vec2(0.0, -y),
            vec2(0.0, y),
            vec2(x, 0.0),
            vec2(-x, 0.0),
            vec2(half, -y),
            vec2(-half, -y),
            vec2(half, y),
            vec2(-half, y),
            vec2(x, -level),
            vec2(-x, -level),
            vec2(x, level),
            vec2(-x, level),
        ];
        for side in sides {
            let rect = within(Rect::from_center_size(named.center() + side, size), screen);
            let covered: f32 = others.iter().chain([&named]).map(|one| one.intersect(rect)).map(area).sum();
            if covered <= 0.0 {
                return Ok(rect);
            }
            if best.is_none_or(|(least, _)| covered < least) {
                best = Some((covered, rect));
            }
        }
    }
    Err(best.map(|(_, rect)| rect))
}

/// The nearest place at which words of this size cover nothing.
fn free(named: Rect, size: Vec2, others: &[Rect], screen: Rect) -> Option<Rect> {
    const STEP: f32 = 12.0;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "steps across a window")]
    let steps = |length: f32| (length.max(0.0) / STEP) as usize;
    let corners = (0..=steps(screen.width() - size.x)).flat_map(|across| {
        (0..=steps(screen.height() - size.y))
            .map(move |down| screen.min + vec2(across as f32 * STEP, down as f32 * STEP))
    });
    let places = corners.map(|corner| Rect::from_min_size(corner, size));
    places.filter(|place| others.iter().chain([&named]).all(|one| !one.intersects(*place))).min_by(
        |one, other| {
            let far = |place: &Rect| place.center().distance_sq(named.center());
            far(one).total_cmp(&far(other))
        },
    )
}

fn area(rect: Rect) -> f32 {
    rect.width().max(0.0) * rect.height().max(0.0)
}

/// The rectangle, moved into the screen.
fn within(rect: Rect, screen: Rect) -> Rect {
    let x = rect.left().min(screen.right() - rect.width()).max(screen.left());
    let y = rect.top().min(screen.bottom() - rect.height()).max(screen.top());
    Rect::from_min_size(pos2(x, y), rect.size())
}

#[cfg(test)]
mod tests {
    use super::*;

    const SCREEN: Rect = Rect { min: Pos2 { x: 0.0, y: 0.0 }, max: Pos2 { x: 1280.0, y: 720.0 } };

    fn ring(x: f32, y: f32) -> Rect {
        Rect::from_center_size(pos2(x, y), vec2(22.0, 22.0))
    }

    #[test]
    fn words_lie_above_where_nothing_is_in_the_way() {
        let words = beside(ring(600.0, 300.0), vec2(100.0, 22.0), &[], SCREEN);
        assert_eq!(words.center().x, 600.0);
        assert!(words.bottom() < 300.0 - 11.0);
    }

    #[test]
    fn words_go_to_the_next_free_side_and_cover_no_sign() {
        let (named, size) = (ring(600.0, 300.0), vec2(100.0, 22.0));
        let mut others = vec![ring(610.0, 270.0)];
        assert!(beside(named, size, &others, SCREEN).top() > named.bottom(), "below, as above is taken");
        others.push(ring(570.0, 335.0));
        assert!(beside(named, size, &others, SCREEN).left() > named.right(), "to the right");
        others.push(ring(660.0, 300.0));
        assert!(beside(named, size, &others, SCREEN).right() < named.left(), "to the left");
        others.push(ring(540.0, 300.0));
        let words = beside(named, size, &others, SCREEN);
        assert!(others.iter().chain([&named]).all(|one| !one.intersects(words)), "{words:?}");
    }

    #[test]
    fn words_stay_within_the_screen_and_off_what_they_name() {
        for (x, y) in [(4.0, 4.0), (1276.0, 4.0), (4.0, 716.0), (1276.0, 716.0), (640.0, 8.0)] {
            let words = beside(ring(x, y), vec2(120.0, 22.0), &[], SCREEN);
            assert!(SCREEN.contains_rect(words), "{words:?}");
            assert!(!words.intersects(ring(x, y)), "{words:?} over {x} {y}");
        }
    }

    #[test]
    fn words_that_are_to_stay_near_rather_cover_signs_than_go_far() {
        let (named, size) = (ring(600.0, 300.0), vec2(100.0, 22.0));
        let crowd: Vec<Rect> = (0_u8..100)
            .map(|k| ring(402.0 + f32::from(k % 10) * 44.0, 100.0 + f32::from(k / 10) * 40.0))
            .collect();
        let free = beside(named, size, &crowd, SCREEN);
        assert!(
            crowd.iter().all(|one| !one.intersects(free)) && free.distance_to_pos(named.center()) > 100.0
        );
        let words = near(named, size, (&crowd, &[ring(600.0, 275.0)]), SCREEN, 60.0);
        assert!(words.distance_to_pos(named.center()) < 72.0, "{words:?}");
        assert!(!words.intersects(ring(600.0, 275.0)), "{words:?}");
        assert_eq!(near(named, size, (&crowd[..0], &[]), SCREEN, 60.0), beside(named, size, &[], SCREEN));
        // Nothing is covered by those that may not cover anything, and they are not far either.
        assert_eq!(clear_of(named, size, &crowd, SCREEN, 60.0), None);
        let small = clear_of(named, vec2(16.0, 12.0), &crowd, SCREEN, 60.0).expect("room between signs");
        assert!(crowd.iter().all(|one| !one.intersects(small)) && apart(small, named) <= 60.0, "{small:?}");
        let [left, right] = [pos2(380.0, 220.0), pos2(620.0, 220.0)];
        assert!(!passes(left, right, &crowd) && passes(left, right, &[ring(500.0, 250.0)]));
    }

    #[test]
    fn signs_on_each_other_are_pushed_apart_and_others_stay() {
        let mut signs =
            [(100.0, 100.0), (104.0, 101.0), (104.0, 101.0), (300.0, 100.0)].map(|(x, y)| pos2(x, y));
        push_apart(&mut signs, 20.0);
        assert_eq!(signs[3], pos2(300.0, 100.0));
        for (at, one) in signs.iter().enumerate() {
            for other in &signs[at + 1..] {
                assert!(one.distance(*other) > 19.5, "{signs:?}");
            }
            assert!(one.distance(pos2(103.0, 101.0)) < 25.0 || at == 3, "{signs:?}");
        }
    }

    #[test]
    fn no_two_kinds_share_a_sign() {
        let drawn: Vec<String> = Sign::KINDS
            .iter()
            .map(|sign| {
                let ctx = bevy_egui::egui::Context::default();
                let mut out = ctx.run_ui(Default::default(), |ui| {
                    sign.draw(ui.painter(), pos2(50.0, 50.0), 8.0, Color32::WHITE, Color32::BLACK);
                });
                // Nothing is drawn.
                out.textures_delta.clear();
                format!("{:?}", out.shapes)
            })
            .collect();
        for (at, one) in drawn.iter().enumerate() {
            assert!(one.len() > 20, "a sign is not drawn");
            assert!(!drawn[at + 1..].contains(one), "two signs are alike: {one}");
        }
    }
}
