//! A vehicle file's modules: as written, then checked.

use std::collections::BTreeSet;

use super::in_range;
use super::names::{Names, check_name, once};
use super::parts::Pins;
use crate::vehicle::{
    Driver, Effect, Input, KeyButton, Module, Monitor, MonitorKind, OffTie, Output, OutputKind, Pull, Rule,
    Title, Trigger,
};
use crate::written::{At, Problems};
use crate::{choice, record};

record! {
    /// A module as written.
    #[derive(Clone, Debug)]
    pub(in crate::scenario) struct ModuleAsWritten {
        /// Supply pin.
        pub supply: At<u8>,
        /// Ground pin.
        pub ground: At<u8>,
        /// Its own load awake, ohms.
        pub load_ohms: At<f64>,
        /// Its own load asleep, ohms.
        pub asleep_ohms: Option<At<f64>> = None,
        /// When it falls asleep, minutes.
        pub sleeps_after_minutes: Option<At<f64>> = None,
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
    pub(in crate::scenario) struct InputAsWritten {
        /// Name in files.
        pub id: At<String>,
        /// Name for people.
        pub title: At<String>,
        /// Its pin.
        pub pin: At<u8>,
        /// Pull-up, ohms.
        pub pull_up_ohms: Option<At<f64>> = None,
        /// Pull-down, ohms.
        pub pull_down_ohms: Option<At<f64>> = None,
        /// Low below this, volts.
        pub low_below_volts: At<f64>,
        /// High above this, volts.
        pub high_above_volts: Option<At<f64>> = None,
        /// How long a change has to last, milliseconds.
        pub debounce_milliseconds: At<f64> = At::unwritten(DEBOUNCE_MILLISECONDS),
        /// It lights the dash's sign for an open lid.
        pub lid_sign: bool = false,
    }
}

record! {
    /// An output as written.
    #[derive(Clone, Debug)]
    pub(in crate::scenario) struct OutputAsWritten {
        /// Name in files.
        pub id: At<String>,
        /// Name for people.
        pub title: At<String>,
        /// Pin that feeds it.
        pub feed: Option<At<u8>> = None,
        /// Pin that it drives.
        pub pin: At<u8>,
        /// What it is.
        pub is: OutputKindAsWritten = OutputKindAsWritten::Contact,
        /// A contact closed, mΩ.
        pub closed_milliohms: Option<At<f64>> = None,
        /// A contact's bleed to ground, ohms.
        pub bleed_ohms: Option<At<f64>> = None,
    }
}

choice! {
    /// What an output is, as written.
    #[derive(Clone, Debug)]
    pub(in crate::scenario) enum OutputKindAsWritten {
        /// A relay's contact on the board.
        Contact,
        /// An electronic switch to the feed.
        HighSide(DriverAsWritten),
        /// An electronic switch to ground.
        LowSide(DriverAsWritten),
        /// One to the feed and one to ground.
        HalfBridge {
            /// Each of the two.
            driver: DriverAsWritten,
            /// At rest it holds its pin to ground.
            brakes: bool,
        },
    }
}

record! {
    /// An electronic switch as written.
    #[derive(Clone, Debug)]
    pub(in crate::scenario) struct DriverAsWritten {
        /// On, mΩ.
        pub on_milliohms: At<f64>,
        /// Limit, amps.
        pub limit_amps: At<f64>,
        /// At its limit it shuts down after this, milliseconds.
        pub shuts_down_milliseconds: At<f64>,
        /// What ties its pin while it is off.
        pub off: At<OffTieAsWritten>,
        /// On, less than this is an open load, milliamps.
        pub open_below_milliamps: At<f64> = At::unwritten(0.0),
    }
}

choice! {
    /// What ties an electronic output's pin while it is off, as written.
    #[derive(Clone, Debug)]
    pub(in crate::scenario) enum OffTieAsWritten {
        /// A bleed to ground, ohms.
        Bleed(At<f64>),
        /// A weak pull to the supply, ohms.
        Bias(At<f64>),
    }
}

choice! {
    /// What asks a module, as written.
    #[derive(Clone, Debug)]
    pub(in crate::scenario) enum TriggerAsWritten {
        /// The key's button to lock.
        KeyLock,
        /// The key's button to unlock.
        KeyUnlock,
        /// The key's button to release the lid.
        KeyRelease,
        /// An input leaving its rest.
        Input(At<String>),
        /// As long as an input is away from its rest.
        While(At<String>),
    }
}

choice! {
    /// What a module does, as written.
    #[derive(Clone, Debug)]
    pub(in crate::scenario) enum EffectAsWritten {
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
        /// Keeps an output on.
        Hold {
            /// Output.
            output: At<String>,
        },
    }
}

record! {
    /// A rule as written.
    #[derive(Clone, Debug)]
    pub(in crate::scenario) struct RuleAsWritten {
        /// What asks.
        pub on: At<TriggerAsWritten>,
        /// What is done.
        pub does: At<EffectAsWritten>,
    }
}

record! {
    /// A monitor as written.
    #[derive(Clone, Debug)]
    pub(in crate::scenario) struct MonitorAsWritten {
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
    pub(in crate::scenario) enum MonitorKindAsWritten {
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
        /// An electronic output found its load gone.
        OpenLoad(At<String>),
        /// An electronic output has shut itself down.
        ShutDown(At<String>),
    }
}

/// How long a change of an input has to last unless the file says otherwise, in ms (common practice, no source).
const DEBOUNCE_MILLISECONDS: f64 = 20.0;
/// A module asleep draws this share of what it draws awake unless the file says otherwise (common practice, no source).
const ASLEEP_SHARE: f64 = 0.01;

impl ModuleAsWritten {
    pub(super) fn pins(&self) -> Pins<'_> {
        Pins {
            own: [&self.supply, &self.ground]
                .into_iter()
                .chain(self.inputs.iter().map(|input| &input.pin))
                .chain(self.outputs.iter().map(|output| &output.pin))
                .collect(),
            feeds: self.outputs.iter().filter_map(|output| output.feed.as_ref()).collect(),
            supply: Some(self.supply.value),
        }
    }
}

/// Checks a module and resolves the names within it.
pub(super) fn module(module: &ModuleAsWritten, problems: &mut Problems) -> Option<Module> {
    in_range(&module.load_ohms, 1.0, 1e6, "Ω", "a module's own load", problems);
    in_range(&module.works_above_volts, 0.5, 60.0, "V", "the supply a module needs", problems);
    let (asleep_ohms, sleeps_after_minutes) = sleep(module, problems);
    let mut taken = BTreeSet::new();
    let mut inputs = Vec::new();
    for input in &module.inputs {
        check_name(&input.id, problems);
        once(&input.id, &mut taken, problems);
        inputs.push(self::input(input, problems));
    }
    let mut taken = BTreeSet::new();
    let mut outputs = Vec::new();
    for output in &module.outputs {
        check_name(&output.id, problems);
        once(&output.id, &mut taken, problems);
        outputs.push(self::output(module, output, problems));
    }
    let pins = Lines {
        module,
        inputs: Names::new("input", module.inputs.iter().map(|x| x.id.as_str())),
        outputs: Names::new("output", module.outputs.iter().map(|x| x.id.as_str())),
    };
    let rules: Vec<Option<Rule>> = module.rules.iter().map(|rule| pins.rule(rule, problems)).collect();
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
            let kind = pins.monitor(&monitor.when, problems)?;
            Some(Monitor { code: monitor.code.value, title: Title::new(&monitor.title.value), kind })
        })
        .collect();
    Some(Module {
        supply: module.supply.value,
        ground: module.ground.value,
        load_ohms: module.load_ohms.value,
        asleep_ohms,
        sleeps_after_minutes,
        works_above_volts: module.works_above_volts.value,
        inputs: inputs.into_iter().collect::<Option<_>>()?,
        outputs: outputs.into_iter().collect::<Option<_>>()?,
        rules: rules.into_iter().collect::<Option<_>>()?,
        monitors: monitors.into_iter().collect::<Option<_>>()?,
    })
}

