//! What a connector's mate is drawn as: parts as elements between upper and lower pins, or a box with named pins.

use std::collections::BTreeMap;

use super::names::Names;
use super::potential::Potentials;
use crate::vehicle::{
    ConnectorId, End, Half, Module, OutputKind, Part, PartId, PartKind, Pull, Suppression, Vehicle,
};

/// What an element is drawn as.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Figure {
    /// A filament lamp.
    Lamp,
    /// A light-emitting diode; the other way round where its cathode lies above.
    Led {
        /// Its cathode lies above.
        reversed: bool,
    },
    /// A diode.
    Diode {
        /// Its cathode lies above.
        reversed: bool,
    },
    /// A make contact worked by hand.
    Switch {
        /// It springs back.
        springs_back: bool,
    },
    /// A make contact that something else works.
    Contact,
    /// A resistor.
    Resistor,
    /// A heating element.
    Heater,
    /// A motor.
    Motor,
    /// A solenoid.
    Solenoid,
    /// A relay's coil, and what lies across it.
    Coil {
        /// A diode lies across it.
        diode: bool,
        /// A resistor lies across it.
        resistor: bool,
    },
    /// A relay's contact: one throw or two.
    RelayContact {
        /// It has a contact that makes.
        makes: bool,
        /// It has a contact that breaks.
        breaks: bool,
        /// The moving contact's pin lies below.
        flipped: bool,
    },
}

/// Which side of a node.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Face {
    Top,
    Bottom,
}

/// Something with terminals inside a block.
#[derive(Clone, Debug)]
pub(super) struct Element {
    pub(super) part: PartId,
    pub(super) figure: Figure,
    /// What it is called beside its part's title, where a part has several.
    pub(super) name: &'static str,
    /// Its pins above and below, from left to right; it takes as many columns as the longer row.
    pub(super) upper: Vec<u8>,
    pub(super) lower: Vec<u8>,
}

/// What stands on a connector's mate.
#[derive(Clone, Debug)]
pub(super) struct Block {
    pub(super) connector: ConnectorId,
    pub(super) parts: Vec<PartId>,
    /// Empty where it is a box with named pins.
    pub(super) elements: Vec<Element>,
    /// By pin: on which face it lies.
    pub(super) faces: BTreeMap<u8, Face>,
    /// By pin of a box: what it is for.
    pub(super) names: BTreeMap<u8, String>,
    /// By pin: its number by DIN 72552.
    pub(super) terminals: BTreeMap<u8, &'static str>,
}

impl Block {
    /// The block of a connector whose mate is parts' pins, or nothing.
    pub(super) fn of(
        vehicle: &Vehicle,
        connector: ConnectorId,
        potentials: &Potentials,
        own: &Names,
    ) -> Self {
        let parts: Vec<(PartId, &Part)> =
            vehicle.parts().filter(|(_, part)| part.connector == connector).collect();
        let mut block = Self {
            connector,
            parts: parts.iter().map(|(id, _)| *id).collect(),
            elements: Vec::new(),
            faces: BTreeMap::new(),
            names: BTreeMap::new(),
            terminals: BTreeMap::new(),
        };
        let above = |one: u8, other: u8| {
            let pin = |n| End::Cavity(connector, Half::Loom, n);
            // Where nothing flows the part's own order holds.
            !potentials.differ(pin(one), pin(other)) || potentials.is_above(pin(one), pin(other))
        };
        let mut drawable = !parts.is_empty();
        for &(id, part) in &parts {
            match &part.kind {
                PartKind::Module(module) => {
                    drawable = false;
                    block.name_module(module, own);
                }
                kind => {
                    for element in elements(id, kind, own, &above) {
                        block.name_terminals(kind, &element);
                        block.elements.push(element);
                    }
                }
            }
        }
        for element in &block.elements {
            let faces = [(&element.upper, Face::Top), (&element.lower, Face::Bottom)];
            for (pin, face) in
                faces.into_iter().flat_map(|(pins, face)| pins.iter().map(move |pin| (*pin, face)))
            {
                drawable &= *block.faces.entry(pin).or_insert(face) == face;
            }
        }
        if !drawable {
            block.name_elements(vehicle, own);
            block.elements.clear();
        }
        block.wired_faces(vehicle, potentials);
        block
    }

    /// Pins that carry a conductor but belong to no element; and, of a box, on which face each lies: where its conductor
    /// goes on to.
    fn wired_faces(&mut self, vehicle: &Vehicle, potentials: &Potentials) {
        for pin in 1..=vehicle.connector(self.connector).cavities {
            let here = End::Cavity(self.connector, Half::Loom, pin);
            let Some(conductor) = vehicle.conductor_in(self.connector, Half::Loom, pin) else { continue };
            let conductor = vehicle.conductor(conductor);
            let there = if conductor.from == here { conductor.to } else { conductor.from };
            let face = if potentials.is_above(here, there) { Face::Bottom } else { Face::Top };
            if self.elements.is_empty() {
                self.faces.insert(pin, face);
            } else {
                self.faces.entry(pin).or_insert(face);
            }
        }
    }

    fn name_module(&mut self, module: &Module, own: &Names) {
        let mut pin = |pin: u8, name: &str, face: Face| {
            self.names.entry(pin).or_insert_with(|| name.to_owned());
            self.faces.entry(pin).or_insert(face);
        };
        pin(module.supply, own.supply, Face::Top);
        pin(module.ground, own.ground, Face::Bottom);
        for input in &module.inputs {
            let face = if input.pull == Pull::Up { Face::Bottom } else { Face::Top };
            pin(input.pin, input.title.written(), face);
        }
        for output in &module.outputs {
            let low = matches!(output.kind, OutputKind::LowSide(_));
            pin(output.pin, output.title.written(), if low { Face::Top } else { Face::Bottom });
            if !low {
                pin(output.feed, own.feed, Face::Top);
            }
        }
        self.terminals.insert(module.ground, "31");
    }

