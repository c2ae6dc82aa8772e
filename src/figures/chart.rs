//! The drift of bobbins: which of them differ from their neighbours by more than chance, and at which the spinning
//! moved.
//!
//! Values are tex of singles or of skeins, in the order of spinning. Tex and never counts: counts are reciprocal, and
//! their mean is not the count of the yarn. Whatever is asked of the values is asked of their differences, so that
//! nothing here depends on their unit. Tables of chances were measured by seeded simulation; the check of this module
//! measures them again.

use std::f64::consts::FRAC_2_SQRT_PI;

use super::statistics::mean;

/// The mean range of two values from a normal distribution, in its standard deviations: 2/√π, which tables print as
/// 1.128.
pub const D2_OF_TWO: f64 = FRAC_2_SQRT_PI;

/// How many mean moving ranges the limits lie from the centre: 3/d2 = 2.658681.
///
/// The exact value. Tables print 2.66, and worked examples that divide by 1.128 differ in the fourth digit of their
/// limits; a rounded constant would have to be rounded somewhere, and nobody works these limits out by hand here.
pub const LIMIT_FACTOR: f64 = 3.0 / D2_OF_TWO;

/// How many mean moving ranges a moving range is at most: D4 = 1 + 3 d3/d2 = 1 + 3 √(π/2 − 1) = 3.266532.
///
/// The exact value, as for [`LIMIT_FACTOR`]; tables print 3.267.
pub const RANGE_FACTOR: f64 = 3.266_531_919_288_601;

/// Where the limits of individuals come from.
pub const INDIVIDUALS: &str = "NIST/SEMATECH, e-Handbook of Statistical Methods, 6.3.2.2, individuals control charts (from memory), by exact factors";

/// The fewest bobbins to which rules are put: limits that come from fewer are worth little.
pub const FEWEST_FOR_RULES: usize = 10;

/// The fewest bobbins of which is asked where they moved.
pub const FEWEST_FOR_STEP: usize = 6;

/// The fewest bobbins on either side of a step: one that is off by itself is a matter for the rules.
pub const FEWEST_A_SIDE: usize = 2;

/// Values that differ by no more than this share of their size are alike: what is left of a sum is no drift.
const ALIKE: f64 = 1e-12;

/// A value so many standard deviations beyond a line is on the line: it got there by rounding.
const ROUNDING: f64 = 1e-9;

/// A chart of individual values with moving ranges of two.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Individuals {
    /// The mean of the values, in their unit, as is all of this.
    pub centre: f64,
    /// The mean of the differences between neighbours, without their signs.
    pub mean_moving_range: f64,
    /// The standard deviation of neighbours: the mean moving range over [`D2_OF_TWO`]. A slow drift is not part of it.
    pub sigma: f64,
    /// The lower limit, three of `sigma` below the centre. Below nothing where bobbins differ wildly.
    pub lower: f64,
    /// The upper limit, as far above.
    pub upper: f64,
    /// What a moving range should not exceed.
    pub moving_range_limit: f64,
}

impl Individuals {
    /// The chart of two or more values; `None` for fewer, and where one is not finite.
    ///
    /// # Source
    /// [`INDIVIDUALS`]: with exact factors in place of its 1.128 and 3.267.
    pub fn of(values: &[f64]) -> Option<Self> {
        if values.len() < 2 || values.iter().any(|value| !value.is_finite()) {
            return None;
        }
        let centre = mean(values);
        let mean_moving_range = mean(&moving_ranges(values));
        let reach = LIMIT_FACTOR * mean_moving_range;
        Some(Individuals {
            centre,
            mean_moving_range,
            sigma: mean_moving_range / D2_OF_TWO,
            lower: centre - reach,
            upper: centre + reach,
            moving_range_limit: RANGE_FACTOR * mean_moving_range,
        })
    }

    /// What the rules find in the values that the chart is of; `None` for fewer than [`FEWEST_FOR_RULES`].
    ///
    /// [`false_alarm`] says how often they find something where there is nothing.
    pub fn signals(&self, values: &[f64], rules: &[Rule]) -> Option<Vec<Signal>> {
        (values.len() >= FEWEST_FOR_RULES).then(|| signals(values, self.centre, self.sigma, rules))
    }
}

