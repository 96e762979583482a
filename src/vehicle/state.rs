//! What can change on a vehicle: positions, connections, fuses, memories, and what is still wrong with it.

use std::collections::BTreeSet;

use super::deviation::{Deviation, Exposure, When};
use super::ids::{ConnectorId, FuseId, PanelId, PartId};
use super::model::{Reach, Vehicle, Zone};
use super::part::{PartKind, Pull};
use super::point::Half;
use super::timers::Timers;
use crate::circuit::battery_open_volts;

/// The battery's voltage without load and its inner resistance follow its charge in steps of this, some 12 µV: far less than any
/// instrument shows. As long as it stands on one of them the same circuit has the same operating point to the bit, whatever
/// little has been drawn meanwhile.
const CHARGE_STEP: f64 = 1.0 / 65_536.0;

/// Where the lid stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LidPosition {
    /// Shut, and held by the latch.
    Shut,
    /// Held by the latch's first catch.
    FirstCatch,
    /// Free, at an angle above shut, in degrees.
    Angle(u8),
}

impl LidPosition {
    /// The angle above shut, in degrees.
    #[must_use]
    pub fn degrees(self) -> f64 {
        match self {
            Self::Shut => 0.0,
            Self::FirstCatch => 1.0,
            Self::Angle(degrees) => f64::from(degrees),
        }
    }
}

/// A fuse.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FuseBody {
    /// The rating printed on it, in amps.
    pub rating_amps: u8,
    /// Its strip has melted.
    pub blown: bool,
    /// How much of its time to opening has been used, 0 to 1; below its overload it cools again.
    pub heat: f64,
    /// How much more resistance it has than when cold, as a fraction.
    pub warmth: f64,
}

impl FuseBody {
    /// A new fuse.
    #[must_use]
    pub fn new(rating_amps: u8) -> Self {
        Self { rating_amps, blown: false, heat: 0.0, warmth: 0.0 }
    }
}

/// A fuse slot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slot {
    /// What sits in it.
    pub fitted: Option<FuseBody>,
    /// What was pulled out of it and lies beside it.
    pub pulled: Option<FuseBody>,
}

/// A deviation and whether it is there right now.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Deviated {
    /// What differs.
    pub deviation: Deviation,
    /// It is there at present.
    pub present: bool,
    /// The temperature of its place, in °C, where somebody has warmed or cooled it.
    pub celsius: Option<f64>,
    /// Last strands: how near they are to melting, 0 to 1.
    pub heat: f64,
}

/// What a part does of itself, beyond what was put into the file: what it remembers from one instant to the next.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PartState {
    /// A motor or coil: its current, in amps.
    pub amps: f64,
    /// A motor: its speed, in volts.
    pub speed_volts: f64,
    /// A motor: the way that it has gone since it last stood without current, in volt-seconds. A motor's latch counts back
    /// while it runs backwards; a plunger only has one way.
    pub turned_volt_seconds: f64,
    /// A filament: its resistance, in ohms; 0: cold.
    pub filament_ohms: f64,
    /// A relay has pulled in.
    pub pulled: bool,
    /// The working contact of a relay that has pulled in has bounced apart.
    pub apart: bool,
    /// A switch: the film on its contacts has been broken through since they met.
    pub wetted: bool,
    /// A module: by input, it takes it for low.
    pub low: Vec<bool>,
    /// A module: by output, it has shut itself down.
    pub shut_down: Vec<bool>,
    /// A module has its supply.
    pub works: bool,
    /// A module is asleep.
    pub asleep: bool,
    /// A motor has turned since its brushes came to stand anew.
    pub has_turned: bool,
}

impl PartState {
    /// A part on the shelf; a module takes its inputs to be where they are pulled.
    fn new(kind: &PartKind) -> Self {
        match kind {
            PartKind::Module(module) => Self {
                low: module.inputs.iter().map(|input| input.pull == Pull::Down).collect(),
                shut_down: vec![false; module.outputs.len()],
                ..Self::default()
            },
            _ => Self::default(),
        }
    }
}

