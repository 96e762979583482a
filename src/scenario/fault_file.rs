//! A pool's faults: as written, then placed on the vehicle.

use super::vehicle_file::{self, VehicleNames, in_range};
use crate::fault::{Change, Component, Diagnosis, FaultKind, PlacedFault, Spot};
use crate::vehicle::{
    ConductorId, ContactLook, Deviation, EyeletId, FuseId, Half, KeyButton, PartId, PartKind, StationId,
    Stuck, Vehicle, When,
};
use crate::written::{At, Problems};
use crate::{choice, record};

record! {
    /// An entry of a pool as written.
    #[derive(Clone, Debug)]
    pub(super) struct PoolEntryAsWritten {
        /// The fault.
        pub is: At<FaultAsWritten>,
        /// How likely it is, against the others.
        pub weight: At<u32>,
    }
}

choice! {
    /// When a fault is there, as written.
    #[derive(Clone, Debug)]
    pub(super) enum WhenAsWritten {
        /// At all times.
        Always,
        /// While the lid is below this angle.
        LidBelow(At<f64>),
        /// While the lid is above this angle.
        LidAbove(At<f64>),
        /// While the lid is between these angles.
        LidBetween {
            /// Lower angle.
            low: At<f64>,
            /// Upper angle.
            high: At<f64>,
        },
        /// When the loom is flexed there, as often as this.
        Flexed(At<f64>),
    }
}

choice! {
    /// What a bad terminal looks like, as written.
    #[derive(Clone, Copy, Debug)]
    pub(super) enum LookAsWritten {
        /// It stands back.
        PushedBack,
        /// Its spring has opened.
        Spread,
        /// Green.
        Corroded,
    }
}

choice! {
    /// A fault as written.
    #[derive(Clone, Debug)]
    pub(super) enum FaultAsWritten {
        /// A conductor is parted at a station.
        Parted {
            /// The conductor.
            conductor: At<String>,
            /// The station.
            at: At<String>,
            /// When.
            when: WhenAsWritten = WhenAsWritten::Always,
        },
        /// A conductor has too much resistance at a station.
        Resistive {
            /// The conductor.
            conductor: At<String>,
            /// The station.
            at: At<String>,
            /// Added resistance, ohms.
            ohms: At<f64>,
            /// When.
            when: WhenAsWritten = WhenAsWritten::Always,
        },
        /// A conductor is chafed through to the body at a station.
        ShortToBody {
            /// The conductor.
            conductor: At<String>,
            /// The station.
            at: At<String>,
            /// Resistance of the path, ohms.
            ohms: At<f64>,
            /// When.
            when: WhenAsWritten = WhenAsWritten::Always,
            /// The fuse that it has blown already.
            blown: Option<At<String>> = None,
        },
        /// A terminal does not touch as it should.
        Terminal {
            /// The connector.
            connector: At<String>,
            /// The cavity.
            cavity: At<u8>,
            /// Added resistance, ohms; left out: it does not touch at all.
            ohms: Option<At<f64>> = None,
            /// What it looks like.
            look: LookAsWritten,
            /// When.
            when: WhenAsWritten = WhenAsWritten::Always,
        },
        /// A connector is not fully home: this contact does not touch.
        HalfSeated {
            /// The connector.
            connector: At<String>,
            /// The cavity.
            cavity: At<u8>,
        },
        /// Two terminals of a loom half sit in each other's cavity.
        Crossed {
            /// The connector.
            connector: At<String>,
            /// One cavity.
            first: At<u8>,
            /// The other.
            second: At<u8>,
        },
        /// A fuse has blown, of age.
        FuseBlown(At<String>),
        /// A fuse of the wrong rating is fitted.
        WrongFuse {
            /// The slot.
            fuse: At<String>,
            /// Its rating, amps.
            amps: At<u8>,
        },
        /// A fuse's clips do not grip.
        LooseFuse(At<String>),
        /// An eyelet on its stud.
        Stud {
            /// The eyelet.
            eyelet: At<String>,
            /// Added resistance, ohms; left out: it is off.
            ohms: Option<At<f64>> = None,
            /// It can be turned by hand; otherwise it is crusted.
            loose: bool = true,
        },
        /// The latch's motor has no path inside.
        MotorOpen,
        /// The latch's motor has a shorted winding of this many ohms.
        MotorShorted(At<f64>),
        /// The latch's mechanism needs this many amps to move.
        Stiff(At<f64>),
        /// The latch's mechanism does not move.
        Jammed,
        /// A module's output is dead.
        OutputDead {
            /// The module.
            module: At<String>,
            /// The output.
            output: At<String>,
        },
        /// A module does not hear an input.
        InputDeaf {
            /// The module.
            module: At<String>,
            /// The input.
            input: At<String>,
        },
        /// A module does not hear the key.
        ReceiverDeaf(At<String>),
        /// A switch never closes.
        SwitchOpen(At<String>),
        /// A switch never opens.
        SwitchClosed(At<String>),
        /// The key's cell is worn.
        KeyCellFlat {
            /// Volts without load.
            volts: At<f64>,
            /// Inner resistance, ohms.
            ohms: At<f64>,
        },
        /// The key's button for the lid is dead.
        KeyButtonDead,
        /// The battery is low.
        BatteryLow {
            /// Volts without load.
            volts: At<f64>,
            /// Inner resistance, ohms.
            ohms: At<f64>,
        },
        /// The setting that locks the release out was left on.
        LockoutOn,
    }
}

