//! Whole plans through the check: the shipped projects, and each fault at its place.

use super::check;
use crate::diagnostics::{Code, Spot};
use crate::plan::{Fabric, Origin, Plan};
use crate::syntax::{Syntax, raw};

/// A plan that is sound, to which tests add or from which they take.
const SMALLEST: &str = include_str!("../../projects/first-yarn/plan.toml");

fn syntax(plan: &str, log: &str) -> Syntax {
    let plan: raw::Plan = toml::from_str(plan).expect("the test writes TOML of the plan language");
    let log: raw::Log = toml::from_str(log).expect("the test writes TOML of the log");
    Syntax { plan, log, places: Default::default(), whole: true, alternatives: Vec::new() }
}

fn faults(plan: &str) -> Vec<(Code, String)> {
    faults_with_log(plan, "")
}

fn faults_with_log(plan: &str, log: &str) -> Vec<(Code, String)> {
    let (_, faults) = check(&syntax(plan, log));
    let place = |spot: &Spot| match spot {
        Spot::Path(place, _) => place.path.clone(),
        Spot::Bytes(..) => panic!("the check knows no bytes"),
    };
    faults.iter().map(|fault| (fault.code, place(&fault.primary.spot))).collect()
}

fn sound(plan: &str, log: &str) -> Plan {
    let (checked, faults) = check(&syntax(plan, log));
    assert!(faults.is_empty(), "{faults:#?}");
    checked.expect("a plan without faults is made")
}

/// The smallest plan with a text in place of another.
fn with(from: &str, to: &str) -> String {
    assert!(SMALLEST.contains(from), "{from} is in the smallest plan");
    SMALLEST.replacen(from, to, 1)
}

/// The smallest plan with more tables after it.
fn and(more: &str) -> String {
    format!("{SMALLEST}\n{more}")
}

#[track_caller]
fn raises(plan: &str, code: Code, place: &str) {
    assert_eq!(faults(plan), [(code, place.to_owned())]);
}

#[test]
fn the_shipped_projects_are_sound() {
    let smallest = sound(SMALLEST, "");
    assert_eq!((smallest.supplies.len(), smallest.ply_plans.len()), (1, 1));
    // Its log is read together with it in the tests of the whole crate; here the check alone is asked.
    let pullover = sound(
        include_str!("../../projects/three-ply-pullover/plan.toml"),
        &SAMPLE.replace("date", "name = \"a\"\ndate"),
    );
    assert_eq!(pullover.supplies.iter().map(|supply| supply.weights.len()).collect::<Vec<_>>(), [5, 2]);
    assert_eq!(pullover.chosen().map(|sample| sample.name.as_str()), Some("a"));
    assert!(matches!(pullover.garments[0].fabric, Fabric::Shaped(_)));
    let waistcoat = sound(include_str!("../../projects/two-ply-waistcoat/plan.toml"), "");
    assert_eq!((waistcoat.garments[0].pieces.len(), waistcoat.trims.len()), (5, 1));
    assert!(waistcoat.wheel.draw.counts_treadles());
}

#[test]
fn what_is_left_out_is_listed_with_its_standing() {
    let smallest = sound(SMALLEST, "");
    for key in [
        "plan.units",
        "plan.paper",
        "plan.terms",
        "wheel.draw",
        "wheel.length-per-treadle",
        "yarn.angle",
        "yarn.waste",
        "ply-plan",
    ] {
        assert!(
            smallest.assumed.iter().any(|assumed| assumed.place.as_ref().is_some_and(|place| place.path == key)),
            "{key}"
        );
    }
    assert!(matches!(smallest.yarn.waste.origin, Origin::Default(..)));
    // A draw that lets yarn in at each treadle has no use for the draft.
    assert!(
        smallest.assumed.iter().all(|assumed| assumed.place.as_ref().is_none_or(|place| place.path != "wheel.draft"))
    );
}

