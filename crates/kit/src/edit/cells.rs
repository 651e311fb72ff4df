//! Cells put, written as words and pasted as a grid.

use super::refusal::{Refusal, found};
use crate::{Cell, Plan, SocketId, VariantId, grid};

impl Plan {
    /// A cell as words: see [`WriteCell`](crate::Edit::WriteCell).
    pub fn cell_text(&self, variant: &VariantId, socket: &SocketId) -> String {
        let cell = self.variant(variant).and_then(|v| v.cell(socket));
        cell.map(|c| grid::cell_text(self, c)).unwrap_or_default()
    }

    pub(super) fn put_cell(&mut self, variant: &VariantId, cell: Cell) -> Result<(), Refusal> {
        let variant = self.variant_mut(variant)?;
        match variant.cells.iter_mut().find(|c| c.socket == cell.socket) {
            Some(old) => *old = cell,
            None => variant.cells.push(cell),
        }
        self.forget_empty_cells();
        Ok(())
    }

    pub(super) fn write(
        &mut self,
        variant: &VariantId,
        socket: &SocketId,
        text: &str,
    ) -> Result<(), Refusal> {
        let old = found(self.variant(variant))?.cell(socket).cloned();
        let cell = grid::write_cell(self, old.as_ref(), socket, text);
        self.put_cell(variant, cell)
    }

    pub(super) fn paste(&mut self, text: &str) -> Result<(), Refusal> {
        let grid = crate::read_grid(text)?;
        let mut variants = Vec::new();
        for name in &grid.variants {
            let known = self
                .variants
                .iter()
                .find(|v| v.name == *name)
                .map(|v| v.id.clone());
            variants.push(match known {
                Some(id) => id,
                None => self.add_variant(name, Vec::new())?,
            });
        }
        let base = self.base.clone();
        for (name, texts) in &grid.rows {
            if self.sockets.iter().all(|s| s.name != *name) {
                self.add_socket(name, &base)?;
            }
            let socket = found(self.sockets.iter().find(|s| s.name == *name))?
                .id
                .clone();
            for (variant, text) in variants.iter().zip(texts) {
                self.write(variant, &socket, text)?;
            }
        }
        Ok(())
    }

    pub(super) fn forget_empty_cells(&mut self) {
        for variant in &mut self.variants {
            variant.cells.retain(|c| !c.seats.is_empty());
        }
    }
}
