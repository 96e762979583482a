//! The scenarios and vehicles that come with the program. They are compiled in, so that the program runs from anywhere.

/// A scenario of the shelf.
#[derive(Clone, Copy, Debug)]
pub struct ShelfScenario {
    /// Its name.
    pub id: &'static str,
    /// Its file's name.
    pub file: &'static str,
    /// Its text.
    pub text: &'static str,
}

/// The scenarios that come with the program.
pub const SHELF: &[ShelfScenario] = &[ShelfScenario {
    id: "tailgate-ignores-its-key",
    file: "tailgate-ignores-its-key.scenario.ron",
    text: include_str!("../../scenarios/tailgate-ignores-its-key.scenario.ron"),
}];

/// The vehicles that come with the program: name, and text.
pub(super) const VEHICLES: &[(&str, &str)] =
    &[("estate", include_str!("../../assets/vehicles/estate.vehicle.ron"))];

/// The scenario that is played where none is named.
#[must_use]
pub fn default_scenario() -> &'static str {
    SHELF[0].id
}
