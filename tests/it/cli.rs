//! The command itself: exit codes, streams, what is written and what is left alone.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use tempfile::TempDir;
use wheelsheet::document::Sheet;

pub(crate) const SMALLEST: &str = r#"[plan]
title = "First yarn"
[fibre.corriedale]
kind = "wool"
weight = "200 g"
[wheel]
whorls = { slow = "6:1", fast = "8.5:1" }
[yarn]
plies = 2
wraps = "10 wpi"
"#;

/// The command in a folder of its own, with no colour asked of it.
pub(crate) fn wheelsheet(folder: &Path, args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_wheelsheet")).current_dir(folder).args(args).output().expect("the command starts")
}

pub(crate) fn code(output: &Output) -> i32 {
    output.status.code().expect("the command ends by itself")
}

pub(crate) fn out(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).expect("answers are UTF-8")
}

pub(crate) fn err(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).expect("messages are UTF-8")
}

/// A folder with projects in it.
pub(crate) fn folder(projects: &[(&str, &str)]) -> TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    for (name, plan) in projects {
        fs::create_dir_all(folder.path().join(name)).expect("a project folder");
        fs::write(folder.path().join(name).join("plan.toml"), plan).expect("a plan");
    }
    folder
}

/// The sheets of a plan that has neither a log nor colours, and no garment.
fn without_a_log() -> impl Iterator<Item = Sheet> {
    let is_missing = |sheet: &Sheet| {
        use Sheet as S;
        matches!(sheet, S::Samples | S::ColourSheet | S::SwatchCard | S::GarmentSheet | S::SkeinLog | S::Alternatives)
            || sheet.is_of_a_class()
    };
    Sheet::ALL.into_iter().filter(move |sheet| !is_missing(sheet))
}

/// All files below a folder, sorted.
pub(crate) fn files(folder: &Path) -> Vec<PathBuf> {
    let mut found: Vec<PathBuf> = walkdir::WalkDir::new(folder)
        .into_iter()
        .filter_map(Result::ok)
        .filter(|entry| entry.file_type().is_file())
        .map(|entry| entry.path().strip_prefix(folder).expect("below").to_owned())
        .collect();
    found.sort();
    found
}

#[test]
fn a_build_writes_each_sheet_and_all_of_them_and_says_so_beside_the_answer() {
    let top = folder(&[("a", SMALLEST)]);
    let built = wheelsheet(top.path(), &["build", "a"]);
    assert_eq!((code(&built), out(&built)), (0, String::new()), "{}", err(&built));
    let n_files = without_a_log().count() + 1;
    assert!(err(&built).contains(&format!("a: {n_files} files in out/a")), "{}", err(&built));
    let names: Vec<String> = files(&top.path().join("out/a")).iter().map(|path| path.display().to_string()).collect();
    let mut wanted: Vec<String> =
        without_a_log().map(Sheet::name).chain(["all"]).map(|name| format!("{name}.pdf")).collect();
    wanted.sort();
    assert_eq!(names, wanted);
    assert!(names.contains(&"wash-card.pdf".to_owned()) && names.contains(&"reorder-note.pdf".to_owned()));
}

#[test]
fn the_same_plan_gives_the_same_bytes_alone_among_others_again_and_in_another_folder() {
    let top = folder(&[
        ("a", SMALLEST),
        ("b", &SMALLEST.replace("200 g", "301 g")),
        ("c", &SMALLEST.replace("10 wpi", "14 wpi")),
    ]);
    let alone = wheelsheet(top.path(), &["build", "a", "--out", "alone"]);
    let together = wheelsheet(top.path(), &["build", "--out", "together"]);
    let again = wheelsheet(top.path(), &["build", "a", "--out", "alone-again"]);
    let elsewhere = folder(&[("a", SMALLEST)]);
    let moved = wheelsheet(elsewhere.path(), &["build", "--out", "out"]);
    for output in [&alone, &together, &again, &moved] {
        assert_eq!(code(output), 0, "{}", err(output));
    }
    // Whatever the files are, each is the same.
    let written = files(&top.path().join("alone"));
    assert!(written.len() > 8, "{written:?}");
    for name in written {
        let bytes = |top: &TempDir, folder: &str| fs::read(top.path().join(folder).join(&name)).expect("a sheet");
        let first = bytes(&top, "alone");
        let others = [bytes(&top, "together"), bytes(&top, "alone-again"), bytes(&elsewhere, "out")];
        assert!(others.iter().all(|other| *other == first), "{} differs", name.display());
    }
}

