//! What the sheets say to hands and crafts: which way crochet turns, what a warp asks, how a yarn is washed, what is bought again.

use proptest::prelude::*;
use wheelsheet::diagnostics::Code;
use wheelsheet::figures::expression::text::line;
use wheelsheet::plan::{Agitation, Direction, Hand};
use wheelsheet::sheets::Sheets;
use wheelsheet::units::System;
use wheelsheet::{Worked, sheets, work_out};

use super::golden::projects;
use super::reference::ledgers::{of_texts, written};
use super::workings::worked_out;

/// The smallest plan with more in its tables: what follows `[fibre.X]`, `[yarn]`, and what stands at its end.
fn plan(fibre: &str, yarn: &str, more: &str) -> String {
    format!(
        "[plan]\ntitle = \"T\"\nterms = \"UK\"\n[fibre.fell]\n{fibre}\nweight = \"200 g\"\n\
         [wheel]\nwhorls = {{ slow = \"6:1\", fast = \"8.5:1\" }}\n[yarn]\nplies = 2\nwraps = \"10 wpi\"\n{yarn}\n{more}"
    )
}

fn worked(plan: &str) -> (Worked, Vec<Code>) {
    let outcome = work_out(&of_texts(plan, ""));
    let codes = outcome.diagnostics.iter().map(|fault| fault.code).collect();
    (outcome.worked.unwrap_or_else(|| panic!("{plan}: {codes:?}")), codes)
}

fn filled(plan: &str) -> Sheets {
    sheets(&worked(plan).0)
}

fn warned(plan: &str, of: &str) -> Option<String> {
    let warnings = filled(plan).overview.warnings;
    warnings.into_iter().find(|warning| warning.cause.contains(of)).map(|warning| warning.remedy)
}

#[test]
fn crochet_that_untwists_the_yarn_is_told_with_the_mirrored_directions() {
    let hook = |hand: &str| format!("[garment.shawl]\ncraft = \"crochet\"\n{hand}length = \"300 m\"\n");
    let of = |twist: &str, hand: &str| {
        let yarn = format!("singles-twist = \"{twist}\"");
        warned(&plan("kind = \"wool\"", &yarn, &hook(hand)), "crochet untwists")
    };
    // Z singles are plied S, which the right hand takes out of; nothing said is the right hand.
    let told = of("Z", "hand = \"right\"\n").expect("the directions fight");
    assert!(told.contains("singles-twist = \"S\""), "{told}");
    assert_eq!(of("Z", ""), Some(told));
    assert_eq!(of("S", "hand = \"right\"\n"), None, "plied Z, the right hand tightens");
    assert_eq!(of("Z", "hand = \"left\"\n"), None, "plied S, the left hand tightens");
    let told = of("S", "hand = \"left\"\n").expect("the directions fight");
    assert!(told.contains("singles-twist = \"Z\""), "{told}");
    assert_eq!((Hand::Right.untwists(), Hand::Left.untwists()), (Direction::S, Direction::Z));
    let knit = plan("kind = \"wool\"", "", "[garment.shawl]\ncraft = \"knit\"\nlength = \"300 m\"\n");
    assert_eq!(warned(&knit, "crochet"), None);
}

#[test]
fn a_warp_is_cautioned_and_nothing_is_promised() {
    let cloth = |used: &str| {
        let used = format!("[garment.rug]\ncraft = \"weave\"\n{used}length = \"100 m\"\n");
        plan("kind = \"wool\"", "", &used)
    };
    for used in ["used-as = \"warp\"\n", "used-as = \"warp and weft\"\n", ""] {
        let told = warned(&cloth(used), "warp of the rug is not calculated").expect("a warp");
        assert!(told.contains("trial warp"), "{told}");
    }
    assert_eq!(warned(&cloth("used-as = \"weft\"\n"), "warp"), None);
    let remark = |plan: &str| {
        let groups = filled(plan).workings.groups;
        let mut workings = groups.into_iter().flat_map(|group| group.workings);
        workings.find(|working| working.figure == "singles.twist-factor").and_then(|working| working.remark)
    };
    let told = remark(&cloth("used-as = \"warp\"\n")).expect("a remark");
    assert!(told.contains("80 to 100") && told.contains("from memory"), "{told}");
    let factor = written(&cloth("")).value("singles.twist-factor");
    assert!(told.starts_with(&format!("{factor:.0}\u{a0}turns/m/√Nm")), "{told}: {factor}");
    assert_eq!(remark(&cloth("used-as = \"weft\"\n")), None);
}

