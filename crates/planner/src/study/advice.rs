//! What would help a joint. Every piece of advice is an edit that was tried: the plan with it is worked out anew, so that
//! the margin beside it is the margin it gives, choice of sizes, poles and all.

use lodewright_assembly::{Board, Joint, glue_answer};
use lodewright_joints::{
    Filling, GOOD_WALL_MM, JointModel, ModelAccount, ModelPair, ModelPiece, Scene, choose, fits,
    poles,
};
use lodewright_kit::{Edit, Fit, PegKind, Plan};
use lodewright_solve::inside_mm;
use tiny_sort::stable::{sort, sort_by_key};

use super::change::{change_pair, fit_size, move_pair, one, with_pair};
use crate::Answers;
use crate::words::{filling_words, mm};

/// A change that helps.
#[derive(Clone, Debug, PartialEq)]
pub struct Advice {
    /// What to do, in one sentence.
    pub said: String,
    /// The edit that does it.
    pub edit: Edit,
    /// The joint's smallest margin then, multiples of the weight.
    pub margin_g: f64,
    /// Whether all that is asked of the joint is met then: it holds, lets go where it must, the glue and the hand bear it.
    pub good: bool,
    /// What the planner then fits, where that is not what is there now.
    pub takes: Option<String>,
    /// What it costs elsewhere, as sentences.
    pub but: Vec<String>,
}

/// Margins closer than this are the same for a builder, multiples of the weight.
const WORTH_SAYING_G: f64 = 0.05;
/// Pieces of advice at the most.
const MOST: usize = 12;

/// The changes that help a joint, those that mend it first, then by how much they change on the bench. Empty where the
/// joint is well as it is or nothing that was tried helps. The answers must be of this plan.
pub fn advice(plan: &Plan, answers: &Answers, joint: usize) -> Vec<Advice> {
    let Some(found) = answers.joints.get(joint) else {
        return Vec::new();
    };
    let Some(now) = outcome(plan, &found.joint) else {
        return Vec::new();
    };
    if now.account.is_good() {
        return Vec::new();
    }
    let mut helpful: Vec<Advice> = changes(plan, &found.joint, &now)
        .into_iter()
        .filter_map(|change| tried(plan, &found.joint, &now, change))
        .collect();
    // The order in which changes are tried is that of what they cost on the bench; sorting keeps it among equals.
    sort_by_key(&mut helpful, |a| (!a.good, !a.but.is_empty()));
    helpful.truncate(MOST);
    helpful
}

struct Outcome {
    model: JointModel,
    account: ModelAccount,
    /// By joint: whether all is met.
    good: Vec<(Joint, bool)>,
    words: Vec<String>,
}

fn outcome(plan: &Plan, joint: &Joint) -> Option<Outcome> {
    let board = Board::of(plan).ok()?;
    let glue = glue_answer(&board);
    let scene = Scene::of(&board, &glue);
    let fillings = choose(&scene).fillings;
    let poles = poles(&board, &scene.holes, &scene.mates, &fillings).poles;
    let model_of = |j: usize| JointModel::of(&scene, j, &fillings, &poles);
    let here = board.joints.iter().position(|j| j == joint)?;
    let model = model_of(here)?;
    // Other joints feel a change only through a shared socket or part, or through the whole plan.
    let good = (0..board.joints.len()).filter_map(|j| {
        let account = model_of(j)?.account(plan);
        Some((board.joints[j], account.is_good()))
    });
    Some(Outcome {
        account: model.account(plan),
        good: good.collect(),
        words: (0..board.joints.len()).map(|j| board.words(j)).collect(),
        model,
    })
}

