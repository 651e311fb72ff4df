//! Entries together: every reference leads somewhere, and the parts of a variant form a tree on the base.

use std::collections::{BTreeMap, BTreeSet};

use super::{Check, entries::named_stock};
use crate::{Cell, Fit, PartId, Plan, Seat, Site, SocketId, Variant};

pub(super) fn check(plan: &Plan, c: &mut Check) {
    let index = Index::of(plan);
    if !index.parts.contains_key(&plan.base) {
        missing(c, "base", "part", plan.base.as_str());
    }
    for part in &plan.parts {
        let place = format!("parts[{}]", part.id);
        if plan.material(&part.material).is_none() {
            missing(
                c,
                &format!("{place}.material"),
                "material",
                part.material.as_str(),
            );
        }
        for plug in &part.plugs {
            let place = format!("{place}.plugs[{}]", plug.id);
            for site in plug.sites.iter().flatten() {
                let far = site.through.as_ref();
                let target = far
                    .and_then(|f| part.plug(&f.plug)?.site(&f.site))
                    .map(|t| t.through.is_some());
                through(
                    c,
                    &place,
                    site,
                    target,
                    far.is_some_and(|f| f.plug == plug.id),
                );
                fits(c, &place, site, &index);
            }
        }
    }
    for socket in &plan.sockets {
        let place = format!("sockets[{}]", socket.id);
        if !index.parts.contains_key(&socket.host) {
            missing(c, &format!("{place}.host"), "part", socket.host.as_str());
        }
        for site in &socket.sites {
            let far = site.through.as_ref();
            let other = far.and_then(|f| plan.socket(&f.socket));
            let target = far
                .and_then(|f| other?.sites.iter().find(|s| s.id == f.site))
                .map(|t| t.through.is_some());
            through(
                c,
                &place,
                site,
                target,
                far.is_some_and(|f| f.socket == socket.id),
            );
            if let Some(other) = other.filter(|o| o.host != socket.host) {
                c.refuse(
                    &format!("{place}.sites[{}].through", site.id),
                    format!("leads to {} on another part.", other.id),
                    "A through hole has both its faces on one part.",
                );
            }
            fits(c, &place, site, &index);
        }
    }
    for variant in &plan.variants {
        cells(c, plan, &index, variant);
    }
    for part in &plan.stowing.upright {
        if !index.parts.contains_key(part) {
            missing(c, "stowing.upright", "part", part.as_str());
        }
    }
}

/// What there is, by id.
struct Index<'a> {
    parts: BTreeMap<&'a PartId, &'a crate::Part>,
    hosts: BTreeMap<&'a SocketId, &'a PartId>,
    magnets: BTreeSet<&'a str>,
    steel: BTreeSet<&'a str>,
}

impl<'a> Index<'a> {
    fn of(plan: &'a Plan) -> Self {
        Self {
            parts: plan.parts.iter().map(|p| (&p.id, p)).collect(),
            hosts: plan.sockets.iter().map(|s| (&s.id, &s.host)).collect(),
            magnets: plan.stock.magnets.iter().map(|m| m.id.as_str()).collect(),
            steel: plan.stock.steel.iter().map(|m| m.id.as_str()).collect(),
        }
    }
}

fn missing(c: &mut Check, place: &str, kind: &str, id: &str) {
    c.refuse(
        place,
        format!("names the {kind} '{id}', which is not in the plan."),
        "Add it, or name another.",
    );
}

fn through<Far>(
    c: &mut Check,
    place: &str,
    site: &Site<Far>,
    target_is_far: Option<bool>,
    own_face: bool,
) {
    if site.through.is_none() {
        return;
    }
    let place = format!("{place}.sites[{}].through", site.id);
    match target_is_far {
        None => c.refuse(
            &place,
            "leads to a site that is not in the plan.".to_owned(),
            "Name one of the part.",
        ),
        Some(true) => c.refuse(
            &place,
            "leads to a site that is itself the far end of a hole.".to_owned(),
            "A hole has two ends: let one of them name the other.",
        ),
        Some(false) if own_face => {
            c.refuse(
                &place,
                "leads to the same face.".to_owned(),
                "Name a site on another face.",
            );
        }
        Some(false) if site.fit != Fit::Auto => c.wrong(
            &place,
            "has a fit of its own, which is passed over.".to_owned(),
            "Choose the fit at the hole's other end.",
        ),
        Some(false) => {}
    }
}

