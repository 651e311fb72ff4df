//! The screens that the app is looked at on.

/// Size in CSS pixels, colours, and whether fingers touch it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Screen {
    /// Width in CSS pixels.
    pub width: u32,
    /// Height in CSS pixels.
    pub height: u32,
    /// Whether the person asked for dark colours.
    pub dark: bool,
}

impl Screen {
    /// A tablet lying at the hobby desk.
    pub const TABLET: Screen = Screen {
        width: 1180,
        height: 820,
        dark: false,
    };
    /// The same tablet held upright.
    pub const TABLET_UPRIGHT: Screen = Screen {
        width: 820,
        height: 1180,
        dark: false,
    };
    /// A telephone.
    pub const PHONE: Screen = Screen {
        width: 390,
        height: 844,
        dark: false,
    };

    /// The same screen with dark colours asked for.
    pub fn dark(self) -> Screen {
        Screen { dark: true, ..self }
    }
}