#[test]
fn half_of_the_give_or_take_is_the_standard_uncertainty() {
    let plan = sound(&with("\"200 g\"", "\"200 ± 8 g\""), "");
    assert_eq!(plan.supplies[0].weights[0].uncertainty, 4.0);
    // Targets are exact unless they say otherwise.
    assert_eq!(plan.yarn.wraps.as_ref().map(|wraps| wraps.uncertainty), Some(0.0));
    assert!((plan.wheel.machine.whorls()[0].ratio.uncertainty - 6.0 * 0.08 / 2.0).abs() < 1e-12);
    let measured = sound(&with("\"6:1\"", "\"6:1 measured\""), "");
    assert!((measured.wheel.machine.whorls()[0].ratio.uncertainty - 6.0 * 0.02 / 2.0).abs() < 1e-12);
    assert_eq!(measured.wheel.machine.whorls()[0].ratio.origin, Origin::Measured);
}

#[test]
fn a_share_without_give_or_take_keeps_that_of_the_default() {
    let plan = sound(&and("waste = \"5 %\""), "");
    assert!((plan.yarn.waste.value - 0.05).abs() < 1e-12);
    assert!((plan.yarn.waste.uncertainty - 0.01).abs() < 1e-12);
}

#[test]
fn a_scale_step_is_the_last_digit_or_what_a_kitchen_scale_shows() {
    for (text, width) in [("200 g", 1.0), ("200.5 g", 0.1), ("0.2 kg", 1.0), ("7 oz", 2.8349523125)] {
        let plan = sound(&with("200 g", text), "");
        assert!((plan.supplies[0].weights[0].uncertainty - width / 2.0).abs() < 1e-9, "{text}");
    }
}

#[test]
fn a_grade_is_the_middle_of_its_range() {
    let plan = sound(&with("kind = \"wool\"", "kind = \"wool\"\ngrade = \"62s\""), "");
    let fineness = plan.fibres[0].fineness.as_ref().expect("a grade says the fineness");
    assert!((fineness.value - 22.77e-6).abs() < 1e-15);
    assert!((fineness.uncertainty - 0.36e-6).abs() < 1e-15);
}

#[test]
fn a_plan_in_inches_has_defaults_in_inches() {
    let plan = sound(&with("title = \"First yarn\"", "title = \"First yarn\"\nunits = \"imperial\""), "");
    assert!((plan.wheel.length_per_treadle.value - 0.0381).abs() < 1e-12);
    assert_eq!(plan.plying.arm.text, "24 in");
}

#[test]
fn what_cannot_be_left_out_is_asked_for() {
    raises(&with("title = \"First yarn\"", ""), Code::MissingKey, "plan.title");
    raises(&with("title = \"First yarn\"", "title = \" \""), Code::MissingKey, "plan.title");
    raises(&with("kind = \"wool\"", ""), Code::MissingKey, "fibre.corriedale.kind");
    raises(&with("weight = \"200 g\"", ""), Code::MissingKey, "fibre.corriedale.weight");
    raises(&with("whorls = { slow = \"6:1\", fast = \"8.5:1\" }", ""), Code::MissingKey, "wheel.whorls");
    raises(&with("plies = 2", ""), Code::MissingKey, "yarn.plies");
    raises(&with("wraps = \"10 wpi\"", ""), Code::MissingKey, "yarn");
    let of_nothing = faults("");
    let keys = ["plan.title", "fibre", "wheel.whorls", "yarn"].map(|key| (Code::MissingKey, key.to_owned()));
    assert_eq!(of_nothing, keys);
}

#[test]
fn weights_and_ratios_are_above_zero() {
    raises(&with("200 g", "0 g"), Code::NotPositive, "fibre.corriedale.weight");
    raises(&with("200 g", "-200 g"), Code::NotPositive, "fibre.corriedale.weight");
    raises(&with("6:1", "0:1"), Code::NotPositive, "wheel.whorls.slow");
    raises(&with("plies = 2", "plies = 0"), Code::NotPositive, "yarn.plies");
    raises(&with("plies = 2", "plies = -3"), Code::NotPositive, "yarn.plies");
}

