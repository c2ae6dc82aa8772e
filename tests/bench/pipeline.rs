//! How long the line from plan to paper takes: each arrow, the whole of a project, and ten thousand draws of its ledger.
//!
//! `cargo bench --bench pipeline` prints the times. With `WHEELSHEET_EXPORT=1` it prints the ledger's tape as JSON instead, for
//! `tests/reference/draws_numpy.py`, which works the same draws out with numpy and says how long that takes.
//!
//! Before them it prints a table of the sheets, each cold, with its share of the time of the one in the middle; where one takes
//! more than twice as long, the reason stands beside it, or the run fails.
//!
//! Cold means that nothing is remembered from one build to the next; the fonts and the templating library are loaded once, as
//! in any one run of the program.

use std::path::Path;
use std::sync::atomic::{AtomicU32, Ordering};
use std::sync::{Arc, LazyLock};
use std::time::{Duration, Instant};

use divan::counter::ItemsCount;
use divan::{Bencher, black_box};
use rayon::prelude::*;
use serde_json::{Value, json};
use wheelsheet::document::{Sheet, Templates, Which, document};
use wheelsheet::figures::colour::arrange::{Aim, Arrangement, Budget, Dealing, End, Ply, Problem, Unit, Wish, best};
use wheelsheet::figures::colour::lane::{Lane, Run, Tone, beside, solid_share};
use wheelsheet::figures::colour::step::{Hand, Remedy, outcome, warped};
use wheelsheet::figures::expression::draws::ranked;
use wheelsheet::figures::expression::tape::{Step, Tape};
use wheelsheet::figures::expression::{Node, Shape};
use wheelsheet::figures::pairing::{self, Bobbin, EXACT_BOBBINS};
use wheelsheet::figures::{Ledger, figures};
use wheelsheet::source::{Project, Text, read};
use wheelsheet::{Worked, check, pages, print, sheets, syntax, work_out};

fn main() {
    if std::env::var_os("WHEELSHEET_EXPORT").is_some() {
        println!("{}", tape_of(&WORKED.ledger));
        return;
    }
    // A filter on the command line asks for single measurements.
    let is_filtered = std::env::args().skip(1).any(|arg| !arg.starts_with('-'));
    let has_unexplained = !is_filtered && !sheets_are_told();
    divan::main();
    assert!(
        !has_unexplained,
        "a sheet takes more than twice as long as the one in the middle, and no reason is written"
    );
}

/// How often each sheet is made; the shortest time is the one that nothing else on the machine had a part in.
const TRIES: usize = 7;

/// Why a sheet may take more than twice as long as the one in the middle.
fn reason(sheet: Sheet) -> Option<&'static str> {
    match sheet {
        Sheet::BobbinChecklist => {
            Some("four pages, a dozen bobbins with their strips; by the page it is quicker than most")
        }
        Sheet::ColourSheet => {
            Some("two pages, each of four ways, every run of a lane and of a column of stitches a shape")
        }
        Sheet::Tags => {
            Some("four pages, each of sixteen pictures, with texts made to fit; by the page like the one in the middle")
        }
        Sheet::Workings => {
            Some("26 pages, each line of a formula aligned with its others; by the page it is the quickest")
        }
        _ => None,
    }
}

