//! The flagship scenario on the bench, by the names that stand in its files. Everything goes through `bench::step`.
#![allow(dead_code, reason = "each test file uses what it needs")]

use std::sync::LazyLock;

use probeworthy::bench::{
    Action, Caution, Certain, Chance, Display, FuseLook, FuseWork, Heard, InstrumentErrors, LampSize, Lead,
    LidTo, MeterSetting, MotorState, Outcome, Reading, Seen, Tool, World, step,
};
use probeworthy::fault::PlacedFault;
use probeworthy::scenario::{self, Scenario, point_name};
use probeworthy::vehicle::{
    ConductorId, ConnectorId, Deviation, FuseId, KeyButton, PanelId, PartId, Point, StationId, StudId,
    Vehicle, When,
};

static FLAGSHIP: LazyLock<Scenario> = LazyLock::new(|| match scenario::load("tailgate-ignores-its-key") {
    Ok(loaded) => loaded.scenario,
    Err(why) => panic!("{why}"),
});

/// The flagship scenario.
pub(crate) fn flagship() -> &'static Scenario {
    &FLAGSHIP
}

/// Its vehicle.
pub(crate) fn vehicle() -> &'static Vehicle {
    &FLAGSHIP.vehicle
}

/// A fault of its pool, by name.
#[track_caller]
pub(crate) fn find(id: &str) -> PlacedFault {
    let known = || FLAGSHIP.faults.iter().map(|fault| fault.id.as_str()).collect::<Vec<_>>().join(", ");
    FLAGSHIP.fault(id).unwrap_or_else(|| panic!("no fault {id} in the pool; there are {}", known())).clone()
}

/// Position of what bears this name in a table.
#[track_caller]
fn position<'a>(name: &str, mut names: impl Iterator<Item = &'a String>) -> usize {
    names.position(|id| id == name).unwrap_or_else(|| panic!("the vehicle has no {name}"))
}

#[track_caller]
pub(crate) fn part(name: &str) -> PartId {
    PartId::at(position(name, vehicle().parts.iter().map(|part| &part.id)))
}

#[track_caller]
pub(crate) fn connector(name: &str) -> ConnectorId {
    ConnectorId::at(position(name, vehicle().connectors.iter().map(|connector| &connector.id)))
}

#[track_caller]
pub(crate) fn conductor(name: &str) -> ConductorId {
    ConductorId::at(position(name, vehicle().conductors.iter().map(|conductor| &conductor.id)))
}

#[track_caller]
pub(crate) fn station(name: &str) -> StationId {
    StationId::at(position(name, vehicle().stations.iter().map(|station| &station.id)))
}

#[track_caller]
pub(crate) fn stud(name: &str) -> StudId {
    StudId::at(position(name, vehicle().studs.iter().map(|stud| &stud.id)))
}

#[track_caller]
pub(crate) fn fuse(name: &str) -> FuseId {
    FuseId::at(position(name, vehicle().fuses.iter().map(|fuse| &fuse.id)))
}

#[track_caller]
pub(crate) fn panel(name: &str) -> PanelId {
    PanelId::at(position(name, vehicle().panels.iter().map(|panel| &panel.id)))
}

/// A point by its name in commands and records, such as `latch.3` or `battery-minus`.
#[track_caller]
pub(crate) fn point(name: &str) -> Point {
    let found = vehicle().points().into_iter().find(|&point| point_name(vehicle(), point) == name);
    found.unwrap_or_else(|| panic!("the vehicle has no point {name}"))
}

/// A conductor with `ohms` more (infinite: parted) in the piece that begins at a station.
#[track_caller]
pub(crate) fn series(wire: &str, at: &str, ohms: f64, when: When) -> Deviation {
    let conductor = conductor(wire);
    let piece = vehicle().conductor(conductor).piece_at(station(at)).expect("the conductor passes there");
    Deviation::Series { conductor, piece, ohms, when }
}

/// One vehicle with one fault, and hands on it.
#[derive(Clone)]
pub(crate) struct Bench {
    pub(crate) world: World,
}

impl Bench {
    pub(crate) fn with(fault: &PlacedFault) -> Self {
        Self { world: World::new(vehicle(), Some(fault), InstrumentErrors::NONE).unwrap() }
    }

    /// With a fault of the pool.
    #[track_caller]
    pub(crate) fn faulty(id: &str) -> Self {
        Self::with(&find(id))
    }

    pub(crate) fn sound() -> Self {
        Self { world: World::new(vehicle(), None, InstrumentErrors::NONE).unwrap() }
    }

