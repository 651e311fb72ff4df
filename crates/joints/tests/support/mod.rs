//! Small plans and what they come to.

use std::rc::Rc;

use lodewright_assembly::{Board, JointIx, glue_answer};
use lodewright_joints::{
    Context, Fewest, Filling, Fillings, HoleIx, InitialSizes, JointReport, Owner, Poles, fewest,
    initial_sizes, joint_reports, poles,
};
use lodewright_kit::{
    CheckedPlan, Edit, Facing, Finish, Fit, Ix, MagnetMake, MagnetStock, Mass, Pack, PartIx, Plan,
    PlugIx, PlugSiteRef, Site, SiteId, SocketIx, SocketSiteRef, StockId, Table,
};

/// A plan from a grid text, every part of this mass, with further changes; sockets that these leave without a place stand in the
/// middle of their faces.
pub fn plan(grid: &str, mass_g: f64, change: impl FnOnce(&mut Plan)) -> Plan {
    let mut plan = Plan::empty("test")
        .edited(&Edit::PasteGrid(grid.to_owned()))
        .unwrap();
    for part in &mut plan.parts {
        part.mass = Mass::Weighed { mass_g };
    }
    // As thin as may be, so that pegs leave room for holes.
    for socket in &mut plan.sockets {
        socket.peg.diameter_mm = 0.2;
    }
    change(&mut plan);
    place_all(&mut plan);
    plan
}

/// Places every socket that has no place in the middle of its face.
pub fn place_all(plan: &mut Plan) {
    let parts = plan.parts.clone();
    for socket in &mut plan.sockets {
        if let Some(host) = parts.iter().find(|p| p.id == socket.host) {
            socket.at_mm = Some(socket.frame(host).origin_mm);
        }
    }
}

/// A plan whose first two sockets lie on the two faces of a base that is 3 mm thick, sharing one hole.
pub fn wall(grid: &str, mass_g: f64, change: impl FnOnce(&mut Plan)) -> Plan {
    plan(grid, mass_g, |plan| {
        plan.sockets[0].facing = Facing::Left;
        plan.sockets[1].facing = Facing::Right;
        plan.sockets[1].sites[0].through = Some(SocketSiteRef {
            socket: plan.sockets[0].id.clone(),
            site: SiteId::new("a"),
        });
        make_wall(plan, 3.0);
        change(plan);
    })
}

/// Makes the base so thick between its left and right faces, every socket in the middle of its face.
pub fn make_wall(plan: &mut Plan, thick_mm: f64) {
    plan.parts[PartIx::new(0)].size_mm[1] = thick_mm;
    for socket in &mut plan.sockets {
        socket.at_mm = None;
    }
    place_all(plan);
}

/// The smallest kit with a joint that must come apart: one part that is there in one variant and not in the other. Its parts
/// weigh 3 g; nothing is painted.
pub fn one_joint(change: impl FnOnce(&mut Plan)) -> Plan {
    plan("\tWith\tWithout\nTop\tMast\t-\n", 3.0, |plan| {
        plan.finish = Finish {
            primer_um: 0.0,
            colour_um: 0.0,
            varnish_um: 0.0,
            glue_film_um: 0.0,
            fit_um: 0.0,
            ..Finish::default()
        };
        change(plan);
    })
}

/// The only joint of [`one_joint`].
pub fn only() -> JointIx {
    JointIx::new(0)
}

/// The part of [`one_joint`].
pub fn mast(plan: &mut Plan) -> &mut lodewright_kit::Part {
    &mut plan.parts[PartIx::new(1)]
}

/// The socket of [`one_joint`].
pub fn top(plan: &mut Plan) -> &mut lodewright_kit::Socket {
    &mut plan.sockets[SocketIx::new(0)]
}

/// A magnet size of grade N42, ten of which cost so much.
pub fn magnet(diameter_mm: f64, height_mm: f64, ten_cents: u32) -> MagnetStock {
    MagnetStock {
        id: StockId::new(format!("m{}x{}", diameter_mm * 10.0, height_mm * 10.0)),
        diameter_mm,
        height_mm,
        grade: "N42".to_owned(),
        br_by_hand_t: None,
        packs: vec![Pack {
            count: 10,
            price_cents: ten_cents,
        }],
        in_hand: 0,
    }
}

