//! What is asked for at each key: its name in plain words, its outer limits, and what it is good to without `±`.
//!
//! The limits are our choice and generous: they keep out slips of the pen that no spinner could have meant, such as
//! a braid of a hundred tons, and nothing else.

use super::defaults::{self, Assumption, GiveOrTake};

/// What is asked for at a key.
pub(super) struct Measure {
    /// In plain words, after "expected".
    pub(super) what: &'static str,
    /// One as a plan might have it, shown where what is written cannot be read.
    pub(super) ordinary: &'static str,
    /// The least that is taken.
    pub(super) least: &'static str,
    /// The most that is taken.
    pub(super) most: &'static str,
    /// What it is good to where it says no `±`.
    pub(super) spread: Spread,
}

/// What an entry without `±` is good to.
pub(super) enum Spread {
    /// It is a target, and exact.
    Target,
    /// It is a reading of this kind.
    Reading(&'static GiveOrTake),
    /// As wide as the default of the same key.
    AsDefault(&'static Assumption),
}

macro_rules! measures {
    ($( $name:ident: $kind:ident, $what:literal, $ordinary:literal, $least:literal, $most:literal, $spread:expr; )+) => {
        $( pub(super) static $name: Measure = Measure { what: $what, ordinary: $ordinary, least: $least, most: $most, spread: $spread }; )+

        /// All measures, with their kinds.
        #[cfg(test)]
        static ALL: &[(&Measure, crate::units::Kind)] = &[$( (&$name, crate::units::Kind::$kind), )+];
    };
}

use Spread::{AsDefault, Reading, Target};

measures! {
    SURE_OF_ENOUGH: Share, "how sure the yarn is to be enough", "90 %", "51 %", "99.9 %", Target;
    RESERVE: Share, "the reserve", "5 %", "0 %", "200 %", Target;
    SCALE_STEP: Mass, "one step of the scale", "0.1 g", "0.001 g", "50 g", Target;
    FIBRE_WEIGHT: Mass, "the weight of the fibre", "200 g", "1 g", "100 kg", Reading(&defaults::SCALE);
    BLEND_SHARE: Share, "the share of a kind in a blend", "20 %", "0.1 %", "100 %", Target;
    FINENESS: FibreDiameter, "the fineness", "23 micron", "5 micron", "100 micron", Reading(&defaults::MICRON);
    STAPLE: Length, "the staple", "11 cm", "3 mm", "60 cm", Reading(&defaults::STAPLE);
    BRAID_WEIGHT: Mass, "the weight of a braid", "100 g", "1 g", "20 kg", Reading(&defaults::SCALE);
    BRAID_LENGTH: Length, "the length of a braid", "2.6 m", "5 cm", "200 m", Reading(&defaults::TAPE);
    SECTION: Length, "the length of a section", "65 cm", "5 mm", "200 m", Reading(&defaults::TAPE);
    SECTION_SHARE: Share, "the share of a section", "25 %", "0.1 %", "100 %", Target;
    PIECE_WIDTH: Length, "the width of a piece", "104 cm", "1 cm", "20 m", Target;
    PIECE_LENGTH: Length, "the length of a piece", "38 cm", "1 cm", "50 m", Target;
    MEASURE: Length, "a measure of the garment", "46 cm", "1 mm", "20 m", Target;
    MEASURE_OR_NONE: Length, "a measure of the garment", "5 cm", "0 cm", "20 m", Target;
    BODY: Length, "a measure of the body", "102 cm", "1 cm", "3 m", Reading(&defaults::TAPE);
    EASE: Length, "the ease", "8 cm", "-60 cm", "100 cm", Target;
    CUT_STRAND: Length, "the length of a strand", "30 cm", "1 cm", "3 m", Reading(&defaults::TAPE);
    SETT: Ends, "the sett", "10 epi", "0.2 ends/cm", "80 ends/cm", Target;
    PICKS: Picks, "the picks", "10 ppi", "0.2 picks/cm", "80 picks/cm", Target;
    TAKE_UP: Share, "what is taken up", "8 %", "0 %", "100 %", AsDefault(&defaults::TAKE_UP);
    WEFT_TAKE_UP: Share, "what the weft takes up", "8 %", "0 %", "100 %", AsDefault(&defaults::WEFT_TAKE_UP);
    DRAW_IN: Share, "what is drawn in", "8 %", "0 %", "60 %", AsDefault(&defaults::DRAW_IN);
    LENGTH_SHRINKS: Share, "what a cloth shrinks", "10 %", "-20 %", "80 %", AsDefault(&defaults::LENGTH_SHRINKS);
    WIDTH_SHRINKS: Share, "what a cloth shrinks", "10 %", "-20 %", "80 %", AsDefault(&defaults::WIDTH_SHRINKS);
    LOOM_WASTE: Length, "the warp left on the loom", "60 cm", "0 cm", "5 m", AsDefault(&defaults::LOOM_WASTE);
    WARP_FRINGE: Length, "the warp for a fringe", "15 cm", "0 cm", "2 m", Target;
    STRIPE_DEPTH: Length, "the depth of a stripe", "3 cm", "1 mm", "5 m", Target;
    STRIP_WEIGHT: Mass, "the weight of a strip", "26 g", "0.1 g", "20 kg", Reading(&defaults::SCALE);
    SAMPLING: Mass, "what is set aside for sampling", "30 g", "0.1 g", "20 kg", Reading(&defaults::SCALE);
    PRICE: Money, "the price of a braid", "19.00 EUR", "0 EUR", "1000000 EUR", Target;
    NOMINAL_RATIO: Ratio, "the ratio of a whorl", "8.5:1", "0.5:1", "200:1", Reading(&defaults::NOMINAL_RATIO);
    MEASURED_RATIO: Ratio, "the ratio of a whorl", "8.5:1 measured", "0.5:1", "200:1", Reading(&defaults::MEASURED_RATIO);
    LENGTH_PER_TREADLE: Length, "the yarn let in at each treadle", "4 cm", "1 mm", "1 m", Target;
    DRAFT: Length, "the yarn drawn out before it is let in", "45 cm", "1 cm", "3 m", Target;
    BOBBIN_HOLDS: Mass, "what a bobbin holds", "100 g", "5 g", "2 kg", Reading(&defaults::BOBBIN);
    GROOVE_RATIO: Ratio, "the ratio of a whorl", "8.5:1", "0.5:1", "200:1", Reading(&defaults::GROOVE_RATIO);
    FLYER_SPEED: Speed, "the speed of the flyer", "900 turns/min", "10 turns/min", "10000 turns/min", Reading(&defaults::COUNTED_SPEED);
    DRIVE_WHEEL: Length, "the diameter of the drive wheel", "50 cm", "5 cm", "3 m", Reading(&defaults::TAPE);
    BAND: Length, "the thickness of the drive band", "3 mm", "0.2 mm", "3 cm", Reading(&defaults::BAND);
    SLIP: Share, "the turns that the band loses", "3 ± 3 %", "0 %", "60 %", AsDefault(&defaults::SLIP);
    BOBBIN_FULL: Length, "the diameter of the full bobbin", "7.5 cm", "8 mm", "60 cm", Reading(&defaults::TAPE);
    BOBBIN_CORE: Length, "the diameter of the empty bobbin", "2.5 cm", "5 mm", "20 cm", Reading(&defaults::TAPE);
    ARM: Length, "the plied yarn let in at a time", "60 cm", "5 cm", "3 m", Target;
    TARGET_WRAPS: Wraps, "the wraps that are aimed at", "11 wpi", "1 wpi", "150 wpi", Target;
    TARGET_GRIST: LinearDensity, "the grist that is aimed at", "205 m/100 g", "5 tex", "20000 tex", Target;
    TARGET_TWIST: Twist, "the ply twist that is aimed at", "3.2 tpi", "0.1 tpi", "60 tpi", Target;
    TARGET_ANGLE: Angle, "the angle that is aimed at", "28 deg", "2 deg", "70 deg", Target;
    MATCH_WRAPS: Wraps, "the wraps of the yarn in hand", "10 wpi", "1 wpi", "150 wpi", Reading(&defaults::WRAPS);
    BALL_LENGTH: Length, "the length of the ball", "200 m", "1 m", "100 km", Reading(&defaults::TAPE);
    BALL_WEIGHT: Mass, "the weight of the ball", "100 g", "0.1 g", "20 kg", Reading(&defaults::SCALE);
    MATCH_TWIST: Twist, "the ply twist of the yarn in hand", "3.2 tpi", "0.1 tpi", "60 tpi", Reading(&defaults::COUNTED_TWIST);
    MATCH_ANGLE: Angle, "the angle of the yarn in hand", "30 deg", "2 deg", "70 deg", Reading(&defaults::ANGLE_BY_CARD);
    PLYING_SHORTENS: Share, "the length lost in plying", "1.5 ± 4 %", "-50 %", "50 %", AsDefault(&defaults::PLYING_SHORTENS);
    CABLING_SHORTENS: Share, "the length lost in cabling", "1.5 ± 4 %", "-50 %", "50 %", AsDefault(&defaults::CABLING_SHORTENS);
    OWN_GRIST: LinearDensity, "the grist of this ply", "2400 m/100 g", "1 tex", "10000 tex", Target;
    WASH_SHORTENS: Share, "the length lost in the wash", "5 ± 6 %", "-50 %", "80 %", AsDefault(&defaults::WASH_SHORTENS);
    WINDING_STRETCH: Share, "the length gained under tension", "5 ± 8 %", "-20 %", "80 %", AsDefault(&defaults::WINDING_STRETCH);
    WASH_LIGHTENS: Share, "the weight lost in the wash", "1 ± 1 %", "-20 %", "80 %", AsDefault(&defaults::WASH_LIGHTENS);
    WASTE: Share, "the fibre lost on the way", "3 ± 2 %", "0 %", "200 %", AsDefault(&defaults::WASTE);
    BATH_TEMPERATURE: Temperature, "the temperature of the bath", "45 C, 20 min", "1 °C", "100 °C", Target;
    BATH_TIME: Time, "the time in the bath", "45 C, 20 min", "10 s", "3 days", Target;
    PLAN_SHARE: Share, "the share of the yarn", "70 %", "0.1 %", "100 %", Target;
    PART: Share, "the part of the fibre", "1/3", "0.1 %", "100 %", Target;
    TOOL: Length, "the size of the tool", "4 mm", "0.3 mm", "10 cm", Target;
    STITCHES: Stitches, "the stitches of a gauge", "19 st, 26 rows / 10 cm", "1 st / 10 cm", "300 st / 10 cm", Reading(&defaults::GAUGE);
    ROWS: Rows, "the rows of a gauge", "19 st, 26 rows / 10 cm", "1 rows / 10 cm", "500 rows / 10 cm", Reading(&defaults::GAUGE);
    GARMENT_LENGTH: Length, "the yarn in a garment", "1150 m", "1 m", "200 km", Reading(&defaults::STATED);
    GARMENT_AREA: Area, "the area of a garment", "0.9 m2", "10 cm2", "200 m2", Reading(&defaults::AREA);
    SWATCH_SIZE: Area, "the size of a swatch", "15 x 15 cm", "1 cm2", "4 m2", Reading(&defaults::AREA);
    SWATCH_WEIGHT: Mass, "the weight of a swatch", "6.1 g", "0.1 g", "2 kg", Reading(&defaults::SCALE);
    SWATCH_LENGTH: Length, "the yarn in a swatch", "14 m", "10 cm", "10 km", Reading(&defaults::TAPE);
    OTHER_LENGTH: Length, "the length of another yarn", "62 m", "10 cm", "200 km", Reading(&defaults::TAPE);
    LEFT_WEIGHT: Mass, "the weight of what is left", "61.0 g", "0.1 g", "20 kg", Reading(&defaults::SCALE);
    EXPECTED: Length, "what the figure is expected to be", "1150 ± 100 m", "0.000001 mm", "1000000000 km", Target;
    SAMPLE_WRAPS: Wraps, "the wraps of a sample", "11 wpi", "1 wpi", "300 wpi", Reading(&defaults::WRAPS);
    SAMPLE_TWIST: Twist, "the twist of a sample", "3.2 tpi", "0.1 tpi", "100 tpi", Reading(&defaults::COUNTED_TWIST);
    SAMPLE_ANGLE: Angle, "the angle of a sample", "30 deg", "2 deg", "70 deg", Reading(&defaults::ANGLE_BY_CARD);
    SAMPLE_LOOP: Length, "one loop of a skein", "1.52 m", "10 cm", "10 m", Reading(&defaults::TAPE);
    BOBBIN_WEIGHT: Mass, "the weight of a bobbin", "96 g", "1 g", "20 kg", Reading(&defaults::SCALE);
    CHECK_LENGTH: Length, "the length that was weighed", "20 m", "10 cm", "10 km", Reading(&defaults::TAPE);
    CHECK_WEIGHT: Mass, "the weight of that length", "3.1 g", "0.01 g", "1 kg", Reading(&defaults::SCALE);
    SPUN_LENGTH: Length, "the yarn on a bobbin", "241 m", "10 cm", "200 km", Reading(&defaults::TAPE);
    SAMPLE_WEIGHT: Mass, "the weight of a sample skein", "15.1 g", "0.1 g", "5 kg", Reading(&defaults::SCALE);
}

/// The most plies that are reckoned with.
pub(super) const MOST_PLIES: i64 = 8;
/// The most plied strands that are cabled.
pub(super) const MOST_STRANDS: i64 = 4;
/// The most bobbins a spinner may own.
pub(super) const MOST_BOBBINS: i64 = 200;
/// The most braids of one dye lot, whether weighed one by one or counted.
pub(super) const MOST_BRAIDS: i64 = 500;
/// The most strips that a braid is torn into.
pub(super) const MOST_STRIPS: i64 = 64;
/// The most pieces that a braid is cut across into.
pub(super) const MOST_PIECES: i64 = 12;
/// The most rows of a piece.
pub(super) const MOST_ROWS: i64 = 20_000;
/// The most of one piece of a garment.
pub(super) const MOST_OF_A_PIECE: i64 = 200;
/// The most alternatives to a plan.
pub(super) const MOST_ALTERNATIVES: usize = 12;
/// The most students of a class.
pub(super) const MOST_STUDENTS: usize = 100;
/// The most stitches in a repeat.
pub(super) const MOST_IN_A_REPEAT: i64 = 1000;
/// The most bundles of a fringe, or strands in one.
pub(super) const MOST_IN_A_FRINGE: i64 = 10_000;
/// The most cloths on one warp.
pub(super) const MOST_ON_A_WARP: i64 = 200;
/// The most loops of a sample skein.
pub(super) const MOST_LOOPS: i64 = 2000;
/// The most entries in a table, sections of a braid, or readings in a list, other than braids.
pub(super) const MOST_ENTRIES: usize = 200;
/// The most bobbins that a log may have.
pub(super) const MOST_LOGGED: usize = 400;
/// The most characters of a name.
pub(super) const LONGEST_NAME: usize = 40;
/// The most characters of a text that is printed as it stands.
pub(super) const LONGEST_TEXT: usize = 120;
/// Between these lies K, wraps per inch over the root of yards per pound, of every yarn that can be believed;
/// our choice, around the 0.345 to 0.378 of spinners' tables and the 0.366 and 0.429 of two sampled skeins.
pub(super) const LOFT: std::ops::RangeInclusive<f64> = 0.25..=0.65;
/// By this share the sections of a braid may miss its length.
pub(super) const SECTIONS_MAY_MISS: f64 = 0.05;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::parse;

    #[test]
    fn limits_are_quantities_of_their_kind_in_rising_order() {
        for (measure, kind) in ALL {
            let [least, most] = [measure.least, measure.most].map(|text| parse(text, *kind).expect(text).value);
            assert!(least < most, "{}", measure.what);
        }
    }
}
