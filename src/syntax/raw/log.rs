//! The log: what was really spun.

use schemars::JsonSchema;
use serde::Deserialize;

use super::{Date, Draw, Quantity, Readings, STRIPS, WRAPS};

/// The log of a plan: what was really spun, one entry after the other.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Log {
    /// A sample that was spun, plied, washed and perhaps worked up.
    #[serde(default)]
    pub sample: Vec<Sample>,
    /// What tearing a braid really gave.
    #[serde(default)]
    pub strips: Vec<Strips>,
    /// A bobbin of singles as it came off the wheel.
    #[serde(default)]
    pub bobbin: Vec<Bobbin>,
    /// A skein of finished yarn, washed and dry.
    #[serde(default)]
    pub skein: Vec<Skein>,
    /// What was left of the yarn while a piece was worked.
    #[serde(default)]
    pub weighing: Vec<Weighing>,
    /// Anything else that is worth a line.
    #[serde(default)]
    pub note: Vec<Note>,
}

/// A bobbin of singles: what is on it, and what a length of it weighs.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Bobbin {
    /// Its number on the bobbin checklist.
    #[schemars(range(min = 1), example = 1)]
    pub number: Option<i64>,
    /// The day it was weighed.
    #[schemars(example = &"2026-03-12")]
    pub date: Option<Date>,
    /// What it weighs with its yarn.
    #[schemars(example = &"96 g")]
    pub full: Option<Quantity>,
    /// What it weighs empty.
    #[schemars(example = &"58 g")]
    pub empty: Option<Quantity>,
    /// A length of its yarn, weighed.
    pub check: Option<Weighed>,
    /// All the yarn on it, where it was rewound through a counter.
    #[schemars(example = &"241 m")]
    pub length: Option<Quantity>,
    /// What the reference skein weighs on that day.
    #[schemars(example = &"50.2 g")]
    pub reference_skein: Option<Quantity>,
}

/// A length of yarn and what it weighs.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Weighed {
    /// How long it is.
    #[schemars(example = &"20 m")]
    pub length: Option<Quantity>,
    /// What it weighs.
    #[schemars(example = &"3.1 g")]
    pub weight: Option<Quantity>,
}

/// A skein of finished yarn.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Skein {
    /// Its number.
    #[schemars(range(min = 1), example = 1)]
    pub number: Option<i64>,
    /// The day it was weighed.
    #[schemars(example = &"2026-04-02")]
    pub date: Option<Date>,
    /// Numbers of the bobbins it was plied from.
    #[schemars(example = [1, 4, 7])]
    pub bobbins: Option<Vec<i64>>,
    /// How many loops it has.
    #[schemars(range(min = 1), example = 128)]
    pub loops: Option<i64>,
    /// The length of one loop as it was wound.
    #[schemars(example = &"1.52 m")]
    #[serde(rename = "loop")]
    pub one_loop: Option<Quantity>,
    /// The length of one loop washed, dry and at rest.
    #[schemars(example = &"1.45 m")]
    pub washed_loop: Option<Quantity>,
    /// What it weighs, washed and dry.
    #[schemars(example = &"96 g")]
    pub weight: Option<Quantity>,
    /// What the reference skein weighs on that day.
    #[schemars(example = &"50.2 g")]
    pub reference_skein: Option<Quantity>,
    /// The wraps; once, or at several places.
    #[schemars(example = WRAPS)]
    pub wraps: Option<Readings>,
}

/// A line of the log.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Note {
    /// The day.
    #[schemars(example = &"2026-03-20")]
    pub date: Option<Date>,
    /// What there is to say.
    #[schemars(example = &"back at the wheel after two weeks")]
    pub text: Option<String>,
}

/// The yarn weighed before and after some rows of a piece.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Weighing {
    /// The day it was weighed.
    #[schemars(example = &"2026-05-01")]
    pub date: Option<Date>,
    /// The name of the garment.
    #[schemars(example = &"pullover")]
    pub garment: Option<String>,
    /// The name of the piece, where it is one of the plan.
    #[schemars(example = &"sleeve")]
    pub piece: Option<String>,
    /// How many rows were worked between the two weighings.
    #[schemars(range(min = 1), example = 8)]
    pub rows: Option<i64>,
    /// The yarn that was left before them.
    #[schemars(example = &"61.0 g")]
    pub before: Option<Quantity>,
    /// The yarn that was left after them.
    #[schemars(example = &"52.4 g")]
    pub after: Option<Quantity>,
}

