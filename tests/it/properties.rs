//! What holds for every plan, whatever its numbers: figures are finite, fibre is conserved, order and spacing change nothing.

use std::collections::BTreeSet;

use proptest::prelude::*;
use proptest::sample::Index;
use wheelsheet::figures::expression::draws::draws;
use wheelsheet::figures::expression::tape::Tape;
use wheelsheet::figures::expression::{Figure, exact, sin};
use wheelsheet::figures::ledger::Ledger;
use wheelsheet::plan::{Keep, Plan};
use wheelsheet::units::{Angle, Share};

use super::reference::ledgers::{Worked, answered, is_refused, of_texts, written};

/// A plan in numbers, of which a text is made.
#[derive(Debug, Clone)]
struct Numbers {
    system: &'static str,
    plies: usize,
    wraps: f64,
    whorls: [f64; 3],
    draw: &'static str,
    machine: Machine,
    /// Weights of the braids of each lot, in gram.
    lots: Vec<Vec<f64>>,
    /// What is set aside of the first lot, in gram.
    aside: Option<f64>,
    bobbin: f64,
    /// Which lot each ply takes, and into how many strips; nothing for the plan's own way.
    ply_plans: Vec<Vec<(Index, Option<u8>)>>,
    /// Washed yarn of a garment as stated, in metre.
    stated: Option<f64>,
    /// Another by its area in m², with stitches to 10 cm.
    knitted: Option<(f64, f64)>,
    /// Shares in per cent: lost in plying, lost in the wash, gained under tension, weight lost, waste; with what is after ±.
    shares: [(f64, f64); 5],
}

/// What turns, in numbers.
#[derive(Debug, Clone)]
struct Machine {
    drive: &'static str,
    lead: &'static str,
    /// Diameters of bobbin and wheel, in millimetre, thickness of the band.
    core: f64,
    full: f64,
    band: Option<(f64, f64)>,
    /// Turns of the flyer in a minute.
    speed: f64,
}

impl Machine {
    /// The keys of `[wheel]`.
    fn text(&self, [a, b, c]: [f64; 3]) -> String {
        let mut text = format!("drive = \"{}\"\n", self.drive);
        if self.drive == "treadle" {
            text += &format!("whorls = {{ a = \"{a:.1}:1\", b = \"{b:.1}:1\", c = \"{c:.1}:1\" }}\n");
            if let Some((wheel, band)) = self.band {
                text += &format!("drive-wheel = \"{wheel:.0} mm\"\nband = \"{band:.1} mm\"\n");
            }
        }
        if self.drive == "electric" {
            text += &format!("flyer-speed = \"{:.0} turns/min\"\n", self.speed);
        }
        if self.drive != "spindle" {
            text += &format!("lead = \"{}\"\n", self.lead);
        }
        if self.drive != "spindle" && self.lead == "bobbin" {
            text +=
                &format!("bobbin-core = \"{:.0} mm\"\nbobbin-full = \"{:.0} mm\"\n", self.core, self.core + self.full);
        }
        text
    }
}

fn any_machine() -> impl Strategy<Value = Machine> {
    let words = (
        prop::sample::select(&["treadle", "treadle", "electric", "spindle"][..]),
        prop::sample::select(&["flyer", "bobbin", "double drive"][..]),
    );
    (words, 15.0..60.0, 5.0..120.0, prop::option::of((200.0..800.0, 0.5..6.0)), 100.0..2500.0)
        .prop_map(|((drive, lead), core, full, band, speed)| Machine { drive, lead, core, full, band, speed })
}

