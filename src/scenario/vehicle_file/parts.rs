//! A vehicle file's parts: as written, then checked. Modules have a file of their own.

use std::collections::BTreeSet;

use super::module::{self, ModuleAsWritten};
use super::names::VehicleNames;
use super::written::{MateAsWritten, VehicleAsWritten, ZoneAsWritten};
use super::{in_range, one_to};
use crate::circuit::Filament;
use crate::vehicle::{
    ConnectorId, Latch, Led, Motor, Part, PartKind, Reach, Relay, Screen, Suppression, Title,
};
use crate::written::{At, Problems};
use crate::{choice, record};

record! {
    /// A part as written.
    #[derive(Clone, Debug)]
    pub(in crate::scenario) struct PartAsWritten {
        /// Name in files.
        pub id: At<String>,
        /// Name for people.
        pub title: At<String>,
        /// Where it is.
        pub zone: ZoneAsWritten,
        /// The panel in front of it.
        pub panel: Option<At<String>> = None,
        /// Its price.
        pub price: u32,
        /// Minutes to fit a new one.
        pub fit_minutes: At<f64>,
        /// Its connector.
        pub connector: At<String>,
        /// What it is.
        pub is: PartKindAsWritten,
    }
}

choice! {
    /// What a part is, as written.
    #[derive(Clone, Debug)]
    pub(in crate::scenario) enum PartKindAsWritten {
        /// A filament lamp.
        Lamp {
            /// Rated volts.
            rated_volts: At<f64> = At::unwritten(13.5),
            /// Watts at rated volts.
            watts: At<f64>,
            /// Its pins.
            pins: (At<u8>, At<u8>),
        },
        /// A lamp of diodes.
        Led {
            /// Rated volts.
            rated_volts: At<f64> = At::unwritten(13.5),
            /// Current at rated volts, mA.
            rated_milliamps: At<f64>,
            /// What its diodes drop, volts.
            drop_volts: At<f64>,
            /// Its pins, plus first.
            pins: (At<u8>, At<u8>),
        },
        /// A switch.
        Switch {
            /// Its pins.
            pins: (At<u8>, At<u8>),
            /// It springs back.
            springs_back: bool,
            /// Closed, mΩ.
            closed_milliohms: At<f64>,
        },
        /// A diode.
        Diode {
            /// Its pins, anode first.
            pins: (At<u8>, At<u8>),
        },
        /// A resistance.
        Resistor {
            /// Its pins.
            pins: (At<u8>, At<u8>),
            /// Ohms.
            ohms: At<f64>,
        },
        /// A heated screen.
        Screen {
            /// Pin of the bar that is fed.
            feed: At<u8>,
            /// Pin of the bar that is grounded.
            ground: At<u8>,
            /// How many lines.
            lines: At<u8>,
            /// One line, ohms.
            line_ohms: At<f64>,
        },
        /// A motor.
        Motor(MotorAsWritten),
        /// A relay.
        Relay(RelayAsWritten),
        /// A lid latch.
        Latch(LatchAsWritten),
        /// A module.
        Module(ModuleAsWritten),
    }
}

record! {
    /// A motor as written.
    #[derive(Clone, Debug)]
    pub(in crate::scenario) struct MotorAsWritten {
        /// Its pins.
        pub pins: (At<u8>, At<u8>),
        /// Winding and brushes, ohms.
        pub winding_ohms: At<f64>,
        /// Winding, mH.
        pub winding_millihenries: At<f64> = At::unwritten(WINDING_MILLIHENRIES),
        /// Current that just moves it, amps.
        pub breakaway_amps: At<f64>,
        /// Current at the lowest speed, amps.
        pub idle_amps: At<f64>,
        /// How much more for each volt of speed, siemens.
        pub slope_siemens: At<f64>,
        /// Time constant of its run-up, milliseconds.
        pub spin_up_milliseconds: At<f64>,
        /// How often its current ripples in a volt-second.
        pub ripples_per_volt_second: At<f64> = At::unwritten(RIPPLES_PER_VOLT_SECOND),
    }
}

