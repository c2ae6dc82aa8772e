//! Rules of this code base that no compiler knows.

use std::fs;
use std::path::{Path, PathBuf};

/// Stages from left to right; what is not listed stands below all of them.
const STAGES: [&str; 7] = ["source", "syntax", "check", "figures", "sheets", "document", "pages"];
const FOUNDATION: [&str; 3] = ["diagnostics", "plan", "units"];

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Text files below a folder by their ending, sorted; there is always one.
fn files(folder: &str, ending: &str) -> Vec<(PathBuf, String)> {
    let mut found: Vec<(PathBuf, String)> = walkdir::WalkDir::new(root().join(folder))
        .into_iter()
        .filter_map(Result::ok)
        .filter(|entry| entry.path().extension().is_some_and(|found| found == ending))
        .map(|entry| {
            let text = fs::read_to_string(entry.path()).expect("a source file");
            (entry.path().strip_prefix(root()).expect("below the root").to_owned(), text)
        })
        .collect();
    found.sort();
    assert!(!found.is_empty(), "no {ending} in {folder}");
    found
}

/// The stage that a path of `src` belongs to.
fn stage(path: &Path) -> String {
    let name = path.components().nth(1).expect("a file in src").as_os_str().to_string_lossy().into_owned();
    name.trim_end_matches(".rs").to_owned()
}

/// Names of modules that a text takes from the crate, whether in `use` or in place.
fn taken(text: &str) -> Vec<String> {
    let code: String = text.lines().filter(|line| !line.trim_start().starts_with("//")).collect::<Vec<_>>().join("\n");
    let mut found = Vec::new();
    for (at, _) in code.match_indices("crate::") {
        let rest = &code[at + "crate::".len()..];
        match rest.strip_prefix('{') {
            Some(list) => {
                let list = list.split('}').next().unwrap_or_default();
                found.extend(list.split(',').filter_map(|item| item.trim().split("::").next()).map(str::to_owned));
            }
            None => found.push(rest.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect()),
        }
    }
    found.retain(|name| !name.is_empty());
    found
}

/// Whether a file of one module may use another.
fn may_use(of: &str, other: &str) -> bool {
    let place = |name: &str| STAGES.iter().position(|stage| *stage == name);
    match (place(of), place(other)) {
        _ if of == other => true,
        (Some(of), Some(other)) => other < of,
        (Some(_), None) => FOUNDATION.contains(&other),
        (None, Some(_)) => !FOUNDATION.contains(&of),
        (None, None) => true,
    }
}

#[test]
fn a_stage_imports_only_from_its_left() {
    let mut backward = Vec::new();
    for (path, text) in files("src", "rs") {
        let of = stage(&path);
        if ["lib", "main", "cli"].contains(&of.as_str()) {
            continue;
        }
        backward.extend(
            taken(&text)
                .into_iter()
                .filter(|other| !may_use(&of, other))
                .map(|other| format!("{}: {other}", path.display())),
        );
    }
    assert_eq!(backward, Vec::<String>::new());
}

#[test]
fn the_check_of_imports_sees_a_backward_one() {
    assert!(
        !may_use("figures", "sheets")
            && !may_use("units", "figures")
            && !may_use("syntax", "lib")
            && !may_use("plan", "check")
    );
    assert!(may_use("sheets", "figures") && may_use("check", "units") && may_use("figures", "figures"));
    assert_eq!(
        taken("use crate::units::Kind;\nuse crate::{plan, sheets::marks};\n// crate::x"),
        ["units", "plan", "sheets"]
    );
}

/// Lines of a template that are no comment, with their numbers.
fn code(text: &str) -> impl Iterator<Item = (usize, &str)> {
    text.lines().enumerate().filter(|(_, line)| !line.trim_start().starts_with("//")).map(|(at, line)| (at + 1, line))
}

/// Whether a text has a word that opens a bracket, standing by itself: `rect(` but not `direct(`.
fn calls(line: &str, function: &str) -> usize {
    line.match_indices(&format!("{function}("))
        .filter(|(at, _)| !line[..*at].ends_with(|c: char| c.is_alphanumeric() || c == '-' || c == '.'))
        .count()
}

#[test]
fn tables_have_headers_and_drawings_have_words() {
    let mut faults = Vec::new();
    for (path, text) in files("templates", "typ") {
        let headers = text.matches("table.header(").count();
        if code(&text).map(|(_, line)| calls(line, "table")).sum::<usize>() > headers {
            faults.push(format!("{}: a table without table.header", path.display()));
        }
        for (number, line) in code(&text) {
            let is_bare = ["rect", "circle", "ellipse", "polygon", "curve", "image", "path"]
                .iter()
                .any(|shape| calls(line, shape) > 0);
            if path.starts_with("templates/sheets") && is_bare {
                faults.push(format!("{}:{number}: a drawing outside of a component", path.display()));
            }
            if calls(line, "figure") > 0 && !line.contains("alt:") {
                faults.push(format!("{}:{number}: a figure without alt", path.display()));
            }
        }
    }
    assert_eq!(faults, Vec::<String>::new());
}

