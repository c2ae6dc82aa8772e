//! Simulated spinners: hands with a loft, a loss and a twist of their own, one of them off, make samples; the program reads
//! their logs and has to name what is off.
//!
//! The forward model is this test's own. It knows fibre, turns and lengths, and none of the program's formulas: grams of singles
//! are drawn out and twisted, plied, wound on a niddy-noddy and washed; then a hand with a scale, a tape and tired eyes reads
//! them. Numbers go to the program as text of a plan and of a log, as a spinner would write them.

use std::collections::BTreeMap;

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{RngCore, SeedableRng};
use wheelsheet::figures::diagnosis::{Cause, Diagnosis, Way};
use wheelsheet::figures::verdict::SampleVerdict;

use super::reference::ledgers::{answered, of_texts, written};

/// A stream of chance.
pub(crate) struct Chance(ChaCha8Rng);

impl Chance {
    pub(crate) fn new(seed: u64) -> Self {
        Self(ChaCha8Rng::seed_from_u64(seed))
    }

    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (f64::from(self.0.next_u32()) + 0.5) / 4_294_967_296.0
    }

    /// One of several.
    pub(crate) fn pick<T: Copy>(&mut self, of: &[T]) -> T {
        of[(self.between(0.0, of.len() as f64)) as usize]
    }

    /// A number about nothing, of standard deviation one: the sum of twelve, which is normal enough.
    pub(crate) fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.between(-0.5, 0.5)).sum()
    }

    /// A factor about one, of this relative standard deviation.
    pub(crate) fn about_one(&mut self, deviation: f64) -> f64 {
        (deviation * self.normal()).exp()
    }
}

/// What a spinner is told to make.
struct Wish {
    plies: u32,
    /// Wraps to the inch.
    wraps: f64,
    /// Yards to the pound.
    grist: f64,
    /// Turns to the inch of washed yarn.
    twist: f64,
    /// Shares: lost in the wash, gained under tension, lost in plying, weight lost.
    shortens: f64,
    stretch: f64,
    plying: f64,
    lightens: f64,
}

/// How the hand of a spinner departs from what it is told, each as a factor.
#[derive(Clone, Copy)]
struct Hand {
    /// Grams of fibre let into a metre of singles.
    drafting: f64,
    /// Turns given to a metre of singles.
    spinning: f64,
    /// Turns given to a metre of plied yarn.
    plying: f64,
    /// Width of a strand for its weight: above one is airier.
    width: f64,
    /// What is left of a wound metre.
    kept: f64,
}

/// What it reads with.
struct Tools {
    /// One step of the scale, in gram.
    scale: f64,
    /// How often each count is repeated.
    counts: usize,
    loops: u32,
    /// One loop of the niddy-noddy, in metre.
    loop_length: f64,
}

/// What is true of a sample.
struct Yarn {
    /// To the inch.
    singles_wraps: f64,
    singles_turns: f64,
    wraps: f64,
    turns: f64,
    /// Gram, metre.
    weight: f64,
    wound_loop: f64,
    washed_loop: f64,
}

const INCH: f64 = 0.0254;
const GRAMS_PER_POUND: f64 = 453.59237;
const YARD: f64 = 0.9144;

