//! Each reason of the verdict by itself, on the smallest kit that can show it, from both sides of its limit: seen by the judge, the
//! report, the first choice and the exact search alike.

use lodewright_joints::{
    Context, Filling, Fillings, Hole, HoleIx, JointModel, Misfit, Reason, Verdict, initial_sizes,
    joint_reports, poles,
};
use lodewright_kit::{
    Drawn, Facing, Fit, Ix, MagnetIx, MagnetStock, Mass, Patch, PegKind, Plan, Pole, Section,
    Settings, Socket, SocketIx, SocketSiteRef, SteelIx, Stock, Table, ThinSection,
};

use crate::support::{
    all, context, count, fewest_of, fit_magnet, magnet, mast, one_joint, only, plug_hole,
    plug_site, site, socket_hole, top,
};

/// A kit of one joint whose limits are so wide that nothing speaks against it, with these magnets in stock and no steel.
fn kit(magnets: &[MagnetStock], change: impl FnOnce(&mut Plan)) -> Plan {
    one_joint(|plan| {
        plan.stock.magnets = magnets.to_vec();
        plan.stock.steel.clear();
        let settings = &mut plan.settings;
        (settings.hold_target_g, settings.shake_g) = (1.0, 0.0);
        (settings.hand_limit_n, settings.glue_strength_mpa) = (1000.0, 1000.0);
        mast(plan).plugs[0].sites = Some(vec![plug_site("a", [0.0; 2])]);
        change(plan);
    })
}

/// The joint with these pieces, judged; the report has to agree, and the quick answer too.
fn judged(context: &Context, fillings: &Fillings) -> Verdict {
    let poles = poles(&context.holes, &context.mates, fillings).poles;
    let model = context.model(only(), fillings, Some(&poles)).unwrap();
    let verdict = model.judge();
    assert_eq!(
        model.is_good_so_far(),
        verdict.is_good_so_far(),
        "{verdict:?}"
    );
    let report = &joint_reports(context, fillings, &poles)[only()];
    assert_eq!(report.reasons, verdict.reasons);
    assert_eq!(report.is_in_trouble(), !verdict.is_good());
    assert_eq!(report.hand_n, verdict.hand_n);
    let worst = report.worst().map(|h| h.margin_x_weight);
    assert_eq!(worst, verdict.margin_x_weight());
    verdict
}

fn reasons(context: &Context, fillings: &Fillings) -> Vec<Reason> {
    judged(context, fillings).reasons
}

/// A magnet in every hole for which the plan names none.
fn filled(context: &Context, magnet: usize) -> Fillings {
    let holes = &context.holes.holes;
    Table::of(holes, |_, hole| {
        named(context, hole).unwrap_or(Filling::Magnet(MagnetIx::new(magnet)))
    })
}

/// The magnet that the plan names for a hole.
fn named(context: &Context, hole: &Hole) -> Option<Filling> {
    let Fit::Magnet(id) = &hole.fit else {
        return None;
    };
    let found = MagnetIx::find(&context.plan().stock.magnets, |m| m.id == *id);
    found.map(Filling::Magnet)
}

/// What the plan comes to with the first magnet of its stock in every hole.
fn with_first(plan: &Plan) -> (Context, Fillings) {
    let context = context(plan);
    let fillings = filled(&context, 0);
    (context, fillings)
}

fn model_of(plan: &Plan) -> JointModel {
    let (context, fillings) = with_first(plan);
    context.model(only(), &fillings, None).unwrap()
}

