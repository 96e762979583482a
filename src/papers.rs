//! The commands about assessment papers.

use std::collections::BTreeSet;
use std::io::{self, BufRead, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Arc;

use clap::{Args, Subcommand, ValueEnum};
use probeworthy::bench::KitItem;
use probeworthy::paper::{
    Candidate, Hardness, Paper, PaperError, PaperJob, PaperKey, PaperScenario, Pick, Seeds, Terms,
    pick_seeds, random_salt, random_seed,
};
use probeworthy::record;
use probeworthy::scenario::{self, Scenario, default_scenario};
use probeworthy::survey::Survey;
use probeworthy::threads;
use probeworthy::words;

use crate::command_line::{Failure, at_the_desk, script};

/// Letters that a passphrase has at least.
const LEAST_LETTERS: usize = 8;

#[derive(Subcommand)]
pub(crate) enum PaperCommand {
    /// Set a paper: for whom, which scenarios, under which terms; the draws are sealed by a passphrase.
    New(Box<NewPaper>),
    /// Show a paper's terms and candidates; with --answers, for whoever set it, also what each has to find.
    Show {
        /// The paper.
        paper: PathBuf,
        /// Open it and say what each candidate has to find.
        #[arg(long)]
        answers: bool,
        #[command(flatten)]
        passphrase: Passphrase,
    },
    /// Sit a paper at the text desk: begin a job of it, or go on with the one that was left.
    Sit(Sit),
}

/// Where a passphrase comes from. It is never an argument: those can be read by others.
#[derive(Args)]
pub(crate) struct Passphrase {
    /// Take the passphrase from the first line of this file; - is standard input. Without it, it is asked for.
    #[arg(long = "passphrase", value_name = "FILE")]
    file: Option<PathBuf>,
}

/// Which draws the candidates get.
#[derive(Clone, Copy, ValueEnum)]
enum SeedsArgument {
    /// One draw for all.
    Same,
    /// A draw each, of equal difficulty.
    Each,
}

#[derive(Args)]
pub(crate) struct NewPaper {
    /// The paper's file.
    #[arg(long, value_name = "FILE")]
    out: PathBuf,
    /// What the paper is called.
    #[arg(long, default_value = "Assessment")]
    title: String,
    /// A scenario's name, or its file; once for each job.
    #[arg(long = "scenario", value_name = "SCENARIO", default_value = default_scenario())]
    scenarios: Vec<String>,
    /// A candidate's name; once for each.
    #[arg(long = "candidate", value_name = "NAME")]
    candidates: Vec<String>,
    /// Candidates' names from this file, one a line.
    #[arg(long, value_name = "FILE")]
    names: Option<PathBuf>,
    /// So many candidates, named 1, 2, 3 and so on.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=10_000))]
    numbered: Option<u32>,
    /// One draw for all, or a draw each.
    #[arg(long, value_enum, default_value_t = SeedsArgument::Each)]
    seeds: SeedsArgument,
    /// Only faults whose plan takes within so many percent of the minutes of the middle one.
    #[arg(long, value_name = "PERCENT", default_value_t = 25.0, value_parser = percent)]
    band: f64,
    /// Real minutes for each job.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=10_000))]
    minutes: Option<u32>,
    /// How often each job may be begun.
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = clap::value_parser!(u8).range(1..=20))]
    attempts: u8,
    /// Instruments that may be used, with commas between: meter, lamp, bridge, bench, clamp, recorder, or none.
    #[arg(long, value_name = "LIST")]
    instruments: Option<String>,
    /// Let the draws choose nothing but the fault: all else is as the scenarios' files have it.
    #[arg(long)]
    as_written: bool,
    #[command(flatten)]
    passphrase: Passphrase,
}

#[derive(Args)]
pub(crate) struct Sit {
    /// The paper.
    paper: PathBuf,
    /// Your name, as the paper has it.
    #[arg(long = "as", value_name = "NAME")]
    candidate: String,
    /// This job of the paper; without it, the first that has not been handed in.
    #[arg(long, value_name = "N")]
    job: Option<usize>,
    /// Keep the records in this folder; without it, in the user's data folder.
    #[arg(long, value_name = "FOLDER")]
    records: Option<PathBuf>,
    /// Sit it in the window instead of at the text desk.
    #[arg(long, conflicts_with_all = ["script", "json"])]
    window: bool,
    /// Take the commands from a file; - is standard input.
    #[arg(long, value_name = "FILE")]
    script: Option<PathBuf>,
    /// Print one JSON object a step.
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    passphrase: Passphrase,
}

fn percent(text: &str) -> Result<f64, String> {
    let within = text.parse().ok().filter(|percent: &f64| (1.0..=1000.0).contains(percent));
    within.ok_or_else(|| "write a number from 1 to 1000, such as 25".to_owned())
}

