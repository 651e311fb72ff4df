//! Why a usual joint cannot be laid out at a socket.

use std::fmt;

/// Why a usual joint cannot be laid out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PresetRefusal {
    /// The plan has no such socket.
    NoSocket,
    /// What would touch lies beside the host, or a hole would run over its edge.
    NoMaterial,
    /// The face has too little room for contact, pegs and holes.
    FaceTooSmall {
        /// Room around the socket, along its axes, mm.
        room_mm: [f64; 2],
    },
    /// There is too little material for the smallest hole.
    TooThin {
        /// What there is, mm.
        material_mm: f64,
        /// What it would take, mm.
        least_mm: f64,
        /// Whether a flat-bottomed cutter would do with what there is.
        flat_cutter_helps: bool,
    },
    /// A joint through a wall, where there is a thick block.
    WallTooThick {
        /// From face to face, mm.
        thick_mm: f64,
        /// The thickest wall that will do, mm.
        most_mm: f64,
    },
    /// A joint through a wall, where the part is hollow between the two faces.
    HollowBetween {
        /// From face to face, mm.
        thick_mm: f64,
    },
}

impl fmt::Display for PresetRefusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoSocket => f.write_str("This socket is not in the plan any more. Choose another one."),
            Self::NoMaterial => f.write_str(
                "The part is open or falls away under this joint. Place the socket on solid material, or choose another face.",
            ),
            Self::FaceTooSmall { room_mm: [w, h] } => write!(
                f,
                "There are only {w:.1} by {h:.1} mm around this socket: too little for the contact, its pegs and its holes. Move the socket away from the edge, choose a larger face, or lay out another kind of joint."
            ),
            Self::TooThin {
                material_mm,
                least_mm,
                flat_cutter_helps,
            } => {
                write!(
                    f,
                    "There are {material_mm:.1} mm of material behind this face, and the smallest hole needs {least_mm:.1} mm. Choose a thicker spot, or glue a block behind it and make the part as thick"
                )?;
                f.write_str(match flat_cutter_helps {
                    true => "; or finish holes with a flat-bottomed cutter.",
                    false => ".",
                })
            }
            Self::WallTooThick { thick_mm, most_mm } => write!(
                f,
                "The part is {thick_mm:.1} mm thick here, and one magnet serves both sides of at most {most_mm:.0} mm. Put the socket on a thin wall, or lay out each side as a joint of its own."
            ),
            Self::HollowBetween { thick_mm } => write!(
                f,
                "The part is hollow between these two faces, which lie {thick_mm:.1} mm apart: no hole goes through to the other side. Put the socket on a single wall, or lay out each side as a joint of its own."
            ),
        }
    }
}

impl std::error::Error for PresetRefusal {}
