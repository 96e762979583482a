//! The drawings and where each stands in the scene.

use bevy::prelude::*;

/// Height to which things are sorted: the higher, the nearer to us.
pub(super) mod layer {
    pub(in super::super) const WORKSHOP: f32 = 0.0;
    pub(in super::super) const PINNED: f32 = 30.0;
    /// What is taken off the vehicle lies here.
    pub(in super::super) const ASIDE: f32 = 90.0;
    pub(in super::super) const BODY: f32 = 100.0;
    pub(in super::super) const LINKS_UNDER: f32 = 180.0;
    pub(in super::super) const LID: f32 = 200.0;
    pub(in super::super) const LINKS_OVER: f32 = 280.0;
    pub(in super::super) const UNDONE: f32 = 290.0;
    pub(in super::super) const TOOLS: f32 = 300.0;
    pub(in super::super) const LEADS: f32 = 500.0;
    pub(in super::super) const VEIL: f32 = 600.0;
}

// The drawings are compiled in, so that the program runs from any folder without its source beside it.
macro_rules! drawing {
    ($file:expr) => {
        include_str!(concat!("../../../assets/drawings/", $file))
    };
}

pub(super) const WORKSHOP: &str = drawing!("workshop.svg");

/// What has been taken apart.
pub(super) const UNDONE: &str = drawing!("undone.svg");

/// The drawings of a vehicle, and what else is its own.
pub(super) struct Vehicle {
    /// The vehicle's name.
    pub(super) id: &'static str,
    /// It from behind, without its lid.
    pub(super) body: &'static str,
    /// Its lid, as it lies when shut.
    pub(super) lid: &'static str,
    /// It from its left side, on a sheet of paper.
    pub(super) side: &'static str,
    /// How its lid turns, and what joins body and lid.
    pub(super) figure: &'static str,
}

macro_rules! vehicle {
    ($id:literal) => {
        Vehicle {
            id: $id,
            body: drawing!(concat!($id, "/body.svg")),
            lid: drawing!(concat!($id, "/lid.svg")),
            side: drawing!(concat!($id, "/side.svg")),
            figure: drawing!(concat!($id, "/figure.ron")),
        }
    };
}

/// The vehicles that have drawings. The first stands in for those that have none.
pub(super) const VEHICLES: [Vehicle; 5] =
    [vehicle!("estate"), vehicle!("hatch"), vehicle!("saloon"), vehicle!("van"), vehicle!("tow")];

/// The drawings of a vehicle, or those that stand in for them.
pub(super) fn vehicle(id: &str) -> &'static Vehicle {
    static DRAWN: &[Vehicle] = &VEHICLES;
    DRAWN.iter().find(|vehicle| vehicle.id == id).unwrap_or(&DRAWN[0])
}

/// Whether a vehicle has drawings of its own.
pub(crate) fn is_drawn(id: &str) -> bool {
    vehicle(id).id == id
}

/// A drawing of a thing that stands, lies or hangs in the scene.
pub(super) struct Prop {
    /// Name by which [`super::Stage`] moves it or takes it away.
    pub(super) name: &'static str,
    /// The drawing; nothing where it is one of the vehicle's.
    pub(super) drawing: Option<&'static str>,
    /// Where the drawing's upper left corner is put.
    pub(super) at: Vec2,
    /// Height in the sorting.
    pub(super) layer: f32,
}