impl Numbers {
    fn text(&self) -> String {
        let mut text =
            format!("[plan]\ntitle = 'Random'\nunits = \"{}\"\n\n[fibre.wool]\nkind = \"wool\"\n", self.system);
        for (i, weights) in self.lots.iter().enumerate() {
            let weights: Vec<String> = weights.iter().map(|weight| format!("\"{weight:.1} g\"")).collect();
            text += &format!("\n[braid.lot{i}]\nweights = [{}]\n", weights.join(", "));
            if let Some(aside) = self.aside.filter(|_| i == 0) {
                text += &format!("for-sampling = \"{aside:.1} g\"\n");
            }
        }
        text += &format!("\n[wheel]\n{}", self.machine.text(self.whorls));
        text += &format!("draw = \"{}\"\nbobbin-holds = \"{:.0} g\"\n", self.draw, self.bobbin);
        text += &format!("\n[yarn]\nplies = {}\nwraps = \"{:.1} wpi\"\n", self.plies, self.wraps);
        let keys = ["plying-shortens", "wash-shortens", "winding-stretch", "wash-lightens", "waste"];
        for (key, (share, width)) in keys.iter().zip(self.shares) {
            text += &format!("{key} = \"{share:.1} ± {width:.1} %\"\n");
        }
        for (i, plies) in self.ply_plans.iter().enumerate() {
            let share = format!("\"{:.3} %\"", 100.0 / self.ply_plans.len() as f64);
            let share = if i == 0 { "\"rest\"" } else { share.as_str() };
            text += &format!("\n[[ply-plan]]\nname = \"p{i}\"\nshare = {share}\nplies = [\n");
            for (lot, strips) in plies.iter().take(self.plies) {
                let strips = strips.map_or(String::new(), |strips| format!(", strips = {strips}"));
                text += &format!("  {{ braid = \"lot{}\"{strips} }},\n", lot.index(self.lots.len()));
            }
            text += "]\n";
        }
        if let Some(length) = self.stated {
            text += &format!("\n[garment.hat]\nlength = \"{length:.0} m\"\n");
        }
        if let Some((area, stitches)) = self.knitted {
            text += &format!(
                "\n[garment.shawl]\nstitch = \"garter stitch\"\narea = \"{area:.2} m2\"\ngauge = \"{stitches:.1} st, {:.1} rows / 10 cm\"\n",
                1.9 * stitches
            );
        }
        text
    }
}

/// Numbers that a check lets through, ordinary and absurd; not every plan of them can be spun.
fn any_numbers() -> impl Strategy<Value = Numbers> {
    let lots =
        prop::collection::vec(prop::collection::vec(prop_oneof![9 => 20.0..220.0, 1 => 1.0..19_000.0], 1..7), 1..4);
    let ply = (any::<Index>(), prop::option::weighted(0.3, 1u8..13));
    let share = |range: std::ops::Range<f64>| (range, 0.0..20.0);
    let shares = (share(-5.0..20.0), share(0.0..30.0), share(0.0..20.0), share(0.0..12.0), share(0.0..15.0));
    (
        (prop::sample::select(&["metric", "imperial"][..]), 2usize..=8, prop_oneof![9 => 6.0..26.0, 1 => 1.0..149.0]),
        (
            [4.0..40.0, 4.0..40.0, 4.0..40.0],
            prop::sample::select(&["short forward", "long draw", "from the fold"][..]),
            any_machine(),
        ),
        (lots, prop::option::of(0.1..25.0), 30.0..400.0),
        prop::collection::vec(prop::collection::vec(ply, 8), 0..3),
        (prop::option::of(20.0..3000.0), prop::option::of((0.05..3.0, 8.0..40.0))),
        shares,
    )
        .prop_map(
            |(
                (system, plies, wraps),
                (whorls, draw, machine),
                (lots, aside, bobbin),
                ply_plans,
                (stated, knitted),
                shares,
            )| {
                let shares = [shares.0, shares.1, shares.2, shares.3, shares.4];
                Numbers {
                    system,
                    plies,
                    wraps,
                    whorls,
                    draw,
                    machine,
                    lots,
                    aside,
                    bobbin,
                    ply_plans,
                    stated,
                    knitted,
                    shares,
                }
            },
        )
}

/// The ledger of a plan, where it can be spun at all.
fn ledger(numbers: &Numbers) -> Option<(Plan, Ledger)> {
    let (plan, outcome, _) = answered(&of_texts(&numbers.text(), ""));
    Some((plan?, Ledger::clone(&*outcome?.ledger?)))
}

/// The whorl on which the singles of a plan are spun.
fn settled_whorl(numbers: &Numbers) -> Option<usize> {
    answered(&of_texts(&numbers.text(), ""))
        .1
        .and_then(|outcome| outcome.settings)
        .and_then(|settings| settings.singles[0])
}

fn settings(cases: u32) -> ProptestConfig {
    ProptestConfig { cases, failure_persistence: None, ..ProptestConfig::default() }
}

fn close(a: f64, b: f64, tolerance: f64) -> bool {
    (a - b).abs() <= tolerance * a.abs().max(b.abs())
}

