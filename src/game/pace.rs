//! How often the window is drawn: thirty times a second while something goes on, seldom while nothing does.

use std::time::Duration;

use bevy::prelude::*;
use bevy::window::WindowEvent;
use bevy::winit::{UpdateMode, WinitSettings};

use super::bay::Bay;
use super::scenery::{Motion, Stage};

/// Between two pictures while something goes on. Motion asks for more itself, and input is answered at once.
const LIVELY: Duration = Duration::from_millis(33);
/// Between two pictures while nothing does, and of a window behind others.
const STILL: Duration = Duration::from_millis(250);
/// How long after the last event what it began may still be going on.
const AFTERGLOW: Duration = Duration::from_millis(1500);

/// The pace from the first picture on.
pub(super) fn at_first() -> WinitSettings {
    settings(LIVELY)
}

fn settings(focused: Duration) -> WinitSettings {
    WinitSettings {
        focused_mode: UpdateMode::reactive_low_power(focused),
        unfocused_mode: UpdateMode::reactive_low_power(STILL),
    }
}

/// Sets the pace by what goes on.
pub(super) fn keep(
    bay: Res<Bay>,
    (stage, motion): (Res<Stage>, Res<Motion>),
    time: Res<Time<Real>>,
    mut events: MessageReader<WindowEvent>,
    mut last: Local<Duration>,
    mut pace: ResMut<WinitSettings>,
) {
    let now = time.elapsed();
    let touched = events.read().count() > 0;
    if touched || stage.is_changed() || motion.goes_on() || bay.goes_on() {
        *last = now;
    }
    let wait = if now.saturating_sub(*last) < AFTERGLOW { LIVELY } else { STILL };
    let next = settings(wait);
    if pace.focused_mode != next.focused_mode {
        *pace = next;
    }
}
