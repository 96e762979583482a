//! What a branch does: its current for a given voltage.

/// Exponent of a filament's current over its voltage (Fink & Beaty, Standard Handbook for Electrical Engineers,
/// p. 22-8; quoted second-hand).
const CURRENT_EXPONENT: f64 = 0.55;
/// Exponent of a filament's light over its voltage: 3.4 to 3.5 in the same place.
const LIGHT_EXPONENT: f64 = 3.4;
/// Resistance at working heat over resistance cold: 4.8 Ω over 0.350 Ω (OpenStax University Physics vol. 2, §9.3).
const HOT_OVER_COLD: f64 = 4.8 / 0.350;

/// A tungsten filament in its steady state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Filament {
    /// Rated voltage, in volts.
    pub rated_volts: f64,
    /// Power at rated voltage, in watts.
    pub rated_watts: f64,
}

impl Filament {
    /// Resistance when cold, in ohms.
    #[must_use]
    pub fn cold_ohms(&self) -> f64 {
        self.rated_volts * self.rated_volts / self.rated_watts / HOT_OVER_COLD
    }

    /// Current at `volts`, in amps, and its slope in siemens.
    ///
    /// I = I_rated (V / V_rated)^0.55 while that is less than the cold resistance would pass.
    #[must_use]
    pub fn current(&self, volts: f64) -> (f64, f64) {
        let cold = volts / self.cold_ohms();
        let size = volts.abs();
        let hot = self.rated_watts / self.rated_volts * libm::pow(size / self.rated_volts, CURRENT_EXPONENT);
        if cold.abs() <= hot {
            (cold, 1.0 / self.cold_ohms())
        } else {
            (hot.copysign(volts), CURRENT_EXPONENT * hot / size)
        }
    }

    /// Light at `volts` as a fraction of the light at rated voltage: (V / V_rated)^3.4.
    #[must_use]
    pub fn light(&self, volts: f64) -> f64 {
        libm::pow(volts.abs() / self.rated_volts, LIGHT_EXPONENT)
    }
}

/// How a branch's current follows from the voltage along it. Currents count from the branch's first node to its second.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Law {
    /// A conductance in siemens; 0 is an open circuit.
    Conductance(f64),
    /// I = siemens × V + amps: a source behind a resistance, or a motor at speed.
    Linear {
        /// Slope, in siemens.
        siemens: f64,
        /// Current at no voltage, in amps.
        amps: f64,
    },
    /// A filament lamp.
    Filament(Filament),
}

impl Law {
    /// No path at all.
    pub const OPEN: Self = Self::Conductance(0.0);

    /// A resistor; an infinite resistance is an open circuit.
    #[must_use]
    pub fn ohms(ohms: f64) -> Self {
        Self::Conductance(1.0 / ohms)
    }

    /// A source of `volts`, plus at the branch's first node, behind `ohms`.
    #[must_use]
    pub fn source(volts: f64, ohms: f64) -> Self {
        Self::Linear { siemens: 1.0 / ohms, amps: -volts / ohms }
    }

    /// Current in amps at `volts`, and its slope in siemens.
    #[must_use]
    pub fn current(&self, volts: f64) -> (f64, f64) {
        match self {
            Self::Conductance(siemens) => (siemens * volts, *siemens),
            Self::Linear { siemens, amps } => (siemens * volts + amps, *siemens),
            Self::Filament(filament) => filament.current(volts),
        }
    }

    /// Whether its values are finite and its current never falls with voltage.
    pub(super) fn is_sound(&self) -> bool {
        let above_zero = |value: f64| value.is_finite() && value > 0.0;
        match *self {
            Self::Conductance(siemens) => siemens.is_finite() && siemens >= 0.0,
            Self::Linear { siemens, amps } => siemens.is_finite() && siemens >= 0.0 && amps.is_finite(),
            Self::Filament(filament) => above_zero(filament.rated_volts) && above_zero(filament.rated_watts),
        }
    }

    /// Whether current is not a straight line over voltage.
    pub(super) fn is_curved(&self) -> bool {
        matches!(self, Self::Filament(_))
    }
}
