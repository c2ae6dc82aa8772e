//! What is aimed at: wraps, weight per length and twist of the washed yarn, and of its singles.
//!
//! Best first: the chosen sample, then the plan, then a default. A measurement replaces the product that it measures.
//! Of several kinds of singles the numbers here are those of a middling one; [`kinds`](super::kinds) tells them apart.

use super::expression::{Figure, Formula};
use super::ledger::{Book, number};
use super::matching::{self, Wishes};
use super::sample::{self, Measured};
use super::{assumed, folding, thickness, twist};
use crate::plan::{Construction, Plan, Singles};
use crate::units::{Angle, Count, LinearDensity, Loft, Share, Standing, Twist, Wraps, Yield};

/// What the rest of the ledger builds on.
pub struct Aim {
    /// Strands of the first plying; one of a yarn of singles.
    pub plies: Figure<Count>,
    /// Plied strands of a cabled yarn.
    pub strands: Option<Figure<Count>>,
    /// Linear density of the washed yarn.
    pub washed: Figure<LinearDensity>,
    /// Share of a wound length that is left after the wash.
    pub keep: Figure<Share>,
    /// How much longer yarn lies under tension.
    pub stretch: Figure<Share>,
    /// Length lost in plying.
    pub plying_shortens: Figure<Share>,
    /// Weight lost in the wash.
    pub lightens: Figure<Share>,
    /// Fibre lost, of what stays.
    pub waste: Figure<Share>,
    /// Wraps of the singles.
    pub singles_wraps: Figure<Wraps>,
    /// The last twist of the washed yarn.
    pub last_twist: Figure<Twist>,
    /// Twist of the singles at the wheel, per length let in.
    pub singles_at_wheel: Figure<Twist>,
    /// Twist of the first plying at the wheel, per length let in; none in a yarn of singles.
    pub plied_at_wheel: Option<Figure<Twist>>,
    /// Twist of cabling at the wheel, per length let in.
    pub cabled_at_wheel: Option<Figure<Twist>>,
}

/// The figure that is the last twist of the washed yarn.
pub fn last_twist(plan: &Plan) -> &'static str {
    match plan.yarn.construction {
        Construction::Singles => "washed.singles-twist",
        Construction::Cabled(_) => "washed.cable-twist",
        Construction::Bobbins | Construction::Chain | Construction::BothEnds => "washed.ply-twist",
    }
}

/// Enters what is aimed at.
pub fn aim(book: &mut Book, plan: &Plan) -> Aim {
    let yarn = &plan.yarn;
    let plies = book.reading(&yarn.plies, "plies");
    let strands = yarn.construction.strands().map(|strands| book.reading(strands, "strands cabled"));
    let stretch = book.reading(&yarn.winding_stretch, "winding stretch");
    let plying_shortens = book.reading(&yarn.plying_shortens, "plying shortens");
    let lightens = book.reading(&yarn.wash_lightens, "wash lightens");
    let waste = book.reading(&yarn.waste, "waste");
    let usual_keep = keep(book, plan, &stretch);
    let measured = sample::samples(book, plan, &usual_keep).unwrap_or_default();
    let keep = measured.keep.as_ref().map_or(usual_keep, sample::as_sampled);
    let keep = book.enter("washed.keep", "length kept in the wash", keep);
    let of_plies = of_plies(book, plan, &keep, &stretch, &lightens);
    let wishes = matching::wishes(book, plan);
    let (wraps, washed) = thickness_and_grist(book, plan, &wishes, &measured, of_plies);
    let widths = widths(book, plan, &measured, &wraps, strands.as_ref());
    let twists = twists(book, plan, &wishes, &measured, &widths, &plies, strands.as_ref(), &keep, &stretch);
    Aim {
        plies,
        strands,
        washed,
        keep,
        stretch,
        plying_shortens,
        lightens,
        waste,
        singles_wraps: widths.singles,
        last_twist: twists.last,
        singles_at_wheel: twists.singles_at_wheel,
        plied_at_wheel: twists.plied_at_wheel,
        cabled_at_wheel: twists.cabled_at_wheel,
    }
}

