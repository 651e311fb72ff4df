//! Times of day from the browser's clock, in the reader's own way of writing them.

/// Hours and minutes.
pub fn time_of_day(at_ms: f64) -> String {
    formatted(at_ms, &[("timeStyle", "short")])
}

/// Day, hours and minutes.
pub fn day_and_time(at_ms: f64) -> String {
    formatted(at_ms, &[("dateStyle", "medium"), ("timeStyle", "short")])
}

#[cfg(target_arch = "wasm32")]
fn formatted(at_ms: f64, styles: &[(&str, &str)]) -> String {
    let options = js_sys::Object::new();
    for (key, value) in styles {
        // Setting a key of a fresh object does not fail.
        let _ = js_sys::Reflect::set(&options, &(*key).into(), &(*value).into());
    }
    let date = js_sys::Date::new(&at_ms.into());
    date.to_locale_string("default", &options).into()
}

/// Pages are also rendered natively, in tests, where there is no such clock.
#[cfg(not(target_arch = "wasm32"))]
fn formatted(at_ms: f64, _styles: &[(&str, &str)]) -> String {
    format!("{at_ms} ms")
}
