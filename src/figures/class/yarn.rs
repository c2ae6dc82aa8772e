//! Exercises on yarn: its thickness, its length and what it weighs.

use super::Wrong;
use super::slate::{Grid, Slate, To};
use crate::figures::expression::{Figure, exact, rest, sum, with};
use crate::figures::{folding, statistics, thickness};
use crate::units::{Count, Length, Mass, Share};

/// The round weight that a length is told for.
fn round(s: &mut Slate) -> Figure<Mass> {
    s.fixed(s.lead("a hundred grams", "a pound"), s.lead((100.0, "g"), (16.0, "oz")))
}

/// Three readings of one thing, and how far apart those are that are worked as an example.
pub(super) const NTH: [(&str, f64); 3] = [("first", 1.0), ("second", 1.1), ("third", 0.95)];

/// Length of the round weight, in whole metres or yards.
fn grist_in(s: &Slate) -> To {
    To::Places(s.lead("m", "yd"), 0)
}

pub(super) fn wraps(s: &mut Slate) {
    let over: Figure<Length> = s.fixed("length of stick", s.lead((3.0, "cm"), (2.0, "in")));
    let like = s.known("washed.wraps");
    let like = like.map(|wraps| thickness::wraps_in(&exact("wraps", wraps), &over).value());
    let grid = Grid("", 8.0, 40.0, 1.0);
    let counts: Vec<Figure<Count>> =
        NTH.map(|(nth, times)| s.draw(&format!("{nth} count"), like.map(|like| times * like), grid, grid)).to_vec();
    let values = counts.iter().map(Figure::value);
    let (least, most) = (values.clone().fold(f64::INFINITY, f64::min), values.fold(0.0, f64::max));
    // One yarn is counted so apart by one hand, and no further.
    s.only_if((1.0..=3.0).contains(&(most - least)));
    let three = s.count("counts", 3);
    let mean = statistics::mean_of(&counts, &three);
    let mean = s.ask("What is the mean of the three counts?", "mean count", &mean, To::Places("", 1));
    s.slip(Wrong::NotDivided, &sum(&counts));
    let to = To::Places(s.lead("wraps/cm", "wpi"), s.lead(2, 1));
    s.ask(
        s.lead("How many wraps is that to a centimetre?", "How many wraps is that to an inch?"),
        "wraps",
        &thickness::wraps_counted(&mean, &over),
        to,
    );
    s.slip(Wrong::OneMore, &thickness::wraps_counted(&(&mean + Figure::constant("1", 1.0)), &over));
}

pub(super) fn wash(s: &mut Slate) {
    let grids = (Grid("cm", 140.0, 180.0, 1.0), Grid("in", 56.0, 72.0, 0.5));
    let before: Figure<Length> = s.draw("loop before the wash", None, grids.0, grids.1);
    let like = s.known("washed.keep").map(|keep| keep * before.value());
    let grids = (Grid("cm", 110.0, 170.0, 1.0), Grid("in", 44.0, 68.0, 0.5));
    let after: Figure<Length> = s.draw("loop washed and dry", like, grids.0, grids.1);
    let shorter = folding::shortening(&after, &before);
    s.only_if((0.06..0.25).contains(&shorter.value()));
    let shorter = s.ask("How much shorter has it become?", "shrinkage", &shorter, To::Places("%", 1));
    s.slip(Wrong::AsGrowth, &folding::further(&before, &after));
    s.slip(Wrong::TheLost, &folding::kept(&after, &before));
    let grids = (Grid("m", 60.0, 240.0, 5.0), Grid("yd", 60.0, 260.0, 5.0));
    let skein: Figure<Length> = s.draw("another skein, unwashed", None, grids.0, grids.1);
    let to = grist_in(s);
    s.ask("How long will it be when it is washed?", "length washed", &folding::shortened(&skein, &shorter), to);
    s.slip(Wrong::AsGrowth, &(&skein * with(&shorter)));
    s.slip(Wrong::TheLost, &(&skein * &shorter));
    s.slip(Wrong::WrongWay, &(&skein / rest(&shorter)));
}

pub(super) fn ball_band(s: &mut Slate) {
    let (ball, ounces) = ([50.0, 100.0, 150.0], [1.75, 3.5, 5.3]);
    let which = if s.number.is_none() { 1 } else { s.chance(3) };
    let like = s.known("washed.grist").map(|grist| grist * ball[which]);
    let metres: Figure<Length> = if s.number.is_none() {
        s.draw("metres on the band", like, Grid("m", 60.0, 600.0, 5.0), Grid("m", 60.0, 600.0, 5.0))
    } else {
        let grid = Grid("m", 60.0 + 40.0 * which as f64, 200.0 + 180.0 * which as f64, 5.0);
        s.draw("metres on the band", like, grid, grid)
    };
    let yards = crate::units::unit(crate::units::Kind::Length, "yd").expect("invariant: the tables have yards");
    let shown = crate::figures::expression::text::Shown { unit: yards, places: 0 };
    let yards: Figure<Length> = s.give("yards on the band", yards.from_base(metres.value()), shown);
    let grams: Figure<Mass> = s.fixed("grams on the band", (ball[which], "g"));
    let ounces: Figure<Mass> = s.fixed("ounces on the band", (ounces[which], "oz"));
    let of = round(s);
    let (length, weight, other) = s.lead((&metres, &grams, &yards), (&yards, &ounces, &metres));
    let to = grist_in(s);
    s.ask(
        s.lead("How many metres are in a hundred grams of it?", "How many yards are in a pound of it?"),
        s.lead("metres in a hundred grams", "yards in a pound"),
        &folding::in_a_weight(length, weight, &of),
        to,
    );
    s.slip_bare(Wrong::Mixed, &(s.bare(other) / s.bare(weight) * s.bare(&of)));
    s.slip_bare(Wrong::UpsideDown, &(s.bare(weight) / s.bare(length) * s.bare(&of)));
    if weight.value() != of.value() {
        s.slip_bare(Wrong::LastStep, &s.bare(length));
    }
    let need: Figure<Length> = {
        let like = s.known_of("garment.", ".yarn");
        s.draw("yarn that a pattern takes", like, Grid("m", 300.0, 1500.0, 10.0), Grid("yd", 300.0, 1700.0, 10.0))
    };
    let balls: Figure<Share> = &need / length;
    let whole = balls.value().ceil();
    s.only_if((0.1..0.9).contains(&(whole - balls.value())) && whole > 1.0);
    s.ask("How many balls does the pattern take?", "balls", &exact::<Count>("balls", whole), To::Whole);
    s.slip(Wrong::RoundedDown, &exact::<Count>("balls", whole - 1.0));
}

