//! What the wheel, the scale and the eye are set to: weights, wraps and twists to check by, whorl, treadles, lengths let in.
//!
//! Whole numbers and round lengths are chosen from nominal values and entered as exact choices; the twist that the rounding
//! brings stands beside them.

use super::aim::Aim;
use super::expression::{Figure, Formula, greatest, rest, with};
use super::ledger::{Book, number};
use super::{assumed, fibre, folding, sample, thickness, twist, wheel};
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{Draw, Plan};
use crate::units::format::{decimals, exact, vulgar};
use crate::units::{
    Count, Density, Kind, Length, LinearDensity, Loft, Mass, Quantity, Ratio, Share, Standing, System, Twist, unit,
};

/// What is settled for the wheel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Settings {
    /// Index of the whorl for spinning.
    pub whorl: usize,
    /// Index of the whorl for plying.
    pub plying_whorl: usize,
}

/// Enters the checks and settings for spinning and plying; what the wheel cannot give is a fault.
pub fn spin(book: &mut Book, plan: &Plan, aim: &Aim, faults: &mut Vec<Diagnostic>) -> Settings {
    let wound = book.enter(
        "singles.wound-tex",
        "weight per length of wound singles",
        folding::wound_singles(&aim.washed, &aim.plies, &aim.plying_shortens, &aim.keep, &aim.lightens),
    );
    let at_rest =
        book.enter("singles.rest-tex", "weight per length of singles at rest", folding::at_rest(&wound, &aim.stretch));
    fibres(book, plan, &at_rest, faults);
    let n = aim.plies.value() as usize;
    let plied = book.enter(
        "plied.wound-tex",
        "weight per length of fresh plied yarn",
        folding::plied(&vec![wound.clone(); n], &aim.plying_shortens),
    );
    let step = scale_step(book, plan);
    weight_gate(book, plan, "singles", "singles", &wound, &step);
    weight_gate(book, plan, "plied", "plied yarn", &plied, &step);
    wraps_gate(book, plan, "singles", &aim.singles_wraps);
    washed_gates(book, plan, aim);
    twist_gates(book, plan, aim);
    cross_checks(book, plan, aim, &at_rest);
    settings(book, plan, aim, faults)
}

/// How many fibres lie in the singles, and how even that lets them be; where the fineness is known.
fn fibres(book: &mut Book, plan: &Plan, at_rest: &Figure<LinearDensity>, faults: &mut Vec<Diagnostic>) {
    for (i, fibre) in plan.fibres.iter().enumerate() {
        let name = |what: &str| format!("fibre.{}.{what}", fibre.name);
        let dry = book.assume::<Share>(&assumed::REGAIN_DRY);
        let damp = book.assume::<Share>(&assumed::REGAIN_DAMP);
        book.enter(name("damp"), format!("{} in damp air over dry", fibre.name), fibre::regain_factor(&damp, &dry));
        let Some(fineness) = &fibre.fineness else { continue };
        let diameter = book.reading(fineness, "fibre diameter");
        let density: Figure<Density> = book.fact(
            &format!("fibre-kind.{}", fibre.kind.name),
            &format!("density of {}", fibre.kind.name),
            fibre.kind.density * 1e6,
            format!("{} g/cm³", decimals(fibre.kind.density, 2)),
            fibre.kind.standing,
            fibre.kind.source,
        );
        let variation = book.enter(
            name("variation"),
            format!("variation of {} diameters", fibre.name),
            fibre::diameter_variation(&diameter),
        );
        let across = book.enter(
            name("across"),
            format!("{} fibres across the singles", fibre.name),
            fibre::fibres_across(at_rest, &density, &diameter, &variation),
        );
        book.enter(
            name("irregularity"),
            format!("least irregularity in {}", fibre.name),
            fibre::limit_irregularity(&across, &variation),
        );
        if across.value() < FEW_FIBRES {
            let few = across.value() < TOO_FEW_FIBRES;
            let limit = number(book, "fewest-fibres", "fewest fibres", if few { 20 } else { 35 }, "the spinning limit");
            let finest = book.enter(
                name("finest"),
                format!("finest singles of {}", fibre.name),
                fibre::finest(&limit, &density, &diameter, &variation),
            );
            faults.push(too_fine(plan, i, across.value(), finest.value(), at_rest.value(), few));
        }
    }
}

/// Fewer fibres than these in the cross-section are hard to spin: worsted 35 to 40, from memory.
const FEW_FIBRES: f64 = 35.0;
/// Fewer than these are refused; our choice.
const TOO_FEW_FIBRES: f64 = 20.0;

