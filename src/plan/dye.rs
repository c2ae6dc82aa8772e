//! Reads a dye job from the sections of a braid: what comes round, what is mirrored, and which braids are alike.
//!
//! Neighbouring sections of one colour are one band. Hand-dyed bands are never exact, so that bands of one colour count
//! as alike where they differ by little. A braid may be cut from a longer dye job, so that its first and its last band may
//! be parts of bands.

use std::collections::BTreeMap;

/// Bands are alike where they differ by no more than this share of the longer one. Our choice: bands meant to be
/// alike may well differ by so much by hand, and lengths that a dyer means to differ mostly differ by more.
const ALIKE: f64 = 0.2;

/// Lengths below this share of the mean band of a braid do not count. Our choice: the edge between two colours is uncertain
/// by a length that does not shrink with the bands it parts, so that a fifth asks too much of a thin band. It is a share of
/// the mean band and not of the braid, because a braid of very many thin bands would otherwise be alike all over.
const UNCERTAIN: f64 = 0.1;

/// Two braids show one repeat only where the numbers of times it comes round differ by less than this. Our choice: beyond
/// half a repeat they are out of step at the far end.
const OUT_OF_STEP: f64 = 0.5;

/// Two braids belong together that have at least this share of their length in common colours. Our choice: more of them
/// is common than is not.
const IN_COMMON: f64 = 0.5;

/// What sums of shares may be off by: it only keeps limits that are met exactly from failing by the last bits.
const ROUNDING: f64 = 1e-9;

/// A section of a dyed braid, or a band of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Section {
    /// Which colour; only whether two colours are equal matters.
    pub colour: usize,
    /// Share of the length of the whole braid.
    pub share: f64,
}

/// How a braid is dyed.
///
/// `repeat` and `is_mirrored` do not exclude one another: A-B-A-B-A is the repeat A-B, which comes round twice and a half,
/// and reads the same from both ends. What follows from each holds: it makes even stripes, and turning a strip round does
/// nothing. A-B-C-B-A is mirrored only.
#[derive(Debug, Clone, PartialEq)]
pub struct Dye {
    /// Its bands from end to end, no two neighbours of one colour, with shares that add up to 1.
    pub bands: Vec<Section>,
    /// What comes round along it, if anything does.
    pub repeat: Option<Repeat>,
    /// Whether it reads the same from both ends; a braid of one colour does not count.
    pub is_mirrored: bool,
    /// Whether it is of one colour.
    pub is_solid: bool,
}

/// The shortest list of bands that comes round at least twice along a braid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Repeat {
    /// How many bands it has, at least two.
    pub bands: usize,
    /// Its length as a share of the braid.
    pub share: f64,
    /// How often it comes round, with the part of one at the ends. As bands are uneven it may fall a little short of 2 for
    /// a braid that begins and ends within one band.
    pub times: f64,
}

/// What one braid is to another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Likeness {
    /// The same bands in the same order.
    Same,
    /// The same bands, read from the other end.
    TurnedRound,
    /// The same bands joined end to end into a ring, or the same repeat, begun at another place.
    BegunElsewhere {
        /// How far along the first braid the second one begins, as a share of the braid. The least that holds.
        share: f64,
    },
    /// The same ring or repeat, read from the other end and begun at another place.
    TurnedAndBegunElsewhere {
        /// How far along the first braid the second one begins once it is turned round, as a share of the braid.
        share: f64,
    },
    /// None of these.
    Other,
}

/// Reads the dye job of a braid from its sections, end to end. Shares are taken relative to their sum; sections whose share
/// is not above 0 and finite are left out. A braid without sections has neither bands nor repeat, and is not mirrored.
///
/// A repeat comes round at least twice whole; what is left over at either end may be a part of it, and the first and last
/// band a part of a band. Takes time in the square of the number of sections.
pub fn read(sections: &[Section]) -> Dye {
    let bands = bands(sections);
    Dye {
        repeat: repeat(&bands).map(|one| {
            let share = length(&one);
            Repeat { bands: one.len(), share, times: without_rounding(1.0 / share) }
        }),
        is_mirrored: bands.len() > 1 && are_alike(&bands, &turned(&bands)),
        is_solid: bands.len() == 1,
        bands,
    }
}

