//! Skeins to pieces through whole plans: yarn is neither made nor lost, and what is said of steps is so by plain arithmetic.

use wheelsheet::figures::chart::GOOD_WITHIN;
use wheelsheet::figures::garments::{Allotment, Working};

use super::reference::ledgers::{self, Worked};

/// Weight per length of a skein over what was aimed at, as the log measures it.
fn off(worked: &Worked, skein: usize) -> f64 {
    worked.value(&format!("logged.skein.{skein}.off"))
}

/// The mean of skeins that are worked in turn, rows of each in equal numbers.
fn in_turn(worked: &Worked, skeins: &[usize]) -> f64 {
    skeins.iter().map(|skein| off(worked, *skein)).sum::<f64>() / skeins.len() as f64
}

/// The mean of all skeins by their lengths.
fn mean(worked: &Worked, skeins: &[usize]) -> f64 {
    let length = |skein: &usize| worked.value(&format!("logged.skein.{skein}.length"));
    let weight: f64 = skeins.iter().map(|skein| length(skein) * off(worked, *skein)).sum();
    weight / skeins.iter().map(length).sum::<f64>()
}

/// Of each copy what it takes: sets of skeins, with the metres of each.
fn takes(worked: &Worked, allotment: &Allotment) -> Vec<Vec<(Vec<usize>, f64)>> {
    let of = |copy: usize| {
        let sets = allotment.takes(copy).into_iter().enumerate();
        let metres = |turn: usize| worked.value(&format!("{}.{}.{}", allotment.stage, copy + 1, turn + 1));
        sets.map(|(turn, set)| (set, metres(turn))).collect()
    };
    (0..allotment.copies.len()).map(of).collect()
}

/// The largest step of a sewn garment, of which all pieces meet: from one set of skeins to the next within a piece, and from piece to
/// piece, where neither is a band.
fn largest_step(worked: &Worked, allotment: &Allotment) -> f64 {
    const BANDS: [&str; 3] = ["sleeve-cuff", "hem", "neckband"];
    let made = &worked.ledger.garments[allotment.garment];
    let all: Vec<usize> = allotment.skeins.clone();
    let whole = mean(worked, &all);
    let (mut step, mut means) = (0.0_f64, Vec::new());
    for (copy, takes) in allotment.copies.iter().zip(takes(worked, allotment)) {
        if BANDS.contains(&made.pieces[copy.piece].name.as_str()) {
            continue;
        }
        let offs: Vec<(f64, f64)> = takes.iter().map(|(set, metres)| (in_turn(worked, set) / whole, *metres)).collect();
        step = offs.windows(2).map(|pair| (pair[0].0 - pair[1].0).abs()).fold(step, f64::max);
        let metres: f64 = offs.iter().map(|(_, metres)| metres).sum();
        means.push(offs.iter().map(|(off, metres)| off * metres).sum::<f64>() / metres);
    }
    for (i, a) in means.iter().enumerate() {
        step = means[i + 1..].iter().map(|b| (a - b).abs()).fold(step, f64::max);
    }
    step
}

#[test]
fn every_piece_has_its_yarn_and_no_skein_gives_more_than_it_has() {
    let worked = ledgers::project("plied-in-order");
    let [allotment] = worked.ledger.allotments.as_slice() else { panic!("one ply plan, one garment") };
    let made = &worked.ledger.garments[allotment.garment];
    let mut left: Vec<(Vec<usize>, f64)> = Vec::new();
    for (copy, takes) in allotment.copies.iter().zip(takes(worked, allotment)) {
        let piece = &made.pieces[copy.piece];
        let need = worked.value(&format!("{}.taken", piece.stage)) / piece.count as f64;
        let taken: f64 = takes.iter().map(|(_, metres)| metres).sum();
        assert!((taken - need).abs() < 1e-5, "{copy:?} takes {taken} of {need}");
        for (set, metres) in takes {
            match left.iter_mut().find(|(known, _)| *known == set) {
                Some((_, all)) => *all += metres,
                None => left.push((set, metres)),
            }
        }
    }
    for (set, metres) in left {
        // In turn both are used alike, and the shorter one ends them.
        let length = |skein: &usize| worked.value(&format!("logged.skein.{skein}.length"));
        let has = set.len() as f64 * set.iter().map(length).fold(f64::INFINITY, f64::min);
        assert!(metres <= has + 1e-5, "{set:?} give {metres} of {has}");
    }
}