/// Spins, plies, winds and washes a sample.
fn spun(wish: &Wish, hand: &Hand, tools: &Tools, chance: &mut Chance) -> Yarn {
    let n = f64::from(wish.plies);
    // Told: grams of singles to be let in for a metre that lies on the bobbin, so that the washed yarn comes out as wished.
    let told_left = (1.0 - wish.shortens) / (1.0 + wish.stretch);
    let washed_grams = GRAMS_PER_POUND / (wish.grist * YARD);
    let told_grams = washed_grams * told_left * (1.0 - wish.plying) / (1.0 - wish.lightens) / n;
    let grams = told_grams * hand.drafting;
    let left = told_left * hand.kept;
    // A metre of plied yarn on the niddy-noddy holds a little more than a metre of each ply; the bath takes oil and dirt.
    let takes_up = 1.0 / (1.0 - wish.plying) * chance.about_one(0.004);
    let skein_grams = f64::from(tools.loops)
        * tools.loop_length
        * n
        * grams
        * takes_up
        * (1.0 - wish.lightens)
        * chance.about_one(0.002);
    // Turns stay where they are while the length goes.
    let turns_in_a_wound_inch = wish.twist * told_left * hand.plying;
    let turns = turns_in_a_wound_inch / left;
    // A balanced yarn: between two thirds (or three quarters) of the singles twist and one over the root of the plies.
    let fraction = (n / (n + 1.0) / n.sqrt()).sqrt();
    let singles_turns = wish.twist * told_left * (1.0 + wish.stretch) / fraction * hand.spinning;
    // A strand is as wide as its grams and its air make it; twist and shrinking press some of the air out.
    let pressed = (hand.plying.powf(0.12) * hand.kept.powf(-0.15)).recip();
    let wished_width = INCH / wish.wraps;
    let grams_in_a_metre = skein_grams / (f64::from(tools.loops) * tools.loop_length * left);
    let width = wished_width * (grams_in_a_metre / washed_grams).sqrt() * hand.width * pressed;
    let thicker = if wish.plies == 2 { 1.5 } else { 2.0 } * chance.about_one(0.06);
    Yarn {
        singles_wraps: INCH / width * thicker,
        singles_turns,
        wraps: INCH / width,
        turns,
        weight: skein_grams,
        wound_loop: tools.loop_length,
        washed_loop: tools.loop_length * left,
    }
}

/// Whole steps of a tool.
pub(crate) fn stepped(x: f64, step: f64) -> f64 {
    (x / step).round() * step
}

/// The log of a sample as its spinner writes it.
fn log(yarn: &Yarn, tools: &Tools, chance: &mut Chance) -> String {
    let mut several = |x: f64, window: f64, step: f64, deviation: f64, unit: &str| {
        let readings: Vec<String> = (0..tools.counts)
            .map(|_| {
                let counted = stepped(x * window * chance.about_one(deviation), step).max(step);
                format!("\"{} {unit}\"", counted / window)
            })
            .collect();
        format!("[{}]", readings.join(", "))
    };
    let singles_wraps = several(yarn.singles_wraps, 1.0, 1.0, 0.04, "wpi");
    // A strand doubled on itself shows two thirds of its turns; four inches are counted, to half a turn.
    let ply_back = several(yarn.singles_turns * 2.0 / 3.0, 4.0, 0.5, 0.04, "/ in");
    let wraps = several(yarn.wraps, 1.0, 0.5, 0.04, "wpi");
    let twist = several(yarn.turns, 4.0, 0.5, 0.04, "/ in");
    let wound = stepped(yarn.wound_loop * chance.about_one(0.004), 0.005);
    let washed = stepped(yarn.washed_loop * chance.about_one(0.006), 0.005);
    let places = if tools.scale < 0.5 { 1 } else { 0 };
    let weight = stepped(yarn.weight, tools.scale).max(tools.scale);
    format!(
        "[[sample]]\nname = \"it\"\ndate = 2026-03-05\nsingles = {{ wraps = {singles_wraps}, ply-back = {ply_back} }}\n\
         skein = {{ loops = {}, loop = \"{wound:.3} m\", washed-loop = \"{washed:.3} m\", weight = \"{weight:.places$} g\", \
         wraps = {wraps}, ply-twist = {twist} }}\n",
        tools.loops
    )
}