/// Fewest magnets of every filling of the joint's holes against which nothing speaks as far as it is known, by trying each of them.
fn by_hand(context: &Context) -> Option<usize> {
    let stock = &context.plan().stock;
    let mut pieces = vec![Filling::Empty];
    pieces.extend(MagnetIx::all(&stock.magnets).map(Filling::Magnet));
    pieces.extend(SteelIx::all(&stock.steel).map(Filling::Steel));
    let mut all: Vec<Vec<Filling>> = vec![Vec::new()];
    for hole in &context.holes.holes {
        let may = named(context, hole).map_or(pieces.clone(), |n| vec![n]);
        let with = |before: &Vec<Filling>, piece: &Filling| [&before[..], &[*piece]].concat();
        let longer = all.iter().flat_map(|b| may.iter().map(move |p| with(b, p)));
        all = longer.collect();
    }
    let good = all.into_iter().filter_map(|fillings| {
        let fillings: Fillings = fillings.into_iter().collect();
        let poles = poles(&context.holes, &context.mates, &fillings).poles;
        let model = context.model(only(), &fillings, Some(&poles)).unwrap();
        let is_good = model.judge().is_good_so_far();
        is_good.then(|| count(&fillings))
    });
    good.min()
}

/// The choice that the exact search takes. It takes none where none does, and what it takes is good and has the fewest magnets.
fn searched(context: &Context) -> Option<Fillings> {
    let found = fewest_of(context);
    let [family] = found.families.as_slice() else {
        panic!("{found:?}")
    };
    assert!(found.proven && found.checked, "{found:?}");
    let magnets = family.magnets.map(|n| usize::try_from(n).unwrap());
    assert_eq!(magnets, by_hand(context));
    assert_eq!(family.taken.is_some(), magnets.is_some());
    family.taken.as_ref()?;
    assert!(judged(context, &found.fillings).is_good_so_far());
    Some(found.fillings)
}

/// A reason with a limit in the plan.
struct Limit {
    plan: Plan,
    /// What the plan's limit has to be for the joint with the first magnet of the stock just to pass.
    at: fn(&JointModel) -> f64,
    set: fn(&mut Plan, f64),
    /// The next number on the side where it does not pass.
    worse: fn(f64) -> f64,
    is: fn(&Reason) -> bool,
    /// A size that passes where the first does not.
    mends: MagnetStock,
}

impl Limit {
    fn binds_alone(&self) {
        let at = (self.at)(&model_of(&self.plan));
        let with = |limit: f64| {
            let mut plan = self.plan.clone();
            (self.set)(&mut plan, limit);
            plan
        };
        let (good, bad) = (with(at), with((self.worse)(at)));

        let (context, fillings) = with_first(&good);
        assert_eq!(reasons(&context, &fillings), []);
        assert_eq!(searched(&context), Some(fillings));

        let (context, fillings) = with_first(&bad);
        let found = reasons(&context, &fillings);
        assert!(found.len() == 1 && (self.is)(&found[0]), "{found:?}");
        assert_eq!(searched(&context), None);

        // The size that mends it is dearer by far, and taken all the same.
        let mut mended = bad;
        mended.stock.magnets.push(self.mends.clone());
        let (context, _) = with_first(&mended);
        let last = mended.stock.magnets.len() - 1;
        let mend = filled(&context, last);
        assert_eq!(reasons(&context, &mend), []);
        let taken = searched(&context).unwrap();
        assert_eq!(reasons(&context, &taken), []);
        assert!(
            taken
                .values()
                .contains(&Filling::Magnet(MagnetIx::new(last)))
        );
        // As far as holding is concerned the first choice mends it as well.
        if found[0].is_of_holding() {
            let grown = initial_sizes(&context).fillings;
            assert_eq!(reasons(&context, &grown), []);
        }
    }
}

const CHEAP: u32 = 10;
const DEAR: u32 = 100_000;

#[test]
fn too_weak() {
    Limit {
        plan: kit(&[magnet(3.0, 1.0, CHEAP)], |_| {}),
        at: |joint| joint.judge().margin_x_weight().unwrap(),
        set: |plan, limit| plan.settings.hold_target_g = limit,
        worse: f64::next_up,
        is: |r| matches!(r, Reason::TooWeak { margin_x_weight } if *margin_x_weight > 1.0),
        mends: magnet(5.0, 2.0, DEAR),
    }
    .binds_alone();
}

