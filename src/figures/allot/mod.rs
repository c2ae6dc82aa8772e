//! Which skeins go to which pieces of a garment, so that uneven skeins do least harm.
//!
//! Skeins are worked one after the other, and each piece begins where the one before it ended: an allotment is an order
//! of the skeins. Where skeins meet within a piece, and where two pieces are seen together, a step in weight shows.
//! [`allot`] finds the order whose largest step is least; [`in_order`] takes skeins as they come, to compare with;
//! [`twos`] works them two by two.
//!
//! Lengths are whole numbers of micrometres, and weights whole billionths of the mean. Sums of floating-point numbers
//! depend on their order, so that orders which are equally good would differ in the last bit and ties would be decided
//! by that bit.

mod exchange;
mod search;
mod twos;

use exchange::Exchange;
use search::Search;
pub use twos::{EXACT_TWOS, Twos, twos};

/// A piece to be worked. Each copy is a place by itself: two sleeves are two places.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// How much yarn it takes in metres, 0 to [`MOST_METRES`]. A place that takes none is passed over.
    pub need: f64,
    /// Whether it is a hem, cuff, collar or band: in another stitch, where a step does not show.
    pub is_band: bool,
}

/// A skein of yarn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Skein {
    /// Its length in metres, 0 to [`MOST_METRES`]; taken to the nearest micrometre.
    pub length: f64,
    /// Weight per length over the mean of all skeins, 0 to [`MOST_OFF`]: 1 is the mean. Taken to the nearest billionth.
    pub off: f64,
    /// Skeins of one class may take each other's place in the order; each class keeps the positions that it is given
    /// in.
    pub class: u32,
}

/// Pieces, and the skeins for them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Problem<'a> {
    /// In the order of working.
    pub places: &'a [Place],
    /// In the order that breaks ties.
    pub skeins: &'a [Skein],
    /// Places that are sewn together or seen as a pair, by index. A pair counts once, whichever is named first; that of
    /// a place with itself, or with one that is not there, does not count.
    pub beside: &'a [(usize, usize)],
}

/// The greatest length of a place, of a skein and of all together that is taken, in metres. It keeps sums within 128
/// bits.
pub const MOST_METRES: f64 = 1e8;

/// The greatest weight per length over the mean that is taken. It keeps sums of squares within 128 bits.
pub const MOST_OFF: f64 = 1e3;

/// Up to so many skeins the answer is exact, whatever they are.
pub const EXACT_SKEINS: usize = 9;

/// Where a step lies. Skeins and places are indices.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Where {
    /// Within a place, where the first skein ends and the second begins.
    Within(usize, usize, usize),
    /// Between the means of two places that lie beside each other; the one that is worked first comes first.
    Between(usize, usize),
}

/// Skeins in an order, as well as could be found.
#[derive(Debug, Clone, PartialEq)]
pub struct Allotted {
    /// Indices of all skeins in the order of working; those that are not reached behind, each class in the given order.
    pub order: Vec<usize>,
    /// Of each place, its skeins with the metres that it takes of them, in the order of working.
    pub takes: Vec<Vec<(usize, f64)>>,
    /// The largest step, in the unit of [`Skein::off`]: 0.04 is four hundredths of the mean. 0 where there is none.
    pub step: f64,
    /// Sum of squares of all steps, in that unit squared.
    pub squares: f64,
    /// Where the largest step is, the first of equal ones in the order of working; `None` where nothing steps.
    pub largest_at: Option<Where>,
    /// How many begun orders were looked at; 0 where none was searched for.
    pub states: u64,
    /// Whether it is proven that no order has a lesser step, none of the same step fewer squares, and none that is as
    /// good comes before it.
    pub is_exact: bool,
    /// No order has a lesser largest step: the step itself where that is proven.
    pub bound: f64,
}

