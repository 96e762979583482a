//! The learner's own kit: meter, test lamps, fused bridge, bench battery; and what each puts on the circuit.

use super::action::{LampSize, MeterSetting, Tool};
use crate::circuit::{Filament, Law, Load, LoadPoint, cold_resistance_ohms};
use crate::vehicle::{FuseBody, Point, ToolFuses, Wiring};

/// Input resistance on volts, in ohms (handheld meters: more than 10 MΩ; a handheld meter's manual).
const VOLTS_INPUT_OHMS: f64 = 10e6;
/// Source on ohms and tone: open circuit below 2.7 V, short circuit below 350 µA (a handheld meter's manual).
const OHMS_SOURCE_VOLTS: f64 = 2.6;
const OHMS_SOURCE_OHMS: f64 = 8.0e3;
/// Above this share of its own source, the ohms reading is over range.
const OHMS_OVER_RANGE: f64 = 0.9999;
/// Shunt on amps, in ohms: about 0.03 V/A (from memory).
const AMPS_SHUNT_OHMS: f64 = 0.03;
/// Shunt and both leads, in ohms.
pub(super) const SHUNT_AND_LEADS_OHMS: f64 = AMPS_SHUNT_OHMS + METER_LEADS_OHMS;
/// The meter's own fast fuse, in amps.
const METER_FUSE_AMPS: u8 = 10;
/// The fuse in the bridge's lead and in the bench battery's, in amps.
const BRIDGE_FUSE_AMPS: u8 = 10;
const BENCH_FUSE_AMPS: u8 = 15;
/// The bench battery.
const BENCH_VOLTS: f64 = 12.6;
const BENCH_OHMS: f64 = 0.02;
/// Both leads together, in ohms.
const METER_LEADS_OHMS: f64 = 0.1;
const LAMP_LEADS_OHMS: f64 = 0.05;
const HEAVY_LEADS_OHMS: f64 = 0.02;
/// The tone sounds below this (handheld meters: 50 or 100 Ω by model).
pub(super) const TONE_BELOW_OHMS: f64 = 50.0;

/// A meter.
#[derive(Clone, Debug, PartialEq)]
pub struct Meter {
    /// What it is set to.
    pub setting: MeterSetting,
    /// It keeps the greatest reading.
    pub capture: bool,
    /// The greatest figure since capture was switched on or a lead moved.
    pub greatest: Option<f64>,
    /// Where the red lead is.
    pub red: Option<Point>,
    /// Where the black lead is.
    pub black: Option<Point>,
    /// Its fuse.
    pub fuse: FuseBody,
    /// Its error, as a fraction of the reading; the same for the whole job.
    pub error: f64,
}

/// A tool with its two clips in place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clip {
    /// Which.
    pub tool: Tool,
    /// Where the first clip is; of the bench battery, its plus.
    pub from: Point,
    /// Where the second is.
    pub to: Point,
    /// The fuse in its lead, if it has one.
    pub fuse: Option<FuseBody>,
}

/// Everything that the learner has brought.
#[derive(Clone, Debug, PartialEq)]
pub struct Kit {
    /// The meter.
    pub meter: Meter,
    /// Tools that are clipped on, in the order in which they were.
    pub clips: Vec<Clip>,
    /// Safety glasses are on.
    pub glasses: bool,
    /// The cautions have been read.
    pub cautions_read: bool,
}

impl Kit {
    /// A fresh kit, whose meter has this error (a fraction of the reading).
    #[must_use]
    pub fn new(meter_error: f64) -> Self {
        Self {
            meter: Meter {
                setting: MeterSetting::Off,
                capture: false,
                greatest: None,
                red: None,
                black: None,
                fuse: FuseBody::new(METER_FUSE_AMPS),
                error: meter_error,
            },
            clips: Vec::new(),
            glasses: false,
            cautions_read: false,
        }
    }

