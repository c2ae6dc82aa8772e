//! A search among all orders: the least step with its proof, then the fewest squares.

use std::cmp::Reverse;
use std::collections::{BinaryHeap, HashMap};
use std::hash::{BuildHasherDefault, Hash, Hasher};
use std::rc::Rc;

use super::super::chance::mixed;
use super::{Allotted, At, Event, Found, Skeins, Task, Worth};

/// What decides how an order that is begun can go on.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Key {
    used: Skeins,
    last: Option<usize>,
    weight: i128,
    /// The means that still matter, by their number.
    means: usize,
}

impl Hash for Key {
    fn hash<H: Hasher>(&self, hasher: &mut H) {
        for word in [self.used, self.weight as u64, self.means as u64] {
            hasher.write_u64(word);
        }
        hasher.write_u64(self.last.map_or(u64::MAX, |last| last as u64));
    }
}

/// An order that is begun.
#[derive(Clone, Copy)]
struct Begun {
    used: Skeins,
    at: At,
    means: usize,
    worth: Worth,
}

impl Begun {
    fn key(&self) -> Key {
        Key { used: self.used, last: self.at.last, weight: self.at.weight, means: self.means }
    }

    fn length(&self) -> usize {
        self.used.count_ones() as usize
    }
}

/// Orders that are begun, to be continued; the parent is an index, the root its own.
struct Link {
    begun: Begun,
    parent: usize,
    skein: usize,
}

/// Means that are numbered, so that begun orders with the same means are known for the same.
#[derive(Default)]
struct Means {
    all: Vec<Rc<[i64]>>,
    number: HashMap<Rc<[i64]>, usize, BuildHasherDefault<Mixer>>,
}

impl Means {
    fn number(&mut self, means: &[i64]) -> usize {
        if let Some(number) = self.number.get(means) {
            return *number;
        }
        let (means, number): (Rc<[i64]>, usize) = (means.into(), self.all.len());
        self.all.push(Rc::clone(&means));
        self.number.insert(means, number);
        number
    }
}

/// A search among all orders.
pub(super) struct Search<'a> {
    task: &'a Task,
    budget: u64,
    pub(super) best: Found,
    means: Means,
    /// The means of the order that is looked at.
    scratch: Vec<i64>,
    /// What is left of the budget.
    left: u64,
    states: u64,
}

