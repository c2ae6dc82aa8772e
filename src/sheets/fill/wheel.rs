//! Fills the wheel card: a page for spinning each kind of singles, one for plying, one for cabling.

use super::gates::{Often, Remedies, check_weight, gate, gate_with_scale, length_weighed, scale_step};
use super::machine::Work;
use super::print::{In, Printer, Round};
use super::spun;
use super::words::{self, tie};
use crate::figures::settings::Settings;
use crate::plan::{Construction, Direction, Plan, Singles};
use crate::sheets::marks::{Filled, Page, Station, Tie, Warning};
use crate::sheets::wheel_card::{Act, Card, Check, Stations, WheelCard};

pub(super) fn wheel_card(printer: &Printer, page: Page, settings: &Settings) -> WheelCard {
    let plan = printer.plan;
    let mut cards: Vec<Card> = (0..plan.singles.len()).map(|kind| spinning(printer, kind, settings)).collect();
    if plan.yarn.construction.is_plied() {
        cards.push(plying(printer, settings));
    }
    if plan.yarn.construction.strands().is_some() {
        cards.push(cabling(printer, settings));
    }
    WheelCard { page, cards }
}

fn spinning(printer: &Printer, index: usize, settings: &Settings) -> Card {
    let plan = printer.plan;
    let kind = &plan.singles[index];
    let work = Work::spinning(printer, index, settings);
    Card {
        act: Act::Spin,
        kind: kind.name.as_ref().map(|name| printer.as_written(name)),
        twist: words::slant(kind.twist),
        turns: work.turns(),
        is_clockwise: kind.twist == Direction::Z,
        plies: 1,
        part: bobbins(printer, index),
        how: (!plan.yarn.construction.is_plied())
            .then(|| "These singles are the yarn: not plied, and washed as they are.".to_owned()),
        settings: work.settings(),
        so_far: spun::so_far(printer, index),
        basis: words::basis(printer),
        checks: spinning_checks(printer, kind, &work),
        stations: stations(
            printer,
            &work,
            &kind.stage(),
            often(printer, index),
            "30 minutes",
            first_here(printer, index),
        ),
        stop: Warning {
            cause: "Outside twice running: stop.".to_owned(),
            remedy: format!(
                "Look at {} {}, in that order. Tie the new yarn beside the old; write which way it went.",
                work.suspects(),
                words::fibre(plan)
            ),
        },
        caution: work.caution().to_owned(),
    }
}

/// Where the readings are written.
fn first_here(printer: &Printer, kind: usize) -> &'static str {
    match (numbers(printer, kind).len(), words::holder(printer.plan)) {
        (1, _) => "",
        (_, "cop") => "The first cop here, the others on their checklist.",
        _ => "The first bobbin here, the others on their checklist.",
    }
}

/// Numbers of the bobbins that a kind of singles fills.
pub(super) fn numbers(printer: &Printer, kind: usize) -> Vec<usize> {
    let sets = printer.ledger.deal.sets();
    sets.flat_map(|(ply_plan, set)| printer.plan.ply_plans[ply_plan].plies.iter().zip(&set.bobbins))
        .filter(|(ply, _)| ply.singles == kind)
        .map(|(_, bobbin)| bobbin.number)
        .collect()
}

/// How often a bobbin of a kind of singles is weighed.
pub(super) fn often(printer: &Printer, kind: usize) -> Often {
    let loads = numbers(printer, kind).into_iter().map(|n| format!("bobbin.{n}.net"));
    Often::of(printer, &printer.plan.singles[kind].stage(), loads)
}

/// The same of what is plied.
fn often_plied(printer: &Printer, stage: &str) -> Often {
    let skeins = printer.ledger.deal.sets().flat_map(|(_, set)| set.skeins.clone());
    Often::of(printer, stage, skeins.map(|n| format!("skein.{n}.weight")))
}

/// Which bobbins a kind of singles fills.
fn bobbins(printer: &Printer, kind: usize) -> String {
    let numbers = numbers(printer, kind);
    let label = |number: usize| printer.label(number, "bobbin");
    let are_in_a_row = numbers.windows(2).all(|pair| pair[1] == pair[0] + 1);
    let told = match numbers.as_slice() {
        [] => return "singles".to_owned(),
        [only] => return format!("{} {}", words::holder(printer.plan), label(*only)),
        [first, .., last] if are_in_a_row => format!("{} to {}", label(*first), label(*last)),
        _ => numbers.iter().map(|number| label(*number)).collect::<Vec<_>>().join(", "),
    };
    format!("{}s {told}", words::holder(printer.plan))
}

