//! Small line drawings beside words. They never stand alone for a meaning.

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
    /// Three dots.
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
            Self::Undo => "M8 5 4 9l4 4M4 9h10a6 6 0 0 1 0 12h-3",
            Self::Redo => "m16 5 4 4-4 4M20 9H10a6 6 0 0 0 0 12h3",
            Self::Close => "m6 6 12 12M18 6 6 18",
            Self::Plus => "M12 5v14M5 12h14",
            Self::More => "M5 12h.01M12 12h.01M19 12h.01",
            Self::Bin => "M4 7h16M9 7V4h6v3M6 7l1 13h10l1-13M10 11v5M14 11v5",
            Self::Save => "M12 4v10M8 10l4 4 4-4M4 16v4h16v-4",
            Self::Back => "m14 6-6 6 6 6",
            Self::Copy => "M9 9h11v11H9zM15 9V4H4v11h5",
            Self::Turn => "M19 12a7 7 0 1 1-3-5.7M16 2v5h-5",
        }
    }
}

fn page_path(page: Page) -> &'static str {
    match page {
        Page::Plans | Page::How | Page::Lost => {
            "M4 5h7v6H4zM13 5h7v6h-7zM4 13h7v6H4zM13 13h7v6h-7z"
        }
        Page::Grid => "M3 5h18v14H3zM3 10h18M9 5v14M15 10v9",
        Page::Sketch => "M4 20l1-5L16 4l4 4L9 19zM13 7l4 4",
        Page::Parts => "M12 3l8 4.5v9L12 21l-8-4.5v-9zM4 7.5l8 4.5 8-4.5M12 12v9",
        Page::Joints => "M4 9h6v6H4zM14 9h6v6h-6zM10 12h4",
        Page::Magnets => "M12 7a8 3 0 1 0 .01 0M4 10v5c0 4 16 4 16 0v-5",
        Page::Bench => "M4 6h1M9 6h11M4 12h1M9 12h11M4 18h1M9 18h11",
        Page::Swap => "M4 8h14M14 4l4 4-4 4M20 16H6M10 12l-4 4 4 4",
        Page::Compare => "M4 5h6v14H4zM14 5h6v14h-6zM4 10h6M14 13h6",
        Page::Print => "M7 9V4h10v5M7 17H4V9h16v8h-3M7 14h10v6H7z",
        Page::Setup => "M4 7h8M16 7h4M14 5v4M4 12h3M11 12h9M9 10v4M4 17h10M18 17h2M16 15v4",
    }
}

/// See the module.
pub fn icon(shape: Shape) -> Html {
    html! {
        <svg class="icon" viewBox="0 0 24 24" aria-hidden="true" focusable="false"><path d={shape.path()} /></svg>
    }
}
