//! Pegs as advice.

use lodewright_kit::{Edit, PegKind};

use super::changes::Changes;

impl Changes<'_> {
    pub(super) fn keep_peg(&mut self) {
        let Some(mut part) = self.plan.parts.get(self.joint.part).cloned() else {
            return;
        };
        let has_peg = self
            .plan
            .sockets
            .get(self.joint.socket)
            .is_some_and(|s| s.peg.kind != PegKind::None);
        let Some(plug) = part.plugs.get_mut(self.joint.plug) else {
            return;
        };
        if has_peg && !plug.keeps_peg {
            plug.keeps_peg = true;
            self.add(
                "Keep the peg on the part.".to_owned(),
                Some(Edit::PutPart(Box::new(part))),
            );
        }
    }

    pub(super) fn pegs(&mut self) {
        let Some(mut socket) = self.plan.sockets.get(self.joint.socket).cloned() else {
            return;
        };
        let keeps = self
            .plan
            .parts
            .get(self.joint.part)
            .and_then(|p| p.plugs.get(self.joint.plug))
            .is_some_and(|p| p.keeps_peg);
        if !keeps {
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
