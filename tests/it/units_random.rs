//! Random quantities and random text: what is printed reads back, spaces change nothing, and no text makes the reader fall.

use proptest::prelude::*;
use wheelsheet::units::{
    Folding, Kind, Parsed, Unit, UnitError, convert, format, parse, parse_any, parse_gauge, parse_size, table,
};

/// Any unit that has a symbol.
fn any_unit() -> impl Strategy<Value = &'static Unit> {
    let units: Vec<_> = Kind::ALL.into_iter().flat_map(table).filter(|unit| !unit.symbol.is_empty()).collect();
    prop::sample::select(units)
}

/// A number as it may be written: digits enough for a balance or for a machine.
fn any_number() -> impl Strategy<Value = String> {
    prop_oneof![
        (1_u32..100_000, 0_usize..4).prop_map(|(digits, places)| format!("{:.places$}", f64::from(digits) / 1000.0)),
        (0.001..1e6).prop_map(format::exact),
        (1_u32..50, 1_u32..7, 2_u32..9).prop_map(|(whole, over, under)| format!(
            "{whole} {}/{}",
            over.min(under - 1),
            under
        )),
        (1_u32..1000, 1_u32..10).prop_map(|(whole, part)| format!("{whole},{part}")),
    ]
}

fn any_give_or_take() -> impl Strategy<Value = Option<String>> {
    prop::option::of(any_number())
}

fn any_space() -> impl Strategy<Value = &'static str> {
    prop::sample::select(vec!["", " ", "  ", "\t", "\u{a0}", "\u{2009}"])
}

/// What is written of a unit, with room around its stroke.
fn spaced(symbol: &str, space: &str) -> String {
    symbol.replace('/', &format!("{space}/{space}")).replace(' ', &format!("{space} "))
}

fn power_of_ten(power: u32) -> f64 {
    (0..power).map(|_| 10.0).product()
}

fn settings(cases: u32) -> ProptestConfig {
    ProptestConfig { cases, failure_persistence: None, ..ProptestConfig::default() }
}

