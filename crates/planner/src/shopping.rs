//! The list for the shop: magnets and steel in packs, bits that are not at the desk, glue.

use lodewright_bench::{BuyLine, StepKind};
use lodewright_joints::Filling;
use lodewright_kit::Plan;
use tiny_sort::stable::sort_by;

use crate::Analysis;
use crate::words::{filling_words, inch_words, mm};

/// One line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ShopLine {
    /// What kind of thing.
    pub kind: ShopKind,
    /// The thing in words.
    pub what: String,
    /// Pieces that the work uses; 0 where it is not counted in pieces.
    pub used: u32,
    /// Spares on top.
    pub spares: u32,
    /// Pieces in hand.
    pub in_hand: u32,
    /// What to buy in words; empty where nothing is bought.
    pub buy: String,
    /// Its price, hundredths of the currency; 0 where none is known.
    pub cents: u64,
    /// What else there is to say.
    pub note: String,
}

/// Kinds of thing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ShopKind {
    /// Disc magnets.
    Magnet,
    /// Steel discs.
    Steel,
    /// Drill bits.
    Bit,
    /// Glue.
    Glue,
}

impl ShopKind {
    /// Its word.
    pub fn word(self) -> &'static str {
        match self {
            Self::Magnet => "Magnet",
            Self::Steel => "Steel",
            Self::Bit => "Drill bit",
            Self::Glue => "Glue",
        }
    }
}

impl Analysis {
    /// The whole shopping list.
    pub fn shopping(&self) -> Vec<ShopLine> {
        let pieces = self.buy().lines.iter().map(|l| pieces(self.plan(), l));
        pieces.chain(bits(self)).chain(glue(self)).collect()
    }
}

fn pieces(plan: &Plan, line: &BuyLine) -> ShopLine {
    let packs: Vec<String> = line
        .bought
        .iter()
        .map(|b| format!("{} × pack of {}", b.packs, b.count))
        .collect();
    let note = match (line.no_pack_known, line.left_over) {
        (true, _) => "no pack is known: enter one in the stock".to_owned(),
        (_, 0) => String::new(),
        (_, left) => format!("{left} left over"),
    };
    ShopLine {
        kind: match line.filling {
            Filling::Steel(_) => ShopKind::Steel,
            _ => ShopKind::Magnet,
        },
        what: filling_words(plan, line.filling),
        used: line.used,
        spares: line.spares,
        in_hand: line.in_hand,
        buy: packs.join(", "),
        cents: line.cost_cents,
        note,
    }
}

/// Bits for the holes and their pilots; those listed as at the desk are in hand. With none listed nobody knows.
fn bits(analysis: &Analysis) -> Vec<ShopLine> {
    let plan = analysis.plan();
    let mut need: Vec<(f64, u32)> = Vec::new();
    let mut add = |bit_mm: f64| match need.iter_mut().find(|(b, _)| *b == bit_mm) {
        Some((_, holes)) => *holes += 1,
        None => need.push((bit_mm, 1)),
    };
    for drill in analysis.drills() {
        add(drill.bit_mm);
        drill.pilots_mm.iter().for_each(|p| add(*p));
    }
    sort_by(&mut need, |a, b| a.0.total_cmp(&b.0));
    let desk = &plan.stock.bits_mm;
    let line = |(bit_mm, holes): (f64, u32)| {
        let at_desk = desk.iter().any(|b| (b - bit_mm).abs() < 0.005);
        ShopLine {
            kind: ShopKind::Bit,
            what: format!("{} mm bit{}", mm(bit_mm), inch_words(plan, bit_mm)),
            used: 0,
            spares: 0,
            in_hand: u32::from(at_desk),
            buy: match (at_desk, desk.is_empty()) {
                (true, _) => String::new(),
                (_, true) => "if not at the desk".to_owned(),
                _ => "1".to_owned(),
            },
            cents: 0,
            note: match holes {
                1 => "for 1 hole".to_owned(),
                n => format!("for {n} holes"),
            },
        }
    };
    need.into_iter().map(line).collect()
}

fn glue(analysis: &Analysis) -> Vec<ShopLine> {
    let steps = &analysis.order().steps;
    let count = |kind: StepKind| steps.iter().filter(|s| s.kind() == kind).count();
    let line = |what: &str, n: usize, one: &str, many: &str| ShopLine {
        kind: ShopKind::Glue,
        what: what.to_owned(),
        used: 0,
        spares: 0,
        in_hand: 0,
        buy: "if not at the desk".to_owned(),
        cents: 0,
        note: format!("for {n} {}", if n == 1 { one } else { many }),
    };
    let (pieces, joints) = (count(StepKind::GluePiece), count(StepKind::GlueJoint));
    let mut list = Vec::new();
    if pieces > 0 {
        list.push(line(
            "Two-part epoxy for magnets",
            pieces,
            "piece",
            "pieces",
        ));
    }
    if joints > 0 {
        list.push(line(
            "Glue for the parts' material",
            joints,
            "joint",
            "joints",
        ));
    }
    list
}
