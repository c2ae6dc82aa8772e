//! Exercises on fibre, its weight, and what bobbins weigh.

use super::Wrong;
use super::slate::{Grid, Slate, To};
use super::yarn::NTH;
use crate::figures::chart::{self, Band};
use crate::figures::expression::{Figure, rest, sum, with};
use crate::figures::pairing::{self, Bobbin, Problem};
use crate::figures::{fibre, folding, sampling, statistics, thickness};
use crate::units::{Count, Length, Mass, Share, Yield};

pub(super) fn staple(s: &mut Slate) {
    let like = s.plan.fibres.iter().find_map(|fibre| fibre.staple.as_ref()).map(|staple| staple.value);
    let grids = (Grid("cm", 4.0, 18.0, 0.5), Grid("in", 2.0, 7.0, 0.1));
    let locks: Vec<Figure<Length>> = NTH
        .map(|(nth, times)| s.draw(&format!("{nth} lock"), like.map(|like| times * like), grids.0, grids.1))
        .to_vec();
    let three = s.count("locks", 3);
    let to = To::Places(s.lead("cm", "in"), 1);
    let mean = statistics::mean_of(&locks, &three);
    let mean = s.ask("How long is the staple, as the mean of three locks?", "staple", &mean, to);
    s.slip(Wrong::NotDivided, &sum(&locks));
    s.slip(Wrong::Doubled, &(statistics::mean_of(&locks, &three) / Figure::<Count>::constant("2", 2.0)));
    let let_in: Figure<Length> =
        s.draw("yarn let in at a time", None, Grid("cm", 2.0, 7.0, 0.5), Grid("in", 0.8, 2.8, 0.1));
    s.only_if(let_in.value() < 0.9 * mean.value());
    s.ask(
        "What part of the staple do you let in at a time?",
        "share of the staple",
        &fibre::reach(&let_in, &mean),
        To::Places("%", 0),
    );
    s.slip(Wrong::UpsideDown, &(&mean / &let_in));
}

pub(super) fn dividing(s: &mut Slate) {
    let like = s.plan.supplies.first().and_then(|supply| supply.weights.first()).map(|weight| weight.value);
    let grids = (Grid("g", 60.0, 220.0, 1.0), Grid("oz", 2.0, 8.0, 0.1));
    let full: Figure<Mass> = s.draw("fibre in its bag", like, grids.0, grids.1);
    let bag: Figure<Mass> = s.draw("the bag, empty", None, Grid("g", 6.0, 18.0, 1.0), Grid("oz", 0.2, 0.7, 0.1));
    let parts = if s.number.is_none() { s.plan.yarn.plies.value as usize } else { 2 + s.chance(4) };
    let parts = s.count("parts", parts.max(2));
    let to = To::Places(s.lead("g", "oz"), s.lead(0, 1));
    let net = s.ask("How much fibre is there?", "fibre", &folding::net(&full, &bag), to);
    s.slip(Wrong::NotEmpty, &full);
    s.slip(Wrong::BagAdded, &(&full + &bag));
    let to = To::Places(s.lead("g", "oz"), s.lead(1, 2));
    s.ask("How much goes into each part?", "one part", &folding::part(&net, &parts), to);
    s.slip(Wrong::NotEmpty, &folding::part(&full, &parts));
    s.slip(Wrong::EmptyTooOften, &(folding::part(&full, &parts) - &bag));
}

pub(super) fn scale(s: &mut Slate) {
    let steps = s.lead([0.1, 0.2, 0.5, 1.0, 2.0], [0.01, 0.02, 0.05, 0.1, 0.2]);
    let chosen = if s.number.is_none() { 0 } else { s.chance(steps.len()) };
    let symbol = s.lead("g", "oz");
    let step: Figure<Mass> = s.fixed("one step of the scale", (steps[chosen], symbol));
    let per_cent = Grid("%", 2.0, 8.0, 1.0);
    let within: Figure<Share> = s.draw("as near as you want to be", Some(0.05), per_cent, per_cent);
    let weight = sampling::least_weight(&step, &within);
    let to = To::Places(symbol, s.lead(1, 2));
    s.ask("How much must a sample weigh at least?", "least weight", &weight, to);
    s.slip_bare(Wrong::PerCent, &(s.bare(&step) / s.bare(&within)));
    s.slip(Wrong::Multiplied, &(&step * &within));
    let yarn: Figure<Mass> =
        s.draw("a sample that you have", None, Grid("g", 4.0, 40.0, 1.0), Grid("oz", 0.2, 1.6, 0.1));
    s.ask(
        "What per cent of the sample that you have is one step of the scale?",
        "one step of the sample",
        &sampling::step_of(&step, &yarn),
        To::Places("%", 1),
    );
    s.slip_bare(Wrong::UpsideDown, &(&yarn / &step));
}

