//! What is shown on the scene, and the systems that show it.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use bevy::prelude::*;

use super::backdrop::{self, Stale};
use super::build::{self, Fixed, Ground, Knob, Layout, Lit, LitKind, Live, OnLid, PropRoot, corner};
use super::catalogue::PROPS;
use super::condition::While;
use super::figure::Link;
use super::flat::Flat;
use super::leads::{PenLine, StageLead};
use super::live;
use super::palette::Palette;
use super::shape::encloses;
use super::sway::{Sways, swing_leads};
use super::swing::{Swing, swing_lid};
use super::through;
use super::turned::{self, Motion, Turned};
use super::undone::Opened;
use super::unplaced::{self, Wanted};

/// Everything the scene shows that can change. Write it whenever you like; unchanged values cost nothing.
#[derive(Resource, Clone, Debug, PartialEq)]
pub(crate) struct Stage {
    /// The vehicle in the bay, by its name. One without drawings of its own is drawn as the estate car.
    pub vehicle: String,
    /// How far the lid is to be open, in degrees from shut. The drawn lid swings there.
    pub lid_degrees: f32,
    /// Light of each lamp as a fraction of its full light, by the name of its part, and of the test lamps by
    /// `test-lamp-5` and `test-lamp-21`; and heat of a screen's lines from the top as `rear-screen.1`.
    pub lights: BTreeMap<String, f32>,
    /// Whether the raised lid, or the doors, are propped.
    pub propped: bool,
    /// Whether its rear is wet.
    pub wet: bool,
    /// Motors that turn, by the names of their parts: what they sweep goes to and fro.
    pub turning: BTreeSet<String>,
    /// Panels taken off, by their names.
    pub panels_off: BTreeSet<String>,
    /// Connectors that are unplugged, by their names, with the place at which each is drawn apart where the drawings have no
    /// other for it.
    pub unplugged: BTreeMap<String, String>,
    /// Fuses out of their slots, by their names.
    pub fuses_out: BTreeSet<String>,
    /// Places of the loom that are wrapped in tape.
    pub taped: BTreeSet<String>,
    /// Where the tape of the loom has been opened.
    pub opened: Vec<Opened>,
    /// Leads that hang in the scene, painted in order.
    pub leads: Vec<StageLead>,
    /// Tools taken from the trolley (`key`, `test-lamp-5`, `test-lamp-21`, `bridge`, `bench-battery`,
    /// `fuse-tray`). They are drawn where [`Stage::tools_at`] says, or not at all.
    pub tools_out: BTreeSet<String>,
    /// Where the middle of a tool that is out is drawn.
    pub tools_at: BTreeMap<String, Vec2>,
    /// What the recorder took down last.
    pub strip: Arc<[PenLine]>,
    /// The wires of the loom, up to eight.
    pub loom: Vec<LoomWire>,
    /// How far the latch's claw is open, from 0 (home, closed) over a half (on its first catch) to 1.
    pub latch_claw_open: f32,
    /// Whether the eye is near: what the shut lid hides of the latch is then seen through it.
    pub near: bool,
    /// Where the meter's knob points, in degrees clockwise from straight up. The drawn marks stand at
    /// -110 (off), -73 (volts), -37 (volts, low impedance), 0 (ohms), 37 (tone), 73 (diode) and 110 (amps).
    pub meter_knob_degrees: f32,
    /// Whether things are put in place at once instead of moving there.
    pub reduced_motion: bool,
    /// Places of the vehicle: those that the drawings do not show stand in rows.
    pub wanted: Arc<[Wanted]>,
}

