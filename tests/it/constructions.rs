//! What holds of every construction: fibre, length and twist are conserved from the braid to the washed skein, whatever the plan's
//! numbers; and one cabled yarn is worked by hand, step by step.

use proptest::prelude::*;
use wheelsheet::figures::ledger::Ledger;
use wheelsheet::plan::{Construction, Plan};

use super::reference::assert_close;
use super::reference::ledgers::{answered, of_texts, written};

/// A way of plying, as the plan writes it, with the plies that a ply plan of it names.
#[derive(Debug, Clone)]
struct Made {
    entries: String,
    /// Grist of each bobbin of a set, in m/100 g, where it has its own.
    own: Vec<Option<f64>>,
}

fn made(entries: &str, bobbins: usize) -> Made {
    Made { entries: entries.to_owned(), own: vec![None; bobbins] }
}

fn any_made() -> impl Strategy<Value = Made> {
    let cabled = (2usize..=3, 2usize..=3).prop_map(|(plies, strands)| {
        made(&format!("plies = {plies}\ncabled = {strands}\ncabling-shortens = \"3 ± 2 %\""), plies * strands)
    });
    let unlike = prop::collection::vec(prop::option::weighted(0.5, 900.0..3000.0), 2..=5).prop_map(|own| {
        let entries = format!("plies = {}", own.len());
        // One ply at least shares what the others leave.
        let own = own.into_iter().enumerate().map(|(i, own)| own.filter(|_| i > 0)).collect();
        Made { entries, own }
    });
    prop_oneof![
        (2usize..=8).prop_map(|plies| made(&format!("plies = {plies}"), plies)),
        Just(made("ply-from = \"chain\"", 1)),
        Just(made("ply-from = \"both ends of a ball\"", 1)),
        Just(made("ply-from = \"none\"", 1)),
        cabled,
        unlike,
    ]
}

/// A random plan of any construction, as text.
fn any_plan() -> impl Strategy<Value = String> {
    let shares = (-4.0..15.0f64, -4.0..25.0f64, 0.0..15.0f64, 0.0..8.0f64, 0.0..12.0f64);
    (
        any_made(),
        prop::collection::vec(prop::collection::vec(40.0..220.0f64, 1..5), 1..3),
        (6.0..14.0f64, 40.0..300.0f64, 60.0..400.0f64),
        prop::sample::select(&["a skein for each set", "whole bobbins first"][..]),
        shares,
    )
        .prop_map(|(made, lots, (wraps, holds, plying_holds), fill, shares)| {
            let mut text = "[plan]\ntitle = \"Random\"\n\n[fibre.wool]\nkind = \"wool\"\n".to_owned();
            for (i, weights) in lots.iter().enumerate() {
                let weights: Vec<String> = weights.iter().map(|weight| format!("\"{weight:.1} g\"")).collect();
                text += &format!("\n[braid.lot{i}]\nweights = [{}]\n", weights.join(", "));
            }
            text += &format!("\n[wheel]\nwhorls = {{ a = \"2:1\", b = \"6:1\", c = \"14:1\", d = \"30:1\" }}\nbobbin-holds = \"{holds:.0} g\"\n");
            text += &format!("\n[plying]\nbobbin-holds = \"{plying_holds:.0} g\"\nfill = \"{fill}\"\n");
            text += &format!("\n[yarn]\n{}\nwraps = \"{wraps:.1} wpi\"\n", made.entries);
            let (plying, wash, stretch, lightens, waste) = shares;
            text += &format!("plying-shortens = \"{plying:.1} ± 1 %\"\nwash-shortens = \"{wash:.1} ± 1 %\"\n");
            text += &format!("winding-stretch = \"{stretch:.1} ± 1 %\"\nwash-lightens = \"{lightens:.1} ± 1 %\"\nwaste = \"{waste:.1} ± 1 %\"\n");
            text += "\n[[ply-plan]]\nplies = [\n";
            for (i, own) in made.own.iter().enumerate() {
                let grist = own.map_or(String::new(), |own| format!(", grist = \"{own:.0} m/100 g\""));
                text += &format!("  {{ braid = \"lot{}\"{grist} }},\n", i % lots.len());
            }
            text + "]\n"
        })
}