/// The differences between neighbours, without their signs: one fewer than there are values.
pub fn moving_ranges(values: &[f64]) -> Vec<f64> {
    values.windows(2).map(|pair| (pair[1] - pair[0]).abs()).collect()
}

/// What to do with a bobbin.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Band {
    /// Within [`GOOD_WITHIN`] of the median: ply as it comes.
    Good,
    /// From there to [`MIX_WITHIN`]: ply it with one that is off to the other side.
    Mix,
    /// Further off: to be plied last, spun again, or put where it does not show.
    Act,
}

/// A bobbin that is nearer to the median than this share of it is good.
///
/// Our choice, after a spinner who keeps consecutive hanks within 5 % and is not 10 % off, read in a published craft
/// text.
pub const GOOD_WITHIN: f64 = 0.05;

/// A bobbin that is further from the median than this share of it asks for an act. Our choice, as [`GOOD_WITHIN`].
pub const MIX_WITHIN: f64 = 0.10;

/// How far a bobbin is from the others.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Off {
    /// Its difference from the median, as a share of the median: above nothing is heavier for its length.
    pub share: f64,
    /// What to do with it.
    pub band: Band,
}

/// How far each bobbin is from the median, which one wild bobbin does not move; `None` without bobbins, where one is
/// not finite, and where the median is not above nothing.
pub fn bands(values: &[f64]) -> Option<Vec<Off>> {
    let median = median(values).filter(|median| *median > 0.0)?;
    let off = |value: &f64| {
        let share = (value - median) / median;
        let band = match share.abs() {
            far if far > MIX_WITHIN + ROUNDING => Band::Act,
            far if far < GOOD_WITHIN - ROUNDING => Band::Good,
            _ => Band::Mix,
        };
        Off { share, band }
    };
    Some(values.iter().map(off).collect())
}

/// On which side of the centre: above, singles are heavier for their length, and thicker.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Side {
    /// More tex than the centre.
    Above,
    /// Less.
    Below,
}

impl Side {
    /// How far a value is out on this side.
    fn out(self, scaled: f64) -> f64 {
        match self {
            Side::Above => scaled,
            Side::Below => -scaled,
        }
    }
}

/// A rule by which a chart of individual values is read.
///
/// # Source
/// C. W. Champ and W. H. Woodall, "Exact results for Shewhart control charts with supplementary runs rules",
/// *Technometrics* 29 (1987), 393-399.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Rule {
    /// Rule 1: one beyond three standard deviations.
    OneBeyondThree,
    /// Rule 2: two of three beyond two on one side.
    TwoOfThreeBeyondTwo,
    /// Rule 3: four of five beyond one on one side.
    FourOfFiveBeyondOne,
    /// Rule 4: eight in a row on one side of the centre.
    EightInARow,
}

impl Rule {
    /// All four.
    pub const ALL: [Rule; 4] =
        [Rule::OneBeyondThree, Rule::TwoOfThreeBeyondTwo, Rule::FourOfFiveBeyondOne, Rule::EightInARow];

    /// How many, of how many in a row, beyond how many standard deviations.
    fn asks(self) -> (usize, usize, f64) {
        match self {
            Rule::OneBeyondThree => (1, 1, 3.0),
            Rule::TwoOfThreeBeyondTwo => (2, 3, 2.0),
            Rule::FourOfFiveBeyondOne => (4, 5, 1.0),
            Rule::EightInARow => (8, 8, 0.0),
        }
    }

    /// Whether the last of some values raises the rule, and on which side. Values are in standard deviations from the
    /// centre, in the order of spinning, and the last is one of those that are beyond.
    pub fn raised_by(self, scaled: &[f64]) -> Option<Side> {
        let (least, _, _) = self.asks();
        let last = scaled.len().checked_sub(1)?;
        [Side::Above, Side::Below].into_iter().find(|side| {
            let mut beyond = self.beyond(scaled, *side);
            beyond.next() == Some(last) && beyond.count() + 1 >= least
        })
    }

