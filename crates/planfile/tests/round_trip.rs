//! What is written is read again, and what is read is written again, to the bit.

mod support;

use lodewright_kit::{Plan, Severity};
use lodewright_planfile::{MAX_BYTES, WriteError, read, write};
use proptest::prelude::*;

proptest! {
    #![proptest_config(support::cases(256))]

    #[test]
    fn plans_come_back_and_texts_come_back(plan in support::plans()) {
        let text = write(&plan).unwrap();
        let loaded = read(text.as_bytes()).unwrap();
        prop_assert_eq!(&loaded.plan, &plan);
        prop_assert_eq!(write(&loaded.plan).unwrap(), text);
        let wrong: Vec<_> = plan.problems();
        prop_assert_eq!(loaded.notes, wrong);
    }

    #[test]
    fn numbers_keep_their_bits(bits in any::<u64>()) {
        let x = f64::from_bits(bits);
        prop_assume!((0.0..=100_000.0).contains(&x));
        let mut plan = Plan::empty("t");
        plan.rates.hole_min = x;
        let back = read(write(&plan).unwrap().as_bytes()).unwrap().plan;
        prop_assert_eq!(back.rates.hole_min.to_bits(), x.to_bits());
    }
}

#[test]
fn a_file_ends_in_one_line_end_and_holds_one_entry_a_line() {
    let text = support::small_text();
    assert!(text.starts_with("{\n  \"format\": \"lodewright-plan\",\n  \"version\": 2,\n"));
    assert!(text.ends_with("}\n") && !text.ends_with("\n\n"));
}

#[test]
fn a_byte_order_mark_is_passed_over() {
    let text = support::small_text();
    let marked = format!("\u{feff}{text}");
    assert_eq!(read(marked.as_bytes()), read(text.as_bytes()));
}

#[test]
fn what_is_wrong_but_usable_is_told_beside_the_plan() {
    let text = support::small_text();
    let mut plan = read(text.as_bytes()).unwrap().plan;
    let twice = plan.variants[0].cells[0].seats[0].clone();
    plan.variants[0].cells[1].seats[0] = twice;
    let loaded = read(write(&plan).unwrap().as_bytes()).unwrap();
    assert_eq!(loaded.notes.len(), 1);
    assert_eq!(loaded.notes[0].severity, Severity::Wrong);
    assert_eq!(loaded.plan, plan);
}

#[test]
fn numbers_that_are_not_finite_are_not_written() {
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        let mut plan = Plan::empty("t");
        plan.settings.friction = bad;
        let error = write(&plan).unwrap_err();
        assert!(
            matches!(&error, WriteError::Refused(p) if p.len() == 1),
            "{error:?}"
        );
        assert_eq!(
            error.to_string(),
            format!(
                "The plan cannot be saved as it is. settings.friction: is {bad} but must be a number from 0 to 2. Correct the number."
            )
        );
    }
}

#[test]
fn a_plan_too_long_for_a_file_is_not_written() {
    let mut plan = Plan::empty("t");
    // 999 parts of 8 plugs with an outline of 64 points each: legal one by one.
    let mut part = lodewright_kit::Part::plain("x".into(), "x".to_owned());
    part.plugs = (0..8)
        .map(|i| {
            let mut plug = lodewright_kit::Plug::plain(format!("p{i}").as_str().into());
            plug.patch = Some(lodewright_kit::Patch::Points(vec![[0.125, 0.25]; 64]));
            plug
        })
        .collect();
    for i in 1..1_000 {
        let mut next = part.clone();
        next.id = format!("part-{i}").as_str().into();
        plan.parts.push(next);
    }
    let error = write(&plan).unwrap_err();
    assert!(matches!(error, WriteError::TooLarge { bytes } if bytes > MAX_BYTES));
    assert!(
        error.to_string().contains("a file has at most 4000000"),
        "{error}"
    );
}

#[test]
fn fields_with_a_usual_value_may_be_left_out() {
    let text = r#"{"format": "lodewright-plan", "version": 2, "plan": {"title": "t", "kit": {}, "base": "b",
        "parts": [{"id": "b", "name": "Base", "material": "styrene", "size_mm": [1, 2, 3]}],
        "sockets": [], "variants": []}}"#;
    let plan = read(text.as_bytes()).unwrap().plan;
    assert_eq!(plan.stock, lodewright_kit::Stock::default());
    assert_eq!(plan.settings, lodewright_kit::Settings::default());
    assert_eq!(plan.parts[0].size_mm, [1.0, 2.0, 3.0]);
    // An empty list that would not be written may stand there all the same.
    let with_bits = text.replace(
        "\"kit\"",
        "\"stock\": {\"magnets\": [], \"bits_mm\": []}, \"kit\"",
    );
    assert!(
        read(with_bits.as_bytes())
            .unwrap()
            .plan
            .stock
            .bits_mm
            .is_empty()
    );
}
