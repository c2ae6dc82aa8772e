//! Plans changed at random: whatever is written, the check answers; what does not decide about figures, changes nothing.

use std::hash::{DefaultHasher, Hash, Hasher};

use proptest::prelude::*;
use proptest::sample::{Index, select};
use wheelsheet::diagnostics::render::{Format, to_text};
use wheelsheet::diagnostics::{Diagnostic, Severity};
use wheelsheet::plan::Plan;
use wheelsheet::source::{Project, Text};
use wheelsheet::{check, syntax};

const PLANS: [&str; 3] = [
    include_str!("../../projects/first-yarn/plan.toml"),
    include_str!("../../projects/two-ply-waistcoat/plan.toml"),
    include_str!("../../projects/three-ply-pullover/plan.toml"),
];
const LOG: &str = include_str!("../../projects/three-ply-pullover/log.toml");

/// What a hand or a cat may leave in place of a value.
const ODDITIES: [&str; 24] = [
    "\"\"",
    "\"0\"",
    "0",
    "-1",
    "1e300",
    "\"1e300 g\"",
    "\"-5 g\"",
    "\"NaN g\"",
    "\"1/0 oz\"",
    "\"1,234 m\"",
    "\"3 ± 9 oz\"",
    "\"rest\"",
    "\"braid 99\"",
    "\"100 %\"",
    "\"0.0000001 wpi\"",
    "\"x x x\"",
    "[]",
    "[\"1 g\", 2]",
    "{}",
    "true",
    "2026-02-29",
    "\"../..\"",
    "\"\\u001b[2J\"",
    "9223372036854775807",
];

/// The log that lies beside a shipped plan.
fn log_of(plan: &str) -> &'static str {
    if plan == PLANS[2] { LOG } else { "" }
}

fn settings(cases: u32) -> ProptestConfig {
    ProptestConfig { cases, failure_persistence: None, ..ProptestConfig::default() }
}

fn project(plan: &str, log: &str) -> Project {
    let text = |name: &str, text: &str| Text { path: name.to_owned(), bytes: text.as_bytes().to_vec() };
    Project {
        name: "random".to_owned(),
        folder: "random".into(),
        plan: text("plan.toml", plan),
        log: Some(text("log.toml", log)),
    }
}

/// The checked plan, and all faults of reading and checking.
fn checked(plan: &str, log: &str) -> (Option<Plan>, Vec<Diagnostic>) {
    let (syntax, mut faults) = syntax::read(&project(plan, log));
    let (plan, more) = check::check(&syntax);
    faults.extend(more);
    (plan, faults)
}

fn fingerprint(plan: &Plan) -> u64 {
    let mut hasher = DefaultHasher::new();
    plan.hash(&mut hasher);
    hasher.finish()
}

