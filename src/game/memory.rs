//! How much memory the window takes.

use bevy::app::App;
use bevy::render::RenderApp;
use bevy::render::mesh::allocator::MeshAllocatorSettings;

/// Gives each mesh a buffer of its own. By itself the renderer lays them in a few large buffers, for the thousands of a world;
/// the books it keeps of one alone take 4 MB, and what grows is copied whole. The scene has some hundred meshes, of which many
/// change while a lid moves: a walk through all screens took 35 MB more, in frames as long.
pub(super) fn buffer_for_each_mesh(app: &mut App) {
    if let Some(renderer) = app.get_sub_app_mut(RenderApp) {
        let mut settings = MeshAllocatorSettings::default();
        settings.slab_allocator_settings.large_threshold = 0;
        renderer.insert_resource(settings);
    }
}

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

/// Gives the pages of what is no longer used back to the system. The GNU C library keeps them, in the belief that as much will be
/// wanted again: what could be wrong, and what each step was worth, are worked out once in a job and then let go.
#[cfg(all(target_os = "linux", target_env = "gnu"))]
pub(super) fn give_back() {
    #[expect(unsafe_code, reason = "the C library has no other way to be told")]
    // SAFETY: `malloc_trim` may be called at any time by any thread; it takes each pool's lock while it looks through it.
    // What it returns says whether there was anything.
    let _ = unsafe { libc::malloc_trim(0) };
}

/// Elsewhere the system's library is left to itself.
#[cfg(not(all(target_os = "linux", target_env = "gnu")))]
pub(super) fn give_back() {}
