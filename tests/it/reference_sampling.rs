//! How large a sample must be and how many of them, against a published rule and tables of statistics.

use wheelsheet::figures::expression::Figure;
use wheelsheet::figures::{sampling, statistics};
use wheelsheet::units::{Length, LinearDensity, Mass, Share};

use super::ledgers::{answered, of_texts, project, written};
use super::{assert_close, assert_printed, is_in, number, of, reached};

fn grams(step: &str, within: f64) -> f64 {
    let least = reached(sampling::least_weight(&of::<Mass>(step), &number::<Share>(within)));
    is_in(&least, "g")
}

/// One exact spinner allows a whole step: a scale of 0.5 g needs 10 g for 5 %, read in a published craft text; the others derived.
#[test]
fn the_least_weight_of_a_sample_follows_from_the_scale() {
    for (step, five, two) in [("1 g", "20", "50"), ("0.5 g", "10", "25"), ("0.1 g", "2", "5"), ("0.01 g", "0.2", "0.5")]
    {
        assert_printed(grams(step, 0.05), five, &format!("{step} for 5 %"));
        assert_printed(grams(step, 0.02), two, &format!("{step} for 2 %"));
    }
}

/// Derived: 10 m of singles at 6 m/g weigh 1.7 g; so 20 g of them are 120 m.
#[test]
fn a_weight_is_a_length_of_yarn() {
    let singles = of::<LinearDensity>("166.6666666666667 tex");
    let length: Figure<Length> = reached(sampling::length_of(&of::<Mass>("20 g"), &singles));
    assert_close(is_in(&length, "m"), 120.0, 1e-9, "20 g at 6 m/g");
}

/// The swatch is worked from the skein that was weighed, so that the greater of both is spun.
#[test]
fn a_sample_skein_is_weighed_and_then_worked() {
    let skein = |to_weigh: &str, swatch: &str| {
        is_in(&reached(sampling::skein(&of::<Length>(to_weigh), &of::<Length>(swatch))), "m")
    };
    assert_close(skein("40 m", "23 m"), 40.0, 1e-12, "a coarse scale");
    assert_close(skein("4 m", "23 m"), 23.0, 1e-12, "a fine scale");
}

fn plan(scale: &str) -> String {
    format!(
        "[plan]\ntitle = \"T\"\n{scale}[fibre.wool]\nkind = \"wool\"\nweight = \"100 g\"\n\
         [wheel]\nwhorls = {{ slow = \"6:1\" }}\n[yarn]\nplies = 2\ngrist = \"200 m/100 g\"\n"
    )
}

#[test]
fn the_scale_of_a_plan_takes_the_place_of_a_guess() {
    let guessed = written(&plan(""));
    assert_close(guessed.value("scale.step"), 0.1, 1e-12, "a scale for checking yarn");
    let said = written(&plan("scale = \"1 g\"\n"));
    assert_close(said.value("scale.step"), 1.0, 1e-12, "as written");
    // 20 g at 500 tex are 40 m, more than a swatch takes.
    assert_close(said.value("sampling.weight"), 20.0, 1e-9, "least weight");
    assert_close(said.value("sampling.length"), 40.0, 1e-9, "its length");
    assert_close(said.value("sampling.skein"), 40.0, 1e-9, "the skein");
    assert!(said.value("sampling.fibre") > 20.0 && said.value("sampling.fibre") < 22.0, "with waste and the wash");
    // Gates open by no less than a step.
    assert!(said.value("singles.check-room") >= 1.0 && guessed.value("singles.check-room") < 1.0);
}

fn skeins(wraps: &str) -> (f64, usize) {
    let log = format!(
        "[[sample]]\nname = \"one\"\ndate = 2026-03-02\nchosen = true\n[sample.skein]\nloops = 10\nloop = \"1 m\"\n\
         weight = \"5 g\"\nwraps = {wraps}\n"
    );
    let (_, outcome, faults) = answered(&of_texts(&plan(""), &log));
    let ledger = outcome.and_then(|outcome| outcome.ledger).unwrap_or_else(|| panic!("{faults:?}"));
    (ledger.get("sampling.variation").value, ledger.get("sampling.skeins").value as usize)
}

/// The numbers of skeins are those of `how_many_skeins_it_takes`; here it is which variation they are asked of.
#[test]
fn the_number_of_skeins_follows_the_log_where_it_shows_more_than_is_usual() {
    let usual = written(&plan(""));
    assert_close(usual.value("sampling.variation"), 0.05, 1e-12, "usual");
    assert_eq!(
        usual.value("sampling.skeins") as usize,
        7,
        "5 % to 5 %: t of six degrees is 2.447, and 2.447 × 5 ÷ √7 is 4.62"
    );
    assert_eq!(skeins("\"11 wpi\"").1, 7, "one reading tells nothing of how they differ");
    assert_eq!(skeins("[\"11 wpi\", \"11 wpi\", \"11 wpi\"]").1, 7, "no less than is usual");
    let (variation, needed) = skeins("[\"10 wpi\", \"11 wpi\", \"12 wpi\"]");
    // Standard deviation one, mean eleven; weight goes with the square of width.
    assert_close(variation, 2.0 / 11.0, 1e-9, "twice that of the wraps");
    assert_eq!(needed, statistics::readings_needed(2.0 / 11.0, 0.05));
    assert!(needed > 50);
}

#[test]
fn the_sample_card_of_a_project_says_how_much_to_spin() {
    let project = project("three-ply-pullover");
    assert_close(project.value("sampling.swatch"), 23.0, 1e-12, "half of two swatches");
    assert!(project.value("sampling.fibre") < 30.0, "what the plan sets aside is enough for two samples");
}
