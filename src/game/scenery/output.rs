//! How what is painted reaches the window: colours are blended as files write them (encoded as sRGB has it), as editors of
//! drawings do and egui asks for, and become light only on their way into the window.
//!
//! Where there is no graphics card it is also much faster: bytes are blended as bytes, and not decoded and encoded again for
//! each layer of each pixel.

use bevy::asset::{load_internal_asset, uuid_handle};
use bevy::camera::CompositingSpace;
use bevy::core_pipeline::blit::{BlitPipeline, init_blit_pipeline};
use bevy::prelude::*;
use bevy::render::render_resource::TextureFormat;
use bevy::render::view::{ViewTarget, prepare_view_targets};
use bevy::render::{Render, RenderApp, RenderStartup, RenderSystems};
use bevy::shader::Shader;

/// What cameras paint into, and what pictures are kept in: colours as files write them, a byte each.
pub(crate) const ENCODED: TextureFormat = TextureFormat::Rgba8Unorm;
/// How cameras blend: by that they paint into [`ENCODED`].
pub(super) const BLENDING: CompositingSpace = CompositingSpace::Srgb;

/// A picture for a camera. It is painted over before it is seen, so that it begins without bytes.
pub(crate) fn canvas(size: UVec2, format: TextureFormat) -> Image {
    let mut image = Image::new_target_texture(size.x, size.y, format, None);
    image.data = None;
    image.copy_on_resize = false;
    image
}

const OUTPUT_SHADER: Handle<Shader> = uuid_handle!("b5a0d7f0-6f0e-4f39-9d3a-52f7a8f1c6e4");

/// Adds the way out to an app that draws.
pub(super) fn plugin(app: &mut App) {
    load_internal_asset!(app, OUTPUT_SHADER, "output.wgsl", Shader::from_wgsl);
    if let Some(renderer) = app.get_sub_app_mut(RenderApp) {
        renderer.add_systems(RenderStartup, convert_by_a_curve.after(init_blit_pipeline)).add_systems(
            Render,
            keep_encoded.in_set(RenderSystems::PrepareViews).after(prepare_view_targets),
        );
    }
}

/// Takes the place of a shader with three powers for each pixel.
fn convert_by_a_curve(mut pipeline: ResMut<BlitPipeline>) {
    pipeline.fragment_shader = OUTPUT_SHADER;
}

/// What is kept encoded leaves a camera as it is.
fn keep_encoded(mut targets: Query<&mut ViewTarget>) {
    for mut target in &mut targets {
        if target.out_texture_view_format() == Some(ENCODED) {
            target.compositing_space = None;
        }
    }
}

#[cfg(test)]
mod tests {
    /// IEC 61966-2-1, from linear light to what a file says.
    fn encoded(light: f64) -> f64 {
        if light <= 0.003_130_8 { 12.92 * light } else { 1.055 * libm::pow(light, 1.0 / 2.4) - 0.055 }
    }

    #[test]
    fn the_curve_of_the_way_out_gives_every_level_back() {
        let shader = include_str!("output.wgsl");
        let (_, rest) = shader.split_once("array<f32, 5>(").expect("the curve is written there");
        let (figures, _) = rest.split_once(')').expect("an end of it");
        let curve: Vec<f64> =
            figures.split(',').map(|figure| figure.trim().parse().expect("a number")).collect();
        assert_eq!(curve.len(), 5);
        for level in 0..=255_u8 {
            let file = f64::from(level) / 255.0;
            let light = if file < 0.040_45 {
                file / 12.92
            } else {
                curve.iter().fold(0.0, |sum, figure| sum * file + figure)
            };
            let off = (encoded(light) - file) * 255.0;
            assert!(off.abs() < 0.1, "level {level} comes out by {off} of a level elsewhere");
        }
    }
}