/// Everything that can change on a vehicle.
#[derive(Clone, Debug, PartialEq)]
pub struct PhysicalState {
    /// Where the lid stands.
    pub lid: LidPosition,
    /// The latch's claw is home: round the striker, or closed with a tool.
    pub claw_home: bool,
    /// The lid has moved, and the loom over its hinge has not settled anew.
    pub loom_moves: bool,
    /// The raised lid is propped.
    pub propped: bool,
    /// By panel: it is off, or folded.
    pub panels_off: Vec<bool>,
    /// By connector: its halves are together.
    pub mated: Vec<bool>,
    /// By part: a switch that is on, or held down.
    pub on: Vec<bool>,
    /// By fuse slot.
    pub fuses: Vec<Slot>,
    /// The vehicle is locked.
    pub locked: bool,
    /// The setting that locks the lid's release out is on.
    pub lockout: bool,
    /// By part: codes that a module remembers.
    pub memory: Vec<BTreeSet<u8>>,
    /// A key button is held down.
    pub key_pressed: bool,
    /// By part: what it does of itself.
    pub parts: Vec<PartState>,
    /// What will happen after a delay unless its cause goes away before.
    pub(super) delays: Timers,
    /// What contacts, fuses and wires that can part carried at the end of the last phase, in amps, in the order of
    /// [`Wiring::gaps`](super::Wiring); an arc goes on from there.
    pub(super) carried: Vec<f64>,
    /// How full the battery is, 0 to 1.
    pub charge: f64,
    /// Temperature of the vehicle and the air, in °C.
    pub celsius: f64,
    /// The vehicle's rear is wet.
    pub wet: bool,
    /// How long until it is dry by itself, in minutes.
    pub dries_in_minutes: f64,
    /// How long nothing has asked a module for anything, in minutes.
    pub quiet_minutes: f64,
    /// What differs from sound.
    pub deviations: Vec<Deviated>,
}

impl PhysicalState {
    /// A vehicle as it stands in the yard: shut, unlocked, all in place, nothing wrong.
    #[must_use]
    pub fn sound(vehicle: &Vehicle) -> Self {
        Self {
            lid: LidPosition::Shut,
            claw_home: true,
            loom_moves: false,
            propped: false,
            panels_off: vec![false; vehicle.panels.len()],
            mated: vec![true; vehicle.connectors.len()],
            on: vec![false; vehicle.parts.len()],
            fuses: vehicle
                .fuses
                .iter()
                .map(|slot| Slot { fitted: Some(FuseBody::new(slot.rating_amps)), pulled: None })
                .collect(),
            locked: false,
            lockout: false,
            memory: vec![BTreeSet::new(); vehicle.parts.len()],
            key_pressed: false,
            parts: vehicle.parts.iter().map(|part| PartState::new(&part.kind)).collect(),
            delays: Timers::default(),
            carried: Vec::new(),
            charge: Self::YARD_CHARGE,
            celsius: Self::YARD_CELSIUS,
            wet: false,
            dries_in_minutes: 0.0,
            quiet_minutes: 0.0,
            deviations: Vec::new(),
        }
    }

    /// Temperature of the yard unless a scenario says otherwise, in °C.
    pub const YARD_CELSIUS: f64 = 20.0;
    /// How long a wet vehicle takes to dry in a workshop, in minutes (common practice, no source).
    const DRIES_MINUTES: f64 = 60.0;
    /// Time constant by which a warmed or cooled place comes back, in minutes (common practice, no source), and how near
    /// is back, in °C.
    const PLACE_MINUTES: f64 = 6.0;
    const PLACE_CELSIUS: f64 = 1.0;

    /// Puts the vehicle into these conditions.
    pub fn stand_in(&mut self, conditions: Conditions) {
        self.locked = conditions.locked;
        self.celsius = conditions.celsius;
        self.make_wet(conditions.wet);
    }

    /// Wets the vehicle's rear, or dries it; what depends on it follows.
    pub fn make_wet(&mut self, wet: bool) {
        self.wet = wet;
        self.dries_in_minutes = if wet { Self::DRIES_MINUTES } else { 0.0 };
        self.follow_weather();
    }

    /// Brings the places in which deviations sit that fit to this temperature, in °C.
    pub fn bring_to(&mut self, celsius: f64, fits: impl Fn(&Deviation) -> bool) {
        for one in self.deviations.iter_mut().filter(|one| fits(&one.deviation)) {
            one.celsius = Some(celsius);
        }
        self.follow_weather();
    }

    /// Lets what is wet dry, and what has been warmed or cooled come back.
    pub fn weather(&mut self, minutes: f64) {
        self.dries_in_minutes = (self.dries_in_minutes - minutes).max(0.0);
        self.wet &= self.dries_in_minutes > 0.0;
        let around = self.celsius;
        for one in &mut self.deviations {
            one.celsius = one
                .celsius
                .map(|place| around + (place - around) * libm::exp(-minutes / Self::PLACE_MINUTES))
                .filter(|place| (place - around).abs() > Self::PLACE_CELSIUS);
        }
        self.follow_weather();
    }

