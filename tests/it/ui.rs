//! Bad plans, each with its fault marked in the line (`#~ slug`) and the whole message beside it in `stderr.txt`.
//!
//! The mark cannot be rewritten by accident; the message is written anew by `UPDATE_EXPECT=1 cargo ui`. Read it aloud.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::time::Instant;

use codespan_reporting::term::termcolor::NoColor;
use expect_test::expect_file;
use wheelsheet::diagnostics::render::{Format, Locate, emit};
use wheelsheet::diagnostics::{Code, Diagnostic, File};
use wheelsheet::source::{self, LIMIT, Project, Text};
use wheelsheet::{Outcome, work_out};

/// Faults as file, line and slug.
type Marks = BTreeSet<(String, usize, String)>;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/ui")
}

/// The project in a folder, its files named without the folder, so that messages are the same everywhere.
fn project(folder: &Path) -> Project {
    let project = source::read(folder).unwrap_or_else(|failure| panic!("{}: {failure}", folder.display()));
    let bare = |text: Text, name: &str| Text { path: name.to_owned(), ..text };
    Project { plan: bare(project.plan, "plan.toml"), log: project.log.map(|log| bare(log, "log.toml")), ..project }
}

/// A project that lies on no disk.
pub(crate) fn of_bytes(plan: &[u8]) -> Project {
    let plan = Text { path: "plan.toml".to_owned(), bytes: plan.to_vec() };
    Project { name: "written".to_owned(), folder: "written".into(), plan, log: None }
}

/// What is told of a project, without colour.
pub(crate) fn told(outcome: &Outcome) -> String {
    let mut out = NoColor::new(Vec::new());
    emit(&mut out, &outcome.places, &outcome.diagnostics, Format::Human).expect("writing to memory");
    String::from_utf8(out.into_inner()).expect("messages are UTF-8")
}

/// Where the faults of a project stand.
pub(crate) fn found(outcome: &Outcome) -> Marks {
    let at = |fault: &Diagnostic| {
        let spot = &fault.primary.spot;
        let file = match spot {
            wheelsheet::diagnostics::Spot::Path(place, _) => place.file,
            wheelsheet::diagnostics::Spot::Bytes(file, _) => *file,
        };
        let text = outcome.places.text(file);
        let line = 1 + text[..outcome.places.range(spot).start].matches('\n').count();
        let name = if file == File::Plan { "plan.toml" } else { "log.toml" };
        (name.to_owned(), line, fault.code.slug().to_owned())
    };
    outcome.diagnostics.iter().map(at).collect()
}

/// The faults that a text marks.
pub(crate) fn marked(name: &str, text: &str) -> Marks {
    let lines = text.lines().enumerate();
    let slugs = |(i, line): (usize, &str)| {
        let marks: Vec<String> = line
            .split_once("#~")
            .map(|(_, marks)| marks.split_whitespace().map(str::to_owned).collect())
            .unwrap_or_default();
        marks.into_iter().map(move |slug| (i + 1, slug))
    };
    lines.flat_map(slugs).map(|(line, slug)| (name.to_owned(), line, slug)).collect()
}

/// Every case: slug and folder.
pub(crate) fn cases() -> Vec<(String, PathBuf)> {
    let folders = |path: &Path| {
        let mut found: Vec<PathBuf> = fs::read_dir(path)
            .expect("a folder of cases")
            .filter_map(Result::ok)
            .map(|entry| entry.path())
            .filter(|path| path.is_dir())
            .collect();
        found.sort();
        found
    };
    let name = |path: &Path| path.file_name().expect("a folder").to_string_lossy().into_owned();
    folders(&root())
        .iter()
        .flat_map(|slug| folders(slug).into_iter().map(|case| (name(slug), case)).collect::<Vec<_>>())
        .collect()
}

#[test]
fn every_marked_fault_is_found_at_its_line_and_no_other() {
    let mut wrong = Vec::new();
    for (slug, folder) in cases() {
        let project = project(&folder);
        let outcome = work_out(&project);
        let mut wanted = Marks::new();
        for text in std::iter::once(&project.plan).chain(&project.log) {
            wanted.extend(marked(&text.path, &String::from_utf8_lossy(&text.bytes)));
        }
        let found = found(&outcome);
        if wanted != found {
            wrong.push(format!("{}: marked {wanted:?}, found {found:?}", folder.display()));
        }
        assert!(wanted.iter().any(|(_, _, other)| *other == slug), "{} does not mark {slug}", folder.display());
    }
    assert_eq!(wrong, Vec::<String>::new());
}

#[test]
fn every_message_reads_as_it_did() {
    for (_, folder) in cases() {
        expect_file![folder.join("stderr.txt")].assert_eq(&told(&work_out(&project(&folder))));
    }
}

