//! The browser is killed at random moments during edits, and the plan is read again: what was edited more than a second before
//! must be there, whole. `KILLS` says how often (six without it).

use crate::desk::Desk;
use crate::moves::{go, mark};
use crate::screen::Screen;
use serde_json::json;
use std::time::{Duration, Instant};

/// The last change that may be lost.
const LIMIT: Duration = Duration::from_secs(1);
const SEED: u64 = 20;

/// Changes the kit's name as typing does, and waits for the change to be made.
fn edit(desk: &Desk, name: &str) {
    desk.evaluate(&format!(
        "(async () => {{
            const field = document.querySelector('[data-test=\"kit-name\"]');
            field.focus();
            field.value = {};
            field.dispatchEvent(new InputEvent('input', {{ bubbles: true }}));
            await new Promise((done) => setTimeout(done, 0));
            field.blur();
        }})()",
        json!(name)
    ));
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
fn a_killed_browser_loses_no_more_than_the_last_second() {
    let profile = tempfile::tempdir().unwrap();
    let mut random = SEED;
    let mut count = 0_u64;
    let mut made: Vec<(u64, Instant)> = Vec::new();
    let mut killed_at: Option<Instant> = None;
    let (mut worst, mut any) = (Duration::ZERO, 0_u32);
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
            let age = lost.map_or(Duration::ZERO, |(_, made)| {
                at.saturating_duration_since(*made)
            });
            any += u32::from(lost.is_some());
            worst = worst.max(age);
            assert!(
                age <= LIMIT,
                "round {round}: edit {} was made {age:?} before the kill and is lost",
                kept + 1
            );
            assert!(kept <= count, "round {round}: edit {kept} was never made");
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
        let end = Instant::now() + Duration::from_millis(next(&mut random) % 2500);
        loop {
            count += 1;
            edit(&desk, &format!("edit {count}"));
            made.push((count, Instant::now()));
            if Instant::now() >= end {
                break;
            }
            std::thread::sleep(Duration::from_millis(next(&mut random) % 120));
        }
        // From none at all to longer than a write takes.
        std::thread::sleep(Duration::from_millis(next(&mut random) % 400));
        killed_at = Some(Instant::now());
        if round % 20 == 19 {
            println!(
                "{} kills, {count} edits, {any} times something of the last {worst:?} lost",
                round + 1
            );
        }
        desk.kill();
    }
    println!(
        "{kills} kills, {count} edits, {any} times something lost, at most of the last {worst:?}"
    );
}
