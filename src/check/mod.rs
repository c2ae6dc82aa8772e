//! The tree that `syntax` read becomes a [`Plan`]: units read, names resolved, defaults filled in.
//!
//! All faults of plan and log are found in one run. Each family of checks makes its part of the plan or nothing, and
//! goes on either way; a family that needs another one works with the names alone where that one has a fault.
//! Whether a plan can be spun (twist that no whorl gives, yarn finer than its fibre) is asked in `figures`.

mod alternative;
mod braid;
mod class;
mod construction;
mod content;
mod craft;
mod cut;
mod defaults;
mod expect;
mod fabric;
mod fibre;
mod fibre_kinds;
mod finish;
mod garment;
mod grades;
mod heading;
mod limits;
mod loom;
mod machine;
mod matching;
mod names;
mod piece;
mod ply_plan;
mod reading;
mod report;
mod sample;
mod singles;
mod spun;
mod torn;
mod trim;
mod unreadable;
mod wheel;
mod wish;
mod worn;
mod yarn;

#[cfg(test)]
mod tests;

use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{Direction, HandedTo, Plan};
use crate::syntax::{Syntax, raw};
pub use alternative::told;
use report::Report;

/// The plan, if there is no fault that forbids one, and all faults with their places.
pub fn check(syntax: &Syntax) -> (Option<Plan>, Vec<Diagnostic>) {
    let was_refused = |place: &Place| !syntax.whole || !syntax.places.is_whole(place);
    let mut report = Report::new(&was_refused);
    let checked = assembled(&syntax.plan, &syntax.log, &mut report);
    let is_sound = syntax.whole && report.is_sound();
    let checked = checked.filter(|_| is_sound).map(|plan| Plan { assumed: report.take_assumed(), ..plan });
    (checked, report.into_faults())
}

fn assembled(plan: &raw::Plan, log: &raw::Log, report: &mut Report) -> Option<Plan> {
    let heading = heading::heading(plan, report);
    let system = heading.units;
    let fibres = fibre::fibres(plan, report);
    let colours = braid::colours(plan, report);
    let mut supplies = braid::braids(plan, &fibres, report);
    supplies.extend(fibre::loose(plan, report));
    let wheel = wheel::wheel(plan, system, report);
    let plying = wheel::plying(plan, wheel.as_ref(), system, report);
    let made = plan.yarn.as_ref().and_then(|yarn| construction::made(yarn, report));
    let yarn = yarn::yarn(plan, log, made.as_ref(), system, report);
    let twist = yarn.as_ref().map_or(Direction::Z, |yarn| yarn.singles_twist);
    let finish = finish::finish(plan, system, report);
    let colour_wish = wish::wish(plan, report);
    let ply_plans = ply_plan::ply_plans(plan, made.as_ref(), twist, system, report);
    let plies = made.as_ref().map(construction::Made::plies);
    let samples = sample::samples(log, plan, plies, system, report);
    let chosen = samples.iter().flatten().find(|sample| sample.chosen);
    let garments = garment::garments(plan, chosen, system, heading.terms, report);
    let trims = trim::trims(plan, &garments, &colours, report);
    let made_of = made.as_ref().map(construction::Made::bobbins);
    let weighings = trim::weighings(log, plan, &garments, report);
    let alternatives = alternative::alternatives(plan, report);
    let class = class::class(plan, system, report);
    let expects = expect::expects(plan, report);
    let supplies: Option<Vec<_>> = supplies.into_iter().collect();
    let spun = spun::spun(log, made_of, supplies.as_deref(), report);
    let torn = torn::torn(log, plan, supplies.as_deref(), report);
    let laid_out = supplies.zip(ply_plans).and_then(|(supplies, (ply_plans, singles, across))| {
        let (supplies, ply_plans) = cut::cut(supplies, ply_plans, &across, report)?;
        Some((supplies, ply_plans, singles))
    });
    if let Some((supplies, ply_plans, _)) = &laid_out {
        ply_plan::check_use(supplies, ply_plans, report);
        ply_plan::check_colours(supplies, ply_plans, &colours, report);
    }
    let fibres: Option<Vec<_>> = fibres.into_iter().collect();
    if let (Some(finish), Some(fibres)) = (&finish, &fibres) {
        finish::check_fulling(finish, fibres, report);
    }
    if let (Some(yarn), Some((_, ply_plans, singles))) = (&yarn, &laid_out) {
        construction::check_plies(plan, yarn, singles, ply_plans, report);
        construction::check_unlike(plan, yarn, singles, ply_plans, report);
    }
    let spun = spun?;
    let (supplies, ply_plans, singles) = laid_out?;
    let torn = torn.into_iter().collect::<Option<Vec<_>>>()?;
    let torn = torn::laid_out(torn, plan, &supplies, &ply_plans, report);
    Some(Plan {
        title: heading.title?,
        started: heading.started,
        units: system,
        paper: heading.paper,
        terms: heading.terms,
        sure_of_enough: heading.sure_of_enough?,
        reserve: heading.reserve?,
        scale: heading.scale,
        fibres: fibres?,
        colours,
        supplies,
        wheel: wheel?,
        plying: plying?,
        yarn: yarn?,
        finish: finish?,
        singles,
        ply_plans,
        colour_wish,
        garments: garments.into_iter().collect::<Option<_>>()?,
        trims: trims.into_iter().collect::<Option<_>>()?,
        alternatives: alternatives.into_iter().collect::<Option<_>>()?,
        class: HandedTo(class),
        expects: expects.into_iter().collect::<Option<_>>()?,
        samples: samples.into_iter().collect::<Option<_>>()?,
        torn,
        weighings: weighings.into_iter().collect::<Option<_>>()?,
        bobbins: spun.bobbins,
        skeins: spun.skeins,
        notes: spun.notes,
        assumed: Vec::new(),
    })
}

/// Notes a list that is longer than any plan needs; whether it is not.
fn too_many(n_entries: usize, most: usize, what: &str, place: &Place, report: &mut Report) -> bool {
    let is_fit = n_entries <= most;
    if !is_fit {
        let fault = Diagnostic::new(
            Code::Implausible,
            format!("expected at most {most} {what}, found {n_entries}"),
            place.clone(),
        );
        report.fault(fault.label("more than any plan needs").help("part the project into several plans"));
    }
    is_fit
}
