//! Units of knitted, crocheted and woven fabric. Base: one per metre.

use super::{DERIVED, INCH, Origin, System, TRADE_WORD, Unit, YARD};
use crate::units::Kind;
use System::{Inch, Metric};

pub(super) const STITCHES: &[Unit] = &[
    stitches("st/10 cm", &["sts/10 cm", "stitches/10 cm", "stitch/10 cm"], 10.0, Metric),
    stitches(
        "st/4 in",
        &["sts/4 in", "stitches/4 in", "st/4 inches", "sts/4 inches", "stitches/4 inches", "st/4\"", "sts/4\""],
        0.25 / INCH,
        Inch,
    ),
    stitches(
        "st/in",
        &["sts/in", "stitches/in", "st/inch", "sts/inch", "stitches/inch", "stitch/in"],
        1.0 / INCH,
        Inch,
    ),
    stitches("st/cm", &["sts/cm", "stitches/cm", "stitch/cm"], 100.0, Metric),
    stitches("st/m", &["sts/m", "stitches/m"], 1.0, Metric),
];

pub(super) const ROWS: &[Unit] = &[
    rows("rows/10 cm", &["row/10 cm", "r/10 cm", "rounds/10 cm", "rnds/10 cm"], 10.0, Metric),
    rows(
        "rows/4 in",
        &["row/4 in", "r/4 in", "rounds/4 in", "rnds/4 in", "rows/4 inches", "rows/4\""],
        0.25 / INCH,
        Inch,
    ),
    rows("rows/in", &["row/in", "r/in", "rounds/in", "rnds/in", "rows/inch"], 1.0 / INCH, Inch),
    rows("rows/cm", &["row/cm", "r/cm", "rounds/cm", "rnds/cm"], 100.0, Metric),
    rows("rows/m", &["row/m"], 1.0, Metric),
];

pub(super) const ENDS: &[Unit] = &[
    ends("ends/cm", &["end/cm", "epc"], 100.0, Metric),
    ends("ends/10 cm", &["end/10 cm"], 10.0, Metric),
    ends("ends/in", &["epi", "end/in", "ends/inch"], 1.0 / INCH, Inch),
    ends("ends/m", &["end/m"], 1.0, Metric),
];

pub(super) const PICKS: &[Unit] = &[
    picks("picks/cm", &["pick/cm", "ppc"], 100.0, Metric),
    picks("picks/10 cm", &["pick/10 cm"], 10.0, Metric),
    picks("picks/in", &["ppi", "pick/in", "picks/inch"], 1.0 / INCH, Inch),
    picks("picks/m", &["pick/m"], 1.0, Metric),
];

/// Stitches stand where the wraps of loft do.
pub(super) const FIRMNESS: &[Unit] = &[
    firmness("st/in/√(yd/lb)", &["st/in/sqrt(yd/lb)"], super::thickness::WPI_OVER_ROOT_YARDS_PER_POUND, Inch),
    firmness("st/m/√(m/g)", &["st/m/sqrt(m/g)"], 1.0, Metric),
];

pub(super) const YARN_PER_AREA: &[Unit] = &[
    yarn("m/m²", &["m/m2", "m/sq m"], 1.0, Metric),
    yarn("cm/cm²", &["cm/cm2", "cm/sq cm"], 100.0, Metric),
    yarn("m/100 cm²", &["m/100 cm2", "m/100 sq cm"], 100.0, Metric),
    yarn("yd/yd²", &["yd/yd2", "yd/sq yd"], 1.0 / YARD, Inch),
    yarn("yd/in²", &["yd/in2", "yd/sq in"], YARD / (INCH * INCH), Inch),
    yarn("in/in²", &["in/in2", "in/sq in"], 1.0 / INCH, Inch),
];

const fn stitches(symbol: &'static str, also: &'static [&'static str], per_metre: f64, system: System) -> Unit {
    let origin: Origin = TRADE_WORD;
    Unit::new(Kind::Stitches, symbol, also, per_metre, system, origin)
}

const fn rows(symbol: &'static str, also: &'static [&'static str], per_metre: f64, system: System) -> Unit {
    let origin: Origin = TRADE_WORD;
    Unit::new(Kind::Rows, symbol, also, per_metre, system, origin)
}

const fn ends(symbol: &'static str, also: &'static [&'static str], per_metre: f64, system: System) -> Unit {
    Unit::new(Kind::Ends, symbol, also, per_metre, system, TRADE_WORD)
}

const fn picks(symbol: &'static str, also: &'static [&'static str], per_metre: f64, system: System) -> Unit {
    Unit::new(Kind::Picks, symbol, also, per_metre, system, TRADE_WORD)
}

const fn firmness(symbol: &'static str, also: &'static [&'static str], base: f64, system: System) -> Unit {
    Unit::new(Kind::Firmness, symbol, also, base, system, DERIVED)
}

const fn yarn(symbol: &'static str, also: &'static [&'static str], per_metre: f64, system: System) -> Unit {
    Unit::new(Kind::YarnPerArea, symbol, also, per_metre, system, DERIVED)
}
