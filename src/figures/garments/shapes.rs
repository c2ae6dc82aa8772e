//! Shapes: their measures, one from the other, and their pieces.

use super::outline::Flat;
use super::{Cut, Maker, usual};
use crate::figures::expression::{Figure, Formula, rest};
use crate::figures::garment;
use crate::figures::ledger::Assumption;
use crate::plan::body::BodyMeasure as Body;
use crate::plan::shape::{Measure as M, Shape};
use crate::plan::{Shaped, Stitch};
use crate::units::{Length, Share, Standing};

static SAID: Formula = Formula { source: "as the plan says", standing: Standing::Standard };
static USUAL: Formula = Formula { source: "room and proportions that are usual", standing: Standing::OurChoice };
static REST: Formula = Formula { source: "what the other measures leave", standing: Standing::Standard };

impl Maker<'_> {
    /// Enters all measures of a shape, and gives those that it has.
    pub(super) fn measures(&mut self, shaped: &Shaped) -> Vec<M> {
        let all = shaped.shape.measures().iter().copied();
        all.filter(|measure| self.measure(shaped, *measure).is_some()).collect()
    }

    /// A measure of the garment, entered once; `None` of a band that it does not have.
    pub(super) fn measure(&mut self, shaped: &Shaped, measure: M) -> Option<Figure<Length>> {
        let name = self.name(&format!("measure.{}", measure.key()));
        if let Some(entered) = self.book.find(&name) {
            return Some(entered);
        }
        let words = format!("{} of the {}", measure.words(), self.garment.name);
        let figure = match shaped.said(measure) {
            Some(said) if said.value == 0.0 => return None,
            Some(said) => self.book.reading(said, measure.words()).by(&SAID),
            None => self.usual(shaped, measure)?,
        };
        Some(self.book.enter(name, words, figure))
    }

    /// A measure that the shape has in any case.
    pub(super) fn needed(&mut self, shaped: &Shaped, measure: M) -> Figure<Length> {
        self.measure(shaped, measure).expect("invariant: a shape always has this measure")
    }

    /// A measure that is not said: from the body, from the other measures, or a usual one.
    fn usual(&mut self, shaped: &Shaped, measure: M) -> Option<Figure<Length>> {
        let shape = shaped.shape;
        let is_straight = matches!(shape, Shape::DropPullover | Shape::DropCardigan);
        let figure = match (shape, measure) {
            (_, M::Chest) => {
                let ease = shaped.ease.as_ref().expect("invariant: the check took an ease");
                let ease: Figure<Length> = self.book.reading(ease, "ease");
                self.body(shaped, Body::Chest) + ease
            }
            (_, M::Length) if shaped.said(M::ToUnderarm).is_some() => {
                let (body, armhole) = (self.needed(shaped, M::ToUnderarm), self.needed(shaped, M::Armhole));
                return Some((body + armhole).by(&REST));
            }
            (_, M::Length) => self.body(shaped, Body::BackWaist) + self.room(&usual::BELOW_WAIST),
            (_, M::ToUnderarm) => {
                let (length, armhole) = (self.needed(shaped, M::Length), self.needed(shaped, M::Armhole));
                return Some((length - armhole).by(&REST));
            }
            (_, M::Armhole) if is_straight => self.body(shaped, Body::Armhole) + self.room(&usual::ARMHOLE_ROOM),
            (_, M::Armhole) => return Some(self.body(shaped, Body::Armhole).by(&USUAL)),
            (_, M::CrossBack) => return Some(self.body(shaped, Body::CrossBack).by(&USUAL)),
            (_, M::UpperArm) => self.sleeve_width(shaped),
            (_, M::Cuff) => self.body(shaped, Body::Wrist) + self.room(&usual::CUFF_ROOM),
            (_, M::Sleeve) if is_straight => {
                let chest = self.needed(shaped, M::Chest);
                let four: Figure<Share> = Figure::constant("4", 4.0);
                return Some((self.body(shaped, Body::NeckToWrist) - chest / four).by(&REST));
            }
            (_, M::Sleeve) => return Some(self.body(shaped, Body::Arm).by(&USUAL)),
            (_, M::Cap) => self.of(&usual::CAP, shaped, M::Armhole),
            (_, M::Neck) => self.body(shaped, Body::Neck) + self.room(&usual::NECK_ROOM),
            (_, M::NeckWidth) => self.body(shaped, Body::Neck) * self.book.assume::<Share>(&usual::NECK_WIDTH),
            (_, M::NeckDepth) => self.body(shaped, Body::Neck) * self.book.assume::<Share>(&usual::NECK_DEPTH),
            (_, M::BackNeckDepth) => self.body(shaped, Body::Neck) * self.book.assume::<Share>(&usual::BACK_NECK_DEPTH),
            (_, M::Yoke) => self.needed(shaped, M::Armhole) + self.room(&usual::YOKE_ROOM),
            (_, M::Underarm) => self.of(&usual::UNDERARM, shaped, M::Chest),
            (_, M::Neckband) => self.room(&usual::NECKBAND),
            (_, M::Band) => self.room(&usual::BAND),
            (Shape::Hat, M::Around) => {
                self.body(shaped, Body::Head) * rest(&self.book.assume::<Share>(&usual::HAT_NARROWER))
            }
            (Shape::Mittens, M::Around) => self.body(shaped, Body::Hand) + self.room(&usual::MITTEN_ROOM),
            (_, M::Around) => self.body(shaped, Body::Foot) * self.book.assume::<Share>(&usual::SOCK),
            (_, M::Height) => self.of(&usual::HAT_HEIGHT, shaped, M::Around),
            (Shape::Mittens, M::CuffDepth) => self.room(&usual::MITTEN_CUFF),
            (_, M::Hand) => self.body(shaped, Body::HandLength) + self.room(&usual::HAND_ROOM),
            (_, M::Tip) => self.of(&usual::TIP, shaped, M::Hand),
            (_, M::ThumbAround) => self.of(&usual::THUMB_AROUND, shaped, M::Around),
            (_, M::Thumb) => self.of(&usual::THUMB, shaped, M::Hand),
            (_, M::Gusset) => self.of(&usual::GUSSET, shaped, M::Hand),
            (_, M::Leg) => self.room(&usual::LEG),
            (_, M::Foot) => self.body(shaped, Body::FootLength) * self.book.assume::<Share>(&usual::SOCK_FOOT),
            // A band that is not said is not there; spans and widths have to be said.
            (_, M::Hem | M::CuffDepth | M::Brim | M::Border | M::Span | M::Depth | M::Width) => return None,
        };
        Some(figure.by(&USUAL))
    }

    fn room(&mut self, assumption: &'static Assumption) -> Figure<Length> {
        self.book.assume(assumption)
    }

    /// A share of another measure.
    fn of(&mut self, assumption: &'static Assumption, shaped: &Shaped, measure: M) -> Figure<Length> {
        self.needed(shaped, measure) * self.book.assume::<Share>(assumption)
    }

    /// Around a sleeve: the arm, half of what the chest has beyond the body, and room to bend.
    fn sleeve_width(&mut self, shaped: &Shaped) -> Figure<Length> {
        let arm = self.body(shaped, Body::UpperArm) + self.room(&usual::ARM_ROOM);
        let ease = match (&shaped.ease, shaped.said(M::Chest), shaped.of_body(Body::Chest)) {
            (Some(ease), ..) => Some(self.book.reading(ease, "ease")),
            (None, Some(_), Some(_)) => Some(self.needed(shaped, M::Chest) - self.body(shaped, Body::Chest)),
            _ => None,
        };
        let two: Figure<Share> = Figure::constant("2", 2.0);
        match ease {
            Some(ease) => arm + ease / two,
            None => arm,
        }
    }

    /// The pieces of a shape, in the order in which they are best worked.
    pub(super) fn shape_pieces(&mut self, shaped: &Shaped) -> Vec<Cut> {
        let flats = match shaped.shape {
            Shape::DropPullover | Shape::SetInPullover => self.sewn(shaped, None),
            Shape::DropCardigan | Shape::SetInCardigan => {
                let band = self.measure(shaped, M::Band);
                self.sewn(shaped, Some(band))
            }
            Shape::Raglan | Shape::RoundYoke => self.joined(shaped),
            Shape::Hat => self.hat(shaped),
            Shape::Mittens => self.mittens(shaped),
            Shape::Socks => {
                let (around, leg, foot) =
                    (self.needed(shaped, M::Around), self.needed(shaped, M::Leg), self.needed(shaped, M::Foot));
                vec![("sock", 2, true, Flat::Sock { around, leg, foot })]
            }
            Shape::Triangle => {
                let (width, height) = (self.needed(shaped, M::Span), self.needed(shaped, M::Depth));
                vec![("shawl", 1, false, Flat::Triangle { width, height, from_point: false })]
            }
            Shape::Crescent => {
                let (chord, height) = (self.needed(shaped, M::Span), self.needed(shaped, M::Depth));
                let radius = self.radius(&chord, &height, "shawl");
                vec![("shawl", 1, false, Flat::Segment { chord, height, radius })]
            }
            Shape::Blanket => self.blanket(shaped),
            Shape::Scarf => {
                let (width, height) = (self.needed(shaped, M::Width), self.needed(shaped, M::Length));
                vec![("scarf", 1, false, Flat::Rectangle { width, height })]
            }
        };
        let mut cuts: Vec<Cut> = flats.into_iter().map(|flat| self.cut(flat)).collect();
        let at = |cut: &Cut| shaped.shape.pieces().iter().position(|name| *name == cut.name);
        cuts.sort_by_key(at);
        cuts
    }

    /// A piece of a shape, with what the plan says of it.
    fn cut(&mut self, (name, count, in_the_round, flat): (&'static str, usize, bool, Flat)) -> Cut {
        let own = self.garment.piece(name);
        let stitch: Option<&'static Stitch> = own.and_then(|(_, piece)| piece.stitch).or(self.garment.known);
        Cut {
            name: name.to_owned(),
            stage: self.name(name),
            count,
            in_the_round,
            stitch,
            flat,
            ply_plan: own.and_then(|(_, piece)| piece.ply_plan),
            taken: None,
            skeins: None,
            trim: self.trim(name),
            own: own.map(|(own, _)| own),
            is_of_shape: true,
            course: Vec::new(),
        }
    }

    /// What is left of a length above its band, and the band where there is one.
    fn above(&mut self, shaped: &Shaped, whole: M, band: M) -> (Figure<Length>, Option<Figure<Length>>) {
        let (whole, band) = (self.needed(shaped, whole), self.measure(shaped, band));
        match band {
            Some(band) => (&whole - &band, Some(band)),
            None => (whole, None),
        }
    }

    /// Back, front or fronts, and sleeves, sewn together. `band` is that of a cardigan, if it has one.
    fn sewn(&mut self, shaped: &Shaped, cardigan: Option<Option<Figure<Length>>>) -> Vec<Flats> {
        let two: Figure<Share> = Figure::constant("2", 2.0);
        let chest = self.needed(shaped, M::Chest);
        let half = &chest / &two;
        let (height, hem) = self.above(shaped, M::Length, M::Hem);
        let neck = self.needed(shaped, M::NeckWidth);
        let depth = self.needed(shaped, M::NeckDepth);
        let armhole = self.needed(shaped, M::Armhole);
        let across = shaped.shape.measures().contains(&M::CrossBack).then(|| self.needed(shaped, M::CrossBack));
        let mut pieces = self.sleeves(shaped, &armhole);
        let back_depth =
            self.measure(shaped, M::BackNeckDepth).unwrap_or_else(|| &depth * Figure::<Share>::constant("0", 0.0));
        pieces.push((
            "back",
            1,
            false,
            Flat::Body {
                width: half.clone(),
                height: height.clone(),
                neck: neck.clone(),
                depth: back_depth,
                armhole: armhole.clone(),
                across: across.clone(),
                is_half: false,
            },
        ));
        let Some(band) = cardigan else {
            pieces.push((
                "front",
                1,
                false,
                Flat::Body {
                    width: half,
                    height,
                    neck: neck.clone(),
                    depth: depth.clone(),
                    armhole,
                    across,
                    is_half: false,
                },
            ));
            if let Some(height) = self.measure(shaped, M::Neckband) {
                pieces.push(("neckband", 1, true, Flat::Rectangle { width: neck + &two * depth, height }));
            }
            pieces.extend(hem.map(|height| ("hem", 2, false, Flat::Rectangle { width: chest / &two, height })));
            return pieces;
        };
        let less = |whole: &Figure<Length>| match &band {
            Some(band) => whole - band,
            None => whole.clone(),
        };
        let across = across.map(|across| less(&across) / &two);
        let front = less(&half) / &two;
        pieces.push((
            "front",
            2,
            false,
            Flat::Body {
                width: front,
                height,
                neck: &neck / &two,
                depth: depth.clone(),
                armhole,
                across,
                is_half: true,
            },
        ));
        if let Some(band) = &band {
            let length = self.needed(shaped, M::Length);
            pieces.push(("front-band", 2, false, Flat::Rectangle { width: length - &depth, height: band.clone() }));
            pieces.push(("neckband", 1, false, Flat::Rectangle { width: neck + two * depth, height: band.clone() }));
        }
        pieces.extend(hem.map(|height| ("hem", 1, false, Flat::Rectangle { width: less(&chest), height })));
        pieces
    }

    /// Sleeves that are sewn in: to the straight edge of an armhole, or with a cap.
    fn sleeves(&mut self, shaped: &Shaped, armhole: &Figure<Length>) -> Vec<Flats> {
        let (height, band) = self.above(shaped, M::Sleeve, M::CuffDepth);
        let lower = self.needed(shaped, M::Cuff);
        let flat = if shaped.shape.measures().contains(&M::Cap) {
            let (upper, cap) = (self.needed(shaped, M::UpperArm), self.needed(shaped, M::Cap));
            Flat::Capped { lower: lower.clone(), upper, height, cap }
        } else {
            let upper = Figure::<Share>::constant("2", 2.0) * armhole;
            Flat::Trapezoid { lower: lower.clone(), upper, height, is_ring: false }
        };
        let mut pieces = vec![("sleeve", 2, false, flat)];
        pieces.extend(band.map(|height| ("sleeve-cuff", 2, false, Flat::Rectangle { width: lower, height })));
        pieces
    }

    /// Body and sleeves in the round, joined to a yoke.
    fn joined(&mut self, shaped: &Shaped) -> Vec<Flats> {
        let chest = self.needed(shaped, M::Chest);
        let (body, hem) = self.above(shaped, M::ToUnderarm, M::Hem);
        let (sleeve, band) = self.above(shaped, M::Sleeve, M::CuffDepth);
        let (lower, upper) = (self.needed(shaped, M::Cuff), self.needed(shaped, M::UpperArm));
        let (neck, depth) = (self.needed(shaped, M::Neck), self.needed(shaped, M::Yoke));
        let name = self.name("joined");
        let around = match self.measure(shaped, M::Underarm) {
            Some(underarm) => garment::joined(&chest, &upper, &underarm),
            None => (&chest + Figure::<Share>::constant("2", 2.0) * &upper).by(&REST),
        };
        let words = self.noun("around the joined yoke of the");
        let around = self.book.enter(name, words, around);
        let yoke = if shaped.shape == Shape::Raglan {
            Flat::Trapezoid { lower: around, upper: neck.clone(), height: depth, is_ring: false }
        } else {
            Flat::Stepped { around, upper: neck.clone(), height: depth }
        };
        let mut pieces = vec![
            ("sleeve", 2, true, Flat::Trapezoid { lower: lower.clone(), upper, height: sleeve, is_ring: false }),
            ("body", 1, true, Flat::Rectangle { width: chest.clone(), height: body }),
            ("yoke", 1, true, yoke),
        ];
        let mut bands = |name, count, width: Figure<Length>, height: Option<Figure<Length>>| {
            pieces.extend(height.map(|height| (name, count, true, Flat::Rectangle { width, height })));
        };
        bands("hem", 1, chest, hem);
        bands("sleeve-cuff", 2, lower, band);
        let neckband = self.measure(shaped, M::Neckband);
        bands("neckband", 1, neck, neckband);
        pieces
    }

    fn hat(&mut self, shaped: &Shaped) -> Vec<Flats> {
        let (around, height) = (self.needed(shaped, M::Around), self.needed(shaped, M::Height));
        let two_pi = Figure::<Share>::constant("2", 2.0) * crate::figures::expression::pi::<Share>();
        let mut pieces = vec![
            ("sides", 1, true, Flat::Rectangle { width: around.clone(), height }),
            ("crown", 1, true, Flat::Crown { around: around.clone(), height: &around / two_pi }),
        ];
        let brim = self.measure(shaped, M::Brim);
        pieces.extend(brim.map(|height| ("brim", 1, true, Flat::Rectangle { width: around, height })));
        pieces
    }

    fn mittens(&mut self, shaped: &Shaped) -> Vec<Flats> {
        let around = self.needed(shaped, M::Around);
        let (hand, tip) = (self.needed(shaped, M::Hand), self.needed(shaped, M::Tip));
        let (thumb_around, thumb) = (self.needed(shaped, M::ThumbAround), self.needed(shaped, M::Thumb));
        let mut pieces = vec![
            ("hand", 2, true, Flat::Rectangle { width: around.clone(), height: hand - &tip }),
            ("tip", 2, true, Flat::Tip { around: around.clone(), height: tip }),
            ("thumb", 2, true, Flat::Rectangle { width: thumb_around.clone(), height: thumb }),
        ];
        let cuff = self.measure(shaped, M::CuffDepth);
        pieces.extend(cuff.map(|height| ("cuff", 2, true, Flat::Rectangle { width: around, height })));
        let gusset = self.measure(shaped, M::Gusset);
        pieces.extend(
            gusset.map(|height| ("gusset", 2, false, Flat::Triangle { width: thumb_around, height, from_point: true })),
        );
        pieces
    }

    fn blanket(&mut self, shaped: &Shaped) -> Vec<Flats> {
        let (width, length) = (self.needed(shaped, M::Width), self.needed(shaped, M::Length));
        match self.measure(shaped, M::Border) {
            None => vec![("middle", 1, false, Flat::Rectangle { width, height: length })],
            Some(border) => vec![
                (
                    "middle",
                    1,
                    false,
                    Flat::Framed { width: width.clone(), length: length.clone(), border: border.clone() },
                ),
                ("border", 1, false, Flat::Frame { width, length, border }),
            ],
        }
    }
}

/// A piece of a shape: its name, how many of it, whether it is worked in the round, and its outline.
type Flats = (&'static str, usize, bool, Flat);
