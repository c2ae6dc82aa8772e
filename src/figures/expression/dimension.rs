//! What one quantity times another gives: the products that mean something in this craft, in one table.
//!
//! A product that is not listed does not compile. A quotient must mean one thing, so a product whose quotient would be
//! ambiguous is listed one way only (`=>`).

use std::ops::{Add, Div, Mul, Sub};
use std::sync::Arc;

use super::{Figure, Function};
use crate::units::{
    Angle, Area, Count, Density, Ends, EndsToAWrap, FibreDiameter, FibreSection, Firmness, Length, LinearDensity, Loft,
    Mass, PackedDiameter, Picks, PicksToAnEnd, Quantity, Ratio, RootLinearDensity, RootYield, Rows, RowsToAStitch,
    Share, Slope, SpecificVolume, Speed, StitchDensity, Stitches, Time, Twist, TwistFactor, Wraps, WrapsDiameter,
    YarnPerArea, Yield,
};

/// A quantity that may be multiplied by `B`.
#[diagnostic::on_unimplemented(message = "the product of `{Self}` and `{B}` is not a quantity of the craft")]
pub trait Times<B>: Quantity {
    /// What the product is.
    type Out: Quantity;
}

/// A quantity that may be divided by `B`.
#[diagnostic::on_unimplemented(message = "the quotient of `{Self}` and `{B}` is not a quantity of the craft")]
pub trait Over<B>: Quantity {
    /// What the quotient is.
    type Out: Quantity;
}

/// A quantity whose square means something.
#[diagnostic::on_unimplemented(message = "the square of `{Self}` is not a quantity of the craft")]
pub trait Squared: Quantity {
    /// What the square is.
    type Out: Quantity;
}

/// A quantity whose square root means something.
#[diagnostic::on_unimplemented(message = "the square root of `{Self}` is not a quantity of the craft")]
pub trait Rooted: Quantity {
    /// What the root is.
    type Out: Quantity;
}

/// `[A * B = C]` gives both products and both quotients; `[A * B => C]` and `[A / B => C]` give only what they say.
macro_rules! products {
    ($([$($rule:tt)*])*) => {$( product! { $($rule)* } )*};
}
macro_rules! product {
    ($a:ident * $b:ident = $c:ident) => {
        impl Times<$b> for $a {
            type Out = $c;
        }
        impl Times<$a> for $b {
            type Out = $c;
        }
        impl Over<$a> for $c {
            type Out = $b;
        }
        impl Over<$b> for $c {
            type Out = $a;
        }
    };
    ($a:ident * $b:ident => $c:ident) => {
        impl Times<$b> for $a {
            type Out = $c;
        }
    };
    ($a:ident / $b:ident => $c:ident) => {
        impl Over<$b> for $a {
            type Out = $c;
        }
    };
    ($a:ident ^ 2 = $c:ident) => {
        impl Squared for $a {
            type Out = $c;
        }
        impl Rooted for $c {
            type Out = $a;
        }
    };
    ($a:ident ^ 2 => $c:ident) => {
        impl Squared for $a {
            type Out = $c;
        }
    };
    (root $a:ident => $c:ident) => {
        impl Rooted for $a {
            type Out = $c;
        }
    };
}

