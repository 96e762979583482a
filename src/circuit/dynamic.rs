//! Branches with a memory, and what stands for each of them in a step of time.
//!
//! A stage of a step asks for y = base + reach × dy/dt at its own end, where `reach` is a time. With the network's voltage
//! as the only unknown that is a conductance and a current: a companion.

use super::element::{Filament, Law};
use super::point::Tangent;

/// A branch with a memory. Currents count from the branch's first node to its second.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Dynamic {
    /// A resistance and an inductance in series.
    Coil {
        /// Resistance, in ohms; it may be 0.
        ohms: f64,
        /// Inductance, in henries.
        henries: f64,
    },
    /// A motor with permanent magnets: V = R I + L dI/dt + E, C dE/dt = I − idle sign(E) − slope E. Its speed is written as
    /// the voltage E that it induces, its inertia as a capacitance (the equivalent circuit of a machine; from memory).
    Motor {
        /// Resistance of its winding, in ohms.
        ohms: f64,
        /// Inductance of its winding, in henries.
        henries: f64,
        /// Inertia over the square of the machine's constant, in farads.
        inertia_farads: f64,
        /// Current above which it breaks away from rest, in amps; at least the idle current.
        breakaway_amps: f64,
        /// Current that dry friction takes while it turns, in amps.
        idle_amps: f64,
        /// Current that each volt of speed takes, in siemens.
        slope_siemens: f64,
    },
    /// A filament whose resistance follows its heat: C dR/dt = V² / R − P(R), where P is what it gives off in its steady
    /// state ([`Filament::current`]): P_rated (R / R_rated)^(1.55/0.45), and as much as comes in where it is cold.
    Bulb {
        /// The filament.
        filament: Filament,
        /// Time constant of a small change at rated voltage, in seconds: about 0.02 for 5 W and 0.06 for 21 W (common
        /// practice, no source).
        seconds: f64,
    },
}

/// What a branch remembers. What its kind does not have stays at zero.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Memory {
    /// Current through an inductance, in amps.
    pub amps: f64,
    /// A motor's speed, in volts.
    pub speed_volts: f64,
    /// The angle through which a motor has turned: the integral of its speed, in volt-seconds.
    pub turned_volt_seconds: f64,
    /// A filament's resistance, in ohms; less than cold counts as cold.
    pub ohms: f64,
}

/// How a motor moves during a step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Motion {
    Still,
    /// With this sign.
    Turning(f64),
}

/// Exponent of a filament's heat over its resistance.
const HEAT_EXPONENT: f64 = 1.55 / 0.45;
/// What a cold filament gives off over what it gives off at its rating: (R_cold / R_rated) to that exponent.
const COLD_HEAT: f64 = 0.00012107935894375266;
/// Change, as a share, after which a filament's resistance is known to 1e-11 or better.
const NEAR: f64 = 1e-6;
/// A winding's resistance counts as no less where it is looked at, in ohms.
const LEAST_OHMS: f64 = 1e-6;
/// Steps in which a filament's resistance has to settle.
const STEPS: usize = 60;

impl Dynamic {
    /// Whether its values are finite and such as can be.
    pub(super) fn is_sound(&self) -> bool {
        let above_zero = |value: f64| value.is_finite() && value > 0.0;
        let not_below = |value: f64| value.is_finite() && value >= 0.0;
        match *self {
            Self::Coil { ohms, henries } => not_below(ohms) && above_zero(henries),
            Self::Motor { ohms, henries, inertia_farads, breakaway_amps, idle_amps, slope_siemens } => {
                above_zero(ohms)
                    && above_zero(henries)
                    && above_zero(inertia_farads)
                    && not_below(idle_amps)
                    && breakaway_amps >= idle_amps
                    && not_below(slope_siemens)
            }
            Self::Bulb { filament, seconds } => Law::Filament(filament).is_sound() && above_zero(seconds),
        }
    }

