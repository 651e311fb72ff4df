//! A subject of the page and its paragraphs.

/// A subject of the page.
pub struct Subject {
    /// Its word in the address.
    pub id: &'static str,
    /// Its heading.
    pub title: &'static str,
    /// What is said.
    pub lines: &'static [Line],
}

/// A paragraph.
pub enum Line {
    /// Words.
    Plain(&'static str),
    /// A formula.
    Formula(&'static str),
    /// How far the numbers may be trusted.
    Trust(&'static str),
    /// Where they are from.
    Source(&'static str),
}