/// One change of a text that knows nothing of the plan language.
#[derive(Debug, Clone)]
enum Change {
    TakeOut(Index),
    Double(Index),
    Swap(Index, Index),
    Put(Index, &'static str),
    Exchange(Index, Index),
    CutOff(Index),
}

fn any_change() -> impl Strategy<Value = Change> {
    prop_oneof![
        any::<Index>().prop_map(Change::TakeOut),
        any::<Index>().prop_map(Change::Double),
        any::<(Index, Index)>().prop_map(|(a, b)| Change::Swap(a, b)),
        (any::<Index>(), select(&ODDITIES[..])).prop_map(|(at, odd)| Change::Put(at, odd)),
        any::<(Index, Index)>().prop_map(|(a, b)| Change::Exchange(a, b)),
        any::<Index>().prop_map(Change::CutOff),
    ]
}

fn changed(text: &str, changes: &[Change]) -> String {
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    for change in changes {
        if lines.is_empty() {
            break;
        }
        let n_lines = lines.len();
        match change {
            Change::TakeOut(at) => {
                lines.remove(at.index(n_lines));
            }
            Change::Double(at) => lines.insert(at.index(n_lines), lines[at.index(n_lines)].clone()),
            Change::Swap(a, b) => lines.swap(a.index(n_lines), b.index(n_lines)),
            Change::Put(at, odd) => put(&mut lines[at.index(n_lines)], odd),
            Change::Exchange(a, b) => {
                let value = lines[a.index(n_lines)].split_once(" = ").map(|(_, value)| value.to_owned());
                if let Some(value) = value {
                    put(&mut lines[b.index(n_lines)], &value);
                }
            }
            Change::CutOff(at) => lines.truncate(at.index(n_lines) + 1),
        }
    }
    lines.join("\n")
}

/// Puts another value after the last equals sign of a line.
fn put(line: &mut String, value: &str) {
    if let Some(at) = line.rfind(" = ") {
        line.truncate(at + 3);
        line.push_str(value);
    }
}

#[test]
fn the_shipped_projects_have_no_fault() {
    for plan in PLANS {
        let (plan, faults) = checked(plan, log_of(plan));
        assert!(faults.is_empty(), "{faults:#?}");
        assert!(plan.is_some());
    }
}

/// Pieces of which plans are made, and of which they are broken.
const PIECES: [&str; 30] = [
    "[",
    "]",
    "[[",
    "]]",
    "{",
    "}",
    "=",
    " = ",
    ".",
    ",",
    "\"",
    "'",
    "\"\"\"",
    "'''",
    "#",
    "\n",
    "\r",
    "\t",
    "\\",
    "plan",
    "braid",
    "wheel",
    "ply-plan",
    "plies",
    "\"4 oz\"",
    "2026-03-02",
    "1e999",
    "\u{feff}",
    "\u{1f9f6}",
    "\u{202e}",
];

/// Bytes of any kind, any text, and pieces of TOML in any order.
fn any_file() -> impl Strategy<Value = Vec<u8>> {
    prop_oneof![
        prop::collection::vec(any::<u8>(), 0..200),
        any::<String>().prop_map(String::into_bytes),
        prop::collection::vec(select(&PIECES[..]), 0..60).prop_map(|pieces| pieces.concat().into_bytes()),
    ]
}

proptest! {
    #![proptest_config(settings(1500))]

    #[test]
    fn whatever_is_written_is_answered(
        plan in select(&PLANS[..]),
        changes in prop::collection::vec(any_change(), 0..6),
        log_changes in prop::collection::vec(any_change(), 0..3),
    ) {
        let (plan, faults) = checked(&changed(plan, &changes), &changed(LOG, &log_changes));
        let is_faulty = faults.iter().any(|fault| fault.code.severity() == Severity::Error);
        prop_assert!(plan.is_some() || is_faulty, "no plan, and nobody says why");
        for fault in &faults {
            prop_assert!(!fault.message.is_empty() && !fault.message.ends_with('.'), "{}", fault.message);
        }
    }

    #[test]
    fn any_bytes_are_answered(plan in any_file(), log in any_file()) {
        let text = |name: &str, bytes: Vec<u8>| Text { path: name.to_owned(), bytes };
        let project = Project { plan: text("plan.toml", plan), log: Some(text("log.toml", log)), ..project("", "") };
        let (syntax, mut faults) = syntax::read(&project);
        let (plan, more) = check::check(&syntax);
        faults.extend(more);
        prop_assert!(plan.is_some() || !faults.is_empty(), "no plan, and nobody says why");
        for format in [Format::Human, Format::Short, Format::Json] {
            let told = to_text(&syntax.places, &faults, format);
            prop_assert_eq!(told.is_empty(), faults.is_empty());
            prop_assert!(told.chars().all(|c| c == '\n' || !c.is_control()), "{told:?}");
        }
    }

    #[test]
    fn spaces_and_comments_do_not_change_the_plan(
        plan in select(&PLANS[..]),
        edits in prop::collection::vec((any::<Index>(), select(&["", "  ", "# a thought", "\t# ± 3 \"oz\""][..])), 1..8),
    ) {
        let mut lines: Vec<String> = plan.lines().map(str::to_owned).collect();
        for (at, insert) in &edits {
            let at = at.index(lines.len());
            lines.insert(at, (*insert).to_owned());
            let spaced = lines[at + 1].replacen(" = ", "   =  ", 1);
            lines[at + 1] = spaced;
        }
        let (before, _) = checked(plan, log_of(plan));
        let (after, faults) = checked(&lines.join("\n"), log_of(plan));
        let (before, after) = (before.expect("the project is sound"), after);
        let after = after.ok_or_else(|| TestCaseError::fail(format!("{faults:?}")))?;
        prop_assert_eq!(fingerprint(&before), fingerprint(&after));
    }

    #[test]
    fn the_order_of_tables_changes_no_total(seed in any::<u64>()) {
        let plan = PLANS[2];
        let shuffled = shuffled_tables(plan, seed);
        let (before, _) = checked(plan, LOG);
        let (after, faults) = checked(&shuffled, LOG);
        let before = before.expect("the project is sound");
        let after = after.ok_or_else(|| TestCaseError::fail(format!("{faults:?}")))?;
        prop_assert_eq!(totals(&before), totals(&after));
    }
}

/// The `toml` crate reads and writes each plan in ways of its own: same entries, other tables, quotes and spacing.
#[test]
fn a_shipped_plan_read_and_written_anew_is_the_same_plan() {
    for plan in PLANS {
        let read: toml::Table = toml::from_str(plan).expect("a shipped plan is TOML");
        let anew = toml::to_string(&read).expect("what was read can be written");
        let [before, after] = [plan, &anew].map(|text| checked(text, log_of(plan)).0.expect("the project is sound"));
        assert_eq!(fingerprint(&before), fingerprint(&after), "{anew}");
    }
}

/// The plan with its tables in another order; entries of a list keep theirs, which has a meaning.
fn shuffled_tables(plan: &str, mut seed: u64) -> String {
    let mut tables: Vec<String> = Vec::new();
    for line in plan.lines() {
        let begins = line.starts_with('[') && !line.starts_with("[[");
        match tables.last_mut() {
            Some(table) if !begins => {
                table.push('\n');
                table.push_str(line);
            }
            _ => tables.push(line.to_owned()),
        }
    }
    for i in (1..tables.len()).rev() {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let other = usize::try_from(seed >> 33).unwrap_or(0) % (i + 1);
        tables.swap(i, other);
    }
    tables.join("\n")
}

/// Supplies with weight and number, and ply plans with what they name.
type Totals = (Vec<(String, u64, usize)>, Vec<(String, Vec<String>)>);

/// What there is of each supply, and which supplies each ply plan takes, by name.
fn totals(plan: &Plan) -> Totals {
    let mut supplies: Vec<_> = plan
        .supplies
        .iter()
        .map(|supply| {
            let total: f64 = supply.weights.iter().map(|weight| weight.value).sum();
            (supply.name.clone(), total.to_bits(), supply.sections.len())
        })
        .collect();
    supplies.sort();
    let plies =
        |plies: &[wheelsheet::plan::Ply]| plies.iter().map(|ply| plan.supplies[ply.lots[0]].name.clone()).collect();
    let plans = plan.ply_plans.iter().map(|one| (one.name.clone(), plies(&one.plies))).collect();
    (supplies, plans)
}
