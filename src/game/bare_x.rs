//! The window where no window manager runs.
//!
//! On X11 a window manager gives the keyboard to the window that is used, and lets people make it as large as they like.
//! Where there is none (a kiosk, a virtual display), no key would ever arrive, and a small window would stay small: there
//! the window takes the keyboard itself, and fills the screen.

use bevy::prelude::*;
use bevy::window::{Monitor, PrimaryWindow, RawHandleWrapper};

/// Frames after which nothing more is tried.
const FRAMES: u32 = 600;

/// Who looks after the window.
enum Care {
    /// A window manager, or a system without need of one.
    Managed,
    /// Nobody.
    Bare,
    /// Not on the screen yet.
    NotYet,
}

/// Takes keyboard and screen once the window is on it, where nobody else looks after it.
pub(super) fn take_over(
    mut window: Query<(&RawHandleWrapper, &mut Window), With<PrimaryWindow>>,
    monitors: Query<&Monitor>,
    mut frames: Local<u32>,
    mut done: Local<bool>,
) {
    *frames += 1;
    if *done || *frames > FRAMES {
        return;
    }
    let Ok((handle, mut window)) = window.single_mut() else { return };
    match x11::take_keyboard(handle.get_window_handle()) {
        Care::NotYet => {}
        Care::Managed => *done = true,
        Care::Bare => {
            *done = true;
            if let Some(monitor) = monitors.iter().next() {
                window.position = WindowPosition::At(IVec2::ZERO);
                window.resolution.set_physical_resolution(monitor.physical_width, monitor.physical_height);
            }
        }
    }
}

#[cfg(not(target_os = "linux"))]
mod x11 {
    use super::Care;

    pub(super) fn take_keyboard(_: raw_window_handle::RawWindowHandle) -> Care {
        Care::Managed
    }
}

#[cfg(target_os = "linux")]
mod x11 {
    use raw_window_handle::RawWindowHandle;
    use x11rb::CURRENT_TIME;
    use x11rb::connection::Connection;
    use x11rb::errors::ReplyError;
    use x11rb::protocol::xproto::{AtomEnum, ConnectionExt, InputFocus, MapState, Window};

    use super::Care;

    pub(super) fn take_keyboard(handle: RawWindowHandle) -> Care {
        let window = match handle {
            RawWindowHandle::Xlib(handle) => u32::try_from(handle.window).ok(),
            RawWindowHandle::Xcb(handle) => Some(handle.window.get()),
            _ => None,
        };
        // A server that does not answer a second connection is left alone.
        window.map_or(Care::Managed, |window| try_to_take(window).unwrap_or(Care::Managed))
    }

    fn try_to_take(window: Window) -> Result<Care, Box<dyn std::error::Error>> {
        let (connection, screen) = x11rb::connect(None)?;
        let root = connection.setup().roots[screen].root;
        if is_managed(&connection, root)? {
            return Ok(Care::Managed);
        }
        if connection.get_window_attributes(window)?.reply()?.map_state != MapState::VIEWABLE {
            return Ok(Care::NotYet);
        }
        connection.set_input_focus(InputFocus::PARENT, window, CURRENT_TIME)?.check()?;
        Ok(Care::Bare)
    }

    /// Whether a window manager runs: it says so on the root window.
    fn is_managed(connection: &impl Connection, root: Window) -> Result<bool, ReplyError> {
        let name = connection.intern_atom(true, b"_NET_SUPPORTING_WM_CHECK")?.reply()?.atom;
        if name == x11rb::NONE {
            return Ok(false);
        }
        let property = connection.get_property(false, root, name, AtomEnum::WINDOW, 0, 1)?.reply()?;
        Ok(property.value_len > 0)
    }
}
