//! All that stands still, kept as one picture.
//!
//! A machine that draws in software needs a fifth of a second for the whole scene. So what stands still is
//! drawn into a picture, again only when it changes, and each frame shows that picture with what moves on top.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use bevy::asset::RenderAssetUsages;
use bevy::camera::visibility::RenderLayers;
use bevy::camera::{CameraMainTextureUsages, RenderTarget, ScalingMode};
use bevy::core_pipeline::{Core2d, Core2dSystems};
use bevy::image::ImageSampler;
use bevy::prelude::*;
use bevy::render::camera::ExtractedCamera;
use bevy::render::extract_component::{ExtractComponent, ExtractComponentPlugin};
use bevy::render::render_asset::RenderAssets;
use bevy::render::render_resource::{PipelineCache, TextureUsages};
use bevy::render::renderer::{RenderContext, ViewQuery};
use bevy::render::texture::GpuImage;
use bevy::render::view::{ViewDepthTexture, ViewTarget};
use bevy::render::{Render, RenderApp, RenderSystems};
use bevy::window::PrimaryWindow;

use super::flat::Sheet;
use super::gaze::Gaze;
use super::output::{BLENDING, ENCODED, canvas};
use super::palette::Palette;
use super::view::{DESIGN, SceneCamera, View};

/// The layer of what is drawn into the picture.
const STILL: usize = 1;
/// Frames for which the picture is drawn after a change, as a changed mesh may reach the renderer late.
const FRAMES: u8 = 3;
/// Frames after the renderer has become ready during which the picture is drawn each time.
const WARM_UP_FRAMES: u8 = 12;
/// Frames in which a new picture reaches the renderer and is drawn.
const BLANK_FRAMES: u8 = 2;

/// The layer on which a thing is drawn.
pub(super) fn layer(moving: bool) -> RenderLayers {
    if moving { RenderLayers::default() } else { RenderLayers::layer(STILL) }
}

/// Whether the pictures must be drawn again.
#[derive(Resource)]
pub(super) struct Stale(bool);

impl Default for Stale {
    fn default() -> Self {
        Self(true)
    }
}

impl Stale {
    /// Asks for the pictures to be drawn again.
    pub(super) fn mark(&mut self) {
        self.0 = true;
    }
}

/// Whether the renderer still waits for something that it draws with, as it says itself after each frame. What is drawn
/// until then stays blank, on a busy machine for many seconds.
#[derive(Resource, Clone)]
pub(crate) struct Waits(Arc<AtomicBool>);

