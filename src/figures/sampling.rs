//! How large a sample must be, and how many of them: what the scale can tell, what a swatch takes, how skeins differ.

use super::aim::Aim;
use super::expression::{Figure, Formula, greatest};
use super::ledger::{Book, How, Line};
use super::{assumed, folding, statistics};
use crate::plan::{Plan, Sample};
use crate::units::{Count, Kind, Length, LinearDensity, Mass, Share, Standing};

/// The least weight of which one step of the scale is no more than a share: step ÷ share.
///
/// # Source
/// One exact spinner allows a whole step of error: a scale of 0.5 g needs 10 g for 5 %; published craft text.
pub fn least_weight(step: &Figure<Mass>, within: &Figure<Share>) -> Figure<Mass> {
    (step / within).by(&Formula {
        source: "a whole step of the scale is allowed for: an exact spinner, in a published craft text",
        standing: Standing::Published,
    })
}

/// What one step of the scale is of a weight: step ÷ weight.
pub fn step_of(step: &Figure<Mass>, weight: &Figure<Mass>) -> Figure<Share> {
    (step / weight).by(&Formula { source: "ratio of two readings", standing: Standing::Standard })
}

/// The length of washed yarn that weighs so much.
pub fn length_of(weight: &Figure<Mass>, washed: &Figure<LinearDensity>) -> Figure<Length> {
    (weight / washed).by(&Formula { source: "definition of linear density, ISO 2060", standing: Standing::Standard })
}

/// The length of a sample skein: enough to weigh, and enough for a swatch, which is worked from the skein once it is weighed.
pub fn skein(to_weigh: &Figure<Length>, swatch: &Figure<Length>) -> Figure<Length> {
    greatest(&[to_weigh.clone(), swatch.clone()]).by(&Formula {
        source: "the swatch is worked from the skein that was weighed; our choice",
        standing: Standing::OurChoice,
    })
}

/// Enters what a sample takes, before anything is drawn.
pub(super) fn sampling(book: &mut Book, aim: &Aim) {
    let step = book.figure::<Mass>("scale.step");
    let within = book.assume::<Share>(&assumed::SAMPLE_WITHIN);
    let closely = book.assume::<Share>(&assumed::SAMPLE_CLOSELY);
    let weight = book.enter("sampling.weight", "least weight of a sample", least_weight(&step, &within));
    book.enter("sampling.weight-closely", "least weight of a sample, held closely", least_weight(&step, &closely));
    let length = book.enter("sampling.length", "least length of a sample", length_of(&weight, &aim.washed));
    let swatches = book.assume::<Length>(&assumed::SWATCHES);
    let one_of_two = swatches / Figure::<Count>::constant("2", 2.0);
    let swatch = book.enter("sampling.swatch", "yarn in one swatch", one_of_two.by(&HALF));
    let wanted = book.enter("sampling.skein", "length of a sample skein", skein(&length, &swatch));
    book.enter(
        "sampling.fibre",
        "fibre for a sample",
        folding::fibre_for(&wanted, &aim.washed, &aim.waste, &aim.lightens),
    );
}

static HALF: Formula = Formula { source: "half of what two swatches take", standing: Standing::Standard };

/// Enters how many skeins it takes to know the yarn, counted and not drawn.
pub(super) fn skeins(book: &mut Book, plan: &Plan) {
    let (variation, words, of) = variation(plan);
    book.count(Line {
        name: "sampling.variation".to_owned(),
        words: "how skeins may differ, standard deviation over mean".to_owned(),
        kind: Kind::Share,
        standing: Standing::OurChoice,
        source: "a practised hand keeps most skeins within ten per cent; our choice".to_owned(),
        how: How::Counted { words: words.to_owned(), of },
        ..Line::counted(variation, Standing::OurChoice)
    });
    let needed = statistics::readings_needed(variation, assumed::SAMPLE_WITHIN.value);
    book.count(Line {
        name: "sampling.skeins".to_owned(),
        words: "skeins whose mean tells the yarn".to_owned(),
        kind: Kind::Count,
        standing: Standing::Published,
        source: "confidence limits of a mean, IUPAC Gold Book, C01247, solved for the number of readings".to_owned(),
        how: How::Counted {
            words: "the fewest whose mean is sure to one part in twenty, nineteen times in twenty".to_owned(),
            of: vec!["sampling.variation".to_owned()],
        },
        ..Line::counted(needed as f64, Standing::OurChoice)
    });
}

/// How the weights per length of skeins may differ: what is usual, or what the readings of the chosen sample show where that is
/// more. At one loft weight goes with the square of width, so that it varies twice as much as wraps do.
fn variation(plan: &Plan) -> (f64, &'static str, Vec<String>) {
    let usual = (USUAL, "nothing in the log shows more than is usual", Vec::new());
    let Some((sample, shown)) = plan.chosen().and_then(|sample| Some((sample, shown(sample)?))) else { return usual };
    if shown <= USUAL {
        return usual;
    }
    let words = "twice the variation of the wraps of the chosen sample, for weight goes with the square of width";
    (shown, words, vec![format!("sample.{}.wraps", sample.name)])
}

fn shown(sample: &Sample) -> Option<f64> {
    let wraps: Vec<f64> = sample.wraps.iter().map(|reading| reading.value).collect();
    statistics::variation(&wraps).map(|variation| 2.0 * variation)
}

/// Standard deviation of the weights per length of a practised hand's skeins, over their mean: half of what is taken for what is
/// spun against what is aimed at, which holds nineteen times in twenty.
const USUAL: f64 = assumed::MISS.give_or_take / 2.0;
