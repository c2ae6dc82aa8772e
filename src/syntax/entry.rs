//! One entry of the log: from the arguments of a command to its text, and that text behind the log that is there.
//!
//! Nothing is known here of what a kind of entry may hold; that is asked of the whole log once the entry stands in it.

use super::walk::is_hidden;
use toml::Value;
use toml::value::Datetime;

/// Tables inside one another that a field may name; the log has two.
const DEEPEST: usize = 8;

/// The field that every entry has: this program knows of no day by itself.
const DATE: &str = "date";

/// What some editors put before the first character of a file.
const BYTE_ORDER_MARK: char = '\u{feff}';

/// What is wrong with one argument.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{}{message}; {help}", self.whose())]
pub struct FieldFault {
    /// Which argument, counted from 0; none where one is missing, or where it was looked at by itself.
    pub argument: Option<usize>,
    /// The field as it was written; empty where there is none.
    pub field: String,
    /// What was expected and what was found.
    pub message: String,
    /// What would do.
    pub help: String,
}

impl FieldFault {
    /// The beginning of its line: arguments are counted from 1 where people read of them.
    fn whose(&self) -> String {
        let field = if self.field.is_empty() { String::new() } else { format!("`{}`", shown(&self.field)) };
        match self.argument {
            Some(i) if field.is_empty() => format!("argument {}: ", i + 1),
            Some(i) => format!("argument {}, {field}: ", i + 1),
            None if field.is_empty() => String::new(),
            None => format!("{field}: "),
        }
    }
}

/// What is wrong, before it is known whose fault it is.
#[derive(Debug)]
struct Wrong {
    message: String,
    help: String,
}

impl Wrong {
    fn new(message: impl Into<String>, help: impl Into<String>) -> Self {
        Self { message: message.into(), help: help.into() }
    }

    fn of(self, argument: Option<usize>, field: &str) -> FieldFault {
        FieldFault { argument, field: field.to_owned(), message: self.message, help: self.help }
    }
}

/// The entry that the arguments of a command make: each `FIELD=VALUE`, one of them the date.
///
/// # Errors
/// Every fault of every argument, in their order; last that there is no date.
///
/// # Panics
/// As [`entry`] does.
pub fn from_arguments(kind: &str, arguments: &[String]) -> Result<String, Vec<FieldFault>> {
    let (mut fields, mut numbers, mut faults) = (Vec::new(), Vec::new(), Vec::new());
    for (i, argument) in arguments.iter().enumerate() {
        match split(argument) {
            Ok(field) => {
                fields.push(field);
                numbers.push(i);
            }
            Err(fault) => faults.push(torn(arguments, i, fault)),
        }
    }
    let text = match entry(kind, &fields) {
        Ok(text) => text,
        Err(more) => {
            let renumbered = |fault: FieldFault| FieldFault { argument: fault.argument.map(|i| numbers[i]), ..fault };
            faults.extend(more.into_iter().map(renumbered));
            String::new()
        }
    };
    faults.sort_by_key(|fault| fault.argument);
    if fields.iter().all(|(field, _)| field != DATE) {
        faults.push(undated());
    }
    if faults.is_empty() { Ok(text) } else { Err(faults) }
}

/// An argument as field and value, parted at its first equals sign.
///
/// # Errors
/// Where it has no equals sign.
pub fn split(arg: &str) -> Result<(String, String), FieldFault> {
    let Some((field, value)) = arg.split_once('=') else {
        let message = format!("expected FIELD=VALUE, found `{}`", shown(arg));
        return Err(Wrong::new(message, "write it as in full=120 or \"full=96 g\"").of(None, ""));
    };
    Ok((field.to_owned(), value.to_owned()))
}

/// The fault of an argument without an equals sign.
///
/// Behind one that has it, it is most often the end of that value: a shell parts arguments at blanks.
fn torn(arguments: &[String], i: usize, fault: FieldFault) -> FieldFault {
    let fault = FieldFault { argument: Some(i), ..fault };
    let Some(start) = arguments[..i].iter().rposition(|argument| argument.contains('=')) else { return fault };
    let n_torn = arguments[i..].iter().take_while(|argument| !argument.contains('=')).count();
    let whole = arguments[start..i + n_torn].join(" ");
    FieldFault { help: format!("an argument with blanks goes into quotation marks: \"{}\"", shown(&whole)), ..fault }
}

