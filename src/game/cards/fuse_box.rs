//! Fuses as things: the box with each in its slot and two points to measure at, and the tray of new ones.

use std::collections::BTreeMap;
use std::sync::Arc;

use bevy_egui::egui::{
    self, Align2, Color32, FontFamily, FontId, Galley, Painter, Rect, Response, RichText, Sense, Shape,
    Stroke, StrokeKind, Vec2, WidgetInfo, WidgetType, pos2, vec2,
};
use probeworthy::bench::{Action, FuseLook, FuseWork, Repair, Seen};
use probeworthy::circuit::FUSE_RATINGS_AMPS;
use probeworthy::job::Job;
use probeworthy::say;
use probeworthy::vehicle::{FuseId, Point, Side, Vehicle};
use probeworthy::words::{Texts, capital};

use super::common::{act, drawn_point};
use super::known::known;
use crate::game::bay::Bay;
use crate::game::scenery::Palette;
use crate::game::theme::{SMALL, colour};

/// The colour of a fuse by its rating: ISO 8820-3, from memory. With it the ink that stands out on it.
const BODIES: [(u8, &str, &str); FUSE_RATINGS_AMPS.len()] = [
    (1, "fuse-black", LIGHT),
    (2, "fuse-grey", DARK),
    (3, "fuse-violet", LIGHT),
    (4, "fuse-pink", DARK),
    (5, "fuse-tan", DARK),
    (10, "fuse-red", LIGHT),
    (15, "fuse-blue", DARK),
    (20, "fuse-yellow", DARK),
    (25, "fuse-clear", DARK),
    (30, "fuse-green", DARK),
];
const UNSEEN: (&str, &str) = ("fuse-unseen", LIGHT);
const LIGHT: &str = "mark-text";
const DARK: &str = "mark-black";

/// A fuse from above, and a window in its back through which its blade is touched, in points.
const FUSE: Vec2 = vec2(84.0, 44.0);
const WINDOW: Vec2 = vec2(26.0, 26.0);
/// How many slots stand beside each other at most, and what lies between two, and between a fuse and its name, in points.
const ACROSS: usize = 2;
const APART: f32 = 8.0;
/// Of the box about its slots, in points.
const MARGIN: i8 = 6;
/// How far a fuse that sits loosely leans, in points.
const LEANS: f32 = 3.0;

/// What is known of the fuses in their slots: as they looked when they were last held to the light, or as they were fitted.
type Known = BTreeMap<FuseId, FuseLook>;

/// The same from a job's log.
fn read(job: &Job) -> Known {
    let mut known = Known::new();
    for step in job.log().iter().filter(|step| step.outcome.refused.is_none()) {
        match step.action {
            Action::Fuse(of, FuseWork::Fit(amps)) => {
                let loose = known.get(&of).is_some_and(|known| known.loose);
                known.insert(of, FuseLook { rating: Some(amps), blown: false, loose });
            }
            Action::Repair(Repair::Clips(of)) => {
                known.entry(of).and_modify(|known| known.loose = false);
            }
            _ => known.extend(step.outcome.seen.iter().filter_map(|seen| match seen {
                Seen::Fuse(of, look) => Some((*of, *look)),
                _ => None,
            })),
        }
    }
    known
}

/// What is known of a fuse.
fn look_of(ctx: &egui::Context, bay: &Bay, fuse: FuseId) -> Option<FuseLook> {
    known(ctx, bay, "fuses", read).get(&fuse).copied()
}

/// The box: one of its fuses is chosen, and what can be done with it stands below.
pub(super) fn fuse_box(ui: &mut egui::Ui, bay: &mut Bay, palette: &Palette) {
    let t = bay.texts;
    let fuses = bay.vehicle().fuses.len();
    if fuses == 0 {
        return;
    }
    ui.label(RichText::new(t.say("cabin-fuses")).strong());
    let names: Vec<String> = (0..fuses).map(|at| name(t, bay.vehicle(), FuseId::at(at))).collect();
    let (across, wide) = columns(ui.painter(), &names, ui.available_width() - 2.0 * f32::from(MARGIN));
    egui::Frame::new().fill(colour(palette, "housing")).corner_radius(8.0).inner_margin(MARGIN).show(
        ui,
        |ui| {
            ui.spacing_mut().item_spacing = vec2(APART, APART);
            for (row, names) in names.chunks(across).enumerate() {
                // As high as its highest name.
                ui.horizontal_top(|ui| {
                    for (at, name) in names.iter().enumerate() {
                        slot(ui, bay, palette, FuseId::at(row * across + at), (name, wide));
                    }
                });
            }
        },
    );
    chosen(ui, bay);
}

