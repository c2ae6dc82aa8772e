//! The units against the world outside: two unit programs, worked examples of old books, a crate of units, and random text.
//!
//! Values and sources are in `tests/reference/units-*.csv`; `units.py` beside them asks the two programs again.

#[path = "units_random.rs"]
mod random;

use std::collections::BTreeMap;
use wheelsheet::units::{
    Kind, Parsed, Unit, UnitError, convert, format, parse, parse_any, parse_gauge, parse_size, table, unit,
};

/// One part in a thousand million: the references print ten digits.
const PRINTED_DIGITS: f64 = 1e-9;

/// Rows of a reference table, by the names in its head.
fn rows(text: &str) -> Vec<BTreeMap<String, String>> {
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
    let rows: Vec<_> = reader.deserialize().collect::<Result<_, _>>().expect("the table is well formed");
    assert!(!rows.is_empty(), "the table has rows");
    rows
}

fn assert_close(got: f64, expected: f64, tolerance: f64, of: &str) {
    let error = if expected == 0.0 { got.abs() } else { (got / expected - 1.0).abs() };
    assert!(error <= tolerance, "{of}: expected {expected}, got {got}, relative error {error:e}");
}

fn read_any(text: &str) -> Parsed {
    parse_any(text).into_iter().next().unwrap_or_else(|| panic!("{text} is no quantity"))
}

fn unit_of(kind: Kind, symbol: &str) -> &'static Unit {
    let kinds = [Some(kind), kind.reciprocal()].into_iter().flatten();
    kinds.into_iter().find_map(|kind| unit(kind, symbol)).unwrap_or_else(|| panic!("{symbol} is no unit of {kind:?}"))
}

fn check_conversions(table: &str) {
    for row in rows(table) {
        let of = format!("{} {} in {}", row["number"], row["unit"], row["into"]);
        let have = read_any(&format!("{} {}", row["number"], row["unit"]));
        let got = have.in_unit(unit_of(have.kind, &row["into"]));
        let text = &convert(&have.text, Some(&row["into"])).expect(&of)[0].number;
        for source in ["gnu-units-2.22", "pint-0.25.3"] {
            let expected: f64 = row[source].parse().expect("a number");
            assert_close(got, expected, PRINTED_DIGITS, &format!("{of} ({source})"));
            assert_eq!(text.parse::<f64>().expect("a number"), expected, "{of} as printed by `convert` ({source})");
        }
    }
}

#[test]
fn conversions_agree_with_two_unit_programs() {
    check_conversions(include_str!("../reference/units-conversions.csv"));
}

#[test]
fn twist_factors_agree_with_two_unit_programs() {
    check_conversions(include_str!("../reference/units-twist-factors.csv"));
}

#[test]
fn every_unit_is_checked_against_a_source_outside() {
    let tables =
        [include_str!("../reference/units-conversions.csv"), include_str!("../reference/units-twist-factors.csv")];
    let asked: Vec<_> =
        tables.into_iter().flat_map(rows).flat_map(|row| [row["unit"].clone(), row["into"].clone()]).collect();
    // Numbers of things, ratios and money have no factor; temperatures are checked against uom, loft and firmness against their definition beside
    // their table, and a share is a hundredth by its name.
    let without = [Kind::Count, Kind::Ratio, Kind::Money, Kind::Temperature, Kind::Loft, Kind::Firmness, Kind::Share];
    for kind in Kind::ALL.into_iter().filter(|kind| !without.contains(kind)) {
        for unit in table(kind).iter().filter(|unit| unit.factor != 1.0) {
            assert!(asked.iter().any(|symbol| symbol == unit.symbol), "no row asks for {}", unit.symbol);
        }
    }
}

