//! What a branch does: its current for a given voltage.

/// Exponent of a filament's current over its voltage (Fink & Beaty, Standard Handbook for Electrical Engineers,
/// p. 22-8; quoted second-hand).
const CURRENT_EXPONENT: f64 = 0.55;
/// Exponent of a filament's light over its voltage: 3.4 to 3.5 in the same place.
const LIGHT_EXPONENT: f64 = 3.4;
/// Resistance at working heat over resistance cold: 4.8 Ω over 0.350 Ω (OpenStax University Physics vol. 2, §9.3).
const HOT_OVER_COLD: f64 = 4.8 / 0.350;

/// Share of its rated voltage up to which a filament stays cold: where V / R_cold and the power law meet,
/// (R_hot / R_cold)^(-1 / 0.45).
const COLD_SHARE: f64 = 0.002_971_313_389_111_842;

/// How far a curve may be from its tangent to count as straight, as a share of its own scale, is the square of this: no
/// more than what the search for the operating point leaves.
const STRAIGHT: f64 = 1e-6;

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
        let size = volts.abs();
        if size <= COLD_SHARE * self.rated_volts {
            return (volts / self.cold_ohms(), 1.0 / self.cold_ohms());
        }
        let hot = self.rated_watts / self.rated_volts * libm::pow(size / self.rated_volts, CURRENT_EXPONENT);
        (hot.copysign(volts), CURRENT_EXPONENT * hot / size)
    }

    /// See [`Law::stays_within`].
    fn stays_within(&self, volts: f64) -> f64 {
        (COLD_SHARE * self.rated_volts - volts.abs()).max(STRAIGHT * volts.abs())
    }

    /// Resistance at `volts` in its steady state, in ohms.
    #[must_use]
    pub fn ohms(&self, volts: f64) -> f64 {
        let (amps, siemens) = self.current(volts);
        if amps == 0.0 { 1.0 / siemens } else { volts / amps }
    }

    /// Light as a fraction of the light at rated voltage, of a filament that is so hot that it has this resistance, in
    /// ohms. From R ∝ V^(1 − 0.55) in the steady state, whatever is passing now.
    #[must_use]
    pub fn light_of_ohms(&self, ohms: f64) -> f64 {
        if ohms <= self.cold_ohms() {
            return 0.0;
        }
        let rated_ohms = self.rated_volts * self.rated_volts / self.rated_watts;
        // A fraction of the work of `pow`.
        libm::exp(LIGHT_EXPONENT / (1.0 - CURRENT_EXPONENT) * libm::log(ohms / rated_ohms))
    }

    /// Light at `volts` as a fraction of the light at rated voltage: (V / V_rated)^3.4.
    #[must_use]
    pub fn light(&self, volts: f64) -> f64 {
        libm::pow(volts.abs() / self.rated_volts, LIGHT_EXPONENT)
    }
}

/// Current above which a junction's exponential is continued by its tangent, in amps: far above what any wire here
/// carries, and far below what overflows.
const JUNCTION_TANGENT_AMPS: f64 = 1e3;
/// Voltage over slope below which it is continued likewise: its current is the saturation current in all sixteen digits,
/// and its slope stays above zero.
const JUNCTION_TANGENT_BELOW: f64 = -36.0;

/// A junction that conducts one way: I = I_s (exp(V / slope) − 1), from its anode, the branch's first node (Shockley,
/// Bell System Technical Journal 28:435, 1949; from memory).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Diode {
    /// Saturation current, in amps.
    pub saturation_amps: f64,
    /// Emission coefficient times thermal voltage, in volts: 0.0259 to 0.0517 at 27 °C.
    pub slope_volts: f64,
}

impl Diode {
    /// A junction that drops `volts` at `amps`, with this slope in volts.
    #[must_use]
    pub fn dropping(volts: f64, amps: f64, slope_volts: f64) -> Self {
        Self { saturation_amps: amps / libm::expm1(volts / slope_volts), slope_volts }
    }

    /// Current at `volts`, in amps, and its slope in siemens.
    #[must_use]
    pub fn current(&self, volts: f64) -> (f64, f64) {
        let over = volts / self.slope_volts;
        let most = JUNCTION_TANGENT_AMPS / self.saturation_amps;
        // Not above what a number holds, nor below what counts.
        let mut at = over.clamp(JUNCTION_TANGENT_BELOW, 700.0);
        let mut growth = libm::expm1(at);
        if growth > most {
            (at, growth) = (libm::log1p(most), most);
        }
        let exponential = if at < -1.0 { libm::exp(at) } else { growth + 1.0 };
        let siemens = self.saturation_amps / self.slope_volts * exponential;
        let beyond = if over == at { 0.0 } else { siemens * (volts - at * self.slope_volts) };
        (self.saturation_amps * growth + beyond, siemens)
    }

    /// See [`Law::stays_within`]. Its scale is its saturation current or, if that is more, its current.
    fn stays_within(&self, volts: f64) -> f64 {
        let over = volts / self.slope_volts;
        self.slope_volts * (STRAIGHT * libm::exp(-0.5 * over.clamp(JUNCTION_TANGENT_BELOW, 0.0))).min(1.0)
    }
}

