//! Sets of bobbins that are plied together, against a brute force that is written in the plainest way, cases worked by hand, and
//! a solver that is not ours.

use wheelsheet::figures::pairing::{Bobbin, EXACT_BOBBINS, MOST_TEX, Paired, Problem, Unpaired, in_order, pair, sums};

/// Bobbins of classes that stand together, the first class first.
fn problem(tex: &[f64], shape: &[usize], fixed: &[f64]) -> Problem {
    let sets = tex.len() / shape.iter().sum::<usize>();
    let classes = shape.iter().enumerate().flat_map(|(class, count)| vec![class; count * sets]);
    let bobbins = tex.iter().zip(classes).map(|(&tex, class)| Bobbin { tex, class }).collect();
    Problem { bobbins, shape: shape.to_vec(), fixed: fixed.to_vec() }
}

fn paired(problem: &Problem) -> Paired {
    let found = pair(problem).unwrap_or_else(|error| panic!("{problem:?}: {error}"));
    assert_is_whole(problem, &found.sets);
    assert!(found.bound <= found.range, "{problem:?}: {found:?}");
    found
}

/// Each bobbin in one set, as many of each class as the shape says, in order.
fn assert_is_whole(problem: &Problem, sets: &[Vec<usize>]) {
    let mut used: Vec<usize> = sets.concat();
    used.sort_unstable();
    assert!(used.into_iter().eq(0..problem.bobbins.len()), "{sets:?}");
    assert!(sets.is_sorted() && sets.iter().all(|set| set.is_sorted()), "{sets:?}");
    for set in sets {
        for (class, count) in problem.shape.iter().enumerate() {
            assert_eq!(set.iter().filter(|bobbin| problem.bobbins[**bobbin].class == class).count(), *count, "{set:?}");
        }
    }
}

/// Sums of sets and of what is fixed, in whole units of a tenth of a tex.
fn tenths(problem: &Problem, sets: &[Vec<usize>]) -> Vec<i64> {
    let whole = |tex: f64| (tex * 10.0).round() as i64;
    let sum = |set: &Vec<usize>| set.iter().map(|bobbin| whole(problem.bobbins[*bobbin].tex)).sum();
    sets.iter().map(sum).chain(problem.fixed.iter().map(|tex| whole(*tex))).collect()
}

/// The range, and the squares times the number of sets, both whole.
fn worth(sums: &[i64]) -> (i64, i64) {
    let range = sums.iter().max().unwrap_or(&0) - sums.iter().min().unwrap_or(&0);
    let total: i64 = sums.iter().sum();
    (range, sums.len() as i64 * sums.iter().map(|sum| sum * sum).sum::<i64>() - total * total)
}

/// All ways of setting bobbins out: each in turn goes into each set with room, or begins a new one.
fn all_ways(problem: &Problem, bobbin: usize, sets: &mut Vec<Vec<usize>>, found: &mut dyn FnMut(&[Vec<usize>])) {
    let n = problem.bobbins.len();
    if bobbin == n {
        return found(sets);
    }
    let class = problem.bobbins[bobbin].class;
    for set in 0..sets.len() {
        let of_class = sets[set].iter().filter(|other| problem.bobbins[**other].class == class).count();
        if of_class < problem.shape[class] {
            sets[set].push(bobbin);
            all_ways(problem, bobbin + 1, sets, found);
            sets[set].pop();
        }
    }
    if sets.len() < n / problem.shape.iter().sum::<usize>() {
        sets.push(vec![bobbin]);
        all_ways(problem, bobbin + 1, sets, found);
        sets.pop();
    }
}

/// Sets after how good they are.
type Way = ((i64, i64), Vec<Vec<usize>>);

/// The least range and squares, and of all sets that have them those first in order.
fn by_brute_force(problem: &Problem) -> Way {
    let mut best: Option<Way> = None;
    all_ways(problem, 0, &mut Vec::new(), &mut |sets| {
        let way = (worth(&tenths(problem, sets)), sets.to_vec());
        if best.as_ref().is_none_or(|best| way < *best) {
            best = Some(way);
        }
    });
    best.expect("a way")
}

