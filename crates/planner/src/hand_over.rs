//! What the owner gets with the model: a card for each variant, care, and an inventory.

use lodewright_assembly::{JointIx, first_model};
use lodewright_joints::{Filling, Held, Reason, as_grams};
use lodewright_kit::{Ix, Part, PartIx, VariantIx};

use crate::Analysis;
use crate::swaps::Swap;

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
    /// The variant.
    pub variant: VariantIx,
    /// What sits where, in an order in which it can be put together.
    pub seats: Vec<SeatLine>,
    /// What to be careful with, in sentences.
    pub weak: Vec<String>,
    /// How to get here from the variant before it in the list.
    pub from_before: Option<(VariantIx, Swap)>,
}

/// One part on its socket.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SeatLine {
    /// Its place in the list of parts.
    pub index: PartIx,
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

impl Analysis {
    /// The set for the owner.
    pub fn hand_over(&self) -> HandOver {
        HandOver {
            cards: VariantIx::all(&self.plan().variants)
                .filter_map(|v| self.card(v))
                .collect(),
            inventory: inventory(self),
            care: care(self),
        }
    }

    fn card(&self, variant: VariantIx) -> Option<Card> {
        let board = self.board();
        let model = first_model(board, variant)?;
        let parts = model.outboard(board, board.base()).into_iter().skip(1);
        let joints: Vec<JointIx> = parts
            .filter_map(|part| model.joint_of_part(board, part))
            // What is glued for good is not put on by the owner.
            .filter(|j| self.joints()[*j].separable.is_some())
            .collect();
        let before = variant.get().checked_sub(1).map(VariantIx::new);
        Some(Card {
            variant,
            weak: weak(self, variant, &joints),
            seats: joints.iter().map(|j| seat(self, variant, *j)).collect(),
            from_before: before.and_then(|before| Some((before, self.swap(before, variant)?))),
        })
    }
}

fn seat(analysis: &Analysis, variant: VariantIx, joint: JointIx) -> SeatLine {
    let (board, plan) = (analysis.board(), analysis.plan());
    let answer = &analysis.joints()[joint];
    let (j, report) = (answer.joint, &answer.report);
    let (socket, part) = (board.socket(j.socket), board.part(j.part));
    let mut hints = Vec::new();
    if j.pose.turn_deg != 0.0 {
        hints.push(format!("turned {}°", j.pose.turn_deg));
    }
    if j.pose.over {
        hints.push("turned over".to_owned());
    }
    let poles = report
        .pairs
        .iter()
        .filter_map(|p| Some(p.poles[1]?.letter()));
    let poles: Vec<&str> = poles.collect();
    if !poles.is_empty() {
        hints.push(format!("its magnets show {}", poles.join(", ")));
    }
    match report.held {
        Held::Loose => hints.push("just laid on".to_owned()),
        Held::Friction => hints.push("pushed on its pin".to_owned()),
        Held::Glued | Held::Magnets => {}
    }
    if report.hand_n > 0.0 {
        hints.push(format!(
            "comes off at about {:.1} N, as much as {:.0} g weigh",
            report.hand_n,
            as_grams(report.hand_n)
        ));
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
fn weak(analysis: &Analysis, variant: VariantIx, joints: &[JointIx]) -> Vec<String> {
    let plan = analysis.plan();
    let mut list = Vec::new();
    if let Some(w) = analysis.weakest(variant) {
        let words = &analysis.joints()[w.joint].words;
        let times = format!("{:.1}", w.margin_x_weight.max(0.0));
        list.push(if w.reaches_target {
            format!("{words} is the weakest joint: it holds {times} times what it carries.")
        } else {
            format!(
                "{words} is the weakest joint: it holds {times} times what it carries, less than the {} that were asked for. Steady it with a finger.",
                plan.settings.hold_target_g
            )
        });
    }
    for joint in joints.iter().map(|j| &analysis.joints()[*j]) {
        let (part, report) = (&plan.parts[joint.joint.part], &joint.report);
        let (name, has) = (&part.name, |is: fn(&Reason) -> bool| {
            report.reasons.iter().any(is)
        });
        if report.let_go.is_some() {
            list.push(if has(|r| matches!(r, Reason::SnapsFirst { .. })) {
                format!("{name} is thin and may snap before it comes off: take it by its foot, never by its tip.")
            } else {
                format!("{name} is thin: take it by its foot. Caught by something, it comes off before it snaps.")
            });
        }
        if report.held == Held::Loose {
            list.push(format!(
                "{name} is not held: take it off before the model is moved."
            ));
        }
        if has(|r| matches!(r, Reason::HardToPull { .. })) {
            list.push(format!(
                "{name} is held tightly: tilt it off over one edge."
            ));
        }
        // Only where the joint does all that is asked may the model hang by it.
        if part.lift_point && !report.is_in_trouble() {
            list.push(format!("The model may be lifted by {name}."));
        }
    }
    list
}

fn inventory(analysis: &Analysis) -> Vec<InventoryLine> {
    let (plan, board) = (analysis.plan(), analysis.board());
    let joints = analysis.joints().values();
    let is_loose = |p: PartIx| {
        p != board.base()
            && joints
                .iter()
                .any(|j| j.joint.part == p && j.separable.is_some())
    };
    let line = |(p, part): (PartIx, &Part)| {
        let used = plan.variants.iter().filter(|v| {
            let mut seats = v.cells.iter().flat_map(|c| &c.seats);
            seats.any(|s| s.part == part.id)
        });
        let holes = analysis
            .holes()
            .holes
            .iter()
            .zip(analysis.fillings().values());
        InventoryLine {
            part: part.name.clone(),
            used_in: used.map(|v| v.name.clone()).collect(),
            pieces: holes
                .filter(|(h, f)| h.part == p && **f != Filling::Empty)
                .count(),
        }
    };
    let parts = PartIx::each(&plan.parts);
    parts.filter(|(p, _)| is_loose(*p)).map(line).collect()
}

fn care(analysis: &Analysis) -> Vec<String> {
    let mut list: Vec<String> = [
        "Change variants over something soft. Hold the model by its body while a part comes off.",
        "Ease each part into place: over the last millimetres the magnets snap shut and can chip paint.",
        "A part that will not sit, or is pushed off, is in the wrong place or the wrong way round: do not force it.",
        "Wipe the faces before they meet: steel dust and grit keep them apart and scratch.",
    ]
    .map(str::to_owned)
    .to_vec();
    if analysis.magnets() > 0 {
        list.push(
            "There are strong magnets inside. Keep loose parts from children and pets: swallowed magnets injure gravely, and a doctor is needed at once. Keep them 15 cm from pacemakers and other implants, and from cards with a magnetic strip.".to_owned(),
        );
        list.push(format!(
            "It was planned for up to {} °C: keep it out of the sun behind glass, since heat weakens magnets.",
            analysis.plan().settings.warmest_c
        ));
        list.push("A magnet that comes loose goes into a closed tin until it is glued in again, the same pole out.".to_owned());
    }
    list.push("This is a display model and no toy. Local rules come first.".to_owned());
    list
}