impl<'a> Search<'a> {
    pub(super) fn new(task: &'a Task, budget: u64, best: Found) -> Search<'a> {
        let scratch = vec![0; task.needs.len()];
        Search { task, budget, best, means: Means::default(), scratch, left: budget, states: 0 }
    }

    pub(super) fn allotted(self, bound: i64, is_exact: bool) -> Allotted {
        self.task.allotted(self.best.1, self.states, bound, is_exact)
    }

    fn root(&mut self) -> Begun {
        self.scratch.fill(0);
        let means = self.means.number(&self.scratch);
        Begun { used: 0, at: self.task.start(), means, worth: Worth::FLAT }
    }

    /// Whether a skein may come next: its class has the position, and none that is the same in all is left before it.
    fn may_follow(&self, begun: &Begun, skein: usize) -> bool {
        let is_used = |skein: usize| begun.used >> skein & 1 == 1;
        let skeins = &self.task.skeins;
        !is_used(skein)
            && skeins[skein].class == skeins[begun.length()].class
            && self.task.twin[skein].is_none_or(is_used)
    }

    /// The order with one more skein; `None` where the budget is spent.
    fn continued(&mut self, begun: &Begun, skein: usize) -> Option<Begun> {
        self.left = self.left.checked_sub(1)?;
        self.states += 1;
        let mut next = Begun { used: begun.used | 1 << skein, ..*begun };
        self.scratch.copy_from_slice(&self.means.all[begun.means]);
        let worth = &mut next.worth;
        self.task.work(&mut next.at, &mut self.scratch, skein, &mut |event| {
            if let Event::Step(_, step) = event {
                *worth = worth.and(step);
            }
        });
        // One that steps by more is not continued, and its means are no matter.
        if next.at.place != begun.at.place && next.worth.step <= self.best.0.step {
            for (place, mean) in self.scratch.iter_mut().enumerate() {
                // A mean that is compared no more is no matter.
                if self.task.until[place] < next.at.place {
                    *mean = 0;
                }
            }
            next.means = self.means.number(&self.scratch);
        }
        Some(next)
    }

    /// Finds the least largest step, and an order that has it; a bound below it where the budget does not suffice.
    pub(super) fn lessen_step(&mut self) -> i64 {
        self.left = self.budget;
        let mut links = vec![Link { begun: self.root(), parent: 0, skein: 0 }];
        let mut queue = BinaryHeap::from([(Reverse(0), 0, Reverse(0))]);
        let mut seen: HashMap<Key, i64, BuildHasherDefault<Mixer>> = HashMap::default();
        while let Some((Reverse(step), _, Reverse(number))) = queue.pop() {
            if step >= self.best.0.step {
                break;
            }
            let begun = links[number].begun;
            for skein in 0..self.task.skeins.len() {
                if !self.may_follow(&begun, skein) {
                    continue;
                }
                let Some(next) = self.continued(&begun, skein) else {
                    return step;
                };
                let least = step.max(next.worth.step).max(self.task.unavoidable(next.used, next.at));
                if least >= self.best.0.step || is_known(&mut seen, next.key(), least) {
                    continue;
                }
                links.push(Link { begun: next, parent: number, skein });
                if self.task.is_worked(next.at) {
                    let order = self.task.completed(&begun_skeins(&links));
                    self.best = (next.worth, order);
                } else {
                    queue.push((Reverse(least), next.length(), Reverse(links.len() - 1)));
                }
            }
        }
        self.best.0.step
    }

    /// Finds, of the orders with the step that was found, the one that is first of those with the fewest squares.
    /// Whether that is proven.
    pub(super) fn lessen_squares(&mut self) -> bool {
        self.left = self.budget;
        let root = self.root();
        // One that is as good, and comes before it, is still to be found.
        let limit = self.best.0.squares + 1;
        let mut depth = Depth { search: self, limit, path: Vec::new(), seen: HashMap::default() };
        depth.descend(&root).is_some()
    }
}

/// The skeins of the last order that was begun.
fn begun_skeins(links: &[Link]) -> Vec<usize> {
    let mut skeins = Vec::new();
    let mut number = links.len() - 1;
    while number != 0 {
        skeins.push(links[number].skein);
        number = links[number].parent;
    }
    skeins.reverse();
    skeins
}

/// Whether the same was seen already and cost no more; it is seen now.
fn is_known<T: Ord + Copy>(seen: &mut HashMap<Key, T, BuildHasherDefault<Mixer>>, key: Key, cost: T) -> bool {
    let least = seen.get(&key).copied();
    if least.is_none_or(|least| cost < least) {
        seen.insert(key, cost);
    }
    least.is_some_and(|least| least <= cost)
}

/// A search in depth, skeins in the given order, so that of orders that are as good the first is found first.
struct Depth<'a, 'b> {
    search: &'b mut Search<'a>,
    /// Only orders with fewer squares are looked for.
    limit: i128,
    path: Vec<usize>,
    seen: HashMap<Key, i128, BuildHasherDefault<Mixer>>,
}

impl Depth<'_, '_> {
    /// `None` where the budget is spent.
    fn descend(&mut self, begun: &Begun) -> Option<()> {
        let task = self.search.task;
        let step = self.search.best.0.step;
        for skein in 0..task.skeins.len() {
            if !self.search.may_follow(begun, skein) {
                continue;
            }
            let next = self.search.continued(begun, skein)?;
            if next.worth.step > step || next.worth.squares >= self.limit {
                continue;
            }
            self.path.push(skein);
            if task.is_worked(next.at) {
                self.limit = next.worth.squares;
                self.search.best = (next.worth, task.completed(&self.path));
            } else if task.unavoidable(next.used, next.at) <= step
                && !is_known(&mut self.seen, next.key(), next.worth.squares)
            {
                self.descend(&next)?;
            }
            self.path.pop();
        }
        Some(())
    }
}

/// A hasher for keys of ours, which need no protection against chosen ones.
#[derive(Default)]
struct Mixer(u64);

impl Hasher for Mixer {
    fn write(&mut self, bytes: &[u8]) {
        for word in bytes.chunks(8) {
            let mut whole = [0; 8];
            whole[..word.len()].copy_from_slice(word);
            self.write_u64(u64::from_le_bytes(whole));
        }
    }

    fn write_u64(&mut self, word: u64) {
        self.0 = mixed((self.0 ^ word).wrapping_add(0x9e37_79b9_7f4a_7c15));
    }

    fn finish(&self) -> u64 {
        self.0
    }
}
