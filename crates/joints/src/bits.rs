//! The bit that a hole is drilled with, and how wide the hole is then.

use lodewright_kit::Plan;

/// A bit may be so much wider than what is needed, mm (common practice, no source).
pub(crate) const BIT_MORE_MM: f64 = 0.3;

/// How wide the hole of a piece so far across is: as its bit, which may be wider than the piece and its allowance.
pub fn hole_mm(plan: &Plan, across_mm: f64) -> f64 {
    let needed_mm = across_mm + plan.settings.hole_allowance_mm;
    let (bit_mm, _) = bit_for(needed_mm, &plan.stock.bits_mm);
    bit_mm.max(needed_mm)
}

/// The smallest bit of at least `needed_mm`, and whether it is at the desk: from the bits listed where one is at most
/// 0.3 mm over, else from the metric series.
///
/// # Examples
/// ```
/// use lodewright_joints::bit_for;
///
/// // A magnet of 5 mm with an allowance of 0.1 mm, and no bit named: the metric series has 5.1 mm.
/// assert_eq!(bit_for(5.1, &[]), (5.1, true));
/// // At the desk only 5.2 mm is near enough.
/// assert_eq!(bit_for(5.1, &[3.0, 5.2, 6.0]), (5.2, true));
/// ```
pub fn bit_for(needed_mm: f64, at_desk_mm: &[f64]) -> (f64, bool) {
    // A hair of slack: 5 + 0.1 is a little over 5.1 in binary.
    let enough = |bit: &f64| *bit >= needed_mm - 1e-9;
    let listed = at_desk_mm
        .iter()
        .copied()
        .filter(enough)
        .fold(f64::INFINITY, f64::min);
    if listed <= needed_mm + BIT_MORE_MM {
        return (listed, true);
    }
    let hundredths = (needed_mm * 100.0 - 1e-6).ceil().clamp(20.0, 2_500.0) as u32;
    let bit = (hundredths..=2_500)
        .find(|b| is_metric_bit(*b))
        .unwrap_or(2_500);
    (f64::from(bit) / 100.0, at_desk_mm.is_empty())
}

/// Whether a bit of so many hundredths of a millimetre is in the metric series: 0.2 to 0.98 mm tenths and those plus
/// 0.02, 0.05 and 0.08; to 2.95 tenths and those plus 0.05; to 13.9 tenths; to 25 quarters (BS 328).
pub fn is_metric_bit(hundredths: u32) -> bool {
    match hundredths {
        20..100 => matches!(hundredths % 10, 0 | 2 | 5 | 8),
        100..300 => hundredths.is_multiple_of(5),
        300..1400 => hundredths.is_multiple_of(10),
        1400..=2500 => hundredths.is_multiple_of(25),
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_series_has_the_bits_of_bs_328() {
        // BS 328, drill diameters: members and non-members as listed in the standard's series.
        for member in [78, 205, 295, 310, 510] {
            assert!(is_metric_bit(member), "{member}");
        }
        for stranger in [305, 505, 73, 10, 2510] {
            assert!(!is_metric_bit(stranger), "{stranger}");
        }
    }

    #[test]
    fn the_next_bit_up_is_taken() {
        assert_eq!(bit_for(5.1, &[]), (5.1, true));
        assert_eq!(bit_for(5.0 + 0.1, &[]), (5.1, true));
        assert_eq!(bit_for(3.05, &[]), (3.1, true));
        assert_eq!(bit_for(3.1, &[3.0, 3.2, 5.0]), (3.2, true));
        assert_eq!(bit_for(3.1, &[3.0, 5.0]), (3.1, false));
        assert!(bit_for(f64::NAN, &[]).0.is_finite());
        assert_eq!(bit_for(1e9, &[]).0, 25.0);
    }
}
