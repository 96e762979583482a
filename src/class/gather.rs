//! Reads a class's records.

use std::collections::{BTreeMap, BTreeSet};
use std::io;
use std::path::{Path, PathBuf};

use super::table::Table;
use crate::marks::Part;
use crate::paper::{Paper, PaperKey};
use crate::practice::Skill;
use crate::record::{Closing, RecordError, Scanned, Skills, finding_share, proof_share, scan};
use crate::scenario::Variation;
use crate::words::{Texts, acts_of_commands, part_key};

/// Parts of the marks.
const PARTS: usize = Part::ALL.len();
/// Small numbers by which two ways through a job are compared.
const SKETCH: usize = 16;
/// Curves that are kept to be drawn; of a larger class only the first.
const CURVES: usize = 60;

/// A job that was done and handed in.
#[derive(Clone, Debug)]
pub struct Done {
    /// Who did it.
    pub candidate: String,
    /// Which job, a position among the class's.
    pub item: usize,
    /// Which attempt.
    pub attempt: u8,
    /// When it was begun, in milliseconds.
    pub begun_ms: u64,
    /// Real time that it took, in milliseconds.
    pub real_ms: u64,
    /// Steps.
    pub steps: usize,
    /// Minutes on the job's clock.
    pub minutes: f64,
    /// It was referred.
    pub referred: bool,
    /// By part: marks, and out of how many.
    pub marks: [(f64, f64); PARTS],
    /// Marks in all.
    pub total: f64,
    /// The skill that finding its fault took; `None` where its scenario cannot be read.
    pub skill: Option<Skill>,
    /// Share of the marks for finding the fault, 0 to 1; `None` where they count for nothing.
    pub finding_share: Option<f64>,
    /// Share of the marks for proof of repair and safe work, 0 to 1; `None` where they count for nothing.
    pub proof_share: Option<f64>,
    /// Minutes that choices lost.
    pub lost_minutes: f64,
    /// What its acts come to, in their order.
    pub way: u64,
    /// The least of several hashes of its pairs of acts: two ways agree in about as many of them as in their pairs.
    pub sketch: [u32; SKETCH],
}

impl Done {
    /// The share of a part that was earned; 1 where nothing could be.
    #[must_use]
    pub fn share(&self, part: usize) -> f64 {
        let (marks, out_of) = self.marks[part];
        if out_of > 0.0 { marks / out_of } else { 1.0 }
    }
}

/// What was still open by minutes: a learner's, and the plan's on the same fault.
#[derive(Clone, Debug)]
pub(super) struct Curves {
    /// Which of the jobs that were done.
    pub(super) of: usize,
    pub(super) own: Vec<(f64, f64)>,
    pub(super) plan: Vec<(f64, f64)>,
}

/// A test that would have been better.
#[derive(Clone, Debug)]
pub struct Passed {
    /// Its acts in words; `None` where the job's scenario cannot be read.
    pub words: Option<String>,
    /// How often it was passed by.
    pub times: usize,
}

/// A file that does not count, and why.
#[derive(Clone, Debug)]
pub struct LeftOut {
    /// The file.
    pub path: PathBuf,
    /// Why.
    pub why: String,
}

/// A class's records, read.
#[derive(Debug, Default)]
pub struct Class {
    /// The jobs, by name.
    pub items: Vec<String>,
    /// What was done, in the order of the files.
    pub done: Vec<Done>,
    /// What does not count.
    pub left_out: Vec<LeftOut>,
    /// By job and test, in commands: what would have been better and was passed by.
    pub passed_by: BTreeMap<(usize, String), Passed>,
    /// By job: the acts that anybody did.
    acts: BTreeSet<(usize, u64)>,
    pub(super) curves: Vec<Curves>,
    seen: BTreeSet<String>,
    skills: Skills,
}

/// A hash of an act that is the same on every machine (FNV-1a, 64 bits).
fn hashed(text: &str) -> u64 {
    text.bytes().fold(0xcbf2_9ce4_8422_2325, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3)
    })
}

