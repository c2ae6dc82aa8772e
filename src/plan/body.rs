//! Bodies: what is known of one whose chest is known, from a survey of measured people and from tables of sizes.
//!
//! All lengths in metres. The survey is the 2012 Anthropometric Survey of U.S. Army Personnel (1,986 women, 4,082 men; Gordon et al.
//! 2014, Natick/TR-15/007, the number from memory), regressed on the chest; the tables of sizes are the trade's, recalled from its
//! booklet and marked so. A survey is not asked beyond its people, nor a table beyond its sizes but for one more step.

use crate::units::Standing;

/// Whose body.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Whom {
    /// A grown woman.
    Woman,
    /// A grown man.
    Man,
    /// A child, by years of age.
    Child,
    /// A baby, by months of age.
    Baby,
}

/// What is measured of a body.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum BodyMeasure {
    /// Around the chest or bust.
    Chest,
    /// Around the upper arm.
    UpperArm,
    /// Around the wrist.
    Wrist,
    /// Around the base of the neck.
    Neck,
    /// Across the back, from arm to arm.
    CrossBack,
    /// From the nape to the waist.
    BackWaist,
    /// From the underarm to the wrist.
    Arm,
    /// From the shoulder straight down to the underarm.
    Armhole,
    /// From the middle of the nape along the arm to the wrist.
    NeckToWrist,
    /// Around the head.
    Head,
    /// Around the hand without the thumb.
    Hand,
    /// From the wrist to the tip of the longest finger.
    HandLength,
    /// Around the ball of the foot.
    Foot,
    /// From heel to toe.
    FootLength,
}

impl BodyMeasure {
    /// All of them.
    pub const ALL: [Self; 14] = [
        Self::Chest,
        Self::UpperArm,
        Self::Wrist,
        Self::Neck,
        Self::CrossBack,
        Self::BackWaist,
        Self::Arm,
        Self::Armhole,
        Self::NeckToWrist,
        Self::Head,
        Self::Hand,
        Self::HandLength,
        Self::Foot,
        Self::FootLength,
    ];

    /// Its key in a plan.
    pub fn key(self) -> &'static str {
        match self {
            Self::Chest => "chest",
            Self::UpperArm => "upper-arm",
            Self::Wrist => "wrist",
            Self::Neck => "neck",
            Self::CrossBack => "cross-back",
            Self::BackWaist => "back-waist",
            Self::Arm => "arm",
            Self::Armhole => "armhole",
            Self::NeckToWrist => "neck-to-wrist",
            Self::Head => "head",
            Self::Hand => "hand",
            Self::HandLength => "hand-length",
            Self::Foot => "foot",
            Self::FootLength => "foot-length",
        }
    }

    /// What it is, as a noun.
    pub fn words(self) -> &'static str {
        match self {
            Self::Chest => "chest",
            Self::UpperArm => "upper arm",
            Self::Wrist => "wrist",
            Self::Neck => "base of the neck",
            Self::CrossBack => "back from arm to arm",
            Self::BackWaist => "back from nape to waist",
            Self::Arm => "arm from underarm to wrist",
            Self::Armhole => "armhole straight down",
            Self::NeckToWrist => "nape to wrist",
            Self::Head => "head",
            Self::Hand => "hand without its thumb",
            Self::HandLength => "length of the hand",
            Self::Foot => "ball of the foot",
            Self::FootLength => "length of the foot",
        }
    }
}

/// What a body measure is likely to be, along the chest: `base + per_chest × chest`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate {
    /// Metres at no chest at all; of a line that holds near this chest only.
    pub base: f64,
    /// Metres for each metre of chest.
    pub per_chest: f64,
    /// Standard deviation of bodies about it, metres.
    pub sd: f64,
    /// How well it is founded.
    pub standing: Standing,
    /// Where it comes from.
    pub source: &'static str,
}

impl Estimate {
    /// The measure of a body with this chest.
    pub fn at(&self, chest: f64) -> f64 {
        self.base + self.per_chest * chest
    }
}