/// The first length or colour that is written out in a line of a template, other than nothing and parts of the whole.
fn literal_style(line: &str) -> Option<String> {
    for colour in ["rgb(", "luma(", "oklch(", "oklab(", "cmyk(", "color.hsl("] {
        let given = line.split_once(colour).and_then(|(_, rest)| rest.chars().next());
        if given.is_some_and(|c| c.is_ascii_digit() || c == '"') {
            return Some(colour.to_owned());
        }
    }
    let is_inside = |c: char| c.is_alphanumeric() || c == '.' || c == '-';
    line.split(|c: char| !is_inside(c)).find_map(|word| {
        let digits = word.trim_start_matches('-');
        let number: String = digits.chars().take_while(|c| c.is_ascii_digit() || *c == '.').collect();
        let is_length = ["pt", "mm", "cm", "em", "in"].contains(&&digits[number.len()..]);
        (is_length && number.parse::<f64>().is_ok_and(|number| number > 0.0)).then(|| word.to_owned())
    })
}

#[test]
fn lengths_and_colours_stand_in_the_style_alone() {
    let mut faults = Vec::new();
    for (path, text) in files("templates", "typ").into_iter().filter(|(path, _)| !path.ends_with("style.typ")) {
        for (number, line) in code(&text) {
            let literal = literal_style(line);
            faults.extend(literal.map(|literal| format!("{}:{number}: {literal}", path.display())));
        }
    }
    assert_eq!(faults, Vec::<String>::new());
}

#[test]
fn the_checks_of_templates_see_what_they_look_for() {
    assert_eq!(literal_style("  h(1.2mm)").as_deref(), Some("1.2mm"));
    assert_eq!(literal_style("fill: rgb(\"#fff\")").as_deref(), Some("rgb("));
    assert_eq!(literal_style("block(above: 0pt, width: 100%, height: 1fr, w.near)"), None);
    assert_eq!((calls("direct(rect(", "rect"), calls("table.header(", "table"), calls("a-table(", "table")), (1, 0, 0));
}

#[test]
fn templates_draw_and_do_not_calculate() {
    let mut faults = Vec::new();
    for (path, text) in files("templates", "typ") {
        let is_sheet = path.starts_with("templates/sheets");
        for (number, line) in text.lines().enumerate().filter(|(_, line)| !line.trim_start().starts_with("//")) {
            let bad = ["eval(", "datetime.today", "sys.inputs", "@preview", ".at(\"", "plugin("]
                .iter()
                .find(|bad| line.contains(**bad));
            let on_data = line.contains("data.")
                && (line.contains("calc.") || line.contains(" * data.") || line.contains(" / data."));
            let calculates = is_sheet && (on_data || line.contains("float(") || line.contains("int(data"));
            if bad.is_some() || calculates {
                faults.push(format!("{}:{}: {}", path.display(), number + 1, line.trim()));
            }
        }
    }
    assert_eq!(faults, Vec::<String>::new());
}

#[test]
fn the_binary_has_every_template_and_font() {
    let shipped: Vec<&str> = wheelsheet::document::TEMPLATES.iter().map(|(path, _)| *path).collect();
    for (path, text) in files("templates", "typ") {
        let name = path.strip_prefix("templates").expect("below").to_string_lossy().replace('\\', "/");
        let found = wheelsheet::document::TEMPLATES.iter().find(|(path, _)| *path == name);
        assert_eq!(found.map(|(_, text)| *text), Some(text.as_str()), "{name} is not in src/document/shelf.rs");
    }
    assert_eq!(shipped.len(), files("templates", "typ").len());
    let fonts = fs::read_dir(root().join("templates/fonts")).expect("fonts").filter_map(Result::ok);
    let fonts = fonts.filter(|entry| entry.path().extension().is_some_and(|ending| ending == "ttf")).count();
    assert_eq!(wheelsheet::document::FONTS.len(), fonts);
}

#[test]
fn every_file_says_what_it_is_for() {
    for (path, text) in files("src", "rs") {
        assert!(text.starts_with("//!"), "{} does not open with what it is for", path.display());
    }
    for (path, text) in files("templates", "typ") {
        assert!(text.starts_with("//"), "{} does not open with what it draws", path.display());
    }
}

#[test]
fn nothing_is_left_for_later_and_no_lint_is_muted() {
    let marks = [
        "to".to_owned() + "do!(",
        "un".to_owned() + "implemented!(",
        "db".to_owned() + "g!(",
        "#[ig".to_owned() + "nore",
        "#[al".to_owned() + "low(",
    ];
    for folder in ["src", "tests"] {
        for (path, text) in files(folder, "rs") {
            for mark in &marks {
                assert!(!text.contains(mark.as_str()), "{}: {mark}", path.display());
            }
        }
    }
}