/// What is left of a wound length by shortening and stretch, where no sample measures it.
fn keep(book: &mut Book, plan: &Plan, stretch: &Figure<Share>) -> Figure<Share> {
    let shortens = book.reading(&plan.yarn.wash_shortens, "wash shortens");
    folding::keep(&shortens, stretch)
}

/// Linear density of the washed yarn where every ply says its own grist: what those plies come to.
fn of_plies(
    book: &mut Book,
    plan: &Plan,
    keep: &Figure<Share>,
    stretch: &Figure<Share>,
    lightens: &Figure<Share>,
) -> Option<Figure<LinearDensity>> {
    let first = plan.ply_plans.first()?;
    let passes = plan.yarn.construction.passes(plan.yarn.plies.value as usize);
    let plies: Option<Vec<_>> = first
        .plies
        .iter()
        .map(|ply| Some((own_density(book, &plan.singles[ply.singles], stretch)?, shortens(book, plan, ply.singles))))
        .collect();
    let plies: Vec<_> = std::iter::repeat_n(plies?, passes).flatten().collect();
    let fresh = if plan.yarn.construction.is_plied() {
        let plied = folding::unlike_plied(&plies);
        book.enter("plied.wound-tex", "weight per length of fresh plied yarn", plied)
    } else {
        plies[0].0.clone()
    };
    Some(folding::washed(&fresh, keep, lightens))
}

/// Linear density as wound of a kind of singles that says its own grist; entered by whoever asks first.
pub fn own_density(book: &mut Book, kind: &Singles, stretch: &Figure<Share>) -> Option<Figure<LinearDensity>> {
    let grist = kind.grist.as_ref()?;
    let name = format!("{}.wound-tex", kind.stage());
    Some(book.find(&name).unwrap_or_else(|| {
        let grist = book.reading(grist, &format!("grist of the {}", kind.noun()));
        let wound = folding::wound(&grist, stretch);
        book.enter(name, format!("weight per length of wound {}", kind.noun()), wound)
    }))
}

/// Length that a kind of singles loses in plying: its own, or that of the yarn.
pub fn shortens(book: &mut Book, plan: &Plan, kind: usize) -> Figure<Share> {
    let kind = &plan.singles[kind];
    match &kind.shortens {
        Some(own) => book.reading(own, &format!("plying shortens the {}", kind.noun())),
        None => book.reading(&plan.yarn.plying_shortens, "plying shortens"),
    }
}

/// Wraps and linear density of the washed yarn; where only one is known, loft gives the other.
fn thickness_and_grist(
    book: &mut Book,
    plan: &Plan,
    wishes: &Wishes,
    measured: &Measured,
    of_plies: Option<Figure<LinearDensity>>,
) -> (Figure<Wraps>, Figure<LinearDensity>) {
    let wraps = measured.wraps.as_ref().map(sample::as_sampled).or_else(|| wishes.wraps(book, plan));
    let density = measured.density.as_ref().map(sample::as_sampled).or_else(|| wishes.density(book, plan)).or(of_plies);
    match (wraps, density) {
        (Some(wraps), Some(density)) => {
            let wraps = book.enter("washed.wraps", "washed wraps", wraps);
            let washed = book.enter("washed.tex", "washed weight per length", density);
            let grist = enter_grist(book, &washed);
            enter_loft(book, thickness::loft(&wraps, &grist));
            (wraps, washed)
        }
        (Some(wraps), None) => {
            let wraps = book.enter("washed.wraps", "washed wraps", wraps);
            let usual = book.assume::<Loft>(&assumed::LOFT).by(&GIVEN);
            let loft = enter_loft(book, usual);
            let grist = book.enter("washed.grist", "washed grist", thickness::yarn_yield(&wraps, &loft));
            let washed = book.enter("washed.tex", "washed weight per length", thickness::linear_density(&grist));
            (wraps, washed)
        }
        (None, Some(density)) => {
            let washed = book.enter("washed.tex", "washed weight per length", density);
            let grist = enter_grist(book, &washed);
            let usual = book.assume::<Loft>(&assumed::LOFT).by(&GIVEN);
            let loft = enter_loft(book, usual);
            let wraps = book.enter("washed.wraps", "washed wraps", thickness::wraps(&loft, &grist));
            (wraps, washed)
        }
        (None, None) => unreachable!("invariant: check refuses a plan that aims at nothing"),
    }
}

