//! The demo, which comes with the program.

use lodewright_planner::kit::Plan;
use lodewright_planner::planfile;

/// The demo plan, invented for this program.
///
/// # Errors
/// Why it could not be read, in words.
pub fn demo() -> Result<Plan, String> {
    let text = include_str!("../../../../examples/demo.lodewright.json");
    planfile::read(text.as_bytes())
        .map(|loaded| loaded.plan)
        .map_err(|e| e.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_demo_opens() {
        let plan = demo().unwrap();
        assert!(!plan.variants.is_empty());
    }
}
