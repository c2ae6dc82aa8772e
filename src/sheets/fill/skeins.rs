//! Fills the skein log.

use super::balance::chance_text;
use super::print::{In, Printer, Round};
use super::spun::{self, signed, signed_finely};
use super::words::{self, grist, weight, yarn_length};
use crate::figures::chart::{self, Band, Moved};
use crate::figures::even::{Drift, Plying};
use crate::figures::logged::MeasuredSkein;
use crate::sheets::marks::Page;
use crate::sheets::skein_log::{
    BandTold, Chart, ChartLine, ChartPoint, Forecast, PlyingTold, SetTold, SkeinLog, SkeinRow,
};

/// The sheet; `None` where the log has neither a bobbin nor a skein.
pub(super) fn skein_log(printer: &Printer, page: Page) -> Option<SkeinLog> {
    let logged = &printer.ledger.deal.logged;
    if logged.bobbins.is_empty() && logged.skeins.is_empty() {
        return None;
    }
    let (mass, _) = weight(printer);
    let evenness = &printer.ledger.evenness;
    Some(SkeinLog {
        page,
        progress: progress(printer),
        forecast: forecast(printer),
        charts: evenness.drifts.iter().map(|drift| chart(printer, drift)).collect(),
        plyings: evenness.plyings.iter().map(|plying| plying_told(printer, plying)).collect(),
        skeins: skeins(printer),
        loop_unit: printer.lead("cm", "in").to_owned(),
        weight_unit: mass.0.to_owned(),
        bands: bands(printer),
        causes: CAUSES.iter().map(|cause| (*cause).to_owned()).collect(),
        notes: printer
            .plan
            .notes
            .iter()
            .map(|note| printer.as_written(&format!("{}: {}", words::day(note.date), note.text)))
            .collect(),
    })
}

/// What moves the weight of singles; common practice, no source, and published craft articles.
const CAUSES: [&str; 8] = [
    "another draw, or from the fold",
    "more or less twist",
    "another whorl, wheel or chair",
    "tension not taken up as the bobbin filled",
    "another braid, lot or preparation",
    "tired, in a hurry, the end of the fibre",
    "after a pause, or other yarn between",
    "a damp or a dry day on the scale",
];

fn progress(printer: &Printer) -> String {
    let (plan, deal) = (printer.plan, &printer.ledger.deal);
    let n = |n: usize, what: &'static str| printer.label(n, what);
    let all_skeins: usize = deal.sets().map(|(_, set)| set.skeins.clone().count()).sum();
    format!(
        "{} of {} {}s weighed, {} of {} skeins measured",
        n(deal.logged.bobbins.len(), "bobbins weighed"),
        n(deal.bobbins.len(), "bobbins"),
        words::holder(plan),
        n(deal.logged.skeins.len(), "skeins measured"),
        n(all_skeins, "skeins"),
    )
}

/// The yarn as the log has it now.
fn forecast(printer: &Printer) -> Option<Forecast> {
    printer.ledger.find_source("fact.spun.miss")?;
    let (lead, other) = yarn_length(printer);
    let several = printer.plan.garments.len() > 1;
    let together = several.then(|| {
        let short = chance_text(printer, "garments.chance-short");
        format!("all garments together: {short} in 100 run short{}.", to_buy(printer, "garments"))
    });
    let garments = printer.plan.garments.iter().map(|garment| {
        let name = |what: &str| format!("garment.{}.{what}", garment.name);
        let any = name("chance-any-short");
        let is_apart = printer.ledger.find(&any).is_some();
        let short = chance_text(printer, &if is_apart { any } else { name("chance-short") });
        let of = if is_apart { " of one of its ply plans" } else { "" };
        let called = printer.as_written(&garment.name);
        let by_itself = if several { " by itself" } else { "" };
        let buy = if several { String::new() } else { to_buy(printer, &format!("garment.{}", garment.name)) };
        format!("{called}{by_itself}: {short} in 100 run short{of}{buy}.")
    });
    let garments = together.into_iter().chain(garments);
    let off = signed(printer, "yarn.off");
    let deal = &printer.ledger.deal;
    let is_to_spin = deal.logged.bobbins.len() < deal.bobbins.len();
    let if_so = if is_to_spin { ", if you go on like this" } else { "" };
    // What the longer bobbins of a set have over is yarn only where it is joined on.
    let waits = |set: &crate::figures::even::PairedSet| !set.is_plied && set.bobbins.len() > 1;
    let is_open = printer.ledger.evenness.plyings.iter().any(|plying| plying.sets.iter().any(waits));
    let joined_on = if is_open { "; with what is left on longer bobbins, so join it on" } else { "" };
    Some(Forecast {
        yarn: printer.spread("yarn.length", lead),
        other: printer.with_unit("yarn.length", other),
        off: format!("{off} of weight for its length against the plan{if_so}{joined_on}"),
        garments: garments.collect(),
        pace: pace(printer),
    })
}

