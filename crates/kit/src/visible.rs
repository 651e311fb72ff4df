//! Whether a title can be seen on a page or on paper.

/// Characters that show nothing by themselves or only turn the direction of writing: the property `Default_Ignorable_Code_Point` of
/// Unicode's `DerivedCoreProperties.txt`, beside it the interlinear marks and the Braille pattern without dots (from memory).
const UNSEEN: [(char, char); 20] = [
    ('\u{ad}', '\u{ad}'),
    ('\u{34f}', '\u{34f}'),
    ('\u{61c}', '\u{61c}'),
    ('\u{115f}', '\u{1160}'),
    ('\u{17b4}', '\u{17b5}'),
    ('\u{180b}', '\u{180f}'),
    ('\u{200b}', '\u{200f}'),
    ('\u{202a}', '\u{202e}'),
    ('\u{2060}', '\u{206f}'),
    ('\u{2800}', '\u{2800}'),
    ('\u{3164}', '\u{3164}'),
    ('\u{fe00}', '\u{fe0f}'),
    ('\u{feff}', '\u{feff}'),
    ('\u{ffa0}', '\u{ffa0}'),
    ('\u{fff0}', '\u{fffb}'),
    ('\u{1bca0}', '\u{1bca3}'),
    ('\u{1d173}', '\u{1d17a}'),
    ('\u{e0000}', '\u{e0fff}'),
    // Controls and white space, by the standard library's tables.
    ('\0', ' '),
    ('\u{7f}', '\u{a0}'),
];

/// Whether a text has at least one character that shows.
pub(crate) fn can_be_seen(text: &str) -> bool {
    let unseen = |c: char| c.is_whitespace() || UNSEEN.iter().any(|(a, b)| (*a..=*b).contains(&c));
    text.chars().any(|c| !unseen(c))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Edit, Plan};

    #[test]
    fn titles_of_nothing_that_shows_are_refused() {
        let plan = Plan::empty("Railcar");
        for unseen in [
            "\u{200b}\u{feff}",
            "\u{202e}",
            "\u{2066} \u{2069}",
            "\u{2800}",
            "\u{3164}",
        ] {
            assert!(!can_be_seen(unseen), "{unseen:?}");
            assert!(plan.edited(&Edit::SetTitle(unseen.into())).is_err());
            let refused = Plan::empty(unseen).problems();
            assert!(refused.iter().any(|p| p.place == "title"), "{unseen:?}");
        }
        for seen in ["a", "\u{202e}b", "7", "\u{5d0}", "\u{1f9f2}\u{fe0f}", "."] {
            assert!(can_be_seen(seen), "{seen:?}");
            assert!(plan.edited(&Edit::SetTitle(seen.into())).is_ok());
        }
        // A file may leave the title empty.
        assert!(
            Plan::empty("")
                .problems()
                .iter()
                .all(|p| p.place != "title")
        );
    }
}