    /// Which of the last few values the rule counts on a side: their indices, the last first.
    fn beyond(self, scaled: &[f64], side: Side) -> impl Iterator<Item = usize> {
        let (_, of, line) = self.asks();
        (scaled.len().saturating_sub(of)..scaled.len()).rev().filter(move |at| side.out(scaled[*at]) > line + ROUNDING)
    }

    /// What the rule finds in scaled values: what hangs together is one signal.
    fn signals(self, scaled: &[f64]) -> Vec<Signal> {
        let mut found: Vec<Signal> = Vec::new();
        for at in 0..scaled.len() {
            let so_far = &scaled[..=at];
            let Some(side) = self.raised_by(so_far) else { continue };
            let mut bobbins: Vec<usize> = self.beyond(so_far, side).collect();
            bobbins.reverse();
            // Windows of three and of five can raise a rule on both sides in turn.
            let before = found.iter_mut().rev().find(|signal| signal.side == side);
            match before.filter(|signal| signal.bobbins.last() >= bobbins.first()) {
                Some(signal) => {
                    let known = signal.bobbins.last().copied();
                    signal.bobbins.extend(bobbins.into_iter().filter(|bobbin| Some(*bobbin) > known));
                }
                None => found.push(Signal { rule: self, side, at, bobbins }),
            }
        }
        found
    }
}

/// Something that a rule found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Signal {
    /// The rule.
    pub rule: Rule,
    /// On which side the bobbins lie.
    pub side: Side,
    /// The bobbin at which it was first known, by its index.
    pub at: usize,
    /// The bobbins that lie beyond the line of the rule, rising indices. Longer than the rule asks where a run goes on.
    pub bobbins: Vec<usize>,
}

/// What the rules find in values about a known centre with a known standard deviation, both in the unit of the values:
/// by the bobbin at which it was known, then by rule. Nothing where the standard deviation is nothing.
pub fn signals(values: &[f64], centre: f64, sigma: f64, rules: &[Rule]) -> Vec<Signal> {
    if sigma <= ALIKE * centre.abs() {
        return Vec::new();
    }
    let scaled: Vec<f64> = values.iter().map(|value| (value - centre) / sigma).collect();
    let mut found: Vec<Signal> = rules.iter().flat_map(|rule| rule.signals(&scaled)).collect();
    found.sort_by_key(|signal| (signal.at, signal.rule));
    found
}

/// How often bobbins spun alike show a signal by chance, where centre and limits come from these bobbins themselves: as
/// shares of series, not of bobbins.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FalseAlarm {
    /// A signal of rule 1, where it alone is used.
    pub rule_one: f64,
    /// A signal of any of the four rules.
    pub all: f64,
}

/// The chance that so many bobbins spun alike show a signal; `None` for fewer than 10 and more than 30.
///
/// It holds for independent bobbins from one normal distribution. Limits follow a bobbin that is out, so that these
/// chances are lower than with known limits (20 bobbins: 5.3 and 17.4 in a hundred); for limits kept from ten bobbins
/// they are higher, as [`FURTHER_ALARM`] says. Where neighbours are more alike than others, as in a slow drift, moving
/// ranges are too small and there are more signals.
///
/// # Source
/// Measured here with 1,000,000 series for each number of bobbins; standard error at most 0.04 in a hundred.
pub fn false_alarm(bobbins: usize) -> Option<FalseAlarm> {
    let [rule_one, all] = *FALSE_ALARMS.get(bobbins.checked_sub(FEWEST_FOR_RULES)?)?;
    Some(FalseAlarm { rule_one, all })
}

/// The table of [`false_alarm`], from 10 bobbins to 30.
const FALSE_ALARMS: [[f64; 2]; 21] = [
    [0.0214, 0.0390],
    [0.0242, 0.0455],
    [0.0269, 0.0528],
    [0.0296, 0.0602],
    [0.0325, 0.0684],
    [0.0350, 0.0760],
    [0.0376, 0.0841],
    [0.0405, 0.0928],
    [0.0434, 0.1007],
    [0.0456, 0.1090],
    [0.0484, 0.1175],
    [0.0507, 0.1258],
    [0.0536, 0.1338],
    [0.0558, 0.1425],
    [0.0590, 0.1507],
    [0.0613, 0.1590],
    [0.0640, 0.1678],
    [0.0665, 0.1756],
    [0.0693, 0.1839],
    [0.0717, 0.1920],
    [0.0743, 0.2005],
];