pub(super) fn grist(s: &mut Slate) {
    let grid = Grid("", 16.0, 60.0, 1.0);
    let loops: Figure<Count> = s.draw("loops", None, grid, grid);
    let grids = (Grid("m", 1.2, 1.7, 0.01), Grid("yd", 1.4, 1.9, 0.01));
    let wound: Figure<Length> = s.draw("one loop as it was wound", None, grids.0, grids.1);
    let like = s.known("washed.keep").map(|keep| keep * wound.value());
    let washed: Figure<Length> = s.draw("one loop, washed", like, grids.0, grids.1);
    s.only_if((0.85..0.97).contains(&(washed.value() / wound.value())));
    let length = folding::skein_length(&loops, &washed);
    let like = s.known("washed.grist").map(|grist| length.value() / grist);
    let weights = (Grid("g", 8.0, 60.0, 0.1), Grid("oz", 0.3, 2.2, 0.01));
    let dry: Figure<Mass> = s.draw("weight, dry", like, weights.0, weights.1);
    let damp: Figure<Mass> = s.draw("weight, straight off the line", Some(1.1 * dry.value()), weights.0, weights.1);
    s.only_if((1.06..1.2).contains(&(damp.value() / dry.value())));
    let of = round(s);
    let to = To::Places(s.lead("m", "yd"), 1);
    let length = s.ask("How long is the skein?", "length of the skein", &length, to);
    s.slip(Wrong::Stretched, &folding::skein_length(&loops, &wound));
    s.slip(Wrong::HalfLoop, &(folding::skein_length(&loops, &washed) / Figure::<Count>::constant("2", 2.0)));
    let to = grist_in(s);
    s.ask(
        s.lead("How many metres are in a hundred grams of it?", "How many yards are in a pound of it?"),
        s.lead("metres in a hundred grams", "yards in a pound"),
        &folding::in_a_weight(&length, &dry, &of),
        to,
    );
    s.slip(Wrong::Damp, &folding::in_a_weight(&length, &damp, &of));
    s.slip(Wrong::Stretched, &folding::in_a_weight(&folding::skein_length(&loops, &wound), &dry, &of));
    s.slip(Wrong::HalfLoop, &(folding::in_a_weight(&length, &dry, &of) / Figure::<Count>::constant("2", 2.0)));
    s.slip_bare(Wrong::UpsideDown, &(s.bare(&dry) / s.bare(&length) * s.bare(&of)));
}

pub(super) fn two_draws(s: &mut Slate) {
    let grids = (Grid("m", 15.0, 40.0, 1.0), Grid("yd", 15.0, 40.0, 1.0));
    let length: Figure<Length> = s.draw("length of either skein", None, grids.0, grids.1);
    let like = s.known("washed.grist").map(|grist| length.value() / grist);
    let weights = (Grid("g", 5.0, 50.0, 0.1), Grid("oz", 0.2, 1.8, 0.01));
    let short: Figure<Mass> = s.draw("weight, short forward draw", like, weights.0, weights.1);
    let long: Figure<Mass> = s.draw("weight, long draw", Some(0.8 * short.value()), weights.0, weights.1);
    s.only_if((1.12..1.6).contains(&(short.value() / long.value())));
    let of = round(s);
    let to = grist_in(s);
    let forward = folding::in_a_weight(&length, &short, &of);
    let forward = s.ask(
        s.lead(
            "How many metres are in a hundred grams, spun short forward?",
            "How many yards are in a pound, spun short forward?",
        ),
        "length, short forward",
        &forward,
        to,
    );
    s.slip_bare(Wrong::UpsideDown, &(s.bare(&short) / s.bare(&length) * s.bare(&of)));
    let drawn = folding::in_a_weight(&length, &long, &of);
    let drawn = s.ask("And spun with a long draw?", "length, long draw", &drawn, to);
    s.slip_bare(Wrong::UpsideDown, &(s.bare(&long) / s.bare(&length) * s.bare(&of)));
    let further = folding::further(&drawn, &forward);
    s.ask("How much further does the long draw go?", "how much further", &further, To::Places("%", 0));
    s.slip(Wrong::WrongWhole, &rest(&(&forward / &drawn)));
    s.slip(Wrong::OneNotOff, &(&drawn / &forward));
}
