//! What holds of every garment, through whole plans: which measures take yarn and which are cut out, pieces that add up to the whole,
//! the same in every unit and in the words of either side of the ocean.

use std::cmp::Ordering;

use proptest::prelude::*;
use wheelsheet::figures::garments::{Deed, Run, Spread, Step};
use wheelsheet::plan::Terms;
use wheelsheet::plan::shape::{Measure, Shape};
use wheelsheet::plan::stitch::STITCHES;
use wheelsheet::plan::{Craft, Stitch};

use super::reference::fabric::{figure, made, plan_of};
use super::reference::ledgers::{Worked, written};

/// A measure of a shape in centimetres, as an ordinary garment has it.
fn ordinary(shape: Shape, measure: Measure) -> f64 {
    use Measure as M;
    match (shape, measure) {
        (_, M::Chest) => 110.0,
        (Shape::Blanket | Shape::Scarf, M::Length) => 150.0,
        (_, M::Length) => 62.0,
        (_, M::ToUnderarm) => 40.0,
        (_, M::Armhole) => 22.0,
        (_, M::CrossBack) => 40.0,
        (_, M::UpperArm) => 38.0,
        (_, M::Cuff) => 22.0,
        (_, M::Sleeve) => 46.0,
        (_, M::Cap) => 15.0,
        (_, M::Neck) => 50.0,
        (_, M::NeckWidth) => 18.0,
        (_, M::NeckDepth) => 9.0,
        (_, M::BackNeckDepth) => 2.5,
        (_, M::Yoke) => 24.0,
        (_, M::Underarm) => 6.0,
        (_, M::Neckband) => 2.5,
        (_, M::Band) => 4.0,
        (_, M::Hem | M::Border) => 6.0,
        (_, M::CuffDepth | M::Brim) => 5.0,
        (Shape::Hat, M::Around) => 51.0,
        (_, M::Around) => 20.0,
        (_, M::Height) => 17.0,
        (_, M::Hand) => 18.0,
        (_, M::Tip) => 4.5,
        (_, M::ThumbAround) => 7.5,
        (_, M::Thumb) => 6.0,
        (_, M::Gusset) => 6.5,
        (_, M::Leg) => 18.0,
        (_, M::Foot) => 24.0,
        (_, M::Span) => 180.0,
        (_, M::Depth) => 60.0,
        (_, M::Width) => 100.0,
    }
}

/// What more of a measure does to the need, where every other is said and all is in one stitch.
fn effect(shape: Shape, measure: Measure) -> Ordering {
    use Measure as M;
    match (shape, measure) {
        // Cut out: necks, what is narrower above the underarm, and what is set aside there. A band around a neck makes up for less
        // than the neck itself.
        (_, M::NeckWidth | M::NeckDepth | M::BackNeckDepth | M::Underarm) => Ordering::Less,
        (Shape::SetInPullover | Shape::SetInCardigan, M::Armhole) => Ordering::Less,
        // What is rounded takes the place of what is straight, and a straight cuff that of a sleeve which widens.
        (_, M::Tip) => Ordering::Less,
        (Shape::Mittens, M::CuffDepth) => Ordering::Greater,
        (_, M::CuffDepth) => Ordering::Less,
        // Bands that take the place of as much in the same stitch.
        (_, M::Hem | M::Border) => Ordering::Equal,
        // Of a yoke: the armhole only tells the yoke, which is said, and the length follows from both.
        (Shape::Raglan | Shape::RoundYoke, M::Length | M::Armhole) => Ordering::Equal,
        _ => Ordering::Greater,
    }
}

/// A garment that says all its measures, given in centimetres, in a unit that has so many of them.
fn garment(
    name: &str,
    shape: Shape,
    measures: &[(Measure, f64)],
    (unit, centimetres): (&str, f64),
    more: &str,
) -> String {
    // Of a joined yoke the length is what the body and the armhole make of it.
    let is_said = |measure: Measure| !(shape.measures().contains(&Measure::ToUnderarm) && measure == Measure::Length);
    let said: Vec<String> = measures
        .iter()
        .filter(|(measure, _)| is_said(*measure))
        .map(|(measure, cm)| format!("{} = \"{:.12} {unit}\"", measure.key(), cm / centimetres))
        .collect();
    format!("[garment.{name}]\nshape = \"{}\"\nmeasures = {{ {} }}\n{more}", shape.words(), said.join(", "))
}