fn undated() -> FieldFault {
    let help = "add date=YYYY-MM-DD, such as date=2026-03-12; the day is not taken from the clock";
    Wrong::new("expected the day of the entry, found none", help).of(None, DATE)
}

/// The text of an entry: `[[kind]]` and its fields, in the order in which they are first named.
///
/// A whole number stays one, and so do `true`, `false` and a day; all else is a text, without the blanks around it.
/// A value in double quotation marks is the text between them, so that `name="2"` is a text and no number.
/// A value in square brackets is a list, and so is a text or number that is given again under its field.
/// Fields with dots make one table each, written on one line.
///
/// # Errors
/// Every fault of every field, in their order, each with the number of its field from 0.
///
/// # Panics
/// When `kind` is no bare key, as the kinds of entries all are.
pub fn entry(kind: &str, fields: &[(String, String)]) -> Result<String, Vec<FieldFault>> {
    assert!(is_bare(kind), "invariant: a kind of entry is a bare key");
    let mut faults = Vec::new();
    let mut table = Vec::new();
    for (i, (field, value)) in fields.iter().enumerate() {
        let path = path(field);
        let read = read(value);
        let wrong = |wrong: Wrong| wrong.of(Some(i), field);
        let (path, read) = match (path, read) {
            (Ok(path), Ok(read)) => (path, read),
            // The field is noted all the same, so that what is at odds with it is found in this run.
            (Ok(path), Err(fault)) => {
                faults.push(wrong(fault));
                (path, Read { form: Form::Faulty, text: String::new() })
            }
            (Err(fault), read) => {
                faults.push(wrong(fault));
                faults.extend(read.err().map(wrong));
                continue;
            }
        };
        faults.extend(put(&mut table, &path, read).err().map(wrong));
    }
    if faults.is_empty() { Ok(rendered(kind, &table)) } else { Err(faults) }
}

/// One field and what is said of it.
type Field = (String, Node);

/// What is said of a field.
#[derive(Debug)]
enum Node {
    /// Its values, in order; several make a list.
    Values(Vec<Read>),
    /// The fields below it.
    Table(Vec<Field>),
}

/// A value as TOML has it.
#[derive(Debug, PartialEq, Eq)]
struct Read {
    form: Form,
    /// The value as it is written to the log.
    text: String,
}

/// What kind of value it is, as far as it matters to whether it may be given again.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Form {
    Text,
    Whole,
    Truth,
    Day,
    List,
    /// One that could not be read, which was told.
    Faulty,
}

/// The keys of a field, from the outside in.
fn path(field: &str) -> Result<Vec<&str>, Wrong> {
    let example = "name a field as the log does, such as full or check.length";
    if field.is_empty() {
        return Err(Wrong::new("expected a field before the equals sign, found none", example));
    }
    let keys: Vec<&str> = field.split('.').collect();
    if keys.contains(&"") {
        return Err(Wrong::new("expected a name on either side of each dot, found none", example));
    }
    if let Some(odd) = field.chars().find(|c| !is_of_bare(*c) && *c != '.') {
        let odd = shown(&odd.to_string());
        return Err(Wrong::new(format!("expected letters from a to z, digits, - and _, found `{odd}`"), example));
    }
    if keys.len() > DEEPEST {
        let message = format!("expected at most {DEEPEST} names with dots between, found {}", keys.len());
        return Err(Wrong::new(message, example));
    }
    Ok(keys)
}

fn is_bare(key: &str) -> bool {
    !key.is_empty() && key.chars().all(is_of_bare)
}

fn is_of_bare(c: char) -> bool {
    c.is_ascii_alphanumeric() || c == '-' || c == '_'
}

/// A value as it was given to the command.
fn read(value: &str) -> Result<Read, Wrong> {
    if let Some(hidden) = value.chars().find(|c| is_hidden(*c)) {
        return Err(not_seen(hidden));
    }
    let value = value.trim();
    if value.is_empty() {
        return Err(Wrong::new("expected a value behind the equals sign, found none", "give it one, or leave it out"));
    }
    match value.strip_prefix('[').and_then(|rest| rest.strip_suffix(']')) {
        Some(inside) => list(inside),
        None => one(value),
    }
}