pub(super) fn amounts(s: &mut Slate) {
    let like = s.known_of("garment.", ".yarn");
    let need: Figure<Length> =
        s.draw("yarn that the garment takes", like, Grid("m", 200.0, 1600.0, 10.0), Grid("yd", 200.0, 1800.0, 10.0));
    let reserve: Figure<Share> = s.draw("reserve", None, Grid("%", 8.0, 20.0, 1.0), Grid("%", 8.0, 20.0, 1.0));
    let like = s.known("washed.grist");
    let yarn: Figure<Yield> = s.draw(
        s.lead("metres in a gram", "yards in an ounce"),
        like,
        Grid("m/g", 0.8, 5.0, 0.01),
        Grid("yd/oz", 25.0, 160.0, 1.0),
    );
    let shares = Grid("%", 3.0, 9.0, 1.0);
    let waste: Figure<Share> = s.draw("waste", Some(s.plan.yarn.waste.value), shares, shares);
    let lightens: Figure<Share> =
        s.draw("weight lost in the wash", Some(s.plan.yarn.wash_lightens.value), shares, shares);
    let to = To::Places(s.lead("m", "yd"), 0);
    let wanted =
        s.ask("How much yarn is that with the reserve?", "yarn wanted", &folding::with_reserve(&need, &reserve), to);
    s.slip(Wrong::TakenOff, &(&need * rest(&reserve)));
    s.slip(Wrong::OnlyThePart, &(&need * &reserve));
    let fibre =
        |waste: &Figure<Share>| folding::fibre_for(&wanted, &thickness::linear_density(&yarn), waste, &lightens);
    let to = To::Places(s.lead("g", "oz"), s.lead(0, 1));
    let none = Figure::<Share>::constant("0", 0.0);
    let spun = s.ask("How much fibre does it take?", "fibre", &fibre(&waste), to);
    s.slip(Wrong::LeftOut, &fibre(&none));
    s.slip(Wrong::WrongWay, &(fibre(&none) / with(&waste)));
    let like = s.plan.supplies.first().and_then(|supply| supply.weights.first()).map(|weight| weight.value);
    let braid: Figure<Mass> = s.draw("one braid", like, Grid("g", 80.0, 130.0, 1.0), Grid("oz", 3.0, 5.0, 0.1));
    let braids: Figure<Share> = &spun / &braid;
    let whole = braids.value().ceil();
    // Nobody has to wonder whether it is just enough.
    let over = whole - braids.value();
    s.only_if((0.15..0.85).contains(&over) && whole > 1.0);
    s.ask("How many braids do you buy?", "braids", &chosen("braids", whole), To::Whole);
    s.slip(Wrong::RoundedDown, &chosen("braids", whole - 1.0));
}

/// A whole number that is found by looking.
fn chosen(words: &str, number: f64) -> Figure<Count> {
    crate::figures::expression::exact(words, number)
}

/// Weights of one length of several bobbins, so far apart at the most to either side.
fn weights<const N: usize>(s: &mut Slate, length: f64, apart: f64) -> [Figure<Mass>; N] {
    let like = s.known_of("singles", "rest-tex").unwrap_or(0.2) * s.lead(length, 0.9144 * length);
    let grid = s.lead(Grid("g", 5.0, 200.0, 0.1), Grid("oz", 0.2, 7.0, 0.01));
    std::array::from_fn(|i| {
        let times = if s.number.is_none() { APART[i] } else { 1.0 + apart * (s.chance(33) as f64 / 16.0 - 1.0) };
        s.near(&format!("bobbin {}", i + 1), times * like, grid)
    })
}