/// What braid `b` is to braid `a`, in the simplest word that holds. Braids are compared by the shares of their lengths, not
/// by the lengths themselves. Two braids without sections are the same.
///
/// Takes time in the square of the number of sections.
pub fn likeness(a: &[Section], b: &[Section]) -> Likeness {
    let (a, b) = (bands(a), bands(b));
    let turned = turned(&b);
    if are_alike(&a, &b) {
        return Likeness::Same;
    }
    if are_alike(&a, &turned) {
        return Likeness::TurnedRound;
    }
    match (beginning(&a, &b), beginning(&a, &turned)) {
        (Some(0.0), _) => Likeness::Same,
        (_, Some(0.0)) => Likeness::TurnedRound,
        (Some(share), _) => Likeness::BegunElsewhere { share },
        (None, Some(share)) => Likeness::TurnedAndBegunElsewhere { share },
        (None, None) => Likeness::Other,
    }
}

/// Families of braids, by their indices: two braids that have at least half of their length in common colours are of one
/// family, and so are braids joined by others between them. The order of the colours does not matter. Each family is
/// sorted, and families are in the order of their first braids; a braid without sections stands alone.
pub fn families(braids: &[Vec<Section>]) -> Vec<Vec<usize>> {
    let colours: Vec<_> = braids.iter().map(|sections| colours(sections)).collect();
    let mut is_placed = vec![false; braids.len()];
    let mut families = Vec::new();
    for first in 0..braids.len() {
        if !is_placed[first] {
            families.push(family(first, &colours, &mut is_placed));
        }
    }
    families
}

/// All braids joined to `first`, itself among them.
fn family(first: usize, colours: &[BTreeMap<usize, f64>], is_placed: &mut [bool]) -> Vec<usize> {
    is_placed[first] = true;
    let mut family = vec![first];
    let mut next = 0;
    while let Some(&braid) = family.get(next) {
        for other in 0..colours.len() {
            if !is_placed[other] && in_common(&colours[braid], &colours[other]) >= IN_COMMON - ROUNDING {
                is_placed[other] = true;
                family.push(other);
            }
        }
        next += 1;
    }
    family.sort_unstable();
    family
}

/// The share of each colour of a braid.
fn colours(sections: &[Section]) -> BTreeMap<usize, f64> {
    let mut colours = BTreeMap::new();
    for band in bands(sections) {
        *colours.entry(band.colour).or_insert(0.0) += band.share;
    }
    colours
}

/// The share of the length of two braids that is of common colours.
fn in_common(a: &BTreeMap<usize, f64>, b: &BTreeMap<usize, f64>) -> f64 {
    a.iter().filter_map(|(colour, share)| b.get(colour).map(|other| share.min(*other))).sum()
}

/// Sections with neighbours of one colour merged and shares that add up to 1.
fn bands(sections: &[Section]) -> Vec<Section> {
    let real: Vec<&Section> =
        sections.iter().filter(|section| section.share > 0.0 && section.share.is_finite()).collect();
    // Shares are first taken relative to the longest, because the sum of shares near the end of the range is infinite.
    let longest = real.iter().map(|section| section.share).fold(0.0, f64::max);
    let total: f64 = real.iter().map(|section| section.share / longest).sum();
    let mut bands: Vec<Section> = Vec::new();
    for section in real {
        let share = section.share / longest / total;
        match bands.last_mut() {
            Some(band) if band.colour == section.colour => band.share += share,
            // Beside a section of the largest number one of the smallest is nothing.
            _ if share == 0.0 => {}
            _ => bands.push(Section { colour: section.colour, share }),
        }
    }
    bands
}

fn turned(bands: &[Section]) -> Vec<Section> {
    bands.iter().rev().copied().collect()
}

