//! What a scenario's customer says, in each language that its file has.

use super::scenario_file::ScenarioAsWritten;
use super::vehicle_file::{check_tag, check_text};
use crate::vehicle::Title;
use crate::written::{At, Problem, Problems};

/// Tells what cannot be shown, or says the same twice.
pub(super) fn check(file: &ScenarioAsWritten, problems: &mut Problems) {
    check_text(&file.customer, "what the customer says", problems);
    for (at, words) in file.other_words.iter().enumerate() {
        check_text(words, "what the customer may say instead", problems);
        let before = &file.other_words[..at];
        if words.value == file.customer.value || before.iter().any(|one| one.value == words.value) {
            problems.add(
                words.span,
                "the customer says just this already".to_owned(),
                "say it in other words, or take it out",
            );
        }
    }
    for (language, all) in &file.words.0 {
        check_tag(language, problems);
        all.iter().for_each(|words| check_text(words, "the translation", problems));
    }
}

/// What he says, and what he may say instead.
pub(super) fn said(file: &ScenarioAsWritten) -> (Title, Vec<Title>) {
    let in_all = |written: &At<String>, at: usize| {
        let mut said = Title::new(&written.value);
        for (language, all) in &file.words.0 {
            if let Some(words) = all.get(at) {
                said.translate(&language.value, &words.value);
            }
        }
        said
    };
    let others = file.other_words.iter().zip(1..).map(|(words, at)| in_all(words, at));
    (in_all(&file.customer, 0), others.collect())
}

/// What a file has in a language by half: learners would read the rest as it is written.
pub(super) fn half_translated(file: &ScenarioAsWritten) -> Vec<Problem> {
    let ways = file.other_words.len() + 1;
    let mut problems = Vec::new();
    for (language, all) in &file.words.0 {
        let tag = &language.value;
        if all.len() != ways {
            let count =
                |texts: usize| if texts == 1 { "1 text".to_owned() } else { format!("{texts} texts") };
            problems.push(Problem {
                span: language.span,
                what: format!(
                    "the customer's words are {} here, and {} in \"{tag}\"",
                    count(ways),
                    count(all.len())
                ),
                hint: "write one for `customer`, then one for each of `other_words`, in their order"
                    .to_owned(),
            });
        }
        if !file.titles.0.iter().any(|(other, _)| other.value == *tag) {
            problems.push(Problem {
                span: language.span,
                what: format!("the customer's words are there in \"{tag}\", the title is not"),
                hint: format!("write it in `titles: {{\"{tag}\": \"...\"}}`, or take \"{tag}\" out"),
            });
        }
    }
    for (language, _) in &file.titles.0 {
        let tag = &language.value;
        if !file.words.0.iter().any(|(other, _)| other.value == *tag) {
            problems.push(Problem {
                span: language.span,
                what: format!("the title is there in \"{tag}\", the customer's words are not"),
                hint: format!("write them in `words: {{\"{tag}\": [\"...\"]}}`, or take \"{tag}\" out"),
            });
        }
    }
    problems
}
