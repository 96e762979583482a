//! How the window is worked, in short.

use bevy_egui::egui::{self, Color32, Sense, vec2};
use probeworthy::words::Texts;

use crate::game::scenery::Palette;
use crate::game::signs::Sign;
use crate::game::theme::colour;

/// What a sign and its words take at most, in points.
const WIDEST: f32 = 160.0;

pub(super) fn card(ui: &mut egui::Ui, t: Texts, palette: &Palette) {
    ui.label(t.say("help-touch"));
    // Each sign with what it marks.
    let ink = colour(palette, "paper-ink");
    // As many beside each other as the card has room for.
    let fourth = ui.available_width() >= 4.0 * WIDEST;
    let across = if fourth { 4 } else { 3 };
    egui::Grid::new("signs").num_columns(2 * across).min_col_width(24.0).spacing([6.0, 2.0]).show(ui, |ui| {
        for row in Sign::KINDS.chunks(across) {
            for sign in row {
                let (rect, _) = ui.allocate_exact_size(vec2(24.0, 22.0), Sense::hover());
                sign.draw(ui.painter(), rect.center(), 7.5, ink, Color32::TRANSPARENT);
                ui.horizontal(|ui| {
                    ui.label(sign.title(t));
                    // The next sign is farther from a word than its own is.
                    ui.add_space(14.0);
                });
            }
            ui.end_row();
        }
    });
    let (hands, keys) = (
        [
            t.say("help-probe"),
            t.say("help-tools"),
            t.say("help-hand-tools"),
            t.say("help-recorder"),
            t.say("help-lid"),
            t.say("help-minutes"),
        ],
        [
            t.say("help-tab"),
            t.say("help-esc"),
            t.say("help-nearer"),
            t.say("help-keys-1"),
            t.say("help-keys-2"),
            t.say("help-keys-3"),
            t.say("help-keys-4"),
            t.say("help-keys-5"),
        ],
    );
    for line in hands {
        ui.label(line);
    }
    ui.separator();
    for line in keys {
        ui.label(line);
    }
}
