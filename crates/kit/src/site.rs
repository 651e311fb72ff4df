//! Places for a magnet or a piece of steel.

use serde::{Deserialize, Serialize};

use crate::{PlugId, SiteId, SocketId, StockId};

/// A place on a socket or plug where a magnet or a piece of steel may go.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "SiteWith{Far}"))]
#[serde(deny_unknown_fields)]
pub struct Site<Far> {
    /// Its name within the socket or plug.
    pub id: SiteId,
    /// Centre in the mating plane's axes, mm.
    pub at_mm: [f64; 2],
    /// Largest hole wanted, mm; the body may allow less.
    pub max_diameter_mm: f64,
    /// Deepest hole wanted behind the wall, mm; the body may allow less.
    pub max_depth_mm: f64,
    /// How much material was measured behind the face here, mm: believed instead of the body's wall, within its outer size.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured_mm: Option<f64>,
    /// Wall left between the hole and the mating plane, mm; 0 where the hole is open to it.
    #[serde(default)]
    pub wall_mm: f64,
    /// The site that is the other end of the same hole: one magnet then shows opposite poles at both.
    #[serde(default = "none::<Far>", skip_serializing_if = "Option::is_none")]
    pub through: Option<Far>,
    /// What goes in; of a through pair, the site that does *not* name the other one decides.
    #[serde(default)]
    pub fit: Fit,
    /// A pole that is already glued or wished for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pole: Option<Pole>,
}

fn none<T>() -> Option<T> {
    None
}

impl<Far> Site<Far> {
    /// An ordinary site in the middle: up to 6 mm across and 3 mm deep, open to the mating plane.
    pub fn plain(id: SiteId) -> Self {
        Self {
            id,
            at_mm: [0.0; 2],
            max_diameter_mm: 6.0,
            max_depth_mm: 3.0,
            measured_mm: None,
            wall_mm: 0.0,
            through: None,
            fit: Fit::Auto,
            pole: None,
        }
    }
}

/// What goes in a site.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum Fit {
    /// The planner chooses.
    #[default]
    Auto,
    /// Stays empty.
    Empty,
    /// This magnet from stock.
    Magnet(StockId),
    /// This piece of steel from stock; it has no poles.
    Steel(StockId),
}

/// Which pole faces the mating plane.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "UPPERCASE")]
pub enum Pole {
    /// North out.
    N,
    /// South out.
    S,
}

impl Pole {
    /// The other pole.
    pub fn other(self) -> Self {
        match self {
            Self::N => Self::S,
            Self::S => Self::N,
        }
    }

    /// The letter.
    pub fn letter(self) -> &'static str {
        match self {
            Self::N => "N",
            Self::S => "S",
        }
    }
}

/// A site of another socket.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct SocketSiteRef {
    /// The socket.
    pub socket: SocketId,
    /// The site on it.
    pub site: SiteId,
}

/// A site of another plug of the same part.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct PlugSiteRef {
    /// The plug.
    pub plug: PlugId,
    /// The site on it.
    pub site: SiteId,
}
