//! A class: every answer of the key worked out once more from the numbers on the typeset sheet, slips that cannot be taken for
//! answers, sums of old handbooks with their printed answers, sheets that depend on nobody else, and marking.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use wheelsheet::document::text::runs;
use wheelsheet::document::{self, Sheet, Templates, Which};
use wheelsheet::figures::class::{Answer, Asked, BOOKS, Classroom, Sum};
use wheelsheet::plan::Exercise;
use wheelsheet::sheets::Sheets;
use wheelsheet::{Worked, print, work_out};

use super::cli::{code, err, folder, out, wheelsheet};
use super::reference::ledgers::of_texts;
use super::workings::worked_out;

/// The plan of the evening class without its students.
fn evening_class() -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("projects/evening-class/plan.toml");
    let plan = fs::read_to_string(path).expect("a shipped project");
    plan.split("[[class.student]]").next().expect("all before the students").to_owned()
}

/// The evening class with so many students, every other one in inches.
fn class_of(n: usize) -> Worked {
    let units = |i: usize| if i.is_multiple_of(2) { "metric" } else { "imperial" };
    let students: String =
        (0..n).map(|i| format!("[[class.student]]\nname = \"N{i}\"\nunits = \"{}\"\n", units(i))).collect();
    worked(&(evening_class() + &students))
}

fn worked(plan: &str) -> Worked {
    let outcome = work_out(&of_texts(plan, ""));
    let told: Vec<&str> = outcome.diagnostics.iter().map(|fault| fault.message.as_str()).collect();
    outcome.worked.unwrap_or_else(|| panic!("{told:#?}"))
}

fn classroom(worked: &Worked) -> &Classroom {
    worked.ledger.class.as_ref().expect("a class")
}

/// The number that a text begins with, as it is read off the paper; per cent as a share.
fn number(text: &str) -> f64 {
    let plain: String = text.chars().filter(|c| *c != '\u{2009}').collect();
    let digits: String = plain.chars().take_while(|c| c.is_ascii_digit() || *c == '.').collect();
    let value: f64 = digits.parse().unwrap_or_else(|_| panic!("\"{text}\" begins with no number"));
    if plain[digits.len()..].trim_start().starts_with('%') { value / 100.0 } else { value }
}

/// The numbers given in each exercise of a student, read back from the typeset sheet by the names that stand before them.
fn given_on_paper(sheets: &Sheets, student: usize) -> Vec<BTreeMap<String, f64>> {
    let document = document::document(sheets, Which::Student(student), &Templates::Shipped).expect("typeset");
    let texts: Vec<String> = runs(&document).into_iter().map(|run| run.text.replace('\u{2009}', "")).collect();
    let text = texts.join(" ").split_whitespace().collect::<Vec<_>>().join(" ");
    let mut parts: Vec<&str> = text.split("Work with these:").skip(1).collect();
    let practices = &sheets.student_worksheet.as_ref().expect("a class").students[student].exercises;
    let mut given = Vec::new();
    for practice in practices {
        let mut numbers = BTreeMap::new();
        if !practice.given.is_empty() {
            let mut rest = parts.remove(0);
            for one in &practice.given {
                let name = one.name.split_whitespace().collect::<Vec<_>>().join(" ");
                let at = rest.find(&name).unwrap_or_else(|| panic!("{name} is not in {rest}")) + name.len();
                rest = rest[at..].trim_start();
                numbers.insert(one.name.clone(), number(rest));
            }
        }
        given.push(numbers);
    }
    assert!(parts.is_empty(), "numbers that no exercise gives");
    given
}

/// Numbers by name. A name that is missing is a fault of the test.
struct Numbers<'a>(&'a BTreeMap<String, f64>);

impl Numbers<'_> {
    fn of(&self, name: &str) -> f64 {
        self.0.get(name).copied().unwrap_or_else(|| panic!("no {name} in {:?}", self.0))
    }

    /// The first of two names that is there: one system says metres, the other yards.
    fn either(&self, metric: &str, inch: &str) -> f64 {
        self.0.get(metric).copied().unwrap_or_else(|| self.of(inch))
    }
}

