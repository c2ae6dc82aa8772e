//! What holds of the layout of every page, whatever a plan says: all is inside the paper, nothing lies on anything else, and no
//! page ends or begins in the middle of what belongs together.
//!
//! Each rule is a function over pages. The last test typesets a bad sheet for each of them, on which it must speak.

use std::collections::{BTreeMap, BTreeSet};

use wheelsheet::document::drawn::{Bounds, Drawn};
use wheelsheet::document::{self, Sheet, Templates, Which};
use wheelsheet::work_out;

use super::plans::{self, Page, TYPESET, pages};
use super::reference::ledgers::of_texts;

/// A millimetre in points.
const MM: f64 = 72.0 / 25.4;
/// Nothing is drawn nearer to the edge of the paper: home printers leave a few millimetres blank, and a hand holds a sheet there.
const EDGE: f64 = 10.0 * MM;
/// What rounding and the roundness of letters may add, in points.
const SLACK: f64 = 0.4;
/// The thinnest line is this wide, in points: a line that is in a letter by as much crosses it.
const HAIR: f64 = 0.35;
/// A page that goes on with a sheet holds more than one line: what stands on it is higher than this, in points.
const ONE_LINE: f64 = 9.0 * MM;

/// So many faults are shown at the most.
const SHOWN: usize = 40;

/// A rule: what is wrong on the pages of a sheet.
type Rule = fn(&[Page]) -> Vec<String>;

/// Text with its place, to be found on the paper.
fn told(item: &Drawn) -> String {
    let Bounds { left, top, .. } = item.bounds;
    let what = item.text().map_or("a shape".to_owned(), |text| format!("\"{text}\""));
    format!("page {}, {:.0} mm from the left and {:.0} mm from the top: {what}", item.page + 1, left / MM, top / MM)
}

/// What is seen of it, where anything is.
fn seen(item: &Drawn) -> Option<Bounds> {
    let Some(window) = item.window else { return Some(item.bounds) };
    (item.bounds.overlap(&window) > 0.0).then(|| Bounds {
        left: item.bounds.left.max(window.left),
        top: item.bounds.top.max(window.top),
        right: item.bounds.right.min(window.right),
        bottom: item.bounds.bottom.min(window.bottom),
    })
}

/// Whether it is of the page itself, such as its foot, and not of what the sheet says.
fn is_of_the_page(item: &Drawn) -> bool {
    item.within.iter().any(|element| element.name == "artifact")
}

fn texts(page: &Page) -> Vec<&Drawn> {
    page.drawn.iter().filter(|item| item.text().is_some()).collect()
}

fn inside_the_paper(pages: &[Page]) -> Vec<String> {
    let mut faults = Vec::new();
    for page in pages {
        let (width, height) = page.size;
        let paper = Bounds { left: EDGE, top: EDGE, right: width - EDGE, bottom: height - EDGE };
        let is_out = |item: &&Drawn| seen(item).is_some_and(|bounds| bounds.beyond(&paper) > SLACK / 2.0);
        faults.extend(page.drawn.iter().filter(is_out).map(told));
    }
    faults
}

fn no_text_on_text(pages: &[Page]) -> Vec<String> {
    let mut faults = Vec::new();
    for page in pages {
        let texts = texts(page);
        for (i, one) in texts.iter().enumerate() {
            let on = texts[i + 1..].iter().filter(|other| one.bounds.overlap(&other.bounds) > SLACK);
            faults.extend(on.map(|other| format!("{} lies on {}", told(one), told(other))));
        }
    }
    faults
}

fn no_text_is_cut_off(pages: &[Page]) -> Vec<String> {
    let texts = pages.iter().flat_map(texts);
    let is_cut = |text: &&Drawn| text.window.is_some_and(|window| text.bounds.beyond(&window) > SLACK);
    texts.filter(is_cut).map(told).collect()
}

/// Lines that are covered by a filled shape before the text is set do not count.
fn no_line_crosses_text(pages: &[Page]) -> Vec<String> {
    let mut faults = Vec::new();
    for page in pages {
        let strokes: Vec<(usize, Bounds)> = page
            .drawn
            .iter()
            .enumerate()
            .flat_map(|(i, item)| item.strokes().into_iter().map(move |stroke| (i, stroke)))
            .collect();
        for (at, text) in page.drawn.iter().enumerate().filter(|(_, item)| item.text().is_some()) {
            let crossed = strokes.iter().find(|(i, stroke)| {
                let here = text.bounds;
                let across = (stroke.left.max(here.left) + stroke.right.min(here.right)) / 2.0;
                let down = (stroke.top.max(here.top) + stroke.bottom.min(here.bottom)) / 2.0;
                let over = page.drawn.iter().take(at).skip(i + 1);
                stroke.overlap(&here) > HAIR && !over.into_iter().any(|item| item.tone_at(across, down).is_some())
            });
            faults.extend(crossed.map(|_| told(text)));
        }
    }
    faults
}