#[test]
fn an_unusual_draw_is_a_note_and_no_fault() {
    let of = |preparation: &str, draw: &str| {
        let fibre = format!("kind = \"wool\"\npreparation = \"{preparation}\"");
        let text = plan(&fibre, "", "").replace("[yarn]", &format!("draw = \"{draw}\"\n[yarn]"));
        let (_, codes) = worked(&text);
        assert_eq!(codes, Vec::new(), "{preparation}, {draw}");
        warned(&text, "seldom spun")
    };
    assert!(of("combed top", "long draw").is_some_and(|told| told.contains("fell")));
    assert!(of("rolags", "short forward").is_some());
    assert_eq!(of("combed top", "short forward"), None);
    assert_eq!(of("rolags", "long draw"), None);
    assert_eq!(of("batts", "long draw"), None);
}

/// What of the plan's bath stands on its card: degrees, minutes, how much it is moved and how it dries.
fn bath(fibre: &str, finish: &str) -> [String; 4] {
    let card = filled(&plan(fibre, "", &format!("[finish]\n{finish}"))).wash_card;
    [card.temperature, card.time, card.agitation, card.drying].map(|step| {
        let amount = step.amount.expect("the plan or its default says it");
        format!("{} {}", amount.value, amount.unit.unwrap_or_default()).trim().to_owned()
    })
}

#[test]
fn the_bath_is_read_in_either_order_and_either_system() {
    let wool = "kind = \"wool\"";
    let of = |bath_text: &str| {
        let [temperature, time, ..] = bath(wool, &format!("bath = \"{bath_text}\"\n"));
        (temperature, time)
    };
    let pair = |temperature: &str, time: &str| (temperature.to_owned(), time.to_owned());
    assert_eq!(of("45 C, 20 min"), pair("45 °C", "20 min"));
    assert_eq!(of("20 min, 45 C"), pair("45 °C", "20 min"));
    assert_eq!(of("122 F, 1 h"), pair("50 °C", "60 min"));
    assert_eq!(of("37,5 C,5 h"), pair("38 °C", "5 h"), "a comma between digits is a decimal's");
    assert_eq!(of("45 C"), pair("45 °C", "20 min"), "the time is its default");
    assert_eq!(of("10 min"), pair("40 °C", "10 min"), "the temperature is its default");
    let imperial = plan(wool, "", "[finish]\nbath = \"45 C\"\n").replace("terms =", "units = \"imperial\"\nterms =");
    let amount = filled(&imperial).wash_card.temperature.amount.expect("said");
    assert_eq!((amount.value.as_str(), amount.other.as_deref()), ("113", Some("45\u{a0}°C")));
}

#[test]
fn what_is_left_out_of_the_finish_is_noted() {
    let (worked, _) = worked(&plan("kind = \"wool\"", "", ""));
    let keys: Vec<&str> =
        worked.plan.assumed.iter().filter_map(|one| one.place.as_ref()).map(|place| place.path.as_str()).collect();
    for (key, times) in [("finish.bath", 2), ("finish.agitation", 1), ("finish.dry", 1)] {
        assert_eq!(keys.iter().filter(|other| **other == key).count(), times, "{key}");
    }
    assert_eq!(worked.plan.finish.agitation, Agitation::None);
}

#[test]
fn superwash_is_dried_flat_and_does_not_felt() {
    let card = |fibre: &str| filled(&plan(fibre, "", "")).wash_card;
    let (superwash, wool) = (card("kind = \"wool\"\nsuperwash = true"), card("kind = \"wool\""));
    assert_eq!(superwash.drying.amount.map(|amount| amount.value).as_deref(), Some("flat"));
    assert!(superwash.drying.how.is_some_and(|how| how.contains("grows")));
    assert!(superwash.caution.contains("will not felt"), "{}", superwash.caution);
    assert_eq!(wool.drying.amount.map(|amount| amount.value).as_deref(), Some("hung without a weight"));
    assert!(wool.drying.how.is_none() && wool.caution.contains("felts"), "{}", wool.caution);
    let silk = card("kind = \"silk\"").caution;
    assert!(!silk.contains("felt"), "{silk}");
    for caution in [superwash.caution, wool.caution, silk] {
        assert!(caution.contains("scalds") && caution.chars().count() <= 120, "{caution}");
    }
}

#[test]
fn fulling_shortens_more_than_a_wash() {
    let shortens = |finish: &str, yarn: &str| {
        let (worked, codes) = worked(&plan("kind = \"wool\"", yarn, finish));
        assert_eq!(codes, Vec::new());
        worked.plan.yarn.wash_shortens.value
    };
    let fulled = "[finish]\nagitation = \"fulled\"\n";
    assert!((shortens("", "") - 0.05).abs() < 1e-12);
    assert!((shortens(fulled, "") - 0.20).abs() < 1e-12);
    assert!((shortens(fulled, "wash-shortens = \"12 %\"") - 0.12).abs() < 1e-12, "what the plan says goes before");
}

#[test]
fn every_skein_is_on_the_wash_card_once() {
    for (name, _, worked) in projects() {
        let sheets = sheets(&worked);
        let on_card: Vec<String> = sheets.wash_card.skeins.iter().map(|skein| skein.number.clone()).collect();
        let of_plan: Vec<String> =
            worked.ledger.deal.sets().flat_map(|(_, set)| set.skeins.clone()).map(|n| n.to_string()).collect();
        assert_eq!(on_card, of_plan, "{name}");
    }
}