fn tried(plan: &Plan, joint: &Joint, now: &Outcome, change: Change) -> Option<Advice> {
    let after = plan.edited(&change.edit).ok()?;
    let then = outcome(&after, joint)?;
    let margin_g = then.account.margin_g?;
    let good = then.account.is_good();
    let before_g = now.account.margin_g.unwrap_or(0.0);
    let aims_lower = now.account.reaches_target;
    let helps = good || (!aims_lower && margin_g > before_g + WORTH_SAYING_G);
    if !helps {
        return None;
    }
    let spoiled = then.good.iter().enumerate().filter(|(_, (j, good))| {
        !good && j != joint && now.good.iter().any(|(k, was)| k == j && *was)
    });
    let mut but: Vec<String> = spoiled
        .map(|(_, (j, _))| {
            let words = then.good.iter().position(|(k, _)| k == j);
            let name = words
                .and_then(|i| then.words.get(i))
                .cloned()
                .unwrap_or_default();
            format!("{name} then no longer does all that is asked of it.")
        })
        .collect();
    but.extend(worse(&now.account, &then.account));
    but.extend(change.but);
    Some(Advice {
        said: change.said,
        edit: change.edit,
        margin_g,
        good,
        takes: sizes_taken(plan, &now.model, &then.model),
        but,
    })
}

/// The pieces of the joint in words, where they are not the ones that are there now.
fn sizes_taken(plan: &Plan, now: &JointModel, then: &JointModel) -> Option<String> {
    let pieces = |model: &JointModel| {
        let all = model
            .pairs
            .iter()
            .flat_map(|p| [p.socket.filling, p.plug.filling]);
        let mut all: Vec<Filling> = all.collect();
        sort(&mut all);
        all.dedup();
        all
    };
    let (before, after) = (pieces(now), pieces(then));
    (before != after).then(|| {
        let words: Vec<String> = after.iter().map(|f| filling_words(plan, *f)).collect();
        words.join(" and ")
    })
}

/// What gets worse at the joint itself.
fn worse(before: &ModelAccount, after: &ModelAccount) -> Vec<String> {
    let lets_go = |a: &ModelAccount| a.let_go.as_ref().is_none_or(|c| c.lets_go);
    let mut said = Vec::new();
    if before.hand_ok && !after.hand_ok {
        said.push(format!(
            "By hand it then takes {:.1} N to pull it off.",
            after.hand_n
        ));
    }
    if lets_go(before) && !lets_go(after) {
        said.push("It then no longer lets go before the part snaps.".to_owned());
    }
    if before.bond_ok && !after.bond_ok {
        said.push("The glue of its magnets then bears too little.".to_owned());
    }
    said
}

struct Change {
    said: String,
    edit: Edit,
    but: Vec<String>,
}

/// Changes to try, those first that cost least on the bench.
fn changes(plan: &Plan, joint: &Joint, now: &Outcome) -> Vec<Change> {
    let mut all: Vec<Change> = Vec::new();
    let mut add = |said: String, edit: Option<Edit>| {
        all.extend(edit.map(|edit| Change {
            said,
            edit,
            but: Vec::new(),
        }));
    };
    let too_strong = now.account.reaches_target;
    keep_peg(plan, joint, &mut add);
    if too_strong {
        sizes(plan, joint, now, false, &mut add);
        thicker_walls(plan, joint, now, &mut add);
    } else {
        masks(plan, &mut add);
        sizes(plan, joint, now, true, &mut add);
        for pair in &now.model.pairs {
            outward(plan, joint, &now.model, pair, &mut add);
        }
        magnets_for_steel(plan, joint, now, &mut add);
        second_pair(plan, joint, &now.model, &mut add);
        thinner_walls(plan, joint, now, &mut add);
        roomier(plan, joint, now, &mut add);
        pegs(plan, joint, &mut add);
        lower_target(plan, &now.account, &mut add);
    }
    all
}

type Add<'a> = dyn FnMut(String, Option<Edit>) + 'a;

fn keep_peg(plan: &Plan, joint: &Joint, add: &mut Add<'_>) {
    let Some(mut part) = plan.parts.get(joint.part).cloned() else {
        return;
    };
    let has_peg = plan
        .sockets
        .get(joint.socket)
        .is_some_and(|s| s.peg.kind != PegKind::None);
    let Some(plug) = part.plugs.get_mut(joint.plug) else {
        return;
    };
    if has_peg && !plug.keeps_peg {
        plug.keeps_peg = true;
        add(
            "Keep the peg on the part.".to_owned(),
            Some(Edit::PutPart(Box::new(part))),
        );
    }
}

