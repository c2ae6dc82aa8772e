//! Expected text of every project: its figures, and what stands on its pages.
//!
//! `UPDATE_EXPECT=1 cargo test --release` writes it anew; read the diff.

use std::fmt::Write;
use std::path::{Path, PathBuf};
use std::process::Command;

use expect_test::expect_file;
use wheelsheet::document::{self, Templates, Which};
use wheelsheet::{Worked, source, work_out};

/// The shipped projects, by name.
pub(crate) fn projects() -> Vec<(String, PathBuf, Worked)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("projects");
    let folders = source::find(&[root]).expect("there are projects");
    let read = |folder: &PathBuf| {
        let project = source::read(folder).expect("a shipped project is readable");
        let outcome = work_out(&project);
        let told: Vec<String> = outcome.diagnostics.iter().map(|fault| fault.message.clone()).collect();
        (project.name, folder.clone(), outcome.worked.unwrap_or_else(|| panic!("{}: {told:#?}", folder.display())))
    };
    folders.iter().map(read).collect()
}

fn golden(project: &str, file: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden").join(project).join(file)
}

#[test]
fn shipped_projects_have_neither_errors_nor_warnings() {
    for (name, folder, _) in projects() {
        let outcome = work_out(&source::read(&folder).expect("readable"));
        assert_eq!(outcome.diagnostics, Vec::new(), "{name}");
    }
}

#[test]
fn figures_are_as_they_were() {
    for (name, folder, _) in projects() {
        let output = Command::new(env!("CARGO_BIN_EXE_wheelsheet")).arg("figures").arg(&folder).output().expect("runs");
        let text = String::from_utf8(output.stdout).expect("UTF-8");
        expect_file![golden(&name, "figures.txt")].assert_eq(&text);
    }
}

#[test]
fn pages_say_what_they_said() {
    for (name, _, worked) in projects() {
        let sheets = wheelsheet::sheets(&worked);
        let mut text = String::new();
        for sheet in sheets.present() {
            let document = document::document(&sheets, Which::One(sheet), &Templates::Shipped).expect("typeset");
            for (page, lines) in document::text::lines(&document).iter().enumerate() {
                writeln!(text, "==== {} {}", sheet.name(), page + 1).expect("text");
                lines.iter().for_each(|line| writeln!(text, "{line}").expect("text"));
            }
        }
        expect_file![golden(&name, "pages.txt")].assert_eq(&text);
    }
}

#[test]
fn all_sheets_in_one_have_the_pages_of_each_one_alone() {
    for (name, _, worked) in projects() {
        let sheets = wheelsheet::sheets(&worked);
        let pages = |which| document::document(&sheets, which, &Templates::Shipped).expect("typeset").pages().len();
        let apart: usize = sheets.in_one().into_iter().map(|sheet| pages(Which::One(sheet))).sum();
        assert_eq!(pages(Which::All), apart, "{name}");
    }
}