/// Answers worked out by plain arithmetic; `own` rounds one as the student writes it, to go on with. `None` of what is found by
/// looking.
fn answers(exercise: Exercise, n: &Numbers, own: &dyn Fn(usize, f64) -> f64) -> Vec<Option<f64>> {
    use Exercise as E;
    let per_hundred = || n.either("a hundred grams", "a pound");
    let some = |all: &[f64]| all.iter().copied().map(Some).collect::<Vec<_>>();
    match exercise {
        E::Treadling => some(&[n.of("ratio") * n.of("presses of one foot in a minute")]),
        E::Directions => vec![None],
        E::Staple => {
            let mean = (n.of("first lock") + n.of("second lock") + n.of("third lock")) / 3.0;
            some(&[mean, n.of("yarn let in at a time") / own(0, mean)])
        }
        E::Ratio => {
            let wheel = n.of("turns of the wheel");
            some(&[n.of("turns of the flyer, first whorl") / wheel, n.of("turns of the flyer, second whorl") / wheel])
        }
        E::Treadles => {
            let (ratio, twist, draft) = (n.of("ratio"), n.of("twist wanted"), n.of("length of a draft"));
            let treadles = own(1, twist * draft / ratio);
            some(&[ratio / twist, twist * draft / ratio, treadles.round(), ratio * treadles.round() / draft])
        }
        E::Wraps => {
            let mean = (n.of("first count") + n.of("second count") + n.of("third count")) / 3.0;
            some(&[mean, own(0, mean) / n.of("length of stick")])
        }
        E::PlyBack => {
            let shown = n.of("full twists in that length") / n.of("length");
            some(&[shown, own(0, shown) * 1.5])
        }
        E::Balance => {
            let plies = n.of("plies");
            some(&[n.of("twist of the singles") * plies / (plies + 1.0) * n.of("length of plied yarn")])
        }
        E::Dividing => {
            let net = n.of("fibre in its bag") - n.of("the bag, empty");
            some(&[net, own(0, net) / n.of("parts")])
        }
        E::Scale => {
            let step = n.of("one step of the scale");
            some(&[step / n.of("as near as you want to be"), step / n.of("a sample that you have")])
        }
        E::Wash => {
            let (before, after) = (n.of("loop before the wash"), n.of("loop washed and dry"));
            let shorter = (before - after) / before;
            some(&[shorter, n.of("another skein, unwashed") * (1.0 - own(0, shorter))])
        }
        E::BallBand => {
            let round = per_hundred();
            let (length, weight) = if round == 100.0 {
                (n.of("metres on the band"), n.of("grams on the band"))
            } else {
                (n.of("yards on the band"), n.of("ounces on the band"))
            };
            some(&[length / weight * round, (n.of("yarn that a pattern takes") / length).ceil()])
        }
        E::Grist => {
            let length = n.of("loops") * n.of("one loop, washed");
            some(&[length, own(0, length) / n.of("weight, dry") * per_hundred()])
        }
        E::TwoDraws => {
            let length = n.of("length of either skein");
            let short = length / n.of("weight, short forward draw") * per_hundred();
            let long = length / n.of("weight, long draw") * per_hundred();
            some(&[short, long, own(1, long) / own(0, short) - 1.0])
        }
        E::Swatch => {
            let swatch = n.of("width, washed") * n.of("height, washed");
            let piece = n.of("width of the piece") * n.of("length of the piece");
            let times = own(1, piece) / own(0, swatch);
            some(&[swatch, piece, times, n.of("weight of the swatch") * own(2, times)])
        }
        E::Stripes => {
            let run = n.of("weight of one colour of the braid") / n.of("strips that the braid is torn into")
                * n.either("metres in a gram", "yards in an ounce");
            let rows = own(0, run) / n.of("yarn in one row");
            some(&[run, rows, own(1, rows) / n.either("rows in a centimetre", "rows in an inch")])
        }
        E::Overlay => vec![None, None],
        E::Amounts => {
            let wanted = n.of("yarn that the garment takes") * (1.0 + n.of("reserve"));
            let fibre = own(0, wanted) / n.either("metres in a gram", "yards in an ounce") * (1.0 + n.of("waste"))
                / (1.0 - n.of("weight lost in the wash"));
            some(&[wanted, fibre, (own(1, fibre) / n.of("one braid")).ceil()])
        }
        E::Drift => {
            let mut weights: Vec<f64> = (1..=5).map(|i| n.of(&format!("bobbin {i}"))).collect();
            weights.sort_by(f64::total_cmp);
            vec![Some(weights[2]), Some(weights[4] / weights[2] - 1.0), None]
        }
        E::Pairing => {
            let w: Vec<f64> = (1..=4).map(|i| n.of(&format!("bobbin {i}"))).collect();
            let apart = |a: usize, b: usize, c: usize| (w[0] + w[a] - w[b] - w[c]).abs();
            let ways = [(apart(1, 2, 3), 2.0), (apart(2, 1, 3), 3.0), (apart(3, 1, 2), 4.0)];
            let best = ways.into_iter().min_by(|a, b| a.0.total_cmp(&b.0)).expect("three ways");
            some(&[best.1, best.0])
        }
        E::Fit => {
            let around = n.of("around the body") + n.of("room in it");
            let stitches = n.either("stitches in a centimetre, washed", "stitches in an inch, washed");
            some(&[around, own(0, around) * stitches])
        }
        E::UnequalPlies => {
            let (a, b, c) = (n.of("the heavier ply"), n.of("the lighter ply"), n.of("how much plying shortens them"));
            let plied = (a + b) / (1.0 - c);
            some(&[plied, b / (1.0 - c) / own(0, plied)])
        }
        E::Numbering => {
            let (l1, l2) = (n.of("length of the first skein"), n.of("length of the second skein"));
            let (w1, w2) = (n.of("weight of the first skein"), n.of("weight of the second skein"));
            let round = per_hundred();
            some(&[l1 / w1 * round, l2 / w2 * round, (l1 + l2) / (w1 + w2) * round])
        }
        E::Diameters => {
            let across = 1.0 / n.of("wraps");
            let area = std::f64::consts::PI * (own(0, across) / 2.0) * (own(0, across) / 2.0);
            some(&[across, area, n.of("firmness of a packed yarn") * n.of("yards in a pound of it").sqrt()])
        }
        E::Handbook => vec![None, None],
    }
}

