//! How even the bobbins and skeins of the log are, which of them are best plied together, and what the next ones should be so that
//! the sets still come right.

use super::chart::{self, Individuals, Moved, Signal};
use super::deal::{Deal, DealtPlan, PlannedBobbin};
use super::kinds::Spun;
use super::ledger::{Book, How, Line};
use super::logged::{Logged, MeasuredBobbin, MeasuredSkein};
use super::pairing::{self, Bobbin, Paired, Problem};
use super::statistics;
use crate::plan::Plan;
use crate::units::format::percent;
use crate::units::{Kind, Length, LinearDensity, Mass, Share, Standing};

/// What the log says of the evenness of the yarn.
#[derive(Debug, Clone, Default)]
pub struct Evenness {
    /// Bobbins whose singles are measured, as far as they are one kind: by their numbers.
    pub drifts: Vec<Drift>,
    /// One for each ply plan of which bobbins wait to be plied.
    pub plyings: Vec<Plying>,
}

/// The bobbins of one kind of singles in the order of spinning.
#[derive(Debug, Clone)]
pub struct Drift {
    /// Index into [`Plan::singles`].
    pub singles: usize,
    /// Their numbers.
    pub numbers: Vec<usize>,
    /// Weight per length over what was aimed at, of each.
    pub offs: Vec<f64>,
    /// How each is off the median.
    pub bands: Vec<chart::Off>,
    /// Mean and limits, from two bobbins on.
    pub individuals: Option<Individuals>,
    /// What the run rules find, from ten bobbins on.
    pub signals: Option<Vec<Signal>>,
    /// Whether and where the spinning moved, from six bobbins on.
    pub moved: Option<Moved>,
}

/// Sets of a ply plan, those that are plied and those that wait.
#[derive(Debug, Clone)]
pub struct Plying {
    /// Index into [`Plan::ply_plans`].
    pub ply_plan: usize,
    /// The sets: plied ones first, then those that are paired.
    pub sets: Vec<PairedSet>,
    /// Bobbins that make no whole set as planned, since others were plied otherwise: their numbers.
    pub left: Vec<usize>,
    /// Range of what is plied from set to set over its mean, where bobbins are taken in their order, and as they are paired.
    pub range: (f64, f64),
    /// How many ways were looked at.
    pub states: u64,
    /// Whether no other way is better.
    pub is_exact: bool,
    /// What no way can be better than, over the mean.
    pub bound: f64,
    /// Whether a set is more than one bobbin, so that there is anything to pair.
    pub is_paired: bool,
}

/// The bobbins that are plied together.
#[derive(Debug, Clone, PartialEq)]
pub struct PairedSet {
    /// Their numbers.
    pub bobbins: Vec<usize>,
    /// Weight per length of what is plied of them, over the mean of all sets.
    pub off: f64,
    /// Whether it is plied already.
    pub is_plied: bool,
    /// Numbers of the skeins that it gives: those of the log, and those planned that are still to come.
    pub skeins: Vec<usize>,
    /// Bobbins of it that are still to spin, of each kind of singles, with what they should be so that the set comes right.
    pub wanted: Vec<Wanted>,
}

/// What bobbins of one kind that are still to spin should be.
#[derive(Debug, Clone, PartialEq)]
pub struct Wanted {
    /// Their numbers.
    pub bobbins: Vec<usize>,
    /// Index into [`Plan::singles`].
    pub singles: usize,
    /// Weight per length over what was aimed at.
    pub off: f64,
    /// From there to there the set is within five per cent of the others.
    pub band: (f64, f64),
    /// Whether this hand can do that: within ten per cent of what it has spun so far.
    pub is_in_reach: bool,
}

/// Sets within this of each other are good; common practice, no source.
const GOOD: f64 = chart::GOOD_WITHIN;
/// A bobbin this far off what the hand has spun so far is another yarn; our choice.
const REACH: f64 = 0.10;

