//! Charts of bobbins: against published data, an exact Markov chain, bounds by Student's t, and the module's own tables
//! anew.
//!
//! `CHART_SERIES=1000000 cargo test --release -- --nocapture` measures the tables again and prints them.

use std::collections::BTreeMap;
use std::f64::consts::{FRAC_PI_2, SQRT_2, TAU};

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{RngCore, SeedableRng};
use wheelsheet::figures::chart::{
    Band, Chance, D2_OF_TWO, DETECTION, EITHER_CHANCE, FEWEST_FOR_RULES, FEWEST_FOR_STEP, FURTHER_ALARM, Found,
    Individuals, LIMIT_FACTOR, Moved, RANGE_FACTOR, Rule, Side, Step, StepCritical, bands, false_alarm, moved,
    moving_ranges, signals, step, trend,
};

/// Diameters, from the documentation of a package of statistics.
const DIAMETERS: [f64; 20] = [
    78.4, 80.1, 84.4, 79.1, 80.4, 83.5, 73.8, 83.5, 75.0, 76.8, 70.5, 80.3, 82.4, 79.4, 86.4, 90.5, 77.7, 82.5, 79.9,
    83.2,
];

/// NIST/SEMATECH, *e-Handbook of Statistical Methods*, 6.3.2.2; data and limits from memory.
const FLOW: [f64; 10] = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];

/// How many standard errors a measured share may be off.
const ERRORS: f64 = 4.0;

fn assert_close(value: f64, expected: f64, within: f64, what: &str) {
    assert!((value - expected).abs() <= within, "{what}: {value} and not {expected}");
}

/// Standard normal numbers from a seed (Box and Muller).
struct Normal {
    stream: ChaCha8Rng,
    second: Option<f64>,
}

impl Normal {
    fn new(seed: u64) -> Self {
        Normal { stream: ChaCha8Rng::seed_from_u64(seed), second: None }
    }

    fn uniform(&mut self) -> f64 {
        (f64::from(self.stream.next_u32()) + 0.5) / (f64::from(u32::MAX) + 1.0)
    }

    fn next(&mut self) -> f64 {
        if let Some(second) = self.second.take() {
            return second;
        }
        let (radius, angle) = ((-2.0 * libm::log(self.uniform())).sqrt(), TAU * self.uniform());
        self.second = Some(radius * libm::sin(angle));
        radius * libm::cos(angle)
    }

    fn series(&mut self, n: usize) -> Vec<f64> {
        (0..n).map(|_| self.next()).collect()
    }
}

/// How many series are measured, and the seed: few and a seed of their own, or as many as asked for and that of the
/// table.
fn effort(few: usize) -> (usize, u64) {
    match std::env::var("CHART_SERIES").ok().and_then(|text| text.parse().ok()) {
        Some(series) => (series, 1_000),
        None => (few, 2_000),
    }
}

fn standard_error(share: f64, series: usize) -> f64 {
    (share * (1.0 - share) / series as f64).sqrt()
}

/// A share of the table against one measured anew, within the errors of both and the table's last digit.
fn assert_share(measured: f64, series: usize, tabled: f64, of_table: usize, what: &str) {
    let (here, there) = (standard_error(tabled, series), standard_error(tabled, of_table));
    assert_close(measured, tabled, ERRORS * (here * here + there * there).sqrt() + 1e-4, what);
}

/// The chance that Student's t is further from nothing than one with the share r² = t²/(t² + freedom), by Simpson's
/// rule: with t = √freedom tan θ its density is that of a power of cos θ.
fn further_than(explains: f64, freedom: usize) -> f64 {
    let under = |from: f64| {
        let width = (FRAC_PI_2 - from) / 2_000.0;
        let height = |at: usize| libm::pow(libm::cos(from + width * at as f64).max(0.0), freedom as f64 - 1.0);
        let inner: f64 = (1..2_000).map(|at| height(at) * if at % 2 == 1 { 4.0 } else { 2.0 }).sum();
        (height(0) + inner + height(2_000)) * width / 3.0
    };
    under(libm::asin(explains.sqrt())) / under(0.0)
}

/// The t that is exceeded on both sides together with a chance.
fn student(chance: f64, freedom: usize) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        if further_than(middle, freedom) > chance { low = middle } else { high = middle }
    }
    (low * freedom as f64 / (1.0 - low)).sqrt()
}

