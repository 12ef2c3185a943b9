//! Numbers that look like chance and are always the same.

/// Begins with a number of one's own. Knuth's linear congruential generator (MMIX).
pub struct Chance(pub u64);

impl Chance {
    pub fn below(&mut self, most: u64) -> u64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % most
    }
}
