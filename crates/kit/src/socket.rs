//! The host's side of a joint.

use lodewright_geometry::{add, scale};
use serde::{Deserialize, Serialize};

use crate::{Facing, Frame, Part, PartId, Site, SiteId, SocketId, SocketSiteRef, Vec3};

/// The host's side of a joint: where it lies, what touches there, and its sites.
///
/// In-plane coordinates are seen from outside, looking at the host: on upright faces the second axis points up, on level
/// faces the first axis points to the front.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Socket {
    /// Its id.
    pub id: SocketId,
    /// Its label.
    pub name: String,
    /// The part that carries it.
    pub host: PartId,
    /// Which face of the host it lies on.
    pub facing: Facing,
    /// Its origin in the host's axes, mm; `None` as long as nobody has placed it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at_mm: Option<Vec3>,
    /// Turn of the in-plane axes about the face's normal, degrees.
    #[serde(default)]
    pub spin_deg: f64,
    /// What touches.
    pub patch: Patch,
    /// Pegs and holes.
    #[serde(default)]
    pub peg: PegFit,
    /// How a part that must come off is held.
    #[serde(default)]
    pub attach: Attach,
    /// Why what sits here stays separable though it could be glued.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub kept_apart: Option<KeptApart>,
    /// Pull of a friction pin that may stand in for magnets here, N; none where only magnets or steel will do.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub may_pin_n: Option<f64>,
    /// Sites for magnets or steel.
    #[serde(default)]
    pub sites: Vec<Site<SocketSiteRef>>,
}

impl Socket {
    /// A socket with the usual beginning: on top of the host, 12 by 12 mm of contact, one round peg in the middle kept
    /// loose, one site beside it.
    pub fn plain(id: SocketId, name: String, host: PartId) -> Self {
        Self {
            id,
            name,
            host,
            facing: Facing::Up,
            at_mm: None,
            spin_deg: 0.0,
            patch: Patch::Rectangle {
                width_mm: 12.0,
                height_mm: 12.0,
            },
            peg: PegFit::default(),
            attach: Attach::Magnets,
            kept_apart: None,
            may_pin_n: None,
            sites: vec![Site::plain(SiteId::new("a"))],
        }
    }

    /// The side of the host that an in-plane direction points to.
    pub fn side_of_host(&self, host: &Part, in_plane: [f64; 2]) -> Facing {
        Facing::nearest(
            self.frame(host)
                .direction_to_outer([in_plane[0], in_plane[1], 0.0]),
        )
    }

    /// Whether somebody has placed it.
    pub fn is_placed(&self) -> bool {
        self.at_mm.is_some()
    }

    /// The socket's axes in the host's: z out of the host. One that is not placed stands in the middle of its face, to be shown
    /// there; nothing may be computed from that.
    pub fn frame(&self, host: &Part) -> Frame {
        let middle = add(
            host.box_middle_mm,
            scale(
                self.facing.normal(),
                self.facing.half_extent_mm(host.size_mm),
            ),
        );
        self.facing
            .frame(self.at_mm.unwrap_or(middle), self.spin_deg)
    }
}

/// The outline of a contact patch in the mating plane, about the origin of its socket or plug.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase", deny_unknown_fields)]
pub enum Patch {
    /// A rectangle along the in-plane axes.
    Rectangle {
        /// Along the first axis, mm.
        width_mm: f64,
        /// Along the second axis, mm.
        height_mm: f64,
    },
    /// A disc.
    Disc {
        /// Diameter, mm.
        diameter_mm: f64,
    },
    /// The convex hull of points, mm.
    Points(Vec<[f64; 2]>),
}

impl Patch {
    /// Points whose convex hull is the patch, mm; a disc as the inscribed polygon of 24 sides (its area is 1.1 % less,
    /// so margins err to the safe side).
    pub fn outline_mm(&self) -> Vec<[f64; 2]> {
        match self {
            Self::Rectangle {
                width_mm: w,
                height_mm: h,
            } => {
                let (x, y) = (w / 2.0, h / 2.0);
                vec![[-x, -y], [x, -y], [x, y], [-x, y]]
            }
            Self::Disc { diameter_mm } => (0..24)
                .map(|i| {
                    let (s, c) = libm::sincos(f64::from(i) * std::f64::consts::PI / 12.0);
                    [c * diameter_mm / 2.0, s * diameter_mm / 2.0]
                })
                .collect(),
            Self::Points(points) => points.clone(),
        }
    }
}

/// Pegs of a joint and how they fit their holes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct PegFit {
    /// Which.
    pub kind: PegKind,
    /// Centre of the (first) peg in the mating plane, mm.
    #[serde(default)]
    pub at_mm: [f64; 2],
    /// Across, mm.
    #[serde(default = "usual_peg_mm")]
    pub diameter_mm: f64,
    /// Length in the hole, mm.
    pub length_mm: f64,
    /// Clearance on the diameter, mm.
    pub clearance_mm: f64,
    /// Whether it is snug enough to carry tipping.
    #[serde(default)]
    pub snug: bool,
}

/// Common practice, no source.
fn usual_peg_mm() -> f64 {
    2.0
}

impl Default for PegFit {
    fn default() -> Self {
        Self {
            kind: PegKind::None,
            at_mm: [0.0; 2],
            diameter_mm: usual_peg_mm(),
            length_mm: 3.0,
            clearance_mm: 0.1,
            snug: false,
        }
    }
}

impl PegFit {
    /// Where pegs stand in the mating plane, mm: a second one opposite the first.
    pub fn centres_mm(&self) -> Vec<[f64; 2]> {
        let [x, y] = self.at_mm;
        match self.kind {
            PegKind::None => Vec::new(),
            PegKind::Round | PegKind::Keyed => vec![[x, y]],
            PegKind::Two => vec![[x, y], [-x, -y]],
        }
    }
}

/// What keeps a joint from sliding and turning.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum PegKind {
    /// Flat faces only.
    #[default]
    None,
    /// One round peg: stops sliding, not turning.
    Round,
    /// Two pegs: stop both.
    Two,
    /// A keyed (square, D-shaped, ribbed) peg or recess: stops both.
    Keyed,
}

/// How a part that must come off is held.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum Attach {
    /// By what is fitted in the sites.
    #[default]
    Magnets,
    /// By a friction pin of this pull, N.
    Friction(f64),
    /// By nothing: it lies there.
    Loose,
}

/// Why a joint stays separable though it could be glued.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum KeptApart {
    /// It must let go before something breaks.
    LetsGo,
    /// It is painted by itself.
    Painted,
    /// It is packed by itself.
    Packed,
    /// The builder wants it so.
    Wanted,
}