/// The answer that is written: rounded as the key has it.
fn written(asked: &Asked, value: f64) -> f64 {
    let Answer::Number { shown, .. } = &asked.answer else { panic!("a number") };
    let per_cent = if shown.unit.symbol == "%" { 100.0 } else { 1.0 };
    let places = 10f64.powi(shown.places as i32);
    (value * per_cent * places + 1e-9).round() / places / per_cent
}

#[test]
fn answers_worked_out_from_the_numbers_on_the_sheet_are_right_by_the_key() {
    let worked = class_of(20);
    let sheets = wheelsheet::sheets(&worked);
    let key = sheets.answer_key.as_ref().expect("a class");
    let class = classroom(&worked);
    let mut n_checked = 0;
    for (i, pupil) in class.pupils.iter().enumerate() {
        let given = given_on_paper(&sheets, i);
        for (k, sum) in pupil.sums.iter().enumerate() {
            let own = |question: usize, value: f64| written(&sum.asked[question], value);
            for (q, value) in answers(sum.exercise, &Numbers(&given[k]), &own).into_iter().enumerate() {
                let Some(value) = value else { continue };
                let row = &key.students[i].exercises[k].answers[q];
                let per_cent = if row.unit.as_deref() == Some("%") { 100.0 } else { 1.0 };
                let answer = number(&row.answer);
                let tolerance = row.tolerance.as_deref().map_or(1e-9, number);
                let off = (value * per_cent - answer).abs();
                let place = format!("student {}, {} {}", i + 1, sum.exercise.key(), row.letter);
                assert!(
                    off <= tolerance * (1.0 + 1e-9),
                    "{place}: {} and not {answer} ± {tolerance}",
                    value * per_cent
                );
                n_checked += 1;
            }
        }
    }
    assert!(n_checked > 20 * 45, "only {n_checked} answers were worked out");
}

#[test]
fn solid_places_are_those_of_the_strips_on_the_sheet() {
    let worked = class_of(20);
    let sheets = wheelsheet::sheets(&worked);
    for (student, pupil) in
        sheets.student_worksheet.as_ref().expect("a class").students.iter().zip(&classroom(&worked).pupils)
    {
        let practice = student.exercises.iter().find(|practice| practice.key == "overlay").expect("practised");
        let [first, second] = practice.strips.as_slice() else { panic!("two strips") };
        let solid = first.iter().zip(second.iter().rev()).filter(|(a, b)| a == b).count();
        let sum = pupil.sums.iter().find(|sum| sum.exercise == Exercise::Overlay).expect("practised");
        let Answer::Number { number, .. } = &sum.asked[0].answer else { panic!("a number") };
        assert_eq!(solid as f64, *number);
    }
}

