//! One unit, and how it is found by what a spinner writes.
//!
//! Spelling is tolerant of spaces, of full stops after abbreviations, of "per" for "/" and of capitals; a spelling that no table lists is
//! never guessed at. What the units are is in [`super::table`].

use super::Kind;
use super::standing::Standing;
use super::table::table;
use std::collections::BTreeMap;
use std::hash::{Hash, Hasher};
use std::sync::LazyLock;

/// Which family of measures a unit belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum System {
    /// Metre and gram.
    Metric,
    /// Inch, yard, ounce and pound.
    Inch,
    /// Used with either.
    Neutral,
}

/// What the two numbers of a folded count such as `2/24` mean in a numbering system.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Folding {
    /// The unit is no count.
    NoCount,
    /// How folded counts are written in this system is not known.
    Unknown,
    /// The greater number is the count of one single, the lesser how many are folded.
    OfTheSingles,
    /// The greater number is the count of the finished yarn, the lesser how many singles it is made of.
    OfTheFinished,
    /// Two equal numbers are each the count of one of two threads; of two others the greater is the count of one single.
    OfEachThread,
}

/// Where a unit comes from, and how well that stands.
#[derive(Debug, Clone, Copy)]
pub(super) struct Origin(pub(super) &'static str, pub(super) Standing);

/// One unit of one kind.
#[derive(Debug, Clone, Copy)]
pub struct Unit {
    /// What it measures.
    pub kind: Kind,
    /// As printed.
    pub symbol: &'static str,
    /// Other spellings that are read.
    pub also: &'static [&'static str],
    /// Base units in one of this.
    pub factor: f64,
    /// What zero of this unit is in the base unit; not zero for degrees Fahrenheit alone.
    pub zero: f64,
    /// Metric, inch or either.
    pub system: System,
    /// How folded counts are written in it.
    pub folding: Folding,
    /// Who says so.
    pub source: &'static str,
    /// How well that stands.
    pub standing: Standing,
}

impl Unit {
    /// A row of a table.
    pub(super) const fn new(
        kind: Kind,
        symbol: &'static str,
        also: &'static [&'static str],
        factor: f64,
        system: System,
        origin: Origin,
    ) -> Self {
        Self {
            kind,
            symbol,
            also,
            factor,
            zero: 0.0,
            system,
            folding: Folding::NoCount,
            source: origin.0,
            standing: origin.1,
        }
    }

    /// The same row of a numbering system in which folded counts are written.
    pub(super) const fn folded(mut self, folding: Folding) -> Self {
        self.folding = folding;
        self
    }

    /// A number of this unit in the base unit of its kind.
    pub fn to_base(&self, number: f64) -> f64 {
        number * self.factor + self.zero
    }

    /// A value in the base unit of its kind as a number of this unit.
    pub fn from_base(&self, value: f64) -> f64 {
        (value - self.zero) / self.factor
    }
}

/// Two units are one if they print the same and measure the same.
impl PartialEq for Unit {
    fn eq(&self, other: &Self) -> bool {
        (self.kind, self.symbol) == (other.kind, other.symbol)
    }
}

impl Eq for Unit {}

impl Hash for Unit {
    fn hash<H: Hasher>(&self, state: &mut H) {
        (self.kind, self.symbol).hash(state);
    }
}

/// A unit of `kind` by its symbol or another spelling of it.
pub fn unit(kind: Kind, symbol: &str) -> Option<&'static Unit> {
    let words = &WORDS[&kind];
    let key = spelling(symbol);
    let exact = words.iter().find(|word| word.key == key);
    let key = key.to_lowercase();
    exact.or_else(|| words.iter().find(|word| word.lowercase == key)).map(|word| word.unit)
}

