//! The stitches whose yarn is known, in the words of both sides of the ocean.
//!
//! A crochet word means one stitch in the United Kingdom and another in the United States, so each stitch is told apart here by a
//! key of its own, and a word is only ever looked up in the terms that a plan declares.

use std::hash::{Hash, Hasher};

use super::{Craft, Terms};
use crate::units::Standing::{self, FromMemory, OurChoice, Published};

/// A stitch, or a way of working that takes yarn of its own.
#[derive(Debug)]
pub struct Stitch {
    /// What tells it apart, whatever it is called.
    pub key: &'static str,
    /// How it is worked.
    pub craft: Craft,
    /// What it is called in the United Kingdom; the first is printed.
    pub uk: &'static [&'static str],
    /// What it is called in the United States; the first is printed.
    pub us: &'static [&'static str],
    /// Yarn in an area of it over that in stocking stitch, of the same yarn at its usual gauge.
    pub times: f64,
    /// Half the width that holds nineteen times in twenty.
    pub give_or_take: f64,
    /// How well that is founded.
    pub standing: Standing,
    /// Where it comes from.
    pub source: &'static str,
    /// Rows over stitches in the same length, with half the width that holds nineteen times in twenty; `None` where they are not
    /// known, and a gauge has to say both.
    pub rows: Option<(f64, f64)>,
    /// Of crochet: yarn in one stitch over the width of the stitch.
    pub yarn_in_one: Option<f64>,
}

impl PartialEq for Stitch {
    fn eq(&self, other: &Self) -> bool {
        self.key == other.key
    }
}

impl Eq for Stitch {}

impl Hash for Stitch {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.key.hash(state);
    }
}

impl Stitch {
    /// What it is called in these terms.
    pub fn called(&self, terms: Terms) -> &'static str {
        self.names(terms)[0]
    }

    fn names(&self, terms: Terms) -> &'static [&'static str] {
        match terms {
            Terms::Uk => self.uk,
            Terms::Us => self.us,
        }
    }

    /// The stitch of that name in a craft. Knitted stitches go by the words of either side, as none means two of them; crochet
    /// goes by the terms alone.
    pub fn named(name: &str, craft: Craft, terms: Terms) -> Option<&'static Self> {
        let name = simplified(name);
        let is_called = |stitch: &Self, terms| stitch.names(terms).iter().any(|known| simplified(known) == name);
        let of_craft = || STITCHES.iter().filter(|stitch| stitch.craft == craft);
        of_craft().find(|stitch| is_called(stitch, terms)).or_else(|| match (craft, terms) {
            (Craft::Crochet | Craft::Weave, _) => None,
            (Craft::Knit, Terms::Uk) => of_craft().find(|stitch| is_called(stitch, Terms::Us)),
            (Craft::Knit, Terms::Us) => of_craft().find(|stitch| is_called(stitch, Terms::Uk)),
        })
    }

    /// All names in a craft in these terms, one for each stitch.
    pub fn all(craft: Craft, terms: Terms) -> Vec<&'static str> {
        STITCHES.iter().filter(|stitch| stitch.craft == craft).map(|stitch| stitch.called(terms)).collect()
    }
}

/// Small letters, one space for each gap, no hyphens and no word "stitch" at the end.
fn simplified(name: &str) -> String {
    let words: Vec<String> =
        name.to_lowercase().replace(['-', '×'], " ").split_whitespace().map(str::to_owned).collect();
    let words = match words.split_last() {
        Some((last, rest)) if (last == "stitch" || last == "st") && !rest.is_empty() => rest.to_vec(),
        _ => words,
    };
    words.join(" ")
}

/// Stocking stitch, against which the others are held.
pub static STOCKING: Stitch = STOCKING_ROW;

const STOCKING_ROW: Stitch = Stitch {
    key: "stocking",
    craft: Craft::Knit,
    uk: &["stocking stitch", "st st"],
    us: &["stockinette stitch", "stockinette", "st st"],
    times: 1.0,
    give_or_take: 0.0,
    standing: Standing::Standard,
    source: "against which the others are held",
    rows: Some((1.35, 0.10)),
    yarn_in_one: None,
};

