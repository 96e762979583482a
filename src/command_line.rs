//! Arguments, and what each command does with them. Exit codes are decided here and nowhere else: 0 done and well,
//! 1 done and the answer is no, 2 it could not be done.

use std::any::Any;
use std::convert::Infallible;
use std::io::{self, BufReader, IsTerminal, Read, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Arc;

use clap::{Args, Parser, Subcommand};
use probeworthy::desk::{Desk, DeskError, Form, Request, read_script};
use probeworthy::diagram::Diagram;
use probeworthy::job::{Choice, Job, JobError, NoJournal};
use probeworthy::learners::{Jobs, Plan, Validity};
use probeworthy::marks::mark_and_debrief;
use probeworthy::practice::{next_jobs, progress, shelf_lessons};
use probeworthy::reasoning::Inquiry;
use probeworthy::record;
use probeworthy::scenario::{
    self, LoadError, Loaded, SHELF, Scenario, Variation, check_file, default_scenario,
};
use probeworthy::survey::{Survey, opens_when_sound, pool_problems};
use probeworthy::threads::{self, in_parallel};
use probeworthy::vehicle::Vehicle;
use probeworthy::words::{self, Language, Texts};
use probeworthy::written::{Problem, SourceFile, report};

use crate::{assessing, papers, picturing};

/// Done, and the answer is no.
pub(crate) const NO: u8 = 1;
/// It could not be done.
pub(crate) const FAILED: u8 = 2;

/// Practise finding electrical faults at the rear of a vehicle. Without a command the game opens.
#[derive(Parser)]
#[command(version, about)]
struct Arguments {
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Subcommand)]
enum Command {
    /// Open the game.
    Play(Play),
    /// Play a job in a terminal.
    Desk(DeskArguments),
    /// Begin a scenario: write a file that can be played and that explains every field.
    New {
        /// The new scenario's name, or its file, which ends in .scenario.ron.
        name: String,
        /// The vehicle, by its name.
        #[arg(long, value_name = "NAME", default_value = "estate")]
        vehicle: String,
    },
    /// For an instructor: open the game beside a scenario's file. It follows what is saved, tries any fault, and changes the
    /// file in a form.
    Author {
        /// The scenario's file.
        file: PathBuf,
    },
    /// Check scenario and vehicle files; of a folder, all below it.
    Check {
        /// Files and folders.
        #[arg(required = true)]
        paths: Vec<PathBuf>,
    },
    /// For an instructor: a sheet of paper for learners, and apart from it one with the answers.
    Handout(HandoutArguments),
    /// A picture of any screen, made without a window or a display.
    Snap(picturing::Snap),
    /// How long the frames of every screen take here, and those on which something moves: the median, the 99th percentile, and
    /// of how many.
    Frames(picturing::Frames),
    /// For a learner: what to practise next, and how far he has come, by his own records.
    Practice {
        /// A folder of records; without it, the one in which jobs are kept.
        #[arg(long, value_name = "FOLDER")]
        records: Option<PathBuf>,
    },
    /// List the scenarios that come with the program.
    Shelf {
        /// Survey each one too: how hard it is, and the minutes of the plan. This takes a while.
        #[arg(long)]
        survey: bool,
        /// Print the table of scenarios/README.md; surveys each one.
        #[arg(long)]
        markdown: bool,
    },
    /// List the faults that a scenario's jobs may hold, with their odds.
    Faults {
        /// A scenario's name, or its file.
        #[arg(default_value = default_scenario())]
        scenario: String,
    },
    /// The wiring diagram of a vehicle, drawn from its file.
    Diagram {
        /// A scenario's or a vehicle's name, or its file.
        #[arg(default_value = default_scenario())]
        vehicle: String,
        /// Write it to this SVG file; without it, to standard output.
        #[arg(long, value_name = "FILE")]
        svg: Option<PathBuf>,
        #[command(flatten)]
        of: OfVariation,
    },
    /// What each step of a job that has been handed in was worth.
    Debrief {
        /// The job's record.
        record: PathBuf,
        #[command(flatten)]
        of_paper: assessing::OfPaper,
        /// Also write a page to this file.
        #[arg(long, value_name = "FILE")]
        html: Option<PathBuf>,
    },
    /// What a job that has been handed in tells whoever did it, in plain words.
    Explain {
        /// The job's record.
        record: PathBuf,
        #[command(flatten)]
        of_paper: assessing::OfPaper,
    },
    /// For an assessor: a class's records on one page.
    Class(assessing::ClassArguments),
    /// Assessment papers: set one, show one, sit one.
    #[command(subcommand)]
    Paper(papers::PaperCommand),
    /// For an assessor: is each record whole, and does it show what the model gives?
    Verify(assessing::Verify),
    /// For an instructor: is this job fair? What its faults and tests are worth, the plan, and how hard it is.
    Survey(SurveyArguments),
    /// For an examiner: do the marks rank machine learners of known skill as their skill does?
    Validity(ValidityArguments),
}

