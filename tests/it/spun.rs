//! Whole plans with logs of what was really spun: from their texts to the ledger, in worlds in which the truth is
//! known.

use rayon::prelude::*;
use wheelsheet::diagnostics::Diagnostic;
use wheelsheet::figures::Ledger;
use wheelsheet::figures::chart::{Band, Moved};
use wheelsheet::figures::even::Evenness;
use wheelsheet::sheets::Sheets;
use wheelsheet::source::Project;
use wheelsheet::{Worked, sheets, work_out};

use super::reference::ledgers::{of_texts, written, written_with_log};
use super::simulated_spinner::{Chance, stepped};

/// Twelve bobbins of about 50 g for four sets of three plies.
const TWELVE: &str = r#"[plan]
title = "Twelve bobbins"
scale = "0.1 g"
[fibre.wool]
kind = "wool"
weight = "600.0 g"
[wheel]
whorls = { slow = "6:1", middle = "9:1", fast = "14:1" }
bobbin-holds = "160 g"
[yarn]
plies = 3
grist = "1000 yd/lb"
wraps = "11 wpi"
"#;

/// What the plan aims at, in grams to the metre: 1000 yd/lb washed, and the singles of it as they lie on the bobbin.
fn aims() -> (f64, f64) {
    let plan = written(TWELVE);
    assert_eq!(plan.ledger.deal.bobbins.len(), 12, "the plan is of twelve bobbins");
    (plan.value("washed.tex"), plan.value("singles.wound-tex"))
}

/// All that the ledger says of a figure but its formula: name, words, value, bands, uncertainty.
type Row = (String, String, [f64; 5]);

fn rows(ledger: &Ledger) -> Vec<Row> {
    let of = |line: &wheelsheet::figures::Line| {
        let numbers = [line.value, line.bands.low, line.bands.median, line.bands.high, line.uncertainty];
        (line.name.clone(), line.words.clone(), numbers)
    };
    ledger.lines().map(of).collect()
}

fn sound(project: &Project) -> (Worked, Vec<String>) {
    let outcome = work_out(project);
    let mut told: Vec<String> = outcome.diagnostics.iter().map(|fault: &Diagnostic| fault.message.clone()).collect();
    told.sort();
    (outcome.worked.unwrap_or_else(|| panic!("{told:#?}")), told)
}

/// Entries of a log, each a text.
fn shuffled(entries: &[String], seed: u64) -> Vec<String> {
    let mut chance = Chance::new(seed);
    let mut keyed: Vec<(f64, &String)> = entries.iter().map(|entry| (chance.between(0.0, 1.0), entry)).collect();
    keyed.sort_by(|a, b| a.0.total_cmp(&b.0));
    keyed.into_iter().map(|(_, entry)| entry.clone()).collect()
}

/// Seven bobbins over four days, two skeins of one day, and a reference skein that is read a little otherwise at each
/// entry.
fn measured() -> Vec<String> {
    let bobbin = |n: usize, full: f64, check: f64, reference: f64| {
        format!(
            "[[bobbin]]\nnumber = {n}\ndate = 2026-03-{:02}\nfull = \"{full} g\"\nempty = \"58.0 g\"\n\
             check = {{ length = \"20 m\", weight = \"{check} g\" }}\nreference-skein = \"{reference} g\"\n",
            2 + n.div_ceil(2)
        )
    };
    let skein = |n: usize, bobbins: &str, weight: f64, reference: f64| {
        format!(
            "[[skein]]\nnumber = {n}\ndate = 2026-03-20\nbobbins = {bobbins}\nloops = 196\nwashed-loop = \"1.41 m\"\n\
             weight = \"{weight} g\"\nreference-skein = \"{reference} g\"\n"
        )
    };
    vec![
        bobbin(1, 105.9, 2.9, 50.2),
        bobbin(2, 106.2, 3.0, 50.3),
        bobbin(3, 106.4, 3.2, 50.6),
        bobbin(4, 106.1, 2.8, 50.5),
        bobbin(5, 107.0, 3.1, 50.9),
        bobbin(6, 106.6, 3.0, 51.0),
        bobbin(7, 106.0, 3.1, 50.1),
        skein(1, "[1, 2, 3]", 139.8, 50.4),
        skein(2, "[6, 4, 5]", 141.2, 50.3),
    ]
}

fn note(day: usize) -> String {
    format!("[[note]]\ndate = 2026-03-{day:02}\ntext = \"the day's work, {day}\"\n")
}

