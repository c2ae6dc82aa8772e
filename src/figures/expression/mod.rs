//! Figures as expressions: a formula is written once, and everything else is a way of reading it.
//!
//! A formula is one ordinary function over [`Figure`]s. Arithmetic on figures builds an expression and keeps it:
//!
//! ```
//! use wheelsheet::figures::expression::{Figure, Formula, exact, tan, pi};
//! use wheelsheet::units::{Angle, Share, Standing, Twist, WrapsDiameter};
//!
//! /// tan(angle) = π · diameter · twist, solved for the twist.
//! fn twist_at(angle: &Figure<Angle>, diameter: &Figure<WrapsDiameter>) -> Figure<Twist> {
//!     (tan(angle) / (pi::<Share>() * diameter)).by(&Formula { source: "Helix, geometry", standing: Standing::Standard })
//! }
//! let twist = twist_at(&exact("angle", 0.5), &exact("diameter", 0.002)).named("plied.twist", "ply twist");
//! assert!((twist.value() - 0.5463024898437905 / (0.002 * std::f64::consts::PI)).abs() < 1e-9);
//! ```
//!
//! From the one expression come the value ([`Figure::value`]), ten thousand draws ([`draws`]), derivatives ([`tape`]),
//! and the line of the workings in words and in numbers ([`text`]).
//!
//! # Dimensions
//! A figure carries its quantity as a type, and the products that mean something are listed in [`dimension`].
//! Grams added to metres do not compile, nor does the packed diameter of a handbook where a wraps diameter is meant.
//! This compiles:
//! ```
//! # use wheelsheet::figures::expression::{Figure, pi};
//! # use wheelsheet::units::{Share, Slope, Twist, WrapsDiameter, PackedDiameter};
//! fn slope(diameter: &Figure<WrapsDiameter>, twist: &Figure<Twist>) -> Figure<Slope> { pi::<Share>() * diameter * twist }
//! ```
//! and its twin, which differs in one type, does not:
//! ```compile_fail
//! # use wheelsheet::figures::expression::{Figure, pi};
//! # use wheelsheet::units::{Share, Slope, Twist, WrapsDiameter, PackedDiameter};
//! fn slope(diameter: &Figure<PackedDiameter>, twist: &Figure<Twist>) -> Figure<Slope> { pi::<Share>() * diameter * twist }
//! ```
//!
//! # What is deliberately not here
//! Units of display (a node holds base units only), rounding (it has no derivative: whole numbers are choices, entered as
//! [`exact`]), and reading of plans.

use std::hash::{Hash, Hasher};
use std::marker::PhantomData;
use std::sync::Arc;

use siphasher::sip128::{Hasher128, SipHasher13};

use crate::units::{Kind, Quantity, Standing};

pub mod dimension;
pub mod draws;
mod function;
pub mod tape;
pub mod text;
mod touching;

pub use dimension::{atan, cos, greatest, least, power, rest, root, sin, sum, tan, touching, with};
pub use function::Function;

/// A number of the plan's world: an expression, its value in base units, and its quantity as a type.
pub struct Figure<Q> {
    node: Arc<Node>,
    quantity: PhantomData<fn() -> Q>,
}

/// One operation of an expression, with what it works on and its value at the nominal point.
///
/// `below` is a field here and not of [`Op`], so that [`Drop`] can take deep expressions down without recursion.
#[derive(Debug)]
pub struct Node {
    op: Op,
    below: Vec<Arc<Node>>,
    value: f64,
    kind: Kind,
    hash: u128,
}

/// What a node does.
#[derive(Debug, Clone, PartialEq)]
pub enum Op {
    /// A number that comes from outside the expression.
    Entry(Entry),
    /// A number that is what it is, such as π.
    Constant(Constant),
    /// A figure with a name in the ledger; its one operand is its formula.
    Named(Named),
    /// A function of the operands.
    Apply(Function),
}

