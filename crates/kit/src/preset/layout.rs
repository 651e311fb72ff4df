//! Contact, pegs and sites of each usual joint, as large as the host allows where its socket lies.

use lodewright_body::{DRILL_POINT, LEAST_WALL_MM};
use lodewright_geometry::{distance, norm};

use super::PresetRefusal;
use super::ground::{Ground, HAIR_MM};
use crate::{JointPreset, Part, Patch, PegFit, PegKind, Site, SiteId, Socket, SocketSiteRef};

/// The smallest hole that is offered, mm: discs of 2 mm are the smallest in common stock.
const LEAST_HOLE_MM: f64 = 2.5;
/// The least depth that is offered, mm: a disc 1 mm high with its glue.
const LEAST_DEPTH_MM: f64 = 1.1;
/// The thinnest wall that a magnet goes through, mm: discs are hardly lower.
const LEAST_WALL_THROUGH_MM: f64 = 1.0;
/// The thickest wall that one magnet serves from both sides, mm.
pub(super) const MOST_WALL_THROUGH_MM: f64 = 4.0;
/// Holes are tried in such steps, mm.
const STEP_MM: f64 = 0.5;
/// Contact is tried in this many steps down to a quarter.
const SHRINKS: u32 = 15;

/// What a kind of joint has where there is room for all of it.
struct Wants {
    /// Width and height of the contact, mm.
    contact_mm: [f64; 2],
    /// What stays free at the edges of the face, mm.
    edge_mm: f64,
    hole_mm: f64,
    depth_mm: f64,
    peg: PegKind,
    peg_mm: f64,
    peg_length_mm: f64,
}

fn wants(preset: JointPreset) -> Wants {
    let all = f64::INFINITY;
    let (contact_mm, edge_mm, hole_mm, depth_mm, peg, peg_mm, peg_length_mm) = match preset {
        JointPreset::NoseTool => ([16.0, 12.0], 0.5, 6.0, 3.0, PegKind::Keyed, 2.0, 4.0),
        JointPreset::Plate => ([40.0, 30.0], 0.5, 6.0, 3.0, PegKind::Two, 2.0, 3.0),
        JointPreset::Roof => ([all, all], 2.0, 5.0, 3.0, PegKind::Two, 2.0, 2.0),
        JointPreset::Locker => ([16.0, 10.0], 0.5, 5.0, all, PegKind::Keyed, 2.0, 1.0),
        JointPreset::Waist => ([8.0, 8.0], 0.5, 4.0, 3.0, PegKind::None, 2.0, 3.0),
        JointPreset::Antenna => ([6.0, 6.0], 0.5, 3.0, 2.0, PegKind::Round, 1.0, 1.5),
    };
    Wants {
        contact_mm,
        edge_mm,
        hole_mm,
        depth_mm,
        peg,
        peg_mm,
        peg_length_mm,
    }
}

/// A layout that has not met its host yet.
struct Draft {
    patch: Patch,
    peg: PegFit,
    holes_mm: Vec<[f64; 2]>,
    hole_mm: f64,
}

/// Lays a socket of this host out.
pub(super) fn lay_out(
    preset: JointPreset,
    socket: &mut Socket,
    host: &Part,
    flat_cutter: bool,
) -> Result<(), PresetRefusal> {
    let ground = Ground::of(socket, host);
    if ground.is_bare() {
        return Err(PresetRefusal::NoMaterial);
    }
    let wants = wants(preset);
    let mut nearest = None;
    for draft in drafts(preset, &wants, ground.room_mm()) {
        match draft.on(&ground, preset, &wants, flat_cutter) {
            Ok((peg, sites)) => {
                (socket.patch, socket.peg, socket.sites) = (draft.patch, peg, sites);
                return Ok(());
            }
            // The draft that came nearest to fitting says what is amiss.
            Err(why) if nearest.is_none_or(|n| rank(n) < rank(why)) => nearest = Some(why),
            Err(_) => {}
        }
    }
    Err(nearest.unwrap_or(PresetRefusal::NoMaterial))
}

