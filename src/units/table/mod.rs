//! The units themselves: one table per kind, each row with its source.
//!
//! Factors that a standard or an agreement defines are written as defined, and everything else is worked out from those here. The few
//! literals are square roots, which the compiler cannot take; a test beside each works it out again.

mod fabric;
mod fibre;
mod length;
mod mass;
mod money;
mod numbering;
mod plain;
mod thickness;
mod time;
mod twist;

use super::Kind;
use super::standing::Standing;
use super::unit::{Folding, Origin, System, Unit};

/// The units of a kind, those first that a spinner is likeliest to mean.
pub fn table(kind: Kind) -> &'static [Unit] {
    match kind {
        Kind::Mass => mass::MASS,
        Kind::Length => length::LENGTH,
        Kind::Area => length::AREA,
        Kind::LinearDensity => numbering::LINEAR_DENSITY,
        Kind::Yield => numbering::YIELD,
        Kind::Wraps => thickness::WRAPS,
        Kind::Twist => twist::TWIST,
        Kind::Ratio => plain::RATIO,
        Kind::Angle => plain::ANGLE,
        Kind::Share => plain::SHARE,
        Kind::FibreDiameter => fibre::FIBRE_DIAMETER,
        Kind::Stitches => fabric::STITCHES,
        Kind::Rows => fabric::ROWS,
        Kind::Ends => fabric::ENDS,
        Kind::Firmness => fabric::FIRMNESS,
        Kind::Picks => fabric::PICKS,
        Kind::YarnPerArea => fabric::YARN_PER_AREA,
        Kind::Loft => thickness::LOFT,
        Kind::Density => fibre::DENSITY,
        Kind::TwistFactor => twist::TWIST_FACTOR,
        Kind::Count => plain::COUNT,
        Kind::Time => time::TIME,
        Kind::Temperature => time::TEMPERATURE,
        Kind::Speed => time::SPEED,
        Kind::Money => &money::MONEY,
    }
}

/// Metres in an inch.
const INCH: f64 = 0.0254;
/// Metres in a yard.
const YARD: f64 = 0.9144;
/// Grams in a pound.
const POUND: f64 = 453.59237;
/// Grams in an ounce: a sixteenth of a pound.
const OUNCE: f64 = POUND / 16.0;

const SI: Origin = Origin("BIPM, The International System of Units, 9th edition, 2019", Standing::Standard);
const AGREEMENT: Origin = Origin("International yard and pound agreement, 1959", Standing::Standard);
const DERIVED: Origin = Origin("by algebra from the units it is made of", Standing::Standard);
const TRADE_WORD: Origin =
    Origin("a word of the craft for one per length; common practice, no source", Standing::CommonPractice);
const PLAIN_NUMBER: Origin = Origin("a plain number", Standing::Standard);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_has_a_base_unit_and_every_row_a_source() {
        for kind in Kind::ALL {
            assert!(
                table(kind).iter().any(|unit| unit.factor == 1.0 && unit.zero == 0.0),
                "{kind:?} lacks its base unit"
            );
            for unit in table(kind) {
                assert_eq!(unit.kind, kind, "{} stands in the wrong table", unit.symbol);
                assert!(unit.factor.is_finite() && unit.factor > 0.0, "{}", unit.symbol);
                assert!(!unit.source.is_empty(), "{}", unit.symbol);
            }
        }
    }
}
