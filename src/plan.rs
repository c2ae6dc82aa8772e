//! The checked plan and log: plain values, units read, names resolved, defaults filled in and marked as such.
//!
//! Foundation: made by `check`, read by every stage right of it. No byte spans: a reading carries its place by keys,
//! so that spacing and comments change nothing here. Serialisable on purpose nowhere; hashed as a whole for the fingerprint.

use std::hash::{Hash, Hasher};
use std::marker::PhantomData;

use crate::diagnostics::Place;
use crate::units::{
    Angle, Area, Count, FibreDiameter, Kind, Length, LinearDensity, Mass, Ratio, Rows, Share, Standing, Stitches,
    System, Twist, Unit, Wraps,
};

/// One number of the plan, the log or the table of defaults, with its spread and where it comes from.
#[derive(Debug, Clone)]
pub struct Reading<Q> {
    /// Nominal value in base units.
    pub value: f64,
    /// Standard uncertainty in base units: half of what stands after `±`, which is read as nineteen times in twenty.
    pub uncertainty: f64,
    /// How it is spread.
    pub shape: Shape,
    /// Where it stands; for a default the key under which it would stand.
    pub place: Place,
    /// As written, with its unit: `205 m/100g`; for a default as one would write it.
    pub text: String,
    /// The unit in which it is written.
    pub unit: &'static Unit,
    /// Who says so.
    pub origin: Origin,
    /// The quantity as a type.
    pub quantity: PhantomData<fn() -> Q>,
}

/// How a reading is spread about its nominal value.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Shape {
    /// Normal: shares of shortening, stretching, lightening, which may be negative.
    Normal,
    /// Log-normal, with the nominal value as median: everything that cannot be negative.
    LogNormal,
}

/// Who says a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Origin {
    /// An entry of the plan: what is wished or known.
    Entry,
    /// A reading: an entry of the log, or one that the plan calls measured.
    Measured,
    /// Left out, and taken as a stated default with its standing and reason.
    Default(Standing, &'static str),
}

impl<Q> Hash for Reading<Q> {
    /// What is hashed is what decides about figures: not the spelling.
    fn hash<H: Hasher>(&self, state: &mut H) {
        (self.value.to_bits(), self.uncertainty.to_bits(), self.shape, &self.place, self.unit.symbol, self.origin)
            .hash(state);
    }
}

/// A checked plan with its log.
#[derive(Debug, Clone, Hash)]
pub struct Plan {
    /// Title, printed on every sheet.
    pub title: String,
    /// Day the project was begun.
    pub started: Option<Date>,
    /// Which system of units leads.
    pub units: System,
    /// Paper the sheets are printed on.
    pub paper: Paper,
    /// Whose craft words are used.
    pub terms: Terms,
    /// How sure the spinner wants to be that the yarn is enough; exact, above one half and below one.
    pub sure_of_enough: Reading<Share>,
    /// What is spun on top; exact.
    pub reserve: Reading<Share>,
    /// Fibres, in order of writing; at least one.
    pub fibres: Vec<Fibre>,
    /// Colours, in order of writing.
    pub colours: Vec<Colour>,
    /// What there is to spin, in order of writing: each `[braid.*]`, and each fibre with a weight of its own. At least one.
    pub supplies: Vec<Supply>,
    /// Wheel the singles are spun on.
    pub wheel: Wheel,
    /// How they are plied.
    pub plying: Plying,
    /// Yarn that is aimed at.
    pub yarn: Yarn,
    /// Ways of putting singles together; at least one, shares adding up to one.
    pub ply_plans: Vec<PlyPlan>,
    /// What the yarn is for, in order of writing; may be none.
    pub garments: Vec<Garment>,
    /// What the spinner believes.
    pub expects: Vec<Expect>,
    /// Samples of the log, in order of writing; at most one is chosen.
    pub samples: Vec<Sample>,
    /// Every default that was taken, in the order in which the plan is read.
    pub assumed: Vec<Assumed>,
}

