//! Small line drawings beside words, our own. They never stand alone for a meaning.

use yew::prelude::*;

use crate::routes::Page;

/// What is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// A page of the app.
    Page(Page),
    /// An arrow that turns back.
    Undo,
    /// An arrow that turns forward.
    Redo,
    /// A cross.
    Close,
    /// A plus.
    Plus,
    /// Three strokes.
    More,
    /// A bin.
    Bin,
    /// An arrow into a tray.
    Save,
    /// A chevron to the left.
    Back,
    /// Two sheets.
    Copy,
    /// A turn to the right.
    Turn,
}

impl Shape {
    fn path(self) -> &'static str {
        match self {
            Self::Page(page) => page_path(page),
            Self::Undo => "M8.5 5 3.5 10l5 5M3.5 10H16l4.5 4.5L16 19h-4",
            Self::Redo => "m15.5 5 5 5-5 5M20.5 10H8l-4.5 4.5L8 19h4",
            Self::Close => "m5.5 5.5 13 13M18.5 5.5l-13 13",
            Self::Plus => "M12 4.5v15M4.5 12h15",
            Self::More => "M5 10.5v3M12 10.5v3M19 10.5v3",
            Self::Bin => "m5 10 1.5 10.5h11L19 10zM3.5 7 18 4M10 5.5l-.4-2 3-.6.4 2",
            Self::Save => "M7 8 3.5 11v9.5h17V11L17 8M12 3v12M8 11l4 4 4-4",
            Self::Back => "M15 4.5 8 12l7 7.5",
            Self::Copy => "M8 15H4V3.5h8l3 3M8 9h9l3 3v8.5H8z",
            Self::Turn => "M3.5 12H11v7.5H3.5zM7 7c5-4 11-1 11 6M14.5 10l3.5 3.5 3.5-3.5",
        }
    }
}

fn page_path(page: Page) -> &'static str {
    match page {
        // Boxes on a shelf.
        Page::Plans => "M2.5 20h19M4.5 20v-7H11v7M11 20V5.5h7.5V20M11 10h7.5",
        // A fraction and what it equals.
        Page::How => "m5 4 5 4.5M10 4 5 8.5M2.5 12h10M5 18h5M16 10h5M16 14h5",
        // A way that ends.
        Page::Lost => "M4 21c0-9 13-4 13-11M13.5 3l7 7M20.5 3l-7 7",
        // Heads above and at the left, cells between.
        Page::Grid => "M8 3v18M3 8h18M12 12.5h2.5M18.5 12.5H21M12 18h2.5",
        // A pencil on its line.
        Page::Sketch => "M3 20.5c3-4 6 1 9-2M10.5 15.5l1-5L18 4l3.5 3.5-6.5 6.5z",
        // Parts on their sprue.
        Page::Parts => "M4 3v18M4 7h4M4 17h4M8 4.5h8v5H8zM8 14h12.5v6H8z",
        // A peg above its hole.
        Page::Joints => "M4 3h16v5.5h-5v4H9v-4H4zM4 21v-6h3.5v3h9v-3H20v6z",
        // A magnet in its field.
        Page::Magnets => "M6 9.5h12v5H6zM12 9.5v5M6 6.5c1-5 11-5 12 0M6 17.5c1 5 11 5 12 0",
        // A block on the bench.
        Page::Bench => "M2.5 11h19v3.5h-19zM5 14.5V21M19 14.5V21M7.5 11V4.5H15V11",
        // One part makes room for another.
        Page::Swap => "M2.5 20.5h19M8.5 20.5v-8h7v8M4 15C2.5 3 19 1.5 20 12M16.5 9.5l3.5 3.5 2-4",
        // Two halves that differ.
        Page::Compare => "M12 3v3.5M12 10.3v3.5M12 17.5V21M8.5 5H3v10l3 4h2.5M15.5 5H18l3 5v9h-5.5",
        // A sheet out of the slot.
        Page::Print => "M2.5 5.5h19M5.5 5.5V21H14l4.5-4.5v-11M9 10h6M9 14.5h4",
        // A caliper.
        Page::Setup => "M2.5 4h19v4.5h-19zM3.5 8.5V20l4.5-5.5v-6M12 8.5v6l4.5 5.5V8.5",
    }
}

/// See the module.
pub fn icon(shape: Shape) -> Html {
    html! {
        <svg class="icon" viewBox="0 0 24 24" aria-hidden="true" focusable="false"><path d={shape.path()} /></svg>
    }
}
