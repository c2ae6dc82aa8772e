//! No number on a sheet without origin: every digit on every page is one of a figure of the ledger, of an entry of plan or log,
//! or of a short list of labels; and every number printed is the right one, correctly rounded.

use std::collections::BTreeSet;

use wheelsheet::Worked;
use wheelsheet::document::{self, Sheet, Templates, Which};
use wheelsheet::sheets::Sheets;
use wheelsheet::sheets::fill::print::{Of, Printed};
use wheelsheet::units::{Kind, unit};

use super::golden::projects;
use super::machines::machines;

/// Digits that templates and fixed words bring along: none of them is worked out.
const LABELS: [&str; 24] = [
    "tail 1 m (1 yd)",
    "tail 1 yd (1 m)",
    "tail 15 cm (6 in)",
    "tail 6 in (15 cm)",
    "10 cm (4 in)",
    "4 in (10 cm)",
    "10 cm",
    "4 in",
    "3 cm",
    "1 in",
    "× 100 = grist",
    "× 16 = grist",
    "+ 1 treadle",
    "− 1 treadle",
    "ply-back, 2",
    "ply-back, 3",
    "10 wraps",
    "15 cm (6 in) square; an evening",
    "first 10 m",
    "first 10 yd",
    "¼ bobbin ½ ¾",
    "30 minutes",
    "in 100",
    "100 mm 100 % 8 tries in 10",
];

/// Maximal runs of digits with the signs that belong to a number.
fn numbers(text: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut number = String::new();
    let chars: Vec<char> = text.chars().collect();
    for (i, &c) in chars.iter().enumerate() {
        let next_is_digit = chars.get(i + 1).is_some_and(char::is_ascii_digit);
        let inside = !number.is_empty() && (c == '.' || c == '\u{2009}') && next_is_digit;
        if c.is_ascii_digit() || "½¼¾".contains(c) || inside {
            number.push(c);
        } else if !number.is_empty() {
            found.push(std::mem::take(&mut number));
        }
    }
    if !number.is_empty() {
        found.push(number);
    }
    found
}

/// The shipped projects, and a plan for each machine that none of them has.
fn plans() -> impl Iterator<Item = (String, Worked)> {
    projects().into_iter().map(|(name, _, worked)| (name, worked)).chain(machines())
}

/// Every number that may stand on a page.
fn allowed(worked: &Worked, sheets: &Sheets) -> BTreeSet<String> {
    let mut allowed: BTreeSet<String> = LABELS.iter().flat_map(|label| numbers(label)).collect();
    allowed.extend(sheets.printed.iter().flat_map(|printed| numbers(&printed.text)));
    allowed.extend(numbers(&worked.plan.title));
    // Figures are named on the workings, with the numbers of bobbins and sets in their names; sources with years and pages.
    for line in worked.ledger.lines() {
        allowed.extend([&line.name, &line.words, &line.source].iter().flat_map(|text| numbers(text)));
    }
    allowed
}

/// Digits of page numbers and fingerprints, which the footer brings.
fn is_furniture(run: &str, page: &wheelsheet::sheets::marks::Page) -> bool {
    let fingerprints = [Some(&page.fingerprint_plan), page.fingerprint_log.as_ref()];
    fingerprints.into_iter().flatten().any(|print| run.contains(print.as_str())) || run.starts_with("page ")
}

#[test]
fn every_digit_on_every_page_has_an_origin() {
    for (name, worked) in plans() {
        let sheets = wheelsheet::sheets(&worked);
        let allowed = allowed(&worked, &sheets);
        let workings: BTreeSet<String> = sheets
            .workings
            .groups
            .iter()
            .flat_map(|group| &group.workings)
            .map(|working| working.number.clone())
            .collect();
        let mut strays = BTreeSet::new();
        for sheet in sheets.present() {
            let document = document::document(&sheets, Which::One(sheet), &Templates::Shipped).expect("typeset");
            let last = document.pages().len();
            for run in document::text::runs(&document) {
                if is_furniture(&run.text, &sheets.page) {
                    continue;
                }
                let is_page_number = |number: &str| number.parse::<usize>().is_ok_and(|number| number <= last);
                for number in numbers(&run.text) {
                    let known = allowed.contains(&number)
                        || (run.size <= 80 && is_page_number(&number))
                        || (sheet == Sheet::Workings && workings.contains(&number));
                    if !known {
                        strays.insert(format!("{}: {number} in \"{}\"", sheet.name(), run.text));
                    }
                }
            }
        }
        assert_eq!(strays, BTreeSet::new(), "{name}");
    }
}