/// Puts skeins into the order whose largest step is least, of those into one with the least sum of squares of all
/// steps, and of those into the one that is lexicographically least by the given order; `None` where the yarn does not
/// suffice for all places, where no place takes any, and where a number is beyond its limits.
///
/// A step is the difference between two skeins that meet within a place, or between the means by length of two places
/// that lie beside each other. Bands have no steps. A portion below [`SHOWS`] of what a place takes is not seen. As
/// skeins that the places do not reach are left over, those that are off by much go there, or into bands.
///
/// What can follow an order that is begun depends only on the set of its skeins, on the skein and the mean that the
/// place in work has so far, and on means that still matter (after M. Held & R. M. Karp, *A dynamic programming
/// approach to sequencing problems*, 1962). Orders that are begun are continued least largest step first (E. W.
/// Dijkstra, *A note on two problems in connexion with graphs*, 1959), so that where the search must end early, the
/// step of the next is a proven bound; squares come from a search in depth under the step that was found. Both end
/// after a count of begun orders, which suffices for [`EXACT_SKEINS`], for a dozen mostly, and for many more where
/// pieces are long or classes many; before them, exchanges of skeins find an order to beat, and where there are more
/// than bits in a word there are only these. An answer that is not exact is no worse than the given order, and no worse
/// than skeins sorted by weight.
pub fn allot(problem: &Problem) -> Option<Allotted> {
    Task::new(problem).map(|task| allotted_within(&task, BUDGET))
}

/// Takes skeins in the given order; `None` as of [`allot`]. Nothing is proven of it: its bound is 0.
pub fn in_order(problem: &Problem) -> Option<Allotted> {
    let task = Task::new(problem)?;
    let order: Vec<usize> = (0..task.skeins.len()).collect();
    Some(task.allotted(order, 0, 0, false))
}

/// A portion below this share of what its place takes is not seen; our choice, some tenths of a millimetre.
pub const SHOWS: f64 = 1.0 / INVISIBLE as f64;

/// As [`SHOWS`], for whole numbers.
const INVISIBLE: i64 = 1_000_000;

/// How many micrometres make a metre.
const PER_METRE: f64 = 1e6;

/// In how many parts weights over the mean are taken.
const PER_OFF: f64 = 1e9;

/// Into how many parts those parts are divided where means are taken, which need not be whole. Differences of means are
/// rounded to the whole, so that those which are equal on paper are equal here.
const PER_PART: i64 = 1000;

fn micrometres(metres: f64) -> Option<i64> {
    (0.0..=MOST_METRES).contains(&metres).then(|| (metres * PER_METRE).round() as i64)
}

fn in_metres(micrometres: i64) -> f64 {
    micrometres as f64 / PER_METRE
}

fn parts(off: f64) -> Option<i64> {
    (0.0..=MOST_OFF).contains(&off).then(|| (off * PER_OFF).round() as i64)
}

fn in_offs(parts: i64) -> f64 {
    parts as f64 / PER_OFF
}

/// How good an order is, the lesser the better.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Worth {
    /// The largest step in parts.
    step: i64,
    /// In parts squared.
    squares: i128,
}

impl Worth {
    const FLAT: Worth = Worth { step: 0, squares: 0 };

    fn and(self, step: i64) -> Worth {
        Worth { step: self.step.max(step), squares: self.squares + i128::from(step).pow(2) }
    }
}

/// A skein in whole numbers.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Whole {
    length: i64,
    off: i64,
    class: u32,
}

/// A problem that has been checked, in micrometres and parts.
struct Task {
    /// Of each place.
    needs: Vec<i64>,
    is_band: Vec<bool>,
    /// Of each place, those worked before it that lie beside it, where steps show in both.
    earlier: Vec<Vec<usize>>,
    /// Of each place, the last place that its mean is compared with; itself where there is none.
    until: Vec<usize>,
    skeins: Vec<Whole>,
    /// Of each skein, the one before it that is the same in all: of these the first is always used first.
    twin: Vec<Option<usize>>,
    /// Skeins by weight, and where each is among them.
    by_off: Vec<usize>,
    rank: Vec<usize>,
}

/// How far the pieces are worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
struct At {
    /// The place in work; beyond the last where all is worked.
    place: usize,
    /// What it has of its yarn.
    filled: i64,
    /// Its last skein that is seen.
    last: Option<usize>,
    /// Length times weight of what it has.
    weight: i128,
}

