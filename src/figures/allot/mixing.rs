//! Words that are mixed: for hashing, and for chance.

use std::hash::Hasher;

/// A hasher for keys of ours, which need no protection against chosen ones.
#[derive(Default)]
pub(super) struct Mixer(u64);

impl Hasher for Mixer {
    fn write(&mut self, bytes: &[u8]) {
        for word in bytes.chunks(8) {
            let mut whole = [0; 8];
            whole[..word.len()].copy_from_slice(word);
            self.write_u64(u64::from_le_bytes(whole));
        }
    }

    fn write_u64(&mut self, word: u64) {
        self.0 = mixed((self.0 ^ word).wrapping_add(0x9e37_79b9_7f4a_7c15));
    }

    fn finish(&self) -> u64 {
        self.0
    }
}

/// A stream of chance (G. L. Steele, D. Lea & C. H. Flood, *Fast splittable pseudorandom number generators*, 2014).
pub(super) struct Stream(pub(super) u64);

impl Stream {
    /// A number below `n`, which is not 0. That some come up more often, by one part in 2⁶⁴ ÷ n, is no matter.
    pub(super) fn below(&mut self, n: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        ((u128::from(mixed(self.0)) * n as u128) >> 64) as usize
    }
}

fn mixed(word: u64) -> u64 {
    let mixed = (word ^ (word >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    mixed ^ (mixed >> 31)
}
