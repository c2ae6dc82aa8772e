//! Measures of the body: as said, else from tables by the chest.

use super::Maker;
use crate::figures::expression::{Figure, Formula};
use crate::figures::ledger::Said;
use crate::plan::Shaped;
use crate::plan::body::{BodyMeasure, estimate};
use crate::units::format::decimals;
use crate::units::{Length, Share, Standing};

static SURVEYED: Formula = Formula { source: "by the chest, as surveyed bodies go", standing: Standing::Published };
static TABLED: Formula = Formula { source: "by the chest, as tables of sizes go", standing: Standing::FromMemory };
static EXTENDED: Formula = Formula { source: "by the chest, beyond tables and surveys", standing: Standing::OurChoice };
static SAID: Formula = Formula { source: "as measured", standing: Standing::Standard };

impl Maker<'_> {
    /// A measure of the body, entered where it is told by the chest.
    pub(super) fn body(&mut self, shaped: &Shaped, measure: BodyMeasure) -> Figure<Length> {
        let name = self.name(&format!("body.{}", measure.key()));
        if let Some(entered) = self.book.find(&name) {
            return entered;
        }
        let words = format!("{} of whom the {} is for", measure.words(), self.garment.name);
        let figure = match shaped.of_body(measure) {
            Some(said) => self.book.reading(said, measure.words()).by(&SAID),
            None => self.by_chest(shaped, measure),
        };
        self.book.enter(name, words, figure)
    }

    fn by_chest(&mut self, shaped: &Shaped, measure: BodyMeasure) -> Figure<Length> {
        let chest =
            shaped.of_body(BodyMeasure::Chest).expect("invariant: the check asks for a chest where tables are used");
        let whom = shaped.whom.expect("invariant: the check asks whose tables are used");
        let found = estimate(whom, measure, chest.value).expect("invariant: the check found it in a table");
        let formula = match found.standing {
            Standing::Published => &SURVEYED,
            Standing::FromMemory => &TABLED,
            Standing::Standard | Standing::CommonPractice | Standing::OurChoice => &EXTENDED,
        };
        // Two garments for one body share what is not known of it.
        let place = format!("body.{whom:?}.{}.{}", decimals(chest.value * 1000.0, 0), measure.key());
        let centimetres = |metres: f64| decimals(metres * 100.0, 1);
        let usual = self.book.likely::<Length>(
            &place,
            &format!("usual {}", measure.words()),
            (found.at(chest.value), found.sd),
            format!("{} ± {} cm", centimetres(found.at(chest.value)), centimetres(2.0 * found.sd)),
            Said::Default(found.standing, found.source),
        );
        if found.per_chest == 0.0 || chest.uncertainty == 0.0 {
            return usual.by(formula);
        }
        let slope: Figure<Share> = self.book.fact(
            &format!("{place}.by-chest"),
            &format!("{} by the chest", measure.words()),
            found.per_chest,
            decimals(found.per_chest, 4),
            found.standing,
            found.source,
        );
        let chest_words = "chest of whom it is for";
        let nominal: Figure<Length> = self.book.fact(
            &format!("{place}.at"),
            "chest at which that is usual",
            chest.value,
            format!("{} cm", centimetres(chest.value)),
            found.standing,
            found.source,
        );
        let chest = self.book.reading(chest, chest_words);
        (usual + slope * (chest - nominal)).by(formula)
    }
}