/// What stands beside a fuse: what it is called, and what belongs there.
fn name(t: Texts, vehicle: &Vehicle, id: FuseId) -> String {
    let file = vehicle.fuse(id);
    capital(&say!(t, "cabin-rating", fuse = t.title(&file.title), amps = file.rating_amps))
}

/// How many slots stand beside each other in a box of this width, and how wide the name of each is: so few that no name breaks
/// inside a word.
fn columns(painter: &Painter, names: &[String], wide: f32) -> (usize, f32) {
    let room = |across: usize| {
        #[expect(clippy::cast_precision_loss, reason = "one or two")]
        let across = across as f32;
        (wide - (across - 1.0) * APART) / across - FUSE.x - APART
    };
    // With the space behind it: where that has no room the line breaks before it.
    let words = names.iter().flat_map(|name| name.split_inclusive(' '));
    let longest = words.map(|word| laid(painter, word, f32::INFINITY).size().x).fold(0.0, f32::max).ceil();
    let across = (1..=ACROSS).rev().find(|across| room(*across) > longest).unwrap_or(1);
    (across, room(across))
}

/// A name in lines no wider than this.
fn laid(painter: &Painter, name: &str, wide: f32) -> Arc<Galley> {
    let font = FontId::new(SMALL, FontFamily::Proportional);
    painter.layout(name.to_owned(), font, Color32::PLACEHOLDER, wide)
}

/// A fuse in its slot, or the slot, with its name beside it.
fn slot(ui: &mut egui::Ui, bay: &mut Bay, palette: &Palette, id: FuseId, (label, wide): (&str, f32)) {
    let t = bay.texts;
    let file = bay.vehicle().fuse(id);
    let sides = [("cabin-feed-side", Side::Feed), ("cabin-load-side", Side::Load)]
        .map(|(name, side)| (say!(t, name, fuse = t.title(&file.title)), Point::Fuse(id, side)));
    let fitted = bay.job.as_ref().and_then(|job| job.scene().fuses_fitted().get(id.index()).copied());
    let look = look_of(ui.ctx(), bay, id);
    ui.horizontal_top(|ui| {
        ui.set_width(FUSE.x + APART + wide);
        let (rect, body) = ui.allocate_exact_size(FUSE, Sense::click());
        let is_chosen = bay.draft.fuse == Some(id);
        body.widget_info(|| WidgetInfo::selected(WidgetType::RadioButton, true, is_chosen, label));
        let brush = Brush { painter: ui.painter(), palette };
        brush.slot(rect);
        if fitted == Some(true) {
            brush.fuse(rect, look);
        }
        for ((label, point), x) in sides.iter().zip([rect.left(), rect.right() - WINDOW.x]) {
            let window = Rect::from_min_size(pos2(x, rect.top() + 3.0), WINDOW);
            let touched = ui.interact(window, ui.id().with(label), Sense::click());
            touched.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, label));
            brush.blade(window, &touched);
            drawn_point(ui, bay, palette, touched, (*point, label), window.left_top() - vec2(0.0, 2.0));
        }
        let edge = if body.has_focus() || body.hovered() { "housing-focus" } else { "housing-accent" };
        if is_chosen || body.has_focus() || body.hovered() {
            let line = Stroke::new(2.0, colour(palette, edge));
            ui.painter().rect_stroke(rect.expand(3.0), 6.0, line, StrokeKind::Inside);
        }
        let words = RichText::new(label).size(SMALL).color(colour(palette, "housing-text"));
        let words = ui.add(egui::Label::new(words).wrap().sense(Sense::click()));
        if body.clicked() || words.clicked() {
            bay.draft.fuse = Some(id);
        }
    });
}

/// What can be done with the fuse that is chosen.
fn chosen(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    let id = *bay.draft.fuse.get_or_insert(FuseId::at(0));
    if bay.vehicle().fuses.len() <= id.index() {
        bay.draft.fuse = None;
        return;
    }
    let file = bay.vehicle().fuse(id);
    // What belongs there, unless another was taken from the tray.
    let rating = bay.draft.fuse_rating.unwrap_or(file.rating_amps);
    let title = capital(t.title(&file.title));
    let fitted = bay.job.as_ref().is_none_or(|job| job.scene().fuses_fitted().get(id.index()) == Some(&true));
    let look = look_of(ui.ctx(), bay, id);
    let stands = match look {
        _ if !fitted => "fuse-is-out",
        None => "fuse-not-looked-at",
        Some(look) if look.blown => "fuse-was-blown",
        Some(look) if look.loose => "fuse-was-loose",
        Some(_) => "fuse-was-whole",
    };
    ui.label(say!(t, "fuse-chosen", fuse = &title, stands = t.say(stands)));
    ui.horizontal_wrapped(|ui| {
        if fitted {
            act(ui, bay, t.say("fuse-look"), Action::Fuse(id, FuseWork::Look));
            act(ui, bay, t.say("fuse-pull"), Action::Fuse(id, FuseWork::Pull));
        } else {
            act(ui, bay, t.say("fuse-put-back"), Action::Fuse(id, FuseWork::PutBack));
            act(ui, bay, t.say("fuse-clips"), Action::Repair(Repair::Clips(id)));
        }
        act(ui, bay, &say!(t, "fuse-fit", amps = rating), Action::Fuse(id, FuseWork::Fit(rating)));
    });
}