#[test]
fn absurd_sizes_are_refused() {
    raises(&with("200 g", "1e300 g"), Code::Implausible, "fibre.corriedale.weight");
    raises(&with("200 g", "1e9 g"), Code::Implausible, "fibre.corriedale.weight");
    raises(&with("plies = 2", "plies = 200"), Code::Implausible, "yarn.plies");
    raises(&with("200 g", "200 ± 300 g"), Code::Implausible, "fibre.corriedale.weight");
    raises(&and("[braid.x]\ncount = 1000000000\nweight = \"100 g\""), Code::Implausible, "braid.x.count");
    raises(&with("8.5:1", "800:1"), Code::Implausible, "wheel.whorls.fast");
}

#[test]
fn a_construction_has_plies_of_its_own() {
    let made = |entries: &str| {
        let plan = sound(&with("plies = 2", entries), "");
        (plan.yarn.plies.value as usize, plan.bobbins_in_a_set(), plan.singles_across())
    };
    assert_eq!(made("plies = 4"), (4, 4, 4));
    assert_eq!(made("plies = 1"), (1, 1, 1));
    assert_eq!(made("ply-from = \"none\""), (1, 1, 1));
    assert_eq!(made("ply-from = \"chain\""), (3, 1, 3));
    assert_eq!(made("ply-from = \"both ends of a ball\""), (2, 1, 2));
    assert_eq!(made("plies = 2\ncabled = 3"), (2, 6, 6));
    raises(&with("plies = 2", "plies = 2\nply-from = \"chain\""), Code::Contradiction, "yarn.plies");
    raises(&with("plies = 2", "plies = 1\nply-from = \"bobbins\""), Code::Contradiction, "yarn.plies");
    raises(&with("plies = 2", "ply-from = \"chain\"\ncabled = 2"), Code::Contradiction, "yarn.cabled");
    raises(&with("plies = 2", "plies = 1\ncabled = 2"), Code::Contradiction, "yarn.plies");
}

#[test]
fn directions_follow_one_another_unless_the_plan_says_otherwise() {
    use crate::plan::Direction::{S, Z};
    let directions = |entries: &str| {
        let plan = sound(&with("plies = 2", entries), "");
        (plan.yarn.singles_twist, plan.yarn.plied_twist, plan.ply_direction())
    };
    assert_eq!(directions("plies = 2"), (Z, S, S));
    assert_eq!(directions("plies = 2\nsingles-twist = \"S\""), (S, Z, Z));
    assert_eq!(directions("plies = 2\ncabled = 2"), (Z, S, Z));
    assert_eq!(directions("ply-from = \"none\"\nsingles-twist = \"S\""), (S, S, S));
    raises(&with("plies = 2", "plies = 2\nplied-twist = \"Z\""), Code::DirectionsAlike, "yarn.plied-twist");
}

#[test]
fn units_are_asked_for_and_corrected() {
    raises(&with("200 g", "200"), Code::MissingUnit, "fibre.corriedale.weight");
    raises(&with("200 g", "200 grms"), Code::UnknownUnit, "fibre.corriedale.weight");
    raises(&with("200 g", "200 m"), Code::WrongKind, "fibre.corriedale.weight");
    raises(&with("200 g", "1,234 g"), Code::AmbiguousComma, "fibre.corriedale.weight");
    raises(&with("200 g", "plenty"), Code::NotANumber, "fibre.corriedale.weight");
    raises(&and("grist = \"2/24\""), Code::CountWithoutSystem, "yarn.grist");
}

#[test]
fn a_comma_is_read_and_said_to_be() {
    let (plan, faults) = check(&syntax(&with("8.5:1", "8,5:1"), ""));
    assert_eq!(faults.iter().map(|fault| fault.code).collect::<Vec<_>>(), [Code::CommaDecimal]);
    let plan = plan.expect("a warning does not forbid the plan");
    assert_eq!(plan.wheel.machine.whorls()[1].ratio.value, 8.5);
}

