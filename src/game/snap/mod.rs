//! Pictures of any screen and the time that its frames take, without a window and without a display.
//!
//! The window is there as data only: nothing opens it. What it would show is drawn into an image.

mod moving;
mod screens;
mod staging;
mod taking;
mod timing;

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::{Sender, channel};
use std::time::Duration;

use bevy::app::ScheduleRunnerPlugin;
use bevy::camera::RenderTarget;
use bevy::prelude::*;
use bevy::render::RenderPlugin;
use bevy::render::render_resource::TextureFormat;
use bevy::winit::WinitPlugin;
use bevy_egui::EguiPrimaryContextPass;
use probeworthy::bench::Action;
use probeworthy::scenario::{Loaded, Scenario};
use probeworthy::words::Language;

use self::moving::Motion;
use self::screens::{SCREENS, Screen, named};
use self::staging::{Progress, Staging};
use self::timing::Times;
use super::bay::Bay;
use super::scenery::{self, Gaze, SceneCamera, Waits};
use super::settings::{self, Light, Settings};
use super::{
    GameError, author, bay, card_paint, graphics_answer, memory, overlay, quiet_log, replaced, small, sync,
};

/// The names of all screens.
pub(crate) fn screens() -> impl Iterator<Item = &'static str> {
    SCREENS.iter().map(|(name, _)| *name)
}

/// The names of all that is timed: screens, and what moves on one.
pub(crate) fn timed() -> impl Iterator<Item = &'static str> {
    screens().chain(Motion::ALL.into_iter().map(Motion::name))
}

/// What is shown.
#[derive(Debug)]
pub(crate) struct Source {
    /// The scenario.
    pub(crate) scenario: Arc<Scenario>,
    /// Its file.
    pub(crate) loaded: Loaded,
    /// Draws the fault.
    pub(crate) seed: u64,
    /// What is done first. A hand-in among it is done only for what comes after one.
    pub(crate) acts: Vec<Action>,
}

/// How it is shown.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Look {
    /// Width and height in pixels.
    pub(crate) size: UVec2,
    /// Size of text in percent.
    pub(crate) text_percent: u16,
    /// The bright room.
    pub(crate) bright: bool,
    /// The language.
    pub(crate) language: Language,
}

/// Why something is not shown.
#[derive(Debug)]
pub(crate) enum NotShown {
    /// There is no screen of this name.
    NoSuchScreen,
    /// The vehicle has nothing that this screen could show.
    NoSuchThing,
    /// The picture cannot be written, for this reason.
    NotWritten(String),
    /// The job does not begin, or an act cannot be done, for this reason.
    Job(String),
    /// The screen did not come to rest within so many frames.
    NeverStill(u32),
    /// Nothing can be drawn here.
    Game(GameError),
}

/// Frames until a screen has been loaded, drawn and has come to rest.
const SETTLED: u32 = 90;
/// Frames in which a screen has to come about: at a hundredth of a second each, which is the least, this is some minutes. The
/// marks of a large pool take seconds; what takes longer than this never ends.
const MOST_FRAMES: u32 = 24_000;
/// A frame takes so long at least while something is worked out behind it, and before a picture: motion is seen to its end on a fast
/// machine too, and on a slow one the worker gets its share.
const PAUSE: Duration = Duration::from_millis(10);

/// What is to be done once a screen stands still.
#[derive(Resource)]
enum Task {
    /// A picture into this file.
    Picture(PathBuf),
    /// Frame times.
    Times(Box<Times>),
}

/// The image that is drawn into.
#[derive(Resource)]
struct Canvas(Handle<Image>);

/// A screen, and what moves on it.
#[derive(Clone, Copy, Debug)]
struct Shot {
    name: &'static str,
    screen: Screen,
    moves: Option<Motion>,
}

/// The screens to go through.
#[derive(Resource)]
struct Walk {
    shots: Vec<Shot>,
    at: usize,
    /// Frames since the screen stands, and those that it took to.
    frames: u32,
    waited: u32,
    staging: Staging,
    /// Where it is told why something is not shown.
    told: Sender<NotShown>,
}

impl Walk {
    fn next(&mut self) {
        self.at += 1;
        self.frames = 0;
        self.waited = 0;
        self.staging.next();
    }
}

/// Saves a picture of a screen. Nothing is left of a file that could not be written whole.
pub(crate) fn picture(source: Source, name: &str, look: Look, out: &Path) -> Result<(), NotShown> {
    let (name, screen) = named(name).ok_or(NotShown::NoSuchScreen)?;
    if !screen.is_of(&source.scenario.vehicle) {
        return Err(NotShown::NoSuchThing);
    }
    // Found out before the picture is made.
    replaced::can_write(out).map_err(|why| NotShown::NotWritten(why.to_string()))?;
    walk(source, vec![Shot { name, screen, moves: None }], look, Task::Picture(out.to_owned()))
}

