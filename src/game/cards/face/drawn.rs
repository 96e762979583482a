//! How a connector's face is painted: its housings, and what is in a cavity, as it looked when it was looked at.

use std::f32::consts::TAU;

use bevy_egui::egui::emath::Rot2;
use bevy_egui::egui::{
    Align2, Color32, FontFamily, FontId, Painter, Pos2, Rect, Shape, Stroke, StrokeKind, Vec2, pos2, vec2,
};
use probeworthy::bench::TerminalLook;

use super::cavities::Metal;
use super::plan::{Body, Cavity, NOSE, RIB, SCALE};
use crate::game::scenery::Palette;
use crate::game::theme::{SMALL, colour};

/// How far the side of a housing is seen below and beside it, in points.
const DEPTH: Vec2 = vec2(2.5, 3.5);
/// A housing's rounding, and how wide its chamfer is, in points.
const ROUND: f32 = 9.0;
const CHAMFER: f32 = 4.0;
/// How wide a wire's ring round its cavity is, in points.
const RING: f32 = 5.0;

/// What a half of a connector is like.
#[derive(Clone, Copy)]
pub(super) struct Kind {
    /// Its blades stand in a collar; otherwise it takes blades.
    pub(super) pins: bool,
    /// It is sealed against water.
    pub(super) wet: bool,
}

/// Paints on one face.
pub(super) struct Brush<'a> {
    pub(super) painter: &'a Painter,
    pub(super) palette: &'a Palette,
    pub(super) kind: Kind,
    /// How large the face is, as a share of the usual.
    pub(super) share: f32,
}

