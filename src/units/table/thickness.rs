//! Units of wraps and of loft. Base: one per metre; √g/m^1.5, which is one per metre over the root of metres per gram.

use super::{DERIVED, INCH, Origin, System, TRADE_WORD, Unit};
use crate::units::Kind;
use System::{Inch, Metric};

pub(super) const WRAPS: &[Unit] = &[
    wraps("wpi", &["wraps/in", "wraps/inch", "wrap/in", "wraps an inch", "w/in"], 1.0 / INCH, Inch),
    wraps("wraps/cm", &["wrap/cm", "wraps/centimetre", "w/cm"], 100.0, Metric),
    wraps("wraps/m", &["wrap/m"], 1.0, Metric),
    wraps("wraps/3 cm", &["wrap/3 cm", "w/3 cm"], 100.0 / 3.0, Metric),
];

/// `1 / 0.0254 / sqrt(0.9144 / 453.59237)`, which the test below works out again.
pub(super) const WPI_OVER_ROOT_YARDS_PER_POUND: f64 = 876.861_586_540_365_4;

pub(super) const LOFT: &[Unit] = &[
    loft("wpi/√(yd/lb)", &["wpi/sqrt(yd/lb)"], WPI_OVER_ROOT_YARDS_PER_POUND, Inch),
    loft("wraps/cm/√(m/100 g)", &["wraps/cm/sqrt(m/100 g)"], 1000.0, Metric),
    loft("wraps/m/√(m/g)", &["wraps/m/sqrt(m/g)"], 1.0, Metric),
];

const fn wraps(symbol: &'static str, also: &'static [&'static str], per_metre: f64, system: System) -> Unit {
    let origin: Origin = TRADE_WORD;
    Unit::new(Kind::Wraps, symbol, also, per_metre, system, origin)
}

const fn loft(symbol: &'static str, also: &'static [&'static str], base: f64, system: System) -> Unit {
    Unit::new(Kind::Loft, symbol, also, base, system, DERIVED)
}

#[cfg(test)]
mod tests {
    use super::super::{POUND, YARD};
    use super::*;

    #[test]
    fn literals_are_the_roots_they_claim_to_be() {
        let inch_pound = 1.0 / INCH / (YARD / POUND).sqrt();
        assert!((WPI_OVER_ROOT_YARDS_PER_POUND / inch_pound - 1.0).abs() < 1e-15);
        let metric = 100.0 / 0.01_f64.sqrt();
        assert!((LOFT[1].factor / metric - 1.0).abs() < 1e-15);
    }
}
