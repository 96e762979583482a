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
pub const SHELF: &[ShelfScenario] = &[
    shelf!("tailgate-ignores-its-key"),
    shelf!("first-fuse"),
    shelf!("first-lamp"),
    shelf!("same-words-twice"),
    shelf!("one-dead-button"),
    shelf!("no-brake-lights"),
    shelf!("wiper-gave-up"),
    shelf!("volts-but-no-light"),
    shelf!("light-on-the-trailer"),
    shelf!("screen-stays-cold"),
    shelf!("coil-or-contact"),
    shelf!("plates-fade"),
    shelf!("brake-lights-the-tail"),
    shelf!("reverse-and-glow"),
    shelf!("reversing-in-the-dark"),
    shelf!("trailer-goes-dark"),
    shelf!("trailer-goes-mad"),
    shelf!("too-little-load"),
    shelf!("gone-by-noon"),
    shelf!("both-screens"),
    shelf!("shared-feed"),
    shelf!("boot-stays-shut"),
    shelf!("ghost-of-a-voltage"),
    shelf!("fuse-when-it-moves"),
    shelf!("seal-or-hinge"),
    shelf!("dark-while-shut"),
    shelf!("since-the-new-latch"),
    shelf!("drain-under-the-lid"),
    shelf!("lamp-that-never-sleeps"),
    shelf!("two-at-once"),
];

/// The vehicles that come with the program: name, and text.
pub const VEHICLES: &[(&str, &str)] =
    &[vehicle!("estate"), vehicle!("hatch"), vehicle!("saloon"), vehicle!("tow"), vehicle!("van")];

/// The scenario that is played where none is named.
#[must_use]
pub fn default_scenario() -> &'static str {
    SHELF[0].id
}