/// What happens as a skein is worked.
enum Event {
    Took { place: usize, micrometres: i64 },
    Step(Where, i64),
}

impl Task {
    fn new(problem: &Problem) -> Option<Task> {
        let whole = |skein: &Skein| {
            Some(Whole { length: micrometres(skein.length)?, off: parts(skein.off)?, class: skein.class })
        };
        let skeins = problem.skeins.iter().map(whole).collect::<Option<Vec<_>>>()?;
        let needs = needs(problem.places, &skeins)?;
        let is_band: Vec<bool> = problem.places.iter().map(|place| place.is_band).collect();
        let shows = |place: usize| needs.get(place).is_some_and(|need| *need > 0 && !is_band[place]);
        let earlier = earlier(problem.beside, needs.len(), shows);
        let mut until: Vec<usize> = (0..needs.len()).collect();
        for (later, places) in earlier.iter().enumerate() {
            places.iter().for_each(|place| until[*place] = later);
        }
        let twin = (0..skeins.len()).map(|at| (0..at).rev().find(|before| skeins[*before] == skeins[at])).collect();
        let mut by_off: Vec<usize> = (0..skeins.len()).collect();
        by_off.sort_by_key(|skein| skeins[*skein].off);
        let mut rank = vec![0; skeins.len()];
        by_off.iter().enumerate().for_each(|(at, skein)| rank[*skein] = at);
        Some(Task { needs, is_band, earlier, until, skeins, twin, by_off, rank })
    }

    fn start(&self) -> At {
        let mut at = At { place: 0, filled: 0, last: None, weight: 0 };
        self.pass_over(&mut at);
        at
    }

    /// Passes over places that take nothing.
    fn pass_over(&self, at: &mut At) {
        while self.needs.get(at.place) == Some(&0) {
            at.place += 1;
        }
    }

    fn is_worked(&self, at: At) -> bool {
        at.place == self.needs.len()
    }

    /// Works one more skein. The means are those of places that are worked, in thousandths of parts.
    fn work(&self, at: &mut At, means: &mut [i64], skein: usize, told: &mut impl FnMut(Event)) {
        let Whole { mut length, off, .. } = self.skeins[skein];
        while length > 0 && !self.is_worked(*at) {
            let (place, need) = (at.place, self.needs[at.place]);
            let micrometres = length.min(need - at.filled);
            told(Event::Took { place, micrometres });
            if i128::from(micrometres) * i128::from(INVISIBLE) >= i128::from(need) {
                if let Some(last) = at.last.filter(|_| !self.is_band[place]) {
                    told(Event::Step(Where::Within(place, last, skein), (off - self.skeins[last].off).abs()));
                }
                at.last = Some(skein);
            }
            at.filled += micrometres;
            at.weight += i128::from(micrometres) * i128::from(off);
            length -= micrometres;
            if at.filled == need {
                self.end_place(at, means, told);
            }
        }
    }

    fn end_place(&self, at: &mut At, means: &mut [i64], told: &mut impl FnMut(Event)) {
        let place = at.place;
        means[place] = rounded(at.weight * i128::from(PER_PART), self.needs[place]);
        for &other in &self.earlier[place] {
            let apart = i128::from((means[place] - means[other]).abs());
            told(Event::Step(Where::Between(other, place), rounded(apart, PER_PART)));
        }
        *at = At { place: place + 1, filled: 0, last: None, weight: 0 };
        self.pass_over(at);
    }

    /// Works skeins as far as they are needed.
    fn work_all(&self, order: &[usize], told: &mut impl FnMut(usize, Event)) {
        let (mut at, mut means) = (self.start(), vec![0; self.needs.len()]);
        for &skein in order {
            if self.is_worked(at) {
                break;
            }
            self.work(&mut at, &mut means, skein, &mut |event| told(skein, event));
        }
    }

