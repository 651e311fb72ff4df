//! The quick answers about a joint against the judge, on random small kits and fillings.

use lodewright_joints::{Filling, Fillings, HoleIx, JointModel, Reason};
use lodewright_kit::{
    Facing, Ix, MagnetIx, Mass, Patch, PegKind, Plan, Pole, Section, SteelIx, Table, ThinSection,
};
use proptest::prelude::*;

use crate::support::{context, mast, one_joint, only, plug_site, site, top};

/// A random kit of one joint with two pairs of holes, and what is in them.
#[derive(Clone, Debug)]
struct Joint {
    plan: Plan,
    fillings: Vec<Filling>,
    poles: Vec<Pole>,
}

impl Joint {
    fn model(&self) -> JointModel {
        let context = context(&self.plan);
        let fillings: Fillings = self.fillings.iter().copied().collect();
        let poles: Table<HoleIx, _> = self.poles.iter().map(|p| Some(*p)).collect();
        context.model(only(), &fillings, Some(&poles)).unwrap()
    }

    fn with(&self, change: impl FnOnce(&mut Plan)) -> JointModel {
        let mut other = self.clone();
        change(&mut other.plan);
        other.model()
    }
}

fn filling() -> impl Strategy<Value = Filling> {
    prop_oneof![
        1 => Just(Filling::Empty),
        6 => (0..7_usize).prop_map(|m| Filling::Magnet(MagnetIx::new(m))),
        1 => (0..3_usize).prop_map(|s| Filling::Steel(SteelIx::new(s))),
    ]
}

