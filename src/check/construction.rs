//! How singles become the yarn: plies, chains, balls, cables, and which way each is twisted.

use super::limits;
use super::reading::{counted, whole};
use super::report::Report;
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{Construction, Direction, PlyPlan, Reading, Singles, Yarn};
use crate::syntax::raw;
use crate::units::Count;

/// Plies and construction, which several families of checks ask for.
#[derive(Debug, Clone)]
pub(super) struct Made {
    /// Strands side by side after the first plying; exact.
    pub(super) plies: Reading<Count>,
    /// How they come together.
    pub(super) construction: Construction,
}

impl Made {
    /// Strands side by side after the first plying.
    pub(super) fn plies(&self) -> u32 {
        self.plies.value as u32
    }

    /// Bobbins of singles in a set, which are the plies that a ply plan names.
    pub(super) fn bobbins(&self) -> usize {
        self.construction.bobbins(self.plies.value as usize)
    }
}

/// What `[yarn]` says of it; `None` if that has a fault.
pub(super) fn made(raw: &raw::Yarn, report: &mut Report) -> Option<Made> {
    let place = Place::plan("yarn");
    let found = match raw.ply_from {
        Some(raw::PlyFrom::Chain) => fixed(raw, 3, "a chain ply lays one single three times side by side", report)
            .map(|plies| Made { plies, construction: Construction::Chain }),
        Some(raw::PlyFrom::BothEnds) => fixed(raw, 2, "a ball has two ends", report)
            .map(|plies| Made { plies, construction: Construction::BothEnds }),
        Some(raw::PlyFrom::None) => fixed(raw, 1, "a yarn of singles is not plied", report)
            .map(|plies| Made { plies, construction: Construction::Singles }),
        Some(raw::PlyFrom::Bobbins) | None => from_bobbins(raw, &place, report),
    };
    if raw.cabled.is_some() && !matches!(raw.ply_from, None | Some(raw::PlyFrom::Bobbins)) {
        let fault = Diagnostic::new(
            Code::Contradiction,
            "expected a cabled yarn of strands plied from bobbins, found another way of plying",
            place.key("cabled"),
        );
        report.fault(
            fault
                .label("plied strands are cabled")
                .also(place.key("ply-from"), "these are not plied from bobbins")
                .help("take `cabled` out, or write `ply-from = \"bobbins\"`"),
        );
        return None;
    }
    found
}

/// The plies of a construction that has a number of its own, whether they are written or not.
fn fixed(raw: &raw::Yarn, plies: u32, why: &str, report: &mut Report) -> Option<Reading<Count>> {
    let place = Place::plan("yarn");
    match raw.plies {
        None => Some(counted(plies, place.key("ply-from"))),
        Some(written) if written == i64::from(plies) => Some(counted(plies, place.key("plies"))),
        Some(written) => {
            let message =
                format!("expected {plies} {} here, found {written}", if plies == 1 { "ply" } else { "plies" });
            let fault = Diagnostic::new(Code::Contradiction, message, place.key("plies")).label("another number");
            report.fault(
                fault
                    .also(place.key("ply-from"), "plied so")
                    .note(why)
                    .help(format!("write `plies = {plies}`, or take `ply-from` out to ply from bobbins")),
            );
            None
        }
    }
}

/// Plies from bobbins, perhaps cabled; a single ply is a yarn of singles.
fn from_bobbins(raw: &raw::Yarn, place: &Place, report: &mut Report) -> Option<Made> {
    let Some(written) = raw.plies else {
        report.missing("how many plies the yarn has is not said", place.key("plies"), "write `plies = 2`");
        return None;
    };
    let plies = whole(written, &place.key("plies"), "a number of plies", 1..=limits::MOST_PLIES, report)?;
    let plies = counted(plies, place.key("plies"));
    let Some(cabled) = raw.cabled else {
        if plies.value > 1.0 {
            return Some(Made { plies, construction: Construction::Bobbins });
        }
        if raw.ply_from.is_some() {
            let fault = Diagnostic::new(
                Code::Contradiction,
                "expected two or more plies to ply from bobbins, found 1",
                place.key("plies"),
            );
            report.fault(
                fault
                    .label("nothing to ply it with")
                    .also(place.key("ply-from"), "plied here")
                    .help("write `ply-from = \"none\"` for a yarn of singles, or more plies"),
            );
            return None;
        }
        return Some(Made { plies, construction: Construction::Singles });
    };
    let key = place.key("cabled");
    let strands = whole(cabled, &key, "a number of strands to cable", 2..=limits::MOST_STRANDS, report)?;
    if plies.value < 2.0 {
        let fault = Diagnostic::new(
            Code::Contradiction,
            "expected strands of two or more plies to cable, found 1",
            plies.place,
        );
        report.fault(
            fault
                .label("a single ply")
                .also(key, "cabled here")
                .help("a cabled yarn is plied twice: write `plies = 2` for the strands"),
        );
        return None;
    }
    Some(Made { plies, construction: Construction::Cabled(counted(strands, key)) })
}

