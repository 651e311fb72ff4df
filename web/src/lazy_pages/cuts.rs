//! Where the app is cut: what only these functions reach comes in files of their own.

#[cfg(feature = "cut")]
pub use cut::{NotFetched, answer, pages, whole};
#[cfg(not(feature = "cut"))]
pub use uncut::{NotFetched, answer, pages, whole};

#[cfg(feature = "cut")]
mod cut {
    use js_sys::Function;
    use wasm_split_helpers::wasm_split;

    use super::super::Pages;
    use crate::worker::long_answer;

    pub use wasm_split_helpers::SplitLoaderError as NotFetched;

    /// The pages, where they come with everything else: not here.
    pub fn whole() -> Option<Pages> {
        None
    }

    /// The pages of a plan.
    #[wasm_split(pages, fallible)]
    pub fn pages() -> Result<Pages, NotFetched> {
        Ok(crate::pages::LAZY_PAGES)
    }

    /// A long answer, see [`long_answer`].
    #[wasm_split(search, fallible)]
    pub fn answer(question: String, tell: Function) -> Result<Result<String, String>, NotFetched> {
        Ok(long_answer(&question, &tell))
    }
}

/// Everything in one file: for tests, and for whoever builds the app without the project's command.
#[cfg(not(feature = "cut"))]
mod uncut {
    use js_sys::Function;

    use super::super::Pages;
    use crate::worker::long_answer;

    /// Never: what is in the same file is there.
    #[derive(Clone, Debug)]
    pub enum NotFetched {}

    /// The pages, which come with everything else.
    pub fn whole() -> Option<Pages> {
        Some(crate::pages::LAZY_PAGES)
    }

    /// The pages.
    ///
    /// # Errors
    /// None.
    pub async fn pages() -> Result<Pages, NotFetched> {
        Ok(crate::pages::LAZY_PAGES)
    }

    /// A long answer, see [`long_answer`].
    ///
    /// # Errors
    /// None on the way to it.
    pub async fn answer(
        question: String,
        tell: Function,
    ) -> Result<Result<String, String>, NotFetched> {
        Ok(long_answer(&question, &tell))
    }
}