#[derive(Args)]
struct ValidityArguments {
    /// Scenarios' names, or their files.
    #[arg(default_value = default_scenario())]
    scenarios: Vec<String>,
    /// Every learner plays so many jobs, drawn by odds; without it, one of each fault, which counts by its odds.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u64).range(2..=100_000))]
    jobs: Option<u64>,
    /// Draws the jobs and all that is left to chance.
    #[arg(long, value_name = "N", default_value_t = 1, allow_negative_numbers = true)]
    seed: u64,
    /// The share of acts whose showing is taken for another, from 0 to 1.
    #[arg(long, value_name = "SHARE", default_value_t = 0.0, value_parser = share, allow_negative_numbers = true)]
    misread: f64,
    /// Print one JSON object a scenario.
    #[arg(long)]
    json: bool,
    /// Share the work among so many threads; without it, as many as the machine has. Changes nothing but the time.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=256))]
    threads: Option<u16>,
}

/// A share from 0 to 1.
fn share(text: &str) -> Result<f64, String> {
    let within = text.parse().ok().filter(|share: &f64| (0.0..=1.0).contains(share));
    within.ok_or_else(|| "write a number from 0 to 1, such as 0.05".to_owned())
}

/// Which variation of a scenario something is of.
#[derive(Args)]
struct OfVariation {
    /// Of this variation of the scenario; without it, as its file has it.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=i64::from(Variation::COUNT)))]
    variation: Option<u16>,
    /// Of the variation that jobs of this seed have.
    #[arg(long, value_name = "N", conflicts_with = "variation", allow_negative_numbers = true)]
    seed: Option<u64>,
}

impl OfVariation {
    fn is_asked_for(&self) -> bool {
        self.variation.is_some() || self.seed.is_some()
    }

    fn applied_to(&self, scenario: Scenario) -> Scenario {
        let of_seed = self.seed.map(Variation::of_seed);
        match self.variation.and_then(Variation::numbered).or(of_seed) {
            Some(variation) => scenario.in_variation(variation),
            None => scenario,
        }
    }
}

#[derive(Args)]
struct SurveyArguments {
    /// A scenario's name, or its file.
    #[arg(default_value = default_scenario())]
    scenario: String,
    #[command(flatten)]
    of: OfVariation,
    /// Print one JSON object.
    #[arg(long)]
    json: bool,
    /// Also write a page with the whole plan to this file.
    #[arg(long, value_name = "FILE")]
    html: Option<PathBuf>,
    /// Share the work among so many threads; without it, as many as the machine has. Changes nothing but the time.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=256))]
    threads: Option<u16>,
}

#[derive(Args)]
struct HandoutArguments {
    /// A scenario's name, or its file.
    scenario: String,
    #[command(flatten)]
    of: OfVariation,
    /// The learners' sheet; the instructor's is written beside it, its name ending in -instructor.html.
    #[arg(long, value_name = "FILE.html")]
    out: PathBuf,
    /// Write over sheets that are there already.
    #[arg(long)]
    replace: bool,
    /// Share the work among so many threads; without it, as many as the machine has. Changes nothing but the time.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=256))]
    threads: Option<u16>,
}

/// How a job varies beyond its fault.
#[derive(Args, Default)]
struct VariedArguments {
    /// Let the seed choose nothing but the fault: all else is as the scenario's file has it.
    #[arg(long, conflicts_with = "variation")]
    as_written: bool,
    /// For an instructor: this variation of the scenario, whatever the seed.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=i64::from(Variation::COUNT)))]
    variation: Option<u16>,
}

impl VariedArguments {
    fn are_given(&self) -> bool {
        self.as_written || self.variation.is_some()
    }

    /// The scenario as these arguments and the seed have it.
    fn applied_to(&self, scenario: &Scenario, seed: u64) -> Scenario {
        match self.variation.and_then(Variation::numbered) {
            Some(variation) => scenario.in_variation(variation),
            None if self.as_written => scenario.all_fixed(),
            None => scenario.for_seed(seed),
        }
    }
}

