//! Which bobbins of singles are plied together, so that the plied yarns agree.
//!
//! A spinner's singles drift, and bobbins that are plied as they come carry the drift into the yarn: thin ones meet thin ones.
//! [`pair`] puts them into sets whose sums differ least, [`in_order`] takes them as they come.
//!
//! All sums are whole numbers of µtex, a millionth of a tex, which no scale tells apart. Sums of floating-point numbers depend
//! on their order, so that sets which agree would differ in the last bit and ties would be decided by that bit.

use std::fmt;

use super::chance::Stream;

/// A bobbin of singles.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bobbin {
    /// Linear density of its singles in tex, 0 to [`MOST_TEX`]; taken to the nearest millionth.
    pub tex: f64,
    /// Which ply of a set it may take: an index into the shape. Bobbins of one class are interchangeable.
    pub class: usize,
}

/// Bobbins, and how many of them are plied together.
#[derive(Debug, Clone, PartialEq)]
pub struct Problem {
    /// All that are to be plied; at most [`MOST_BOBBINS`]. Their order breaks ties.
    pub bobbins: Vec<Bobbin>,
    /// How many bobbins of each class make a set: `[3]` any three, `[1, 1, 1]` one for each ply, `[2, 1]` two of the first class
    /// and one of the second.
    pub shape: Vec<usize>,
    /// Plied linear density of each set that is plied already, in tex, 0 to [`MOST_TEX`]: it counts and cannot change. At most
    /// [`MOST_BOBBINS`].
    pub fixed: Vec<f64>,
}

/// The greatest linear density that is taken, in tex: a kilogram for each metre. It keeps sums of squares within 128 bits.
pub const MOST_TEX: f64 = 1e6;

/// How many bobbins, and how many fixed sets, are taken. It keeps sums of squares within 128 bits.
pub const MOST_BOBBINS: usize = 10_000;

/// Up to so many bobbins the answer is exact, whatever the shape.
pub const EXACT_BOBBINS: usize = 18;

/// Why bobbins cannot be put into sets.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unpaired {
    /// The shape asks for no bobbin.
    EmptyShape,
    /// More bobbins or fixed sets than [`MOST_BOBBINS`].
    TooMany,
    /// The shape has no such class.
    NoSuchClass {
        /// Which bobbin.
        bobbin: usize,
    },
    /// The bobbins of a class are not as many as the sets ask for.
    Uneven {
        /// Which class.
        class: usize,
        /// How many bobbins it has.
        has: usize,
        /// How many it needs, for as many whole sets as all bobbins make.
        needs: usize,
    },
    /// The linear density of a bobbin is no number from 0 to [`MOST_TEX`].
    BobbinTex {
        /// Which bobbin.
        bobbin: usize,
    },
    /// The linear density of a fixed set is no number from 0 to [`MOST_TEX`].
    FixedTex {
        /// Which fixed set.
        set: usize,
    },
}

impl fmt::Display for Unpaired {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::EmptyShape => write!(f, "a set of no bobbins"),
            Self::TooMany => write!(f, "more than {MOST_BOBBINS} bobbins or fixed sets"),
            Self::NoSuchClass { bobbin } => write!(f, "bobbin {bobbin} is of a class that no set takes"),
            Self::Uneven { class, has, needs } => write!(f, "class {class} has {has} bobbins where sets need {needs}"),
            Self::BobbinTex { bobbin } => write!(f, "bobbin {bobbin} is not of 0 to {MOST_TEX} tex"),
            Self::FixedTex { set } => write!(f, "fixed set {set} is not of 0 to {MOST_TEX} tex"),
        }
    }
}

impl std::error::Error for Unpaired {}

/// Bobbins in sets, as well as could be found.
#[derive(Debug, Clone, PartialEq)]
pub struct Paired {
    /// Indices of the bobbins of each set, ascending; sets by their lowest bobbin. Fixed sets are not among them.
    pub sets: Vec<Vec<usize>>,
    /// Greatest less least plied linear density in tex, fixed sets included; 0 where there is no set at all.
    pub range: f64,
    /// Sum of squared deviations from the mean of all sets in tex², fixed sets included.
    pub squares: f64,
    /// How much was examined: rests of bobbins whose best sets were worked out, or ways of setting them out that were compared.
    pub states: u64,
    /// No way has a lesser range, in tex: the range itself where that is proven.
    pub bound: f64,
    /// Whether it is proven that no way has a lesser range, nor one of the same range fewer squares.
    pub is_exact: bool,
}

/// Bobbins in sets as they come.
#[derive(Debug, Clone, PartialEq)]
pub struct InOrder {
    /// Indices of the bobbins of each set, ascending; sets by their lowest bobbin.
    pub sets: Vec<Vec<usize>>,
    /// As of [`Paired`], in tex.
    pub range: f64,
    /// As of [`Paired`], in tex².
    pub squares: f64,
}

