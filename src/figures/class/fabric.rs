//! Exercises on fabric and on colours.

use super::slate::{Grid, Slate, To};
use super::{Drawing, Wrong};
use crate::figures::colour::formula;
use crate::figures::expression::{Figure, exact};
use crate::figures::{folding, garment};
use crate::units::{Area, Count, Length, Mass, Rows, Share, Stitches, Yield};

pub(super) fn swatch(s: &mut Slate) {
    let sides = (Grid("cm", 10.0, 22.0, 0.5), Grid("in", 4.0, 9.0, 0.1));
    let sized = |s: &mut Slate, words: &str| -> Figure<Length> { s.draw(words, None, sides.0, sides.1) };
    let width = sized(s, "width, washed");
    let height = sized(s, "height, washed");
    let shrinks = [0.96, 0.95, 0.94, 0.92, 0.9];
    let (a, b) = (shrinks[s.chance(5)], shrinks[s.chance(5)]);
    let unwashed: Figure<Length> = s.draw("width before the wash", Some(width.value() / a), sides.0, sides.1);
    let unwashed_height: Figure<Length> = s.draw("height before the wash", Some(height.value() / b), sides.0, sides.1);
    let is_shrunk = |after: &Figure<Length>, before: &Figure<Length>| {
        (0.02..0.15).contains(&folding::shortening(after, before).value())
    };
    s.only_if(is_shrunk(&width, &unwashed) && is_shrunk(&height, &unwashed_height));
    let weight: Figure<Mass> =
        s.draw("weight of the swatch", None, Grid("g", 5.0, 14.0, 0.1), Grid("oz", 0.15, 0.5, 0.01));
    let pieces = (Grid("cm", 40.0, 60.0, 1.0), Grid("in", 16.0, 24.0, 0.5));
    let across: Figure<Length> = s.draw("width of the piece", None, pieces.0, pieces.1);
    let up: Figure<Length> = s.draw("length of the piece", None, pieces.0, pieces.1);
    let to = To::Places(s.lead("cm²", "in²"), s.lead(0, 1));
    let swatch =
        s.ask("What is the area of the swatch?", "area of the swatch", &garment::rectangle(&width, &height), to);
    s.slip(Wrong::Unwashed, &garment::rectangle(&unwashed, &unwashed_height));
    let piece = s.ask("And of the piece?", "area of the piece", &garment::rectangle(&across, &up), to);
    let times = s.ask(
        "How many swatches is the piece?",
        "swatches in the piece",
        &garment::swatches_in(&piece, &swatch),
        To::Places("", 1),
    );
    s.slip(Wrong::OneSide, &(&across / &width));
    s.slip(Wrong::UpsideDown, &(&swatch / &piece));
    let unwashed: Figure<Area> = garment::rectangle(&unwashed, &unwashed_height);
    s.slip(Wrong::Unwashed, &garment::swatches_in(&piece, &unwashed));
    let to = To::Places(s.lead("g", "oz"), s.lead(0, 1));
    s.ask("How much yarn does the piece weigh?", "weight of the piece", &garment::by_swatch(&weight, &times), to);
    s.slip(Wrong::OneSide, &garment::by_swatch(&weight, &(&across / &width)));
}

pub(super) fn stripes(s: &mut Slate) {
    let like = s.plan.supplies.iter().find_map(|supply| {
        let n = supply.sections.len();
        (n > 1).then(|| supply.weights[0].value / n as f64)
    });
    let section: Figure<Mass> =
        s.draw("weight of one colour of the braid", like, Grid("g", 12.0, 60.0, 1.0), Grid("oz", 0.4, 2.2, 0.1));
    let strips = if s.number.is_none() { 4 } else { [2, 3, 4, 6, 8][s.chance(5)] };
    let strips = s.count("strips that the braid is torn into", strips);
    let like = s.known("washed.grist");
    let yarn: Figure<Yield> = s.draw(
        s.lead("metres in a gram", "yards in an ounce"),
        like,
        Grid("m/g", 0.8, 5.0, 0.1),
        Grid("yd/oz", 25.0, 160.0, 1.0),
    );
    let row: Figure<Length> = s.draw("yarn in one row", None, Grid("m", 0.8, 2.4, 0.1), Grid("yd", 0.9, 2.6, 0.1));
    let rows: Figure<Rows> = s.draw(
        s.lead("rows in a centimetre", "rows in an inch"),
        None,
        Grid("rows/cm", 2.0, 3.4, 0.1),
        Grid("rows/in", 5.0, 8.5, 0.5),
    );
    let run = formula::run_of_strip(&section, &strips, &yarn);
    let to = To::Places(s.lead("m", "yd"), 1);
    let run = s.ask("How long is the colour in the yarn of one strip?", "run of the colour", &run, to);
    s.slip(Wrong::NotShared, &(&section * &yarn));
    s.slip(Wrong::Multiplied, &(&section * &yarn * &strips));
    s.slip_bare(Wrong::UpsideDown, &(s.bare(&section) / s.bare(&strips) / s.bare(&yarn)));
    let count = garment::rows_to_be_had(&run, &row);
    let count = s.ask("How many rows does it make?", "rows of the stripe", &count, To::Places("", 1));
    s.slip_bare(Wrong::Multiplied, &(s.bare(&run) * s.bare(&row)));
    s.slip_bare(Wrong::UpsideDown, &(s.bare(&row) / s.bare(&run)));
    let to = To::Places(s.lead("cm", "in"), 1);
    s.ask("How deep is the stripe?", "depth of the stripe", &formula::height_of(&count, &rows), to);
    s.slip_bare(Wrong::Multiplied, &(s.bare(&count) * s.bare(&rows)));
    s.slip_bare(Wrong::UpsideDown, &(s.bare(&rows) / s.bare(&count)));
}