#[derive(Args, Default)]
struct Play {
    /// A scenario's name, or its file: its job begins at once. Without it the board is seen first.
    scenario: Option<String>,
    /// Draws the fault: the same number, the same job. Without a scenario, of the first one.
    #[arg(long, value_name = "N", allow_negative_numbers = true)]
    seed: Option<u64>,
    #[command(flatten)]
    varied: VariedArguments,
    /// Begin a job at once, without a scenario one of the first.
    #[arg(long)]
    fresh: bool,
    /// Begin with the acts of this script.
    #[arg(long, value_name = "FILE")]
    script: Option<PathBuf>,
    /// The window's language, en or de; else the one of its settings.
    #[arg(long, value_name = "TAG", value_parser = picturing::language)]
    language: Option<Language>,
}

#[derive(Args)]
struct DeskArguments {
    /// A scenario's name, or its file.
    #[arg(default_value = default_scenario(), conflicts_with = "resume")]
    scenario: String,
    /// Draws the fault: the same number, the same job.
    #[arg(long, value_name = "N", conflicts_with = "resume", allow_negative_numbers = true)]
    seed: Option<u64>,
    /// For an instructor: this fault of the pool, instead of a draw. Without --variation all else is as the file has it.
    #[arg(long, value_name = "FAULT", conflicts_with = "resume")]
    fault: Option<String>,
    #[command(flatten)]
    varied: VariedArguments,
    /// Take the commands from a file; - is standard input.
    #[arg(long, value_name = "FILE")]
    script: Option<PathBuf>,
    /// Print one JSON object a step.
    #[arg(long)]
    json: bool,
    /// Say everything but commands, help and lists in this language, en or de; JSON is English.
    #[arg(long, value_name = "TAG", default_value = "en", value_parser = picturing::language)]
    language: Language,
    /// Keep the job in this file (a typed job is kept in the user's data folder; a script's is not kept).
    #[arg(long, value_name = "FILE", conflicts_with_all = ["resume", "no_record"])]
    record: Option<PathBuf>,
    /// Do not keep the job.
    #[arg(long)]
    no_record: bool,
    /// Go on with the job in this file; without a file, with the last one that was left.
    #[arg(long, value_name = "FILE", num_args = 0..=1, conflicts_with_all = ["as_written", "variation"])]
    resume: Option<Option<PathBuf>>,
}

/// What ends a command early: one clear message. None is needed where whoever read the output has seen enough.
pub(crate) struct Failure(Option<String>);

impl Failure {
    pub(crate) fn new(message: impl Into<String>) -> Self {
        Self(Some(message.into()))
    }
}

impl<E: std::error::Error + 'static> From<E> for Failure {
    fn from(error: E) -> Self {
        let io = (&error as &dyn Any).downcast_ref::<io::Error>();
        let seen_enough = io.is_some_and(|error| error.kind() == io::ErrorKind::BrokenPipe);
        Self((!seen_enough).then(|| error.to_string()))
    }
}

pub(crate) fn main() -> ExitCode {
    // Clap prints its own message and ends with 2 on a wrong argument, 0 on help.
    let arguments = Arguments::parse();
    let done = match arguments.command {
        None => play(&Play::default()),
        Some(Command::Play(arguments)) => play(&arguments),
        Some(Command::Desk(arguments)) => desk(&arguments),
        Some(Command::New { name, vehicle }) => new(&name, &vehicle),
        Some(Command::Author { file }) => author(&file),
        Some(Command::Check { paths }) => check(&paths),
        Some(Command::Handout(arguments)) => handout(&arguments),
        Some(Command::Snap(arguments)) => picturing::snap(&arguments),
        Some(Command::Frames(arguments)) => picturing::frames(&arguments),
        Some(Command::Practice { records }) => practise(records),
        Some(Command::Shelf { survey, markdown }) => shelf(survey, markdown),
        Some(Command::Faults { scenario }) => faults(&scenario),
        Some(Command::Diagram { vehicle, svg, of }) => diagram(&vehicle, svg.as_deref(), &of),
        Some(Command::Debrief { record, of_paper, html }) => debrief(&record, &of_paper, html.as_deref()),
        Some(Command::Explain { record, of_paper }) => assessing::explain(&record, &of_paper),
        Some(Command::Class(arguments)) => assessing::class(&arguments),
        Some(Command::Paper(command)) => papers::run(&command),
        Some(Command::Verify(arguments)) => assessing::verify(&arguments),
        Some(Command::Survey(arguments)) => survey(&arguments),
        Some(Command::Validity(arguments)) => validity(&arguments),
    };
    match done {
        Ok(code) => code,
        Err(Failure(None)) => ExitCode::SUCCESS,
        Err(Failure(Some(message))) => {
            // Nothing is left to be done where even standard error is closed.
            let _ = writeln!(io::stderr(), "{message}");
            ExitCode::from(FAILED)
        }
    }
}

