//! The cheapest choice of one option a site that meets every demand, with a proof that other code checks; an honest gap where
//! the search ends before it has one. Knows neither kits nor magnets.
//!
//! A [`Problem`] has sites with options that cost something, and tables of the rows that each demand allows. [`solve()`]
//! splits it into families that share no demand, and each of them is made smaller in turn:
//!
//! - sites that the same demands name become one (`merge`);
//! - options go that no row allows, or that another one can stand in for at no more cost (`reduce`; Freuder 1991,
//!   neighbourhood substitution);
//! - sites are minimised out where tables stay small (`eliminate`; bucket elimination, Dechter 1999, Bertelè and Brioschi
//!   1972), which makes more options superfluous;
//! - what is left is searched by branch and bound under the dual of its local linear relaxation (`search`; Kolmogorov 2006;
//!   Cooper and others 2010), or eliminated after all.
//!
//! The [`Answer`]'s [`Proof`] lists those steps: [`check()`] repeats them on the problem and shares no code with the search.

mod alternatives;
mod check;
mod eliminate;
mod family;
mod merge;
mod problem;
mod reason;
mod reduce;
mod search;
mod solve;
mod table;

pub use alternatives::alternatives;
pub use check::{Checked, ProofError, check, check_bound, check_family};
pub use problem::{Cost, Demand, Limits, Problem, ProblemError, Site};
pub use reason::{Reason, why_not_less};
pub use solve::{
    Answer, Cluster, Cut, Drop, FamilyAnswer, Part, Progress, Proof, Removal, Step, solve,
    solve_watched,
};