fn too_fine(plan: &Plan, fibre: usize, across: f64, finest: f64, at_rest: f64, refused: bool) -> Diagnostic {
    let yarn = &plan.yarn;
    let place = match (&yarn.grist, &yarn.wraps) {
        (Some(grist), _) => grist.place.clone(),
        (None, Some(wraps)) => wraps.place.clone(),
        (None, None) => plan.chosen().map_or_else(|| Place::plan("yarn"), |sample| sample.place.clone()),
    };
    let name = &plan.fibres[fibre].name;
    let limit = if refused { TOO_FEW_FIBRES } else { FEW_FIBRES };
    let code = if refused { Code::TooFine } else { Code::Fine };
    Diagnostic::new(
        code,
        format!("expected at least {limit} fibres across the singles, found {}", decimals(across, 0)),
        place,
    )
    .label(format!("asks for singles of {} tex", decimals(at_rest * 1000.0, 0)))
    .note(format!("{name} holds together from about {} tex in the singles", decimals(finest * 1000.0, 0)))
    .help(format!(
        "aim at a heavier yarn: about {} times as heavy per length, or take fewer plies or a finer fibre",
        decimals(finest / at_rest, 1)
    ))
}

/// The finest step of any weight in plan and log: what the scale reads.
fn scale_step(book: &mut Book, plan: &Plan) -> Figure<Mass> {
    let supplies = plan.supplies.iter().flat_map(|supply| &supply.weights);
    let steps = supplies
        .chain(plan.samples.iter().filter_map(|sample| sample.weight.as_ref()))
        .map(|weight| weight.uncertainty * 2.0);
    // A weight in whole grams says little of the scale, since nobody writes 101.0 g; a tenth is what checking takes.
    let finest = steps.filter(|step| *step > 0.0).fold(TENTH_OF_A_GRAM, f64::min);
    book.choose(
        "scale-step",
        "one step of the scale",
        finest,
        format!("{} g", exact(finest)),
        "a scale for checking yarn reads a tenth of a gram",
    )
}

const TENTH_OF_A_GRAM: f64 = 0.1;

/// The length to weigh, its weight, and the limits of that.
fn weight_gate(
    book: &mut Book,
    plan: &Plan,
    stage: &str,
    noun: &str,
    density: &Figure<LinearDensity>,
    step: &Figure<Mass>,
) {
    let length = length_to_weigh(book, plan, stage, density, step);
    let weight = book.enter(
        format!("{stage}.check-weight"),
        format!("weight of the {noun} checked"),
        folding::check_weight(density, &length),
    );
    let tolerance = book.assume::<Share>(&assumed::GATE_WEIGHT);
    let room = book.enter(
        format!("{stage}.check-room"),
        format!("room for the {noun} checked"),
        greatest(&[&weight * &tolerance, step.clone()]).by(&GATE),
    );
    gate(book, &format!("{stage}.check-weight"), &format!("{noun} checked"), &weight, &room);
}

/// The shortest of some round lengths that weighs twenty steps of the scale, so that one step is one part in twenty.
fn length_to_weigh(
    book: &mut Book,
    plan: &Plan,
    stage: &str,
    density: &Figure<LinearDensity>,
    step: &Figure<Mass>,
) -> Figure<Length> {
    let symbol = if plan.units == System::Inch { "yd" } else { "m" };
    let one = unit(Kind::Length, symbol).expect("invariant: the tables have metres and yards").factor;
    let enough = |n: &&f64| **n * one * density.value() >= 20.0 * step.value();
    let n = ROUND_LENGTHS.iter().find(enough).unwrap_or(&ROUND_LENGTHS[ROUND_LENGTHS.len() - 1]);
    book.choose(
        &format!("{stage}.check-length"),
        "length weighed",
        n * one,
        format!("{} {symbol}", decimals(*n, 0)),
        "the shortest round length that weighs twenty steps of the scale",
    )
}

const ROUND_LENGTHS: [f64; 7] = [2.0, 5.0, 10.0, 20.0, 30.0, 50.0, 100.0];

static GATE: Formula = Formula { source: "our choice of limits", standing: Standing::OurChoice };

/// Low and high of a gate.
fn gate<Q: Quantity>(book: &mut Book, name: &str, noun: &str, target: &Figure<Q>, room: &Figure<Q>) {
    book.enter(format!("{name}.low"), format!("least {noun}"), (target - room).by(&GATE));
    book.enter(format!("{name}.high"), format!("most {noun}"), (target + room).by(&GATE));
}

/// Wraps in the window that one counts them in.
fn wraps_gate(book: &mut Book, plan: &Plan, stage: &str, wraps: &Figure<crate::units::Wraps>) {
    let window: Figure<Length> =
        book.assume(if plan.units == System::Inch { &assumed::WINDOW_INCH } else { &assumed::WINDOW_METRIC });
    let counted = book.enter(
        format!("{stage}.wraps-counted"),
        format!("{stage} wraps counted"),
        thickness::wraps_in(wraps, &window),
    );
    let one = book.assume::<Count>(&assumed::ONE_WRAP);
    gate(book, &format!("{stage}.wraps-counted"), &format!("{stage} wraps counted"), &counted, &one);
}

