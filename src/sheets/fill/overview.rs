//! Fills the overview: what is planned, whether it is enough, what to find out next.

use std::collections::BTreeSet;

use super::machine;
use super::print::{In, Of, Printer, Round, joined};
use super::words::{self, grist, weight, yarn_length};
use crate::figures::Line;
use crate::figures::aim::last_twist;
use crate::figures::ledger::Said;
use crate::plan::{Construction, Craft, Garment, Need, Plan, Supply};
use crate::sheets::marks::{Amount, Lens, Page, Tick};
use crate::sheets::overview::{
    Balance, Choice, DefaultThatMatters, Fact, GarmentBalance, Given, LeftOver, Measure, Overview, Panel, Stop,
};
use crate::units::{Kind, Unit, unit};

pub(super) fn overview(printer: &Printer, page: Page) -> Overview {
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
        colours: words::colours(plan),
        yarn: yarn_facts(printer),
        third: third(printer),
        r#match: super::matching::panel(printer),
        way: way(printer),
        balance: balance(printer),
        gives: gives(printer),
        measure_next: measure_next(printer, &doubted, &shares),
        doubt,
        choices: choices(printer),
        defaults: defaults(printer, &shares),
        warnings: super::warnings::warnings(printer),
    }
}

/// What the yarn is for, by which one decides: the only garment, or all of them together. The stage of its figures, and words.
fn wanted(plan: &Plan) -> Option<(String, String)> {
    match plan.garments.as_slice() {
        [] => None,
        [only] => Some((format!("garment.{}", only.name), format!("the {}", only.name))),
        _ => Some(("garments".to_owned(), "all of them".to_owned())),
    }
}

pub(super) fn fact(label: &str, value: String, other: Option<String>) -> Fact {
    Fact { label: label.to_owned(), value, other }
}

