//! The checked plan and log: plain values, units read, names resolved, defaults filled in and marked as such.
//!
//! Foundation: made by `check`, read by every stage right of it. No byte spans: a reading carries its place by keys,
//! so that spacing and comments change nothing here. Serialisable on purpose nowhere; hashed as a whole for the fingerprint.

use std::hash::{Hash, Hasher};
use std::marker::PhantomData;

use crate::diagnostics::Place;
use crate::units::{Kind, Mass, Share, Standing, System, Unit};

pub mod body;
mod class;
pub mod dye;
mod fibre;
mod finish;
mod garment;
pub mod needle;
mod sample;
pub mod shape;
mod spun;
pub mod stitch;
mod wheel;
mod wish;
mod yarn;

pub use class::{Class, Exercise, HandedTo, Student};
pub use fibre::{Colour, Cut, Extent, Fibre, FibreKind, Repeat, Sampling, Section, Supply};
pub use finish::{Agitation, Finish};
pub use garment::{
    Craft, Fabric, Fringe, Garment, Gauge, Hand, Height, Loom, OtherYarn, Outline, Piece, Shaped, Swatch, SwatchYarn,
    Trim, UsedAs, Weighing,
};
pub use sample::Sample;
pub use spun::{LoggedBobbin, LoggedSkein, Note};
pub use stitch::Stitch;
pub use wheel::{Core, Draw, Drive, Fill, Groove, Lead, Machine, Order, Plying, Wheel, Whorl};
pub use wish::{Aim, ColourWish, Torn};
pub use yarn::{Construction, Dealing, Direction, End, Keep, Match, Part, Ply, PlyPlan, Singles, Yarn};

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
    /// One step of the scale that yarn is checked on, where the plan says it; exact.
    pub scale: Option<Reading<Mass>>,
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
    /// How it is washed and dried.
    pub finish: Finish,
    /// Kinds of singles, in the order in which the ply plans first name them; at least one.
    pub singles: Vec<Singles>,
    /// Ways of putting singles together; at least one, shares adding up to one.
    pub ply_plans: Vec<PlyPlan>,
    /// What the colours are to do, where the plan says it.
    pub colour_wish: Option<ColourWish>,
    /// What the yarn is for, in order of writing; may be none.
    pub garments: Vec<Garment>,
    /// Pieces that are worked last, in order of writing; may be none.
    pub trims: Vec<Trim>,
    /// The same plan with some entries changed, by name, in order of writing.
    pub alternatives: Vec<Alternative>,
    /// The class that it is handed out to, where there is one.
    pub class: HandedTo,
    /// What the spinner believes.
    pub expects: Vec<Expect>,
    /// Samples of the log, in order of writing; at most one is chosen.
    pub samples: Vec<Sample>,
    /// Braids of the log that are torn, each once.
    pub torn: Vec<Torn>,
    /// Bobbins of the log, in order of writing.
    pub bobbins: Vec<LoggedBobbin>,
    /// Skeins of the log, in order of writing.
    pub skeins: Vec<LoggedSkein>,
    /// Notes of the log, in order of writing.
    pub notes: Vec<Note>,
    /// Weighings of the log, in order of writing.
    pub weighings: Vec<Weighing>,
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

impl Date {
    /// Days from another day to this one; below nought where this one is before it.
    pub fn days_after(self, other: Self) -> i32 {
        self.calendar().to_julian_day() - other.calendar().to_julian_day()
    }

    /// The day so many days later; `None` beyond the calendar.
    pub fn later(self, days: i32) -> Option<Self> {
        let day = time::Date::from_julian_day(self.calendar().to_julian_day().checked_add(days)?).ok()?;
        Some(Self { year: day.year().try_into().ok()?, month: day.month().into(), day: day.day() })
    }

    fn calendar(self) -> time::Date {
        let month = time::Month::try_from(self.month).expect("invariant: days that are read are of the calendar");
        time::Date::from_calendar_date(self.year.into(), month, self.day).expect("invariant: days are of the calendar")
    }
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

/// A plan with some entries changed: what it is called, and what is changed.
#[derive(Debug, Clone, Hash)]
pub struct Alternative {
    /// Its name.
    pub name: String,
    /// Where it stands.
    pub place: Place,
    /// Paths of the entries with what they are, as written; nothing for those that are left out.
    pub changes: Vec<(String, Option<String>)>,
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

impl Plan {
    /// What singles are wound on until they are plied: a spindle winds cops, unless they are wound off onto bobbins.
    pub fn holder(&self) -> &'static str {
        let is_rewound = self.wheel.storage_bobbins.as_ref().is_some_and(|storage| storage.value > 0.0);
        if matches!(self.wheel.machine.drive, Drive::Spindle) && !is_rewound { "cop" } else { "bobbin" }
    }

