//! A line of exactly 100 mm with ticks: a ruler laid on it tells whether the paper came out at its true size.

use yew::prelude::*;

/// Length of the line, mm.
const LENGTH_MM: u32 = 100;

/// See the module.
pub fn control_line() -> Html {
    html! {
        <section class="control-line" aria-label="Control line">
            <p>{ "This line measures 100\u{a0}mm. If a ruler says otherwise, print again at 100\u{a0}% before taking any length from this paper." }</p>
            <svg width="106mm" height="10mm" viewBox="-3 0 106 10" role="img" aria-label="A line of 100 mm with a tick every 5 mm">
                <path class="control-stroke" d={line()} />
                { for (0..=LENGTH_MM).step_by(10).map(|mm| html! { <text key={mm} class="control-number" x={mm.to_string()} y="9.4" text-anchor="middle">{ mm }</text> }) }
            </svg>
        </section>
    }
}

/// The line and its ticks: long ones every 10 mm, short ones between.
fn line() -> String {
    let ticks = (0..=LENGTH_MM).step_by(5).map(|mm| {
        let top = if mm % 10 == 0 { 2 } else { 4 };
        format!("M{mm} {top}V6")
    });
    format!("M0 6H{LENGTH_MM}{}", ticks.collect::<String>())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_line_runs_from_0_to_100_with_21_ticks() {
        let d = line();
        assert!(d.starts_with("M0 6H100"));
        assert_eq!(d.matches('V').count(), 21);
        assert!(d.ends_with("M95 4V6M100 2V6"));
    }
}
