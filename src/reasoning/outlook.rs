//! What every test of the menu would show under every suspect.

use super::menu::Menu;
use super::problem::Column;
use super::rehearsal::Rehearsal;
use super::shows::{Shows, classes};
use super::suspects::{Suspect, Suspects, Variant, merged};
use crate::bench::{InstrumentErrors, MeterSetting, World};
use crate::circuit::Unsolved;
use crate::scenario::Scenario;
use crate::threads::in_parallel;
use crate::vehicle::{Deviation, Point};

/// What one test would show, by suspect: classes that can be told apart, each with its probability.
#[derive(Clone, Debug, PartialEq)]
pub struct Foreseen {
    /// By suspect, where its entries end in the next two lists.
    ends: Vec<u32>,
    classes: Vec<u16>,
    shares: Vec<f64>,
    /// How many classes there are.
    pub count: usize,
}

impl Foreseen {
    /// What a suspect shows: the probability of each class. Empty for one that foretells nothing.
    pub fn of(&self, suspect: usize) -> impl Iterator<Item = (f64, u16)> + '_ {
        let from = if suspect == 0 { 0 } else { self.ends[suspect - 1] as usize };
        let range = from..self.ends[suspect] as usize;
        self.shares[range.clone()].iter().copied().zip(self.classes[range].iter().copied())
    }

    /// The same for all suspects, who have these weights: certain where each of those that have any shows one thing only.
    pub(super) fn column(&self, weights: &[f64]) -> Column {
        let certain =
            weights.iter().enumerate().all(|(at, weight)| *weight == 0.0 || self.of(at).count() == 1);
        if certain {
            let class = |suspect: usize| self.of(suspect).next().map_or(0, |(_, class)| class);
            Column::Certain((0..weights.len()).map(class).collect())
        } else {
            Column::Chances((0..weights.len()).map(|suspect| self.of(suspect).collect()).collect())
        }
    }
}

/// What every test would show under every suspect.
#[derive(Clone, Debug)]
pub struct Outlook {
    /// The tests.
    pub menu: Menu,
    /// By test, what it would show.
    pub foreseen: Vec<Foreseen>,
    /// By suspect, how its vehicle stood for good when its row was worked out, and the row.
    rows: Vec<(Vec<Lasting>, Row)>,
    /// The sound vehicle as it comes in: how every vehicle is made to stand before its row is worked out.
    rest: World,
}

/// What does not come back by itself: fuses and what is wrong.
#[derive(Clone, Debug, PartialEq)]
struct Lasting {
    fuses: Vec<Option<(u8, bool)>>,
    wrong: Vec<Deviation>,
    lockout: bool,
}

/// By test, what one suspect shows and how likely.
type Row = Vec<Vec<(f64, Shows)>>;

/// Figures of the meter on a row of points from one black lead: the tests that they are, and where the red lead is.
struct Sweep {
    stand: usize,
    setting: MeterSetting,
    black: Point,
    tests: Vec<usize>,
    points: Vec<Point>,
}

impl Outlook {
    /// Works out what every test would show under every suspect.
    ///
    /// # Errors
    /// [`Unsolved`] where a vehicle has no operating point.
    pub fn new(scenario: &Scenario, suspects: &Suspects) -> Result<Self, Unsolved> {
        let menu = Menu::new(scenario)?;
        let rest = World::standing(&scenario.vehicle, None, InstrumentErrors::NONE, scenario.conditions)?;
        let mut outlook = Self { menu, foreseen: Vec::new(), rows: Vec::new(), rest };
        outlook.refresh(scenario, suspects, &vec![true; suspects.list().len()])?;
        Ok(outlook)
    }

    /// Works out anew what has changed for good, fuses that have blown, repairs, of those suspects that are `asked` for.
    /// Tells whether anything has.
    ///
    /// # Errors
    /// [`Unsolved`] where a vehicle has no operating point.
    pub fn refresh(
        &mut self,
        scenario: &Scenario,
        suspects: &Suspects,
        asked: &[bool],
    ) -> Result<bool, Unsolved> {
        let changed: Vec<usize> = (0..suspects.list().len())
            .filter(|&at| {
                let suspect = &suspects.list()[at];
                let stale = |(then, _): &(Vec<Lasting>, Row)| {
                    asked[at] && !suspect.variants.is_empty() && *then != lasting(suspect)
                };
                self.rows.get(at).is_none_or(stale)
            })
            .collect();
        if changed.is_empty() {
            return Ok(false);
        }
        let sweeps = sweeps(&self.menu);
        let rows = in_parallel(&changed, suspects.threads, |&at| {
            let suspect = &suspects.list()[at];
            let row = foresee(scenario, &self.menu, &sweeps, &self.rest, suspect)?;
            Ok((lasting(suspect), row))
        })?;
        for (at, row) in changed.into_iter().zip(rows) {
            if at < self.rows.len() {
                self.rows[at] = row;
            } else {
                self.rows.push(row);
            }
        }
        self.foreseen = (0..self.menu.tests.len()).map(|test| column(&self.rows, test)).collect();
        Ok(true)
    }

    /// The sound vehicle as it comes in.
    #[must_use]
    pub fn rest(&self) -> &World {
        &self.rest
    }