#[test]
fn comments_and_spacing_change_no_byte_of_a_sheet() {
    let spaced = SMALLEST.replace(" = ", "   =  ").replace("[yarn]", "\n\n# a comment\n[yarn]");
    let top = folder(&[("one/a", SMALLEST), ("two/a", &spaced)]);
    for side in ["one", "two"] {
        assert_eq!(code(&wheelsheet(top.path(), &["build", side, "--out", &format!("out-{side}")])), 0);
    }
    let bytes = |side: &str| fs::read(top.path().join(format!("out-{side}/a/all.pdf"))).expect("a sheet");
    assert!(bytes("one") == bytes("two"));
}

#[test]
fn a_bad_plan_writes_nothing_and_the_others_are_built() {
    let top = folder(&[("bad", &SMALLEST.replace("\"200 g\"", "200")), ("good", SMALLEST)]);
    let built = wheelsheet(top.path(), &["build"]);
    assert_eq!(code(&built), 1);
    let done = format!("good: {} files", without_a_log().count() + 1);
    assert!(err(&built).contains("error[missing-unit]") && err(&built).contains(&done), "{}", err(&built));
    assert!(!top.path().join("out/bad").exists());
}

#[test]
fn sheets_of_a_build_that_failed_are_left_as_they_were() {
    let top = folder(&[("a", SMALLEST)]);
    assert_eq!(code(&wheelsheet(top.path(), &["build"])), 0);
    let before = fs::read(top.path().join("out/a/overview.pdf")).expect("a sheet");
    fs::write(top.path().join("a/plan.toml"), SMALLEST.replace("plies = 2", "plies = 0")).expect("a plan");
    assert_eq!(code(&wheelsheet(top.path(), &["build"])), 1);
    assert!(fs::read(top.path().join("out/a/overview.pdf")).expect("the same sheet") == before);
}

#[test]
fn what_cannot_be_written_is_a_failure_of_the_machine_and_leaves_nothing_behind() {
    let top = folder(&[("a", SMALLEST)]);
    fs::write(top.path().join("out"), "in the way").expect("a file");
    let built = wheelsheet(top.path(), &["build", "a"]);
    assert_eq!(code(&built), 2, "{}", err(&built));
    assert!(err(&built).contains("cannot write"), "{}", err(&built));
    assert_eq!(files(top.path()), [PathBuf::from("a/plan.toml"), PathBuf::from("out")]);
}

#[test]
fn a_sheet_whose_place_is_taken_by_a_folder_leaves_no_half_written_file() {
    let top = folder(&[("a", SMALLEST)]);
    fs::create_dir_all(top.path().join("out/a/workings.pdf")).expect("a folder in the way");
    let built = wheelsheet(top.path(), &["build", "a"]);
    assert_eq!(code(&built), 2, "{}", err(&built));
    assert_eq!(files(&top.path().join("out")), Vec::<PathBuf>::new());
}

#[test]
fn nothing_is_written_outside_of_the_out_folder_whatever_a_project_is_called() {
    let top = folder(&[("...", SMALLEST), ("with space & \u{1b}[31m", SMALLEST), ("-rf", SMALLEST)]);
    let built = wheelsheet(top.path(), &["build", "--out", "sheets"]);
    assert_eq!(code(&built), 0, "{}", err(&built));
    for path in files(top.path()) {
        assert!(path.starts_with("sheets") || path.ends_with("plan.toml"), "{}", path.display());
    }
    assert!(!err(&built).contains('\u{1b}'), "{:?}", err(&built));
}

#[test]
fn one_sheet_can_be_built_alone_and_an_unknown_one_is_refused_with_the_list() {
    let top = folder(&[("a", SMALLEST)]);
    assert_eq!(code(&wheelsheet(top.path(), &["build", "--sheet", "wheel-card"])), 0);
    assert_eq!(files(&top.path().join("out")), [PathBuf::from("a/wheel-card.pdf")]);
    let refused = wheelsheet(top.path(), &["build", "--sheet", "wheelcard"]);
    assert_eq!(code(&refused), 2);
    assert!(err(&refused).contains("bobbin-checklist"), "{}", err(&refused));
}

#[test]
fn a_written_sheet_is_a_pdf_with_its_title() {
    let top = folder(&[("a", SMALLEST)]);
    assert_eq!(code(&wheelsheet(top.path(), &["build"])), 0);
    let bytes = fs::read(top.path().join("out/a/wheel-card.pdf")).expect("a sheet");
    let pdf = hayro_syntax::Pdf::new(bytes).expect("a PDF");
    assert_eq!(pdf.pages().len(), 2);
    let title = pdf.metadata().title.as_ref().expect("PDF/UA asks for a title").clone();
    assert!(String::from_utf8_lossy(&title).contains("First yarn"), "{title:?}");
}

