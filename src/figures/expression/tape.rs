//! A tape: the nodes of an expression in the order in which they are worked out, each once.
//!
//! Nodes of equal structure are one step, so that an input used twice stays one random variable and `a − a` has no spread.
//! So are entries of one place, whatever each is called: braids that share one reading are off by the same.
//! Names are looked through: they are for readers of text.

use std::collections::HashMap;
use std::sync::Arc;

use super::{Entry, Function, Node, Op, Shape};

/// Steps in the order of evaluation.
pub struct Tape {
    steps: Vec<Step>,
    index: HashMap<u128, usize>,
    variables: HashMap<Variable, usize>,
}

/// What makes an entry the same random variable as another: place, value, uncertainty and shape.
type Variable = (String, u64, u64, Shape);

/// One step: an entry, a constant, or a function of earlier steps.
pub enum Step {
    /// An entry; drawn.
    Entry(Entry),
    /// A constant.
    Constant(f64),
    /// A function of earlier steps.
    Apply(Function, Vec<usize>),
}

impl Tape {
    /// The tape of all that the given expressions stand on. Works with an explicit stack: expressions may be deep.
    pub fn new<'a>(roots: impl IntoIterator<Item = &'a Arc<Node>>) -> Self {
        let mut tape = Self { steps: Vec::new(), index: HashMap::new(), variables: HashMap::new() };
        let mut stack: Vec<(&'a Arc<Node>, bool)> = roots.into_iter().map(|root| (root, false)).collect();
        stack.reverse();
        while let Some((node, ready)) = stack.pop() {
            if tape.index.contains_key(&node.structure()) {
                continue;
            }
            if ready {
                tape.add(node);
            } else {
                stack.push((node, true));
                stack.extend(node.below().iter().rev().map(|below| (below, false)));
            }
        }
        tape
    }

    fn add(&mut self, node: &Node) {
        let below = || node.below().iter().map(|below| self.index[&below.structure()]).collect::<Vec<_>>();
        let step = match node.op() {
            Op::Named(_) => {
                let target = below()[0];
                self.index.insert(node.structure(), target);
                return;
            }
            Op::Entry(entry) => {
                let variable = (entry.place.clone(), entry.value.to_bits(), entry.uncertainty.to_bits(), entry.shape);
                let step = *self.variables.entry(variable).or_insert(self.steps.len());
                if step < self.steps.len() {
                    self.index.insert(node.structure(), step);
                    return;
                }
                Step::Entry(entry.clone())
            }
            Op::Constant(constant) => Step::Constant(constant.value),
            Op::Apply(function) => Step::Apply(*function, below()),
        };
        self.index.insert(node.structure(), self.steps.len());
        self.steps.push(step);
    }

    /// The steps.
    pub fn steps(&self) -> &[Step] {
        &self.steps
    }

    /// At which step an expression stands, if it is on the tape.
    pub fn find(&self, node: &Node) -> Option<usize> {
        self.index.get(&node.structure()).copied()
    }

    /// The entries, in order of steps.
    pub fn entries(&self) -> impl Iterator<Item = (usize, &Entry)> {
        self.steps.iter().enumerate().filter_map(|(at, step)| match step {
            Step::Entry(entry) => Some((at, entry)),
            Step::Constant(_) | Step::Apply(..) => None,
        })
    }

    /// The value of each step at the nominal point.
    pub fn values(&self) -> Vec<f64> {
        let mut values = Vec::with_capacity(self.steps.len());
        for step in &self.steps {
            let value = match step {
                Step::Entry(entry) => entry.value,
                Step::Constant(value) => *value,
                Step::Apply(function, below) => {
                    function.value(&below.iter().map(|&at| values[at]).collect::<Vec<f64>>())
                }
            };
            values.push(value);
        }
        values
    }

    /// The derivative of the step `of` by every step, in one sweep backwards. `values` are those of [`Tape::values`].
    pub fn derivatives(&self, of: usize, values: &[f64]) -> Vec<f64> {
        let mut slopes = vec![0.0; self.steps.len()];
        slopes[of] = 1.0;
        for at in (0..=of).rev() {
            let Step::Apply(function, below) = &self.steps[at] else { continue };
            if slopes[at] == 0.0 {
                continue;
            }
            let inputs: Vec<f64> = below.iter().map(|&at| values[at]).collect();
            for (k, &input) in below.iter().enumerate() {
                slopes[input] += slopes[at] * function.partial(k, &inputs, values[at]);
            }
        }
        slopes
    }

    /// What each entry brings to the variance of step `of`, to first order (JCGM 100:2008, 5.1.2): step and (c·u)².
    pub fn variances(&self, of: usize, values: &[f64]) -> Vec<(usize, f64)> {
        let slopes = self.derivatives(of, values);
        self.entries()
            .filter(|(at, _)| slopes[*at] != 0.0)
            .map(|(at, entry)| (at, (slopes[at] * entry.uncertainty) * (slopes[at] * entry.uncertainty)))
            .collect()
    }
}