fn plan(wish: &Wish) -> String {
    format!(
        "[plan]\ntitle = \"Simulated\"\n[fibre.wool]\nkind = \"wool\"\nweight = \"300 g\"\n\
         [wheel]\nwhorls = {{ a = \"6:1\", b = \"9:1\", c = \"14:1\", d = \"20:1\" }}\n\
         [yarn]\nplies = {}\nwraps = \"{} wpi\"\ngrist = \"{} yd/lb\"\nply-twist = \"{} / in\"\n\
         wash-shortens = \"{:.1} ± 6 %\"\nwinding-stretch = \"{:.1} ± 8 %\"\nplying-shortens = \"{:.1} ± 4 %\"\n\
         wash-lightens = \"{:.1} ± 1 %\"\n",
        wish.plies,
        wish.wraps,
        wish.grist,
        wish.twist,
        wish.shortens * 100.0,
        wish.stretch * 100.0,
        wish.plying * 100.0,
        wish.lightens * 100.0
    )
}

fn any_wish(chance: &mut Chance) -> Wish {
    let tenths = |x: f64| (x * 1000.0).round() / 1000.0;
    let wraps = stepped(chance.between(9.0, 16.0), 0.5);
    let loft = chance.between(0.34, 0.46);
    Wish {
        plies: chance.pick(&[2, 2, 3]),
        wraps,
        grist: stepped((wraps / loft).powi(2), 5.0),
        twist: stepped(0.28 * wraps * chance.between(0.85, 1.15), 0.1),
        shortens: tenths(chance.between(0.02, 0.09)),
        stretch: tenths(chance.between(0.02, 0.08)),
        plying: tenths(chance.between(0.0, 0.03)),
        lightens: tenths(chance.between(0.0, 0.02)),
    }
}

/// A hand that does as it is told, but for what no hand can help.
fn steady(chance: &mut Chance) -> Hand {
    Hand {
        drafting: chance.about_one(0.01),
        spinning: chance.about_one(0.02),
        plying: chance.about_one(0.02),
        width: chance.about_one(0.015),
        kept: chance.about_one(0.008),
    }
}

/// The same with one thing off by a factor.
fn off(hand: Hand, cause: Cause, factor: f64) -> Hand {
    match cause {
        Cause::Drafting => Hand { drafting: factor, ..hand },
        Cause::SinglesTwist => Hand { spinning: factor, ..hand },
        Cause::PlyTwist => Hand { plying: factor, ..hand },
        // Denser is narrower.
        Cause::Loft => Hand { width: 1.0 / factor, ..hand },
        Cause::Loss => Hand { kept: factor, ..hand },
    }
}

const CAUSES: [Cause; 5] = [Cause::Drafting, Cause::SinglesTwist, Cause::PlyTwist, Cause::Loft, Cause::Loss];

/// The relative error, nineteen times in twenty, of what tells a cause: steps of scale and tape, counts by eye.
fn resolution(cause: Cause, wish: &Wish, tools: &Tools) -> f64 {
    let counts = (tools.counts as f64).sqrt();
    let grams = GRAMS_PER_POUND / (wish.grist * YARD) * f64::from(tools.loops) * tools.loop_length * 0.9;
    let weighed = tools.scale / grams;
    let taped = 0.02;
    let counted = 0.10 / counts;
    match cause {
        Cause::Drafting => weighed.hypot(taped),
        Cause::Loss => taped * 2f64.sqrt(),
        Cause::PlyTwist => counted.hypot(taped * 2f64.sqrt()),
        Cause::SinglesTwist => counted,
        Cause::Loft => counted.hypot(weighed / 2.0).hypot(taped / 2.0),
    }
}

/// By how much a thing may be off before a card calls it so, and what the two rules for singles twist leave open.
fn gate(cause: Cause, wish: &Wish) -> f64 {
    match cause {
        Cause::Drafting | Cause::Loss => 0.05,
        Cause::Loft => 0.08,
        Cause::PlyTwist => 0.10,
        Cause::SinglesTwist => 0.10 + if wish.plies == 2 { 0.03 } else { 0.14 },
    }
}

/// What the program says of the sample of a log.
fn said(plan: &str, log: &str) -> SampleVerdict {
    let (_, outcome, faults) = answered(&of_texts(plan, log));
    let ledger = outcome.and_then(|outcome| outcome.ledger).unwrap_or_else(|| panic!("{faults:#?}\n{plan}\n{log}"));
    ledger.verdicts.first().cloned().unwrap_or_else(|| panic!("no verdict of\n{log}"))
}