fn masks(plan: &Plan, add: &mut Add<'_>) {
    if !plan.finish.mask_mating_faces && plan.finish.coats_mm() > 0.0 {
        let mut finish = plan.finish.clone();
        finish.mask_mating_faces = true;
        add(
            "Mask the mating faces before painting, here and everywhere.".to_owned(),
            Some(Edit::PutFinish(finish)),
        );
    }
}

/// Every stock size that fits both holes of all pairs, larger or smaller than what is there.
fn sizes(plan: &Plan, joint: &Joint, now: &Outcome, larger: bool, add: &mut Add<'_>) {
    let Ok(board) = Board::of(plan) else { return };
    let holes = lodewright_joints::Holes::of(&board);
    let volume = |i: usize| {
        let m = plan.stock.magnets.get(i);
        m.map_or(0.0, |m| m.diameter_mm * m.diameter_mm * m.height_mm)
    };
    for i in 0..plan.stock.magnets.len() {
        let wanted = |piece: &ModelPiece| {
            let counts = match piece.filling {
                Filling::Magnet(old) if larger => volume(i) > volume(old),
                Filling::Magnet(old) => volume(i) < volume(old),
                _ => false,
            };
            counts
                && holes
                    .holes
                    .get(piece.hole)
                    .is_some_and(|h| fits(plan, h, i))
        };
        add(
            format!(
                "Fit {} in this joint.",
                filling_words(plan, Filling::Magnet(i))
            ),
            fit_size(plan, joint, &now.model.pairs, i, wanted),
        );
    }
}

fn replace<T: PartialEq>(to: &mut T, value: T) -> bool {
    let changes = *to != value;
    *to = value;
    changes
}

/// To the far edge of the contact in each of eight directions, as far as a good wall allows.
fn outward(plan: &Plan, joint: &Joint, model: &JointModel, pair: &ModelPair, add: &mut Add<'_>) {
    let radius_mm = lodewright_joints::filling_size(plan, pair.socket.filling)
        .map_or(0.0, |(d, _)| (d + plan.settings.hole_allowance_mm) / 2.0);
    let enough = |at: [f64; 2]| inside_mm(&model.contact_mm, at) >= radius_mm + GOOD_WALL_MM - 1e-9;
    let clear = |at: [f64; 2]| {
        let others = model
            .pairs
            .iter()
            .filter(|p| p.socket.hole != pair.socket.hole);
        others
            .map(|p| p.socket.at_mm)
            .all(|p| libm::hypot(p[0] - at[0], p[1] - at[1]) >= 2.0 * radius_mm + GOOD_WALL_MM)
    };
    let mut best: Option<(f64, [f64; 2])> = None;
    for step in 0..8 {
        let (sin, cos) = libm::sincos(f64::from(step) * std::f64::consts::FRAC_PI_4);
        let mut to = None;
        for half_mm in 1..80 {
            let far = f64::from(half_mm) * 0.5;
            let at = [
                pair.socket.at_mm[0] + cos * far,
                pair.socket.at_mm[1] + sin * far,
            ];
            if !enough(at) {
                break;
            }
            if clear(at) {
                to = Some(at);
            }
        }
        let Some(at) = to else { continue };
        let mut trial = model.clone();
        let index = model.pairs.iter().position(|p| p == pair).unwrap_or(0);
        let shift = [at[0] - pair.socket.at_mm[0], at[1] - pair.socket.at_mm[1]];
        let there = [pair.plug.at_mm[0] + shift[0], pair.plug.at_mm[1] + shift[1]];
        trial.move_piece(index, lodewright_joints::PairSide::Socket, at);
        trial.move_piece(index, lodewright_joints::PairSide::Plug, there);
        let margin_g = trial.account(plan).margin_g.unwrap_or(0.0);
        if best.is_none_or(|(most, _)| margin_g > most) {
            best = Some((margin_g, at));
        }
    }
    if let Some((_, at)) = best {
        let far = libm::hypot(at[0] - pair.socket.at_mm[0], at[1] - pair.socket.at_mm[1]);
        add(
            format!(
                "Move the pair at {}, {} outward by {} mm, to {}, {}.",
                mm(pair.socket.at_mm[0]),
                mm(pair.socket.at_mm[1]),
                mm(far),
                mm(at[0]),
                mm(at[1])
            ),
            move_pair(plan, joint, pair, at),
        );
    }
}