/// A default that was taken: a number, a word, or what a reading without `±` is good to.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Assumed {
    /// Where it would stand; nowhere for what a kind of reading is good to.
    pub place: Option<Place>,
    /// What it is, in plain words.
    pub what: &'static str,
    /// As one would write it.
    pub text: &'static str,
    /// How well it is founded.
    pub standing: Standing,
    /// Why this and no other.
    pub reason: &'static str,
}

/// A day of the calendar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Date {
    /// Year.
    pub year: u16,
    /// Month, 1 to 12.
    pub month: u8,
    /// Day of the month, from 1.
    pub day: u8,
}

/// Paper sizes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Paper {
    /// ISO 216 A4.
    A4,
    /// US Letter.
    Letter,
}

/// Whose craft words.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Terms {
    /// Of the United Kingdom.
    Uk,
    /// Of the United States.
    Us,
}

/// One fibre.
#[derive(Debug, Clone, Hash)]
pub struct Fibre {
    /// Its name in the plan.
    pub name: String,
    /// What it is made of; one of the kinds whose density is known.
    pub kind: &'static FibreKind,
    /// Mean fibre diameter, from the micron or the grade.
    pub fineness: Option<Reading<FibreDiameter>>,
    /// Length of the fibres.
    pub staple: Option<Reading<Length>>,
    /// How it was prepared, in the words of the plan.
    pub preparation: Option<&'static str>,
    /// Treated against felting.
    pub superwash: bool,
}

/// A kind of fibre, a row of the table of fibre densities.
#[derive(Debug, PartialEq)]
pub struct FibreKind {
    /// As written in a plan: `wool`.
    pub name: &'static str,
    /// Density at 65 % relative humidity, g/cm³.
    pub density: f64,
    /// Standing of that number.
    pub standing: Standing,
    /// Source of that number.
    pub source: &'static str,
}

impl Hash for FibreKind {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.name.hash(state);
    }
}

/// A named colour.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Colour {
    /// Its name.
    pub name: String,
    /// Its tint for drawing, lower case `#rrggbb`.
    pub hex: Option<String>,
}

/// Something to spin: a dye lot of braids, or loose fibre.
#[derive(Debug, Clone, Hash)]
pub struct Supply {
    /// Name of the braid, or of the fibre where it is loose.
    pub name: String,
    /// Where it stands: `braid.north` or `fibre.corriedale`.
    pub place: Place,
    /// Whether it comes in braids (numbered on the sheets) or loose.
    pub in_braids: bool,
    /// Index into [`Plan::fibres`].
    pub fibre: usize,
    /// Weight of each braid; one weight for loose fibre. At least one. Braids that are counted and not weighed one by
    /// one share one reading and its place: what it is off by, all of them are.
    pub weights: Vec<Reading<Mass>>,
    /// Length of one braid, laid out.
    pub length: Option<Reading<Length>>,
    /// How its colours follow one another, in the words of the plan.
    pub repeat: Option<&'static str>,
    /// Its colours from one end to the other: index into [`Plan::colours`] and length. Empty where none are given.
    pub sections: Vec<(usize, Reading<Length>)>,
    /// What is set aside for sampling.
    pub for_sampling: Sampling,
    /// What to quote when buying again.
    pub dye_lot: Option<String>,
    /// Day it was bought.
    pub bought: Option<Date>,
    /// Price of one braid, as written.
    pub price: Option<String>,
}

/// What of a supply is set aside.
#[derive(Debug, Clone, Hash)]
pub enum Sampling {
    /// Nothing is said.
    None,
    /// So much, taken off the last braid (and the ones before it).
    Weight(Reading<Mass>),
    /// One braid, by its index from 0.
    Braid(usize),
}