/// The chance that ten further bobbins show a signal, all twenty spun alike, where the first ten showed none and alone
/// give centre and limits, which are then kept. Limits kept from ten bobbins alarm more often than limits made anew
/// from all.
///
/// # Source
/// Measured here with 200,000 series; standard error at most 0.1 in a hundred.
pub const FURTHER_ALARM: FalseAlarm = FalseAlarm { rule_one: 0.1481, all: 0.2675 };

/// After how many bobbins a step is found, counted from the first after it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Found {
    /// Half of all series show a signal with no more.
    pub half: usize,
    /// Nine series of ten show a signal with no more.
    pub nine_in_ten: usize,
    /// The share of series that show a signal with ten or fewer.
    pub within_ten: f64,
}

/// How soon a step is found after [`FEWEST_FOR_RULES`] bobbins spun alike that showed no signal and give the limits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Detection {
    /// The step, in standard deviations of single bobbins.
    pub step: f64,
    /// By rule 1 alone.
    pub rule_one: Found,
    /// By all four rules, which look back over the step.
    pub all: Found,
}

/// How soon steps of one, two and three standard deviations are found.
///
/// Limits from ten bobbins are so unsure that the unlucky tenth waits very long for a small step: where it matters,
/// look for it with [`step`], which uses the bobbins after it too.
///
/// # Source
/// Measured here with 200,000 series for each step; standard error of a share at most 0.11 in a hundred.
pub const DETECTION: [Detection; 3] = [
    Detection {
        step: 1.0,
        rule_one: Found { half: 26, nine_in_ten: 1336, within_ten: 0.3424 },
        all: Found { half: 7, nine_in_ten: 25, within_ten: 0.6944 },
    },
    Detection {
        step: 2.0,
        rule_one: Found { half: 4, nine_in_ten: 71, within_ten: 0.6902 },
        all: Found { half: 3, nine_in_ten: 6, within_ten: 0.9843 },
    },
    Detection {
        step: 3.0,
        rule_one: Found { half: 1, nine_in_ten: 9, within_ten: 0.9111 },
        all: Found { half: 1, nine_in_ten: 3, within_ten: 0.9999 },
    },
];

/// The bobbin before which a series moved from one mean to another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step {
    /// The first bobbin after the step, by its index, which is also the number of bobbins before it.
    pub first_after: usize,
    /// The mean before, in the unit of the values.
    pub before: f64,
    /// The mean after.
    pub after: f64,
    /// What the step takes away of the sum of squares about the mean, as a share. It is t²/(t² + n − 2) with Student's
    /// t of the two means. The likelihood ratio is a power of one less this share, so that the likeliest step has the
    /// most of it.
    pub explains: f64,
}

/// The likeliest step of a normal mean under one unknown standard deviation, at least [`FEWEST_A_SIDE`] bobbins on each
/// side, the first of equals. `None` for fewer than four values, where one is not finite, and where all are alike.
///
/// # Source
/// K. J. Worsley, "On the likelihood ratio test for a shift in location of normal populations", *Journal of the
/// American Statistical Association* 74 (1979), 365-367 (from memory).
pub fn step(values: &[f64]) -> Option<Step> {
    let (from_first, squares) = about_first(values)?;
    let n = values.len();
    let total: f64 = from_first.iter().sum();
    let mut best: Option<Step> = None;
    let mut sum = 0.0;
    for (at, value) in from_first.iter().enumerate() {
        if at >= FEWEST_A_SIDE && at + FEWEST_A_SIDE <= n {
            let (before, after) = (sum / at as f64, (total - sum) / (n - at) as f64);
            let between = (at * (n - at)) as f64 / n as f64 * (after - before) * (after - before);
            let explains = (between / squares).min(1.0);
            if best.is_none_or(|best| explains > best.explains) {
                best = Some(Step { first_after: at, before: values[0] + before, after: values[0] + after, explains });
            }
        }
        sum += value;
    }
    best
}