#[test]
fn shaken_off() {
    let least = |joint: &JointModel| {
        let cases = joint.attitudes().into_iter().map(|c| c.shake_g);
        cases.fold(f64::INFINITY, f64::min)
    };
    Limit {
        plan: kit(&[magnet(3.0, 1.0, CHEAP)], |plan| {
            plan.settings.hold_target_g = 0.5
        }),
        at: least,
        set: |plan, limit| plan.settings.shake_g = limit,
        worse: f64::next_up,
        is: |r| matches!(r, Reason::ShakenOff { shake_g, .. } if *shake_g > 0.0),
        mends: magnet(5.0, 2.0, DEAR),
    }
    .binds_alone();
}

#[test]
fn hard_to_pull() {
    Limit {
        plan: kit(&[magnet(5.0, 2.0, CHEAP)], |_| {}),
        at: |joint| joint.judge().hand_n,
        set: |plan, limit| plan.settings.hand_limit_n = limit,
        worse: f64::next_down,
        is: |r| matches!(r, Reason::HardToPull { hand_n } if *hand_n > 1.0),
        mends: magnet(3.0, 1.0, DEAR),
    }
    .binds_alone();
}

#[test]
fn glue_overloaded() {
    Limit {
        // The part's magnet is as wide and taller: its glue reaches farther down, so that the host's is the more heavily
        // loaded. The host's hole takes no taller one.
        plan: kit(
            &[magnet(5.0, 2.0, CHEAP), magnet(5.0, 2.5, CHEAP)],
            |plan| {
                top(plan).sites[0].max_depth_mm = 2.3;
                let taller = fit_magnet(plan, 1);
                mast(plan).plugs[0].sites.as_mut().unwrap()[0].fit = taller;
            },
        ),
        at: |joint| joint.judge().bond_mpa * joint_safety(),
        set: |plan, limit| plan.settings.glue_strength_mpa = limit,
        worse: f64::next_down,
        is: |r| matches!(r, Reason::GlueOverloaded { hole, .. } if hole.get() == 0),
        mends: magnet(2.0, 1.0, DEAR),
    }
    .binds_alone();
}

fn joint_safety() -> f64 {
    Settings::default().bond_safety
}

#[test]
fn snaps_first() {
    Limit {
        plan: kit(&[magnet(5.0, 2.0, CHEAP)], |plan| {
            plan.settings.snap_safety = 1.0;
            mast(plan).thin = Some(ThinSection {
                length_mm: 10.0,
                section: Section::Round { diameter_mm: 2.5 },
                reach_mm: 15.0,
                notch_factor: 1.0,
            });
        }),
        at: |joint| joint.judge().let_go.unwrap().factor,
        set: |plan, limit| plan.settings.snap_safety = limit,
        worse: f64::next_up,
        is: |r| matches!(r, Reason::SnapsFirst { opens_n: Some(o), snaps_n } if snaps_n > o),
        mends: magnet(3.0, 1.0, DEAR),
    }
    .binds_alone();
}

/// Sums of tenths differ by less than a thousandth of a micrometre: what is typed as 5.1 takes 5 and 0.1.
fn less_than_counts(mm: f64) -> f64 {
    mm - 2e-9
}

/// By hand: a hole has to be wider than its magnet by the allowance.
#[test]
fn no_room_in_width() {
    Limit {
        plan: kit(&[magnet(5.0, 2.0, CHEAP)], |_| {}),
        at: |_| 5.0 + Settings::default().hole_allowance_mm,
        set: |plan, limit| top(plan).sites[0].max_diameter_mm = limit,
        worse: less_than_counts,
        is: |r| is_misfit(r, 0, |m| *m == Misfit::BeyondSite),
        mends: magnet(3.0, 1.0, DEAR),
    }
    .binds_alone();
}

/// By hand: a blind hole has to be deeper than its magnet by the glue under it.
#[test]
fn no_room_in_depth() {
    Limit {
        plan: kit(&[magnet(5.0, 2.0, CHEAP)], |_| {}),
        at: |_| 2.0 + Settings::default().glue_allowance_mm,
        set: |plan, limit| {
            mast(plan).plugs[0].sites.as_mut().unwrap()[0].max_depth_mm = limit;
        },
        worse: less_than_counts,
        is: |r| is_misfit(r, 1, |m| *m == Misfit::BeyondSite),
        mends: magnet(3.0, 1.0, DEAR),
    }
    .binds_alone();
}

