//! Marks of the bench: a point of no return by a word and a shape, and the poles of a hole.

use lodewright_planner::HoleWords;
use yew::prelude::*;

use crate::components::{PoleMarkProps, pole_mark};

/// Props of [`no_return`].
#[derive(PartialEq, Properties)]
pub struct NoReturnProps {
    /// Its words.
    #[prop_or(AttrValue::Static("No way back"))]
    pub words: AttrValue,
}

/// A barred arrow in a lozenge, with the words beside it.
pub fn no_return(props: &NoReturnProps) -> Html {
    html! {
        <span class="no-return">
            <svg class="no-return-mark" viewBox="0 0 24 24" aria-hidden="true" focusable="false">
                <path class="no-return-shape" d="M12 1.5 22.5 12 12 22.5 1.5 12z" />
                <path class="no-return-line" d="M16 12H9M12 8.5 8.5 12l3.5 3.5M7 7.5v9" />
            </svg>
            <span>{ &props.words }</span>
        </span>
    }
}

/// Props of [`poles_of_hole`].
#[derive(PartialEq, Properties)]
pub struct PolesOfHoleProps {
    /// The hole.
    pub hole: HoleWords,
    /// Large, for the bench.
    #[prop_or_default]
    pub large: bool,
}

/// The pole marks of a hole: one, or one for each end of a hole that goes right through.
pub fn poles_of_hole(props: &PolesOfHoleProps) -> Html {
    let both = props.hole.faces.len() > 1;
    let mark = |(n, face): (usize, &lodewright_planner::FaceWords)| {
        let Some(pole) = face.pole else {
            return Html::default();
        };
        html! {
            <span key={n} class="pole-of-hole">
                { pole_mark(&yew::props!(PoleMarkProps { pole, large: props.large })) }
                <span>{ if both { format!("{} at {}", pole.letter(), face.place) } else { format!("{} out", pole.letter()) } }</span>
            </span>
        }
    };
    html! { <span class="poles-of-hole">{ for props.hole.faces.iter().enumerate().map(mark) }</span> }
}