/// Finds and counts all of it.
pub fn even(book: &mut Book, plan: &Plan, deal: &Deal, singles: &[Spun]) -> Evenness {
    let logged = &deal.logged;
    if logged.bobbins.is_empty() && logged.skeins.is_empty() {
        return Evenness::default();
    }
    let drifts: Vec<Drift> = (0..singles.len()).filter_map(|kind| drift(plan, logged, kind)).collect();
    if drifts.iter().any(|drift| drift.individuals.is_some()) {
        count_factors(book);
    }
    for drift in &drifts {
        count_drift(book, drift);
        count_against_plan(book, drift, &singles[drift.singles].stage);
    }
    count_skeins(book, logged);
    let over = "yarn.over-target";
    let off = book.figure::<Share>(over).value() - 1.0;
    let words = "all of the yarn against its target".to_owned();
    count(book, "yarn.off".to_owned(), words, (Kind::Share, off), "over its target, less one", vec![over.to_owned()]);
    let bobbins = &deal.bobbins;
    let hand = Hand { logged, plans: &deal.plans, bobbins, singles, so_far: so_far(logged, singles.len()) };
    let plyings: Vec<Plying> = deal.plans.iter().filter_map(|dealt| hand.plying(dealt.ply_plan)).collect();
    for plying in &plyings {
        count_plying(book, plan, plying, singles);
        plying.sets.iter().for_each(|set| count_left(book, &set.bobbins));
    }
    Evenness { drifts, plyings }
}

fn drift(plan: &Plan, logged: &Logged, singles: usize) -> Option<Drift> {
    let mut of_kind: Vec<(&MeasuredBobbin, f64)> = logged
        .bobbins
        .iter()
        .filter(|bobbin| bobbin.planned.singles == singles)
        .filter_map(|bobbin| Some((bobbin, bobbin.off?)))
        .collect();
    // In the order of spinning, which need not be that of the numbers.
    of_kind.sort_by_key(|(bobbin, _)| (plan.bobbins[bobbin.entry].date, bobbin.number));
    let numbers: Vec<usize> = of_kind.iter().map(|(bobbin, _)| bobbin.number).collect();
    let offs: Vec<f64> = of_kind.iter().map(|(_, off)| *off).collect();
    let bands = chart::bands(&offs)?;
    let individuals = Individuals::of(&offs);
    let signals = individuals.as_ref().and_then(|individuals| individuals.signals(&offs, &chart::Rule::ALL));
    let n = offs.len();
    let student = |n: usize| statistics::student_quantile(1.0 - chart::EITHER_CHANCE / 2.0, n - 2);
    let moved = (n >= chart::FEWEST_FOR_STEP).then(|| chart::moved(&offs, student(n))).flatten();
    Some(Drift { singles, numbers, offs, bands, individuals, signals, moved })
}

/// Weight per length over what was aimed at, of what is spun of each kind of singles so far; one of a kind of which nothing is.
fn so_far(logged: &Logged, n_kinds: usize) -> Vec<f64> {
    let of_kind = |kind: usize| {
        let own = logged.bobbins.iter().filter(|bobbin| bobbin.planned.singles == kind);
        let offs: Vec<f64> = own.filter_map(|bobbin| bobbin.off).collect();
        if offs.is_empty() { 1.0 } else { offs.iter().sum::<f64>() / offs.len() as f64 }
    };
    (0..n_kinds).map(of_kind).collect()
}

/// What is known of all bobbins.
struct Hand<'a> {
    logged: &'a Logged,
    plans: &'a [DealtPlan],
    bobbins: &'a [PlannedBobbin],
    singles: &'a [Spun],
    /// What the hand has spun of each kind so far, over what was aimed at.
    so_far: Vec<f64>,
}