/// Stirs all bits (the finaliser of SplitMix64).
fn stirred(mut bits: u64) -> u64 {
    bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    bits ^ (bits >> 31)
}

/// The acts of one record as they go by.
struct Way {
    way: u64,
    before: u64,
    sketch: [u32; SKETCH],
    acts: Vec<u64>,
    steps: usize,
}

impl Way {
    fn new() -> Self {
        Self { way: 0, before: 0, sketch: [u32::MAX; SKETCH], acts: Vec::new(), steps: 0 }
    }

    fn act(&mut self, text: &str) {
        self.steps += 1;
        // What is written in words is everybody's own.
        let text = if text.starts_with("write ") { "write" } else { text };
        let act = hashed(text);
        let pair = stirred(self.before.rotate_left(17) ^ act);
        self.way = stirred(self.way ^ act).wrapping_add(act);
        self.before = act;
        for (at, least) in self.sketch.iter_mut().enumerate() {
            // The upper half of 64 bits.
            *least = (*least).min((stirred(pair ^ stirred(at as u64 + 1)) >> 32) as u32);
        }
        if !self.acts.contains(&act) {
            self.acts.push(act);
        }
    }
}

impl Class {
    /// Reads records in the order in which they are named; every step is also given to the table, if there is one. Of a
    /// paper only its own records count.
    ///
    /// # Errors
    /// What the table says where it cannot be written.
    pub fn read(
        files: &[PathBuf],
        of_paper: Option<&(Paper, PaperKey)>,
        mut table: Option<&mut Table<'_>>,
    ) -> io::Result<Self> {
        let mut class = Self::default();
        for path in files {
            let mut way = Way::new();
            let mut table_says = Ok(());
            let scanned = scan(path, of_paper.map(|(_, key)| key), &mut |header, step, at| {
                way.act(&step.act);
                if let Some(table) = table.as_deref_mut()
                    && let Err(why) = table.row(path, header, step, at)
                {
                    table_says = Err(why);
                    return Err(io::Error::other("the table cannot be written"));
                }
                Ok(())
            });
            table_says?;
            if let Err(why) = class.take(path, scanned, way, of_paper.map(|(paper, _)| paper)) {
                class.left_out.push(LeftOut { path: path.clone(), why });
            }
        }
        Ok(class)
    }

