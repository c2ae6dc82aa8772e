//! What the sheets say to whoever cannot see them, or sees little: tags, words for pictures, order of reading, contrast.
//!
//! Files are read back by a reader that shares no code with their writer.

use std::collections::BTreeSet;
use std::fmt::Write;
use std::path::Path;
use std::sync::LazyLock;

use expect_test::expect_file;
use hayro_syntax::Pdf;
use hayro_syntax::object::{Dict, Stream};
use wheelsheet::document::drawn::{Bounds, Drawn, Tone, What};
use wheelsheet::document::{self, Sheet, Templates, Which};
use wheelsheet::plan::Terms;
use wheelsheet::{Worked, print};

use super::golden::projects;
use super::layout::made;
use super::pdf_tags::{Drawing, Kid, Tagged, catalog, drawing, fonts_left_out, tags, text};
use super::plans::{self, Page, TYPESET};

/// A file of all sheets of a plan.
struct Printed {
    name: String,
    terms: Terms,
    pdf: Pdf,
}

/// So many random plans are printed, each with the long sheet of workings.
const RANDOM: usize = 4;

/// The shipped projects and some random plans.
static PRINTED: LazyLock<Vec<Printed>> = LazyLock::new(|| {
    let shipped = projects().into_iter().map(|(name, _, worked)| (name, worked));
    let random = plans::worked(RANDOM).into_iter().take(RANDOM).enumerate();
    let random = random.map(|(i, (_, worked))| (format!("random plan {i}"), worked));
    shipped.chain(random).map(|(name, worked)| printed(name, &worked)).collect()
});

/// The sheets of classes, which are files of their own.
static OF_CLASSES: LazyLock<Vec<Printed>> = LazyLock::new(|| {
    let of_project = |(name, _, worked): (String, std::path::PathBuf, Worked)| {
        let present = wheelsheet::sheets(&worked).present().into_iter().filter(|sheet| sheet.is_of_a_class());
        let name = |sheet: Sheet| format!("{name}, {}", sheet.name());
        present.map(|sheet| file(name(sheet), &worked, Which::One(sheet))).collect::<Vec<_>>()
    };
    projects().into_iter().flat_map(of_project).collect()
});

/// All of them.
fn all_printed() -> impl Iterator<Item = &'static Printed> {
    PRINTED.iter().chain(OF_CLASSES.iter())
}

fn printed(name: String, worked: &Worked) -> Printed {
    file(name, worked, Which::All)
}

fn file(name: String, worked: &Worked, which: Which) -> Printed {
    let bytes = print(&wheelsheet::sheets(worked), which, &Templates::Shipped, &name).expect("a file");
    comemo::evict(0);
    Printed { name, terms: worked.plan.terms, pdf: Pdf::new(bytes).expect("a PDF") }
}

#[test]
fn every_file_says_what_it_is() {
    for Printed { name, terms, pdf } in all_printed() {
        let catalog = catalog(pdf);
        let mark: Dict<'_> = catalog.get("MarkInfo").expect("how it is marked");
        let preferences: Dict<'_> = catalog.get("ViewerPreferences").expect("how it is shown");
        assert_eq!(mark.get::<bool>("Marked"), Some(true), "{name}");
        assert_eq!(preferences.get::<bool>("DisplayDocTitle"), Some(true), "{name}: its title is shown");
        let language = match terms {
            Terms::Uk => "en-GB",
            Terms::Us => "en-US",
        };
        assert_eq!(text(&catalog, "Lang").as_deref(), Some(language), "{name}");
        let about: Stream<'_> = catalog.get("Metadata").expect("metadata");
        let about = String::from_utf8_lossy(&about.decoded().expect("metadata")).into_owned();
        assert!(about.contains("<pdfuaid:part>1</pdfuaid:part>"), "{name}: {about}");
        assert!(about.contains("<dc:title>"), "{name}: {about}");
        assert!(pdf.metadata().title.as_ref().is_some_and(|title| !title.is_empty()), "{name}");
        assert_eq!(pdf.metadata().creation_date, None, "{name}: the same plan gives the same bytes on any day");
    }
}