/// A value that is no list.
fn one(value: &str) -> Result<Read, Wrong> {
    let is = |form, text: String| Ok(Read { form, text });
    if value == "true" || value == "false" {
        return is(Form::Truth, value.to_owned());
    }
    if is_whole(value) {
        return whole(value);
    }
    if is_like_day(value) {
        return day(value);
    }
    match between_marks(value) {
        Some(text) => match text.chars().find(|c| is_hidden(*c)) {
            Some(hidden) => Err(not_seen(hidden)),
            None => is(Form::Text, quoted(&text)),
        },
        None => is(Form::Text, quoted(value)),
    }
}

/// Digits with or without a sign. Noughts before them mean that it is a name and no number.
fn is_whole(value: &str) -> bool {
    let digits = value.strip_prefix(['+', '-']).unwrap_or(value);
    let is_number = !digits.is_empty() && digits.chars().all(|c| c.is_ascii_digit());
    is_number && (digits == "0" || !digits.starts_with('0'))
}

fn whole(value: &str) -> Result<Read, Wrong> {
    match value.parse::<i64>() {
        Ok(number) => Ok(Read { form: Form::Whole, text: number.to_string() }),
        Err(_) => {
            let message = format!("expected a whole number, found one that is far too great: {}", shown(value));
            Err(Wrong::new(message, "write the number that is meant, such as 2"))
        }
    }
}

/// Whether it has the form YYYY-MM-DD.
fn is_like_day(value: &str) -> bool {
    let is_in_place = |(i, byte): (usize, u8)| if i == 4 || i == 7 { byte == b'-' } else { byte.is_ascii_digit() };
    value.len() == "YYYY-MM-DD".len() && value.bytes().enumerate().all(is_in_place)
}

fn day(value: &str) -> Result<Read, Wrong> {
    if value.parse::<Datetime>().is_ok() {
        return Ok(Read { form: Form::Day, text: value.to_owned() });
    }
    let message = format!("expected a day of the calendar, found {value}");
    Err(Wrong::new(message, "write year, month and day of the month, such as 2026-03-12"))
}

/// The text of a value that is one text in double quotation marks from end to end.
fn between_marks(value: &str) -> Option<String> {
    match value.strip_prefix('"').map(|_| value.parse::<Value>()) {
        Some(Ok(Value::String(text))) => Some(text),
        _ => None,
    }
}

/// A list by what stands between its brackets.
fn list(inside: &str) -> Result<Read, Wrong> {
    let items: Vec<String> = items(inside).into_iter().map(item).collect::<Result<_, _>>()?;
    Ok(Read { form: Form::List, text: format!("[{}]", items.join(", ")) })
}

fn item(item: &str) -> Result<String, Wrong> {
    let example = "write a list as in [1, 4, 7] or [\"26 g\", \"27 g\"]";
    if item.is_empty() {
        return Err(Wrong::new("expected a value before and behind each comma of the list, found none", example));
    }
    if item.starts_with('[') {
        return Err(Wrong::new("expected one list, found a list inside of it", example));
    }
    if item.starts_with('"') && between_marks(item).is_none() {
        let message = format!("expected a text between two quotation marks, found {}", shown(item));
        return Err(Wrong::new(message, example));
    }
    one(item).map(|read| read.text)
}

/// What stands between commas.
///
/// A quotation mark opens a text only where an item begins: behind a number it stands for inches.
fn items(inside: &str) -> Vec<&str> {
    let (mut items, mut start) = (Vec::new(), 0);
    let (mut is_text, mut is_escaped) = (false, false);
    for (at, c) in inside.char_indices() {
        match c {
            _ if is_escaped => is_escaped = false,
            '\\' if is_text => is_escaped = true,
            '"' if is_text || inside[start..at].trim().is_empty() => is_text = !is_text,
            ',' if !is_text => {
                items.push(inside[start..at].trim());
                start = at + 1;
            }
            _ => {}
        }
    }
    items.push(inside[start..].trim());
    items
}

/// A text between quotation marks. What cannot be seen was refused, so two characters need a backslash and no other.
fn quoted(text: &str) -> String {
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
}

