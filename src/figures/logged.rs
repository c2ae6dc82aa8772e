//! What was really spun, as the log measures it, and how near to its target that puts the yarn as a whole.
//!
//! ```text
//! weighings --> net, weight per length of each bobbin and skein --> over what was aimed at --> the yarn still to come
//! ```
//!
//! A measurement takes the place of the product that it measures: a bobbin that of its singles, a skein that of the yarn in it. What
//! is still to be spun is told by both, each by the weight of its evidence, and by what a practised hand misses.

use super::aim::Aim;
use super::deal::PlannedBobbin;
use super::expression::{Figure, Formula};
use super::kinds::Spun;
use super::ledger::Book;
use super::{folding, thickness};
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{Date, LoggedBobbin, LoggedSkein, Plan, Reading};
use crate::units::format::{percent, significant};
use crate::units::{Length, LinearDensity, Mass, Share, Standing};

static NET: Formula = Formula { source: "the full bobbin less the empty one", standing: Standing::Standard };
static DRY: Formula = Formula {
    source: "brought to the dampness of the first day by a skein that is weighed each time; common practice",
    standing: Standing::CommonPractice,
};
static OFF: Formula = Formula { source: "measured over aimed at", standing: Standing::Standard };

/// What the log measures of a plan.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Logged {
    /// Bobbins of the log by their numbers.
    pub bobbins: Vec<MeasuredBobbin>,
    /// Skeins of the log by their numbers.
    pub skeins: Vec<MeasuredSkein>,
}

impl Logged {
    /// A bobbin by its number, where the log has it.
    pub fn bobbin(&self, number: usize) -> Option<&MeasuredBobbin> {
        self.bobbins.iter().find(|bobbin| bobbin.number == number)
    }

    /// A skein by its number, where the log has it.
    pub fn skein(&self, number: usize) -> Option<&MeasuredSkein> {
        self.skeins.iter().find(|skein| skein.number == number)
    }
}

/// A bobbin of the log.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasuredBobbin {
    /// Index into [`Plan::bobbins`].
    pub entry: usize,
    /// Its number.
    pub number: usize,
    /// The bobbin as it is planned.
    pub planned: PlannedBobbin,
    /// Name below which its figures stand: `logged.bobbin.3`.
    pub stage: String,
    /// Weight per length of its singles over what was aimed at, where that is measured.
    pub off: Option<f64>,
}

/// A skein of the log.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasuredSkein {
    /// Index into [`Plan::skeins`].
    pub entry: usize,
    /// Its number.
    pub number: usize,
    /// Numbers of its bobbins.
    pub bobbins: Vec<usize>,
    /// Name below which its figures stand: `logged.skein.1`.
    pub stage: String,
    /// Weight per length of its yarn over what was aimed at.
    pub off: f64,
}

/// Enters what the log measures; `planned` are all bobbins of the plan, by their numbers less one.
pub fn logged(
    book: &mut Book,
    plan: &Plan,
    aim: &Aim,
    singles: &[Spun],
    planned: &[PlannedBobbin],
    faults: &mut Vec<Diagnostic>,
) -> Logged {
    let mut bobbins = Vec::new();
    // By their numbers, so that the ledger has them in one order wherever they stand in the log.
    let mut entries: Vec<(usize, &LoggedBobbin)> = plan.bobbins.iter().enumerate().collect();
    entries.sort_by_key(|(_, bobbin)| bobbin.number);
    for (entry, bobbin) in entries {
        let Some(of) = bobbin.number.checked_sub(1).and_then(|at| planned.get(at)) else {
            faults.push(of_another_plan(bobbin, planned.len()));
            continue;
        };
        let measured = enter_bobbin(book, plan, (entry, bobbin), *of, &singles[of.singles]);
        faults.extend(measured.off.and_then(|off| slip(off, &format!("bobbin {}", bobbin.number), &bobbin.place)));
        faults.extend(apart(bobbin));
        bobbins.push(measured);
    }
    let mut skeins: Vec<(usize, &LoggedSkein)> = plan.skeins.iter().enumerate().collect();
    skeins.sort_by_key(|(_, skein)| skein.number);
    let skeins: Vec<MeasuredSkein> =
        skeins.into_iter().map(|(entry, skein)| enter_skein(book, plan, aim, entry, skein)).collect();
    faults.extend(
        skeins
            .iter()
            .filter_map(|skein| slip(skein.off, &format!("skein {}", skein.number), &plan.skeins[skein.entry].place)),
    );
    Logged { bobbins, skeins }
}

