//! The address in the browser: where the reader is, and going elsewhere.

use gloo::utils::window;

use crate::routes::Route;

/// Where the reader is.
pub fn here() -> Route {
    Route::read(&window().location().hash().unwrap_or_default())
}

/// Goes there.
pub fn go(route: &Route) {
    // The browser refuses an address only when it is flooded with them.
    let _ = window().location().set_hash(&route.href());
}
