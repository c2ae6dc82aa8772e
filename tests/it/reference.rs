//! The formulas against the world outside: tables and worked examples of old books, published measurements, common practice.
//!
//! Every check calls a formula that some ledger holds, and says so by [`reached`]: a formula that no plan reaches would
//! prove nothing about the sheets.

#[path = "reference_colour.rs"]
mod colour;
#[path = "reference_fabric.rs"]
pub(crate) mod fabric;
#[path = "reference_fibre.rs"]
mod fibre;
#[path = "reference_garment.rs"]
mod garment;
#[path = "ledgers.rs"]
pub(crate) mod ledgers;
#[path = "reference_matching.rs"]
mod matching;
#[path = "reference_sampling.rs"]
mod sampling;
#[path = "reference_shapes.rs"]
mod shapes;
#[path = "reference_strips.rs"]
mod strips;
#[path = "reference_twist.rs"]
mod twist;
#[path = "reference_yarn.rs"]
mod yarn;

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use wheelsheet::figures::expression::{Figure, exact};
use wheelsheet::units::{Kind, Quantity, parse, unit};

use ledgers::{PROJECTS, Worked, shape, source_of, written, written_with_log};

/// Plans that reach what the shipped projects leave out: four plies, fibre too coarse for its yarn, weighed swatches, a blend, a driven bobbin, an electric wheel, a spindle.
pub(crate) static MORE: LazyLock<Vec<Worked>> = LazyLock::new(|| {
    let wheel = "[wheel]\nwhorls = { one = \"9:1\", two = \"16:1\", three = \"24:1\" }\n";
    let four_plies = "[plan]\ntitle = \"Four plies\"\n[fibre.wool]\nkind = \"wool\"\nweight = \"400 g\"\n\
        [yarn]\nplies = 4\nwraps = \"12 wpi\"\n\
        [garment.shawl]\narea = \"1 m2\"\nswatch = { size = \"15 x 15 cm\", weight = \"6.1 g\" }\n\
        [garment.cap]\narea = \"0.1 m2\"\nswatch = { size = \"15 x 15 cm\", length = \"14 m\" }\n\
        [garment.mat]\nstitch = \"garter stitch\"\narea = \"0.1 m2\"\ngauge = \"18 st, 36 rows / 10 cm\"\n";
    let coarse = "[plan]\ntitle = \"Coarse fibre\"\n[fibre.wool]\nkind = \"wool\"\ngrade = \"44s\"\nweight = \"100 g\"\n\
        [yarn]\nplies = 2\ngrist = \"14000 m/kg\"\n";
    let blend = "[plan]\ntitle = \"A blend\"\nscale = \"1 g\"\n[fibre.soft]\nblend = { wool = \"80 %\", silk = \"20 %\" }\n\
        fineness = \"21 micron\"\nstaple = \"8 cm\"\nweight = \"100 g\"\n[yarn]\nplies = 3\ngrist = \"10000 m/kg\"\n";
    let unlike = "[plan]\ntitle = \"Unlike plies\"\n[fibre.wool]\nkind = \"wool\"\nweight = \"300 g\"\n\
        [fibre.silk]\nkind = \"silk\"\nweight = \"100 g\"\n[yarn]\nplies = 3\nwraps = \"12 wpi\"\n\
        [[ply-plan]]\nplies = [{ fibre = \"wool\" }, { fibre = \"wool\" }, { fibre = \"silk\", grist = \"1200 m/100 g\" }]\n";
    let told_by_plies = "[plan]\ntitle = \"Told by its plies\"\n[fibre.wool]\nkind = \"wool\"\nweight = \"300 g\"\n\
        [fibre.silk]\nkind = \"silk\"\nweight = \"100 g\"\n[yarn]\nplies = 2\nwraps = \"12 wpi\"\n\
        [[ply-plan]]\nplies = [{ fibre = \"wool\", grist = \"400 m/100 g\" }, { fibre = \"silk\", grist = \"1200 m/100 g\" }]\n";
    let spiral = "[plan]\ntitle = \"Spiral\"\n[fibre.wool]\nkind = \"wool\"\nweight = \"300 g\"\n\
        [yarn]\nplies = 2\nwraps = \"12 wpi\"\n\
        [[ply-plan]]\nplies = [{ fibre = \"wool\" }, { fibre = \"wool\", plying-shortens = \"12 ± 3 %\" }]\n";
    let cabled = "[plan]\ntitle = \"Cabled\"\n[fibre.wool]\nkind = \"wool\"\nweight = \"300 g\"\n\
        [yarn]\nplies = 2\ncabled = 2\nwraps = \"10 wpi\"\n";
    let singles = "[plan]\ntitle = \"Singles\"\n[fibre.wool]\nkind = \"wool\"\nweight = \"300 g\"\n\
        [yarn]\nply-from = \"none\"\nwraps = \"20 wpi\"\n";
    let alone = [four_plies, coarse, blend, unlike, told_by_plies, spiral, cabled, singles];
    let alone = alone.into_iter().map(|plan| written(&format!("{plan}{wheel}")));
    // A yarn in hand of which all was read, and one of which only a ball is there; both beside a chosen sample of another loft.
    let chosen = format!("{}chosen = true\n", matching::SKEIN_B);
    let garment = "[garment.hat]\nlength = \"150 m\"\n";
    let whole = format!("{}{garment}", matching::SKEIN_A);
    let ball_alone = whole.replace("wraps = \"16 ± 0.5 wpi\"\n", "");
    let matched = [whole, ball_alone].map(|plan| written_with_log(&plan, &chosen));
    let on = |machine: &str| {
        let yarn = "[plan]\ntitle = \"Machines\"\n[fibre.wool]\nkind = \"wool\"\nweight = \"200 g\"\n[yarn]\nplies = 2\nwraps = \"12 wpi\"\n";
        written(&format!("{yarn}[wheel]\n{machine}"))
    };
    let machines = [
        "whorls = { one = \"9:1\" }\nlead = \"bobbin\"\ndrive-wheel = \"50 cm\"\nband = \"3 mm\"\n",
        "drive = \"electric\"\nflyer-speed = \"900 turns/min\"\n",
        "drive = \"spindle\"\n",
    ];
    alone.chain(matched).chain(machines.into_iter().map(on)).collect()
});

