//! Usual joints: contact, pegs and sites laid out for a kind of joint, to be adjusted. Every size here is common practice,
//! no source.

mod ground;
mod layout;
mod refusal;

use lodewright_geometry::{distance, scale, sub};

pub use self::refusal::PresetRefusal;

use self::ground::{Ground, HAIR_MM};
use self::layout::{MOST_WALL_THROUGH_MM, lay_out};
use crate::{
    Edit, Facing, Part, PartId, Plan, Section, Socket, SocketId, SocketSiteRef, ThinSection, Vec3,
    slug,
};

/// A kind of joint that kits have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum JointPreset {
    /// A tool before the nose, on a keyed peg.
    NoseTool,
    /// A plate lying on a shelf between two pegs.
    Plate,
    /// A roof resting on the four corners of what is under it.
    Roof,
    /// Lockers on both sides of one thin wall: one magnet through it serves both.
    Locker,
    /// A figure at its waist or under its feet: it turns freely on one magnet.
    Waist,
    /// A whip antenna: a small foot, and a rod that must let go.
    Antenna,
}

impl JointPreset {
    /// All of them, in the order in which they are offered.
    pub const ALL: [Self; 6] = [
        Self::NoseTool,
        Self::Plate,
        Self::Roof,
        Self::Locker,
        Self::Waist,
        Self::Antenna,
    ];

    /// A short word, for marks and keys.
    pub fn key(self) -> &'static str {
        self.words()[0]
    }

    /// What it is called.
    pub fn name(self) -> &'static str {
        self.words()[1]
    }

    /// What it lays out, in a sentence.
    pub fn says(self) -> &'static str {
        self.words()[2]
    }

    fn words(self) -> [&'static str; 3] {
        match self {
            Self::NoseTool => [
                "nose-tool",
                "Tool on a peg",
                "Up to 16 by 12 mm of contact, a keyed peg up to 4 mm long in its middle, a site of up to 6 by 3 mm on each side of it.",
            ],
            Self::Plate => [
                "plate",
                "Plate on a shelf",
                "Most of the face, at the largest 40 by 30 mm, two pegs up to 3 mm long, a site of up to 6 by 3 mm near each end.",
            ],
            Self::Roof => [
                "roof",
                "Roof on four corners",
                "The whole face but 2 mm at its edges, two pegs, a site of up to 5 by 3 mm in each corner.",
            ],
            Self::Locker => [
                "locker",
                "Lockers on two faces",
                "Up to 16 by 10 mm of contact, keyed, on this face and on the one behind it; one hole of up to 5 mm right through the wall, which may be 4 mm thick, serves both.",
            ],
            Self::Waist => [
                "waist",
                "Waist of a figure",
                "A disc of up to 8 mm, no peg, one site of up to 4 by 3 mm in its middle: it turns freely.",
            ],
            Self::Antenna => [
                "antenna",
                "Whip antenna",
                "A disc of up to 6 mm, a round peg of 1 mm beside one site of up to 3 by 2 mm; the parts there get a rod of 1 mm that must let go.",
            ],
        }
    }

    /// The face that such a joint usually lies on.
    pub fn usual_facing(self) -> Facing {
        match self {
            Self::NoseTool => Facing::Front,
            Self::Locker => Facing::Left,
            _ => Facing::Up,
        }
    }

    /// The edit that lays a socket out so, with what belongs to it: the socket behind a locker, the rod of an antenna. A
    /// socket that is still as it began also goes to the usual face; none is placed, but for the two that share a hole.
    ///
    /// # Errors
    /// Where the host cannot have it, or the plan has no such socket.
    pub fn edit(self, plan: &Plan, socket: &SocketId) -> Result<Edit, PresetRefusal> {
        let old = plan.socket(socket).ok_or(PresetRefusal::NoSocket)?;
        let host = plan.part(&old.host).ok_or(PresetRefusal::NoSocket)?;
        let mut next = old.clone();
        let begun = Socket::plain(old.id.clone(), old.name.clone(), old.host.clone());
        if *old == begun {
            next.facing = self.usual_facing();
        }
        if self == Self::Locker {
            place_on_wall(&mut next, host)?;
        }
        lay_out(self, &mut next, host, plan.settings.flat_cutter)?;
        let mut edits = Vec::new();
        if self == Self::Locker {
            edits.extend(behind(plan, &next, host)?);
        }
        edits.push(Edit::PutSocket(Box::new(next)));
        if self == Self::Antenna {
            edits.extend(rods(plan, socket));
        }
        Ok(match edits.pop() {
            Some(only) if edits.is_empty() => only,
            last => {
                edits.extend(last);
                Edit::Together(edits)
            }
        })
    }
}

