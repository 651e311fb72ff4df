//! A part made from a rectangle that was drawn on a view of the model: its size, where it sits and what of it touches.

use lodewright_geometry::{Vec3, add, dot, scale, sub};

use crate::{Drawn, Facing, Frame, Part, PartId, Patch, Plug, Socket};

/// The least that may be drawn, mm.
pub const LEAST_DRAWN_MM: f64 = 0.5;
/// So near the middle of the socket, the middle is meant, mm.
const MIDDLE_MM: f64 = 1.0;

fn tenth(v: f64) -> f64 {
    (v * 10.0).round() / 10.0 + 0.0
}

fn hundredth(p: Vec3) -> Vec3 {
    p.map(|v| (v * 100.0).round() / 100.0 + 0.0)
}

/// A rectangle on a view of the model without perspective.
#[derive(Clone, Copy, Debug)]
pub struct DrawnAt<'a> {
    /// To the right on the view, up on it, and towards the eye, as unit vectors of the base's axes.
    pub view: [Vec3; 3],
    /// The left lower corner, mm to the right and up from the base's origin.
    pub low_mm: [f64; 2],
    /// The right upper corner, mm.
    pub high_mm: [f64; 2],
    /// The socket that the part shall sit in, and its axes in the base's.
    pub on: Option<(&'a Socket, Frame)>,
}

impl DrawnAt<'_> {
    /// Width and height, and how far the middle is off the socket's, mm. Along the socket's normal the part reaches from the
    /// socket to the far side of what was drawn.
    fn extent_mm(&self) -> ([f64; 2], [f64; 2]) {
        let mut wide = std::array::from_fn(|k| self.high_mm[k] - self.low_mm[k]);
        let mut off = [0.0; 2];
        let Some((_, frame)) = self.on else {
            return (wide, off);
        };
        for k in 0..2 {
            let at = dot(frame.origin_mm, self.view[k]);
            let along = dot(frame.axes[2], self.view[k]);
            if along > 0.7 && self.high_mm[k] - at >= LEAST_DRAWN_MM {
                wide[k] = self.high_mm[k] - at;
            } else if along < -0.7 && at - self.low_mm[k] >= LEAST_DRAWN_MM {
                wide[k] = at - self.low_mm[k];
            } else if along.abs() <= 0.7 {
                let middle = (self.high_mm[k] + self.low_mm[k]) / 2.0 - at;
                off[k] = if middle.abs() < MIDDLE_MM {
                    0.0
                } else {
                    middle
                };
            }
        }
        (wide, off)
    }
}

impl Drawn {
    /// The depth that a shape gets where only its width and height are known, mm (common practice, no source).
    fn depth_mm(&self, [w, h]: [f64; 2]) -> f64 {
        let (low, high) = (w.min(h), w.max(h));
        let depth = match self {
            Self::Box | Self::Barrel => low,
            // A plate that is drawn from its edge is as deep as it is long; from above it is thin.
            Self::Plate | Self::Frame if low <= 0.2 * high => high * 0.6,
            Self::Plate => 2.0,
            Self::Frame => 4.0,
            Self::Figure => low * 0.7,
            Self::Outline { .. } => low * 0.25,
        };
        tenth(depth.max(LEAST_DRAWN_MM))
    }
}

impl Part {
    /// A part that fills a rectangle; `None` where that is narrower than [`LEAST_DRAWN_MM`].
    pub fn drawn_at(id: PartId, name: String, drawn: Drawn, at: &DrawnAt<'_>) -> Option<Self> {
        let (wide, off) = at.extent_mm();
        if wide.iter().any(|w| *w < LEAST_DRAWN_MM) {
            return None;
        }
        let deep = drawn.depth_mm(wide);
        let [right, up, near] = at.view;
        let mut part = Self::plain(id, name);
        // The axes that it has in the socket, unturned, in the base's.
        let axes = match (at.on, part.plugs.first()) {
            (Some((socket, frame)), Some(plug)) => {
                let plug = part.plug_frame(plug, socket.facing);
                plug.inverse().within(&frame).axes
            }
            _ => Frame::WORLD.axes,
        };
        part.size_mm = axes.map(|a| {
            let along = dot(a, right).abs() * wide[0] + dot(a, up).abs() * wide[1];
            tenth(along + dot(a, near).abs() * deep).max(LEAST_DRAWN_MM)
        });
        part.drawn = drawn;
        if let Some((socket, frame)) = at.on {
            let off = add(scale(right, off[0]), scale(up, off[1]));
            let patch = part.contact(socket, &frame, axes, off);
            let out = socket.facing.opposite();
            let face = scale(out.normal(), out.half_extent_mm(part.size_mm));
            if let Some(plug) = part.plugs.first_mut() {
                if off != [0.0; 3] {
                    plug.at_mm = Some(hundredth(sub(face, axes.map(|a| dot(a, off)))));
                }
                plug.patch = patch;
            }
        }
        Some(part)
    }

