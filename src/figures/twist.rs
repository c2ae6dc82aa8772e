//! Twist: how much, at which angle, and what of it stands in singles, plied and washed yarn.

use super::expression::dimension::{one, square};
use super::expression::{Figure, Formula, atan, cos, pi, rest, root, sin, tan};
use crate::units::{Angle, Count, Length, LinearDensity, Share, Standing, Twist, TwistFactor, Wraps};

static HELIX: Formula = Formula {
    source: "slope of a helix: tan(angle) = 2π × radius × twist, the plies lying in a ring",
    standing: Standing::Standard,
};
static CABLE: Formula = Formula {
    source: "turns add along a strand: those of the cable against those of its plies; the rules of balance once more",
    standing: Standing::OurChoice,
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

/// Twist of a yarn of singles whose fibres lean at an angle: tan(angle) × wraps ÷ π.
pub fn twist_of_singles(angle: &Figure<Angle>, singles: &Figure<Wraps>) -> Figure<Twist> {
    (tan(angle) * singles / pi::<Share>()).by(&HELIX)
}

/// Twist to ply a strand with that will be cabled: its balanced twist, and the extra that cabling takes out again.
pub fn strand(balanced: &Figure<Twist>, extra: &Figure<Twist>) -> Figure<Twist> {
    (balanced + extra).by(&CABLE)
}

/// Ply twist that is left in a strand once it is cabled: each turn of the cable takes one out.
pub fn left_in_strand(strand: &Figure<Twist>, cable: &Figure<Twist>) -> Figure<Twist> {
    (strand - cable).by(&CABLE)
}

/// Twist left in a single once it is plied: singles twist − ply twist × cos²(angle of the plies).
///
/// Both per their own length; a helix at an angle keeps cos² of a turn as twist of its strand and bends with the rest.
///
/// # Source
/// *J. Textile Machinery Society of Japan*, English edition 14 (1968), p. 115, abstract: 1 − (U ÷ u) cos²β.
pub fn left_in_single(singles: &Figure<Twist>, ply: &Figure<Twist>, angle: &Figure<Angle>) -> Figure<Twist> {
    (singles - ply * square(&cos(angle))).by(&Formula {
        source: "J. Textile Machinery Society of Japan, Engl. ed. 14 (1968), p. 115, abstract",
        standing: Standing::Published,
    })
}

/// Length that a round strand would lose by lying at an angle: 1 − cos(angle). For reading only: singles untwist and lengthen
/// as they are plied, so that a balanced yarn loses far less.
pub fn aslant(angle: &Figure<Angle>) -> Figure<Share> {
    rest(&cos(angle)).by(&HELIX)
}

/// Ply twist over the most that round plies can take: twist × (1 − plying shortens) ÷ wraps ÷ most, where `most` is in turns
/// for each strand's width of its length.
///
/// Plies are softer than the wire that this is true of, and wraps overstate their width: above one it is a warning.
///
/// # Source
/// J. Bohr and K. Olsen, "The ancient art of laying rope", *EPL* 93 (2011) 60004: every rope has a most twist.
pub fn of_most(
    twist: &Figure<Twist>,
    singles: &Figure<Wraps>,
    shortens: &Figure<Share>,
    most: &Figure<Share>,
) -> Figure<Share> {
    (twist / singles * rest(shortens) / most).seen_as().by(&Formula {
        source: "J. Bohr and K. Olsen, The ancient art of laying rope, EPL 93 (2011) 60004",
        standing: Standing::Published,
    })
}

/// Twist of a kind of singles among others: as much for its fineness as a middling single has, twist × √(middling ÷ own).
pub fn of_kind(
    middling: &Figure<Twist>,
    middling_density: &Figure<LinearDensity>,
    own: &Figure<LinearDensity>,
) -> Figure<Twist> {
    (middling * root(&(middling_density / own)))
        .by(&Formula { source: "our choice: plies of one twist factor", standing: Standing::OurChoice })
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

/// Bumps that are counted for so many full twists: each ply comes up once a twist.
pub fn bumps(twists: &Figure<Count>, plies: &Figure<Count>) -> Figure<Count> {
    (plies * twists).by(&Formula { source: "each ply comes up once a twist", standing: Standing::Standard })
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
