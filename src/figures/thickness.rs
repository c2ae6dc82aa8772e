//! How thick a yarn is, how heavy, and what lies between the two: loft.
//!
//! Two diameters are kept apart. Wraps count how often a yarn lies side by side on a stick; their diameter holds the air of
//! a soft yarn. The packed diameter of the mill handbooks is that of a firm cylinder, about half as much.

use super::expression::dimension::{one, reciprocal, square};
use super::expression::{Figure, Formula, pi, root, touching};
use crate::units::{Count, Density, LinearDensity, Loft, PackedDiameter, Share, Standing, Wraps, Yield};

/// Loft, K = wraps ÷ √(length per weight).
///
/// The form is that of T. R. Ashenhurst, as reported by J. T. Taylor, *Cotton Weaving and Designing*, 1909, pp. 333-337, with
/// wraps in place of the diameters of a packed yarn. Wraps in 1/m and yield in m/g, both positive.
pub fn loft(wraps: &Figure<Wraps>, yarn: &Figure<Yield>) -> Figure<Loft> {
    (wraps / root(yarn)).by(&Formula {
        source: "form of Ashenhurst, in J. T. Taylor, Cotton Weaving and Designing, 1909, pp. 333-337",
        standing: Standing::Published,
    })
}

/// Wraps of a yarn of known loft and yield: K √yield.
pub fn wraps(loft: &Figure<Loft>, yarn: &Figure<Yield>) -> Figure<Wraps> {
    (loft * root(yarn)).by(&Formula {
        source: "form of Ashenhurst, in J. T. Taylor, Cotton Weaving and Designing, 1909, pp. 333-337",
        standing: Standing::Published,
    })
}

/// Yield of a yarn of known wraps and loft: (wraps ÷ K)².
pub fn yarn_yield(wraps: &Figure<Wraps>, loft: &Figure<Loft>) -> Figure<Yield> {
    square(&(wraps / loft)).by(&Formula {
        source: "form of Ashenhurst, in J. T. Taylor, Cotton Weaving and Designing, 1909, pp. 333-337",
        standing: Standing::Published,
    })
}

/// Linear density from yield: one is the reciprocal of the other.
pub fn linear_density(yarn: &Figure<Yield>) -> Figure<LinearDensity> {
    reciprocal(yarn).by(&Formula { source: "definition of linear density, ISO 2060", standing: Standing::Standard })
}

/// Yield from linear density.
pub fn yield_of(density: &Figure<LinearDensity>) -> Figure<Yield> {
    reciprocal(density).by(&Formula { source: "definition of linear density, ISO 2060", standing: Standing::Standard })
}

/// Mass per volume of the cylinder that the wraps stand for: 4 ÷ π × K².
///
/// Follows from mass = density × length × π d²/4 with d = 1/wraps; 0.9790 K² g/cm³ where K is in wraps per inch over √(yd/lb).
pub fn yarn_density(loft: &Figure<Loft>) -> Figure<Density> {
    (Figure::<Share>::constant("4", 4.0) / pi::<Share>() * square(loft))
        .by(&Formula { source: "volume of a cylinder", standing: Standing::Standard })
}

/// Diameter of the packed cylinder of the mill handbooks: 1 ÷ (K √yield), with the handbook's K.
///
/// # Source
/// J. T. Taylor, *Cotton Weaving and Designing*, 1909, p. 335: 78 counts of cotton, K 0.95.
pub fn packed_diameter(handbook: &Figure<Loft>, yarn: &Figure<Yield>) -> Figure<PackedDiameter> {
    let packed = handbook * root(yarn);
    // The handbook's K counts packed threads, so what it gives is a packed diameter: the one place where the kinds meet.
    reciprocal(&packed).seen_as().by(&Formula {
        source: "J. T. Taylor, Cotton Weaving and Designing, 1909, pp. 333-337",
        standing: Standing::Published,
    })
}

