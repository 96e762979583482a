//! How a lead swings: where its ends go its middle follows late, and comes to rest after a swing or two.

use bevy::prelude::*;
use bevy::window::RequestRedraw;

use super::leads::{LeadEnd, StageLead};
use super::stage::{Anchors, Stage};

/// Pull back to where it hangs at rest, for each unit of the way, per second squared: a swing takes two thirds of a second.
const STIFFNESS: f32 = 90.0;
/// What slows it, per second: gone after a second.
const DAMPING: f32 = 7.0;
/// The farthest that it is left behind, in design units.
const MOST: f32 = 60.0;

/// The middle of a lead.
#[derive(Clone, Copy, Debug)]
struct Sway {
    middle: Vec2,
    /// How far it is from where it would hang at rest, in design units.
    off: Vec2,
    speed: Vec2,
}

impl Sway {
    /// At rest between these ends.
    fn resting(from: Vec2, to: Vec2) -> Self {
        Self { middle: from.midpoint(to), off: Vec2::ZERO, speed: Vec2::ZERO }
    }

    /// Some seconds later, with its ends where they are now.
    fn follow(&mut self, from: Vec2, to: Vec2, seconds: f32) {
        let middle = from.midpoint(to);
        self.off = (self.off - (middle - self.middle)).clamp_length_max(MOST);
        self.middle = middle;
        for step in even_steps(seconds) {
            self.speed -= (self.off * STIFFNESS + self.speed * DAMPING) * step;
            self.off += self.speed * step;
        }
        if self.off.length() < 0.3 && self.speed.length() < 3.0 {
            self.off = Vec2::ZERO;
            self.speed = Vec2::ZERO;
        }
    }

    fn off(&self) -> Vec2 {
        self.off
    }
}

/// A frame's seconds in short even steps, which keep a swing the same at any frame rate. Of a long wait a tenth counts.
pub(super) fn even_steps(seconds: f32) -> impl Iterator<Item = f32> {
    let mut left = seconds.min(0.1);
    std::iter::from_fn(move || {
        let step = left.min(1.0 / 120.0);
        left -= step;
        (step > 0.0).then_some(step)
    })
}

/// How each lead swings, by what it comes from.
#[derive(Resource, Default)]
pub(super) struct Sways {
    leads: Vec<(LeadEnd, Sway)>,
    moved: bool,
}

impl Sways {
    /// How far the middle of a lead is from where it would hang at rest.
    pub(super) fn off(&self, lead: &StageLead) -> Vec2 {
        self.leads.iter().find(|(from, _)| *from == lead.from).map_or(Vec2::ZERO, |(_, sway)| sway.off())
    }

    /// Whether any has moved since the last frame.
    pub(super) fn moved(&self) -> bool {
        self.moved
    }
}

/// Where an end of a lead is now.
pub(super) fn end_of(end: &LeadEnd, anchors: &Anchors) -> Option<Vec2> {
    match end {
        LeadEnd::Anchor(name) => anchors.design(name).map(|placed| placed.centre),
        LeadEnd::Point(at) => Some(*at),
    }
}

/// Lets every lead follow its ends.
pub(super) fn swing_leads(
    time: Res<Time>,
    stage: Res<Stage>,
    anchors: Res<Anchors>,
    mut sways: ResMut<Sways>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    let before = std::mem::take(&mut sways.leads);
    let mut moved = false;
    for lead in &stage.leads {
        let ends = (end_of(&lead.from, &anchors), end_of(&lead.to, &anchors));
        let (Some(from), Some(to)) = ends else { continue };
        let known = before.iter().find(|(end, _)| *end == lead.from).map(|(_, sway)| *sway);
        let mut sway = known.filter(|_| !stage.reduced_motion).unwrap_or_else(|| Sway::resting(from, to));
        let was = sway.off();
        sway.follow(from, to, time.delta_secs());
        if sway.off() != Vec2::ZERO {
            redraw.write(RequestRedraw);
        }
        moved |= sway.off() != was;
        sways.leads.push((lead.from.clone(), sway));
    }
    sways.moved = moved;
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