/// What the plan says of lengths and weights, read from the plan and not from the ledger.
struct Said {
    plying: f64,
    cabling: f64,
    stretch: f64,
    lightens: f64,
    waste: f64,
    keep: f64,
}

fn said(plan: &Plan) -> Said {
    let yarn = &plan.yarn;
    let stretch = yarn.winding_stretch.value;
    Said {
        plying: if yarn.construction.is_plied() { yarn.plying_shortens.value } else { 0.0 },
        cabling: if yarn.construction.strands().is_some() { yarn.cabling_shortens.value } else { 0.0 },
        stretch,
        lightens: yarn.wash_lightens.value,
        waste: yarn.waste.value,
        keep: (1.0 - yarn.wash_shortens.value) / (1.0 + stretch),
    }
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-8 * a.abs().max(b.abs()).max(1e-9)
}

/// Every bobbin of every set gives the length of its skeins and no other, and weighs what is in them.
fn check_lengths_and_weights(plan: &Plan, ledger: &Ledger) -> Result<(), TestCaseError> {
    let said = said(plan);
    let of = |name: String| ledger.get(&name).value;
    let passes = plan.yarn.construction.passes(plan.yarn.plies.value as usize) as f64;
    for (ply_plan, set) in ledger.deal.sets() {
        let washed: f64 = set.skeins.clone().map(|n| of(format!("skein.{n}.length"))).sum();
        let weight: f64 = set.skeins.clone().map(|n| of(format!("skein.{n}.weight"))).sum();
        let mut plied = 0.0;
        for (ply, bobbin) in plan.ply_plans[ply_plan].plies.iter().zip(&set.bobbins) {
            let [fibre, net, left] =
                ["weight", "net", "left"].map(|what| of(format!("bobbin.{}.{what}", bobbin.number)));
            prop_assert!(near(net * (1.0 + said.waste), fibre), "waste of bobbin {}", bobbin.number);
            prop_assert!(left >= -1e-9 * net, "bobbin {} has {left} left", bobbin.number);
            let wound = (net - left) / of(format!("{}.wound-tex", plan.singles[ply.singles].stage()));
            let length = wound / passes * (1.0 - said.plying) * (1.0 - said.cabling) * said.keep;
            prop_assert!(near(length, washed), "bobbin {}: {length} of {washed}", bobbin.number);
            plied += net - left;
        }
        prop_assert!(near(plied * (1.0 - said.lightens), weight), "set {}: {plied} and {weight}", set.number);
    }
    Ok(())
}

/// All fibre is in the bobbins or told to be spare.
fn check_fibre(plan: &Plan, ledger: &Ledger) -> Result<(), TestCaseError> {
    for (i, supply) in plan.supplies.iter().enumerate() {
        let strips = ledger.deal.sets().flat_map(|(_, set)| &set.bobbins).flat_map(|bobbin| {
            let of_supply = bobbin.strips.iter().enumerate().filter(|(_, strip)| strip.supply == i);
            of_supply.map(|(k, _)| ledger.get(&format!("bobbin.{}.strip.{}", bobbin.number, k + 1)).value)
        });
        let dealt: f64 = strips.sum();
        let place = &supply.place.path;
        let spare = ledger.find(&format!("{place}.spare")).map_or(0.0, |line| line.value);
        let usable = ledger.get(&format!("{place}.usable")).value;
        let is_named = plan.ply_plans.iter().any(|one| one.plies.iter().any(|ply| ply.takes(i)));
        prop_assert!(
            !is_named || (dealt + spare - usable).abs() <= 1e-8 * usable,
            "{place}: {dealt} and {spare} of {usable}"
        );
    }
    Ok(())
}

