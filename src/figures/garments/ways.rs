//! Ways to the length of yarn, best first: a measured swatch, a gauge and its loops, a stated length, the grist alone.
//!
//! Each way that goes by the fabric gives the yarn in an area of it; the rest is the same for all.

use super::{Maker, usual};
use crate::figures::assumed;
use crate::figures::expression::Figure;
use crate::figures::garment;
use crate::plan::stitch::STOCKING;
use crate::plan::{Craft, Gauge, Stitch, Swatch, SwatchYarn};
use crate::units::{Area, LinearDensity, Rows, RowsToAStitch, Share, Stitches, YarnPerArea};

/// A way to the length of yarn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// By a measured swatch.
    Swatch,
    /// By the gauge, and the length of yarn in a stitch.
    Gauge,
    /// As the pattern says.
    Stated,
    /// By the grist alone.
    Grist,
}

impl Way {
    /// The name of its figure, below the garment's.
    pub fn figure(self) -> &'static str {
        match self {
            Self::Swatch => "yarn-by-swatch",
            Self::Gauge => "yarn-by-gauge",
            Self::Stated => "yarn-stated",
            Self::Grist => "yarn-by-grist",
        }
    }

    /// How it goes, as the end of "yarn of the pullover ...".
    fn words(self) -> &'static str {
        match self {
            Self::Swatch => "by the swatch",
            Self::Gauge => "by the gauge",
            Self::Stated => "as stated",
            Self::Grist => "by the grist alone",
        }
    }
}

