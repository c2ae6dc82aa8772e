//! Cloth: from its finished size to ends, warp and weft.

use super::Maker;
use crate::figures::expression::{Figure, Formula, rest};
use crate::figures::garment;
use crate::plan::{Loom, UsedAs};
use crate::units::format::decimals;
use crate::units::{Count, Ends, LinearDensity, Mass, Picks, Share, Standing, Wraps};

static THREADS: Formula = Formula { source: "threads to a length, times the length", standing: Standing::Standard };
static CLOSER: Formula =
    Formula { source: "the same threads in what is left of their length", standing: Standing::Standard };
static WEIGHT: Formula = Formula { source: "length times linear density", standing: Standing::Standard };
static USED: Formula = Formula { source: "warp and weft, as the yarn is used for them", standing: Standing::Standard };

impl Maker<'_> {
    /// Enters a cloth and its yarn.
    pub(super) fn woven(&mut self, loom: &Loom) {
        let garment = self.garment;
        let of = |what: &str| format!("{what} of the {}", garment.name);
        let width = self.book.reading(&loom.width, &of("finished width"));
        let length = self.book.reading(&loom.length, &of("finished length"));
        let shrinks: Figure<Share> = self.book.reading(&loom.length_shrinks, "how much shorter it is finished");
        let narrows: Figure<Share> = self.book.reading(&loom.width_shrinks, "how much narrower it is finished");
        let draw_in: Figure<Share> = self.book.reading(&loom.draw_in, "draw-in");
        let woven = garment::on_the_loom(&length, &shrinks);
        let woven = self.book.enter(self.name("woven-length"), of("length on the loom"), woven);
        let on_loom = garment::on_the_loom(&width, &narrows);
        let on_loom = self.book.enter(self.name("woven-width"), of("width on the loom"), on_loom);
        let reed = garment::on_the_loom(&on_loom, &draw_in);
        let reed = self.book.enter(self.name("reed-width"), of("width in the reed"), reed);
        let sett = self.sett(loom);
        let reckoned: Figure<Count> = (&sett * &reed).by(&THREADS);
        let (of_repeat, plus) = garment.repeat.as_ref().map_or((1.0, 0.0), |(of, plus)| (of.value, plus.value));
        let whole = ((reckoned.value() - plus) / of_repeat).round().max(1.0) * of_repeat + plus;
        self.book.enter(self.name("ends-reckoned"), of("ends reckoned"), reckoned);
        let ends: Figure<Count> = self.book.choose(
            &self.name("ends"),
            &of("ends"),
            whole,
            decimals(whole, 0),
            "sett times the width in the reed, to the nearest end or repeat",
        );
        let ends = self.book.enter(self.name("ends"), of("ends"), ends.by(&THREADS));
        let finished: Figure<Ends> = (&sett / rest(&draw_in) / rest(&narrows)).by(&CLOSER);
        self.book.enter(self.name("ends-finished"), of("ends in the finished width"), finished);
        let take_up = self.book.reading(&loom.take_up, "take-up of the warp");
        let waste = self.book.reading(&loom.waste, "warp left on the loom");
        let count = self.book.reading(&loom.count, "cloths on one warp");
        let fringe = loom.fringe.as_ref().filter(|fringe| fringe.value > 0.0);
        let fringe = fringe.map(|fringe| self.book.reading(fringe, "warp for a fringe"));
        let warp_length = garment::warp_length(&woven, &take_up, fringe.as_ref(), &count, &waste);
        let warp_length = self.book.enter(self.name("warp-length"), of("length of the warp"), warp_length);
        let wasted =
            self.book.enter(self.name("wasted.yarn"), of("warp that is cut off"), garment::warp(&ends, &waste));
        let warp = self.book.enter(self.name("warp.yarn"), of("warp"), garment::warp(&ends, &warp_length));
        let picks = self.picks(loom, &sett);
        let in_all: Figure<Count> = (&picks * &woven).by(&THREADS);
        let finished: Figure<Picks> = (&picks / rest(&shrinks)).by(&CLOSER);
        self.book.enter(self.name("picks-in-all"), of("picks"), in_all);
        self.book.enter(self.name("picks-finished"), of("picks in the finished length"), finished);
        let weft_take_up = self.book.reading(&loom.weft_take_up, "take-up of the weft");
        let weft = garment::weft(&reed, &weft_take_up, &picks, &woven, &count);
        let weft = self.book.enter(self.name("weft.yarn"), of("weft"), weft);
        let tex = self.book.figure::<LinearDensity>("yarn.tex");
        for (thread, yarn) in [("warp", &warp), ("weft", &weft), ("wasted", &wasted)] {
            let weight: Figure<Mass> = (&tex * yarn).by(&WEIGHT);
            self.book.enter(
                self.name(&format!("{thread}.weight")),
                of(&format!("weight of the {thread} yarn")),
                weight,
            );
        }
        let yarn = match garment.used_as.expect("invariant: a cloth has what its yarn is used as") {
            UsedAs::Warp => warp,
            UsedAs::Weft => weft,
            UsedAs::Both => warp + weft,
        };
        self.book.enter(self.name("yarn"), self.noun("yarn of the"), yarn.by(&USED));
    }

    fn sett(&mut self, loom: &Loom) -> Figure<Ends> {
        match &loom.sett {
            Some(sett) => self.book.reading(sett, "sett"),
            None => {
                let wraps = self.book.figure::<Wraps>("washed.wraps");
                let share = self.book.reading(&loom.ends_to_a_wrap, "ends over wraps");
                let words = format!("sett of the {}", self.garment.name);
                self.book.enter(self.name("sett"), words, garment::sett(&wraps, &share))
            }
        }
    }

    fn picks(&mut self, loom: &Loom, sett: &Figure<Ends>) -> Figure<Picks> {
        match &loom.picks {
            Some(picks) => self.book.reading(picks, "picks"),
            None => {
                let words = format!("picks of the {}", self.garment.name);
                self.book.enter(self.name("picks"), words, garment::balanced(sett))
            }
        }
    }
}