/// Puts bobbins into sets whose plied linear densities have the least range, and of those with the least sum of squared
/// deviations; where several are equally good, those with the lowest bobbins in the first set, then in the second, and so on.
///
/// Up to [`EXACT_BOBBINS`] all of this is exact, by dynamic programming over the rests of bobbins (M. Held & R. M. Karp, *A
/// dynamic programming approach to sequencing problems*, 1962): what is best for a rest does not depend on how the others were set out,
/// and the lowest bobbin of a rest is always in its first set. For each sum that could be the least one, a table tells the least
/// greatest sum; those that cannot do better than what is found already are passed over. A second table tells the squares within
/// each window that has the least range.
///
/// Of more bobbins, range and squares of sets of two are exact: the thickest is plied with the thinnest, and so on (G. H. Hardy,
/// J. E. Littlewood & G. Pólya, *Inequalities*, 1934, on rearrangements). Larger sets come from a seeded search that ends after
/// a count of steps, with a proven bound beside it: what the mean, the thickest and thinnest bobbins, and the steps in which
/// bobbins differ allow at best. How good the answer is does not depend on the order of the bobbins; which of equally good ones
/// it is may do so.
///
/// # Errors
/// Where the bobbins do not make whole sets, or a linear density is none.
pub fn pair(problem: &Problem) -> Result<Paired, Unpaired> {
    let task = Task::new(problem)?;
    Ok(if task.tex.len() <= EXACT_BOBBINS { paired_exactly(&task) } else { paired_by_search(&task) })
}

/// Puts bobbins into sets as they come: of each class the first ones into the first set, the next ones into the next.
///
/// # Errors
/// As [`pair`].
pub fn in_order(problem: &Problem) -> Result<InOrder, Unpaired> {
    let task = Task::new(problem)?;
    let mut held = Vec::with_capacity(task.tex.len());
    for set in 0..task.sets {
        for (class, &count) in task.shape.iter().enumerate() {
            held.extend_from_slice(&task.classes[class][set * count..(set + 1) * count]);
        }
    }
    let sets = task.canonical(&held);
    let Worth { range, squares } = task.worth_of(&sets);
    Ok(InOrder { sets, range: in_tex(range), squares: in_square_tex(squares, task.all_sets()) })
}

/// The plied linear density of each set in tex.
///
/// # Errors
/// As [`pair`].
///
/// # Panics
/// Where a set has a bobbin that the problem has not.
pub fn sums(problem: &Problem, sets: &[Vec<usize>]) -> Result<Vec<f64>, Unpaired> {
    let task = Task::new(problem)?;
    Ok(sets.iter().map(|set| in_tex(task.sum(set))).collect())
}

/// How many µtex make a tex.
const PER_TEX: f64 = 1e6;

fn in_tex(micro: i64) -> f64 {
    micro as f64 / PER_TEX
}

/// From [`Worth::squares`].
fn in_square_tex(squares: i128, sets: usize) -> f64 {
    squares as f64 / sets.max(1) as f64 / (PER_TEX * PER_TEX)
}

fn micro(tex: f64) -> Option<i64> {
    (0.0..=MOST_TEX).contains(&tex).then(|| (tex * PER_TEX).round() as i64)
}

/// How good sets are, the lesser the better.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Worth {
    /// In µtex.
    range: i64,
    /// Sum of squared deviations in µtex², times the number of sets, which makes it a whole number.
    squares: i128,
}

/// A problem that has been checked, in µtex.
struct Task {
    tex: Vec<i64>,
    shape: Vec<usize>,
    /// Bobbins of each class, ascending by index.
    classes: Vec<Vec<usize>>,
    sets: usize,
    fixed: Vec<i64>,
}

impl Task {
    fn new(problem: &Problem) -> Result<Task, Unpaired> {
        let Problem { bobbins, shape, fixed } = problem;
        if bobbins.len().max(fixed.len()) > MOST_BOBBINS {
            return Err(Unpaired::TooMany);
        }
        let sets = bobbins.len().checked_div(size(shape)).ok_or(Unpaired::EmptyShape)?;
        let classes = classes(bobbins, shape, sets)?;
        let tex = bobbins.iter().enumerate().map(|(bobbin, of)| micro(of.tex).ok_or(Unpaired::BobbinTex { bobbin }));
        let tex = tex.collect::<Result<_, _>>()?;
        let fixed = fixed.iter().enumerate().map(|(set, tex)| micro(*tex).ok_or(Unpaired::FixedTex { set }));
        Ok(Task { tex, shape: shape.clone(), classes, sets, fixed: fixed.collect::<Result<_, _>>()? })
    }

    /// How many bobbins make a set. A shape of no sets may ask for more than there can be.
    fn size(&self) -> usize {
        size(&self.shape)
    }

    fn all_sets(&self) -> usize {
        self.sets + self.fixed.len()
    }

    fn sum(&self, set: &[usize]) -> i64 {
        set.iter().map(|bobbin| self.tex[*bobbin]).sum()
    }

    fn worth(&self, sums: impl Iterator<Item = i64> + Clone) -> Worth {
        let sums = sums.chain(self.fixed.iter().copied());
        let (least, greatest) = (sums.clone().min().unwrap_or(0), sums.clone().max().unwrap_or(0));
        // Deviations from the least sum keep the numbers small; the mean is not whole.
        let deviations = sums.map(|sum| i128::from(sum - least));
        let (total, squares) = deviations.fold((0, 0), |(total, squares), by| (total + by, squares + by * by));
        Worth { range: greatest - least, squares: squares * self.all_sets() as i128 - total * total }
    }

    fn worth_of(&self, sets: &[Vec<usize>]) -> Worth {
        self.worth(sets.iter().map(|set| self.sum(set)))
    }