/// Cases that cannot lie in a text file: what is wrong with the bytes, and the one fault that is found.
fn of_the_file() -> Vec<(Vec<u8>, Code)> {
    let plan = fs::read(Path::new(env!("CARGO_MANIFEST_DIR")).join("projects/first-yarn/plan.toml")).expect("a plan");
    let with = |front: &[u8]| [front, plan.as_slice()].concat();
    vec![
        (Vec::new(), Code::EmptyFile),
        (b"  \n\t\n".to_vec(), Code::EmptyFile),
        (with(b"\xef\xbb\xbf"), Code::ByteOrderMark),
        (with(b"# caf\xe9\n"), Code::NotUtf8),
        (with(&vec![b'#'; 10 * LIMIT]), Code::TooLarge),
        (with(format!("x = {}{}\n", "[".repeat(100_000), "]".repeat(100_000)).as_bytes()), Code::TooDeep),
        (with(format!("x = {}\n", "{ a = ".repeat(100_000)).as_bytes()), Code::TooDeep),
        (with(format!("{}a = 1\n", "a.".repeat(100_000)).as_bytes()), Code::TooDeep),
        (with(format!("\"a\".{}a = 1\n", "a.".repeat(100_000)).as_bytes()), Code::TooDeep),
        (with(format!("x = {{ {}a = 1 }}\n", "a.".repeat(100_000)).as_bytes()), Code::TooDeep),
    ]
}

#[test]
fn files_that_are_no_plans_are_refused_before_they_are_parsed() {
    for (bytes, code) in of_the_file() {
        let outcome = work_out(&of_bytes(&bytes));
        let codes: Vec<Code> = outcome.diagnostics.iter().map(|fault| fault.code).collect();
        assert_eq!(codes, [code], "{}", String::from_utf8_lossy(&bytes[..bytes.len().min(60)]));
        assert_eq!(outcome.worked.is_some(), code == Code::ByteOrderMark);
        assert!(told(&outcome).len() < 4000, "a huge line is not shown whole");
    }
}

/// The codes that the cases above stand for.
pub(crate) fn codes_of_the_file() -> BTreeSet<String> {
    of_the_file().into_iter().map(|(_, code)| code.slug().to_owned()).collect()
}

#[test]
fn a_file_that_is_not_parsed_is_shown_where_it_is_at_fault() {
    let plan = b"[plan]\ntitle = \"An example\"\n".as_slice();
    let deep = format!("x = {}\n", "[".repeat(40));
    for fault in [b"# caf\xe9\n".as_slice(), deep.as_bytes()] {
        let outcome = work_out(&of_bytes(&[plan, fault].concat()));
        assert_eq!(found(&outcome).into_iter().map(|(_, line, _)| line).collect::<Vec<_>>(), [3]);
    }
}

#[test]
fn dots_and_brackets_in_texts_and_comments_are_not_nested() {
    let line = "[.{".repeat(100);
    let plan = format!("# {line}\n[plan]\ntitle = \"\"\"\n{line}\"\"\" # {line}\n");
    let outcome = work_out(&of_bytes(plan.as_bytes()));
    assert!(outcome.diagnostics.iter().all(|fault| fault.code != Code::TooDeep), "{}", told(&outcome));
}

#[test]
fn what_is_written_at_great_length_is_quoted_in_part() {
    let long = "x".repeat(100_000);
    let plan = format!("[plan]\n{long} = 1\n[fibre.{long}]\nkind = \"{long}\"\nweight = \"{long}\"\n");
    let outcome = work_out(&of_bytes(plan.as_bytes()));
    assert!(outcome.has_errors());
    assert!(told(&outcome).len() < 10_000);
}

/// One fault in each of very many lines: the answer comes at once, and tells how many are not shown.
#[test]
fn a_file_that_is_all_faults_is_answered_at_once() {
    for line in ["a b\n", "a = 1\n", "x = [1\n", "[x\n", "t = \"\n", "\u{1}\n", "'''\\\n\"\"\"\\\n"] {
        let began = Instant::now();
        let told = told(&work_out(&of_bytes(line.repeat(20_000).as_bytes())));
        assert!(began.elapsed().as_secs() < 10, "{line:?} took {:?}", began.elapsed());
        assert!(told.ends_with("they may go when these are mended\n") || told.contains("[too-deep]"), "{line:?}");
    }
}

#[test]
fn nothing_that_a_plan_says_reaches_the_terminal_raw() {
    let plan = "[plan]\ntitle = \"a\u{1b}[31mred\u{7}\"\n[\"\u{1b}]0;gone\u{7}\"]\nx = 1\n";
    let outcome = work_out(&of_bytes(plan.as_bytes()));
    assert!(outcome.has_errors());
    let told = told(&outcome);
    assert!(told.chars().all(|c| c == '\n' || !c.is_control()), "{told:?}");
}
