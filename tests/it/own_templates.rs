//! Templates of one's own: the shipped ones as files, what they may read, and what is said of those that are broken.

use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;
use tempfile::TempDir;
use wheelsheet::document::{self, Sheet};

use super::cli::{SMALLEST, code, err, files, folder, out, wheelsheet};
use super::golden::projects;

/// A folder with one project and the templates in `own`.
fn with_templates() -> TempDir {
    let top = folder(&[("a", SMALLEST)]);
    assert_eq!(code(&wheelsheet(top.path(), &["templates", "own"])), 0);
    top
}

fn bytes(top: &Path, file: &str) -> Vec<u8> {
    fs::read(top.join(file)).unwrap_or_else(|cause| panic!("{file}: {cause}"))
}

#[test]
fn an_unchanged_copy_gives_the_bytes_of_the_shipped_ones() {
    let top = with_templates();
    assert_eq!(code(&wheelsheet(top.path(), &["build", "--out", "shipped", "--per-page", "2"])), 0);
    let built = wheelsheet(top.path(), &["build", "--templates", "own", "--out", "copied", "--per-page", "2"]);
    assert_eq!(code(&built), 0, "{}", err(&built));
    let made = files(&top.path().join("shipped"));
    assert!(made.len() > 5 && made == files(&top.path().join("copied")));
    for file in made {
        assert!(
            fs::read(top.path().join("shipped").join(&file)).expect("a sheet")
                == fs::read(top.path().join("copied").join(&file)).expect("a sheet"),
            "{}",
            file.display()
        );
    }
}

#[test]
fn a_changed_template_changes_its_sheet() {
    let top = with_templates();
    let path = top.path().join("own/sheets/wheel-card.typ");
    let changed =
        fs::read_to_string(&path).expect("a template").replace("for sitting down to spin", "before the first treadle");
    fs::write(&path, changed).expect("a template");
    let args = ["build", "--sheet", "wheel-card", "--sheet", "key", "--out"];
    assert_eq!(code(&wheelsheet(top.path(), &[args.as_slice(), &["shipped"]].concat())), 0);
    assert_eq!(code(&wheelsheet(top.path(), &[args.as_slice(), &["mine", "--templates", "own"]].concat())), 0);
    let differs =
        |name: &str| bytes(top.path(), &format!("shipped/a/{name}")) != bytes(top.path(), &format!("mine/a/{name}"));
    assert!(differs("wheel-card.pdf") && !differs("key.pdf"));
}

#[test]
fn the_templates_are_written_whole_and_never_over_what_is_someone_elses() {
    let top = with_templates();
    let own = top.path().join("own");
    let mut shipped: Vec<PathBuf> = document::shipped().into_iter().map(|(path, _)| path.into()).collect();
    shipped.sort();
    assert_eq!(files(&own), shipped);
    assert!(String::from_utf8(bytes(&own, "fonts/OFL.txt")).expect("text").contains("SIL OPEN FONT LICENSE"));
    fs::remove_file(own.join("style.typ")).expect("removed");
    assert_eq!(code(&wheelsheet(top.path(), &["templates", "own"])), 0, "what is missing is written again");
    assert_eq!(files(&own), shipped);
    for path in ["own/lib.typ", "own/notes.txt", "own/sheets/mine.typ"] {
        let before = bytes(top.path(), "own/style.typ");
        fs::write(top.path().join(path), "// mine\n").expect("changed or added");
        fs::remove_file(own.join("style.typ")).expect("removed");
        let refused = wheelsheet(top.path(), &["templates", "own"]);
        assert_eq!(code(&refused), 1, "{path}");
        assert!(err(&refused).contains(&format!("{path} is not as this program writes it")), "{}", err(&refused));
        assert!(!own.join("style.typ").exists(), "{path}: nothing is written");
        fs::write(own.join("style.typ"), before).expect("as it was");
        fs::remove_file(top.path().join(path)).expect("removed");
        assert_eq!(code(&wheelsheet(top.path(), &["templates", "own"])), 0, "{path}");
    }
    assert_eq!(code(&wheelsheet(top.path(), &["templates", "a/plan.toml"])), 1);
    assert_eq!(bytes(top.path(), "a/plan.toml"), SMALLEST.as_bytes());
}

/// Breaks the copy in one way, and gives what a build then says, which has to be a failure that writes nothing.
fn said_of(file: &str, change: impl Fn(String) -> String, args: &[&str]) -> String {
    let top = with_templates();
    let path = top.path().join("own").join(file);
    fs::write(&path, change(fs::read_to_string(&path).expect("a template"))).expect("a template");
    let built = wheelsheet(top.path(), &[&["build", "--templates", "own"], args].concat());
    assert_eq!(code(&built), 2, "{file}: {}", err(&built));
    assert!(!top.path().join("out").exists(), "{file}: something was written");
    let told = err(&built);
    assert!(told.starts_with("error: a: the templates in own cannot be used as they are\n"), "{told}");
    assert!(!told.contains("internal"), "{told}");
    told
}

