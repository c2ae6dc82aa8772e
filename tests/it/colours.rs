//! Colours from the braid to the fabric, on whole plans: every way of splitting and plying, what is conserved, strips as torn, and the
//! ways that a search reports, checked again by plain arithmetic.

use std::collections::BTreeMap;

use proptest::prelude::*;
use wheelsheet::figures::colour::tint::Tint;
use wheelsheet::figures::colour::{Coloured, Way};
use wheelsheet::figures::deal::DealtBobbin;

use super::reference::ledgers::{PROJECTS, Worked, of_texts, written, written_with_log};

const BEFORE: &str = "[plan]\ntitle = \"Colours\"\n[fibre.wool]\nkind = \"wool\"\n\
    [colours]\na = \"#000000\"\nb = \"#ffffff\"\nc = \"#b03030\"\nd = \"#3050b0\"\n\
    [wheel]\nwhorls = { one = \"7:1\", two = \"10:1\" }\nbobbin-holds = \"900 g\"\n[plying]\nbobbin-holds = \"2 kg\"\n";
const YARN: &str = "[yarn]\nplies = 2\nwraps = \"10 wpi\"\n";
const ORDERED: &str = "[braid.north]\nweight = \"120 g\"\nlength = \"4 m\"\n\
    sections = [[\"a\", \"1 m\"], [\"b\", \"1 m\"], [\"c\", \"1 m\"], [\"d\", \"1 m\"]]\n";

fn plan(rest: &str) -> Worked {
    written(&format!("{BEFORE}{YARN}{rest}"))
}

fn plied(braids: &str, plies: &str) -> Worked {
    plan(&format!("{braids}[[ply-plan]]\nplies = [{plies}]\n"))
}

fn yarn(worked: &Worked) -> &Coloured {
    &worked.ledger.colouring.yarns[0]
}

fn own(worked: &Worked) -> &Way {
    &yarn(worked).ways[0]
}

/// The colours of each run of a ply of the first set, joined where they are alike, with lengths in hundredths of the ply.
fn runs(worked: &Worked, ply: usize) -> Vec<(String, u32)> {
    let lane = &own(worked).sets[0][ply];
    let whole: f64 = lane.iter().map(|run| run.length).sum();
    let name = |tone: usize| {
        let parts = &yarn(worked).tones[tone].parts;
        parts.iter().map(|(colour, _)| worked.plan.colours[*colour].name.as_str()).collect::<Vec<_>>().join("+")
    };
    let mut runs: Vec<(String, f64)> = Vec::new();
    for run in lane {
        match runs.last_mut() {
            Some((last, length)) if *last == name(run.tone) => *length += run.length,
            _ => runs.push((name(run.tone), run.length)),
        }
    }
    runs.into_iter().map(|(name, length)| (name, (length / whole * 100.0).round() as u32)).collect()
}

fn names(worked: &Worked, ply: usize) -> String {
    runs(worked, ply).into_iter().map(|(name, _)| name).collect::<Vec<_>>().join(" ")
}

/// What is solid by the table that practice derives by overlaying two lists (four equal colours in a repeat), as common practice
/// reads it: 100 %, 0 flipped, 25 % against two strips.
#[test]
fn whole_plans_are_solid_as_overlaid_lists_say() {
    for (plies, solid) in [
        ("{ braid = \"north\", strips = 1 }, { braid = \"north\", strips = 1 }", 1.0),
        ("{ braid = \"north\", strips = 1 }, { braid = \"north\", strips = 1, from = \"other end\" }", 0.0),
        ("{ braid = \"north\", strips = 1 }, { braid = \"north\", strips = 2 }", 0.25),
        ("{ braid = \"north\", strips = 1 }, { braid = \"north\", strips = 3 }", 1.0 / 3.0),
        ("{ braid = \"north\", strips = 1 }, { braid = \"north\", strips = 4, from = \"other end\" }", 0.25),
        ("{ braid = \"north\", strips = 3 }, { braid = \"north\", strips = 3 }", 1.0),
    ] {
        let worked = plied(ORDERED, plies);
        assert!((own(&worked).solid - solid).abs() < 1e-6, "{plies}: {} against {solid}", own(&worked).solid);
    }
}

