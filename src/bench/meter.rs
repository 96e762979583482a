//! The meter: what it puts on the circuit, and what it makes of what it feels.

use super::accuracy::FunctionError;
use super::action::{Lead, MeterSetting};
use super::display::shown;
use super::outcome::Display;
use crate::circuit::{Law, Load, LoadPoint};
use crate::vehicle::{FuseBody, Point, Wiring};

/// Input resistance on volts, in ohms (a handheld meter's manual: more than 10 MΩ; published).
const VOLTS_INPUT_OHMS: f64 = 10e6;
/// Input resistance on volts with a low impedance, in ohms (a handheld meter's manual: about 3 kΩ; published).
const LOW_Z_INPUT_OHMS: f64 = 3e3;
/// Source on ohms and tone: open circuit below 2.7 V, short circuit below 350 µA (a handheld meter's manual; published).
const OHMS_SOURCE_VOLTS: f64 = 2.6;
const OHMS_SOURCE_OHMS: f64 = 8.0e3;
/// Above this share of its own source, the ohms reading is over range.
const OHMS_OVER_RANGE: f64 = 0.9999;
/// Source of the diode test: short circuit below 1.2 mA (a handheld meter's manual; published); open circuit about 3 V
/// (common practice, no source).
const DIODE_SOURCE_VOLTS: f64 = 2.8;
const DIODE_SOURCE_OHMS: f64 = 2.6e3;
/// Shunt on amps, in ohms: about 0.03 V/A (from memory).
const AMPS_SHUNT_OHMS: f64 = 0.03;
/// Where its converter saturates, a tenth above what it can show: a coil's kick counts for no more (ours, no source).
const SATURATES_VOLTS: f64 = 66.0;
const SATURATES_AMPS: f64 = 22.0;
/// Both leads together, in ohms.
pub(super) const METER_LEADS_OHMS: f64 = 0.1;
/// Shunt and both leads, in ohms.
pub(super) const SHUNT_AND_LEADS_OHMS: f64 = AMPS_SHUNT_OHMS + METER_LEADS_OHMS;
/// The meter's own fast fuse, in amps.
const METER_FUSE_AMPS: u8 = 10;
/// The tone sounds below this, in ohms (handheld meters: 50 or 100 Ω by model; published).
const TONE_BELOW_OHMS: f64 = 50.0;

/// A meter.
#[derive(Clone, Debug, PartialEq)]
pub struct Meter {
    /// What it is set to.
    pub setting: MeterSetting,
    /// It holds the least and the greatest reading.
    pub capture: bool,
    /// Where the red lead is, as far as the one who put it there knows.
    pub red: Option<Point>,
    /// Where the black lead is, as far as the one who put it there knows.
    pub black: Option<Point>,
    /// Its fuse.
    pub fuse: FuseBody,
    /// The least and the greatest that it has felt since the hold began.
    pub(super) held: Option<(f64, f64)>,
    /// Where the red lead and the black lead really are, if they have slipped.
    pub(super) slipped: [Option<Point>; 2],
}

impl Meter {
    pub(super) fn new() -> Self {
        Self {
            setting: MeterSetting::Off,
            capture: false,
            red: None,
            black: None,
            fuse: FuseBody::new(METER_FUSE_AMPS),
            held: None,
            slipped: [None; 2],
        }
    }

    /// Where a lead really is.
    pub(super) fn touches(&self, lead: Lead) -> Option<Point> {
        match lead {
            Lead::Red => self.slipped[0].or(self.red),
            Lead::Black => self.slipped[1].or(self.black),
        }
    }

    /// Puts a lead on a point, which it may miss for `slipped`.
    pub(super) fn put(&mut self, lead: Lead, point: Option<Point>, slipped: Option<Point>) {
        match lead {
            Lead::Red => (self.red, self.slipped[0]) = (point, slipped),
            Lead::Black => (self.black, self.slipped[1]) = (point, slipped),
        }
    }

