//! Lengths, times and lists as the builder writes them.

use lodewright_kit::Plan;

/// A length without noise: at most two digits behind the point.
pub fn mm(value: f64) -> String {
    let rounded = (value * 100.0).round() / 100.0;
    // Minus zero would show its sign.
    format!("{}", if rounded == 0.0 { 0.0 } else { rounded })
}

/// ` (0.201 in)` where the plan says inches too; exact, 1 in = 25.4 mm.
pub fn inch_words(plan: &Plan, value_mm: f64) -> String {
    if plan.settings.inches {
        format!(" ({})", lodewright_bench::inch_name(value_mm))
    } else {
        String::new()
    }
}

/// Minutes as a builder says them: `2 min`, `1 h 30 min`, `24 h`.
pub fn minutes(min: f64) -> String {
    let half = (min.max(0.0) * 2.0).round() / 2.0;
    if half < 60.0 {
        return format!("{half} min");
    }
    let (hours, rest) = ((half / 60.0).floor(), (half % 60.0).round());
    if rest == 0.0 {
        format!("{hours} h")
    } else {
        format!("{hours} h {rest} min")
    }
}

/// `a`, `a and b`, `a, b and c`.
pub fn all_of(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

/// `1, 2.5 and 4`.
pub fn list_mm(values: &[f64]) -> String {
    let words: Vec<String> = values.iter().map(|v| mm(*v)).collect();
    all_of(&words)
}