#[test]
fn every_way_of_splitting_lays_its_own_runs() {
    let one = |ply: &str| plied(ORDERED, &format!("{ply}, {{ braid = \"north\", strips = 1 }}"));
    assert_eq!(
        runs(&one("{ braid = \"north\", strips = 1 }"), 0),
        ["a", "b", "c", "d"].map(|name| (name.to_owned(), 25))
    );
    assert_eq!(names(&one("{ braid = \"north\", strips = 2 }"), 0), "a b c d a b c d");
    assert_eq!(names(&one("{ braid = \"north\", strips = 2, from = \"other end\" }"), 0), "d c b a d c b a");
    assert_eq!(names(&one("{ braid = \"north\", strips = 2, from = \"alternate ends\" }"), 0), "a b c d c b a");
    let pulled = "{ braid = \"north\", strips = 3, colour-order = [\"c\", \"a\", \"d\", \"b\"] }";
    assert_eq!(runs(&one(pulled), 0), ["c", "a", "d", "b"].map(|name| (name.to_owned(), 25)));
}

/// A mirrored braid split at its centre gives two one-way runs of colour, alike where the second half is turned round (common
/// practice, no source).
#[test]
fn a_mirrored_braid_cut_at_its_centre_gives_two_of_one_way() {
    let braid = "[braid.north]\ncount = 2\nweight = \"120 g\"\nlength = \"4 m\"\n\
        sections = [[\"a\", \"1 m\"], [\"b\", \"50 cm\"], [\"c\", \"1 m\"], [\"b\", \"50 cm\"], [\"a\", \"1 m\"]]\n";
    let ply = "{ braid = \"north\", across = 2, strips = 1, from = \"alternate ends\" }";
    let worked = plied(braid, &format!("{ply}, {ply}"));
    assert_eq!(names(&worked, 0), "a b c a b c a b c a b c");
    let halves = plied(braid, "{ braid = \"north\", across = \"1 of 2\" }, { braid = \"north\", across = \"2 of 2\" }");
    assert_eq!((names(&halves, 0), names(&halves, 1)), ("a b c a b c".to_owned(), "c b a c b a".to_owned()));
    assert!((halves.value("braid.north.1-of-2.usable") - 120.0).abs() < 1e-12);
}

#[test]
fn a_chain_keeps_its_colours_and_a_ball_meets_itself_in_reverse() {
    let one = |from: &str, sections: &str| {
        let braid = format!("[braid.north]\nweight = \"120 g\"\nlength = \"4 m\"\nsections = [{sections}]\n");
        written(&format!(
            "{BEFORE}[yarn]\nplies = {}\nply-from = \"{from}\"\nwraps = \"10 wpi\"\n{braid}[[ply-plan]]\nplies = [{{ braid = \"north\", strips = 1 }}]\n",
            if from == "chain" { 3 } else { 2 }
        ))
    };
    const FOUR: &str = "[\"a\", \"1 m\"], [\"b\", \"1 m\"], [\"c\", \"1 m\"], [\"d\", \"1 m\"]";
    let chain = one("chain", FOUR);
    assert_eq!((own(&chain).solid, names(&chain, 0).as_str()), (1.0, "a b c d"));
    let ball = one("both ends of a ball", FOUR);
    assert_eq!((own(&ball).solid, names(&ball, 0), names(&ball, 1)), (0.0, "a b".to_owned(), "d c".to_owned()));
    let mirrored = one("both ends of a ball", "[\"a\", \"1 m\"], [\"b\", \"2 m\"], [\"a\", \"1 m\"]");
    assert!((own(&mirrored).solid - 1.0).abs() < 1e-9);
    for worked in [&chain, &ball] {
        let lane: f64 = own(worked).sets[0][0].iter().map(|run| run.length).sum();
        assert!((lane / worked.value("yarn.length") - 1.0).abs() < 1e-9, "the lane is as long as the yarn");
    }
}

#[test]
fn strips_drafted_together_are_one_blend_half_and_half() {
    let braids = format!(
        "{ORDERED}[braid.south]\nweight = \"60 g\"\nlength = \"2 m\"\nsections = [[\"d\", \"1 m\"], [\"a\", \"1 m\"]]\n"
    );
    let worked = plied(
        &braids,
        "{ braid = \"north\", strips = 1, drafted-with = \"south\" }, { braid = \"north\", strips = 1 }",
    );
    assert_eq!(names(&worked, 0), "a+d b+d a+c a+d");
    let weight = |name: &str| worked.value(name);
    assert!((weight("bobbin.1.strip.1") - weight("bobbin.1.strip.1.beside")).abs() < 1e-9);
    assert!((weight("bobbin.1.weight") - weight("bobbin.2.weight")).abs() < 1e-9, "plies of one length");
}

