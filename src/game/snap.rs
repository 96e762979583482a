//! Pictures of any screen and the time that its frames take, without a window and without a display.
//!
//! The window is there as data only: nothing opens it. What it would show is drawn into an image.

use std::path::PathBuf;
use std::time::{Duration, Instant};

use bevy::app::ScheduleRunnerPlugin;
use bevy::camera::RenderTarget;
use bevy::prelude::*;
use bevy::render::RenderPlugin;
use bevy::render::render_resource::TextureFormat;
use bevy::render::view::window::screenshot::{Screenshot, ScreenshotCaptured, save_to_disk};
use bevy::winit::WinitPlugin;
use bevy_egui::EguiPrimaryContextPass;
use probeworthy::vehicle::{ConnectorId, StationId};
use probeworthy::words::Language;

use super::bay::{Bay, Place};
use super::scenery::{self, Gaze, SceneCamera};
use super::settings::{self, Light, Settings};
use super::shelf::Leaf;
use super::{GameError, Options, bay, card_paint, graphics_answer, overlay, quiet_log, small, sound, sync};

/// What can be shown, by name.
const SCREENS: [(&str, Screen); 30] = [
    ("bay", Screen::Bay),
    ("near", Screen::Near),
    ("customer", Screen::Card(Place::Customer)),
    ("findings", Screen::Card(Place::Findings)),
    ("diagram", Screen::Card(Place::Diagram)),
    ("suspects", Screen::Card(Place::Suspicions)),
    ("coach", Screen::Card(Place::Coach)),
    ("naming", Screen::Card(Place::Naming)),
    ("writing", Screen::Card(Place::Writing)),
    ("hand-in", Screen::Card(Place::HandingIn)),
    ("keys", Screen::Card(Place::Help)),
    ("jobs", Screen::Card(Place::Shelf)),
    ("settings", Screen::Card(Place::Settings)),
    ("everything", Screen::Card(Place::Everything)),
    ("lid", Screen::Card(Place::Lid)),
    ("cabin", Screen::Card(Place::Cabin)),
    ("bonnet", Screen::Card(Place::Front)),
    ("key", Screen::Card(Place::Key)),
    ("body", Screen::Card(Place::Body)),
    ("meter", Screen::Card(Place::Meter)),
    ("clamp", Screen::Card(Place::Clamp)),
    ("recorder", Screen::Card(Place::Recorder)),
    ("fuses", Screen::Card(Place::FuseTray)),
    ("connector", Screen::Connector),
    ("loom", Screen::Station),
    ("marks", Screen::Marks),
    ("steps", Screen::Steps),
    // They leave the job, and come last.
    ("board", Screen::Board(Leaf::Next)),
    ("all-jobs", Screen::Board(Leaf::Jobs)),
    ("records", Screen::Board(Leaf::Records)),
];

/// A screen.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Screen {
    /// The bay with no card open.
    Bay,
    /// The middle of the bay from nearer.
    Near,
    /// A card.
    Card(Place),
    /// The card of the vehicle's first connector.
    Connector,
    /// The card of the loom's first station.
    Station,
    /// The marks, once the script has handed the job in.
    Marks,
    /// The job step by step.
    Steps,
    /// A leaf of the board, with no job.
    Board(Leaf),
}

impl Screen {
    fn place(self) -> Option<Place> {
        match self {
            Self::Card(place) => Some(place),
            Self::Connector => Some(Place::Connector(ConnectorId::at(0))),
            Self::Station => Some(Place::Station(StationId::at(0))),
            Self::Board(_) => Some(Place::Shelf),
            Self::Bay | Self::Near | Self::Marks | Self::Steps => None,
        }
    }

    /// It shows what comes after the hand-in.
    fn is_marked(self) -> bool {
        matches!(self, Self::Marks | Self::Steps)
    }
}

/// The names of all screens.
pub(crate) fn screens() -> impl Iterator<Item = &'static str> {
    SCREENS.iter().map(|(name, _)| *name)
}

