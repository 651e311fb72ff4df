//! Plans in links and pictures: they come back, outsiders' readers agree on what they are, and limits hold both ways.
#![allow(clippy::unwrap_used, reason = "tests may stop at a fault")]
#![allow(clippy::disallowed_methods, reason = "tests read files")]

mod support;

use lodewright_kit::{Edit, Plan};
use lodewright_planfile::{MAX_LINK, ReadError, WriteError, open, pack, picture, read, unpack};
use proptest::prelude::*;

proptest! {
    #![proptest_config(support::cases(96))]

    #[test]
    fn plans_come_back_from_links_and_pictures(plan in support::plans()) {
        let link = pack(&plan).unwrap();
        prop_assert!(link.bytes().all(|b| b.is_ascii_alphanumeric() || b"-_".contains(&b)));
        prop_assert_eq!(&unpack(&link).unwrap().plan, &plan);
        let svg = picture(&plan).unwrap();
        prop_assert_eq!(&open(svg.as_bytes()).unwrap().plan, &plan);
        // An XML reader of others finds it well-formed, the title whole, and the plan where it is said to be.
        let xml = roxmltree::Document::parse(&svg).unwrap();
        let inside = xml.descendants().find(|n| n.attribute("id") == Some("lodewright-plan")).unwrap();
        prop_assert_eq!(inside.text().unwrap(), link.as_str());
    }

    #[test]
    fn any_text_is_unpacked_or_refused_in_words(text in "[A-Za-z0-9_=+/ -]{0,300}|\\PC{0,60}") {
        if let Err(error) = unpack(&text) {
            prop_assert!(!error.to_string().is_empty());
        }
    }

    #[test]
    fn a_changed_link_is_refused(plan in support::plans(), at in any::<prop::sample::Index>(), to in any::<u8>()) {
        let mut link = pack(&plan).unwrap().into_bytes();
        let at = at.index(link.len() - 2);
        let letter = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"[usize::from(to % 64)];
        prop_assume!(link[at] != letter);
        link[at] = letter;
        // Its checksum (Adler-32) tells; a changed header may mean the same.
        let answer = unpack(std::str::from_utf8(&link).unwrap());
        prop_assert!(answer.is_err() || at < 4, "{answer:?}");
    }
}

/// A plan of one part, as Python's zlib and base64 modules pack
/// `{"format":"lodewright-plan","version":1,"plan":{"title":"P","kit":{},"base":"b","parts":[{"id":"b","name":"Base","material":"styrene","size_mm":[1,2,3]}],"sockets":[],"variants":[]}}`.
const FROM_PYTHON: &str = "eNotjUsOwjAMRO_itVkUdllyAvaoQi41YDWfyolAEOXuOIXlvJlnV7glDVTAgU8zv1Tuj7JbPUVAeLJmSRHcgLAhV6FI8Wzrk_WLmFcbwkS5s8nYSloyuHMFmf8oUujtsY8Q7BmrkDeSy1s5dpjlw5cQzBtwj4exjcbSdeHtloUnmRN_qbUvBJc6vg";

#[test]
fn a_link_that_another_program_packed_is_read() {
    let plan = unpack(FROM_PYTHON).unwrap().plan;
    assert_eq!(
        (plan.title.as_str(), plan.parts[0].size_mm),
        ("P", [1.0, 2.0, 3.0])
    );
}

#[test]
fn the_demo_fits_a_link_with_room_to_spare() {
    let demo = support::examples().join("demo.lodewright.json");
    let plan = read(&std::fs::read(demo).unwrap()).unwrap().plan;
    let link = pack(&plan).unwrap();
    println!("the demo's link has {} characters", link.len());
    assert!(link.len() < MAX_LINK / 3, "{}", link.len());
}

#[test]
fn links_too_long_are_neither_made_nor_taken() {
    let mut plan = Plan::empty("t");
    // Words that deflate badly.
    let mut state = 1_u64;
    for i in 0..990 {
        let mut word = || {
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1);
            format!("{state:x}")
        };
        let name = format!("{}{}{}{i}", word(), word(), word());
        plan = plan.edited(&Edit::AddPart(name)).unwrap();
    }
    let error = pack(&plan).unwrap_err();
    assert!(
        matches!(error, WriteError::LinkTooLong { characters } if characters > MAX_LINK),
        "{error}"
    );
    assert!(open(picture(&plan).unwrap().as_bytes()).is_ok());
    let error = unpack(&"A".repeat(MAX_LINK + 1)).unwrap_err();
    assert_eq!(
        error,
        ReadError::LinkTooLong {
            characters: MAX_LINK + 1
        }
    );
}

#[test]
fn markup_in_names_is_drawn_as_text() {
    let mut plan = read(support::small_text().as_bytes()).unwrap().plan;
    let markup = "</text><script>a&'\"\u{ffff}";
    plan.variants[0].name = markup.to_owned();
    plan.title = markup.to_owned();
    let svg = picture(&plan).unwrap();
    let xml = roxmltree::Document::parse(&svg).unwrap();
    assert!(xml.descendants().all(|n| n.tag_name().name() != "script"));
    let shown = markup.replace('\u{ffff}', "\u{fffd}");
    assert_eq!(
        xml.descendants()
            .filter(|n| n.is_text() && n.text() == Some(&shown))
            .count(),
        3
    );
}