fn length(bands: &[Section]) -> f64 {
    bands.iter().map(|band| band.share).sum()
}

/// A count that is whole but for rounding, made whole: a reader may well take its whole part.
fn without_rounding(times: f64) -> f64 {
    if (times - times.round()).abs() < ROUNDING { times.round() } else { times }
}

/// How far bands may differ: it depends on the mean band of what is compared.
#[derive(Clone, Copy)]
struct Tolerance {
    /// Lengths up to this do not count.
    uncertain: f64,
}

impl Tolerance {
    fn of(bands: &[Section]) -> Self {
        Self { uncertain: UNCERTAIN * length(bands) / bands.len() as f64 + ROUNDING }
    }

    fn is_alike(self, a: f64, b: f64) -> bool {
        (a - b).abs() <= self.uncertain.max(ALIKE * a.max(b) + ROUNDING)
    }

    /// Whether each of `shares` is like every other.
    fn are_alike(self, shares: &[f64]) -> bool {
        self.is_alike(least(shares), most(shares))
    }
}

fn least(shares: &[f64]) -> f64 {
    shares.iter().copied().fold(f64::INFINITY, f64::min)
}

fn most(shares: &[f64]) -> f64 {
    shares.iter().copied().fold(0.0, f64::max)
}

fn mean(shares: &[f64]) -> f64 {
    shares.iter().sum::<f64>() / shares.len() as f64
}

/// Whether two lists have the same colours in the same order, and bands that are alike.
fn are_alike(a: &[Section], b: &[Section]) -> bool {
    a.len() == b.len() && are_alike_from(a, b, 0, Tolerance::of(a))
}

/// Whether the ring `b` is like the ring `a` read from its band `first`; both have the same number of bands.
fn are_alike_from(a: &[Section], b: &[Section], first: usize, tolerance: Tolerance) -> bool {
    a[first..]
        .iter()
        .chain(&a[..first])
        .zip(b)
        .all(|(a, b)| a.colour == b.colour && tolerance.is_alike(a.share, b.share))
}

/// The bands of the shortest repeat, each with the mean share of all that are whole, from the first band of the braid on.
fn repeat(bands: &[Section]) -> Option<Vec<Section>> {
    (2..=bands.len() / 2).find_map(|n| repeat_of(bands, n))
}

/// The bands of the repeat where `n` bands come round, at least two of them and at least twice.
fn repeat_of(bands: &[Section], n: usize) -> Option<Vec<Section>> {
    if bands[n..].iter().zip(bands).any(|(later, earlier)| later.colour != earlier.colour) {
        return None;
    }
    let tolerance = Tolerance::of(bands);
    let last = bands.len() - 1;
    let mut shares = shares_within(bands, n);
    if !shares.iter().all(|shares| tolerance.are_alike(shares)) {
        return None;
    }
    let first_part = end_part(bands[0].share, &shares[0], tolerance)?;
    let last_part = end_part(bands[last].share, &shares[last % n], tolerance)?;
    let is_twice_whole = match bands.len() - 2 * n {
        0 => first_part == Part::Whole && last_part == Part::Whole,
        // Both ends are of one band: parts of it may make up the second time between them.
        1 => end_part(bands[0].share + bands[last].share, &shares[0], tolerance) != Some(Part::CutShort),
        _ => true,
    };
    if !is_twice_whole {
        return None;
    }
    for (at, part) in [(0, first_part), (last, last_part)] {
        if part == Part::Whole {
            shares[at % n].push(bands[at].share);
        }
    }
    Some(bands.iter().zip(&shares).map(|(band, shares)| Section { share: mean(shares), ..*band }).collect())
}

/// The shares of each of `n` bands that come round, but for those at the ends of the braid. None of these lists is empty: a
/// band at one end comes again within the braid, because a repeat has two bands or more and comes round twice.
fn shares_within(bands: &[Section], n: usize) -> Vec<Vec<f64>> {
    let mut shares = vec![Vec::new(); n];
    for (at, band) in bands.iter().enumerate().take(bands.len() - 1).skip(1) {
        shares[at % n].push(band.share);
    }
    shares
}

