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
    // Quantities that can be read and make no sense.
    /// A weight, a length, a ratio or a number of things is nought or below.
    NotPositive => "not-positive", Error;
    /// A quantity or a number of things is out of all proportion.
    Implausible => "implausible", Error;
    /// A yarn number does not say in which system it counts.
    CountWithoutSystem => "count-without-system", Error;
    /// A gauge or a size is not written as one.
    UnreadableMeasure => "unreadable-measure", Error;
    /// A comma is read as the mark of the decimals.
    CommaDecimal => "comma-decimal", Warning;
    // Names.
    /// A name cannot be used in the name of a figure or of a file.
    UnusableName => "unusable-name", Error;
    /// A name refers to nothing in the plan.
    UnknownName => "unknown-name", Error;
    /// A name could refer to several things in the plan.
    AmbiguousName => "ambiguous-name", Error;
    /// Two things of one kind have the same name.
    DuplicateName => "duplicate-name", Error;
    /// A tint is not written as one.
    NotATint => "not-a-tint", Error;
    /// A text is too long to be printed on a sheet.
    TooLong => "text-too-long", Error;
    // Entries against each other.
    /// Two entries say the same thing twice, or cannot both hold.
    Contradiction => "contradiction", Error;
    /// Wraps and grist are not of one yarn.
    WrapsAgainstGrist => "wraps-against-grist", Error;
    /// A ply plan or a chosen sample has other plies than the yarn.
    PliesDiffer => "plies-differ", Error;
    /// Singles are plied the way they are spun, so that the yarn does not balance.
    DirectionsAlike => "directions-alike", Warning;
    /// Parts do not add up to their whole.
    DoesNotAddUp => "does-not-add-up", Error;
    /// More is set aside than there is.
    MoreThanThereIs => "more-than-there-is", Error;
    /// Nothing tells how much yarn a garment takes.
    NoWayToLength => "no-way-to-length", Error;
    /// The yarn in a stitch does not follow from its gauge.
    StitchNeedsSwatch => "stitch-needs-swatch", Error;
    /// A sample is chosen of which nothing was measured that can be used.
    EmptySample => "empty-sample", Error;
    /// A colour of a braid is shorter than its fibres are.
    ShortSection => "short-section", Warning;
    /// A braid is not dyed as the plan says.
    DyedOtherwise => "dyed-otherwise", Warning;
    /// Yarn is to be fulled whose fibre does not felt.
    WillNotFull => "will-not-full", Warning;
    /// Weights of different days cannot be brought to one dampness.
    NotComparable => "not-comparable", Warning;
    /// Whole repeats make an edge much wider or narrower than it is reckoned.
    RepeatMisses => "repeat-misses", Warning;
    /// An exercise is chosen whose figures the plan does not have.
    ExerciseLacks => "exercise-lacks-figures", Error;
    /// An entry has no effect.
    Unused => "unused", Warning;
    // What the paper cannot show.
    /// A text holds a character that no shipped font has.
    NoGlyph => "no-glyph", Error;
    // What the ledger finds: the impossible, and beliefs that do not hold.
    /// The yarn is finer than the fibre can be spun.
    TooFine => "too-fine", Error;
    /// The yarn is about as fine as the fibre can be spun.
    Fine => "fine", Warning;
    /// A draw lets in more yarn at a time than its fibres are long.
    LongerThanStaple => "longer-than-staple", Warning;
    /// More twist than round plies could take.
    HardTwist => "hard-twist", Warning;
    /// No whorl of the wheel gives the twist.
    WhorlOutOfReach => "whorl-out-of-reach", Error;
    /// At the speed of the flyer no hand keeps the time that the twist asks for.
    SpeedOutOfReach => "speed-out-of-reach", Error;
    /// The fibre needs more sets of bobbins than any plan has.
    BobbinTooSmall => "bobbin-too-small", Error;
    /// Strips are too thin to be torn and drafted.
    StripTooThin => "strip-too-thin", Error;
    /// The strips of a ply do not deal out evenly over the sets.
    StripsDoNotDeal => "strips-do-not-deal", Error;
    /// There are fewer bobbins than one set and the plied yarn take.
    TooFewBobbins => "too-few-bobbins", Error;
    /// A figure has no finite value.
    Impossible => "impossible", Error;
    /// A figure is not what the plan expects it to be.
    ExpectationFailed => "expectation-failed", Error;
    /// No figure has this name.
    UnknownFigure => "unknown-figure", Error;
}
