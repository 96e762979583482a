//! A vehicle file: as written, then checked and with its names resolved.

use std::collections::{BTreeMap, BTreeSet};

use crate::circuit::{FUSE_RATINGS_AMPS, Filament};
use crate::vehicle::{
    Battery, Conductor, Connector, ConnectorId, Effect, End, Eyelet, EyeletId, FuseId, FuseSlot, Half, Input,
    Key, KeyButton, Latch, Leakage, Lid, Mate, Module, Monitor, MonitorKind, Motor, Output, OutputKind,
    Panel, PanelId, Part, PartId, PartKind, Pull, Reach, Rule, Run, Side, Splice, SpliceId, Station,
    StationId, Stud, StudId, Trigger, Vehicle, Zone,
};
use crate::written::{At, Problems, nearest};
use crate::{choice, record};

/// The version of the format that this program writes and reads.
pub(super) const FORMAT: u32 = 1;

record! {
    /// A vehicle as written.
    #[derive(Clone, Debug)]
    pub(super) struct VehicleAsWritten {
        /// Version of the format: 1.
        pub format: At<u32>,
        /// Name in files.
        pub id: At<String>,
        /// Name for people.
        pub title: At<String>,
        /// Battery.
        pub battery: BatteryAsWritten,
        /// Stray conductances.
        pub leakage: LeakageAsWritten,
        /// Lid.
        pub lid: LidAsWritten,
        /// Key.
        pub key: KeyAsWritten,
        /// Panels and seats.
        pub panels: Vec<PanelAsWritten>,
        /// Stations, in order from the body to the latch.
        pub stations: Vec<StationAsWritten>,
        /// Splices inside the loom.
        pub splices: Vec<NamedAsWritten> = Vec::new(),
        /// Ground studs.
        pub studs: Vec<StudAsWritten>,
        /// Ring terminals.
        pub eyelets: Vec<EyeletAsWritten>,
        /// Fuse slots.
        pub fuses: Vec<FuseAsWritten>,
        /// Connectors.
        pub connectors: Vec<ConnectorAsWritten>,
        /// Parts.
        pub parts: Vec<PartAsWritten>,
        /// Conductors.
        pub conductors: Vec<ConductorAsWritten>,
    }
}

record! {
    /// A battery as written.
    #[derive(Clone, Debug)]
    pub(super) struct BatteryAsWritten {
        /// Volts without load.
        pub open_volts: At<f64>,
        /// Inner resistance, mΩ.
        pub internal_milliohms: At<f64>,
        /// Where its posts are.
        pub zone: ZoneAsWritten,
        /// The panel in front of them.
        pub panel: Option<At<String>> = None,
    }
}

record! {
    /// Stray conductances as written.
    #[derive(Clone, Debug)]
    pub(super) struct LeakageAsWritten {
        /// From each node to the body, MΩ.
        pub to_body_megohms: At<f64>,
        /// Between neighbours at each station, MΩ.
        pub to_neighbour_megohms: At<f64>,
        /// Across an open relay contact, MΩ.
        pub across_contact_megohms: At<f64>,
    }
}

record! {
    /// A lid as written.
    #[derive(Clone, Debug)]
    pub(super) struct LidAsWritten {
        /// Fully up, degrees above shut.
        pub full_degrees: At<u8>,
        /// How far it springs open.
        pub springs_degrees: At<u8>,
        /// From where on one can reach in.
        pub reach_degrees: At<u8>,
    }
}

record! {
    /// A key as written.
    #[derive(Clone, Debug)]
    pub(super) struct KeyAsWritten {
        /// Cell, volts without load.
        pub cell_volts: At<f64>,
        /// Cell, inner resistance in ohms.
        pub cell_ohms: At<f64>,
        /// What the sender loads it with, ohms.
        pub sender_ohms: At<f64>,
        /// It sends above this, volts.
        pub sends_above_volts: At<f64>,
        /// Price of a cell.
        pub cell_price: u32,
        /// Price of a key.
        pub price: u32,
    }
}

choice! {
    /// Where something is, as written.
    #[derive(Clone, Copy, Debug)]
    pub(super) enum ZoneAsWritten {
        /// Under the bonnet.
        Front,
        /// In the cabin.
        Cabin,
        /// Outside.
        Outside,
        /// In the load space.
        LoadSpace,
        /// Inside of the lid.
        Lid,
    }
}

record! {
    /// A panel as written.
    #[derive(Clone, Debug)]
    pub(super) struct PanelAsWritten {
        /// Name in files.
        pub id: At<String>,
        /// Name for people.
        pub title: At<String>,
        /// Where it is.
        pub zone: ZoneAsWritten,
        /// The zone that it opens.
        pub opens: Option<ZoneAsWritten> = None,
        /// Minutes to take it off.
        pub off_minutes: At<f64>,
        /// Minutes to put it back.
        pub on_minutes: At<f64>,
    }
}

record! {
    /// A station as written.
    #[derive(Clone, Debug)]
    pub(super) struct StationAsWritten {
        /// Name in files.
        pub id: At<String>,
        /// Name for people.
        pub title: At<String>,
        /// Where it is.
        pub zone: ZoneAsWritten,
        /// The panel in front of it.
        pub panel: Option<At<String>> = None,
        /// How much it moves with the lid, 0 to 1.
        pub moves: At<f64>,
    }
}

record! {
    /// Something with a name and a title.
    #[derive(Clone, Debug)]
    pub(super) struct NamedAsWritten {
        /// Name in files.
        pub id: At<String>,
        /// Name for people.
        pub title: At<String>,
    }
}

record! {
    /// A stud as written.
    #[derive(Clone, Debug)]
    pub(super) struct StudAsWritten {
        /// Name in files.
        pub id: At<String>,
        /// Name for people.
        pub title: At<String>,
        /// Where it is.
        pub zone: ZoneAsWritten,
        /// The panel in front of it.
        pub panel: Option<At<String>> = None,
    }
}

record! {
    /// A ring terminal as written.
    #[derive(Clone, Debug)]
    pub(super) struct EyeletAsWritten {
        /// Name in files.
        pub id: At<String>,
        /// The stud it sits on.
        pub stud: At<String>,
    }
}