    /// Names for the pins of elements that stand in a box after all: what hangs on each.
    fn name_elements(&mut self, vehicle: &Vehicle, own: &Names) {
        let one_part = self.parts.len() == 1;
        let mut names: BTreeMap<u8, Vec<String>> = BTreeMap::new();
        for element in &self.elements {
            let title = if one_part { "" } else { vehicle.part(element.part).title.written() };
            let name = format!("{title} {}", element.name).trim().to_owned();
            for pin in element.upper.iter().chain(&element.lower) {
                names.entry(*pin).or_default().push(name.clone());
            }
        }
        for (pin, of_pin) in names {
            // What all hang on needs no list.
            let shared = of_pin.len() == self.elements.len() && of_pin.len() > 1;
            let name = if shared { own.common.to_owned() } else { of_pin.join(", ") };
            self.names.entry(pin).or_insert(name);
        }
    }

    /// A relay's terminals by DIN 72552: 86 and 85 for the coil's begin and end, 30 for the moving contact, 87 for the one that
    /// makes, 87a for the one that breaks.
    fn name_terminals(&mut self, kind: &PartKind, element: &Element) {
        let PartKind::Relay(relay) = kind else { return };
        match element.figure {
            Figure::Coil { .. } => {
                self.terminals.insert(element.upper[0], "86");
                self.terminals.insert(element.lower[0], "85");
            }
            _ => {
                self.terminals.insert(relay.common, "30");
                relay.normally_open.map(|pin| self.terminals.insert(pin, "87"));
                relay.normally_closed.map(|pin| self.terminals.insert(pin, "87a"));
            }
        }
    }

    /// It is one thing between two pins, which needs no outline.
    pub(super) fn is_plain(&self) -> bool {
        self.elements.len() == 1 && self.faces.len() == 2
    }

    /// Columns, from left to right, for an order of its pins above: the element of each, and which of its columns it is.
    pub(super) fn columns(&self, top: &[u8]) -> Vec<(usize, usize)> {
        let mut columns = Vec::new();
        for pin in top {
            for (at, element) in self.elements.iter().enumerate() {
                if element.upper[0] == *pin {
                    let wide = element.upper.len().max(element.lower.len());
                    columns.extend((0..wide).map(|column| (at, column)));
                }
            }
        }
        columns
    }

    /// The columns, by their places in [`Self::columns`], that a pin reaches.
    pub(super) fn reaches(&self, columns: &[(usize, usize)], pin: u8) -> Vec<usize> {
        let of_pin = |&(element, column): &(usize, usize)| {
            let element = &self.elements[element];
            let row = |pins: &[u8]| {
                // A single pin of a wide element stands at its first column.
                pins.get(column) == Some(&pin)
            };
            row(&element.upper) || row(&element.lower)
        };
        (0..columns.len()).filter(|&at| of_pin(&columns[at])).collect()
    }
}

/// What a part other than a module is made of.
fn elements(id: PartId, kind: &PartKind, own: &Names, above: &dyn Fn(u8, u8) -> bool) -> Vec<Element> {
    let between = |figure: Figure, name: &'static str, (one, other): (u8, u8)| {
        let (upper, lower) = if above(one, other) { (one, other) } else { (other, one) };
        Element { part: id, figure, name, upper: vec![upper], lower: vec![lower] }
    };
    match kind {
        PartKind::Lamp { pins, .. } => vec![between(Figure::Lamp, "", *pins)],
        PartKind::Led(led) => {
            let reversed = !above(led.pins.0, led.pins.1);
            vec![between(Figure::Led { reversed }, "", led.pins)]
        }
        PartKind::Switch { pins, springs_back, .. } => {
            vec![between(Figure::Switch { springs_back: *springs_back }, "", *pins)]
        }
        PartKind::Diode { pins } => {
            vec![between(Figure::Diode { reversed: !above(pins.0, pins.1) }, "", *pins)]
        }
        PartKind::Resistor { pins, .. } => vec![between(Figure::Resistor, "", *pins)],
        PartKind::Screen(screen) => vec![between(Figure::Heater, "", (screen.feed, screen.ground))],
        PartKind::Motor { pins, .. } => vec![between(Figure::Motor, "", *pins)],
        PartKind::Relay(relay) => {
            let coil = Figure::Coil {
                diode: relay.suppression == Suppression::Diode,
                resistor: matches!(relay.suppression, Suppression::Resistor(_)),
            };
            let throws: Vec<u8> =
                [relay.normally_open, relay.normally_closed].into_iter().flatten().collect();
            let flipped = throws.iter().any(|throw| !above(relay.common, *throw));
            let contact = Figure::RelayContact {
                makes: relay.normally_open.is_some(),
                breaks: relay.normally_closed.is_some(),
                flipped,
            };
            let common = vec![relay.common];
            let (upper, lower) = if flipped { (throws, common) } else { (common, throws) };
            vec![
                between(coil, own.coil, relay.coil),
                Element { part: id, figure: contact, name: own.contact, upper, lower },
            ]
        }
        PartKind::Latch(latch) => {
            let drive = if latch.solenoid { Figure::Solenoid } else { Figure::Motor };
            vec![
                between(drive, own.drive, (latch.feed, latch.ground)),
                between(Figure::Contact, own.ajar, (latch.ajar, latch.ground)),
                between(Figure::Contact, own.claw_home, (latch.home, latch.ground)),
            ]
        }
        PartKind::Module(_) => Vec::new(),
    }
}