/// A row, a picture, a heading or a paragraph stands on one page, unless it is so high that a page could hardly hold it: then it is
/// a column of other things.
fn nothing_is_split(pages: &[Page]) -> Vec<String> {
    // For each element the pages on which it stands, with its upper and lower end there and what stands first.
    let mut places: BTreeMap<usize, BTreeMap<usize, (f64, f64, &Drawn)>> = BTreeMap::new();
    for item in pages.iter().flat_map(|page| &page.drawn).filter(|item| !is_of_the_page(item)) {
        let kept = ["cell", "figure", "heading", "par"];
        for element in item.within.iter().filter(|element| kept.contains(&element.name)) {
            let Bounds { top, bottom, .. } = item.bounds;
            let on_page = places.entry(element.number).or_default().entry(item.page).or_insert((top, bottom, item));
            *on_page = (on_page.0.min(top), on_page.1.max(bottom), on_page.2);
        }
    }
    let is_split = |on: &&BTreeMap<usize, (f64, f64, &Drawn)>| {
        on.len() > 1 && on.values().map(|(top, bottom, _)| bottom - top).sum::<f64>() < pages[0].size.1 / 3.0
    };
    let told = |on: &BTreeMap<usize, (f64, f64, &Drawn)>| {
        let places: Vec<String> = on.values().map(|(_, _, first)| told(first)).collect();
        format!("what begins on {} goes on", places.join(" and "))
    };
    places.values().filter(is_split).map(told).collect()
}

/// What the sheet itself says on a page.
fn body(page: &Page) -> Vec<&Drawn> {
    page.drawn.iter().filter(|item| !is_of_the_page(item)).collect()
}

fn no_page_holds_a_single_line(pages: &[Page]) -> Vec<String> {
    let mut faults = Vec::new();
    for (i, page) in pages.iter().enumerate() {
        let body = body(page);
        let goes_on = page.drawn.iter().any(|item| is_of_the_page(item) && item.text() == Some("continued"));
        let top = body.iter().map(|item| item.bounds.top).fold(f64::INFINITY, f64::min);
        let bottom = body.iter().map(|item| item.bounds.bottom).fold(f64::NEG_INFINITY, f64::max);
        if body.is_empty() || (goes_on && bottom - top < ONE_LINE) {
            let says: Vec<&str> = body.iter().filter_map(|item| item.text()).collect();
            faults.push(format!("page {} holds no more than \"{}\"", i + 1, says.join(" ")));
        }
    }
    faults
}

fn no_heading_stands_at_the_foot(pages: &[Page]) -> Vec<String> {
    let mut faults = Vec::new();
    for page in pages {
        let body = body(page);
        let is_heading = |item: &Drawn| item.within.iter().any(|element| element.name == "heading");
        let (headings, rest): (Vec<&Drawn>, Vec<&Drawn>) = body.into_iter().partition(|item| is_heading(item));
        let ends = |heading: &&Drawn| !rest.iter().any(|item| item.bounds.top > heading.bounds.bottom - SLACK);
        faults.extend(headings.into_iter().filter(ends).map(told));
    }
    faults
}

/// Every sheet that was typeset keeps a rule.
fn assert_kept(rule: Rule) {
    let mut faults = Vec::new();
    for sheet in TYPESET.iter() {
        let found = rule(&sheet.pages);
        faults.extend(found.iter().map(|fault| format!("{}, {}, {fault}", sheet.plan, sheet.sheet.name())));
    }
    let shown = &faults[..faults.len().min(SHOWN)];
    assert!(faults.is_empty(), "{} faults, such as\n{}{}", faults.len(), shown.join("\n"), plans::texts_of(shown));
}

#[test]
fn nothing_is_drawn_near_the_edge_of_the_paper() {
    assert_kept(inside_the_paper);
}

#[test]
fn no_text_lies_on_other_text() {
    assert_kept(no_text_on_text);
}

#[test]
fn no_text_is_clipped() {
    assert_kept(no_text_is_cut_off);
}

#[test]
fn no_line_is_drawn_through_text() {
    assert_kept(no_line_crosses_text);
}

#[test]
fn what_belongs_together_stands_on_one_page() {
    assert_kept(nothing_is_split);
}

#[test]
fn a_page_that_goes_on_holds_more_than_a_line() {
    assert_kept(no_page_holds_a_single_line);
}

#[test]
fn every_heading_has_something_under_it() {
    assert_kept(no_heading_stands_at_the_foot);
}