    /// Takes a record in, or says why it does not count.
    fn take(
        &mut self,
        path: &Path,
        scanned: Result<Scanned, RecordError>,
        way: Way,
        paper: Option<&Paper>,
    ) -> Result<(), String> {
        let scanned = scanned.map_err(|why| why.to_string().lines().next().unwrap_or_default().to_owned())?;
        if let Some(broken) = &scanned.broken {
            return Err(format!("line {}, column {}: {}", broken.line, broken.column, broken.what));
        }
        let Some(closing) = scanned.closing.as_ref().filter(|_| scanned.sealed) else {
            return Err("it was not handed in".to_owned());
        };
        let Some(result) = closing.result() else {
            return Err("its result is sealed: name its paper with --paper".to_owned());
        };
        let header = &scanned.header;
        if let Some(paper) = paper {
            let own = header.paper.as_ref().is_some_and(|job| job.terms.id() == paper.terms.id());
            if !own {
                return Err("it does not belong to the paper".to_owned());
            }
        }
        if !self.seen.insert(header.record.clone()) {
            return Err("it is a copy of another".to_owned());
        }
        let name = match &header.paper {
            Some(job) => format!("job {}: {}", job.job, scenario_name(&header.scenario)),
            None => scenario_name(&header.scenario),
        };
        let item = self.items.iter().position(|item| *item == name).unwrap_or_else(|| {
            self.items.push(name);
            self.items.len() - 1
        });
        let candidate = match &header.paper {
            Some(job) => job.candidate.clone(),
            None => path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default(),
        };
        for commands in &result.passed_by {
            let passed = self.passed_by.entry((item, commands.clone())).or_insert_with(|| {
                let words = self.skills.scenario(&header.scenario).and_then(|scenario| {
                    let number = header.variation.as_ref().and_then(|one| Variation::numbered(one.number));
                    let varied = number.map(|number| scenario.in_variation(number));
                    let vehicle = &varied.as_ref().unwrap_or(scenario).vehicle;
                    acts_of_commands(Texts::english(), vehicle, commands)
                });
                Passed { words, times: 0 }
            });
            passed.times += 1;
        }
        self.acts.extend(way.acts.iter().map(|act| (item, *act)));
        if self.curves.len() < CURVES {
            let (own, plan) = (result.curve.clone(), result.plan_curve.clone());
            self.curves.push(Curves { of: self.done.len(), own, plan });
        }
        let marks = marks(closing);
        let skill = self.skills.of(&header.scenario, result).map(|(_, skill)| skill);
        self.done.push(Done {
            candidate,
            item,
            attempt: header.paper.as_ref().map_or(1, |job| job.attempt),
            begun_ms: scanned.begun_ms,
            real_ms: scanned.ended_ms.saturating_sub(scanned.begun_ms),
            steps: way.steps,
            minutes: closing.minutes,
            referred: closing.referred,
            marks,
            total: result.total,
            skill,
            finding_share: finding_share(result),
            proof_share: proof_share(result),
            lost_minutes: result.lost_minutes,
            way: way.way,
            sketch: way.sketch,
        });
        Ok(())
    }

    /// Whether anybody of the class did an act in a job.
    #[must_use]
    pub fn anybody_did(&self, item: usize, act: &str) -> bool {
        self.acts.contains(&(item, hashed(act)))
    }

    /// Persons by jobs: the share of marks of each person's first attempt at every job, of those who did all of them.
    #[must_use]
    pub fn persons_by_jobs(&self) -> Vec<Vec<f64>> {
        let mut first: BTreeMap<&str, Vec<Option<&Done>>> = BTreeMap::new();
        for done in &self.done {
            let row = first.entry(&done.candidate).or_insert_with(|| vec![None; self.items.len()]);
            let known = row[done.item];
            if known.is_none_or(|known| (known.attempt, known.begun_ms) > (done.attempt, done.begun_ms)) {
                row[done.item] = Some(done);
            }
        }
        let whole = |row: Vec<Option<&Done>>| -> Option<Vec<f64>> {
            row.into_iter().map(|done| done.map(|done| done.total / 100.0)).collect()
        };
        first.into_values().filter_map(whole).collect()
    }

    /// How much of a skill a record shows, 0 to 1: of every job proof and safe work, and finding the fault of the skill
    /// that it took.
    #[must_use]
    pub fn shown(done: &Done, skill: Skill) -> Option<f64> {
        match skill {
            Skill::Proof => done.proof_share,
            _ if done.skill == Some(skill) => done.finding_share,
            _ => None,
        }
    }

    /// Records by parts: the share of each part that was earned.
    #[must_use]
    pub fn records_by_parts(&self) -> Vec<Vec<f64>> {
        self.done.iter().map(|done| (0..PARTS).map(|part| done.share(part)).collect()).collect()
    }
}

/// A scenario's name, of a file what stands before its ending.
fn scenario_name(name: &str) -> String {
    let last = name.rsplit(['/', '\\']).next().unwrap_or(name);
    last.strip_suffix(".scenario.ron").unwrap_or(last).to_owned()
}

fn marks(closing: &Closing) -> [(f64, f64); PARTS] {
    Part::ALL.map(|part| {
        let of = closing.result().and_then(|result| {
            result.marks.iter().find(|marks| marks.part == part_key(part)).map(|one| (one.marks, one.out_of))
        });
        of.unwrap_or((0.0, 0.0))
    })
}
