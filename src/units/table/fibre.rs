//! Units of a fibre's diameter and of density. Base: metre, gram per cubic metre.

use super::{DERIVED, Origin, SI, Standing, System, Unit};
use crate::units::Kind;
use System::Metric;

const MICRON: Origin =
    Origin("the wool trade's word for a micrometre; common practice, no source", Standing::CommonPractice);

pub(super) const FIBRE_DIAMETER: &[Unit] = &[
    diameter("micron", &["microns"], 1e-6, MICRON),
    diameter("µm", &["um", "micrometre", "micrometres", "micrometer", "micrometers"], 1e-6, SI),
    diameter("m", &[], 1.0, SI),
];

pub(super) const DENSITY: &[Unit] = &[
    density("g/cm³", &["g/cm3", "g/cc", "g/ml"], 1e6, DERIVED),
    density("kg/m³", &["kg/m3"], 1e3, DERIVED),
    density("g/m³", &["g/m3"], 1.0, DERIVED),
];

const fn diameter(symbol: &'static str, also: &'static [&'static str], metres: f64, origin: Origin) -> Unit {
    Unit::new(Kind::FibreDiameter, symbol, also, metres, Metric, origin)
}

const fn density(
    symbol: &'static str,
    also: &'static [&'static str],
    grams_per_cubic_metre: f64,
    origin: Origin,
) -> Unit {
    Unit::new(Kind::Density, symbol, also, grams_per_cubic_metre, Metric, origin)
}
