//! What happens in time: inductance, inertia, heat.
//!
//! Steps are those of Alexander's L-stable method of second order with two implicit stages (SIAM J. Numer. Anal. 14:1006,
//! 1977; from memory), γ = 1 − √½. In each stage, branches with a memory are a conductance and a current, so that a step is
//! two solutions of one network; its factor is kept while no conductance changes. The difference to a solution of first
//! order with the same stages is held below [`TOLERANCE`] of each number, or what is asked for instead. The step that is taken is of second order: what
//! it leaves is a few hundredths of a per cent of a change.

use std::cell::{Cell, RefCell};

use super::companions::{Companion, Remainder};
use super::dynamic::{Dynamic, Memory, Motion, Warming};
use super::element::Law;
use super::network::{Branch, Network, Node};
use super::point::Tangent;
use super::solve::{Curved, Workspace, along, drive};
use super::spare;
use super::trace::{Notes, Trace};
use super::unsolved::Unsolved;

/// How much looser curves are settled than in an operating point: to 1e-9, far below what steps leave.
const LOOSER: f64 = 1e4;
/// γ.
const GAMMA: f64 = 1.0 - std::f64::consts::FRAC_1_SQRT_2;
/// The error of the solution of first order that is allowed in a step, as a share of each number.
const TOLERANCE: f64 = 2e-4;
/// Amps or volts below which a number counts as nothing: its error is held against this at least.
const NOTHING: f64 = 1e-3;
/// Steps are powers of two of a second, so that factors are used again; the first after anything has switched, and the
/// least, below which errors are accepted: whatever changes faster dies out in one such step.
const FIRST_STEP_SECONDS: f64 = 1.0 / 1_048_576.0;
const LEAST_STEP_SECONDS: f64 = FIRST_STEP_SECONDS / 4096.0;
/// How much longer than it is a step may get so that nothing is left over of the time that is to pass.
const MOST_STRETCHING: f64 = 1.25;
/// The error over what is allowed that a longer step may be expected to have.
const GROWN_ERROR: f64 = 0.8;
/// A stage so short that nothing moves in it, in which voltages follow what has switched.
const INSTANT_SECONDS: f64 = 1e-12;
/// A filament whose resistance changes by more than this share in a step is followed in smaller ones.
const MOST_WARMING: f64 = 0.4;
/// Steps in one go after which the search is given up.
const MOST_STEPS: usize = 100_000;
/// How exactly an event is found, in seconds.
const EVENT_SECONDS: f64 = 1e-6;

/// A function of an instant whose fall to zero is waited for.
pub type Event<'a> = &'a dyn Fn(&Instant) -> f64;

/// A branch with a memory, as it stands.
#[derive(Clone, Copy, Debug)]
struct Part {
    branch: usize,
    dynamic: Dynamic,
    motion: Motion,
    /// It cannot turn.
    held: bool,
}

/// The voltages of the positions: those of the ends, the others only once somebody looks.
#[derive(Clone, Debug)]
struct Rows {
    values: RefCell<Vec<f64>>,
    spread: Cell<bool>,
}

impl Drop for Rows {
    fn drop(&mut self) {
        spare::done(std::mem::take(self.values.get_mut()));
    }
}

impl Rows {
    fn new(network: &Network) -> Self {
        let count = network.pattern.rows() + 1;
        let mut values = spare::list(count);
        values.resize(count, 0.0);
        Self { values: RefCell::new(values), spread: Cell::new(true) }
    }

    /// A node's voltage.
    fn volts(&self, network: &Network, rest: Option<&Remainder>, node: Node) -> f64 {
        let seen = |rest: &Remainder| rest.is_end(network.positions[node.0] as usize);
        if let Some(rest) = rest.filter(|rest| !self.spread.get() && !seen(rest)) {
            rest.spread(network, &mut self.values.borrow_mut());
            self.spread.set(true);
        }
        network.node_volt(&self.values.borrow(), node)
    }

    fn copy_from(&mut self, other: &mut Self) {
        self.values.get_mut().copy_from_slice(other.values.get_mut());
        self.spread.set(other.spread.get());
    }
}

thread_local! {
    /// A workspace that no transient uses: it is as good as a new one.
    static SPARE: Cell<Option<Workspace>> = const { Cell::new(None) };
}

