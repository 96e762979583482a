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
    #[arg(long, value_name = "PERCENT", default_value_t = 100, value_parser = clap::value_parser!(u16).range(100..=200))]
    text: u16,
    /// Show the bright room.
    #[arg(long)]
    bright: bool,
    /// The language.
    #[arg(long, value_name = "TAG", default_value = "en", value_parser = language)]
    language: Language,
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

#[cfg(not(feature = "game"))]
fn no_window() -> Failure {
    Failure::new("this program was built without its window, and has no screens to show".to_owned())
}

#[cfg(not(feature = "game"))]
pub(crate) fn snap(arguments: &Snap) -> Result<ExitCode, Failure> {
    let _ = (&arguments.screen, &arguments.out);
    frames(&arguments.shown)
}

#[cfg(not(feature = "game"))]
pub(crate) fn frames(shown: &Shown) -> Result<ExitCode, Failure> {
    let _ =
        (&shown.scenario, shown.seed, &shown.script, &shown.size, shown.text, shown.bright, shown.language);
    Err(no_window())
}

#[cfg(feature = "game")]
pub(crate) fn snap(arguments: &Snap) -> Result<ExitCode, Failure> {
    use crate::game::snap;

    let known: Vec<&str> = snap::screens().collect();
    if !known.contains(&arguments.screen.as_str()) {
        return Err(Failure::new(format!(
            "there is no screen \"{}\"\nhint: the screens are {}",
            arguments.screen,
            known.join(", ")
        )));
    }
    if arguments.out.extension().is_none_or(|ending| !ending.eq_ignore_ascii_case("png")) {
        return Err(Failure::new(format!(
            "{}: a picture is a PNG file\nhint: let its name end in .png",
            arguments.out.display()
        )));
    }
    let (options, look) = prepared(&arguments.shown)?;
    // Found out before the picture is made, and nothing is left where it cannot be.
    let opened = std::fs::OpenOptions::new().create(true).append(true).open(&arguments.out);
    if let Err(why) = opened {
        return Err(Failure::new(format!(
            "{}: {why}\nhint: name a file in a folder that can be written",
            arguments.out.display()
        )));
    }
    snap::picture(options, &arguments.screen, look, arguments.out.clone())?;
    Ok(ExitCode::SUCCESS)
}

#[cfg(feature = "game")]
pub(crate) fn frames(shown: &Shown) -> Result<ExitCode, Failure> {
    let (options, look) = prepared(shown)?;
    crate::game::snap::times(options, look)?;
    Ok(ExitCode::SUCCESS)
}

#[cfg(feature = "game")]
fn prepared(shown: &Shown) -> Result<(crate::game::Options, crate::game::snap::Look), Failure> {
    use std::sync::Arc;

    use probeworthy::desk::Request;
    use probeworthy::scenario;

    // A picture is of what the file says: scripts and seeds of pictures go by its names.
    let scenario = scenario::load(&shown.scenario)?.scenario.all_fixed();
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
    let options = crate::game::Options {
        scenario: Arc::new(scenario),
        scenario_name: None,
        seed: shown.seed,
        fresh: true,
        acts: acts.collect(),
        picture: None,
        language: None,
    };
    Ok((options, look))
}
