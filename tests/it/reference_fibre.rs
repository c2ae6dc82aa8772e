//! Fibre, moisture and readings against grades of wool, textile manuals and tables of statistics.

use wheelsheet::figures::expression::Figure;
use wheelsheet::figures::{fibre, statistics};
use wheelsheet::units::{Count, Density, FibreDiameter, LinearDensity, Share};

use super::ledgers::{project, written};
use super::{assert_close, assert_printed, is_in, number, of, reached, rows};

/// Density of wool: W. E. Morton and J. W. S. Hearle, *Physical Properties of Textile Fibres*, table 5.1.
fn wool() -> Figure<Density> {
    of("1.31 g/cm³")
}

fn micron(diameter: f64) -> Figure<FibreDiameter> {
    of(&format!("{diameter} micron"))
}

/// Official Standards of the United States for Grades of Wool; a grade is taken as the middle of its range, give or take half.
#[test]
fn grades_of_wool_are_the_official_ranges() {
    for row in rows(include_str!("../reference/wool-grades.csv")) {
        let plan = written(&format!(
            "[plan]\ntitle = \"T\"\n[fibre.wool]\nkind = \"wool\"\ngrade = \"{}\"\nweight = \"100 g\"\n\
             [wheel]\nwhorls = {{ slow = \"6:1\" }}\n[yarn]\nplies = 2\nwraps = \"9 wpi\"\n",
            row["grade"]
        ));
        assert!(plan.ledger.find("fibre.wool.across").is_some(), "the grade reaches the ledger");
        let fineness = plan.plan.fibres[0].fineness.as_ref().expect("the grade gives it");
        let [finest, coarsest] = [-2.0, 2.0].map(|times| (fineness.value + times * fineness.uncertainty) * 1e6);
        assert_printed(finest, &row["finest"], &row["grade"]);
        assert_printed(coarsest, &row["coarsest"], &row["grade"]);
    }
}

/// Linear density of one wool fibre: π/4 × 1.31 × d², the inverse of D = 20 √(dtex ÷ (π × density)), a published formula.
/// Values derived.
#[test]
fn one_fibre_weighs_what_its_diameter_says() {
    let fibres = [
        (15.0, "2.314961"),
        (18.5, "3.521313"),
        (20.0, "4.115486"),
        (21.0, "4.537324"),
        (22.0, "4.979739"),
        (25.0, "6.430447"),
        (28.0, "8.066353"),
        (30.0, "9.259844"),
        (36.0, "13.334176"),
    ];
    for (diameter, dtex) in fibres {
        let one = reached(fibre::finest(&number(1.0), &wool(), &micron(diameter), &number(0.0)));
        assert_printed(is_in(&one, "dtex"), dtex, &format!("{diameter} micron"));
        let back = 20.0 * (is_in(&one, "dtex") / (std::f64::consts::PI * 1.31)).sqrt();
        assert_close(back, diameter, 1e-12, "the published formula the other way round");
    }
}

/// By hand: 80 g of wool at 1.31 fill 61.0687 cm³ and 20 g of silk at 1.34 fill 14.9254 cm³, 100 g in 75.9941 cm³.
/// Densities of Morton and Hearle.
#[test]
fn the_volumes_of_a_blend_add() {
    let silk: Figure<Density> = of("1.34 g/cm³");
    let parts = [(number(0.8), wool()), (number(0.2), silk)];
    let blend = reached(fibre::blend_density(&parts));
    assert_printed(is_in(&blend, "g/cm³"), "1.31589", "80 to 20");
    assert_close(is_in(&blend, "g/cm³"), 100.0 / (61.0687 + 14.9254), 1e-6, "by hand");
    let plan = |content: &str| {
        written(&format!(
            "[plan]\ntitle = \"T\"\n[fibre.soft]\n{content}\nfineness = \"21 micron\"\nweight = \"100 g\"\n\
             [wheel]\nwhorls = {{ slow = \"6:1\" }}\n[yarn]\nplies = 2\nwraps = \"9 wpi\"\n"
        ))
    };
    let blended = plan("blend = { wool = \"80 %\", silk = \"20 %\" }");
    assert_close(blended.value("fibre.soft.density"), blend.value(), 1e-12, "in the ledger");
    // Fewer fibres of a denser kind lie in the same weight.
    let (pure, silken) = (plan("kind = \"wool\""), plan("kind = \"silk\""));
    let across = |plan: &super::ledgers::Worked| plan.value("fibre.soft.across");
    assert!(across(&silken) < across(&blended) && across(&blended) < across(&pure));
    assert_close(across(&pure) / across(&blended), blend.value() / 1.31e6, 1e-12, "as the densities");
    assert!(pure.ledger.find("fibre.soft.density").is_none(), "one kind has the density of its kind");
}