/// Places a fault on its vehicle. `None` where there are problems.
pub(super) fn place(
    vehicle: &Vehicle,
    names: &VehicleNames,
    entry: &PoolEntryAsWritten,
    problems: &mut Problems,
) -> Option<PlacedFault> {
    let before = problems.len();
    if entry.weight.value == 0 {
        problems.add(
            entry.weight.span,
            "a weight of 0 can never be drawn".to_owned(),
            "write a whole number from 1 on, or take the entry out",
        );
    }
    let placer = Placer { vehicle, names };
    let placed = placer.place(&entry.is.value, problems)?;
    (problems.len() == before).then(|| PlacedFault { weight: u64::from(entry.weight.value), ..placed })
}

struct Placer<'a> {
    vehicle: &'a Vehicle,
    names: &'a VehicleNames,
}

/// A fault without its weight.
fn fault(id: String, deviations: Vec<Deviation>, changes: Vec<Change>, diagnosis: Diagnosis) -> PlacedFault {
    PlacedFault { id, deviations, changes, diagnosis, weight: 0 }
}

fn named(component: Component, kind: FaultKind, spot: Spot) -> Diagnosis {
    Diagnosis { component, kind, spot }
}

impl Placer<'_> {
    fn place(&self, written: &FaultAsWritten, problems: &mut Problems) -> Option<PlacedFault> {
        match written {
            FaultAsWritten::Parted { conductor, at, when } => {
                let (id, station, piece) = self.piece(conductor, at, problems)?;
                let (when, tail) = when_of(when, problems);
                Some(fault(
                    format!("{}.open.{}{tail}", conductor.value, at.value),
                    vec![Deviation::Series { conductor: id, piece, ohms: f64::INFINITY, when }],
                    Vec::new(),
                    named(Component::Conductor(id), FaultKind::Open, Spot::Station(station)),
                ))
            }
            FaultAsWritten::Resistive { conductor, at, ohms, when } => {
                let (id, station, piece) = self.piece(conductor, at, problems)?;
                added(ohms, problems);
                let (when, tail) = when_of(when, problems);
                Some(fault(
                    format!("{}.{}-ohm.{}{tail}", conductor.value, ohms.value, at.value),
                    vec![Deviation::Series { conductor: id, piece, ohms: ohms.value, when }],
                    Vec::new(),
                    named(Component::Conductor(id), FaultKind::HighResistance, Spot::Station(station)),
                ))
            }
            FaultAsWritten::ShortToBody { conductor, at, ohms, when, blown } => {
                let (id, station, piece) = self.piece(conductor, at, problems)?;
                added(ohms, problems);
                let (when, tail) = when_of(when, problems);
                let changes = match blown {
                    Some(fuse) => vec![Change::FuseBlown(self.fuse(fuse, problems)?)],
                    None => Vec::new(),
                };
                Some(fault(
                    format!("{}.short.{}{tail}", conductor.value, at.value),
                    vec![Deviation::ToBody { conductor: id, piece, ohms: ohms.value, when }],
                    changes,
                    named(Component::Conductor(id), FaultKind::ShortToGround, Spot::Station(station)),
                ))
            }
            FaultAsWritten::Terminal { connector, cavity, ohms, look, when } => {
                let (id, cavity_number) = self.loom_cavity(connector, cavity, problems)?;
                if let Some(ohms) = ohms {
                    added(ohms, problems);
                }
                let (when, tail) = when_of(when, problems);
                let (look, word) = match look {
                    LookAsWritten::PushedBack => (ContactLook::PushedBack, "pushed-back"),
                    LookAsWritten::Spread => (ContactLook::Spread, "spread"),
                    LookAsWritten::Corroded => (ContactLook::Corroded, "corroded"),
                };
                let kind = if ohms.is_some() { FaultKind::HighResistance } else { FaultKind::Open };
                let added = ohms.as_ref().map_or(f64::INFINITY, |ohms| ohms.value);
                Some(fault(
                    format!("{}.{word}.{cavity_number}{tail}", connector.value),
                    vec![Deviation::Contact {
                        connector: id,
                        cavity: cavity_number,
                        ohms: added,
                        when,
                        look,
                    }],
                    Vec::new(),
                    named(Component::Connector(id), kind, Spot::Cavity(cavity_number)),
                ))
            }
            FaultAsWritten::HalfSeated { connector, cavity } => {
                let (id, cavity) = self.loom_cavity(connector, cavity, problems)?;
                Some(fault(
                    format!("{}.half-seated.{cavity}", connector.value),
                    vec![Deviation::HalfSeated { connector: id, cavity }],
                    Vec::new(),
                    named(Component::Connector(id), FaultKind::Loose, Spot::Whole),
                ))
            }
            FaultAsWritten::Crossed { connector, first, second } => {
                let (id, a) = self.loom_cavity(connector, first, problems)?;
                let (_, b) = self.loom_cavity(connector, second, problems)?;
                if a == b {
                    problems.add(
                        second.span,
                        "a terminal cannot be crossed with itself".to_owned(),
                        "name two different cavities",
                    );
                }
                Some(fault(
                    format!("{}.crossed.{}-{}", connector.value, a.min(b), a.max(b)),
                    vec![Deviation::Crossed { connector: id, half: Half::Loom, first: a, second: b }],
                    Vec::new(),
                    named(Component::Connector(id), FaultKind::Crossed, Spot::Cavity(a.min(b))),
                ))
            }
            FaultAsWritten::FuseBlown(name) => {
                let fuse = self.fuse(name, problems)?;
                Some(fault(
                    format!("{}.blown", name.value),
                    Vec::new(),
                    vec![Change::FuseBlown(fuse)],
                    named(Component::Fuse(fuse), FaultKind::Blown, Spot::Whole),
                ))
            }
            FaultAsWritten::WrongFuse { fuse: name, amps } => {
                let fuse = self.fuse(name, problems)?;
                vehicle_file::rating(amps, problems);
                if amps.value >= self.vehicle.fuse(fuse).rating_amps {
                    problems.add(
                        amps.span,
                        format!("a fuse of {} A in \"{}\" would not blow", amps.value, name.value),
                        format!("write a rating below {} A", self.vehicle.fuse(fuse).rating_amps),
                    );
                }
                Some(fault(
                    format!("{}.wrong.{}-amp", name.value, amps.value),
                    Vec::new(),
                    vec![Change::FuseRating(fuse, amps.value), Change::FuseBlown(fuse)],
                    named(Component::Fuse(fuse), FaultKind::WrongPart, Spot::Whole),
                ))
            }
            FaultAsWritten::LooseFuse(name) => {
                let fuse = self.fuse(name, problems)?;
                Some(fault(
                    format!("{}.loose", name.value),
                    vec![Deviation::Clips { fuse, ohms: f64::INFINITY }],
                    Vec::new(),
                    named(Component::Fuse(fuse), FaultKind::Loose, Spot::Whole),
                ))
            }
            FaultAsWritten::Stud { eyelet: name, ohms, loose } => {
                let at = self.names.eyelets.find(name, problems)?;
                let stud = self.vehicle.eyelets[at].stud;
                if let Some(ohms) = ohms {
                    added(ohms, problems);
                }
                let (word, kind) = match (loose, ohms) {
                    (_, None) => ("off", FaultKind::Open),
                    (true, Some(_)) => ("loose", FaultKind::Loose),
                    (false, Some(_)) => ("corroded", FaultKind::HighResistance),
                };
                let added = ohms.as_ref().map_or(f64::INFINITY, |ohms| ohms.value);
                let deviation = Deviation::Stud { eyelet: EyeletId::at(at), ohms: added, loose: *loose };
                let tail = ohms.as_ref().map_or(String::new(), |ohms| format!(".{}-ohm", ohms.value));
                Some(fault(
                    format!("{}.{word}{tail}", self.vehicle.stud(stud).id),
                    vec![deviation],
                    Vec::new(),
                    named(Component::Stud(stud), kind, Spot::Whole),
                ))
            }
            FaultAsWritten::MotorOpen => Some(self.latch(
                "motor-open",
                Deviation::Winding(self.latch_id(), f64::INFINITY),
                FaultKind::Open,
            )),
            FaultAsWritten::MotorShorted(ohms) => {
                in_range(ohms, 0.001, 10.0, "Ω", "a shorted winding's resistance", problems);
                let deviation = Deviation::Winding(self.latch_id(), ohms.value);
                Some(self.latch("motor-shorted", deviation, FaultKind::ShortToGround))
            }
            FaultAsWritten::Stiff(amps) => {
                in_range(amps, 0.1, 100.0, "A", "a stiff mechanism's breakaway current", problems);
                Some(self.latch("stiff", Deviation::Stiff(self.latch_id(), amps.value), FaultKind::Stiff))
            }
            FaultAsWritten::Jammed => {
                Some(self.latch("jammed", Deviation::Jammed(self.latch_id()), FaultKind::Jammed))
            }
            FaultAsWritten::OutputDead { module, output } => {
                let (part, at) = self.pin(module, output, true, problems)?;
                Some(fault(
                    format!("{}.dead.{}", module.value, output.value),
                    vec![Deviation::OutputDead(part, at)],
                    Vec::new(),
                    named(Component::Part(part), FaultKind::Dead, Spot::Whole),
                ))
            }
            FaultAsWritten::InputDeaf { module, input } => {
                let (part, at) = self.pin(module, input, false, problems)?;
                Some(fault(
                    format!("{}.deaf.{}", module.value, input.value),
                    vec![Deviation::InputDeaf(part, at)],
                    Vec::new(),
                    named(Component::Part(part), FaultKind::Deaf, Spot::Whole),
                ))
            }
            FaultAsWritten::ReceiverDeaf(name) => {
                let part = vehicle_file::part_id(self.names, name, problems)?;
                self.is_module(name, part, problems)?;
                Some(fault(
                    format!("{}.deaf.key", name.value),
                    vec![Deviation::ReceiverDeaf(part)],
                    Vec::new(),
                    named(Component::Part(part), FaultKind::Deaf, Spot::Whole),
                ))
            }
            FaultAsWritten::SwitchOpen(name) => self.switch(name, Stuck::Open, problems),
            FaultAsWritten::SwitchClosed(name) => self.switch(name, Stuck::Closed, problems),
            FaultAsWritten::KeyCellFlat { volts, ohms } => {
                in_range(volts, 0.0, 12.0, "V", "a worn cell's voltage", problems);
                in_range(ohms, 0.1, 1e5, "Ω", "a worn cell's inner resistance", problems);
                Some(fault(
                    "key.cell-flat".to_owned(),
                    vec![Deviation::KeyCell(volts.value, ohms.value)],
                    Vec::new(),
                    named(Component::Key, FaultKind::Flat, Spot::Whole),
                ))
            }
            FaultAsWritten::KeyButtonDead => Some(fault(
                "key.button-dead".to_owned(),
                vec![Deviation::KeyButton(KeyButton::Release)],
                Vec::new(),
                named(Component::Key, FaultKind::Dead, Spot::Whole),
            )),
            FaultAsWritten::BatteryLow { volts, ohms } => {
                in_range(volts, 1.0, 14.0, "V", "a low battery's voltage", problems);
                in_range(ohms, 1e-4, 100.0, "Ω", "a low battery's inner resistance", problems);
                Some(fault(
                    format!("battery.low.{}-volt", volts.value),
                    vec![Deviation::Battery(volts.value, ohms.value)],
                    Vec::new(),
                    named(Component::Battery, FaultKind::Flat, Spot::Whole),
                ))
            }
            FaultAsWritten::LockoutOn => Some(fault(
                "lockout.left-on".to_owned(),
                Vec::new(),
                vec![Change::Lockout],
                named(Component::Lockout, FaultKind::SettingLeftOn, Spot::Whole),
            )),
        }
    }

    fn latch_id(&self) -> PartId {
        self.vehicle.latch().0
    }

    fn latch(&self, word: &str, deviation: Deviation, kind: FaultKind) -> PlacedFault {
        let part = self.latch_id();
        fault(
            format!("{}.{word}", self.vehicle.part(part).id),
            vec![deviation],
            Vec::new(),
            named(Component::Part(part), kind, Spot::Whole),
        )
    }

    fn switch(&self, name: &At<String>, stuck: Stuck, problems: &mut Problems) -> Option<PlacedFault> {
        let part = vehicle_file::part_id(self.names, name, problems)?;
        if !matches!(self.vehicle.part(part).kind, PartKind::Switch { .. }) {
            problems.add(
                name.span,
                format!("\"{}\" is not a switch", name.value),
                "name a part that is a Switch",
            );
            return None;
        }
        let (word, kind) = match stuck {
            Stuck::Open => ("open", FaultKind::Open),
            Stuck::Closed => ("closed", FaultKind::Jammed),
        };
        Some(fault(
            format!("{}.{word}", name.value),
            vec![Deviation::Switch(part, stuck)],
            Vec::new(),
            named(Component::Part(part), kind, Spot::Whole),
        ))
    }

    fn is_module(&self, name: &At<String>, part: PartId, problems: &mut Problems) -> Option<()> {
        if matches!(self.vehicle.part(part).kind, PartKind::Module(_)) {
            return Some(());
        }
        problems.add(
            name.span,
            format!("\"{}\" is not a module", name.value),
            "name a part that is a Module",
        );
        None
    }

    /// An output or input of a module.
    fn pin(
        &self,
        module: &At<String>,
        pin: &At<String>,
        output: bool,
        problems: &mut Problems,
    ) -> Option<(PartId, usize)> {
        let part = vehicle_file::part_id(self.names, module, problems)?;
        self.is_module(module, part, problems)?;
        let PartKind::Module(file) = &self.vehicle.part(part).kind else { return None };
        let names = if output {
            vehicle_file::Names::new("output", file.outputs.iter().map(|x| x.id.as_str()))
        } else {
            vehicle_file::Names::new("input", file.inputs.iter().map(|x| x.id.as_str()))
        };
        Some((part, names.find(pin, problems)?))
    }

    fn fuse(&self, name: &At<String>, problems: &mut Problems) -> Option<FuseId> {
        self.names.fuses.find(name, problems).map(FuseId::at)
    }

    fn piece(
        &self,
        conductor: &At<String>,
        at: &At<String>,
        problems: &mut Problems,
    ) -> Option<(ConductorId, StationId, usize)> {
        let id = self.names.conductors.find(conductor, problems).map(ConductorId::at);
        let station = self.names.stations.find(at, problems).map(StationId::at);
        let (id, station) = (id?, station?);
        let file = self.vehicle.conductor(id);
        let Some(piece) = file.piece_at(station) else {
            let passed: Vec<&str> = file
                .runs
                .iter()
                .filter_map(|run| run.station)
                .map(|station| self.vehicle.station(station).id.as_str())
                .collect();
            problems.add(
                at.span,
                format!("\"{}\" does not pass \"{}\"", conductor.value, at.value),
                if passed.is_empty() {
                    "it passes no station: put the fault on its connector or fuse".to_owned()
                } else {
                    format!("it passes: {}", passed.join(", "))
                },
            );
            return None;
        };
        Some((id, station, piece))
    }

    fn loom_cavity(
        &self,
        connector: &At<String>,
        number: &At<u8>,
        problems: &mut Problems,
    ) -> Option<(crate::vehicle::ConnectorId, u8)> {
        let cavities = |position: usize| self.vehicle.connectors[position].cavities;
        let (id, half, cavity) = vehicle_file::cavity(cavities, self.names, connector, number, problems)?;
        if half == Half::Mate {
            problems.add(
                connector.span,
                format!("\"{}\" is the other half", connector.value),
                format!("name the connector by its loom half, \"{}\"", self.vehicle.connector(id).id),
            );
            return None;
        }
        if self.vehicle.conductor_in(id, Half::Loom, cavity).is_none() {
            problems.add(
                number.span,
                format!("no conductor ends in cavity {cavity} of \"{}\"", connector.value),
                "name a cavity that holds a terminal",
            );
            return None;
        }
        Some((id, cavity))
    }
}