fn rank(why: PresetRefusal) -> u8 {
    match why {
        PresetRefusal::FaceTooSmall { .. } => 0,
        PresetRefusal::NoMaterial => 1,
        _ => 2,
    }
}

/// The largest contact first, with the widest holes first.
fn drafts(preset: JointPreset, wants: &Wants, room_mm: [f64; 2]) -> impl Iterator<Item = Draft> {
    let largest = [0, 1].map(|k| wants.contact_mm[k].min(room_mm[k] - 2.0 * wants.edge_mm));
    let mut holes = vec![wants.hole_mm];
    while let Some(next) = holes
        .last()
        .map(|d| d - STEP_MM)
        .filter(|d| *d >= LEAST_HOLE_MM)
    {
        holes.push(next);
    }
    let (peg, peg_mm, length_mm) = (wants.peg, wants.peg_mm, wants.peg_length_mm);
    (0..=SHRINKS).flat_map(move |n| {
        let part = 1.0 - 0.75 * f64::from(n) / f64::from(SHRINKS);
        let contact = largest.map(|mm| (mm * part).max(0.0));
        let holes = holes.clone();
        holes.into_iter().map(move |hole_mm| {
            let (at_mm, holes_mm) = places(preset, contact, hole_mm, peg_mm);
            let [width_mm, height_mm] = contact;
            Draft {
                patch: match preset {
                    JointPreset::Waist | JointPreset::Antenna => Patch::Disc {
                        diameter_mm: width_mm.min(height_mm),
                    },
                    _ => Patch::Rectangle {
                        width_mm,
                        height_mm,
                    },
                },
                peg: PegFit {
                    kind: peg,
                    at_mm,
                    diameter_mm: peg_mm,
                    length_mm,
                    ..PegFit::default()
                },
                holes_mm,
                hole_mm,
            }
        })
    })
}

/// Where the first peg and the holes stand, mm.
fn places(
    preset: JointPreset,
    [wide, high]: [f64; 2],
    hole_mm: f64,
    peg_mm: f64,
) -> ([f64; 2], Vec<[f64; 2]>) {
    let at_rim = |across: f64, disc: f64| across / 2.0 - LEAST_WALL_MM - disc / 2.0;
    let (x, y) = (at_rim(wide, hole_mm), at_rim(high, hole_mm));
    match preset {
        JointPreset::NoseTool => ([0.0; 2], vec![[x, 0.0], [-x, 0.0]]),
        JointPreset::Plate => ([0.0, at_rim(high, peg_mm)], vec![[x, 0.0], [-x, 0.0]]),
        JointPreset::Roof => (
            [at_rim(wide, peg_mm), 0.0],
            vec![[x, y], [-x, y], [-x, -y], [x, -y]],
        ),
        // Of the two sockets on one wall each has its peg to its own left.
        JointPreset::Locker => ([-at_rim(wide, peg_mm), 0.0], vec![[0.0; 2]]),
        JointPreset::Waist => ([0.0; 2], vec![[0.0; 2]]),
        JointPreset::Antenna => {
            let half = (peg_mm + LEAST_WALL_MM + hole_mm) / 2.0;
            (
                [peg_mm / 2.0 - half, 0.0],
                vec![[half - hole_mm / 2.0, 0.0]],
            )
        }
    }
}

