//! Which skein of the log goes to which piece, so that uneven skeins do least harm: like beside like at seams and in pairs, what is
//! off to bands. What is still to be plied counts as it is expected.

use super::{Cut, Made};
use crate::figures::allot::{self, Allotted, Place, Problem, Skein, Twos};
use crate::figures::chart;
use crate::figures::deal::{Deal, find_length_of_skein};
use crate::figures::even::{Evenness, PairedSet, Plying};
use crate::figures::ledger::{Book, How, Line};
use crate::plan::shape::Shape;
use crate::plan::{Garment, Plan};
use crate::units::{Kind, Length, Standing};

/// The skeins of a ply plan for the pieces of a garment that are worked from it.
#[derive(Debug, Clone)]
pub struct Allotment {
    /// Index into [`Plan::garments`].
    pub garment: usize,
    /// Index into [`Plan::ply_plans`].
    pub ply_plan: usize,
    /// The name below which its figures stand: `garment.pullover.skeins.body`.
    pub stage: String,
    /// Pieces in the order of working, each copy by itself.
    pub copies: Vec<OneCopy>,
    /// Numbers of the skeins, as the orders below count them.
    pub skeins: Vec<usize>,
    /// How long each is, in metres.
    pub lengths: Vec<f64>,
    /// Weight per length of each over the mean.
    offs: Vec<f64>,
    /// The skeins as they come.
    pub in_order: Allotted,
    /// As they are best worked one after the other; `None` where no step is seen as they come.
    pub sorted: Option<Allotted>,
    /// As they are worked two by two, row about; `None` where no step is seen in the best order, and where there are no two.
    pub twos: Option<Twos>,
}

/// A piece, one of its kind.
#[derive(Debug, Clone, PartialEq)]
pub struct OneCopy {
    /// Index into [`Made::pieces`].
    pub piece: usize,
    /// Which of its kind, from 1; `None` of an only one.
    pub copy: Option<usize>,
}

/// How the skeins are best worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Working {
    /// As they come: no step is seen.
    InOrder,
    /// In another order, one after the other.
    Sorted,
    /// Two by two, row about.
    Twos,
}

impl Allotment {
    /// The plainest way of working without a step that is seen, or else the way with the least.
    pub fn working(&self) -> Working {
        let sorted = self.sorted.as_ref().map_or(f64::INFINITY, |sorted| sorted.step);
        match (&self.sorted, &self.twos) {
            (None, _) => Working::InOrder,
            (Some(_), Some(twos)) if twos.allotted.step < sorted => Working::Twos,
            (Some(_), _) => Working::Sorted,
        }
    }

    /// The order that is worked; of [`Working::Twos`] it is one of twos.
    fn best(&self) -> &Allotted {
        match (self.working(), &self.sorted, &self.twos) {
            (Working::Twos, _, Some(twos)) => &twos.allotted,
            (Working::Sorted, Some(sorted), _) => sorted,
            _ => &self.in_order,
        }
    }

    /// The largest difference between two skeins that are worked in turn; nought where none are.
    fn between_rows(&self) -> f64 {
        let apart = |[a, b]: [usize; 2]| (self.offs[a] - self.offs[b]).abs();
        self.twos.iter().flat_map(Twos::pairs).map(apart).fold(0.0, f64::max)
    }

    /// What a copy takes of each skein, or two, in metres; a rest that is none is left away.
    fn taken(&self, copy: usize) -> impl Iterator<Item = (usize, f64)> + '_ {
        const NOTHING: f64 = 0.05;
        self.best().takes[copy].iter().copied().filter(|(_, metres)| *metres > NOTHING)
    }

    /// What each copy takes as it is best worked, in the order of working: sets of skeins by their numbers, two of such as are worked
    /// row about.
    pub fn takes(&self, copy: usize) -> Vec<Vec<usize>> {
        let number = |skein: &usize| self.skeins[*skein];
        let takes = self.taken(copy).map(|(skein, _)| skein);
        match &self.twos {
            Some(twos) if self.working() == Working::Twos => {
                takes.map(|set| twos.sets[set].iter().map(number).collect()).collect()
            }
            _ => takes.map(|skein| vec![number(&skein)]).collect(),
        }
    }
}

