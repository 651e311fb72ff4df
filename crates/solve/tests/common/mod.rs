//! Static equilibrium with friction cones as a linear program, solved by a general library: the oracle of the hold tests.
//!
//! Formulation: T. Bretl and S. Lall, IEEE Trans. Robotics 24(4) 794-807, 2008; contact forces as non-negative sums of
//! the edges of a k-sided cone, n + mu (cos(2 pi j/k) t1 + sin(2 pi j/k) t2).

use lodewright_geometry::{cross, norm};
use microlp::{ComparisonOp, Error, OptimizationDirection, Problem};

pub type Wrench = [f64; 6];

/// A contact that can push along its normal, with Coulomb friction.
pub struct Contact {
    pub at: [f64; 3],
    pub normal: [f64; 3],
    pub mu: f64,
}

pub fn wrench(at: [f64; 3], force: [f64; 3]) -> Wrench {
    let m = cross(at, force);
    [force[0], force[1], force[2], m[0], m[1], m[2]]
}

/// Edges of the k-sided cone of a contact, turned by `phase` radians about the normal.
fn cone(contact: &Contact, sides: u32, phase: f64) -> Vec<Wrench> {
    let n = contact.normal;
    let helper = if n[2].abs() < 0.9 {
        [0.0, 0.0, 1.0]
    } else {
        [0.0, 1.0, 0.0]
    };
    let t1 = cross(helper, n);
    let long = norm(t1);
    let t1 = t1.map(|x| x / long);
    let t2 = cross(n, t1);
    let edge = |j: u32| {
        let (sin, cos) =
            libm::sincos(phase + std::f64::consts::TAU * f64::from(j) / f64::from(sides));
        let part = |i: usize| n[i] + contact.mu * (cos * t1[i] + sin * t2[i]);
        wrench(contact.at, [part(0), part(1), part(2)])
    };
    (0..sides).map(edge).collect()
}

/// Largest factor s such that contacts (and reactions along the `free` wrenches, of either sign) balance
/// `fixed + s * load`; none when even s = 0 cannot be balanced, infinite when every s can.
pub fn largest_factor(
    contacts: &[Contact],
    sides: u32,
    phase: f64,
    free: &[Wrench],
    fixed: Wrench,
    load: Wrench,
) -> Option<f64> {
    let mut lp = Problem::new(OptimizationDirection::Maximize);
    let mut columns = Vec::new();
    for contact in contacts {
        let edges = if contact.mu == 0.0 {
            cone(contact, 1, 0.0)
        } else {
            cone(contact, sides, phase)
        };
        columns.extend(
            edges
                .into_iter()
                .map(|w| (lp.add_var(0.0, (0.0, f64::INFINITY)), w)),
        );
    }
    columns.extend(
        free.iter()
            .map(|&w| (lp.add_var(0.0, (f64::NEG_INFINITY, f64::INFINITY)), w)),
    );
    columns.push((lp.add_var(1.0, (0.0, f64::INFINITY)), load));
    for row in 0..6 {
        let terms: Vec<_> = columns.iter().map(|&(v, w)| (v, w[row])).collect();
        lp.add_constraint(terms, ComparisonOp::Eq, -fixed[row]);
    }
    match lp.solve() {
        Ok(solution) => Some(solution.objective()),
        Err(Error::Unbounded) => Some(f64::INFINITY),
        Err(_) => None,
    }
}
