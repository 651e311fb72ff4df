//! What a difference cannot be taken without: a seat needs its part, a socket its host, a part its material; a part goes
//! only with the sockets on it.

use std::collections::BTreeSet;

use lodewright_kit::{Cell, Edit, Fit, Part, Plan, Socket};

use super::{Change, Difference, PlanEntry};

/// The chosen differences with those that they need, by their places in the list, in its order.
pub fn with_needed(ours: &Plan, list: &[Difference], chosen: &[usize]) -> Vec<usize> {
    let mut taken: BTreeSet<usize> = BTreeSet::new();
    let mut open: Vec<usize> = chosen.to_vec();
    while let Some(i) = open.pop() {
        let Some(difference) = list.get(i) else {
            continue;
        };
        if !taken.insert(i) {
            continue;
        }
        for entry in needed(ours, &difference.edit) {
            // What is there already, or changes on its own, is not needed: only what joins or goes is, and lists that are
            // taken as a whole.
            let whole = matches!(entry, PlanEntry::Materials | PlanEntry::Stock);
            let helps = |d: &Difference| d.entry == entry && (whole || d.change != Change::Changed);
            open.extend(list.iter().position(helps));
        }
    }
    taken.into_iter().collect()
}

fn needed(ours: &Plan, edit: &Edit) -> Vec<PlanEntry> {
    match edit {
        Edit::JoinPart(part) | Edit::PutPart(part) => of_part(ours, part),
        Edit::JoinSocket(socket) | Edit::PutSocket(socket) => of_socket(ours, socket),
        Edit::JoinVariant(variant) => variant.cells.iter().flat_map(of_cell).collect(),
        Edit::PutCell(_, cell) => of_cell(cell),
        Edit::SetBase(part) => vec![PlanEntry::Part(part.clone())],
        Edit::DropPart(part) => {
            let hosted = ours.sockets.iter().filter(|s| s.host == *part);
            hosted.map(|s| PlanEntry::Socket(s.id.clone())).collect()
        }
        Edit::PutStowing(stowing) => {
            let upright = stowing.upright.iter();
            upright.map(|part| PlanEntry::Part(part.clone())).collect()
        }
        _ => Vec::new(),
    }
}

fn of_cell(cell: &Cell) -> Vec<PlanEntry> {
    let mut entries = vec![PlanEntry::Socket(cell.socket.clone())];
    entries.extend(cell.seats.iter().map(|s| PlanEntry::Part(s.part.clone())));
    entries
}

fn of_part(ours: &Plan, part: &Part) -> Vec<PlanEntry> {
    let mut entries = Vec::new();
    if ours.material(&part.material).is_none() {
        entries.push(PlanEntry::Materials);
    }
    let mut sites = part.plugs.iter().flat_map(|p| p.sites.iter().flatten());
    if sites.any(|s| is_unknown(ours, &s.fit)) {
        entries.push(PlanEntry::Stock);
    }
    entries
}

fn of_socket(ours: &Plan, socket: &Socket) -> Vec<PlanEntry> {
    let mut entries = vec![PlanEntry::Part(socket.host.clone())];
    if socket.sites.iter().any(|s| is_unknown(ours, &s.fit)) {
        entries.push(PlanEntry::Stock);
    }
    let far = socket.sites.iter().filter_map(|s| s.through.as_ref());
    entries.extend(far.map(|f| PlanEntry::Socket(f.socket.clone())));
    entries
}

fn is_unknown(ours: &Plan, fit: &Fit) -> bool {
    match fit {
        Fit::Magnet(id) => ours.stock.magnets.iter().all(|m| m.id != *id),
        Fit::Steel(id) => ours.stock.steel.iter().all(|s| s.id != *id),
        Fit::Auto | Fit::Empty => false,
    }
}