impl Passphrase {
    fn is_given(&self) -> bool {
        self.file.is_some()
    }

    /// The passphrase; asked for `twice` where a slip would lock the paper for good.
    fn get(&self, twice: bool) -> Result<String, Failure> {
        let cannot = |from: &dyn std::fmt::Display, why: &dyn std::fmt::Display| {
            Failure::new(format!(
                "{from}: the passphrase cannot be read ({why})\nhint: name a file whose first line it is with --passphrase FILE, or - for standard input"
            ))
        };
        let line = match &self.file {
            Some(path) if path == Path::new("-") => {
                let mut line = Vec::new();
                // Byte by byte as far as it goes: what follows may be commands.
                io::stdin().lock().read_until(b'\n', &mut line)?;
                String::from_utf8(line).map_err(|why| cannot(&"standard input", &why))?
            }
            Some(path) => std::fs::read_to_string(path).map_err(|why| cannot(&path.display(), &why))?,
            None => {
                let ask = |what: &str| {
                    rpassword::prompt_password(what).map_err(|why| cannot(&"the terminal", &why))
                };
                let first = ask("Passphrase: ")?;
                if twice && ask("The same again: ")? != first {
                    return Err(Failure::new("the two are not the same\nhint: type it once more"));
                }
                first
            }
        };
        let passphrase = line.lines().next().unwrap_or_default().to_owned();
        if passphrase.is_empty() {
            return Err(Failure::new("the passphrase is empty\nhint: it is the first line of what is read"));
        }
        Ok(passphrase)
    }
}

/// Reads a paper and opens it.
pub(crate) fn opened(path: &Path, passphrase: &Passphrase) -> Result<(Paper, PaperKey), Failure> {
    let paper = Paper::read(path)?;
    let key = paper.open(&passphrase.get(false)?, path)?;
    Ok((paper, key))
}

pub(crate) fn run(command: &PaperCommand) -> Result<ExitCode, Failure> {
    match command {
        PaperCommand::New(arguments) => new(arguments),
        PaperCommand::Show { answers: false, passphrase, .. } if passphrase.is_given() => Err(Failure::new(
            "nothing here needs the passphrase\nhint: add --answers to open the paper".to_owned(),
        )),
        PaperCommand::Show { paper, answers, passphrase } => show(paper, answers.then_some(passphrase)),
        PaperCommand::Sit(arguments) => sit(arguments),
    }
}

/// The candidates' names, in order.
fn names(arguments: &NewPaper) -> Result<Vec<String>, Failure> {
    let mut names = arguments.candidates.clone();
    if let Some(path) = &arguments.names {
        let text = std::fs::read_to_string(path).map_err(|why| {
            Failure::new(format!("{}: {why}\nhint: name a file with one name a line", path.display()))
        })?;
        names.extend(text.lines().filter(|line| !line.trim().is_empty()).map(str::to_owned));
    }
    names.extend((1..=arguments.numbered.unwrap_or(0)).map(|number| number.to_string()));
    let mut seen = BTreeSet::new();
    if let Some(twice) = names.iter().find(|name| !seen.insert(name.as_str())) {
        return Err(Failure::new(format!(
            "the candidate \"{twice}\" is named twice\nhint: give each a name of their own"
        )));
    }
    if names.is_empty() || names.iter().any(|name| name.trim().is_empty()) {
        let what = if names.is_empty() { "nobody is to sit this paper" } else { "a candidate has no name" };
        return Err(Failure::new(format!(
            "{what}\nhint: use --candidate NAME, --names FILE or --numbered N"
        )));
    }
    Ok(names)
}

fn instruments(list: Option<&str>) -> Result<Vec<KitItem>, Failure> {
    let Some(list) = list else { return Ok(KitItem::ALL.to_vec()) };
    let mut allowed = BTreeSet::new();
    for word in list.split(',').map(str::trim).filter(|word| !word.is_empty() && *word != "none") {
        let item = KitItem::ALL.into_iter().find(|item| item.name() == word).ok_or_else(|| {
            let all = KitItem::ALL.map(KitItem::name).join(", ");
            Failure::new(format!("there is no instrument \"{word}\"\nhint: choose of {all}, or write none"))
        })?;
        allowed.insert(item);
    }
    Ok(allowed.into_iter().collect())
}

