//! Typeset pages to bytes, and bytes to files: the only writer of files.
//!
//! The arrows are [`pdf`], [`png()`] and [`svg`]; [`write()`] puts files on the disk whole or not at all.

mod picture;
mod write;

use typst::foundations::Smart;
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};

use crate::document::Fault;
pub use picture::{PIXELS_PER_INCH, png, svg};
pub use write::{Failure, remove, write, write_new};

/// The PDF of a document: tagged, PDF/UA-1, without a date, the same bytes every time.
///
/// # Errors
/// Where the document does not meet the standard, which is a fault of the templates.
pub fn pdf(document: &PagedDocument, ident: &str) -> Result<Vec<u8>, Fault> {
    let options = PdfOptions {
        ident: Smart::Custom(ident.into()),
        creator: Smart::Custom(None),
        timestamp: None,
        page_ranges: None,
        standards: PdfStandards::new(&[PdfStandard::Ua_1]).map_err(|error| Fault(error.message().to_string()))?,
        tagged: true,
        pretty: false,
    };
    typst_pdf::pdf(document, &options).map_err(|errors| {
        let told: Vec<String> = errors.iter().map(|error| error.message.to_string()).collect();
        Fault(told.join("\n"))
    })
}