    /// Does what may be refused, as chance has it.
    #[track_caller]
    pub(crate) fn attempt(&mut self, action: &Action, chance: &mut dyn Chance) -> Outcome {
        step(vehicle(), &mut self.world, action, chance).unwrap_or_else(|why| panic!("{action:?}: {why}"))
    }

    /// Does what cannot be refused, with chance against whoever acts.
    #[track_caller]
    pub(crate) fn act(&mut self, action: Action) -> Outcome {
        let outcome = self.attempt(&action, &mut Certain);
        assert_eq!(outcome.refused, None, "{action:?}");
        outcome
    }

    #[track_caller]
    pub(crate) fn key(&mut self, button: KeyButton) -> Outcome {
        self.act(Action::Key(button))
    }

    #[track_caller]
    pub(crate) fn release(&mut self) -> Outcome {
        self.key(KeyButton::Release)
    }

    #[track_caller]
    pub(crate) fn press(&mut self, name: &str) -> Outcome {
        self.act(Action::Press(part(name)))
    }

    #[track_caller]
    pub(crate) fn switch(&mut self, name: &str, on: bool) -> Outcome {
        self.act(Action::Switch(part(name), on))
    }

    #[track_caller]
    pub(crate) fn lid(&mut self, to: LidTo) -> Outcome {
        self.act(Action::Lid(to))
    }

    /// Opens the lid by the lever and raises it fully.
    #[track_caller]
    pub(crate) fn open(&mut self) {
        let outcome = self.act(Action::Lever);
        assert!(outcome.seen.contains(&Seen::LidReleased), "the lever did not open the lid: {outcome:?}");
        self.lid(LidTo::Angle(vehicle().lid.full_degrees));
    }

    /// Opens the lid and takes off both trims.
    #[track_caller]
    pub(crate) fn lay_open(&mut self) {
        self.open();
        for name in ["lid-trim", "load-trim"] {
            self.act(Action::Panel(panel(name), true));
        }
    }

    #[track_caller]
    pub(crate) fn unplug(&mut self, name: &str) {
        self.act(Action::Plug(connector(name), false));
    }

    #[track_caller]
    pub(crate) fn plug(&mut self, name: &str) {
        self.act(Action::Plug(connector(name), true));
    }

    /// Sets the meter and puts its red and black leads on two points.
    #[track_caller]
    pub(crate) fn meter(&mut self, setting: MeterSetting, red: &str, black: &str) -> Outcome {
        self.lift_leads();
        self.act(Action::Meter(setting));
        self.act(Action::Probe(Lead::Red, Some(point(red))));
        self.act(Action::Probe(Lead::Black, Some(point(black))))
    }

    #[track_caller]
    pub(crate) fn lift_leads(&mut self) {
        for lead in [Lead::Red, Lead::Black] {
            self.act(Action::Probe(lead, None));
        }
    }

    /// What the meter shows with nothing done.
    #[track_caller]
    pub(crate) fn read(&mut self) -> Reading {
        self.act(Action::Read).reading.expect("the meter is connected")
    }

    /// The figure that the meter shows with nothing done; `None` is over range.
    #[track_caller]
    pub(crate) fn figure(&mut self, setting: MeterSetting, red: &str, black: &str) -> Option<f64> {
        self.meter(setting, red, black);
        self.read().now.value
    }

    /// The greatest that the meter catches while the key's release is pressed, chance willing or not.
    #[track_caller]
    pub(crate) fn caught(&mut self, setting: MeterSetting, red: &str, black: &str) -> f64 {
        self.meter(setting, red, black);
        self.act(Action::Capture(true));
        let reading = self.release().reading.expect("the meter is connected");
        self.act(Action::Capture(false));
        value(reading.held.map(|(_, greatest)| greatest))
    }

    #[track_caller]
    pub(crate) fn clip(&mut self, tool: Tool, from: &str, to: &str) -> Outcome {
        self.act(Action::Clip(tool, Some((point(from), point(to)))))
    }

    #[track_caller]
    pub(crate) fn unclip(&mut self, tool: Tool) {
        self.act(Action::Clip(tool, None));
    }

    /// Light of a test lamp between two points with nothing done, and while the key's release is pressed.
    #[track_caller]
    pub(crate) fn test_lamp(&mut self, size: LampSize, from: &str, to: &str) -> (f64, f64) {
        let at_rest = lamp_light(&self.clip(Tool::TestLamp(size), from, to), size);
        let commanded = lamp_light(&self.release(), size);
        self.unclip(Tool::TestLamp(size));
        (at_rest, commanded)
    }