/// The bits of a figure's numbers.
fn bits(ledger: &Ledger) -> Vec<(String, [u64; 5])> {
    let of = |line: &wheelsheet::figures::Line| {
        [line.value, line.uncertainty, line.bands.low, line.bands.median, line.bands.high].map(f64::to_bits)
    };
    ledger.lines().map(|line| (line.name.clone(), of(line))).collect()
}

proptest! {
    #![proptest_config(settings(80))]

    #[test]
    fn every_figure_is_finite_or_a_fault_says_why(numbers in any_numbers()) {
        let (plan, outcome, faults) = answered(&of_texts(&numbers.text(), ""));
        let ledger = outcome.and_then(|outcome| outcome.ledger);
        prop_assert_eq!(ledger.is_none(), is_refused(&faults), "{:#?}", faults);
        prop_assert!(plan.is_some() || ledger.is_none());
        for line in ledger.iter().flat_map(|ledger| ledger.lines()) {
            let numbers = [line.value, line.uncertainty, line.bands.low, line.bands.median, line.bands.high];
            prop_assert!(numbers.iter().all(|x| x.is_finite()), "{} is {:?}", line.name, numbers);
            prop_assert!(line.bands.low <= line.bands.median && line.bands.median <= line.bands.high, "{}", line.name);
            prop_assert!(line.uncertainty >= 0.0, "{}", line.name);
        }
    }

    #[test]
    fn totals_do_not_depend_on_the_order_of_weights(numbers in any_numbers(), seeds in prop::collection::vec(any::<Index>(), 24)) {
        // Where strips are counted, the order of braids decides how many braids a ply takes part of, and so the skeins.
        let numbers = Numbers { ply_plans: Vec::new(), ..numbers };
        let mut shuffled = numbers.clone();
        for (weights, seeds) in shuffled.lots.iter_mut().zip(seeds.chunks(6)) {
            for (last, seed) in (1..weights.len()).rev().zip(seeds) {
                weights.swap(last, seed.index(last + 1));
            }
        }
        let (before, after) = (ledger(&numbers), ledger(&shuffled));
        // What is set aside comes off the last braid, which may be so small that it takes it whole: near the most strips that
        // are reckoned with, one order has a braid less to tear, and the other is refused.
        if before.is_some() != after.is_some() {
            let refused = if before.is_some() { &shuffled } else { &numbers };
            let (_, _, faults) = answered(&of_texts(&refused.text(), ""));
            prop_assert!(faults.iter().any(|fault| fault.code.slug() == "bobbin-too-small"), "{:#?}", faults);
        }
        let (Some((_, before)), Some((_, after))) = (before, after) else { return Ok(()) };
        let is_total = |name: &str| name.starts_with("yarn.") || (name.starts_with("garment.") && !name.contains("short"));
        // What is counted over the draws (to-spin, to-buy) has draws of its own for each braid.
        for line in before.lines().filter(|line| is_total(&line.name) && line.node().is_some()) {
            let other = after.get(&line.name).value;
            let scale = before.get("yarn.length").value.max(line.value.abs());
            prop_assert!((line.value - other).abs() <= 1e-12 * scale.max(other.abs()), "{}: {} and {}", line.name, line.value, other);
        }
    }

    #[test]
    fn spacing_changes_no_figure(numbers in any_numbers(), edits in prop::collection::vec((any::<Index>(), 0usize..4), 1..9)) {
        let text = numbers.text();
        let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
        for (at, kind) in edits {
            let at = at.index(lines.len());
            match kind {
                0 => lines.insert(at, String::new()),
                1 => lines.insert(at, "# \"12 g\" ± [x]".to_owned()),
                2 => lines[at] = format!("{}  \t", lines[at]),
                _ => lines[at] = lines[at].replacen(" = ", "=   ", 1),
            }
        }
        let ledgers = [text, lines.join("\n")].map(|text| answered(&of_texts(&text, "")).1.and_then(|outcome| outcome.ledger));
        let [before, after] = ledgers.map(|ledger| ledger.map(|ledger| bits(&ledger)));
        prop_assert_eq!(before, after);
    }

    #[test]
    fn a_plan_read_and_written_anew_is_the_same_plan(numbers in any_numbers()) {
        // The `toml` crate writes it in ways of its own: other tables, quotes and spacing, the same entries.
        let text = numbers.text();
        let read: toml::Table = toml::from_str(&text).expect("what is written here is TOML");
        let anew = toml::to_string(&read).expect("what was read can be written");
        prop_assert_ne!(&text, &anew);
        let ledgers = [text, anew].map(|text| answered(&of_texts(&text, "")).1.and_then(|outcome| outcome.ledger));
        let [before, after] = ledgers.map(|ledger| ledger.map(|ledger| bits(&ledger)));
        prop_assert_eq!(before, after);
    }

    #[test]
    fn a_new_entry_moves_no_draws_of_another(numbers in any_numbers(), width in 0.0..50.0f64) {
        let text = numbers.text();
        let more = format!("{text}\n[garment.added]\nlength = \"400 ± {width:.0} m\"\n");
        let ledgers = [&text, &more].map(|text| answered(&of_texts(text, "")).1.and_then(|outcome| outcome.ledger));
        let [Some(before), Some(after)] = ledgers else { return Ok(()) };
        let after: BTreeSet<_> = bits(&after).into_iter().collect();
        // What is of all garments together is of the new one as well.
        for figure in bits(&before).into_iter().filter(|(name, _)| !name.starts_with("garments.")) {
            prop_assert!(after.contains(&figure), "{} has moved", figure.0);
        }
    }

    #[test]
    fn fibre_is_conserved(numbers in any_numbers()) {
        let Some((plan, ledger)) = ledger(&numbers) else { return Ok(()) };
        let fibre = ledger.get("yarn.fibre").value;
        let mut of_supply = vec![0.0; plan.supplies.len()];
        for (_, set) in ledger.deal.sets() {
            for bobbin in &set.bobbins {
                let mut whole = 0.0;
                for (k, strip) in bobbin.strips.iter().enumerate() {
                    let weight = ledger.get(&format!("bobbin.{}.strip.{}", bobbin.number, k + 1)).value;
                    prop_assert!(weight > 0.0);
                    of_supply[strip.supply] += weight;
                    whole += weight;
                }
                let named = ledger.get(&format!("bobbin.{}.weight", bobbin.number)).value;
                prop_assert!(close(whole, named, 1e-12), "bobbin {}", bobbin.number);
            }
        }
        prop_assert!(close(of_supply.iter().sum(), fibre, 1e-8), "{:?} of {}", of_supply, fibre);
        for (i, (supply, dealt)) in plan.supplies.iter().zip(&of_supply).enumerate() {
            let plies = |plan: &wheelsheet::plan::PlyPlan| plan.plies.iter().filter(|ply| ply.takes(i)).count() as f64;
            let wanted: f64 = plan.ply_plans.iter().map(|one| one.share * plies(one) * fibre / plan.yarn.plies.value).sum();
            prop_assert!((dealt - wanted).abs() <= 1e-8 * fibre, "{}: {} dealt, {} wanted", supply.name, dealt, wanted);
            let usable = ledger.get(&format!("{}.usable", supply.place.path)).value;
            prop_assert!(*dealt <= usable * (1.0 + 1e-8), "{}: {} of {}", supply.name, dealt, usable);
        }
    }

    #[test]
    fn turns_are_conserved(numbers in any_numbers()) {
        let Some((plan, ledger)) = ledger(&numbers) else { return Ok(()) };
        let choice = |stage: &str, name: &str| ledger.find_source(&format!("choice.{stage}.{name}")).map(|source| source.value);
        for (stage, noun) in [("wheel", "draft"), ("plying", "arm")] {
            // Let in: a length at each treadle, or one over which is counted.
            let each = choice(stage, "length-per-treadle");
            let length = each.or_else(|| choice(stage, noun)).expect("some length is let in");
            // What turned, in turns of the flyer, or of the bobbin that is driven.
            let machine = &numbers.machine;
            let turned = match machine.drive {
                "electric" => (machine.speed.round() / 60.0) * choice(stage, "seconds").expect("seconds are counted"),
                "spindle" => choice(stage, "turns").expect("turns are counted"),
                _ => {
                    let treadles = if each.is_some() { 1.0 } else { choice(stage, "treadles").expect("treadles are counted") };
                    let settled = if stage == "wheel" { settled_whorl(&numbers) } else { plan.plying.whorl };
                    let ratio = plan.wheel.machine.whorls()[settled.expect("a whorl is settled")].ratio.value;
                    let banded = machine.band.map_or(ratio, |(wheel, band)| {
                        let (wheel, band) = (wheel.round(), (band * 10.0).round() / 10.0);
                        0.97 * (wheel + band) / (wheel / ratio + band)
                    });
                    banded * treadles
                }
            };
            // A driven bobbin turns once more for each wrap; half of its yarn lies inside the half full bobbin.
            let loses = machine.lead == "bobbin" && machine.drive != "spindle";
            let (core, full) = (machine.core.round() / 1e3, (machine.core + machine.full).round() / 1e3);
            let wraps = if loses { length / (std::f64::consts::PI * ((core * core + full * full) / 2.0).sqrt()) } else { 0.0 };
            let stays = ledger.get(&format!("{stage}.twist-given")).value * length;
            prop_assert!(close(stays + wraps, turned, 1e-9), "{stage}: {} and {} are not {}", stays, wraps, turned);
            if loses {
                let of = |suffix: &str| ledger.get(&format!("{stage}.twist-{suffix}")).value;
                prop_assert!(of("empty") < of("given") && of("given") < of("full"));
            }
        }
    }

    #[test]
    fn skeins_of_equal_plies_add_up_to_the_yarn(numbers in any_numbers()) {
        // One lot for every ply, torn alike; the first ply's lot and strips stand for all.
        let ply_plans = numbers.ply_plans.iter().map(|plies| vec![plies[0]; 8]).collect();
        let Some((_, ledger)) = ledger(&Numbers { ply_plans, ..numbers }) else { return Ok(()) };
        let skeins: Vec<f64> = ledger.deal.sets().map(|(_, set)| ledger.get(&format!("skein.{}.length", set.number)).value).collect();
        let whole = ledger.get("yarn.length").value;
        let sum: f64 = skeins.iter().sum();
        prop_assert!(close(sum, whole, 1e-8), "{} skeins of {} in {}", skeins.len(), sum, whole);
    }

    #[test]
    fn skeins_are_never_longer_than_the_yarn(numbers in any_numbers()) {
        let Some((_, ledger)) = ledger(&numbers) else { return Ok(()) };
        let of = |name: String| ledger.get(&name).value;
        let skeins: f64 = ledger.deal.sets().map(|(_, set)| of(format!("skein.{}.length", set.number))).sum();
        prop_assert!(skeins <= ledger.get("yarn.length").value * (1.0 + 1e-8));
        for (_, set) in ledger.deal.sets() {
            for bobbin in &set.bobbins {
                let [left, weight] = ["left", "weight"].map(|what| of(format!("bobbin.{}.{what}", bobbin.number)));
                // The bobbin that runs out first has nothing left but what rounding leaves.
                prop_assert!(left >= -1e-9 * weight, "bobbin {}", bobbin.number);
            }
        }
    }

    #[test]
    fn no_bobbin_gets_more_than_it_holds(numbers in any_numbers()) {
        // Where strips are counted, a bobbin takes whole strips, and one may take a strip more than another.
        let ply_plans = numbers.ply_plans.iter().map(|plies| plies.iter().map(|(lot, _)| (*lot, None)).collect()).collect();
        let Some((plan, ledger)) = ledger(&Numbers { ply_plans, ..numbers }) else { return Ok(()) };
        for (_, set) in ledger.deal.sets() {
            for bobbin in &set.bobbins {
                let weight = ledger.get(&format!("bobbin.{}.weight", bobbin.number)).value;
                prop_assert!(weight <= plan.wheel.bobbin_holds.value * (1.0 + 1e-9), "bobbin {}: {} g", bobbin.number, weight);
            }
            let plied = ledger.get(&format!("set.{}.weight", set.number)).value;
            prop_assert!(plied <= plan.plying.bobbin_holds.value * (1.0 + 1e-9), "set {}: {} g", set.number, plied);
        }
    }

    #[test]
    fn twice_the_fibre_is_twice_the_yarn(numbers in any_numbers()) {
        let twice = |weights: &Vec<f64>| weights.iter().map(|weight| 2.0 * (weight * 10.0).round() / 10.0).collect();
        let double = Numbers {
            lots: numbers.lots.iter().map(twice).collect(),
            aside: numbers.aside.map(|aside| 2.0 * (aside * 10.0).round() / 10.0),
            bobbin: 2.0 * numbers.bobbin.round(),
            ..numbers.clone()
        };
        let (Some((_, one)), Some((_, two))) = (ledger(&numbers), ledger(&double)) else { return Ok(()) };
        prop_assert!(close(2.0 * one.get("yarn.length").value, two.get("yarn.length").value, 1e-12));
        prop_assert_eq!(one.deal.sets().count(), two.deal.sets().count());
    }
}

