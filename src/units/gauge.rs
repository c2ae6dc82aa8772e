//! Two quantities in one string: a gauge (stitches and rows) and a size (width and height).

use super::Kind;
use super::error::UnitError;
use super::reading::{Parsed, parse};

/// Stitches, and rows where they are written, over one length.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Gauge {
    /// Stitches per length.
    pub stitches: Parsed,
    /// Rows per length.
    pub rows: Option<Parsed>,
}

/// Width and height of a piece of fabric.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Size {
    /// Along the rows.
    pub width: Parsed,
    /// Along the stitches.
    pub height: Parsed,
}

impl Size {
    /// Width times height, in square metres.
    pub fn area(&self) -> f64 {
        self.width.value * self.height.value
    }
}

/// Reads a gauge such as `19 st, 26 rows / 10 cm`, `19.5 st / 4 in` or `5 st, 7 rows / in`; the length stands at least once, at the end.
///
/// # Errors
/// [`UnitError::NotAGauge`] if there are not one or two parts or both are of one kind, else the error of the part that cannot be read.
pub fn parse_gauge(text: &str) -> Result<Gauge, UnitError> {
    let not_a_gauge = || UnitError::NotAGauge { written: text.trim().to_owned() };
    if text.trim().is_empty() {
        return Err(UnitError::Empty);
    }
    let (first, second) = match split_parts(text).as_slice() {
        [only] => (*only, None),
        [first, second] => (*first, Some(*second)),
        _ => return Err(not_a_gauge()),
    };
    let Some(second) = second else {
        return Ok(Gauge { stitches: parse(first, Kind::Stitches)?, rows: None });
    };
    let over = over_length(second).unwrap_or_default();
    let whole_first = if over_length(first).is_some() { first.to_owned() } else { format!("{first} {over}") };
    let is_rows_first =
        matches!(parse(&whole_first, Kind::Stitches), Err(UnitError::WrongKind { found: Kind::Rows, .. }));
    let (stitches, rows) = if is_rows_first { (second, whole_first.as_str()) } else { (whole_first.as_str(), second) };
    Ok(Gauge { stitches: parse(stitches, Kind::Stitches)?, rows: Some(parse(rows, Kind::Rows)?) })
}

/// Reads a size such as `15 x 15 cm`, `6 × 6 in` or `15 cm x 6 in`.
///
/// # Errors
/// [`UnitError::NotASize`] if there are not two measures, else the error of the measure that cannot be read.
pub fn parse_size(text: &str) -> Result<Size, UnitError> {
    if text.trim().is_empty() {
        return Err(UnitError::Empty);
    }
    let Some((width, height)) = text.split_once(['x', 'X', '×']) else {
        return Err(UnitError::NotASize { written: text.trim().to_owned() });
    };
    let height = parse(height, Kind::Length)?;
    let width = match parse(width, Kind::Length) {
        Err(UnitError::MissingUnit { .. }) => parse(&format!("{width} {}", height.unit.symbol), Kind::Length)?,
        other => other?,
    };
    Ok(Size { width, height })
}

/// Parts of a gauge. A comma parts them if it stands after a word: `19,5 st, 27 rows / 10 cm`.
fn split_parts(text: &str) -> Vec<&str> {
    let mut parts = Vec::new();
    let mut start = 0;
    for (at, _) in text.match_indices(',') {
        if text[start..at].trim_end().ends_with(char::is_alphabetic) {
            parts.push(text[start..at].trim());
            start = at + 1;
        }
    }
    parts.push(text[start..].trim());
    parts
}

/// The stroke and the length of a part, which come after its word: `/ 10 cm` of `26 1/2 rows / 10 cm`.
fn over_length(part: &str) -> Option<&str> {
    let word = part.find(char::is_alphabetic)?;
    let stroke = part[word..].find('/').or_else(|| part[word..].find(" per "))?;
    Some(&part[word + stroke..])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn numbers(text: &str) -> (f64, Option<f64>, &'static str) {
        let gauge = parse_gauge(text).expect(text);
        (gauge.stitches.number, gauge.rows.map(|rows| rows.number), gauge.stitches.unit.symbol)
    }

    #[test]
    fn gauges_as_knitters_write_them() {
        assert_eq!(numbers("19 st, 26 rows / 10 cm"), (19.0, Some(26.0), "st/10 cm"));
        assert_eq!(numbers("19 st,26 rows/10cm"), (19.0, Some(26.0), "st/10 cm"));
        assert_eq!(numbers("19,5 st, 27 rows per 10 cm"), (19.5, Some(27.0), "st/10 cm"));
        assert_eq!(numbers("19.5 st / 4 in"), (19.5, None, "st/4 in"));
        assert_eq!(numbers("5 st, 7 rows / in"), (5.0, Some(7.0), "st/in"));
        assert_eq!(numbers("26 1/2 rows, 19 1/2 st / 10 cm"), (19.5, Some(26.5), "st/10 cm"));
        assert_eq!(numbers("19 st / 10 cm, 26 rows / 10 cm"), (19.0, Some(26.0), "st/10 cm"));
        assert_eq!(parse_gauge("19 ± 1 st, 26 rows / 10 cm").expect("reads").stitches.give_or_take, Some(10.0));
    }

    #[test]
    fn what_is_no_gauge_is_refused() {
        assert!(matches!(parse_gauge("19 st, 26 rows, 3 st / 10 cm"), Err(UnitError::NotAGauge { .. })));
        assert!(matches!(parse_gauge("19 st, 20 st / 10 cm"), Err(UnitError::WrongKind { found: Kind::Stitches, .. })));
        assert!(matches!(parse_gauge("19 / 10 cm"), Err(UnitError::WrongKind { found: Kind::Length, .. })));
        assert!(matches!(parse_gauge("19"), Err(UnitError::MissingUnit { .. })));
        assert!(matches!(parse_gauge(" "), Err(UnitError::Empty)));
    }

    #[test]
    fn sizes_share_a_unit_or_have_each_their_own() {
        for text in ["15 x 15 cm", "15x15cm", "15 × 15 cm", "15 cm X 15 cm"] {
            let size = parse_size(text).expect(text);
            assert!((size.area() - 0.0225).abs() < 1e-15, "{text}");
        }
        let size = parse_size("10 cm x 4 in").expect("reads");
        assert!((size.height.value - 0.1016).abs() < 1e-15);
        assert!(matches!(parse_size("15 x 15"), Err(UnitError::MissingUnit { .. })));
        assert!(matches!(parse_size("15 cm"), Err(UnitError::NotASize { .. })));
        assert!(parse_size("15 x 15 x 15 cm").is_err());
    }
}
