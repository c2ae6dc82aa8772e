//! The charts of bobbins on the workings: their lines, the factors, and what the run rules find.

use super::print::{In, Of, Printer, Round, joined};
use super::skeins::chart;
use super::spun::numbers;
use crate::figures::chart::{FEWEST_FOR_RULES, Rule, Signal, false_alarm};
use crate::figures::even::Drift;
use crate::sheets::workings::DriftWorked;

pub(super) fn drifts(printer: &Printer) -> Vec<DriftWorked> {
    let has_lines = |drift: &&Drift| drift.individuals.is_some();
    let drifts = printer.ledger.evenness.drifts.iter().filter(has_lines);
    drifts.map(|drift| DriftWorked { chart: chart(printer, drift), told: told(printer, drift) }).collect()
}

fn told(printer: &Printer, drift: &Drift) -> Vec<String> {
    let of = |what: &str| printer.value(&format!("drift.{}.{what}", drift.singles + 1), In("", Round::Places(3)));
    let factor = |what: &str| printer.value(&format!("chart.{what}"), In("", Round::Places(4)));
    let mut told = vec![
        format!("Middle {}: the mean of the bobbins over their target.", of("centre")),
        format!(
            "Limits {} and {}: the middle less and more {} times the mean moving range {}, for 3 over {}, the mean range of two.",
            of("lower"),
            of("upper"),
            factor("limit-factor"),
            of("moving-range"),
            factor("range-of-two"),
        ),
        format!(
            "From one bobbin to the next at most {}: {} times the mean moving range.",
            of("moving-range-limit"),
            factor("range-factor")
        ),
    ];
    told.extend(rules(printer, drift));
    told
}

/// What the run rules find, with how often they find something where there is nothing.
fn rules(printer: &Printer, drift: &Drift) -> Vec<String> {
    let n = drift.offs.len();
    let (Some(signals), Some(rate)) = (&drift.signals, false_alarm(n)) else {
        let fewest = printer.label(FEWEST_FOR_RULES, "bobbins");
        return vec![format!("Run rules are put to {fewest} bobbins and more.")];
    };
    let by_chance = joined(&printer.tries(rate.all, Of::Label("false alarms")), "in 100");
    let mut told: Vec<String> = Rule::ALL.into_iter().filter_map(|rule| found(printer, drift, signals, rule)).collect();
    if told.is_empty() {
        told.push("The run rules find nothing.".to_owned());
    }
    let n = printer.label(n, "bobbins");
    told.push(format!(
        "With middle and limits taken from {n} bobbins themselves, {by_chance} spinners who do not change show some sign all the same."
    ));
    told
}

/// The bobbins at which a rule finds something, in a line.
fn found(printer: &Printer, drift: &Drift, signals: &[Signal], rule: Rule) -> Option<String> {
    let what = match rule {
        Rule::OneBeyondThree => "Beyond a limit",
        Rule::TwoOfThreeBeyondTwo => "Second of three beyond two thirds of the way to one limit",
        Rule::FourOfFiveBeyondOne => "Fourth of five beyond a third of the way to one limit",
        Rule::EightInARow => "Eighth in a row on one side of the middle",
    };
    let at: Vec<usize> =
        signals.iter().filter(|signal| signal.rule == rule).map(|signal| drift.numbers[signal.at]).collect();
    (!at.is_empty()).then(|| format!("{what}: bobbin {}.", numbers(printer, &at, ", ")))
}