    /// What of it touches, where it does not cover the socket's own contact. `axes` are the part's and `off` how far its middle
    /// is off the socket's, mm, both in the base's axes.
    fn contact(&self, socket: &Socket, frame: &Frame, axes: [Vec3; 3], off: Vec3) -> Option<Patch> {
        let [x, y, n] = frame.axes;
        let along = |a: Vec3| -> f64 {
            (0..3)
                .map(|k| dot(axes[k], a).abs() * self.size_mm[k])
                .sum()
        };
        let (w, h) = (tenth(along(x)), tenth(along(y)));
        let [low, high] = [-0.5, 0.5]
            .map(|side: f64| [tenth(dot(off, x) + side * w), tenth(dot(off, y) + side * h)]);
        let longest = (0..3).fold(0, |b, k| {
            if self.size_mm[k] > self.size_mm[b] {
                k
            } else {
                b
            }
        });
        let upright = self.drawn == Drawn::Barrel && dot(axes[longest], n).abs() > 0.9;
        // A hair inside, so that equal outlines count as covered.
        let within = |p: [f64; 2]| (0..2).all(|k| (low[k]..=high[k]).contains(&(p[k] * 0.999)));
        if !upright && socket.patch.outline_mm().into_iter().all(within) {
            return None;
        }
        let middle = off.iter().all(|d| d.abs() < 1e-9);
        Some(match (middle, upright) {
            (true, true) => Patch::Disc {
                diameter_mm: w.min(h),
            },
            (true, false) => Patch::Rectangle {
                width_mm: w,
                height_mm: h,
            },
            _ => Patch::Points(vec![low, [high[0], low[1]], high, [low[0], high[1]]]),
        })
    }

    /// The part at another size: its mounting faces follow. `None` where it is the same.
    pub fn sized(&self, size_mm: Vec3) -> Option<Self> {
        let mut part = Self {
            size_mm,
            ..self.clone()
        };
        for plug in &mut part.plugs {
            let (Some(out), Some(at)) = (plug.facing.or(self.face_under(plug)), plug.at_mm) else {
                continue;
            };
            let grown = out.half_extent_mm(size_mm) - out.half_extent_mm(self.size_mm);
            plug.at_mm = Some(hundredth(add(at, scale(out.normal(), grown))));
        }
        (part != *self).then_some(part)
    }