#[test]
fn most_random_plans_have_a_ledger() {
    use proptest::strategy::ValueTree;
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let mut spun = 0;
    for _ in 0..100 {
        let numbers = any_numbers().new_tree(&mut runner).expect("a strategy without refusals").current();
        spun += usize::from(ledger(&numbers).is_some());
    }
    assert!(spun > 30, "{spun} of 100 plans can be spun, so the properties above are looked at");
}

/// Built, taped, drawn, differentiated and dropped without recursion: any of these would overflow the stack of a test.
#[test]
fn an_expression_may_be_a_hundred_thousand_deep() {
    let mut figure: Figure<Share> = exact("start", 0.5);
    for _ in 0..50_000 {
        let angle: Figure<Angle> = exact::<Angle>("turn", 0.5) * &figure;
        figure = sin(&angle);
    }
    let tape = Tape::new([figure.node()]);
    assert!(tape.steps().len() >= 100_000, "{} steps", tape.steps().len());
    let values = tape.values();
    let at = tape.find(figure.node()).expect("a tape holds its root");
    assert_eq!(values[at].to_bits(), figure.value().to_bits());
    assert!(tape.derivatives(at, &values).iter().all(|slope| slope.is_finite()));
    assert!(draws(figure.node())[0].is_finite());
    drop(figure);
}