#[test]
fn names_are_found_or_their_nearest_is_offered() {
    raises(&and("[plying]\nwhorl = \"slwo\""), Code::UnknownName, "plying.whorl");
    let (_, faults) = check(&syntax(&and("[plying]\nwhorl = \"slwo\""), ""));
    assert_eq!(faults[0].help.as_deref(), Some("is \"slow\" meant?"));
    raises(&and("[braid.north]\nfibre = \"merino\"\nweight = \"100 g\""), Code::UnknownName, "braid.north.fibre");
    raises(
        &and("[[ply-plan]]\nplies = [{ braid = \"x\" }, { fibre = \"corriedale\" }]"),
        Code::UnknownName,
        "ply-plan[0].plies[0].braid",
    );
}

#[test]
fn names_that_climb_are_refused() {
    let plan = with("[fibre.corriedale]", "[fibre.\"../up\"]");
    raises(&plan, Code::UnusableName, "fibre.\"../up\"");
}

#[test]
fn one_lot_of_fibre_fills_all_plies_and_many_ask_for_a_plan() {
    let plan = sound(&with("weight = \"200 g\"", "\n[braid.a]\nweight = \"100 g\"\n[braid.b]\nweight = \"100 g\""), "");
    assert_eq!(plan.ply_plans[0].plies.iter().map(|ply| ply.lots[0]).collect::<Vec<_>>(), [0, 1]);
    let three = with(
        "weight = \"200 g\"",
        "\n[braid.a]\nweight = \"100 g\"\n[braid.b]\nweight = \"100 g\"\n[braid.c]\nweight = \"100 g\"",
    );
    raises(&three, Code::MissingKey, "yarn.plies");
}

#[test]
fn a_ply_finds_the_only_lot_of_its_fibre() {
    let one = with("weight = \"200 g\"", "\n[braid.a]\nweight = \"100 g\"\n");
    let plan = sound(&format!("{one}[[ply-plan]]\nplies = [{{ fibre = \"corriedale\" }}, {{ braid = \"a\" }}]"), "");
    assert_eq!(plan.ply_plans[0].plies.iter().map(|ply| ply.lots[0]).collect::<Vec<_>>(), [0, 0]);
    let two = with("weight = \"200 g\"", "\n[braid.a]\nweight = \"100 g\"\n[braid.b]\nweight = \"100 g\"\n");
    let two = format!("{two}[[ply-plan]]\nplies = [{{ fibre = \"corriedale\" }}, {{ braid = \"a\" }}]");
    raises(&two, Code::AmbiguousName, "ply-plan[0].plies[0].fibre");
}

/// A plan with ply plans of these shares.
fn shared(shares: &[&str]) -> String {
    let one = |(i, share): (usize, &&str)| {
        format!(
            "[[ply-plan]]\nname = \"n{i}\"\nshare = \"{share}\"\nplies = [{{ fibre = \"corriedale\" }}, {{ fibre = \"corriedale\" }}]\n"
        )
    };
    and(&shares.iter().enumerate().map(one).collect::<String>())
}

#[test]
fn shares_add_up() {
    let plan = sound(&shared(&["70 %", "rest"]), "");
    assert!((plan.ply_plans[1].share - 0.3).abs() < 1e-12);
    sound(&shared(&["33.3 %", "33.3 %", "33.3 %"]), "");
    raises(&shared(&["70 %", "40 %"]), Code::DoesNotAddUp, "ply-plan[1].share");
    raises(&shared(&["70 %", "20 %"]), Code::DoesNotAddUp, "ply-plan[1].share");
    raises(&shared(&["70 %", "rest", "rest"]), Code::DoesNotAddUp, "ply-plan[2].share");
    raises(&shared(&["100 %", "rest"]), Code::DoesNotAddUp, "ply-plan[1].share");
}

#[test]
fn parts_of_one_braid_are_at_most_the_braid() {
    let parts = |first: &str, second: &str| {
        and(&format!(
            "[[ply-plan]]\nplies = [{{ fibre = \"corriedale\", {first} }}, {{ fibre = \"corriedale\", {second} }}]"
        ))
    };
    let plan = sound(&parts("part = \"1/3\"", "part = \"2/3\""), "");
    assert_eq!(plan.ply_plans[0].plies[0].part.as_ref().map(|part| part.text.as_str()), Some("1/3"));
    raises(&parts("part = \"1/2\"", "part = \"2/3\""), Code::DoesNotAddUp, "ply-plan[0].plies[1].part");
    raises(&parts("part = \"100 %\"", "strips = 2"), Code::DoesNotAddUp, "ply-plan[0].plies[0].part");
}