    fn worth(&self, order: &[usize]) -> Worth {
        let mut worth = Worth::FLAT;
        self.work_all(order, &mut |_, event| {
            if let Event::Step(_, step) = event {
                worth = worth.and(step);
            }
        });
        worth
    }

    fn allotted(&self, order: Vec<usize>, states: u64, bound: i64, is_exact: bool) -> Allotted {
        let (mut worth, mut largest_at) = (Worth::FLAT, None);
        let mut takes = vec![Vec::new(); self.needs.len()];
        self.work_all(&order, &mut |skein, event| match event {
            Event::Took { place, micrometres } => takes[place].push((skein, in_metres(micrometres))),
            Event::Step(at, step) => {
                if step > worth.step {
                    largest_at = Some(at);
                }
                worth = worth.and(step);
            }
        });
        let (step, squares) = (in_offs(worth.step), worth.squares as f64 / (PER_OFF * PER_OFF));
        Allotted { order, takes, step, squares, largest_at, states, is_exact, bound: in_offs(bound) }
    }

    /// The whole order that begins so: what is left of each class follows in the given order.
    fn completed(&self, begun: &[usize]) -> Vec<usize> {
        let mut is_left = vec![true; self.skeins.len()];
        begun.iter().for_each(|skein| is_left[*skein] = false);
        let mut order = begun.to_vec();
        for position in begun.len()..self.skeins.len() {
            let class = self.skeins[position].class;
            let next = (0..self.skeins.len()).find(|skein| is_left[*skein] && self.skeins[*skein].class == class);
            let next = next.expect("invariant: a class has as many skeins as positions");
            is_left[next] = false;
            order.push(next);
        }
        order
    }

    /// The positions of each class, classes as they first come.
    fn positions(&self) -> Vec<Vec<usize>> {
        let mut classes: Vec<(u32, Vec<usize>)> = Vec::new();
        for (position, skein) in self.skeins.iter().enumerate() {
            match classes.iter_mut().find(|(class, _)| *class == skein.class) {
                Some((_, positions)) => positions.push(position),
                None => classes.push((skein.class, vec![position])),
            }
        }
        classes.into_iter().map(|(_, positions)| positions).collect()
    }

    /// A step that cannot be avoided, however the order goes on: from the last skein on, those that the place in work
    /// still takes lie no further apart in weight than the largest step, so that skeins which lie so must hold enough.
    fn unavoidable(&self, used: Skeins, at: At) -> i64 {
        let Some(last) = at.last.filter(|_| !self.is_band[at.place]) else {
            return 0;
        };
        let need = self.needs[at.place];
        // As much may come in portions that are not seen.
        let unseen = (need / INVISIBLE + 1) * self.skeins.len() as i64;
        let mut missing = need - at.filled - unseen;
        let apart = |from: usize, to: usize| (self.skeins[from].off - self.skeins[to].off).abs();
        let is_left = |skein: &&usize| used >> **skein & 1 == 0;
        let mut below = self.by_off[..self.rank[last]].iter().rev().filter(is_left).peekable();
        let mut above = self.by_off[self.rank[last] + 1..].iter().filter(is_left).peekable();
        let (mut lowest, mut highest, mut step) = (last, last, 0);
        while missing > 0 {
            let down = below.peek().map(|next| apart(lowest, **next));
            let up = above.peek().map(|next| apart(highest, **next));
            let next = match (down, up) {
                (None, None) => break,
                (Some(down), up) if up.is_none_or(|up| down <= up) => {
                    step = step.max(down);
                    lowest = *below.next().expect("invariant: it was looked at");
                    lowest
                }
                (_, up) => {
                    step = step.max(up.expect("invariant: one of them is there"));
                    highest = *above.next().expect("invariant: it was looked at");
                    highest
                }
            };
            missing -= self.skeins[next].length;
        }
        step
    }
}

/// So many micrometres too few are none too few: a millimetre.
const NO_LACK: i64 = 1000;

