//! What is a vehicle's own beside its drawings: how its lid turns and what runs between body and lid.
//!
//! It stands in `figure.ron` beside the drawings. `assets/drawings/README.md` explains every field.

use std::fmt;

use bevy::prelude::{ColorToComponents, Vec2};
use serde::Deserialize;

use super::aside::Aside;
use super::drawing::{Drawing, Part};
use super::hinge::{Camera, Lid};
use super::palette::{drawn, drawn_colour};
use super::shape::{Shape, Tint};
use super::turned::{Drive, Turned};

/// A vehicle's own, as its file says it.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Figure {
    /// From where the vehicle is seen.
    pub(super) camera: Camera,
    /// How the lid turns.
    pub(super) lid: Lid,
    /// The widest the lid opens, in degrees from shut.
    pub(super) widest_degrees: f32,
    /// Colours of the lid's edge.
    pub(super) rim: Rim,
    /// The loom's way over the body.
    pub(super) body_loom: Way,
    /// The loom's way over the lid's inside.
    pub(super) lid_loom: Way,
    /// What joins body and lid.
    pub(super) links: Vec<Link>,
    /// Lamps that light the load space. The lid covers their light.
    pub(super) load_lamps: Vec<String>,
    /// Where panels go that are taken off.
    #[serde(default)]
    pub(super) aside: Vec<Aside>,
    /// How the latch's claw turns, the group `inside.claw`.
    pub(super) claw: Claw,
    /// What motors sweep over the lid's outside.
    #[serde(default)]
    pub(super) sweeps: Vec<Sweep>,
}

/// How a latch's claw turns.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Claw {
    /// The mark about which it turns.
    pub(super) pivot: String,
    /// How far it opens, clockwise from home, where it is drawn.
    pub(super) degrees: f32,
}

/// What a motor sweeps to and fro.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Sweep {
    /// The motor's part. What it sweeps is the group `outside.sweeps.` and this.
    pub(super) motor: String,
    /// The mark about which it turns.
    pub(super) pivot: String,
    /// How far, clockwise from where it is drawn.
    pub(super) degrees: f32,
}

/// Colours of a lid's edge, by what drawings name them.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Rim {
    /// Where it runs down.
    shade: String,
    /// Where it runs across and catches the lamp.
    lit: String,
}

impl Rim {
    /// Both colours, shade first.
    pub(super) fn tints(&self) -> [Tint; 2] {
        [&self.shade, &self.lit].map(|name| drawn_colour(name).to_f32_array())
    }

    /// Both names, shade first.
    pub(super) fn names(&self) -> [&str; 2] {
        [&self.shade, &self.lit]
    }
}

/// The way of a loom.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Way {
    /// The group over which the loom is painted.
    pub(super) over: String,
    /// The marks through which it runs, in order.
    pub(super) through: Vec<String>,
}

/// Something that joins a place of the body and one of the lid and follows the lid.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Link {
    /// What it is.
    pub(super) is: LinkKind,
    /// The mark of its end on the body.
    pub(super) body: String,
    /// The mark of its end on the lid.
    pub(super) lid: String,
    /// The name of the place in its middle, where it is one.
    #[serde(default)]
    pub(super) place: Option<String>,
    /// The direction in which it bows.
    #[serde(default)]
    pub(super) bow: (f32, f32),
}

/// What a link is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
pub(super) enum LinkKind {
    /// A gas strut.
    Strut,
    /// A bent arm of steel.
    Arm,
    /// A bent arm of steel with the loom's sleeve along it.
    SleevedArm,
    /// A ribbed rubber tube.
    Bellows,
    /// A rod that holds the lid up, or a door open, while it is propped.
    Prop,
}

