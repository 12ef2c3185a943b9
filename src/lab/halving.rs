//! Halving of a range: the same bits on every machine.

/// Halvings that go below the last bit of an f64 on any sensible range.
const HALVINGS: u32 = 64;

/// The least number between two from which on something holds.
pub fn least((mut low, mut high): (f64, f64), holds: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if holds(middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    0.5 * (low + high)
}