record! {
    /// A relay as written.
    #[derive(Clone, Debug)]
    pub(in crate::scenario) struct RelayAsWritten {
        /// Its coil's pins.
        pub coil: (At<u8>, At<u8>),
        /// Pin of the moving contact.
        pub common: At<u8>,
        /// Pin that it joins pulled in.
        pub normally_open: Option<At<u8>> = None,
        /// Pin that it joins at rest.
        pub normally_closed: Option<At<u8>> = None,
        /// Coil, ohms.
        pub coil_ohms: At<f64>,
        /// Coil, mH.
        pub coil_millihenries: At<f64> = At::unwritten(COIL_MILLIHENRIES),
        /// It pulls in above this, volts.
        pub pull_in_volts: At<f64>,
        /// It drops out below this, volts.
        pub drop_out_volts: At<f64>,
        /// Until its contacts meet, milliseconds.
        pub operate_milliseconds: At<f64> = At::unwritten(OPERATE_MILLISECONDS),
        /// Until they part, milliseconds.
        pub release_milliseconds: At<f64> = At::unwritten(RELEASE_MILLISECONDS),
        /// How long they bounce, milliseconds.
        pub bounce_milliseconds: At<f64> = At::unwritten(BOUNCE_MILLISECONDS),
        /// A closed contact, mΩ.
        pub contact_milliohms: At<f64>,
        /// What lies across its coil.
        pub suppression: Option<SuppressionAsWritten> = None,
    }
}

choice! {
    /// What lies across a relay's coil, as written.
    #[derive(Clone, Debug)]
    pub(in crate::scenario) enum SuppressionAsWritten {
        /// A resistor, ohms.
        Resistor(At<f64>),
        /// A diode, its cathode at the coil's first pin.
        Diode,
    }
}

choice! {
    /// What drives a latch, as written.
    #[derive(Clone, Copy, Debug)]
    pub(in crate::scenario) enum DriveAsWritten {
        /// A motor and gears.
        Motor,
        /// A solenoid and plunger.
        Solenoid,
    }
}

record! {
    /// A latch as written.
    #[derive(Clone, Debug)]
    pub(in crate::scenario) struct LatchAsWritten {
        /// Pin of the drive's feed.
        pub feed: At<u8>,
        /// Pin of the switch that closes to ground while the latch is open.
        pub ajar: At<u8>,
        /// Pin of the ground.
        pub ground: At<u8>,
        /// Pin of the contact that closes to ground while the claw is home.
        pub home: At<u8>,
        /// Its switches closed, mΩ.
        pub switch_milliohms: At<f64>,
        /// What drives it.
        pub drive: DriveAsWritten = DriveAsWritten::Motor,
        /// Winding and brushes, ohms.
        pub winding_ohms: At<f64>,
        /// Winding, mH.
        pub winding_millihenries: At<f64> = At::unwritten(WINDING_MILLIHENRIES),
        /// Current that just moves it, amps.
        pub breakaway_amps: At<f64>,
        /// Current at the lowest speed, amps.
        pub idle_amps: At<f64>,
        /// How much more for each volt of speed, siemens.
        pub slope_siemens: At<f64>,
        /// Time constant of its run-up, milliseconds.
        pub spin_up_milliseconds: At<f64>,
        /// The way to release, volt-seconds.
        pub travel_volt_seconds: At<f64>,
        /// How often a motor's current ripples in a volt-second.
        pub ripples_per_volt_second: Option<At<f64>> = None,
    }
}

/// Inductance of a small motor's or solenoid's winding, in mH (common practice, no source).
const WINDING_MILLIHENRIES: f64 = 0.6;
/// Ripples of a small motor with three bars, six to the turn and some sixteen turns to the volt-second (worked out from a
/// motor constant of 0.01 Vs; common practice, no source).
const RIPPLES_PER_VOLT_SECOND: f64 = 100.0;
/// Inductance of a relay's coil, in mH (common practice, no source).
const COIL_MILLIHENRIES: f64 = 400.0;
/// A relay's times, in ms: about 7 to pull in and 2 to drop out (published, makers' sheets); its bounce (common
/// practice, no source).
const OPERATE_MILLISECONDS: f64 = 7.0;
const RELEASE_MILLISECONDS: f64 = 2.0;
const BOUNCE_MILLISECONDS: f64 = 1.0;

pub(super) type ReachOf<'a> = dyn Fn(ZoneAsWritten, &Option<At<String>>, &mut Problems) -> Option<Reach> + 'a;

