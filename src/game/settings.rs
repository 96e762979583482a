//! How the learner likes the window: kept between jobs in a small file that can be edited by hand.

use std::path::PathBuf;

use bevy::prelude::*;
use bevy_egui::egui::{self, RichText};
use probeworthy::words::{Language, Texts};
use serde::{Deserialize, Serialize};

use super::cards::row;
use super::replaced;
use super::scenery::Palette;
use super::theme::{SMALL, figure};

/// Least and greatest size of text, in percent.
pub(super) const TEXT_PERCENT: std::ops::RangeInclusive<u16> = 100..=200;

/// Light of the cards and of the room.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub(super) enum Light {
    /// A dim room, dark cards.
    #[default]
    Dim,
    /// A bright room, pale cards.
    Bright,
}

/// What can be set.
#[derive(Resource, Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub(super) struct Settings {
    /// Sounds are played.
    pub(super) sound: bool,
    /// Things are put in place at once instead of moving there.
    pub(super) reduced_motion: bool,
    /// Size of text, in percent of what the window's size gives.
    pub(super) text_percent: u16,
    /// The light.
    pub(super) light: Light,
    /// The language, once one has been chosen.
    pub(super) language: Option<Language>,
    /// The language of this one run, of the environment or the command line; never kept.
    #[serde(skip)]
    pub(super) spoken: Option<Language>,
    /// The first job has been offered, and was not wanted.
    pub(super) first_job_declined: bool,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            sound: true,
            reduced_motion: false,
            text_percent: 100,
            light: Light::Dim,
            language: None,
            spoken: None,
            first_job_declined: false,
        }
    }
}

impl Settings {
    /// The texts of the language that is spoken now.
    pub(super) fn texts(&self) -> Texts {
        Texts::of(self.spoken.or(self.language).unwrap_or_default())
    }

    /// Reads the learner's settings; the usual ones where there are none or they cannot be read.
    pub(super) fn load() -> Self {
        let mut settings = Self::read_file();
        if settings.language.is_none() {
            settings.spoken = Some(Language::of_environment(|name| std::env::var(name).ok()));
        }
        settings
    }

    fn read_file() -> Self {
        let Some(path) = file() else { return Self::default() };
        let Ok(text) = std::fs::read_to_string(&path) else { return Self::default() };
        match Self::read(&text) {
            Ok(settings) => settings,
            Err(why) => {
                // They are written anew with the next change.
                warn!("{}:{why}; the usual settings are used", path.display());
                Self::default()
            }
        }
    }

    fn read(text: &str) -> Result<Self, String> {
        let mut settings: Self = ron::from_str(text)
            .map_err(|why| format!("{}:{}: {}", why.span.start.line, why.span.start.col, why.code))?;
        settings.text_percent = settings.text_percent.clamp(*TEXT_PERCENT.start(), *TEXT_PERCENT.end());
        Ok(settings)
    }

    /// Keeps them. Where that fails they hold until the window is closed.
    pub(super) fn keep(&self) {
        let Some(path) = file() else { return };
        let written = ron::ser::to_string_pretty(self, ron::ser::PrettyConfig::default())
            .map_err(|why| why.to_string())
            .and_then(|text| {
                path.parent().map_or(Ok(()), std::fs::create_dir_all).map_err(|why| why.to_string())?;
                replaced::write(&path, &text).map_err(|why| why.to_string())
            });
        if let Err(why) = written {
            warn!("{}: the settings are not kept: {why}", path.display());
        }
    }
}

fn file() -> Option<PathBuf> {
    directories::ProjectDirs::from("", "", "probeworthy").map(|dirs| dirs.config_dir().join("settings.ron"))
}

/// Lets the palette follow the light that was chosen.
pub(super) fn apply(settings: Res<Settings>, mut palette: ResMut<Palette>) {
    let bright = settings.light == Light::Bright;
    if palette.is_bright() != bright {
        palette.set_bright(bright);
    }
}

/// The card of the settings.
pub(super) fn card(ui: &mut egui::Ui, settings: &mut Settings) {
    let before = settings.clone();
    let t = settings.texts();
    ui.checkbox(&mut settings.sound, t.say("settings-sound"));
    ui.checkbox(&mut settings.reduced_motion, t.say("settings-less-motion"));
    ui.add_space(6.0);
    row(ui, |ui| {
        ui.label(t.say("settings-text-size"));
        // Applied when it is let go: under the pointer the slider would run away from its own motion.
        let id = egui::Id::new("text percent in the slider");
        let mut percent = ui.data(|data| data.get_temp(id)).unwrap_or(settings.text_percent);
        let slider = egui::Slider::new(&mut percent, TEXT_PERCENT).step_by(10.0).suffix(" %");
        let slider = figure(ui, |ui| ui.add(slider));
        if slider.dragged() {
            ui.data_mut(|data| data.insert_temp(id, percent));
        } else {
            ui.data_mut(|data| data.remove_temp::<u16>(id));
            settings.text_percent = percent;
        }
    });
    ui.add_space(6.0);
    row(ui, |ui| {
        ui.label(t.say("settings-light"));
        ui.radio_value(&mut settings.light, Light::Dim, t.say("settings-dim"));
        ui.radio_value(&mut settings.light, Light::Bright, t.say("settings-bright"));
    });
    ui.add_space(6.0);
    row(ui, |ui| {
        ui.label(t.say("settings-language"));
        let now = t.language();
        for one in Language::ALL {
            if ui.radio(one == now, one.own_name()).clicked() {
                settings.language = Some(one);
                settings.spoken = None;
            }
        }
    });
    ui.add(egui::Label::new(RichText::new(t.say("settings-names")).size(SMALL)).wrap());
    if *settings != before {
        settings.keep();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_is_read_again() {
        let settings = Settings {
            sound: false,
            reduced_motion: true,
            text_percent: 150,
            light: Light::Bright,
            language: Some(Language::German),
            spoken: None,
            first_job_declined: true,
        };
        let text = ron::ser::to_string_pretty(&settings, ron::ser::PrettyConfig::default())
            .expect("it can be written");
        assert_eq!(Settings::read(&text), Ok(settings));
    }

    #[test]
    fn an_older_file_keeps_what_it_says_and_a_wild_size_is_brought_within_bounds() {
        let settings = Settings::read("(sound: false, text_percent: 9000)").expect("it can be read");
        assert_eq!(settings, Settings { sound: false, text_percent: 200, ..Settings::default() });
    }

    #[test]
    fn a_file_from_before_there_were_languages_leaves_the_choice_to_the_environment() {
        let settings = Settings::read("(sound: false)").expect("it can be read");
        assert_eq!(settings.language, None);
        assert_eq!(settings.texts().language(), Language::English);
    }

    #[test]
    fn the_language_of_one_run_is_not_kept() {
        let settings = Settings { spoken: Some(Language::German), ..Settings::default() };
        assert_eq!(settings.texts().language(), Language::German);
        let text = ron::ser::to_string_pretty(&settings, ron::ser::PrettyConfig::default())
            .expect("it can be written");
        assert_eq!(Settings::read(&text).expect("it can be read").texts().language(), Language::English);
    }

    #[test]
    fn a_slip_is_told_by_line_and_column() {
        let why = Settings::read("(\n    sound: maybe,\n)").expect_err("no such word");
        assert!(why.starts_with("2:"), "{why}");
    }
}