/// A gradient by changing one ply at a time: A-A-A, A-A-B, A-B-B, B-B-B (common practice, no source).
#[test]
fn a_gradient_changes_one_ply_at_a_time() {
    let braid = |name: &str, colour: &str| {
        format!("[braid.{name}]\nweight = \"300 g\"\nsections = [[\"{colour}\", \"3 m\"]]\n")
    };
    let mut text =
        format!("{BEFORE}[yarn]\nplies = 3\nwraps = \"10 wpi\"\n{}{}", braid("dawn", "b"), braid("dusk", "d"));
    for (i, plies) in [["dawn"; 3], ["dawn", "dawn", "dusk"], ["dawn", "dusk", "dusk"], ["dusk"; 3]].iter().enumerate()
    {
        let plies = plies.map(|name| format!("{{ braid = \"{name}\" }}")).join(", ");
        text += &format!("[[ply-plan]]\nname = \"step {i}\"\nshare = \"25 %\"\nplies = [{plies}]\n");
    }
    let worked = written(&text);
    let solid: Vec<f64> = worked.ledger.colouring.yarns.iter().map(|yarn| yarn.ways[0].solid).collect();
    assert_eq!(solid, [1.0, 0.0, 0.0, 1.0]);
    let light: Vec<f64> =
        worked.ledger.colouring.yarns.iter().map(|yarn| yarn.shades[0].tint.expect("tints").oklab()[0]).collect();
    assert!(light.windows(2).all(|pair| pair[0] > pair[1]), "from light to dark in steps: {light:?}");
}

/// A gradient by halves: each braid split crosswise, neighbours paired (common practice, no source).
#[test]
fn a_gradient_by_halves_pairs_neighbours() {
    let mut text = format!("{BEFORE}{YARN}");
    for (name, from, to) in [("one", "a", "b"), ("two", "b", "c"), ("three", "c", "d")] {
        text +=
            &format!("[braid.{name}]\nweight = \"100 g\"\nsections = [[\"{from}\", \"1 m\"], [\"{to}\", \"1 m\"]]\n");
    }
    for (i, (first, second)) in [(("one", 2), ("two", 1)), (("two", 2), ("three", 1))].iter().enumerate() {
        text += &format!(
            "[[ply-plan]]\nname = \"pair {i}\"\nshare = \"50 %\"\nplies = [{{ braid = \"{}\", across = \"{} of 2\" }}, {{ braid = \"{}\", across = \"{} of 2\" }}]\n",
            first.0, first.1, second.0, second.1
        );
    }
    let worked = written(&text);
    assert_eq!(worked.ledger.colouring.yarns.iter().map(|yarn| yarn.ways[0].solid).collect::<Vec<_>>(), [1.0, 1.0]);
    let two: f64 = ["braid.two.1-of-2.spare", "braid.two.2-of-2.spare"].iter().map(|name| worked.value(name)).sum();
    assert!(two.abs() < 1e-9, "both halves of the middle braid are spun");
}

/// The weight of each colour as it is dyed, and as it lies in the lanes; what stays on bobbins beyond the yarn apart.
#[test]
fn every_gram_of_each_colour_lies_in_the_lanes_of_the_projects() {
    for worked in PROJECTS.iter() {
        for yarn in &worked.ledger.colouring.yarns {
            let dealt = worked.ledger.deal.plans.iter().find(|dealt| dealt.ply_plan == yarn.ply_plan).expect("dealt");
            for (set, lanes) in dealt.sets.iter().zip(&yarn.ways[0].sets) {
                for (bobbin, lane) in set.bobbins.iter().zip(lanes) {
                    let whole: f64 = lane.iter().map(|run| run.length).sum();
                    for (colour, weight) in dyed(worked, bobbin) {
                        let laid: f64 = lane.iter().map(|run| run.length * yarn.tones[run.tone].share(colour)).sum();
                        let weighed: f64 = dyed(worked, bobbin).values().sum();
                        assert!(
                            (laid / whole - weight / weighed).abs() < 1e-6,
                            "{}: bobbin {}",
                            worked.name,
                            bobbin.number
                        );
                    }
                }
            }
        }
    }
}

/// Grams of each colour on a bobbin, by the sections of its strips.
fn dyed(worked: &Worked, bobbin: &DealtBobbin) -> BTreeMap<usize, f64> {
    let mut found = BTreeMap::new();
    for (k, strip) in bobbin.strips.iter().enumerate() {
        let name = format!("bobbin.{}.strip.{}", bobbin.number, k + 1);
        let beside = strip.beside.map(|(supply, _)| (supply, worked.value(&format!("{name}.beside"))));
        for (supply, weight) in [(strip.supply, worked.value(&name))].into_iter().chain(beside) {
            for (colour, share) in worked.plan.supplies[supply].bands() {
                *found.entry(colour).or_insert(0.0) += weight * share;
            }
        }
    }
    found
}