/// The new fuses: one may be chosen, otherwise what the slot says is fitted.
pub(super) fn new_fuses(ui: &mut egui::Ui, bay: &mut Bay, palette: &Palette) {
    let t = bay.texts;
    ui.horizontal_wrapped(|ui| {
        ui.label(t.say("fuse-new"));
        let as_slot = egui::Button::selectable(bay.draft.fuse_rating.is_none(), t.say("fuse-as-slot"));
        if ui.add(as_slot.frame_when_inactive(true)).clicked() {
            bay.draft.fuse_rating = None;
        }
    });
    ui.horizontal_wrapped(|ui| {
        for amps in FUSE_RATINGS_AMPS {
            let (outer, response) = ui.allocate_exact_size(vec2(48.0, 40.0), Sense::click());
            let is_chosen = bay.draft.fuse_rating == Some(amps);
            let label = say!(t, "fuse-amps", amps = amps);
            response.widget_info(|| WidgetInfo::selected(WidgetType::RadioButton, true, is_chosen, &label));
            let brush = Brush { painter: ui.painter(), palette };
            let look = FuseLook { rating: Some(amps), blown: false, loose: false };
            brush.fuse(outer.shrink(4.0), Some(look));
            if is_chosen || response.has_focus() || response.hovered() {
                let edge = if is_chosen { "accent" } else { "focus" };
                let line = Stroke::new(2.0, colour(palette, edge));
                ui.painter().rect_stroke(outer, 5.0, line, StrokeKind::Inside);
            }
            if response.clicked() {
                bay.draft.fuse_rating = Some(amps);
            }
        }
    });
}

struct Brush<'a> {
    painter: &'a Painter,
    palette: &'a Palette,
}

