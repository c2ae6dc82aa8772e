//! What wheel and hands are set to: whorl, treadles, lengths let in.
//!
//! Whole numbers and round lengths are chosen from nominal values and entered as exact choices; the twist that the rounding
//! brings stands beside them.

use super::aim::Aim;
use super::expression::Figure;
use super::ledger::{Book, number};
use super::wheel;
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{Draw, Plan};
use crate::units::format::{decimals, vulgar};
use crate::units::{Count, Kind, Length, Ratio, System, Twist, unit};

/// What is settled for the wheel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Settings {
    /// Index of the whorl for spinning.
    pub whorl: usize,
    /// Index of the whorl for plying.
    pub plying_whorl: usize,
}

/// Whorl, treadles and lengths, for spinning and for plying.
pub(super) fn settings(book: &mut Book, plan: &Plan, aim: &Aim, faults: &mut Vec<Diagnostic>) -> Settings {
    let whorl = best_whorl(plan, aim);
    let ratio = ratio(book, plan, whorl);
    if plan.draw().counts_treadles() {
        let draft = book.reading(&plan.wheel.draft, "draft wished");
        let treadles = whole_treadles(book, "wheel", &aim.singles_at_wheel, &draft, &ratio);
        exact_length(book, plan, "wheel", "draft", &ratio, &treadles, &aim.singles_at_wheel);
        if !(1.0..=20.0).contains(&treadles.value()) {
            faults.push(out_of_reach(plan, aim, Draw::LongDraw));
        }
    } else {
        let one = number(book, "one-treadle", "treadle", 1, "yarn is let in at each treadle");
        let length = book.enter(
            "wheel.length",
            "yarn for each treadle",
            wheel::length_per_treadle(&ratio, &aim.singles_at_wheel),
        );
        let round = round_length(book, plan, "wheel.length-per-treadle", "yarn let in at each treadle", length.value());
        let given = book.enter("wheel.twist-given", "twist given", wheel::twist_given(&ratio, &one, &round));
        book.enter("wheel.twist-miss", "twist given over twist wished", wheel::miss(&given, &aim.singles_at_wheel));
        if !SHORT_DRAWS.contains(&length.value()) {
            faults.push(out_of_reach(plan, aim, plan.draw()));
        }
    }
    let plying_whorl = plan.plying.whorl;
    if let Some(twist) = &aim.plied_at_wheel {
        plying(book, plan, twist, plying_whorl);
    }
    Settings { whorl, plying_whorl }
}

/// Lengths that a hand lets in at each treadle of a short draw: 0.8 to 12 cm; our choice.
const SHORT_DRAWS: std::ops::RangeInclusive<f64> = 0.008..=0.12;

/// The whorl of the chosen sample; else the one that comes nearest to the wish: for a short draw the length let in, for a long one six treadles a draft.
fn best_whorl(plan: &Plan, aim: &Aim) -> usize {
    if let Some(whorl) = plan.chosen().and_then(|sample| sample.whorl) {
        return whorl;
    }
    let twist = aim.singles_at_wheel.value();
    let distance = |ratio: f64| {
        let apart = if plan.draw().counts_treadles() {
            twist * plan.wheel.draft.value / ratio / 6.0
        } else {
            ratio / twist / plan.wheel.length_per_treadle.value
        };
        libm::log(apart).abs()
    };
    let whorls = plan.wheel.whorls.iter().enumerate();
    whorls
        .min_by(|a, b| distance(a.1.ratio.value).total_cmp(&distance(b.1.ratio.value)))
        .map(|(i, _)| i)
        .expect("invariant: a wheel has a whorl")
}

fn ratio(book: &mut Book, plan: &Plan, whorl: usize) -> Figure<Ratio> {
    let whorl = &plan.wheel.whorls[whorl];
    book.reading(&whorl.ratio, &format!("ratio of {}", whorl.name))
}

/// Arm lengths of plied yarn: whole treadles for each, and the length that makes them exact.
fn plying(book: &mut Book, plan: &Plan, twist: &Figure<Twist>, whorl: usize) {
    let ratio = ratio(book, plan, whorl);
    let arm = book.reading(&plan.plying.arm, "arm wished");
    let treadles = whole_treadles(book, "plying", twist, &arm, &ratio);
    exact_length(book, plan, "plying", "arm", &ratio, &treadles, twist);
    book.enter("plying.length", "plied yarn for each treadle", wheel::length_per_treadle(&ratio, twist));
}

/// Treadles for a length, and the whole number nearest to it.
fn whole_treadles(
    book: &mut Book,
    stage: &str,
    twist: &Figure<Twist>,
    length: &Figure<Length>,
    ratio: &Figure<Ratio>,
) -> Figure<Count> {
    let exact = book.enter(
        format!("{stage}.treadles-wished"),
        "treadles for the length wished",
        wheel::treadles(twist, length, ratio),
    );
    let whole = exact.value().round().max(1.0);
    book.choose(
        &format!("{stage}.treadles"),
        "whole treadles",
        whole,
        decimals(whole, 0),
        "half a treadle cannot be counted",
    )
}

/// The length that makes whole treadles exact, rounded to what a hand can tell, and the twist that this gives.
fn exact_length(
    book: &mut Book,
    plan: &Plan,
    stage: &str,
    noun: &str,
    ratio: &Figure<Ratio>,
    treadles: &Figure<Count>,
    twist: &Figure<Twist>,
) {
    let exact = book.enter(
        format!("{stage}.{noun}"),
        format!("{noun} for whole treadles"),
        wheel::length_for(ratio, treadles, twist),
    );
    let round = round_length(book, plan, &format!("{stage}.{noun}"), &format!("{noun} used"), exact.value());
    let given = book.enter(format!("{stage}.twist-given"), "twist given", wheel::twist_given(ratio, treadles, &round));
    book.enter(format!("{stage}.twist-miss"), "twist given over twist wished", wheel::miss(&given, twist));
}

/// A length in half centimetres or half inches.
fn round_length(book: &mut Book, plan: &Plan, place: &str, words: &str, length: f64) -> Figure<Length> {
    let symbol = if plan.units == System::Inch { "in" } else { "cm" };
    let one = unit(Kind::Length, symbol).expect("invariant: the tables have centimetres and inches").factor;
    let n = ((length / one * 2.0).round() / 2.0).max(0.5);
    book.choose(place, words, n * one, format!("{} {symbol}", vulgar(n, 2)), "what a hand can tell apart")
}

/// No whorl gives the twist: says what would.
fn out_of_reach(plan: &Plan, aim: &Aim, draw: Draw) -> Diagnostic {
    let twist = aim.singles_at_wheel.value();
    let wished = if draw == Draw::LongDraw {
        plan.wheel.draft.value * twist / 6.0
    } else {
        plan.wheel.length_per_treadle.value * twist
    };
    let length = if draw == Draw::LongDraw { &plan.wheel.draft } else { &plan.wheel.length_per_treadle };
    Diagnostic::new(
        Code::WhorlOutOfReach,
        format!(
            "expected a whorl of about {}:1 for {} turns to the centimetre",
            decimals(wished, 1),
            decimals(twist / 100.0, 1)
        ),
        Place::plan("wheel.whorls"),
    )
    .label("none of these comes near")
    .note(format!(
        "with {} drafted, {} and the nearest whorl, no whole treadle gives that twist",
        draw.words(),
        length.text
    ))
    .help("add the whorl that you would use, change the length let in, or aim at another twist")
}
