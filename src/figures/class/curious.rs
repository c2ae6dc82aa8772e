//! Exercises for the curious: unequal plies, numbering, the two diameters.

use super::Wrong;
use super::slate::{Grid, Slate, To};
use crate::figures::expression::{Figure, pi, rest, sum};
use crate::figures::{folding, garment, thickness};
use crate::units::{Count, Length, LinearDensity, Loft, Mass, Share, Wraps, Yield};

pub(super) fn unequal_plies(s: &mut Slate) {
    let like = s.known_of("singles", "rest-tex");
    let grids = (Grid("tex", 60.0, 400.0, 1.0), Grid("tex", 60.0, 400.0, 1.0));
    let thick: Figure<LinearDensity> = s.draw("the heavier ply", like, grids.0, grids.1);
    let thin: Figure<LinearDensity> = s.draw("the lighter ply", like.map(|like| like / 2.0), grids.0, grids.1);
    let shares = Grid("%", 4.0, 9.0, 1.0);
    let shortens: Figure<Share> = s.draw("how much plying shortens them", Some(0.05), shares, shares);
    s.only_if((1.4..3.0).contains(&(thick.value() / thin.value())));
    let plies = [(thick.clone(), shortens.clone()), (thin.clone(), shortens.clone())];
    let plied = folding::unlike_plied(&plies);
    let plied = s.ask("How heavy is the plied yarn for its length?", "plied yarn", &plied, To::Places("tex", 0));
    let added = sum(&[thick.clone(), thin.clone()]);
    s.slip(Wrong::WrongWay, &(&added * rest(&shortens)));
    s.slip(Wrong::LeftOut, &added);
    s.slip(Wrong::Halved, &(&added / Figure::<Count>::constant("2", 2.0)));
    let share = folding::ply_share(&thin, &shortens, &plied);
    s.ask("What share of its weight is the lighter ply?", "share of the lighter ply", &share, To::Places("%", 0));
    s.slip(Wrong::WrongWhole, &(&thin / &thick));
    s.slip(Wrong::OtherPly, &folding::ply_share(&thick, &shortens, &plied));
}

pub(super) fn numbering(s: &mut Slate) {
    let grids = (Grid("m", 60.0, 260.0, 1.0), Grid("yd", 60.0, 280.0, 1.0));
    let weights = (Grid("g", 30.0, 130.0, 1.0), Grid("oz", 1.0, 4.5, 0.1));
    let one: Figure<Length> = s.draw("length of the first skein", None, grids.0, grids.1);
    let like = s.known("washed.grist").map(|grist| one.value() / grist);
    let one_weighs: Figure<Mass> = s.draw("weight of the first skein", like, weights.0, weights.1);
    let two: Figure<Length> = s.draw("length of the second skein", Some(0.8 * one.value()), grids.0, grids.1);
    let two_weighs: Figure<Mass> =
        s.draw("weight of the second skein", Some(0.55 * one_weighs.value()), weights.0, weights.1);
    let of: Figure<Mass> = s.fixed(s.lead("a hundred grams", "a pound"), s.lead((100.0, "g"), (16.0, "oz")));
    let first = folding::in_a_weight(&one, &one_weighs, &of);
    let second = folding::in_a_weight(&two, &two_weighs, &of);
    let apart = first.value() / second.value();
    s.only_if((0.35..0.75).contains(&apart) || (1.35..2.8).contains(&apart));
    let usual = s.known("washed.grist").map_or(1.0, |grist| first.value() / of.value() / grist);
    s.only_if((0.4..2.5).contains(&usual));
    let to = To::Places(s.lead("m", "yd"), 0);
    let first = s.ask(
        s.lead(
            "How many metres are in a hundred grams of the first skein?",
            "How many yards are in a pound of the first skein?",
        ),
        "first skein",
        &first,
        to,
    );
    s.slip_bare(Wrong::UpsideDown, &(s.bare(&one_weighs) / s.bare(&one) * s.bare(&of)));
    let second = s.ask("And of the second?", "second skein", &second, to);
    s.slip_bare(Wrong::UpsideDown, &(s.bare(&two_weighs) / s.bare(&two) * s.bare(&of)));
    let length = sum(&[one, two]);
    let weight = sum(&[one_weighs, two_weighs]);
    let both = folding::in_a_weight(&length, &weight, &of);
    s.ask("And of both skeins together?", "both skeins", &both, to);
    s.slip(Wrong::MeanOfCounts, &(sum(&[first, second]) / Figure::<Count>::constant("2", 2.0)));
}

pub(super) fn diameters(s: &mut Slate) {
    let like = s.known("washed.wraps");
    let wraps: Figure<Wraps> = s.draw("wraps", like, Grid("wraps/cm", 3.0, 9.0, 0.1), Grid("wpi", 8.0, 22.0, 0.5));
    let to = To::Places(s.lead("cm", "in"), 3);
    let across = s.ask("How wide is the yarn by its wraps?", "width by wraps", &thickness::wraps_diameter(&wraps), to);
    s.slip_bare(Wrong::LastStep, &s.bare(&wraps));
    let to = To::Places(s.lead("cm²", "in²"), 4);
    s.ask("What is the area of its round section?", "area of the section", &garment::disc(&across), to);
    s.slip(Wrong::Radius, &(pi::<Share>() * crate::figures::expression::dimension::square(&across)));
    let firm: Figure<Loft> = s.fixed("firmness of a packed yarn", (0.95, "wpi/√(yd/lb)"));
    let like = s.known("washed.grist");
    let grids = Grid("yd/lb", 600.0, 2400.0, 20.0);
    let yarn: Figure<Yield> = s.draw("yards in a pound of it", like, grids, grids);
    let packed = thickness::wraps(&firm, &yarn);
    s.ask("How many packed threads would lie in an inch?", "packed threads", &packed, To::Places("wpi", 1));
    s.slip_bare(Wrong::NoRoot, &(s.bare(&firm) * s.bare(&yarn)));
    s.slip_bare(Wrong::UpsideDown, &(s.bare(&firm) / crate::figures::expression::root(&s.bare(&yarn))));
}
