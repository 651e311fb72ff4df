//! What a host offers to a joint where its socket lies: room on the face, and material behind it.

use lodewright_body::Body;
use lodewright_geometry::{Frame, inside_mm};

use crate::{Part, Socket, Vec3};

/// Roundings are smaller, mm.
pub(super) const HAIR_MM: f64 = 1e-9;

/// The host under a socket.
pub(super) struct Ground {
    body: Body,
    frame: Frame,
    /// What can touch, about the socket's origin, mm.
    face_mm: Vec<[f64; 2]>,
    /// From this face to the other side, mm.
    thick_mm: f64,
    is_placed: bool,
}

impl Ground {
    pub(super) fn of(socket: &Socket, host: &Part) -> Self {
        let (body, frame) = (host.body(), socket.frame(host));
        Self {
            face_mm: body.touching_mm(&frame),
            body,
            frame,
            thick_mm: 2.0 * socket.facing.half_extent_mm(host.size_mm),
            is_placed: socket.is_placed(),
        }
    }

    /// Whether nothing of the host comes near the socket's plane.
    pub(super) fn is_bare(&self) -> bool {
        self.face_mm.is_empty()
    }

    /// How wide and high a face about the socket's origin may be, mm; of one that is not placed, about the face's middle.
    pub(super) fn room_mm(&self) -> [f64; 2] {
        [0, 1].map(|k| {
            let along = || self.face_mm.iter().map(|p| p[k]);
            let high = along().fold(f64::NEG_INFINITY, f64::max);
            let low = along().fold(f64::INFINITY, f64::min);
            let room = match self.is_placed {
                true => 2.0 * high.min(-low),
                false => high - low,
            };
            room.max(0.0)
        })
    }

    /// Whether a face with these corners lies on the host's; not known of a socket that is not placed.
    pub(super) fn carries(&self, corners_mm: &[[f64; 2]]) -> bool {
        let on = |p: &[f64; 2]| inside_mm(&self.face_mm, *p) >= -HAIR_MM;
        !self.is_placed || corners_mm.iter().all(on)
    }

    /// Material behind a disc on the face, mm; `None` where it runs over an edge or nothing is there.
    pub(super) fn material_mm(&self, at_mm: [f64; 2], radius_mm: f64) -> Option<f64> {
        if !self.is_placed {
            let wall = self
                .body
                .wall_mm()
                .filter(|wall| 2.0 * wall < self.thick_mm);
            return Some(wall.unwrap_or(self.thick_mm));
        }
        let bore = self.bore(at_mm);
        bore.floor_mm(radius_mm)
    }

    /// From a point to the nearest side of the host down to a depth, mm.
    pub(super) fn beside_mm(&self, at_mm: [f64; 2], depth_mm: f64) -> f64 {
        match self.is_placed {
            true => self.bore(at_mm).beside_mm(depth_mm),
            false => f64::INFINITY,
        }
    }

    /// From the socket's origin to the other side of the host, mm, whatever lies between; `None` where nothing is there.
    pub(super) fn through_mm(&self) -> Option<f64> {
        Some(self.bore([0.0; 2]).outer_mm(0.0)?[1])
    }

    fn bore(&self, [x, y]: [f64; 2]) -> lodewright_body::Bore {
        let inward: Vec3 = self.frame.axes[2].map(|c| -c);
        let axis = (0..3).find(|k| inward[*k].abs() > 0.5).unwrap_or(2);
        let mouth = self.frame.to_outer([x, y, 0.0]);
        self.body.bore(mouth, axis, inward[axis])
    }
}