impl Default for Stage {
    fn default() -> Self {
        Self {
            vehicle: String::new(),
            lid_degrees: 0.0,
            propped: false,
            wet: false,
            lights: BTreeMap::new(),
            turning: BTreeSet::new(),
            panels_off: BTreeSet::new(),
            unplugged: BTreeMap::new(),
            fuses_out: BTreeSet::new(),
            opened: Vec::new(),
            leads: Vec::new(),
            tools_out: BTreeSet::new(),
            tools_at: BTreeMap::new(),
            strip: Arc::default(),
            loom: Vec::new(),
            latch_claw_open: 0.0,
            near: false,
            taped: BTreeSet::new(),
            meter_knob_degrees: -110.0,
            reduced_motion: false,
            wanted: Arc::default(),
        }
    }
}

/// A wire of the loom by its sheath, as red, green and blue from 0 to 1 (see [`Palette::wire`]).
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct LoomWire {
    /// Colour of the sheath.
    pub base: [f32; 3],
    /// Colour of its stripe.
    pub stripe: Option<[f32; 3]>,
}

/// The systems of the scene, in `Update`. Run writers of [`Stage`] before this set and readers of [`Anchors`] after it.
#[derive(SystemSet, Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) struct SceneSet;

/// A named place in the scene as it is drawn now, in design units.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Placed {
    /// Middle of the place.
    pub centre: Vec2,
    /// Width and height of its mark; about 8 by 8 for a mere point.
    pub size: Vec2,
    /// Whether it can be seen: not behind the lid, on its hidden face, or behind a panel.
    pub visible: bool,
}

/// Where every named place is now.
#[derive(Resource, Default)]
#[cfg_attr(test, derive(Clone))]
pub(crate) struct Anchors {
    places: BTreeMap<String, Placed>,
    pub(super) lid_degrees: f32,
    pub(super) lid_moving: bool,
    /// Whether the lid is drawn over the picture of what stands still: while it moves, or a lamp flashes that it covers in part.
    pub(super) lid_on_top: bool,
}

impl Anchors {
    /// Places of these names somewhere, all in view.
    #[cfg(test)]
    pub(crate) fn of(names: impl IntoIterator<Item = String>) -> Self {
        let somewhere = Placed { centre: Vec2::ZERO, size: Vec2::ZERO, visible: true };
        Self { places: names.into_iter().map(|name| (name, somewhere)).collect(), ..Self::default() }
    }

    /// The place called `name` (without `at.`).
    pub(crate) fn design(&self, name: &str) -> Option<Placed> {
        self.places.get(name).copied()
    }
}

/// What was drawn last, so that only changes are drawn.
#[derive(Resource, Default)]
pub(super) struct Shown {
    pub(super) stage: Option<Stage>,
    pub(super) lid_degrees: f32,
}

/// How long a lamp is drawn on top after its light changed, so that a blinking one costs little.
const RESTLESS_SECS: f32 = 1.2;
pub(super) fn plugin(app: &mut App) {
    app.init_resource::<Anchors>()
        .init_resource::<Swing>()
        .init_resource::<Shown>()
        .init_resource::<Sways>()
        .init_resource::<Motion>()
        .init_resource::<Layout>()
        .add_systems(
            Update,
            (
                build::build,
                swing_lid,
                place_anchors,
                swing_leads,
                show_parts,
                show_lights,
                watch_lamps,
                turned::turn,
                turn_lid,
                live::draw,
                settle,
                remember,
            )
                .chain()
                .in_set(SceneSet),
        );
}