impl Link {
    /// The line from its end on the body to that on the lid.
    pub(super) fn line(&self, body: Vec2, lid: Vec2) -> Vec<Vec2> {
        let slack = match self.is {
            LinkKind::Strut | LinkKind::Prop => 0.0,
            // Where its ends lie close it has nowhere to go but to fold.
            LinkKind::Bellows => {
                let apart = body.distance(lid);
                (125.0 - apart).clamp(20.0, 60.0).min(0.6 * apart)
            }
            LinkKind::Arm | LinkKind::SleevedArm => body.distance(lid) * 0.42,
        };
        super::wires::curve(body, body.midpoint(lid) + Vec2::from(self.bow) * slack, lid, 14)
    }

    /// Where in its line its place is.
    pub(super) fn middle(line: &[Vec2]) -> Vec2 {
        line.get(line.len() / 2).copied().unwrap_or_default()
    }
}

/// Why a figure cannot be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum FigureError {
    /// It is not written as it should be; where and what.
    Written(String),
    /// A number or colour makes no sense: which one.
    Value(&'static str),
    /// A drawing does not mark the place: its name, and on which drawing it was looked for.
    NoMark(String, &'static str),
    /// A drawing has no such group: its name, and in which drawing it was looked for.
    NoGroup(String, &'static str),
    /// A lamp of the load space is drawn nowhere.
    NoLamp(String),
}

impl fmt::Display for FigureError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Written(what) => write!(f, "figure.ron is not written as it should be: {what}"),
            Self::Value(what) => write!(f, "figure.ron: {what}"),
            Self::NoMark(name, drawing) => {
                write!(
                    f,
                    "figure.ron names `{name}`, but {drawing} has no mark `at.{name}` in the right place"
                )
            }
            Self::NoGroup(name, drawing) => {
                write!(f, "figure.ron names `{name}`, but {drawing} has no group `{name}`")
            }
            Self::NoLamp(name) => {
                write!(f, "figure.ron names the lamp `{name}`, but body.svg has no group `light.{name}`")
            }
        }
    }
}

impl Figure {
    /// Reads a figure.
    pub(super) fn read(text: &str) -> Result<Self, FigureError> {
        let figure: Self = ron::from_str(text).map_err(|error| FigureError::Written(error.to_string()))?;
        let in_range = [
            (figure.camera.distance >= 500.0, "the camera's distance is to be 500 or more"),
            ((1.0..=170.0).contains(&figure.widest_degrees), "`widest_degrees` is to be from 1 to 170"),
            (
                figure.rim.names().into_iter().all(|name| drawn(name).is_some()),
                "the colours of `rim` are to be names in assets/palette.ron",
            ),
            (figure.lid.makes_sense(), "the lid's hinge, rake or thickness makes no sense"),
            (
                figure.turns().all(|(.., degrees)| (-180.0..=180.0).contains(&degrees)),
                "what turns on the lid is to turn by -180 to 180 degrees",
            ),
        ];
        match in_range.into_iter().find(|(good, _)| !good) {
            Some((_, what)) => Err(FigureError::Value(what)),
            None => Ok(figure),
        }
    }

    /// What turns on the lid: the part without its face, the mark about which it turns, and how far.
    fn turns(&self) -> impl Iterator<Item = (String, &String, f32)> {
        let claw = ("claw".to_owned(), &self.claw.pivot, self.claw.degrees);
        let sweeps = self.sweeps.iter();
        let sweeps = sweeps.map(|sweep| (format!("sweeps.{}", sweep.motor), &sweep.pivot, sweep.degrees));
        std::iter::once(claw).chain(sweeps)
    }

    /// How a part of the lid turns, if it does.
    pub(super) fn turned(
        &self,
        part: &str,
        shape: &Shape,
        mark: &dyn Fn(&str) -> Option<Vec2>,
        claw_open: f32,
    ) -> Option<Turned> {
        let (_, pivot, degrees) = self.turns().find(|(name, ..)| name == part)?;
        let drive = part.strip_prefix("sweeps.").map_or_else(|| Drive::latch(claw_open), Drive::motor);
        Some(Turned::new(drive, shape.positions.clone(), mark(pivot)?, degrees))
    }

