//! Yarn in a fabric against swatches that were weighed or unravelled, patterns that say what they take, crochet, cloth, and gauge
//! against grist.
//!
//! Published craft articles are named by nothing but what they measured. What was read, derived or recalled is said of each.

use std::collections::BTreeMap;

use wheelsheet::figures::garment;
use wheelsheet::units::{Area, Firmness, Kind, Length, LinearDensity, Mass, Rows, Share, Stitches, parse};

use super::ledgers::{Worked, nineteen_in_twenty, written, written_with_log};
use super::{assert_close, assert_printed, half_of_the_last_digit, is_in, number, of, reached, rows};

pub(crate) const INCH: f64 = 0.0254;
pub(crate) const YARD: f64 = 0.9144;

/// A plan of garments from a yarn of this grist, in words of the United States.
pub(crate) fn plan_of(grist: &str, garments: &str) -> String {
    format!(
        "[plan]\ntitle = \"Garments\"\nterms = \"US\"\n[fibre.wool]\nkind = \"wool\"\nweight = \"300 g\"\n\
         [wheel]\nwhorls = {{ one = \"9:1\", two = \"16:1\", three = \"24:1\" }}\n\
         [yarn]\nplies = 2\ngrist = \"{grist}\"\n{garments}"
    )
}

/// The ledger of garments from a yarn of 1000 yd/lb.
pub(crate) fn made(garments: &str) -> Worked {
    written(&plan_of("1000 yd/lb", garments))
}

/// A figure of a garment, below its name.
pub(crate) fn figure(worked: &Worked, garment: &str, what: &str) -> f64 {
    worked.value(&format!("garment.{garment}.{what}"))
}

pub(crate) fn yards(worked: &Worked, garment: &str) -> f64 {
    figure(worked, garment, "yarn") / YARD
}

/// That a number rounds to the digits printed, with its sign.
pub(crate) fn assert_digits(got: f64, printed: &str, of: &str) {
    let value: f64 = printed.parse().unwrap_or_else(|error| panic!("{printed}: {error}"));
    let room = half_of_the_last_digit(printed) * (1.0 + 1e-9);
    assert!((got - value).abs() <= room, "{of}: printed {printed}, got {got}");
}

fn value(row: &BTreeMap<String, String>, column: &str) -> f64 {
    parse(&row[column], Kind::Count).unwrap_or_else(|error| panic!("{column}: {error}")).value
}

/// Yards in so many stitches whose loops are of one gauge to the inch and one constant: an area at that gauge.
fn yards_of(constant: f64, (stitches, rows): (f64, f64), worked: f64) -> f64 {
    let per_area = reached(garment::yarn_per_area(
        &number(constant),
        &of::<Stitches>(&format!("{stitches} st/in")),
        &of::<Rows>(&format!("{rows} rows/in")),
        &number(1.0),
    ));
    is_in(&per_area, "yd/in²") * worked / (stitches * rows)
}

fn per_cent(got: f64, of: f64) -> f64 {
    100.0 * (got / of - 1.0)
}

/// The constant for hand knitting, and that of wet-relaxed machine knitting, which is from memory.
const CONSTANTS: [(&str, f64); 2] = [("central", 17.5), ("munden", 21.6)];

#[test]
fn swatches_take_the_yarn_printed_by_either_constant() {
    for row in rows(include_str!("../reference/knitted-swatches.csv")) {
        let of = |column: &str| value(&row, column);
        let name = &row["swatch"];
        let worked = of("stitches") * of("rows");
        let gauge = (of("stitches") / of("width"), of("rows") / of("height"));
        for (column, constant) in CONSTANTS {
            let got = yards_of(constant, gauge, worked);
            assert_digits(got, &row[column], name);
            assert_digits(per_cent(got, of("yards")), &row[&format!("{column}_error")], &format!("{name}, error"));
        }
        // The constant that a swatch has makes its own yarn of its gauge, as near as that constant is printed.
        assert_close(yards_of(of("loops"), gauge, worked), of("yards"), 0.05 / of("loops"), name);
        let size = number::<Area>(of("width") * of("height") * INCH * INCH);
        let by_length = reached(garment::per_area_by_length(&number::<Length>(of("yards") * YARD), &size));
        if !row["per_area"].is_empty() {
            assert_digits(is_in(&by_length, "yd/in²"), &row["per_area"], &format!("{name}, by its area"));
        }
    }
}

