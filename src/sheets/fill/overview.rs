//! Fills the overview: what is planned, whether it is enough, what to find out next.

use std::collections::BTreeSet;

use super::balance::{balance, buy, chance_text};
use super::machine;
use super::print::{In, Of, Printer, Round};
use super::words::{self, grist, weight, yarn_length};
use crate::diagnostics::Diagnostic;
use crate::figures::aim::last_twist;
use crate::figures::ledger::Said;
use crate::plan::{Construction, Craft, Garment, Plan, Supply};
use crate::sheets::marks::{Amount, Page};
use crate::sheets::overview::{Choice, DefaultThatMatters, Fact, Given, Measure, Overview, Panel, Stop};
use crate::units::{Kind, unit};

pub(super) fn overview(printer: &Printer, page: Page, said: &[Diagnostic]) -> Overview {
    let plan = printer.plan;
    let wanted = wanted(plan);
    let doubted = wanted.as_ref().map_or_else(|| "yarn.length".to_owned(), |(stage, _)| format!("{stage}.left-over"));
    let doubt = wanted
        .as_ref()
        .map_or_else(|| "doubt how long the yarn will be".to_owned(), |(_, noun)| format!("doubt about {noun}"));
    let shares = printer.ledger.shares(&doubted);
    Overview {
        page,
        fibre: fibre_facts(printer),
        colours: words::colours_used(plan),
        yarn: yarn_facts(printer),
        third: third(printer),
        r#match: super::matching::panel(printer),
        way: way(printer),
        balance: balance(printer),
        stands_on: super::spun::stands_on(printer),
        gives: gives(printer),
        measure_next: measure_next(printer, &doubted, &shares),
        doubt,
        choices: choices(printer),
        defaults: defaults(printer, &shares),
        warnings: super::warnings::warnings(printer, said),
    }
}

/// What the yarn is for, by which one decides: the only garment, or all of them together. The stage of its figures, and words.
pub(super) fn wanted(plan: &Plan) -> Option<(String, String)> {
    match plan.garments.as_slice() {
        [] => None,
        [only] => Some((format!("garment.{}", only.name), format!("the {}", only.name))),
        _ => Some(("garments".to_owned(), "all of them".to_owned())),
    }
}

pub(super) fn fact(label: &str, value: String, other: Option<String>) -> Fact {
    Fact { label: label.to_owned(), value, other }
}

/// What a panel has no room for, by its number; nothing where all of it was told.
fn and_more(printer: &Printer, all: usize, told: usize, [one, several]: [&str; 2]) -> Option<Fact> {
    let what = if all == told + 1 { one } else { several };
    (all > told).then(|| fact("and", format!("{} more {what}", printer.label(all - told, "more")), None))
}

/// So many fibres, lots and garments are told one by one.
const MOST: (usize, usize, usize) = (3, 4, 2);

fn fibre_facts(printer: &Printer) -> Vec<Fact> {
    let (most_fibres, most_lots, _) = MOST;
    let fibre = words::fibre(printer.plan);
    let (n_fibres, n_lots) = (printer.plan.fibres.len(), printer.plan.whole_lots().count());
    let mut facts: Vec<Fact> = Vec::new();
    for fibre in printer.plan.fibres.iter().take(most_fibres) {
        let preparation = fibre.preparation.map_or_else(String::new, |preparation| format!(", {preparation}"));
        let label = if fibre.is_blend() { "blend" } else { fibre.content[0].0.name };
        facts.push(fact(label, printer.as_written(&format!("{}{preparation}", fibre.name)), None));
        if fibre.is_blend() {
            facts.push(fact("of", printer.as_written(&fibre.words()), None));
        }
    }
    facts.extend(and_more(printer, n_fibres, most_fibres, [fibre, &format!("{fibre}s")]));
    let (lead, other) = weight(printer);
    for supply in printer.plan.whole_lots().take(most_lots) {
        let name = format!("{}.weight", supply.place.path);
        let named = printer.as_written(&supply.name);
        let (label, count) = if supply.in_braids {
            ("braids", format!("{} of {named}, ", printer.label(supply.weights.len(), "braids")))
        } else if n_lots > 1 {
            ("loose", format!("{named}, "))
        } else {
            ("weight", String::new())
        };
        facts.push(fact(
            label,
            format!("{count}{}", printer.with_unit(&name, lead)),
            Some(printer.with_unit(&name, other)),
        ));
    }
    facts.extend(and_more(printer, n_lots, most_lots, ["lot", "lots"]));
    facts
}