/// IUPAC Gold Book, C01247, and the numbers of a library of statistics for the same five skeins.
#[test]
fn the_mean_of_five_skeins_is_of_tex_and_never_of_counts() {
    let skeins = [98.0, 102.0, 101.0, 97.0, 100.0];
    let centre = Individuals::of(&skeins).expect("a chart").centre;
    assert_close(centre, 99.6, 1e-12, "mean");
    let squares: f64 = skeins.iter().map(|tex| (tex - centre) * (tex - centre)).sum();
    let half_width = student(0.05, 4) * (squares / 4.0).sqrt() / 5.0_f64.sqrt();
    assert_close(student(0.05, 4), 2.776_445_105, 1e-8, "t");
    assert_close(half_width, 2.574_769_268, 1e-8, "half width");
    // Metres per gram are 1000/tex. Skeins of one length weigh as their tex, so that the mean of tex is true of all the
    // yarn.
    let counts: Vec<f64> = skeins.iter().map(|tex| 1_000.0 / tex).collect();
    let of_counts = 1_000.0 / Individuals::of(&counts).expect("a chart").centre;
    assert!(centre - of_counts > 0.03, "{of_counts} tex by the mean of counts");
}

#[test]
fn factors_are_exact_and_round_to_the_printed_ones() {
    assert_close(LIMIT_FACTOR, 2.658_681, 5e-7, "3/d2");
    assert_close(RANGE_FACTOR, 1.0 + 3.0 * (FRAC_PI_2 - 1.0).sqrt(), 1e-14, "D4");
    assert_close(RANGE_FACTOR, 3.266_532, 5e-7, "D4");
    assert_close(D2_OF_TWO, 1.128, 5e-4, "d2 as printed");
}

/// Values derived from the published data with exact factors, to their printed digits.
#[test]
fn diameters_have_their_limits() {
    let chart = Individuals::of(&DIAMETERS).expect("a chart");
    assert_close(chart.centre, 80.39, 1e-9, "mean");
    assert_close(chart.mean_moving_range, 5.326_315_789, 5e-10, "mean moving range");
    assert_close(chart.sigma, 4.720_324_466, 5e-10, "sigma");
    assert_close(chart.lower, 66.229_026_60, 5e-9, "lower limit");
    assert_close(chart.upper, 94.550_973_40, 5e-9, "upper limit");
    assert_close(chart.moving_range_limit, 17.398_580_54, 5e-9, "limit of moving ranges");
    assert!(moving_ranges(&DIAMETERS).iter().all(|range| *range < chart.moving_range_limit));
}

/// The handbook divides by the rounded 1.128: its digits come out with that, and with the exact factor the limits are
/// 0.0017 nearer.
#[test]
fn flow_has_its_limits_by_the_rounded_factor() {
    let chart = Individuals::of(&FLOW).expect("a chart");
    assert_close(chart.centre, 50.81, 1e-9, "mean");
    let reach = 3.0 * chart.mean_moving_range / 1.128;
    assert_close(chart.centre - reach, 45.815_9, 5e-5, "printed lower limit");
    assert_close(chart.centre + reach, 55.804_1, 5e-5, "printed upper limit");
    assert_close(chart.lower, 45.817_59, 5e-6, "lower limit");
    assert_close(chart.upper, 55.802_41, 5e-6, "upper limit");
}

#[test]
fn two_values_make_a_chart_and_one_does_not() {
    let chart = Individuals::of(&[100.0, 104.0]).expect("a chart");
    assert_close(chart.centre, 102.0, 1e-12, "mean");
    assert_close(chart.sigma, 4.0 / D2_OF_TWO, 1e-12, "sigma");
    for bad in [&[][..], &[100.0], &[100.0, f64::NAN], &[100.0, f64::INFINITY]] {
        assert_eq!(Individuals::of(bad), None);
    }
}

#[test]
fn bands_are_told_from_the_median() {
    let bobbins = [100.0, 104.9, 105.0, 110.0, 110.1, 95.0, 89.9, 100.0, 100.0];
    let found: Vec<Band> = bands(&bobbins).expect("bands").iter().map(|off| off.band).collect();
    use Band::{Act, Good, Mix};
    assert_eq!(found, [Good, Good, Mix, Mix, Act, Mix, Act, Good, Good]);
    // One wild bobbin does not put the others off.
    let wild = bands(&[100.0, 101.0, 99.0, 100.0, 250.0]).expect("bands");
    assert_eq!(wild.iter().filter(|off| off.band == Good).count(), 4);
    assert_close(wild[4].share, 1.5, 1e-12, "share");
    assert_close(bands(&[90.0, 110.0]).expect("bands")[1].share, 0.1, 1e-12, "half way between two");
    // 1.1 − 1.0 is more than 0.1 in the last bit.
    assert_eq!(bands(&[1.0, 1.0, 1.1]).expect("bands")[2].band, Mix);
    for bad in [&[][..], &[0.0, 0.0], &[100.0, f64::NAN]] {
        assert_eq!(bands(bad), None);
    }
}

/// Rule, side, bobbin at which it is known, bobbins concerned.
type Known<'a> = (Rule, Side, usize, &'a [usize]);

fn assert_signals(values: &[f64], expected: &[Known]) {
    let found = signals(values, 0.0, 1.0, &Rule::ALL);
    let found: Vec<Known> =
        found.iter().map(|signal| (signal.rule, signal.side, signal.at, &signal.bobbins[..])).collect();
    assert_eq!(found, expected, "{values:?}");
}