fn enter_grist(book: &mut Book, washed: &Figure<LinearDensity>) -> Figure<Yield> {
    book.enter("washed.grist", "washed grist", thickness::yield_of(washed))
}

/// Loft, and what follows from it for reading only.
fn enter_loft(book: &mut Book, loft: Figure<Loft>) -> Figure<Loft> {
    let loft = book.enter("washed.loft", "loft", loft);
    book.enter("washed.density", "yarn density", thickness::yarn_density(&loft));
    loft
}

/// How thick the yarn is on its way.
struct Widths {
    /// Wraps of a middling single.
    singles: Figure<Wraps>,
    /// Wraps of what is twisted last: the singles, or the strands of a cabled yarn.
    last: Figure<Wraps>,
}

/// Wraps of strands and singles, from the finished yarn inward.
fn widths(
    book: &mut Book,
    plan: &Plan,
    measured: &Measured,
    wraps: &Figure<Wraps>,
    strands: Option<&Figure<Count>>,
) -> Widths {
    if !plan.yarn.construction.is_plied() {
        let same = measured.singles_wraps.as_ref().map_or_else(|| thickness::unplied(wraps), sample::as_sampled);
        let singles = book.enter("singles.wraps", "singles wraps", same);
        return Widths { last: singles.clone(), singles };
    }
    let Some(strands) = strands else {
        let singles = singles_wraps(book, plan, measured, wraps);
        return Widths { last: singles.clone(), singles };
    };
    let thicker = thicker(book, "cabled", "cabled width over strand width", "strands", strands.value() as usize);
    let strand = book.enter("plied.wraps", "wraps of a strand", thickness::singles_wraps(wraps, &thicker));
    let singles = singles_wraps(book, plan, measured, &strand);
    Widths { singles, last: strand }
}

/// Wraps of the singles of a plied yarn or strand: read off the sample, else by the trade's rule or the geometry.
fn singles_wraps(book: &mut Book, plan: &Plan, measured: &Measured, plied: &Figure<Wraps>) -> Figure<Wraps> {
    let n = plan.yarn.plies.value as usize;
    if let Some(read) = &measured.singles_wraps {
        mean_width(book, "plied", "plies", n);
        let singles = book.enter("singles.wraps", "singles wraps", sample::as_sampled(read));
        book.enter("plied.thicker", "plied width over singles width", thickness::thickening(&singles, plied));
        return singles;
    }
    let thicker = thicker(book, "plied", "plied width over singles width", "plies", n);
    book.enter("singles.wraps", "singles wraps", thickness::singles_wraps(plied, &thicker))
}

/// How many times a plying of `n` is as wide as one of what is plied: the trade's rule, or the geometry where it has none.
fn thicker(book: &mut Book, stage: &str, noun: &str, plied: &'static str, n: usize) -> Figure<Share> {
    let geometry = mean_width(book, stage, plied, n);
    let thicker = match n {
        2 => book.assume::<Share>(&assumed::THICKER_TWO).by(&GIVEN),
        3 => book.assume::<Share>(&assumed::THICKER_THREE).by(&GIVEN),
        _ => thickness::bloomed(&geometry, &book.assume::<Share>(&assumed::BLOOM)),
    };
    book.enter(format!("{stage}.thicker"), noun, thicker)
}

/// The geometry of touching equal circles, which stands beside the trade's rule.
fn mean_width(book: &mut Book, stage: &str, plied: &'static str, n: usize) -> Figure<Share> {
    let place = if stage == "plied" { "round".to_owned() } else { format!("round.{stage}") };
    let round = number(book, &place, &format!("{plied} round the edge"), if n > 6 { n - 1 } else { n }, ROUND_THE_EDGE);
    book.enter(format!("{stage}.mean-width"), format!("mean width of touching {plied}"), thickness::mean_width(&round))
}

/// How the plies are taken to lie.
const ROUND_THE_EDGE: &str = "up to six plies lie in a ring, seven and eight have one of them in the middle";

/// Twist at each stage.
struct Twists {
    last: Figure<Twist>,
    singles_at_wheel: Figure<Twist>,
    plied_at_wheel: Option<Figure<Twist>>,
    cabled_at_wheel: Option<Figure<Twist>>,
}