/// What is used twice is one number: a figure less itself has no spread, and one over itself is one.
#[test]
fn what_is_used_twice_is_one_number() {
    let plan: Worked = written(
        &Numbers {
            system: "metric",
            plies: 3,
            wraps: 11.0,
            whorls: [6.0, 9.0, 14.0],
            machine: Machine { drive: "treadle", lead: "flyer", core: 25.0, full: 50.0, band: None, speed: 600.0 },
            draw: "short forward",
            lots: vec![vec![100.0; 4]],
            aside: None,
            bobbin: 100.0,
            ply_plans: Vec::new(),
            stated: Some(400.0),
            knitted: None,
            shares: [(1.5, 4.0), (5.0, 6.0), (5.0, 8.0), (1.0, 1.0), (3.0, 2.0)],
        }
        .text(),
    );
    // Length is fibre over weight per length, and fibre is length times it: the loft that both stand on cancels.
    let share = plan.ledger.get("garment.hat.fibre").uncertainty / plan.value("garment.hat.fibre");
    let of = |name: &str| plan.ledger.get(name).uncertainty / plan.value(name);
    assert!(share > 0.2 && of("yarn.length") > 0.2, "the loft is known to 26 %");
    let skeins: f64 = plan.ledger.deal.sets().map(|(_, set)| plan.value(&format!("skein.{}.weight", set.number))).sum();
    let first = plan.ledger.get("skein.1.weight");
    assert!(
        skeins > 300.0 && first.uncertainty / first.value < 0.02,
        "the weight of a skein knows nothing of the loft"
    );
}

