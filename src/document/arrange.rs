//! How typeset pages are put on paper: labelled for whoever leafs through the file, and several to a page.
//!
//! Several to a page is made of finished pages, drawn smaller, so that no template knows of it. Every page keeps its marks for
//! screen readers and its place in the outline, because they lie in its frame and move with it; a wrapper in the language of the
//! templates could only take pages in as pictures, which have neither.
//! The paper they lie on is a page of the templates (`components/several.typ`): it has the lines to cut along.

use typst::foundations::{Label, Selector};
use typst::introspection::Introspector;
use typst::layout::{Frame, FrameItem, GroupItem, Point, Ratio, Size, Transform};
use typst::model::{Document, Numbering, NumberingPattern};
use typst::utils::PicoStr;
use typst_layout::{Page, PagedDocument};

use super::fault::Fault;
use super::world::{self, Templates};
use crate::sheets::marks::Paper;

/// How many pages of a sheet go on one side of paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum ToAPage {
    /// One, at its own size.
    #[default]
    One,
    /// Two side by side, at seven tenths of their size on A4.
    Two,
    /// Four, at half their size.
    Four,
}

/// How often a sheet is printed, and how many pages share a side of paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Arrangement {
    /// How often, at least once; the pages of each copy are numbered from 1.
    pub copies: usize,
    /// How many to a page.
    pub to_a_page: ToAPage,
}

impl Default for Arrangement {
    fn default() -> Self {
        Self { copies: 1, to_a_page: ToAPage::One }
    }
}

/// Whether something in a document has to be printed at its true size: its template says so where it draws the bar to check it by.
pub(super) fn is_true_size(document: &PagedDocument) -> bool {
    let label = Label::new(PicoStr::intern("true-size")).expect("invariant: a label is not empty");
    !document.introspector().query(&Selector::Label(label)).is_empty()
}

/// Labels the pages: the name of their sheet and their number in it, as the foot has it. `names` are those of the runs of pages
/// that begin with page 1, in order, no two alike: of two runs with one name, the library that writes the PDF loses where the
/// second begins. Templates that count otherwise get no labels.
pub(super) fn labelled(document: PagedDocument, names: &[String]) -> PagedDocument {
    let n_runs = document.pages().iter().filter(|page| page.number == 1).count();
    if n_runs != names.len() || document.pages().first().is_none_or(|page| page.number != 1) {
        return document;
    }
    let mut run = 0;
    let label = |page: &Page| {
        run += usize::from(page.number == 1);
        Page { numbering: Some(numbering(&names[run - 1])), ..page.clone() }
    };
    let pages = document.pages().iter().map(label).collect();
    PagedDocument::new(pages, document.info().clone())
}

/// Numbers behind a name. The name is put in afterwards, because a pattern takes most of its letters for numerals.
fn numbering(name: &str) -> Numbering {
    let mut pattern: NumberingPattern = "1".parse().expect("invariant: a pattern of our own");
    for (prefix, _) in pattern.pieces.make_mut() {
        *prefix = format!("{name} ").into();
    }
    Numbering::Pattern(pattern)
}

/// Several pages of a document on each side of paper, in the order of reading; places left over at the end stay empty.
///
/// # Errors
/// A fault of the template of the paper.
pub(super) fn several(
    document: &PagedDocument,
    to_a_page: ToAPage,
    paper: Paper,
    name: &str,
    templates: &Templates,
) -> Result<PagedDocument, Fault> {
    let is_wide = document.pages().first().is_some_and(|page| page.frame.width() > page.frame.height());
    let (across, down, is_flipped) = match (to_a_page, is_wide) {
        (ToAPage::One, _) => (1, 1, is_wide),
        (ToAPage::Two, false) => (2, 1, true),
        (ToAPage::Two, true) => (1, 2, false),
        (ToAPage::Four, _) => (2, 2, is_wide),
    };
    let under = under(paper, is_flipped, across, down, templates)?;
    let sides = document.pages().chunks(across * down).zip(1..);
    let pages = sides.map(|(some, number)| Page {
        frame: side(some, across, down, &under),
        numbering: Some(numbering(name)),
        number,
        ..some[0].clone()
    });
    Ok(PagedDocument::new(pages.collect(), document.info().clone()))
}

/// The paper below the pages. What its template marks for screen readers is taken off: its places would be mistaken for those of
/// the document, and a line to cut along is nothing to read.
fn under(paper: Paper, is_flipped: bool, across: usize, down: usize, templates: &Templates) -> Result<Frame, Fault> {
    let data = serde_json::json!({ "paper": paper, "flipped": is_flipped, "across": across, "down": down });
    let main = "#import \"/lib.typ\": several-to-a-page\n#several-to-a-page(json(\"/data/several.json\"))\n";
    let files = vec![
        ("data/several.json".to_owned(), data.to_string().into_bytes()),
        ("main.typ".to_owned(), main.as_bytes().to_vec()),
    ];
    let document = world::typeset(templates, files)?;
    let [page] = document.pages() else {
        return Err(templates.fault("several-to-a-page has to draw exactly one page".to_owned()));
    };
    Ok(without_tags(&page.frame))
}

fn without_tags(frame: &Frame) -> Frame {
    let mut bare = Frame::new(frame.size(), frame.kind());
    for (position, item) in frame.items() {
        match item {
            FrameItem::Tag(_) => {}
            FrameItem::Group(group) => {
                let frame = without_tags(&group.frame);
                bare.push(*position, FrameItem::Group(GroupItem { frame, ..group.clone() }));
            }
            other => bare.push(*position, other.clone()),
        }
    }
    bare
}

/// One side of paper: each page as large as its place allows, in the middle of it, and the lines to cut along above them.
fn side(pages: &[Page], across: usize, down: usize, under: &Frame) -> Frame {
    let mut frame = Frame::hard(under.size());
    let place = Size::new(under.width() / across as f64, under.height() / down as f64);
    for (i, page) in pages.iter().enumerate() {
        let size = page.frame.size();
        let scale = (place.x / size.x).min(place.y / size.y);
        let left = place.x * (i % across) as f64 + (place.x - size.x * scale) / 2.0;
        let top = place.y * (i / across) as f64 + (place.y - size.y * scale) / 2.0;
        let mut group = GroupItem::new(page.frame.clone());
        group.transform = Transform::scale(Ratio::new(scale), Ratio::new(scale));
        frame.push(Point::new(left, top), FrameItem::Group(group));
    }
    for (position, item) in under.items() {
        frame.push(*position, item.clone());
    }
    frame
}