fn sample(name: &str, weight: f64, more: &str) -> String {
    format!(
        "[[sample]]\nname = \"{name}\"\ndate = 2026-02-10\nsingles = {{ wraps = [\"25 wpi\", \"26 wpi\"] }}\n\
         skein = {{ loops = 20, loop = \"1.5 m\", washed-loop = \"1.41 m\", weight = \"{weight} g\", \
         wraps = \"11 wpi\" }}\n{more}"
    )
}

const GARMENT: &str = "[garment.cardigan]\ncraft = \"knit\"\nlength = \"1000 ± 80 m\"\n";

/// The sheets as their records have them, each by its name, without the print of the log, which is of the entries as
/// they stand.
fn told(worked: &Worked) -> Vec<(&'static str, String)> {
    let Sheets {
        overview,
        sample_card,
        samples,
        swatch_card,
        wash_card,
        skein_log,
        wheel_card,
        bobbin_checklist,
        tags,
        ply_plan,
        garment_sheet,
        reorder_note,
        workings,
        ..
    } = sheets(worked);
    let print = worked.plan.fingerprints().1.expect("a log has a print");
    let all = [
        ("overview", format!("{overview:#?}")),
        ("sample card", format!("{sample_card:#?}")),
        ("samples", format!("{samples:#?}")),
        ("swatch card", format!("{swatch_card:#?}")),
        ("wash card", format!("{wash_card:#?}")),
        ("skein log", format!("{skein_log:#?}")),
        ("wheel card", format!("{wheel_card:#?}")),
        ("bobbin checklist", format!("{bobbin_checklist:#?}")),
        ("tags", format!("{tags:#?}")),
        ("ply plan", format!("{ply_plan:#?}")),
        ("garment sheet", format!("{garment_sheet:#?}")),
        ("reorder note", format!("{reorder_note:#?}")),
        ("workings", format!("{workings:#?}")),
    ];
    // The workings say where in the log an entry stands, which is all that may differ.
    let placeless =
        |line: &str| if line.trim_start().starts_with("origin: \"log, ") { String::new() } else { line.to_owned() };
    let text = |text: String| text.replace(&print, "").lines().map(placeless).collect::<Vec<_>>().join("\n");
    all.map(|(name, told)| (name, text(told))).into()
}

/// Bobbins and skeins stand in any order, samples before, between or behind them, and the reference skein was read more
/// than once a day: it is one yarn, with one ledger, one set of sheets and the same warnings.
#[test]
fn the_order_of_bobbins_and_skeins_in_the_log_changes_nothing() {
    let plan = format!("{TWELVE}{GARMENT}");
    let said = [sample("first", 14.4, ""), sample("second", 14.0, "chosen = true\n"), note(8), note(9)];
    let of = |entries: &[String]| sound(&of_texts(&plan, &entries.join("\n")));
    let (first, warned) = of(&[&said[..], &measured()].concat());
    let (ledger, papers) = (rows(&first.ledger), told(&first));
    assert!(
        ledger.iter().any(|row| row.0 == "logged.skein.2.off")
            && ledger.iter().any(|row| row.0 == "logged.bobbin.7.net")
    );
    for seed in 0..10 {
        // Samples and notes are told in the order in which they stand, so that they keep it.
        let mut entries = shuffled(&measured(), seed);
        let mut at = 0;
        for said in &said {
            at += (seed as usize * 3 + at) % 4;
            entries.insert(at.min(entries.len()), said.clone());
            at += 1;
        }
        let (worked, again) = of(&entries);
        assert_eq!(again, warned, "seed {seed}");
        for (row, other) in ledger.iter().zip(rows(&worked.ledger)) {
            assert_eq!(*row, other, "seed {seed}");
        }
        assert_eq!(ledger.len(), worked.ledger.lines().count(), "seed {seed}");
        for ((sheet, text), (_, other)) in papers.iter().zip(told(&worked)) {
            let differs = text.lines().zip(other.lines()).find(|(a, b)| a != b);
            assert_eq!(differs, None, "{sheet}, seed {seed}");
            assert_eq!(text.lines().count(), other.lines().count(), "{sheet}, seed {seed}");
        }
    }
}