#[test]
fn each_rule_names_its_bobbins() {
    use Rule::{EightInARow, FourOfFiveBeyondOne, OneBeyondThree, TwoOfThreeBeyondTwo};
    use Side::{Above, Below};
    assert_signals(&[0.5, 3.1, -0.5, -3.1], &[(OneBeyondThree, Above, 1, &[1]), (OneBeyondThree, Below, 3, &[3])]);
    assert_signals(
        &[3.1, 3.2],
        &[(OneBeyondThree, Above, 0, &[0]), (OneBeyondThree, Above, 1, &[1]), (TwoOfThreeBeyondTwo, Above, 1, &[0, 1])],
    );
    assert_signals(&[2.1, 0.0, 2.2, 0.0, 2.3], &[(TwoOfThreeBeyondTwo, Above, 2, &[0, 2, 4])]);
    assert_signals(&[2.1, 0.0, 0.0, 2.2], &[]);
    assert_signals(&[2.1, -2.1, 0.0], &[]);
    assert_signals(
        &[2.1, -2.1, 2.1, -2.1, 2.1],
        &[(TwoOfThreeBeyondTwo, Above, 2, &[0, 2, 4]), (TwoOfThreeBeyondTwo, Below, 3, &[1, 3])],
    );
    assert_eq!(TwoOfThreeBeyondTwo.raised_by(&[2.1, 2.1]), Some(Above));
    assert_eq!(TwoOfThreeBeyondTwo.raised_by(&[2.1, 2.1, 0.0]), None, "the last is not beyond");
    assert_signals(&[-1.1, -1.2, 0.3, -1.3, -1.4, 0.2], &[(FourOfFiveBeyondOne, Below, 4, &[0, 1, 3, 4])]);
    assert_signals(&[1.1, 1.2, 0.3, -1.3, 1.4, 0.2], &[]);
    let run = [-0.1, 0.1, 0.2, 0.1, 0.3, 0.1, 0.2, 0.1, 0.2, 0.3, -0.1];
    assert_signals(&run, &[(EightInARow, Above, 8, &[1, 2, 3, 4, 5, 6, 7, 8, 9])]);
    // A value on the centre is on neither side, and one on a line is not beyond it.
    assert_signals(&[0.1, 0.1, 0.1, 0.1, 0.0, 0.1, 0.1, 0.1, 0.1], &[]);
    assert_signals(&[3.0, -2.0, -2.0], &[]);
    assert_signals(&[3.0 + 1e-12, -2.0 - 1e-12, -2.0 - 1e-12], &[]);
    assert_signals(&[1e-12; 9], &[]);
    assert_signals(&[], &[]);
    assert!(Rule::ALL.iter().all(|rule| rule.raised_by(&[]).is_none()));
}

#[test]
fn rules_wait_for_ten_bobbins() {
    let chart = Individuals::of(&FLOW).expect("a chart");
    assert_eq!(chart.signals(&FLOW[..9], &Rule::ALL), None);
    assert_eq!(chart.signals(&FLOW, &[Rule::OneBeyondThree]), Some(Vec::new()));
    assert!(false_alarm(9).is_none() && false_alarm(31).is_none() && false_alarm(10).is_some());
}

#[test]
fn bobbins_all_alike_say_nothing() {
    // 0.1 is no binary fraction, so that means of it are off in the last bit.
    for value in [0.1, 16.3, 0.0, 1e-300] {
        let alike = [value; 13];
        let chart = Individuals::of(&alike).expect("a chart");
        assert_eq!(chart.signals(&alike, &Rule::ALL), Some(Vec::new()), "{value}");
        assert_eq!((chart.sigma, chart.mean_moving_range, chart.moving_range_limit), (0.0, 0.0, 0.0));
        assert_eq!((step(&alike), trend(&alike), moved(&alike, 2.0)), (None, None, Some(Moved::Not)), "{value}");
        assert!(chart.centre.is_finite() && chart.lower.is_finite() && chart.upper.is_finite());
    }
    assert!(bands(&[0.1; 13]).expect("bands").iter().all(|off| off.band == Band::Good && off.share == 0.0));
    // 0.1 + 0.2 is not 0.3, but no bobbin differs.
    let rounded = [0.3, 0.1 + 0.2, 0.3, 0.3, 0.1 + 0.2, 0.3, 0.3, 0.3, 0.3, 0.3, 0.3];
    let chart = Individuals::of(&rounded).expect("a chart");
    assert_eq!(chart.signals(&rounded, &Rule::ALL), Some(Vec::new()));
    assert_eq!((step(&rounded), trend(&rounded), moved(&rounded, 2.0)), (None, None, Some(Moved::Not)));
}

