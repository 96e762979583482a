//! A vehicle file as written.

use super::parts::PartAsWritten;
use crate::vehicle::Zone;
use crate::written::{At, Table};
use crate::{choice, record};

record! {
    /// A vehicle as written.
    #[derive(Clone, Debug)]
    pub(in crate::scenario) struct VehicleAsWritten {
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
        /// By language: what titles are called there.
        pub translations: Table<Table<At<String>>> = Table::default(),
    }
}

record! {
    /// A battery as written.
    #[derive(Clone, Debug)]
    pub(in crate::scenario) struct BatteryAsWritten {
        /// Volts without load.
        pub open_volts: At<f64>,
        /// Inner resistance, mΩ.
        pub internal_milliohms: At<f64>,
        /// What it holds when full, ampere-hours.
        pub amp_hours: At<f64> = At::unwritten(60.0),
        /// What charges it.
        pub charging: Option<ChargingAsWritten> = None,
        /// Where its posts are.
        pub zone: ZoneAsWritten,
        /// The panel in front of them.
        pub panel: Option<At<String>> = None,
    }
}

record! {
    /// A charging source as written.
    #[derive(Clone, Debug)]
    pub(in crate::scenario) struct ChargingAsWritten {
        /// The voltage that it holds.
        pub volts: At<f64>,
        /// Inner resistance, mΩ.
        pub milliohms: At<f64>,
        /// It runs while this switch is on.
        pub runs_with: At<String>,
    }
}

record! {
    /// Stray conductances as written.
    #[derive(Clone, Debug)]
    pub(in crate::scenario) struct LeakageAsWritten {
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
    pub(in crate::scenario) struct LidAsWritten {
        /// What it is called.
        pub title: At<String> = At::unwritten("tailgate".to_owned()),
        /// It is hinged at a side.
        pub door: bool = false,
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
    pub(in crate::scenario) struct KeyAsWritten {
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
    pub(in crate::scenario) enum ZoneAsWritten {
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
    pub(in crate::scenario) struct PanelAsWritten {
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
    pub(in crate::scenario) struct StationAsWritten {
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
    pub(in crate::scenario) struct NamedAsWritten {
        /// Name in files.
        pub id: At<String>,
        /// Name for people.
        pub title: At<String>,
    }
}

record! {
    /// A stud as written.
    #[derive(Clone, Debug)]
    pub(in crate::scenario) struct StudAsWritten {
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
    pub(in crate::scenario) struct EyeletAsWritten {
        /// Name in files.
        pub id: At<String>,
        /// The stud it sits on.
        pub stud: At<String>,
    }
}

record! {
    /// A fuse slot as written.
    #[derive(Clone, Debug)]
    pub(in crate::scenario) struct FuseAsWritten {
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
    pub(in crate::scenario) struct ConnectorAsWritten {
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
        /// A standard says which wire sits where, or it is printed on it.
        pub standard: bool = false,
        /// How wide its blades are, mm.
        pub blade_millimetres: Option<At<f64>> = None,
        /// How its cavities lie.
        pub arrangement: Option<At<ArrangementAsWritten>> = None,
    }
}

choice! {
    /// How a connector's cavities lie, as written.
    #[derive(Clone, Debug)]
    pub(in crate::scenario) enum ArrangementAsWritten {
        /// In rows, from the side of the latch on, each from left to right.
        Rows(Vec<Vec<At<u8>>>),
        /// On circles, from the outermost on, each clockwise from the top.
        Rings(Vec<Vec<At<u8>>>),
    }
}

choice! {
    /// What a connector mates with, as written.
    #[derive(Clone, Debug)]
    pub(in crate::scenario) enum MateAsWritten {
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
    /// A conductor as written.
    #[derive(Clone, Debug)]
    pub(in crate::scenario) struct ConductorAsWritten {
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
    pub(in crate::scenario) struct RunAsWritten {
        /// The station where it begins.
        pub at: At<String>,
        /// Its length, metres.
        pub metres: At<f64>,
    }
}

choice! {
    /// Where a conductor ends, as written.
    #[derive(Clone, Debug)]
    pub(in crate::scenario) enum EndAsWritten {
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
