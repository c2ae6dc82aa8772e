//! Exercises on the wheel and on twist.

use super::slate::{Grid, Slate, To};
use super::{Drawing, Wrong};
use crate::figures::expression::{Figure, exact};
use crate::figures::{twist, wheel};
use crate::plan::Direction;
use crate::units::{Count, Length, Ratio, Twist};

/// Twice as many, as whoever counts both feet has them.
fn twice(of: &Figure<Count>) -> Figure<Count> {
    Figure::<Count>::constant("2", 2.0) * of
}

pub(super) fn treadling(s: &mut Slate) {
    let like = s.whorl();
    let ratio: Figure<Ratio> = s.draw("ratio", like, Grid(":1", 4.0, 20.0, 0.5), Grid(":1", 4.0, 20.0, 0.5));
    let pace = Grid("", 30.0, 75.0, 1.0);
    let treadles: Figure<Count> = s.draw("presses of one foot in a minute", None, pace, pace);
    let turns = wheel::flyer_turns(&ratio, &treadles);
    s.ask("How often does the flyer turn in that minute?", "turns of the flyer", &turns, To::Places("", 0));
    s.slip(Wrong::BothFeet, &wheel::flyer_turns(&ratio, &twice(&treadles)));
    s.slip(Wrong::UpsideDown, &(treadles / ratio));
}

pub(super) fn directions(s: &mut Slate) {
    let yarns: Vec<Direction> =
        (0..4).map(|i| if s.number.is_none() { i % 2 } else { s.chance(2) }).map(|z| DIRECTIONS[z]).collect();
    let letters =
        |of: &[Direction]| of.iter().map(|one| if *one == Direction::Z { 'Z' } else { 'S' }).collect::<String>();
    let mirrored: Vec<Direction> = yarns.iter().map(|one| one.against()).collect();
    s.only_if(yarns.contains(&Direction::Z) && yarns.contains(&Direction::S));
    let right = letters(&yarns);
    s.ask_word("Write S or Z for each yarn, yarn 1 first.", &right, &[(Wrong::Mirrored, letters(&mirrored))]);
    s.draws(Drawing::Yarns(yarns));
}

const DIRECTIONS: [Direction; 2] = [Direction::Z, Direction::S];

pub(super) fn ratio(s: &mut Slate) {
    let turns: Figure<Count> = s.fixed("turns of the wheel", (10.0, ""));
    let like = s.whorl();
    for (whorl, question) in
        ["first", "second"].iter().zip(["What is the ratio of the first whorl?", "And of the second?"])
    {
        let like = like.map(|ratio| wheel::flyer_turns(&exact("ratio", ratio), &turns).value());
        let like = if *whorl == "first" { like } else { like.map(|turns| turns * 1.4) };
        let grid = Grid("", 40.0, 260.0, 1.0);
        let flyer: Figure<Count> = s.draw(&format!("turns of the flyer, {whorl} whorl"), like, grid, grid);
        s.ask(
            question,
            &format!("ratio of the {whorl} whorl"),
            &wheel::ratio_counted(&flyer, &turns),
            To::Places(":1", 1),
        );
        s.slip(Wrong::TwiceCounted, &wheel::ratio_counted(&flyer, &twice(&turns)));
        s.slip(Wrong::UpsideDown, &wheel::ratio_counted(&turns, &flyer));
        s.slip_bare(Wrong::LastStep, &s.bare(&flyer));
    }
}