/// Wraps of the singles of a yarn of singles, which are its own.
pub fn unplied(yarn: &Figure<Wraps>) -> Figure<Wraps> {
    yarn.clone().by(&Formula { source: "a yarn of singles is as thick as its singles", standing: Standing::Standard })
}

/// Wraps of the singles of a plied yarn: its wraps times how many times it is thicker than one of its singles.
pub fn singles_wraps(plied: &Figure<Wraps>, thicker: &Figure<Share>) -> Figure<Wraps> {
    (plied * thicker).by(&Formula {
        source: "rule of two writers on spinning, read in published craft texts",
        standing: Standing::CommonPractice,
    })
}

/// How many times thicker a sample's plied yarn is than its singles.
pub fn thickening(singles: &Figure<Wraps>, plied: &Figure<Wraps>) -> Figure<Share> {
    (singles / plied).by(&Formula { source: "ratio of two readings", standing: Standing::Standard })
}

/// Width of a plied yarn over that of its singles where no rule of the trade is known: the geometry, give or take nesting and bloom.
pub fn bloomed(mean_width: &Figure<Share>, bloom: &Figure<Share>) -> Figure<Share> {
    (mean_width * bloom)
        .by(&Formula { source: "our choice: the geometry of touching plies", standing: Standing::OurChoice })
}

/// Mean width of touching equal circles, in diameters of one: 1 + n ÷ π, for a hull with n circles round its edge.
///
/// Cauchy's formula: the mean width of a convex figure is its perimeter over π; the hull of n circles in a ring has
/// the perimeter n + π diameters. Gives 1.6366 for two, 1.9549 for three, 2.2732 for four.
pub fn mean_width(round_the_edge: &Figure<Count>) -> Figure<Share> {
    (one() + round_the_edge / pi::<Share>())
        .seen_as()
        .by(&Formula { source: "Cauchy's formula for the mean width of a convex figure", standing: Standing::Standard })
}

/// Wraps of one kind of singles among unlike plies: wraps of a middling single × hull of the plies ÷ hull of equal ones, where the
/// plies are as thick as the roots of their weights per length: w × touching(√density of all) ÷ (√own density × equal hull).
///
/// With equal plies it is `middling` itself. `beside` are the linear densities of all plies that lie together, two to six,
/// `equal_hull` the mean width of as many equal ones in diameters of one.
pub fn wraps_of_kind(
    middling: &Figure<Wraps>,
    own: &Figure<LinearDensity>,
    beside: &[Figure<LinearDensity>],
    equal_hull: &Figure<Share>,
) -> Figure<Wraps> {
    let roots: Vec<_> = beside.iter().map(root).collect();
    (middling * (touching(&roots) / root(own)) / equal_hull).by(&Formula {
        source: "our choice: plies of one loft; Cauchy's formula for the hull of touching circles",
        standing: Standing::OurChoice,
    })
}

/// Wraps to a length, as they are counted over one: wraps ÷ length.
pub fn wraps_counted(counted: &Figure<Count>, length: &Figure<crate::units::Length>) -> Figure<Wraps> {
    // What lies side by side and what turns are both counted over a length; here it is the first.
    (counted / length)
        .seen_as()
        .by(&Formula { source: "wraps are counted over a length", standing: Standing::Standard })
}

/// Diameter by wraps: 1 ÷ wraps, with the air that lies in a soft yarn.
pub fn wraps_diameter(wraps: &Figure<Wraps>) -> Figure<crate::units::Length> {
    reciprocal(wraps)
        .seen_as()
        .by(&Formula { source: "yarn lies side by side on the stick", standing: Standing::CommonPractice })
}

/// Wraps counted over a length.
pub fn wraps_in(wraps: &Figure<Wraps>, length: &Figure<crate::units::Length>) -> Figure<Count> {
    (wraps * length).by(&Formula { source: "wraps are counted over a length", standing: Standing::Standard })
}
