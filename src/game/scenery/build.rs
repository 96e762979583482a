//! Builds the scene: the workshop, the tools, and the vehicle that stands in the bay.

use std::sync::Arc;

use bevy::camera::visibility::NoFrustumCulling;
use bevy::prelude::*;

use super::backdrop::{self, Stale};
use super::brightness::Paint;
use super::catalogue::{self, PROPS, layer};
use super::condition::While;
use super::drawing::{Drawing, Mark, Part};
use super::figure::Figure;
use super::flat::Flat;
use super::hinge::{Face, Hinge};
use super::palette::Palette;
use super::shape::{Shape, Tint, encloses};
use super::stage::{Shown, Stage};
use super::swing::Swing;
use super::through;
use super::undone::{self, On};
use super::view::DESIGN;
use super::wet;
use crate::game::memory;

/// Where a mark belongs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Ground {
    /// On the workshop or on a thing that lies in it; the number is that of the thing in [`PROPS`].
    Room(Option<usize>),
    /// On the body; the lid may cover it.
    Body,
    /// On a face of the lid.
    Lid(Face),
}

pub(super) struct Fixed {
    pub(super) mark: Mark,
    pub(super) ground: Ground,
    /// The panel behind which it lies.
    pub(super) behind: Option<String>,
}

/// A part of the lid: its shape as drawn, and the face it is on.
#[derive(Component)]
pub(super) struct OnLid {
    pub(super) shape: Shape,
    pub(super) face: Face,
    /// It is seen through the lid from the other face.
    pub(super) through: bool,
    /// Of two doors it is on that at this place across; otherwise each of its points is on the one on which it is drawn.
    pub(super) door: Option<f32>,
}

impl OnLid {
    /// What lies on a face.
    pub(super) fn on(face: Face, shape: Shape) -> Self {
        Self { shape, face, through: false, door: None }
    }

    /// Whether it is seen while the lid shows this face.
    pub(super) fn is_seen(&self, shown: Face) -> bool {
        (self.face == shown) != self.through
    }

    /// Where a point of it appears in the scene.
    pub(super) fn place(&self, lid: &Hinge, at: Vec2) -> Vec2 {
        lid.place_by(at, self.face, self.door.unwrap_or(at.x))
    }
}

/// Lit by a lamp.
#[derive(Component)]
pub(super) struct Lit {
    pub(super) lamp: String,
    pub(super) kind: LitKind,
    /// The light last shown, whether that is another than before, and until when it counts as changing.
    pub(super) light: f32,
    pub(super) changed: bool,
    pub(super) changing_until: f32,
    pub(super) flashing: bool,
    pub(super) on_top: bool,
}

#[derive(Clone, Copy)]
pub(super) enum LitKind {
    /// The lamp itself: seen even when it barely glows.
    Lens,
    /// Its shine on what is around it: grows later than the lens.
    Glow,
    /// Light that falls out of the open lid.
    Spill,
}

/// Whether a part of this name is lit by something.
#[cfg(test)]
pub(super) fn is_lit(name: &str) -> bool {
    LIT.iter().any(|(prefix, _)| name.starts_with(prefix))
}

/// The root of a thing of [`PROPS`].
#[derive(Component)]
pub(super) struct PropRoot(pub(super) usize);

/// The meter's knob and the point it turns about.
#[derive(Component)]
pub(super) struct Knob(pub(super) Vec2);

/// Shapes made anew whenever an end of them moves.
#[derive(Component, Clone, Copy, PartialEq, Eq)]
pub(super) enum Live {
    LidRim,
    /// What joins body and lid; the number is that of the link in the figure.
    Link(usize),
    LoomBody,
    LoomLid,
    /// The striker on the body, as it is seen through the lid that covers it.
    StrikerThrough,
    /// What has been taken apart.
    Undone(On),
    Leads,
    /// What is on the recorder's paper.
    Strip,
}

/// What the beginning of a part's name says of how it is lit.
const LIT: [(&str, LitKind); 4] = [
    ("light.", LitKind::Lens),
    ("glow.", LitKind::Glow),
    ("spill.", LitKind::Spill),
    // A line of a heated screen by its heat.
    ("warm.", LitKind::Glow),
];