/// Each way that is reported uses every strip of the plan's own once, and its plies are as long as the yarn allows.
#[test]
fn reported_ways_use_each_unit_once_and_give_as_much_of_each_colour() {
    let mut checked = 0;
    for worked in PROJECTS.iter() {
        for yarn in &worked.ledger.colouring.yarns {
            let of = |way: &Way| -> Vec<f64> {
                let lanes = || way.sets.iter().flatten().flatten();
                let share = |colour| lanes().map(|run| run.length * yarn.tones[run.tone].share(colour)).sum();
                (0..worked.plan.colours.len()).map(share).collect()
            };
            let own = of(&yarn.ways[0]);
            for way in &yarn.ways[1..] {
                checked += 1;
                let arrangement = way.arrangement.as_ref().expect("found by a search");
                let mut units: Vec<usize> = arrangement.plies.iter().flat_map(|ply| ply.units.clone()).collect();
                units.sort_unstable();
                assert!(units.iter().copied().eq(0..units.len()), "{}: each unit once", worked.name);
                let whole: f64 = own.iter().sum();
                for (a, b) in own.iter().zip(of(way)) {
                    assert!((a - b).abs() < 0.03 * whole, "{}: as much of each colour", worked.name);
                }
                let sets: f64 = yarn.sets.iter().sum();
                for ply in 0..arrangement.plies.len() {
                    let length: f64 = way.sets.iter().flat_map(|lanes| &lanes[ply]).map(|run| run.length).sum();
                    assert!((length / sets - 1.0).abs() < 0.03, "{}: plies are as long as the yarn", worked.name);
                }
                let (score, before) = (way.score.expect("scored").total, yarn.ways[0].score.expect("scored").total);
                assert!(score > before, "only what is better is shown");
            }
            if let Some(searched) = &yarn.searched {
                assert!(searched.bound >= searched.best - 1e-9 && searched.best >= searched.own - 1e-9);
            }
        }
    }
    assert!(checked >= 4, "the projects show better ways");
}

#[test]
fn torn_strips_keep_their_weights_and_what_is_left_is_dealt_again() {
    let braids = "[braid.north]\nweights = [\"100 g\", \"100 g\", \"100 g\"]\nlength = \"4 m\"\nsections = [[\"a\", \"2 m\"], [\"b\", \"2 m\"]]\n";
    let plies = "[[ply-plan]]\nplies = [{ braid = \"north\", strips = 2 }, { braid = \"north\", strips = 2 }]\n";
    let text = format!("{BEFORE}{YARN}{braids}{plies}");
    let log = "[[strips]]\ndate = 2026-03-08\nbraid = \"north\"\nnumber = 2\nweights = [\"31 g\", \"22 g\", \"19 g\", \"27 g\"]\n";
    let (before, after) = (written(&text), written_with_log(&text, log));
    let torn: Vec<f64> = after
        .ledger
        .deal
        .sets()
        .flat_map(|(_, set)| &set.bobbins)
        .flat_map(|bobbin| bobbin.strips.iter().enumerate().map(move |(k, strip)| (bobbin.number, k + 1, strip)))
        .filter(|(_, _, strip)| strip.braid == 1)
        .map(|(bobbin, k, _)| after.value(&format!("bobbin.{bobbin}.strip.{k}")))
        .collect();
    let mut sorted: Vec<u32> = torn.iter().map(|weight| weight.round() as u32).collect();
    sorted.sort_unstable();
    assert_eq!(sorted, [19, 22, 27, 31], "each strip as torn, once");
    let weights = |worked: &Worked| [1, 2].map(|n| worked.value(&format!("bobbin.{n}.weight")));
    assert_eq!(weights(&before).map(f64::round), [150.0, 150.0]);
    let [a, b] = weights(&after);
    assert!((a - b).abs() < 1e-6 && (a + b - 299.0).abs() < 1e-6, "bobbins come out alike: {a} and {b}");
    assert!((after.value("braid.north.weight") - 299.0).abs() < 1e-9, "a braid weighs what its strips weigh");
}

#[test]
fn more_or_fewer_strips_than_planned_are_all_spun() {
    let text = format!(
        "{BEFORE}{YARN}{ORDERED}[[ply-plan]]\nplies = [{{ braid = \"north\", strips = 2 }}, {{ braid = \"north\", strips = 2 }}]\n"
    );
    for weights in ["\"40 g\", \"41 g\", \"39 g\"", "\"24 g\", \"25 g\", \"23 g\", \"24 g\", \"24 g\""] {
        let log = format!("[[strips]]\ndate = 2026-03-08\nbraid = \"north\"\nweights = [{weights}]\n");
        let worked = written_with_log(&text, &log);
        let n: usize =
            worked.ledger.deal.sets().flat_map(|(_, set)| &set.bobbins).map(|bobbin| bobbin.strips.len()).sum();
        assert_eq!(n, weights.split(',').count());
        let all = worked.value("bobbin.1.weight") + worked.value("bobbin.2.weight");
        assert!((all - 120.0).abs() < 1e-9);
    }
}