/// A resistance that a fault adds.
fn added(ohms: &At<f64>, problems: &mut Problems) {
    in_range(ohms, 1e-3, 1e7, "Ω", "the resistance of a fault", problems);
}

/// When, and how it reads in the fault's name.
fn when_of(when: &WhenAsWritten, problems: &mut Problems) -> (When, String) {
    let mut angle = |angle: &At<f64>| in_range(angle, 0.0, 120.0, "°", "a lid's angle", problems);
    match when {
        WhenAsWritten::Always => (When::Always, String::new()),
        WhenAsWritten::LidBelow(edge) => {
            angle(edge);
            (When::LidBelow(edge.value), format!(".lid-below-{}", edge.value))
        }
        WhenAsWritten::LidAbove(edge) => {
            angle(edge);
            (When::LidAbove(edge.value), format!(".lid-above-{}", edge.value))
        }
        WhenAsWritten::LidBetween { low, high } => {
            angle(low);
            angle(high);
            if low.value >= high.value {
                problems.add(
                    high.span,
                    format!("{}° is not above {}°", high.value, low.value),
                    "write the lower angle first",
                );
            }
            (When::LidBetween(low.value, high.value), format!(".lid-{}-to-{}", low.value, high.value))
        }
        WhenAsWritten::Flexed(share) => {
            in_range(share, 0.01, 1.0, "", "how often a flexed loom shows its break", problems);
            (When::Flexed(share.value), ".flexed".to_owned())
        }
    }
}
