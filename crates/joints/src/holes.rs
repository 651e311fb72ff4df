//! Holes and their faces: every place where one magnet or piece of steel can go, and the mating planes it shows up in.

use std::collections::BTreeMap;

use lodewright_assembly::Board;
use lodewright_geometry::{distance, dot, norm, scale, sub};
use lodewright_kit::{Fit, Ix, PartIx, Plan, PlugIx, Pole, Site, SiteId, SocketIx, index_type};

use crate::hole_runs::{Owner, Run, face_of_owner, pegs_on, room, run, unplace};
use crate::room::Room;

index_type! {
    /// A hole of a plan.
    pub HoleIx of Hole;
    /// A face of a hole.
    pub FaceIx of Face;
}

/// A place for one piece. It shows in one mating plane, or in two where it goes right through.
#[derive(Clone, Debug, PartialEq)]
pub struct Hole {
    /// The part that it is drilled in.
    pub part: PartIx,
    /// The socket or plug of its first face.
    pub owner: Owner,
    /// Its site there; counted from 1 on a plug without sites of its own.
    pub site: SiteId,
    /// Largest diameter that the builder wants, mm.
    pub max_diameter_mm: f64,
    /// Largest depth that the builder wants behind the wall; of a hole right through its length, mm.
    pub max_depth_mm: f64,
    /// Wall left in front of the first face, mm.
    pub wall_mm: f64,
    /// Whether it goes right through.
    pub through: bool,
    /// What the builder wants in it.
    pub fit: Fit,
    /// The pole wished for or already glued, at the first face.
    pub pinned: Option<Pole>,
    /// What the bodies let it be.
    pub room: Room,
    /// Where it runs; `None` where nothing says which side of its part it is on.
    pub run: Option<Run>,
}

/// A hole as it shows in one mating plane.
#[derive(Clone, Debug, PartialEq)]
pub struct Face {
    /// The hole.
    pub hole: HoleIx,
    /// Whether this is the second face of a through hole: it shows the other pole.
    pub far: bool,
    /// What it lies on.
    pub owner: Owner,
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
    pub fn of(board: &Board) -> Self {
        let mut all = Self::default();
        all.socket_holes(board);
        for (p, part) in PartIx::each(&board.plan.parts) {
            all.plug_holes(board, p);
            for (g, plug) in PlugIx::each(&part.plugs) {
                if plug.sites.is_none() {
                    all.implied_holes(board, p, g);
                }
            }
        }
        all.note_pegs(board);
        all
    }

    /// A blind hole as it would be elsewhere in its face, mm in the axes of its socket or plug; what was measured goes with it.
    pub(crate) fn moved(&self, board: &Board, hole: HoleIx, at_mm: [f64; 2]) -> Hole {
        let mut moved = self.holes[hole].clone();
        moved.run = face_of_owner(board, moved.owner).map(|face| run(&face, at_mm));
        moved.room = room(board, moved.part, moved.run, moved.room.measured_mm());
        let joints = board.joints.iter();
        for joint in joints.filter(|j| Owner::of_joint(j).contains(&moved.owner)) {
            for (at, radius_mm) in pegs_on(board, joint, moved.owner) {
                moved.room.beside_peg(distance(at_mm, at) - radius_mm);
            }
        }
        moved
    }

    /// Every peg, or its hole, beside the holes of both faces that it joins.
    fn note_pegs(&mut self, board: &Board) {
        let mut faces_on = BTreeMap::<Owner, Vec<FaceIx>>::new();
        for (at, face) in FaceIx::each(&self.faces) {
            faces_on.entry(face.owner).or_default().push(at);
        }
        for joint in &board.joints {
            for owner in Owner::of_joint(joint) {
                for (at, radius_mm) in pegs_on(board, joint, owner) {
                    for face in faces_on.get(&owner).into_iter().flatten() {
                        let face = &self.faces[*face];
                        let to_rim_mm = distance(face.at_mm, at) - radius_mm;
                        self.holes[face.hole].room.beside_peg(to_rim_mm);
                    }
                }
            }
        }
    }

    fn socket_holes(&mut self, board: &Board) {
        let sockets = &board.plan.sockets;
        let mut first_faces = Vec::new();
        for (s, socket) in SocketIx::each(sockets) {
            for site in socket.sites.iter().filter(|site| site.through.is_none()) {
                let hole = self.add(board, board.host(s), Owner::Socket(s), site);
                first_faces.push((&socket.id, &site.id, hole));
                self.face(hole, site, Owner::Socket(s), false);
            }
        }
        for (s, socket) in SocketIx::each(sockets) {
            for site in &socket.sites {
                let Some(far) = &site.through else { continue };
                let first = first_faces
                    .iter()
                    .find(|(socket, site, _)| **socket == far.socket && **site == far.site);
                if let Some((_, _, hole)) = first {
                    self.face(*hole, site, Owner::Socket(s), true);
                    self.narrow(*hole, site);
                    self.open(board, *hole, site, Owner::Socket(s));
                }
            }
        }
    }

