//! Which unit leads: for each kind and system the unit a spinner of that system reads, with its usual digits.

use super::{Kind, System, Unit, unit};

/// The unit in which a kind is printed where nothing narrower is asked for.
pub fn leading(kind: Kind, system: System) -> &'static Unit {
    let (metric, inch) = match kind {
        Kind::Mass => ("g", "oz"),
        Kind::Length => ("m", "yd"),
        Kind::Area => ("m²", "in²"),
        Kind::LinearDensity => ("tex", "tex"),
        Kind::Yield => ("m/100 g", "yd/lb"),
        Kind::Wraps => ("wraps/cm", "wpi"),
        Kind::Twist => ("turns/cm", "tpi"),
        Kind::Ratio => (":1", ":1"),
        Kind::Angle => ("°", "°"),
        Kind::Share => ("", ""),
        Kind::FibreDiameter => ("µm", "µm"),
        Kind::Stitches => ("st/10 cm", "st/4 in"),
        Kind::Rows => ("rows/10 cm", "rows/4 in"),
        Kind::Ends => ("ends/10 cm", "ends/in"),
        Kind::Picks => ("picks/10 cm", "picks/in"),
        Kind::YarnPerArea => ("m/m²", "yd/in²"),
        Kind::Firmness => ("st/in/√(yd/lb)", "st/in/√(yd/lb)"),
        Kind::Loft => ("wpi/√(yd/lb)", "wpi/√(yd/lb)"),
        Kind::Density => ("g/cm³", "g/cm³"),
        Kind::TwistFactor => ("turns/m·√tex", "turns/m·√tex"),
        Kind::Count => ("", ""),
        Kind::Time => ("s", "s"),
        Kind::Temperature => ("°C", "°F"),
        Kind::Speed => ("turns/min", "turns/min"),
        Kind::Money => ("EUR", "USD"),
    };
    let symbol = if system == System::Inch { inch } else { metric };
    unit(kind, symbol).expect("invariant: leading units stand in the tables; a test looks each up")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_has_a_leading_unit_in_both_systems() {
        for kind in Kind::ALL {
            assert_eq!(leading(kind, System::Metric).kind, kind);
            assert_eq!(leading(kind, System::Inch).kind, kind);
        }
    }
}
