//! The yarns that a class spins: the plan's own, a thicker and a thinner one of the same loft.

use crate::figures::expression::{Figure, Formula};
use crate::figures::ledger::{Assumption, Book};
use crate::figures::{assumed, gates, thickness};
use crate::plan::Plan;
use crate::units::{Loft, Share, Standing, Wraps};

static APART: Formula = Formula { source: "wraps by how much thicker or thinner", standing: Standing::Standard };

/// Enters wraps, limits of them and grist of the two yarns beside the plan's own, where there is a class.
pub(crate) fn targets(book: &mut Book, plan: &Plan) {
    if plan.class.0.is_none() {
        return;
    }
    let yarns: [(&str, &'static Assumption); 2] = [("thick", &assumed::LESSON_THICK), ("thin", &assumed::LESSON_THIN)];
    for (name, by) in yarns {
        let (stage, noun) = (format!("lesson.{name}"), format!("{name} yarn of the lesson"));
        let times: Figure<Share> = book.assume(by);
        let own: Figure<Wraps> = book.figure("washed.wraps");
        let wraps = book.enter(format!("{stage}.wraps"), format!("wraps of the {noun}"), (own * times).by(&APART));
        gates::wraps_gate(book, plan, &stage, &noun, &wraps);
        let loft: Figure<Loft> = book.figure("washed.loft");
        let yarn = thickness::yarn_yield(&wraps, &loft);
        book.enter(format!("{stage}.grist"), format!("grist of the {noun}"), yarn);
    }
}
