//! How the scene's design coordinates lie in the window.

use bevy::camera::ScalingMode;
use bevy::prelude::*;
use bevy::window::PrimaryWindow;

use super::palette::Palette;

/// Size of the scene in design units. All anchors, leads and drawings use these, with y running down.
pub(crate) const DESIGN: Vec2 = Vec2::new(1920.0, 1080.0);

/// How the scene lies in the window, kept up to date as the window is resized.
///
/// The scene is scaled alike in both directions and centred; a window of another shape shows more wall
/// and floor at its sides.
#[derive(Resource, Clone, Copy, Debug, PartialEq)]
pub(crate) struct View {
    window: Vec2,
    scale: f32,
}

impl Default for View {
    fn default() -> Self {
        Self::of_window(DESIGN * 2.0 / 3.0)
    }
}

impl View {
    fn of_window(window: Vec2) -> Self {
        Self { window, scale: (window.x / DESIGN.x).min(window.y / DESIGN.y).max(0.01) }
    }

    /// A design point in logical pixels of the window, y down from its upper left corner.
    pub(crate) fn to_window(self, design: Vec2) -> Vec2 {
        (design - DESIGN / 2.0) * self.scale + self.window / 2.0
    }

    /// A point of the window, in logical pixels, in design units.
    pub(crate) fn to_design(self, window: Vec2) -> Vec2 {
        (window - self.window / 2.0) / self.scale + DESIGN / 2.0
    }

    /// Logical pixels a design unit.
    pub(crate) fn scale(self) -> f32 {
        self.scale
    }
}

/// The camera that draws the scene.
#[derive(Component)]
pub(crate) struct SceneCamera;

pub(super) fn spawn_camera(mut commands: Commands, palette: Res<Palette>) {
    commands.spawn((
        SceneCamera,
        Camera2d,
        Camera { clear_color: ClearColorConfig::Custom(palette.get("surround").into()), ..default() },
        Projection::Orthographic(OrthographicProjection {
            scaling_mode: ScalingMode::AutoMin { min_width: DESIGN.x, min_height: DESIGN.y },
            ..OrthographicProjection::default_2d()
        }),
        // Edges carry their own softness, so the cost of multisampling is saved.
        Msaa::Off,
    ));
}

pub(super) fn follow_window(window: Query<&Window, With<PrimaryWindow>>, mut view: ResMut<View>) {
    if let Ok(window) = window.single() {
        view.set_if_neq(View::of_window(window.size()));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_point_goes_to_the_window_and_back_in_any_shape_of_window() {
        for window in [Vec2::new(1280.0, 720.0), Vec2::new(1024.0, 768.0), Vec2::new(2560.0, 1080.0)] {
            let view = View::of_window(window);
            let there = view.to_window(Vec2::new(300.0, 900.0));
            assert!(view.to_design(there).distance(Vec2::new(300.0, 900.0)) < 0.01);
            assert_eq!(view.to_window(DESIGN / 2.0), window / 2.0);
        }
    }
}
