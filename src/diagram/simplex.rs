//! Least weighted length under minimal distances: the network simplex method (Gansner and others, 1993), on whole numbers.
//!
//! It gives both the layers and the places across the page: what is joined comes as near as what lies between allows,
//! and most lines come out exactly straight, since the cost is a sum of absolute lengths.

/// The head lies at least `least` behind the tail; each unit between them costs `weight`.
#[derive(Clone, Copy, Debug)]
pub(super) struct Arc {
    pub(super) tail: usize,
    pub(super) head: usize,
    pub(super) least: i32,
    pub(super) weight: i32,
}

impl Arc {
    fn slack(&self, at: &[i32]) -> i32 {
        at[self.head] - at[self.tail] - self.least
    }
}

/// A system of distances that is built up.
#[derive(Clone, Debug, Default)]
pub(super) struct System {
    count: usize,
    arcs: Vec<Arc>,
}

/// How many exchanges at most, for each unknown: it has never needed a tenth of it.
const MOST_EXCHANGES: usize = 60;

impl System {
    /// A new unknown.
    pub(super) fn unknown(&mut self) -> usize {
        self.count += 1;
        self.count - 1
    }

    /// `head` is at least `least` more than `tail`, and each unit between them costs `weight`.
    pub(super) fn apart(&mut self, tail: usize, head: usize, least: i32, weight: i32) {
        self.arcs.push(Arc { tail, head, least, weight });
    }

    /// `head` is exactly `distance` more than `tail`.
    pub(super) fn rigid(&mut self, tail: usize, head: usize, distance: i32) {
        // The arc is given a weight that no bend is worth.
        self.arcs.push(Arc { tail, head, least: distance, weight: 100_000 });
    }

    /// What lies between two unknowns that are shifted by so much costs `weight` a unit, whichever is the greater.
    pub(super) fn near(&mut self, one: (usize, i32), other: (usize, i32), weight: i32) {
        let least_of_both = self.unknown();
        self.apart(least_of_both, one.0, -one.1, weight);
        self.apart(least_of_both, other.0, -other.1, weight);
    }

    /// The unknowns at the least cost. The arcs must not form a circle.
    pub(super) fn solve(mut self) -> Vec<i32> {
        let root = self.unknown();
        let mut has_tail = vec![false; self.count];
        self.arcs.iter().for_each(|arc| has_tail[arc.head] = true);
        has_tail[root] = true;
        for (unknown, _) in has_tail.iter().enumerate().filter(|(_, has_tail)| !**has_tail) {
            self.apart(root, unknown, 0, 0);
        }
        let mut at = self.longest_ways(root);
        let mut tree = self.tight_tree(root, &mut at);
        let mut weight_out = vec![0_i64; self.count];
        for arc in &self.arcs {
            weight_out[arc.tail] += i64::from(arc.weight);
            weight_out[arc.head] -= i64::from(arc.weight);
        }
        let mut walk = Walk::of(self.count, root, &self.arcs, &tree);
        for _ in 0..self.count * MOST_EXCHANGES {
            walk.go();
            let Some((leaves, under)) = walk.worst(&self.arcs, &tree, &weight_out) else { break };
            walk.below(under);
            let inside = &walk.inside;
            let out = self.arcs[tree[leaves]].tail == under;
            // What enters runs the other way across the cut.
            let mut enters: Option<(i32, usize)> = None;
            for (id, arc) in self.arcs.iter().enumerate() {
                if inside[arc.tail] != out && inside[arc.head] == out {
                    let slack = arc.slack(&at);
                    if enters.is_none_or(|(least, _)| slack < least) {
                        enters = Some((slack, id));
                    }
                }
            }
            let Some((shift, enters)) = enters else { break };
            for (unknown, at) in at.iter_mut().enumerate() {
                if inside[unknown] {
                    *at += if out { -shift } else { shift };
                }
            }
            walk.exchange(leaves, &self.arcs[tree[leaves]], &self.arcs[enters]);
            tree[leaves] = enters;
        }
        let least = at.iter().copied().take(root).min().unwrap_or(0);
        at.truncate(root);
        at.iter_mut().for_each(|at| *at -= least);
        at
    }

    /// Each unknown as near to the root as it may be.
    fn longest_ways(&self, root: usize) -> Vec<i32> {
        let mut at = vec![0; self.count];
        let mut waits = vec![0; self.count];
        let mut outgoing = vec![Vec::new(); self.count];
        for (id, arc) in self.arcs.iter().enumerate() {
            waits[arc.head] += 1;
            outgoing[arc.tail].push(id);
        }
        let mut ready = vec![root];
        while let Some(unknown) = ready.pop() {
            for &id in &outgoing[unknown] {
                let arc = &self.arcs[id];
                at[arc.head] = at[arc.head].max(at[unknown] + arc.least);
                waits[arc.head] -= 1;
                if waits[arc.head] == 0 {
                    ready.push(arc.head);
                }
            }
        }
        debug_assert!(waits.iter().all(|waits| *waits == 0), "the arcs form a circle");
        // Where a least distance is below zero a head may have been put above what follows from the root alone.
        at
    }

