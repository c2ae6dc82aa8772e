//! Every code has a name of its own, a document whose example raises it, a case, and a place that raises it.

use std::collections::BTreeSet;
use std::path::Path;

use wheelsheet::diagnostics::{Code, Severity};
use wheelsheet::source::Text;
use wheelsheet::work_out;

use super::ui;

/// The tables of the smallest plan, which the examples leave out where they are not about them.
const SMALLEST: [(&str, &str); 4] = [
    ("plan", "[plan]\ntitle = \"An example\"\n"),
    ("fibre", "[fibre.corriedale]\nkind = \"wool\"\nweight = \"200 g\"\n"),
    ("wheel", "[wheel]\nwhorls = { slow = \"6:1\", fast = \"8.5:1\" }\n"),
    ("yarn", "[yarn]\nplies = 2\nwraps = \"10 wpi\"\n"),
];

/// The TOML under a heading of a document.
fn block<'a>(code: Code, heading: &str) -> &'a str {
    let document = code.document();
    let section = document.split(&format!("## {heading}\n")).nth(1);
    let section = section.unwrap_or_else(|| panic!("{} has no \"{heading}\"", code.slug()));
    let body = section.split("```toml\n").nth(1).and_then(|rest| rest.split("```").next());
    body.unwrap_or_else(|| panic!("{}: no TOML under \"{heading}\"", code.slug()))
}

/// An example with the tables that it leaves out, which stand after it so that its lines keep their numbers. What stands behind
/// `# log.toml` is the log; so many empty lines before it keep its lines their numbers too.
fn completed(example: &str) -> (String, Option<String>) {
    let (plan, log) = match example.find("# log.toml") {
        Some(at) => (&example[..at], Some("\n".repeat(example[..at].matches('\n').count()) + &example[at..])),
        None => (example, None),
    };
    let has = |table: &str| {
        plan.lines().any(|line| line.starts_with(&format!("[{table}]")) || line.starts_with(&format!("[{table}.")))
    };
    // A braid brings its own weight, and names a fibre that has none.
    let missing: String = SMALLEST
        .iter()
        .filter(|(table, _)| !has(table))
        .map(|(table, text)| {
            if *table == "fibre" && has("braid") {
                text.replace("weight = \"200 g\"\n", "")
            } else {
                (*text).to_owned()
            }
        })
        .collect();
    (format!("{plan}\n{missing}"), log)
}

fn faults(example: &str) -> (BTreeSet<(usize, String)>, bool, String) {
    let (plan, log) = completed(example);
    let mut project = ui::of_bytes(plan.as_bytes());
    project.log = log.map(|log| Text { path: "log.toml".to_owned(), bytes: log.into_bytes() });
    let outcome = work_out(&project);
    let found = ui::found(&outcome).into_iter().map(|(_, line, slug)| (line, slug)).collect();
    (found, outcome.has_errors(), ui::told(&outcome))
}

#[test]
fn slugs_are_unique_and_readable() {
    let slugs: BTreeSet<&str> = Code::ALL.iter().map(|code| code.slug()).collect();
    assert_eq!(slugs.len(), Code::ALL.len());
    assert!(slugs.iter().all(|slug| slug.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-')));
}

#[test]
fn documents_have_their_headings_and_name_codes_that_exist() {
    let slugs: BTreeSet<&str> = Code::ALL.iter().map(|code| code.slug()).collect();
    for code in Code::ALL {
        let document = code.document();
        assert!(document.starts_with(&format!("# `{}`\n", code.slug())), "{}", code.slug());
        for heading in ["Why it matters", "Example", "Instead", "See also"] {
            assert!(document.contains(&format!("\n## {heading}\n")), "{}: {heading}", code.slug());
        }
        let named = document.split("## See also\n").nth(1).expect("looked at above");
        for name in named.split('`').skip(1).step_by(2) {
            assert!(slugs.contains(name), "{} names {name}", code.slug());
        }
    }
}

/// Codes whose example cannot stand in a document, since it is about bytes; `ui` has their cases.
fn is_of_the_file(code: Code) -> bool {
    ui::codes_of_the_file().contains(code.slug())
}

#[test]
fn the_example_of_a_document_raises_its_code_and_what_is_said_instead_does_not() {
    let mut wrong = Vec::new();
    for code in Code::ALL.iter().copied().filter(|code| !is_of_the_file(*code)) {
        let example = block(code, "Example");
        let wanted: BTreeSet<(usize, String)> =
            ui::marked("", example).into_iter().map(|(_, line, slug)| (line, slug)).collect();
        let (found, has_errors, told) = faults(example);
        if wanted != found || wanted.iter().any(|(_, slug)| slug != code.slug()) || wanted.is_empty() {
            wrong.push(format!("{}: the example marks {wanted:?}, and {found:?} is found\n{told}", code.slug()));
        }
        if has_errors != (code.severity() == Severity::Error) {
            wrong.push(format!("{}: its severity is not that of its example", code.slug()));
        }
        let (found, has_errors, told) = faults(block(code, "Instead"));
        if has_errors || found.iter().any(|(_, slug)| slug == code.slug()) {
            wrong.push(format!("{}: what is said instead raises {found:?}\n{told}", code.slug()));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_code_has_a_case() {
    let mut cased: BTreeSet<String> = ui::cases().into_iter().map(|(slug, _)| slug).collect();
    cased.extend(ui::codes_of_the_file());
    let missing: Vec<&str> = Code::ALL.iter().map(|code| code.slug()).filter(|slug| !cased.contains(*slug)).collect();
    assert_eq!(missing, Vec::<&str>::new());
    let slugs: BTreeSet<String> = Code::ALL.iter().map(|code| code.slug().to_owned()).collect();
    assert!(cased.is_subset(&slugs), "a case of no code: {:?}", cased.difference(&slugs));
}

#[test]
fn every_code_is_raised_somewhere() {
    let source: String = walkdir::WalkDir::new(Path::new(env!("CARGO_MANIFEST_DIR")).join("src"))
        .into_iter()
        .filter_map(Result::ok)
        .filter(|entry| {
            entry.path().extension().is_some_and(|ending| ending == "rs") && !entry.path().ends_with("code.rs")
        })
        .map(|entry| std::fs::read_to_string(entry.path()).expect("a source file"))
        .collect();
    let unused: Vec<String> = Code::ALL
        .iter()
        .map(|code| format!("{code:?}"))
        .filter(|name| !source.contains(&format!("Code::{name}")))
        .collect();
    assert_eq!(unused, Vec::<String>::new());
}
