//! The cheapest choice of one option a site that meets every demand: exact by elimination where the demands hang together
//! loosely enough, an honest gap where they do not; with a proof that other code checks. Knows neither kits nor magnets.
//!
//! A [`Problem`] has sites with options that cost something, and tables of the rows that each demand allows. [`solve()`]
//! splits it into families that share no demand, removes site after site from each (bucket elimination: Dechter 1999;
//! Bertelè and Brioschi 1972) and gives an [`Answer`] whose [`Proof`] is the list of those removals: [`check()`] reads it
//! against the problem and shares no code with the search.

mod check;
mod eliminate;
mod family;
mod problem;
mod reason;
mod solve;
mod table;

pub use check::{Checked, ProofError, check, check_family};
pub use problem::{Cost, Demand, Limits, Problem, ProblemError, Site};
pub use reason::{Reason, why_not_less};
pub use solve::{Answer, FamilyAnswer, Proof, Removal, alternatives, solve};
