//! Changes to sites and seats as edits: several in one part or socket become one edit.

use lodewright_assembly::{Board, Joint};
use lodewright_kit::{Edit, Fit, Plan, PlugSiteRef, Pole, Pose, Site, SocketSiteRef, Variant};

use crate::context::Context;
use crate::hole_runs::Owner;
use crate::holes::{Face, HoleIx, Holes};

/// A plan that is being changed, beside the one that it began as.
pub(crate) struct Draft<'a> {
    board: &'a Board,
    holes: &'a Holes,
    /// The plan as it is now.
    pub plan: Plan,
}

/// A site to be changed.
enum Place<'s> {
    Socket(&'s mut Site<SocketSiteRef>),
    Plug(&'s mut Site<PlugSiteRef>),
}

impl<'a> Draft<'a> {
    pub(crate) fn new(context: &'a Context) -> Self {
        Self {
            board: &context.board,
            holes: &context.holes,
            plan: (**context.plan()).clone(),
        }
    }

    /// The edits that make the draft out of the plan.
    pub(crate) fn edits(&self) -> Vec<Edit> {
        let (old, new) = (&self.board.plan, &self.plan);
        let sockets = old.sockets.iter().zip(&new.sockets);
        let parts = old.parts.iter().zip(&new.parts);
        let mut edits: Vec<Edit> = sockets
            .filter(|(a, b)| a != b)
            .map(|(_, b)| Edit::PutSocket(Box::new(b.clone())))
            .collect();
        edits.extend(
            parts
                .filter(|(a, b)| a != b)
                .map(|(_, b)| Edit::PutPart(Box::new(b.clone()))),
        );
        for (a, b) in old.variants.iter().zip(&new.variants) {
            edits.extend(changed_cells(a, b));
        }
        edits
    }

    /// What goes in a hole.
    pub(crate) fn fit(&mut self, hole: HoleIx, fit: &Fit) -> Option<()> {
        self.site(hole, false, &|place| match place {
            Place::Socket(site) => site.fit = fit.clone(),
            Place::Plug(site) => site.fit = fit.clone(),
        })
    }

    /// The pole at a hole's first face; none leaves it open, at both ends of a through hole.
    pub(crate) fn pole(&mut self, hole: HoleIx, pole: Option<Pole>) -> Option<()> {
        let set = |to: Option<Pole>| {
            move |place: Place<'_>| match place {
                Place::Socket(site) => site.pole = to,
                Place::Plug(site) => site.pole = to,
            }
        };
        if self.holes.holes[hole].through {
            self.site(hole, true, &set(None))?;
        }
        self.site(hole, false, &set(pole))
    }

    /// A through hole becomes two blind ones of this depth, mm, each with what the planner chooses.
    pub(crate) fn split(&mut self, hole: HoleIx, depth_mm: f64) -> Option<()> {
        for far in [true, false] {
            self.site(hole, far, &|place| match place {
                Place::Socket(site) => {
                    (site.through, site.max_depth_mm, site.fit) = (None, depth_mm, Fit::Auto);
                }
                Place::Plug(site) => {
                    (site.through, site.max_depth_mm, site.fit) = (None, depth_mm, Fit::Auto);
                }
            })?;
        }
        Some(())
    }

    /// Every seat of a joint in another pose, or gone.
    pub(crate) fn seat(&mut self, joint: Joint, pose: Option<Pose>) {
        let board = self.board;
        let id = &board.socket(joint.socket).id;
        let part = board.part(joint.part);
        for cell in self.plan.variants.iter_mut().flat_map(|v| &mut v.cells) {
            if cell.socket != *id {
                continue;
            }
            let is_it = |seat: &lodewright_kit::Seat| {
                seat.part == part.id
                    && seat.plug_in(part).map(|g| &g.id) == Some(&part.plugs[joint.plug].id)
                    && seat.pose.over == joint.pose.over
                    && (seat.pose.turn_deg - joint.pose.turn_deg).rem_euclid(360.0) == 0.0
            };
            match pose {
                None => cell.seats.retain(|s| !is_it(s)),
                Some(pose) => {
                    for seat in cell.seats.iter_mut().filter(|s| is_it(s)) {
                        seat.pose = pose;
                    }
                    // Options that have become the same are one.
                    let mut kept: Vec<lodewright_kit::Seat> = Vec::new();
                    for seat in cell.seats.drain(..) {
                        if !kept.contains(&seat) {
                            kept.push(seat);
                        }
                    }
                    cell.seats = kept;
                }
            }
        }
    }

    fn site(&mut self, hole: HoleIx, far: bool, change: &dyn Fn(Place<'_>)) -> Option<()> {
        let holes = self.holes;
        let face = holes.face_of(hole, far)?;
        let hole = &holes.holes[hole];
        match (face.owner, hole.owner) {
            (Owner::Socket(at), Owner::Socket(first)) => {
                let first = &self.board.socket(first).id;
                let sites = &mut self.plan.sockets[at].sites;
                let names = |s: &&mut Site<SocketSiteRef>| match &s.through {
                    Some(t) => far && t.socket == *first && t.site == hole.site,
                    None => !far && s.id == hole.site,
                };
                change(Place::Socket(sites.iter_mut().find(names)?));
            }
            (Owner::Plug(part, at), Owner::Plug(_, first)) => {
                let first = self.board.part(part).plugs[first].id.clone();
                let plug = &mut self.plan.parts[part].plugs[at];
                let sites = plug
                    .sites
                    .get_or_insert_with(|| implied_sites(holes, face.owner));
                let names = |s: &&mut Site<PlugSiteRef>| match &s.through {
                    Some(t) => far && t.plug == first && t.site == hole.site,
                    None => !far && s.id == hole.site,
                };
                change(Place::Plug(sites.iter_mut().find(names)?));
            }
            _ => return None,
        }
        Some(())
    }
}

fn changed_cells(old: &Variant, new: &Variant) -> Vec<Edit> {
    new.cells
        .iter()
        .filter(|c| old.cell(&c.socket) != Some(c))
        .map(|c| Edit::PutCell(new.id.clone(), c.clone()))
        .collect()
}

/// The holes that a plug has opposite the sites of its sockets, as sites of its own.
fn implied_sites(holes: &Holes, of: Owner) -> Vec<Site<PlugSiteRef>> {
    let site = |f: &Face| {
        let hole = &holes.holes[f.hole];
        Site {
            at_mm: f.at_mm,
            max_diameter_mm: hole.max_diameter_mm,
            max_depth_mm: hole.max_depth_mm,
            wall_mm: f.wall_mm,
            fit: hole.fit.clone(),
            pole: hole.pinned,
            ..Site::plain(hole.site.clone())
        }
    };
    holes.faces_on(of).map(|(_, f)| site(f)).collect()
}