fn fits<Far>(c: &mut Check, place: &str, site: &Site<Far>, index: &Index<'_>) {
    if let Some((kind, id)) = named_stock(&site.fit) {
        let known = if kind == "magnet" {
            &index.magnets
        } else {
            &index.steel
        };
        if !known.contains(id.as_str()) {
            missing(
                c,
                &format!("{place}.sites[{}].fit", site.id),
                kind,
                id.as_str(),
            );
        }
    }
}

fn cells(c: &mut Check, plan: &Plan, index: &Index<'_>, variant: &Variant) {
    let mut sockets = BTreeSet::new();
    let mut fixed = BTreeMap::new();
    for cell in &variant.cells {
        let place = format!("variants[{}].cells[{}]", variant.id, cell.socket);
        if !sockets.insert(&cell.socket) {
            c.refuse(
                &place,
                "stands twice.".to_owned(),
                "Keep one cell a socket.",
            );
        }
        let Some(host) = index.hosts.get(&cell.socket) else {
            missing(c, &place, "socket", cell.socket.as_str());
            continue;
        };
        for seat in &cell.seats {
            self::seat(c, plan, index, &place, host, seat);
        }
        if let ([only], false) = (cell.seats.as_slice(), cell.may_be_empty)
            && let Some(first) = fixed.insert(&only.part, &cell.socket)
        {
            c.wrong(
                &place,
                format!("needs the part '{}', which already sits in '{first}'.", only.part),
                "A part can be in one place at a time: enter a second part, or empty one of the cells.",
            );
        }
    }
    unreachable(c, plan, index, variant);
}

fn seat(c: &mut Check, plan: &Plan, index: &Index<'_>, place: &str, host: &PartId, seat: &Seat) {
    let Some(part) = index.parts.get(&seat.part) else {
        return missing(c, place, "part", seat.part.as_str());
    };
    if seat.part == plan.base {
        c.refuse(
            place,
            "seats the base part.".to_owned(),
            "The base carries the rest; seat another part.",
        );
    }
    if seat.part == *host {
        c.refuse(
            place,
            format!("seats '{host}' in a socket of its own."),
            "Seat another part.",
        );
    }
    let plug = match &seat.plug {
        Some(id) => part.plug(id),
        None => part.plugs.first(),
    };
    match plug {
        None => c.refuse(
            place,
            format!("needs a plug that '{}' does not have.", seat.part),
            "Give the part a plug, or name one that it has.",
        ),
        Some(plug) if seat.pose.over && plug.thickness_mm.is_none() => c.wrong(
            place,
            format!(
                "turns '{}' over, but its plug has no second face.",
                seat.part
            ),
            "Enter the plug's thickness, or give the part a second plug.",
        ),
        Some(_) => {}
    }
}

/// Cells that never come to bear because their host is not in the variant.
fn unreachable(c: &mut Check, plan: &Plan, index: &Index<'_>, variant: &Variant) {
    let mut on = BTreeMap::<_, Vec<&Cell>>::new();
    for cell in &variant.cells {
        if let Some(host) = index.hosts.get(&cell.socket) {
            on.entry(*host).or_default().push(cell);
        }
    }
    let mut there = BTreeSet::from([&plan.base]);
    let mut next = vec![&plan.base];
    while let Some(host) = next.pop() {
        for seat in on.remove(host).iter().flatten().flat_map(|c| &c.seats) {
            if there.insert(&seat.part) {
                next.push(&seat.part);
            }
        }
    }
    let lost = |cell: &&Cell| {
        !cell.seats.is_empty()
            && index
                .hosts
                .get(&cell.socket)
                .is_some_and(|h| !there.contains(h))
    };
    for cell in variant.cells.iter().filter(lost) {
        c.wrong(
            &format!("variants[{}].cells[{}]", variant.id, cell.socket),
            "is filled, but the part that carries this socket is not in the variant.".to_owned(),
            "Seat the carrying part, or empty the cell.",
        );
    }
}