products! {
    // Yarn: how heavy, how thick.
    [LinearDensity * Length = Mass]
    [Yield * Mass = Length]
    [RootYield ^ 2 = Yield]
    [Loft * RootYield = Wraps]
    [Loft ^ 2 => Density]
    [Wraps * Length => Count]
    [RootLinearDensity ^ 2 = LinearDensity]
    // Twist and the wheel.
    [Twist * Length = Count]
    [Twist * RootLinearDensity = TwistFactor]
    [WrapsDiameter * Twist = Slope]
    [Slope * Wraps => Twist]
    [Twist / Wraps => Slope]
    [Ratio / Twist => Length]
    [Ratio / Length => Twist]
    [Ratio * Length => Length]
    [Speed * Time = Count]
    [Count / Ratio => Count]
    [Ratio * Count => Count]
    // Fibre.
    [FibreDiameter ^ 2 = FibreSection]
    [Density * FibreSection => LinearDensity]
    [Share / Density => SpecificVolume]
    // Fabric.
    [Stitches * Rows => StitchDensity]
    [root StitchDensity => YarnPerArea]
    [YarnPerArea * Area = Length]
    [YarnPerArea * Length => Share]
    [Firmness * RootYield = Stitches]
    [Stitches * RowsToAStitch => Rows]
    [Wraps * EndsToAWrap => Ends]
    [Ends * PicksToAnEnd => Picks]
    [Share / Stitches => Length]
    [Length * StitchDensity => YarnPerArea]
    [Stitches * Length => Count]
    [Count / Stitches => Length]
    [Ends * Length => Count]
    [Picks * Length => Count]
    [Share / Rows => Length]
    [Rows * Length => Count]
    [Count / Rows => Length]
    [Length ^ 2 = Area]
    [Length * Length => Area]
    [Area / Length => Length]
    [Slope ^ 2 => Share]
    // Pure numbers.
    [Share * Share => Share]
    [Share / Share => Share]
    [Share * Count => Count]
    [Count * Share => Count]
    [Count / Share => Count]
    [Count * Count => Count]
    [Count / Count => Share]
    [Share ^ 2 => Share]
    [root Share => Share]
    [root Count => Count]
    [Slope * Share => Slope]
    [Share * Slope => Slope]
    [Slope / Share => Slope]
    [Slope / Slope => Share]
}

/// Any quantity may be scaled by a share or a count, and compared with itself.
macro_rules! scaled {
    ($($q:ident)*) => {$(
        impl Times<Share> for $q { type Out = $q; }
        impl Times<$q> for Share { type Out = $q; }
        impl Over<Share> for $q { type Out = $q; }
        impl Times<Count> for $q { type Out = $q; }
        impl Over<Count> for $q { type Out = $q; }
        impl Over<$q> for $q { type Out = Share; }
    )*};
}

scaled! {
    Mass Length Area LinearDensity Yield RootYield Wraps WrapsDiameter PackedDiameter Twist Angle FibreDiameter FibreSection
    Stitches Rows Ends Picks Firmness StitchDensity YarnPerArea Loft Density TwistFactor RootLinearDensity
}

impl Times<Share> for Ratio {
    type Out = Ratio;
}
impl Over<Share> for Ratio {
    type Out = Ratio;
}
impl Over<Ratio> for Ratio {
    type Out = Share;
}

/// One over a quantity: yield and linear density are each other's, wraps and their diameter too.
pub trait Reciprocal: Quantity {
    /// What the reciprocal is.
    type Out: Quantity;
}

macro_rules! reciprocals {
    ($($a:ident / $b:ident;)*) => {$(
        impl Reciprocal for $a { type Out = $b; }
        impl Reciprocal for $b { type Out = $a; }
    )*};
}

reciprocals! {
    Yield / LinearDensity;
    Wraps / WrapsDiameter;
    Density / SpecificVolume;
}

