//! What the two files of a project may say: every table and key, as written, before anything is understood.
//!
//! The structs are read by serde and described by schemars; the doc comments are written for spinners, because
//! they become the descriptions of the schema that an editor shows while one types.
//! Nothing is required and nothing has a default here: both are visible in `check`.
//! Quantities stay text, names stay unresolved, and no byte span is kept. The tables of the plan stand here; `log`, `words` and `values` have the rest.

use indexmap::IndexMap;
use schemars::JsonSchema;
use serde::Deserialize;

mod class;
mod garment;
mod log;
mod values;
mod words;

pub use class::{Class, Exercise, Student};
pub use garment::{Body, Fringe, Garment, GarmentSwatch, Loom, Measures, OtherYarn, Piece, Trim};
pub use log::{Bobbin, Log, Note, Sample, SampleSingles, SampleSkein, SampleSwatch, Skein, Strips, Weighed, Weighing};
pub(crate) use values::{ANYTHING, QUANTITY};
pub use values::{Anything, Date, Quantity, Readings};
pub use words::{
    Agitation, Aim, Counts, Craft, Dealing, Direction, Draw, Drive, End, Fill, Hand, Keep, Lead, Order, Outline, Paper,
    PlyFrom, Preparation, Repeat, Shape, Terms, Units, UsedAs, Whom, Worked,
};

/// A spinning plan: the fibre, the wheel, the yarn that is wanted and what it is for.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Plan {
    /// What the plan is called and how its sheets are printed.
    pub plan: Option<Heading>,
    /// The fibres that are spun, each under a name of your own: `[fibre.polwarth]`.
    #[serde(default)]
    pub fibre: IndexMap<String, Fibre>,
    /// Your names for colours. The hex is for drawing only; an empty text "" gives a name without one.
    #[serde(default)]
    pub colours: IndexMap<String, String>,
    /// Dyed braids, or any lots of fibre that are kept apart, each under a name of your own: `[braid.north]`.
    #[serde(default)]
    pub braid: IndexMap<String, Braid>,
    /// What the singles are spun on.
    pub wheel: Option<Wheel>,
    /// What the singles are plied on, where it differs from the wheel.
    pub plying: Option<Plying>,
    /// The yarn that is wanted, washed and dry.
    pub yarn: Option<Yarn>,
    /// How the yarn is washed and dried; every skein and every sample alike.
    pub finish: Option<Finish>,
    /// Ways of putting the singles together, one `[[ply-plan]]` for each.
    #[serde(default)]
    pub ply_plan: Vec<PlyPlan>,
    /// What the colours are to do; the colour sheet shows which way of putting the braids together does it best.
    pub colour_wish: Option<ColourWish>,
    /// What the yarn is for, each under a name of your own: `[garment.pullover]`.
    #[serde(default)]
    pub garment: IndexMap<String, Garment>,
    /// Pieces that are worked last, from what is left over or from another yarn, each under a name of your own: `[trim.neckband]`.
    #[serde(default)]
    pub trim: IndexMap<String, Trim>,
    /// The same plan with some entries changed, one `[[alternative]]` for each; what differs is told side by side.
    #[serde(default)]
    pub alternative: Vec<Alternative>,
    /// A class that the plan is handed out to.
    pub class: Option<Class>,
    /// What you believe about a figure; it is checked each time the plan is.
    #[serde(default)]
    pub expect: Vec<Expect>,
}

/// What the plan is called and how its sheets are printed.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Heading {
    /// The name of the project, printed on every sheet.
    #[schemars(example = &"Fell-weather pullover")]
    pub title: Option<String>,
    /// The day the project was begun.
    #[schemars(example = &"2026-03-02")]
    pub started: Option<Date>,
    /// Which system of units leads on the sheets; the other stands beside it.
    pub units: Option<Units>,
    /// The paper the sheets are printed on.
    pub paper: Option<Paper>,
    /// Whose craft words are used.
    pub terms: Option<Terms>,
    /// How sure you want to be that the yarn is enough.
    #[schemars(example = &"90 %")]
    pub sure_of_enough: Option<Quantity>,
    /// Yarn to spin on top of that.
    #[schemars(example = &"5 %")]
    pub reserve: Option<Quantity>,
    /// One step of the scale that yarn is checked on.
    #[schemars(example = &"0.1 g")]
    pub scale: Option<Quantity>,
}

