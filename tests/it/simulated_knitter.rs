//! Simulated knitters: hands with a loop, a gauge and a body of their own work a garment; the program is told what they could read
//! before they began, and its band from the tenth to the ninetieth part has to hold what they used, four times in five.
//!
//! The worlds are this test's own. They know loops, areas and bodies as people have measured them, and none of the program's draws.
//! A share of 80 % in 400 worlds has a standard error of 2 %, so 75 to 85 % is two and a half of them; the seeds are fixed.

use rayon::prelude::*;

use super::reference::fabric::{YARD, plan_of};
use super::reference::ledgers::written_with_log;
use super::simulated_spinner::{Chance, stepped};

const WORLDS: u64 = 400;

/// A world as its knitter writes it down, and the metres of yarn that the garment took.
struct World {
    plan: String,
    log: String,
    took: f64,
}

/// How often a band held what was used, and how often that was less or more.
#[derive(Debug, Default)]
struct Held {
    within: usize,
    less: usize,
    more: usize,
}

impl Held {
    fn share(&self) -> f64 {
        self.within as f64 / (self.within + self.less + self.more) as f64
    }
}

/// The bands of so many worlds against what was used in them.
fn held(first: u64, world: impl Fn(&mut Chance) -> World + Sync) -> Held {
    let seeds: Vec<u64> = (first..first + WORLDS).collect();
    let outcomes: Vec<i32> = seeds
        .par_iter()
        .map(|seed| {
            let world = world(&mut Chance::new(*seed));
            let bands = written_with_log(&world.plan, &world.log).ledger.get("garment.it.yarn").bands;
            i32::from(world.took > bands.high) - i32::from(world.took < bands.low)
        })
        .collect();
    let of = |what: i32| outcomes.iter().filter(|outcome| **outcome == what).count();
    Held { within: of(0), less: of(-1), more: of(1) }
}

fn assert_holds(held: &Held) {
    assert!((0.75..=0.85).contains(&held.share()), "{:.1} %: {held:?}", 100.0 * held.share());
}

/// What a plan says of a fabric, and the square metres that come of it.
struct Fabric {
    said: String,
    area: f64,
}

/// A garment of the wardrobe is measured, two sides of each piece by a tape that errs the same way on both.
fn measured_garment(chance: &mut Chance) -> Fabric {
    let area = chance.between(0.3, 1.2);
    Fabric { said: format!("area = \"{:.2} m2\"\n", area * chance.about_one(0.02)), area }
}

/// Pieces by their own measures; seams and edges make them a little more or less.
fn own_pieces(chance: &mut Chance) -> Fabric {
    let (wide, high) = (chance.between(90.0, 130.0).round(), chance.between(45.0, 70.0).round());
    let (cuff, arm, long) =
        (chance.between(20.0, 26.0).round(), chance.between(34.0, 44.0).round(), chance.between(42.0, 50.0).round());
    let said = format!(
        "piece.body = {{ width = \"{wide} cm\", length = \"{high} cm\" }}\n\
         piece.sleeve = {{ outline = \"trapezoid\", width = \"{cuff} cm\", upper-width = \"{arm} cm\", length = \"{long} cm\", count = 2 }}\n"
    );
    Fabric { said, area: (wide * high + (cuff + arm) * long) / 1e4 * chance.about_one(0.015) }
}

/// A raglan that says all its measures. Short rows, slopes and shaping are not in any sum: four to five in a hundred.
fn raglan(chance: &mut Chance) -> Fabric {
    let mut about = |centimetres: f64| (centimetres * chance.between(0.9, 1.1)).round();
    let [chest, body, arm, cuff, sleeve, neck, yoke] = [108.0, 40.0, 37.0, 22.0, 45.0, 50.0, 24.0].map(&mut about);
    let said = format!(
        "shape = \"raglan pullover\"\nmeasures = {{ chest = \"{chest} cm\", armhole = \"20 cm\", to-underarm = \"{body} cm\", \
         upper-arm = \"{arm} cm\", cuff = \"{cuff} cm\", sleeve = \"{sleeve} cm\", neck = \"{neck} cm\", yoke = \"{yoke} cm\", \
         underarm = \"6 cm\", neckband = \"2.5 cm\" }}\n"
    );
    let joined = chest + 2.0 * arm - 24.0;
    let area = chest * body + (arm + cuff) * sleeve + yoke * (joined + neck) / 2.0 + 2.5 * neck;
    Fabric { said, area: area / 1e4 * chance.about_one(0.045) }
}