/// Typesets each sheet of the largest project and makes its PDF, cold, and prints how long that took. Whether every sheet that
/// takes long has its reason.
fn sheets_are_told() -> bool {
    let sheets = sheets(&WORKED);
    let mut rows: Vec<(Sheet, usize, Duration, Duration)> = Vec::new();
    for sheet in sheets.present() {
        let tries = (0..TRIES).map(|_| one_sheet(&sheets, sheet));
        let (n_pages, typeset, pdf) = tries.min_by_key(|(_, typeset, pdf)| *typeset + *pdf).expect("tries");
        rows.push((sheet, n_pages, typeset, pdf));
    }
    let mut times: Vec<Duration> = rows.iter().map(|(_, _, typeset, pdf)| *typeset + *pdf).collect();
    times.sort_unstable();
    let middle = times[times.len() / 2].as_secs_f64();
    println!("{:<18}{:>6}{:>12}{:>10}{:>10}{:>10}", "sheet, cold", "pages", "typeset", "PDF", "a page", "to middle");
    let mut are_explained = true;
    for (sheet, n_pages, typeset, pdf) in rows {
        let whole = (typeset + pdf).as_secs_f64();
        let ratio = whole / middle;
        let why = if ratio > 2.0 { reason(sheet).unwrap_or("no reason is written") } else { "" };
        are_explained &= ratio <= 2.0 || reason(sheet).is_some();
        let ms = |seconds: f64| format!("{:.1} ms", seconds * 1000.0);
        println!(
            "{:<18}{n_pages:>6}{:>12}{:>10}{:>10}{ratio:>10.2}  {why}",
            sheet.name(),
            ms(typeset.as_secs_f64()),
            ms(pdf.as_secs_f64()),
            ms(whole / n_pages as f64),
        );
    }
    println!();
    are_explained
}

/// Pages of one sheet, and how long it takes to typeset and to write as PDF with nothing remembered.
#[expect(clippy::disallowed_methods, reason = "a stopwatch; no plan depends on it")]
fn one_sheet(sheets: &wheelsheet::sheets::Sheets, sheet: Sheet) -> (usize, Duration, Duration) {
    forget();
    let begun = Instant::now();
    let document = document(sheets, Which::One(sheet), &Templates::Shipped).expect("sound templates");
    let typeset = begun.elapsed();
    let begun = Instant::now();
    black_box(pages::pdf(&document, "bench/sheet").expect("a sound document"));
    (document.pages().len(), typeset, begun.elapsed())
}

static PROJECT: LazyLock<Project> = LazyLock::new(|| {
    read(&Path::new(env!("CARGO_MANIFEST_DIR")).join("projects/three-ply-pullover"))
        .expect("a shipped project is readable")
});
static WORKED: LazyLock<Worked> = LazyLock::new(|| work_out(&PROJECT).worked.expect("a shipped project is sound"));

/// The same project with a braid that weighs `grams` instead of 101 g.
fn changed(grams: u32) -> Project {
    let mut project = PROJECT.clone();
    let text = String::from_utf8(project.plan.bytes).expect("a shipped plan is UTF-8");
    assert!(text.contains("\"101 g\""), "the number that is changed stands in the plan");
    project.plan.bytes = text.replace("\"101 g\"", &format!("\"{grams} g\"")).into_bytes();
    project
}

/// Forgets everything that was worked out before.
fn forget() {
    comemo::evict(0);
}

#[divan::bench]
fn arrow_1_syntax(bencher: Bencher) {
    let project = &*PROJECT;
    bencher.bench(|| syntax::read(black_box(project)));
}

#[divan::bench]
fn arrow_2_check(bencher: Bencher) {
    let (tree, _) = syntax::read(&PROJECT);
    bencher.bench(|| check::check(black_box(&tree)));
}

#[divan::bench]
fn arrow_3_figures(bencher: Bencher) {
    let plan = &WORKED.plan;
    bencher.with_inputs(forget).bench_values(|()| figures(black_box(plan)));
}

#[divan::bench]
fn arrow_4_sheets(bencher: Bencher) {
    let worked = &*WORKED;
    bencher.bench(|| sheets(black_box(worked)));
}

#[divan::bench(sample_count = 10)]
fn arrow_5_document(bencher: Bencher) {
    let (sheets, templates) = (sheets(&WORKED), Templates::default());
    bencher
        .with_inputs(forget)
        .bench_values(|()| document(black_box(&sheets), Which::All, &templates).expect("sound templates"));
}

#[divan::bench(sample_count = 10)]
fn arrow_6_pages(bencher: Bencher) {
    let document = document(&sheets(&WORKED), Which::All, &Templates::default()).expect("sound templates");
    bencher
        .with_inputs(forget)
        .bench_values(|()| pages::pdf(black_box(&document), "bench/all").expect("a sound document"));
}

/// Our share of a build: from text to the records that the templates print.
fn ours(project: &Project) -> wheelsheet::sheets::Sheets {
    sheets(&work_out(project).worked.expect("a sound project"))
}

