//! All that stands still, kept as one picture.
//!
//! A machine that draws in software needs a fifth of a second for the whole scene. So what stands still is
//! drawn into a picture, again only when it changes, and each frame shows that picture with what moves on top.

use bevy::asset::RenderAssetUsages;
use bevy::camera::visibility::RenderLayers;
use bevy::camera::{RenderTarget, ScalingMode};
use bevy::image::ImageSampler;
use bevy::prelude::*;
use bevy::render::render_resource::TextureFormat;
use bevy::sprite_render::AlphaMode2d;
use bevy::window::PrimaryWindow;

use super::palette::Palette;
use super::view::DESIGN;

/// The layer of what is drawn into the picture.
const STILL: usize = 1;
/// Frames for which the picture is drawn after a change, as a changed mesh may reach the renderer late.
const FRAMES: u8 = 3;
/// Seconds after the start during which the picture is drawn each frame, while the renderer gets ready.
const WARM_UP_SECS: f32 = 2.0;

/// The layer on which a thing is drawn.
pub(super) fn layer(moving: bool) -> RenderLayers {
    if moving { RenderLayers::default() } else { RenderLayers::layer(STILL) }
}

/// Whether the picture must be drawn again.
#[derive(Resource)]
pub(super) struct Stale(u8);

impl Default for Stale {
    fn default() -> Self {
        Self(FRAMES)
    }
}

impl Stale {
    /// Asks for the picture to be drawn again.
    pub(super) fn mark(&mut self) {
        self.0 = FRAMES;
    }
}

/// The picture, the camera that draws it and the size it was made for.
pub(super) struct Picture {
    image: Handle<Image>,
    camera: Entity,
    sheet: Entity,
    size: UVec2,
}

/// Keeps the picture as large as the window and draws it when it is stale.
///
/// The picture's camera is made here, in the first frame, and not at start-up, so that it is not the first
/// camera: an overlay may take the first one for its own.
pub(super) fn keep(
    time: Res<Time<Real>>,
    palette: Res<Palette>,
    window: Query<&Window, With<PrimaryWindow>>,
    mut picture: Local<Option<Picture>>,
    mut stale: ResMut<Stale>,
    mut commands: Commands,
    (mut images, mut meshes, mut materials): (
        ResMut<Assets<Image>>,
        ResMut<Assets<Mesh>>,
        ResMut<Assets<ColorMaterial>>,
    ),
    mut cameras: Query<&mut Camera>,
    mut sheets: Query<&mut Transform, With<Mesh2d>>,
) {
    let Ok(window) = window.single() else { return };
    let size = window.physical_size().max(UVec2::ONE);
    // The world's size of the whole window, whatever its shape.
    let seen = window.size() / (window.width() / DESIGN.x).min(window.height() / DESIGN.y).max(0.01);
    let blank = || {
        let mut image = Image::new_target_texture(size.x, size.y, TextureFormat::Rgba8UnormSrgb, None);
        image.sampler = ImageSampler::nearest();
        image.asset_usage = RenderAssetUsages::default();
        image
    };
    let Some(picture) = picture.as_mut() else {
        let image = images.add(blank());
        let camera = commands
            .spawn((
                Camera2d,
                Camera {
                    order: -1,
                    clear_color: ClearColorConfig::Custom(palette.get("surround").into()),
                    ..default()
                },
                RenderTarget::Image(image.clone().into()),
                Projection::Orthographic(OrthographicProjection {
                    scaling_mode: ScalingMode::AutoMin { min_width: DESIGN.x, min_height: DESIGN.y },
                    ..OrthographicProjection::default_2d()
                }),
                layer(false),
                Msaa::Off,
            ))
            .id();
        let material = materials.add(ColorMaterial {
            texture: Some(image.clone()),
            alpha_mode: AlphaMode2d::Opaque,
            ..default()
        });
        let sheet = commands
            .spawn((
                Mesh2d(meshes.add(Rectangle::new(1.0, 1.0))),
                MeshMaterial2d(material),
                Transform::from_xyz(0.0, 0.0, -100.0).with_scale(seen.extend(1.0)),
            ))
            .id();
        *picture = Some(Picture { image, camera, sheet, size });
        return;
    };
    if picture.size != size {
        picture.size = size;
        if let Err(error) = images.insert(picture.image.id(), blank()) {
            warn!("the picture of the still scene was not resized: {error}");
        }
        if let Ok(mut sheet) = sheets.get_mut(picture.sheet) {
            sheet.scale = seen.extend(1.0);
        }
        stale.mark();
    }
    let draw = stale.0 > 0 || time.elapsed_secs() < WARM_UP_SECS;
    if stale.0 > 0 {
        stale.0 -= 1;
    }
    if let Ok(mut camera) = cameras.get_mut(picture.camera)
        && camera.is_active != draw
    {
        camera.is_active = draw;
    }
}