fn tools(chance: &mut Chance) -> Tools {
    Tools {
        scale: chance.pick(&[0.1, 0.1, 1.0]),
        counts: chance.pick(&[2, 3, 4, 5]),
        loops: chance.pick(&[8, 16, 24, 40]),
        loop_length: chance.pick(&[1.5, 1.8, 2.0]),
    }
}

/// Right answers out of so many, by cause.
#[derive(Default)]
struct Score {
    right: usize,
    of: usize,
    wrong: Vec<String>,
}

impl Score {
    fn share(&self) -> f64 {
        self.right as f64 / self.of as f64
    }
}

#[test]
fn the_cause_is_named_where_the_readings_can_tell_it() {
    let mut scores: BTreeMap<String, Score> = BTreeMap::new();
    let mut all = Score::default();
    for seed in 0..400 {
        let mut chance = Chance::new(seed);
        let (wish, tools) = (any_wish(&mut chance), tools(&mut chance));
        let cause = CAUSES[(seed % 5) as usize];
        // Beyond the gate and beyond what the readings leave open, by no more than hands do.
        let least = gate(cause, &wish) + 1.2 * resolution(cause, &wish, &tools);
        if least > 0.4 {
            continue;
        }
        let departure = 1.0 + chance.between(least, least + 0.2);
        let way = chance.pick(&[Way::More, Way::Less]);
        let factor = if way == Way::More { departure } else { 1.0 / departure };
        let hand = off(steady(&mut chance), cause, factor);
        let log = log(&spun(&wish, &hand, &tools, &mut chance), &tools, &mut chance);
        let verdict = said(&plan(&wish), &log);
        let is_right = verdict.diagnosis == Diagnosis::Off(cause, way);
        for score in [&mut all, scores.entry(format!("{cause:?}")).or_default()] {
            score.of += 1;
            score.right += usize::from(is_right);
            if !is_right {
                score.wrong.push(format!("seed {seed}: {cause:?} × {factor:.2} was called {:?}", verdict.diagnosis));
            }
        }
    }
    assert!(all.of >= 300, "only {} spinners could be told", all.of);
    assert!(all.share() >= 0.9, "{} of {}: {:#?}", all.right, all.of, all.wrong);
    for (cause, score) in &scores {
        assert!(score.of >= 40 && score.share() >= 0.8, "{cause}: {} of {}: {:#?}", score.right, score.of, score.wrong);
    }
}

#[test]
fn nothing_is_blamed_where_nothing_is_off() {
    let mut score = Score::default();
    let mut told_right = 0;
    for seed in 1000..1200 {
        let mut chance = Chance::new(seed);
        let (wish, tools) = (any_wish(&mut chance), tools(&mut chance));
        let hand = steady(&mut chance);
        let log = log(&spun(&wish, &hand, &tools, &mut chance), &tools, &mut chance);
        let verdict = said(&plan(&wish), &log);
        score.of += 1;
        told_right += usize::from(verdict.diagnosis == Diagnosis::Right);
        match verdict.diagnosis {
            Diagnosis::Right | Diagnosis::CannotTell => score.right += 1,
            Diagnosis::Off(..) => score.wrong.push(format!("seed {seed}: {:?}", verdict.diagnosis)),
        }
    }
    assert!(score.share() >= 0.9, "{} of {}: {:#?}", score.right, score.of, score.wrong);
    assert!(told_right * 3 >= score.of, "only {told_right} of {} are called right", score.of);
}