impl Play {
    /// A job is to begin at once: something is said of it, or of what is to be done in it.
    fn asks_for_a_job(&self) -> bool {
        self.scenario.is_some()
            || self.seed.is_some()
            || self.fresh
            || self.varied.are_given()
            || self.script.is_some()
    }
}

/// A seed where none was given: from the randomness that the standard library seeds its maps with.
fn any_seed() -> u64 {
    use std::hash::{BuildHasher, Hasher, RandomState};
    // Short enough to be read out across a workshop.
    RandomState::new().build_hasher().finish() % 1_000_000
}

#[cfg(feature = "game")]
fn play(arguments: &Play) -> Result<ExitCode, Failure> {
    let name = arguments.scenario.as_deref().unwrap_or(default_scenario());
    let loaded = scenario::load(name)?;
    let requests = match &arguments.script {
        Some(path) => script(path, &loaded.scenario.vehicle)?,
        None => Vec::new(),
    };
    // Only acts have a place in a window.
    let acts = requests.into_iter().filter_map(|request| match request {
        Request::Act(action) => Some(action),
        _ => None,
    });
    let acts: Vec<_> = acts.collect();
    let seed = arguments.seed.unwrap_or_else(any_seed);
    crate::game::run(crate::game::Options {
        scenario: Arc::new(arguments.varied.applied_to(&loaded.scenario, seed)),
        scenario_name: Some(absolute_name(name)),
        seed,
        fresh: arguments.asks_for_a_job(),
        acts,
        language: arguments.language,
    })?;
    Ok(ExitCode::SUCCESS)
}

#[cfg(not(feature = "game"))]
fn play(arguments: &Play) -> Result<ExitCode, Failure> {
    let _ = (arguments.asks_for_a_job(), any_seed, &arguments.language);
    Err(Failure::new(format!(
        "this program was built without its window; `probeworthy desk {}` plays the same job in a terminal",
        arguments.scenario.as_deref().unwrap_or(default_scenario())
    )))
}

/// A file's scenario, to be written on: the shelf's own are in the program and cannot be changed.
fn author(file: &Path) -> Result<ExitCode, Failure> {
    let name = file.to_string_lossy();
    if !file.exists() && SHELF.iter().any(|shelf| shelf.id == name) {
        return Err(Failure::new(format!(
            "\"{name}\" comes with the program and has no file to write in\nhint: `probeworthy new NAME` writes one of your own"
        )));
    }
    if !file.exists() {
        return Err(Failure::new(format!(
            "{name}: there is no such file\nhint: `probeworthy new {name}` writes one to begin with"
        )));
    }
    open_beside(scenario::load(&name)?)
}

#[cfg(feature = "game")]
fn open_beside(loaded: Loaded) -> Result<ExitCode, Failure> {
    crate::game::write(loaded)?;
    Ok(ExitCode::SUCCESS)
}

#[cfg(not(feature = "game"))]
fn open_beside(loaded: Loaded) -> Result<ExitCode, Failure> {
    let file = loaded.file.path.display();
    Err(Failure::new(format!(
        "this program was built without its window; `probeworthy check {file}` tells what is wrong with the file"
    )))
}

fn desk(arguments: &DeskArguments) -> Result<ExitCode, Failure> {
    let (job, recorder) = match &arguments.resume {
        Some(file) => resumed(file.as_deref())?,
        None => begun(arguments)?,
    };
    let script = match &arguments.script {
        Some(path) => Some(script(path, &job.scenario().vehicle)?),
        None => None,
    };
    // The record of a new job is made only now: a script with a mistake in it leaves nothing behind.
    let mut nothing = NoJournal;
    let mut recorder = match recorder {
        Some(recorder) => Some(recorder),
        None => new_record(arguments, &job)?,
    };
    let journal: &mut dyn record::Keeper = match &mut recorder {
        Some(recorder) => recorder,
        None => &mut nothing,
    };
    at_the_desk(job, journal, script, arguments.json, arguments.language)
}

