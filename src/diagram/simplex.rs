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

/// What [`System::near`] has asked for.
#[derive(Clone, Copy, Debug)]
pub(super) struct Near(usize);

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
        self.arcs.push(Arc { tail, head, least: distance, weight: 1_000_000 });
    }

    /// What lies between two unknowns that are shifted by so much costs `weight` a unit, whichever is the greater.
    pub(super) fn near(&mut self, one: (usize, i32), other: (usize, i32), weight: i32) -> Near {
        let least_of_both = self.unknown();
        let near = Near(self.arcs.len());
        self.apart(least_of_both, one.0, -one.1, weight);
        self.apart(least_of_both, other.0, -other.1, weight);
        near
    }

    /// The unknowns at the least cost. The arcs must not form a circle.
    pub(super) fn solve(self) -> Vec<i32> {
        self.settled().places()
    }

    /// The same, to go on from with other weights.
    pub(super) fn settled(mut self) -> Settled {
        let root = self.unknown();
        let mut has_tail = vec![false; self.count];
        self.arcs.iter().for_each(|arc| has_tail[arc.head] = true);
        has_tail[root] = true;
        for (unknown, _) in has_tail.iter().enumerate().filter(|(_, has_tail)| !**has_tail) {
            self.apart(root, unknown, 0, 0);
        }
        let mut at = self.longest_ways(root);
        let tree = self.tight_tree(root, &mut at);
        let hung = Hung::of(root, self.count, &self.arcs, tree);
        let mut settled = Settled { arcs: self.arcs, at, hung };
        settled.settle();
        settled
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

/// A system whose unknowns are at the least cost.
pub(super) struct Settled {
    arcs: Vec<Arc>,
    at: Vec<i32>,
    hung: Hung,
}

impl Settled {
    /// Each unknown's place; the least is 0.
    pub(super) fn places(&self) -> Vec<i32> {
        let places = &self.at[..self.hung.root];
        let least = places.iter().copied().min().unwrap_or(0);
        places.iter().map(|at| at - least).collect()
    }

    /// Has two unknowns cost so many times as much to be apart, from the next [`Self::settle`] on.
    pub(super) fn pull(&mut self, near: Near, times: i32) {
        self.arcs[near.0..near.0 + 2].iter_mut().for_each(|arc| arc.weight *= times);
    }

    /// Brings the unknowns to the least cost, from where they are.
    pub(super) fn settle(&mut self) {
        let Self { arcs, at, hung } = self;
        hung.weigh(arcs);
        for _ in 0..at.len() * MOST_EXCHANGES {
            let Some(under) = hung.worst() else { break };
            hung.find_below(under);
            let Some((shift, enters)) = hung.entering(under, arcs, at) else { break };
            for &unknown in &hung.members {
                at[unknown] += shift;
            }
            hung.exchange(under, enters, arcs);
        }
    }
}

/// A tree of arcs, hung up by its root. Whatever an exchange leaves as it is, is not worked out anew.
struct Hung {
    root: usize,
    /// The arcs; one that enters takes the place of the one that leaves.
    tree: Vec<usize>,
    /// By unknown: its neighbours in the tree, and the place in the tree of the arc to each.
    beside: Vec<Vec<(usize, usize)>>,
    /// By unknown: all arcs that begin or end there.
    touching: Vec<Vec<usize>>,
    /// By unknown: its parent, and the place in the tree of the arc to it; the root is its own.
    parents: Vec<(usize, usize)>,
    depths: Vec<usize>,
    /// By unknown: the weights of the arcs that lead out of all that hangs on it, less those of the arcs that lead in.
    sums: Vec<i64>,
    /// By unknown: what a unit more between it and its parent costs; 0 for the root.
    costs: Vec<i64>,
    /// What hangs on the unknown that was asked for last, itself first; and by unknown, whether it does.
    members: Vec<usize>,
    inside: Vec<bool>,
}

impl Hung {
    fn of(root: usize, count: usize, arcs: &[Arc], tree: Vec<usize>) -> Self {
        let mut beside = vec![Vec::new(); count];
        for (place, &id) in tree.iter().enumerate() {
            beside[arcs[id].tail].push((arcs[id].head, place));
            beside[arcs[id].head].push((arcs[id].tail, place));
        }
        let mut touching = vec![Vec::new(); count];
        for (id, arc) in arcs.iter().enumerate() {
            touching[arc.tail].push(id);
            touching[arc.head].push(id);
        }
        let mut hung = Self {
            root,
            tree,
            beside,
            touching,
            parents: vec![(root, 0); count],
            depths: vec![0; count],
            sums: vec![0; count],
            costs: vec![0; count],
            members: Vec::with_capacity(count),
            inside: vec![false; count],
        };
        hung.hang(root);
        hung
    }

    /// Works out all sums and costs from the arcs' weights.
    fn weigh(&mut self, arcs: &[Arc]) {
        self.sums.fill(0);
        for arc in arcs {
            self.sums[arc.tail] += i64::from(arc.weight);
            self.sums[arc.head] -= i64::from(arc.weight);
        }
        self.find_below(self.root);
        for at in (1..self.members.len()).rev() {
            let unknown = self.members[at];
            self.sums[self.parents[unknown].0] += self.sums[unknown];
            self.price(unknown, arcs);
        }
    }

    fn children(&self, unknown: usize) -> impl Iterator<Item = usize> {
        let parent = self.parents[unknown].0;
        let others = self.beside[unknown].iter().map(|(other, _)| *other);
        others.filter(move |other| *other != parent || unknown == self.root)
    }

    /// Gives all below an unknown, whose own parent and depth are right, theirs.
    fn hang(&mut self, top: usize) {
        let mut waits = vec![top];
        while let Some(unknown) = waits.pop() {
            let parent = self.parents[unknown].0;
            for &(other, place) in &self.beside[unknown] {
                if other != parent || unknown == self.root {
                    self.parents[other] = (unknown, place);
                    self.depths[other] = self.depths[unknown] + 1;
                    waits.push(other);
                }
            }
        }
    }

    /// Works out anew what the way from an unknown to its parent costs.
    fn price(&mut self, unknown: usize, arcs: &[Arc]) {
        let (_, place) = self.parents[unknown];
        let sum = self.sums[unknown];
        self.costs[unknown] = if arcs[self.tree[place]].tail == unknown { sum } else { -sum };
    }

    /// The unknown between which and its parent more length saves most: the last of several, level by level.
    fn worst(&self) -> Option<usize> {
        let least = self.costs.iter().copied().min().filter(|least| *least < 0)?;
        let all =
            self.costs.iter().enumerate().filter(|(_, cost)| **cost == least).map(|(unknown, _)| unknown);
        all.reduce(|one, other| if self.is_later(one, other) { one } else { other })
    }

    /// Whether one unknown comes after another, level by level from the root.
    fn is_later(&self, one: usize, other: usize) -> bool {
        if self.depths[one] != self.depths[other] {
            return self.depths[one] > self.depths[other];
        }
        let (mut one, mut other) = (one, other);
        while self.parents[one].0 != self.parents[other].0 {
            (one, other) = (self.parents[one].0, self.parents[other].0);
        }
        let siblings = &self.beside[self.parents[one].0];
        siblings.iter().map(|(sibling, _)| *sibling).find(|sibling| *sibling == one || *sibling == other)
            == Some(other)
    }

    /// Finds what hangs on an unknown.
    fn find_below(&mut self, top: usize) {
        self.members.iter().for_each(|member| self.inside[*member] = false);
        let mut members = std::mem::take(&mut self.members);
        members.clear();
        members.push(top);
        let mut next = 0;
        while let Some(&unknown) = members.get(next) {
            next += 1;
            self.inside[unknown] = true;
            members.extend(self.children(unknown));
        }
        self.members = members;
    }

    /// By how much what hangs on `under` can be shifted to let its arc grow, and the arc that then has no slack.
    fn entering(&self, under: usize, arcs: &[Arc], at: &[i32]) -> Option<(i32, usize)> {
        let inside = &self.inside;
        let out = arcs[self.tree[self.parents[under].1]].tail == under;
        // What enters runs the other way across the cut; of several with as little slack the first.
        let crosses = |id: &usize| inside[arcs[*id].tail] != out && inside[arcs[*id].head] == out;
        let slack = |id: usize| (arcs[id].slack(at), id);
        let least = if 2 * self.members.len() < inside.len() {
            let touching = self.members.iter().flat_map(|member| &self.touching[*member]).copied();
            touching.filter(crosses).map(slack).min()
        } else {
            (0..arcs.len()).filter(crosses).map(slack).min()
        };
        least.map(|(slack, id)| (if out { -slack } else { slack }, id))
    }

    /// Puts an arc in the place of the one between `under` and its parent, after [`Self::find_below`].
    fn exchange(&mut self, under: usize, enters: usize, arcs: &[Arc]) {
        let (parent, place) = self.parents[under];
        for end in [under, parent] {
            self.beside[end].retain(|(_, at)| *at != place);
        }
        let new = &arcs[enters];
        self.beside[new.tail].push((new.head, place));
        self.beside[new.head].push((new.tail, place));
        self.tree[place] = enters;
        let (inner, outer) = if self.inside[new.tail] { (new.tail, new.head) } else { (new.head, new.tail) };
        // What stays loses what hung on `under`, or gains it, as far up as the two ways do not meet.
        let all = self.sums[under];
        let (mut loses, mut gains) = (parent, outer);
        while loses != gains {
            let (here, change) =
                if self.depths[loses] >= self.depths[gains] { (&mut loses, -all) } else { (&mut gains, all) };
            let unknown = *here;
            self.sums[unknown] += change;
            *here = self.parents[unknown].0;
            self.price(unknown, arcs);
        }
        // The way from the new arc's inner end up to `under` turns round.
        let (mut here, mut above, mut sum) = (inner, (outer, place), all);
        loop {
            let before = std::mem::replace(&mut self.parents[here], above);
            let rest = all - std::mem::replace(&mut self.sums[here], sum);
            self.price(here, arcs);
            if here == under {
                break;
            }
            (above, sum) = ((here, before.1), rest);
            here = before.0;
        }
        self.depths[inner] = self.depths[outer] + 1;
        self.hang(inner);
    }
}
