//! The list of all faults that a plan can have. Each has a slug, which is never renamed, and a document.
//!
//! To add one: a line in the list below, `codes/<slug>.md` beside this file in the form of its neighbours, a case
//! under `tests/ui/<slug>/`, and the place that raises it.

/// How bad a fault is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// Nothing of this plan is written.
    Error,
    /// The plan is built all the same.
    Warning,
}

macro_rules! codes {
    ($( $(#[doc = $doc:literal])+ $name:ident => $slug:literal, $severity:ident; )+) => {
        /// Which fault a diagnostic is about.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Code {
            $( $(#[doc = $doc])+ $name, )+
        }

        impl Code {
            /// All codes, in the order of the list.
            pub const ALL: &[Code] = &[$( Code::$name, )+];

            /// The name under which people look it up; never renamed.
            pub fn slug(self) -> &'static str {
                match self { $( Code::$name => $slug, )+ }
            }

            /// Whether a plan with this fault is built.
            pub fn severity(self) -> Severity {
                match self { $( Code::$name => Severity::$severity, )+ }
            }

            /// What it means and what to write instead, in Markdown.
            pub fn document(self) -> &'static str {
                match self { $( Code::$name => include_str!(concat!("codes/", $slug, ".md")), )+ }
            }
        }
    };
}

codes! {
    // The file as a whole.
    /// A file has nothing in it.
    EmptyFile => "empty-file", Error;
    /// A file is larger than any plan could be.
    TooLarge => "too-large", Error;
    /// A file is not written in UTF-8.
    NotUtf8 => "not-utf8", Error;
    /// A file begins with a mark that editors add unseen.
    ByteOrderMark => "byte-order-mark", Warning;
    // The text as TOML.
    /// A line is not TOML.
    Syntax => "syntax", Error;
    /// A key or a table is written twice.
    DuplicateKey => "duplicate-key", Error;
    /// Brackets or dotted keys are nested deeper than any plan needs.
    TooDeep => "too-deep", Error;
    /// A text holds a character that cannot be seen or printed.
    ControlCharacter => "control-character", Error;
    // Tables and keys.
    /// A table or key has a name that the plan language does not know.
    UnknownKey => "unknown-key", Error;
    /// A table, key or word belongs to a part of the plan language that is not built yet.
    NotYet => "not-yet", Error;
    /// A value is of another kind than its key takes.
    WrongType => "wrong-type", Error;
    /// A word is none of those that its key takes.
    UnknownWord => "unknown-word", Error;
    /// A key is left out that has no default.
    MissingKey => "missing-key", Error;
    // Quantities.
    /// A number stands without a unit.
    MissingUnit => "missing-unit", Error;
    /// A quantity is written with a unit that no table knows.
    UnknownUnit => "unknown-unit", Error;
    /// A unit measures something else than its key asks for.
    WrongKind => "wrong-kind", Error;
    /// A comma could part decimals or thousands.
    AmbiguousComma => "ambiguous-comma", Error;
    /// What should be a number cannot be read as one.
    NotANumber => "not-a-number", Error;
}