fn settings(cases: u32) -> ProptestConfig {
    ProptestConfig { cases, failure_persistence: None, ..ProptestConfig::default() }
}

fn is_close(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * a.abs().max(b.abs())
}

/// Measures of every shape, each so much off the ordinary.
fn any_measures() -> impl Strategy<Value = Vec<(Shape, Vec<(Measure, f64)>)>> {
    let each = |shape: Shape| {
        let n = shape.measures().len();
        prop::collection::vec(0.94..1.06f64, n).prop_map(move |factors| {
            let measures = shape.measures().iter().zip(factors);
            (shape, measures.map(|(measure, factor)| (*measure, factor * ordinary(shape, *measure))).collect())
        })
    };
    Shape::ALL.map(each).to_vec()
}

const GAUGE: &str = "gauge = \"20 st, 27 rows / 10 cm\"\n";

/// A garment as it is, and one for each of its measures with more of it.
fn one_at_a_time(shape: Shape, measures: &[(Measure, f64)], factor: f64) -> String {
    let mut plan = garment("plain", shape, measures, ("cm", 1.0), GAUGE);
    for i in 0..measures.len() {
        let mut more = measures.to_vec();
        more[i].1 *= factor;
        plan += &garment(&format!("more-{}", more[i].0.key()), shape, &more, ("cm", 1.0), GAUGE);
    }
    plan
}

proptest! {
    #![proptest_config(settings(4))]

    #[test]
    fn each_measure_takes_yarn_or_is_cut_out(all in any_measures(), factor in 1.005..1.06f64) {
        for (shape, measures) in all {
            let worked = made(&one_at_a_time(shape, &measures, factor));
            let plain = figure(&worked, "plain", "total");
            for (measure, _) in &measures {
                let more = figure(&worked, &format!("more-{}", measure.key()), "total");
                let found = if is_close(more, plain) { Ordering::Equal } else { more.total_cmp(&plain) };
                prop_assert_eq!(found, effect(shape, *measure), "{:?} {:?}: {} and {}", shape, measure, plain, more);
            }
        }
    }

    #[test]
    fn inches_and_centimetres_are_the_same_garment(all in any_measures()) {
        for (shape, measures) in all {
            let both = [("metric", ("cm", 1.0)), ("inch", ("in", 2.54))]
                .map(|(name, unit)| garment(name, shape, &measures, unit, GAUGE));
            let worked = made(&both.concat());
            for what in ["yarn", "area", "total", "weight"] {
                let (metric, inch) = (figure(&worked, "metric", what), figure(&worked, "inch", what));
                prop_assert!(is_close(metric, inch), "{:?} {}: {} and {}", shape, what, metric, inch);
            }
        }
    }

    #[test]
    fn pieces_add_up_to_the_garment(all in any_measures(), is_ribbed in any::<bool>()) {
        for (shape, measures) in all {
            let names = shape.pieces().iter().enumerate();
            let pieces: String = names
                .filter(|(i, _)| is_ribbed && i % 2 == 0)
                .map(|(_, name)| format!("piece.{name} = {{ stitch = \"2x2 rib\" }}\n"))
                .collect();
            let own = "piece.pocket = { width = \"12 cm\", length = \"14 cm\", count = 3, stitch = \"garter stitch\" }\n";
            let ways = [
                ("gauge", GAUGE),
                ("swatch", "swatch = { size = \"15 x 15 cm\", weight = \"6.1 g\" }\n"),
                ("stated", "length = \"900 m\"\nstitch = \"brioche\"\n"),
                ("grist", ""),
            ];
            let plan: String = ways
                .iter()
                .map(|(name, way)| garment(name, shape, &measures, ("cm", 1.0), &format!("{way}{pieces}{own}")))
                .collect();
            let worked = made(&plan);
            for (i, (name, _)) in ways.iter().enumerate() {
                let (sum, whole) = (sum_of_pieces(&worked, i), figure(&worked, name, "yarn"));
                prop_assert!(is_close(sum, whole), "{:?} by {}: {} and {}", shape, name, sum, whole);
            }
        }
    }
}

