//! Is it enough? What each garment takes against the yarn there will be, by draws of both together.

use super::aim::Aim;
use super::deal::{Deal, as_plied, tex_to_come};
use super::expression::draws::quantile;
use super::expression::{Figure, Formula, sum};
use super::garments::{self, Made, Way};
use super::ledger::{Book, Columns, How, Line, number, share_below_zero};
use super::supplies::{fibre_of, piece_share};
use super::{assumed, folding};
use crate::plan::{Garment, Plan, Sampling, Supply};
use crate::units::format::decimals;
use crate::units::{Kind, Length, LinearDensity, Mass, Share, Standing};

static ALLOWED: Formula = Formula { source: "lengths add", standing: Standing::Standard };
static WEIGHTS: Formula = Formula { source: "weights add", standing: Standing::Standard };
static LEFT: Formula = Formula { source: "what there is less what is needed", standing: Standing::Standard };

/// Enters what each garment takes, before anything is drawn.
pub fn needs(book: &mut Book, plan: &Plan, aim: &Aim, deal: &Deal, made: &[Made]) {
    ones(book, plan);
    let mending = book.assume::<Length>(&assumed::MENDING).by(&ALLOWED);
    book.enter("yarn.mending", "yarn kept for mending", mending);
    for (garment, made) in plan.garments.iter().zip(made) {
        let total = need(book, plan, aim, garment, made, deal);
        one_more(book, plan, aim, garment, &total, deal);
    }
    if plan.garments.len() > 1 {
        together(book, plan);
    }
}

/// Enters what one garment takes in all, the fibre for it and what is left over; gives the yarn wanted.
pub(super) fn need(
    book: &mut Book,
    plan: &Plan,
    aim: &Aim,
    garment: &Garment,
    made: &Made,
    deal: &Deal,
) -> Figure<Length> {
    let name = |what: &str| format!("garment.{}.{what}", garment.name);
    let noun = |what: &str| format!("{what} {}", garment.name);
    let yarn = book.figure::<Length>(&name("yarn"));
    let allowances = allowances(book, plan, made, &yarn, deal);
    let allowances = book.enter(name("allowances"), noun("allowances for the"), allowances);
    let reserve = book.reading(&plan.reserve, "reserve");
    let total =
        book.enter(name("total"), noun("yarn wanted for the"), folding::with_reserve(&(&yarn + allowances), &reserve));
    let spun = book.figure::<LinearDensity>("yarn.tex");
    book.enter(name("fibre"), noun("fibre for the"), folding::fibre_for(&total, &spun, &aim.waste, &aim.lightens));
    let have = book.figure::<Length>("yarn.length");
    book.enter(name("left-over"), noun("yarn left over from the"), (&have - &total).by(&LEFT));
    total
}

/// What would be left with one more braid of the scarcest supply.
fn one_more(book: &mut Book, plan: &Plan, aim: &Aim, garment: &Garment, total: &Figure<Length>, deal: &Deal) {
    let scarcest = deal.scarcest;
    let name = &plan.supplies[scarcest].name;
    let mean = one_of(&plan.supplies[scarcest]);
    let braid: Figure<Mass> = book.choose(
        "one-more",
        &format!("one more of {name}"),
        mean,
        format!("{} g", decimals(mean, 0)),
        "of the usual weight",
    );
    let mut usable: Vec<Figure<Mass>> =
        plan.supplies.iter().map(|supply| book.figure(&format!("{}.usable", supply.stage()))).collect();
    // Every piece of a braid that is cut across grows with it.
    let place = &plan.supplies[scarcest].place;
    for (supply, usable) in plan.supplies.iter().zip(&mut usable).filter(|(supply, _)| supply.place == *place) {
        *usable = match supply.cut {
            None => &*usable + &braid,
            Some(_) => &*usable + &braid * piece_share(book, supply),
        };
    }
    let fibre = fibre_of(book, plan, &usable, &deal.demand);
    let entered = |what: &str| format!("garment.{}.{what}-with-one-more", garment.name);
    let fibre = book.enter(entered("fibre"), "fibre with one more", fibre);
    // What there is stays as it is; what comes on top is spun as the rest will be.
    let more = fibre - book.figure::<Mass>("yarn.fibre");
    let more = folding::yarn_from(&more, &tex_to_come(book), &aim.waste, &aim.lightens);
    let length = book.figure::<Length>("yarn.length") + as_plied(book, more, deal.plied);
    let have = book.enter(entered("length"), "yarn with one more", length.by(&ALLOWED));
    book.enter(entered("left-over"), "left over with one more", (have - total).by(&LEFT));
}