#[test]
fn a_page_too_large_for_a_picture_is_told_before_it_fills_the_memory() {
    let huge = |_| "#let wheel-card(data) = { set page(width: 2100cm, height: 2970cm); [x] }\n".to_owned();
    let told = said_of(CARD, huge, &["--sheet", "wheel-card", "--format", "png"]);
    assert!(told.contains("is too large for a PNG: make it smaller, or use --ppi"), "{told}");
}

const CARD: &str = "sheets/wheel-card.typ";

/// A template in place of that of the wheel card.
fn card(text: &'static str) -> impl Fn(String) -> String {
    move |_| text.to_owned()
}

#[test]
fn a_broken_template_is_told_at_its_place_in_the_users_own_file() {
    let cases: [(&str, &str, &str); 8] = [
        ("#let wheel-card(data) = {\n  let x = (\n}\n", "unclosed delimiter", "own/sheets/wheel-card.typ:2:11"),
        (
            "#let wheel-card(data) = data.no-such-key",
            "does not contain key \"no-such-key\"",
            "own/sheets/wheel-card.typ:1:30",
        ),
        (
            "#let wheel-card(data) = text(font: \"Nowhere Sans\")[x]",
            "IBM Plex Sans, regular and bold",
            "own/sheets/wheel-card.typ:1:36",
        ),
        ("#let wheel-card(data) = [#strong[**]]", "a warning is enough", "own/sheets/wheel-card.typ:1:34"),
        (
            "#let wheel-card(data) = image(\"knot.png\")",
            "searched at own/sheets/knot.png",
            "own/sheets/wheel-card.typ:1:31",
        ),
        ("#let wheel-card(data) = read(\"../../a/plan.toml\")", "would escape", "own/sheets/wheel-card.typ:1:30"),
        ("#let wheel-card(data) = datetime.today().display()", "current date", "own/sheets/wheel-card.typ:1:25"),
        ("#let f(x) = f(x)\n#let wheel-card(data) = f(1)", "depth exceeded", "own/sheets/wheel-card.typ:1:13"),
    ];
    for (text, says, at) in cases {
        let told = said_of(CARD, card(text), &[]);
        assert!(told.contains(says) && told.contains(at), "{told}");
        assert!(!told.contains("--root"), "{told}");
    }
}

#[test]
fn a_page_that_no_screen_reader_could_read_is_told_at_its_place() {
    let text = "#import \"../components/index.typ\": *\n#let wheel-card(data) = sheet(data.page, slug: \"wheel-card\", name: \"Card\", part: \"all\", {\n  figure(rect())\n})\n";
    let told = said_of(CARD, card(text), &[]);
    assert!(told.contains("missing alt text") && told.contains("own/sheets/wheel-card.typ:3:3"), "{told}");
}

#[test]
fn what_leads_to_a_fault_is_told_from_the_inside_out() {
    let told = said_of(CARD, card("#let f(x) = x.y\n#let wheel-card(data) = f(data)"), &[]);
    let (inner, outer) = (
        "while calling `f` at own/sheets/wheel-card.typ:2:25",
        "while calling `wheel-card` at main.typ (made by wheelsheet):3:2",
    );
    let found = (told.find(inner), told.find(outer));
    assert!(found.0.is_some() && found.0 < found.1, "{told}");
}

#[test]
fn what_the_program_calls_and_lib_has_not_is_told() {
    let without = |name: &'static str| {
        move |text: String| text.lines().filter(|line| !line.contains(name)).collect::<Vec<_>>().join("\n")
    };
    let told = said_of("lib.typ", without("wheel-card"), &[]);
    assert!(told.contains("unknown variable: wheel-card") && told.contains("lib.typ has to have it"), "{told}");
    let told = said_of("lib.typ", without("several"), &["--per-page", "4"]);
    assert!(told.contains("several-to-a-page") && told.contains("lib.typ has to have it"), "{told}");
    let told = said_of(
        "components/several.typ",
        |text| text + "#let several-to-a-page(data) = { pagebreak(); pagebreak() }\n",
        &["--per-page", "2"],
    );
    assert!(told.contains("exactly one page"), "{told}");
    let top = folder(&[("a", SMALLEST)]);
    let built = wheelsheet(top.path(), &["build", "--templates", "nowhere"]);
    assert_eq!(code(&built), 2);
    assert!(
        err(&built).contains("there is no lib.typ in nowhere") && !top.path().join("out").exists(),
        "{}",
        err(&built)
    );
}

#[test]
fn a_fault_of_a_shipped_template_stays_internal() {
    let fault = document::fault(&document::Templates::Shipped, &[]);
    assert!(fault.to_string().starts_with("internal: template"), "{fault}");
}