    fn plug_holes(&mut self, board: &Board, p: PartIx) {
        let plugs = &board.part(p).plugs;
        let mut first_faces = Vec::new();
        for (g, plug) in PlugIx::each(plugs) {
            for site in plug
                .sites
                .iter()
                .flatten()
                .filter(|site| site.through.is_none())
            {
                let hole = self.add(board, p, Owner::Plug(p, g), site);
                first_faces.push((&plug.id, &site.id, hole));
                self.face(hole, site, Owner::Plug(p, g), false);
            }
        }
        for (g, plug) in PlugIx::each(plugs) {
            for site in plug.sites.iter().flatten() {
                let Some(far) = &site.through else { continue };
                let first = first_faces
                    .iter()
                    .find(|(plug, site, _)| **plug == far.plug && **site == far.site);
                if let Some((_, _, hole)) = first {
                    self.face(*hole, site, Owner::Plug(p, g), true);
                    self.narrow(*hole, site);
                    self.open(board, *hole, site, Owner::Plug(p, g));
                }
            }
        }
    }

    fn implied_holes(&mut self, board: &Board, p: PartIx, g: PlugIx) {
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
                let open = Site {
                    id: SiteId::new((self.faces.len() - start + 1).to_string()),
                    at_mm,
                    wall_mm: 0.0,
                    fit: Fit::Auto,
                    pole: None,
                    // What was measured there was the host's.
                    measured_mm: None,
                    ..site.clone()
                };
                let hole = self.add(board, p, Owner::Plug(p, g), &open);
                self.face(hole, &open, Owner::Plug(p, g), false);
            }
        }
    }

    fn add<Far>(&mut self, board: &Board, part: PartIx, owner: Owner, site: &Site<Far>) -> HoleIx {
        let run = face_of_owner(board, owner).map(|face| run(&face, site.at_mm));
        let room = room(board, part, run, site.measured_mm);
        self.holes.push(Hole {
            part,
            owner,
            site: site.id.clone(),
            max_diameter_mm: site.max_diameter_mm,
            max_depth_mm: site.max_depth_mm,
            wall_mm: site.wall_mm,
            through: false,
            fit: site.fit.clone(),
            pinned: site.pole,
            room,
            run,
        });
        HoleIx::new(self.holes.len() - 1)
    }

    /// Both ends of a hole (or all sockets that an implied one serves) limit its size; a pole wished for at the far end
    /// is the other one at the first.
    fn narrow<Far>(&mut self, hole: HoleIx, site: &Site<Far>) {
        let h = &mut self.holes[hole];
        h.max_diameter_mm = h.max_diameter_mm.min(site.max_diameter_mm);
        h.max_depth_mm = h.max_depth_mm.min(site.max_depth_mm);
        if h.through {
            h.pinned = h.pinned.or(site.pole.map(Pole::other));
        }
    }

    /// Notes where the far mouth of a hole right through lies; the hole is as long as its part is thick there.
    fn open<Far>(&mut self, board: &Board, hole: HoleIx, site: &Site<Far>, owner: Owner) {
        let hole = &mut self.holes[hole];
        let far = face_of_owner(board, owner).map(|face| run(&face, site.at_mm));
        let (Some(near), Some(far)) = (hole.run, far) else {
            return;
        };
        if near.adrift.is_some() || far.adrift.is_some() {
            return;
        }
        let between = sub(far.mouth_mm, near.mouth_mm);
        let along_mm = dot(between, near.inward);
        let beside_mm = norm(sub(between, scale(near.inward, along_mm)));
        hole.room.opens_at(along_mm, beside_mm);
        if let Some(thick_mm) = hole.room.thick_mm() {
            hole.max_depth_mm = thick_mm;
        }
    }

    fn face<Far>(&mut self, hole: HoleIx, site: &Site<Far>, owner: Owner, far: bool) {
        self.holes[hole].through |= far;
        self.faces.push(Face {
            hole,
            far,
            owner,
            at_mm: site.at_mm,
            wall_mm: site.wall_mm,
        });
    }
}

impl Holes {
    /// The faces on a socket or a plug.
    pub fn faces_on(&self, owner: Owner) -> impl Iterator<Item = (FaceIx, &Face)> {
        FaceIx::each(&self.faces).filter(move |(_, f)| f.owner == owner)
    }

    /// The first or the far face of a hole.
    pub fn face_of(&self, hole: HoleIx, far: bool) -> Option<&Face> {
        self.faces.iter().find(|f| f.hole == hole && f.far == far)
    }

    /// The hole as keys of work steps name it: part, socket or plug, site.
    pub fn key(&self, plan: &Plan, hole: HoleIx) -> String {
        let h = &self.holes[hole];
        let owner = match h.owner {
            Owner::Socket(socket) => plan.sockets[socket].id.to_string(),
            Owner::Plug(part, plug) => plan.parts[part].plugs[plug].id.to_string(),
        };
        format!("{}:{owner}/{}", plan.parts[h.part].id, h.site)
    }

    /// The key of the step that glues a hole's piece in.
    pub fn glue_key(&self, plan: &Plan, hole: HoleIx) -> String {
        format!("glue:{}", self.key(plan, hole))
    }
}
