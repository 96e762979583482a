//! In the bright room everything drawn is brighter; in the dim one it is as its drawings have it.

use bevy::prelude::*;

use super::backdrop::Stale;
use super::flat::Flat;
use super::palette::Palette;

/// The paint of everything that gives no light of its own.
#[derive(Resource)]
pub(super) struct Paint(pub(super) Handle<Flat>);

impl FromWorld for Paint {
    fn from_world(world: &mut World) -> Self {
        Self(world.resource_mut::<Assets<Flat>>().add(Flat::default()))
    }
}

/// Follows the palette from dim to bright and back.
pub(super) fn follow(
    palette: Res<Palette>,
    paint: Res<Paint>,
    mut materials: ResMut<Assets<Flat>>,
    mut cameras: Query<&mut Camera>,
    mut stale: ResMut<Stale>,
    mut shown: Local<bool>,
) {
    if *shown == palette.is_bright() {
        return;
    }
    let Some(mut material) = materials.get_mut(&paint.0) else { return };
    *shown = palette.is_bright();
    material.colour = palette.light().extend(1.0);
    for mut camera in &mut cameras {
        if matches!(camera.clear_color, ClearColorConfig::Custom(_)) {
            camera.clear_color = ClearColorConfig::Custom(palette.get("surround").into());
        }
    }
    stale.mark();
}