fn fibre_facts(printer: &Printer) -> Vec<Fact> {
    let mut facts: Vec<Fact> = Vec::new();
    for fibre in printer.plan.fibres.iter().take(2) {
        let preparation = fibre.preparation.map_or_else(String::new, |preparation| format!(", {preparation}"));
        let label = if fibre.is_blend() { "blend" } else { fibre.content[0].0.name };
        facts.push(fact(label, printer.as_written(&format!("{}{preparation}", fibre.name)), None));
        if fibre.is_blend() {
            facts.push(fact("of", printer.as_written(&fibre.words()), None));
        }
    }
    let (lead, other) = weight(printer);
    for supply in printer.plan.supplies.iter().take(3) {
        let name = format!("{}.weight", supply.place.path);
        let named = printer.as_written(&supply.name);
        let (label, count) = if supply.in_braids {
            ("braids", format!("{} of {named}, ", printer.label(supply.weights.len(), "braids")))
        } else if printer.plan.supplies.len() > 1 {
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
    aimed.into_iter().chain(singles).chain([twisted]).chain(sampled).collect()
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
    let facts: Vec<Fact> = plan.garments.iter().flat_map(|garment| garment_facts(printer, garment)).take(6).collect();
    Panel { title: title.to_owned(), facts }
}

fn garment_facts(printer: &Printer, garment: &Garment) -> Vec<Fact> {
    let craft = match garment.craft {
        Craft::Knit => "knitted",
        Craft::Crochet => "crocheted",
        Craft::Weave => "woven",
    };
    let (lead, other) = yarn_length(printer);
    let length = |label: &str, what: &str| {
        let figure = format!("garment.{}.{what}", garment.name);
        fact(label, printer.with_unit(&figure, lead), Some(printer.with_unit(&figure, other)))
    };
    let mut facts = vec![
        fact("what", printer.as_written(&format!("{}, {craft}", garment.name)), None),
        length("yarn", "yarn"),
        length("to spin", "to-spin"),
    ];
    let gauge = match &garment.need {
        Need::Gauge { gauge, .. } => Some(gauge),
        Need::Swatch { .. } | Need::Length(_) => garment.gauge.as_ref(),
    };
    // Of several garments each has three facts, so that they stay in one column.
    if let Some(gauge) = gauge.filter(|_| printer.plan.garments.len() == 1) {
        facts.push(fact("gauge", printer.as_written(&gauge.text), None));
    }
    facts
}

/// The way of the wool: fibre, bobbins, skeins, yarn.
fn way(printer: &Printer) -> Vec<Stop> {
    let plan = printer.plan;
    let (mass, mass_other) = weight(printer);
    let (length, length_other) = yarn_length(printer);
    let braids: usize = plan.supplies.iter().filter(|supply| supply.in_braids).map(|supply| supply.weights.len()).sum();
    let n_skeins: usize = printer.ledger.deal.sets().map(|(_, set)| set.skeins.clone().count()).sum();
    let n_bobbins: usize = printer.ledger.deal.sets().map(|(_, set)| set.bobbins.len()).sum();
    let has_loose = plan.supplies.iter().any(|supply| !supply.in_braids);
    let first = if braids > 0 && has_loose {
        format!("of {} braids and loose", printer.label(braids, "braids"))
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
    vec![
        stop(
            printer.amount("yarn.fibre", mass, Some(mass_other)),
            first,
            format!("÷ {}", printer.label(n_bobbins, "bobbins")),
        ),
        stop(
            printer.amount("bobbin.1.weight", mass, None),
            format!("{} 1 of {}", words::holder(plan), printer.label(n_bobbins, "bobbins")),
            plied,
        ),
        stop(
            printer.amount("skein.1.length", length, None),
            format!("skein 1 of {}", printer.label(n_skeins, "skeins")),
            format!("{} skeins", printer.label(n_skeins, "skeins")),
        ),
        stop(printer.amount("yarn.length", length, Some(length_other)), "in all".to_owned(), String::new()),
    ]
}

/// A scale of lengths that all lenses share.
struct Scale {
    least: f64,
    most: f64,
}

impl Scale {
    fn at(&self, x: f64) -> f64 {
        (x - self.least) / (self.most - self.least)
    }
}

fn balance(printer: &Printer) -> Balance {
    let have = printer.ledger.get("yarn.length");
    // What one decides by is drawn; of several garments each is told in numbers.
    let wanted = wanted(printer.plan).map(|(stage, _)| stage);
    let needs: Vec<&Line> = wanted.iter().map(|stage| printer.ledger.get(&format!("{stage}.total"))).collect();
    let lows = needs.iter().map(|line| line.bands.low).chain([have.bands.low]);
    let highs = needs.iter().map(|line| line.bands.high).chain([have.bands.high]);
    let (low, high) = (lows.fold(f64::INFINITY, f64::min), highs.fold(0.0, f64::max));
    // What is left over is drawn in the same steps, and is wider than either; the numbers at its tips need room too.
    let left = wanted.map(|stage| printer.ledger.get(&format!("{stage}.left-over")));
    let widest = left.map_or(0.0, |line| line.bands.high - line.bands.low);
    let span = (1.16 * (high - low)).max(1.4 * widest).max(0.04 * high);
    let middle = f64::midpoint(low, high);
    let scale = Scale { least: (middle - span / 2.0).max(0.0), most: middle + span / 2.0 };
    let mut garments: Vec<GarmentBalance> =
        printer.plan.garments.iter().take(5).map(|garment| garment_balance(printer, garment, &scale)).collect();
    if printer.plan.garments.len() > 1 {
        garments.insert(0, all_balance(printer, &scale));
    }
    Balance { ticks: ticks(printer, &scale), have: lens(printer, "yarn.length", &scale), garments }
}

/// Round lengths along the scale, labelled in both systems; four to eight of them.
fn ticks(printer: &Printer, scale: &Scale) -> Vec<Tick> {
    let (lead, other) = printer.both("m", "yd");
    let (lead, other) = (length_unit(lead), length_unit(other));
    let (least, most) = (lead.from_base(scale.least), lead.from_base(scale.most));
    let step = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0, 10_000.0]
        .into_iter()
        .find(|step| (most - least) / step <= 6.0)
        .unwrap_or(100_000.0);
    let first = (least / step).ceil() as i64;
    let last = (most / step).floor() as i64;
    (first..=last)
        .map(|i| {
            let x = i as f64 * step;
            let other_text = Round::Places(0).text(other.from_base(lead.to_base(x)));
            Tick {
                at: scale.at(lead.to_base(x)),
                label: joined(&printer.graduation(Round::Places(0).text(x)), lead.symbol),
                other: Some(joined(&printer.graduation(other_text), other.symbol)),
            }
        })
        .collect()
}

fn length_unit(symbol: &str) -> &'static Unit {
    unit(Kind::Length, symbol).expect("invariant: metres and yards stand in the tables")
}

fn lens(printer: &Printer, name: &str, scale: &Scale) -> Lens {
    let (lead, _) = yarn_length(printer);
    let line = printer.ledger.get(name);
    let likely = line.value;
    Lens {
        low: printer.low(name, lead),
        likely: printer.value(name, lead),
        high: printer.high(name, lead),
        unit: lead.0.to_owned(),
        low_at: scale.at(line.bands.low),
        likely_at: scale.at(likely),
        high_at: scale.at(line.bands.high),
    }
}

fn garment_balance(printer: &Printer, garment: &Garment, scale: &Scale) -> GarmentBalance {
    let name = printer.as_written(&garment.name);
    let place = format!("garment.{}", garment.name);
    one_balance(printer, &place, name, buy(printer, &place), scale)
}

/// All garments of the plan from the one yarn.
fn all_balance(printer: &Printer, scale: &Scale) -> GarmentBalance {
    one_balance(printer, "garments", "all together".to_owned(), buy(printer, "garments"), scale)
}

/// The balance whose figures stand below `place` in the ledger.
fn one_balance(printer: &Printer, place: &str, name: String, buy: Option<String>, scale: &Scale) -> GarmentBalance {
    let chance = format!("{place}.chance-short");
    GarmentBalance {
        name,
        need: lens(printer, &format!("{place}.total"), scale),
        left_over: left_over(printer, &format!("{place}.left-over"), scale),
        short: chance_text(printer, &chance),
        short_of_100: (printer.ledger.get(&chance).value * 100.0).round() as u8,
        buy,
    }
}

/// What is left, on a scale of the same steps with its own zero, moved so that all of it lies on the drawing.
fn left_over(printer: &Printer, name: &str, scale: &Scale) -> LeftOver {
    let (lead, _) = yarn_length(printer);
    let line = printer.ledger.get(name);
    let span = scale.most - scale.least;
    let middle = f64::midpoint(line.bands.low, line.bands.high);
    let own = Scale { least: middle - span / 2.0, most: middle + span / 2.0 };
    let signed =
        |text: String| text.strip_prefix('\u{2212}').map_or_else(|| text.clone(), |short| format!("{short} short"));
    let likely = line.value;
    let likely_text = printer.value(name, lead);
    // What is short carries its unit before the word.
    let (told, unit) = match likely_text.strip_prefix('\u{2212}') {
        Some(short) => (format!("{short}\u{a0}{} short", lead.0), String::new()),
        None => (likely_text, lead.0.to_owned()),
    };
    LeftOver {
        lens: Lens {
            low: signed(printer.low(name, lead)),
            likely: told,
            high: signed(printer.high(name, lead)),
            unit,
            low_at: own.at(line.bands.low),
            likely_at: own.at(likely),
            high_at: own.at(line.bands.high),
        },
        nothing_at: own.at(0.0),
    }
}

/// A chance as a count of tries in a hundred.
fn chance_text(printer: &Printer, name: &str) -> String {
    let chance = printer.ledger.get(name).value;
    printer.tries(chance, Of::Value(name.to_owned()))
}

/// What would have to be bought for the wished certainty; figures stand below `place` in the ledger.
fn buy(printer: &Printer, place: &str) -> Option<String> {
    let parts: Vec<String> = printer
        .plan
        .supplies
        .iter()
        .filter_map(|supply| {
            let name = format!("{place}.to-buy.{}", supply.name);
            let n = printer.ledger.get(&name).value as usize;
            (n > 0).then(|| {
                let n = printer.value(&name, In("", Round::Places(0)));
                format!("{n} more {}{}", lot(printer, supply), printer.as_written(&supply.name))
            })
        })
        .collect();
    (!parts.is_empty()).then(|| parts.join(", "))
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
            place == "assumed.knitter"
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

/// Whether running short is worth a word: one try in two hundred and more.
fn may_run_short(printer: &Printer) -> bool {
    wanted(printer.plan).is_some_and(|(stage, _)| printer.ledger.get(&format!("{stage}.chance-short")).value >= 0.005)
}

fn measure_next(printer: &Printer, doubted: &str, shares: &[(String, f64)]) -> Vec<Measure> {
    let may_run_short = may_run_short(printer);
    let mut asked: Vec<(f64, Measure)> = QUESTIONS
        .iter()
        .filter_map(|question| {
            let settled: Vec<&(String, f64)> = shares.iter().filter(|(place, _)| (question.settles)(place)).collect();
            let share: f64 = settled.iter().map(|(_, share)| share).sum();
            if share < 0.02 {
                return None;
            }
            let known: BTreeSet<String> = settled.iter().map(|(place, _)| place.clone()).collect();
            let then_short = may_run_short.then(|| {
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

/// One more braid of what gives out first.
fn choices(printer: &Printer) -> Vec<Choice> {
    let Some((stage, noun)) = wanted(printer.plan) else { return Vec::new() };
    if !may_run_short(printer) {
        return Vec::new();
    }
    let supply = &printer.plan.supplies[printer.ledger.deal.scarcest];
    let price = supply.price.as_ref().map(|price| printer.as_written(price));
    vec![Choice {
        short: chance_text(printer, &format!("{stage}.chance-short-with-one-more")),
        what: format!("one more {}{}", lot(printer, supply), printer.as_written(&supply.name)),
        note: Some(price.unwrap_or_else(|| format!("for {noun}"))),
    }]
}

/// "of " before the name of a braid; loose fibre is bought again by the lot that there is.
fn lot(printer: &Printer, supply: &Supply) -> String {
    if supply.in_braids {
        return "of ".to_owned();
    }
    let (lead, _) = weight(printer);
    format!("lot of {} ", printer.with_unit(&format!("{}.weight", supply.place.path), lead))
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
            let value = if place == "assumed.loft" { "as yarns are" } else { &source.text };
            Some(DefaultThatMatters {
                name: printer.as_written(&source.words),
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
        "assumed.miss" => "what the log will tell",
        "assumed.swatches" => "braid.NAME.for-sampling",
        _ => "the formula’s own",
    }
}

impl Printer<'_> {
    /// A chance as a count of tries in a hundred.
    fn tries(&self, chance: f64, of: Of) -> String {
        let text = if chance > 0.0 && chance < 0.005 {
            "under 1".to_owned()
        } else {
            crate::units::format::decimals(chance * 100.0, 0)
        };
        let percent = unit(Kind::Share, "%").expect("invariant: the tables have per cent");
        self.record(text, percent, of)
    }
}
