//! Fills the sample card.

use super::gates::{Remedies, gate};
use super::machine::Work;
use super::print::{In, Printer, Round};
use super::wheel::folded;
use super::words::{self, grist, tie};
use crate::figures::settings::Settings;
use crate::plan::{Construction, Plan};
use crate::sheets::marks::Page;
use crate::sheets::sample_card::{SampleCard, SampleOf, SampleRow, SetUp, SkeinSum};

pub(super) fn sample_card(printer: &Printer, page: Page, settings: &Settings) -> SampleCard {
    let plan = printer.plan;
    let first = plan.samples.len() + 1;
    let work = Work::spinning(printer, 0, settings);
    SampleCard {
        page,
        names: (first..first + 4).map(|n| printer.label(n, "sample")).collect(),
        singles_twist: words::slant(plan.yarn.singles_twist),
        ply_twist: words::slant(plan.ply_direction()),
        plies: words::last_plies(plan),
        set_up: set_up(printer, &work),
        rows: rows(printer, &work),
        skein: Some(printer.lead(
            SkeinSum {
                length_unit: "m".to_owned(),
                weight_unit: "g".to_owned(),
                result: printer.as_written("× 100 = grist above"),
            },
            SkeinSum {
                length_unit: "yd".to_owned(),
                weight_unit: "oz".to_owned(),
                result: printer.as_written("× 16 = grist above"),
            },
        )),
        ties: vec![
            tie(printer, "singles", "10 wraps", true),
            tie(printer, "ply-back, 2", "doubled", false),
            folded(printer, "in"),
            tie(printer, "washed", last(plan), false),
        ],
        note: format!(
            "{}; wash and dry it as the garment. Tie in all four, then change one thing only for the next card.{}{}",
            how_much(printer),
            other_kinds(printer),
            words::preparing(plan).map_or_else(String::new, |caution| format!(" {caution}"))
        ),
    }
}

/// How much a sample takes: what the scale can weigh and a swatch needs.
fn how_much(printer: &Printer) -> String {
    let [(length, _), (mass, other)] = words::at_least(printer);
    let fibre = printer.with_unit("sampling.fibre", mass);
    let fibre_other = printer.with_unit("sampling.fibre", other);
    let skein = printer.with_unit("sampling.skein", length);
    let all = if printer.plan.singles.len() > 1 { " in all" } else { "" };
    format!("Spin {fibre} ({fibre_other}){all} or more, {skein} {}", last(printer.plan))
}

/// Where the singles are told that the rows have no room for.
fn other_kinds(printer: &Printer) -> String {
    match printer.plan.singles.as_slice() {
        [first, _, ..] => {
            let first = printer.as_written(first.name.as_deref().unwrap_or("first"));
            format!(
                " The rows of singles are for {first}; each kind has a {} of its own.",
                words::spinning_card(printer.plan)
            )
        }
        _ => String::new(),
    }
}

/// What the yarn is at last.
fn last(plan: &Plan) -> &'static str {
    match plan.yarn.construction {
        Construction::Singles => "of singles",
        Construction::Cabled(_) => "cabled",
        Construction::Bobbins | Construction::Chain | Construction::BothEnds => "plied",
    }
}

fn set_up(printer: &Printer, work: &Work) -> Vec<SetUp> {
    let draw = ("draw", words::draw(printer.plan.draw()).to_owned());
    // Of several kinds the card has the first; the wheel cards have them all.
    let first = &printer.plan.singles[0];
    let kind = first.name.as_ref().map(|name| ("singles", printer.as_written(name)));
    let lines = kind.into_iter().chain(work.machine_in_short()).chain([draw, work.twist_in_short()]);
    lines.map(|(name, value)| SetUp { name: name.to_owned(), value }).collect()
}

fn rows(printer: &Printer, work: &Work) -> Vec<SampleRow> {
    let fibre = words::fibre(printer.plan);
    let [less, more] = work.more_and_less().map(|act| printer.as_written(act));
    let stage = printer.plan.singles[0].stage();
    let [twists_named, softer, harder] = match printer.plan.yarn.construction {
        Construction::Singles => ["twists", less.as_str(), more.as_str()],
        Construction::Cabled(_) => ["cable twists", "cable harder", "cable softer"],
        Construction::Bobbins | Construction::Chain | Construction::BothEnds => {
            ["ply twists", "ply harder", "ply softer"]
        }
    };
    let wraps = In("", Round::Places(0));
    let twists = In("", Round::Halves);
    let other_wraps =
        |name: &str| printer.with_unit(name, printer.lead(In("wpi", Round::Halves), In("wraps/cm", Round::Places(1))));
    let window = format!("wraps in {}", printer.as_written(printer.lead("3 cm", "1 in")));
    let counted = printer.as_written(printer.lead("10 cm (4 in)", "4 in (10 cm)"));
    let (lead, other) = grist(printer);
    let row = |name: &str,
               note: String,
               on: SampleOf,
               figure: &str,
               shown: In,
               unit: Option<&str>,
               below: (&'static str, &str),
               above: (&'static str, &str)| SampleRow {
        name: name.to_owned(),
        note,
        on,
        gate: gate(
            printer,
            figure,
            shown,
            false,
            Remedies { below: (below.0, below.1.to_owned()), above: (above.0, above.1.to_owned()) },
        ),
        tray_unit: unit.map(str::to_owned),
    };
    vec![
        row(
            &window,
            format!("singles; {}", other_wraps(&format!("{stage}.wraps"))),
            SampleOf::Singles,
            &format!("{stage}.wraps-counted"),
            wraps,
            None,
            ("thick", &format!("less {fibre}")),
            ("thin", &format!("more {fibre}")),
        ),
        row(
            "ply-back twists",
            format!("fresh; {counted}"),
            SampleOf::Singles,
            &format!("{stage}.ply-back"),
            twists,
            None,
            ("soft", &less),
            ("hard", &more),
        ),
        row(
            &window,
            format!("washed; {}", other_wraps("washed.wraps")),
            SampleOf::Washed,
            "washed.wraps-counted",
            wraps,
            None,
            ("thick", "finer singles"),
            ("thin", "fuller singles"),
        ),
        row(
            "grist",
            printer.with_unit("washed.grist", other),
            SampleOf::Washed,
            "washed.grist",
            lead,
            Some(lead.0),
            ("heavy", &format!("less {fibre}")),
            ("light", &format!("more {fibre}")),
        ),
        row(
            twists_named,
            format!("washed; {counted}"),
            SampleOf::Washed,
            "washed.twists",
            twists,
            None,
            ("soft", softer),
            ("hard", harder),
        ),
    ]
}
