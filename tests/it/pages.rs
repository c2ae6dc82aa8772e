//! Typeset pages and their files, whatever a plan says: inside the paper, letter for letter, and the same bytes every time.

use rayon::prelude::*;
use wheelsheet::document::text::{lines, runs};
use wheelsheet::document::{self, Sheet, Templates, Which};
use wheelsheet::sheets::Sheets;
use wheelsheet::{Worked, print, work_out};

use super::golden::projects;
use super::reference::ledgers::of_texts;

/// No home printer reaches the outermost few millimetres; common practice, no source. In tenths of a millimetre.
const UNPRINTABLE: i64 = 50;

const SMALLEST: &str = "[plan]\ntitle = \"First yarn\"\n[fibre.corriedale]\nkind = \"wool\"\nweight = \"200 g\"\n\
    [wheel]\nwhorls = { slow = \"6:1\", fast = \"8.5:1\" }\n[yarn]\nplies = 2\nwraps = \"10 wpi\"\n";

fn worked(plan: &str) -> Worked {
    let outcome = work_out(&of_texts(plan, ""));
    let told: Vec<&str> = outcome.diagnostics.iter().map(|fault| fault.message.as_str()).collect();
    outcome.worked.unwrap_or_else(|| panic!("{plan}: {told:#?}"))
}

/// The smallest plan under another title.
fn titled(title: &str) -> Worked {
    worked(&SMALLEST.replace("First yarn", &title.replace('\\', "\\\\").replace('"', "\\\"")))
}

/// A plan that uses every name and text to its full length; `rest` follows the first letter of each name.
fn long_winded(rest: &str) -> String {
    let name = |c: char| format!("\"{c}{rest}\"");
    let text = "Mmmm mmmmmm ".repeat(10);
    let (north, south, dark, fast) = (name('n'), name('s'), name('d'), name('f'));
    format!(
        "[plan]\ntitle = \"{}\"\n[fibre.{north}]\nkind = \"wool\"\n[colours]\n{dark} = \"\"\n\
         [braid.{south}]\nfibre = {north}\ncount = 14\nweight = \"100 g\"\nlength = \"2 m\"\nsections = [[{dark}, \"2 m\"]]\n\
         dye-lot = \"{}\"\nprice = \"19 EUR\"\n[wheel]\nwhorls = {{ {fast} = \"8:1\", slow = \"5:1\" }}\nbrake = \"{}\"\n\
         [yarn]\nplies = 2\nwraps = \"10 wpi\"\n[garment.{dark}]\ncraft = \"knit\"\nlength = \"1100 m\"\n\
         [garment.{fast}]\ncraft = \"knit\"\nlength = \"400 m\"\n",
        text.trim(),
        text.trim(),
        text.trim()
    )
}

/// Every sheet of some work, with its runs and the size of its pages in tenths of a millimetre.
fn outside(name: &str, sheets: &Sheets) -> Vec<String> {
    let mut faults = Vec::new();
    for sheet in sheets.present() {
        let document = document::document(sheets, Which::One(sheet), &Templates::Shipped).expect("typeset");
        for run in runs(&document) {
            let size = document.pages()[run.page].frame.size();
            let (width, height) = ((size.x.to_mm() * 10.0) as i64, (size.y.to_mm() * 10.0) as i64);
            let is_inside = run.x >= UNPRINTABLE
                && run.x + run.width <= width - UNPRINTABLE
                && run.y >= UNPRINTABLE
                && run.y <= height - UNPRINTABLE;
            if !is_inside {
                faults.push(format!("{name}, {} page {}: {run:?}", sheet.name(), run.page + 1));
            }
        }
    }
    faults
}

/// Every project and random plans are looked at in `layout`.
#[test]
fn names_of_any_length_stay_on_the_paper() {
    let mut faults = Vec::new();
    for rest in ["mmmmmmmmmm Mmmmmmmmmm mmmmmmmmm mmmmmmm", &"m".repeat(39)] {
        faults.extend(outside(rest, &wheelsheet::sheets(&worked(&long_winded(rest)))));
    }
    assert_eq!(faults, Vec::<String>::new());
}