/// A build as the command does it: every sheet for itself, and all in one.
fn whole(project: &Project) -> usize {
    let sheets = ours(project);
    let templates = Templates::default();
    let each = sheets.present().into_iter().map(Which::One).chain([Which::All]);
    each.map(|which| print(&sheets, which, &templates, "bench").expect("sound templates").len()).sum()
}

/// The same braids and wheel for twenty garments of four shapes and five sizes, with two alternatives to it all.
fn twenty_garments() -> Project {
    let mut project = PROJECT.clone();
    let text = String::from_utf8(project.plan.bytes).expect("a shipped plan is UTF-8");
    let (mut text, _) =
        text.split_once("[garment.").map(|(before, after)| (before.to_owned(), after)).expect("a garment");
    let shapes = ["raglan pullover", "round-yoke pullover", "drop-shoulder cardigan", "set-in pullover"];
    for (i, size) in (0..20).zip(["S", "M", "L", "1X", "2X"].into_iter().cycle()) {
        text.push_str(&format!(
            "[garment.g{i}]\nshape = \"{}\"\nbody = {{ whom = \"woman\", size = \"{size}\" }}\n",
            shapes[i % shapes.len()]
        ));
    }
    for (name, set) in [("two plies", "\"yarn.plies\" = 2"), ("close", "\"garment.g1.ease\" = \"close\"")] {
        text.push_str(&format!("[[alternative]]\nname = \"{name}\"\nset = {{ {set} }}\n"));
    }
    project.plan.bytes = text.into_bytes();
    project
}

#[divan::bench(sample_count = 10)]
fn ours_of_twenty_garments_cold(bencher: Bencher) {
    let project = twenty_garments();
    bencher.with_inputs(forget).bench_values(|()| ours(black_box(&project)));
}

/// What every plan has, however many garments: all sheets but those whose pages grow with them.
#[divan::bench(sample_count = 3)]
fn overview_of_twenty_garments_cold(bencher: Bencher) {
    let (project, templates) = (twenty_garments(), Templates::default());
    bencher.with_inputs(forget).bench_values(|()| {
        let sheets = ours(black_box(&project));
        [Sheet::Overview, Sheet::Alternatives, Sheet::SwatchCard]
            .map(|sheet| print(&sheets, Which::One(sheet), &templates, "bench").expect("sound templates").len())
    });
}

#[divan::bench]
fn ours_cold(bencher: Bencher) {
    bencher.with_inputs(forget).bench_values(|()| ours(black_box(&PROJECT)));
}

/// Yarn for a household of pullovers: 201 bobbins in 67 sets of three.
const MANY_BOBBINS: &str = r#"[plan]
title = "Many bobbins"
[fibre.wool]
kind = "wool"
weight = "10700 g"
[wheel]
whorls = { slow = "6:1", middle = "8.5:1", fast = "11:1" }
bobbin-holds = "160 g"
[yarn]
plies = 3
grist = "1000 yd/lb"
wraps = "11 wpi"
[garment.pullovers]
craft = "knit"
length = "18000 ± 900 m"
"#;

/// All but one of its bobbins and 60 of its skeins in the log, three bobbins and a skein a day, the reference skein weighed each time.
fn a_long_log() -> Project {
    let day = |n: usize| format!("2026-{:02}-{:02}", 1 + n / 28, 1 + n % 28);
    let bobbin = |n: usize| {
        let off = (n * 7 % 19) as f64;
        format!(
            "[[bobbin]]\nnumber = {n}\ndate = {}\nfull = \"{:.1} g\"\nempty = \"58.0 g\"\n\
             check = {{ length = \"20 m\", weight = \"{:.2} g\" }}\nreference-skein = \"50.{} g\"\n\n",
            day(n / 3),
            104.0 + off / 4.0,
            2.85 + off / 60.0,
            n / 3 % 4
        )
    };
    let skein = |n: usize| {
        format!(
            "[[skein]]\nnumber = {n}\ndate = {}\nbobbins = [{}, {}, {}]\nloops = 196\nwashed-loop = \"1.41 m\"\n\
             weight = \"{:.1} g\"\nreference-skein = \"50.2 g\"\n\n",
            day(100 + n),
            3 * n - 2,
            3 * n - 1,
            3 * n,
            136.0 + (n * 5 % 11) as f64 / 4.0
        )
    };
    let log: String = (1..=200).map(bobbin).chain((1..=60).map(skein)).collect();
    let text = |path: &str, text: &str| Text { path: path.to_owned(), bytes: text.as_bytes().to_vec() };
    Project { plan: text("plan.toml", MANY_BOBBINS), log: Some(text("log.toml", &log)), ..PROJECT.clone() }
}

