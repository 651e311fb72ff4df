//! Friction pins that may stand in for magnets.

use lodewright_kit::{Attach, SocketIx};

use crate::context::Context;
use crate::hole_runs::Owner;
use crate::holes::HoleIx;

/// Faces that hang together through holes with more sockets than this that a pin may serve have pins in all or in none.
const MOST_PINNED: usize = 3;

/// Whether a hole opens only at sockets where a pin stands in, so that it has nothing to do.
pub fn is_idle(context: &Context, hole: HoleIx, pins: &[SocketIx]) -> bool {
    let mut at = sockets_at(context, hole).peekable();
    at.peek().is_some() && at.all(|s| pins.contains(&s))
}

/// Sockets on whose face a hole opens.
fn sockets_at(context: &Context, hole: HoleIx) -> impl Iterator<Item = SocketIx> {
    let faces = context.holes.faces.iter();
    let mine = faces.filter(move |f| f.hole == hole);
    mine.filter_map(|f| match f.owner {
        Owner::Socket(socket) => Some(socket),
        Owner::Plug(..) => None,
    })
}

/// Which sockets at these holes have a pin, in every way.
pub fn pin_sets(context: &Context, holes: &[HoleIx]) -> Vec<Vec<SocketIx>> {
    let sockets = may_pin(context, holes);
    if sockets.len() > MOST_PINNED {
        return vec![Vec::new(), sockets];
    }
    let mut sets = vec![Vec::new()];
    for socket in sockets {
        let mut with = sets.clone();
        with.iter_mut().for_each(|set| set.push(socket));
        sets.append(&mut with);
    }
    sets
}

/// Sockets at these holes where a friction pin may stand in.
fn may_pin(context: &Context, holes: &[HoleIx]) -> Vec<SocketIx> {
    let mut sockets: Vec<SocketIx> = holes.iter().flat_map(|h| sockets_at(context, *h)).collect();
    sockets.sort_unstable();
    sockets.dedup();
    sockets.retain(|s| {
        let socket = context.board.socket(*s);
        socket.may_pin_n.is_some() && socket.attach == Attach::Magnets
    });
    sockets
}
