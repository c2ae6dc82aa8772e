//! Random plans for the page: of every size, construction, machine and paper, with names of every length and with much or little
//! said, as texts of plan and log. The same ones every time; `PROPTEST_CASES` asks for more of them.

use std::sync::LazyLock;

use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;
use proptest::sample::select;
use proptest::strategy::ValueTree;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use rayon::prelude::*;
use typst_layout::PagedDocument;
use wheelsheet::document::drawn::{Drawn, drawn};
use wheelsheet::document::{self, Sheet, Templates, Which};
use wheelsheet::plan::shape::Shape;
use wheelsheet::{Worked, source, work_out};

use super::golden::projects;
use super::reference::ledgers::of_texts;

/// The texts of a plan and its log.
#[derive(Debug, Clone)]
pub(crate) struct Texts {
    pub(crate) plan: String,
    pub(crate) log: String,
}

/// A lot of fibre in numbers: name, weights in gram, colours of its sections, and what else is said of it.
type Lot = (String, Vec<f64>, Vec<usize>, bool);

/// A name as plans have them, short and as long as they may be.
fn any_name() -> impl Strategy<Value = String> {
    prop_oneof![
        4 => select(&["oak", "moss", "sea", "fell", "ash"][..]).prop_map(str::to_owned),
        2 => select(&["first of the year", "hedge-row and lane", "under the weather"][..]).prop_map(str::to_owned),
        1 => Just("Mmmmmmmmm Wwwwwwwww mmmmmmmmm wwwwww".to_owned()),
        1 => Just("m".repeat(37)),
    ]
}

/// Different names from the same few words: each ends in its number.
fn names(n: std::ops::Range<usize>) -> impl Strategy<Value = Vec<String>> {
    vec(any_name(), n).prop_map(|names| names.iter().enumerate().map(|(i, name)| format!("{name} {i}")).collect())
}

fn text_of(length: usize) -> String {
    "said of it in many words, ".repeat(5).chars().take(length).collect::<String>().trim().to_owned()
}

fn any_heading() -> impl Strategy<Value = String> {
    (
        any_name(),
        select(&["metric", "imperial"][..]),
        select(&["A4", "Letter"][..]),
        select(&["UK", "US"][..]),
        any::<bool>(),
    )
        .prop_map(|(title, units, paper, terms, is_dated)| {
            let started = if is_dated { "started = 2026-03-02\nscale = \"0.1 g\"\n" } else { "" };
            format!(
                "[plan]\ntitle = \"{title}\"\nunits = \"{units}\"\npaper = \"{paper}\"\nterms = \"{terms}\"\n{started}"
            )
        })
}

fn any_fibre() -> impl Strategy<Value = String> {
    select(
        &[
            "kind = \"wool\"",
            "kind = \"wool\"\nfineness = \"23 micron\"\nstaple = \"11 cm\"\npreparation = \"combed top\"",
            "blend = { wool = \"60 %\", silk = \"30 %\", nylon = \"10 %\" }",
            "kind = \"alpaca\"\npreparation = \"carded roving\"",
        ][..],
    )
    .prop_map(|said| format!("\n[fibre.fluff]\n{said}\n"))
}

fn any_lots() -> impl Strategy<Value = Vec<Lot>> {
    let weights = prop_oneof![3 => vec(60.0..140.0f64, 1..5), 1 => vec(90.0..220.0f64, 5..12)];
    names(1..5).prop_flat_map(move |names| {
        let each = (weights.clone(), vec(0usize..4, 0..6), any::<bool>());
        vec(each, names.len()).prop_map(move |lots| {
            lots.into_iter()
                .zip(&names)
                .map(|((weights, colours, is_told), name)| (name.clone(), weights, colours, is_told))
                .collect()
        })
    })
}