/// The third of length, weight and count from the other two, in the unit asked for.
fn worked_out(row: &BTreeMap<String, String>) -> f64 {
    let read = |name: &str, kind: Kind| {
        let text = row[name].as_str();
        (!text.is_empty()).then(|| parse(text, kind).unwrap_or_else(|error| panic!("{text}: {error}")))
    };
    let (length, weight, count) =
        (read("length", Kind::Length), read("weight", Kind::Mass), read("count", Kind::Yield));
    match (length, weight, count) {
        (Some(length), Some(weight), None) => {
            unit_of(Kind::Yield, &row["asked"]).from_base(length.value / weight.value)
        }
        (Some(length), None, Some(count)) => unit_of(Kind::Mass, &row["asked"]).from_base(length.value / count.value),
        (None, Some(weight), Some(count)) => unit_of(Kind::Length, &row["asked"]).from_base(weight.value * count.value),
        (None, None, Some(count)) => count.in_unit(unit_of(Kind::Yield, &row["asked"])),
        _ => panic!("a worked example gives two of three, or a count"),
    }
}

#[test]
fn worked_examples_come_out_as_printed() {
    for row in rows(include_str!("../reference/units-worked-examples.csv")) {
        let of = format!("{}, in {}", row["source"], row["asked"]);
        let got = worked_out(&row);
        assert_close(got, row["exact"].parse().expect("a number"), 1e-6, &of);
        if row["printed"].contains('/') {
            let printed = parse(&row["printed"], Kind::Count).expect("a number with a fraction");
            assert_close(got, printed.value, 1e-12, &of);
            continue;
        }
        let places = row["printed"].split_once('.').map_or(0, |(_, after)| after.len() as u32);
        let text = match row["rounding"].as_str() {
            "rounded" => format::decimals(got, places),
            "cut" => format::decimals(got, places + 4)[..row["printed"].len()].to_owned(),
            other => panic!("{of}: {other} is no way of rounding"),
        };
        assert_eq!(text, row["printed"], "{of}");
    }
}

/// One of a unit in its base unit, as `uom` 0.38 has it.
macro_rules! uom_base {
    ($quantity:ident, $module:ident, $unit:ident, $base:ident) => {
        uom::si::f64::$quantity::new::<uom::si::$module::$unit>(1.0).get::<uom::si::$module::$base>()
    };
}

#[test]
fn factors_agree_with_an_independent_crate() {
    // uom rounds the pound and the ounce to seven digits; everything else is exact there.
    let (exact, seven_digits) = (1e-15, 2e-7);
    let expected = [
        (Kind::Length, "km", uom_base!(Length, length, kilometer, meter), exact),
        (Kind::Length, "m", uom_base!(Length, length, meter, meter), exact),
        (Kind::Length, "cm", uom_base!(Length, length, centimeter, meter), exact),
        (Kind::Length, "mm", uom_base!(Length, length, millimeter, meter), exact),
        (Kind::Length, "in", uom_base!(Length, length, inch, meter), exact),
        (Kind::Length, "ft", uom_base!(Length, length, foot, meter), exact),
        (Kind::Length, "yd", uom_base!(Length, length, yard, meter), exact),
        (Kind::FibreDiameter, "micron", uom_base!(Length, length, micron, meter), exact),
        (Kind::FibreDiameter, "µm", uom_base!(Length, length, micrometer, meter), exact),
        (Kind::Area, "cm²", uom_base!(Area, area, square_centimeter, square_meter), exact),
        (Kind::Area, "mm²", uom_base!(Area, area, square_millimeter, square_meter), exact),
        (Kind::Area, "µm²", uom_base!(Area, area, square_micrometer, square_meter), exact),
        (Kind::Area, "in²", uom_base!(Area, area, square_inch, square_meter), exact),
        (Kind::Area, "ft²", uom_base!(Area, area, square_foot, square_meter), exact),
        (Kind::Area, "yd²", uom_base!(Area, area, square_yard, square_meter), exact),
        (Kind::Mass, "kg", uom_base!(Mass, mass, kilogram, gram), exact),
        (Kind::Mass, "g", uom_base!(Mass, mass, gram, gram), exact),
        (Kind::Mass, "mg", uom_base!(Mass, mass, milligram, gram), exact),
        (Kind::Mass, "gr", uom_base!(Mass, mass, grain, gram), exact),
        (Kind::Mass, "oz", uom_base!(Mass, mass, ounce, gram), seven_digits),
        (Kind::Mass, "lb", uom_base!(Mass, mass, pound, gram), seven_digits),
        (Kind::Angle, "°", uom_base!(Angle, angle, degree, radian), exact),
        (Kind::Time, "min", uom_base!(Time, time, minute, second), exact),
        (Kind::Time, "h", uom_base!(Time, time, hour, second), exact),
        (Kind::Time, "days", uom_base!(Time, time, day, second), exact),
    ];
    for (kind, symbol, factor, tolerance) in expected {
        assert_close(unit_of(kind, symbol).factor, factor, tolerance, symbol);
    }
}

