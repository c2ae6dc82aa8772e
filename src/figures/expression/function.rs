//! The functions an expression may hold, each defined once: over columns of numbers, with its partial derivatives.
//!
//! The nominal value is a column of length one. Transcendental functions come from `libm`, so that every machine
//! gets the same bits.

use super::touching;

/// A function of one or more operands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Function {
    /// a + b
    Add,
    /// a − b
    Sub,
    /// a × b
    Mul,
    /// a ÷ b
    Div,
    /// a²
    Square,
    /// √a
    Sqrt,
    /// aᵇ, for a above nought
    Power,
    /// tan(a)
    Tan,
    /// arctan(a)
    Atan,
    /// sin(a)
    Sin,
    /// cos(a)
    Cos,
    /// The sum of any number of operands.
    Sum,
    /// The least of any number of operands.
    Least,
    /// The greatest of any number of operands.
    Greatest,
    /// The mean width of two to six touching circles with these diameters.
    Touching,
}

impl Function {
    /// The value for one point.
    pub fn value(self, inputs: &[f64]) -> f64 {
        let columns: Vec<&[f64]> = inputs.iter().map(std::slice::from_ref).collect();
        let mut out = [0.0];
        self.column(&columns, &mut out);
        out[0]
    }

    /// The values for a column of points; every input is as long as `out`.
    pub fn column(self, inputs: &[&[f64]], out: &mut [f64]) {
        match self {
            Self::Add => two(inputs, out, |a, b| a + b),
            Self::Sub => two(inputs, out, |a, b| a - b),
            Self::Mul => two(inputs, out, |a, b| a * b),
            Self::Div => two(inputs, out, |a, b| a / b),
            Self::Square => one(inputs, out, |a| a * a),
            Self::Sqrt => one(inputs, out, f64::sqrt),
            Self::Power => two(inputs, out, libm::pow),
            Self::Tan => one(inputs, out, libm::tan),
            Self::Atan => one(inputs, out, libm::atan),
            Self::Sin => one(inputs, out, libm::sin),
            Self::Cos => one(inputs, out, libm::cos),
            Self::Sum => fold(inputs, out, |a, b| a + b),
            Self::Least => fold(inputs, out, f64::min),
            Self::Greatest => fold(inputs, out, f64::max),
            Self::Touching => {
                for (at, out) in out.iter_mut().enumerate() {
                    *out = touching::mean_width(&inputs.iter().map(|column| column[at]).collect::<Vec<_>>());
                }
            }
        }
    }

    /// The derivative by operand `k`, at `inputs` where the function gives `result`.
    pub fn partial(self, k: usize, inputs: &[f64], result: f64) -> f64 {
        match self {
            Self::Add | Self::Sum => 1.0,
            Self::Sub => [1.0, -1.0][k],
            Self::Mul => inputs[1 - k],
            Self::Div => [1.0 / inputs[1], -result / inputs[1]][k],
            Self::Square => 2.0 * inputs[0],
            Self::Sqrt => 0.5 / result,
            Self::Power => [inputs[1] * libm::pow(inputs[0], inputs[1] - 1.0), result * libm::log(inputs[0])][k],
            Self::Tan => 1.0 + result * result,
            Self::Atan => 1.0 / (1.0 + inputs[0] * inputs[0]),
            Self::Sin => libm::cos(inputs[0]),
            Self::Cos => -libm::sin(inputs[0]),
            // Equal operands share the derivative, so that swapping them changes nothing.
            Self::Least | Self::Greatest => {
                let reached = inputs.iter().filter(|&&x| x == result).count();
                if inputs[k] == result { 1.0 / reached as f64 } else { 0.0 }
            }
            Self::Touching => touching::derivative(inputs, k),
        }
    }

    /// Whether the value never falls when operand `k` alone rises, wherever it stands, and the others stay at `inputs`.
    /// Where that cannot be said, no.
    pub fn rises(self, k: usize, inputs: &[f64]) -> bool {
        match self {
            Self::Add | Self::Sum | Self::Least | Self::Greatest | Self::Sqrt | Self::Atan => true,
            Self::Sub => k == 0,
            Self::Mul => inputs[1 - k] > 0.0,
            Self::Div => k == 0 && inputs[1] > 0.0,
            Self::Power => [inputs[1] >= 0.0, inputs[0] >= 1.0][k],
            Self::Square | Self::Tan | Self::Sin | Self::Cos | Self::Touching => false,
        }
    }
}

fn one(inputs: &[&[f64]], out: &mut [f64], f: impl Fn(f64) -> f64) {
    for (out, &a) in out.iter_mut().zip(inputs[0]) {
        *out = f(a);
    }
}

fn two(inputs: &[&[f64]], out: &mut [f64], f: impl Fn(f64, f64) -> f64) {
    for ((out, &a), &b) in out.iter_mut().zip(inputs[0]).zip(inputs[1]) {
        *out = f(a, b);
    }
}

fn fold(inputs: &[&[f64]], out: &mut [f64], f: impl Fn(f64, f64) -> f64) {
    out.copy_from_slice(inputs[0]);
    for input in &inputs[1..] {
        for (out, &x) in out.iter_mut().zip(*input) {
            *out = f(*out, x);
        }
    }
}