    /// Whether another meter has the same setting and its leads on the same points.
    pub(super) fn is_where(&self, other: &Self) -> bool {
        let alike = |lead| self.touches(lead) == other.touches(lead);
        self.setting == other.setting && alike(Lead::Red) && alike(Lead::Black)
    }

    /// It is on, and both leads touch something.
    #[must_use]
    pub fn is_connected(&self) -> bool {
        self.setting != MeterSetting::Off && self.red.is_some() && self.black.is_some()
    }

    /// It is connected on volts, and draws so little that nothing which has a memory is moved by it.
    pub(super) fn only_looks(&self) -> bool {
        self.is_connected() && self.setting == MeterSetting::Volts
    }

    /// It is connected, and what it draws or drives counts while time passes.
    pub(super) fn is_load(&self) -> bool {
        self.is_connected() && self.setting != MeterSetting::Volts
    }

    /// What it puts on the circuit, and its fuse if that is in line.
    pub(super) fn load(&self, wiring: &Wiring) -> Option<(Load, Option<FuseBody>)> {
        let (red, black) = (self.touches(Lead::Red)?, self.touches(Lead::Black)?);
        let (law, fuse) = match self.setting {
            MeterSetting::Off => return None,
            MeterSetting::Volts => (Law::ohms(VOLTS_INPUT_OHMS), None),
            MeterSetting::LowZ => (Law::ohms(LOW_Z_INPUT_OHMS), None),
            MeterSetting::Ohms | MeterSetting::Tone => {
                (Law::source(OHMS_SOURCE_VOLTS, OHMS_SOURCE_OHMS), None)
            }
            MeterSetting::Diode => (Law::source(DIODE_SOURCE_VOLTS, DIODE_SOURCE_OHMS), None),
            MeterSetting::Amps => (Law::ohms(AMPS_SHUNT_OHMS), Some(self.fuse)),
        };
        Some((
            Load { from: wiring.node(red), to: wiring.node(black), law, lead_ohms: METER_LEADS_OHMS },
            fuse,
        ))
    }

    /// What its converter feels, in V or A, up to where it saturates. That is what it takes the mean of; ohms are worked
    /// out afterwards.
    pub(super) fn felt(&self, point: LoadPoint) -> f64 {
        if self.setting == MeterSetting::Amps {
            point.amps.clamp(-SATURATES_AMPS, SATURATES_AMPS)
        } else {
            point.volts.clamp(-SATURATES_VOLTS, SATURATES_VOLTS)
        }
    }

    /// What it feels with a lead in the air, in V or A.
    pub(super) fn felt_open(&self) -> f64 {
        match self.setting {
            MeterSetting::Off | MeterSetting::Volts | MeterSetting::LowZ | MeterSetting::Amps => 0.0,
            MeterSetting::Ohms | MeterSetting::Tone => OHMS_SOURCE_VOLTS,
            MeterSetting::Diode => DIODE_SOURCE_VOLTS,
        }
    }

    /// The figure that belongs to what it feels, in V, A or Ω, were the meter exact; `None` is over range.
    fn figure(&self, felt: f64) -> Option<f64> {
        match self.setting {
            MeterSetting::Off => None,
            MeterSetting::Volts | MeterSetting::LowZ | MeterSetting::Diode | MeterSetting::Amps => Some(felt),
            MeterSetting::Ohms | MeterSetting::Tone => (felt < OHMS_OVER_RANGE * OHMS_SOURCE_VOLTS)
                .then(|| OHMS_SOURCE_OHMS * felt / (OHMS_SOURCE_VOLTS - felt)),
        }
    }

    /// What its display shows of what it feels.
    pub(super) fn display(&self, felt: f64, error: FunctionError) -> Display {
        shown(self.setting, self.figure(felt), error)
    }

    /// Whether it sounds its tone at what it feels.
    pub(super) fn sounds(&self, felt: f64) -> bool {
        self.setting == MeterSetting::Tone
            && self.figure(felt).is_some_and(|ohms| ohms.abs() < TONE_BELOW_OHMS)
    }
}
