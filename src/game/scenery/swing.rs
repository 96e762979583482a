//! How the lid swings to where it is wanted.

use bevy::prelude::*;
use bevy::window::RequestRedraw;

use super::build::Layout;
use super::stage::{Anchors, Stage};
use super::sway::even_steps;

/// The lid as it swings.
#[derive(Resource, Default)]
pub(super) struct Swing {
    degrees: f32,
    speed: f32,
}

impl Swing {
    /// A lid that is still.
    pub(super) fn resting(degrees: f32) -> Self {
        Self { degrees, speed: 0.0 }
    }
}

/// Lets the lid follow.
pub(super) fn swing_lid(
    time: Res<Time>,
    stage: Res<Stage>,
    layout: Res<Layout>,
    mut swing: ResMut<Swing>,
    mut anchors: ResMut<Anchors>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    const STIFFNESS: f32 = 62.0;
    const DAMPING: f32 = 10.5;
    let wanted = stage.lid_degrees.clamp(0.0, layout.widest());
    let still = (swing.degrees - wanted).abs() < 0.05 && swing.speed.abs() < 0.5;
    if stage.reduced_motion || still {
        swing.degrees = wanted;
        swing.speed = 0.0;
    } else {
        for step in even_steps(time.delta_secs()) {
            swing.speed += ((wanted - swing.degrees) * STIFFNESS - swing.speed * DAMPING) * step;
            swing.degrees += swing.speed * step;
            if swing.degrees < 0.0 {
                // It meets the seal and gives a little.
                swing.degrees = 0.0;
                swing.speed = (-swing.speed * 0.18).min(40.0);
            }
        }
        redraw.write(RequestRedraw);
    }
    let moving = swing.degrees != wanted;
    if anchors.lid_degrees != swing.degrees || anchors.lid_moving != moving {
        anchors.lid_degrees = swing.degrees;
        anchors.lid_moving = moving;
    }
}
