//! The game in a window.

mod author;
mod bare_x;
mod bay;
mod beginning;
mod board;
#[cfg(test)]
mod board_by_keys;
mod bookmark;
#[cfg(test)]
mod by_keys;
mod captions;
mod card_paint;
mod cards;
#[cfg(test)]
mod checks;
mod choosing;
mod coach;
mod debrief;
mod diagram;
mod display;
mod first_job;
mod hand_tools;
mod in_hand;
#[cfg(test)]
mod legible;
mod looking;
mod loom;
mod memory;
mod naming;
mod overlay;
mod pace;
mod plates;
mod playing;
mod progress;
mod putting;
mod reading;
mod replaced;
pub(crate) mod scenery;
mod settings;
mod sheet;
mod shelf;
mod signs;
pub(crate) mod snap;
mod sound;
mod spots;
mod strip;
mod suspicions;
mod sync;
mod table;
mod theme;
mod undone;
#[cfg(test)]
mod whole_window;
mod worker;

use std::fmt;
use std::sync::Arc;

use bevy::log::LogPlugin;
use bevy::prelude::*;
use bevy::render::RenderPlugin;
use bevy::render::renderer::initialize_renderer;
use bevy::render::settings::{Backends, MemoryHints, RenderCreation, WgpuSettings};
use bevy::tasks::block_on;
use bevy::window::{WindowResizeConstraints, WindowResolution};
use bevy_egui::{EguiPreUpdateSet, EguiPrimaryContextPass};
use probeworthy::bench::Action;
use probeworthy::record;
use probeworthy::scenario::{Loaded, Scenario};
use probeworthy::words::Language;

/// Why the game cannot be played in a window here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum GameError {
    /// No display is named, or the one named does not answer.
    NoDisplay,
    /// No graphics driver can draw, not even in software.
    NoGraphics,
    /// The window closed by an error.
    Ended,
}

impl fmt::Display for GameError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NoDisplay => "no display answers, so no window can be opened; `probeworthy desk` plays the same job in a terminal",
            Self::NoGraphics => {
                "no graphics driver was found that can draw the window (Vulkan or OpenGL, hardware or software); \
                 `probeworthy desk` plays the same job in a terminal"
            }
            Self::Ended => "the window was closed by an error; `probeworthy desk` plays the same job in a terminal",
        })
    }
}

impl std::error::Error for GameError {}

/// What is to be played.
#[derive(Clone, Debug)]
pub(crate) struct Options {
    /// The scenario.
    pub scenario: Arc<Scenario>,
    /// How it was named, for the record; without a name the job is not kept.
    pub scenario_name: Option<String>,
    /// Draws the fault of a new job.
    pub seed: u64,
    /// Begin this job at once; otherwise the board is seen, and before the first job of all it is offered.
    pub fresh: bool,
    /// What is done before the learner's first act.
    pub acts: Vec<Action>,
    /// The window's language, where it is not the one of the settings.
    pub language: Option<Language>,
}

/// Opens the window and plays until it is closed.
pub(crate) fn run(options: Options) -> Result<(), GameError> {
    let app = app("Probeworthy")?;
    // Whoever asks for a job of his own gets that.
    let bay = if options.fresh {
        let mut bay = bay::Bay::new(options.scenario, options.scenario_name, options.seed);
        bay.begin_with(options.acts);
        bay
    } else if first_job::is_due(&settings::Settings::load()) {
        bay::Bay::before_the_first(options.scenario)
    } else {
        bay::Bay::at_the_board(options.scenario)
    };
    open(app, bay, options.language)
}

/// Opens the window beside a scenario's file that is being written.
pub(crate) fn write(loaded: Loaded) -> Result<(), GameError> {
    let mut app = app("Probeworthy")?;
    app.add_systems(Update, author::follow.before(bay::follow_worker));
    open(app, bay::Bay::of_author(author::Author::new(loaded)), None)
}

