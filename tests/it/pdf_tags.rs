//! The tag tree of a PDF, read back from its bytes: what a screen reader finds, in the order in which it reads.

use std::collections::BTreeMap;

use hayro_syntax::Pdf;
use hayro_syntax::object::{Array, Dict, Name, Object, Stream};

/// An element of the tag tree.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Tagged {
    /// Such as `H1`, `Figure`, `TD`.
    pub(crate) kind: String,
    /// The words that stand for it.
    pub(crate) alt: Option<String>,
    pub(crate) kids: Vec<Kid>,
}

/// What stands in an element.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Kid {
    Element(Tagged),
    /// Marked content: its page and number.
    Content(usize, i32),
}

impl Tagged {
    /// It and all elements in it, in the order of reading.
    pub(crate) fn all(&self) -> Vec<&Self> {
        let below = self.kids.iter().flat_map(|kid| match kid {
            Kid::Element(element) => element.all(),
            Kid::Content(..) => Vec::new(),
        });
        std::iter::once(self).chain(below).collect()
    }

    /// The marked content in it, in the order of reading.
    pub(crate) fn contents(&self) -> Vec<(usize, i32)> {
        let own = |kid: &Kid| match kid {
            Kid::Element(element) => element.contents(),
            Kid::Content(page, number) => vec![(*page, *number)],
        };
        self.kids.iter().flat_map(own).collect()
    }
}

/// The catalog of a file.
pub(crate) fn catalog(pdf: &Pdf) -> Dict<'_> {
    pdf.xref().get(pdf.xref().root_id()).expect("a catalog")
}

/// A text of a PDF: UTF-16 where it says so, else Latin letters.
pub(crate) fn text(dict: &Dict<'_>, key: &str) -> Option<String> {
    let string = dict.get::<hayro_syntax::object::String<'_>>(key)?;
    let bytes = string.as_bytes();
    match bytes.strip_prefix(&[0xfe, 0xff]) {
        Some(wide) => {
            let units: Vec<u16> = wide.chunks_exact(2).map(|pair| u16::from_be_bytes([pair[0], pair[1]])).collect();
            Some(String::from_utf16(&units).expect("a text"))
        }
        None => Some(bytes.iter().map(|byte| char::from(*byte)).collect()),
    }
}

fn name(dict: &Dict<'_>, key: &str) -> Option<String> {
    dict.get::<Name<'_>>(key).map(|name| name.as_str().to_owned())
}

/// The root of the tag tree.
pub(crate) fn tags(pdf: &Pdf) -> Tagged {
    let root: Dict<'_> = catalog(pdf).get("StructTreeRoot").expect("a tag tree");
    let pages = pdf.pages();
    let numbers =
        pages.iter().enumerate().map(|(i, page)| (page.raw().obj_id().map(|id| format!("{id:?}")), i)).collect();
    element(&root, &numbers, None)
}

type Numbers = BTreeMap<Option<String>, usize>;

fn element(dict: &Dict<'_>, numbers: &Numbers, page: Option<usize>) -> Tagged {
    let page = page_of(dict, numbers).or(page);
    let kids = match dict.get::<Object<'_>>("K") {
        Some(Object::Array(kids)) => kids.iter::<Object<'_>>().flat_map(|one| kid(&one, numbers, page)).collect(),
        Some(one) => kid(&one, numbers, page).into_iter().collect(),
        None => Vec::new(),
    };
    Tagged { kind: name(dict, "S").unwrap_or_default(), alt: text(dict, "Alt"), kids }
}

fn page_of(dict: &Dict<'_>, numbers: &Numbers) -> Option<usize> {
    let page: Dict<'_> = dict.get("Pg")?;
    numbers.get(&page.obj_id().map(|id| format!("{id:?}"))).copied()
}

fn kid(object: &Object<'_>, numbers: &Numbers, page: Option<usize>) -> Option<Kid> {
    match object {
        Object::Number(number) => Some(Kid::Content(page.expect("content is on a page"), number.as_f64() as i32)),
        Object::Dict(dict) if name(dict, "Type").as_deref() == Some("MCR") => {
            let page = page_of(dict, numbers).or(page).expect("content is on a page");
            Some(Kid::Content(page, dict.get::<i32>("MCID").expect("its number")))
        }
        Object::Dict(dict) => Some(Kid::Element(element(dict, numbers, page))),
        _ => None,
    }
}

/// What is drawn on the pages, as far as the tag tree is concerned.
#[derive(Debug, Default)]
pub(crate) struct Drawing {
    /// The text of each piece of marked content, by page and number.
    pub(crate) marked: BTreeMap<(usize, i32), String>,
    /// What is drawn outside of all marks, by page: the operators that draw.
    pub(crate) unmarked: Vec<(usize, String)>,
}

