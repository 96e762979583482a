//! Reads a drawing (SVG) into named parts and named places.
//!
//! Each group directly below the drawing's root is a part, painted in the order of the file. Shapes whose
//! id begins with `at.` are never painted: they mark places, so an artist moves a place by moving its mark.
//! Text, images, clip paths, masks and filters are not read; the drawings use none.

use bevy::prelude::*;
use lyon_tessellation::geometry_builder::{BuffersBuilder, VertexBuffers};
use lyon_tessellation::math::point;
use lyon_tessellation::path::iterator::PathIterator;
use lyon_tessellation::path::{Path as Outline, PathEvent};
use lyon_tessellation::{FillOptions, FillTessellator, FillVertex};
use usvg::tiny_skia_path::{PathSegment, Point};

use super::named::coloured;
use super::shape::{Shape, Tint};

/// How far a flattened curve may stray, in design units.
const TOLERANCE: f32 = 0.12;

/// A drawing taken apart.
pub(super) struct Drawing {
    /// Groups below the root, in painting order.
    pub(super) parts: Vec<Part>,
    /// Places marked in the drawing.
    pub(super) marks: Vec<Mark>,
}

/// A group below the root of a drawing.
pub(super) struct Part {
    /// The group's id.
    pub(super) name: String,
    /// What it paints.
    pub(super) shape: Shape,
    /// The first outline in it, flattened.
    pub(super) outline: Vec<Vec2>,
}

impl Part {
    /// Whether it only says where the edge of a lid is.
    pub(super) fn is_outline(&self) -> bool {
        self.name == "outline" || self.name.starts_with("outline.")
    }
}

/// A place marked by a shape whose id begins with `at.`.
pub(super) struct Mark {
    /// The id without `at.`.
    pub(super) name: String,
    /// Middle of the mark.
    pub(super) centre: Vec2,
    /// Width and height of the mark.
    pub(super) size: Vec2,
    /// Id of the group it stands in.
    pub(super) group: String,
}

impl Drawing {
    /// Reads a drawing that is compiled in.
    pub(super) fn read(text: &str) -> Self {
        let tree = usvg::Tree::from_str(&coloured(text), &usvg::Options::default())
            .expect("the drawings are compiled in and are well-formed SVG");
        let mut drawing = Self { parts: Vec::new(), marks: Vec::new() };
        // A drawing that is shown larger or smaller than its figures say stands in a group of its own.
        let all = match tree.root().children() {
            [usvg::Node::Group(whole)] if whole.id().is_empty() => whole.children(),
            several => several,
        };
        for node in all {
            let mut part = Part { name: node.id().to_owned(), shape: Shape::default(), outline: Vec::new() };
            drawing.take(node, 1.0, &mut part);
            if !part.shape.is_empty() {
                drawing.parts.push(part);
            }
        }
        drawing
    }

    /// The edges of a lid: the parts called `outline`, or `outline.` and a name.
    pub(super) fn outlines(&self) -> impl Iterator<Item = &Part> {
        self.parts.iter().filter(|part| part.is_outline())
    }

    /// The mark called `name`.
    pub(super) fn mark(&self, name: &str) -> Option<&Mark> {
        self.marks.iter().find(|mark| mark.name == name)
    }

    fn take(&mut self, node: &usvg::Node, opacity: f32, part: &mut Part) {
        if let Some(name) = node.id().strip_prefix("at.") {
            let bounds = node.abs_bounding_box();
            self.marks.push(Mark {
                name: name.to_owned(),
                centre: Vec2::new(bounds.x() + bounds.width() / 2.0, bounds.y() + bounds.height() / 2.0),
                size: Vec2::new(bounds.width(), bounds.height()),
                group: part.name.clone(),
            });
            return;
        }
        match node {
            usvg::Node::Group(group) => {
                for child in group.children() {
                    self.take(child, opacity * group.opacity().get(), part);
                }
            }
            usvg::Node::Path(path) => paint(path, opacity, part),
            usvg::Node::Image(_) | usvg::Node::Text(_) => {}
        }
    }
}

