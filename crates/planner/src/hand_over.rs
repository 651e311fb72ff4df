//! What the owner gets with the model: a card for each variant, care, and an inventory.

use lodewright_assembly::{Board, first_model};
use lodewright_joints::{Filling, G_M_S2, Held};
use lodewright_kit::Plan;

use crate::answers::Answers;
use crate::swaps::{Swap, swap};

/// The set for the owner.
#[derive(Clone, Debug, PartialEq)]
pub struct HandOver {
    /// One for each variant that can be built.
    pub cards: Vec<Card>,
    /// Every loose part, to tick.
    pub inventory: Vec<InventoryLine>,
    /// Care and cautions, in sentences.
    pub care: Vec<String>,
}

/// One variant.
#[derive(Clone, Debug, PartialEq)]
pub struct Card {
    /// Index of the variant.
    pub variant: usize,
    /// What sits where, in an order in which it can be put together.
    pub seats: Vec<SeatLine>,
    /// What to be careful with, in sentences.
    pub weak: Vec<String>,
    /// How to get here from the variant before it in the list.
    pub from_before: Option<(usize, Swap)>,
}

/// One part on its socket.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SeatLine {
    /// Index of the part.
    pub index: usize,
    /// The part.
    pub part: String,
    /// The socket, with the part that carries it.
    pub place: String,
    /// How it goes on and comes off: turn, poles, pull.
    pub hint: String,
    /// Other parts that may sit there instead.
    pub instead: Vec<String>,
}

/// One part of the inventory.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InventoryLine {
    /// The part.
    pub part: String,
    /// Variants that use it.
    pub used_in: Vec<String>,
    /// Magnets and steel in it.
    pub pieces: usize,
}

/// Makes the set.
pub fn hand_over(plan: &Plan, answers: &Answers) -> HandOver {
    let Ok(board) = Board::of(plan) else {
        return HandOver {
            cards: Vec::new(),
            inventory: Vec::new(),
            care: Vec::new(),
        };
    };
    let card = |v: usize| {
        let model = first_model(&board, v)?;
        let mut seats = Vec::new();
        let mut joints = Vec::new();
        for part in model.outboard(&board, board.base()).into_iter().skip(1) {
            let Some(j) = model.joint_of_part(&board, part) else {
                continue;
            };
            // What is glued for good is not put on by the owner.
            if answers
                .joints
                .get(j)
                .is_none_or(|a| a.separable_since.is_none())
            {
                continue;
            }
            joints.push(j);
            seats.push(seat(plan, answers, &board, v, j));
        }
        Some(Card {
            variant: v,
            weak: weak(plan, answers, v, &joints),
            seats,
            from_before: (v > 0)
                .then(|| Some((v - 1, swap(plan, v - 1, v)?)))
                .flatten(),
        })
    };
    HandOver {
        cards: (0..plan.variants.len()).filter_map(card).collect(),
        inventory: inventory(plan, answers, &board),
        care: care(plan, answers),
    }
}

fn seat(
    plan: &Plan,
    answers: &Answers,
    board: &Board,
    variant: usize,
    joint: usize,
) -> SeatLine {
    let j = board.joints[joint];
    let (socket, part) = (board.socket(j.socket), board.part(j.part));
    let mut hints = Vec::new();
    if j.pose.turn_deg != 0.0 {
        hints.push(format!("turned {}°", j.pose.turn_deg));
    }
    if j.pose.over {
        hints.push("turned over".to_owned());
    }
    if let Some(a) = answers.joints.get(joint) {
        let poles: Vec<&str> = a
            .account
            .pairs
            .iter()
            .filter_map(|p| Some(p.plug_pole?.letter()))
            .collect();
        if !poles.is_empty() {
            hints.push(format!("its magnets show {}", poles.join(", ")));
        }
        match a.account.held {
            Held::Loose => hints.push("just laid on".to_owned()),
            Held::Friction => hints.push("pushed on its pin".to_owned()),
            Held::Glued | Held::Magnets => {}
        }
        if a.account.hand_n > 0.0 {
            hints.push(format!(
                "comes off at about {:.1} N, as much as {:.0} g weigh",
                a.account.hand_n,
                a.account.hand_n / G_M_S2 * 1000.0
            ));
        }
    }
    let others = plan.variants[variant]
        .cell(&socket.id)
        .map(|c| c.seats.as_slice())
        .unwrap_or_default();
    let mut instead: Vec<String> = Vec::new();
    for seat in others.iter().filter(|s| s.part != part.id) {
        let name = plan.part(&seat.part).map(|p| p.name.clone());
        instead.extend(name.filter(|n| !instead.contains(n)));
    }
    SeatLine {
        index: j.part,
        part: part.name.clone(),
        place: format!(
            "{} on {}",
            socket.name,
            board.part(board.host(j.socket)).name
        ),
        hint: hints.join("; "),
        instead,
    }
}

