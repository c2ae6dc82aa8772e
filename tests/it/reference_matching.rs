//! A yarn in hand against two measured skeins, and what another grist does to gauge and weight.

use wheelsheet::figures::diagnosis::{Cause, Diagnosis, Way};
use wheelsheet::figures::matching;
use wheelsheet::figures::verdict::{Judged, Looked};
use wheelsheet::plan::Keep;
use wheelsheet::units::{Mass, Share};

use super::ledgers::{written, written_with_log};
use super::{assert_close, assert_printed, number, of, reached};

/// A plan that matches skein A of A. Franquemont's two, spun with the same fibre and tools (craft article): 254 yd weigh
/// 2.125 oz and lie at 16 wraps and 5.5 turns to the inch.
pub(super) const SKEIN_A: &str = "[plan]\ntitle = \"Two skeins\"\nunits = \"imperial\"\n\
    [fibre.wool]\nkind = \"wool\"\nweight = \"300 g\"\n\
    [wheel]\nwhorls = { one = \"9:1\", two = \"16:1\", three = \"24:1\" }\n\
    [yarn]\nplies = 2\nwash-shortens = \"0 ± 1 %\"\nwinding-stretch = \"0 ± 1 %\"\n\
    [yarn.match]\nname = \"skein A\"\nwraps = \"16 ± 0.5 wpi\"\nball = { length = \"254 yd\", weight = \"2.125 oz\" }\n\
    ply-twist = \"5.5 ± 0.3 tpi\"\n";

/// Skein B: 261 yd, 2.375 oz, 18 wraps, 6 turns.
pub(super) const SKEIN_B: &str = "[[sample]]\nname = \"B\"\ndate = 2026-03-05\n\
    skein = { loops = 261, loop = \"36 in\", washed-loop = \"36 in\", weight = \"2.375 oz\", wraps = \"18 ± 0.5 wpi\", \
    ply-twist = \"6 ± 0.3 tpi\" }\n";

#[test]
fn of_two_skeins_the_thinner_is_the_heavier_and_denser() {
    let chosen = written_with_log(SKEIN_A, &format!("{SKEIN_B}chosen = true\n"));
    // 1912.47 and 1758.32 yd/lb by the lengths and weights above; the article prints 1900 and 1700.
    let yards_to_the_pound = |figure: &str| chosen.value(figure) * 496.054_647_856_517_9;
    assert_close(yards_to_the_pound("match.grist"), 1912.47, 1e-5, "skein A");
    assert_close(yards_to_the_pound("sample.B.grist"), 1758.32, 1e-5, "skein B");
    assert_close(chosen.value("match.wraps-ratio"), 18.0 / 16.0, 1e-12, "thinner by wraps");
    assert_close(chosen.value("match.grist-ratio"), 1758.32 / 1912.47, 1e-5, "heavier by weight");
    // Packing fractions derived from the article's numbers: 0.100 against 0.138.
    assert_close(chosen.value("match.drape"), 0.138 / 0.100, 0.005, "denser");
    assert!(chosen.value("match.loft-ratio") > 1.0);
    let fate = chosen.ledger.fate.expect("a yarn is matched");
    assert_eq!(fate.given_up, Some(Keep::Grist), "B's loft is not A's, and wraps are kept where nothing is said");
}

#[test]
fn a_sample_like_skein_b_is_called_thinner_heavier_and_denser_than_skein_a() {
    let held = written_with_log(SKEIN_A, SKEIN_B);
    let verdict = &held.ledger.verdicts[0];
    let judged = |of: Looked| verdict.quantities.iter().find(|verdict| verdict.of == of).map(|verdict| verdict.judged);
    assert_eq!(judged(Looked::Wraps), Some(Judged::TooMuch), "thinner by wraps");
    assert_eq!(judged(Looked::Grist), Some(Judged::TooLittle), "heavier by weight");
    assert_eq!(judged(Looked::Loft), Some(Judged::TooMuch), "denser");
    assert_eq!(judged(Looked::PlyTwist), Some(Judged::Right), "6 turns against 5.5 are within a tenth");
    assert_eq!(verdict.diagnosis, Diagnosis::Off(Cause::Loft, Way::More));
}

#[test]
fn skein_a_itself_is_right() {
    let itself =
        SKEIN_B.replace("261", "254").replace("2.375", "2.125").replace("18 ±", "16 ±").replace("\"6 ±", "\"5.5 ±");
    let held = written_with_log(SKEIN_A, &itself);
    let verdict = &held.ledger.verdicts[0];
    assert!(verdict.quantities.len() == 4 && verdict.quantities.iter().all(|verdict| verdict.judged == Judged::Right));
    assert_eq!(verdict.diagnosis, Diagnosis::Right);
    for figure in ["wraps", "grist", "loft", "ply-twist", "drafting", "keep", "plying"] {
        assert_close(held.value(&format!("sample.B.against.{figure}")), 1.0, 1e-9, figure);
    }
}