/// One fibre.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Fibre {
    /// What it is made of: wool, silk, alpaca, cotton, linen... Say this or the blend.
    #[schemars(example = &"wool")]
    pub kind: Option<String>,
    /// What it is blended of, each kind with its share of the weight. Say this or the kind.
    #[serde(default)]
    #[schemars(example = blend())]
    pub blend: IndexMap<String, Quantity>,
    /// How much of it there is, where it is not counted by the braid.
    #[schemars(example = &"200 g")]
    pub weight: Option<Quantity>,
    /// The average diameter of one fibre; of a blend, that of all its fibres together. Say this or the grade.
    #[schemars(example = &"23 micron")]
    pub fineness: Option<Quantity>,
    /// The count the wool is graded to, as wool merchants write it. Say this or the fineness.
    #[schemars(example = &"62s")]
    pub grade: Option<String>,
    /// The length of the fibres.
    #[schemars(example = &"11 cm")]
    pub staple: Option<Quantity>,
    /// How the fibre was prepared for spinning.
    pub preparation: Option<Preparation>,
    /// Whether the wool was treated against felting.
    pub superwash: Option<bool>,
}

/// One dyed braid, or one lot of fibre that is kept apart.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Braid {
    /// The name of the fibre it is made of. May be left out where the plan has only one.
    #[schemars(example = &"polwarth")]
    pub fibre: Option<String>,
    /// The weight of each braid of this dye lot, one by one. Say this, or the count and the weight of one.
    #[schemars(example = WEIGHTS)]
    pub weights: Option<Vec<Quantity>>,
    /// How many braids there are.
    #[schemars(range(min = 1), example = 5)]
    pub count: Option<i64>,
    /// The weight of one braid.
    #[schemars(example = &"100 g")]
    pub weight: Option<Quantity>,
    /// The length of one braid laid out, not plaited.
    #[schemars(example = &"2.6 m")]
    pub length: Option<Quantity>,
    /// How the colours follow one another along the braid.
    pub repeat: Option<Repeat>,
    /// The colours from one end of the braid to the other, each with the length it covers, or all of them with their shares.
    #[schemars(example = SECTIONS)]
    pub sections: Option<Vec<Section>>,
    /// What is set aside for sampling: a weight, or one braid by its number.
    #[schemars(example = &"30 g", example = &"braid 5")]
    pub for_sampling: Option<Quantity>,
    /// What to quote when buying more of it.
    #[schemars(example = &"spring 14")]
    pub dye_lot: Option<String>,
    /// The day it was bought.
    #[schemars(example = &"2026-02-20")]
    pub bought: Option<Date>,
    /// What one braid cost.
    #[schemars(example = &"19.00 EUR")]
    pub price: Option<Quantity>,
}

/// A colour and the length it covers: `["heather", "65 cm"]`, or its share of the braid: `["heather", "25 %"]`.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[schemars(example = SECTIONS[0])]
pub struct Section(
    /// The name of the colour.
    #[schemars(example = &"heather")]
    pub String,
    /// The length it covers along the braid, or its share of it.
    #[schemars(example = &"65 cm", example = &"25 %")]
    pub Quantity,
);

/// What the singles are spun on.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Wheel {
    /// What turns it.
    pub drive: Option<Drive>,
    /// The whorls you have, each with its ratio; write "measured" after a ratio that you counted yourself.
    #[serde(default)]
    #[schemars(example = whorls())]
    pub whorls: IndexMap<String, Quantity>,
    /// How you draft.
    pub draw: Option<Draw>,
    /// The yarn let in at each treadle, for a short draw.
    #[schemars(example = &"4 cm")]
    pub length_per_treadle: Option<Quantity>,
    /// The yarn drawn out before it is let in, for a long draw, an electric wheel or a spindle; treadles, seconds or turns are
    /// then counted for each draft.
    #[schemars(example = &"45 cm")]
    pub draft: Option<Quantity>,
    /// What the drive band turns.
    pub lead: Option<Lead>,
    /// How the brake is set, in your own words.
    #[schemars(example = &"peg at two o'clock")]
    pub brake: Option<String>,
    /// The singles that one bobbin holds.
    #[schemars(example = &"115 g")]
    pub bobbin_holds: Option<Quantity>,
    /// How many bobbins you have that fit the wheel.
    #[schemars(range(min = 1), example = 5)]
    pub bobbins_owned: Option<i64>,
    /// How many storage bobbins or spools you have to rewind singles onto.
    #[schemars(range(min = 0), example = 6)]
    pub storage_bobbins: Option<i64>,
    /// The diameter of the empty bobbin; a bobbin-led wheel loses a turn for each wrap around it.
    #[schemars(example = &"2.5 cm")]
    pub bobbin_core: Option<Quantity>,
    /// The diameter of the yarn on a full bobbin; a bobbin-led wheel loses fewer turns as it fills.
    #[schemars(example = &"7.5 cm")]
    pub bobbin_full: Option<Quantity>,
    /// The turns of an electric wheel's flyer, counted while no yarn winds on.
    #[schemars(example = &"900 turns/min")]
    pub flyer_speed: Option<Quantity>,
    /// The diameter of the drive wheel in its groove; with the band it corrects the ratios that the maker states.
    #[schemars(example = &"50 cm")]
    pub drive_wheel: Option<Quantity>,
    /// The thickness of the drive band.
    #[schemars(example = &"3 mm")]
    pub band: Option<Quantity>,
    /// The share of its turns that the band loses on the whorl.
    #[schemars(example = &"3 ± 3 %")]
    pub slip: Option<Quantity>,
}

