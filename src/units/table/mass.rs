//! Units of mass. Base: gram.

use super::{AGREEMENT, OUNCE, Origin, POUND, SI, Standing, System, Unit};
use crate::units::Kind;
use System::{Inch, Metric};

const GRAINS: Origin =
    Origin("7000 grains to the pound: W. Davis, Hosiery Manufacture, 1920, p. 39", Standing::Published);

pub(super) const MASS: &[Unit] = &[
    mass("g", &["gram", "grams", "gramme", "grammes", "gm", "gms"], 1.0, Metric, SI),
    mass("oz", &["ozs", "ounce", "ounces"], OUNCE, Inch, AGREEMENT),
    mass("kg", &["kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes"], 1000.0, Metric, SI),
    mass("lb", &["lbs", "pound", "pounds"], POUND, Inch, AGREEMENT),
    mass("mg", &["milligram", "milligrams"], 0.001, Metric, SI),
    mass("gr", &["grain", "grains"], POUND / 7000.0, Inch, GRAINS),
];

const fn mass(symbol: &'static str, also: &'static [&'static str], grams: f64, system: System, origin: Origin) -> Unit {
    Unit::new(Kind::Mass, symbol, also, grams, system, origin)
}
