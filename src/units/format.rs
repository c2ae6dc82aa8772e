//! Numbers into text, which happens here and nowhere else.
//!
//! Every function but [`grouped`] and [`printed`] gives plain text that [`super::parse`] and other programs read: full stop, hyphen as
//! minus, no parting. Those two give print: thin spaces between thousands, a true minus, a no-break space before the unit.
//! Rounding works on the shortest digits that tell a number from its neighbours, halves away from nothing, so that 1.005 to two places is
//! 1.01 as it is on paper.

use super::Kind;
use super::reading::Parsed;
use super::unit::Unit;

/// Digits kept where numbers are converted.
const CONVERTED_DIGITS: u32 = 10;
/// Between these, numbers are written without a power of ten.
const PLAIN_FROM: f64 = 1e-4;
const PLAIN_BELOW: f64 = 1e15;

/// `x` to so many significant digits, noughts at the end kept: `0.4500`. Digits before the point beyond them are nought: `1180`.
pub fn significant(x: f64, digits: u32) -> String {
    let Some(decimal) = Decimal::of(x) else { return not_finite(x) };
    let digits = digits.max(1);
    let rounded = decimal.rounded_to_digits(i64::from(digits));
    let is_plain = x == 0.0 || (PLAIN_FROM..PLAIN_BELOW).contains(&x.abs());
    if !is_plain {
        return rounded.with_power(digits);
    }
    let n_decimals = i64::from(digits) - rounded.leading_place();
    rounded.plain(usize::try_from(n_decimals).unwrap_or(0))
}

/// `x` to so many places after the point, noughts at the end kept: `19.00`.
pub fn decimals(x: f64, places: u32) -> String {
    let Some(decimal) = Decimal::of(x) else { return not_finite(x) };
    let places = places as usize;
    decimal.rounded_to_place(-(places as i64)).plain(places)
}

/// Ten significant digits, noughts at the end left out: `20`, `71.42857143`.
pub fn ten_digits(x: f64) -> String {
    let text = significant(x, CONVERTED_DIGITS);
    let (number, power) = text.split_once('e').map_or((text.as_str(), None), |(number, power)| (number, Some(power)));
    let number = if number.contains('.') { number.trim_end_matches('0').trim_end_matches('.') } else { number };
    power.map_or_else(|| number.to_owned(), |power| format!("{number}e{power}"))
}

/// The shortest text that reads back as `x`.
pub fn exact(x: f64) -> String {
    let is_plain = x == 0.0 || (PLAIN_FROM..PLAIN_BELOW).contains(&x.abs());
    match Decimal::of(x) {
        None => not_finite(x),
        Some(_) if is_plain => format!("{x}"),
        Some(_) => format!("{x:e}"),
    }
}

/// `x` to the nearest whole number, halves away from nothing.
pub fn half_up(x: f64) -> String {
    decimals(x, 0)
}

/// A share as a percentage with so many places: `12 %` for 0.12.
pub fn percent(share: f64, places: u32) -> String {
    let Some(mut decimal) = Decimal::of(share) else { return not_finite(share) };
    decimal.point += 2;
    let places = places as usize;
    format!("{} %", decimal.rounded_to_place(-(places as i64)).plain(places))
}

/// `x` to the nearest part of one, halves or quarters as one sign: `3½` to halves or quarters, `3 2/5` to fifths. A denominator of
/// nought is taken as one.
pub fn vulgar(x: f64, denominator: u32) -> String {
    let denominator = denominator.max(1);
    let n_parts = (x.abs() * f64::from(denominator)).round();
    // Above this, parts of one are beyond the digits of the number.
    if !x.is_finite() || n_parts >= PLAIN_BELOW {
        return significant(x, CONVERTED_DIGITS);
    }
    let n_parts = n_parts as u64;
    let (whole, part) = (n_parts / u64::from(denominator), n_parts % u64::from(denominator));
    let minus = if x < 0.0 && n_parts > 0 { "-" } else { "" };
    let whole_text = if whole == 0 && part > 0 { String::new() } else { whole.to_string() };
    let fraction = match (part * 4, u64::from(denominator)) {
        (0, _) => String::new(),
        (quarters, one) if quarters == one => String::from("¼"),
        (quarters, one) if quarters == 2 * one => String::from("½"),
        (quarters, one) if quarters == 3 * one => String::from("¾"),
        _ if whole > 0 => format!(" {part}/{denominator}"),
        _ => format!("{part}/{denominator}"),
    };
    format!("{minus}{whole_text}{fraction}")
}

