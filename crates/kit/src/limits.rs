//! Limits of a plan; a file beyond them is refused.

/// Parts that take part in the change of variants.
pub const PARTS: usize = 1_000;
/// Sockets.
pub const SOCKETS: usize = 400;
/// Variants.
pub const VARIANTS: usize = 100;
/// Plugs of one part.
pub const PLUGS: usize = 8;
/// Sites of one socket or plug.
pub const SITES: usize = 24;
/// Seats to choose from in one cell.
pub const SEATS: usize = 40;
/// Points of an outline.
pub const POINTS: usize = 64;
/// Sizes of magnets, and of steel.
pub const STOCK: usize = 60;
/// Packs of one size.
pub const PACKS: usize = 12;
/// Materials, and bits.
pub const LIST: usize = 100;
/// Done marks.
pub const DONE: usize = 20_000;
/// Characters of a step's key: it holds up to four ids.
pub const KEY: usize = 240;
/// Own steps, splits and pins, each.
pub const OWN_STEPS: usize = 300;
/// Goes of one split step.
pub const GOES: usize = 12;
/// Spaces to stow in, and how many of one kind.
pub const SPACES: usize = 20;
/// Largest amount of money, hundredths of the currency.
pub const CENTS: u32 = 100_000_000;
/// Characters of a label.
pub const LABEL: usize = 200;
/// Characters of a note.
pub const NOTE: usize = 4_000;
/// Characters of the picture behind the drawing: about 150 kB of picture.
pub const PICTURE: usize = 200_000;
/// Largest coordinate or size, mm.
pub const MM: f64 = 5_000.0;
