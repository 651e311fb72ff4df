//! What a part weighs and where its mass lies, from a scale or from its shape.

use serde::{Deserialize, Serialize};

use crate::Vec3;

/// Where the mass of a part is known from.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase", deny_unknown_fields)]
pub enum Mass {
    /// From the part's box, taken as a moulded shell of 1.2 mm wall.
    #[default]
    Guessed,
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
    /// From its outer shape.
    Shaped {
        /// The outer shape, filling the part's box.
        shape: Shape,
        /// Wall, mm; none for a solid piece.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        wall_mm: Option<f64>,
    },
}

/// A simple outer shape that fills a part's box.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum Shape {
    /// The whole box.
    Box,
    /// A barrel along the longest side, elliptic where the others differ.
    Barrel,
}

/// A mass with its spread.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct MassEstimate {
    /// Mass, g.
    pub mass_g: f64,
    /// How far off it may be, as a fraction of it: 0.02 weighed, 0.15 from a volume or shape, 0.5 guessed (common
    /// practice, no source).
    pub spread: f64,
    /// Whether nothing but the box is known.
    pub guessed: bool,
}

/// Wall of an injection-moulded part where nothing is said, mm (moulded styrene walls run from 1 to 3 mm; from memory).
const GUESSED_WALL_MM: f64 = 1.2;

impl Mass {
    /// The mass of a part of this outer size (mm) and density (g/cm³).
    pub fn estimate(&self, size_mm: Vec3, density_g_cm3: f64) -> MassEstimate {
        let of = |volume_mm3: f64, spread, guessed| MassEstimate {
            mass_g: volume_mm3.max(0.0) * density_g_cm3 / 1000.0,
            spread,
            guessed,
        };
        match self {
            Self::Guessed => of(shell_mm3(Shape::Box, size_mm, GUESSED_WALL_MM), 0.5, true),
            Self::Weighed { mass_g } => MassEstimate {
                mass_g: *mass_g,
                spread: 0.02,
                guessed: false,
            },
            Self::Volume { volume_cm3 } => of(volume_cm3 * 1000.0, 0.15, false),
            Self::Shaped {
                shape,
                wall_mm: Some(wall),
            } => of(shell_mm3(*shape, size_mm, *wall), 0.15, false),
            Self::Shaped {
                shape,
                wall_mm: None,
            } => of(solid_mm3(*shape, size_mm), 0.15, false),
        }
    }
}

fn solid_mm3(shape: Shape, [x, y, z]: Vec3) -> f64 {
    match shape {
        Shape::Box => x * y * z,
        // The two shorter sides are the axes of an ellipse.
        Shape::Barrel => std::f64::consts::FRAC_PI_4 * x * y * z,
    }
}

fn shell_mm3(shape: Shape, size_mm: Vec3, wall_mm: f64) -> f64 {
    let inner = size_mm.map(|s| (s - 2.0 * wall_mm).max(0.0));
    solid_mm3(shape, size_mm) - solid_mm3(shape, inner)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_solid_cube_of_one_cubic_centimetre_weighs_its_density() {
        let cube = Mass::Shaped {
            shape: Shape::Box,
            wall_mm: None,
        };
        assert!((cube.estimate([10.0; 3], 1.04).mass_g - 1.04).abs() < 1e-12);
    }

    #[test]
    fn a_wall_thicker_than_half_is_solid() {
        let thick = Mass::Shaped {
            shape: Shape::Barrel,
            wall_mm: Some(9.0),
        };
        let solid = Mass::Shaped {
            shape: Shape::Barrel,
            wall_mm: None,
        };
        assert_eq!(
            thick.estimate([10.0; 3], 1.0).mass_g,
            solid.estimate([10.0; 3], 1.0).mass_g
        );
    }
}