impl Hand<'_> {
    fn planned(&self, number: usize) -> PlannedBobbin {
        self.bobbins[number - 1]
    }

    /// What was aimed at, in grams to the metre.
    fn aimed(&self, number: usize) -> f64 {
        self.singles[self.planned(number).singles].wound.value()
    }

    /// Weight per length of a bobbin: as measured, or else as this hand spins.
    fn density(&self, number: usize) -> f64 {
        let measured = self.logged.bobbin(number).and_then(|bobbin| bobbin.off);
        self.aimed(number) * measured.unwrap_or(self.so_far[self.planned(number).singles])
    }

    fn sum(&self, set: &[usize]) -> f64 {
        set.iter().map(|number| self.density(*number)).sum()
    }

    /// A set that is plied: by its bobbins, or by its skeins where one of those is not measured.
    fn plied(&self, set: &[usize]) -> f64 {
        let is_measured = |number: &usize| self.logged.bobbin(*number).is_some_and(|bobbin| bobbin.off.is_some());
        let skeins = self.logged.skeins.iter().filter(|skein| skein.bobbins == set).map(|skein| skein.off);
        let offs: Vec<f64> = skeins.collect();
        if set.iter().all(is_measured) || offs.is_empty() {
            return self.sum(set);
        }
        let aimed: f64 = set.iter().map(|number| self.aimed(*number)).sum();
        aimed * offs.iter().sum::<f64>() / offs.len() as f64
    }

    /// What of a ply plan is plied, and how the rest is best put together; `None` where nothing of it is logged.
    fn plying(&self, ply_plan: usize) -> Option<Plying> {
        let own = |number: &usize| self.planned(*number).ply_plan == ply_plan;
        let numbers: Vec<usize> = (1..=self.bobbins.len()).filter(own).collect();
        let mut plied: Vec<Vec<usize>> = self.logged.skeins.iter().map(|skein| skein.bobbins.clone()).collect();
        plied.retain(|set| set.iter().all(|number| (1..=self.bobbins.len()).contains(number)));
        plied.sort();
        plied.dedup();
        // What was plied is gone, whatever it was plied with.
        let is_gone = |number: &usize| plied.iter().flatten().any(|of| of == number);
        let waiting: Vec<usize> = numbers.iter().copied().filter(|number| !is_gone(number)).collect();
        plied.retain(|set| set.iter().any(own));
        if plied.is_empty() && !numbers.iter().any(|number| self.logged.bobbin(*number).is_some()) {
            return None;
        }
        let fixed: Vec<f64> = plied.iter().map(|set| self.plied(set)).collect();
        let mut found = Pairing::default();
        let mut in_order = fixed.clone();
        let mut sets: Vec<(Vec<usize>, bool)> = plied.into_iter().map(|set| (set, true)).collect();
        let mut sums = fixed.clone();
        for group in groups(self.bobbins, &waiting) {
            let Some((paired, order)) = pair(self.bobbins, &group, &fixed, &|number| self.density(number)) else {
                found.left.extend(group);
                continue;
            };
            found.states += paired.states;
            found.is_rough |= !paired.is_exact;
            found.bound = found.bound.max(paired.bound);
            in_order.extend(&order.sums);
            // Where nothing is gained bobbins stay as they come.
            let is_gain = paired.range < order.range * (1.0 - ALIKE);
            for set in if is_gain { &paired.sets } else { &order.sets } {
                let set: Vec<usize> = set.iter().map(|at| group[*at]).collect();
                sums.push(self.sum(&set));
                sets.push((set, false));
            }
        }
        if sets.is_empty() {
            return None;
        }
        let mean = sums.iter().sum::<f64>() / sums.len() as f64;
        let range = |sums: &[f64]| {
            let (least, most) =
                sums.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), x| (a.min(*x), b.max(*x)));
            (most - least) / mean
        };
        let range = (range(&in_order), range(&sums));
        let is_paired = sets.iter().any(|(set, _)| set.len() > 1);
        let skeins = self.skeins(ply_plan, &sets);
        let paired = sets.into_iter().zip(skeins).zip(&sums).map(|(((bobbins, is_plied), skeins), sum)| PairedSet {
            wanted: if is_plied { Vec::new() } else { self.wanted(&bobbins) },
            off: sum / mean,
            is_plied,
            skeins,
            bobbins,
        });
        Some(Plying {
            ply_plan,
            sets: paired.collect(),
            left: found.left,
            range,
            states: found.states,
            is_exact: !found.is_rough,
            // Where all is plied there is no other way.
            bound: if found.states == 0 { range.1 } else { found.bound * THOUSANDTH / mean },
            is_paired,
        })
    }

    /// Numbers of the skeins of each set: of one that is plied those of the log, and what else its numbers were planned for; what then
    /// is left of the plan goes to the others, in order.
    fn skeins(&self, ply_plan: usize, sets: &[(Vec<usize>, bool)]) -> Vec<Vec<usize>> {
        let dealt = self.plans.iter().filter(|dealt| dealt.ply_plan == ply_plan).flat_map(|dealt| &dealt.sets);
        let mut open: Vec<Vec<usize>> = dealt.map(|set| set.skeins.clone().collect()).collect();
        let is_logged = |number: &usize| self.logged.skein(*number).is_some();
        let mut of_plied = |bobbins: &Vec<usize>| {
            let own = self.logged.skeins.iter().filter(|skein| skein.bobbins == *bobbins);
            let mut own: Vec<usize> = own.map(|skein| skein.number).collect();
            if let Some(at) = open.iter().position(|planned| planned.iter().any(|number| own.contains(number))) {
                // What another set was skeined as is not to come of this one.
                own.extend(open.remove(at).into_iter().filter(|number| !is_logged(number)));
            }
            own.sort_unstable();
            own.dedup();
            own
        };
        // Plied sets first: what they leave is what the others can have.
        let mut plied: Vec<Option<Vec<usize>>> =
            sets.iter().map(|(bobbins, is_plied)| is_plied.then(|| of_plied(bobbins))).collect();
        open.iter_mut().for_each(|planned| planned.retain(|number| !is_logged(number)));
        let mut rest = open.into_iter().filter(|planned| !planned.is_empty());
        plied.iter_mut().map(|own| own.take().or_else(|| rest.next()).unwrap_or_default()).collect()
    }

    /// What the bobbins of a set that are still to spin should be, each kind by itself, so that the set comes to what is spun so far.
    /// Of a set of which nothing is spun they go on as the others are.
    fn wanted(&self, set: &[usize]) -> Vec<Wanted> {
        let unspun: Vec<usize> = set.iter().copied().filter(|number| self.logged.bobbin(*number).is_none()).collect();
        if unspun.is_empty() {
            return Vec::new();
        }
        let usual = |number: &usize| self.aimed(*number) * self.so_far[self.planned(*number).singles];
        let goal: f64 = set.iter().map(usual).sum();
        let open: f64 = unspun.iter().map(usual).sum();
        let rest = self.sum(set) - open;
        // All that is still to spin gives its part, in proportion to what it would be.
        let times = |goal: f64| (goal - rest) / open;
        let mut kinds: Vec<usize> = unspun.iter().map(|number| self.planned(*number).singles).collect();
        kinds.sort_unstable();
        kinds.dedup();
        let of_kind = |kind: usize| {
            let hand = self.so_far[kind];
            Wanted {
                bobbins: unspun.iter().copied().filter(|number| self.planned(*number).singles == kind).collect(),
                singles: kind,
                off: hand * times(goal),
                band: (hand * times(goal * (1.0 - GOOD)), hand * times(goal * (1.0 + GOOD))),
                is_in_reach: (times(goal) - 1.0).abs() <= REACH,
            }
        };
        kinds.into_iter().map(of_kind).collect()
    }
}

