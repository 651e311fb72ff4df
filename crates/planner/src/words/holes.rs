//! Holes and what goes into them.

use lodewright_joints::{Face, Filling, HoleIx, Owner};
use lodewright_kit::{Facing, Ix, Plan, Pole};

use super::numbers::{all_of, mm};
use crate::{Analysis, FacePlace};

/// Where one face of a hole is.
#[derive(Clone, Debug, PartialEq)]
pub struct FaceWords {
    /// The socket that it is on, or the sockets that its mounting face meets: `Nose, hole a`.
    pub place: String,
    /// Whether it is on a mounting face: its coordinates are then seen through the part, onto the socket.
    pub through_part: bool,
    /// Coordinates in the mating plane, mm.
    pub at_mm: [f64; 2],
    /// Where it is on its part; `None` as long as its socket is not placed.
    pub on_part: Option<FacePlace>,
    /// The pole that shows there.
    pub pole: Option<Pole>,
}

/// Where a hole is.
#[derive(Clone, Debug, PartialEq)]
pub struct HoleWords {
    /// The part that it is drilled in.
    pub part: String,
    /// The faces that it shows, the first one first; two for a hole that goes right through.
    pub faces: Vec<FaceWords>,
}

impl HoleWords {
    /// The place of its first face.
    pub fn place(&self) -> &str {
        self.faces.first().map_or("hole", |f| &f.place)
    }

    /// `Plough, face to Nose, hole 1`.
    pub fn said(&self) -> String {
        format!("{}, {}", self.part, self.place())
    }
}

/// A place as a hand measures it: `12 mm from the front edge, 8.5 mm from the left edge of the top`.
pub fn place_words(place: Option<FacePlace>) -> String {
    let Some(FacePlace { face, from }) = place else {
        return "not placed yet".to_owned();
    };
    let edge = |(side, mm_away): (Facing, f64)| match mm_away {
        beyond if beyond < 0.0 => format!("{} mm beyond the {} edge", mm(-beyond), side.way()),
        within => format!("{} mm from the {} edge", mm(within), side.way()),
    };
    let [a, b] = from.map(edge);
    format!("{a}, {b} of the {}", face.word())
}

/// What goes into a hole: `5 × 2 mm N42 magnet`.
pub fn filling_words(plan: &Plan, filling: Filling) -> String {
    let size = |d, h| format!("{} × {} mm", mm(d), mm(h));
    let stock = &plan.stock;
    let words = match filling {
        Filling::Empty => None,
        Filling::Magnet(i) => stock
            .magnets
            .get(i.get())
            .map(|m| format!("{} {} magnet", size(m.diameter_mm, m.height_mm), m.grade)),
        Filling::Steel(i) => stock
            .steel
            .get(i.get())
            .map(|s| format!("{} steel disc", size(s.diameter_mm, s.thickness_mm))),
    };
    words.unwrap_or_else(|| "nothing".to_owned())
}

impl Analysis {
    /// Where a hole is.
    pub fn hole_words(&self, hole: HoleIx) -> HoleWords {
        let (holes, plan) = (self.holes(), self.plan());
        let found = &holes.holes[hole];
        let first = self.poles()[hole];
        let faces = [false, true].map(|far| holes.face_of(hole, far));
        let words = |face: &Face| FaceWords {
            place: format!("{}, hole {}", self.owner_words(face.owner), found.site),
            through_part: !face.owner.is_socket(),
            at_mm: face.at_mm,
            on_part: self.hole_place(hole, face.far),
            pole: first.map(|p| if face.far { p.other() } else { p }),
        };
        HoleWords {
            part: plan.parts[found.part].name.clone(),
            faces: faces.into_iter().flatten().map(words).collect(),
        }
    }

    /// A socket by its name, a mounting face by the sockets that it meets.
    fn owner_words(&self, owner: Owner) -> String {
        let plan = self.plan();
        let (part, plug) = match owner {
            Owner::Socket(socket) => return plan.sockets[socket].name.clone(),
            Owner::Plug(part, plug) => (part, plug),
        };
        let mut met: Vec<String> = Vec::new();
        let mine = self
            .board()
            .joints
            .iter()
            .filter(|j| (j.part, j.plug) == (part, plug));
        for name in mine.map(|j| &plan.sockets[j.socket].name) {
            if !met.contains(name) {
                met.push(name.clone());
            }
        }
        match met.is_empty() {
            true => "mounting face".to_owned(),
            false => format!("face to {}", all_of(&met)),
        }
    }

    /// A magnet as the builder knows it: its site, its part, and for a site on a socket the socket's name.
    pub fn magnet_words(&self, hole: HoleIx) -> String {
        let (plan, found) = (self.plan(), &self.holes().holes[hole]);
        let part = &plan.parts[found.part].name;
        match found.owner {
            Owner::Socket(socket) => {
                format!(
                    "magnet {} of {part} at {}",
                    found.site, plan.sockets[socket].name
                )
            }
            Owner::Plug(..) => format!("magnet {} of {part}", found.site),
        }
    }
}

/// Which pole shows where: `N out`; `N at Locker left, S at Locker right` for a hole that goes right through; nothing
/// for steel.
pub fn pole_words(hole: &HoleWords) -> String {
    let shown: Vec<String> = match hole.faces.as_slice() {
        [face] => face
            .pole
            .iter()
            .map(|p| format!("{} out", p.letter()))
            .collect(),
        faces => faces
            .iter()
            .filter_map(|f| Some(format!("{} at {}", f.pole?.letter(), f.place)))
            .collect(),
    };
    shown.join(", ")
}
