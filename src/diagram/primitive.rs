//! What a diagram is made of, where it is, and what it stands for.

use super::block::Figure;
pub use crate::vehicle::Thing;
use crate::vehicle::{ConductorId, ConnectorId, End, Half};

/// A place on the page: to the right and down, in units of which a line of letters is eleven high.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// To the right.
    pub x: f64,
    /// Down.
    pub y: f64,
}

impl Spot {
    /// A place.
    #[must_use]
    pub fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }
}

/// A rectangle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// Left edge.
    pub left: f64,
    /// Upper edge.
    pub top: f64,
    /// Right edge.
    pub right: f64,
    /// Lower edge.
    pub bottom: f64,
}

impl Frame {
    /// Whether two have an area in common.
    #[must_use]
    pub fn overlaps(&self, other: &Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    /// Whether a place lies in it.
    #[must_use]
    pub fn contains(&self, spot: Spot) -> bool {
        (self.left..=self.right).contains(&spot.x) && (self.top..=self.bottom).contains(&spot.y)
    }
}

/// A stroke of a symbol.
#[derive(Clone, Debug, PartialEq)]
pub enum Stroke {
    /// A line through places.
    Line(Vec<Spot>),
    /// A broken line: what is linked by mechanics only.
    Dashes(Vec<Spot>),
    /// A filled shape.
    Shape(Vec<Spot>),
    /// A circle.
    Circle {
        /// Its middle.
        centre: Spot,
        /// Its radius.
        radius: f64,
        /// It is filled.
        filled: bool,
    },
}

/// What a symbol is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SymbolKind {
    /// The battery.
    Battery,
    /// A fuse.
    Fuse,
    /// Body or ground.
    Ground,
    /// A ground stud.
    Stud,
    /// A module, or another box with named pins.
    Box,
    /// Where lines meet.
    Joint,
    /// The outline of what shares one connector.
    Outline,
    /// An element of a part.
    Element(Figure),
}

/// A symbol.
#[derive(Clone, Debug, PartialEq)]
pub struct Symbol {
    /// What it stands for.
    pub thing: Thing,
    /// What it is.
    pub kind: SymbolKind,
    /// Its extent.
    pub frame: Frame,
    /// Its strokes.
    pub strokes: Vec<Stroke>,
    /// Where it is joined: a terminal of the vehicle, or an element's pin as its connector's cavity on the part's side.
    pub terminals: Vec<(End, Spot)>,
}

/// A conductor.
#[derive(Clone, Debug, PartialEq)]
pub struct Wire {
    /// Which.
    pub conductor: ConductorId,
    /// From its upper end to its lower, each piece upright or level.
    pub points: Vec<Spot>,
}

/// A line that is no conductor: the rail, a splice's bar, a lead inside a part.
#[derive(Clone, Debug, PartialEq)]
pub struct Join {
    /// What it belongs to.
    pub thing: Thing,
    /// Its places, each piece upright or level.
    pub points: Vec<Spot>,
}

/// A cavity of a connector, which a line crosses.
#[derive(Clone, Debug, PartialEq)]
pub struct Crossing {
    /// The connector.
    pub connector: ConnectorId,
    /// The cavity.
    pub cavity: u8,
    /// Where its upper half's side is met.
    pub upper: Spot,
    /// Where its lower half's side is met.
    pub lower: Spot,
    /// The half that lies above.
    pub half_above: Half,
    /// Its strokes.
    pub strokes: Vec<Stroke>,
}

impl Crossing {
    /// Its extent.
    #[must_use]
    pub fn frame(&self) -> Frame {
        Frame { left: self.upper.x - 5.0, top: self.upper.y, right: self.upper.x + 5.0, bottom: self.lower.y }
    }
}

/// How a label is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tone {
    /// What something is called.
    Title,
    /// A name in files, or a number.
    Name,
    /// A conductor's colour letters and cross-section.
    Wire,
    /// The page's heading.
    Heading,
}