/// The wheel.
#[derive(Debug, Clone, Hash)]
pub struct Wheel {
    /// Whorls, in order of writing; at least one.
    pub whorls: Vec<Whorl>,
    /// How it is drafted.
    pub draw: Draw,
    /// Yarn let in at each treadle (short draws): a wish or the default. The nearest whorl is chosen by it.
    pub length_per_treadle: Reading<Length>,
    /// Yarn drawn out before it is let in (long draw): entry or default.
    pub draft: Reading<Length>,
    /// What is driven, in the words of the plan.
    pub lead: Option<&'static str>,
    /// How the brake is set.
    pub brake: Option<String>,
    /// What a bobbin holds of singles: entry or default.
    pub bobbin_holds: Reading<Mass>,
    /// Bobbins owned.
    pub bobbins_owned: Option<Reading<Count>>,
    /// Diameter of the empty bobbin.
    pub bobbin_core: Option<Reading<Length>>,
}

/// A whorl.
#[derive(Debug, Clone, Hash)]
pub struct Whorl {
    /// Its name.
    pub name: String,
    /// Its ratio; [`Origin::Measured`] where the plan says so.
    pub ratio: Reading<Ratio>,
}

/// How yarn is drafted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Draw {
    /// Short forward draw.
    ShortForward,
    /// Long draw.
    LongDraw,
    /// From the fold.
    FromTheFold,
}

impl Draw {
    /// The words of the plan.
    pub fn words(self) -> &'static str {
        match self {
            Self::ShortForward => "short forward",
            Self::LongDraw => "long draw",
            Self::FromTheFold => "from the fold",
        }
    }

    /// Whether treadles are counted for each draft, instead of yarn measured for each treadle.
    pub fn counts_treadles(self) -> bool {
        self == Self::LongDraw
    }
}

/// How the singles are plied.
#[derive(Debug, Clone, Hash)]
pub struct Plying {
    /// Index into [`Wheel::whorls`]; the slowest where nothing is said.
    pub whorl: usize,
    /// Whether the plan names that whorl.
    pub whorl_given: bool,
    /// Yarn let in at a time: entry or default.
    pub arm: Reading<Length>,
    /// What a bobbin holds of plied yarn: entry, or what it holds of singles, or default.
    pub bobbin_holds: Reading<Mass>,
    /// Yarn let in at each treadle, where the plan wishes it.
    pub length_per_treadle: Option<Reading<Length>>,
}

/// The yarn that is aimed at. At least one of wraps and linear density is given, or a chosen sample measures them.
#[derive(Debug, Clone, Hash)]
pub struct Yarn {
    /// Singles plied together, 1 to 8 (2 to 8 until singles yarns are supported); exact.
    pub plies: Reading<Count>,
    /// Twist of the singles.
    pub singles_twist: Direction,
    /// Wraps of the washed yarn; exact unless it says ±.
    pub wraps: Option<Reading<Wraps>>,
    /// Linear density of the washed yarn, whatever unit the grist is written in.
    pub grist: Option<Reading<LinearDensity>>,
    /// Twist of the washed yarn.
    pub ply_twist: Option<Reading<Twist>>,
    /// Angle of the plies; given, or the default where neither twist nor angle is.
    pub angle: Option<Reading<Angle>>,
    /// Length lost in plying.
    pub plying_shortens: Reading<Share>,
    /// Length lost in the wash.
    pub wash_shortens: Reading<Share>,
    /// Length gained under tension.
    pub winding_stretch: Reading<Share>,
    /// Weight lost in the wash.
    pub wash_lightens: Reading<Share>,
    /// Fibre lost, as a share of what stays in the yarn.
    pub waste: Reading<Share>,
}

/// Direction of twist.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Direction {
    /// Slope of the middle of the letter S.
    S,
    /// Slope of the middle of the letter Z.
    Z,
}

