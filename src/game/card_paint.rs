//! How cards are painted on the scene: as egui means them, blended as files write colours, with little work for each pixel.

use bevy::asset::load_internal_asset;
use bevy::prelude::*;
use bevy::render::render_resource::{PipelineCache, SpecializedRenderPipelines};
use bevy::render::{Render, RenderApp, RenderSystems};
use bevy::shader::Shader;
use bevy_egui::EguiPlugin;
use bevy_egui::render::systems::{EguiPipelines, queue_pipelines_system};
use bevy_egui::render::{EGUI_SHADER_HANDLE, EguiPipeline, EguiPipelineKey};

use super::scenery::ENCODED;

/// Adds egui to an app.
pub(super) fn plugin(app: &mut App) {
    app.add_plugins(EguiPlugin::default());
    load_internal_asset!(app, EGUI_SHADER_HANDLE, "card_paint.wgsl", Shader::from_wgsl);
    if let Some(renderer) = app.get_sub_app_mut(RenderApp) {
        renderer
            .add_systems(Render, paint_encoded.in_set(RenderSystems::Queue).after(queue_pipelines_system));
    }
}

/// bevy_egui takes for granted that a camera's colours are linear light. The scene's camera paints into [`ENCODED`].
fn paint_encoded(
    cache: Res<PipelineCache>,
    pipeline: Res<EguiPipeline>,
    mut specialized: ResMut<SpecializedRenderPipelines<EguiPipeline>>,
    pipelines: Option<ResMut<EguiPipelines>>,
) {
    let Some(mut pipelines) = pipelines else { return };
    for chosen in pipelines.0.values_mut() {
        *chosen = specialized.specialize(&cache, &pipeline, EguiPipelineKey { target_format: ENCODED });
    }
}