    fn class_of(&self) -> Vec<usize> {
        let mut class_of = vec![0; self.tex.len()];
        for (class, bobbins) in self.classes.iter().enumerate() {
            bobbins.iter().for_each(|bobbin| class_of[*bobbin] = class);
        }
        class_of
    }

    /// Sets in order, out of bobbins that lie set after set.
    fn canonical(&self, held: &[usize]) -> Vec<Vec<usize>> {
        let mut sets: Vec<Vec<usize>> = held.chunks(self.size()).map(<[usize]>::to_vec).collect();
        sets.iter_mut().for_each(|set| set.sort_unstable());
        sets.sort_unstable();
        sets
    }

    fn paired(&self, sets: Vec<Vec<usize>>, states: u64, bound: Worth) -> Paired {
        let worth = self.worth_of(&sets);
        Paired {
            range: in_tex(worth.range),
            squares: in_square_tex(worth.squares, self.all_sets()),
            states,
            bound: in_tex(bound.range),
            is_exact: worth == bound,
            sets,
        }
    }
}

fn size(shape: &[usize]) -> usize {
    shape.iter().fold(0, |size, count| size.saturating_add(*count))
}

/// Bobbins by class, where each class has as many as the sets ask for.
fn classes(bobbins: &[Bobbin], shape: &[usize], sets: usize) -> Result<Vec<Vec<usize>>, Unpaired> {
    let mut classes = vec![Vec::new(); shape.len()];
    for (bobbin, of) in bobbins.iter().enumerate() {
        classes.get_mut(of.class).ok_or(Unpaired::NoSuchClass { bobbin })?.push(bobbin);
    }
    for (class, of_class) in classes.iter().enumerate() {
        let (has, needs) = (of_class.len(), sets.saturating_mul(shape[class]));
        if has != needs {
            return Err(Unpaired::Uneven { class, has, needs });
        }
    }
    Ok(classes)
}

// Few bobbins: exact sets.

fn paired_exactly(task: &Task) -> Paired {
    if task.sets == 0 {
        return task.paired(Vec::new(), 0, task.worth(std::iter::empty()));
    }
    let mut search = Search::new(task, FEW, Worth { range: 0, squares: 0 });
    search.run();
    let mut exact = Exact::new(task);
    let (worth, sets) = exact.best(search.best.0.range);
    task.paired(sets, search.states + exact.states, worth)
}

/// Bobbins as bits.
type Mask = u32;

/// A set that could be made.
#[derive(Clone, Copy)]
struct Choice {
    mask: Mask,
    sum: i64,
}

/// Bobbins that are in no set yet.
#[derive(Clone, Copy)]
struct Rest {
    mask: Mask,
    sum: i64,
    sets: i64,
}

impl Rest {
    fn all(task: &Task) -> Rest {
        Rest { mask: (1 << task.tex.len()) - 1, sum: task.tex.iter().sum(), sets: task.sets as i64 }
    }

    fn without(self, set: Choice) -> Rest {
        Rest { mask: self.mask & !set.mask, sum: self.sum - set.sum, sets: self.sets - 1 }
    }

    fn lowest(self) -> usize {
        self.mask.trailing_zeros() as usize
    }

    fn holds(self, set: Choice) -> bool {
        set.mask & !self.mask == 0
    }
}

/// What a set costs by its sum. Several cost as much as the dearest of them, but squares are added up.
#[derive(Clone, Copy)]
enum Cost {
    Above(i64),
    Below(i64),
    Squared(i64),
}

impl Cost {
    fn of(self, sum: i64) -> u128 {
        match self {
            Self::Above(by) | Self::Below(by) => u128::from(sum.abs_diff(by)),
            Self::Squared(by) => u128::from(sum.abs_diff(by)).pow(2),
        }
    }

    fn join(self, a: u128, b: u128) -> u128 {
        match self {
            Self::Above(_) | Self::Below(_) => a.max(b),
            Self::Squared(_) => a.saturating_add(b),
        }
    }
}

/// The cost of a rest that makes no sets within the window.
const IMPOSSIBLE: u128 = u128::MAX;

/// The cost of a rest that has not been worked out.
const UNKNOWN: u128 = u128::MAX - 1;

/// By which part of its width a window is asked about beyond what is needed: that it has no sets rules out later windows too.
/// Chosen by trial; our choice.
const BEYOND: i64 = 8;

/// A table of the least cost of each rest, for one window of sums and one cost at a time.
struct Exact<'a> {
    task: &'a Task,
    /// All sets by their lowest bobbin; of one bobbin in order.
    choices: Vec<Vec<Choice>>,
    window: (i64, i64),
    cost: Cost,
    /// Those of `choices` whose sum is in the window, with their cost.
    allowed: Vec<Vec<(Choice, u128)>>,
    /// By the bits of the rest.
    least: Vec<u128>,
    /// The rests that are not unknown.
    known: Vec<Mask>,
    states: u64,
}

