//! Where the keys and values of a project stand in its files.
//!
//! The stages to the right name a value by its path; this table, made while the tree is walked, turns the path into
//! bytes when a diagnostic is written. It also remembers what was refused, so that nobody calls it missing.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use crate::diagnostics::render::Locate;
use crate::diagnostics::{File, Part, Place, Spot};

/// The texts of the files, and the place of everything that was kept.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Places {
    plan: Page,
    log: Page,
    spans: BTreeMap<Place, Span>,
    refused: BTreeSet<Place>,
}

/// The name and text of one file.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Page {
    pub(crate) name: String,
    pub(crate) text: String,
}

#[derive(Debug, Clone, PartialEq, Eq)]
struct Span {
    key: Range<usize>,
    value: Range<usize>,
}

impl Places {
    pub(crate) fn new(plan: Page, log: Page) -> Places {
        Places { plan, log, ..Places::default() }
    }

    /// Notes where a value stands. A later note for the same place replaces an earlier one.
    pub(crate) fn note(&mut self, place: Place, key: Range<usize>, value: Range<usize>) {
        self.spans.insert(place, Span { key, value });
    }

    /// Notes that something was written here, but cannot be used.
    pub(crate) fn refuse(&mut self, place: Place) {
        self.refused.insert(place);
    }

    /// Whether something usable is written at `place`.
    pub fn contains(&self, place: &Place) -> bool {
        self.spans.contains_key(place)
    }

    /// Whether nothing was refused at `place`, below it or around it.
    pub(crate) fn is_whole(&self, place: &Place) -> bool {
        let is_below = |other: &Place| {
            other.file == place.file
                && other
                    .path
                    .strip_prefix(place.path.as_str())
                    .is_some_and(|rest| place.path.is_empty() || rest.is_empty() || rest.starts_with(['.', '[']))
        };
        let mut below = self.refused.range(place..).take_while(|other| other.path.starts_with(&place.path));
        let mut around = outwards(place.clone());
        !below.any(is_below) && !around.any(|place| self.refused.contains(&place))
    }

    fn page(&self, file: File) -> &Page {
        match file {
            File::Plan => &self.plan,
            File::Log => &self.log,
        }
    }

    /// The span of the place, or of the nearest one around it; of a whole file its beginning.
    fn nearest(&self, place: &Place) -> Option<&Span> {
        outwards(place.clone()).find_map(|place| self.spans.get(&place))
    }
}

/// A place and what is around it, from the inside out, without the file itself.
fn outwards(place: Place) -> impl Iterator<Item = Place> {
    let outer = |place: &Place| {
        let end = place.path.rfind(['.', '[']).unwrap_or(0);
        Some(Place { file: place.file, path: place.path[..end].to_owned() })
    };
    std::iter::successors(Some(place), outer).take_while(|place| !place.path.is_empty())
}

impl Locate for Places {
    fn name(&self, file: File) -> &str {
        &self.page(file).name
    }

    fn text(&self, file: File) -> &str {
        &self.page(file).text
    }

    fn range(&self, spot: &Spot) -> Range<usize> {
        let (file, range) = match spot {
            Spot::Bytes(file, range) => (*file, range.clone()),
            Spot::Path(place, part) => (
                place.file,
                match (self.nearest(place), part) {
                    (Some(span), Part::Key) => span.key.clone(),
                    (Some(span), Part::Value) => span.value.clone(),
                    (None, _) => 0..0,
                },
            ),
        };
        let text = self.text(file);
        let start = text.floor_char_boundary(range.start);
        start..text.ceil_char_boundary(range.end).max(start)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_not_written_is_shown_at_the_table_around_it() {
        let mut places = Places::new(Page { name: "plan.toml".into(), text: "x".repeat(50) }, Page::default());
        let braid = Place::plan("braid").key("north.1");
        places.note(braid.clone(), 7..12, 0..13);
        let value = |place: Place| places.range(&Spot::Path(place, Part::Value));
        assert_eq!(value(braid.key("weights").index(2)), 0..13);
        assert_eq!(value(braid.clone()), 0..13);
        assert_eq!(value(Place::plan("wheel").key("whorls")), 0..0);
        assert_eq!(places.range(&Spot::Path(braid, Part::Key)), 7..12);
    }

    #[test]
    fn a_refused_value_breaks_what_is_around_it_and_nothing_else() {
        let mut places = Places::default();
        places.refuse(Place::plan("yarn.wraps"));
        assert!(!places.is_whole(&Place::plan("")));
        assert!(!places.is_whole(&Place::plan("yarn")));
        assert!(!places.is_whole(&Place::plan("yarn.wraps")));
        assert!(!places.is_whole(&Place::plan("yarn.wraps[1]")));
        assert!(places.is_whole(&Place::plan("yarn.wrap")));
        assert!(places.is_whole(&Place::plan("yarn.waste")));
        assert!(places.is_whole(&Place::log("")));
    }
}
