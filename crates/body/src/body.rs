//! A part as a solid or a shell.

use lodewright_geometry::{Vec3, add, scale};

use crate::prism::inside_outline_mm;
use crate::{Bore, Prism};

/// A part as a solid, in its own axes.
#[derive(Clone, Debug, PartialEq)]
pub struct Body {
    prisms: Vec<Prism>,
    wall_mm: Option<f64>,
}

impl Body {
    /// A body that is full of material.
    pub fn solid(prisms: Vec<Prism>) -> Self {
        Self {
            prisms,
            wall_mm: None,
        }
    }

    /// A shell: material reaches so far inward from every surface, and what is left within is hollow.
    pub fn shell(prisms: Vec<Prism>, wall_mm: f64) -> Self {
        Self {
            prisms,
            wall_mm: Some(wall_mm.max(0.0)),
        }
    }

    /// Its prisms.
    pub fn prisms(&self) -> &[Prism] {
        &self.prisms
    }

    /// The wall of a shell, mm; `None` for a full body.
    pub fn wall_mm(&self) -> Option<f64> {
        self.wall_mm
    }

    /// How far a point lies inside the outer surface, mm; negative outside.
    pub fn depth_mm(&self, p_mm: Vec3) -> f64 {
        let depth = |prism: &Prism| {
            let along = p_mm[prism.axis()];
            let [low, high] = prism.ends_mm();
            inside_outline_mm(prism.outline_mm(), prism.flat_mm(p_mm))
                .min(along - low)
                .min(high - along)
        };
        let depths = self.prisms.iter().map(depth);
        depths.reduce(f64::max).unwrap_or(f64::NEG_INFINITY)
    }

    /// Whether a point is in material.
    pub fn is_material(&self, p_mm: Vec3) -> bool {
        let depth = self.depth_mm(p_mm);
        depth > 0.0 && self.wall_mm.is_none_or(|wall| depth <= wall)
    }

    /// Volume of material, mm³.
    pub fn volume_mm3(&self) -> f64 {
        let of = |prism: &Prism| {
            let full = prism.area_mm2() * prism.long_mm();
            let hollow = self.wall_mm.map_or(0.0, |wall| {
                prism.inner_area_mm2(wall) * (prism.long_mm() - 2.0 * wall).max(0.0)
            });
            full - hollow
        };
        self.prisms.iter().map(of).sum()
    }

    /// Middle of what the outer surface encloses, mm; `None` for a body without volume.
    pub fn centre_mm(&self) -> Option<Vec3> {
        let (mut sum, mut whole) = ([0.0; 3], 0.0);
        for prism in &self.prisms {
            let volume = prism.area_mm2() * prism.long_mm();
            sum = add(sum, scale(prism.centre_mm(), volume));
            whole += volume;
        }
        (whole > 0.0).then(|| scale(sum, 1.0 / whole))
    }

    /// What a bore finds that starts at a point of this body and runs along one of its axes (0 to 2), up it or down it (`way` 1
    /// or -1).
    pub fn bore(&self, mouth_mm: Vec3, axis: usize, way: f64) -> Bore {
        Bore::of(self, mouth_mm, axis % 3, if way < 0.0 { -1.0 } else { 1.0 })
    }
}