/// The same swatches through whole plans that know nothing but their size and their gauge: what was measured lies between the bounds that
/// hold nineteen times in twenty, of each of the six.
#[test]
fn swatches_lie_within_the_give_or_take_of_their_gauge() {
    let mut beyond = Vec::new();
    for row in rows(include_str!("../reference/knitted-swatches.csv")) {
        let of = |column: &str| value(&row, column);
        let (width, height) = (of("width"), of("height"));
        let worked = made(&format!(
            "[garment.swatch]\narea = \"{} ± 0.000001 in2\"\ngauge = \"{:.9} ± 0.000001 st, {:.9} ± 0.000001 rows / in\"\n",
            width * height,
            of("stitches") / width,
            of("rows") / height
        ));
        let (least, most) = nineteen_in_twenty(worked.node("garment.swatch.yarn"));
        if !(least..most).contains(&(of("yards") * YARD)) {
            beyond.push(format!(
                "{}: {} yd, not {:.1} to {:.1}",
                row["swatch"],
                of("yards"),
                least / YARD,
                most / YARD
            ));
        }
    }
    assert_eq!(beyond, Vec::<String>::new());
}

/// The kitchen scale's nine grams at 120 yd to 100 g are the 10.8 yd of the row T1.
#[test]
fn a_swatch_on_a_kitchen_scale_is_as_long_by_weight() {
    let (size, tex) = (of::<Area>("27.3125 in²"), of::<LinearDensity>("120 yd/100 g"));
    let per_area = reached(garment::per_area_by_weight(&of::<Mass>("9 g"), &size, &tex));
    assert_printed(is_in(&per_area, "yd/in²") * 27.3125, "10.8", "yards");
}

/// Over the six rows shown (derived): hand knitting is met within 2 % on average and 7.4 % at a time; the constant of machines is a
/// seventh too much, and never short by more than nothing.
#[test]
fn the_constant_of_hand_knitting_is_in_the_middle_and_that_of_machines_is_safe() {
    let table = rows(include_str!("../reference/knitted-swatches.csv"));
    let [central, munden] = CONSTANTS.map(|(_, constant)| {
        let errors = table.iter().map(|row| {
            let of = |column: &str| value(row, column);
            let gauge = (of("stitches") / of("width"), of("rows") / of("height"));
            per_cent(yards_of(constant, gauge, of("stitches") * of("rows")), of("yards"))
        });
        errors.collect::<Vec<f64>>()
    });
    let mean = |errors: &[f64]| errors.iter().sum::<f64>() / errors.len() as f64;
    let root_mean_square =
        |errors: &[f64]| (errors.iter().map(|error| error * error).sum::<f64>() / errors.len() as f64).sqrt();
    assert_digits(mean(&central), "2.3", "central, mean");
    assert_digits(root_mean_square(&central), "7.4", "central, root mean square");
    assert_digits(mean(&munden), "13.6", "of machines, mean");
    assert_digits(root_mean_square(&munden), "15.7", "of machines, root mean square");
    assert!(munden.iter().all(|error| *error > 0.0), "{munden:?}");
}

#[test]
fn old_patterns_take_the_yarn_printed_by_either_constant() {
    for row in rows(include_str!("../reference/knitted-patterns.csv")) {
        let of = |column: &str| value(&row, column);
        let name = &row["pattern"];
        let times = if row["loops"] == "garter" { 1.4 } else { 1.0 };
        let room = row["room"].parse().unwrap_or(0.0) / 100.0;
        let mut central = f64::NAN;
        for (column, constant) in CONSTANTS.into_iter().rev() {
            let got = yards_of(times * constant, (of("gauge"), of("rows")), of("stitches"));
            let error = per_cent(got, of("stated"));
            let printed: f64 = row[&format!("{column}_error")].parse().expect("a number");
            if room > 0.0 {
                assert_close(got, of(column), room, name);
                assert!((error - printed).abs() < 1.5, "{name}: printed {printed}, got {error}");
            } else {
                assert_digits(got, &row[column], name);
                assert_digits(error, &row[&format!("{column}_error")], &format!("{name}, error"));
            }
            central = got;
        }
        for implied in row["grists"].split(' ') {
            let (ounces, grist) = implied.split_once(':').expect("ounces and yards to the pound");
            let [ounces, grist]: [f64; 2] = [ounces, grist].map(|text| text.parse().expect("a number"));
            // Areas and yards are printed whole, so the last digit of what they lead to may be off by one.
            assert!((16.0 * central / ounces - grist).abs() < 1.0 + room * grist, "{name}: {implied}");
        }
    }
}