fn lot_text((name, weights, sections, is_told): &Lot, colours: &[String]) -> String {
    let weights: Vec<String> = weights.iter().map(|weight| format!("\"{weight:.0} g\"")).collect();
    let mut text = format!("\n[braid.\"{name}\"]\nfibre = \"fluff\"\nweights = [{}]\n", weights.join(", "));
    if !sections.is_empty() {
        let each = 240 / sections.len();
        let told: Vec<String> =
            sections.iter().map(|i| format!("[\"{}\", \"{each} cm\"]", colours[i % colours.len()])).collect();
        text += &format!("length = \"2.4 m\"\nsections = [{}]\n", told.join(", "));
    }
    if *is_told {
        text += &format!(
            "dye-lot = \"{}\"\nprice = \"19.00 EUR\"\nbought = 2026-02-20\nfor-sampling = \"8 g\"\n",
            text_of(60)
        );
    }
    text
}

fn any_machine() -> impl Strategy<Value = String> {
    let drive = prop_oneof![
        3 => Just("whorls = { slow = \"5:1\", middle = \"9:1\", fast = \"16:1\" }".to_owned()),
        1 => names(3..6).prop_map(|names| {
            let told: Vec<String> = names.iter().enumerate().map(|(i, name)| format!("\"{name}\" = \"{}:1\"", 4 + 3 * i)).collect();
            format!("whorls = {{ {} }}\nlead = \"double drive\"", told.join(", "))
        }),
        2 => Just("drive = \"electric\"\nflyer-speed = \"1100 turns/min\"".to_owned()),
        1 => Just(
            "drive = \"electric\"\nflyer-speed = \"900 turns/min\"\nlead = \"bobbin\"\nbobbin-core = \"25 mm\"\nbobbin-full = \"70 mm\""
                .to_owned()
        ),
        2 => Just("drive = \"spindle\"".to_owned()),
    ];
    (drive, select(&["short forward", "long draw", "from the fold"][..]), 30.0..250.0f64, option::of(1usize..120))
        .prop_map(|(drive, draw, holds, brake)| {
            let brake = brake.filter(|_| !drive.contains("spindle"));
            let brake = brake.map_or(String::new(), |length| format!("brake = \"{}\"\n", text_of(length)));
            format!("\n[wheel]\n{drive}\ndraw = \"{draw}\"\nbobbin-holds = \"{holds:.0} g\"\n{brake}")
        })
}

/// The way of plying as the plan writes it, and the bobbins of a set.
fn any_yarn() -> impl Strategy<Value = (String, usize)> {
    prop_oneof![
        5 => (2usize..=8).prop_map(|plies| (format!("plies = {plies}"), plies)),
        1 => Just(("ply-from = \"chain\"".to_owned(), 1)),
        1 => Just(("ply-from = \"both ends of a ball\"".to_owned(), 1)),
        1 => Just(("ply-from = \"none\"".to_owned(), 1)),
        1 => (2usize..=3, 2usize..=3).prop_map(|(plies, strands)| (format!("plies = {plies}\ncabled = {strands}"), plies * strands)),
    ]
}

/// Ply plans that share the yarn, each with one ply for every bobbin of a set.
fn ply_plans(names: &[String], bobbins: usize, lots: &[Lot], is_reversed: bool, split: Split) -> String {
    let share = (1000.0 / names.len() as f64).floor() / 10.0;
    let mut text = String::new();
    for (i, name) in names.iter().enumerate() {
        let share = if i == 0 { "rest".to_owned() } else { format!("{share:.1} %") };
        let from = |ply: usize| if is_reversed && ply % 2 == 1 { ", from = \"other end\"" } else { "" };
        let lot = |ply: usize| &lots[(i + ply) % lots.len()].0;
        let ply = |ply: usize| match split {
            Split::InTurn if lots.len() > 1 => {
                format!("{{ braids = [\"{}\", \"{}\"], strips = 4{} }}", lot(ply), lot(ply + 1), from(ply))
            }
            Split::Together if lots.len() > 1 && ply == 0 => {
                format!("{{ braid = \"{}\", drafted-with = \"{}\" }}", lot(0), lot(1))
            }
            Split::Across => format!("{{ braid = \"{}\", across = 2, from = \"alternate ends\" }}", lot(ply)),
            Split::InTurn | Split::Together | Split::Plainly => format!("{{ braid = \"{}\"{} }}", lot(ply), from(ply)),
        };
        let plies: Vec<String> = (0..bobbins).map(ply).collect();
        let deal = if split == Split::InTurn { "deal = \"set after set\"\n" } else { "" };
        text +=
            &format!("\n[[ply-plan]]\nname = \"{name}\"\nshare = \"{share}\"\n{deal}plies = [{}]\n", plies.join(", "));
    }
    text
}