#[test]
fn plies_of_a_plan_are_those_of_the_yarn() {
    let plan = and("[[ply-plan]]\nplies = [{ fibre = \"corriedale\" }]");
    raises(&plan, Code::PliesDiffer, "ply-plan[0].plies");
    raises(&and("[[ply-plan]]\nplies = []"), Code::MissingKey, "ply-plan[0].plies");
}

/// A plan with one braid of three, which says this as well.
fn braided(more: &str) -> String {
    and(&format!(
        "[colours]\nred = \"#AA0000\"\nblue = \"\"\n[[ply-plan]]\nplies = [{{ braid = \"north\" }}, {{ fibre = \"corriedale\" }}]\n[braid.north]\ncount = 3\nweight = \"100 g\"\n{more}"
    ))
}

#[test]
fn braids_hold_what_is_set_aside() {
    sound(&braided("for-sampling = \"braid 3\""), "");
    sound(&braided("for-sampling = \"30 g\""), "");
    for (text, code) in [
        ("braid 4", Code::MoreThanThereIs),
        ("braid 0", Code::MoreThanThereIs),
        ("300 g", Code::MoreThanThereIs),
        ("braid", Code::NotANumber),
    ] {
        raises(&braided(&format!("for-sampling = \"{text}\"")), code, "braid.north.for-sampling");
    }
}

#[test]
fn sections_reach_from_end_to_end() {
    let plan = sound(&braided("length = \"2 m\"\nsections = [[\"red\", \"1 m\"], [\"blue\", \"97 cm\"]]"), "");
    assert_eq!(plan.colours[0].hex.as_deref(), Some("#aa0000"));
    raises(
        &braided("length = \"2 m\"\nsections = [[\"red\", \"1 m\"], [\"blue\", \"80 cm\"]]"),
        Code::DoesNotAddUp,
        "braid.north.sections",
    );
    raises(
        &braided("length = \"2 m\"\nsections = [[\"red\", \"1 m\"], [\"green\", \"1 m\"]]"),
        Code::UnknownName,
        "braid.north.sections[1][0]",
    );
    let short = braided("sections = [[\"red\", \"1 m\"], [\"blue\", \"5 cm\"]]").replacen(
        "kind = \"wool\"",
        "kind = \"wool\"\nstaple = \"10 cm\"",
        1,
    );
    raises(&short, Code::ShortSection, "braid.north.sections[1][1]");
}

#[test]
fn said_twice_is_said_to_be() {
    raises(
        &with("kind = \"wool\"", "kind = \"wool\"\ngrade = \"62s\"\nfineness = \"23 micron\""),
        Code::Contradiction,
        "fibre.corriedale.grade",
    );
    raises(&and("ply-twist = \"3 / in\"\nangle = \"30 deg\""), Code::Contradiction, "yarn.angle");
    raises(&braided("weights = [\"1 oz\"]"), Code::Contradiction, "braid.north.count");
    raises(&and("[garment.hat]\nshape = \"hat\"\narea = \"0.1 m2\""), Code::Contradiction, "garment.hat.area");
    raises(&and("[garment.hat]\nlength = \"100 m\"\nhook = \"4 mm\""), Code::Contradiction, "garment.hat.hook");
    raises(&with("kind = \"wool\"", "kind = \"silk\"\ngrade = \"62s\""), Code::Contradiction, "fibre.corriedale.grade");
}

#[test]
fn words_that_no_table_knows_are_refused() {
    raises(&with("\"wool\"", "\"woool\""), Code::UnknownWord, "fibre.corriedale.kind");
    raises(&with("kind = \"wool\"", "kind = \"wool\"\ngrade = \"63s\""), Code::UnknownWord, "fibre.corriedale.grade");
    raises(&and("[colours]\nred = \"#12345\""), Code::NotATint, "colours.red");
}