#[test]
fn every_font_is_in_the_file() {
    for Printed { name, pdf, .. } in all_printed() {
        let (count, left_out) = fonts_left_out(pdf);
        assert!(count >= 2, "{name}: {count} fonts");
        assert_eq!(left_out, Vec::<String>::new(), "{name}");
    }
}

/// What is wrong with the elements of a tag tree.
fn faults_of_tags(root: &Tagged) -> Vec<String> {
    let mut faults = Vec::new();
    let mut level = 0;
    for element in root.all() {
        let kind = element.kind.as_str();
        match kind {
            "Figure" | "Formula" => {
                let alt = element.alt.as_deref().unwrap_or("").trim();
                let ending = alt.rsplit_once('.').map(|(_, ending)| ending);
                if alt.is_empty() || ending.is_some_and(|ending| ["svg", "png", "jpg", "typ"].contains(&ending)) {
                    faults.push(format!("a picture says \"{alt}\""));
                }
            }
            "Table" => {
                let kinds: BTreeSet<&str> = element.all().iter().map(|one| one.kind.as_str()).collect();
                if !kinds.contains("TH") || !kinds.contains("TR") {
                    faults.push(format!("a table of {kinds:?} has no heads"));
                }
            }
            _ => {}
        }
        if let Some(next) = kind.strip_prefix('H').and_then(|level| level.parse::<usize>().ok()) {
            if next > level + 1 {
                faults.push(format!("a heading of level {next} follows one of level {level}"));
            }
            if element.contents().is_empty() {
                faults.push(format!("a heading of level {next} says nothing"));
            }
            level = next;
        }
    }
    if level == 0 {
        faults.push("there is no heading".to_owned());
    }
    faults
}

#[test]
fn pictures_have_words_tables_have_heads_and_headings_no_gaps() {
    for Printed { name, pdf, .. } in all_printed() {
        let root = tags(pdf);
        assert_eq!(faults_of_tags(&root), Vec::<String>::new(), "{name}");
        let kinds: Vec<&str> = root.all().iter().map(|element| element.kind.as_str()).collect();
        // A sheet by itself need not have all of them.
        let kinds_of_all = ["Figure", "Table", "H1", "H2", "H3"].iter().filter(|_| !name.contains(", "));
        for kind in kinds_of_all {
            assert!(kinds.iter().filter(|one| *one == kind).count() > 1, "{name}: there is more than one {kind}");
        }
    }
}

#[test]
fn the_check_of_tags_sees_what_is_wrong() {
    let element = |kind: &str, alt: Option<&str>, kids: Vec<Kid>| {
        Kid::Element(Tagged { kind: kind.to_owned(), alt: alt.map(str::to_owned), kids })
    };
    let heading = |level: &str| element(level, None, vec![Kid::Content(0, 0)]);
    let cell = |kind: &str| element("Table", None, vec![element("TR", None, vec![element(kind, None, Vec::new())])]);
    let cases = [
        (
            vec![
                heading("H1"),
                element("Figure", Some("A wheel."), Vec::new()),
                cell("TH"),
                heading("H2"),
                heading("H1"),
            ],
            0,
        ),
        (vec![heading("H1"), element("Figure", None, Vec::new())], 1),
        (vec![heading("H1"), element("Figure", Some("  "), Vec::new())], 1),
        (vec![heading("H1"), element("Figure", Some("wheel.svg"), Vec::new())], 1),
        (vec![heading("H1"), cell("TD")], 1),
        (vec![heading("H2")], 1),
        (vec![heading("H1"), heading("H3")], 1),
        (vec![element("H1", None, Vec::new())], 1),
        (Vec::new(), 1),
    ];
    for (kids, count) in cases {
        let root = Tagged { kind: String::new(), alt: None, kids };
        assert_eq!(faults_of_tags(&root).len(), count, "{root:#?}");
    }
}