/// A number from outside: an entry of the plan or log, a default, or a choice.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// Where it stands; also its identity as a random variable: two entries at one place are one variable.
    pub place: String,
    /// What it is called in a formula, as a noun ("wash-shortens").
    pub words: String,
    /// Nominal value in base units.
    pub value: f64,
    /// Standard uncertainty in base units; zero for an exact number.
    pub uncertainty: f64,
    /// How draws of it are spread.
    pub shape: Shape,
}

/// A constant of a formula.
#[derive(Debug, Clone, PartialEq)]
pub struct Constant {
    /// What is printed for it, in words and in numbers alike.
    pub words: &'static str,
    /// Its value.
    pub value: f64,
}

/// The name of a figure.
#[derive(Debug, Clone, PartialEq)]
pub struct Named {
    /// Its place in the ledger, such as `singles.twist`; empty until [`Figure::named`] gives one.
    pub name: String,
    /// What it is called in a formula, as a noun.
    pub words: String,
    /// Where the formula comes from.
    pub formula: &'static Formula,
}

/// Where a formula comes from.
#[derive(Debug, PartialEq)]
pub struct Formula {
    /// Author, title and page; or "common practice", "our choice" with the reason.
    pub source: &'static str,
    /// How well founded it is.
    pub standing: Standing,
}

/// How draws of an entry are spread about its nominal value.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Shape {
    /// Normal; the nominal value is mean and median.
    Normal,
    /// Log-normal; the nominal value is the median, and no draw is negative.
    LogNormal,
    /// Equal likelihood within ± √3 standard uncertainties (JCGM 101:2008, 6.4.2).
    Rectangular,
    /// A cycling quantity, within ± √2 standard uncertainties (JCGM 101:2008, 6.4.6).
    Arcsine,
}

impl<Q: Quantity> Figure<Q> {
    /// A figure that is an entry.
    pub fn entry(entry: Entry) -> Self {
        Self::over(Op::Entry(entry), Vec::new())
    }

    /// A figure that is a constant.
    pub fn constant(words: &'static str, value: f64) -> Self {
        Self::over(Op::Constant(Constant { words, value }), Vec::new())
    }

    pub(crate) fn apply(function: Function, below: Vec<Arc<Node>>) -> Self {
        Self::over(Op::Apply(function), below)
    }

    fn over(op: Op, below: Vec<Arc<Node>>) -> Self {
        Self { node: Arc::new(Node::new(op, below, Q::KIND)), quantity: PhantomData }
    }

    /// A figure around an expression of its quantity; the ledger looks it up by name.
    pub(crate) fn from_node(node: Arc<Node>) -> Self {
        Self { node, quantity: PhantomData }
    }

    /// The same figure, said to follow from `formula`.
    #[must_use]
    pub fn by(self, formula: &'static Formula) -> Self {
        let named = Named { name: String::new(), words: String::new(), formula };
        Self::over(Op::Named(named), vec![self.node])
    }

    /// The same figure with its name in the ledger and its noun in formulas.
    ///
    /// # Panics
    /// When no [`Figure::by`] went before: a figure without a formula has no place in the ledger.
    #[must_use]
    pub fn named(self, name: impl Into<String>, words: impl Into<String>) -> Self {
        let Op::Named(named) = &self.node.op else {
            panic!("invariant: a formula says by what it holds before it is named")
        };
        let named = Named { name: name.into(), words: words.into(), formula: named.formula };
        Self::over(Op::Named(named), self.node.below.clone())
    }
}

impl<Q> Figure<Q> {
    /// The value at the nominal point, in base units; not finite where the plan asks for the impossible.
    pub fn value(&self) -> f64 {
        self.node.value
    }

    /// The expression.
    pub fn node(&self) -> &Arc<Node> {
        &self.node
    }

    /// The same number taken as another quantity. For the rare step where a kind changes its meaning,
    /// such as a count of wraps becoming the diameter they imply; kept to [`dimension`] and formulas that say why.
    pub(crate) fn seen_as<R: Quantity>(&self) -> Figure<R> {
        Figure { node: Arc::clone(&self.node), quantity: PhantomData }
    }
}