impl Drop for Transient<'_> {
    fn drop(&mut self) {
        SPARE.set(Some(std::mem::take(&mut self.workspace)));
        spare::done(std::mem::take(&mut self.laws));
    }
}

/// A circuit in time.
#[derive(Clone, Debug)]
pub struct Transient<'a> {
    network: &'a Network,
    laws: Vec<Law>,
    parts: Vec<Part>,
    seconds: f64,
    /// What each part remembers, and the voltages of the positions.
    memory: Vec<Memory>,
    rows: Rows,
    /// Voltages have to follow what was switched.
    switched: bool,
    step_seconds: f64,
    /// The error of the solution of first order that is allowed in a step, as a share of each number.
    tolerance: f64,
    /// The share of what its volts would drive against which an error is held at least.
    scale: f64,
    workspace: Workspace,
    /// Conductances and driven currents of all branches without a memory, once something is solved as a whole.
    still: Option<(Vec<f64>, Vec<f64>)>,
    /// The reach for which companions stand in the workspace.
    reach: f64,
    /// The rest as the branches with a memory and the curved ones see it, where there is one.
    rest: Option<Remainder>,
    /// What stands for them in a stage, and the volts along them from which its search sets out.
    companions: Vec<Companion>,
    volts: Vec<f64>,
    /// What parts remember at the end of the step that is tried, and the voltages there.
    next: Vec<Memory>,
    tried: Rows,
    /// What they remembered at its beginning, after its first stage, and from where its second sets out.
    from: Vec<Memory>,
    first: Vec<Memory>,
    base: Vec<Memory>,
}

/// A circuit at one instant.
#[derive(Clone, Copy, Debug)]
pub struct Instant<'a> {
    /// Seconds since the beginning.
    pub seconds: f64,
    network: &'a Network,
    laws: &'a [Law],
    parts: &'a [Part],
    memory: &'a [Memory],
    rows: &'a Rows,
    rest: Option<&'a Remainder>,
}

impl Instant<'_> {
    /// A node's voltage against the reference, in volts.
    #[must_use]
    pub fn volts(&self, node: Node) -> f64 {
        self.rows.volts(self.network, self.rest, node)
    }

    /// A branch's current from its first node to its second, in amps.
    #[must_use]
    pub fn amps(&self, branch: Branch) -> f64 {
        let (from, to) = self.network.ends(branch);
        let volts = self.volts(from) - self.volts(to);
        match self.parts.iter().position(|part| part.branch == branch.0) {
            Some(at) => self.parts[at].dynamic.amps(&self.memory[at], volts),
            None => self.laws[branch.0].current(volts).0,
        }
    }

    /// Takes down the volts of the ends of what has a memory or is curved, or of all positions where nobody keeps those, and
    /// what each branch with a memory is to something that hardly moves it.
    pub(super) fn note(&self, volts: &mut Vec<f64>, tangents: &mut Vec<Tangent>) {
        let rows = self.rows.values.borrow();
        match self.rest {
            Some(rest) => rest.take_ends(&rows, volts),
            None => volts.extend_from_slice(&rows),
        }
        for (part, memory) in self.parts.iter().zip(self.memory) {
            let along = along(self.network, &rows, part.branch) + self.network.above_volts[part.branch];
            tangents.push(part.dynamic.tangent(memory, along));
        }
    }

    /// The currents of the first `count` branches, in amps.
    pub(super) fn first_amps(&self, count: usize, amps: &mut Vec<f64>) {
        let along = |branch: usize| {
            let (from, to) = self.network.ends(Branch(branch));
            self.volts(from) - self.volts(to)
        };
        amps.extend(self.laws.iter().take(count).enumerate().map(|(at, law)| match *law {
            Law::Conductance(0.0) => 0.0,
            _ => law.current(along(at)).0,
        }));
        for (part, memory) in self.parts.iter().zip(self.memory).filter(|(part, _)| part.branch < count) {
            amps[part.branch] = part.dynamic.amps(memory, along(part.branch));
        }
    }

    /// What a branch remembers, if it has a memory.
    #[must_use]
    pub fn memory(&self, branch: Branch) -> Option<Memory> {
        self.parts.iter().position(|part| part.branch == branch.0).map(|at| self.memory[at])
    }
}

