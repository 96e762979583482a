//! How the scene's design coordinates lie in the window.

use bevy::camera::ScalingMode;
use bevy::prelude::*;
use bevy::window::{PrimaryWindow, RequestRedraw};

use super::backdrop::{self, Backdrop};
use super::gaze::Gaze;
use super::output::BLENDING;
use super::palette::Palette;
use super::stage::Stage;

/// Size of the scene in design units. All anchors, leads and drawings use these, with y running down.
pub(crate) const DESIGN: Vec2 = Vec2::new(1920.0, 1080.0);

/// How the scene lies in the window, kept up to date as the window is resized and the eye goes nearer.
///
/// The scene is scaled alike in both directions. From afar it is centred; a window of another shape shows
/// more wall and floor at its sides.
#[derive(Resource, Clone, Copy, Debug, PartialEq)]
pub(crate) struct View {
    window: Vec2,
    scale: f32,
    gaze: Gaze,
}

impl Default for View {
    fn default() -> Self {
        Self::of_window(DESIGN * 2.0 / 3.0)
    }
}

impl View {
    fn of_window(window: Vec2) -> Self {
        let scale = (window.x / DESIGN.x).min(window.y / DESIGN.y).max(0.01);
        Self { window, scale, gaze: Gaze::default() }
    }

    /// A design point in logical pixels of the window, y down from its upper left corner.
    pub(crate) fn to_window(self, design: Vec2) -> Vec2 {
        (design - self.gaze.centre) * self.scale * self.gaze.nearness + self.window / 2.0
    }

    /// A point of the window, in logical pixels, in design units.
    pub(crate) fn to_design(self, window: Vec2) -> Vec2 {
        (window - self.window / 2.0) / (self.scale * self.gaze.nearness) + self.gaze.centre
    }

    /// Logical pixels a design unit while the whole bay is seen: what is laid over the scene follows this,
    /// and does not grow as the eye goes nearer.
    pub(crate) fn scale(self) -> f32 {
        self.scale
    }

    /// Whether the whole bay is seen.
    pub(crate) fn is_far(self) -> bool {
        self.gaze.is_far()
    }

    /// Width and height of what the window shows, in design units.
    pub(super) fn seen(self) -> Vec2 {
        self.window / (self.scale * self.gaze.nearness)
    }

    /// Where the eye is now.
    pub(super) fn gaze(self) -> Gaze {
        self.gaze
    }

    /// A window of this size with the eye there, for tests.
    #[cfg(test)]
    pub(crate) fn looking(window: Vec2, gaze: Gaze) -> Self {
        Self::of_window(window).with_gaze(gaze)
    }

    /// The same window with the eye elsewhere.
    pub(super) fn with_gaze(self, gaze: Gaze) -> Self {
        Self { gaze, ..self }
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
        BLENDING,
        Backdrop::default(),
        backdrop::usages(),
        // Edges carry their own softness, so the cost of multisampling is saved.
        Msaa::Off,
    ));
}

/// Takes the window's size, and lets the eye go where it is wanted.
pub(super) fn follow(
    time: Res<Time>,
    window: Query<&Window, With<PrimaryWindow>>,
    wanted: Res<Gaze>,
    stage: Res<Stage>,
    mut view: ResMut<View>,
    mut cameras: Query<(&mut Transform, &mut Projection), With<SceneCamera>>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    let Ok(window) = window.single() else { return };
    let now = view.gaze();
    let gaze = if stage.reduced_motion { *wanted } else { now.toward(*wanted, time.delta_secs()) };
    view.set_if_neq(View::of_window(window.size()).with_gaze(gaze));
    if gaze != *wanted {
        redraw.write(RequestRedraw);
    }
    for (mut transform, mut projection) in &mut cameras {
        if gaze != now || projection.is_added() {
            gaze.hold(&mut transform, &mut projection);
        }
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
            let near = view.with_gaze(Gaze { centre: Vec2::new(400.0, 700.0), nearness: 3.0 });
            assert_eq!(near.to_window(Vec2::new(400.0, 700.0)), window / 2.0);
            let there = near.to_window(Vec2::new(300.0, 900.0));
            assert!(near.to_design(there).distance(Vec2::new(300.0, 900.0)) < 0.01);
            assert!((near.seen() * 3.0).distance(view.seen()) < 0.01);
        }
    }
}
