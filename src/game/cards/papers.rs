//! The papers of a job: what the customer says, what was found, the write-up, the hand-in.

use bevy_egui::egui::{self, RichText};
use probeworthy::bench::{Action, Caution, Precaution, Question, WriteUpLine};
use probeworthy::say;
use probeworthy::words::{self, Texts};

use super::common::{act, columns};
use crate::game::bay::Bay;
use crate::game::theme::{BODY, SMALL};

pub(super) fn customer(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    if let Some(terms) = &bay.paper {
        ui.label(RichText::new(terms).size(SMALL));
        ui.separator();
    }
    let words = say!(t, "customer-says", words = t.title(&bay.scenario.customer));
    ui.label(RichText::new(words).size(BODY + 1.0).italics());
    for limit in words::limits(t, &bay.scenario) {
        ui.label(limit);
    }
    ui.add_space(6.0);
    let read = bay.job.as_ref().is_some_and(|job| job.scene().kit().cautions_read);
    if !read {
        ui.label(RichText::new(t.say("customer-before")).strong());
        cautions(ui, t);
        act(ui, bay, t.say("customer-read"), Action::Precaution(Precaution::ReadCautions));
        ui.separator();
    }
    ui.label(RichText::new(t.say("customer-ask")).strong());
    for question in Question::ALL {
        let said: Vec<String> = bay
            .job
            .iter()
            .flat_map(|job| job.log())
            .filter(|step| step.action == Action::Ask(question))
            .flat_map(|step| step.outcome.heard.iter().map(|heard| words::heard(t, bay.vehicle(), heard)))
            .collect();
        let title = words::question(t, question);
        match said.last() {
            // Asked again he would say the same: the button makes way for the answer.
            Some(answer) => {
                ui.label(RichText::new(title).size(SMALL));
                ui.add(egui::Label::new(RichText::new(answer).italics()).wrap());
            }
            None => act(ui, bay, title, Action::Ask(question)),
        }
    }
    if read {
        ui.add_space(6.0);
        egui::CollapsingHeader::new(t.say("customer-again")).show(ui, |ui| cautions(ui, t));
    }
}

/// What is to be heeded at every vehicle.
fn cautions(ui: &mut egui::Ui, t: Texts) {
    for caution in [
        Caution::MakersProcedure,
        Caution::Restraint,
        Caution::Eyes,
        Caution::Lid,
        Caution::NobodyInside,
        Caution::NoPiercing,
        Caution::SpreadTerminals,
        Caution::FusedOnly,
    ] {
        ui.label(format!("•  {}", words::caution(t, caution)));
    }
}

pub(super) fn findings(ui: &mut egui::Ui, bay: &Bay) {
    let t = bay.texts;
    let Some(job) = &bay.job else { return };
    let vehicle = bay.vehicle();
    if job.log().is_empty() {
        ui.label(t.say("findings-none"));
    }
    const MINUTES: f32 = 56.0;
    const ACT: f32 = 220.0;
    if !job.log().is_empty() {
        let head = |id| RichText::new(t.say(id)).size(SMALL);
        let heads = [
            (Some(MINUTES), head("findings-clock")),
            (Some(ACT), head("findings-done")),
            (None, head("findings-found")),
        ];
        columns(ui, &heads);
        ui.separator();
    }
    for step in job.log().iter().rev() {
        let mut found = words::findings(t, vehicle, step);
        if let Action::Write(_, text) = &step.action {
            found.push(text.clone());
        }
        let title = words::capital(&words::action_title(t, vehicle, &step.action));
        columns(
            ui,
            &[
                (Some(MINUTES), RichText::new(format!("{:.1}", step.minutes)).monospace()),
                (Some(ACT), RichText::new(title).strong()),
                (None, RichText::new(words::capital(&found.join("; ")))),
            ],
        );
        ui.separator();
    }
}

pub(super) fn writing(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    ui.label(t.say("writing-about"));
    for (at, line) in WriteUpLine::ALL.into_iter().enumerate() {
        let title = ui.label(RichText::new(words::write_up_title(t, line)).strong());
        let field = egui::TextEdit::multiline(&mut bay.draft.write_up[at]).desired_rows(2);
        ui.add(field.desired_width(f32::INFINITY)).labelled_by(title.id);
    }
    if ui.button(t.say("writing-write")).clicked() {
        for (line, text) in unwritten(bay) {
            bay.act(Action::Write(line, text));
        }
    }
    let count = bay.job.as_ref().map_or(0, |job| job.write_up().len());
    ui.label(say!(t, "writing-count", count = count));
}

/// The lines of the write-up that stand otherwise in their fields than in the job.
fn unwritten(bay: &Bay) -> Vec<(WriteUpLine, String)> {
    let written: Vec<(WriteUpLine, &str)> = bay.job.iter().flat_map(|job| job.write_up()).collect();
    let fields = WriteUpLine::ALL.into_iter().zip(&bay.draft.write_up);
    fields
        .map(|(line, text)| (line, text.split_whitespace().collect::<Vec<_>>().join(" ")))
        .filter(|(line, text)| {
            let before = written.iter().find(|(which, _)| which == line).map(|(_, old)| *old);
            before.unwrap_or_default() != text
        })
        .collect()
}

pub(super) fn handing_in(ui: &mut egui::Ui, bay: &mut Bay) {
    let t = bay.texts;
    ui.label(if bay.paper.is_some() { t.say("hand-in-about-paper") } else { t.say("hand-in-about") });
    let named = bay.job.as_ref().and_then(|job| job.named());
    match named {
        Some((named, percent)) => {
            let fault = words::diagnosis(t, bay.vehicle(), named);
            ui.label(say!(t, "hand-in-named", fault = fault, percent = percent))
        }
        None => ui.label(t.say("hand-in-unnamed")),
    };
    // What still stands in its field is written down with the hand-in. An empty field takes nothing back.
    let mut unwritten = unwritten(bay);
    unwritten.retain(|(_, text)| !text.is_empty());
    let kept = bay.job.iter().flat_map(|job| job.write_up());
    let kept = kept.filter(|(line, _)| unwritten.iter().all(|(other, _)| other != line)).count();
    ui.label(say!(t, "hand-in-lines", count = kept + unwritten.len()));
    for left in bay.job.iter().flat_map(|job| words::not_put_back(t, job)) {
        ui.label(say!(t, "hand-in-left", what = left));
    }
    let told = bay.job.as_ref().and_then(|job| job.estimate());
    ui.label(match told {
        Some(units) => say!(t, "hand-in-agreed", units = units),
        None => t.say("hand-in-untold").to_owned(),
    });
    ui.add_space(6.0);
    for (label, refer) in [("hand-in-repaired", false), ("hand-in-refer", true)] {
        if ui.button(t.say(label)).clicked() {
            for (line, text) in &unwritten {
                bay.act(Action::Write(*line, text.clone()));
            }
            bay.act(Action::HandIn { refer });
        }
    }
}
