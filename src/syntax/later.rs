//! What the plan language will say in a later release, and until then refuses by name.
//!
//! A key that is planned is neither unknown nor ignored: the spinner is told that it is not calculated yet.

use toml::de::DeValue;

use crate::diagnostics::File;

/// One table, key or word to come.
pub(crate) struct Later {
    file: File,
    /// The path with `*` for a name of the spinner's own and `[]` for a place in a list.
    path: &'static str,
    /// The words that are to come; none for the whole key.
    words: &'static [&'static str],
    /// What does not exist yet, as the end of "... is not calculated yet".
    pub(crate) what: &'static str,
}

/// The entry for `value` at `path`, if that is to come.
pub(crate) fn later(file: File, path: &str, value: &DeValue) -> Option<&'static Later> {
    LATER.iter().find(|later| {
        later.file == file
            && later.path == path
            && (later.words.is_empty() || value.as_str().is_some_and(|word| later.words.contains(&word)))
    })
}

const fn key(path: &'static str, what: &'static str) -> Later {
    Later { file: File::Plan, path, words: &[], what }
}

const fn words(path: &'static str, words: &'static [&'static str], what: &'static str) -> Later {
    Later { file: File::Plan, path, words, what }
}

const fn entry(path: &'static str, what: &'static str) -> Later {
    Later { file: File::Log, path, words: &[], what }
}

const LATER: &[Later] = &[
    key("alternative", "an alternative to the plan"),
    key("class", "a plan for a class"),
    key("colour-wish", "where the colours fall in the yarn"),
    key("trim", "yarn for trims"),
    key("garment.*.chest", "a garment from its measures"),
    key("garment.*.ease", "a garment from its measures"),
    key("garment.*.finished-chest", "a garment from its measures"),
    key("garment.*.hem", "a garment from its measures"),
    key("garment.*.shape", "a garment from its measures"),
    key("garment.*.sleeve", "a garment from its measures"),
    key("garment.*.to-fit-chest", "a garment from its measures"),
    key("plying.drive", "plying on another wheel"),
    key("plying.lead", "plying on another wheel"),
    key("plying.whorls", "plying on another wheel"),
    key("wheel.flyer-speed", "spinning on an electric wheel"),
    words("wheel.lead", &["bobbin"], "the turn that a driven bobbin loses at each wrap"),
    words("wheel.drive", &["electric", "e-spinner"], "spinning on an electric wheel"),
    words("wheel.drive", &["spindle"], "spinning on a spindle"),
    entry("bobbin", "a log of bobbins"),
    entry("skein", "a log of skeins"),
    entry("strips", "a log of torn strips"),
    entry("weighing", "a log of weighings"),
];
