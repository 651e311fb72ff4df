//! Numbers and times as people write and read them.

use lodewright_planner::kit::Stock;

/// A number without more digits than it has, at most six behind the point.
pub fn number(value: f64) -> String {
    if !value.is_finite() {
        return String::new();
    }
    let rounded = (value * 1e6).round() / 1e6;
    // Minus zero would show its sign.
    format!("{}", if rounded == 0.0 { 0.0 } else { rounded })
}

/// A number with this many digits behind the point.
pub fn fixed(value: f64, digits: usize) -> String {
    if value.is_finite() {
        format!("{value:.digits$}")
    } else {
        String::new()
    }
}

/// Money from hundredths.
pub fn money(cents: u32, currency: &str) -> String {
    format!("{currency}\u{a0}{}.{:02}", cents / 100, cents % 100)
}

/// What is said beside prices that nobody asks.
pub fn price_note(stock: &Stock) -> Option<&'static str> {
    let note = "The prices of magnets and steel are invented: no shop asks them.";
    stock.prices_invented.then_some(note)
}

/// Minutes as hours and minutes.
pub fn duration(minutes: f64) -> String {
    let all = minutes.max(0.0).round();
    let (hours, rest) = ((all / 60.0).floor(), all % 60.0);
    match (hours > 0.0, rest > 0.0) {
        (false, _) => format!("{rest}\u{a0}min"),
        (true, false) => format!("{hours}\u{a0}h"),
        (true, true) => format!("{hours}\u{a0}h\u{a0}{rest}\u{a0}min"),
    }
}

/// `1 part`, `3 parts`.
pub fn count(n: usize, one: &str, many: &str) -> String {
    format!("{n}\u{a0}{}", if n == 1 { one } else { many })
}

/// Reads a number as typed: point or comma, with the field's unit or without. Lengths may also be given in cm or inches
/// (`1/8"`, `0.125 in`).
///
/// # Errors
/// Says what was typed and what is wanted.
pub fn parse(text: &str, unit: &str) -> Result<f64, String> {
    let typed = text.trim();
    let plain = typed.replace(',', ".").replace('\u{2212}', "-");
    let (digits, factor) = without_unit(plain.trim(), unit);
    match fraction(digits).map(|v| v * factor) {
        Some(v) if v.is_finite() => Ok(v),
        _ if typed.is_empty() => Err("Type a number.".to_owned()),
        _ => Err(format!(
            "\u{201c}{typed}\u{201d} is not a number. Type one such as 2.5{}.",
            in_unit(unit)
        )),
    }
}

fn in_unit(unit: &str) -> String {
    if unit.is_empty() {
        String::new()
    } else {
        format!("\u{a0}{unit}")
    }
}

fn without_unit<'a>(text: &'a str, unit: &str) -> (&'a str, f64) {
    let lengths: [(&str, f64); 5] = [
        ("mm", 1.0),
        ("cm", 10.0),
        ("in", 25.4),
        ("\"", 25.4),
        ("\u{2033}", 25.4),
    ];
    let own = [(unit, 1.0)];
    let known: &[(&str, f64)] = if unit == "mm" { &lengths } else { &own };
    known
        .iter()
        .filter(|(word, _)| !word.is_empty())
        .find_map(|(word, factor)| Some((text.strip_suffix(word)?.trim_end(), *factor)))
        .unwrap_or((text, 1.0))
}

/// `2.5`, `1/8` or `1 1/2`.
fn fraction(text: &str) -> Option<f64> {
    let Some((top, bottom)) = text.split_once('/') else {
        return text.parse().ok();
    };
    let (whole, top) = top.trim().rsplit_once(' ').unwrap_or(("0", top));
    let bottom: f64 = bottom.trim().parse().ok().filter(|b| *b != 0.0)?;
    Some(whole.trim().parse::<f64>().ok()? + top.trim().parse::<f64>().ok()? / bottom)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_have_no_noise() {
        assert_eq!(number(0.1 + 0.2), "0.3");
        assert_eq!(number(-0.0), "0");
        assert_eq!(number(12.0), "12");
        assert_eq!(number(f64::NAN), "");
    }

    #[test]
    fn typed_numbers_are_read_with_comma_and_unit() {
        for (text, mm) in [
            ("2.5", 2.5),
            ("2,5 mm", 2.5),
            (" 1 cm", 10.0),
            ("-3", -3.0),
            ("\u{2212}3", -3.0),
        ] {
            assert_eq!(parse(text, "mm"), Ok(mm), "{text}");
        }
        assert_eq!(parse("12 g", "g"), Ok(12.0));
        assert_eq!(parse("7%", "%"), Ok(7.0));
    }

    /// One inch is 25.4 mm exactly (international yard and pound agreement of 1959).
    #[test]
    fn inches_are_read() {
        for (text, mm) in [
            ("1 in", 25.4),
            ("1/8\"", 3.175),
            ("1 1/2 in", 38.1),
            ("0.125in", 3.175),
        ] {
            assert!((parse(text, "mm").unwrap() - mm).abs() < 1e-12, "{text}");
        }
    }

    #[test]
    fn what_is_no_number_is_refused_with_the_text() {
        for text in ["abc", "1.2.3", "1/0", "inf", "NaN", "1e999", "3 kg"] {
            let said = parse(text, "mm").unwrap_err();
            assert!(said.contains(text), "{said}");
        }
        assert_eq!(parse("  ", "mm").unwrap_err(), "Type a number.");
    }

    #[test]
    fn times_and_money() {
        assert_eq!(duration(95.0), "1\u{a0}h\u{a0}35\u{a0}min");
        assert_eq!(duration(120.0), "2\u{a0}h");
        assert_eq!(duration(5.4), "5\u{a0}min");
        assert_eq!(money(1205, "€"), "€\u{a0}12.05");
        assert_eq!(count(1, "part", "parts"), "1\u{a0}part");
    }
}