/// Two ply plans that share braids cut none of them for less than a twentieth.
#[test]
fn no_braid_is_cut_for_a_sliver() {
    let braids = "[braid.north]\nweights = [\"101 g\", \"99 g\", \"100 g\", \"103 g\"]\n";
    let plies = "plies = [{ braid = \"north\" }, { braid = \"north\" }]\n";
    let worked = plan(&format!(
        "{braids}[[ply-plan]]\nname = \"one\"\nshare = \"50 %\"\n{plies}[[ply-plan]]\nname = \"two\"\nshare = \"rest\"\n{plies}"
    ));
    let parts: Vec<String> =
        worked.ledger.deal.plans.iter().flat_map(|dealt| &dealt.tears).filter_map(|tear| tear.part.clone()).collect();
    assert!(parts.is_empty(), "the cut falls between two braids: {parts:?}");
    let all: f64 = (1..=4).map(|n| worked.value(&format!("bobbin.{n}.weight"))).sum();
    assert!((all - 403.0).abs() < 1e-9, "nothing is lost by it");
}

/// Ten braids, each dyed otherwise, in three plies: bounded by count.
#[test]
fn ten_braids_in_three_plies_are_searched_by_count() {
    let mut text = format!("{BEFORE}[yarn]\nplies = 3\nwraps = \"10 wpi\"\n");
    let colours = ["a", "b", "c", "d"];
    for i in 0..10 {
        let section = |k: usize| format!("[\"{}\", \"{} cm\"]", colours[(i * (k + 1) + k) % 4], 50 + 7 * ((i + k) % 5));
        let sections: Vec<String> = (0..5).map(section).collect();
        text += &format!("[braid.b{i}]\nweight = \"60 g\"\nsections = [{}]\n", sections.join(", "));
    }
    let braids = |from: usize, to: usize| {
        let names: Vec<String> = (from..to).map(|i| format!("\"b{i}\"")).collect();
        format!("{{ braids = [{}], strips = 2 }}", names.join(", "))
    };
    text += &format!(
        "[[ply-plan]]\nplies = [{}, {}, {}]\n[colour-wish]\naim = \"heather\"\n",
        braids(0, 3),
        braids(3, 6),
        braids(6, 10)
    );
    let worked = written(&text);
    let searched = yarn(&worked).searched.as_ref().expect("something to search");
    assert!(searched.compared > 1000 && searched.of.is_none_or(|of| of > searched.compared as f64));
    assert!(searched.best >= searched.own && searched.bound >= searched.best);
    let again = written(&text);
    assert_eq!(worked.ledger.colouring, again.ledger.colouring, "the same every time");
}

/// Colours of a project that someone without green cones cannot tell apart by tint have different marks, and so they do in grey.
/// (Simulation: G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, IEEE Trans. Vis. Comput. Graph. 15, 2009; held against a library
/// beside the other references of colour.)
#[test]
fn colours_that_cannot_be_told_by_tint_have_marks_of_their_own() {
    let mut alike = 0;
    for worked in PROJECTS.iter() {
        let colours = &worked.plan.colours;
        assert!(colours.len() <= 12, "{}: marks begin again after twelve", worked.name);
        let tint = |i: usize| colours[i].hex.as_deref().and_then(Tint::of_hex);
        for i in 0..colours.len() {
            for j in 0..i {
                let (Some(a), Some(b)) = (tint(i), tint(j)) else { continue };
                let blind = a.without_green_cones().difference(b.without_green_cones());
                alike += usize::from(blind < 15.0 || a.lightness_difference(b).abs() < 0.1);
            }
        }
    }
    assert!(alike > 0, "some colours of the projects are told by their marks alone, so that this is put to the proof");
    let marks = marks_of_twelve();
    assert_eq!(
        marks.iter().collect::<std::collections::BTreeSet<_>>().len(),
        12,
        "twelve marks, each unlike the others"
    );
}

/// The marks of twelve colours, as the sheets have them.
fn marks_of_twelve() -> Vec<String> {
    let names: String = (0..12).map(|i| format!("x{i} = \"#808080\"\n")).collect();
    let project = of_texts(
        &format!(
            "[plan]\ntitle = \"Marks\"\n[fibre.wool]\nkind = \"wool\"\nweight = \"100 g\"\n[colours]\n{names}\
         [wheel]\nwhorls = {{ one = \"7:1\" }}\n[yarn]\nplies = 2\nwraps = \"10 wpi\"\n"
        ),
        "",
    );
    let worked = wheelsheet::work_out(&project).worked.expect("a sound plan");
    wheelsheet::sheets(&worked).key.colours.iter().map(|colour| format!("{:?}", colour.mark)).collect()
}

