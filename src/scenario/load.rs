//! Finds, reads and checks scenario and vehicle files.

use std::path::{Path, PathBuf};

use super::customer_words;
use super::scenario_file::{self, Scenario, ScenarioAsWritten};
use super::shelf::{SHELF, VEHICLES};
use super::vehicle_file::{self, VehicleAsWritten};
use crate::vehicle::Vehicle;
use crate::written::{FileError, Problem, Problems, SourceFile, Span, nearest, parse, report};

/// A file and what is wrong with it.
#[derive(Debug)]
pub struct FileProblems {
    /// The file.
    pub file: SourceFile,
    /// Its problems, in the order in which they stand in it.
    pub problems: Vec<Problem>,
}

impl FileProblems {
    /// One report after another.
    #[must_use]
    pub fn report(&self, colour: bool) -> String {
        self.problems.iter().map(|problem| report(&self.file, problem, colour)).collect::<Vec<_>>().join("\n")
    }
}

/// Why a scenario could not be loaded.
#[derive(Debug)]
pub enum LoadError {
    /// There is no scenario of this name, and no such file.
    Unknown {
        /// What was asked for.
        name: String,
        /// What might have been meant.
        hint: String,
    },
    /// There is no vehicle of this name.
    UnknownVehicle {
        /// What was asked for.
        name: String,
        /// What might have been meant.
        hint: String,
    },
    /// A file could not be read.
    File(FileError),
    /// Files have problems.
    Problems(Vec<FileProblems>),
}

impl std::fmt::Display for LoadError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Unknown { name, hint } => write!(f, "there is no scenario \"{name}\"\nhint: {hint}"),
            Self::UnknownVehicle { name, hint } => write!(f, "there is no vehicle \"{name}\"\nhint: {hint}"),
            Self::File(error) => write!(f, "{error}"),
            Self::Problems(files) => {
                let reports: Vec<String> = files.iter().map(|file| file.report(false)).collect();
                write!(f, "{}", reports.join("\n"))
            }
        }
    }
}

impl std::error::Error for LoadError {}

/// A scenario and where the faults of its pool are written.
#[derive(Debug)]
pub struct Loaded {
    /// The scenario.
    pub scenario: Scenario,
    /// Its file.
    pub file: SourceFile,
    /// By fault of the pool: where it is written.
    pub fault_spans: Vec<Span>,
    /// Where the trials are written.
    pub trials_span: Span,
    /// Where the par is written.
    pub par_span: Span,
    /// What the file has in a language by half.
    pub half_translated: Vec<Problem>,
    /// Its vehicle's file; `None` where that is the one that comes with the program.
    pub vehicle_file: Option<PathBuf>,
}

/// Loads a scenario by its name on the shelf, or from a file.
///
/// # Errors
/// [`LoadError`], with every problem of the scenario's file and of its vehicle's.
pub fn load(name: &str) -> Result<Loaded, LoadError> {
    if let Some(shelf) = SHELF.iter().find(|shelf| shelf.id == name) {
        let path = PathBuf::from("scenarios").join(shelf.file);
        return load_source(SourceFile { path, text: shelf.text.to_owned() }, None);
    }
    let path = Path::new(name);
    let looks_like_a_file = path.exists() || name.contains(['/', '\\']) || name.ends_with(".ron");
    if !looks_like_a_file {
        let known: Vec<&str> = SHELF.iter().map(|shelf| shelf.id).collect();
        let hint = match nearest(name, known.iter().copied()) {
            Some(near) => format!("did you mean \"{near}\"?"),
            None => format!("name one of {}, or a file ending in .scenario.ron", known.join(", ")),
        };
        return Err(LoadError::Unknown { name: name.to_owned(), hint });
    }
    let file = SourceFile::read(path).map_err(LoadError::File)?;
    load_source(file, path.parent())
}

/// Loads a vehicle by its name or its scenario's on the shelf, or from a vehicle's or a scenario's file.
///
/// # Errors
/// [`LoadError`], with every problem of the files.
pub fn load_vehicle(name: &str) -> Result<Vehicle, LoadError> {
    let file = match VEHICLES.iter().find(|(id, _)| *id == name) {
        Some((_, text)) => {
            let path = PathBuf::from("assets/vehicles").join(format!("{name}.vehicle.ron"));
            SourceFile { path, text: (*text).to_owned() }
        }
        None if name.ends_with(".vehicle.ron") => {
            SourceFile::read(Path::new(name)).map_err(LoadError::File)?
        }
        None => return load(name).map(|loaded| loaded.scenario.vehicle),
    };
    read_vehicle(file).map_err(|bad| LoadError::Problems(vec![bad]))
}

/// Checks a scenario's text as if it stood in this file.
///
/// # Errors
/// [`LoadError`], with every problem of the text and of its vehicle's file.
pub fn load_text(path: &Path, text: &str) -> Result<Loaded, LoadError> {
    load_source(SourceFile::new(path, text), path.parent())
}

