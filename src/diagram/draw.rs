//! Places become primitives.

use super::across::{Across, joint_name_lines, row_beginnings};
use super::block::Face;
use super::down::{Down, bar_contact, has_bar};
use super::figures;
use super::graph::Kind;
use super::layers::Layers;
use super::names::Names;
use super::notes::{self, BESIDE, LETTERS, LINE, SMALL, TICK};
use super::primitive::{
    Crossing, Diagram, Frame, Join, Label, Spot, Stroke, Symbol, SymbolKind, Thing, Tone, Wire,
};
use super::text::{widest, width};
use crate::vehicle::{ConductorId, End, Half, Side, Vehicle};

/// The page's edge.
const EDGE: i32 = 24;
/// The battery's column, left of everything else.
const BATTERY_COLUMN: i32 = 62;
/// The heading above.
const HEADING: i32 = 30;
/// Places for the key are tried so far apart.
const STEP: i32 = 12;
/// Letters of the heading.
const HEADING_LETTERS: i32 = 14;

pub(super) struct Drawer<'d> {
    pub(super) vehicle: &'d Vehicle,
    names: &'d Names,
    pub(super) layers: &'d Layers,
    pub(super) across: &'d Across,
    pub(super) down: &'d Down,
    pub(super) diagram: Diagram,
}

/// Draws what has been placed.
pub(super) fn drawn(
    vehicle: &Vehicle,
    names: &Names,
    layers: &Layers,
    across: &Across,
    down: &Down,
) -> Diagram {
    let diagram = Diagram {
        title: vehicle.title.written().to_owned(),
        width: 0.0,
        height: 0.0,
        symbols: Vec::new(),
        wires: Vec::new(),
        joins: Vec::new(),
        crossings: Vec::new(),
        ticks: Vec::new(),
        labels: Vec::new(),
    };
    let mut drawer = Drawer { vehicle, names, layers, across, down, diagram };
    for node in 0..layers.graph.nodes.len() {
        drawer.node(node);
    }
    drawer.wires();
    drawer.leads();
    drawer.battery();
    drawer.joint_names();
    drawer.page();
    drawer.diagram
}

