//! Parts (or pieces already glued up) and their mounting faces.

use lodewright_geometry::{add, scale};
use serde::{Deserialize, Serialize};

use crate::mass::Mass;
use crate::{
    Drawn, Facing, Frame, Inside, MaterialId, PartId, Patch, PlugId, PlugSiteRef, Site, SiteId,
    Vec3,
};

/// One moulded piece, or a group that is built as one.
///
/// Its axes: x to the front, y to the left, z up, as it stands in the kit's drawings.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Part {
    /// Its id.
    pub id: PartId,
    /// Its label.
    pub name: String,
    /// The number printed on the sprue.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub sprue_number: String,
    /// What it is made of.
    pub material: MaterialId,
    /// Outer size along x, y, z, mm.
    pub size_mm: Vec3,
    /// Middle of that box in the part's axes, mm.
    #[serde(default)]
    pub box_middle_mm: Vec3,
    /// How it is drawn.
    #[serde(default, skip_serializing_if = "Drawn::is_box")]
    pub drawn: Drawn,
    /// What it is inside.
    #[serde(default, skip_serializing_if = "Inside::is_unsaid")]
    pub inside: Inside,
    /// Its mass.
    #[serde(default)]
    pub mass: Mass,
    /// Centre of mass in the part's axes, mm; the middle of its body where not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub centre_mm: Option<Vec3>,
    /// Its mounting faces.
    #[serde(default)]
    pub plugs: Vec<Plug>,
    /// Whether people pick the model up by it.
    #[serde(default)]
    pub lift_point: bool,
    /// Its thinnest section, where it must come off before that snaps.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thin: Option<ThinSection>,
}

impl Part {
    /// A part with the usual beginning: a 20 mm styrene box with one plug under it.
    pub fn plain(id: PartId, name: String) -> Self {
        Self {
            id,
            name,
            sprue_number: String::new(),
            material: MaterialId::new("styrene"),
            size_mm: [20.0; 3],
            box_middle_mm: [0.0; 3],
            drawn: Drawn::Box,
            inside: Inside::Unsaid,
            mass: Mass::Body,
            centre_mm: None,
            plugs: vec![Plug::plain(PlugId::new("main"))],
            lift_point: false,
            thin: None,
        }
    }

    /// The centre of mass in the part's axes, mm.
    pub fn centre_of_mass_mm(&self) -> Vec3 {
        let of_body = || self.body().centre_mm().unwrap_or(self.box_middle_mm);
        self.centre_mm.unwrap_or_else(of_body)
    }

    /// The plug of this id.
    pub fn plug(&self, id: &PlugId) -> Option<&Plug> {
        self.plugs.iter().find(|p| p.id == *id)
    }

    /// What lies between a plug's face and the one behind it, mm, when it meets a socket that looks `socket_facing`.
    pub fn plug_thickness_mm(&self, plug: &Plug, socket_facing: Facing) -> f64 {
        let out = plug.facing.unwrap_or(socket_facing.opposite());
        let extent_mm = 2.0 * out.half_extent_mm(self.size_mm);
        plug.thickness_mm.unwrap_or(extent_mm)
    }

    /// The axes of a plug in the part's, when it meets a socket that looks `socket_facing`: z *into* the part, so that
    /// an unturned plug's axes are the socket's.
    pub fn plug_frame(&self, plug: &Plug, socket_facing: Facing) -> Frame {
        let out = plug.facing.unwrap_or(socket_facing.opposite());
        let middle = add(
            self.box_middle_mm,
            scale(out.normal(), out.half_extent_mm(self.size_mm)),
        );
        out.opposite()
            .frame(plug.at_mm.unwrap_or(middle), plug.spin_deg)
    }
}

/// A mounting face of a part. Its sites and patch are given in the axes of the socket it meets unturned.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Plug {
    /// Its id within the part.
    pub id: PlugId,
    /// Which face of the part it lies on (looking out of the part); where not given, the face that meets the socket
    /// with the part upright as drawn.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub facing: Option<Facing>,
    /// Its origin in the part's axes, mm; the middle of that face where not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at_mm: Option<Vec3>,
    /// Turn of the in-plane axes, degrees.
    #[serde(default)]
    pub spin_deg: f64,
    /// Its own outline, where smaller than the socket's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub patch: Option<Patch>,
    /// Whether the peg is kept; a cut-off peg cannot be put back.
    #[serde(default = "yes")]
    pub keeps_peg: bool,
    /// Thickness between the plug's two faces, mm, where the part can be turned over on it; the part's extent where not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thickness_mm: Option<f64>,
    /// Sites for magnets or steel. None at all means: one opposite each of the socket's sites.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sites: Option<Vec<Site<PlugSiteRef>>>,
}

fn yes() -> bool {
    true
}

impl Plug {
    /// A plug that adapts to the socket it meets: its face, its outline and its sites are the socket's.
    pub fn plain(id: PlugId) -> Self {
        Self {
            id,
            facing: None,
            at_mm: None,
            spin_deg: 0.0,
            patch: None,
            keeps_peg: true,
            thickness_mm: None,
            sites: None,
        }
    }

    /// The site of this id, where sites are given.
    pub fn site(&self, id: &SiteId) -> Option<&Site<PlugSiteRef>> {
        self.sites.iter().flatten().find(|s| s.id == *id)
    }
}

/// The weakest section of a part that must come off before it snaps.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct ThinSection {
    /// From the section to where a finger or sleeve catches it, mm.
    pub length_mm: f64,
    /// The section.
    pub section: Section,
    /// From the mating plane to where it is caught, mm.
    pub reach_mm: f64,
    /// Stress concentration at the section (1 for a smooth rod, 2 to 3 at a sharp corner or hole).
    #[serde(default = "one")]
    pub notch_factor: f64,
}

fn one() -> f64 {
    1.0
}

/// A bending section.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase", deny_unknown_fields)]
pub enum Section {
    /// Round.
    Round {
        /// Diameter, mm.
        diameter_mm: f64,
    },
    /// Rectangular, bent about its width.
    Rectangle {
        /// Across the bending, mm.
        width_mm: f64,
        /// Along the bending, mm.
        height_mm: f64,
    },
}