#[test]
fn the_largest_step_is_what_is_said() {
    let worked = ledgers::project("plied-in-order");
    let allotment = &worked.ledger.allotments[0];
    assert_eq!(allotment.working(), Working::Twos, "the project shows skeins that are worked in turn");
    let said = |what: &str| worked.value(&format!("{}.{what}", allotment.stage));
    let step = largest_step(worked, allotment);
    assert!((step - said("step-of-twos")).abs() < 1e-6, "{step}, said to be {}", said("step-of-twos"));
    assert!(said("step-of-twos") < said("step") && said("step") < said("step-in-order"));
    assert!(said("bound") <= said("step"));
    assert!(said("step") > GOOD_WITHIN);
}

const PLAN: &str = r#"
[plan]
title = "Four skeins"
units = "metric"

[fibre.wool]
kind = "wool"
weight = "WEIGHT"

[wheel]
whorls = { slow = "6:1", fast = "9:1" }
draw = "short forward"
length-per-treadle = "5 cm"
bobbin-holds = "100 g"

[yarn]
plies = 2
wraps = "10 wpi"
grist = "180 m/100 g"

[garment.jumper]
craft = "knit"
stitch = "stocking stitch"
needle = "4 mm"
gauge = "19 st, 27 rows / 10 cm"
shape = "drop-shoulder pullover"
body = { whom = "child", chest = "60 cm", neck = "30 cm", wrist = "13 cm" }
measures = { hem = "6 cm", cuff-depth = "6 cm" }
"#;

/// Skeins of a hundred grams with these weights per length over 180 m/100 g, each of two bobbins.
fn jumper(offs: &[f64]) -> Worked {
    let mut log = String::new();
    for (i, off) in offs.iter().enumerate() {
        for bobbin in [2 * i + 1, 2 * i + 2] {
            log.push_str(&format!(
                "[[bobbin]]\nnumber = {bobbin}\ndate = 2026-01-{bobbin:02}\nfull = \"101 g\"\nempty = \"50 g\"\n"
            ));
        }
        log.push_str(&format!(
            "[[skein]]\nnumber = {0}\ndate = 2026-02-01\nbobbins = [{1}, {2}]\nloops = 100\nwashed-loop = \"{3:.4} m\"\nweight = \"96 g\"\n",
            i + 1,
            2 * i + 1,
            2 * i + 2,
            1.8 * 0.96 / off
        ));
    }
    let plan = PLAN.replace("WEIGHT", &format!("{} g", 103 * offs.len()));
    ledgers::written_with_log(&plan, &log)
}

/// Common practice, no source: what is off goes to hems and bands, or stays over.
#[test]
fn what_is_off_goes_where_it_does_not_show() {
    let worked = jumper(&[1.0, 1.0, 1.25, 1.0]);
    let allotment = &worked.ledger.allotments[0];
    assert_eq!(allotment.working(), Working::Sorted);
    let made = &worked.ledger.garments[0];
    for (i, copy) in allotment.copies.iter().enumerate() {
        let name = made.pieces[copy.piece].name.as_str();
        let is_band = matches!(name, "sleeve-cuff" | "hem" | "neckband");
        assert!(is_band || !allotment.takes(i).contains(&vec![3]), "skein 3 is in {name}");
    }
    assert!(worked.value(&format!("{}.step-in-order", allotment.stage)) > 0.2);
    assert!(worked.value(&format!("{}.step", allotment.stage)) < 1e-3);
}

/// Skeins that are alike are worked as they come, and nothing is searched for.
#[test]
fn like_skeins_stay_as_they_come() {
    let worked = jumper(&[1.0, 1.02, 0.99, 1.01]);
    let allotment = &worked.ledger.allotments[0];
    assert_eq!(allotment.working(), Working::InOrder);
    assert!(worked.ledger.find(&format!("{}.step", allotment.stage)).is_none());
}
