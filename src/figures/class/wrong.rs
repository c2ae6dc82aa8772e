//! Slips that teachers of the craft know: what went wrong, and what to try next.
//!
//! Which slips students make: common practice, no source, and published craft articles. What is said of each is our wording.

macro_rules! slips {
    ($( $(#[doc = $doc:literal])+ $name:ident = $word:literal, $next:literal; )+) => {
        /// What went wrong.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Wrong {
            $( $(#[doc = $doc])+ $name, )+
        }

        impl Wrong {
            /// All of them, in the order of the key.
            pub const ALL: &'static [Self] = &[$( Self::$name, )+];

            /// What went wrong, in a few words.
            pub fn words(self) -> &'static str {
                match self { $( Self::$name => $word, )+ }
            }

            /// What to try next.
            pub fn next(self) -> &'static str {
                match self { $( Self::$name => $next, )+ }
            }
        }
    };
}

slips! {
    /// Each press of either foot was counted as a turn.
    BothFeet = "both feet counted",
        "Tie a thread to one treadle and count only that one: one press of it is one turn of the wheel.";
    /// Each turn was counted twice.
    TwiceCounted = "each turn counted twice",
        "Turn the wheel slowly, ten times by its spoke, and count the thread each time it comes up.";
    /// Each bump of a plied yarn was counted as a twist.
    Bumps = "bumps counted for twists",
        "Follow one ply with a needle: it comes up once for each full twist.";
    /// A quotient was taken the wrong way round.
    UpsideDown = "divided the wrong way round",
        "Say it in words first: so much of this for one of that. What stands after \"for one\" is divided by.";
    /// Two numbers were multiplied that had to be divided.
    Multiplied = "multiplied where it is divided",
        "Try it with easy numbers, such as ten and two, and see whether the answer can be.";
    /// A sum was not divided by how many went into it.
    NotDivided = "not divided by how many there are",
        "A mean lies between the least and the greatest reading; look whether yours does.";
    /// The last step was left out.
    LastStep = "the last step left out",
        "Read the question again and look at the unit that it asks for.";
    /// The edges were counted in place of what lies between them.
    OneMore = "the first edge counted too",
        "Begin to count at nought, not at one.";
    /// A share was multiplied by that had to be divided by, or the reverse.
    WrongWay = "applied the wrong way round",
        "Ask which of the two must be the greater, before you work it out.";
    /// The rule for two plies was used for more.
    OneAndAHalf = "one and a half used for more than two plies",
        "One and a half is the rule of two plies; each number of plies has its own.";
    /// Nothing was taken for lost in plying.
    NothingLost = "all the twist of the singles taken",
        "Plying unwinds the singles: the balanced yarn has less twist than went in.";
    /// The bag or bobbin was not subtracted.
    NotEmpty = "the empty bag or bobbin not subtracted",
        "Weigh it empty, write that on it, and take it off before anything else.";
    /// The bag or bobbin was added.
    BagAdded = "the bag added",
        "The bag hangs on the scale as well: its weight comes off.";
    /// The bag or bobbin was subtracted from each part.
    EmptyTooOften = "the empty bag subtracted from each part",
        "Take it off once, before you divide.";
    /// Per cent was taken for a number.
    PerCent = "per cent taken as a whole number",
        "Five per cent is five in a hundred: nought point nought five.";
    /// A loss was reckoned on what is left, or added where it is lost.
    AsGrowth = "shrinkage reckoned as growth",
        "Shrinkage is a share of what there was before: divide by the unwashed length, and take it off.";
    /// What goes was taken for what stays.
    TheLost = "what is lost taken for what is left",
        "If five in a hundred go, ninety-five stay.";
    /// A ratio was taken for how much further it goes.
    OneNotOff = "the one not taken off",
        "So many times as much: take one off, and what is left is how much more it is.";
    /// A part was taken for the whole with it.
    OnlyThePart = "only the reserve",
        "The reserve comes on top: add it to the yarn.";
    /// Half a loop was taken for a loop.
    HalfLoop = "half a loop taken as a loop",
        "Lay one loop flat and measure all the way round, there and back.";
    /// Yarn was measured stretched, before its wash.
    Stretched = "measured stretched, before the wash",
        "Measure the washed skein at rest: yarn on a reel is longer than it will ever be again.";
    /// Yarn was weighed damp.
    Damp = "weighed damp",
        "Let it dry a day in the room where the scale stands, then weigh it.";
    /// Units of two systems were mixed.
    Mixed = "yards with grams, or ounces with metres",
        "Choose one system and stay in it down the whole line.";
    /// Counts were averaged where weight and length have to be.
    MeanOfCounts = "mean of the counts taken",
        "Put all the weight together and all the length together, then divide once.";
    /// The other one was taken for the whole.
    WrongWhole = "compared with the wrong one",
        "What comes after \"than\" is what you divide by.";
    /// The swatch was measured before its wash.
    Unwashed = "measured before the wash",
        "Wash the swatch as the garment will be washed, dry it, then measure.";
    /// Only the width was compared.
    OneSide = "only the width compared",
        "Yarn goes with area: width times length, of both.";
    /// The number of plies or strips was left out.
    NotShared = "not divided by the strips",
        "Each strip has only its part of the section.";
    /// The second strip was not turned round.
    NotTurned = "the second strip not turned round",
        "Write the second list backwards first, then look down both.";
    /// The other ones were counted.
    TheOthers = "the marled places counted",
        "Solid is where both plies have one colour.";
    /// A reserve was taken off.
    TakenOff = "taken off where it is added",
        "A reserve makes the number greater.";
    /// Something was left out.
    LeftOut = "one of the numbers left out",
        "Tick off each given number once you have used it; one is left over.";
    /// Rounded down.
    RoundedDown = "rounded down",
        "Half a braid cannot be bought: go up to the next whole one.";
    /// The mean was taken for the median.
    MeanForMedian = "mean taken for the median",
        "Write the readings in order and take the one in the middle; a wild one does not move it.";
    /// The middle of a list was taken that is not in order.
    AsPrinted = "the middle one as printed",
        "Put the weights in order first, then take the one in the middle.";
    /// Bobbins were paired as they came.
    InOrder = "paired as they came",
        "Try all three ways with the first bobbin, and add up each pair.";
    /// Like bobbins were paired.
    LikeWithLike = "like paired with like",
        "The heaviest wants the lightest beside it.";
    /// The diameter was taken for the radius.
    Radius = "diameter taken for the radius",
        "Half of what you measured across is the radius; its square is a quarter.";
    /// The root was left out.
    NoRoot = "the root left out",
        "Thickness goes with the root of the length per weight: four times as long is half as thick.";
    /// Every letter was turned round.
    Mirrored = "read in a mirror",
        "Hold the yarn upright, and look whether it leans like the middle of an S or of a Z.";
    /// A sum was halved that is none of a mean.
    Halved = "halved, as a mean is",
        "The plies lie side by side: their weights add up.";
    /// The share of the other ply was taken.
    OtherPly = "the share of the other ply",
        "Look once more which ply is asked for.";
    /// Counts were added.
    CountsAdded = "the counts added and halved",
        "A greater count is a finer yarn: add what each weighs, not the counts.";
    /// Fibres were measured doubled.
    Doubled = "the lock measured doubled",
        "Lay one lock straight on the table, pulled only until it lies flat.";
}
