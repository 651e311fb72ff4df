//! Materials, coats and films: what lies between two magnet faces besides walls.

use serde::{Deserialize, Serialize};

use crate::MaterialId;

/// What a part is made of.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Material {
    /// Its id.
    pub id: MaterialId,
    /// Its label.
    pub name: String,
    /// Density, g/cm³.
    pub density_g_cm3: f64,
    /// Bending stress it may be asked to bear, MPa.
    pub strength_mpa: f64,
}

impl Material {
    /// The usual ones. Densities: published ranges for HIPS 1.03 to 1.05, acrylate resin about 1.18 cured (from memory),
    /// white metal 7.1, brass 8.4 to 8.7 g/cm³. Design stresses lie at the low end of published flexural strengths
    /// (HIPS 29 to 62 MPa); white metal and brass are from memory.
    pub fn usual() -> Vec<Self> {
        let of = |id: &str, name: &str, density_g_cm3, strength_mpa| Self {
            id: MaterialId::new(id),
            name: name.to_owned(),
            density_g_cm3,
            strength_mpa,
        };
        vec![
            of("styrene", "Moulded styrene", 1.04, 30.0),
            of("resin", "Printed resin", 1.18, 45.0),
            of("white-metal", "White metal", 7.1, 30.0),
            of("brass", "Brass", 8.5, 150.0),
        ]
    }
}

/// Films between two mating faces.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Finish {
    /// Primer on each mating face, µm.
    pub primer_um: f64,
    /// Colour coats on each mating face, µm together.
    pub colour_um: f64,
    /// Varnish on each mating face, µm.
    pub varnish_um: f64,
    /// Whether mating faces are masked before paint: no coats lie between them.
    pub mask_mating_faces: bool,
    /// Glue film in front of a magnet behind a wall, µm.
    pub glue_film_um: f64,
    /// Air left by the fit of the faces, µm.
    pub fit_um: f64,
}

impl Default for Finish {
    /// Primer 20, two colour coats of 20, varnish 15 µm a face: design figures from published coat thicknesses (primers
    /// 15 to 30, decorative coats 25 to 38 µm; thin airbrushed coats from memory). Film and fit: common practice, no
    /// source.
    fn default() -> Self {
        Self {
            primer_um: 20.0,
            colour_um: 40.0,
            varnish_um: 15.0,
            mask_mating_faces: false,
            glue_film_um: 50.0,
            fit_um: 50.0,
        }
    }
}

impl Finish {
    /// Coats on one mating face, mm.
    pub fn coats_mm(&self) -> f64 {
        if self.mask_mating_faces {
            0.0
        } else {
            (self.primer_um + self.colour_um + self.varnish_um) / 1000.0
        }
    }
}
