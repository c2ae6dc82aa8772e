//! The quantities of the craft, once as run-time names ([`Kind`]) and once as compile-time markers ([`Quantity`]).
//!
//! A marker is what a typed figure or a reading of the plan carries; a kind is what the unit tables are keyed by.
//! Base units are coherent (m, g, g/m, turns/m, rad, 1/m), so that no formula holds a factor of conversion.
//! What one kind times another gives is not said here but beside the expressions, in `figures::dimension`.

/// What is measured. Each kind has one table of units; its base unit has the factor one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// Mass; base gram.
    Mass,
    /// Length; base metre.
    Length,
    /// Area; base square metre.
    Area,
    /// Mass per length of yarn; base gram per metre (1 tex = 0.001 g/m).
    LinearDensity,
    /// Length per mass of yarn, the reciprocal of linear density; base metre per gram.
    Yield,
    /// Wraps side by side per length; base one per metre.
    Wraps,
    /// Turns of twist per length; base turns per metre.
    Twist,
    /// Flyer turns per turn of the wheel; base one to one.
    Ratio,
    /// Plane angle; base radian.
    Angle,
    /// A share of something, or a slope or pure factor; base one.
    Share,
    /// Diameter of a fibre; base metre.
    FibreDiameter,
    /// Stitches per length; base one per metre.
    Stitches,
    /// Rows per length; base one per metre.
    Rows,
    /// Warp threads per width; base one per metre.
    Ends,
    /// Weft threads per length; base one per metre.
    Picks,
    /// Stitches over the root of yield, how firm a fabric is worked; base √g/m^1.5.
    Firmness,
    /// Length of yarn per area of fabric; base one per metre.
    YarnPerArea,
    /// Wraps over the root of yield (K), how lofty a yarn is; base √g/m^1.5.
    Loft,
    /// Mass per volume; base gram per cubic metre.
    Density,
    /// Twist times the root of linear density; base turns·√(g/m)/m.
    TwistFactor,
    /// A number of things (plies, braids, turns, treadles, fibres); base one.
    Count,
    /// Duration; base second.
    Time,
    /// Temperature; base degree Celsius. Only printed back, never added.
    Temperature,
    /// Turns per time; base turns per second.
    Speed,
    /// Money, in the currency written. Only printed back, never converted.
    Money,
}

impl Kind {
    /// Every kind, in the order in which a quantity of unknown kind is tried.
    pub const ALL: [Self; 25] = [
        Self::Mass,
        Self::Length,
        Self::Area,
        Self::LinearDensity,
        Self::Yield,
        Self::Wraps,
        Self::Twist,
        Self::Ratio,
        Self::Angle,
        Self::Share,
        Self::FibreDiameter,
        Self::Stitches,
        Self::Rows,
        Self::Ends,
        Self::Picks,
        Self::Firmness,
        Self::YarnPerArea,
        Self::Loft,
        Self::Density,
        Self::TwistFactor,
        Self::Count,
        Self::Time,
        Self::Temperature,
        Self::Speed,
        Self::Money,
    ];

    /// The kind in plain words with its article, for messages.
    pub fn words(self) -> &'static str {
        match self {
            Self::Mass => "a weight",
            Self::Length => "a length",
            Self::Area => "an area",
            Self::LinearDensity => "a weight per length of yarn",
            Self::Yield => "a length per weight of yarn",
            Self::Wraps => "wraps per length",
            Self::Twist => "turns per length",
            Self::Ratio => "a ratio",
            Self::Angle => "an angle",
            Self::Share => "a share",
            Self::FibreDiameter => "a fibre diameter",
            Self::Stitches => "stitches per length",
            Self::Rows => "rows per length",
            Self::Ends => "ends per length",
            Self::Picks => "picks per length",
            Self::Firmness => "a firmness of fabric",
            Self::YarnPerArea => "a length of yarn per area",
            Self::Loft => "a loft",
            Self::Density => "a density",
            Self::TwistFactor => "a twist factor",
            Self::Count => "a number of things",
            Self::Time => "a time",
            Self::Temperature => "a temperature",
            Self::Speed => "a speed of turning",
            Self::Money => "an amount of money",
        }
    }

    /// The kind that measures the same yarn the other way up, where there is one.
    pub fn reciprocal(self) -> Option<Self> {
        match self {
            Self::LinearDensity => Some(Self::Yield),
            Self::Yield => Some(Self::LinearDensity),
            Self::Mass
            | Self::Length
            | Self::Area
            | Self::Wraps
            | Self::Twist
            | Self::Ratio
            | Self::Angle
            | Self::Share
            | Self::FibreDiameter
            | Self::Stitches
            | Self::Rows
            | Self::Ends
            | Self::Picks
            | Self::Firmness
            | Self::YarnPerArea
            | Self::Loft
            | Self::Density
            | Self::TwistFactor
            | Self::Count
            | Self::Time
            | Self::Temperature
            | Self::Speed
            | Self::Money => None,
        }
    }
}

/// A compile-time marker of a quantity.
pub trait Quantity: 'static {
    /// The run-time name of the same quantity.
    const KIND: Kind;
}

macro_rules! quantities {
    ($($(#[$doc:meta])* $name:ident = $kind:ident;)*) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        pub enum $name {}
        impl Quantity for $name { const KIND: Kind = Kind::$kind; }
    )*};
}

quantities! {
    /// Mass.
    Mass = Mass;
    /// Length.
    Length = Length;
    /// Area.
    Area = Area;
    /// Mass per length.
    LinearDensity = LinearDensity;
    /// Length per mass.
    Yield = Yield;
    /// The square root of length per mass.
    RootYield = Share;
    /// Wraps per length.
    Wraps = Wraps;
    /// One over the wraps of a hand-wound sample.
    WrapsDiameter = Length;
    /// The handbook cylinder of a yarn; about half the wraps diameter, and never mixed with it.
    PackedDiameter = Length;
    /// Turns per length.
    Twist = Twist;
    /// Flyer turns per turn of the wheel.
    Ratio = Ratio;
    /// Angle.
    Angle = Angle;
    /// Tangent of an angle.
    Slope = Share;
    /// Share of a whole, or a pure factor.
    Share = Share;
    /// Diameter of a fibre.
    FibreDiameter = FibreDiameter;
    /// Cross-section of a fibre.
    FibreSection = Area;
    /// Stitches per length.
    Stitches = Stitches;
    /// Rows per length.
    Rows = Rows;
    /// Warp threads per width.
    Ends = Ends;
    /// Weft threads per length.
    Picks = Picks;
    /// Stitches per area.
    StitchDensity = Share;
    /// Rows to a stitch of one length.
    RowsToAStitch = Share;
    /// Ends to a wrap of one width.
    EndsToAWrap = Share;
    /// Picks to an end.
    PicksToAnEnd = Share;
    /// Stitches over the root of yield.
    Firmness = Firmness;
    /// Length of yarn per area of fabric.
    YarnPerArea = YarnPerArea;
    /// Wraps over the root of yield.
    Loft = Loft;
    /// Mass per volume.
    Density = Density;
    /// Volume per mass.
    SpecificVolume = Share;
    /// Twist times root of linear density.
    TwistFactor = TwistFactor;
    /// The square root of linear density.
    RootLinearDensity = Share;
    /// A number of things.
    Count = Count;
    /// Duration.
    Time = Time;
    /// Temperature.
    Temperature = Temperature;
    /// Turns per time.
    Speed = Speed;
    /// Money.
    Money = Money;
}
