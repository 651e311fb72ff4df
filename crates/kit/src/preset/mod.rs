//! Usual joints: contact, pegs and sites laid out for a kind of joint, to be adjusted. Every size here is common practice,
//! no source.

mod layout;

use crate::{
    Edit, Facing, Part, PartId, Plan, Section, Socket, SocketId, SocketSiteRef, ThinSection, slug,
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
                "14 by 12 mm of contact, a keyed peg 4 mm long, a site of 6 by 3 mm on each side of it.",
            ],
            Self::Plate => [
                "plate",
                "Plate on a shelf",
                "Most of the face, at the largest 40 by 30 mm, two pegs 3 mm long, a site of 6 by 3 mm near each end.",
            ],
            Self::Roof => [
                "roof",
                "Roof on four corners",
                "The whole face but 2 mm at its edges, two pegs, a site of 5 by 3 mm in each corner.",
            ],
            Self::Locker => [
                "locker",
                "Lockers on two faces",
                "16 by 10 mm of contact, keyed, on this face and on the one behind it; one hole right through the wall serves both.",
            ],
            Self::Waist => [
                "waist",
                "Waist of a figure",
                "A disc of 8 mm, no peg, one site of 4 by 3 mm in its middle: it turns freely.",
            ],
            Self::Antenna => [
                "antenna",
                "Whip antenna",
                "A disc of 5 mm, a round peg, one site of 3 by 2 mm; the parts there get a rod of 1 mm that must let go.",
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
    /// socket that is still as it began also goes to the usual face. `None` where the plan has no such socket.
    pub fn edit(self, plan: &Plan, socket: &SocketId) -> Option<Edit> {
        let old = plan.socket(socket)?;
        let host = plan.part(&old.host)?;
        let mut next = old.clone();
        let begun = Socket::plain(old.id.clone(), old.name.clone(), old.host.clone());
        if *old == begun {
            next.facing = self.usual_facing();
        }
        layout::lay_out(self, &mut next, host);
        let mut edits = Vec::new();
        if self == Self::Locker {
            edits.extend(behind(plan, &mut next, host));
        }
        edits.push(Edit::PutSocket(Box::new(next)));
        if self == Self::Antenna {
            edits.extend(rods(plan, socket));
        }
        Some(match edits.pop() {
            Some(only) if edits.is_empty() => only,
            last => {
                edits.extend(last);
                Edit::Together(edits)
            }
        })
    }
}

/// The socket on the other side of the wall: one that is there already, or a further one. Its only site becomes the far end of
/// `near`'s hole.
fn behind(plan: &Plan, near: &mut Socket, host: &Part) -> Vec<Edit> {
    let far_side = near.facing.opposite();
    let there = plan
        .sockets
        .iter()
        .find(|s| s.host == near.host && s.facing == far_side && s.id != near.id);
    let (mut far, add) = match there {
        Some(old) => (old.clone(), None),
        None => further(plan, format!("{}, far side", near.name), &near.host),
    };
    far.facing = far_side;
    layout::lay_out(JointPreset::Locker, &mut far, host);
    // The same place, seen from the other side of the wall.
    if let Some(at_mm) = near.at_mm {
        let (normal, half_mm) = (far_side.normal(), far_side.half_extent_mm(host.size_mm));
        let face_mm = |k| host.box_middle_mm[k] + normal[k] * half_mm;
        far.at_mm = Some(std::array::from_fn(|k| {
            if normal[k] == 0.0 {
                at_mm[k]
            } else {
                face_mm(k)
            }
        }));
    }
    if let (Some(hole), Some(end)) = (near.sites.first(), far.sites.first_mut()) {
        end.through = Some(SocketSiteRef {
            socket: near.id.clone(),
            site: hole.id.clone(),
        });
    }
    add.into_iter()
        .chain([Edit::PutSocket(Box::new(far))])
        .collect()
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

#[cfg(test)]
mod tests {
    use super::*;

    fn plan() -> Plan {
        Plan::empty("t")
            .edited(&Edit::PasteGrid("\tA\tB\nSpot\tRod\tOther\n".to_owned()))
            .unwrap()
    }

    #[test]
    fn every_usual_joint_fits_a_plain_plan_and_is_laid_out_the_same_twice() {
        for preset in JointPreset::ALL {
            let id = SocketId::new("spot");
            let once = plan().edited(&preset.edit(&plan(), &id).unwrap()).unwrap();
            assert!(
                once.problems().is_empty(),
                "{preset:?} {:?}",
                once.problems()
            );
            assert_eq!(once.socket(&id).unwrap().facing, preset.usual_facing());
            let twice = once.edited(&preset.edit(&once, &id).unwrap()).unwrap();
            assert_eq!(once, twice, "{preset:?}");
            assert_eq!(preset.edit(&once, &"nowhere".into()), None);
        }
    }

    #[test]
    fn a_socket_that_was_placed_keeps_its_face() {
        let mut plan = plan();
        plan.sockets[0].facing = Facing::Back;
        plan.sockets[0].at_mm = Some([-40.0, 3.0, 4.0]);
        let edit = JointPreset::Locker.edit(&plan, &"spot".into()).unwrap();
        let plan = plan.edited(&edit).unwrap();
        assert_eq!(plan.sockets[0].facing, Facing::Back);
        assert_eq!(plan.sockets[1].facing, Facing::Front);
        assert_eq!(plan.sockets[1].at_mm, Some([40.0, 3.0, 4.0]));
        let far = plan.sockets[1].sites[0].through.as_ref().unwrap();
        assert_eq!(
            (far.socket.as_str(), far.site.as_str()),
            (plan.sockets[0].id.as_str(), "a")
        );
    }

    #[test]
    fn sites_stay_on_a_small_face() {
        let mut plan = plan();
        plan.parts[0].size_mm = [9.0, 8.0, 7.0];
        for preset in JointPreset::ALL {
            let after = plan
                .edited(&preset.edit(&plan, &"spot".into()).unwrap())
                .unwrap();
            let socket = &after.sockets[0];
            let outline = socket.patch.outline_mm();
            for site in &socket.sites {
                assert!(
                    site.at_mm[0].abs() <= outline.iter().map(|p| p[0]).fold(0.0, f64::max) + 1e-9
                );
            }
        }
    }
}