impl Draft {
    /// Peg and sites on this ground.
    fn on(
        &self,
        ground: &Ground,
        preset: JointPreset,
        wants: &Wants,
        flat_cutter: bool,
    ) -> Result<(PegFit, Vec<Site<SocketSiteRef>>), PresetRefusal> {
        if !self.is_sound() {
            let room_mm = ground.room_mm();
            return Err(PresetRefusal::FaceTooSmall { room_mm });
        }
        if !ground.carries(&self.patch.outline_mm()) {
            return Err(PresetRefusal::NoMaterial);
        }
        let through = preset == JointPreset::Locker;
        let mut peg = self.peg.clone();
        for at_mm in peg.centres_mm() {
            let there = self.material_mm(ground, at_mm, peg.diameter_mm)?;
            peg.length_mm = peg.length_mm.min(tenths(there - LEAST_WALL_MM));
        }
        let mut sites = Vec::new();
        for (id, at_mm) in ["a", "b", "c", "d"].into_iter().zip(&self.holes_mm) {
            let there = self.material_mm(ground, *at_mm, self.hole_mm)?;
            let max_depth_mm = match through {
                true => through_mm(there)?,
                false => wants.depth_mm.min(depth_mm(there, flat_cutter)?),
            };
            sites.push(Site {
                at_mm: *at_mm,
                max_diameter_mm: self.hole_mm,
                max_depth_mm,
                ..Site::plain(SiteId::new(id))
            });
        }
        Ok((peg, sites))
    }

    /// Whether pegs and holes lie within the contact and apart.
    fn is_sound(&self) -> bool {
        let pegs = self.peg.centres_mm().into_iter();
        let discs: Vec<([f64; 2], f64)> = pegs
            .map(|at| (at, self.peg.diameter_mm / 2.0))
            .chain(self.holes_mm.iter().map(|at| (*at, self.hole_mm / 2.0)))
            .collect();
        let least = LEAST_WALL_MM - HAIR_MM;
        let is_within = |(at, radius): &([f64; 2], f64)| {
            let left = match self.patch {
                Patch::Disc { diameter_mm } => diameter_mm / 2.0 - norm(*at),
                Patch::Rectangle {
                    width_mm,
                    height_mm,
                } => (width_mm / 2.0 - at[0].abs()).min(height_mm / 2.0 - at[1].abs()),
                Patch::Points(_) => 0.0,
            };
            left - radius >= least
        };
        let are_apart = |n: usize| {
            let (at, radius) = discs[n];
            let others = discs[..n].iter();
            others
                .into_iter()
                .all(|(b, r)| distance(at, *b) - radius - r >= least)
        };
        discs.iter().all(is_within) && (0..discs.len()).all(are_apart)
    }

    /// Material under a peg or hole that keeps clear of the sides.
    fn material_mm(
        &self,
        ground: &Ground,
        at_mm: [f64; 2],
        diameter_mm: f64,
    ) -> Result<f64, PresetRefusal> {
        let radius_mm = diameter_mm / 2.0;
        let there = ground.material_mm(at_mm, radius_mm);
        let there = there.ok_or(PresetRefusal::NoMaterial)?;
        let left = ground.beside_mm(at_mm, LEAST_DEPTH_MM.min(there)) - radius_mm;
        let is_clear = left >= LEAST_WALL_MM - HAIR_MM;
        is_clear.then_some(there).ok_or(PresetRefusal::NoMaterial)
    }
}

/// The deepest hole in so much material that leaves a wall behind it.
fn depth_mm(material_mm: f64, flat_cutter: bool) -> Result<f64, PresetRefusal> {
    let flat_mm = LEAST_DEPTH_MM + LEAST_WALL_MM;
    let least_mm = match flat_cutter {
        true => flat_mm,
        false => flat_mm + DRILL_POINT * LEAST_HOLE_MM,
    };
    if material_mm < least_mm - HAIR_MM {
        return Err(PresetRefusal::TooThin {
            material_mm,
            least_mm,
            flat_cutter_helps: material_mm >= flat_mm - HAIR_MM,
        });
    }
    Ok(tenths(material_mm - LEAST_WALL_MM))
}

/// A hole right through so much material is as deep.
fn through_mm(material_mm: f64) -> Result<f64, PresetRefusal> {
    if material_mm < LEAST_WALL_THROUGH_MM - HAIR_MM {
        return Err(PresetRefusal::TooThin {
            material_mm,
            least_mm: LEAST_WALL_THROUGH_MM,
            flat_cutter_helps: false,
        });
    }
    Ok(material_mm)
}

/// Down to whole tenths of a millimetre, at least one.
fn tenths(mm: f64) -> f64 {
    ((mm + HAIR_MM) * 10.0).floor().max(1.0) / 10.0
}
