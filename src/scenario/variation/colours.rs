//! Colours of wires. Habits stay (common practice, no source): a permanent feed is red, a ground brown, tail lamps grey,
//! stop lamps black; what a standard gives a colour keeps it. Two wires that were alike stay alike, and two that were not
//! do not become so.

use std::collections::{BTreeMap, BTreeSet};

use rand_chacha::ChaCha8Rng;

use super::shuffle;
use crate::vehicle::{Conductor, End, Vehicle};

/// Colours that tell no function: they change places.
const FREE: [&str; 6] = ["GN", "BU", "VT", "YE", "WH", "OG"];
/// Colours that tell one: only the stripe on them changes.
const HABITUAL: [&str; 3] = ["RD", "GY", "BK"];
/// What a stripe may be. Brown is left to grounds.
const STRIPES: [&str; 9] = ["BK", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH"];

pub(super) fn vary(vehicle: &mut Vehicle, chance: &mut ChaCha8Rng) {
    let kept = kept(vehicle);
    let new = new_colours(vehicle, &kept, chance);
    for conductor in &mut vehicle.conductors {
        if let Some(colour) = new.get(&conductor.colour) {
            conductor.colour.clone_from(colour);
        }
    }
}

/// Ground and stripe of a colour of two.
fn striped(colour: &str) -> Option<(&str, &str)> {
    colour.split_once('/')
}

/// Whether a wire has its colour from its place: a ground, the battery's cable, a core that a standard gives a colour.
fn keeps(vehicle: &Vehicle, conductor: &Conductor) -> bool {
    let is_given = |end: End| match end {
        End::Eyelet(_) | End::Body | End::BatteryPlus => true,
        End::Cavity(connector, ..) => vehicle.connector(connector).standard,
        End::Splice(_) | End::Fuse(..) => false,
    };
    is_given(conductor.from) || is_given(conductor.to)
}

/// Colours that stay, wherever they are.
fn kept(vehicle: &Vehicle) -> BTreeSet<String> {
    let stays = |conductor: &&Conductor| {
        let known = striped(&conductor.colour)
            .is_some_and(|(ground, _)| FREE.contains(&ground) || HABITUAL.contains(&ground));
        !known || keeps(vehicle, conductor)
    };
    vehicle.conductors.iter().filter(stays).map(|conductor| conductor.colour.clone()).collect()
}

/// By old colour, the new one.
fn new_colours(
    vehicle: &Vehicle,
    kept: &BTreeSet<String>,
    chance: &mut ChaCha8Rng,
) -> BTreeMap<String, String> {
    let mut grounds = FREE;
    shuffle(&mut grounds, chance);
    let changes = FREE.into_iter().zip(grounds).chain(HABITUAL.into_iter().map(|ground| (ground, ground)));
    let mut new = BTreeMap::new();
    for (old_ground, ground) in changes {
        let of_this = vehicle.conductors.iter().map(|conductor| &conductor.colour).filter(|colour| {
            !kept.contains(*colour) && striped(colour).is_some_and(|(is, _)| is == old_ground)
        });
        // Each once, in order.
        let of_this: BTreeSet<&String> = of_this.collect();
        let mut stripes: Vec<String> = STRIPES
            .into_iter()
            // Green and yellow together mean a protective conductor (IEC 60757).
            .filter(|stripe| *stripe != ground && !matches!((ground, *stripe), ("GN", "YE") | ("YE", "GN")))
            .map(|stripe| format!("{ground}/{stripe}"))
            .filter(|colour| !kept.contains(colour))
            .collect();
        shuffle(&mut stripes, chance);
        // Where there are more old colours than new ones, which no loom has, the rest would become alike.
        if of_this.len() > stripes.len() {
            return BTreeMap::new();
        }
        new.extend(of_this.into_iter().cloned().zip(stripes));
    }
    new
}
