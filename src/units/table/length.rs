//! Units of length and of area. Base: metre, square metre.

use super::{AGREEMENT, DERIVED, INCH, Origin, SI, System, Unit, YARD};
use crate::units::Kind;
use System::{Inch, Metric};

pub(super) const LENGTH: &[Unit] = &[
    length("m", &["metre", "metres", "meter", "meters"], 1.0, Metric, SI),
    length("cm", &["centimetre", "centimetres", "centimeter", "centimeters"], 0.01, Metric, SI),
    length("mm", &["millimetre", "millimetres", "millimeter", "millimeters"], 0.001, Metric, SI),
    length("yd", &["yds", "yard", "yards"], YARD, Inch, AGREEMENT),
    length("in", &["inch", "inches", "\"", "''"], INCH, Inch, AGREEMENT),
    length("ft", &["foot", "feet", "'"], YARD / 3.0, Inch, AGREEMENT),
    length("km", &["kilometre", "kilometres", "kilometer", "kilometers"], 1000.0, Metric, SI),
];

pub(super) const AREA: &[Unit] = &[
    area("m²", &["m2", "sq m", "square metre", "square metres", "square meter", "square meters"], 1.0, Metric, SI),
    area("cm²", &["cm2", "sq cm"], 1e-4, Metric, SI),
    area("mm²", &["mm2", "sq mm"], 1e-6, Metric, SI),
    area("µm²", &["µm2", "um2", "sq micron"], 1e-12, Metric, SI),
    area("in²", &["in2", "sq in", "square inch", "square inches"], INCH * INCH, Inch, DERIVED),
    area("ft²", &["ft2", "sq ft", "square foot", "square feet"], (YARD / 3.0) * (YARD / 3.0), Inch, DERIVED),
    area("yd²", &["yd2", "sq yd", "square yard", "square yards"], YARD * YARD, Inch, DERIVED),
];

const fn length(
    symbol: &'static str,
    also: &'static [&'static str],
    metres: f64,
    system: System,
    origin: Origin,
) -> Unit {
    Unit::new(Kind::Length, symbol, also, metres, system, origin)
}

const fn area(
    symbol: &'static str,
    also: &'static [&'static str],
    square_metres: f64,
    system: System,
    origin: Origin,
) -> Unit {
    Unit::new(Kind::Area, symbol, also, square_metres, system, origin)
}
