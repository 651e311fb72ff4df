//! Where parts may sit, with their bodies in space.

use std::collections::BTreeMap;

use lodewright_body::Standing;
use lodewright_geometry::{Frame, Vec3, distance};
use lodewright_kit::{Ix, PartIx, VariantIx};

use super::Chain;
use crate::situation::{Variants, only};
use crate::{Board, JointIx};

/// Seats looked at: every real kit has far fewer.
const MOST_SEATS: usize = 1_500;

/// A part where it may sit.
#[derive(Clone, Debug)]
pub(super) struct Seat {
    pub part: PartIx,
    pub chain: Chain,
    /// The variants that allow it.
    pub variants: Variants,
    pub standing: Standing,
    /// Out of its host, in the base's axes.
    out: Vec3,
    /// How far it goes until it is clear of everything, mm.
    far_mm: f64,
}

impl Seat {
    /// Whether the boxes that hold them share space.
    pub fn boxes_meet(&self, other: &Self) -> bool {
        let both = self.standing.bounds_mm().zip(other.standing.bounds_mm());
        both.is_some_and(|(a, b)| (0..3).all(|k| a[0][k] < b[1][k] && b[0][k] < a[1][k]))
    }

    /// Whether another sits on it, or on what it carries.
    pub fn carries(&self, other: &Self) -> bool {
        other.chain.len() > self.chain.len() && other.chain.starts_with(&self.chain)
    }

    /// Whether the other is the part that this one sits on.
    pub fn is_host(&self, other: &Self, board: &Board) -> bool {
        let Some((last, before)) = self.chain.split_last() else {
            return false;
        };
        before == other.chain.as_slice() && board.host(board.joints[*last].socket) == other.part
    }

    /// Whether one model could have both, as far as the two ways to them tell: no part twice, no socket with two things in it.
    pub fn goes_with(&self, other: &Self, board: &Board) -> bool {
        if self.variants & other.variants == 0 {
            return false;
        }
        let same = self.chain.iter().zip(&other.chain);
        let shared = same.take_while(|(a, b)| a == b).count();
        let (a, b) = (&self.chain[shared..], &other.chain[shared..]);
        a.iter().all(|x| {
            let x = board.joints[*x];
            b.iter().all(|y| {
                let y = board.joints[*y];
                x.part != y.part && x.socket != y.socket
            })
        })
    }

    /// The same with all that it passes over when it comes off straight.
    pub fn way(&self) -> Self {
        Self {
            standing: self.standing.swept(self.out, self.far_mm),
            ..self.clone()
        }
    }
}

/// Every seat on sockets that are placed, the base first, and whether these are all.
pub(super) fn seats(board: &Board) -> (Vec<Seat>, bool) {
    let mut at: BTreeMap<Chain, usize> = BTreeMap::new();
    let mut seats: Vec<Seat> = Vec::new();
    let mut frames: Vec<Frame> = Vec::new();
    let mut is_whole = true;
    for variant in VariantIx::all(&board.plan.variants) {
        let mut next: Vec<Chain> = vec![Vec::new()];
        while let Some(chain) = next.pop() {
            let known = at.get(&chain).copied();
            let here = match known {
                Some(here) => here,
                None if seats.len() >= MOST_SEATS => {
                    is_whole = false;
                    break;
                }
                None => {
                    let below = chain.split_last().map(|(last, before)| (*last, at[before]));
                    let frame = match below {
                        None => Frame::WORLD,
                        Some((joint, host)) => board.part_on_host(joint).within(&frames[host]),
                    };
                    let out = below.map_or([0.0, 0.0, 1.0], |(joint, host)| {
                        let socket = board.joints[joint].socket;
                        let seat = board.socket(socket).frame(board.part(board.host(socket)));
                        frames[host].direction_to_outer(seat.axes[2])
                    });
                    seats.push(seat(board, &chain, frame, out));
                    frames.push(frame);
                    at.insert(chain.clone(), seats.len() - 1);
                    seats.len() - 1
                }
            };
            seats[here].variants |= only(variant);
            next.extend(upon(board, variant, &seats[here]));
        }
    }
    let far_mm = far_mm(&seats);
    for seat in &mut seats {
        seat.far_mm = far_mm;
    }
    (seats, is_whole)
}

fn seat(board: &Board, chain: &Chain, frame: Frame, out: Vec3) -> Seat {
    let part = chain.last().map_or(board.base(), |j| board.joints[*j].part);
    Seat {
        part,
        chain: chain.clone(),
        variants: 0,
        standing: Standing::new(board.body(part), frame),
        out,
        far_mm: 0.0,
    }
}

/// What may sit on a seat in a variant: parts that are not under it already, in sockets that are placed.
fn upon(board: &Board, variant: VariantIx, seat: &Seat) -> Vec<Chain> {
    let sockets = board.carried(seat.part).iter();
    let placed = sockets.filter(|s| board.socket(**s).is_placed());
    let joints = placed.flat_map(|s| board.choices(variant, *s).iter().flatten());
    let is_new = |joint: &&JointIx| {
        let part = board.joints[**joint].part;
        let under = seat.chain.iter().map(|j| board.joints[*j].part);
        part != board.base() && !under.into_iter().any(|p| p == part)
    };
    let longer = |joint: &JointIx| {
        let mut chain = seat.chain.clone();
        chain.push(*joint);
        chain
    };
    joints.filter(is_new).map(longer).collect()
}

/// Farther than this nothing of the model is from anything else, mm.
fn far_mm(seats: &[Seat]) -> f64 {
    let bounds = seats.iter().filter_map(|s| s.standing.bounds_mm());
    let around = bounds.reduce(|[low, high], b| {
        [
            std::array::from_fn(|k| low[k].min(b[0][k])),
            std::array::from_fn(|k| high[k].max(b[1][k])),
        ]
    });
    around.map_or(0.0, |[low, high]| distance(low, high))
}
