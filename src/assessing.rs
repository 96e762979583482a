//! The commands about records that are done.

use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Arc;

use clap::Args;
use probeworthy::job::{Job, JobError};
use probeworthy::marks::mark_and_debrief;
use probeworthy::paper::{Paper, PaperKey};
use probeworthy::reasoning::{Inquiry, threads};
use probeworthy::record::{self, Verifier, verdict_text};
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
    let fresh = Inquiry::new(Arc::clone(job.scenario()), threads()).map_err(JobError::from)?;
    let Some((marks, debrief)) = mark_and_debrief(&job, &fresh)? else { return Ok(ExitCode::from(NO)) };
    write!(io::stdout(), "{}", words::explanation(&job, &marks, &debrief))?;
    Ok(ExitCode::SUCCESS)
}

pub(crate) fn verify(arguments: &Verify) -> Result<ExitCode, Failure> {
    let mut verifier = Verifier::new(!arguments.no_marks, threads());
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