/// A linear congruential stream (D. E. Knuth, *The art of computer programming*, vol. 2).
struct Draws(u64);

impl Draws {
    fn below(&mut self, n: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % n
    }

    /// Linear densities in whole tenths of a tex, of one of several kinds.
    fn tex(&mut self, n: usize) -> Vec<f64> {
        let (kind, outlier) = (self.below(6), self.below(n as u64) as usize);
        let one = |at: usize| match kind {
            0 => 1700,
            1 => 1700 + self.below(2),
            2 => 1500 + self.below(400),
            3 => 1600 + 20 * at as u64 + self.below(10),
            4 => 1600 + 10 * self.below(4),
            _ => 1600 + self.below(100) + if at == outlier { 900 } else { 0 },
        };
        (0..n).map(one).map(|tenths| tenths as f64 / 10.0).collect()
    }

    fn shuffle<T>(&mut self, list: &mut [T]) {
        for at in (1..list.len()).rev() {
            list.swap(at, self.below(at as u64 + 1) as usize);
        }
    }
}

/// Shapes with numbers of sets that a brute force can go through.
const SMALL: [(&[usize], usize); 26] = [
    (&[1], 1),
    (&[1], 5),
    (&[2], 2),
    (&[2], 3),
    (&[2], 4),
    (&[2], 5),
    (&[3], 2),
    (&[3], 3),
    (&[4], 2),
    (&[5], 2),
    (&[9], 1),
    (&[1, 1], 3),
    (&[1, 1], 5),
    (&[1, 1, 1], 2),
    (&[1, 1, 1], 3),
    (&[2, 1], 2),
    (&[2, 1], 3),
    (&[1, 2], 3),
    (&[3, 1], 2),
    (&[2, 2], 2),
    (&[3, 2], 2),
    (&[1, 1, 1, 1], 2),
    (&[1, 1, 1, 1, 1], 2),
    (&[0, 3], 3),
    (&[2, 0, 1], 3),
    (&[4, 1], 2),
];

/// Small problems of every shape, of bobbins in any order, with and without fixed sets.
fn small_problems() -> Vec<Problem> {
    let mut draws = Draws(1);
    let mut problems = Vec::new();
    for round in 0..24 {
        for (shape, sets) in SMALL {
            let size: usize = shape.iter().sum();
            let tex = draws.tex(size * sets);
            let mean = (tex.iter().sum::<f64>() / sets as f64 * 10.0).round();
            let fixed =
                (0..round % 3).map(|_| (mean + draws.below(400) as f64 - 200.0).max(0.0) / 10.0).collect::<Vec<_>>();
            let mut problem = problem(&tex, shape, &fixed);
            draws.shuffle(&mut problem.bobbins);
            problems.push(problem);
        }
    }
    problems
}

#[test]
fn small_problems_are_answered_as_by_brute_force() {
    for problem in small_problems() {
        let found = paired(&problem);
        let ((range, squares), sets) = by_brute_force(&problem);
        assert_eq!(worth(&tenths(&problem, &found.sets)), (range, squares), "{problem:?}");
        assert_eq!(found.sets, sets, "{problem:?}");
        assert!(found.is_exact && found.bound == found.range && found.states > 0, "{found:?}");
        assert_eq!(found.range, range as f64 / 10.0, "{problem:?}");
        let n = (sets.len() + problem.fixed.len()) as f64;
        assert!((found.squares - squares as f64 / n / 100.0).abs() <= 1e-9 * found.squares, "{problem:?}: {found:?}");
    }
}

