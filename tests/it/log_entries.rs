//! Random fields and random logs: what is written reads back as what was meant, and what was there stays to the byte.

use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;
use proptest::sample::select;
use toml::{Table, Value};
use wheelsheet::syntax::entry::{append, entry, from_arguments};

/// The same cases every time, so that a run that fails can be repeated.
fn settings() -> ProptestConfig {
    let rng_seed = proptest::test_runner::RngSeed::Fixed(7);
    ProptestConfig { cases: 2000, failure_persistence: None, rng_seed, ..ProptestConfig::default() }
}

/// A value as an argument has it, and what it means.
type Said = (String, Value);

/// Characters of several scripts, with all that means something to TOML or to lists.
fn characters() -> impl Strategy<Value = char> {
    prop_oneof![
        4 => proptest::char::range(' ', '~'),
        2 => select(vec!['"', '\\', '\'', '#', '[', ']', '{', '}', ',', '=', '.', '-', '±', '½', 'ü', '羊', '🧶', '\u{a0}']),
        1 => proptest::char::range('\u{a1}', '\u{2000}'),
    ]
}

fn text() -> impl Strategy<Value = String> {
    vec(characters(), 1..12).prop_map(|characters| characters.into_iter().collect())
}

/// A text that is written as it is and taken for nothing else.
fn plain() -> impl Strategy<Value = Said> {
    let is_plain = |text: &String| {
        let is_number = text.trim_start_matches(['+', '-']).chars().all(|c| c.is_ascii_digit());
        let is_day = text.len() == 10 && text.chars().all(|c| c.is_ascii_digit() || c == '-');
        let is_closed =
            (text.starts_with('"') && text.ends_with('"')) || (text.starts_with('[') && text.ends_with(']'));
        let is_truth = text == "true" || text == "false";
        !text.is_empty() && text.trim() == text && !is_number && !is_day && !is_closed && !is_truth
    };
    text().prop_filter("taken for something else", is_plain).prop_map(|text| (text.clone(), Value::String(text)))
}

/// Any text, between quotation marks.
fn marked() -> impl Strategy<Value = Said> {
    let marked = |text: &str| format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""));
    text().prop_map(move |text| (marked(&text), Value::String(text)))
}

fn whole() -> impl Strategy<Value = Said> {
    prop_oneof![any::<i64>(), -20i64..200].prop_map(|number| (number.to_string(), Value::Integer(number)))
}

fn truth() -> impl Strategy<Value = Said> {
    any::<bool>().prop_map(|truth| (truth.to_string(), Value::Boolean(truth)))
}

/// Days by a calendar of the test's own.
fn day() -> impl Strategy<Value = Said> {
    let n_days = |year: u16, month: u8| match month {
        2 if year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400)) => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    };
    (1600u16..2400, 1u8..=12, 0u8..31).prop_map(move |(year, month, day)| {
        let day = day % n_days(year, month) + 1;
        let date = toml::value::Date { year, month, day };
        (format!("{year:04}-{month:02}-{day:02}"), Value::Datetime(date.into()))
    })
}

fn repeatable() -> impl Strategy<Value = Said> {
    prop_oneof![3 => plain(), 2 => marked(), 2 => whole()]
}

fn single() -> impl Strategy<Value = Said> {
    prop_oneof![6 => repeatable(), 1 => truth(), 1 => day()]
}

/// A list as it is written in one argument: texts between quotation marks, since a bare one may hold a comma.
fn list() -> impl Strategy<Value = Said> {
    let bare = "[a-z][a-z0-9 ]{0,5}[a-z0-9]".prop_filter("a truth", |text| text != "true" && text != "false");
    let bare = bare.prop_map(|text| (text.clone(), Value::String(text)));
    let item = (prop_oneof![marked(), whole(), truth(), day(), bare], select(vec!["", " "]));
    vec(item, 1..5).prop_map(|items| {
        let written: Vec<String> =
            items.iter().map(|((written, _), blank)| format!("{blank}{written}{blank}")).collect();
        let values = items.into_iter().map(|((_, value), _)| value).collect();
        (format!("[{}]", written.join(",")), Value::Array(values))
    })
}

/// The arguments of one field, each with the name that is put before the equals sign, and what they mean together.
#[derive(Debug, Clone)]
enum Meant {
    Once(Said),
    Again(Vec<Said>),
    Below(Vec<(String, Meant)>),
}