fn yarn_facts(printer: &Printer) -> Vec<Fact> {
    let plan = printer.plan;
    let (lead, other) = grist(printer);
    let (wraps, wraps_other) = printer.both(In("wraps/cm", Round::Places(1)), In("wpi", Round::Halves));
    let (twist, twist_other) = printer.both(In("turns/cm", Round::Places(1)), In("tpi", Round::Places(1)));
    let last = last_twist(plan);
    let sampled = plan.chosen().map(|sample| fact("sample", printer.as_written(&sample.name), None));
    let aimed = [
        fact("twist", directions(plan), None),
        fact("grist", printer.with_unit("washed.grist", lead), Some(printer.with_unit("washed.grist", other))),
        fact("wraps", printer.with_unit("washed.wraps", wraps), Some(printer.with_unit("washed.wraps", wraps_other))),
    ];
    // Singles of several kinds go by their names.
    let singles = plan.singles.iter().take(3).map(|kind| {
        let figure = format!("{}.wraps", kind.stage());
        let name = kind.name.as_deref().map_or_else(|| "singles".to_owned(), |name| printer.as_written(name));
        fact(&name, printer.with_unit(&figure, wraps), Some(printer.with_unit(&figure, wraps_other)))
    });
    let twisted =
        fact(last_twist_word(plan), printer.with_unit(last, twist), Some(printer.with_unit(last, twist_other)));
    let more = and_more(printer, plan.singles.len(), 3, ["kind of singles", "kinds of singles"]);
    aimed.into_iter().chain(singles).chain(more).chain([twisted]).chain(sampled).collect()
}

/// Which way the yarn is twisted at each stage, and how it is put together.
fn directions(plan: &Plan) -> String {
    let spin = plan.yarn.singles_twist.letter();
    let ply = plan.yarn.plied_twist.letter();
    match plan.yarn.construction {
        Construction::Singles => format!("spin {spin}, not plied"),
        Construction::Cabled(_) => {
            format!("spin {spin}, ply {ply}, cable {}, {}", plan.ply_direction().letter(), words::plies(plan))
        }
        Construction::Bobbins | Construction::Chain | Construction::BothEnds => {
            format!("spin {spin}, ply {ply}, {}", words::plies(plan))
        }
    }
}

/// What the last twist is called.
fn last_twist_word(plan: &Plan) -> &'static str {
    match plan.yarn.construction {
        Construction::Singles => "twist",
        Construction::Cabled(_) => "cable twist",
        Construction::Bobbins | Construction::Chain | Construction::BothEnds => "ply twist",
    }
}

/// Garments where there are any, else the wheel.
fn third(printer: &Printer) -> Panel {
    let plan = printer.plan;
    if plan.garments.is_empty() {
        return machine::panel(printer);
    }
    let title = if plan.garments.len() == 1 { "garment" } else { "garments" };
    let (.., most) = MOST;
    let told = plan.garments.iter().take(most).flat_map(|garment| garment_facts(printer, garment));
    let facts = told.chain(and_more(printer, plan.garments.len(), most, ["garment", "garments"])).collect();
    Panel { title: title.to_owned(), facts }
}

/// How a garment is made.
pub(super) fn worked(garment: &Garment) -> &'static str {
    match garment.craft {
        Craft::Knit => "knitted",
        Craft::Crochet => "crocheted",
        Craft::Weave => "woven",
    }
}