/// A size of the tables.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Size {
    /// Its name: "M", "8 years".
    pub name: &'static str,
    /// The least chest it is for.
    pub least: f64,
    /// The greatest.
    pub most: f64,
}

impl Size {
    /// The chest in the middle of it.
    pub fn chest(&self) -> f64 {
        f64::midpoint(self.least, self.most)
    }
}

const INCH: f64 = 0.0254;
/// The greatest chest for which the tables are extended.
pub const MOST_CHEST: f64 = 1.65;

const SURVEY: &str = "regression on the chest, 2012 Anthropometric Survey of U.S. Army Personnel (Gordon et al. 2014)";
const BEYOND_SURVEY: &str = "beyond the people surveyed: as at the end of their range, twice as wide; measure your own";
const TABLE: &str = "size tables of the Craft Yarn Council, recalled; bodies of one chest differ by about 6 %";
const BEYOND_TABLE: &str = "beyond the size tables: their last step extended, twice as wide; measure your own";
/// How far bodies of one chest differ from a table: the survey has 4 to 7 %.
const TABLE_SD: f64 = 0.06;

/// What a measure is likely to be for a chest (metres). `None` where nothing is known: it has to be measured.
pub fn estimate(whom: Whom, measure: BodyMeasure, chest: f64) -> Option<Estimate> {
    let inches = chest / INCH;
    let surveyed = survey(whom, measure);
    let (least, most) = survey_range(whom);
    if let Some((a, b, sd)) = surveyed
        && (least..=most).contains(&inches)
    {
        let standing = Standing::Published;
        return Some(Estimate { base: a * INCH, per_chest: b, sd: sd * INCH, standing, source: SURVEY });
    }
    let tabled = by_table(whom, measure, inches);
    if let (Some(tabled), Some((a, b, _))) = (tabled, surveyed) {
        // Carried on from the end of the survey by the steps of the tables, so that a larger chest is never a smaller garment.
        let end = inches.clamp(least, most);
        let there = by_table(whom, measure, end)?;
        let base = tabled.base + (a + b * end) * INCH - there.at(end * INCH);
        return Some(Estimate { base, ..tabled });
    }
    tabled.or_else(|| {
        let (a, b, sd) = surveyed?;
        if !(chests(whom).0..=MOST_CHEST / INCH).contains(&inches) {
            return None;
        }
        let base = (a + b * inches.clamp(least, most)) * INCH;
        let standing = Standing::OurChoice;
        Some(Estimate { base, per_chest: 0.0, sd: 2.0 * sd * INCH, standing, source: BEYOND_SURVEY })
    })
}

/// The least and the greatest chest, metres, for which anything is known.
pub fn chest_range(whom: Whom) -> (f64, f64) {
    let (least, most) = chests(whom);
    let most = match whom {
        Whom::Woman | Whom::Man => MOST_CHEST,
        Whom::Child | Whom::Baby => most * INCH,
    };
    (least * INCH, most)
}