    /// Whether all that the figure names is drawn.
    pub(super) fn check(&self, body: &Drawing, lid: &Drawing) -> Result<(), FigureError> {
        let has = |drawing: &Drawing, name: &String, inside: bool, file| {
            let mark = drawing.mark(name);
            let good = mark.is_some_and(|mark| !inside || mark.group.starts_with("at-inside"));
            if good { Ok(()) } else { Err(FigureError::NoMark(name.clone(), file)) }
        };
        let group = |drawing: &Drawing, name: &str, prefix: &str, file| {
            let full = format!("{prefix}{name}");
            let good = drawing.parts.iter().any(|part: &Part| part.name == full);
            if good { Ok(()) } else { Err(FigureError::NoGroup(full, file)) }
        };
        for name in &self.body_loom.through {
            has(body, name, false, "body.svg")?;
        }
        for name in &self.lid_loom.through {
            has(lid, name, true, "lid.svg")?;
        }
        for link in &self.links {
            has(body, &link.body, false, "body.svg")?;
            has(lid, &link.lid, true, "lid.svg")?;
        }
        group(body, &self.body_loom.over, "", "body.svg")?;
        group(lid, &self.lid_loom.over, "inside.", "lid.svg")?;
        for aside in &self.aside {
            let on_lid = group(lid, &aside.panel, "inside.panel.", "lid.svg");
            on_lid.or_else(|_| group(body, &aside.panel, "panel.", "body.svg"))?;
        }
        for (name, pivot, _) in self.turns() {
            has(lid, pivot, false, "lid.svg")?;
            let inside = group(lid, &name, "inside.", "lid.svg");
            inside.or_else(|_| group(lid, &name, "outside.", "lid.svg"))?;
        }
        for lamp in &self.load_lamps {
            group(body, lamp, "light.", "body.svg").map_err(|_| FigureError::NoLamp(lamp.clone()))?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::super::catalogue::VEHICLES;
    use super::*;

    fn estate() -> String {
        VEHICLES[0].figure.to_owned()
    }

    #[test]
    fn every_figure_reads_and_names_only_what_is_drawn() {
        for vehicle in &VEHICLES {
            let checked = Figure::read(vehicle.figure)
                .and_then(|figure| figure.check(&Drawing::read(vehicle.body), &Drawing::read(vehicle.lid)));
            assert_eq!(
                checked,
                Ok(()),
                "{}: {}",
                vehicle.id,
                checked.clone().err().map_or_else(String::new, |e| e.to_string())
            );
        }
    }

    #[test]
    fn what_is_wrong_with_a_figure_is_said_once_and_clearly() {
        let text = estate();
        let said = |from: &str, to: &str| {
            assert!(text.contains(from), "the estate's figure no longer says {from}");
            let drawn = (Drawing::read(VEHICLES[0].body), Drawing::read(VEHICLES[0].lid));
            Figure::read(&text.replace(from, to))
                .and_then(|figure| figure.check(&drawn.0, &drawn.1))
                .expect_err("it is wrong")
                .to_string()
        };
        assert!(said("camera:", "kamera:").contains("kamera"));
        assert!(said("widest_degrees: 80", "widest_degrees: 300").contains("from 1 to 170"));
        assert!(said("\"slate-41\"", "\"#3a4d58\"").contains("colours of `rim`"));
        assert!(said("\"sill-clip\"", "\"sill-clips\"").contains("body.svg has no mark `at.sill-clips`"));
        assert!(said("\"lid-rail\"", "\"pad\"").contains("lid.svg has no mark `at.pad` in the right place"));
        assert!(said("\"behind.load-trim\"", "\"behind.trim\"").contains("no group `behind.trim`"));
        assert!(said("[\"cargo-lamp\"]", "[\"moon\"]").contains("the lamp `moon`"));
    }
}