/// What of some data its schema does not tell of, or tells otherwise.
fn untold(data: &Value, schema: &Value, definitions: &Value, place: &str, faults: &mut Vec<String>) {
    if let Some(name) = schema["$ref"].as_str().and_then(|path| path.rsplit('/').next()) {
        return untold(data, &definitions[name], definitions, place, faults);
    }
    if let Some(either) = schema["anyOf"].as_array() {
        let is_null = |one: &&Value| one["type"] == "null";
        let fits = either.iter().find(|one| is_null(one) == data.is_null());
        return match fits {
            Some(one) => untold(data, one, definitions, place, faults),
            None => faults.push(format!("{place}: {data}")),
        };
    }
    match data {
        Value::Object(keys) => {
            let told = schema["properties"].as_object().cloned().unwrap_or_default();
            if !keys.keys().eq(told.keys()) {
                faults.push(format!(
                    "{place}: {:?} and not {:?}",
                    keys.keys().collect::<Vec<_>>(),
                    told.keys().collect::<Vec<_>>()
                ));
            }
            for (key, value) in keys {
                untold(
                    value,
                    &told.get(key).cloned().unwrap_or_default(),
                    definitions,
                    &format!("{place}.{key}"),
                    faults,
                );
            }
        }
        Value::Array(items) => items.iter().for_each(|item| untold(item, &schema["items"], definitions, place, faults)),
        plain => {
            let kind = match plain {
                Value::String(_) => "string",
                Value::Number(_) => "number",
                Value::Bool(_) => "boolean",
                _ => "null",
            };
            let kinds: Vec<&str> = match &schema["type"] {
                Value::Array(kinds) => kinds.iter().filter_map(Value::as_str).collect(),
                one => one.as_str().into_iter().collect(),
            };
            let is_word =
                schema["oneOf"].as_array().is_some_and(|words| words.iter().any(|word| word["const"] == *plain));
            let fits = kinds.iter().any(|of| of.replace("integer", "number") == kind);
            if !is_word && !fits {
                faults.push(format!("{place}: {plain} is no {kinds:?}"));
            }
        }
    }
}

#[test]
fn the_records_of_every_project_are_as_their_schemas_tell() {
    let mut faults = Vec::new();
    for (name, _, worked) in projects() {
        let sheets = wheelsheet::sheets(&worked);
        for sheet in sheets.present() {
            let data: Value = serde_json::from_slice(&document::data(&sheets, sheet)).expect("JSON");
            let schema = sheet.schema();
            untold(&data, &schema, &schema["$defs"], &format!("{name}: {}", sheet.name()), &mut faults);
        }
    }
    assert_eq!(faults, Vec::<String>::new());
    let schema = Sheet::Key.schema();
    untold(&serde_json::json!({ "page": 1, "knot": 2 }), &schema, &schema["$defs"], "key", &mut faults);
    assert!(faults.len() >= 2, "the check sees what is wrong: {faults:?}");
}

#[test]
fn fields_tell_the_meaning_of_every_key_and_word() {
    let fields = document::fields();
    for sheet in Sheet::ALL {
        let schema = sheet.schema();
        let heading = format!("\n## {}\n", sheet.name());
        assert_eq!(fields.matches(&heading).count(), 1, "{}", sheet.name());
        let (_, told) = fields.split_once(&heading).expect("found above");
        let told = told.split("\n## ").next().expect("a section");
        for key in schema["properties"].as_object().expect("keys").keys() {
            assert!(told.contains(&format!("\n| `{key}` | ")), "{}: {key}", sheet.name());
        }
        for record in schema["$defs"].as_object().expect("records").keys() {
            assert_eq!(fields.matches(&format!("\n## {record}\n")).count(), 1, "{record}");
        }
    }
    let rows: Vec<&str> = fields.lines().filter(|line| line.starts_with("| `")).collect();
    assert!(rows.len() > 300, "{}", rows.len());
    let empty: Vec<&&str> = rows.iter().filter(|row| row.trim_end().ends_with("|  |")).collect();
    assert!(empty.is_empty(), "without a meaning: {empty:?}");
}

#[test]
fn schemas_are_printed_for_editors() {
    let top = folder(&[]);
    for (args, key) in [
        (["schema"].as_slice(), "yarn"),
        (&["schema", "plan"], "wheel"),
        (&["schema", "log"], "sample"),
        (&["schema", "wheel-card"], "cards"),
    ] {
        let printed = wheelsheet(top.path(), args);
        assert_eq!(code(&printed), 0, "{}", err(&printed));
        let schema: Value = serde_json::from_str(&out(&printed)).expect("JSON");
        assert!(schema["$schema"].is_string() && schema["properties"][key].is_object(), "{args:?}: {schema}");
    }
    let unknown = wheelsheet(top.path(), &["schema", "cards"]);
    assert_eq!(code(&unknown), 2);
    assert!(err(&unknown).contains("expected plan, log or a sheet: overview, "), "{}", err(&unknown));
}