#[test]
fn turning_values_over_turns_sides_over_and_scale_does_nothing() {
    let mut normal = Normal::new(5);
    let mut seen = 0;
    for round in 0..300 {
        let n = 10 + round % 21;
        let values: Vec<f64> = (0..n).map(|at| 100.0 + 5.0 * normal.next() + (at * round / 300) as f64).collect();
        let find = |values: &[f64]| Individuals::of(values).and_then(|chart| chart.signals(values, &Rule::ALL));
        let found = find(&values).expect("enough bobbins");
        seen += found.len();
        let over: Vec<f64> = values.iter().map(|value| -value).collect();
        let mut turned = find(&over).expect("enough bobbins");
        for signal in &mut turned {
            signal.side = if signal.side == Side::Above { Side::Below } else { Side::Above };
        }
        assert_eq!(turned, found);
        let scaled: Vec<f64> = values.iter().map(|value| value * 0.000_37).collect();
        assert_eq!(find(&scaled), Some(found));
        let (here, there, back) = (step(&values), step(&scaled), step(&over));
        let (here, there, back) = (here.expect("a step"), there.expect("a step"), back.expect("a step"));
        assert_eq!((here.first_after, here.first_after), (there.first_after, back.first_after));
        assert_close(here.explains, there.explains, 1e-9, "share explained");
        assert_close(here.before, -back.before, 1e-9, "mean before");
        let (line, of_scaled) = (trend(&values).expect("a trend"), trend(&scaled).expect("a trend"));
        assert_close(line.t, -trend(&over).expect("a trend").t, 1e-8 * line.t.abs().max(1.0), "t of the other side");
        assert_close(line.t, of_scaled.t, 1e-8 * line.t.abs().max(1.0), "t");
        assert_close(line.slope * 0.000_37, of_scaled.slope, 1e-12, "slope");
    }
    assert!(seen > 100, "{seen} signals");
}

/// What the exact chain knows of the last bobbins: bits of those beyond two and one standard deviations, for each side,
/// and the length of the run on one side, below nothing where it is below.
type State = ([u8; 2], [u8; 2], i8);

/// The state after a zone (1 to 4 counted outward, negative below the centre), unless it raises one of the rules.
fn after(state: State, zone: i8, rules: &[Rule]) -> Option<State> {
    let (mut two, mut one, mut run) = state;
    let mut is_raised = rules.contains(&Rule::OneBeyondThree) && zone.abs() == 4;
    for (side, out) in [zone, -zone].into_iter().enumerate() {
        if rules.contains(&Rule::TwoOfThreeBeyondTwo) {
            let last = two[side] << 1 | u8::from(out >= 3);
            is_raised |= last.count_ones() >= 2;
            two[side] = last & 0b11;
        }
        if rules.contains(&Rule::FourOfFiveBeyondOne) {
            let last = one[side] << 1 | u8::from(out >= 2);
            is_raised |= last.count_ones() >= 4;
            one[side] = last & 0b1111;
        }
    }
    if rules.contains(&Rule::EightInARow) {
        run = if run.signum() == zone.signum() { run + zone.signum() } else { zone.signum() };
        is_raised |= run.abs() >= 8;
    }
    (!is_raised).then_some((two, one, run))
}

/// For each state of the exact chain, the first of which has seen no bobbin, the states after it and their chances;
/// what is missing to one is the chance of a signal.
fn chain(rules: &[Rule], shift: f64) -> Vec<Vec<(usize, f64)>> {
    let below = |line: f64| libm::erfc((shift - line) / SQRT_2) / 2.0;
    let zones: Vec<(i8, f64)> = (1..=4_i8)
        .flat_map(|zone| {
            let (near, far) = (f64::from(zone) - 1.0, if zone == 4 { f64::INFINITY } else { f64::from(zone) });
            [(zone, below(far) - below(near)), (-zone, below(-near) - below(-far))]
        })
        .collect();
    let start: State = ([0; 2], [0; 2], 0);
    let mut places = BTreeMap::from([(start, 0)]);
    let mut states = vec![start];
    let mut moves: Vec<Vec<(usize, f64)>> = Vec::new();
    while let Some(state) = states.get(moves.len()).copied() {
        let mut row = Vec::new();
        for (zone, chance) in &zones {
            let Some(next) = after(state, *zone, rules) else { continue };
            let place = *places.entry(next).or_insert_with(|| {
                states.push(next);
                states.len() - 1
            });
            row.push((place, *chance));
        }
        moves.push(row);
    }
    moves
}

/// The mean number of bobbins to the first signal, with known centre and standard deviation.
fn exact_run_length(rules: &[Rule], shift: f64) -> f64 {
    let moves = chain(rules, shift);
    // Gauss and Seidel on L = 1 + Q L: the mean length from each state.
    let mut lengths = vec![1.0; moves.len()];
    loop {
        let mut change = 0.0_f64;
        for at in 0..lengths.len() {
            let length = 1.0 + moves[at].iter().map(|(next, chance)| chance * lengths[*next]).sum::<f64>();
            change = change.max((length - lengths[at]).abs());
            lengths[at] = length;
        }
        if change < 1e-9 {
            return lengths[0];
        }
    }
}

