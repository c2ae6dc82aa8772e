//! `mark`: answers held against the key: what is right, what is a known slip, and what to try next. Nothing is kept.

use std::collections::BTreeMap;
use std::path::Path;

use super::show::{answer, failed, number, one, refused, say};
use super::{End, How};
use crate::figures::class::{Classroom, Pupil, Verdict, mark};
use crate::plan::Exercise;
use crate::source;
use crate::syntax::answers::{self, Answer, Fault};

pub(super) fn mark_file(file: &Path, path: Option<&Path>, how: How) -> End {
    let worked = match one(path, how) {
        Ok((worked, _)) => worked,
        Err(end) => return end,
    };
    let Some(class) = &worked.ledger.class else {
        return refused("the plan has no class; write\n[class]\nstudents = 8");
    };
    let text = match source::text(file) {
        Ok(text) => text,
        Err(failure) => return failed(&failure.to_string()),
    };
    let (written, mut faults) = answers::answers(&text);
    let written: Vec<Answer> = written.into_iter().filter(|one| is_asked(class, one, &mut faults)).collect();
    let mut out = String::new();
    for pupil in &class.pupils {
        let own: Vec<&Answer> = written.iter().filter(|answer| answer.student == pupil.number).collect();
        if !own.is_empty() {
            out.push_str(&marked(class, pupil, &own, &mut faults));
        }
    }
    faults.sort_by_key(|fault| (fault.at.line, fault.at.column));
    let end = answer(&out);
    for fault in &faults {
        say(&format!("{}:{}:{}: error: {}; {}", text.path, fault.at.line, fault.at.column, fault.message, fault.help));
    }
    if faults.is_empty() { end } else { End::Faulty }
}

/// Whether the class has the question.
fn is_asked(class: &Classroom, answer: &Answer, faults: &mut Vec<Fault>) -> bool {
    let mut fault = |message: String, help: String| faults.push(Fault { at: answer.at, message, help });
    let Some(pupil) = class.pupils.iter().find(|pupil| pupil.number == answer.student) else {
        let n = class.pupils.len();
        fault(
            format!("expected a student from 1 to {n}, found {}", answer.student),
            "the number stands on the sheet".to_owned(),
        );
        return false;
    };
    let Some(sum) = pupil.sums.iter().find(|sum| sum.exercise == answer.exercise) else {
        let keys: Vec<&str> = class.exercises.iter().map(|exercise| exercise.key()).collect();
        let message = format!("the class does not practise \"{}\"", answer.exercise.key());
        fault(message, format!("it practises {}", keys.join(", ")));
        return false;
    };
    let is_there = sum.asked.iter().any(|asked| asked.letter == answer.letter);
    if !is_there {
        let last = sum.asked.last().map_or('a', |asked| asked.letter);
        let message = format!("expected a question from a to {last}, found {}", answer.letter);
        fault(message, "the letters stand on the sheet".to_owned());
    }
    is_there
}

/// What is told of one student.
fn marked(class: &Classroom, pupil: &Pupil, own: &[&Answer], faults: &mut Vec<Fault>) -> String {
    let name = pupil.name.as_deref().map_or_else(String::new, |name| format!(", {name}"));
    let mut out = format!("Student {}{name}\n", pupil.number);
    let (mut n_right, mut n_marked, mut n_asked) = (0, 0, 0);
    for (i, sum) in pupil.sums.iter().enumerate() {
        n_asked += sum.asked.len();
        let written: BTreeMap<char, String> = own
            .iter()
            .filter(|one| one.exercise == sum.exercise)
            .map(|one| (one.letter, one.written.clone()))
            .collect();
        for (letter, verdict) in mark(sum, &written) {
            let asked = sum.asked.iter().find(|asked| asked.letter == letter).expect("invariant: it was marked");
            let label = format!("{}{letter}", i + 1);
            if let Verdict::NotANumber(why) = &verdict {
                let at = own.iter().find(|one| (one.exercise, one.letter) == (sum.exercise, letter));
                faults.extend(at.map(|one| Fault {
                    at: one.at,
                    message: format!("expected a number for {label}, found \"{}\"", one.written),
                    help: why.clone(),
                }));
                continue;
            }
            n_marked += 1;
            n_right += usize::from(verdict == Verdict::Right);
            let formula = asked.line.as_ref().map(|line| line.words.as_str());
            let told = told(class, sum.exercise, &verdict, formula, i + 1);
            out.push_str(&format!("  {label:<5}{:<12}{told}\n", written[&letter]));
        }
    }
    let rest = n_asked - n_marked;
    out.push_str(&format!("{n_right} right of {n_marked}"));
    out.push_str(&if rest > 0 {
        format!("; {} without an answer\n", number(rest, "question"))
    } else {
        "\n".to_owned()
    });
    out
}

fn told(class: &Classroom, exercise: Exercise, verdict: &Verdict, formula: Option<&str>, number: usize) -> String {
    match verdict {
        Verdict::Right => "right".to_owned(),
        Verdict::Slip(wrong) => format!("{}. {}", wrong.words(), wrong.next()),
        Verdict::Follows(letter) => format!("right, had {number}{letter} been right: mend that one first"),
        Verdict::NotRight | Verdict::NotANumber(_) => {
            let again = match formula {
                Some(formula) => format!("work it once more: {formula}"),
                None => "look once more".to_owned(),
            };
            let before = exercise.after().iter().filter(|before| class.exercises.contains(before));
            let before: Vec<&str> = before.map(|before| before.key()).collect();
            let before = if before.is_empty() {
                String::new()
            } else {
                format!("; what comes before it: {}", before.join(", "))
            };
            format!("not right, and no slip that is known; {again}{before}")
        }
    }
}