/// Allots the skeins of all garments, and counts what that gains. Garments of which no skein is measured have no allotment, and those
/// that the yarn does not reach.
pub fn allot(book: &mut Book, plan: &Plan, deal: &Deal, evenness: &Evenness, made: &[Made]) -> Vec<Allotment> {
    let mut found = Vec::new();
    for (index, (garment, made)) in plan.garments.iter().zip(made).enumerate() {
        for plying in &evenness.plyings {
            let Some(allotment) = (Allotting { book, plan, deal, plying, garment, made }).allotment(index) else {
                continue;
            };
            count(book, &allotment);
            found.push(allotment);
        }
    }
    found
}

struct Allotting<'a> {
    book: &'a Book,
    plan: &'a Plan,
    deal: &'a Deal,
    plying: &'a Plying,
    garment: &'a Garment,
    made: &'a Made,
}

impl Allotting<'_> {
    fn allotment(&self, index: usize) -> Option<Allotment> {
        let skeins = self.skeins();
        let is_measured = |(number, _): &(usize, Skein)| self.deal.logged.skein(*number).is_some();
        if skeins.len() < 2 || !skeins.iter().any(is_measured) {
            return None;
        }
        let copies = self.copies();
        let places: Vec<Place> = copies.iter().map(|copy| self.place(copy)).collect::<Option<_>>()?;
        let beside = self.beside(&copies);
        let (skeins, as_they_are): (Vec<usize>, Vec<Skein>) = skeins.into_iter().unzip();
        let problem = Problem { places: &places, skeins: &as_they_are, beside: &beside };
        let called = &self.plan.ply_plans[self.plying.ply_plan].name;
        let in_order = allot::in_order(&problem)?;
        let is_seen = |allotted: &Allotted| allotted.step > chart::GOOD_WITHIN;
        let sorted = if is_seen(&in_order) { allot::allot(&problem) } else { None };
        let twos = if sorted.as_ref().is_some_and(is_seen) { allot::twos(&problem) } else { None };
        Some(Allotment {
            garment: index,
            ply_plan: self.plying.ply_plan,
            stage: format!("garment.{}.skeins.{called}", self.garment.name),
            in_order,
            sorted,
            twos,
            lengths: as_they_are.iter().map(|skein| skein.length).collect(),
            offs: as_they_are.iter().map(|skein| skein.off).collect(),
            copies,
            skeins,
        })
    }

    /// Every copy of the pieces that are worked from this ply plan.
    fn copies(&self) -> Vec<OneCopy> {
        let own = |piece: &&(usize, &Cut)| piece.1.trim.is_none() && piece.1.taken == Some(self.plying.ply_plan);
        let pieces: Vec<(usize, &Cut)> = self.made.pieces.iter().enumerate().collect();
        let of = |(piece, cut): &(usize, &Cut)| {
            let (piece, count) = (*piece, cut.count);
            (1..=count).map(move |n| OneCopy { piece, copy: (count > 1).then_some(n) })
        };
        pieces.iter().filter(own).flat_map(of).collect()
    }

    fn place(&self, copy: &OneCopy) -> Option<Place> {
        let piece = &self.made.pieces[copy.piece];
        let yarn = self.book.find::<Length>(&format!("{}.taken", piece.stage))?;
        let is_other_stitch = piece.stitch != self.garment.known;
        Some(Place { need: yarn.value() / piece.count as f64, is_band: is_other_stitch || Shape::is_band(&piece.name) })
    }

    /// Which copies are seen side by side: pairs, and what is sewn or knitted together. Of a joined yoke body and sleeves meet there
    /// alone; of anything else all pieces may meet.
    fn beside(&self, copies: &[OneCopy]) -> Vec<(usize, usize)> {
        let name = |copy: &OneCopy| self.made.pieces[copy.piece].name.as_str();
        let has_yoke = copies.iter().any(|copy| name(copy) == "yoke");
        let meet = |a: &OneCopy, b: &OneCopy| a.piece == b.piece || !has_yoke || name(a) == "yoke" || name(b) == "yoke";
        let mut beside = Vec::new();
        for (i, a) in copies.iter().enumerate() {
            for (j, b) in copies.iter().enumerate().skip(i + 1) {
                if meet(a, b) {
                    beside.push((i, j));
                }
            }
        }
        beside
    }

    /// The skeins of the ply plan by their numbers; those that are not measured as long as planned, and as heavy for it as their
    /// singles and the other skeins have it.
    fn skeins(&self) -> Vec<(usize, Skein)> {
        let of_sets = self.plying.sets.iter().flat_map(|set| set.skeins.iter().map(move |number| (*number, set)));
        let mut all: Vec<(usize, &PairedSet)> = of_sets.collect();
        all.sort_by_key(|(number, _)| *number);
        let ratios: Vec<f64> =
            all.iter().filter_map(|(number, set)| Some(self.deal.logged.skein(*number)?.off / set.off)).collect();
        let usual = if ratios.is_empty() { 1.0 } else { ratios.iter().sum::<f64>() / ratios.len() as f64 };
        let off =
            |number: usize, set: &PairedSet| self.deal.logged.skein(number).map_or(set.off * usual, |skein| skein.off);
        let classes: Vec<Vec<usize>> = all.iter().map(|(_, set)| self.classes(set)).collect();
        let mut known: Vec<&Vec<usize>> = classes.iter().collect();
        known.sort_unstable();
        known.dedup();
        let class = |own: &Vec<usize>| known.iter().position(|other| *other == own).unwrap_or(0) as u32;
        let skeins = all.iter().zip(&classes).filter_map(|((number, set), own)| {
            let length = find_length_of_skein(self.book, *number)?.value();
            Some((*number, Skein { length, off: off(*number, set), class: class(own) }))
        });
        let mut skeins: Vec<(usize, Skein)> = skeins.collect();
        let length: f64 = skeins.iter().map(|(_, skein)| skein.length).sum();
        let mean = skeins.iter().map(|(_, skein)| skein.length * skein.off).sum::<f64>() / length;
        skeins.iter_mut().for_each(|(_, skein)| skein.off /= mean);
        skeins
    }

    /// What the bobbins of a set hold, by their classes: skeins of like sets may take each other's place.
    fn classes(&self, set: &PairedSet) -> Vec<usize> {
        let class = |number: &usize| self.deal.bobbins.get(number - 1).map(|bobbin| bobbin.class);
        let mut classes: Vec<usize> = set.bobbins.iter().filter_map(class).collect();
        classes.sort_unstable();
        classes
    }
}

