//! Yarn numbering: weight per length (the finer, the smaller) and length per weight (the finer, the greater).
//! Base: gram per metre, metre per gram.
//!
//! A count of the trade is a number of hanks of a stated length to the pound; which length is all that tells the systems apart.

use super::{AGREEMENT, DERIVED, Folding, OUNCE, Origin, POUND, SI, Standing, System, Unit, YARD};
use crate::units::Kind;
use Folding::{OfEachThread, OfTheFinished, OfTheSingles, Unknown};
use System::{Inch, Metric};

const TEX: Origin = Origin("gram per kilometre: GNU units 2.22 and pint 0.25.3", Standing::Published);
const DENIER: Origin = Origin("gram per 9000 metres: GNU units 2.22 and pint 0.25.3", Standing::Published);
const JUTE: Origin = Origin("pound per 14,400 yards: pint 0.25.3", Standing::Published);
const NUMBER_METRIC: Origin = Origin(
    "kilometre per kilogram: GNU units 2.22 and pint 0.25.3; folded as common practice, no source",
    Standing::Published,
);
const METRIC_SILK: Origin =
    Origin("No. 100 is 100,000 m/kg, No. 2-100 is 50,000: W. H. Dooley, Textiles, 1914, p. 209", Standing::Published);
const FRENCH_COTTON: Origin =
    Origin("1000 m in 500 g: C. P. Brooks, Cotton Manufacturing, 1892, p. 144", Standing::Published);
const SCOTCH: Origin = Origin(
    "W. Davis, Hosiery Manufacture, 1920, p. 38, and p. 41 for 24/24; 2/24 as common practice, no source",
    Standing::Published,
);
const DAVIS: Origin = Origin("W. Davis, Hosiery Manufacture, 1920, p. 38", Standing::Published);
const TAYLOR: Origin = Origin("J. T. Taylor, Cotton Weaving and Designing, 1909, p. 307", Standing::Published);
const RUN: Origin =
    Origin("8000 yards to the pound are 5 run: W. H. Dooley, Textiles, 1914, p. 51", Standing::Published);
const CUT: Origin =
    Origin("9000 yards to the pound are No. 30 cut: W. H. Dooley, Textiles, 1914, p. 52", Standing::Published);
const LABEL: Origin = Origin("as printed on the bands of balls; common practice, no source", Standing::CommonPractice);

pub(super) const LINEAR_DENSITY: &[Unit] = &[
    density("tex", &["g/km"], 0.001, Metric, TEX),
    density("dtex", &["decitex"], 0.0001, Metric, TEX),
    density("denier", &["den", "deniers", "g/9000 m"], 0.001 / 9.0, Metric, DENIER),
    density("jute count", &["jute", "count jute", "lb/14400 yd"], POUND / (14_400.0 * YARD), Inch, JUTE)
        .folded(Unknown),
    density("mg/km", &["mtex"], 1e-6, Metric, TEX),
    density("g/m", &["ktex", "kg/km"], 1.0, Metric, SI),
    density("g/100 m", &[], 0.01, Metric, DERIVED),
    density("lb/yd", &[], POUND / YARD, Inch, DERIVED),
    density("oz/100 yd", &[], OUNCE / (100.0 * YARD), Inch, DERIVED),
];

