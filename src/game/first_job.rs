//! The first job: a blown fuse, found and mended step by step. Each step is done in the bay itself, and the next one appears
//! when it has been.

use std::sync::Arc;

use bevy_egui::egui::{self, Align2, Id, Key, Order, Pos2, Rect, RichText, pos2, vec2};
use probeworthy::bench::{Action, FuseWork, MeterSetting, Precaution};
use probeworthy::job::Job;
use probeworthy::record;
use probeworthy::say;
use probeworthy::scenario::load;
use probeworthy::vehicle::{FuseId, KeyButton, LidPosition, Point, Side};

use super::bay::{Bay, Place};
use super::overlay::laid;
use super::scenery::Palette;
use super::settings::Settings;
use super::theme::{self, SMALL, TITLE};

/// Its scenario.
pub(super) const SCENARIO: &str = "coil-or-contact";
/// Draws its fault, the fuse of the latch, which the steps below are about.
pub(super) const SEED: u64 = 3;
/// The fuse, by its place in the vehicle's list.
const FUSE: usize = 0;
/// Width of its note, in points.
const WIDTH: f32 = 252.0;

/// How far the learner is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Guide {
    /// It is offered.
    Offered,
    /// At this step.
    Step(usize),
}

/// What is to be done, and whether it has been.
pub(super) struct Step {
    /// The id of its text.
    says: &'static str,
    done: fn(&Bay, &Job) -> bool,
}

fn did(job: &Job, fits: impl Fn(&Action) -> bool) -> bool {
    job.log().iter().any(|step| step.outcome.refused.is_none() && fits(&step.action))
}

fn red_is_on(job: &Job, side: Side) -> bool {
    let meter = &job.scene().kit().meter;
    meter.setting == MeterSetting::Volts
        && meter.black.is_some()
        && meter.red == Some(Point::Fuse(FuseId::at(FUSE), side))
}

pub(super) const STEPS: [Step; 11] = [
    Step {
        says: "first-step-1",
        done: |bay, job| {
            bay.open != Some(Place::Customer)
                && did(job, |act| matches!(act, Action::Precaution(Precaution::ReadCautions)))
        },
    },
    Step {
        says: "first-step-2",
        done: |_, job| did(job, |act| matches!(act, Action::Key(KeyButton::Release))),
    },
    Step {
        says: "first-step-3",
        done: |bay, job| {
            bay.open != Some(Place::Diagram) && bay.diagram.has_been_looked_at() && !job.log().is_empty()
        },
    },
    Step { says: "first-step-4", done: |_, job| job.scene().kit().meter.setting == MeterSetting::Volts },
    Step {
        says: "first-step-5",
        done: |_, job| {
            job.scene().kit().meter.black == Some(Point::BatteryMinus)
                && did(job, |act| matches!(act, Action::Precaution(Precaution::EyeProtection)))
        },
    },
    Step { says: "first-step-6", done: |_, job| red_is_on(job, Side::Load) },
    Step { says: "first-step-7", done: |_, job| red_is_on(job, Side::Feed) },
    Step { says: "first-step-8", done: |_, job| job.named().is_some() && job.estimate().is_some() },
    Step {
        says: "first-step-9",
        done: |_, job| {
            did(job, |act| matches!(act, Action::Fuse(fuse, FuseWork::Fit(_)) if fuse.index() == FUSE))
        },
    },
    Step {
        says: "first-step-10",
        done: |_, job| {
            let meter = &job.scene().kit().meter;
            meter.red.is_none() && meter.black.is_none() && job.scene().lid() != LidPosition::Shut
        },
    },
    Step { says: "first-step-11", done: |bay, _| bay.is_over() },
];

/// Whether the first job is to be offered: nobody has done any here yet, nor said that he knows his way.
pub(super) fn is_due(settings: &Settings) -> bool {
    !settings.first_job_declined && record::default_folder().is_some_and(|folder| record::is_empty(&folder))
}

/// Begins it.
pub(super) fn begin(bay: &mut Bay) {
    begin_under(bay, Some(SCENARIO.to_owned()));
}