impl Brush<'_> {
    fn ink(&self, name: &str) -> Color32 {
        colour(self.palette, name)
    }

    /// The slot with its two clips.
    fn slot(&self, rect: Rect) {
        self.painter.rect_filled(rect, 4.0, self.ink("cavity"));
        for x in [rect.left() + WINDOW.x / 2.0, rect.right() - WINDOW.x / 2.0] {
            let clip = Rect::from_center_size(pos2(x, rect.top() + 16.0), vec2(11.0, 17.0));
            self.painter.rect_filled(clip, 2.0, self.ink("face-brass-deep"));
        }
    }

    /// A fuse's body; grey where nobody has looked at it.
    fn fuse(&self, rect: Rect, look: Option<FuseLook>) {
        let rating = look.and_then(|look| look.rating);
        let named = rating.and_then(|amps| BODIES.iter().find(|(of, _, _)| *of == amps));
        let (body, ink) = named.map_or(UNSEEN, |(_, body, ink)| (body, ink));
        let ink = self.ink(ink);
        let lean = if look.is_some_and(|look| look.loose) { LEANS } else { 0.0 };
        let corners = [
            rect.left_top() + vec2(2.0, 1.0 - lean),
            rect.right_top() + vec2(-2.0, 1.0 + lean),
            rect.right_bottom() + vec2(-8.0, -2.0 + lean),
            rect.left_bottom() + vec2(8.0, -2.0 - lean),
        ];
        // A black one is seen on the dark card by its edge only.
        let edge =
            Stroke::new(1.5, self.ink(if body == "fuse-black" { "control-edge" } else { "face-edge" }));
        self.painter.add(Shape::convex_polygon(corners.to_vec(), self.ink(body), edge));
        let font = FontId::new(SMALL, FontFamily::Proportional);
        let at = pos2(rect.center().x, rect.top() + rect.height() * 0.36);
        let figure = rating.map_or_else(|| "?".to_owned(), |amps| amps.to_string());
        self.painter.text(at, Align2::CENTER_CENTER, figure, font, ink);
        // The strip, seen from the side through the body.
        let Some(look) = look else { return };
        let (y, half) = (rect.bottom() - rect.height() * 0.22, rect.width() * 0.2);
        let strip = Stroke::new(2.0, ink);
        let (left, right) = (pos2(at.x - half, y), pos2(at.x + half, y));
        if look.blown {
            self.painter.line_segment([left, left + vec2(half * 0.6, -3.0)], strip);
            self.painter.line_segment([right, right + vec2(-half * 0.6, -3.0)], strip);
        } else {
            self.painter.line_segment([left, right], strip);
        }
    }

    /// The blade behind its window.
    fn blade(&self, window: Rect, touched: &Response) {
        let hole = Rect::from_center_size(window.center(), vec2(17.0, 17.0));
        self.painter.rect_filled(hole, 3.0, self.ink("cavity"));
        self.painter.rect_filled(hole.shrink2(vec2(4.0, 2.5)), 1.5, self.ink("brass"));
        if touched.hovered() || touched.has_focus() {
            let line = Stroke::new(2.0, self.ink("housing-focus"));
            self.painter.rect_stroke(window, 4.0, line, StrokeKind::Inside);
        }
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use egui_kittest::kittest::Queryable;
    use probeworthy::scenario::load;
    use probeworthy::words::Language;

    use super::*;
    use crate::game::bay::Place;
    use crate::game::by_keys::{Window, wait, window};
    use crate::game::scenery::contrast;
    use crate::game::sync::vehicles;

    #[test]
    fn every_rating_has_a_colour_of_its_own_and_is_read_on_it() {
        assert_eq!(BODIES.map(|(amps, _, _)| amps), FUSE_RATINGS_AMPS);
        let names: std::collections::BTreeSet<&str> = BODIES.iter().map(|(_, name, _)| *name).collect();
        assert_eq!(names.len(), BODIES.len());
        let palette = Palette::load();
        for (body, ink) in BODIES.map(|(_, body, ink)| (body, ink)).into_iter().chain([UNSEEN]) {
            let apart = contrast(palette.get(body), palette.get(ink));
            assert!(apart >= 4.5, "{ink} on {body}: {apart}");
        }
    }

    #[test]
    fn no_name_breaks_inside_a_word_on_any_vehicle_in_any_language_however_wide_the_card_is() {
        let ctx = egui::Context::default();
        let mut out = ctx.run_ui(Default::default(), |ui| {
            for (id, scenario) in vehicles() {
                let vehicle = &scenario.vehicle;
                for language in Language::ALL {
                    let names: Vec<String> = (0..vehicle.fuses.len())
                        .map(|at| name(Texts::of(language), vehicle, FuseId::at(at)))
                        .collect();
                    // From what it has in text of 200 % to what it has where it has room.
                    for wide in (340_u16..=520).step_by(5).map(f32::from) {
                        let (across, wide) = columns(ui.painter(), &names, wide);
                        assert!((1..=ACROSS).contains(&across));
                        for name in &names {
                            let galley = laid(ui.painter(), name, wide);
                            let lines: Vec<String> = galley.rows.iter().map(|row| row.text()).collect();
                            for line in &lines[..lines.len() - 1] {
                                assert!(line.ends_with(' '), "{id}, {language:?}, {wide}: {lines:?}");
                            }
                        }
                    }
                }
            }
        });
        // Nothing is drawn.
        out.textures_delta.clear();
    }

    #[test]
    fn a_fuse_is_chosen_looked_at_pulled_and_renewed_and_shows_no_more_than_was_seen() {
        let scenario = load("first-fuse").expect("it is on the shelf").scenario;
        let mut harness = window(Bay::new(Arc::new(scenario), None, 1));
        let harness = &mut harness;
        wait(harness);
        harness.state_mut().bay.open = Some(Place::Cabin);
        harness.run_steps(3);
        let look = |harness: &egui_kittest::Harness<'_, Window>| {
            harness.state().bay.job.as_ref().and_then(|job| read(job).get(&FuseId::at(1)).copied())
        };
        assert_eq!(look(harness), None, "nobody has looked");
        let name = {
            let fuse = &harness.state().bay.vehicle().fuses[1];
            // A figure stays with its unit where the line wraps.
            capital(&format!("{}, {}\u{a0}A", fuse.title.written(), fuse.rating_amps))
        };
        harness.get_by_role_and_label(egui::accesskit::Role::RadioButton, &name).click();
        harness.run_steps(2);
        for (label, fitted) in [("Look at it", true), ("Pull it", false), ("Push it back", true)] {
            harness.get_by_label(label).click();
            wait(harness);
            harness.run_steps(2);
            let job = harness.state().bay.job.as_ref().expect("a job");
            assert_eq!(job.scene().fuses_fitted()[1], fitted, "{label}");
        }
        let rating = harness.state().bay.vehicle().fuses[1].rating_amps;
        assert_eq!(look(harness).and_then(|look| look.rating), Some(rating));
        harness.state_mut().bay.act(Action::Fuse(FuseId::at(1), FuseWork::Fit(30)));
        wait(harness);
        assert_eq!(look(harness), Some(FuseLook { rating: Some(30), blown: false, loose: false }));
    }
}