/// The chance that so many bobbins spun alike show a signal, with known centre and standard deviation.
fn exact_alarm(rules: &[Rule], bobbins: usize) -> f64 {
    let moves = chain(rules, 0.0);
    let mut silent = vec![1.0; moves.len()];
    for _ in 0..bobbins {
        silent = moves.iter().map(|row| row.iter().map(|(next, chance)| chance * silent[*next]).sum()).collect();
    }
    1.0 - silent[0]
}

const SHIFTS: [f64; 6] = [0.0, 0.2, 0.4, 1.0, 2.0, 3.0];

/// Rules by their numbers, and the mean number of bobbins to a signal at each of [`SHIFTS`] as printed: the chain's own
/// values to two digits, of which 91.75 was read in print; Champ and Woodall's table from memory.
fn run_lengths() -> [(Vec<Rule>, [f64; 6]); 5] {
    use Rule::{EightInARow, FourOfFiveBeyondOne, OneBeyondThree, TwoOfThreeBeyondTwo};
    [
        (vec![OneBeyondThree], [370.40, 308.43, 200.08, 43.89, 6.30, 2.00]),
        (vec![OneBeyondThree, TwoOfThreeBeyondTwo], [225.44, 177.56, 104.46, 20.01, 3.65, 1.68]),
        (vec![OneBeyondThree, FourOfFiveBeyondOne], [166.05, 120.70, 63.88, 12.66, 3.68, 1.89]),
        (vec![OneBeyondThree, EightInARow], [152.73, 110.52, 59.76, 14.58, 4.89, 1.99]),
        (Rule::ALL.to_vec(), [91.75, 66.80, 36.61, 9.22, 3.13, 1.67]),
    ]
}

#[test]
fn the_exact_chain_gives_the_published_run_lengths() {
    for (rules, lengths) in run_lengths() {
        for (shift, length) in SHIFTS.iter().zip(lengths) {
            assert_close(exact_run_length(&rules, *shift), length, 0.005_001, &format!("{rules:?} at {shift}"));
        }
    }
}

#[test]
fn the_rules_run_as_long_as_the_exact_chain_says() {
    const RUNS: usize = 10_000;
    for (set, (rules, _)) in run_lengths().into_iter().enumerate() {
        for (at, shift) in SHIFTS.into_iter().enumerate() {
            let mut normal = Normal::new(100 + (set * SHIFTS.len() + at) as u64);
            let (mut sum, mut squares) = (0.0, 0.0);
            for _ in 0..RUNS {
                let mut so_far = Vec::new();
                while !is_raised(&so_far, &rules) {
                    so_far.push(normal.next() + shift);
                }
                let length = so_far.len() as f64;
                (sum, squares) = (sum + length, squares + length * length);
            }
            let mean = sum / RUNS as f64;
            let error = ((squares / RUNS as f64 - mean * mean) / RUNS as f64).sqrt();
            let exact = exact_run_length(&rules, shift);
            assert_close(mean, exact, ERRORS * error, &format!("{rules:?} at {shift}"));
        }
    }
}

fn is_raised(scaled: &[f64], rules: &[Rule]) -> bool {
    rules.iter().any(|rule| rule.raised_by(scaled).is_some())
}

#[test]
fn a_series_is_read_as_its_bobbins_are_one_by_one() {
    let mut normal = Normal::new(6);
    for round in 0..2_000 {
        let shift = f64::from(round % 4) / 2.0;
        let values: Vec<f64> = normal.series(30).iter().map(|value| 200.0 + 10.0 * (value + shift)).collect();
        let scaled: Vec<f64> = values.iter().map(|value| (value - 200.0) / 10.0).collect();
        for rule in Rule::ALL {
            let first = (1..=30).find(|n| rule.raised_by(&scaled[..*n]).is_some()).map(|n| n - 1);
            let found = signals(&values, 200.0, 10.0, &[rule]);
            assert_eq!(found.first().map(|signal| signal.at), first);
            for signal in &found {
                assert!(signal.bobbins.is_sorted() && signal.bobbins.contains(&signal.at));
            }
        }
    }
}

/// How often bobbins spun alike show a signal, by rule 1 and by any rule, each chart by the limits of its own bobbins.
fn measured_alarms(n: usize, series: usize, seed: u64) -> [f64; 2] {
    let mut normal = Normal::new(seed + n as u64);
    let mut alarms = [0; 2];
    for _ in 0..series {
        let values = normal.series(n);
        let chart = Individuals::of(&values).expect("a chart");
        let found = chart.signals(&values, &Rule::ALL).expect("enough bobbins");
        alarms[0] += usize::from(found.iter().any(|signal| signal.rule == Rule::OneBeyondThree));
        alarms[1] += usize::from(!found.is_empty());
    }
    alarms.map(|alarms| alarms as f64 / series as f64)
}

