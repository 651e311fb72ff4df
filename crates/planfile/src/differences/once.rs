//! What a plan has once: a table of what is compared and how it is put back.

use lodewright_kit::{Backdrop, Edit, Plan};

use super::{Change, Found, PlanEntry};

/// What is compared, whether it differs, and the edit that makes ours (first) as theirs.
type Row = (
    PlanEntry,
    fn(&Plan, &Plan) -> bool,
    fn(&Plan, &Plan) -> Edit,
);

/// A row of what is the same or not, and put as it is.
macro_rules! row {
    ($entry:ident, $field:ident, $edit:expr) => {
        (
            PlanEntry::$entry,
            |a, b| a.$field != b.$field,
            |_, b| $edit(b.$field.clone()),
        )
    };
}

const ROWS: [Row; 13] = [
    (
        PlanEntry::Title,
        |a, b| is_renamed(&a.title, &b.title),
        |_, b| Edit::SetTitle(b.title.trim().to_owned()),
    ),
    row!(Note, note, Edit::SetNote),
    row!(Kit, kit, Edit::SetKit),
    row!(Stock, stock, |x| Edit::PutStock(Box::new(x))),
    row!(Materials, materials, Edit::PutMaterials),
    row!(Finish, finish, Edit::PutFinish),
    row!(Settings, settings, |x| Edit::PutSettings(Box::new(x))),
    row!(Rates, rates, |x| Edit::PutRates(Box::new(x))),
    row!(OwnWork, own_work, |x| Edit::PutOwnWork(Box::new(x))),
    row!(Quote, quote, |x| Edit::PutQuote(Box::new(x))),
    row!(Stowing, stowing, |x| Edit::PutStowing(Box::new(x))),
    row!(Backdrop, backdrop, |x: Option<Backdrop>| {
        Edit::PutBackdrop(x.map(Box::new))
    }),
    (PlanEntry::Progress, |a, b| a.progress != b.progress, marks),
];

// Named one by one, so that a field that joins a plan is not forgotten: what is not in the table above is in the lists.
const _: fn(Plan) = |plan| {
    let Plan {
        title: _,
        note: _,
        kit: _,
        base: _,
        parts: _,
        sockets: _,
        variants: _,
        stock: _,
        materials: _,
        finish: _,
        settings: _,
        rates: _,
        own_work: _,
        quote: _,
        stowing: _,
        backdrop: _,
        progress: _,
    } = plan;
};

pub(super) fn found(ours: &Plan, theirs: &Plan) -> Vec<Found> {
    ROWS.into_iter()
        .filter(|(_, differs, _)| differs(ours, theirs))
        .map(|(entry, _, take)| (entry, Change::Changed, take(ours, theirs)))
        .collect()
}

/// Whether the other name is one that a plan's page could give.
pub(super) fn is_renamed(old: &str, new: &str) -> bool {
    let new = new.trim();
    !new.is_empty() && new != old.trim()
}

fn marks(ours: &Plan, theirs: &Plan) -> Edit {
    let off = ours.progress.done.iter().map(|step| Edit::MarkStep {
        step: step.clone(),
        done: false,
        at_s: None,
        took_min: None,
    });
    let on = theirs.progress.done.iter().map(|step| {
        let clock = theirs.progress.marks.iter().find(|m| m.step == *step);
        Edit::MarkStep {
            step: step.clone(),
            done: true,
            at_s: clock.and_then(|m| m.at_s),
            took_min: clock.and_then(|m| m.took_min),
        }
    });
    Edit::Together(off.chain(on).collect())
}