/// An electronic output that limits its own current: a resistance up to near the limit, then almost none more.
///
/// I = G V / (1 + |G V / limit|^8)^(1/8): smooth, and within 0.05 % of the resistance at half the limit. What little it
/// still grows beyond keeps its slope above zero.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limited {
    /// Resistance while on, in ohms.
    pub on_ohms: f64,
    /// The greatest current, in amps.
    pub limit_amps: f64,
}

impl Limited {
    /// Growth beyond the limit, as a share of the conductance while on.
    const CREEP: f64 = 1e-6;

    /// Current at `volts`, in amps, and its slope in siemens.
    #[must_use]
    pub fn current(&self, volts: f64) -> (f64, f64) {
        let straight = volts / self.on_ohms;
        let over = straight.abs() / self.limit_amps;
        let eighth = over * over * over * over * over * over * over * over;
        let shrink = if eighth.is_finite() { libm::pow(1.0 + eighth, -0.125) } else { 1.0 / over };
        let slope = if eighth.is_finite() { shrink / (1.0 + eighth) } else { 0.0 };
        (straight * (shrink + Self::CREEP), (slope + Self::CREEP) / self.on_ohms)
    }

    /// See [`Law::stays_within`]. Its scale is the limit; the second derivative is 9 x⁷ (1 + x⁸)^(-17/8), x being current
    /// over limit.
    fn stays_within(&self, volts: f64) -> f64 {
        /// Within which that derivative hardly changes.
        const MOST: f64 = 0.02;
        let over = (volts / self.on_ohms).abs() / self.limit_amps;
        let eighth = libm::pow(over, 8.0);
        let bent = if over < 1.0 { 9.0 * eighth / over } else { 9.0 / (over * over) / eighth };
        let share = STRAIGHT / libm::sqrt(bent);
        // Where there is no current there is no bend either.
        self.on_ohms * self.limit_amps * if share < MOST { share } else { MOST }
    }
}

/// A blade fuse that has come to the heat of its current: R = R_cold (1 + a (I / rating)²).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WarmFuse {
    /// Resistance when cold, in ohms.
    pub cold_ohms: f64,
    /// Current printed on it, in amps.
    pub rating_amps: f64,
    /// Growth of its resistance at its rating, as a fraction.
    pub growth: f64,
}

impl WarmFuse {
    /// Current at `volts`, in amps, and its slope in siemens: the real root of x + a x³ = V / (R_cold rating).
    #[must_use]
    pub fn current(&self, volts: f64) -> (f64, f64) {
        let unit = self.cold_ohms * self.rating_amps;
        let scale = libm::sqrt(3.0 * self.growth);
        let x = 2.0 / scale * libm::sinh(libm::asinh(1.5 * scale * volts / unit) / 3.0);
        (x * self.rating_amps, 1.0 / (self.cold_ohms * (1.0 + 3.0 * self.growth * x * x)))
    }

    /// See [`Law::stays_within`]. Its scale is its rating; with p = 1 / (1 + 3 a x²) the derivatives of x over V / (R_cold
    /// rating) are p, −6 a x p³, and −6 a where x is 0.
    fn stays_within(&self, volts: f64) -> f64 {
        let x = self.current(volts).0.abs() / self.rating_amps;
        let p = 1.0 / (1.0 + 3.0 * self.growth * x * x);
        let by_second = STRAIGHT / libm::sqrt(6.0 * self.growth * x * p * p * p);
        let by_third = libm::cbrt(0.5 * STRAIGHT * STRAIGHT / self.growth);
        let share = if by_second < by_third { by_second } else { by_third };
        self.cold_ohms * self.rating_amps * share
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
    /// A junction, with its anode at the branch's first node.
    Diode(Diode),
    /// An output that limits its own current.
    Limited(Limited),
    /// A fuse at the heat of its current.
    WarmFuse(WarmFuse),
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
            Self::Diode(diode) => diode.current(volts),
            Self::Limited(output) => output.current(volts),
            Self::WarmFuse(fuse) => fuse.current(volts),
        }
    }

    /// How far its voltage may move from `volts` before its current leaves the tangent by more than about 1e-12 of its own
    /// scale, in volts. Any distance where it is straight.
    pub(super) fn stays_within(&self, volts: f64) -> f64 {
        match self {
            Self::Conductance(_) | Self::Linear { .. } => f64::INFINITY,
            Self::Filament(filament) => filament.stays_within(volts),
            Self::Diode(diode) => diode.stays_within(volts),
            Self::Limited(output) => output.stays_within(volts),
            Self::WarmFuse(fuse) => fuse.stays_within(volts),
        }
    }

    /// Whether its values are finite and its current never falls with voltage.
    pub(super) fn is_sound(&self) -> bool {
        let above_zero = |value: f64| value.is_finite() && value > 0.0;
        match *self {
            Self::Conductance(siemens) => siemens.is_finite() && siemens >= 0.0,
            Self::Linear { siemens, amps } => siemens.is_finite() && siemens >= 0.0 && amps.is_finite(),
            Self::Filament(filament) => above_zero(filament.rated_volts) && above_zero(filament.rated_watts),
            Self::Diode(diode) => above_zero(diode.saturation_amps) && above_zero(diode.slope_volts),
            Self::Limited(output) => above_zero(output.on_ohms) && above_zero(output.limit_amps),
            Self::WarmFuse(fuse) => {
                above_zero(fuse.cold_ohms) && above_zero(fuse.rating_amps) && above_zero(fuse.growth)
            }
        }
    }
}