fn magnets_for_steel(plan: &Plan, joint: &Joint, now: &Outcome, add: &mut Add<'_>) {
    for pair in &now.model.pairs {
        let is_steel = |f: Filling| matches!(f, Filling::Steel(_));
        let (host, part) = (is_steel(pair.socket.filling), is_steel(pair.plug.filling));
        add(
            "Fit a magnet in place of the steel.".to_owned(),
            change_pair(
                plan,
                joint,
                pair,
                |site| host && replace(site.fit, Fit::Auto),
                |site| part && replace(site.fit, Fit::Auto),
            ),
        );
    }
}

fn second_pair(plan: &Plan, joint: &Joint, model: &JointModel, add: &mut Add<'_>) {
    let Some((like, at)) = model.pairs.first().zip(place_for_pair(plan, model, 0)) else {
        return;
    };
    add(
        format!("Add a second pair at {}, {}.", mm(at[0]), mm(at[1])),
        with_pair(plan, joint, model, like, at),
    );
}

/// The place in the mating plane at which a further pair like this one would give the joint the greatest margin, mm in the
/// socket's axes: opposite it or on a coarse raster, clear of all holes and of the edge by a good wall. `None` where there is
/// no room.
pub fn place_for_pair(plan: &Plan, model: &JointModel, like: usize) -> Option<[f64; 2]> {
    let like = *model.pairs.get(like)?;
    let widest_mm = [like.socket.filling, like.plug.filling]
        .into_iter()
        .filter_map(|f| lodewright_joints::filling_size(plan, f))
        .map(|(d, _)| d + plan.settings.hole_allowance_mm)
        .fold(0.0, f64::max);
    let hole_mm = |p: &ModelPair| {
        lodewright_joints::filling_size(plan, p.socket.filling)
            .map_or(widest_mm, |(d, _)| d + plan.settings.hole_allowance_mm)
    };
    let allowed = |at: [f64; 2]| {
        inside_mm(&model.contact_mm, at) >= widest_mm / 2.0 + GOOD_WALL_MM - 1e-9
            && model.pairs.iter().all(|p| {
                let [x, y] = p.socket.at_mm;
                let apart_mm = libm::hypot(x - at[0], y - at[1]);
                apart_mm >= (widest_mm + hole_mm(p)) / 2.0 + GOOD_WALL_MM
            })
    };
    let [x, y] = like.socket.at_mm;
    let mut places: Vec<[f64; 2]> = vec![[-x, -y], [-x, y], [x, -y]];
    let reach = |axis: usize| {
        let along = model.contact_mm.iter().map(|p| p[axis].abs());
        along.fold(0.0, f64::max)
    };
    for i in -6..=6 {
        for j in -6..=6 {
            places.push([reach(0) * f64::from(i) / 6.0, reach(1) * f64::from(j) / 6.0]);
        }
    }
    let margin_at = |at: [f64; 2]| {
        let mut trial = model.clone();
        let mut pair = like;
        pair.plug.at_mm = [
            at[0] + pair.plug.at_mm[0] - x,
            at[1] + pair.plug.at_mm[1] - y,
        ];
        pair.socket.at_mm = at;
        trial.pairs.push(pair);
        trial.account(plan).margin_g.unwrap_or(0.0)
    };
    let best = places
        .into_iter()
        .filter(|at| allowed(*at))
        .map(|at| (margin_at(at), at))
        .reduce(|a, b| if b.0 > a.0 + 1e-9 { b } else { a });
    best.map(|(_, at)| at.map(|v| (v * 100.0).round() / 100.0 + 0.0))
}

