//! Edits of the sites of one joint, on the host's side and on the part's.

use lodewright_assembly::Joint;
use lodewright_geometry::{add, sub};
use lodewright_joints::{Filling, JointModel, ModelPair, ModelPiece, PairSide};
use lodewright_kit::{Edit, Fit, MagnetIx, Plan, PlugSiteRef, Site, SiteId, SocketSiteRef};

/// Sites closer than this are the same one, mm.
const SAME_MM: f64 = 1e-6;

/// What can be changed of a site, whichever side it is on.
pub(super) struct SiteRoom<'s> {
    pub at_mm: &'s mut [f64; 2],
    pub max_diameter_mm: &'s mut f64,
    pub max_depth_mm: &'s mut f64,
    pub wall_mm: &'s mut f64,
    pub fit: &'s mut Fit,
}

fn room<Far>(site: &mut Site<Far>) -> SiteRoom<'_> {
    SiteRoom {
        at_mm: &mut site.at_mm,
        max_diameter_mm: &mut site.max_diameter_mm,
        max_depth_mm: &mut site.max_depth_mm,
        wall_mm: &mut site.wall_mm,
        fit: &mut site.fit,
    }
}

/// Where a point of the socket lies in the plug's own axes.
pub(super) fn in_plug(joint: &Joint, at_mm: [f64; 2]) -> [f64; 2] {
    let back = lodewright_kit::Pose {
        turn_deg: -joint.pose.turn_deg,
        over: false,
    };
    let [x, y] = back.place(at_mm);
    [x, if joint.pose.over { -y } else { y }]
}

fn same(a: [f64; 2], b: [f64; 2]) -> bool {
    (a[0] - b[0]).abs() < SAME_MM && (a[1] - b[1]).abs() < SAME_MM
}

