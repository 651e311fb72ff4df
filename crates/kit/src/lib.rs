//! The plan: kit, parts, sockets, plugs, sites, variants, stock and settings, the edits that change it and the check
//! that its entries fit together.
//!
//! Words: a *socket* is the host's side of a joint, a *plug* the mounting face of a part that can sit there; a *seat* is
//! a part sitting by one plug in one pose; a *site* is a place on a socket or plug where a magnet or steel may go; a
//! *through site* is one hole whose two faces serve two sockets or two plugs.
//!
//! Units are in the names: mm, g, N, T, minutes, cents. This crate knows no physics, no solver and no screen.

mod backdrop;
mod checked;
mod drawn;
mod drawn_part;
mod edit;
mod facing;
mod finish;
mod grid;
mod ids;
mod inside;
mod ix;
pub mod limits;
mod mass;
mod own_work;
mod part;
mod plan;
mod preset;
mod problem;
mod quote;
mod site;
mod socket;
mod spreadsheet;
mod stock;
mod stowing;
mod validate;
mod variant;
mod visible;
mod work;

pub use backdrop::{Backdrop, Picture};
pub use checked::CheckedPlan;
pub use drawn::Drawn;
pub use drawn_part::{DrawnAt, LEAST_DRAWN_MM};
pub use edit::{Edit, Refusal};
pub use facing::Facing;
pub use finish::{Finish, Material};
pub use grid::{GridText, read_grid};
pub use ids::{MaterialId, PartId, PlugId, SiteId, SocketId, StockId, VariantId, slug};
pub use inside::Inside;
pub use ix::{Ix, MagnetIx, PartIx, PlugIx, SocketIx, SteelIx, Table, VariantIx};
pub use lodewright_body::{Body, Prism};
pub use lodewright_geometry::{Frame, Vec3};
pub use mass::{Mass, MassEstimate};
pub use own_work::{Go, OwnStep, OwnWork, Pin, Split};
pub use part::{Part, Plug, Section, ThinSection};
pub use plan::{KitBox, Plan};
pub use preset::{JointPreset, PresetRefusal};
pub use problem::{Problem, Severity};
pub use quote::{Extra, QuoteTerms};
pub use site::{Fit, PlugSiteRef, Pole, Site, SocketSiteRef};
pub use socket::{Attach, KeptApart, Patch, PegFit, PegKind, Socket};
pub use spreadsheet::spreadsheet_cell;
pub use stock::{MagnetStock, Pack, SteelStock, Stock};
pub use stowing::{StowSpace, Stowing};
pub use variant::{Cell, Pose, Seat, Variant};
pub use work::{MagnetMake, Mark, Progress, Rates, Scatter, Settings};