fn garment_facts(printer: &Printer, garment: &Garment) -> Vec<Fact> {
    let craft = worked(garment);
    let (lead, other) = yarn_length(printer);
    let length = |label: &str, what: &str| {
        let figure = format!("garment.{}.{what}", garment.name);
        fact(label, printer.with_unit(&figure, lead), Some(printer.with_unit(&figure, other)))
    };
    let mut facts = vec![
        fact("what", printer.as_written(&format!("{}, {craft}", garment.name)), None),
        length("takes", "total"),
        length("to be sure", "to-spin"),
    ];
    let gauge = garment.gauge.as_ref().map(|(gauge, _)| gauge);
    // Of several garments each has three facts, so that they stay in one column.
    if let Some(gauge) = gauge.filter(|_| printer.plan.garments.len() == 1) {
        facts.push(fact("gauge", printer.as_written(&gauge.text), None));
    }
    facts
}

/// The way of the wool: fibre, bobbins, skeins, yarn, garment.
fn way(printer: &Printer) -> Vec<Stop> {
    let plan = printer.plan;
    let (mass, mass_other) = weight(printer);
    let (length, length_other) = yarn_length(printer);
    let braids: usize = plan.whole_lots().filter(|supply| supply.in_braids).map(|supply| supply.weights.len()).sum();
    let n_skeins: usize = printer.ledger.deal.sets().map(|(_, set)| set.skeins.clone().count()).sum();
    let n_bobbins: usize = printer.ledger.deal.sets().map(|(_, set)| set.bobbins.len()).sum();
    let has_loose = plan.supplies.iter().any(|supply| !supply.in_braids);
    let first = if braids > 0 && has_loose {
        format!("of {} braids and loose {}", printer.label(braids, "braids"), words::fibre(plan))
    } else if braids > 0 {
        format!("of {} braids", printer.label(braids, "braids"))
    } else {
        format!("of {}", words::fibre(plan))
    };
    let stop = |amount: Amount, what: String, next: String| Stop { amount, what, next };
    let plied = match plan.yarn.construction {
        Construction::Bobbins => format!("{} plied", printer.label(plan.yarn.plies.value as usize, "plies")),
        Construction::Chain => "chain plied".to_owned(),
        Construction::BothEnds => "plied".to_owned(),
        Construction::Singles => "skeined".to_owned(),
        Construction::Cabled(_) => "plied, cabled".to_owned(),
    };
    let next = if plan.garments.is_empty() { "" } else { "against" }.to_owned();
    let last = wanted(plan).map(|(stage, _)| {
        let need = printer.amount(&format!("{stage}.total"), length, Some(length_other));
        stop(need, "needed, likely".to_owned(), String::new())
    });
    let yarn = [
        stop(
            printer.amount("yarn.fibre", mass, Some(mass_other)),
            first,
            // Unlike singles share it unlike.
            if plan.singles.len() > 1 {
                format!("onto {} {}s", printer.label(n_bobbins, "bobbins"), words::holder(plan))
            } else {
                format!("÷ {}", printer.label(n_bobbins, "bobbins"))
            },
        ),
        stop(
            printer.amount("bobbin.1.weight", mass, None),
            format!("{} 1 of {}", words::holder(plan), printer.label(n_bobbins, "bobbins")),
            plied,
        ),
        stop(
            printer.amount("skein.1.length", length, None),
            format!("skein 1 of {}", printer.label(n_skeins, "skeins")),
            format!("{} {}", printer.label(n_skeins, "skeins"), if n_skeins == 1 { "skein" } else { "skeins" }),
        ),
        stop(printer.amount("yarn.length", length, Some(length_other)), "in all".to_owned(), next),
    ];
    yarn.into_iter().chain(last).collect()
}

fn gives(printer: &Printer) -> Vec<Given> {
    if !printer.plan.garments.is_empty() {
        return Vec::new();
    }
    let (lead, other) = yarn_length(printer);
    vec![Given { amount: printer.amount("yarn.length", lead, Some(other)), what: "washed yarn, likely".to_owned() }]
}

/// Something that can be measured, and the entries of the ledger that it settles.
struct Question {
    /// `CRAFT`, `HOLDER`, `CARD` and `SQUARE` stand for words of the plan.
    what: &'static str,
    how: &'static str,
    settles: fn(&str) -> bool,
}