fn key() -> impl Strategy<Value = String> {
    prop_oneof![4 => "[a-z][a-z-]{0,6}", 1 => "[A-Za-z0-9_-]{1,6}", 1 => Just("date".to_owned())]
}

fn fields() -> impl Strategy<Value = Vec<(String, Meant)>> {
    let value = prop_oneof![
        4 => single().prop_map(Meant::Once),
        1 => list().prop_map(Meant::Once),
        1 => vec(repeatable(), 2..5).prop_map(Meant::Again),
    ];
    let meant = value.prop_recursive(3, 12, 4, |inner| vec((key(), inner), 1..4).prop_map(Meant::Below));
    vec((key(), meant), 0..7).prop_map(told_apart)
}

/// Only the first of each name, so that nothing is said twice.
fn told_apart(fields: Vec<(String, Meant)>) -> Vec<(String, Meant)> {
    let mut kept: Vec<(String, Meant)> = Vec::new();
    for (key, meant) in fields {
        let meant = if let Meant::Below(below) = meant { Meant::Below(told_apart(below)) } else { meant };
        if kept.iter().all(|(other, _)| *other != key) {
            kept.push((key, meant));
        }
    }
    kept
}

fn arguments(before: &str, fields: &[(String, Meant)], into: &mut Vec<(String, String)>) {
    for (key, meant) in fields {
        let field = format!("{before}{key}");
        match meant {
            Meant::Once((written, _)) => into.push((field, written.clone())),
            Meant::Again(all) => into.extend(all.iter().map(|(written, _)| (field.clone(), written.clone()))),
            Meant::Below(below) => arguments(&format!("{field}."), below, into),
        }
    }
}

fn meaning(fields: &[(String, Meant)]) -> Table {
    let value = |meant: &Meant| match meant {
        Meant::Once((_, value)) => value.clone(),
        Meant::Again(all) => Value::Array(all.iter().map(|(_, value)| value.clone()).collect()),
        Meant::Below(below) => Value::Table(meaning(below)),
    };
    fields.iter().map(|(key, meant)| (key.clone(), value(meant))).collect()
}

/// A log of statements that TOML allows, with the line ends, the mark and the end of file that editors leave.
fn log() -> impl Strategy<Value = String> {
    let comment = text().prop_map(|text| format!("# {text}"));
    let blank = select(vec!["", "", "  ", "\t"]).prop_map(str::to_owned);
    let entry = (select(vec!["sample", "strips", "weighing", "note"]), body(), option::of("# [a-z]{0,6}"))
        .prop_map(|(kind, body, comment)| format!("[[{kind}]] {}\n{body}", comment.unwrap_or_default()));
    let statement = prop_oneof![2 => comment, 2 => blank, 3 => entry];
    let ends = select(vec!["\n", "\n", "\r\n", "\r\n", "mixed"]);
    let tail = select(vec!["", "\n", "\n\n", "\n\n\n", "\n \t", "\n# end", "\n  \n"]);
    (option::weighted(0.15, Just('\u{feff}')), vec(statement, 0..7), ends, tail).prop_map(
        |(mark, statements, ends, tail)| {
            let text = format!("{}{tail}", statements.join("\n"));
            let text = if ends == "mixed" { every_other_end(&text) } else { text.replace('\n', ends) };
            mark.into_iter().chain(text.chars()).collect()
        },
    )
}

fn every_other_end(text: &str) -> String {
    let mut n = 0;
    let mut line_end = || {
        n += 1;
        if n % 2 == 0 { "\n" } else { "\r\n" }
    };
    text.split_inclusive('\n')
        .map(|line| line.strip_suffix('\n').map_or(line.into(), |l| format!("{l}{}", line_end())))
        .collect()
}

fn body() -> impl Strategy<Value = String> {
    let value = select(vec![
        "1 # one",
        "\"26 g\"",
        "'C:\\x'",
        "2026-03-12",
        "[\"26 g\",\n  # between\n  \"27 g\",\n]",
        "\"\"\"\na\n\n[[note]]\n\"\"\"",
        "'''\n# no comment\n'''",
        "{ loops = 3, loop = \"1.5 m\" }",
        "0.5",
    ]);
    vec(value, 0..4).prop_map(|values| {
        let lines: Vec<String> = values.iter().enumerate().map(|(i, value)| format!("key-{i} = {value}")).collect();
        lines.join("\n")
    })
}