/// Stated over reckoned yarn of the rows shown (derived): 0.96 at the least and 1.32 at the most, the latter of a rib that asks for
/// its multiplier; a tenth more is the mean, and a quarter more is enough for all the others.
#[test]
fn patterns_state_a_tenth_more_than_they_take() {
    let table = rows(include_str!("../reference/knitted-patterns.csv"));
    let ratio = |row: &BTreeMap<String, String>| {
        let times = if row["loops"] == "garter" { 1.4 } else { 1.0 };
        value(row, "stated") / yards_of(17.5 * times, (value(row, "gauge"), value(row, "rows")), value(row, "stitches"))
    };
    let ratios: Vec<(&str, f64)> = table.iter().map(|row| (row["pattern"].as_str(), ratio(row))).collect();
    let least = ratios.iter().map(|(_, ratio)| *ratio).fold(f64::INFINITY, f64::min);
    let most = ratios.iter().map(|(_, ratio)| *ratio).fold(0.0, f64::max);
    assert_digits(least, "0.96", "least");
    assert_digits(most, "1.32", "most");
    let mean = ratios.iter().map(|(_, ratio)| ratio).sum::<f64>() / ratios.len() as f64;
    // Nine patterns have 1.09, with a standard error of 0.04; six of them are here.
    assert!((mean - 1.09).abs() < 0.04, "{mean}");
    let beyond: Vec<&str> = ratios.iter().filter(|(_, ratio)| *ratio > 1.25).map(|(name, _)| *name).collect();
    assert_eq!(beyond, ["F"], "and F is a rib");
}

/// The one pattern that states yards, through a whole plan: a scarf with a piece of another stitch. The plan takes the rib by the loop
/// of stocking stitch, 0.72 in and not 0.70, and comes to 252 yd where the row A has 250 (derived).
#[test]
fn a_scarf_of_two_stitches_is_a_whole_plan() {
    let scarf = "[garment.scarf]\nstitch = \"garter stitch\"\ngauge = \"5 st, 10 rows / in\"\n\
        piece.ends = { width = \"6.4 in\", length = \"14 in\", count = 2 }\n\
        [garment.middle]\ngauge = \"5 st, 6.75 rows / in\"\npiece.rib = { width = \"6.4 in\", length = \"18 in\" }\n";
    let worked = made(scarf);
    let got = yards(&worked, "scarf") + yards(&worked, "middle");
    assert_digits(got, "252", "in all");
    assert_digits(per_cent(got, 300.0), "-16", "against what is stated");
}

/// B. Thompson, *Rake Knitting Patterns*, 1923: one shawl takes 16 to 18 oz of fourfold yarn and 7 to 8 oz of twofold, 2.3 times as
/// much by their middles. At one gauge weight goes with grist, so that twice the folds are twice the weight, within an eighth of it.
#[test]
fn at_one_gauge_weight_goes_with_grist() {
    let shawl = "[garment.shawl]\narea = \"1 m2\"\ngauge = \"5 st, 7 rows / in\"\n";
    let weight = |grist: &str| figure(&written(&plan_of(grist, shawl)), "shawl", "weight");
    let times = weight("1000 yd/lb") / weight("2000 yd/lb");
    assert_close(times, 2.0, 1e-9, "twice the folds");
    assert_close(17.0 / 7.5, times, 0.14, "the book");
}

