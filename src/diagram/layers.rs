//! Which nodes stand side by side: feeds above, grounds in the last layer, and links as short as can be.

use super::block::Face;
use super::graph::{Graph, Kind, Link};
use super::simplex::System;

/// A graph in layers, in which each link leads to the next layer.
#[derive(Debug)]
pub(super) struct Layers {
    pub(super) graph: Graph,
    /// By layer: its nodes, from left to right.
    pub(super) layers: Vec<Vec<usize>>,
    /// By node: its layer.
    pub(super) ranks: Vec<usize>,
}

impl Layers {
    pub(super) fn of(mut graph: Graph) -> Self {
        let mut ranks = ranks(&graph);
        let links = std::mem::take(&mut graph.links);
        for Link { upper, lower } in links {
            let conductor = graph.ports[upper].conductor.or(graph.ports[lower].conductor);
            let (from, to) = (ranks[graph.ports[upper].node], ranks[graph.ports[lower].node]);
            let mut above = upper;
            for rank in from + 1..to {
                let pass = graph.node(Kind::Pass);
                ranks.push(rank);
                let top = graph.port(pass, Face::Top, 0, conductor);
                mate(&mut graph, above, top);
                above = graph.port(pass, Face::Bottom, 0, conductor);
            }
            mate(&mut graph, above, lower);
        }
        let mut layers = vec![Vec::new(); ranks.iter().max().map_or(0, |most| most + 1)];
        for (node, &rank) in ranks.iter().enumerate() {
            layers[rank].push(node);
        }
        Self { graph, layers, ranks }
    }
}

fn mate(graph: &mut Graph, upper: usize, lower: usize) {
    graph.ports[upper].mate = Some(lower);
    graph.ports[lower].mate = Some(upper);
}

/// By node: its layer.
fn ranks(graph: &Graph) -> Vec<usize> {
    let mut system = System::default();
    let unknowns: Vec<usize> = graph.nodes.iter().map(|_| system.unknown()).collect();
    let first = system.unknown();
    let last = system.unknown();
    for (node, unknown) in graph.nodes.iter().zip(&unknowns) {
        system.apart(first, *unknown, i32::from(node.kind != Kind::Rail), 0);
        let is_ground = matches!(node.kind, Kind::Ground(_) | Kind::Stud(_));
        system.apart(*unknown, last, i32::from(!is_ground), if is_ground { 1000 } else { 0 });
    }
    system.apart(first, last, 0, 1);
    let is_conductor =
        |link: &Link| [link.upper, link.lower].iter().any(|port| graph.ports[*port].conductor.is_some());
    for link in &graph.links {
        let (upper, lower) = (graph.ports[link.upper].node, graph.ports[link.lower].node);
        let weight = match (graph.nodes[upper].kind, graph.nodes[lower].kind) {
            // A ground is where it is; its label stays with what it grounds.
            (_, Kind::Ground(_)) => 0,
            // A ring terminal stands by its stud, and a joint in front of a terminal by that.
            (Kind::Eyelet(_) | Kind::Tie(_), _) | (_, Kind::Tie(_)) if !is_conductor(link) => 50,
            (_, Kind::Eyelet(_)) => 0,
            // Fuses stand in one row below the rail.
            (Kind::Rail, Kind::Wire(_)) | (Kind::Wire(_), Kind::Fuse(_)) => 20,
            (_, Kind::Wire(_)) => 3,
            _ => 2,
        };
        system.apart(unknowns[upper], unknowns[lower], 1, weight);
    }
    let at = system.solve();
    let mut ranks: Vec<usize> =
        unknowns.iter().map(|unknown| usize::try_from(at[*unknown]).unwrap_or(0)).collect();
    // What is joined with nothing stands where most parts are.
    let is_block = |node: &usize| matches!(graph.nodes[*node].kind, Kind::Block(_));
    let mut linked = vec![false; graph.nodes.len()];
    for link in &graph.links {
        linked[graph.ports[link.upper].node] = true;
        linked[graph.ports[link.lower].node] = true;
    }
    let mut counts = vec![0; ranks.iter().max().map_or(0, |most| most + 1)];
    (0..graph.nodes.len())
        .filter(is_block)
        .filter(|node| linked[*node])
        .for_each(|node| counts[ranks[node]] += 1);
    let fullest = (0..counts.len()).rev().max_by_key(|rank| counts[*rank]).unwrap_or(0);
    for node in (0..graph.nodes.len()).filter(|node| !linked[*node]) {
        let is_rail = graph.nodes[node].kind == Kind::Rail;
        ranks[node] = if is_rail { 0 } else { fullest };
    }
    ranks
}
