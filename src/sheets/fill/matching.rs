//! Fills the panel of a yarn in hand: what of it is met, what is given up, and what that does.

use super::print::{In, Printer, Round};
use super::words::{self, grist, weight};
use crate::figures::aim;
use crate::figures::matching::TwistFate;
use crate::plan::Match;
use crate::sheets::overview::{Fact, MatchPanel, MatchRow};
use crate::units::Standing;

/// The panel; `None` where no yarn is to be matched.
pub(super) fn panel(printer: &Printer) -> Option<MatchPanel> {
    let matched = printer.plan.yarn.matched.as_ref()?;
    Some(MatchPanel {
        name: printer.as_written(matched.name.as_deref().unwrap_or("the yarn in hand")),
        rows: rows(printer, matched),
        effects: effects(printer),
    })
}

/// The value of a ratio to the yarn in hand; one where there is none, since it is the same.
fn ratio(printer: &Printer, name: &str) -> f64 {
    printer.ledger.find(name).map_or(1.0, |line| line.value)
}

fn rows(printer: &Printer, matched: &Match) -> Vec<MatchRow> {
    let mut rows = Vec::new();
    if matched.wraps.is_some() {
        let wraps = ratio(printer, "match.wraps-ratio");
        let counted = printer.lead(In("wraps/cm", Round::Places(1)), In("wpi", Round::Halves));
        let told = printer.with_unit("washed.wraps", counted);
        rows.push(row(printer, "wraps", wraps, ONE_WRAP_IN_TEN, told, ("thinner", "thicker")));
    }
    if matched.ball.is_some() {
        let heavier = ratio(printer, "match.fibre-ratio");
        let told = printer.with_unit("washed.grist", grist(printer).0);
        rows.push(row(printer, "grist", heavier, A_TWENTIETH, told, ("heavier", "lighter")));
    }
    rows.extend(twist(printer, matched));
    rows
}

/// Nearer than this a yarn counts as matched: as the limits of the cards have it.
const ONE_WRAP_IN_TEN: f64 = 0.10;
const A_TWENTIETH: f64 = 0.05;
const A_TENTH: f64 = 0.10;

fn row(printer: &Printer, label: &str, ratio: f64, gate: f64, told: String, words: (&str, &str)) -> MatchRow {
    let is_met = (ratio - 1.0).abs() <= gate;
    let value = if is_met { told } else { by(printer, ratio, words) };
    MatchRow { label: label.to_owned(), is_met, value: Some(value) }
}

/// "8 % heavier".
fn by(printer: &Printer, ratio: f64, (more, less): (&str, &str)) -> String {
    format!("{} {}", printer.share((ratio - 1.0).abs()), if ratio > 1.0 { more } else { less })
}

fn twist(printer: &Printer, matched: &Match) -> Option<MatchRow> {
    let turns = printer.lead(In("turns/cm", Round::Places(1)), In("tpi", Round::Places(1)));
    let near = |ours: &str, theirs: &str| {
        let ratio = printer.ledger.get(ours).value / printer.ledger.get(theirs).value;
        (ratio - 1.0).abs() <= A_TENTH
    };
    let (label, is_met, value) = match printer.ledger.fate?.twist {
        TwistFate::Counted => {
            let told = printer.with_unit("match.ply-twist", turns);
            let label = if printer.plan.yarn.construction.is_plied() { "ply twist" } else { "twist" };
            (label, near(aim::last_twist(printer.plan), "match.ply-twist"), told)
        }
        // Thinner plies lean less at the same twist, so that of other plies the lean is matched.
        TwistFate::ByAngle => {
            let angle = printer.with_unit("match.angle", In("°", Round::Places(0)));
            let is_other = matched.plies.value != printer.plan.yarn.plies.value;
            let told = if is_other { format!("{angle}, of other plies") } else { angle };
            ("angle", near("washed.angle", "match.angle"), told)
        }
        TwistFate::NotAimedAt => return None,
    };
    Some(MatchRow { label: label.to_owned(), is_met, value: Some(value) })
}

/// What another yarn than the one in hand does; nothing where it is the same.
fn effects(printer: &Printer) -> Vec<Fact> {
    let told = |label: &str, name: &str, words: (&str, &str)| {
        let line = printer.ledger.find(name)?;
        let is_worth = (line.value - 1.0).abs() >= 0.005;
        is_worth.then(|| Fact { label: label.to_owned(), value: by(printer, line.value, words), other: None })
    };
    [
        told("gauge", "match.gauge", gauge_words(printer)),
        told("drape", "match.drape", ("denser: firmer", "airier: softer")),
        told("weight", "match.weight", ("heavier garment", "lighter garment")),
        fibre(printer),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// Tighter and looser, with what says so: a swatch, or a rule that is an estimate.
fn gauge_words(printer: &Printer) -> (&'static str, &'static str) {
    let is_estimate = printer.ledger.find("match.gauge").is_some_and(|line| line.standing == Standing::OurChoice);
    if is_estimate {
        ("tighter, an estimate", "looser, an estimate")
    } else {
        ("tighter, by your swatch", "looser, by your swatch")
    }
}

/// Fibre to buy: in weight for the first garment, else for any length.
fn fibre(printer: &Printer) -> Option<Fact> {
    let heavier = printer.ledger.find("match.fibre-ratio")?;
    let garment = printer.plan.garments.first();
    let value = match garment {
        Some(garment) => {
            let told = printer.with_unit(&format!("match.{}.more-fibre", garment.name), weight(printer).0);
            let name = printer.as_written(&garment.name);
            match told.strip_prefix('\u{2212}') {
                Some(less) => format!("{less} less for the {name}"),
                None => format!("{told} more for the {name}"),
            }
        }
        None => by(printer, heavier.value, ("more for the same length", "less for the same length")),
    };
    Some(Fact { label: words::fibre(printer.plan).to_owned(), value, other: None })
}