    /// A tree of arcs without slack that spans all; unknowns are moved until there is one.
    fn tight_tree(&self, root: usize, at: &mut [i32]) -> Vec<usize> {
        let mut beside = vec![Vec::new(); self.count];
        for (id, arc) in self.arcs.iter().enumerate() {
            beside[arc.tail].push(id);
            beside[arc.head].push(id);
        }
        let mut inside = vec![false; self.count];
        let mut tree = Vec::new();
        let mut fresh = vec![root];
        inside[root] = true;
        loop {
            while let Some(unknown) = fresh.pop() {
                for &id in &beside[unknown] {
                    let arc = &self.arcs[id];
                    let other = if arc.tail == unknown { arc.head } else { arc.tail };
                    if !inside[other] && arc.slack(at) == 0 {
                        inside[other] = true;
                        tree.push(id);
                        fresh.push(other);
                    }
                }
            }
            let nearest = (0..self.arcs.len())
                .filter(|&id| inside[self.arcs[id].tail] != inside[self.arcs[id].head])
                .min_by_key(|&id| self.arcs[id].slack(at));
            let Some(nearest) = nearest else { return tree };
            let arc = &self.arcs[nearest];
            let shift = if inside[arc.tail] { arc.slack(at) } else { -arc.slack(at) };
            for (unknown, at) in at.iter_mut().enumerate() {
                if inside[unknown] {
                    *at += shift;
                }
            }
            fresh.extend((0..self.count).filter(|&unknown| inside[unknown]));
        }
    }
}

/// A walk over a tree from its root; its memory is used again after each exchange.
struct Walk {
    /// By unknown: its neighbours in the tree, and the place in the tree of the arc to each.
    beside: Vec<Vec<(usize, usize)>>,
    /// Unknowns, parents before children.
    order: Vec<usize>,
    /// By unknown: its parent, and the place in the tree of the arc to it; the root is its own.
    parents: Vec<(usize, usize)>,
    sums: Vec<i64>,
    /// Which unknowns hang on the one that was asked for last.
    inside: Vec<bool>,
}

impl Walk {
    fn of(count: usize, root: usize, arcs: &[Arc], tree: &[usize]) -> Self {
        let mut beside = vec![Vec::new(); count];
        for (place, &id) in tree.iter().enumerate() {
            beside[arcs[id].tail].push((arcs[id].head, place));
            beside[arcs[id].head].push((arcs[id].tail, place));
        }
        Self {
            beside,
            order: vec![root],
            parents: vec![(root, 0); count],
            sums: vec![0; count],
            inside: vec![false; count],
        }
    }

    /// Puts one arc in another's place.
    fn exchange(&mut self, place: usize, old: &Arc, new: &Arc) {
        for end in [old.tail, old.head] {
            self.beside[end].retain(|(_, at)| *at != place);
        }
        self.beside[new.tail].push((new.head, place));
        self.beside[new.head].push((new.tail, place));
    }

    /// Finds parents and order anew.
    fn go(&mut self) {
        self.order.truncate(1);
        let mut next = 0;
        while next < self.order.len() {
            let unknown = self.order[next];
            next += 1;
            for &(other, place) in &self.beside[unknown] {
                if self.parents[unknown].0 != other || next == 1 {
                    self.parents[other] = (unknown, place);
                    self.order.push(other);
                }
            }
        }
    }

    /// The arc of the tree whose lengthening saves most, and the unknown below it.
    fn worst(&mut self, arcs: &[Arc], tree: &[usize], weight_out: &[i64]) -> Option<(usize, usize)> {
        self.sums.copy_from_slice(weight_out);
        let mut worst: Option<(i64, usize, usize)> = None;
        for &unknown in self.order[1..].iter().rev() {
            let (parent, place) = self.parents[unknown];
            let sum = self.sums[unknown];
            let cut = if arcs[tree[place]].tail == unknown { sum } else { -sum };
            if cut < 0 && worst.is_none_or(|(least, ..)| cut < least) {
                worst = Some((cut, place, unknown));
            }
            self.sums[parent] += sum;
        }
        worst.map(|(_, place, unknown)| (place, unknown))
    }

    /// Finds which unknowns hang on one, itself included.
    fn below(&mut self, top: usize) {
        self.inside.fill(false);
        self.inside[top] = true;
        for &unknown in &self.order[1..] {
            if self.inside[self.parents[unknown].0] {
                self.inside[unknown] = true;
            }
        }
    }
}