/// Sections as lengths in centimetre with the index of their colour.
fn any_sections() -> impl Strategy<Value = Vec<(usize, u32)>> {
    proptest::collection::vec((0usize..4, 30u32..120), 2..7)
}

fn braid_of(name: &str, sections: &[(usize, u32)]) -> String {
    let told: Vec<String> = sections
        .iter()
        .map(|(colour, length)| format!("[\"{}\", \"{length} cm\"]", ["a", "b", "c", "d"][*colour]))
        .collect();
    format!("[braid.{name}]\ncount = 2\nweight = \"110 g\"\nsections = [{}]\n", told.join(", "))
}

/// A lane as tones by name and lengths, joined where they are alike.
fn laid(worked: &Worked, ply: usize) -> Vec<(String, f64)> {
    let mut found: Vec<(String, f64)> = Vec::new();
    for run in own(worked).sets.iter().flat_map(|lanes| &lanes[ply]) {
        let parts = &yarn(worked).tones[run.tone].parts;
        let name: String = parts.iter().map(|(colour, share)| format!("{colour}:{share:.3} ")).collect();
        match found.last_mut() {
            Some((last, length)) if *last == name => *length += run.length,
            _ => found.push((name, run.length)),
        }
    }
    found
}

fn are_alike(a: &[(String, f64)], b: &[(String, f64)]) -> bool {
    a.len() == b.len() && a.iter().zip(b).all(|(a, b)| a.0 == b.0 && (a.1 - b.1).abs() < 1e-6)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn length_is_conserved_from_the_braid_to_the_fabric(sections in any_sections(), strips in 1u32..6) {
        let worked = plied(&braid_of("north", &sections), &format!("{{ braid = \"north\", strips = {strips} }}, {{ braid = \"north\", strips = 1 }}"));
        let yarn = yarn(&worked);
        let length: f64 = yarn.sets.iter().sum();
        prop_assert!((length / worked.value("yarn.length") - 1.0).abs() < 1e-9);
        for lane in own(&worked).sets.iter().flatten() {
            let laid: f64 = lane.iter().map(|run| run.length).sum();
            prop_assert!((laid / length - 1.0).abs() < 1e-9);
        }
        let shares: f64 = own(&worked).shares.iter().map(|(_, share)| share).sum();
        prop_assert!((shares - 1.0).abs() < 1e-9);
    }

    #[test]
    fn flipping_a_mirrored_braid_changes_nothing(half in any_sections(), strips in 1u32..6) {
        let mirrored: Vec<(usize, u32)> = half.iter().chain(half.iter().rev()).copied().collect();
        let of = |from: &str| plied(&braid_of("north", &mirrored), &format!("{{ braid = \"north\", strips = {strips}, from = \"{from}\" }}, {{ braid = \"north\", strips = 1 }}"));
        let (one, other) = (of("first end"), of("other end"));
        prop_assert!(are_alike(&laid(&one, 0), &laid(&other, 0)));
        prop_assert!((own(&one).solid - own(&other).solid).abs() < 1e-9);
    }

    #[test]
    fn turning_all_braids_round_reverses_the_yarn(a in any_sections(), b in any_sections(), strips in 1u32..5) {
        let of = |from: &str| plied(
            &format!("{}{}", braid_of("north", &a), braid_of("south", &b)),
            &format!("{{ braid = \"north\", strips = {strips}, from = \"{from}\" }}, {{ braid = \"south\", strips = 2, from = \"{from}\" }}"),
        );
        let (one, other) = (of("first end"), of("other end"));
        for ply in 0..2 {
            let reversed: Vec<(String, f64)> = laid(&other, ply).into_iter().rev().collect();
            prop_assert!(are_alike(&laid(&one, ply), &reversed));
        }
        prop_assert!((own(&one).solid - own(&other).solid).abs() < 1e-9);
    }
}

#[test]
fn what_comes_round_is_measured_by_the_tape() {
    let braid = "[braid.north]\nweight = \"120 g\"\nlength = \"4 m\"\n\
        sections = [[\"a\", \"1 m\"], [\"b\", \"1 m\"], [\"a\", \"1 m\"], [\"b\", \"1 m\"]]\n";
    let worked = plied(braid, "{ braid = \"north\", strips = 1 }, { braid = \"north\", strips = 1 }");
    assert!((worked.value("braid.north.repeat") - 2.0).abs() < 1e-9);
    assert!(plied(ORDERED, "{ braid = \"north\" }, { braid = \"north\" }").ledger.find("braid.north.repeat").is_none());
}

