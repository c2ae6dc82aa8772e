//! Measures of a shape that no garment can have together.

use super::Maker;
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::figures::expression::Figure;
use crate::plan::Shaped;
use crate::plan::shape::{Measure as M, Shape};
use crate::units::format::{decimals, with_unit};
use crate::units::{Kind, Length, System, unit};

impl Maker<'_> {
    /// What is impossible of the measures, each with the numbers that are wrong and what would do.
    pub(super) fn impossible(&mut self, shaped: &Shaped, measures: &[M]) -> Vec<Diagnostic> {
        let mut nothing = Vec::new();
        for measure in measures {
            if self.needed(shaped, *measure).value() <= 0.0 {
                nothing.push(self.nothing_left(shaped, *measure));
                // What follows from a chest that is none is no second fault.
                if *measure == M::Chest {
                    return nothing;
                }
            }
        }
        if !nothing.is_empty() {
            return nothing;
        }
        let rules = rules(shaped.shape);
        rules.into_iter().filter_map(|rule| self.broken(shaped, &rule)).collect()
    }

    fn shown(&self, metres: f64) -> String {
        let symbol = if self.plan.units == System::Inch { "in" } else { "cm" };
        let unit = unit(Kind::Length, symbol).expect("invariant: inches and centimetres stand in the tables");
        with_unit(&decimals(unit.from_base(metres), 1), unit)
    }

    /// Where a measure is said, or else where the ease or the body stands from which it follows.
    fn place(&self, shaped: &Shaped, measure: M) -> Place {
        let at = |key: &str| self.garment.place.key(key);
        match shaped.said(measure) {
            Some(said) => said.place.clone(),
            None if measure == M::Chest && shaped.ease.as_ref().is_some_and(|ease| ease.value < 0.0) => at("ease"),
            None if shaped.of_body(crate::plan::body::BodyMeasure::Chest).is_some() => at("body"),
            None => at("shape"),
        }
    }

    fn nothing_left(&mut self, shaped: &Shaped, measure: M) -> Diagnostic {
        let found = self.needed(shaped, measure).value();
        let message = format!("expected the {} to be above nothing, found {}", measure.words(), self.shown(found));
        let fault = Diagnostic::new(Code::Impossible, message, self.place(shaped, measure)).label("leads to it");
        fault.help(format!("say it under `measures`: `{} = \"...\"`; or change the ease or the length", measure.key()))
    }

    /// A rule that does not hold.
    fn broken(&mut self, shaped: &Shaped, rule: &Rule) -> Option<Diagnostic> {
        let small = self.so_many(shaped, rule.small)?;
        let great = self.so_many(shaped, rule.great)?;
        if small.value() < great.value() || (rule.may_be_equal && small.value() <= great.value()) {
            return None;
        }
        let (small, great) = (self.shown(small.value()), self.shown(great.value()));
        let message = format!("expected {} {small} to be less than {} {great}", rule.small_words, rule.great_words);
        let fault = Diagnostic::new(Code::Impossible, message, self.place(shaped, rule.small.1));
        let fault =
            fault.label(format!("{small} here")).also(self.place(shaped, rule.great.1), format!("{great} here"));
        Some(fault.help(format!(
            "make `{}` smaller or `{}` greater, under `measures`",
            rule.small.1.key(),
            rule.great.1.key()
        )))
    }

    fn so_many(&mut self, shaped: &Shaped, (times, measure): (f64, M)) -> Option<Figure<Length>> {
        let figure = self.measure(shaped, measure)?;
        Some(if times == 1.0 { figure } else { figure * Figure::<crate::units::Share>::constant("times", times) })
    }
}

/// So many times one measure must be less than so many times another.
struct Rule {
    small: (f64, M),
    small_words: &'static str,
    great: (f64, M),
    great_words: &'static str,
    may_be_equal: bool,
}

fn rules(shape: Shape) -> Vec<Rule> {
    let rule =
        |small, small_words, great, great_words| Rule { small, small_words, great, great_words, may_be_equal: false };
    let or_equal =
        |small, small_words, great, great_words| Rule { small, small_words, great, great_words, may_be_equal: true };
    let hem = rule((1.0, M::Hem), "a hem of", (1.0, M::Length), "a length of");
    let cuff = rule((1.0, M::CuffDepth), "a cuff band of", (1.0, M::Sleeve), "a sleeve of");
    let armhole = rule((1.0, M::Armhole), "an armhole of", (1.0, M::Length), "a length of");
    let neck_depth = rule((1.0, M::NeckDepth), "a neck depth of", (1.0, M::Length), "a length of");
    match shape {
        Shape::DropPullover | Shape::DropCardigan => vec![
            rule((1.0, M::NeckWidth), "a neck", (0.5, M::Chest), "the shoulders of"),
            or_equal((1.0, M::Cuff), "a cuff of", (2.0, M::Armhole), "the sleeve at the armhole of"),
            armhole,
            neck_depth,
            hem,
            cuff,
            rule((2.0, M::Band), "two bands of", (0.5, M::Chest), "a front of"),
        ],
        Shape::SetInPullover | Shape::SetInCardigan => vec![
            rule((1.0, M::NeckWidth), "a neck", (1.0, M::CrossBack), "the shoulders of"),
            or_equal((1.0, M::CrossBack), "a back between the armholes of", (0.5, M::Chest), "half of the chest,"),
            or_equal((1.0, M::Cuff), "a cuff of", (1.0, M::UpperArm), "the upper arm of"),
            or_equal((1.0, M::Cap), "a cap of", (1.0, M::Armhole), "an armhole of"),
            armhole,
            neck_depth,
            hem,
            cuff,
            rule((2.0, M::Band), "two bands of", (1.0, M::CrossBack), "a front of"),
        ],
        Shape::Raglan | Shape::RoundYoke => vec![
            or_equal((1.0, M::Cuff), "a cuff of", (1.0, M::UpperArm), "the upper arm of"),
            rule((2.0, M::Underarm), "two underarms of", (1.0, M::UpperArm), "an upper arm of"),
            rule((1.0, M::Neck), "a neck of", (1.0, M::Chest), "the chest of"),
            armhole,
            rule((1.0, M::Hem), "a hem of", (1.0, M::ToUnderarm), "a body of"),
            cuff,
        ],
        Shape::Mittens => vec![
            rule((1.0, M::Tip), "a tip of", (1.0, M::Hand), "a hand of"),
            rule((1.0, M::ThumbAround), "a thumb of", (1.0, M::Around), "a mitten of"),
        ],
        Shape::Crescent => vec![or_equal((1.0, M::Depth), "a depth of", (0.5, M::Span), "half of the span,")],
        Shape::Blanket => vec![
            rule((2.0, M::Border), "two borders of", (1.0, M::Width), "a width of"),
            rule((2.0, M::Border), "two borders of", (1.0, M::Length), "a length of"),
        ],
        Shape::Hat | Shape::Socks | Shape::Triangle | Shape::Scarf => Vec::new(),
    }
}