/// Begins it without a record, for pictures.
pub(super) fn begin_unkept(bay: &mut Bay) {
    begin_under(bay, None);
}

fn begin_under(bay: &mut Bay, name: Option<String>) {
    let Ok(loaded) = load(SCENARIO) else { return };
    bay.begin_with_seed(Arc::new(loaded.scenario), name, SEED);
    bay.guide = Some(Guide::Step(0));
}

/// Where its note lies, while there is one.
pub(super) fn note_area(ctx: &egui::Context, bay: &Bay) -> Option<Rect> {
    laid(ctx, Id::new("first job")).filter(|_| matches!(bay.guide, Some(Guide::Step(_))))
}

/// The same, if that is at the window's lower edge.
pub(super) fn note_below(ctx: &egui::Context, bay: &Bay) -> Option<Rect> {
    let lower = ctx.viewport_rect().bottom() - 2.0 * EDGE;
    note_area(ctx, bay).filter(|note| note.bottom() > lower)
}

/// Between the note and the window's edge, in points.
const EDGE: f32 = 6.0;

/// Where it lies: in the lower left corner, or at the upper edge in this room beside the job sheet, where it would cover fewer
/// signs.
fn lie(ctx: &egui::Context, bay: &Bay, room: Option<(f32, f32)>, signs: &[Rect]) -> (Align2, Pos2) {
    let screen = ctx.viewport_rect();
    let low = (Align2::LEFT_BOTTOM, screen.left_bottom() + vec2(EDGE, -EDGE));
    let (Some((left, right)), Some(note)) = (room.filter(|_| bay.open.is_none()), note_area(ctx, bay)) else {
        return low;
    };
    let high = (Align2::LEFT_TOP, pos2(left + EDGE, screen.top() + EDGE));
    let covers = |(pivot, at): (Align2, Pos2)| {
        let there = pivot.anchor_size(at, note.size());
        signs.iter().filter(|sign| sign.intersects(there)).count()
    };
    if left + EDGE + note.width() <= right && covers(high) < covers(low) { high } else { low }
}

/// The note, while it goes on, with the room at the upper edge and the signs that it had better not cover.
pub(super) fn note(
    ctx: &egui::Context,
    bay: &mut Bay,
    room: Option<(f32, f32)>,
    signs: &[Rect],
    palette: &Palette,
) {
    match bay.guide {
        None | Some(Guide::Offered) => {}
        Some(Guide::Step(step_at)) => {
            let Some(job) = &bay.job else { return };
            // However it was handed in, there is no next step.
            let Some(step) = STEPS.get(step_at).filter(|_| job.handed_in().is_none()) else {
                bay.guide = None;
                return;
            };
            if (step.done)(bay, job) {
                bay.guide = Some(Guide::Step(step_at + 1));
                return;
            }
            let t = bay.texts;
            let says = t.say(step.says);
            let (pivot, at) = lie(ctx, bay, room, signs);
            egui::Area::new(Id::new("first job")).pivot(pivot).fixed_pos(at).order(Order::Foreground).show(
                ctx,
                |ui| {
                    theme::paper_frame(palette).show(ui, |ui| {
                        theme::on_paper(ui, palette);
                        ui.set_width(WIDTH);
                        ui.horizontal(|ui| {
                            let title = say!(t, "first-step", step = step_at + 1, all = STEPS.len());
                            ui.label(RichText::new(title).size(SMALL).strong());
                            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                                if ui.button(t.say("first-no-more")).clicked() {
                                    bay.guide = None;
                                }
                            });
                        });
                        ui.label(says);
                    });
                },
            );
        }
    }
}

/// The keys that do something while it is offered: to the settings, and back.
pub(super) fn keys_of_the_offer(ctx: &egui::Context, bay: &mut Bay) {
    let pressed = |key| ctx.input(|input| input.key_pressed(key));
    let in_settings = bay.open == Some(Place::Settings);
    if pressed(Key::End) || (in_settings && pressed(Key::Escape) && !egui::Popup::is_any_open(ctx)) {
        bay.toggle(Place::Settings);
    }
}