/// Plays a job at the desk: what was read beforehand, or what is typed.
pub(crate) fn at_the_desk(
    job: Job,
    journal: &mut dyn record::Keeper,
    script: Option<Vec<Request>>,
    json: bool,
    language: Language,
) -> Result<ExitCode, Failure> {
    let form = if json { Form::Json } else { Form::Text };
    let (mut out, mut aside) = (io::stdout().lock(), io::stderr().lock());
    let mut desk = Desk::new(job, journal, form, &mut out, &mut aside).speaking(Texts::of(language));
    let done = desk.greet().and_then(|()| match script {
        Some(requests) => desk.play(requests),
        None => {
            let stdin = io::stdin();
            let prompt = if stdin.is_terminal() && !json { "> " } else { "" };
            desk.converse(&mut BufReader::new(stdin.lock()), prompt)
        }
    });
    match done {
        Err(DeskError::Terminal(why)) => Err(why.into()),
        other => other.map(|()| ExitCode::SUCCESS).map_err(Failure::from),
    }
}

fn begun(arguments: &DeskArguments) -> Result<(Job, Option<record::Recorder>), Failure> {
    let loaded = scenario::load(&arguments.scenario)?;
    let choice = arguments.fault.clone().map_or(Choice::Drawn, Choice::Named);
    let seed = arguments.seed.unwrap_or_else(any_seed);
    // Whoever names a fault wants that one, in the place that its name tells.
    let as_named = choice != Choice::Drawn && arguments.varied.variation.is_none();
    let scenario =
        if as_named { loaded.scenario } else { arguments.varied.applied_to(&loaded.scenario, seed) };
    Ok((Job::new(Arc::new(scenario), seed, choice)?, None))
}

fn resumed(file: Option<&Path>) -> Result<(Job, Option<record::Recorder>), Failure> {
    let path = match file {
        Some(path) => path.to_owned(),
        None => record::default_folder().as_deref().and_then(record::last_unfinished).ok_or_else(|| {
            Failure::new("no job was left unfinished\nhint: name a record's file after --resume".to_owned())
        })?,
    };
    let (job, recorder, _) = record::resume(&path)?;
    Ok((job, Some(recorder)))
}

fn new_record(arguments: &DeskArguments, job: &Job) -> Result<Option<record::Recorder>, Failure> {
    if arguments.no_record || (arguments.script.is_some() && arguments.record.is_none()) {
        return Ok(None);
    }
    let folder = match (&arguments.record, record::default_folder()) {
        (_, Some(folder)) => folder,
        (Some(_), None) => PathBuf::new(),
        (None, None) => {
            return Err(Failure::new(
                "there is no folder for your data\nhint: name a file with --record, or use --no-record"
                    .to_owned(),
            ));
        }
    };
    // A relative scenario file is named from where the program was started; a record is resumed from anywhere.
    let name = absolute_name(&arguments.scenario);
    Ok(Some(record::start(job, &name, &folder, arguments.record.as_deref())?))
}

/// A shelf name as it is, a file by its absolute path.
pub(crate) fn absolute_name(scenario: &str) -> String {
    let path = Path::new(scenario);
    if SHELF.iter().all(|shelf| shelf.id != scenario)
        && path.exists()
        && let Ok(absolute) = std::path::absolute(path)
    {
        return absolute.to_string_lossy().into_owned();
    }
    scenario.to_owned()
}

/// Reads and checks a whole script.
pub(crate) fn script(path: &Path, vehicle: &Vehicle) -> Result<Vec<Request>, Failure> {
    let file = if path == Path::new("-") {
        let mut bytes = Vec::new();
        io::stdin().read_to_end(&mut bytes)?;
        let text = String::from_utf8(bytes).map_err(|_| {
            Failure::new("standard input: this is not UTF-8 text\nhint: save the script as UTF-8".to_owned())
        })?;
        SourceFile::new("standard input", &text)
    } else {
        SourceFile::read(path)?
    };
    read_script(vehicle, &file.text).map_err(|errors| {
        let lines: Vec<String> = errors
            .iter()
            .map(|error| {
                let (line, column) = (error.line, error.error.column);
                format!(
                    "{}:{line}:{column}: {}\nhint: {}",
                    file.path.display(),
                    error.error.what,
                    error.error.hint
                )
            })
            .collect();
        Failure::new(lines.join("\n"))
    })
}

/// What the name of every scenario file ends in.
const SCENARIO_ENDING: &str = ".scenario.ron";

