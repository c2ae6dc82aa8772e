//! `wheelsheet log` by the real binary: what it adds, what it refuses, and that no way of ending loses a byte of the
//! log.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Output, Stdio};
use std::thread::{scope, sleep};
use std::time::Duration;

use tempfile::TempDir;

use super::cli::{code, err, files, folder, out, wheelsheet};

/// Two-ply yarn of four bobbins.
const PLAN: &str = r#"[plan]
title = "Logged"
[fibre.wool]
kind = "wool"
weight = "200 g"
[wheel]
whorls = { slow = "6:1", fast = "8.5:1" }
bobbin-holds = "110 g"
[yarn]
plies = 2
grist = "950 yd/lb"
wraps = "10 wpi"
"#;

/// A log as hands leave it: comments, a line that ends in blanks, and no line end behind the last.
const LOG: &str = "# the winter yarn\n\n[[bobbin]]   # the first\nnumber = 1\ndate = 2026-03-01\nfull = \"96.0 g\"  \n\
                   empty = \"50.0 g\"\n\
                   check = { length = \"20 m\", weight = \"4.4 g\" }\n# to be plied soon";

fn project(log: Option<&str>) -> TempDir {
    let top = folder(&[("a", PLAN)]);
    if let Some(log) = log {
        fs::write(path(&top), log).expect("a log");
    }
    top
}

fn path(top: &TempDir) -> PathBuf {
    top.path().join("a/log.toml")
}

fn text(top: &TempDir) -> Option<String> {
    fs::read_to_string(path(top)).ok()
}

fn log(top: &TempDir, fields: &[&str]) -> Output {
    wheelsheet(top.path(), &[&["log", "--project", "a"], fields].concat())
}

/// The command while it runs.
fn begun(top: &Path, fields: &[&str]) -> Child {
    Command::new(env!("CARGO_BIN_EXE_wheelsheet"))
        .current_dir(top)
        .args([&["log", "--project", "a"], fields].concat())
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the command starts")
}

const SECOND: [&str; 5] = ["bobbin", "number=2", "date=2026-03-04", "check.length=20 m", "check.weight=4.8 g"];

#[test]
fn an_entry_stands_behind_all_that_was_there() {
    let top = project(Some(LOG));
    let added = log(&top, &SECOND);
    assert_eq!((code(&added), out(&added)), (0, String::new()), "{}", err(&added));
    let entry = "[[bobbin]]\nnumber = 2\ndate = 2026-03-04\ncheck = { length = \"20 m\", weight = \"4.8 g\" }\n";
    assert_eq!(text(&top), Some(format!("{LOG}\n\n{entry}")));
    // 4.8 is 4.3 % above 4.6, the middle of both.
    let told = "a/log.toml: one bobbin more\nbobbin 2 is 4 % heavier than the median; inside: ply it as it comes\n";
    assert_eq!(err(&added), told);
    let quiet = log(&top, &["note", "date=2026-03-05", "text=back at the wheel", "-q"]);
    assert_eq!((code(&quiet), err(&quiet)), (0, String::new()));
    assert_eq!(
        text(&top),
        Some(format!("{LOG}\n\n{entry}\n[[note]]\ndate = 2026-03-05\ntext = \"back at the wheel\"\n"))
    );
    assert_eq!(files(top.path()), [PathBuf::from("a/log.toml"), PathBuf::from("a/plan.toml")]);
}

#[test]
fn the_first_entry_begins_the_log() {
    let top = project(None);
    let added = log(&top, &["note", "date=2026-03-05", "text=begun"]);
    assert_eq!((code(&added), err(&added)), (0, "a/log.toml: one note more\n".to_owned()));
    assert_eq!(text(&top).as_deref(), Some("[[note]]\ndate = 2026-03-05\ntext = \"begun\"\n"));
}

