//! What the scene is painted with: a shape's own colours times one colour, and pictures as they are.
//!
//! The renderer's own material also maps tones and grades colours. Nothing here asks for that, and where there is no graphics card
//! it takes longer than all the rest.

use bevy::asset::{load_internal_asset, uuid_handle};
use bevy::mesh::MeshVertexBufferLayoutRef;
use bevy::prelude::*;
use bevy::render::render_resource::{
    AsBindGroup, CompareFunction, RenderPipelineDescriptor, SpecializedMeshPipelineError,
};
use bevy::shader::{Shader, ShaderRef};
use bevy::sprite_render::{AlphaMode2d, Material2d, Material2dKey, Material2dPlugin};

const FLAT_SHADER: Handle<Shader> = uuid_handle!("6c1c6f0e-8f0b-4b0f-9a53-2f1d7f2c4a11");
const SHEET_SHADER: Handle<Shader> = uuid_handle!("0d6f2f5e-44a1-4a0c-8c37-5b8a7c0e9b52");

/// Paints a shape in the colours of its corners, each times this one.
#[derive(Asset, AsBindGroup, TypePath, Clone, Debug)]
pub(super) struct Flat {
    /// Red, green and blue as files write them, and how much of what is behind it covers. A factor may be above one.
    #[uniform(0)]
    pub(super) colour: Vec4,
}

impl Default for Flat {
    fn default() -> Self {
        Self { colour: Vec4::ONE }
    }
}

impl Material2d for Flat {
    fn fragment_shader() -> ShaderRef {
        ShaderRef::Handle(FLAT_SHADER)
    }

    fn alpha_mode(&self) -> AlphaMode2d {
        AlphaMode2d::Blend
    }

    fn specialize(
        descriptor: &mut RenderPipelineDescriptor,
        _: &MeshVertexBufferLayoutRef,
        _: Material2dKey<Self>,
    ) -> Result<(), SpecializedMeshPipelineError> {
        // What is painted later covers what is there: nobody asks how deep it lies.
        if let Some(depth) = &mut descriptor.depth_stencil {
            depth.depth_write_enabled = Some(false);
            depth.depth_compare = Some(CompareFunction::Always);
        }
        Ok(())
    }
}

/// Shows a picture larger than it was drawn, of which nothing can be seen through.
#[derive(Asset, AsBindGroup, TypePath, Clone, Debug)]
pub(super) struct Sheet {
    #[texture(0)]
    pub(super) picture: Handle<Image>,
}

impl Material2d for Sheet {
    fn fragment_shader() -> ShaderRef {
        ShaderRef::Handle(SHEET_SHADER)
    }
}

/// Adds both to an app that draws.
pub(super) fn plugin(app: &mut App) {
    load_internal_asset!(app, FLAT_SHADER, "flat.wgsl", Shader::from_wgsl);
    load_internal_asset!(app, SHEET_SHADER, "sheet.wgsl", Shader::from_wgsl);
    app.add_plugins((Material2dPlugin::<Flat>::default(), Material2dPlugin::<Sheet>::default()));
}