/// What one braid of each supply weighs.
fn ones(book: &mut Book, plan: &Plan) {
    for supply in plan.whole_lots() {
        let place = &supply.place.path;
        let n = number(
            book,
            &format!("{place}.count"),
            &format!("braids of {}", supply.name),
            supply.weights.len(),
            "so many there are",
        );
        let whole = book.figure::<Mass>(&format!("{place}.weight"));
        book.enter(format!("{place}.one"), format!("one of {}", supply.name), (whole / n).by(&MEAN));
    }
}

static MEAN: Formula = Formula { source: "mean of weighings", standing: Standing::Standard };

/// The weight of one braid of a supply, or of loose fibre all of it.
pub fn one_of(supply: &Supply) -> f64 {
    supply.weights.iter().map(|weight| weight.value).sum::<f64>() / supply.weights.len() as f64
}

/// Yarn beside the garment itself: joins, mending, edges where the area does not tell them, and swatches where neither a sample nor
/// fibre for sampling provides for them.
fn allowances(book: &mut Book, plan: &Plan, made: &Made, yarn: &Figure<Length>, deal: &Deal) -> Figure<Length> {
    let skeins: usize = deal.sets().map(|(_, set)| set.skeins.clone().count()).sum();
    let joins = number(book, "joins", "joins", skeins.max(1), "one for each skein");
    let mut parts = vec![book.assume::<Length>(&assumed::JOIN) * joins, book.figure("yarn.mending")];
    // A pattern states the yarn with its edges; an area knows nothing of them, and a loom has none.
    let is_by_area = made.ways.first().is_some_and(|way| *way != Way::Stated);
    if is_by_area {
        parts.push(yarn * book.assume::<Share>(&assumed::EDGES));
    }
    let provided =
        plan.chosen().is_some() || plan.supplies.iter().any(|supply| !matches!(supply.for_sampling, Sampling::None));
    if !provided {
        parts.push(book.assume::<Length>(&assumed::SWATCHES));
    }
    sum(&parts).by(&ALLOWED)
}

/// All garments of a plan from the one yarn; entered where there are several.
fn together(book: &mut Book, plan: &Plan) {
    let totals: Vec<Figure<Length>> =
        plan.garments.iter().map(|garment| book.figure(&format!("garment.{}.total", garment.name))).collect();
    let total = book.enter("garments.total", "yarn wanted for all garments", sum(&totals).by(&ALLOWED));
    let have = book.figure::<Length>("yarn.length");
    book.enter("garments.left-over", "yarn left over from all garments", (have - &total).by(&LEFT));
    let more = book.figure::<Length>(&format!("garment.{}.length-with-one-more", plan.garments[0].name));
    book.enter(
        "garments.left-over-with-one-more",
        "left over from all garments with one more",
        (more - total).by(&LEFT),
    );
    let fibres: Vec<Figure<Mass>> =
        plan.garments.iter().map(|garment| book.figure(&format!("garment.{}.fibre", garment.name))).collect();
    book.enter("garments.fibre", "fibre for all garments", sum(&fibres).by(&WEIGHTS));
}

/// What a garment leaves of each of several ply plans.
fn left_of_plans(plan: &Plan, garment: &Garment, has: &impl Fn(&str) -> bool) -> Vec<String> {
    let names = plan.ply_plans.iter().map(|ply_plan| garments::left_of(garment, &ply_plan.name));
    names.filter(|name| has(name)).collect()
}

/// The figures whose draws are wanted whole. `has` tells whether one was entered.
pub fn headlines(plan: &Plan, has: impl Fn(&str) -> bool) -> Vec<String> {
    let of = |what: &str| {
        plan.garments.iter().map(move |garment| format!("garment.{}.{what}", garment.name)).collect::<Vec<_>>()
    };
    let of_plans = plan.garments.iter().flat_map(|garment| left_of_plans(plan, garment, &has)).collect();
    let together = if plan.garments.len() > 1 {
        ["fibre", "left-over", "left-over-with-one-more"].map(|what| format!("garments.{what}")).to_vec()
    } else {
        Vec::new()
    };
    [of("fibre"), of("left-over"), of("left-over-with-one-more"), of_plans, together].concat()
}