#[test]
fn a_letter_asks_for_what_all_garments_lack_before_the_last_bobbins_that_need_it() {
    for (name, _, worked) in projects() {
        let letters = sheets(&worked).reorder_note.letters;
        assert_eq!(letters.len(), worked.plan.supplies.len(), "{name}: one letter for each lot");
        for (i, letter) in letters.iter().enumerate() {
            let supply = &worked.plan.supplies[i];
            let takes = |set: &wheelsheet::figures::deal::DealtSet| {
                set.bobbins.iter().any(|bobbin| bobbin.strips.iter().any(|strip| strip.supply == i))
            };
            let is_open = |number: &usize| !worked.plan.bobbins.iter().any(|bobbin| bobbin.number == *number);
            let sets = worked.ledger.deal.sets().map(|(_, set)| set).filter(|set| takes(set));
            let open = sets.filter_map(|set| set.bobbins.iter().map(|bobbin| bobbin.number).find(is_open));
            let before = open.last().map(|number| number.to_string());
            assert_eq!(letter.before, before, "{name}: {}", supply.name);
            let of = match worked.plan.garments.as_slice() {
                [] => None,
                [one] => Some(format!("garment.{}.to-buy.{}", one.name, supply.name)),
                _ => Some(format!("garments.to-buy.{}", supply.name)),
            };
            let lacking = of.map_or(0.0, |figure| worked.ledger.get(&figure).value);
            assert_eq!(letter.wanted, (lacking > 0.0).then(|| format!("{lacking:.0}")), "{name}: {}", supply.name);
            assert_eq!(letter.dye_lot, supply.dye_lot, "{name}");
            assert!(
                letter.by.is_none() || !worked.plan.bobbins.is_empty(),
                "a day comes of the log or is written by hand"
            );
            let shares: f64 = letter.stretches.iter().map(|stretch| stretch.share).sum();
            assert!(letter.stretches.is_empty() || (shares - 1.0).abs() < 1e-12);
        }
    }
}

/// Six bobbins in the 39 days from 12 March to 20 April are one in six and a half days; two are to be spun before the tenth, so that
/// it is begun thirteen days after the last of the log.
#[test]
fn a_letter_says_by_when_at_the_pace_of_the_log() {
    let (_, _, worked) = projects().into_iter().find(|(name, ..)| *name == "three-ply-pullover").expect("shipped");
    let letters = sheets(&worked).reorder_note.letters;
    let tenth = letters.iter().find(|letter| letter.before.as_deref() == Some("10")).expect("the last set is open");
    assert_eq!(tenth.by.as_deref(), Some("3\u{a0}May\u{a0}2026"));
}

#[test]
fn what_all_garments_lack_is_no_less_than_what_one_lacks() {
    let (_, _, worked) = projects().into_iter().find(|(name, ..)| *name == "three-ply-pullover").expect("shipped");
    for supply in &worked.plan.supplies {
        let together = worked.ledger.get(&format!("garments.to-buy.{}", supply.name)).value;
        for garment in &worked.plan.garments {
            assert!(together >= worked.ledger.get(&format!("garment.{}.to-buy.{}", garment.name, supply.name)).value);
        }
    }
    let whole = worked.ledger.get("garments.fibre").value;
    let parts: f64 = worked
        .plan
        .garments
        .iter()
        .map(|garment| worked.ledger.get(&format!("garment.{}.fibre", garment.name)).value)
        .sum();
    assert!((whole / parts - 1.0).abs() < 1e-12);
}

#[test]
fn the_line_of_a_blend_is_true_as_printed() {
    let blend = "blend = { wool = \"70 %\", silk = \"20 %\", \"bamboo viscose\" = \"10 %\" }\nfineness = \"21 micron\"";
    let worked = written(&plan(blend, "", ""));
    let line = line(worked.node("fibre.fell.density"), System::Metric, 4);
    assert_eq!((line.result.as_str(), line.unit.as_str()), ("1.333", "g/cm³"));
    let value = worked_out(&line.numbers).expect("a line of arithmetic");
    assert_eq!(format!("{value:.3}"), line.result, "{}", line.numbers);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_blend_is_as_dense_as_its_kinds_are(share in 1u32..100) {
        let blend = format!("blend = {{ cotton = \"{share} %\", nylon = \"{} %\" }}\nfineness = \"18 micron\"", 100 - share);
        let worked = written(&plan(&blend, "", ""));
        let density = worked.value("fibre.fell.density") / 1e6;
        prop_assert!((1.14..=1.52).contains(&density), "{}", density);
        // A hundred grams by hand: the volumes of both.
        let volume = f64::from(share) / 1.52 + f64::from(100 - share) / 1.14;
        prop_assert!((density * volume - 100.0).abs() < 1e-9);
    }
}