pub(super) const YIELD: &[Unit] = &[
    yarn("m/100 g", &[], 0.01, Metric, LABEL),
    yarn("yd/lb", &["ypp", "yds/lb", "yards/pound", "yards/lb", "yd/pound"], YARD / POUND, Inch, AGREEMENT),
    yarn("m/g", &["km/kg"], 1.0, Metric, SI),
    yarn("m/kg", &[], 0.001, Metric, SI),
    yarn("m/50 g", &[], 0.02, Metric, LABEL),
    yarn("yd/oz", &["yds/oz", "yards/oz", "yards/ounce"], YARD / OUNCE, Inch, AGREEMENT),
    yarn("yd/4 oz", &["yds/4 oz", "yards/4 oz"], YARD / (4.0 * OUNCE), Inch, LABEL),
    yarn("yd/100 g", &["yds/100 g", "yards/100 g"], YARD / 100.0, Inch, LABEL),
    yarn("yd/50 g", &["yds/50 g", "yards/50 g"], YARD / 50.0, Inch, LABEL),
    yarn("Nm", &["metric count", "count metric", "number metric"], 1.0, Metric, NUMBER_METRIC).folded(OfTheSingles),
    yarn(
        "worsted count",
        &["worsted", "worsted counts", "count worsted", "counts worsted"],
        hanks_of(560.0),
        Inch,
        DAVIS,
    )
    .folded(OfTheSingles),
    yarn(
        "cotton count",
        &["cotton", "cotton counts", "count cotton", "counts cotton", "English cotton count", "Ne"],
        hanks_of(840.0),
        Inch,
        DAVIS,
    )
    .folded(OfTheSingles),
    yarn(
        "linen lea",
        &["linen", "lea", "leas", "linen count", "count linen", "lea count", "count lea"],
        hanks_of(300.0),
        Inch,
        TAYLOR,
    )
    .folded(OfTheSingles),
    yarn(
        "spun silk count",
        &["spun silk", "count spun silk", "English spun silk", "English spun silk count"],
        hanks_of(840.0),
        Inch,
        TAYLOR,
    )
    .folded(OfTheFinished),
    yarn("metric spun silk count", &["metric spun silk", "count metric spun silk"], 1.0, Metric, METRIC_SILK)
        .folded(OfTheSingles),
    yarn("woollen run", &["run", "runs", "woolen run", "woollen runs", "woolen runs"], hanks_of(1600.0), Inch, RUN)
        .folded(Unknown),
    yarn("woollen cut", &["cut", "cuts", "woolen cut", "woollen cuts", "woolen cuts"], hanks_of(300.0), Inch, CUT)
        .folded(Unknown),
    yarn(
        "Yorkshire skein",
        &["Yorkshire skeins", "skein", "skeins", "Yorkshire", "Yorkshire woollen"],
        hanks_of(256.0),
        Inch,
        DAVIS,
    )
    .folded(Unknown),
    yarn("Alloa count", &["Alloa", "count Alloa", "Alloa woollen"], hanks_of(240.0), Inch, SCOTCH).folded(OfEachThread),
    yarn(
        "Galashiels cut",
        &["Galashiels", "Galashiels cuts", "Galashiels count", "count Galashiels", "Scotch cut"],
        hanks_of(200.0),
        Inch,
        DAVIS,
    )
    .folded(OfEachThread),
    yarn("Leicester count", &["Leicester", "count Leicester", "Leicester lamb's wool"], hanks_of(176.0), Inch, DAVIS)
        .folded(Unknown),
    yarn("French cotton count", &["French cotton", "count French cotton"], 2.0, Metric, FRENCH_COTTON).folded(Unknown),
];

/// Metres per gram of a yarn of which one hank of so many yards weighs a pound.
const fn hanks_of(yards: f64) -> f64 {
    yards * YARD / POUND
}

const fn density(
    symbol: &'static str,
    also: &'static [&'static str],
    grams_per_metre: f64,
    system: System,
    origin: Origin,
) -> Unit {
    Unit::new(Kind::LinearDensity, symbol, also, grams_per_metre, system, origin)
}

const fn yarn(
    symbol: &'static str,
    also: &'static [&'static str],
    metres_per_gram: f64,
    system: System,
    origin: Origin,
) -> Unit {
    Unit::new(Kind::Yield, symbol, also, metres_per_gram, system, origin)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 496054.6478565179 is the exact 1133980925/2286, from the yard and the pound as agreed in 1959.
    #[test]
    fn tex_times_yards_per_pound_is_one_constant() {
        let product = (POUND / YARD) * 1000.0;
        assert!((product / (1_133_980_925.0 / 2286.0) - 1.0).abs() < 1e-15);
    }
}