fn new(arguments: &NewPaper) -> Result<ExitCode, Failure> {
    let path = &arguments.out;
    if path.exists() {
        return Err(Failure::new(format!(
            "{}: there is such a file already\nhint: choose another name",
            path.display()
        )));
    }
    let names = names(arguments)?;
    let instruments = instruments(arguments.instruments.as_deref())?;
    let mut scenarios: Vec<Arc<Scenario>> = Vec::new();
    for name in &arguments.scenarios {
        scenarios.push(Arc::new(scenario::load(name)?.scenario));
    }
    let passphrase = arguments.passphrase.get(true)?;
    if passphrase.chars().count() < LEAST_LETTERS {
        return Err(Failure::new(format!(
            "the passphrase is too short: it is all that keeps the faults hidden\nhint: take {LEAST_LETTERS} letters or more, best some words drawn by chance"
        )));
    }
    let terms = Terms {
        title: arguments.title.clone(),
        program: env!("CARGO_PKG_VERSION").to_owned(),
        jobs: (arguments.scenarios.iter().zip(&scenarios))
            .map(|(name, scenario)| PaperScenario { scenario: name.clone(), scenario_hash: scenario.hash() })
            .collect(),
        seeds: match arguments.seeds {
            SeedsArgument::Same => Seeds::Same,
            SeedsArgument::Each => Seeds::Each,
        },
        limit_minutes: arguments.minutes,
        attempts: arguments.attempts,
        varied: !arguments.as_written,
        instruments,
        salt: random_salt()?,
        hardness: Hardness::RECOMMENDED,
    };
    let key = PaperKey::of(&passphrase, &terms.salt, terms.hardness)
        .ok_or_else(|| Failure::new("no key can be made of the passphrase\nhint: is there memory enough?"))?;
    let attempts = usize::from(terms.attempts);
    let mut candidates: Vec<Candidate> =
        names.into_iter().map(|name| Candidate { name, draws: Vec::new() }).collect();
    let mut told = String::new();
    for (at, scenario) in scenarios.iter().enumerate() {
        let survey = Survey::new(Arc::new(terms.applied_to(Scenario::clone(scenario))), threads::available())
            .map_err(|why| Failure::new(format!("{}: {why}\nhint: `probeworthy check` it", scenario.id)))?;
        let pick = Pick::new(&survey, arguments.band);
        let needed = if terms.seeds == Seeds::Same { attempts } else { attempts * candidates.len() };
        let seeds = pick_seeds(scenario, &pick, needed, &mut random_seed)?.ok_or_else(|| {
            Failure::new(format!(
                "{}: hardly any fault lies within {} % of the middle one\nhint: widen the band with --band",
                scenario.id, arguments.band
            ))
        })?;
        for (of, candidate) in candidates.iter_mut().enumerate() {
            let first = if terms.seeds == Seeds::Same { 0 } else { of * attempts };
            let mut sealed = Vec::new();
            for attempt in 1..=terms.attempts {
                let job = PaperJob {
                    terms: terms.clone(),
                    candidate: candidate.name.clone(),
                    job: at + 1,
                    attempt,
                };
                let seed = seeds[first + usize::from(attempt) - 1];
                sealed.push(key.seal(&seed.to_le_bytes(), &job.bound_to())?);
            }
            candidate.draws.push(sealed);
        }
        told.push_str(&format!(
            "job {}: {}: {} of {} faults can be drawn, those that take the plan from {:.1} to {:.1} minutes\n",
            at + 1,
            scenario.id,
            pick.count(scenario),
            scenario.faults.len(),
            pick.band.from_minutes,
            pick.band.to_minutes
        ));
    }
    let paper = Paper::new(terms, candidates, &key);
    let cannot = |why: io::Error| {
        Failure::new(format!("{}: {why}\nhint: name a file in a folder that can be written", path.display()))
    };
    let mut file = std::fs::File::create_new(path).map_err(cannot)?;
    file.write_all(paper.text().as_bytes()).and_then(|()| file.sync_all()).map_err(cannot)?;
    write!(
        io::stdout(),
        "{told}{} is written, for {} candidates\nKeep the passphrase: without it nothing of the paper can ever be opened.\n",
        path.display(),
        paper.candidates.len()
    )?;
    Ok(ExitCode::SUCCESS)
}