impl<'a> Exact<'a> {
    fn new(task: &'a Task) -> Exact<'a> {
        let n = task.tex.len();
        let (window, cost) = ((0, 0), Cost::Above(0));
        let least = vec![UNKNOWN; 1 << n];
        Exact { task, choices: choices(task), window, cost, allowed: Vec::new(), least, known: Vec::new(), states: 0 }
    }

    /// The best sets, where some with this range are known to be.
    fn best(&mut self, range: i64) -> (Worth, Vec<Vec<usize>>) {
        let (range, floors) = self.least_range(range);
        let mut found: Vec<(Worth, Vec<Vec<usize>>)> = Vec::new();
        for floor in floors {
            self.open((floor, floor + range), Cost::Squared(floor));
            let sets = self.sets();
            found.push((self.task.worth_of(&sets), sets));
        }
        found.into_iter().min().expect("invariant: the least range has a window")
    }

    /// The least range, with the least sums that it can begin at.
    fn least_range(&mut self, mut range: i64) -> (i64, Vec<i64>) {
        let highest_floor = self.highest_floor();
        let lowest_top = self.lowest_top((0, i64::MAX)).expect("invariant: whole sets can be made");
        let mut floors = Vec::new();
        let mut from = lowest_top - range;
        for floor in self.sums_up_to(highest_floor) {
            if floor < from {
                continue;
            }
            let cap = floor + range + range / BEYOND;
            let Some(top) = self.lowest_top((floor, cap)) else {
                from = cap + 1 - range;
                continue;
            };
            if top - floor < range {
                range = top - floor;
                floors.clear();
            }
            if top - floor == range {
                floors.push(floor);
            }
            // No higher floor has a lower top.
            from = top - range;
        }
        (range, floors)
    }

    /// The sums that sets could have below a highest one, and that one.
    fn sums_up_to(&self, highest: i64) -> Vec<i64> {
        let sums = self.choices.iter().flatten().map(|choice| choice.sum).filter(|sum| *sum < highest);
        let mut sums: Vec<i64> = sums.chain([highest]).collect();
        sums.sort_unstable();
        sums.dedup();
        sums
    }

    /// The most that the least sum can be, of fixed sets too.
    fn highest_floor(&mut self) -> i64 {
        let all = Rest::all(self.task);
        self.open((0, i64::MAX), Cost::Below(all.sum));
        let floor = all.sum - self.least(all) as i64;
        self.task.fixed.iter().copied().fold(floor, i64::min)
    }

    /// The least that the greatest sum can be, of fixed sets too, where all others lie within a window.
    fn lowest_top(&mut self, window: (i64, i64)) -> Option<i64> {
        self.open(window, Cost::Above(window.0));
        let above = self.least(Rest::all(self.task));
        let top = (above != IMPOSSIBLE).then(|| window.0 + above as i64)?;
        Some(self.task.fixed.iter().copied().fold(top, i64::max))
    }

    /// Begins a table anew.
    fn open(&mut self, window: (i64, i64), cost: Cost) {
        (self.window, self.cost) = (window, cost);
        for mask in self.known.drain(..) {
            self.least[mask as usize] = UNKNOWN;
        }
        self.least[0] = 0;
        let is_inside = |choice: &&Choice| (window.0..=window.1).contains(&choice.sum);
        let allow = |of_bobbin: &Vec<Choice>| {
            of_bobbin.iter().filter(is_inside).map(|choice| (*choice, cost.of(choice.sum))).collect()
        };
        self.allowed = self.choices.iter().map(allow).collect();
    }

    fn least(&mut self, rest: Rest) -> u128 {
        let known = self.least[rest.mask as usize];
        if known != UNKNOWN {
            return known;
        }
        let least = match rest.sets {
            _ if !self.may_fit(rest) => IMPOSSIBLE,
            // What is left is the last set, which a search among all sets would take long to find.
            1 => self.cost.of(rest.sum),
            _ => self.least_by_sets(rest),
        };
        self.least[rest.mask as usize] = least;
        self.known.push(rest.mask);
        self.states += 1;
        least
    }

    fn may_fit(&self, Rest { sum, sets, .. }: Rest) -> bool {
        self.window.0.saturating_mul(sets) <= sum && sum <= self.window.1.saturating_mul(sets)
    }

    fn least_by_sets(&mut self, rest: Rest) -> u128 {
        let mut least = IMPOSSIBLE;
        for at in 0..self.allowed[rest.lowest()].len() {
            let (set, cost) = self.allowed[rest.lowest()][at];
            if rest.holds(set) && cost < least {
                least = least.min(self.cost.join(cost, self.least(rest.without(set))));
            }
        }
        least
    }

    /// Of the sets of least cost those that are the first in order.
    fn sets(&mut self) -> Vec<Vec<usize>> {
        let mut rest = Rest::all(self.task);
        let mut sets = Vec::with_capacity(self.task.sets);
        while rest.mask != 0 {
            let set = self.first_set(rest);
            sets.push((0..self.task.tex.len()).filter(|bobbin| set.mask >> bobbin & 1 == 1).collect());
            rest = rest.without(set);
        }
        sets
    }

    fn first_set(&mut self, rest: Rest) -> Choice {
        let least = self.least(rest);
        assert!(least != IMPOSSIBLE, "invariant: a window of the least range has sets");
        for at in 0..self.allowed[rest.lowest()].len() {
            let (set, cost) = self.allowed[rest.lowest()][at];
            if rest.holds(set) && self.cost.join(cost, self.least(rest.without(set))) == least {
                return set;
            }
        }
        unreachable!("invariant: some set costs the least")
    }
}

/// All sets that could be made, by their lowest bobbin; of one bobbin in order.
fn choices(task: &Task) -> Vec<Vec<Choice>> {
    let class_of = task.class_of();
    let gathered = |first| {
        let mut gather = Gather { task, class_of: &class_of, room: task.shape.clone(), found: Vec::new() };
        gather.add(Choice { mask: 0, sum: 0 }, first);
        gather.found
    };
    (0..class_of.len()).map(gathered).collect()
}

/// Gathers the sets that have one lowest bobbin.
struct Gather<'a> {
    task: &'a Task,
    class_of: &'a [usize],
    /// How many bobbins of each class the set that is begun still takes.
    room: Vec<usize>,
    found: Vec<Choice>,
}