/// Enters what is counted over the draws: chances, lengths and weights for the wished certainty, braids to buy.
pub fn counts(book: &mut Book, plan: &Plan, deal: &Deal, columns: &Columns) {
    for garment in &plan.garments {
        let name = |what: &str| format!("garment.{}.{what}", garment.name);
        chances(book, columns, &format!("garment.{}", garment.name), &garment.name);
        short_of_any(book, plan, garment, columns);
        let entered = |name: &str| book.find::<Length>(name).is_some();
        for of in left_of_plans(plan, garment, &entered) {
            let short = share_below_zero(columns.of(&of));
            let stage = of.trim_end_matches(".left-over");
            let words = format!("chance of running short of one yarn, {}", garment.name);
            counted(book, format!("{stage}.chance-short"), words, Kind::Share, short, BELOW, &[of]);
        }
        let sure = plan.sure_of_enough.value;
        let fibre = quantile(&mut columns.of(&name("fibre")).to_vec(), sure);
        counted(
            book,
            name("fibre-to-have"),
            format!("fibre to have for the {}", garment.name),
            Kind::Mass,
            fibre,
            SURE,
            &[name("fibre")],
        );
        // The doubt is of need and of spinning together, so that what is to be spun and what is to be bought tell one story.
        let likely = |what: &str| book.figure::<Length>(&name(what)).value();
        let to_spin = likely("total") * fibre / book.figure::<Mass>(&name("fibre")).value();
        counted(
            book,
            name("to-spin"),
            format!("yarn to plan for the {}", garment.name),
            Kind::Length,
            to_spin,
            "likely need, greater by as much as the wished certainty asks of the fibre",
            &[name("total"), name("fibre-to-have")],
        );
        let (stage, noun) = (format!("garment.{}", garment.name), format!("the {}", garment.name));
        match lacking_by_plans(book, plan, deal, garment, columns) {
            Some(lacking) => to_buy_for_plans(book, plan, &stage, &noun, &lacking),
            None => to_buy(book, plan, &stage, &noun, deal, fibre),
        }
    }
    counts_together(book, plan, deal, columns);
}

/// The chances of running short, as it is and with one more braid; `stage` and `noun` are of one garment or of all.
fn chances(book: &mut Book, columns: &Columns, stage: &str, noun: &str) {
    for (chance, of, words) in [
        ("chance-short", "left-over", "chance of running short"),
        ("chance-short-with-one-more", "left-over-with-one-more", "chance of running short with one more"),
    ] {
        let of = format!("{stage}.{of}");
        let value = share_below_zero(columns.of(&of));
        counted(book, format!("{stage}.{chance}"), format!("{words}, {noun}"), Kind::Share, value, BELOW, &[of]);
    }
}

/// Counts the chance that any of several ply plans runs short, where each is told by itself.
fn short_of_any(book: &mut Book, plan: &Plan, garment: &Garment, columns: &Columns) {
    let entered = |name: &str| book.find::<Length>(name).is_some();
    let all = left_of_plans(plan, garment, &entered);
    let Some(first) = all.first() else { return };
    let n = columns.of(first).len();
    let is_short = |draw: usize| all.iter().any(|of| columns.of(of)[draw] < 0.0);
    let short = (0..n).filter(|draw| is_short(*draw)).count() as f64 / n as f64;
    let words = format!("chance that one of its ply plans runs short, {}", garment.name);
    let how = "share of the draws in which nothing is left of one of them";
    counted(book, format!("garment.{}.chance-any-short", garment.name), words, Kind::Share, short, how, &all);
}

/// Counts over the draws of all garments together.
fn counts_together(book: &mut Book, plan: &Plan, deal: &Deal, columns: &Columns) {
    if plan.garments.len() > 1 {
        chances(book, columns, "garments", "all garments");
        let fibre = quantile(&mut columns.of("garments.fibre").to_vec(), plan.sure_of_enough.value);
        counted(
            book,
            "garments.fibre-to-have".to_owned(),
            "fibre to have for all garments".to_owned(),
            Kind::Mass,
            fibre,
            SURE,
            &["garments.fibre".to_owned()],
        );
        to_buy(book, plan, "garments", "all garments", deal, fibre);
    }
}

const BELOW: &str = "share of the draws in which nothing is left";
const SURE: &str = "as many draws as the wished certainty asks lie below";

