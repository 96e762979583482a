//! What leads and clips are on, as the diagram shows it: the plates that mark it on connectors' faces, and which of them is where.

use bevy_egui::egui::{
    self, Align2, Color32, FontFamily, FontId, Id, Painter, Pos2, Rect, Sense, Stroke, WidgetInfo,
    WidgetType, pos2, vec2,
};
use probeworthy::bench::ClampPlace;
use probeworthy::diagram::{Diagram, Spot, Stroke as Drawn, Thing};
use probeworthy::say;
use probeworthy::vehicle::{ConductorId, End, Point, StationId};
use probeworthy::words;

use super::paint::Lie;
use super::{chosen, thing_at};
use crate::game::bay::Bay;
use crate::game::cards::{Mark, clamped_in_loom, mark, marks, plate_of};
use crate::game::scenery::Palette;
use crate::game::theme::{SMALL, colour};

/// From a point to its plate, from one plate to the next on it, and the dot on it, in points.
const ASIDE: f32 = 12.0;
const PITCH: f32 = 19.0;
const DOT: f32 = 4.0;
/// The share of the sheet's height that the list of them takes at most, but for two lines.
const SHARE: f32 = 0.4;

/// What something is on.
#[derive(Clone, Copy, PartialEq)]
enum On {
    Point(Point),
    /// A conductor that is parted from the loom at a station.
    Loom(ConductorId, StationId),
}

impl On {
    fn title(self, bay: &Bay) -> String {
        let (t, vehicle) = (bay.texts, bay.vehicle());
        match self {
            Self::Point(point) => words::point_title(t, vehicle, point),
            Self::Loom(conductor, station) => {
                words::clamp_place_title(t, vehicle, ClampPlace::Station(conductor, station))
            }
        }
    }

    /// Where it is drawn.
    fn spot(self, drawn: &Diagram) -> Option<Spot> {
        match self {
            Self::Point(point) => spot(drawn, point),
            Self::Loom(conductor, station) => tick(drawn, Thing::Station(conductor, station)),
        }
    }
}

/// The middle of the tick that stands for a station on a conductor.
fn tick(drawn: &Diagram, station: Thing) -> Option<Spot> {
    let (_, tick) = drawn.ticks.iter().find(|(thing, _)| *thing == station)?;
    let Drawn::Line(spots) = tick else { return None };
    let (from, to) = (spots.first()?, spots.last()?);
    Some(Spot::new((from.x + to.x) / 2.0, (from.y + to.y) / 2.0))
}

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
    let of_loom = clamped_in_loom(bay).map(|(conductor, station, mark)| (On::Loom(conductor, station), mark));
    let of_points = marks(bay).into_iter().map(|(point, mark)| (On::Point(point), mark));
    let all: Vec<(On, Mark)> = of_points.chain(of_loom).collect();
    let painter = ui.painter_at(lie.rect);
    for (at, (on, mark)) in all.iter().enumerate() {
        let Some(spot) = on.spot(drawn).map(|spot| lie.at(spot)) else { continue };
        let before = all[..at].iter().filter(|(other, _)| other == on).count();
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

/// How many of so many are listed in so many lines at most: where they are not all, the last line says how many more.
fn listed(count: usize, lines: usize) -> usize {
    if count > lines { lines.saturating_sub(1) } else { count }
}

/// Which plate is on what, a line each.
fn list(ui: &egui::Ui, bay: &Bay, all: &[(On, Mark)], sheet: Rect, palette: &Palette) {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a handful")]
    let most = ((sheet.height() * SHARE / PITCH) as usize).max(2);
    let (shown, more) = all.split_at(listed(all.len(), most));
    if shown.is_empty() {
        return;
    }
    let painter = ui.painter_at(sheet);
    let ink = colour(palette, "diagram-ink");
    let laid =
        |text: &str| painter.layout_no_wrap(text.into(), FontId::new(SMALL, FontFamily::Proportional), ink);
    let mut lines: Vec<_> = Vec::new();
    for (on, mark) in shown {
        let title = on.title(bay);
        let galley = laid(&title);
        let told = say!(bay.texts, "diagram-probe", what = mark.here, point = title);
        lines.push((Some(*mark), told, galley));
    }
    if !more.is_empty() {
        let told = say!(bay.texts, "diagram-probes-more", count = more.len());
        let galley = laid(&told);
        lines.push((None, told, galley));
    }
    let marks = lines.iter().filter_map(|(mark, ..)| *mark);
    let plates = marks.map(|mark| plate_of(&painter, palette, mark).1.x);
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
        if let Some(on_it) = on_it {
            mark(&painter, palette, corner, on_it);
        }
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
            for conductor in (0..vehicle.conductors.len()).map(ConductorId::at) {
                let stations = vehicle.conductor(conductor).runs.iter().filter_map(|run| run.station);
                for station in stations {
                    let clamped = On::Loom(conductor, station).spot(&drawn);
                    assert!(clamped.is_some(), "{id}: {conductor:?} at {station:?} is not drawn");
                }
            }
            assert_eq!(spot(&drawn, Point::KeyPlus), None);
        }
    }

    #[test]
    fn a_list_with_too_many_lines_keeps_one_for_how_many_more() {
        for (count, lines, seen) in [(0, 2, 0), (2, 2, 2), (3, 2, 1), (9, 9, 9), (13, 9, 8)] {
            assert_eq!(listed(count, lines), seen, "{count} in {lines}");
        }
    }
}
