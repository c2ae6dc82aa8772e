//! Kinds of fibre and their densities.
//!
//! Densities are at 65 % relative humidity, where spinners and conditioned laboratories weigh.

use crate::plan::FibreKind;
use crate::units::Standing::{self, FromMemory, Published};

const MORTON: &str = "W. E. Morton and J. W. S. Hearle, Physical Properties of Textile Fibres, Table 5.1";
const DOOLEY: &str = "William H. Dooley, Textiles, 1914, p. 194";
const MEMORY: &str = "from memory";
const KERATIN: &str = "from memory: taken as wool, which is the same matter";

/// All kinds, in the order in which they are offered.
pub(super) static FIBRE_KINDS: &[FibreKind] = &[
    hair("wool", 1.31, Published, MORTON),
    kind("silk", 1.34, Published, MORTON),
    hair("alpaca", 1.30, FromMemory, MEMORY),
    hair("mohair", 1.32, FromMemory, MEMORY),
    hair("cashmere", 1.31, FromMemory, KERATIN),
    hair("yak", 1.31, FromMemory, KERATIN),
    hair("camel", 1.31, FromMemory, KERATIN),
    kind("cotton", 1.52, Published, MORTON),
    kind("linen", 1.5, Published, DOOLEY),
    kind("flax", 1.5, Published, DOOLEY),
    kind("viscose", 1.49, Published, MORTON),
    kind("bamboo viscose", 1.50, FromMemory, MEMORY),
    kind("lyocell", 1.51, FromMemory, MEMORY),
    kind("acetate", 1.32, Published, MORTON),
    kind("casein", 1.30, Published, MORTON),
    kind("nylon", 1.14, Published, MORTON),
    kind("polyester", 1.39, Published, MORTON),
    kind("acrylic", 1.19, Published, MORTON),
    kind("PLA", 1.25, Published, MORTON),
];

/// The kind of this name, whatever its capitals.
pub(super) fn fibre_kind(name: &str) -> Option<&'static FibreKind> {
    let name = name.trim();
    FIBRE_KINDS.iter().find(|kind| kind.name.eq_ignore_ascii_case(name))
}

const fn kind(name: &'static str, density: f64, standing: Standing, source: &'static str) -> FibreKind {
    FibreKind { name, density, felts: false, standing, source }
}

/// Wool and hair, which felt.
const fn hair(name: &'static str, density: f64, standing: Standing, source: &'static str) -> FibreKind {
    FibreKind { felts: true, ..kind(name, density, standing, source) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_unique_and_densities_are_those_of_fibres() {
        for (i, kind) in FIBRE_KINDS.iter().enumerate() {
            assert!(FIBRE_KINDS[..i].iter().all(|before| before.name != kind.name), "{}", kind.name);
            assert!((1.0..1.6).contains(&kind.density), "{}", kind.name);
            assert!(!kind.source.is_empty(), "{}", kind.name);
        }
    }

    #[test]
    fn a_kind_is_found_whatever_its_capitals() {
        assert_eq!(fibre_kind(" Wool ").map(|kind| kind.density), Some(1.31));
        assert_eq!(fibre_kind("woool"), None);
    }
}