/// How the braids of a ply plan are split.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Split {
    Plainly,
    InTurn,
    Together,
    Across,
}

/// What the colours are to do, and with what they are worn.
fn wish(aim: usize, colours: &[String], lots: &[Lot]) -> String {
    let is_spun =
        |i: usize| lots.iter().any(|(_, _, sections, _)| sections.iter().any(|spun| spun % colours.len() == i));
    let pair = (is_spun(0) && is_spun(1)).then(|| format!("keep-apart = [[\"{}\", \"{}\"]]\n", colours[0], colours[1]));
    let aim = match aim {
        0 => return String::new(),
        1 => "aim = \"heather\"\n",
        2 => "aim = \"stripes\"\n",
        _ => "aim = \"as it comes\"\nleast-left-over = true\n",
    };
    format!("\n[colour-wish]\n{aim}{}worn-with = [\"{}\"]\n", pair.unwrap_or_default(), colours[3])
}

/// Two pieces of a garment.
fn pieces(name: &str) -> String {
    format!(
        "\n[garment.\"{name}\".piece.\"{name}\"]\nwidth = \"96 cm\"\nlength = \"38 cm\"\nworked = \"in the round\"\n\
         \n[garment.\"{name}\".piece.cuff]\nwidth = \"22 cm\"\nrows = 30\ncount = 2\n"
    )
}

/// How a garment is told: by its area, by a stated length, or by one of the shapes.
#[derive(Debug, Clone)]
enum Told {
    Area,
    Stated,
    Shape(Shape),
}

/// A garment of a shape, in two stitches and with all its bands.
fn shaped(name: &str, shape: Shape) -> String {
    let bands = ["hem", "cuff-depth", "brim", "border"];
    let has = |key: &&str| shape.measures().iter().any(|measure| measure.key() == *key);
    let mut measures: Vec<String> = bands.into_iter().filter(has).map(|key| format!("{key} = \"5 cm\"")).collect();
    let sizes = [("span", 150), ("depth", 60), ("width", 90), ("length", 140)];
    let own = sizes.iter().filter(|(key, _)| {
        shape.measures().iter().any(|measure| measure.key() == *key && shape.rests_on(*measure).is_none())
    });
    measures.extend(own.map(|(key, cm)| format!("{key} = \"{cm} cm\"")));
    format!(
        "\n[garment.\"{name}\"]\ncraft = \"knit\"\nstitch = \"stocking stitch\"\ngauge = \"19 st, 26 rows / 10 cm\"\n\
         shape = \"{}\"\nbody = {{ whom = \"woman\", chest = \"96 cm\", head = \"57 cm\", hand = \"19 cm\", \
         hand-length = \"18 cm\", foot = \"23 cm\", foot-length = \"25 cm\" }}\nmeasures = {{ {} }}\n\
         piece.{} = {{ stitch = \"2x2 rib\" }}\n",
        shape.words(),
        measures.join(", "),
        shape.pieces()[0],
    )
}

fn garment((name, (told, length)): (&String, &(Told, f64))) -> String {
    if let Told::Shape(shape) = told {
        return shaped(name, *shape);
    }
    let by_area = &matches!(told, Told::Area);
    let measure = if *by_area {
        format!(
            "stitch = \"stocking stitch\"\nneedle = \"4 mm\"\ngauge = \"19 st, 26 rows / 10 cm\"\narea = \"{:.2} m2\"",
            length / 1000.0
        )
    } else {
        format!("length = \"{length:.0} ± {:.0} m\"", length / 12.0)
    };
    let pieces = if *by_area && *length > 700.0 { pieces(name) } else { String::new() };
    format!("\n[garment.\"{name}\"]\ncraft = \"knit\"\n{measure}\n{pieces}")
}