/// A socket's site.
pub fn site(id: &str, at_mm: [f64; 2]) -> Site<SocketSiteRef> {
    let mut site = Site::plain(SiteId::new(id));
    site.at_mm = at_mm;
    site
}

/// A plug's site.
pub fn plug_site(id: &str, at_mm: [f64; 2]) -> Site<PlugSiteRef> {
    let mut site = Site::plain(SiteId::new(id));
    site.at_mm = at_mm;
    site
}

/// The plan worked out.
pub fn context(plan: &Plan) -> Context {
    let board = Rc::new(Board::of(CheckedPlan::of(plan.clone()).unwrap()));
    let glue = Rc::new(glue_answer(&board));
    Context::of(board, glue)
}

/// A plan with the first choice of magnets, poled and judged.
pub struct Settled {
    pub context: Context,
    pub sizes: InitialSizes,
    pub poles: Poles,
    pub reports: Table<JointIx, JointReport>,
}

impl Settled {
    pub fn of(plan: &Plan) -> Self {
        let context = context(plan);
        let sizes = initial_sizes(&context);
        let poles = poles(&context.holes, &context.mates, &sizes.fillings);
        let reports = joint_reports(&context, &sizes.fillings, &poles.poles);
        Self {
            context,
            sizes,
            poles,
            reports,
        }
    }

    pub fn magnets(&self) -> usize {
        count(&self.sizes.fillings)
    }

    pub fn report(&self, joint: usize) -> &JointReport {
        &self.reports[JointIx::new(joint)]
    }

    /// Every pair of every joint.
    pub fn pairs(&self) -> impl Iterator<Item = &lodewright_joints::PairReport> {
        self.reports.values().iter().flat_map(|r| &r.pairs)
    }
}

/// Magnets in a choice.
pub fn count(fillings: &Fillings) -> usize {
    let magnet = |f: &&Filling| matches!(f, Filling::Magnet(_));
    fillings.values().iter().filter(magnet).count()
}

/// The hole of a socket's site.
pub fn socket_hole(context: &Context, socket: &str, site: &str) -> HoleIx {
    let socket = context.plan().socket_ix(&socket.into()).unwrap();
    HoleIx::find(&context.holes.holes, |h| {
        h.owner == Owner::Socket(socket) && h.site.as_str() == site
    })
    .unwrap()
}

/// The hole of a site on a part's first plug.
pub fn plug_hole(context: &Context, part: &str, site: &str) -> HoleIx {
    let part = context.plan().part_ix(&part.into()).unwrap();
    HoleIx::find(&context.holes.holes, |h| {
        h.owner == Owner::Plug(part, PlugIx::new(0)) && h.site.as_str() == site
    })
    .unwrap()
}

/// The joint of a part in a socket.
pub fn joint_of(context: &Context, part: &str, socket: &str) -> JointIx {
    let part = context.plan().part_ix(&part.into()).unwrap();
    let socket = context.plan().socket_ix(&socket.into()).unwrap();
    JointIx::find(&context.board.joints, |j| {
        (j.part, j.socket) == (part, socket)
    })
    .unwrap()
}

/// The same piece in every hole.
pub fn all(context: &Context, filling: Filling) -> Fillings {
    Table::of(&context.holes.holes, |_, _| filling)
}

/// The exact choice where money is no matter.
pub fn fewest_of(context: &Context) -> Fewest {
    let now = initial_sizes(context).fillings;
    fewest(context, &now, &|_| (0, 0), &mut |_, _| true)
}

/// A magnet of the stock as a fit.
pub fn fit_magnet(plan: &Plan, index: usize) -> Fit {
    Fit::Magnet(plan.stock.magnets[index].id.clone())
}

/// Magnets of the sizes they are sold by, without plating.
pub fn exact_make() -> MagnetMake {
    MagnetMake {
        size_tolerance_mm: 0.0,
        thinnest_plating_um: 0.0,
        thickest_plating_um: 0.0,
    }
}
