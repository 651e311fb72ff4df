//! Names for entries: short lower-case words that stay the same when a label is changed.

use std::fmt;

use serde::{Deserialize, Serialize};

macro_rules! id {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
        #[serde(transparent)]
        pub struct $name(String);

        impl $name {
            /// Takes the word as it stands; the plan's check says when it is not a legal one.
            pub fn new(word: impl Into<String>) -> Self {
                Self(word.into())
            }

            /// The word.
            pub fn as_str(&self) -> &str {
                &self.0
            }

            /// Whether the word is 1 to 40 of `a-z`, `0-9` and `-`.
            pub fn is_legal(&self) -> bool {
                is_legal(&self.0)
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(&self.0)
            }
        }

        impl From<&str> for $name {
            fn from(word: &str) -> Self {
                Self(word.to_owned())
            }
        }
    };
}

id! {
    /// Names a part.
    PartId
}
id! {
    /// Names a plug within its part.
    PlugId
}
id! {
    /// Names a socket.
    SocketId
}
id! {
    /// Names a site within its socket or plug.
    SiteId
}
id! {
    /// Names a variant.
    VariantId
}
id! {
    /// Names a magnet or steel size in stock.
    StockId
}
id! {
    /// Names a material.
    MaterialId
}

pub(crate) fn is_legal(word: &str) -> bool {
    (1..=40).contains(&word.len())
        && word
            .bytes()
            .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-')
}

/// Makes a legal word from a label that none of `taken` has: lower-case ASCII letters and digits, runs of anything else
/// as one `-`, `x` where nothing is left, and `-2`, `-3` and so on where the word is taken.
pub fn slug<'a>(label: &str, taken: impl Iterator<Item = &'a str> + Clone) -> String {
    let mut word = String::new();
    for c in label.chars() {
        if c.is_ascii_alphanumeric() {
            word.push(c.to_ascii_lowercase());
        } else if !word.is_empty() && !word.ends_with('-') {
            word.push('-');
        }
        if word.len() >= 30 {
            break;
        }
    }
    let stem = match word.trim_end_matches('-') {
        "" => "x",
        rest => rest,
    };
    if taken.clone().all(|t| t != stem) {
        return stem.to_owned();
    }
    (2..u32::MAX)
        .map(|n| format!("{stem}-{n}"))
        .find(|word| taken.clone().all(|t| t != word))
        .unwrap_or_else(|| stem.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slugs_are_legal_and_new() {
        let none = std::iter::empty::<&str>();
        assert_eq!(slug("Snow plough (rear)", none.clone()), "snow-plough-rear");
        assert_eq!(slug("Übergröße", none.clone()), "bergr-e");
        assert_eq!(slug("…", none.clone()), "x");
        assert_eq!(slug("Nose", ["nose", "nose-2"].into_iter()), "nose-3");
        let long = slug(&"very long name ".repeat(20), none);
        assert!(PartId::new(long).is_legal());
    }
}
