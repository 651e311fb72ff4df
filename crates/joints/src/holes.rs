//! Holes and their faces: every place where one magnet or piece of steel can go, and the mating planes it shows up in.

use std::collections::BTreeMap;

use lodewright_assembly::{Board, Joint};
use lodewright_geometry::{add, distance, dot, norm, scale, sub};
use lodewright_kit::{
    Fit, Frame, Ix, PartIx, Plan, PlugIx, Pole, Pose, Site, SiteId, SocketIx, Vec3, index_type,
};

use crate::room::Room;

index_type! {
    /// A hole of a plan.
    pub HoleIx of Hole;
    /// A face of a hole.
    pub FaceIx of Face;
}

/// What a site belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Owner {
    /// A socket of the host.
    Socket(SocketIx),
    /// A mounting face of a part.
    Plug(PartIx, PlugIx),
}

impl Owner {
    /// The two faces that meet in a joint: the socket's and the plug's.
    pub fn of_joint(joint: &Joint) -> [Self; 2] {
        [
            Self::Socket(joint.socket),
            Self::Plug(joint.part, joint.plug),
        ]
    }

    /// Whether it is the host's side.
    pub fn is_socket(self) -> bool {
        matches!(self, Self::Socket(_))
    }
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

/// Where a hole runs, in the axes of its part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Run {
    /// The middle of its first mouth, mm.
    pub mouth_mm: Vec3,
    /// From the mouth into the part, a unit vector.
    pub inward: Vec3,
    /// The socket that it is on, as long as that is not placed: it lies somewhere on its face, and only what is on the same socket
    /// can be compared with it.
    pub adrift: Option<SocketIx>,
}

impl Run {
    /// A point so far behind the mouth.
    pub fn at_depth_mm(&self, depth_mm: f64) -> Vec3 {
        add(self.mouth_mm, scale(self.inward, depth_mm))
    }

    /// Whether it is known how two holes of one part lie to each other.
    pub fn is_comparable(&self, other: &Self) -> bool {
        self.adrift == other.adrift
    }
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

/// The pegs of a joint, or their holes, in one of its two faces: centres in the axes of that face and radius, mm. A peg that is cut
/// off leaves the hole in the host.
fn pegs_on(board: &Board, joint: &Joint, owner: Owner) -> Vec<([f64; 2], f64)> {
    let peg = &board.socket(joint.socket).peg;
    let is_cut = !board.part(joint.part).plugs[joint.plug].keeps_peg;
    if is_cut && !owner.is_socket() {
        return Vec::new();
    }
    let in_face = |at_mm: [f64; 2]| match owner {
        Owner::Socket(_) => at_mm,
        Owner::Plug(..) => unplace(joint.pose, at_mm),
    };
    let centres = peg.centres_mm().into_iter();
    let all = centres.map(|at_mm| (in_face(at_mm), peg.diameter_mm / 2.0));
    all.collect()
}

/// What the body of a part lets a hole be that runs so.
fn room(board: &Board, part: PartIx, run: Option<Run>, measured_mm: Option<f64>) -> Room {
    let body = board.body(part);
    match run {
        Some(run) if run.adrift.is_none() => Room::at(body, run.mouth_mm, run.inward, measured_mm),
        _ => {
            let [x, y, z] = board.part(part).size_mm;
            let thick_mm = run.map_or(x.max(y).max(z), |run| {
                dot(run.inward.map(f64::abs), [x, y, z])
            });
            Room::somewhere(body, thick_mm, measured_mm)
        }
    }
}

/// The axes of a face in its part's, z into the part, and the socket it is, if nobody has placed that.
struct FaceAxes {
    frame: Frame,
    inward: f64,
    adrift: Option<SocketIx>,
}

fn face_of_owner(board: &Board, owner: Owner) -> Option<FaceAxes> {
    Some(match owner {
        Owner::Socket(s) => {
            let socket = board.socket(s);
            FaceAxes {
                frame: socket.frame(board.part(board.host(s))),
                inward: -1.0,
                adrift: (!socket.is_placed()).then_some(s),
            }
        }
        Owner::Plug(part, plug) => {
            // Where the plug's own side is not said it adapts to the socket it meets: the first one stands for all.
            let mut joints = board.joints.iter();
            let meets = joints.find(|j| j.part == part && j.plug == plug)?;
            let part = board.part(part);
            FaceAxes {
                frame: part.plug_frame(&part.plugs[plug], board.socket(meets.socket).facing),
                inward: 1.0,
                adrift: None,
            }
        }
    })
}

fn run(face: &FaceAxes, [x, y]: [f64; 2]) -> Run {
    Run {
        mouth_mm: face.frame.to_outer([x, y, 0.0]),
        inward: scale(face.frame.axes[2], face.inward),
        adrift: face.adrift,
    }
}

/// Where a point of the socket lies in the axes of a plug in this pose.
pub(crate) fn unplace(pose: Pose, at_mm: [f64; 2]) -> [f64; 2] {
    let back = Pose {
        turn_deg: -pose.turn_deg,
        over: false,
    };
    let [x, y] = back.place(at_mm);
    [x, if pose.over { -y } else { y }]
}