/// A measurement that no hand comes to: a point in the wrong place, an ounce taken for a gram; our choice.
fn slip(off: f64, what: &str, place: &Place) -> Option<Diagnostic> {
    if (0.4..=2.5).contains(&off) {
        return None;
    }
    let message =
        format!("expected {what} near its target, found {} times as heavy for its length", significant(off, 2));
    let fault =
        Diagnostic::new(Code::Implausible, message, place.clone()).label("a slip of the point, or of the unit?");
    Some(fault.help("look at the weights and lengths of this entry once more"))
}

/// A counter and a weighed length that tell different yarns: a tenth apart is more than a bobbin differs from end to end; our choice.
fn apart(bobbin: &LoggedBobbin) -> Option<Diagnostic> {
    const MAY_DIFFER: f64 = 0.1;
    let ((full, empty), counted) = (bobbin.weights.as_ref()?, bobbin.length.as_ref()?);
    let (length, weight) = bobbin.check.as_ref()?;
    let ratio = (weight.value / length.value) / ((full.value - empty.value) / counted.value);
    if (ratio - 1.0).abs() <= MAY_DIFFER {
        return None;
    }
    let way = if ratio > 1.0 { "heavier" } else { "lighter" };
    let message = format!(
        "expected the weighed length of bobbin {} to be like all of it, found it {} {way}",
        bobbin.number,
        percent((ratio - 1.0).abs(), 0)
    );
    let fault = Diagnostic::new(Code::Implausible, message, weight.place.clone()).label("this length");
    let fault = fault.also(counted.place.clone(), "all of it, which is taken");
    Some(fault.help("a slip of the counter, an empty bobbin not taken off, or thick and thin places: weigh once more"))
}

/// The number of a skein that no plan of so many and no skein more than planned comes to. `n` is how many the plan has.
pub(super) fn beyond(plan: &Plan, n: usize) -> Vec<Diagnostic> {
    let most = n + plan.skeins.len();
    let of = |skein: &LoggedSkein| {
        let message = format!("expected the number of one of the {n} skeins of the plan, found {}", skein.number);
        let place = skein.place.key("number");
        let fault = Diagnostic::new(Code::UnknownName, message, place).label("the plan has no such skein");
        fault.help("the ply plan has their numbers; is this the log of another plan?")
    };
    plan.skeins.iter().filter(|skein| skein.number > most).map(of).collect()
}

fn of_another_plan(bobbin: &LoggedBobbin, n: usize) -> Diagnostic {
    let message = format!("expected the number of one of the {n} bobbins of the plan, found {}", bobbin.number);
    let fault =
        Diagnostic::new(Code::UnknownName, message, bobbin.place.key("number")).label("the plan has no such bobbin");
    fault.help("is this the log of another plan? the bobbin checklist has the numbers")
}

fn enter_bobbin(
    book: &mut Book,
    plan: &Plan,
    (entry, bobbin): (usize, &LoggedBobbin),
    planned: PlannedBobbin,
    of: &Spun,
) -> MeasuredBobbin {
    let n = bobbin.number;
    let stage = format!("logged.bobbin.{n}");
    let dry = dryness(book, plan, bobbin.date);
    let net = bobbin.weights.as_ref().map(|(full, empty)| {
        let full: Figure<Mass> = book.numbered(&format!("bobbin.{n}.full"), full, &format!("bobbin {n} full"));
        let empty: Figure<Mass> = book.numbered(&format!("bobbin.{n}.empty"), empty, &format!("bobbin {n} empty"));
        let net = brought_to(folding::net(&full, &empty), dry.as_ref(), &NET);
        book.enter(format!("{stage}.net"), format!("singles on bobbin {n}, weighed"), net)
    });
    let by_counter = net.as_ref().zip(bobbin.length.as_ref()).map(|(net, length)| {
        let length: Figure<Length> =
            book.numbered(&format!("bobbin.{n}.length"), length, &format!("length on bobbin {n}"));
        folding::weighed(net, &length)
    });
    // All of it tells more than a part.
    let tex = by_counter.or_else(|| {
        let (length, weight) = bobbin.check.as_ref()?;
        let length: Figure<Length> =
            book.numbered(&format!("bobbin.{n}.check.length"), length, &format!("weighed length of bobbin {n}"));
        let weight: Figure<Mass> =
            book.numbered(&format!("bobbin.{n}.check.weight"), weight, &format!("weight of that length of bobbin {n}"));
        Some(folding::weighed(&brought_to(weight, dry.as_ref(), &DRY), &length))
    });
    let off = tex.map(|tex| {
        let tex = book.enter(format!("{stage}.tex"), format!("weight per length of bobbin {n}"), tex);
        let off = (tex / &of.wound).by(&OFF);
        book.enter(format!("{stage}.off"), format!("bobbin {n} over its target"), off).value()
    });
    MeasuredBobbin { entry, number: n, planned, stage, off }
}