/// A whole plan of crochet: 20 stitches by 20 rows of a chunky yarn, weighed (published craft article; its 120 yd to 100 g from
/// memory). Single crochet holds 2.05 in a stitch, 6.6 times its width, half double 3.02 in or 9.0 times (derived): within 0.6 per
/// cent of what was weighed, as the lengths are from these swatches. By weight they are as long whatever the loops.
#[test]
fn crochet_by_its_gauge_is_as_long_as_the_swatches_weighed() {
    for (stitch, width, height, grams, inches) in
        [("single crochet", 6.25, 5.75, 19.0, "2.05"), ("half double crochet", 6.75, 9.25, 28.0, "3.02")]
    {
        let said = format!("craft = \"crochet\"\nstitch = \"{stitch}\"\narea = \"{} in2\"\n", width * height);
        let gauge = format!("gauge = \"{:.9} st, {:.9} rows / in\"\n", 20.0 / width, 20.0 / height);
        let swatch = format!("swatch = {{ size = \"{width} x {height} in\", weight = \"{grams} g\" }}\n");
        let worked = written(&plan_of(
            "120 yd/100 g",
            &format!("[garment.counted]\n{said}{gauge}[garment.weighed]\n{said}{swatch}"),
        ));
        let weighed = 1.2 * grams;
        assert_close(yards(&worked, "weighed"), weighed, 1e-9, stitch);
        assert_close(yards(&worked, "counted"), weighed, 0.006, stitch);
        assert_digits(36.0 * weighed / 400.0, inches, stitch);
    }
}

/// Rows and squares of worsted-weight crochet, unravelled (published craft article, which tells no gauge: 3.5 stitches to the inch are
/// taken). Inches of yarn to an inch of one row: the errors of the model are -18 to +20 %, as it was made of a chunky yarn. So its ±
/// is 30 %, and holds them.
#[test]
fn crochet_of_another_yarn_is_within_the_give_or_take() {
    let rows_of = [
        ("single crochet", 5.5, "20"),
        ("single crochet", 785.5 / 25.0 / 4.13, "-13"),
        ("half double crochet", 10.6, "-15"),
        ("double crochet", 15.3, "-18"),
    ];
    for (stitch, measured, error) in rows_of {
        let plan = format!(
            "[garment.row]\ncraft = \"crochet\"\nstitch = \"{stitch}\"\narea = \"10 ± 0.000001 in2\"\n\
             gauge = \"3.5 ± 0.000001 st, 1 ± 0.000001 rows / in\"\n"
        );
        let worked = made(&plan);
        let got = figure(&worked, "row", "yarn") / INCH / 10.0;
        assert_digits(per_cent(got, measured), error, stitch);
        let (least, most) = nineteen_in_twenty(worked.node("garment.row.yarn"));
        let measured = 10.0 * measured * INCH;
        assert!((least..most).contains(&measured), "{stitch}: {least} to {most}");
    }
}

/// Each stitch against stocking stitch of the same yarn at its usual gauge, through whole plans by the grist alone: what the ledger
/// takes lies within the measurements, and its give-or-take holds all of them.
#[test]
fn stitches_take_of_stocking_stitch_what_was_measured() {
    let table = rows(include_str!("../reference/fabric-multipliers.csv"));
    for stitch in
        ["garter stitch", "single crochet", "half double crochet", "double crochet", "treble crochet", "mistake rib"]
    {
        let craft = if stitch.contains("crochet") { "crochet" } else { "knit" };
        let worked = made(&format!(
            "[garment.plain]\narea = \"1 m2\"\n[garment.other]\ncraft = \"{craft}\"\nstitch = \"{stitch}\"\narea = \"1 m2\"\n"
        ));
        let times = yards(&worked, "other") / yards(&worked, "plain");
        let key =
            wheelsheet::plan::stitch::STITCHES.iter().find(|known| known.us[0] == stitch).expect("a known stitch");
        assert_close(times, key.times, 1e-9, stitch);
        let found: Vec<f64> = table.iter().filter(|row| row["stitch"] == stitch).map(measured_times).collect();
        for measured in &found {
            assert!(
                (measured - times).abs() < key.give_or_take,
                "{stitch}: {times} ± {}, measured {measured}",
                key.give_or_take
            );
        }
        let most = found.iter().copied().fold(0.0, f64::max);
        let least = found.iter().copied().fold(f64::INFINITY, f64::min);
        // One measurement alone stands for nothing: treble crochet is taken at 1.10, and 1.07 was measured.
        assert!(found.len() == 1 || (least..=most).contains(&times), "{stitch}: {least} to {most}");
    }
}

/// A row of the table of multipliers, whose quotient is as printed: rounded, or cut off.
fn measured_times(row: &BTreeMap<String, String>) -> f64 {
    let of = |column: &str| value(row, column);
    let times = of("yarn") / of("area") / (of("plain_yarn") / of("plain_area"));
    let printed = of("printed");
    assert!((printed - 0.005 - 1e-9..printed + 0.01).contains(&times), "{row:?}: {times}");
    times
}