#[test]
fn in_order_is_as_bobbins_come() {
    let mixed = [(0, 10.0), (1, 20.0), (1, 21.0), (0, 11.0), (0, 12.0), (0, 13.0)];
    let bobbins = mixed.iter().map(|&(class, tex)| Bobbin { tex, class }).collect();
    let problem = Problem { bobbins, shape: vec![2, 1], fixed: vec![50.0] };
    let found = in_order(&problem).expect("whole sets");
    // The first two of the first class with the first of the second: 10 + 11 + 20, 12 + 13 + 21.
    assert_eq!(found.sets, [vec![0, 1, 3], vec![2, 4, 5]]);
    assert_eq!(sums(&problem, &found.sets), Ok(vec![41.0, 46.0]));
    assert_eq!(found.range, 9.0);
    // Mean 137/3; deviations −14/3, 1/3, 13/3.
    assert!((found.squares - 366.0 / 9.0).abs() < 1e-12);
    for problem in small_problems() {
        let (in_order, best) = (in_order(&problem).expect("whole sets"), paired(&problem));
        assert_is_whole(&problem, &in_order.sets);
        assert!(best.range <= in_order.range);
        assert_eq!(in_order.range, worth(&tenths(&problem, &in_order.sets)).0 as f64 / 10.0);
    }
}

/// By how much the greatest is above the least.
fn spread(problem: &Problem, sets: &[Vec<usize>]) -> f64 {
    let sums = sums(problem, sets).expect("a sound problem");
    sums.iter().copied().fold(0.0, f64::max) / sums.iter().copied().fold(f64::INFINITY, f64::min) - 1.0
}

/// Derived by hand. Six bobbins of 16.0 to 18.8 g for each 100 m, which are ten tex, in pairs: as they come 32.4, 34.6 and 37.0 g;
/// the thickest with the thinnest 34.8, 34.6 and 34.6 g.
#[test]
fn six_bobbins_in_pairs() {
    let problem = problem(&[160.0, 164.0, 170.0, 176.0, 182.0, 188.0], &[2], &[]);
    let before = in_order(&problem).expect("whole sets");
    assert_eq!(sums(&problem, &before.sets), Ok(vec![324.0, 346.0, 370.0]));
    assert_eq!(before.range, 46.0);
    assert_eq!(format!("{:.0}", 100.0 * spread(&problem, &before.sets)), "14");
    let after = paired(&problem);
    assert_eq!(after.sets, [[0, 5], [1, 4], [2, 3]]);
    assert_eq!(sums(&problem, &after.sets), Ok(vec![348.0, 346.0, 346.0]));
    assert_eq!((after.range, after.bound, after.is_exact), (2.0, 2.0, true));
    // Mean 1040/3; deviations 4/3, −2/3, −2/3.
    assert!((after.squares - 24.0 / 9.0).abs() < 1e-12);
    assert!(spread(&problem, &after.sets) < 0.01);
}

/// Derived by hand. Nine bobbins whose weight rises by 0.35 g for each 100 m, in threes. Numbers 1 to 9 in threes of 15 each make
/// sums that are equal: 1-5-9, 2-6-7, 3-4-8 and 1-6-8, 2-4-9, 3-5-7.
#[test]
fn nine_bobbins_that_drift_in_threes() {
    let tex: Vec<f64> = (0..9).map(|at| 160.0 + 3.5 * f64::from(at)).collect();
    let problem = problem(&tex, &[3], &[]);
    let before = in_order(&problem).expect("whole sets");
    assert_eq!(before.sets, [[0, 1, 2], [3, 4, 5], [6, 7, 8]]);
    assert_eq!(format!("{:.0}", 100.0 * spread(&problem, &before.sets)), "13");
    let after = paired(&problem);
    assert_eq!(after.sets, [[0, 4, 8], [1, 5, 6], [2, 3, 7]]);
    assert_eq!((after.range, after.squares, after.is_exact), (0.0, 0.0, true));
}

/// Derived by hand. Beside a set of 320 that is plied already, 336 and 334 have a range of 16; 330 and 340, and 324 and 346, more.
#[test]
fn a_fixed_set_counts_and_stays() {
    let problem = problem(&[160.0, 164.0, 170.0, 176.0], &[2], &[320.0]);
    let found = paired(&problem);
    assert_eq!(found.sets, [[0, 3], [1, 2]]);
    assert_eq!((found.range, found.bound), (16.0, 16.0));
    let none_left = Problem { bobbins: Vec::new(), ..problem };
    let found = paired(&none_left);
    assert_eq!((found.sets.len(), found.range, found.squares, found.is_exact), (0, 0.0, 0.0, true));
}

