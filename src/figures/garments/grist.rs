//! What another grist does to the size of a garment: an estimate, told as one.

use super::{Maker, usual};
use crate::figures::assumed;
use crate::figures::expression::dimension::reciprocal;
use crate::figures::expression::{Figure, Formula, rest, with};
use crate::figures::garment;
use crate::plan::shape::Measure;
use crate::plan::{Fabric, Garment};
use crate::units::{Length, LinearDensity, Mass, Share, Standing, Yield};

static OTHERWISE: Formula =
    Formula { source: "the same stitches, as wide as another grist makes them", standing: Standing::OurChoice };
static OTHER: Formula = Formula { source: "a tenth more or less", standing: Standing::Standard };
static WEIGHT: Formula = Formula { source: "length times linear density", standing: Standing::Standard };

/// The measure by which the size of a garment is called; `None` of one without a shape.
pub fn leading(garment: &Garment) -> Option<Measure> {
    let Fabric::Shaped(shaped) = &garment.fabric else { return None };
    let by = [Measure::Chest, Measure::Around, Measure::Span, Measure::Width];
    by.into_iter().find(|measure| shaped.shape.measures().contains(measure))
}

impl Maker<'_> {
    /// Enters the garment's weight, and what becomes of its size and weight where the yarn is a tenth finer or heavier than it is
    /// aimed at, and as it is likely to be spun. Stitches are kept; rows too, where the pattern counts them.
    pub(super) fn grist(&mut self, measures: &[Measure]) {
        let tex = self.book.figure::<LinearDensity>("yarn.tex");
        let yarn = self.book.figure::<Length>(&self.name("yarn"));
        let weight: Figure<Mass> = (&tex * &yarn).by(&WEIGHT);
        self.book.enter(self.name("weight"), self.noun("weight of the"), weight);
        let Some(measure) = leading(self.garment).filter(|measure| measures.contains(measure)) else { return };
        let width = self.book.figure::<Length>(&self.name(&format!("measure.{}", measure.key())));
        let power: Figure<Share> = self.book.assume(&assumed::GAUGE_POWER);
        let tenth: Figure<Share> = self.book.assume(&usual::TENTH);
        let one = crate::figures::expression::dimension::one::<Share>;
        let aimed = self.aim.washed.clone();
        self.grists(&aimed, &tenth);
        // Length for weight goes up by a tenth, or down by one.
        for (called, heavier) in [("finer", one() / with(&tenth)), ("heavier", one() / rest(&tenth))] {
            let wider = garment::wider(&heavier, &power);
            let words = self.noun(&format!("{} if the yarn is a tenth {called}, of the", measure.words()));
            self.book.enter(self.name(&format!("size-if-{called}")), words, (&width * &wider).by(&OTHERWISE));
            let words = self.noun(&format!("weight if the yarn is a tenth {called}, of the"));
            let weight: Figure<Mass> = (&aimed * (&yarn * (wider * &heavier))).by(&OTHERWISE);
            self.book.enter(self.name(&format!("weight-if-{called}")), words, weight);
        }
        let heavier: Figure<Share> = &tex / &self.aim.washed;
        let wider = garment::wider(&heavier, &power);
        let words = self.noun(&format!("{} as it is likely to be spun, of the", measure.words()));
        self.book.enter(self.name("size-as-spun"), words, (width * &wider).by(&OTHERWISE));
        if self.garment.counts_rows && measures.contains(&Measure::Length) {
            let length = self.book.figure::<Length>(&self.name("measure.length"));
            let words = self.noun("length as it is likely to be spun, by its rows, of the");
            self.book.enter(self.name("length-as-spun"), words, (length * wider).by(&OTHERWISE));
        }
    }

    /// Enters the grists that are told of, once for all garments.
    fn grists(&mut self, tex: &Figure<LinearDensity>, tenth: &Figure<Share>) {
        if self.book.find::<Yield>("grist.finer").is_some() {
            return;
        }
        let grist: Figure<Yield> = reciprocal(tex);
        self.book.enter("grist.finer", "grist a tenth finer", (&grist * with(tenth)).by(&OTHER));
        self.book.enter("grist.heavier", "grist a tenth heavier", (grist * rest(tenth)).by(&OTHER));
    }
}
