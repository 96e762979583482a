//! The commands that show screens without a window.

use std::path::PathBuf;
use std::process::ExitCode;

use clap::Args;
use probeworthy::scenario::default_scenario;
use probeworthy::words::Language;

use crate::command_line::Failure;

/// Least and greatest width and height of a picture, in pixels: a window is no smaller, and a graphics driver takes no more.
#[cfg(feature = "game")]
const PIXELS: std::ops::RangeInclusive<u32> = 320..=8192;

/// What is shown, and how.
#[derive(Args)]
pub(crate) struct Shown {
    /// A scenario's name, or its file.
    #[arg(long, value_name = "SCENARIO", default_value = default_scenario())]
    scenario: String,
    /// Draws the fault: the same number, the same job.
    #[arg(long, value_name = "N", default_value_t = 1, allow_negative_numbers = true)]
    seed: u64,
    /// Begin with the acts of this script.
    #[arg(long, value_name = "FILE")]
    script: Option<PathBuf>,
    /// Width and height in pixels.
    #[arg(long, value_name = "WxH", default_value = "1280x720")]
    size: String,
    /// Size of text in percent.
    #[arg(long, value_name = "PERCENT", default_value_t = 100, value_parser = text_percent)]
    text: u16,
    /// Show the bright room.
    #[arg(long)]
    bright: bool,
    /// The language.
    #[arg(long, value_name = "TAG", default_value = "en", value_parser = language)]
    language: Language,
}

/// A size of text that the window's settings have too.
fn text_percent(text: &str) -> Result<u16, String> {
    let within = text.parse().ok().filter(|percent: &u16| (100..=200).contains(percent));
    within.ok_or_else(|| "write a whole number from 100 to 200".to_owned())
}

/// A language by its tag.
pub(crate) fn language(tag: &str) -> Result<Language, String> {
    Language::of_tag(tag).ok_or_else(|| {
        let tags: Vec<&str> = Language::ALL.iter().map(|one| one.tag()).collect();
        format!("the languages are {}", tags.join(", "))
    })
}

#[derive(Args)]
pub(crate) struct Snap {
    /// The screen: `bay` is the main one; any other word lists them.
    screen: String,
    #[command(flatten)]
    shown: Shown,
    /// The picture, a PNG file.
    #[arg(long, value_name = "FILE.png")]
    out: PathBuf,
}

#[derive(Args)]
pub(crate) struct Frames {
    /// The screens that are timed, in their own order; without any, all: a word that is none lists them.
    screens: Vec<String>,
    #[command(flatten)]
    shown: Shown,
}

#[cfg(not(feature = "game"))]
fn no_window(shown: &Shown) -> Failure {
    let _ =
        (&shown.scenario, shown.seed, &shown.script, &shown.size, shown.text, shown.bright, shown.language);
    Failure::new("this program was built without its window, and has no screens to show".to_owned())
}

#[cfg(not(feature = "game"))]
pub(crate) fn snap(arguments: &Snap) -> Result<ExitCode, Failure> {
    let _ = (&arguments.screen, &arguments.out);
    Err(no_window(&arguments.shown))
}

#[cfg(not(feature = "game"))]
pub(crate) fn frames(arguments: &Frames) -> Result<ExitCode, Failure> {
    let _ = &arguments.screens;
    Err(no_window(&arguments.shown))
}

#[cfg(feature = "game")]
pub(crate) fn snap(arguments: &Snap) -> Result<ExitCode, Failure> {
    use crate::game::snap;

    let known: Vec<&str> = snap::screens().collect();
    is_known(&arguments.screen, &known)?;
    if arguments.out.extension().is_none_or(|ending| !ending.eq_ignore_ascii_case("png")) {
        return Err(Failure::new(format!(
            "{}: a picture is a PNG file\nhint: let its name end in .png",
            arguments.out.display()
        )));
    }
    let (source, look) = prepared(&arguments.shown)?;
    snap::picture(source, &arguments.screen, look, &arguments.out)
        .map_err(|why| not_shown(&why, &arguments.shown, &arguments.screen, Some(&arguments.out)))?;
    Ok(ExitCode::SUCCESS)
}