impl Direction {
    /// The letter.
    pub fn letter(self) -> &'static str {
        match self {
            Self::S => "S",
            Self::Z => "Z",
        }
    }

    /// The other direction.
    #[must_use]
    pub fn against(self) -> Self {
        match self {
            Self::S => Self::Z,
            Self::Z => Self::S,
        }
    }

    /// Which way the wheel turns, seen from the spinner's side (common practice).
    pub fn turns(self) -> &'static str {
        match self {
            Self::S => "anticlockwise",
            Self::Z => "clockwise",
        }
    }
}

/// A way of putting singles together.
#[derive(Debug, Clone)]
pub struct PlyPlan {
    /// Its name; the default plan is called by the title of the yarn, "the yarn".
    pub name: String,
    /// Where it stands.
    pub place: Place,
    /// Share of the finished length, all of them adding up to one.
    pub share: f64,
    /// The plies: as many as [`Yarn::plies`].
    pub plies: Vec<Ply>,
}

impl Hash for PlyPlan {
    fn hash<H: Hasher>(&self, state: &mut H) {
        (&self.name, self.share.to_bits(), &self.plies).hash(state);
    }
}

/// One ply.
#[derive(Debug, Clone, Hash)]
pub struct Ply {
    /// Index into [`Plan::supplies`].
    pub supply: usize,
    /// Strips each braid's part is torn into; as many as there are sets where nothing is said.
    pub strips: Option<u32>,
    /// From which end it is spun.
    pub from: End,
    /// What this ply takes of the supply's part in this ply plan; parts of one supply add up to at most one.
    pub part: Option<Part>,
}

/// A vulgar fraction or percentage, as a share with the words it was written in.
#[derive(Debug, Clone)]
pub struct Part {
    /// The share, above zero and at most one.
    pub share: f64,
    /// As written.
    pub text: String,
}

impl Hash for Part {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.share.to_bits().hash(state);
    }
}

/// Which end of a strip goes to the orifice first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum End {
    /// The end at which the sections begin.
    Start,
    /// The other one.
    Other,
}

/// What the yarn is for.
#[derive(Debug, Clone, Hash)]
pub struct Garment {
    /// Its name in the plan.
    pub name: String,
    /// Where it stands.
    pub place: Place,
    /// How it is made.
    pub craft: Craft,
    /// Stitch, as written.
    pub stitch: Option<String>,
    /// Needles or hook, as written.
    pub tool: Option<String>,
    /// Gauge after washing.
    pub gauge: Option<Gauge>,
    /// How its yarn is reckoned.
    pub need: Need,
}

/// How a garment is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Craft {
    /// Knitting.
    Knit,
    /// Crochet.
    Crochet,
    /// Weaving.
    Weave,
}

/// A gauge.
#[derive(Debug, Clone, Hash)]
pub struct Gauge {
    /// Stitches per length.
    pub stitches: Reading<Stitches>,
    /// Rows per length; a default where only stitches are given.
    pub rows: Reading<Rows>,
    /// As written.
    pub text: String,
}

/// Ways to the length of yarn in a garment, best first.
#[derive(Debug, Clone, Hash)]
pub enum Need {
    /// From a measured swatch, by area: size of the swatch and its weight or length.
    Swatch {
        /// Area of the garment.
        area: Reading<Area>,
        /// Area of the swatch.
        size: Reading<Area>,
        /// What was measured of it.
        yarn: SwatchYarn,
    },
    /// From area and gauge, in stocking or garter stitch.
    Gauge {
        /// Area of the garment.
        area: Reading<Area>,
        /// Stitches and rows.
        gauge: Gauge,
        /// The stitch, whose loop constant is known.
        stitch: Stitch,
    },
    /// As a pattern states it.
    Length(Reading<Length>),
}

/// What was measured of a swatch.
#[derive(Debug, Clone, Hash)]
pub enum SwatchYarn {
    /// Its weight.
    Weight(Reading<Mass>),
    /// The length of yarn in it.
    Length(Reading<Length>),
}

