//! A scenario file: as written, then checked against its vehicle.

use std::sync::Arc;

use super::customer_words;
use super::fault_file::{self, PoolEntryAsWritten, place};
use super::range::Range;
use super::trial::Trial;
use super::variation::{Aspect, Varied};
use super::vehicle_file::{self, FORMAT, VehicleNames, check_name, part_id};
use crate::bench::{Action, KitItem};
use crate::fault::PlacedFault;
use crate::vehicle::{Conditions, KeyButton, PartKind, PhysicalState, Title, Vehicle};
use crate::written::{At, Form, Problems, Span, Table, Written};
use crate::{choice, record};

record! {
    /// A scenario as written.
    #[derive(Clone, Debug)]
    pub(super) struct ScenarioAsWritten {
        /// Version of the format: 1.
        pub format: At<u32>,
        /// Name in files and commands.
        pub id: At<String>,
        /// Name for people.
        pub title: At<String>,
        /// The same in other languages, by their tags.
        pub titles: Table<At<String>> = Table::default(),
        /// The vehicle, by its name in files.
        pub vehicle: At<String>,
        /// What the customer says.
        pub customer: At<String>,
        /// Other ways in which he may say the same.
        pub other_words: Vec<At<String>> = Vec::new(),
        /// All of these in other languages, by their tags, in this order.
        pub words: Table<Vec<At<String>>> = Table::default(),
        /// What a job's seed does not vary.
        pub fixed: Vec<FixedAsWritten> = Vec::new(),
        /// What the customer does; a fault must make one of these fail.
        pub trials: At<Vec<TrialAsWritten>>,
        /// Minutes that a good technician takes, on average over the pool.
        pub par_minutes: At<f64>,
        /// The vehicle stands locked.
        pub locked: bool = Conditions::default().locked,
        /// How warm it is, °C.
        pub celsius: At<f64> = At::unwritten(PhysicalState::YARD_CELSIUS),
        /// The vehicle's rear is wet.
        pub wet: bool = Conditions::default().wet,
        /// The learner may ask the coach.
        pub coaching: bool = true,
        /// Instruments that may not be used.
        pub without: Vec<InstrumentAsWritten> = Vec::new(),
        /// Minutes on the job's clock after which it can only be handed in.
        pub most_minutes: Option<At<f64>> = None,
        /// How marks are weighed.
        pub marks: WeightsAsWritten = WeightsAsWritten::default(),
        /// The faults, one of which is drawn.
        pub faults: At<Vec<PoolEntryAsWritten>>,
    }
}

choice! {
    /// A trial as written.
    #[derive(Clone, Debug)]
    pub(super) enum TrialAsWritten {
        /// The key's button for the lid.
        KeyRelease,
        /// A switch that springs back.
        Press(At<String>),
        /// A switch that stays is turned on, and what it works is looked at.
        Switch {
            /// The switch.
            switch: At<String>,
            /// Lamps, motors and heated screens that are looked at.
            watch: At<Vec<At<String>>>,
        },
        /// The vehicle stands shut, and what it draws from its battery is looked at.
        Rest {
            /// How long, minutes.
            minutes: At<u8>,
            /// What it may draw then, milliamps.
            most_milliamps: At<u32>,
        },
    }
}

choice! {
    /// What a job's seed does not vary, as written.
    #[derive(Clone, Copy, Debug)]
    pub(super) enum FixedAsWritten {
        /// Which cavity each wire sits in.
        Cavities,
        /// Colours of wires.
        Colours,
        /// Where along the loom faults sit, and its lengths.
        Stations,
        /// The customer's words.
        Words,
        /// All of these.
        Everything,
    }
}

choice! {
    /// An instrument, as written.
    #[derive(Clone, Copy, Debug)]
    pub(super) enum InstrumentAsWritten {
        /// The meter.
        Meter,
        /// The test lamps.
        Lamp,
        /// The bridging lead.
        Bridge,
        /// The bench battery.
        Bench,
        /// The current clamp.
        Clamp,
        /// The recorder.
        Recorder,
    }
}

impl InstrumentAsWritten {
    fn item(self) -> KitItem {
        match self {
            Self::Meter => KitItem::Meter,
            Self::Lamp => KitItem::Lamp,
            Self::Bridge => KitItem::Bridge,
            Self::Bench => KitItem::Bench,
            Self::Clamp => KitItem::Clamp,
            Self::Recorder => KitItem::Recorder,
        }
    }
}