/// The sizes of the tables.
pub fn sizes(whom: Whom) -> Vec<Size> {
    let (names, ranges) = size_rows(whom);
    let size =
        |(name, (least, most)): (&&'static str, &(f64, f64))| Size { name, least: least * INCH, most: most * INCH };
    names.iter().zip(ranges).map(size).collect()
}

/// Chests in inches over which the survey is asked: from about its fifth percentile, up to where it says no more.
fn survey_range(whom: Whom) -> (f64, f64) {
    match whom {
        Whom::Woman => (32.5, 50.0),
        Whom::Man => (36.3, 50.0),
        Whom::Child | Whom::Baby => (f64::INFINITY, f64::INFINITY),
    }
}

/// Intercept, slope and residual standard deviation in inches.
fn survey(whom: Whom, measure: BodyMeasure) -> Option<(f64, f64, f64)> {
    use BodyMeasure as M;
    match whom {
        Whom::Woman => match measure {
            M::UpperArm => Some((1.69, 0.2775, 0.81)),
            M::Wrist => Some((4.24, 0.0497, 0.26)),
            M::Neck => Some((8.79, 0.1561, 0.58)),
            M::CrossBack => Some((9.77, 0.1560, 0.88)),
            M::BackWaist => Some((11.15, 0.1501, 0.92)),
            M::Arm => Some((17.5, 0.0, 1.17)),
            // Half the breadth of the shoulders and the length from there to the wrist.
            M::NeckToWrist => Some((12.00 / 2.0 + 18.20, 0.0640 / 2.0 + 0.0859, 1.18)),
            M::Head => Some((20.28, 0.0486, 0.75)),
            M::Hand => Some((5.79, 0.0418, 0.32)),
            M::HandLength => Some((6.03, 0.0294, 0.38)),
            M::Foot => Some((7.02, 0.0527, 0.43)),
            M::FootLength => Some((8.11, 0.0425, 0.47)),
            M::Chest | M::Armhole => None,
        },
        Whom::Man => match measure {
            M::UpperArm => Some((1.12, 0.3114, 0.84)),
            M::Wrist => Some((4.34, 0.0620, 0.28)),
            M::Neck => Some((7.94, 0.2200, 0.67)),
            M::CrossBack => Some((8.55, 0.2202, 0.93)),
            M::BackWaist => Some((12.22, 0.1580, 0.95)),
            M::Arm => Some((19.0, 0.0, 1.23)),
            M::NeckToWrist => Some((11.63 / 2.0 + 20.41, 0.1135 / 2.0 + 0.0706, 1.23)),
            M::Head => Some((19.42, 0.0767, 0.57)),
            M::Hand => Some((5.97, 0.0573, 0.35)),
            M::HandLength => Some((6.37, 0.0298, 0.38)),
            M::Foot => Some((6.98, 0.0705, 0.45)),
            M::FootLength => Some((8.78, 0.0455, 0.49)),
            M::Chest | M::Armhole => None,
        },
        Whom::Child | Whom::Baby => None,
    }
}

type Rows = (&'static [&'static str], &'static [(f64, f64)]);

/// Names of the sizes and their chests in inches.
fn size_rows(whom: Whom) -> Rows {
    match whom {
        Whom::Woman => (
            &["XS", "S", "M", "L", "1X", "2X", "3X", "4X", "5X"],
            &[
                (28.0, 30.0),
                (32.0, 34.0),
                (36.0, 38.0),
                (40.0, 42.0),
                (44.0, 46.0),
                (48.0, 50.0),
                (52.0, 54.0),
                (56.0, 58.0),
                (60.0, 62.0),
            ],
        ),
        Whom::Man => {
            (&["S", "M", "L", "XL", "2X"], &[(34.0, 36.0), (38.0, 40.0), (42.0, 44.0), (46.0, 48.0), (50.0, 52.0)])
        }
        Whom::Child => (
            &["2 years", "4 years", "6 years", "8 years", "10 years", "12 years", "14 years", "16 years"],
            &[
                (21.0, 21.0),
                (23.0, 23.0),
                (25.0, 25.0),
                (26.5, 26.5),
                (28.0, 28.0),
                (30.0, 30.0),
                (31.5, 31.5),
                (32.5, 32.5),
            ],
        ),
        Whom::Baby => (
            &["3 months", "6 months", "12 months", "18 months", "24 months"],
            &[(16.0, 16.0), (17.0, 17.0), (18.0, 18.0), (19.0, 19.0), (20.0, 20.0)],
        ),
    }
}

fn chests(whom: Whom) -> (f64, f64) {
    let (_, ranges) = size_rows(whom);
    (ranges[0].0, ranges[ranges.len() - 1].1)
}

/// A column of the size tables in inches, ranges by their middle.
fn column(whom: Whom, measure: BodyMeasure) -> Option<&'static [f64]> {
    use BodyMeasure as M;
    Some(match whom {
        Whom::Woman => match measure {
            M::UpperArm => &[9.75, 10.25, 11.0, 12.0, 13.5, 15.5, 17.0, 18.5, 19.5],
            M::CrossBack => &[14.25, 14.75, 16.25, 17.25, 17.5, 18.0, 18.0, 18.5, 18.5],
            M::BackWaist => &[16.5, 17.0, 17.25, 17.5, 17.75, 18.0, 18.0, 18.5, 18.5],
            M::Arm => &[16.5, 17.0, 17.0, 17.5, 17.5, 18.0, 18.0, 18.5, 18.5],
            M::Armhole => &[6.25, 6.75, 7.25, 7.75, 8.25, 8.75, 9.25, 9.75, 10.25],
            M::NeckToWrist => &[27.25, 28.25, 28.75, 29.25, 31.25, 31.75, 32.75, 32.75, 33.25],
            M::Chest | M::Wrist | M::Neck | M::Head | M::Hand | M::HandLength | M::Foot | M::FootLength => return None,
        },
        Whom::Man => match measure {
            M::UpperArm => &[12.0, 13.0, 15.0, 16.0, 17.0],
            M::CrossBack => &[15.75, 16.75, 17.75, 18.25, 18.75],
            M::Arm => &[18.0, 18.5, 19.5, 20.0, 20.5],
            M::Armhole => &[8.75, 9.25, 9.75, 10.25, 10.75],
            M::NeckToWrist => &[32.25, 33.25, 34.25, 35.25, 36.25],
            M::Chest
            | M::BackWaist
            | M::Wrist
            | M::Neck
            | M::Head
            | M::Hand
            | M::HandLength
            | M::Foot
            | M::FootLength => return None,
        },
        Whom::Child => match measure {
            M::UpperArm => &[7.0, 7.5, 8.0, 8.5, 8.75, 9.0, 9.25, 9.5],
            M::CrossBack => &[9.25, 9.75, 10.25, 10.75, 11.25, 12.0, 12.25, 13.0],
            M::BackWaist => &[8.5, 9.5, 10.5, 12.5, 14.0, 15.0, 15.5, 16.0],
            M::Arm => &[8.5, 10.5, 11.5, 12.5, 13.5, 15.0, 16.0, 16.5],
            M::Armhole => &[4.25, 4.75, 5.0, 5.5, 6.0, 6.5, 7.0, 7.5],
            M::NeckToWrist => &[18.0, 19.5, 20.5, 22.0, 24.0, 26.0, 27.0, 28.0],
            M::Chest | M::Wrist | M::Neck | M::Head | M::Hand | M::HandLength | M::Foot | M::FootLength => return None,
        },
        Whom::Baby => match measure {
            M::UpperArm => &[5.5, 6.0, 6.5, 7.0, 7.5],
            M::CrossBack => &[7.25, 7.75, 8.25, 8.5, 8.75],
            M::BackWaist => &[6.0, 7.0, 7.5, 8.0, 8.5],
            M::Arm => &[6.0, 6.5, 7.5, 8.0, 8.5],
            M::Armhole => &[3.25, 3.5, 3.75, 4.0, 4.25],
            M::NeckToWrist => &[10.5, 11.5, 12.5, 14.0, 18.0],
            M::Chest | M::Wrist | M::Neck | M::Head | M::Hand | M::HandLength | M::Foot | M::FootLength => return None,
        },
    })
}

