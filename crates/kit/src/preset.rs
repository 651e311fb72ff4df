//! Usual joints: contact, pegs and sites laid out for a kind of joint, to be adjusted. Every size here is common practice,
//! no source.

use crate::{
    Edit, Facing, Part, PartId, Patch, PegFit, PegKind, Plan, Section, Site, SiteId, Socket,
    SocketId, SocketSiteRef, ThinSection, slug,
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
        match self {
            Self::NoseTool => "nose-tool",
            Self::Plate => "plate",
            Self::Roof => "roof",
            Self::Locker => "locker",
            Self::Waist => "waist",
            Self::Antenna => "antenna",
        }
    }

    /// What it is called.
    pub fn name(self) -> &'static str {
        match self {
            Self::NoseTool => "Tool on a peg",
            Self::Plate => "Plate on a shelf",
            Self::Roof => "Roof on four corners",
            Self::Locker => "Lockers on two faces",
            Self::Waist => "Waist of a figure",
            Self::Antenna => "Whip antenna",
        }
    }

    /// What it lays out, in a sentence.
    pub fn says(self) -> &'static str {
        match self {
            Self::NoseTool => {
                "14 by 12 mm of contact, a keyed peg 4 mm long, a site of 6 by 3 mm on each side of it."
            }
            Self::Plate => {
                "Most of the face, at the largest 40 by 30 mm, two pegs 3 mm long, a site of 6 by 3 mm near each end."
            }
            Self::Roof => {
                "The whole face but 2 mm at its edges, two pegs, a site of 5 by 3 mm in each corner."
            }
            Self::Locker => {
                "16 by 10 mm of contact, keyed, on this face and on the one behind it; one hole right through the wall serves both."
            }
            Self::Waist => {
                "A disc of 8 mm, no peg, one site of 4 by 3 mm in its middle: it turns freely."
            }
            Self::Antenna => {
                "A disc of 5 mm, a round peg, one site of 3 by 2 mm; the parts there get a rod of 1 mm that must let go."
            }
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
        self.lay_out(&mut next, host);
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

    fn lay_out(self, socket: &mut Socket, host: &Part) {
        let [wide, high] = face_mm(socket.facing, host.size_mm);
        let fit = |want: f64, there: f64| want.min((there - 1.0).max(1.0));
        let rectangle = |w: f64, h: f64| Patch::Rectangle {
            width_mm: w,
            height_mm: h,
        };
        let (patch, kind, peg_at, length_mm, sites) = match self {
            Self::NoseTool => {
                let (w, h) = (fit(14.0, wide), fit(12.0, high));
                let x = (w / 2.0 - 3.5).max(0.0);
                (
                    rectangle(w, h),
                    PegKind::Keyed,
                    [0.0; 2],
                    4.0,
                    pair(x, 0.0, 6.0, 3.0),
                )
            }
            Self::Plate => {
                let (w, h) = (fit(40.0, wide), fit(30.0, high));
                let x = (w / 2.0 - 5.0).max(0.0);
                (
                    rectangle(w, h),
                    PegKind::Two,
                    [0.0; 2],
                    3.0,
                    pair(x, 0.0, 6.0, 3.0),
                )
            }
            Self::Roof => {
                let (w, h) = (fit(wide, wide - 3.0), fit(high, high - 3.0));
                let (x, y) = ((w / 2.0 - 4.0).max(0.0), (h / 2.0 - 4.0).max(0.0));
                (
                    rectangle(w, h),
                    PegKind::Two,
                    [0.0; 2],
                    2.0,
                    corners(x, y, 5.0, 3.0),
                )
            }
            Self::Locker => (
                rectangle(fit(16.0, wide), fit(10.0, high)),
                PegKind::Keyed,
                [0.0; 2],
                1.0,
                // A hole through a thin wall is as deep as the wall.
                vec![site(
                    "a",
                    [0.0; 2],
                    5.0,
                    wall_mm(socket.facing, host.size_mm),
                )],
            ),
            Self::Waist => (
                Patch::Disc { diameter_mm: 8.0 },
                PegKind::None,
                [0.0; 2],
                3.0,
                vec![site("a", [0.0; 2], 4.0, 3.0)],
            ),
            Self::Antenna => (
                Patch::Disc { diameter_mm: 5.0 },
                PegKind::Round,
                [0.0; 2],
                1.5,
                vec![site("a", [0.0; 2], 3.0, 2.0)],
            ),
        };
        socket.patch = patch;
        socket.peg = PegFit {
            kind,
            at_mm: peg_at,
            length_mm,
            ..PegFit::default()
        };
        socket.sites = sites;
    }
}

