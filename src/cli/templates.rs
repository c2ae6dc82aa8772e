//! `templates`: the shipped templates as files, to change.

use std::path::Path;

use super::show::{failed, number, refused, say};
use super::{End, How};
use crate::{document, pages, source};

pub(super) fn templates(folder: &Path, how: How) -> End {
    let files = document::shipped();
    match source::foreign(folder, &files) {
        Ok(None) => {}
        Ok(Some(path)) => {
            return refused(&format!(
                "{} is not as this program writes it, so that nothing was written; name a new folder",
                path.display()
            ));
        }
        Err(failure) => return failed(&failure.to_string()),
    }
    let files: Vec<_> = files.iter().collect();
    match pages::write(folder, &files) {
        Ok(()) => {
            if !how.quiet {
                let (count, folder) = (number(files.len(), "file"), folder.display());
                say(&format!("{count} in {folder}; {folder}/fields.md tells what a template may read"));
                say(&format!("`wheelsheet build --templates {folder}` uses them"));
            }
            End::Well
        }
        Err(failure) => failed(&failure.to_string()),
    }
}