impl<'a> Transient<'a> {
    /// A circuit that begins with these memories: the law of a branch that has one does not count.
    ///
    /// # Errors
    /// See [`Unsolved`]; a bad value of a branch with a memory is a [`Unsolved::BadValue`] too, as are two on one branch.
    pub fn new(
        network: &'a Network,
        laws: &[Law],
        parts: &[(Branch, Dynamic, Memory)],
    ) -> Result<Self, Unsolved> {
        let mut laws = spare::list_of(laws);
        for (at, (branch, dynamic, memory)) in parts.iter().enumerate() {
            let again = parts[..at].iter().any(|(other, ..)| other == branch);
            let law = laws.get_mut(branch.0).ok_or(Unsolved::BadValue(*branch))?;
            if again || !dynamic.is_sound() || !memory.is_finite() {
                return Err(Unsolved::BadValue(*branch));
            }
            *law = Law::OPEN;
        }
        let mut memory: Vec<Memory> = parts.iter().map(|(.., memory)| *memory).collect();
        let parts: Vec<Part> = parts
            .iter()
            .zip(&mut memory)
            .map(|(&(branch, dynamic, _), memory)| {
                if let Dynamic::Bulb { filament, .. } = dynamic {
                    memory.ohms = memory.ohms.max(filament.cold_ohms());
                }
                let motion = if memory.speed_volts == 0.0 {
                    Motion::Still
                } else {
                    Motion::Turning(memory.speed_volts.signum())
                };
                Part { branch: branch.0, dynamic, motion, held: false }
            })
            .collect();
        let mut transient = Self {
            rows: Rows::new(network),
            tried: Rows::new(network),
            workspace: SPARE.take().unwrap_or_default(),
            still: None,
            from: Vec::with_capacity(parts.len()),
            first: Vec::with_capacity(parts.len()),
            base: Vec::with_capacity(parts.len()),
            network,
            laws,
            seconds: 0.0,
            next: memory.clone(),
            memory,
            parts,
            switched: true,
            step_seconds: FIRST_STEP_SECONDS,
            tolerance: TOLERANCE,
            scale: 0.0,
            reach: f64::NAN,
            rest: None,
            companions: Vec::new(),
            volts: Vec::new(),
        };
        transient.lay_out()?;
        transient.follow()?;
        Ok(transient)
    }