/// A pullover for a woman of whom only the chest was taken: her other measures are spread about it as surveyed, inches; the room that she
/// is given is within what is usual.
fn pullover_for(chance: &mut Chance) -> Fabric {
    let inch = 2.54;
    let chest = chance.between(33.5, 48.0);
    let read = stepped(chest * inch * chance.about_one(0.01), 0.5);
    let mut of = |base: f64, slope: f64, sd: f64| {
        let middle = base + slope * chest;
        middle * chance.about_one(sd / middle) * inch
    };
    let (waist, wrist, neck) = (of(11.15, 0.1501, 0.92), of(4.24, 0.0497, 0.26), of(8.79, 0.1561, 0.58));
    let (armhole, reach) = (of(2.625, 0.125, 0.45), of(24.20, 0.1179, 1.18));
    let around = chest * inch + chance.between(5.0, 10.0);
    let long = waist + chance.between(11.0, 17.0);
    let (armhole, cuff) = (armhole + chance.between(3.0, 7.0), wrist + chance.between(4.0, 8.0));
    let sleeve = reach - around / 4.0;
    let (wide, deep, behind) =
        (neck * chance.between(0.44, 0.56), neck * chance.between(0.21, 0.33), neck * chance.between(0.04, 0.10));
    let band = (wide + 2.0 * deep) * chance.between(2.0, 3.0);
    let area = around * long - 0.7 * wide * (deep + behind) + (2.0 * armhole + cuff) * sleeve + band;
    let said = format!("shape = \"drop-shoulder pullover\"\nbody = {{ whom = \"woman\", chest = \"{read} cm\" }}\n");
    Fabric { said, area: area / 1e4 * chance.about_one(0.045) }
}

fn any_fabric(chance: &mut Chance) -> Fabric {
    let way = chance.pick(&[measured_garment, own_pieces, raglan, pullover_for]);
    way(chance)
}

/// A hand: its stitches and rows to 10 cm, and metres of yarn in a square metre. Constants of loops are spread by 13 % about 17.5, as
/// those of six knitters of one yarn (published craft article); rows to a stitch as of swatches and patterns.
struct Hand {
    stitches: f64,
    rows: f64,
    per_area: f64,
}

fn hand(stitches: f64, chance: &mut Chance) -> Hand {
    let rows = stitches * chance.between(1.24, 1.40);
    let constant = 17.5 * chance.about_one(0.13);
    Hand { stitches, rows, per_area: 10.0 * (constant * stitches * rows).sqrt() }
}

fn any_hand(chance: &mut Chance) -> Hand {
    let stitches = chance.between(14.0, 30.0);
    hand(stitches, chance)
}

/// A swatch and what a tape and a scale tell of it: sides to the millimetre, both long or short with the tape and the hand that lays
/// it. No swatch is worked quite as the garment is.
struct Swatch {
    size: String,
    area: f64,
    per_area: f64,
}

fn swatch(hand: &Hand, chance: &mut Chance) -> Swatch {
    let (wide, high) = (chance.between(11.0, 20.0), chance.between(11.0, 20.0));
    let tape = chance.about_one(0.01);
    let size = format!("{:.1} x {:.1} cm", wide * tape, high * tape);
    Swatch { size, area: wide * high / 1e4, per_area: hand.per_area * chance.about_one(0.01) }
}

fn garment(said: &str) -> String {
    plan_of("1000 yd/lb", &format!("[garment.it]\n{said}"))
}

/// The yarn of the sample was wound on a niddy-noddy and weighed, and the swatch of it was weighed, all to a tenth of a gram.
fn by_weighed_swatch(chance: &mut Chance) -> World {
    let (hand, fabric) = (any_hand(chance), any_fabric(chance));
    let swatch = swatch(&hand, chance);
    let tex = chance.between(0.25, 0.8);
    let (loops, one) = (chance.between(15.0, 40.0).round(), chance.between(1.3, 1.6));
    let skein = stepped(loops * one * tex, 0.1);
    let weight = stepped(swatch.area * swatch.per_area * tex, 0.1);
    let log = format!(
        "[[sample]]\nname = \"it\"\ndate = 2026-03-05\nchosen = true\n\
         skein = {{ loops = {loops}, washed-loop = \"{:.3} m\", weight = \"{skein:.1} g\" }}\n\
         swatch = {{ size = \"{}\", weight = \"{weight:.1} g\" }}\n",
        one * chance.about_one(0.01),
        swatch.size
    );
    World { plan: garment(&fabric.said), log, took: hand.per_area * fabric.area }
}

/// The same with no skein of it measured: the grist is that which was aimed at, and the yarn of the swatch misses it as hands do.
fn by_weighed_swatch_of_unmeasured_yarn(chance: &mut Chance) -> World {
    let (hand, fabric) = (any_hand(chance), any_fabric(chance));
    let swatch = swatch(&hand, chance);
    let tex = 0.453_592_37 / (1000.0 * YARD) * 1000.0 * chance.about_one(0.05);
    let weight = stepped(swatch.area * swatch.per_area * tex, 0.1);
    let said = format!("swatch = {{ size = \"{}\", weight = \"{weight:.1} g\" }}\n{}", swatch.size, fabric.said);
    World { plan: garment(&said), log: String::new(), took: hand.per_area * fabric.area }
}