#[test]
fn false_alarms_are_as_often_as_the_table_says() {
    let (series, seed) = effort(20_000);
    let measured: Vec<[f64; 2]> = (10..=30).map(|n| measured_alarms(n, series, seed)).collect();
    print_rows("false alarms", &measured);
    for (n, [rule_one, all]) in (10..).zip(measured) {
        let tabled = false_alarm(n).expect("a row");
        assert_share(rule_one, series, tabled.rule_one, 1_000_000, &format!("rule 1, {n} bobbins"));
        assert_share(all, series, tabled.all, 1_000_000, &format!("all rules, {n} bobbins"));
    }
}

/// A table as it stands in the code, in one piece, for tests run side by side.
fn print_rows<const N: usize>(what: &str, rows: &[[f64; N]]) {
    let lines: Vec<String> = rows.iter().map(|row| format!("    {row:.4?},")).collect();
    println!("{what}\n{}", lines.join("\n"));
}

/// The chances of [`StepCritical`], in the order of its fields.
const CHANCES: [f64; 4] = [0.10, 0.05, 0.03, 0.01];

fn critical(n: usize) -> [f64; 4] {
    let tabled = StepCritical::of(n).expect("a row");
    [tabled.ten, tabled.five, tabled.three, tabled.one]
}

/// What the likeliest step of bobbins spun alike explains, in rising order.
fn measured_steps(n: usize, series: usize, seed: u64) -> Vec<f64> {
    let mut normal = Normal::new(seed + n as u64);
    let mut explained: Vec<f64> =
        (0..series).map(|_| step(&normal.series(n)).expect("values differ").explains).collect();
    explained.sort_by(f64::total_cmp);
    explained
}

#[test]
fn steps_by_chance_are_as_large_as_the_table_says() {
    let (series, seed) = effort(20_000);
    let (rows, above): (Vec<[f64; 4]>, Vec<[f64; 4]>) = (FEWEST_FOR_STEP..=30)
        .map(|n| {
            let explained = measured_steps(n, series, seed);
            let rank = |share: f64| explained[((1.0 - share) * series as f64) as usize];
            let above =
                |most: f64| explained.iter().filter(|explains| **explains > most).count() as f64 / series as f64;
            (CHANCES.map(rank), critical(n).map(above))
        })
        .unzip();
    print_rows("critical steps", &rows);
    for (n, above) in (FEWEST_FOR_STEP..).zip(above) {
        for (chance, above) in CHANCES.into_iter().zip(above) {
            assert_share(above, series, chance, 1_000_000, &format!("{chance} of {n} bobbins"));
        }
    }
}

/// One split alone is Student's t, so that the best of n − 3 is exceeded at least as often and at most n − 3 times as
/// often.
#[test]
fn critical_steps_keep_the_bounds_of_student() {
    for n in FEWEST_FOR_STEP..=30 {
        for (chance, critical) in CHANCES.into_iter().zip(critical(n)) {
            let single = further_than(critical, n - 2);
            let error = ERRORS * standard_error(chance, 1_000_000);
            assert!(single < chance && (n - 3) as f64 * single > chance - error, "{n} bobbins, {chance}: {single}");
        }
    }
    let chance = |explains: f64| Step { first_after: 5, before: 90.0, after: 95.0, explains }.chance(10);
    use Chance::{BelowFive, BelowOne, BelowTen, TenOrMore};
    let told = [0.74, 0.65, 0.61, 0.55, 0.51].map(|explains| chance(explains).expect("enough bobbins"));
    assert_eq!(told, [BelowOne, BelowFive, BelowFive, BelowTen, TenOrMore]);
    assert_eq!(StepCritical::of(5), None);
    assert_eq!(StepCritical::of(31), StepCritical::of(30));
}

#[test]
fn a_step_is_the_split_with_the_least_left_over() {
    let mut normal = Normal::new(7);
    let squares = |values: &[f64]| {
        let mean = values.iter().sum::<f64>() / values.len() as f64;
        values.iter().map(|value| (value - mean) * (value - mean)).sum::<f64>()
    };
    for n in 4..40 {
        let values: Vec<f64> = normal.series(n).iter().map(|value| 300.0 + 20.0 * value).collect();
        let found = step(&values).expect("a step");
        let left = |at: usize| squares(&values[..at]) + squares(&values[at..]);
        let best = (2..=n - 2).min_by(|a, b| left(*a).total_cmp(&left(*b))).expect("a split");
        assert_eq!(found.first_after, best);
        assert_close(found.explains, 1.0 - left(best) / squares(&values), 1e-9, "share explained");
        let mean = |values: &[f64]| values.iter().sum::<f64>() / values.len() as f64;
        assert_close(found.before, mean(&values[..best]), 1e-9, "mean before");
        assert_close(found.after, mean(&values[best..]), 1e-9, "mean after");
    }
    assert!(step(&[1.0, 2.0, 3.0]).is_none() && step(&[1.0, 2.0, f64::NAN, 3.0]).is_none());
}

