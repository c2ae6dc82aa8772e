//! All that is drawn on typeset pages with its place, for tests: text by the extents of its glyphs, and shapes with their tones.

use std::collections::BTreeMap;

use typst::introspection::{Location, Tag};
use typst::layout::{Abs, Frame, FrameItem, Point, Rect, Transform};
use typst::visualize::{Geometry, Paint, Shape};
use typst_layout::PagedDocument;

/// A box on a page, in points from the page's upper left corner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    /// Its left side.
    pub left: f64,
    /// Its upper side.
    pub top: f64,
    /// Its right side.
    pub right: f64,
    /// Its lower side.
    pub bottom: f64,
}

impl Bounds {
    /// How deep two boxes lie in each other: the lesser of the overlaps across and down, less than nothing where they are apart.
    pub fn overlap(&self, other: &Self) -> f64 {
        let across = self.right.min(other.right) - self.left.max(other.left);
        let down = self.bottom.min(other.bottom) - self.top.max(other.top);
        across.min(down)
    }

    /// How far this box stands out of another, and less than nothing where it lies inside of it.
    pub fn beyond(&self, other: &Self) -> f64 {
        let across = (other.left - self.left).max(self.right - other.right);
        let down = (other.top - self.top).max(self.bottom - other.bottom);
        across.max(down)
    }

    fn of(rect: Rect, transform: Transform) -> Self {
        let corners = [rect.min, Point::new(rect.max.x, rect.min.y), rect.max, Point::new(rect.min.x, rect.max.y)];
        let corners = corners.map(|corner| corner.transform(transform));
        let least = |of: fn(&Point) -> f64| corners.iter().map(of).fold(f64::INFINITY, f64::min);
        let most = |of: fn(&Point) -> f64| corners.iter().map(of).fold(f64::NEG_INFINITY, f64::max);
        Self {
            left: least(|p| p.x.to_pt()),
            top: least(|p| p.y.to_pt()),
            right: most(|p| p.x.to_pt()),
            bottom: most(|p| p.y.to_pt()),
        }
    }

    fn cut_to(self, other: &Self) -> Self {
        Self {
            left: self.left.max(other.left),
            top: self.top.max(other.top),
            right: self.right.min(other.right),
            bottom: self.bottom.min(other.bottom),
        }
    }
}

/// A tone in sRGB, each share from 0 to 1.
pub type Tone = [f64; 3];

/// What is drawn.
#[derive(Debug, Clone)]
pub enum What {
    /// A run of text with its tone.
    Text(String, Tone),
    /// A shape, and how its own places are found from those of the page.
    Shape(Shape, Transform),
}

/// An element of the document, such as a heading or a figure: its name in the typesetting library, and which of all it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Element {
    /// Its name.
    pub name: &'static str,
    /// Its number, in the order of the document.
    pub number: usize,
}

/// Something drawn on a page.
#[derive(Debug, Clone)]
pub struct Drawn {
    /// Page, from 0.
    pub page: usize,
    /// The box round its glyphs, or round its stroke.
    pub bounds: Bounds,
    /// What is seen of the page where it is drawn: all of it, or what a box is clipped to.
    pub window: Option<Bounds>,
    /// The elements in which it stands, from the outermost.
    pub within: Vec<Element>,
    /// What it is.
    pub what: What,
}

impl Drawn {
    /// Its characters, where it is text.
    pub fn text(&self) -> Option<&str> {
        match &self.what {
            What::Text(text, _) => Some(text),
            What::Shape(..) => None,
        }
    }

    /// The tone with which it covers a place of its page, in points, where it does.
    pub fn tone_at(&self, x: f64, y: f64) -> Option<Tone> {
        let What::Shape(shape, to_its_own) = &self.what else { return None };
        let here = Bounds { left: x, top: y, right: x, bottom: y };
        if self.window.is_some_and(|window| here.beyond(&window) > 0.0) || here.beyond(&self.bounds) > 0.0 {
            return None;
        }
        let place = Point::new(Abs::pt(x), Abs::pt(y)).transform(*to_its_own);
        let is_inside = match &shape.geometry {
            Geometry::Line(_) => false,
            Geometry::Rect(_) => true,
            Geometry::Curve(curve) => curve.contains(shape.fill_rule, place),
        };
        shape.fill.as_ref().filter(|_| is_inside).map(tone)
    }

