//! How a page starts long work, hears of it and stops it.

use js_sys::Reflect;
use wasm_bindgen::JsCast;
use wasm_bindgen::JsValue;
use wasm_bindgen::closure::Closure;
use web_sys::{MessageEvent, Worker, WorkerOptions, WorkerType};

use super::Question;

/// The worker's script, beside the page.
const SCRIPT: &str = "worker.js";

/// What the worker tells.
#[derive(Clone, Debug, PartialEq)]
pub enum Told {
    /// So much is done of so much.
    Progress(u32, u32),
    /// The answer, as text.
    Answer(String),
    /// It failed, in words.
    Failed(String),
}

/// A worker at work; dropping it stops it at once.
#[derive(Debug)]
pub struct LongWork {
    worker: Worker,
    // Kept as long as the worker may call them.
    _on_message: Closure<dyn Fn(MessageEvent)>,
    _on_error: Closure<dyn Fn(JsValue)>,
}

impl LongWork {
    /// Starts a worker on a question.
    ///
    /// # Errors
    /// A sentence where this browser starts no worker.
    pub fn start(
        question: &Question,
        told: impl Fn(Told) + Clone + 'static,
    ) -> Result<Self, String> {
        let refused =
            |_: JsValue| "This browser does not let the page work in the background.".to_owned();
        let text = serde_json::to_string(question).map_err(|e| e.to_string())?;
        let options = WorkerOptions::new();
        options.set_type(WorkerType::Module);
        let worker = Worker::new_with_options(SCRIPT, &options).map_err(refused)?;
        let on_message = {
            let told = told.clone();
            Closure::<dyn Fn(MessageEvent)>::new(move |e: MessageEvent| told(read(&e.data())))
        };
        let on_error = Closure::<dyn Fn(JsValue)>::new(move |_: JsValue| {
            told(Told::Failed(
                "The work in the background stopped.".to_owned(),
            ));
        });
        worker.set_onmessage(Some(on_message.as_ref().unchecked_ref()));
        worker.set_onerror(Some(on_error.as_ref().unchecked_ref()));
        worker
            .post_message(&JsValue::from_str(&text))
            .map_err(refused)?;
        Ok(Self {
            worker,
            _on_message: on_message,
            _on_error: on_error,
        })
    }
}

impl Drop for LongWork {
    fn drop(&mut self) {
        self.worker.terminate();
    }
}

fn read(data: &JsValue) -> Told {
    let get =
        |name: &str| Reflect::get(data, &JsValue::from_str(name)).unwrap_or(JsValue::UNDEFINED);
    if let Some(answer) = get("answer").as_string() {
        return Told::Answer(answer);
    }
    if let Some(failed) = get("failed").as_string() {
        return Told::Failed(failed);
    }
    let number = |name: &str| get(name).as_f64().unwrap_or(0.0).clamp(0.0, 1e9) as u32;
    Told::Progress(number("done"), number("of"))
}