#[test]
fn wraps_and_grist_are_of_one_yarn() {
    sound(&and("grist = \"800 yd/lb\""), "");
    for grist in ["3000 yd/lb", "100 yd/lb"] {
        let plan = and(&format!("grist = \"{grist}\""));
        raises(&plan, Code::WrapsAgainstGrist, "yarn.grist");
    }
    // K = 10 / √3000 = 0.183, below 0.25: at 3000 yd/lb, 0.25 √3000 = 13.7 wpi would do, and at 10 wpi, (10 / 0.25)² = 1600 yd/lb.
    let (_, faults) = check(&syntax(&and("grist = \"3000 yd/lb\""), ""));
    assert!(faults[0].notes[0].contains("0.183"), "{:?}", faults[0].notes);
    let help = faults[0].help.as_deref().unwrap_or_default();
    assert!(help.contains("at least 13.7 wpi") && help.contains("1600 yd/lb"), "{help}");
}

#[test]
fn a_garment_has_a_way_to_its_length() {
    let garment = |more: &str| and(&format!("[garment.hat]\n{more}"));
    raises(&garment("craft = \"knit\""), Code::NoWayToLength, "garment.hat");
    sound(&garment("area = \"0.1 m2\""), "");
    raises(
        &garment("area = \"0.1 m2\"\nstitch = \"slip-stitch check\"\ngauge = \"19 st, 30 rows / 10 cm\""),
        Code::StitchNeedsSwatch,
        "garment.hat.stitch",
    );
    raises(&garment("swatch = { size = \"15 x 15 cm\", weight = \"6 g\" }"), Code::MissingKey, "garment.hat.area");
    raises(
        &garment("area = \"0.1 m2\"\nswatch = { size = \"15 cm\", weight = \"6 g\" }"),
        Code::UnreadableMeasure,
        "garment.hat.swatch.size",
    );
    raises(
        &garment("area = \"0.1 m2\"\nswatch = { size = \"0 x 15 cm\", weight = \"6 g\" }"),
        Code::NotPositive,
        "garment.hat.swatch.size",
    );
    raises(&garment("length = \"100 m\"\ncraft = \"crochet\""), Code::MissingKey, "plan.terms");
    let crochet = garment("area = \"0.1 m2\"\ncraft = \"crochet\"\ngauge = \"14 st, 12 rows / 10 cm\"").replacen(
        "[fibre",
        "terms = \"UK\"\n[fibre",
        1,
    );
    raises(&crochet, Code::StitchNeedsSwatch, "garment.hat");
}

#[test]
fn rows_that_are_left_out_follow_from_the_stitches() {
    let of = |stitch: &str| {
        sound(&and(&format!("[garment.hat]\narea = \"0.1 m2\"\nstitch = \"{stitch}\"\ngauge = \"20 st / 10 cm\"")), "")
    };
    for (stitch, rows, text) in [
        ("stocking stitch", 270.0, "27.0 rows/10 cm"),
        ("Stockinette", 270.0, "27.0 rows/10 cm"),
        ("garter stitch", 400.0, "40.0 rows/10 cm"),
    ] {
        let plan = of(stitch);
        let (gauge, _) = plan.garments[0].gauge.as_ref().expect("the plan has a gauge");
        assert!((gauge.rows.value - rows).abs() < 1e-9, "{stitch}");
        assert_eq!(gauge.rows.text, text);
        assert_ne!(gauge.rows.place, gauge.stitches.place);
        assert!(matches!(gauge.rows.origin, Origin::Default(..)));
    }
}

const SAMPLE: &str = "[[sample]]\ndate = 2026-03-05\nchosen = true\nskein = { loops = 20, washed-loop = \"1.45 m\", weight = \"15.1 g\" }\n";