/// The swatch of a sample is of stocking stitch; a garment of another stitch takes so many times as much. By the chunky swatches of
/// one article (read): 9 g of stocking stitch tell 16.6 g of single crochet, and 19 were weighed (-13 %); 28.3 g of half double, and
/// 28 were weighed; 8.6 g of garter stitch, and 9 were weighed (errors derived).
#[test]
fn a_swatch_in_stocking_stitch_tells_other_stitches() {
    let log = "[[sample]]\nname = \"chunky\"\ndate = 2026-03-05\nskein = { loops = 20, washed-loop = \"1.5 m\", weight = \"27.3 g\" }\n\
        swatch = { size = \"5.75 x 4.75 in\", weight = \"9 g\" }\nchosen = true\n";
    for (stitch, area, weighed, error) in [
        ("garter stitch", 5.75 * 3.25, 9.0, "-4"),
        ("single crochet", 6.25 * 5.75, 19.0, "-13"),
        ("half double crochet", 6.75 * 9.25, 28.0, "1"),
    ] {
        let craft = if stitch.contains("crochet") { "crochet" } else { "knit" };
        let garment = format!("[garment.other]\ncraft = \"{craft}\"\nstitch = \"{stitch}\"\narea = \"{area} in2\"\n");
        let worked = written_with_log(&plan_of("120 yd/100 g", &garment), log);
        let grams = figure(&worked, "other", "weight");
        assert_digits(per_cent(grams, weighed), error, stitch);
    }
}

/// A scarf off the loom, worked out in published weaving notes' formulas (derived to the digit): 8 by 66 in finished, 10 % shorter and
/// narrower, draw-in and take-up 8 %, ten ends and picks to the inch, 6 in of fringe at each end and 24 in of waste.
#[test]
fn a_warp_is_worked_to_the_digit() {
    let loom = "sett = \"10 epi\", picks = \"10 ppi\", take-up = \"8 %\", weft-take-up = \"8 %\", draw-in = \"8 %\", \
        length-shrinks = \"10 %\", width-shrinks = \"10 %\", fringe = \"6 in\", waste = \"24 in\"";
    let worked = made(&format!(
        "[garment.scarf]\ncraft = \"weave\"\nshape = \"scarf\"\nmeasures = {{ width = \"8 in\", length = \"66 in\" }}\nloom = {{ {loom} }}\n"
    ));
    let inches = |what: &str| figure(&worked, "scarf", what) / INCH;
    assert_digits(inches("woven-length"), "73.3", "length on the loom");
    assert_digits(inches("warp-length"), "115.2", "length of the warp");
    assert_digits(inches("reed-width"), "9.66", "width in the reed");
    assert_digits(figure(&worked, "scarf", "ends"), "97", "ends");
    assert_digits(inches("warp.yarn") / 36.0, "310", "warp");
    assert_digits(inches("weft.yarn") / 36.0, "213", "weft");
    assert_digits(yards(&worked, "scarf"), "523", "in all");
}

/// Published weaving notes: ten inches on the loom that become eight have shrunk by 20 %. So eight finished ask for ten, and not for
/// the 9.6 that a fifth more would give. Two cloths on one warp share what is left on the loom.
#[test]
fn a_cloth_is_woven_longer_by_what_is_left_and_not_by_what_is_lost() {
    let cloth = |count: usize| {
        let worked = made(&format!(
            "[garment.towel]\ncraft = \"weave\"\nused-as = \"warp\"\nmeasures = {{ width = \"8 in\", length = \"8 in\" }}\n\
             loom = {{ sett = \"10 epi\", take-up = \"0 %\", draw-in = \"0 %\", length-shrinks = \"20 %\", width-shrinks = \"20 %\", \
             waste = \"27 in\", count = {count} }}\n"
        ));
        ["woven-length", "woven-width", "warp-length"].map(|what| figure(&worked, "towel", what) / INCH)
    };
    let [length, width, warp] = cloth(1);
    assert_close(length, 10.0, 1e-12, "length");
    assert_close(width, 10.0, 1e-12, "width");
    assert_close(warp, 37.0, 1e-12, "warp of one");
    assert_close(cloth(2)[2], 47.0, 1e-12, "warp of two");
}