/// What it draws asleep, in ohms, and when it falls asleep, in minutes.
fn sleep(module: &ModuleAsWritten, problems: &mut Problems) -> (f64, f64) {
    if let Some(minutes) = &module.sleeps_after_minutes {
        in_range(minutes, 0.5, 240.0, "min", "the time until a module sleeps", problems);
    }
    if let Some(ohms) = &module.asleep_ohms {
        in_range(ohms, 1.0, 1e8, "Ω", "a sleeping module's load", problems);
        if module.sleeps_after_minutes.is_none() {
            problems.add(
                ohms.span,
                "this module never sleeps: it has no `sleeps_after_minutes`".to_owned(),
                "write after how many minutes it sleeps, or leave `asleep_ohms` out",
            );
        } else if ohms.value < module.load_ohms.value {
            problems.add(
                ohms.span,
                format!("{} Ω asleep draw more than {} Ω awake", ohms.value, module.load_ohms.value),
                "write at least as many ohms as `load_ohms`",
            );
        }
    }
    (
        module.asleep_ohms.map_or(module.load_ohms.value / ASLEEP_SHARE, |ohms| ohms.value),
        module.sleeps_after_minutes.map_or(f64::INFINITY, |minutes| minutes.value),
    )
}

fn input(input: &InputAsWritten, problems: &mut Problems) -> Option<Input> {
    let pull = match (&input.pull_up_ohms, &input.pull_down_ohms) {
        (Some(ohms), None) => {
            in_range(ohms, 10.0, 1e6, "Ω", "a pull-up", problems);
            Some((Pull::Up, ohms.value))
        }
        (None, Some(ohms)) => {
            in_range(ohms, 10.0, 1e6, "Ω", "a pull-down", problems);
            Some((Pull::Down, ohms.value))
        }
        (None, None) => {
            problems.add(
                input.id.span,
                format!("nothing pulls the input \"{}\" anywhere", input.id.value),
                "add `pull_up_ohms: 1000` for a switch to ground, or `pull_down_ohms: 1000` for one to the feed",
            );
            None
        }
        (Some(_), Some(down)) => {
            problems.add(
                down.span,
                format!("the input \"{}\" is pulled up and down at once", input.id.value),
                "keep `pull_up_ohms` or `pull_down_ohms`",
            );
            None
        }
    };
    in_range(&input.low_below_volts, 0.1, 60.0, "V", "an input's threshold", problems);
    if let Some(high) = &input.high_above_volts {
        in_range(high, 0.1, 60.0, "V", "an input's threshold", problems);
        if high.value < input.low_below_volts.value {
            problems.add(
                high.span,
                format!("an input cannot be high above {} V and low below more", high.value),
                format!("write at least {}, the volts below which it is low", input.low_below_volts.value),
            );
        }
    }
    in_range(&input.debounce_milliseconds, 0.0, 200.0, "ms", "an input's debounce", problems);
    let (pull, pull_ohms) = pull?;
    Some(Input {
        id: input.id.value.clone(),
        title: Title::new(&input.title.value),
        pin: input.pin.value,
        pull,
        pull_ohms,
        low_below_volts: input.low_below_volts.value,
        high_above_volts: input.high_above_volts.map_or(input.low_below_volts.value, |high| high.value),
        debounce_seconds: input.debounce_milliseconds.value * 1e-3,
        lid_sign: input.lid_sign,
    })
}

