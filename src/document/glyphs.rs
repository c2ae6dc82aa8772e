//! Characters that no shipped font has: found before anything is typeset, at the entries that hold them.

use super::world::covers;
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::Plan;

/// A fault for each text of the plan or log that could not be printed.
pub fn unprintable(plan: &Plan) -> Vec<Diagnostic> {
    let values = texts(plan).into_iter().filter_map(|(place, text)| fault(place, &text));
    let keys = keys(plan).into_iter().filter_map(|(place, name)| fault(place, &name)).map(Diagnostic::at_key);
    values.chain(keys).collect()
}

fn fault(place: Place, text: &str) -> Option<Diagnostic> {
    let missing = text.chars().find(|c| !covers(*c))?;
    let message =
        format!("expected letters that the sheets can print, found \"{missing}\" (U+{:04X})", u32::from(missing));
    Some(
        Diagnostic::new(Code::NoGlyph, message, place)
            .label("no shipped font has this character")
            .note("the sheets are set in a face with Latin, Greek and Cyrillic letters")
            .help("write it in those letters; comments in the plan may be in any script"),
    )
}

/// Every text of the plan and log that is printed as it is, with its place.
fn texts(plan: &Plan) -> Vec<(Place, String)> {
    let mut found = vec![(Place::plan("plan.title"), plan.title.clone())];
    let mut add = |place: Place, text: Option<&String>| found.extend(text.map(|text| (place, text.clone())));
    for fibre in &plan.fibres {
        add(Place::plan("fibre").key(&fibre.name), Some(&fibre.name));
    }
    for supply in &plan.supplies {
        add(supply.place.clone(), Some(&supply.name));
        add(supply.place.key("dye-lot"), supply.dye_lot.as_ref());
        add(supply.place.key("price"), supply.price.as_ref());
    }
    for (table, machine) in [("wheel", Some(&plan.wheel.machine)), ("plying", plan.plying.machine.as_ref())] {
        add(Place::plan(table).key("brake"), machine.and_then(|machine| machine.brake.as_ref()));
    }
    if let Some(matched) = &plan.yarn.matched {
        add(matched.place.key("name"), matched.name.as_ref());
    }
    for ply_plan in &plan.ply_plans {
        add(ply_plan.place.key("name"), Some(&ply_plan.name));
    }
    for garment in &plan.garments {
        add(garment.place.clone(), Some(&garment.name));
        for piece in &garment.pieces {
            add(piece.place.clone(), Some(&piece.name));
        }
        add(garment.place.key("stitch"), garment.stitch.as_ref());
        add(garment.place.key("needle"), garment.tool.as_ref());
    }
    for (i, student) in plan.class.0.iter().flat_map(|class| class.students.iter().enumerate()) {
        add(Place::plan("class.student").index(i).key("name"), student.name.as_ref());
    }
    for sample in &plan.samples {
        add(sample.place.key("name"), Some(&sample.name));
        add(sample.place.key("swatch").key("needle"), sample.needle.as_ref());
        add(sample.place.key("swatch").key("feel"), sample.feel.as_ref());
    }
    for trim in &plan.trims {
        add(trim.place.key("yarn"), trim.yarn.as_ref().map(|yarn| &yarn.name));
    }
    for alternative in &plan.alternatives {
        add(alternative.place.key("name"), Some(&alternative.name));
    }
    for (i, note) in plan.notes.iter().enumerate() {
        add(Place::log("note").index(i).key("text"), Some(&note.text));
    }
    found
}

/// Every name that is printed and stands as a key, with its place.
fn keys(plan: &Plan) -> Vec<(Place, String)> {
    let colours = plan.colours.iter().map(|colour| (Place::plan("colours").key(&colour.name), colour.name.clone()));
    let machines = [Some(&plan.wheel.machine), plan.plying.machine.as_ref()];
    let whorls = machines.into_iter().flatten().flat_map(|machine| machine.whorls());
    colours.chain(whorls.map(|whorl| (whorl.ratio.place.clone(), whorl.name.clone()))).collect()
}