/// Whether a window can be opened here: asked before an attempt at a paper is begun.
pub(crate) fn can_open() -> Result<(), GameError> {
    if display::answers() { Ok(()) } else { Err(GameError::NoDisplay) }
}

/// Opens the window for a job of an assessment paper, under these terms in words.
pub(crate) fn sit(sitting: Box<record::Sitting>, terms: String) -> Result<(), GameError> {
    open(app("Probeworthy")?, bay::Bay::of_paper(sitting, terms), None)
}

/// Plays until the window is closed. Its title names the program and nothing of the job.
fn open(mut app: App, bay: bay::Bay, language: Option<Language>) -> Result<(), GameError> {
    let mut settings = settings::Settings::load();
    settings.spoken = language.or(settings.spoken);
    app.add_plugins(card_paint::plugin)
        .insert_resource(bay)
        .insert_resource(settings)
        .insert_resource(sound::Sounds::new())
        .add_systems(Update, bare_x::take_over)
        .add_systems(
            Update,
            (bay::follow_worker, settings::apply, sync::set_stage).chain().before(scenery::SceneSet),
        )
        .add_systems(
            PreUpdate,
            pace::drop_repeats.after(EguiPreUpdateSet::ProcessInput).before(EguiPreUpdateSet::BeginPass),
        )
        .add_systems(Update, pace::keep.after(scenery::SceneSet))
        .add_systems(Update, sound::follow.after(bay::follow_worker))
        .add_systems(EguiPrimaryContextPass, overlay::overlay)
        .add_systems(Update, end.after(bay::follow_worker))
        .add_systems(Last, bookmark::keep);
    match app.run() {
        AppExit::Success => Ok(()),
        AppExit::Error(_) => Err(GameError::Ended),
    }
}

/// Closes the window when the sheet on it says so.
fn end(bay: Res<bay::Bay>, mut exits: MessageWriter<AppExit>) {
    if bay.ends {
        exits.write(AppExit::Success);
    }
}

/// The app with its window and the scene, or why there can be none.
pub(crate) fn app(title: &str) -> Result<App, GameError> {
    if !display::answers() {
        return Err(GameError::NoDisplay);
    }
    memory::share();
    if !graphics_answer() {
        return Err(GameError::NoGraphics);
    }
    let window = Window {
        title: title.to_owned(),
        resolution: WindowResolution::new(1280, 720),
        resize_constraints: WindowResizeConstraints { min_width: 1024.0, min_height: 640.0, ..default() },
        ..default()
    };
    let mut app = App::new();
    app.add_plugins(
        DefaultPlugins
            .set(WindowPlugin { primary_window: Some(window), ..default() })
            .set(RenderPlugin { render_creation: small(), ..default() })
            .set(quiet_log()),
    )
    .insert_resource(pace::at_first())
    .add_plugins(scenery::plugin);
    Ok(app)
}

/// What is worth a line in the log.
fn quiet_log() -> LogPlugin {
    LogPlugin { filter: "warn,wgpu=error,wgpu_core=error,wgpu_hal=off,naga=error".to_owned(), ..default() }
}

/// How the renderer is to be made: it asks for memory in small pieces, as it needs little.
fn small() -> RenderCreation {
    WgpuSettings { memory_hints: MemoryHints::MemoryUsage, ..default() }.into()
}

/// Whether a graphics adapter gives a device. The engine panics when there is none, and in a task of its own,
/// where nobody could catch it; so it is asked beforehand, on a thread whose panic says nothing.
fn graphics_answer() -> bool {
    let loud = std::panic::take_hook();
    std::panic::set_hook(Box::new(|_| {}));
    let asked = std::thread::spawn(|| {
        let settings = WgpuSettings::default();
        let backends = settings.backends.unwrap_or(Backends::all());
        drop(block_on(initialize_renderer(backends, None, &settings)));
    });
    let answered = asked.join().is_ok();
    std::panic::set_hook(loud);
    answered
}