/// What does not change while one vehicle stands in the bay.
#[derive(Resource, Default)]
pub(super) struct Layout {
    /// The vehicle whose drawings stand there.
    drawn: Option<&'static str>,
    pub(super) figure: Option<Arc<Figure>>,
    pub(super) fixed: Vec<Fixed>,
    /// Edges of the lid, one for each of its plates.
    pub(super) lid_outlines: Vec<Vec<Vec2>>,
    /// The loom's way over the lid, as drawn.
    pub(super) lid_way: Vec<Vec2>,
    pub(super) sizes: Vec<Vec2>,
    /// Where the upper left corner of each thing's drawing is while nobody has it.
    pub(super) homes: Vec<Vec2>,
    /// The halves of a connector that is unplugged, around its place.
    pub(super) apart: Shape,
    /// The striker on the body, as it is seen through the lid.
    pub(super) striker: Shape,
}

impl Layout {
    /// The lid opened by `degrees`, or nothing before the scene has been built.
    pub(super) fn lid(&self, degrees: f32) -> Option<Hinge> {
        self.figure.as_ref().map(|figure| Hinge::new(figure.camera, figure.lid, degrees))
    }

    /// The widest that the lid opens.
    pub(super) fn widest(&self) -> f32 {
        self.figure.as_ref().map_or(0.0, |figure| figure.widest_degrees)
    }

    /// Whether a lamp lights the load space, so that the lid covers its light.
    pub(super) fn lights_load(&self, lamp: &str) -> bool {
        self.figure.as_ref().is_some_and(|figure| figure.load_lamps.iter().any(|one| one == lamp))
    }

    fn take(&mut self, marks: Vec<Mark>, ground: Ground) {
        self.fixed.extend(marks.into_iter().map(|mark| {
            let behind = mark.group.split_once("behind.").map(|(_, panel)| panel.to_owned());
            Fixed { mark, ground, behind }
        }));
    }
}

/// The name of the place where a panel lies that is off, if it leaves the vehicle.
pub(crate) fn laid_anchor(panel: &str) -> String {
    format!("{panel}-laid")
}

/// On the inside of a lid drops hang below this share of its height.
const RUNS_IN: f32 = 0.7;

/// The root of a part of the scene.
#[derive(Component)]
pub(super) struct SceneRoot;