#[test]
fn lines_worked_with_the_numbers_of_the_plan_are_true_as_printed() {
    let sheets = wheelsheet::sheets(&class_of(2));
    let mut n_lines = 0;
    for student in &sheets.student_worksheet.as_ref().expect("a class").students {
        for question in student.exercises.iter().flat_map(|practice| &practice.questions) {
            let (Some(line), Some(result)) = (&question.worked, &question.result) else { continue };
            // Units are skipped by the reader, but for those that begin with a figure.
            let value = worked_out(&line.replace("wpi/√(yd/lb)", "")).unwrap_or_else(|why| panic!("{line}: {why}"));
            let said = result.split(", that is").next().expect("a number");
            let places = said
                .split(['\u{a0}', ' '])
                .next()
                .and_then(|digits| digits.split_once('.'))
                .map_or(0, |(_, after)| after.len());
            let half = 0.5 * 10f64.powi(-(places as i32));
            assert!((value - number(said)).abs() <= half * 1.001, "{line} is {value} and not {result}");
            n_lines += 1;
        }
    }
    assert!(n_lines > 80, "only {n_lines} lines");
}

/// How far apart two numbers have to be: within what each is known by.
fn could_be(a: (f64, f64), b: (f64, f64)) -> bool {
    (a.0 - b.0).abs() <= a.1 + b.1
}

#[test]
fn no_slip_could_be_taken_for_an_answer_or_another_slip() {
    let worked = class_of(20);
    let mut n_slips = 0;
    for sum in classroom(&worked).pupils.iter().flat_map(|pupil| &pupil.sums) {
        let numbers: Vec<_> = sum
            .asked
            .iter()
            .filter_map(|asked| match &asked.answer {
                Answer::Number { number, tolerance, slips, shown } => {
                    Some((*number, *tolerance, slips, shown.unit.symbol))
                }
                Answer::Word { .. } => None,
            })
            .collect();
        for (_, _, slips, unit) in &numbers {
            for (i, slip) in slips.iter().enumerate() {
                let reach = (slip.number, slip.tolerance);
                let taken =
                    numbers.iter().filter(|other| other.3 == *unit).find(|other| could_be(reach, (other.0, other.1)));
                assert!(taken.is_none(), "{:?} of {} is an answer", slip.wrong, sum.exercise.key());
                let other = slips[..i].iter().find(|other| could_be(reach, (other.number, other.tolerance)));
                assert!(other.is_none(), "{:?} of {} is {other:?}", slip.wrong, sum.exercise.key());
                n_slips += 1;
            }
        }
    }
    assert!(n_slips > 20 * 60, "only {n_slips} slips");
}

#[test]
fn the_slips_that_teachers_know_are_all_among_them() {
    use wheelsheet::figures::class::Wrong as W;
    let worked = class_of(20);
    let mut made = BTreeSet::new();
    for asked in classroom(&worked).pupils.iter().flat_map(|pupil| &pupil.sums).flat_map(|sum| &sum.asked) {
        match &asked.answer {
            Answer::Number { slips, .. } => made.extend(slips.iter().map(|slip| slip.wrong)),
            Answer::Word { slips, .. } => made.extend(slips.iter().map(|(wrong, _)| *wrong)),
        }
    }
    // Common practice, no source, and published craft articles.
    let listed = [
        W::BothFeet,
        W::Bumps,
        W::MeanOfCounts,
        W::Mixed,
        W::Radius,
        W::WrongWay,
        W::AsGrowth,
        W::Stretched,
        W::OneAndAHalf,
        W::HalfLoop,
        W::NotEmpty,
        W::Damp,
    ];
    assert_eq!(listed.iter().filter(|wrong| !made.contains(wrong)).collect::<Vec<_>>(), Vec::<&W>::new());
    let never: Vec<&W> = W::ALL.iter().filter(|wrong| !made.contains(wrong)).collect();
    assert_eq!(never, Vec::<&W>::new(), "slips that nobody can make");
}