impl Gather<'_> {
    /// Adds a bobbin to a set that is begun, if there is room, and then in turn all that can follow it.
    fn add(&mut self, begun: Choice, bobbin: usize) {
        let class = self.class_of[bobbin];
        if self.room[class] == 0 {
            return;
        }
        self.room[class] -= 1;
        let begun = Choice { mask: begun.mask | 1 << bobbin, sum: begun.sum + self.task.tex[bobbin] };
        if self.room.iter().all(|room| *room == 0) {
            self.found.push(begun);
        } else {
            (bobbin + 1..self.class_of.len()).for_each(|next| self.add(begun, next));
        }
        self.room[class] += 1;
    }
}

// Many bobbins: a bound for what can be reached, and a search.

fn paired_by_search(task: &Task) -> Paired {
    let mut search = Search::new(task, MANY, bound(task));
    search.run();
    let (worth, held) = search.best;
    // Dealt sets of two are proven to be best; otherwise there is one way only.
    let bound = if task.size() <= 2 || task.sets <= 1 { worth } else { search.goal };
    task.paired(task.canonical(&held), search.states, bound)
}

/// A worth that no sets go below, and that none may reach.
fn bound(task: &Task) -> Worth {
    let sorted = |by: i64| {
        let of_class = |class: &Vec<usize>| {
            let mut tex: Vec<i64> = class.iter().map(|bobbin| by * task.tex[*bobbin]).collect();
            tex.sort_unstable();
            tex
        };
        task.classes.iter().map(of_class).collect()
    };
    let lowest_top = Lanes::new(&task.shape, task.sets, sorted(1)).lowest_top();
    let highest_floor = -Lanes::new(&task.shape, task.sets, sorted(-1)).lowest_top();
    let even = Lattice::new(&task.shape, &sorted(1)).even(task.tex.iter().sum(), task.sets);
    let range = task.worth([highest_floor, lowest_top].into_iter()).range;
    Worth { range, squares: task.worth(even.into_iter()).squares }
}

/// The sums that sets can have at all: bobbins of a class differ by whole steps, and so do sums.
#[derive(Clone, Copy)]
struct Lattice {
    /// One of the sums, if not one that can be made.
    at: i64,
    /// 0 where all sums are equal.
    step: i64,
}

impl Lattice {
    fn new(shape: &[usize], sorted: &[Vec<i64>]) -> Lattice {
        let firsts = shape.iter().zip(sorted).filter_map(|(count, tex)| Some(*count as i64 * tex.first()?));
        let steps = sorted.iter().flat_map(|tex| tex.windows(2).map(|pair| pair[1] - pair[0]));
        Lattice { at: firsts.sum(), step: steps.fold(0, greatest_common_divisor) }
    }

    /// The least sum that is no less.
    fn ceil(self, sum: i64) -> i64 {
        if self.step == 0 { self.at } else { sum + (self.at - sum).rem_euclid(self.step) }
    }

    /// So many sums with this total, as even as can be.
    fn even(self, total: i64, sets: usize) -> Vec<i64> {
        let n = sets as i64;
        let steps = (total - n * self.at).checked_div(self.step).unwrap_or(0);
        let (each, more) = (steps.div_euclid(n), steps.rem_euclid(n));
        (0..n).map(|set| self.at + self.step * (each + i64::from(set < more))).collect()
    }
}

fn greatest_common_divisor(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { greatest_common_divisor(b, a % b) }
}

/// The bobbins of each class by their linear density.
struct Lanes<'a> {
    shape: &'a [usize],
    sets: usize,
    lattice: Lattice,
    /// By class, ascending.
    sorted: Vec<Vec<i64>>,
    /// By class: sums of the first of them, from none to all.
    sums: Vec<Vec<i64>>,
}

