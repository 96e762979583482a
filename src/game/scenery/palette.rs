//! The named colours of `assets/palette.ron`.

use std::collections::BTreeMap;

use bevy::prelude::*;

/// Compiled in, like the drawings, so that the program runs from any folder without its source beside it.
const TEXT: &str = include_str!("../../../assets/palette.ron");

/// Every colour the code chooses, by name. The drawings carry their own colours.
#[derive(Resource)]
pub(crate) struct Palette(BTreeMap<String, Srgba>);

impl Palette {
    /// Reads the palette that is compiled in.
    pub(super) fn load() -> Self {
        let written: BTreeMap<String, String> =
            ron::from_str(TEXT).expect("assets/palette.ron is compiled in and is a map of names to colours");
        let colours = written.into_iter().map(|(name, hex)| {
            let colour =
                Srgba::hex(&hex).expect("assets/palette.ron is compiled in and its colours are hexadecimal");
            (name, colour)
        });
        Self(colours.collect())
    }

    /// The colour called `name`; a loud pink when there is none, so that a slip is seen at once.
    pub(crate) fn get(&self, name: &str) -> Srgba {
        self.0.get(name).copied().unwrap_or(Srgba::rgb(1.0, 0.0, 1.0))
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

#[cfg(test)]
mod tests {
    use super::Palette;

    #[test]
    fn the_compiled_in_palette_reads_and_knows_every_sheath_colour() {
        let palette = Palette::load();
        for letters in ["BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH", "PK", "TQ"] {
            assert_ne!(palette.wire(letters), [1.0, 0.0, 1.0], "no colour for the letters {letters}");
        }
    }
}