fn new(name: &str, vehicle: &str) -> Result<ExitCode, Failure> {
    let path = match name.strip_suffix(SCENARIO_ENDING) {
        Some(_) => PathBuf::from(name),
        None => PathBuf::from(format!("{name}{SCENARIO_ENDING}")),
    };
    let file = path.file_name().map(|file| file.to_string_lossy().into_owned()).unwrap_or_default();
    // Before anything is worked out: the file is made only once its text is whole.
    if path.exists() {
        return Err(there_already(&path));
    }
    let text = words::starter(&path, file.trim_end_matches(SCENARIO_ENDING), vehicle)?;
    let cannot = |why: io::Error| match why.kind() {
        io::ErrorKind::AlreadyExists => there_already(&path),
        _ => Failure::new(format!(
            "{}: the file cannot be written ({why})\nhint: name a folder that is there and that you may write to",
            path.display()
        )),
    };
    let mut made = std::fs::File::create_new(&path).map_err(cannot)?;
    made.write_all(text.as_bytes()).map_err(cannot)?;
    writeln!(io::stdout(), "{0} is written\nnext: probeworthy check {0}", path.display())?;
    Ok(ExitCode::SUCCESS)
}

fn there_already(path: &Path) -> Failure {
    Failure::new(format!("{}: there is such a file already\nhint: choose another name", path.display()))
}

fn check(paths: &[PathBuf]) -> Result<ExitCode, Failure> {
    let mut files = Vec::new();
    for path in paths {
        collect(path, &mut files)?;
    }
    if files.is_empty() {
        return Err(Failure::new(
            "there is nothing to check\nhint: scenario files end in .scenario.ron, vehicle files in .vehicle.ron".to_owned(),
        ));
    }
    let mut unreadable = 0;
    let mut out = io::stdout().lock();
    // A vehicle's problems show again under each of its scenarios: once is enough.
    let mut shown = std::collections::BTreeSet::new();
    let mut show = |file: &SourceFile, problem: &Problem| {
        let text = report(file, problem, false);
        if shown.contains(&text) {
            return Ok(());
        }
        writeln!(out, "{text}\n")?;
        shown.insert(text);
        io::Result::Ok(())
    };
    // Files are checked at once, and told in their order.
    let judged = in_parallel(&files, threads::available(), |path| {
        Ok::<_, Infallible>(check_file(path).map(|read| read.map(|loaded| (pool_problems(&loaded), loaded))))
    });
    let Ok(judged) = judged;
    for checked in judged {
        match checked {
            Ok(None) => {}
            Ok(Some((problems, loaded))) => {
                problems.iter().try_for_each(|problem| show(&loaded.file, problem))?;
            }
            Err(LoadError::Problems(bad)) => {
                for file in &bad {
                    file.problems.iter().try_for_each(|problem| show(&file.file, problem))?;
                }
            }
            Err(error) => {
                unreadable += 1;
                writeln!(io::stderr(), "{error}")?;
            }
        }
    }
    let found = shown.len();
    let checked = files.len() - unreadable;
    let files = if checked == 1 { "1 file".to_owned() } else { format!("{checked} files") };
    match found {
        _ if checked == 0 => {}
        0 => writeln!(out, "{files} checked, no problem")?,
        1 => writeln!(out, "{files} checked, 1 problem")?,
        _ => writeln!(out, "{files} checked, {found} problems")?,
    }
    Ok(match (unreadable > 0, found) {
        (true, _) => ExitCode::from(FAILED),
        (false, 0) => ExitCode::SUCCESS,
        (false, _) => ExitCode::from(NO),
    })
}

/// A file, or all scenario and vehicle files below a folder, in the order of their names.
fn collect(path: &Path, files: &mut Vec<PathBuf>) -> Result<(), Failure> {
    if !path.is_dir() {
        files.push(path.to_owned());
        return Ok(());
    }
    let fail = |why: io::Error| {
        Failure::new(format!("{}: {why}\nhint: name a folder that can be read", path.display()))
    };
    let mut entries: Vec<PathBuf> = std::fs::read_dir(path)
        .map_err(fail)?
        .map(|entry| entry.map(|entry| entry.path()))
        .collect::<Result<_, _>>()
        .map_err(fail)?;
    entries.sort();
    for entry in entries {
        let name = entry.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
        // A link to a folder may lead back to where it came from.
        if entry.is_dir() && !entry.is_symlink() {
            collect(&entry, files)?;
        } else if name.ends_with(".scenario.ron") || name.ends_with(".vehicle.ron") {
            files.push(entry);
        }
    }
    Ok(())
}

