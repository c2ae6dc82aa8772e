//! Stitches taken away or added: how they are spread over rows.

/// Stitches taken away or added over some rows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Shaping {
    /// Whether there are more stitches afterwards.
    pub widens: bool,
    /// Where in a row.
    pub places: Places,
    /// How many stitches in all.
    pub stitches: usize,
    /// Over which rows.
    pub spread: Spread,
    /// Stitches beyond those of whole rows of shaping, in the last of them.
    pub rest: usize,
}

/// Where in a row the shaping stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Places {
    /// At both edges, or on both sides of one line in the round.
    BothEdges,
    /// At one edge.
    OneEdge,
    /// Before and after both folds of a tube that lies flat.
    SideFolds,
    /// On both sides of four lines.
    FourLines,
    /// On both sides of front and back alone.
    BodyLines,
    /// On both sides of the sleeves alone.
    SleeveLines,
    /// In eight wedges.
    EightWedges,
    /// Evenly along the row.
    AllAlong,
}

impl Places {
    /// How many stitches one row of shaping takes away or adds; `None` of as many as there are.
    pub fn at_once(self) -> Option<usize> {
        match self {
            Self::BothEdges => Some(2),
            Self::OneEdge => Some(1),
            Self::SideFolds | Self::BodyLines | Self::SleeveLines => Some(4),
            Self::FourLines | Self::EightWedges => Some(8),
            Self::AllAlong => None,
        }
    }
}

/// Rows of shaping that are so far apart, so many times.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Run {
    /// Every so many rows.
    pub every: usize,
    /// So many times.
    pub times: usize,
}

/// Over which rows shaping is spread.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Spread {
    /// All in one row.
    Once,
    /// One run, or one after the other.
    Runs(Vec<Run>),
    /// Two runs in turn, so many times, and what is left as another.
    InTurn {
        /// The two.
        turn: [Run; 2],
        /// How often.
        turns: usize,
        /// The rest; no times at all where none is.
        then: Run,
    },
    /// So many stitches at the start of each row, and one more in some.
    EachRow {
        /// In each.
        stitches: usize,
        /// In so many of the last ones a stitch more.
        more: usize,
    },
}

impl Spread {
    /// The runs of shaping in order, each as often as it comes.
    pub fn runs(&self) -> Vec<Run> {
        match self {
            Self::Once | Self::EachRow { .. } => Vec::new(),
            Self::Runs(runs) => runs.clone(),
            Self::InTurn { turn, turns, then } => {
                let mut all: Vec<Run> = std::iter::repeat_n(*turn, *turns).flatten().collect();
                all.push(*then);
                all
            }
        }
    }
}

/// How the edge runs that is shaped.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Line {
    /// Straight: near and far rows of shaping in turn, so that it does not bend.
    Straight,
    /// Rounding off: far apart at first, and then nearer.
    Rounding,
}

/// Shaping from so many stitches to so many, over so many rows. Work that is turned is shaped in every other row where it can be, so
/// that all shaping is seen from one side.
///
/// Common practice, no source.
pub(super) fn shaping(places: Places, (from, to): (usize, usize), rows: usize, is_turned: bool, line: Line) -> Shaping {
    let stitches = from.abs_diff(to);
    let of = |spread, rest| Shaping { widens: to > from, places, stitches, spread, rest };
    let Some(at_once) = places.at_once() else { return of(Spread::Once, 0) };
    let (times, rest) = (stitches / at_once, stitches % at_once);
    if times == 0 || rows == 0 {
        return of(Spread::Once, 0);
    }
    if rows < times {
        return of(Spread::EachRow { stitches: stitches / rows, more: stitches % rows }, 0);
    }
    let step = if is_turned && rows >= 2 * times { 2 } else { 1 };
    let units = rows / step;
    let far_times = units % times;
    let near = Run { every: units / times * step, times: times - far_times };
    let far = Run { every: near.every + step, times: far_times };
    let spread = match line {
        _ if far_times == 0 => Spread::Runs(vec![near]),
        Line::Rounding => Spread::Runs(vec![far, near]),
        // How far the edge is off a straight line where one run follows the other, in stitches.
        Line::Straight if near.times * far.times < units => Spread::Runs(vec![near, far]),
        Line::Straight => in_turn(near, far),
    };
    of(spread, rest)
}

/// Two runs, the greater parted by the lesser.
fn in_turn(near: Run, far: Run) -> Spread {
    let is_near = near.times >= far.times;
    let (more, fewer) = if is_near { (near, far) } else { (far, near) };
    let group = more.times / fewer.times;
    Spread::InTurn {
        turn: [Run { times: group, ..more }, Run { times: 1, ..fewer }],
        turns: fewer.times,
        then: Run { times: more.times - group * fewer.times, ..more },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_stitches_go_and_the_rows_suffice() {
        let all = [Places::BothEdges, Places::OneEdge, Places::SideFolds, Places::FourLines, Places::EightWedges];
        for places in all {
            let at_once = places.at_once().unwrap();
            for (from, to) in [(44, 78), (320, 104), (98, 2), (1, 15), (7, 7), (5, 6), (342, 0), (172, 2)] {
                for (rows, is_turned) in [(0, false), (1, true), (7, false), (66, true), (107, true), (212, false)] {
                    for line in [Line::Straight, Line::Rounding] {
                        let found = shaping(places, (from, to), rows, is_turned, line);
                        let stitches = from.abs_diff(to);
                        match &found.spread {
                            Spread::Once => assert!(stitches < at_once || rows == 0, "{found:?}"),
                            Spread::EachRow { stitches: each, more } => assert_eq!(each * rows + more, stitches),
                            spread => {
                                let runs = spread.runs();
                                let times: usize = runs.iter().map(|run| run.times).sum();
                                let taken: usize = runs.iter().map(|run| run.every * run.times).sum();
                                assert_eq!(times * at_once + found.rest, stitches, "{found:?}");
                                assert!(taken <= rows && taken + usize::from(is_turned) >= rows, "{found:?}, {rows}");
                            }
                        }
                    }
                }
            }
        }
    }

    /// A straight edge stays within two stitches of its line wherever one looks.
    #[test]
    fn a_straight_edge_does_not_bend() {
        for (from, rows) in [(342, 212), (150, 90), (300, 101), (64, 40)] {
            let found = shaping(Places::BothEdges, (from, 0), rows, true, Line::Straight);
            let (mut row, mut gone) = (0, 0);
            for run in found.spread.runs() {
                for _ in 0..run.times {
                    (row, gone) = (row + run.every, gone + 2);
                    let straight = from as f64 * row as f64 / rows as f64;
                    assert!((gone as f64 - straight).abs() <= 4.0, "{from} over {rows}: {gone} gone at row {row}");
                }
            }
        }
    }
}