const QUESTIONS: [Question; 5] = [
    Question {
        what: "wash one sample skein",
        how: "wraps, length before and after, weight dry; half a day",
        settles: |place| {
            matches!(
                place,
                "assumed.loft"
                    | "yarn.wash-shortens"
                    | "yarn.winding-stretch"
                    | "yarn.wash-lightens"
                    | "yarn.plying-shortens"
                    | "assumed.thicker"
                    | "assumed.bloom"
                    | "yarn.angle"
            ) || place.contains("sample[")
        },
    },
    Question {
        what: "CRAFT and wash a swatch, and weigh it",
        how: "SQUARE; an evening",
        settles: |place| {
            matches!(place, "assumed.knitter" | "assumed.loop")
                || place.starts_with("fact.stitch.")
                || place.starts_with("fact.yarn-in-one.")
                || place.contains(".gauge")
                || (place.starts_with("garment.") && (place.ends_with(".length") || place.contains(".swatch")))
        },
    },
    Question {
        what: "weigh a length of every HOLDER",
        how: "as the CARD says; a minute each",
        settles: |place| place == "assumed.miss",
    },
    Question {
        what: "weigh the waste of one HOLDER",
        how: "what lies on the floor; a minute",
        settles: |place| place == "yarn.waste",
    },
    Question {
        what: "measure the garment’s pieces",
        how: "of one that fits, laid flat; half an hour",
        settles: |place| place.ends_with(".area"),
    },
];

/// A question in the words of the plan.
fn worded(printer: &Printer, text: &str) -> String {
    let plan = printer.plan;
    let craft = match plan.garments.first().map(|garment| garment.craft) {
        Some(Craft::Crochet) => "crochet",
        Some(Craft::Weave) => "weave",
        Some(Craft::Knit) | None => "knit",
    };
    text.replace("CRAFT", craft)
        .replace("HOLDER", words::holder(plan))
        .replace("CARD", words::spinning_card(plan))
        .replace("SQUARE", printer.lead("15 cm (6 in) square", "6 in (15 cm) square"))
}

/// Chances of running short that say nothing: one try in two hundred, and all but one.
const SURE: (f64, f64) = (0.005, 0.995);

/// The chance that what the yarn is for runs short; none where it is for nothing yet.
fn chance_short(printer: &Printer) -> Option<f64> {
    wanted(printer.plan).map(|(stage, _)| printer.ledger.get(&format!("{stage}.chance-short")).value)
}

fn measure_next(printer: &Printer, doubted: &str, shares: &[(String, f64)]) -> Vec<Measure> {
    // Whether measuring can change it.
    let can_tell = chance_short(printer).is_some_and(|chance| (SURE.0..SURE.1).contains(&chance));
    let mut asked: Vec<(f64, Measure)> = QUESTIONS
        .iter()
        .filter_map(|question| {
            let settled: Vec<&(String, f64)> = shares.iter().filter(|(place, _)| (question.settles)(place)).collect();
            let share: f64 = settled.iter().map(|(_, share)| share).sum();
            if share < 0.02 {
                return None;
            }
            let known: BTreeSet<String> = settled.iter().map(|(place, _)| place.clone()).collect();
            let then_short = can_tell.then(|| {
                printer.tries(printer.ledger.chance_below_zero(doubted, &known), Of::Label("tries, once measured"))
            });
            let measure = Measure {
                what: worded(printer, question.what),
                how: printer.as_written(&worded(printer, question.how)),
                share,
                share_text: printer.share(share),
                then_short,
            };
            Some((share, measure))
        })
        .collect();
    asked.sort_by(|a, b| b.0.total_cmp(&a.0));
    // A yarn in hand has a panel of its own, which takes the room of one.
    let most = if printer.plan.yarn.matched.is_some() { 3 } else { 4 };
    asked.into_iter().take(most).map(|(_, measure)| measure).collect()
}