#[test]
fn words_of_a_plan_are_printed_letter_for_letter() {
    let titles = [
        "*x* _y_ $z^2$",
        "#panic() #eval(\"1\")",
        "= a <b> @c `d`",
        "// no /* comment */",
        "a \\ b \\u{41} --- ... ~",
        "#read(\"/lib.typ\")",
        "'q' \"r\" https://s.example",
    ];
    for title in titles {
        let sheets = wheelsheet::sheets(&titled(title));
        let document = document::document(&sheets, Which::One(Sheet::WheelCard), &Templates::Shipped).expect("typeset");
        let text: String = lines(&document).concat().join(" ");
        assert!(text.contains(title), "{title} is not in {text}");
    }
}

#[test]
fn what_the_check_lets_through_can_be_printed() {
    let mut work = titled("x");
    let mut letters = Vec::new();
    for c in (' '..'\u{e0080}').filter(|c| !c.is_control()) {
        work.plan.title = c.to_string();
        // The mark of byte order is in the font; `syntax` refuses it as a character that cannot be seen.
        if c != '\u{feff}' && document::unprintable(&work.plan).is_empty() {
            letters.push(c);
        }
    }
    assert!(work_out(&of_texts(&SMALLEST.replace("First", "\u{feff}"), "")).has_errors());
    assert!(letters.len() > 500 && letters.contains(&'ж') && letters.contains(&'λ') && letters.contains(&'é'));
    assert!(!letters.contains(&'\u{1680}') && !letters.contains(&'漢'));
    let faults: Vec<String> = letters
        .par_chunks(40)
        .filter_map(|some| {
            let title: String = some.iter().collect();
            let work = Worked { plan: wheelsheet::plan::Plan { title, ..work.plan.clone() }, ..work.clone() };
            let sheets = wheelsheet::sheets(&work);
            print(&sheets, Which::One(Sheet::WheelCard), &Templates::Shipped, "x").err().map(|fault| fault.to_string())
        })
        .collect();
    assert_eq!(faults, Vec::<String>::new());
}

#[test]
fn the_same_sheets_give_the_same_bytes_whatever_was_made_before_and_beside_them() {
    let sheets: Vec<Sheets> = projects().iter().map(|(_, _, worked)| wheelsheet::sheets(worked)).collect();
    let bytes = |sheets: &Sheets| print(sheets, Which::One(Sheet::Workings), &Templates::Shipped, "a").expect("a file");
    let in_a_row: Vec<Vec<u8>> = sheets.iter().map(bytes).collect();
    comemo::evict(0);
    let beside: Vec<Vec<u8>> = sheets.par_iter().map(bytes).collect();
    let backwards: Vec<Vec<u8>> = sheets.iter().rev().map(bytes).collect();
    assert!(in_a_row == beside, "in parallel");
    assert!(in_a_row.iter().eq(backwards.iter().rev()), "in another order");
    assert!(in_a_row[0] != in_a_row[1], "different plans give different sheets");
}

#[test]
fn a_log_leaves_the_print_of_the_plan_as_it_was() {
    let log = "[[sample]]\nname = \"one\"\ndate = 2026-03-01\nsingles = { wraps = \"20 wpi\" }\n";
    let plan = |log: &str| {
        let outcome = work_out(&of_texts(SMALLEST, log));
        outcome.worked.unwrap_or_else(|| panic!("{:#?}", outcome.diagnostics)).plan
    };
    let (without, with, other) = (plan(""), plan(log), plan(&log.replace("20 wpi", "21 wpi")));
    assert_eq!(without.fingerprints().1, None);
    assert_eq!(without.fingerprints().0, with.fingerprints().0);
    assert_eq!(with.fingerprints().0, other.fingerprints().0);
    assert_ne!(with.fingerprints().1, other.fingerprints().1);
    assert_ne!(titled("Second yarn").plan.fingerprints().0, without.fingerprints().0);
}
