//! The text of typeset pages with its place, for tests: what stands on the paper, in the order of reading.

use typst::layout::{Frame, FrameItem, Transform};
use typst_layout::PagedDocument;

/// One run of text as it was set.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// Page, from 0.
    pub page: usize,
    /// Distance of its baseline from the top of the page, in tenths of a millimetre.
    pub y: i64,
    /// Distance of its start from the left of the page, in tenths of a millimetre.
    pub x: i64,
    /// Its width in tenths of a millimetre.
    pub width: i64,
    /// Its size in tenths of a point.
    pub size: i64,
    /// Its characters.
    pub text: String,
}

/// All runs of a document, page by page, in the order in which they were set.
pub fn runs(document: &PagedDocument) -> Vec<Run> {
    let mut found = Vec::new();
    for (page, typeset) in document.pages().iter().enumerate() {
        walk(&typeset.frame, Transform::identity(), page, &mut found);
    }
    found
}

fn walk(frame: &Frame, transform: Transform, page: usize, found: &mut Vec<Run>) {
    for (position, item) in frame.items() {
        match item {
            FrameItem::Group(group) => {
                let moved = Transform::translate(position.x, position.y);
                walk(&group.frame, transform.pre_concat(moved).pre_concat(group.transform), page, found);
            }
            FrameItem::Text(text) => {
                let at = position.transform(transform);
                let tenths = |length: f64| (length * 10.0).round() as i64;
                found.push(Run {
                    page,
                    y: tenths(at.y.to_mm()),
                    x: tenths(at.x.to_mm()),
                    width: tenths(text.width().to_mm()),
                    size: tenths(text.size.to_pt()),
                    text: text.text.to_string(),
                });
            }
            _ => {}
        }
    }
}

/// The text of each page in lines from top to bottom, each line from left to right.
pub fn lines(document: &PagedDocument) -> Vec<Vec<String>> {
    let mut pages = vec![Vec::new(); document.pages().len()];
    for run in runs(document) {
        pages[run.page].push(run);
    }
    pages.into_iter().map(in_lines).collect()
}

fn in_lines(mut runs: Vec<Run>) -> Vec<String> {
    runs.sort_by_key(|run| (run.y, run.x));
    let mut lines: Vec<(i64, Vec<String>)> = Vec::new();
    for run in runs {
        match lines.last_mut() {
            Some((y, line)) if run.y - *y <= 2 => line.push(run.text),
            _ => lines.push((run.y, vec![run.text])),
        }
    }
    lines.into_iter().map(|(_, line)| line.join(" ")).collect()
}
