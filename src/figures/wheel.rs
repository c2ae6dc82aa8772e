//! Twist and the wheel: what foot and hand do for it. A press of one treadle is one turn of the wheel.

use super::expression::{Figure, Formula};
use crate::units::{Count, Length, Ratio, Share, Standing, Twist};

static TURNS: Formula = Formula {
    source: "twist is turns over length; a published craft article has worked examples",
    standing: Standing::Standard,
};

/// Twist that goes in: ratio × treadles ÷ length let in.
pub fn twist_given(ratio: &Figure<Ratio>, treadles: &Figure<Count>, length: &Figure<Length>) -> Figure<Twist> {
    (ratio * treadles / length).by(&TURNS)
}

/// Length to let in at each treadle: ratio ÷ twist.
pub fn length_per_treadle(ratio: &Figure<Ratio>, twist: &Figure<Twist>) -> Figure<Length> {
    (ratio / twist).by(&TURNS)
}

/// Treadles for a length: twist × length ÷ ratio.
pub fn treadles(twist: &Figure<Twist>, length: &Figure<Length>, ratio: &Figure<Ratio>) -> Figure<Count> {
    (twist * length / ratio).by(&TURNS)
}

/// Length for a whole number of treadles: ratio × treadles ÷ twist.
pub fn length_for(ratio: &Figure<Ratio>, treadles: &Figure<Count>, twist: &Figure<Twist>) -> Figure<Length> {
    (ratio * treadles / twist).by(&TURNS)
}

/// How far the twist that goes in lies from the twist wished, as a factor.
pub fn miss(given: &Figure<Twist>, wished: &Figure<Twist>) -> Figure<Share> {
    (given / wished).by(&Formula { source: "ratio of two figures", standing: Standing::Standard })
}