    /// Light of a lamp of the vehicle, as a fraction of its light at the battery's full voltage.
    #[track_caller]
    pub(crate) fn light(&mut self, lamp: &str) -> f64 {
        let part = part(lamp);
        let seen = self.act(Action::Observe).seen;
        let light = seen.iter().find_map(|seen| match seen {
            Seen::Lamp(id, light) if *id == part => Some(*light),
            _ => None,
        });
        light.unwrap_or_else(|| panic!("{lamp} is no lamp"))
    }

    /// Whether the dash shows the sign for an open lid.
    #[track_caller]
    pub(crate) fn lid_sign(&mut self) -> bool {
        self.act(Action::Observe).seen.contains(&Seen::LidSign(true))
    }

    /// What a fuse looks like held to the light.
    #[track_caller]
    pub(crate) fn look_at_fuse(&mut self, name: &str) -> FuseLook {
        let id = fuse(name);
        let seen = self.act(Action::Fuse(id, FuseWork::Look)).seen;
        let look = seen.iter().find_map(|seen| match seen {
            Seen::Fuse(at, look) if *at == id => Some(*look),
            _ => None,
        });
        look.expect("the fuse was looked at")
    }

    /// The latch's motor on the bench battery, at its own pins, plug off: whether it runs and the latch opens.
    #[track_caller]
    pub(crate) fn motor_runs_on_bench_battery(&mut self) -> bool {
        let held = self.world.state.claw_home;
        let outcome = self.clip(Tool::BenchBattery, "latch-pins.1", "latch-pins.3");
        self.unclip(Tool::BenchBattery);
        // A claw that is open already has nothing to let go.
        motor_ran(&outcome) && outcome.heard.contains(&Heard::LatchOpens) == held
    }
}

/// The latch's motor ran.
pub(crate) fn motor_ran(outcome: &Outcome) -> bool {
    let ran = outcome.heard.contains(&Heard::MotorRuns);
    let traced = outcome.trace.iter().any(|moment| moment.motor == MotorState::Running);
    assert_eq!(ran, traced, "what is heard and what is played differ: {outcome:?}");
    ran
}

/// How often the module chirped.
pub(crate) fn chirps(outcome: &Outcome) -> u8 {
    let count = |heard: &Heard| if let Heard::Chirps(count) = heard { Some(*count) } else { None };
    outcome.heard.iter().find_map(count).unwrap_or(0)
}

/// A lamp flashed.
pub(crate) fn flashed(outcome: &Outcome, lamp: &str) -> bool {
    let part = part(lamp);
    outcome.seen.iter().any(|seen| matches!(seen, Seen::Flash(id, light) if *id == part && *light > 0.5))
}

/// The greatest and the least light of a lamp in an outcome's trace.
pub(crate) fn traced_light(outcome: &Outcome, lamp: &str) -> (f64, f64) {
    let part = part(lamp);
    let lights = outcome.trace.iter().flat_map(|moment| &moment.lights).filter(|(id, _)| *id == part);
    lights.fold((0.0, f64::INFINITY), |(most, least), (_, light)| {
        (f64::max(most, *light), f64::min(least, *light))
    })
}

/// Light of a test lamp that an outcome tells.
#[track_caller]
pub(crate) fn lamp_light(outcome: &Outcome, size: LampSize) -> f64 {
    let light = outcome.seen.iter().find_map(|seen| match seen {
        Seen::TestLamp(which, light) if *which == size => Some(*light),
        _ => None,
    });
    light.unwrap_or_else(|| panic!("no test lamp in {outcome:?}"))
}

/// The figure of a display that is not over range.
#[track_caller]
pub(crate) fn value(display: Option<Display>) -> f64 {
    display.and_then(|display| display.value).expect("a figure on the display")
}

/// The least figure that the meter's display showed while an act lasted and after it.
#[track_caller]
pub(crate) fn least_shown(outcome: &Outcome) -> f64 {
    let reading = outcome.reading.as_ref().expect("the meter is connected");
    let shown = reading.during.iter().map(|renewal| renewal.display).chain([reading.now]);
    shown.map(|display| value(Some(display))).fold(f64::INFINITY, f64::min)
}

/// An outcome calls for a caution.
pub(crate) fn cautions(outcome: &Outcome, caution: Caution) -> bool {
    outcome.cautions.contains(&caution)
}

/// Asserts that a figure lies in a range, and tells it where it does not.
macro_rules! within {
    ($found:expr, $range:expr, $($of:tt)+) => {{
        let (found, range) = ($found, $range);
        assert!(range.contains(&found), "{}: {found:.4} is not in {range:?}", format_args!($($of)+));
    }};
}
pub(crate) use within;