#[expect(clippy::too_many_arguments, reason = "each is another thing, and a struct for one call would only hide them")]
fn twists(
    book: &mut Book,
    plan: &Plan,
    wishes: &Wishes,
    measured: &Measured,
    widths: &Widths,
    plies: &Figure<Count>,
    strands: Option<&Figure<Count>>,
    keep: &Figure<Share>,
    stretch: &Figure<Share>,
) -> Twists {
    if !plan.yarn.construction.is_plied() {
        let (last, singles_at_wheel) = unplied_twist(book, plan, wishes, measured, widths, keep, stretch);
        return Twists { last, singles_at_wheel, plied_at_wheel: None, cabled_at_wheel: None };
    }
    let Some(strands) = strands else {
        let last = ply_twist(book, plan, wishes, measured, &widths.singles, plies);
        let plied = book.enter("plied.twist-at-wheel", "ply twist at the wheel", twist::at_wheel(&last, keep));
        let singles_at_wheel = singles_twist(book, measured, &last, plies, keep, stretch);
        return Twists { last, singles_at_wheel, plied_at_wheel: Some(plied), cabled_at_wheel: None };
    };
    let cable = cable_twist(book, plan, wishes, measured, &widths.last, strands);
    let balanced = balanced_twist(book, plan, &widths.singles, plies);
    let strand = strand_twist(book, &cable, &balanced, strands);
    let plied = book.enter("plied.twist-at-wheel", "strand twist at the wheel", twist::at_wheel(&strand, keep));
    let cabled = book.enter("cabled.twist-at-wheel", "cable twist at the wheel", twist::at_wheel(&cable, keep));
    let singles_at_wheel = singles_twist(book, measured, &balanced, plies, keep, stretch);
    Twists { last: cable, singles_at_wheel, plied_at_wheel: Some(plied), cabled_at_wheel: Some(cabled) }
}

/// The last twist, as it is read off the sample or wished; else from an angle by `of_angle`.
fn last_wished(
    book: &mut Book,
    plan: &Plan,
    wishes: &Wishes,
    read: Option<&Figure<Twist>>,
    wish: Option<Figure<Twist>>,
    angle: Option<&Figure<Angle>>,
    of_angle: impl FnOnce(&Figure<Angle>) -> Figure<Twist>,
) -> Figure<Twist> {
    read.map(sample::as_sampled).or(wish).unwrap_or_else(|| {
        let angle = angle.map(sample::as_sampled).unwrap_or_else(|| wishes.angle(book, plan));
        of_angle(&book.enter("washed.angle-wished", "angle wished", angle))
    })
}

/// Ply twist of the washed yarn: counted on the sample, else wished, else from an angle.
fn ply_twist(
    book: &mut Book,
    plan: &Plan,
    wishes: &Wishes,
    measured: &Measured,
    singles: &Figure<Wraps>,
    plies: &Figure<Count>,
) -> Figure<Twist> {
    let read = measured.ply_twist.as_ref();
    let wish = if read.is_none() { wishes.ply_twist(book, plan) } else { None };
    let figure = last_wished(book, plan, wishes, read, wish, measured.angle.as_ref(), |angle| {
        twist::ply_twist(angle, singles, plies)
    });
    let ply = book.enter("washed.ply-twist", "ply twist", figure);
    book.enter("washed.angle", "angle of the plies", twist::ply_angle(&ply, singles, plies));
    ply
}

/// Twist of a yarn of singles, washed and at the wheel.
fn unplied_twist(
    book: &mut Book,
    plan: &Plan,
    wishes: &Wishes,
    measured: &Measured,
    widths: &Widths,
    keep: &Figure<Share>,
    stretch: &Figure<Share>,
) -> (Figure<Twist>, Figure<Twist>) {
    let read = measured.ply_twist.as_ref();
    let wish = if read.is_none() { wishes.ply_twist(book, plan) } else { None };
    let figure = last_wished(book, plan, wishes, read, wish, measured.angle.as_ref(), |angle| {
        twist::twist_of_singles(angle, &widths.singles)
    });
    let washed = book.enter("washed.singles-twist", "twist of the washed singles", figure);
    book.enter("washed.angle", "angle of the washed fibres", twist::singles_angle(&washed, &widths.singles));
    let at_wheel = book.enter("singles.twist-at-wheel", "singles twist at the wheel", twist::at_wheel(&washed, keep));
    book.enter("singles.fresh-twist", "singles twist fresh", twist::fresh(&at_wheel, stretch));
    (washed, at_wheel)
}

