//! Parts: elements between their pins, or a box.

use super::block::{Block, Face};
use super::draw::Drawer;
use super::figures::{self, REACH};
use super::notes::{self, BAR_ROW, LINE, PIN_ROW, SMALL};
use super::primitive::{Crossing, Spot, Stroke, SymbolKind, Thing, Tone};
use super::text::{widest, width};
use crate::vehicle::{ConnectorId, End, Half};

/// From a block's edge to the part's side of its contacts.
const CONTACT: i32 = 9;

/// Rows of a block, from above.
struct Rows {
    top: i32,
    bottom: i32,
    /// The elements' middle.
    middle: i32,
    upper_bars: i32,
    lower_bars: i32,
}

impl Drawer<'_> {
    pub(super) fn block(&mut self, node: usize, id: ConnectorId) {
        let layers = self.layers;
        let block = &layers.graph.blocks[&id];
        let (top, bottom) = (self.down.tops[node], self.down.bottoms[node]);
        for face in [Face::Top, Face::Bottom] {
            for &port in layers.graph.nodes[node].ports(face) {
                let pin = layers.graph.ports[port].pin;
                let x = self.across.ports[port];
                self.contact(block, pin, x, if face == Face::Top { top } else { bottom }, face);
            }
        }
        if block.elements.is_empty() {
            self.boxed(node, block);
        } else {
            self.elements(node, block);
        }
    }

    /// A pin's contact at a block's edge, and its number.
    fn contact(&mut self, block: &Block, pin: u8, x: i32, edge: i32, face: Face) {
        let connector = block.connector;
        let (upper, lower) = match face {
            Face::Top => (self.spot(x, edge), self.spot(x, edge + CONTACT)),
            Face::Bottom => (self.spot(x, edge - CONTACT), self.spot(x, edge)),
        };
        let middle = Spot::new(upper.x, (upper.y + lower.y) / 2.0);
        // The loom's half is the socket.
        let mut strokes = figures::moved(figures::contact(face == Face::Top), middle);
        strokes.push(Stroke::Line(vec![upper, Spot::new(upper.x, upper.y + 1.0)]));
        strokes.push(Stroke::Line(vec![Spot::new(lower.x, lower.y - 1.0), lower]));
        let half_above = if face == Face::Top { Half::Loom } else { Half::Mate };
        self.diagram.crossings.push(Crossing { connector, cavity: pin, upper, lower, half_above, strokes });
        let base = if face == Face::Top { edge + 7 } else { edge - 1 };
        let thing = Some(Thing::Cavity(connector, pin));
        self.label(thing, &notes::pin_text(block, pin), (x + 6, base), SMALL, Tone::Name);
    }

    /// A box with named pins.
    fn boxed(&mut self, node: usize, block: &Block) {
        let layers = self.layers;
        let place = &self.across.blocks[&block.connector];
        let (left, right) = (place.left, place.right);
        let (top, bottom) = (self.down.tops[node] + CONTACT, self.down.bottoms[node] - CONTACT);
        let thing = block.parts.first().map_or(Thing::Connector(block.connector), |part| Thing::Part(*part));
        let corners = [(left, top), (right, top), (right, bottom), (left, bottom), (left, top)];
        let outline = Stroke::Line(corners.iter().map(|&(x, y)| self.spot(x, y)).collect());
        let mut terminals = Vec::new();
        for face in [Face::Top, Face::Bottom] {
            for &port in layers.graph.nodes[node].ports(face) {
                let (pin, x) = (layers.graph.ports[port].pin, self.across.ports[port]);
                let edge = if face == Face::Top { top } else { bottom };
                terminals.push((End::Cavity(block.connector, Half::Mate, pin), self.spot(x, edge)));
                let lines = notes::pin_name_lines(block, pin);
                let first = match face {
                    Face::Top => edge + 10,
                    Face::Bottom => edge - notes::lines(lines.len()) + LINE - 4,
                };
                for (at, line) in lines.iter().enumerate() {
                    let x = x - width(line, SMALL) / 2;
                    let thing = Some(Thing::Cavity(block.connector, pin));
                    self.label(thing, line, (x, first + notes::lines(at)), SMALL, Tone::Name);
                }
            }
        }
        self.symbol(thing, SymbolKind::Box, (left, top, right, bottom), vec![outline], terminals);
        let (title, name) = notes::block_lines(self.vehicle, block);
        let names = |face: Face| {
            let ports = layers.graph.nodes[node].ports(face).iter();
            ports
                .map(|port| notes::pin_name_lines(block, layers.graph.ports[*port].pin).len())
                .max()
                .unwrap_or(0)
        };
        let (above, below) = (notes::lines(names(Face::Top)), notes::lines(names(Face::Bottom)));
        self.labels(thing, (&title, &name), left + 6, (top + above + bottom - below) / 2);
    }

    fn elements(&mut self, node: usize, block: &Block) {
        let layers = self.layers;
        let place = self.across.blocks[&block.connector].clone();
        let (top, bottom) = (self.down.tops[node], self.down.bottoms[node]);
        let upper_bars = notes::bars(block, Face::Top) * BAR_ROW;
        let lower_bars = notes::bars(block, Face::Bottom) * BAR_ROW;
        let middle = (top + PIN_ROW + upper_bars + bottom - PIN_ROW - lower_bars) / 2;
        let rows = Rows { top, bottom, middle, upper_bars, lower_bars };
        for (at, &((element, column), x)) in place.columns.iter().enumerate() {
            if column > 0 {
                continue;
            }
            let of = &block.elements[element];
            let wide = of.upper.len().max(of.lower.len());
            let second = if wide > 1 { place.columns[at + 1].1 } else { x };
            let strokes = figures::element(of.figure, f64::from(second - x));
            let reach = notes::ELEMENT_ROW / 2;
            let mut terminals = Vec::new();
            for (pins, y) in [(&of.upper, middle - reach), (&of.lower, middle + reach)] {
                for (pin, x) in pins.iter().zip([x, second]) {
                    terminals.push((End::Cavity(block.connector, Half::Mate, *pin), self.spot(x, y)));
                }
            }
            let strokes = figures::moved(strokes, self.spot(x, middle));
            debug_assert_eq!(f64::from(reach), REACH, "leads reach the rows");
            let thing = Thing::Part(of.part);
            let room = notes::element_room(self.vehicle, block, element);
            let frame = (x - room.left + 1, middle - reach, second + notes::HALF_SYMBOL, middle + reach);
            self.symbol(thing, SymbolKind::Element(of.figure), frame, strokes, terminals);
            let title = notes::title_lines(notes::element_title(self.vehicle, block, element));
            let name = match block.elements.len() {
                1 => notes::block_lines(self.vehicle, block).1,
                _ => Vec::new(),
            };
            self.labels(thing, (&title, &name), second + notes::HALF_SYMBOL + 3, middle);
        }
        for face in [Face::Top, Face::Bottom] {
            let mut row = 0;
            for &port in layers.graph.nodes[node].ports(face) {
                let pin = layers.graph.ports[port].pin;
                row +=
                    self.pin_leads(block, &place.columns, (pin, self.across.ports[port]), face, &rows, row);
            }
        }
        if !block.is_plain() {
            self.outline(block, (place.left, place.right), &rows);
        }
    }

    /// The leads from a pin to its elements; returns how many rows of bars they take.
    fn pin_leads(
        &mut self,
        block: &Block,
        columns: &[((usize, usize), i32)],
        (pin, x): (u8, i32),
        face: Face,
        rows: &Rows,
        row: i32,
    ) -> i32 {
        let plain: Vec<(usize, usize)> = columns.iter().map(|(column, _)| *column).collect();
        let reached: Vec<(usize, i32)> = block
            .reaches(&plain, pin)
            .into_iter()
            .map(|at| (columns[at].0.0, columns[at].1))
            // A contact with two throws reaches its own pin and another's in one column only.
            .filter(|(element, _)| {
                let of = &block.elements[*element];
                of.upper.contains(&pin) || of.lower.contains(&pin)
            })
            .collect();
        let reach = notes::ELEMENT_ROW / 2;
        let (from, bar, to) = match face {
            Face::Top => (rows.top + CONTACT, rows.top + PIN_ROW + rows.upper_bars - 4, rows.middle - reach),
            Face::Bottom => (
                rows.bottom - CONTACT,
                rows.bottom - PIN_ROW - rows.lower_bars + 4 + BAR_ROW * row,
                rows.middle + reach,
            ),
        };
        let Some(&(first, _)) = reached.first() else { return 0 };
        let thing = |element: usize| Thing::Part(block.elements[element].part);
        if let [(element, column)] = reached[..] {
            self.join(thing(element), &[(x, from), (column, to)]);
            return 0;
        }
        self.join(thing(first), &[(x, from), (x, bar)]);
        let low = reached.iter().map(|(_, column)| *column).min().unwrap_or(x).min(x);
        let high = reached.iter().map(|(_, column)| *column).max().unwrap_or(x).max(x);
        self.join(thing(first), &[(low, bar), (high, bar)]);
        for (element, column) in reached {
            self.join(thing(element), &[(column, bar), (column, to)]);
        }
        1
    }

    /// The outline of what shares one connector, and its names.
    fn outline(&mut self, block: &Block, (left, right): (i32, i32), rows: &Rows) {
        let (top, bottom) = (rows.top + CONTACT + 2, rows.bottom - CONTACT - 2);
        let corners = [(left, top), (right, top), (right, bottom), (left, bottom), (left, top)];
        let outline = Stroke::Dashes(corners.iter().map(|&(x, y)| self.spot(x, y)).collect());
        let thing = match block.parts[..] {
            [only] => Thing::Part(only),
            _ => Thing::Connector(block.connector),
        };
        self.symbol(thing, SymbolKind::Outline, (left, top, right, bottom), vec![outline], Vec::new());
        if block.elements.len() > 1 {
            let (title, name) = notes::block_lines(self.vehicle, block);
            let wide = widest(&title, notes::LETTERS).max(widest(&name, SMALL));
            self.labels(thing, (&title, &name), right - 4 - wide, rows.middle);
        }
    }
}