fn output(module: &ModuleAsWritten, output: &OutputAsWritten, problems: &mut Problems) -> Option<Output> {
    let is_contact = matches!(output.is, OutputKindAsWritten::Contact);
    let is_low_side = matches!(output.is, OutputKindAsWritten::LowSide(_));
    let contact = |field: &Option<At<f64>>, name: &str, problems: &mut Problems| {
        match (field, is_contact) {
            (None, true) => problems.add(
                output.id.span,
                format!("the output \"{}\" is a relay's contact and has no `{name}`", output.id.value),
                format!("add `{name}: ..`, or say that it is electronic: `is: HighSide((..))`"),
            ),
            (Some(field), false) => problems.add(
                field.span,
                format!("`{name}` belongs to a relay's contact, and \"{}\" is electronic", output.id.value),
                "leave it out",
            ),
            _ => {}
        }
        field.map(|field| field.value)
    };
    let closed_milliohms = contact(&output.closed_milliohms, "closed_milliohms", problems);
    let bleed_ohms = contact(&output.bleed_ohms, "bleed_ohms", problems);
    let feed = match (&output.feed, is_low_side) {
        (Some(feed), false) => Some(feed.value),
        (None, true) => Some(module.ground.value),
        (None, false) => {
            problems.add(
                output.id.span,
                format!("nothing feeds the output \"{}\"", output.id.value),
                "add `feed: ..`, the pin whose power it passes on",
            );
            None
        }
        (Some(feed), true) => {
            problems.add(
                feed.span,
                format!("\"{}\" switches to the module's ground and needs no feed", output.id.value),
                "leave `feed` out",
            );
            None
        }
    };
    let kind = match &output.is {
        OutputKindAsWritten::Contact => {
            let checked = |field: &Option<At<f64>>, low, high, unit, what, problems: &mut Problems| {
                if let Some(field) = field {
                    in_range(field, low, high, unit, what, problems);
                }
            };
            checked(&output.closed_milliohms, 0.1, 1e5, "mΩ", "a closed contact", problems);
            checked(&output.bleed_ohms, 100.0, 1e8, "Ω", "a bleed resistor", problems);
            OutputKind::Contact { closed_ohms: closed_milliohms? * 1e-3, bleed_ohms: bleed_ohms? }
        }
        OutputKindAsWritten::HighSide(written) => OutputKind::HighSide(driver(written, problems)),
        OutputKindAsWritten::LowSide(written) => {
            if let OffTieAsWritten::Bias(_) = written.off.value {
                problems.add(
                    written.off.span,
                    "the load of an output to ground pulls its pin up by itself: a bias finds nothing"
                        .to_owned(),
                    "write `off: Bleed(..)`; with the load gone, the pin then falls",
                );
            }
            OutputKind::LowSide(driver(written, problems))
        }
        OutputKindAsWritten::HalfBridge { driver: written, brakes } => {
            OutputKind::HalfBridge { driver: driver(written, problems), brakes: *brakes }
        }
    };
    Some(Output {
        id: output.id.value.clone(),
        title: Title::new(&output.title.value),
        feed: feed?,
        pin: output.pin.value,
        kind,
    })
}