/// Everything beside the workshop and the car.
pub(super) const PROPS: [Prop; 14] = [
    Prop { name: "side-view", drawing: None, at: Vec2::new(1507.0, 60.0), layer: layer::PINNED },
    Prop {
        name: "clipboard",
        drawing: Some(drawing!("clipboard.svg")),
        at: Vec2::new(22.0, 12.0),
        layer: layer::PINNED + 20.0,
    },
    Prop {
        name: "trim-tool",
        drawing: Some(drawing!("trim-tool.svg")),
        at: Vec2::new(1706.0, 390.0),
        layer: layer::PINNED + 50.0,
    },
    Prop {
        name: "repair-kit",
        drawing: Some(drawing!("repair-kit.svg")),
        at: Vec2::new(1524.0, 391.0),
        layer: layer::PINNED + 54.0,
    },
    Prop {
        name: "cleaner",
        drawing: Some(drawing!("cleaner.svg")),
        at: Vec2::new(1640.0, 383.0),
        layer: layer::PINNED + 58.0,
    },
    Prop {
        name: "test-lamp-5",
        drawing: Some(drawing!("test-lamp-5.svg")),
        at: Vec2::new(1524.0, 484.0),
        layer: layer::TOOLS + 20.0,
    },
    Prop {
        name: "test-lamp-21",
        drawing: Some(drawing!("test-lamp-21.svg")),
        at: Vec2::new(1606.0, 470.0),
        layer: layer::TOOLS + 30.0,
    },
    Prop {
        name: "bench-battery",
        drawing: Some(drawing!("bench-battery.svg")),
        at: Vec2::new(1700.0, 438.0),
        layer: layer::TOOLS,
    },
    Prop {
        name: "key",
        drawing: Some(drawing!("key.svg")),
        at: Vec2::new(1508.0, 590.0),
        layer: layer::TOOLS + 40.0,
    },
    Prop {
        name: "bridge",
        drawing: Some(drawing!("bridge.svg")),
        at: Vec2::new(1616.0, 588.0),
        layer: layer::TOOLS + 50.0,
    },
    Prop {
        name: "fuse-tray",
        drawing: Some(drawing!("fuse-box-tray.svg")),
        at: Vec2::new(1776.0, 584.0),
        layer: layer::TOOLS + 60.0,
    },
    Prop {
        name: "meter",
        drawing: Some(drawing!("meter.svg")),
        at: Vec2::new(1510.0, 646.0),
        layer: layer::TOOLS + 70.0,
    },
    Prop {
        name: "clamp",
        drawing: Some(drawing!("clamp.svg")),
        at: Vec2::new(44.0, 648.0),
        layer: layer::PINNED + 30.0,
    },
    Prop {
        name: "recorder",
        drawing: Some(drawing!("recorder.svg")),
        at: Vec2::new(156.0, 656.0),
        layer: layer::PINNED + 40.0,
    },
];

/// The names of all places that a vehicle's drawings mark, and of all that changes in them, such as `light.fog`.
#[cfg(test)]
pub(crate) fn drawn_names(id: &str) -> std::collections::BTreeSet<String> {
    use super::drawing::Drawing;
    let vehicle = vehicle(id);
    let changes = |name: &str| {
        let others = ["sweeps.", "panel.", "mated.", "fuse."];
        super::build::is_lit(name) || others.iter().any(|prefix| name.starts_with(prefix))
    };
    let figure = super::figure::Figure::read(vehicle.figure).expect("a test of its own reads it");
    let mut names: std::collections::BTreeSet<String> =
        figure.links.into_iter().filter_map(|link| link.place).collect();
    for text in [vehicle.body, vehicle.lid, vehicle.side] {
        let drawing = Drawing::read(text);
        names.extend(drawing.marks.into_iter().map(|mark| mark.name));
        names.extend(drawing.parts.iter().filter_map(|part| {
            let face = part.name.strip_prefix("outside.").or(part.name.strip_prefix("inside."));
            let name = face.unwrap_or(&part.name);
            changes(name).then(|| name.to_owned())
        }));
    }
    names
}

/// The widest that a vehicle's lid is drawn open, in degrees.
#[cfg(test)]
pub(crate) fn widest_degrees(id: &str) -> f32 {
    super::figure::Figure::read(vehicle(id).figure).expect("a test of its own reads it").widest_degrees
}

/// Every drawing with its name, for tests that look at all of them.
#[cfg(test)]
pub(super) fn every_drawing() -> Vec<(String, &'static str)> {
    let mut every = vec![("workshop".to_owned(), WORKSHOP), ("undone".to_owned(), UNDONE)];
    every.extend(PROPS.iter().filter_map(|prop| Some((prop.name.to_owned(), prop.drawing?))));
    for vehicle in VEHICLES {
        for (name, drawing) in [("body", vehicle.body), ("lid", vehicle.lid), ("side", vehicle.side)] {
            every.push((format!("{} of {}", name, vehicle.id), drawing));
        }
    }
    every
}