/// Places of a strip that are coloured.
const BOXES: usize = 12;

pub(super) fn overlay(s: &mut Slate) {
    let n_colours = s.plan.colours.len().clamp(2, 3);
    let strip = |s: &mut Slate| -> Vec<usize> {
        let mut boxes = Vec::with_capacity(BOXES);
        let mut colour = if s.number.is_none() { 0 } else { s.chance(n_colours) };
        while boxes.len() < BOXES {
            let run = if s.number.is_none() { 3 } else { 1 + s.chance(4) };
            boxes.extend(std::iter::repeat_n(colour, run.min(BOXES - boxes.len())));
            colour = (colour + 1) % n_colours;
        }
        boxes
    };
    let (first, second) = (strip(s), strip(s));
    let alike = |second: &[usize]| first.iter().zip(second).filter(|(a, b)| a == b).count();
    let turned: Vec<usize> = second.iter().rev().copied().collect();
    let (right, not_turned) = (alike(&turned), alike(&second));
    s.only_if(right > 0 && right < BOXES);
    let all = s.count("places along the yarn", BOXES);
    let solid = exact::<Count>("solid places", right as f64);
    let solid = s.ask("In how many places do both plies have one colour?", "solid places", &solid, To::Whole);
    if not_turned != right {
        s.slip(Wrong::NotTurned, &exact::<Count>("not turned", not_turned as f64));
    }
    let marled = BOXES - right;
    if marled != right && marled != not_turned {
        s.slip(Wrong::TheOthers, &exact::<Count>("marled places", marled as f64));
    }
    s.ask("How much of the yarn is solid?", "solid share", &formula::solid_share(&solid, &all), To::Places("%", 0));
    s.slip(Wrong::UpsideDown, &(&all / &solid));
    s.draws(Drawing::Strips(first, second));
}

pub(super) fn fit(s: &mut Slate) {
    let chest = s.known_of("garment.", ".body.chest");
    let body: Figure<Length> =
        s.draw("around the body", chest, Grid("cm", 70.0, 130.0, 1.0), Grid("in", 28.0, 52.0, 0.5));
    let ease: Figure<Length> = s.draw("room in it", None, Grid("cm", 4.0, 16.0, 1.0), Grid("in", 1.5, 6.0, 0.5));
    let like = s.plan.garments.iter().find_map(|garment| garment.gauge.as_ref()).map(|(gauge, _)| gauge.stitches.value);
    let gauges = (Grid("st/cm", 1.4, 3.2, 0.1), Grid("st/in", 3.0, 8.0, 0.1));
    let washed: Figure<Stitches> =
        s.draw(s.lead("stitches in a centimetre, washed", "stitches in an inch, washed"), like, gauges.0, gauges.1);
    let unwashed: Figure<Stitches> =
        s.draw("the same, before the wash", Some(washed.value() * 0.92), gauges.0, gauges.1);
    s.only_if((0.85..0.97).contains(&(unwashed.value() / washed.value())));
    let to = To::Places(s.lead("cm", "in"), s.lead(0, 1));
    let around = s.ask("How far around is the garment?", "around the garment", &garment::around(&body, &ease), to);
    s.slip(Wrong::LeftOut, &body);
    s.slip(Wrong::TakenOff, &(&body - &ease));
    let stitches = garment::stitches_in(&around, &washed);
    s.ask("How many stitches is that?", "stitches around", &stitches, To::Places("", 0));
    s.slip(Wrong::Unwashed, &garment::stitches_in(&around, &unwashed));
    s.slip(Wrong::LeftOut, &garment::stitches_in(&body, &washed));
    let share: Figure<Share> = s.bare(&around) / s.bare(&washed);
    s.slip_bare(Wrong::UpsideDown, &share);
}