#[test]
fn plain_series_are_told_for_what_they_are() {
    let t = |n: usize| student(EITHER_CHANCE, n - 2);
    let Some(Moved::Step(found)) = moved(&[80.0, 82.0, 81.0, 80.0, 95.0, 94.0, 96.0, 95.0], t(8)) else {
        panic!("a step")
    };
    assert_eq!(found.first_after, 4);
    assert_eq!(found.chance(8), Some(Chance::BelowOne));
    assert_close(found.before, 80.75, 1e-9, "before");
    assert_close(found.after, 95.0, 1e-9, "after");
    // Six bobbins that grow heavier, in g/100 m.
    let Some(Moved::Trend(line)) = moved(&[16.0, 16.4, 17.0, 17.6, 18.2, 18.8], t(6)) else { panic!("a trend") };
    assert_close(line.slope, 10.0 / 17.5, 1e-12, "slope");
    assert!(matches!(moved(&[1.0, 2.0, 3.0, 4.0, 5.0, 6.0], t(6)), Some(Moved::Trend(line)) if line.explains == 1.0));
    let clean = [1.0, 1.0, 1.0, 1.0, 2.0, 2.0, 2.0];
    assert!(matches!(moved(&clean, t(7)), Some(Moved::Step(step)) if step.first_after == 4));
    // One bobbin that is off is no step.
    assert_eq!(moved(&[80.0, 82.0, 81.0, 99.0, 80.0, 81.0, 82.0, 80.0], t(8)), Some(Moved::Not));
    assert_eq!(moved(&FLOW[..5], t(6)), None);
    assert_eq!(moved(&[80.0, 82.0, 81.0, f64::NAN, 80.0, 81.0, 82.0], t(7)), None);
    let weak = step(&DIAMETERS).expect("a step");
    assert_eq!(weak.chance(20), Some(Chance::TenOrMore));
    assert_eq!(moved(&DIAMETERS, t(20)), Some(Moved::Not));
}

/// Least squares by differences of all pairs: Σ over pairs of products ÷ Σ over pairs of squares.
#[test]
fn a_trend_is_the_line_of_least_squares() {
    for values in [&DIAMETERS[..], &FLOW] {
        let n = values.len();
        let (mut products, mut squares, mut of_values) = (0.0, 0.0, 0.0);
        for i in 0..n {
            for j in i + 1..n {
                let (along, up) = ((j - i) as f64, values[j] - values[i]);
                (products, squares, of_values) = (products + along * up, squares + along * along, of_values + up * up);
            }
        }
        let line = trend(values).expect("a trend");
        let r = products / (squares * of_values).sqrt();
        assert_close(line.slope, products / squares, 1e-12, "slope");
        assert_close(line.t, r * ((n - 2) as f64 / (1.0 - r * r)).sqrt(), 1e-10, "t");
    }
    assert!(trend(&[1.0, 2.0]).is_none());
}

/// How often a series is said not to move, to step and to drift.
fn told(n: usize, series: usize, seed: u64, mean: impl Fn(usize) -> f64) -> [f64; 3] {
    let mut normal = Normal::new(seed);
    let student = student(EITHER_CHANCE, n - 2);
    let mut told = [0; 3];
    for _ in 0..series {
        let values: Vec<f64> = (0..n).map(|at| mean(at) + normal.next()).collect();
        told[match moved(&values, student).expect("enough bobbins") {
            Moved::Not => 0,
            Moved::Step(_) => 1,
            Moved::Trend(_) => 2,
        }] += 1;
    }
    told.map(|told| f64::from(told) / series as f64)
}

#[test]
fn bobbins_spun_alike_move_in_five_series_of_a_hundred() {
    let (series, seed) = effort(20_000);
    for n in FEWEST_FOR_STEP..=30 {
        let [not, as_step, as_trend] = told(n, series, seed + 100 + n as u64, |_| 0.0);
        println!("{n} bobbins spun alike: {not:.4} {as_step:.4} {as_trend:.4}");
        let error = ERRORS * standard_error(0.05, series);
        assert!((0.045 - error..0.052 + error).contains(&(1.0 - not)), "{n} bobbins: {not}");
    }
}