impl FixedAsWritten {
    fn aspects(self) -> &'static [Aspect] {
        match self {
            Self::Cavities => &[Aspect::Cavities],
            Self::Colours => &[Aspect::Colours],
            Self::Stations => &[Aspect::Stations],
            Self::Words => &[Aspect::Words],
            Self::Everything => &Aspect::ALL,
        }
    }
}

record! {
    /// Weights of the marks, as written.
    #[derive(Clone, Debug)]
    pub(super) struct WeightsAsWritten {
        /// Right diagnosis.
        pub diagnosis: At<f64> = At::unwritten(Weights::DEFAULT.diagnosis),
        /// Reasoning.
        pub reasoning: At<f64> = At::unwritten(Weights::DEFAULT.reasoning),
        /// Parts not wasted.
        pub parts: At<f64> = At::unwritten(Weights::DEFAULT.parts),
        /// Time.
        pub time: At<f64> = At::unwritten(Weights::DEFAULT.time),
        /// Proof of repair.
        pub proof: At<f64> = At::unwritten(Weights::DEFAULT.proof),
        /// Safe work and write-up.
        pub safety: At<f64> = At::unwritten(Weights::DEFAULT.safety),
    }
}

/// Everything that can be written in a scenario file: the forms of each of its parts, with the names of their fields.
#[must_use]
pub fn scenario_forms() -> Vec<(&'static str, Vec<Form>)> {
    let mut forms = vec![
        ("scenario", ScenarioAsWritten::forms()),
        ("trial", TrialAsWritten::forms()),
        ("fixed", FixedAsWritten::forms()),
        ("without", InstrumentAsWritten::forms()),
        ("marks", WeightsAsWritten::forms()),
    ];
    forms.extend(fault_file::forms());
    forms
}

impl Default for WeightsAsWritten {
    fn default() -> Self {
        let Weights { diagnosis, reasoning, parts, time, proof, safety } = Weights::DEFAULT;
        let at = At::unwritten;
        Self {
            diagnosis: at(diagnosis),
            reasoning: at(reasoning),
            parts: at(parts),
            time: at(time),
            proof: at(proof),
            safety: at(safety),
        }
    }
}

/// What a paper forbids in a job.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Forbidden {
    /// The coach.
    pub coach: bool,
    /// Instruments.
    pub instruments: Vec<KitItem>,
}

/// A checked scenario, on its vehicle.
#[derive(Clone)]
pub struct Scenario {
    /// Name in files and commands.
    pub id: String,
    /// Name for people.
    pub title: Title,
    /// The vehicle.
    pub vehicle: Vehicle,
    /// What the customer says.
    pub customer: Title,
    /// Other ways in which he may say the same.
    pub other_words: Vec<Title>,
    /// What a job's seed does not vary.
    pub fixed: Vec<Aspect>,
    /// What the customer does, and what should come of it.
    pub trials: Vec<Trial>,
    /// Minutes that a good technician takes.
    pub par_minutes: f64,
    /// The conditions in which the vehicle comes in.
    pub conditions: Conditions,
    /// The learner may ask the coach.
    pub coaching: bool,
    /// Instruments that may not be used.
    pub without: Vec<KitItem>,
    /// Minutes on the job's clock after which it can only be handed in.
    pub most_minutes: Option<f64>,
    /// How marks are weighed.
    pub weights: Weights,
    /// The faults, one of which is drawn.
    pub faults: Vec<PlacedFault>,
    /// What a paper forbids. It stands in no file.
    pub forbidden: Forbidden,
    /// Where this is a file's scenario varied: how, and what the file says.
    pub varied: Option<Arc<Varied>>,
}

/// What stands here decides a scenario's hash: all of its file that a job as the file has it hangs on, and nothing of a
/// paper. What can be varied shows only once it is.
impl std::fmt::Debug for Scenario {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let Self { id, title, vehicle, customer, trials, par_minutes, .. } = self;
        let Self { conditions, coaching, without, most_minutes, weights, faults, forbidden: _, .. } = self;
        let mut all = f.debug_struct("Scenario");
        all.field("id", id).field("title", title).field("vehicle", vehicle).field("customer", customer);
        all.field("trials", trials).field("par_minutes", par_minutes).field("conditions", conditions);
        all.field("coaching", coaching).field("weights", weights).field("faults", faults);
        // Files without these have the hash that they had before there were such fields.
        if !without.is_empty() {
            all.field("without", without);
        }
        if let Some(minutes) = most_minutes {
            all.field("most_minutes", minutes);
        }
        all.finish()
    }
}

