//! Fills the wheel card: one page for spinning, one for plying.

use super::gates::{Remedies, check_weight, gate, gate_with_scale, length_weighed, scale_step};
use super::print::{In, Printer, Round, some_unit};
use super::words::{self, CAUTION, hand_length, tie};
use crate::figures::settings::Settings;
use crate::plan::Origin;
use crate::sheets::marks::{Amount, Page, Setting, Warning};
use crate::sheets::wheel_card::{Act, Card, Check, Stations, Turns, WheelCard};
use crate::units::Kind;

pub(super) fn wheel_card(printer: &Printer, page: Page, settings: Settings) -> WheelCard {
    WheelCard { page, cards: vec![spinning(printer, settings), plying(printer, settings)] }
}

fn spinning(printer: &Printer, settings: Settings) -> Card {
    let plan = printer.plan;
    let bobbins = printer.ledger.deal.sets().map(|(_, set)| set.bobbins.len()).sum();
    let mut set = vec![whorl(printer, settings.whorl)];
    set.extend(spinning_lengths(printer));
    if let Some(brake) = &plan.wheel.brake {
        set.push(Setting {
            name: "brake".to_owned(),
            amount: Amount { value: printer.as_written(brake), unit: None, other: None },
            note: plan
                .wheel
                .lead
                .map(|lead| if lead == "double drive" { lead.to_owned() } else { format!("{lead} lead") }),
            tray_unit: None,
        });
    }
    Card {
        act: Act::Spin,
        kind: None,
        twist: words::slant(plan.yarn.singles_twist),
        turns: Turns::Wheel,
        is_clockwise: plan.yarn.singles_twist == crate::plan::Direction::Z,
        plies: 1,
        part: format!("singles {} to {}", printer.label(1, "bobbin"), printer.label(bobbins, "bobbin")),
        how: None,
        settings: set,
        checks: spinning_checks(printer),
        stations: stations(
            printer,
            "singles",
            ["30 minutes", "¼ bobbin", "½ bobbin", "¾ bobbin", "full", "after a break"],
        ),
        stop: Warning {
            cause: "Outside twice running: stop.".to_owned(),
            remedy: format!(
                "Look at whorl, brake and {}, in that order. Tie the new yarn beside the old; write which way it went.",
                words::fibre(plan)
            ),
        },
        caution: CAUTION.to_owned(),
    }
}

/// What is set for the twist: yarn for each treadle, or treadles for each draft.
fn spinning_lengths(printer: &Printer) -> Vec<Setting> {
    if printer.plan.draw().counts_treadles() {
        vec![
            Setting {
                name: "treadles a draft, one foot".to_owned(),
                amount: chosen(printer, "choice.wheel.treadles", Kind::Count, In("", Round::Places(0)), None),
                note: None,
                tray_unit: None,
            },
            hand(printer, "length of a draft", "choice.wheel.draft"),
        ]
    } else {
        vec![hand(printer, "yarn each treadle, one foot", "choice.wheel.length-per-treadle")]
    }
}

fn spinning_checks(printer: &Printer) -> Vec<Check> {
    let fibre = words::fibre(printer.plan);
    let (length, other) = length_weighed(printer, "singles");
    let counts_treadles = printer.plan.draw().counts_treadles();
    let softer = if counts_treadles { "add a treadle" } else { "let in less" };
    let harder = if counts_treadles { "drop a treadle" } else { "let in more" };
    vec![
        Check {
            name: format!("weight of {length}"),
            other: Some(other),
            how: Some("under light tension".to_owned()),
            gate: gate_with_scale(
                printer,
                "singles.check-weight",
                check_weight(printer),
                scale_step(printer),
                Remedies {
                    below: ("thin", format!("let in more {fibre}")),
                    above: ("thick", format!("let in less {fibre}")),
                },
            ),
            tie: Some(tie(printer, &folded(printer), "fresh, folded", false)),
        },
        wraps_check(printer, &length),
        Check {
            name: format!("twists in {} of fresh ply-back", printer.lead("10 cm", "4 in")),
            other: Some(printer.as_written(printer.lead("4 in", "10 cm"))),
            how: Some("full twists".to_owned()),
            gate: gate(
                printer,
                "singles.ply-back",
                In("", Round::Halves),
                false,
                Remedies { below: ("soft", softer.to_owned()), above: ("hard", harder.to_owned()) },
            ),
            tie: Some(tie(printer, &printer.as_written("ply-back, 2"), "fresh, doubled", false)),
        },
    ]
}

fn wraps_check(printer: &Printer, length: &str) -> Check {
    let wraps =
        printer.with_unit("singles.wraps", printer.lead(In("wpi", Round::Halves), In("wraps/cm", Round::Places(1))));
    Check {
        name: format!("wraps in {}", printer.as_written(printer.lead("3 cm", "1 in"))),
        other: Some(wraps),
        how: Some("roll on, do not wind".to_owned()),
        gate: gate(
            printer,
            "singles.wraps-counted",
            In("", Round::Places(0)),
            false,
            Remedies { below: ("fat", format!("weigh {length}")), above: ("fine", format!("weigh {length}")) },
        ),
        tie: Some(tie(printer, "singles", "10 wraps", true)),
    }
}