/// What the singles are plied on, where it differs from the wheel.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Plying {
    /// The name of the whorl used for plying.
    #[schemars(example = &"slow")]
    pub whorl: Option<String>,
    /// The plied yarn let in at a time.
    #[schemars(example = &"60 cm")]
    pub arm: Option<Quantity>,
    /// The plied yarn that one bobbin holds.
    #[schemars(example = &"180 g")]
    pub bobbin_holds: Option<Quantity>,
    /// The plied yarn let in at each treadle, where it is not let in by the arm.
    #[schemars(example = &"5 cm")]
    pub length_per_treadle: Option<Quantity>,
    /// Whether all singles are spun before any are plied.
    pub order: Option<Order>,
    /// What decides how much is spun onto a bobbin.
    pub fill: Option<Fill>,
    /// What turns the wheel that is plied on, where it is another one.
    pub drive: Option<Drive>,
    /// The whorls of the wheel that is plied on, where it is another one.
    #[serde(default)]
    #[schemars(example = whorls())]
    pub whorls: IndexMap<String, Quantity>,
    /// What the drive band turns when plying.
    pub lead: Option<Lead>,
    /// How the brake is set for plying, in your own words.
    #[schemars(example = &"peg at three o'clock")]
    pub brake: Option<String>,
    /// The diameter of the empty bobbin that is plied onto; a bobbin-led wheel loses a turn for each wrap around it.
    #[schemars(example = &"2.5 cm")]
    pub bobbin_core: Option<Quantity>,
    /// The diameter of the plied yarn on a full bobbin; a bobbin-led wheel loses fewer turns as it fills.
    #[schemars(example = &"7.5 cm")]
    pub bobbin_full: Option<Quantity>,
    /// The turns of an electric wheel's flyer when plying, counted while no yarn winds on.
    #[schemars(example = &"900 turns/min")]
    pub flyer_speed: Option<Quantity>,
    /// The diameter of the drive wheel in its groove; with the band it corrects the ratios that the maker states.
    #[schemars(example = &"50 cm")]
    pub drive_wheel: Option<Quantity>,
    /// The thickness of the drive band.
    #[schemars(example = &"3 mm")]
    pub band: Option<Quantity>,
    /// The share of its turns that the band loses on the whorl.
    #[schemars(example = &"3 ± 3 %")]
    pub slip: Option<Quantity>,
}