/// Samples have names and no numbers, and each reading of theirs is drawn by its place in the log: what is worked out
/// of them is the same in any order, and what is drawn the same but for the chance of ten thousand draws.
#[test]
fn the_order_of_samples_in_the_log_changes_draws_alone() {
    let samples = [
        sample("first", 14.4, ""),
        sample("second", 14.0, "chosen = true\n"),
        sample("third", 13.6, "swatch = { needle = \"4 mm\", gauge = \"19 st, 26 rows / 10 cm\" }\n"),
    ];
    let of = |order: [usize; 3]| {
        let entries: Vec<String> = order.iter().map(|i| samples[*i].clone()).chain(measured()).collect();
        sound(&of_texts(&format!("{TWELVE}{GARMENT}"), &entries.join("\n"))).0
    };
    let first = of([0, 1, 2]);
    for order in [[2, 1, 0], [1, 0, 2], [1, 2, 0]] {
        let other = of(order);
        assert_eq!(first.ledger.lines().count(), other.ledger.lines().count(), "{order:?}");
        for line in first.ledger.lines() {
            let again = other.ledger.get(&line.name);
            // What is counted of a garment is counted over its draws, and follows them.
            let is_drawn = line.node().is_none() && line.name.starts_with("garment.");
            if is_drawn {
                assert!((line.value - again.value).abs() <= 0.02 + 0.02 * line.value, "{line:?} and {again:?}");
                continue;
            }
            assert_eq!((line.value, line.uncertainty), (again.value, again.uncertainty), "{line:?} and {again:?}");
            // Six standard errors of the share below a band, √(0.1 × 0.9 ÷ 10,000), at the density of a normal number
            // there, both of them by chance: 6 × √2 × 0.003 ÷ 0.175 of a standard deviation, of which there are 2.56
            // between the bands.
            let room = 0.057 * (line.bands.high - line.bands.low) + 1e-9 * line.value.abs();
            for (a, b) in [(line.bands.low, again.bands.low), (line.bands.high, again.bands.high)] {
                assert!((a - b).abs() <= room, "{order:?}: {line:?} and {again:?}");
            }
        }
    }
}

/// A log in which nothing is measured is no log, to the last digit.
#[test]
fn a_log_that_measures_nothing_changes_no_figure() {
    let plan = format!("{TWELVE}{GARMENT}");
    let of = |log: Option<&str>| {
        let project = of_texts(&plan, log.unwrap_or_default());
        let (worked, warned) = sound(&if log.is_some() { project } else { Project { log: None, ..project } });
        (rows(&worked.ledger), warned)
    };
    let without = of(None);
    let of_a_note = note(8);
    for log in ["", "\n\n", "# nothing was spun yet\n# [[bobbin]]\n", &of_a_note] {
        assert_eq!(of(Some(log)), without, "{log:?}");
    }
    let bobbin = "[[bobbin]]\nnumber = 1\ndate = 2026-03-03\ncheck = { length = \"20 m\", weight = \"3.1 g\" }\n";
    assert_ne!(of(Some(bobbin)).0, without.0, "and one that measures something is seen");
    let skein = "[[skein]]\nnumber = 1\ndate = 2026-03-03\nbobbins = [1, 2, 3]\nloops = 196\n\
                 washed-loop = \"1.41 m\"\nweight = \"139 g\"\n";
    let faulty = work_out(&of_texts(&plan, skein));
    assert!(faulty.has_errors(), "and a skein of bobbins that the log does not have is refused");
}

/// What is entered and what is measured does not stand beside each other in one print: a bobbin changes that of the log
/// alone.
#[test]
fn what_was_spun_leaves_the_print_of_the_plan_as_it_was() {
    let print = |log: &str| sound(&of_texts(TWELVE, log)).0.plan.fingerprints();
    let bobbin = "[[bobbin]]\nnumber = 1\ndate = 2026-03-03\ncheck = { length = \"20 m\", weight = \"3.1 g\" }\n";
    let logs = [
        bobbin.to_owned(),
        bobbin.replace("3.1 g", "3.2 g"),
        format!("{bobbin}{}", note(8)),
        note(8),
        note(9),
        sample("first", 14.4, ""),
        format!("{bobbin}{}", sample("first", 14.4, "")),
    ];
    let (plan, none) = print("");
    assert_eq!(none, None);
    let mut seen = Vec::new();
    for log in &logs {
        let (of_plan, of_log) = print(log);
        assert_eq!(of_plan, plan, "{log}");
        let of_log = of_log.unwrap_or_else(|| panic!("no print of {log}"));
        assert!(!seen.contains(&of_log), "{log} has the print of another");
        seen.push(of_log);
    }
}

