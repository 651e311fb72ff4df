//! Holes and their faces: every place where one magnet or piece of steel can go, and the mating planes it shows up in.

use lodewright_assembly::Board;
use lodewright_geometry::distance;
use lodewright_kit::{Fit, Pole, Site};

/// A place for one piece. It shows in one mating plane, or in two where it goes right through.
#[derive(Clone, Debug, PartialEq)]
pub struct Hole {
    /// Index of the part that it is drilled in.
    pub part: usize,
    /// Label within the part, such as `nose/a`.
    pub label: String,
    /// Largest diameter that fits, mm.
    pub max_diameter_mm: f64,
    /// Largest depth that fits, mm.
    pub max_depth_mm: f64,
    /// Wall left in front of the first face, mm.
    pub wall_mm: f64,
    /// Whether it goes right through.
    pub through: bool,
    /// What the builder wants in it.
    pub fit: Fit,
    /// The pole wished for or already glued, at the first face.
    pub pinned: Option<Pole>,
}

/// A hole as it shows in one mating plane.
#[derive(Clone, Debug, PartialEq)]
pub struct Face {
    /// Index of the hole.
    pub hole: usize,
    /// Whether this is the second face of a through hole: it shows the other pole.
    pub far: bool,
    /// Whether the face is on a socket (and not on a plug).
    pub on_socket: bool,
    /// Index of the socket; or of the part, with the plug in `plug`.
    pub owner: usize,
    /// Index of the plug, for a face on a plug.
    pub plug: usize,
    /// Centre in the axes of its socket or plug, mm.
    pub at_mm: [f64; 2],
    /// Wall left in front of it, mm.
    pub wall_mm: f64,
}

/// All holes and faces of a plan.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Holes {
    /// The holes.
    pub holes: Vec<Hole>,
    /// The faces, those of sockets first.
    pub faces: Vec<Face>,
}

/// Implied sites of a plug that lie this close are one hole, mm.
const SAME_HOLE_MM: f64 = 0.5;

impl Holes {
    /// Collects them. A plug without sites of its own gets a hole opposite each site of every socket that it meets.
    pub fn of(board: &Board<'_>) -> Self {
        let mut all = Self::default();
        all.socket_holes(board);
        for (p, part) in board.plan.parts.iter().enumerate() {
            all.plug_holes(board, p);
            for (g, plug) in part.plugs.iter().enumerate() {
                if plug.sites.is_none() {
                    all.implied_holes(board, p, g);
                }
            }
        }
        all
    }

    fn socket_holes(&mut self, board: &Board<'_>) {
        let sockets = &board.plan.sockets;
        let mut first_faces = Vec::new();
        for (s, socket) in sockets.iter().enumerate() {
            for site in socket.sites.iter().filter(|site| site.through.is_none()) {
                let hole = self.add(board.host(s), format!("{}/{}", socket.id, site.id), site);
                first_faces.push((&socket.id, &site.id, hole));
                self.face(hole, site, true, (s, 0), false);
            }
        }
        for (s, socket) in sockets.iter().enumerate() {
            for site in &socket.sites {
                let Some(far) = &site.through else { continue };
                let first = first_faces
                    .iter()
                    .find(|(socket, site, _)| **socket == far.socket && **site == far.site);
                if let Some((_, _, hole)) = first {
                    self.face(*hole, site, true, (s, 0), true);
                    self.narrow(*hole, site);
                }
            }
        }
    }

    fn plug_holes(&mut self, board: &Board<'_>, p: usize) {
        let plugs = &board.part(p).plugs;
        let mut first_faces = Vec::new();
        for (g, plug) in plugs.iter().enumerate() {
            for site in plug
                .sites
                .iter()
                .flatten()
                .filter(|site| site.through.is_none())
            {
                let hole = self.add(p, format!("{}/{}", plug.id, site.id), site);
                first_faces.push((&plug.id, &site.id, hole));
                self.face(hole, site, false, (p, g), false);
            }
        }
        for (g, plug) in plugs.iter().enumerate() {
            for site in plug.sites.iter().flatten() {
                let Some(far) = &site.through else { continue };
                let first = first_faces
                    .iter()
                    .find(|(plug, site, _)| **plug == far.plug && **site == far.site);
                if let Some((_, _, hole)) = first {
                    self.face(*hole, site, false, (p, g), true);
                    self.narrow(*hole, site);
                }
            }
        }
    }

    fn implied_holes(&mut self, board: &Board<'_>, p: usize, g: usize) {
        let start = self.faces.len();
        for joint in board.joints.iter().filter(|j| j.part == p && j.plug == g) {
            for site in &board.socket(joint.socket).sites {
                let at_mm = unplace(joint.pose, site.at_mm);
                let same = self.faces[start..]
                    .iter()
                    .find(|f| distance(f.at_mm, at_mm) < SAME_HOLE_MM);
                if let Some(face) = same {
                    let hole = face.hole;
                    self.narrow(hole, site);
                    continue;
                }
                let label = format!(
                    "{}/{}",
                    board.part(p).plugs[g].id,
                    self.faces.len() - start + 1
                );
                let open = Site {
                    at_mm,
                    wall_mm: 0.0,
                    fit: Fit::Auto,
                    pole: None,
                    ..site.clone()
                };
                let hole = self.add(p, label, &open);
                self.face(hole, &open, false, (p, g), false);
            }
        }
    }

    fn add<Far>(&mut self, part: usize, label: String, site: &Site<Far>) -> usize {
        self.holes.push(Hole {
            part,
            label,
            max_diameter_mm: site.max_diameter_mm,
            max_depth_mm: site.max_depth_mm,
            wall_mm: site.wall_mm,
            through: false,
            fit: site.fit.clone(),
            pinned: site.pole,
        });
        self.holes.len() - 1
    }

    /// Both ends of a hole (or all sockets that an implied one serves) limit its size; a pole wished for at the far end
    /// is the other one at the first.
    fn narrow<Far>(&mut self, hole: usize, site: &Site<Far>) {
        let h = &mut self.holes[hole];
        h.max_diameter_mm = h.max_diameter_mm.min(site.max_diameter_mm);
        h.max_depth_mm = h.max_depth_mm.min(site.max_depth_mm);
        if h.through {
            h.pinned = h.pinned.or(site.pole.map(Pole::other));
        }
    }

    fn face<Far>(
        &mut self,
        hole: usize,
        site: &Site<Far>,
        on_socket: bool,
        (owner, plug): (usize, usize),
        far: bool,
    ) {
        self.holes[hole].through |= far;
        self.faces.push(Face {
            hole,
            far,
            on_socket,
            owner,
            plug,
            at_mm: site.at_mm,
            wall_mm: site.wall_mm,
        });
    }
}

/// Where a point of the socket lies in the axes of a plug in this pose.
pub(crate) fn unplace(pose: lodewright_kit::Pose, at_mm: [f64; 2]) -> [f64; 2] {
    let back = lodewright_kit::Pose {
        turn_deg: -pose.turn_deg,
        over: false,
    };
    let [x, y] = back.place(at_mm);
    [x, if pose.over { -y } else { y }]
}
