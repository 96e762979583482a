//! Scenarios and vehicles: RON as an author writes it, checked and resolved.

mod change;
mod customer_words;
mod fault_file;
mod load;
mod names;
mod range;
mod scenario_file;
mod shelf;
mod trial;
mod variation;
mod vehicle_file;
mod watch;

pub use change::{Change, WEIGHT_NAMES};
pub use load::{FileProblems, LoadError, Loaded, check_file, load, load_text, load_vehicle, vehicle_for};
pub use names::point_name;
pub use range::Range;
pub use scenario_file::{Forbidden, Scenario, Weights, scenario_forms};
pub use shelf::{SHELF, ShelfScenario, VEHICLES, default_scenario};
pub use trial::Trial;
pub use variation::{Aspect, Variation, Varied};
pub use watch::Watch;
