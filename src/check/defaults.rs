//! Every default of the plan language in one table, and what a reading is good to where it does not say so itself.
//!
//! What is taken from here is listed on the workings sheet with its standing and its reason. After `±` stands the
//! half width that holds nineteen times in twenty.

use crate::diagnostics::Place;
use crate::plan::Assumed;
use crate::units::{Standing, System};
use Standing::{CommonPractice, FromMemory, OurChoice, Published};

/// A default: what is taken where the plan says nothing.
pub(super) struct Assumption {
    /// Where it would stand in the plan; for the entries of a table with a name, the key alone.
    pub(super) key: &'static str,
    /// What it is, in plain words.
    pub(super) what: &'static str,
    /// As one would write it.
    pub(super) text: &'static str,
    /// As one would write it in a plan in inches, where that is another round number.
    pub(super) text_in_inches: Option<&'static str>,
    /// How well it is founded.
    pub(super) standing: Standing,
    /// Why this and no other.
    pub(super) reason: &'static str,
}

impl Assumption {
    const fn new(
        key: &'static str,
        what: &'static str,
        text: &'static str,
        standing: Standing,
        reason: &'static str,
    ) -> Self {
        Self { key, what, text, text_in_inches: None, standing, reason }
    }

    const fn in_inches(mut self, text: &'static str) -> Self {
        self.text_in_inches = Some(text);
        self
    }

    /// As one would write it in a plan of this system.
    pub(super) fn text_in(&self, system: System) -> &'static str {
        match (system, self.text_in_inches) {
            (System::Inch, Some(text)) => text,
            _ => self.text,
        }
    }
}

impl Assumption {
    /// That an entry at `place`, which says no `±`, is taken to be as uncertain as this default.
    pub(super) fn width_assumed(&self, place: Place) -> Assumed {
        let width = self.text.split_once("± ").map_or(self.text, |(_, width)| width);
        let reason = "as wide as the default of the same key";
        Assumed { place: Some(place), what: "± of a share that says none", text: width, standing: OurChoice, reason }
    }
}

/// That a target without `±` is exact.
pub(super) fn exact_target() -> Assumed {
    let reason = "what is spun misses it; what is aimed at does not";
    Assumed { place: None, what: "± of a target", text: "none", standing: OurChoice, reason }
}