#[divan::bench(sample_count = 10)]
fn ours_of_a_long_log_cold(bencher: Bencher) {
    let project = a_long_log();
    bencher.with_inputs(forget).bench_values(|()| ours(black_box(&project)));
}

/// What of it is the size of the plan.
#[divan::bench(sample_count = 10)]
fn ours_of_a_long_log_without_it_cold(bencher: Bencher) {
    let project = Project { log: None, ..a_long_log() };
    bencher.with_inputs(forget).bench_values(|()| ours(black_box(&project)));
}

/// As many bobbins as every way of plying is looked at for, in pairs and in threes.
#[divan::bench(args = [2, 3])]
fn pairing_of_eighteen(bencher: Bencher, plies: usize) {
    let bobbin = |n: usize| Bobbin { tex: 150.0 + (n * 7 % 19) as f64 + (n * n % 7) as f64 / 10.0, class: 0 };
    let problem =
        pairing::Problem { bobbins: (0..EXACT_BOBBINS).map(bobbin).collect(), shape: vec![plies], fixed: Vec::new() };
    assert!(EXACT_BOBBINS == 18 && pairing::pair(&problem).is_ok_and(|paired| paired.is_exact));
    bencher.bench(|| pairing::pair(black_box(&problem)));
}

#[divan::bench(sample_count = 10)]
fn whole_cold(bencher: Bencher) {
    bencher.with_inputs(forget).bench_values(|()| whole(black_box(&PROJECT)));
}

#[divan::bench(sample_count = 10)]
fn whole_after_one_changed_number(bencher: Bencher) {
    let grams = AtomicU32::new(60);
    whole(&PROJECT);
    bencher
        .with_inputs(|| changed(grams.fetch_add(1, Ordering::Relaxed)))
        .bench_values(|project| whole(black_box(&project)));
}

/// The evening class with thirty students, every exercise there is.
static CLASS: LazyLock<Project> = LazyLock::new(|| {
    let mut project = read(&Path::new(env!("CARGO_MANIFEST_DIR")).join("projects/evening-class"))
        .expect("a shipped project is readable");
    let plan = String::from_utf8(project.plan.bytes).expect("a shipped plan is text");
    let before = plan.split("[[class.student]]").next().expect("all before the students");
    project.plan.bytes = (before.to_owned() + &"[[class.student]]\n".repeat(STUDENTS)).into_bytes();
    project
});

/// Students of a large class.
const STUDENTS: usize = 30;

/// A whole class, students side by side: no longer than as many ordinary builds, of which `whole_cold` is one.
#[divan::bench(sample_count = 3, sample_size = 1)]
fn a_class_of_thirty(bencher: Bencher) {
    bencher.with_inputs(forget).counter(ItemsCount::new(STUDENTS)).bench_values(|()| {
        let worked = work_out(black_box(&CLASS)).worked.expect("a sound class");
        let sheets = sheets(&worked);
        let of_class = [Sheet::Lesson, Sheet::FirstLesson, Sheet::StudentWorksheet, Sheet::AnswerKey].map(Which::One);
        let documents: Vec<Which> = of_class.into_iter().chain((0..STUDENTS).map(Which::Student)).collect();
        let print =
            |which: &Which| print(&sheets, *which, &Templates::Shipped, "class").expect("sound templates").len();
        documents.par_iter().map(print).sum::<usize>()
    });
}

