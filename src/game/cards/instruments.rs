//! The meter, the clamp, and what is clipped to two points.

use bevy_egui::egui::{self, RichText};
use probeworthy::bench::{Action, LampSize, MeterSetting, Tool};
use probeworthy::say;
use probeworthy::words;

use super::common::{act, columns, leads_off};
use crate::game::bay::{Bay, Hand};
use crate::game::theme::{SMALL, TITLE};

pub(super) fn meter(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    let Some((setting, capture)) =
        bay.job.as_ref().map(|job| &job.scene().kit().meter).map(|meter| (meter.setting, meter.capture))
    else {
        return;
    };
    ui.horizontal_wrapped(|ui| {
        for one in MeterSetting::ALL {
            let button = egui::Button::selectable(one == setting, words::setting_title(t, one));
            let button = button.frame_when_inactive(true);
            if ui.add(button).clicked() && one != setting {
                bay.act(Action::Meter(one));
            }
        }
    });
    let label = if capture { t.say("meter-let-go") } else { t.say("meter-hold") };
    act(ui, bay, label, Action::Capture(!capture));
    // A box of its own, so that the words beside it wrap.
    ui.horizontal_wrapped(|ui| ui.checkbox(&mut bay.draft.hasty, t.say("meter-hasty")));
    act(ui, bay, t.say("meter-where"), Action::Observe);
    leads_off(ui, bay);
    /// Columns for a setting's name and for what it may be off, in points.
    const SETTING: f32 = 138.0;
    const OFF: f32 = 84.0;
    ui.separator();
    ui.label(RichText::new(words::meter_about(t)).size(SMALL));
    for (title, about, off) in words::meter_settings(t) {
        let small = |text: &str| RichText::new(text).size(SMALL);
        columns(
            ui,
            &[(Some(SETTING), small(title).strong()), (None, small(about)), (Some(OFF), small(&off))],
        );
    }
    for note in words::instrument_notes(t) {
        ui.add_space(4.0);
        // The lines are those of a terminal.
        let flowing = note.split_whitespace().collect::<Vec<_>>().join(" ");
        ui.add(egui::Label::new(RichText::new(flowing).size(SMALL)).wrap());
    }
}

pub(super) fn clamp(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    let on = bay.job.as_ref().and_then(|job| job.scene().kit().clamp);
    match on {
        None => {
            if ui.button(t.say("tool-take")).clicked() {
                bay.hand = Hand::Clamp;
                bay.open = None;
            }
            ui.label(t.say("clamp-goes"));
            ui.label(t.say("clamp-station"));
        }
        Some(clamp) => {
            let place = words::clamp_place_title(t, bay.vehicle(), clamp.place);
            ui.label(say!(t, "clamp-round", what = place));
            if let Some(reading) = bay.job.as_ref().and_then(|job| job.scene().rest().clamp.clone()) {
                ui.label(RichText::new(reading.now.to_string()).size(TITLE).monospace());
            }
            act(ui, bay, t.say("tool-off"), Action::Clamp(None));
        }
    }
}

/// What a tool is for, and what it puts on the circuit.
fn tool_about(tool: Tool) -> &'static str {
    match tool {
        Tool::TestLamp(LampSize::Five) => "tool-about-lamp-5",
        Tool::TestLamp(LampSize::TwentyOne) => "tool-about-lamp-21",
        Tool::Bridge => "tool-about-bridge",
        Tool::BenchBattery => "tool-about-bench",
    }
}

pub(super) fn tool(ui: &mut egui::Ui, bay: &mut Bay, tool: Tool) {
    let t = bay.texts;
    let clip = bay.job.as_ref().and_then(|job| job.scene().kit().clip(tool).copied());
    ui.label(RichText::new(t.say(tool_about(tool))).size(SMALL));
    match clip {
        None => {
            if ui.button(t.say("tool-take")).clicked() {
                bay.hand = Hand::Clip(tool, None);
                bay.open = None;
            }
            if tool == Tool::BenchBattery {
                ui.label(t.say("tool-first-plus"));
            }
        }
        Some(clip) => {
            let vehicle = bay.vehicle();
            let (from, to) =
                (words::point_title(t, vehicle, clip.from), words::point_title(t, vehicle, clip.to));
            ui.label(say!(t, "tool-on", from = from, to = to));
            if clip.fuse.is_some_and(|fuse| fuse.blown) {
                ui.label(t.say("tool-blown"));
            }
            act(ui, bay, t.say("tool-off"), Action::Clip(tool, None));
        }
    }
}
