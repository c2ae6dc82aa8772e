//! The arithmetic of colour against published pairs, three packages that are not ours, and the papers' own tables.

use std::collections::BTreeMap;

use palette::color_difference::Ciede2000;
use palette::white_point::D65;
use palette::{IntoColor, Lab, LinSrgb, Mix, Oklab, Srgb};

use wheelsheet::figures::colour::tint::{Tint, difference};

use super::rows;

fn tint(hex: &str) -> Tint {
    Tint::of_hex(hex).unwrap_or_else(|| panic!("{hex} is a colour"))
}

fn numbers<const N: usize>(row: &BTreeMap<String, String>, columns: [&str; N]) -> [f64; N] {
    columns.map(|column| row[column].parse().unwrap_or_else(|_| panic!("{column}: {} is a number", row[column])))
}

fn assert_near(got: [f64; 3], expected: [f64; 3], room: f64, of: &str) {
    let is_near = got.iter().zip(expected).all(|(got, expected)| (got - expected).abs() <= room);
    assert!(is_near, "{of}: expected {expected:?}, got {got:?}");
}

/// G. Sharma, W. Wu and E. N. Dalal, *The CIEDE2000 color-difference formula*, 2005, table 1. Four decimals are
/// printed. The hues of pair 14 are opposite, and our rule for them is the paper's own, so what is printed comes out
/// and not the other.
#[test]
fn differences_are_those_that_the_authors_print() {
    let table = rows(include_str!("../reference/ciede2000.csv"));
    assert_eq!(table.len(), 34);
    for row in table {
        let (one, other) = (numbers(&row, ["l1", "a1", "b1"]), numbers(&row, ["l2", "a2", "b2"]));
        let [printed] = numbers(&row, ["difference"]);
        let got = difference(one, other);
        assert!((got - printed).abs() < 1e-4, "pair {}: printed {printed}, got {got}", row["pair"]);
        assert!((got - difference(other, one)).abs() < 1e-12, "pair {} the other way round", row["pair"]);
    }
}

/// Colours of sRGB by coloraide; half of the last digit printed, and a hair.
#[test]
fn primaries_and_others_lie_where_a_package_puts_them() {
    let table = rows(include_str!("../reference/colour-spaces.csv"));
    assert_eq!(table.len(), 12);
    for row in table {
        let (tint, expected) = (tint(&row["hex"]), numbers(&row, ["first", "second", "third"]));
        match row["space"].as_str() {
            "OKLab" => assert_near(tint.oklab(), expected, 0.51e-6, &row["hex"]),
            "CIELAB" => assert_near(tint.lab(), expected, 0.51e-4, &row["hex"]),
            other => panic!("{other} is no space of this table"),
        }
    }
}

/// Random colours by colour-science and by coloraide. Nine decimals are printed; the two differ in OKLab by up to
/// 0.00012, since colour-science goes there by XYZ, and ours is the author's matrix for sRGB, in ten digits.
#[test]
fn a_hundred_colours_lie_and_differ_and_mix_as_packages_have_it() {
    let table = rows(include_str!("../reference/colour-hundred.csv"));
    assert_eq!(table.len(), 100);
    for (row, next) in table.iter().zip(table.iter().cycle().skip(1)) {
        let (hex, one, other) = (&row["hex"], tint(&row["hex"]), tint(&next["hex"]));
        assert_near(one.lab(), numbers(row, ["lab-l", "lab-a", "lab-b"]), 2e-9, hex);
        assert_near(one.oklab(), numbers(row, ["ok-l", "ok-a", "ok-b"]), 1.3e-4, hex);
        assert_near(one.oklab(), numbers(row, ["coloraide-l", "coloraide-a", "coloraide-b"]), 1e-7, hex);
        let [expected, weight] = numbers(row, ["difference", "weight"]);
        let got = one.difference(other);
        assert!((got - expected).abs() < 2e-9, "{hex}: expected {expected}, got {got}");
        assert_eq!(Tint::mixed(&[(one, weight), (other, 10.0 - weight)]).hex(), row["mixed"], "{hex} and the next");
    }
}

/// Random colours as an eye without green-sensitive cones takes them, by colour-science.
#[test]
fn a_hundred_colours_are_taken_without_green_cones_as_a_package_has_it() {
    let table = rows(include_str!("../reference/colour-blind.csv"));
    assert_eq!(table.len(), 100);
    for row in table {
        assert_eq!(tint(&row["hex"]).without_green_cones().hex(), row["seen"], "{}", row["hex"]);
    }
}

/// The same colours by the crate palette, as it reads, turns, mixes and compares them. Its CIELAB has D65 and a matrix
/// in fewer digits, so there it is near only. Its CIEDE2000 of our CIELAB lets the mean hue pass 360° where the paper
/// takes 360° off (equation 14), which shows in the fifth decimal among reds and blues.
#[test]
fn a_hundred_colours_are_those_of_the_crate_palette() {
    let table = rows(include_str!("../reference/colour-hundred.csv"));
    for (row, next) in table.iter().zip(table.iter().cycle().skip(1)) {
        let [one, other] = [row, next].map(|row| tint(&row["hex"]));
        let [their_one, their_other] = [row, next].map(|row| linear(&row["hex"]));
        let oklab: Oklab<f64> = their_one.into_color();
        assert_near(one.oklab(), [oklab.l, oklab.a, oklab.b], 1e-12, &row["hex"]);
        let lab: Lab<D65, f64> = their_one.into_color();
        assert_near(one.lab(), [lab.l, lab.a, lab.b], 0.02, &row["hex"]);
        let [ours, theirs] = [one, other].map(|tint| Lab::<D65, f64>::from_components(tint.lab().into()));
        assert!((one.difference(other) - ours.difference(theirs)).abs() < 5e-5, "{} and the next", row["hex"]);
        let mixed: Srgb<f64> = Srgb::from_linear(their_one.mix(their_other, 0.25));
        let mixed = mixed.into_format::<u8>();
        let expected = format!("#{:02x}{:02x}{:02x}", mixed.red, mixed.green, mixed.blue);
        assert_eq!(Tint::mixed(&[(one, 3.0), (other, 1.0)]).hex(), expected, "{} and the next", row["hex"]);
    }
}

fn linear(hex: &str) -> LinSrgb<f64> {
    let colour: Srgb<u8> = hex.parse().expect("a colour");
    colour.into_format::<f64>().into_linear()
}