/// Checks a part and resolves its names.
pub(super) fn part(
    file: &VehicleAsWritten,
    part: &PartAsWritten,
    names: &VehicleNames,
    reach: &ReachOf<'_>,
    problems: &mut Problems,
) -> Option<Part> {
    in_range(&part.fit_minutes, 0.0, 600.0, "min", "the time to fit a part", problems);
    let connector = names.halves.find(&part.connector, problems)?;
    let (position, is_mate) = (connector / 2, connector % 2 == 1);
    let has_pins = matches!(file.connectors[position].mate, MateAsWritten::Pins);
    if is_mate || !has_pins {
        problems.add(
            part.connector.span,
            format!("\"{}\" joins two looms: no part's pins are in it", part.connector.value),
            "name a connector whose mate is Pins",
        );
    }
    let pins = Pins::of(&part.is);
    pins.check(part, file.connectors[position].cavities.value, problems);
    let kind = kind(&part.is, file.battery.open_volts.value, problems)?;
    Some(Part {
        id: part.id.value.clone(),
        title: Title::new(&part.title.value),
        reach: reach(part.zone, &part.panel, problems)?,
        price: part.price,
        fit_minutes: part.fit_minutes.value,
        connector: ConnectorId::at(position),
        kind,
    })
}

/// A part's pins as written.
#[derive(Default)]
pub(super) struct Pins<'a> {
    /// Those that serve one purpose each.
    pub(super) own: Vec<&'a At<u8>>,
    /// Those that may feed several outputs, and the module besides, but nothing else.
    pub(super) feeds: Vec<&'a At<u8>>,
    /// The pin that feeds the module.
    pub(super) supply: Option<u8>,
}

impl<'a> Pins<'a> {
    fn of(kind: &'a PartKindAsWritten) -> Self {
        let own = |own: Vec<&'a At<u8>>| Self { own, ..Self::default() };
        match kind {
            PartKindAsWritten::Lamp { pins, .. }
            | PartKindAsWritten::Led { pins, .. }
            | PartKindAsWritten::Switch { pins, .. }
            | PartKindAsWritten::Diode { pins }
            | PartKindAsWritten::Resistor { pins, .. } => own(vec![&pins.0, &pins.1]),
            PartKindAsWritten::Motor(motor) => own(vec![&motor.pins.0, &motor.pins.1]),
            PartKindAsWritten::Screen { feed, ground, .. } => own(vec![feed, ground]),
            PartKindAsWritten::Relay(relay) => {
                let contacts = relay.normally_open.iter().chain(&relay.normally_closed);
                own([&relay.coil.0, &relay.coil.1, &relay.common].into_iter().chain(contacts).collect())
            }
            PartKindAsWritten::Latch(latch) => {
                own(vec![&latch.feed, &latch.ground, &latch.ajar, &latch.home])
            }
            PartKindAsWritten::Module(module) => module.pins(),
        }
    }

    /// Every pin is one of its connector, and none serves two purposes.
    fn check(&self, part: &PartAsWritten, cavities: u8, problems: &mut Problems) {
        for pin in self.own.iter().chain(&self.feeds) {
            if pin.value == 0 || pin.value > cavities {
                problems.add(
                    pin.span,
                    format!("\"{}\" has no cavity {}", part.connector.value, pin.value),
                    format!("write a number from 1 to {cavities}"),
                );
            }
        }
        let mut taken = BTreeSet::new();
        let twice = |pin: &At<u8>, problems: &mut Problems| {
            problems.add(
                pin.span,
                format!("\"{}\" has pin {} for two purposes", part.id.value, pin.value),
                "give each its own pin",
            );
        };
        for pin in &self.own {
            if !taken.insert(pin.value) {
                twice(pin, problems);
            }
        }
        for pin in &self.feeds {
            if taken.contains(&pin.value) && Some(pin.value) != self.supply {
                twice(pin, problems);
            }
        }
    }
}