fn spinning_checks(printer: &Printer, kind: &Singles, work: &Work) -> Vec<Check> {
    let stage = kind.stage();
    let fibre = words::fibre(printer.plan);
    let (length, other) = length_weighed(printer, &stage);
    let [softer, harder] = work.softer_and_harder();
    vec![
        Check {
            name: format!("weight of {length}"),
            other: Some(other),
            how: Some("under light tension; a dot on the scale for each".to_owned()),
            gate: gate_with_scale(
                printer,
                &format!("{stage}.check-weight"),
                check_weight(printer),
                scale_step(printer),
                Remedies {
                    below: ("thin", format!("let in more {fibre}")),
                    above: ("thick", format!("let in less {fibre}")),
                },
            ),
            tie: Some(folded(printer, "fresh, folded in")),
        },
        wraps_check(printer, &stage, &length),
        Check {
            name: format!("twists in {} of fresh ply-back", printer.lead("10 cm", "4 in")),
            other: Some(printer.as_written(printer.lead("4 in", "10 cm"))),
            how: Some("full twists".to_owned()),
            gate: gate(
                printer,
                &format!("{stage}.ply-back"),
                In("", Round::Halves),
                false,
                Remedies { below: ("soft", softer.to_owned()), above: ("hard", harder.to_owned()) },
            ),
            tie: Some(tie(printer, &printer.as_written("ply-back, 2"), "fresh, doubled", false)),
        },
    ]
}

fn wraps_check(printer: &Printer, stage: &str, length: &str) -> Check {
    let shown = printer.lead(In("wpi", Round::Halves), In("wraps/cm", Round::Places(1)));
    Check {
        name: format!("wraps in {}", printer.as_written(printer.lead("3 cm", "1 in"))),
        other: Some(printer.with_unit(&format!("{stage}.wraps"), shown)),
        how: Some("roll on, do not wind".to_owned()),
        gate: gate(
            printer,
            &format!("{stage}.wraps-counted"),
            In("", Round::Places(0)),
            false,
            Remedies { below: ("thick", format!("weigh {length}")), above: ("thin", format!("weigh {length}")) },
        ),
        tie: Some(tie(printer, "singles", "10 wraps", true)),
    }
}

fn plying(printer: &Printer, settings: &Settings) -> Card {
    let plan = printer.plan;
    let strands = plan.yarn.construction.strands().is_some();
    let part = if strands {
        format!("strands of {} plies", words::in_words(plan.yarn.plies.value as usize))
    } else {
        words::plies(plan)
    };
    let of = if strands { "strand" } else { "plied yarn" };
    let work = Work::plying(printer, settings);
    let what =
        Twisted { act: Act::Ply, twist: plan.yarn.plied_twist, plies: plan.yarn.plies.value as u8, stage: "plied", of };
    // Of what is cabled the log measures skeins, not strands.
    let so_far = if strands { Vec::new() } else { spun::so_far_plied(printer) };
    Card { part, how: Some(how(plan)), stop: stop(plan, Act::Ply), so_far, ..twisted(printer, &work, &what) }
}

fn cabling(printer: &Printer, settings: &Settings) -> Card {
    let plan = printer.plan;
    let work = Work::cabling(printer, settings);
    let plies = words::last_plies(plan);
    let what = Twisted { act: Act::Cable, twist: plan.ply_direction(), plies, stage: "cabled", of: "cabled yarn" };
    Card {
        part: format!("{} strands", words::in_words(plies.into())),
        how: Some(
            "Cable the strands the way the singles were spun: their plies open as they take each other’s twist."
                .to_owned(),
        ),
        so_far: spun::so_far_plied(printer),
        ..twisted(printer, &work, &what)
    }
}

/// Something that is plied.
struct Twisted {
    act: Act,
    twist: Direction,
    plies: u8,
    /// Before the dot of its figures.
    stage: &'static str,
    /// What it is called.
    of: &'static str,
}

fn twisted(printer: &Printer, work: &Work, what: &Twisted) -> Card {
    Card {
        act: what.act,
        kind: None,
        twist: words::slant(what.twist),
        turns: work.turns(),
        is_clockwise: what.twist == Direction::Z,
        plies: what.plies,
        part: String::new(),
        how: None,
        settings: work.settings(),
        so_far: Vec::new(),
        basis: words::basis(printer),
        checks: twisted_checks(printer, work, what),
        stations: stations(
            printer,
            work,
            what.stage,
            often_plied(printer, what.stage),
            printer.lead("first 10 m", "first 10 yd"),
            "The first skein here; print a card for each.",
        ),
        stop: stop(printer.plan, what.act),
        caution: work.caution().to_owned(),
    }
}