#[test]
fn thirds_of_a_blend_may_be_written_short() {
    let blended = written(
        "[plan]\ntitle = \"T\"\n[fibre.three]\nblend = { wool = \"33.3 %\", Silk = \"33.3 %\", \"bamboo viscose\" = \"33.4 %\" }\n\
         weight = \"100 g\"\n[wheel]\nwhorls = { slow = \"6:1\" }\n[yarn]\nplies = 2\nwraps = \"9 wpi\"\n",
    );
    assert_eq!(blended.plan.fibres[0].words(), "wool 33.3 %, silk 33.3 %, bamboo viscose 33.4 %");
}

fn across(tex: f64, diameter: f64, variation: f64) -> Figure<Count> {
    let yarn = of::<LinearDensity>(&format!("{tex} tex"));
    reached(fibre::fibres_across(&yarn, &wool(), &micron(diameter), &number(variation)))
}

/// Derived from the cross-section of cylinders; the textbooks' 917 × tex ÷ d² (from memory) is the same with 24.5 %.
#[test]
fn fibres_in_the_cross_section() {
    let yarns = [
        (20.0, 21.0, 0.22, "42.0439"),
        (50.0, 22.0, 0.24, "94.9384"),
        (100.0, 25.0, 0.25, "146.3625"),
        (250.0, 28.0, 0.25, "291.6983"),
    ];
    for (tex, diameter, variation, printed) in yarns {
        assert_printed(across(tex, diameter, variation).value(), printed, &format!("{tex} tex of {diameter} micron"));
    }
    assert_printed(across(1.0, 1.0, 0.245).value(), "917", "the textbooks' constant");
}

/// Fewest fibres by the trade (35 to 40 in worsted, from memory), with the yarn that has so many (derived).
#[test]
fn the_finest_yarn_of_a_fibre() {
    for (fibres, tex, metric, worsted) in [(35.0, "15.0394", 66.49, 58.90), (40.0, "17.1879", 58.18, 51.54)] {
        let finest = reached(fibre::finest(&number(fibres), &wool(), &micron(20.0), &number(0.21)));
        assert_printed(is_in(&finest, "tex"), tex, "finest");
        assert_close(1000.0 / is_in(&finest, "tex"), metric, 1e-4, "metric count");
        assert_close(885.811_871_2 / is_in(&finest, "tex"), worsted, 1e-4, "worsted count");
    }
}

/// Journal abstract on Australian Merino: 19 to 26 % hold 95 % of sale lots; tops rise half a point a micron through 21 % at 21.
#[test]
fn diameters_vary_as_in_sale_lots() {
    let variation = |diameter: f64| 100.0 * reached(fibre::diameter_variation(&micron(diameter))).value();
    assert_close(variation(21.0), 21.0, 1e-12, "21 micron");
    assert_close(variation(23.0) - variation(22.0), 0.5, 1e-9, "a micron more");
    for diameter in [17.0, 19.0, 21.0, 23.0, 25.0] {
        assert!((19.0..=26.0).contains(&variation(diameter)), "{diameter} micron: {}", variation(diameter));
    }
}