/// Prints how long the frames of these screens take, or of every screen and of those on which something moves.
pub(crate) fn times(source: Source, look: Look, of: &[String]) -> Result<(), NotShown> {
    let vehicle = &source.scenario.vehicle;
    let still = SCREENS.into_iter().filter(|(_, screen)| screen.is_of(vehicle));
    let still = still.map(|(name, screen)| Shot { name, screen, moves: None });
    let moving = Motion::ALL.into_iter().map(|moves| {
        let screen = if moves.is_behind_a_card() { Screen::Connector } else { Screen::Bay };
        Shot { name: moves.name(), screen, moves: Some(moves) }
    });
    // What moves does so in a job that is being worked on.
    let mut shots: Vec<Shot> = still.chain(moving.filter(|shot| shot.screen.is_of(vehicle))).collect();
    shots.retain(|shot| of.is_empty() || of.iter().any(|name| name == shot.name));
    if shots.is_empty() {
        return Err(NotShown::NoSuchThing);
    }
    shots.sort_by_key(|shot| shot.screen.stand());
    walk(source, shots, look, Task::Times(Box::new(Times::begin())))
}

fn walk(source: Source, shots: Vec<Shot>, look: Look, task: Task) -> Result<(), NotShown> {
    if !graphics_answer() {
        return Err(NotShown::Game(GameError::NoGraphics));
    }
    let Some(first) = shots.first() else { return Ok(()) };
    let window = Window { resolution: (look.size.x, look.size.y).into(), ..default() };
    let light = if look.bright { Light::Bright } else { Light::Dim };
    // A picture is of what has come to rest. What is timed moves as it does for most.
    let reduced_motion = matches!(task, Task::Picture(_));
    let (text_percent, spoken) = (look.text_percent, Some(look.language));
    let settings = Settings { reduced_motion, text_percent, light, spoken, ..Settings::default() };
    let mut staging = Staging::new(source);
    let bay = staging.bay(first.screen)?;
    let (told, heard) = channel();
    memory::share();
    let mut app = App::new();
    app.add_plugins(
        DefaultPlugins
            .build()
            .disable::<WinitPlugin>()
            .set(WindowPlugin { primary_window: Some(window), ..default() })
            .set(RenderPlugin { render_creation: small(), ..default() })
            .set(quiet_log()),
    )
    .add_plugins(ScheduleRunnerPlugin::run_loop(Duration::ZERO))
    .add_plugins(scenery::plugin)
    .add_plugins(card_paint::plugin)
    .insert_resource(bay)
    .insert_resource(settings)
    .insert_resource(task)
    .insert_resource(Walk { shots, at: 0, frames: 0, waited: 0, staging, told })
    .add_systems(
        PostStartup,
        move |mut commands: Commands,
              mut images: ResMut<Assets<Image>>,
              cameras: Query<Entity, With<SceneCamera>>| {
            let image = images.add(scenery::canvas(look.size, TextureFormat::Rgba8UnormSrgb));
            for camera in &cameras {
                commands.entity(camera).insert(RenderTarget::Image(image.clone().into()));
            }
            commands.insert_resource(Canvas(image));
        },
    )
    .add_systems(
        Update,
        (author::follow, bay::follow_worker, settings::apply, go_on, sync::set_stage, moving::move_things)
            .chain()
            .before(scenery::SceneSet),
    )
    .add_systems(EguiPrimaryContextPass, overlay::overlay);
    match (app.run(), heard.try_recv()) {
        (AppExit::Success, _) => Ok(()),
        (AppExit::Error(_), Ok(why)) => Err(why),
        (AppExit::Error(_), Err(_)) => Err(NotShown::Game(GameError::Ended)),
    }
}

/// Goes on with the walk by a frame, and ends it with the last screen, or where it cannot go on.
fn go_on(
    mut commands: Commands,
    mut task: ResMut<Task>,
    (canvas, renderer): (Option<Res<Canvas>>, Res<Waits>),
    mut walk: ResMut<Walk>,
    mut bay: ResMut<Bay>,
    mut gaze: ResMut<Gaze>,
    mut exit: MessageWriter<AppExit>,
) {
    let Some(canvas) = canvas else { return };
    let Some(&shot) = walk.shots.get(walk.at) else {
        if let Task::Times(times) = &*task {
            times.print_rest();
        }
        exit.write(AppExit::Success);
        return;
    };
    let mut end = |walk: &Walk, why: NotShown| {
        // Whoever listens for it is there until the app ends.
        let _ = walk.told.send(why);
        exit.write(AppExit::error());
    };
    let brought = match walk.staging.bring(&mut bay, shot.screen) {
        Ok(brought) => brought,
        Err(why) => return end(&walk, why),
    };
    // Until all shaders have been compiled something is blank.
    if brought == Progress::Waits || renderer.waits() {
        walk.frames = 0;
        walk.waited += 1;
        if walk.waited == MOST_FRAMES {
            return end(&walk, NotShown::NeverStill(MOST_FRAMES));
        }
        std::thread::sleep(PAUSE);
        return;
    }
    let mut wanted = Gaze::default();
    if shot.screen == Screen::Near {
        wanted.nearer_to(scenery::DESIGN / 2.0, Gaze::STEP * Gaze::STEP);
    }
    gaze.set_if_neq(wanted);
    walk.frames += 1;
    match &mut *task {
        Task::Picture(path) => {
            if walk.frames == SETTLED {
                taking::take(&mut commands, canvas.0.clone(), path.clone(), walk.told.clone());
            } else if walk.frames == MOST_FRAMES {
                return end(&walk, NotShown::NeverStill(MOST_FRAMES));
            }
            std::thread::sleep(PAUSE);
        }
        Task::Times(times) => {
            if times.take(shot.name, walk.frames) {
                walk.next();
            }
        }
    }
}
