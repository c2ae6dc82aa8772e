//! Shapes of garments: which measures each has, on which of the body they rest, and of which pieces it is made.

use super::Craft;
use super::body::BodyMeasure as Body;

/// A garment whose pieces follow from its measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Shape {
    /// Back and front straight to the shoulder, sleeves sewn to their edges.
    DropPullover,
    /// The same, open in front.
    DropCardigan,
    /// With shaped armholes and sleeve caps.
    SetInPullover,
    /// The same, open in front.
    SetInCardigan,
    /// Body and sleeves joined to a yoke that narrows along four lines.
    Raglan,
    /// Body and sleeves joined to a yoke that narrows all around in three steps.
    RoundYoke,
    /// A tube with a flat crown.
    Hat,
    /// A pair, with thumbs.
    Mittens,
    /// A pair, with turned heels.
    Socks,
    /// Three straight edges.
    Triangle,
    /// A straight edge and an arc.
    Crescent,
    /// A rectangle, with or without a border.
    Blanket,
    /// A rectangle, with or without a fringe.
    Scarf,
}

/// A measure of a finished garment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Measure {
    /// Around the finished chest.
    Chest,
    /// From the shoulder to the lower edge.
    Length,
    /// From the underarm to the lower edge.
    ToUnderarm,
    /// From the shoulder straight down to the underarm.
    Armhole,
    /// Across the back between the armholes.
    CrossBack,
    /// Around the sleeve at its widest.
    UpperArm,
    /// Around the end of the sleeve.
    Cuff,
    /// Length of the sleeve up to the underarm, or to the body where it is sewn to a straight edge.
    Sleeve,
    /// Height of the sleeve's cap.
    Cap,
    /// Around the neck.
    Neck,
    /// Across the neck.
    NeckWidth,
    /// How deep the neck is in front.
    NeckDepth,
    /// How deep it is at the back.
    BackNeckDepth,
    /// Depth of the yoke, along the fabric.
    Yoke,
    /// What is set aside at each underarm.
    Underarm,
    /// Height of the band around the neck.
    Neckband,
    /// Width of the front bands.
    Band,
    /// Height of the lower band of the body.
    Hem,
    /// Height of the band of a sleeve, a mitten or a sock.
    CuffDepth,
    /// Once around.
    Around,
    /// Height of the sides.
    Height,
    /// Height of a brim that is folded up.
    Brim,
    /// From the cuff to the tip.
    Hand,
    /// The part of it that narrows.
    Tip,
    /// Around the thumb.
    ThumbAround,
    /// Length of the thumb.
    Thumb,
    /// Height of the gusset.
    Gusset,
    /// From the top edge to the top of the heel.
    Leg,
    /// From heel to toe.
    Foot,
    /// From tip to tip.
    Span,
    /// Across the span.
    Depth,
    /// Across.
    Width,
    /// Width of a border all around.
    Border,
}

impl Measure {
    /// Its key in a plan.
    pub fn key(self) -> &'static str {
        match self {
            Self::Chest => "chest",
            Self::Length => "length",
            Self::ToUnderarm => "to-underarm",
            Self::Armhole => "armhole",
            Self::CrossBack => "cross-back",
            Self::UpperArm => "upper-arm",
            Self::Cuff => "cuff",
            Self::Sleeve => "sleeve",
            Self::Cap => "cap",
            Self::Neck => "neck",
            Self::NeckWidth => "neck-width",
            Self::NeckDepth => "neck-depth",
            Self::BackNeckDepth => "back-neck-depth",
            Self::Yoke => "yoke",
            Self::Underarm => "underarm",
            Self::Neckband => "neckband",
            Self::Band => "band",
            Self::Hem => "hem",
            Self::CuffDepth => "cuff-depth",
            Self::Around => "around",
            Self::Height => "height",
            Self::Brim => "brim",
            Self::Hand => "hand",
            Self::Tip => "tip",
            Self::ThumbAround => "thumb-around",
            Self::Thumb => "thumb",
            Self::Gusset => "gusset",
            Self::Leg => "leg",
            Self::Foot => "foot",
            Self::Span => "span",
            Self::Depth => "depth",
            Self::Width => "width",
            Self::Border => "border",
        }
    }

    /// What it is, as a noun.
    pub fn words(self) -> &'static str {
        match self {
            Self::Chest => "finished chest",
            Self::Length => "length",
            Self::ToUnderarm => "length to the underarm",
            Self::Armhole => "depth of the armhole",
            Self::CrossBack => "width between the armholes",
            Self::UpperArm => "distance around the sleeve",
            Self::Cuff => "distance around the cuff",
            Self::Sleeve => "length of the sleeve",
            Self::Cap => "height of the cap",
            Self::Neck => "distance around the neck",
            Self::NeckWidth => "width of the neck",
            Self::NeckDepth => "depth of the neck",
            Self::BackNeckDepth => "depth of the back neck",
            Self::Yoke => "depth of the yoke",
            Self::Underarm => "width of the underarm",
            Self::Neckband => "height of the neckband",
            Self::Band => "width of the front band",
            Self::Hem => "height of the hem",
            Self::CuffDepth => "height of the cuff band",
            Self::Around => "distance around",
            Self::Height => "height of the sides",
            Self::Brim => "height of the brim",
            Self::Hand => "length of the hand",
            Self::Tip => "height of the tip",
            Self::ThumbAround => "distance around the thumb",
            Self::Thumb => "length of the thumb",
            Self::Gusset => "height of the gusset",
            Self::Leg => "length of the leg",
            Self::Foot => "length of the foot",
            Self::Span => "span",
            Self::Depth => "depth",
            Self::Width => "width",
            Self::Border => "width of the border",
        }
    }
}

