//! The commands about records that are done.

use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Arc;

use clap::Args;
use probeworthy::class::{Class, Table, report};
use probeworthy::job::{Job, JobError};
use probeworthy::marks::mark_and_debrief;
use probeworthy::paper::{Paper, PaperKey};
use probeworthy::reasoning::Inquiry;
use probeworthy::record::{self, Verifier, verdict_text};
use probeworthy::threads;
use probeworthy::words;

use crate::command_line::{FAILED, Failure, NO};
use crate::papers::{Passphrase, opened};

/// The paper that records belong to.
#[derive(Args)]
pub(crate) struct OfPaper {
    /// The paper that it belongs to; its passphrase opens draw and result.
    #[arg(long, value_name = "PAPER")]
    paper: Option<PathBuf>,
    #[command(flatten)]
    passphrase: Passphrase,
}

impl OfPaper {
    fn opened(&self) -> Result<Option<(Paper, PaperKey)>, Failure> {
        self.paper.as_deref().map(|path| opened(path, &self.passphrase)).transpose()
    }
}

#[derive(Args)]
pub(crate) struct Verify {
    /// Records.
    #[arg(required = true)]
    records: Vec<PathBuf>,
    /// Say of each step whether it shows what the model gives.
    #[arg(long)]
    steps: bool,
    /// Do not work out marks anew, which takes seconds for each scenario.
    #[arg(long)]
    no_marks: bool,
    #[command(flatten)]
    of_paper: OfPaper,
}

/// The job of a record that has been handed in.
pub(crate) fn finished(path: &Path, of_paper: &OfPaper) -> Result<Job, Failure> {
    let opened = of_paper.opened()?;
    let (job, _) = record::replayed(path, opened.as_ref().map(|(_, key)| key))?;
    if job.handed_in().is_none() {
        return Err(Failure::new(format!(
            "{0}: the job has not been handed in\nhint: `probeworthy desk --resume {0}` goes on with it",
            path.display()
        )));
    }
    Ok(job)
}

pub(crate) fn explain(path: &Path, of_paper: &OfPaper) -> Result<ExitCode, Failure> {
    let job = finished(path, of_paper)?;
    let fresh = Inquiry::new(Arc::clone(job.scenario()), threads::available()).map_err(JobError::from)?;
    let Some((marks, debrief)) = mark_and_debrief(&job, &fresh)? else { return Ok(ExitCode::from(NO)) };
    write!(io::stdout(), "{}", words::explanation(&job, &marks, &debrief))?;
    Ok(ExitCode::SUCCESS)
}

pub(crate) fn verify(arguments: &Verify) -> Result<ExitCode, Failure> {
    let mut verifier = Verifier::new(!arguments.no_marks, threads::available());
    if let Some((paper, key)) = arguments.of_paper.opened()? {
        verifier = verifier.of_paper(paper, key);
    }
    let mut out = io::stdout().lock();
    let (mut broken, mut not_here) = (false, false);
    for path in &arguments.records {
        match verifier.verify(path) {
            Ok(verdict) => {
                broken |= !verdict.whole();
                not_here |= !verdict.sound();
                write!(out, "{}", verdict_text(&verdict, arguments.steps))?;
                out.flush()?;
            }
            Err(why) => {
                not_here = true;
                writeln!(io::stderr(), "{why}")?;
            }
        }
    }
    Ok(match (broken, not_here) {
        (true, _) => ExitCode::from(NO),
        (false, true) => ExitCode::from(FAILED),
        (false, false) => ExitCode::SUCCESS,
    })
}

#[derive(Args)]
pub(crate) struct ClassArguments {
    /// The folder with the records; all .jsonl files below it are read.
    folder: PathBuf,
    /// The page.
    #[arg(long, value_name = "FILE.html")]
    out: PathBuf,
    /// Also write a table, one row a step.
    #[arg(long, value_name = "FILE")]
    csv: Option<PathBuf>,
    /// What the page is called.
    #[arg(long, default_value = "Class report")]
    title: String,
    #[command(flatten)]
    of_paper: OfPaper,
}

/// All records below a folder, in the order of their names.
fn records_below(folder: &Path, files: &mut Vec<PathBuf>) -> io::Result<()> {
    let mut entries: Vec<PathBuf> =
        std::fs::read_dir(folder)?.map(|entry| entry.map(|entry| entry.path())).collect::<Result<_, _>>()?;
    entries.sort();
    for entry in entries {
        // A link to a folder may lead back to where it came from.
        if entry.is_dir() && !entry.is_symlink() {
            records_below(&entry, files)?;
        } else if entry.extension().is_some_and(|ending| ending == "jsonl") {
            files.push(entry);
        }
    }
    Ok(())
}

pub(crate) fn class(arguments: &ClassArguments) -> Result<ExitCode, Failure> {
    let cannot = |path: &Path, why: io::Error| {
        Failure::new(format!("{}: {why}\nhint: name a file in a folder that can be written", path.display()))
    };
    let mut files = Vec::new();
    records_below(&arguments.folder, &mut files).map_err(|why| {
        let folder = arguments.folder.display();
        Failure::new(format!("{folder}: {why}\nhint: name the folder with the records"))
    })?;
    let opened = arguments.of_paper.opened()?;
    let mut table = match &arguments.csv {
        Some(path) => {
            let file = std::fs::File::create(path).map_err(|why| cannot(path, why))?;
            Some(Table::new(file).map_err(|why| cannot(path, why))?)
        }
        None => None,
    };
    let of_table = |why| cannot(arguments.csv.as_deref().unwrap_or(Path::new("the table")), why);
    let class = Class::read(&files, opened.as_ref(), table.as_mut()).map_err(of_table)?;
    table.map_or(Ok(()), Table::end).map_err(of_table)?;
    let page = std::fs::File::create(&arguments.out).map_err(|why| cannot(&arguments.out, why))?;
    let mut page = io::BufWriter::new(page);
    report(&class, &arguments.title, &mut page)
        .and_then(|()| page.flush())
        .map_err(|why| cannot(&arguments.out, why))?;
    writeln!(
        io::stdout(),
        "{} records on {}; {} files do not count",
        class.done.len(),
        arguments.out.display(),
        class.left_out.len()
    )?;
    Ok(if class.done.is_empty() { ExitCode::from(NO) } else { ExitCode::SUCCESS })
}