/// A line of text.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// What it stands for.
    pub thing: Option<Thing>,
    /// The text.
    pub text: String,
    /// The left end of its base line.
    pub spot: Spot,
    /// The height of its letters' body.
    pub size: f64,
    /// How it is written.
    pub tone: Tone,
    /// The room that was kept for it.
    pub frame: Frame,
}

/// A diagram.
#[derive(Clone, Debug, PartialEq)]
pub struct Diagram {
    /// What it shows.
    pub title: String,
    /// Extent to the right.
    pub width: f64,
    /// Extent downwards.
    pub height: f64,
    /// Symbols.
    pub symbols: Vec<Symbol>,
    /// Conductors, each once.
    pub wires: Vec<Wire>,
    /// Other lines.
    pub joins: Vec<Join>,
    /// Connectors' cavities.
    pub crossings: Vec<Crossing>,
    /// Ticks at stations.
    pub ticks: Vec<(Thing, Stroke)>,
    /// Text.
    pub labels: Vec<Label>,
}

/// How near a click has to be to a line.
const NEAR: f64 = 4.0;

impl Diagram {
    /// What is drawn at a place: the smallest thing there.
    #[must_use]
    pub fn hit(&self, x: f64, y: f64) -> Option<Thing> {
        let spot = Spot::new(x, y);
        let crossing = self.crossings.iter().find(|crossing| crossing.frame().contains(spot));
        if let Some(crossing) = crossing {
            return Some(Thing::Cavity(crossing.connector, crossing.cavity));
        }
        let label = self.labels.iter().find(|label| label.thing.is_some() && label.frame.contains(spot));
        if let Some(label) = label {
            return label.thing;
        }
        let tick = self.ticks.iter().find(|(_, stroke)| match stroke {
            Stroke::Line(points) => near_line(points, spot),
            _ => false,
        });
        if let Some((thing, _)) = tick {
            return Some(*thing);
        }
        let symbol = self
            .symbols
            .iter()
            .filter(|symbol| !matches!(symbol.kind, SymbolKind::Outline | SymbolKind::Box))
            .find(|symbol| symbol.frame.contains(spot));
        if let Some(symbol) = symbol {
            return Some(symbol.thing);
        }
        let wire = self.wires.iter().find(|wire| near_line(&wire.points, spot));
        if let Some(wire) = wire {
            return Some(Thing::Conductor(wire.conductor));
        }
        let join = self.joins.iter().find(|join| near_line(&join.points, spot));
        if let Some(join) = join {
            return Some(join.thing);
        }
        self.symbols.iter().find(|symbol| symbol.frame.contains(spot)).map(|symbol| symbol.thing)
    }

    /// Every upright or level piece of a line, with what it belongs to.
    pub fn pieces(&self) -> impl Iterator<Item = (Thing, Spot, Spot)> {
        let wires = self.wires.iter().map(|wire| (Thing::Conductor(wire.conductor), &wire.points));
        let joins = self.joins.iter().map(|join| (join.thing, &join.points));
        wires
            .chain(joins)
            .flat_map(|(thing, points)| points.windows(2).map(move |pair| (thing, pair[0], pair[1])))
    }

    /// How often lines cross one another.
    #[must_use]
    pub fn crossed(&self) -> usize {
        let (level, upright): (Vec<_>, Vec<_>) = self.pieces().partition(|(_, from, to)| from.y == to.y);
        let mut count = 0;
        for (_, from, to) in &level {
            let (left, right) = (from.x.min(to.x), from.x.max(to.x));
            for (_, upper, lower) in &upright {
                let (top, bottom) = (upper.y.min(lower.y), upper.y.max(lower.y));
                count += usize::from(left < upper.x && upper.x < right && top < from.y && from.y < bottom);
            }
        }
        count
    }
}

fn near_line(points: &[Spot], spot: Spot) -> bool {
    points.windows(2).any(|pair| {
        let frame = Frame {
            left: pair[0].x.min(pair[1].x) - NEAR,
            top: pair[0].y.min(pair[1].y) - NEAR,
            right: pair[0].x.max(pair[1].x) + NEAR,
            bottom: pair[0].y.max(pair[1].y) + NEAR,
        };
        frame.contains(spot)
    })
}
