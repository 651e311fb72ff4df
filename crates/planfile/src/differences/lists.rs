//! Parts, sockets, variants and their cells: a table of how the entries of each list come, change and go.

use lodewright_kit::{Cell, Edit, Part, Plan, Socket, SocketId, Variant};

use super::once::is_renamed;
use super::{Change, Found, PlanEntry};

/// How the entries of one list are compared and taken.
struct List<T> {
    of: fn(&Plan) -> &[T],
    id: fn(&T) -> &str,
    entry: fn(&T) -> PlanEntry,
    join: fn(&T) -> Edit,
    /// The edit that makes ours (first) as theirs; none where they are the same.
    put: fn(&T, &T) -> Option<Edit>,
    drop: fn(&T) -> Edit,
}

const PARTS: List<Part> = List {
    of: |plan| &plan.parts,
    id: |p| p.id.as_str(),
    entry: |p| PlanEntry::Part(p.id.clone()),
    join: |p| Edit::JoinPart(Box::new(p.clone())),
    put: |a, b| (a != b).then(|| Edit::PutPart(Box::new(b.clone()))),
    drop: |p| Edit::DropPart(p.id.clone()),
};

const SOCKETS: List<Socket> = List {
    of: |plan| &plan.sockets,
    id: |s| s.id.as_str(),
    entry: |s| PlanEntry::Socket(s.id.clone()),
    join: |s| Edit::JoinSocket(Box::new(s.clone())),
    put: |a, b| (a != b).then(|| Edit::PutSocket(Box::new(b.clone()))),
    drop: |s| Edit::DropSocket(s.id.clone()),
};

const VARIANTS: List<Variant> = List {
    of: |plan| &plan.variants,
    id: |v| v.id.as_str(),
    entry: |v| PlanEntry::Variant(v.id.clone()),
    join: |v| Edit::JoinVariant(Box::new(v.clone())),
    put: |a, b| {
        let rename = || Edit::RenameVariant(a.id.clone(), b.name.trim().to_owned());
        is_renamed(&a.name, &b.name).then(rename)
    },
    drop: |v| Edit::DropVariant(v.id.clone()),
};

pub(super) fn found(ours: &Plan, theirs: &Plan) -> Vec<Found> {
    let parts = theirs.parts.iter();
    let mut found: Vec<Found> = parts.filter_map(|new| PARTS.taken(ours, new)).collect();
    let sockets = theirs.sockets.iter();
    found.extend(sockets.filter_map(|new| SOCKETS.taken(ours, new)));
    if ours.base != theirs.base {
        let edit = Edit::SetBase(theirs.base.clone());
        found.push((PlanEntry::Base, Change::Changed, edit));
    }
    for new in &theirs.variants {
        found.extend(VARIANTS.taken(ours, new));
        if let Some(old) = ours.variant(&new.id) {
            cells(old, new, theirs, &mut found);
        }
    }
    // Variants first, then sockets, then parts: a part that carries a socket cannot go before it.
    VARIANTS.gone(ours, theirs, &mut found);
    SOCKETS.gone(ours, theirs, &mut found);
    PARTS.gone(ours, theirs, &mut found);
    if moved(ours, theirs).contains(&true) {
        let edit = Edit::Arrange {
            parts: theirs.parts.iter().map(|p| p.id.clone()).collect(),
            sockets: theirs.sockets.iter().map(|s| s.id.clone()).collect(),
            variants: theirs.variants.iter().map(|v| v.id.clone()).collect(),
        };
        found.push((PlanEntry::Order, Change::Changed, edit));
    }
    found
}

/// Of parts, sockets and variants, whether entries that stay would stand otherwise.
pub(super) fn moved(ours: &Plan, theirs: &Plan) -> [bool; 3] {
    [
        PARTS.is_moved(ours, theirs),
        SOCKETS.is_moved(ours, theirs),
        VARIANTS.is_moved(ours, theirs),
    ]
}

impl<T> List<T> {
    /// An entry that they have: it joins, or is put in the place of ours.
    fn taken(&self, ours: &Plan, new: &T) -> Option<Found> {
        let (change, edit) = match self.find(ours, new) {
            None => (Change::Added, Some((self.join)(new))),
            Some(old) => (Change::Changed, (self.put)(old, new)),
        };
        Some(((self.entry)(new), change, edit?))
    }

    /// What only we have.
    fn gone(&self, ours: &Plan, theirs: &Plan, found: &mut Vec<Found>) {
        for old in (self.of)(ours) {
            if self.find(theirs, old).is_none() {
                found.push(((self.entry)(old), Change::Gone, (self.drop)(old)));
            }
        }
    }

    fn find<'a>(&self, plan: &'a Plan, like: &T) -> Option<&'a T> {
        let id = (self.id)(like);
        (self.of)(plan).iter().find(|x| (self.id)(x) == id)
    }

    /// Whether taking and leaving out entries one by one would end in another order than theirs.
    fn is_moved(&self, ours: &Plan, theirs: &Plan) -> bool {
        let (here, there) = ((self.of)(ours), (self.of)(theirs));
        let stay = here.iter().filter(|x| self.find(theirs, x).is_some());
        let join = there.iter().filter(|x| self.find(ours, x).is_none());
        !stay.chain(join).map(self.id).eq(there.iter().map(self.id))
    }
}

/// Cells of a variant that both plans have.
fn cells(old: &Variant, new: &Variant, theirs: &Plan, found: &mut Vec<Found>) {
    let mut sockets: Vec<&SocketId> = Vec::new();
    for cell in old.cells.iter().chain(&new.cells) {
        // The cell of a socket that goes, goes with it.
        if !sockets.contains(&&cell.socket) && theirs.socket(&cell.socket).is_some() {
            sockets.push(&cell.socket);
        }
    }
    for socket in sockets {
        let (was, is) = (filled(old, socket), filled(new, socket));
        let change = match (was, is) {
            _ if was == is => continue,
            (None, _) => Change::Added,
            (_, None) => Change::Gone,
            _ => Change::Changed,
        };
        let cell = is.cloned().unwrap_or_else(|| Cell {
            socket: socket.clone(),
            seats: Vec::new(),
            may_be_empty: false,
        });
        let entry = PlanEntry::Cell(new.id.clone(), socket.clone());
        found.push((entry, change, Edit::PutCell(new.id.clone(), cell)));
    }
}

fn filled<'a>(variant: &'a Variant, socket: &SocketId) -> Option<&'a Cell> {
    variant.cell(socket).filter(|c| !c.seats.is_empty())
}
