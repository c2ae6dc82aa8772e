//! What another grist does to the size of a garment: an estimate, told as one.

use super::{Maker, usual};
use crate::figures::assumed;
use crate::figures::expression::dimension::reciprocal;
use crate::figures::expression::{Figure, Formula, rest, with};
use crate::figures::{garment, thickness};
use crate::plan::shape::Measure;
use crate::plan::{Fabric, Garment};
use crate::units::{Length, LinearDensity, Mass, Share, Standing, Stitches, Yield};

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
            let (what, words) = (format!("if-{called}"), format!("if the yarn is a tenth {called}"));
            self.size(("size-", &what), &words, (measure, &width), &wider);
            self.gauge(&format!("gauge-{what}"), &words, &wider);
            let weight: Figure<Mass> = (&aimed * (&yarn * (wider * &heavier))).by(&OTHERWISE);
            self.book.enter(
                self.name(&format!("weight-{what}")),
                self.noun(&format!("weight {words}, of the")),
                weight,
            );
        }
        let wider = garment::wider(&(&tex / &self.aim.washed), &power);
        let words = "as it is likely to be spun";
        self.size(("size-", "as-spun"), words, (measure, &width), &wider);
        self.gauge("gauge-as-spun", words, &wider);
        if self.garment.counts_rows && measures.contains(&Measure::Length) {
            let length = self.book.figure::<Length>(&self.name("measure.length"));
            let words = self.noun("length as it is likely to be spun, by its rows, of the");
            self.book.enter(self.name("length-as-spun"), words, (length * wider).by(&OTHERWISE));
        }
        self.skeins((measure, &width), &yarn, &power);
    }

    /// Enters what the garment would be if all of it were as each skein of the log is.
    fn skeins(&mut self, leading: (Measure, &Figure<Length>), yarn: &Figure<Length>, power: &Figure<Share>) {
        let mut numbers: Vec<usize> = self.plan.skeins.iter().map(|skein| skein.number).collect();
        numbers.sort_unstable();
        for number in numbers {
            let of = |what: &str| format!("logged.skein.{number}.{what}");
            let (tex, heavier) = (self.book.figure::<LinearDensity>(&of("tex")), self.book.figure::<Share>(&of("off")));
            let wider = garment::wider(&heavier, power);
            let (stage, words) = (format!("skein.{number}."), format!("if all of it is as skein {number}"));
            self.size((&stage, "size"), &words, leading, &wider);
            self.gauge(&format!("{stage}gauge"), &words, &wider);
            let weight: Figure<Mass> = (tex * (yarn * wider)).by(&OTHERWISE);
            self.book.enter(
                self.name(&format!("{stage}weight")),
                self.noun(&format!("weight {words}, of the")),
                weight,
            );
        }
    }

    fn size(
        &mut self,
        (stage, what): (&str, &str),
        words: &str,
        (measure, width): (Measure, &Figure<Length>),
        wider: &Figure<Share>,
    ) {
        let noun = self.noun(&format!("{} {words}, of the", measure.words()));
        self.book.enter(self.name(&format!("{stage}{what}")), noun, (width * wider).by(&OTHERWISE));
    }

    /// Enters the stitches to a width, where a gauge of the garment's own tells them.
    fn gauge(&mut self, what: &str, words: &str, wider: &Figure<Share>) {
        let Some(gauge) = self.garment.own_gauge() else { return };
        let stitches: Figure<Stitches> = self.book.reading(&gauge.stitches, "stitches");
        let noun = self.noun(&format!("gauge {words}, of the"));
        self.book.enter(self.name(what), noun, (stitches / wider).by(&OTHERWISE));
    }

    /// Enters the grists that are told of, once for all garments.
    fn grists(&mut self, tex: &Figure<LinearDensity>, tenth: &Figure<Share>) {
        if self.book.find::<Yield>("grist.finer").is_some() {
            return;
        }
        let grist: Figure<Yield> = reciprocal(tex);
        self.book.enter("grist.finer", "grist a tenth finer", (&grist * with(tenth)).by(&OTHER));
        self.book.enter("grist.heavier", "grist a tenth heavier", (grist * rest(tenth)).by(&OTHER));
        let spun = self.book.figure::<LinearDensity>("yarn.tex");
        self.book.enter("grist.as-spun", "grist as it will be spun", thickness::yield_of(&spun));
    }
}