/// A sample in numbers: wraps to the inch and weight in gram, and how much is told of it.
type Sampled = (f64, f64, bool, usize);

fn sample(i: usize, (wraps, weight, is_whole, feel): &Sampled, is_chosen: bool) -> String {
    let mut text = format!("[[sample]]\nname = \"sample {i}\"\ndate = 2026-03-{:02}\n", i + 1);
    text += &format!(
        "skein = {{ loops = 20, loop = \"1.5 m\", washed-loop = \"1.42 m\", weight = \"{weight:.1} g\", wraps = \"{wraps:.0} wpi\" }}\n"
    );
    if *is_whole {
        text += &format!("singles = {{ wraps = [\"{:.0} wpi\", \"{:.0} wpi\"] }}\n", 1.7 * wraps, 1.8 * wraps);
        text += &format!(
            "swatch = {{ needle = \"4 mm\", gauge = \"19 st, 26 rows / 10 cm\", feel = \"{}\" }}\n",
            text_of(*feel)
        );
    }
    text + &format!("chosen = {is_chosen}\n\n")
}

fn any_samples() -> impl Strategy<Value = String> {
    let one = (8.0..14.0f64, 9.0..22.0f64, any::<bool>(), 5usize..118);
    prop_oneof![2 => Just(Vec::new()), 1 => vec(one.clone(), 1..2), 2 => vec(one, 2..7)].prop_flat_map(|samples| {
        option::of(0..samples.len().max(1)).prop_map(move |chosen| {
            let all = samples.iter().enumerate();
            all.map(|(i, told)| sample(i, told, chosen == Some(i))).collect()
        })
    })
}

fn any_texts() -> impl Strategy<Value = Texts> {
    let material = (any_fibre(), names(4..5), any_lots());
    let work = (any_machine(), any_yarn(), 7.0..20.0f64);
    let plans = prop_oneof![2 => names(0..3), 1 => names(3..11)];
    let garments = names(0..4).prop_flat_map(|names| {
        let told = prop_oneof![
            1 => Just(Told::Area),
            1 => Just(Told::Stated),
            2 => select(&Shape::ALL[..]).prop_map(Told::Shape),
        ];
        vec((told, 60.0..1400.0f64), names.len()).prop_map(move |told| (names.clone(), told))
    });
    let splits = prop_oneof![
        3 => Just(Split::Plainly),
        1 => Just(Split::InTurn),
        1 => Just(Split::Together),
        1 => Just(Split::Across),
    ];
    (any_heading(), material, work, (plans, any::<bool>(), splits, 0usize..4), garments, any_samples()).prop_map(
        |(
            heading,
            (fibre, colours, lots),
            (machine, (plied, bobbins), wraps),
            (plans, is_reversed, split, aim),
            (garments, told),
            log,
        )| {
            let mut plan = heading + &fibre + "\n[colours]\n";
            let tints = ["#7b5f8a", "#f2e9c9", "", "#1d2733"];
            plan.extend(colours.iter().zip(tints).map(|(name, tint)| format!("\"{name}\" = \"{tint}\"\n")));
            plan.extend(lots.iter().map(|lot| lot_text(lot, &colours)));
            plan += &format!("{machine}\n[yarn]\n{plied}\nwraps = \"{wraps:.0} wpi\"\n");
            plan += &ply_plans(&plans, bobbins, &lots, is_reversed, split);
            plan += &wish(aim, &colours, &lots);
            plan.extend(garments.iter().zip(&told).map(garment));
            Texts { plan, log }
        },
    )
}

/// So many plans that are sound, worked out, each with its texts.
pub(crate) fn worked(usual: usize) -> Vec<(Texts, Worked)> {
    let asked = std::env::var("PROPTEST_CASES").ok().and_then(|n| n.parse().ok());
    let rng = TestRng::deterministic_rng(RngAlgorithm::ChaCha);
    let mut runner = TestRunner::new_with_rng(Config::default(), rng);
    let mut tried = 0;
    let mut found = Vec::new();
    let wanted = asked.unwrap_or(usual);
    while found.len() < wanted {
        let texts = any_texts().new_tree(&mut runner).expect("nothing is filtered").current();
        tried += 1;
        assert!(tried < 20 * (found.len() + 5), "nearly no plan is sound, among them\n{}\n{}", texts.plan, texts.log);
        if let Some(worked) = work_out(&of_texts(&texts.plan, &texts.log)).worked {
            found.push((texts, worked));
        }
    }
    found
}

