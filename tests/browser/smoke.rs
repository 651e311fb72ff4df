//! The app starts: it mounts, names itself, and complains of nothing, on every screen.

use crate::desk::Desk;
use crate::find::css;
use crate::screen::Screen;

#[test]
fn the_app_mounts_on_every_screen() {
    let screens = [
        ("tablet", Screen::TABLET),
        ("tablet-upright", Screen::TABLET_UPRIGHT),
        ("phone", Screen::PHONE),
        ("dark", Screen::TABLET.dark()),
    ];
    for (name, screen) in screens {
        let desk = Desk::new(screen);
        desk.open("");
        desk.wait_gone(css("#app main.shell"));
        desk.wait_for(css("#app > *"));
        assert!(desk.title().ends_with("Lodewright"), "{}", desk.title());
        assert_eq!(
            desk.evaluate("[innerWidth, innerHeight]"),
            serde_json::json!([screen.width, screen.height])
        );
        assert_eq!(
            desk.evaluate("matchMedia('(prefers-color-scheme: dark)').matches"),
            screen.dark
        );
        assert_eq!(desk.property(css("#crash"), "hidden"), "");
        desk.screenshot(&format!("smoke-{name}"));
        assert_eq!(desk.console_errors(), Vec::<String>::new());
    }
}
