//! Parts, sockets and variants that come and go, with what goes with them.

use super::refusal::{Refusal, found, label};
use crate::{Cell, Part, PartId, Plan, Socket, SocketId, Variant, VariantId, slug};

impl Plan {
    pub(super) fn add_part(&mut self, name: &str) -> Result<(), Refusal> {
        let (id, name) = entitled(name, self.parts.iter().map(|p| p.id.as_str()))?;
        self.parts.push(Part::plain(PartId::new(id), name));
        Ok(())
    }

    pub(super) fn drop_part(&mut self, id: &PartId) -> Result<(), Refusal> {
        if *id == self.base {
            return Err(Refusal::new(
                "The base carries everything else and stays. Rename it instead.",
            ));
        }
        if let Some(socket) = self.sockets.iter().find(|s| s.host == *id) {
            return Err(Refusal::new(format!(
                "This part carries the socket '{}'. Remove the socket, or put it on another part, first.",
                socket.name
            )));
        }
        self.parts.retain(|p| p.id != *id);
        self.stowing.upright.retain(|p| p != id);
        for cell in self.variants.iter_mut().flat_map(|v| &mut v.cells) {
            cell.seats.retain(|s| s.part != *id);
        }
        self.forget_empty_cells();
        Ok(())
    }

    pub(super) fn add_socket(&mut self, name: &str, host: &PartId) -> Result<(), Refusal> {
        let (id, name) = entitled(name, self.sockets.iter().map(|s| s.id.as_str()))?;
        self.sockets
            .push(Socket::plain(SocketId::new(id), name, host.clone()));
        Ok(())
    }

    pub(super) fn drop_socket(&mut self, id: &SocketId) {
        self.sockets.retain(|s| s.id != *id);
        for variant in &mut self.variants {
            variant.cells.retain(|c| c.socket != *id);
        }
        // The other end of a through hole stays as a hole of its own.
        for site in self.sockets.iter_mut().flat_map(|s| &mut s.sites) {
            if site.through.as_ref().is_some_and(|f| f.socket == *id) {
                site.through = None;
            }
        }
    }

    pub(super) fn add_variant(
        &mut self,
        name: &str,
        cells: Vec<Cell>,
    ) -> Result<VariantId, Refusal> {
        let (id, name) = entitled(name, self.variants.iter().map(|v| v.id.as_str()))?;
        let id = VariantId::new(id);
        self.variants.push(Variant {
            id: id.clone(),
            name,
            cells,
        });
        Ok(id)
    }

    pub(super) fn variant_mut(&mut self, id: &VariantId) -> Result<&mut Variant, Refusal> {
        found(self.variants.iter_mut().find(|v| v.id == *id))
    }
}

/// An id for a further entry, made of its label, and the label as it is kept.
fn entitled<'a>(
    name: &str,
    taken: impl Iterator<Item = &'a str> + Clone,
) -> Result<(String, String), Refusal> {
    let name = label(name)?;
    Ok((slug(&name, taken), name))
}