/// The number that a printed text says, and half a unit of its last place.
fn read(text: &str) -> (f64, f64) {
    let plain: String = text.chars().filter(|c| *c != '\u{2009}').collect::<String>().replace('\u{2212}', "-");
    let (body, part) = ['½', '¼', '¾']
        .iter()
        .zip([0.5, 0.25, 0.75])
        .find_map(|(sign, part)| plain.strip_suffix(*sign).map(|body| (body.to_owned(), part)))
        .unwrap_or((plain.clone(), 0.0));
    let whole =
        if body.is_empty() { 0.0 } else { body.parse::<f64>().unwrap_or_else(|_| panic!("\"{text}\" is no number")) };
    let places = body.split_once('.').map_or(0, |(_, places)| places.len());
    // Numbers of four and more digits are printed to three or four of them; smaller ones to their last place.
    let rough = if places == 0 && whole >= 1000.0 {
        10f64.powi(whole.log10() as i32 - 2)
    } else {
        10f64.powi(-(places as i32))
    };
    (whole + part, 0.5 * rough)
}

/// Whether a number is that of its figure, rounded no further than its last place or than its tool reads.
fn is_right(printed: &Printed, worked: &Worked) -> Result<(), String> {
    let ledger = printed.alternative.map_or(&worked.ledger, |index| &worked.alternatives[index].ledger);
    let (name, values): (&str, Vec<f64>) = match &printed.of {
        Of::Value(name) => {
            let line = ledger.get(name);
            (name, vec![line.value, line.bands.median])
        }
        Of::Low(name) => (name, vec![ledger.get(name).bands.low]),
        Of::High(name) => (name, vec![ledger.get(name).bands.high]),
        Of::Entry(place, value) => (place, vec![*value]),
        Of::Label(_) => return Ok(()),
    };
    if printed.text == "under 1" {
        return if values[0] > 0.0 && values[0] < 0.005 { Ok(()) } else { Err(format!("{name} is {}", values[0])) };
    }
    let (said, half) = read(&printed.text);
    let unit = Kind::ALL
        .into_iter()
        .filter(|kind| {
            ledger.find(name).is_none_or(|line| line.kind == *kind || printed.unit.is_empty() || printed.unit == "%")
        })
        .find_map(|kind| unit(kind, printed.unit))
        .ok_or_else(|| format!("{} is no unit", printed.unit))?;
    let near = |value: &f64| {
        let exact = unit.from_base(*value);
        // Vulgar fractions are read to a half or a quarter, and grist in yards to ten.
        let tool = if "½¼¾".contains(printed.text.chars().last().unwrap_or(' ')) { 0.25 } else { 0.0 };
        let tool = if printed.unit == "yd/lb" { 5.0 } else { tool };
        // What hands bring is told to the nearest twentieth.
        let tool = if printed.sheet == "colour sheet" && printed.unit == "%" { 2.5 } else { tool };
        // The bath in the other system's degrees of Fahrenheit is told to five.
        let tool = if printed.unit == "°F" { 2.5 } else { tool };
        // A sample takes at least so much: rounded up.
        if ["sampling.fibre", "sampling.skein", "sampling.length"].contains(&name) && printed.sheet != "workings" {
            return (0.0..2.0 * half).contains(&(said - exact + 1e-9));
        }
        (said - exact).abs() <= half.max(tool) * (1.0 + 1e-9)
    };
    if values.iter().any(near) {
        Ok(())
    } else {
        Err(format!(
            "{name} is {:?} {}, printed as {}",
            values.iter().map(|v| unit.from_base(*v)).collect::<Vec<_>>(),
            printed.unit,
            printed.text
        ))
    }
}

#[test]
fn every_number_printed_is_its_figure_rounded() {
    for (name, worked) in plans() {
        let sheets = wheelsheet::sheets(&worked);
        let wrong: Vec<String> = sheets
            .printed
            .iter()
            .filter_map(|printed| is_right(printed, &worked).err().map(|why| format!("{}: {why}", printed.sheet)))
            .collect();
        assert_eq!(wrong, Vec::<String>::new(), "{name}");
        let figures = sheets.printed.iter().filter(|printed| !matches!(printed.of, Of::Label(_))).count();
        assert!(figures > 200, "{name} prints only {figures} figures");
    }
}

#[test]
fn a_wrong_number_would_be_seen() {
    let (_, _, worked) = projects().remove(0);
    let printed = |text: &str| Printed {
        text: text.to_owned(),
        unit: "g",
        of: Of::Value("yarn.fibre".to_owned()),
        sheet: "overview",
        alternative: None,
    };
    let line = worked.ledger.get("yarn.fibre").value;
    assert!(is_right(&printed(&format!("{line:.0}")), &worked).is_ok());
    assert!(is_right(&printed(&format!("{:.0}", line * 1.02)), &worked).is_err());
}