fn named(name: &str) -> Option<(&'static str, Screen)> {
    SCREENS.iter().find(|(known, _)| *known == name).copied()
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

/// What is to be done once a screen stands still.
#[derive(Resource)]
enum Task {
    /// A picture into this file.
    Picture(PathBuf),
    /// Frame times of all screens that need no hand-in.
    Times,
}

/// The image that is drawn into.
#[derive(Resource)]
struct Canvas(Handle<Image>);

/// The screens to go through, and what was measured.
#[derive(Resource)]
struct Walk {
    screens: Vec<(&'static str, Screen)>,
    at: usize,
    frames: u32,
    last: Option<Instant>,
    times: Vec<Duration>,
    /// When the program was asked, and how long after that the first job stood there to be worked.
    begun: Instant,
    ready: Option<Duration>,
}

/// Frames until a screen has been loaded, drawn and has come to rest.
const SETTLED: u32 = 90;
/// Frames of each screen that are timed, after as many that are not.
const TIMED: u32 = 60;

/// Saves a picture of a screen. False where there is no screen of that name.
pub(crate) fn picture(options: Options, name: &str, look: Look, out: PathBuf) -> Result<bool, GameError> {
    let Some(named) = named(name) else { return Ok(false) };
    walk(options, vec![named], look, Task::Picture(out)).map(|()| true)
}

/// Prints how long the frames of every screen take.
pub(crate) fn times(options: Options, look: Look) -> Result<(), GameError> {
    let all = SCREENS.into_iter().filter(|(_, screen)| !screen.is_marked()).collect();
    walk(options, all, look, Task::Times)
}

fn walk(
    options: Options,
    screens: Vec<(&'static str, Screen)>,
    look: Look,
    task: Task,
) -> Result<(), GameError> {
    let begun = now();
    if !graphics_answer() {
        return Err(GameError::NoGraphics);
    }
    let window = Window { resolution: (look.size.x, look.size.y).into(), ..default() };
    let light = if look.bright { Light::Bright } else { Light::Dim };
    let settings = Settings {
        sound: false,
        reduced_motion: true,
        text_percent: look.text_percent,
        light,
        spoken: Some(look.language),
        ..Settings::default()
    };
    let mut bay = Bay::new(options.scenario, options.scenario_name, options.seed);
    bay.begin_with(options.acts);
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
    .insert_resource(sound::Sounds::new())
    .insert_resource(task)
    .insert_resource(Walk { screens, at: 0, frames: 0, last: None, times: Vec::new(), begun, ready: None })
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
        (bay::follow_worker, settings::apply, go_on, sync::set_stage).chain().before(scenery::SceneSet),
    )
    .add_systems(EguiPrimaryContextPass, overlay::overlay);
    match app.run() {
        AppExit::Success => Ok(()),
        AppExit::Error(_) => Err(GameError::Ended),
    }
}

/// Holds the screen, and takes its picture or the time.
fn go_on(
    mut commands: Commands,
    task: Res<Task>,
    canvas: Option<Res<Canvas>>,
    mut walk: ResMut<Walk>,
    mut bay: ResMut<Bay>,
    mut gaze: ResMut<Gaze>,
    mut exit: MessageWriter<AppExit>,
) {
    let Some(canvas) = canvas else { return };
    let Some(&(name, screen)) = walk.screens.get(walk.at) else {
        if matches!(*task, Task::Times) {
            print_rest(walk.ready);
            exit.write(AppExit::Success);
        }
        return;
    };
    let rests = bay.is_at_rest() || bay.is_at_the_board();
    if !rests || (screen.is_marked() && bay.marks.is_none()) {
        return;
    }
    if let Screen::Board(leaf) = screen {
        if bay.job.is_some() {
            bay.leave();
        }
        bay.shelf.leaf = leaf;
    }
    bay.open = screen.place();
    bay.steps_shown = screen == Screen::Steps;
    let mut wanted = Gaze::default();
    if screen == Screen::Near {
        wanted.nearer_to(scenery::DESIGN / 2.0, Gaze::STEP * Gaze::STEP);
    }
    gaze.set_if_neq(wanted);
    walk.frames += 1;
    match &*task {
        Task::Picture(path) if walk.frames == SETTLED => {
            let image = canvas.0.clone();
            commands.spawn(Screenshot::image(image)).observe(save_to_disk(path.clone())).observe(
                |_: On<ScreenshotCaptured>, mut exit: MessageWriter<AppExit>| {
                    exit.write(AppExit::Success);
                },
            );
            walk.at += 1;
        }
        Task::Picture(_) => {}
        Task::Times => {
            let now = now();
            if walk.ready.is_none() {
                walk.ready = Some(now - walk.begun);
                print_row("screen", "median ms", "99 % ms");
            }
            let last = walk.last.replace(now);
            if walk.frames > TIMED
                && let Some(last) = last
            {
                walk.times.push(now - last);
            }
            if walk.frames == 2 * TIMED {
                let mut times = std::mem::take(&mut walk.times);
                times.sort_unstable();
                let median = times[times.len() / 2];
                let slowest = times[(times.len() * 99 / 100).min(times.len() - 1)];
                let milliseconds = |time: Duration| format!("{:.1}", time.as_secs_f64() * 1e3);
                print_row(name, &milliseconds(median), &milliseconds(slowest));
                walk.at += 1;
                walk.frames = 0;
                walk.last = None;
            }
        }
    }
}

#[expect(clippy::disallowed_methods, reason = "frames are timed; nothing of the job hangs on it")]
fn now() -> Instant {
    Instant::now()
}

#[expect(clippy::print_stdout, reason = "this is what the command is for")]
fn print_row(name: &str, median: &str, slowest: &str) {
    println!("{name:<12} {median:>10} {slowest:>10}");
}

/// What was measured beside the frames.
#[expect(clippy::print_stdout, reason = "this is what the command is for")]
fn print_rest(ready: Option<Duration>) {
    if let Some(ready) = ready {
        println!("start to first job: {:.2} s", ready.as_secs_f64());
    }
    if let Some(most) = most_memory_megabytes() {
        println!("memory at most: {most:.0} MB");
    }
}

/// The largest resident memory of this program so far; Linux tells it in kilobytes (proc(5), `VmHWM`: published).
fn most_memory_megabytes() -> Option<f64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    line.trim().strip_suffix("kB")?.trim().parse::<f64>().ok().map(|kilobytes| kilobytes / 1024.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_screen_has_one_name() {
        for (at, (name, place)) in SCREENS.iter().enumerate() {
            assert_eq!(named(name), Some((*name, *place)), "{name} is there twice");
            assert!(SCREENS[at + 1..].iter().all(|(_, other)| other != place), "{place:?} is there twice");
        }
    }
}