fn is_misfit(reason: &Reason, at: usize, is: fn(&Misfit) -> bool) -> bool {
    matches!(reason, Reason::NoRoom { hole, misfit } if hole.get() == at && is(misfit))
}

/// Half over the tangent of half the 118 degrees that a twist drill is ground to.
const POINT: f64 = 0.300_430_309_513_78;

/// By hand: magnet, glue, the drill's point and half a millimetre behind it.
#[test]
fn too_deep_for_the_part() {
    Limit {
        plan: kit(&[magnet(5.0, 2.0, CHEAP)], |_| {}),
        at: |_| 2.0 + Settings::default().glue_allowance_mm + POINT * 5.1 + 0.5,
        set: |plan, limit| mast(plan).size_mm[2] = limit,
        worse: less_than_counts,
        is: |r| is_misfit(r, 1, |m| matches!(m, Misfit::TooDeep { .. })),
        mends: magnet(3.0, 1.0, DEAR),
    }
    .binds_alone();
}

#[test]
fn too_near_the_side() {
    Limit {
        plan: kit(&[magnet(5.0, 2.0, CHEAP)], |_| {}),
        at: |_| 5.1 + 2.0 * 0.5,
        set: |plan, limit| mast(plan).size_mm[1] = limit,
        worse: |mm| mm - 1e-8,
        is: |r| is_misfit(r, 1, |m| matches!(m, Misfit::NearSide { .. })),
        mends: magnet(3.0, 1.0, DEAR),
    }
    .binds_alone();
}

#[test]
fn too_near_a_peg() {
    Limit {
        plan: kit(&[magnet(5.0, 2.0, CHEAP)], |plan| {
            top(plan).peg.kind = PegKind::Round;
            top(plan).peg.diameter_mm = 2.0;
            // Its hole is left in the host alone.
            mast(plan).plugs[0].keeps_peg = false;
        }),
        at: |_| 1.0 + 5.1 / 2.0 + 0.5,
        set: |plan, limit| top(plan).peg.at_mm = [limit, 0.0],
        worse: less_than_counts,
        is: |r| is_misfit(r, 0, |m| matches!(m, Misfit::NearPeg { .. })),
        mends: magnet(3.0, 1.0, DEAR),
    }
    .binds_alone();
}

/// A second hole in the part's face, which meets nothing, has its magnet already.
#[test]
fn too_near_another_hole() {
    Limit {
        plan: kit(&[magnet(5.0, 2.0, CHEAP)], |plan| {
            plan.settings.stranger_limit_n = 1000.0;
            let mut other = plug_site("b", [0.0; 2]);
            other.fit = fit_magnet(plan, 0);
            mast(plan).plugs[0].sites.as_mut().unwrap().push(other);
        }),
        at: |_| 5.1 + 0.5,
        set: |plan, limit| {
            mast(plan).plugs[0].sites.as_mut().unwrap()[1].at_mm = [limit, 0.0];
        },
        worse: |mm| mm - 2e-6,
        is: |r| is_misfit(r, 1, |m| matches!(m, Misfit::NearHole { .. })),
        mends: magnet(3.0, 1.0, DEAR),
    }
    .binds_alone();
}

#[test]
fn the_front_is_gone() {
    Limit {
        plan: kit(&[magnet(5.0, 2.0, CHEAP)], |_| {}),
        at: |_| POINT * 5.1,
        set: |plan, limit| top(plan).sites[0].wall_mm = limit,
        worse: less_than_counts,
        is: |r| is_misfit(r, 0, |m| matches!(m, Misfit::FrontGone { .. })),
        mends: magnet(3.0, 1.0, DEAR),
    }
    .binds_alone();
}

