//! How a lead swings: where its ends go its middle follows late, and comes to rest after a swing or two.

use bevy::math::Vec2;

/// Pull back to where it hangs at rest, for each unit of the way, per second squared: a swing takes two thirds of a second.
const STIFFNESS: f32 = 90.0;
/// What slows it, per second: gone after a second.
const DAMPING: f32 = 7.0;
/// The farthest that it is left behind, in design units.
const MOST: f32 = 60.0;

/// The middle of a lead.
#[derive(Clone, Copy, Debug)]
pub(super) struct Sway {
    middle: Vec2,
    /// How far it is from where it would hang at rest, in design units.
    off: Vec2,
    speed: Vec2,
}

impl Sway {
    /// At rest between these ends.
    pub(super) fn resting(from: Vec2, to: Vec2) -> Self {
        Self { middle: from.midpoint(to), off: Vec2::ZERO, speed: Vec2::ZERO }
    }

    /// Some seconds later, with its ends where they are now.
    pub(super) fn follow(&mut self, from: Vec2, to: Vec2, seconds: f32) {
        let middle = from.midpoint(to);
        self.off = (self.off - (middle - self.middle)).clamp_length_max(MOST);
        self.middle = middle;
        // Short even steps keep the swing the same at any frame rate.
        let mut left = seconds.min(0.1);
        while left > 0.0 {
            let step = left.min(1.0 / 120.0);
            left -= step;
            self.speed -= (self.off * STIFFNESS + self.speed * DAMPING) * step;
            self.off += self.speed * step;
        }
        if self.off.length() < 0.3 && self.speed.length() < 3.0 {
            self.off = Vec2::ZERO;
            self.speed = Vec2::ZERO;
        }
    }

    /// How far it is from where it would hang at rest.
    pub(super) fn off(&self) -> Vec2 {
        self.off
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_lead_is_left_behind_swings_through_and_comes_to_rest() {
        let (from, to) = (Vec2::ZERO, Vec2::new(100.0, 0.0));
        let mut sway = Sway::resting(from, to);
        sway.follow(from, to + Vec2::new(80.0, 0.0), 1.0 / 30.0);
        assert!(sway.off().x < -20.0, "{:?}", sway.off());
        let mut farthest = f32::MIN;
        for _ in 0..60 {
            sway.follow(from, to + Vec2::new(80.0, 0.0), 1.0 / 30.0);
            farthest = farthest.max(sway.off().x);
        }
        assert!(farthest > 1.0, "it swings through: {farthest}");
        assert_eq!(sway.off(), Vec2::ZERO);
    }

    #[test]
    fn a_lead_comes_to_the_same_place_at_any_frame_rate() {
        let off_after = |frames: u32| {
            let mut sway = Sway::resting(Vec2::ZERO, Vec2::ZERO);
            sway.follow(Vec2::new(40.0, 0.0), Vec2::new(40.0, 0.0), 0.0);
            for _ in 0..frames {
                sway.follow(Vec2::new(40.0, 0.0), Vec2::new(40.0, 0.0), 0.4 / frames as f32);
            }
            sway.off()
        };
        assert!(off_after(12).distance(off_after(48)) < 0.5);
    }
}