/// Builds the scene when it is first shown, and anew when another vehicle comes into the bay.
pub(super) fn build(
    mut commands: Commands,
    stage: Res<Stage>,
    (mut meshes, mut materials): (ResMut<Assets<Mesh>>, ResMut<Assets<Flat>>),
    (mut layout, mut shown, mut swing, mut stale): (
        ResMut<Layout>,
        ResMut<Shown>,
        ResMut<Swing>,
        ResMut<Stale>,
    ),
    (paint, palette): (Res<Paint>, Res<Palette>),
    roots: Query<Entity, With<SceneRoot>>,
) {
    let vehicle = catalogue::vehicle(&stage.vehicle);
    if layout.drawn == Some(vehicle.id) {
        return;
    }
    for root in &roots {
        commands.entity(root).despawn();
    }
    *shown = Shown::default();
    stale.mark();
    let (body, lid) = (Drawing::read(vehicle.body), Drawing::read(vehicle.lid));
    let figure = Figure::read(vehicle.figure)
        .and_then(|figure| figure.check(&body, &lid).map(|()| figure))
        .unwrap_or_else(|error| panic!("the drawings of {}: {error}", vehicle.id));
    *layout = Layout {
        drawn: Some(vehicle.id),
        figure: Some(Arc::new(figure.clone())),
        apart: undone::apart(),
        ..Layout::default()
    };
    // The new vehicle stands there as it is, and does not swing its lid to where it is.
    *swing = Swing::resting(stage.lid_degrees.clamp(0.0, figure.widest_degrees));

    // The paint stays the same, so that a bright room stays bright.
    let white = paint.0.clone();
    let shadow = palette.get("floor-shadow").to_f32_array();
    let mut spawner =
        Spawner { meshes: &mut meshes, materials: &mut materials, white: white.clone(), shadow };
    let root = commands
        .spawn((SceneRoot, Transform::from_translation(corner(Vec2::ZERO)), Visibility::default()))
        .id();

    let workshop = Drawing::read(catalogue::WORKSHOP);
    for (k, part) in workshop.parts.into_iter().enumerate() {
        let height = if part.name == "dusk.vignette" { layer::VEIL } else { layer::WORKSHOP + k as f32 };
        spawner.part(&mut commands, root, part, height);
    }
    layout.take(workshop.marks, Ground::Room(None));

    for part in body.parts.iter().filter(|part| wet::WETTED.contains(&part.name.as_str())) {
        let (low, high) = part.shape.bounds();
        let shape = wet::drops(low, high, &|at| part.shape.covers(at), &palette);
        let entity = spawner.shape(&mut commands, root, &shape, white.clone(), layer::WET_BODY);
        commands.entity(entity).insert((While::Wet, Visibility::Hidden));
    }
    let mut loom_height = layer::BODY;
    for (k, part) in body.parts.into_iter().enumerate() {
        let height = layer::BODY + k as f32;
        if part.name == figure.body_loom.over {
            loom_height = height + 0.5;
        }
        layout.fixed.extend(spawner.aside(&mut commands, root, &figure, &part.name, &part.shape, height));
        if part.name == through::STRIKER {
            layout.striker = through::seen(through::STRIKER, &part.shape);
        }
        spawner.part(&mut commands, root, part, height);
    }
    layout.take(body.marks, Ground::Body);

    layout.lid_outlines = lid.outlines().map(|part| part.outline.clone()).collect();
    let through = figure.lid_loom.through.iter();
    layout.lid_way = through.filter_map(|name| lid.mark(name)).map(|mark| mark.centre).collect();
    let mark = |name: &str| lid.marks.iter().find(|mark| mark.name == name).map(|mark| mark.centre);
    let mut lid_loom_height = layer::LID;
    for (k, part) in lid.parts.into_iter().filter(|part| !part.is_outline()).enumerate() {
        let height = layer::LID + 2.0 + k as f32;
        let (face, name) = match part.name.strip_prefix("inside.") {
            Some(name) => (Face::Inside, name.to_owned()),
            None => (Face::Outside, part.name.trim_start_matches("outside.").to_owned()),
        };
        if face == Face::Inside && name == figure.lid_loom.over {
            lid_loom_height = height + 0.5;
        }
        layout.fixed.extend(spawner.aside(&mut commands, root, &figure, &name, &part.shape, height));
        // As it is, and what the shut lid hides of the latch once more as it is seen through the lid.
        let through = through::height(&name).filter(|_| face == Face::Inside);
        let seen = through.map(|height| (through::seen(&name, &part.shape), height, true));
        for (shape, height, through) in std::iter::once((part.shape, height, false)).chain(seen) {
            let turned = figure.turned(&name, &shape, &mark, stage.latch_claw_open);
            let door = (name == through::STRIKER).then(|| shape.bounds().0.x);
            let part = Part { name: name.clone(), shape: shape.clone(), outline: Vec::new() };
            let entity = spawner.part(&mut commands, root, part, height);
            let mut entity = commands.entity(entity);
            entity.insert((OnLid { shape, face, through, door }, NoFrustumCulling));
            if let Some(turned) = turned {
                entity.insert(turned);
            }
        }
    }
    for outline in &layout.lid_outlines {
        let points = || outline.iter().copied();
        let (low, high) = (points().reduce(Vec2::min), points().reduce(Vec2::max));
        let (Some(low), Some(high)) = (low, high) else { continue };
        for (face, low) in [(Face::Outside, low), (Face::Inside, low.with_y(low.y.lerp(high.y, RUNS_IN)))] {
            let shape = wet::drops(low, high, &|at| encloses(outline, at), &palette);
            let entity = spawner.shape(&mut commands, root, &shape, white.clone(), layer::WET_LID);
            commands.entity(entity).insert((
                While::Wet,
                OnLid::on(face, shape),
                NoFrustumCulling,
                Visibility::Hidden,
            ));
        }
    }
    for mark in lid.marks {
        let face = if mark.group.starts_with("at-outside") { Face::Outside } else { Face::Inside };
        layout.take(vec![mark], Ground::Lid(face));
    }

    let links = (0..figure.links.len()).map(|k| (Live::Link(k), layer::LINKS_UNDER + k as f32));
    for (live, height) in [
        (Live::LidRim, layer::LID),
        (Live::LoomBody, loom_height),
        (Live::LoomLid, lid_loom_height),
        (Live::StrikerThrough, through::STRIKER_HEIGHT),
        // Over all of the lid, and of the body where the lid leaves it in sight.
        (Live::Undone(On::Lid), layer::LINKS_OVER - 1.0),
        (Live::Undone(On::Body), layer::UNDONE),
        (Live::Leads, layer::LEADS),
        (Live::Strip, layer::STRIP),
    ]
    .into_iter()
    .chain(links)
    {
        // A mesh without corners is no mesh, so until it is drawn there is a clear speck.
        let mut speck = Shape::default();
        speck.disc(Vec2::ZERO, 1.0, [0.0; 4]);
        let entity = spawner.shape(&mut commands, root, &speck, white.clone(), height);
        commands.entity(entity).insert((live, NoFrustumCulling, Visibility::Hidden));
    }

    for (k, prop) in PROPS.iter().enumerate() {
        let drawing = Drawing::read(prop.drawing.unwrap_or(vehicle.side));
        let middle = drawing.mark(prop.name).map_or(Vec2::ZERO, |mark| mark.centre);
        layout.sizes.push(middle);
        let mark = |name: &str| layout.fixed.iter().find(|one| one.mark.name == name);
        let home = prop.at.corner(&|name| mark(name).map(|one| one.mark.centre), &drawing);
        layout.homes.push(home);
        let pivot = drawing.mark("meter-knob").map(|mark| mark.centre);
        let root = commands
            .spawn((SceneRoot, PropRoot(k), Transform::from_translation(corner(home)), Visibility::default()))
            .id();
        for (j, part) in drawing.parts.into_iter().enumerate() {
            let knob = (part.name == "meter-knob").then_some(pivot).flatten();
            // Lamps shine over their neighbours on the trolley.
            let lift = if part.name.starts_with("glow.") { layer::TOOLS + 90.0 - prop.layer } else { 0.0 };
            let entity = spawner.part(&mut commands, root, part, prop.layer + lift + j as f32);
            if let Some(pivot) = knob {
                commands.entity(entity).insert(Knob(pivot));
            }
        }
        layout.take(drawing.marks, Ground::Room(Some(k)));
    }
    // The drawings as they were read.
    memory::give_back();
}

