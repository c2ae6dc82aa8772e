//! Faults of a plan, as plain values: what is wrong, where, and what to write instead.
//!
//! Foundation: every stage makes diagnostics, none of them prints one. [`render`] turns them into text beside the
//! lines they are about. A fault of the machine (an unreadable file, a full disk) is never one of these.

pub mod code;
pub mod render;

use std::fmt::Write;
use std::ops::Range;

pub use code::{Code, Severity};

/// One of the two files of a project.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum File {
    /// `plan.toml`.
    Plan,
    /// `log.toml`.
    Log,
}

/// Where a value stands in a file, by keys and not by bytes, so that spacing and comments do not move it:
/// `braid.north.weights[2]`, `sample[1].skein.loop`. The empty path is the whole file.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place {
    /// Which file.
    pub file: File,
    /// The keys from the outside in, joined by dots; places in a list count from 0.
    pub path: String,
}

impl Place {
    /// A place in the plan; `""` is the whole of it.
    pub fn plan(path: impl Into<String>) -> Place {
        Place { file: File::Plan, path: path.into() }
    }

    /// A place in the log; `""` is the whole of it.
    pub fn log(path: impl Into<String>) -> Place {
        Place { file: File::Log, path: path.into() }
    }

    /// The key `name` of the table at this place; quoted where TOML would have to quote it.
    #[must_use]
    pub fn key(&self, name: &str) -> Place {
        let mut path = self.path.clone();
        if !path.is_empty() {
            path.push('.');
        }
        let is_bare = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '_';
        if !name.is_empty() && name.chars().all(is_bare) {
            path.push_str(name);
        } else {
            write!(path, "{name:?}").expect("invariant: writing to a string does not fail");
        }
        Place { file: self.file, path }
    }

    /// The value number `i`, from 0, of the list at this place.
    #[must_use]
    pub fn index(&self, i: usize) -> Place {
        Place { file: self.file, path: format!("{}[{i}]", self.path) }
    }
}

/// Which half of `key = value` is meant. A table written under a header has its header line for both.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Part {
    /// What stands left of the equals sign.
    Key,
    /// What stands right of it.
    Value,
}

/// What a label points at.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Spot {
    /// A key or a value.
    Path(Place, Part),
    /// Bytes of the file as it was read; only `source` and `syntax` know any.
    Bytes(File, Range<usize>),
}

/// A spot and what is to be said about it; the text may be empty.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Label {
    /// What it points at.
    pub spot: Spot,
    /// What is said there, in few words.
    pub text: String,
}

/// One fault. Texts may quote the plan as it is: `render` makes them safe for a terminal.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Diagnostic {
    /// Which fault it is.
    pub code: Code,
    /// The headline: lower case, no full stop, understood by itself; expected before found.
    pub message: String,
    /// The smallest spot that is wrong.
    pub primary: Label,
    /// What it is in conflict with.
    pub secondary: Vec<Label>,
    /// Facts, as sentences.
    pub notes: Vec<String>,
    /// What to do, with the corrected TOML where possible.
    pub help: Option<String>,
}

impl Diagnostic {
    /// A fault of the value at `place`.
    pub fn new(code: Code, message: impl Into<String>, place: Place) -> Diagnostic {
        Diagnostic::at(code, message, Spot::Path(place, Part::Value))
    }

    /// A fault at any spot.
    pub fn at(code: Code, message: impl Into<String>, spot: Spot) -> Diagnostic {
        Diagnostic {
            code,
            message: message.into(),
            primary: Label { spot, text: String::new() },
            secondary: Vec::new(),
            notes: Vec::new(),
            help: None,
        }
    }

    /// Says something at the primary spot.
    #[must_use]
    pub fn label(mut self, text: impl Into<String>) -> Diagnostic {
        self.primary.text = text.into();
        self
    }

    /// Points the primary label at the key instead of its value.
    #[must_use]
    pub fn at_key(mut self) -> Diagnostic {
        if let Spot::Path(_, part) = &mut self.primary.spot {
            *part = Part::Key;
        }
        self
    }

    /// Points at a second value, and says what it has to do with the first.
    #[must_use]
    pub fn also(mut self, place: Place, text: impl Into<String>) -> Diagnostic {
        self.secondary.push(Label { spot: Spot::Path(place, Part::Value), text: text.into() });
        self
    }

    /// Adds a fact.
    #[must_use]
    pub fn note(mut self, text: impl Into<String>) -> Diagnostic {
        self.notes.push(text.into());
        self
    }

    /// Says what to do; a second call replaces the first.
    #[must_use]
    pub fn help(mut self, text: impl Into<String>) -> Diagnostic {
        self.help = Some(text.into());
        self
    }
}