/// Turns that went in at the wheel are those that are counted later, in more or less length.
fn check_twist(plan: &Plan, ledger: &Ledger) -> Result<(), TestCaseError> {
    let said = said(plan);
    let of = |name: &str| ledger.get(name).value;
    for kind in &plan.singles {
        let stage = kind.stage();
        // A metre under tension is 1 ÷ (1 + stretch) at rest.
        let (wound, fresh) = (of(&format!("{stage}.twist-at-wheel")), of(&format!("{stage}.fresh-twist")));
        prop_assert!(near(wound, fresh / (1.0 + said.stretch)), "{stage}: {wound} and {fresh}");
    }
    match plan.yarn.construction {
        Construction::Singles => {
            prop_assert!(near(of("singles.twist-at-wheel"), of("washed.singles-twist") * said.keep));
        }
        Construction::Bobbins | Construction::Chain | Construction::BothEnds => {
            prop_assert!(near(of("plied.twist-at-wheel"), of("washed.ply-twist") * said.keep));
        }
        Construction::Cabled(_) => {
            prop_assert!(near(of("cabled.twist-at-wheel"), of("washed.cable-twist") * said.keep));
            // What the strands were plied with is what is left in them and what the cable took out.
            let put_in = of("plied.twist-at-wheel") / said.keep;
            prop_assert!(near(put_in, of("washed.ply-twist") + of("washed.cable-twist")), "strands");
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn fibre_length_and_twist_are_conserved_in_every_construction(text in any_plan()) {
        let (plan, outcome, faults) = answered(&of_texts(&text, ""));
        let ledger = outcome.and_then(|outcome| outcome.ledger);
        let (Some(plan), Some(ledger)) = (plan, ledger) else {
            // Random plies of their own grist may leave nothing for the others, or bobbins be too many.
            prop_assert!(!faults.is_empty());
            return Ok(());
        };
        check_fibre(&plan, &ledger)?;
        check_lengths_and_weights(&plan, &ledger)?;
        check_twist(&plan, &ledger)?;
    }
}

/// Random plans of each construction are mostly sound: the property above is not held by faults.
#[test]
fn random_plans_of_every_construction_have_ledgers() {
    use proptest::strategy::ValueTree;
    use proptest::test_runner::TestRunner;
    let mut runner = TestRunner::deterministic();
    let mut sound = std::collections::BTreeMap::new();
    for _ in 0..120 {
        let text = any_plan().new_tree(&mut runner).expect("a plan").current();
        let (plan, outcome, _) = answered(&of_texts(&text, ""));
        if let (Some(plan), Some(_)) = (plan, outcome.and_then(|outcome| outcome.ledger)) {
            let unlike = if plan.singles.len() > 1 { " of unlike plies" } else { "" };
            let name = format!("{:?}", plan.yarn.construction).split('(').next().unwrap_or_default().to_owned();
            *sound.entry(name + unlike).or_insert(0) += 1;
        }
    }
    for name in ["Bobbins", "Bobbins of unlike plies", "Chain", "BothEnds", "Singles", "Cabled"] {
        assert!(sound.get(name).is_some_and(|n| *n >= 5), "{name}: {sound:?}");
    }
}

/// A cable of two strands of two plies, worked by hand. All numbers of the plan are exact.
///
/// Wished: 12 wraps to the inch, 500 tex, 3 turns to the inch in the cable, strands that balance at 5 by themselves.
/// Lengths: 2 % lost in plying, 4 % in cabling, none in winding, 10 % in the wash; weight: 1 % lost in the wash.
#[test]
fn a_cabled_yarn_worked_by_hand() {
    let cabled = written(
        "[plan]\ntitle = \"By hand\"\n[fibre.wool]\nkind = \"wool\"\nweight = \"412 g\"\n\
         [wheel]\nwhorls = { one = \"9:1\" }\nbobbin-holds = \"200 g\"\n[plying]\nbobbin-holds = \"500 g\"\n\
         [yarn]\nplies = 2\ncabled = 2\nwraps = \"12 wpi\"\ngrist = \"500 tex\"\ncable-twist = \"3 / in\"\nply-twist = \"5 / in\"\n\
         plying-shortens = \"2 ± 0 %\"\ncabling-shortens = \"4 ± 0 %\"\nwash-shortens = \"10 ± 0 %\"\n\
         winding-stretch = \"0 ± 0 %\"\nwash-lightens = \"1 ± 0 %\"\nwaste = \"3 ± 0 %\"\n",
    );
    let inch = 0.0254;
    let is = |name: &str, expected: f64, per: f64| assert_close(cabled.value(name) * per, expected, 1e-9, name);
    // 500 tex washed; a metre of it was 1/0.9 m fresh and weighed 1/0.99 as much: 500 × 0.9 ÷ 0.99 = 454.545 tex.
    is("cabled.wound-tex", 454.545_454_545_454_5, 1000.0);
    // Two strands of it, each 1/0.96 as long as the cable: 454.545 × 0.96 ÷ 2 = 218.182 tex.
    is("plied.wound-tex", 218.181_818_181_818_2, 1000.0);
    // Two singles of that, each 1/0.98 as long as the strand: 218.182 × 0.98 ÷ 2 = 106.909 tex.
    is("singles.wound-tex", 106.909_090_909_090_9, 1000.0);
    // A cable of two is 1.5 times as wide as a strand, a strand 1.5 times as wide as a single: 12, 18, 27 wraps.
    is("plied.wraps", 18.0, inch);
    is("singles.wraps", 27.0, inch);
    // The rules of balance for two: 2/3 and 1/√2, whose geometric mean is √(2/3 × 0.70711) = 0.68659.
    is("plied.fraction", 0.686_589_047_969_039_7, 1.0);
    // Extra twist of a strand: 3 ÷ 0.68659 = 4.3694; strands are plied with 5 + 4.3694 = 9.3694 turns to the inch.
    is("plied.extra-twist", 3.0 / (2.0 / 3.0 / 2.0_f64.sqrt()).sqrt(), inch);
    is("plied.twist", 5.0 + 3.0 / (2.0 / 3.0 / 2.0_f64.sqrt()).sqrt(), inch);
    // Cabling takes three of them out again: 6.3694 are left in each strand.
    is("washed.ply-twist", 2.0 + 3.0 / (2.0 / 3.0 / 2.0_f64.sqrt()).sqrt(), inch);
    // The singles are those of a balanced two-ply of 5 turns: 5 ÷ 0.68659 = 7.2824.
    is("singles.twist", 5.0 / (2.0 / 3.0 / 2.0_f64.sqrt()).sqrt(), inch);
    // At the wheel nine tenths of each, since a wound metre is 0.9 m washed: 2.7, 8.4325 and 6.5542 turns to the inch.
    is("cabled.twist-at-wheel", 2.7, inch);
    is("plied.twist-at-wheel", 0.9 * (5.0 + 3.0 / (2.0 / 3.0 / 2.0_f64.sqrt()).sqrt()), inch);
    is("singles.twist-at-wheel", 0.9 * 5.0 / (2.0 / 3.0 / 2.0_f64.sqrt()).sqrt(), inch);
    // Directions: singles Z, strands S, cable Z.
    assert_eq!(cabled.plan.ply_direction(), cabled.plan.yarn.singles_twist);
    // 412 g of fibre, 3 % of what stays is waste: 400 g of singles, 396 g washed, 396 ÷ 0.5 = 792 m.
    is("yarn.length", 792.0, 1.0);
    // Four bobbins of 103 g make one set.
    let sets: Vec<_> = cabled.ledger.deal.sets().collect();
    assert_eq!((sets.len(), sets[0].1.bobbins.len()), (1, 4));
    is("bobbin.1.weight", 103.0, 1.0);
    // A strand weighs half of 400 g, and is 200 ÷ 0.218182 = 916.67 m long.
    is("set.1.strand", 200.0, 1.0);
    is("set.1.strand-length", 916.666_666_666_666_6, 1.0);
}

/// Chain plying lays one single three times side by side: a third of its length, nothing averaged (published craft texts).
#[test]
fn a_chain_ply_is_a_third_of_its_single() {
    let text = "[plan]\ntitle = \"Chain\"\n[fibre.wool]\nkind = \"wool\"\nfineness = \"23 micron\"\nweight = \"103 g\"\n\
         [wheel]\nwhorls = { one = \"9:1\", two = \"14:1\" }\nbobbin-holds = \"150 g\"\n\
         [yarn]\nply-from = \"chain\"\nwraps = \"12 wpi\"\nwaste = \"3 ± 0 %\"\nplying-shortens = \"0 ± 0 %\"\n\
         wash-shortens = \"0 ± 0 %\"\nwinding-stretch = \"0 ± 0 %\"\nwash-lightens = \"0 ± 0 %\"\n";
    let chain = written(text);
    let single = chain.value("bobbin.1.net") / chain.value("singles.wound-tex");
    assert_close(chain.value("skein.1.length"), single / 3.0, 1e-12, "a third");
    let same = |name: &str| chain.value(&format!("fibre.wool.{name}"));
    assert_close(same("plied-irregularity"), same("irregularity"), 1e-12, "as uneven as its single");
    let three = written(&text.replace("ply-from = \"chain\"", "plies = 3"));
    let of_three = |name: &str| three.value(&format!("fibre.wool.{name}"));
    assert_close(of_three("plied-irregularity"), of_three("irregularity") / 3f64.sqrt(), 1e-12, "three average");
}

/// Three bobbins a third full make one full plied bobbin: the habit of a published craft text for skeins without a knot.
#[test]
fn three_bobbins_a_third_full_make_one_full_plied_bobbin() {
    let plan = |fill: &str| {
        written(&format!(
            "[plan]\ntitle = \"Full\"\n[fibre.wool]\nkind = \"wool\"\nweight = \"600 g\"\n\
             [wheel]\nwhorls = {{ one = \"9:1\" }}\nbobbin-holds = \"150 g\"\n\
             [plying]\nbobbin-holds = \"150 g\"\nfill = \"{fill}\"\n[yarn]\nplies = 3\nwraps = \"10 wpi\"\n"
        ))
    };
    let by_skein = plan("a skein for each set");
    let sets: Vec<_> =
        by_skein.ledger.deal.sets().map(|(_, set)| (set.bobbins.len(), set.skeins.clone().count())).collect();
    assert_eq!(sets, [(3, 1); 4]);
    assert_close(by_skein.value("bobbin.1.weight"), 50.0, 1e-12, "a third of a bobbin");
    // Whole bobbins instead: two sets of 300 g, each of which gives two skeins of what the plying bobbin holds.
    let whole = plan("whole bobbins first");
    let sets: Vec<_> = whole.ledger.deal.sets().map(|(_, set)| set.skeins.clone()).collect();
    assert_eq!(sets, [1..=2, 3..=4]);
    assert_close(whole.value("bobbin.1.weight"), 100.0, 1e-12, "two thirds of a bobbin");
    assert_close(whole.value("skein.1.length"), by_skein.value("skein.1.length"), 1e-12, "the same skeins");
    assert_close(4.0 * whole.value("skein.1.length"), whole.value("yarn.length"), 1e-12, "and the same yarn");
}

/// What bobbins there are decides in which order one works; common practice, no source.
#[test]
fn bobbins_owned_force_an_order_of_work() {
    use wheelsheet::figures::deal::WorkOrder;
    let order = |bobbins: &str| {
        let plan = written(&format!(
            "[plan]\ntitle = \"Order\"\n[fibre.wool]\nkind = \"wool\"\nweight = \"600 g\"\n\
             [wheel]\nwhorls = {{ one = \"9:1\" }}\nbobbin-holds = \"100 g\"\n{bobbins}\n\
             [plying]\nbobbin-holds = \"150 g\"\n[yarn]\nplies = 3\nwraps = \"10 wpi\"\n"
        ));
        (plan.ledger.deal.sets().count(), plan.ledger.deal.order)
    };
    // Four sets of three, and one to ply on: thirteen.
    assert_eq!(order(""), (4, WorkOrder::AllFirst));
    assert_eq!(order("bobbins-owned = 13"), (4, WorkOrder::AllFirst));
    assert_eq!(order("bobbins-owned = 12"), (4, WorkOrder::SomeSets(3)));
    assert_eq!(order("bobbins-owned = 7"), (4, WorkOrder::SomeSets(2)));
    assert_eq!(order("bobbins-owned = 4"), (4, WorkOrder::SomeSets(1)));
    assert_eq!(order("bobbins-owned = 4\nstorage-bobbins = 9"), (4, WorkOrder::AllFirst));
}

/// Rested singles look overplied until they are washed, so one plies to what was tied when they were fresh; common practice, read in
/// published craft texts.
#[test]
fn the_card_for_plying_says_what_rest_does() {
    for entries in ["plies = 2", "ply-from = \"chain\"", "ply-from = \"both ends of a ball\""] {
        let text = format!(
            "[plan]\ntitle = \"Rest\"\n[fibre.wool]\nkind = \"wool\"\nweight = \"200 g\"\n\
             [wheel]\nwhorls = {{ one = \"9:1\", two = \"14:1\" }}\n[yarn]\n{entries}\nwraps = \"12 wpi\"\n"
        );
        let worked = wheelsheet::work_out(&of_texts(&text, "")).worked.expect("a plan without faults");
        let cards = wheelsheet::sheets(&worked).wheel_card.cards;
        let ply = cards.iter().find(|card| card.act == wheelsheet::sheets::wheel_card::Act::Ply).expect("it is plied");
        assert!(ply.how.as_ref().is_some_and(|how| how.contains("rested singles look overplied")), "{entries}");
    }
}

/// The ends of a ball are far apart in the single and average; the passes of a chain do not. Unlike plies average by their weight:
/// √Σ (share × irregularity)², worked here from the plan's figures.
#[test]
fn what_averages_is_what_was_spun_apart() {
    let plan = |yarn: &str| {
        written(&format!(
            "[plan]\ntitle = \"Even\"\n[fibre.wool]\nkind = \"wool\"\nfineness = \"23 micron\"\nweight = \"200 g\"\n\
             [fibre.silk]\nkind = \"silk\"\nfineness = \"13 micron\"\nweight = \"50 g\"\n\
             [wheel]\nwhorls = {{ one = \"9:1\", two = \"14:1\" }}\n[yarn]\nwraps = \"12 wpi\"\n{yarn}"
        ))
    };
    let ball = plan("ply-from = \"both ends of a ball\"\n[[ply-plan]]\nplies = [{ fibre = \"wool\" }]\n");
    let [one, two] = ["irregularity", "plied-irregularity"].map(|what| ball.value(&format!("fibre.wool.{what}")));
    assert_close(two, one / 2f64.sqrt(), 1e-12, "both ends");
    let unlike = plan(
        "plies = 2\n[[ply-plan]]\nplies = [{ fibre = \"wool\" }, { fibre = \"silk\", grist = \"1200 m/100 g\" }]\n",
    );
    let part = |fibre: &str| {
        unlike.value(&format!("singles.{fibre}.share")) * unlike.value(&format!("fibre.{fibre}.irregularity"))
    };
    assert_close(unlike.value("yarn.irregularity"), part("wool").hypot(part("silk")), 1e-12, "unlike plies");
    assert!(unlike.ledger.find("fibre.wool.plied-irregularity").is_none());
}