record! {
    /// A fuse slot as written.
    #[derive(Clone, Debug)]
    pub(super) struct FuseAsWritten {
        /// Name in files.
        pub id: At<String>,
        /// Name for people.
        pub title: At<String>,
        /// Rating, amps.
        pub amps: At<u8>,
        /// Where it is.
        pub zone: ZoneAsWritten,
        /// The panel in front of it.
        pub panel: Option<At<String>> = None,
    }
}

record! {
    /// A connector as written.
    #[derive(Clone, Debug)]
    pub(super) struct ConnectorAsWritten {
        /// Its loom half's name in files.
        pub id: At<String>,
        /// Name for people.
        pub title: At<String>,
        /// Where it is.
        pub zone: ZoneAsWritten,
        /// The panel in front of it.
        pub panel: Option<At<String>> = None,
        /// How many cavities.
        pub cavities: At<u8>,
        /// A sound contact, mΩ.
        pub contact_milliohms: At<f64>,
        /// What it mates with.
        pub mate: MateAsWritten = MateAsWritten::Pins,
    }
}

choice! {
    /// What a connector mates with, as written.
    #[derive(Clone, Debug)]
    pub(super) enum MateAsWritten {
        /// The pins of the parts that name it.
        Pins,
        /// Another loom's half.
        Loom {
            /// That half's name in files.
            id: At<String>,
            /// Its name for people.
            title: At<String>,
        },
    }
}

record! {
    /// A part as written.
    #[derive(Clone, Debug)]
    pub(super) struct PartAsWritten {
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
    pub(super) enum PartKindAsWritten {
        /// A filament lamp.
        Lamp {
            /// Rated volts.
            rated_volts: At<f64> = At::unwritten(13.5),
            /// Watts at rated volts.
            watts: At<f64>,
            /// Its pins.
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
        /// A lid latch.
        Latch(LatchAsWritten),
        /// A module.
        Module(ModuleAsWritten),
    }
}

record! {
    /// A latch as written.
    #[derive(Clone, Debug)]
    pub(super) struct LatchAsWritten {
        /// Pin of the motor's feed.
        pub feed: At<u8>,
        /// Pin of the switch that closes to ground while the latch is open.
        pub ajar: At<u8>,
        /// Pin of the ground.
        pub ground: At<u8>,
        /// Pin of the contact that closes to ground while the claw is home.
        pub home: At<u8>,
        /// Its switches closed, mΩ.
        pub switch_milliohms: At<f64>,
        /// Motor winding and brushes, ohms.
        pub winding_ohms: At<f64>,
        /// Current that just moves it, amps.
        pub breakaway_amps: At<f64>,
        /// Current at the lowest speed, amps.
        pub idle_amps: At<f64>,
        /// How much more for each volt of speed, siemens.
        pub slope_siemens: At<f64>,
        /// Until it is at speed, milliseconds.
        pub spin_up_milliseconds: At<f64>,
        /// The way to release, volt-seconds.
        pub travel_volt_seconds: At<f64>,
    }
}

record! {
    /// A module as written.
    #[derive(Clone, Debug)]
    pub(super) struct ModuleAsWritten {
        /// Supply pin.
        pub supply: At<u8>,
        /// Ground pin.
        pub ground: At<u8>,
        /// Its own load, ohms.
        pub load_ohms: At<f64>,
        /// It works above this, volts.
        pub works_above_volts: At<f64>,
        /// Inputs.
        pub inputs: Vec<InputAsWritten>,
        /// Outputs.
        pub outputs: Vec<OutputAsWritten>,
        /// What it does when asked.
        pub rules: Vec<RuleAsWritten>,
        /// What it remembers.
        pub monitors: Vec<MonitorAsWritten>,
    }
}

record! {
    /// An input as written.
    #[derive(Clone, Debug)]
    pub(super) struct InputAsWritten {
        /// Name in files.
        pub id: At<String>,
        /// Name for people.
        pub title: At<String>,
        /// Its pin.
        pub pin: At<u8>,
        /// Pull-up, ohms.
        pub pull_up_ohms: At<f64>,
        /// Low below this, volts.
        pub low_below_volts: At<f64>,
        /// It lights the dash's sign for an open lid.
        pub lid_sign: bool = false,
    }
}

record! {
    /// An output as written.
    #[derive(Clone, Debug)]
    pub(super) struct OutputAsWritten {
        /// Name in files.
        pub id: At<String>,
        /// Name for people.
        pub title: At<String>,
        /// Pin that feeds it.
        pub feed: At<u8>,
        /// Pin that it feeds.
        pub pin: At<u8>,
        /// Closed, mΩ.
        pub closed_milliohms: At<f64>,
        /// Bleed to ground, ohms.
        pub bleed_ohms: At<f64>,
    }
}

choice! {
    /// What asks a module, as written.
    #[derive(Clone, Debug)]
    pub(super) enum TriggerAsWritten {
        /// The key's button to lock.
        KeyLock,
        /// The key's button to unlock.
        KeyUnlock,
        /// The key's button to release the lid.
        KeyRelease,
        /// An input going low.
        Input(At<String>),
    }
}

choice! {
    /// What a module does, as written.
    #[derive(Clone, Debug)]
    pub(super) enum EffectAsWritten {
        /// Locks, and flashes.
        Lock {
            /// Output that flashes.
            flash: At<String>,
        },
        /// Unlocks, and flashes.
        Unlock {
            /// Output that flashes.
            flash: At<String>,
        },
        /// Releases the lid.
        Release {
            /// Output.
            output: At<String>,
            /// For how long, milliseconds.
            milliseconds: At<f64>,
            /// Not while locked.
            only_unlocked: bool = false,
        },
    }
}

record! {
    /// A rule as written.
    #[derive(Clone, Debug)]
    pub(super) struct RuleAsWritten {
        /// What asks.
        pub on: TriggerAsWritten,
        /// What is done.
        pub does: EffectAsWritten,
    }
}

record! {
    /// A monitor as written.
    #[derive(Clone, Debug)]
    pub(super) struct MonitorAsWritten {
        /// How often it blinks.
        pub code: At<u8>,
        /// What it means.
        pub title: At<String>,
        /// When it is set.
        pub when: MonitorKindAsWritten,
    }
}

choice! {
    /// When a module sets an entry, as written.
    #[derive(Clone, Debug)]
    pub(super) enum MonitorKindAsWritten {
        /// Neither input is low.
        NeitherLow {
            /// One input.
            first: At<String>,
            /// The other.
            second: At<String>,
        },
        /// The output was closed and the input did not go low.
        NoAnswer {
            /// Output.
            output: At<String>,
            /// Input.
            input: At<String>,
        },
        /// The output's pin stayed low though it was closed.
        OutputLow(At<String>),
        /// The supply was below this, volts.
        SupplyBelow(At<f64>),
    }
}

record! {
    /// A conductor as written.
    #[derive(Clone, Debug)]
    pub(super) struct ConductorAsWritten {
        /// Name in files.
        pub id: At<String>,
        /// Name for people.
        pub title: At<String>,
        /// IEC 60757 letters.
        pub colour: At<String>,
        /// Cross-section, mm².
        pub square_millimetres: At<f64>,
        /// Where it begins.
        pub from: EndAsWritten,
        /// Length of its first piece, metres.
        pub metres: At<f64>,
        /// Stations that it passes, in order.
        pub via: Vec<RunAsWritten> = Vec::new(),
        /// Where it ends.
        pub to: EndAsWritten,
    }
}

record! {
    /// A piece of a conductor as written.
    #[derive(Clone, Debug)]
    pub(super) struct RunAsWritten {
        /// The station where it begins.
        pub at: At<String>,
        /// Its length, metres.
        pub metres: At<f64>,
    }
}

choice! {
    /// Where a conductor ends, as written.
    #[derive(Clone, Debug)]
    pub(super) enum EndAsWritten {
        /// In a connector's half.
        Cavity {
            /// The half's name.
            half: At<String>,
            /// The cavity's number.
            number: At<u8>,
        },
        /// In a splice.
        Splice(At<String>),
        /// In a ring terminal.
        Eyelet(At<String>),
        /// On a fuse's feed side.
        FuseFeed(At<String>),
        /// On a fuse's load side.
        FuseLoad(At<String>),
        /// On the battery's plus post.
        BatteryPlus,
        /// On the body.
        Body,
    }
}

/// Names of one kind of thing.
pub(super) struct Names {
    kind: &'static str,
    at: BTreeMap<String, usize>,
}

impl Names {
    pub(super) fn new<'a>(kind: &'static str, ids: impl Iterator<Item = &'a str>) -> Self {
        let mut at = BTreeMap::new();
        for (position, id) in ids.enumerate() {
            at.entry(id.to_owned()).or_insert(position);
        }
        Self { kind, at }
    }

