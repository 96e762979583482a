//! The drawn scene: workshop, car, lid, tools, wires. It knows nothing of circuits or jobs.
//!
//! Whoever plays the game writes [`Stage`]; this module draws it and answers with [`Anchors`] (where a named
//! place is now) and [`View`] (how the scene lies in the window); who wants the eye nearer writes [`Gaze`]. All coordinates are design units:
//! 1920×1080, y down, whatever the window's size.

#![expect(
    clippy::too_many_arguments,
    clippy::type_complexity,
    reason = "systems take what they need as arguments, and their queries are types"
)]

mod aside;
mod backdrop;
mod brightness;
mod build;
mod catalogue;
mod condition;
mod drawing;
mod figure;
mod flat;
mod gaze;
mod hinge;
mod leads;
mod live;
mod named;
mod output;
mod palette;
mod shape;
mod stage;
mod sway;
mod swing;
mod through;
mod turned;
mod undone;
mod unplaced;
mod view;
mod wet;
mod wires;

use bevy::prelude::*;

use crate::game::memory;

pub(crate) use backdrop::Waits;
pub(crate) use build::laid_anchor;
pub(crate) use catalogue::is_drawn;
#[cfg(test)]
pub(crate) use catalogue::{drawn_names, widest_degrees};
pub(crate) use gaze::Gaze;
pub(crate) use leads::{LeadEnd, LeadTip, PenLine, StageLead};
pub(crate) use output::{ENCODED, canvas};
pub(crate) use palette::Palette;
#[cfg(test)]
pub(crate) use palette::{contrast, drawn_colour};
pub(crate) use stage::{Anchors, LoomWire, Placed, SceneSet, Stage};
pub(crate) use turned::Motion;
pub(crate) use undone::Opened;
pub(crate) use unplaced::{Region, Wanted};
pub(crate) use view::{DESIGN, SceneCamera, View};

/// An app with the scene at rest as a stage has it, without what draws it.
#[cfg(test)]
fn undrawn_at(stage: Stage) -> App {
    let mut app = App::new();
    app.add_plugins(MinimalPlugins).add_plugins(undrawn).insert_resource(stage);
    // What follows the lid stands where it is one frame later.
    app.update();
    app.update();
    app
}

/// Adds the scene without what draws it, for tests: places, lid and leads are where they are in the window.
#[cfg(test)]
pub(crate) fn undrawn(app: &mut App) {
    app.insert_resource(Palette::load())
        .init_resource::<Stage>()
        .init_resource::<Assets<Mesh>>()
        .init_resource::<Assets<flat::Flat>>()
        .init_resource::<backdrop::Stale>()
        .init_resource::<brightness::Paint>()
        .add_message::<bevy::window::RequestRedraw>()
        .add_plugins(stage::plugin);
}

/// Adds the scene to an app.
pub(crate) fn plugin(app: &mut App) {
    app.insert_resource(Palette::load())
        .init_resource::<Stage>()
        .init_resource::<Gaze>()
        .init_resource::<View>()
        .add_plugins((
            memory::buffer_for_each_mesh,
            output::plugin,
            flat::plugin,
            stage::plugin,
            backdrop::plugin,
        ))
        .init_resource::<brightness::Paint>()
        .add_systems(Startup, view::spawn_camera)
        .add_systems(Update, view::follow.in_set(SceneSet))
        .add_systems(Update, (brightness::follow, backdrop::keep).chain().after(SceneSet));
}
