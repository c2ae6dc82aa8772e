//! One quantity in every unit of its kind. Yarn numbers of both kinds are converted as one.

use super::error::UnitError;
use super::format::ten_digits;
use super::reading::{parse, parse_any, Parsed};
use super::table::table;
use super::unit::{unit, Unit};
use super::Kind;

/// A quantity in one unit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// The unit.
    pub unit: &'static Unit,
    /// The number in it, to ten significant digits.
    pub number: String,
    /// The give-or-take in it, to ten significant digits; for a reciprocal the same share of the number.
    pub give_or_take: Option<String>,
}

/// A quantity in every unit of its kind, or in the one named.
///
/// # Errors
/// Those of [`parse`]; for a unit that is not one of the kind, [`UnitError::WrongKind`] or [`UnitError::UnknownUnit`].
pub fn convert(text: &str, to: Option<&str>) -> Result<Vec<Row>, UnitError> {
    let parsed = read_any(text)?;
    match to {
        Some(symbol) => Ok(vec![row(&parsed, target(&parsed, symbol)?)?]),
        None => targets(&parsed).map(|unit| row(&parsed, unit)).collect(),
    }
}

/// The text as a quantity of whatever kind has its unit.
fn read_any(text: &str) -> Result<Parsed, UnitError> {
    match parse_any(text).into_iter().next() {
        // A bare number is a number of things and nothing to convert.
        Some(parsed) if !parsed.unit.symbol.is_empty() => Ok(parsed),
        // No kind reads it. What a yarn number, the likeliest, lacks is the best thing to say.
        _ => match parse(text, Kind::Yield) {
            Err(error) => Err(error),
            Ok(parsed) => Ok(parsed),
        },
    }
}

/// The units in which a quantity can be said. Things and money have none but their own.
fn targets(parsed: &Parsed) -> impl Iterator<Item = &'static Unit> {
    let kinds = [Some(parsed.kind), parsed.kind.reciprocal()].into_iter().flatten();
    let own = parsed.unit;
    let is_alone = matches!(parsed.kind, Kind::Count | Kind::Money);
    kinds.flat_map(table).filter(move |unit| if is_alone { *unit == own } else { !unit.symbol.is_empty() })
}

fn target(parsed: &Parsed, symbol: &str) -> Result<&'static Unit, UnitError> {
    let kinds = [Some(parsed.kind), parsed.kind.reciprocal()];
    let found = kinds.into_iter().flatten().find_map(|kind| unit(kind, symbol));
    let is_target = |unit: &Unit| targets(parsed).any(|target| target == unit);
    if let Some(found) = found.filter(|unit| is_target(unit)) {
        return Ok(found);
    }
    let written = symbol.trim().to_owned();
    match Kind::ALL.into_iter().find(|kind| unit(*kind, symbol).is_some()) {
        Some(found) => Err(UnitError::WrongKind { found, wanted: parsed.kind, unit: written }),
        None => {
            let nearest = kinds.into_iter().flatten().find_map(|kind| super::unit::nearest(kind, symbol));
            Err(UnitError::UnknownUnit { unit: written, nearest })
        }
    }
}

fn row(parsed: &Parsed, unit: &'static Unit) -> Result<Row, UnitError> {
    let number = parsed.in_unit(unit);
    if !number.is_finite() {
        return Err(UnitError::NoReciprocal { written: parsed.text.clone(), wanted: unit.kind });
    }
    Ok(Row { unit, number: ten_digits(number), give_or_take: parsed.give_or_take_in(unit).map(ten_digits) })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn number(text: &str, to: &str) -> String {
        convert(text, Some(to)).expect(text)[0].number.clone()
    }

    #[test]
    fn yarn_numbers_convert_as_one_kind() {
        assert_eq!(number("2/24 worsted count", "tex"), "73.81765593");
        assert_eq!(number("50 tex", "Nm"), "20");
        assert_eq!(number("840 denier", "cotton count"), "6.327227651");
        let rows = convert("1000 yd/lb", None).expect("converts");
        assert_eq!(rows.len(), table(Kind::Yield).len() + table(Kind::LinearDensity).len());
    }

    #[test]
    fn give_or_take_goes_along() {
        let row = &convert("100 ± 10 tex", Some("m/100 g")).expect("converts")[0];
        assert_eq!((row.number.as_str(), row.give_or_take.as_deref()), ("1000", Some("100")));
    }

    #[test]
    fn degrees_of_both_sorts() {
        assert_eq!(number("113 F", "C"), "45");
        assert_eq!(number("30 deg", "rad"), "0.5235987756");
    }

    #[test]
    fn what_cannot_be_converted_says_why() {
        assert!(matches!(convert("50 tex", Some("g")), Err(UnitError::WrongKind { found: Kind::Mass, .. })));
        assert!(matches!(convert("50 tex", Some("deniar")), Err(UnitError::UnknownUnit { nearest: Some("denier"), .. })));
        assert!(matches!(convert("19 EUR", Some("GBP")), Err(UnitError::WrongKind { .. })));
        assert!(matches!(convert("50", None), Err(UnitError::MissingUnit { .. })));
        assert!(matches!(convert("2/24", None), Err(UnitError::FoldedWithoutSystem { .. })));
        assert!(matches!(convert("0 tex", Some("yd/lb")), Err(UnitError::NoReciprocal { .. })));
        assert_eq!(convert("19 EUR", None).expect("converts").len(), 1);
    }
}
