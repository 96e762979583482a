//! A scenario file to begin with: it passes `check` as it is, and its comments explain every field.
//!
//! Its ranges and defaults come from where files are read, and its examples are made for the very vehicle, so that
//! neither can say what is no longer so.

mod kinds;

use std::fmt::{Display, Formatter, Write};
use std::path::Path;

use kinds::written;
pub use kinds::{FAULT_GUIDES, FaultGuide};

use crate::scenario::{LoadError, Loaded, Range, VEHICLES, Weights, load_text, scenario_forms, vehicle_for};
use crate::survey::{Trials, repair_minutes};
use crate::vehicle::{Conditions, Half, PartKind, Vehicle};

/// Writing to a string does not fail.
const NEVER: &str = "a string takes what it is given";
/// Kinds of faults that make a pool to begin with, with their weights: rarer ones weigh less.
const FIRST_POOL: [(&str, u32); 5] =
    [("Parted", 3), ("FuseBlown", 2), ("Terminal", 1), ("Stud", 1), ("PartOpen", 1)];
/// In so small a pool a plan takes little more than the repairs alone, and a par is half as much again.
const PAR_OVER_REPAIR: f64 = 2.0;
/// Characters in a line of names.
const LINE: usize = 110;

/// Why there is no starter file.
#[derive(Debug)]
pub enum NoStarter {
    /// The name cannot be a scenario's.
    Name(String),
    /// There is no such vehicle, or something is wrong with its file.
    Vehicle(LoadError),
    /// Nothing that a customer does opens the lid of this vehicle; its name.
    StaysShut(String),
    /// No fault that was tried on this vehicle gives a complaint; its name.
    NoFault(String),
}

impl Display for NoStarter {
    fn fmt(&self, f: &mut Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Name(name) => write!(
                f,
                "\"{name}\" cannot be a scenario's name\nhint: use small letters a to z, digits and hyphens, such as weak-ground"
            ),
            Self::Vehicle(error) => write!(f, "{error}"),
            Self::StaysShut(vehicle) => write!(
                f,
                "neither the key nor a switch opens the lid of the sound \"{vehicle}\"\nhint: give its module a rule that does `Release`"
            ),
            Self::NoFault(vehicle) => write!(
                f,
                "no common fault keeps the lid of the \"{vehicle}\" shut\nhint: see whether its latch hangs on its fuses and grounds"
            ),
        }
    }
}

impl std::error::Error for NoStarter {}

/// A scenario file to begin with, which stands in `path` and is named `id`.
///
/// # Errors
/// [`NoStarter`] where the name cannot be one, or the vehicle is none to begin on.
pub fn starter(path: &Path, id: &str, vehicle_name: &str) -> Result<String, NoStarter> {
    let fits = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
    if id.is_empty() || !id.chars().all(fits) {
        return Err(NoStarter::Name(id.to_owned()));
    }
    let vehicle = vehicle_for(vehicle_name, path.parent()).map_err(NoStarter::Vehicle)?;
    let lesson = Lesson { path, id, vehicle_name, vehicle: &vehicle };
    let trials = lesson.trials()?;
    let pool = lesson.pool(&trials)?;
    let par = lesson.par(&trials, &pool)?;
    Ok(lesson.text(&trials, &pool, par))
}

/// A file in the making.
struct Lesson<'a> {
    path: &'a Path,
    id: &'a str,
    vehicle_name: &'a str,
    vehicle: &'a Vehicle,
}