/// Ten braids of eight sections in three plies, a yarn with more ways than could ever be compared.
static TEN_BRAIDS: LazyLock<Problem> = LazyLock::new(|| {
    let unit = |braid: usize| Unit {
        runs: (0..8)
            .map(|i| Run { tone: (braid * (i + 2) + i * i) % 5, length: 6.0 + ((braid + 3 * i) % 4) as f64 })
            .collect(),
        kind: braid,
    };
    let ply = |units: std::ops::Range<usize>| Ply { units: units.collect(), strips: 4, from: End::Start };
    Problem {
        tones: (0..5).map(Tone::plain).collect(),
        units: (0..10).map(unit).collect(),
        own: Arrangement { plies: vec![ply(0..3), ply(3..6), ply(6..10)] },
        sets: 1,
        dealing: Dealing::Across,
        strip_choices: vec![1, 2, 4, 8],
        is_free: vec![true; 3],
        slack: 0.3,
        wish: Wish {
            aim: Aim::Stripes { depth_length: Some(12.0) },
            apart: vec![(1, 2)],
            together: Vec::new(),
            first: None,
            last: None,
            least_left_over: false,
        },
    }
});

/// How many arrangements of it are compared in one search here.
const COMPARED: u64 = 10_000;

#[divan::bench(sample_count = 10)]
fn arrangements_compared(bencher: Bencher) {
    let budget = Budget { exact: 0, scored: COMPARED, restarts: 2, keep: 3 };
    bencher.counter(ItemsCount::new(COMPARED)).bench(|| best(black_box(&TEN_BRAIDS), &budget));
}

/// The whole yarn of a pullover as it may turn out once: two plies of a dozen strips, 600 m, laid side by side.
#[divan::bench]
fn draws_of_a_whole_garment(bencher: Bencher) {
    let lane = |turn: usize| -> Lane { (0..48).map(|i| Run { tone: (i + turn) % 4, length: 12.5 }).collect() };
    let lanes = [lane(0), lane(1)];
    let hand = Hand { constant: 0.025, wander: 0.04, forgets: 20.0 };
    let mut number = 0;
    bencher.counter(ItemsCount::new(1usize)).bench_local(|| {
        number += 1;
        let warps = outcome(number, 2, 600.0, &hand, Remedy::None);
        solid_share(&beside(&warped(black_box(&lanes), &warps, 600.0)))
    });
}

/// The expressions of a ledger, by name.
fn nodes(ledger: &Ledger) -> Vec<(&str, &Arc<Node>)> {
    ledger.lines().filter_map(|line| Some((line.name.as_str(), line.node()?))).collect()
}

/// Ten thousand draws of every figure with its bands, on one core.
#[divan::bench]
fn draws_with_bands(bencher: Bencher) {
    let nodes = nodes(&WORKED.ledger);
    bencher.bench(|| {
        let tape = Tape::new(nodes.iter().map(|(_, node)| *node));
        let wanted: Vec<usize> = nodes.iter().map(|(_, node)| tape.find(node).expect("it is on the tape")).collect();
        ranked(&tape, black_box(&wanted), &[])
    });
}

/// The tape as JSON: its steps in the order of evaluation, and for each figure its step, value and bands.
fn tape_of(ledger: &Ledger) -> Value {
    let nodes = nodes(ledger);
    let tape = Tape::new(nodes.iter().map(|(_, node)| *node));
    let shape = |shape: Shape| match shape {
        Shape::Normal => "normal",
        Shape::LogNormal => "log-normal",
        Shape::Rectangular => "rectangular",
        Shape::Arcsine => "arcsine",
    };
    let steps: Vec<Value> = tape
        .steps()
        .iter()
        .map(|step| match step {
            Step::Entry(entry) => json!(["entry", entry.value, entry.uncertainty, shape(entry.shape)]),
            Step::Constant(value) => json!(["constant", value]),
            Step::Apply(function, below) => json!([format!("{function:?}"), below]),
        })
        .collect();
    let figures: Vec<Value> = nodes
        .iter()
        .map(|(name, node)| {
            let line = ledger.get(name);
            let bands = [line.bands.low, line.bands.median, line.bands.high];
            json!({ "name": name, "step": tape.find(node), "value": line.value, "bands": bands })
        })
        .collect();
    json!({ "steps": steps, "figures": figures })
}
