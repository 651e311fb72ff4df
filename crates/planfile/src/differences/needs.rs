//! What a difference cannot be taken without: a seat needs its part, a socket its host, a part its material; a part goes
//! only with the sockets on it.

use std::collections::BTreeSet;

use lodewright_kit::{Cell, Edit, Fit, Part, Plan, Socket};

use super::{Change, Difference};

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
        for key in needed(ours, &difference.edit) {
            // What is there already, or changes on its own, is not needed: only what joins or goes is.
            let helps = |d: &Difference| {
                d.key == key && (d.change != Change::Changed || WHOLE.contains(&d.key.as_str()))
            };
            open.extend(list.iter().position(helps));
        }
    }
    taken.into_iter().collect()
}

/// Lists that are taken as a whole.
const WHOLE: [&str; 2] = ["materials", "stock"];

fn needed(ours: &Plan, edit: &Edit) -> Vec<String> {
    match edit {
        Edit::JoinPart(part) | Edit::PutPart(part) => of_part(ours, part),
        Edit::JoinSocket(socket) | Edit::PutSocket(socket) => of_socket(ours, socket),
        Edit::JoinVariant(variant) => variant.cells.iter().flat_map(of_cell).collect(),
        Edit::PutCell(_, cell) => of_cell(cell),
        Edit::SetBase(part) => vec![format!("part/{part}")],
        Edit::DropPart(part) => {
            let hosted = ours.sockets.iter().filter(|s| s.host == *part);
            hosted.map(|s| format!("socket/{}", s.id)).collect()
        }
        Edit::PutStowing(stowing) => {
            let upright = stowing.upright.iter();
            upright.map(|part| format!("part/{part}")).collect()
        }
        _ => Vec::new(),
    }
}

fn of_cell(cell: &Cell) -> Vec<String> {
    let mut keys = vec![format!("socket/{}", cell.socket)];
    keys.extend(cell.seats.iter().map(|s| format!("part/{}", s.part)));
    keys
}

fn of_part(ours: &Plan, part: &Part) -> Vec<String> {
    let mut keys = Vec::new();
    if ours.material(&part.material).is_none() {
        keys.push("materials".to_owned());
    }
    let mut sites = part.plugs.iter().flat_map(|p| p.sites.iter().flatten());
    if sites.any(|s| is_unknown(ours, &s.fit)) {
        keys.push("stock".to_owned());
    }
    keys
}

fn of_socket(ours: &Plan, socket: &Socket) -> Vec<String> {
    let mut keys = vec![format!("part/{}", socket.host)];
    if socket.sites.iter().any(|s| is_unknown(ours, &s.fit)) {
        keys.push("stock".to_owned());
    }
    let far = socket.sites.iter().filter_map(|s| s.through.as_ref());
    keys.extend(far.map(|f| format!("socket/{}", f.socket)));
    keys
}

fn is_unknown(ours: &Plan, fit: &Fit) -> bool {
    match fit {
        Fit::Magnet(id) => ours.stock.magnets.iter().all(|m| m.id != *id),
        Fit::Steel(id) => ours.stock.steel.iter().all(|s| s.id != *id),
        Fit::Auto | Fit::Empty => false,
    }
}