/// Notes a value under its field.
fn put(table: &mut Vec<Field>, path: &[&str], read: Read) -> Result<(), Wrong> {
    let (key, below) = path.split_first().expect("invariant: a field has a name");
    let found = table.iter().position(|(name, _)| name == key);
    let empty = || if below.is_empty() { Node::Values(Vec::new()) } else { Node::Table(Vec::new()) };
    let at = found.unwrap_or_else(|| {
        table.push(((*key).to_owned(), empty()));
        table.len() - 1
    });
    match &mut table[at].1 {
        Node::Table(fields) if !below.is_empty() => put(fields, below, read),
        Node::Values(values) if below.is_empty() => again(values, read),
        Node::Table(fields) => {
            let name = fields.first().map_or("", |(name, _)| name);
            Err(Wrong::new(
                format!("expected a field below `{key}`, which has some already, found a value of its own"),
                format!("say which field below `{key}` is meant, as in {key}.{name}=VALUE"),
            ))
        }
        Node::Values(_) => Err(Wrong::new(
            format!("expected no field below `{key}`, which has a value of its own, found `{}`", below.join(".")),
            format!("leave out {key}=VALUE, or say which field below `{key}` it is"),
        )),
    }
}

/// Notes a value that may be another of its field: texts and numbers make a list, a day or a yes cannot be two.
fn again(values: &mut Vec<Read>, read: Read) -> Result<(), Wrong> {
    let is_any = |form: Form| values.iter().chain([&read]).any(|value| value.form == form);
    if values.is_empty() || is_any(Form::Faulty) {
        values.push(read);
        return Ok(());
    }
    if is_any(Form::List) {
        return Err(Wrong::new("expected one list, found more behind it", "put all of it into one list: [A, B, C]"));
    }
    if is_any(Form::Day) || is_any(Form::Truth) {
        return Err(Wrong::new("expected the field once, found it again", "keep the one that is right"));
    }
    values.push(read);
    Ok(())
}

fn rendered(kind: &str, table: &[Field]) -> String {
    let lines = table.iter().map(|field| format!("{}\n", line(field)));
    format!("[[{kind}]]\n{}", lines.collect::<String>())
}

/// A field with its value.
fn line((key, node): &Field) -> String {
    match node {
        Node::Table(fields) => {
            let fields: Vec<String> = fields.iter().map(line).collect();
            format!("{key} = {{ {} }}", fields.join(", "))
        }
        Node::Values(values) => match values.as_slice() {
            [value] => format!("{key} = {}", value.text),
            values => {
                let values: Vec<&str> = values.iter().map(|value| value.text.as_str()).collect();
                format!("{key} = [{}]", values.join(", "))
            }
        },
    }
}

fn not_seen(hidden: char) -> Wrong {
    let message = format!("expected characters that can be seen, found U+{:04X}", u32::from(hidden));
    Wrong::new(message, "type the value anew, on one line and without what was pasted into it")
}

/// What was written, as a message quotes it: no longer than a line, and nothing that steers a terminal.
fn shown(text: &str) -> String {
    const LONGEST: usize = 60;
    let mut shown: String = text.chars().take(LONGEST).map(|c| if is_hidden(c) { '\u{fffd}' } else { c }).collect();
    if text.chars().nth(LONGEST).is_some() {
        shown.push('…');
    }
    shown
}

/// A log with one entry more.
///
/// What is there stays to the byte; a blank line parts it from the entry, unless there is one already.
/// The entry takes the line ends of the log, which are those of its last line.
#[must_use]
pub fn append(old: &str, entry: &str) -> String {
    let end = line_end(old);
    let mut new = old.to_owned();
    new.push_str(&end.repeat(n_missing_ends(old)));
    for line in entry.lines() {
        new.push_str(line);
        new.push_str(end);
    }
    new
}

fn line_end(text: &str) -> &'static str {
    match text.rfind('\n') {
        Some(at) if text[..at].ends_with('\r') => "\r\n",
        _ => "\n",
    }
}