#[test]
fn a_chosen_sample_stands_for_wraps_and_gauge() {
    let log = format!("{SAMPLE}swatch = {{ gauge = \"20 st, 28 rows / 10 cm\" }}");
    let plan = sound(&with("wraps = \"10 wpi\"", "[garment.hat]\narea = \"0.1 m2\""), &log);
    let (gauge, _) = plan.garments[0].gauge.as_ref().expect("the gauge of the sample is taken");
    assert_eq!(gauge.stitches.origin, Origin::Measured);
    let log =
        format!("{SAMPLE}swatch = {{ gauge = \"20 st, 28 rows / 10 cm\", size = \"15 x 15 cm\", weight = \"6 g\" }}");
    let plan = sound(&and("[garment.hat]\narea = \"0.1 m2\""), &log);
    let size = &plan.garments[0].swatch.as_ref().expect("the swatch of the sample is taken").size;
    assert!((size.value - 0.0225).abs() < 1e-12);
    assert_eq!(size.text, "15 x 15 cm");
}

#[test]
fn samples_are_held_against_the_plan() {
    let log = |more: &str| faults_with_log(SMALLEST, &format!("[[sample]]\ndate = 2026-03-05\n{more}"));
    let one = |code: Code, place: &str| vec![(code, place.to_owned())];
    assert_eq!(log("whorl = \"midle\""), one(Code::UnknownName, "sample[0].whorl"));
    assert_eq!(log("chosen = true"), one(Code::EmptySample, "sample[0].chosen"));
    assert_eq!(log("skein = { loops = 20 }"), one(Code::MissingKey, "sample[0].skein.washed-loop"));
    assert_eq!(
        log("chosen = true\nskein = { plies = 3, wraps = [\"11 wpi\"] }"),
        one(Code::PliesDiffer, "sample[0].skein.plies")
    );
    assert_eq!(log("skein = { plies = 3, wraps = [\"11 wpi\"] }"), []);
    assert_eq!(log("skein = { wraps = [\"11 wpi\", \"0 wpi\"] }"), one(Code::NotPositive, "sample[0].skein.wraps[1]"));
    assert_eq!(faults_with_log(SMALLEST, "[[sample]]\nname = \"a\""), one(Code::MissingKey, "sample[0].date"));
    let twice = format!("{SAMPLE}{SAMPLE}");
    assert_eq!(faults_with_log(SMALLEST, &twice), one(Code::Contradiction, "sample[1].chosen"));
    let named = "[[sample]]\ndate = 2026-03-05\nname = \"a\"\n";
    assert_eq!(faults_with_log(SMALLEST, &format!("{named}{named}")), one(Code::DuplicateName, "sample[1].name"));
}

#[test]
fn beliefs_are_of_figures_and_can_be_read() {
    let plan = sound(&and("[[expect]]\nfigure = \"garment.hat.yarn\"\nis = \"1150 ± 100 m\""), "");
    assert!(plan.expects[0].readings.contains(&(crate::units::Kind::Length, 1150.0, 100.0)));
    raises(&and("[[expect]]\nfigure = \"grist\"\nis = \"1150 m\""), Code::UnusableName, "expect[0].figure");
    raises(&and("[[expect]]\nfigure = \"washed.grist\"\nis = \"much\""), Code::NotANumber, "expect[0].is");
    raises(&and("[[expect]]\nfigure = \"washed.grist\""), Code::MissingKey, "expect[0].is");
}

#[test]
fn entries_without_effect_are_said() {
    let plan = with("fast = \"8.5:1\" }", "fast = \"8.5:1\" }\ndraw = \"long draw\"\nlength-per-treadle = \"4 cm\"");
    raises(&plan, Code::Unused, "wheel.length-per-treadle");
    raises(&and("[fibre.silk]\nkind = \"silk\""), Code::Unused, "fibre.silk");
    raises(
        &and("[[ply-plan]]\nplies = [{ braid = \"a\" }, { braid = \"a\" }]\n[braid.a]\nweight = \"100 g\""),
        Code::Unused,
        "fibre.corriedale",
    );
}

#[test]
fn all_faults_are_found_in_one_run() {
    let plan = SMALLEST.replace("200 g", "200").replace("\"6:1\"", "\"six\"").replace("10 wpi", "10 cm");
    let codes: Vec<_> = faults_with_log(&plan, "[[sample]]\nwhorl = \"x\"").into_iter().map(|(code, _)| code).collect();
    assert_eq!(codes, [Code::MissingUnit, Code::NotANumber, Code::WrongKind, Code::MissingKey, Code::UnknownName]);
}
