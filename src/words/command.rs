//! Commands: one line of plain words for every act, read and written.
//!
//! The desk, scripts and records all use this one language. [`text`] writes an act so that [`parse`] reads it back.

use crate::bench::{
    Action, ClampPlace, FuseWork, LONGEST_WAIT_MINUTES, LampSize, Lead, LidTo, Marking, MeterSetting, Place,
    Precaution, Question, Repair, Rung, Splice, Tool, WriteUpLine,
};
use crate::fault::{Component, Diagnosis, FaultKind, Spot};
use crate::scenario::point_name;
use crate::vehicle::{
    ConductorId, ConnectorId, EyeletId, FuseId, Half, KeyButton, Mate, PanelId, PartId, PartKind, Point,
    Screen, Side, SpliceId, StationId, StudId, Thing, Vehicle,
};
use crate::written::nearest;

/// Why a line is no command.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CommandError {
    /// Where in the line, counted in characters from 1.
    pub column: usize,
    /// What is wrong.
    pub what: String,
    /// How to mend it.
    pub hint: String,
}

impl std::fmt::Display for CommandError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} ({})", self.what, self.hint)
    }
}

impl std::error::Error for CommandError {}

/// First words of all commands, with what follows them.
pub(super) const FORMS: &[(&str, &str)] = &[
    ("ask", "ask when | weather | load | work | else"),
    ("cautions", "cautions"),
    ("glasses", "glasses"),
    ("prop", "prop"),
    ("look", "look"),
    ("key", "key lock | unlock | release"),
    ("press", "press SWITCH"),
    ("switch", "switch SWITCH on | off"),
    ("lever", "lever"),
    ("force", "force latch"),
    ("lockout", "lockout on | off"),
    ("lid", "lid up | shut | catch | DEGREES"),
    ("claw", "claw close"),
    ("take", "take PANEL off"),
    ("put", "put PANEL back"),
    ("unplug", "unplug CONNECTOR"),
    ("plug", "plug CONNECTOR"),
    ("inspect", "inspect CONNECTOR | STUD"),
    ("tug", "tug CONNECTOR.CAVITY"),
    ("tape", "tape STATION"),
    ("flex", "flex STATION"),
    ("meter", "meter off | volts | low-z | ohms | tone | diode | amps | prove | fuse"),
    ("capture", "capture on | off"),
    ("red", "red POINT [hastily], or red off"),
    ("black", "black POINT [hastily], or black off"),
    ("read", "read"),
    ("clamp", "clamp CONDUCTOR STATION | CONNECTOR.CAVITY | battery-plus | off"),
    ("recorder", "recorder PLUS-POINT MINUS-POINT | arm | disarm | off"),
    ("lamp", "lamp 5 | 21 POINT POINT, or lamp 5 | 21 off"),
    ("bridge", "bridge POINT POINT, or bridge off"),
    ("bench", "bench PLUS-POINT MINUS-POINT, or bench off"),
    ("fuse", "fuse FUSE pull | look | back | fit AMPS"),
    ("memory", "memory read | clear"),
    ("wait", "wait MINUTES"),
    ("tap", "tap PART"),
    ("wet", "wet"),
    ("dry", "dry"),
    ("warm", "warm STATION | PART | connector CONNECTOR"),
    ("cool", "cool STATION | PART | connector CONNECTOR"),
    ("splice", "splice CONDUCTOR STATION"),
    ("twist", "twist CONDUCTOR STATION"),
    ("terminal", "terminal CONNECTOR.CAVITY"),
    ("swap", "swap CONNECTOR CAVITY CAVITY"),
    ("clean", "clean STUD"),
    ("clips", "clips FUSE"),
    ("paint", "paint SCREEN.LINE.SECTION"),
    ("fit", "fit PART | key | key-cell"),
    ("charge", "charge"),
    ("name", "name [connector] COMPONENT KIND [at STATION | CAVITY | LINE.SECTION] [PERCENT%]"),
    ("suspect", "suspect [connector] COMPONENT KIND [at STATION | CAVITY | LINE.SECTION] PERCENT%"),
    (
        "mark",
        "mark battery | FUSE | PART | STUD | CONDUCTOR [at STATION] | CONNECTOR.CAVITY | connector CONNECTOR | splice SPLICE | eyelet EYELET | joint CONDUCTOR, then good | suspect | unknown",
    ),
    ("coach", "coach 1 | 2 | 3"),
    ("estimate", "estimate UNITS"),
    ("write", "write complaint | cause | correction TEXT, or - for nothing"),
    ("hand", "hand in"),
    ("refer", "refer"),
];

/// How a command is written, by its first word.
#[must_use]
pub fn form(name: &str) -> Option<&'static str> {
    FORMS.iter().find(|(first, _)| *first == name).map(|(_, form)| *form)
}

/// A word of a line and the column where it begins.
#[derive(Clone, Copy)]
struct Word<'a> {
    text: &'a str,
    column: usize,
    /// Where it begins in the line, in bytes.
    start: usize,
}

struct Line<'a> {
    line: &'a str,
    words: Vec<Word<'a>>,
    next: usize,
    form: &'static str,
}

impl<'a> Line<'a> {
    fn new(line: &'a str) -> Self {
        let mut words = Vec::new();
        let mut start = None;
        for (column, (at, c)) in line.char_indices().chain([(line.len(), ' ')]).enumerate() {
            match (c.is_whitespace(), start) {
                (false, None) => start = Some((at, column + 1)),
                (true, Some((from, column))) => {
                    words.push(Word { text: &line[from..at], column, start: from });
                    start = None;
                }
                _ => {}
            }
        }
        Self { line, words, next: 0, form: "" }
    }

    fn end_column(&self) -> usize {
        self.line.trim_end().chars().count() + 1
    }

    fn error(&self, column: usize, what: impl Into<String>, hint: impl Into<String>) -> CommandError {
        CommandError { column, what: what.into(), hint: hint.into() }
    }