/// The texts of the random plans that some faults name, each once.
pub(crate) fn texts_of(faults: &[String]) -> String {
    let random = worked(RANDOM).into_iter().enumerate();
    let named = random.filter(|(i, _)| faults.iter().any(|fault| fault.starts_with(&format!("random plan {i},"))));
    named.map(|(i, (texts, _))| format!("\n---- random plan {i}\n{}---- its log\n{}", texts.plan, texts.log)).collect()
}

/// One sheet as it was typeset.
pub(crate) struct Typeset {
    /// Of which plan: the name of a project with its paper, or the number of a random plan.
    pub(crate) plan: String,
    pub(crate) sheet: Sheet,
    pub(crate) pages: Vec<Page>,
}

/// One page of it.
pub(crate) struct Page {
    /// Width and height in points.
    pub(crate) size: (f64, f64),
    pub(crate) drawn: Vec<Drawn>,
}

/// The pages of a document.
pub(crate) fn pages(document: &PagedDocument) -> Vec<Page> {
    let sizes = document.pages().iter().map(|page| page.frame.size());
    let mut pages: Vec<Page> =
        sizes.map(|size| Page { size: (size.x.to_pt(), size.y.to_pt()), drawn: Vec::new() }).collect();
    for item in drawn(document) {
        pages[item.page].drawn.push(item);
    }
    pages
}

/// So many of the random plans are typeset, and the long sheet of workings of every so-many-eth of them.
const RANDOM: usize = 20;
const WITH_WORKINGS: usize = 6;

/// Every sheet of the shipped projects on both papers, and of the random plans.
pub(crate) static TYPESET: LazyLock<Vec<Typeset>> = LazyLock::new(|| {
    let mut plans: Vec<(String, Worked, bool)> = Vec::new();
    for (name, folder, _) in projects() {
        let project = source::read(&folder).expect("readable");
        let text = String::from_utf8(project.plan.bytes).expect("UTF-8");
        let log = project.log;
        let log = log.map_or(String::new(), |log| String::from_utf8(log.bytes).expect("UTF-8"));
        for (system, paper) in [("metric", "A4"), ("imperial", "Letter")] {
            let plain = text.lines().filter(|line| !line.starts_with("units =") && !line.starts_with("paper ="));
            let plan = plain.collect::<Vec<_>>().join("\n");
            let plan = plan.replacen("[plan]", &format!("[plan]\nunits = \"{system}\"\npaper = \"{paper}\""), 1);
            let worked = work_out(&of_texts(&plan, &log)).worked.expect("a shipped project is sound on either paper");
            plans.push((format!("{name}, {system}"), worked, true));
        }
    }
    let random = worked(RANDOM).into_iter().enumerate();
    plans.extend(random.map(|(i, (_, worked))| (format!("random plan {i}"), worked, i % WITH_WORKINGS == 0)));
    let typeset = |(name, worked, has_workings): &(String, Worked, bool)| {
        let sheets = wheelsheet::sheets(worked);
        let wanted = sheets.present().into_iter().filter(|sheet| *has_workings || *sheet != Sheet::Workings);
        let typeset = wanted.map(|sheet| {
            let document = document::document(&sheets, Which::One(sheet), &Templates::Shipped)
                .unwrap_or_else(|fault| panic!("{name}, {}: {fault}", sheet.name()));
            Typeset { plan: name.clone(), sheet, pages: pages(&document) }
        });
        let typeset = typeset.collect::<Vec<_>>();
        // What the typesetting library remembers of one plan is of no use for the next, and it is much.
        comemo::evict(0);
        typeset
    };
    plans.par_iter().flat_map_iter(typeset).collect()
});
