//! Which pole faces the mating plane, told by letter and pattern: N on a solid dark disc, S on a striped light one.

use lodewright_planner::kit::Pole;
use yew::prelude::*;

/// Props of [`pole_mark`].
#[derive(PartialEq, Properties)]
pub struct PoleMarkProps {
    /// The pole that faces out.
    pub pole: Pole,
    /// Larger, for the bench.
    #[prop_or_default]
    pub large: bool,
}

/// Chords of a disc of radius 14 about (16, 16) along one diagonal, 4.6 apart.
const STRIPES: &str =
    "M3.5 22.3 22.3 3.5M6.1 25.9 25.9 6.1M9.7 28.5 28.5 9.7M2.6 16.7 16.7 2.6M15.3 29.4 29.4 15.3";

/// See the module.
pub fn pole_mark(props: &PoleMarkProps) -> Html {
    let (class, word) = match props.pole {
        Pole::N => ("pole-north", "N out"),
        Pole::S => ("pole-south", "S out"),
    };
    html! {
        <svg class={classes!("pole", class, props.large.then_some("pole-large"))} viewBox="0 0 32 32" role="img" aria-label={word}>
            <circle class="pole-disc" cx="16" cy="16" r="14" />
            if props.pole == Pole::S {
                <path class="pole-stripes" d={STRIPES} />
                <circle class="pole-plate" cx="16" cy="16" r="8.5" />
            }
            <circle class="pole-rim" cx="16" cy="16" r="14" />
            <text class="pole-letter" x="16" y="16" text-anchor="middle" dominant-baseline="central">{ props.pole.letter() }</text>
        </svg>
    }
}
