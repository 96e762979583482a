//! A pool's faults as written.

use crate::written::At;
use crate::{choice, record};

record! {
    /// An entry of a pool as written.
    #[derive(Clone, Debug)]
    pub(in crate::scenario) struct PoolEntryAsWritten {
        /// The fault.
        pub is: At<FaultAsWritten>,
        /// What else is wrong at the same time.
        pub and: At<Vec<At<FaultAsWritten>>> = At::unwritten(Vec::new()),
        /// How likely it is, against the others.
        pub weight: At<u32>,
    }
}

choice! {
    /// When a fault is there, as written.
    #[derive(Clone, Debug)]
    pub(in crate::scenario) enum WhenAsWritten {
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
        /// As a slammed lid leaves it, as often as this.
        Shaken(At<f64>),
        /// While the place is colder than this, °C.
        ColderThan(At<f64>),
        /// While the place is warmer than this, °C.
        WarmerThan(At<f64>),
        /// While the vehicle is wet.
        Wet,
    }
}

choice! {
    /// What a bad terminal looks like, as written.
    #[derive(Clone, Copy, Debug)]
    pub(in crate::scenario) enum LookAsWritten {
        /// It stands back.
        PushedBack,
        /// Its spring has opened.
        Spread,
        /// Green.
        Corroded,
        /// The pin of the other half stands aside.
        Bent,
    }
}

record! {
    /// A broken section of a heated screen's line, as written.
    #[derive(Clone, Debug)]
    pub(in crate::scenario) struct BreakAsWritten {
        /// The line, from 1.
        pub line: At<u8>,
        /// The section, from 1 at the bar that is fed.
        pub section: At<u8>,
    }
}

choice! {
    /// A fault as written.
    #[derive(Clone, Debug)]
    pub(in crate::scenario) enum FaultAsWritten {
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
        /// Most strands of a conductor are broken at a station.
        Strands {
            /// The conductor.
            conductor: At<String>,
            /// The station.
            at: At<String>,
            /// How many are left.
            left: At<u8>,
            /// Of how many.
            of: At<u8>,
            /// When.
            when: WhenAsWritten = WhenAsWritten::Always,
        },
        /// Two conductors touch, or water joins them, at a station.
        ShortBetween {
            /// One conductor.
            conductor: At<String>,
            /// The other.
            other: At<String>,
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
        /// A motor, solenoid or relay coil has no path inside.
        WindingOpen(At<String>),
        /// A motor, solenoid or relay coil has a shorted winding.
        WindingShorted {
            /// The part.
            part: At<String>,
            /// What is left of it, ohms.
            ohms: At<f64>,
        },
        /// A motor's brushes stand on a worn place, as often as this.
        DeadSpot {
            /// The part.
            part: At<String>,
            /// How often.
            share: At<f64>,
        },
        /// A lamp, diode or resistor has no path inside.
        PartOpen(At<String>),
        /// A lamp of diodes, a diode or a resistor is this instead.
        PartShorted {
            /// The part.
            part: At<String>,
            /// What is left of it, ohms.
            ohms: At<f64>,
        },
        /// Lines of a heated screen are broken.
        LineBroken {
            /// The screen.
            screen: At<String>,
            /// Where.
            breaks: At<Vec<BreakAsWritten>>,
        },
        /// A relay's working contact is burnt.
        ContactBurnt {
            /// The relay.
            relay: At<String>,
            /// Added resistance, ohms.
            ohms: At<f64>,
        },
        /// A relay's working contact is welded shut.
        ContactWelded(At<String>),
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
        /// A module's output is on for ever.
        OutputStuck {
            /// The module.
            module: At<String>,
            /// The output.
            output: At<String>,
        },
        /// A module never falls asleep.
        NeverSleeps(At<String>),
        /// A module does not hear an input.
        InputDeaf {
            /// The module.
            module: At<String>,
            /// The input.
            input: At<String>,
        },
        /// A module does not hear the key.
        ReceiverDeaf(At<String>),
        /// A film has grown on a switch's contacts.
        Filmed {
            /// The switch.
            switch: At<String>,
            /// The film's resistance, ohms.
            ohms: At<f64>,
            /// The current that breaks it through, milliamps.
            wetting_milliamps: At<f64>,
        },
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