macro_rules! operator {
    ($operator:ident $method:ident $trait:ident $function:ident) => {
        impl<A: $trait<B>, B> $operator<&Figure<B>> for &Figure<A> {
            type Output = Figure<<A as $trait<B>>::Out>;
            fn $method(self, other: &Figure<B>) -> Self::Output {
                Figure::apply(Function::$function, vec![Arc::clone(&self.node), Arc::clone(&other.node)])
            }
        }
        operator!(forms $operator $method [A: $trait<B>, B] Figure<A>, Figure<B>, Figure<<A as $trait<B>>::Out>);
    };
    ($operator:ident $method:ident $function:ident) => {
        impl<Q: Quantity> $operator<&Figure<Q>> for &Figure<Q> {
            type Output = Figure<Q>;
            fn $method(self, other: &Figure<Q>) -> Self::Output {
                Figure::apply(Function::$function, vec![Arc::clone(&self.node), Arc::clone(&other.node)])
            }
        }
        operator!(forms $operator $method [Q: Quantity] Figure<Q>, Figure<Q>, Figure<Q>);
    };
    (forms $operator:ident $method:ident [$($bounds:tt)*] $left:ty, $right:ty, $out:ty) => {
        impl<$($bounds)*> $operator<$right> for $left {
            type Output = $out;
            fn $method(self, other: $right) -> Self::Output { $operator::$method(&self, &other) }
        }
        impl<$($bounds)*> $operator<&$right> for $left {
            type Output = $out;
            fn $method(self, other: &$right) -> Self::Output { $operator::$method(&self, other) }
        }
        impl<$($bounds)*> $operator<$right> for &$left {
            type Output = $out;
            fn $method(self, other: $right) -> Self::Output { $operator::$method(self, &other) }
        }
    };
}

operator!(Add add Add);
operator!(Sub sub Sub);
operator!(Mul mul Times Mul);
operator!(Div div Over Div);

fn single<A, B: Quantity>(function: Function, of: &Figure<A>) -> Figure<B> {
    Figure::apply(function, vec![Arc::clone(of.node())])
}

fn several<Q: Quantity>(function: Function, of: &[Figure<Q>]) -> Figure<Q> {
    Figure::apply(function, of.iter().map(|figure| Arc::clone(figure.node())).collect())
}

/// 1 − share.
pub fn rest(share: &Figure<Share>) -> Figure<Share> {
    one() - share
}

/// 1 + share.
pub fn with(share: &Figure<Share>) -> Figure<Share> {
    one() + share
}

/// The number one, of any quantity that is a pure number.
pub fn one<Q: Quantity>() -> Figure<Q> {
    Figure::constant("1", 1.0)
}

/// 1 ÷ a.
pub fn reciprocal<Q: Reciprocal>(of: &Figure<Q>) -> Figure<Q::Out> {
    Figure::apply(Function::Div, vec![Arc::clone(one::<Count>().node()), Arc::clone(of.node())])
}

/// a².
pub fn square<Q: Squared>(of: &Figure<Q>) -> Figure<Q::Out> {
    single(Function::Square, of)
}

/// √a.
pub fn root<Q: Rooted>(of: &Figure<Q>) -> Figure<Q::Out> {
    single(Function::Sqrt, of)
}

/// How many times greater something is, where it goes with the power `exponent` of something that is `times` greater.
pub fn power(times: &Figure<Share>, exponent: &Figure<Share>) -> Figure<Share> {
    Figure::apply(Function::Power, vec![Arc::clone(times.node()), Arc::clone(exponent.node())])
}

/// tan(angle).
pub fn tan(angle: &Figure<Angle>) -> Figure<Slope> {
    single(Function::Tan, angle)
}

/// The angle of a slope.
pub fn atan(slope: &Figure<Slope>) -> Figure<Angle> {
    single(Function::Atan, slope)
}

/// sin(angle).
pub fn sin(angle: &Figure<Angle>) -> Figure<Share> {
    single(Function::Sin, angle)
}

/// cos(angle).
pub fn cos(angle: &Figure<Angle>) -> Figure<Share> {
    single(Function::Cos, angle)
}

/// The sum of one or more figures.
pub fn sum<Q: Quantity>(of: &[Figure<Q>]) -> Figure<Q> {
    several(Function::Sum, of)
}

/// The least of one or more figures.
pub fn least<Q: Quantity>(of: &[Figure<Q>]) -> Figure<Q> {
    several(Function::Least, of)
}

/// The greatest of one or more figures.
pub fn greatest<Q: Quantity>(of: &[Figure<Q>]) -> Figure<Q> {
    several(Function::Greatest, of)
}

/// The mean width of two to six touching circles with these diameters.
pub fn touching<Q: Quantity>(diameters: &[Figure<Q>]) -> Figure<Q> {
    several(Function::Touching, diameters)
}