/// What was found over all groups of a ply plan.
#[derive(Default)]
struct Pairing {
    left: Vec<usize>,
    states: u64,
    is_rough: bool,
    bound: f64,
}

/// Grams to the metre in a tex.
const THOUSANDTH: f64 = 0.001;

/// Bobbins that wait, by what their sets are made of: those of sets of the same classes may be exchanged.
fn groups(bobbins: &[PlannedBobbin], waiting: &[usize]) -> Vec<Vec<usize>> {
    let classes_of = |number: usize| {
        let own = bobbins[number - 1];
        let of_set = bobbins.iter().filter(|other| (other.ply_plan, other.set) == (own.ply_plan, own.set));
        let mut classes: Vec<usize> = of_set.map(|other| other.class).collect();
        classes.sort_unstable();
        classes
    };
    let mut groups: Vec<(Vec<usize>, Vec<usize>)> = Vec::new();
    for number in waiting {
        let classes = classes_of(*number);
        match groups.iter_mut().find(|(known, _)| *known == classes) {
            Some((_, group)) => group.push(*number),
            None => groups.push((classes, vec![*number])),
        }
    }
    groups.into_iter().map(|(_, group)| group).collect()
}

/// The best sets of a group, and what its bobbins come to in their order. `None` of bobbins that make no whole sets, as where a set was
/// plied otherwise than any that is planned.
fn pair(
    bobbins: &[PlannedBobbin],
    group: &[usize],
    fixed: &[f64],
    tex: &dyn Fn(usize) -> f64,
) -> Option<(Paired, AsTheyCome)> {
    let own = bobbins[group[0] - 1];
    let of_set = bobbins.iter().filter(|other| (other.ply_plan, other.set) == (own.ply_plan, own.set));
    let mut classes: Vec<usize> = of_set.clone().map(|other| other.class).collect();
    classes.sort_unstable();
    let mut shape: Vec<usize> = Vec::new();
    let mut names: Vec<usize> = Vec::new();
    for class in classes {
        if names.last() == Some(&class) {
            *shape.last_mut().expect("invariant: a class has a count") += 1;
        } else {
            names.push(class);
            shape.push(1);
        }
    }
    let bobbin = |number: &usize| {
        let class = names.iter().position(|class| *class == bobbins[number - 1].class)?;
        Some(Bobbin { tex: tex(*number) / THOUSANDTH, class })
    };
    let fixed = fixed.iter().map(|sum| sum / THOUSANDTH).collect();
    let problem = Problem { bobbins: group.iter().map(bobbin).collect::<Option<_>>()?, shape, fixed };
    let (paired, order) = (pairing::pair(&problem).ok()?, pairing::in_order(&problem).ok()?);
    let sums = pairing::sums(&problem, &order.sets).ok()?.into_iter().map(|sum| sum * THOUSANDTH).collect();
    Some((paired, AsTheyCome { sets: order.sets, range: order.range, sums }))
}