fn place_anchors(stage: Res<Stage>, shown: Res<Shown>, layout: Res<Layout>, mut anchors: ResMut<Anchors>) {
    let fresh = shown.stage.as_ref().is_none_or(|old| {
        old.panels_off != stage.panels_off
            || old.tools_out != stage.tools_out
            || old.tools_at != stage.tools_at
            || old.wanted != stage.wanted
    });
    if !fresh && shown.lid_degrees == anchors.lid_degrees {
        return;
    }
    let (Some(lid), Some(figure)) = (layout.lid(anchors.lid_degrees), layout.figure.as_ref()) else { return };
    let shows = lid.shows();
    let cover = |line: &Vec<Vec2>| line.iter().map(|at| lid.place(*at, shows)).collect::<Vec<Vec2>>();
    let covers: Vec<Vec<Vec2>> = layout.lid_outlines.iter().map(cover).collect();
    let mut places = BTreeMap::new();
    // What lies in the middle of a link is put in below, between its two ends.
    let is_drawn = |name: &str| {
        figure.links.iter().any(|link| link.place.as_deref() == Some(name))
            || layout.fixed.iter().any(|one| one.mark.name == name)
    };
    let unplaced: Vec<Fixed> = unplaced::marks(&stage.wanted, &is_drawn)
        .into_iter()
        .map(|(mark, ground)| Fixed { mark, ground, behind: None })
        .collect();
    for Fixed { mark, ground, behind } in layout.fixed.iter().chain(&unplaced) {
        let uncovered = behind.as_ref().is_none_or(|panel| stage.panels_off.contains(panel));
        let placed = match ground {
            Ground::Room(prop) => {
                let at = match prop {
                    Some(k) => prop_corner(*k, &stage, &layout),
                    None => Some(Vec2::ZERO),
                };
                let home = prop.map_or(Vec2::ZERO, |k| layout.homes[k]);
                // A panel lies there while it is off.
                let visible = at.is_some() && uncovered;
                Placed { centre: mark.centre + at.unwrap_or(home), size: mark.size, visible }
            }
            Ground::Body => {
                // Rear lamps stand beside the opening; all else on the body lies inside it.
                let visible = uncovered && !covers.iter().any(|cover| encloses(cover, mark.centre));
                Placed { centre: mark.centre, size: mark.size, visible }
            }
            Ground::Lid(face) => {
                let half = mark.size / 2.0;
                let corners = [half, -half, Vec2::new(half.x, -half.y), Vec2::new(-half.x, half.y)]
                    .map(|by| lid.place(mark.centre + by, *face));
                let low = corners.iter().copied().reduce(Vec2::min).unwrap_or_default();
                let high = corners.iter().copied().reduce(Vec2::max).unwrap_or_default();
                let visible = uncovered && shows == *face;
                Placed { centre: lid.place(mark.centre, *face), size: high - low, visible }
            }
        };
        places.insert(mark.name.clone(), placed);
    }
    for link in &figure.links {
        let ends = (places.get(&link.body).copied(), places.get(&link.lid).copied());
        if let (Some(place), (Some(body), Some(end))) = (&link.place, ends) {
            let centre = Link::middle(&link.line(body.centre, end.centre));
            let visible = body.visible && anchors.lid_degrees > 8.0;
            places.insert(place.clone(), Placed { centre, size: Vec2::splat(40.0), visible });
        }
    }
    anchors.places = places;
}

/// Where the upper left corner of a thing's drawing is, or nothing while it is out and not drawn.
fn prop_corner(k: usize, stage: &Stage, layout: &Layout) -> Option<Vec2> {
    let prop = &PROPS[k];
    if !stage.tools_out.contains(prop.name) {
        return Some(layout.homes[k]);
    }
    stage.tools_at.get(prop.name).map(|middle| *middle - layout.sizes[k])
}