/// The yarn that is wanted, washed and dry.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Yarn {
    /// How many singles are plied together; 1 for a yarn of singles.
    #[schemars(range(min = 1, max = 8), example = 3)]
    pub plies: Option<i64>,
    /// What the singles come from when they are plied.
    pub ply_from: Option<PlyFrom>,
    /// For a cabled yarn: how many plied strands are plied once more, against their own twist.
    #[schemars(range(min = 2, max = 4), example = 2)]
    pub cabled: Option<i64>,
    /// Which way the singles are twisted.
    pub singles_twist: Option<Direction>,
    /// Which way they are plied; against the singles where nothing is said.
    pub plied_twist: Option<Direction>,
    /// The wraps that are aimed at.
    #[schemars(example = &"11 wpi")]
    pub wraps: Option<Quantity>,
    /// The grist that is aimed at: length by weight, or a yarn number.
    #[schemars(example = &"205 m/100g", example = &"1000 yd/lb")]
    pub grist: Option<Quantity>,
    /// The twist of the plied yarn that is aimed at. Say this or the angle.
    #[schemars(example = &"3.2 / in")]
    pub ply_twist: Option<Quantity>,
    /// The twist of a cabled yarn that is aimed at; `ply-twist` is then the balanced twist of its strands.
    #[schemars(example = &"2.5 / in")]
    pub cable_twist: Option<Quantity>,
    /// The angle of the last twist that is aimed at, in place of counted turns.
    #[schemars(example = &"30 deg")]
    pub angle: Option<Quantity>,
    /// How much shorter the singles become when they are plied.
    #[schemars(example = &"1.5 ± 4 %")]
    pub plying_shortens: Option<Quantity>,
    /// How much shorter plied strands become when they are cabled.
    #[schemars(example = &"1.5 ± 4 %")]
    pub cabling_shortens: Option<Quantity>,
    /// How much shorter the yarn becomes in its bath.
    #[schemars(example = &"5 ± 6 %")]
    pub wash_shortens: Option<Quantity>,
    /// How much longer the yarn lies under tension than at rest.
    #[schemars(example = &"5 ± 8 %")]
    pub winding_stretch: Option<Quantity>,
    /// How much lighter the yarn becomes in its bath: oil, dye, dirt.
    #[schemars(example = &"1 ± 1 %")]
    pub wash_lightens: Option<Quantity>,
    /// The fibre that is lost on the way: joins, neps, ends of bobbins.
    #[schemars(example = &"3 %")]
    pub waste: Option<Quantity>,
    /// A yarn in hand that this one is to be like. Say this, or wraps, grist and twist of your own.
    #[serde(rename = "match")]
    pub matched: Option<Match>,
}

/// A yarn in hand that is to be matched, by what can be read off it. Say the wraps, the ball, or both.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Match {
    /// What the yarn in hand is called on the sheets.
    #[schemars(example = &"the mill yarn of the pattern")]
    pub name: Option<String>,
    /// How many plies it has, where that differs from the yarn you spin.
    #[schemars(range(min = 1, max = 8), example = 4)]
    pub plies: Option<i64>,
    /// Its wraps, wound as you wind your own.
    #[schemars(example = &"10 wpi")]
    pub wraps: Option<Quantity>,
    /// A ball of it, or any measured length that was weighed.
    pub ball: Option<Ball>,
    /// Its ply twist. Say this or the angle.
    #[schemars(example = &"3.2 / in")]
    pub ply_twist: Option<Quantity>,
    /// The angle of its plies. Say this or the ply twist.
    #[schemars(example = &"30 deg")]
    pub angle: Option<Quantity>,
    /// Which of the two is kept where your yarn cannot have both its wraps and its grist.
    pub keep: Option<Keep>,
}

/// The length and the weight of a ball.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Ball {
    /// The yarn in it.
    #[schemars(example = &"200 m")]
    pub length: Option<Quantity>,
    /// What that weighs.
    #[schemars(example = &"100 g")]
    pub weight: Option<Quantity>,
}

/// How the yarn is washed and dried; every skein and every sample alike.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Finish {
    /// How warm the bath is and how long the yarn lies in it; either alone will do.
    #[schemars(example = &"45 C, 20 min")]
    pub bath: Option<Quantity>,
    /// How much the yarn is moved in it.
    pub agitation: Option<Agitation>,
    /// How it is dried, in your own words.
    #[schemars(example = &"hung, no weight")]
    pub dry: Option<String>,
}

/// One way of putting singles together.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct PlyPlan {
    /// What this yarn is called on the sheets.
    #[schemars(example = &"body")]
    pub name: Option<String>,
    /// How much of the whole length of yarn is plied so, or "rest".
    #[schemars(example = &"70 %", example = &"rest")]
    pub share: Option<Quantity>,
    /// How the strips go onto the bobbins, where there are several sets of them.
    pub deal: Option<Dealing>,
    /// The plies, one after the other.
    #[serde(default)]
    pub plies: Vec<Ply>,
}

