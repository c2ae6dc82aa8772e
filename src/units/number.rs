//! Reading the number at the head of a written quantity: decimals with a full stop or a comma, vulgar fractions, folded pairs.
//!
//! What the number is of, is not asked here.

use super::error::UnitError;

/// A number and what is written after it.
#[derive(Debug, Clone)]
pub(super) struct Number {
    pub(super) value: f64,
    /// Worth of the last digit written, or of one part of the fraction.
    pub(super) step: f64,
    /// Whether a comma was read as the mark of the decimals.
    pub(super) comma: bool,
    pub(super) form: Form,
}

/// How a number is written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Form {
    /// In digits, whole or decimal.
    Digits,
    /// With a vulgar fraction that can be nothing else.
    Fraction,
    /// As two numbers: a vulgar fraction or a folded count.
    Pair(Pair),
}

/// Two numbers and a stroke or a dash, as in `2/24`, `2-24` or `40s/2`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Pair {
    pub(super) first: f64,
    pub(super) second: f64,
    /// Worth of the last digit of the greater number.
    pub(super) step: f64,
    /// Whether it can be a vulgar fraction too: whole numbers with a stroke.
    pub(super) is_fraction: bool,
}

/// Reads a number at the head of `text`; returns it with the rest, both ends trimmed.
pub(super) fn read(text: &str) -> Result<(Number, &str), UnitError> {
    let text = text.trim();
    let not_a_number = || UnitError::NotANumber { written: text.to_owned() };
    let (sign, body) = match text.strip_prefix(['-', '\u{2212}']) {
        Some(body) => (-1.0, body.trim_start()),
        None => (1.0, text.strip_prefix('+').unwrap_or(text).trim_start()),
    };
    let (digits, rest) = split_digits(body);
    let (mut number, rest) = if digits.is_empty() {
        let (fraction, rest) = split_sign_fraction(body).ok_or_else(not_a_number)?;
        (fraction.number(0.0), rest)
    } else {
        read_after_digits(digits, rest).map_err(|error| error.unwrap_or_else(not_a_number))?
    };
    number.value *= sign;
    // A digit here would begin a second number, as in "1 000": no unit begins with one.
    if rest.trim_start().starts_with(|sign: char| sign.is_numeric()) {
        return Err(not_a_number());
    }
    if !number.value.is_finite() || !number.step.is_finite() {
        return Err(UnitError::OutOfRange { written: text.to_owned() });
    }
    Ok((number, rest.trim()))
}

/// `None` stands for "is not a number", which the caller says with the whole text.
fn read_after_digits<'a>(digits: &str, rest: &'a str) -> Result<(Number, &'a str), Option<UnitError>> {
    let (plain, comma) = plain_digits(digits)?;
    if let Some((second, is_fraction, after)) = split_second(rest) {
        let (second, second_comma) = plain_digits(second)?;
        let number = pair(&plain, &second, is_fraction).ok_or(None)?;
        return Ok((Number { comma: comma || second_comma, ..number }, after));
    }
    if let Ok(whole) = plain.parse::<u32>()
        && let Some((fraction, after)) = split_sign_fraction(rest.trim_start()).or_else(|| split_written_fraction(rest))
    {
        return if fraction.is_proper() { Ok((fraction.number(f64::from(whole)), after)) } else { Err(None) };
    }
    let (exponent, rest) = split_exponent(rest);
    let value = format!("{plain}{exponent}").parse::<f64>().map_err(|_| None)?;
    let step = step(&plain, exponent).ok_or(None)?;
    Ok((Number { value, step, comma, form: Form::Digits }, rest))
}

/// The worth of the last digit of `plain`, times a power of ten as machines write it.
fn step(plain: &str, exponent: &str) -> Option<f64> {
    let n_decimals = plain.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    let power = exponent.get(1..).unwrap_or("0").parse::<i64>().ok()?;
    let place = i64::try_from(n_decimals).ok()?;
    format!("1e{}", power.saturating_sub(place)).parse().ok()
}

/// Two numbers in digits, the second not nought.
fn pair(first_digits: &str, second_digits: &str, is_fraction: bool) -> Option<Number> {
    let (first, second): (f64, f64) = (first_digits.parse().ok()?, second_digits.parse().ok()?);
    let is_whole = !first_digits.contains('.') && !second_digits.contains('.');
    let greater = if first > second { first_digits } else { second_digits };
    let pair = Pair { first, second, step: step(greater, "")?, is_fraction: is_fraction && is_whole };
    (second > 0.0).then(|| Number { value: first / second, step: 1.0 / second, comma: false, form: Form::Pair(pair) })
}

