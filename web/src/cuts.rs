//! Where the app is cut: what only the functions of `pieces` reach comes in files of their own.

use js_sys::Function;
use wasm_bindgen::JsError;
use wasm_bindgen::prelude::wasm_bindgen;

use crate::lazy_pages::{self, NotFetched};

/// Says where the pages come from; before anything is shown.
pub fn begin() {
    lazy_pages::come_from(|| Box::pin(async { pieces::pages().await.map_err(|_| NotFetched) }));
    if let Some(pages) = pieces::whole() {
        lazy_pages::are_here(pages);
    }
}

/// Answers a question; `tell` hears how much is done of how much. `static/worker.js` calls this.
///
/// # Errors
/// A sentence, for a question that is none, a plan without answers, or searches that could not be fetched.
#[wasm_bindgen(js_name = longWork)]
pub async fn long_work(question: String, tell: Function) -> Result<String, JsError> {
    let answer = pieces::answer(question, tell).await.map_err(|_| {
        JsError::new("The search is not on this device yet, and it could not be fetched.")
    })?;
    answer.map_err(|said| JsError::new(&said))
}

#[cfg(feature = "cut")]
mod pieces {
    use js_sys::Function;
    use wasm_split_helpers::{SplitLoaderError, wasm_split};

    use crate::lazy_pages::Pages;
    use crate::worker::long_answer;

    /// The pages, where they come with everything else: not here.
    pub fn whole() -> Option<Pages> {
        None
    }

    /// The pages of a plan.
    #[wasm_split(pages, fallible)]
    pub fn pages() -> Result<Pages, SplitLoaderError> {
        Ok(crate::pages::LAZY_PAGES)
    }

    /// A long answer, see [`long_answer`].
    #[wasm_split(search, fallible)]
    pub fn answer(
        question: String,
        tell: Function,
    ) -> Result<Result<String, String>, SplitLoaderError> {
        Ok(long_answer(&question, &tell))
    }
}

/// Everything in one file: for tests, and for whoever builds the app without the project's command.
#[cfg(not(feature = "cut"))]
mod pieces {
    use js_sys::Function;

    use crate::lazy_pages::{NotFetched, Pages};
    use crate::worker::long_answer;

    pub fn whole() -> Option<Pages> {
        Some(crate::pages::LAZY_PAGES)
    }

    pub async fn pages() -> Result<Pages, NotFetched> {
        Ok(crate::pages::LAZY_PAGES)
    }

    pub async fn answer(
        question: String,
        tell: Function,
    ) -> Result<Result<String, String>, NotFetched> {
        Ok(long_answer(&question, &tell))
    }
}