proptest! {
    #![proptest_config(settings(4))]

    #[test]
    fn steps_lead_from_each_edge_to_the_next(all in any_measures(), repeat in 1..7_usize) {
        for (shape, measures) in all {
            let more = format!("{GAUGE}multiple-of = {repeat}\n");
            let worked = made(&garment("plain", shape, &measures, ("cm", 1.0), &more));
            for piece in &worked.ledger.garments[0].pieces {
                let counted = |name: &String| worked.value(name) as usize;
                let (mut at, mut rows) = (None, 0);
                for step in &piece.course {
                    let then = step.stitches.as_ref().map(counted);
                    let took = step.reach.as_ref().map_or(0, counted);
                    match &step.deed {
                        Deed::Shape(shaping) => {
                            let left = worked.ledger.find(&format!("{}.neck-left-stitches", piece.stage));
                            let of_shoulder = |name: &String| name.ends_with("shoulder-stitches");
                            let is_neck = step.stitches.as_ref().is_some_and(of_shoulder);
                            if !is_neck {
                                let from: usize = at.expect("something is worked before it is shaped");
                                let (more, less) = (from + shaping.stitches, from - shaping.stitches.min(from));
                                let to = if shaping.widens { more } else { less };
                                prop_assert_eq!(Some(to), then, "{:?} {}", shape, piece.name);
                            } else if let (Some(left), Some(all)) = (left, at) {
                                // What is left at the neck, and so many sides of a shoulder with what is shaped off it.
                                let each = then.unwrap() + shaping.stitches;
                                let sides = (all - left.value as usize) / each;
                                prop_assert!(sides == 1 || sides == 2, "{:?} {}", shape, piece.name);
                                prop_assert_eq!(left.value as usize + sides * each, all, "{:?} {}", shape, piece.name);
                            }
                            let taken: usize = shaping.spread.runs().iter().map(|run| run.every * run.times).sum();
                            prop_assert!(is_neck || taken <= took.max(1), "{:?} {:?}", shape, step);
                        }
                        Deed::Even(_) => prop_assert_eq!(at, then, "{:?} {}", shape, piece.name),
                        _ => {}
                    }
                    at = then.or(at);
                    rows += took;
                }
                let begins = |step: &Step| matches!(step.deed, Deed::CastOn | Deed::GoOn { .. });
                if piece.course.iter().any(begins) {
                    let all = worked.value(&format!("{}.rows", piece.stage)).round() as usize;
                    prop_assert_eq!(rows, all, "{:?} {}", shape, piece.name);
                }
            }
            let shoulder = |piece: &str| worked.ledger.find(&format!("garment.plain.{piece}.shoulder-stitches"));
            if let (Some(back), Some(front)) = (shoulder("back"), shoulder("front")) {
                prop_assert_eq!(back.value, front.value, "{:?}", shape);
            }
        }
    }
}

/// Edges that are worked on or joined have one number of stitches. Joining in the round and spreading increases evenly over rows:
/// common practice, no source; the sums are by hand.
#[test]
fn edges_that_are_joined_have_one_number() {
    let measures = [
        ("chest", 110.0),
        ("to-underarm", 38.0),
        ("armhole", 20.0),
        ("upper-arm", 39.0),
        ("cuff", 22.0),
        ("sleeve", 46.0),
        ("underarm", 7.0),
        ("neck", 51.0),
        ("yoke", 24.5),
        ("neckband", 2.5),
        ("hem", 6.0),
        ("cuff-depth", 6.0),
    ];
    let said: Vec<String> = measures.iter().map(|(key, cm)| format!("{key} = \"{cm} cm\"")).collect();
    let worked = made(&format!(
        "[garment.plain]\nshape = \"raglan pullover\"\nmeasures = {{ {} }}\n\
         gauge = \"20 st, 27 rows / 10 cm\"\npiece.hem = {{ stitch = \"2x2 rib\" }}\n",
        said.join(", ")
    ));
    let of = |name: &str| worked.value(&format!("garment.plain.{name}-stitches"));
    assert_eq!((of("body.lower"), of("hem.lower")), (220.0, 220.0));
    // 44 at the cuff; 39 cm are 78, and 34 more are 17 rounds of two.
    assert_eq!((of("sleeve-cuff.lower"), of("sleeve.lower"), of("sleeve.upper")), (44.0, 44.0, 78.0));
    // Body 220 and two sleeves of 78, less four times 14.
    assert_eq!((of("underarm"), of("yoke.lower")), (14.0, 320.0));
    // 51 cm are 102; from 320 eight at a time come nearest to that with 27 rounds of shaping: 104.
    assert_eq!((of("yoke.upper"), of("neckband.lower")), (104.0, 104.0));
    let piece = |name: &str| worked.ledger.garments[0].pieces.iter().find(|piece| piece.name == name).unwrap();
    let shaping = |name: &str| match &piece(name).course[1].deed {
        Deed::Shape(shaping) => shaping.clone(),
        _ => panic!("{name} is shaped"),
    };
    // 40 cm are 108 rounds: 17 times six are 102, so that six of them are seven apart.
    let run = |every, times| Run { every, times };
    assert_eq!(shaping("sleeve").spread, Spread::Runs(vec![run(6, 11), run(7, 6)]));
    // 24.5 cm are 66 rounds: 27 times two are 54, so that twelve of them are three apart.
    // One after the other they would bend the line by 15 × 12 ÷ 66, nearly three stitches: they go in turn.
    let in_turn = Spread::InTurn { turn: [run(2, 1), run(3, 1)], turns: 12, then: run(2, 3) };
    assert_eq!(shaping("yoke").spread, in_turn);
}