    /// Where a name stands; a problem where it is unknown.
    pub(super) fn find(&self, name: &At<String>, problems: &mut Problems) -> Option<usize> {
        if let Some(&position) = self.at.get(name.value.as_str()) {
            return Some(position);
        }
        let hint = match nearest(&name.value, self.at.keys().map(String::as_str)) {
            Some(near) => format!("did you mean \"{near}\"?"),
            None if self.at.is_empty() => format!("there is no {} in this vehicle", self.kind),
            None => {
                let known: Vec<&str> = self.at.keys().map(String::as_str).collect();
                format!("there are: {}", known.join(", "))
            }
        };
        problems.add(name.span, format!("there is no {} \"{}\"", self.kind, name.value), hint);
        None
    }
}

/// A vehicle's names.
pub(super) struct VehicleNames {
    pub(super) panels: Names,
    pub(super) stations: Names,
    pub(super) splices: Names,
    pub(super) studs: Names,
    pub(super) eyelets: Names,
    pub(super) fuses: Names,
    pub(super) parts: Names,
    pub(super) conductors: Names,
    /// Both halves of every connector; position × 2, and 1 more for the mating half of another loom.
    pub(super) halves: Names,
}

impl VehicleNames {
    pub(super) fn of(vehicle: &Vehicle) -> Self {
        let halves = vehicle.connectors.iter().flat_map(|c| [c.id.as_str(), c.mate_id.as_str()]);
        Self {
            panels: Names::new("panel", vehicle.panels.iter().map(|x| x.id.as_str())),
            stations: Names::new("station", vehicle.stations.iter().map(|x| x.id.as_str())),
            splices: Names::new("splice", vehicle.splices.iter().map(|x| x.id.as_str())),
            studs: Names::new("stud", vehicle.studs.iter().map(|x| x.id.as_str())),
            eyelets: Names::new("eyelet", vehicle.eyelets.iter().map(|x| x.id.as_str())),
            fuses: Names::new("fuse", vehicle.fuses.iter().map(|x| x.id.as_str())),
            parts: Names::new("part", vehicle.parts.iter().map(|x| x.id.as_str())),
            conductors: Names::new("conductor", vehicle.conductors.iter().map(|x| x.id.as_str())),
            halves: Names::new("connector", halves),
        }
    }