impl Lanes<'_> {
    fn new(shape: &[usize], sets: usize, sorted: Vec<Vec<i64>>) -> Lanes<'_> {
        let running = |tex: &Vec<i64>| {
            let added = tex.iter().scan(0, |sum, tex| {
                *sum += tex;
                Some(*sum)
            });
            [0].into_iter().chain(added).collect()
        };
        Lanes { shape, sets, lattice: Lattice::new(shape, &sorted), sums: sorted.iter().map(running).collect(), sorted }
    }

    /// A sum that the greatest of any sets is never below.
    fn lowest_top(&self) -> i64 {
        let with_thick = (0..self.shape.len()).map(|class| self.top_with_thick(class));
        let without_thin = (0..self.sets).map(|thin| self.top_without_thin(thin));
        self.lattice.ceil(with_thick.chain(without_thin).max().unwrap_or(i64::MIN))
    }

    /// The thickest bobbins of a class lie in some number of sets; what these hold besides is no thinner than the thinnest. For
    /// all bobbins this is the mean.
    fn top_with_thick(&self, class: usize) -> i64 {
        let count = self.shape[class];
        let n = self.sorted[class].len();
        let top = |thick: usize| {
            let mean = |sets: usize| {
                let all_thick = self.sums[class][n] - self.sums[class][n - thick];
                // Places that no thick bobbin takes are no more than the other bobbins.
                let thin = |other: usize| sets * self.shape[other] - if other == class { thick } else { 0 };
                let all_thin: i64 = (0..self.shape.len()).map(|other| self.sums[other][thin(other)]).sum();
                ceiling_of_quotient(all_thick + all_thin, sets)
            };
            (thick.div_ceil(count)..=thick.min(self.sets)).map(mean).min().unwrap_or(i64::MIN)
        };
        (1..=n.min(MOST_THICK)).chain((n > 0).then_some(n)).map(top).max().unwrap_or(i64::MIN)
    }

    /// The thinnest bobbins lie in at most as many sets; the others hold nothing that is thinner than the thinnest of the rest.
    /// That is so however many of each class are called thin; those are taken that gain most, one by one.
    fn top_without_thin(&self, thin: usize) -> i64 {
        let sets = self.sets - thin;
        let mut taken = vec![0; self.shape.len()];
        for _ in 0..thin {
            let gain = |class: &usize| {
                let (from, to) = (taken[*class], taken[*class] + sets * self.shape[*class]);
                self.sorted[*class].get(to).map(|next| next - self.sorted[*class][from])
            };
            let class = (0..self.shape.len()).max_by_key(gain).expect("invariant: a shape has a class");
            taken[class] += 1;
        }
        let held = |class: usize| {
            let (from, to) = (taken[class], taken[class] + sets * self.shape[class]);
            self.sums[class][to] - self.sums[class][from]
        };
        ceiling_of_quotient((0..self.shape.len()).map(held).sum(), sets)
    }
}

/// So many bobbins of a class are looked at as its thickest, to bound the work; our choice.
const MOST_THICK: usize = 300;

fn ceiling_of_quotient(a: i64, b: usize) -> i64 {
    -(-a).div_euclid(b as i64)
}

/// How much a search may do.
#[derive(Clone, Copy)]
struct Budget {
    restarts: u64,
    /// Exchanges that are tried for each restart.
    exchanges: u64,
    /// Repairs after them.
    repairs: u64,
}

/// To begin an exact search with.
const FEW: Budget = Budget { restarts: 2, exchanges: 10_000, repairs: 20 };

/// Some tenths of a second. Many restarts find more than long ones; chosen by trial, our choice.
const MANY: Budget = Budget { restarts: 16, exchanges: 300_000, repairs: 60 };

/// How many bobbins a repair sets out anew at most. With fewer it repairs much less, with more it takes too long; chosen by
/// trial.
const REPAIRED: usize = 12;

/// The seed of a search.
const SEED: u64 = 0x5eed_0f0a_11a7_0002;

/// A seeded search: exchanges of two bobbins that lessen the squares, ever more strictly, and then repairs, each of which takes
/// the sets with the greatest and the least sum, with others by chance, and sets their bobbins out anew in the best way.
///
/// It goes by linear densities and never by the numbers of bobbins, so that their order is no matter to how good an answer is.
struct Search<'a> {
    task: &'a Task,
    budget: Budget,
    /// Where it ends at once.
    goal: Worth,
    class_of: Vec<usize>,
    /// For each place in a set: the first of its class, and how many there are.
    places: Vec<(usize, usize)>,
    stream: Stream,
    /// Bobbins, set after set, by class within a set.
    held: Vec<usize>,
    sums: Vec<i64>,
    best: (Worth, Vec<usize>),
    states: u64,
}

/// Two places among all those of the bobbins, and how much more the first holds.
type Exchange = (usize, usize, i64);