prop_compose! {
    fn joints()(
        fillings in prop::collection::vec(filling(), 4),
        repels in prop::sample::select(vec![false, false, false, true]),
        places in [(-5.0..-2.0_f64, -5.0..5.0_f64), (2.0..5.0_f64, -5.0..5.0_f64)],
        kind in prop::sample::select(vec![PegKind::None, PegKind::Round, PegKind::Two, PegKind::Keyed]),
        (snug, clearance_mm, friction) in (any::<bool>(), 0.0..0.5_f64, 0.05..0.8_f64),
        (mass_g, height_mm, up) in (0.5..60.0_f64, 3.0..40.0_f64, any::<bool>()),
        (target, shake_g) in (0.0..8.0_f64, 0.0..3.0_f64),
        (hand_limit_n, glue_mpa, snap) in (0.5..15.0_f64, 0.2..3.0_f64, 1.0..4.0_f64),
        thin_mm in prop::option::of(0.8..3.0_f64),
        aside_mm in prop::option::of(-3.0..14.0_f64),
        depth_mm in prop::sample::select(vec![2.05, 3.1, 3.2]),
    ) -> Joint {
        let plan = one_joint(|plan| {
            let settings = &mut plan.settings;
            (settings.hold_target_g, settings.shake_g, settings.friction) = (target, shake_g, friction);
            (settings.hand_limit_n, settings.glue_strength_mpa) = (hand_limit_n, glue_mpa);
            settings.snap_safety = snap;
            let at = |i: usize| [places[i].0, places[i].1];
            let socket = top(plan);
            socket.facing = if up { Facing::Up } else { Facing::Left };
            socket.peg.kind = kind;
            (socket.peg.snug, socket.peg.clearance_mm) = (snug, clearance_mm);
            socket.sites = vec![site("a", at(0)), site("b", at(1))];
            socket.sites.iter_mut().for_each(|s| (s.max_depth_mm, s.max_diameter_mm) = (depth_mm, 6.1));
            let part = mast(plan);
            part.mass = Mass::Weighed { mass_g };
            part.size_mm = [16.0, 16.0, height_mm];
            part.thin = thin_mm.map(|diameter_mm| ThinSection {
                length_mm: height_mm,
                section: Section::Round { diameter_mm },
                reach_mm: height_mm,
                notch_factor: 1.2,
            });
            part.plugs[0].sites = Some(vec![plug_site("a", at(0)), plug_site("b", at(1))]);
            part.plugs[0].patch = aside_mm.map(|x| Patch::Points(vec![
                [x - 6.0, -6.0], [x + 6.0, -6.0], [x + 6.0, 6.0], [x - 6.0, 6.0],
            ]));
        });
        let second = if repels { Pole::N } else { Pole::S };
        Joint { plan, fillings, poles: vec![Pole::N, Pole::N, Pole::S, second] }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    /// The quick answer is the judge's, also with each limit set to just what the joint comes to, so that it passes by a hair
    /// or fails by one.
    #[test]
    fn the_quick_answer_is_the_judges(joint in joints()) {
        let agrees = |model: &JointModel| {
            let verdict = model.judge();
            assert_eq!(model.is_good_so_far(), verdict.is_good_so_far(), "{:?}", verdict.reasons);
            verdict
        };
        let verdict = agrees(&joint.model());
        if let Some(margin) = verdict.margin_x_weight().filter(|m| *m <= 1000.0) {
            let wide = |plan: &mut Plan| {
                (plan.settings.hand_limit_n, plan.settings.glue_strength_mpa) = (1000.0, 1000.0);
                plan.settings.shake_g = 0.0;
                mast(plan).thin = None;
            };
            for target in [margin, margin.next_up()] {
                let model = joint.with(|plan| {
                    wide(plan);
                    plan.settings.hold_target_g = target;
                });
                let told = agrees(&model);
                // Shaking apart, a joint that holds just what is asked is not too weak.
                let is_weak = |r: &Reason| matches!(r, Reason::TooWeak { .. } | Reason::NothingPulls | Reason::NoContact);
                prop_assert_eq!(told.has(is_weak), target > margin, "{:?}", told.reasons);
            }
        }
        if verdict.hand_n >= 0.1 {
            for limit in [verdict.hand_n, verdict.hand_n.next_down()] {
                let told = agrees(&joint.with(|plan| plan.settings.hand_limit_n = limit));
                prop_assert_eq!(told.is_comfortable(), limit >= verdict.hand_n);
            }
        }
    }

    /// What bears a load of so many times its weight in the worst direction bears, at rest in any attitude, shaking of one less:
    /// gravity is one of them, and shaking the others.
    #[test]
    fn what_holds_the_target_cannot_be_shaken_off_below_it(joint in joints()) {
        let model = joint.model();
        // Nought stands for anything that does not hold at all.
        let Some(margin) = model.judge().margin_x_weight().filter(|m| *m > 0.0) else {
            return Ok(());
        };
        let cases = model.attitudes();
        prop_assert_eq!(cases.len(), 6);
        for case in &cases {
            prop_assert!(case.shake_g >= margin - 1.0 - 1e-9 * (1.0 + margin.abs()), "{case:?} {margin}");
        }
        // So the judge need not ask, and what it says then is what asking would say.
        for (target, shake_g) in [(margin, (margin - 1.0).max(0.0)), (margin / 2.0, margin / 2.0)] {
            if !(0.0..=1000.0).contains(&target) || margin < 1.0 {
                continue;
            }
            let asked = joint.with(|plan| {
                (plan.settings.hold_target_g, plan.settings.shake_g) = (target, shake_g);
            });
            let fails = cases.iter().any(|c| c.shake_g < shake_g - 1e-9 * (1.0 + margin));
            let told = asked.judge().has(|r| matches!(r, Reason::ShakenOff { .. }));
            prop_assert!(!fails || told, "{cases:?} {target} {shake_g}");
            if told {
                let worst = cases.iter().map(|c| c.shake_g).fold(f64::INFINITY, f64::min);
                prop_assert!(worst < shake_g);
            }
        }
    }
}

/// The quick bound, all pulls straight off, is exact for a joint that comes straight off: with a target of just that margin it is
/// good. The same for one without a peg that slides.
#[test]
fn the_quick_bound_refuses_nothing_that_is_good() {
    for kind in [PegKind::Keyed, PegKind::None] {
        let plan = one_joint(|plan| {
            plan.settings.friction = 0.37;
            (plan.settings.hand_limit_n, plan.settings.glue_strength_mpa) = (1000.0, 1000.0);
            (top(plan).peg.kind, top(plan).peg.at_mm) = (kind, [5.5, 5.5]);
            top(plan).patch = Patch::Rectangle {
                width_mm: 80.0,
                height_mm: 80.0,
            };
            mast(plan).size_mm = [20.0, 20.0, 5.0];
            // Its centre of mass in the plane of the joint: nothing makes it tip before it comes off.
            mast(plan).centre_mm = Some([0.0, 0.0, -2.5]);
            mast(plan).mass = Mass::Weighed { mass_g: 20.0 };
        });
        let joint = Joint {
            plan,
            fillings: vec![Filling::Magnet(MagnetIx::new(4)); 2],
            poles: vec![Pole::N, Pole::S],
        };
        let verdict = joint.model().judge();
        let margin = verdict.margin_x_weight().unwrap();
        let mu: f64 = 0.37;
        let grip = match kind {
            PegKind::None => mu / (1.0 + mu * mu).sqrt(),
            _ => 1.0,
        };
        let load_n = joint.model().loads[0].weight_n();
        let bound = grip * verdict.weak_n / load_n;
        assert!((margin / bound - 1.0).abs() < 1e-12, "{margin} {bound}");
        assert!(margin > 2.0, "{margin}");
        let at = |target| {
            joint
                .with(|plan| plan.settings.hold_target_g = target)
                .is_good_so_far()
        };
        assert!(at(margin) && !at(margin.next_up()), "{kind:?}");
    }
}
