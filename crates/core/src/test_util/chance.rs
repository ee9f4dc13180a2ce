/// Numbers that look drawn, the same ones again for the same seed.
///
/// The generator is `SplitMix64` (Steele, Lea and Flood 2014, doi:10.1145/2660193.2660195).
#[derive(Debug, Clone)]
pub struct Chance(u64);

impl Chance {
    /// Starts a row of numbers.
    #[must_use]
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// A number from `low` up to `high`.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "53 bits fit")]
        let share = (self.bits() >> 11) as f64 / (1_u64 << 53) as f64;
        low + (high - low) * share
    }

    /// A whole number below `count`; 0 if there is none.
    pub fn below(&mut self, count: usize) -> usize {
        let drawn = self.bits() % u64::try_from(count.max(1)).unwrap_or(u64::MAX);
        usize::try_from(drawn).unwrap_or(0)
    }

    /// True in one of so many cases.
    pub fn one_in(&mut self, count: usize) -> bool {
        self.below(count) == 0
    }
}