/// Kinds of entries that this plan has something for; strips ask for braids, and weighings for a garment.
#[test]
fn each_kind_is_taken_by_its_name() {
    let top = project(Some(LOG));
    for fields in [
        &["sample", "name=first", "date=2026-02-20", "skein.wraps=10 wpi"][..],
        &SECOND,
        &["skein", "number=1", "date=2026-03-08", "bobbins=[1, 2]", "loops=40", "washed-loop=1.42 m", "weight=29 g"],
        &["note", "date=2026-03-09", "text=done"],
    ] {
        let added = log(&top, fields);
        assert_eq!(code(&added), 0, "{fields:?}: {}", err(&added));
        assert!(err(&added).contains(&format!("a/log.toml: one {} more\n", fields[0])), "{}", err(&added));
    }
}

/// What is refused leaves the log to the byte, and says what to do.
#[test]
fn what_is_refused_is_said_and_nothing_is_written() {
    let weights = ["full=96 g", "empty=50 g"];
    let bobbin = |more: &[&'static str]| [&["bobbin"][..], more].concat();
    let cases: [(Vec<&str>, i32, &[&str]); 12] = [
        (vec!["bobin", "number=2"], 2, &["invalid value 'bobin'", "'bobbin'"]),
        (
            bobbin(&["number=2", "date=2026-03-04", "ful=96 g", "empty=50 g"]),
            1,
            &["error[unknown-key]", "is `full` meant?"],
        ),
        (
            bobbin(&["number=2", "date=2026-03-04", "full=96", "empty=50 g"]),
            1,
            &["error[missing-unit]", "log.toml, with the new entry:14:8", "write `full = \"96 g\"`"],
        ),
        (bobbin(&["number=2", "date=2026-03-04", "full=96 m", "empty=50 g"]), 1, &["error[wrong-kind]"]),
        (
            bobbin(&["number=2", "date=2026-03-04", "full=50 g", "empty=96 g"]),
            1,
            &["error[does-not-add-up]", "are the two exchanged?"],
        ),
        (
            bobbin(&[&["number=1", "date=2026-03-04"], &weights[..]].concat()),
            1,
            &["error[duplicate-name]", "logged here"],
        ),
        (
            bobbin(&[&["number=9", "date=2026-03-04"], &weights[..]].concat()),
            1,
            &["error[unknown-name]", "one of the 4 bobbins of the plan, found 9"],
        ),
        (bobbin(&[&["number=2"], &weights[..]].concat()), 1, &["`date`: expected the day", "date=2026-03-12"]),
        (bobbin(&["number=2", "date=2026-03-04", "full=96", "g", "empty=50 g"]), 1, &["argument 4", "\"full=96 g\""]),
        (
            vec![
                "skein",
                "number=1",
                "date=2026-03-08",
                "bobbins=[1, 3]",
                "loops=40",
                "washed-loop=1.42 m",
                "weight=38 g",
            ],
            1,
            &["error[unknown-name]", "a bobbin of the log, found 3"],
        ),
        (
            vec![
                "skein",
                "number=1",
                "date=2026-03-08",
                "bobbins=[1]",
                "loops=40",
                "washed-loop=1.42 m",
                "weight=38 g",
            ],
            1,
            &["error[plies-differ]", "a skein of 2 bobbins, found 1"],
        ),
        (vec!["note", "date=2026-03-08"], 1, &["error["]),
    ];
    let top = project(Some(LOG));
    for (fields, ended, told) in cases {
        let refused = log(&top, &fields);
        assert_eq!((code(&refused), out(&refused)), (ended, String::new()), "{fields:?}: {}", err(&refused));
        for told in told {
            assert!(err(&refused).contains(told), "{fields:?} is not told {told:?}: {}", err(&refused));
        }
        assert_eq!(text(&top).as_deref(), Some(LOG), "{fields:?}");
        assert!(!err(&refused).contains("one bobbin more"), "{}", err(&refused));
    }
    assert_eq!(files(top.path()), [PathBuf::from("a/log.toml"), PathBuf::from("a/plan.toml")]);
}

#[test]
fn the_project_is_one_and_is_there() {
    let top = folder(&[("a", PLAN), ("b", PLAN)]);
    let entry = ["note", "date=2026-03-05", "text=begun"];
    let of_two = wheelsheet(top.path(), &[&["log"], &entry[..]].concat());
    assert_eq!(code(&of_two), 1);
    assert!(err(&of_two).contains("expected one plan, found 2; name its folder with --project"), "{}", err(&of_two));
    let of_none = wheelsheet(top.path(), &[&["log", "--project", "c"], &entry[..]].concat());
    assert_eq!((code(&of_none), err(&of_none)), (2, "error: c does not exist\n".to_owned()));
    assert_eq!(files(top.path()), [PathBuf::from("a/plan.toml"), PathBuf::from("b/plan.toml")]);
}

/// A fault that was there before is no reason to refuse what was measured, but one of form is: the entry might hide in
/// it.
#[test]
fn a_log_that_is_faulty_already() {
    let faulty = format!("{LOG}\n\n[[bobbin]]\nnumber = 2\ndate = 2026-03-02\nfull = \"50.0 g\"\nempty = \"96.0 g\"\n");
    let top = project(Some(&faulty));
    let added = log(&top, &["note", "date=2026-03-05", "text=odd"]);
    assert_eq!(code(&added), 1, "{}", err(&added));
    assert_eq!(text(&top), Some(format!("{faulty}\n[[note]]\ndate = 2026-03-05\ntext = \"odd\"\n")), "{}", err(&added));
    let unreadable = format!("{LOG}\n\n[[bobbin]\nnumber = 2\n");
    let top = project(Some(&unreadable));
    let refused = log(&top, &["note", "date=2026-03-05", "text=odd"]);
    assert_eq!(code(&refused), 1);
    assert!(err(&refused).contains("the log has a fault of form; mend it first"), "{}", err(&refused));
    assert_eq!(text(&top), Some(unreadable));
}

/// The program goes by the marks and not by what the system lets it do, so that this holds for whoever may do
/// everything as well.
#[cfg(unix)]
#[test]
fn what_is_read_only_stays_as_it_is() {
    use std::os::unix::fs::PermissionsExt;
    let set_mode =
        |path: &Path, mode| fs::set_permissions(path, fs::Permissions::from_mode(mode)).expect("permissions");
    let top = project(Some(LOG));
    for (closed, mode, open, told) in [
        (path(&top), 0o444, 0o644, "a/log.toml is read-only; nothing was written"),
        (top.path().join("a"), 0o555, 0o755, "a is read-only; nothing was written"),
    ] {
        set_mode(&closed, mode);
        let refused = log(&top, &SECOND);
        set_mode(&closed, open);
        assert_eq!((code(&refused), text(&top).as_deref()), (1, Some(LOG)), "{}", err(&refused));
        assert!(err(&refused).contains(told), "{}", err(&refused));
    }
    assert_eq!(files(top.path()), [PathBuf::from("a/log.toml"), PathBuf::from("a/plan.toml")]);
    assert_eq!(code(&log(&top, &SECOND)), 0, "and what is open again is written");
}

/// A log removed while the command works it out is not begun anew with the one entry. When the command reads is its own
/// affair, so it is tried with one pause after another until the removal comes between; whenever it comes, one of four
/// ends is right.
#[test]
fn a_log_that_vanishes_in_between_is_not_begun_anew() {
    const TRIES: u64 = 600;
    let mut ends: BTreeMap<&str, u64> = BTreeMap::new();
    for pause in 0..TRIES {
        let top = project(Some(LOG));
        let running = begun(top.path(), &SECOND);
        sleep(Duration::from_micros(250 * pause));
        fs::remove_file(path(&top)).expect("the log is there from beginning to end");
        let ended = running.wait_with_output().expect("the command ends");
        let (told, left) = (err(&ended), text(&top));
        let end = match (code(&ended), &left) {
            // It was gone before it was read, or between the look for it and the reading.
            (0, Some(begun)) if begun.starts_with("[[bobbin]]\nnumber = 2\n") => "before",
            (2, None) if told.contains("cannot read a/log.toml") => "while it was read",
            (1, None) if told.contains("a/log.toml was there when it was read and is gone; nothing was written") => {
                "between"
            }
            (0, None) if told.contains("one bobbin more") => "after",
            _ => panic!("after {pause} pauses: {ended:?}, {left:?}"),
        };
        *ends.entry(end).or_default() += 1;
        if end == "between" && pause > 0 {
            return;
        }
    }
    panic!("never in between: {ends:?}");
}

/// Whoever is refused is told so and tries again; what was said to be written is there once, and in whole entries.
#[test]
fn commands_at_the_same_time_lose_nothing() {
    const RUNS: usize = 4;
    const ENTRIES: usize = 6;
    let top = project(Some(LOG));
    let add = |said: &str| {
        let fields = ["note", "date=2026-03-05", &format!("text={said}")];
        loop {
            let ended = log(&top, &fields);
            match code(&ended) {
                0 => return,
                1 => assert!(
                    err(&ended).contains("was changed since it was read; nothing was written"),
                    "{}",
                    err(&ended)
                ),
                _ => panic!("{ended:?}"),
            }
        }
    };
    scope(|scope| {
        for run in 0..RUNS {
            scope.spawn(move || (0..ENTRIES).for_each(|i| add(&format!("entry {i} of run {run}"))));
        }
    });
    let whole = text(&top).expect("a log");
    let read: toml::Table = whole.parse().expect("whole entries");
    let mut said: Vec<&str> =
        read["note"].as_array().expect("notes").iter().map(|note| note["text"].as_str().expect("a text")).collect();
    said.sort_unstable();
    let mut wanted: Vec<String> =
        (0..RUNS).flat_map(|run| (0..ENTRIES).map(move |i| format!("entry {i} of run {run}"))).collect();
    wanted.sort_unstable();
    assert_eq!(said, wanted);
    assert!(whole.starts_with(LOG));
    assert_eq!(files(top.path()), [PathBuf::from("a/log.toml"), PathBuf::from("a/plan.toml")]);
}

/// Half of the runs are killed after one pause or another, half as soon as a file appears beside the log, which is
/// while they write.
#[test]
fn a_run_that_is_killed_leaves_the_old_log_or_the_new() {
    const RUNS: u64 = 160;
    let top = project(Some(LOG));
    let names = || fs::read_dir(top.path().join("a")).expect("a folder").count();
    let (mut n_old, mut n_new) = (0, 0);
    for run in 0..RUNS {
        let old = text(&top).expect("a log");
        let entry = format!("[[note]]\ndate = 2026-03-05\ntext = \"run {run}\"\n");
        let blank = if old.ends_with('\n') { "\n" } else { "\n\n" };
        let new = format!("{old}{blank}{entry}");
        let before = names();
        let mut running = begun(top.path(), &["-q", "note", "date=2026-03-05", &format!("text=run {run}")]);
        if run % 2 == 0 {
            sleep(Duration::from_micros(200 * run));
        } else {
            while names() == before && running.try_wait().expect("a child").is_none() {}
        }
        running.kill().expect("killed, or ended before");
        running.wait().expect("the command ended");
        match text(&top).expect("a log") {
            found if found == old => n_old += 1,
            found if found == new => n_new += 1,
            found => panic!("run {run} left neither the old log nor the new:\n{found}"),
        }
    }
    // The first is killed before it could do anything; one that is not killed comes to its end.
    assert!(n_old > 0, "{n_new} of {RUNS} runs came to their end");
    let old = text(&top).expect("a log");
    let last = log(&top, &["note", "date=2026-03-06", "text=the last"]);
    assert_eq!(code(&last), 0, "{}", err(&last));
    assert!(text(&top).is_some_and(|new| new.starts_with(&old) && new.ends_with("text = \"the last\"\n")));
    // What runs that were killed left beside the log is no part of the project; one at least is there.
    let half = &old[..old.len() / 2];
    fs::write(top.path().join("a/.tmpA1b2C3"), half).expect("half a log");
    let clean = folder(&[("a", PLAN)]);
    fs::write(path(&clean), text(&top).expect("a log")).expect("a log");
    for top in [&top, &clean] {
        let built = wheelsheet(top.path(), &["build", "--sheet", "skein-log", "--out", "out"]);
        assert_eq!(code(&built), 0, "{}", err(&built));
        assert_eq!(err(&built), "a: 1 file in out/a\n");
    }
    let sheet = |top: &TempDir| fs::read(top.path().join("out/a/skein-log.pdf")).expect("a sheet");
    assert!(sheet(&top) == sheet(&clean), "the sheet is of the log alone");
}