#[test]
fn no_answer_is_that_of_a_neighbour() {
    let worked = class_of(30);
    for pair in classroom(&worked).pupils.windows(2) {
        for (own, other) in pair[0].sums.iter().zip(&pair[1].sums) {
            for (a, b) in own.asked.iter().zip(&other.asked) {
                let place = format!("{} {} of {}", own.exercise.key(), a.letter, pair[0].number);
                match (&a.answer, &b.answer) {
                    (
                        Answer::Number { number: a, tolerance: a_off, .. },
                        Answer::Number { number: b, tolerance: b_off, .. },
                    ) => {
                        assert!(!could_be((*a, *a_off), (*b, *b_off)), "{place}: {a} and {b}");
                    }
                    (Answer::Word { right: a, .. }, Answer::Word { right: b, .. }) => assert_ne!(a, b, "{place}"),
                    _ => panic!("{place}: questions of two kinds"),
                }
            }
        }
    }
}

#[test]
fn sums_of_handbooks_come_out_as_they_are_printed_there() {
    // W. Davis, Hosiery Manufacture, 1920; J. T. Taylor, Cotton Weaving and Designing, 1909; C. P. Brooks, Cotton Manufacturing,
    // 1892: the answer as printed there, and half a unit of its last place. Fractions are written out: 13 1/3, 14 10/13, 11 3/7, 7 1/7.
    let printed = [
        ("Davis", "ex. 27", 24.0, 0.5),
        ("Davis", "ex. 1", 25.0, 0.5),
        ("Brooks", "145", 40.0 / 3.0, 1e-3),
        ("Davis", "ex. 38", 70.0, 0.5),
        ("Taylor", "337", 156.0, 0.5),
        ("Davis", "ex. 30", 192.0 / 13.0, 1e-3),
        ("Taylor", "329", 50.0, 0.5),
        ("Davis", "ex. 35", 80.0 / 7.0, 1e-3),
        ("Davis", "ex. 42", 48.0, 0.5),
        ("Davis", "ex. 2", 50.0 / 7.0, 1e-3),
        ("Brooks", "145", 21.81, 0.01),
        ("Davis", "ex. 4", 11.9, 0.05),
    ];
    let plan = evening_class();
    let before = plan.split("[class]").next().expect("all before the class");
    let worked = worked(&format!("{before}[class]\nstudents = 6\nexercises = [\"handbook\"]\n"));
    let mut found: Vec<(&str, f64)> = Vec::new();
    for sum in classroom(&worked).pupils.iter().map(|pupil| &pupil.sums[0]) {
        for (asked, (letter, source)) in sum.asked.iter().zip(&sum.sources) {
            assert_eq!(asked.letter, *letter);
            let Answer::Number { shown, .. } = &asked.answer else { panic!("a number") };
            found.push((source, shown.unit.from_base(asked.node.value())));
        }
    }
    assert_eq!(found.len(), BOOKS.len());
    // Student 1 begins with the third sum.
    found.rotate_right(2);
    for ((source, value), (author, place, answer, half)) in found.into_iter().zip(printed) {
        assert!(source.contains(author) && source.ends_with(place), "{source} is not {author} {place}");
        assert!((value - answer).abs() <= half, "{source}: {value} and not {answer}");
    }
    let key = wheelsheet::sheets(&worked).answer_key.expect("a class");
    assert!(key.students.iter().flat_map(|one| &one.exercises[0].answers).all(|row| row.source.is_some()));
    assert!(
        ["Davis", "Taylor", "Brooks"].iter().all(|author| key.sources.iter().any(|source| source.contains(author)))
    );
}

fn bytes(sheets: &Sheets, student: usize) -> Vec<u8> {
    print(sheets, Which::Student(student), &Templates::Shipped, "class").expect("typeset")
}

