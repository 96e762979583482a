//! Everything that could still be wrong, each with a vehicle of its own to which all is done that the learner does.

use super::problem::Column;
use super::shows::{Shows, classes};
use super::ways::every_way;
use crate::bench::{Action, Display, InstrumentErrors, Outcome, World, step};
use crate::circuit::Unsolved;
use crate::fault::PlacedFault;
use crate::scenario::Scenario;
use crate::threads::in_parallel;
use crate::vehicle::PhysicalState;

/// How often a reading is taken for another than it was (the figure is ours, no source).
pub const LAPSE: f64 = 0.02;
/// Share of the prior that is left for a fault outside the pool (ours, no source).
pub const OUTSIDE_SHARE: f64 = 0.01;
/// Share of the prior that is left for a sound vehicle (ours, no source).
pub const SOUND_SHARE: f64 = 0.01;
/// After so many observations that do not fit, a suspect's vehicle is no longer taken along: whatever is observed then
/// counts as misread once more.
const MOST_MISFITS: u32 = 3;
/// Ways of chance that are told apart within one suspect; the least likely are dropped beyond.
const MOST_VARIANTS: usize = 12;

/// What could be wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SuspectKind {
    /// A fault of the scenario's pool, by its position.
    Pool(usize),
    /// Nothing: the vehicle is sound, and it was a setting that is right again, or the user.
    Sound,
    /// Something that is not in the pool.
    Outside,
}

/// One way in which chance may have fallen.
#[derive(Clone, Debug)]
pub(super) struct Variant {
    /// How likely, given the suspect.
    pub(super) share: f64,
    pub(super) world: World,
}

/// Something that could be wrong.
#[derive(Clone, Debug)]
pub struct Suspect {
    /// What.
    pub kind: SuspectKind,
    pub(super) variants: Vec<Variant>,
    /// Observations that did not fit.
    misfits: u32,
}

impl Suspect {
    /// How its vehicle stands, whichever way chance most likely fell; `None` where it is not taken along.
    #[must_use]
    pub fn state(&self) -> Option<&PhysicalState> {
        self.variants.first().map(|variant| &variant.world.state)
    }
}

/// How well each suspect explains one observation.
#[derive(Clone, Debug, PartialEq)]
pub struct Weighed {
    /// By suspect, the probability of what was observed.
    pub likelihoods: Vec<f64>,
    /// How many different things it could have shown.
    pub classes: usize,
    /// What it could have shown under each suspect. Those that foretell nothing share a class of their own.
    pub column: Column,
}

/// Everything that could be wrong.
#[derive(Clone, Debug)]
pub struct Suspects {
    list: Vec<Suspect>,
    pub(super) threads: usize,
    /// What the learner's meter showed last.
    shown: Option<Display>,
}

/// What playing one act on one suspect's vehicles brings.
struct Played {
    /// By variant and way of chance: how likely, what it shows, and the vehicle afterwards.
    ways: Vec<(f64, Shows, World)>,
}

impl Played {
    /// How likely it is that this shows.
    fn share_of(&self, shown: &Shows) -> f64 {
        self.ways.iter().filter(|way| shown.fits(&way.1)).map(|way| way.0).sum()
    }
}

impl Suspects {
    /// All suspects of a scenario as the vehicle comes in, and the prior weight of each. The work is shared among so many
    /// threads; their number changes nothing but the time.
    ///
    /// # Errors
    /// [`Unsolved`] where a vehicle has no operating point.
    pub fn new(scenario: &Scenario, threads: usize) -> Result<(Self, Vec<f64>), Unsolved> {
        let total: f64 = scenario.faults.iter().map(|fault| fault.weight as f64).sum();
        let kinds: Vec<SuspectKind> = (0..scenario.faults.len())
            .map(SuspectKind::Pool)
            .chain([SuspectKind::Sound, SuspectKind::Outside])
            .collect();
        let priors = kinds
            .iter()
            .map(|kind| match *kind {
                SuspectKind::Pool(at) => scenario.faults[at].weight as f64,
                SuspectKind::Sound => SOUND_SHARE * total.max(1.0),
                SuspectKind::Outside => OUTSIDE_SHARE * total.max(1.0),
            })
            .collect();
        let sound = World::standing(&scenario.vehicle, None, InstrumentErrors::NONE, scenario.conditions)?;
        let list = in_parallel(&kinds, threads, |kind| begin(scenario, &sound, *kind))?;
        Ok((Self { list, threads: threads.max(1), shown: None }, priors))
    }

