//! What the plan language will say in a later release, and until then refuses by name.
//!
//! A key that is planned is neither unknown nor ignored: the spinner is told that it is not calculated yet.

use crate::diagnostics::File;

/// One table or key to come.
pub(crate) struct Later {
    file: File,
    /// The path with `*` for a name of the spinner's own and `[]` for a place in a list.
    path: &'static str,
    /// What does not exist yet, as the end of "... is not calculated yet".
    pub(crate) what: &'static str,
}

/// The entry at `path`, if that is to come.
pub(crate) fn later(file: File, path: &str) -> Option<&'static Later> {
    LATER.iter().find(|later| later.file == file && later.path == path)
}

const fn key(path: &'static str, what: &'static str) -> Later {
    Later { file: File::Plan, path, what }
}

const LATER: &[Later] = &[key("class", "a plan for a class")];