/// Offers it, at the first start.
pub(super) fn offer(ctx: &egui::Context, bay: &mut Bay, settings: &mut Settings, palette: &Palette) {
    let t = bay.texts;
    egui::Window::new("first job")
        .title_bar(false)
        .resizable(false)
        .movable(false)
        .anchor(Align2::CENTER_CENTER, [0.0, 0.0])
        .order(Order::Foreground)
        .frame(theme::paper_frame(palette))
        .show(ctx, |ui| {
            theme::on_paper(ui, palette);
            ui.set_width(440.0);
            ui.label(RichText::new(t.say("first-title")).size(TITLE).strong());
            ui.label(t.say("first-about"));
            ui.add_space(8.0);
            ui.horizontal_wrapped(|ui| {
                let show = ui.button(t.say("first-show"));
                if ctx.memory(|memory| memory.focused().is_none()) {
                    show.request_focus();
                }
                if show.clicked() {
                    begin(bay);
                }
                if ui.button(t.say("first-know")).clicked() {
                    bay.guide = None;
                    settings.first_job_declined = true;
                    settings.keep();
                }
                if ui.button(t.say("first-settings")).clicked() {
                    bay.open = Some(Place::Settings);
                }
            });
        });
}

#[cfg(test)]
mod tests {
    use probeworthy::job::{Choice, NoJournal};
    use probeworthy::marks::mark;
    use probeworthy::reasoning::Inquiry;
    use probeworthy::{threads, words};

    use super::*;

    /// What is done in each step, as at the desk.
    const ACTS: [&[&str]; STEPS.len()] = [
        &["cautions"],
        &["key release"],
        &[],
        &["meter volts"],
        &["glasses", "black battery-minus"],
        &["red f1.load"],
        &["red f1.feed"],
        &["name f1 blown 95%", "estimate 30"],
        &["fuse f1 fit 15"],
        &["red off", "black off", "key release"],
        &[
            "lid shut",
            "key unlock",
            "write complaint key and pad do not open the lid",
            "write cause F1 blown: 12.5 V before it, none behind",
            "write correction new F1, 15 A; the key opens the lid",
            "hand in",
        ],
    ];

    #[test]
    fn each_step_is_done_by_what_it_asks_for_and_not_before() {
        let scenario = Arc::new(load(SCENARIO).expect("it is on the shelf").scenario);
        assert_eq!(scenario.vehicle.fuses[FUSE].id, "f1");
        let mut job = Job::new(Arc::clone(&scenario), SEED, Choice::Drawn).expect("a job");
        let mut bay = Bay::waiting(Arc::clone(&scenario));
        for (at, (step, acts)) in STEPS.iter().zip(ACTS).enumerate() {
            bay.job = Some(Arc::new(job.clone()));
            assert!(!(step.done)(&bay, &job), "step {at} is done beforehand");
            for act in acts {
                let act = words::parse(&scenario.vehicle, act).expect(act);
                let step = job.apply(act, &mut NoJournal).expect("an operating point");
                assert_eq!(step.outcome.refused, None, "step {at}");
            }
            bay.open = None;
            if acts.is_empty() {
                bay.diagram.look_at(bay.texts, &scenario.vehicle);
            }
            bay.job = Some(Arc::new(job.clone()));
            assert!((step.done)(&bay, &job), "step {at} is not done by its acts");
        }
        assert!(job.truth().is_some_and(|truth| truth.id.contains("f1")));
        // Who does what he is told learns nothing that he is blamed for afterwards.
        let inquiry =
            Inquiry::new(Arc::clone(job.scenario()), threads::available()).expect("what could be wrong");
        let marks = mark(&job, &inquiry).expect("it can be replayed").expect("it is handed in");
        assert!(marks.total > 95.0, "{marks:?}");
        assert!(marks.afterwards.comebacks.is_empty(), "{:?}", marks.afterwards);
    }
}