fn plying(printer: &Printer, settings: Settings) -> Card {
    let plan = printer.plan;
    let direction = plan.ply_direction();
    Card {
        act: Act::Ply,
        kind: None,
        twist: words::slant(direction),
        turns: Turns::Wheel,
        is_clockwise: direction == crate::plan::Direction::Z,
        plies: plan.yarn.plies.value as u8,
        part: words::plies(plan),
        how: None,
        settings: vec![
            whorl(printer, settings.plying_whorl),
            Setting {
                name: "treadles an arm, one foot".to_owned(),
                amount: chosen(printer, "choice.plying.treadles", Kind::Count, In("", Round::Places(0)), None),
                note: None,
                tray_unit: None,
            },
            hand(printer, "yarn let in at a time", "choice.plying.arm"),
        ],
        checks: plying_checks(printer),
        stations: stations(
            printer,
            "plied",
            ["first 10 m", "¼ bobbin", "½ bobbin", "¾ bobbin", "full", "after a break"]
                .map(|stop| if stop == "first 10 m" { printer.lead("first 10 m", "first 10 yd") } else { stop }),
        ),
        stop: Warning {
            cause: "A ply runs out early: stop.".to_owned(),
            remedy: "Mark the bobbin, wind the left-overs apart, and log both weights before you join anything."
                .to_owned(),
        },
        caution: CAUTION.to_owned(),
    }
}

fn plying_checks(printer: &Printer) -> Vec<Check> {
    let (length, other) = length_weighed(printer, "plied");
    vec![
        Check {
            name: format!("weight of {length}"),
            other: Some(other),
            how: Some("fresh, under light tension".to_owned()),
            gate: gate_with_scale(
                printer,
                "plied.check-weight",
                check_weight(printer),
                scale_step(printer),
                Remedies {
                    below: ("light", "weigh the singles".to_owned()),
                    above: ("heavy", "weigh the singles".to_owned()),
                },
            ),
            tie: Some(tie(printer, "plied", "fresh", false)),
        },
        Check {
            name: format!("twists in {} of fresh plied yarn", printer.lead("10 cm", "4 in")),
            other: Some(printer.as_written(printer.lead("4 in", "10 cm"))),
            how: Some("bumps over plies".to_owned()),
            gate: gate(
                printer,
                "plied.twists",
                In("", Round::Halves),
                false,
                Remedies { below: ("soft", "add a treadle".to_owned()), above: ("hard", "drop a treadle".to_owned()) },
            ),
            tie: Some(tie(printer, "washed sample", "plied", false)),
        },
    ]
}

fn whorl(printer: &Printer, whorl: usize) -> Setting {
    let whorl = &printer.plan.wheel.whorls[whorl];
    let ratio = printer.reading(&whorl.ratio, Kind::Ratio, In(":1", Round::Plain(3)));
    let said = if whorl.ratio.origin == Origin::Measured { "measured" } else { "as its maker says" };
    Setting {
        name: "whorl".to_owned(),
        amount: Amount { value: printer.as_written(&whorl.name), unit: None, other: None },
        note: Some(format!("{ratio} : 1, {said}")),
        tray_unit: None,
    }
}

fn hand(printer: &Printer, name: &str, place: &str) -> Setting {
    let (lead, other) = hand_length(printer);
    Setting {
        name: name.to_owned(),
        amount: chosen(printer, place, Kind::Length, lead, Some(other)),
        note: None,
        tray_unit: Some(lead.0.to_owned()),
    }
}

/// A choice of the ledger as a number, its unit apart.
pub(super) fn chosen(printer: &Printer, place: &str, kind: Kind, lead: In, other: Option<In>) -> Amount {
    let text = printer.chosen(place, kind, lead);
    let value = text.trim_end_matches(lead.0).trim_end().to_owned();
    Amount { value, unit: some_unit(lead.0), other: other.map(|other| printer.chosen(place, kind, other)) }
}

/// A ply-back of as many strands as the yarn has, beside the doubled one; of three where the yarn has two.
fn folded(printer: &Printer) -> String {
    let strands = (printer.plan.yarn.plies.value as usize).max(3);
    format!("ply-back, {}", printer.label(strands, "strands"))
}

fn stations(printer: &Printer, stage: &str, stops: [&str; 6]) -> Stations {
    let (length, _) = length_weighed(printer, stage);
    Stations {
        what: format!("weigh {length}, wind it back, and hold the yarn against the tied one"),
        also: None,
        stops: stops.iter().map(|stop| printer.as_written(stop)).collect(),
        unit: "g".to_owned(),
    }
}
