//! Whatever a usual joint lays out on a host can be drilled there for the smallest disc in stock.

use std::rc::Rc;

use lodewright_assembly::{Board, glue_answer};
use lodewright_joints::{Context, Filling, HoleIx, misfit};
use lodewright_kit::{
    CheckedPlan, Drawn, Facing, Inside, Ix, JointPreset, MagnetIx, Plan, PresetRefusal,
};

use crate::support::one_joint;

/// Every hole of the host that the smallest disc does not fit.
fn misfits(plan: Plan) -> Vec<String> {
    let smallest = MagnetIx::each(&plan.stock.magnets).min_by(|(_, a), (_, b)| {
        let size = |m: &lodewright_kit::MagnetStock| m.diameter_mm + m.height_mm;
        size(a).total_cmp(&size(b))
    });
    let filling = Filling::Magnet(smallest.unwrap().0);
    let board = Rc::new(Board::of(CheckedPlan::of(plan).unwrap()));
    let glue = Rc::new(glue_answer(&board));
    let context = Context::of(Rc::clone(&board), glue);
    let holes = &context.holes;
    let of_host = HoleIx::each(&holes.holes).filter(|(_, h)| h.part == board.base());
    let found = of_host.filter_map(|(_, h)| misfit(context.plan(), h, filling));
    found.map(|m| format!("{m:?}")).collect()
}

#[test]
fn what_is_laid_out_can_be_drilled() {
    let insides = [
        Inside::Solid,
        Inside::Shell { wall_mm: 1.2 },
        Inside::Shell { wall_mm: 2.4 },
    ];
    let shapes = [Drawn::Box, Drawn::Barrel, Drawn::Frame];
    let sizes = [
        [60.0, 40.0, 30.0],
        [60.0, 3.0, 30.0],
        [30.0, 20.0, 2.3],
        [12.0, 9.0, 7.0],
    ];
    let (mut laid, mut refused) = ([0; 6], 0);
    for (n, preset) in JointPreset::ALL.into_iter().enumerate() {
        for size_mm in sizes {
            for drawn in &shapes {
                for inside in insides {
                    for (facing, off_mm) in [
                        (Facing::Up, 0.0),
                        (Facing::Left, 1.5),
                        (Facing::Front, -2.0),
                    ] {
                        let plan = one_joint(|plan| {
                            let base = &mut plan.parts[0];
                            (base.size_mm, base.drawn, base.inside) =
                                (size_mm, drawn.clone(), inside);
                            plan.sockets[0].facing = facing;
                            let frame = plan.sockets[0].frame(&plan.parts[0]);
                            plan.sockets[0].at_mm = Some(frame.to_outer([off_mm, 0.0, 0.0]));
                        });
                        let id = plan.sockets[0].id.clone();
                        match preset.edit(&plan, &id) {
                            Ok(edit) => {
                                laid[n] += 1;
                                let found = misfits(plan.edited(&edit).unwrap());
                                assert!(
                                    found.is_empty(),
                                    "{preset:?} {size_mm:?} {drawn:?} {inside:?} {facing:?} {found:?}"
                                );
                            }
                            Err(why) => {
                                assert_ne!(why, PresetRefusal::NoSocket);
                                refused += 1;
                            }
                        }
                    }
                }
            }
        }
    }
    assert!(laid.iter().all(|n| *n >= 4), "{laid:?}");
    assert!(refused > 100, "{refused}");
    println!("{laid:?} laid out, {refused} refused");
}
