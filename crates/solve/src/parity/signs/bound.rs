//! How good the signs of a cluster can become at the most once the first of them are taken.

use core::cmp::Reverse;

use super::cluster::{Cluster, Score};
use super::local::votes_for;

impl Cluster {
    /// A score that no completion of the first signs exceeds.
    pub(super) fn bound(&self, signs: &[bool]) -> Score {
        let known = signs.len();
        // By open sign: low sums and high totals at false and at true, of the sums in which it alone is open.
        let mut alone = vec![[(0_usize, 0_i64); 2]; self.order.len() - known];
        let (mut low, mut total) = (0, 0);
        for sum in &self.sums {
            let (mut fixed, mut open) = (sum.constant, 0);
            let mut only: Option<usize> = None;
            let mut linear = 0;
            for t in &sum.terms {
                let b_open = t.b.filter(|b| *b >= known);
                match (t.a >= known, b_open) {
                    (false, None) => {
                        fixed += t.value(signs);
                    }
                    (true, Some(_)) => {
                        open += t.coefficient.abs();
                        only = None;
                        linear = i64::MAX;
                    }
                    (a_open, b) => {
                        let (sign, other) = if a_open {
                            (t.a, t.b.is_none_or(|b| signs[b]))
                        } else {
                            (b.unwrap_or(t.a), signs[t.a])
                        };
                        let signed = if other { t.coefficient } else { -t.coefficient };
                        open += t.coefficient.abs();
                        if linear != i64::MAX && only.is_none_or(|o| o == sign) {
                            only = Some(sign);
                            linear += signed;
                        } else {
                            only = None;
                            linear = i64::MAX;
                        }
                    }
                }
            }
            match only {
                Some(sign) => {
                    for (slot, value) in [fixed - linear, fixed + linear].into_iter().enumerate() {
                        let cell = &mut alone[sign - known][slot];
                        cell.0 += sum.low(value, self.threshold);
                        cell.1 += sum.high(value, self.threshold);
                    }
                }
                None => {
                    low += sum.low(fixed - open, self.threshold);
                    total += sum.high(fixed - open, self.threshold);
                }
            }
        }
        for [no, yes] in alone {
            low += no.0.max(yes.0);
            total += no.1.min(yes.1);
        }
        let open_votes: i64 = self.votes[known..].iter().map(|v| v.abs()).sum();
        let votes = votes_for(&self.votes[..known], signs) + open_votes;
        (low, Reverse(total), votes)
    }
}
