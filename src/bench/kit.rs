//! The learner's own kit: meter, clamp, recorder, test lamps, fused bridge, bench battery; and what each puts on the
//! circuit.

use super::accuracy::{FunctionError, InstrumentErrors};
use super::action::{LampSize, Lead, MeterSetting, Tool};
use super::clamp::Clamp;
use super::meter::Meter;
use super::outcome::Display;
use super::recorder::Recorder;
use crate::circuit::{Filament, Law, Load, cold_resistance_ohms};
use crate::vehicle::{FuseBody, Point, ToolFuses, Wiring};

/// The fuse in the bridge's lead and in the bench battery's, in amps.
const BRIDGE_FUSE_AMPS: u8 = 10;
const BENCH_FUSE_AMPS: u8 = 15;
/// The bench battery.
const BENCH_VOLTS: f64 = 12.6;
const BENCH_OHMS: f64 = 0.02;
/// Both leads of a tool together, in ohms.
const LAMP_LEADS_OHMS: f64 = 0.05;
const HEAVY_LEADS_OHMS: f64 = 0.02;
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
    /// The clamp, if it is closed round something.
    pub clamp: Option<Clamp>,
    /// The recorder.
    pub recorder: Recorder,
    /// Tools that are clipped on, in the order in which they were.
    pub clips: Vec<Clip>,
    /// Safety glasses are on.
    pub glasses: bool,
    /// The cautions have been read.
    pub cautions_read: bool,
    /// What the instruments are off.
    pub(super) errors: InstrumentErrors,
}

impl Kit {
    /// A fresh kit, whose instruments are off by this much.
    #[must_use]
    pub fn new(errors: InstrumentErrors) -> Self {
        Self {
            meter: Meter::new(),
            clamp: None,
            recorder: Recorder::default(),
            clips: Vec::new(),
            glasses: false,
            cautions_read: false,
            errors,
        }
    }

    /// What the meter's display shows with a lead in the air; nothing where it is off.
    #[must_use]
    pub fn idle_display(&self) -> Option<Display> {
        let on = self.meter.setting != MeterSetting::Off;
        on.then(|| self.meter.display(self.meter.felt_open(), self.meter_error()))
    }

    /// What the meter is off on its present setting.
    pub(super) fn meter_error(&self) -> FunctionError {
        self.errors.of(self.meter.setting)
    }

    /// What is on the circuit, and each load's own fuse. The meter, where it touches at both ends, comes first; then the
    /// tools; the recorder last.
    #[must_use]
    pub fn loads(&self, wiring: &Wiring) -> (Vec<Load>, ToolFuses) {
        self.with_meter(self.meter.load(wiring), wiring)
    }

    /// What of that counts while time passes: all but a voltmeter.
    pub(super) fn loads_in_time(&self, wiring: &Wiring) -> (Vec<Load>, ToolFuses) {
        self.with_meter(self.meter.load(wiring).filter(|_| !self.meter.only_looks()), wiring)
    }

    /// The voltmeter, if the meter is one: it is put on what time leaves behind, at every instant that is looked at.
    pub(super) fn looks(&self, wiring: &Wiring) -> Option<Load> {
        self.meter.load(wiring).filter(|_| self.meter.only_looks()).map(|(load, _)| load)
    }

    fn with_meter(&self, meter: Option<(Load, Option<FuseBody>)>, wiring: &Wiring) -> (Vec<Load>, ToolFuses) {
        let mut loads = Vec::new();
        let mut fuses = Vec::new();
        if let Some((load, fuse)) = meter {
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
        if let Some(load) = self.recorder.load(wiring) {
            loads.push(load);
            fuses.push(None);
        }
        (loads, fuses)
    }

    /// Takes the fuses back from the circuit.
    pub(super) fn keep_fuses(&mut self, fuses: &ToolFuses) {
        let mut fuses = fuses.iter();
        if self.meter.is_load()
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

    /// Every point that a lead or clip is really on.
    pub(super) fn touched(&self) -> impl Iterator<Item = Point> + '_ {
        let meter = [Lead::Red, Lead::Black].into_iter().filter_map(|lead| self.meter.touches(lead));
        let recorder = self.recorder.leads.into_iter().flat_map(|(plus, minus)| [plus, minus]);
        meter.chain(recorder).chain(self.clips.iter().flat_map(|clip| [clip.from, clip.to]))
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
