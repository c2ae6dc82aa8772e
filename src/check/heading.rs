//! `[plan]`: title, system, paper, words, scale, and how sure the yarn is to be enough.

use super::names;
use super::reading::{optional, or_default};
use super::report::Report;
use super::{defaults, limits};
use crate::diagnostics::Place;
use crate::plan::{Date, Paper, Reading, Terms};
use crate::syntax::raw;
use crate::units::{Mass, Share, System};

/// What `[plan]` says, with its defaults.
pub(super) struct Heading {
    pub(super) title: Option<String>,
    pub(super) started: Option<Date>,
    pub(super) units: System,
    pub(super) paper: Paper,
    pub(super) terms: Terms,
    pub(super) sure_of_enough: Option<Reading<Share>>,
    pub(super) reserve: Option<Reading<Share>>,
    pub(super) scale: Option<Reading<Mass>>,
}

pub(super) fn heading(plan: &raw::Plan, report: &mut Report) -> Heading {
    let none = raw::Heading::default();
    let heading = plan.plan.as_ref().unwrap_or(&none);
    let units = system(heading, report);
    Heading {
        title: title(heading, report),
        started: heading.started.map(date),
        units,
        paper: paper(heading, units, report),
        terms: terms(plan, heading, units, report),
        sure_of_enough: or_default(
            heading.sure_of_enough.as_ref(),
            &defaults::SURE_OF_ENOUGH,
            &limits::SURE_OF_ENOUGH,
            units,
            report,
        ),
        reserve: or_default(heading.reserve.as_ref(), &defaults::RESERVE, &limits::RESERVE, units, report),
        scale: optional(heading.scale.as_ref(), &Place::plan("plan.scale"), &limits::SCALE_STEP, report),
    }
}

/// A day of the file, which `syntax` has read as one of the calendar.
pub(super) fn date(written: raw::Date) -> Date {
    Date { year: written.year, month: written.month, day: written.day }
}

fn title(heading: &raw::Heading, report: &mut Report) -> Option<String> {
    let place = Place::plan("plan").key("title");
    let is_blank = heading.title.as_deref().is_none_or(|title| title.trim().is_empty());
    if is_blank {
        report.missing(
            "the plan has no title",
            place,
            "every sheet is headed by it; write\n[plan]\ntitle = \"First yarn\"",
        );
        return None;
    }
    names::text(heading.title.as_deref(), &place, report)
}

fn system(heading: &raw::Heading, report: &mut Report) -> System {
    match heading.units {
        Some(raw::Units::Metric) => System::Metric,
        Some(raw::Units::Imperial) => System::Inch,
        None => {
            report.assume(&defaults::UNITS, Place::plan(defaults::UNITS.key), System::Metric);
            System::Metric
        }
    }
}

fn paper(heading: &raw::Heading, system: System, report: &mut Report) -> Paper {
    match heading.paper {
        Some(raw::Paper::A4) => Paper::A4,
        Some(raw::Paper::Letter) => Paper::Letter,
        None => {
            report.assume(&defaults::PAPER, Place::plan(defaults::PAPER.key), system);
            Paper::A4
        }
    }
}

/// Whose words; the names of crochet stitches mean different stitches in the two, so that crochet has to say.
fn terms(plan: &raw::Plan, heading: &raw::Heading, system: System, report: &mut Report) -> Terms {
    if let Some(terms) = heading.terms {
        return match terms {
            raw::Terms::Uk => Terms::Uk,
            raw::Terms::Us => Terms::Us,
        };
    }
    match plan.garment.iter().find(|(_, garment)| garment.craft == Some(raw::Craft::Crochet)) {
        Some((name, _)) => report.missing(
            format!("a plan with crochet has to say whose words it uses, and {name:?} is crocheted"),
            Place::plan(defaults::TERMS.key),
            "a US double crochet is a UK treble; write under [plan]\nterms = \"UK\"\nor\nterms = \"US\"",
        ),
        None => report.assume(&defaults::TERMS, Place::plan(defaults::TERMS.key), system),
    }
    Terms::Uk
}
