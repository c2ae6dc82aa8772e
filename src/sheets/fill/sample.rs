//! Fills the sample card.

use super::gates::{Remedies, gate};
use super::print::{In, Printer, Round};
use super::wheel::chosen;
use super::words::{self, grist, hand_length, portion, tie, yarn_length};
use crate::figures::settings::Settings;
use crate::sheets::marks::Page;
use crate::sheets::sample_card::{SampleCard, SampleOf, SampleRow, SetUp, SkeinSum};
use crate::units::Kind;

pub(super) fn sample_card(printer: &Printer, page: Page, settings: Settings) -> SampleCard {
    let plan = printer.plan;
    let first = plan.samples.len() + 1;
    SampleCard {
        page,
        names: (first..first + 4).map(|n| printer.label(n, "sample")).collect(),
        singles_twist: words::slant(plan.yarn.singles_twist),
        ply_twist: words::slant(plan.ply_direction()),
        plies: plan.yarn.plies.value as u8,
        set_up: set_up(printer, settings),
        rows: rows(printer),
        skein: Some(printer.lead(
            SkeinSum {
                length_unit: "m".to_owned(),
                weight_unit: "g".to_owned(),
                result: printer.as_written("× 100 = grist"),
            },
            SkeinSum {
                length_unit: "yd".to_owned(),
                weight_unit: "oz".to_owned(),
                result: printer.as_written("× 16 = grist"),
            },
        )),
        ties: vec![
            tie(printer, "singles", "10 wraps", true),
            tie(printer, "ply-back, 2", "fresh", false),
            tie(printer, "ply-back, 3", "fresh", false),
            tie(printer, "washed", "plied", false),
        ],
        note: format!(
            "{}; wash and dry it as the garment. Tie in all four, then change one thing only for the next card.",
            how_much(printer)
        ),
    }
}

/// How much a sample takes: what the scale can weigh and a swatch needs.
fn how_much(printer: &Printer) -> String {
    let ((mass, other), (length, _)) = (portion(printer), yarn_length(printer));
    let fibre = printer.with_unit("sampling.fibre", mass);
    let fibre_other = printer.with_unit("sampling.fibre", other);
    format!("Spin {fibre} ({fibre_other}) or more, {} plied", printer.with_unit("sampling.skein", length))
}

fn set_up(printer: &Printer, settings: Settings) -> Vec<SetUp> {
    let whorl = &printer.plan.wheel.whorls[settings.whorl];
    let (lead, _) = hand_length(printer);
    let length = |place: &str| {
        let amount = chosen(printer, place, Kind::Length, lead, None);
        format!("{}\u{a0}{}", amount.value, lead.0)
    };
    let (name, value) = if printer.plan.draw().counts_treadles() {
        let treadles = chosen(printer, "choice.wheel.treadles", Kind::Count, In("", Round::Places(0)), None).value;
        ("treadles", format!("{treadles} a draft of {}", length("choice.wheel.draft")))
    } else {
        ("each treadle", length("choice.wheel.length-per-treadle"))
    };
    vec![
        SetUp { name: "whorl".to_owned(), value: printer.as_written(&whorl.name) },
        SetUp { name: "draw".to_owned(), value: words::draw(printer.plan.draw()).to_owned() },
        SetUp { name: name.to_owned(), value },
    ]
}

fn rows(printer: &Printer) -> Vec<SampleRow> {
    let fibre = words::fibre(printer.plan);
    let counts_treadles = printer.plan.draw().counts_treadles();
    let less = if counts_treadles { "+ 1 treadle" } else { "let in less" };
    let more = if counts_treadles { "− 1 treadle" } else { "let in more" };
    let less = printer.as_written(less);
    let more = printer.as_written(more);
    let wraps = In("", Round::Places(0));
    let twists = In("", Round::Halves);
    let other_wraps =
        |name: &str| printer.with_unit(name, printer.lead(In("wpi", Round::Halves), In("wraps/cm", Round::Places(1))));
    let window = format!("wraps in {}", printer.as_written(printer.lead("3 cm", "1 in")));
    let counted = printer.as_written(printer.lead("in 10 cm (4 in)", "in 4 in (10 cm)"));
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
            format!("singles; {}", other_wraps("singles.wraps")),
            SampleOf::Singles,
            "singles.wraps-counted",
            wraps,
            None,
            ("fat", &format!("less {fibre}")),
            ("fine", &format!("more {fibre}")),
        ),
        row(
            "ply-back twists",
            counted.clone(),
            SampleOf::Singles,
            "singles.ply-back",
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
            ("fat", "finer singles"),
            ("fine", "fuller singles"),
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
            "ply twists",
            counted,
            SampleOf::Washed,
            "washed.twists",
            twists,
            None,
            ("soft", "ply harder"),
            ("hard", "ply softer"),
        ),
    ]
}