/// Yarn of all pieces of a garment, each as often as it is made.
fn sum_of_pieces(worked: &Worked, garment: usize) -> f64 {
    let pieces = &worked.ledger.garments[garment].pieces;
    assert!(pieces.len() >= 2, "the pocket is one of them");
    pieces.iter().map(|piece| piece.count as f64 * worked.value(&format!("{}.yarn", piece.stage))).sum()
}

/// What else is said of a fabric, in either system: areas, gauges, swatches, lengths, looms.
#[test]
fn each_system_is_the_same_fabric() {
    let pairs = [
        (
            "area = \"0.645160 m2\"\ngauge = \"20 st, 27 rows / 10 cm\"",
            "area = \"1000 in2\"\ngauge = \"5.08 st, 6.858 rows / in\"",
        ),
        (
            "area = \"0.645160 m2\"\nswatch = { size = \"15.24 x 12.7 cm\", weight = \"5.669904625 g\" }",
            "area = \"1000 in2\"\nswatch = { size = \"6 x 5 in\", weight = \"0.2 oz\" }",
        ),
        (
            "piece.one = { width = \"50.8 cm\", length = \"76.2 cm\" }\nswatch = { size = \"15.24 x 12.7 cm\", length = \"18.288 m\" }",
            "piece.one = { width = \"20 in\", length = \"30 in\" }\nswatch = { size = \"6 x 5 in\", length = \"20 yd\" }",
        ),
        ("length = \"914.4 m\"", "length = \"1000 yd\""),
        (
            "craft = \"weave\"\nmeasures = { width = \"50.8 cm\", length = \"254 cm\" }\nloom = { sett = \"4 ends/cm\", picks = \"3 picks/cm\", waste = \"76.2 cm\" }",
            "craft = \"weave\"\nmeasures = { width = \"20 in\", length = \"100 in\" }\nloom = { sett = \"10.16 epi\", picks = \"7.62 ppi\", waste = \"30 in\" }",
        ),
    ];
    for (metric, inch) in pairs {
        let worked = made(&format!("[garment.metric]\n{metric}\n[garment.inch]\n{inch}\n"));
        let (metric, inch) = (figure(&worked, "metric", "yarn"), figure(&worked, "inch", "yarn"));
        assert!(is_close(metric, inch), "{inch} and {metric}");
    }
}

/// A fringe is knotted in and belongs to no piece.
#[test]
fn a_fringe_comes_on_top_of_the_pieces() {
    let fringe = "fringe = { bundles = 32, strands = 4, cut = \"30 cm\" }\n";
    let scarf = [(Measure::Width, 20.0), (Measure::Length, 150.0)];
    let worked = made(&garment(
        "scarf",
        Shape::Scarf,
        &scarf,
        ("cm", 1.0),
        &format!("{GAUGE}{fringe}piece.pocket = {{ width = \"9 cm\", length = \"9 cm\" }}\n"),
    ));
    let (sum, whole) = (sum_of_pieces(&worked, 0), figure(&worked, "scarf", "yarn"));
    assert!(is_close(whole - sum, 32.0 * 4.0 * 0.30), "{whole} and {sum}");
}

