//! `[class]`: who is in it, what is practised, and whether the plan has the figures for that.

use super::report::Report;
use super::{defaults, limits, names, reading, too_many};
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{Class, Exercise, Student};
use crate::syntax::raw;
use crate::units::System;

/// The class; `None` if there is none. Its faults are noted.
pub(super) fn class(plan: &raw::Plan, system: System, report: &mut Report) -> Option<Class> {
    let raw = plan.class.as_ref()?;
    let place = Place::plan("class");
    let units = units_of(raw.units, system);
    let students = students(raw, units, &place, report);
    let exercises = exercises(raw, system, &place, report);
    for (exercise, place) in &exercises {
        if let Some(fault) = lacking(*exercise, plan, place) {
            report.fault(fault);
        }
    }
    let mut exercises: Vec<Exercise> = exercises.into_iter().map(|(exercise, _)| exercise).collect();
    exercises.sort_unstable();
    exercises.dedup();
    Some(Class { students: students?, exercises, units })
}

fn units_of(written: Option<raw::Units>, or: System) -> System {
    match written {
        Some(raw::Units::Metric) => System::Metric,
        Some(raw::Units::Imperial) => System::Inch,
        None => or,
    }
}

/// Students by name, or as many as are counted.
fn students(raw: &raw::Class, units: System, place: &Place, report: &mut Report) -> Option<Vec<Student>> {
    let (counted_at, named_at) = (place.key("students"), place.key("student"));
    let most = limits::MOST_STUDENTS;
    let counted = raw
        .students
        .map(|counted| reading::whole(counted, &counted_at, "a number of students", 1..=most as i64, report));
    if raw.student.is_empty() {
        if counted.is_none() {
            report.missing("a class has no students", counted_at, "write `students = 8`");
        }
        let unnamed = Student { name: None, units };
        return Some(vec![unnamed; counted?? as usize]);
    }
    if let Some(Some(counted)) = counted
        && counted as usize != raw.student.len()
    {
        let message = format!("expected {counted} students, found {} by name", raw.student.len());
        let fault = Diagnostic::new(Code::Contradiction, message, counted_at).label("another number of them");
        report
            .fault(fault.also(named_at.index(0), "listed from here on").help("leave `students` out: the list says it"));
    }
    if !too_many(raw.student.len(), most, "students", &named_at.index(most), report) {
        return None;
    }
    let placed = raw.student.iter().enumerate();
    let named = placed.filter_map(|(i, raw)| Some((raw.name.as_deref()?.trim(), named_at.index(i).key("name"))));
    names::check_unique(named, "student", report);
    let one = |(i, raw): (usize, &raw::Student)| Student {
        name: names::text(raw.name.as_deref(), &named_at.index(i).key("name"), report).filter(|name| !name.is_empty()),
        units: units_of(raw.units, units),
    };
    Some(raw.student.iter().enumerate().map(one).collect())
}

/// The exercises with their places, in order of writing.
fn exercises(raw: &raw::Class, system: System, place: &Place, report: &mut Report) -> Vec<(Exercise, Place)> {
    let place = place.key("exercises");
    let Some(written) = &raw.exercises else {
        report.assume(&defaults::EXERCISES, place.clone(), system);
        let usual = defaults::EXERCISES.text.split(", ").filter_map(Exercise::find);
        return usual.map(|exercise| (exercise, place.clone())).collect();
    };
    if written.is_empty() && !report.was_refused(&place) {
        report.missing("a class practises nothing", place.clone(), "write `exercises = [\"ratio\", \"grist\"]`");
    }
    let placed = written.iter().enumerate().map(|(i, raw::Exercise(key))| (key.as_str(), place.index(i)));
    for (i, (key, place)) in placed.clone().enumerate() {
        if let Some((_, before)) = placed.clone().take(i).find(|(other, _)| *other == key) {
            let message = format!("expected each exercise once, found {key:?} twice");
            let fault = Diagnostic::new(Code::DuplicateName, message, place).label("practised again");
            report.fault(fault.also(before, "practised here").help("take one of the two out"));
        }
    }
    placed.filter_map(|(key, place)| Some((Exercise::find(key)?, place))).collect()
}

/// What the plan has to say before an exercise can be set of its numbers, and does not.
fn lacking(exercise: Exercise, plan: &raw::Plan, place: &Place) -> Option<Diagnostic> {
    let has_ratio = plan.wheel.as_ref().is_some_and(|wheel| !wheel.whorls.is_empty());
    let has_staple = plan.fibre.values().any(|fibre| fibre.staple.is_some());
    let has_sections = plan.braid.values().any(|braid| braid.sections.as_ref().is_some_and(|some| some.len() > 1));
    let has_gauge = plan.garment.values().any(|garment| garment.gauge.is_some());
    let (is_there, what, help) = match exercise {
        Exercise::Treadling | Exercise::Ratio | Exercise::Treadles => {
            (has_ratio, "the ratio of a whorl", "[wheel]\nwhorls = { slow = \"6:1\" }".to_owned())
        }
        Exercise::Staple => {
            let fibre = plan.fibre.keys().next().map_or("wool", String::as_str);
            (has_staple, "the staple of a fibre", format!("[fibre.{fibre}]\nstaple = \"9 cm\""))
        }
        Exercise::Stripes | Exercise::Overlay => (
            has_sections,
            "a braid in several colours",
            "[colours]\nsand = \"\"\nsea = \"\"\n\n[braid.shore]\nweights = [\"100 g\"]\nsections = [[\"sand\", \"60 cm\"], [\"sea\", \"60 cm\"]]".to_owned(),
        ),
        Exercise::Amounts => {
            (!plan.garment.is_empty(), "a garment", "[garment.shawl]\ncraft = \"knit\"\nlength = \"250 m\"".to_owned())
        }
        Exercise::Swatch | Exercise::Fit => {
            let garment = plan.garment.keys().next().map_or("pullover", String::as_str);
            (has_gauge, "the gauge of a garment", format!("[garment.{garment}]\ngauge = \"19 st, 26 rows / 10 cm\""))
        }
        _ => return None,
    };
    if is_there {
        return None;
    }
    let message = format!("the exercise {:?} practises on {what}, and the plan has none", exercise.key());
    let fault = Diagnostic::new(Code::ExerciseLacks, message, place.clone()).label("no figures to practise on");
    Some(fault.help(format!("leave it out, or write what it takes:\n{help}")))
}
