//! The machinery of spread against published examples and three packages that are not ours.
//!
//! The examples are those of JCGM 100:2008 (GUM), annexes H.1 and H.2, and of JCGM 101:2008, 9.2. What the packages answer
//! stands in `tests/reference/uncertainty.csv`; the script beside it asks them again.

#[path = "spread.rs"]
mod spread;

use std::sync::Arc;

use wheelsheet::figures::expression::draws::{self, DRAWS, normal_quantile};
use wheelsheet::figures::expression::tape::Tape;
use wheelsheet::figures::expression::{Entry, Figure, Node, Shape, cos, exact, sin, sum};
use wheelsheet::units::{Angle, Count, Quantity, Share};

use super::reference::ledgers::{nineteen_in_twenty, sorted_draws, written};
use super::reference::{assert_close, assert_printed, rows};

/// Packages round to ten digits.
const TEN_DIGITS: f64 = 1e-9;

/// What a package answers to an example; `of` is the quantity as the table names it.
fn answer(package: &str, example: &str, of: &str) -> f64 {
    let table = rows(include_str!("../reference/uncertainty.csv"));
    let row = table.iter().find(|row| row["package"] == package && row["example"] == example && row["quantity"] == of);
    row.unwrap_or_else(|| panic!("{package} was not asked for {of} of {example}"))["value"].parse().expect("a number")
}

fn entry<Q: Quantity>(name: &str, value: f64, uncertainty: f64, shape: Shape) -> Figure<Q> {
    Figure::entry(Entry { place: name.to_owned(), words: name.to_owned(), value, uncertainty, shape })
}

/// First order: value, standard uncertainty, and what each entry brings, by its place.
struct FirstOrder {
    value: f64,
    uncertainty: f64,
    brings: Vec<(String, f64)>,
}

fn first_order(node: &Arc<Node>) -> FirstOrder {
    let tape = Tape::new([node]);
    let at = tape.find(node).expect("a tape holds its root");
    let values = tape.values();
    let slopes = tape.derivatives(at, &values);
    let brings: Vec<(String, f64)> =
        tape.entries().map(|(step, entry)| (entry.place.clone(), slopes[step] * entry.uncertainty)).collect();
    let variance: f64 = tape.variances(at, &values).iter().map(|(_, variance)| variance).sum();
    let squares: f64 = brings.iter().map(|(_, part)| part * part).sum();
    assert!((variance - squares).abs() <= 1e-12 * squares, "variances are squares of what entries bring");
    FirstOrder { value: node.value(), uncertainty: variance.sqrt(), brings }
}

fn correlation(a: &FirstOrder, b: &FirstOrder) -> f64 {
    let parts = a
        .brings
        .iter()
        .flat_map(|(place, x)| b.brings.iter().filter(move |(other, _)| other == place).map(move |(_, y)| x * y));
    parts.sum::<f64>() / (a.uncertainty * b.uncertainty)
}

fn deviation(column: &[f64]) -> f64 {
    let mean = column.iter().sum::<f64>() / column.len() as f64;
    (column.iter().map(|x| (x - mean) * (x - mean)).sum::<f64>() / column.len() as f64).sqrt()
}

/// GUM, table H.2: five readings of voltage / V, current / mA and phase / rad, taken together (from memory; means, standard
/// uncertainties and correlations agree with those printed in the documentation of GTC).
const READINGS: [[f64; 3]; 5] = [
    [5.007, 19.663, 1.0456],
    [4.994, 19.639, 1.0438],
    [5.005, 19.640, 1.0468],
    [4.990, 19.685, 1.0428],
    [4.999, 19.678, 1.0433],
];

