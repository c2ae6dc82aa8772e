//! A student's answers, as TOML or as lines of `student,exercise,question,answer`: what is written where.
//!
//! What the answers mean is not asked here. Faults are told by line and column, since a file of answers is no part of a project.

use std::ops::Range;

use toml::de::{DeTable, DeValue};

use crate::plan::Exercise;
use crate::source::{LIMIT, Text};

/// One answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// Number of the student.
    pub student: usize,
    /// Which exercise.
    pub exercise: Exercise,
    /// Letter of the question.
    pub letter: char,
    /// What is written.
    pub written: String,
    /// Where it stands.
    pub at: At,
}

/// Line and column, from one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct At {
    /// Line.
    pub line: usize,
    /// Column.
    pub column: usize,
}

/// What is wrong with a file of answers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// Where.
    pub at: At,
    /// What, lower case and without a full stop.
    pub message: String,
    /// What to write instead.
    pub help: String,
}

/// The answers of a file, and all that is wrong with it. A file whose name ends in `.csv` is read as lines.
pub fn answers(file: &Text) -> (Vec<Answer>, Vec<Fault>) {
    let mut reader = Reader { text: "", answers: Vec::new(), faults: Vec::new() };
    let start = At { line: 1, column: 1 };
    if file.bytes.len() > LIMIT {
        reader.fault_at(start, "the file is larger than any class needs".to_owned(), "mark the answers of one student");
        return (reader.answers, reader.faults);
    }
    let Ok(text) = std::str::from_utf8(&file.bytes) else {
        reader.fault_at(start, "the file is not written in UTF-8".to_owned(), "save it as UTF-8");
        return (reader.answers, reader.faults);
    };
    let text = text.trim_start_matches('\u{feff}');
    reader.text = text;
    if file.path.to_lowercase().ends_with(".csv") {
        reader.lines();
    } else {
        reader.toml();
    }
    if reader.answers.is_empty() && reader.faults.is_empty() {
        reader.fault_at(start, "there is no answer in it".to_owned(), EXAMPLE);
    }
    (reader.answers, reader.faults)
}

const EXAMPLE: &str = "write\nstudent = 3\n\n[ratio]\na = 8.4\nb = 13.2";

struct Reader<'a> {
    text: &'a str,
    answers: Vec<Answer>,
    faults: Vec<Fault>,
}

impl Reader<'_> {
    fn fault_at(&mut self, at: At, message: String, help: impl Into<String>) {
        self.faults.push(Fault { at, message, help: help.into() });
    }

    fn fault(&mut self, span: &Range<usize>, message: String, help: impl Into<String>) {
        let at = self.at(span.start);
        self.fault_at(at, message, help);
    }

    fn at(&self, byte: usize) -> At {
        let before = self.text.get(..byte).unwrap_or(self.text);
        let line = before.rsplit('\n').next().unwrap_or(before);
        At { line: before.matches('\n').count() + 1, column: line.chars().count() + 1 }
    }

    fn toml(&mut self) {
        let (table, errors) = DeTable::parse_recoverable(self.text);
        for error in errors {
            let span = error.span().unwrap_or(0..0);
            self.fault(&span, format!("not TOML: {}", error.message().replace('\n', " ")), EXAMPLE);
        }
        let mut entries: Vec<_> = table.get_ref().iter().collect();
        entries.sort_by_key(|(key, _)| key.span().start);
        let student = entries.iter().find(|(key, _)| key.get_ref() == "student");
        let Some((_, value)) = student else {
            self.fault_at(
                At { line: 1, column: 1 },
                "whose answers these are is not said".to_owned(),
                "write `student = 3`, the number on the sheet",
            );
            return;
        };
        let number = match value.get_ref() {
            DeValue::Integer(number) => number.to_string().parse::<usize>().ok().filter(|number| *number > 0),
            _ => None,
        };
        let Some(student) = number else {
            self.fault(
                &value.span(),
                "expected the number of a student, found something else".to_owned(),
                "write `student = 3`, the number on the sheet",
            );
            return;
        };
        for (key, value) in entries.iter().filter(|(key, _)| key.get_ref() != "student") {
            let Some(exercise) = self.exercise(key.get_ref(), &key.span()) else { continue };
            let DeValue::Table(questions) = value.get_ref() else {
                let help = format!("write\n[{}]\na = 8.4", exercise.key());
                self.fault(&value.span(), "expected a table of answers, found one value".to_owned(), help);
                continue;
            };
            let mut questions: Vec<_> = questions.iter().collect();
            questions.sort_by_key(|(letter, _)| letter.span().start);
            for (letter, value) in questions {
                let written = match value.get_ref() {
                    DeValue::String(text) => text.to_string(),
                    DeValue::Integer(number) => number.to_string(),
                    DeValue::Float(number) => number.to_string(),
                    _ => {
                        let message = "expected a number or a text, found something else".to_owned();
                        self.fault(&value.span(), message, "write `a = 8.4` or `a = \"8.4 cm\"`");
                        continue;
                    }
                };
                self.take(student, exercise, letter.get_ref(), written, &value.span());
            }
        }
    }

    fn lines(&mut self) {
        let mut start = 0;
        for (i, line) in self.text.split('\n').enumerate() {
            let span = start..start + line.len();
            start += line.len() + 1;
            let line = line.trim();
            let is_head = i == 0 && line.to_lowercase().starts_with("student");
            if line.is_empty() || line.starts_with('#') || is_head {
                continue;
            }
            let parts: Vec<&str> = line.splitn(4, ',').map(|part| part.trim().trim_matches('"')).collect();
            let [student, exercise, letter, written] = parts[..] else {
                let message = format!("expected student, exercise, question and answer, found {} of them", parts.len());
                self.fault(&span, message, "write `3,ratio,a,8.4`");
                continue;
            };
            let Some(student) = student.parse::<usize>().ok().filter(|number| *number > 0) else {
                let message = format!("expected the number of a student, found \"{student}\"");
                self.fault(&span, message, "write `3,ratio,a,8.4`");
                continue;
            };
            let Some(exercise) = self.exercise(exercise, &span) else { continue };
            self.take(student, exercise, letter, written.to_owned(), &span);
        }
    }

    fn exercise(&mut self, key: &str, span: &Range<usize>) -> Option<Exercise> {
        let found = Exercise::find(key);
        if found.is_none() {
            let keys: Vec<&str> = Exercise::ALL.iter().map(|exercise| exercise.key()).collect();
            let help = match super::meant::nearest(key, &keys) {
                Some(near) => format!("is `{near}` meant?"),
                None => format!("they are {}", keys.join(", ")),
            };
            self.fault(span, format!("expected the name of an exercise, found \"{key}\""), help);
        }
        found
    }

    fn take(&mut self, student: usize, exercise: Exercise, letter: &str, written: String, span: &Range<usize>) {
        let mut letters = letter.chars();
        let (Some(letter), None) = (letters.next(), letters.next()) else {
            let message = format!("expected the letter of a question, found \"{letter}\"");
            self.fault(span, message, "write `a = 8.4`");
            return;
        };
        let (letter, at) = (letter.to_ascii_lowercase(), self.at(span.start));
        self.answers.push(Answer { student, exercise, letter, written, at });
    }
}