/// How each figure of each ledger is built, with the source that it names.
static FORMULAS: LazyLock<BTreeSet<(&str, String)>> = LazyLock::new(|| {
    let all = PROJECTS.iter().chain(MORE.iter());
    all.flat_map(Worked::nodes).map(|(_, node)| (source_of(node), shape(node))).collect()
});

/// The figure with a name, once it is sure that some ledger holds one by the same formula.
fn reached<Q: Quantity>(figure: Figure<Q>) -> Figure<Q> {
    let formula = (source_of(figure.node()), shape(figure.node()));
    assert!(FORMULAS.contains(&formula), "no ledger holds {formula:?}");
    figure.named("reference.figure", "figure of a reference")
}

/// A quantity as a book writes it, without spread.
fn of<Q: Quantity>(text: &str) -> Figure<Q> {
    exact(text, parse(text, Q::KIND).unwrap_or_else(|error| panic!("{text}: {error}")).value)
}

/// A pure number, or a number of things.
fn number<Q: Quantity>(value: f64) -> Figure<Q> {
    exact(&format!("{value}"), value)
}

/// A figure in a unit.
fn is_in<Q: Quantity>(figure: &Figure<Q>, symbol: &str) -> f64 {
    unit(Q::KIND, symbol).unwrap_or_else(|| panic!("{symbol} is no unit of {:?}", Q::KIND)).from_base(figure.value())
}

/// Rows of a reference table, by the names in its head.
pub(crate) fn rows(text: &str) -> Vec<BTreeMap<String, String>> {
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
    let rows: Vec<_> = reader.deserialize().collect::<Result<_, _>>().expect("the table is well formed");
    assert!(!rows.is_empty(), "the table has rows");
    rows
}

pub(crate) fn assert_close(got: f64, expected: f64, tolerance: f64, of: &str) {
    assert!((got / expected - 1.0).abs() <= tolerance, "{of}: expected {expected}, got {got}");
}

/// That a number is what is printed: a vulgar fraction exactly, a decimal one within half of its last digit.
pub(crate) fn assert_printed(got: f64, printed: &str, of: &str) {
    let value = parse(printed, Kind::Count).unwrap_or_else(|error| panic!("{printed}: {error}")).value;
    let room = if printed.contains('/') { 1e-9 * value } else { half_of_the_last_digit(printed) };
    assert!((got - value).abs() <= room * (1.0 + 1e-9), "{of}: printed {printed}, got {got}");
}

/// That a number begins with the digits printed, for books that cut off what they do not print.
fn assert_cut(got: f64, printed: &str, of: &str) {
    let value: f64 = printed.parse().expect("a number");
    let last = 2.0 * half_of_the_last_digit(printed);
    assert!((value..value + last).contains(&got), "{of}: printed {printed}, got {got}");
}

fn half_of_the_last_digit(printed: &str) -> f64 {
    let places = printed.split_once('.').map_or(0, |(_, after)| after.len());
    format!("0.{}5", "0".repeat(places)).parse().expect("a number")
}

#[test]
fn every_formula_is_called_by_a_ledger() {
    let formulas = [
        ("thickness", include_str!("../../src/figures/thickness.rs")),
        ("folding", include_str!("../../src/figures/folding.rs")),
        ("twist", include_str!("../../src/figures/twist.rs")),
        ("wheel", include_str!("../../src/figures/wheel.rs")),
        ("fibre", include_str!("../../src/figures/fibre.rs")),
        ("garment", include_str!("../../src/figures/garment.rs")),
        ("formula", include_str!("../../src/figures/colour/formula.rs")),
    ];
    // The stage itself calls them; how a ledger was built is seen by `reached`.
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("src/figures");
    // An exercise of a class may have the name of a topic: what calls is told by its whole path.
    let topics = formulas.map(|(module, _)| match module {
        "formula" => folder.join("colour/formula.rs"),
        _ => folder.join(format!("{module}.rs")),
    });
    let callers = walkdir::WalkDir::new(&folder).sort_by_file_name();
    let callers = callers.into_iter().map(|entry| entry.expect("readable").into_path());
    let ledgers: String = callers
        .filter(|path| path.is_file() && !topics.contains(path))
        .map(|path| std::fs::read_to_string(path).expect("a source file"))
        .collect();
    for (module, text) in formulas {
        for name in text.split("\npub fn ").skip(1).filter_map(|rest| rest.split(['(', '<']).next()) {
            assert!(ledgers.contains(&format!("{module}::{name}(")), "{module}::{name} is called by nothing");
        }
    }
}