/// Where colours run on, each bobbin carries as much as the others, and a strip that is begun on one goes on on the next.
#[test]
fn colours_run_on_from_set_to_set_by_weight() {
    let braids = "[braid.one]\nweight = \"150 g\"\nsections = [[\"a\", \"1 m\"], [\"b\", \"1 m\"]]\n\
        [braid.two]\nweight = \"50 g\"\nsections = [[\"c\", \"1 m\"]]\n\
        [braid.three]\nweight = \"200 g\"\nsections = [[\"d\", \"2 m\"]]\n";
    let text = format!(
        "{BEFORE}{YARN}{braids}[[ply-plan]]\ndeal = \"set after set\"\nplies = [{{ braids = [\"one\", \"two\"] }}, {{ braid = \"three\" }}]\n"
    );
    let worked = written(&text.replace("bobbin-holds = \"900 g\"", "bobbin-holds = \"110 g\""));
    for n in 1..=4 {
        assert!((worked.value(&format!("bobbin.{n}.weight")) - 100.0).abs() < 1e-6, "bobbin {n}");
    }
    let (first, second) = (&own(&worked).sets[0][0], &own(&worked).sets[1][0]);
    let lengths = |lane: &Vec<wheelsheet::figures::colour::lane::Run>| -> Vec<f64> {
        let whole: f64 = lane.iter().map(|run| run.length).sum();
        lane.iter().map(|run| (run.length / whole * 100.0).round()).collect()
    };
    assert_eq!(lengths(first), [75.0, 25.0], "all of a, and a third of b");
    assert_eq!(lengths(second), [50.0, 50.0], "the rest of b, and c");
    let skeins: f64 =
        worked.ledger.deal.sets().map(|(_, set)| worked.value(&format!("skein.{}.length", set.number))).sum();
    assert!((skeins / worked.value("yarn.length") - 1.0).abs() < 1e-9, "skeins add up to the yarn");
}

/// Where colours run on, strips as torn follow one another in the order of the log, over the ends of bobbins; the strips of a braid
/// that two plies share go to the one that lacks most.
#[test]
fn torn_strips_run_on_from_set_to_set() {
    let braids = "[braid.one]\nweight = \"200 g\"\nsections = [[\"a\", \"1 m\"], [\"b\", \"1 m\"]]\n\
        [braid.two]\nweight = \"200 g\"\nsections = [[\"c\", \"1 m\"]]\n";
    let text = format!(
        "{BEFORE}{YARN}{braids}[[ply-plan]]\ndeal = \"set after set\"\nplies = [{{ braid = \"one\", strips = 2 }}, {{ braid = \"two\", strips = 1 }}]\n"
    );
    let text = text.replace("bobbin-holds = \"900 g\"", "bobbin-holds = \"110 g\"");
    let log = "[[strips]]\ndate = 2026-03-08\nbraid = \"one\"\nweights = [\"80 g\", \"120 g\"]\n";
    let strips = |worked: &Worked, bobbin: usize| -> Vec<(Option<usize>, f64)> {
        let (_, set) = worked.ledger.deal.sets().nth(bobbin / 2).expect("two sets");
        let strips = &set.bobbins[bobbin % 2].strips;
        let weight = |k: usize| worked.value(&format!("bobbin.{}.strip.{}", bobbin + 1, k + 1));
        strips.iter().enumerate().map(|(k, strip)| (strip.torn, (weight(k) * 1e6).round() / 1e6)).collect()
    };
    let worked = written_with_log(&text, log);
    assert_eq!(strips(&worked, 0), [(Some(0), 80.0), (Some(1), 20.0)]);
    assert_eq!(strips(&worked, 2), [(Some(1), 100.0)], "the rest of the second");
    assert_eq!(strips(&worked, 1), [(None, 100.0)]);
    let worked = written_with_log(&text, &log.replace("80 g", "98 g").replace("120 g", "102 g"));
    assert_eq!(
        (strips(&worked, 0), strips(&worked, 2)),
        (vec![(Some(0), 98.0)], vec![(Some(1), 102.0)]),
        "no wisp is cut off"
    );
    let light = log.replace("[\"80 g\", \"120 g\"]", "[\"2.5 g\", \"97.5 g\", \"100 g\"]");
    let worked = written_with_log(&text, &light);
    assert_eq!(strips(&worked, 0), [(Some(0), 2.5), (Some(1), 97.5)], "a light first strip is spun too");
    let shared =
        text.replace("{ braid = \"two\", strips = 1 }", "{ braid = \"one\", strips = 2 }").replace("110 g", "60 g");
    let log = "[[strips]]\ndate = 2026-03-08\nbraid = \"one\"\nweights = [\"45 g\", \"52 g\", \"48 g\", \"55 g\"]\n";
    let worked = written_with_log(&shared, log);
    let of_ply = |ply: usize| -> Vec<Option<usize>> {
        let strips = worked.ledger.deal.sets().flat_map(|(_, set)| &set.bobbins[ply].strips);
        strips.map(|strip| strip.torn).collect()
    };
    assert_eq!(of_ply(0), [Some(0), Some(3), Some(3)], "the heaviest and the lightest, in the order of the log");
    assert_eq!(of_ply(1), [Some(1), Some(1), Some(2)]);
}

