//! What can be wrong with a written quantity, each in plain words with what to write instead.

use super::Kind;
use thiserror::Error;

/// Why a text is no quantity of the kind asked for.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Error)]
pub enum UnitError {
    /// Nothing is written.
    #[error("nothing is written here; write a number and its unit")]
    Empty,
    /// More is written than any quantity needs.
    #[error("a quantity is a number and its unit, at most {limit} characters; here are {n_characters}")]
    TooLong {
        /// How many characters are written.
        n_characters: usize,
        /// How many are read.
        limit: usize,
    },
    /// What stands in the number's place is none.
    #[error("{} is not a number", quoted(written))]
    NotANumber {
        /// What is written.
        written: String,
    },
    /// The number is out of all proportion.
    #[error("{} is out of all proportion", quoted(written))]
    OutOfRange {
        /// What is written.
        written: String,
    },
    /// A number stands alone.
    #[error("the unit is missing; it could be {}", listed(could_be))]
    MissingUnit {
        /// Units that it could mean, likeliest first.
        could_be: Vec<&'static str>,
    },
    /// No table knows the unit.
    #[error("{} is no known unit{}", quoted(unit), nearest.map_or_else(String::new, |near| format!("; is {near} meant?")))]
    UnknownUnit {
        /// What is written.
        unit: String,
        /// The symbol of the nearest known unit of the kind, if one is near.
        nearest: Option<&'static str>,
    },
    /// The unit is known but measures something else.
    #[error("{} measures {}, and here stands {}", quoted(unit), found.words(), wanted.words())]
    WrongKind {
        /// What the unit measures.
        found: Kind,
        /// What is asked for.
        wanted: Kind,
        /// What is written.
        unit: String,
    },
    /// A comma before exactly three digits has two readings.
    #[error("the comma can be read as {as_decimal} or as {as_thousands}; write one of the two")]
    AmbiguousComma {
        /// The number if the comma begins the decimals.
        as_decimal: String,
        /// The number if the comma parts the thousands.
        as_thousands: String,
    },
    /// Thousands are parted by commas or full stops.
    #[error("{} is written with parted thousands; write {meant}", quoted(written))]
    PartedThousands {
        /// What is written.
        written: String,
        /// The same number without parting.
        meant: String,
    },
    /// A folded count does not say in which system it is.
    #[error(
        "{} is a folded count without its system; say which, as in \"2/24 worsted count\" or \"2/28 Nm\"",
        quoted(written)
    )]
    FoldedWithoutSystem {
        /// What is written.
        written: String,
    },
    /// A count does not say in which system it is.
    #[error("{} is a count without its system; say which, as in \"24 worsted count\" or \"14 Nm\"", quoted(written))]
    CountWithoutSystem {
        /// What is written.
        written: String,
    },
    /// Folded counts are not written so in this system.
    #[error("{} cannot be read as a folded count in {system}; write the count of the finished yarn", quoted(written))]
    UnknownFolding {
        /// What is written.
        written: String,
        /// The symbol of the system.
        system: &'static str,
    },
    /// A give-or-take is below zero.
    #[error("a give-or-take cannot be below zero, as {} is", quoted(written))]
    NegativeGiveOrTake {
        /// What is written.
        written: String,
    },
    /// Nothing has no reciprocal.
    #[error("{} cannot be turned into {}", quoted(written), wanted.words())]
    NoReciprocal {
        /// What is written.
        written: String,
        /// What is asked for.
        wanted: Kind,
    },
    /// A gauge is not written as one.
    #[error("{} is not a gauge; write it as \"19 st, 26 rows / 10 cm\" or \"5 st / in\"", quoted(written))]
    NotAGauge {
        /// What is written.
        written: String,
    },
    /// A size is not written as one.
    #[error("{} is not a size; write it as \"15 x 15 cm\" or \"6 x 6 in\"", quoted(written))]
    NotASize {
        /// What is written.
        written: String,
    },
}

/// What was written, in quotes, cut short and without signs that could steer a terminal or turn the line around.
fn quoted(written: &str) -> String {
    const LONGEST: usize = 40;
    let mut shown = String::from("\"");
    for sign in written.chars().take(LONGEST) {
        if sign.is_control() || is_invisible(sign) {
            shown.extend(sign.escape_unicode());
        } else {
            shown.push(sign);
        }
    }
    if written.chars().nth(LONGEST).is_some() {
        shown.push('…');
    }
    shown.push('"');
    shown
}

/// Marks of direction and joining that show nothing and can hide something.
fn is_invisible(sign: char) -> bool {
    matches!(sign, '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{ad}')
}

/// "g, oz or kg".
fn listed(symbols: &[&str]) -> String {
    match symbols {
        [] => String::from("none"),
        [only] => String::from(*only),
        [first @ .., last] => format!("{} or {last}", first.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn terminal_code_is_shown_and_not_obeyed() {
        let error = UnitError::NotANumber { written: "\u{1b}[2Jabc\u{202e}".to_owned() };
        assert_eq!(error.to_string(), "\"\\u{1b}[2Jabc\\u{202e}\" is not a number");
    }

    #[test]
    fn long_text_is_cut() {
        let error = UnitError::NotANumber { written: "x".repeat(50) };
        assert_eq!(error.to_string(), format!("\"{}…\" is not a number", "x".repeat(40)));
    }

    #[test]
    fn units_are_listed_as_one_says_them() {
        assert_eq!(
            UnitError::MissingUnit { could_be: vec!["g", "oz", "kg"] }.to_string(),
            "the unit is missing; it could be g, oz or kg"
        );
    }
}
