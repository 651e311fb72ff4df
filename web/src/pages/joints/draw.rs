//! Small things that the drawings of these pages share: scale bars, ticks, discs that show a pole.

use lodewright_planner::kit::Pole;
use yew::prelude::*;

/// A length for a scale bar or the step of an axis: 1, 2 or 5 times a power of ten, at most `most`.
pub fn round_below(most: f64) -> f64 {
    if !most.is_finite() || most <= 0.0 {
        return 1.0;
    }
    let mut ten = 1e-6;
    while ten * 10.0 <= most {
        ten *= 10.0;
    }
    [5.0, 2.0]
        .into_iter()
        .map(|f| f * ten)
        .find(|v| *v <= most)
        .unwrap_or(ten)
}

/// The end of an axis and the step of its marks: about five marks up to at least `value`.
pub fn axis(value: f64) -> (f64, f64) {
    let value = if value.is_finite() && value > 0.0 {
        value
    } else {
        1.0
    };
    let step = round_below(value / 3.5);
    ((value / step).ceil() * step, step)
}

/// The marks of an axis, zero among them.
pub fn ticks(end: f64, step: f64) -> Vec<f64> {
    let n = (end / step).round().clamp(1.0, 50.0) as usize;
    (0..=n).map(|i| i as f64 * step).collect()
}

/// A number for an attribute: half a hundredth of a pixel is not seen.
pub fn px(value: f64) -> String {
    let rounded = (value * 100.0).round() / 100.0;
    format!("{}", if rounded == 0.0 { 0.0 } else { rounded })
}

/// Points as `x,y x,y`.
pub fn points(list: &[[f64; 2]]) -> String {
    let all: Vec<_> = list
        .iter()
        .map(|[x, y]| format!("{},{}", px(*x), px(*y)))
        .collect();
    all.join(" ")
}

/// Chords of a disc along one diagonal, as a path.
pub fn chords(x: f64, y: f64, r: f64, apart: f64) -> String {
    let half = std::f64::consts::FRAC_1_SQRT_2;
    let n = (r / apart.max(0.1)).floor() as i32;
    let chord = |i: i32| {
        let off = f64::from(i) * apart;
        let long = (r * r - off * off).max(0.0).sqrt();
        let (cx, cy) = (x + off * half, y + off * half);
        let (dx, dy) = (long * half, -long * half);
        format!(
            "M{} {}L{} {}",
            px(cx - dx),
            px(cy - dy),
            px(cx + dx),
            px(cy + dy)
        )
    };
    (-n..=n).map(chord).collect()
}

/// Smallest radius, pixels, in which a letter can be read.
const LETTER_FITS: f64 = 8.0;

/// A disc seen from its face. N is dark, S is striped, steel is plain with a ring; the letter stands beside a disc too
/// small for it.
pub fn disc_face(x: f64, y: f64, r: f64, pole: Option<Pole>) -> Html {
    let class = match pole {
        Some(Pole::N) => "fig-north",
        Some(Pole::S) => "fig-south",
        None => "fig-steel",
    };
    let letter = pole.map_or("steel", Pole::letter);
    let inside = pole.is_some() && r >= LETTER_FITS;
    let (tx, anchor) = if inside {
        (x, "middle")
    } else {
        (x + r + 3.0, "start")
    };
    html! {
        <g {class}>
            <circle class="fig-disc" cx={px(x)} cy={px(y)} r={px(r)} />
            if pole == Some(Pole::S) {
                <path class="fig-stripes" d={chords(x, y, r, 4.0)} />
                if inside {
                    <circle class="fig-plate" cx={px(x)} cy={px(y)} r="7" />
                }
            }
            if pole.is_none() {
                <circle class="fig-ring" cx={px(x)} cy={px(y)} r={px(r * 0.6)} />
            }
            <text class={if inside { "fig-letter" } else { "fig-text" }} x={px(tx)} y={px(y)} text-anchor={anchor} dominant-baseline="central">{ letter }</text>
        </g>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bars_are_round_and_fit() {
        for (most, bar) in [
            (1.0, 1.0),
            (4.9, 2.0),
            (5.0, 5.0),
            (37.0, 20.0),
            (0.3, 0.2),
            (f64::NAN, 1.0),
        ] {
            assert!(
                (round_below(most) - bar).abs() < 1e-9,
                "{most}: {}",
                round_below(most)
            );
        }
    }

    #[test]
    fn axes_reach_the_value_with_a_handful_of_marks() {
        for value in [0.013, 0.9, 1.0, 3.3, 7.0, 99.0, 1234.0] {
            let (end, step) = axis(value);
            assert!(end >= value * (1.0 - 1e-12), "{value}");
            let n = ticks(end, step).len();
            assert!((4..=10).contains(&n), "{value}: {n}");
        }
    }

    #[test]
    fn chords_stay_in_the_disc() {
        let path = chords(10.0, 10.0, 5.0, 2.0);
        let numbers: Vec<f64> = path
            .split(['M', 'L', ' '])
            .filter_map(|word| word.parse().ok())
            .collect();
        assert_eq!(numbers.len(), 20);
        for p in numbers.chunks(2) {
            let (x, y) = (p[0] - 10.0, p[1] - 10.0);
            assert!((x * x + y * y).sqrt() <= 5.02, "{p:?}");
        }
    }
}