fn kind(kind: &PartKindAsWritten, open_volts: f64, problems: &mut Problems) -> Option<PartKind> {
    let two = |pins: &(At<u8>, At<u8>)| (pins.0.value, pins.1.value);
    Some(match kind {
        PartKindAsWritten::Lamp { rated_volts, watts, pins } => {
            in_range(rated_volts, 1.0, 60.0, "V", "a lamp's rated voltage", problems);
            in_range(watts, 0.1, 200.0, "W", "a lamp's power", problems);
            let filament = Filament { rated_volts: rated_volts.value, rated_watts: watts.value };
            PartKind::Lamp { filament, pins: two(pins) }
        }
        PartKindAsWritten::Led { rated_volts, rated_milliamps, drop_volts, pins } => {
            in_range(rated_volts, 1.0, 60.0, "V", "a lamp's rated voltage", problems);
            in_range(rated_milliamps, 0.1, 10_000.0, "mA", "a lamp's rated current", problems);
            in_range(drop_volts, 1.0, 60.0, "V", "what diodes drop", problems);
            if drop_volts.value >= rated_volts.value {
                problems.add(
                    drop_volts.span,
                    format!(
                        "diodes that drop {} V do not light at {} V",
                        drop_volts.value, rated_volts.value
                    ),
                    "write less than the rated volts: what is left drives the current through their resistor",
                );
            } else if drop_volts.value >= open_volts {
                problems.add(
                    drop_volts.span,
                    format!(
                        "diodes that drop {} V stay dark on a battery of {open_volts} V",
                        drop_volts.value
                    ),
                    "write less than the battery's open volts",
                );
            }
            PartKind::Led(Led {
                pins: two(pins),
                drop_volts: drop_volts.value,
                rated_amps: rated_milliamps.value * 1e-3,
                rated_volts: rated_volts.value,
            })
        }
        PartKindAsWritten::Switch { pins, springs_back, closed_milliohms } => {
            in_range(closed_milliohms, 0.1, 1e6, "mΩ", "a closed switch's resistance", problems);
            PartKind::Switch {
                pins: two(pins),
                springs_back: *springs_back,
                closed_ohms: closed_milliohms.value * 1e-3,
            }
        }
        PartKindAsWritten::Diode { pins } => PartKind::Diode { pins: two(pins) },
        PartKindAsWritten::Resistor { pins, ohms } => {
            in_range(ohms, 1e-3, 1e7, "Ω", "a resistor", problems);
            PartKind::Resistor { pins: two(pins), ohms: ohms.value }
        }
        PartKindAsWritten::Screen { feed, ground, lines, line_ohms } => {
            one_to(lines, 40, "a screen cannot have", "lines", problems);
            in_range(line_ohms, 0.1, 1000.0, "Ω", "a line of a screen", problems);
            PartKind::Screen(Screen {
                feed: feed.value,
                ground: ground.value,
                lines: lines.value,
                line_ohms: line_ohms.value,
            })
        }
        PartKindAsWritten::Motor(written) => {
            let motor = Motor { travel_volt_seconds: f64::INFINITY, ..motor(written, problems) };
            PartKind::Motor { pins: two(&written.pins), motor }
        }
        PartKindAsWritten::Relay(written) => PartKind::Relay(relay(written, problems)),
        PartKindAsWritten::Latch(written) => PartKind::Latch(latch(written, problems)),
        PartKindAsWritten::Module(written) => PartKind::Module(module::module(written, problems)?),
    })
}

/// A motor without an end to its way.
fn motor(written: &MotorAsWritten, problems: &mut Problems) -> Motor {
    in_range(&written.winding_ohms, 0.05, 1000.0, "Ω", "a motor's winding", problems);
    in_range(&written.winding_millihenries, 0.001, 1000.0, "mH", "a motor's inductance", problems);
    in_range(&written.breakaway_amps, 0.01, 100.0, "A", "a motor's breakaway current", problems);
    in_range(&written.idle_amps, 0.01, 100.0, "A", "a motor's idle current", problems);
    in_range(&written.slope_siemens, 0.0, 10.0, "S", "a motor's slope", problems);
    if written.idle_amps.value > written.breakaway_amps.value {
        problems.add(
            written.idle_amps.span,
            format!(
                "this motor turns at {} A and breaks away at {} A already",
                written.idle_amps.value, written.breakaway_amps.value
            ),
            "write no more than its breakaway current",
        );
    }
    in_range(&written.spin_up_milliseconds, 0.1, 1000.0, "ms", "a motor's time to speed", problems);
    in_range(&written.ripples_per_volt_second, 0.0, 10_000.0, "per Vs", "a motor's ripples", problems);
    Motor {
        winding_ohms: written.winding_ohms.value,
        winding_henries: written.winding_millihenries.value * 1e-3,
        breakaway_amps: written.breakaway_amps.value,
        idle_amps: written.idle_amps.value,
        slope_siemens: written.slope_siemens.value,
        spin_up_seconds: written.spin_up_milliseconds.value * 1e-3,
        travel_volt_seconds: f64::INFINITY,
        ripples_per_volt_second: written.ripples_per_volt_second.value,
    }
}

