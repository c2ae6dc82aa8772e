//! Twist and the wheel: what foot, motor and hand do for it. A press of one treadle is one turn of the wheel.
//!
//! Where the bobbin is driven, each formula takes the twist with the turns that the wraps lose: see [`with_lost`].

use super::expression::dimension::{one, rest, root, square};
use super::expression::{Figure, Formula, pi};
use crate::units::{Count, Length, Ratio, Share, Speed, Standing, Time, Twist};

static TURNS: Formula = Formula {
    source: "twist is turns over length; a published craft article has worked examples",
    standing: Standing::Standard,
};

/// Twist that goes in: ratio × treadles ÷ length let in.
pub fn twist_given(ratio: &Figure<Ratio>, treadles: &Figure<Count>, length: &Figure<Length>) -> Figure<Twist> {
    (ratio * treadles / length).by(&TURNS)
}

/// Ratio of a whorl as it is counted: turns of the flyer ÷ turns of the wheel.
pub fn ratio_counted(flyer: &Figure<Count>, wheel: &Figure<Count>) -> Figure<Ratio> {
    (flyer / wheel).seen_as().by(&TURNS)
}

/// Turns of the flyer for so many of the wheel: ratio × treadles.
pub fn flyer_turns(ratio: &Figure<Ratio>, treadles: &Figure<Count>) -> Figure<Count> {
    (ratio * treadles).by(&TURNS)
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

/// Seconds for a length at a flyer speed: twist × length ÷ speed.
pub fn seconds(twist: &Figure<Twist>, length: &Figure<Length>, speed: &Figure<Speed>) -> Figure<Time> {
    (twist * length / speed).by(&TURNS)
}

/// Length for so many seconds at a flyer speed: speed × seconds ÷ twist.
pub fn length_for_seconds(speed: &Figure<Speed>, seconds: &Figure<Time>, twist: &Figure<Twist>) -> Figure<Length> {
    (speed * seconds / twist).by(&TURNS)
}

/// Twist that goes in at a flyer speed: speed × seconds ÷ length let in.
pub fn twist_in_seconds(speed: &Figure<Speed>, seconds: &Figure<Time>, length: &Figure<Length>) -> Figure<Twist> {
    (speed * seconds / length).by(&TURNS)
}

/// Turns of a spindle for a length: twist × length.
pub fn turns(twist: &Figure<Twist>, length: &Figure<Length>) -> Figure<Count> {
    (twist * length).by(&TURNS)
}

/// Length for a whole number of turns: turns ÷ twist.
pub fn length_for_turns(turns: &Figure<Count>, twist: &Figure<Twist>) -> Figure<Length> {
    (turns / twist).by(&TURNS)
}

/// Twist that turns of a spindle put into a length: turns ÷ length.
pub fn twist_of_turns(turns: &Figure<Count>, length: &Figure<Length>) -> Figure<Twist> {
    (turns / length).by(&TURNS)
}

/// Ratio of a band that has thickness and slips, from the ratio R = D/d of the grooves' diameters:
/// (D + t) ÷ (D/R + t) × (1 − slip), written as R × (D + t) ÷ (D + R × t) × (1 − slip).
///
/// The band rides outside both grooves, and what runs with its middle is half a thickness further from each centre.
pub fn ratio_in_use(
    stated: &Figure<Ratio>,
    drive_wheel: &Figure<Length>,
    band: &Figure<Length>,
    slip: &Figure<Share>,
) -> Figure<Ratio> {
    let thicker: Figure<Share> = (drive_wheel + band) / (drive_wheel + stated * band);
    (stated * thicker * rest(slip)).by(&Formula {
        source: "the band's middle rides half a thickness outside both grooves; derived in a published craft text",
        standing: Standing::Published,
    })
}

static WRAPS: Formula = Formula {
    source: "a driven bobbin winds on by turning once more than the flyer for each wrap; derived in a published craft text",
    standing: Standing::Published,
};

/// Turns that a driven bobbin loses for each length wound on: 1 ÷ (π × diameter), one for each wrap.
pub fn lost(diameter: &Figure<Length>) -> Figure<Twist> {
    (one::<Count>() / (pi::<Share>() * diameter)).by(&WRAPS)
}

/// Diameter of a bobbin that holds half of its yarn: √((core² + full²) ÷ 2), half of the ring between core and rim.
pub fn half_full(empty: &Figure<Length>, full: &Figure<Length>) -> Figure<Length> {
    let two = Figure::<Count>::constant("2", 2.0);
    root(&((square(empty) + square(full)) / two)).by(&Formula {
        source: "half of the yarn lies in half of the ring between the core and the full bobbin; plane geometry",
        standing: Standing::Standard,
    })
}

/// Twist that the bobbin has to turn for what is to stay: twist + turns lost.
pub fn with_lost(twist: &Figure<Twist>, lost: &Figure<Twist>) -> Figure<Twist> {
    (twist + lost).by(&WRAPS)
}

/// Twist that stays of what the bobbin turns: twist − turns lost.
pub fn without_lost(turned: &Figure<Twist>, lost: &Figure<Twist>) -> Figure<Twist> {
    (turned - lost).by(&WRAPS)
}

/// How far the twist that goes in lies from the twist wished, as a factor.
pub fn miss(given: &Figure<Twist>, wished: &Figure<Twist>) -> Figure<Share> {
    (given / wished).by(&Formula { source: "ratio of two figures", standing: Standing::Standard })
}