/// One ply of a ply plan.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Ply {
    /// The name of the braid it is spun from. Say this, the braids or the fibre.
    #[schemars(example = &"north")]
    pub braid: Option<String>,
    /// The names of the braids it is spun from, one after the other.
    #[schemars(example = BRAIDS)]
    pub braids: Option<Vec<String>>,
    /// The name of the fibre it is spun from. Say this or the braid.
    #[schemars(example = &"polwarth")]
    pub fibre: Option<String>,
    /// Into how many lengthwise strips each braid is torn.
    #[schemars(range(min = 1), example = 4)]
    pub strips: Option<i64>,
    /// From which end of the strip the spinning begins.
    pub from: Option<End>,
    /// Each braid cut across into so many pieces of one weight before it is torn, spun in turn; or one of them: "1 of 2".
    #[schemars(example = &"2", example = &"1 of 2")]
    pub across: Option<Quantity>,
    /// The name of a second braid, strip beside strip drafted together with the first into one single.
    #[schemars(example = &"south")]
    pub drafted_with: Option<String>,
    /// The braids pulled apart colour by colour and spun in this order: all their colours.
    #[schemars(example = COLOURS)]
    pub colour_order: Option<Vec<String>>,
    /// How much of the braid goes into this ply, where the plies that name it do not share it equally.
    #[schemars(example = &"1/3")]
    pub part: Option<Quantity>,
    /// The grist of this ply alone, at rest and unwashed, where it is not as heavy as the others.
    #[schemars(example = &"2400 m/100 g")]
    pub grist: Option<Quantity>,
    /// Which way this ply alone is twisted.
    pub twist: Option<Direction>,
    /// How much shorter this ply alone becomes when it is plied, where it lies straighter or more aslant than the others.
    #[schemars(example = &"5 ± 3 %")]
    pub plying_shortens: Option<Quantity>,
}

/// What the colours are to do.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct ColourWish {
    /// What they are to do in all.
    pub aim: Option<Aim>,
    /// How deep a stripe is to be, on the first piece that is worked of this yarn.
    #[schemars(example = &"3 cm")]
    pub depth: Option<Quantity>,
    /// The colour in which a fade begins.
    #[schemars(example = &"heather")]
    pub from: Option<String>,
    /// The colour in which it ends.
    #[schemars(example = &"slate")]
    pub to: Option<String>,
    /// Pairs of colours that are not to lie side by side in the yarn.
    #[serde(default)]
    #[schemars(example = PAIRS)]
    pub keep_apart: Vec<Vec<String>>,
    /// Pairs of colours that are to lie side by side in the yarn.
    #[serde(default)]
    #[schemars(example = PAIRS)]
    pub keep_together: Vec<Vec<String>>,
    /// The colour at the beginning of the yarn, where the work is cast on.
    #[schemars(example = &"heather")]
    pub first: Option<String>,
    /// The colour at its end.
    #[schemars(example = &"slate")]
    pub last: Option<String>,
    /// Whether as little fibre as can be is to stay on the bobbins.
    pub least_left_over: Option<bool>,
    /// Colours that the garment is to be worn with; they are drawn beside the fabric.
    #[schemars(example = COLOURS)]
    pub worn_with: Option<Vec<String>>,
}

/// The plan with some entries changed.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Alternative {
    /// What it is called.
    #[schemars(example = &"two plies")]
    pub name: Option<String>,
    /// Entries of the plan with what they are in this one: "yarn.plies" = 2. Other plies take the ply plan that is usual, unless
    /// `ply-plan` is set as well, and no sample: those of the log are of other plies.
    #[serde(default)]
    #[schemars(example = changed())]
    pub set: IndexMap<String, Anything>,
    /// Entries and tables of the plan that this one does not have.
    #[serde(default)]
    #[schemars(example = WITHOUT)]
    pub without: Vec<String>,
}

/// What you believe about one figure.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Expect {
    /// The name of the figure, as the command `figures` lists it.
    #[schemars(example = &"garment.pullover.yarn")]
    pub figure: Option<String>,
    /// What you expect it to be.
    #[schemars(example = &"1150 ± 100 m")]
    pub is: Option<Quantity>,
}

// Examples that the derive cannot take as literals.
const WEIGHTS: [&str; 2] = ["101 g", "99 g"];
const STRIPS: [&str; 2] = ["26 g", "24 g"];
const WRAPS: [&str; 2] = ["23 wpi", "24 wpi"];
const WITHOUT: [&str; 1] = ["yarn.grist"];
const BRAIDS: [&str; 2] = ["north", "south"];
const COLOURS: [&str; 2] = ["heather", "bracken"];
const PAIRS: [[&str; 2]; 1] = [["bracken", "lichen"]];
const SECTIONS: [[&str; 2]; 2] = [["heather", "65 cm"], ["bracken", "65 cm"]];

fn blend() -> IndexMap<&'static str, &'static str> {
    IndexMap::from([("wool", "80 %"), ("silk", "20 %")])
}

fn changed() -> IndexMap<&'static str, i64> {
    IndexMap::from([("yarn.plies", 2)])
}

fn whorls() -> IndexMap<&'static str, &'static str> {
    IndexMap::from([("slow", "6.2:1"), ("fast", "12.4:1 measured")])
}