impl<Q> Clone for Figure<Q> {
    fn clone(&self) -> Self {
        Self { node: Arc::clone(&self.node), quantity: PhantomData }
    }
}

impl<Q> std::fmt::Debug for Figure<Q> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} = {}", text::words(&self.node), self.node.value)
    }
}

impl<Q> Hash for Figure<Q> {
    fn hash<H: Hasher>(&self, state: &mut H) {
        state.write_u128(self.node.hash);
    }
}

/// π.
pub fn pi<Q: Quantity>() -> Figure<Q> {
    Figure::constant("π", std::f64::consts::PI)
}

/// A number without spread that is no reading of the plan: a choice, a whole number, an input of a test.
/// Its words are its identity.
pub fn exact<Q: Quantity>(words: &str, value: f64) -> Figure<Q> {
    Figure::entry(Entry {
        place: format!("choice.{words}"),
        words: words.to_owned(),
        value,
        uncertainty: 0.0,
        shape: Shape::Normal,
    })
}

impl Node {
    fn new(op: Op, below: Vec<Arc<Self>>, kind: Kind) -> Self {
        let value = match &op {
            Op::Entry(entry) => entry.value,
            Op::Constant(constant) => constant.value,
            Op::Named(_) => below[0].value,
            Op::Apply(function) => function.value(&below.iter().map(|node| node.value).collect::<Vec<_>>()),
        };
        let hash = structure(&op, &below, kind);
        Self { op, below, value, kind, hash }
    }

    /// The same operation on other operands; a named figure under another name, with a word before its noun.
    pub(crate) fn standing_on(&self, below: Vec<Arc<Self>>, named: Option<(&str, &str)>) -> Arc<Self> {
        let op = match (&self.op, named) {
            (Op::Named(old), Some((name, word))) => {
                Op::Named(Named { name: name.to_owned(), words: format!("{word} {}", old.words), formula: old.formula })
            }
            (op, _) => op.clone(),
        };
        Arc::new(Self::new(op, below, self.kind))
    }

    /// What the node does.
    pub fn op(&self) -> &Op {
        &self.op
    }

    /// What it works on.
    pub fn below(&self) -> &[Arc<Self>] {
        &self.below
    }

    /// Its value at the nominal point, in base units.
    pub fn value(&self) -> f64 {
        self.value
    }

    /// The kind of its quantity.
    pub fn kind(&self) -> Kind {
        self.kind
    }

    /// The hash of its structure: equal expressions hash equally, in every process.
    pub fn structure(&self) -> u128 {
        self.hash
    }

    /// Its name in the ledger, if it has one.
    pub fn name(&self) -> Option<&str> {
        match &self.op {
            Op::Named(named) if !named.name.is_empty() => Some(&named.name),
            _ => None,
        }
    }
}

/// Equal expressions are one expression however often they are built; a changed spread alone is seen.
fn structure(op: &Op, below: &[Arc<Node>], kind: Kind) -> u128 {
    let mut hasher = SipHasher13::new_with_keys(0, 0);
    kind.hash(&mut hasher);
    match op {
        Op::Entry(entry) => {
            (0u8, &entry.place, &entry.words, entry.value.to_bits(), entry.uncertainty.to_bits(), entry.shape)
                .hash(&mut hasher);
        }
        Op::Constant(constant) => (1u8, constant.words, constant.value.to_bits()).hash(&mut hasher),
        Op::Named(named) => (2u8, &named.name, &named.words, named.formula.source).hash(&mut hasher),
        Op::Apply(function) => (3u8, function).hash(&mut hasher),
    }
    for node in below {
        hasher.write_u128(node.hash);
    }
    hasher.finish128().as_u128()
}

impl Drop for Node {
    /// A derived drop recurses, and overflows the stack on deep expressions.
    fn drop(&mut self) {
        let mut below = std::mem::take(&mut self.below);
        while let Some(term) = below.pop() {
            if let Some(mut node) = Arc::into_inner(term) {
                below.append(&mut node.below);
            }
        }
    }
}