#[test]
fn check_writes_nothing_and_ends_with_one_for_a_fault() {
    let top = folder(&[("a", SMALLEST), ("b", &SMALLEST.replace("wool", "woool"))]);
    let checked = wheelsheet(top.path(), &["check"]);
    assert_eq!(code(&checked), 1);
    assert!(err(&checked).contains("2 plans checked, 1 with errors"), "{}", err(&checked));
    assert_eq!(files(top.path()), [PathBuf::from("a/plan.toml"), PathBuf::from("b/plan.toml")]);
}

#[test]
fn messages_come_short_and_as_json_for_editors() {
    let top = folder(&[("b", &SMALLEST.replace("\"200 g\"", "200"))]);
    let short = err(&wheelsheet(top.path(), &["check", "-q", "--message-format", "short", "b"]));
    assert!(short.starts_with("b/plan.toml:5:10: error[missing-unit]: "), "{short}");
    let json = err(&wheelsheet(top.path(), &["check", "-q", "--message-format", "json", "b"]));
    let object: serde_json::Value = serde_json::from_str(json.lines().next().expect("a line")).expect("JSON");
    assert_eq!(object["code"], "missing-unit", "{json}");
}

#[test]
fn figures_are_one_a_line_and_read_back_from_json_and_csv() {
    let top = folder(&[("a", SMALLEST)]);
    let text = out(&wheelsheet(top.path(), &["figures", "a"]));
    let named: Vec<&str> = text.lines().filter_map(|line| line.split("  ").next()).collect();
    assert!(named.contains(&"singles.twist") && text.lines().all(|line| line.matches("  ").count() >= 2), "{text}");
    let json: serde_json::Value =
        serde_json::from_str(&out(&wheelsheet(top.path(), &["figures", "a", "--format", "json"]))).expect("JSON");
    let csv_text = out(&wheelsheet(top.path(), &["figures", "a", "--format", "csv"]));
    let mut csv = csv::Reader::from_reader(csv_text.as_bytes());
    let rows: Vec<csv::StringRecord> = csv.records().map(|row| row.expect("a row")).collect();
    assert_eq!(json.as_array().map(Vec::len), Some(named.len()));
    assert_eq!(rows.len(), named.len());
    assert_eq!(rows.iter().map(|row| row[0].to_owned()).collect::<Vec<_>>(), named);
}

#[test]
fn explain_leads_from_a_figure_back_to_the_line_of_the_plan() {
    let top = folder(&[("a", SMALLEST)]);
    let told = out(&wheelsheet(top.path(), &["explain", "washed.wraps", "a"]));
    assert!(told.contains("10 wpi") && told.contains("a/plan.toml:10"), "{told}");
    let fault = wheelsheet(top.path(), &["explain", "missing-unit"]);
    assert_eq!(code(&fault), 0);
    assert!(out(&fault).starts_with("# `missing-unit`"));
    let unknown = wheelsheet(top.path(), &["explain", "singles.twits", "a"]);
    assert_eq!(code(&unknown), 1);
    assert!(err(&unknown).contains("is singles.twist meant?"), "{}", err(&unknown));
}

#[test]
fn explain_goes_down_to_every_entry_that_a_figure_rests_on() {
    let top = folder(&[("a", SMALLEST)]);
    let told = out(&wheelsheet(top.path(), &["explain", "yarn.length", "a"]));
    let (_, rests_on) = told.split_once("rests on, with the part of its spread").expect("a list");
    assert!(rests_on.contains("200 g  (a/plan.toml:5)") && rests_on.contains("10 wpi  (a/plan.toml:10)"), "{told}");
    let shares = rests_on.lines().filter_map(|line| line.split_once(" %  ")?.0.trim().parse::<f64>().ok());
    assert!((shares.sum::<f64>() - 100.0).abs() < 0.5, "{told}");
    let part = wheelsheet(top.path(), &["explain", "singles.twist-", "a"]);
    assert!(err(&part).contains("there is singles.twist-at-wheel"), "{}", err(&part));
}

#[test]
fn every_figure_can_be_explained() {
    let top = folder(&[("a", SMALLEST)]);
    let text = out(&wheelsheet(top.path(), &["figures", "a"]));
    for name in text.lines().filter_map(|line| line.split("  ").next()) {
        let told = wheelsheet(top.path(), &["explain", name, "a"]);
        assert_eq!((code(&told), err(&told)), (0, String::new()), "{name}");
        assert!(out(&told).starts_with(&format!("{name}: ")), "{name}");
    }
}