/// What a text means, without the mark that some editors put first.
fn parsed(text: &str) -> Table {
    let text = text.trim_start_matches('\u{feff}');
    text.parse().unwrap_or_else(|error| panic!("{error}\n{text:?}"))
}

proptest! {
    #![proptest_config(settings())]

    #[test]
    fn an_entry_reads_back_as_it_was_meant(fields in fields()) {
        let mut given = Vec::new();
        arguments("", &fields, &mut given);
        let text = entry("bobbin", &given).map_err(|faults| TestCaseError::fail(format!("{faults:#?}")))?;
        let found = parsed(&text);
        let meant = meaning(&fields);
        prop_assert_eq!(&found["bobbin"], &Value::Array(vec![Value::Table(meant.clone())]), "{}", text);
        // The order of writing is that of the arguments.
        prop_assert!(found["bobbin"][0].as_table().expect("a table").keys().eq(meant.keys()));
        // The list of tables, each of its fields on one line, is what people write.
        prop_assert_eq!(text.lines().count(), 1 + fields.len());
    }

    #[test]
    fn a_log_keeps_every_byte(old in log(), fields in fields()) {
        let mut given = Vec::new();
        arguments("", &fields, &mut given);
        let entry = entry("bobbin", &given).map_err(|faults| TestCaseError::fail(format!("{faults:#?}")))?;
        let mut meant = parsed(&old);
        let new = append(&old, &entry);
        prop_assert!(new.starts_with(&old));
        meant.extend(parsed(&entry));
        prop_assert_eq!(parsed(&new), meant);
    }

    #[test]
    fn a_blank_line_and_the_line_ends_of_the_log(old in log()) {
        let new = append(&old, "[[bobbin]]\nnumber = 1\n");
        let added = &new[old.len()..];
        let is_windows = old.rfind('\n').is_some_and(|at| old[..at].ends_with('\r'));
        prop_assert_eq!(added.matches("\r\n").count(), if is_windows { added.matches('\n').count() } else { 0 });
        let lines: Vec<&str> = new.trim_start_matches('\u{feff}').lines().collect();
        let header = lines.len() - 2;
        prop_assert_eq!(lines[header], "[[bobbin]]");
        let n_blank = |lines: &[&str]| lines.iter().rev().take_while(|line| line.trim().is_empty()).count();
        let n_before = n_blank(&old.trim_start_matches('\u{feff}').lines().collect::<Vec<_>>());
        if !old.trim_start_matches('\u{feff}').trim().is_empty() {
            // Blank lines that were there are not taken away.
            prop_assert_eq!(n_blank(&lines[..header]), n_before.max(1));
        }
    }

    #[test]
    fn entries_follow_one_another(old in log(), first in fields(), second in fields()) {
        let mut new = old.clone();
        for fields in [&first, &second] {
            let mut given = Vec::new();
            arguments("", fields, &mut given);
            new = append(&new, &entry("bobbin", &given).map_err(|faults| TestCaseError::fail(format!("{faults:#?}")))?);
        }
        let meant = [first, second].iter().map(|fields| Value::Table(meaning(fields))).collect();
        prop_assert_eq!(&parsed(&new)["bobbin"], &Value::Array(meant));
    }

    #[test]
    fn any_arguments_make_an_entry_or_faults_of_their_own(
        arguments in vec(prop_oneof!["[a-c.=\"\\[\\], 0-9-]{0,12}", "\\PC{0,8}", any::<String>()], 0..6),
    ) {
        match from_arguments("note", &arguments) {
            Ok(text) => {
                prop_assert!(parsed(&text).contains_key("note"));
                prop_assert!(arguments.iter().any(|argument| argument.starts_with("date=")));
            }
            Err(faults) => {
                prop_assert!(!faults.is_empty());
                for fault in faults {
                    prop_assert!(fault.argument.is_none_or(|i| i < arguments.len()));
                    prop_assert!(!fault.help.is_empty() && !fault.message.is_empty());
                    prop_assert!(fault.to_string().chars().all(|c| !c.is_control()), "{fault}");
                }
            }
        }
    }
}