/// Operators of a content stream that put something on the paper.
const DRAWING: [&str; 14] = ["f", "F", "f*", "B", "B*", "b", "b*", "S", "s", "sh", "Do", "Tj", "TJ", "'"];

/// Goes through the content of every page.
pub(crate) fn drawing(pdf: &Pdf) -> Drawing {
    let mut found = Drawing::default();
    for (number, page) in pdf.pages().iter().enumerate() {
        let mut open: Vec<Option<i32>> = Vec::new();
        let mut letters: BTreeMap<u16, String> = BTreeMap::new();
        let mut operations = page.operations();
        while let Some(operation) = operations.next() {
            let operator = String::from_utf8_lossy(operation.operator).into_owned();
            let operands: Vec<&Object<'_>> = operation.operands().collect();
            match operator.as_str() {
                "BDC" | "BMC" => {
                    let number = match operands.get(1) {
                        Some(Object::Dict(dict)) => dict.get::<i32>("MCID"),
                        _ => None,
                    };
                    open.push(number);
                }
                "EMC" => {
                    open.pop().expect("a mark ends that began");
                }
                "Tf" => {
                    let Some(Object::Name(font)) = operands.first() else { panic!("a font has a name") };
                    letters = letters_of(&page.resources().get_font(font).expect("a font"));
                }
                _ => {}
            }
            if !DRAWING.contains(&operator.as_str()) {
                continue;
            }
            match open.iter().rev().find_map(|mark| *mark) {
                Some(mark) => found.marked.entry((number, mark)).or_default().push_str(&shown(&operands, &letters)),
                None if open.is_empty() => found.unmarked.push((number, operator)),
                None => {}
            }
        }
        assert!(open.is_empty(), "every mark ends");
    }
    found
}

/// The text that an operator shows.
fn shown(operands: &[&Object<'_>], letters: &BTreeMap<u16, String>) -> String {
    let of_bytes = |bytes: &[u8]| -> String {
        let glyphs = bytes.chunks_exact(2).map(|pair| u16::from_be_bytes([pair[0], pair[1]]));
        glyphs.map(|glyph| letters.get(&glyph).cloned().unwrap_or_else(|| "\u{fffd}".to_owned())).collect()
    };
    let of_object = |object: &Object<'_>| match object {
        Object::String(string) => of_bytes(string.as_bytes()),
        _ => String::new(),
    };
    match operands.first() {
        Some(Object::Array(pieces)) => pieces.iter::<Object<'_>>().map(|piece| of_object(&piece)).collect(),
        Some(one) => of_object(one),
        None => String::new(),
    }
}

/// Which characters the glyphs of a font stand for, by its own table.
fn letters_of(font: &Dict<'_>) -> BTreeMap<u16, String> {
    let table: Stream<'_> = font.get("ToUnicode").expect("a font says what its glyphs stand for");
    let table = table.decoded().expect("a table");
    let table = String::from_utf8_lossy(&table).into_owned();
    let mut letters = BTreeMap::new();
    let (mut is_single, mut is_range) = (false, false);
    for line in table.lines() {
        match line.split_whitespace().last() {
            Some("beginbfchar") => is_single = true,
            Some("beginbfrange") => is_range = true,
            Some("endbfchar" | "endbfrange") => (is_single, is_range) = (false, false),
            _ if is_single => {
                let hex: Vec<&str> = line.split(['<', '>']).filter(|part| !part.trim().is_empty()).collect();
                letters.insert(u16::from_str_radix(hex[0], 16).expect("a glyph"), unicode(hex[1]));
            }
            _ => assert!(!is_range, "the writer makes no ranges: {line}"),
        }
    }
    letters
}

fn unicode(hex: &str) -> String {
    let units: Vec<u16> =
        (0..hex.len() / 4).map(|i| u16::from_str_radix(&hex[4 * i..4 * i + 4], 16).expect("hex")).collect();
    String::from_utf16(&units).expect("a text")
}

/// Fonts of which some part is not in the file.
pub(crate) fn fonts_left_out(pdf: &Pdf) -> (usize, Vec<String>) {
    let mut count = 0;
    let mut left_out = Vec::new();
    for object in pdf.objects() {
        let Object::Dict(font) = object else { continue };
        if name(&font, "Type").as_deref() != Some("Font") {
            continue;
        }
        count += 1;
        let descendants = font.get::<Array<'_>>("DescendantFonts");
        let real: Vec<Dict<'_>> = descendants.map_or_else(|| vec![font.clone()], |fonts| fonts.iter().collect());
        for font in real {
            let file: Option<Dict<'_>> = font.get("FontDescriptor");
            let keys = ["FontFile", "FontFile2", "FontFile3"];
            if !file.is_some_and(|file| keys.iter().any(|key| file.get::<Stream<'_>>(*key).is_some())) {
                left_out.push(name(&font, "BaseFont").unwrap_or_default());
            }
        }
    }
    (count, left_out)
}