#[test]
fn whoever_joins_changes_nobody_elses_sheet() {
    let (eight, nine) = (wheelsheet::sheets(&class_of(8)), wheelsheet::sheets(&class_of(9)));
    for student in 0..8 {
        assert_eq!(bytes(&eight, student), bytes(&nine, student), "student {}", student + 1);
    }
    let again = wheelsheet::sheets(&class_of(8));
    assert_eq!(bytes(&eight, 3), bytes(&again, 3));
    // In inches or not, a student's neighbours keep their numbers.
    let metric = worked(&(evening_class() + &"[[class.student]]\n".repeat(9)));
    let sums = |worked: &Worked, i: usize| {
        format!("{:?}", classroom(worked).pupils[i].sums.iter().map(|sum| &sum.asked).collect::<Vec<_>>())
    };
    assert_eq!(sums(&class_of(9), 4), sums(&metric, 4));
    assert_ne!(sums(&metric, 4), sums(&metric, 5));
}

/// Each exercise that a plan has figures for can be set, for the greatest class there may be.
#[test]
fn there_are_numbers_for_everyone() {
    let projects = Path::new(env!("CARGO_MANIFEST_DIR")).join("projects");
    let mut n_set = 0;
    for name in
        ["first-yarn", "three-ply-pullover", "two-ply-waistcoat", "chain-plied-shawl", "wool-and-silk", "woven-blanket"]
    {
        let plan = fs::read_to_string(projects.join(name).join("plan.toml")).expect("a shipped project");
        let plan = plan.split("\n[class]").next().expect("a plan").to_owned();
        for exercise in Exercise::ALL {
            let outcome = work_out(&of_texts(
                &format!("{plan}\n[class]\nstudents = 100\nexercises = [\"{}\"]\n", exercise.key()),
                "",
            ));
            let lacks = outcome.diagnostics.iter().any(|fault| fault.code.slug() == "exercise-lacks-figures");
            assert_eq!(outcome.worked.is_none(), lacks, "{name}, {}: {:?}", exercise.key(), outcome.diagnostics);
            n_set += usize::from(!lacks);
        }
    }
    assert!(n_set > 100, "only {n_set} were set");
}

#[test]
fn sheets_of_a_class_are_files_that_screen_readers_take() {
    let sheets = wheelsheet::sheets(&class_of(2));
    for sheet in Sheet::ALL.into_iter().filter(|sheet| sheet.is_of_a_class()) {
        // PDF/UA-1 is asked of every file: a drawing without words or a table without a head is refused.
        assert!(print(&sheets, Which::One(sheet), &Templates::Shipped, "class").expect("typeset").len() > 1000);
    }
    assert_eq!(sheets.first_lesson.as_ref().map(|_| pages(&sheets, Sheet::FirstLesson)), Some(1));
    assert!(!sheets.in_one().iter().any(|sheet| sheet.is_of_a_class()), "the key is kept apart");
}

fn pages(sheets: &Sheets, sheet: Sheet) -> usize {
    document::document(sheets, Which::One(sheet), &Templates::Shipped).expect("typeset").pages().len()
}

/// An answer as it is written, and what is written where a slip is made.
fn said(sum: &Sum, letter: char, wrong: Option<&str>) -> String {
    let asked = sum.asked.iter().find(|asked| asked.letter == letter).expect("asked");
    match &asked.answer {
        Answer::Number { number, slips, .. } => match wrong {
            Some(words) => {
                slips.iter().find(|slip| slip.wrong.words() == words).expect("a known slip").number.to_string()
            }
            None => number.to_string(),
        },
        Answer::Word { right, .. } => right.clone(),
    }
}

fn sum(class: &Classroom, student: usize, exercise: Exercise) -> &Sum {
    class.pupils[student].sums.iter().find(|sum| sum.exercise == exercise).expect("practised")
}