/// Twist of the washed cable: counted on the sample, else wished, else from the angle of its strands.
fn cable_twist(
    book: &mut Book,
    plan: &Plan,
    wishes: &Wishes,
    measured: &Measured,
    strand: &Figure<Wraps>,
    strands: &Figure<Count>,
) -> Figure<Twist> {
    let read = measured.cable_twist.as_ref();
    let wish = plan.yarn.cable_twist.as_ref().filter(|_| read.is_none());
    let wish = wish.map(|wish| book.reading(wish, "ply twist aimed at").by(&GIVEN));
    let figure = last_wished(book, plan, wishes, read, wish, measured.angle.as_ref(), |angle| {
        twist::ply_twist(angle, strand, strands)
    });
    let cable = book.enter("washed.cable-twist", "cable twist", figure);
    book.enter("washed.angle", "angle of the strands", twist::ply_angle(&cable, strand, strands));
    cable
}

/// The twist at which a strand of a cabled yarn would balance by itself: wished, else from an angle.
fn balanced_twist(book: &mut Book, plan: &Plan, singles: &Figure<Wraps>, plies: &Figure<Count>) -> Figure<Twist> {
    let figure = match &plan.yarn.ply_twist {
        Some(wish) => book.reading(wish, "strand twist aimed at").by(&GIVEN),
        None => {
            let angle =
                plan.yarn.strand_angle.as_ref().expect("invariant: check gives a cabled yarn an angle of strands");
            let angle = book.reading(angle, "angle in a strand aimed at");
            twist::ply_twist(&angle, singles, plies)
        }
    };
    book.enter("plied.balanced-twist", "balanced twist of a strand", figure)
}

/// Twist to ply a strand with, which is more than its balance by what cabling takes out again.
fn strand_twist(
    book: &mut Book,
    cable: &Figure<Twist>,
    balanced: &Figure<Twist>,
    strands: &Figure<Count>,
) -> Figure<Twist> {
    let balance = book.enter("plied.balance", "balance of strands", twist::balance(strands));
    let equal = book.enter("plied.equal-factor", "equal twist factor of strands", twist::equal_factor(strands));
    let fraction = book.enter("plied.fraction", "cable twist over extra twist", twist::between(&balance, &equal));
    let extra = book.enter("plied.extra-twist", "extra twist of a strand", twist::singles_twist(cable, &fraction));
    let strand = book.enter("plied.twist", "twist of a strand", twist::strand(balanced, &extra));
    book.enter("washed.ply-twist", "ply twist left in the strands", twist::left_in_strand(&strand, cable));
    strand
}

/// Twist of the singles at the wheel: from the sample's ply-back, else from the ply twist by two rules.
fn singles_twist(
    book: &mut Book,
    measured: &Measured,
    ply: &Figure<Twist>,
    plies: &Figure<Count>,
    keep: &Figure<Share>,
    stretch: &Figure<Share>,
) -> Figure<Twist> {
    let balance = book.enter("singles.balance", "balance of plies", twist::balance(plies));
    let equal = book.enter("singles.equal-factor", "equal twist factor", twist::equal_factor(plies));
    if let Some(fresh) = &measured.fresh_twist {
        let fresh = book.enter("singles.fresh-twist", "singles twist fresh", sample::as_sampled(fresh));
        return book.enter(
            "singles.twist-at-wheel",
            "singles twist at the wheel",
            twist::under_tension(&fresh, stretch),
        );
    }
    let fraction = book.enter("singles.fraction", "ply twist over singles twist", twist::between(&balance, &equal));
    let singles = book.enter("singles.twist", "singles twist", twist::singles_twist(ply, &fraction));
    let at_wheel = book.enter("singles.twist-at-wheel", "singles twist at the wheel", twist::at_wheel(&singles, keep));
    book.enter("singles.fresh-twist", "singles twist fresh", twist::fresh(&at_wheel, stretch));
    at_wheel
}

/// Taken as it stands in the plan, or as its default.
static GIVEN: Formula = Formula { source: "as given", standing: Standing::Standard };