/// What to buy to be as sure as is wished, behind a sentence.
fn to_buy(printer: &Printer, stage: &str) -> String {
    super::balance::buy(printer, stage)
        .map_or_else(String::new, |buy| format!("; to be as sure as you wish, buy {buy}"))
}

/// What is still to spin, and how long that takes if it goes on as the log has it.
fn pace(printer: &Printer) -> Option<String> {
    let pace = printer.ledger.pace.as_ref()?;
    let whole = |what: &str| printer.value(&format!("pace.{what}"), In("", Round::Places(0)));
    let is_one_year = pace.ends().is_some_and(|ends| ends.year == pace.first.year);
    let day = |day| printer.as_written(&if is_one_year { words::day(day) } else { words::day_and_year(day) });
    let holder = words::holder(printer.plan);
    let (left, sittings) = (whole("bobbins-to-go"), whole("sittings-to-go"));
    let s = |n: &str| if n == "1" { "" } else { "s" };
    let ends = pace.ends().map_or_else(String::new, |ends| format!(", to about {}", day(ends)));
    Some(format!(
        "{left} {holder}{} to spin: {sittings} sitting{} and {} days at the pace from {} to {}{ends}; plying comes on top.",
        s(&left),
        s(&sittings),
        whole("days-to-go"),
        day(pace.first),
        day(pace.last),
    ))
}

fn band(band: Band) -> &'static str {
    match band {
        Band::Good => "good",
        Band::Mix => "mix",
        Band::Act => "act",
    }
}

fn bands(printer: &Printer) -> Vec<BandTold> {
    let per_cent =
        |share: f64| format!("{}\u{a0}%", printer.label((share * 100.0).round() as usize, "limit of a band"));
    let (good, mix) = (per_cent(chart::GOOD_WITHIN), per_cent(chart::MIX_WITHIN));
    let told = |name: &str, from: String, what: &str| BandTold { name: name.to_owned(), from, what: what.to_owned() };
    vec![
        told("good", format!("under {good}"), "ply it as it comes"),
        told("mix", format!("{good} to {mix}"), "ply it with its opposite, as paired here"),
        told(
            "act",
            format!("over {mix}"),
            "find the cause first; then pair, set aside, or work it where it does not show",
        ),
    ]
}

pub(super) fn chart(printer: &Printer, drift: &Drift) -> Chart {
    let deal = &printer.ledger.deal;
    let of_kind: Vec<usize> =
        (1..=deal.bobbins.len()).filter(|n| deal.bobbins[n - 1].singles == drift.singles).collect();
    // Against the middle one, as the list under it and the bands have it.
    let median = drift.offs[0] / (1.0 + drift.bands[0].share);
    let offs = drift.offs.iter().map(|off| off / median - 1.0);
    let most = offs.clone().fold(0.15_f64, |most, off| most.max(off.abs() + 0.02));
    let (mass, other) = weight(printer);
    let points = drift.numbers.iter().zip(offs).zip(&drift.bands).map(|((number, at), off)| {
        let bobbin = deal.logged.bobbin(*number).expect("invariant: a point is a bobbin of the log");
        let net = format!("{}.net", bobbin.stage);
        ChartPoint {
            place: of_kind.iter().position(|n| n == number).unwrap_or(0),
            number: printer.label(*number, "bobbin"),
            at,
            off: signed_finely(printer, &format!("{}.from-median", bobbin.stage)),
            band: band(off.band).to_owned(),
            net: printer.ledger.find(&net).map(|_| printer.amount(&net, mass, Some(other))),
            day: printer.as_written(&words::day(printer.plan.bobbins[bobbin.entry].date)),
        }
    });
    let line = |at: f64, is_limit| ChartLine { at: at / median - 1.0, is_limit };
    // Limits of a few bobbins say little; and what lies beyond the chart is not drawn.
    let is_told = drift.offs.len() >= chart::FEWEST_FOR_STEP;
    let lines = drift.individuals.as_ref().map_or_else(Vec::new, |of| {
        let limits = [line(of.lower, true), line(of.upper, true)];
        limits.into_iter().filter(|line| is_told && line.at.abs() < most).collect::<Vec<ChartLine>>()
    });
    let planned = Some(line(1.0, false)).filter(|line| line.at.abs() < most);
    Chart {
        name: printer.plan.singles[drift.singles].noun().to_owned(),
        places: of_kind.len(),
        low: -most,
        high: most,
        good_low: -chart::GOOD_WITHIN,
        good_high: chart::GOOD_WITHIN,
        points: points.collect(),
        lines: planned.into_iter().chain(lines).collect(),
        told: told(printer, drift),
    }
}