fn twisted_checks(printer: &Printer, work: &Work, what: &Twisted) -> Vec<Check> {
    let [softer, harder] = work.softer_and_harder();
    let (length, other) = length_weighed(printer, what.stage);
    let before = if what.act == Act::Cable { "weigh the strands" } else { "weigh the singles" };
    let washed = if what.act == Act::Cable {
        tie(printer, "washed sample", "cabled", false)
    } else if printer.plan.yarn.construction.strands().is_some() {
        tie(printer, "fresh strand", "ply-back", false)
    } else {
        tie(printer, "washed sample", "plied", false)
    };
    vec![
        Check {
            name: format!("weight of {length}"),
            other: Some(other),
            how: Some("fresh, under light tension; a dot for each".to_owned()),
            gate: gate_with_scale(
                printer,
                &format!("{}.check-weight", what.stage),
                check_weight(printer),
                scale_step(printer),
                Remedies { below: ("light", before.to_owned()), above: ("heavy", before.to_owned()) },
            ),
            tie: Some(tie(printer, if what.act == Act::Cable { "cabled" } else { "plied" }, "fresh", false)),
        },
        Check {
            name: format!("bumps in {} of fresh {}", printer.lead("10 cm", "4 in"), what.of),
            other: Some(printer.with_unit(&format!("{}.twists", what.stage), In("twists", Round::Halves))),
            how: Some(format!("{}; along one side", printer.as_written(printer.lead("4 in", "10 cm")))),
            gate: gate(
                printer,
                &format!("{}.bumps", what.stage),
                In("", Round::Places(0)),
                false,
                Remedies { below: ("soft", softer.to_owned()), above: ("hard", harder.to_owned()) },
            ),
            tie: Some(washed),
        },
    ]
}

/// How the singles come together, and by what one judges their twist: singles at rest hide it until they are washed (common
/// practice, read in published craft texts).
fn how(plan: &Plan) -> String {
    const RESTED: &str =
        "Ply to the ply-back tied to the card for spinning: rested singles look overplied and come right in the wash.";
    let told = match &plan.yarn.construction {
        Construction::Chain => {
            "Draw a loop of the single through the loop before it, over and over: three strands side by side. "
        }
        Construction::BothEnds => "Hold both ends of the ball side by side, under one tension. ",
        Construction::Cabled(_) => {
            // The ply-back shows a strand in balance, which this one is not to be.
            return "Ply each strand by itself, much harder than its ply-back shows: cabling takes the surplus out again."
                .to_owned();
        }
        Construction::Bobbins if plan.singles.len() > 1 => {
            "The plies are unlike: hold them under one tension, or the finer one winds about the thicker. "
        }
        Construction::Bobbins | Construction::Singles => "",
    };
    format!("{told}{RESTED}")
}

/// When to stop plying.
fn stop(plan: &Plan, act: Act) -> Warning {
    let holder = words::holder(plan);
    let (cause, remedy) = match plan.yarn.construction {
        _ if act == Act::Cable => (
            "A strand runs out early: stop.",
            format!(
                "Mark its {holder}, wind the left-overs apart, and write down both weights before you join anything."
            ),
        ),
        Construction::Chain => (
            "A loop closes or the single parts: stop.",
            "Lay the ends beside the last loop and let the twist take them. Write where it was.".to_owned(),
        ),
        Construction::BothEnds => (
            "The ball tangles or the single parts: stop.",
            "Free it before you let more twist in, and join what has parted strand by strand.".to_owned(),
        ),
        Construction::Bobbins | Construction::Cabled(_) | Construction::Singles => (
            "A ply runs out early: stop.",
            format!(
                "Mark the {holder}, wind the left-overs apart, and write down both weights before you join anything."
            ),
        ),
    };
    Warning { cause: cause.to_owned(), remedy }
}

/// A ply-back of as many strands as the yarn has, beside the doubled one; of three where the yarn has fewer. `how` stands
/// before the number of strands in words.
pub(super) fn folded(printer: &Printer, how: &str) -> Tie {
    let strands = (printer.plan.yarn.plies.value as usize).max(3);
    let title = format!("ply-back, {}", printer.label(strands, "strands"));
    tie(printer, &title, &format!("{how} {}", words::in_words(strands)), false)
}

/// When to check: first after so long, then as the bobbin fills, at which the brake asks for a hand as well.
///
/// `where_to` says where the readings of later bobbins are written.
fn stations(printer: &Printer, work: &Work, stage: &str, often: Often, first: &str, where_to: &str) -> Stations {
    let (length, _) = length_weighed(printer, stage);
    let what = match often {
        Often::EachQuarter => format!("weigh {length}, wind it back, and hold the yarn against the tied one"),
        Often::EachHalf | Often::Once => {
            format!("hold the yarn against the tied one; {} weigh {length} and wind it back", often.words())
        }
    };
    let stop = |name: String, filled| Station { name: printer.as_written(&name), filled };
    let [quarter, half, three_quarters, all] = filled(printer, work.stage());
    let at = |part: &str| format!("{part} {}", work.filled());
    Stations {
        what,
        also: work.as_it_fills(),
        where_to: where_to.to_owned(),
        stops: vec![
            stop(first.to_owned(), None),
            stop(at("¼"), quarter),
            stop(at("½"), half),
            stop(at("¾"), three_quarters),
            stop("full".to_owned(), all),
            stop("after a break".to_owned(), None),
        ],
        unit: "g".to_owned(),
    }
}

/// How full the fullest bobbin looks with ¼, ½, ¾ and all of its load on it; `None` of a spindle.
fn filled(printer: &Printer, stage: &str) -> [Option<Filled>; 4] {
    ["width-quarter", "width-half", "width-three-quarters", "width-all"]
        .map(|name| Some(Filled { width: printer.ledger.find(&format!("{stage}.{name}"))?.value }))
}
