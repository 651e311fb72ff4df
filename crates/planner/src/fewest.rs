//! The fewest magnets, as a proposal in words.

use lodewright_assembly::JointIx;
use lodewright_bench::buy_list;
use lodewright_joints::{Fewest, Filled, Filling, Fillings, HoleIx, filling_size, fixed, poles};
use lodewright_kit::{Edit, Plan};
use serde::{Deserialize, Serialize};

use crate::Analysis;
use crate::words::filling_words;

/// One hole that the proposal fills differently.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct HoleChange {
    /// Where it is.
    pub place: String,
    /// What is there now.
    pub from: String,
    /// What would be.
    pub to: String,
}

/// Why one magnet fewer fails, for a family of joints.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FamilyWords {
    /// Its joints.
    pub joints: Vec<String>,
    /// Magnets that it takes; `None` where no choice does all that is asked.
    pub magnets: Option<u32>,
    /// No choice takes fewer.
    pub least: u32,
    /// Whether that is proven.
    pub proven: bool,
    /// Joints that together force that number, or that cannot all be met.
    pub reason: Vec<String>,
    /// Whether no smaller set of joints does.
    pub smallest: bool,
    /// Magnets that must keep apart, where that is part of the reason.
    pub apart: Vec<String>,
    /// Whether no choice keeps its magnets apart, so that it was counted without that.
    pub crowded: bool,
    /// Other choices with as many magnets, counted up to a hundred; the one proposed costs least beside the rest.
    pub others: usize,
    /// The edit that takes this family's choice alone; `None` where it changes nothing.
    pub edit: Option<Edit>,
}

/// A choice of magnets to take or leave.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Proposal {
    /// Magnets now and then.
    pub magnets: [usize; 2],
    /// Cost of what is to be bought now and then, hundredths of the currency.
    pub cents: [u64; 2],
    /// Whether no choice takes fewer (all holes of one face taking magnets of one size).
    pub proven: bool,
    /// Whether the proof was read and found sound by code of its own.
    pub checked: bool,
    /// Sockets where a friction pin would stand in for magnets.
    pub pins: Vec<String>,
    /// Joints that then do not do all that is asked though they do now, and that cannot be met at all.
    pub unmet: Vec<String>,
    /// Holes that change.
    pub changes: Vec<HoleChange>,
    /// By family of joints.
    pub families: Vec<FamilyWords>,
    /// The edit that takes all of it; `None` where nothing changes.
    pub edit: Option<Edit>,
}

impl Analysis {
    /// How many magnets go in.
    pub fn magnets(&self) -> usize {
        magnets(self.fillings())
    }

    /// Works the fewest magnets out. `watch` hears how much is done of how much; where it answers `false`, what is not done comes
    /// back unproven.
    pub fn propose(&self, watch: &mut dyn FnMut(usize, usize) -> bool) -> Proposal {
        let (context, now) = (self.context(), self.fillings());
        let cents = |fillings: &Fillings| buy_list(context, fillings).cost_cents;
        let price = |fillings: &Fillings| (cents(fillings), bits(self.plan(), fillings));
        let found = lodewright_joints::fewest(context, now, &price, watch);
        let words = |joints: &[JointIx]| joints.iter().map(|j| self.joint_words(*j)).collect();
        let place = |hole: HoleIx| self.hole_words(hole).said();
        let families = found.families.iter().map(|f| FamilyWords {
            joints: words(&f.joints),
            magnets: f.magnets,
            least: f.least,
            proven: f.proven,
            reason: words(&f.reason),
            apart: f
                .reason_apart
                .iter()
                .map(|[a, b]| format!("{} and {}", place(*a), place(*b)))
                .collect(),
            crowded: f.crowded,
            smallest: f.smallest,
            others: f.others,
            edit: f.taken.as_ref().and_then(|t| fixed(context, now, t)),
        });
        let changes = found.fillings.iter().filter(|(h, f)| **f != now[*h]);
        let whole = Filled {
            fillings: found.fillings.iter().map(|(h, f)| (h, *f)).collect(),
            pins: found.pins.clone(),
        };
        let edit = fixed(context, now, &whole);
        let pins = found.pins.iter().map(|s| &self.plan().sockets[*s].name);
        Proposal {
            magnets: [magnets(now), magnets(&found.fillings)],
            cents: [cents(now), cents(&found.fillings)],
            proven: found.proven,
            checked: found.checked,
            pins: pins.cloned().collect(),
            unmet: words(&self.unmet(&found, edit.as_ref())),
            changes: changes
                .map(|(h, then)| HoleChange {
                    place: place(h),
                    from: filling_words(self.plan(), now[h]),
                    to: filling_words(self.plan(), *then),
                })
                .collect(),
            families: families.collect(),
            edit,
        }
    }

    /// Joints that do not do all that is asked with the choice: worked out anew, poles and the weight of all magnets included.
    fn unmet(&self, found: &Fewest, edit: Option<&Edit>) -> Vec<JointIx> {
        let after = edit.and_then(|e| self.edited(e).ok());
        let context = after.as_ref().unwrap_or(self).context();
        let poles = poles(&context.holes, &context.mates, &found.fillings).poles;
        let is_good = |joint: &JointIx| {
            let model = context.model(*joint, &found.fillings, Some(&poles));
            model.is_none_or(|m| m.is_good_so_far())
        };
        context.magnetic().filter(|j| !is_good(j)).collect()
    }

    /// How the fewest magnets grow with the hold target: for each of these targets the plan is worked out anew.
    pub fn counts_by_target(
        &self,
        targets_x_weight: &[f64],
        watch: &mut dyn FnMut(usize, usize) -> bool,
    ) -> Vec<CountAt> {
        let mut all = Vec::new();
        let steps = 1000;
        for (i, target) in targets_x_weight.iter().enumerate() {
            let mut settings = self.plan().settings.clone();
            settings.hold_target_g = *target;
            let Ok(other) = self.edited(&Edit::PutSettings(Box::new(settings))) else {
                break;
            };
            let mut here = |done: usize, of: usize| {
                watch(
                    i * steps + steps * done / of.max(1),
                    targets_x_weight.len() * steps,
                )
            };
            let found = other.propose(&mut here);
            all.push(CountAt {
                target_x_weight: *target,
                magnets: found.magnets[1],
                proven: found.proven,
                unmet: found.unmet.len(),
            });
        }
        all
    }
}

fn magnets(fillings: &Fillings) -> usize {
    let all = fillings.values().iter();
    all.filter(|f| matches!(f, Filling::Magnet(_))).count()
}

/// How many hole diameters a choice needs.
fn bits(plan: &Plan, fillings: &Fillings) -> usize {
    let mut widths: Vec<u64> = fillings
        .values()
        .iter()
        .filter_map(|f| filling_size(plan, *f).map(|(d, _)| d.to_bits()))
        .collect();
    widths.sort_unstable();
    widths.dedup();
    widths.len()
}

/// The fewest magnets for one hold target.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct CountAt {
    /// The target, multiples of the weight.
    pub target_x_weight: f64,
    /// Magnets that it takes.
    pub magnets: usize,
    /// Whether that is proven.
    pub proven: bool,
    /// Joints that no choice makes reach it.
    pub unmet: usize,
}
