//! The wiring diagram, drawn from the vehicle: feed above, ground below, current paths downwards.
//!
//! The vehicle becomes nodes and links (`graph`), oriented by how high each end lies between feed and body (`potential`);
//! the nodes are put in layers (`layers`) and in an order with few crossings (`order`), then placed across (`across`)
//! and down (`down`) the page; from that the primitives are drawn (`draw`, `elements`, `figures`). Whatever is written
//! stands in room that was kept for it, so that no two labels can meet.
//!
//! Nothing here knows how a primitive gets on a screen or a page. All is worked out in whole numbers but the vehicle's
//! potentials, of which only the order counts: the same vehicle gives the same bits.

mod across;
mod block;
mod down;
mod draw;
mod elements;
mod feed;
mod figures;
mod graph;
mod layers;
mod names;
mod notes;
mod order;
mod potential;
mod primitive;
mod simplex;
mod text;

pub use block::Figure;
pub use feed::feeding_fuses;
pub use names::Names;
pub use primitive::{
    Crossing, Diagram, Frame, Join, Label, Spot, Stroke, Symbol, SymbolKind, Thing, Tone, Wire,
};

use crate::vehicle::Vehicle;

impl Diagram {
    /// The diagram of a vehicle. What is written takes room, so that other names may lay it out otherwise.
    #[must_use]
    pub fn of(vehicle: &Vehicle, names: &Names) -> Self {
        let titled = names.titles_in.map(|tag| vehicle.titled_in(tag));
        let vehicle = titled.as_ref().unwrap_or(vehicle);
        let mut layers = layers::Layers::of(graph::Graph::of(vehicle, names));
        order::order(&mut layers);
        let across = across::Across::of(vehicle, &layers, |across| down::Down::of(&layers, across).height);
        let down = down::Down::of(&layers, &across);
        draw::drawn(vehicle, names, &layers, &across, &down)
    }
}
