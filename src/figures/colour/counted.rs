//! The figures that tell of coloured yarns: what was laid out, drawn or searched for, each with how it was found.

use std::collections::BTreeSet;

use super::Coloured;
use super::found::mean_runs;
use super::step::Remedy;
use super::tint::Look;
use super::ways::tint_of;
use super::yarn::laid_out;
use crate::figures::ledger::{Bands, Book, How, Line};
use crate::plan::{Plan, dye};
use crate::units::{Kind, Length, Standing};

/// What comes round along each braid, where it has a length by which that is told.
pub(super) fn repeats(book: &mut Book, plan: &Plan) {
    for supply in plan.whole_lots() {
        let length = supply.length.as_ref().map_or_else(|| laid_out(supply), |length| Some(length.value));
        let (Some(length), Some(repeat)) = (length, dye::read(&supply.dyed_whole()).repeat) else { continue };
        book.count(Line {
            name: format!("{}.repeat", supply.place.path),
            words: format!("repeat of {}", supply.name),
            kind: Kind::Length,
            source: "read from the sections: bands are alike within a fifth".to_owned(),
            how: How::Counted {
                words: "the shortest list of bands that comes round at least twice".to_owned(),
                of: Vec::new(),
            },
            ..Line::counted(length * repeat.share, Standing::OurChoice)
        });
    }
}

const DRAWN: &str =
    "outcomes of hands that miss, each seeded by its number: plies longer or shorter all along, and wandering";

/// What the draws are made of.
fn with_hands(runs: &[String]) -> Vec<String> {
    let hands = ["all-along", "here-and-there", "forgotten-over"].map(|what| format!("step.{what}"));
    runs.iter().cloned().chain(hands).collect()
}

/// Counts the figures of one coloured yarn into the book.
pub(super) fn count(book: &mut Book, plan: &Plan, yarn: &Coloured) {
    let name = &plan.ply_plans[yarn.ply_plan].name;
    let plies = 1..=plan.ply_plans[yarn.ply_plan].plies.len();
    let runs = plies.map(|ply| format!("run.{name}.{ply}")).filter(|run| book.find::<Length>(run).is_some());
    let runs: Vec<String> = runs.collect();
    let mut enter = |what: String, words: String, kind: Kind, (value, bands): (f64, Bands), how: &str| {
        book.count(Line {
            name: format!("colour.{name}.{what}"),
            words: format!("{words}, {name}"),
            kind,
            bands,
            source: "plies laid side by side by their runs".to_owned(),
            how: How::Counted {
                words: how.to_owned(),
                of: if how == DRAWN { with_hands(&runs) } else { runs.clone() },
            },
            ..Line::counted(value, Standing::OurChoice)
        });
    };
    let exact = |value: f64| (value, Bands::exact(value));
    let drawn = |bands: Bands| (bands.median, bands);
    let noun_of = |i: usize| if i == 0 { "the plan's own way".to_owned() } else { format!("way {}", i + 1) };
    for (i, way) in yarn.ways.iter().enumerate() {
        let (stage, noun) = (format!("way-{}", i + 1), noun_of(i));
        enter(format!("{stage}.solid"), format!("solid share in step, {noun}"), Kind::Share, exact(way.solid), IN_STEP);
        let plied = format!("{stage}.as-plied");
        enter(plied, format!("solid share as plied, {noun}"), Kind::Share, drawn(way.as_plied), DRAWN);
        let (fine, coarse) = mean_runs(way, &yarn.tones);
        for piece in &yarn.pieces {
            let noun = piece.stage.rsplit('.').next().unwrap_or_default();
            let key = format!("{stage}.{}", piece.stage.replace('.', " "));
            for (what, run) in [("fine", fine), ("coarse", coarse)] {
                let words = format!("depth of the {what} runs in {noun}, {noun_of_way}", noun_of_way = noun_of(i));
                enter(format!("{key}.{what}"), words, Kind::Length, exact(run / piece.per_height), IN_STEP);
            }
        }
        for look in [Look::Clear, Look::Heathered, Look::Muddy, Look::BarberPole] {
            let shares = way.shares.iter().filter(|(shade, _)| yarn.shades[*shade].look == Some(look));
            let share: f64 = shares.map(|(_, share)| share).sum();
            let words = format!("share that looks {}, {noun}", look_words(look));
            enter(format!("{stage}.looks.{}", look_words(look)), words, Kind::Share, exact(share), LOOKS);
        }
        if let (Some(score), Some(total)) = (&way.score, way.total) {
            enter(
                format!("{stage}.aim"),
                format!("how well the aim is met, {noun}"),
                Kind::Share,
                exact(score.aim),
                SCORED,
            );
            enter(
                format!("{stage}.apart"),
                format!("share where colours to be kept apart meet, {noun}"),
                Kind::Share,
                exact(score.apart),
                SCORED,
            );
            enter(
                format!("{stage}.left-over"),
                format!("fibre left on bobbins, {noun}"),
                Kind::Share,
                exact(score.left_over),
                SCORED,
            );
            enter(
                format!("{stage}.total"),
                format!("all that is wished in one number, {noun}"),
                Kind::Share,
                drawn(total),
                DRAWN,
            );
        }
    }
    let mut shares: Vec<(String, f64)> = Vec::new();
    for (shade, share) in &yarn.ways[0].shares {
        let words = shade_words(plan, yarn, *shade);
        match shares.iter_mut().find(|(other, _)| *other == words) {
            Some((_, sum)) => *sum += share,
            None => shares.push((words, *share)),
        }
    }
    shares.sort_by(|a, b| b.1.total_cmp(&a.1));
    for (words, share) in shares.into_iter().take(MARLS) {
        enter(format!("share.{words}"), format!("share of {words}"), Kind::Share, exact(share), IN_STEP);
    }
    if let Some(lost) = &yarn.lost {
        for (i, moment) in lost.along.iter().enumerate() {
            let fifths = i + 1;
            enter(
                format!("off.{fifths}"),
                format!("out of step after {fifths} fifths of a set"),
                Kind::Length,
                drawn(moment.off),
                DRAWN,
            );
            enter(
                format!("solid.{fifths}"),
                format!("solid share of fifth {fifths} of the sets"),
                Kind::Share,
                drawn(moment.solid),
                DRAWN,
            );
        }
        let words = "yarn after which a run of the finest ply is lost".to_owned();
        enter("lost-after".to_owned(), words, Kind::Length, drawn(lost.lost_after), DRAWN);
        enter(
            "as-plied".to_owned(),
            "solid share of all yarn as plied".to_owned(),
            Kind::Share,
            drawn(lost.solid),
            DRAWN,
        );
        for (remedy, solid) in &lost.remedies {
            let (key, words) = remedy_words(*remedy);
            enter(key.to_owned(), format!("solid share of all yarn, {words}"), Kind::Share, drawn(*solid), DRAWN);
        }
    }
    if let Some(searched) = &yarn.searched {
        enter(
            "compared".to_owned(),
            "ways compared".to_owned(),
            Kind::Count,
            exact(searched.compared as f64),
            SEARCHED,
        );
        if let Some(of) = searched.of {
            enter("of".to_owned(), "ways that there are".to_owned(), Kind::Count, exact(of), SEARCHED);
        }
        enter("bound".to_owned(), "no way does better than".to_owned(), Kind::Share, exact(searched.bound), SEARCHED);
    }
}

