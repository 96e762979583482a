//! The drawings and where each stands in the scene.

use bevy::prelude::*;

use super::drawing::Drawing;

/// Height to which things are sorted: the higher, the nearer to us.
pub(super) mod layer {
    pub(in super::super) const WORKSHOP: f32 = 0.0;
    pub(in super::super) const PINNED: f32 = 30.0;
    /// What the recorder wrote, over all of its drawing.
    pub(in super::super) const STRIP: f32 = 80.0;
    /// What is taken off the vehicle lies here.
    pub(in super::super) const ASIDE: f32 = 90.0;
    pub(in super::super) const BODY: f32 = 100.0;
    /// Drops of water on the body, and on the lid.
    pub(in super::super) const WET_BODY: f32 = 179.0;
    pub(in super::super) const WET_LID: f32 = 278.0;
    pub(in super::super) const LINKS_UNDER: f32 = 180.0;
    pub(in super::super) const LID: f32 = 200.0;
    /// What is seen through the lid: over all of its outside.
    pub(in super::super) const THROUGH: f32 = 279.0;
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

/// Where a thing is while nobody has it.
#[derive(Clone, Copy)]
pub(super) enum Home {
    /// In the workshop: where the drawing's upper left corner is put.
    Lies(Vec2),
    /// On the vehicle: the mark of its body on which the thing hangs by a mark of its own drawing.
    Hangs { on: &'static str, by: &'static str },
}

impl Home {
    /// Where the upper left corner of the thing's drawing is, before a vehicle whose body has these marks.
    pub(super) fn corner(self, body: &dyn Fn(&str) -> Option<Vec2>, drawing: &Drawing) -> Vec2 {
        match self {
            Self::Lies(at) => at,
            Self::Hangs { on, by } => {
                let by = drawing.mark(by).map(|mark| mark.centre);
                body(on).unwrap_or_default() - by.unwrap_or_default()
            }
        }
    }
}

/// A drawing of a thing that stands, lies or hangs in the scene.
pub(super) struct Prop {
    /// Name by which [`super::Stage`] moves it or takes it away.
    pub(super) name: &'static str,
    /// The drawing; nothing where it is one of the vehicle's.
    pub(super) drawing: Option<&'static str>,
    /// Where it is while nobody has it.
    pub(super) at: Home,
    /// Height in the sorting.
    pub(super) layer: f32,
}

/// Everything beside the workshop and the car.
pub(super) const PROPS: [Prop; 14] = [
    Prop { name: "side-view", drawing: None, at: Home::Lies(Vec2::new(1507.0, 60.0)), layer: layer::PINNED },
    Prop {
        name: "clipboard",
        drawing: Some(drawing!("clipboard.svg")),
        at: Home::Lies(Vec2::new(22.0, 12.0)),
        layer: layer::PINNED + 20.0,
    },
    Prop {
        name: "trim-tool",
        drawing: Some(drawing!("trim-tool.svg")),
        at: Home::Lies(Vec2::new(1706.0, 390.0)),
        layer: layer::PINNED + 50.0,
    },
    Prop {
        name: "repair-kit",
        drawing: Some(drawing!("repair-kit.svg")),
        at: Home::Lies(Vec2::new(1524.0, 391.0)),
        layer: layer::PINNED + 54.0,
    },
    Prop {
        name: "cleaner",
        drawing: Some(drawing!("cleaner.svg")),
        at: Home::Lies(Vec2::new(1640.0, 383.0)),
        layer: layer::PINNED + 58.0,
    },
    Prop {
        name: "test-lamp-5",
        drawing: Some(drawing!("test-lamp-5.svg")),
        at: Home::Lies(Vec2::new(1524.0, 484.0)),
        layer: layer::TOOLS + 20.0,
    },
    Prop {
        name: "test-lamp-21",
        drawing: Some(drawing!("test-lamp-21.svg")),
        at: Home::Lies(Vec2::new(1606.0, 470.0)),
        layer: layer::TOOLS + 30.0,
    },
    Prop {
        name: "bench-battery",
        drawing: Some(drawing!("bench-battery.svg")),
        at: Home::Lies(Vec2::new(1700.0, 438.0)),
        layer: layer::TOOLS,
    },
    Prop {
        name: "key",
        drawing: Some(drawing!("key.svg")),
        at: Home::Lies(Vec2::new(1528.0, 590.0)),
        layer: layer::TOOLS + 40.0,
    },
    Prop {
        name: "bridge",
        drawing: Some(drawing!("bridge.svg")),
        at: Home::Lies(Vec2::new(1634.0, 588.0)),
        layer: layer::TOOLS + 50.0,
    },
    Prop {
        name: "fuse-tray",
        drawing: Some(drawing!("fuse-box-tray.svg")),
        at: Home::Lies(Vec2::new(1786.0, 584.0)),
        layer: layer::TOOLS + 60.0,
    },
    Prop {
        name: "meter",
        drawing: Some(drawing!("meter.svg")),
        at: Home::Hangs { on: "meter-hook", by: "meter-loop" },
        layer: layer::TOOLS + 70.0,
    },
    Prop {
        name: "clamp",
        drawing: Some(drawing!("clamp.svg")),
        at: Home::Lies(Vec2::new(44.0, 648.0)),
        layer: layer::PINNED + 30.0,
    },
    Prop {
        name: "recorder",
        drawing: Some(drawing!("recorder.svg")),
        at: Home::Lies(Vec2::new(156.0, 656.0)),
        layer: layer::PINNED + 40.0,
    },
];

/// The names of all places that a vehicle's drawings mark, and of all that changes in them, such as `light.fog`.
#[cfg(test)]
pub(crate) fn drawn_names(id: &str) -> std::collections::BTreeSet<String> {
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

#[cfg(test)]
mod tests {
    use super::super::figure::Figure;
    use super::super::hinge::{Face, Hinge};
    use super::*;

    fn hanging(prop: &&Prop) -> bool {
        matches!(prop.at, Home::Hangs { .. })
    }

    /// Where the lid's places are seen, shut and wide open, and those of the body.
    fn places_seen(vehicle: &Vehicle) -> Vec<(String, Vec2)> {
        let (body, lid) = (Drawing::read(vehicle.body), Drawing::read(vehicle.lid));
        let figure = Figure::read(vehicle.figure).expect("a test of its own reads it");
        let mut seen: Vec<(String, Vec2)> =
            body.marks.iter().map(|mark| (mark.name.clone(), mark.centre)).collect();
        for mark in &lid.marks {
            let outside = mark.group.starts_with("at-outside");
            let (face, degrees) =
                if outside { (Face::Outside, 0.0) } else { (Face::Inside, figure.widest_degrees) };
            let hinge = Hinge::new(figure.camera, figure.lid, degrees);
            seen.push((mark.name.clone(), hinge.place(mark.centre, face)));
        }
        // Of these nothing is touched: they are ends of what is drawn.
        seen.retain(|(name, _)| name != "meter-hook" && !name.ends_with("-apart") && !name.contains("strut"));
        seen
    }

    #[test]
    fn what_hangs_on_a_vehicle_covers_no_place_of_it() {
        for vehicle in &VEHICLES {
            let body = Drawing::read(vehicle.body);
            let places = places_seen(vehicle);
            assert!(places.len() > 15, "{}: {places:?}", vehicle.id);
            for prop in PROPS.iter().filter(hanging) {
                let drawing = Drawing::read(prop.drawing.expect("no vehicle has its own"));
                let corner = prop.at.corner(&|name| Some(body.mark(name)?.centre), &drawing);
                let face = drawing.mark(prop.name).expect("every thing is marked by its name");
                let apart = |place: Vec2| (place - corner - face.centre).abs() - face.size / 2.0;
                let covered: Vec<_> =
                    places.iter().filter(|(_, at)| apart(*at).max_element() < 0.0).collect();
                assert!(covered.is_empty(), "{} on {} covers {covered:?}", prop.name, vehicle.id);
            }
        }
    }

    #[test]
    fn what_hangs_on_a_vehicle_hangs_beside_its_lamps_and_within_the_picture() {
        use super::super::view::DESIGN;
        assert_eq!(PROPS.iter().filter(hanging).count(), 1, "the meter");
        for vehicle in &VEHICLES {
            let body = Drawing::read(vehicle.body);
            for prop in PROPS.iter().filter(hanging) {
                let Home::Hangs { on, by } = prop.at else { continue };
                let what = format!("{} on {}", prop.name, vehicle.id);
                let drawing = Drawing::read(prop.drawing.expect("no vehicle has its own"));
                assert!(body.mark(on).is_some(), "{what}: body.svg marks no {on}");
                assert!(drawing.mark(by).is_some(), "{what}: its drawing marks no {by}");
                let corner = prop.at.corner(&|name| Some(body.mark(name)?.centre), &drawing);
                let face = drawing.mark(prop.name).expect("every thing is marked by its name");
                let (low, high) =
                    (corner + face.centre - face.size / 2.0, corner + face.centre + face.size / 2.0);
                assert!(low.cmpge(Vec2::ZERO).all() && high.cmple(DESIGN).all(), "{what}: {low} to {high}");
                // Half of a lamp in each direction stays in sight: its middle, and more.
                let lamps = body.parts.iter().filter(|part| part.name.starts_with("light."));
                for lamp in lamps {
                    let (first, last) = lamp.shape.bounds();
                    let quarter = (last - first) / 4.0;
                    let apart = (first + quarter).cmpgt(high).any() || (last - quarter).cmplt(low).any();
                    assert!(apart, "{what} hangs over {}", lamp.name);
                }
            }
        }
    }
}