/// The strips of one braid as they were torn.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Strips {
    /// The day it was torn.
    #[schemars(example = &"2026-03-08")]
    pub date: Option<Date>,
    /// The name of the braid.
    #[schemars(example = &"north")]
    pub braid: Option<String>,
    /// Which of the braids of that name, counted from 1.
    #[schemars(range(min = 1), example = 1)]
    pub number: Option<i64>,
    /// The weight of each strip, for all plies together.
    #[schemars(example = STRIPS)]
    pub weights: Option<Vec<Quantity>>,
}

/// A sample; what it leaves out is as the plan has it.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Sample {
    /// What the sample is called.
    #[schemars(example = &"second")]
    pub name: Option<String>,
    /// The day it was measured.
    #[schemars(example = &"2026-03-05")]
    pub date: Option<Date>,
    /// The name of the whorl its singles were spun on.
    #[schemars(example = &"middle")]
    pub whorl: Option<String>,
    /// How it was drafted.
    pub draw: Option<Draw>,
    /// What was measured on the singles, before plying.
    pub singles: Option<SampleSingles>,
    /// What was measured on the plied and washed skein.
    pub skein: Option<SampleSkein>,
    /// What was measured on the swatch.
    pub swatch: Option<SampleSwatch>,
    /// Whether this is the sample the yarn is spun to.
    pub chosen: Option<bool>,
}

/// What was measured on the singles of a sample.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct SampleSingles {
    /// The wraps; once, or at several places: ["23 wpi", "24 wpi"].
    #[schemars(example = WRAPS)]
    pub wraps: Option<Readings>,
    /// The twist of the singles when they ply back on themselves freshly spun.
    #[schemars(example = &"3.3 / in")]
    pub ply_back: Option<Readings>,
}

/// What was measured on the skein of a sample.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct SampleSkein {
    /// How many plies it has, where that differs from the plan.
    #[schemars(range(min = 1, max = 8), example = 3)]
    pub plies: Option<i64>,
    /// How many loops the skein has.
    #[schemars(range(min = 1), example = 20)]
    pub loops: Option<i64>,
    /// The length of one loop as it was wound.
    #[schemars(example = &"1.52 m")]
    #[serde(rename = "loop")]
    pub one_loop: Option<Quantity>,
    /// The length of one loop washed, dry and at rest.
    #[schemars(example = &"1.45 m")]
    pub washed_loop: Option<Quantity>,
    /// The weight of the skein, washed and dry.
    #[schemars(example = &"15.1 g")]
    pub weight: Option<Quantity>,
    /// The wraps; once, or at several places.
    #[schemars(example = WRAPS)]
    pub wraps: Option<Readings>,
    /// The twist of the plied yarn, or of a singles yarn; in a cabled yarn that left in its strands. Once, or at several places.
    #[schemars(example = &"3 / in")]
    pub ply_twist: Option<Readings>,
    /// The twist of a cabled yarn; once, or at several places.
    #[schemars(example = &"2.5 / in")]
    pub cable_twist: Option<Readings>,
    /// The angle of the last twist; once, or at several places.
    #[schemars(example = &"30 deg")]
    pub angle: Option<Readings>,
}

/// What was measured on the swatch of a sample.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct SampleSwatch {
    /// The needles it was knitted on.
    #[schemars(example = &"4 mm")]
    pub needle: Option<Quantity>,
    /// The gauge after washing.
    #[schemars(example = &"19.5 st, 27 rows / 10 cm")]
    pub gauge: Option<Quantity>,
    /// The gauge before washing.
    #[schemars(example = &"19 st, 26 rows / 10 cm")]
    pub before_wash: Option<Quantity>,
    /// How it feels, in your own words.
    #[schemars(example = &"soft, a little slack")]
    pub feel: Option<String>,
    /// Width by height, washed and dry.
    #[schemars(example = &"15 x 15 cm")]
    pub size: Option<Quantity>,
    /// What it weighs.
    #[schemars(example = &"6.1 g")]
    pub weight: Option<Quantity>,
}
