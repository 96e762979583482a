//! In the bright room everything drawn is brighter; in the dim one it is as its drawings have it.

use bevy::prelude::*;

use super::backdrop::Stale;
use super::flat::Flat;
use super::hinge::Face;
use super::palette::Palette;

/// The paint of everything that gives no light of its own.
#[derive(Resource)]
pub(super) struct Paint {
    /// Of what stays where it is.
    pub(super) room: Handle<Flat>,
    /// Of what lies on the lid.
    outside: Handle<Flat>,
    inside: Handle<Flat>,
    /// Of what is on one door and reaches over to the other.
    over: Handle<Flat>,
}

impl Paint {
    /// Of what lies on this face of the lid, and of what reaches over from one door.
    pub(super) fn on(&self, face: Face, reaches_over: bool) -> Handle<Flat> {
        match (reaches_over, face) {
            (true, _) => self.over.clone(),
            (false, Face::Outside) => self.outside.clone(),
            (false, Face::Inside) => self.inside.clone(),
        }
    }
}

impl FromWorld for Paint {
    fn from_world(world: &mut World) -> Self {
        let mut materials = world.resource_mut::<Assets<Flat>>();
        let [room, outside, inside, over] = std::array::from_fn(|_| materials.add(Flat::default()));
        Self { room, outside, inside, over }
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
    *shown = palette.is_bright();
    for one in [&paint.room, &paint.outside, &paint.inside, &paint.over] {
        if let Some(mut material) = materials.get_mut(one) {
            material.colour = palette.light().extend(1.0);
        }
    }
    for mut camera in &mut cameras {
        if matches!(camera.clear_color, ClearColorConfig::Custom(_)) {
            camera.clear_color = ClearColorConfig::Custom(palette.get("surround").into());
        }
    }
    stale.mark();
}
