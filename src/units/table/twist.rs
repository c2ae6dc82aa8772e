//! Units of twist and of twist factors. Base: turns per metre; turns per metre times the root of grams per metre.

use super::{DERIVED, INCH, Origin, System, TRADE_WORD, Unit};
use crate::units::Kind;
use System::{Inch, Metric};

pub(super) const TWIST: &[Unit] = &[
    twist("tpi", &["turns/in", "turns/inch", "turn/in", "/in", "/inch", "t/in"], 1.0 / INCH, Inch),
    twist("turns/cm", &["turn/cm", "/cm", "tpcm", "t/cm"], 100.0, Metric),
    twist("turns/m", &["turn/m", "/m", "tpm", "t/m", "turns/metre"], 1.0, Metric),
    twist("turns/10 cm", &["turn/10 cm", "t/10 cm", "twists/10 cm", "twist/10 cm"], 10.0, Metric),
    twist("turns/4 in", &["turn/4 in", "t/4 in", "twists/4 in", "twist/4 in"], 0.25 / INCH, Inch),
];

/// `sqrt(0.001)`: one tex is a thousandth of the base unit.
const TURNS_PER_METRE_ROOT_TEX: f64 = 0.031_622_776_601_683_79;
/// `100 sqrt(0.001)`.
const TURNS_PER_CENTIMETRE_ROOT_TEX: f64 = 3.162_277_660_168_379_5;
/// `1 / 0.0254 * sqrt(453.59237 / (560 * 0.9144))`.
const TPI_OVER_ROOT_WORSTED: f64 = 37.054_165_033_629_36;
/// `1 / 0.0254 * sqrt(453.59237 / (840 * 0.9144))`.
const TPI_OVER_ROOT_COTTON: f64 = 30.254_599_059_090_07;
/// `1 / 0.0254 * sqrt(453.59237 / (1600 * 0.9144))`.
const TPI_OVER_ROOT_RUN: f64 = 21.921_539_663_509_133;
/// `1 / 0.0254 * sqrt(453.59237 / (300 * 0.9144))`.
const TPI_OVER_ROOT_CUT: f64 = 50.625_627_303_112_23;
/// `1 / 0.0254 * sqrt(453.59237 / 0.9144)`.
const TPI_OVER_ROOT_YARDS_PER_POUND: f64 = 876.861_586_540_365_4;

pub(super) const TWIST_FACTOR: &[Unit] = &[
    factor("turns/m·√tex", &["turns/m*sqrt(tex)", "turns/m sqrt(tex)"], TURNS_PER_METRE_ROOT_TEX, Metric),
    factor("turns/cm·√tex", &["turns/cm*sqrt(tex)", "turns/cm sqrt(tex)"], TURNS_PER_CENTIMETRE_ROOT_TEX, Metric),
    factor("turns/m/√Nm", &["turns/m/sqrt(Nm)"], 1.0, Metric),
    factor("tpi/√worsted", &["tpi/sqrt(worsted)"], TPI_OVER_ROOT_WORSTED, Inch),
    factor("tpi/√cotton", &["tpi/sqrt(cotton)"], TPI_OVER_ROOT_COTTON, Inch),
    factor("tpi/√run", &["tpi/sqrt(run)"], TPI_OVER_ROOT_RUN, Inch),
    factor("tpi/√cut", &["tpi/sqrt(cut)", "tpi/√lea", "tpi/sqrt(lea)"], TPI_OVER_ROOT_CUT, Inch),
    factor("tpi/√(yd/lb)", &["tpi/sqrt(yd/lb)"], TPI_OVER_ROOT_YARDS_PER_POUND, Inch),
];

const fn twist(symbol: &'static str, also: &'static [&'static str], per_metre: f64, system: System) -> Unit {
    let origin: Origin = TRADE_WORD;
    Unit::new(Kind::Twist, symbol, also, per_metre, system, origin)
}

const fn factor(symbol: &'static str, also: &'static [&'static str], base: f64, system: System) -> Unit {
    Unit::new(Kind::TwistFactor, symbol, also, base, system, DERIVED)
}

#[cfg(test)]
mod tests {
    use super::super::{POUND, YARD};
    use super::*;

    #[test]
    fn literals_are_the_roots_they_claim_to_be() {
        let over_root_of_hanks = |yards: f64| 1.0 / INCH * (POUND / (yards * YARD)).sqrt();
        for (literal, root) in [
            (TURNS_PER_METRE_ROOT_TEX, 0.001_f64.sqrt()),
            (TURNS_PER_CENTIMETRE_ROOT_TEX, 100.0 * 0.001_f64.sqrt()),
            (TPI_OVER_ROOT_WORSTED, over_root_of_hanks(560.0)),
            (TPI_OVER_ROOT_COTTON, over_root_of_hanks(840.0)),
            (TPI_OVER_ROOT_RUN, over_root_of_hanks(1600.0)),
            (TPI_OVER_ROOT_CUT, over_root_of_hanks(300.0)),
            (TPI_OVER_ROOT_YARDS_PER_POUND, over_root_of_hanks(1.0)),
        ] {
            assert!((literal / root - 1.0).abs() < 1e-15, "{literal} is not {root}");
        }
    }
}
