//! Runs, stripes and drift against worked tables.

use wheelsheet::figures::colour::formula::{depth, lost_after, out_of_step, run, yarn_in_row, yarn_per_height};
use wheelsheet::figures::drafting::drafted;
use wheelsheet::figures::expression::{Figure, exact};
use wheelsheet::figures::folding::weighed;
use wheelsheet::units::{Length, LinearDensity, Mass, Rows, Share, YarnPerArea};

use super::reached;

/// Stripe lengths, derived by the craft's rule of three: a braid of 113 g and 4.5 m with sections of 30 cm, singles of 6 m/g, a
/// take-up of 5 %, torn into k strips; rounds of 200 and of 60 stitches at 45 stitches to a yard of yarn (read in a published
/// craft text; the table's own rounding of the round, 4.06 m and 1.22 m, is ours).
#[test]
fn stripes_shorten_with_every_doubling_of_strips() {
    let strip = |k: f64| exact::<Mass>("strip", 113.0 / k);
    let share = exact::<Share>("section", 0.30 / 4.5);
    let none = exact::<Share>("none", 0.0);
    let whole = exact::<Share>("the whole yarn", 1.0);
    let single = exact::<LinearDensity>("single", 1.0 / 6.0);
    let finished = exact::<LinearDensity>("finished", 1.0 / 6.0 / 0.95);
    let yard = 0.9144;
    for (k, singles, stripe, body, sleeve) in [
        (1.0, 45.2, 42.9, 10.6, 35.0),
        (2.0, 22.6, 21.5, 5.3, 17.6),
        (4.0, 11.3, 10.7, 2.6, 8.8),
        (8.0, 5.7, 5.4, 1.3, 4.4),
        (16.0, 2.8, 2.7, 0.7, 2.2),
    ] {
        let run = |tex: &Figure<LinearDensity>| run(&strip(k), &share, &whole, tex, &none, &none).value();
        assert!((run(&single) - singles).abs() < 0.06, "{k}: {} m of singles", run(&single));
        assert!((run(&finished) - stripe).abs() < 0.06, "{k}: {} m finished", run(&finished));
        for (stitches, rounds) in [(200.0, body), (60.0, sleeve)] {
            let found = run(&finished) / (stitches / 45.0 * yard);
            assert!(
                (found / rounds - 1.0).abs() < 0.035 || (found - rounds).abs() < 0.06,
                "{k}: {found} rounds against {rounds}"
            );
        }
    }
    reached(run(&strip(1.0), &share, &whole, &single, &none, &none));
}

/// Losing step: p % longer after a length R is p × R out (derived; the table stands in practice as it is printed here).
#[test]
fn plies_are_out_of_step_by_the_rule_of_three() {
    for (p, at_60, at_150, at_300) in [(0.02, 1.2, 3.0, 6.0), (0.05, 3.0, 7.5, 15.0), (0.10, 6.0, 15.0, 30.0)] {
        for (plied, off) in [(60.0, at_60), (150.0, at_150), (300.0, at_300)] {
            let found = out_of_step(&exact::<Share>("p", p), &exact::<Length>("plied", plied)).value();
            assert!((found - off).abs() < 1e-9);
        }
    }
    // Against a stripe of 22.6 m, 5 % is two thirds of a stripe out by 300 m.
    let share = out_of_step(&exact("p", 0.05), &exact("plied", 300.0)).value() / 22.6;
    assert!((share - 2.0 / 3.0).abs() < 0.01);
    let lost = lost_after(&exact::<Length>("run", 22.6), &exact::<Share>("p", 0.05)).value();
    assert!((lost - 226.0).abs() < 1e-9, "half of it is out after 226 m");
    reached(out_of_step(&exact("p", 0.05), &exact("plied", 300.0)));
    reached(lost_after(&exact("run", 22.6), &exact("p", 0.05)));
}

/// A row of 1 m at 20 rows in 10 cm takes what a fifth of a square decimetre takes: by hand.
#[test]
fn a_row_takes_its_share_of_the_area() {
    // Of a swatch, where no piece is told; a piece has its yarn and its height.
    let per_height = yarn_per_height(&exact::<YarnPerArea>("yarn by area", 900.0), &exact::<Length>("width", 1.0));
    let row = yarn_in_row(&per_height, &exact::<Rows>("rows", 200.0));
    assert!((row.value() - 4.5).abs() < 1e-12);
    assert!((depth(&exact::<Length>("run", 27.0), &per_height).value() - 0.03).abs() < 1e-12, "six rows of 5 mm");
    reached(yarn_in_row(&exact::<Share>("yarn by height", 900.0), &exact::<Rows>("rows", 200.0)));
}

/// A strip of 10 g and 2.5 m, 4 g/m, drawn out to a single of 0.2 g/m: twenty times (by hand).
#[test]
fn a_strip_is_drafted_by_the_ratio_of_weights() {
    let strip = weighed(&exact("strip", 10.0), &exact("length", 2.5));
    let draft = drafted(&strip, &exact::<LinearDensity>("single", 0.2));
    assert!((draft.value() - 20.0).abs() < 1e-12);
    reached(draft);
}
