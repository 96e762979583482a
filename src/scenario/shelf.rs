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

/// The scenario of this name, from its file in `scenarios`.
macro_rules! shelf {
    ($id:literal) => {
        ShelfScenario {
            id: $id,
            file: concat!($id, ".scenario.ron"),
            text: include_str!(concat!("../../scenarios/", $id, ".scenario.ron")),
        }
    };
}

/// The vehicle of this name, from its file in `assets/vehicles`.
macro_rules! vehicle {
    ($id:literal) => {
        ($id, include_str!(concat!("../../assets/vehicles/", $id, ".vehicle.ron")))
    };
}

/// The scenarios that come with the program. The first is played where none is named.
pub const SHELF: &[ShelfScenario] =
    &[shelf!("tailgate-ignores-its-key"), shelf!("first-fuse"), shelf!("brake-lights-the-tail")];

/// The vehicles that come with the program: name, and text.
pub const VEHICLES: &[(&str, &str)] =
    &[vehicle!("estate"), vehicle!("hatch"), vehicle!("saloon"), vehicle!("tow"), vehicle!("van")];

/// The scenario that is played where none is named.
#[must_use]
pub fn default_scenario() -> &'static str {
    SHELF[0].id
}