fn driver(written: &DriverAsWritten, problems: &mut Problems) -> Driver {
    in_range(&written.on_milliohms, 0.1, 1e5, "mΩ", "an electronic switch that is on", problems);
    in_range(&written.limit_amps, 0.05, 200.0, "A", "a current limit", problems);
    in_range(&written.shuts_down_milliseconds, 1.0, 10_000.0, "ms", "the time to a shutdown", problems);
    let off = match &written.off.value {
        OffTieAsWritten::Bleed(ohms) => {
            in_range(ohms, 100.0, 1e8, "Ω", "a bleed resistor", problems);
            OffTie::Bleed(ohms.value)
        }
        OffTieAsWritten::Bias(ohms) => {
            in_range(ohms, 1000.0, 1e8, "Ω", "a bias resistor", problems);
            OffTie::Bias(ohms.value)
        }
    };
    let open_below_amps = written.open_below_milliamps.value * 1e-3;
    in_range(&written.open_below_milliamps, 0.0, 10_000.0, "mA", "an open load's current", problems);
    if open_below_amps >= written.limit_amps.value {
        problems.add(
            written.open_below_milliamps.span,
            format!("all that {} A let through would be an open load", written.limit_amps.value),
            "write a current below the limit",
        );
    }
    Driver {
        on_ohms: written.on_milliohms.value * 1e-3,
        limit_amps: written.limit_amps.value,
        shuts_down_seconds: written.shuts_down_milliseconds.value * 1e-3,
        off,
        open_below_amps,
    }
}

/// A module's inputs and outputs by name.
struct Lines<'a> {
    module: &'a ModuleAsWritten,
    inputs: Names,
    outputs: Names,
}