/// Twist of singles and of the first plying. What is plied the way it was spun is said.
pub(super) fn directions(
    raw: &raw::Yarn,
    singles: Direction,
    construction: Option<&Construction>,
    report: &mut Report,
) -> Direction {
    let place = Place::plan("yarn").key("plied-twist");
    let is_plied = construction.is_none_or(Construction::is_plied);
    match raw.plied_twist.map(direction) {
        None if is_plied => singles.against(),
        None => singles,
        Some(written) if !is_plied => {
            let fault = Diagnostic::new(Code::Unused, "a yarn of singles is not plied", place);
            report.fault(fault.label("not used").help("take it out; the singles have `singles-twist`"));
            let _ = written;
            singles
        }
        Some(written) => {
            if written == singles {
                report.fault(alike(
                    format!("the singles are spun {0} and plied {0}", singles.letter()),
                    place,
                    "plied the way they are spun",
                    format!(
                        "plying adds to their twist instead of taking some out: the yarn is hard and kinks; \
                         write `plied-twist = \"{}\"` for a balanced one",
                        singles.against().letter()
                    ),
                ));
            }
            written
        }
    }
}

/// Says which plies are spun the way the yarn is plied, where others are not.
pub(super) fn check_plies(raw: &raw::Plan, yarn: &Yarn, singles: &[Singles], plans: &[PlyPlan], report: &mut Report) {
    if !yarn.construction.is_plied() || yarn.singles_twist == yarn.plied_twist {
        return;
    }
    for (i, plan) in plans.iter().enumerate() {
        for (k, ply) in plan.plies.iter().enumerate() {
            let is_own = raw.ply_plan.get(i).and_then(|plan| plan.plies.get(k)).is_some_and(|ply| ply.twist.is_some());
            if !is_own || singles[ply.singles].twist != yarn.plied_twist {
                continue;
            }
            let letter = yarn.plied_twist.letter();
            report.fault(alike(
                format!("ply {} is spun {letter} and plied {letter}, and the yarn does not balance", k + 1),
                plan.place.key("plies").index(k).key("twist"),
                "spun the way it is plied",
                format!(
                    "this ply gains twist while the others lose it: it lies firm and thin, and the yarn coils about it; \
                     write `twist = \"{}\"` for a balanced yarn",
                    yarn.plied_twist.against().letter()
                ),
            ));
        }
    }
}

/// What unlike plies cannot be worked out for: strands of a cable, and more of them than lie in a ring.
pub(super) fn check_unlike(raw: &raw::Plan, yarn: &Yarn, singles: &[Singles], plans: &[PlyPlan], report: &mut Report) {
    if singles.len() < 2 {
        return;
    }
    let own = raw.ply_plan.iter().enumerate().find_map(|(i, plan)| {
        let own = |ply: &raw::Ply| {
            [
                (ply.grist.is_some(), "grist"),
                (ply.twist.is_some(), "twist"),
                (ply.plying_shortens.is_some(), "plying-shortens"),
            ]
            .into_iter()
            .find_map(|(is_said, key)| is_said.then_some(key))
        };
        let (k, key) = plan.plies.iter().enumerate().find_map(|(k, ply)| Some((k, own(ply)?)))?;
        Some(plans.get(i)?.place.key("plies").index(k).key(key))
    });
    let Some(place) = own else { return };
    if let Some(strands) = yarn.construction.strands() {
        let fault =
            Diagnostic::new(Code::Contradiction, "expected equal singles in a cabled yarn, found unlike ones", place);
        report.fault(
            fault
                .label("this one differs")
                .also(strands.place.clone(), "cabled here")
                .help("take it out, or ply the yarn once: what unlike strands do in a cable is not worked out"),
        );
    } else if yarn.plies.value > MOST_UNLIKE {
        let fault = Diagnostic::new(
            Code::Implausible,
            format!("expected at most six plies where they are unlike, found {}", yarn.plies.text),
            place,
        );
        report.fault(fault.label("this one differs").also(yarn.plies.place.clone(), "so many plies").help(
            "seven and more have one of them in the middle, and which is not known: make them alike, or take fewer",
        ));
    }
}

/// Up to so many plies lie in a ring.
const MOST_UNLIKE: f64 = 6.0;

fn alike(message: String, place: Place, label: &str, help: String) -> Diagnostic {
    Diagnostic::new(Code::DirectionsAlike, message, place).label(label).help(help)
}

/// A direction in the words of the plan.
pub(super) fn direction(written: raw::Direction) -> Direction {
    match written {
        raw::Direction::Z => Direction::Z,
        raw::Direction::S => Direction::S,
    }
}
