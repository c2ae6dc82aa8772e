//! The ledgers that the checks look into: those of the shipped projects, and those of plans written in a test.

use std::path::Path;
use std::sync::{Arc, LazyLock};

use wheelsheet::diagnostics::{Diagnostic, Severity};
use wheelsheet::figures::expression::draws::{self, DRAWS};
use wheelsheet::figures::expression::{Node, Op};
use wheelsheet::figures::ledger::{How, Ledger};
use wheelsheet::figures::{self, Outcome};
use wheelsheet::plan::Plan;
use wheelsheet::source::{self, Project, Text};
use wheelsheet::{check, syntax};

/// A plan that came through, with its ledger.
pub(crate) struct Worked {
    pub(crate) name: String,
    pub(crate) plan: Plan,
    pub(crate) ledger: Arc<Ledger>,
}

impl Worked {
    /// The figures of the ledger that have a formula, by name.
    pub(crate) fn nodes(&self) -> impl Iterator<Item = (&str, &Arc<Node>)> {
        self.ledger.lines().filter_map(|line| match &line.how {
            How::Formula(node) => Some((line.name.as_str(), node)),
            How::Counted { .. } => None,
        })
    }

    /// The expression of a figure.
    pub(crate) fn node(&self, name: &str) -> &Arc<Node> {
        self.ledger.get(name).node().unwrap_or_else(|| panic!("{name} has no formula"))
    }

    /// The likely value of a figure, in base units.
    pub(crate) fn value(&self, name: &str) -> f64 {
        self.ledger.get(name).value
    }
}

/// All shipped projects.
pub(crate) static PROJECTS: LazyLock<Vec<Worked>> = LazyLock::new(|| {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("projects");
    let folders = source::find(&[root]).expect("there are projects");
    assert!(folders.len() >= 3, "the three first projects are there");
    folders.iter().map(|folder| worked(&source::read(folder).expect("a shipped project is readable"))).collect()
});

/// The shipped project of that name.
pub(crate) fn project(name: &str) -> &'static Worked {
    PROJECTS.iter().find(|project| project.name == name).unwrap_or_else(|| panic!("no project {name}"))
}

/// The ledger of a plan without a log that is written in a test.
pub(crate) fn written(plan: &str) -> Worked {
    worked(&of_texts(plan, ""))
}

/// The same with a log.
pub(crate) fn written_with_log(plan: &str, log: &str) -> Worked {
    worked(&of_texts(plan, log))
}

/// A project that lies on no disk.
pub(crate) fn of_texts(plan: &str, log: &str) -> Project {
    let text = |name: &str, text: &str| Text { path: name.to_owned(), bytes: text.as_bytes().to_vec() };
    Project {
        name: "written".to_owned(),
        folder: "written".into(),
        plan: text("plan.toml", plan),
        log: Some(text("log.toml", log)),
    }
}

/// What the program answers to a project, from text to ledger: the plan, if it is sound, its figures, and all faults.
pub(crate) fn answered(project: &Project) -> (Option<Plan>, Option<Outcome>, Vec<Diagnostic>) {
    let (syntax, mut faults) = syntax::read(project);
    let (plan, more) = check::check(&syntax);
    faults.extend(more);
    let outcome = plan.as_ref().map(figures::figures);
    faults.extend(outcome.iter().flat_map(|outcome| outcome.faults.clone()));
    (plan, outcome, faults)
}

/// Whether some fault is an error.
pub(crate) fn is_refused(faults: &[Diagnostic]) -> bool {
    faults.iter().any(|fault| fault.code.severity() == Severity::Error)
}

fn worked(project: &Project) -> Worked {
    let (plan, outcome, faults) = answered(project);
    let ledger = outcome.and_then(|outcome| outcome.ledger);
    match (plan, ledger) {
        (Some(plan), Some(ledger)) => Worked { name: project.name.clone(), plan, ledger },
        _ => panic!("{} has no ledger: {faults:#?}", project.name),
    }
}

/// Ten thousand draws of an expression, in rising order.
pub(crate) fn sorted_draws(node: &Arc<Node>) -> Vec<f64> {
    let mut column = draws::draws(node);
    column.sort_by(f64::total_cmp);
    column
}

/// The bounds between which nineteen of twenty draws lie, as many above as below.
pub(crate) fn nineteen_in_twenty(node: &Arc<Node>) -> (f64, f64) {
    let column = sorted_draws(node);
    (column[DRAWS / 40 - 1], column[DRAWS - DRAWS / 40])
}

/// How an expression is built, without its numbers and names: two figures by one formula have one shape.
/// A formula that takes any number of operands of a kind has one shape for all of them.
pub(crate) fn shape(node: &Node) -> String {
    fn below(node: &Node, is_root: bool) -> String {
        match node.op() {
            Op::Constant(constant) => constant.words.to_owned(),
            Op::Named(named) if is_root || named.name.is_empty() => below(&node.below()[0], is_root),
            Op::Entry(_) | Op::Named(_) => format!("{:?}", node.kind()),
            Op::Apply(function) => {
                let mut operands: Vec<String> = node.below().iter().map(|operand| below(operand, false)).collect();
                operands.dedup();
                format!("{function:?}({}) as {:?}", operands.join(", "), node.kind())
            }
        }
    }
    below(node, true)
}

/// The source that a figure names.
pub(crate) fn source_of(node: &Node) -> &'static str {
    match node.op() {
        Op::Named(named) => named.formula.source,
        _ => panic!("a formula says where it comes from"),
    }
}