/// Whole braids to buy of each supply: what is wanted of it, less what there is, rounded up once and last.
/// `stage` and `noun` are of one garment or of all.
fn to_buy(book: &mut Book, plan: &Plan, stage: &str, noun: &str, deal: &Deal, fibre: f64) {
    for (supply, lacking) in self::lacking(book, plan, deal, fibre) {
        // All garments lack no less than one of them.
        let of_one = |garment: &Garment| book.counted(&format!("garment.{}.to-buy.{}", garment.name, supply.name));
        let is_of_all = stage == "garments";
        let lacking = plan.garments.iter().filter(|_| is_of_all).filter_map(of_one).fold(lacking, f64::max);
        let usable = format!("{}.usable", supply.stage());
        counted(
            book,
            format!("{stage}.to-buy.{}", supply.name),
            format!("more of {} to buy for {noun}", supply.name),
            Kind::Count,
            lacking,
            "what is lacking over the weight of one, rounded up once and last",
            &[format!("{stage}.fibre-to-have"), usable],
        );
    }
}

/// What is lacking of each supply, in grams, where each ply plan has to suffice for the pieces that name it: what a ply plan takes of
/// the supply, times what its yarn lacks of itself for the wished certainty. `None` where all of the yarn is one.
fn lacking_by_plans(book: &Book, plan: &Plan, deal: &Deal, garment: &Garment, columns: &Columns) -> Option<Vec<f64>> {
    let mut lacking = vec![0.0; plan.supplies.len()];
    let mut is_told = false;
    for dealt in &deal.plans {
        let called = &plan.ply_plans[dealt.ply_plan].name;
        let of = garments::left_of(garment, called);
        if book.find::<Length>(&of).is_none() {
            continue;
        }
        is_told = true;
        let left = quantile(&mut columns.of(&of).to_vec(), 1.0 - plan.sure_of_enough.value);
        let have = book.figure::<Length>(&format!("yarn.of.{called}")).value();
        let lacks = (-left / have).max(0.0);
        for bobbin in dealt.sets.iter().flat_map(|set| &set.bobbins) {
            for (k, strip) in bobbin.strips.iter().enumerate() {
                let name = format!("bobbin.{}.strip.{}", bobbin.number, k + 1);
                lacking[strip.supply] += lacks * book.figure::<Mass>(&name).value();
                if let Some((beside, _)) = strip.beside {
                    lacking[beside] += lacks * book.figure::<Mass>(&format!("{name}.beside")).value();
                }
            }
        }
    }
    is_told.then_some(lacking)
}

/// Whole braids to buy of each supply, by what its ply plans lack.
fn to_buy_for_plans(book: &mut Book, plan: &Plan, stage: &str, noun: &str, lacking: &[f64]) {
    for supply in plan.whole_lots() {
        let pieces = plan.supplies.iter().zip(lacking).filter(|(piece, _)| piece.place == supply.place);
        let grams: f64 = pieces.map(|(_, grams)| grams).sum();
        counted(
            book,
            format!("{stage}.to-buy.{}", supply.name),
            format!("more of {} to buy for {noun}", supply.name),
            Kind::Count,
            (grams / one_of(supply)).ceil(),
            "what each ply plan lacks of it for the wished certainty, over the weight of one, rounded up once and last",
            &[format!("{stage}.total"), format!("{}.usable", supply.stage())],
        );
    }
}

/// How many whole braids of each supply are lacking for so much fibre in all.
pub(super) fn lacking<'a>(book: &Book, plan: &'a Plan, deal: &Deal, fibre: f64) -> Vec<(&'a Supply, f64)> {
    let lacking = |supply: &'a Supply| {
        let pieces = plan.supplies.iter().enumerate().filter(|(_, piece)| piece.place == supply.place);
        let lacking = pieces.map(|(i, piece)| {
            let usable = book.figure::<Mass>(&format!("{}.usable", piece.stage())).value();
            (fibre * deal.demand[i] - usable) / piece.share_of_braid()
        });
        let lacking = lacking.fold(f64::NEG_INFINITY, f64::max);
        (supply, (lacking / one_of(supply)).ceil().max(0.0))
    };
    plan.whole_lots().map(lacking).collect()
}

fn counted(book: &mut Book, name: String, words: String, kind: Kind, value: f64, how: &str, of: &[String]) {
    book.count(Line {
        name,
        words,
        kind,
        source: "JCGM 101:2008, by ten thousand draws".to_owned(),
        how: How::Counted { words: how.to_owned(), of: of.to_vec() },
        ..Line::counted(value, Standing::Standard)
    });
}
