//! Where a finger moves a pair: the step it snaps to, and what is said beside it.

/// Places are taken to this step, mm.
pub const STEP_MM: f64 = 0.5;
/// A step with the finer key, mm.
pub const FINE_MM: f64 = 0.1;
/// So near the middle or the mirror place of another pair, that place is taken, mm.
const CATCH_MM: f64 = 0.4;

/// The place that a finger at `at_mm` means: the middle lines and the mirror places of other pairs catch it, else the step.
pub fn snapped(at_mm: [f64; 2], others_mm: &[[f64; 2]]) -> [f64; 2] {
    std::array::from_fn(|axis| {
        let at = at_mm[axis];
        let mirrors = others_mm.iter().flat_map(|p| [p[axis], -p[axis]]);
        let caught = std::iter::once(0.0)
            .chain(mirrors)
            .filter(|place| (place - at).abs() <= CATCH_MM)
            .min_by(|a, b| (a - at).abs().total_cmp(&(b - at).abs()));
        caught.unwrap_or((at / STEP_MM).round() * STEP_MM) + 0.0
    })
}

/// A step by a key, along the first or the second axis; `None` for another key.
pub fn key_step(key: &str, fine: bool) -> Option<[f64; 2]> {
    let step = if fine { FINE_MM } else { STEP_MM };
    match key {
        "ArrowLeft" => Some([-step, 0.0]),
        "ArrowRight" => Some([step, 0.0]),
        "ArrowUp" => Some([0.0, step]),
        "ArrowDown" => Some([0.0, -step]),
        _ => None,
    }
}

/// Kept within the box around the contact.
pub fn within(at_mm: [f64; 2], contact_mm: &[[f64; 2]]) -> [f64; 2] {
    std::array::from_fn(|axis| {
        let along = || contact_mm.iter().map(|p| p[axis]);
        let (low, high) = (
            along().fold(f64::INFINITY, f64::min),
            along().fold(f64::NEG_INFINITY, f64::max),
        );
        if low <= high {
            at_mm[axis].clamp(low, high)
        } else {
            at_mm[axis]
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_middle_and_mirror_places_catch_and_the_rest_steps() {
        assert_eq!(snapped([0.3, 2.2], &[]), [0.0, 2.0]);
        assert_eq!(snapped([-3.3, 1.74], &[[3.2, 1.7]]), [-3.2, 1.7]);
        assert_eq!(snapped([1.26, -1.26], &[]), [1.5, -1.5]);
    }

    #[test]
    fn keys_step_and_fine_keys_step_finer() {
        assert_eq!(key_step("ArrowUp", false), Some([0.0, 0.5]));
        assert_eq!(key_step("ArrowLeft", true), Some([-0.1, 0.0]));
        assert_eq!(key_step("Tab", false), None);
    }

    #[test]
    fn a_pair_stays_on_the_face() {
        let face = [[-4.0, -2.0], [4.0, -2.0], [4.0, 2.0], [-4.0, 2.0]];
        assert_eq!(within([9.0, -9.0], &face), [4.0, -2.0]);
        assert_eq!(within([9.0, -9.0], &[]), [9.0, -9.0]);
    }
}