#[test]
fn temperatures_agree_with_an_independent_crate() {
    use uom::si::thermodynamic_temperature::{degree_celsius, degree_fahrenheit};
    for number in [-40.0, 32.0, 104.0, 113.0, 212.0] {
        let expected = uom::si::f64::ThermodynamicTemperature::new::<degree_fahrenheit>(number).get::<degree_celsius>();
        let got = parse(&format!("{number} F"), Kind::Temperature).expect("a temperature").value;
        assert!((got - expected).abs() < 1e-9, "{number} °F: expected {expected}, got {got}");
    }
}

#[test]
fn everything_the_plan_language_shows_is_read() {
    let shown = [
        (Kind::Mass, "200 g"),
        (Kind::Mass, "4 oz"),
        (Kind::Mass, "3 1/2 oz"),
        (Kind::Mass, "3½ oz"),
        (Kind::Length, "2.6 m"),
        (Kind::Length, "150 ± 15 m"),
        (Kind::Length, "150 +- 15 m"),
        (Kind::Area, "0.11 m2"),
        (Kind::Wraps, "10 wpi"),
        (Kind::Wraps, "24 ± 2 wpi"),
        (Kind::Wraps, "11 wraps / cm"),
        (Kind::Yield, "205 m/100g"),
        (Kind::Yield, "1000 yd/lb"),
        (Kind::Yield, "1000 ypp"),
        (Kind::Yield, "2/24 worsted count"),
        (Kind::Yield, "64 count worsted"),
        (Kind::LinearDensity, "205 m/100g"),
        (Kind::LinearDensity, "2/28 Nm"),
        (Kind::Ratio, "6:1"),
        (Kind::Ratio, "6.8:1"),
        (Kind::Ratio, "6,8:1"),
        (Kind::Angle, "30 deg"),
        (Kind::FibreDiameter, "22 micron"),
        (Kind::Stitches, "19 st / 10 cm"),
        (Kind::Twist, "3.5 tpi"),
        (Kind::Twist, "3.2 / in"),
        (Kind::Twist, "3 / in"),
        (Kind::Share, "12 %"),
        (Kind::Share, "1.5 ± 4 %"),
        (Kind::Share, "1/3"),
        (Kind::Money, "19.00 EUR"),
        (Kind::Temperature, "45 C"),
        (Kind::Time, "20 min"),
        (Kind::Speed, "900 turns / min"),
    ];
    for (kind, text) in shown {
        let read = parse(text, kind).unwrap_or_else(|error| panic!("{text}: {error}"));
        assert_eq!((read.kind, read.text.as_str()), (kind, text));
        assert_eq!(read.readings_comma, text.contains(','), "{text}");
        assert_eq!(read.give_or_take.is_some(), text.contains(['±', '+']), "{text}");
    }
    let shrinkage = parse("1.5 ± 4 %", Kind::Share).expect("a share");
    assert_close(shrinkage.value, 0.015, 1e-15, "the number before ±");
    assert_close(shrinkage.give_or_take.expect("written"), 0.04, 1e-15, "the number after ±");
    assert_close(shrinkage.step, 0.001, 1e-12, "the last digit before ±");
}