/// Derived from w₂ = w₁ (G₂ ÷ G₁)^p: 200 stitches that were to make 40 in at 5 to the inch, in a yarn a tenth finer or heavier.
#[test]
fn another_grist_makes_another_size() {
    for (grist, sizes) in [(1.1, ["39.6", "38.9", "38.1"]), (0.9, ["40.4", "41.3", "42.2"])] {
        for (power, size) in [0.1, 0.3, 0.5].into_iter().zip(sizes) {
            let gauge = reached(matching::gauge_by_grist(&number::<Share>(grist), &number::<Share>(power)));
            assert_printed(200.0 / (5.0 * gauge.value()), size, "inches round");
            // At one loft wraps go with the root of length per weight.
            let by_wraps = reached(matching::gauge(&number::<Share>(f64::sqrt(grist)), &number::<Share>(power)));
            assert_close(by_wraps.value(), gauge.value(), 1e-12, "by wraps");
        }
    }
    // Held at 40 in by more stitches: yards 2.9 % more, grams 6.5 % less.
    let gauge = reached(matching::gauge_by_grist(&number::<Share>(1.1), &number::<Share>(0.3)));
    assert_printed((gauge.value() - 1.0) * 100.0, "2.9", "yards");
    let grams = reached(matching::garment_weight(&gauge.named("gauge", "gauge"), &number::<Share>(1.0 / 1.1)));
    assert_printed((1.0 - grams.value()) * 100.0, "6.5", "grams");
    let more = reached(matching::more_fibre(&of::<Mass>("440 g"), &number::<Share>(1.1)));
    assert_close(more.value(), 40.0, 1e-9, "440 g, a tenth heavier than 400");
}

/// What the usual loft can meet and what not, by how far it is known: 0.38 ± 0.10.
#[test]
fn both_wishes_are_met_where_loft_may_be_that_of_the_yarn_in_hand() {
    let plan = |wraps: &str, keep: &str| {
        let text = SKEIN_A.replace("16 ± 0.5 wpi\"", &format!("{wraps}\"{keep}"));
        written(&format!("{text}[garment.hat]\nlength = \"150 m\"\n"))
    };
    let met = plan("16 ± 0.5 wpi", "");
    assert_eq!(met.ledger.fate.expect("matched").given_up, None);
    assert!(
        met.ledger.find("match.gauge").is_none() && met.ledger.find("match.weight").is_none(),
        "nothing is given up"
    );
    assert_close(met.value("washed.wraps"), met.value("match.wraps"), 1e-12, "wraps");
    assert_close(met.value("washed.tex"), met.value("match.tex"), 1e-12, "grist");

    // 24 wraps at 1912 yd/lb: a loft of 0.549, beyond what the usual one may be.
    let thin = plan("24 ± 0.5 wpi", "");
    assert_eq!(thin.ledger.fate.expect("matched").given_up, Some(Keep::Grist));
    assert_close(thin.value("washed.wraps"), thin.value("match.wraps"), 1e-12, "wraps are kept");
    assert_close(thin.value("match.loft-ratio"), 0.38 / (24.0 / 1912.47f64.sqrt()), 1e-4, "airier");
    assert!(thin.ledger.find("match.gauge").is_none(), "as thick, so of the same gauge");
    let lighter = thin.value("match.weight");
    assert!(lighter < 1.0, "airier yarn of the same thickness is lighter: {lighter}");
    assert_close(lighter, thin.value("match.fibre-ratio"), 1e-12, "the same length");
    let saved = thin.value("garment.hat.fibre") - thin.value("garment.hat.fibre") / lighter;
    assert_close(thin.value("match.hat.more-fibre"), saved, 1e-9, "less fibre to buy");

    let heavy = plan("24 ± 0.5 wpi", "\nkeep = \"grist\"");
    assert_eq!(heavy.ledger.fate.expect("matched").given_up, Some(Keep::Wraps));
    assert_close(heavy.value("washed.tex"), heavy.value("match.tex"), 1e-12, "grist is kept");
    let thicker = heavy.value("match.wraps-ratio");
    assert!(thicker < 1.0, "thicker: {thicker}");
    assert_close(heavy.value("match.gauge"), thicker.powf(0.6), 1e-9, "fewer stitches to the inch");
    assert_close(heavy.value("match.weight"), heavy.value("match.gauge"), 1e-12, "and so less yarn");
}

/// The slope of a power by either operand, against differences.
#[test]
fn a_power_has_the_slopes_of_a_power() {
    use wheelsheet::figures::expression::Function;
    for (base, exponent) in [(1.125f64, 0.3f64), (0.8, 0.6), (2.0, -1.5), (1.0, 0.5)] {
        let value = |a: f64, b: f64| Function::Power.value(&[a, b]);
        assert_close(value(base, exponent), base.powf(exponent), 1e-14, "value");
        let step = 1e-6;
        let inputs = [base, exponent];
        let by_base = (value(base + step, exponent) - value(base - step, exponent)) / (2.0 * step);
        let by_exponent = (value(base, exponent + step) - value(base, exponent - step)) / (2.0 * step);
        assert!((Function::Power.partial(0, &inputs, value(base, exponent)) - by_base).abs() < 1e-8);
        assert!((Function::Power.partial(1, &inputs, value(base, exponent)) - by_exponent).abs() < 1e-8);
        assert_eq!(Function::Power.rises(0, &inputs), exponent >= 0.0);
        assert_eq!(Function::Power.rises(1, &inputs), base >= 1.0);
    }
}