/// A problem of many bobbins, of a kind.
fn large(draws: &mut Draws, shape: &[usize], sets: usize, fixed: usize) -> Problem {
    let tex = draws.tex(sets * shape.iter().sum::<usize>());
    let mean = tex.iter().sum::<f64>() / sets as f64;
    problem(&tex, shape, &vec![mean; fixed])
}

const LARGE: [(&[usize], usize); 9] = [
    (&[2], 30),
    (&[1, 1], 20),
    (&[3], 20),
    (&[1, 1, 1], 8),
    (&[2, 1], 9),
    (&[4], 8),
    (&[7], 3),
    (&[2, 2], 50),
    (&[20], 1),
];

#[test]
fn the_same_problem_has_the_same_answer_and_order_is_no_matter_to_how_good_it_is() {
    let mut draws = Draws(2);
    let mut problems: Vec<Problem> = small_problems().into_iter().step_by(7).collect();
    for (at, (shape, sets)) in LARGE.into_iter().enumerate() {
        problems.push(large(&mut draws, shape, sets, at % 2));
    }
    for mut problem in problems {
        let found = paired(&problem);
        assert_eq!(paired(&problem), found);
        draws.shuffle(&mut problem.bobbins);
        problem.fixed.reverse();
        let other = paired(&problem);
        assert_eq!((other.range, other.squares, other.bound), (found.range, found.squares, found.bound), "{problem:?}");
    }
}

#[test]
fn many_bobbins_are_never_worse_than_in_order_and_sets_of_two_are_exact() {
    let mut draws = Draws(3);
    for (at, (shape, sets)) in LARGE.into_iter().chain([(&[3][..], 66), (&[1, 1][..], 100)]).enumerate() {
        let problem = large(&mut draws, shape, sets, at % 3);
        assert!(problem.bobbins.len() > EXACT_BOBBINS);
        let (found, before) = (paired(&problem), in_order(&problem).expect("whole sets"));
        assert!((found.range, found.squares) <= (before.range, before.squares));
        let is_proven_by_hand = shape.iter().sum::<usize>() == 2 || sets == 1;
        assert!(!is_proven_by_hand || (found.is_exact && found.bound == found.range), "{found:?}");
    }
}

/// Sets that are equally heavy are hidden among bobbins, so that the least range is known to be zero.
#[test]
fn hidden_sets_that_agree_are_nearly_found() {
    let mut draws = Draws(4);
    for sets in [7, 12, 20, 60] {
        let mut tex = Vec::new();
        for _ in 0..sets {
            let (a, b) = (1600 + draws.below(200), 1600 + draws.below(200));
            tex.extend([a, b, 5100 - a - b].map(|tenths| tenths as f64 / 10.0));
        }
        draws.shuffle(&mut tex);
        let found = paired(&problem(&tex, &[3], &[]));
        assert_eq!(found.bound, 0.0);
        assert!(found.range <= 0.001 * 510.0, "{sets} sets: {found:?}");
    }
}

