//! How cards are painted on the screen: as bevy_egui paints them, with less work for each pixel.

use bevy::asset::load_internal_asset;
use bevy::prelude::*;
use bevy::shader::Shader;
use bevy_egui::EguiPlugin;
use bevy_egui::render::EGUI_SHADER_HANDLE;

/// Adds egui to an app.
pub(super) fn plugin(app: &mut App) {
    app.add_plugins(EguiPlugin::default());
    load_internal_asset!(app, EGUI_SHADER_HANDLE, "card_paint.wgsl", Shader::from_wgsl);
}