#[test]
fn more_is_said_when_asked_and_nothing_beside_json() {
    let top = folder(&[("a", SMALLEST)]);
    assert!(err(&wheelsheet(top.path(), &["build", "-v", "a"])).contains("\n  out/a/overview.pdf\n"));
    assert_eq!(
        err(&wheelsheet(top.path(), &["check", "-v", "a"])),
        "a: 0 errors, 0 warnings\n1 plan checked, 0 with errors\n"
    );
    for command in ["check", "build"] {
        assert_eq!(err(&wheelsheet(top.path(), &[command, "--message-format", "json", "a"])), "");
        assert_eq!(err(&wheelsheet(top.path(), &[command, "-q", "a"])), "");
    }
}

#[test]
fn a_name_that_no_sheet_could_print_is_no_project() {
    let top = folder(&[]);
    for name in ["\u{1f9f6}", &"x".repeat(130), "a\"b", "..", "a\u{1b}[31m"] {
        let refused = wheelsheet(top.path(), &["new", name]);
        assert_eq!(code(&refused), 1, "{name:?}: {}", err(&refused));
        assert!(!err(&refused).contains('\u{1b}'), "{name:?}");
    }
    assert_eq!(files(top.path()), Vec::<PathBuf>::new());
}

#[test]
fn convert_gives_every_unit_or_one() {
    let top = folder(&[]);
    let one = wheelsheet(top.path(), &["convert", "1000 yd/lb", "tex"]);
    assert_eq!((code(&one), out(&one)), (0, "496.0546479 tex\n".to_owned()));
    let all = out(&wheelsheet(top.path(), &["convert", "1000 yd/lb"]));
    assert!(all.lines().count() > 10 && all.contains("worsted count"), "{all}");
    let bare = wheelsheet(top.path(), &["convert", "2/24", "tex"]);
    assert_eq!((code(&bare), out(&bare)), (1, String::new()));
}

#[test]
fn a_new_plan_builds_as_it_stands_and_is_never_overwritten() {
    let top = folder(&[]);
    for from in ["fibre", "garment", "yarn"] {
        assert_eq!(code(&wheelsheet(top.path(), &["new", from, "--from", from])), 0);
        let checked = wheelsheet(top.path(), &["check", from]);
        assert_eq!(code(&checked), 0, "{}", err(&checked));
        assert!(!err(&checked).contains("warning"), "{}", err(&checked));
    }
    let before = fs::read(top.path().join("yarn/plan.toml")).expect("a plan");
    assert_eq!(code(&wheelsheet(top.path(), &["new", "yarn"])), 1);
    assert!(fs::read(top.path().join("yarn/plan.toml")).expect("the same plan") == before);
}

#[test]
fn a_path_without_a_plan_is_a_failure_that_says_what_to_do() {
    let top = folder(&[]);
    let built = wheelsheet(top.path(), &["build"]);
    assert_eq!(code(&built), 2);
    assert!(err(&built).contains("wheelsheet new"), "{}", err(&built));
}

#[test]
fn a_reader_that_goes_away_ends_the_answer_quietly() {
    let top = folder(&[("a", SMALLEST)]);
    let mut child = Command::new(env!("CARGO_BIN_EXE_wheelsheet"))
        .current_dir(top.path())
        .args(["figures", "a"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the command starts");
    drop(child.stdout.take());
    let output = child.wait_with_output().expect("the command ends");
    assert_eq!((code(&output), err(&output)), (0, String::new()));
}

#[test]
fn help_and_version_are_answers() {
    let top = folder(&[]);
    for args in [["--help"].as_slice(), &["build", "--help"], &["--version"]] {
        let told = wheelsheet(top.path(), args);
        assert_eq!(code(&told), 0);
        assert!(out(&told).contains("wheelsheet") && err(&told).is_empty(), "{args:?}");
    }
}

/// A sheet that a plan does not have is said to be missing, and asked for by itself it is there where the log has something for it.
#[test]
fn the_sheet_of_samples_is_there_where_the_log_has_some() {
    let top = folder(&[("with", SMALLEST), ("without", SMALLEST)]);
    let sample = "[[sample]]\nname = \"first\"\ndate = 2026-03-05\nskein = { wraps = \"10 wpi\" }\n";
    fs::write(top.path().join("with/log.toml"), sample).expect("a log");
    let built = wheelsheet(top.path(), &["build", "--sheet", "samples"]);
    assert_eq!(code(&built), 0, "{}", err(&built));
    assert!(err(&built).contains("without: no samples, since its log has nothing for it"), "{}", err(&built));
    assert_eq!(files(&top.path().join("out")), [Path::new("with/samples.pdf")]);
}
