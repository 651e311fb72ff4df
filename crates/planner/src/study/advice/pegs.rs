//! Pegs as advice.

use lodewright_kit::{Edit, PegKind};

use super::changes::Changes;

impl Changes<'_> {
    pub(super) fn keep_peg(&mut self) {
        let mut part = self.plan.parts[self.joint.part].clone();
        let has_peg = self.plan.sockets[self.joint.socket].peg.kind != PegKind::None;
        let plug = &mut part.plugs[self.joint.plug];
        if has_peg && !plug.keeps_peg {
            plug.keeps_peg = true;
            self.add(
                "Keep the peg on the part.".to_owned(),
                Some(Edit::PutPart(Box::new(part))),
            );
        }
    }

    pub(super) fn pegs(&mut self) {
        let mut socket = self.plan.sockets[self.joint.socket].clone();
        if !self.plan.parts[self.joint.part].plugs[self.joint.plug].keeps_peg {
            return;
        }
        if socket.peg.kind != PegKind::None && !socket.peg.snug {
            let mut snug = socket.clone();
            snug.peg.snug = true;
            self.add(
                "Make the peg snug, so that it carries tipping.".to_owned(),
                Some(Edit::PutSocket(Box::new(snug))),
            );
        }
        if !matches!(socket.peg.kind, PegKind::Two | PegKind::Keyed) {
            socket.peg.kind = PegKind::Two;
            self.add(
                "Give it two pegs, which stop sliding and turning.".to_owned(),
                Some(Edit::PutSocket(Box::new(socket))),
            );
        }
    }
}