impl Lesson<'_> {
    /// A file with nothing but what is needed, to find out what its vehicle does.
    fn bare(&self, trials: &[String], faults: &[(String, u32)]) -> Result<Loaded, NoStarter> {
        let mut text = format!(
            "(format: 1, id: \"{}\", title: \"-\", vehicle: \"{}\", customer: \"-\", trials: [{}], par_minutes: {}, faults: [",
            self.id,
            self.vehicle_name,
            trials.join(", "),
            Range::PAR_MINUTES.high
        );
        for (fault, weight) in faults {
            write!(text, "(is: {fault}, weight: {weight}), ").expect(NEVER);
        }
        text.push_str("])");
        load_text(self.path, &text).map_err(NoStarter::Vehicle)
    }

    /// What opens the lid of the sound vehicle.
    fn trials(&self) -> Result<Vec<String>, NoStarter> {
        let pressed = self.vehicle.parts.iter().filter_map(|part| {
            let springs = matches!(part.kind, PartKind::Switch { springs_back: true, .. });
            springs.then(|| format!("Press(\"{}\")", part.id))
        });
        let mut trials = Vec::new();
        for trial in std::iter::once("KeyRelease".to_owned()).chain(pressed) {
            let loaded = self.bare(std::slice::from_ref(&trial), &[("Jammed".to_owned(), 1)])?;
            let opens = Trials::of(&loaded.scenario).is_ok_and(|one| one.succeed_when_sound().is_ok());
            trials.extend(opens.then_some(trial));
        }
        if trials.is_empty() { Err(NoStarter::StaysShut(self.vehicle_name.to_owned())) } else { Ok(trials) }
    }

    /// A few faults that give the complaint, one of a kind.
    fn pool(&self, trials: &[String]) -> Result<Vec<(String, u32)>, NoStarter> {
        let mut pool = Vec::new();
        for (kind, weight) in FIRST_POOL {
            let all: Vec<(String, u32)> =
                written(self.vehicle, kind).into_iter().map(|fault| (fault, weight)).collect();
            if all.is_empty() {
                continue;
            }
            let loaded = self.bare(trials, &all)?;
            let Ok(tried) = Trials::of(&loaded.scenario) else { continue };
            let gives = loaded.scenario.faults.iter().position(|fault| tried.give(fault).is_ok());
            pool.extend(gives.map(|at| all[at].clone()));
        }
        if pool.is_empty() { Err(NoStarter::NoFault(self.vehicle_name.to_owned())) } else { Ok(pool) }
    }

    /// A par to begin with, in whole steps of five minutes.
    fn par(&self, trials: &[String], pool: &[(String, u32)]) -> Result<f64, NoStarter> {
        let loaded = self.bare(trials, pool)?;
        let repair = repair_minutes(&loaded.scenario);
        Ok((5.0 * libm::ceil(PAR_OVER_REPAIR * repair / 5.0)).clamp(5.0, Range::PAR_MINUTES.high))
    }

    fn text(&self, trials: &[String], pool: &[(String, u32)], par: f64) -> String {
        let known: Vec<&str> = VEHICLES.iter().map(|(id, _)| *id).collect();
        let file = self.path.display();
        let vehicle = self.vehicle;
        let conditions = Conditions::default();
        let weights = Weights::DEFAULT;
        let mut text = format!(
            "\
// A lesson to begin with. It can be played as it is. Make it yours: the customer's words first, then the pool.
// What stands behind // on a line is a comment: the program does not read it.
//
//   probeworthy check {file}     whether anything is wrong with it
//   probeworthy faults {file}    its faults and their odds
//   probeworthy desk {file}      a job of it, in the terminal
//   probeworthy survey {file}    whether it is fair, and how long a good plan takes
//   probeworthy handout {file} --out {id}.html    a sheet for learners, and one for you
//
// Numbers stand without their unit. Both ends of a range count. scenarios/README.md says more of everything.
(
    // Version of this format: 1. Needed.
    format: 1,
    // Name in files and commands: small letters a to z, digits, hyphens; the same as in the file's name. Needed.
    id: \"{id}\",
    // Name for people. It must not give the fault away either: learners read it. Needed.
    title: \"A lid that stays shut\",
    // The same in other languages, by their tags. Left out: in no other.
    titles: {{\"de\": \"Eine Klappe, die zu bleibt\"}},
    // The vehicle: {known}, or one whose file NAME.vehicle.ron stands beside this file. Needed.
    vehicle: \"{vehicle}\",
    // What the customer says, in his own words: what he does, and what does not happen. Needed.
    customer: \"It does not open any more, whatever I press.\",
    // The same in other words: a job's seed chooses one. Left out: none.
    other_words: [\"I press and press, and it stays shut.\", \"Whatever I do, it will not open.\"],
    // All of these in other languages, by their tags: a text for `customer`, then one for each of `other_words`, in their
    // order. Left out: in no other.
    words: {{\"de\": [
        \"Sie geht nicht mehr auf, was ich auch drücke.\",
        \"Ich drücke und drücke, und sie bleibt zu.\",
        \"Was ich auch tue, sie will nicht aufgehen.\",
    ]}},
    // What a job's seed does not vary: of Cavities (which wire sits in which), Colours, Stations (where along the loom a
    // fault sits, and how long it is), Words, or Everything. With [Everything] each job is as this file and its
    // vehicle's have it. Left out: nothing, so that no answer can be remembered.
    fixed: [],
    // What the customer does when the complaint shows: at least one trial. Needed. There are
    //   KeyRelease       the key's button for the lid is pressed; failed: the lid stays shut
    //   Press(\"pad\")     a switch that springs back is pressed; failed: the lid stays shut
    //   Switch(switch: \"brake\", watch: [\"stop-left\"])     a switch that stays is turned on; failed: a lamp, motor or
    //                    heated screen in `watch` is not as on a sound vehicle, before or after
    //   Rest(minutes: 30, most_milliamps: 50)     it stands shut, `minutes` {rest_minutes}; failed: it draws more from its
    //                    battery than `most_milliamps`, {rest_milliamps}
    trials: [{trials}],
    // Minutes of a good technician, {par_range}. Needed. This one is a guess: `survey` tells the plan's minutes;
    // take half as much again.
    par_minutes: {par},
    // The vehicle comes in locked: true or false. Left out: {locked}.
    locked: {locked},
    // Temperature of the vehicle and the air, {celsius_range}. Left out: {celsius}.
    celsius: {celsius},
    // The vehicle's rear comes in wet: true or false. It dries within an hour. Left out: {wet}.
    wet: {wet},
    // The learner may ask the coach: true or false; false for a test. Left out: true.
    coaching: true,
    // Instruments that may not be used, of Meter, Lamp, Bridge, Bench, Clamp, Recorder. Left out: all may be used.
    without: [],
    // Minutes on the job's clock after which it can only be handed in, {most_range}; None for no limit. Left out: None.
    most_minutes: None,
    // How the marks are weighed, each {weight_range}. Left out, all of it or a part: as here.
    //   diagnosis: the right component, kind and place     reasoning: tests well chosen     parts: nothing sound fitted
    //   time: minutes against the par     proof: the complaint retested     safety: precautions and the write-up
    marks: (diagnosis: {diagnosis}, reasoning: {reasoning}, parts: {parts}, time: {time}, proof: {proof}, safety: {safety}),
    // The pool: each job draws one of these. Needed, at least one.
    //   is: the fault. Needed.     and: what else is wrong at the same time; left out: nothing.
    //   weight: how often it comes against the others, a whole number from 1 on. Needed.
    faults: [
",
            id = self.id,
            known = known.join(", "),
            vehicle = self.vehicle_name,
            rest_minutes = Range::REST_MINUTES,
            rest_milliamps = Range::REST_MILLIAMPS,
            trials = trials.join(", "),
            par_range = Range::PAR_MINUTES,
            most_range = Range::MOST_MINUTES,
            locked = conditions.locked,
            celsius_range = Range::CELSIUS,
            celsius = conditions.celsius,
            wet = conditions.wet,
            weight_range = Range::WEIGHT_OF_MARKS,
            diagnosis = weights.diagnosis,
            reasoning = weights.reasoning,
            parts = weights.parts,
            time = weights.time,
            proof = weights.proof,
            safety = weights.safety,
        );
        for (fault, weight) in pool {
            writeln!(text, "        (is: {fault}, and: [], weight: {weight}),").expect(NEVER);
        }
        text.push_str(
            "\n        // Every kind there is, with names of this vehicle. Take the // away from one that you want, and say where.\n\
             \x20       // `check` tells you of one that cannot give the complaint.\n",
        );
        for guide in FAULT_GUIDES {
            text.push_str(&self.kind(guide));
        }
        write!(
            text,
            "    ],
)

// When: a fault that comes and goes has a `when`, such as (is: Parted(conductor: .., at: .., when: Flexed(0.5)), weight: 1).
// Parted, Resistive, ShortToBody, Strands, ShortBetween and Terminal can have one. Left out: Always.
//   Always                           at all times
//   LidBelow(45), LidAbove(20)       while the lid is below or above this angle, {degrees}; shut is 0
//   LidBetween(low: 3, high: 20)     between these two, {degrees} each
//   Flexed(0.5)                      as often as this after the loom has moved there, {share}
//   Shaken(0.5)                      as often as this after a slam or a knock there, {share}
//   ColderThan(5)                    while the place is colder than this, {colder}; say so with `celsius` above
//   WarmerThan(40)                   while it is warmer than this, {warmer}
//   Wet                              while the vehicle's rear is wet; say so with `wet` above

",
            degrees = Range::LID_DEGREES,
            share = Range::SHARE,
            colder = Range::COLDER_CELSIUS,
            warmer = Range::WARMER_CELSIUS,
        )
        .expect(NEVER);
        text.push_str(&names(vehicle));
        text
    }

    /// A kind of fault in comments: what it is, its ranges, and how it is written for this vehicle.
    fn kind(&self, guide: &FaultGuide) -> String {
        let ranges: Vec<String> = guide
            .ranges
            .iter()
            .map(
                |(field, range)| {
                    if field.is_empty() { range.to_string() } else { format!("{field} {range}") }
                },
            )
            .collect();
        let mut text = format!("        // {}: {}", guide.kind, guide.says);
        if !ranges.is_empty() {
            let ranges = ranges.join(", ");
            let room = text.chars().count() + ranges.chars().count() <= LINE;
            write!(text, "{}{ranges}", if room { "; " } else { ";\n        //   " }).expect(NEVER);
        }
        text.push('\n');
        match written(self.vehicle, guide.kind).first() {
            Some(fault) => writeln!(text, "        //     (is: {fault}, weight: 1),").expect(NEVER),
            None => writeln!(text, "        //     {}: this vehicle has nothing for it", form(guide.kind))
                .expect(NEVER),
        }
        text
    }
}

/// How a kind of fault is written, with nothing filled in.
fn form(kind: &str) -> String {
    let forms = scenario_forms();
    let form = forms.iter().flat_map(|(_, forms)| forms).find(|form| form.name == kind);
    let fields: Vec<String> =
        form.into_iter().flat_map(|form| form.fields).map(|field| format!("{field}: ..")).collect();
    format!("{kind}({})", if fields.is_empty() { "..".to_owned() } else { fields.join(", ") })
}

/// Whether a part is of some kind.
type IsOfKind = fn(&PartKind) -> bool;

/// The names of a vehicle that a scenario can use, in comments.
fn names(vehicle: &Vehicle) -> String {
    let mut text = format!("// Names of the vehicle \"{}\".\n", vehicle.id);
    let mut list = |what: &str, names: Vec<String>| {
        let mut line = format!("// {what}:");
        for (at, name) in names.iter().enumerate() {
            let comma = if at + 1 < names.len() { "," } else { "" };
            if line.chars().count() + name.chars().count() > LINE {
                text.push_str(&line);
                text.push('\n');
                "//    ".clone_into(&mut line);
            }
            write!(line, " {name}{comma}").expect(NEVER);
        }
        text.push_str(&line);
        text.push('\n');
    };
    let conductors = vehicle.conductors.iter().map(|conductor| {
        let stations = conductor.runs.iter().filter_map(|run| run.station);
        let stations: Vec<&str> = stations.map(|id| vehicle.station(id).id.as_str()).collect();
        format!("{} ({})", conductor.id, stations.join(" "))
    });
    let passing: Vec<String> = conductors.filter(|name| !name.ends_with("()")).collect();
    list("Conductors, and the stations that they pass", passing);
    let halves = vehicle.connectors.iter().enumerate().flat_map(|(at, connector)| {
        let id = crate::vehicle::ConnectorId::at(at);
        [(Half::Loom, &connector.id), (Half::Mate, &connector.mate_id)]
            .into_iter()
            .filter(move |(half, _)| vehicle.is_loom_half(id, *half))
            .map(|(_, name)| format!("{name} (1 to {})", connector.cavities))
    });
    list("Connectors and their cavities", halves.collect());
    list("Fuses", vehicle.fuses.iter().map(|fuse| format!("{} ({} A)", fuse.id, fuse.rating_amps)).collect());
    list("Eyelets", vehicle.eyelets.iter().map(|eyelet| eyelet.id.clone()).collect());
    let parts = |fits: IsOfKind| -> Vec<String> {
        vehicle.parts.iter().filter(|part| fits(&part.kind)).map(|part| part.id.clone()).collect()
    };
    let kinds: [(&str, IsOfKind); 6] = [
        ("Switches that spring back", |part| matches!(part, PartKind::Switch { springs_back: true, .. })),
        ("Switches that stay", |part| matches!(part, PartKind::Switch { springs_back: false, .. })),
        ("Lamps", |part| matches!(part, PartKind::Lamp { .. } | PartKind::Led(_))),
        ("Motors, heated screens and the latch", |part| {
            matches!(part, PartKind::Motor { .. } | PartKind::Screen(_) | PartKind::Latch(_))
        }),
        ("Relays", |part| matches!(part, PartKind::Relay(_))),
        ("Diodes and resistors", |part| matches!(part, PartKind::Diode { .. } | PartKind::Resistor { .. })),
    ];
    for (what, fits) in kinds {
        let names = parts(fits);
        if !names.is_empty() {
            list(what, names);
        }
    }
    for (id, module) in vehicle.modules() {
        let inputs: Vec<&str> = module.inputs.iter().map(|one| one.id.as_str()).collect();
        let outputs: Vec<&str> = module.outputs.iter().map(|one| one.id.as_str()).collect();
        let what = format!("Module {}", vehicle.part(id).id);
        list(&what, vec![format!("inputs {}", inputs.join(" ")), format!("outputs {}", outputs.join(" "))]);
    }
    text
}