/// Width and height of a face in its own axes, mm.
fn face_mm(facing: Facing, [x, y, z]: [f64; 3]) -> [f64; 2] {
    match facing {
        Facing::Up | Facing::Down => [x, y],
        Facing::Front | Facing::Back => [y, z],
        Facing::Left | Facing::Right => [x, z],
    }
}

fn wall_mm(facing: Facing, size_mm: [f64; 3]) -> f64 {
    (2.0 * facing.half_extent_mm(size_mm)).clamp(0.5, 3.0)
}

fn site(id: &str, at_mm: [f64; 2], max_diameter_mm: f64, max_depth_mm: f64) -> Site<SocketSiteRef> {
    Site {
        at_mm,
        max_diameter_mm,
        max_depth_mm,
        ..Site::plain(SiteId::new(id))
    }
}

fn pair(x: f64, y: f64, across: f64, deep: f64) -> Vec<Site<SocketSiteRef>> {
    vec![
        site("a", [x, y], across, deep),
        site("b", [-x, y], across, deep),
    ]
}

fn corners(x: f64, y: f64, across: f64, deep: f64) -> Vec<Site<SocketSiteRef>> {
    [("a", x, y), ("b", -x, y), ("c", -x, -y), ("d", x, -y)]
        .into_iter()
        .map(|(id, x, y)| site(id, [x, y], across, deep))
        .collect()
}

/// The socket on the other side of the wall: one that is there already, or a further one. Its only site becomes the far end of
/// `near`'s hole.
fn behind(plan: &Plan, near: &mut Socket, host: &Part) -> Vec<Edit> {
    let far_side = near.facing.opposite();
    let there = plan
        .sockets
        .iter()
        .find(|s| s.host == near.host && s.facing == far_side && s.id != near.id);
    // A new one gets the id that its label makes, so that it can be named before it is there.
    let name = format!("{}, far side", near.name);
    let (mut far, mut edits) = match there {
        Some(old) => (old.clone(), Vec::new()),
        None => {
            let id = slug(&name, plan.sockets.iter().map(|s| s.id.as_str()));
            let add = Edit::AddSocket {
                name: name.clone(),
                host: near.host.clone(),
            };
            (
                Socket::plain(SocketId::new(id), name, near.host.clone()),
                vec![add],
            )
        }
    };
    far.facing = far_side;
    JointPreset::Locker.lay_out(&mut far, host);
    if let Some(at_mm) = near.at_mm {
        // The same place, seen from the other side of the wall.
        let axis = match far_side {
            Facing::Front | Facing::Back => 0,
            Facing::Left | Facing::Right => 1,
            Facing::Up | Facing::Down => 2,
        };
        let mut there = at_mm;
        there[axis] = host.box_middle_mm[axis]
            + far_side.normal()[axis] * far_side.half_extent_mm(host.size_mm);
        far.at_mm = Some(there);
    }
    if let (Some(hole), Some(end)) = (near.sites.first(), far.sites.first_mut()) {
        end.through = Some(SocketSiteRef {
            socket: near.id.clone(),
            site: hole.id.clone(),
        });
    }
    edits.push(Edit::PutSocket(Box::new(far)));
    edits
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