    /// The boxes round its strokes where these are straight and run along the paper's edges, in points; no others.
    pub fn strokes(&self) -> Vec<Bounds> {
        let What::Shape(shape, _) = &self.what else { return Vec::new() };
        let Some(stroke) = &shape.stroke else { return Vec::new() };
        let (width, all) = (stroke.thickness.to_pt(), self.bounds);
        match &shape.geometry {
            Geometry::Line(to) if to.x.to_pt().abs() < 0.01 || to.y.to_pt().abs() < 0.01 => vec![all],
            Geometry::Rect(_) => vec![
                Bounds { right: all.left + width, ..all },
                Bounds { left: all.right - width, ..all },
                Bounds { bottom: all.top + width, ..all },
                Bounds { top: all.bottom - width, ..all },
            ],
            Geometry::Line(_) | Geometry::Curve(_) => Vec::new(),
        }
    }
}

/// The tone of a paint. Sheets are painted with plain colours alone.
pub fn tone(paint: &Paint) -> Tone {
    let Paint::Solid(colour) = paint else { panic!("invariant: sheets are painted in plain colours: {paint:?}") };
    let rgb = colour.to_rgb();
    [rgb.red, rgb.green, rgb.blue].map(f64::from)
}

/// All that is drawn in a document, page by page, in the order in which it is drawn.
pub fn drawn(document: &PagedDocument) -> Vec<Drawn> {
    let mut walk = Walk::default();
    for typeset in document.pages() {
        walk.elements(&typeset.frame);
    }
    for (page, typeset) in document.pages().iter().enumerate() {
        walk.page = page;
        walk.frame(&typeset.frame, Transform::identity(), None);
    }
    walk.found
}

/// A walk through frames.
#[derive(Default)]
struct Walk {
    page: usize,
    /// All elements, by their places in the document.
    elements: BTreeMap<u128, Element>,
    /// The elements that have begun and not ended.
    open: Vec<Location>,
    found: Vec<Drawn>,
}

impl Walk {
    fn elements(&mut self, frame: &Frame) {
        for (_, item) in frame.items() {
            match item {
                FrameItem::Group(group) => self.elements(&group.frame),
                FrameItem::Tag(Tag::Start(content, _)) => {
                    let element = Element { name: content.elem().name(), number: self.elements.len() };
                    // A head that is set again on a later page is the same element.
                    if let Some(place) = content.location() {
                        self.elements.entry(place.hash()).or_insert(element);
                    }
                }
                _ => {}
            }
        }
    }

    fn frame(&mut self, frame: &Frame, transform: Transform, window: Option<Bounds>) {
        for (position, item) in frame.items() {
            let moved = transform.pre_concat(Transform::translate(position.x, position.y));
            match item {
                FrameItem::Group(group) => {
                    let inner = moved.pre_concat(group.transform);
                    let clip = group.clip.as_ref().map(|clip| Bounds::of(clip.bbox(None), inner));
                    let seen = clip.map(|clip| window.map_or(clip, |window| clip.cut_to(&window))).or(window);
                    // What goes on from another page, such as a broken cell, tells only to which element it belongs.
                    let parent = group.parent.map(|parent| parent.location);
                    self.open.extend(parent);
                    self.frame(&group.frame, inner, seen);
                    self.open.retain(|open| Some(*open) != parent);
                }
                FrameItem::Text(text) if text.text.trim().is_empty() => {}
                FrameItem::Text(text) => {
                    let what = What::Text(text.text.to_string(), tone(&text.fill));
                    self.push(Bounds::of(text.bbox(), moved), window, what);
                }
                FrameItem::Shape(shape, _) => {
                    let back = moved.invert().expect("invariant: nothing is drawn flat");
                    self.push(Bounds::of(shape.bbox(true), moved), window, What::Shape(shape.clone(), back));
                }
                FrameItem::Tag(Tag::Start(content, _)) => self.open.extend(content.location()),
                FrameItem::Tag(Tag::End(place, ..)) => self.open.retain(|open| open != place),
                FrameItem::Image(..) | FrameItem::Link(..) => {}
            }
        }
    }

    fn push(&mut self, bounds: Bounds, window: Option<Bounds>, what: What) {
        let within = self.open.iter().filter_map(|place| self.elements.get(&place.hash()).copied()).collect();
        self.found.push(Drawn { page: self.page, bounds, window, within, what });
    }
}