/// A yarn in hand in numbers, and a sample of what is spun to match it.
#[derive(Debug, Clone)]
struct InHand {
    /// Plies of the yarn and of the one in hand.
    plies: (usize, usize),
    wraps: Option<f64>,
    /// Metres in 100 g.
    ball: Option<f64>,
    /// Turns to the inch, or degrees.
    twist: Option<(bool, f64)>,
    keep: Option<bool>,
    sample: Option<Sampled>,
}

/// Loops, grams, wraps to the inch, turns to the inch; whether it is chosen.
type Sampled = (u32, f64, Option<f64>, Option<f64>, bool);

impl InHand {
    fn texts(&self) -> (String, String) {
        let (plies, theirs) = self.plies;
        let mut plan = format!(
            "[plan]\ntitle = \"Random\"\n[fibre.wool]\nkind = \"wool\"\nweight = \"400 g\"\n\
             [wheel]\nwhorls = {{ a = \"5:1\", b = \"10:1\", c = \"20:1\" }}\n[yarn]\nplies = {plies}\n\
             [yarn.match]\nplies = {theirs}\n"
        );
        if let Some(wraps) = self.wraps {
            plan += &format!("wraps = \"{wraps:.1} wpi\"\n");
        }
        if let Some(length) = self.ball {
            plan += &format!("ball = {{ length = \"{length:.0} m\", weight = \"100 g\" }}\n");
        }
        if let Some((is_counted, twist)) = self.twist {
            plan += &if is_counted {
                format!("ply-twist = \"{twist:.1} / in\"\n")
            } else {
                format!("angle = \"{:.0} deg\"\n", 10.0 * twist)
            };
        }
        if let Some(keep) = self.keep {
            plan += if keep { "keep = \"wraps\"\n" } else { "keep = \"grist\"\n" };
        }
        plan += "[garment.hat]\nlength = \"150 m\"\n";
        let log = self.sample.map_or_else(String::new, |(loops, weight, wraps, twist, is_chosen)| {
            let wraps = wraps.map_or_else(String::new, |wraps| format!(", wraps = [\"{wraps:.0} wpi\", \"{:.0} wpi\"]", wraps + 1.0));
            let twist = twist.map_or_else(String::new, |twist| format!(", ply-twist = \"{twist:.1} / in\""));
            format!(
                "[[sample]]\nname = \"it\"\ndate = 2026-03-05\n\
                 skein = {{ loops = {loops}, loop = \"1.5 m\", washed-loop = \"1.4 m\", weight = \"{weight:.1} g\"{wraps}{twist} }}\n\
                 chosen = {is_chosen}\n"
            )
        });
        (plan, log)
    }
}

