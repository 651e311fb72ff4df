//! The poles of a plan as a parity system with a node for each side of each magnet, so that a hole which is split in two
//! is one constraint less.

use lodewright_assembly::{Board, JointIx};
use lodewright_kit::{Ix, Pole, Table};
use lodewright_solve::parity::{Constraint, Pin};

use crate::hole_runs::Owner;
use crate::holes::{HoleIx, Holes};
use crate::mating::Mate;
use crate::pull::{Filling, Fillings};

/// What asks for a constraint.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Asks {
    /// One magnet has opposite poles on its two sides.
    Magnet(HoleIx),
    /// Two magnets of this joint meet.
    Joint(JointIx),
    /// Two magnets would meet if this candidate were carried out.
    Candidate(JointIx),
}

/// The system.
#[derive(Clone, Debug, Default)]
pub(crate) struct Links {
    pub constraints: Vec<Constraint>,
    /// Who asks for each constraint.
    pub asks: Vec<Asks>,
    pub pins: Vec<Pin>,
}

/// The node of a magnet's side; true is the outward pole N.
pub(crate) fn node(hole: HoleIx, back: bool) -> usize {
    2 * hole.get() + usize::from(back)
}

/// The hole that a node belongs to.
pub(crate) fn hole_of(node: usize) -> HoleIx {
    HoleIx::new(node / 2)
}

impl Links {
    pub(crate) fn of(
        board: &Board,
        holes: &Holes,
        mates: &Table<JointIx, Vec<Mate>>,
        fillings: &Fillings,
    ) -> Self {
        let mut links = Self::default();
        for (h, hole) in HoleIx::each(&holes.holes) {
            if !matches!(fillings[h], Filling::Magnet(_)) {
                continue;
            }
            links.push(node(h, false), node(h, true), Asks::Magnet(h));
            if let Some(pole) = hole.pinned {
                // A wish at a far end has come to the first end as the other pole; it belongs to the far end.
                let back = hole.through && first_site_pole(board, holes, h).is_none();
                let pole = if back { pole.other() } else { pole };
                links.pins.push(Pin {
                    node: node(h, back),
                    value: pole == Pole::N,
                });
            }
        }
        for (joint, mates) in mates.iter() {
            for mate in mates {
                links.meet(holes, mate, fillings, Asks::Joint(joint));
            }
        }
        links
    }

    /// Two faces that meet show different poles, if both have magnets; the constraint's index.
    pub(crate) fn meet(
        &mut self,
        holes: &Holes,
        mate: &Mate,
        fillings: &Fillings,
        asks: Asks,
    ) -> Option<usize> {
        let [a, b] = mate.holes(holes);
        let magnet = |h: HoleIx| matches!(fillings[h], Filling::Magnet(_));
        if !magnet(a) || !magnet(b) {
            return None;
        }
        let far = holes.faces[mate.socket_face].far;
        self.push(node(a, far), node(b, mate.shows_back(holes)), asks);
        Some(self.constraints.len() - 1)
    }

    /// The constraints and pins at these holes.
    pub(crate) fn of_holes(&self, holes: &[HoleIx]) -> (Vec<usize>, Vec<usize>) {
        let at = |node: usize| holes.contains(&hole_of(node));
        let constraints = self.constraints.iter().enumerate();
        let pins = self.pins.iter().enumerate();
        (
            constraints
                .filter(|(_, c)| at(c.a) || at(c.b))
                .map(|(i, _)| i)
                .collect(),
            pins.filter(|(_, p)| at(p.node)).map(|(i, _)| i).collect(),
        )
    }

    /// Forgets the last so many constraints.
    pub(crate) fn take_back(&mut self, count: usize) {
        let keep = self.constraints.len().saturating_sub(count);
        self.constraints.truncate(keep);
        self.asks.truncate(keep);
    }

    fn push(&mut self, a: usize, b: usize, asks: Asks) {
        let differ = true;
        self.constraints.push(Constraint { a, b, differ });
        self.asks.push(asks);
    }
}

/// The pole wished for at the site that does not name the other end.
fn first_site_pole(board: &Board, holes: &Holes, hole: HoleIx) -> Option<Pole> {
    let h = &holes.holes[hole];
    match h.owner {
        Owner::Socket(socket) => {
            let sites = &board.socket(socket).sites;
            sites.iter().find(|s| s.id == h.site)?.pole
        }
        Owner::Plug(part, plug) => {
            let sites = board.part(part).plugs[plug].sites.as_ref()?;
            sites.iter().find(|s| s.id == h.site)?.pole
        }
    }
}