impl Shape {
    /// All shapes.
    pub const ALL: [Self; 13] = [
        Self::DropPullover,
        Self::DropCardigan,
        Self::SetInPullover,
        Self::SetInCardigan,
        Self::Raglan,
        Self::RoundYoke,
        Self::Hat,
        Self::Mittens,
        Self::Socks,
        Self::Triangle,
        Self::Crescent,
        Self::Blanket,
        Self::Scarf,
    ];

    /// What it is called.
    pub fn words(self) -> &'static str {
        match self {
            Self::DropPullover => "drop-shoulder pullover",
            Self::DropCardigan => "drop-shoulder cardigan",
            Self::SetInPullover => "set-in pullover",
            Self::SetInCardigan => "set-in cardigan",
            Self::Raglan => "raglan pullover",
            Self::RoundYoke => "round-yoke pullover",
            Self::Hat => "hat",
            Self::Mittens => "mittens",
            Self::Socks => "socks",
            Self::Triangle => "triangle shawl",
            Self::Crescent => "crescent shawl",
            Self::Blanket => "blanket",
            Self::Scarf => "scarf",
        }
    }

    /// Whether its name is of several.
    pub fn is_a_pair(self) -> bool {
        matches!(self, Self::Mittens | Self::Socks)
    }

    /// With its article: "a hat", "mittens".
    pub fn with_article(self) -> String {
        if self.is_a_pair() { self.words().to_owned() } else { format!("a {}", self.words()) }
    }

    /// The measures of the body on which some of its own may rest.
    pub fn body(self) -> Vec<Body> {
        let mut all: Vec<Body> =
            self.measures().iter().filter_map(|measure| self.rests_on(*measure)).flatten().copied().collect();
        all.sort();
        all.dedup();
        all
    }

    /// Whether it is worn around the chest.
    pub fn is_of_the_chest(self) -> bool {
        self.measures().contains(&Measure::Chest)
    }

    /// Whether it can be woven: a cloth has four straight edges.
    pub fn can_be_made_by(self, craft: Craft) -> bool {
        craft != Craft::Weave || matches!(self, Self::Blanket | Self::Scarf)
    }

    /// Its measures.
    pub fn measures(self) -> &'static [Measure] {
        use Measure as M;
        match self {
            Self::DropPullover => &[
                M::Chest,
                M::Length,
                M::Armhole,
                M::Cuff,
                M::Sleeve,
                M::NeckWidth,
                M::NeckDepth,
                M::BackNeckDepth,
                M::Neckband,
                M::Hem,
                M::CuffDepth,
            ],
            Self::DropCardigan => &[
                M::Chest,
                M::Length,
                M::Armhole,
                M::Cuff,
                M::Sleeve,
                M::NeckWidth,
                M::NeckDepth,
                M::BackNeckDepth,
                M::Band,
                M::Hem,
                M::CuffDepth,
            ],
            Self::SetInPullover => &[
                M::Chest,
                M::Length,
                M::Armhole,
                M::CrossBack,
                M::UpperArm,
                M::Cuff,
                M::Sleeve,
                M::Cap,
                M::NeckWidth,
                M::NeckDepth,
                M::BackNeckDepth,
                M::Neckband,
                M::Hem,
                M::CuffDepth,
            ],
            Self::SetInCardigan => &[
                M::Chest,
                M::Length,
                M::Armhole,
                M::CrossBack,
                M::UpperArm,
                M::Cuff,
                M::Sleeve,
                M::Cap,
                M::NeckWidth,
                M::NeckDepth,
                M::BackNeckDepth,
                M::Band,
                M::Hem,
                M::CuffDepth,
            ],
            Self::Raglan | Self::RoundYoke => &[
                M::Chest,
                M::Length,
                M::Armhole,
                M::ToUnderarm,
                M::UpperArm,
                M::Cuff,
                M::Sleeve,
                M::Underarm,
                M::Neck,
                M::Yoke,
                M::Neckband,
                M::Hem,
                M::CuffDepth,
            ],
            Self::Hat => &[M::Around, M::Height, M::Brim],
            Self::Mittens => &[M::Around, M::CuffDepth, M::Hand, M::Tip, M::ThumbAround, M::Thumb, M::Gusset],
            Self::Socks => &[M::Around, M::Leg, M::Foot],
            Self::Triangle | Self::Crescent => &[M::Span, M::Depth],
            Self::Blanket => &[M::Width, M::Length, M::Border],
            Self::Scarf => &[M::Width, M::Length],
        }
    }

    /// The measures of the body on which one of its own rests, where it is not said. `None` where it rests on none and has to be
    /// said.
    pub fn rests_on(self, measure: Measure) -> Option<&'static [Body]> {
        use Measure as M;
        Some(match (self, measure) {
            (_, M::Chest) => &[Body::Chest],
            (Self::Blanket | Self::Scarf, M::Length | M::Width) | (_, M::Span | M::Depth | M::Width) => return None,
            (_, M::Length) => &[Body::BackWaist],
            (_, M::Armhole) => &[Body::Armhole],
            (_, M::CrossBack) => &[Body::CrossBack],
            (_, M::UpperArm) => &[Body::UpperArm],
            (_, M::Cuff) => &[Body::Wrist],
            (Self::DropPullover | Self::DropCardigan, M::Sleeve) => &[Body::NeckToWrist],
            (_, M::Sleeve) => &[Body::Arm],
            (_, M::Neck | M::NeckWidth | M::NeckDepth | M::BackNeckDepth) => &[Body::Neck],
            (Self::Hat, M::Around) => &[Body::Head],
            (Self::Mittens, M::Around) => &[Body::Hand],
            (_, M::Around) => &[Body::Foot],
            (_, M::Hand) => &[Body::HandLength],
            (_, M::Foot) => &[Body::FootLength],
            // From the other measures of the garment, or a usual one.
            (
                _,
                M::ToUnderarm
                | M::Cap
                | M::Yoke
                | M::Underarm
                | M::Neckband
                | M::Band
                | M::Hem
                | M::CuffDepth
                | M::Height
                | M::Brim
                | M::Tip
                | M::ThumbAround
                | M::Thumb
                | M::Gusset
                | M::Leg
                | M::Border,
            ) => &[],
        })
    }

    /// The measure by which a piece is there or not, and whether it is where nothing is said; `None` of a piece that always is.
    pub fn band(self, piece: &str) -> Option<(Measure, bool)> {
        let is_cardigan = matches!(self, Self::DropCardigan | Self::SetInCardigan);
        match piece {
            "hem" => Some((Measure::Hem, false)),
            "sleeve-cuff" => Some((Measure::CuffDepth, false)),
            "brim" => Some((Measure::Brim, false)),
            "border" => Some((Measure::Border, false)),
            "neckband" if is_cardigan => Some((Measure::Band, true)),
            "neckband" => Some((Measure::Neckband, true)),
            "front-band" => Some((Measure::Band, true)),
            "cuff" => Some((Measure::CuffDepth, true)),
            "gusset" => Some((Measure::Gusset, true)),
            _ => None,
        }
    }

    /// Whether a piece of that name is a band at an edge, worked in another stitch as a rule, where another yarn shows least.
    pub fn is_band(piece: &str) -> bool {
        matches!(piece, "sleeve-cuff" | "hem" | "neckband" | "front-band" | "brim" | "cuff" | "border")
    }

    /// Its pieces in the order in which they are best worked, sleeves before the body, so that a shortage shows while the body can
    /// still be made shorter.
    pub fn pieces(self) -> &'static [&'static str] {
        match self {
            Self::DropPullover | Self::SetInPullover => &["sleeve-cuff", "sleeve", "hem", "back", "front", "neckband"],
            Self::DropCardigan | Self::SetInCardigan => {
                &["sleeve-cuff", "sleeve", "hem", "back", "front", "front-band", "neckband"]
            }
            Self::Raglan | Self::RoundYoke => &["sleeve-cuff", "sleeve", "hem", "body", "yoke", "neckband"],
            Self::Hat => &["brim", "sides", "crown"],
            Self::Mittens => &["cuff", "gusset", "hand", "tip", "thumb"],
            Self::Socks => &["sock"],
            Self::Triangle | Self::Crescent => &["shawl"],
            Self::Blanket => &["middle", "border"],
            Self::Scarf => &["scarf"],
        }
    }
}