#[test]
fn all_that_is_drawn_is_tagged_once_or_is_of_the_page() {
    for Printed { name, pdf, .. } in all_printed() {
        let Drawing { marked, unmarked } = drawing(pdf);
        assert_eq!(unmarked, Vec::new(), "{name}: drawn, and neither tagged nor an artifact");
        let mut tagged = tags(pdf).contents();
        let count = tagged.len();
        tagged.sort_unstable();
        tagged.dedup();
        assert_eq!(tagged.len(), count, "{name}: nothing is read twice");
        let missing: Vec<_> = marked.iter().filter(|(place, _)| tagged.binary_search(place).is_err()).collect();
        assert_eq!(missing, Vec::new(), "{name}: marked, and in no tag");
        assert!(count > 1000 || name.contains(", "), "{name}: {count} pieces");
    }
}

/// The tag tree as it is read aloud: a heading after as many signs as its level, a picture as its words.
fn aloud(root: &Tagged, drawing: &Drawing, lines: &mut Vec<String>) {
    let says = |element: &Tagged| -> String {
        element.contents().iter().map(|place| drawing.marked.get(place).map_or("", String::as_str)).collect()
    };
    match root.kind.as_str() {
        "Figure" => lines.push(format!("[{}]", root.alt.as_deref().unwrap_or(""))),
        kind if kind.len() == 2 && kind.starts_with('H') => {
            let level = kind[1..].parse().expect("a level");
            lines.push(format!("{} {}", "#".repeat(level), says(root).trim()));
        }
        _ => {
            for kid in &root.kids {
                match kid {
                    Kid::Element(element) => aloud(element, drawing, lines),
                    Kid::Content(page, number) => {
                        let text = drawing.marked.get(&(*page, *number)).map_or("", String::as_str);
                        lines.push(text.trim().to_owned());
                    }
                }
            }
        }
    }
}

#[test]
fn sheets_are_read_aloud_as_they_were() {
    for Printed { name, pdf, .. } in PRINTED.iter().filter(|printed| !printed.name.starts_with("random")) {
        let mut lines = Vec::new();
        aloud(&tags(pdf), &drawing(pdf), &mut lines);
        // The workings are a long list of alike blocks: their first pages tell how they are read.
        let end = lines.iter().position(|line| line == "# Workings").expect("the workings are read") + 60;
        let mut text = String::new();
        lines.truncate(end);
        lines.iter().filter(|line| !line.is_empty()).for_each(|line| writeln!(text, "{line}").expect("text"));
        assert!(!text.contains('\u{fffd}'), "{name}: every glyph stands for a character");
        let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden").join(name).join("aloud.txt");
        expect_file![file].assert_eq(&text);
    }
}

/// The letters of a text in an order that says nothing: what is compared is that none is missing and none is there twice.
fn letters<'a>(texts: impl Iterator<Item = &'a str>) -> String {
    let is_letter = |c: &char| !c.is_whitespace() && *c != '\u{200b}';
    let mut letters: Vec<char> = texts.flat_map(str::chars).filter(is_letter).collect();
    letters.sort_unstable();
    letters.into_iter().collect()
}

/// The letters that are in one text and not in another, both in order.
fn without(some: &str, others: &str) -> String {
    let mut others = others.chars().peekable();
    let mut left = String::new();
    for letter in some.chars() {
        while others.next_if(|other| *other < letter).is_some() {}
        if others.next_if_eq(&letter).is_none() {
            left.push(letter);
        }
    }
    left
}

