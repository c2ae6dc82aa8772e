//! Marking: what a student wrote, held against the key.

use std::collections::BTreeMap;

use super::{Answer, Asked, Sum, Wrong, could_be};
use crate::figures::expression::text::{self, Shown};
use crate::units::parse;

/// What is said of an answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Verdict {
    /// It is right.
    Right,
    /// A slip that is known.
    Slip(Wrong),
    /// It is what comes of an earlier answer that is not right; the letter of that.
    Follows(char),
    /// It is not right, and no slip that is known.
    NotRight,
    /// It is no number, where one is asked for; why.
    NotANumber(String),
}

/// Marks the answers to one exercise: letters with what was written. Questions that were not answered are left out.
pub fn mark(sum: &Sum, written: &BTreeMap<char, String>) -> Vec<(char, Verdict)> {
    let mut own: BTreeMap<String, (char, f64)> = BTreeMap::new();
    let mut verdicts = Vec::new();
    for asked in &sum.asked {
        let Some(text) = written.get(&asked.letter) else { continue };
        let verdict = match &asked.answer {
            Answer::Word { right, slips } => word(text, right, slips),
            Answer::Number { number, shown, tolerance, slips } => match read(text, *shown) {
                Err(why) => Verdict::NotANumber(why),
                Ok(said) => {
                    let verdict = if could_be((said, 0.0), (*number, *tolerance)) {
                        Verdict::Right
                    } else if let Some(slip) = slips.iter().find(|slip| could_be((said, 0.0), slip.reach())) {
                        Verdict::Slip(slip.wrong)
                    } else {
                        follows(asked, said, *shown, *tolerance, &own)
                    };
                    if verdict != Verdict::Right {
                        own.insert(asked.place.clone(), (asked.letter, shown.unit.to_base(said)));
                    }
                    verdict
                }
            },
        };
        verdicts.push((asked.letter, verdict));
    }
    verdicts
}

fn word(written: &str, right: &str, slips: &[(Wrong, String)]) -> Verdict {
    let plain =
        |text: &str| -> String { text.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect() };
    let written = plain(written);
    if written == plain(right) {
        return Verdict::Right;
    }
    let slip = slips.iter().find(|(_, word)| plain(word) == written);
    slip.map_or(Verdict::NotRight, |(wrong, _)| Verdict::Slip(*wrong))
}

/// Whether an answer is what comes of an earlier one that was not right.
fn follows(asked: &Asked, said: f64, shown: Shown, tolerance: f64, own: &BTreeMap<String, (char, f64)>) -> Verdict {
    let worked = text::worked_with(&asked.node, &|place| own.get(place).map(|(_, value)| *value));
    let earlier = own.iter().find(|(place, _)| text::stands_on(&asked.node, place));
    match earlier {
        Some((_, (letter, _))) if could_be((said, 0.0), (shown.unit.from_base(worked), tolerance)) => {
            Verdict::Follows(*letter)
        }
        _ => Verdict::NotRight,
    }
}

/// A number as it was written, in the unit that is asked for; a unit may stand behind it.
fn read(written: &str, shown: Shown) -> Result<f64, String> {
    let text = written.trim();
    let is_bare = !text.is_empty() && text.chars().all(|c| c.is_ascii_digit() || ".,-+ ".contains(c));
    let symbol = shown.unit.symbol;
    let gap = if symbol == ":1" || symbol.is_empty() { "" } else { " " };
    let is_mixed = text.contains(' ') && text.chars().all(|c| c.is_ascii_digit() || "/ ".contains(c));
    let whole = if is_bare || is_mixed { format!("{text}{gap}{symbol}") } else { text.to_owned() };
    if is_bare && symbol.is_empty() {
        // What has no unit on the sheet needs none here.
        return text.replace(',', ".").parse().map_err(|_| format!("expected a number, found {text:?}"));
    }
    let text = whole;
    let parsed = parse(&text, shown.unit.kind).map_err(|why| why.to_string())?;
    Ok(parsed.in_unit(shown.unit))
}