/// How much of a band there is at the end of a braid.
#[derive(Clone, Copy, PartialEq)]
enum Part {
    Whole,
    CutShort,
}

/// What the band at an end is to the whole bands of its place in the repeat; `None` where it is longer than they are.
fn end_part(share: f64, whole: &[f64], tolerance: Tolerance) -> Option<Part> {
    let (least, most) = (least(whole), most(whole));
    if tolerance.is_alike(share, least) && tolerance.is_alike(share, most) {
        Some(Part::Whole)
    } else {
        (share < least).then_some(Part::CutShort)
    }
}

/// How far along `a` the braid `b` begins, as a share of the braid, if they have the repeat or the whole ring in common:
/// the least that holds, 0 where they begin at one place but for a length that does not count.
fn beginning(a: &[Section], b: &[Section]) -> Option<f64> {
    let in_ring = || beginning_in_ring(&Ring::of_braid(a)?, &Ring::of_braid(b)?);
    [beginning_in_repeat(a, b), in_ring()].into_iter().flatten().min_by(f64::total_cmp)
}

/// A repeat need not come round a whole number of times, so that the ends of such braids do not join into one ring.
fn beginning_in_repeat(a: &[Section], b: &[Section]) -> Option<f64> {
    let (ring_a, ring_b) = (Ring::of_repeat(a)?, Ring::of_repeat(b)?);
    let times = |ring: &Ring| 1.0 / length(&ring.bands);
    let is_in_step = (times(&ring_a) - times(&ring_b)).abs() < OUT_OF_STEP;
    is_in_step.then(|| beginning_in_ring(&ring_a, &ring_b))?
}

fn beginning_in_ring(a: &Ring, b: &Ring) -> Option<f64> {
    if a.bands.len() != b.bands.len() {
        return None;
    }
    let tolerance = Tolerance::of(&a.bands);
    let round = length(&a.bands);
    let matches = (0..a.bands.len()).filter(|first| are_alike_from(&a.bands, &b.bands, *first, tolerance));
    let shares = matches.map(|first| {
        let share = a.distance(b, first).rem_euclid(round);
        if share.min(round - share) <= tolerance.uncertain { 0.0 } else { share }
    });
    shares.min_by(f64::total_cmp)
}

/// Bands of which the last is followed by the first.
struct Ring {
    bands: Vec<Section>,
    /// The share of the first band that lies before the beginning of the braid. A share and not a length, so that the
    /// uneven lengths of one band in two braids do not put their beginnings apart.
    before: f64,
}

impl Ring {
    /// The braid with its ends joined: where they are of one colour they are parts of one band. `None` without bands.
    fn of_braid(braid: &[Section]) -> Option<Self> {
        let (first, last) = (braid.first()?, braid.last()?);
        if braid.len() == 1 || first.colour != last.colour {
            return Some(Self { bands: braid.to_vec(), before: 0.0 });
        }
        let mut bands = braid[..braid.len() - 1].to_vec();
        bands[0].share += last.share;
        Some(Self { before: last.share / bands[0].share, bands })
    }

    /// The repeat of the braid, if it has one.
    fn of_repeat(braid: &[Section]) -> Option<Self> {
        let (first, bands) = (braid.first()?.share, repeat(braid)?);
        let whole = bands[0].share;
        let is_whole = Tolerance::of(&bands).is_alike(first, whole);
        Some(Self { bands, before: if is_whole { 0.0 } else { 1.0 - first / whole } })
    }