/// Bobbins of a group in their order.
struct AsTheyCome {
    /// Sets by their places in the group.
    sets: Vec<Vec<usize>>,
    /// Their range in tex, sets that are plied with them.
    range: f64,
    /// What is plied of each.
    sums: Vec<f64>,
}

/// A range that is less by no more than this share is the same.
const ALIKE: f64 = 1e-9;

fn count(book: &mut Book, name: String, words: String, (kind, value): (Kind, f64), how: &str, of: Vec<String>) {
    book.count(Line {
        name,
        words,
        kind,
        source: "by the weighings of the log".to_owned(),
        how: How::Counted { words: how.to_owned(), of },
        ..Line::counted(value, Standing::Standard)
    });
}

fn count_drift(book: &mut Book, drift: &Drift) {
    let of: Vec<String> = drift.numbers.iter().map(|n| format!("logged.bobbin.{n}.off")).collect();
    for (n, off) in drift.numbers.iter().zip(&drift.bands) {
        let name = format!("logged.bobbin.{n}.from-median");
        let words = format!("bobbin {n} off the median");
        count(book, name, words, (Kind::Share, off.share), "over the median of all bobbins, less one", of.clone());
    }
    let Some(individuals) = &drift.individuals else { return };
    let stage = format!("drift.{}", drift.singles + 1);
    for (what, value, how) in [
        ("centre", individuals.centre, "the mean of the bobbins"),
        ("moving-range", individuals.mean_moving_range, "the mean difference from one bobbin to the next"),
        ("lower", individuals.lower, "the middle less that many mean moving ranges"),
        ("upper", individuals.upper, "the middle and that many mean moving ranges"),
        ("moving-range-limit", individuals.moving_range_limit, "that many mean moving ranges"),
    ] {
        let words = format!("{} of the bobbins over their target", what.replace('-', " "));
        book.count(Line {
            name: format!("{stage}.{what}"),
            words,
            kind: Kind::Share,
            source: chart::INDIVIDUALS.to_owned(),
            how: How::Counted { words: how.to_owned(), of: of.clone() },
            ..Line::counted(value, Standing::FromMemory)
        });
    }
}

