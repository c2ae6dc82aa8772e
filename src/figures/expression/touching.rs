//! The mean width of touching circles: what a plied yarn of unlike plies is wide, seen from all sides.
//!
//! Two circles touch; three to six lie in a ring, each touching its neighbours and a common circle inside, which for three
//! is all of them touching one another. The mean width of the hull is its perimeter over π (Cauchy).

use std::f64::consts::{PI, TAU};

/// The mean width of the hull of touching circles with these diameters, in their unit; two to six of them, all above nought.
pub(super) fn mean_width(diameters: &[f64]) -> f64 {
    let radii: Vec<f64> = diameters.iter().map(|diameter| diameter / 2.0).collect();
    let centres = centres(&radii);
    perimeter(&centres, &radii) / PI
}

/// The derivative of the mean width by diameter `k`, from differences whose leading error is taken out (Richardson).
pub(super) fn derivative(diameters: &[f64], k: usize) -> f64 {
    let difference = |step: f64| {
        let at = |by: f64| {
            let mut moved = diameters.to_vec();
            moved[k] += by;
            mean_width(&moved)
        };
        (at(step) - at(-step)) / (2.0 * step)
    };
    // A thousandth of the diameter: the error left is of the fourth order in it, and rounding takes three digits.
    let step = 1e-3 * diameters[k];
    (4.0 * difference(step / 2.0) - difference(step)) / 3.0
}

/// Where the circles lie.
fn centres(radii: &[f64]) -> Vec<(f64, f64)> {
    if let [first, second] = radii {
        return vec![(0.0, 0.0), (first + second, 0.0)];
    }
    let inner = inner_radius(radii);
    let mut angle = 0.0;
    (0..radii.len())
        .map(|i| {
            let at = inner + radii[i];
            let centre = (at * libm::cos(angle), at * libm::sin(angle));
            angle += between(inner, radii[i], radii[(i + 1) % radii.len()]);
            centre
        })
        .collect()
}

/// Radius of the circle inside the ring: the one at which the angles between neighbours add up to a full turn.
/// They fall from half a turn each to nothing as it grows, so that one radius does it; halving finds it.
fn inner_radius(radii: &[f64]) -> f64 {
    let turn =
        |inner: f64| -> f64 { (0..radii.len()).map(|i| between(inner, radii[i], radii[(i + 1) % radii.len()])).sum() };
    let mut low = 0.0;
    let mut high: f64 = radii.iter().sum();
    while turn(high) > TAU {
        high *= 2.0;
    }
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(low, high);
        if turn(middle) > TAU { low = middle } else { high = middle }
    }
    f64::midpoint(low, high)
}

/// Halvings after which nothing is left of an interval but the last bits.
const HALVINGS: usize = 60;

/// The angle at the middle of the ring between two neighbours, by the half-angle formula of a triangle.
fn between(inner: f64, a: f64, b: f64) -> f64 {
    2.0 * libm::atan((a * b / (inner * (inner + a + b))).sqrt())
}

/// Perimeter of the hull: the integral of how far it reaches in each direction, exactly, piece by piece.
fn perimeter(centres: &[(f64, f64)], radii: &[f64]) -> f64 {
    let mut turns = turning_points(centres, radii);
    turns.sort_by(f64::total_cmp);
    let reach = |i: usize, angle: f64| centres[i].0 * libm::cos(angle) + centres[i].1 * libm::sin(angle) + radii[i];
    let mut perimeter = 0.0;
    for (at, &from) in turns.iter().enumerate() {
        let to = turns.get(at + 1).copied().unwrap_or(turns[0] + TAU);
        let middle = f64::midpoint(from, to);
        let outermost = (0..radii.len())
            .max_by(|&i, &j| reach(i, middle).total_cmp(&reach(j, middle)))
            .expect("invariant: there are two circles or more");
        let (x, y) = centres[outermost];
        perimeter += x * (libm::sin(to) - libm::sin(from)) - y * (libm::cos(to) - libm::cos(from))
            + radii[outermost] * (to - from);
    }
    perimeter
}

/// Directions in which two circles reach equally far, from nought to a full turn; at these the outermost may change.
fn turning_points(centres: &[(f64, f64)], radii: &[f64]) -> Vec<f64> {
    let mut turns = Vec::new();
    for i in 0..radii.len() {
        for j in 0..i {
            let (x, y) = (centres[i].0 - centres[j].0, centres[i].1 - centres[j].1);
            let distance = (x * x + y * y).sqrt();
            let (towards, aside) = (libm::atan2(y, x), (radii[j] - radii[i]) / distance);
            if aside.abs() < 1.0 {
                let open = libm::acos(aside);
                turns.extend([towards + open, towards - open].map(|angle| angle.rem_euclid(TAU)));
            }
        }
    }
    turns
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn equal_circles_have_the_closed_form() {
        // 1 + n ÷ π for a ring of n: the perimeter of its hull is n + π diameters.
        for n in 2..=6 {
            let width = mean_width(&vec![3.0; n]);
            assert!((width / 3.0 - (1.0 + n as f64 / PI)).abs() < 1e-12, "{n}: {width}");
        }
    }

    #[test]
    fn two_unlike_circles_have_the_closed_form() {
        // Belt around two pulleys that touch: 4√(ab) + π(a + b) + 2(a − b) arcsin((a − b) ÷ (a + b)).
        for (a, b) in [(1.0, 1.0), (2.0, 1.0), (5.0, 0.5_f64)] {
            let belt = 4.0 * (a * b).sqrt() + PI * (a + b) + 2.0 * (a - b) * libm::asin((a - b) / (a + b));
            assert!((mean_width(&[2.0 * a, 2.0 * b]) - belt / PI).abs() < 1e-12, "{a} and {b}");
        }
    }

    #[test]
    fn a_thread_between_two_thick_plies_changes_nothing_where_it_lies_inside_their_hull() {
        // A circle in the gap of two equal ones and their common tangent is a quarter as wide.
        let bare = mean_width(&[1.0, 1.0]);
        assert!((mean_width(&[1.0, 1.0, 0.2]) - bare).abs() < 1e-12);
        assert!(mean_width(&[1.0, 1.0, 0.3]) > bare + 1e-3);
    }
}