/// Gives the socket a place, so that the one behind it can lie opposite, and sees whether a hole may go right through there.
fn place_on_wall(near: &mut Socket, host: &Part) -> Result<(), PresetRefusal> {
    near.at_mm = Some(near.frame(host).origin_mm);
    let ground = Ground::of(near, host);
    let thick_mm = ground.through_mm().ok_or(PresetRefusal::NoMaterial)?;
    let full_mm = ground.material_mm([0.0; 2], 0.0).unwrap_or(0.0);
    if full_mm < thick_mm - HAIR_MM {
        return Err(PresetRefusal::HollowBetween { thick_mm });
    }
    if thick_mm > MOST_WALL_THROUGH_MM + HAIR_MM {
        let most_mm = MOST_WALL_THROUGH_MM;
        return Err(PresetRefusal::WallTooThick { thick_mm, most_mm });
    }
    Ok(())
}

/// The socket on the other side of the wall: one that is there already, or a further one. Its only site becomes the far end of
/// `near`'s hole.
fn behind(plan: &Plan, near: &Socket, host: &Part) -> Result<Vec<Edit>, PresetRefusal> {
    let far_side = near.facing.opposite();
    let thick_mm = Ground::of(near, host).through_mm().unwrap_or(0.0);
    let origin_mm = near.frame(host).origin_mm;
    // The same place, seen from the other side of the wall.
    let at_mm = sub(origin_mm, scale(near.facing.normal(), thick_mm));
    let is_there = |s: &&Socket| {
        s.host == near.host && s.facing == far_side && s.id != near.id && may_move(s, near, at_mm)
    };
    let (mut far, add) = match plan.sockets.iter().find(is_there) {
        Some(old) => (old.clone(), None),
        None => further(plan, format!("{}, far side", near.name), &near.host),
    };
    (far.facing, far.at_mm, far.spin_deg) = (far_side, Some(at_mm), 0.0 - near.spin_deg);
    lay_out(JointPreset::Locker, &mut far, host, false)?;
    if let (Some(hole), Some(end)) = (near.sites.first(), far.sites.first_mut()) {
        end.through = Some(SocketSiteRef {
            socket: near.id.clone(),
            site: hole.id.clone(),
        });
    }
    let put = Edit::PutSocket(Box::new(far));
    Ok(add.into_iter().chain([put]).collect())
}

/// Whether a socket may become the far side at this place: nobody has placed it, it lies there already, or shares a hole.
fn may_move(far: &Socket, near: &Socket, at_mm: Vec3) -> bool {
    let shares = || {
        let ends = far.sites.iter().filter_map(|s| s.through.as_ref());
        ends.into_iter().any(|end| end.socket == near.id)
    };
    far.at_mm.is_none_or(|there| distance(there, at_mm) < 1.0) || shares()
}

/// A socket that is not there yet and the edit that adds it. It gets the id that its label makes, so that it can be named
/// before it is there.
fn further(plan: &Plan, name: String, host: &PartId) -> (Socket, Option<Edit>) {
    let id = slug(&name, plan.sockets.iter().map(|s| s.id.as_str()));
    let socket = Socket::plain(SocketId::new(id), name.clone(), host.clone());
    let host = host.clone();
    (socket, Some(Edit::AddSocket { name, host }))
}

/// A thin rod for every part that may sit in the socket and has no thin section yet.
fn rods(plan: &Plan, socket: &SocketId) -> Vec<Edit> {
    let mut ids: Vec<&PartId> = Vec::new();
    for seat in plan
        .variants
        .iter()
        .filter_map(|v| v.cell(socket))
        .flat_map(|c| &c.seats)
    {
        if !ids.contains(&&seat.part) {
            ids.push(&seat.part);
        }
    }
    ids.into_iter()
        .filter_map(|id| plan.part(id))
        .filter(|p| p.thin.is_none())
        .map(|p| {
            let long_mm = (p.size_mm[2] - 5.0).max(5.0);
            Edit::PutPart(Box::new(Part {
                thin: Some(ThinSection {
                    length_mm: long_mm,
                    section: Section::Round { diameter_mm: 1.0 },
                    reach_mm: long_mm + 3.0,
                    notch_factor: 1.5,
                }),
                ..p.clone()
            }))
        })
        .collect()
}