macro_rules! table {
    ($( $(#[doc = $doc:literal])+ $name:ident = $row:expr; )+) => {
        $( $(#[doc = $doc])+ pub(super) static $name: Assumption = $row; )+

        /// All defaults.
        #[cfg(test)]
        pub(super) static ALL: &[&Assumption] = &[$( &$name, )+];
    };
}

table! {
    /// Which system leads.
    UNITS = Assumption::new("plan.units", "system of units", "metric", OurChoice, "most of the world weighs in grams");
    /// Paper.
    PAPER = Assumption::new("plan.paper", "paper", "A4", OurChoice, "the paper of most of the world");
    /// Craft words.
    TERMS = Assumption::new("plan.terms", "craft words", "UK", OurChoice,
        "one of the two had to be taken; a plan in crochet has to say which");
    /// How sure the yarn is to be enough.
    SURE_OF_ENOUGH = Assumption::new("plan.sure-of-enough", "how sure the yarn is to be enough", "90 %", OurChoice,
        "one project in ten runs short; who minds more says more");
    /// Yarn on top.
    RESERVE = Assumption::new("plan.reserve", "yarn spun on top", "0 %", OurChoice,
        "one safety and not two: sure-of-enough is already one");
    /// What drives the wheel.
    DRIVE = Assumption::new("wheel.drive", "what turns the wheel", "treadle", OurChoice, "the commonest wheel");
    /// What the band turns.
    LEAD = Assumption::new("wheel.lead", "what the drive band turns", "flyer", OurChoice,
        "the commonest; a driven bobbin would lose a turn at each wrap");
    /// Core of a driven bobbin.
    BOBBIN_CORE = Assumption::new("wheel.bobbin-core", "diameter of the empty bobbin", "2.5 ± 1 cm", OurChoice,
        "a common core; its wraps take the most twist, so measure yours").in_inches("1 ± 0.4 in");
    /// The same when full.
    BOBBIN_FULL = Assumption::new("wheel.bobbin-full", "diameter of the full bobbin", "7.5 ± 2 cm", OurChoice,
        "a middling bobbin, filled to just under its rims").in_inches("3 ± 0.8 in");
    /// What the band loses.
    SLIP = Assumption::new("wheel.slip", "turns that the band loses on the whorl", "3 ± 3 %", OurChoice,
        "measured slip was much larger than books have it, by a published craft text without a number; measure your ratio");
    /// How yarn is drafted.
    DRAW = Assumption::new("wheel.draw", "draw", "short forward", OurChoice, "the draw that most spinners learn first");
    /// Yarn let in at each treadle.
    LENGTH_PER_TREADLE = Assumption::new("wheel.length-per-treadle", "yarn let in at each treadle", "4 cm", OurChoice,
        "a short draw of an easy hand; the whorl nearest to it is taken").in_inches("1 1/2 in");
    /// Yarn drawn out before it is let in.
    DRAFT = Assumption::new("wheel.draft", "yarn drawn out before it is let in", "45 cm", OurChoice,
        "a little under an arm's length").in_inches("18 in");
    /// What a bobbin holds of singles.
    BOBBIN_HOLDS = Assumption::new("wheel.bobbin-holds", "singles on one bobbin", "100 g", OurChoice,
        "a middling bobbin, comfortably full; weigh a full one and an empty one").in_inches("4 oz");
    /// Whorl for plying.
    PLYING_WHORL = Assumption::new("plying.whorl", "whorl for plying", "the slowest", OurChoice,
        "plying twist is slight, and the slowest whorl leaves most time to watch it");
    /// Plied yarn let in at a time.
    ARM = Assumption::new("plying.arm", "plied yarn let in at a time", "60 cm", OurChoice,
        "an arm's length, as many spinners measure it").in_inches("24 in");
    /// What a bobbin holds of plied yarn.
    PLYING_BOBBIN_HOLDS = Assumption::new("plying.bobbin-holds", "plied yarn on one bobbin",
        "as much as of singles", OurChoice,
        "the same bobbins are plied onto");
    /// What decides how much is spun onto a bobbin.
    FILL = Assumption::new("plying.fill", "how much is spun onto a bobbin", "a skein for each set", CommonPractice,
        "singles that fit the plying bobbin together give a skein without a knot");
    /// Twist of the singles.
    SINGLES_TWIST = Assumption::new("yarn.singles-twist", "twist of the singles", "Z", CommonPractice,
        "most singles are spun clockwise and plied the other way");
    /// Angle of the plies.
    ANGLE = Assumption::new("yarn.angle", "angle of the plies", "28 ± 8 deg", OurChoice,
        "a yarn neither slack nor hard; two sampled knitting yarns read 32 to 34 deg");
    /// Angle of the fibres of a yarn of singles.
    SINGLES_ANGLE = Assumption::new("yarn.angle", "angle of the fibres", "20 ± 8 deg", CommonPractice,
        "about 20 deg is a soft knitting yarn, read in a published craft text; singles with more of it lean in the fabric");
    /// Angle of the plies in the strands of a cabled yarn.
    STRAND_ANGLE = Assumption::new("yarn.ply-twist", "angle of the plies in a strand", "28 ± 8 deg", OurChoice,
        "as in a yarn that is plied once");
    /// What is kept of a yarn in hand.
    KEEP = Assumption::new("yarn.match.keep", "what is kept of the yarn in hand where both cannot be had", "wraps", OurChoice,
        "gauge and size go with thickness, and a pattern is written for a gauge; the weight is told beside it");
    /// Length lost in plying.
    PLYING_SHORTENS = Assumption::new("yarn.plying-shortens", "length lost in plying", "1.5 ± 4 %", OurChoice,
        "plies lie aslant, but a soft two-ply may even lengthen as its singles untwist");
    /// Length that strands lose in cabling.
    CABLING_SHORTENS = Assumption::new("yarn.cabling-shortens", "length lost in cabling", "1.5 ± 4 %", OurChoice,
        "as in plying; nothing published was found");
    /// Length lost in the wash.
    WASH_SHORTENS = Assumption::new("yarn.wash-shortens", "length lost in the wash", "5 ± 6 %", OurChoice,
        "wide on purpose: reports of 13 to 28 % between reel and washed skein hold stretch and shrinkage together");
    /// Length lost in a bath that fulls.
    WASH_SHORTENS_FULLED = Assumption::new("yarn.wash-shortens", "length lost in fulling", "20 ± 15 %", FromMemory,
        "fulling on purpose takes 10 to 40 % in each direction");
    /// Length gained under tension.
    WINDING_STRETCH = Assumption::new("yarn.winding-stretch", "length gained under tension", "5 ± 8 %", OurChoice,
        "wide on purpose: it hangs on brake, counter and hand");
    /// Weight lost in the wash.
    WASH_LIGHTENS = Assumption::new("yarn.wash-lightens", "weight lost in the wash", "1 ± 1 %", OurChoice,
        "scoured and dyed fibre has little left to lose");
    /// Fibre lost on the way.
    WASTE = Assumption::new("yarn.waste", "fibre lost on the way, of what stays in the yarn", "3 ± 2 %", OurChoice,
        "joins, neps and the ends of bobbins");
    /// How warm the bath is.
    BATH_TEMPERATURE = Assumption::new("finish.bath", "how warm the bath is", "40 °C", CommonPractice,
        "warm enough to let the fibres settle, cool enough for hands").in_inches("104 °F");
    /// How long the yarn lies in it.
    BATH_TIME = Assumption::new("finish.bath", "how long the yarn lies in the bath", "20 min", CommonPractice,
        "until it is wet through");
    /// How much the yarn is moved in its bath.
    AGITATION = Assumption::new("finish.agitation", "how much the yarn is moved in its bath", "none", OurChoice,
        "what is not moved does not felt");
    /// How the yarn is dried.
    DRY = Assumption::new("finish.dry", "how the yarn is dried", "hung without a weight", OurChoice,
        "a weight hides live twist, which wakes again in damp");
    /// How superwash yarn is dried.
    DRY_FLAT = Assumption::new("finish.dry", "how the yarn is dried", "flat", FromMemory,
        "superwash wool grows under its own weight while it is wet");
    /// Ply plan of one supply or of as many as fit.
    PLY_PLAN = Assumption::new("ply-plan", "ply plan", "one, of all there is to spin, in equal parts", OurChoice,
        "with nothing said, every skein is alike");
    /// Strips of a ply.
    STRIPS = Assumption::new("strips", "strips of each braid", "as many as there are sets", OurChoice,
        "so that every braid is spread over every skein");
    /// How a piece is worked.
    WORKED = Assumption::new("worked", "how a piece is worked", "turned", OurChoice, "every craft can; a tube has to say so");
    /// Craft of a garment.
    CRAFT = Assumption::new("craft", "craft", "knit", OurChoice, "what most handspun yarn becomes");
    /// The hand that crochets.
    HAND = Assumption::new("hand", "the hand that holds the hook", "right", OurChoice, "the commoner hand");
    /// What a yarn is in a cloth.
    USED_AS = Assumption::new("used-as", "what the yarn is in the cloth", "warp and weft", OurChoice,
        "the warp asks more of a yarn");
    /// Stitch of a garment by area and gauge.
    STITCH = Assumption::new("stitch", "stitch", "stocking stitch", CommonPractice,
        "a gauge is quoted in it unless a pattern says otherwise");
    /// Rows in stocking stitch, as a share of the stitches in the same length.
    ROWS_STOCKING = Assumption::new("gauge", "rows of stocking stitch, of the stitches in the same length",
        "135 ± 10 %", OurChoice,
        "six published hand-knit swatches lie at 124 to 132 %, patterns at 133 to 140 % (the latter from memory)");
    /// Rows in garter stitch, as a share of the stitches in the same length.
    ROWS_GARTER = Assumption::new("gauge", "rows of garter stitch, of the stitches in the same length",
        "200 ± 15 %", CommonPractice,
        "a ridge of two rows is about as tall as one stitch is wide");
    /// How much larger than the body a garment is.
    EASE = Assumption::new("ease", "ease around the chest", "7.5 ± 2.5 cm", FromMemory,
        "a standard fit has two to four inches").in_inches("3 ± 1 in");
    /// What a pattern counts by.
    COUNTS = Assumption::new("counts", "what the pattern counts by", "length", OurChoice,
        "most patterns are worked to a length; rows would make another grist another length");
    /// Wraps to an end in plain weave.
    SETT_PLAIN = Assumption::new("loom.sett", "ends in plain weave, of the wraps in the same width", "50 ± 8 %", FromMemory,
        "every end leaves room for a pick beside it");
    /// The same in twill.
    SETT_TWILL = Assumption::new("loom.sett", "ends in twill, of the wraps in the same width", "67 ± 10 %", FromMemory,
        "a pick goes under two ends at a time");
    /// Picks of a cloth.
    PICKS = Assumption::new("loom.picks", "picks", "as many as ends", CommonPractice, "a balanced cloth");
    /// What warp takes up.
    TAKE_UP = Assumption::new("loom.take-up", "what the warp takes up", "8 ± 5 %", Published,
        "take-up and shrinkage together are 10 to 15 % each way in published weaving notes");
    /// What weft takes up.
    WEFT_TAKE_UP = Assumption::new("loom.weft-take-up", "what the weft takes up", "10 ± 5 %", Published,
        "published weaving notes, on the safe side");
    /// What is drawn in.
    DRAW_IN = Assumption::new("loom.draw-in", "how much narrower the cloth is than the reed", "8 ± 5 %", OurChoice,
        "measure yours: it hangs on the hand at the selvedge");
    /// What a cloth shrinks along the warp.
    LENGTH_SHRINKS = Assumption::new("loom.length-shrinks", "how much shorter the cloth is finished", "7 ± 6 %", Published,
        "take-up and shrinkage together are 10 to 15 % each way in published weaving notes; weave a sample");
    /// What it shrinks along the weft.
    WIDTH_SHRINKS = Assumption::new("loom.width-shrinks", "how much narrower the cloth is finished", "7 ± 6 %", Published,
        "take-up and shrinkage together are 10 to 15 % each way in published weaving notes; weave a sample");
    /// What is left on the loom.
    LOOM_WASTE = Assumption::new("loom.waste", "warp left on the loom", "75 ± 20 cm", Published,
        "27 inches in general, up to a yard, by published weaving notes").in_inches("30 ± 8 in");
    /// Name of a sample.
    SAMPLE_NAME = Assumption::new("name", "name of a sample", "its number in the log", OurChoice,
        "samples are counted anyway");
    /// What a class practises.
    EXERCISES = Assumption::new("class.exercises", "exercises of the class", "directions, wraps, ply-back, balance, grist", OurChoice,
        "a first evening: direction, thickness, twist, and what a length weighs");
}

/// What a reading is good to where it says no `±`.
pub(super) struct GiveOrTake {
    /// Of which readings, in plain words.
    pub(super) what: &'static str,
    /// How wide.
    pub(super) width: Width,
    /// As printed.
    pub(super) text: &'static str,
    /// How well it is founded.
    pub(super) standing: Standing,
    /// Why this and no other.
    pub(super) reason: &'static str,
}

/// Half the width that holds nineteen times in twenty.
#[derive(Debug, Clone, Copy)]
pub(super) enum Width {
    /// This share of the reading.
    Share(f64),
    /// One step of a scale: the last digit written, but at most one gram, or a tenth of an ounce.
    ScaleStep,
    /// So many radians.
    Radians(f64),
}

impl GiveOrTake {
    const fn new(what: &'static str, width: Width, text: &'static str, reason: &'static str) -> Self {
        Self { what, width, text, standing: OurChoice, reason }
    }

    const fn published(mut self) -> Self {
        self.standing = Published;
        self
    }

    /// The same as an entry in the list of what was assumed.
    pub(super) fn assumed(&self) -> Assumed {
        Assumed { place: None, what: self.what, text: self.text, standing: self.standing, reason: self.reason }
    }
}

/// Wraps of a hand-wound sample.
pub(super) static WRAPS: GiveOrTake =
    GiveOrTake::new("± of wraps", Width::Share(0.10), "10 %", "one wrap in ten is won or lost by the pull of the hand");
/// A length by tape, rule or niddy-noddy.
pub(super) static TAPE: GiveOrTake =
    GiveOrTake::new("± of a length by tape", Width::Share(0.02), "2 %", "fibre and yarn give under the tape");
/// An area, whose sides err together.
pub(super) static AREA: GiveOrTake =
    GiveOrTake::new("± of an area", Width::Share(0.04), "4 %", "two sides by tape, which err the same way");
/// A length that a pattern states.
pub(super) static STATED: GiveOrTake = GiveOrTake::new(
    "± of a length that a pattern states",
    Width::Share(0.10),
    "10 %",
    "patterns round, and knitters differ; a tenth is the usual tolerance when yarns are exchanged",
)
.published();
/// A weight by a kitchen scale.
pub(super) static SCALE: GiveOrTake = GiveOrTake::new(
    "± of a weight",
    Width::ScaleStep,
    "one step of the scale",
    "the last digit written, but at most 1 g or 0.1 oz",
);
/// What a bobbin holds.
pub(super) static BOBBIN: GiveOrTake =
    GiveOrTake::new("± of what a bobbin holds", Width::Share(0.10), "10 %", "full is a matter of judgement");
/// A ratio as the maker states it.
pub(super) static NOMINAL_RATIO: GiveOrTake =
    GiveOrTake::new("± of a ratio as stated", Width::Share(0.08), "8 %", "the band has thickness, and it slips");
/// A ratio as the maker states it, corrected for band and slip.
pub(super) static GROOVE_RATIO: GiveOrTake = GiveOrTake::new(
    "± of a ratio as stated, its band and slip told",
    Width::Share(0.02),
    "2 %",
    "what is left is how true the grooves are turned",
);
/// A band between the jaws of a gauge.
pub(super) static BAND: GiveOrTake = GiveOrTake::new(
    "± of a band's thickness",
    Width::Share(0.10),
    "10 %",
    "a cord gives, and sits deep or high in its groove",
);
/// Turns counted against a clock.
pub(super) static COUNTED_SPEED: GiveOrTake = GiveOrTake::new(
    "± of a counted speed",
    Width::Share(0.05),
    "5 %",
    "turns counted against a clock; a motor sags under load",
);
/// A ratio counted by turning the wheel.
pub(super) static MEASURED_RATIO: GiveOrTake =
    GiveOrTake::new("± of a ratio measured", Width::Share(0.02), "2 %", "turns counted by hand");
/// Twist counted on yarn.
pub(super) static COUNTED_TWIST: GiveOrTake = GiveOrTake::new(
    "± of a counted twist",
    Width::Share(0.10),
    "10 %",
    "twist runs into the thin places, and half turns are missed",
);
/// An angle read with a card.
pub(super) static ANGLE_BY_CARD: GiveOrTake = GiveOrTake::new(
    "± of an angle by card",
    Width::Radians(3.0 * std::f64::consts::PI / 180.0),
    "3 deg",
    "cards are printed in steps of five degrees or so",
);
/// A gauge counted over a swatch.
pub(super) static GAUGE: GiveOrTake =
    GiveOrTake::new("± of a gauge", Width::Share(0.02), "2 %", "half a stitch in a swatch of ten centimetres or more");
/// A mean fibre diameter as sold.
pub(super) static MICRON: GiveOrTake = GiveOrTake::new(
    "± of a fineness",
    Width::Share(0.05),
    "5 %",
    "about one micron, as lots of one description differ",
);
/// A staple length.
pub(super) static STAPLE: GiveOrTake =
    GiveOrTake::new("± of a staple", Width::Share(0.10), "10 %", "staples of one fleece differ more than a rule does");

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{Kind, parse};

    #[test]
    fn every_default_has_a_reason_and_a_key() {
        for row in ALL {
            assert!(
                !row.key.is_empty() && !row.what.is_empty() && !row.text.is_empty() && !row.reason.is_empty(),
                "{}",
                row.key
            );
        }
    }

    #[test]
    fn defaults_that_begin_with_a_number_are_quantities() {
        for row in ALL {
            for text in [row.text_in(System::Metric), row.text_in(System::Inch)] {
                if text.starts_with(|sign: char| sign.is_ascii_digit()) {
                    assert!(Kind::ALL.iter().any(|kind| parse(text, *kind).is_ok()), "{}: {text}", row.key);
                }
            }
        }
    }
}
