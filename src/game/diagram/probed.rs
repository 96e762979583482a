//! What leads and clips are on, as the diagram shows it: the plates that mark it on connectors' faces, and which of them is where.

use bevy_egui::egui::{
    self, Align2, Color32, FontFamily, FontId, Id, Painter, Pos2, Rect, Sense, Stroke, WidgetInfo,
    WidgetType, pos2, vec2,
};
use probeworthy::diagram::{Diagram, Spot};
use probeworthy::say;
use probeworthy::vehicle::{End, Point};
use probeworthy::words;

use super::paint::Lie;
use super::{chosen, thing_at};
use crate::game::bay::Bay;
use crate::game::cards::{Mark, mark, marks, plate_of};
use crate::game::scenery::Palette;
use crate::game::theme::{SMALL, colour};

/// From a point to its plate, from one plate to the next on it, and the dot on it, in points.
const ASIDE: f32 = 12.0;
const PITCH: f32 = 19.0;
const DOT: f32 = 4.0;
/// The share of the sheet's height that the list of them takes at most, but for two lines.
const SHARE: f32 = 0.4;

/// Where a point is drawn: on the side of its connector or of its fuse on which it is, if that is known.
fn spot(drawn: &Diagram, point: Point) -> Option<Spot> {
    let side = match point {
        Point::Cavity(id, half, cavity) => {
            let is_it = |one: &&probeworthy::diagram::Crossing| one.connector == id && one.cavity == cavity;
            let crossing = drawn.crossings.iter().find(is_it);
            crossing.map(|one| if one.half_above == half { one.upper } else { one.lower })
        }
        Point::Fuse(id, side) => {
            let mut terminals = drawn.symbols.iter().flat_map(|symbol| &symbol.terminals);
            terminals.find(|(end, _)| *end == End::Fuse(id, side)).map(|(_, spot)| *spot)
        }
        _ => None,
    };
    side.or_else(|| chosen::spot(drawn, thing_at(point)?))
}

/// A plate beside each point that something is on, and in the sheet's lower corner what each of them is on, out of sight or not
/// on the sheet as it may be.
pub(super) fn show(ui: &egui::Ui, bay: &Bay, drawn: &Diagram, lie: &Lie, palette: &Palette) {
    let all = marks(bay);
    let painter = ui.painter_at(lie.rect);
    for (at, (point, mark)) in all.iter().enumerate() {
        let Some(spot) = spot(drawn, *point).map(|spot| lie.at(spot)) else { continue };
        let before = all[..at].iter().filter(|(other, _)| other == point).count();
        beside(&painter, spot, before, *mark, palette);
    }
    list(ui, bay, &all, lie.rect, palette);
}

/// A plate at the left of a point, above those that it has already, with a line to it.
fn beside(painter: &Painter, point: Pos2, before: usize, on_it: Mark, palette: &Palette) {
    #[expect(clippy::cast_precision_loss, reason = "a handful")]
    let up = before as f32 * PITCH;
    let end = point - vec2(ASIDE, up);
    let ink = colour(palette, "diagram-ink");
    painter.line_segment([end, point], Stroke::new(1.5, ink));
    painter.circle(point, DOT, colour(palette, "diagram-mark"), Stroke::new(2.0, ink));
    let (_, size) = plate_of(painter, palette, on_it);
    mark(painter, palette, Align2::RIGHT_CENTER.anchor_size(end, size).min, on_it);
}

/// Which plate is on what, a line each.
fn list(ui: &egui::Ui, bay: &Bay, all: &[(Point, Mark)], sheet: Rect, palette: &Palette) {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a handful")]
    let most = ((sheet.height() * SHARE / PITCH) as usize).max(2);
    let shown = &all[..all.len().min(most)];
    if shown.is_empty() {
        return;
    }
    let painter = ui.painter_at(sheet);
    let ink = colour(palette, "diagram-ink");
    let lines = shown.iter().map(|(point, mark)| {
        let point = words::point_title(bay.texts, bay.vehicle(), *point);
        let font = FontId::new(SMALL, FontFamily::Proportional);
        let galley = painter.layout_no_wrap(point.clone(), font, ink);
        (*mark, say!(bay.texts, "diagram-probe", what = mark.here, point = point), galley)
    });
    let lines: Vec<_> = lines.collect();
    let plates = lines.iter().map(|(mark, ..)| plate_of(&painter, palette, *mark).1.x);
    let wide = plates.fold(0.0, f32::max);
    let longest = lines.iter().map(|(_, _, galley)| galley.size().x).fold(0.0, f32::max);
    #[expect(clippy::cast_precision_loss, reason = "a handful")]
    let high = lines.len() as f32 * PITCH;
    let about = Align2::LEFT_BOTTOM
        .anchor_size(sheet.left_bottom() + vec2(6.0, -6.0), vec2(wide + longest + 22.0, high + 8.0));
    let edge = Stroke::new(1.0, colour(palette, "diagram-faint"));
    painter.rect(about, 4.0, colour(palette, "diagram-paper"), edge, egui::StrokeKind::Inside);
    for (at, (on_it, told, galley)) in lines.into_iter().enumerate() {
        #[expect(clippy::cast_precision_loss, reason = "a handful")]
        let corner = pos2(about.left() + 6.0, about.top() + 4.0 + at as f32 * PITCH);
        mark(&painter, palette, corner, on_it);
        let line = Rect::from_min_size(corner, vec2(about.width() - 12.0, PITCH));
        painter.galley(pos2(corner.x + wide + 8.0, corner.y), galley, Color32::PLACEHOLDER);
        let label = ui.interact(line, Id::new(("on the diagram", at)), Sense::hover());
        label.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, &told));
    }
}

#[cfg(test)]
mod tests {
    use probeworthy::vehicle::{FuseId, Half, Side};
    use probeworthy::words::{Texts, diagram_names};

    use super::*;
    use crate::game::sync::vehicles;

    #[test]
    fn what_can_be_probed_is_marked_on_its_own_side_on_every_vehicle() {
        for (id, scenario) in vehicles() {
            let vehicle = &scenario.vehicle;
            let drawn = Diagram::of(vehicle, &diagram_names(Texts::english()));
            for fuse in (0..vehicle.fuses.len()).map(FuseId::at) {
                let [feed, load] = [Side::Feed, Side::Load].map(|side| spot(&drawn, Point::Fuse(fuse, side)));
                assert!(feed.is_some() && load.is_some(), "{id}: {fuse:?} is not drawn");
                assert_ne!(feed, load, "{id}: {fuse:?}");
            }
            for crossing in &drawn.crossings {
                let (connector, cavity) = (crossing.connector, crossing.cavity);
                let halves = [Half::Loom, Half::Mate].map(|half| Point::Cavity(connector, half, cavity));
                let [loom, mate] = halves.map(|point| spot(&drawn, point));
                assert!(loom.is_some() && mate.is_some() && loom != mate, "{id}: {connector:?}.{cavity}");
            }
            assert_eq!(spot(&drawn, Point::KeyPlus), None);
        }
    }
}