    /// The face of the part's box that a plug's given place lies on.
    fn face_under(&self, plug: &Plug) -> Option<Facing> {
        let at = sub(plug.at_mm?, self.box_middle_mm);
        Facing::ALL
            .into_iter()
            .find(|f| (dot(at, f.normal()) - f.half_extent_mm(self.size_mm)).abs() < 0.02)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::SocketId;
    use lodewright_geometry::norm;

    /// A socket that looks this way, 12 by 12 mm, at a place of the base.
    fn socket(facing: Facing, at_mm: Vec3) -> (Socket, Frame) {
        let mut socket = Socket::plain(SocketId::new("s"), "S".to_owned(), PartId::new("base"));
        socket.facing = facing;
        (socket, facing.frame(at_mm, 0.0))
    }

    fn view(side: Facing) -> [Vec3; 3] {
        side.frame([0.0; 3], 0.0).axes
    }

    fn draw(drawn: Drawn, at: &DrawnAt<'_>) -> Option<Part> {
        Part::drawn_at(PartId::new("p"), "P".to_owned(), drawn, at)
    }

    #[test]
    fn a_part_fills_what_was_drawn_from_the_socket_on() {
        let at_mm = [20.0, 4.0, 15.0];
        for facing in Facing::ALL {
            let (socket, frame) = socket(facing, at_mm);
            for side in Facing::ALL {
                let view = view(side);
                let at: [f64; 2] = std::array::from_fn(|k| dot(at_mm, view[k]));
                let along: [f64; 2] = std::array::from_fn(|k| dot(frame.axes[2], view[k]));
                let drawn = DrawnAt {
                    view,
                    low_mm: [at[0] - 9.0, at[1] - 5.0],
                    high_mm: [at[0] + 13.0, at[1] + 8.0],
                    on: Some((&socket, frame)),
                };
                let part = draw(Drawn::Box, &drawn).unwrap();
                let plug = part.plug_frame(&part.plugs[0], facing);
                let stands = plug.inverse().within(&frame);
                let middle = stands.to_outer(part.box_middle_mm);
                for k in 0..2 {
                    let half = (0..3)
                        .map(|n| dot(stands.axes[n], view[k]).abs() * part.size_mm[n] / 2.0)
                        .sum::<f64>();
                    let m = dot(middle, view[k]);
                    // On the socket's plane it begins at the socket, not where the finger began.
                    let low = if along[k] > 0.7 {
                        at[k]
                    } else {
                        drawn.low_mm[k]
                    };
                    let high = if along[k] < -0.7 {
                        at[k]
                    } else {
                        drawn.high_mm[k]
                    };
                    assert!(
                        (m - half - low).abs() < 0.06,
                        "{facing:?} from {side:?}: {part:?}"
                    );
                    assert!(
                        (m + half - high).abs() < 0.06,
                        "{facing:?} from {side:?}: {part:?}"
                    );
                }
                // Its mounting face lies on the socket.
                assert!(norm(sub(stands.to_outer(plug.origin_mm), at_mm)) < 1e-9);
            }
        }
    }

    #[test]
    fn a_smaller_part_says_where_it_touches() {
        let (socket, frame) = socket(Facing::Up, [0.0, 0.0, 15.0]);
        let touches = |drawn, low_mm, high_mm| {
            let at = DrawnAt {
                view: view(Facing::Up),
                low_mm,
                high_mm,
                on: Some((&socket, frame)),
            };
            draw(drawn, &at).unwrap().plugs[0].patch.clone()
        };
        assert_eq!(touches(Drawn::Box, [-10.0, -10.0], [10.0, 10.0]), None);
        assert_eq!(touches(Drawn::Box, [-6.0, -6.0], [6.0, 6.0]), None);
        assert_eq!(
            touches(Drawn::Plate, [-4.0, -3.0], [4.0, 3.0]),
            Some(Patch::Rectangle {
                width_mm: 8.0,
                height_mm: 6.0
            })
        );
        let corner = vec![[2.0, -3.0], [8.0, -3.0], [8.0, 3.0], [2.0, 3.0]];
        assert_eq!(
            touches(Drawn::Box, [2.0, -3.0], [8.0, 3.0]),
            Some(Patch::Points(corner))
        );
        let upright = DrawnAt {
            view: view(Facing::Left),
            low_mm: [-4.0, 15.0],
            high_mm: [4.0, 45.0],
            on: Some((&socket, frame)),
        };
        let barrel = draw(Drawn::Barrel, &upright).unwrap();
        assert_eq!(
            barrel.plugs[0].patch,
            Some(Patch::Disc { diameter_mm: 8.0 })
        );
    }

    #[test]
    fn what_is_narrow_or_without_a_socket() {
        let at = |width_mm: f64| DrawnAt {
            view: view(Facing::Left),
            low_mm: [0.0; 2],
            high_mm: [width_mm, 9.0],
            on: None,
        };
        assert_eq!(draw(Drawn::Box, &at(0.4)), None);
        let part = draw(Drawn::Box, &at(20.0)).unwrap();
        // As deep as the shorter side; from the left, the width runs along x.
        assert_eq!(part.size_mm, [20.0, 9.0, 9.0]);
        assert_eq!(part.plugs[0].patch, None);
    }

    #[test]
    fn a_part_of_another_size_keeps_its_face_and_its_own_mass() {
        let mut part = draw(
            Drawn::Box,
            &DrawnAt {
                view: view(Facing::Left),
                low_mm: [0.0; 2],
                high_mm: [20.0, 10.0],
                on: None,
            },
        )
        .unwrap();
        part.plugs[0].at_mm = Some([3.0, 0.0, -5.0]);
        let larger = part.sized([20.0, 10.0, 30.0]).unwrap();
        assert_eq!(larger.plugs[0].at_mm, Some([3.0, 0.0, -15.0]));
        assert_eq!(larger.mass, crate::Mass::Body);
        part.mass = crate::Mass::Weighed { mass_g: 2.0 };
        assert_eq!(part.sized([20.0, 10.0, 30.0]).unwrap().mass, part.mass);
        assert_eq!(part.sized(part.size_mm), None);
    }
}