proptest! {
    #![proptest_config(settings(2000))]

    #[test]
    fn what_is_printed_reads_back_as_itself(number in any_number(), width in any_give_or_take(), unit in any_unit()) {
        let width = width.map_or_else(String::new, |width| format!(" ± {width}"));
        let text = format!("{number}{width} {}", unit.symbol);
        for kind in [Some(unit.kind), unit.kind.reciprocal()].into_iter().flatten() {
            let Ok(read) = parse(&text, kind) else {
                // A nought turned over and what is out of all proportion in the base unit are refused, nothing else.
                let error = parse(&text, kind).expect_err("refused");
                prop_assert!(matches!(error, UnitError::OutOfRange { .. } | UnitError::NoReciprocal { .. }), "{text}: {error}");
                continue;
            };
            let again = parse(&format::quantity(&read), kind).expect("what is printed is read");
            prop_assert_eq!(again.value.to_bits(), read.value.to_bits(), "{}", text);
            prop_assert_eq!(again.unit, read.unit);
            prop_assert_eq!(again.number.to_bits(), read.number.to_bits());
            prop_assert_eq!(again.give_or_take.is_some(), read.give_or_take.is_some());
            let (before, after) = (read.give_or_take.unwrap_or(1.0), again.give_or_take.unwrap_or(1.0));
            prop_assert!(before == after || (before / after - 1.0).abs() < 1e-12, "{} {} {}", text, before, after);
        }
    }

    #[test]
    fn folded_counts_read_back_as_themselves(singles in 1_u32..13, count in 13_u32..200, at in 0_usize..64, width in any_give_or_take()) {
        let systems: Vec<_> = table(Kind::Yield).iter().filter(|unit| matches!(unit.folding, Folding::OfTheSingles | Folding::OfTheFinished)).collect();
        let system = systems[at % systems.len()];
        let width = width.map_or_else(String::new, |width| format!(" ± {width}"));
        let text = format!("{singles}/{count}{width} {}", system.symbol);
        for kind in [Kind::Yield, Kind::LinearDensity] {
            let read = parse(&text, kind).expect("a folded count");
            let again = parse(&format::quantity(&read), kind).expect("what is printed is read");
            prop_assert_eq!((again.value, again.folded, again.unit), (read.value, read.folded, read.unit));
            let (before, after) = (read.give_or_take.unwrap_or(1.0), again.give_or_take.unwrap_or(1.0));
            prop_assert!(before == after || (before / after - 1.0).abs() < 1e-12, "{}", text);
        }
    }

    #[test]
    fn spaces_change_nothing(number in any_number(), width in any_give_or_take(), unit in any_unit(), space in any_space()) {
        let tight = width.as_ref().map_or_else(String::new, |width| format!("±{width}"));
        let wide = width.map_or_else(String::new, |width| format!("{space}±{space}{width}"));
        let tight = parse(&format!("{number}{tight} {}", unit.symbol), unit.kind);
        let wide = parse(&format!("{space}{number}{wide}{space}{}{space}", spaced(unit.symbol, space)), unit.kind);
        match (tight, wide) {
            (Ok(tight), Ok(wide)) => {
                let read = |parsed: &Parsed| (parsed.value, parsed.give_or_take, parsed.unit, parsed.number, parsed.step, parsed.readings_comma);
                prop_assert_eq!(read(&tight), read(&wide));
            }
            (tight, wide) => prop_assert!(tight.is_err() && wide.is_err(), "{tight:?} {wide:?}"),
        }
    }

    #[test]
    fn converting_there_and_back_is_nothing(number in 0.001..1e6_f64, from in any_unit(), at in 0_usize..1000) {
        let Ok(read) = parse(&format!("{} {}", format::exact(number), from.symbol), from.kind) else { return Ok(()) };
        let targets: Vec<_> = [Some(from.kind), from.kind.reciprocal()].into_iter().flatten().flat_map(table).filter(|unit| !unit.symbol.is_empty()).collect();
        let to = targets[at % targets.len()];
        let there = format!("{} {}", format::exact(read.in_unit(to)), to.symbol);
        let Ok(back) = parse(&there, from.kind) else { return Ok(()) };
        prop_assert!((back.in_unit(from) / number - 1.0).abs() < 1e-12 || from.kind == Kind::Temperature, "{} {}", number, there);
    }

    #[test]
    fn digits_printed_are_those_of_the_number(x in -1e9..1e9_f64, digits in 1_u32..17, places in 0_u32..10) {
        let significant: f64 = format::significant(x, digits).parse().expect("a number");
        prop_assert!(x == 0.0 || (significant / x - 1.0).abs() <= 0.5 / power_of_ten(digits - 1) + 1e-15);
        let decimal: f64 = format::decimals(x, places).parse().expect("a number");
        prop_assert!((decimal - x).abs() <= 0.5 / power_of_ten(places) + x.abs() * 1e-15);
        prop_assert_eq!(format::exact(x).parse::<f64>().expect("a number"), x);
    }
}

/// Everything that reads text, for texts that are nothing.
fn read_all_ways(text: &str) {
    for kind in Kind::ALL {
        match parse(text, kind) {
            Ok(read) => {
                assert!(read.value.is_finite() && read.number.is_finite() && read.step.is_finite(), "{text:?}");
                assert!(read.give_or_take.is_none_or(f64::is_finite), "{text:?}");
                assert!(
                    parse(&format::quantity(&read), kind).is_ok(),
                    "{text:?} printed as {}",
                    format::quantity(&read)
                );
            }
            Err(error) => assert!(!error.to_string().is_empty()),
        }
    }
    let _ = parse_any(text);
    let _ = parse_gauge(text).map_err(|error| error.to_string());
    let _ = parse_size(text).map_err(|error| error.to_string());
    let _ = convert(text, None).map_err(|error| error.to_string());
    let _ = convert("50 tex", Some(text)).map_err(|error| error.to_string());
}

proptest! {
    #![proptest_config(settings(3000))]

    #[test]
    fn no_text_makes_the_reader_fall(text in any::<String>()) {
        read_all_ways(&text);
    }

    #[test]
    fn no_text_that_is_nearly_a_quantity_makes_the_reader_fall(
        text in "[-+±−0-9.,/⁄½¾e\u{2009}\u{a0} x:%°µ²\"'s]{0,12}(g|oz|m/100 g| yd/lb| tex|wpi| worsted| st, |rows / 10 cm| Nm|EUR|x|±|C|)[0-9 ./,±e-]{0,6}",
    ) {
        read_all_ways(&text);
    }
}