/// Nothing is left out but the heads of a table that goes on: they are set again on its next page and read once.
#[test]
fn what_is_read_is_what_stands_on_the_page() {
    for (name, _, worked) in projects() {
        let sheets = wheelsheet::sheets(&worked);
        let document = document::document(&sheets, Which::All, &Templates::Shipped).expect("typeset");
        let printed = PRINTED.iter().find(|printed| printed.name == name).expect("every project is printed");
        let (root, drawing) = (tags(&printed.pdf), drawing(&printed.pdf));
        let of = |places: &[(usize, i32)]| {
            letters(places.iter().filter_map(|place| drawing.marked.get(place)).map(String::as_str))
        };
        let heads_of = |table: &Tagged| -> Vec<(usize, i32)> {
            table.all().into_iter().filter(|cell| cell.kind == "TH").flat_map(Tagged::contents).collect()
        };
        let heads: Vec<String> = root
            .all()
            .into_iter()
            .filter(|element| element.kind == "Table")
            .map(|table| of(&heads_of(table)))
            .collect();
        let read = root.contents();
        for (number, page) in plans::pages(&document).iter().enumerate() {
            let says = page.drawn.iter().filter(|item| !item.within.iter().any(|element| element.name == "artifact"));
            let says = letters(says.filter_map(|item| item.text()));
            let tagged: Vec<(usize, i32)> = read.iter().filter(|(on, _)| *on == number).copied().collect();
            let tagged = of(&tagged);
            let (unread, unseen) = (without(&says, &tagged), without(&tagged, &says));
            assert_eq!(unseen, "", "{name}, page {} of all: read and not on the page", number + 1);
            assert!(
                unread.is_empty() || heads.contains(&unread),
                "{name}, page {} of all: not read: {unread}",
                number + 1
            );
        }
    }
}

/// WCAG 2.2, "relative luminance".
fn luminance(tone: Tone) -> f64 {
    let [red, green, blue] =
        tone.map(|share| if share <= 0.04045 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) });
    0.2126 * red + 0.7152 * green + 0.0722 * blue
}

/// WCAG 2.2, "contrast ratio".
fn contrast(a: Tone, b: Tone) -> f64 {
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

#[test]
fn contrast_is_that_of_the_recommendation() {
    let grey = |tone: f64| [tone / 255.0; 3];
    assert!((contrast(grey(0.0), grey(255.0)) - 21.0).abs() < 1e-9);
    // The darkest grey that falls short of 4.5 on white is #777777, as the recommendation's readers know by heart.
    assert!(contrast(grey(118.0), grey(255.0)) > 4.5 && contrast(grey(119.0), grey(255.0)) < 4.5);
    assert!((contrast([1.0, 0.0, 0.0], grey(255.0)) - 3.998).abs() < 0.001);
}

/// Text has at least this contrast to what it stands on: the enhanced level of WCAG 2.2, success criterion 1.4.6.
const TEXT: f64 = 7.0;
/// What carries meaning in a picture has at least this: success criterion 1.4.11.
const GRAPHIC: f64 = 3.0;

/// Places over a box, five across and three down.
fn places(bounds: Bounds) -> impl Iterator<Item = (f64, f64)> {
    let shares = (0..5).flat_map(|across| (0..3).map(move |down| (f64::from(across) / 4.0, f64::from(down) / 2.0)));
    shares.map(move |(across, down)| {
        let inside = |share: f64| 0.02 + 0.96 * share;
        (
            bounds.left + inside(across) * (bounds.right - bounds.left),
            bounds.top + inside(down) * (bounds.bottom - bounds.top),
        )
    })
}

/// The tones under a text: of what was drawn last before it at its places, else of the paper.
fn under(page: &[Drawn], at: usize) -> Vec<Tone> {
    let before: Vec<&Drawn> =
        page[..at].iter().filter(|item| item.text().is_none() && item.bounds.overlap(&page[at].bounds) > 0.0).collect();
    let under = |(x, y): (f64, f64)| before.iter().rev().find_map(|item| item.tone_at(x, y)).unwrap_or([1.0; 3]);
    places(page[at].bounds).map(under).collect()
}

fn faint_text(page: &Page) -> Vec<String> {
    let mut faults = Vec::new();
    for (at, item) in page.drawn.iter().enumerate() {
        let What::Text(text, tone) = &item.what else { continue };
        let least =
            under(&page.drawn, at).into_iter().map(|below| contrast(*tone, below)).fold(f64::INFINITY, f64::min);
        if least < TEXT {
            faults.push(format!("page {}: \"{text}\" has a contrast of {least:.1}", item.page + 1));
        }
    }
    faults
}

/// Text under a shape that is drawn later.
fn covered_text(page: &Page) -> Vec<String> {
    let mut faults = Vec::new();
    for (at, item) in page.drawn.iter().enumerate().filter(|(_, item)| item.text().is_some()) {
        let over =
            page.drawn[at + 1..].iter().filter(|over| over.text().is_none() && over.bounds.overlap(&item.bounds) > 0.0);
        if over.into_iter().any(|over| places(item.bounds).any(|(x, y)| over.tone_at(x, y).is_some())) {
            faults.push(format!("page {}: something is drawn over \"{}\"", item.page + 1, item.text().unwrap_or("")));
        }
    }
    faults
}

fn is_coloured([red, green, blue]: Tone) -> bool {
    (red - green).abs().max((green - blue).abs()) > 0.01
}

/// A coloured field: its place among what is drawn, its tint, and whether a mark that is seen stands on it.
struct Field<'a> {
    drawn: &'a Drawn,
    tint: Tone,
    is_marked: bool,
}

