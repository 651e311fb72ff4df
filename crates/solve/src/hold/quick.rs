//! The hold margin of one joint for many sets of pulls: what does not change is worked out once.

use super::friction::Clamp;
use super::hold_account;
use super::joint::{HoldError, Joint, PegKind, Pull, check_joint};
use lodewright_geometry::{Edge, convex_hull, distance, edges};

/// A joint prepared for thousands of margins a millisecond apart in their pulls.
///
/// Tips, slides and straight pulls are those of [`hold_account`]. Slip with turning is taken about the centre of rotation
/// that is worst for the joint as prepared: the worst centre moves little with the pulls, and at a least value to first
/// order not at all. With a snug peg the share of the pull that is left in the drooped joint is kept.
#[derive(Debug, Clone)]
pub struct QuickMargin {
    edges: Vec<Edge>,
    levers_mm: Vec<f64>,
    friction: f64,
    centre_mm: [f64; 2],
    /// Centres about which it may turn, with each pull's least friction radius.
    turns_mm: Vec<[f64; 2]>,
    spread_mm: Vec<f64>,
    slides: bool,
    droop_share: Option<f64>,
}

impl QuickMargin {
    /// Prepares a joint.
    ///
    /// # Errors
    /// [`HoldError`] as [`hold_account`].
    pub fn new(joint: &Joint<'_>) -> Result<Self, HoldError> {
        check_joint(joint)?;
        let account = hold_account(joint)?;
        let edges = edges(&convex_hull(joint.patch_mm)?);
        let pull_n: f64 = joint.pulls.iter().map(|p| p.force_n).sum();
        let clamp = Clamp::new(joint, &edges, pull_n.max(f64::MIN_POSITIVE));
        let turns_mm = match joint.peg.kind {
            PegKind::Two | PegKind::Keyed => Vec::new(),
            PegKind::Round => vec![joint.peg.at_mm],
            PegKind::None if pull_n > 0.0 => {
                let (worst_mm, _) = clamp.worst_place();
                vec![clamp.centroid_mm, worst_mm]
            }
            PegKind::None => Vec::new(),
        };
        let [x, y, z] = joint.load.centre_mm;
        let lever = |e: &Edge| {
            let inside = e.inside_mm([x, y]);
            (inside * inside + z * z).sqrt()
        };
        Ok(Self {
            levers_mm: edges.iter().map(lever).collect(),
            spread_mm: clamp.spread_mm.clone(),
            slides: joint.peg.kind == PegKind::None,
            droop_share: account
                .comes_free_g
                .filter(|_| pull_n > 0.0)
                .map(|free_g| free_g * joint.load.weight_n / pull_n),
            edges,
            friction: joint.friction,
            centre_mm: [x, y],
            turns_mm,
        })
    }

    /// Margin in multiples of a weight, g, for pulls in the order of the joint's own.
    #[must_use]
    pub fn margin_g(&self, pulls: &[Pull], weight_n: f64) -> f64 {
        let pull_n: f64 = pulls.iter().map(|p| p.force_n).sum();
        if pull_n <= 0.0 || self.edges.is_empty() || weight_n <= 0.0 {
            return 0.0;
        }
        let mut least_n = match self.droop_share {
            Some(share) => pull_n * share.min(1.0),
            None => self.tips_n(pulls).min(pull_n),
        };
        let mu = self.friction;
        if self.slides {
            least_n = least_n.min(mu * pull_n / (1.0 + mu * mu).sqrt());
        }
        for about_mm in &self.turns_mm {
            least_n = least_n.min(self.turn_n(pulls, pull_n, *about_mm));
        }
        least_n.max(0.0) / weight_n
    }

    /// Least load that tips it, N.
    fn tips_n(&self, pulls: &[Pull]) -> f64 {
        let tip = |(edge, lever_mm): (&Edge, &f64)| {
            let moment = super::clamp_moment_nmm(pulls, edge).max(0.0);
            if moment == 0.0 {
                0.0
            } else {
                moment / lever_mm
            }
        };
        self.edges
            .iter()
            .zip(&self.levers_mm)
            .map(tip)
            .fold(f64::INFINITY, f64::min)
    }

    /// Load that turns it about a centre, N.
    fn turn_n(&self, pulls: &[Pull], pull_n: f64, about_mm: [f64; 2]) -> f64 {
        let radii = pulls
            .iter()
            .zip(self.spread_mm.iter().chain(std::iter::repeat(&0.0)));
        let moment: f64 = radii
            .map(|(p, spread)| p.force_n * distance(p.at_mm, about_mm).max(*spread))
            .sum();
        let grip = self.friction * moment.max(0.0) / pull_n;
        let lever = distance(self.centre_mm, about_mm);
        let norm = (lever * lever + grip * grip).sqrt();
        if norm == 0.0 {
            pull_n
        } else {
            grip * pull_n / norm
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::{DroopedPulls, Load, Peg};
    use super::*;

    #[test]
    fn unchanged_pulls_give_the_account_s_margin() {
        let patch = [[-6.0, -4.0], [6.0, -4.0], [6.0, 4.0], [-6.0, 4.0]];
        let pulls = [
            Pull {
                at_mm: [-3.0, 1.0],
                force_n: 1.2,
            },
            Pull {
                at_mm: [4.0, -1.0],
                force_n: 0.7,
            },
        ];
        let drooped = |_: usize, extra_mm: f64| 1.0 / (1.0 + extra_mm);
        for kind in [PegKind::None, PegKind::Round, PegKind::Two] {
            for snug in [false, true] {
                for centre_mm in [[0.0, 0.0, 8.0], [9.0, 3.0, 2.0], [0.5, 0.0, 0.1]] {
                    let joint = Joint {
                        patch_mm: &patch,
                        pulls: &pulls,
                        friction: 0.3,
                        peg: Peg {
                            kind,
                            at_mm: [1.0, 0.0],
                            length_mm: 3.0,
                            clearance_mm: 0.1,
                            snug,
                        },
                        load: Load {
                            weight_n: 0.05,
                            centre_mm,
                        },
                        drooped: DroopedPulls::AtExtraGap(&drooped),
                    };
                    let exact = hold_account(&joint).unwrap().margin_g;
                    let quick = QuickMargin::new(&joint).unwrap().margin_g(&pulls, 0.05);
                    assert!(
                        (quick / exact - 1.0).abs() < 1e-9,
                        "{kind:?} {snug} {quick} {exact}"
                    );
                }
            }
        }
    }
}