fn paint(path: &usvg::Path, opacity: f32, part: &mut Part) {
    let outline = outline_of(path);
    let lines = flatten(&outline);
    if part.outline.is_empty() {
        part.outline = lines.first().map(|(line, _)| line.clone()).unwrap_or_default();
    }
    if let Some(fill) = path.fill() {
        let paint = Ink::new(fill.paint(), fill.opacity().get() * opacity);
        let rule = match fill.rule() {
            usvg::FillRule::NonZero => lyon_tessellation::FillRule::NonZero,
            usvg::FillRule::EvenOdd => lyon_tessellation::FillRule::EvenOdd,
        };
        let mut buffers: VertexBuffers<Vec2, u32> = VertexBuffers::new();
        let mut sink = BuffersBuilder::new(&mut buffers, |vertex: FillVertex| {
            let at = vertex.position();
            Vec2::new(at.x, at.y)
        });
        let options = FillOptions::tolerance(TOLERANCE).with_fill_rule(rule);
        // A drawing that cannot be filled shows its strokes; the test below keeps the bundled ones fillable.
        let filled = FillTessellator::new().tessellate_path(&outline, &options, &mut sink).is_ok();
        if filled {
            part.shape.triangles(&buffers.vertices, &buffers.indices, &|at| paint.tint(at), &|a, b| {
                paint.bends(a, b)
            });
            if paint.opaque() {
                for (line, _) in &lines {
                    part.shape.soft_rim(line, &|at| paint.tint(at));
                }
            }
        }
    }
    if let Some(stroke) = path.stroke() {
        let paint = Ink::new(stroke.paint(), stroke.opacity().get() * opacity);
        let width = stroke.width().get();
        for (line, closed) in &lines {
            match (stroke.linecap(), closed, &paint) {
                (usvg::LineCap::Round, false, Ink::Flat(tint)) => part.shape.cord(line, width, *tint),
                _ => part.shape.stroke(line, *closed, width, &|at| paint.tint(at)),
            }
        }
    }
}

fn outline_of(path: &usvg::Path) -> Outline {
    let transform = path.abs_transform();
    let map = |mut at: Point| {
        transform.map_point(&mut at);
        point(at.x, at.y)
    };
    let mut builder = Outline::builder();
    let mut open = false;
    for segment in path.data().segments() {
        match segment {
            PathSegment::MoveTo(to) => {
                if open {
                    builder.end(false);
                }
                builder.begin(map(to));
                open = true;
            }
            PathSegment::LineTo(to) => {
                builder.line_to(map(to));
            }
            PathSegment::QuadTo(by, to) => {
                builder.quadratic_bezier_to(map(by), map(to));
            }
            PathSegment::CubicTo(one, two, to) => {
                builder.cubic_bezier_to(map(one), map(two), map(to));
            }
            PathSegment::Close => {
                builder.end(true);
                open = false;
            }
        }
    }
    if open {
        builder.end(false);
    }
    builder.build()
}

fn flatten(outline: &Outline) -> Vec<(Vec<Vec2>, bool)> {
    let mut lines = Vec::new();
    let mut line: Vec<Vec2> = Vec::new();
    for event in outline.iter().flattened(TOLERANCE) {
        match event {
            PathEvent::Begin { at } => line = vec![Vec2::new(at.x, at.y)],
            PathEvent::Line { to, .. } => line.push(Vec2::new(to.x, to.y)),
            PathEvent::End { close, .. } => lines.push((std::mem::take(&mut line), close)),
            PathEvent::Quadratic { .. } | PathEvent::Cubic { .. } => {}
        }
    }
    lines
}

/// A paint that can be asked for its colour at any point.
enum Ink {
    Flat(Tint),
    Gradient { stops: Vec<(f32, Tint)>, back: usvg::Transform, form: Form },
}

enum Form {
    Linear { from: Vec2, way: Vec2 },
    Radial { centre: Vec2, radius: f32 },
}