impl Drawer<'_> {
    pub(super) fn spot(&self, x: i32, y: i32) -> Spot {
        Spot::new(f64::from(x + EDGE + BATTERY_COLUMN), f64::from(y + EDGE + HEADING))
    }

    fn frame(&self, left: i32, top: i32, right: i32, bottom: i32) -> Frame {
        let (from, to) = (self.spot(left, top), self.spot(right, bottom));
        Frame { left: from.x, top: from.y, right: to.x, bottom: to.y }
    }

    /// A line of text whose base line begins at (x, y).
    pub(super) fn label(
        &mut self,
        thing: Option<Thing>,
        text: &str,
        (x, y): (i32, i32),
        size: i32,
        tone: Tone,
    ) {
        let frame = self.frame(x, y - size * 4 / 5, x + width(text, size), y + size / 5);
        let spot = self.spot(x, y);
        let size = f64::from(size);
        self.diagram.labels.push(Label { thing, text: text.to_owned(), spot, size, tone, frame });
    }

    /// Lines of text at x, in the middle of which lies y.
    pub(super) fn labels(&mut self, thing: Thing, (title, name): (&[String], &[String]), x: i32, y: i32) {
        let count = title.len() + name.len();
        let mut base = y - notes::lines(count) / 2 + 9;
        for (lines, size, tone) in [(title, LETTERS, Tone::Title), (name, SMALL, Tone::Name)] {
            for line in lines {
                self.label(Some(thing), line, (x, base), size, tone);
                base += LINE;
            }
        }
    }

    pub(super) fn symbol(
        &mut self,
        thing: Thing,
        kind: SymbolKind,
        frame: (i32, i32, i32, i32),
        strokes: Vec<Stroke>,
        terminals: Vec<(End, Spot)>,
    ) {
        let frame = self.frame(frame.0, frame.1, frame.2, frame.3);
        self.diagram.symbols.push(Symbol { thing, kind, frame, strokes, terminals });
    }

    pub(super) fn join(&mut self, thing: Thing, points: &[(i32, i32)]) {
        let points = straightened(points.iter().map(|&(x, y)| self.spot(x, y)).collect());
        if points.len() > 1 {
            self.diagram.joins.push(Join { thing, points });
        }
    }

    fn node(&mut self, node: usize) {
        let (x, top, bottom) = (self.across.nodes[node], self.down.tops[node], self.down.bottoms[node]);
        let middle = (top + bottom) / 2;
        match self.layers.graph.nodes[node].kind {
            Kind::Pass | Kind::Turn(_) => {}
            Kind::Rail => self.point(node, Thing::Battery, &[End::BatteryPlus], None),
            Kind::Tie(end) => self.point(node, thing_of(end), &[], None),
            Kind::Splice(id) => {
                let name = self.vehicle.splices[id.index()].id.clone();
                self.point(node, Thing::Splice(id), &[End::Splice(id)], Some(&name));
            }
            Kind::Eyelet(id) => {
                let name = self.vehicle.eyelets[id.index()].id.clone();
                self.point(node, Thing::Eyelet(id), &[End::Eyelet(id)], Some(&name));
            }
            Kind::Wire(id) => self.wire_notes(id, x, top),
            Kind::Fuse(id) => {
                let fuse = self.vehicle.fuse(id);
                let thing = Thing::Fuse(id);
                let reach = f64::from(bottom - top) / 2.0;
                let terminals = vec![
                    (End::Fuse(id, Side::Feed), self.spot(x, top)),
                    (End::Fuse(id, Side::Load), self.spot(x, bottom)),
                ];
                let mut place = self.spot(x, top);
                place.y += reach;
                let strokes = figures::moved(figures::fuse(reach), place);
                self.symbol(thing, SymbolKind::Fuse, (x - 6, top, x + 6, bottom), strokes, terminals);
                let amps = [format!("{} A", fuse.rating_amps)];
                self.labels(thing, (&notes::title_lines(fuse.title.written()), &amps), x + 9, middle);
            }
            Kind::Joint(connector, cavity) => {
                let half = self.layers.graph.halves.get(&(connector, cavity)).copied().unwrap_or(Half::Loom);
                let strokes = |spot| {
                    let lines = [
                        Stroke::Line(vec![self.spot(x, top), self.spot(x, middle - 4)]),
                        Stroke::Line(vec![self.spot(x, middle + 4), self.spot(x, bottom)]),
                    ];
                    figures::moved(figures::contact(half == Half::Loom), spot)
                        .into_iter()
                        .chain(lines)
                        .collect()
                };
                let crossing = Crossing {
                    connector,
                    cavity,
                    upper: self.spot(x, top),
                    lower: self.spot(x, bottom),
                    half_above: half,
                    strokes: strokes(self.spot(x, middle)),
                };
                self.diagram.crossings.push(crossing);
                let thing = Thing::Cavity(connector, cavity);
                self.label(Some(thing), &cavity.to_string(), (x + 7, middle + 3), SMALL, Tone::Name);
            }
            Kind::Stud(id) => {
                let stud = self.vehicle.stud(id);
                let thing = Thing::Stud(id);
                // Several ring terminals lie on one another.
                if let Some(bar) = self.down.bars.get(&(node, Face::Top)).copied() {
                    self.join(thing, &[(x, bar.y), (x, top)]);
                    self.join(thing, &[(bar.low, bar.y), (bar.high, bar.y)]);
                }
                let ends = self.vehicle.eyelets.iter().enumerate().filter(|(_, eyelet)| eyelet.stud == id);
                let spot = self.spot(x, top);
                let terminals =
                    ends.map(|(at, _)| (End::Eyelet(crate::vehicle::EyeletId::at(at)), spot)).collect();
                let mut strokes = figures::bolt(6.0);
                strokes.extend(figures::ground(20.0));
                let strokes = figures::moved(strokes, spot);
                self.symbol(thing, SymbolKind::Stud, (x - 12, top, x + 12, top + 30), strokes, terminals);
                let title = notes::title_lines(stud.title.written());
                self.labels(thing, (&title, &notes::name_lines(&stud.id)), x + 17, (top + bottom) / 2);
            }
            Kind::Ground(id) => {
                let thing = Thing::Body(id);
                let spot = self.spot(x, top);
                let strokes = figures::moved(figures::ground(20.0), spot);
                let terminals = vec![(End::Body, spot)];
                self.symbol(thing, SymbolKind::Ground, (x - 12, top, x + 12, top + 30), strokes, terminals);
            }
            Kind::Block(id) => self.block(node, id),
        }
    }

    /// A point with its bars and dots.
    fn point(&mut self, node: usize, thing: Thing, ends: &[End], name: Option<&str>) {
        let x = self.across.nodes[node];
        let middle = self.middle(node);
        let is_rail = self.layers.graph.nodes[node].kind == Kind::Rail;
        let mut dots = Vec::new();
        for face in [Face::Top, Face::Bottom] {
            let Some(bar) = self.down.bars.get(&(node, face)).copied() else { continue };
            if is_rail {
                self.join(thing, &[(self.battery_x(), bar.y), (bar.high, bar.y)]);
            } else {
                self.join(thing, &[(x, middle), (x, bar.y)]);
                self.join(thing, &[(bar.low, bar.y), (bar.high, bar.y)]);
                dots.push((x, bar.y));
            }
            for &port in self.layers.graph.nodes[node].ports(face) {
                let upper =
                    if face == Face::Bottom { Some(port) } else { self.layers.graph.ports[port].mate };
                let contact = upper.and_then(|upper| bar_contact(self.layers, self.across, upper));
                dots.extend(contact.map(|contact| (contact, bar.y)));
            }
        }
        // A dot where three or more meet, and one for the point itself.
        let dots: Vec<Stroke> = dots
            .into_iter()
            .map(|(x, y)| Stroke::Circle { centre: self.spot(x, y), radius: 1.8, filled: true })
            .chain((!is_rail).then(|| Stroke::Circle {
                centre: self.spot(x, middle),
                radius: 2.6,
                filled: true,
            }))
            .collect();
        let terminals = ends
            .iter()
            .map(|end| {
                let rail = self.down.bars.get(&(node, Face::Bottom)).filter(|_| is_rail);
                (*end, rail.map_or(self.spot(x, middle), |bar| self.spot(self.battery_x(), bar.y)))
            })
            .collect();
        let frame = (x - 4, middle - 4, x + 4, middle + 4);
        self.symbol(thing, SymbolKind::Joint, frame, dots, terminals);
        if let Some(name) = name {
            self.labels(thing, (&[], &notes::name_lines(name)), x + BESIDE, middle);
        }
    }

    fn middle(&self, node: usize) -> i32 {
        (self.down.tops[node] + self.down.bottoms[node]) / 2
    }

    fn battery_x(&self) -> i32 {
        -BATTERY_COLUMN + 22
    }

    fn wire_notes(&mut self, id: ConductorId, x: i32, top: i32) {
        let conductor = self.vehicle.conductor(id);
        let thing = Thing::Conductor(id);
        for (line, text) in notes::wire_lines(conductor).iter().enumerate() {
            let base = top + 2 + LINE * i32::try_from(line).unwrap_or(0) + 9;
            self.label(Some(thing), text, (x + BESIDE, base), LETTERS, Tone::Wire);
        }
        let mut stations: Vec<_> = conductor.runs.iter().filter_map(|run| run.station).collect();
        if !self.layers.graph.from_above[id.index()] {
            stations.reverse();
        }
        for (at, station) in stations.into_iter().enumerate() {
            let y = top + 2 * LINE + 8 + TICK * i32::try_from(at).unwrap_or(0);
            let thing = Thing::Station(id, station);
            let tick = Stroke::Line(vec![self.spot(x - 4, y), self.spot(x + 4, y)]);
            self.diagram.ticks.push((thing, tick));
            let number = (station.index() + 1).to_string();
            self.label(Some(thing), &number, (x + BESIDE + 1, y + 3), SMALL, Tone::Name);
        }
    }

    /// Where a port's link meets its node.
    fn y_of(&self, port: usize) -> i32 {
        let of = &self.layers.graph.ports[port];
        match of.face {
            // Ring terminals sit on a stud's head.
            Face::Top if matches!(self.layers.graph.nodes[of.node].kind, Kind::Stud(_)) => {
                self.down.tops[of.node]
            }
            _ if self.layers.graph.nodes[of.node].kind.is_point() => self.middle(of.node),
            Face::Top => self.down.tops[of.node],
            Face::Bottom => self.down.bottoms[of.node],
        }
    }

    /// The way of one link from above to below.
    fn hop(&self, upper: usize) -> Vec<(i32, i32)> {
        let graph = &self.layers.graph;
        let Some(lower) = graph.ports[upper].mate else { return Vec::new() };
        let bar = |port: usize, face: Face| {
            let node = graph.ports[port].node;
            has_bar(self.layers, node, face)
                .then(|| self.down.bars.get(&(node, face)).map(|bar| bar.y))
                .flatten()
        };
        let from = bar(upper, Face::Bottom).unwrap_or(self.y_of(upper));
        let to = bar(lower, Face::Top).unwrap_or(self.y_of(lower));
        if let Some(x) = bar_contact(self.layers, self.across, upper) {
            return vec![(x, from), (x, to)];
        }
        let (left, right) = (self.across.ports[upper], self.across.ports[lower]);
        match self.down.tracks.get(&upper) {
            Some(&track) => vec![(left, from), (left, track), (right, track), (right, to)],
            None => vec![(left, from), (right, to)],
        }
    }

    /// The way from a port to where it really ends, and the port there.
    fn way(&self, start: usize) -> (Vec<(i32, i32)>, usize) {
        let graph = &self.layers.graph;
        let mut points = Vec::new();
        let mut port = start;
        loop {
            let Some(mate) = graph.ports[port].mate else { return (points, port) };
            if graph.ports[port].face == Face::Bottom {
                points.extend(self.hop(port));
            } else {
                points.extend(self.hop(mate).into_iter().rev());
            }
            let node = &graph.nodes[graph.ports[mate].node];
            if !matches!(node.kind, Kind::Pass | Kind::Turn(_)) {
                return (points, mate);
            }
            let next = node.top.iter().chain(&node.bottom).find(|other| **other != mate);
            match next {
                Some(next) => port = *next,
                None => return (points, mate),
            }
        }
    }

    fn wires(&mut self) {
        for node in 0..self.layers.graph.nodes.len() {
            let Kind::Wire(conductor) = self.layers.graph.nodes[node].kind else { continue };
            let mut points = Vec::new();
            for &port in &self.layers.graph.nodes[node].top {
                points = self.way(port).0;
                points.reverse();
            }
            for &port in &self.layers.graph.nodes[node].bottom {
                points.extend(self.way(port).0);
            }
            let points = straightened(points.into_iter().map(|(x, y)| self.spot(x, y)).collect());
            self.diagram.wires.push(Wire { conductor, points });
        }
        self.diagram.wires.sort_by_key(|wire| wire.conductor);
    }

    /// Lines between nodes that are no conductors: from an eyelet to its stud, from a tie to its terminal.
    fn leads(&mut self) {
        let graph = &self.layers.graph;
        for start in 0..graph.ports.len() {
            let kind = graph.nodes[graph.ports[start].node].kind;
            if matches!(kind, Kind::Pass | Kind::Turn(_) | Kind::Wire(_)) || graph.ports[start].mate.is_none()
            {
                continue;
            }
            let (points, end) = self.way(start);
            let other = graph.nodes[graph.ports[end].node].kind;
            if start > end || matches!(other, Kind::Wire(_)) {
                continue;
            }
            let thing = match (kind, other) {
                (Kind::Eyelet(id), _) | (_, Kind::Eyelet(id)) => Thing::Eyelet(id),
                (Kind::Tie(end), _) | (_, Kind::Tie(end)) => thing_of(end),
                _ => continue,
            };
            self.join(thing, &points);
        }
    }

    fn battery(&mut self) {
        let x = self.battery_x();
        let rail =
            self.down.bars.iter().find(|((node, _), _)| self.layers.graph.nodes[*node].kind == Kind::Rail);
        let Some((_, rail)) = rail else { return };
        let (top, ground) = (rail.y, self.down.height - 34);
        let plates = top + 40;
        let mut strokes = figures::moved(figures::battery(), self.spot(x, plates));
        strokes.extend(figures::moved(figures::ground(20.0), self.spot(x, ground)));
        let terminals = vec![(End::BatteryPlus, self.spot(x, top))];
        let frame = (x - 18, plates - 10, x + 12, plates + 18);
        self.symbol(Thing::Battery, SymbolKind::Battery, frame, strokes, terminals);
        self.join(Thing::Battery, &[(x, top), (x, plates)]);
        self.join(Thing::Battery, &[(x, plates + 16), (x, ground)]);
        let thing = Some(Thing::Battery);
        self.label(thing, "30", (x + BESIDE, top - 4), LETTERS, Tone::Name);
        self.label(thing, "31", (x + BESIDE, ground + 12), LETTERS, Tone::Name);
        // Beside the lead, like every name.
        self.label(thing, self.names.battery, (x + BESIDE, plates + 30), SMALL, Tone::Title);
    }

    /// The two halves' names at the left end of each row of an in-line connector.
    fn joint_names(&mut self) {
        for layer in &self.layers.layers {
            for first in row_beginnings(self.layers, layer) {
                let Kind::Joint(id, cavity) = self.layers.graph.nodes[first].kind else { continue };
                let connector = self.vehicle.connector(id);
                let half = self.layers.graph.halves.get(&(id, cavity)).copied();
                let (above, below) = match half {
                    Some(Half::Mate) => (&connector.mate_id, &connector.id),
                    _ => (&connector.id, &connector.mate_id),
                };
                let (x, middle) = (self.across.nodes[first], self.middle(first));
                for (name, is_above) in [(above, true), (below, false)] {
                    let lines = joint_name_lines(name);
                    let left = x - 8 - widest(&lines, SMALL);
                    let high = notes::lines(lines.len());
                    let begins = if is_above { middle - high - 1 } else { middle + 1 };
                    for (at, line) in lines.iter().enumerate() {
                        let base = begins + 8 + notes::lines(at);
                        self.label(Some(Thing::Connector(id)), line, (left, base), SMALL, Tone::Name);
                    }
                }
            }
        }
    }

    /// Heading, key, and the page's extent.
    fn page(&mut self) {
        let title = self.diagram.title.clone();
        let corner = (-BATTERY_COLUMN, -HEADING + 6);
        self.label(None, &title, corner, HEADING_LETTERS, Tone::Heading);
        let mut entries = vec![
            "beside a line: colour (IEC 60757), mm²; in brackets: DIN 72552".to_owned(),
            "30: battery feed; 31: ground".to_owned(),
        ];
        let used = |at: usize| {
            let id = crate::vehicle::StationId::at(at);
            self.vehicle.conductors.iter().any(|conductor| conductor.piece_at(id).is_some())
        };
        for (at, station) in self.vehicle.stations.iter().enumerate().filter(|(at, _)| used(*at)) {
            entries.push(format!("{}  {}", at + 1, station.title.written()));
        }
        let column = entries.iter().map(|entry| width(entry, SMALL)).max().unwrap_or(0) + 18;
        let wide = self.across.width + BATTERY_COLUMN;
        let (mut right, mut bottom) = (self.across.width, self.down.height);
        let place = self.free_place(column, entries.len());
        let (x, y, rows) = place.unwrap_or_else(|| {
            // Beside a tall drawing, below a wide one.
            if self.down.height > wide {
                right += 20 + column;
                (self.across.width + 20, 0, entries.len())
            } else {
                let columns = usize::try_from((wide / column).max(1)).unwrap_or(1);
                let rows = entries.len().div_ceil(columns);
                bottom += 20 + notes::lines(rows);
                (-BATTERY_COLUMN, self.down.height + 20, rows)
            }
        });
        for (at, entry) in entries.iter().enumerate() {
            let x = x + column * i32::try_from(at / rows).unwrap_or(0);
            self.label(None, entry, (x, y + 9 + notes::lines(at % rows)), SMALL, Tone::Title);
        }
        let to = self.spot(right + EDGE, bottom + EDGE);
        (self.diagram.width, self.diagram.height) = (to.x, to.y);
    }
}