    fn written(file: &VehicleAsWritten) -> Self {
        let halves: Vec<String> = file
            .connectors
            .iter()
            .flat_map(|connector| [connector.id.value.clone(), mate_id(connector)])
            .collect();
        Self {
            panels: Names::new("panel", file.panels.iter().map(|x| x.id.as_str())),
            stations: Names::new("station", file.stations.iter().map(|x| x.id.as_str())),
            splices: Names::new("splice", file.splices.iter().map(|x| x.id.as_str())),
            studs: Names::new("stud", file.studs.iter().map(|x| x.id.as_str())),
            eyelets: Names::new("eyelet", file.eyelets.iter().map(|x| x.id.as_str())),
            fuses: Names::new("fuse", file.fuses.iter().map(|x| x.id.as_str())),
            parts: Names::new("part", file.parts.iter().map(|x| x.id.as_str())),
            conductors: Names::new("conductor", file.conductors.iter().map(|x| x.id.as_str())),
            halves: Names::new("connector", halves.iter().map(String::as_str)),
        }
    }
}

/// The name of a connector's other half: written, or made from its own.
fn mate_id(connector: &ConnectorAsWritten) -> String {
    match &connector.mate {
        MateAsWritten::Pins => format!("{}-pins", connector.id.value),
        MateAsWritten::Loom { id, .. } => id.value.clone(),
    }
}

/// Checks a vehicle as written and resolves its names. `None` where there are problems.
pub(super) fn resolve(file: &VehicleAsWritten, problems: &mut Problems) -> Option<Vehicle> {
    let before = problems.len();
    if file.format.value != FORMAT {
        problems.add(
            file.format.span,
            format!("format {} is not one that this program reads", file.format.value),
            format!("write `format: {FORMAT}`"),
        );
    }
    unique_names(file, problems);
    titles(file, problems);
    let names = VehicleNames::written(file);
    let panels = panels(file, problems);
    let reach = |zone: ZoneAsWritten, panel: &Option<At<String>>, problems: &mut Problems| {
        let panel = match panel {
            Some(name) => Some(PanelId::at(names.panels.find(name, problems)?)),
            None => None,
        };
        Some(Reach { zone: zone.into(), panel })
    };

    let battery = {
        in_range(&file.battery.open_volts, 1.0, 60.0, "V", "a battery's voltage", problems);
        in_range(
            &file.battery.internal_milliohms,
            0.1,
            10_000.0,
            "mΩ",
            "a battery's inner resistance",
            problems,
        );
        reach(file.battery.zone, &file.battery.panel, problems).map(|reach| Battery {
            open_volts: file.battery.open_volts.value,
            internal_ohms: file.battery.internal_milliohms.value * 1e-3,
            amp_hours: 60.0,
            reach,
        })
    };
    for (value, what) in [
        (&file.leakage.to_body_megohms, "a leakage to the body"),
        (&file.leakage.to_neighbour_megohms, "a leakage between neighbours"),
        (&file.leakage.across_contact_megohms, "a leakage across a contact"),
    ] {
        in_range(value, 0.01, 1e6, "MΩ", what, problems);
    }
    let lid = lid(file, problems);
    let key = key(file, problems);

    let stations: Vec<Option<Station>> = file
        .stations
        .iter()
        .map(|station| {
            in_range(&station.moves, 0.0, 1.0, "", "how much a station moves", problems);
            Some(Station {
                id: station.id.value.clone(),
                title: station.title.value.clone(),
                reach: reach(station.zone, &station.panel, problems)?,
                moves: station.moves.value,
            })
        })
        .collect();
    let studs: Vec<Option<Stud>> = file
        .studs
        .iter()
        .map(|stud| {
            Some(Stud {
                id: stud.id.value.clone(),
                title: stud.title.value.clone(),
                reach: reach(stud.zone, &stud.panel, problems)?,
            })
        })
        .collect();
    let eyelets: Vec<Option<Eyelet>> = file
        .eyelets
        .iter()
        .map(|eyelet| {
            Some(Eyelet {
                id: eyelet.id.value.clone(),
                stud: StudId::at(names.studs.find(&eyelet.stud, problems)?),
            })
        })
        .collect();
    let fuses: Vec<Option<FuseSlot>> = file
        .fuses
        .iter()
        .map(|fuse| {
            rating(&fuse.amps, problems);
            Some(FuseSlot {
                id: fuse.id.value.clone(),
                title: fuse.title.value.clone(),
                rating_amps: fuse.amps.value,
                reach: reach(fuse.zone, &fuse.panel, problems)?,
            })
        })
        .collect();
    let connectors: Vec<Option<Connector>> = file
        .connectors
        .iter()
        .map(|connector| {
            let title = connector.title.value.clone();
            in_range(
                &connector.contact_milliohms,
                0.1,
                1000.0,
                "mΩ",
                "a sound contact's resistance",
                problems,
            );
            if !(1..=60).contains(&connector.cavities.value) {
                problems.add(
                    connector.cavities.span,
                    format!("a connector cannot have {} cavities", connector.cavities.value),
                    "write a number from 1 to 60",
                );
            }
            let (mate, mate_title) = match &connector.mate {
                MateAsWritten::Pins => (Mate::Pins, format!("{title}, the part's own pins")),
                MateAsWritten::Loom { title, .. } => (Mate::Loom, title.value.clone()),
            };
            Some(Connector {
                id: connector.id.value.clone(),
                mate_id: mate_id(connector),
                title,
                mate_title,
                reach: reach(connector.zone, &connector.panel, problems)?,
                cavities: connector.cavities.value,
                contact_ohms: connector.contact_milliohms.value * 1e-3,
                mate,
            })
        })
        .collect();
    let parts: Vec<Option<Part>> =
        file.parts.iter().map(|part| self::part(file, part, &names, &reach, problems)).collect();
    let conductors: Vec<Option<Conductor>> =
        file.conductors.iter().map(|conductor| self::conductor(file, conductor, &names, problems)).collect();
    shared_cavities(file, problems);
    one_latch(file, problems);

    if problems.len() > before {
        return None;
    }
    Some(Vehicle {
        id: file.id.value.clone(),
        title: file.title.value.clone(),
        battery: battery?,
        leakage: Leakage {
            to_body_ohms: file.leakage.to_body_megohms.value * 1e6,
            to_neighbour_ohms: file.leakage.to_neighbour_megohms.value * 1e6,
            across_contact_ohms: file.leakage.across_contact_megohms.value * 1e6,
        },
        lid,
        key,
        panels,
        stations: stations.into_iter().collect::<Option<_>>()?,
        connectors: connectors.into_iter().collect::<Option<_>>()?,
        splices: file
            .splices
            .iter()
            .map(|splice| Splice { id: splice.id.value.clone(), title: splice.title.value.clone() })
            .collect(),
        studs: studs.into_iter().collect::<Option<_>>()?,
        eyelets: eyelets.into_iter().collect::<Option<_>>()?,
        fuses: fuses.into_iter().collect::<Option<_>>()?,
        parts: parts.into_iter().collect::<Option<_>>()?,
        conductors: conductors.into_iter().collect::<Option<_>>()?,
    })
}

/// A number in its range; a problem where it is not.
pub(super) fn in_range(
    value: &At<f64>,
    low: f64,
    high: f64,
    unit: &str,
    what: &str,
    problems: &mut Problems,
) {
    let _: bool = value.in_range(low, high, unit, what, problems);
}

/// A fuse's rating that is in the box; a problem where it is not.
pub(super) fn rating(amps: &At<u8>, problems: &mut Problems) {
    if !FUSE_RATINGS_AMPS.contains(&amps.value) {
        let known: Vec<String> = FUSE_RATINGS_AMPS.iter().map(u8::to_string).collect();
        problems.add(
            amps.span,
            format!("there is no blade fuse of {} A", amps.value),
            format!("write one of {}", known.join(", ")),
        );
    }
}

/// Words that commands have a meaning for where a name can stand.
const OWN_WORDS: [&str; 11] = [
    "body",
    "battery",
    "battery-plus",
    "battery-minus",
    "connector",
    "key",
    "key-cell",
    "key-plus",
    "key-minus",
    "lockout",
    "off",
];

/// Every title says something.
fn titles(file: &VehicleAsWritten, problems: &mut Problems) {
    let titles = std::iter::once(&file.title)
        .chain(file.panels.iter().map(|x| &x.title))
        .chain(file.stations.iter().map(|x| &x.title))
        .chain(file.splices.iter().map(|x| &x.title))
        .chain(file.studs.iter().map(|x| &x.title))
        .chain(file.fuses.iter().map(|x| &x.title))
        .chain(file.connectors.iter().map(|x| &x.title))
        .chain(file.parts.iter().map(|x| &x.title))
        .chain(file.conductors.iter().map(|x| &x.title));
    for title in titles {
        check_text(title, "the title", problems);
    }
}

/// Every name once: two things of one name could not be told apart in a command.
fn unique_names(file: &VehicleAsWritten, problems: &mut Problems) {
    let mut seen: BTreeSet<&str> = OWN_WORDS.into();
    let pins: Vec<String> = file.connectors.iter().map(mate_id).collect();
    let all = (file.panels.iter().map(|x| &x.id))
        .chain(file.stations.iter().map(|x| &x.id))
        .chain(file.splices.iter().map(|x| &x.id))
        .chain(file.studs.iter().map(|x| &x.id))
        .chain(file.eyelets.iter().map(|x| &x.id))
        .chain(file.fuses.iter().map(|x| &x.id))
        .chain(file.conductors.iter().map(|x| &x.id));
    // A part may share its connector's name: the one is named where a part is meant, the other where a point is.
    let halves = file.connectors.iter().flat_map(|connector| {
        let other = match &connector.mate {
            MateAsWritten::Loom { id, .. } => Some(id),
            MateAsWritten::Pins => None,
        };
        std::iter::once(&connector.id).chain(other)
    });
    for id in all.chain(halves) {
        check_name(id, problems);
        once(id, &mut seen, problems);
    }
    for (connector, pins) in file.connectors.iter().zip(&pins) {
        if matches!(connector.mate, MateAsWritten::Pins) && seen.contains(pins.as_str()) {
            problems.add(
                connector.id.span,
                format!("this connector's pins would be called \"{pins}\", and that name is taken"),
                "give the connector another name",
            );
        }
    }
    // A fault is named on any of these, and all are told apart by their names alone.
    let mut named: BTreeSet<&str> = (file.studs.iter().map(|x| x.id.as_str()))
        .chain(file.fuses.iter().map(|x| x.id.as_str()))
        .chain(file.conductors.iter().map(|x| x.id.as_str()))
        .chain(OWN_WORDS)
        .collect();
    for part in &file.parts {
        check_name(&part.id, problems);
        once(&part.id, &mut named, problems);
    }
}

/// A name that is not taken already.
fn once<'a>(id: &'a At<String>, seen: &mut BTreeSet<&'a str>, problems: &mut Problems) {
    if !seen.insert(id.value.as_str()) {
        problems.add(
            id.span,
            format!("the name \"{}\" is taken already", id.value),
            "give it a name of its own",
        );
    }
}

