//! What lies side by side in a plied yarn: the lane of each ply, and the stretches in which no ply changes.
//!
//! Lengths are metres of finished yarn. Plies are taken to stay in step; what comes of losing step is told elsewhere.

/// What a stretch of a single shows: one colour, or a blend of several.
#[derive(Debug, Clone, PartialEq)]
pub struct Tone {
    /// Colours, by index, with their shares of the weight; the shares sum to 1.
    pub parts: Vec<(usize, f64)>,
}

impl Tone {
    /// A tone of one colour.
    pub fn plain(colour: usize) -> Tone {
        Tone { parts: vec![(colour, 1.0)] }
    }

    /// The share of a colour in the tone.
    pub fn share(&self, colour: usize) -> f64 {
        self.parts.iter().filter(|(part, _)| *part == colour).map(|(_, share)| share).sum()
    }
}

/// So many metres of one tone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Run {
    /// Index of the tone.
    pub tone: usize,
    /// Metres of finished yarn.
    pub length: f64,
}

/// What one ply shows from the beginning of the yarn to its end.
pub type Lane = Vec<Run>;

/// Plied yarn in which no ply changes.
#[derive(Debug, Clone, PartialEq)]
pub struct Stretch {
    /// Metres from the beginning of the yarn to where it begins.
    pub from: f64,
    /// Metres from the beginning of the yarn to where it ends.
    pub to: f64,
    /// The tone of each ply, in the order of the lanes.
    pub tones: Vec<usize>,
}

impl Stretch {
    /// Metres of yarn.
    pub fn length(&self) -> f64 {
        self.to - self.from
    }

    /// Whether all plies show one and the same tone. A blend in all plies is solid too: the yarn looks the same all round.
    pub fn is_solid(&self) -> bool {
        is_one(&self.tones)
    }
}

/// Metres of a lane.
pub fn length(lane: &[Run]) -> f64 {
    lane.iter().map(|run| run.length).sum()
}

/// A lane, or a strip, begun from its other end.
pub fn turned(runs: &[Run]) -> Lane {
    runs.iter().rev().copied().collect()
}

/// Whether runs read alike from both ends, so that turning them changes nothing; lengths are told apart from one part in a
/// thousand million, our choice, as everywhere here.
pub fn reads_alike(runs: &[Run]) -> bool {
    Track::of(runs).is_like(&Track::of(&turned(runs)))
}

/// Lays lanes side by side, from the beginning to the end of the shortest.
pub fn beside(lanes: &[Lane]) -> Vec<Stretch> {
    let tracks: Vec<Track> = lanes.iter().map(|lane| Track::of(lane)).collect();
    let tracks: Vec<&Track> = tracks.iter().collect();
    let mut stretches = Vec::new();
    walk(&tracks, &mut Cursors::default(), |from, to, tones| {
        stretches.push(Stretch { from, to, tones: tones.to_vec() });
    });
    stretches
}

/// The share of the length that is solid; nothing of a yarn without length.
pub fn solid_share(stretches: &[Stretch]) -> f64 {
    let whole: f64 = stretches.iter().map(Stretch::length).sum();
    let solid: f64 = stretches.iter().filter(|stretch| stretch.is_solid()).map(Stretch::length).sum();
    if whole > 0.0 { solid / whole } else { 0.0 }
}

pub(super) fn is_one(tones: &[usize]) -> bool {
    tones.iter().all(|tone| *tone == tones[0])
}

/// A lane as a search reads it: by the places where it changes. Neighbours of one tone are one run.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Track {
    tones: Vec<usize>,
    /// Metres from the beginning to the end of each run.
    ends: Vec<f64>,
}

impl Track {
    pub(super) fn of(runs: &[Run]) -> Track {
        let mut track = Track::default();
        track.extend(runs.iter().copied(), 1.0);
        track
    }

    pub(super) fn clear(&mut self) {
        self.tones.clear();
        self.ends.clear();
    }

    /// Adds runs at the end, each `share` of its length.
    pub(super) fn extend(&mut self, runs: impl Iterator<Item = Run>, share: f64) {
        for run in runs {
            let end = self.length() + run.length * share;
            if self.tones.last() == Some(&run.tone) {
                *self.ends.last_mut().expect("invariant: a tone has an end") = end;
            } else if run.length > 0.0 {
                self.tones.push(run.tone);
                self.ends.push(end);
            }
        }
    }

    pub(super) fn length(&self) -> f64 {
        self.ends.last().copied().unwrap_or(0.0)
    }

    /// Each run as where it begins, where it ends and its tone.
    pub(super) fn runs(&self) -> impl Iterator<Item = (f64, f64, usize)> {
        let froms = std::iter::once(0.0).chain(self.ends.iter().copied());
        froms.zip(&self.ends).zip(&self.tones).map(|((from, to), tone)| (from, *to, *tone))
    }

    /// Whether nobody could tell the two apart.
    pub(super) fn is_like(&self, other: &Track) -> bool {
        let hair = HAIR * self.length();
        let is_near = |(a, b): (&f64, &f64)| (a - b).abs() <= hair;
        self.tones == other.tones && self.ends.iter().zip(&other.ends).all(is_near)
    }
}

/// Where a walk stands in each track; kept from walk to walk so that none allocates.
#[derive(Debug, Default)]
pub(super) struct Cursors {
    at: Vec<usize>,
    tones: Vec<usize>,
}

/// Calls `each` with where a stretch begins, where it ends and its tones, for all stretches up to the end of the shortest track.
///
/// Places less than a hair apart are one place: ends that fall together are summed in another order in each ply, so that their
/// last bits differ.
pub(super) fn walk(tracks: &[&Track], cursors: &mut Cursors, mut each: impl FnMut(f64, f64, &[usize])) {
    let whole = shortest(tracks);
    if whole <= 0.0 {
        return;
    }
    let hair = HAIR * whole;
    let Cursors { at, tones } = cursors;
    at.clear();
    at.resize(tracks.len(), 0);
    tones.clear();
    tones.extend(tracks.iter().map(|track| track.tones[0]));
    let mut from = 0.0;
    loop {
        let next = tracks.iter().zip(at.iter()).map(|(track, &i)| track.ends[i]).fold(f64::INFINITY, f64::min);
        let is_last = next >= whole - hair;
        let to = if is_last { whole } else { next };
        each(from, to, tones);
        if is_last {
            return;
        }
        for ((track, i), tone) in tracks.iter().zip(at.iter_mut()).zip(tones.iter_mut()) {
            while track.ends[*i] <= to + hair {
                *i += 1;
            }
            *tone = track.tones[*i];
        }
        from = to;
    }
}

/// Metres of the yarn that tracks give: as far as the shortest goes.
pub(super) fn shortest(tracks: &[&Track]) -> f64 {
    tracks.iter().map(|track| track.length()).reduce(f64::min).unwrap_or(0.0)
}

/// Places are told apart from this share of the length; our choice, far above what rounding does and below what can be seen.
const HAIR: f64 = 1e-9;