    /// How many single figures and acts were worked out for it.
    #[must_use]
    pub fn readings(&self) -> usize {
        self.rows.iter().flat_map(|(_, row)| row).map(Vec::len).sum()
    }
}

/// How a suspect's vehicles stand for good.
fn lasting(suspect: &Suspect) -> Vec<Lasting> {
    let of = |variant: &Variant| {
        let state = &variant.world.state;
        Lasting {
            fuses: state
                .fuses
                .iter()
                .map(|slot| slot.fitted.or(slot.pulled).map(|body| (body.rating_amps, body.blown)))
                .collect(),
            wrong: state.deviations.iter().map(|one| one.deviation).collect(),
            lockout: state.lockout,
        }
    };
    let mut all: Vec<Lasting> = Vec::new();
    for one in suspect.variants.iter().map(of) {
        if !all.contains(&one) {
            all.push(one);
        }
    }
    all
}

/// The sweeps of a menu.
fn sweeps(menu: &Menu) -> Vec<Sweep> {
    let mut sweeps: Vec<Sweep> = Vec::new();
    for (at, test) in menu.tests.iter().enumerate() {
        let Some((setting, black, red)) = test.sweep else { continue };
        let alike = sweeps
            .iter_mut()
            .find(|one| one.stand == test.stand && one.setting == setting && one.black == black);
        match alike {
            Some(one) => {
                one.tests.push(at);
                one.points.push(red);
            }
            None => {
                sweeps.push(Sweep { stand: test.stand, setting, black, tests: vec![at], points: vec![red] })
            }
        }
    }
    sweeps
}

/// What every test would show under one suspect.
fn foresee(
    scenario: &Scenario,
    menu: &Menu,
    sweeps: &[Sweep],
    rest: &World,
    suspect: &Suspect,
) -> Result<Row, Unsolved> {
    let mut row: Row = vec![Vec::new(); menu.tests.len()];
    if suspect.variants.is_empty() {
        return Ok(row);
    }
    let mut stands = stands(scenario, menu, rest, suspect)?;
    for sweep in sweeps {
        for (share, rehearsal) in &stands[sweep.stand] {
            let figures =
                rehearsal.world().sweep(&scenario.vehicle, sweep.setting, sweep.black, &sweep.points)?;
            for (&test, figure) in sweep.tests.iter().zip(figures) {
                let mut shows = Shows::default();
                if let Some(display) = figure {
                    shows.add_display(display, sweep.setting.accuracy());
                }
                row[test].push((*share, shows));
            }
        }
    }
    for (at, test) in menu.tests.iter().enumerate().filter(|(_, test)| test.sweep.is_none()) {
        for (variant_share, rehearsal) in &mut stands[test.stand] {
            let came = rehearsal.play(&test.acts)?;
            row[at].extend(came.map(|(share, _, shows)| (*variant_share * share, shows.clone())));
        }
    }
    Ok(row)
}

/// A suspect's vehicles, made to stand in each of the menu's ways.
fn stands<'a>(
    scenario: &'a Scenario,
    menu: &Menu,
    rest: &World,
    suspect: &Suspect,
) -> Result<Vec<Vec<(f64, Rehearsal<'a>)>>, Unsolved> {
    let vehicle = &scenario.vehicle;
    let rehearsed = |variants: Vec<Variant>| -> Vec<(f64, Rehearsal<'a>)> {
        variants.into_iter().map(|one| (one.share, Rehearsal::new(vehicle, one.world))).collect()
    };
    let mut first = suspect.variants.clone();
    for variant in &mut first {
        if !variant.world.stands_like(rest) || variant.world.kit != rest.kit {
            variant.world.stand_like(vehicle, rest)?;
        }
    }
    let mut stands = vec![rehearsed(first)];
    for (stand, &parent) in menu.stands.iter().zip(&menu.parents).skip(1) {
        let acts = menu.stands[parent].acts_to(vehicle, stand);
        let mut variants = Vec::new();
        for (variant_share, rehearsal) in &mut stands[parent] {
            let came = rehearsal.play(&acts)?;
            variants.extend(
                came.map(|(share, world, _)| Variant { share: *variant_share * share, world: world.clone() }),
            );
        }
        stands.push(rehearsed(merged(variants)));
    }
    Ok(stands)
}

/// One test's classes over all suspects.
fn column(rows: &[(Vec<Lasting>, Row)], test: usize) -> Foreseen {
    let all: Vec<&Shows> =
        rows.iter().flat_map(|(_, row)| row[test].iter().map(|(_, shows)| shows)).collect();
    let sorted = classes(&all);
    let count = sorted.iter().max().map_or(0, |most| usize::from(*most) + 1);
    let mut foreseen = Foreseen { ends: Vec::new(), classes: Vec::new(), shares: Vec::new(), count };
    let mut next = sorted.into_iter();
    for (_, row) in rows {
        let from = foreseen.classes.len();
        for ((share, _), class) in row[test].iter().zip(&mut next) {
            match foreseen.classes[from..].iter().position(|&known| known == class) {
                Some(at) => foreseen.shares[from + at] += share,
                None => {
                    foreseen.classes.push(class);
                    foreseen.shares.push(*share);
                }
            }
        }
        foreseen.ends.push(u32::try_from(foreseen.classes.len()).unwrap_or(u32::MAX));
    }
    foreseen
}