/// The symbol in the table of `kind` that is nearest to `written`, if it is near: at most a third of the known word, and at least one slip.
pub(super) fn nearest(kind: Kind, written: &str) -> Option<&'static str> {
    let written = spelling(written).to_lowercase();
    let n_written = written.chars().count();
    let near = WORDS[&kind].iter().filter_map(|word| {
        let n_known = word.lowercase.chars().count();
        let allowed = (n_known / 3).max(1);
        // Lengths that differ by more than the slips allowed need no closer look.
        if n_known.abs_diff(n_written) > allowed {
            return None;
        }
        let slips = strsim::damerau_levenshtein(&word.lowercase, &written);
        // A word of one letter is one slip from every other, so that its nearness tells nothing.
        (slips <= allowed && slips < n_known).then_some((slips, word.unit.symbol))
    });
    near.min_by_key(|(slips, _)| *slips).map(|(_, symbol)| symbol)
}

/// One way of writing a unit, in the forms in which it is compared.
struct Word {
    key: String,
    lowercase: String,
    unit: &'static Unit,
}

/// All ways of writing the units of each kind, in the order of its table.
static WORDS: LazyLock<BTreeMap<Kind, Vec<Word>>> =
    LazyLock::new(|| Kind::ALL.into_iter().map(|kind| (kind, words(kind))).collect());

fn words(kind: Kind) -> Vec<Word> {
    let written = table(kind).iter().flat_map(|unit| spellings(unit).map(move |word| (spelling(word), unit)));
    written.map(|(key, unit)| Word { lowercase: key.to_lowercase(), key, unit }).collect()
}

/// All ways of writing a unit, its symbol first.
fn spellings(unit: &'static Unit) -> impl Iterator<Item = &'static str> {
    std::iter::once(unit.symbol).chain(unit.also.iter().copied())
}

/// The form in which spellings are compared: no spaces, one sign for each of the signs that look alike.
pub(super) fn spelling(written: &str) -> String {
    let mut key = String::with_capacity(written.len());
    for word in written.split_whitespace() {
        if word.eq_ignore_ascii_case("per") {
            key.push('/');
            continue;
        }
        for sign in word.chars() {
            match sign {
                'μ' => key.push('µ'),
                '²' => key.push('2'),
                '³' => key.push('3'),
                '⁄' | '∕' => key.push('/'),
                '″' => key.push('"'),
                '’' | '′' => key.push('\''),
                '.' if key.ends_with(char::is_alphabetic) => {}
                '^' => {}
                other => key.push(other),
            }
        }
    }
    key
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_spelling_means_two_units_of_one_kind() {
        for kind in Kind::ALL {
            let mut seen: BTreeMap<String, &str> = BTreeMap::new();
            for unit in table(kind) {
                for word in spellings(unit) {
                    if let Some(before) = seen.insert(spelling(word).to_lowercase(), unit.symbol) {
                        assert_eq!(before, unit.symbol, "{word} in {kind:?}");
                    }
                }
            }
        }
    }

    #[test]
    fn yarn_numbers_and_their_reciprocals_share_no_spelling() {
        for unit in table(Kind::Yield) {
            assert!(spellings(unit).all(|word| super::unit(Kind::LinearDensity, word).is_none()), "{}", unit.symbol);
        }
    }

    #[test]
    fn spelling_is_tolerant() {
        for written in ["m/100 g", "m/100g", "m / 100 g", "m per 100 g", " m  /100 g ", "M/100G"] {
            assert_eq!(unit(Kind::Yield, written).map(|u| u.symbol), Some("m/100 g"), "{written}");
        }
        assert_eq!(unit(Kind::Mass, "lb.").map(|u| u.symbol), Some("lb"));
        assert_eq!(unit(Kind::FibreDiameter, "μm"), unit(Kind::FibreDiameter, "µm"));
        assert_eq!(unit(Kind::Area, "m^2"), unit(Kind::Area, "m²"));
    }

    #[test]
    fn slips_of_the_pen_find_the_unit_meant() {
        assert_eq!(nearest(Kind::Mass, "grms"), Some("g"));
        assert_eq!(nearest(Kind::Wraps, "wip"), Some("wpi"));
        assert_eq!(nearest(Kind::Yield, "worstd count"), Some("worsted count"));
        assert_eq!(nearest(Kind::Length, "furlong"), None);
        assert_eq!(nearest(Kind::Mass, "q"), None);
    }
}