fn show_parts(
    stage: Res<Stage>,
    shown: Res<Shown>,
    anchors: Res<Anchors>,
    layout: Res<Layout>,
    palette: Res<Palette>,
    mut parts: Query<
        (&mut Visibility, Option<&OnLid>, Option<&While>),
        (With<Mesh2d>, Without<Lit>, Without<Live>),
    >,
    mut props: Query<(&PropRoot, &mut Transform, &mut Visibility), Without<Mesh2d>>,
    mut knobs: Query<(&Knob, &mut Transform), With<Mesh2d>>,
) {
    let Some(face) = layout.lid(anchors.lid_degrees).map(|lid| lid.shows()) else { return };
    let looks_through = through::is_looked_through(&stage, anchors.lid_degrees);
    for (mut visibility, on_lid, condition) in &mut parts {
        let show = on_lid.is_none_or(|part| part.is_seen(face) && (looks_through || !part.through))
            && condition.is_none_or(|condition| condition.holds(&stage, &palette));
        visibility.set_if_neq(if show { Visibility::Inherited } else { Visibility::Hidden });
    }
    let old = shown.stage.as_ref();
    if old.is_none_or(|old| old.tools_out != stage.tools_out || old.tools_at != stage.tools_at) {
        for (root, mut transform, mut visibility) in &mut props {
            let at = prop_corner(root.0, &stage, &layout);
            *visibility = if at.is_some() { Visibility::Inherited } else { Visibility::Hidden };
            if let Some(at) = at {
                transform.translation = corner(at);
            }
        }
    }
    if old.is_none_or(|old| old.meter_knob_degrees != stage.meter_knob_degrees) {
        for (knob, mut transform) in &mut knobs {
            let turn = Quat::from_rotation_z(-stage.meter_knob_degrees.to_radians());
            let pivot = Vec3::new(knob.0.x, -knob.0.y, 0.0);
            let height = transform.translation.z;
            *transform = Transform::from_rotation(turn);
            transform.translation = pivot - turn * pivot;
            transform.translation.z = height;
        }
    }
}

fn show_lights(
    stage: Res<Stage>,
    shown: Res<Shown>,
    anchors: Res<Anchors>,
    layout: Res<Layout>,
    mut materials: ResMut<Assets<Flat>>,
    mut lit: Query<(&Lit, &MeshMaterial2d<Flat>, &mut Visibility, Option<&OnLid>)>,
) {
    let same = shown.stage.as_ref().is_some_and(|old| old.lights == stage.lights);
    if same && shown.lid_degrees == anchors.lid_degrees {
        return;
    }
    let Some(lid) = layout.lid(anchors.lid_degrees) else { return };
    for (part, material, mut visibility, on_lid) in &mut lit {
        let light = stage.lights.get(&part.lamp).copied().unwrap_or(0.0).clamp(0.0, 1.0);
        // The eye answers to a power of the light: a twentieth is seen clearly, a quarter is plainly not full.
        let alpha = match part.kind {
            LitKind::Lens => light.powf(0.45),
            LitKind::Glow => light.powf(0.8),
            LitKind::Spill => light.powf(0.8) * lid.openness(),
        };
        let show = alpha > 0.003 && on_lid.is_none_or(|part| part.is_seen(lid.shows()));
        visibility.set_if_neq(if show { Visibility::Inherited } else { Visibility::Hidden });
        if show && let Some(mut material) = materials.get_mut(&material.0) {
            material.colour = Vec4::ONE.with_w(alpha);
        }
    }
}

fn turn_lid(
    stage: Res<Stage>,
    shown: Res<Shown>,
    anchors: Res<Anchors>,
    layout: Res<Layout>,
    mut meshes: ResMut<Assets<Mesh>>,
    parts: Query<(&OnLid, &Mesh2d, Option<&While>)>,
) {
    let old = shown.stage.as_ref();
    let turned = old.is_none() || shown.lid_degrees != anchors.lid_degrees;
    let wetted = stage.wet && old.is_some_and(|old| !old.wet);
    if !turned && !wetted {
        return;
    }
    let Some(lid) = layout.lid(anchors.lid_degrees) else { return };
    for (part, mesh, condition) in &parts {
        // Drops are many: on a dry lid they are not turned, and on one that gets wet they are.
        let is_drops = condition == Some(&While::Wet);
        let is_due = if is_drops { stage.wet } else { turned };
        // The hidden face is not drawn; it is turned when it comes to the front, as the lid is moving then.
        if is_due
            && part.is_seen(lid.shows())
            && let Some(mut mesh) = meshes.get_mut(&mesh.0)
        {
            *mesh = part.shape.mesh(&|at| part.place(&lid, at));
        }
    }
}

