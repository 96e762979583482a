//! How often the window is drawn: thirty times a second while something goes on, seldom while nothing does.

use std::time::Duration;

use bevy::prelude::*;
use bevy::window::WindowEvent;
use bevy::winit::{UpdateMode, WinitSettings};
use bevy_egui::egui::Event;
use bevy_egui::{EguiContext, EguiInput};

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

/// Leaves out of each picture's input that Shift, Ctrl and Alt are as they were. It is put in each time, and whoever gets input
/// asks for another picture at once: the window would never come to rest.
pub(super) fn drop_repeats(mut contexts: Query<(&mut EguiInput, &mut EguiContext)>) {
    for (mut input, mut context) in &mut contexts {
        let known = context.get_mut().input(|input| input.modifiers);
        input.events.retain(|event| *event != Event::ModifiersChanged(known));
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

#[cfg(test)]
mod tests {
    use bevy_egui::egui::Modifiers;

    use super::*;

    /// What is held is told when it changes, and a window that is told nothing asks for no other picture.
    #[test]
    fn without_input_no_other_picture_is_asked_for() {
        let mut app = App::new();
        app.add_systems(Update, drop_repeats);
        let window = app.world_mut().spawn((EguiInput::default(), EguiContext::default())).id();
        let mut picture = |held: Modifiers| {
            let mut input = app.world_mut().get_mut::<EguiInput>(window).expect("it is there");
            input.events = vec![Event::ModifiersChanged(held)];
            app.update();
            let input = app.world_mut().get_mut::<EguiInput>(window).expect("it is there").take();
            let mut context = app.world_mut().get_mut::<EguiContext>(window).expect("it is there");
            let context = context.get_mut();
            context.run_ui(input, |_| {}).textures_delta.clear();
            (context.input(|input| input.modifiers), context.has_requested_repaint())
        };
        for held in [Modifiers::NONE, Modifiers::SHIFT, Modifiers::CTRL, Modifiers::NONE] {
            // A window begins with some pictures of its own accord, and draws twice what has changed.
            for _ in 0..5 {
                assert_eq!(picture(held).0, held);
            }
            assert_eq!(picture(held), (held, false));
        }
    }
}