/// A text for people: something, and nothing that a terminal would act on.
pub(super) fn check_text(text: &At<String>, what: &str, problems: &mut Problems) {
    if text.value.trim().is_empty() {
        problems.add(text.span, format!("{what} is empty"), "write something for people to read");
    } else if text.value.chars().any(char::is_control) {
        problems.add(
            text.span,
            format!("{what} has a control character in it"),
            "take it out: write one line of plain text",
        );
    }
}

/// A name that can be typed as one word.
pub(super) fn check_name(id: &At<String>, problems: &mut Problems) {
    let fits = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
    if id.value.is_empty() || !id.value.chars().all(fits) {
        problems.add(
            id.span,
            format!("\"{}\" cannot be typed as one word", id.value),
            "use small letters a to z, digits and hyphens",
        );
    }
}

fn panels(file: &VehicleAsWritten, problems: &mut Problems) -> Vec<Panel> {
    file.panels
        .iter()
        .map(|panel| {
            in_range(&panel.off_minutes, 0.0, 600.0, "min", "the time to take a panel off", problems);
            in_range(&panel.on_minutes, 0.0, 600.0, "min", "the time to put a panel back", problems);
            Panel {
                id: panel.id.value.clone(),
                title: panel.title.value.clone(),
                zone: panel.zone.into(),
                opens: panel.opens.map(Zone::from),
                off_minutes: panel.off_minutes.value,
                on_minutes: panel.on_minutes.value,
            }
        })
        .collect()
}