#[test]
fn what_makes_no_sets_is_refused() {
    let sound = problem(&[160.0, 164.0, 170.0], &[2, 1], &[300.0]);
    let refused = |change: &dyn Fn(&mut Problem)| {
        let mut problem = sound.clone();
        change(&mut problem);
        let error = pair(&problem).expect_err("a problem that is not sound");
        assert_eq!(in_order(&problem), Err(error));
        assert_eq!(sums(&problem, &[]), Err(error));
        assert!(!error.to_string().is_empty());
        error
    };
    assert_eq!(refused(&|problem| problem.shape = Vec::new()), Unpaired::EmptyShape);
    assert_eq!(refused(&|problem| problem.shape = vec![0, 0]), Unpaired::EmptyShape);
    assert_eq!(refused(&|problem| problem.shape = vec![3]), Unpaired::NoSuchClass { bobbin: 2 });
    assert_eq!(refused(&|problem| problem.shape = vec![1, 2]), Unpaired::Uneven { class: 0, has: 2, needs: 1 });
    assert_eq!(
        refused(&|problem| problem.shape = vec![usize::MAX, usize::MAX]),
        Unpaired::Uneven { class: 0, has: 2, needs: 0 }
    );
    assert_eq!(refused(&|problem| problem.bobbins.truncate(2)), Unpaired::Uneven { class: 0, has: 2, needs: 0 });
    assert_eq!(refused(&|problem| problem.bobbins = vec![sound.bobbins[0]; 10_001]), Unpaired::TooMany);
    assert_eq!(refused(&|problem| problem.fixed = vec![1.0; 10_001]), Unpaired::TooMany);
    for tex in [f64::NAN, f64::INFINITY, -1.0, 2.0 * MOST_TEX] {
        assert_eq!(refused(&|problem| problem.bobbins[1].tex = tex), Unpaired::BobbinTex { bobbin: 1 });
        assert_eq!(refused(&|problem| problem.fixed[0] = tex), Unpaired::FixedTex { set: 0 });
    }
}

/// The utmost that is taken, which sums of squares must hold.
#[test]
fn the_heaviest_and_the_most_bobbins_are_taken() {
    let mut tex = vec![0.0; 9_999];
    for (at, tex) in tex.iter_mut().enumerate() {
        *tex = if at % 2 == 0 { MOST_TEX } else { 0.0 };
    }
    for shape in [3, 9_999] {
        let found = paired(&problem(&tex, &[shape], &vec![0.0; 10_000]));
        assert!(found.range.is_finite() && found.squares.is_finite() && found.squares > 0.0);
    }
    let few = paired(&problem(&tex[..18], &[6], &[0.0, MOST_TEX]));
    assert!(few.is_exact && few.squares > 0.0);
}

/// How far above the optimum a search may end, as a share of the mean set. Measured at worst 0.00019, in one of the fifty cases of
/// many bobbins; the others reach the optimum.
const MOST_ABOVE: f64 = 0.0005;

/// How many of the fifty at least reach the optimum, and how many bounds do; measured 49 and 21.
const LEAST_REACHED: (u32, u32) = (45, 20);

#[test]
fn larger_problems_against_a_solver() {
    let text = include_str!("../reference/pairing-solver.csv");
    let rows: Vec<Vec<&str>> =
        text.lines().filter(|line| !line.starts_with('#')).skip(1).map(|line| line.split(',').collect()).collect();
    assert!(rows.len() == 60);
    let (mut reached, mut proven) = (0, 0);
    for row in &rows {
        let numbers = |column: usize| -> Vec<f64> {
            row[column].split_whitespace().map(|number| number.parse().expect("a number")).collect()
        };
        let shape: Vec<usize> = numbers(1).into_iter().map(|count| count as usize).collect();
        let problem = problem(&numbers(2), &shape, &numbers(3));
        let optimum = numbers(4)[0];
        let found = paired(&problem);
        assert!(found.range >= optimum && found.bound <= optimum, "{row:?}: {found:?}");
        assert!(!found.is_exact || found.range == optimum, "{row:?}: {found:?}");
        let sums = sums(&problem, &found.sets).expect("a sound problem");
        let above = (found.range - optimum) / (sums.iter().sum::<f64>() / sums.len() as f64);
        assert!(above <= MOST_ABOVE, "{row:?}: {found:?}");
        if problem.bobbins.len() <= EXACT_BOBBINS {
            assert_eq!((found.range, found.is_exact), (optimum, true), "{row:?}: {found:?}");
            continue;
        }
        reached += u32::from(found.range == optimum);
        proven += u32::from(found.bound == optimum);
    }
    assert!(reached >= LEAST_REACHED.0 && proven >= LEAST_REACHED.1, "{reached} reached, {proven} proven");
}
