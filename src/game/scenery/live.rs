//! What is drawn anew whenever an end of it moves: the lid's edge, what joins body and lid, the loom, leads.

use bevy::prelude::*;

use super::build::{Layout, Live};
use super::catalogue::layer;
use super::figure::LinkKind;
use super::hinge::{Face, Hinge};
use super::leads;
use super::palette::Palette;
use super::shape::{Shape, Tint};
use super::stage::{Anchors, Shown, Stage};
use super::sway::{Sways, end_of};
use super::through;
use super::undone::{self, On};
use super::wires;

/// Makes anew what has changed.
pub(super) fn draw(
    stage: Res<Stage>,
    (shown, sways): (Res<Shown>, Res<Sways>),
    anchors: Res<Anchors>,
    layout: Res<Layout>,
    palette: Res<Palette>,
    mut meshes: ResMut<Assets<Mesh>>,
    mut live: Query<(&Live, &Mesh2d, &mut Transform, &mut Visibility)>,
) {
    let old = shown.stage.as_ref();
    let turned = old.is_none() || shown.lid_degrees != anchors.lid_degrees;
    let loom = old.is_none_or(|old| old.loom != stage.loom || old.taped != stage.taped);
    let led = old.is_none_or(|old| {
        old.leads != stage.leads || old.tools_out != stage.tools_out || old.tools_at != stage.tools_at
    });
    let undone = old.is_none_or(|old| {
        old.unplugged != stage.unplugged || old.opened != stage.opened || old.panels_off != stage.panels_off
    });
    let propped = old.is_none_or(|old| old.propped != stage.propped);
    let looks_through = through::is_looked_through(&stage, anchors.lid_degrees);
    let looked_through = old.is_some_and(|old| through::is_looked_through(old, shown.lid_degrees));
    let written = old.is_none_or(|old| old.strip != stage.strip);
    let (Some(lid), Some(figure)) = (layout.lid(anchors.lid_degrees), layout.figure.as_ref()) else { return };
    let inside = lid.shows() == Face::Inside;
    let at = |name: &str| anchors.design(name).map(|placed| placed.centre);
    for (kind, mesh, mut transform, mut visibility) in &mut live {
        let changed = match kind {
            Live::LidRim => turned,
            Live::StrikerThrough => turned || looks_through != looked_through,
            Live::Link(_) => turned || propped,
            Live::LoomBody => loom,
            Live::LoomLid => loom || turned,
            Live::Undone(_) => undone || turned,
            Live::Strip => written,
            Live::Leads => led || turned || sways.moved(),
        };
        if !changed {
            continue;
        }
        let mut shape = Shape::default();
        match kind {
            Live::LidRim => {
                for outline in &layout.lid_outlines {
                    lid_rim(&mut shape, &lid, outline, figure.rim.tints(), &palette);
                }
            }
            Live::Link(k) if anchors.lid_degrees > 4.0 => {
                let link = &figure.links[*k];
                if let (Some(body), Some(end)) = (at(&link.body), at(&link.lid)) {
                    let line = link.line(body, end);
                    match link.is {
                        LinkKind::Strut => wires::strut(&mut shape, body, end, &palette),
                        LinkKind::Prop if !stage.propped => {}
                        LinkKind::Prop => wires::prop(&mut shape, body, end, &palette),
                        LinkKind::Bellows => wires::bellows(&mut shape, &line, &palette),
                        LinkKind::Arm => wires::arm(&mut shape, &line, false, &palette),
                        LinkKind::SleevedArm => wires::arm(&mut shape, &line, true, &palette),
                    }
                }
            }
            Live::Link(_) => {}
            Live::LoomBody => {
                let way: Vec<(&String, Vec2)> =
                    figure.body_loom.through.iter().filter_map(|name| Some((name, at(name)?))).collect();
                draw_loom(&mut shape, &way, &stage, &palette);
            }
            Live::LoomLid if inside => {
                let through = figure.lid_loom.through.iter();
                let way: Vec<(&String, Vec2)> = through.zip(layout.lid_way.iter().copied()).collect();
                draw_loom(&mut shape, &way, &stage, &palette);
            }
            Live::LoomLid => {}
            Live::StrikerThrough if !inside && looks_through => shape.extend(&layout.striker),
            Live::StrikerThrough => {}
            Live::Undone(on) => undone::draw(&mut shape, *on, &stage, &layout, &anchors, &palette),
            Live::Strip => {
                for line in stage.strip.iter() {
                    wires::written(&mut shape, line, anchors.design("recorder-paper"));
                }
            }
            Live::Leads => {
                for lead in &stage.leads {
                    let ends = (end_of(&lead.from, &anchors), end_of(&lead.to, &anchors));
                    if let (Some(from), Some(to)) = ends {
                        let hangs = (lead.sag, sways.off(lead));
                        let line = leads::line(from, to, hangs, anchors.design(lead.clear_of));
                        wires::lead(&mut shape, &line, lead.colour, lead.tips, &palette);
                    }
                }
            }
        }
        if let Live::Link(k) = kind {
            let first = if inside { layer::LINKS_OVER } else { layer::LINKS_UNDER };
            transform.translation.z = first + *k as f32;
        }
        visibility.set_if_neq(if shape.is_empty() { Visibility::Hidden } else { Visibility::Inherited });
        if !shape.is_empty()
            && let Some(mut mesh) = meshes.get_mut(&mesh.0)
        {
            *mesh = match kind {
                // Made flat on the lid's drawing, so that it turns with the lid.
                Live::LoomLid => shape.mesh(&|at| lid.place(at, Face::Inside)),
                Live::Undone(On::Lid) => shape.mesh(&|at| lid.place(at, lid.shows())),
                _ => shape.mesh(&|at| at),
            };
        }
    }
}

/// The loom along its way, with its places that are wrapped.
fn draw_loom(shape: &mut Shape, way: &[(&String, Vec2)], stage: &Stage, palette: &Palette) {
    let stations: Vec<Vec2> = way.iter().map(|(_, at)| *at).collect();
    let wrapped = way.iter().filter(|(name, _)| stage.taped.contains(*name));
    let wrapped: Vec<Vec2> = wrapped.map(|(_, at)| *at).collect();
    wires::loom(shape, &stations, &wrapped, &stage.loom, palette);
}

/// The edge between the lid's two faces, painted before the nearer face.
fn lid_rim(shape: &mut Shape, lid: &Hinge, outline: &[Vec2], [dark, lit]: [Tint; 2], palette: &Palette) {
    if outline.len() < 3 {
        return;
    }
    let near = lid.shows();
    let far = if near == Face::Outside { Face::Inside } else { Face::Outside };
    let (near, far): (Vec<Vec2>, Vec<Vec2>) =
        outline.iter().map(|at| (lid.place(*at, near), lid.place(*at, far))).unzip();
    let ink = palette.get("ink").to_f32_array();
    shape.stroke(&far, true, 8.0, &|_| ink);
    for k in 0..near.len() {
        let next = (k + 1) % near.len();
        let edge = (near[next] - near[k]).normalize_or_zero();
        // What runs across catches the lamp, what runs down lies in shade.
        let light = edge.x.abs().powi(2);
        let tint = std::array::from_fn(|c| dark[c] + (lit[c] - dark[c]) * light);
        let corners = [near[k], near[next], far[next], far[k]];
        shape.triangles(&corners, &[0, 1, 2, 0, 2, 3], &|_| tint, &|_, _| false);
    }
}