fn count(book: &mut Book, allotment: &Allotment) {
    let of: Vec<String> = allotment.skeins.iter().map(|number| format!("logged.skein.{number}.off")).collect();
    let of: Vec<String> = of.into_iter().filter(|name| book.find::<crate::units::Share>(name).is_some()).collect();
    let mut steps = vec![("step-in-order", "as the skeins come", allotment.in_order.step)];
    if let Some(sorted) = &allotment.sorted {
        steps.push(("step", "in the best order", sorted.step));
        steps.push(("bound", "in any order, at least", sorted.bound));
    }
    if let Some(twos) = &allotment.twos {
        steps.push(("step-of-twos", "from two to two, row about", twos.allotted.step));
        steps.push(("between-rows", "from row to row of two in turn", allotment.between_rows()));
    }
    for (what, words, value) in steps {
        book.count(Line {
            name: format!("{}.{what}", allotment.stage),
            words: format!("largest step where fabric meets, {words}"),
            kind: Kind::Share,
            source: "by the skeins of the log, and what is expected of the others".to_owned(),
            how: How::Counted {
                words: "weight per length from skein to skein, and from piece to piece, over the mean".to_owned(),
                of: of.clone(),
            },
            ..Line::counted(value, Standing::Standard)
        });
    }
    for [a, b] in allotment.twos.iter().flat_map(Twos::pairs) {
        let over = (allotment.lengths[a] - allotment.lengths[b]).abs();
        let [a, b] = [a, b].map(|skein| allotment.skeins[skein]);
        count_length(
            book,
            format!("{}.over.{a}.{b}", allotment.stage),
            format!("left of skeins {a} and {b} in turn"),
            over,
        );
    }
    for copy in 0..allotment.copies.len() {
        for (turn, (_, metres)) in allotment.taken(copy).enumerate() {
            let name = format!("{}.{}.{}", allotment.stage, copy + 1, turn + 1);
            count_length(book, name, format!("yarn of turn {} for place {}", turn + 1, copy + 1), metres);
        }
    }
}

fn count_length(book: &mut Book, name: String, words: String, metres: f64) {
    book.count(Line {
        name,
        words,
        kind: Kind::Length,
        source: "skeins one after the other".to_owned(),
        how: How::Counted { words: "by what pieces take and skeins have".to_owned(), of: Vec::new() },
        ..Line::counted(metres, Standing::Standard)
    });
}