/// What the chart tells, for whoever spins.
fn told(printer: &Printer, drift: &Drift) -> Vec<String> {
    let mut told = Vec::new();
    match &drift.moved {
        Some(Moved::Step(step)) => {
            let after = printer.label(drift.numbers[step.first_after], "bobbin");
            told.push(format!("From bobbin {after} on it is another yarn: look for what was changed then."));
        }
        Some(Moved::Trend(trend)) => {
            let way = if trend.slope > 0.0 { "heavier" } else { "finer" };
            told.push(format!(
                "It drifts: on the whole each bobbin is a little {way} than the one before.{}",
                beside(printer, drift)
            ));
        }
        Some(Moved::Not) => told.push("Nothing tells that the spinning moved.".to_owned()),
        None => {
            let least = printer.label(chart::FEWEST_FOR_STEP, "bobbins");
            told.push(format!("Too few bobbins to tell whether it moved; from {least} on this sheet tells."));
        }
    }
    told
}

/// Beside which bobbin to spin on, while any is to be spun: the one nearest to what is aimed at.
fn beside(printer: &Printer, drift: &Drift) -> String {
    let apart = |at: usize| (drift.offs[at] - 1.0).abs();
    let nearest = (0..drift.offs.len()).min_by(|a, b| apart(*a).total_cmp(&apart(*b)));
    match nearest.filter(|_| printer.ledger.pace.as_ref().is_some_and(|pace| !pace.to_go.is_empty())) {
        Some(at) => {
            let number = printer.label(drift.numbers[at], "bobbin");
            format!(" Spin on beside bobbin {number}, the nearest to the plan.")
        }
        None => String::new(),
    }
}

fn plying_told(printer: &Printer, plying: &Plying) -> PlyingTold {
    let plan = printer.plan;
    let called = &plan.ply_plans[plying.ply_plan].name;
    PlyingTold {
        name: (plan.ply_plans.len() > 1).then(|| printer.as_written(called)),
        sets: (0..plying.sets.len()).map(|at| set_told(printer, plying, at)).collect(),
        told: spun::paired(printer, plying),
    }
}

fn set_told(printer: &Printer, plying: &Plying, at: usize) -> SetTold {
    let (set, stage) = (&plying.sets[at], spun::stage_of_set(printer, plying, at));
    let wanted = set.wanted.iter().map(|wanted| {
        let s = if wanted.bobbins.len() == 1 { "" } else { "s" };
        let which = spun::numbers(printer, &wanted.bobbins, ", ");
        format!("{}{s} {which}: {}", words::holder(printer.plan), spun::wanted_weight(printer, &stage, wanted))
    });
    let wanted: Vec<String> = wanted.collect();
    SetTold {
        bobbins: spun::numbers(printer, &set.bobbins, " + "),
        off: signed(printer, &format!("{stage}.off")),
        state: spun::state(printer, set).to_owned(),
        wanted: (!wanted.is_empty()).then(|| wanted.join("; ")),
    }
}

fn skeins(printer: &Printer) -> Vec<SkeinRow> {
    let (length, mass) = (yarn_length(printer), weight(printer));
    let of = |name: &str, (lead, other): (In, In)| printer.amount(name, lead, Some(other));
    let logged = &printer.ledger.deal.logged;
    let row = |skein: &MeasuredSkein| {
        let name = |what: &str| format!("{}.{what}", skein.stage);
        let bobbins: Vec<String> = skein.bobbins.iter().map(|n| printer.label(*n, "bobbin")).collect();
        let offs: Vec<f64> = logged.skeins.iter().map(|skein| skein.off).collect();
        let at = logged.skeins.iter().position(|other| other.number == skein.number);
        let off = at.zip(chart::bands(&offs)).map(|(at, bands)| bands[at].band);
        SkeinRow {
            number: printer.label(skein.number, "skein"),
            bobbins: Some(bobbins.join(" + ")),
            length: of(&name("length"), length),
            weight: of(&name("weight"), mass),
            grist: Some(of(&name("grist"), grist(printer))),
            off: off.map(|_| signed_finely(printer, &name("from-median"))),
            band: off.map(|off| band(off).to_owned()),
        }
    };
    let planned: Vec<usize> = printer.ledger.deal.sets().flat_map(|(_, set)| set.skeins.clone()).collect();
    let to_come = planned.into_iter().filter(|n| logged.skein(*n).is_none());
    let blank = |n: usize| SkeinRow {
        number: printer.label(n, "skein"),
        bobbins: None,
        length: of(&format!("skein.{n}.length"), length),
        weight: of(&format!("skein.{n}.weight"), mass),
        grist: None,
        off: None,
        band: None,
    };
    logged.skeins.iter().map(row).chain(to_come.map(blank)).collect()
}
