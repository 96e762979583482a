//! A picture of the window, as the README shows it.

use std::path::PathBuf;

use bevy::prelude::*;
use bevy::render::view::window::screenshot::{Screenshot, ScreenshotCaptured, save_to_disk};

use super::bay::Bay;

/// Frames until everything has been loaded, drawn and has come to rest.
const SETTLED: u32 = 120;

/// Where the picture is to go.
#[derive(Resource)]
pub(super) struct Wanted(pub(super) PathBuf);

/// Takes the picture once the bay has come to rest, and closes the window when it has been saved.
pub(super) fn take(
    mut commands: Commands,
    wanted: Res<Wanted>,
    mut bay: ResMut<Bay>,
    mut frames: Local<u32>,
) {
    if !bay.is_at_rest() {
        return;
    }
    bay.open = None;
    *frames += 1;
    if *frames == SETTLED {
        commands.spawn(Screenshot::primary_window()).observe(save_to_disk(wanted.0.clone())).observe(
            |_: On<ScreenshotCaptured>, mut exit: MessageWriter<AppExit>| {
                exit.write(AppExit::Success);
            },
        );
    }
}