impl<'a> Search<'a> {
    fn new(task: &'a Task, budget: Budget, goal: Worth) -> Search<'a> {
        let held = dealt(task);
        let sums: Vec<i64> = held.chunks(task.size()).map(|set| task.sum(set)).collect();
        let best = (task.worth(sums.iter().copied()), held.clone());
        let (class_of, places, stream) = (task.class_of(), places(&task.shape), Stream(SEED));
        Search { task, budget, goal, class_of, places, stream, held, sums, best, states: 1 }
    }

    fn run(&mut self) {
        // Sets of two are best as they were dealt.
        if self.task.sets < 2 || self.task.size() < 3 {
            return;
        }
        for _ in 0..self.budget.restarts {
            self.lessen_squares();
            self.keep();
            for _ in 0..self.budget.repairs {
                if self.best.0 <= self.goal {
                    return;
                }
                self.repair();
                self.keep();
            }
        }
    }

    fn keep(&mut self) {
        let worth = self.task.worth(self.sums.iter().copied());
        if worth < self.best.0 {
            self.best = (worth, self.held.clone());
        }
    }

    /// Threshold accepting, with a threshold that is drawn anew for each step: at first all that an exchange of usual bobbins can
    /// do, falling with the sixth power of what is left of the steps. Chosen by trial; our choice.
    fn lessen_squares(&mut self) {
        let usual = self.usual_square();
        let steps = self.budget.exchanges;
        for step in 0..steps {
            let ahead = 1.0 - step as f64 / steps as f64;
            let cubed = ahead * ahead * ahead;
            let (a, b, more) = self.draw();
            let apart = self.sums[a / self.places.len()] - self.sums[b / self.places.len()];
            // Half of what the exchange adds to the squares.
            let worse = more as f64 * (more - apart) as f64;
            if more != 0 && worse <= usual * cubed * cubed * self.stream.unit() {
                self.exchange((a, b, more));
            }
        }
        self.states += steps;
    }

    /// The mean square of what bobbins are off their mean, in µtex².
    fn usual_square(&self) -> f64 {
        let n = self.task.tex.len() as i64;
        let mean = self.task.tex.iter().sum::<i64>() / n;
        // Whole numbers, so that their order is no matter.
        let squares: i128 = self.task.tex.iter().map(|tex| i128::from(tex - mean).pow(2)).sum();
        squares as f64 / n as f64
    }

    /// Two bobbins of one class in two sets.
    fn draw(&mut self) -> Exchange {
        let (sets, size) = (self.sums.len(), self.places.len());
        let a = self.stream.below(sets);
        let b = (a + 1 + self.stream.below(sets - 1)) % sets;
        let place = self.stream.below(size);
        let (first, count) = self.places[place];
        let (a, b) = (a * size + place, b * size + first + self.stream.below(count));
        (a, b, self.task.tex[self.held[a]] - self.task.tex[self.held[b]])
    }

    fn exchange(&mut self, (a, b, more): Exchange) {
        self.held.swap(a, b);
        self.sums[a / self.places.len()] -= more;
        self.sums[b / self.places.len()] += more;
    }

    /// Sets some bobbins out anew, among them those of the two sets that make the range. It is never worse after.
    fn repair(&mut self) {
        let size = self.places.len();
        let sets = self.sets_to_repair();
        if sets.len() < 2 {
            return;
        }
        let (part, bobbins) = self.part(&sets);
        let range = self.task.worth(self.sums.iter().copied()).range;
        let mut exact = Exact::new(&part);
        let (_, found) = exact.best(range);
        self.states += exact.states;
        for (set, mut found) in sets.into_iter().zip(found) {
            self.sums[set] = part.sum(&found);
            // They are sorted by class, as places are.
            found.sort_unstable();
            let places = &mut self.held[set * size..(set + 1) * size];
            places.iter_mut().zip(found).for_each(|(place, at)| *place = bobbins[at]);
        }
    }

    /// The set with the greatest sum, that with the least, and others; none where two would be too many bobbins.
    fn sets_to_repair(&mut self) -> Vec<usize> {
        let n = self.sums.len();
        let wanted = n.min(REPAIRED / self.places.len());
        let by_sum = |set: &usize| self.sums[*set];
        let (greatest, least) = ((0..n).max_by_key(by_sum), (0..n).min_by_key(by_sum));
        let mut sets: Vec<usize> = greatest.into_iter().chain(least).take(wanted).collect();
        sets.dedup();
        while sets.len() < wanted {
            let set = self.stream.below(n);
            if !sets.contains(&set) {
                sets.push(set);
            }
        }
        sets
    }

    /// Some sets as a task of their own, beside which all others are fixed, with the bobbins that it numbers.
    fn part(&self, sets: &[usize]) -> (Task, Vec<usize>) {
        let size = self.places.len();
        let mut bobbins: Vec<usize> =
            sets.iter().flat_map(|set| &self.held[set * size..(set + 1) * size]).copied().collect();
        bobbins.sort_by_key(|bobbin| (self.class_of[*bobbin], self.task.tex[*bobbin]));
        let mut classes = vec![Vec::new(); self.task.shape.len()];
        for (at, bobbin) in bobbins.iter().enumerate() {
            classes[self.class_of[*bobbin]].push(at);
        }
        let others = (0..self.sums.len()).filter(|set| !sets.contains(set)).map(|set| self.sums[set]);
        let fixed = others.chain(self.task.fixed.iter().copied()).collect();
        let tex = bobbins.iter().map(|bobbin| self.task.tex[*bobbin]).collect();
        (Task { tex, shape: self.task.shape.clone(), classes, sets: sets.len(), fixed }, bobbins)
    }
}

fn places(shape: &[usize]) -> Vec<(usize, usize)> {
    let mut places = Vec::new();
    for &count in shape {
        let first = places.len();
        places.resize(first + count, (first, count));
    }
    places
}

/// Bobbins dealt to sets a layer at a time, the thickest of a layer to the set with the least sum so far, and given set after
/// set.
fn dealt(task: &Task) -> Vec<usize> {
    let mut sets: Vec<(i64, Vec<usize>)> = vec![(0, Vec::with_capacity(task.size())); task.sets];
    for bobbins in &task.classes {
        let mut thickest_first = bobbins.clone();
        thickest_first.sort_by_key(|bobbin| -task.tex[*bobbin]);
        for layer in thickest_first.chunks(task.sets.max(1)) {
            sets.sort_by_key(|(sum, _)| *sum);
            for ((sum, held), bobbin) in sets.iter_mut().zip(layer) {
                *sum += task.tex[*bobbin];
                held.push(*bobbin);
            }
        }
    }
    sets.into_iter().flat_map(|(_, held)| held).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn task(tex: &[f64], shape: &[usize], fixed: &[f64]) -> Task {
        let sets = tex.len() / size(shape);
        let classes = shape.iter().enumerate().flat_map(|(class, count)| vec![class; count * sets]);
        let bobbins = tex.iter().zip(classes).map(|(&tex, class)| Bobbin { tex, class }).collect();
        Task::new(&Problem { bobbins, shape: shape.to_vec(), fixed: fixed.to_vec() }).expect("a sound problem")
    }

    fn drawn(stream: &mut Stream, n: usize) -> Vec<f64> {
        let (wide, step) = ([20, 400, 3000][stream.below(3)], [1, 1, 7, 10][stream.below(4)]);
        (0..n).map(|_| (1600 + step * stream.below(wide)) as f64 / 10.0).collect()
    }

    const SHAPES: [(&[usize], usize); 14] = [
        (&[1], 6),
        (&[2], 5),
        (&[3], 4),
        (&[4], 3),
        (&[5], 2),
        (&[6], 2),
        (&[1, 1], 5),
        (&[1, 1, 1], 4),
        (&[2, 1], 4),
        (&[1, 3], 3),
        (&[2, 2], 3),
        (&[0, 3], 3),
        (&[1, 1, 1, 1], 3),
        (&[10], 1),
    ];

    fn tasks() -> Vec<Task> {
        let mut stream = Stream(7);
        let mut tasks = Vec::new();
        for round in 0..30 {
            for (shape, sets) in SHAPES {
                let tex = drawn(&mut stream, sets * size(shape));
                let mean = tex.iter().sum::<f64>() / sets as f64;
                let fixed: Vec<f64> = (0..round % 3).map(|_| mean - 10.0 + stream.below(200) as f64 / 10.0).collect();
                tasks.push(task(&tex, shape, &fixed));
            }
        }
        tasks
    }

    /// The bound of many bobbins, on few of which the best is known.
    #[test]
    fn a_bound_is_never_beyond_the_best() {
        let (mut of, mut reached) = (0, 0);
        for task in tasks() {
            let best = paired_exactly(&task);
            let worth = task.worth_of(&best.sets);
            let bound = bound(&task);
            assert!(bound.range <= worth.range && bound.squares <= worth.squares, "{:?} {:?}", task.tex, task.shape);
            of += 1;
            reached += u32::from(bound.range == worth.range);
        }
        assert!(3 * reached > of, "{reached} of {of} bounds are reached");
    }

    /// The search of many bobbins, on few of which the best is known; of sets of two it is dealt at once.
    #[test]
    fn a_search_is_never_below_the_best_and_mostly_reaches_it() {
        let (mut of, mut reached) = (0, 0);
        for task in tasks() {
            let best = task.worth_of(&paired_exactly(&task).sets);
            let mut search = Search::new(&task, FEW, bound(&task));
            search.run();
            assert!(search.best.0 >= best);
            assert_eq!(search.best.0, task.worth_of(&task.canonical(&search.best.1)), "worth and sets agree");
            assert!(task.size() > 2 || search.best.0 == best, "{:?}", task.tex);
            of += 1;
            reached += u32::from(search.best.0 == best);
        }
        assert!(10 * reached > 9 * of, "{reached} of {of} are found");
    }

    /// Derived by hand: bobbins of 1, 4 and 10 differ by threes, so that threes of them are a multiple of 3 each, 27 in all.
    #[test]
    fn sums_lie_on_a_lattice() {
        let lattice = Lattice::new(&[3], &[vec![1, 1, 4, 4, 7, 10]]);
        assert_eq!((lattice.step, lattice.at), (3, 3));
        assert_eq!([12, 13, 14, 15, 16].map(|sum| lattice.ceil(sum)), [12, 15, 15, 15, 18]);
        assert_eq!(lattice.even(27, 2), [15, 12]);
        let equal = Lattice::new(&[2, 1], &[vec![5, 5, 5, 5], vec![7, 7]]);
        assert_eq!((equal.ceil(0), equal.even(34, 2)), (17, vec![17, 17]));
    }

    /// Derived by hand. One bobbin of 100 among eight of 10 to 17: with the two thinnest it makes 121; of the other two sets the
    /// mean, (12 + 13 + 14 + 15 + 16 + 17) ÷ 2 = 43.5, is the most that the lesser can have, in whole steps 43.
    #[test]
    fn an_outlier_bounds_the_range() {
        let task = task(&[10.0, 11.0, 12.0, 13.0, 14.0, 15.0, 16.0, 17.0, 100.0], &[3], &[]);
        assert_eq!(in_tex(bound(&task).range), 78.0);
        assert_eq!(paired_exactly(&task).range, 78.0);
    }

    /// Sums that are equal on paper are equal here, though 16.4 + 18.2 is not 34.6 in floating point.
    #[test]
    fn equal_sums_are_equal() {
        let tex = [16.4, 17.0, 17.6, 18.2];
        assert!(tex[0] + tex[3] != tex[1] + tex[2]);
        let task = task(&tex, &[2], &[]);
        let best = paired_exactly(&task);
        assert_eq!((best.range, best.squares), (0.0, 0.0));
    }
}