/// The mean of one column of readings, written over independent normals that all columns share: reading k is off the mean
/// by so much, and so the means vary and correlate as GUM 5.2.3 says. No table of covariances is needed.
fn mean_of_readings<Q>(column: usize, scale: f64) -> Figure<Q>
where
    Q: Quantity + wheelsheet::figures::expression::dimension::Times<Share, Out = Q>,
{
    let n = READINGS.len() as f64;
    let mean = READINGS.iter().map(|row| row[column] * scale).sum::<f64>() / n;
    let deviations = READINGS.iter().enumerate().map(|(k, row)| {
        let off = (row[column] * scale - mean) / (n * (n - 1.0)).sqrt();
        exact::<Q>(&format!("deviation {column} {k}"), off)
            * entry::<Share>(&format!("normal {k}"), 0.0, 1.0, Shape::Normal)
    });
    let parts: Vec<Figure<Q>> = std::iter::once(exact(&format!("mean {column}"), mean)).chain(deviations).collect();
    sum(&parts)
}

/// Resistance, reactance and impedance, in ohms.
fn impedance() -> [(&'static str, Figure<Share>); 3] {
    let voltage = mean_of_readings::<Share>(0, 1.0);
    let current = mean_of_readings::<Share>(1, 1e-3);
    let phase = mean_of_readings::<Angle>(2, 1.0);
    [("R", &voltage * cos(&phase) / &current), ("X", &voltage * sin(&phase) / &current), ("Z", &voltage / &current)]
}

#[test]
fn correlated_inputs_give_what_the_packages_give() {
    let results = impedance().map(|(name, figure)| (name, first_order(figure.node())));
    for package in ["uncertainties", "GTC"] {
        for (name, result) in &results {
            assert_close(result.value, answer(package, "H.2", name), TEN_DIGITS, name);
            assert_close(result.uncertainty, answer(package, "H.2", &format!("u({name})")), TEN_DIGITS, name);
        }
        for (a, b) in [(0, 1), (0, 2), (1, 2)] {
            let of = format!("r({},{})", results[a].0, results[b].0);
            assert_close(correlation(&results[a].1, &results[b].1), answer(package, "H.2", &of), TEN_DIGITS, &of);
        }
    }
    // As the documentation of GTC prints them: 127.732(70), 219.85(30), 254.26(24); -0.59, -0.49, 0.99.
    // It starts from inputs that are rounded already, so its last digit may be off by one.
    for ((_, result), (value, uncertainty)) in
        results.iter().zip([("127.732", 0.070), ("219.85", 0.30), ("254.26", 0.24)])
    {
        assert_printed(result.value, value, "GUM H.2");
        assert!((result.uncertainty - uncertainty).abs() < 0.0055, "{}", result.uncertainty);
    }
}

#[test]
fn draws_of_correlated_inputs_agree_with_numpy() {
    let columns = impedance().map(|(name, figure)| (name, draws::draws(figure.node())));
    for (name, column) in &columns {
        // Ten thousand draws know their standard deviation to 0.7 %; numpy's four million to 0.04 %.
        assert_close(deviation(column), answer("numpy", "H.2", &format!("u({name})")), 0.03, name);
    }
    let mean = |column: &[f64]| column.iter().sum::<f64>() / column.len() as f64;
    for (a, b) in [(0, 1), (0, 2), (1, 2)] {
        let ((name, x), (other, y)) = (&columns[a], &columns[b]);
        let (mean_x, mean_y) = (mean(x), mean(y));
        let together = x.iter().zip(y).map(|(x, y)| (x - mean_x) * (y - mean_y)).sum::<f64>() / DRAWS as f64;
        let got = together / (deviation(x) * deviation(y));
        let of = format!("r({name},{other})");
        // A correlation of ten thousand draws is off by (1 - r²) ÷ 100 as one standard deviation.
        assert!((got - answer("numpy", "H.2", &of)).abs() < 0.03, "{of}: {got}");
    }
}

/// GUM, annex H.1, in nanometres: the length of an end gauge, ls + d - ls (dalpha theta + alpha dtheta).
fn gauge() -> Figure<Share> {
    let rectangular =
        |name: &str, value: f64, half: f64| entry::<Share>(name, value, half / 3f64.sqrt(), Shape::Rectangular);
    let normal = |name: &str, value: f64, u: f64| entry::<Share>(name, value, u, Shape::Normal);
    let standard = normal("ls", 50_000_623.0, 25.0);
    let difference = sum(&[normal("d0", 215.0, 5.8), normal("d1", 0.0, 3.9), normal("d2", 0.0, 6.7)]);
    let temperature = normal("theta", -0.1, 0.2) + entry::<Share>("delta", 0.0, 0.5 / 2f64.sqrt(), Shape::Arcsine);
    let expansion = rectangular("dalpha", 0.0, 1e-6) * temperature
        + rectangular("alpha", 11.5e-6, 2e-6) * rectangular("dtheta", 0.0, 0.05);
    &standard + difference - &standard * expansion
}

#[test]
fn the_end_gauge_comes_out_as_published() {
    let length = first_order(gauge().node());
    for package in ["uncertainties", "GTC"] {
        assert_close(length.value, answer(package, "H.1", "l"), TEN_DIGITS, "length");
        assert_close(length.uncertainty, answer(package, "H.1", "u(l)"), TEN_DIGITS, "uncertainty");
    }
    // As the documentation of GTC prints them: 50 000 838, 32; and what each input brings.
    assert_printed(length.value, "50000838", "length");
    assert_printed(length.uncertainty, "32", "uncertainty");
    let published = [
        ("ls", 25.0),
        ("dtheta", 16.599),
        ("d2", 6.7),
        ("d0", 5.8),
        ("d1", 3.9),
        ("dalpha", 2.88679),
        ("theta", 0.0),
        ("delta", 0.0),
        ("alpha", 0.0),
    ];
    for (place, printed) in published {
        let (_, part) = length.brings.iter().find(|(known, _)| known == place).expect("an input");
        assert!((part.abs() - printed).abs() < 1e-3, "{place}: {part}");
    }
}

/// Two inputs of the end gauge have no slope at the nominal point, and yet they matter: first order says 32, and draws say 34, as
/// GUM does with terms of second order. Both are right.
#[test]
fn first_order_and_draws_of_the_end_gauge_differ_as_they_should() {
    let column = sorted_draws(gauge().node());
    let drawn = deviation(&column);
    assert_close(drawn, answer("numpy", "H.1", "u(l)"), 0.02, "draws");
    assert_printed(drawn, "34", "as with terms of second order");
    let (low, high) = nineteen_in_twenty(gauge().node());
    for (got, of) in [(low, "low(l)"), (high, "high(l)")] {
        // A quantile so far out is known to about 0.03 standard deviations.
        assert!((got - answer("numpy", "H.1", of)).abs() < 0.1 * drawn, "{of}: {got}");
    }
}

fn sum_of_four(shape: Shape) -> Figure<Share> {
    sum(&[1, 2, 3, 4].map(|k| entry::<Share>(&format!("x{k}"), 0.0, 1.0, shape)))
}

/// JCGM 101:2008, 9.2: four inputs of mean 0 and standard uncertainty 1.
#[test]
fn a_sum_of_four_has_the_published_interval() {
    for shape in [Shape::Normal, Shape::Rectangular, Shape::Arcsine] {
        let four = first_order(sum_of_four(shape).node());
        assert_close(four.uncertainty, answer("uncertainties", "9.2", "u(sum)"), TEN_DIGITS, "first order");
        assert_close(four.uncertainty, answer("GTC", "9.2", "u(sum)"), TEN_DIGITS, "first order");
    }
    // Normal: 3.92. Rectangular: the exact end is 2 √3 (2 - 0.6^(1/4)) = 3.8794 (derived; 3.88 published, from memory).
    let rectangular = 2.0 * 3f64.sqrt() * (2.0 - 0.6f64.sqrt().sqrt());
    assert_printed(rectangular, "3.8794", "exact end");
    for (shape, name, end) in
        [(Shape::Normal, "normal sum", 3.919_93), (Shape::Rectangular, "rectangular sum", rectangular)]
    {
        let (low, high) = nineteen_in_twenty(sum_of_four(shape).node());
        // One standard deviation of this quantile is 0.045 with ten thousand draws.
        for got in [
            -low,
            high,
            answer("numpy", "9.2", &format!("high({name})")),
            -answer("numpy", "9.2", &format!("low({name})")),
        ] {
            assert!((got - end).abs() < 0.1, "{name}: {got} where {end} is exact");
        }
    }
}

#[test]
fn normal_quantiles_are_those_of_scipy() {
    for row in rows(include_str!("../reference/normal-quantiles.csv")) {
        let (p, expected): (f64, f64) = (row["p"].parse().expect("a number"), row["scipy"].parse().expect("a number"));
        let got = normal_quantile(p);
        // What the last bits of p and of the quantile itself are worth.
        let room = 4.0 * f64::EPSILON * (expected.abs() + p / density(expected));
        assert!((got - expected).abs() <= room, "p {p}: expected {expected}, got {got}");
    }
}

fn density(z: f64) -> f64 {
    libm::exp(-z * z / 2.0) / (2.0 * std::f64::consts::PI).sqrt()
}

/// What stands after `±` holds nineteen times in twenty: half of it is the standard uncertainty.
#[test]
fn give_or_take_is_nineteen_in_twenty() {
    let plan = written(
        "[plan]\ntitle = \"T\"\n[fibre.wool]\nkind = \"wool\"\nweight = \"300 ± 12 g\"\n\
         [wheel]\nwhorls = { slow = \"9:1\" }\n[yarn]\nplies = 2\nwraps = \"24 ± 2 wpi\"\nwash-shortens = \"5 ± 3 %\"\n",
    );
    let one_wrap = 1.0 / 0.0254;
    assert_close(plan.ledger.get("washed.wraps").uncertainty, one_wrap, 1e-12, "half of what is written");
    assert_close(plan.ledger.get("fibre.wool.weight").uncertainty, 6.0, 1e-12, "half of what is written");
    for (name, off) in [("washed.wraps", 2.0 * one_wrap), ("fibre.wool.weight", 12.0)] {
        let line = plan.ledger.get(name);
        let within = sorted_draws(plan.node(name)).iter().filter(|x| (**x - line.value).abs() <= off).count();
        let share = within as f64 / DRAWS as f64;
        // 2 instead of 1.96 standard deviations: 95.45 % of a normal reading; a log-normal one is a little off that.
        assert!((share - 0.9545).abs() < 0.004, "{name}: {share}");
    }
}

/// The shapes of entries, by their quantiles: the nominal value is the median of each.
#[test]
fn draws_have_the_shape_of_their_entry() {
    for shape in [Shape::Normal, Shape::LogNormal, Shape::Rectangular, Shape::Arcsine] {
        let figure = entry::<Count>("ten", 10.0, 1.0, shape);
        let column = sorted_draws(figure.node());
        let median = (column[DRAWS / 2 - 1] + column[DRAWS / 2]) / 2.0;
        assert!((median - 10.0).abs() < 1e-3, "{shape:?}: {median}");
        assert!((deviation(&column) - 1.0).abs() < 0.005, "{shape:?}: {}", deviation(&column));
        let (least, most) = (column[0], column[DRAWS - 1]);
        let end = match shape {
            Shape::Rectangular => 3f64.sqrt(),
            Shape::Arcsine => 2f64.sqrt(),
            Shape::Normal | Shape::LogNormal => f64::INFINITY,
        };
        assert!(least >= 10.0 - end && most <= 10.0 + end && least > 0.0, "{shape:?}: {least} to {most}");
    }
    let wide = sorted_draws(entry::<Count>("wide", 1.0, 2.0, Shape::LogNormal).node());
    assert!(wide[0] > 0.0, "no weight is negative, however little is known of it");
}