/// One edit that changes the socket's site of a pair and, where the plug has sites of its own, the plug's; `change` says
/// whether it changed anything. `None` where nothing did.
pub(super) fn change_pair(
    plan: &Plan,
    joint: &Joint,
    pair: &ModelPair,
    mut change: impl FnMut(PairSide, SiteRoom<'_>) -> bool,
) -> Option<Edit> {
    let mut socket = plan.sockets[joint.socket].clone();
    let mut edits = Vec::new();
    let site = socket
        .sites
        .iter_mut()
        .find(|s| same(s.at_mm, pair.socket.at_mm));
    if site.is_some_and(|s| change(PairSide::Socket, room(s))) {
        edits.push(Edit::PutSocket(Box::new(socket)));
    }
    let mut part = plan.parts[joint.part].clone();
    let sites = part.plugs[joint.plug].sites.as_mut();
    let own = sites
        .into_iter()
        .flatten()
        .find(|s| same(joint.pose.place(s.at_mm), pair.plug.at_mm));
    if own.is_some_and(|s| change(PairSide::Plug, room(s))) {
        edits.push(Edit::PutPart(Box::new(part)));
    }
    one(edits)
}

/// One edit that changes several pairs of a joint, each piece as `change` says.
pub(super) fn change_pairs(
    plan: &Plan,
    joint: &Joint,
    pairs: &[ModelPair],
    mut change: impl FnMut(&ModelPiece, SiteRoom<'_>) -> bool,
) -> Option<Edit> {
    let mut after = plan.clone();
    let mut edits = Vec::new();
    for pair in pairs {
        let edit = change_pair(&after, joint, pair, |side, site| {
            change(pair.side(side), site)
        });
        if let Some(edit) = edit
            && let Ok(edited) = after.edited(&edit)
        {
            after = edited;
            edits.push(edit);
        }
    }
    one(edits)
}

/// Several edits as one.
pub(super) fn one(mut edits: Vec<Edit>) -> Option<Edit> {
    match edits.len() {
        0 => None,
        1 => edits.pop(),
        _ => Some(Edit::Together(edits)),
    }
}

/// The edit that moves a pair to another place of the mating plane, both pieces together, mm in the socket's axes.
pub fn move_pair(plan: &Plan, joint: &Joint, pair: &ModelPair, to_mm: [f64; 2]) -> Option<Edit> {
    let there = add(pair.plug.at_mm, sub(to_mm, pair.socket.at_mm));
    let round = |p: [f64; 2]| p.map(|v| (v * 1000.0).round() / 1000.0 + 0.0);
    change_pair(plan, joint, pair, |side, site| {
        let at_mm = match side {
            PairSide::Socket => to_mm,
            PairSide::Plug => in_plug(joint, there),
        };
        put(site.at_mm, round(at_mm))
    })
}

/// The edit that takes a pair away: both its sites go. `None` where a site is the near end of a hole that goes through.
pub fn without_pair(plan: &Plan, joint: &Joint, pair: &ModelPair) -> Option<Edit> {
    let mut socket = plan.sockets[joint.socket].clone();
    let at = socket
        .sites
        .iter()
        .position(|s| same(s.at_mm, pair.socket.at_mm))?;
    let gone = socket.sites.remove(at);
    let leads_here = |s: &Site<SocketSiteRef>| {
        s.through
            .as_ref()
            .is_some_and(|far| far.socket == socket.id && far.site == gone.id)
    };
    if plan.sockets.iter().flat_map(|s| &s.sites).any(leads_here) {
        return None;
    }
    let mut edits = vec![Edit::PutSocket(Box::new(socket))];
    let mut part = plan.parts[joint.part].clone();
    if let Some(sites) = part.plugs[joint.plug].sites.as_mut() {
        let own = sites
            .iter()
            .position(|s| same(joint.pose.place(s.at_mm), pair.plug.at_mm));
        if let Some(own) = own {
            sites.remove(own);
            edits.push(Edit::PutPart(Box::new(part)));
        }
    }
    one(edits)
}

/// The edit that fits a stock magnet on every side of these pairs that `wanted` asks for. Sides of a plug without sites of
/// its own follow the socket by themselves.
pub(super) fn fit_size(
    plan: &Plan,
    joint: &Joint,
    pairs: &[ModelPair],
    magnet: MagnetIx,
    wanted: impl Fn(&ModelPiece) -> bool,
) -> Option<Edit> {
    let stock = &plan.stock.magnets[magnet];
    change_pairs(plan, joint, pairs, |piece, site| {
        wanted(piece) && put(site.fit, Fit::Magnet(stock.id.clone()))
    })
}

/// The edit that fits a stock magnet on both sides of one pair, where it holds magnets now.
pub fn with_size(plan: &Plan, joint: &Joint, pair: &ModelPair, magnet: MagnetIx) -> Option<Edit> {
    let wanted = |piece: &ModelPiece| matches!(piece.filling, Filling::Magnet(i) if i != magnet);
    fit_size(plan, joint, std::slice::from_ref(pair), magnet, wanted)
}

/// Whether the pair can be moved by itself: neither of its sites is an end of a hole that goes right through.
pub fn is_free(plan: &Plan, joint: &Joint, pair: &ModelPair) -> bool {
    let socket = &plan.sockets[joint.socket];
    let mine = socket
        .sites
        .iter()
        .find(|s| same(s.at_mm, pair.socket.at_mm));
    mine.is_some_and(|s| s.through.is_none()) && without_pair(plan, joint, pair).is_some()
}

/// The edit that adds a pair like `like` at another place.
pub fn with_pair(
    plan: &Plan,
    joint: &Joint,
    model: &JointModel,
    like: &ModelPair,
    at_mm: [f64; 2],
) -> Option<Edit> {
    let mut socket = plan.sockets[joint.socket].clone();
    let old = socket
        .sites
        .iter()
        .find(|s| same(s.at_mm, like.socket.at_mm));
    let at_mm = at_mm.map(|v| (v * 100.0).round() / 100.0 + 0.0);
    let fresh = Site::<SocketSiteRef> {
        id: free_id(socket.sites.iter().map(|s| s.id.as_str())),
        at_mm,
        through: None,
        fit: Fit::Auto,
        pole: None,
        ..old
            .cloned()
            .unwrap_or_else(|| Site::plain(SiteId::new("a")))
    };
    socket.sites.push(fresh.clone());
    let mut edits = vec![Edit::PutSocket(Box::new(socket))];
    let mut part = plan.parts[model.part].clone();
    if let Some(sites) = part.plugs[joint.plug].sites.as_mut() {
        let mine = sites
            .iter()
            .find(|s| same(joint.pose.place(s.at_mm), like.plug.at_mm))
            .cloned();
        sites.push(Site::<PlugSiteRef> {
            id: free_id(sites.iter().map(|s| s.id.as_str())),
            at_mm: in_plug(joint, at_mm),
            through: None,
            fit: Fit::Auto,
            pole: None,
            ..mine.unwrap_or_else(|| Site::plain(SiteId::new("a")))
        });
        edits.push(Edit::PutPart(Box::new(part)));
    }
    one(edits)
}

/// Whether the value changes something.
pub(super) fn put<T: PartialEq>(to: &mut T, value: T) -> bool {
    let changes = *to != value;
    *to = value;
    changes
}

/// The first of a, b, c ... that is not taken; numbers beyond z.
fn free_id<'a>(taken: impl Iterator<Item = &'a str>) -> SiteId {
    let taken: Vec<&str> = taken.collect();
    let letters = ('a'..='z').map(String::from);
    let free = letters
        .chain((1..).map(|n| format!("s{n}")))
        .find(|id| !taken.contains(&id.as_str()));
    SiteId::new(free.unwrap_or_default())
}