fn lid(file: &VehicleAsWritten, problems: &mut Problems) -> Lid {
    let lid = &file.lid;
    if !(20..=120).contains(&lid.full_degrees.value) {
        problems.add(
            lid.full_degrees.span,
            format!("a lid cannot open to {}°", lid.full_degrees.value),
            "write an angle from 20 to 120",
        );
    }
    for (angle, what) in [(&lid.springs_degrees, "springs to"), (&lid.reach_degrees, "is reached into from")]
    {
        if angle.value < 2 || angle.value >= lid.full_degrees.value {
            problems.add(
                angle.span,
                format!("the angle that the lid {what} is {}°", angle.value),
                "write an angle from 2° to below the angle of the lid fully up",
            );
        }
    }
    Lid {
        full_degrees: lid.full_degrees.value,
        springs_degrees: lid.springs_degrees.value,
        reach_degrees: lid.reach_degrees.value,
    }
}

fn key(file: &VehicleAsWritten, problems: &mut Problems) -> Key {
    let key = &file.key;
    in_range(&key.cell_volts, 0.5, 12.0, "V", "a key cell's voltage", problems);
    in_range(&key.cell_ohms, 0.1, 10_000.0, "Ω", "a key cell's inner resistance", problems);
    in_range(&key.sender_ohms, 1.0, 100_000.0, "Ω", "a key sender's load", problems);
    in_range(&key.sends_above_volts, 0.1, 12.0, "V", "the voltage a key needs", problems);
    Key {
        cell_volts: key.cell_volts.value,
        cell_ohms: key.cell_ohms.value,
        sender_ohms: key.sender_ohms.value,
        sends_above_volts: key.sends_above_volts.value,
        cell_price: key.cell_price,
        price: key.price,
    }
}

type ReachOf<'a> = dyn Fn(ZoneAsWritten, &Option<At<String>>, &mut Problems) -> Option<Reach> + 'a;

fn part(
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
    let cavities = file.connectors[position].cavities.value;
    distinct_pins(part, problems);
    let mut pin = |pin: &At<u8>| {
        if pin.value == 0 || pin.value > cavities {
            problems.add(
                pin.span,
                format!("\"{}\" has no cavity {}", part.connector.value, pin.value),
                format!("write a number from 1 to {cavities}"),
            );
        }
        pin.value
    };
    let kind = match &part.is {
        PartKindAsWritten::Lamp { rated_volts, watts, pins } => {
            let pins = (pin(&pins.0), pin(&pins.1));
            in_range(rated_volts, 1.0, 60.0, "V", "a lamp's rated voltage", problems);
            in_range(watts, 0.1, 200.0, "W", "a lamp's power", problems);
            PartKind::Lamp {
                filament: Filament { rated_volts: rated_volts.value, rated_watts: watts.value },
                pins,
            }
        }
        PartKindAsWritten::Switch { pins, springs_back, closed_milliohms } => {
            let pins = (pin(&pins.0), pin(&pins.1));
            in_range(closed_milliohms, 0.1, 1e6, "mΩ", "a closed switch's resistance", problems);
            PartKind::Switch { pins, springs_back: *springs_back, closed_ohms: closed_milliohms.value * 1e-3 }
        }
        PartKindAsWritten::Latch(latch) => {
            let pins = [&latch.feed, &latch.ground, &latch.ajar, &latch.home].map(&mut pin);
            PartKind::Latch(self::latch(latch, pins, problems))
        }
        PartKindAsWritten::Module(module) => {
            let pins: Vec<&At<u8>> = [&module.supply, &module.ground]
                .into_iter()
                .chain(module.inputs.iter().map(|input| &input.pin))
                .chain(module.outputs.iter().flat_map(|output| [&output.feed, &output.pin]))
                .collect();
            for one in pins {
                pin(one);
            }
            PartKind::Module(self::module(module, problems)?)
        }
    };
    Some(Part {
        id: part.id.value.clone(),
        title: part.title.value.clone(),
        reach: reach(part.zone, &part.panel, problems)?,
        price: part.price,
        fit_minutes: part.fit_minutes.value,
        connector: ConnectorId::at(position),
        kind,
    })
}

/// No pin of a part serves two purposes; only the pin that feeds outputs may feed several.
fn distinct_pins(part: &PartAsWritten, problems: &mut Problems) {
    let pins: Vec<&At<u8>> = match &part.is {
        PartKindAsWritten::Lamp { pins, .. } | PartKindAsWritten::Switch { pins, .. } => {
            vec![&pins.0, &pins.1]
        }
        PartKindAsWritten::Latch(latch) => vec![&latch.feed, &latch.ground, &latch.ajar, &latch.home],
        PartKindAsWritten::Module(module) => [&module.supply, &module.ground]
            .into_iter()
            .chain(module.inputs.iter().map(|input| &input.pin))
            .chain(module.outputs.iter().map(|output| &output.pin))
            .collect(),
    };
    let mut taken = BTreeSet::new();
    for pin in pins {
        if !taken.insert(pin.value) {
            problems.add(
                pin.span,
                format!("\"{}\" has pin {} for two purposes", part.id.value, pin.value),
                "give each its own pin",
            );
        }
    }
}

fn latch(latch: &LatchAsWritten, pins: [u8; 4], problems: &mut Problems) -> Latch {
    in_range(&latch.switch_milliohms, 0.1, 1e6, "mΩ", "a closed switch's resistance", problems);
    in_range(&latch.winding_ohms, 0.05, 1000.0, "Ω", "a motor's winding", problems);
    in_range(&latch.breakaway_amps, 0.01, 100.0, "A", "a motor's breakaway current", problems);
    in_range(&latch.idle_amps, 0.01, 100.0, "A", "a motor's idle current", problems);
    in_range(&latch.slope_siemens, 0.0, 10.0, "S", "a motor's slope", problems);
    in_range(&latch.spin_up_milliseconds, 0.1, 1000.0, "ms", "a motor's time to speed", problems);
    in_range(&latch.travel_volt_seconds, 0.01, 100.0, "Vs", "a latch's way to release", problems);
    let [feed, ground, ajar, home] = pins;
    Latch {
        feed,
        ground,
        ajar,
        home,
        switch_ohms: latch.switch_milliohms.value * 1e-3,
        motor: Motor {
            winding_ohms: latch.winding_ohms.value,
            winding_henries: 0.6e-3,
            breakaway_amps: latch.breakaway_amps.value,
            idle_amps: latch.idle_amps.value,
            slope_siemens: latch.slope_siemens.value,
            spin_up_seconds: latch.spin_up_milliseconds.value * 1e-3,
            travel_volt_seconds: latch.travel_volt_seconds.value,
            ripples_per_volt_second: 0.0,
        },
        solenoid: false,
    }
}