/// What no size mends: the same kit with and without the fault.
fn binds_whatever_is_chosen(plan: impl Fn(bool) -> Plan, reason: Reason) {
    let (context, fillings) = with_first(&plan(false));
    assert_eq!(reasons(&context, &fillings), []);
    assert_eq!(searched(&context), Some(fillings));
    let (context, fillings) = with_first(&plan(true));
    assert_eq!(reasons(&context, &fillings), [reason]);
    assert_eq!(searched(&context), None);
}

#[test]
fn no_material() {
    let bent = |bent: bool| {
        kit(&[magnet(2.0, 1.0, CHEAP)], |plan| {
            mast(plan).drawn = Drawn::Figure;
            mast(plan).size_mm = [10.0, 20.0, 40.0];
            mast(plan).mass = Mass::Weighed { mass_g: 0.1 };
            let y = if bent { 0.0 } else { 3.4 };
            top(plan).sites[0].at_mm = [0.0, y];
            mast(plan).plugs[0].sites = Some(vec![plug_site("a", [0.0, y])]);
        })
    };
    let (hole, misfit) = (HoleIx::new(1), Misfit::NoMaterial);
    binds_whatever_is_chosen(bent, Reason::NoRoom { hole, misfit });
}

#[test]
fn the_mouths_lie_apart() {
    let bored = |apart: bool| {
        kit(&[magnet(5.0, 2.0, CHEAP)], |plan| {
            plan.parts[0].size_mm[2] = 2.0;
            let mut far = Socket::plain("behind".into(), String::from("Behind"), plan.base.clone());
            far.facing = Facing::Down;
            let aside = if apart { 0.5_f64.next_up() } else { 0.5 };
            far.sites = vec![site("a", [aside, 0.0])];
            far.sites[0].through = Some(SocketSiteRef {
                socket: plan.sockets[0].id.clone(),
                site: "a".into(),
            });
            plan.sockets.push(far);
        })
    };
    let (hole, misfit) = (HoleIx::new(0), Misfit::MouthsApart);
    binds_whatever_is_chosen(bored, Reason::NoRoom { hole, misfit });
}

/// Lifted by its part, the model hangs by a socket that nobody has placed. The search goes on without that load.
#[test]
fn not_placed() {
    let lifted = |placed: bool| {
        let mut plan = kit(&[magnet(5.0, 2.0, CHEAP)], |plan| {
            mast(plan).lift_point = true;
        });
        if !placed {
            top(&mut plan).at_mm = None;
        }
        with_first(&plan)
    };
    let (context, fillings) = lifted(true);
    assert_eq!(reasons(&context, &fillings), []);
    let (context, fillings) = lifted(false);
    let socket = SocketIx::new(0);
    assert_eq!(reasons(&context, &fillings), [Reason::NotPlaced { socket }]);
    assert_eq!(searched(&context), Some(fillings));
}

#[test]
fn nothing_pulls() {
    let context = context(&one_joint(|plan| plan.stock.steel.truncate(1)));
    let with = |a, b| -> Fillings { [a, b].into_iter().collect() };
    let (magnet, steel) = (
        Filling::Magnet(MagnetIx::new(4)),
        Filling::Steel(SteelIx::new(0)),
    );
    for nothing in [
        with(Filling::Empty, Filling::Empty),
        with(magnet, Filling::Empty),
        with(Filling::Empty, magnet),
        with(steel, steel),
    ] {
        assert_eq!(reasons(&context, &nothing), [Reason::NothingPulls]);
    }
    for something in [
        with(magnet, magnet),
        with(steel, magnet),
        with(magnet, steel),
    ] {
        assert_eq!(reasons(&context, &something), []);
    }
    // One magnet and steel opposite it are the fewest.
    assert_eq!(count(&searched(&context).unwrap()), 1);
}