fn any_in_hand() -> impl Strategy<Value = InHand> {
    let sample = (4u32..60, 2.0..80.0, prop::option::of(5.0..25.0), prop::option::of(1.0..8.0), any::<bool>());
    (
        (2usize..=8, 1usize..=8),
        prop::option::weighted(0.8, 6.0..24.0),
        prop::option::weighted(0.8, 80.0..700.0),
        prop::option::of((any::<bool>(), 1.0..6.0)),
        prop::option::of(any::<bool>()),
        prop::option::of(sample),
    )
        .prop_map(|(plies, wraps, ball, twist, keep, sample)| InHand { plies, wraps, ball, twist, keep, sample })
}

proptest! {
    #![proptest_config(settings(150))]

    /// Both wishes are met, or one is given up; what is kept is kept to the last bit, and what is said of a sample is of figures.
    #[test]
    fn a_yarn_in_hand_is_met_or_given_up_and_nothing_else(in_hand in any_in_hand()) {
        let (plan, log) = in_hand.texts();
        let (_, outcome, faults) = answered(&of_texts(&plan, &log));
        let ledger = outcome.and_then(|outcome| outcome.ledger);
        prop_assert_eq!(ledger.is_none(), is_refused(&faults), "{:#?}\n{}\n{}", faults, plan, log);
        let Some(ledger) = ledger else { return Ok(()) };
        for line in ledger.lines() {
            prop_assert!(line.value.is_finite() && line.bands.low.is_finite() && line.bands.high.is_finite(), "{}", line.name);
        }
        let fate = ledger.fate.expect("a yarn is matched");
        let value = |name: &str| ledger.get(name).value;
        let is_chosen = in_hand.sample.is_some_and(|(.., is_chosen)| is_chosen);
        if !is_chosen && in_hand.wraps.is_some() && fate.given_up != Some(Keep::Wraps) {
            prop_assert_eq!(value("washed.wraps"), value("match.wraps"));
        }
        if !is_chosen && in_hand.ball.is_some() && fate.given_up != Some(Keep::Grist) {
            prop_assert_eq!(value("washed.tex"), value("match.tex"));
        }
        if in_hand.wraps.is_none() || in_hand.ball.is_none() {
            prop_assert_eq!(fate.given_up, None, "one wish alone is never given up");
        }
        // The same garment of denser yarn of the same thickness is heavier by as much.
        if !is_chosen && fate.given_up == Some(Keep::Grist) {
            prop_assert!(close(value("match.weight"), value("match.drape"), 1e-9));
        }
        prop_assert_eq!(ledger.verdicts.len(), usize::from(in_hand.sample.is_some()));
        for verdict in &ledger.verdicts {
            for figure in verdict.quantities.iter().map(|held| &held.figure).chain(verdict.causes.iter().map(|held| &held.figure)) {
                prop_assert!(ledger.find(figure).is_some(), "{}", figure);
            }
            let whole: f64 = verdict.settles.iter().map(|(_, share)| share).sum();
            prop_assert!(verdict.settles.is_empty() || close(whole, 1.0, 1e-9), "{}", whole);
        }
    }
}