fn enter_skein(book: &mut Book, plan: &Plan, aim: &Aim, entry: usize, skein: &LoggedSkein) -> MeasuredSkein {
    let n = skein.number;
    let stage = format!("logged.skein.{n}");
    let one: Figure<Length> = match (&skein.washed_loop, &skein.wound_loop) {
        (Some(washed), _) => {
            book.numbered(&format!("skein.{n}.washed-loop"), washed, &format!("washed loop of skein {n}"))
        }
        (None, Some(wound)) => {
            book.numbered(&format!("skein.{n}.loop"), wound, &format!("wound loop of skein {n}")) * &aim.keep
        }
        (None, None) => unreachable!("invariant: the check asks for a loop"),
    };
    let loops = book.numbered(&format!("skein.{n}.loops"), &skein.loops, &format!("loops of skein {n}"));
    let weight: Figure<Mass> =
        book.numbered(&format!("skein.{n}.weight"), &skein.weight, &format!("weight of skein {n}"));
    let dry = dryness(book, plan, skein.date);
    let weight = brought_to(weight, dry.as_ref(), &DRY);
    let weight = book.enter(format!("{stage}.weight"), format!("weight of skein {n}, measured"), weight);
    let length = folding::skein_length(&loops, &one);
    let length = book.enter(format!("{stage}.length"), format!("length of skein {n}, measured"), length);
    let tex = folding::weighed(&weight, &length);
    let tex: Figure<LinearDensity> = book.enter(format!("{stage}.tex"), format!("weight per length of skein {n}"), tex);
    book.enter(format!("{stage}.grist"), format!("grist of skein {n}"), thickness::yield_of(&tex));
    let off = (tex / &aim.washed).by(&OFF);
    let off = book.enter(format!("{stage}.off"), format!("skein {n} over its target"), off).value();
    MeasuredSkein { entry, number: n, bobbins: skein.bobbins.clone(), stage, off }
}

/// How much drier or damper wool was on a day: the reference skein on the first day over that day's. `None` where it was not weighed,
/// and of the first day itself.
fn dryness(book: &mut Book, plan: &Plan, day: Date) -> Option<Figure<Share>> {
    let of_bobbins = plan.bobbins.iter().map(|bobbin| (bobbin.date, "bobbin", bobbin.number, &bobbin.reference));
    let of_skeins = plan.skeins.iter().map(|skein| (skein.date, "skein", skein.number, &skein.reference));
    let all = of_bobbins.chain(of_skeins);
    let all: Vec<_> = all.filter_map(|(date, kind, n, weight)| Some((date, kind, n, weight.as_ref()?))).collect();
    // Of one day the least, and of equal ones that of the first bobbin, so that the order of entries does not matter.
    let first_of = |day: Date| {
        let of_day = all.iter().filter(|of| of.0 == day);
        of_day.min_by(|a, b| a.3.value.total_cmp(&b.3.value).then((a.1, a.2).cmp(&(b.1, b.2))))
    };
    let first = all.iter().map(|of| of.0).min()?;
    if first == day {
        return None;
    }
    let mut weight = |what: &str, (_, kind, n, reading): &(Date, &str, usize, &Reading<Mass>)| {
        let words = format!("reference skein {what}, {}", reading.text);
        book.numbered::<Mass>(&format!("{kind}.{n}.reference-skein"), reading, &words)
    };
    let (first, today) = (first_of(first)?, first_of(day)?);
    let (first, today) = (weight("on the first day", first), weight("on the day", today));
    Some((first / today).by(&DRY))
}

fn brought_to(weight: Figure<Mass>, dry: Option<&Figure<Share>>, formula: &'static Formula) -> Figure<Mass> {
    match dry {
        Some(dry) => (weight * dry).by(&DRY),
        None => weight.by(formula),
    }
}