/// Stitches whose yarn per area is known from the gauge alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Stitch {
    /// Stocking stitch (US: stockinette).
    Stocking,
    /// Garter stitch.
    Garter,
}

/// What the spinner believes of a figure.
#[derive(Debug, Clone)]
pub struct Expect {
    /// Name of the figure.
    pub figure: String,
    /// Place of the entry.
    pub place: Place,
    /// Text of the belief, still unread: its kind is that of the figure.
    pub is: String,
    /// Kinds and readings that the text allows: value and give-or-take in base units.
    pub readings: Vec<(Kind, f64, f64)>,
}

impl Hash for Expect {
    fn hash<H: Hasher>(&self, state: &mut H) {
        (&self.figure, &self.is).hash(state);
    }
}

/// A sample of the log.
#[derive(Debug, Clone, Hash)]
pub struct Sample {
    /// Its name.
    pub name: String,
    /// Where it stands.
    pub place: Place,
    /// Day.
    pub date: Date,
    /// Index of its whorl, where it says one.
    pub whorl: Option<usize>,
    /// How it was drafted.
    pub draw: Option<Draw>,
    /// Wraps of the singles, one or several.
    pub singles_wraps: Vec<Reading<Wraps>>,
    /// Full twists of a fresh two-fold ply-back, one or several.
    pub ply_back: Vec<Reading<Twist>>,
    /// Plies of the skein, where it says so; exact.
    pub plies: Option<Reading<Count>>,
    /// Loops of the skein; exact.
    pub loops: Option<Reading<Count>>,
    /// One loop as wound.
    pub wound_loop: Option<Reading<Length>>,
    /// One loop washed and at rest.
    pub washed_loop: Option<Reading<Length>>,
    /// Weight washed and dry.
    pub weight: Option<Reading<Mass>>,
    /// Wraps of the washed yarn.
    pub wraps: Vec<Reading<Wraps>>,
    /// Twist of the washed yarn.
    pub ply_twist: Vec<Reading<Twist>>,
    /// Angle of its plies.
    pub angle: Vec<Reading<Angle>>,
    /// Gauge of its swatch, washed.
    pub gauge: Option<Gauge>,
    /// Gauge of its swatch before the wash.
    pub gauge_before_wash: Option<Gauge>,
    /// Size and weight of its swatch, washed.
    pub swatch: Option<(Reading<Area>, Reading<Mass>)>,
    /// Needles of its swatch, as written.
    pub needle: Option<String>,
    /// How it felt.
    pub feel: Option<String>,
    /// The yarn is spun to this sample.
    pub chosen: bool,
}

impl Plan {
    /// The sample that the yarn is spun to, if one is chosen.
    pub fn chosen(&self) -> Option<&Sample> {
        self.samples.iter().find(|sample| sample.chosen)
    }

    /// How the singles are drafted: as the chosen sample was, where it says so.
    pub fn draw(&self) -> Draw {
        self.chosen().and_then(|sample| sample.draw).unwrap_or(self.wheel.draw)
    }

    /// Direction of the ply twist.
    pub fn ply_direction(&self) -> Direction {
        self.yarn.singles_twist.against()
    }

    /// Fingerprints of plan and log, six hexadecimal digits each; none of the log where it holds nothing.
    /// Of what was understood, not of bytes: comments and spacing do not change them, and a new sample changes the log's alone.
    /// What was assumed is left out: it stands in the readings already, those of the samples among them.
    pub fn fingerprints(&self) -> (String, Option<String>) {
        let plan = Self { samples: Vec::new(), assumed: Vec::new(), ..self.clone() };
        let log = (!self.samples.is_empty()).then(|| fingerprint(&self.samples));
        (fingerprint(&plan), log)
    }
}

fn fingerprint(of: &impl Hash) -> String {
    let mut hasher = siphasher::sip::SipHasher13::new_with_keys(0, 0);
    of.hash(&mut hasher);
    format!("{:06x}", hasher.finish() >> 40)
}