fn least_irregularity(fibres: f64, variation: f64) -> f64 {
    let fibres = number::<Count>(fibres);
    100.0 * reached(fibre::limit_irregularity(&fibres, &number::<Share>(variation))).value()
}

/// Martindale's limit as *The Technology of Short-staple Spinning* prints it: (100 ÷ √n) √(1 + 0.0004 CV²).
#[test]
fn the_least_irregularity_is_martindales() {
    // The trade's 112 ÷ √n for wool and 106 ÷ √n for cotton stand for variations of 25.2190 and 17.5784 % (derived).
    assert_close(least_irregularity(1.0, 0.252_190), 112.0, 1e-5, "wool");
    assert_close(least_irregularity(1.0, 0.175_784), 106.0, 1e-5, "cotton");
    for (variation, printed) in [(0.20, "107.7033"), (0.22, "109.2520"), (0.24, "110.9234"), (0.28, "114.6124")] {
        assert_printed(least_irregularity(1.0, variation), printed, "factor");
    }
    // An examination key, read at second hand: 32 tex of 2 denier has 144 fibres, of no variation, and a limit of 8.3333 %.
    assert_printed(least_irregularity(144.0, 0.0), "8.3333", "144 fibres");
    for (tex, diameter, variation, printed) in
        [(100.0, 25.0, 0.25, "9.2414"), (50.0, 22.0, 0.24, "11.3842"), (20.0, 21.0, 0.22, "16.8491")]
    {
        let fibres = across(tex, diameter, variation).value();
        assert_printed(least_irregularity(fibres, variation), printed, &format!("{tex} tex"));
    }
}

/// Independent plies cut the unevenness to 0.71, 0.58 and 0.50 of the singles' (derived); a chain ply repeats it and counts as
/// one (read in published craft texts).
#[test]
fn plies_that_are_spun_apart_average() {
    let plied =
        |averaging: f64| reached(fibre::plied_irregularity(&number::<Share>(1.0), &number::<Count>(averaging))).value();
    for (plies, printed) in [(2.0, "0.71"), (3.0, "0.58"), (4.0, "0.50")] {
        assert_printed(plied(plies), printed, &format!("{plies} plies"));
    }
    assert_close(plied(1.0), 1.0, 1e-15, "a chain ply");
    let project = project("three-ply-pullover");
    let ratio = project.value("fibre.polwarth.plied-irregularity") / project.value("fibre.polwarth.irregularity");
    assert_close(ratio, 1.0 / 3.0_f64.sqrt(), 1e-12, "in the ledger");
    for (yarn, independent) in [("plies = 3\nply-from = \"chain\"", 1.0), ("plies = 2\ncabled = 2", 4.0)] {
        let plan = written(&format!(
            "[plan]\ntitle = \"T\"\n[fibre.wool]\nkind = \"wool\"\nfineness = \"23 micron\"\nweight = \"200 g\"\n\
             [wheel]\nwhorls = {{ slow = \"6:1\", fast = \"12:1\", fastest = \"18:1\" }}\n[yarn]\n{yarn}\nwraps = \"9 wpi\"\n"
        ));
        let ratio = plan.value("fibre.wool.plied-irregularity") / plan.value("fibre.wool.irregularity");
        assert_close(ratio, 1.0 / f64::sqrt(independent), 1e-12, yarn);
    }
}

/// Common practice, no source: hands are held no further apart than a fibre is long.
#[test]
fn a_draw_against_the_staple() {
    let reach = |let_in: &str, staple: &str| {
        reached(fibre::reach(&of::<wheelsheet::units::Length>(let_in), &of(staple))).value()
    };
    assert_close(reach("4 cm", "8 cm"), 0.5, 1e-12, "half a staple");
    assert_close(reach("4 cm", "3 cm"), 4.0 / 3.0, 1e-12, "more than a staple");
}