fn show(path: &Path, passphrase: Option<&Passphrase>) -> Result<ExitCode, Failure> {
    let paper = Paper::read(path)?;
    let key = match passphrase {
        Some(passphrase) => Some(paper.open(&passphrase.get(false)?, path)?),
        None => None,
    };
    let terms = &paper.terms;
    let mut out = io::stdout().lock();
    writeln!(out, "{}\n{}", terms.title, conditions(terms))?;
    for (at, job) in terms.jobs.iter().enumerate() {
        writeln!(out, "job {}: {}", at + 1, job.scenario)?;
    }
    for candidate in &paper.candidates {
        writeln!(out, "candidate {}", candidate.name)?;
        let Some(key) = &key else { continue };
        for (at, of_paper) in terms.jobs.iter().enumerate() {
            let scenario = scenario::load(&of_paper.scenario)?.scenario;
            for attempt in 1..=terms.attempts {
                let (terms, name) = (terms.clone(), candidate.name.clone());
                let job = PaperJob { terms, candidate: name, job: at + 1, attempt };
                let sealed = candidate.draws.get(at).and_then(|draws| draws.get(usize::from(attempt) - 1));
                let seed = sealed.and_then(|sealed| Paper::seed(key, &job, sealed));
                let seed = seed.ok_or_else(|| PaperError::Passphrase(path.to_owned()))?;
                let scenario = paper.terms.varied(&scenario, seed);
                let fault = probeworthy::fault::draw(&scenario.faults, seed);
                let title =
                    fault.map(|fault| words::fault_title(words::Texts::english(), &scenario.vehicle, fault));
                writeln!(out, "  job {}, attempt {attempt}: {}", at + 1, title.unwrap_or_default())?;
            }
        }
    }
    Ok(ExitCode::SUCCESS)
}

/// The terms in a sentence or two.
fn conditions(terms: &Terms) -> String {
    let time = match terms.limit_minutes {
        Some(minutes) => format!("{minutes} real minutes for each job"),
        None => "no time limit".to_owned(),
    };
    let instruments = match terms.instruments.as_slice() {
        [] => "no instrument".to_owned(),
        all if all.len() == KitItem::ALL.len() => "every instrument".to_owned(),
        some => some.iter().map(|item| item.name()).collect::<Vec<_>>().join(", "),
    };
    let attempts = match terms.attempts {
        1 => "1 attempt".to_owned(),
        many => format!("{many} attempts"),
    };
    format!("{time}; {attempts}; allowed: {instruments}; no coach")
}

fn sit(arguments: &Sit) -> Result<ExitCode, Failure> {
    let (paper, key) = opened(&arguments.paper, &arguments.passphrase)?;
    let folder = arguments.records.clone().or_else(|| {
        let folder = record::default_folder()?;
        Some(folder.with_file_name("papers"))
    });
    let folder = folder.ok_or_else(|| {
        Failure::new("there is no folder for your data\nhint: name one with --records FOLDER")
    })?;
    // A script with a mistake in it uses up no attempt.
    let requests = match &arguments.script {
        Some(path) => {
            let candidate = paper.candidate(&arguments.candidate)?;
            let job = record::next_job(&paper, candidate, arguments.job, &folder)?;
            let vehicle = record::scenario_of_paper(&paper, &arguments.paper, job)?.vehicle;
            Some(script(path, &vehicle)?)
        }
        None => None,
    };
    if arguments.window {
        can_open_window()?;
    }
    let sitting =
        record::sit((&paper, &arguments.paper), &key, &arguments.candidate, arguments.job, &folder)?;
    let file = sitting.recorder.path().to_owned();
    let told = terms_of(&sitting);
    if arguments.window {
        in_the_window(sitting, told)?;
        writeln!(io::stderr(), "the record: {}", file.display())?;
        return Ok(ExitCode::SUCCESS);
    }
    let record::Sitting { job, mut recorder, .. } = sitting;
    let told = format!("{told}\n\n");
    if arguments.json {
        write!(io::stderr(), "{told}")?
    } else {
        write!(io::stdout(), "{told}")?
    }
    let done = at_the_desk(job, &mut recorder, requests, arguments.json, words::Language::English)?;
    writeln!(io::stderr(), "the record: {}", file.display())?;
    Ok(done)
}

#[cfg(feature = "game")]
fn can_open_window() -> Result<(), Failure> {
    Ok(crate::game::can_open()?)
}

#[cfg(feature = "game")]
fn in_the_window(sitting: record::Sitting, told: String) -> Result<(), Failure> {
    Ok(crate::game::sit(Box::new(sitting), told)?)
}

#[cfg(not(feature = "game"))]
fn can_open_window() -> Result<(), Failure> {
    Err(Failure::new(
        "this program was built without its window\nhint: leave --window out, and sit the paper in the terminal",
    ))
}

#[cfg(not(feature = "game"))]
fn in_the_window(_: record::Sitting, _: String) -> Result<(), Failure> {
    can_open_window()
}

/// What is sat, by whom and under which terms.
fn terms_of(sitting: &record::Sitting) -> String {
    let record::Sitting { paper, ends, .. } = sitting;
    format!(
        "{}: job {} of {}, attempt {} of {}, candidate {}\n{}{}",
        paper.terms.title,
        paper.job,
        paper.terms.jobs.len(),
        paper.attempt,
        paper.terms.attempts,
        paper.candidate,
        conditions(&paper.terms),
        ends.as_ref().map_or_else(String::new, |ends| format!("; until {ends}"))
    )
}
