//! Figures of colour that have a formula: runs of one colour, yarn in a row, depths of stripes, how far plies drift apart.

use super::formula;
use crate::figures::aim::Aim;
use crate::figures::assumed;
use crate::figures::deal::{Deal, DealtBobbin, DealtPlan};
use crate::figures::expression::{Figure, Formula, sum};
use crate::figures::garments::{Cut, Made, Reel};
use crate::figures::kinds::Spun;
use crate::figures::ledger::{Book, number};
use crate::figures::supplies;
use crate::plan::{End, Garment, Plan, Ply, Supply};
use crate::units::format::percent;
use crate::units::{Area, Count, Length, LinearDensity, Mass, Rows, Share, Standing, YarnPerArea};

/// A piece that is worked from the yarn of a ply plan.
#[derive(Debug, Clone, PartialEq)]
pub struct WorkedPiece {
    /// Index into [`Plan::garments`].
    pub garment: usize,
    /// Index into [`Made::pieces`]; `None` of a swatch, where the garment names no piece.
    pub piece: Option<usize>,
    /// The name below which its figures stand: `garment.pullover.body`.
    pub stage: String,
    /// Index of the ply plan.
    pub ply_plan: usize,
    /// Metres of that yarn that are worked before it.
    pub from: f64,
    /// Metres of yarn in one row; `None` where rows are not known, as in a cloth.
    pub row: Option<f64>,
    /// Metres of yarn in a metre of height.
    pub per_height: f64,
    /// Width and height, metres.
    pub size: (f64, f64),
    /// Whether its rows are rounds.
    pub in_the_round: bool,
}

/// Enters what has a formula, and gives the pieces that are worked.
pub fn enter(
    book: &mut Book,
    plan: &Plan,
    aim: &Aim,
    singles: &[Spun],
    deal: &Deal,
    made: &[Made],
) -> Vec<WorkedPiece> {
    if plan.supplies.iter().all(|supply| supply.sections.is_empty()) {
        return Vec::new();
    }
    for dealt in &deal.plans {
        for ply in plies_that_differ(&plan.ply_plans[dealt.ply_plan].plies) {
            runs(book, plan, aim, singles, dealt, ply);
        }
    }
    hands(book);
    drift(book, plan, deal);
    let worked = pieces(book, plan, deal, made);
    for piece in &worked {
        depths(book, plan, piece);
    }
    worked
}

/// By index, the first of the plies of a plan that are spun alike: the runs of the others are as long as its own.
pub(super) fn plies_that_differ(plies: &[Ply]) -> Vec<usize> {
    let is_like = |a: &Ply, b: &Ply| {
        let part = |ply: &Ply| ply.part.as_ref().map(|part| part.share);
        (&a.lots, a.beside, a.strips, &a.colour_order, a.singles)
            == (&b.lots, b.beside, b.strips, &b.colour_order, b.singles)
            && part(a) == part(b)
    };
    (0..plies.len()).filter(|i| !plies[..*i].iter().any(|before| is_like(before, &plies[*i]))).collect()
}

/// Finished yarn from one section of one strip, for each colour of a ply, and from a strip in the mean: runs of one colour.
fn runs(book: &mut Book, plan: &Plan, aim: &Aim, singles: &[Spun], dealt: &DealtPlan, ply: usize) {
    let named = &plan.ply_plans[dealt.ply_plan];
    let kind = &singles[named.plies[ply].singles];
    let spun = book.figure::<LinearDensity>("yarn.tex");
    let bobbin = &dealt.sets[0].bobbins[ply];
    let stage = format!("run.{}.{}", named.name, ply + 1);
    let of_ply = format!("ply {} of {}", ply + 1, named.name);
    for k in strips_that_differ(bobbin) {
        let supply = &plan.supplies[bobbin.strips[k].supply];
        let strip = strip_weight(book, bobbin, k);
        for (colour, share) in longest_sections(book, supply) {
            let name = format!("{stage}.{}", plan.colours[colour].name);
            if book.find::<Length>(&name).is_some() {
                continue;
            }
            let words = format!("run of {} in {of_ply}", plan.colours[colour].name);
            let run = formula::run(&strip, &share, &kind.dealt, &spun, &aim.waste, &aim.lightens);
            book.enter(name, words, run);
        }
    }
    let weight = book.figure::<Mass>(&format!("bobbin.{}.weight", bobbin.number));
    let n_bands = match named.plies[ply].colour_order.as_slice() {
        [] => n_runs(plan, bobbin),
        order => order.len(),
    };
    let count: Figure<Count> =
        number(book, &format!("bands.{stage}"), "runs on a bobbin", n_bands, "as its strips are dyed");
    let mean = formula::mean_run(&weight, &count, &kind.dealt, &spun, &aim.waste, &aim.lightens);
    book.enter(stage, format!("mean run of one colour in {of_ply}"), mean);
}

