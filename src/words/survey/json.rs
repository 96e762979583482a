//! A survey for a program: one JSON object.

use serde::Serialize;

use super::{DIFFICULTY_FORMULA, cannot_confirm, commands, fault_id};
use crate::survey::{Separator, Survey};

/// Minutes are expected ones, prices in units of money.
#[derive(Serialize)]
struct SurveyLine<'a> {
    scenario: &'a str,
    faults: usize,
    tests: usize,
    telling_tests: usize,
    groups: Vec<GroupValue<'a>>,
    unconfirmable: Vec<UnconfirmableValue<'a>>,
    first_tests: Vec<TestValue>,
    bits: f64,
    intermittent_share: f64,
    repair_minutes: f64,
    expected_minutes: f64,
    expected_price: f64,
    exact: bool,
    lower_bound_minutes: f64,
    gap_percent: f64,
    swapper_minutes: f64,
    swapper_price: f64,
    difficulty: u8,
    difficulty_formula: &'static str,
    plan_branchings: usize,
    plan_cut_share: f64,
    readings: usize,
    elapsed_ms: u64,
}

#[derive(Serialize)]
struct GroupValue<'a> {
    faults: Vec<&'a str>,
    /// A test of a kind that is not offered; null where only a repair tells.
    test: Option<String>,
    /// What is mended then; null where a test would tell.
    repair: Option<String>,
}

#[derive(Serialize)]
struct UnconfirmableValue<'a> {
    fault: &'a str,
    why: String,
}

#[derive(Serialize)]
struct TestValue {
    commands: String,
    bits: f64,
    minutes: f64,
    stands_for: usize,
}

/// A survey as one line of JSON, with the milliseconds that it took.
///
/// # Errors
/// What the writer says; a survey has nothing that JSON cannot hold.
pub fn json(survey: &Survey, elapsed_ms: u64) -> serde_json::Result<String> {
    let scenario = &survey.scenario;
    let group = |group: &crate::survey::Inseparable| {
        let (test, repair) = match &group.by {
            Separator::Test(acts) => (Some(commands(scenario, acts)), None),
            Separator::Repair(acts) => (None, Some(commands(scenario, acts))),
        };
        let faults = group.faults.iter().map(|&fault| scenario.faults[fault].id.as_str()).collect();
        GroupValue { faults, test, repair }
    };
    serde_json::to_string(&SurveyLine {
        scenario: &scenario.id,
        faults: scenario.faults.len(),
        tests: survey.tests,
        telling_tests: survey.telling_tests,
        groups: survey.groups.iter().map(group).collect(),
        unconfirmable: survey
            .unconfirmable
            .iter()
            .map(|one| UnconfirmableValue {
                fault: fault_id(scenario, one.fault),
                why: cannot_confirm(scenario, &one.why),
            })
            .collect(),
        first_tests: survey
            .first_tests
            .iter()
            .map(|test| TestValue {
                commands: commands(scenario, &test.acts),
                bits: test.worth.bits,
                minutes: test.worth.minutes,
                stands_for: test.stands_for,
            })
            .collect(),
        bits: survey.bits,
        intermittent_share: survey.intermittent_share,
        repair_minutes: survey.repair_minutes,
        expected_minutes: survey.expected_minutes,
        expected_price: survey.expected_price,
        exact: survey.exact,
        lower_bound_minutes: survey.lower_bound_minutes,
        gap_percent: survey.gap_percent(),
        swapper_minutes: survey.swapper_minutes,
        swapper_price: survey.swapper_price,
        difficulty: survey.difficulty,
        difficulty_formula: DIFFICULTY_FORMULA,
        plan_branchings: survey.plan.count(),
        plan_cut_share: survey.plan.cut_share(),
        readings: survey.readings,
        elapsed_ms,
    })
}
