//! The browser is killed at random moments in the middle of edits, while nobody looks at the page, and the plan is read again: what was
//! edited, or typed into a field that was not left, half a second before must be there, whole. `KILLS` says how often (six without it).

use crate::desk::Desk;
use crate::moves::{go, mark};
use crate::screen::Screen;
use serde_json::json;
use std::time::{Duration, Instant};

/// The last change that may be lost.
const LIMIT: Duration = Duration::from_millis(500);
const SEED: u64 = 20;

/// Changes the kit's name as typing does, and leaves the field or does not; false when the browser is gone.
fn edit(desk: &Desk, name: &str, leave: bool) -> bool {
    let done = desk.try_evaluate(&format!(
        "(async () => {{
            const field = document.querySelector('[data-test=\"kit-name\"]');
            field.focus();
            field.value = {};
            field.dispatchEvent(new InputEvent('input', {{ bubbles: true }}));
            await new Promise((done) => setTimeout(done, 0));
            if ({leave}) field.blur();
        }})()",
        json!(name)
    ));
    done.is_ok()
}

/// SplitMix64 by Steele, Lea and Flood 2014: moments that a run can be repeated with.
fn next(state: &mut u64) -> u64 {
    *state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
    let mut z = *state;
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

fn kills() -> u32 {
    let asked = std::env::var("KILLS").ok();
    asked.map_or(6, |text| text.parse().expect("KILLS is a number"))
}

#[test]
fn a_killed_browser_loses_no_more_than_the_last_half_second() {
    let profile = tempfile::tempdir().unwrap();
    let mut random = SEED;
    let mut count = 0_u64;
    let mut made: Vec<(u64, Instant)> = Vec::new();
    let mut killed_at: Option<Instant> = None;
    let mut ages: Vec<Duration> = Vec::new();
    let kills = kills();
    for round in 0..=kills {
        let desk = Desk::with_profile(Screen::TABLET, profile.path());
        desk.open("");
        if let Some(at) = killed_at {
            desk.wait_for(mark("plan-list"));
            assert_eq!(
                desk.evaluate("document.querySelectorAll('.field-error').length"),
                json!(0),
                "round {round}: a plan is damaged"
            );
            desk.tap(mark("open-new-plan"));
            desk.wait_for(mark("page-grid"));
            go(&desk, "setup");
            let text = desk.text(mark("kit-name"));
            let kept: u64 = text
                .strip_prefix("edit ")
                .and_then(|n| n.parse().ok())
                .unwrap_or_else(|| panic!("round {round}: the kit's name is {text:?}"));
            // The first change that is not there was made so long before the end.
            let lost = made.iter().find(|(n, _)| *n > kept);
            if let Some((n, made)) = lost {
                let age = at.saturating_duration_since(*made);
                ages.push(age);
                assert!(
                    age <= LIMIT,
                    "round {round}: edit {n} was made {age:?} before the kill and is lost"
                );
            }
            // One more may have been made that nobody was told of.
            assert!(
                kept <= count + 1,
                "round {round}: edit {kept} was never made"
            );
            count = count.max(kept);
        } else {
            desk.tap(mark("new-plan"));
            desk.wait_for(mark("page-grid"));
            go(&desk, "setup");
        }
        if round == kills {
            break;
        }
        made.clear();
        // The first change is waited for, so that every round has something to lose.
        count += 1;
        assert!(edit(&desk, &format!("edit {count}"), true));
        made.push((count, Instant::now()));
        let killer = desk.kill_after(Duration::from_millis(next(&mut random) % 3000));
        // Half the rounds leave the field after each edit, the others type on.
        let leave = next(&mut random).is_multiple_of(2);
        while edit(&desk, &format!("edit {}", count + 1), leave) {
            count += 1;
            made.push((count, Instant::now()));
            // Now and then long enough for all to come to rest.
            let most = if next(&mut random).is_multiple_of(8) {
                1500
            } else {
                120
            };
            std::thread::sleep(Duration::from_millis(next(&mut random) % most));
        }
        killed_at = Some(killer.join().expect("the kill"));
        desk.bury();
        if round % 20 == 19 {
            println!("{} kills, {count} edits, lost: {ages:?}", round + 1);
        }
    }
    println!("{kills} kills, {count} edits; lost were the last: {ages:?}");
}