/// Runs of one colour on a bobbin, joined where one strip ends in the colour in which the next begins.
fn n_runs(plan: &Plan, bobbin: &DealtBobbin) -> usize {
    let mut colours: Vec<Option<usize>> = Vec::new();
    for strip in &bobbin.strips {
        let mut bands: Vec<Option<usize>> =
            plan.supplies[strip.supply].bands().into_iter().map(|(colour, _)| Some(colour)).collect();
        if strip.from == End::Other {
            bands.reverse();
        }
        // Undyed fibre is one run.
        colours.extend(if bands.is_empty() { vec![None] } else { bands });
    }
    colours.dedup();
    colours.len().max(1)
}

/// Strips of a bobbin, one for each supply on it.
fn strips_that_differ(bobbin: &DealtBobbin) -> Vec<usize> {
    let is_new = |k: &usize| !bobbin.strips[..*k].iter().any(|before| before.supply == bobbin.strips[*k].supply);
    (0..bobbin.strips.len()).filter(is_new).collect()
}

fn strip_weight(book: &Book, bobbin: &DealtBobbin, k: usize) -> Figure<Mass> {
    let name = format!("bobbin.{}.strip.{}", bobbin.number, k + 1);
    let own = book.figure::<Mass>(&name);
    match book.find::<Mass>(&format!("{name}.beside")) {
        Some(beside) => own + beside,
        None => own,
    }
}

/// The longest section of each colour, as a share of a strip.
fn longest_sections(book: &mut Book, supply: &Supply) -> Vec<(usize, Figure<Share>)> {
    let bands = supply.bands();
    let mut longest: Vec<(usize, f64)> = Vec::new();
    for (colour, share) in &bands {
        match longest.iter_mut().find(|(other, _)| other == colour) {
            Some((_, most)) => *most = most.max(*share),
            None => longest.push((*colour, *share)),
        }
    }
    longest.into_iter().map(|(colour, share)| (colour, section_share(book, supply, colour, share))).collect()
}

/// What a section is of its strip: by the tape where the whole braid is torn, else as a share.
fn section_share(book: &mut Book, supply: &Supply, colour: usize, share: f64) -> Figure<Share> {
    let lengths = supplies::section_lengths(book, supply).filter(|_| supply.cut.is_none());
    let is_longest = |lengths: &Vec<Figure<Length>>, i: usize| {
        let whole: f64 = lengths.iter().map(Figure::value).sum();
        supply.sections[i].colour == colour && (lengths[i].value() / whole - share).abs() < 1e-9
    };
    let by_tape = lengths.and_then(|lengths| {
        let longest = (0..lengths.len()).find(|i| is_longest(&lengths, *i))?;
        Some(&lengths[longest] / sum(&lengths))
    });
    by_tape.unwrap_or_else(|| {
        let words = format!("longest section of {} in a strip", supply.noun());
        let place = format!("section.{}.{colour}", supply.stage());
        book.choose(&place, &words, share, percent(share, 1), "as the sections of the braid are written")
    })
}

/// Enters how far hands are taken to miss, by which plies lose step.
fn hands(book: &mut Book) {
    let constant = book.assume::<Share>(&assumed::STEP_CONSTANT);
    book.enter("step.all-along", "how much longer one ply runs", constant.by(&HANDS));
    let wander = book.assume::<Share>(&assumed::STEP_WANDER);
    book.enter("step.here-and-there", "how much it runs longer here and shorter there", wander.by(&HANDS));
    let forgets = book.assume::<Length>(&assumed::WANDER_LENGTH);
    book.enter("step.forgotten-over", "yarn over which that wanders", forgets.by(&HANDS));
}

static HANDS: Formula = Formula { source: "our choice until the log tells", standing: Standing::OurChoice };

/// How far two plies are out of step at the end of a set, by the rule of the craft, and after how much yarn that is half a run.
fn drift(book: &mut Book, plan: &Plan, deal: &Deal) {
    if plan.ply_plans.iter().all(|one| one.plies.len() < 2) {
        return;
    }
    let longer: Figure<Share> = book.choose(
        "step.longer",
        "how much longer one ply runs than the other",
        PLIES_DIFFER,
        percent(PLIES_DIFFER, 0),
        "the share within which published craft texts call bobbins good",
    );
    for dealt in &deal.plans {
        let name = &plan.ply_plans[dealt.ply_plan].name;
        let (set, skein) = (dealt.sets[0].number, dealt.sets[0].skeins.start());
        let several = book.find::<Length>(&format!("set.{set}.length"));
        let yarn = several.unwrap_or_else(|| book.figure(&format!("skein.{skein}.length")));
        let off = formula::out_of_step(&longer, &yarn);
        book.enter(format!("step.{name}.off"), format!("out of step at the end of a set of {name}"), off);
        let finest = finest_run(book, plan, dealt);
        if let Some(run) = finest {
            let after = formula::lost_after(&run, &longer);
            book.enter(format!("step.{name}.lost-after"), format!("yarn of {name} after which a run is lost"), after);
        }
    }
}