/// A departure that hides behind one step of the scale, or behind the counts of an eye, is not called anything else.
#[test]
fn what_the_readings_cannot_tell_is_not_told() {
    let mut score = Score::default();
    let mut open = 0;
    for seed in 2000..2200 {
        let mut chance = Chance::new(seed);
        let wish = any_wish(&mut chance);
        // A short skein on a kitchen scale, and each thing counted once.
        let tools = Tools { scale: 1.0, counts: 1, loops: chance.pick(&[4, 5, 6]), loop_length: 1.5 };
        let cause = chance.pick(&[Cause::Drafting, Cause::Loft]);
        let within = resolution(cause, &wish, &tools).min(0.5) * chance.between(0.2, 0.6);
        let way = chance.pick(&[Way::More, Way::Less]);
        let factor = if way == Way::More { 1.0 + within } else { 1.0 / (1.0 + within) };
        let hand = off(steady(&mut chance), cause, factor);
        let log = log(&spun(&wish, &hand, &tools, &mut chance), &tools, &mut chance);
        let verdict = said(&plan(&wish), &log);
        score.of += 1;
        open += usize::from(verdict.diagnosis == Diagnosis::CannotTell);
        match verdict.diagnosis {
            Diagnosis::Right | Diagnosis::CannotTell => score.right += 1,
            // Chance may bring it to light all the same.
            Diagnosis::Off(named, named_way) if (named, named_way) == (cause, way) => score.right += 1,
            Diagnosis::Off(..) => {
                score.wrong.push(format!("seed {seed}: {cause:?} × {factor:.2}: {:?}", verdict.diagnosis));
            }
        }
    }
    assert!(score.share() >= 0.9, "{} of {}: {:#?}", score.right, score.of, score.wrong);
    assert!(open * 2 >= score.of, "\"cannot tell\" is said of {open} in {}", score.of);
}

/// Whatever the construction, a sample that is as planned is called right: each of its figures is read off the ledger of the plan
/// and written into a log, with nothing off.
#[test]
fn a_sample_as_planned_is_right_in_every_construction() {
    for made in [
        "plies = 2",
        "plies = 4",
        "plies = 3\nply-from = \"chain\"",
        "plies = 2\nply-from = \"both ends of a ball\"",
        "plies = 2\ncabled = 2",
        "ply-from = \"none\"",
    ] {
        let plan = format!(
            "[plan]\ntitle = \"As planned\"\n[fibre.wool]\nkind = \"wool\"\nweight = \"300 g\"\n\
             [wheel]\nwhorls = {{ a = \"6:1\", b = \"9:1\", c = \"14:1\", d = \"20:1\" }}\n\
             [yarn]\n{made}\nwraps = \"12 wpi\"\ngrist = \"1000 yd/lb\"\nangle = \"25 deg\"\n"
        );
        let planned = written(&plan);
        let value = |figure: &str| planned.value(figure);
        let is_cabled = made.contains("cabled");
        let last = if is_cabled {
            "washed.cable-twist"
        } else if made.contains("none") {
            "washed.singles-twist"
        } else {
            "washed.ply-twist"
        };
        let log = format!(
            "[[sample]]\nname = \"it\"\ndate = 2026-03-05\n\
             singles = {{ ply-back = \"{} ± 1 / m\" }}\n\
             skein = {{ loops = 20, loop = \"1.5 m\", washed-loop = \"{:.4} m\", weight = \"{:.3} g\", \
             wraps = [\"12 wpi\", \"12 wpi\", \"12 wpi\"], {} = \"{} ± 1 / m\" }}\n",
            value("singles.fresh-twist") * 2.0 / 3.0,
            1.5 * value("washed.keep"),
            30.0 * value("washed.keep") * value("washed.tex"),
            if is_cabled { "cable-twist" } else { "ply-twist" },
            value(last),
        );
        let verdict = said(&plan, &log);
        assert_eq!(verdict.quantities.len(), 4, "{made}");
        for (figure, ratio) in verdict
            .quantities
            .iter()
            .map(|verdict| (&verdict.figure, verdict.ratio))
            .chain(verdict.causes.iter().map(|verdict| (&verdict.figure, verdict.ratio)))
        {
            assert!((ratio - 1.0).abs() < 1e-3, "{made}: {figure} is {ratio}");
        }
        assert_eq!(verdict.diagnosis, Diagnosis::Right, "{made}: {verdict:#?}");
    }
}