/// Derived: from 9 to 16 per cent of damp wool gains 1.16 ÷ 1.09, which is 6.4 per cent. The reference skein takes it
/// out again.
#[test]
fn a_damp_day_is_taken_out_by_the_reference_skein() {
    let log = |day: &str, damp: f64, has_reference: bool| {
        let one = |n: usize, date: &str, damp: f64| {
            let reference = format!("reference-skein = \"{:.3} g\"\n", 50.0 * damp);
            format!(
                "[[bobbin]]\nnumber = {n}\ndate = {date}\nfull = \"{:.4} g\"\nempty = \"58 g\"\n\
                 check = {{ length = \"20 m\", weight = \"{:.5} g\" }}\n{}",
                58.0 + 48.0 * damp,
                3.0 * damp,
                if has_reference { &reference } else { "" }
            )
        };
        format!("{}{}", one(1, "2026-03-03", 1.0), one(2, day, damp))
    };
    let damp: f64 = 1.16 / 1.09;
    assert_eq!(format!("{:.1}", 100.0 * (damp - 1.0)), "6.4");
    let second_over_first = |has_reference: bool, figure: &str| {
        let worked = written_with_log(TWELVE, &log("2026-03-09", damp, has_reference));
        worked.value(&format!("logged.bobbin.2.{figure}")) / worked.value(&format!("logged.bobbin.1.{figure}"))
    };
    for figure in ["tex", "net", "off"] {
        let (with, without) = (second_over_first(true, figure), second_over_first(false, figure));
        assert!(
            (with - 1.0).abs() < 1e-4 && (without - damp).abs() < 1e-4,
            "{figure}: {with} with it, {without} without"
        );
    }
}

fn weighed(n: usize, check: f64) -> String {
    format!(
        "[[bobbin]]\nnumber = {n}\ndate = 2026-03-{n:02}\ncheck = {{ length = \"20 m\", weight = \"{check:.1} g\" }}\n"
    )
}

/// A skein of the bobbins of a set, 141 g with so many grams to the metre.
fn plied(set: usize, density: f64) -> String {
    let first = 3 * set + 1;
    format!(
        "[[skein]]\nnumber = {}\ndate = 2026-04-{first:02}\nbobbins = [{first}, {}, {}]\nloops = 100\n\
         washed-loop = \"{:.3} m\"\nweight = \"141.0 g\"\n",
        set + 1,
        first + 1,
        first + 2,
        1.41 / density
    )
}

/// How sure the yarn is by a log.
struct Sure {
    /// Standard uncertainty over value, and the width of the band over value, of weight per length and of length.
    doubts: [(f64, f64); 2],
    /// How far bobbins of this hand are off each other: theirs, with what is usual of four.
    bobbins: f64,
    evenness: Evenness,
}

fn sure(log: &str) -> Sure {
    let worked = written_with_log(TWELVE, log);
    let doubt = |name: &str| {
        let line = worked.ledger.get(name);
        (line.uncertainty / line.value, (line.bands.high - line.bands.low) / line.value)
    };
    let offs = worked.ledger.evenness.drifts.first().map_or(Vec::new(), |drift| drift.offs.clone());
    let (usual, counts, n) = (0.04, 4.0, offs.len().max(1) as f64);
    let mean = offs.iter().sum::<f64>() / n;
    let squares: f64 = offs.iter().map(|off| (off - mean) * (off - mean)).sum();
    let bobbins = ((squares + counts * usual * usual) / (counts + n - 1.0)).sqrt();
    Sure { doubts: ["yarn.tex", "yarn.length"].map(doubt), bobbins, evenness: worked.ledger.evenness.clone() }
}

/// Logs of twelve bobbins with their skeins: each set plied as soon as it is spun, all of them at the end, or none.
fn growing_log(seed: u64, (washed, wound): (f64, f64)) -> Vec<String> {
    let mut chance = Chance::new(seed);
    let (bias, differ, folded) = (chance.about_one(0.04), chance.between(0.01, 0.09), chance.about_one(0.03));
    let offs: Vec<f64> = (0..12).map(|_| bias * chance.about_one(differ)).collect();
    let bobbins: Vec<String> = (0..12).map(|b| weighed(b + 1, 20.0 * wound * offs[b])).collect();
    let mut skein = |set: usize| {
        let off = offs[3 * set..3 * set + 3].iter().sum::<f64>() / 3.0;
        plied(set, washed * off * folded * chance.about_one(0.015))
    };
    let skeins: Vec<String> = (0..4).map(&mut skein).collect();
    match seed % 3 {
        0 => (0..4).flat_map(|set| [&bobbins[3 * set..3 * set + 3], &skeins[set..=set]].concat()).collect(),
        1 => [bobbins, skeins].concat(),
        _ => bobbins,
    }
}