/// From the tables of sizes, between the two sizes on whose chests it lies.
fn by_table(whom: Whom, measure: BodyMeasure, inches: f64) -> Option<Estimate> {
    let column = column(whom, measure)?;
    let (_, ranges) = size_rows(whom);
    let middles: Vec<f64> = ranges.iter().map(|(least, most)| f64::midpoint(*least, *most)).collect();
    let (least, most) = chest_range(whom);
    // A hair of room for inches that came from metres.
    if !(least - 1e-9..=most + 1e-9).contains(&(inches * INCH)) {
        return None;
    }
    let last = middles.len() - 1;
    let above = (1..last).find(|i| inches <= middles[*i]).unwrap_or(last);
    let slope = (column[above] - column[above - 1]) / (middles[above] - middles[above - 1]);
    let is_beyond = inches > ranges[last].1 + 1e-9;
    let value = column[above] + slope * (inches - middles[above]);
    let (wider, standing, source) =
        if is_beyond { (2.0, Standing::OurChoice, BEYOND_TABLE) } else { (1.0, Standing::FromMemory, TABLE) };
    Some(Estimate {
        base: (value - slope * inches) * INCH,
        per_chest: slope,
        sd: wider * TABLE_SD * value * INCH,
        standing,
        source,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inches(whom: Whom, measure: BodyMeasure, chest: f64) -> f64 {
        let found = estimate(whom, measure, chest * INCH).expect("known");
        found.at(chest * INCH) / INCH
    }

    #[test]
    fn tables_give_their_own_numbers_at_their_sizes() {
        for whom in [Whom::Woman, Whom::Man, Whom::Child, Whom::Baby] {
            for (i, size) in sizes(whom).iter().enumerate() {
                let column = column(whom, BodyMeasure::Armhole).expect("in every table");
                assert!((inches(whom, BodyMeasure::Armhole, size.chest() / INCH) - column[i]).abs() < 1e-9, "{size:?}");
            }
        }
    }

    #[test]
    fn every_column_has_a_number_for_each_size() {
        for whom in [Whom::Woman, Whom::Man, Whom::Child, Whom::Baby] {
            for measure in BodyMeasure::ALL {
                assert!(
                    column(whom, measure).is_none_or(|column| column.len() == sizes(whom).len()),
                    "{whom:?} {measure:?}"
                );
            }
        }
    }

    #[test]
    fn a_table_is_extended_by_one_step_and_no_further() {
        let beyond = estimate(Whom::Woman, BodyMeasure::Armhole, 1.64).expect("one step more");
        assert_eq!(beyond.standing, Standing::OurChoice);
        assert!((beyond.at(1.64) / INCH - (10.25 + (1.64 / INCH - 61.0) * 0.125)).abs() < 1e-9);
        let within = estimate(Whom::Woman, BodyMeasure::Armhole, 61.0 * INCH).expect("in the table");
        assert!(beyond.sd > 1.9 * within.sd, "twice as wide");
        assert!(estimate(Whom::Woman, BodyMeasure::UpperArm, 1.66).is_none());
        assert!(estimate(Whom::Child, BodyMeasure::UpperArm, 0.90).is_none());
        assert!(estimate(Whom::Child, BodyMeasure::Head, 0.65).is_none(), "nothing was found");
    }

    #[test]
    fn a_larger_chest_is_never_a_much_smaller_measure() {
        for whom in [Whom::Woman, Whom::Man, Whom::Child, Whom::Baby] {
            let (least, most) = chest_range(whom);
            for measure in BodyMeasure::ALL.into_iter().filter(|measure| estimate(whom, *measure, least).is_some()) {
                let at = |chest: f64| estimate(whom, measure, chest).expect("known between").at(chest);
                let steps: Vec<f64> = (0..=500).map(|i| at(least + (most - least) * f64::from(i) / 500.0)).collect();
                assert!(steps.windows(2).all(|pair| pair[1] > pair[0] - 1e-9), "{whom:?} {measure:?}");
            }
        }
    }

    #[test]
    fn a_survey_is_not_asked_beyond_its_people() {
        let at = |chest: f64| estimate(Whom::Woman, BodyMeasure::Wrist, chest * INCH).expect("known");
        assert_eq!(at(40.0).standing, Standing::Published);
        assert_eq!((at(55.0).standing, at(55.0).per_chest), (Standing::OurChoice, 0.0));
        assert!((at(55.0).at(55.0 * INCH) - at(50.0).at(50.0 * INCH)).abs() < 1e-12);
    }
}