    /// The strips of a braid, where it is torn.
    pub fn torn(&self, supply: usize, braid: usize) -> Option<&Torn> {
        self.torn.iter().find(|torn| (torn.supply, torn.braid) == (supply, braid))
    }

    /// What a braid weighs, by its strips where it is torn.
    pub fn braid_weight(&self, supply: usize, braid: usize) -> f64 {
        let whole = self.supplies[supply].weights[braid].value;
        self.torn(supply, braid).map_or(whole, |torn| torn.weights.iter().map(|weight| weight.value).sum())
    }

    /// Lots that are counted and bought: of braids that are cut across the first piece alone.
    pub fn whole_lots(&self) -> impl Iterator<Item = &Supply> {
        self.supplies.iter().filter(|supply| supply.is_first_piece())
    }

    /// The sample that the yarn is spun to, if one is chosen.
    pub fn chosen(&self) -> Option<&Sample> {
        self.samples.iter().find(|sample| sample.chosen)
    }

    /// Whether the plan itself says how thick the yarn is to be, whatever was sampled.
    pub fn is_wished(&self) -> bool {
        let has_grist = |ply: &Ply| self.singles[ply.singles].grist.is_some();
        let is_told_by_plies = self.ply_plans.first().is_some_and(|plan| plan.plies.iter().all(has_grist));
        let yarn = &self.yarn;
        yarn.wraps.is_some() || yarn.grist.is_some() || yarn.matched.is_some() || is_told_by_plies
    }

    /// How the singles are drafted: as the chosen sample was, where it says so.
    pub fn draw(&self) -> Draw {
        self.chosen().and_then(|sample| sample.draw).unwrap_or(self.wheel.draw)
    }

    /// What the singles are plied on.
    pub fn plying_machine(&self) -> &Machine {
        self.plying.machine.as_ref().unwrap_or(&self.wheel.machine)
    }

    /// Direction of the last twist, which the finished yarn shows.
    pub fn ply_direction(&self) -> Direction {
        match self.yarn.construction {
            Construction::Cabled(_) => self.yarn.plied_twist.against(),
            Construction::Singles => self.yarn.singles_twist,
            Construction::Bobbins | Construction::Chain | Construction::BothEnds => self.yarn.plied_twist,
        }
    }

    /// Singles side by side in the finished yarn.
    pub fn singles_across(&self) -> usize {
        let plies = self.yarn.plies.value as usize;
        self.yarn.construction.strands().map_or(plies, |strands| plies * strands.value as usize)
    }

    /// Bobbins of singles in a set.
    pub fn bobbins_in_a_set(&self) -> usize {
        self.yarn.construction.bobbins(self.yarn.plies.value as usize)
    }

    /// Fingerprints of plan and log, six hexadecimal digits each; none of the log where it holds nothing.
    /// Of what was understood, not of bytes: comments and spacing do not change them, and a new sample changes the log's alone.
    /// What was assumed is left out: it stands in the readings already, those of the samples among them. So is the paper: the
    /// same plan printed on another is the same plan. So is the class: who joins it changes nobody's sheet.
    pub fn fingerprints(&self) -> (String, Option<String>) {
        let plan = Self {
            samples: Vec::new(),
            torn: Vec::new(),
            weighings: Vec::new(),
            bobbins: Vec::new(),
            skeins: Vec::new(),
            notes: Vec::new(),
            assumed: Vec::new(),
            class: HandedTo(None),
            paper: Paper::A4,
            ..self.clone()
        };
        let is_spun = !(self.bobbins.is_empty() && self.skeins.is_empty() && self.notes.is_empty());
        if is_spun {
            let before = (&self.samples, &self.torn, &self.weighings);
            let log = fingerprint(&(before, &self.bobbins, &self.skeins, &self.notes));
            return (fingerprint(&plan), Some(log));
        }
        let log = match (self.samples.is_empty(), self.torn.is_empty(), self.weighings.is_empty()) {
            (true, true, true) => None,
            // A log without a kind of entry has the fingerprint that it had before there were any.
            (false, true, true) => Some(fingerprint(&self.samples)),
            (_, _, true) => Some(fingerprint(&(&self.samples, &self.torn))),
            _ => Some(fingerprint(&(&self.samples, &self.torn, &self.weighings))),
        };
        (fingerprint(&plan), log)
    }
}

fn fingerprint(of: &impl Hash) -> String {
    let mut hasher = siphasher::sip::SipHasher13::new_with_keys(0, 0);
    of.hash(&mut hasher);
    format!("{:06x}", hasher.finish() >> 40)
}
