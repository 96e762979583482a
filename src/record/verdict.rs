//! A verdict in words.

use std::fmt::Write;

use super::verify::{Replay, Verdict};

/// Writing to a string does not fail.
const NEVER: &str = "a string takes what it is given";
/// Digits of a hash that are shown to people.
const DIGITS: usize = 16;

fn beginning(hash: &str) -> &str {
    hash.get(..DIGITS).unwrap_or(hash)
}

/// What is to be said of a record; with `steps`, also of each of its steps.
#[must_use]
pub fn verdict_text(verdict: &Verdict, steps: bool) -> String {
    let path = verdict.path.display();
    let title = match (verdict.whole(), verdict.replay == Replay::Done) {
        (true, true) => "sound",
        (true, false) => "chain whole, not replayable here",
        (false, _) => "NOT SOUND",
    };
    let mut text = format!("{path}: {title}\n");
    if let Some(head) = &verdict.header {
        writeln!(text, "  scenario {}, begun {}, last line {}", head.scenario, head.at, verdict.ended)
            .expect(NEVER);
        if let Some(paper) = &head.paper {
            writeln!(
                text,
                "  paper \"{}\", candidate {}, job {}, attempt {} of {}",
                paper.terms.title, paper.candidate, paper.job, paper.attempt, paper.terms.attempts
            )
            .expect(NEVER);
        }
        writeln!(text, "  made by version {}, model {}", head.program, beginning(&head.model)).expect(NEVER);
    }
    let count = verdict.steps.len();
    match &verdict.replay {
        Replay::Done => {
            let agreeing = verdict.steps.iter().filter(|(_, agrees)| *agrees == Some(true)).count();
            writeln!(text, "  {agreeing} of {count} steps show what the model gives").expect(NEVER);
        }
        Replay::NotHere(why) => {
            writeln!(text, "  {count} steps, none of them replayed: {why}").expect(NEVER);
        }
    }
    if let Some(closing) = &verdict.closing {
        let by = if verdict.marked { "worked out anew" } else { "as the record has them" };
        let how = if closing.referred { "referred" } else { "handed in" };
        let worth = match closing.result() {
            Some(result) => format!("{:.1} of 100 marks ({by})", result.total),
            None => "its result sealed".to_owned(),
        };
        writeln!(text, "  {how} after {} steps, {worth}", closing.steps).expect(NEVER);
    }
    if let Some(key) = &verdict.key {
        writeln!(
            text,
            "  signed with key {}: nobody without this key has changed it since; whose key it is no file can show",
            beginning(key)
        )
        .expect(NEVER);
    }
    if steps {
        for (at, (line, agrees)) in verdict.steps.iter().enumerate() {
            let told = match agrees {
                Some(true) => "as the model gives it",
                Some(false) => "NOT what the model gives",
                None => "not compared",
            };
            writeln!(text, "  step {} (line {line}): {told}", at + 1).expect(NEVER);
        }
    }
    for broken in &verdict.breaks {
        writeln!(text, "{path}:{}:{}: {}", broken.line, broken.column, broken.what).expect(NEVER);
    }
    text
}
