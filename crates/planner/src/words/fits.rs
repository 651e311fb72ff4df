//! What is tight about a hole, in sentences.

use lodewright_joints::{FitWarning, GOOD_WALL_MM, LEAST_WALL_MM, Neighbour};

/// What is wrong or tight at a hole.
pub fn fit_words(warning: FitWarning) -> String {
    match warning {
        FitWarning::TooLarge => "It does not fit what the site allows.".to_owned(),
        FitWarning::PointTooDeep { by_mm } => format!(
            "The point of a twist drill would go {by_mm:.1} mm too deep: finish with a flat-bottomed cutter."
        ),
        FitWarning::Beside { neighbour, wall_mm } => {
            let what = match neighbour {
                Neighbour::Edge => "the edge of the contact",
                Neighbour::Hole => "the next hole",
            };
            if wall_mm < 0.0 {
                format!("The hole runs {:.1} mm over {what}.", -wall_mm)
            } else {
                format!(
                    "Only {wall_mm:.1} mm are left to {what}: at least {LEAST_WALL_MM} mm, better {GOOD_WALL_MM} mm."
                )
            }
        }
    }
}