/// A number in print: thousands parted by a thin space, the hyphen a true minus.
pub fn grouped(number: &str) -> String {
    let (minus, body) = number.strip_prefix('-').map_or(("", number), |body| ("\u{2212}", body));
    let n_whole = body.bytes().take_while(u8::is_ascii_digit).count();
    let (whole, rest) = body.split_at(n_whole);
    let mut text = String::from(minus);
    for (at, digit) in whole.char_indices() {
        if at > 0 && (n_whole - at) % 3 == 0 {
            text.push('\u{2009}');
        }
        text.push(digit);
    }
    text + &rest.replace("e-", "e\u{2212}")
}

/// A number and the symbol of its unit, spaced as the unit asks, for machines and terminals.
pub fn with_unit(number: &str, unit: &Unit) -> String {
    format!("{number}{}{}", gap(unit, " "), unit.symbol)
}

/// A number and the symbol of its unit, in print.
pub fn printed(number: &str, unit: &Unit) -> String {
    format!("{}{}{}", grouped(number), gap(unit, "\u{a0}"), unit.symbol)
}

/// A quantity that reads back as itself: the number, the give-or-take and the unit that were written, without the spinner's own spacing.
pub fn quantity(parsed: &Parsed) -> String {
    if parsed.kind == Kind::Share && parsed.unit.symbol.is_empty() {
        return percent_written(parsed);
    }
    let number = match parsed.folded {
        Some((first, second)) => format!("{}/{}", exact(first), exact(second)),
        None => exact(parsed.number),
    };
    let number = match parsed.give_or_take_in(parsed.unit) {
        // The width written is that of the count written, which folding divides.
        Some(width) => format!("{number} ± {}", exact(width * parsed.written_per_finished())),
        None => number,
    };
    with_unit(&number, parsed.unit)
}

/// A share that was written as a bare fraction, as a percentage: decimals without a unit are not read.
fn percent_written(parsed: &Parsed) -> String {
    let width = parsed.give_or_take.map_or_else(String::new, |width| format!(" ± {}", exact(width * 100.0)));
    format!("{}{width} %", exact(parsed.value * 100.0))
}

fn gap<'a>(unit: &Unit, space: &'a str) -> &'a str {
    let is_joined = unit.symbol.is_empty() || unit.symbol.starts_with(':') || unit.symbol == "°";
    if is_joined { "" } else { space }
}

fn not_finite(x: f64) -> String {
    String::from(if x.is_nan() { "not a number" } else { "beyond measure" })
}

/// The digits of a finite number: `0.d1 d2 d3 ... * 10^point`, none for nought.
struct Decimal {
    is_negative: bool,
    digits: Vec<u8>,
    point: i64,
}

impl Decimal {
    /// The shortest digits that read back as `x`; nothing if it is not finite.
    fn of(x: f64) -> Option<Self> {
        if !x.is_finite() {
            return None;
        }
        let text = format!("{:e}", x.abs());
        let (mantissa, power) =
            text.split_once('e').expect("invariant: the standard library writes e before the power");
        let power: i64 = power.parse().expect("invariant: the power is a whole number");
        let digits: Vec<u8> = mantissa.bytes().filter(u8::is_ascii_digit).map(|digit| digit - b'0').collect();
        if x == 0.0 {
            return Some(Self { is_negative: false, digits: Vec::new(), point: 0 });
        }
        Some(Self { is_negative: x < 0.0, digits, point: power + 1 })
    }

    /// Places before the point that are taken, at least one; below one, less by the noughts after the point.
    fn leading_place(&self) -> i64 {
        if self.digits.is_empty() { 1 } else { self.point }
    }

    fn rounded_to_digits(self, n_digits: i64) -> Self {
        let place = self.point - n_digits;
        self.rounded_to_place(place)
    }

    /// Rounded to a multiple of `10^place`, halves away from nothing.
    fn rounded_to_place(mut self, place: i64) -> Self {
        let n_kept = self.point - place;
        if n_kept >= self.digits.len() as i64 {
            return self;
        }
        let kept = usize::try_from(n_kept.max(0)).unwrap_or(0);
        let is_up = n_kept >= 0 && self.digits[kept] >= 5;
        self.digits.truncate(kept);
        if is_up {
            self.carry();
        }
        while self.digits.last() == Some(&0) {
            self.digits.pop();
        }
        if self.digits.is_empty() {
            self.is_negative = false;
        }
        self
    }

    /// One more in the last place.
    fn carry(&mut self) {
        for digit in self.digits.iter_mut().rev() {
            if *digit < 9 {
                *digit += 1;
                return;
            }
            *digit = 0;
        }
        self.digits.insert(0, 1);
        self.point += 1;
    }

