//! When a part of a drawing is shown.

use bevy::prelude::*;

use super::palette::Palette;
use super::stage::Stage;

/// What has to be so for a part to be shown.
#[derive(Component, Clone, Debug, PartialEq)]
pub(super) enum While {
    /// The panel is on.
    PanelOn(String),
    /// The panel is off: this is where it has gone.
    PanelOff(String),
    /// The room is bright.
    Bright,
}

impl While {
    /// What a part's name asks for.
    pub(super) fn of_part(name: &str) -> Option<Self> {
        if name.starts_with("day.") {
            return Some(Self::Bright);
        }
        // `panel` alone is the lid's own sheet metal.
        name.strip_prefix("panel.").map(|panel| Self::PanelOn(panel.to_owned()))
    }

    /// Whether it is so.
    pub(super) fn holds(&self, stage: &Stage, palette: &Palette) -> bool {
        match self {
            Self::PanelOn(panel) => !stage.panels_off.contains(panel),
            Self::PanelOff(panel) => stage.panels_off.contains(panel),
            Self::Bright => palette.is_bright(),
        }
    }
}