/// Enters the factors of the charts, once.
fn count_factors(book: &mut Book) {
    for (what, words, value, how) in [
        ("range-of-two", "mean range of two", chart::D2_OF_TWO, "two over the root of pi, in standard deviations"),
        ("limit-factor", "mean moving ranges from the middle to a limit", chart::LIMIT_FACTOR, "three over that"),
        (
            "range-factor",
            "mean moving ranges that a moving range may be",
            chart::RANGE_FACTOR,
            "exact, where tables round it",
        ),
    ] {
        count(book, format!("chart.{what}"), words.to_owned(), (Kind::Count, value), how, Vec::new());
    }
}

/// Bobbins of a kind, and all of them together, against what is aimed at, also as what the checked length weighs.
fn count_against_plan(book: &mut Book, drift: &Drift, stage: &str) {
    let checked = format!("{stage}.check-weight");
    let aimed = book.figure::<Mass>(&checked).value();
    let each = drift.numbers.iter().zip(&drift.offs).map(|(n, off)| {
        let of = vec![format!("logged.bobbin.{n}.off"), checked.clone()];
        (format!("logged.bobbin.{n}"), format!("bobbin {n}"), *off, of)
    });
    let mean = drift.offs.iter().sum::<f64>() / drift.offs.len() as f64;
    let of = drift.numbers.iter().map(|n| format!("logged.bobbin.{n}.off")).chain([checked.clone()]);
    let all = (format!("drift.{}", drift.singles + 1), "bobbins so far".to_owned(), mean, of.collect());
    for (name, words, off, of) in each.chain([all]).collect::<Vec<_>>() {
        let against = format!("{words} against the target");
        count(
            book,
            format!("{name}.from-target"),
            against,
            (Kind::Share, off - 1.0),
            "over its target, less one",
            of.clone(),
        );
        let weight = format!("checked length of {words}");
        count(book, format!("{name}.checked"), weight, (Kind::Mass, off * aimed), "what is aimed at, times that", of);
    }
}

fn count_skeins(book: &mut Book, logged: &Logged) {
    let offs: Vec<f64> = logged.skeins.iter().map(|skein| skein.off).collect();
    let Some(bands) = chart::bands(&offs) else { return };
    let of: Vec<String> = logged.skeins.iter().map(|skein| format!("{}.off", skein.stage)).collect();
    // Their weight over their length.
    let length = |skein: &MeasuredSkein| book.figure::<Length>(&format!("{}.length", skein.stage)).value();
    let lengths: f64 = logged.skeins.iter().map(length).sum();
    let mean = logged.skeins.iter().map(|skein| skein.off * length(skein)).sum::<f64>() / lengths;
    let words = "skeins so far against the target".to_owned();
    let how = "their weight over their length, over the target, less one";
    count(book, "spun-skeins.from-target".to_owned(), words, (Kind::Share, mean - 1.0), how, of.clone());
    for (skein, off) in logged.skeins.iter().zip(&bands) {
        let name = format!("{}.from-median", skein.stage);
        let words = format!("skein {} off the median", skein.number);
        count(book, name, words, (Kind::Share, off.share), "over the median of all skeins, less one", of.clone());
    }
}