/// The difference between two plies for which the rule of the craft is worked out: P2.3's limit of good bobbins.
const PLIES_DIFFER: f64 = 0.05;

/// The shortest mean run among the plies of a plan.
fn finest_run(book: &Book, plan: &Plan, dealt: &DealtPlan) -> Option<Figure<Length>> {
    let named = &plan.ply_plans[dealt.ply_plan];
    let runs = (0..named.plies.len()).filter_map(|ply| book.find::<Length>(&format!("run.{}.{}", named.name, ply + 1)));
    runs.min_by(|a, b| a.value().total_cmp(&b.value()))
}

/// The pieces of all garments whose yarn by area is known, and which yarn each is worked from.
fn pieces(book: &mut Book, plan: &Plan, deal: &Deal, made: &[Made]) -> Vec<WorkedPiece> {
    let mut reel = Reel::new(book, deal);
    let mut found = Vec::new();
    for (index, (garment, made)) in plan.garments.iter().zip(made).enumerate() {
        reel.begin();
        let Some(per_area) = book.find::<YarnPerArea>(&format!("garment.{}.per-area", garment.name)) else { continue };
        let rows = garment.own_gauge().map(|gauge| book.reading(&gauge.rows, "rows"));
        if made.pieces.is_empty() {
            found.extend(swatch(book, index, garment, &per_area, rows.as_ref(), &reel));
        }
        for (i, piece) in made.pieces.iter().enumerate() {
            found.extend(worked_piece(book, index, (i, piece), &mut reel));
        }
    }
    found
}

/// One piece, once for each of its count. It is drawn as a rectangle of its own area and height.
fn worked_piece(book: &Book, garment: usize, (i, piece): (usize, &Cut), reel: &mut Reel) -> Vec<WorkedPiece> {
    let stage = &piece.stage;
    let yarn = book.figure::<Length>(&format!("{stage}.yarn")).value();
    let height = piece.flat.height().value();
    let width = book.figure::<Area>(&format!("{stage}.area")).value() / height;
    let one = |(ply_plan, from): (usize, f64)| WorkedPiece {
        garment,
        piece: Some(i),
        stage: stage.clone(),
        ply_plan,
        from,
        row: book.find::<Length>(&format!("{stage}.row")).map(|row| row.value()),
        per_height: book.figure::<Share>(&format!("{stage}.per-height")).value(),
        size: (width, height),
        in_the_round: piece.in_the_round,
    };
    (0..piece.count).map(|_| one(reel.take(piece.ply_plan, yarn))).collect()
}

/// Enters how much yarn a swatch takes by height and by row.
fn enter_rows(
    book: &mut Book,
    stage: &str,
    per_area: &Figure<YarnPerArea>,
    width: &Figure<Length>,
    rows: Option<&Figure<Rows>>,
) -> (Figure<Share>, Option<Figure<Length>>) {
    let per_height = formula::yarn_per_height(per_area, width);
    let per_height = book.enter(format!("{stage}.per-height"), "yarn in a swatch by its height", per_height);
    let row = rows.map(|rows| {
        book.enter(format!("{stage}.row"), "yarn in a row of a swatch", formula::yarn_in_row(&per_height, rows))
    });
    (per_height, row)
}

/// A swatch in the place of pieces that are not named.
fn swatch(
    book: &mut Book,
    index: usize,
    garment: &Garment,
    per_area: &Figure<YarnPerArea>,
    rows: Option<&Figure<Rows>>,
    reel: &Reel,
) -> Vec<WorkedPiece> {
    let stage = format!("garment.{}.swatch", garment.name);
    let width = book.assume::<Length>(&assumed::SWATCH_WIDTH);
    let (per_height, row) = enter_rows(book, &stage, per_area, &width, rows);
    reel.plans
        .iter()
        .map(|(ply_plan, _)| WorkedPiece {
            garment: index,
            piece: None,
            stage: stage.clone(),
            ply_plan: *ply_plan,
            from: 0.0,
            row: row.as_ref().map(Figure::value),
            per_height: per_height.value(),
            size: (width.value(), width.value()),
            in_the_round: false,
        })
        .collect()
}

/// How deep one run of each ply becomes in a piece.
fn depths(book: &mut Book, plan: &Plan, piece: &WorkedPiece) {
    let named = &plan.ply_plans[piece.ply_plan];
    for ply in plies_that_differ(&named.plies) {
        let name = format!("{}.stripe.{}.{}", piece.stage, named.name, ply + 1);
        let Some(run) = book.find::<Length>(&format!("run.{}.{}", named.name, ply + 1)) else { continue };
        if book.find::<Length>(&name).is_some() {
            continue;
        }
        let per_height = book.figure::<Share>(&format!("{}.per-height", piece.stage));
        let noun = piece.stage.rsplit('.').next().unwrap_or_default();
        let words = format!("depth of a run of ply {} of {} in {noun}", ply + 1, named.name);
        book.enter(name, words, formula::depth(&run, &per_height));
    }
}
