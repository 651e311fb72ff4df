//! What is picked out on the page, and words and choices that its forms share.

use lodewright_planner::kit::{Facing, Fit, PartId, Patch, Plan, Pole, SocketId, StockId};
use yew::AttrValue;

use crate::components::Choice;
use crate::format::number;

/// What is picked out.
#[derive(Clone, Debug, PartialEq)]
pub enum Place {
    /// A part.
    Part(PartId),
    /// A socket.
    Socket(SocketId),
}

impl Place {
    /// Reads the end of the address.
    pub fn read(rest: &str) -> Option<Self> {
        match rest.split_once('/')? {
            ("part", id) => Some(Self::Part(PartId::new(id))),
            ("socket", id) => Some(Self::Socket(SocketId::new(id))),
            _ => None,
        }
    }

    /// The end of the address.
    pub fn rest(&self) -> String {
        match self {
            Self::Part(id) => format!("part/{id}"),
            Self::Socket(id) => format!("socket/{id}"),
        }
    }
}

/// The six faces.
pub fn faces() -> Vec<Choice> {
    Facing::ALL
        .iter()
        .map(|f| Choice::new(f.word(), f.word()))
        .collect()
}

/// The face of a word.
pub fn face(word: &str) -> Option<Facing> {
    Facing::ALL.into_iter().find(|f| f.word() == word)
}

/// All parts, by name.
pub fn part_choices(plan: &Plan) -> Vec<Choice> {
    plan.parts
        .iter()
        .map(|p| Choice::new(p.id.to_string(), p.name.clone()))
        .collect()
}

/// The in-plane axes in words, for a face: seen from outside, looking at it.
pub fn axes_words(facing: Facing) -> Vec<AttrValue> {
    let (across, up) = match facing {
        Facing::Up | Facing::Down => ("to the front", "across"),
        _ => ("across", "up"),
    };
    vec![across.into(), up.into()]
}

/// What may go in a site, with the sizes in stock.
pub fn fits(plan: &Plan) -> Vec<Choice> {
    let magnet = |m: &lodewright_planner::kit::MagnetStock| {
        Choice::new(
            format!("magnet {}", m.id),
            format!(
                "Magnet {} \u{d7} {} mm {}",
                number(m.diameter_mm),
                number(m.height_mm),
                m.grade
            ),
        )
    };
    let steel = |s: &lodewright_planner::kit::SteelStock| {
        Choice::new(
            format!("steel {}", s.id),
            format!(
                "Steel {} \u{d7} {} mm",
                number(s.diameter_mm),
                number(s.thickness_mm)
            ),
        )
    };
    let own = [
        Choice::new("auto", "The planner chooses"),
        Choice::new("empty", "Stays empty"),
    ];
    own.into_iter()
        .chain(plan.stock.magnets.iter().map(magnet))
        .chain(plan.stock.steel.iter().map(steel))
        .collect()
}

/// The key of a fit among [`fits`].
pub fn fit_key(fit: &Fit) -> String {
    match fit {
        Fit::Auto => "auto".to_owned(),
        Fit::Empty => "empty".to_owned(),
        Fit::Magnet(id) => format!("magnet {id}"),
        Fit::Steel(id) => format!("steel {id}"),
    }
}

/// The fit of a key.
pub fn fit_of(key: &str) -> Option<Fit> {
    match key.split_once(' ') {
        Some(("magnet", id)) => Some(Fit::Magnet(StockId::new(id))),
        Some(("steel", id)) => Some(Fit::Steel(StockId::new(id))),
        _ if key == "auto" => Some(Fit::Auto),
        _ if key == "empty" => Some(Fit::Empty),
        _ => None,
    }
}

/// The poles and neither.
pub fn poles() -> Vec<Choice> {
    vec![
        Choice::new("", "Left open"),
        Choice::new("N", "N out"),
        Choice::new("S", "S out"),
    ]
}

/// The pole of a key.
pub fn pole_of(key: &str) -> Option<Pole> {
    [Pole::N, Pole::S].into_iter().find(|p| p.letter() == key)
}

/// An outline in a few words.
pub fn patch_words(patch: &Patch) -> String {
    match patch {
        Patch::Rectangle {
            width_mm,
            height_mm,
        } => format!("{} \u{d7} {} mm", number(*width_mm), number(*height_mm)),
        Patch::Disc { diameter_mm } => format!("disc of {} mm", number(*diameter_mm)),
        Patch::Points(points) => format!("{} corners", points.len()),
    }
}

/// Corners as text, one a line: `x, y`.
pub fn points_text(points: &[[f64; 2]]) -> String {
    let lines: Vec<_> = points
        .iter()
        .map(|[x, y]| format!("{}; {}", number(*x), number(*y)))
        .collect();
    lines.join("\n")
}

/// Corners from text: two numbers a line, with a semicolon or a blank between them.
///
/// # Errors
/// Says which line is not two numbers.
pub fn points_of(text: &str) -> Result<Vec<[f64; 2]>, AttrValue> {
    let lines = text.lines().map(str::trim).filter(|line| !line.is_empty());
    lines
        .enumerate()
        .map(|(n, line)| {
            let words: Vec<_> = line
                .split([';', ' ', '\t'])
                .filter(|w| !w.is_empty())
                .collect();
            match words.as_slice() {
                [x, y] => Ok([crate::format::parse(x, "")?, crate::format::parse(y, "")?]),
                _ => Err(format!(
                    "Line {} is \u{201c}{line}\u{201d} but must be two numbers such as 4.5; -2.",
                    n + 1
                )
                .into()),
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_and_fits_are_read_as_written() {
        for place in [Place::Part("hook".into()), Place::Socket("nose".into())] {
            assert_eq!(Place::read(&place.rest()), Some(place));
        }
        assert_eq!(Place::read("hook"), None);
        for fit in [
            Fit::Auto,
            Fit::Empty,
            Fit::Magnet("disc-3x2".into()),
            Fit::Steel("s".into()),
        ] {
            assert_eq!(fit_of(&fit_key(&fit)), Some(fit));
        }
    }

    #[test]
    fn corners_are_read_as_written() {
        let points = [[1.5, -2.0], [0.0, 3.25]];
        assert_eq!(points_of(&points_text(&points)), Ok(points.to_vec()));
        assert_eq!(
            points_of("1,5; 2\n\n-1 0"),
            Ok(vec![[1.5, 2.0], [-1.0, 0.0]])
        );
        assert!(points_of("1; 2\n3").unwrap_err().contains("Line 2"));
    }
}