#[cfg(feature = "game")]
pub(crate) fn frames(arguments: &Frames) -> Result<ExitCode, Failure> {
    use crate::game::snap;

    let known: Vec<&str> = snap::timed().collect();
    for screen in &arguments.screens {
        is_known(screen, &known)?;
    }
    let (source, look) = prepared(&arguments.shown)?;
    let asked = arguments.screens.first().map_or("frames", String::as_str);
    snap::times(source, look, &arguments.screens)
        .map_err(|why| not_shown(&why, &arguments.shown, asked, None))?;
    Ok(ExitCode::SUCCESS)
}

#[cfg(feature = "game")]
fn is_known(screen: &str, known: &[&str]) -> Result<(), Failure> {
    if known.contains(&screen) {
        return Ok(());
    }
    Err(Failure::new(format!("there is no screen \"{screen}\"\nhint: the screens are {}", known.join(", "))))
}

/// What is said of a screen that is not shown.
#[cfg(feature = "game")]
fn not_shown(
    why: &crate::game::snap::NotShown,
    shown: &Shown,
    screen: &str,
    out: Option<&std::path::Path>,
) -> Failure {
    use crate::game::snap::NotShown;

    let out = out.unwrap_or_else(|| std::path::Path::new(screen)).display();
    let scenario = &shown.scenario;
    Failure::new(match why {
        NotShown::NoSuchScreen => format!("there is no screen \"{screen}\""),
        NotShown::NoSuchThing => format!(
            "{screen}: the vehicle of {scenario} has none\nhint: name a scenario of another vehicle with --scenario"
        ),
        NotShown::NotWritten(why) => format!(
            "{out}: the picture is not written: {why}\nhint: name a file in a folder that is there, that can be written, and that has room"
        ),
        NotShown::Job(why) => format!(
            "{scenario}: the job cannot be shown: {why}\nhint: try the scenario with `probeworthy check`, or leave out what the script does"
        ),
        NotShown::NeverStill(frames) => format!(
            "{screen}: it has not come to rest within {frames} frames\nhint: try again while less is going on here, or with a smaller pool"
        ),
        NotShown::Game(why) => why.to_string(),
    })
}

#[cfg(feature = "game")]
fn prepared(shown: &Shown) -> Result<(crate::game::snap::Source, crate::game::snap::Look), Failure> {
    use std::sync::Arc;

    use probeworthy::desk::Request;
    use probeworthy::scenario;

    let loaded = scenario::load(&shown.scenario)?;
    // A picture is of what the file says: scripts and seeds of pictures go by its names.
    let scenario = loaded.scenario.all_fixed();
    let requests = match &shown.script {
        Some(path) => crate::command_line::script(path, &scenario.vehicle)?,
        None => Vec::new(),
    };
    let acts = requests.into_iter().filter_map(|request| match request {
        Request::Act(action) => Some(action),
        _ => None,
    });
    let side = |text: &str| text.parse::<u32>().ok().filter(|side| PIXELS.contains(side));
    let size = shown.size.split_once('x').and_then(|(width, height)| Some((side(width)?, side(height)?)));
    let Some((width, height)) = size else {
        return Err(Failure::new(format!(
            "\"{}\" is no size of a picture\nhint: write width and height in pixels, each from {} to {}, such as 1280x720",
            shown.size,
            PIXELS.start(),
            PIXELS.end()
        )));
    };
    let look = crate::game::snap::Look {
        size: (width, height).into(),
        text_percent: shown.text,
        bright: shown.bright,
        language: shown.language,
    };
    let source = crate::game::snap::Source {
        scenario: Arc::new(scenario),
        loaded,
        seed: shown.seed,
        acts: acts.collect(),
    };
    Ok((source, look))
}