/// What the places take; `None` where the skeins do not hold it, and where it is nothing.
///
/// Where a place ends is rounded and not what it takes, so that many roundings do not add up. A lack up to [`NO_LACK`]
/// is rounding.
fn needs(places: &[Place], skeins: &[Whole]) -> Option<Vec<i64>> {
    let held = skeins.iter().try_fold(0_i64, |sum, skein| sum.checked_add(skein.length))?;
    let (mut end, mut worked, mut needs) = (0.0, 0, Vec::with_capacity(places.len()));
    for place in places {
        micrometres(place.need)?;
        end += place.need;
        let mut until = micrometres(end)?;
        if until > held && until - held <= NO_LACK {
            until = held;
        }
        needs.push(until - worked);
        worked = until;
    }
    (0 < worked && worked <= held && in_metres(held) <= MOST_METRES).then_some(needs)
}

fn earlier(beside: &[(usize, usize)], places: usize, shows: impl Fn(usize) -> bool) -> Vec<Vec<usize>> {
    let mut earlier = vec![Vec::new(); places];
    for (a, b) in beside.iter().map(|&(a, b)| (a.min(b), a.max(b))) {
        if a != b && shows(a) && shows(b) {
            earlier[b].push(a);
        }
    }
    for places in &mut earlier {
        places.sort_unstable();
        places.dedup();
    }
    earlier
}

/// A quotient of what is not below nothing, to the nearest whole.
fn rounded(dividend: i128, divisor: i64) -> i64 {
    ((dividend + i128::from(divisor / 2)) / i128::from(divisor)) as i64
}

/// Skeins as bits.
type Skeins = u64;

/// How much a search may do.
#[derive(Clone, Copy)]
struct Budget {
    /// Orders that are tried by exchanges.
    trials: u64,
    /// Begun orders that are looked at for the step, and as many again for the squares.
    states: u64,
}

/// Of [`EXACT_SKEINS`] there are 986 409 begun orders. Chosen so that it takes some tenths of a second at most; our
/// choice.
const BUDGET: Budget = Budget { trials: 300_000, states: 1_000_000 };

/// So many trials at most for the cube of the number of skeins; chosen by trial.
const TRIALS_BY_CUBE: u64 = 10;

/// So many skeins are worked in all trials at most; our choice.
const WORKED_IN_TRIALS: u64 = 60_000_000;

fn allotted_within(task: &Task, budget: Budget) -> Allotted {
    let n = task.skeins.len() as u64;
    // Few skeins need few trials, and the search is exact without any; of many each takes long.
    let trials = budget.trials.min(TRIALS_BY_CUBE * n.pow(3)).min(WORKED_IN_TRIALS / n);
    let mut exchange = Exchange::new(task, trials);
    exchange.run();
    let mut search = Search::new(task, budget.states, exchange.best);
    // More skeins than bits are for exchanges only.
    if task.skeins.len() > Skeins::BITS as usize {
        return search.allotted(0, false);
    }
    let bound = search.lessen_step();
    let is_exact = bound == search.best.0.step && search.lessen_squares();
    search.allotted(bound, is_exact)
}

/// An order with its worth.
type Found = (Worth, Vec<usize>);

#[cfg(test)]
mod tests {
    use super::super::chance::Stream;
    use super::*;

    /// Garments with a band, of skeins that differ by whole hundredths.
    fn tasks(count: usize) -> Vec<Task> {
        let mut stream = Stream(7);
        let mut tasks = Vec::new();
        for round in 0..count {
            let n = 5 + round % 3;
            let classes = [1, 1, 2][stream.below(3)];
            let mut skein = || Skein {
                length: 50.0 + stream.below(30) as f64,
                off: 0.9 + stream.below(20) as f64 / 100.0,
                class: stream.below(classes) as u32,
            };
            let skeins: Vec<Skein> = (0..n).map(|_| skein()).collect();
            let place = |part: usize| Place { need: (5 * n * part) as f64, is_band: part == 1 };
            let places = [[3, 3, 1, 2], [1, 6, 1, 2]][round % 2].map(place);
            let beside = &[(1, 3), (0, 1)][..1 + round % 2];
            let problem = Problem { places: &places, skeins: &skeins, beside };
            tasks.push(Task::new(&problem).expect("a sound problem"));
        }
        tasks
    }