/// How marks are weighed; they need not sum to 100.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weights {
    /// Right diagnosis.
    pub diagnosis: f64,
    /// Reasoning.
    pub reasoning: f64,
    /// Parts not wasted.
    pub parts: f64,
    /// Time.
    pub time: f64,
    /// Proof of repair.
    pub proof: f64,
    /// Safe work and write-up.
    pub safety: f64,
}

impl Weights {
    /// As marks are weighed where a scenario does not say.
    pub const DEFAULT: Self =
        Self { diagnosis: 30.0, reasoning: 25.0, parts: 15.0, time: 10.0, proof: 12.0, safety: 8.0 };
}

impl Scenario {
    /// A hash of everything that decides what happens in a job of just this, as lower-case hexadecimal digits. It is of the parsed
    /// content: comments and layout of the files do not change it.
    #[must_use]
    pub fn hash(&self) -> String {
        blake3::hash(format!("{self:?}").as_bytes()).to_hex().to_string()
    }

    /// Whether the coach may be asked.
    #[must_use]
    pub fn has_coach(&self) -> bool {
        self.coaching && !self.forbidden.coach
    }

    /// Whether an act takes in hand what the file or a paper forbids.
    #[must_use]
    pub fn forbids(&self, action: &Action) -> bool {
        action
            .takes()
            .is_some_and(|item| self.forbidden.instruments.contains(&item) || self.without.contains(&item))
    }

    /// The fault of this name.
    #[must_use]
    pub fn fault(&self, id: &str) -> Option<&PlacedFault> {
        self.faults.iter().find(|fault| fault.id == id)
    }
}

/// A trial of a switch that stays, and of what is looked at.
fn switched(
    vehicle: &Vehicle,
    names: &VehicleNames,
    switch: &At<String>,
    watch: &At<Vec<At<String>>>,
    problems: &mut Problems,
) -> Option<Trial> {
    let part = part_id(names, switch, problems);
    if part
        .is_some_and(|part| !matches!(vehicle.part(part).kind, PartKind::Switch { springs_back: false, .. }))
    {
        problems.add(
            switch.span,
            format!("\"{}\" does not stay on", switch.value),
            "name a switch with `springs_back: false`",
        );
    }
    if watch.value.is_empty() {
        problems.add(
            watch.span,
            "nothing is looked at".to_owned(),
            "name the lamps, motors and heated screens that the customer looks at, such as [\"stop-left\"]",
        );
    }
    let mut watched = Vec::new();
    for name in &watch.value {
        let Some(id) = part_id(names, name, problems) else { continue };
        let kind = &vehicle.part(id).kind;
        let shows = matches!(kind, PartKind::Motor { .. } | PartKind::Screen { .. })
            || vehicle.lamps().any(|lamp| lamp == id);
        if !shows {
            problems.add(
                name.span,
                format!("\"{}\" shows nothing that one could look at", name.value),
                "name a lamp, a motor or a heated screen",
            );
        }
        watched.push(id);
    }
    Some(Trial::Switch(part?, watched))
}