fn module(module: &ModuleAsWritten, problems: &mut Problems) -> Option<Module> {
    let inputs = Names::new("input", module.inputs.iter().map(|x| x.id.as_str()));
    let outputs = Names::new("output", module.outputs.iter().map(|x| x.id.as_str()));
    in_range(&module.load_ohms, 1.0, 1e6, "Ω", "a module's own load", problems);
    in_range(&module.works_above_volts, 0.5, 60.0, "V", "the supply a module needs", problems);
    let mut taken = BTreeSet::new();
    for input in &module.inputs {
        check_name(&input.id, problems);
        once(&input.id, &mut taken, problems);
        in_range(&input.pull_up_ohms, 10.0, 1e6, "Ω", "a pull-up", problems);
        in_range(&input.low_below_volts, 0.1, 60.0, "V", "an input's threshold", problems);
    }
    let mut taken = BTreeSet::new();
    for output in &module.outputs {
        check_name(&output.id, problems);
        once(&output.id, &mut taken, problems);
        in_range(&output.closed_milliohms, 0.1, 1e5, "mΩ", "a closed contact", problems);
        in_range(&output.bleed_ohms, 100.0, 1e8, "Ω", "a bleed resistor", problems);
    }
    let rules: Vec<Option<Rule>> = module
        .rules
        .iter()
        .map(|rule| {
            let on = match &rule.on {
                TriggerAsWritten::KeyLock => Some(Trigger::Key(KeyButton::Lock)),
                TriggerAsWritten::KeyUnlock => Some(Trigger::Key(KeyButton::Unlock)),
                TriggerAsWritten::KeyRelease => Some(Trigger::Key(KeyButton::Release)),
                TriggerAsWritten::Input(id) => inputs.find(id, problems).map(Trigger::Input),
            };
            let effect = match &rule.does {
                EffectAsWritten::Lock { flash } => {
                    outputs.find(flash, problems).map(|flash| Effect::Lock { flash })
                }
                EffectAsWritten::Unlock { flash } => {
                    outputs.find(flash, problems).map(|flash| Effect::Unlock { flash })
                }
                EffectAsWritten::Release { output, milliseconds, only_unlocked } => {
                    in_range(milliseconds, 10.0, 60_000.0, "ms", "a command's length", problems);
                    outputs.find(output, problems).map(|output| Effect::Release {
                        output,
                        seconds: milliseconds.value * 1e-3,
                        only_unlocked: *only_unlocked,
                    })
                }
            };
            Some(Rule { on: on?, effect: effect? })
        })
        .collect();
    let mut codes = BTreeSet::new();
    let monitors: Vec<Option<Monitor>> = module
        .monitors
        .iter()
        .map(|monitor| {
            if !(1..=20).contains(&monitor.code.value) || !codes.insert(monitor.code.value) {
                problems.add(
                    monitor.code.span,
                    format!("{} cannot be this entry's count of blinks", monitor.code.value),
                    "write a number from 1 to 20 that no other entry has",
                );
            }
            let kind = match &monitor.when {
                MonitorKindAsWritten::NeitherLow { first, second } => {
                    let (first, second) = (inputs.find(first, problems), inputs.find(second, problems));
                    MonitorKind::NeitherLow(first?, second?)
                }
                MonitorKindAsWritten::NoAnswer { output, input } => {
                    let (output, input) = (outputs.find(output, problems), inputs.find(input, problems));
                    MonitorKind::NoAnswer { output: output?, input: input? }
                }
                MonitorKindAsWritten::OutputLow(output) => {
                    MonitorKind::OutputLow(outputs.find(output, problems)?)
                }
                MonitorKindAsWritten::SupplyBelow(volts) => {
                    in_range(volts, 0.5, 60.0, "V", "a supply's limit", problems);
                    MonitorKind::SupplyBelow(volts.value)
                }
            };
            Some(Monitor { code: monitor.code.value, title: monitor.title.value.clone(), kind })
        })
        .collect();
    Some(Module {
        supply: module.supply.value,
        ground: module.ground.value,
        load_ohms: module.load_ohms.value,
        asleep_ohms: 100.0 * module.load_ohms.value,
        sleeps_after_minutes: f64::INFINITY,
        works_above_volts: module.works_above_volts.value,
        inputs: module
            .inputs
            .iter()
            .map(|input| Input {
                id: input.id.value.clone(),
                title: input.title.value.clone(),
                pin: input.pin.value,
                pull: Pull::Up,
                pull_ohms: input.pull_up_ohms.value,
                low_below_volts: input.low_below_volts.value,
                high_above_volts: input.low_below_volts.value,
                debounce_seconds: 0.02,
                lid_sign: input.lid_sign,
            })
            .collect(),
        outputs: module
            .outputs
            .iter()
            .map(|output| Output {
                id: output.id.value.clone(),
                title: output.title.value.clone(),
                feed: output.feed.value,
                pin: output.pin.value,
                kind: OutputKind::Contact {
                    closed_ohms: output.closed_milliohms.value * 1e-3,
                    bleed_ohms: output.bleed_ohms.value,
                },
            })
            .collect(),
        rules: rules.into_iter().collect::<Option<_>>()?,
        monitors: monitors.into_iter().collect::<Option<_>>()?,
    })
}

/// A half by name and a cavity by number; a problem where there is none such.
pub(super) fn cavity(
    cavities: impl Fn(usize) -> u8,
    names: &VehicleNames,
    half: &At<String>,
    number: &At<u8>,
    problems: &mut Problems,
) -> Option<(ConnectorId, Half, u8)> {
    let found = names.halves.find(half, problems)?;
    let (position, side) = (found / 2, if found % 2 == 1 { Half::Mate } else { Half::Loom });
    let count = cavities(position);
    if number.value == 0 || number.value > count {
        problems.add(
            number.span,
            format!("\"{}\" has no cavity {}", half.value, number.value),
            format!("write a number from 1 to {count}"),
        );
        return None;
    }
    Some((ConnectorId::at(position), side, number.value))
}