#[test]
fn give_or_take_has_the_unit_before_it_or_its_own() {
    let width = |text: &str| parse(text, Kind::Wraps).expect(text).give_or_take.expect("written");
    let inch = 1.0 / 0.0254;
    for text in ["24 ± 2 wpi", "24 wpi ± 2", "24 wpi ± 2 wpi", "24+-2wpi", "24 +/- 2 wpi"] {
        assert_close(width(text), 2.0 * inch, 1e-12, text);
    }
    assert_close(width("24 wpi ± 1 wraps/cm"), 100.0, 1e-12, "a unit of its own");
    assert_close(width("24 wpi ± 10 %"), 2.4 * inch, 1e-12, "a share of the number");
    assert!(matches!(parse("24 ± -2 wpi", Kind::Wraps), Err(UnitError::NegativeGiveOrTake { .. })));
    assert!(parse("24 ± 2 ± 1 wpi", Kind::Wraps).is_err());
}

#[test]
fn reciprocals_carry_shares_over() {
    let read = parse("400 ± 20 m/100 g", Kind::LinearDensity).expect("a yarn number");
    assert_close(read.value, 0.25, 1e-15, "250 tex");
    assert_close(read.give_or_take.expect("written"), 0.0125, 1e-12, "five in a hundred");
    assert_close(read.step, 0.25 / 400.0, 1e-12, "one in four hundred");
    assert_eq!(read.number, 400.0);
    assert!(matches!(parse("0 tex", Kind::Yield), Err(UnitError::NoReciprocal { .. })));
}

#[test]
fn folded_counts_mean_what_their_system_says() {
    let yards = |text: &str| {
        parse(text, Kind::Yield)
            .unwrap_or_else(|error| panic!("{text}: {error}"))
            .in_unit(unit_of(Kind::Yield, "yd/lb"))
    };
    // The number of singles: W. Davis, Hosiery Manufacture, 1920, p. 41.
    for text in [
        "2/24 worsted count",
        "2/24s worsted",
        "worsted 2/24",
        "24/2 worsted",
        "24s/2 worsted",
        "2-24 worsted",
        "12 worsted count",
        "1/12 worsted",
    ] {
        assert_close(yards(text), 12.0 * 560.0, 1e-12, text);
    }
    assert_close(yards("2/40s cotton"), 20.0 * 840.0, 1e-12, "cotton");
    assert_close(yards("2/40 linen lea"), 20.0 * 300.0, 1e-12, "linen");
    // The number of the finished yarn: the same page, and W. H. Dooley, Textiles, 1914, p. 209.
    assert_close(yards("40/2 spun silk"), 40.0 * 840.0, 1e-12, "spun silk");
    assert!(matches!(parse("2/24", Kind::Yield), Err(UnitError::FoldedWithoutSystem { .. })));
    assert!(matches!(parse("2/24 count", Kind::LinearDensity), Err(UnitError::FoldedWithoutSystem { .. })));
    assert!(matches!(parse("64 count", Kind::Yield), Err(UnitError::CountWithoutSystem { .. })));
    assert!(matches!(parse("64s", Kind::Yield), Err(UnitError::CountWithoutSystem { .. })));
    assert!(matches!(parse("2/24 run", Kind::Yield), Err(UnitError::UnknownFolding { system: "woollen run", .. })));
    // Two threads of 24 cut (Davis, the same page), or two singles of it (common practice, no source).
    assert_close(yards("24/24 Galashiels"), 12.0 * 200.0, 1e-12, "each thread");
    assert_close(yards("2/24 Galashiels"), 12.0 * 200.0, 1e-12, "singles");
    assert_close(yards("2/4.5 Nm"), yards("2.25 Nm"), 1e-12, "a decimal count");
    for text in ["24/20 Galashiels", "30/40 worsted", "-2/24 worsted", "1.5/24 worsted"] {
        assert!(matches!(parse(text, Kind::Yield), Err(UnitError::UnknownFolding { .. })), "{text}");
    }
    assert_close(yards("1/2 run"), 800.0, 1e-12, "half a run");
    assert_close(
        parse("2/24 worsted", Kind::Yield).expect("reads").step,
        0.5 * 560.0 * 0.9144 / 453.59237,
        1e-12,
        "one of the singles",
    );
}