    /// What is on the circuit, and each load's own fuse. The meter, where it touches at both ends, comes first.
    #[must_use]
    pub fn loads(&self, wiring: &Wiring) -> (Vec<Load>, ToolFuses) {
        let mut loads = Vec::new();
        let mut fuses = Vec::new();
        if let Some((load, fuse)) = self.meter.load(wiring) {
            loads.push(load);
            fuses.push(fuse);
        }
        for clip in &self.clips {
            let (law, lead_ohms) = match clip.tool {
                Tool::TestLamp(size) => (Law::Filament(size.filament()), LAMP_LEADS_OHMS),
                Tool::Bridge => {
                    (Law::ohms(cold_resistance_ohms(f64::from(BRIDGE_FUSE_AMPS))), HEAVY_LEADS_OHMS)
                }
                Tool::BenchBattery => (
                    Law::source(BENCH_VOLTS, BENCH_OHMS + cold_resistance_ohms(f64::from(BENCH_FUSE_AMPS))),
                    HEAVY_LEADS_OHMS,
                ),
            };
            loads.push(Load { from: wiring.node(clip.from), to: wiring.node(clip.to), law, lead_ohms });
            fuses.push(clip.fuse);
        }
        (loads, fuses)
    }

    /// Takes the fuses back from the circuit.
    pub(super) fn keep_fuses(&mut self, fuses: &ToolFuses) {
        let mut fuses = fuses.iter();
        if self.meter.is_connected()
            && let Some(Some(fuse)) = fuses.next()
        {
            self.meter.fuse = *fuse;
        }
        for (clip, fuse) in self.clips.iter_mut().zip(fuses) {
            clip.fuse = *fuse;
        }
    }

    /// Where a tool is, if it is clipped on.
    #[must_use]
    pub fn clip(&self, tool: Tool) -> Option<&Clip> {
        self.clips.iter().find(|clip| clip.tool == tool)
    }

    /// Every point that a lead or clip is on.
    pub fn touched(&self) -> impl Iterator<Item = Point> + '_ {
        let meter = [self.meter.red, self.meter.black].into_iter().flatten();
        meter.chain(self.clips.iter().flat_map(|clip| [clip.from, clip.to]))
    }
}

impl Meter {
    /// It is on, and both leads touch something.
    #[must_use]
    pub fn is_connected(&self) -> bool {
        self.setting != MeterSetting::Off && self.red.is_some() && self.black.is_some()
    }

    fn load(&self, wiring: &Wiring) -> Option<(Load, Option<FuseBody>)> {
        let (red, black) = (self.red?, self.black?);
        let (law, fuse) = match self.setting {
            MeterSetting::Off => return None,
            MeterSetting::Volts => (Law::ohms(VOLTS_INPUT_OHMS), None),
            MeterSetting::Ohms | MeterSetting::Tone => {
                (Law::source(OHMS_SOURCE_VOLTS, OHMS_SOURCE_OHMS), None)
            }
            MeterSetting::Amps => (Law::ohms(AMPS_SHUNT_OHMS), Some(self.fuse)),
        };
        // An input with its fuse in place always has one in its list, so that lists stay in step.
        Some((
            Load { from: wiring.node(red), to: wiring.node(black), law, lead_ohms: METER_LEADS_OHMS },
            fuse,
        ))
    }

    /// The figure that the display gets, in V, A or Ω; `None` is over range.
    #[must_use]
    pub fn figure(&self, point: LoadPoint) -> Option<f64> {
        match self.setting {
            MeterSetting::Off => None,
            MeterSetting::Volts => Some(point.volts * (1.0 + self.error)),
            MeterSetting::Amps => Some(point.amps * (1.0 + self.error)),
            MeterSetting::Ohms | MeterSetting::Tone => {
                let left = OHMS_SOURCE_VOLTS - point.volts;
                (point.volts < OHMS_OVER_RANGE * OHMS_SOURCE_VOLTS)
                    .then(|| OHMS_SOURCE_OHMS * point.volts / left * (1.0 + self.error))
            }
        }
    }
}

impl LampSize {
    /// The filament.
    #[must_use]
    pub fn filament(self) -> Filament {
        let rated_watts = match self {
            Self::Five => 5.0,
            Self::TwentyOne => 21.0,
        };
        // A test lamp's bulb is marked for 12 V (common practice).
        Filament { rated_volts: 12.0, rated_watts }
    }
}

impl Tool {
    /// A fresh fuse for its lead, if it has one.
    #[must_use]
    pub fn fuse(self) -> Option<FuseBody> {
        match self {
            Self::TestLamp(_) => None,
            Self::Bridge => Some(FuseBody::new(BRIDGE_FUSE_AMPS)),
            Self::BenchBattery => Some(FuseBody::new(BENCH_FUSE_AMPS)),
        }
    }
}