fn latch(latch: &LatchAsWritten, problems: &mut Problems) -> Latch {
    in_range(&latch.switch_milliohms, 0.1, 1e6, "mΩ", "a closed switch's resistance", problems);
    in_range(&latch.travel_volt_seconds, 0.01, 100.0, "Vs", "a latch's way to release", problems);
    let solenoid = matches!(latch.drive, DriveAsWritten::Solenoid);
    if let (Some(ripples), true) = (&latch.ripples_per_volt_second, solenoid) {
        problems.add(
            ripples.span,
            "a solenoid has no commutator, and its current no ripple".to_owned(),
            "leave the field out, or write `drive: Motor`",
        );
    }
    let ripples = if solenoid { 0.0 } else { RIPPLES_PER_VOLT_SECOND };
    let drive = MotorAsWritten {
        pins: (latch.feed, latch.ground),
        winding_ohms: latch.winding_ohms,
        winding_millihenries: latch.winding_millihenries,
        breakaway_amps: latch.breakaway_amps,
        idle_amps: latch.idle_amps,
        slope_siemens: latch.slope_siemens,
        spin_up_milliseconds: latch.spin_up_milliseconds,
        ripples_per_volt_second: latch.ripples_per_volt_second.unwrap_or(At::unwritten(ripples)),
    };
    Latch {
        feed: latch.feed.value,
        ground: latch.ground.value,
        ajar: latch.ajar.value,
        home: latch.home.value,
        switch_ohms: latch.switch_milliohms.value * 1e-3,
        motor: Motor { travel_volt_seconds: latch.travel_volt_seconds.value, ..motor(&drive, problems) },
        solenoid,
    }
}

fn relay(relay: &RelayAsWritten, problems: &mut Problems) -> Relay {
    in_range(&relay.coil_ohms, 1.0, 10_000.0, "Ω", "a relay's coil", problems);
    in_range(&relay.coil_millihenries, 0.1, 10_000.0, "mH", "a relay coil's inductance", problems);
    in_range(&relay.pull_in_volts, 0.5, 60.0, "V", "the voltage at which a relay pulls in", problems);
    in_range(&relay.drop_out_volts, 0.1, 60.0, "V", "the voltage at which a relay drops out", problems);
    for (time, what) in [
        (&relay.operate_milliseconds, "a relay's time to pull in"),
        (&relay.release_milliseconds, "a relay's time to drop out"),
    ] {
        in_range(time, 0.1, 100.0, "ms", what, problems);
    }
    in_range(&relay.bounce_milliseconds, 0.0, 20.0, "ms", "how long a relay's contacts bounce", problems);
    in_range(&relay.contact_milliohms, 0.1, 1000.0, "mΩ", "a relay's closed contact", problems);
    if relay.drop_out_volts.value >= relay.pull_in_volts.value {
        problems.add(
            relay.drop_out_volts.span,
            format!(
                "a relay that drops out below {} V cannot pull in at {} V",
                relay.drop_out_volts.value, relay.pull_in_volts.value
            ),
            "write less than pull_in_volts",
        );
    }
    if relay.normally_open.is_none() && relay.normally_closed.is_none() {
        problems.add(
            relay.common.span,
            "this relay's contact joins nothing".to_owned(),
            "add `normally_open: ..` (87), `normally_closed: ..` (87a), or both",
        );
    }
    let suppression = match &relay.suppression {
        None => Suppression::None,
        Some(SuppressionAsWritten::Resistor(ohms)) => {
            in_range(ohms, 10.0, 1e5, "Ω", "a resistor across a coil", problems);
            Suppression::Resistor(ohms.value)
        }
        Some(SuppressionAsWritten::Diode) => Suppression::Diode,
    };
    Relay {
        coil: (relay.coil.0.value, relay.coil.1.value),
        common: relay.common.value,
        normally_open: relay.normally_open.map(|pin| pin.value),
        normally_closed: relay.normally_closed.map(|pin| pin.value),
        coil_ohms: relay.coil_ohms.value,
        coil_henries: relay.coil_millihenries.value * 1e-3,
        pull_in_volts: relay.pull_in_volts.value,
        drop_out_volts: relay.drop_out_volts.value,
        operate_seconds: relay.operate_milliseconds.value * 1e-3,
        release_seconds: relay.release_milliseconds.value * 1e-3,
        bounce_seconds: relay.bounce_milliseconds.value * 1e-3,
        contact_ohms: relay.contact_milliohms.value * 1e-3,
        suppression,
    }
}
