//! The browser's database as `static/indexed_db.js` gives it. Every call fails where there is none, as in a test without the shell.

use js_sys::Promise;
use wasm_bindgen::prelude::wasm_bindgen;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::DomException;

use super::browser::{CLOSED, FULL, is_full};
use super::{Job, PastName, Record};

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(js_namespace = lodewrightDatabase, js_name = read, catch)]
    fn js_read() -> Result<Promise, JsValue>;
    #[wasm_bindgen(js_namespace = lodewrightDatabase, js_name = latest, catch)]
    fn js_latest(key: &str) -> Result<Promise, JsValue>;
    #[wasm_bindgen(js_namespace = lodewrightDatabase, js_name = write, catch)]
    fn js_write(key: &str, after: f64, record: &str) -> Result<Promise, JsValue>;
    #[wasm_bindgen(js_namespace = lodewrightDatabase, js_name = settle, catch)]
    fn js_settle(key: &str) -> Result<Promise, JsValue>;
    #[wasm_bindgen(js_namespace = lodewrightDatabase, js_name = drafts, catch)]
    fn js_drafts() -> Result<Promise, JsValue>;
    #[wasm_bindgen(js_namespace = lodewrightDatabase, js_name = putDrafts, catch)]
    fn js_put_drafts(pairs: &str) -> Result<Promise, JsValue>;
    #[wasm_bindgen(js_namespace = lodewrightDatabase, js_name = pastNames, catch)]
    fn js_past_names() -> Result<Promise, JsValue>;
    #[wasm_bindgen(js_namespace = lodewrightDatabase, js_name = pastRead, catch)]
    fn js_past_read(name: &str) -> Result<Promise, JsValue>;
    #[wasm_bindgen(js_namespace = lodewrightDatabase, js_name = pastDrop, catch)]
    fn js_past_drop(names: &str) -> Result<Promise, JsValue>;
    #[wasm_bindgen(js_namespace = lodewrightDatabase, js_name = room, catch)]
    fn js_room() -> Result<Promise, JsValue>;
    #[wasm_bindgen(js_namespace = lodewrightDatabase, js_name = persist, catch)]
    fn js_persist() -> Result<Promise, JsValue>;
}

/// How a write ended.
#[derive(Debug, PartialEq)]
pub enum Written {
    /// It is with the system.
    Done {
        /// Whether the state before it was put by as well.
        put_by: bool,
    },
    /// Another window has written this newer state.
    Newer(Record),
}

/// What the browser says of its storage.
#[derive(Clone, Copy, Debug, Default, PartialEq, serde::Deserialize)]
pub struct Room {
    /// Whether it keeps what is stored when room gets short.
    pub persisted: Option<bool>,
    /// Bytes in use.
    pub usage: Option<f64>,
    /// Bytes granted.
    pub quota: Option<f64>,
}

async fn text(call: Result<Promise, JsValue>) -> Result<Option<String>, String> {
    let answer = JsFuture::from(call.map_err(|e| reason(&e))?).await;
    answer.map(|v| v.as_string()).map_err(|e| reason(&e))
}

/// All slots: their keys (`plan/0`, `plan/1`) and records.
///
/// # Errors
/// Words, where there is no database or it does not answer.
pub async fn read() -> Result<Vec<(String, String)>, String> {
    let found = text(js_read()).await?.unwrap_or_default();
    serde_json::from_str(&found).map_err(|e| e.to_string())
}

/// The newest good state of a plan.
///
/// # Errors
/// As for [`read`].
pub async fn latest(key: &str) -> Result<Option<Record>, String> {
    Ok(text(js_latest(key)).await?.and_then(|r| Record::read(&r)))
}

/// Writes a state, unless a newer one is there.
///
/// # Errors
/// Words, where the browser refuses or does not answer.
pub async fn write(job: &Job) -> Result<Written, String> {
    let call = js_write(&job.key, job.after as f64, &job.record.write());
    let answer = text(call).await?.unwrap_or_default();
    Ok(match Record::read(&answer) {
        Some(newer) => Written::Newer(newer),
        None => Written::Done {
            put_by: !answer.is_empty(),
        },
    })
}

/// Has all that was written on the disk.
pub async fn settle(key: &str) {
    // The system puts it there by itself soon; this is for a failing machine.
    let _ = text(js_settle(key)).await;
}

/// Asks for all drafts, as pairs of key and text, while other things are asked for; none where the database does not answer.
pub fn drafts() -> impl Future<Output = Vec<(String, String)>> {
    let asked = js_drafts();
    async {
        let found = text(asked).await.ok().flatten().unwrap_or_default();
        serde_json::from_str(&found).unwrap_or_default()
    }
}

/// Writes drafts, or takes them away where there is no text.
///
/// # Errors
/// As for [`write()`].
pub async fn put_drafts(pairs: &[(String, Option<String>)]) -> Result<(), String> {
    let pairs = serde_json::to_string(pairs).map_err(|e| e.to_string())?;
    text(js_put_drafts(&pairs)).await.map(|_| ())
}

/// The names of all earlier states.
///
/// # Errors
/// As for [`read`].
pub async fn past_names() -> Result<Vec<PastName>, String> {
    let found = text(js_past_names()).await?.unwrap_or_default();
    let names: Vec<String> = serde_json::from_str(&found).map_err(|e| e.to_string())?;
    Ok(names.iter().filter_map(|n| PastName::read(n)).collect())
}

/// One earlier state.
///
/// # Errors
/// As for [`read`].
pub async fn past_read(name: &str) -> Result<Option<Record>, String> {
    Ok(text(js_past_read(name))
        .await?
        .and_then(|r| Record::read(&r)))
}

/// Forgets earlier states.
///
/// # Errors
/// As for [`read`].
pub async fn past_drop(names: &[String]) -> Result<(), String> {
    let names = serde_json::to_string(names).map_err(|e| e.to_string())?;
    text(js_past_drop(&names)).await.map(|_| ())
}

/// What the browser says of its storage; nothing where it says nothing.
pub async fn room() -> Room {
    let said = text(js_room()).await.ok().flatten().unwrap_or_default();
    serde_json::from_str(&said).unwrap_or_default()
}

/// Asks the browser to keep what is stored even when room gets short.
pub async fn persist() {
    // The answer is read from `room`, where it is shown.
    let _ = text(js_persist()).await;
}

fn reason(error: &JsValue) -> String {
    match error.dyn_ref::<DomException>() {
        Some(error) if is_full(error) => FULL.to_owned(),
        Some(error) if error.name() == "SecurityError" => CLOSED.to_owned(),
        Some(error) if error.name() == "TimeoutError" => {
            "The browser's database does not answer.".to_owned()
        }
        Some(error) => format!("The browser's database does not work ({}).", error.name()),
        None => "The browser has no database for this page.".to_owned(),
    }
}