impl Lines<'_> {
    fn rule(&self, rule: &RuleAsWritten, problems: &mut Problems) -> Option<Rule> {
        let on = match &rule.on.value {
            TriggerAsWritten::KeyLock => Some(Trigger::Key(KeyButton::Lock)),
            TriggerAsWritten::KeyUnlock => Some(Trigger::Key(KeyButton::Unlock)),
            TriggerAsWritten::KeyRelease => Some(Trigger::Key(KeyButton::Release)),
            TriggerAsWritten::Input(id) => self.inputs.find(id, problems).map(Trigger::Input),
            TriggerAsWritten::While(id) => self.inputs.find(id, problems).map(Trigger::While),
        };
        let effect = match &rule.does.value {
            EffectAsWritten::Lock { flash } => {
                self.outputs.find(flash, problems).map(|flash| Effect::Lock { flash })
            }
            EffectAsWritten::Unlock { flash } => {
                self.outputs.find(flash, problems).map(|flash| Effect::Unlock { flash })
            }
            EffectAsWritten::Release { output, milliseconds, only_unlocked } => {
                in_range(milliseconds, 10.0, 60_000.0, "ms", "a command's length", problems);
                self.outputs.find(output, problems).map(|output| Effect::Release {
                    output,
                    seconds: milliseconds.value * 1e-3,
                    only_unlocked: *only_unlocked,
                })
            }
            EffectAsWritten::Hold { output } => {
                self.outputs.find(output, problems).map(|output| Effect::Hold { output })
            }
        };
        let whiles = matches!(rule.on.value, TriggerAsWritten::While(_));
        match (whiles, matches!(rule.does.value, EffectAsWritten::Hold { .. })) {
            (true, false) => problems.add(
                rule.does.span,
                "what goes on as long as an input says so is to hold an output".to_owned(),
                "write `does: Hold(output: ..)`, or `on: Input(..)` for what happens once",
            ),
            (false, true) => problems.add(
                rule.on.span,
                "an output is held as long as an input says so, and this happens once".to_owned(),
                "write `on: While(..)`",
            ),
            _ => {}
        }
        Some(Rule { on: on?, effect: effect? })
    }

    fn monitor(&self, when: &MonitorKindAsWritten, problems: &mut Problems) -> Option<MonitorKind> {
        Some(match when {
            MonitorKindAsWritten::NeitherLow { first, second } => {
                let (first, second) = (self.inputs.find(first, problems), self.inputs.find(second, problems));
                MonitorKind::NeitherLow(first?, second?)
            }
            MonitorKindAsWritten::NoAnswer { output, input } => {
                let (output, input) =
                    (self.outputs.find(output, problems), self.inputs.find(input, problems));
                MonitorKind::NoAnswer { output: output?, input: input? }
            }
            MonitorKindAsWritten::OutputLow(name) => {
                let output = self.outputs.find(name, problems)?;
                if let OutputKindAsWritten::LowSide(_) = self.module.outputs[output].is {
                    problems.add(
                        name.span,
                        format!("\"{}\" switches to ground: its pin is low whenever it is on", name.value),
                        "name an output that feeds its pin",
                    );
                }
                MonitorKind::OutputLow(output)
            }
            MonitorKindAsWritten::SupplyBelow(volts) => {
                in_range(volts, 0.5, 60.0, "V", "a supply's limit", problems);
                MonitorKind::SupplyBelow(volts.value)
            }
            MonitorKindAsWritten::OpenLoad(name) => {
                let output = self.outputs.find(name, problems)?;
                let finds = match &self.module.outputs[output].is {
                    OutputKindAsWritten::Contact => false,
                    OutputKindAsWritten::LowSide(_) => true,
                    OutputKindAsWritten::HighSide(driver)
                    | OutputKindAsWritten::HalfBridge { driver, .. } => {
                        matches!(driver.off.value, OffTieAsWritten::Bias(_))
                            || driver.open_below_milliamps.value > 0.0
                    }
                };
                if !finds {
                    problems.add(
                        name.span,
                        format!("\"{}\" cannot tell an open load", name.value),
                        "name an electronic output with `off: Bias(..)` or `open_below_milliamps`",
                    );
                }
                MonitorKind::OpenLoad(output)
            }
            MonitorKindAsWritten::ShutDown(name) => {
                let output = self.outputs.find(name, problems)?;
                if let OutputKindAsWritten::Contact = self.module.outputs[output].is {
                    problems.add(
                        name.span,
                        format!("\"{}\" is a relay's contact, which never shuts itself down", name.value),
                        "name an electronic output",
                    );
                }
                MonitorKind::ShutDown(output)
            }
        })
    }
}