    fn word(&mut self) -> Result<Word<'a>, CommandError> {
        let word = self.words.get(self.next).copied();
        self.next += 1;
        word.ok_or_else(|| {
            self.error(self.end_column(), "something is missing here", format!("write: {}", self.form))
        })
    }

    fn peek(&self) -> Option<Word<'a>> {
        self.words.get(self.next).copied()
    }

    /// One of a few words.
    fn one_of<T: Copy>(&mut self, choices: &[(&str, T)]) -> Result<T, CommandError> {
        let word = self.word()?;
        match choices.iter().find(|(name, _)| *name == word.text) {
            Some((_, value)) => Ok(*value),
            None => Err(self.unknown(word, "word", choices.iter().map(|(name, _)| *name))),
        }
    }

    fn unknown<'b>(
        &self,
        word: Word<'_>,
        kind: &str,
        known: impl Iterator<Item = &'b str> + Clone,
    ) -> CommandError {
        let hint = match nearest(word.text, known.clone()) {
            Some(near) => format!("did you mean {near}?"),
            None => {
                const MOST: usize = 16;
                let mut known: Vec<&str> = known.collect();
                known.sort_unstable();
                if known.is_empty() {
                    format!("this vehicle has no {kind}")
                } else if known.len() > MOST {
                    "list parts, list loom, list pins and list fuses show the names".to_owned()
                } else {
                    format!("there are: {}", known.join(", "))
                }
            }
        };
        self.error(word.column, format!("there is no {kind} called {}", word.text), hint)
    }

    /// Something of a table, by name.
    fn named<'b>(
        &mut self,
        kind: &str,
        ids: impl Iterator<Item = &'b str> + Clone,
    ) -> Result<usize, CommandError> {
        let word = self.word()?;
        match ids.clone().position(|id| id == word.text) {
            Some(position) => Ok(position),
            None => Err(self.unknown(word, kind, ids)),
        }
    }

    fn number<N>(&mut self, kind: &str, low: N, high: N) -> Result<N, CommandError>
    where
        N: Copy + std::str::FromStr + PartialOrd + std::fmt::Display,
    {
        let word = self.word()?;
        match word.text.parse::<N>() {
            Ok(number) if (low..=high).contains(&number) => Ok(number),
            _ => Err(self.error(
                word.column,
                format!("{} is no {kind}", word.text),
                format!("write a whole number from {low} to {high}"),
            )),
        }
    }

    fn end(&mut self) -> Result<(), CommandError> {
        match self.peek() {
            None => Ok(()),
            Some(word) => Err(self.error(
                word.column,
                format!("{} is too much here", word.text),
                format!("write: {}", self.form),
            )),
        }
    }
}

const MARKINGS: [(&str, Option<Marking>); 3] =
    [("good", Some(Marking::Good)), ("suspect", Some(Marking::Suspect)), ("unknown", None)];

/// What stands for a line of the write-up that is emptied.
const NOTHING: &str = "-";
const ON_OFF: [(&str, bool); 2] = [("on", true), ("off", false)];
const QUESTIONS: [(&str, Question); 5] = [
    ("when", Question::When),
    ("weather", Question::Weather),
    ("load", Question::Load),
    ("work", Question::EarlierWork),
    ("else", Question::AnythingElse),
];
const BUTTONS: [(&str, KeyButton); 3] =
    [("lock", KeyButton::Lock), ("unlock", KeyButton::Unlock), ("release", KeyButton::Release)];
const SETTINGS: [(&str, MeterSetting); 7] = [
    ("off", MeterSetting::Off),
    ("volts", MeterSetting::Volts),
    ("low-z", MeterSetting::LowZ),
    ("ohms", MeterSetting::Ohms),
    ("tone", MeterSetting::Tone),
    ("diode", MeterSetting::Diode),
    ("amps", MeterSetting::Amps),
];
const RUNGS: [(&str, Rung); 3] = [("1", Rung::Question), ("2", Rung::Kind), ("3", Rung::Test)];
const WRITE_UP: [(&str, WriteUpLine); 3] = [
    ("complaint", WriteUpLine::Complaint),
    ("cause", WriteUpLine::Cause),
    ("correction", WriteUpLine::Correction),
];
pub(super) const KINDS: [(&str, FaultKind); 18] = [
    ("open", FaultKind::Open),
    ("high-resistance", FaultKind::HighResistance),
    ("short-to-ground", FaultKind::ShortToGround),
    ("short-between", FaultKind::ShortBetween),
    ("short-inside", FaultKind::ShortInside),
    ("crossed", FaultKind::Crossed),
    ("blown", FaultKind::Blown),
    ("wrong-part", FaultKind::WrongPart),
    ("loose", FaultKind::Loose),
    ("stiff", FaultKind::Stiff),
    ("jammed", FaultKind::Jammed),
    ("worn", FaultKind::Worn),
    ("stuck-on", FaultKind::StuckOn),
    ("stays-awake", FaultKind::StaysAwake),
    ("dead", FaultKind::Dead),
    ("deaf", FaultKind::Deaf),
    ("flat", FaultKind::Flat),
    ("setting-left-on", FaultKind::SettingLeftOn),
];