/// Every stitch that is known. Give-or-takes of knitted stitches are a tenth at least, those of crochet three tenths: nobody has
/// published more than a handful of swatches.
pub static STITCHES: &[Stitch] = &[
    STOCKING_ROW,
    Stitch {
        rows: Some((2.0, 0.15)),
        ..knit(
            "garter",
            &["garter stitch", "g st"],
            &["garter stitch", "g st"],
            (1.40, 0.14),
            Published,
            "two measured swatches, 1.46 and 1.35; published craft articles",
        )
    },
    knit("moss", &["moss stitch"], &["seed stitch"], (1.20, 0.12), FromMemory, "between stocking and garter stitch"),
    knit(
        "rib-1",
        &["1x1 rib", "single rib"],
        &["1x1 rib", "single rib"],
        (1.45, 0.15),
        FromMemory,
        "geometry: the same loops, a quarter to two fifths narrower; measured relaxed",
    ),
    knit(
        "rib-2",
        &["2x2 rib", "double rib"],
        &["2x2 rib", "double rib"],
        (1.45, 0.15),
        FromMemory,
        "geometry: the same loops, a quarter to two fifths narrower; measured relaxed",
    ),
    knit(
        "rib-stretched",
        &["stretched rib"],
        &["stretched rib"],
        (1.05, 0.10),
        FromMemory,
        "a rib on nine tenths of the stitches, stated at the width of the fabric that it edges",
    ),
    knit(
        "mistake-rib",
        &["mistake rib"],
        &["mistake rib"],
        (1.22, 0.12),
        Published,
        "a scarf of the Australian Comforts Fund, Guide to Knitting for the Services, 1940, needs 1.19 to 1.32; derived",
    ),
    knit(
        "cable",
        &["cables", "cable"],
        &["cables", "cable"],
        (1.25, 0.25),
        Published,
        "a quarter more for cables, up to a half in a tight one; published craft article",
    ),
    knit("lace", &["lace"], &["lace"], (0.82, 0.08), FromMemory, "blocked hard"),
    knit(
        "stranded",
        &["stranded", "stranded colourwork"],
        &["stranded", "stranded colorwork"],
        (1.45, 0.15),
        FromMemory,
        "all colours together: floats and denser rows",
    ),
    knit("intarsia", &["intarsia"], &["intarsia"], (1.05, 0.10), FromMemory, "and the tails besides"),
    knit("brioche", &["brioche"], &["brioche"], (1.80, 0.20), FromMemory, "each row is worked twice"),
    knit("double", &["double knitting"], &["double knitting"], (2.00, 0.20), FromMemory, "two fabrics, back to back"),
    crochet("low", &["double crochet", "dc"], &["single crochet", "sc"], 1.40, 6.6, Published),
    crochet(
        "half",
        &["half treble crochet", "half treble", "htr"],
        &["half double crochet", "hdc"],
        1.38,
        9.0,
        Published,
    ),
    crochet("tall", &["treble crochet", "treble", "tr"], &["double crochet", "dc"], 1.25, 12.5, OurChoice),
    crochet(
        "taller",
        &["double treble crochet", "double treble", "dtr"],
        &["treble crochet", "treble", "tr"],
        1.10,
        16.0,
        OurChoice,
    ),
];

/// A knitted stitch: its yarn over that of stocking stitch, with its give-or-take.
const fn knit(
    key: &'static str,
    uk: &'static [&'static str],
    us: &'static [&'static str],
    (times, give_or_take): (f64, f64),
    standing: Standing,
    source: &'static str,
) -> Stitch {
    Stitch { key, craft: Craft::Knit, uk, us, times, give_or_take, standing, source, rows: None, yarn_in_one: None }
}

/// A stitch of crochet. `uk` and `us` are its words: the first of them counts loops on the hook, the second turns of yarn.
/// `yarn_in_one` is from one measured swatch of single and one of half double crochet (US); for each turn of yarn more, three and a
/// half widths more (derived, weak).
const fn crochet(
    key: &'static str,
    uk: &'static [&'static str],
    us: &'static [&'static str],
    times: f64,
    yarn_in_one: f64,
    standing: Standing,
) -> Stitch {
    Stitch {
        key,
        craft: Craft::Crochet,
        uk,
        us,
        times,
        give_or_take: 0.3 * times,
        standing,
        source: "swatches of one yarn in three published craft articles; hands differ by 15 %",
        rows: None,
        yarn_in_one: Some(yarn_in_one),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_word_of_crochet_means_two_stitches() {
        let key = |name, terms| Stitch::named(name, Craft::Crochet, terms).map(|stitch| stitch.key);
        assert_eq!(key("double crochet", Terms::Uk), Some("low"));
        assert_eq!(key("double crochet", Terms::Us), Some("tall"));
        assert_eq!(key("dc", Terms::Uk), key("sc", Terms::Us));
        assert_eq!(key("treble", Terms::Uk), key("double crochet", Terms::Us));
        assert_eq!(key("single crochet", Terms::Uk), None, "not a word of these terms");
    }

    #[test]
    fn knitted_stitches_go_by_either_word() {
        for name in ["stocking stitch", "Stockinette", "stockinette  stitch", "st st"] {
            assert_eq!(Stitch::named(name, Craft::Knit, Terms::Uk), Some(&STOCKING), "{name}");
        }
        assert_eq!(Stitch::named("seed stitch", Craft::Knit, Terms::Uk).map(|found| found.key), Some("moss"));
        assert_eq!(Stitch::named("2 × 2 rib", Craft::Knit, Terms::Us), None, "written 2x2");
        assert_eq!(Stitch::named("garter stitch", Craft::Crochet, Terms::Us), None);
    }

    #[test]
    fn no_name_means_two_stitches_of_one_craft() {
        for terms in [Terms::Uk, Terms::Us] {
            for stitch in STITCHES {
                for name in stitch.names(terms) {
                    assert_eq!(Stitch::named(name, stitch.craft, terms), Some(stitch), "{name}");
                }
            }
        }
    }
}