/// So many jobs are suggested.
const SUGGESTED: usize = 5;

/// Suggests jobs by a folder of records, and tells progress.
fn practise(records: Option<PathBuf>) -> Result<ExitCode, Failure> {
    if let Some(folder) = records.as_deref().filter(|folder| !folder.is_dir()) {
        return Err(Failure::new(format!(
            "{}: there is no such folder\nhint: name the folder that holds a learner's records",
            folder.display()
        )));
    }
    let done =
        records.or_else(record::default_folder).map(|folder| record::history(&folder)).unwrap_or_default();
    let lessons = shelf_lessons();
    let next = next_jobs(&lessons, &done, SUGGESTED);
    write!(io::stdout().lock(), "{}", words::practice_text(&lessons, &next, &progress(&done), &done))?;
    Ok(ExitCode::SUCCESS)
}

/// Lists the shelf; what takes a survey is worked out here and now, and stored nowhere.
fn shelf(with_survey: bool, markdown: bool) -> Result<ExitCode, Failure> {
    let mut out = io::stdout().lock();
    if markdown {
        write!(out, "{}", words::shelf_table_head())?;
    }
    for shelved in SHELF {
        let scenario = scenario::load(shelved.id)?.scenario;
        let line = words::shelf_line(&scenario);
        if !with_survey && !markdown {
            writeln!(out, "{line}")?;
            continue;
        }
        let survey = Survey::new(Arc::new(scenario), threads::available()).map_err(|why| {
            Failure::new(format!(
                "{}: a circuit has no solution: {why}\nhint: `probeworthy check` it",
                shelved.id
            ))
        })?;
        if markdown {
            write!(out, "{}", words::shelf_row(&survey))?;
        } else {
            writeln!(out, "{line} ({})", words::shelf_figures(&survey))?;
        }
        out.flush()?;
    }
    Ok(ExitCode::SUCCESS)
}

fn faults(name: &str) -> Result<ExitCode, Failure> {
    let scenario = scenario::load(name)?.scenario;
    let whole: u64 = scenario.faults.iter().map(|fault| fault.weight).sum();
    let mut out = io::stdout().lock();
    for fault in &scenario.faults {
        let percent = 100.0 * fault.weight as f64 / whole as f64;
        writeln!(
            out,
            "{percent:>5.1} %  {:<48} {}",
            fault.id,
            words::fault_title(words::Texts::english(), &scenario.vehicle, fault)
        )?;
    }
    Ok(ExitCode::SUCCESS)
}

fn diagram(name: &str, file: Option<&Path>, of: &OfVariation) -> Result<ExitCode, Failure> {
    // Only a scenario varies: which of a vehicle's cavities do is the same in all of them, but a scenario may fix them.
    let vehicle = match of.is_asked_for() {
        true => of.applied_to(scenario::load(name)?.scenario).vehicle,
        false => scenario::load_vehicle(name)?,
    };
    let svg = words::diagram_svg(&vehicle, &Diagram::of(&vehicle, &words::diagram_names(Texts::english())));
    match file {
        Some(file) => write_page(file, svg)?,
        None => io::stdout().lock().write_all(svg.as_bytes())?,
    }
    Ok(ExitCode::SUCCESS)
}

fn debrief(path: &Path, of_paper: &assessing::OfPaper, page: Option<&Path>) -> Result<ExitCode, Failure> {
    let job = assessing::finished(path, of_paper)?;
    let fresh = Inquiry::new(Arc::clone(job.scenario()), threads::available()).map_err(JobError::from)?;
    let Some((marks, debrief)) = mark_and_debrief(&job, &fresh)? else { return Ok(ExitCode::from(NO)) };
    if let Some(page) = page {
        write_page(page, words::debrief_html(&job, &marks, &debrief))?;
    }
    let mut out = io::stdout().lock();
    write!(
        out,
        "{}{}",
        words::result_text(Texts::english(), &job, &marks),
        words::debrief_text(Texts::english(), &job, &marks, &debrief)
    )?;
    Ok(ExitCode::SUCCESS)
}

fn write_page(path: &Path, page: String) -> Result<(), Failure> {
    std::fs::write(path, page).map_err(|why| {
        Failure::new(format!("{}: {why}\nhint: name a file that can be written", path.display()))
    })
}

