//! Random dye jobs: what is turned, begun elsewhere, repeated or dyed unevenly is read as what it is.

use std::collections::BTreeSet;

use proptest::prelude::*;
use wheelsheet::plan::dye::{Likeness, Section, families, likeness, read};

/// Half of what bands may differ by, as a share of each.
const HALF_OF_TOLERANCE: f64 = 0.1;

fn settings(cases: u32) -> ProptestConfig {
    ProptestConfig { cases, failure_persistence: None, ..ProptestConfig::default() }
}

/// Sections of any shares at all, some of them out of range.
fn anything() -> impl Strategy<Value = Vec<Section>> {
    let share = prop_oneof![4 => 0.1..1.0, 1 => 1e-9..1e-3, 1 => any::<f64>()];
    prop::collection::vec((0_usize..4, share).prop_map(|(colour, share)| Section { colour, share }), 0..40)
}

/// Bands of few colours that are two units long or seven, so that what is alike and what is not are far apart, halves of
/// them included. The last is not of the colour of the first.
fn plain() -> impl Strategy<Value = Vec<Section>> {
    let band = (0_usize..3, prop::sample::select(vec![2.0, 7.0]));
    prop::collection::vec(band.prop_map(|(colour, share)| Section { colour, share }), 1..8).prop_map(|mut bands| {
        bands.dedup_by_key(|band| band.colour);
        if bands.len() > 1 && bands[0].colour == bands[bands.len() - 1].colour {
            bands.pop();
        }
        // Shares are relative, so that all sevens are the same as all twos.
        if bands.iter().all(|band| band.share > 2.0) {
            bands.iter_mut().for_each(|band| band.share = 2.0);
        }
        bands
    })
}

/// Bands each of its own colour, none half as long again as another.
fn own_colours(least: usize) -> impl Strategy<Value = Vec<Section>> {
    prop::collection::vec(1.0..1.5, least..9)
        .prop_map(|shares| shares.iter().enumerate().map(|(colour, &share)| Section { colour, share }).collect())
}

fn length(bands: &[Section]) -> f64 {
    bands.iter().map(|band| band.share).sum()
}

fn turned(sections: &[Section]) -> Vec<Section> {
    sections.iter().rev().copied().collect()
}

/// The ring of `bands` begun at the band `first`, after a part of it.
fn begun(bands: &[Section], first: usize, part: f64) -> Vec<Section> {
    let first = first % bands.len();
    let mut ring = [&bands[first..], &bands[..first]].concat();
    if part > 0.0 {
        let before = ring[0].share * part;
        ring[0].share -= before;
        ring.push(Section { share: before, ..ring[0] });
    }
    ring
}

/// Each section longer or shorter by the part of half the tolerance that its number of `parts` says, from −1 to 1.
fn uneven(sections: &[Section], parts: &[f64]) -> Vec<Section> {
    let parts = parts.iter().cycle();
    let longer = |(section, part): (&Section, &f64)| Section {
        share: section.share * (1.0 + HALF_OF_TOLERANCE * part),
        ..*section
    };
    sections.iter().zip(parts).map(longer).collect()
}

fn parts() -> impl Strategy<Value = Vec<f64>> {
    prop::collection::vec(prop_oneof![-1.0..1.0, Just(1.0), Just(-1.0)], 12)
}

/// Other numbers for the colours, in another order.
fn relabelled(sections: &[Section]) -> Vec<Section> {
    sections.iter().map(|section| Section { colour: 1000 - 7 * section.colour, ..*section }).collect()
}

fn word(likeness: Likeness) -> &'static str {
    match likeness {
        Likeness::Same => "same",
        Likeness::TurnedRound => "turned round",
        Likeness::BegunElsewhere { .. } => "begun elsewhere",
        Likeness::TurnedAndBegunElsewhere { .. } => "turned and begun elsewhere",
        Likeness::Other => "other",
    }
}

/// The colours of the braid at each half of a unit.
fn cells(bands: &[Section]) -> Vec<usize> {
    bands.iter().flat_map(|band| vec![band.colour; (band.share * 2.0).round() as usize]).collect()
}

/// The likeness of braids of halves of units by trying all places, with nothing uncertain.
fn likeness_by_cells(a: &[Section], b: &[Section]) -> Likeness {
    let (a, b) = (cells(a), cells(b));
    let turned: Vec<usize> = b.iter().rev().copied().collect();
    let begins = |b: &[usize]| (0..a.len()).find(|&first| [&a[first..], &a[..first]].concat() == b);
    let share = |first: usize| first as f64 / a.len() as f64;
    match (begins(&b), begins(&turned)) {
        (Some(0), _) => Likeness::Same,
        (_, Some(0)) => Likeness::TurnedRound,
        (Some(first), _) => Likeness::BegunElsewhere { share: share(first) },
        (None, Some(first)) => Likeness::TurnedAndBegunElsewhere { share: share(first) },
        (None, None) => Likeness::Other,
    }
}