/// How far apart the bobbins are that are worked as an example.
const APART: [f64; 5] = [0.97, 1.05, 0.93, 1.13, 1.0];

pub(super) fn drift(s: &mut Slate) {
    let apart = [0.05, 0.1, 0.17][s.chance(3)];
    let all: [Figure<Mass>; 5] = weights(s, 200.0, apart);
    let values: Vec<f64> = all.iter().map(Figure::value).collect();
    let mut order: Vec<usize> = (0..all.len()).collect();
    order.sort_by(|a, b| values[*a].total_cmp(&values[*b]));
    let (middle, heaviest) = (&all[order[2]], &all[order[4]]);
    let spread = values[order[4]] / values[order[2]];
    s.only_if((1.03..1.3).contains(&spread) && order.windows(2).all(|pair| values[pair[0]] < values[pair[1]]));
    s.only_if(order[2] != 2);
    let to = To::Places(s.lead("g", "oz"), s.lead(1, 2));
    let five = Figure::<Count>::constant("5", 5.0);
    let median = s.ask("Which weight is the median?", "median", middle, to);
    s.slip(Wrong::MeanForMedian, &statistics::mean_of(&all, &five));
    s.slip(Wrong::AsPrinted, &all[2]);
    let off = folding::further(heaviest, &median);
    s.ask("How far off the median is the heaviest?", "off the median", &off, To::Places("%", 1));
    s.slip(Wrong::WrongWhole, &rest(&(&median / heaviest)));
    s.slip(Wrong::OneNotOff, &(heaviest / &median));
    let band = chart::bands(&values).map(|bands| bands[order[4]].band);
    let off = off.value();
    s.only_if([chart::GOOD_WITHIN, chart::MIX_WITHIN].iter().all(|limit| (off - limit).abs() > 0.01));
    let word = match band {
        Some(Band::Good) | None => "good",
        Some(Band::Mix) => "mix",
        Some(Band::Act) => "act",
    };
    s.ask_word("What do you do with it: good, mix or act?", word, &[]);
}

pub(super) fn pairing(s: &mut Slate) {
    let all: [Figure<Mass>; 4] = weights(s, 200.0, 0.16);
    let [first, second, third, fourth] = &all;
    let values: Vec<f64> = all.iter().map(Figure::value).collect();
    let bobbins = values.iter().map(|tex| Bobbin { tex: tex * 10.0, class: 0 }).collect();
    let problem = Problem { bobbins, shape: vec![2], fixed: Vec::new() };
    let paired = pairing::pair(&problem).expect("invariant: four bobbins make two sets of two");
    let partner = paired.sets.iter().find(|set| set[0] == 0).map_or(1, |set| set[1]);
    let difference = |with_first: &Figure<Mass>, a: &Figure<Mass>, b: &Figure<Mass>| {
        let (one, other) = (first + with_first, a + b);
        if one.value() > other.value() { one - other } else { other - one }
    };
    let ways =
        [difference(second, third, fourth), difference(third, second, fourth), difference(fourth, second, third)];
    let others = |i: usize| ways.iter().enumerate().filter(move |(k, _)| *k != i).map(|(_, way)| way.value());
    s.only_if(others(partner - 1).all(|other| other > 1.5 * ways[partner - 1].value()));
    s.ask(
        "Which bobbin do you ply with bobbin 1?",
        "partner of bobbin 1",
        &chosen("partner", (partner + 1) as f64),
        To::Whole,
    );
    let nearest =
        (1..4).min_by(|a, b| (values[*a] - values[0]).abs().total_cmp(&(values[*b] - values[0]).abs())).unwrap_or(1);
    if partner != 1 {
        s.slip(Wrong::InOrder, &chosen("partner", 2.0));
    }
    if nearest != partner && nearest != 1 {
        s.slip(Wrong::LikeWithLike, &chosen("partner", (nearest + 1) as f64));
    }
    let to = To::Places(s.lead("g", "oz"), s.lead(1, 2));
    let best = ways[partner - 1].clone();
    s.ask("How much do the two pairs then differ?", "difference of the pairs", &best, to);
    if partner != 1 {
        s.slip(Wrong::InOrder, &ways[0]);
    }
}
