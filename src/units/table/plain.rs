//! Units without a dimension: ratios, angles, shares and numbers of things. Base: one, radian.

use super::{Origin, PLAIN_NUMBER, SI, Standing, Unit};
use crate::units::Kind;
use crate::units::unit::System::Neutral;

const WHORL: Origin =
    Origin("turns of the flyer to one of the wheel; common practice, no source", Standing::CommonPractice);
const DEGREE: Origin =
    Origin("BIPM, The International System of Units, 9th edition, 2019, table 8: pi/180 rad", Standing::Standard);
const PERCENT: Origin = Origin("a hundredth", Standing::Standard);
/// A full turn is two pi.
const DEGREES_IN_RADIANS: f64 = std::f64::consts::PI / 180.0;

pub(super) const RATIO: &[Unit] = &[Unit::new(Kind::Ratio, ":1", &["to 1", "to one"], 1.0, Neutral, WHORL)];

pub(super) const ANGLE: &[Unit] = &[
    Unit::new(Kind::Angle, "°", &["deg", "degree", "degrees"], DEGREES_IN_RADIANS, Neutral, DEGREE),
    Unit::new(Kind::Angle, "rad", &["radian", "radians"], 1.0, Neutral, SI),
];

pub(super) const SHARE: &[Unit] = &[
    Unit::new(Kind::Share, "%", &["percent", "per cent", "pct"], 0.01, Neutral, PERCENT),
    Unit::new(Kind::Share, "", &[], 1.0, Neutral, PLAIN_NUMBER),
];

pub(super) const COUNT: &[Unit] = &[
    things("", &[]),
    things("turns", &["turn"]),
    things("twists", &["twist"]),
    things("treadles", &["treadle"]),
    things("plies", &["ply"]),
    things("strips", &["strip"]),
    things("braids", &["braid"]),
    things("bobbins", &["bobbin"]),
    things("skeins", &["skein"]),
    things("sets", &["set"]),
    things("loops", &["loop"]),
    things("wraps", &["wrap"]),
    things("fibres", &["fibre", "fibers", "fiber"]),
    things("st", &["sts", "stitch", "stitches"]),
    things("rows", &["row", "rounds"]),
];

const fn things(symbol: &'static str, also: &'static [&'static str]) -> Unit {
    Unit::new(Kind::Count, symbol, also, 1.0, Neutral, PLAIN_NUMBER)
}