/// What buying does: all that the wished certainty asks for, and one more of what gives out first.
fn choices(printer: &Printer) -> Vec<Choice> {
    let Some((stage, noun)) = wanted(printer.plan) else { return Vec::new() };
    if chance_short(printer).is_none_or(|chance| chance < SURE.0) {
        return Vec::new();
    }
    let supply = &printer.plan.supplies[printer.ledger.deal.scarcest];
    let price = supply.price.as_ref().map(|price| printer.as_written(price));
    let one = Choice {
        short: chance_text(printer, &format!("{stage}.chance-short-with-one-more")),
        what: format!(
            "{} more {}{}",
            printer.label(1, "more"),
            lot(printer, supply, 1),
            printer.as_written(&supply.name)
        ),
        note: Some(price.unwrap_or_else(|| format!("for {noun}"))),
    };
    // All that is to be bought, where that is not one more of what gives out first.
    let all = buy(printer, &stage).filter(|_| lots_to_buy(printer, &stage) > 1).map(|what| {
        let sure = &printer.plan.sure_of_enough;
        let short = printer.tries(1.0 - sure.value, Of::Label("tries left open by the wish"));
        Choice { short: format!("≤\u{a0}{short}"), what, note: Some("as sure as you wish to be".to_owned()) }
    });
    all.into_iter().chain([one]).collect()
}

/// How many lots the wished certainty asks for, of all supplies; figures stand below `stage`.
fn lots_to_buy(printer: &Printer, stage: &str) -> usize {
    let of = |supply: &Supply| printer.ledger.get(&format!("{stage}.to-buy.{}", supply.name)).value as usize;
    printer.plan.whole_lots().map(of).sum()
}

/// "of " before the name of a braid; loose fibre is bought again by the lot that there is.
pub(super) fn lot(printer: &Printer, supply: &Supply, n: usize) -> String {
    if supply.in_braids {
        return "of ".to_owned();
    }
    let (lead, _) = weight(printer);
    let lots = if n == 1 { "lot" } else { "lots" };
    format!("{lots} of {} of ", printer.with_unit(&format!("{}.weight", supply.place.path), lead))
}

/// Defaults that bring the most doubt.
fn defaults(printer: &Printer, shares: &[(String, f64)]) -> Vec<DefaultThatMatters> {
    shares
        .iter()
        .filter(|(_, share)| *share >= 0.02)
        .filter_map(|(place, share)| {
            let source = printer.ledger.source(place);
            let Said::Default(..) = source.said else { return None };
            let key = source.place.as_ref().map_or_else(|| instead(place).to_owned(), |place| place.path.clone());
            // A loft is a number for the workings alone.
            let (name, value) = if place == "assumed.loft" {
                ("how airy the yarn will be:", "as yarns are")
            } else {
                // A factor about one is told by its give-or-take.
                let text = source.text.as_str();
                (source.words.as_str(), text.strip_prefix("1 ").filter(|rest| rest.starts_with('±')).unwrap_or(text))
            };
            Some(DefaultThatMatters {
                name: printer.as_written(&words::spelt(printer.plan, name)),
                value: printer.as_written(value),
                share_text: printer.share(*share),
                share: *share,
                key: printer.as_written(&key),
            })
        })
        .take(5)
        .collect()
}

/// What stands for an assumption that no key replaces.
fn instead(place: &str) -> &'static str {
    match place {
        "assumed.loft" | "assumed.thicker" | "assumed.bloom" => "a chosen sample",
        "assumed.knitter" | "assumed.loop" => "a swatch, weighed",
        _ if place.starts_with("fact.stitch.") || place.starts_with("fact.yarn-in-one.") => "a swatch, weighed",
        "assumed.miss" => "what the log will tell",
        "assumed.swatches" => "for-sampling",
        _ => "the formula’s own",
    }
}

impl Printer<'_> {
    /// A chance as a count of tries in a hundred.
    pub(super) fn tries(&self, chance: f64, of: Of) -> String {
        let text = if chance > 0.0 && chance < 0.005 {
            "under 1".to_owned()
        } else {
            crate::units::format::decimals(chance * 100.0, 0)
        };
        let percent = unit(Kind::Share, "%").expect("invariant: the tables have per cent");
        self.record(text, percent, of)
    }
}