/// A skein never makes the yarn less sure, nor does a bobbin that is good; one that is off the others does so by no
/// more than it shows the hand to be less even, and the log then says mix or act.
#[test]
fn a_measurement_widens_nothing_unless_bobbins_disagree() {
    // Of the uncertainty a scale leaves a thousandth; bands are drawn, and each of theirs is sure to a part in fifty.
    const ROOM: [f64; 2] = [1.002, 1.03];
    let aims = aims();
    let all: Vec<(Vec<String>, [usize; 2])> = (0..24u64)
        .into_par_iter()
        .map(|seed| {
            let (mut log, mut before) = (String::new(), sure(""));
            let (mut wrong, mut seen) = (Vec::new(), [0; 2]);
            for entry in growing_log(seed, aims) {
                log += &entry;
                let now = sure(&log);
                let is_skein = entry.starts_with("[[skein]]");
                let less_even = if is_skein { 1.0 } else { (now.bobbins / before.bobbins).max(1.0) };
                for (what, (now, before)) in ["tex", "length"].iter().zip(now.doubts.iter().zip(before.doubts)) {
                    let grown = [now.0 / before.0, now.1 / before.1];
                    if grown.iter().zip(ROOM).any(|(grown, room)| *grown > less_even * room) {
                        wrong.push(format!("seed {seed}: {what} × {grown:?}, bobbins × {less_even}, by\n{entry}"));
                    }
                }
                let grown = now.doubts[0].0 / before.doubts[0].0;
                seen[usize::from(grown > 1.0)] += 1;
                let is_off = || now.evenness.drifts[0].bands.last().is_some_and(|last| last.band != Band::Good);
                if grown > 1.005 && !is_skein && !is_off() {
                    wrong.push(format!("seed {seed}: × {grown}, and the log says good of\n{entry}"));
                }
                before = now;
            }
            (wrong, seen)
        })
        .collect();
    let wrong: Vec<String> = all.iter().flat_map(|(wrong, _)| wrong.clone()).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    // Eight logs of sixteen entries twice, and eight of twelve.
    let [narrower, wider] = all.iter().fold([0; 2], |sum, (_, seen)| [sum[0] + seen[0], sum[1] + seen[1]]);
    assert!(narrower + wider == 352 && narrower > 300 && wider > 0, "{narrower} narrower, {wider} wider");
}

/// A spinner, with all that a plan and its log do not know.
struct World {
    /// Singles of each bobbin over their target, in grams to the metre.
    offs: Vec<f64>,
    /// What plying and washing make of them over what the plan takes them for, of each set.
    folded: Vec<f64>,
    /// Grams of singles on each bobbin.
    grams: Vec<f64>,
    /// How much heavier all wool is than on the first day, by day.
    damp: Vec<f64>,
}

/// Grams of fibre, and of the skein that is weighed each day.
const FIBRE: f64 = 600.0;
const REFERENCE: f64 = 50.0;
const SCALE: f64 = 0.1;

impl World {
    /// A hand with a bias that moves by up to `drifts` from the middle to either end, bobbins that differ, sets that
    /// come out otherwise than the plan takes them for, waste as the plan says, and a room that is dry on one day and
    /// damp on the next.
    fn new(drifts: f64, chance: &mut Chance) -> Self {
        let bias = chance.about_one(0.04);
        let (drift, differ) = (chance.between(-drifts, drifts), chance.between(0.025, 0.055));
        let off =
            |b: usize, chance: &mut Chance| bias * (1.0 + drift * (b as f64 - 5.5) / 5.5) * chance.about_one(differ);
        let offs = (0..12).map(|b| off(b, chance)).collect();
        let folded = chance.about_one(0.03);
        let folded = (0..4).map(|_| folded * chance.about_one(0.015)).collect();
        // Three per cent, give or take two, nineteen times in twenty.
        let waste = 0.03 * chance.about_one(1.0 / 3.0);
        let parts: Vec<f64> = (0..12).map(|_| chance.about_one(0.01)).collect();
        let all: f64 = parts.iter().sum();
        let grams = parts.iter().map(|part| part / all * FIBRE / (1.0 + waste)).collect();
        let regain: Vec<f64> = (0..16).map(|_| chance.between(0.09, 0.16)).collect();
        let damp = regain.iter().map(|of_day| (1.0 + of_day) / (1.0 + regain[0])).collect();
        Self { offs, folded, grams, damp }
    }

