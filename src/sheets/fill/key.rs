//! Fills the key: one of each mark, with numbers that the other sheets print as well.

use super::bobbins::{self, weighing};
use super::print::Printer;
use super::words::{self, tie, yarn_length};
use super::workings::spread;
use crate::sheets::colour_sheet::ColourSheet;
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

/// The plan's own way of its first yarn.
fn colour_way(sheet: &ColourSheet) -> KeyWay {
    let yarn = &sheet.yarns[0];
    let way = &yarn.ways[0];
    KeyWay {
        tones: yarn.tones.clone(),
        shades: yarn.shades.clone(),
        lanes: way.lanes.clone(),
        bar: way.bar.clone(),
        cloth: way.along.clone(),
    }
}

/// The first strip that has colours.
fn strip(printer: &Printer) -> Option<crate::sheets::bobbin_checklist::Strip> {
    let mut bobbins = printer.ledger.deal.sets().flat_map(|(_, set)| &set.bobbins);
    bobbins.find_map(|dealt| {
        let k = dealt.strips.iter().position(|strip| !printer.plan.supplies[strip.supply].sections.is_empty())?;
        Some(bobbins::strip(printer, dealt, k))
    })
}