#[test]
fn what_moved_is_told_by_its_kind() {
    for n in [10, 20] {
        let steps = told(n, 5_000, 8, |at| if at < n / 2 { 0.0 } else { 3.0 });
        let trends = told(n, 5_000, 9, |at| 5.0 * at as f64 / (n - 1) as f64);
        println!("{n} bobbins: a step of three {steps:.3?}, a drift of five {trends:.3?}");
        assert!(steps[1] > 0.65 && steps[1] > 3.0 * steps[2], "{n} bobbins: {steps:?}");
        assert!(trends[2] > 0.65 && trends[2] > 3.0 * trends[1], "{n} bobbins: {trends:?}");
    }
    assert!(told(31, 5_000, 10, |_| 0.0)[0] > 0.945, "the row of 30 serves for more");
}

/// A run that is no longer waited for.
const LONGEST: usize = 2_000;

/// How many series need so many bobbins after a step until the rules find it, by number, up to `longest`; the last are
/// all that need more.
fn measured_waits(shift: f64, rules: &[Rule], longest: usize, (series, seed): (usize, u64)) -> Vec<usize> {
    let mut normal = Normal::new(seed);
    let mut waits = vec![0; longest + 1];
    for _ in 0..series {
        let (mut values, chart) = loop {
            let values = normal.series(FEWEST_FOR_RULES);
            let chart = Individuals::of(&values).expect("a chart");
            if chart.signals(&values, rules).expect("enough bobbins").is_empty() {
                break (values, chart);
            }
        };
        values.iter_mut().for_each(|value| *value = (*value - chart.centre) / chart.sigma);
        let wait = (1..=longest).find(|_| {
            values.push((normal.next() + shift - chart.centre) / chart.sigma);
            is_raised(&values, rules)
        });
        waits[wait.unwrap_or(longest + 1) - 1] += 1;
    }
    waits
}

#[test]
fn steps_are_found_after_as_many_bobbins_as_the_table_says() {
    let (series, seed) = effort(20_000);
    let series = series / 5;
    let tabled = DETECTION.iter().flat_map(|row| [(row.step, 1, row.rule_one), (row.step, 4, row.all)]);
    let measured: Vec<(f64, Found, Vec<usize>)> = (seed + 200..)
        .zip(tabled)
        .map(|(seed, (step, rules, tabled))| {
            (step, tabled, measured_waits(step, &Rule::ALL[..rules], LONGEST, (series, seed)))
        })
        .collect();
    let within = |waits: &[usize], most: usize| waits[..most].iter().sum::<usize>() as f64 / series as f64;
    for (step, _, waits) in &measured {
        let least = |share: f64| (1..=LONGEST).find(|most| within(waits, *most) >= share).expect("found in the end");
        let found = Found { half: least(0.5), nine_in_ten: least(0.9), within_ten: within(waits, 10) };
        println!("{step} {found:.4?}");
    }
    for (step, tabled, waits) in &measured {
        assert_share(within(waits, 10), series, tabled.within_ten, 200_000, &format!("{step} within ten"));
        for (share, most) in [(0.5, tabled.half), (0.9, tabled.nine_in_ten)] {
            let error = ERRORS * (standard_error(share, series) + standard_error(share, 200_000));
            let (before, by) = (within(waits, most - 1), within(waits, most));
            assert!(before < share + error && by > share - error, "{step} by {most}: {before}, {by}");
        }
    }
}

#[test]
fn kept_limits_alarm_as_often_as_the_table_says() {
    let (series, seed) = effort(20_000);
    let series = series / 5;
    for (rules, tabled) in [(1, FURTHER_ALARM.rule_one), (4, FURTHER_ALARM.all)] {
        let waits = measured_waits(0.0, &Rule::ALL[..rules], 10, (series, seed + 300 + rules as u64));
        let within = waits[..10].iter().sum::<usize>() as f64 / series as f64;
        println!("ten further bobbins, {rules} rules: {within:.4}");
        assert_share(within, series, tabled, 200_000, &format!("{rules} rules"));
    }
}

/// Limits from the bobbins themselves follow the bobbin that is out, and alarm less than known limits; limits kept from
/// ten bobbins alarm more.
#[test]
fn own_limits_alarm_less_and_kept_limits_more_than_known_ones() {
    for n in 10..=30 {
        let tabled = false_alarm(n).expect("a row");
        let (rule_one, all) = (exact_alarm(&[Rule::OneBeyondThree], n), exact_alarm(&Rule::ALL, n));
        println!("{n} bobbins, known limits: {rule_one:.4} {all:.4}");
        assert!(tabled.rule_one < rule_one && tabled.all < all, "{n} bobbins: {rule_one} {all}");
    }
    let (rule_one, all) = (exact_alarm(&[Rule::OneBeyondThree], 10), exact_alarm(&Rule::ALL, 10));
    assert!(FURTHER_ALARM.rule_one > rule_one && FURTHER_ALARM.all > all, "ten bobbins: {rule_one} {all}");
    assert_close(rule_one, 1.0 - libm::pow(1.0 - libm::erfc(3.0 / SQRT_2), 10.0), 1e-12, "each by itself");
}
