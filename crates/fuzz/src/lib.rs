//! What the fuzzers run: each takes any bytes and stops the program where the core breaks a promise.
//!
//! The promises: nothing panics; what was read is written and read again as the same plan; refusals are short sentences
//! without control characters; a plan that a file can hold has answers, or a sentence why not.

mod plans;

use lodewright_planner::kit::{Edit, Ix, Plan, VariantIx};
use lodewright_planner::{Analysis, formulas, planfile};

pub use plans::changed_plan;

/// The longest refusal that a page can show, characters.
const LONGEST_WORDS: usize = 2_000;

/// The bytes as a plan file.
pub fn plan_file(bytes: &[u8]) {
    match planfile::read(bytes) {
        Ok(loaded) => comes_back(&loaded.plan),
        Err(error) => fit_to_be_shown(&error.to_string()),
    }
}

/// The bytes as the text of a link, as a picture, and, folded up, as what a link carries.
pub fn link(bytes: &[u8]) {
    let Some((first, rest)) = bytes.split_first() else {
        return;
    };
    let answer = match first % 3 {
        0 => planfile::unpack(&String::from_utf8_lossy(rest)),
        1 => planfile::open(rest),
        _ => planfile::unpack(&folded(rest)),
    };
    match answer {
        Ok(loaded) => {
            comes_back(&loaded.plan);
            if let Ok(text) = planfile::pack(&loaded.plan) {
                let again = planfile::unpack(&text).map(|loaded| loaded.plan);
                assert_eq!(again.as_ref(), Ok(&loaded.plan), "changed in a link");
            }
        }
        Err(error) => fit_to_be_shown(&error.to_string()),
    }
}

/// The bytes as blocks that are stored as they are (RFC 1951, 3.2.4) within zlib's head and checksum, in base64url: so the
/// fuzzer's changes reach what is inside.
fn folded(bytes: &[u8]) -> String {
    let mut packed = vec![0x78, 0x01];
    let mut blocks = bytes.chunks(0xffff).peekable();
    while let Some(block) = blocks.next() {
        let length = u16::try_from(block.len()).unwrap_or(0);
        packed.push(u8::from(blocks.peek().is_none()));
        packed.extend(length.to_le_bytes());
        packed.extend((!length).to_le_bytes());
        packed.extend(block);
    }
    let (mut a, mut b) = (1_u32, 0_u32);
    for byte in bytes {
        a = (a + u32::from(*byte)) % 65_521;
        b = (b + a) % 65_521;
    }
    packed.extend((b << 16 | a).to_be_bytes());
    letters(&packed)
}

fn letters(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
    let mut out = String::new();
    for three in bytes.chunks(3) {
        let word = three
            .iter()
            .fold(0_u32, |word, b| word << 8 | u32::from(*b));
        let word = word << (8 * (3 - three.len()));
        for i in 0..=three.len() {
            let letter = word >> (18 - 6 * i) & 63;
            out.push(char::from(LETTERS[letter as usize]));
        }
    }
    out
}

/// The bytes as text pasted into the grid of a plan that has entries already.
pub fn grid(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else {
        return;
    };
    match plans::SMALL.edited(&Edit::PasteGrid(text.to_owned())) {
        Ok(pasted) => {
            // One text in eight: writing and reading takes far longer than pasting.
            if bytes.len().is_multiple_of(8) {
                comes_back(&pasted);
            }
            // The words of a cell mean the same cell again.
            for variant in &pasted.variants {
                for cell in &variant.cells {
                    let _words = pasted.cell_text(&variant.id, &cell.socket);
                }
            }
        }
        Err(refusal) => fit_to_be_shown(&refusal.to_string()),
    }
}

/// The bytes as changes to entries of a small plan, which is then analysed; see [`changed_plan`].
pub fn analysis(bytes: &[u8]) {
    let Some(plan) = changed_plan(bytes) else {
        return;
    };
    comes_back(&plan);
    match Analysis::of(plan) {
        Ok(analysis) => {
            let text = serde_json::to_string(&analysis.report()).unwrap_or_default();
            assert!(!text.is_empty(), "the report cannot be written");
            papers(&analysis);
            // Advice and the fewest magnets try many plans each: one input in eight.
            if bytes.len().is_multiple_of(8) {
                searches(&analysis);
            }
        }
        Err(problems) => problems
            .iter()
            .for_each(|problem| fit_to_be_shown(&problem.to_string())),
    }
}

/// Everything that is printed, told or packed.
fn papers(analysis: &Analysis) {
    let tables = [analysis.shopping_csv(), analysis.work_csv()];
    for line in tables.iter().flat_map(|t| t.lines()) {
        assert!(
            !line.starts_with(['=', '+', '@']),
            "a spreadsheet would run {line:?}"
        );
    }
    let saving = analysis.quote().saving;
    let _saved = saving.saved_cents();
    let _cards = analysis.hand_over();
    let _round = analysis.round_trip();
    let _timed = analysis.rates_as_timed();
    for variant in VariantIx::all(&analysis.plan().variants) {
        if let Err(refusal) = analysis.stow_loose(variant) {
            fit_to_be_shown(&refusal.to_string());
        }
    }
    let _wrong = analysis.propose_poles();
    for joint in analysis.board().all_joints() {
        if let Some(model) = analysis.study(joint) {
            let _words = formulas(analysis.plan(), &model);
        }
    }
}

/// Every edit that is offered can be made.
fn searches(analysis: &Analysis) {
    for joint in analysis.board().all_joints() {
        for offered in analysis.advice(joint) {
            let made = analysis.edited(&offered.edit);
            assert!(made.is_ok(), "advice that cannot be taken: {made:?}");
        }
    }
    if let Some(edit) = analysis.propose(&mut |_, _| true).edit {
        let made = analysis.edited(&edit);
        assert!(made.is_ok(), "a proposal that cannot be taken: {made:?}");
    }
}

/// A plan is written, and what is read back is the same.
fn comes_back(plan: &Plan) {
    match planfile::write(plan) {
        Ok(text) => {
            let again = planfile::read(text.as_bytes()).map(|loaded| loaded.plan);
            assert_eq!(again.as_ref(), Ok(plan), "the plan changed on its way");
        }
        Err(error) => assert!(
            matches!(error, planfile::WriteError::TooLarge { .. }),
            "a plan that was accepted is not written: {error}"
        ),
    }
}

fn fit_to_be_shown(said: &str) {
    assert!(!said.is_empty(), "a refusal without words");
    assert!(said.chars().count() <= LONGEST_WORDS, "too long: {said}");
    assert!(
        said.chars().all(|c| !c.is_control() || c == '\n'),
        "control characters: {said:?}"
    );
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_folded_is_unfolded() {
        let text = planfile::write(&plans::SMALL).unwrap();
        let unfolded = planfile::unpack(&folded(text.as_bytes())).unwrap();
        assert_eq!(unfolded.plan, *plans::SMALL);
    }
}