    /// Metres of singles on a bobbin.
    fn singles(&self, bobbin: usize, wound: f64) -> f64 {
        self.grams[bobbin] / (wound * self.offs[bobbin])
    }

    /// Metres of washed yarn of a metre of singles of a set, by weight: three plies lose what the bath takes, and the
    /// rest is the yarn's.
    fn yarn_of(&self, set: usize, lightens: f64, (washed, wound): (f64, f64)) -> f64 {
        3.0 * wound * (1.0 - lightens) / (washed * self.folded[set])
    }

    /// Metres of the skein of a set. What is left on the longer bobbins is plied on, onto the same skein.
    fn skein(&self, set: usize, lightens: f64, aims: (f64, f64)) -> f64 {
        let singles: f64 = (3 * set..3 * set + 3).map(|b| self.singles(b, aims.1)).sum();
        singles / 3.0 * self.yarn_of(set, lightens, aims)
    }

    /// Metres of all yarn.
    fn truth(&self, lightens: f64, aims: (f64, f64)) -> f64 {
        (0..4).map(|set| self.skein(set, lightens, aims)).sum()
    }

    /// What the log has of the first bobbins, and of the sets that they make whole.
    fn log(&self, n: usize, lightens: f64, aims: (f64, f64), chance: &mut Chance) -> String {
        let wound = aims.1;
        let mut text = String::new();
        for b in 0..n {
            let damp = self.damp[b];
            let tape = chance.about_one(0.01);
            text += &format!(
                "[[bobbin]]\nnumber = {}\ndate = 2026-03-{:02}\nfull = \"{:.1} g\"\nempty = \"58.0 g\"\n\
                 check = {{ length = \"20 m\", weight = \"{:.1} g\" }}\nreference-skein = \"{:.1} g\"\n",
                b + 1,
                b + 1,
                stepped(58.0 + self.grams[b] * damp, SCALE),
                stepped(20.0 * tape * wound * self.offs[b] * damp, SCALE),
                stepped(REFERENCE * damp, SCALE),
            );
        }
        for set in 0..n / 3 {
            let damp = self.damp[12 + set];
            let grams: f64 = self.grams[3 * set..3 * set + 3].iter().sum();
            let wound_loop = 1.5 * self.yarn_of(set, lightens, aims);
            let loops = (self.skein(set, lightens, aims) / wound_loop).round();
            text += &format!(
                "[[skein]]\nnumber = {}\ndate = 2026-04-{:02}\nbobbins = [{}, {}, {}]\nloops = {loops}\n\
                 washed-loop = \"{:.3} m\"\nweight = \"{:.1} g\"\nreference-skein = \"{:.1} g\"\n",
                set + 1,
                set + 1,
                3 * set + 1,
                3 * set + 2,
                3 * set + 3,
                stepped(wound_loop * chance.about_one(0.01), 0.005),
                stepped(grams * (1.0 - lightens) * damp, SCALE),
                stepped(REFERENCE * damp, SCALE),
            );
        }
        text
    }
}

/// Of so many worlds with such hands the share in which the band of the yarn's length holds its true length after so
/// many bobbins, the mean width of the band over its value, and the mean of true length over value.
fn coverage(worlds: u64, drifts: f64, n: usize, aims: (f64, f64)) -> [f64; 3] {
    let of_world = |seed: u64| {
        let mut chance = Chance::new(10_000 * n as u64 + seed);
        let world = World::new(drifts, &mut chance);
        // One per cent, give or take one, as the plan says.
        let lightens = 0.01 * chance.about_one(0.5);
        let truth = world.truth(lightens, aims);
        let worked = written_with_log(TWELVE, &world.log(n, lightens, aims, &mut chance));
        let line = worked.ledger.get("yarn.length");
        let (low, high) = (line.bands.low, line.bands.high);
        [f64::from((low..=high).contains(&truth)), (high - low) / line.value, truth / line.value]
    };
    let mut sums = [0.0; 3];
    for chunk in 0..worlds / 50 {
        let some: Vec<[f64; 3]> = (50 * chunk..50 * (chunk + 1)).into_par_iter().map(of_world).collect();
        for world in some {
            sums.iter_mut().zip(world).for_each(|(sum, one)| *sum += one);
        }
        // What is remembered of one ledger is of no use for the next.
        comemo::evict(0);
    }
    sums.map(|sum| sum / worlds as f64)
}