    /// The circuit as it is.
    #[must_use]
    pub fn now(&self) -> Instant<'_> {
        self.instant(self.seconds, &self.memory, &self.rows)
    }

    /// Gives a branch without a memory another law: a switch has moved. What the others remember stays.
    ///
    /// # Errors
    /// [`Unsolved::BadValue`] for a bad law, and for a branch with a memory.
    pub fn set_law(&mut self, branch: Branch, law: Law) -> Result<(), Unsolved> {
        let remembers = self.parts.iter().any(|part| part.branch == branch.0);
        if remembers || branch.0 >= self.laws.len() || !law.is_sound() {
            return Err(Unsolved::BadValue(branch));
        }
        if self.laws[branch.0] != law {
            self.laws[branch.0] = law;
            self.lay_out()?;
            self.switched = true;
        }
        Ok(())
    }

    /// Holds a motor where it is, or lets it go.
    ///
    /// # Errors
    /// [`Unsolved::BadValue`] where the branch is no motor.
    pub fn set_held(&mut self, branch: Branch, held: bool) -> Result<(), Unsolved> {
        let at = self.parts.iter().position(|part| part.branch == branch.0);
        let at = at.filter(|&at| matches!(self.parts[at].dynamic, Dynamic::Motor { .. }));
        let at = at.ok_or(Unsolved::BadValue(branch))?;
        self.parts[at].held = held;
        if held {
            self.stop(at);
        }
        self.switched = true;
        Ok(())
    }

    /// Allows this error of the solution of first order in a step, as a share of each number, instead of 2e-4. What the
    /// steps themselves leave goes with its power of 1.5: some 5e-4 of a change at 5e-3. Where a winding's current grows, the
    /// share is of no less than `scale` times what its volts would drive in the end, and of a motor's speed likewise.
    pub fn set_tolerance(&mut self, share: f64, scale: f64) {
        self.tolerance = share;
        self.scale = scale;
    }

    /// Lets time pass until `most_seconds` are up or the first of the `events` falls to zero or below, having been above;
    /// then says which. An event is found within a microsecond, and the circuit then stands just behind it.
    ///
    /// # Errors
    /// See [`Unsolved`]. The circuit then stands at the last step that was found.
    pub fn advance(&mut self, most_seconds: f64, events: &[Event]) -> Result<Option<usize>, Unsolved> {
        self.advance_seen(most_seconds, events, &mut |_| {})
    }

    /// The same, showing the beginning and every step.
    ///
    /// # Errors
    /// See [`Transient::advance`].
    pub fn advance_seen(
        &mut self,
        most_seconds: f64,
        events: &[Event],
        seen: &mut dyn FnMut(&Instant),
    ) -> Result<Option<usize>, Unsolved> {
        self.follow()?;
        seen(&self.now());
        let end = self.seconds + most_seconds;
        for _ in 0..MOST_STEPS {
            let left = end - self.seconds;
            // Sums of steps are not exact.
            if left.is_nan() || left <= 1e-12 * end {
                return Ok(None);
            }
            self.break_away();
            let armed = Armed::new(self, events);
            // A little left over is taken along.
            let most = if left <= MOST_STRETCHING * self.step_seconds { left } else { self.step_seconds };
            let (seconds, error) = self.try_step(most)?;
            let (least, mut fired) = armed.look(self, events, seconds);
            let mut seconds = seconds;
            if least <= 0.0 {
                seconds = self.locate(&armed, events, seconds, least)?;
                fired = armed.look(self, events, seconds).1;
            }
            self.accept(seconds);
            seen(&self.now());
            if fired.is_some() {
                self.step_seconds = FIRST_STEP_SECONDS;
                if let Some(event) = fired.flatten() {
                    return Ok(Some(event));
                }
            } else if seconds >= self.step_seconds {
                // The estimate grows with the square of the step.
                let growth = [8.0, 4.0, 2.0].into_iter().find(|growth| error * growth * growth < GROWN_ERROR);
                self.step_seconds *= growth.unwrap_or(1.0);
            }
        }
        Err(Unsolved::NotConverged)
    }

    /// What is left of it for those who look afterwards: the `notes` are of its instants, and no law has changed since the
    /// first of them.
    #[must_use]
    pub fn into_trace(mut self, notes: Notes) -> Trace {
        let curves = self.workspace.point.curves.iter().map(|curve| curve.branch);
        let branches = self.parts.iter().map(|part| part.branch).chain(curves).collect();
        Trace::new(notes, std::mem::take(&mut self.laws), branches, self.rest.take())
    }

    fn instant<'b>(&'b self, seconds: f64, memory: &'b [Memory], rows: &'b Rows) -> Instant<'b> {
        let rest = self.rest.as_ref();
        Instant { seconds, network: self.network, laws: &self.laws, parts: &self.parts, memory, rows, rest }
    }

    /// The circuit at the end of the step that is tried.
    fn tried(&self, seconds: f64) -> Instant<'_> {
        self.instant(self.seconds + seconds, &self.next, &self.tried)
    }

    /// Takes in the laws of branches without a memory.
    fn lay_out(&mut self) -> Result<(), Unsolved> {
        // What the voltages were spread by is gone then.
        if let Some(rest) = self.rest.take().filter(|_| !self.rows.spread.replace(true)) {
            rest.spread(self.network, self.rows.values.get_mut());
        }
        self.workspace.lay_out(self.network, &self.laws)?;
        self.workspace.settle_within(LOOSER);
        self.still = None;
        let curves = self.workspace.point.curves.iter().map(|curve| curve.branch);
        let branches: Vec<usize> = self.parts.iter().map(|part| part.branch).chain(curves).collect();
        let (straight, driven) = (&self.workspace.straight, &self.workspace.driven);
        self.rest = Remainder::new(self.network, straight, driven, &branches);
        for part in &self.parts {
            if let Dynamic::Bulb { filament, seconds } = part.dynamic {
                self.workspace
                    .add_curve(part.branch, Curved::Warming(Warming::new(filament, seconds, 0.0, 0.0)));
            }
        }
        self.reach = f64::NAN;
        Ok(())
    }

    /// Lets voltages follow what was switched, without anything else moving.
    fn follow(&mut self) -> Result<(), Unsolved> {
        if self.switched {
            let base = self.memory.clone();
            self.volts.clear();
            self.stage(&base, INSTANT_SECONDS, false)?;
            self.rows.copy_from(&mut self.tried);
            self.step_seconds = FIRST_STEP_SECONDS;
            self.switched = false;
        }
        Ok(())
    }

    /// Solves the last stage of a step: voltages are then in the workspace, what is remembered in `next`.
    fn stage(&mut self, base: &[Memory], reach: f64, warm: bool) -> Result<(), Unsolved> {
        let mut sound = true;
        if self.stage_at_ends(base, reach) {
            if let Some(rest) = &self.rest {
                rest.end_rows(self.tried.values.get_mut());
                self.tried.spread.set(false);
            }
        } else {
            self.stage_as_a_whole(base, reach, warm)?;
            let tried = self.tried.values.get_mut();
            tried.copy_from_slice(&self.workspace.to);
            self.tried.spread.set(true);
            sound = tried.iter().all(|volts| volts.is_finite());
        }
        if sound && self.next.iter().all(Memory::is_finite) { Ok(()) } else { Err(Unsolved::Overflow) }
    }

    /// Solves the first of two stages: only what is remembered counts.
    fn first_stage(&mut self, base: &[Memory], reach: f64) -> Result<(), Unsolved> {
        self.volts.clear();
        if !self.stage_at_ends(base, reach) {
            self.stage_as_a_whole(base, reach, true)?;
        }
        if self.next.iter().all(Memory::is_finite) { Ok(()) } else { Err(Unsolved::Overflow) }
    }

    /// Solves a stage at the ends of the branches with a memory and the curved ones, if there are such. Its search sets out
    /// from the voltages of the stage before it in the same step, if there is one.
    fn stage_at_ends(&mut self, base: &[Memory], reach: f64) -> bool {
        let Some(rest) = &mut self.rest else { return false };
        let network = self.network;
        self.companions.clear();
        let branches = self.parts.iter().map(|part| part.branch);
        let branches = branches.chain(self.workspace.point.curves.iter().map(|curve| curve.branch));
        if self.volts.is_empty() {
            let rows = self.rows.values.get_mut();
            self.volts
                .extend(branches.map(|branch| along(network, rows, branch) + network.above_volts[branch]));
        }
        for (part, base) in self.parts.iter().zip(base) {
            self.companions.push(match part.dynamic {
                Dynamic::Bulb { filament, seconds } => {
                    Companion::Warming(Warming::new(filament, seconds, base.ohms, reach))
                }
                _ => Companion::Straight(part.dynamic.companion(part.motion, base, reach)),
            });
        }
        for curve in &self.workspace.point.curves {
            self.companions.push(Companion::Curve(curve.law));
        }
        if !rest.solve(&mut self.companions, &mut self.volts) {
            self.volts.clear();
            return false;
        }
        let ends = self.companions.iter().zip(&self.volts);
        for (((part, base), next), (companion, &volts)) in
            self.parts.iter().zip(base).zip(&mut self.next).zip(ends)
        {
            *next = match companion {
                Companion::Warming(filament) => Memory { ohms: filament.near_ohms(), ..*base },
                _ => part.dynamic.at_end(part.motion, base, reach, volts),
            };
        }
        true
    }

    /// Solves a stage on the whole network.
    fn stage_as_a_whole(&mut self, base: &[Memory], reach: f64, warm: bool) -> Result<(), Unsolved> {
        // Its search sets out from all voltages.
        if let Some(rest) = self.rest.as_ref().filter(|_| !self.rows.spread.replace(true)) {
            rest.spread(self.network, self.rows.values.get_mut());
        }
        let (network, workspace) = (self.network, &mut self.workspace);
        let still = self.still.get_or_insert_with(|| (workspace.straight.clone(), workspace.driven.clone()));
        if reach != self.reach {
            self.reach = reach;
            (workspace.factored, workspace.laid) = (false, false);
            workspace.straight.copy_from_slice(&still.0);
            for (part, base) in self.parts.iter().zip(base) {
                let Tangent { siemens, .. } = part.dynamic.companion(part.motion, base, reach);
                workspace.straight[network.stamps[part.branch] as usize] += siemens;
            }
        }
        workspace.driven.copy_from_slice(&still.1);
        let bulbs = self.parts.iter().filter(|part| matches!(part.dynamic, Dynamic::Bulb { .. })).count();
        let mut curve = workspace.steps.len() - bulbs;
        for (part, base) in self.parts.iter().zip(base) {
            if let Dynamic::Bulb { filament, seconds } = part.dynamic {
                workspace.steps[curve].law =
                    Curved::Warming(Warming::new(filament, seconds, base.ohms, reach));
                curve += 1;
            } else {
                let companion = part.dynamic.companion(part.motion, base, reach);
                workspace.point.tangents[part.branch] = companion;
                drive(network, &mut workspace.driven, part.branch, companion.siemens, companion.amps);
            }
        }
        workspace.search(network, warm.then_some(self.rows.values.get_mut().as_slice()))?;
        for ((part, base), next) in self.parts.iter().zip(base).zip(&mut self.next) {
            let volts = along(network, &workspace.to, part.branch) + network.above_volts[part.branch];
            *next = part.dynamic.at_end(part.motion, base, reach, volts);
        }
        Ok(())
    }

    /// One step of at most this length, as long as its error allows: its length, and the error over what is allowed.
    fn try_step(&mut self, most: f64) -> Result<(f64, f64), Unsolved> {
        let mut seconds = most;
        loop {
            let least = seconds <= LEAST_STEP_SECONDS;
            match self.step(seconds) {
                Ok(error) if error <= 1.0 || least => return Ok((seconds, error)),
                Err(why) if least => return Err(why),
                _ => {}
            }
            // Down to the next power of two.
            let mut shorter = self.step_seconds;
            while shorter >= seconds {
                shorter *= 0.5;
            }
            seconds = shorter;
            self.step_seconds = shorter;
        }
    }

    /// One step of exactly this length, and its error over what is allowed.
    fn step(&mut self, seconds: f64) -> Result<f64, Unsolved> {
        let reach = GAMMA * seconds;
        let mut from = std::mem::take(&mut self.from);
        let mut base = std::mem::take(&mut self.base);
        from.clone_from(&self.memory);
        let solved = self.first_stage(&from, reach).and_then(|()| {
            // base = from + (1 − γ) h k, where k is the slope in the first stage.
            let share = (1.0 - GAMMA) / GAMMA;
            let stages = from.iter().zip(&self.next);
            base.clear();
            base.extend(stages.map(|(from, stage)| from.combine(stage, |a, b| a + share * (b - a))));
            self.first.clone_from(&self.next);
            self.stage(&base, reach, true)
        });
        (self.from, self.base) = (from, base);
        solved?;
        let mut most: f64 = 0.0;
        for (at, part) in self.parts.iter().enumerate() {
            let [from, first, base, to] = [self.from[at], self.first[at], self.base[at], self.next[at]];
            // γ h (k₂ − k₁)
            let error = |get: fn(&Memory) -> f64, nothing: f64| {
                let apart = (get(&to) - get(&base)) - (get(&first) - get(&from));
                apart.abs() / (self.tolerance * get(&from).abs().max(get(&to).abs()).max(nothing))
            };
            let (amps, speed_volts) = self.scales(at);
            most = most
                .max(error(|memory| memory.amps, NOTHING.max(amps)))
                .max(error(|memory| memory.speed_volts, NOTHING.max(speed_volts)));
            if let Dynamic::Bulb { .. } = part.dynamic {
                most = most.max(error(|memory| memory.ohms, 0.0));
                most = most.max((to.ohms - from.ohms).abs() / (MOST_WARMING * from.ohms));
            }
        }
        Ok(most)
    }

    /// The share of the current and of the speed to which a winding's volts would bring it, while they drive its current.
    fn scales(&self, at: usize) -> (f64, f64) {
        let (Dynamic::Coil { ohms, .. } | Dynamic::Motor { ohms, .. }) = self.parts[at].dynamic else {
            return (0.0, 0.0);
        };
        // They are not at hand where the whole network was solved.
        let volts = self.volts.get(at).copied().unwrap_or(0.0);
        if self.scale == 0.0 || ohms <= 0.0 || volts * self.next[at].amps <= 0.0 {
            return (0.0, 0.0);
        }
        (self.scale * volts.abs() / ohms, self.scale * volts.abs())
    }

    /// Takes the step that was tried.
    fn accept(&mut self, seconds: f64) {
        self.seconds += seconds;
        self.memory.copy_from_slice(&self.next);
        self.rows.copy_from(&mut self.tried);
        for at in 0..self.parts.len() {
            if let Motion::Turning(sign) = self.parts[at].motion
                && self.memory[at].speed_volts * sign <= 0.0
            {
                self.stop(at);
            }
        }
    }

    fn stop(&mut self, at: usize) {
        self.parts[at].motion = Motion::Still;
        self.memory[at].speed_volts = 0.0;
        self.reach = f64::NAN;
    }

    /// Motors at rest that have enough current begin to turn.
    fn break_away(&mut self) {
        for (part, memory) in self.parts.iter_mut().zip(&self.memory) {
            if let Dynamic::Motor { breakaway_amps, .. } = part.dynamic
                && part.motion == Motion::Still
                && !part.held
                && memory.amps.abs() > breakaway_amps
            {
                part.motion = Motion::Turning(memory.amps.signum());
                self.reach = f64::NAN;
            }
        }
    }

    /// How far a motor is from stopping or breaking away: at zero or below it does.
    fn margin(&self, at: usize, memory: &Memory) -> f64 {
        match (self.parts[at].dynamic, self.parts[at].motion) {
            (Dynamic::Motor { .. }, Motion::Turning(sign)) => memory.speed_volts * sign,
            (Dynamic::Motor { breakaway_amps, .. }, Motion::Still) if !self.parts[at].held => {
                breakaway_amps - memory.amps.abs()
            }
            _ => f64::INFINITY,
        }
    }

    /// Shortens the step that was tried until it ends less than a microsecond behind the first event.
    fn locate(&mut self, armed: &Armed, events: &[Event], seconds: f64, least: f64) -> Result<f64, Unsolved> {
        let (mut low, mut high) = (0.0, seconds);
        let (mut at_low, mut at_high) = (1.0, least);
        let mut stands_at = high;
        while high - low > EVENT_SECONDS {
            // Where a straight line falls to zero, and a little to either side so that both ends close in; every third
            // time the middle.
            let straight = low + (high - low) * (at_low / (at_low - at_high));
            let width = high - low;
            for trial in [straight + 0.4 * EVENT_SECONDS, straight - 0.4 * EVENT_SECONDS, 0.5 * (low + high)]
            {
                if !(trial > low && trial < high) || high - low <= EVENT_SECONDS || high - low < 0.4 * width {
                    continue;
                }
                self.step(trial)?;
                stands_at = trial;
                let there = armed.look(self, events, trial).0;
                if there <= 0.0 {
                    (high, at_high) = (trial, there);
                } else {
                    (low, at_low) = (trial, there);
                }
            }
        }
        if stands_at != high {
            self.step(high)?;
        }
        Ok(high)
    }
}

