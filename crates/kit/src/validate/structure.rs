//! Entries together: every reference leads somewhere, and the parts of a variant form a tree on the base.

use std::collections::{BTreeMap, BTreeSet};

use super::check::At;
use crate::{
    Cell, Fit, Part, PartId, Plan, Plug, PlugSiteRef, Seat, Site, Socket, SocketId, StockId,
    Variant,
};

pub(super) fn check(plan: &Plan, at: &mut At<'_>) {
    let known = Known::of(plan);
    known.part(at, "base", &plan.base);
    for p in &plan.parts {
        part(&mut at.within(format_args!("parts[{}]", p.id)), &known, p);
    }
    for s in &plan.sockets {
        socket(&mut at.within(format_args!("sockets[{}]", s.id)), &known, s);
    }
    for v in &plan.variants {
        let mut at = at.within(format_args!("variants[{}]", v.id));
        cells(&mut at, &known, v);
        unreachable(&mut at, &known, v);
    }
    for part in &plan.stowing.upright {
        known.part(at, "stowing.upright", part);
    }
}

/// What there is, by id.
struct Known<'a> {
    plan: &'a Plan,
    parts: BTreeMap<&'a PartId, &'a Part>,
    hosts: BTreeMap<&'a SocketId, &'a PartId>,
    magnets: BTreeSet<&'a StockId>,
    steel: BTreeSet<&'a StockId>,
}

impl<'a> Known<'a> {
    fn of(plan: &'a Plan) -> Self {
        Self {
            plan,
            parts: plan.parts.iter().map(|p| (&p.id, p)).collect(),
            hosts: plan.sockets.iter().map(|s| (&s.id, &s.host)).collect(),
            magnets: plan.stock.magnets.iter().map(|m| &m.id).collect(),
            steel: plan.stock.steel.iter().map(|m| &m.id).collect(),
        }
    }

    fn part(&self, at: &mut At<'_>, field: &str, id: &PartId) {
        if !self.parts.contains_key(id) {
            at.missing(field, "part", id);
        }
    }
}

fn part(at: &mut At<'_>, known: &Known<'_>, part: &Part) {
    if known.plan.material(&part.material).is_none() {
        at.missing("material", "material", &part.material);
    }
    for plug in &part.plugs {
        let mut at = at.within(format_args!("plugs[{}]", plug.id));
        for site in plug.sites.iter().flatten() {
            plug_site(
                &mut at.within(format_args!("sites[{}]", site.id)),
                known,
                part,
                plug,
                site,
            );
        }
    }
}

fn plug_site(
    at: &mut At<'_>,
    known: &Known<'_>,
    part: &Part,
    plug: &Plug,
    site: &Site<PlugSiteRef>,
) {
    if let Some(far) = &site.through {
        let end = part.plug(&far.plug).and_then(|p| p.site(&far.site));
        let end = end.map(|e| e.through.is_some());
        through(at, &site.fit, end, far.plug == plug.id);
    }
    fit(at, known, &site.fit);
}

fn socket(at: &mut At<'_>, known: &Known<'_>, socket: &Socket) {
    known.part(at, "host", &socket.host);
    for site in &socket.sites {
        let mut at = at.within(format_args!("sites[{}]", site.id));
        if let Some(far) = &site.through {
            let other = known.plan.socket(&far.socket);
            let end = other.and_then(|o| o.sites.iter().find(|s| s.id == far.site));
            let end = end.map(|e| e.through.is_some());
            through(&mut at, &site.fit, end, far.socket == socket.id);
            if let Some(other) = other.filter(|o| o.host != socket.host) {
                at.refuse(
                    "through",
                    format!("leads to {} on another part.", other.id),
                    "A through hole has both its faces on one part.",
                );
            }
        }
        fit(&mut at, known, &site.fit);
    }
}