    /// Whatever a search may do, what it finds and proves is on either side of the best, which a search that ends
    /// knows.
    #[test]
    fn a_bound_is_never_beyond_the_best() {
        let (mut of, mut between, mut proven) = (0, 0, 0);
        for task in tasks(60) {
            let best = allotted_within(&task, BUDGET);
            let given = task.worth(&(0..task.skeins.len()).collect::<Vec<_>>());
            assert!(best.is_exact);
            for states in [0, 1, 3, 10, 30, 100, 300, 1000] {
                for trials in [0, 5, 200] {
                    let found = allotted_within(&task, Budget { trials, states });
                    assert!(found.bound <= best.step && best.step <= found.step, "{found:?}, {best:?}");
                    assert!(found.states <= 2 * states && task.worth(&found.order) <= given, "{found:?}");
                    assert!(
                        !found.is_exact || (&found.order, found.bound) == (&best.order, best.step),
                        "{found:?}, {best:?}"
                    );
                    assert!((found.step, found.squares) >= (best.step, best.squares));
                    of += 1;
                    between += u32::from(0.0 < found.bound && found.bound < best.step);
                    proven += u32::from(found.is_exact);
                }
            }
        }
        assert!(10 * between > of && 10 * proven > of, "{between} bounds and {proven} proofs of {of}");
    }

    /// What is exact does not come from exchanges, which would hide a search that overlooks orders.
    #[test]
    fn a_search_needs_no_exchanges() {
        for task in tasks(400) {
            let (with, without) = (allotted_within(&task, BUDGET), Budget { trials: 0, ..BUDGET });
            let without = allotted_within(&task, without);
            assert!(with.is_exact && without.is_exact);
            assert_eq!((without.order, without.bound), (with.order, with.bound));
        }
    }

    /// Exchanges alone mostly find the best of few skeins, by which they may be trusted with many.
    #[test]
    fn exchanges_are_never_below_the_best_and_mostly_reach_it() {
        let (mut of, mut reached) = (0, 0);
        for task in tasks(60) {
            let best = task.worth(&allotted_within(&task, BUDGET).order);
            let mut exchange = Exchange::new(&task, 3000);
            exchange.run();
            assert!(exchange.best.0 >= best && exchange.best.0 == task.worth(&exchange.best.1));
            of += 1;
            reached += u32::from(exchange.best.0 == best);
        }
        assert!(10 * reached > 9 * of, "{reached} of {of} are found");
    }

    /// A step that cannot be avoided is in no order that goes on so below what it has at the end.
    #[test]
    fn no_order_avoids_what_is_unavoidable() {
        let mut seen = 0;
        for task in tasks(60) {
            let order = allotted_within(&task, BUDGET).order;
            let worth = task.worth(&order);
            let (mut at, mut means, mut used) = (task.start(), vec![0; task.needs.len()], 0);
            for &skein in &order {
                task.work(&mut at, &mut means, skein, &mut |_| ());
                used |= 1 << skein;
                if task.is_worked(at) {
                    break;
                }
                assert!(task.unavoidable(used, at) <= worth.step);
                seen += u32::from(task.unavoidable(used, at) > 0);
            }
        }
        assert!(seen > 50, "{seen}");
    }

    /// A place of 200 m lacks a tenth of a millimetre, of which nothing is seen; beyond two tenths it would be.
    #[test]
    fn what_is_not_seen_can_be_avoided() {
        for (length, step) in [(199.9999, 0), (199.99, 200_000_000)] {
            let skeins = [(length, 1.0), (100.0, 1.2)].map(|(length, off)| Skein { length, off, class: 0 });
            let places = [Place { need: 200.0, is_band: false }];
            let task = Task::new(&Problem { places: &places, skeins: &skeins, beside: &[] }).expect("a sound problem");
            let mut at = task.start();
            task.work(&mut at, &mut [0], 0, &mut |_| ());
            assert_eq!(task.unavoidable(1, at), step);
        }
    }
}
