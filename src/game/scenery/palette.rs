//! The named colours of `assets/palette.ron`.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use bevy::prelude::*;
use serde::Deserialize;

/// Compiled in, like the drawings, so that the program runs from any folder without its source beside it.
const TEXT: &str = include_str!("../../../assets/palette.ron");

/// The file as it is written.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Written {
    light: Lights,
    code: BTreeMap<String, String>,
    drawings: BTreeMap<String, String>,
}

/// The palette that is compiled in.
static WRITTEN: LazyLock<Written> = LazyLock::new(|| {
    ron::from_str(TEXT).expect("assets/palette.ron is compiled in and is written as it says itself")
});

/// What drawings name by this name, hexadecimal.
pub(super) fn drawn(name: &str) -> Option<&'static str> {
    WRITTEN.drawings.get(name).map(String::as_str)
}

/// What drawings name by this name; a loud pink when there is none.
pub(crate) fn drawn_colour(name: &str) -> Srgba {
    drawn(name).map_or(NONE, of)
}

/// Every name that drawings can name.
#[cfg(test)]
pub(super) fn drawn_names() -> impl Iterator<Item = &'static str> {
    WRITTEN.drawings.keys().map(String::as_str)
}

/// Stands for a colour that is not there, so that a slip is seen at once.
const NONE: Srgba = Srgba::rgb(1.0, 0.0, 1.0);

fn of(hex: &str) -> Srgba {
    Srgba::hex(hex).expect("assets/palette.ron is compiled in and its colours are hexadecimal")
}

/// By how much the two rooms light what is drawn, in red, green and blue.
#[derive(Clone, Copy, Deserialize)]
#[serde(deny_unknown_fields)]
struct Lights {
    dim: (f32, f32, f32),
    bright: (f32, f32, f32),
}

/// Every colour that the code chooses, by name, and how the rooms are lit. What drawings name does not change with the room.
#[derive(Resource)]
pub(crate) struct Palette {
    colours: BTreeMap<String, Srgba>,
    light: Lights,
    bright: bool,
}

impl Palette {
    /// Reads the palette that is compiled in.
    pub(crate) fn load() -> Self {
        let colours = WRITTEN.code.iter().map(|(name, hex)| (name.clone(), of(hex)));
        Self { colours: colours.collect(), light: WRITTEN.light, bright: false }
    }

    /// Whether the colours of the bright room count.
    pub(crate) fn is_bright(&self) -> bool {
        self.bright
    }

    /// Lets the colours of the bright room count, or those of the dim one.
    pub(crate) fn set_bright(&mut self, bright: bool) {
        self.bright = bright;
    }

    /// By how much what is drawn is lit, in red, green and blue.
    pub(crate) fn light(&self) -> Vec3 {
        Vec3::from(if self.bright { self.light.bright } else { self.light.dim })
    }

    /// The colour called `name`; a loud pink when there is none, so that a slip is seen at once.
    pub(crate) fn get(&self, name: &str) -> Srgba {
        let bright = self.bright.then(|| self.colours.get(&format!("bright-{name}"))).flatten();
        bright.or_else(|| self.colours.get(name)).copied().unwrap_or(NONE)
    }

    /// The sheath colour of a wire by its IEC 60757 letters, such as `BN`, as red, green and blue from 0 to 1.
    pub(crate) fn wire(&self, letters: &str) -> [f32; 3] {
        let Srgba { red, green, blue, .. } = self.get(&format!("wire-{letters}"));
        [red, green, blue]
    }

    /// A named colour as red, green and blue from 0 to 1.
    pub(crate) fn rgb(&self, name: &str) -> [f32; 3] {
        let Srgba { red, green, blue, .. } = self.get(name);
        [red, green, blue]
    }
}

/// Contrast as the Web Content Accessibility Guidelines 2.2 have it (published), from 1 to 21.
#[cfg(test)]
pub(crate) fn contrast(one: Srgba, other: Srgba) -> f32 {
    let luminance = |colour: Srgba| {
        let linear = |part: f32| {
            if part <= 0.040_45 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * linear(colour.red) + 0.7152 * linear(colour.green) + 0.0722 * linear(colour.blue)
    };
    let (one, other) = (luminance(one), luminance(other));
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use bevy::prelude::*;

    use super::{Palette, contrast, drawn, drawn_colour, drawn_names};

    #[test]
    fn the_compiled_in_palette_reads_and_knows_every_sheath_colour() {
        let palette = Palette::load();
        for letters in ["BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH", "PK", "TQ"] {
            assert_ne!(palette.wire(letters), [1.0, 0.0, 1.0], "no colour for the letters {letters}");
        }
    }

    #[test]
    fn every_colour_of_drawings_is_one_and_no_other_is_like_it() {
        let mut known = BTreeMap::new();
        for name in drawn_names() {
            let hex = drawn(name).expect("it is there");
            assert_eq!(
                drawn_colour(name).to_hex().to_lowercase(),
                hex,
                "{name} has six figures and covers all"
            );
            assert_eq!(known.insert(hex, name), None, "{name} is another name of {hex}");
        }
    }

    #[test]
    fn contrast_is_as_published() {
        assert!((contrast(Srgba::BLACK, Srgba::WHITE) - 21.0).abs() < 1e-3);
        // #767676 on white is the usual example of the least grey that passes.
        let grey = contrast(Srgba::hex("#767676").expect("a colour"), Srgba::WHITE);
        assert!((4.5..4.6).contains(&grey), "{grey}");
    }

    #[test]
    fn a_sheaths_rim_stands_out_from_its_card_and_from_black() {
        let mut palette = Palette::load();
        for bright in [false, true] {
            palette.set_bright(bright);
            let seen = contrast(palette.get("wire-rim"), palette.get("card"));
            assert!(seen >= 3.0, "bright {bright}: {seen}");
        }
        for (rim, dark) in [("wire-rim", "wire-BK"), ("face-rim", "wire-BK"), ("face-rim", "housing")] {
            palette.set_bright(false);
            let seen = contrast(palette.get(rim), palette.get(dark));
            assert!(seen >= 3.0, "{rim} beside {dark}: {seen}");
        }
    }

    #[test]
    fn words_stand_out_from_what_they_stand_on_bright_and_at_dusk() {
        let mut palette = Palette::load();
        for bright in [false, true] {
            palette.set_bright(bright);
            for (words, ground) in [
                ("card-text", "card"),
                ("housing-text", "housing"),
                ("card-text", "card-well"),
                ("card-text", "button"),
                ("card-text", "button-hovered"),
                ("card-text", "button-pressed"),
                ("card-faint", "card"),
                ("caption", "card"),
                ("warning", "card"),
                ("card-focus", "card"),
                ("paper-ink", "paper"),
                ("paper-faint", "paper"),
                ("paper-warning", "paper"),
                ("paper-ink", "paper-tag"),
            ] {
                let contrast = contrast(palette.get(words), palette.get(ground));
                assert!(contrast >= 4.5, "{words} on {ground}, bright {bright}: {contrast}");
            }
        }
    }
}
