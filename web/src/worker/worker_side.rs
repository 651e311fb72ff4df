//! What the worker does: it gets a question as text and gives the answer as text.

use js_sys::Function;
use lodewright_planner::Analysis;
use lodewright_planner::kit::{Plan, Problem};
use serde::{Deserialize, Serialize};
use wasm_bindgen::JsValue;

/// What is asked.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Question {
    /// The fewest magnets for this plan.
    Fewest(Box<Plan>),
    /// The fewest magnets for each of these hold targets.
    Counts(Box<Plan>, Vec<f64>),
}

/// Answers a question; `tell` hears how much is done of how much.
///
/// # Errors
/// A sentence, for a question that is none or a plan without answers.
pub fn long_answer(question: &str, tell: &Function) -> Result<String, String> {
    let question: Question = serde_json::from_str(question).map_err(|e| e.to_string())?;
    let mut watch = |done: usize, of: usize| {
        let (done, of) = (JsValue::from_f64(done as f64), JsValue::from_f64(of as f64));
        // A page that does not listen any more stops the worker itself.
        let _ = tell.call2(&JsValue::NULL, &done, &of);
        true
    };
    match question {
        Question::Fewest(plan) => {
            let found = asked(*plan)?.propose(&mut watch);
            serde_json::to_string(&found).map_err(|e| e.to_string())
        }
        Question::Counts(plan, targets_x_weight) => {
            let counts = asked(*plan)?.counts_by_target(&targets_x_weight, &mut watch);
            serde_json::to_string(&counts).map_err(|e| e.to_string())
        }
    }
}
/// The plan to be asked.
fn asked(plan: Plan) -> Result<Analysis, String> {
    let first = |all: Vec<Problem>| all.first().map(ToString::to_string).unwrap_or_default();
    Analysis::of(plan).map_err(first)
}