/// Sees which lamps flash. A lid that rests half open covers the edge of the rear lamps, so it is drawn over what flashes.
fn watch_lamps(
    time: Res<Time<Real>>,
    stage: Res<Stage>,
    layout: Res<Layout>,
    mut anchors: ResMut<Anchors>,
    mut lit: Query<(&mut Lit, Has<OnLid>)>,
) {
    let mut flashes = false;
    for (mut lit, on_lid) in &mut lit {
        let light = stage.lights.get(&lit.lamp).copied().unwrap_or(0.0);
        let changed = lit.light != light;
        if changed {
            lit.light = light;
            lit.changing_until = time.elapsed_secs() + RESTLESS_SECS;
        }
        let flashing = time.elapsed_secs() < lit.changing_until && !layout.lights_load(&lit.lamp);
        if lit.changed != changed || lit.flashing != flashing {
            lit.changed = changed;
            lit.flashing = flashing;
        }
        flashes |= flashing && !on_lid;
    }
    let covers = anchors.lid_degrees > 0.0 && anchors.lid_degrees < 45.0;
    let on_top = anchors.lid_moving || (flashes && covers);
    if anchors.lid_on_top != on_top {
        anchors.lid_on_top = on_top;
    }
}

/// Draws what moves on top of the picture of what stands still, and has that picture drawn again when it changes.
fn settle(
    stage: Res<Stage>,
    shown: Res<Shown>,
    anchors: Res<Anchors>,
    mut stale: ResMut<Stale>,
    mut commands: Commands,
    lid: Query<Entity, (With<OnLid>, Without<Lit>, Without<Turned>)>,
    live: Query<(Entity, &Live)>,
    mut lit: Query<(Entity, &mut Lit, Has<OnLid>)>,
    mut before: Local<Option<bool>>,
) {
    let lid_on_top = anchors.lid_on_top;
    // What has just been built stands in the picture until it is told otherwise.
    if *before != Some(lid_on_top) || shown.stage.is_none() {
        *before = Some(lid_on_top);
        stale.mark();
        for entity in &lid {
            commands.entity(entity).insert(backdrop::layer(lid_on_top));
        }
        for (entity, kind) in &live {
            let on_top = match kind {
                Live::Leads => true,
                Live::LoomBody | Live::Strip => false,
                Live::LidRim | Live::Link(_) | Live::LoomLid | Live::Undone(_) | Live::StrikerThrough => {
                    lid_on_top
                }
            };
            commands.entity(entity).insert(backdrop::layer(on_top));
        }
    }
    for (entity, mut lit, on_lid) in &mut lit {
        let on_top = lit.flashing || (on_lid && lid_on_top);
        if lit.on_top != on_top {
            lit.on_top = on_top;
            commands.entity(entity).insert(backdrop::layer(on_top));
            stale.mark();
        } else if lit.changed && !on_top {
            stale.mark();
        }
    }
    let changed = shown.stage.as_ref().is_none_or(|old| {
        old.panels_off != stage.panels_off
            || old.tools_out != stage.tools_out
            || old.tools_at != stage.tools_at
            || old.wanted != stage.wanted
            || old.propped != stage.propped
            || old.wet != stage.wet
            || old.loom != stage.loom
            || old.strip != stage.strip
            || old.unplugged != stage.unplugged
            || old.fuses_out != stage.fuses_out
            || old.opened != stage.opened
            || old.taped != stage.taped
            || old.near != stage.near
            || old.meter_knob_degrees != stage.meter_knob_degrees
    });
    if changed || (!lid_on_top && shown.lid_degrees != anchors.lid_degrees) {
        stale.mark();
    }
}

fn remember(stage: Res<Stage>, anchors: Res<Anchors>, mut shown: ResMut<Shown>) {
    if shown.stage.as_ref() != Some(&*stage) {
        shown.stage = Some(stage.clone());
    }
    if shown.lid_degrees != anchors.lid_degrees {
        shown.lid_degrees = anchors.lid_degrees;
    }
}