/// The swatch was unravelled and measured.
fn by_unravelled_swatch(chance: &mut Chance) -> World {
    let (hand, fabric) = (any_hand(chance), any_fabric(chance));
    let swatch = swatch(&hand, chance);
    let length = swatch.area * swatch.per_area * chance.about_one(0.01);
    let said = format!("swatch = {{ size = \"{}\", length = \"{length:.2} m\" }}\n{}", swatch.size, fabric.said);
    World { plan: garment(&said), log: String::new(), took: hand.per_area * fabric.area }
}

/// Stitches and rows were counted, to half of one in 10 cm, which with the rest of it is one in a hundred.
fn by_gauge(chance: &mut Chance) -> World {
    let (hand, fabric) = (any_hand(chance), any_fabric(chance));
    let stitches = stepped(hand.stitches * chance.about_one(0.0075), 0.5);
    let rows = stepped(hand.rows * chance.about_one(0.0075), 0.5);
    let said = format!("gauge = \"{stitches} st, {rows} rows / 10 cm\"\n{}", fabric.said);
    World { plan: garment(&said), log: String::new(), took: hand.per_area * fabric.area }
}

/// A pattern states what its own knitter used, to the next ten metres; who works from it differs from her by what two knitters of one
/// yarn differ in an area of it, which is 3.5 % each (published craft article).
fn by_stated_length(chance: &mut Chance) -> World {
    let took = chance.between(200.0, 1500.0);
    let stated = stepped(took * chance.about_one(0.035 * 2f64.sqrt()), 10.0);
    World { plan: garment(&format!("length = \"{stated} m\"\n")), log: String::new(), took }
}

/// The same where it states the balls that she had to buy.
fn by_stated_balls(chance: &mut Chance) -> World {
    let took = chance.between(200.0, 1500.0);
    let ball = chance.pick(&[80.0, 100.0, 120.0, 150.0, 200.0]);
    let stated = ball * (took * chance.about_one(0.035 * 2f64.sqrt()) / ball).ceil();
    World { plan: garment(&format!("length = \"{stated} m\"\n")), log: String::new(), took }
}

/// Only the grist is known. Yarns of five kinds with the stitches to the inch at which they are worked, by a handspinners' table in a
/// published craft article; what is spun misses the grist that is aimed at as hands do.
fn by_grist(chance: &mut Chance) -> World {
    let kinds = [
        (1900.0, 2400.0, 6.0, 8.0),
        (1200.0, 1800.0, 5.0, 6.0),
        (900.0, 1200.0, 4.0, 5.0),
        (600.0, 800.0, 3.0, 4.0),
        (400.0, 500.0, 2.0, 3.0),
    ];
    let (least, most, fewest, many) = chance.pick(&kinds);
    let aimed = chance.between(least, most) * chance.about_one(0.05);
    let stitches = chance.between(fewest, many) / 2.54 * 10.0;
    let (hand, fabric) = (hand(stitches, chance), any_fabric(chance));
    let plan = plan_of(&format!("{aimed:.0} yd/lb"), &format!("[garment.it]\n{}", fabric.said));
    World { plan, log: String::new(), took: hand.per_area * fabric.area }
}

#[test]
fn a_weighed_swatch_of_a_measured_yarn_tells_what_is_used() {
    assert_holds(&held(0, by_weighed_swatch));
}

#[test]
fn a_weighed_swatch_of_an_unmeasured_yarn_tells_what_is_used() {
    assert_holds(&held(1000, by_weighed_swatch_of_unmeasured_yarn));
}

#[test]
fn an_unravelled_swatch_tells_what_is_used() {
    assert_holds(&held(2000, by_unravelled_swatch));
}

#[test]
fn a_gauge_tells_what_is_used() {
    assert_holds(&held(3000, by_gauge));
}

#[test]
fn a_stated_length_tells_what_is_used() {
    assert_holds(&held(4000, by_stated_length));
}

/// What patterns state to be bought is a whole ball, and so on the safe side: more than the band is seldom used, less often.
#[test]
fn balls_that_a_pattern_states_are_seldom_too_few() {
    let held = held(5000, by_stated_balls);
    assert!(held.more * 20 <= WORLDS as usize, "{held:?}");
    assert!(held.less > 5 * held.more, "{held:?}");
}

#[test]
fn the_grist_alone_tells_what_is_used() {
    assert_holds(&held(6000, by_grist));
}