/// One stitch by its words of both sides, and both in a plan of the other.
#[test]
fn words_of_either_side_are_the_same_length() {
    let yarn = |terms: Terms, stitch: &Stitch| {
        let craft = if stitch.craft == Craft::Crochet { "crochet" } else { "knit" };
        let (said, called) = if terms == Terms::Uk { ("UK", stitch.uk[0]) } else { ("US", stitch.us[0]) };
        let plan = plan_of(
            "1000 yd/lb",
            &format!(
                "[garment.counted]\ncraft = \"{craft}\"\nstitch = \"{called}\"\narea = \"0.5 m2\"\ngauge = \"16 st, 18 rows / 10 cm\"\n\
                 [garment.guessed]\ncraft = \"{craft}\"\nstitch = \"{called}\"\narea = \"0.5 m2\"\n"
            ),
        );
        let worked = written(&plan.replace("terms = \"US\"", &format!("terms = \"{said}\"")));
        ["counted", "guessed"].map(|garment| figure(&worked, garment, "yarn"))
    };
    for stitch in STITCHES {
        assert_eq!(
            yarn(Terms::Uk, stitch).map(f64::to_bits),
            yarn(Terms::Us, stitch).map(f64::to_bits),
            "{}",
            stitch.key
        );
    }
}

/// The trap of it: `dc` is one stitch in the United Kingdom and another in the United States, of another length.
#[test]
fn one_word_is_not_one_length() {
    let yarn = |terms: &str| {
        let plan = plan_of("1000 yd/lb", "[garment.it]\ncraft = \"crochet\"\nstitch = \"dc\"\narea = \"0.5 m2\"\n");
        figure(&written(&plan.replace("terms = \"US\"", &format!("terms = \"{terms}\""))), "it", "yarn")
    };
    let [uk, us] = ["UK", "US"].map(yarn);
    assert!((uk / us / (1.40 / 1.25) - 1.0).abs() < 1e-9, "{uk} and {us}");
}

/// Common practice, no source: the same garment takes more yarn crocheted than knitted in stocking stitch, whatever the stitch, by the
/// grist alone and by the knit gauge of the same yarn.
#[test]
fn crochet_takes_more_than_knitting() {
    let crochet = STITCHES.iter().filter(|stitch| stitch.craft == Craft::Crochet);
    for stitch in crochet {
        for gauge in ["", "gauge = \"20 st, 27 rows / 10 cm\"\ngauge-in = \"stockinette\"\n"] {
            let knitted = gauge.replace("gauge-in = \"stockinette\"\n", "");
            let shape = "shape = \"raglan pullover\"\nbody = { whom = \"woman\", size = \"M\" }\n";
            let worked = made(&format!(
                "[garment.knitted]\n{shape}{knitted}[garment.crocheted]\ncraft = \"crochet\"\nstitch = \"{}\"\n{shape}{gauge}",
                stitch.us[0]
            ));
            let [knitted, crocheted] = ["knitted", "crocheted"].map(|garment| figure(&worked, garment, "yarn"));
            assert!(crocheted > 1.05 * knitted, "{}: {crocheted} and {knitted}", stitch.key);
        }
    }
}

/// By tables alone, the next size takes more yarn, of every shape that is worn around the chest. Of children no table tells wrist and
/// neck, so these are said.
#[test]
fn a_larger_size_takes_more_yarn() {
    for (whom, size) in [("woman", "M"), ("man", "M"), ("child", "8 years"), ("baby", "6 months")] {
        for shape in Shape::ALL.into_iter().filter(|shape| shape.is_of_the_chest()) {
            let worked = made(&by_tables(whom, size, shape));
            let totals: Vec<f64> =
                worked.ledger.sizes.iter().map(|size| worked.value(&format!("{}.total", size.stage))).collect();
            assert!(totals.len() >= 5, "{whom} {shape:?}: {totals:?}");
            assert!(totals.is_sorted_by(|smaller, larger| smaller < larger), "{whom} {shape:?}: {totals:?}");
        }
    }
}

fn by_tables(whom: &str, size: &str, shape: Shape) -> String {
    let small = match (whom, shape) {
        ("woman" | "man", _) => "",
        (_, Shape::Raglan | Shape::RoundYoke) => "measures = { cuff = \"16 cm\", neck = \"42 cm\" }\n",
        _ => {
            "measures = { cuff = \"16 cm\", neck-width = \"14 cm\", neck-depth = \"5 cm\", back-neck-depth = \"1 cm\" }\n"
        }
    };
    format!(
        "[garment.it]\nshape = \"{}\"\nbody = {{ whom = \"{whom}\", size = \"{size}\" }}\n{GAUGE}{small}",
        shape.words()
    )
}
