//! The drawings and where each stands in the scene.

use bevy::prelude::*;

/// Height to which things are sorted: the higher, the nearer to us.
pub(super) mod layer {
    pub(in super::super) const WORKSHOP: f32 = 0.0;
    pub(in super::super) const PINNED: f32 = 30.0;
    pub(in super::super) const BODY: f32 = 100.0;
    pub(in super::super) const STRUTS_UNDER: f32 = 180.0;
    pub(in super::super) const LID: f32 = 200.0;
    pub(in super::super) const STRUTS_OVER: f32 = 280.0;
    pub(in super::super) const TOOLS: f32 = 300.0;
    pub(in super::super) const LEADS: f32 = 500.0;
    pub(in super::super) const VEIL: f32 = 600.0;
}

// The drawings are compiled in, so that the program runs from any folder without its source beside it.
macro_rules! drawing {
    ($file:literal) => {
        include_str!(concat!("../../../assets/drawings/", $file))
    };
}

pub(super) const WORKSHOP: &str = drawing!("estate-workshop.svg");
pub(super) const BODY: &str = drawing!("estate-body.svg");
pub(super) const LID: &str = drawing!("estate-lid.svg");

/// A drawing of a thing that stands, lies or hangs in the scene.
pub(super) struct Prop {
    /// Name by which [`super::Stage`] moves it or takes it away.
    pub(super) name: &'static str,
    /// The drawing.
    pub(super) drawing: &'static str,
    /// Where the drawing's upper left corner is put.
    pub(super) at: Vec2,
    /// Height in the sorting.
    pub(super) layer: f32,
}

/// Everything beside the workshop and the car.
pub(super) const PROPS: [Prop; 11] = [
    Prop {
        name: "side-view",
        drawing: drawing!("estate-side.svg"),
        at: Vec2::new(1507.0, 60.0),
        layer: layer::PINNED,
    },
    Prop {
        name: "clipboard",
        drawing: drawing!("clipboard.svg"),
        at: Vec2::new(22.0, 62.0),
        layer: layer::PINNED + 20.0,
    },
    Prop {
        name: "test-lamp-5",
        drawing: drawing!("test-lamp-5.svg"),
        at: Vec2::new(1524.0, 484.0),
        layer: layer::TOOLS + 20.0,
    },
    Prop {
        name: "test-lamp-21",
        drawing: drawing!("test-lamp-21.svg"),
        at: Vec2::new(1606.0, 470.0),
        layer: layer::TOOLS + 30.0,
    },
    Prop {
        name: "bench-battery",
        drawing: drawing!("bench-battery.svg"),
        at: Vec2::new(1700.0, 438.0),
        layer: layer::TOOLS,
    },
    Prop {
        name: "key",
        drawing: drawing!("key.svg"),
        at: Vec2::new(1508.0, 590.0),
        layer: layer::TOOLS + 40.0,
    },
    Prop {
        name: "bridge",
        drawing: drawing!("bridge.svg"),
        at: Vec2::new(1616.0, 588.0),
        layer: layer::TOOLS + 50.0,
    },
    Prop {
        name: "fuse-tray",
        drawing: drawing!("fuse-box-tray.svg"),
        at: Vec2::new(1776.0, 584.0),
        layer: layer::TOOLS + 60.0,
    },
    Prop {
        name: "meter",
        drawing: drawing!("meter.svg"),
        at: Vec2::new(1510.0, 646.0),
        layer: layer::TOOLS + 70.0,
    },
    Prop {
        name: "clamp",
        drawing: drawing!("clamp.svg"),
        at: Vec2::new(44.0, 648.0),
        layer: layer::PINNED + 30.0,
    },
    Prop {
        name: "recorder",
        drawing: drawing!("recorder.svg"),
        at: Vec2::new(156.0, 656.0),
        layer: layer::PINNED + 40.0,
    },
];

/// Every drawing with its name, for tests that look at all of them.
#[cfg(test)]
pub(super) const EVERY_DRAWING: [(&str, &str); 14] = [
    ("workshop", WORKSHOP),
    ("body", BODY),
    ("lid", LID),
    (PROPS[0].name, PROPS[0].drawing),
    (PROPS[1].name, PROPS[1].drawing),
    (PROPS[2].name, PROPS[2].drawing),
    (PROPS[3].name, PROPS[3].drawing),
    (PROPS[4].name, PROPS[4].drawing),
    (PROPS[5].name, PROPS[5].drawing),
    (PROPS[6].name, PROPS[6].drawing),
    (PROPS[7].name, PROPS[7].drawing),
    (PROPS[8].name, PROPS[8].drawing),
    (PROPS[9].name, PROPS[9].drawing),
    (PROPS[10].name, PROPS[10].drawing),
];
