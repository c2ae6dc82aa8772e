//! Skeins two by two.

use super::{Allotted, PER_OFF, PER_PART, Problem, Skein, Task, allot, in_metres, rounded};

/// Skeins of which two rows are worked in turn, two by two.
#[derive(Debug, Clone, PartialEq)]
pub struct Twos {
    /// What is worked as one skein, as indices of skeins: two of a class, or one that is left over where a class has an
    /// odd number. By the lowest skein; [`Twos::allotted`] says in which order they are worked.
    pub sets: Vec<Vec<usize>>,
    /// Greatest less least mean of twos of one class, in the unit of [`Skein::off`]; of the class where it is largest.
    pub range: f64,
    /// The order of the sets and what it does, each set as one skein: its skeins and indices are of [`Twos::sets`]. Its
    /// [`step`](Allotted::step) is the largest step of all work that is alternated so; that its rows come from two
    /// skeins, which may differ by more, is no step.
    pub allotted: Allotted,
    /// Whether it is proven that no twos have a lesser range, none of the same range fewer squares, and none that are
    /// as good come before them. Whether their order is best, [`Twos::allotted`] says.
    pub is_exact: bool,
}

impl Twos {
    /// Two skeins each, as the sets are worked.
    pub fn pairs(&self) -> impl Iterator<Item = [usize; 2]> {
        self.allotted.order.iter().filter_map(|set| self.sets[*set][..].try_into().ok())
    }

    /// The skeins that are left over, at most one of a class.
    pub fn odd(&self) -> impl Iterator<Item = usize> {
        self.sets.iter().filter(|set| set.len() == 1).map(|set| set[0])
    }
}

/// Up to so many skeins of a class, twos are exact.
pub const EXACT_TWOS: usize = 15;

/// Takes skeins two by two, so that the means of the twos of a class agree, and works the twos in the best order;
/// `None` as of [`allot`], and where no class has two skeins.
///
/// Where neighbouring skeins differ, a knitter takes two rows from each of two in turn, so that the eye sees their
/// mean. Two are one skein: twice as long as the shorter one, as rows are taken in equal numbers, and of their plain
/// mean. Of the twos of a class the range of means is least, then the sum of their squared deviations from the mean of
/// the class, then the given order decides. Of an odd number, the skein that is nearest to that mean is left over, the
/// first of those as near; it is worked as it is, where it does least harm, which is a band or nowhere if it can be.
///
/// Beyond [`EXACT_TWOS`] the heaviest goes with the lightest, and so on, which is best where all are equally long (G.
/// H. Hardy, J. E. Littlewood & G. Pólya, *Inequalities*, 1934, on rearrangements).
pub fn twos(problem: &Problem) -> Option<Twos> {
    let task = Task::new(problem)?;
    let (mut sets, mut range, mut is_exact) = (Vec::new(), 0, true);
    for class in task.positions() {
        let matched = Matching::of(&task, class);
        range = range.max(matched.range);
        is_exact &= matched.is_exact;
        sets.extend(matched.sets);
    }
    sets.sort_unstable();
    if sets.iter().all(|set| set.len() == 1) {
        return None;
    }
    let skeins: Vec<Skein> = sets.iter().map(|set| as_one(&task, set)).collect();
    let allotted = allot(&Problem { skeins: &skeins, ..*problem })?;
    Some(Twos { sets, range: range as f64 / PER_PART as f64 / PER_OFF, allotted, is_exact })
}

fn as_one(task: &Task, set: &[usize]) -> Skein {
    // Rows in equal numbers use both alike: the shorter one ends them, and the rest of the longer one stays over.
    let shorter = set.iter().map(|skein| task.skeins[*skein].length).min().unwrap_or(0);
    let length = shorter * set.len() as i64;
    let off = task.mean(set) as f64 / PER_PART as f64 / PER_OFF;
    Skein { length: in_metres(length), off, class: task.skeins[set[0]].class }
}

impl Task {
    /// The mean of rows that are taken in equal numbers, in thousandths of parts.
    fn mean(&self, set: &[usize]) -> i64 {
        let offs: i128 = set.iter().map(|skein| i128::from(self.skeins[*skein].off)).sum();
        rounded(offs * i128::from(PER_PART), set.len() as i64)
    }
}

/// The twos of one class.
struct Matched {
    sets: Vec<Vec<usize>>,
    /// In thousandths of parts.
    range: i64,
    is_exact: bool,
}

/// A search among all ways to take skeins two by two: the first that is left goes with each of the others in turn.
struct Matching<'a> {
    task: &'a Task,
    /// The mean of the class, in thousandths of parts.
    centre: i64,
    begun: Vec<Vec<usize>>,
    /// The range and squares of the best, with its twos.
    best: Option<(i64, i128, Vec<Vec<usize>>)>,
}

impl Matching<'_> {
    fn of(task: &Task, mut class: Vec<usize>) -> Matched {
        let mut matching = Matching { task, centre: task.mean(&class), begun: Vec::new(), best: None };
        let is_exact = class.len() <= EXACT_TWOS;
        let odd = (class.len() % 2 == 1).then(|| matching.take_nearest(&mut class));
        if is_exact {
            matching.match_all(&class, i64::MAX, i64::MIN, 0);
        } else {
            class.sort_by_key(|skein| task.skeins[*skein].off);
            let pairs = class.iter().zip(class.iter().rev()).take(class.len() / 2);
            matching.begun = pairs.map(|(a, b)| vec![*a.min(b), *a.max(b)]).collect();
            matching.keep_begun();
        }
        let (range, _, mut sets) = matching.best.expect("invariant: skeins can be taken two by two");
        sets.extend(odd.map(|odd| vec![odd]));
        Matched { sets, range, is_exact }
    }

    /// Takes the skein that is nearest to the mean.
    fn take_nearest(&self, class: &mut Vec<usize>) -> usize {
        let apart = |skein: usize| (self.task.mean(&[skein]) - self.centre).abs();
        let nearest =
            (0..class.len()).min_by_key(|at| apart(class[*at])).expect("invariant: an odd number is not none");
        class.remove(nearest)
    }

    fn keep_begun(&mut self) {
        let means: Vec<i64> = self.begun.iter().map(|set| self.task.mean(set)).collect();
        let range = means.iter().max().unwrap_or(&0) - means.iter().min().unwrap_or(&0);
        let squares = means.iter().map(|mean| i128::from(mean - self.centre).pow(2)).sum();
        self.best = Some((range, squares, self.begun.clone()));
    }

    /// Matches what is left, beside twos whose means reach from the lowest to the highest and have these squares.
    fn match_all(&mut self, left: &[usize], lowest: i64, highest: i64, squares: i128) {
        let range = highest.saturating_sub(lowest).max(0);
        if self.best.as_ref().is_some_and(|best| range > best.0 || (range == best.0 && squares >= best.1)) {
            return;
        }
        let Some((first, others)) = left.split_first() else {
            self.best = Some((range, squares, self.begun.clone()));
            return;
        };
        for at in 0..others.len() {
            let mut left = others.to_vec();
            self.begun.push(vec![*first, left.remove(at)]);
            let mean = self.task.mean(&self.begun[self.begun.len() - 1]);
            let squares = squares + i128::from(mean - self.centre).pow(2);
            self.match_all(&left, lowest.min(mean), highest.max(mean), squares);
            self.begun.pop();
        }
    }
}
