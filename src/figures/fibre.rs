//! Fibre: how many lie side by side in a yarn, how even that can be, and what damp air does to a weighing.

use super::expression::dimension::{one, reciprocal, square};
use super::expression::{Figure, Formula, pi, root, sum, with};
use crate::units::{Count, Density, FibreDiameter, Length, LinearDensity, Share, SpecificVolume, Standing};

static CYLINDERS: Formula =
    Formula { source: "fibres as cylinders of one density; mass per length adds", standing: Standing::Standard };

/// Variation of fibre diameter from its mean: 21 % at 21 µm, half a point more for each µm.
///
/// # Source
/// Journal abstract on Australian Merino tops, read; linear through 21 % at 21 µm.
pub fn diameter_variation(diameter: &Figure<FibreDiameter>) -> Figure<Share> {
    let at = Figure::<FibreDiameter>::entry(fixed("diameter.middle", "21 µm", 21e-6));
    let per = Figure::<FibreDiameter>::entry(fixed("diameter.step", "200 µm", 200e-6));
    let middle = Figure::<Share>::constant("0.21", 0.21);
    (middle + (diameter - at) / per)
        .by(&Formula { source: "trend of wool tops in a published journal abstract", standing: Standing::Published })
}

/// Fibres in the cross-section: 4 × linear density ÷ (π × density × diameter² × (1 + variation²)).
///
/// Linear density is of the yarn at rest; `variation` is the standard deviation of the diameters over their mean.
pub fn fibres_across(
    yarn: &Figure<LinearDensity>,
    density: &Figure<Density>,
    diameter: &Figure<FibreDiameter>,
    variation: &Figure<Share>,
) -> Figure<Count> {
    (Figure::<Share>::constant("4", 4.0) * yarn
        / (pi::<Share>() * (density * square(diameter)) * with(&square(variation))))
    .seen_as()
    .by(&CYLINDERS)
}

/// Density of a blend: the volumes of its kinds add, so that 1 ÷ density = Σ share ÷ density, shares by weight.
pub fn blend_density(parts: &[(Figure<Share>, Figure<Density>)]) -> Figure<Density> {
    let volumes: Vec<Figure<SpecificVolume>> = parts.iter().map(|(share, density)| share / density).collect();
    reciprocal(&sum(&volumes))
        .by(&Formula { source: "volumes add, shares are by weight", standing: Standing::Standard })
}

/// The finest yarn with so many fibres: the line above the other way round.
pub fn finest(
    fibres: &Figure<Count>,
    density: &Figure<Density>,
    diameter: &Figure<FibreDiameter>,
    variation: &Figure<Share>,
) -> Figure<LinearDensity> {
    (pi::<Share>() * (density * square(diameter)) * with(&square(variation)) * fibres
        / Figure::<Share>::constant("4", 4.0))
    .by(&CYLINDERS)
}

/// The least irregularity that a yarn of randomly placed fibres can have: √((1 + 4 × variation²) ÷ fibres).
///
/// # Source
/// Martindale's limit, as printed in *The Technology of Short-staple Spinning*: (100 ÷ √n) √(1 + 0.0004 CV²), per cent.
pub fn limit_irregularity(fibres: &Figure<Count>, variation: &Figure<Share>) -> Figure<Share> {
    let four = Figure::<Share>::constant("4", 4.0);
    root(&((one::<Share>() + four * square(variation)) / fibres.seen_as::<Share>())).by(&Formula {
        source: "Martindale's limit, in The Technology of Short-staple Spinning",
        standing: Standing::Published,
    })
}

/// The least irregularity of plied yarn, from that of its singles: ÷ √(plies that average).
///
/// Plies that are spun apart are thick and thin at different places, and average as any independent readings do. The three
/// strands of a chain ply are one single folded on itself and count as one: there it repeats its thick and thin places.
///
/// # Source
/// Variance of a mean of independent readings. That a chain ply does not average: read in published craft texts.
pub fn plied_irregularity(singles: &Figure<Share>, averaging: &Figure<Count>) -> Figure<Share> {
    (singles / root(&averaging.seen_as::<Share>()))
        .by(&Formula { source: "variance of a mean of independent readings", standing: Standing::Standard })
}

/// The least irregularity of a yarn of unlike plies: √Σ (share × irregularity)², each ply by its share of the weight.
///
/// With equal plies it is that of one ÷ √n. `plies` have their share of the yarn's weight and their own irregularity.
pub fn unlike_irregularity(plies: &[(Figure<Share>, Figure<Share>)]) -> Figure<Share> {
    let squares: Vec<Figure<Share>> =
        plies.iter().map(|(share, irregularity)| square(&(share * irregularity))).collect();
    root(&sum(&squares))
        .by(&Formula { source: "variance of a sum of independent readings", standing: Standing::Standard })
}

/// How much of a fibre's length is let in at a time: length let in ÷ staple. Over one, no fibre reaches from hand to hand.
pub fn reach(let_in: &Figure<Length>, staple: &Figure<Length>) -> Figure<Share> {
    (let_in / staple).by(&Formula {
        source: "hands are held no further apart than a fibre is long: common practice, no source",
        standing: Standing::CommonPractice,
    })
}

/// How much the same dry fibre weighs at one regain over another: (1 + regain) ÷ (1 + regain).
pub fn regain_factor(damp: &Figure<Share>, dry: &Figure<Share>) -> Figure<Share> {
    (with(damp) / with(dry))
        .by(&Formula { source: "definition of regain: water over dry mass", standing: Standing::Standard })
}

fn fixed(place: &str, words: &str, value: f64) -> super::expression::Entry {
    super::expression::Entry {
        place: format!("constant.{place}"),
        words: words.to_owned(),
        value,
        uncertainty: 0.0,
        shape: super::expression::Shape::Normal,
    }
}