#[test]
fn marking_tells_what_is_right_what_is_a_slip_and_what_follows() {
    let plan = evening_class() + &"[[class.student]]\n".repeat(3);
    let worked = worked(&plan);
    let class = classroom(&worked);
    let (ratio, grist, wash) =
        (sum(class, 2, Exercise::Ratio), sum(class, 2, Exercise::Grist), sum(class, 2, Exercise::Wash));
    let half: f64 = said(grist, 'a', Some("half a loop taken as a loop")).parse().expect("a number");
    // What comes of half the length.
    let Answer::Number { number: full, .. } = &grist.asked[1].answer else { panic!("a number") };
    let folder = folder(&[("class", &plan)]);
    let toml = format!(
        "student = 3\n[ratio]\na = {}\nb = \"{}\"\n[directions]\na = \"{}\"\n[grist]\na = {half}\nb = {}\n[wash]\na = \"{} %\"\nb = 1\n",
        said(ratio, 'a', None),
        said(ratio, 'b', Some("each turn counted twice")),
        said(sum(class, 2, Exercise::Directions), 'a', None).to_lowercase(),
        full + 40.0,
        said(wash, 'a', None),
    );
    fs::write(folder.path().join("answers.toml"), toml).expect("a file");
    let output = wheelsheet(folder.path(), &["mark", "answers.toml", "class"]);
    assert_eq!(code(&output), 0, "{}", err(&output));
    let told = out(&output);
    for line in [
        "4a   ",
        "right\n",
        "each turn counted twice. Turn the wheel slowly",
        "half a loop taken as a loop. Lay one loop flat",
        "not right, and no slip that is known",
        "3 right of 7; ",
    ] {
        assert!(told.contains(line), "{line} is not in\n{told}");
    }
    let before: Vec<_> =
        fs::read_dir(folder.path()).expect("a folder").filter_map(Result::ok).map(|entry| entry.file_name()).collect();
    assert_eq!(before.len(), 2, "nothing is kept: {before:?}");
}

#[test]
fn an_answer_that_comes_of_an_earlier_one_is_told_so() {
    let plan = evening_class() + &"[[class.student]]\n".repeat(2);
    let worked = worked(&plan);
    let wraps = sum(classroom(&worked), 1, Exercise::Wraps);
    let Answer::Number { number, .. } = &wraps.asked[0].answer else { panic!("a number") };
    // A mean that is a little off, for no reason that is known, and what is then right: it is divided by three centimetres.
    let off = number + 2.5;
    let folder = folder(&[("class", &plan)]);
    fs::write(
        folder.path().join("a.csv"),
        format!("student,exercise,question,answer\n2,wraps,a,{off}\n2,wraps,b,{:.2}\n", off / 3.0),
    )
    .expect("a file");
    let told = out(&wheelsheet(folder.path(), &["mark", "a.csv", "class"]));
    assert!(told.contains("right, had 6a been right: mend that one first"), "{told}");
}

#[test]
fn answers_that_cannot_be_read_are_told_at_their_place() {
    let plan = evening_class() + &"[[class.student]]\n".repeat(3);
    let folder = folder(&[("class", &plan)]);
    let file = "student = 3\n[ratio]\na = \"about eight\"\nz = 1\nb = true\n[gritst]\na = 1\n[scale]\na = \"2 m\"\n";
    fs::write(folder.path().join("answers.toml"), file).expect("a file");
    let output = wheelsheet(folder.path(), &["mark", "answers.toml", "class"]);
    assert_eq!(code(&output), 1);
    let told = err(&output);
    for line in [
        "answers.toml:3:5: error: expected a number for 4a, found \"about eight\"",
        "answers.toml:4:5: error: expected a question from a to b, found z",
        "answers.toml:5:5: error: expected a number or a text, found something else",
        "answers.toml:6:2: error: expected the name of an exercise, found \"gritst\"; is `grist` meant?",
        "answers.toml:9:5: error: expected a number for 10a, found \"2 m\"; \"m\" measures a length, and here stands a weight",
    ] {
        assert!(told.contains(line), "{line} is not in\n{told}");
    }
    for (file, line) in [
        ("[ratio]\na = 1\n", "whose answers these are is not said"),
        ("student = 9\n[ratio]\na = 1\n", "expected a student from 1 to 3, found 9"),
        ("student = 3\nratio = 1\n", "expected a table of answers, found one value"),
        ("student = \n", "not TOML"),
        ("", "whose answers these are is not said"),
    ] {
        fs::write(folder.path().join("answers.toml"), file).expect("a file");
        let output = wheelsheet(folder.path(), &["mark", "answers.toml", "class"]);
        assert_eq!(code(&output), 1, "{file}");
        assert!(err(&output).contains(line), "{line} is not in\n{}", err(&output));
    }
    assert_eq!(code(&wheelsheet(folder.path(), &["mark", "nowhere.toml", "class"])), 2);
    fs::write(folder.path().join("class/plan.toml"), plan.split("[class]").next().expect("a plan")).expect("a file");
    let output = wheelsheet(folder.path(), &["mark", "answers.toml", "class"]);
    assert!(code(&output) == 1 && err(&output).contains("the plan has no class"), "{}", err(&output));
}
