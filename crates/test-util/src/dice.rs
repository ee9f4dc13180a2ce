/// Numbers that look random and are the same for the same seed, on every machine.
///
/// # References
///
/// G. Steele, D. Lea, C. Flood, *Fast splittable pseudorandom number generators* (2014): the generator `SplitMix`, 64 bits.
#[derive(Debug, Clone)]
pub struct Dice(u64);

impl Dice {
    /// Starts from a seed.
    #[must_use]
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// Returns 64 random bits.
    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^ (mixed >> 31)
    }

    /// Returns a number from 0 up to 1, 1 excluded.
    #[expect(clippy::cast_precision_loss, reason = "53 bits fit")]
    pub fn share(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Returns a number between two others.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    /// Returns a number between two others above zero, each ratio as likely as another.
    pub fn log_between(&mut self, low: f64, high: f64) -> f64 {
        self.between(low.ln(), high.ln()).exp()
    }

    /// Returns a whole number below `count`, or 0 if that is 0.
    #[expect(clippy::cast_possible_truncation, reason = "below a usize")]
    pub fn below(&mut self, count: usize) -> usize {
        (self.bits() % count.max(1) as u64) as usize
    }

    /// Returns whether something that happens with this probability happens.
    pub fn chance(&mut self, probability: f64) -> bool {
        self.share() < probability
    }

    /// Returns one of a list that is not empty.
    ///
    /// # Panics
    ///
    /// If the list is empty.
    pub fn one_of<T: Clone>(&mut self, list: &[T]) -> T {
        list[self.below(list.len())].clone()
    }
}