/// The weakest joint, parts that must let go, parts that only lie there, and by what the model may be lifted.
fn weak(plan: &Plan, answers: &Answers, variant: usize, joints: &[usize]) -> Vec<String> {
    let mut list = Vec::new();
    let target = plan.settings.hold_target_g;
    if let Some(w) = answers.weakest.get(variant).copied().flatten()
        && let Some(joint) = answers.joints.get(w.joint)
    {
        let times = format!("{:.1}", w.margin_g.max(0.0));
        list.push(if w.margin_g < target {
            format!(
                "{} is the weakest joint: it bears {times} times what it carries, less than the {target} that were asked for. Steady it with a finger.",
                joint.words
            )
        } else {
            format!(
                "{} is the weakest joint: it bears {times} times what it carries.",
                joint.words
            )
        });
    }
    for joint in joints.iter().filter_map(|j| answers.joints.get(*j)) {
        let part = plan.parts.get(joint.joint.part);
        let name = part.map_or("a part", |p| &p.name);
        if let Some(let_go) = joint.account.let_go {
            list.push(if let_go.lets_go {
                format!("{name} is thin: take it by its foot. Caught by something, it comes off before it snaps.")
            } else {
                format!("{name} is thin and may snap before it comes off: take it by its foot, never by its tip.")
            });
        }
        if joint.account.held == Held::Loose {
            list.push(format!(
                "{name} is not held: take it off before the model is moved."
            ));
        }
        if !joint.account.hand_ok {
            list.push(format!(
                "{name} holds hard: rock it off over an edge, do not pull."
            ));
        }
        if part.is_some_and(|p| p.lift_point) {
            list.push(format!("The model may be lifted by {name}."));
        }
    }
    list
}

fn inventory(plan: &Plan, answers: &Answers, board: &Board) -> Vec<InventoryLine> {
    let separable = |p: usize| {
        answers
            .joints
            .iter()
            .any(|j| j.joint.part == p && j.separable_since.is_some())
    };
    let line = |(p, part): (usize, &lodewright_kit::Part)| {
        let used = plan.variants.iter().filter(|v| {
            v.cells
                .iter()
                .flat_map(|c| &c.seats)
                .any(|s| s.part == part.id)
        });
        InventoryLine {
            part: part.name.clone(),
            used_in: used.map(|v| v.name.clone()).collect(),
            pieces: answers
                .holes
                .holes
                .iter()
                .zip(&answers.fillings)
                .filter(|(h, f)| h.part == p && **f != Filling::Empty)
                .count(),
        }
    };
    plan.parts
        .iter()
        .enumerate()
        .filter(|(p, _)| *p != board.base() && separable(*p))
        .map(line)
        .collect()
}

fn care(plan: &Plan, answers: &Answers) -> Vec<String> {
    let mut list: Vec<String> = [
        "Change variants over something soft. Hold the model by its body while a part comes off.",
        "Let a part go home gently: magnets jump the last millimetres, and paint chips.",
        "A part that will not sit, or is pushed off, is in the wrong place or the wrong way round: do not force it.",
        "Wipe the faces before they meet: steel dust and grit keep them apart and scratch.",
    ]
    .map(str::to_owned)
    .to_vec();
    if answers
        .fillings
        .iter()
        .any(|f| matches!(f, Filling::Magnet(_)))
    {
        list.push(
            "There are strong magnets inside. Keep loose parts from children and pets: swallowed magnets injure gravely, and a doctor is needed at once. Keep them 15 cm from pacemakers and other implants, and from cards with a magnetic strip.".to_owned(),
        );
        list.push(format!(
            "It was planned for up to {} °C: keep it out of the sun behind glass, since heat weakens magnets.",
            plan.settings.warmest_c
        ));
        list.push("A magnet that comes loose goes into a closed tin until it is glued in again, the same pole out.".to_owned());
    }
    list.push("This is a display model and no toy. Local rules come first.".to_owned());
    list
}