/// The digits after a stroke or a dash, whether the two numbers could be a fraction, and the rest.
/// The first number may be in the plural: `40s/2`, `40's-2`.
fn split_second(text: &str) -> Option<(&str, bool, &str)> {
    let singular = text.trim_start_matches(['\'', '’']);
    let singular = singular.strip_prefix('s').unwrap_or(text);
    let stroke = singular.trim_start().strip_prefix(['/', '\u{2044}']).map(str::trim_start);
    let after = stroke.or_else(|| singular.strip_prefix('-'))?;
    let (digits, rest) = split_digits(after);
    let is_fraction = stroke.is_some() && singular.len() == text.len();
    (!digits.is_empty()).then_some((digits, is_fraction, rest))
}

/// A vulgar fraction.
struct Fraction {
    over: u32,
    under: u32,
}

impl Fraction {
    fn is_proper(&self) -> bool {
        self.over < self.under
    }

    fn number(&self, whole: f64) -> Number {
        let part = 1.0 / f64::from(self.under);
        Number {
            value: whole + f64::from(self.over) / f64::from(self.under),
            step: part,
            comma: false,
            form: Form::Fraction,
        }
    }
}

/// Digits with full stops and commas between or before them, a thin or no-break space parting thousands as sheets print them.
fn split_digits(text: &str) -> (&str, &str) {
    let mut end = 0;
    let mut signs = text.char_indices().peekable();
    while let Some((at, sign)) = signs.next() {
        let takes = match sign {
            '0'..='9' => true,
            '.' | ',' => signs.peek().is_some_and(|(_, next)| next.is_ascii_digit()) || (at > 0 && sign == '.'),
            '\u{2009}' | '\u{202f}' | '\u{a0}' => at > 0 && parts_thousands(&text[at + sign.len_utf8()..]),
            _ => false,
        };
        if !takes {
            break;
        }
        end = at + sign.len_utf8();
    }
    text.split_at(end)
}

/// Whether exactly three digits follow.
fn parts_thousands(after: &str) -> bool {
    let n_digits = after.bytes().take_while(u8::is_ascii_digit).count();
    n_digits == 3
}

/// The digits with a full stop for the decimals and nothing between thousands, and whether a comma was read so.
fn plain_digits(digits: &str) -> Result<(String, bool), Option<UnitError>> {
    let digits: String = digits.chars().filter(|sign| !sign.is_whitespace()).collect();
    let n_commas = digits.matches(',').count();
    let n_stops = digits.matches('.').count();
    match (n_commas, n_stops) {
        (0, 0 | 1) => Ok((digits, false)),
        (1, 0) => {
            let as_decimal = digits.replace(',', ".");
            let (before, decimals) = digits.split_once(',').ok_or(None)?;
            if decimals.len() == 3 {
                let as_thousands = format!("{before}{decimals}");
                return Err(Some(UnitError::AmbiguousComma { as_decimal, as_thousands }));
            }
            Ok((as_decimal, true))
        }
        _ => Err(unparted(&digits).map(|meant| UnitError::PartedThousands { written: digits.clone(), meant })),
    }
}

/// What digits with several marks mean, if the marks part thousands as they should: `1,234,567`, `1,234.5`, `1.234,5`.
fn unparted(digits: &str) -> Option<String> {
    let parting = digits.chars().find(|sign| !sign.is_ascii_digit())?;
    let deciding = if parting == ',' { '.' } else { ',' };
    let (thousands, decimals) = match digits.split_once(deciding) {
        Some((before, after)) => (before, Some(after)),
        None => (digits, None),
    };
    let mut groups = thousands.split(parting);
    let first = groups.next()?;
    let is_parted = (1..=3).contains(&first.len())
        && groups.all(|group| group.len() == 3 && group.bytes().all(|b| b.is_ascii_digit()));
    let is_decimal = decimals.is_none_or(|after| after.bytes().all(|b| b.is_ascii_digit()));
    (is_parted && is_decimal).then(|| {
        let whole = thousands.replace(parting, "");
        decimals.map_or_else(|| whole.clone(), |after| format!("{whole}.{after}"))
    })
}

/// A stroke and a whole number, as after the 1 of `3 1/2`.
fn split_stroke(text: &str) -> Option<(u32, &str)> {
    let after = text.trim_start().strip_prefix(['/', '\u{2044}'])?;
    split_whole(after.trim_start())
}

