//! Twist: how much, at which angle, and what of it stands in singles, plied and washed yarn.

use super::expression::dimension::{one, square};
use super::expression::{Figure, Formula, atan, pi, root, sin, tan};
use crate::units::{Angle, Count, Length, LinearDensity, Share, Standing, Twist, TwistFactor, Wraps};

static HELIX: Formula = Formula {
    source: "slope of a helix: tan(angle) = 2π × radius × twist, the plies lying in a ring",
    standing: Standing::Standard,
};
static BALANCE: Formula = Formula {
    source: "published craft article for two plies (two thirds); derived for more",
    standing: Standing::CommonPractice,
};

/// Twist of a plied yarn whose plies lean at an angle: tan(angle) × wraps of the singles × sin(π ÷ plies) ÷ π.
///
/// The plies lie in a ring whose radius is d ÷ (2 sin(π ÷ plies)), d being one over the wraps of the singles.
/// Wraps overstate width: an angle reckoned from wraps is for comparing yarns. `plies` from 2.
pub fn ply_twist(angle: &Figure<Angle>, singles: &Figure<Wraps>, plies: &Figure<Count>) -> Figure<Twist> {
    (tan(angle) * singles * sin(&(pi::<Angle>() / plies)) / pi::<Share>()).by(&HELIX)
}

/// The same line solved for the angle.
pub fn ply_angle(twist: &Figure<Twist>, singles: &Figure<Wraps>, plies: &Figure<Count>) -> Figure<Angle> {
    atan(&(pi::<Share>() * twist / singles / sin(&(pi::<Angle>() / plies)))).by(&HELIX)
}

/// Angle of the fibres at the surface of a single: arctan(π × twist ÷ wraps).
pub fn singles_angle(twist: &Figure<Twist>, singles: &Figure<Wraps>) -> Figure<Angle> {
    atan(&(pi::<Share>() * twist / singles)).by(&HELIX)
}

/// Ply twist over singles twist for balance: n ÷ (n + 1), since n plying turns take one out of each single's n + 1.
pub fn balance(plies: &Figure<Count>) -> Figure<Share> {
    (plies / (plies + one::<Count>())).by(&BALANCE)
}

/// Ply twist over singles twist at equal twist factor: 1 ÷ √n.
pub fn equal_factor(plies: &Figure<Count>) -> Figure<Share> {
    (one::<Count>() / root(plies))
        .by(&Formula { source: "textile engineering; from memory", standing: Standing::FromMemory })
}

/// Half-way between two rules that disagree: their geometric mean.
pub fn between(balance: &Figure<Share>, equal_factor: &Figure<Share>) -> Figure<Share> {
    root(&(balance * equal_factor)).by(&Formula {
        source: "our choice: two rules disagree, the washed sample decides",
        standing: Standing::OurChoice,
    })
}

/// Twist of the singles for a ply twist: ply twist ÷ fraction.
pub fn singles_twist(ply: &Figure<Twist>, fraction: &Figure<Share>) -> Figure<Twist> {
    (ply / fraction).by(&BALANCE)
}

/// Twist of the singles from a fresh ply-back of `folds` strands: what it shows is `balance` of it.
pub fn from_ply_back(shown: &Figure<Twist>, balance: &Figure<Share>) -> Figure<Twist> {
    (shown / balance).by(&BALANCE)
}

/// Twist to put in per length let in under tension: turns stay while the length goes.
pub fn at_wheel(washed: &Figure<Twist>, keep: &Figure<Share>) -> Figure<Twist> {
    (washed * keep).by(&Formula { source: "turns stay, length goes", standing: Standing::Standard })
}

/// Twist fresh off the wheel and at rest, from that under tension.
pub fn fresh(at_wheel: &Figure<Twist>, winding_stretch: &Figure<Share>) -> Figure<Twist> {
    (at_wheel * super::expression::with(winding_stretch))
        .by(&Formula { source: "turns stay, length goes", standing: Standing::Standard })
}

/// Twist under tension, from that fresh and at rest.
pub fn under_tension(fresh: &Figure<Twist>, winding_stretch: &Figure<Share>) -> Figure<Twist> {
    (fresh / super::expression::with(winding_stretch))
        .by(&Formula { source: "turns stay, length goes", standing: Standing::Standard })
}

/// Full twists that a two-fold ply-back shows in a length.
pub fn ply_back(singles: &Figure<Twist>, balance: &Figure<Share>, length: &Figure<Length>) -> Figure<Count> {
    (singles * balance * length).by(&BALANCE)
}

/// Full twists in a length of plied yarn.
pub fn turns_in(twist: &Figure<Twist>, length: &Figure<Length>) -> Figure<Count> {
    (twist * length).by(&Formula { source: "definition of twist, ISO 2061", standing: Standing::Standard })
}

/// Twist factor: twist × √(linear density).
pub fn twist_factor(twist: &Figure<Twist>, density: &Figure<LinearDensity>) -> Figure<TwistFactor> {
    (twist * root(density))
        .by(&Formula { source: "ISO/TR 8091, twist factor related to the Tex System", standing: Standing::Standard })
}

/// Share of length that twist takes from a single: tan²(angle ÷ 2). For reading only: a weighed length already holds it.
///
/// # Source
/// J. W. S. Hearle, P. Grosberg and S. Backer, *Structural Mechanics of Fibers, Yarns and Fabrics*, 1969 (from memory).
pub fn contraction(angle: &Figure<Angle>) -> Figure<Share> {
    square(&tan(&(angle / Figure::<Count>::constant("2", 2.0)))).by(&Formula {
        source: "J. W. S. Hearle, P. Grosberg and S. Backer, Structural Mechanics of Fibers, Yarns and Fabrics, 1969; from memory",
        standing: Standing::FromMemory,
    })
}