    /// What stands for it in a stage; a bulb's is curved.
    pub(super) fn companion(&self, motion: Motion, base: &Memory, reach: f64) -> Tangent {
        match *self {
            Self::Coil { ohms, henries } => {
                let beta = reach / henries;
                let share = 1.0 / (1.0 + beta * ohms);
                Tangent { siemens: beta * share, amps: base.amps * share }
            }
            Self::Motor { ohms, henries, inertia_farads, idle_amps, slope_siemens, .. } => {
                let beta = reach / henries;
                let (back, drag) = match motion {
                    Motion::Still => (0.0, 0.0),
                    Motion::Turning(sign) => {
                        let eta = reach / inertia_farads;
                        let damped = 1.0 / (1.0 + eta * slope_siemens);
                        (eta * damped, (base.speed_volts - eta * idle_amps * sign) * damped)
                    }
                };
                let share = 1.0 / (1.0 + beta * (ohms + back));
                Tangent { siemens: beta * share, amps: (base.amps - beta * drag) * share }
            }
            Self::Bulb { .. } => Tangent::default(),
        }
    }

    /// What it is, with `volts` along it, to something that moves it by so little that it does so at once: a winding is its
    /// resistance, a filament has the heat that it has.
    pub(super) fn tangent(&self, memory: &Memory, volts: f64) -> Tangent {
        match *self {
            Self::Coil { ohms, .. } | Self::Motor { ohms, .. } => {
                let siemens = 1.0 / ohms.max(LEAST_OHMS);
                Tangent { siemens, amps: memory.amps - siemens * volts }
            }
            Self::Bulb { filament, .. } => {
                Tangent { siemens: 1.0 / memory.ohms.max(filament.cold_ohms()), amps: 0.0 }
            }
        }
    }

    /// What it remembers at the end of a stage at which `volts` lie along it.
    pub(super) fn at_end(&self, motion: Motion, base: &Memory, reach: f64, volts: f64) -> Memory {
        match *self {
            Self::Coil { .. } => {
                let companion = self.companion(motion, base, reach);
                Memory { amps: companion.siemens * volts + companion.amps, ..*base }
            }
            Self::Motor { inertia_farads, idle_amps, slope_siemens, .. } => {
                let companion = self.companion(motion, base, reach);
                let amps = companion.siemens * volts + companion.amps;
                let speed_volts = match motion {
                    Motion::Still => 0.0,
                    Motion::Turning(sign) => {
                        let eta = reach / inertia_farads;
                        (base.speed_volts + eta * (amps - idle_amps * sign)) / (1.0 + eta * slope_siemens)
                    }
                };
                let turned_volt_seconds = base.turned_volt_seconds + reach * speed_volts;
                Memory { amps, speed_volts, turned_volt_seconds, ..*base }
            }
            Self::Bulb { filament, seconds } => {
                let warming = Warming::new(filament, seconds, base.ohms, reach);
                Memory { ohms: warming.ohms(volts), ..*base }
            }
        }
    }

    /// Its current while it remembers this and `volts` lie along it, in amps.
    pub(super) fn amps(&self, memory: &Memory, volts: f64) -> f64 {
        match *self {
            Self::Coil { .. } | Self::Motor { .. } => memory.amps,
            Self::Bulb { filament, .. } => volts / memory.ohms.max(filament.cold_ohms()),
        }
    }
}

impl Memory {
    /// Every number of it, of two others and of what the result is made.
    pub(super) fn combine(&self, other: &Self, with: impl Fn(f64, f64) -> f64) -> Self {
        Self {
            amps: with(self.amps, other.amps),
            speed_volts: with(self.speed_volts, other.speed_volts),
            turned_volt_seconds: with(self.turned_volt_seconds, other.turned_volt_seconds),
            ohms: with(self.ohms, other.ohms),
        }
    }

    pub(super) fn is_finite(&self) -> bool {
        [self.amps, self.speed_volts, self.turned_volt_seconds, self.ohms]
            .iter()
            .all(|value| value.is_finite())
    }
}