impl Maker<'_> {
    /// The ways that are open, the best first. The yarn per area of the best is entered as the garment's own; what the others would
    /// say is entered beside it.
    pub(super) fn ways(&mut self, cover: Option<&Figure<Area>>) -> Vec<Way> {
        let mut ways: Vec<(Way, Option<Figure<YarnPerArea>>)> = Vec::new();
        if cover.is_some() {
            let swatch = self.garment.swatch.as_ref().map(|swatch| (Way::Swatch, Some(self.by_swatch(swatch))));
            ways.extend(swatch);
            let gauge = self.garment.gauge.clone();
            ways.extend(gauge.and_then(|(gauge, stitch)| Some((Way::Gauge, Some(self.by_gauge(&gauge, stitch?)?)))));
        }
        ways.extend(self.garment.stated.as_ref().map(|_| (Way::Stated, None)));
        if let (Some(_), Some(_)) = (cover, self.garment.known) {
            let by_grist = self.by_grist();
            ways.push((Way::Grist, Some(by_grist)));
        }
        for (i, (way, per_area)) in ways.iter().enumerate() {
            let (name, words) = (self.name("per-area"), self.noun("yarn per area of the"));
            match (i, per_area, cover) {
                (0, Some(per_area), _) => {
                    self.book.enter(name, words, per_area.clone());
                }
                (0, None, _) => {}
                (_, Some(per_area), Some(cover)) => {
                    let yarn = self.with_fringe(per_area * cover);
                    self.enter_other(*way, yarn);
                }
                _ => {
                    let stated = self.garment.stated.as_ref().expect("invariant: this way is open");
                    let yarn = self.book.reading(stated, "length stated").by(&super::STATED);
                    self.enter_other(*way, yarn);
                }
            }
        }
        ways.into_iter().map(|(way, _)| way).collect()
    }

    fn enter_other(&mut self, way: Way, yarn: Figure<crate::units::Length>) {
        let words = format!("{} {}", self.noun("yarn of the"), way.words());
        let name = self.name(way.figure());
        self.book.enter(name, words, yarn);
    }

    fn by_swatch(&mut self, swatch: &Swatch) -> Figure<YarnPerArea> {
        let size = self.book.reading(&swatch.size, "area of the swatch");
        let per_area = match &swatch.yarn {
            SwatchYarn::Weight(weight) => {
                let weight = self.book.reading(weight, "weight of the swatch");
                // A swatch of a measured sample has its grist; any other is of a yarn that misses its target as all of it does.
                let is_measured =
                    self.plan.chosen().is_some_and(|sample| sample.loops.is_some() && sample.weight.is_some());
                let tex = self.book.figure::<LinearDensity>("yarn.tex");
                garment::per_area_by_weight(&weight, &size, if is_measured { &self.aim.washed } else { &tex })
            }
            SwatchYarn::Length(length) => {
                let length = self.book.reading(length, "yarn in the swatch");
                garment::per_area_by_length(&length, &size)
            }
        };
        self.in_own_stitch(per_area, swatch.stitch)
    }

    /// The same in the stitch of the garment, where it was measured in another.
    fn in_own_stitch(
        &mut self,
        per_area: Figure<YarnPerArea>,
        measured: Option<&'static Stitch>,
    ) -> Figure<YarnPerArea> {
        let (Some(measured), Some(own)) = (measured, self.garment.known) else { return per_area };
        if measured == own {
            return per_area;
        }
        let known = self.times(measured);
        let times = self.times(own).unwrap_or_else(crate::figures::expression::dimension::one::<Share>);
        garment::in_another_stitch(&per_area, &times, known.as_ref())
    }

    /// By a gauge in some stitch: the garment's own, or stocking stitch. `None` of crochet whose length of a stitch is not known.
    fn by_gauge(&mut self, gauge: &Gauge, stitch: &'static Stitch) -> Option<Figure<YarnPerArea>> {
        let stitches: Figure<Stitches> = self.book.reading(&gauge.stitches, "stitches");
        let rows: Figure<Rows> = self.book.reading(&gauge.rows, "rows");
        let per_area = if stitch.craft == Craft::Crochet {
            let called = stitch.called(self.plan.terms);
            let widths = stitch.yarn_in_one?;
            let yarn_in_one = self.book.likely::<Share>(
                &format!("yarn-in-one.{}", stitch.key),
                &format!("yarn in one {called}, in widths of it"),
                (widths, 0.15 * widths),
                format!("{} ± 30 %", crate::units::format::significant(widths, 3)),
                crate::figures::ledger::Said::Default(stitch.standing, stitch.source),
            );
            garment::crocheted_per_area(&yarn_in_one, &stitches, &rows)
        } else {
            let loops = self.loops_of(stitch);
            let knitter = self.book.assume::<Share>(&assumed::KNITTER);
            garment::yarn_per_area(&loops, &stitches, &rows, &knitter)
        };
        Some(self.in_own_stitch(per_area, Some(stitch)))
    }

    /// The loop constant in the gauge of a knitted stitch: that of stocking stitch times what the stitch takes of yarn.
    fn loops_of(&mut self, stitch: &'static Stitch) -> Figure<Share> {
        match stitch.key {
            "garter" => self.book.assume(&assumed::LOOP_GARTER),
            _ => {
                let loops = self.book.assume::<Share>(&assumed::LOOP_STOCKING);
                match self.times(stitch) {
                    Some(times) => loops * times,
                    None => loops,
                }
            }
        }
    }

    fn by_grist(&mut self) -> Figure<YarnPerArea> {
        let tex = self.book.figure::<LinearDensity>("yarn.tex");
        let (stitches, rows) = self.gauge_by_grist(&tex);
        let loops = self.book.assume::<Share>(&assumed::LOOP_STOCKING);
        let knitter = self.book.assume::<Share>(&assumed::KNITTER);
        let plain = garment::yarn_per_area(&loops, &stitches, &rows, &knitter);
        self.in_own_stitch(plain, Some(&STOCKING))
    }

    /// The gauge of stocking stitch to be expected of the yarn, entered once for all garments.
    fn gauge_by_grist(&mut self, tex: &Figure<LinearDensity>) -> (Figure<Stitches>, Figure<Rows>) {
        if let (Some(stitches), Some(rows)) = (self.book.find("gauge.stitches"), self.book.find("gauge.rows")) {
            return (stitches, rows);
        }
        let firmness = self.book.assume(&usual::FIRMNESS);
        let stitches = garment::stitches_by_grist(&firmness, tex);
        let stitches = self.book.enter("gauge.stitches", "stitches of stocking stitch to be expected", stitches);
        let to_a_stitch: Figure<RowsToAStitch> = self.book.assume(&usual::ROWS_TO_A_STITCH);
        let rows = garment::rows_by_stitches(&stitches, &to_a_stitch);
        (stitches, self.book.enter("gauge.rows", "rows of stocking stitch to be expected", rows))
    }
}
