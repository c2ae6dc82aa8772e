//! Fills the key: one of each mark, with numbers that the other sheets print as well.

use super::bobbins::{self, weighing};
use super::print::Printer;
use super::words::{self, tie, yarn_length};
use super::workings::spread;
use crate::sheets::colour_sheet::{ClothDrawn, ColourSheet, LaneRun, StitchRun};
use crate::sheets::key::{Key, KeyWay};
use crate::sheets::marks::Page;
use crate::sheets::overview::Overview;
use crate::sheets::wheel_card::WheelCard;

/// The others are the sheets whose marks are shown.
pub(super) fn key(
    printer: &Printer,
    page: Page,
    overview: &Overview,
    wheel_card: &WheelCard,
    colour_sheet: Option<&ColourSheet>,
) -> Key {
    let plan = printer.plan;
    let spinning = wheel_card.cards.first().expect("invariant: there is a card for spinning");
    let (lead, other) = yarn_length(printer);
    Key {
        page,
        singles_twist: spinning.twist,
        ply_twist: words::slant(plan.ply_direction()),
        plies: words::last_plies(plan).max(2),
        turns: spinning.turns,
        is_clockwise: spinning.is_clockwise,
        weighing: weighing(printer, 0),
        stations: spinning.stations.stops[1..4].to_vec(),
        yarn: printer.amount("yarn.length", lead, Some(other)),
        spread: spread(printer, printer.ledger.get("yarn.length")),
        short_of_100: overview.balance.garments.first().map(|garment| garment.short_of_100),
        tie: tie(printer, "singles", "10 wraps", true),
        strip: strip(printer),
        colour_way: colour_sheet.map(colour_way),
        colours: words::colours(plan),
    }
}

/// Plies that the key has room for.
const LANES: usize = 4;

/// Runs of a ply that it has room for.
const RUNS: usize = 4;

/// The beginning of the plan's own way of its first yarn.
fn colour_way(sheet: &ColourSheet) -> KeyWay {
    let yarn = &sheet.yarns[0];
    let way = &yarn.ways[0];
    let first_runs = |lane: &Vec<LaneRun>| lane.iter().take(RUNS).map(|run| run.share).sum::<f64>();
    let part = way.lanes.iter().map(first_runs).fold(1.0, f64::min);
    let first = |n: usize| ((n as f64 * part).round() as usize).max(1);
    KeyWay {
        tones: yarn.tones.clone(),
        shades: yarn.shades.clone(),
        lanes: way.lanes.iter().take(LANES).map(|lane| beginning(lane, part)).collect(),
        bar: way.bar[..first(way.bar.len())].to_vec(),
        cloth: way.along.as_ref().map(|cloth| first_rows(cloth, first(cloth.rows))),
    }
}

/// The runs of the first part of a lane, as shares of that part.
fn beginning(lane: &[LaneRun], part: f64) -> Vec<LaneRun> {
    let mut from = 0.0;
    let mut kept = Vec::new();
    for run in lane {
        let share = run.share.min(part - from);
        if share > 1e-9 {
            kept.push(LaneRun { tone: run.tone, share: share / part });
        }
        from += run.share;
    }
    kept
}

/// The first rows of a cloth.
fn first_rows(cloth: &ClothDrawn, rows: usize) -> ClothDrawn {
    let column = |runs: &Vec<StitchRun>| {
        let mut left = rows;
        let kept = runs.iter().map(|run| {
            let rows = run.rows.min(left);
            left -= rows;
            StitchRun { rows, shade: run.shade }
        });
        kept.filter(|run| run.rows > 0).collect()
    };
    ClothDrawn { rows, columns: cloth.columns.iter().map(column).collect() }
}

/// The first strip that has colours.
fn strip(printer: &Printer) -> Option<crate::sheets::bobbin_checklist::Strip> {
    let mut bobbins = printer.ledger.deal.sets().flat_map(|(_, set)| &set.bobbins);
    bobbins.find_map(|dealt| {
        let k = dealt.strips.iter().position(|strip| !printer.plan.supplies[strip.supply].sections.is_empty())?;
        Some(bobbins::strip(printer, dealt, k))
    })
}
