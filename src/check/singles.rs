//! Kinds of singles: plies that are spun alike, found from what each ply says for itself.

use super::limits;
use super::ply_plan::SupplyName;
use super::reading::optional;
use super::report::Report;
use crate::diagnostics::Place;
use crate::plan::{Direction, PlyPlan, Reading, Singles};
use crate::syntax::raw;
use crate::units::{LinearDensity, Share};

use super::construction::direction;

/// What one ply says for itself, beside what it is spun from.
#[derive(Debug, Clone, Default)]
pub(super) struct Own {
    grist: Option<Reading<LinearDensity>>,
    twist: Option<Direction>,
    shortens: Option<Reading<Share>>,
}

/// The entries of a ply that make it another kind of singles; `None` if one has a fault.
pub(super) fn own(raw: &raw::Ply, place: &Place, report: &mut Report) -> Option<Own> {
    let grist = optional(raw.grist.as_ref(), &place.key("grist"), &limits::OWN_GRIST, report);
    let shortens =
        optional(raw.plying_shortens.as_ref(), &place.key("plying-shortens"), &limits::PLYING_SHORTENS, report);
    let is_read = grist.is_some() == raw.grist.is_some() && shortens.is_some() == raw.plying_shortens.is_some();
    is_read.then(|| Own { grist, twist: raw.twist.map(direction), shortens })
}

/// By what two plies are of one kind. What the others leave for a ply hangs on all plies of its plan.
#[derive(PartialEq)]
struct Key {
    own: (u64, u64),
    twist: Direction,
    beside: Vec<(u64, u64)>,
}

/// The kinds of singles, and in each ply of the plans which kind it is. `usual` is the twist of a ply that says none.
pub(super) fn kinds(
    plans: &mut [PlyPlan],
    own: &[Vec<Own>],
    usual: Direction,
    supplies: &[SupplyName<'_>],
) -> Vec<Singles> {
    let mut keys: Vec<Key> = Vec::new();
    let mut kinds: Vec<Singles> = Vec::new();
    for (index, (plan, own)) in plans.iter_mut().zip(own).enumerate() {
        for (ply, entries) in plan.plies.iter_mut().zip(own) {
            let key = key(entries, own, usual);
            ply.singles = keys.iter().position(|other| *other == key).unwrap_or_else(|| {
                kinds.push(Singles {
                    name: None,
                    grist: entries.grist.clone(),
                    twist: key.twist,
                    shortens: entries.shortens.clone(),
                    ply_plan: index,
                });
                keys.push(key);
                keys.len() - 1
            });
        }
    }
    name(&mut kinds, plans, supplies);
    kinds
}

fn key(entries: &Own, all: &[Own], usual: Direction) -> Key {
    let bits = |own: &Own| {
        (own.grist.as_ref().map_or(0, |grist| grist.value.to_bits()), own.shortens.as_ref().map_or(0, shortens_bits))
    };
    let mut beside: Vec<(u64, u64)> = all.iter().map(bits).collect();
    beside.sort_unstable();
    if entries.grist.is_some() || all.iter().all(|own| own.grist.is_none() && own.shortens.is_none()) {
        beside.clear();
    }
    Key { own: bits(entries), twist: entries.twist.unwrap_or(usual), beside }
}

/// A share's bits, told apart from nothing said.
fn shortens_bits(share: &Reading<Share>) -> u64 {
    share.value.to_bits() | 1
}

/// Several kinds are called by their fibre, else by the lot they are spun from, else by all of their fibres, else by number.
fn name(kinds: &mut [Singles], plans: &[PlyPlan], supplies: &[SupplyName<'_>]) {
    if kinds.len() < 2 {
        return;
    }
    let fibre = |supply: usize| supplies.get(supply).and_then(|supply| supply.fibre);
    let lot = |supply: usize| supplies.get(supply).map(|supply| supply.name);
    let names = told_apart(kinds.len(), plans, &fibre)
        .or_else(|| told_apart(kinds.len(), plans, &lot))
        .or_else(|| together(kinds, plans, &fibre));
    for (i, kind) in kinds.iter_mut().enumerate() {
        kind.name = Some(names.as_ref().map_or_else(|| (i + 1).to_string(), |names| names[i].clone()));
    }
}

/// One name for each kind, of all that it is spun from: "wool-alpaca"; where two are the same, with the ply plan of each.
fn together<'a>(kinds: &[Singles], plans: &[PlyPlan], name: &dyn Fn(usize) -> Option<&'a str>) -> Option<Vec<String>> {
    let plies = || plans.iter().flat_map(|plan| &plan.plies);
    let names: Vec<String> = (0..kinds.len())
        .map(|kind| {
            let of_kind = plies().filter(|ply| ply.singles == kind).map(|ply| name(ply.lots[0]));
            let mut names: Vec<&str> = of_kind.collect::<Option<_>>()?;
            names.sort_unstable();
            names.dedup();
            Some(names.join("-"))
        })
        .collect::<Option<_>>()?;
    if are_apart(&names) {
        return Some(names);
    }
    let of_plan = |(name, kind): (&String, &Singles)| format!("{name}-{}", plans[kind.ply_plan].name);
    let names: Vec<String> = names.iter().zip(kinds).map(of_plan).collect();
    are_apart(&names).then_some(names)
}

/// One name for each kind, where each has one and no two share it.
fn told_apart<'a>(n: usize, plans: &[PlyPlan], name: &dyn Fn(usize) -> Option<&'a str>) -> Option<Vec<String>> {
    let plies = || plans.iter().flat_map(|plan| &plan.plies);
    let names: Vec<&str> = (0..n)
        .map(|kind| {
            let mut of_kind = plies().filter(|ply| ply.singles == kind).map(|ply| name(ply.lots[0]));
            let first = of_kind.next()??;
            of_kind.all(|other| other == Some(first)).then_some(first)
        })
        .collect::<Option<_>>()?;
    are_apart(&names).then(|| names.into_iter().map(str::to_owned).collect())
}

/// Whether no two are the same.
fn are_apart<T: PartialEq>(names: &[T]) -> bool {
    names.iter().enumerate().all(|(i, name)| !names[..i].contains(name))
}