impl Brush<'_> {
    fn ink(&self, name: &str) -> Color32 {
        colour(self.palette, name)
    }

    /// Points to a millimetre.
    fn scale(&self) -> f32 {
        SCALE * self.share
    }

    /// A housing with its latch above, and the rib that fits into its other half one way only.
    pub(super) fn body(&self, body: &Body) {
        match *body {
            Body::Block(rect) => {
                self.latch(rect.center_top(), (rect.width() * 0.3).clamp(24.0, 110.0));
                self.rib(rect);
                self.block(rect);
            }
            Body::Round(centre, radius) => {
                self.latch(pos2(centre.x, centre.y - radius + 3.0), radius * 0.5);
                self.disc(centre, radius);
            }
        }
    }

    /// The latch's nose, or the bow that it snaps into.
    fn latch(&self, foot: Pos2, wide: f32) {
        let (high, half) = (NOSE * self.scale(), wide / 2.0);
        let shape = |half: f32, high: f32| {
            vec![
                foot + vec2(-half, 2.0),
                foot + vec2(-half * 0.82, -high),
                foot + vec2(half * 0.82, -high),
                foot + vec2(half, 2.0),
            ]
        };
        let edge = Stroke::new(1.5, self.ink("face-edge"));
        self.painter.add(Shape::convex_polygon(shape(half, high), self.ink("face-light"), edge));
        let inner = if self.kind.pins { "face-floor" } else { "face-top" };
        self.painter.add(Shape::convex_polygon(
            shape(half * 0.78, high * 0.6),
            self.ink(inner),
            Stroke::NONE,
        ));
    }

    /// On the left as the loom's half is seen, and so on the right of the other one, where it is a groove in the collar.
    fn rib(&self, body: Rect) {
        let side = if self.kind.pins { body.right() } else { body.left() };
        let at = pos2(side, body.top() + body.height() * 0.68);
        let rib = Rect::from_center_size(at, vec2(2.0 * RIB, 2.0 * RIB) * self.scale());
        let edge = Stroke::new(1.5, self.ink("face-edge"));
        self.painter.rect(rib, 3.0, self.ink("face-light"), edge, StrokeKind::Inside);
    }

    fn block(&self, rect: Rect) {
        let painter = self.painter;
        painter.rect_filled(rect.translate(DEPTH), ROUND, self.ink("face-edge"));
        painter.rect_filled(rect, ROUND, self.ink("face-shade"));
        // The chamfer is lit from above on the left.
        let lit = Rect::from_min_max(rect.min, rect.max - Vec2::splat(CHAMFER * 0.7));
        painter.rect_filled(lit, ROUND, self.ink("face-light"));
        painter.rect_filled(rect.shrink(CHAMFER), ROUND - 3.0, self.ink("housing"));
        painter.rect_stroke(rect, ROUND, Stroke::new(1.5, self.ink("face-edge")), StrokeKind::Inside);
        if self.kind.pins {
            // The collar's floor lies deep: its upper and left walls throw a shadow on it.
            let floor = rect.shrink(1.5 * self.scale());
            painter.rect_filled(floor, ROUND - 4.0, self.ink("face-edge"));
            let lit = Rect::from_min_max(floor.min + vec2(4.0, 5.0), floor.max);
            painter.rect_filled(lit, ROUND - 5.0, self.ink("face-floor"));
        } else {
            // The step behind which the other half's collar goes round.
            let step = rect.shrink(1.3 * self.scale());
            painter.rect_stroke(
                step,
                ROUND - 4.0,
                Stroke::new(1.5, self.ink("face-edge")),
                StrokeKind::Inside,
            );
            let lit = step.translate(Vec2::splat(1.5));
            painter.rect_stroke(
                lit,
                ROUND - 4.0,
                Stroke::new(1.0, self.ink("face-light")),
                StrokeKind::Inside,
            );
            painter.rect_filled(step.shrink(2.0), ROUND - 5.0, self.ink("housing"));
            if self.kind.wet {
                // The seal between the halves lies in that step.
                let seal = Stroke::new(3.0, self.ink("face-seal"));
                painter.rect_stroke(step.expand(3.0), ROUND - 2.0, seal, StrokeKind::Inside);
            }
        }
    }

    fn disc(&self, centre: Pos2, radius: f32) {
        let painter = self.painter;
        painter.circle_filled(centre + DEPTH, radius, self.ink("face-edge"));
        painter.circle_filled(centre, radius, self.ink("face-shade"));
        painter.circle_filled(centre - Vec2::splat(1.5), radius - 1.5, self.ink("face-light"));
        painter.circle_filled(centre, radius - CHAMFER, self.ink("housing"));
        painter.circle_stroke(centre, radius - 0.75, Stroke::new(1.5, self.ink("face-edge")));
        let step = radius - 1.3 * self.scale();
        if self.kind.pins {
            painter.circle_filled(centre, step, self.ink("face-edge"));
            painter.circle_filled(centre + vec2(1.5, 2.5), step - 3.0, self.ink("face-floor"));
        } else {
            if self.kind.wet {
                painter.circle_stroke(centre, step + 2.0, Stroke::new(3.0, self.ink("face-seal")));
            }
            painter.circle_stroke(centre, step, Stroke::new(1.5, self.ink("face-edge")));
            painter.circle_filled(centre, step - 0.75, self.ink("housing"));
        }
        // The key stands at the foot of a trailer socket, between its contacts and its rim; in the plug there is a groove.
        let key = Rect::from_center_size(centre + vec2(0.0, radius - 6.5), vec2(2.6 * self.scale(), 9.0));
        let fill = if self.kind.pins { "face-edge" } else { "face-light" };
        let edge = Stroke::new(1.5, self.ink("face-edge"));
        painter.rect(key, 2.0, self.ink(fill), edge, StrokeKind::Inside);
    }

    /// A cavity without its terminal: a hole with a chamfer, or where a blade stands on the floor of a collar.
    pub(super) fn hole(&self, cavity: &Cavity) {
        let round = self.rounding(cavity);
        let painter = self.painter;
        if self.kind.pins {
            painter.rect_filled(cavity.opening, round, self.ink("face-well"));
        } else {
            painter.rect_filled(cavity.opening.expand(2.0), round + 2.0, self.ink("face-light"));
            painter.rect_filled(cavity.opening.expand(1.0), round + 1.0, self.ink("face-edge"));
            painter.rect_filled(cavity.opening, round, self.ink("face-well"));
        }
    }

    /// Whether what is in a cavity is round.
    fn rounding(&self, cavity: &Cavity) -> f32 {
        match cavity.metal {
            Metal::Blade { .. } => 5.0,
            Metal::Pin { .. } => cavity.opening.width() / 2.0,
        }
    }

    /// A wire's colour round its cavity, with its stripe.
    pub(super) fn ring(&self, cavity: &Cavity, letters: &str) {
        let round = self.rounding(cavity);
        let mut parts = letters.split('/');
        let base = colour(self.palette, &format!("wire-{}", parts.next().unwrap_or("BK")));
        let painter = self.painter;
        // Thin and pale on both sides: a dark sheath would be lost between the housing and the hole.
        let edge = Stroke::new(1.0, self.ink("face-rim"));
        painter.rect_stroke(cavity.opening, round, Stroke::new(RING, base), StrokeKind::Inside);
        if let Some(stripe) = parts.next() {
            let stripe = Stroke::new(1.4, colour(self.palette, &format!("wire-{stripe}")));
            painter.rect_stroke(cavity.opening.shrink(2.2), round - 1.8, stripe, StrokeKind::Inside);
        }
        painter.rect_stroke(cavity.opening.expand(1.0), round + 1.0, edge, StrokeKind::Inside);
        let within = cavity.opening.shrink(RING);
        painter.rect_stroke(within, (round - RING).max(1.0), edge, StrokeKind::Outside);
    }

    /// The seal round a wire in its cavity, which is torn where water has come in.
    pub(super) fn seal(&self, cavity: &Cavity, torn: bool) {
        let within = cavity.opening.shrink(RING + 0.5);
        let round = (self.rounding(cavity) - RING).max(3.0);
        let stroke = Stroke::new(3.0, self.ink("face-seal"));
        self.painter.rect_stroke(within, round, stroke, StrokeKind::Inside);
        let light = Stroke::new(1.0, self.ink("face-seal-light"));
        self.painter.rect_stroke(within.shrink(1.0), round - 1.0, light, StrokeKind::Inside);
        if torn {
            // A piece is out of it, and the lips hang apart.
            let at = pos2(within.right() - 1.5, within.center().y + within.height() * 0.12);
            let gap = Rect::from_center_size(at, vec2(5.0, within.height() * 0.42));
            self.painter.rect_filled(gap, 0.0, self.ink("face-well"));
            for (y, lean) in [(gap.top(), -3.0), (gap.bottom(), 2.0)] {
                let lip = vec![
                    pos2(at.x - 2.0, y - 1.5),
                    pos2(at.x + 2.0, y - 1.5),
                    pos2(at.x - 4.5, y + lean + 3.0),
                ];
                self.painter.add(Shape::convex_polygon(lip, self.ink("face-seal"), Stroke::NONE));
            }
        }
    }

    /// The metal in a cavity, as it looked.
    pub(super) fn metal(&self, cavity: &Cavity, looks: &[TerminalLook]) {
        let has = |look| looks.contains(&look);
        let centre = cavity.opening.center();
        match (cavity.metal, self.kind.pins) {
            (_, true) if has(TerminalLook::Bent) => self.bent(cavity),
            (Metal::Blade { wide, thick }, true) => self.blade(cavity, vec2(wide, thick) * self.scale()),
            (Metal::Pin { across }, true) => {
                let radius = across * self.scale() / 2.0;
                self.painter.circle_filled(centre + vec2(1.5, 2.0), radius, self.ink("face-brass-dark"));
                self.painter.circle_filled(centre, radius, self.ink("brass"));
                self.painter.circle_filled(
                    centre - Vec2::splat(radius * 0.3),
                    radius * 0.35,
                    self.ink("face-brass-light"),
                );
            }
            (Metal::Blade { wide, thick }, false) => {
                self.socket(
                    cavity,
                    vec2(wide, thick) * self.scale(),
                    has(TerminalLook::PushedBack),
                    has(TerminalLook::Spread),
                );
            }
            (Metal::Pin { across }, false) => {
                self.sleeve(
                    centre,
                    across * self.scale() / 2.0,
                    has(TerminalLook::PushedBack),
                    has(TerminalLook::Spread),
                );
            }
        }
        if has(TerminalLook::Corroded) {
            self.crust(cavity);
        }
        if has(TerminalLook::WrongColour) {
            let corner = cavity.opening.right_bottom() - Vec2::splat(6.0);
            self.painter.circle_filled(corner, 8.0, self.ink("face-warning"));
            let ink = colour(self.palette, "face-warning-text");
            let font = FontId::new(SMALL, FontFamily::Proportional);
            self.painter.text(corner, Align2::CENTER_CENTER, "?", font, ink);
        }
    }

    /// So large a thing, across or upright as a cavity's blade.
    fn at(&self, cavity: &Cavity, size: Vec2) -> Rect {
        let size = if cavity.upright { size.yx() } else { size };
        Rect::from_center_size(cavity.opening.center(), size)
    }

    fn blade(&self, cavity: &Cavity, size: Vec2) {
        let blade = self.at(cavity, size);
        for step in [3.0, 2.0, 1.0] {
            self.painter.rect_filled(
                blade.translate(vec2(step * 0.6, step)),
                1.0,
                self.ink("face-brass-dark"),
            );
        }
        self.painter.rect_filled(blade, 1.0, self.ink("brass"));
        let shine = self.at(cavity, vec2(size.x - 2.0, size.y * 0.35));
        self.painter.rect_filled(shine, 0.5, self.ink("face-brass-light"));
    }

    /// A pin or blade whose foot is in its place and whose tip stands aside; dashes show where the tip belongs.
    fn bent(&self, cavity: &Cavity) {
        /// How far the tip stands aside, in shares of the opening's smaller side.
        const ASIDE: f32 = 0.55;
        let centre = cavity.opening.center();
        let round = matches!(cavity.metal, Metal::Pin { .. });
        let size = match cavity.metal {
            Metal::Blade { wide, thick } => vec2(wide, thick) * self.scale(),
            Metal::Pin { across } => Vec2::splat(across * self.scale()),
        };
        // Bent over its flat side, away from what is written beside it, and a little round.
        let flat = if cavity.upright { Vec2::X } else { Vec2::Y };
        let flat = if flat.dot(cavity.label.center() - centre) > 0.0 { -flat } else { flat };
        let way = (flat + 0.3 * flat.rot90()).normalized();
        let shift = way * ASIDE * cavity.opening.width().min(cavity.opening.height());
        // Its outline round a centre, and so far turned.
        let outline = |centre: Pos2, scale: f32, turned: f32| -> Vec<Pos2> {
            let turn = Rot2::from_angle(turned);
            let half = if cavity.upright { size.yx() } else { size } * scale / 2.0;
            let corner = |x: f32, y: f32| centre + turn * vec2(x * half.x, y * half.y);
            if round {
                (0..16).map(|at| centre + Vec2::angled(TAU * at as f32 / 16.0) * half.x).collect()
            } else {
                vec![corner(-1.0, -1.0), corner(1.0, -1.0), corner(1.0, 1.0), corner(-1.0, 1.0)]
            }
        };
        const STEPS: u8 = 10;
        const TURNED: f32 = 0.2;
        for step in 0..=STEPS {
            // It rises out of the floor, so what is nearer to the eye is lighter.
            let share = f32::from(step) / f32::from(STEPS);
            let ink = if step < STEPS { "face-brass-dark" } else { "brass" };
            let edge =
                if step < STEPS { Stroke::NONE } else { Stroke::new(1.0, self.ink("face-brass-light")) };
            let shape = outline(centre + shift * share, 0.8 + 0.2 * share, TURNED * share);
            self.painter.add(Shape::convex_polygon(shape, self.ink(ink), edge));
        }
        let mut place = outline(centre, 1.15, 0.0);
        place.extend(place.first().copied());
        let dashes = Shape::dashed_line(&place, Stroke::new(1.5, self.ink("face-rim")), 3.0, 3.0);
        self.painter.extend(dashes);
    }

    /// What takes a blade: a box bent of sheet, with a spring in it on each side of the slit.
    fn socket(&self, cavity: &Cavity, blade: Vec2, back: bool, spread: bool) {
        let within = if cavity.upright { cavity.opening.size().yx() } else { cavity.opening.size() };
        let room = within - Vec2::splat(2.0 * (RING + 1.5));
        let outer =
            vec2((blade.x + 1.0 * self.scale()).min(room.x), (blade.y + 1.6 * self.scale()).min(room.y));
        let painter = self.painter;
        if back {
            // Deep in its hole: walls go down to it, darker and darker, and of the terminal little light comes back.
            for (share, ink) in [(1.0, "face-deep-1"), (0.86, "face-deep-2"), (0.72, "face-deep-3")] {
                painter.rect_filled(self.at(cavity, room * share), 3.0, self.ink(ink));
            }
            painter.rect_filled(self.at(cavity, outer * 0.55), 1.5, self.ink("face-brass-deep"));
            painter.rect_filled(
                self.at(cavity, vec2(blade.x * 0.5, blade.y * 0.8)),
                0.5,
                self.ink("face-well"),
            );
            return;
        }
        painter.rect_filled(
            self.at(cavity, outer).translate(vec2(1.0, 1.5)),
            2.0,
            self.ink("face-brass-dark"),
        );
        painter.rect_filled(self.at(cavity, outer), 2.0, self.ink("brass"));
        let edge = Stroke::new(1.0, self.ink("face-brass-light"));
        painter.rect_stroke(self.at(cavity, outer), 2.0, edge, StrokeKind::Inside);
        let inner = vec2(outer.x - 4.0, outer.y - 4.0);
        painter.rect_filled(self.at(cavity, inner), 1.0, self.ink("face-well"));
        // The springs nearly meet; where something too thick was pushed in they stand open, and bent.
        let centre = cavity.opening.center();
        let along = |x: f32, y: f32| centre + if cavity.upright { vec2(y, x) } else { vec2(x, y) };
        let (half, wall) = (inner.x / 2.0 - 2.0, inner.y / 2.0);
        let gap = blade.y * 0.42;
        for side in [-1.0, 1.0] {
            // How far from the middle a spring's two ends are.
            let (first, last) = if spread { (wall * 0.45, wall * 0.9) } else { (gap, gap) };
            let spring = vec![
                along(-half, side * wall),
                along(-half + 2.0, side * first),
                along(half - 2.0, side * last),
                along(half, side * wall),
            ];
            painter.add(Shape::convex_polygon(spring, self.ink("brass"), Stroke::NONE));
            let lip = [along(-half + 2.0, side * first), along(half - 2.0, side * last)];
            painter.line_segment(lip, Stroke::new(1.5, self.ink("face-brass-light")));
            if spread {
                // The seam of the box has opened where the springs were forced.
                let seam = [
                    along(outer.x / 2.0 - 3.0, side * outer.y / 2.0),
                    along(outer.x / 2.0 + 2.5, side * (outer.y / 2.0 + 3.5)),
                ];
                painter.line_segment(seam, Stroke::new(3.0, self.ink("brass")));
            }
        }
    }

    /// What takes a round pin: a slotted sleeve.
    fn sleeve(&self, centre: Pos2, radius: f32, back: bool, spread: bool) {
        let painter = self.painter;
        if back {
            for (share, ink) in [(1.3, "face-deep-1"), (1.1, "face-deep-2"), (0.9, "face-deep-3")] {
                painter.circle_filled(centre, radius * share, self.ink(ink));
            }
            painter.circle_filled(centre, radius * 0.6, self.ink("face-brass-deep"));
            painter.circle_filled(centre, radius * 0.35, self.ink("face-well"));
            return;
        }
        painter.circle_filled(centre + vec2(1.0, 1.5), radius, self.ink("face-brass-dark"));
        painter.circle_filled(centre, radius, self.ink("brass"));
        painter.circle_stroke(centre, radius - 0.5, Stroke::new(1.0, self.ink("face-brass-light")));
        painter.circle_filled(centre, radius * 0.66, self.ink("face-well"));
        let slot = if spread { radius * 0.9 } else { 2.0 };
        for turn in [Vec2::X, Vec2::Y] {
            let ends = [centre - turn * (radius + 1.0), centre + turn * (radius + 1.0)];
            let wide = if turn == Vec2::X { slot } else { 2.0 };
            painter.line_segment(ends, Stroke::new(wide, self.ink("face-well")));
        }
    }

    /// Green that has grown over the metal and onto the plastic round it.
    fn crust(&self, cavity: &Cavity) {
        /// Where its lumps lie in shares of half the metal's size, and how large they are in points.
        const LUMPS: [(f32, f32, f32); 13] = [
            (-0.85, -0.55, 3.6),
            (-0.55, 0.35, 4.4),
            (-0.30, -0.75, 3.2),
            (-0.10, 0.10, 4.8),
            (0.15, -0.45, 3.4),
            (0.30, 0.65, 4.0),
            (0.55, -0.10, 4.6),
            (0.85, 0.45, 3.4),
            (0.70, -0.80, 2.6),
            (-0.75, 0.95, 2.4),
            (0.05, 1.00, 2.2),
            (-1.05, 0.10, 2.0),
            (1.05, -0.25, 2.0),
        ];
        let half = cavity.opening.size() / 2.0 - Vec2::splat(RING + 2.0);
        let centre = cavity.opening.center();
        for (at, (x, y, size)) in LUMPS.into_iter().enumerate() {
            let lump = centre + vec2(x * half.x, y * half.y);
            let size = size.min(half.y * 0.45);
            self.painter.circle_filled(lump + vec2(0.7, 1.0), size, self.ink("face-crust-dark"));
            let ink = if at % 3 == 0 { "face-crust-light" } else { "verdigris" };
            self.painter.circle_filled(lump, size - 0.4, self.ink(ink));
        }
    }
}

/// How long 5 mm is on faces of this share of the usual size, in points.
pub(super) fn five_millimetres(share: f32) -> f32 {
    5.0 * SCALE * share
}

/// A bar so long.
pub(super) fn bar(painter: &Painter, left: Pos2, long: f32, palette: &Palette) {
    let right = left + vec2(long, 0.0);
    let stroke = Stroke::new(2.0, colour(palette, "card-text"));
    painter.line_segment([left, right], stroke);
    for end in [left, right] {
        painter.line_segment([end - vec2(0.0, 4.0), end + vec2(0.0, 4.0)], stroke);
    }
}
