//! Chance with a seed, for searches that try.

/// A stream of chance (G. L. Steele, D. Lea & C. H. Flood, *Fast splittable pseudorandom number generators*, 2014).
pub(super) struct Stream(pub(super) u64);

impl Stream {
    pub(super) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        mixed(self.0)
    }

    /// A number below `n`, which is not 0. That some come up more often, by one part in 2⁶⁴ ÷ n, is no matter here.
    pub(super) fn below(&mut self, n: usize) -> usize {
        ((u128::from(self.next()) * n as u128) >> 64) as usize
    }

    /// A number from 0 to below 1.
    pub(super) fn unit(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }
}

/// A word with its bits mixed.
pub(super) fn mixed(word: u64) -> u64 {
    let mixed = (word ^ (word >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    mixed ^ (mixed >> 31)
}