/// `end_leads_on`: whether the far end of the hole leads on, where there is one.
fn through(at: &mut At<'_>, fit: &Fit, end_leads_on: Option<bool>, own_face: bool) {
    match end_leads_on {
        None => at.refuse(
            "through",
            "leads to a site that is not in the plan.",
            "Name one of the part.",
        ),
        Some(true) => at.refuse(
            "through",
            "leads to a site that is itself the far end of a hole.",
            "A hole has two ends: let one of them name the other.",
        ),
        Some(false) if own_face => at.refuse(
            "through",
            "leads to the same face.",
            "Name a site on another face.",
        ),
        Some(false) if *fit != Fit::Auto => at.wrong(
            "through",
            "has a fit of its own, which is passed over.",
            "Choose the fit at the hole's other end.",
        ),
        Some(false) => {}
    }
}

fn fit(at: &mut At<'_>, known: &Known<'_>, fit: &Fit) {
    let (kind, id, stock) = match fit {
        Fit::Auto | Fit::Empty => return,
        Fit::Magnet(id) => ("magnet", id, &known.magnets),
        Fit::Steel(id) => ("steel", id, &known.steel),
    };
    if !stock.contains(id) {
        at.missing("fit", kind, id);
    }
}

fn cells(at: &mut At<'_>, known: &Known<'_>, variant: &Variant) {
    let mut sockets = BTreeSet::new();
    let mut fixed = BTreeMap::new();
    for cell in &variant.cells {
        let mut at = at.within(format_args!("cells[{}]", cell.socket));
        if !sockets.insert(&cell.socket) {
            at.refuse("", "stands twice.", "Keep one cell a socket.");
        }
        let Some(host) = known.hosts.get(&cell.socket) else {
            at.missing("", "socket", &cell.socket);
            continue;
        };
        for seat in &cell.seats {
            self::seat(&mut at, known, host, seat);
        }
        if let ([only], false) = (cell.seats.as_slice(), cell.may_be_empty)
            && let Some(first) = fixed.insert(&only.part, &cell.socket)
        {
            at.wrong(
                "",
                format!("needs the part '{}', which already sits in '{first}'.", only.part),
                "A part can be in one place at a time: enter a second part, or empty one of the cells.",
            );
        }
    }
}

fn seat(at: &mut At<'_>, known: &Known<'_>, host: &PartId, seat: &Seat) {
    let Some(part) = known.parts.get(&seat.part) else {
        return at.missing("", "part", &seat.part);
    };
    if seat.part == known.plan.base {
        at.refuse(
            "",
            "seats the base part.",
            "The base carries the rest; seat another part.",
        );
    }
    if seat.part == *host {
        at.refuse(
            "",
            format!("seats '{host}' in a socket of its own."),
            "Seat another part.",
        );
    }
    match seat.plug_in(part) {
        None => at.refuse(
            "",
            format!("needs a plug that '{}' does not have.", seat.part),
            "Give the part a plug, or name one that it has.",
        ),
        Some(plug) if seat.pose.over && plug.thickness_mm.is_none() => at.wrong(
            "",
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
fn unreachable(at: &mut At<'_>, known: &Known<'_>, variant: &Variant) {
    let host = |cell: &Cell| known.hosts.get(&cell.socket).copied();
    let mut on = BTreeMap::<_, Vec<&Cell>>::new();
    for cell in &variant.cells {
        if let Some(host) = host(cell) {
            on.entry(host).or_default().push(cell);
        }
    }
    let mut there = BTreeSet::from([&known.plan.base]);
    let mut next = vec![&known.plan.base];
    while let Some(host) = next.pop() {
        for seat in on.remove(host).iter().flatten().flat_map(|c| &c.seats) {
            if there.insert(&seat.part) {
                next.push(&seat.part);
            }
        }
    }
    let lost =
        |cell: &&Cell| !cell.seats.is_empty() && host(cell).is_some_and(|h| !there.contains(h));
    for cell in variant.cells.iter().filter(lost) {
        at.within(format_args!("cells[{}]", cell.socket)).wrong(
            "",
            "is filled, but the part that carries this socket is not in the variant.",
            "Seat the carrying part, or empty the cell.",
        );
    }
}
