//! How much memory the window takes.

/// Lets all threads take memory from two pools, before the first of them does. By itself the GNU C library keeps a pool for
/// nearly every thread, and what one has given back lies there for no other: a walk through all screens took 30 MB more. With a
/// single pool it took 30 MB less, but threads waited for each other, and frames took a quarter longer.
#[cfg(all(target_os = "linux", target_env = "gnu"))]
pub(super) fn share() {
    #[expect(unsafe_code, reason = "the C library has no other way to be told")]
    // SAFETY: `mallopt` takes two numbers and may be called at any time; what it does not know it refuses.
    // Where it refuses there are more pools, and nothing else is different.
    let _ = unsafe { libc::mallopt(libc::M_ARENA_MAX, 2) };
}

/// Elsewhere the system's library is left to itself.
#[cfg(not(all(target_os = "linux", target_env = "gnu")))]
pub(super) fn share() {}