impl Ink {
    fn new(paint: &usvg::Paint, opacity: f32) -> Self {
        let tint = |colour: usvg::Color, alpha: f32| {
            let [red, green, blue] =
                [colour.red, colour.green, colour.blue].map(|part| f32::from(part) / 255.0);
            [red, green, blue, alpha * opacity]
        };
        let stops = |gradient: &usvg::BaseGradient| {
            gradient
                .stops()
                .iter()
                .map(|stop| (stop.offset().get(), tint(stop.color(), stop.opacity().get())))
                .collect::<Vec<_>>()
        };
        match paint {
            usvg::Paint::Color(colour) => Self::Flat(tint(*colour, 1.0)),
            usvg::Paint::LinearGradient(gradient) => {
                let from = Vec2::new(gradient.x1(), gradient.y1());
                let way = Vec2::new(gradient.x2(), gradient.y2()) - from;
                Self::Gradient {
                    stops: stops(gradient),
                    back: gradient.transform().invert().unwrap_or_default(),
                    form: Form::Linear { from, way },
                }
            }
            usvg::Paint::RadialGradient(gradient) => Self::Gradient {
                stops: stops(gradient),
                back: gradient.transform().invert().unwrap_or_default(),
                form: Form::Radial {
                    centre: Vec2::new(gradient.cx(), gradient.cy()),
                    radius: gradient.r().get(),
                },
            },
            usvg::Paint::Pattern(_) => Self::Flat([0.0; 4]),
        }
    }

    fn opaque(&self) -> bool {
        match self {
            Self::Flat(tint) => tint[3] > 0.99,
            Self::Gradient { stops, .. } => stops.iter().all(|(_, tint)| tint[3] > 0.99),
        }
    }

    fn tint(&self, at: Vec2) -> Tint {
        match self {
            Self::Flat(tint) => *tint,
            Self::Gradient { stops, back, form } => {
                let along = form.along(unmapped(back, at));
                let next = stops.iter().position(|(offset, _)| *offset >= along).unwrap_or(stops.len());
                match (next.checked_sub(1).and_then(|k| stops.get(k)), stops.get(next)) {
                    (Some((low, one)), Some((high, two))) => {
                        let share = if high > low { (along - low) / (high - low) } else { 1.0 };
                        std::array::from_fn(|k| one[k] + (two[k] - one[k]) * share)
                    }
                    (Some((_, only)), None) | (None, Some((_, only))) => *only,
                    (None, None) => [0.0; 4],
                }
            }
        }
    }

    /// Whether the colour may bend visibly between two points.
    fn bends(&self, a: Vec2, b: Vec2) -> bool {
        let Self::Gradient { back, form, .. } = self else { return false };
        let (a, b) = (unmapped(back, a), unmapped(back, b));
        match form {
            Form::Linear { .. } => {
                let (one, two) = (form.along(a).clamp(0.0, 1.0), form.along(b).clamp(0.0, 1.0));
                (one - two).abs() > 0.07
            }
            Form::Radial { centre, radius } => {
                let (a, b) = ((a - *centre) / *radius, (b - *centre) / *radius);
                let nearest = {
                    let way = b - a;
                    let share = (-a.dot(way) / way.length_squared().max(1e-9)).clamp(0.0, 1.0);
                    (a + way * share).length()
                };
                nearest < 1.0 && a.distance(b) > 0.13
            }
        }
    }
}

impl Form {
    fn along(&self, at: Vec2) -> f32 {
        match self {
            Self::Linear { from, way } => (at - *from).dot(*way) / way.length_squared().max(1e-9),
            Self::Radial { centre, radius } => at.distance(*centre) / radius,
        }
    }
}

fn unmapped(back: &usvg::Transform, at: Vec2) -> Vec2 {
    let mut point = Point::from_xy(at.x, at.y);
    back.map_point(&mut point);
    Vec2::new(point.x, point.y)
}

#[cfg(test)]
mod tests {
    use super::super::catalogue::every_drawing;
    use super::Drawing;

    #[test]
    fn every_drawing_reads_and_every_part_has_a_name() {
        for (name, text) in every_drawing() {
            let drawing = Drawing::read(text);
            assert!(!drawing.parts.is_empty(), "{name} paints nothing");
            assert!(
                drawing.parts.iter().all(|part| !part.name.is_empty()),
                "{name} has a group without an id"
            );
            assert!(!drawing.marks.is_empty(), "{name} marks no place");
        }
    }
}