fn written<T: PartialEq>(choices: &[(&'static str, T)], value: &T) -> &'static str {
    choices.iter().find(|(_, one)| one == value).map_or("", |(name, _)| name)
}

/// Reads one line as an act on this vehicle.
///
/// # Errors
/// [`CommandError`], with the column and how to mend it.
pub fn parse(vehicle: &Vehicle, line: &str) -> Result<Action, CommandError> {
    // Capitals are as good as small letters, but for what is written down.
    let lower = line.to_ascii_lowercase();
    let is_writing = lower.split_whitespace().next() == Some("write");
    let mut line = Line::new(if is_writing { line } else { &lower });
    let first = line.word().map_err(|_| CommandError {
        column: 1,
        what: "the line is empty".to_owned(),
        hint: "type help".to_owned(),
    })?;
    let Some((_, form)) = FORMS.iter().find(|(name, _)| *name == first.text) else {
        let hint = match nearest(first.text, FORMS.iter().map(|(name, _)| *name)) {
            Some(near) => format!("did you mean {near}? help lists all commands"),
            None => "help lists all commands".to_owned(),
        };
        return Err(line.error(first.column, format!("there is no command {}", first.text), hint));
    };
    line.form = form;
    let action = action(vehicle, &mut line, first.text)?;
    line.end()?;
    Ok(action)
}

fn action(vehicle: &Vehicle, line: &mut Line<'_>, first: &str) -> Result<Action, CommandError> {
    Ok(match first {
        "ask" => Action::Ask(line.one_of(&QUESTIONS)?),
        "cautions" => Action::Precaution(Precaution::ReadCautions),
        "glasses" => Action::Precaution(Precaution::EyeProtection),
        "prop" => Action::Precaution(Precaution::PropLid),
        "look" => Action::Observe,
        "key" => Action::Key(line.one_of(&BUTTONS)?),
        "press" => Action::Press(switch(vehicle, line)?),
        "switch" => Action::Switch(switch(vehicle, line)?, line.one_of(&ON_OFF)?),
        "lever" => Action::Lever,
        "force" => {
            line.one_of(&[("latch", ())])?;
            Action::ForceLatch
        }
        "lockout" => Action::Lockout(line.one_of(&ON_OFF)?),
        "lid" => Action::Lid(lid(vehicle, line)?),
        "claw" => {
            line.one_of(&[("close", ())])?;
            Action::CloseClaw
        }
        "take" => {
            let panel = panel(vehicle, line)?;
            line.one_of(&[("off", ())])?;
            Action::Panel(panel, true)
        }
        "put" => {
            let panel = panel(vehicle, line)?;
            line.one_of(&[("back", ())])?;
            Action::Panel(panel, false)
        }
        "unplug" => Action::Plug(connector(vehicle, line)?, false),
        "plug" => Action::Plug(connector(vehicle, line)?, true),
        "inspect" => {
            match line.peek().and_then(|word| vehicle.studs.iter().position(|stud| stud.id == word.text)) {
                Some(stud) => {
                    line.next += 1;
                    Action::LookAtStud(StudId::at(stud))
                }
                None => Action::LookAt(connector(vehicle, line)?),
            }
        }
        "tug" => {
            let (connector, cavity) = loom_cavity(vehicle, line)?;
            Action::Tug(connector, cavity)
        }
        "tape" => Action::OpenTape(station(vehicle, line)?),
        "flex" => Action::Flex(station(vehicle, line)?),
        "meter" => match line.peek().map(|word| word.text) {
            Some("prove") => {
                line.next += 1;
                Action::ProveMeter
            }
            Some("fuse") => {
                line.next += 1;
                Action::MeterFuse
            }
            _ => Action::Meter(line.one_of(&SETTINGS)?),
        },
        "capture" => Action::Capture(line.one_of(&ON_OFF)?),
        "red" => probe(vehicle, line, Lead::Red)?,
        "black" => probe(vehicle, line, Lead::Black)?,
        "read" => Action::Read,
        "lamp" => {
            let size = line.one_of(&[("5", LampSize::Five), ("21", LampSize::TwentyOne)])?;
            Action::Clip(Tool::TestLamp(size), clips(vehicle, line)?)
        }
        "bridge" => Action::Clip(Tool::Bridge, clips(vehicle, line)?),
        "bench" => Action::Clip(Tool::BenchBattery, clips(vehicle, line)?),
        "clamp" => Action::Clamp(clamp_place(vehicle, line)?),
        "recorder" => match line.peek().map(|word| word.text) {
            Some("arm" | "disarm") => Action::Arm(line.one_of(&[("arm", true), ("disarm", false)])?),
            _ => Action::RecorderLeads(clips(vehicle, line)?),
        },
        "fuse" => {
            let fuse = fuse(vehicle, line)?;
            let choices = [
                ("pull", Some(FuseWork::Pull)),
                ("look", Some(FuseWork::Look)),
                ("back", Some(FuseWork::PutBack)),
                ("fit", None),
            ];
            let what = match line.one_of(&choices)? {
                Some(what) => what,
                None => FuseWork::Fit(line.number("fuse rating in amps", 1, 30)?),
            };
            Action::Fuse(fuse, what)
        }
        "memory" => {
            let read = line.one_of(&[("read", true), ("clear", false)])?;
            let part = module(vehicle, line)?;
            if read { Action::ReadMemory(part) } else { Action::ClearMemory(part) }
        }
        "splice" | "twist" => {
            let at = line.named("conductor", vehicle.conductors.iter().map(|x| x.id.as_str()))?;
            let how = if first == "splice" { Splice::Sound } else { Splice::Twisted };
            Action::Repair(Repair::Conductor(ConductorId::at(at), station(vehicle, line)?, how))
        }
        "terminal" => {
            let (connector, cavity) = loom_cavity(vehicle, line)?;
            Action::Repair(Repair::Terminal(connector, cavity))
        }
        "swap" => {
            let id = connector(vehicle, line)?;
            let cavities = vehicle.connector(id).cavities;
            let mut cavity = || line.number("cavity of that connector", 1, cavities);
            Action::Repair(Repair::SwapCavities(id, cavity()?, cavity()?))
        }
        "clean" => {
            let at = line.named("stud", vehicle.studs.iter().map(|x| x.id.as_str()))?;
            Action::Repair(Repair::Stud(StudId::at(at)))
        }
        "clips" => Action::Repair(Repair::Clips(fuse(vehicle, line)?)),
        "paint" => {
            let word = line.word()?;
            let Some((part, at)) =
                word.text.split_once('.').and_then(|(name, at)| Some((screen(vehicle, name)?, at)))
            else {
                let screens: Vec<&str> =
                    vehicle.screens().map(|(id, _)| vehicle.part(id).id.as_str()).collect();
                let whole = Word { text: word.text.split('.').next().unwrap_or_default(), ..word };
                return Err(match screens.first() {
                    Some(first) if whole.text == *first => line.error(
                        word.column,
                        format!("{} says no line and section", word.text),
                        format!("write one such as {first}.1.1"),
                    ),
                    _ => line.unknown(whole, "heated screen", screens.into_iter()),
                });
            };
            let (row, section) = line_section(vehicle, line, Word { text: at, ..word }, part, 1)?;
            Action::Repair(Repair::Line(part, row, section))
        }
        "wait" => Action::Wait(line.number("time in minutes", 1, LONGEST_WAIT_MINUTES)?),
        "tap" => {
            Action::Tap(line.named("part", vehicle.parts.iter().map(|x| x.id.as_str())).map(PartId::at)?)
        }
        "wet" => Action::Wet,
        "dry" => Action::Dry,
        "warm" => Action::Warm(place(vehicle, line)?),
        "cool" => Action::Cool(place(vehicle, line)?),
        "fit" => {
            let names = vehicle.parts.iter().map(|x| x.id.as_str()).chain(["key", "key-cell"]);
            let at = line.named("part", names)?;
            Action::Repair(match at.checked_sub(vehicle.parts.len()) {
                None => Repair::Part(PartId::at(at)),
                Some(0) => Repair::Key,
                Some(_) => Repair::KeyCell,
            })
        }
        "charge" => Action::Repair(Repair::Charge),
        "name" => {
            let named = diagnosis(vehicle, line)?;
            let percent = if line.peek().is_some() { percent(line, "confidence")? } else { 100 };
            Action::Name(named, percent)
        }
        "suspect" => Action::Suspect(diagnosis(vehicle, line)?, percent(line, "suspicion")?),
        "mark" => Action::Mark(thing(vehicle, line)?, line.one_of(&MARKINGS)?),
        "coach" => Action::Coach(line.one_of(&RUNGS)?),
        "estimate" => Action::Estimate(line.number("sum in units of money", 1, u16::MAX)?),
        "write" => {
            let which = line.one_of(&WRITE_UP)?;
            let word = line.word()?;
            let said = line.line[word.start..].trim_end();
            line.next = line.words.len();
            Action::Write(which, if said == NOTHING { String::new() } else { said.to_owned() })
        }
        "hand" => {
            line.one_of(&[("in", ())])?;
            Action::HandIn { refer: false }
        }
        "refer" => Action::HandIn { refer: true },
        _ => unreachable!("every form has its arm"),
    })
}

fn switch(vehicle: &Vehicle, line: &mut Line<'_>) -> Result<PartId, CommandError> {
    let switches = || vehicle.parts().filter(|(_, part)| matches!(part.kind, PartKind::Switch { .. }));
    let at =
        line.named("switch", switches().map(|(_, part)| part.id.as_str()).collect::<Vec<_>>().into_iter())?;
    Ok(switches().nth(at).map_or(PartId::at(0), |(id, _)| id))
}

fn module(vehicle: &Vehicle, line: &mut Line<'_>) -> Result<PartId, CommandError> {
    let modules: Vec<PartId> = vehicle.modules().map(|(id, _)| id).collect();
    if line.peek().is_none() && modules.len() == 1 {
        return Ok(modules[0]);
    }
    let at = line.named("module", modules.iter().map(|&id| vehicle.part(id).id.as_str()))?;
    Ok(modules[at])
}

fn panel(vehicle: &Vehicle, line: &mut Line<'_>) -> Result<PanelId, CommandError> {
    line.named("panel", vehicle.panels.iter().map(|x| x.id.as_str())).map(PanelId::at)
}

fn station(vehicle: &Vehicle, line: &mut Line<'_>) -> Result<StationId, CommandError> {
    line.named("station", vehicle.stations.iter().map(|x| x.id.as_str())).map(StationId::at)
}

fn fuse(vehicle: &Vehicle, line: &mut Line<'_>) -> Result<FuseId, CommandError> {
    line.named("fuse", vehicle.fuses.iter().map(|x| x.id.as_str())).map(FuseId::at)
}

/// A connector, by the name of either half.
fn connector(vehicle: &Vehicle, line: &mut Line<'_>) -> Result<ConnectorId, CommandError> {
    let halves = vehicle.connectors.iter().flat_map(|x| [x.id.as_str(), x.mate_id.as_str()]);
    line.named("connector", halves.collect::<Vec<_>>().into_iter()).map(|at| ConnectorId::at(at / 2))
}

/// A heated screen by its name.
fn screen(vehicle: &Vehicle, name: &str) -> Option<PartId> {
    vehicle.screens().map(|(id, _)| id).find(|&id| vehicle.part(id).id == name)
}

/// `LINE.SECTION` of a heated screen; sections or places count from `first`.
fn line_section(
    vehicle: &Vehicle,
    line: &Line<'_>,
    word: Word<'_>,
    part: PartId,
    first: u8,
) -> Result<(u8, u8), CommandError> {
    let PartKind::Screen(file) = &vehicle.part(part).kind else {
        return Err(line.error(word.column, "that is no heated screen", "list parts"));
    };
    let numbers = word.text.split_once('.').and_then(|(a, b)| Some((a.parse().ok()?, b.parse().ok()?)));
    match numbers {
        Some((row, section))
            if (1..=file.lines).contains(&row) && (first..=Screen::SECTIONS).contains(&section) =>
        {
            Ok((row, section))
        }
        _ => {
            let what = if first == 0 { "place" } else { "section" };
            Err(line.error(
                word.column,
                format!("{} has no line and {what} {}", vehicle.part(part).id, word.text),
                format!(
                    "write LINE.{}, lines from 1 to {}, {what}s from {first} to {}",
                    what.to_uppercase(),
                    file.lines,
                    Screen::SECTIONS
                ),
            ))
        }
    }
}

/// A place to warm or cool: a station, a part, or a connector behind its own word. A part that bears a station's name
/// stands behind the word `part`.
fn place(vehicle: &Vehicle, line: &mut Line<'_>) -> Result<Place, CommandError> {
    let more = line.words.len() > line.next + 1;
    match line.peek().map(|word| word.text) {
        Some("connector") if more => {
            line.next += 1;
            return connector(vehicle, line).map(Place::Connector);
        }
        Some("part") if more => {
            line.next += 1;
            let names = vehicle.parts.iter().map(|x| x.id.as_str());
            return line.named("part", names).map(|at| Place::Part(PartId::at(at)));
        }
        _ => {}
    }
    let stations = vehicle.stations.len();
    let names = vehicle.stations.iter().map(|x| x.id.as_str());
    let names = names.chain(vehicle.parts.iter().map(|x| x.id.as_str()));
    let at = line.named("station or part", names)?;
    Ok(match at.checked_sub(stations) {
        None => Place::Station(StationId::at(at)),
        Some(part) => Place::Part(PartId::at(part)),
    })
}

/// A place in the words of a command.
fn place_words(vehicle: &Vehicle, place: Place) -> String {
    match place {
        Place::Station(id) => vehicle.station(id).id.clone(),
        Place::Connector(id) => format!("connector {}", vehicle.connector(id).id),
        Place::Part(id) => {
            let name = &vehicle.part(id).id;
            let taken = vehicle.stations.iter().any(|station| station.id == *name);
            if taken { format!("part {name}") } else { name.clone() }
        }
    }
}

fn lid(vehicle: &Vehicle, line: &mut Line<'_>) -> Result<LidTo, CommandError> {
    let full = vehicle.lid.full_degrees;
    let word = line.peek().map(|word| word.text);
    Ok(match word {
        Some("up") => {
            line.next += 1;
            LidTo::Angle(full)
        }
        Some("shut") => {
            line.next += 1;
            LidTo::Shut
        }
        Some("catch") => {
            line.next += 1;
            LidTo::FirstCatch
        }
        _ => LidTo::Angle(line.number("angle in degrees (or write up, shut, catch)", 2, full)?),
    })
}

/// A cavity of a connector's loom half.
fn loom_cavity(vehicle: &Vehicle, line: &mut Line<'_>) -> Result<(ConnectorId, u8), CommandError> {
    let word = line.peek();
    match point(vehicle, line)? {
        Point::Cavity(connector, Half::Loom, cavity) => Ok((connector, cavity)),
        Point::Cavity(connector, Half::Mate, cavity) if vehicle.connector(connector).mate == Mate::Loom => {
            let column = word.map_or(1, |word| word.column);
            let hint = format!("write {}.{cavity}", vehicle.connector(connector).id);
            Err(line.error(column, "a connector is worked on by its body half", hint))
        }
        _ => {
            let (column, text) = word.map_or((1, ""), |word| (word.column, word.text));
            Err(line.error(column, format!("{text} is no cavity of a loom"), "write one such as latch.3"))
        }
    }
}

fn point_or_off(vehicle: &Vehicle, line: &mut Line<'_>) -> Result<Option<Point>, CommandError> {
    if line.peek().is_some_and(|word| word.text == "off") {
        line.next += 1;
        return Ok(None);
    }
    point(vehicle, line).map(Some)
}

fn probe(vehicle: &Vehicle, line: &mut Line<'_>, lead: Lead) -> Result<Action, CommandError> {
    let Some(point) = point_or_off(vehicle, line)? else { return Ok(Action::Probe(lead, None)) };
    if line.peek().is_none() {
        return Ok(Action::Probe(lead, Some(point)));
    }
    line.one_of(&[("hastily", ())])?;
    Ok(Action::ProbeHastily(lead, point))
}

/// `CONDUCTOR STATION | CONNECTOR.CAVITY | battery-plus | off`
fn clamp_place(vehicle: &Vehicle, line: &mut Line<'_>) -> Result<Option<ClampPlace>, CommandError> {
    let fixed = [("off", None), ("battery-plus", Some(ClampPlace::BatteryPlus))];
    if line.peek().is_some_and(|word| fixed.iter().any(|(name, _)| *name == word.text)) {
        return line.one_of(&fixed);
    }
    let Some(word) = line.peek().filter(|word| word.text.contains('.')) else {
        let names = vehicle.conductors.iter().map(|x| x.id.as_str()).chain(fixed.map(|(name, _)| name));
        let at = line.named("conductor", names)?;
        return Ok(Some(ClampPlace::Station(ConductorId::at(at), station(vehicle, line)?)));
    };
    match point(vehicle, line)? {
        Point::Cavity(connector, half, cavity) if vehicle.is_loom_half(connector, half) => {
            Ok(Some(ClampPlace::Cavity(connector, half, cavity)))
        }
        _ => {
            let hint = "write a cavity such as latch.3, or a conductor and a station";
            Err(line.error(word.column, format!("no wire ends at {}", word.text), hint))
        }
    }
}

fn clips(vehicle: &Vehicle, line: &mut Line<'_>) -> Result<Option<(Point, Point)>, CommandError> {
    match point_or_off(vehicle, line)? {
        None => Ok(None),
        Some(from) => Ok(Some((from, point(vehicle, line)?))),
    }
}

/// A point by its name.
fn point(vehicle: &Vehicle, line: &mut Line<'_>) -> Result<Point, CommandError> {
    const FIXED: [(&str, Point); 5] = [
        ("body", Point::Body),
        ("battery-plus", Point::BatteryPlus),
        ("battery-minus", Point::BatteryMinus),
        ("key-plus", Point::KeyPlus),
        ("key-minus", Point::KeyMinus),
    ];
    let word = line.word()?;
    if let Some((_, point)) = FIXED.iter().find(|(name, _)| *name == word.text) {
        return Ok(*point);
    }
    if let Some(stud) = vehicle.studs.iter().position(|stud| stud.id == word.text) {
        return Ok(Point::Stud(StudId::at(stud)));
    }
    let Some((thing, which)) = word.text.rsplit_once('.') else {
        let names: Vec<String> =
            vehicle.points().into_iter().map(|point| point_name(vehicle, point)).collect();
        let plain =
            FIXED.iter().map(|(name, _)| *name).chain(vehicle.studs.iter().map(|stud| stud.id.as_str()));
        let hint = match nearest(word.text, plain.chain(names.iter().map(String::as_str))) {
            Some(near) => format!("did you mean {near}?"),
            None => "write one such as latch.3, f1.load, ground-stud, body or battery-minus; list points"
                .to_owned(),
        };
        return Err(line.error(word.column, format!("there is no point called {}", word.text), hint));
    };
    // A line of a heated screen has two numbers, a cavity of its connector one.
    if let Some((name, row)) = thing.split_once('.') {
        let Some(part) = screen(vehicle, name) else {
            let screens: Vec<&str> = vehicle.screens().map(|(id, _)| vehicle.part(id).id.as_str()).collect();
            return Err(line.unknown(Word { text: name, ..word }, "heated screen", screens.into_iter()));
        };
        let at = format!("{row}.{which}");
        let (row, place) = line_section(vehicle, line, Word { text: &at, ..word }, part, 0)?;
        return Ok(Point::Line(part, row, place));
    }
    if let Some(at) = vehicle.fuses.iter().position(|fuse| fuse.id == thing) {
        let side = match which {
            "feed" => Side::Feed,
            "load" => Side::Load,
            _ => {
                let hint = format!("write {thing}.feed or {thing}.load");
                return Err(line.error(word.column, format!("a fuse has no side called {which}"), hint));
            }
        };
        return Ok(Point::Fuse(FuseId::at(at), side));
    }
    let halves = vehicle.connectors.iter().flat_map(|x| [x.id.as_str(), x.mate_id.as_str()]);
    let Some(at) = halves.clone().position(|half| half == thing) else {
        let known: Vec<&str> = halves.chain(vehicle.fuses.iter().map(|fuse| fuse.id.as_str())).collect();
        let whole = Word { text: thing, ..word };
        return Err(line.unknown(whole, "connector or fuse", known.into_iter()));
    };
    let cavities = vehicle.connectors[at / 2].cavities;
    match which.parse::<u8>() {
        Ok(cavity) if (1..=cavities).contains(&cavity) => {
            let half = if at % 2 == 0 { Half::Loom } else { Half::Mate };
            Ok(Point::Cavity(ConnectorId::at(at / 2), half, cavity))
        }
        _ => Err(line.error(
            word.column,
            format!("{thing} has no cavity {which}"),
            format!("write a number from 1 to {cavities}"),
        )),
    }
}

/// Something that the wiring diagram shows.
fn thing(vehicle: &Vehicle, line: &mut Line<'_>) -> Result<Thing, CommandError> {
    let Some(word) = line.peek() else { return line.word().map(|_| Thing::Battery) };
    if word.text.contains('.') {
        return match point(vehicle, line)? {
            Point::Cavity(connector, Half::Loom, cavity) => Ok(Thing::Cavity(connector, cavity)),
            _ => {
                let hint = "write one such as latch.3, by the connector's loom half";
                Err(line.error(word.column, format!("{} is no cavity of a loom", word.text), hint))
            }
        };
    }
    let things: Vec<(&str, Thing)> = std::iter::once(("battery", Thing::Battery))
        .chain(numbered(vehicle.conductors.iter().map(|x| x.id.as_str()), |at| {
            Thing::Conductor(ConductorId::at(at))
        }))
        .chain(numbered(vehicle.fuses.iter().map(|x| x.id.as_str()), |at| Thing::Fuse(FuseId::at(at))))
        .chain(numbered(vehicle.parts.iter().map(|x| x.id.as_str()), |at| Thing::Part(PartId::at(at))))
        .chain(numbered(vehicle.studs.iter().map(|x| x.id.as_str()), |at| Thing::Stud(StudId::at(at))))
        .collect();
    // A word before the name, unless that word is itself the name of something, and no name follows.
    let follows = line.words.get(line.next + 1).map(|word| word.text);
    let is_before = |names: Vec<&str>| {
        !things.iter().any(|(name, _)| *name == word.text)
            || follows.is_some_and(|name| names.contains(&name))
    };
    match word.text {
        "connector" => {
            line.next += 1;
            return Ok(Thing::Connector(connector(vehicle, line)?));
        }
        "splice" if is_before(vehicle.splices.iter().map(|x| x.id.as_str()).collect()) => {
            line.next += 1;
            let names = vehicle.splices.iter().map(|x| x.id.as_str());
            return line.named("splice", names).map(|at| Thing::Splice(SpliceId::at(at)));
        }
        "eyelet" if is_before(vehicle.eyelets.iter().map(|x| x.id.as_str()).collect()) => {
            line.next += 1;
            let names = vehicle.eyelets.iter().map(|x| x.id.as_str());
            return line.named("eyelet", names).map(|at| Thing::Eyelet(EyeletId::at(at)));
        }
        "joint" if is_before(vehicle.conductors.iter().map(|x| x.id.as_str()).collect()) => {
            line.next += 1;
            let names = vehicle.conductors.iter().map(|x| x.id.as_str());
            return line.named("conductor", names).map(|at| Thing::Body(ConductorId::at(at)));
        }
        _ => {}
    }
    let at = line.named("thing on the diagram", things.iter().map(|(name, _)| *name))?;
    match things[at].1 {
        Thing::Conductor(conductor) if line.peek().is_some_and(|word| word.text == "at") => {
            line.next += 1;
            Ok(Thing::Station(conductor, station(vehicle, line)?))
        }
        thing => Ok(thing),
    }
}

/// Names with what they stand for, by their place in a vehicle's table.
fn numbered<'a>(
    names: impl Iterator<Item = &'a str>,
    thing: fn(usize) -> Thing,
) -> impl Iterator<Item = (&'a str, Thing)> {
    names.enumerate().map(move |(at, name)| (name, thing(at)))
}

/// Something that the wiring diagram shows, in the words of a command.
fn thing_words(vehicle: &Vehicle, thing: Thing) -> String {
    match thing {
        Thing::Battery => "battery".to_owned(),
        Thing::Fuse(id) => vehicle.fuse(id).id.clone(),
        Thing::Conductor(id) => vehicle.conductor(id).id.clone(),
        Thing::Station(id, at) => format!("{} at {}", vehicle.conductor(id).id, vehicle.station(at).id),
        Thing::Cavity(id, cavity) => format!("{}.{cavity}", vehicle.connector(id).id),
        Thing::Connector(id) => format!("connector {}", vehicle.connector(id).id),
        Thing::Part(id) => vehicle.part(id).id.clone(),
        Thing::Splice(id) => format!("splice {}", vehicle.splices[id.index()].id),
        Thing::Eyelet(id) => format!("eyelet {}", vehicle.eyelets[id.index()].id),
        Thing::Stud(id) => vehicle.stud(id).id.clone(),
        Thing::Body(id) => format!("joint {}", vehicle.conductor(id).id),
    }
}

/// `[connector] COMPONENT KIND [at SPOT]`
fn diagnosis(vehicle: &Vehicle, line: &mut Line<'_>) -> Result<Diagnosis, CommandError> {
    let component = if line.peek().is_some_and(|word| word.text == "connector") {
        line.next += 1;
        Component::Connector(connector(vehicle, line)?)
    } else {
        let components = components(vehicle);
        let names = components.iter().map(|(name, _)| name.as_str());
        let at = line.named("component", names)?;
        components[at].1
    };
    let kind = line.one_of(&KINDS)?;
    let mut spot = Spot::Whole;
    if line.peek().is_some_and(|word| word.text == "at") {
        line.next += 1;
        spot = match component {
            Component::Connector(id) => {
                Spot::Cavity(line.number("cavity of that connector", 1, vehicle.connector(id).cavities)?)
            }
            Component::Part(id) if matches!(vehicle.part(id).kind, PartKind::Screen(_)) => {
                let word = line.word()?;
                let (row, section) = line_section(vehicle, line, word, id, 1)?;
                Spot::Line(row, section)
            }
            _ => Spot::Station(station(vehicle, line)?),
        };
    }
    Ok(Diagnosis { component, kind, spot })
}

/// `PERCENT%`
fn percent(line: &mut Line<'_>, kind: &str) -> Result<u8, CommandError> {
    let word = line.word()?;
    let percent = word.text.strip_suffix('%').and_then(|text| text.parse().ok());
    percent.filter(|percent| *percent <= 100).ok_or_else(|| {
        line.error(
            word.column,
            format!("{} is no {kind}", word.text),
            "write a percentage from 0% to 100%, such as 80%",
        )
    })
}

/// Everything that a fault can be named on but connectors, by name.
fn components(vehicle: &Vehicle) -> Vec<(String, Component)> {
    let conductors = vehicle
        .conductors
        .iter()
        .enumerate()
        .map(|(at, x)| (x.id.clone(), Component::Conductor(ConductorId::at(at))));
    let parts = vehicle.parts().map(|(id, x)| (x.id.clone(), Component::Part(id)));
    let fuses =
        vehicle.fuses.iter().enumerate().map(|(at, x)| (x.id.clone(), Component::Fuse(FuseId::at(at))));
    let studs =
        vehicle.studs.iter().enumerate().map(|(at, x)| (x.id.clone(), Component::Stud(StudId::at(at))));
    let fixed = [("key", Component::Key), ("battery", Component::Battery), ("lockout", Component::Lockout)];
    conductors
        .chain(parts)
        .chain(fuses)
        .chain(studs)
        .chain(fixed.map(|(name, component)| (name.to_owned(), component)))
        .collect()
}

/// An act as a line that [`parse`] reads back.
#[must_use]
pub fn text(vehicle: &Vehicle, action: &Action) -> String {
    let point = |point: Point| point_name(vehicle, point);
    let part = |id: PartId| vehicle.part(id).id.as_str();
    let on = |on: bool| written(&ON_OFF, &on);
    let lead = |lead: Lead| if lead == Lead::Red { "red" } else { "black" };
    let ends = |ends: &Option<(Point, Point)>| match ends {
        None => "off".to_owned(),
        Some((from, to)) => format!("{} {}", point(*from), point(*to)),
    };
    match action {
        Action::Ask(question) => format!("ask {}", written(&QUESTIONS, question)),
        Action::Precaution(Precaution::ReadCautions) => "cautions".to_owned(),
        Action::Precaution(Precaution::EyeProtection) => "glasses".to_owned(),
        Action::Precaution(Precaution::PropLid) => "prop".to_owned(),
        Action::Observe => "look".to_owned(),
        Action::Key(button) => format!("key {}", written(&BUTTONS, button)),
        Action::Press(id) => format!("press {}", part(*id)),
        Action::Switch(id, to) => format!("switch {} {}", part(*id), on(*to)),
        Action::Lever => "lever".to_owned(),
        Action::ForceLatch => "force latch".to_owned(),
        Action::Lockout(to) => format!("lockout {}", on(*to)),
        Action::Lid(LidTo::Shut) => "lid shut".to_owned(),
        Action::Lid(LidTo::FirstCatch) => "lid catch".to_owned(),
        Action::Lid(LidTo::Angle(degrees)) if *degrees == vehicle.lid.full_degrees => "lid up".to_owned(),
        Action::Lid(LidTo::Angle(degrees)) => format!("lid {degrees}"),
        Action::CloseClaw => "claw close".to_owned(),
        Action::Panel(id, true) => format!("take {} off", vehicle.panel(*id).id),
        Action::Panel(id, false) => format!("put {} back", vehicle.panel(*id).id),
        Action::Plug(id, mated) => {
            format!("{} {}", if *mated { "plug" } else { "unplug" }, vehicle.connector(*id).id)
        }
        Action::LookAt(id) => format!("inspect {}", vehicle.connector(*id).id),
        Action::LookAtStud(id) => format!("inspect {}", vehicle.stud(*id).id),
        Action::Tug(id, cavity) => format!("tug {}.{cavity}", vehicle.connector(*id).id),
        Action::OpenTape(id) => format!("tape {}", vehicle.station(*id).id),
        Action::Flex(id) => format!("flex {}", vehicle.station(*id).id),
        Action::Meter(setting) => format!("meter {}", written(&SETTINGS, setting)),
        Action::Capture(to) => format!("capture {}", on(*to)),
        Action::Probe(at_lead, at) => {
            format!("{} {}", lead(*at_lead), at.map_or_else(|| "off".to_owned(), point))
        }
        Action::ProbeHastily(at_lead, at) => format!("{} {} hastily", lead(*at_lead), point(*at)),
        Action::Read => "read".to_owned(),
        Action::ProveMeter => "meter prove".to_owned(),
        Action::MeterFuse => "meter fuse".to_owned(),
        Action::Clip(Tool::TestLamp(LampSize::Five), at) => format!("lamp 5 {}", ends(at)),
        Action::Clip(Tool::TestLamp(LampSize::TwentyOne), at) => format!("lamp 21 {}", ends(at)),
        Action::Clip(Tool::Bridge, at) => format!("bridge {}", ends(at)),
        Action::Clip(Tool::BenchBattery, at) => format!("bench {}", ends(at)),
        Action::Clamp(None) => "clamp off".to_owned(),
        Action::Clamp(Some(ClampPlace::BatteryPlus)) => "clamp battery-plus".to_owned(),
        Action::Clamp(Some(ClampPlace::Station(id, at))) => {
            format!("clamp {} {}", vehicle.conductor(*id).id, vehicle.station(*at).id)
        }
        Action::Clamp(Some(ClampPlace::Cavity(id, half, cavity))) => {
            format!("clamp {}", point(Point::Cavity(*id, *half, *cavity)))
        }
        Action::RecorderLeads(at) => format!("recorder {}", ends(at)),
        Action::Arm(true) => "recorder arm".to_owned(),
        Action::Arm(false) => "recorder disarm".to_owned(),
        Action::Fuse(id, what) => {
            let what = match what {
                FuseWork::Pull => "pull".to_owned(),
                FuseWork::Look => "look".to_owned(),
                FuseWork::PutBack => "back".to_owned(),
                FuseWork::Fit(rating) => format!("fit {rating}"),
            };
            format!("fuse {} {what}", vehicle.fuse(*id).id)
        }
        Action::ReadMemory(id) => format!("memory read {}", part(*id)),
        Action::ClearMemory(id) => format!("memory clear {}", part(*id)),
        Action::Wait(minutes) => format!("wait {minutes}"),
        Action::Tap(id) => format!("tap {}", part(*id)),
        Action::Wet => "wet".to_owned(),
        Action::Dry => "dry".to_owned(),
        Action::Warm(place) => format!("warm {}", place_words(vehicle, *place)),
        Action::Cool(place) => format!("cool {}", place_words(vehicle, *place)),
        Action::Repair(repair) => match *repair {
            Repair::Conductor(conductor, station, how) => format!(
                "{} {} {}",
                if how == Splice::Sound { "splice" } else { "twist" },
                vehicle.conductor(conductor).id,
                vehicle.station(station).id
            ),
            Repair::Terminal(id, cavity) => format!("terminal {}.{cavity}", vehicle.connector(id).id),
            Repair::SwapCavities(id, first, second) => {
                format!("swap {} {first} {second}", vehicle.connector(id).id)
            }
            Repair::Stud(id) => format!("clean {}", vehicle.stud(id).id),
            Repair::Clips(id) => format!("clips {}", vehicle.fuse(id).id),
            Repair::Line(id, row, section) => format!("paint {}.{row}.{section}", part(id)),
            Repair::Part(id) => format!("fit {}", part(id)),
            Repair::KeyCell => "fit key-cell".to_owned(),
            Repair::Key => "fit key".to_owned(),
            Repair::Charge => "charge".to_owned(),
        },
        Action::Name(diagnosis, percent) => {
            format!("name {} {percent}%", diagnosis_words(vehicle, *diagnosis))
        }
        Action::Suspect(diagnosis, percent) => {
            format!("suspect {} {percent}%", diagnosis_words(vehicle, *diagnosis))
        }
        Action::Mark(thing, marking) => {
            format!("mark {} {}", thing_words(vehicle, *thing), written(&MARKINGS, marking))
        }
        Action::Coach(rung) => format!("coach {}", written(&RUNGS, rung)),
        Action::Estimate(units) => format!("estimate {units}"),
        Action::Write(which, said) => {
            let said = if said.trim().is_empty() { NOTHING } else { said };
            format!("write {} {said}", written(&WRITE_UP, which))
        }
        Action::HandIn { refer: false } => "hand in".to_owned(),
        Action::HandIn { refer: true } => "refer".to_owned(),
    }
}

/// A diagnosis in the words of a command.
fn diagnosis_words(vehicle: &Vehicle, diagnosis: Diagnosis) -> String {
    let component = match diagnosis.component {
        Component::Connector(id) => format!("connector {}", vehicle.connector(id).id),
        other => components(vehicle)
            .into_iter()
            .find(|(_, component)| *component == other)
            .map_or_else(String::new, |(name, _)| name),
    };
    let spot = match diagnosis.spot {
        Spot::Whole => String::new(),
        Spot::Station(id) => format!(" at {}", vehicle.station(id).id),
        Spot::Cavity(cavity) => format!(" at {cavity}"),
        Spot::Line(line, section) => format!(" at {line}.{section}"),
    };
    format!("{component} {}{spot}", written(&KINDS, &diagnosis.kind))
}
