//! The workings as they stand on the paper: the text of the typeset pages is read, and each line worked out again by the parser
//! of [`super::workings`], which shares nothing with the code that wrote it.

use wheelsheet::document::text::{Run, runs};
use wheelsheet::document::{self, Sheet, Templates, Which};
use wheelsheet::figures::expression::text::Line;

use super::golden::projects;
use super::workings::is_true;

/// What stands behind one equals sign, up to the next one or to whatever stands left of it.
fn behind_equals(runs: &[Run]) -> Vec<Vec<String>> {
    let mut chains: Vec<Vec<String>> = Vec::new();
    let mut equals: Option<&Run> = None;
    for run in runs {
        if run.text == "=" {
            let goes_on = equals.is_some_and(|before| before.page == run.page && (before.x - run.x).abs() <= 1);
            if !goes_on {
                chains.push(Vec::new());
            }
            chains.last_mut().expect("begun above").push(String::new());
            equals = Some(run);
        } else if let Some(sign) = equals {
            if run.page == sign.page && run.x > sign.x {
                let line = chains.last_mut().and_then(|chain| chain.last_mut()).expect("an equals sign went before");
                line.push_str(&run.text);
                line.push(' ');
            } else {
                equals = None;
            }
        }
    }
    chains
}

/// The number at the start of a printed result, thousands put together again.
fn result(text: &str) -> String {
    let number: String =
        text.trim_start().chars().take_while(|c| c.is_ascii_digit() || ".\u{2009}\u{2212}".contains(*c)).collect();
    number.replace('\u{2009}', "").replace('\u{2212}', "-")
}

/// A printed line put together from its runs: breaks between them are no part of it.
fn joined(text: &str) -> String {
    text.replace('\u{a0}', " ").split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn every_line_on_the_paper_is_true() {
    for (name, _, worked) in projects() {
        let sheets = wheelsheet::sheets(&worked);
        let document = document::document(&sheets, Which::One(Sheet::Workings), &Templates::Shipped).expect("typeset");
        let mut n_lines = 0;
        for chain in behind_equals(&runs(&document)).iter().filter(|chain| chain.len() == 3) {
            let numbers = joined(&chain[1]);
            // Of the units only the sign for degrees is part of the arithmetic.
            let is_angle = chain[2].split_whitespace().nth(1).is_some_and(|unit| unit.starts_with('°'));
            let unit = if is_angle { "°".to_owned() } else { String::new() };
            let line = Line { words: joined(&chain[0]), numbers: numbers.clone(), result: result(&chain[2]), unit };
            is_true(&line, 4).unwrap_or_else(|wrong| panic!("{name}: {numbers} = {}: {wrong}", chain[2]));
            n_lines += 1;
        }
        let formulas = sheets
            .workings
            .groups
            .iter()
            .flat_map(|group| &group.workings)
            .filter(|working| working.formula.is_some())
            .count();
        assert_eq!(n_lines, formulas, "{name}: every formula of the sheet is found on the paper");
        assert!(n_lines > 50, "{name}");
    }
}