    /// Lets what depends on water and temperature follow them; what was last moved stays as it came to rest.
    fn follow_weather(&mut self) {
        let exposures: Vec<Exposure> = self.deviations.iter().map(|one| self.exposure(one.celsius)).collect();
        for (one, exposure) in self.deviations.iter_mut().zip(exposures) {
            let when = one.deviation.when();
            if matches!(when, When::ColderThan(_) | When::WarmerThan(_) | When::Wet) {
                one.present = when.holds(exposure, one.present);
            }
        }
    }

    /// What a part does of itself.
    #[must_use]
    pub fn part(&self, part: PartId) -> &PartState {
        &self.parts[part.index()]
    }

    /// How full a battery is as a vehicle comes in: what the voltage in its file belongs to.
    const YARD_CHARGE: f64 = 0.9;

    /// The charge as the battery's voltage and resistance follow it.
    pub(super) fn charge_in_steps(&self) -> f64 {
        Self::YARD_CHARGE + libm::round((self.charge - Self::YARD_CHARGE) / CHARGE_STEP) * CHARGE_STEP
    }

    /// The battery's voltage without load at its present charge, in volts: that of the file, along the curve of a
    /// lead-acid battery.
    #[must_use]
    pub fn battery_open_volts(&self, vehicle: &Vehicle) -> f64 {
        vehicle.battery.open_volts
            * (battery_open_volts(self.charge_in_steps()) / battery_open_volts(Self::YARD_CHARGE))
    }

    /// A new part is in place of this one. What it did of itself has gone with it; a module goes on with the supply and
    /// the inputs that it finds.
    pub(crate) fn renew(&mut self, vehicle: &Vehicle, part: PartId) {
        let fresh = PartState::new(&vehicle.part(part).kind);
        let now = &mut self.parts[part.index()];
        let low = std::mem::take(&mut now.low);
        *now = PartState { works: now.works, low, ..fresh };
        self.delays.forget(part);
    }

    /// Adds a deviation.
    pub fn deviate(&mut self, deviation: Deviation) {
        let present = deviation.when().holds(self.exposure(None), false);
        self.deviations.push(Deviated { deviation, present, celsius: None, heat: 0.0 });
    }

    /// The last strands of the conductor in the deviation at this position melt: it is parted from now on, whatever its
    /// place is exposed to.
    pub(super) fn melt(&mut self, at: usize) {
        let one = &mut self.deviations[at];
        if let Deviation::Strands { conductor, piece, .. } = one.deviation {
            one.deviation = Deviation::Series { conductor, piece, ohms: f64::INFINITY, when: When::Always };
            (one.present, one.heat) = (true, 0.0);
        }
    }

    /// Moves the lid; what depends on its angle follows, with hysteresis. A break that touches when it likes touches while
    /// the loom moves, until it has settled anew.
    pub fn move_lid(&mut self, to: LidPosition) {
        self.lid = to;
        self.loom_moves = true;
        for one in &mut self.deviations {
            one.present &= !matches!(one.deviation.when(), When::Flexed(_));
        }
        self.follow();
    }

    /// Lets every deviation follow what its place is exposed to.
    pub fn follow(&mut self) {
        let exposures: Vec<Exposure> = self.deviations.iter().map(|one| self.exposure(one.celsius)).collect();
        for (one, exposure) in self.deviations.iter_mut().zip(exposures) {
            one.present = one.deviation.when().holds(exposure, one.present);
        }
    }

    fn exposure(&self, celsius: Option<f64>) -> Exposure {
        Exposure { lid_degrees: self.lid.degrees(), celsius: celsius.unwrap_or(self.celsius), wet: self.wet }
    }

    /// Where the terminal that belongs in a cavity really sits.
    #[must_use]
    pub fn sits_in(&self, connector: ConnectorId, half: Half, cavity: u8) -> u8 {
        self.deviations.iter().fold(cavity, |cavity, one| match one.deviation {
            Deviation::Crossed { connector: at, half: side, first, second }
                if at == connector && side == half =>
            {
                match cavity {
                    c if c == first => second,
                    c if c == second => first,
                    c => c,
                }
            }
            _ => cavity,
        })
    }