/// Two whole numbers and a stroke, as after the 3 of `3 1/2`.
fn split_written_fraction(text: &str) -> Option<(Fraction, &str)> {
    let (over, rest) = split_whole(text.trim_start())?;
    let (under, rest) = split_stroke(rest)?;
    (under > 0).then_some((Fraction { over, under }, rest))
}

fn split_whole(text: &str) -> Option<(u32, &str)> {
    let end = text.bytes().take_while(u8::is_ascii_digit).count();
    let (digits, rest) = text.split_at(end);
    digits.parse().ok().map(|whole| (whole, rest))
}

/// One of the signs for a whole fraction.
fn split_sign_fraction(text: &str) -> Option<(Fraction, &str)> {
    let mut signs = text.chars();
    let (over, under) = match signs.next()? {
        '½' => (1, 2),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        _ => return None,
    };
    Some((Fraction { over, under }, signs.as_str()))
}

/// A power of ten as machines write it, `e-5`; empty if there is none.
fn split_exponent(text: &str) -> (&str, &str) {
    let Some(after) = text.strip_prefix(['e', 'E']) else { return ("", text) };
    let digits = after.strip_prefix(['+', '-']).unwrap_or(after);
    let n_digits = digits.bytes().take_while(u8::is_ascii_digit).count();
    if n_digits == 0 { ("", text) } else { text.split_at(text.len() - digits.len() + n_digits) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn value(text: &str) -> f64 {
        let (number, rest) = read(text).expect(text);
        assert_eq!(rest, "", "{text}");
        number.value
    }

    #[test]
    fn numbers_as_spinners_write_them() {
        for (text, expected) in [
            ("4", 4.0),
            ("19.00", 19.0),
            (".5", 0.5),
            ("6,8", 6.8),
            ("3 1/2", 3.5),
            ("3½", 3.5),
            ("3 ½", 3.5),
            ("½", 0.5),
            ("1/2", 0.5),
            ("1 ⁄ 2", 0.5),
            ("-5", -5.0),
            ("\u{2212}5", -5.0),
            ("+5", 5.0),
            ("1.5e3", 1500.0),
            ("1\u{2009}176", 1176.0),
            ("1\u{2009}234\u{2009}567.25", 1_234_567.25),
            ("0,5", 0.5),
            ("1,2345", 1.2345),
        ] {
            assert_eq!(value(text), expected, "{text}");
        }
    }

    #[test]
    fn the_last_digit_written_is_the_step() {
        for (text, expected) in
            [("4", 1.0), ("19.00", 0.01), ("6,8", 0.1), ("3 1/4", 0.25), ("3½", 0.5), ("1.5e3", 100.0), ("100", 1.0)]
        {
            assert_eq!(read(text).expect(text).0.step, expected, "{text}");
        }
    }

    #[test]
    fn commas_that_could_mean_two_things_are_refused() {
        let ambiguous = |decimal: &str, thousands: &str| UnitError::AmbiguousComma {
            as_decimal: decimal.into(),
            as_thousands: thousands.into(),
        };
        assert_eq!(read("1,234 m").unwrap_err(), ambiguous("1.234", "1234"));
        assert_eq!(read("12,500").unwrap_err(), ambiguous("12.500", "12500"));
        for (text, meant) in [("1,234,567", "1234567"), ("1,234.5", "1234.5"), ("1.234,5", "1234.5")] {
            let expected = UnitError::PartedThousands { written: text.into(), meant: meant.into() };
            assert_eq!(read(text).unwrap_err(), expected);
        }
    }

    #[test]
    fn what_is_no_number_is_refused() {
        for text in [
            "", "x", "-", ".", "1.2.3", "1,2,3", "3 5/4", "1/0", "1 000 m", "inf", "NaN", "٣", "1e", "5 100 g", "--5",
            "½½",
        ] {
            let outcome = read(text);
            let is_refused = matches!(&outcome, Err(UnitError::NotANumber { .. }))
                || matches!(&outcome, Ok((_, rest)) if !rest.is_empty());
            assert!(is_refused, "{text}: {outcome:?}");
        }
        assert!(matches!(read("1e400"), Err(UnitError::OutOfRange { .. })));
        assert!(read(&"9".repeat(100_000)).is_err());
        assert!(read(&format!("1e{}", "9".repeat(50))).is_err());
    }
}