/// A filament in a stage: u = base + reach/θ (v / u − u^q), with u its resistance over rated resistance, v the square of
/// its voltage over rated voltage, and θ the time constant times 1 + q.
#[derive(Clone, Copy, Debug)]
pub(super) struct Warming {
    rated_volts: f64,
    rated_ohms: f64,
    /// Cold resistance over rated.
    cold: f64,
    base: f64,
    /// `reach` over θ.
    share: f64,
    /// Where the search for its resistance sets out: its resistance over rated where it was looked at last in this stage.
    near: f64,
}

/// What a filament gives off over what it gives off at its rating, `u` being its resistance over rated resistance.
fn heat(u: f64) -> f64 {
    // A fraction of the work of `pow`; ten ulp are lost at most.
    libm::exp(HEAT_EXPONENT * libm::log(u))
}

impl Warming {
    pub(super) fn new(filament: Filament, seconds: f64, base_ohms: f64, reach: f64) -> Self {
        let rated_ohms = filament.rated_volts * filament.rated_volts / filament.rated_watts;
        let cold = filament.cold_ohms() / rated_ohms;
        Self {
            rated_volts: filament.rated_volts,
            rated_ohms,
            cold,
            base: base_ohms / rated_ohms,
            share: reach / (seconds * (1.0 + HEAT_EXPONENT)),
            near: base_ohms / rated_ohms,
        }
    }

    /// Its resistance at the end of the stage, over rated resistance; and what `share × u^q` is there.
    fn settled(&self, volts: f64) -> (f64, f64) {
        let v = volts / self.rated_volts * (volts / self.rated_volts);
        let over = |u: f64| {
            let gives = self.share * heat(u);
            (u - self.base - self.share * v / u + gives, gives)
        };
        let (mut low, mut high) = (self.cold, self.base.max(self.cold) + self.share * v / self.cold);
        let gives = self.share * COLD_HEAT;
        if low - self.base - self.share * v / low + gives >= 0.0 {
            return (low, gives);
        }
        let mut u = self.near.clamp(low, high);
        for _ in 0..STEPS {
            let (above, gives) = over(u);
            if above > 0.0 {
                high = u;
            } else {
                low = u;
            }
            let slope = 1.0 + self.share * v / (u * u) + HEAT_EXPONENT * gives / u;
            let mut next = u - above / slope;
            if !(low..=high).contains(&next) {
                next = 0.5 * (low + high);
            }
            let moved = (next - u) / u;
            u = next;
            // Newton's steps square what is left: the next one would move nothing, and what is given off has moved by its
            // tangent.
            if moved.abs() <= NEAR {
                return (u, gives * (1.0 + HEAT_EXPONENT * moved));
            }
        }
        (u, self.share * heat(u))
    }

    fn ohms(&self, volts: f64) -> f64 {
        self.settled(volts).0 * self.rated_ohms
    }

    /// Its resistance where it was looked at last, in ohms.
    pub(super) fn near_ohms(&self) -> f64 {
        self.near * self.rated_ohms
    }

    /// As [`Warming::current`], keeping in mind where that is.
    pub(super) fn follow(&mut self, volts: f64) -> (f64, f64) {
        let settled = self.settled(volts);
        self.near = settled.0;
        self.current_at(volts, settled)
    }

    /// Current at `volts`, in amps, and its slope in siemens: no less than a thousandth of its conductance, though it
    /// would fall in a step in which the filament warms by much.
    pub(super) fn current(&self, volts: f64) -> (f64, f64) {
        self.current_at(volts, self.settled(volts))
    }

    fn current_at(&self, volts: f64, (u, gives): (f64, f64)) -> (f64, f64) {
        let siemens = 1.0 / (u * self.rated_ohms);
        if u <= self.cold {
            return (volts * siemens, siemens);
        }
        let v = volts / self.rated_volts * (volts / self.rated_volts);
        let takes = self.share * v / (u * u);
        let gives = HEAT_EXPONENT * gives / u;
        let slope = (1.0 - takes + gives) / (1.0 + takes + gives);
        (volts * siemens, siemens * slope.max(1e-3))
    }
}