impl Step {
    /// How often the likeliest step of so many bobbins spun alike explains as much; `None` for fewer than
    /// [`FEWEST_FOR_STEP`]. Of more than 30 it is told as of 30, which is more often than it is.
    pub fn chance(&self, bobbins: usize) -> Option<Chance> {
        let critical = StepCritical::of(bobbins)?;
        Some(match self.explains {
            much if much > critical.one => Chance::BelowOne,
            much if much > critical.five => Chance::BelowFive,
            much if much > critical.ten => Chance::BelowTen,
            _ => Chance::TenOrMore,
        })
    }
}

/// How often something is seen where there is nothing, in per cent.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Chance {
    /// In fewer than one series of a hundred.
    BelowOne,
    /// In fewer than five.
    BelowFive,
    /// In fewer than ten.
    BelowTen,
    /// In ten of a hundred, or more.
    TenOrMore,
}

/// What the likeliest step of bobbins spun alike explains ([`Step::explains`]) in so many series of a hundred, or more.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StepCritical {
    /// In ten.
    pub ten: f64,
    /// In five.
    pub five: f64,
    /// In three: see [`EITHER_CHANCE`].
    pub three: f64,
    /// In one.
    pub one: f64,
}

impl StepCritical {
    /// Of so many bobbins; `None` for fewer than [`FEWEST_FOR_STEP`], and those of 30 for more than 30, where less
    /// would do.
    ///
    /// # Source
    /// Measured here with 1,000,000 series of independent normal values for each number of bobbins. The chances hold to
    /// a standard error of 0.03, 0.022, 0.017 and 0.01 in a hundred.
    pub fn of(bobbins: usize) -> Option<Self> {
        let row = bobbins.checked_sub(FEWEST_FOR_STEP)?;
        let [ten, five, three, one] = STEP_CRITICAL[row.min(STEP_CRITICAL.len() - 1)];
        Some(StepCritical { ten, five, three, one })
    }
}

/// The table of [`StepCritical::of`], from 6 bobbins to 30.
const STEP_CRITICAL: [[f64; 4]; 25] = [
    [0.7076, 0.7951, 0.8409, 0.9067],
    [0.6505, 0.7388, 0.7879, 0.8627],
    [0.5992, 0.6859, 0.7370, 0.8180],
    [0.5551, 0.6395, 0.6913, 0.7770],
    [0.5170, 0.5991, 0.6489, 0.7352],
    [0.4832, 0.5619, 0.6119, 0.6978],
    [0.4538, 0.5293, 0.5770, 0.6637],
    [0.4278, 0.5002, 0.5469, 0.6320],
    [0.4049, 0.4745, 0.5197, 0.6033],
    [0.3837, 0.4503, 0.4942, 0.5752],
    [0.3655, 0.4295, 0.4713, 0.5511],
    [0.3489, 0.4099, 0.4510, 0.5290],
    [0.3334, 0.3924, 0.4321, 0.5088],
    [0.3191, 0.3760, 0.4143, 0.4890],
    [0.3061, 0.3610, 0.3988, 0.4704],
    [0.2948, 0.3478, 0.3844, 0.4539],
    [0.2838, 0.3357, 0.3705, 0.4387],
    [0.2740, 0.3240, 0.3579, 0.4241],
    [0.2646, 0.3130, 0.3452, 0.4100],
    [0.2559, 0.3028, 0.3347, 0.3984],
    [0.2479, 0.2930, 0.3241, 0.3860],
    [0.2402, 0.2839, 0.3147, 0.3753],
    [0.2331, 0.2759, 0.3059, 0.3643],
    [0.2260, 0.2675, 0.2963, 0.3542],
    [0.2203, 0.2608, 0.2887, 0.3450],
];

/// A straight line through a series.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Trend {
    /// By how much each bobbin is more than the one before, in the unit of the values.
    pub slope: f64,
    /// What the line takes away of the sum of squares about the mean, as a share.
    pub explains: f64,
    /// Student's t of the slope, with two degrees of freedom fewer than there are bobbins. Infinite on a perfect line.
    pub t: f64,
}