/// The vehicle that a scenario in this folder means by this name.
///
/// # Errors
/// [`LoadError`] where there is none, or with every problem of its file.
pub fn vehicle_for(name: &str, folder: Option<&Path>) -> Result<Vehicle, LoadError> {
    let Some((source, _)) = find_vehicle(name, folder).map_err(LoadError::File)? else {
        let known: Vec<&str> = VEHICLES.iter().map(|(id, _)| *id).collect();
        let hint = match nearest(name, known.iter().copied()) {
            Some(near) => format!("did you mean \"{near}\"?"),
            None => format!(
                "name one of {}, or one whose file NAME.vehicle.ron stands beside the scenario's",
                known.join(", ")
            ),
        };
        return Err(LoadError::UnknownVehicle { name: name.to_owned(), hint });
    };
    read_vehicle(source).map_err(|bad| LoadError::Problems(vec![bad]))
}

/// Reads and checks a scenario; vehicles are looked for beside it and in `../assets/vehicles`, then on the shelf.
fn load_source(file: SourceFile, folder: Option<&Path>) -> Result<Loaded, LoadError> {
    let mut problems = Problems::default();
    let written: Option<ScenarioAsWritten> = parse(&file, &mut problems);
    let mut others = Vec::new();
    let mut loaded = None;
    let mut vehicle_file = None;
    if let Some(written) = written {
        let vehicle = match find_vehicle(&written.vehicle.value, folder) {
            Ok(Some((source, place))) => match read_vehicle(source) {
                Ok(vehicle) => {
                    vehicle_file = place;
                    Some(vehicle)
                }
                Err(bad) => {
                    others.push(bad);
                    None
                }
            },
            Ok(None) => {
                let known: Vec<&str> = VEHICLES.iter().map(|(id, _)| *id).collect();
                problems.add(
                    written.vehicle.span,
                    format!("there is no vehicle \"{}\"", written.vehicle.value),
                    format!(
                        "put {}.vehicle.ron beside this file, or name one of {}",
                        written.vehicle.value,
                        known.join(", ")
                    ),
                );
                None
            }
            Err(error) => return Err(LoadError::File(error)),
        };
        let half_translated = customer_words::half_translated(&written);
        let (trials, par) = (written.trials.span, written.par_minutes.span);
        loaded = scenario_file::resolve(&written, vehicle.as_ref(), &mut problems)
            .map(|(scenario, fault_spans)| (scenario, fault_spans, trials, par, half_translated));
    }
    let problems = problems.into_vec();
    if let (Some((scenario, fault_spans, trials_span, par_span, half_translated)), true, true) =
        (loaded, problems.is_empty(), others.is_empty())
    {
        return Ok(Loaded {
            scenario,
            file,
            fault_spans,
            trials_span,
            par_span,
            half_translated,
            vehicle_file,
        });
    }
    if !problems.is_empty() {
        others.insert(0, FileProblems { file, problems });
    }
    Err(LoadError::Problems(others))
}

/// The text of the vehicle of this name, if there is one, and the file that it stands in, if it does.
fn find_vehicle(id: &str, folder: Option<&Path>) -> Result<Option<(SourceFile, Option<PathBuf>)>, FileError> {
    let name = format!("{id}.vehicle.ron");
    if let Some(folder) = folder {
        let above = match folder.file_name() {
            Some(_) => folder.parent().map_or_else(PathBuf::new, Path::to_owned),
            None => folder.join(".."),
        };
        for place in [folder.join(&name), above.join("assets/vehicles").join(&name)] {
            // A name with a path in it would read any file: only plain names are looked for.
            if !id.contains(['/', '\\']) && place.is_file() {
                return SourceFile::read(&place).map(|source| Some((source, Some(place))));
            }
        }
    }
    let shelf = VEHICLES.iter().find(|(known, _)| *known == id);
    Ok(shelf.map(|(_, text)| {
        let path = PathBuf::from("assets/vehicles").join(name);
        (SourceFile { path, text: (*text).to_owned() }, None)
    }))
}

fn read_vehicle(file: SourceFile) -> Result<Vehicle, FileProblems> {
    let mut problems = Problems::default();
    let written: Option<VehicleAsWritten> = parse(&file, &mut problems);
    let vehicle = written.and_then(|written| vehicle_file::resolve(&written, &mut problems));
    match vehicle {
        Some(vehicle) if problems.is_empty() => Ok(vehicle),
        _ => Err(FileProblems { file, problems: problems.into_vec() }),
    }
}

/// Reads a vehicle or scenario file, by the ending of its name, and returns what is wrong; for a sound scenario, also
/// the scenario.
///
/// # Errors
/// [`LoadError`] where it has problems or cannot be read.
pub fn check_file(path: &Path) -> Result<Option<Loaded>, LoadError> {
    let name = path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    let file = SourceFile::read(path).map_err(LoadError::File)?;
    if name.ends_with(".vehicle.ron") {
        read_vehicle(file).map(|_| None).map_err(|bad| LoadError::Problems(vec![bad]))
    } else {
        load_source(file, path.parent()).map(Some)
    }
}