/// How many line ends part a log from what is put behind it: one ends its last line, one makes a blank line.
fn n_missing_ends(old: &str) -> usize {
    let old = old.strip_prefix(BYTE_ORDER_MARK).unwrap_or(old);
    let (ended, unended) = old.rsplit_once('\n').unwrap_or(("", old));
    let is_blank = |line: &str| line.trim().is_empty();
    let last_ended = ended.rsplit('\n').next().unwrap_or_default();
    match (is_blank(old), unended.is_empty()) {
        (true, is_ended) => usize::from(!is_ended),
        (false, true) => usize::from(!is_blank(last_ended)),
        (false, false) if is_blank(unended) => 1,
        (false, false) => 2,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fields(written: &[&str]) -> Vec<(String, String)> {
        written.iter().map(|argument| split(argument).expect("an equals sign")).collect()
    }

    /// The entry without its header.
    fn lines(written: &[&str]) -> String {
        let text = entry("bobbin", &fields(written)).expect("sound fields");
        text.strip_prefix("[[bobbin]]\n").expect("a header").to_owned()
    }

    /// The faults, each on its line.
    fn faults(written: &[&str]) -> Vec<String> {
        let arguments: Vec<String> = written.iter().map(|&argument| argument.to_owned()).collect();
        let faults = from_arguments("bobbin", &arguments).expect_err("a fault");
        faults.iter().map(ToString::to_string).collect()
    }

    /// The one fault of fields that have a date.
    fn fault(written: &[&str]) -> String {
        let faults = faults(&[&["date=2026-03-12"], written].concat());
        let [fault] = faults.as_slice() else { panic!("one fault: {faults:#?}") };
        fault.clone()
    }

    #[test]
    fn an_entry_is_written_as_people_write_it() {
        let written = [
            "number=1",
            "date=2026-03-12",
            "ply-plan=body",
            "full=96 g",
            "check.length=20 m",
            "chosen=true",
            "check.weight=3.1 g",
        ];
        let expected = "\
[[bobbin]]
number = 1
date = 2026-03-12
ply-plan = \"body\"
full = \"96 g\"
check = { length = \"20 m\", weight = \"3.1 g\" }
chosen = true
";
        assert_eq!(entry("bobbin", &fields(&written)).as_deref(), Ok(expected));
        let arguments: Vec<String> = written.iter().map(|&argument| argument.to_owned()).collect();
        assert_eq!(from_arguments("bobbin", &arguments).as_deref(), Ok(expected));
    }

    #[test]
    fn an_argument_is_parted_at_its_first_equals_sign() {
        assert_eq!(split("feel=a=b"), Ok(("feel".into(), "a=b".into())));
        assert_eq!(split("="), Ok((String::new(), String::new())));
        assert_eq!(split("full").expect_err("no equals sign").argument, None);
    }

    #[test]
    fn each_value_keeps_its_kind() {
        for (value, written) in [
            ("1", "1"),
            ("0", "0"),
            ("-12", "-12"),
            ("+3", "3"),
            ("9223372036854775807", "9223372036854775807"),
            ("007", "\"007\""),
            ("1_000", "\"1_000\""),
            ("3.5", "\"3.5\""),
            ("-", "\"-\""),
            ("true", "true"),
            ("false", "false"),
            ("True", "\"True\""),
            ("2028-02-29", "2028-02-29"),
            ("2026-3-1", "\"2026-3-1\""),
            ("2026-03-01T10:00", "\"2026-03-01T10:00\""),
            ("  96 g ", "\"96 g\""),
            ("11 wpi ± 1", "\"11 wpi ± 1\""),
            ("{ a = 1 }", "\"{ a = 1 }\""),
            ("inf", "\"inf\""),
        ] {
            assert_eq!(lines(&[&format!("a={value}")]), format!("a = {written}\n"), "{value:?}");
        }
    }

    #[test]
    fn marks_and_backslashes_are_escaped() {
        for (value, written) in [
            (r#"it is "soft""#, r#""it is \"soft\"""#),
            (r"a\b", r#""a\\b""#),
            (r#"4""#, r#""4\"""#),
            ("'x'", "\"'x'\""),
            (r#""a" and "b""#, r#""\"a\" and \"b\"""#),
            (r#"""#, r#""\"""#),
            (r#""a" # "b""#, r#""\"a\" # \"b\"""#),
            (r#""a" #"#, r#""\"a\" #""#),
            (r#""\q""#, r#""\"\\q\"""#),
        ] {
            assert_eq!(lines(&[&format!("a={value}")]), format!("a = {written}\n"), "{value:?}");
        }
    }

    #[test]
    fn quotation_marks_make_a_text_of_anything() {
        for (value, written) in [
            (r#""2""#, r#""2""#),
            (r#""[sic]""#, r#""[sic]""#),
            (r#""a \"b\" \\""#, r#""a \"b\" \\""#),
            (r#""""#, r#""""#),
            (r#""2026-03-12""#, r#""2026-03-12""#),
        ] {
            assert_eq!(lines(&[&format!("a={value}")]), format!("a = {written}\n"), "{value:?}");
        }
    }

    #[test]
    fn brackets_and_repetition_make_lists() {
        assert_eq!(lines(&["bobbins=[1,4,7]"]), "bobbins = [1, 4, 7]\n");
        assert_eq!(lines(&["b=[ 26 g , 27 g]"]), "b = [\"26 g\", \"27 g\"]\n");
        assert_eq!(lines(&["w=26 g", "a=1", "w=27 g"]), "w = [\"26 g\", \"27 g\"]\na = 1\n");
        assert_eq!(
            lines(&["skein.wraps=11 wpi", "skein.wraps=12 wpi"]),
            "skein = { wraps = [\"11 wpi\", \"12 wpi\"] }\n"
        );
        assert_eq!(lines(&["a=[true]", "d=[2026-01-01, 2026-01-02]"]), "a = [true]\nd = [2026-01-01, 2026-01-02]\n");
        assert_eq!(
            lines(&[r#"g=["19 st, 26 rows / 10 cm", "x\",y"]"#]),
            "g = [\"19 st, 26 rows / 10 cm\", \"x\\\",y\"]\n"
        );
        assert_eq!(lines(&[r#"g=[4", 5"]"#]), "g = [\"4\\\"\", \"5\\\"\"]\n");
        assert_eq!(lines(&["g=[left] sleeve"]), "g = \"[left] sleeve\"\n");
    }

    #[test]
    fn tables_may_lie_in_tables() {
        assert_eq!(lines(&["a.b.c=1", "a.d=2", "a.b.e=3"]), "a = { b = { c = 1, e = 3 }, d = 2 }\n");
    }

    #[test]
    fn a_field_is_a_bare_key() {
        assert!(fault(&["=1"]).starts_with("argument 2: expected a field before the equals sign"));
        assert!(fault(&["check.=1"]).contains("`check.`: expected a name on either side of each dot"));
        assert!(fault(&[".a=1"]).contains("either side"));
        assert!(fault(&["a..b=1"]).contains("either side"));
        assert!(fault(&["länge=1"]).contains("`länge`: expected letters from a to z, digits, - and _, found `ä`"));
        assert!(fault(&["full =1"]).contains("found ` `"));
        assert!(fault(&["\"a\"=1"]).contains("found `\"`"));
        assert!(fault(&["a\u{1b}[31m=1"]).contains("`a\u{fffd}[31m`"));
        assert!(fault(&["a.b.c.d.e.f.g.h.i=1"]).contains("at most 8 names"));
    }

    #[test]
    fn a_value_is_not_empty_and_can_be_seen() {
        assert!(fault(&["full="]).starts_with("argument 2, `full`: expected a value behind the equals sign"));
        assert!(fault(&["full=  "]).contains("found none"));
        for hidden in
            ["a\nb", "a\tb", "\u{7f}", "\u{85}", "a\u{202e}b", "x\r", "\u{feff}x", "\"a\\nb\"", "[\"\\u0007\"]"]
        {
            let fault = fault(&[&format!("feel={hidden}")]);
            assert!(fault.starts_with("argument 2, `feel`: expected characters that can be seen, found U+"), "{fault}");
        }
    }

    #[test]
    fn what_looks_like_a_day_is_one() {
        for day in ["2026-02-29", "2026-04-31", "2026-13-01", "2026-00-10", "2026-01-00", "2100-02-29"] {
            assert!(
                fault(&[&format!("a={day}")]).contains(&format!("expected a day of the calendar, found {day}; write"))
            );
        }
    }

    #[test]
    fn a_number_fits_the_log() {
        assert!(fault(&["n=9223372036854775808"]).contains("found one that is far too great: 9223372036854775808"));
        assert!(fault(&["n=[1, 99999999999999999999]"]).contains("`n`: expected a whole number"));
    }

    #[test]
    fn a_list_has_a_value_at_each_place() {
        for list in ["[]", "[ ]", "[1,]", "[,1]", "[1,,2]"] {
            assert!(fault(&[&format!("a={list}")]).contains("before and behind each comma"), "{list}");
        }
        assert!(fault(&["a=[[1, 2], 3]"]).contains("a list inside of it"));
        assert!(fault(&["a=[\"x, y]"]).contains("between two quotation marks, found \"x, y"));
        assert!(fault(&["a=[\"x\" y]"]).contains("between two quotation marks"));
    }

    #[test]
    fn a_field_is_said_once_unless_it_makes_a_list() {
        assert!(fault(&["date=2026-03-13"]).starts_with("argument 2, `date`: expected the field once"));
        assert!(fault(&["chosen=true", "chosen=false"]).starts_with("argument 3, `chosen`: expected the field once"));
        assert!(fault(&["a=1", "a=true"]).starts_with("argument 3"));
        assert!(fault(&["a=[1, 2]", "a=3"]).starts_with("argument 3, `a`: expected one list"));
        assert!(fault(&["a=1", "a=[2]"]).starts_with("argument 3, `a`: expected one list"));
    }

    #[test]
    fn a_field_has_a_value_or_fields_below_it() {
        assert!(
            fault(&["check=3", "check.length=20 m"]).starts_with("argument 3, `check.length`: expected no field below")
        );
        let fault = fault(&["check.length=20 m", "check=3"]);
        assert!(fault.starts_with("argument 3, `check`: expected a field below"), "{fault}");
        assert!(fault.ends_with("as in check.length=VALUE"), "{fault}");
    }

    #[test]
    fn every_fault_is_told_in_one_run() {
        let told = faults(&["full=96", "g", "ü=", "day=2026-02-30", "a=[", "n=[1,]", "day.x=1"]);
        let begins = [
            "argument 2: expected FIELD=VALUE, found `g`; an argument with blanks goes into quotation marks: \"full=96 g\"",
            "argument 3, `ü`: expected letters",
            "argument 3, `ü`: expected a value",
            "argument 4, `day`: expected a day",
            "argument 6, `n`: expected a value before",
            "argument 7, `day.x`: expected no field below `day`",
            "`date`: expected the day of the entry, found none; add date=YYYY-MM-DD",
        ];
        assert_eq!(told.len(), begins.len(), "{told:#?}");
        for (told, begin) in told.iter().zip(begins) {
            assert!(told.starts_with(begin), "{told}");
        }
    }

    #[test]
    fn words_without_an_equals_sign_are_put_back_to_their_value() {
        let told = faults(&["x", "date=2026-03-12", "feel=soft,", "a", "little", "n=1"]);
        assert_eq!(told.len(), 3);
        assert_eq!(told[0], "argument 1: expected FIELD=VALUE, found `x`; write it as in full=120 or \"full=96 g\"");
        assert!(told[1].starts_with("argument 4") && told[1].ends_with("\"feel=soft, a little\""), "{}", told[1]);
        assert!(told[2].starts_with("argument 5") && told[2].ends_with("\"feel=soft, a little\""), "{}", told[2]);
    }

    #[test]
    fn an_entry_without_arguments_lacks_its_date() {
        assert_eq!(faults(&[]).len(), 1);
        assert_eq!(lines(&[]), "");
    }

    #[test]
    fn one_blank_line_stands_between() {
        for (old, added) in [
            ("", ""),
            ("\u{feff}", ""),
            ("\n", ""),
            ("\n\n", ""),
            ("  ", "\n"),
            ("a = 1", "\n\n"),
            ("a = 1\n", "\n"),
            ("a = 1\n\n", ""),
            ("a = 1\n  \n", ""),
            ("a = 1\n\t", "\n"),
            ("a = 1 # end", "\n\n"),
            ("# end\n", "\n"),
            ("\u{feff}a = 1\n", "\n"),
            ("a = 1\r\n", "\r\n"),
            ("a = 1\r\nb = 2", "\r\n\r\n"),
            ("a = 1\r\n\r\n", ""),
            ("a = 1\r\nb = 2\n", "\n"),
        ] {
            let new = append(old, "[[note]]\na = 1\n");
            let behind = new.strip_prefix(old).expect("the old text first");
            let end = if line_end(old) == "\r\n" { "\r\n" } else { "\n" };
            assert_eq!(behind, format!("{added}[[note]]{end}a = 1{end}"), "{old:?}");
            new.trim_start_matches(BYTE_ORDER_MARK).parse::<toml::Table>().expect("TOML");
        }
    }

    #[test]
    fn blank_lines_that_are_there_stay() {
        assert_eq!(append("a = 1\n\n\n", "[[note]]\n"), "a = 1\n\n\n[[note]]\n");
    }

    #[test]
    fn an_entry_goes_behind_others_of_its_kind_and_behind_tables_of_them() {
        let old = "[[sample]]\nname = \"a\"\n\n[sample.skein]\nloops = 3";
        let table: toml::Table = append(old, "[[sample]]\nname = \"b\"\n").parse().expect("TOML");
        assert_eq!(table["sample"].as_array().map(Vec::len), Some(2));
        assert_eq!(table["sample"][1]["name"].as_str(), Some("b"));
    }
}
