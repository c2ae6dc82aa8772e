//! What is said of each exercise: to the student what it is good for and what to do, to the teacher how long it takes and what to
//! bring.
//!
//! Which exercises are taught, and in which order: common practice, no source, and published craft texts. Minutes are our choice.

use crate::plan::Exercise;

/// What is said of an exercise.
pub(super) struct Told {
    /// What it is called.
    pub(super) title: &'static str,
    /// What it is good for.
    pub(super) goal: &'static str,
    /// What is done.
    pub(super) steps: &'static [&'static str],
    /// What the student measures: name, and units metric and in inches.
    pub(super) blanks: &'static [(&'static str, &'static str, &'static str)],
    /// Minutes.
    pub(super) minutes: usize,
    /// What to bring.
    pub(super) bring: &'static str,
    /// What can hurt.
    pub(super) hurts: Option<Hurt>,
    /// What is drawn.
    pub(super) picture: Option<&'static str>,
}

/// What can hurt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Hurt {
    /// A moving flyer, and feet and hands that tire.
    Wheel,
    /// Dust of fibre.
    Dust,
    /// A hot bath.
    Bath,
    /// Dye that runs.
    Dye,
}

impl Told {
    const fn new(title: &'static str, goal: &'static str, minutes: usize, bring: &'static str) -> Self {
        Self { title, goal, steps: &[], blanks: &[], minutes, bring, hurts: None, picture: None }
    }

    const fn steps(self, steps: &'static [&'static str]) -> Self {
        Self { steps, ..self }
    }

    const fn blanks(self, blanks: &'static [(&'static str, &'static str, &'static str)]) -> Self {
        Self { blanks, ..self }
    }

    const fn hurts(self, hurts: Hurt) -> Self {
        Self { hurts: Some(hurts), ..self }
    }

    const fn picture(self, picture: &'static str) -> Self {
        Self { picture: Some(picture), ..self }
    }
}