/// The world position of a drawing whose upper left corner lies at `at`.
pub(super) fn corner(at: Vec2) -> Vec3 {
    Vec3::new(at.x - DESIGN.x / 2.0, DESIGN.y / 2.0 - at.y, 0.0)
}

struct Spawner<'a> {
    meshes: &'a mut Assets<Mesh>,
    materials: &'a mut Assets<Flat>,
    white: Handle<Flat>,
    /// What a thing that lies leaves on the floor.
    shadow: Tint,
}

impl Spawner<'_> {
    fn shape(
        &mut self,
        commands: &mut Commands,
        root: Entity,
        shape: &Shape,
        material: Handle<Flat>,
        height: f32,
    ) -> Entity {
        let mesh = self.meshes.add(shape.mesh(&|at| at));
        commands
            .spawn((
                Mesh2d(mesh),
                MeshMaterial2d(material),
                Transform::from_xyz(0.0, 0.0, height),
                backdrop::layer(false),
                ChildOf(root),
            ))
            .id()
    }

    /// Spawns what is seen of a panel while it is off. Gives where it lies, if it leaves the vehicle.
    fn aside(
        &mut self,
        commands: &mut Commands,
        root: Entity,
        figure: &Figure,
        part: &str,
        shape: &Shape,
        height: f32,
    ) -> Option<Fixed> {
        let panel = part.strip_prefix("panel.")?;
        let at = figure.aside.iter().position(|aside| aside.panel == panel)?;
        let goes = figure.aside[at].goes;
        let height = if goes.leaves() { layer::ASIDE + at as f32 } else { height };
        let laid = goes.laid(shape, self.shadow);
        let entity = self.shape(commands, root, &laid, self.white.clone(), height);
        commands.entity(entity).insert((While::PanelOff(panel.to_owned()), Visibility::Hidden));
        goes.leaves().then(|| {
            let (low, high) = laid.bounds();
            let (name, group) = (laid_anchor(panel), String::new());
            let mark = Mark { name, centre: low.midpoint(high), size: high - low, group };
            Fixed { mark, ground: Ground::Room(None), behind: Some(panel.to_owned()) }
        })
    }

    /// Spawns a part and gives it the behaviour that its name asks for.
    fn part(&mut self, commands: &mut Commands, root: Entity, part: Part, height: f32) -> Entity {
        let lit = LIT
            .into_iter()
            .find_map(|(prefix, kind)| part.name.strip_prefix(prefix).map(|lamp| (lamp.to_owned(), kind)));
        let material = match lit {
            Some(_) => self.materials.add(Flat::default()),
            None => self.white.clone(),
        };
        let entity = self.shape(commands, root, &part.shape, material, height);
        let mut entity = commands.entity(entity);
        if let Some((lamp, kind)) = lit {
            let lit = Lit {
                lamp,
                kind,
                light: 0.0,
                changed: false,
                changing_until: 0.0,
                flashing: false,
                on_top: false,
            };
            entity.insert((lit, Visibility::Hidden));
        }
        if let Some(condition) = While::of_part(&part.name) {
            entity.insert(condition);
        }
        entity.id()
    }
}