/// Constant cover (derived from a handspinners' table and one swatch, at a firmness of 0.149): 1000 yd/lb are knitted at 4.7 stitches to
/// the inch, 1500 at 5.8, 2150 at 6.9; 544 at 3.48, which is what the chunky swatch has, measured. What a plan expects of such a yarn
/// holds them.
#[test]
fn finer_yarn_is_knitted_at_more_stitches() {
    let firmness = of::<Firmness>("0.149 st/in/√(yd/lb)");
    for (grist, printed) in [(1000, "4.7"), (1500, "5.8"), (2150, "6.9"), (544, "3.48")] {
        let grist = format!("{grist} yd/lb");
        let stitches = reached(garment::stitches_by_grist(&firmness, &of::<LinearDensity>(&grist)));
        assert_digits(is_in(&stitches, "st/in"), printed, &grist);
        let worked = written(&plan_of(&grist, "[garment.shawl]\narea = \"1 m2\"\n"));
        let (least, most) = nineteen_in_twenty(worked.node("gauge.stitches"));
        assert!((least..most).contains(&stitches.value()), "{grist}: {least} to {most}");
    }
}

/// A handspinners' table in a published craft article (read): stitches to the inch and yards to the pound of five kinds of yarn. The
/// firmness of their middles lies within the give-or-take of ours; ours is at the firm end, and bulky yarn is worked looser (derived).
#[test]
fn a_handspinners_table_is_within_the_usual_firmness() {
    let worked = made("[garment.shawl]\narea = \"1 m2\"\n");
    let stitches = worked.node("gauge.stitches");
    let (least, most) = nineteen_in_twenty(stitches);
    let root = 1000f64.sqrt();
    for (gauge, grist, firmness) in [
        (7.0, 2150.0, "0.151"),
        (5.5, 1500.0, "0.142"),
        (4.5, 1050.0, "0.139"),
        (3.5, 700.0, "0.132"),
        (2.5, 450.0, "0.118"),
    ] {
        let found: f64 = gauge / f64::sqrt(grist);
        assert_digits(found, firmness, "of the table");
        assert!((least * INCH / root..most * INCH / root).contains(&found), "{grist} yd/lb at {gauge}: {found}");
    }
}

/// A body of 200 stitches at 5 to the inch, planned at 1000 yd/lb (derived): how far around it comes by the power of grist. In a
/// ledger this stands inside of another figure, which the plan below reads.
#[test]
fn another_grist_makes_another_size() {
    let table = [(1100.0, ["39.6", "38.9", "38.1"]), (900.0, ["40.4", "41.3", "42.2"])];
    for (grist, sizes) in table {
        for (power, printed) in [0.1, 0.3, 0.5].into_iter().zip(sizes) {
            let wider = garment::wider(&number::<Share>(1000.0 / grist), &number(power));
            assert_digits(40.0 * wider.value(), printed, &format!("{grist} yd/lb to the {power}"));
        }
    }
    let stitches = garment::stitches_in(&of::<Length>("40 in"), &of::<Stitches>("5 st/in"));
    assert_close(stitches.value(), 200.0, 1e-12, "stitches");
    // A quarter of a stitch more to the inch takes 40 in to 38.1, half a stitch to 36.4.
    for (gauge, printed) in [(5.25, "38.1"), (5.5, "36.4")] {
        assert_digits(stitches.value() / gauge, printed, "a slip of the gauge");
    }
}

/// The same through a whole plan, where the power is the middle one: 38.9 in and 41.3; the finer yarn weighs 11.6 % less (derived; the
/// last digit is cut off).
#[test]
fn a_plan_tells_the_size_of_a_tenth_finer_and_heavier() {
    let worked = made(
        "[garment.body]\ngauge = \"5 st, 6.75 rows / in\"\nshape = \"raglan pullover\"\n\
         body = { whom = \"woman\", size = \"M\" }\nmeasures = { chest = \"40 in\" }\n",
    );
    let body = |what: &str| figure(&worked, "body", what);
    assert_digits(body("size-if-finer") / INCH, "38.9", "a tenth finer");
    assert_digits(body("size-if-heavier") / INCH, "41.3", "a tenth heavier");
    let lighter = -per_cent(body("weight-if-finer"), body("weight"));
    assert!((11.6..11.7).contains(&lighter), "{lighter}");
    assert_close(worked.value("grist.finer"), of::<LinearDensity>("1100 yd/lb").value().recip(), 1e-9, "grist");
}
