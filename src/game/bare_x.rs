//! The keyboard where no window manager runs.
//!
//! On X11 a window manager gives the keyboard to the window that is used. Where there is none (a kiosk, a virtual
//! display), nobody does, and no key would ever arrive: the window then takes the keyboard itself.

use bevy::prelude::*;
use bevy::window::{PrimaryWindow, RawHandleWrapper};

/// Frames after which nothing more is tried.
const FRAMES: u32 = 600;

/// Takes the keyboard once the window is on the screen.
pub(super) fn take_keyboard(
    window: Query<&RawHandleWrapper, With<PrimaryWindow>>,
    mut frames: Local<u32>,
    mut done: Local<bool>,
) {
    *frames += 1;
    if *done || *frames > FRAMES {
        return;
    }
    if let Ok(handle) = window.single() {
        *done = x11::take(handle.get_window_handle());
    }
}

#[cfg(not(target_os = "linux"))]
mod x11 {
    pub(super) fn take(_: raw_window_handle::RawWindowHandle) -> bool {
        true
    }
}

#[cfg(target_os = "linux")]
mod x11 {
    use raw_window_handle::RawWindowHandle;
    use x11rb::CURRENT_TIME;
    use x11rb::connection::Connection;
    use x11rb::errors::ReplyError;
    use x11rb::protocol::xproto::{AtomEnum, ConnectionExt, InputFocus, MapState, Window};

    /// True once there is nothing left to do.
    pub(super) fn take(handle: RawWindowHandle) -> bool {
        let window = match handle {
            RawWindowHandle::Xlib(handle) => u32::try_from(handle.window).ok(),
            RawWindowHandle::Xcb(handle) => Some(handle.window.get()),
            _ => None,
        };
        // A server that does not answer a second connection is left alone.
        window.is_none_or(|window| try_to_take(window).unwrap_or(true))
    }

    fn try_to_take(window: Window) -> Result<bool, Box<dyn std::error::Error>> {
        let (connection, screen) = x11rb::connect(None)?;
        let root = connection.setup().roots[screen].root;
        if is_managed(&connection, root)? {
            return Ok(true);
        }
        if connection.get_window_attributes(window)?.reply()?.map_state != MapState::VIEWABLE {
            return Ok(false);
        }
        connection.set_input_focus(InputFocus::PARENT, window, CURRENT_TIME)?.check()?;
        Ok(true)
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
