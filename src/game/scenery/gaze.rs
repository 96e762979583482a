//! Where the eye is: over the whole bay, or near a place.

use bevy::prelude::*;

use super::build::corner;
use super::view::DESIGN;

/// What the eye looks at, and from how near. As a resource it is where the eye is wanted; it goes there by itself.
#[derive(Resource, Clone, Copy, Debug, PartialEq)]
pub(crate) struct Gaze {
    /// The middle of what is seen, in design units.
    pub(super) centre: Vec2,
    /// How many times larger than from afar things are seen: from 1 to [`Gaze::NEAREST`].
    pub(super) nearness: f32,
}

impl Default for Gaze {
    fn default() -> Self {
        Self { centre: DESIGN / 2.0, nearness: 1.0 }
    }
}

impl Gaze {
    /// From how near things can be seen: a connector then fills a quarter of the window.
    pub(crate) const NEAREST: f32 = 5.0;
    /// One step nearer by key or touch.
    pub(crate) const STEP: f32 = 1.6;

    /// As figures: across and down, in design units, and how near.
    pub(crate) fn told(self) -> (f32, f32, f32) {
        (self.centre.x, self.centre.y, self.nearness)
    }

    /// The same from such figures, as far as the bay reaches; `None` where they are none.
    pub(crate) fn of_told((across, down, nearness): (f32, f32, f32)) -> Option<Self> {
        let centre = Vec2::new(across, down);
        let nearness = nearness.is_finite().then(|| nearness.clamp(1.0, Self::NEAREST))?;
        centre.is_finite().then(|| Self { centre, nearness }.within())
    }

    /// Whether the whole bay is seen.
    pub(crate) fn is_far(self) -> bool {
        self.nearness <= 1.0
    }

    /// Goes nearer by a factor, or farther by one below 1, with `fixed` staying where it is in the window.
    pub(crate) fn nearer_about(&mut self, fixed: Vec2, factor: f32) {
        let nearness = (self.nearness * factor).clamp(1.0, Self::NEAREST);
        let centre = fixed + (self.centre - fixed) * (self.nearness / nearness);
        *self = Self { centre, nearness }.within();
    }

    /// Goes nearer by a factor, and brings `at` to the middle as far as the bay reaches.
    pub(crate) fn nearer_to(&mut self, at: Vec2, factor: f32) {
        let nearness = (self.nearness * factor).clamp(1.0, Self::NEAREST);
        *self = Self { centre: at, nearness }.within();
    }

    /// Looks elsewhere from as near, by so many design units.
    pub(crate) fn moved(&mut self, by: Vec2) {
        *self = Self { centre: self.centre + by, ..*self }.within();
    }

    /// Moves just so far that `at` is well within what is seen.
    pub(crate) fn bring_into_view(&mut self, at: Vec2) {
        let reach = DESIGN / self.nearness * 0.4;
        let by = (at - self.centre) - (at - self.centre).clamp(-reach, reach);
        if by != Vec2::ZERO {
            self.moved(by);
        }
    }

    /// No farther aside than the bay reaches.
    fn within(self) -> Self {
        let room = DESIGN * (1.0 - 1.0 / self.nearness) / 2.0;
        Self { centre: self.centre.clamp(DESIGN / 2.0 - room, DESIGN / 2.0 + room), ..self }
    }

    /// On the way to another, after so many seconds. It arrives; it does not creep.
    pub(super) fn toward(self, goal: Self, secs: f32) -> Self {
        /// By what the rest of the way shrinks in a second, as a power of e.
        const RATE: f32 = 11.0;
        let share = 1.0 - (-RATE * secs.clamp(0.0, 0.1)).exp();
        let next = Self {
            centre: self.centre.lerp(goal.centre, share),
            nearness: self.nearness.lerp(goal.nearness, share),
        };
        let near = next.centre.distance(goal.centre) * next.nearness < 1.0
            && (next.nearness - goal.nearness).abs() < 0.004;
        if near { goal } else { next }
    }

    /// Puts a camera there that shows the whole bay from the middle otherwise.
    pub(super) fn hold(self, camera: &mut Transform, projection: &mut Projection) {
        let at = corner(self.centre);
        camera.translation = at.with_z(camera.translation.z);
        if let Projection::Orthographic(flat) = projection {
            flat.scale = 1.0 / self.nearness;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_under_the_pointer_stays_there() {
        let mut gaze = Gaze::default();
        let fixed = Vec2::new(700.0, 400.0);
        gaze.nearer_about(fixed, 2.0);
        assert_eq!(gaze.nearness, 2.0);
        // From the middle it lay by so much, and lies by twice as much once it is twice as large.
        assert!(((fixed - gaze.centre) * 2.0 - (fixed - DESIGN / 2.0)).length() < 1e-3);
    }

    #[test]
    fn it_never_looks_past_the_bay_and_comes_back_to_all_of_it() {
        let mut gaze = Gaze::default();
        gaze.nearer_to(Vec2::new(5.0, 1075.0), 100.0);
        assert_eq!(gaze.nearness, Gaze::NEAREST);
        let half = DESIGN / gaze.nearness / 2.0;
        assert!(gaze.centre.x - half.x >= -0.01 && gaze.centre.y + half.y <= DESIGN.y + 0.01);
        gaze.moved(Vec2::splat(1e6));
        assert!(gaze.centre.x + half.x <= DESIGN.x + 0.01);
        gaze.nearer_about(Vec2::new(900.0, 100.0), 0.001);
        assert_eq!(gaze, Gaze::default());
        assert!(gaze.is_far());
    }

    #[test]
    fn it_is_told_in_figures_and_found_again_within_the_bay() {
        let gaze = Gaze { centre: Vec2::new(600.0, 700.0), nearness: 3.0 };
        assert_eq!(Gaze::of_told(gaze.told()), Some(gaze));
        assert_eq!(Gaze::of_told((1e9, -1e9, 0.1)), Some(Gaze::default()));
        for wrong in [f32::NAN, f32::INFINITY] {
            assert_eq!(Gaze::of_told((wrong, 1.0, 2.0)), None);
            assert_eq!(Gaze::of_told((1.0, 1.0, wrong)), None);
        }
    }

    #[test]
    fn it_arrives() {
        let goal = Gaze { centre: Vec2::new(600.0, 800.0), nearness: 4.0 };
        let mut gaze = Gaze::default();
        let frames = (0..200).take_while(|_| {
            gaze = gaze.toward(goal, 1.0 / 60.0);
            gaze != goal
        });
        assert!(frames.count() < 60, "within a second");
        assert_eq!(gaze, goal);
    }

    #[test]
    fn a_place_outside_is_brought_into_view_and_one_inside_is_left() {
        let mut gaze = Gaze { centre: DESIGN / 2.0, nearness: 4.0 };
        let before = gaze;
        gaze.bring_into_view(gaze.centre + Vec2::new(20.0, -20.0));
        assert_eq!(gaze, before);
        let at = Vec2::new(300.0, 700.0);
        gaze.bring_into_view(at);
        let reach = DESIGN / gaze.nearness / 2.0;
        assert!((at - gaze.centre).abs().cmplt(reach).all());
    }
}