/// The band that the ledger gives the length of the yarn holds its true length as often as it says, by texts as
/// spinners write them. Standard error of each share: 1.3 per cent.
#[test]
fn the_band_of_the_yarn_holds_its_true_length_as_often_as_it_says() {
    let aims = aims();
    let mut before = f64::INFINITY;
    for n in [2, 5, 10] {
        let [held, width, truth] = coverage(1000, 0.0, n, aims);
        assert!((0.75..=0.85).contains(&held), "after {n} bobbins: {held}");
        assert!((truth - 1.0).abs() < 0.01, "after {n} bobbins the yarn is {truth} of what is said");
        assert!(width < before, "after {n} bobbins the band is {width}, no narrower than {before}");
        before = width;
    }
}

/// The forecast goes on as the hand has spun on the whole, and takes no drift into the future: of hands that drift by
/// up to six per cent from first to last it holds a few less, after five bobbins most of all (found here: 0.73, 0.70
/// and 0.78). Standard error of each share: 1.9 per cent.
#[test]
fn of_hands_that_drift_the_band_holds_a_few_less() {
    let aims = aims();
    for n in [2, 5, 10] {
        let [held, _, truth] = coverage(500, 0.03, n, aims);
        assert!((0.70..=0.85).contains(&held), "after {n} bobbins: {held}");
        assert!((truth - 1.0).abs() < 0.01, "after {n} bobbins the yarn is {truth} of what is said");
    }
}

/// Eighteen bobbins, the last nine heavier by so many standard deviations of the hand, as the log of a whole plan: one
/// deviation is not told from chance, two and three are, at the bobbin at which they began, whatever the order of the
/// entries.
#[test]
fn a_step_in_the_log_is_named_by_its_bobbin() {
    const HAND: f64 = 0.03;
    let plan = TWELVE.replace("bobbin-holds = \"160 g\"", "bobbin-holds = \"105 g\"");
    let wound = written(&plan).value("singles.wound-tex");
    // Mean nothing and standard deviation one, in both halves.
    let differ = |n: usize| [1.0, -1.0, 1.0, -1.0, 0.0, 1.0, -1.0, 1.0, -1.0][n % 9] * (9.0_f64 / 8.0).sqrt();
    let moved = |step: f64, seed: u64| {
        let entries: Vec<String> = (0..18)
            .map(|b| {
                let off = 1.0 + HAND * (differ(b) + if b < 9 { 0.0 } else { step });
                let (n, check) = (b + 1, 20.0 * wound * off);
                format!(
                    "[[bobbin]]\nnumber = {n}\ndate = 2026-03-{n:02}\n\
                     check = {{ length = \"20 m\", weight = \"{check:.2} g\" }}\n"
                )
            })
            .collect();
        let worked = written_with_log(&plan, &shuffled(&entries, seed).concat());
        assert_eq!(worked.ledger.deal.bobbins.len(), 18);
        let [drift] = &worked.ledger.evenness.drifts[..] else { panic!("one kind of singles") };
        assert_eq!(drift.numbers, (1..=18).collect::<Vec<_>>());
        match drift.moved.expect("enough bobbins") {
            Moved::Step(step) => Some((drift.numbers[step.first_after], step.after / step.before)),
            Moved::Not => None,
            Moved::Trend(trend) => panic!("{trend:?}"),
        }
    };
    for seed in 0..3 {
        assert_eq!(moved(0.0, seed), None);
        assert_eq!(moved(1.0, seed), None);
        for step in [2.0, 3.0] {
            let (bobbin, over) = moved(step, seed).unwrap_or_else(|| panic!("a step of {step} is told"));
            // Of 3 g one step of the scale is a third of a per cent, and of nine weighings a ninth of that.
            assert_eq!(bobbin, 10, "a step of {step}");
            assert!((over - 1.0 - step * HAND).abs() < 0.002, "a step of {step} is told as {over}");
        }
    }
}
