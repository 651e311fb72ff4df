//! What a key means in the grid. No web types.

use super::cursor::Step;

/// What a key asks for while no cell is being typed in.
#[derive(Clone, Debug, PartialEq)]
pub enum Wish {
    /// Move.
    Go(Step),
    /// Type over the cell, beginning with this text.
    TypeOver(String),
    /// Change the text that is there.
    Change,
    /// Copy the cell onward and go there.
    Fill(Step),
    /// Empty the cell.
    Clear,
    /// Show or hide the dock.
    Dock,
    /// Leave the grid.
    Leave,
}

/// Reads a key by its name; none for keys that are not the grid's.
pub fn wish(key: &str, shift: bool, command: bool) -> Option<Wish> {
    let go = |step| {
        Some(if shift {
            Wish::Fill(step)
        } else {
            Wish::Go(step)
        })
    };
    let jump = |step| Some(Wish::Go(step));
    match (key, command) {
        ("ArrowUp", false) => go(Step::Up),
        ("ArrowDown", false) => go(Step::Down),
        ("ArrowLeft", false) => go(Step::Left),
        ("ArrowRight", false) => go(Step::Right),
        ("Tab", false) => jump(if shift { Step::Previous } else { Step::Next }),
        ("Home", false) => jump(Step::RowStart),
        ("End", false) => jump(Step::RowEnd),
        ("Home", true) => jump(Step::First),
        ("End", true) => jump(Step::Last),
        ("Enter" | "F2", false) => Some(Wish::Change),
        ("Delete" | "Backspace", false) => Some(Wish::Clear),
        (" ", false) => Some(Wish::Dock),
        ("Escape", false) => Some(Wish::Leave),
        (text, false) if text.chars().count() == 1 => Some(Wish::TypeOver(text.to_owned())),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_type_over_and_commands_are_left_to_the_browser() {
        assert_eq!(wish("P", true, false), Some(Wish::TypeOver("P".to_owned())));
        assert_eq!(
            wish("ü", false, false),
            Some(Wish::TypeOver("ü".to_owned()))
        );
        assert_eq!(wish("c", false, true), None);
        assert_eq!(wish("Shift", true, false), None);
        assert_eq!(wish("Tab", true, false), Some(Wish::Go(Step::Previous)));
    }
}
