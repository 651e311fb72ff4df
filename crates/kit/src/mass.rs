//! What a part weighs: from a scale, or from its body.

use serde::{Deserialize, Serialize};

use crate::{Inside, Part};

/// Where the mass of a part is known from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase", deny_unknown_fields)]
pub enum Mass {
    /// From its body: the drawn shape and what is said of its inside.
    #[default]
    Body,
    /// Weighed.
    Weighed {
        /// Mass, g.
        mass_g: f64,
    },
    /// From its volume of plastic, say from a slicer or a water bath.
    Volume {
        /// Volume of material, cm³.
        volume_cm3: f64,
    },
}

/// A mass with its spread.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct MassEstimate {
    /// Mass, g.
    pub mass_g: f64,
    /// How far off it may be, as a fraction of it: 0.02 weighed, 0.15 from a volume or body, 0.5 where nothing is said of
    /// its inside (common practice, no source).
    pub spread: f64,
    /// Whether nothing is said of its inside.
    pub guessed: bool,
}

impl Part {
    /// The mass for a material of this density, g/cm³.
    pub fn mass_estimate(&self, density_g_cm3: f64) -> MassEstimate {
        let of = |volume_mm3: f64, guessed| MassEstimate {
            mass_g: volume_mm3.max(0.0) * density_g_cm3 / 1000.0,
            spread: if guessed { 0.5 } else { 0.15 },
            guessed,
        };
        match self.mass {
            Mass::Body => of(self.volume_mm3(), self.inside == Inside::Unsaid),
            Mass::Weighed { mass_g } => MassEstimate {
                mass_g,
                spread: 0.02,
                guessed: false,
            },
            Mass::Volume { volume_cm3 } => of(volume_cm3 * 1000.0, false),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_solid_cube_of_one_cubic_centimetre_weighs_its_density() {
        let mut cube = Part::plain("cube".into(), "Cube".to_owned());
        cube.size_mm = [10.0; 3];
        cube.inside = Inside::Solid;
        let estimate = cube.mass_estimate(1.04);
        assert!((estimate.mass_g - 1.04).abs() < 1e-12 && !estimate.guessed);
        // A wall thicker than half of it is as good as solid.
        cube.inside = Inside::Shell { wall_mm: 9.0 };
        assert_eq!(cube.mass_estimate(1.04), estimate);
        cube.inside = Inside::Unsaid;
        assert!(cube.mass_estimate(1.04).guessed);
    }
}
