//! Names: whether one can be used in a figure's name and a file's, and what a name that is used elsewhere refers to.

use std::collections::BTreeMap;

use super::limits::{LONGEST_NAME, LONGEST_TEXT};
use super::report::Report;
use crate::diagnostics::{Code, Diagnostic, Place};

/// Notes a name that cannot be used. Names become parts of figure names, which dots part, and of file names, which
/// must not climb out of their folder.
pub(super) fn check(name: &str, place: &Place, report: &mut Report) -> bool {
    let Some(trouble) = trouble(name) else { return true };
    let fault = Diagnostic::new(Code::UnusableName, format!("expected a plain name, found {name:?}"), place.clone());
    report.fault(
        fault
            .at_key()
            .label(trouble)
            .help("names are letters and digits, with spaces, hyphens or underscores between them"),
    );
    false
}

fn trouble(name: &str) -> Option<String> {
    let is_inner = |sign: char| matches!(sign, ' ' | '-' | '_');
    let is_own = |sign: char| sign.is_alphanumeric();
    let strange = name.chars().find(|sign| !is_own(*sign) && !is_inner(*sign));
    if name.is_empty() {
        Some("a name without a letter".to_owned())
    } else if name.chars().nth(LONGEST_NAME).is_some() {
        Some("longer than forty characters".to_owned())
    } else if let Some(sign) = strange {
        Some(format!("names cannot have `{}`", sign.escape_debug()))
    } else if !name.starts_with(is_own) || !name.ends_with(is_own) {
        Some("names begin and end with a letter or a digit".to_owned())
    } else {
        None
    }
}

/// Index of the name that is referred to; an unknown one is noted with its nearest.
///
/// Things of this kind are called `what` and stand in `table` of the plan.
pub(super) fn find<'a>(
    wanted: &str,
    known: impl Iterator<Item = &'a str> + Clone,
    (what, table): (&str, &str),
    place: &Place,
    report: &mut Report,
) -> Option<usize> {
    let found = known.clone().position(|name| name == wanted);
    if found.is_none() && !report.was_refused(&Place::plan(table).key(wanted)) {
        let fault = Diagnostic::new(
            Code::UnknownName,
            format!("expected the name of a {what}, found {wanted:?}"),
            place.clone(),
        );
        let fault = fault.label(format!("no {what} has this name"));
        report.fault(match (nearest(wanted, known.clone()), listed(known)) {
            (Some(near), _) => fault.help(format!("is {near:?} meant?")),
            (None, Some(all)) => fault.help(format!("the plan has {all}")),
            (None, None) => fault.help(format!("the plan has no {what} yet")),
        });
    }
    found
}

/// The known word that is nearest, if it is near: at most a third of it differs, or one letter.
pub(super) fn nearest<'a>(wanted: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let lower = wanted.to_lowercase();
    let near = known.filter_map(|word| {
        let n_letters = word.chars().count();
        let slips = strsim::damerau_levenshtein(&word.to_lowercase(), &lower);
        (slips <= (n_letters / 3).max(1) && slips < n_letters).then_some((slips, word))
    });
    near.min_by_key(|(slips, _)| *slips).map(|(_, word)| word)
}

/// Up to eight names in quotes.
fn listed<'a>(known: impl Iterator<Item = &'a str>) -> Option<String> {
    const SHOWN: usize = 8;
    let names: Vec<String> = known.map(|name| format!("{name:?}")).collect();
    let more = if names.len() > SHOWN { " and more" } else { "" };
    (!names.is_empty()).then(|| format!("{}{more}", names[..names.len().min(SHOWN)].join(", ")))
}

/// Notes names that are given to two things of one kind; `places` are those of the names, in order of writing.
pub(super) fn check_unique<'a>(names: impl Iterator<Item = (&'a str, Place)>, what: &str, report: &mut Report) {
    let mut first: BTreeMap<&str, Place> = BTreeMap::new();
    for (name, place) in names {
        match first.get(name) {
            Some(before) => report.fault(
                Diagnostic::new(
                    Code::DuplicateName,
                    format!("expected a name of its own for each {what}, found {name:?} twice"),
                    place,
                )
                .label("given again here")
                .also(before.clone(), "first given here")
                .help("give one of them another name"),
            ),
            None => {
                first.insert(name, place);
            }
        }
    }
}

/// A text that is printed as it stands, without the spaces around it; too long a one is noted.
pub(super) fn text(written: Option<&str>, place: &Place, report: &mut Report) -> Option<String> {
    let text = written?.trim();
    if text.chars().nth(LONGEST_TEXT).is_some() {
        let n_characters = text.chars().count();
        let message = format!("expected at most {LONGEST_TEXT} characters, found {n_characters}");
        report.fault(
            Diagnostic::new(Code::TooLong, message, place.clone())
                .label("too long for a sheet")
                .help("say it in fewer words; comments of the plan may be of any length"),
        );
        return None;
    }
    (!text.is_empty()).then(|| text.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_that_climb_or_steer_are_no_names() {
        for name in [
            "",
            " ",
            "..",
            ".",
            "a.b",
            "../x",
            "a/b",
            "a\\b",
            "a\u{1b}[2J",
            "a\0",
            "con:",
            "-x",
            "x-",
            "\u{202e}abc",
            "a\"b",
        ] {
            assert!(trouble(name).is_some(), "{name:?}");
        }
        assert!(trouble(&"x".repeat(LONGEST_NAME + 1)).is_some());
    }

    #[test]
    fn names_of_any_script_are_names() {
        for name in ["north", "heather 2", "moor-grass", "dark_brown", "Grünblau", "шерсть", "7"] {
            assert!(trouble(name).is_none(), "{name:?}");
        }
    }

    #[test]
    fn one_slip_finds_the_name_that_is_meant() {
        assert_eq!(nearest("nroth", ["south", "north"].into_iter()), Some("north"));
        assert_eq!(nearest("polwart", ["polwarth"].into_iter()), Some("polwarth"));
        assert_eq!(nearest("merino", ["polwarth"].into_iter()), None);
    }
}