fn must_open_when_sound(loaded: &Loaded) -> Result<(), Failure> {
    opens_when_sound(&loaded.scenario).map_err(|why| {
        Failure::new(format!(
            "{}: {why}\nhint: `probeworthy check` shows the place in the file",
            loaded.file.path.display()
        ))
    })
}

fn validity(arguments: &ValidityArguments) -> Result<ExitCode, Failure> {
    let plan = Plan {
        jobs: arguments.jobs.map_or(Jobs::EachFault, Jobs::Drawn),
        seed: arguments.seed,
        misread_share: arguments.misread,
        threads: arguments.threads.map_or_else(threads::available, usize::from),
    };
    // A mistake in the last one is told before the first is played.
    let loaded =
        arguments.scenarios.iter().map(|name| scenario::load(name)).collect::<Result<Vec<_>, _>>()?;
    loaded.iter().try_for_each(must_open_when_sound)?;
    let mut out = io::stdout().lock();
    for (at, loaded) in loaded.into_iter().enumerate() {
        let validity = Validity::of(Arc::new(loaded.scenario), plan)?;
        if arguments.json {
            writeln!(out, "{}", words::validity_json(&validity, &plan)?)?;
        } else {
            let gap = if at > 0 { "\n" } else { "" };
            write!(out, "{gap}{}", words::validity_text(&validity, &plan))?;
        }
    }
    Ok(ExitCode::SUCCESS)
}

fn handout(arguments: &HandoutArguments) -> Result<ExitCode, Failure> {
    let out = &arguments.out;
    let name = out.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    let Some(stem) = name.strip_suffix(".html").filter(|stem| !stem.is_empty()) else {
        return Err(Failure::new(format!(
            "{}: a sheet is a page for a browser\nhint: let its name end in .html",
            out.display()
        )));
    };
    let instructors = out.with_file_name(format!("{stem}-instructor.html"));
    // Before anything is worked out, which takes seconds.
    if let Some(there) = [out, &instructors].into_iter().find(|path| !arguments.replace && path.exists()) {
        return Err(Failure::new(format!(
            "{}: there is such a file already\nhint: choose another name, or write over both sheets with --replace",
            there.display()
        )));
    }
    let mut loaded = scenario::load(&arguments.scenario)?;
    loaded.scenario = arguments.of.applied_to(loaded.scenario);
    must_open_when_sound(&loaded)?;
    let learners = words::learner_sheet(&loaded.scenario);
    let threads = arguments.threads.map_or_else(threads::available, usize::from);
    let sheet = Survey::new(Arc::new(loaded.scenario), threads)
        .and_then(|survey| words::instructor_sheet(&survey, &arguments.scenario));
    let sheet = sheet.map_err(|why| unsolved(&loaded.file, why))?;
    write_page(&instructors, sheet)?;
    write_page(out, learners)?;
    writeln!(io::stdout(), "{} for learners\n{} for you", out.display(), instructors.display())?;
    Ok(ExitCode::SUCCESS)
}

fn unsolved(file: &SourceFile, why: impl std::fmt::Display) -> Failure {
    Failure::new(format!(
        "{}: a circuit has no solution: {why}\nhint: `probeworthy check` tells with which fault",
        file.path.display()
    ))
}

fn survey(arguments: &SurveyArguments) -> Result<ExitCode, Failure> {
    let mut loaded = scenario::load(&arguments.scenario)?;
    loaded.scenario = arguments.of.applied_to(loaded.scenario);
    must_open_when_sound(&loaded)?;
    let threads = arguments.threads.map_or_else(threads::available, usize::from);
    #[expect(
        clippy::disallowed_methods,
        reason = "only told to the reader; nothing of the survey hangs on it"
    )]
    let since = std::time::Instant::now();
    let survey =
        Survey::new(Arc::new(loaded.scenario), threads).map_err(|why| unsolved(&loaded.file, why))?;
    let elapsed_ms = u64::try_from(since.elapsed().as_millis()).unwrap_or(u64::MAX);
    if let Some(path) = &arguments.html {
        write_page(path, words::survey_html(&survey))?;
    }
    let mut out = io::stdout().lock();
    if arguments.json {
        writeln!(out, "{}", words::survey_json(&survey, elapsed_ms)?)?;
    } else {
        let seconds = elapsed_ms as f64 / 1000.0;
        write!(out, "{}", words::survey_text(&survey))?;
        writeln!(out, "\n{} readings worked out, {seconds:.1} s", survey.readings)?;
    }
    Ok(ExitCode::SUCCESS)
}