/// How plies look beside one another, in the words of the craft.
pub fn look_words(look: Look) -> &'static str {
    match look {
        Look::Clear => "clear",
        Look::Heathered => "heathered",
        Look::Muddy => "muddy",
        Look::BarberPole => "barber-pole",
    }
}

/// What lies side by side is told of so many, the commonest first.
const MARLS: usize = 12;

const IN_STEP: &str = "plies laid side by side, as long as no hand misses";
const LOOKS: &str = "clear under a difference of 5, barber-pole from an OKLab lightness of 0.25 apart, muddy where less than half of the chroma \
     stays, else heathered; these limits are our choice";
const SCORED: &str = "scored by what the plan wishes, plies in step";
const SEARCHED: &str = "braids to plies, order, strips and ends: all where they are few, else a search from constant seeds and a proven bound";

/// The names of figures of a remedy, and its words.
pub fn remedy_words(remedy: Remedy) -> (&'static str, &'static str) {
    match remedy {
        Remedy::None => ("as-plied", "as plied"),
        Remedy::Restart(_) => ("restarted", "joined anew at each repeat"),
        Remedy::MoveFibre => ("evened", "bobbins weighed and fibre moved"),
        Remedy::FromTheOtherEnd => ("rewound", "rewound, plied from the end spun first"),
    }
}

/// What lies side by side, in words that may stand in the name of a figure.
fn shade_words(plan: &Plan, yarn: &Coloured, shade: usize) -> String {
    let tone = |tone: &usize| -> String {
        let parts = &yarn.tones[*tone].parts;
        if parts.is_empty() {
            return "undyed".to_owned();
        }
        parts.iter().map(|(colour, _)| plan.colours[*colour].name.clone()).collect::<Vec<_>>().join(" blended with ")
    };
    let shade = &yarn.shades[shade];
    match shade.solid() {
        Some(one) => format!("solid {}", tone(&one)),
        None => shade.tones.iter().map(tone).collect::<Vec<_>>().join(" beside "),
    }
}

/// How far colours differ that lie side by side somewhere in the yarn.
pub(super) fn contrasts(book: &mut Book, plan: &Plan, yarns: &[Coloured]) {
    let mut pairs: BTreeSet<(usize, usize)> = BTreeSet::new();
    for yarn in yarns {
        for (shade, _) in yarn.ways[0].shares.iter().take(MARLS) {
            let parts = yarn.shades[*shade].tones.iter().flat_map(|tone| &yarn.tones[*tone].parts);
            let colours: BTreeSet<usize> = parts.map(|(colour, _)| *colour).collect();
            pairs.extend(colours.iter().flat_map(|a| colours.range(a + 1..).map(|b| (*a, *b))));
        }
    }
    let worn = plan.colour_wish.iter().flat_map(|wish| &wish.worn_with);
    let spun = |colour: &usize| plan.supplies.iter().any(|supply| supply.sections.iter().any(|s| s.colour == *colour));
    let spun: Vec<usize> = (0..plan.colours.len()).filter(spun).collect();
    pairs.extend(worn.flat_map(|worn| spun.iter().map(move |own| (*worn, *own))).filter(|(a, b)| a != b));
    for (a, b) in pairs {
        let (Some(one), Some(other)) = (tint_of(plan, a), tint_of(plan, b)) else { continue };
        let (a, b) = (&plan.colours[a].name, &plan.colours[b].name);
        let value = one.difference(other);
        book.count(Line {
            name: format!("contrast.{a}.{b}"),
            words: format!("difference of {a} and {b}"),
            kind: Kind::Count,
            source: "G. Sharma, W. Wu, E. N. Dalal, Color Res. Appl. 30 (2005), CIEDE2000".to_owned(),
            how: How::Counted { words: "from the tints of the plan".to_owned(), of: Vec::new() },
            ..Line::counted(value, Standing::Published)
        });
    }
}
