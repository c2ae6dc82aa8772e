//! What a reader of PDF finds in the files: the outline, the labels of the pages, and the language.

use hayro_syntax::Pdf;
use hayro_syntax::object::{Array, Dict, ObjectIdentifier, String as Text};
use wheelsheet::document::{Sheet, Templates, Which};
use wheelsheet::{Worked, print};

use super::golden::projects;

/// A line of the outline: how deep, its title, and its page from 0.
type Line = (usize, String, usize);

fn pdf(worked: &Worked, which: Which) -> Pdf {
    let sheets = wheelsheet::sheets(worked);
    Pdf::new(print(&sheets, which, &Templates::Shipped, "x").expect("typeset")).expect("a PDF")
}

fn root(pdf: &Pdf) -> Dict<'_> {
    pdf.xref().get(pdf.xref().root_id()).expect("a catalogue")
}

/// A text of a PDF: UTF-16 behind its mark, else letters of one byte.
fn text(bytes: &[u8]) -> String {
    match bytes.strip_prefix(&[0xFE, 0xFF]) {
        Some(wide) => {
            let units: Vec<u16> = wide.chunks_exact(2).map(|pair| u16::from_be_bytes([pair[0], pair[1]])).collect();
            String::from_utf16(&units).expect("UTF-16")
        }
        None => bytes.iter().map(|byte| char::from(*byte)).collect(),
    }
}

pub(crate) fn outline(pdf: &Pdf) -> Vec<Line> {
    let pages: Vec<Option<ObjectIdentifier>> = pdf.pages().iter().map(|page| page.raw().obj_id()).collect();
    let mut lines = Vec::new();
    let top: Dict = root(pdf).get("Outlines").expect("an outline");
    below(&top, 0, &pages, &mut lines);
    lines
}

fn below(of: &Dict, depth: usize, pages: &[Option<ObjectIdentifier>], lines: &mut Vec<Line>) {
    let mut next: Option<Dict> = of.get("First");
    while let Some(line) = next {
        let title: Text = line.get("Title").expect("a title");
        let target: Array = line.get("Dest").expect("a place");
        let page = target.iter::<Dict>().next().and_then(|page| page.obj_id());
        let page = pages.iter().position(|id| *id == page).expect("one of the pages");
        lines.push((depth, text(title.as_bytes()), page));
        below(&line, depth + 1, pages, lines);
        next = line.get("Next");
    }
}

/// The label of each page: those of a run count on from the first.
pub(crate) fn labels(pdf: &Pdf) -> Vec<String> {
    let tree: Dict = root(pdf).get("PageLabels").expect("labels");
    let entries: Array = tree.get("Nums").expect("a flat tree");
    let (mut entries, mut starts, mut runs) = (entries.flex_iter(), Vec::new(), Vec::new());
    while let (Some(at), Some(run)) = (entries.next::<i32>(), entries.next::<Dict>()) {
        starts.push(usize::try_from(at).expect("a page"));
        runs.push(run);
    }
    let label = |page: usize| {
        let run = starts.iter().rposition(|start| *start <= page).expect("the first run begins at the first page");
        let prefix = runs[run].get::<Text>("P").map_or_else(String::new, |prefix| text(prefix.as_bytes()));
        let first = usize::try_from(runs[run].get::<i32>("St").unwrap_or(1)).expect("positive");
        format!("{prefix}{}", first + page - starts[run])
    };
    (0..pdf.pages().len()).map(label).collect()
}

#[test]
fn the_outline_of_all_sheets_leads_to_each_sheet_and_its_parts() {
    for (name, _, worked) in projects() {
        let sheets = wheelsheet::sheets(&worked);
        let (mut begins, mut titles) = (0, Vec::new());
        let lines = outline(&pdf(&worked, Which::All));
        for sheet in sheets.in_one() {
            let alone = pdf(&worked, Which::One(sheet));
            let shifted: Vec<Line> =
                outline(&alone).into_iter().map(|(depth, title, page)| (depth, title, page + begins)).collect();
            // What the outline of a sheet says by itself stands in that of all of them too, so many pages further on.
            let within: Vec<Line> = lines
                .iter()
                .filter(|(_, _, page)| (begins..begins + alone.pages().len()).contains(page))
                .cloned()
                .collect();
            assert_eq!(within, shifted, "{name}, {}", sheet.name());
            assert_eq!((shifted[0].0, shifted[0].2), (0, begins), "{name}: {} opens its part", sheet.name());
            assert!(shifted.iter().any(|line| line.0 == 1), "{name}: {} has parts", sheet.name());
            titles.push(shifted[0].1.clone());
            begins += alone.pages().len();
        }
        let tops: Vec<String> = lines.into_iter().filter(|line| line.0 == 0).map(|line| line.1).collect();
        assert_eq!(tops, titles, "{name}");
    }
}

#[test]
fn pages_are_labelled_with_their_sheet_and_its_own_numbers() {
    for (name, _, worked) in projects() {
        let sheets = wheelsheet::sheets(&worked);
        let mut apart = Vec::new();
        for sheet in sheets.in_one() {
            let pdf = pdf(&worked, Which::One(sheet));
            let whole = text(pdf.metadata().title.as_ref().expect("a title"));
            let title = whole
                .strip_prefix(&format!("{}, ", worked.plan.title))
                .expect("the plan's, then the sheet's")
                .to_owned();
            let labels = labels(&pdf);
            let wanted: Vec<String> = (1..=pdf.pages().len()).map(|number| format!("{title} {number}")).collect();
            assert_eq!(labels, wanted, "{name}, {}", sheet.name());
            apart.extend(labels);
        }
        assert_eq!(labels(&pdf(&worked, Which::All)), apart, "{name}");
    }
    let (_, _, worked) = projects().remove(0);
    assert_eq!(labels(&pdf(&worked, Which::One(Sheet::WheelCard))), ["Wheel card 1", "Wheel card 2"]);
}

#[test]
fn a_screen_reader_is_told_the_language_and_the_title() {
    let (_, _, worked) = projects().remove(0);
    let pdf = pdf(&worked, Which::All);
    let root = root(&pdf);
    assert!(root.get::<Text>("Lang").is_some_and(|lang| text(lang.as_bytes()).starts_with("en")));
    let shows_title = root.get::<Dict>("ViewerPreferences").and_then(|how| how.get::<bool>("DisplayDocTitle"));
    assert_eq!(shows_title, Some(true));
    assert!(root.contains_key("StructTreeRoot"));
}