fn conductor(
    file: &VehicleAsWritten,
    conductor: &ConductorAsWritten,
    names: &VehicleNames,
    problems: &mut Problems,
) -> Option<Conductor> {
    in_range(&conductor.square_millimetres, 0.1, 120.0, "mm²", "a cross-section", problems);
    in_range(&conductor.metres, 0.01, 100.0, "m", "a length", problems);
    colour(&conductor.colour, problems);
    let mut end = |end: &EndAsWritten| match end {
        EndAsWritten::Cavity { half, number } => {
            let cavities = |position: usize| file.connectors[position].cavities.value;
            let (connector, side, number) = cavity(cavities, names, half, number, problems)?;
            if side == Half::Mate && matches!(file.connectors[connector.index()].mate, MateAsWritten::Pins) {
                problems.add(
                    half.span,
                    format!("\"{}\" are a part's own pins: no conductor ends in them", half.value),
                    format!("name the loom half, \"{}\"", file.connectors[connector.index()].id.value),
                );
                return None;
            }
            Some(End::Cavity(connector, side, number))
        }
        EndAsWritten::Splice(id) => names.splices.find(id, problems).map(|at| End::Splice(SpliceId::at(at))),
        EndAsWritten::Eyelet(id) => names.eyelets.find(id, problems).map(|at| End::Eyelet(EyeletId::at(at))),
        EndAsWritten::FuseFeed(id) => {
            names.fuses.find(id, problems).map(|at| End::Fuse(FuseId::at(at), Side::Feed))
        }
        EndAsWritten::FuseLoad(id) => {
            names.fuses.find(id, problems).map(|at| End::Fuse(FuseId::at(at), Side::Load))
        }
        EndAsWritten::BatteryPlus => Some(End::BatteryPlus),
        EndAsWritten::Body => Some(End::Body),
    };
    let (from, to) = (end(&conductor.from), end(&conductor.to));
    if from.is_some() && from == to {
        problems.add(
            conductor.id.span,
            format!("\"{}\" begins and ends in the same place", conductor.id.value),
            "let it end somewhere else",
        );
    }
    let mut passed = BTreeSet::new();
    let mut runs = vec![Some(Run { station: None, metres: conductor.metres.value })];
    for run in &conductor.via {
        in_range(&run.metres, 0.01, 100.0, "m", "a length", problems);
        let station = names.stations.find(&run.at, problems);
        if station.is_some_and(|station| !passed.insert(station)) {
            problems.add(
                run.at.span,
                format!("\"{}\" passes \"{}\" twice: it runs in a loop", conductor.id.value, run.at.value),
                "name each station once, in the order in which the conductor passes them",
            );
        }
        runs.push(station.map(|at| Run { station: Some(StationId::at(at)), metres: run.metres.value }));
    }
    Some(Conductor {
        id: conductor.id.value.clone(),
        title: conductor.title.value.clone(),
        colour: conductor.colour.value.clone(),
        square_millimetres: conductor.square_millimetres.value,
        from: from?,
        to: to?,
        runs: runs.into_iter().collect::<Option<_>>()?,
    })
}

/// Colour letters of IEC 60757: one colour, or two with a stroke between them.
fn colour(colour: &At<String>, problems: &mut Problems) {
    const LETTERS: [&str; 15] =
        ["BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH", "PK", "GD", "TQ", "SR", "GNYE"];
    let known = colour.value.split('/').all(|one| LETTERS.contains(&one));
    if !known || colour.value.split('/').count() > 2 {
        problems.add(
            colour.span,
            format!("\"{}\" is not a colour by the letters of IEC 60757", colour.value),
            format!("write one of {}, or two of them with a stroke, as in \"BU/WH\"", LETTERS.join(", ")),
        );
    }
}

/// No two conductors in one cavity.
fn shared_cavities(file: &VehicleAsWritten, problems: &mut Problems) {
    let mut taken: BTreeMap<(&str, u8), &str> = BTreeMap::new();
    for conductor in &file.conductors {
        for end in [&conductor.from, &conductor.to] {
            let EndAsWritten::Cavity { half, number } = end else { continue };
            if let Some(other) = taken.insert((half.value.as_str(), number.value), &conductor.id.value) {
                problems.add(
                    number.span,
                    format!("cavity {} of \"{}\" already holds \"{other}\"", number.value, half.value),
                    "give each conductor a cavity of its own, or join them in a splice",
                );
            }
        }
    }
}

fn one_latch(file: &VehicleAsWritten, problems: &mut Problems) {
    let mut latches = file.parts.iter().filter(|part| matches!(part.is, PartKindAsWritten::Latch(_)));
    if latches.next().is_none() {
        problems.add(file.id.span, "this vehicle has no latch".to_owned(), "add a part with `is: Latch(..)`");
    }
    for second in latches {
        problems.add(second.id.span, "this vehicle has a second latch".to_owned(), "leave one latch");
    }
    if !file.parts.iter().any(|part| matches!(part.is, PartKindAsWritten::Module(_))) {
        problems.add(
            file.id.span,
            "this vehicle has no module".to_owned(),
            "add a part with `is: Module(..)`",
        );
    }
}

impl From<ZoneAsWritten> for Zone {
    fn from(zone: ZoneAsWritten) -> Self {
        match zone {
            ZoneAsWritten::Front => Self::Front,
            ZoneAsWritten::Cabin => Self::Cabin,
            ZoneAsWritten::Outside => Self::Outside,
            ZoneAsWritten::LoadSpace => Self::LoadSpace,
            ZoneAsWritten::Lid => Self::Lid,
        }
    }
}

/// A part by name.
pub(super) fn part_id(names: &VehicleNames, name: &At<String>, problems: &mut Problems) -> Option<PartId> {
    names.parts.find(name, problems).map(PartId::at)
}