/// What events and motors were at the beginning of a step.
struct Armed {
    events: Vec<f64>,
    motors: Vec<f64>,
}

impl Armed {
    fn new(transient: &Transient, events: &[Event]) -> Self {
        let now = transient.now();
        Self {
            events: events.iter().map(|event| event(&now)).collect(),
            motors: (0..transient.parts.len())
                .map(|at| transient.margin(at, &transient.memory[at]))
                .collect(),
        }
    }

    /// By event and then by motor: what it is at the end of the step over what it was, for those that were above zero.
    fn shares(
        &self,
        transient: &Transient,
        events: &[Event],
        seconds: f64,
    ) -> impl Iterator<Item = (Option<usize>, f64)> {
        let tried = transient.tried(seconds);
        let events = events
            .iter()
            .zip(&self.events)
            .enumerate()
            .map(move |(at, (event, was))| (Some(at), event(&tried), *was));
        let motors = self.motors.iter().enumerate();
        let motors = motors.map(|(at, was)| (None, transient.margin(at, &transient.next[at]), *was));
        events
            .chain(motors)
            .filter(|(_, _, was)| *was > 0.0 && was.is_finite())
            .map(|(what, is, was)| (what, is / was))
    }

    /// The least share, and the first event that has happened, if any; `None` in it is one of a motor's own.
    fn look(&self, transient: &Transient, events: &[Event], seconds: f64) -> (f64, Option<Option<usize>>) {
        let mut least = f64::INFINITY;
        let mut first = None;
        for (what, share) in self.shares(transient, events, seconds) {
            least = least.min(share);
            if share <= 0.0 && first.is_none() {
                first = Some(what);
            }
        }
        (least, first)
    }
}