fn share_of(likeness: Likeness) -> f64 {
    match likeness {
        Likeness::BegunElsewhere { share } | Likeness::TurnedAndBegunElsewhere { share } => share,
        Likeness::Same | Likeness::TurnedRound | Likeness::Other => 0.0,
    }
}

/// A braid, and another made from it by beginning at another place, at a band or halfway through it, by turning it
/// round, and by making it another braid altogether.
fn pair() -> impl Strategy<Value = (Vec<Section>, Vec<Section>)> {
    (plain(), plain(), 0_usize..10, any::<bool>(), any::<bool>(), prop::bool::weighted(0.2)).prop_map(
        |(a, other, first, is_within, is_turned, is_other)| {
            let b = begun(if is_other { &other } else { &a }, first, if is_within { 0.5 } else { 0.0 });
            (a, if is_turned { turned(&b) } else { b })
        },
    )
}

/// Whether part of a repeat is left over: two such braids may have the repeat in common where their ends do not join.
fn is_part_left_over(braid: &[Section]) -> bool {
    read(braid).repeat.is_some_and(|repeat| repeat.times.fract() > 1e-9)
}

proptest! {
    #![proptest_config(settings(2000))]

    #[test]
    fn any_sections_are_read(a in anything(), b in anything()) {
        let dye = read(&a);
        prop_assert!(dye.bands.is_empty() || (length(&dye.bands) - 1.0).abs() < 1e-9);
        prop_assert!(dye.bands.windows(2).all(|pair| pair[0].colour != pair[1].colour));
        if let Some(repeat) = dye.repeat {
            prop_assert!((2..=dye.bands.len() / 2).contains(&repeat.bands));
            prop_assert!(repeat.times > 1.6 && (repeat.times * repeat.share - 1.0).abs() < 1e-8);
        }
        prop_assert_eq!(read(&dye.bands).bands.len(), dye.bands.len());
        prop_assert!((0.0..1.0).contains(&share_of(likeness(&a, &b))));
        prop_assert_eq!(likeness(&a, &a), Likeness::Same);
    }

    #[test]
    fn a_braid_is_turned_round_or_mirrored(braid in prop_oneof![anything(), plain()]) {
        let dye = read(&braid);
        let reversed = likeness(&braid, &turned(&braid));
        prop_assert_eq!(reversed == Likeness::Same, dye.is_mirrored || dye.bands.len() < 2);
        prop_assert!(matches!(reversed, Likeness::Same | Likeness::TurnedRound));
    }

    #[test]
    fn a_half_and_its_reverse_are_mirrored(half in plain(), middle in prop::option::of(1.0..9.0), parts in parts()) {
        let middle = middle.map(|share| Section { colour: 3, share });
        let braid: Vec<_> = half.iter().copied().chain(middle).chain(turned(&half)).collect();
        let dye = read(&uneven(&braid, &parts));
        prop_assert_eq!(dye.is_mirrored, dye.bands.len() > 1);
    }

    #[test]
    fn a_ring_is_begun_elsewhere(bands in own_colours(2), first in 0_usize..8, part in prop_oneof![Just(0.0), 0.2..0.8]) {
        let first = first % bands.len();
        let other = begun(&bands, first, part);
        let share = (length(&bands[..first]) + bands[first].share * part) / length(&bands);
        if share == 0.0 {
            prop_assert_eq!(likeness(&bands, &other), Likeness::Same);
        } else if bands.len() > 2 || part > 0.0 {
            let there = likeness(&bands, &other);
            let back = likeness(&other, &bands);
            prop_assert_eq!(word(there), "begun elsewhere");
            prop_assert_eq!(word(back), "begun elsewhere");
            prop_assert!((share_of(there) - share).abs() < 1e-9 && (share_of(back) - 1.0 + share).abs() < 1e-9);
        }
        if bands.len() > 2 && share > 0.0 {
            let there = likeness(&bands, &turned(&other));
            prop_assert_eq!(word(there), "turned and begun elsewhere");
            prop_assert!((share_of(there) - share).abs() < 1e-9);
        }
    }

    #[test]
    fn likeness_is_what_trying_all_places_finds((a, b) in pair()) {
        let (found, expected) = (likeness(&a, &b), likeness_by_cells(&a, &b));
        prop_assert_eq!(word(likeness(&b, &a)), word(found));
        // The repeat may then say what the ring does not.
        if is_part_left_over(&a) && is_part_left_over(&b) {
            return Ok(());
        }
        prop_assert_eq!(word(found), word(expected));
        prop_assert!((share_of(found) - share_of(expected)).abs() < 1e-9, "{:?} for {:?}", found, expected);
    }

    #[test]
    fn an_uneven_hand_changes_no_answer((a, b) in pair(), parts in parts()) {
        let hand_dyed = uneven(&b, &parts);
        prop_assert_eq!(word(likeness(&a, &hand_dyed)), word(likeness(&a, &b)));
        prop_assert_eq!(word(likeness(&hand_dyed, &a)), word(likeness(&b, &a)));
        let (found, exact) = (read(&hand_dyed), read(&b));
        prop_assert_eq!((found.is_mirrored, found.is_solid), (exact.is_mirrored, exact.is_solid));
        prop_assert_eq!(found.repeat.map(|repeat| repeat.bands), exact.repeat.map(|repeat| repeat.bands));
        if let (Some(found), Some(exact)) = (found.repeat, exact.repeat) {
            // A repeat and what is beside it may each be out by half of the tolerance, in opposite ways.
            prop_assert!((found.times / exact.times - 1.0).abs() < 2.5 * HALF_OF_TOLERANCE);
        }
    }

    #[test]
    fn names_of_colours_do_not_matter((a, b) in pair()) {
        let (other_a, other_b) = (relabelled(&a), relabelled(&b));
        prop_assert_eq!(likeness(&other_a, &other_b), likeness(&a, &b));
        let (found, exact) = (read(&other_b), read(&b));
        prop_assert_eq!(found.repeat, exact.repeat);
        prop_assert_eq!((found.is_mirrored, found.is_solid), (exact.is_mirrored, exact.is_solid));
        prop_assert_eq!(found.bands, relabelled(&exact.bands));
    }

    #[test]
    fn what_is_repeated_comes_round(bands in plain(), times in 2_usize..7) {
        let dye = read(&bands.repeat(times));
        prop_assert_eq!(dye.is_solid, bands.len() == 1);
        prop_assert_eq!(dye.repeat.is_some(), bands.len() > 1);
        let Some(repeat) = dye.repeat else { return Ok(()) };
        // The list may itself be a shorter one repeated.
        let shorter = bands.len() / repeat.bands;
        prop_assert_eq!(shorter * repeat.bands, bands.len());
        prop_assert_eq!(repeat.times, (times * shorter) as f64);
        prop_assert!((repeat.share - 1.0 / repeat.times).abs() < 1e-12);
        prop_assert_eq!(bands.repeat(shorter + 1)[repeat.bands..][..bands.len()].to_vec(), bands);
    }

    #[test]
    fn a_piece_of_a_long_dye_job_has_its_repeat(bands in own_colours(2), first in 0_usize..8, part in 0.0..1.0_f64, times in 2.0..5.0_f64) {
        let mut left = length(&bands) * times;
        let ring = begun(&bands, first, part);
        let mut piece = Vec::new();
        for band in ring.iter().cycle() {
            piece.push(Section { share: band.share.min(left), ..*band });
            left -= band.share;
            if left <= 0.0 {
                break;
            }
        }
        let repeat = read(&piece).repeat.expect("a repeat");
        prop_assert_eq!(repeat.bands, bands.len());
        // The end of a band that is cut by less than the tolerance is read as a short band.
        prop_assert!((repeat.times / times - 1.0).abs() < HALF_OF_TOLERANCE, "{} for {}", repeat.times, times);
    }

    #[test]
    fn families_are_a_partition_in_any_order(
        (braids, order) in prop::collection::vec(prop_oneof![4 => plain(), 1 => anything()], 0..12)
            .prop_flat_map(|braids| { let n = braids.len(); (Just(braids), Just((0..n).collect::<Vec<usize>>()).prop_shuffle()) }),
        apart in prop::collection::vec(0_usize..4, 12),
    ) {
        // Braids of several dyers have no colour in common.
        let braids: Vec<Vec<Section>> = braids.iter().zip(&apart)
            .map(|(braid, dyer)| braid.iter().map(|section| Section { colour: section.colour + 10 * dyer, ..*section }).collect())
            .collect();
        let found = families(&braids);
        prop_assert!(found.iter().all(|family| family.is_sorted()) && found.is_sorted_by_key(|family| family[0]));
        prop_assert_eq!(found.concat().into_iter().collect::<BTreeSet<_>>(), (0..braids.len()).collect::<BTreeSet<_>>());
        prop_assert_eq!(found.concat().len(), braids.len());
        let shuffled: Vec<_> = order.iter().map(|&at| braids[at].clone()).collect();
        let again: BTreeSet<BTreeSet<usize>> =
            families(&shuffled).iter().map(|family| family.iter().map(|&at| order[at]).collect()).collect();
        prop_assert_eq!(&again, &found.iter().map(|family| family.iter().copied().collect()).collect());
        let relabelled: Vec<_> = braids.iter().map(|braid| relabelled(braid)).collect();
        prop_assert_eq!(families(&relabelled), found.clone());
        // Braids of two dyers are never of one family, and the same braid twice always is.
        prop_assert!(found.iter().all(|family| family.iter().all(|&at| apart[at] == apart[family[0]])));
        let twice = families(&[braids.clone(), braids.clone()].concat());
        for (at, braid) in braids.iter().enumerate().filter(|(_, braid)| !read(braid).bands.is_empty()) {
            prop_assert!(twice.iter().any(|family| family.contains(&at) && family.contains(&(at + braids.len()))), "{:?}", braid);
        }
    }
}
