//! What the typesetting library may see: templates, fonts, and the data of one document.

use std::path::PathBuf;
use std::sync::LazyLock;

use typst::diag::{FileError, FileResult, SourceDiagnostic};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};
use typst_kit::files::{FileLoader, FileStore, FsRoot};
use typst_kit::fonts::FontStore;
use typst_layout::PagedDocument;

use super::fault::{Fault, shown};
use super::shelf;

/// The file that typesetting begins with.
pub(super) const MAIN: &str = "main.typ";

static LIBRARY: LazyLock<LazyHash<Library>> = LazyLock::new(|| LazyHash::new(Library::builder().build()));
static FONTS: LazyLock<FontStore> = LazyLock::new(|| {
    let mut store = FontStore::new();
    for (_, bytes) in shelf::FONTS {
        store.extend(Font::iter(Bytes::new(*bytes)).map(|font| {
            let info = font.info().clone();
            (font, info)
        }));
    }
    store
});

/// Where templates come from.
#[derive(Debug, Clone, Default)]
pub enum Templates {
    /// From the binary.
    #[default]
    Shipped,
    /// From a folder of the user's own.
    Folder(PathBuf),
}

/// Typesets `main.typ` among the given files. Warnings are faults: a template that draws one is not finished.
pub(super) fn typeset(templates: &Templates, files: Vec<(String, Vec<u8>)>) -> Result<PagedDocument, Fault> {
    let desk = Desk::new(templates, files);
    let result = typst::compile::<PagedDocument>(&desk);
    let faults: Vec<SourceDiagnostic> = match &result.output {
        Ok(_) => result.warnings.iter().cloned().collect(),
        Err(errors) => errors.iter().chain(&result.warnings).cloned().collect(),
    };
    if !faults.is_empty() {
        return Err(shown(&desk, &faults));
    }
    result.output.map_err(|errors| shown(&desk, &errors))
}

/// The world of one document.
pub(super) struct Desk {
    files: FileStore<Shelf>,
    templates: Templates,
    main: FileId,
}

struct Shelf {
    templates: Templates,
    files: Vec<(String, Bytes)>,
}

impl Desk {
    pub(super) fn new(templates: &Templates, files: Vec<(String, Vec<u8>)>) -> Self {
        let files = files.into_iter().map(|(path, bytes)| (path, Bytes::new(bytes))).collect();
        let shelf = Shelf { templates: templates.clone(), files };
        Self { files: FileStore::new(shelf), templates: templates.clone(), main: id(MAIN) }
    }

    /// Where its templates come from.
    pub(super) fn templates(&self) -> &Templates {
        &self.templates
    }
}

fn id(path: &str) -> FileId {
    RootedPath::new(VirtualRoot::Project, VirtualPath::new(path).expect("invariant: a path of our own")).intern()
}

impl FileLoader for Shelf {
    fn load(&self, id: FileId) -> FileResult<Bytes> {
        let path = id.vpath().get_without_slash();
        if let Some((_, bytes)) = self.files.iter().find(|(name, _)| name == path) {
            return Ok(bytes.clone());
        }
        match &self.templates {
            Templates::Folder(folder) => FsRoot::new(folder.clone()).load(id.vpath()),
            Templates::Shipped => match shelf::TEMPLATES.iter().find(|(name, _)| *name == path) {
                Some((_, text)) => Ok(Bytes::from_string(*text)),
                None => Err(FileError::NotFound(path.into())),
            },
        }
    }
}

impl World for Desk {
    fn library(&self) -> &LazyHash<Library> {
        &LIBRARY
    }

    fn book(&self) -> &LazyHash<FontBook> {
        FONTS.book()
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        self.files.source(id)
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        self.files.file(id)
    }

    fn font(&self, index: usize) -> Option<Font> {
        FONTS.font(index)
    }

    /// No clock: the same plan gives the same sheets on any day.
    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        None
    }
}

/// Whether some shipped font has a character.
pub(crate) fn covers(c: char) -> bool {
    let book = FONTS.book();
    book.families().any(|(family, _)| {
        book.select_family(&family.to_lowercase())
            .any(|index| book.info(index).is_some_and(|info| info.coverage.contains(u32::from(c))))
    })
}