    /// The suspects, in the order of their priors.
    #[must_use]
    pub fn list(&self) -> &[Suspect] {
        &self.list
    }

    /// Those of some kinds alone, in this order; kinds that are not among the suspects are left out.
    #[must_use]
    pub fn only(&self, kinds: &[SuspectKind]) -> Self {
        let find = |kind: &SuspectKind| self.list.iter().find(|suspect| suspect.kind == *kind).cloned();
        Self { list: kinds.iter().filter_map(find).collect(), threads: self.threads, shown: self.shown }
    }

    /// Does to every suspect's vehicle what the learner did, and tells how well each explains what was observed. An aside
    /// shows nothing.
    ///
    /// # Errors
    /// [`Unsolved`] where a vehicle has no operating point afterwards.
    pub fn observe(
        &mut self,
        scenario: &Scenario,
        action: &Action,
        outcome: &Outcome,
    ) -> Result<Weighed, Unsolved> {
        self.take_in(scenario, action, outcome, None)
    }

    /// The same for a learner who takes what showed for something that another suspect foretold: by the ticket, one of
    /// those that foretold something else, each equally likely. Every vehicle goes the way of what really happened.
    ///
    /// # Errors
    /// [`Unsolved`] where a vehicle has no operating point afterwards.
    pub fn misread(
        &mut self,
        scenario: &Scenario,
        action: &Action,
        outcome: &Outcome,
        ticket: u64,
    ) -> Result<Weighed, Unsolved> {
        self.take_in(scenario, action, outcome, Some(ticket))
    }

    fn take_in(
        &mut self,
        scenario: &Scenario,
        action: &Action,
        outcome: &Outcome,
        misread: Option<u64>,
    ) -> Result<Weighed, Unsolved> {
        if action.is_aside() {
            let same = vec![0; self.list.len()];
            let likelihoods = vec![1.0; self.list.len()];
            return Ok(Weighed { likelihoods, classes: 1, column: Column::Certain(same) });
        }
        let observed = Shows::of(outcome, self.shown);
        self.shown = outcome.reading.as_ref().map(|reading| reading.now).or(self.shown);
        let played = in_parallel(&self.list, self.threads, |suspect| play(scenario, suspect, action))?;
        let all: Vec<&Shows> =
            played.iter().flat_map(|one| one.ways.iter().map(|(_, shows, _)| shows)).collect();
        let sorted = classes(&all);
        let count = sorted.iter().max().map_or(1, |most| usize::from(*most) + 1);
        let by_lapse = 1.0 / (count + 1) as f64;
        let column = foretold(&played, &sorted);
        let taken_for = misread.and_then(|ticket| foretold_otherwise(&played, &observed, ticket)).cloned();
        let mut likelihoods = Vec::with_capacity(self.list.len());
        let mut foresaw = Vec::with_capacity(self.list.len());
        for (suspect, played) in self.list.iter_mut().zip(played) {
            if played.ways.is_empty() {
                let outside = suspect.kind == SuspectKind::Outside;
                let by_chance = if count == 1 { 1.0 } else { by_lapse };
                likelihoods.push(if outside { by_chance } else { LAPSE * by_lapse });
                foresaw.push(false);
                continue;
            }
            let fitting = played.share_of(&observed);
            let likelihood = |fitting: f64| (1.0 - LAPSE) * fitting + LAPSE * by_lapse;
            suspect.misfits += u32::from(fitting <= 0.0);
            foresaw.push(likelihood(fitting) > LAPSE);
            likelihoods.push(likelihood(taken_for.as_ref().map_or(fitting, |shows| played.share_of(shows))));
            let ways = played.ways.into_iter().filter(|way| fitting <= 0.0 || observed.fits(&way.1));
            suspect.variants = merged(ways.map(|(share, _, world)| Variant { share, world }).collect());
        }
        self.align(scenario, &foresaw)?;
        Ok(Weighed { likelihoods, classes: count, column })
    }