/// The straight line of least squares; `None` for fewer than three values, where one is not finite, and where all are
/// alike.
///
/// # Source
/// Any text of statistics: slope = Σ(i − ī)(x − x̄) ÷ Σ(i − ī)², t = r √((n − 2) ÷ (1 − r²)).
pub fn trend(values: &[f64]) -> Option<Trend> {
    let (from_first, squares) = about_first(values)?;
    let n = values.len() as f64;
    let middle = (n - 1.0) / 2.0;
    let of_places = n * (n * n - 1.0) / 12.0;
    let together: f64 = from_first.iter().enumerate().map(|(at, value)| (at as f64 - middle) * value).sum();
    let slope = together / of_places;
    let explains = (slope * together / squares).min(1.0);
    let t = (explains * (n - 2.0) / (1.0 - explains)).sqrt().copysign(slope);
    (values.len() > 2).then_some(Trend { slope, explains, t })
}

/// How a series moved, if it did.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Moved {
    /// Not more than bobbins spun alike do.
    Not,
    /// From one bobbin to the next.
    Step(Step),
    /// A little with every bobbin.
    Trend(Trend),
}

/// The chance at which a step holds by itself, and a trend by itself. One or the other then holds in about five of a
/// hundred series of bobbins spun alike (measured: 5.1 of six bobbins, 4.9 of seven, 4.6 to 4.8 of more); at five each
/// it would be 7.4 to 7.9.
pub const EITHER_CHANCE: f64 = 0.03;

/// Whether a series moved, and how; `None` for fewer than [`FEWEST_FOR_STEP`] bobbins, and where one is not finite.
///
/// `student` is the quantile of Student's t at 1 − [`EITHER_CHANCE`]/2 for two degrees of freedom fewer than there are
/// bobbins. Where step and trend both hold, the likelier is told, after the step has paid for the choice of its place.
///
/// # Source
/// G. Schwarz, "Estimating the dimension of a model", *Annals of Statistics* 6 (1978), 461-464 (from memory), for that
/// price: ln n in twice the logarithm of the likelihood.
pub fn moved(values: &[f64], student: f64) -> Option<Moved> {
    let critical = StepCritical::of(values.len()).filter(|_| values.iter().all(|value| value.is_finite()))?;
    let (Some(step), Some(trend)) = (step(values), trend(values)) else { return Some(Moved::Not) };
    Some(match (step.explains > critical.three, trend.t.abs() > student) {
        (false, false) => Moved::Not,
        (true, false) => Moved::Step(step),
        (false, true) => Moved::Trend(trend),
        (true, true) => {
            let n = values.len() as f64;
            let of_step = n * libm::log(1.0 - step.explains) + libm::log(n);
            let of_trend = n * libm::log(1.0 - trend.explains);
            if of_step < of_trend { Moved::Step(step) } else { Moved::Trend(trend) }
        }
    })
}

/// Differences from the first value, so that equal values leave exactly nothing, and the sum of their squares about
/// their mean. `None` where a value is not finite or all are alike.
fn about_first(values: &[f64]) -> Option<(Vec<f64>, f64)> {
    let first = values.first()?;
    let from_first: Vec<f64> = values.iter().map(|value| value - first).collect();
    let most = values.iter().fold(0.0_f64, |most, value| most.max(value.abs()));
    let do_differ = from_first.iter().any(|value| value.abs() > ALIKE * most);
    let middle = mean(&from_first);
    let squares = from_first.iter().map(|value| (value - middle) * (value - middle)).sum::<f64>();
    (do_differ && squares.is_normal()).then_some((from_first, squares))
}

/// The middle value, or half way between the two in the middle.
fn median(values: &[f64]) -> Option<f64> {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let is_finite = !sorted.is_empty() && sorted.iter().all(|value| value.is_finite());
    is_finite.then(|| (sorted[(sorted.len() - 1) / 2] + sorted[sorted.len() / 2]) / 2.0)
}