fn count_plying(book: &mut Book, plan: &Plan, plying: &Plying, singles: &[Spun]) {
    let stage = format!("paired.{}", plan.ply_plans[plying.ply_plan].name);
    for (what, value) in [("range-in-order", plying.range.0), ("range", plying.range.1), ("bound", plying.bound)] {
        let words = format!("{} of the sets over their mean", what.replace('-', " "));
        count(book, format!("{stage}.{what}"), words, (Kind::Share, value), "most less least", Vec::new());
    }
    for (k, set) in plying.sets.iter().enumerate() {
        let offs = set.bobbins.iter().map(|n| format!("logged.bobbin.{n}.off"));
        let from: Vec<String> = offs.filter(|name| book.find::<Share>(name).is_some()).collect();
        let name = format!("{stage}.set.{}.off", k + 1);
        count(
            book,
            name,
            format!("set {} over the mean of the sets", k + 1),
            (Kind::Share, set.off - 1.0),
            "its singles together",
            from,
        );
        for wanted in &set.wanted {
            let checked = format!("{}.check-weight", singles[wanted.singles].stage);
            let aimed = book.figure::<Mass>(&checked).value();
            for (what, off) in [("wanted", wanted.off), ("wanted-low", wanted.band.0), ("wanted-high", wanted.band.1)] {
                let words = format!("{} weight of the checked length, set {}", what.replace('-', " "), k + 1);
                let how = "what the others of the set leave of what is spun so far";
                let name = format!("{stage}.set.{}.{what}.{}", k + 1, wanted.singles + 1);
                count(book, name, words, (Kind::Mass, off * aimed), how, vec![checked.clone()]);
            }
        }
    }
}

/// What is left on the bobbins of a set when the first of them runs out, where all of them are weighed and known for their length.
fn count_left(book: &mut Book, set: &[usize]) {
    let of = |book: &Book, number: &usize| {
        let net = book.find::<Mass>(&format!("logged.bobbin.{number}.net"))?.value();
        Some((net, book.find::<LinearDensity>(&format!("logged.bobbin.{number}.tex"))?.value()))
    };
    let Some(known) = set.iter().map(|number| of(book, number)).collect::<Option<Vec<(f64, f64)>>>() else { return };
    let shortest = known.iter().map(|(net, tex)| net / tex).fold(f64::INFINITY, f64::min);
    for (number, (net, tex)) in set.iter().zip(known) {
        let from = ["net", "tex"].map(|what| format!("logged.bobbin.{number}.{what}")).to_vec();
        let words = format!("left on bobbin {number} when its set is plied");
        let how = "what it has beyond the length of the shortest of its set";
        count(book, format!("logged.bobbin.{number}.left"), words, (Kind::Mass, net - shortest * tex), how, from);
    }
}

impl Evenness {
    /// The set that a bobbin is best plied in, with its ply plan's sets and its place among them.
    pub fn set_with(&self, number: usize) -> Option<(&Plying, usize)> {
        self.plyings.iter().find_map(|plying| {
            let at = plying.sets.iter().position(|set| set.bobbins.contains(&number))?;
            Some((plying, at))
        })
    }

    /// What to say of a bobbin that was just entered, by its number.
    pub fn of_bobbin(&self, holder: &str, number: Option<usize>) -> Option<String> {
        let number = number?;
        let drift = self.drifts.iter().find(|drift| drift.numbers.contains(&number))?;
        let at = drift.numbers.iter().position(|n| *n == number)?;
        (drift.numbers.len() > 1).then(|| said(holder, number, drift.bands[at]))
    }

    /// The same of a skein.
    pub fn of_skein(&self, logged: &Logged, number: Option<usize>) -> Option<String> {
        let number = number?;
        let offs: Vec<f64> = logged.skeins.iter().map(|skein| skein.off).collect();
        let at = logged.skeins.iter().position(|skein| skein.number == number)?;
        (offs.len() > 1).then(|| chart::bands(&offs).map(|bands| said("skein", number, bands[at])))?
    }
}

/// How far one is off the median, and what to do.
fn said(what: &str, number: usize, off: chart::Off) -> String {
    let way = if off.share >= 0.0 { "heavier" } else { "finer" };
    let share = percent(off.share.abs(), 0);
    let then = match off.band {
        chart::Band::Good => "inside: ply it as it comes",
        chart::Band::Mix => "mix: the skein log says what to put it with",
        chart::Band::Act => "act: find the cause before you spin the next, then see the skein log",
    };
    format!("{what} {number} is {share} {way} than the median; {then}")
}