impl Drawer<'_> {
    /// A place among what is drawn where lines of this width fit: left edge, upper edge, and how many in a column.
    fn free_place(&self, column: i32, lines: usize) -> Option<(i32, i32, usize)> {
        let taken = self.taken();
        (1..=3_usize).find_map(|columns| {
            let rows = lines.div_ceil(columns);
            let (wide, high) = (column * i32::try_from(columns).unwrap_or(1), notes::lines(rows) + 4);
            let free = |x: i32, y: i32| {
                let frame = self.frame(x - 10, y - 10, x + wide, y + high + 10);
                taken.iter().all(|taken| !taken.overlaps(&frame))
            };
            let steps = |room: i32| (0..=(room / STEP).max(-1)).map(|step| step * STEP);
            let (right, down) = (self.across.width - wide, self.down.height - high);
            // As far down as may be, then as far to the left.
            steps(down)
                .rev()
                .flat_map(|y| steps(right).map(move |x| (x, y)))
                .find(|&(x, y)| free(x, y))
                .map(|(x, y)| (x, y, rows))
        })
    }

    /// The extents of everything that is drawn.
    fn taken(&self) -> Vec<Frame> {
        let diagram = &self.diagram;
        let pieces = diagram.pieces().map(|(_, from, to)| Frame {
            left: from.x.min(to.x) - 3.0,
            top: from.y.min(to.y) - 3.0,
            right: from.x.max(to.x) + 3.0,
            bottom: from.y.max(to.y) + 3.0,
        });
        let symbols = diagram.symbols.iter().map(|symbol| symbol.frame);
        let labels = diagram.labels.iter().map(|label| label.frame);
        let crossings = diagram.crossings.iter().map(Crossing::frame);
        pieces.chain(symbols).chain(labels).chain(crossings).collect()
    }
}

/// What an end belongs to.
fn thing_of(end: End) -> Thing {
    match end {
        End::Cavity(connector, _, cavity) => Thing::Cavity(connector, cavity),
        End::Splice(id) => Thing::Splice(id),
        End::Eyelet(id) => Thing::Eyelet(id),
        End::Fuse(id, _) => Thing::Fuse(id),
        End::BatteryPlus | End::Body => Thing::Battery,
    }
}

/// A line without places that do not bend it.
fn straightened(points: Vec<Spot>) -> Vec<Spot> {
    let mut kept: Vec<Spot> = Vec::new();
    for point in points {
        if kept.last() == Some(&point) {
            continue;
        }
        if let [.., before, last] = kept[..]
            && ((before.x == last.x && last.x == point.x) || (before.y == last.y && last.y == point.y))
        {
            kept.pop();
        }
        kept.push(point);
    }
    kept
}