/// What is said of it.
pub(super) fn told(exercise: Exercise) -> Told {
    match exercise {
        Exercise::Treadling => Told::new(
            "Treadling without fibre",
            "Your feet learn to go slowly and never to stop, so that your hands can think.",
            15,
            "the wheel, a watch",
        )
        .steps(&[
            "Treadle with nothing on the wheel until it goes on by itself.",
            "Start it with one hand, stop it, start it the other way.",
            "Count the presses of one foot for a minute, three times. The ratio says how often the flyer turns \
                    for one press.",
        ])
        .blanks(&[("first minute", "", ""), ("second minute", "", ""), ("third minute", "", "")])
        .hurts(Hurt::Wheel),
        Exercise::Directions => Told::new(
            "S and Z",
            "A yarn leans like the middle of an S or of a Z: spinning goes one way, plying the other.",
            10,
            "a plied yarn and a singles yarn for each",
        )
        .steps(&[
            "Hold a yarn upright and look which way it leans. Turned upside down it leans the same way.",
            "Untwist an end of a plied yarn: the singles in it lean the other way.",
        ]),
        Exercise::Staple => Told::new(
            "Staple length",
            "Hands stay closer together than a fibre is long, or the yarn drifts apart.",
            15,
            "fibre, a ruler, black paper",
        )
        .steps(&["Pull one lock from the end of the fibre, lay it straight on the paper, and measure it. \
                    Do it three times."])
        .blanks(&[("first lock", "cm", "in"), ("second lock", "cm", "in"), ("third lock", "cm", "in")])
        .hurts(Hurt::Dust)
        .picture("staple"),
        Exercise::Ratio => Told::new(
            "Measuring a ratio",
            "The ratio says how often the flyer turns while the wheel turns once; makers round it, \
                    bands slip, you can count it.",
            20,
            "a bright thread, the wheel",
        )
        .steps(&[
            "Tie a bright thread to one arm of the flyer.",
            "Turn the wheel ten times by hand, slowly, and count the thread. Do the same with another \
                    whorl.",
        ])
        .blanks(&[("first whorl, turns of the flyer", "", ""), ("second whorl, turns of the flyer", "", "")])
        .hurts(Hurt::Wheel)
        .picture("ratio"),
        Exercise::Treadles => Told::new(
            "Length per treadle",
            "How much yarn you let in for each press of the foot decides how much twist is in it.",
            25,
            "the wheel, a tape on your knee",
        )
        .steps(&["Spin with a mark on your lap, letting in the same length at each treadle. A draft is the yarn made \
                    before it winds on; twist is turns in a length."])
        .blanks(&[("what you let in at each treadle", "cm", "in")])
        .hurts(Hurt::Wheel),
        Exercise::Wraps => Told::new(
            "Wraps",
            "Everyone measures the same yarn, and no two get the same: that is why you measure three \
                    times and write all three.",
            20,
            "one yarn for all, a stick with two marks, a pencil",
        )
        .steps(&[
            "Roll the stick rather than wind the yarn, so that no twist goes in or out. Side by side, \
                    not squeezed, not pulled.",
            "Count between the marks, unwind, and do it twice more. Then write down what the others found.",
        ])
        .blanks(&[
            ("first count", "", ""),
            ("second count", "", ""),
            ("third count", "", ""),
            ("least in the class", "", ""),
            ("most in the class", "", ""),
        ])
        .picture("wraps"),
        Exercise::PlyBack => Told::new(
            "Ply-back and counting twists",
            "Fresh yarn that folds back on itself shows the yarn it wants to become, and how much \
                    twist is in it.",
            20,
            "the wheel, a needle",
        )
        .steps(&[
            "Draw a length off the bobbin as you spin, fold it, and let it twist up. Tie it to this sheet.",
            "Count full twists with a needle under one ply: bumps are twice as many.",
        ])
        .blanks(&[("twists that you count", "", ""), ("over a length of", "cm", "in")])
        .hurts(Hurt::Wheel)
        .picture("bumps"),
        Exercise::Balance => Told::new(
            "Balance and the loop test",
            "A balanced yarn hangs in an open loop; one that twists up has too much of one of the two \
                    twists.",
            20,
            "a plied skein, a bowl of warm water",
        )
        .steps(&[
            "Wet a length of plied yarn and let it hang in a loop. Open: balanced. Twisted up: look \
                    which way.",
            "Twisted up the way it is plied, it has too much ply twist; the other way, too little.",
        ])
        .picture("loop"),
        Exercise::Dividing => Told::new(
            "Dividing fibre by weight",
            "Plies come out equally long when they weigh the same before they are spun.",
            15,
            "fibre in a bag, a scale",
        )
        .steps(&[
            "Weigh the bag empty and write its weight on it.",
            "Divide your fibre, weigh each part, and move a little until they agree.",
        ])
        .blanks(&[("lightest part", "g", "oz"), ("heaviest part", "g", "oz")])
        .hurts(Hurt::Dust),
        Exercise::Scale => Told::new(
            "What a scale can tell",
            "A scale knows nothing below its step: a small sample says less than you think.",
            10,
            "a scale, small things",
        )
        .steps(&["Put the same skein on the scale five times, and write the least and the most that it shows."])
        .blanks(&[("least", "g", "oz"), ("most", "g", "oz")]),
        Exercise::Wash => Told::new(
            "Before and after the wash",
            "Yarn is not finished until it is washed: it grows shorter and rounder, and only then can \
                    it be measured.",
            25,
            "a skein, warm water, a towel, a tape; the second half another day, when it is dry",
        )
        .steps(&["Measure one loop of your skein all the way round. Wash it, dry it, and measure the same \
                    loop again."])
        .blanks(&[("loop before", "cm", "in"), ("loop after", "cm", "in")])
        .hurts(Hurt::Bath),
        Exercise::BallBand => Told::new(
            "Reading a ball band",
            "A band says how long the ball is and what it weighs: enough to know any yarn by.",
            10,
            "bands of several yarns",
        )
        .steps(&["Use metres and grams, or yards and ounces, but never one of each."]),
        Exercise::Grist => Told::new(
            "Grist",
            "How long a weight of yarn is says more than how thick it looks.",
            25,
            "a washed skein, a scale, a tape",
        )
        .steps(&["Measure one loop of a washed, dry skein at rest, all the way round, and count the loops. \
                    Weigh it."])
        .blanks(&[("loops", "", ""), ("one loop", "cm", "in"), ("weight", "g", "oz")]),
        Exercise::TwoDraws => Told::new(
            "The same wraps by two draws",
            "Two yarns of one thickness can be far apart in weight: air is in the one and not in the other.",
            45,
            "one fibre in two preparations, the wheel, a stick, water, a towel, a scale; weighed another day, when dry",
        )
        .steps(&["Spin the same wraps short forward and with a long draw, a skein of each. Wash both \
                    alike, then weigh."])
        .blanks(&[("wraps, short forward", "", ""), ("wraps, long draw", "", "")])
        .hurts(Hurt::Wheel),
        Exercise::Swatch => Told::new(
            "A washed swatch",
            "A swatch tells the yarn for a garment: by its area and its weight, once it is washed.",
            30,
            "a swatch, a scale, a ruler, water; the second half another day, when it is dry",
        )
        .steps(&["Measure your swatch, wash it as the garment will be washed, dry it, measure it again, \
                    and weigh it."])
        .blanks(&[("width before", "cm", "in"), ("width after", "cm", "in"), ("weight", "g", "oz")])
        .hurts(Hurt::Bath),
        Exercise::Stripes => Told::new(
            "From strips to stripes",
            "How a braid is torn decides how deep its stripes are.",
            20,
            "a braid, a scale",
        )
        .steps(&["Lay your braid out and weigh one colour of it. Say how deep you want the stripe, and try \
                    how many strips that takes."]),
        Exercise::Overlay => Told::new(
            "Solid or marled",
            "Where both plies carry one colour the yarn is solid, elsewhere it is marled: you can see \
                    it before you spin.",
            20,
            "coloured pencils, scissors",
        )
        .steps(&[
            "Colour both strips. The second is spun from the other end: write it backwards under the first.",
            "Look down each pair of boxes: the same colour twice is solid.",
        ]),
        Exercise::Amounts => Told::new(
            "Amounts and reserve",
            "A garment needs more fibre than it has yarn: some is lost, some is kept in reserve, and \
                    braids come whole.",
            20,
            "a pattern, your grist",
        ),
        Exercise::Drift => Told::new(
            "Drift of bobbins",
            "Hands change over weeks; a weighed length from each bobbin shows it before the garment does.",
            15,
            "weighed lengths of several bobbins, a scale",
        )
        .steps(&[
            "Write the weights in order. The one in the middle is the median: how far is each of them \
                    off it?",
            "Under five in a hundred is good. Over ten, act: spin it again or leave it out. Between them, mix it \
                    with its opposite.",
        ]),
        Exercise::Pairing => Told::new(
            "Pairing of bobbins",
            "A heavy bobbin plied with a light one gives the same yarn as two middling ones.",
            15,
            "weighed lengths of several bobbins",
        )
        .steps(&["The numbers are weights of one length. Try all three ways to make two pairs, and add up \
                    each pair."]),
        Exercise::Fit => Told::new(
            "Fit",
            "A garment is as wide as the body and the room in it, and a stitch is as wide as it is \
                    after the wash.",
            20,
            "a tape, a washed swatch",
        )
        .steps(&["Measure a garment that fits you, and the body in it. The difference is the room that you like."])
        .blanks(&[("garment", "cm", "in"), ("body", "cm", "in")]),
        Exercise::UnequalPlies => Told::new(
            "Unequal plies",
            "In tex, weights of plies add up, and plying makes the yarn shorter and so heavier for \
                    its length.",
            15,
            "nothing",
        ),
        Exercise::Numbering => Told::new(
            "Numbering",
            "Where a greater number is a finer yarn, numbers cannot be averaged: weights and lengths can.",
            15,
            "nothing",
        ),
        Exercise::Diameters => Told::new(
            "The two diameters",
            "Wraps count the air in a soft yarn; the handbooks of the mills count packed threads. \
                    Never mix the two.",
            15,
            "nothing",
        ),
        Exercise::Handbook => Told::new(
            "Sums from old handbooks",
            "Mill hands learnt these sums a century ago; the answers are printed in their books.",
            20,
            "nothing",
        ),
    }
}

/// What is said where it can hurt, a cause and what to do.
pub(super) fn caution(hurt: Hurt) -> (&'static str, &'static str) {
    match hurt {
        Hurt::Wheel => (
            "Moving parts, tired hands.",
            "Stop the wheel before you reach in or tie anything to it, with hair, cuffs and cords out of \
                    the way; small fingers stay away from the flyer. Rest hands and feet every half hour; pain or tingling that stays is for a \
                    clinician.",
        ),
        Hurt::Dust => (
            "Dust.",
            "Open a window when fibre is fluffed or carded, and wear a mask where breath is short; \
                    sharp combs are covered when nobody holds them. Raw fleece is washed before a class \
                    handles it.",
        ),
        Hurt::Bath => (
            "Hot water.",
            "A grown-up pours, and tests it by hand before yarn goes in; lift with tongs or gloves, and keep \
                    small children away. Labels of soaps and the rules of the house come first.",
        ),
        Hurt::Dye => (
            "Dye that runs.",
            "Wet an end of a dyed braid and press it in a white cloth before it is washed with \
                    others. Pots and spoons for dye are never used for food; labels come first.",
        ),
    }
}