/// What one ply got more of one braid it gets less of the next.
#[test]
fn torn_strips_of_two_braids_come_out_alike_in_the_plies() {
    let braids = "[braid.one]\nweights = [\"100 g\", \"100 g\"]\nsections = [[\"a\", \"1 m\"], [\"b\", \"1 m\"]]\n";
    let text = format!(
        "{BEFORE}{YARN}{braids}[[ply-plan]]\ndeal = \"set after set\"\nplies = [{{ braid = \"one\" }}, {{ braid = \"one\" }}]\n"
    );
    let entry = |number: u32| {
        format!(
            "[[strips]]\ndate = 2026-03-08\nbraid = \"one\"\nnumber = {number}\nweights = [\"34 g\", \"33 g\", \"33 g\"]\n"
        )
    };
    let worked = written_with_log(&text, &format!("{}{}", entry(1), entry(2)));
    let bobbins = [1, 2].map(|n| worked.value(&format!("bobbin.{n}.weight")).round());
    assert_eq!(bobbins, [101.0, 99.0]);
}

/// A part of the yarn that uneven bobbins leave unplied is no yarn to count on.
#[test]
fn yarn_is_what_the_skeins_give_where_torn_strips_leave_bobbins_uneven() {
    let braid =
        "[braid.north]\nweight = \"100 g\"\nlength = \"4 m\"\nsections = [[\"a\", \"2 m\"], [\"b\", \"2 m\"]]\n";
    let text = format!(
        "{BEFORE}{YARN}{braid}[[ply-plan]]\nplies = [{{ braid = \"north\", strips = 1 }}, {{ braid = \"north\", strips = 1 }}]\n"
    );
    let log = "[[strips]]\ndate = 2026-03-08\nbraid = \"north\"\nweights = [\"60 g\", \"40 g\"]\n";
    let worked = written_with_log(&text, log);
    assert!((worked.value("skein.1.length") / worked.value("yarn.length") - 1.0).abs() < 1e-9);
    assert!(
        (worked.value("yarn.length") / written(&text).value("yarn.length") - 0.8).abs() < 1e-6,
        "80 of 100 g are plied"
    );
}

#[test]
fn strips_torn_after_sampling_are_what_is_left() {
    let braid = "[braid.north]\ncount = 2\nweight = \"100 g\"\nfor-sampling = \"30 g\"\nlength = \"4 m\"\nsections = [[\"a\", \"2 m\"], [\"b\", \"2 m\"]]\n";
    let text = format!(
        "{BEFORE}{YARN}{braid}[[ply-plan]]\nplies = [{{ braid = \"north\", strips = 1 }}, {{ braid = \"north\", strips = 1 }}]\n"
    );
    let log = "[[strips]]\ndate = 2026-03-08\nbraid = \"north\"\nnumber = 2\nweights = [\"34 g\", \"35 g\"]\n";
    let worked = written_with_log(&text, log);
    assert!((worked.value("braid.north.usable") - 169.0).abs() < 1e-9);
    let bobbins = worked.value("bobbin.1.weight") + worked.value("bobbin.2.weight");
    assert!((bobbins - 169.0).abs() < 1e-6);
}

/// A braid without an order looks otherwise in every strip, and the same in every build.
#[test]
fn a_braid_in_no_order_is_laid_in_one_that_may_come() {
    let braid = ORDERED.replace("length = \"4 m\"", "length = \"4 m\"\nrepeat = \"random\"");
    let plies = "{ braid = \"north\", strips = 6 }, { braid = \"north\", strips = 6 }";
    let worked = plied(&braid, plies);
    assert_ne!(names(&worked, 0), names(&plied(ORDERED, plies), 0));
    assert_eq!(names(&worked, 0), names(&plied(&braid, plies), 0));
    assert!(own(&worked).solid < 0.6, "no two strips are alike: {}", own(&worked).solid);
}