    /// Writes the changes of terminals in a connector's half as few as they can be: one pair less than terminals for
    /// each ring of them, and none where all sit right.
    pub fn tidy_crossed(&mut self, connector: ConnectorId, half: Half, cavities: u8) {
        let sits: Vec<u8> = (1..=cavities).map(|cavity| self.sits_in(connector, half, cavity)).collect();
        self.deviations.retain(|one| {
            !matches!(one.deviation, Deviation::Crossed { connector: at, half: side, .. }
                if at == connector && side == half)
        });
        let mut seen = vec![false; sits.len()];
        for start in 1..=cavities {
            // A ring a → b → c → a is the pair (a b), then (a c): each later pair moves what the first put into a.
            let mut next = sits[usize::from(start) - 1];
            let mut ring = Vec::new();
            while !std::mem::replace(&mut seen[usize::from(next) - 1], true) {
                ring.push(next);
                next = sits[usize::from(next) - 1];
            }
            if let Some(&last) = ring.last() {
                for &second in &ring[..ring.len() - 1] {
                    self.deviate(Deviation::Crossed { connector, half, first: last, second });
                }
            }
        }
    }

    /// The deviations that are there right now.
    pub fn present(&self) -> impl Iterator<Item = &Deviation> {
        self.deviations.iter().filter(|one| one.present).map(|one| &one.deviation)
    }

    /// Whether any deviation that is there right now fits.
    pub fn has(&self, fits: impl Fn(&Deviation) -> bool) -> bool {
        self.present().any(fits)
    }

    /// The film on a switch's contacts, if one has grown: its resistance and the current that breaks it through, in ohms
    /// and amps.
    #[must_use]
    pub fn film(&self, switch: PartId) -> Option<(f64, f64)> {
        self.present().find_map(|deviation| match *deviation {
            Deviation::Film { part, ohms, wetting_amps } if part == switch => Some((ohms, wetting_amps)),
            _ => None,
        })
    }

    /// Whether a connector is mated.
    #[must_use]
    pub fn is_mated(&self, connector: ConnectorId) -> bool {
        self.mated[connector.index()]
    }

    /// Whether a panel is off.
    #[must_use]
    pub fn is_off(&self, panel: PanelId) -> bool {
        self.panels_off[panel.index()]
    }

    /// Whether a switch is on or held.
    #[must_use]
    pub fn is_on(&self, part: PartId) -> bool {
        self.on[part.index()]
    }

    /// By fuse slot: a fuse sits in it.
    #[must_use]
    pub fn fuses_fitted(&self) -> Vec<bool> {
        self.fuses.iter().map(|slot| slot.fitted.is_some()).collect()
    }

    /// A fuse slot.
    #[must_use]
    pub fn slot(&self, fuse: FuseId) -> &Slot {
        &self.fuses[fuse.index()]
    }

    /// Whether the lid is up far enough to reach what is under it.
    #[must_use]
    pub fn lid_is_up(&self, vehicle: &Vehicle) -> bool {
        self.lid.degrees() >= f64::from(vehicle.lid.reach_degrees)
    }

    /// What is in the way of reaching something, if anything is.
    #[must_use]
    pub fn obstacle(&self, vehicle: &Vehicle, reach: Reach) -> Option<Obstacle> {
        let up = self.lid_is_up(vehicle);
        match reach.zone {
            Zone::Lid if !up => return Some(Obstacle::LidTooLow),
            Zone::LoadSpace if !up => {
                let opening = vehicle.panels.iter().position(|panel| panel.opens == Some(Zone::LoadSpace));
                match opening.map(PanelId::at) {
                    Some(panel) if self.is_off(panel) => {}
                    Some(panel) => return Some(Obstacle::LoadSpaceClosed(panel)),
                    None => return Some(Obstacle::LidTooLow),
                }
            }
            _ => {}
        }
        reach.panel.filter(|&panel| !self.is_off(panel)).map(Obstacle::Panel)
    }
}

/// The conditions in which a vehicle comes in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Conditions {
    /// It stands locked.
    pub locked: bool,
    /// Temperature of the vehicle and the air, in °C.
    pub celsius: f64,
    /// Its rear is wet.
    pub wet: bool,
}

impl Default for Conditions {
    fn default() -> Self {
        Self { locked: false, celsius: PhysicalState::YARD_CELSIUS, wet: false }
    }
}

/// What is in the way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Obstacle {
    /// The lid is too low.
    LidTooLow,
    /// The load space is closed; this panel or seat opens it.
    LoadSpaceClosed(PanelId),
    /// A panel is in front of it.
    Panel(PanelId),
}
