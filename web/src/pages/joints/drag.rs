//! A pair of pieces moved by a finger or by keys, from touch to meaning. No web types.

use std::rc::Rc;

/// Places are taken to this step, mm.
const STEP_MM: f64 = 0.5;
/// A step with the finer key, mm.
const FINE_MM: f64 = 0.1;
/// So near the middle or the mirror place of another pair, that place is taken, mm.
const CATCH_MM: f64 = 0.4;

/// A pair on its way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moving {
    /// Index of the pair.
    pub pair: usize,
    /// Where it is now, mm.
    pub at_mm: [f64; 2],
    /// From the finger to the pair's centre, mm, so that a touch off its middle does not throw it; `None` by keys.
    pub grab_mm: Option<[f64; 2]>,
}

/// What happens to a handle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Touch<'a> {
    /// A finger comes down at a place, mm; `None` where the place cannot be told.
    Down(Option<[f64; 2]>),
    /// It moves to a place, mm.
    Move([f64; 2]),
    /// It goes away.
    Up,
    /// The system takes it away.
    Lost,
    /// A key, and whether with the finer step.
    Key(&'a str, bool),
    /// The handle loses the focus.
    Blur,
}

/// What that means.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Meant {
    /// Nothing.
    Nothing,
    /// The pair is there now, not yet in the plan.
    Moves(Moving),
    /// The pair goes there in the plan.
    Put([f64; 2]),
    /// The pair is where the plan has it.
    Ends,
}

/// The handle of one pair.
#[derive(Clone, Debug, PartialEq)]
pub struct Handle {
    /// Index of the pair.
    pub pair: usize,
    /// Where the plan has it, mm.
    pub home_mm: [f64; 2],
    /// Where it is on its way.
    pub moving: Option<Moving>,
    /// Where the others are, mm.
    pub others_mm: Vec<[f64; 2]>,
    /// What touches there, mm.
    pub contact_mm: Rc<[[f64; 2]]>,
}

impl Handle {
    /// Where the pair is now, mm.
    pub fn at_mm(&self) -> [f64; 2] {
        self.moving.map_or(self.home_mm, |m| m.at_mm)
    }

    /// What something that happens to the handle means.
    pub fn after(&self, touch: Touch<'_>) -> Meant {
        let grab_mm = self.moving.and_then(|m| m.grab_mm);
        match touch {
            Touch::Down(at) => {
                let [x, y] = self.home_mm;
                let [fx, fy] = at.unwrap_or(self.home_mm);
                self.moves(self.home_mm, Some([x - fx, y - fy]))
            }
            Touch::Move([x, y]) => match grab_mm {
                Some([gx, gy]) => self.moves(snapped([x + gx, y + gy], &self.others_mm), grab_mm),
                None => Meant::Nothing,
            },
            Touch::Up => self.put(),
            Touch::Lost => Meant::Ends,
            Touch::Key(key, fine) => self.key(key, fine),
            Touch::Blur if self.moving.is_some() && grab_mm.is_none() => self.put(),
            Touch::Blur => Meant::Nothing,
        }
    }

    fn key(&self, key: &str, fine: bool) -> Meant {
        if let Some([dx, dy]) = key_step(key, fine) {
            let tenth = |v: f64| (v * 10.0).round() / 10.0 + 0.0;
            let [x, y] = self.at_mm();
            return self.moves([tenth(x + dx), tenth(y + dy)], None);
        }
        match key {
            "Enter" if self.moving.is_some() => self.put(),
            "Escape" if self.moving.is_some() => Meant::Ends,
            _ => Meant::Nothing,
        }
    }

    fn moves(&self, to_mm: [f64; 2], grab_mm: Option<[f64; 2]>) -> Meant {
        Meant::Moves(Moving {
            pair: self.pair,
            at_mm: within(to_mm, &self.contact_mm),
            grab_mm,
        })
    }

    fn put(&self) -> Meant {
        match self.at_mm() {
            at if at == self.home_mm => Meant::Ends,
            at => Meant::Put(at),
        }
    }
}

/// The place that a finger at `at_mm` means: the middle lines and the mirror places of other pairs catch it, else the step.
fn snapped(at_mm: [f64; 2], others_mm: &[[f64; 2]]) -> [f64; 2] {
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
fn key_step(key: &str, fine: bool) -> Option<[f64; 2]> {
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
fn within(at_mm: [f64; 2], contact_mm: &[[f64; 2]]) -> [f64; 2] {
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

    /// A pair at 2, 0 on a face of 16 by 8 mm, another at -4, 1.
    fn handle(moving: Option<Moving>) -> Handle {
        Handle {
            pair: 3,
            home_mm: [2.0, 0.0],
            moving,
            others_mm: vec![[-4.0, 1.0]],
            contact_mm: [[-8.0, -4.0], [8.0, 4.0]].into(),
        }
    }

    /// The handle after something that makes the pair move.
    fn moved(from: &Handle, touch: Touch<'_>) -> Handle {
        match from.after(touch) {
            Meant::Moves(moving) => handle(Some(moving)),
            other => panic!("{touch:?} means {other:?}"),
        }
    }

    #[test]
    fn a_finger_takes_the_pair_along_by_where_it_was_touched() {
        let held = moved(&handle(None), Touch::Down(Some([2.4, -0.2])));
        assert_eq!(held.at_mm(), [2.0, 0.0]);
        assert_eq!(held.after(Touch::Up), Meant::Ends, "a tap moves nothing");
        let dragged = moved(&held, Touch::Move([4.5, 0.9]));
        // Caught in the mirror place of the other pair: 4, 1.
        assert_eq!(dragged.at_mm(), [4.0, 1.0]);
        assert_eq!(dragged.after(Touch::Up), Meant::Put([4.0, 1.0]));
        assert_eq!(dragged.after(Touch::Lost), Meant::Ends);
        assert_eq!(dragged.after(Touch::Blur), Meant::Nothing);
        let outside = moved(&held, Touch::Move([99.0, 0.0]));
        assert_eq!(outside.at_mm(), [8.0, 0.0]);
    }

    #[test]
    fn keys_move_until_they_are_kept_or_taken_back() {
        let still = handle(None);
        for key in ["Enter", "Escape", "Tab"] {
            assert_eq!(still.after(Touch::Key(key, false)), Meant::Nothing);
        }
        let stepped = moved(
            &moved(&still, Touch::Key("ArrowRight", false)),
            Touch::Key("ArrowUp", true),
        );
        assert_eq!(stepped.at_mm(), [2.5, 0.1]);
        assert_eq!(
            stepped.after(Touch::Key("Enter", false)),
            Meant::Put([2.5, 0.1])
        );
        assert_eq!(stepped.after(Touch::Blur), Meant::Put([2.5, 0.1]));
        assert_eq!(stepped.after(Touch::Key("Escape", false)), Meant::Ends);
        // A mouse over it that was never pressed moves nothing.
        assert_eq!(stepped.after(Touch::Move([0.0; 2])), Meant::Nothing);
    }

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