/// Regains: W. H. Dooley, *Textiles*, 1914, p. 28 (16 %); ASTM D1909 (13.6 %); EU allowance for combed wool (18.25 %).
#[test]
fn damp_air_adds_weight() {
    let factor = |damp: f64, dry: f64| reached(fibre::regain_factor(&number(damp), &number(dry))).value();
    assert_printed(factor(0.1825, 0.136), "1.0409331", "18.25 over 13.6");
    assert_printed(factor(0.1825, 0.16), "1.0193966", "18.25 over 16");
    assert_printed(factor(0.16, 0.136), "1.0211268", "16 over 13.6");
    // A heated room and ordinary damp: the same fibre is 6.4 % heavier (derived).
    assert_printed(100.0 * (factor(0.16, 0.09) - 1.0), "6.4", "16 over 9");
    // ASTM D2118: worsted yarn of 15.0 % regain holds 13.04 % of its weight in water.
    assert_printed(100.0 * (1.0 - factor(0.0, 0.15)), "13.04", "content");
}

/// Confidence limits of a mean: IUPAC, *Compendium of Chemical Terminology*, C01247. Five skeins, worked out with scipy 1.17.1.
#[test]
fn how_sure_a_mean_of_skeins_is() {
    let skeins = [98.0, 102.0, 101.0, 97.0, 100.0];
    assert_close(statistics::half_width(&skeins).expect("several"), 2.574_769_268, 1e-9, "half width");
    assert_close(100.0 * statistics::variation(&skeins).expect("several"), 2.081_972, 1e-6, "variation");
    assert_eq!(statistics::half_width(&skeins[..1]), None);
    assert_eq!(statistics::half_width(&[]), None);
}

/// Derived from the same limits: variation and wish in per cent, skeins. The common (1.96 CV ÷ E)² is two or three short.
#[test]
fn how_many_skeins_it_takes() {
    for (variation, within, skeins, by_the_normal) in [
        (3.0, 2.0, 12, 9.0),
        (5.0, 2.0, 27, 25.0),
        (5.0, 3.0, 14, 11.0),
        (8.0, 5.0, 13, 10.0),
        (10.0, 5.0, 18, 16.0),
        (12.0, 5.0, 25, 23.0),
    ] {
        assert_eq!(
            statistics::readings_needed(variation / 100.0, within / 100.0),
            skeins,
            "{variation} % to {within} %"
        );
        let common: f64 = (1.959_964 * variation / within) * (1.959_964 * variation / within);
        assert!((common.ceil() - by_the_normal).abs() < 0.5);
    }
    assert_eq!(statistics::readings_needed(0.0, 0.05), 2, "one reading says nothing of how readings differ");
}

/// Student's t from scipy 1.17.1, in `student-t.csv`.
#[test]
fn students_t_is_that_of_scipy() {
    for row in rows(include_str!("../reference/student-t.csv")) {
        let (p, freedom) = (row["p"].parse().expect("a number"), row["freedom"].parse().expect("a number"));
        let expected: f64 = row["scipy"].parse().expect("a number");
        assert_close(statistics::student_quantile(p, freedom), expected, 1e-10, &format!("p {p}, {freedom} degrees"));
    }
}

#[test]
fn a_sample_with_several_readings_says_how_sure_they_are() {
    let project = project("three-ply-pullover");
    let sample = project.plan.samples.iter().find(|sample| sample.wraps.len() > 1).expect("there is one");
    let readings: Vec<f64> = sample.wraps.iter().map(|reading| reading.value).collect();
    let interval = project.value(&format!("sample.{}.wraps-interval", sample.name));
    assert_eq!(Some(interval), statistics::half_width(&readings));
    let needed = project.value(&format!("sample.{}.readings-needed", sample.name));
    let variation = statistics::variation(&readings).expect("several");
    assert_eq!(needed as usize, statistics::readings_needed(variation, 0.05));
}
