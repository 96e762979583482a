//! Whether a window can be opened at all, asked before the window library is, because that one panics.

use std::env;

/// Whether a display answers. On systems whose desktop is always there the answer is yes.
pub(super) fn answers() -> bool {
    if cfg!(all(unix, not(target_os = "macos"), not(target_os = "android"))) {
        unix::answers(&var)
    } else {
        true
    }
}

/// A variable of the environment that is set and not empty.
fn var(name: &str) -> Option<String> {
    env::var(name).ok().filter(|value| !value.is_empty())
}

#[cfg(not(unix))]
mod unix {
    pub(super) fn answers(_: &dyn Fn(&str) -> Option<String>) -> bool {
        true
    }
}

#[cfg(unix)]
mod unix {
    use std::net::{TcpStream, ToSocketAddrs};
    use std::os::unix::net::UnixStream;
    use std::path::Path;
    use std::time::Duration;

    /// The window library takes Wayland when its variables are set, else X; it does not try the other one then.
    pub(super) fn answers(var: &dyn Fn(&str) -> Option<String>) -> bool {
        if var("WAYLAND_SOCKET").is_some() {
            return true;
        }
        if let Some(name) = var("WAYLAND_DISPLAY") {
            let folder = var("XDG_RUNTIME_DIR").unwrap_or_default();
            return UnixStream::connect(Path::new(&folder).join(name)).is_ok();
        }
        var("DISPLAY").is_some_and(|display| x_answers(&display))
    }

    /// Whether the X server named by `[host]:number[.screen]` takes a connection.
    fn x_answers(display: &str) -> bool {
        let Some((host, rest)) = display.rsplit_once(':') else { return false };
        let number = rest.split('.').next().unwrap_or_default();
        let Ok(number) = number.parse::<u16>() else { return false };
        let host = host.rsplit('/').next().unwrap_or_default();
        if host.is_empty() || host == "unix" {
            let socket = format!("/tmp/.X11-unix/X{number}");
            return UnixStream::connect(&socket).is_ok() || hidden_socket_answers(&socket);
        }
        let Some(port) = number.checked_add(6000) else { return false };
        (host, port).to_socket_addrs().is_ok_and(|mut all| {
            all.any(|at| TcpStream::connect_timeout(&at, Duration::from_secs(2)).is_ok())
        })
    }

    /// Linux servers also listen on a socket of the same name that is not in the file system.
    #[cfg(target_os = "linux")]
    fn hidden_socket_answers(name: &str) -> bool {
        use std::os::linux::net::SocketAddrExt;
        use std::os::unix::net::SocketAddr;
        SocketAddr::from_abstract_name(name).is_ok_and(|at| UnixStream::connect_addr(&at).is_ok())
    }

    #[cfg(not(target_os = "linux"))]
    fn hidden_socket_answers(_: &str) -> bool {
        false
    }

    #[cfg(test)]
    mod tests {
        use super::answers;

        fn with(pairs: &'static [(&str, &str)]) -> bool {
            answers(&|name| pairs.iter().find(|(key, _)| *key == name).map(|(_, value)| (*value).to_owned()))
        }

        #[test]
        fn no_display_answers_when_none_is_named_or_its_name_leads_nowhere() {
            assert!(!with(&[]));
            assert!(!with(&[("DISPLAY", "nonsense")]));
            assert!(!with(&[("DISPLAY", ":64999")]));
            assert!(!with(&[("WAYLAND_DISPLAY", "wayland-none"), ("XDG_RUNTIME_DIR", "/nonexistent")]));
        }
    }
}
