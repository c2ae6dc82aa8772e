//! A search by exchanges: an order to beat.

use super::super::chance::Stream;
use super::{Found, Task, Worth};

/// A search by exchanges: from the given order, from skeins sorted by weight, and then again and again from the best
/// that was found with some skeins thrown about, whatever betters the order is kept.
pub(super) struct Exchange<'a> {
    task: &'a Task,
    positions: Vec<Vec<usize>>,
    pub(super) best: Found,
    trials: u64,
    stream: Stream,
}

/// The seed of exchanges.
const SEED: u64 = 0x5eed_0f0a_11a7_0003;

/// How many parts of an order are thrown about at once; chosen by trial.
const THROWS: usize = 3;

/// Ways to change a part of an order.
#[derive(Clone, Copy)]
enum Change {
    Swap,
    Reverse,
    ToEnd,
    ToBegin,
}

const CHANGES: [Change; 4] = [Change::Swap, Change::Reverse, Change::ToEnd, Change::ToBegin];

impl Change {
    /// Changes what stands at positions from the first to the last. What it undoes is [`Change::back`].
    fn make(self, order: &mut [usize], positions: &[usize]) {
        let last = positions.len() - 1;
        match self {
            Self::Swap => order.swap(positions[0], positions[last]),
            Self::Reverse => (0..positions.len() / 2).for_each(|at| order.swap(positions[at], positions[last - at])),
            Self::ToEnd => positions.windows(2).for_each(|pair| order.swap(pair[0], pair[1])),
            Self::ToBegin => positions.windows(2).rev().for_each(|pair| order.swap(pair[0], pair[1])),
        }
    }

    fn back(self) -> Change {
        match self {
            Self::Swap | Self::Reverse => self,
            Self::ToEnd => Self::ToBegin,
            Self::ToBegin => Self::ToEnd,
        }
    }
}

impl<'a> Exchange<'a> {
    pub(super) fn new(task: &'a Task, trials: u64) -> Exchange<'a> {
        let given: Vec<usize> = (0..task.skeins.len()).collect();
        let best = (task.worth(&given), given);
        Exchange { task, positions: task.positions(), best, trials, stream: Stream(SEED) }
    }

    pub(super) fn run(&mut self) {
        let (mut up, mut down) = (self.best.1.clone(), self.best.1.clone());
        for positions in &self.positions {
            let mut skeins = positions.clone();
            skeins.sort_by_key(|skein| self.task.skeins[*skein].off);
            positions.iter().zip(&skeins).for_each(|(at, skein)| up[*at] = *skein);
            positions.iter().zip(skeins.iter().rev()).for_each(|(at, skein)| down[*at] = *skein);
        }
        for order in [up, down, self.best.1.clone()] {
            self.keep(order.clone());
            self.better(order);
        }
        while self.trials > 0 && self.best.0 > Worth::FLAT && self.positions.iter().any(|positions| positions.len() > 1)
        {
            let order = self.thrown();
            self.better(order);
        }
    }

    fn keep(&mut self, order: Vec<usize>) {
        let found = (self.task.worth(&order), order);
        if found < self.best {
            self.best = found;
        }
    }

    /// The best order with some parts of it changed by chance.
    fn thrown(&mut self) -> Vec<usize> {
        let mut order = self.best.1.clone();
        // It counts as a trial, so that a search which finds no changes ends.
        self.trials -= 1;
        for _ in 0..THROWS {
            let positions = &self.positions[self.stream.below(self.positions.len())];
            let (a, b) = (self.stream.below(positions.len()), self.stream.below(positions.len()));
            CHANGES[self.stream.below(CHANGES.len())].make(&mut order, &positions[a.min(b)..=a.max(b)]);
        }
        order
    }

    /// Changes an order as long as it becomes better.
    fn better(&mut self, mut order: Vec<usize>) {
        let mut worth = self.task.worth(&order);
        while let Some(better) = self.changed(&mut order, worth) {
            worth = better;
        }
        self.keep(order);
    }

    /// Goes through all changes and keeps those that better the order; `None` where there are none.
    fn changed(&mut self, order: &mut [usize], before: Worth) -> Option<Worth> {
        let mut best = before;
        for class in &self.positions {
            for from in 0..class.len() {
                for to in from + 1..class.len() {
                    for change in CHANGES {
                        if self.trials == 0 {
                            return None;
                        }
                        self.trials -= 1;
                        let positions = &class[from..=to];
                        change.make(order, positions);
                        let worth = self.task.worth(order);
                        if worth < best {
                            best = worth;
                        } else {
                            change.back().make(order, positions);
                        }
                    }
                }
            }
        }
        (best < before).then_some(best)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What a change does is undone.
    #[test]
    fn changes_go_back() {
        let positions = [0, 2, 3, 5];
        for (change, changed) in
            CHANGES.into_iter().zip([[5, 1, 2, 3, 4, 0], [5, 1, 3, 2, 4, 0], [2, 1, 3, 5, 4, 0], [5, 1, 0, 2, 4, 3]])
        {
            let mut order = [0, 1, 2, 3, 4, 5];
            change.make(&mut order, &positions);
            assert_eq!(order, changed);
            change.back().make(&mut order, &positions);
            assert_eq!(order, [0, 1, 2, 3, 4, 5]);
        }
    }
}