pub(super) fn treadles(s: &mut Slate) {
    let like = s.whorl();
    let ratio: Figure<Ratio> = s.draw("ratio", like, Grid(":1", 4.0, 20.0, 0.1), Grid(":1", 4.0, 20.0, 0.1));
    let like = s.known_of("singles", "twist-at-wheel");
    let twist: Figure<Twist> =
        s.draw("twist wanted", like, Grid("turns/cm", 1.0, 6.0, 0.1), Grid("tpi", 2.5, 14.0, 0.1));
    let draft: Figure<Length> =
        s.draw("length of a draft", None, Grid("cm", 30.0, 60.0, 1.0), Grid("in", 12.0, 24.0, 0.5));
    let each = To::Places(s.lead("cm", "in"), 1);
    s.ask(
        "How much yarn do you let in at each treadle?",
        "length per treadle",
        &wheel::length_per_treadle(&ratio, &twist),
        each,
    );
    s.slip(Wrong::BothFeet, &(wheel::length_per_treadle(&ratio, &twist) / Figure::<Count>::constant("2", 2.0)));
    s.slip_bare(Wrong::UpsideDown, &(s.bare(&twist) / s.bare(&ratio)));
    s.slip_bare(Wrong::Multiplied, &(s.bare(&ratio) * s.bare(&twist)));
    let wanted = wheel::treadles(&twist, &draft, &ratio);
    let wanted = s.ask("How many treadles does one draft take?", "treadles for a draft", &wanted, To::Places("", 1));
    s.slip(Wrong::BothFeet, &twice(&wheel::treadles(&twist, &draft, &ratio)));
    s.slip_bare(Wrong::UpsideDown, &(s.bare(&ratio) / (s.bare(&twist) * s.bare(&draft))));
    let whole = wanted.value().round();
    // Nobody has to wonder whether to round up or down.
    s.only_if((wanted.value() - whole).abs() <= 0.3 && whole >= 3.0);
    let whole = exact("whole treadles", whole);
    let whole = s.ask("So how many whole treadles do you make?", "whole treadles", &whole, To::Whole);
    let given = wheel::twist_given(&ratio, &whole, &draft);
    let to = To::Places(s.lead("turns/cm", "tpi"), 2);
    s.ask("How much twist do the whole treadles give?", "twist that goes in", &given, to);
    s.slip(Wrong::BothFeet, &wheel::twist_given(&ratio, &twice(&whole), &draft));
    s.slip_bare(Wrong::UpsideDown, &(s.bare(&draft) / (s.bare(&ratio) * s.bare(&whole))));
}

pub(super) fn ply_back(s: &mut Slate) {
    let strands = s.count("strands of the ply-back", 2);
    let length: Figure<Length> = s.fixed("length", s.lead((10.0, "cm"), (4.0, "in")));
    let like = s.known_of("singles", "fresh-twist").map(|fresh| {
        let shown = exact::<Twist>("fresh", fresh);
        twist::ply_back(&shown, &twist::balance(&strands), &length).value()
    });
    let grid = Grid("", 5.0, 40.0, 1.0);
    let twists: Figure<Count> = s.draw("full twists in that length", like, grid, grid);
    let shown = wheel::twist_of_turns(&twists, &length);
    let to = To::Places(s.lead("turns/cm", "tpi"), 2);
    let shown = s.ask("How much twist does the ply-back show?", "twist of the ply-back", &shown, to);
    s.slip(Wrong::Bumps, &wheel::twist_of_turns(&twist::bumps(&twists, &strands), &length));
    s.slip_bare(Wrong::LastStep, &s.bare(&twists));
    let singles = twist::from_ply_back(&shown, &twist::balance(&strands));
    s.ask("How much twist is in the singles?", "twist of the singles", &singles, to);
    s.slip(Wrong::WrongWay, &(&shown * twist::balance(&strands)));
    s.slip(Wrong::Bumps, &twist::from_ply_back(&(&shown * &strands), &twist::balance(&strands)));
}

pub(super) fn balance(s: &mut Slate) {
    let plies = if s.number.is_none() { s.plan.yarn.plies.value as usize } else { 3 + s.chance(2) };
    let plies = s.count("plies", plies.max(2));
    let like = s.known_of("singles", "fresh-twist");
    let singles: Figure<Twist> =
        s.draw("twist of the singles", like, Grid("turns/cm", 1.0, 6.0, 0.1), Grid("tpi", 3.0, 14.0, 0.2));
    let length: Figure<Length> = s.fixed("length of plied yarn", s.lead((10.0, "cm"), (4.0, "in")));
    let twists = twist::ply_back(&singles, &twist::balance(&plies), &length);
    s.ask("How many full twists does the balanced yarn show there?", "full twists", &twists, To::Places("", 1));
    let of_two = twist::balance(&exact("plies", 2.0));
    if plies.value() > 2.0 {
        s.slip(Wrong::OneAndAHalf, &twist::ply_back(&singles, &of_two, &length));
    }
    s.slip(Wrong::NothingLost, &(&singles * &length));
    s.slip(Wrong::Bumps, &twist::bumps(&twists, &plies));
    s.slip(Wrong::WrongWay, &(&singles * &length / twist::balance(&plies)));
}