impl Waits {
    /// Whether it does.
    pub(crate) fn waits(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}

fn tell_whether_it_waits(pipelines: Res<PipelineCache>, waits: Res<Waits>) {
    waits.0.store(pipelines.waiting_pipelines().next().is_some(), Ordering::Relaxed);
}

/// A camera that sleeps gives its textures back. By itself it keeps them: at 1280 by 720, four megabytes each.
fn let_go(asleep: Query<Entity, (With<ViewTarget>, Without<ExtractedCamera>)>, mut commands: Commands) {
    for camera in &asleep {
        commands.entity(camera).remove::<(ViewTarget, ViewDepthTexture)>();
    }
}

/// Adds the pictures to an app that draws.
pub(super) fn plugin(app: &mut App) {
    let waits = Waits(Arc::new(AtomicBool::new(true)));
    app.init_resource::<Stale>()
        .insert_resource(waits.clone())
        .add_plugins(ExtractComponentPlugin::<Backdrop>::default());
    if let Some(renderer) = app.get_sub_app_mut(RenderApp) {
        renderer
            .insert_resource(waits)
            .add_systems(Render, (tell_whether_it_waits, let_go).in_set(RenderSystems::Cleanup))
            .add_systems(Core2d, lay.before(Core2dSystems::MainPass));
    }
}

/// What the scene's camera finds there before it paints: this picture, pixel for pixel.
#[derive(Component, ExtractComponent, Clone, Default, PartialEq)]
pub(super) struct Backdrop(Option<Handle<Image>>);

/// What a camera with a backdrop is made with.
pub(super) fn usages() -> CameraMainTextureUsages {
    CameraMainTextureUsages::default().with(TextureUsages::COPY_DST)
}

/// Copies a backdrop. That is a quarter of the work of painting it, where there is no graphics card.
fn lay(
    view: ViewQuery<(&ViewTarget, &Backdrop)>,
    images: Res<RenderAssets<GpuImage>>,
    mut ctx: RenderContext,
) {
    let (target, backdrop) = view.into_inner();
    let Some(picture) = backdrop.0.as_ref().and_then(|picture| images.get(picture)) else { return };
    let to = target.main_texture();
    // While the window is resized one of the two may still have its old size.
    if picture.texture.size() == to.size() {
        let encoder = ctx.command_encoder();
        encoder.copy_texture_to_texture(picture.texture.as_image_copy(), to.as_image_copy(), to.size());
    }
}

/// A picture, the camera that draws it and the frames for which it is still to be drawn.
struct Picture {
    image: Handle<Image>,
    camera: Entity,
    stale: u8,
}

/// The picture of the whole bay, and that of what is seen from nearer.
///
/// While the eye moves, the one of the whole bay is shown on a sheet, larger than it was drawn; once it rests, its part is
/// drawn anew as fine as the window is.
pub(super) struct Pictures {
    whole: Picture,
    near: Picture,
    sheet: Entity,
    size: UVec2,
    /// Where the eye was in the frame before, and where it was when the near picture was drawn.
    gaze: Gaze,
    drawn_from: Gaze,
    /// Frames for which everything is still to be drawn anew.
    warming: u8,
    /// Frames for which the near picture is not to be shown yet: it is made when the eye first goes near.
    near_is_blank: u8,
}

/// Keeps the pictures as large as the window and draws them when they are stale.
///
/// The pictures' cameras are made here, in the first frame, and not at start-up, so that none is the first
/// camera: an overlay may take the first one for its own.
pub(super) fn keep(
    waits: Res<Waits>,
    palette: Res<Palette>,
    view: Res<View>,
    window: Query<&Window, With<PrimaryWindow>>,
    mut pictures: Local<Option<Pictures>>,
    mut stale: ResMut<Stale>,
    mut commands: Commands,
    (mut images, mut meshes, mut materials): (
        ResMut<Assets<Image>>,
        ResMut<Assets<Mesh>>,
        ResMut<Assets<Sheet>>,
    ),
    mut cameras: Query<
        (&mut Camera, &mut Transform, &mut Projection),
        (Without<Mesh2d>, Without<SceneCamera>),
    >,
    mut scene: Query<(&mut Camera, &mut Backdrop), With<SceneCamera>>,
    mut sheets: Query<(&mut Transform, &mut Visibility), With<Mesh2d>>,
) {
    let Ok(window) = window.single() else { return };
    let size = window.physical_size().max(UVec2::ONE);
    let gaze = view.gaze();
    let whole_view = view.with_gaze(Gaze::default());
    let blank = |size: UVec2| {
        let mut image = canvas(size, ENCODED);
        // Pixel on pixel nothing lies between, and a machine that draws in software is spared a good deal.
        image.sampler = ImageSampler::nearest();
        image.asset_usage = RenderAssetUsages::default();
        image.texture_descriptor.usage |= TextureUsages::COPY_SRC;
        image
    };
    let Some(pictures) = pictures.as_mut() else {
        let mut picture = |order: isize, image: Image| {
            let image = images.add(image);
            let camera = commands
                .spawn((
                    Camera2d,
                    Camera {
                        order,
                        clear_color: ClearColorConfig::Custom(palette.get("surround").into()),
                        // It is woken when there is something to draw.
                        is_active: false,
                        ..default()
                    },
                    RenderTarget::Image(image.clone().into()),
                    Projection::Orthographic(OrthographicProjection {
                        scaling_mode: ScalingMode::AutoMin { min_width: DESIGN.x, min_height: DESIGN.y },
                        ..OrthographicProjection::default_2d()
                    }),
                    layer(false),
                    BLENDING,
                    Msaa::Off,
                ))
                .id();
            Picture { image, camera, stale: 0 }
        };
        let (whole, near) = (picture(-2, blank(size)), picture(-1, blank(UVec2::ONE)));
        let sheet = commands
            .spawn((
                Mesh2d(meshes.add(Rectangle::new(1.0, 1.0))),
                MeshMaterial2d(materials.add(Sheet { picture: whole.image.clone() })),
                Transform::from_xyz(0.0, 0.0, -100.0).with_scale(whole_view.seen().extend(1.0)),
                Visibility::Hidden,
            ))
            .id();
        *pictures = Some(Pictures {
            whole,
            near,
            sheet,
            size,
            gaze,
            drawn_from: Gaze::default(),
            warming: WARM_UP_FRAMES,
            near_is_blank: 0,
        });
        return;
    };
    if pictures.size != size {
        pictures.size = size;
        // From nearer, too, another part of the bay is seen now.
        pictures.drawn_from = Gaze::default();
        for (picture, size) in [(&pictures.whole, size), (&pictures.near, UVec2::ONE)] {
            replace(&mut images, picture, blank(size));
        }
        if let Ok((mut sheet, _)) = sheets.get_mut(pictures.sheet) {
            sheet.scale = whole_view.seen().extend(1.0);
        }
        stale.mark();
    }
    if waits.waits() {
        pictures.warming = WARM_UP_FRAMES;
    }
    let warming = pictures.warming > 0;
    pictures.warming = pictures.warming.saturating_sub(1);
    if std::mem::take(&mut stale.0) || warming {
        pictures.whole.stale = FRAMES;
        pictures.near.stale = FRAMES;
    }
    let rests = pictures.gaze == gaze;
    pictures.gaze = gaze;
    let near = !gaze.is_far() && rests;
    if near && pictures.drawn_from != gaze {
        if pictures.drawn_from.is_far() {
            replace(&mut images, &pictures.near, blank(size));
            pictures.near_is_blank = BLANK_FRAMES;
        }
        pictures.drawn_from = gaze;
        pictures.near.stale = FRAMES;
        if let Ok((_, mut camera, mut projection)) = cameras.get_mut(pictures.near.camera) {
            gaze.hold(&mut camera, &mut projection);
        }
    }
    let near_is_drawn = near && pictures.near_is_blank == 0;
    pictures.near_is_blank = pictures.near_is_blank.saturating_sub(1);
    let shown = match (near_is_drawn, gaze.is_far()) {
        (true, _) => Some(pictures.near.image.clone()),
        (false, true) => Some(pictures.whole.image.clone()),
        (false, false) => None,
    };
    if let Ok((_, mut visibility)) = sheets.get_mut(pictures.sheet) {
        visibility.set_if_neq(if shown.is_none() { Visibility::Inherited } else { Visibility::Hidden });
    }
    for (mut camera, mut backdrop) in &mut scene {
        let fill = if shown.is_some() {
            ClearColorConfig::None
        } else {
            ClearColorConfig::Custom(palette.get("surround").into())
        };
        if std::mem::discriminant(&camera.clear_color) != std::mem::discriminant(&fill) {
            camera.clear_color = fill;
        }
        backdrop.set_if_neq(Backdrop(shown.clone()));
    }
    // What is not seen is drawn when the eye comes back to it.
    for (picture, seen) in [(&mut pictures.whole, !near), (&mut pictures.near, near)] {
        let draw = seen && picture.stale > 0;
        if seen {
            picture.stale = picture.stale.saturating_sub(1);
        }
        if let Ok((mut camera, ..)) = cameras.get_mut(picture.camera)
            && camera.is_active != draw
        {
            camera.is_active = draw;
        }
    }
}

fn replace(images: &mut Assets<Image>, picture: &Picture, image: Image) {
    if let Err(error) = images.insert(picture.image.id(), image) {
        warn!("the picture of the still scene was not resized: {error}");
    }
}