    /// How far along this ring `other` begins, if its first band is like the band `first` of this one; may be below 0.
    fn distance(&self, other: &Self, first: usize) -> f64 {
        let before = self.bands[0].share * self.before;
        length(&self.bands[..first]) + self.bands[first].share * other.before - before
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A braid of bands as letters, each with the length that follows it: `A2 B1`.
    fn braid(bands: &str) -> Vec<Section> {
        let sections = bands.split_whitespace().map(|band| Section {
            colour: usize::from(band.as_bytes()[0] - b'A'),
            share: band[1..].parse().expect("a length"),
        });
        let sections: Vec<Section> = sections.collect();
        let total = length(&sections);
        sections.iter().map(|section| Section { share: section.share / total, ..*section }).collect()
    }

    fn repeat_of(bands: &str) -> Option<(usize, f64, f64)> {
        read(&braid(bands)).repeat.map(|repeat| (repeat.bands, repeat.share, repeat.times))
    }

    #[track_caller]
    fn assert_repeat(bands: &str, n: usize, times: f64) {
        let (found, share, found_times) = repeat_of(bands).expect("a repeat");
        assert_eq!(found, n, "{bands}");
        assert!((found_times - times).abs() < 1e-9 && (share * times - 1.0).abs() < 1e-9, "{bands}: {found_times}");
    }

    #[track_caller]
    fn assert_begun(found: Likeness, expected: Likeness) {
        match (found, expected) {
            (Likeness::BegunElsewhere { share: a }, Likeness::BegunElsewhere { share: b })
            | (Likeness::TurnedAndBegunElsewhere { share: a }, Likeness::TurnedAndBegunElsewhere { share: b }) => {
                assert!((a - b).abs() < 1e-9, "{a} for {b}");
            }
            _ => assert_eq!(found, expected),
        }
    }

    #[test]
    fn neighbours_of_one_colour_are_one_band() {
        let dye = read(&braid("A1 A1 B1 C0.5 C0.5"));
        assert_eq!(dye.bands.iter().map(|band| band.colour).collect::<Vec<_>>(), [0, 1, 2]);
        assert_eq!(dye.bands.iter().map(|band| band.share).collect::<Vec<_>>(), [0.5, 0.25, 0.25]);
    }

    #[test]
    fn what_comes_round_twice_is_a_repeat() {
        assert_repeat("A1 B1 C1 D1 A1 B1 C1 D1", 4, 2.0);
        assert_repeat("A1 B2 A1 B2 A1 B2", 2, 3.0);
        assert_repeat("A1 B1 A1 C1 A1 B1 A1 C1", 4, 2.0);
        assert_eq!(repeat_of("A1 B1 C1 D1"), None);
        assert_eq!(repeat_of("A1 B1 C1 A1 B1"), None);
    }

    #[test]
    fn a_repeat_may_end_in_part_of_one() {
        assert_repeat("A1 B1 C1 A1 B1 C1 A1", 3, 7.0 / 3.0);
        assert_repeat("A2 B2 A2 B2 A1", 2, 2.25);
        assert_repeat("A1 B2 A2 B2 A2 B1", 2, 2.5);
    }

    #[test]
    fn a_repeat_may_begin_within_a_band() {
        assert_repeat("A1 B4 C4 A4 B4 C4 A3", 3, 2.0);
        // Together the ends are less than one band, and the second time is not whole.
        assert_eq!(repeat_of("A1 B4 C4 A4 B4 C4 A1"), None);
        assert_eq!(repeat_of("A1 B4 A4 B4"), None);
        assert_eq!(repeat_of("A4 B4 A4 B1"), None);
    }

    #[test]
    fn bands_that_differ_in_length_do_not_come_round() {
        assert_eq!(repeat_of("A1 B1 A2 B1 A3 B1 A4 B1"), None);
        assert_repeat("A1 B1 A2 B1 A1 B1 A2 B1", 4, 2.0);
        // An end may be a part of a band but not more than one.
        assert_eq!(repeat_of("A4 B2 A2 B2 A2 B2"), None);
    }

    #[test]
    fn a_slow_change_is_no_repeat() {
        // Each is like the next, and the first is not like the last.
        assert_eq!(repeat_of("B9 A10 B9 A11.5 B9 A13 B9 A15 B9"), None);
    }

    #[test]
    fn uneven_bands_come_round() {
        assert_repeat("A10 B20 A11 B19 A9.5 B21", 2, 3.0);
        assert!(read(&braid("A10 B20 C30 B18 A11")).is_mirrored);
        assert!(!read(&braid("A10 B20 C30 B15 A11")).is_mirrored);
    }

    #[test]
    fn mirrored_about_a_band() {
        assert!(read(&braid("A1 B1 C1 D1 C1 B1 A1")).is_mirrored);
        assert!(read(&braid("A1 B1 C1 D1 D1 C1 B1 A1")).is_mirrored);
        assert!(!read(&braid("A1 B1 C1 D1 A1 B1 C1 D1")).is_mirrored);
        assert!(!read(&braid("A1 B1 C1 B1 A2")).is_mirrored);
    }

    #[test]
    fn some_braids_repeat_and_are_mirrored() {
        let dye = read(&braid("A1 B1 A1 B1 A1"));
        assert!(dye.is_mirrored);
        assert_repeat("A1 B1 A1 B1 A1", 2, 2.5);
        assert_eq!(repeat_of("A1 B1 C1 B1 A1"), None);
    }

    #[test]
    fn a_solid_braid_is_only_solid() {
        let dye = read(&braid("A1 A2 A3"));
        assert!(dye.is_solid && !dye.is_mirrored && dye.repeat.is_none());
        assert_eq!(dye.bands.len(), 1);
        assert!(!read(&braid("A1 B1")).is_solid);
    }

    #[test]
    fn nothing_and_shares_out_of_range_are_read() {
        let nothing = read(&[]);
        assert!(nothing.bands.is_empty() && nothing.repeat.is_none() && !nothing.is_mirrored && !nothing.is_solid);
        let shares = [f64::NAN, f64::INFINITY, -1.0, 0.0, f64::MAX, f64::MAX, f64::MIN_POSITIVE];
        let sections: Vec<_> = shares.iter().zip(0..).map(|(&share, colour)| Section { colour, share }).collect();
        // The smallest are nothing beside the largest.
        let largest = [4, 5].map(|colour| Section { colour, share: 0.5 });
        assert_eq!(read(&sections).bands, largest);
        assert_eq!(likeness(&sections, &sections), Likeness::Same);
        assert_eq!(likeness(&[], &[]), Likeness::Same);
        assert_eq!(likeness(&[], &sections), Likeness::Other);
    }

    #[test]
    fn the_same_and_the_other_way_round() {
        let a = braid("A1 B2 C3");
        assert_eq!(likeness(&a, &braid("A11 B20 C28")), Likeness::Same);
        assert_eq!(likeness(&a, &braid("C3 B2 A1")), Likeness::TurnedRound);
        assert_eq!(likeness(&a, &braid("A3 B2 C1")), Likeness::Other);
        assert_eq!(likeness(&a, &braid("A1 B2 D3")), Likeness::Other);
        assert_eq!(likeness(&braid("A1"), &braid("A2")), Likeness::Same);
    }

    #[test]
    fn a_ring_begun_elsewhere() {
        let a = braid("A1 B2 C3 D4");
        assert_begun(likeness(&a, &braid("C3 D4 A1 B2")), Likeness::BegunElsewhere { share: 0.3 });
        assert_begun(likeness(&a, &braid("C1 D4 A1 B2 C2")), Likeness::BegunElsewhere { share: 0.5 });
        assert_begun(likeness(&braid("D1 A1 B2 C3 D3"), &a), Likeness::BegunElsewhere { share: 0.1 });
        assert_begun(likeness(&a, &braid("B2 A1 D4 C3")), Likeness::TurnedAndBegunElsewhere { share: 0.3 });
        assert_begun(likeness(&a, &braid("C1 B2 A1 D4 C2")), Likeness::TurnedAndBegunElsewhere { share: 0.4 });
        assert_eq!(likeness(&a, &braid("C1 D4 A1 B2 C4")), Likeness::Other);
    }

    #[test]
    fn the_simplest_word_is_used() {
        // Turned round as well as begun at half of the repeat.
        assert_eq!(likeness(&braid("A1 B1 A1 B1"), &braid("B1 A1 B1 A1")), Likeness::TurnedRound);
        // The ring reads the same both ways.
        assert_begun(
            likeness(&braid("A2 B2 C2 B2"), &braid("C1 B2 A2 B2 C1")),
            Likeness::BegunElsewhere { share: 0.625 },
        );
        // Two beginnings hold, because 11.5 is like 10 and like 13, and 10 is not like 13. The nearer is told.
        let begun = likeness(&braid("A10 B9 A13 B9"), &braid("A5 B9 A11.5 B9 A6.5"));
        assert_begun(begun, Likeness::BegunElsewhere { share: 10.0 * (6.5 / 11.5) / 41.0 });
        // A sliver left at an end is within what a hand can do.
        assert_eq!(likeness(&braid("A10 B10 C10"), &braid("C0.5 A10 B10 C9.5")), Likeness::Same);
        assert_eq!(likeness(&braid("A10 B10 C10"), &braid("A10 B10 C10 A0.5")), Likeness::Same);
        assert_eq!(likeness(&braid("A10 B10 C10"), &braid("A0.5 C10 B10 A10")), Likeness::TurnedRound);
    }

    #[test]
    fn a_repeat_that_ends_in_part_of_one_is_begun_elsewhere() {
        // The repeat A1 B2 C3 cut off after 14 of its units, from its beginning and from 2 units on.
        let a = braid("A1 B2 C3 A1 B2 C3 A1 B1");
        let begun = likeness(&a, &braid("B1 C3 A1 B2 C3 A1 B2 C1"));
        assert_begun(begun, Likeness::BegunElsewhere { share: 2.0 / 14.0 });
        // An end is not counted as cut because it is a little short.
        let begun = likeness(&braid("A10 B10 A10 B10 A6"), &braid("B9 A10 B10 A10 B7"));
        assert_begun(begun, Likeness::BegunElsewhere { share: 10.0 / 46.0 });
        // Joined into rings they begin half a unit apart, which is further along than in the repeat C1 B4.
        let begun = likeness(&braid("C1 B4 C1 B4 C1 B1"), &braid("B0.5 C1 B4 C1 B4 C1 B0.5"));
        assert_begun(begun, Likeness::BegunElsewhere { share: 4.5 / 12.0 });
        // As many units of another number of repeats are something else.
        assert_eq!(likeness(&braid("A1 B1 A1 B1 A1 B1"), &braid("A1 B1 A1 B1 A1 B1 A1 B1")), Likeness::Other);
        // Six times and seven times are within a fifth of one another, band by band.
        let times = |n: usize| braid(&"A1 B1 C1 ".repeat(n));
        assert_eq!(likeness(&times(6), &times(7)), Likeness::Other);
    }

    #[test]
    fn families_share_half_of_their_colours() {
        let braids = [
            braid("A1 B1"),
            braid("D1 E1"),
            braid("B1 C1"),
            vec![],
            braid("C3 E2"),
            braid("F1 D1 G1"),
            braid("H5 D2 H5 D3 H5 D5"),
        ];
        // B is half of braids 0 and 2, C half of 2 and 4; D is a third of 5 and less than half of all others.
        assert_eq!(families(&braids), [vec![0, 2, 4], vec![1], vec![3], vec![5], vec![6]]);
    }

    #[test]
    fn families_are_joined_by_braids_between_them() {
        let ends = [braid("A1"), braid("B1")];
        assert_eq!(families(&ends), [vec![0], vec![1]]);
        assert_eq!(families(&[ends[0].clone(), ends[1].clone(), braid("A1 B1")]), [vec![0, 1, 2]]);
        assert_eq!(families(&[]), Vec::<Vec<usize>>::new());
    }
}