/// Changes all pairs of the joint alike.
fn every_pair(
    plan: &Plan,
    joint: &Joint,
    now: &Outcome,
    mut change: impl FnMut(super::change::SiteRoom<'_>) -> bool,
) -> Option<Edit> {
    let mut after = plan.clone();
    let mut edits = Vec::new();
    for pair in &now.model.pairs {
        let change = std::cell::RefCell::new(&mut change);
        let edit = change_pair(
            &after,
            joint,
            pair,
            |site| (change.borrow_mut())(site),
            |site| (change.borrow_mut())(site),
        );
        if let Some(edit) = edit
            && let Ok(edited) = after.edited(&edit)
        {
            after = edited;
            edits.push(edit);
        }
    }
    one(edits)
}

fn thinner_walls(plan: &Plan, joint: &Joint, now: &Outcome, add: &mut Add<'_>) {
    let to_mm = lodewright_joints::LEAST_WALL_MM;
    let edit = every_pair(plan, joint, now, |site| {
        *site.wall_mm > to_mm && replace(site.wall_mm, to_mm)
    });
    add(
        format!("Leave walls of {to_mm} mm in front of the magnets."),
        edit,
    );
    let edit = every_pair(plan, joint, now, |site| {
        *site.wall_mm > 0.0 && replace(site.wall_mm, 0.0)
    });
    add(
        "Open the holes to the mating face: the magnets then show.".to_owned(),
        edit,
    );
}

fn thicker_walls(plan: &Plan, joint: &Joint, now: &Outcome, add: &mut Add<'_>) {
    for more_mm in [0.2, 0.5, 1.0] {
        let edit = every_pair(plan, joint, now, |site| {
            *site.wall_mm += more_mm;
            true
        });
        add(
            format!("Set the magnets {} mm deeper behind a wall.", mm(more_mm)),
            edit,
        );
    }
}

fn roomier(plan: &Plan, joint: &Joint, now: &Outcome, add: &mut Add<'_>) {
    for more_mm in [1.0, 2.0] {
        let edit = every_pair(plan, joint, now, |site| {
            *site.max_diameter_mm += more_mm;
            *site.max_depth_mm += more_mm;
            true
        });
        add(
            format!(
                "Make room for magnets {} mm wider and deeper, if the plastic allows it.",
                mm(more_mm)
            ),
            edit,
        );
    }
}

fn pegs(plan: &Plan, joint: &Joint, add: &mut Add<'_>) {
    let Some(mut socket) = plan.sockets.get(joint.socket).cloned() else {
        return;
    };
    let keeps = plan
        .parts
        .get(joint.part)
        .and_then(|p| p.plugs.get(joint.plug))
        .is_some_and(|p| p.keeps_peg);
    if !keeps {
        return;
    }
    if socket.peg.kind != PegKind::None && !socket.peg.snug {
        let mut snug = socket.clone();
        snug.peg.snug = true;
        add(
            "Make the peg snug, so that it carries tipping.".to_owned(),
            Some(Edit::PutSocket(Box::new(snug))),
        );
    }
    if !matches!(socket.peg.kind, PegKind::Two | PegKind::Keyed) {
        socket.peg.kind = PegKind::Two;
        add(
            "Give it two pegs, which stop sliding and turning.".to_owned(),
            Some(Edit::PutSocket(Box::new(socket))),
        );
    }
}

/// Said last, and only where something holds at all.
fn lower_target(plan: &Plan, account: &ModelAccount, add: &mut Add<'_>) {
    let Some(margin_g) = account.margin_g.filter(|m| *m >= 1.0) else {
        return;
    };
    let mut settings = plan.settings.clone();
    settings.hold_target_g = (margin_g * 10.0).floor() / 10.0;
    add(
        format!(
            "Ask less of every joint: {} times the weight instead of {}.",
            mm(settings.hold_target_g),
            mm(plan.settings.hold_target_g)
        ),
        Some(Edit::PutSettings(Box::new(settings))),
    );
}