/// Fields of this size and more carry the mark of their colour; of smaller ones it stands in the same picture.
const FIELD: f64 = 4.0 * 72.0 / 25.4;

fn fields(page: &Page) -> Vec<Field<'_>> {
    let mut found = Vec::new();
    for (at, field) in page.drawn.iter().enumerate() {
        let middle = |bounds: Bounds| ((bounds.left + bounds.right) / 2.0, (bounds.top + bounds.bottom) / 2.0);
        let (x, y) = middle(field.bounds);
        let Some(tint) = field.tone_at(x, y).filter(|tone| is_coloured(*tone)) else { continue };
        let is_mark = |item: &Drawn| {
            let What::Shape(shape, _) = &item.what else { return false };
            let is_small = item.bounds.beyond(&field.bounds) < 0.01 && item.bounds != field.bounds;
            let paint = shape.fill.as_ref().or(shape.stroke.as_ref().map(|stroke| &stroke.paint));
            let tone = paint.map(wheelsheet::document::drawn::tone);
            is_small && tone.is_some_and(|tone| !is_coloured(tone) && contrast(tone, tint) >= GRAPHIC)
        };
        found.push(Field { drawn: field, tint, is_marked: page.drawn[at + 1..].iter().any(is_mark) });
    }
    found
}

/// Coloured fields whose colour is told by no mark. A colour is one that has a mark somewhere on the sheet; any other tint is a
/// mixture of colours that lie side by side, as fabric shows them, and is told by theirs.
fn colour_alone(page: &Page) -> Vec<String> {
    colour_alone_among(page, &[])
}

/// The same of a page where other pages of its sheet have marks of these tints.
fn colour_alone_among(page: &Page, elsewhere: &[Tone]) -> Vec<String> {
    let mut faults = Vec::new();
    let fields = fields(page);
    let figure =
        |field: &Field| field.drawn.within.iter().find(|element| element.name == "figure").map(|one| one.number);
    let is_like = |a: &Field, b: &Field| a.tint.iter().zip(b.tint).all(|(a, b)| (a - b).abs() < 1e-3);
    let marked: Vec<&Field> = fields.iter().filter(|field| field.is_marked).collect();
    for field in fields.iter().filter(|field| !field.is_marked) {
        let Bounds { left, top, right, bottom } = field.drawn.bounds;
        let is_large = right - left >= FIELD && bottom - top >= FIELD;
        let is_far = |tint: &Tone| tint.iter().zip(field.tint).any(|(a, b)| (a - b).abs() >= 1e-3);
        let has_marks = !marked.is_empty() || !elsewhere.is_empty();
        let is_mixture = has_marks && !marked.iter().any(|other| is_like(field, other)) && elsewhere.iter().all(is_far);
        let is_told_beside = marked.iter().any(|other| is_like(field, other) && figure(other) == figure(field));
        let may_go_without = is_mixture || is_told_beside || (!is_large && !marked.is_empty());
        if !may_go_without {
            let tint = field.tint;
            faults.push(format!(
                "page {}, {left:.0} and {top:.0} pt: a field of {tint:?} has no mark",
                field.drawn.page + 1
            ));
        }
    }
    for field in fields.iter().filter(|field| figure(field).is_none()) {
        faults.push(format!("page {}: a field of {:?} is in no picture with words", field.drawn.page + 1, field.tint));
    }
    faults
}