/// Checks a scenario as written against its vehicle. `None` where there are problems. Beside it, where each fault of
/// the pool is written.
pub(super) fn resolve(
    file: &ScenarioAsWritten,
    vehicle: Option<&Vehicle>,
    problems: &mut Problems,
) -> Option<(Scenario, Vec<Span>)> {
    let before = problems.len();
    if file.format.value != FORMAT {
        problems.add(
            file.format.span,
            format!("format {} is not one that this program reads", file.format.value),
            format!("write `format: {FORMAT}`"),
        );
    }
    check_name(&file.id, problems);
    Range::PAR_MINUTES.check(&file.par_minutes, "a par", problems);
    Range::CELSIUS.check(&file.celsius, "the temperature of the yard", problems);
    if let Some(most) = &file.most_minutes {
        Range::MOST_MINUTES.check(most, "a limit of minutes", problems);
        if most.value < file.par_minutes.value {
            problems.add(
                most.span,
                format!(
                    "after {} min the job can only be handed in, and its par is {}",
                    most.value, file.par_minutes.value
                ),
                "write more than the par: twice as much leaves time for a detour",
            );
        }
    }
    let marks = &file.marks;
    let all = [&marks.diagnosis, &marks.reasoning, &marks.parts, &marks.time, &marks.proof, &marks.safety];
    for weight in all {
        Range::WEIGHT_OF_MARKS.check(weight, "a weight of the marks", problems);
    }
    if all.iter().map(|weight| weight.value).sum::<f64>() <= 0.0 {
        problems.add(
            file.id.span,
            "no marks can be earned: all weights are 0".to_owned(),
            "give one of diagnosis, reasoning, parts, time, proof or safety a weight above 0",
        );
    }
    vehicle_file::check_title(&file.title, &file.titles, problems);
    customer_words::check(file, problems);
    if file.trials.value.is_empty() {
        problems.add(
            file.trials.span,
            "there is no trial".to_owned(),
            "write at least one, such as [KeyRelease]",
        );
    }
    if file.faults.value.is_empty() {
        problems.add(
            file.faults.span,
            "the pool of faults is empty: there is nothing to find".to_owned(),
            "write at least one entry, such as (is: FuseBlown(\"f1\"), weight: 1)",
        );
    }
    let vehicle = vehicle?;
    let names = VehicleNames::of(vehicle);
    let trials: Vec<Option<Trial>> = file
        .trials
        .value
        .iter()
        .map(|trial| match trial {
            TrialAsWritten::KeyRelease => Some(Trial::Key(KeyButton::Release)),
            TrialAsWritten::Press(name) => {
                let part = part_id(&names, name, problems)?;
                let springs = matches!(vehicle.part(part).kind, PartKind::Switch { springs_back: true, .. });
                if !springs {
                    problems.add(
                        name.span,
                        format!("\"{}\" cannot be pressed", name.value),
                        "name a switch that springs back",
                    );
                }
                Some(Trial::Press(part))
            }
            TrialAsWritten::Switch { switch, watch } => switched(vehicle, &names, switch, watch, problems),
            TrialAsWritten::Rest { minutes, most_milliamps } => {
                let whole = At { value: f64::from(minutes.value), span: minutes.span };
                Range::REST_MINUTES.check(&whole, "how long a vehicle rests", problems);
                let most = At { value: f64::from(most_milliamps.value), span: most_milliamps.span };
                Range::REST_MILLIAMPS.check(&most, "what a resting vehicle may draw", problems);
                Some(Trial::Rest { minutes: minutes.value, most_milliamps: most_milliamps.value })
            }
        })
        .collect();
    let mut faults = Vec::new();
    let mut spans = Vec::new();
    for entry in &file.faults.value {
        let Some(fault) = place(vehicle, &names, entry, problems) else { continue };
        if faults.iter().any(|other: &PlacedFault| other.id == fault.id) {
            problems.add(
                entry.is.span,
                format!("the fault \"{}\" is in the pool twice", fault.id),
                "take one out and add its weight to the other",
            );
            continue;
        }
        faults.push(fault);
        spans.push(entry.is.span);
    }
    if problems.len() > before {
        return None;
    }
    let (customer, other_words) = customer_words::said(file);
    let scenario = Scenario {
        id: file.id.value.clone(),
        title: vehicle_file::title_in(&file.title, &file.titles),
        vehicle: vehicle.clone(),
        customer,
        other_words,
        fixed: file.fixed.iter().flat_map(|fixed| fixed.aspects()).copied().collect(),
        trials: trials.into_iter().collect::<Option<_>>()?,
        par_minutes: file.par_minutes.value,
        conditions: Conditions { locked: file.locked, celsius: file.celsius.value, wet: file.wet },
        coaching: file.coaching,
        without: file.without.iter().map(|one| one.item()).collect(),
        most_minutes: file.most_minutes.as_ref().map(|most| most.value),
        weights: Weights {
            diagnosis: marks.diagnosis.value,
            reasoning: marks.reasoning.value,
            parts: marks.parts.value,
            time: marks.time.value,
            proof: marks.proof.value,
            safety: marks.safety.value,
        },
        faults,
        forbidden: Forbidden::default(),
        varied: None,
    };
    Some((scenario, spans))
}