    /// The digit worth `10^place`.
    fn digit(&self, place: i64) -> char {
        let at = usize::try_from(self.point - 1 - place).ok();
        let digit = at.and_then(|at| self.digits.get(at)).copied().unwrap_or(0);
        char::from(b'0' + digit)
    }

    fn minus(&self) -> &'static str {
        if self.is_negative { "-" } else { "" }
    }

    fn plain(&self, n_decimals: usize) -> String {
        let mut text = String::from(self.minus());
        text.extend((0..self.point.max(1)).rev().map(|place| self.digit(place)));
        if n_decimals > 0 {
            text.push('.');
            text.extend((1..=n_decimals as i64).map(|place| self.digit(-place)));
        }
        text
    }

    fn with_power(&self, n_digits: u32) -> String {
        let power = self.point - 1;
        let one = Self { is_negative: self.is_negative, digits: self.digits.clone(), point: 1 };
        format!("{}e{power}", one.plain(n_digits.saturating_sub(1) as usize))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{parse, unit};

    #[test]
    fn significant_digits_keep_their_noughts() {
        for (x, digits, text) in [
            (1176.4, 4, "1176"),
            (0.45017, 4, "0.4502"),
            (0.45, 4, "0.4500"),
            (1176.4, 2, "1200"),
            (999.96, 4, "1000"),
            (99.996, 4, "100.0"),
            (0.0001, 2, "0.00010"),
            (0.0, 3, "0.00"),
            (-1.25, 2, "-1.3"),
            (9_999_999.0, 8, "9999999.0"),
            (9.96e-5, 2, "1.0e-4"),
            (1.5e20, 3, "1.50e20"),
            (f64::MAX, 3, "1.80e308"),
            (5e-324, 2, "5.0e-324"),
        ] {
            assert_eq!(significant(x, digits), text, "{x} to {digits}");
        }
        assert_eq!(significant(f64::NAN, 3), "not a number");
    }

    #[test]
    fn decimals_round_halves_as_paper_does() {
        for (x, places, text) in [
            (1.005, 2, "1.01"),
            (0.5, 0, "1"),
            (2.5, 0, "3"),
            (-0.004, 2, "0.00"),
            (19.0, 2, "19.00"),
            (0.0999, 2, "0.10"),
            (0.04, 0, "0"),
            (0.6, 0, "1"),
            (-0.5, 0, "-1"),
        ] {
            assert_eq!(decimals(x, places), text, "{x}");
        }
        assert_eq!(half_up(1e15 + 2.0), "1000000000000002");
    }

    #[test]
    fn ten_digits_leave_out_noughts_at_the_end() {
        for (x, text) in [
            (20.0, "20"),
            (71.428_571_428_571_43, "71.42857143"),
            (496_054.647_856_517_9, "496054.6479"),
            (0.0, "0"),
            (1e-9, "1e-9"),
            (120.0, "120"),
        ] {
            assert_eq!(ten_digits(x), text);
        }
    }

    #[test]
    fn fractions_shares_and_print() {
        for (x, text) in [(3.5, "3½"), (0.5, "½"), (0.1, "0"), (2.74, "2¾"), (-1.25, "-1¼"), (7.9, "8"), (-0.1, "0")]
        {
            assert_eq!(vulgar(x, 4), text, "{x}");
        }
        assert_eq!(vulgar(2.74, 2), "2½");
        assert_eq!((vulgar(3.4, 5), vulgar(0.4, 5)), ("3 2/5".to_owned(), "2/5".to_owned()));
        assert_eq!(percent(0.12, 0), "12 %");
        assert_eq!(percent(0.285, 0), "29 %");
        assert_eq!(percent(0.0123, 1), "1.2 %");
        assert_eq!(grouped("1176"), "1\u{2009}176");
        assert_eq!(grouped("-1234567.25"), "\u{2212}1\u{2009}234\u{2009}567.25");
        assert_eq!(grouped("176"), "176");
        let yards = unit(Kind::Yield, "yd/lb").expect("a unit");
        assert_eq!(printed("1176", yards), "1\u{2009}176\u{a0}yd/lb");
        assert_eq!(with_unit("6.8", unit(Kind::Ratio, ":1").expect("a unit")), "6.8:1");
    }

    #[test]
    fn what_is_printed_reads_back() {
        for text in [
            "24 ± 2 wpi",
            "2/24 worsted count",
            "2/24 ± 1 worsted count",
            "6.8:1",
            "30°",
            "1.5 ± 4 %",
            "400 ± 10 m/100 g",
        ] {
            let kind = crate::units::parse_any(text)[0].kind;
            assert_eq!(quantity(&parse(text, kind).expect(text)), text);
        }
    }
}
