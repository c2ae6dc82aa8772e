//! `[finish]`: how warm and how long the bath is, how much the yarn is moved in it, and how it dries.

use super::names;
use super::reading::{default, reading_of_parsed, reading_of_text};
use super::report::Report;
use super::{defaults, limits};
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{Agitation, Fibre, Finish, Reading};
use crate::syntax::raw;
use crate::units::{Kind, System, Temperature, Time, parse};

/// How the yarn is finished, `None` if what is said of it has a fault.
pub(super) fn finish(plan: &raw::Plan, system: System, report: &mut Report) -> Option<Finish> {
    let none = raw::Finish::default();
    let raw = plan.finish.as_ref().unwrap_or(&none);
    let place = Place::plan("finish");
    let bath = bath(raw, &place.key("bath"), system, report);
    let agitation = agitation(plan).unwrap_or_else(|| {
        report.assume(&defaults::AGITATION, Place::plan(defaults::AGITATION.key), system);
        Agitation::None
    });
    let dry = names::text(raw.dry.as_deref(), &place.key("dry"), report).unwrap_or_else(|| {
        let is_superwash = plan.fibre.values().any(|fibre| fibre.superwash == Some(true));
        let usual = if is_superwash { &defaults::DRY_FLAT } else { &defaults::DRY };
        report.assume(usual, Place::plan(usual.key), system);
        usual.text_in(system).to_owned()
    });
    let (temperature, time) = bath?;
    Some(Finish { temperature, time, agitation, dry })
}

/// How much the yarn is moved, where the plan says it.
pub(super) fn agitation(plan: &raw::Plan) -> Option<Agitation> {
    Some(match plan.finish.as_ref()?.agitation? {
        raw::Agitation::None => Agitation::None,
        raw::Agitation::ALittle => Agitation::ALittle,
        raw::Agitation::Fulled => Agitation::Fulled,
    })
}

type Bath = (Reading<Temperature>, Reading<Time>);

/// Temperature and time, either of which may be left out; `None` if one that is written cannot be read.
fn bath(raw: &raw::Finish, place: &Place, system: System, report: &mut Report) -> Option<Bath> {
    let (mut temperature, mut time) = (None, None);
    if let Some(raw::Quantity(written)) = &raw.bath {
        for part in parts(written) {
            let is_time = parse(part, Kind::Time).is_ok();
            let before = if is_time { time.is_some() } else { temperature.is_some() };
            if before {
                twice(if is_time { "time" } else { "temperature" }, written, place, report);
                return None;
            }
            if is_time {
                time = Some(reading_of_text(part, place, &limits::BATH_TIME, report)?);
            } else {
                temperature = Some(warmth(part, place, report)?);
            }
        }
    }
    Some((
        temperature.unwrap_or_else(|| default(&defaults::BATH_TEMPERATURE, place.clone(), system, report)),
        time.unwrap_or_else(|| default(&defaults::BATH_TIME, place.clone(), system, report)),
    ))
}

/// Temperature and time, parted by a comma; one between digits is a decimal's, and one with nothing beside it parts nothing.
fn parts(written: &str) -> Vec<&str> {
    let is_digit = |sign: Option<char>| sign.is_some_and(|sign| sign.is_ascii_digit());
    let mut parts = Vec::new();
    let mut from = 0;
    for (at, _) in written.match_indices(',') {
        if !(is_digit(written[..at].chars().next_back()) && is_digit(written[at + 1..].chars().next())) {
            parts.push(&written[from..at]);
            from = at + 1;
        }
    }
    parts.push(&written[from..]);
    let said: Vec<&str> = parts.into_iter().filter(|part| !part.trim().is_empty()).collect();
    if said.is_empty() { vec![written] } else { said }
}

/// A temperature; what is neither that nor a time is told as a temperature that cannot be read.
fn warmth(part: &str, place: &Place, report: &mut Report) -> Option<Reading<Temperature>> {
    match parse(part, Kind::Temperature) {
        Ok(parsed) => reading_of_parsed(&parsed, place, &limits::BATH_TEMPERATURE, report),
        Err(_) => reading_of_text(part, place, &limits::BATH_TEMPERATURE, report),
    }
}

fn twice(what: &str, written: &str, place: &Place, report: &mut Report) {
    let message = format!("expected one {what} of the bath, found two in {written:?}");
    let fault = Diagnostic::new(Code::Contradiction, message, place.clone()).label(format!("a second {what}"));
    report.fault(fault.help("write one temperature and one time: `bath = \"45 C, 20 min\"`"));
}

/// What does not felt cannot be fulled; noted once for each such fibre.
pub(super) fn check_fulling(finish: &Finish, fibres: &[Fibre], report: &mut Report) {
    if finish.agitation != Agitation::Fulled {
        return;
    }
    for fibre in fibres.iter().filter(|fibre| !fibre.felts()) {
        let of = Place::plan("fibre").key(&fibre.name);
        let (at, why) = if fibre.superwash {
            (of.key("superwash"), "treated against it")
        } else {
            (fibre.content[0].1.place.clone(), "neither wool nor hair")
        };
        let message = format!("expected fibre that felts, found {:?}, which does not", fibre.name);
        let fault = Diagnostic::new(Code::WillNotFull, message, Place::plan("finish.agitation"));
        report.fault(
            fault
                .label("working it will not full it")
                .also(at, why)
                .note("it comes out of the bath no firmer, and superwash wool longer and slacker than it went in (from memory)")
                .help("write `agitation = \"none\"`, or full a sample first and log what became of it"),
        );
    }
}