#[test]
fn a_bare_number_is_told_what_it_could_mean() {
    let could_be = |kind: Kind| match parse("12", kind) {
        Err(UnitError::MissingUnit { could_be }) => could_be,
        other => panic!("{kind:?}: {other:?}"),
    };
    assert_eq!(could_be(Kind::Wraps), ["wpi", "wraps/cm", "wraps/m", "wraps/3 cm"]);
    assert!(could_be(Kind::Yield).contains(&"yd/lb") && could_be(Kind::Yield).contains(&"tex"));
    for kind in Kind::ALL.into_iter().filter(|kind| *kind != Kind::Count) {
        let offered = could_be(kind);
        assert!(!offered.is_empty());
        assert!(offered.iter().all(|symbol| parse(&format!("12 {symbol}"), kind).is_ok()), "{offered:?}");
    }
    assert_eq!(parse("12", Kind::Count).expect("things need no unit").value, 12.0);
    assert!(parse("0.7", Kind::Share).is_err(), "0.7 could be meant as 0.7 %");
}

#[test]
fn an_unknown_unit_is_told_the_nearest_and_a_wrong_one_what_it_measures() {
    let nearest = |text: &str, kind: Kind| match parse(text, kind) {
        Err(UnitError::UnknownUnit { nearest, .. }) => nearest,
        other => panic!("{text}: {other:?}"),
    };
    assert_eq!(nearest("12 wip", Kind::Wraps), Some("wpi"));
    assert_eq!(nearest("200 grms", Kind::Mass), Some("g"));
    assert_eq!(nearest("2/24 worstead", Kind::Yield), Some("worsted count"));
    assert_eq!(nearest("50 furlongs", Kind::Length), None);
    assert!(matches!(
        parse("12 g", Kind::Length),
        Err(UnitError::WrongKind { found: Kind::Mass, wanted: Kind::Length, .. })
    ));
    let message = parse("12 wip", Kind::Wraps).expect_err("unknown").to_string();
    assert_eq!(message, "\"wip\" is no known unit; is wpi meant?");
}

#[test]
fn absurd_input_is_an_error() {
    let long = "9".repeat(5_000_000);
    let decimals = format!("0.{}1 g", "0".repeat(150));
    let texts = [
        "",
        " ",
        "1e300 g",
        "1e-300 g",
        "inf g",
        "NaN g",
        "-",
        "±",
        "± 2 g",
        "g",
        "\u{0}",
        "\u{202e}12 g",
        "12 g g",
        "12 12 g",
        "a 12 g",
        "1e16 g",
        "1/0 oz",
        "0/0 worsted",
        "2/0 worsted",
        "٤ g",
        "½½ g",
        "1,234 g",
        "1.2.3 g",
        "12\u{200b}g",
        "💫 g",
        "é4 g",
        "3 ± oz",
        "2-24 g",
        "1/2.5 g",
        "2s/3 g",
        "/ in",
        &long,
        &decimals,
    ];
    for text in texts {
        for kind in [Kind::Mass, Kind::Yield, Kind::Twist] {
            let error = parse(text, kind).expect_err("absurd").to_string();
            assert!(error.len() < 400 && !error.chars().any(char::is_control), "{error}");
        }
        assert!(parse_gauge(text).is_err() && parse_size(text).is_err());
    }
}