/// Limits of the washed sample: wraps and grist.
fn washed_gates(book: &mut Book, plan: &Plan, aim: &Aim) {
    let wraps = book.figure("washed.wraps");
    wraps_gate(book, plan, "washed", &wraps);
    let tolerance = book.assume::<Share>(&assumed::GATE_WEIGHT);
    let grist = thickness::yield_of(&aim.washed).named("washed.grist", "washed grist");
    book.enter("washed.grist.low", "least washed grist", (&grist * rest(&tolerance)).by(&GATE));
    book.enter("washed.grist.high", "most washed grist", (&grist * with(&tolerance)).by(&GATE));
}

/// Twists to count: the ply-back of fresh singles, the fresh plied yarn, the washed sample.
fn twist_gates(book: &mut Book, plan: &Plan, aim: &Aim) {
    let counted: Figure<Length> =
        book.assume(if plan.units == System::Inch { &assumed::COUNTED_INCH } else { &assumed::COUNTED_METRIC });
    let shown = sample::ply_back_share(book);
    let fresh = book.figure::<Twist>("singles.fresh-twist");
    let ply_back = book.enter("singles.ply-back", "twists in the ply-back", twist::ply_back(&fresh, &shown, &counted));
    twist_gate(book, "singles.ply-back", "twists in the ply-back", &ply_back);
    let plied = book.enter("plied.fresh-twist", "ply twist fresh", twist::fresh(&aim.plied_at_wheel, &aim.stretch));
    let turns = book.enter("plied.twists", "twists in the plied yarn", twist::turns_in(&plied, &counted));
    twist_gate(book, "plied.twists", "twists in the plied yarn", &turns);
    let washed = book.enter("washed.twists", "twists in the washed yarn", twist::turns_in(&aim.ply_twist, &counted));
    twist_gate(book, "washed.twists", "twists in the washed yarn", &washed);
}

fn twist_gate(book: &mut Book, name: &str, noun: &str, target: &Figure<Count>) {
    let tolerance = book.assume::<Share>(&assumed::GATE_TWIST);
    let half = book.assume::<Count>(&assumed::HALF_TWIST);
    let room = book.enter(
        format!("{name}.room"),
        format!("room for {noun}"),
        greatest(&[&tolerance * target, half]).by(&GATE),
    );
    gate(book, name, noun, target, &room);
}

/// Figures that no sheet but the workings prints: for whoever compares with a mill or a book.
fn cross_checks(book: &mut Book, plan: &Plan, aim: &Aim, at_rest: &Figure<LinearDensity>) {
    let fresh = book.figure::<Twist>("singles.fresh-twist");
    book.enter("singles.twist-factor", "twist factor of the singles", twist::twist_factor(&fresh, at_rest));
    book.enter(
        "washed.twist-factor",
        "twist factor of the plied yarn",
        twist::twist_factor(&aim.ply_twist, &aim.washed),
    );
    let angle = book.enter("singles.angle", "angle of the fibres", twist::singles_angle(&fresh, &aim.singles_wraps));
    book.enter("singles.contraction", "length that twist takes from a single", twist::contraction(&angle));
    let is_carded =
        plan.fibres.iter().any(|fibre| fibre.preparation.is_some_and(|preparation| preparation != "combed top"));
    let handbook = book.assume::<Loft>(if is_carded { &assumed::HANDBOOK_WOOLLEN } else { &assumed::HANDBOOK_LOFT });
    let grist = book.figure("washed.grist");
    book.enter(
        "washed.packed-diameter",
        "diameter by the mill handbooks",
        thickness::packed_diameter(&handbook, &grist),
    );
}

/// Whorl, treadles and lengths, for spinning and for plying.
fn settings(book: &mut Book, plan: &Plan, aim: &Aim, faults: &mut Vec<Diagnostic>) -> Settings {
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
    plying(book, plan, aim, plying_whorl);
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
fn plying(book: &mut Book, plan: &Plan, aim: &Aim, whorl: usize) {
    let ratio = ratio(book, plan, whorl);
    let arm = book.reading(&plan.plying.arm, "arm wished");
    let treadles = whole_treadles(book, "plying", &aim.plied_at_wheel, &arm, &ratio);
    exact_length(book, plan, "plying", "arm", &ratio, &treadles, &aim.plied_at_wheel);
    book.enter("plying.length", "plied yarn for each treadle", wheel::length_per_treadle(&ratio, &aim.plied_at_wheel));
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