    /// Lets the vehicles of those that did not foresee what was observed stand as the learner's visibly does.
    fn align(&mut self, scenario: &Scenario, foresaw: &[bool]) -> Result<(), Unsolved> {
        let Some(leader) = (0..self.list.len()).find(|&at| foresaw[at] && !self.list[at].variants.is_empty())
        else {
            return Ok(());
        };
        let shown = self.list[leader].variants[0].world.clone();
        for suspect in &mut self.list {
            if suspect.misfits >= MOST_MISFITS {
                suspect.variants.clear();
            }
            for variant in &mut suspect.variants {
                if !variant.world.stands_like(&shown) {
                    variant.world.stand_like(&scenario.vehicle, &shown)?;
                }
            }
        }
        Ok(())
    }
}

/// By the ticket, what one of the suspects foretold that foretold something else than was observed, whichever way chance most
/// likely fell; `None` where all foretold it.
fn foretold_otherwise<'a>(played: &'a [Played], observed: &Shows, ticket: u64) -> Option<&'a Shows> {
    let likeliest = |one: &'a Played| one.ways.iter().max_by(|a, b| a.0.total_cmp(&b.0));
    let shown = played.iter().filter_map(likeliest).map(|(_, shows, _)| shows);
    let others: Vec<&Shows> = shown.filter(|shows| !observed.fits(shows)).collect();
    let at = ticket.checked_rem(others.len() as u64)?;
    others.into_iter().nth(at as usize)
}

/// What each suspect foretold, in classes: `sorted` holds those of all ways, one after the other.
fn foretold(played: &[Played], sorted: &[u16]) -> Column {
    let unknown = sorted.iter().max().map_or(0, |most| most + 1);
    let mut left = sorted.iter();
    let rows: Vec<Vec<(f64, u16)>> = played
        .iter()
        .map(|one| {
            let mut row: Vec<(f64, u16)> = Vec::new();
            for (&(share, ..), &class) in one.ways.iter().zip(left.by_ref()) {
                match row.iter_mut().find(|(_, known)| *known == class) {
                    Some((sum, _)) => *sum += share,
                    None => row.push((share, class)),
                }
            }
            if row.is_empty() { vec![(1.0, unknown)] } else { row }
        })
        .collect();
    Column::of_rows(rows)
}

/// A suspect's vehicles as they come in, beside a sound one.
fn begin(scenario: &Scenario, sound: &World, kind: SuspectKind) -> Result<Suspect, Unsolved> {
    let fault: Option<&PlacedFault> = match kind {
        SuspectKind::Pool(at) => Some(&scenario.faults[at]),
        SuspectKind::Sound => None,
        SuspectKind::Outside => return Ok(Suspect { kind, variants: Vec::new(), misfits: 0 }),
    };
    let fresh = sound.beside(&scenario.vehicle, fault, InstrumentErrors::NONE, scenario.conditions)?;
    let ways = every_way(|chance| {
        let mut world = fresh.clone();
        world.arrive(&scenario.vehicle, chance).map(|()| world)
    })?;
    let variants = merged(ways.into_iter().map(|(share, world)| Variant { share, world }).collect());
    Ok(Suspect { kind, variants, misfits: 0 })
}

/// Plays an act on every vehicle of a suspect, whichever way chance falls.
fn play(scenario: &Scenario, suspect: &Suspect, action: &Action) -> Result<Played, Unsolved> {
    let mut ways = Vec::with_capacity(suspect.variants.len());
    for variant in &suspect.variants {
        let came = every_way(|chance| {
            let mut world = variant.world.clone();
            let before = world.display();
            step(&scenario.vehicle, &mut world, action, chance)
                .map(|outcome| (Shows::of(&outcome, before), world))
        })?;
        ways.extend(came.into_iter().map(|(share, (shows, world))| (variant.share * share, shows, world)));
    }
    Ok(Played { ways })
}

/// Variants that stand alike made one, the likeliest kept, shares brought to 1.
pub(super) fn merged(variants: Vec<Variant>) -> Vec<Variant> {
    let mut kept: Vec<Variant> = Vec::with_capacity(variants.len());
    for variant in variants {
        let alike = kept
            .iter_mut()
            .find(|one| one.world.state == variant.world.state && one.world.kit == variant.world.kit);
        match alike {
            Some(one) => one.share += variant.share,
            None => kept.push(variant),
        }
    }
    kept.sort_by(|a, b| b.share.total_cmp(&a.share));
    kept.truncate(MOST_VARIANTS);
    let total: f64 = kept.iter().map(|variant| variant.share).sum();
    for variant in &mut kept {
        variant.share /= total;
    }
    kept
}