/// Two faces 12 mm wide: moved aside by just under that a strip is left that a small light part holds by, moved by 12 mm nothing.
#[test]
fn no_contact() {
    let moved = |aside_mm: f64| {
        kit(&[magnet(2.0, 1.0, CHEAP)], |plan| {
            top(plan).sites[0].at_mm = [5.8, 0.0];
            let part = mast(plan);
            part.plugs[0].sites.as_mut().unwrap()[0].at_mm = [5.8, 0.0];
            part.size_mm = [26.0, 12.0, 3.0];
            part.mass = Mass::Weighed { mass_g: 0.01 };
            let (low, high) = (aside_mm - 6.0, aside_mm + 6.0);
            part.plugs[0].patch = Some(Patch::Points(vec![
                [low, -6.0],
                [high, -6.0],
                [high, 6.0],
                [low, 6.0],
            ]));
        })
    };
    let (touching, fillings) = with_first(&moved(11.6));
    assert_eq!(reasons(&touching, &fillings), []);
    assert_eq!(searched(&touching), Some(fillings));
    for aside_mm in [12.0, 13.0] {
        let (apart, fillings) = with_first(&moved(aside_mm));
        assert_eq!(reasons(&apart, &fillings), [Reason::NoContact]);
        assert_eq!(searched(&apart), None);
    }
}

/// A large pair that holds and a small one of which both poles are fixed: alike they push off, unlike they pull.
#[test]
fn repels() {
    let with = |pole: Pole| {
        kit(
            &[magnet(5.0, 2.0, CHEAP), magnet(2.0, 1.0, CHEAP)],
            |plan| {
                let mut small = site("b", [4.5, 0.0]);
                small.max_diameter_mm = 2.1;
                small.pole = Some(Pole::N);
                top(plan).sites.push(small);
                let mut small = plug_site("b", [4.5, 0.0]);
                small.pole = Some(pole);
                mast(plan).plugs[0].sites.as_mut().unwrap().push(small);
                // Only what is fixed here repels or not: magnets side by side are not asked about.
                plan.settings.stranger_limit_n = 1000.0;
            },
        )
    };
    let fill = |plan: &Plan| {
        let context = context(plan);
        let mut fillings = all(&context, Filling::Magnet(MagnetIx::new(0)));
        let holes = [
            socket_hole(&context, "top", "b"),
            plug_hole(&context, "mast", "b"),
        ];
        for hole in holes {
            fillings[hole] = Filling::Magnet(MagnetIx::new(1));
        }
        (context, fillings, holes)
    };
    let (unlike, fillings, _) = fill(&with(Pole::S));
    assert_eq!(reasons(&unlike, &fillings), []);
    let (alike, fillings, holes) = fill(&with(Pole::N));
    assert_eq!(reasons(&alike, &fillings), [Reason::Repels { holes }]);
    // The search does without the small pair.
    let found = fewest_of(&alike);
    assert_eq!(found.families[0].magnets, Some(2));
    assert_eq!(reasons(&alike, &found.fillings), []);
}

/// With a pair that must show N on both sides and nothing else there is no choice; steel is one.
#[test]
fn what_repels_is_not_chosen_and_steel_mends_it() {
    let with = |pole: Pole, steel: bool| {
        context(&kit(&[magnet(5.0, 2.0, CHEAP)], |plan| {
            if steel {
                plan.stock.steel = vec![Stock::default().steel.remove(0)];
            }
            top(plan).sites[0].pole = Some(Pole::N);
            mast(plan).plugs[0].sites.as_mut().unwrap()[0].pole = Some(pole);
        }))
    };
    assert_eq!(count(&searched(&with(Pole::S, false)).unwrap()), 2);
    assert_eq!(searched(&with(Pole::N, false)), None);
    assert_eq!(count(&searched(&with(Pole::N, true)).unwrap()), 1);
}

/// A checked plan keeps within what the statics take; a model that somebody changes by hand need not.
#[test]
fn cannot_tell() {
    let context = context(&kit(&[magnet(5.0, 2.0, CHEAP)], |_| {}));
    let mut model = context.model(only(), &filled(&context, 0), None).unwrap();
    assert_eq!(model.judge().reasons, []);
    model.loads[0].mass_g = f64::INFINITY;
    assert_eq!(model.judge().reasons, [Reason::CannotTell]);
    assert!(!model.is_good_so_far() && model.judge().margin_x_weight().is_none());
}
