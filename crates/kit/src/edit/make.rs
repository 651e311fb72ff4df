//! Edits as they are made to a plan.

use super::lists::{arrange, join, put};
use super::refusal::{Refusal, found, label};
use crate::{CheckedPlan, Edit, Mark, Plan};

impl Plan {
    /// The plan after an edit.
    ///
    /// # Errors
    /// A [`Refusal`] where the edit names what is not there, or would leave a plan that a file could not hold.
    ///
    /// # Examples
    /// A grid from a spreadsheet: sockets down, variants across. The plan before stays as it was.
    ///
    /// ```
    /// use lodewright_kit::{Edit, Plan};
    ///
    /// let empty = Plan::empty("Works railcar");
    /// let grid = "\tWinter\tWorks\nNose\tPlough\tHook / -\n";
    /// let plan = empty.edited(&Edit::PasteGrid(grid.to_owned()))?;
    /// assert_eq!(plan.variants[1].name, "Works");
    /// assert_eq!(plan.cell_text(&"works".into(), &"nose".into()), "Hook / -");
    ///
    /// let refusal = plan.edited(&Edit::DropPart(plan.base.clone())).unwrap_err();
    /// assert!(refusal.to_string().starts_with("The base carries everything else"));
    /// # Ok::<(), lodewright_kit::Refusal>(())
    /// ```
    pub fn edited(&self, edit: &Edit) -> Result<Self, Refusal> {
        self.edited_and_checked(edit).map(CheckedPlan::into_plan)
    }

    /// The same with what was found in checking it.
    pub(crate) fn edited_and_checked(&self, edit: &Edit) -> Result<CheckedPlan, Refusal> {
        let mut plan = self.clone();
        plan.make(edit)?;
        CheckedPlan::of(plan).map_err(|refused| {
            let first = refused.into_iter().next();
            first.map_or_else(|| Refusal::new(""), Refusal::Illegal)
        })
    }

    fn make(&mut self, edit: &Edit) -> Result<(), Refusal> {
        match edit {
            Edit::SetTitle(title) => self.title = label(title)?,
            Edit::SetNote(note) => self.note.clone_from(note),
            Edit::SetKit(kit) => self.kit = kit.clone(),
            Edit::AddPart(name) => self.add_part(name)?,
            Edit::PutPart(part) => put(&mut self.parts, part, |p| &p.id)?,
            Edit::DropPart(id) => self.drop_part(id)?,
            Edit::AddSocket { name, host } => self.add_socket(name, host)?,
            Edit::PutSocket(socket) => put(&mut self.sockets, socket, |s| &s.id)?,
            Edit::DropSocket(id) => self.drop_socket(id),
            Edit::AddVariant(name) => {
                self.add_variant(name, Vec::new())?;
            }
            Edit::CopyVariant(id) => {
                let old = found(self.variant(id))?.clone();
                self.add_variant(&format!("{} 2", old.name), old.cells)?;
            }
            Edit::RenameVariant(id, name) => {
                let name = label(name)?;
                self.variant_mut(id)?.name = name;
            }
            Edit::DropVariant(id) => self.variants.retain(|v| v.id != *id),
            Edit::PutCell(variant, cell) => self.put_cell(variant, cell.clone())?,
            Edit::WriteCell {
                variant,
                socket,
                text,
            } => self.write(variant, socket, text)?,
            Edit::PasteGrid(text) => self.paste(text)?,
            Edit::PutStock(stock) => self.stock = (**stock).clone(),
            Edit::PutMaterials(materials) => self.materials.clone_from(materials),
            Edit::PutFinish(finish) => self.finish = finish.clone(),
            Edit::PutSettings(settings) => self.settings = (**settings).clone(),
            Edit::PutRates(rates) => self.rates = (**rates).clone(),
            Edit::PutBackdrop(backdrop) => self.backdrop = backdrop.as_deref().cloned(),
            Edit::MarkStep {
                step,
                done,
                at_s,
                took_min,
            } => self.mark(step, *done, *at_s, *took_min),
            Edit::JoinPart(part) => join(&mut self.parts, part, |p| p.id.as_str())?,
            Edit::JoinSocket(socket) => join(&mut self.sockets, socket, |s| s.id.as_str())?,
            Edit::JoinVariant(variant) => join(&mut self.variants, variant, |v| v.id.as_str())?,
            Edit::SetBase(part) => self.base = part.clone(),
            Edit::Arrange {
                parts,
                sockets,
                variants,
            } => {
                arrange(&mut self.parts, parts, |p| &p.id);
                arrange(&mut self.sockets, sockets, |s| &s.id);
                arrange(&mut self.variants, variants, |v| &v.id);
            }
            Edit::PutOwnWork(work) => self.own_work = (**work).clone(),
            Edit::PutQuote(quote) => self.quote = (**quote).clone(),
            Edit::PutStowing(stowing) => self.stowing = (**stowing).clone(),
            Edit::Together(edits) => edits.iter().try_for_each(|edit| self.make(edit))?,
        }
        Ok(())
    }

    fn mark(&mut self, step: &str, done: bool, at_s: Option<u64>, took_min: Option<f64>) {
        let progress = &mut self.progress;
        progress.done.retain(|s| s != step);
        progress.marks.retain(|m| m.step != step);
        if !done {
            return;
        }
        progress.done.push(step.to_owned());
        if at_s.is_some() || took_min.is_some() {
            progress.marks.push(Mark {
                step: step.to_owned(),
                at_s,
                took_min,
            });
        }
    }
}
