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
    /// The connector is plugged together.
    Mated(String),
    /// The fuse sits in its slot.
    Fitted(String),
    /// The tool, or the part of it that is taken, is where it belongs.
    Home(String),
    /// The vehicle's rear is wet.
    Wet,
    /// The room is bright.
    Bright,
    /// The room is dim.
    Dim,
    /// Both are so.
    Both(Box<Self>, Box<Self>),
}

impl While {
    /// What a part's name asks for.
    pub(super) fn of_part(name: &str) -> Option<Self> {
        // `panel` alone is the lid's own sheet metal.
        let (kind, of) = name.split_once('.')?;
        match kind {
            "panel" => Some(Self::PanelOn(of.to_owned())),
            "mated" => Some(Self::Mated(of.to_owned())),
            "fuse" => Some(Self::Fitted(of.to_owned())),
            "home" => Some(Self::Home(of.to_owned())),
            "day" => Some(Self::Bright.and(Self::of_part(of))),
            "dusk" => Some(Self::Dim.and(Self::of_part(of))),
            _ => None,
        }
    }

    /// With something else that has to be so, too.
    fn and(self, other: Option<Self>) -> Self {
        match other {
            Some(other) => Self::Both(Box::new(self), Box::new(other)),
            None => self,
        }
    }

    /// Whether it is so.
    pub(super) fn holds(&self, stage: &Stage, palette: &Palette) -> bool {
        match self {
            Self::PanelOn(panel) => !stage.panels_off.contains(panel),
            Self::PanelOff(panel) => stage.panels_off.contains(panel),
            Self::Mated(connector) => !stage.unplugged.contains_key(connector),
            Self::Fitted(fuse) => !stage.fuses_out.contains(fuse),
            Self::Home(tool) => !stage.tools_out.contains(tool),
            Self::Wet => stage.wet,
            Self::Bright => palette.is_bright(),
            Self::Both(one, other) => one.holds(stage, palette) && other.holds(stage, palette),
            Self::Dim => !palette.is_bright(),
        }
    }
}