#[test]
fn every_kind_of_sheet_and_page_was_looked_at() {
    for sheet in Sheet::ALL {
        let papers: BTreeSet<i64> = TYPESET
            .iter()
            .filter(|one| one.sheet == sheet)
            .flat_map(|one| &one.pages)
            .map(|page| page.size.0 as i64)
            .collect();
        assert_eq!(papers.len(), 2, "{} on both papers", sheet.name());
    }
    let most = |of: fn(&plans::Typeset) -> usize| TYPESET.iter().map(of).max();
    assert!(most(|one| one.pages.len()) > Some(10) && TYPESET.iter().any(|one| one.pages.len() == 1));
}

/// A sheet whose body is put in.
const BAD: &str = r#"
#import "../components/index.typ": *
#let key(data) = sheet(data.page, slug: "key", name: "Key", moment: "for reading", part: "all", aside: none, long: true, BODY)
"#;

/// The pages of a sheet with such a body.
pub(crate) fn made(body: &str) -> Vec<Page> {
    let folder = tempfile::tempdir().expect("a folder");
    for (path, text) in document::TEMPLATES {
        let target = folder.path().join(path);
        std::fs::create_dir_all(target.parent().expect("a folder")).expect("a folder");
        let text = if *path == "sheets/key.typ" { BAD.replace("BODY", body) } else { (*text).to_owned() };
        std::fs::write(target, text).expect("a template");
    }
    let plan = "[plan]\ntitle = \"x\"\n[fibre.a]\nkind = \"wool\"\nweight = \"200 g\"\n\
        [wheel]\nwhorls = { a = \"6:1\", b = \"9:1\" }\n[yarn]\nplies = 2\nwraps = \"10 wpi\"\n";
    let sheets = wheelsheet::sheets(&work_out(&of_texts(plan, "")).worked.expect("sound"));
    let templates = Templates::Folder(folder.path().to_owned());
    pages(
        &document::document(&sheets, Which::One(Sheet::Key), &templates)
            .unwrap_or_else(|fault| panic!("{body}: {fault}")),
    )
}

#[test]
fn each_rule_speaks_on_a_bad_sheet_and_no_other_does() {
    let rules: [(&str, Rule); 7] = [
        ("inside", inside_the_paper),
        ("on text", no_text_on_text),
        ("clipped", no_text_is_cut_off),
        ("crossed", no_line_crosses_text),
        ("split", nothing_is_split),
        ("single", no_page_holds_a_single_line),
        ("foot", no_heading_stands_at_the_foot),
    ];
    let cases: [(&str, &str); 13] = [
        ("", "{ section([A]); [a line]; pagebreak(); [a]; parbreak(); [b]; parbreak(); [c] }"),
        ("inside", "{ [a]; place(top + left, dx: -12mm, rect(width: 4mm, height: 4mm)) }"),
        ("inside", "{ [a]; place(bottom + left, dy: 12mm, [b]) }"),
        ("on text", "{ [some words]; place(dx: 1mm, dy: -3mm)[some words] }"),
        ("clipped", "{ box(width: 4mm, height: 8mm, clip: true, box(width: 40mm)[some words]) }"),
        ("crossed", "{ box(height: 4mm)[some words#place(top + left, dy: 1mm, line(length: 20mm))] }"),
        (
            "crossed",
            "{ box(height: 4mm)[#place(top + left, dx: -1mm, dy: 1mm, rect(width: 9mm, height: 9mm, stroke: 1pt))some words] }",
        ),
        (
            "",
            "{ box(height: 4mm)[#place(top + left, dy: 1mm, line(length: 20mm))#place(top + left, rect(width: 20mm, height: 4mm, fill: white))some words] }",
        ),
        (
            "split",
            "{ v(238mm); grid(columns: 2, [label], [a #linebreak() b #linebreak() c #linebreak() d #linebreak() e #linebreak() f #linebreak() g #linebreak() h]) }",
        ),
        ("single", "{ [a]; linebreak(); [b]; pagebreak(); [c] }"),
        ("single", "{ [a]; pagebreak(); h(1mm); pagebreak(); [a]; parbreak(); [b]; parbreak(); [c] }"),
        ("foot", "{ [a]; v(1fr); heading(level: 3)[A]; pagebreak(); [a]; parbreak(); [b]; parbreak(); [c] }"),
        ("", "{ [a]; v(1fr); heading(level: 3)[A]; [b]; pagebreak(); [a]; parbreak(); [b]; parbreak(); [c] }"),
    ];
    let mut wrong = Vec::new();
    for (expected, body) in cases {
        let pages = made(body);
        let spoke: Vec<&str> =
            rules.iter().filter(|(_, rule)| !rule(&pages).is_empty()).map(|(name, _)| *name).collect();
        let should: Vec<&str> = expected.split(", ").filter(|name| !name.is_empty()).collect();
        if spoke != should {
            wrong.push(format!("{body}: {spoke:?} spoke, and not {should:?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
