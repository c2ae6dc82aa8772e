//! Typeset pages to bytes, and bytes to files: the only writer of files.
//!
//! The arrows are [`pdf`], [`png()`] and [`svg`]; [`write()`] puts files on the disk whole or not at all.

mod append;
mod picture;
mod write;

use typst::diag::SourceDiagnostic;
use typst::foundations::Smart;
use typst::syntax::Span;
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};

pub use append::{StoreError, append_to};
pub use picture::{PIXELS_PER_INCH, png, svg};
pub use write::{Failure, remove, write, write_new};

/// The PDF of a document: tagged, PDF/UA-1, without a date, the same bytes every time.
///
/// # Errors
/// Where the document does not meet the standard, which is a fault of the templates; [`crate::document::fault`] tells it.
pub fn pdf(document: &PagedDocument, ident: &str) -> Result<Vec<u8>, Vec<SourceDiagnostic>> {
    let standards = PdfStandards::new(&[PdfStandard::Ua_1])
        .map_err(|error| vec![SourceDiagnostic::error(Span::detached(), error.message().clone())])?;
    let options = PdfOptions {
        ident: Smart::Custom(ident.into()),
        creator: Smart::Custom(None),
        timestamp: None,
        page_ranges: None,
        standards,
        tagged: true,
        pretty: false,
    };
    typst_pdf::pdf(document, &options).map_err(|errors| errors.into_iter().collect())
}
