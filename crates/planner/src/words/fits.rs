//! Why a hole cannot be, and what is tight about it, in sentences.

use lodewright_joints::{FitWarning, GOOD_WALL_MM, LEAST_WALL_MM, Misfit, Neighbour};

/// What is wrong or tight at a hole.
pub fn fit_words(warning: FitWarning) -> String {
    match warning {
        FitWarning::Misfit(misfit) => {
            let [what, help] = misfit_words(misfit);
            format!("{what} {help}")
        }
        FitWarning::Beside { neighbour, wall_mm } => match neighbour {
            Neighbour::Edge => left_words(wall_mm, "over", "the edge of the contact"),
            Neighbour::Hole => left_words(wall_mm, "into", "the next hole"),
        },
    }
}

/// Why a hole cannot be as its piece wants it, and what would help.
pub fn misfit_words(misfit: Misfit) -> [String; 2] {
    let (what, help) = match misfit {
        Misfit::BeyondSite => (
            "The piece is larger than its site allows.".to_owned(),
            "Allow a wider or deeper hole there, or take a smaller piece.",
        ),
        Misfit::NoMaterial => (
            "There is no plastic to drill: the face falls away there, or it is hollow behind it."
                .to_owned(),
            "Move the hole, or glue a block behind it and enter what you measure there.",
        ),
        Misfit::TooDeep { short_mm } => (
            format!(
                "The hole needs {short_mm:.1} mm more plastic than there is, counting the drill's point and {LEAST_WALL_MM} mm left behind it."
            ),
            "Take a lower piece, finish the hole with a flat-bottomed cutter, or measure how much plastic is really there.",
        ),
        Misfit::FrontGone { short_mm } => (
            format!("The wall in front would be drilled through: {short_mm:.1} mm are missing."),
            "Finish the hole with a flat-bottomed cutter, or leave a thicker wall.",
        ),
        Misfit::NearSide { left_mm } => (
            left_words(left_mm, "over", "the side of the part"),
            "Move the hole inward, or take a narrower piece.",
        ),
        Misfit::NearPeg { left_mm } => (
            left_words(left_mm, "into", "the peg"),
            "Move one of them, or take a narrower piece.",
        ),
        Misfit::NearHole { left_mm, .. } => (
            left_words(left_mm, "into", "another hole in the same part"),
            "Move one of them, or take smaller pieces.",
        ),
        Misfit::MouthsApart => (
            "The two ends of this hole do not lie opposite each other.".to_owned(),
            "Place both sockets so that one straight hole serves both.",
        ),
    };
    [what, help.to_owned()]
}

fn left_words(left_mm: f64, over: &str, to: &str) -> String {
    if left_mm <= 0.0 {
        format!("The hole runs {:.1} mm {over} {to}.", -left_mm)
    } else {
        format!(
            "Only {left_mm:.1} mm are left to {to}: at least {LEAST_WALL_MM} mm, better {GOOD_WALL_MM} mm."
        )
    }
}