/// Every page that was typeset keeps a rule.
fn assert_kept(rule: fn(&Page) -> Vec<String>) {
    assert_sheets_keep(|sheet| sheet.pages.iter().flat_map(rule).collect());
}

/// Every sheet that was typeset keeps a rule.
fn assert_sheets_keep(rule: impl Fn(&plans::Typeset) -> Vec<String>) {
    let mut faults = Vec::new();
    for sheet in TYPESET.iter() {
        faults.extend(rule(sheet).into_iter().map(|fault| format!("{}, {}, {fault}", sheet.plan, sheet.sheet.name())));
    }
    let shown = &faults[..faults.len().min(40)];
    let texts = plans::texts_of(shown);
    assert!(faults.is_empty(), "{} faults, such as\n{}{texts}", faults.len(), shown.join("\n"));
}

#[test]
fn text_stands_out_from_what_is_under_it() {
    assert_kept(faint_text);
}

#[test]
fn nothing_is_drawn_over_text() {
    assert_kept(covered_text);
}

#[test]
fn no_colour_stands_without_its_mark() {
    assert_sheets_keep(|sheet| {
        let marked = sheet.pages.iter().flat_map(fields).filter(|field| field.is_marked);
        let marked: Vec<Tone> = marked.map(|field| field.tint).collect();
        sheet.pages.iter().flat_map(|page| colour_alone_among(page, &marked)).collect()
    });
    let fields = TYPESET.iter().flat_map(|sheet| &sheet.pages).flat_map(|page| &page.drawn);
    let is_field = |item: &&Drawn| match &item.what {
        What::Shape(shape, _) => {
            shape.fill.as_ref().is_some_and(|fill| is_coloured(wheelsheet::document::drawn::tone(fill)))
        }
        What::Text(..) => false,
    };
    assert!(fields.filter(is_field).count() > 100, "there are colours on the sheets");
}

#[test]
fn each_rule_of_sight_speaks_on_a_bad_sheet() {
    let cases = [
        ("{ text(fill: luma(30%))[a]; rect(fill: ink)[#text(fill: white)[b]] }", [0, 0, 0]),
        ("{ text(fill: luma(45%))[a] }", [1, 0, 0]),
        ("{ rect(fill: luma(50%))[a] }", [1, 0, 0]),
        ("{ rect(fill: ink)[a] }", [1, 0, 0]),
        ("{ box[some words#place(top + left, rect(width: 4mm, height: 2mm, fill: white))] }", [0, 1, 0]),
        ("{ box[some words#place(top + left, circle(radius: 4mm, stroke: 1pt))] }", [0, 0, 0]),
        ("{ picture(\"a field\", rect(width: 9mm, height: 9mm, fill: rgb(0, 0, 255))) }", [0, 0, 1]),
        (
            "{ rect(width: 9mm, height: 9mm, fill: rgb(0, 0, 255), inset: 3mm, rect(width: 1mm, height: 1mm, fill: white)) }",
            [0, 0, 1],
        ),
        (
            "{ picture(\"a field\", rect(width: 9mm, height: 9mm, fill: rgb(0, 0, 255), inset: 3mm, rect(width: 1mm, height: 1mm, fill: black))) }",
            [0, 0, 1],
        ),
        (
            "{ picture(\"a field\", rect(width: 9mm, height: 9mm, fill: rgb(0, 0, 255), inset: 3mm, rect(width: 1mm, height: 1mm, fill: white))) }",
            [0, 0, 0],
        ),
    ];
    let mut wrong = Vec::new();
    for (body, expected) in cases {
        let pages = made(body);
        let rules: [fn(&Page) -> Vec<String>; 3] = [faint_text, covered_text, colour_alone];
        let found = rules.map(|rule| pages.iter().flat_map(rule).count());
        if found != expected {
            wrong.push(format!("{body}: {found:?}, and not {expected:?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
