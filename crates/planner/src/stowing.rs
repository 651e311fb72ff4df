//! The loose parts of a variant stowed in the model's hollows and trays.

use std::fmt;

use lodewright_assembly::{Board, Model, first_model};
use lodewright_kit::{Ix, PartIx, VariantIx};
use lodewright_solve::stow::{Item, LONGEST, MOST_ITEMS, layers, stow};

use crate::Analysis;

/// Where the loose parts lie.
#[derive(Clone, Debug, PartialEq)]
pub struct StowPlan {
    /// By space that there is (a space of three is three): what lies in it.
    pub spaces: Vec<FilledSpace>,
    /// Parts that fit in no space, even when it is empty.
    pub too_large: Vec<PartIx>,
    /// Parts for which no room was found.
    pub left: Vec<PartIx>,
    /// How many parts are loose.
    pub loose: usize,
}

/// One space and what lies in it.
#[derive(Clone, Debug, PartialEq)]
pub struct FilledSpace {
    /// Its label, with a number where there are several.
    pub name: String,
    /// Inside, mm.
    pub inside_mm: [f64; 3],
    /// Layers, lowest first: no two parts of one lie above one another.
    pub layers: Vec<Vec<LyingPart>>,
    /// Share of its room that parts (with their padding) take.
    pub filled: f64,
}

/// One part as it lies.
#[derive(Clone, Debug, PartialEq)]
pub struct LyingPart {
    /// The part.
    pub part: PartIx,
    /// Corner of its box (padding round it left out) nearest to the space's origin, mm.
    pub at_mm: [f64; 3],
    /// Its edges as it lies, mm.
    pub size_mm: [f64; 3],
    /// How it lies: `as it stands`, `on its side`, or the like.
    pub lies: &'static str,
}

/// Why nothing could be stowed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StowRefusal {
    /// A sentence for the builder.
    pub said: String,
}

impl fmt::Display for StowRefusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.said)
    }
}

/// Lengths are counted in hundredths of a millimetre.
const OF_A_MM: f64 = 100.0;
/// The random part of the search, always the same.
const SEED: u64 = 1;

impl Analysis {
    /// Stows what is not on the model when it is `variant` (free options at their first choice). A part that sits on a loose
    /// part is taken off and lies by itself; parts are taken as their boxes.
    ///
    /// # Errors
    /// [`StowRefusal`] where the variant cannot be built, no space is given, or there are too many loose parts.
    pub fn stow_loose(&self, variant: VariantIx) -> Result<StowPlan, StowRefusal> {
        let (plan, board) = (self.plan(), self.board());
        let refuse = |said: String| StowRefusal { said };
        let model = first_model(board, variant).ok_or_else(|| {
            refuse("This variant has no legal model yet: see the grid.".to_owned())
        })?;
        let loose = loose_parts(board, &model);
        if plan.stowing.spaces.is_empty() {
            return Err(refuse(
                "Give a hollow or a tray with its inside measures first.".to_owned(),
            ));
        }
        let pad_mm = plan.stowing.padding_mm;
        let up = |mm: f64| (mm * OF_A_MM).ceil().clamp(1.0, f64::from(LONGEST)) as u32;
        let down = |mm: f64| (mm * OF_A_MM).floor().clamp(1.0, f64::from(LONGEST)) as u32;
        let items: Vec<Item> = loose
            .iter()
            .map(|p| Item {
                size: plan.parts[*p].size_mm.map(|mm| up(mm + 2.0 * pad_mm)),
                upright: plan.stowing.upright.contains(&plan.parts[*p].id),
            })
            .collect();
        let mut names = Vec::new();
        for space in &plan.stowing.spaces {
            for n in 1..=space.count {
                let name = match space.count {
                    1 => space.name.clone(),
                    _ => format!("{} {n}", space.name),
                };
                names.push((name, space.inside_mm));
            }
        }
        let rooms: Vec<[u32; 3]> = names.iter().map(|(_, mm)| mm.map(down)).collect();
        let found = stow(&items, &rooms, SEED).map_err(|e| match items.len() {
            n if n > MOST_ITEMS => refuse(format!(
                "{n} parts are loose; at most {MOST_ITEMS} are stowed at once."
            )),
            _ => refuse(format!("{e}.")),
        })?;
        let lying = |p: &lodewright_solve::stow::Placed| {
            let own = plan.parts[loose[p.item]].size_mm;
            LyingPart {
                part: loose[p.item],
                at_mm: p.at.map(|e| f64::from(e) / OF_A_MM + pad_mm),
                size_mm: p
                    .size
                    .map(|e| (f64::from(e) / OF_A_MM - 2.0 * pad_mm).max(0.0)),
                lies: lies(own.map(|mm| up(mm + 2.0 * pad_mm)), p.size),
            }
        };
        let spaces = names.into_iter().enumerate().map(|(n, (name, inside_mm))| {
            let volume = |e: [u32; 3]| e.iter().map(|e| f64::from(*e)).product::<f64>();
            let used: f64 = found
                .placed
                .iter()
                .filter(|p| p.space == n)
                .map(|p| volume(p.size))
                .sum();
            FilledSpace {
                name,
                inside_mm,
                layers: layers(&found.placed, n)
                    .iter()
                    .map(|layer| layer.iter().map(lying).collect())
                    .collect(),
                filled: used / volume(rooms[n]),
            }
        });
        let parts = |list: &[usize]| list.iter().map(|i| loose[*i]).collect();
        Ok(StowPlan {
            spaces: spaces.collect(),
            too_large: parts(&found.too_large),
            left: parts(&found.left),
            loose: loose.len(),
        })
    }
}

/// Parts that some variant uses and that are not on this model; parts glued for good go with what they are glued to.
fn loose_parts(board: &Board, model: &Model) -> Vec<PartIx> {
    let used = |p: PartIx| board.joints.iter().any(|j| j.part == p);
    PartIx::all(&board.plan.parts)
        .filter(|p| used(*p) && !model.has(board, *p))
        .collect()
}

fn lies(own: [u32; 3], size: [u32; 3]) -> &'static str {
    match own {
        own if own == size => "as it stands",
        own if own[2] == size[2] => "turned a quarter",
        own if own[1] == size[2] => "on its side",
        _ => "on its end",
    }
}
