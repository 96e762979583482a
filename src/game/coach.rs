//! The coach: three rungs of advice, each with its price before it is asked for.

use bevy_egui::egui::{self, RichText};
use probeworthy::bench::{Action, Refusal, Rung};
use probeworthy::marks::{coaching_cost, next_rung};
use probeworthy::say;
use probeworthy::words;

use super::bay::{Bay, Coach};
use super::theme::SMALL;

/// The card on which the coach is asked.
pub(super) fn card(ui: &mut egui::Ui, bay: &mut Bay) {
    let Some(job) = bay.job.clone() else { return };
    let t = bay.texts;
    if !job.scenario().has_coach() {
        ui.label(words::refusal(t, bay.vehicle(), Refusal::NoCoach));
        return;
    }
    let next = next_rung(&job);
    let cost = coaching_cost(&job);
    for rung in Rung::ALL {
        let given = next.is_none_or(|next| rung < next);
        ui.horizontal(|ui| {
            let thinking = matches!(bay.coach, Coach::Thinking);
            let label = words::rung(t, rung, given);
            if ui
                .add_enabled(!given && !bay.busy && !thinking && !job.time_is_up(), egui::Button::new(label))
                .clicked()
            {
                bay.coach = Coach::Thinking;
                bay.act(Action::Coach(rung));
            }
        });
    }
    ui.label(RichText::new(words::coached_so_far(t, cost)).size(SMALL));
    ui.separator();
    match (&bay.coach, said(bay)) {
        (Coach::Thinking, _) => {
            // Nothing turns here: what is drawn takes the time of what is thought over.
            ui.label(t.say("coach-thinking"));
        }
        (_, None) => _ = ui.label(t.say("coach-rungs")),
        (_, Some((steps, said))) => {
            ui.add(egui::Label::new(RichText::new(said).strong()).wrap());
            if job.log()[steps..].iter().any(|step| !step.action.is_aside()) {
                ui.label(RichText::new(t.say("coach-since")).size(SMALL));
            }
        }
    }
    // The window was closed while he was thinking, or the record was gone on with elsewhere.
    if bay.unheard().is_some() && ui.button(t.say("coach-again")).clicked() {
        bay.hear_again();
    }
}

/// What he said last, and after how many steps.
pub(super) fn said(bay: &Bay) -> Option<(usize, String)> {
    let t = bay.texts;
    match &bay.coach {
        Coach::Silent | Coach::Thinking => None,
        Coach::Said(steps, said) => Some((
            *steps,
            match &**said {
                Ok(advice) => words::advice(t, bay.shown(), advice),
                Err(why) => say!(t, "trouble-no-answer", why = why.told(t)),
            },
        )),
        // In a language that was not there then it is not told again.
        Coach::Told(steps, words) => {
            let said = words.get(t.language().tag()).or(words.values().next())?;
            Some((*steps, said.clone()))
        }
    }
}
